package main

import (
	"context"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/fxamacker/cbor/v2"

	"kitmuster/lint"
	"kitmuster/lint/audit"
	"kitmuster/lint/compare"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/page"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
	"kitmuster/lint/unit"
)

// hostileTexts and hostileNumbers are what an answer is changed to hold.
var (
	hostileTexts = []string{
		"", "::error::x", "\n::error::x", "##[error]x", "##vso[task.setvariable variable=a]b", "\x1b[2J", "\u202e", "\xff", "%d%s%!", "</script><b onclick=x>", "=1+1", `"`, "a,b",
		"area/rule\n::error", "expires", "unknown", "kg", "input/value", strings.Repeat("x", 1500), strings.Repeat("é", 1<<16), "../..", "/etc", "\x00", "people/ana", "z",
	}
	hostileNumbers = []int64{0, 1, -1, 2, 7, 1000, 1 << 20, 1<<31 - 1, 1 << 32, 1 << 50, -(1 << 50), 1<<50 + 1, math.MaxInt64, math.MinInt64, 84370, 84371, -25567, 744, 745}
)

// mutate changes something somewhere within v, as the dice say.
func mutate(d *rand.Rand, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		switch {
		case v.IsNil():
			if v.CanSet() && d.IntN(3) == 0 {
				v.Set(reflect.New(v.Type().Elem()))
			}
		case d.IntN(8) == 0 && v.CanSet():
			v.SetZero()
		default:
			mutate(d, v.Elem())
		}
	case reflect.Struct:
		if n := v.NumField(); n > 0 {
			mutate(d, v.Field(d.IntN(n)))
		}
	case reflect.Slice:
		n := v.Len()
		switch what := d.IntN(6); {
		case n > 0 && what > 1:
			mutate(d, v.Index(d.IntN(n)))
		case n > 0 && what == 0:
			v.Set(v.Slice(0, d.IntN(n)))
		default:
			more := reflect.MakeSlice(v.Type(), 1+d.IntN(3), 8)
			v.Set(reflect.AppendSlice(v, more))
		}
	case reflect.String:
		v.SetString(hostileTexts[d.IntN(len(hostileTexts))])
	case reflect.Bool:
		v.SetBool(!v.Bool())
	case reflect.Int, reflect.Int64:
		v.SetInt(hostileNumbers[d.IntN(len(hostileNumbers))])
	}
}

// A wrong answer, from a worker or a cache, is not believed; what is believed can be shown in every form, without a crash, a
// command or an unseen mark.
func FuzzAnswer(f *testing.F) {
	b, problems := judge.New()
	if len(problems) > 0 {
		f.Fatal(problems)
	}
	on, err := unit.ParseDate("2026-11-01")
	if err != nil {
		f.Fatal(err)
	}
	examples := []string{"alder", "birch", "cedar"}
	var whole []lint.Answer
	var figures [][]compare.Figure
	for _, dir := range examples {
		o := household.Options{On: on}
		whole = append(whole, lint.Pack(audit.Product.Make(f.Context(), os.DirFS("../../examples/harrow-valley"), b, dir, o)))
		figures = append(figures, compare.Figures(household.Measure(os.DirFS("../../examples/harrow-valley"), dir, o).Facts))
	}
	mask := private.New([private.KeySize]byte{1}, household.Rules(b), household.Limits(b), household.Said())
	for i := range uint64(60) {
		f.Add(uint8(i), i)
	}
	f.Fuzz(func(t *testing.T, which uint8, seed uint64) {
		dir, a := examples[int(which)%len(examples)], whole[int(which)%len(examples)]
		d := rand.New(rand.NewPCG(seed, 1))
		fs, err := a.Findings()
		if err != nil {
			t.Fatal(err)
		}
		var sheet audit.Sheet
		if err := (lint.Extra{Packed: a.Extra}).Unpack(&sheet); err != nil {
			t.Fatal(err)
		}
		pack := func(v any) []byte {
			b, err := cbor.Marshal(v)
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
		figures := slices.Clone(figures[int(which)%len(examples)])
		for range 1 + d.IntN(3) {
			switch d.IntN(8) {
			case 0:
				mutate(d, reflect.ValueOf(&a.Household).Elem())
			case 1:
				mutate(d, reflect.ValueOf(&figures).Elem())
			case 2:
				mutate(d, reflect.ValueOf(&a.Faults).Elem())
			case 3:
				mutate(d, reflect.ValueOf(&a.Summary).Elem())
			case 4, 5:
				mutate(d, reflect.ValueOf(&fs).Elem())
			default:
				mutate(d, reflect.ValueOf(&sheet).Elem())
			}
		}
		a.Packed, a.Extra = pack(fs), pack(&sheet)
		if d.IntN(4) > 0 { // most are counted as they are, or none would be believed
			a.Summary = finding.Summary{}
			a.Summary.Household(&a.Household)
			for i := range fs {
				a.Summary.Finding(&fs[i])
			}
		}
		if d.IntN(16) == 0 {
			of := [][]byte{a.Packed, a.Extra}[d.IntN(2)]
			of[d.IntN(len(of))] ^= byte(1 << d.IntN(8))
		}
		if a.Believable(dir, &audit.Product) != nil || compare.Product.Believe(pack(map[string]any{"Figures": figures})) != nil {
			return
		}
		for _, m := range []*private.Mask{nil, mask} {
			if out := shownEverywhere(t, b, m, dir, on, a, figures); ciCommand.MatchString(out) {
				t.Errorf("what is shown has a command: %q", ciCommand.FindString(out))
			}
		}
	})
}

// shownEverywhere writes an answer in every form that the program has, and gives what would reach a stream.
func shownEverywhere(t *testing.T, b *judge.Rulebook, mask *private.Mask, dir string, on unit.Date, a lint.Answer, figures []compare.Figure) string {
	t.Helper()
	o := lint.Options{Patterns: []string{dir}, Options: household.Options{On: on}, Want: &audit.Product, Run: func(context.Context, lint.Job) lint.Answer { return a }}
	res := lint.Check(t.Context(), os.DirFS("../../examples/harrow-valley"), o)
	defer res.Close()
	var text strings.Builder
	out := &stream{to: &text}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Error(err)
		}
	}
	res.Run.Rules = household.Rules(b)
	run := &res.Run
	compared := &compare.Comparison{Run: run, Households: []compare.Compared{{Household: a.Household, Changes: compare.Changes(figures[:len(figures)/2], figures)}}}
	au := &audit.Audit{Run: run, OnDay: int64(on), Until: "2027-05-01", UntilDay: int64(on) + 181, Households: audit.Households(res)}
	if mask != nil {
		au, compared, run = mask.Audit(au, false), mask.Comparison(compared), mask.Run(run)
	}
	for _, f := range report.Formats {
		must(f.Write(out, run, report.Options{FailOn: finding.Error}))
	}
	for _, write := range []func(io.Writer, *compare.Comparison, report.Options) error{report.CompareText, report.CompareMarkdown, report.CompareJSON} {
		must(write(out, compared, report.Options{}))
	}
	must(au.Rank())
	for _, x := range auditFiles {
		must(x.write(out, au))
	}
	must(report.AuditText(out, au, "dir"))
	for _, most := range []int64{0, 1} { // in one page, and in several
		must(page.Audit(au, page.Options{Create: func(string) (io.WriteCloser, error) { return discard{}, nil }, Spool: spool, Most: most}))
	}
	must(out.Close())
	return text.String()
}

// discard is a file that nobody reads.
type discard struct{}

func (discard) Write(p []byte) (int, error) { return len(p), nil }
func (discard) Close() error                { return nil }
