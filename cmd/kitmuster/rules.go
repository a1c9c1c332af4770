package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/words"
)

func (a *app) rules() *cobra.Command {
	in := &input{}
	var b bounds
	var limits, lists bool
	var timed string
	cmd := &cobra.Command{
		Use:   "rules [NAME…]",
		Short: "List the rulebook, its limits and the official lists, or explain some by name",
		Long: `Lists the rules, all or those of an area such as fire, or explains those that are named; it also
explains what the program says itself, such as input/quantity. With --limits the names are limits, such
as load.adult_cap; with --lists they are official lists, such as ready-basic. With --time
PATH it judges one household again and again and says how long each rule takes.`,
		ValidArgsFunction: completeRules,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.walled(cmd, &b, func(step func(at, what string)) error {
				if timed == "" {
					step("kitmuster", "the standard")
				} else {
					step(timed, "the household")
					in.paths = []string{timed}
				}
				p, err := a.place(in)
				if err != nil {
					return err
				}
				rulebook, err := in.rules.rulebook(cmd.ErrOrStderr())
				if err != nil {
					return err
				}
				w := bufio.NewWriter(cmd.OutOrStdout())
				defer w.Flush()
				switch {
				case timed != "":
					return timing(cmd.Context(), w, rulebook, in, p, args)
				case limits:
					return named(w, args, rulebook.Limits(), func(l *judge.Limit) string { return l.Name }, rulebook.NoLimit, listLimits, explainLimit)
				case lists:
					return named(w, args, rulebook.Lists(), func(l *judge.List) string { return l.Key }, rulebook.NoList, listLists, explainList)
				}
				rules := rulebook.Rules()
				if len(args) > 0 { // what the program says itself is no rule of the book, and is explained all the same
					for _, r := range household.Said() {
						rules = append(rules, &judge.Rule{Name: r.Name, Level: r.Level, Title: r.Title, Why: r.Why, Remedy: r.Remedy, Mend: r.Mend})
					}
				}
				return named(w, args, rules, func(r *judge.Rule) string { return r.Name }, rulebook.NoRule, listRules, explain)
			})
		},
	}
	in.judged(cmd)
	b.wallFlags(cmd)
	cmd.Flags().BoolVar(&limits, "limits", false, "the limits that rules compare with, instead of the rules")
	cmd.Flags().BoolVar(&lists, "lists", false, "the official lists that a kit can be compared with, instead of the rules")
	cmd.Flags().StringVar(&timed, "time", "", "say how long each rule takes for the household at this `path`")
	cmd.MarkFlagsMutuallyExclusive("limits", "lists", "time")
	return cmd
}

// named lists everything or the areas that are named, or explains what is named; an unknown name explains nothing.
func named[T any](w io.Writer, names []string, all []T, name func(T) string, unknown func(string) string, list func(io.Writer, []T), explain func(io.Writer, T)) error {
	if len(names) == 0 {
		list(w, all)
		return nil
	}
	var within, chosen []T
	for _, n := range names { // areas are listed
		in := slices.DeleteFunc(slices.Clone(all), func(x T) bool {
			area, _, ok := strings.Cut(strings.ReplaceAll(name(x), ".", "/"), "/")
			return !ok || area != strings.TrimRight(n, "/.")
		})
		if len(in) == 0 {
			within = nil
			break
		}
		within = append(within, in...)
	}
	if within != nil {
		list(w, within)
		return nil
	}
	for _, n := range names {
		found := false
		for _, x := range all {
			if name(x) == n {
				chosen, found = append(chosen, x), true
			}
		}
		if !found {
			return errors.New(unknown(n))
		}
	}
	for i, x := range chosen {
		if i > 0 {
			fmt.Fprintln(w)
		}
		explain(w, x)
	}
	return nil
}

// listRules writes one line for each rule.
func listRules(w io.Writer, rules []*judge.Rule) {
	wide := 0
	for _, r := range rules {
		wide = max(wide, len(r.Name))
	}
	for _, r := range rules {
		fmt.Fprintf(w, "%-*s  %-7s  %s\n", wide, r.Name, r.Level, r.Title)
	}
	fmt.Fprintf(w, "%d rules; kitmuster rules NAME explains one.\n", len(rules))
}

// explain writes all that is known of a rule.
func explain(w io.Writer, r *judge.Rule) {
	fmt.Fprintf(w, "%s (%s)\n%s\n\n", r.Name, r.Level, r.Title)
	fmt.Fprintf(w, "Why: %s\n", r.Why)
	fmt.Fprintf(w, "Remedy: %s\n", r.Remedy)
	fmt.Fprintf(w, "Work: %s\n", r.Mend.Words())
	if r.Caution != "" {
		fmt.Fprintf(w, "Caution: %s\n", r.Caution)
	}
	if l := r.Lack; l != nil {
		fmt.Fprintf(w, "Adds up: %s, in %s\n", l.What, l.Unit.Row().Lack)
	}
	for _, l := range r.Limits {
		fmt.Fprintf(w, "Limit %s = %s: %s\n    source: %s\n", l.Name, l.Value, l.Meaning, l.Source)
	}
	for _, s := range r.Sources {
		fmt.Fprintf(w, "Source: %s\n", s)
	}
	snippet(w, "Passes:", r.Passes)
	snippet(w, "Fails:", r.Fails)
}

func snippet(w io.Writer, head, text string) {
	if text == "" {
		return
	}
	fmt.Fprintln(w, head)
	for line := range strings.Lines(strings.TrimRight(text, "\n") + "\n") {
		fmt.Fprint(w, "    ", line)
	}
}

// stricter says in words which values a household may write.
var stricter = map[string]string{
	"lower": "a lower value is stricter", "higher": "a higher value is stricter",
	"more": "a list with more entries is stricter", "fewer": "a list with fewer entries is stricter",
}

// listLimits writes one line for each limit.
func listLimits(w io.Writer, limits []*judge.Limit) {
	wide := 0
	for _, l := range limits {
		wide = max(wide, len(l.Name))
	}
	for _, l := range limits {
		fmt.Fprintf(w, "%-*s  %s: %s\n", wide, l.Name, l.Value, l.Meaning)
	}
	fmt.Fprintf(w, "%d limits; kitmuster rules --limits NAME explains one. A household may make one stricter under limits.\n", len(limits))
}

func explainLimit(w io.Writer, l *judge.Limit) {
	area, name, _ := strings.Cut(l.Name, ".")
	fmt.Fprintf(w, "%s = %s\n%s\n\n", l.Name, l.Value, l.Meaning)
	fmt.Fprintf(w, "Source: %s\n", l.Source)
	fmt.Fprintf(w, "In a kit: %s; write it under limits: %s: %s\n", stricter[l.Stricter], area, name)
}

// listLists writes one line for each official list.
func listLists(w io.Writer, lists []*judge.List) {
	wide := 0
	for _, l := range lists {
		wide = max(wide, len(l.Key))
	}
	for _, l := range lists {
		fmt.Fprintf(w, "%-*s  %s (%s, %s), %d lines%s\n", wide, l.Key, l.Title, l.Body, l.Year, len(l.Lines), excerpt(l))
	}
	fmt.Fprintf(w, "%d lists; kitmuster rules --lists NAME shows one, kitmuster check --against NAME compares kits with it. None is law.\n", len(lists))
}

// excerpt marks a list that is not whole.
func excerpt(l *judge.List) string {
	if l.LeftOut == "" {
		return ""
	}
	return ", an excerpt"
}

func explainList(w io.Writer, l *judge.List) {
	whole := "every line that was seen on its page"
	if l.LeftOut != "" {
		whole = "an excerpt; left out: " + l.LeftOut
	}
	fmt.Fprintf(w, "%s\n%s (%s, %s)\nmeant for: %s\nhow it is known: %s: %s\nwhat of it is here: %s\n\n", l.Key, l.Title, l.Body, l.Year, l.Horizon, l.Known, l.Evidence, whole)
	for _, line := range l.Lines {
		fmt.Fprintf(w, "%s: %s\n", line.Key, line.Asks)
		if what := answers(line); what != "" {
			fmt.Fprintf(w, "    covered by: %s\n", what)
		}
		fmt.Fprintf(w, "    source: %s; %s\n", line.Source, line.Known)
	}
}

// from says from which age on.
func from(months int64) string {
	if months == 0 {
		return ""
	}
	return fmt.Sprintf(" of %d months or more", months)
}

// answers says what in a household answers a line.
func answers(l judge.Line) string {
	var parts []string
	if len(l.Any) > 0 {
		each := ""
		if l.Each {
			each = ", one for each person" + from(l.FromMonths)
		}
		parts = append(parts, strings.Join(l.Any, " or ")+each)
	}
	for _, name := range slices.Sorted(maps.Keys(l.Parts)) {
		parts = append(parts, name+": "+strings.Join(l.Parts[name], " or "))
	}
	if l.Bags {
		parts = append(parts, "a pack of each person who carries"+from(l.FromMonths))
	}
	if len(l.All) > 0 {
		parts = append(parts, strings.Join(l.All, " and "))
	}
	if l.WaterML > 0 {
		who := "person"
		if l.Animals {
			who = "person, animal"
		}
		parts = append(parts, fmt.Sprintf("%d ml of water for each %s and day, %d days", l.WaterML, who, l.Days))
	}
	if l.AnimalDays > 0 {
		parts = append(parts, words.Count(int(l.AnimalDays), "day")+" of water for the animals, by their own need")
	}
	if l.FoodDays > 0 {
		parts = append(parts, fmt.Sprintf("food for %d days", l.FoodDays))
	}
	if l.MedicineDays > 0 {
		parts = append(parts, fmt.Sprintf("regular medication for %d days", l.MedicineDays))
	}
	out := strings.Join(parts, "; ")
	if need, ok := strings.CutPrefix(l.When, "needs:"); ok {
		out += "; only for a need: " + need
	}
	return out
}
