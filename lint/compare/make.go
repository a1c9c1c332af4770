package compare

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"slices"

	"kitmuster/lint"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
)

// Product is the judging of a household, and its figures.
var Product = lint.Product{Name: "compare", Make: makeFigures, Believe: believe}

// state is what is made of a household in one state.
type state struct{ Figures []Figure }

// RowNouns says what its list holds, where it is cut.
func (*state) RowNouns() map[string]string { return map[string]string{"Figures": "figures"} }

func makeFigures(ctx context.Context, tree fs.FS, rules *judge.Rulebook, dir string, o household.Options) household.Outcome {
	m := household.MeasureFor(tree, dir, rules, o)
	out := m.Judge(ctx, rules, o)
	if m.Facts != nil {
		out.Extra = &state{Figures(m.Facts)}
	}
	return out
}

// believe refuses figures that outputs cannot show.
func believe(packed []byte) error {
	s := &state{}
	if err := lint.Packing.Unmarshal(packed, s); err != nil {
		return err
	}
	for i := range s.Figures {
		f := &s.Figures[i]
		if !slices.Contains(Groups, f.Group) {
			return fmt.Errorf("a figure of %q", f.Group)
		}
		if f.Unit == kinds.FigureDay && !lint.PlausibleDay(f.Value) {
			return fmt.Errorf("day %d", f.Value)
		}
	}
	return lint.Plausible(s)
}

// Make holds the two states of each household of a run against each other. The findings, with what became of them, are those of the run.
func Make(res *lint.Result) (*Comparison, error) {
	c := &Comparison{Run: &res.Run}
	for p, err := range res.Pairs {
		if err != nil {
			return nil, err
		}
		one := Compared{Household: p.Household, Was: p.Was, Causes: p.Causes}
		if p.Told {
			var before, now state
			if err := cmp.Or(p.Before.Unpack(&before), p.Now.Unpack(&now)); err != nil {
				return nil, err
			}
			one.Changes = Changes(before.Figures, now.Figures)
		}
		c.Households = append(c.Households, one)
	}
	return c, nil
}
