package lint

import (
	"cmp"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// An answer comes out of a pipe or a file, and is a stranger's until it has been looked through: every output relies on what is
// checked here, so that a wrong one is a miss, and never a crash or a line that someone else wrote.

// ruleName is the form of rule names: area/rule-name, another standard's with that in front.
var ruleName = regexp.MustCompile(`^([a-z][a-z0-9-]{0,80}:)?[a-z][a-z0-9-]{0,80}/[a-z][a-z0-9-]{0,80}$`)

const (
	mostNumber = 1 << 50            // of any unit: a million tonnes in milligrams
	firstDay   = -25567             // 1900-01-01 in days since 1970-01-01, the first that kits may have; see unit.ParseDate
	lastDay    = 84370              // 2200-12-31
	MostHours  = 24 * 31            // of a plan; its bound is 30 days
	mostHeld   = mostFindings + 64  // findings, with those that say what is left out
	mostAny    = mostText + 1000    // bytes of a text that may have been written round one of a kit
	mostFile   = 1 << 13            // bytes of a path
	mostReads  = 1 << 16            // files and folders that were read for one household
	mostKept   = 4 << 20            // bytes of what is kept of one household beside its answers; what is longer is not kept
	mostAnswer = mostExtra + 20<<20 // bytes of a whole answer
	mostLine   = 1 << 30            // of a file
)

// MostAnswer is how many bytes a packed answer has at most.
const MostAnswer = mostAnswer

// Believable says what no worker of ours would have answered for the household at this path, of which a product was wanted or nil;
// nil where everything may be so.
func (a *Answer) Believable(path string, want *Product) error {
	if a.Household.Path != path {
		return fmt.Errorf("it is about %q", a.Household.Path)
	}
	if len(a.Faults) > mostHeld || len(a.Reads) > mostReads || len(a.Packed) > 2*mostPacked || len(a.Extra) > mostExtra || len(a.Kept.Kit)+len(a.Kept.Judged) > mostKept {
		return errors.New("it is longer than any")
	}
	if u := a.Household.Units; u != "" && u != unit.Metric && u != unit.US {
		return fmt.Errorf("units of %q", u)
	}
	if h := a.Standing.PlanHours; h < 0 || h > MostHours {
		return fmt.Errorf("a plan of %d hours", h)
	}
	fs, err := a.Findings()
	if err != nil {
		return err
	}
	if len(fs) > mostHeld {
		return fmt.Errorf("%d findings", len(fs))
	}
	counted := finding.Summary{}
	counted.Household(&a.Household)
	for i := range fs {
		f := &fs[i]
		if err := believableFinding(f, path); err != nil {
			return err
		}
		counted.Finding(f)
		if i > 0 && finding.Compare(fs[i-1], *f) >= 0 {
			return errors.New("its findings are out of order")
		}
	}
	if counted != a.Summary {
		return fmt.Errorf("it counts %+v, and there are %+v", a.Summary, counted)
	}
	if want != nil && want.Believe != nil && len(a.Extra) > 0 {
		if err := want.Believe(a.Extra); err != nil {
			return err
		}
	}
	return plausible(reflect.ValueOf(a).Elem(), "")
}

func believableFinding(f *finding.Finding, path string) error {
	if !ruleName.MatchString(f.Rule) {
		return fmt.Errorf("a rule called %q", f.Rule)
	}
	if _, err := finding.ParseLevel(string(f.Level)); err != nil {
		return err
	}
	if f.Path != path || f.State != "" || len(f.Causes) > 0 {
		return fmt.Errorf("a finding of %q that is %q, with %d causes", f.Path, f.State, len(f.Causes))
	}
	if f.Lack != nil && !slices.Contains(kinds.Lacks(), f.Lack.Unit) {
		return fmt.Errorf("a lack in %q", f.Lack.Unit)
	}
	if len(f.Because) > household.Drivers+2 || len(f.Limits) > mostRows {
		return fmt.Errorf("%d reasons and %d limits", len(f.Because), len(f.Limits))
	}
	// Written out, since this is done for every finding that is remembered.
	long := func(texts ...string) bool {
		return slices.ContainsFunc(texts, func(s string) bool { return len(s) > mostAny })
	}
	if long(f.Title, f.Message, f.Household, f.Spot, f.Remedy, f.Caution) {
		return errors.New("a longer text than any")
	}
	err := believablePlace(f.At)
	for _, b := range f.Because {
		if long(b.Message) {
			return errors.New("a longer reason than any")
		}
		err = cmp.Or(err, believablePlace(b.At))
	}
	for _, l := range f.Limits {
		if long(l.Name, l.Value, l.Source, l.Layer) {
			return errors.New("a longer limit than any")
		}
		err = cmp.Or(err, believablePlace(l.At))
	}
	if l := f.Lack; l != nil && (long(l.What) || l.Amount < -mostNumber || l.Amount > mostNumber) {
		return fmt.Errorf("a shortfall of %d", l.Amount)
	}
	if e := f.Edit; e != nil {
		if long(e.New) {
			return errors.New("a longer edit than any")
		}
		err = cmp.Or(err, believablePlace(e.At))
	}
	if w := f.Waived; w != nil {
		if long(w.Reason, w.Until, w.Agreed) {
			return errors.New("a longer waiver than any")
		}
		err = cmp.Or(err, believablePlace(w.At))
	}
	return err
}

// PlausibleDay reports whether kits may have this day, in days since 1970-01-01.
func PlausibleDay(n int64) bool { return n >= firstDay && n <= lastDay }

// Plausible says what of a text, number, day, place or list within the struct that v points to is longer or larger than any that was
// made of a kit; nil where all may be so.
func Plausible(v any) error { return plausible(reflect.ValueOf(v).Elem(), "") }

// plausible goes through every text, number, day, place and list.
func plausible(v reflect.Value, field string) error {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			return plausible(v.Elem(), field)
		}
	case reflect.Struct:
		if at, ok := v.Interface().(source.Span); ok {
			return believablePlace(at)
		}
		for i := range v.NumField() {
			if v.Type().Field(i).Name == "_" {
				continue
			}
			if err := plausible(v.Field(i), v.Type().Field(i).Name); err != nil {
				return err
			}
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return nil // packed, and looked through apart
		}
		if n := v.Len(); n > mostReads {
			return fmt.Errorf("%s has %d entries", field, n)
		}
		for i := range v.Len() {
			if err := plausible(v.Index(i), field); err != nil {
				return err
			}
		}
	case reflect.String:
		if n := v.Len(); n > mostFile || n > mostAny && field != "Path" && field != "File" && field != "Name" && field != "Sum" {
			return fmt.Errorf("%s has %d bytes", field, n)
		}
	case reflect.Int, reflect.Int64:
		n := v.Int()
		switch field {
		case "Day", "Until", "Weighed", "Audited":
			if n < firstDay && n != 0 || n > lastDay {
				return fmt.Errorf("%s is day %d", field, n)
			}
		default:
			if n < -mostNumber || n > mostNumber {
				return fmt.Errorf("%s is %d", field, n)
			}
		}
	}
	return nil
}

func believablePlace(at source.Span) error {
	for _, p := range []source.Point{at.Start, at.End} {
		if p.Line < 0 || p.Line > mostLine || p.Col < 0 || p.Col > mostLine {
			return fmt.Errorf("line %d, column %d", p.Line, p.Col)
		}
	}
	if len(at.File) > mostFile || at.End.Line < at.Start.Line || at.End.Line == at.Start.Line && at.End.Col < at.Start.Col {
		return fmt.Errorf("a place from %+v to %+v", at.Start, at.End)
	}
	return nil
}
