package judge

import (
	"context"
	"os"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/unit"
	"kitmuster/lint/wire"
)

// exampleFacts are those of an example household as of a day.
func exampleFacts(t testing.TB, family string, on unit.Date) (*facts.Facts, func(string) bool) {
	t.Helper()
	l := load.Household(os.DirFS("../.."), "examples/harrow-valley/"+family, load.Options{})
	if l.Kit == nil {
		t.Fatal(l.Faults)
	}
	f, ledger := measure.Of(l.Kit, measure.Options{On: on})
	return f, func(id string) bool { _, ok := ledger.Entry(id); return ok }
}

// What a rule is said not to read can be anything.
func TestRulesReadWhatTheySay(t *testing.T) {
	b := baseBook(t)
	b.engine()
	ctx := context.Background()
	for _, family := range []string{"alder", "birch", "cedar"} {
		f, known := exampleFacts(t, family, 20758)
		for _, r := range b.rules {
			want, faults := b.Only(r).Judge(ctx, f, known)
			var some facts.Facts
			from, to := reflect.ValueOf(f).Elem(), reflect.ValueOf(&some).Elem()
			for _, p := range r.reads {
				from, to := from.Field(parts[p].top), to.Field(parts[p].top)
				if parts[p].field >= 0 {
					from, to = from.Field(parts[p].field), to.Field(parts[p].field)
				}
				to.Set(from)
			}
			got, also := b.Only(r).Judge(ctx, &some, known)
			if diff := cmp.Diff(sayings(want), sayings(got)); diff != "" || len(faults)+len(also) > 0 {
				t.Errorf("%s, %s, reading %d parts (-of all facts +of those that it reads):\n%s%v %v", family, r.Name, len(r.reads), diff, faults, also)
			}
		}
	}
}

// sayings is what can be compared of verdicts.
func sayings(vs []Verdict) (out []keptVerdict) {
	for _, v := range vs {
		out = append(out, keptVerdict{v.Rule.Name + " " + v.At, v.Text, v.Because, v.Unrecorded, v.Lack, v.Level})
	}
	return out
}

// On the next day few rules are asked, and what is said is the same.
func TestJudgeAgain(t *testing.T) {
	b := baseBook(t)
	ctx := context.Background()
	for _, family := range []string{"alder", "birch", "cedar"} {
		var before []byte
		for n, on := range []unit.Date{20758, 20758, 20759, 20790, 21100, 20758} {
			f, known := exampleFacts(t, family, on)
			for _, least := range []finding.Level{finding.Error, finding.Note} {
				want, _ := b.JudgeFrom(ctx, least, f, known)
				got, faults, now := b.JudgeAgain(ctx, least, f, known, before)
				if diff := cmp.Diff(sayings(want), sayings(got)); diff != "" || len(faults) > 0 {
					t.Errorf("%s on %s, from %s (-afresh +again):\n%s%v", family, on, least, diff, faults)
				}
				if n == 2 && least == finding.Note {
					asked := 0
					for _, r := range b.rules {
						if slices.ContainsFunc(r.reads, func(p int) bool { return differ(before, f, p) }) {
							asked++
						}
					}
					if asked == 0 || asked > len(b.rules)/10 {
						t.Errorf("%s: on the next day %d of %d rules are asked", family, asked, len(b.rules))
					}
				}
				if (n == 1 || n == 2) && len(now) > 0 {
					t.Errorf("%s on %s, from %s: something is to be kept", family, on, least)
				}
				if least == finding.Note && len(now) > 0 {
					before = now
				}
			}
		}
	}
}

// differ reports whether a part of the facts is another.
func differ(before []byte, f *facts.Facts, part int) bool {
	var was kept
	return wire.Read(before, &was) != nil || was.Sums[part*sumSize:(part+1)*sumSize] != string(sums(f)[part*sumSize:(part+1)*sumSize])
}

// What is broken, or what no rule would have been let say, is asked anew.
func TestJudgeAgainDoubts(t *testing.T) {
	b := baseBook(t)
	ctx := context.Background()
	f, known := exampleFacts(t, "birch", 20758)
	want, _, whole := b.JudgeAgain(ctx, finding.Note, f, known, nil)
	var first kept
	if err := wire.Read(whole, &first); err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(b.rules, func(r *Rule) bool {
		return len(first.Rules[slices.Index(b.rules, r)].Verdicts) > 0 && !slices.ContainsFunc(r.reads, func(p int) bool { return daily[p] })
	})
	if at < 0 {
		t.Fatal("nothing is said of birch")
	}
	for what, change := range map[string]func(*kept){
		"nowhere":          func(s *kept) { s.Rules[at].Verdicts[0].At = "packs/nowhere" },
		"no text":          func(s *kept) { s.Rules[at].Verdicts[0].Text = " " },
		"no level":         func(s *kept) { s.Rules[at].Verdicts[0].Level = "grave" },
		"a graver one":     func(s *kept) { s.Rules[at].Verdicts[0].Level = "" },
		"a reason nowhere": func(s *kept) { s.Rules[at].Verdicts[0].Because = []string{"x"} },
		"another rulebook": func(s *kept) { s.Rules = s.Rules[1:] },
		"other facts":      func(s *kept) { s.Sums = s.Sums[1:] },
	} {
		var s kept
		_ = wire.Read(whole, &s)
		change(&s)
		got, _, now := b.JudgeAgain(ctx, finding.Note, f, known, wire.Append(nil, &s))
		if diff := cmp.Diff(sayings(want), sayings(got)); diff != "" || string(now) != string(whole) {
			t.Errorf("%s (-afresh +again):\n%s", what, diff)
		}
	}
	for n := 0; n < len(whole); n += 501 {
		if got, _, _ := b.JudgeAgain(ctx, finding.Note, f, known, whole[:n]); !cmp.Equal(sayings(want), sayings(got)) {
			t.Errorf("of its first %d bytes comes something else", n)
		}
	}
}
