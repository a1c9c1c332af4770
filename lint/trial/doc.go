// Package trial tells what another standard would mean for the households of a group.
package trial
