package upkeep

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"kitmuster/lint"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// Product is a household with what can be weighed and renewed: a *Kept.
var Product = lint.Product{Name: "upkeep", Make: Make}

// Make lists what can be weighed and renewed, after the orders of o were done; each is an Order in JSON. What cannot be written
// leaves everything as it was.
func Make(_ context.Context, tree fs.FS, _ *judge.Rulebook, dir string, o household.Options) household.Outcome {
	out := &Kept{}
	d, err := rewrite.Open(tree, dir, load.Options{Show: o.Show})
	if err == nil {
		for i, text := range o.Orders {
			var order Order
			err := json.Unmarshal([]byte(text), &order)
			if err == nil {
				err = do(d, &order, o.On)
			}
			if at := weighedFor(d, &order, err); at.Known() {
				out.DayKept = append(out.DayKept, at)
				order.NoDay = true
				err = do(d, &order, o.On)
			}
			if err != nil {
				r := refusal(err)
				out.Refused = append(out.Refused, Refused{Order: i, At: r.At, Why: r.Text})
			}
		}
		if len(out.Refused) == 0 {
			out.Files, tree = d.Files(), d.Tree()
		}
	}
	m := household.Measure(tree, dir, o)
	all := m.Outcome()
	out.Household, all.Extra = m.Household, out
	switch {
	case m.Kit == nil && len(m.Findings) > 0:
		out.Unread, out.Files = m.Findings[0].At.String()+": "+m.Findings[0].Message, nil
	case m.Kit == nil:
		out.Unread, out.Files = "it cannot be read", nil
	case err != nil:
		out.Unread = refusal(err).Error()
	}
	if out.Unread != "" || len(out.Refused) > 0 {
		return all
	}
	own := dir
	if o.Show != nil {
		own = o.Show(dir)
	}
	out.Things = things(d, own)
	out.Due = due(m, out.Things)
	out.Unsaid = unsaid(m, out.Things)
	return all
}

// behind are the fields that a new one stands behind, as in the schema.
var behind = map[string][]string{
	"count":             {"name"},
	"mass":              {"count", "name", "carrier"},
	"massIncludesWater": {"mass"},
	"weighed":           {"massIncludesWater", "mass"},
	"opened":            {"expires"},
}

func refusal(err error) *rewrite.Refusal {
	r := (*rewrite.Refusal)(nil)
	if !errors.As(err, &r) {
		r = &rewrite.Refusal{Text: err.Error()}
	}
	return r
}

// do writes one order.
func do(d *rewrite.Draft, o *Order, on unit.Date) error {
	set := func(field string, value any) rewrite.Step {
		return rewrite.Step{Do: rewrite.Set, Spot: o.Spot + "/" + field, Value: value, Behind: behind[field]}
	}
	has := func(spot, field string) bool { _, ok := d.Value(spot + "/" + field); return ok }
	without := func(steps []rewrite.Step, spot string, fields ...string) []rewrite.Step {
		for _, f := range fields {
			if has(spot, f) {
				steps = append(steps, rewrite.Step{Do: rewrite.Remove, Spot: spot + "/" + f})
			}
		}
		return steps
	}
	switch o.Do {
	case SetMass:
		var steps []rewrite.Step
		if !same(d, o) {
			steps = append(steps, set("mass", o.Text))
		}
		if o.Wet && !has(o.Spot, "massIncludesWater") {
			steps = append(steps, set("massIncludesWater", true))
		}
		if o.NoDay || pouch(o.Spot) { // a pouch has no day of its own
			if len(steps) == 0 {
				return nil
			}
			return d.Do(steps...)
		}
		return d.Do(append(without(steps, o.Spot, "estimated"), set("weighed", on.String()))...)
	case Describe:
		var steps []rewrite.Step
		for i := range o.Said {
			v, err := o.Said[i].value()
			if err != nil {
				return err
			}
			steps = append(steps, set(o.Said[i].Path, v))
		}
		return d.Do(steps...)
	case SetCount:
		return d.Do(set("count", int(o.Count)))
	case Gone:
		return d.Do(rewrite.Step{Do: rewrite.Remove, Spot: o.Spot})
	case Add:
		key := load.PlainName(o.Text)
		if key == "" {
			return fmt.Errorf("%q has no letter that a name could begin with; write it in letters a to z", o.Text)
		}
		var f rewrite.Fields
		if key != o.Text {
			f = append(f, rewrite.Field{Key: "name", Value: o.Text})
		}
		if o.Mass != "" {
			f = append(f, rewrite.Field{Key: "mass", Value: o.Mass}, rewrite.Field{Key: "weighed", Value: on.String()})
		}
		return d.Do(rewrite.Step{Do: rewrite.Set, Spot: d.Free(o.Spot, key), Value: f})
	case SetDay, NoDay, Unopened:
		var steps []rewrite.Step
		spot := o.Spot
		if o.Count > 0 { // of some only
			it := itemAt(d.Kit(), spot)
			if it == nil || it.Count <= o.Count {
				return fmt.Errorf("there are not more than %d of it", o.Count)
			}
			spot = d.Free(spot[:strings.LastIndex(spot, "/")], spot[strings.LastIndex(spot, "/")+1:])
			steps = append(steps, rewrite.Step{Do: rewrite.Copy, Spot: o.Spot, To: spot},
				rewrite.Step{Do: rewrite.Set, Spot: o.Spot + "/count", Value: int(it.Count - o.Count)},
				rewrite.Step{Do: rewrite.Set, Spot: spot + "/count", Value: int(o.Count)})
		}
		if o.Do == SetDay {
			steps = append(steps, rewrite.Step{Do: rewrite.Set, Spot: spot + "/" + o.Field, Value: o.Text, Behind: behind[o.Field]})
		}
		if o.Do == NoDay {
			steps = append(steps, rewrite.Step{Do: rewrite.Remove, Spot: spot + "/" + o.Field})
		}
		if o.Field != "opened" && o.Field != "until" { // what is new is closed
			for _, s := range without(nil, o.Spot, "opened") {
				steps = append(steps, rewrite.Step{Do: s.Do, Spot: spot + strings.TrimPrefix(s.Spot, o.Spot)})
			}
		}
		return d.Do(steps...)
	}
	return fmt.Errorf("%q is no order", o.Do)
}

// weighedFor is the place that says the day of weighing for several things, where that is why a mass could not be written.
func weighedFor(d *rewrite.Draft, o *Order, err error) (at source.Span) {
	r := (*rewrite.Refusal)(nil)
	if o.Do == SetMass && errors.As(err, &r) && r.Spot == o.Spot+"/weighed" {
		return d.Locate(r.Spot).At
	}
	return at
}

// same reports whether a mass is what the kit says already: then only the day is new, and a shared catalogue is left alone.
func same(d *rewrite.Draft, o *Order) bool {
	now, _ := d.Value(o.Spot + "/mass")
	text, _ := now.(string)
	a, err := unit.ParseMass(text)
	b, err2 := unit.ParseMass(o.Text)
	return err == nil && err2 == nil && a == b
}

func pouch(spot string) bool {
	k := source.Keys(spot)
	return len(k) == 4 && k[0] == "packs" && k[2] == "compartments"
}

// things lists what has a mass. own is the household's folder as people see it.
func things(d *rewrite.Draft, own string) (out []Thing) {
	h := d.Kit()
	items := func(place, part, where string, its []kit.Item) {
		for _, it := range source.InOrder(its, func(it *kit.Item) source.Span { return d.Locate(it.Spot).At }) {
			t := Thing{Spot: it.Spot, Name: it.Name, Where: where, Place: place, Part: part, Count: it.Count, MassMG: it.Mass.Milligrams(), Known: !it.MassUnknown, Wet: it.MassIncludesWater, WaterMG: (it.Each() - it.Mass).Milligrams(), Weighed: it.Weighed.Value, IsWeighed: it.Weighed.Set}
			out = append(out, t)
		}
	}
	for _, p := range source.InOrder(h.Packs, func(p *kit.Pack) source.Span { return d.Locate(p.Spot).At }) {
		out = append(out, Thing{Spot: p.Spot, Name: kit.Called(p) + ", empty", Part: p.Spot, Count: 1, MassMG: p.Mass.Milligrams(), Known: !p.MassUnknown, Weighed: p.MassWeighed.Value, IsWeighed: p.MassWeighed.Set})
		cs := source.InOrder(p.Compartments, func(c *kit.Compartment) source.Span { return d.Locate(c.Spot).At })
		slices.SortStableFunc(cs, kit.OutsideIn)
		for _, c := range cs {
			where := kit.Called(p)
			if len(cs) > 1 {
				where += ", " + c.Name
			}
			if c.Mass.Set {
				out = append(out, Thing{Spot: c.Spot, Name: c.Name + ", the pouch alone", Where: kit.Called(p), Part: c.Spot, Count: 1, MassMG: c.Mass.Value.Milligrams(), Known: true})
			}
			items(c.Spot+"/items", c.Spot, where, c.Items)
		}
	}
	for _, p := range source.InOrder(h.People, func(p *kit.Person) source.Span { return d.Locate(p.Spot).At }) {
		items(p.Spot+"/onBody", p.Spot, "on "+p.Name, p.OnBody)
	}
	items("atHome", "atHome", "at home", h.AtHome)
	for i := range out {
		t := &out[i]
		text, _ := d.Value(t.Spot + "/mass")
		t.Text, _ = text.(string)
		t.Short = short(t.Spot)
		if at := d.Locate(t.Spot + "/mass").At; t.Known && at.Known() && path.Dir(at.File) != own {
			t.Shared = at.File
		}
	}
	return out
}

// short leaves out of a spot what its order says already.
func short(spot string) string {
	k := source.Keys(spot)
	switch {
	case k[0] == "packs" && len(k) == 6:
		return source.Spot(k[1], k[3], k[5])
	case k[0] == "packs" && len(k) == 4:
		return source.Spot(k[1], k[3])
	case k[0] == "packs":
		return source.Spot(k[1:]...)
	}
	return spot
}

// itemAt is the item at a spot, nil where there is none.
func itemAt(h *kit.Household, spot string) *kit.Item {
	in := func(its []kit.Item) *kit.Item {
		if i := slices.IndexFunc(its, func(it kit.Item) bool { return it.Spot == spot }); i >= 0 {
			return &its[i]
		}
		return nil
	}
	for i := range h.Packs {
		for j := range h.Packs[i].Compartments {
			if it := in(h.Packs[i].Compartments[j].Items); it != nil {
				return it
			}
		}
	}
	for i := range h.People {
		if it := in(h.People[i].OnBody); it != nil {
			return it
		}
	}
	return in(h.AtHome)
}

// due lists the days of a household in the order of its things.
func due(m *household.Measured, ts []Thing) (out []Due) {
	if m.Facts == nil {
		return nil
	}
	at := map[string]int{}
	for i := range ts {
		at[ts[i].Spot] = i
	}
	for i := range m.Facts.Dates {
		f := &m.Facts.Dates[i]
		on, err := unit.ParseDate(f.On)
		if err != nil {
			continue // every fact's day can be read
		}
		x := Due{Kind: f.Kind, Spot: f.Item, Name: f.Name, Count: 1, On: on, Left: f.Left, Medicine: f.Medicine, Group: "licences"}
		if it := itemAt(m.Kit, f.Item); it != nil {
			x.Count, x.Group, x.Opened, x.Where = it.Count, group(it), it.Opened.Set, ts[at[f.Item]].Where
		}
		out = append(out, x)
	}
	order := func(d *Due) int {
		if i, ok := at[d.Spot]; ok {
			return i
		}
		return len(ts)
	}
	slices.SortStableFunc(out, func(a, b Due) int {
		return cmp.Or(cmp.Compare(order(&a), order(&b)), cmp.Compare(a.Spot, b.Spot), cmp.Compare(a.On, b.On), cmp.Compare(a.Kind, b.Kind))
	})
	return out
}

// group is what kind of thing an item is, in the order in which a household shops.
func group(it *kit.Item) string {
	switch {
	case it.Medicine.Set:
		return "medicines"
	case it.Food.Set:
		return "food"
	case it.Water.Set, it.Treat.Set, it.Container.Set:
		return "water"
	case it.Cells.Set:
		return "batteries"
	case it.Fuel.Set:
		return "fuel"
	case len(it.FirstAid) > 0:
		return "first aid"
	case it.Care.Set:
		return "care"
	}
	return "other things"
}

// groups is the order of a list of what to get.
var groups = []string{"medicines", "care", "first aid", "food", "water", "batteries", "fuel", "other things", "licences"}
