package lint

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"unicode/utf8"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
)

// A kit of a few hundred bytes can make thousands of items with names of any length, and what is said of it goes through the
// memory of the program and into everyone's pages. So an answer is bounded, far above any real kit, and what is left out is
// told. Our own figures.
const (
	mostFindings = 1000     // of a household, the gravest first
	mostRows     = 2000     // of each list of what is made of a household
	mostText     = 1000     // bytes of one text
	mostName     = 300      // bytes of a household's name
	mostPacked   = 4 << 20  // bytes of all findings of a household
	mostSheet    = 8 << 20  // bytes of what has rows
	mostExtra    = 16 << 20 // bytes of whatever else a product makes of a household
)

// bound brings an outcome within its bounds and adds a finding for each that was overstepped.
func bound(o *household.Outcome) {
	o.Household.Name = cut(o.Household.Name, mostName)
	var told []finding.Finding
	if s, ok := o.Extra.(Rows); ok {
		rows, left := mostRows, map[string]int{}
		shorten(reflect.ValueOf(s), "", rows, left)
		for len(packed(s)) > mostSheet {
			rows /= 2
			shorten(reflect.ValueOf(s), "", rows, left)
		}
		for _, kind := range slices.Sorted(maps.Keys(left)) {
			told = append(told, notShown(o, rows, left[kind], cmp.Or(s.RowNouns()[kind], "entries of one list")))
		}
	}
	for i := range o.Findings {
		shortenFinding(&o.Findings[i])
		o.Findings[i].Household = o.Household.Name
	}
	all := finding.Sort(o.Findings)
	if o.Findings = gravest(all); len(o.Findings) < len(all) {
		told = append(told, notShown(o, len(o.Findings), len(all), "findings"))
	}
	o.Findings = finding.Sort(append(slices.Clip(o.Findings), told...))
}

const notShownRule = "data/not-shown"

// notShown is the finding that says so.
func notShown(o *household.Outcome, n, of int, what string) finding.Finding {
	return finding.Finding{
		Rule: notShownRule, Level: finding.Warning, Title: household.TitleOf(notShownRule), Household: o.Household.Name, Path: o.Household.Path, Spot: "household", At: o.At,
		Message: fmt.Sprintf("%s of %s %s are shown", thousands(n), thousands(of), what),
	}
}

// shortenFinding cuts the texts of a finding; what tells it apart stays apart.
func shortenFinding(f *finding.Finding) {
	f.Spot = cutKey(f.Spot)
	for _, s := range []*string{&f.Title, &f.Message, &f.Remedy, &f.Caution} {
		*s = cut(*s, mostText)
	}
	for i := range f.Because {
		f.Because[i].Message = cut(f.Because[i].Message, mostText)
	}
	for i := range f.Limits {
		l := &f.Limits[i]
		l.Value, l.Source = cut(l.Value, mostText), cut(l.Source, mostText)
	}
	if w := f.Waived; w != nil {
		w.Reason, w.Agreed = cut(w.Reason, mostText), cut(w.Agreed, mostText)
	}
}

// gravest keeps of sorted findings as many as may be shown, those of the graver levels first, in their order.
func gravest(all []finding.Finding) []finding.Finding {
	order := slices.SortedStableFunc(func(yield func(int) bool) {
		for i := range all {
			if !yield(i) {
				return
			}
		}
	}, func(a, b int) int { return cmp.Compare(rank(&all[b]), rank(&all[a])) })
	keep, size := make([]bool, len(all)), 0
	for k, i := range order {
		if size += weight(&all[i]); k == mostFindings || size > mostPacked {
			break
		}
		keep[i] = true
	}
	out := make([]finding.Finding, 0, min(len(all), mostFindings))
	for i := range all {
		if keep[i] {
			out = append(out, all[i])
		}
	}
	return out
}

// weight is about how many bytes a finding takes.
func weight(f *finding.Finding) int {
	n := 300 + len(f.Title) + len(f.Message) + len(f.Household) + len(f.Path) + 2*len(f.Spot) + len(f.At.File) + len(f.Remedy) + len(f.Caution)
	for _, b := range f.Because {
		n += 60 + len(b.Message) + len(b.At.File)
	}
	for _, l := range f.Limits {
		n += 60 + len(l.Name) + len(l.Value) + len(l.Source) + len(l.Layer) + len(l.At.File)
	}
	if w := f.Waived; w != nil {
		n += len(w.Reason) + len(w.Agreed)
	}
	return n
}

// rank is how grave a finding is; one that a waiver covers comes last.
func rank(f *finding.Finding) int {
	if f.Waived != nil {
		return 0
	}
	return f.Level.Rank()
}

// Rows is what a product makes that may be shortened: a pointer to a struct whose lists end early, and whose texts are cut, where they
// are longer than any real kit's. A field with the tag bound:"-" stays as it is.
type Rows interface {
	// RowNouns says what the lists hold, by the names of their fields.
	RowNouns() map[string]string
}

// shorten cuts every list and every text within v, and notes by field how long the longest list was that was cut.
func shorten(v reflect.Value, field string, most int, left map[string]int) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			shorten(v.Elem(), field, most, left)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.Name == "_" || f.Tag.Get("bound") == "-" {
				continue
			}
			shorten(v.Field(i), v.Type().Field(i).Name, most, left)
		}
	case reflect.Slice:
		if n := v.Len(); n > most {
			left[field] = max(left[field], n)
			if v.CanSet() {
				v.Set(v.Slice3(0, most, most))
			}
		}
		for i := range min(v.Len(), most) {
			shorten(v.Index(i), field, most, left)
		}
	case reflect.String:
		if v.CanSet() {
			v.SetString(cut(v.String(), mostText))
		}
	}
}

// cut shortens a text to about so many bytes and says how long it was.
func cut(s string, most int) string {
	if len(s) <= most {
		return s
	}
	n := most - 40
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return fmt.Sprintf("%s… (cut; %s bytes long)", s[:n], thousands(len(s)))
}

// cutKey shortens what tells things apart, and keeps different ones different.
func cutKey(s string) string {
	if len(s) <= mostText {
		return s
	}
	n := mostText - 80
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return fmt.Sprintf("%s…%x", s[:n], sha256.Sum256([]byte(s)))
}

// thousands writes a count with commas.
func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
