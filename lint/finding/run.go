package finding

import (
	"iter"
	"strconv"
	"strings"

	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Household is one household of a run.
type Household struct {
	Name string
	// Path is its folder, relative to the tree that was read; "." is the tree itself.
	Path string
	// Judged is false where the input could not be read; the findings say why.
	Judged bool
	// Units are those in which its amounts are said first, "" for metric ones.
	Units unit.System
}

// Title is how a page calls a household: by its name, else by its path.
func Title(name, path string) string {
	for _, s := range []string{name, path} {
		if s = words.Clean(s); strings.TrimSpace(s) != "" {
			return s
		}
	}
	return strconv.Quote(path)
}

// Findings walks findings in order. It may be walked again; an error, such as a
// disk that cannot be read, ends the walk.
type Findings func(yield func(*Finding, error) bool)

// List walks a list.
func List(fs ...Finding) Findings {
	return func(yield func(*Finding, error) bool) {
		for i := range fs {
			if !yield(&fs[i], nil) {
				return
			}
		}
	}
}

// Each walks a list of whatever runs hold one at a time.
func Each[T any](all []T) iter.Seq2[*T, error] {
	return func(yield func(*T, error) bool) {
		for i := range all {
			if !yield(&all[i], nil) {
				return
			}
		}
	}
}

// All gathers what is walked.
func (fs Findings) All() (out []Finding, err error) {
	for f, err := range fs {
		if err != nil {
			return out, err
		}
		out = append(out, *f)
	}
	return out, nil
}

// ByPath walks household by household: what is said of one path stands together in a run. One household at a time is in memory.
func (fs Findings) ByPath() iter.Seq2[[]Finding, error] {
	return func(yield func([]Finding, error) bool) {
		var group []Finding
		for f, err := range fs {
			if err != nil {
				yield(nil, err)
				return
			}
			if len(group) > 0 && group[0].Path != f.Path {
				if !yield(group, nil) {
					return
				}
				group = nil
			}
			group = append(group, *f)
		}
		if len(group) > 0 {
			yield(group, nil)
		}
	}
}

// Run is everything that one check has to say. Every output renders a Run.
type Run struct {
	// Version is the tool's.
	Version string
	// On is the audit date, YYYY-MM-DD.
	On string
	// Standards names the standards after the base that were judged by, with version and digest; "" is the base alone.
	Standards string
	// Rules is what may be found, sorted by name, for the formats that list it.
	Rules []Rule
	// Shared names the key of the pseudonyms in a run that may be shown to others; "" is any other run.
	Shared string
	// Since names the earlier state that the kits are compared with; "" where they are not.
	Since string
	// Remarks are said about the comparison, in order; Untouched counts the households that no change touches,
	// and that were not judged for that.
	Remarks   []string
	Untouched int
	// Part is which part of a repository was judged, such as 3/8; "" is all of it.
	Part string
	// Partial says why the rest was not judged; "" where nothing is left out.
	Partial    string
	Households []Household
	// Findings are in the order of Compare.
	Findings Findings
	Summary  Summary
	// Least is the level from which findings are shown; "" shows all. What is not
	// shown is counted all the same.
	Least Level
}

// Rule is a rule as the outputs explain it.
type Rule struct {
	// Name is area/rule-name.
	Name string
	// Title says what is wrong when the rule objects, Why why it matters, Remedy what to do.
	Title, Why, Remedy, Caution string
	// Mend is the kind of work that the remedy is.
	Mend    Fix
	Level   Level
	Sources []string
}

// Shown walks the findings of the least level or graver.
func (r *Run) Shown() Findings {
	return func(yield func(*Finding, error) bool) {
		for f, err := range r.Findings {
			if err != nil || f.Level.Rank() >= r.Least.Rank() {
				if !yield(f, err) {
					return
				}
			}
		}
	}
}

// Summary counts a run. What is mended is not there any more: it counts as mended only.
type Summary struct {
	Households int
	Unjudged   int
	Errors     int
	Warnings   int
	Notes      int
	Waived     int
	// New, Unchanged and Mended count by state where an earlier state is compared with, waived findings left out.
	New, Unchanged, Mended int
	// Worst is the gravest level among findings that are neither waived nor mended, or ""; where an earlier
	// state is compared with, among the new ones.
	Worst Level
	// ByRank counts all findings, waived and mended ones too, by the rank of their levels.
	ByRank [4]int
}

// Count makes the households and findings those of the run, and counts them.
func (r *Run) Count(hs []Household, fs ...Finding) {
	r.Households, r.Findings, r.Summary = hs, List(fs...), Summary{}
	for i := range hs {
		r.Summary.Household(&hs[i])
	}
	for i := range fs {
		r.Summary.Finding(&fs[i])
	}
}

// Hidden is how many findings lie below the least level that is shown.
func (r *Run) Hidden() (n int) {
	for _, k := range r.Summary.ByRank[:r.Least.Rank()] {
		n += k
	}
	return n
}

// Household counts one more.
func (s *Summary) Household(h *Household) {
	s.Households++
	if !h.Judged {
		s.Unjudged++
	}
}

// Finding counts one more; waived findings are counted only as waived.
func (s *Summary) Finding(f *Finding) {
	s.ByRank[f.Level.Rank()]++
	switch {
	case f.State == Mended:
		s.Mended++
		return
	case f.Waived != nil:
		s.Waived++
		return
	case f.State == New:
		s.New++
	case f.State == Unchanged:
		s.Unchanged++
	}
	switch f.Level {
	case Error:
		s.Errors++
	case Warning:
		s.Warnings++
	case Note:
		s.Notes++
	}
	if f.State != Unchanged && f.Level.Rank() > s.Worst.Rank() {
		s.Worst = f.Level
	}
}

// Add counts what another summary counts.
func (s *Summary) Add(o Summary) {
	s.Households += o.Households
	s.Unjudged += o.Unjudged
	s.Errors += o.Errors
	s.Warnings += o.Warnings
	s.Notes += o.Notes
	s.Waived += o.Waived
	s.New += o.New
	s.Unchanged += o.Unchanged
	s.Mended += o.Mended
	if o.Worst.Rank() > s.Worst.Rank() {
		s.Worst = o.Worst
	}
	for i, n := range o.ByRank {
		s.ByRank[i] += n
	}
}
