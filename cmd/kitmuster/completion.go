package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/report"
	"kitmuster/lint/unit"
)

// complete lets shells complete the values of flags, below and at a command.
func complete(cmd *cobra.Command) {
	levels := []string{string(finding.Error), string(finding.Warning), string(finding.Note)}
	for flag, values := range map[string]func(string) []string{
		"show":    func(string) []string { return levels },
		"fail-on": func(string) []string { return append(slices.Clone(levels), "never") },
		"format":  formatsIn,
		"units":   func(string) []string { return []string{string(unit.US), string(unit.Metric)} },
		"against": func(string) []string {
			return ofBase((*judge.Rulebook).Lists, func(l *judge.List) string { return l.Key })
		},
	} {
		f := cmd.Flags().Lookup(flag)
		if f == nil {
			continue
		}
		_ = cmd.RegisterFlagCompletionFunc(flag, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) { // fails only where it was said before
			return values(f.Usage), cobra.ShellCompDirectiveNoFileComp
		})
	}
	for _, c := range cmd.Commands() {
		complete(c)
	}
}

// formatsIn are the formats that the usage of a flag names.
func formatsIn(usage string) (out []string) {
	all := append(report.Names(), "html", "csv") // these two are of lists alone
	for _, w := range strings.FieldsFunc(usage, func(r rune) bool { return r != '-' && (r < 'a' || r > 'z') }) {
		if slices.Contains(all, w) && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// ofBase are names of what the base standard has.
func ofBase[T any](all func(*judge.Rulebook) []T, name func(T) string) (out []string) {
	rulebook, _ := judge.New(judge.Base()) // tests hold that the base has no problems
	for _, x := range all(rulebook) {
		out = append(out, name(x))
	}
	return out
}

// completeRules completes what kitmuster rules explains.
func completeRules(cmd *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
	asked := func(flag string) bool { return cmd.Flags().Changed(flag) }
	out := ofBase((*judge.Rulebook).Rules, func(r *judge.Rule) string { return r.Name })
	switch {
	case asked("limits"):
		out = ofBase((*judge.Rulebook).Limits, func(l *judge.Limit) string { return l.Name })
	case asked("lists"):
		out = ofBase((*judge.Rulebook).Lists, func(l *judge.List) string { return l.Key })
	default:
		for _, r := range household.Said() {
			out = append(out, r.Name)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}
