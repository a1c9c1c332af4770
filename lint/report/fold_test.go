package report

import (
	"fmt"
	"strings"
	"testing"

	"kitmuster/lint/finding"
)

// unfinished is a kit of so many things with names only: rules by the dozen have findings.
func unfinished(things, errors, warnings, notes int) (fs []finding.Finding) {
	of := func(n int, level finding.Level, rule string) {
		for i := range n {
			f := found(len(fs)+1, level, fmt.Sprintf("%s/r%d", rule, i), "household")
			f.Message = "finding of " + f.Rule
			f.Caution = "Mind " + f.Rule + "."
			fs = append(fs, f)
		}
	}
	of(errors, finding.Error, "e")
	of(warnings, finding.Warning, "w")
	for i := range things {
		f := found(len(fs)+1, finding.Note, unrecorded, "household")
		f.Message = fmt.Sprintf("thing %d is only a name", i)
		fs = append(fs, f)
	}
	of(notes, finding.Note, "n")
	return fs
}

// The report of a kit with findings by the dozen is short. The gravest are written out, the rest is named or counted, and with --long all is there.
func TestLongReportsAreFolded(t *testing.T) {
	for _, c := range []struct{ things, errors, warnings, notes int }{{30, 4, 20, 20}, {0, 2, 10, 30}, {60, 2, 0, 2}, {0, 0, 30, 0}} {
		fs := unfinished(c.things, c.errors, c.warnings, c.notes)
		got := saidOf(t, Options{}, nil, fs...)
		if n := strings.Count(got, "\n"); n > mostLines+10 {
			t.Errorf("%+v: %d lines\n%s", c, n, got)
		}
		long := saidOf(t, Options{Long: true}, nil, fs...)
		for i := range fs {
			f := &fs[i]
			if f.Level == finding.Error && (!strings.Contains(got, "    "+f.Message+"\n") || !strings.Contains(got, "  Caution: "+f.Caution+"\n")) {
				t.Errorf("%+v: %s is not written out", c, f.Rule)
			}
			if f.Level == finding.Warning && !strings.Contains(got, "    "+f.Message+"\n") && !strings.Contains(got, "warning: "+f.Message+" (alder/kit.cue:") {
				t.Errorf("%+v: %s is not named", c, f.Rule)
			}
			if !strings.Contains(long, "    "+f.Message+"\n") {
				t.Errorf("%+v: with --long %s is not written out", c, f.Rule)
			}
		}
		if !strings.Contains(strings.Join(strings.Fields(got), " "), "--long writes out") {
			t.Errorf("%+v: it does not say how to see the rest\n%s", c, got)
		}
		for before, after := range map[string]string{
			"error, not met: ": "note, not met: Title of data/not-recorded", "note, not met: Title of data/not-recorded": "warning", "warning, not met: ": "note: ", "warning: ": "note: ",
		} {
			if i, j := strings.LastIndex(got, "\n"+before), strings.Index(got, "\n"+after); i > 0 && j > 0 && i > j {
				t.Errorf("%+v: %q comes after %q\n%s", c, before, after, got)
			}
		}
	}
}

// What fits is written out as it is.
func TestShortReportsAreWhole(t *testing.T) {
	got := saidOf(t, Options{}, nil, unfinished(6, 2, 2, 2)...)
	if strings.Contains(got, "--long") || strings.Count(got, "is only a name") != 6 || strings.Count(got, "Caution: ") != 6 {
		t.Error(got)
	}
}

// Of many findings of one rule the first few are shown, and the rest counted; where the notes are only counted, all are.
func TestManyAlike(t *testing.T) {
	got := saidOf(t, Options{}, nil, unfinished(60, 5, 40, 40)...)
	for _, want := range []string{"    thing 2 is only a name\n  and 57 more; --format lines has a line for each\n", "\nnote: 40 findings of 40 rules\n"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
	if strings.Contains(got, "thing 3 ") || strings.Contains(got, "finding of n/") {
		t.Errorf("too much is written out:\n%s", got)
	}
	var alike []finding.Finding
	for range 9 {
		alike = append(alike, found(len(alike)+1, finding.Warning, "w/alike", "household"))
	}
	alike = append(unfinished(0, 3, 40, 0), alike...)
	if got := saidOf(t, Options{}, nil, alike...); !strings.Contains(got, "warning: wrong; and 8 more (alder/kit.cue:1:1)\n  [w/alike]\n") && !strings.Contains(got, "warning: wrong; and 8 more (alder/kit.cue:1:1) [w/alike]\n") {
		t.Error(got)
	}
	shared := saidOf(t, Options{}, func(r *finding.Run) { r.Shared = "key" }, alike...)
	if !strings.Contains(shared, "wrong (9 times)") {
		t.Error(shared)
	}
}

// A waived or a fixed error is no error to write out first: it is shortened like a note.
func TestWhatIsWaivedIsFoldedLikeNotes(t *testing.T) {
	fs := unfinished(0, 3, 80, 0)
	for i := range 3 {
		w := found(90+i, finding.Error, fmt.Sprintf("x/waived%d", i), "household")
		w.Waived = &finding.Waiver{Reason: "ordered", Until: "2027-01-01", At: at(1, 1, 2)}
		fs = append(fs, w)
	}
	if got := saidOf(t, Options{}, nil, fs...); !strings.Contains(got, "\nwaived error: 3 findings of 3 rules\n") {
		t.Error(got)
	}
}
