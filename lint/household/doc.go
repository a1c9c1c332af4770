// Package household is the order of work for one household: its files are read and measured, rules judge what was measured, and each
// verdict is led back to the family's lines. It knows of no other household, of no earlier state, and of nothing that is made beside.
//
// Options are the settings of a household. Each field reaches the workers and the key of the cache; a test in cmd/kitmuster fails for
// one that does not.
//
// Memory (memory.go) has a household judged on another day without its files being read, where these are the same.
//
// What the program says itself, beside any rule (a fault of the input, a looser limit, an unused waiver), is explained in builtin.go.
// examples.go judges the short kits that explain a rule, passes and fails.
package household
