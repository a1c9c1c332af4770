package finding

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
	"strconv"
	"strings"
)

// Merge joins the parts of one check to what a check of the whole would have
// said. The error says which part is missing, given twice, or of another check.
func Merge(parts []*Run) (*Run, error) {
	if len(parts) == 0 {
		return nil, fmt.Errorf("there is nothing to merge")
	}
	first := parts[0]
	_, of, err := part(first)
	if err != nil {
		return nil, err
	}
	byNumber := make([]*Run, of)
	for _, r := range parts {
		n, o, err := part(r)
		if err != nil {
			return nil, err
		}
		for _, c := range []struct{ what, a, b string }{
			{"of", strconv.Itoa(of), strconv.Itoa(o)}, {"version", first.Version, r.Version}, {"audit date", first.On, r.On},
			{"earlier state", first.Since, r.Since}, {"standard", first.Standards, r.Standards}, {"--show", string(first.Least), string(r.Least)},
			{"share key", first.Shared, r.Shared},
		} {
			if c.a != c.b {
				return nil, fmt.Errorf("parts %s and %s are not of one check: %s is %s in one and %s in the other", first.Part, r.Part, c.what, cmp.Or(c.a, "none"), cmp.Or(c.b, "none"))
			}
		}
		if byNumber[n-1] != nil {
			return nil, fmt.Errorf("part %s is given twice", r.Part)
		}
		byNumber[n-1] = r
	}
	whole := &Run{Version: first.Version, On: first.On, Rules: first.Rules, Shared: first.Shared, Since: first.Since, Standards: first.Standards, Least: first.Least, Findings: inOrder(byNumber)}
	var partial []string
	for i, r := range byNumber {
		if r == nil {
			return nil, fmt.Errorf("part %d/%d is missing", i+1, of)
		}
		whole.Households = append(whole.Households, r.Households...)
		whole.Summary.Add(r.Summary)
		whole.Remarks = append(whole.Remarks, r.Remarks...)
		whole.Untouched += r.Untouched
		if r.Partial != "" {
			partial = append(partial, "part "+r.Part+": "+r.Partial)
		}
	}
	slices.SortStableFunc(whole.Households, func(a, b Household) int { return strings.Compare(a.Path, b.Path) })
	slices.Sort(whole.Remarks)
	whole.Partial = strings.Join(partial, "; ")
	return whole, nil
}

// inOrder walks the findings of all parts by the paths of their households. A household is in one part only, and each part is in order.
func inOrder(parts []*Run) Findings {
	return func(yield func(*Finding, error) bool) {
		type head struct {
			next func() (*Finding, error, bool)
			f    *Finding
		}
		var heads []*head
		advance := func(h *head) (more bool, err error) {
			h.f, err, more = h.next()
			return more, err
		}
		for _, r := range parts {
			next, stop := iter.Pull2(iter.Seq2[*Finding, error](r.Findings))
			defer stop()
			h := &head{next: next}
			more, err := advance(h)
			if err != nil {
				yield(nil, err)
				return
			}
			if more {
				heads = append(heads, h)
			}
		}
		for len(heads) > 0 {
			h := slices.MinFunc(heads, func(a, b *head) int { return strings.Compare(a.f.Path, b.f.Path) })
			if !yield(h.f, nil) {
				return
			}
			more, err := advance(h)
			if err != nil {
				yield(nil, err)
				return
			}
			if !more {
				heads = slices.DeleteFunc(heads, func(o *head) bool { return o == h })
			}
		}
	}
}

func part(r *Run) (n, of int, err error) {
	a, b, ok := strings.Cut(r.Part, "/")
	n, errN := strconv.Atoi(a)
	of, errOf := strconv.Atoi(b)
	if !ok || errN != nil || errOf != nil || n < 1 || n > of || of > 10_000 {
		return 0, 0, fmt.Errorf("only parts can be merged, and this is a check of everything; make parts with check --part")
	}
	return n, of, nil
}
