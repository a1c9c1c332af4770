// Package household is the order of work for one household: its files are read and measured, rules judge what was measured, and each
// verdict is led back to the family's lines. It knows of no other household, of no earlier state, and of nothing that is made beside.
package household
