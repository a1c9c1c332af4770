package intake

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/source"
	"kitmuster/lint/table"
	"kitmuster/lint/words"
)

// Product is a household as a table, and a table laid over it: a *Laid.
var Product = lint.Product{Name: "table", Make: Make}

// Laid is a household as rows of a table, with the changes of the rows that were laid over it.
type Laid struct {
	Household finding.Household
	// Rows are the household as it was.
	Rows []Row
	// Files hold what the table says. There are none where something was refused.
	Files []rewrite.File
	// Refused are rows that were not written, with why.
	Refused []string
	// Left are things of the kit that the table does not name; they stay.
	Left []string
	// Unread says why the household cannot be read or written, "" where it can.
	Unread string
}

// Make lists the rows of a household; the rows that o orders, as JSON, are laid over it.
func Make(_ context.Context, tree fs.FS, _ *judge.Rulebook, dir string, o household.Options) household.Outcome {
	show := o.Show
	if show == nil {
		show = func(p string) string { return p }
	}
	out := &Laid{Household: finding.Household{Path: show(dir)}}
	d, err := rewrite.Open(tree, dir, load.Options{Show: o.Show})
	if err == nil {
		out.Household.Name = d.Kit().Name
		out.Rows, err = rowsOf(d)
	}
	if err != nil {
		out.Unread = err.Error()
		return household.Outcome{Household: out.Household, Extra: out}
	}
	seen := map[string]bool{}
	for _, text := range o.Orders {
		var r Row
		err := json.Unmarshal([]byte(text), &r)
		if err == nil {
			seen[r.Key] = true
			err = lay(d, &r, out.Rows)
		}
		if err != nil {
			why := err.Error()
			if ref := (*rewrite.Refusal)(nil); errors.As(err, &ref) && ref.At.Known() {
				why = ref.At.String() + ": " + ref.Text
			}
			out.Refused = append(out.Refused, fmt.Sprintf("%s: %s", r.Row, strings.TrimPrefix(why, r.Row+": ")))
		}
	}
	if len(o.Orders) > 0 && seen["household"] {
		for _, r := range out.Rows {
			if !seen[r.Key] {
				out.Left = append(out.Left, r.Key)
			}
		}
	}
	if len(out.Refused) == 0 {
		out.Files = d.Files()
	}
	return household.Outcome{Household: out.Household, Extra: out}
}

// rowsOf lists everything of a household, in the order in which it is written.
func rowsOf(d *rewrite.Draft) (out []Row, err error) {
	whole, _ := d.Value("")
	root, ok := whole.(map[string]any)
	if !ok {
		return nil, errors.New("it says nothing")
	}
	add := func(key, pack, part string, e any, left ...string) {
		m, _ := e.(map[string]any)
		r, err2 := rowOf(key, m, left...)
		if err2 != nil {
			err = errors.Join(err, fmt.Errorf("%s: %w", key, err2))
		}
		r.Pack, r.Compartment = plainCell(pack), plainCell(part)
		out = append(out, r)

	}
	home := maps.Clone(root)
	if people, ok := home["people"].(map[string]any); ok {
		people = maps.Clone(people)
		for k, v := range people {
			if p, ok := v.(map[string]any); ok {
				p = maps.Clone(p)
				if worn, ok := p["onBody"].(map[string]any); ok && len(worn) > 0 {
					delete(p, "onBody")
				}
				people[k] = p
			}
		}
		home["people"] = people
	}
	home["name"] = home["household"]
	delete(home, "household")
	for _, k := range []string{"packs", "atHome"} {
		if m, ok := home[k].(map[string]any); ok && len(m) > 0 {
			delete(home, k)
		}
	}
	add("household", "", "", home)
	h := d.Kit()
	items := func(spot, pack, part string, its []kit.Item) {
		for _, it := range source.InOrder(its, func(it *kit.Item) source.Span { return d.Locate(it.Spot).At }) {
			v, _ := d.Value(it.Spot)
			add(it.Spot, pack, part, v)
		}
	}
	for _, p := range source.InOrder(h.Packs, func(p *kit.Pack) source.Span { return d.Locate(p.Spot).At }) {
		v, _ := d.Value(p.Spot)
		left := []string{"compartments"}
		if len(p.Compartments) == 0 {
			left = nil
		}
		add(p.Spot, p.Name, "", v, left...)
		for _, c := range source.InOrder(p.Compartments, func(c *kit.Compartment) source.Span { return d.Locate(c.Spot).At }) {
			v, _ := d.Value(c.Spot)
			left := []string{"items"}
			if len(c.Items) == 0 {
				left = nil
			}
			add(c.Spot, p.Name, c.Name, v, left...)
			items(c.Spot, p.Name, c.Name, c.Items)
		}
	}
	for _, p := range source.InOrder(h.People, func(p *kit.Person) source.Span { return d.Locate(p.Spot).At }) {
		items(p.Spot, "on "+p.Name, "", p.OnBody)
	}
	items("atHome", "at home", "", h.AtHome)
	return out, err
}

// plainCell is a text as it stands in a cell.
func plainCell(s string) string { return strings.Join(strings.Fields(words.Clean(s)), " ") }

// lay makes a household say what one row says.
func lay(d *rewrite.Draft, r *Row, rows []Row) error {
	want, err := r.entry()
	if err != nil {
		return err
	}
	if r.Key == "" {
		return addThing(d, r, want)
	}
	i := slices.IndexFunc(rows, func(x Row) bool { return x.Key == r.Key })
	if i < 0 {
		return fmt.Errorf("the kit has no %s; leave the key empty for what is new", r.Key)
	}
	if was := rows[i]; table.Unguard(was.Pack) != table.Unguard(r.Pack) || table.Unguard(was.Compartment) != table.Unguard(r.Compartment) {
		return fmt.Errorf("%s lies in %s; a table moves nothing: move it in its file", r.Key, strings.Trim(was.Pack+", "+was.Compartment, ", "))
	}
	now, err := rows[i].entry()
	if err != nil {
		return err
	}
	spot := r.Key
	if spot == "household" {
		for _, m := range []map[string]any{now, want} {
			m["household"] = m["name"]
			delete(m, "name")
		}
		spot = ""
	}
	steps, err := changes(spot, now, want)
	if err != nil || len(steps) == 0 {
		return err
	}
	for i := range steps {
		steps[i].Spot = strings.TrimPrefix(steps[i].Spot, "/")
	}
	return d.Do(steps...)
}

// addThing puts what is new into the pack and the compartment that a row names.
func addThing(d *rewrite.Draft, r *Row, want map[string]any) error {
	h := d.Kit()
	group := ""
	var names []string
	for _, p := range h.Packs {
		names = append(names, p.Name)
		if !strings.EqualFold(plainCell(p.Name), r.Pack) && p.Key != r.Pack {
			continue
		}
		var parts []string
		for _, c := range p.Compartments {
			parts = append(parts, c.Name)
			if strings.EqualFold(plainCell(c.Name), r.Compartment) || c.Key == r.Compartment || r.Compartment == "" && len(p.Compartments) == 1 {
				group = c.Spot + "/items"
			}
		}
		if group == "" {
			return fmt.Errorf("pack %q has no compartment %q; it has %s", p.Name, r.Compartment, words.List(parts))
		}
	}
	if strings.EqualFold(r.Pack, "at home") {
		group = "atHome"
	}
	if group == "" {
		return fmt.Errorf("there is no pack %q; there are %s", r.Pack, words.List(names))
	}
	k := key(r.Name)
	if k == "" {
		k = "thing"
	}
	if k == r.Name {
		delete(want, "name")
	}
	v, err := valueOf(want)
	if err != nil {
		return err
	}
	return d.Do(rewrite.Step{Do: rewrite.Set, Spot: d.Free(group, k), Value: v})
}

// Added are rows for the things of a table without keys, to be added to a kit. What their names may say is left out: a kit that is there
// has no comment that would mark it as guessed.
func (p *Plan) Added() (out []Row) {
	for _, t := range p.Things {
		r := Row{Row: t.At, Pack: t.Pack, Compartment: t.Compartment, Name: t.Name, Weighed: t.Weighed, Expires: t.Expires}
		if r.Pack == "" {
			r.Pack = p.Pack
		}
		if t.Counted && t.Count != 1 {
			r.Count = fmt.Sprint(t.Count)
		}
		rest := map[string]any{}
		if t.Mass.text != "" {
			r.Grams = strings.TrimSuffix(grams(t.Mass.mass), " g")
			rest["mass"] = t.Mass.text
		}
		if t.Mass.about {
			rest["estimated"] = true
		}
		if t.Energy != "" {
			rest["food"] = map[string]any{"energy": t.Energy}
		}
		if t.Shared {
			rest["shared"] = true
		}
		if len(rest) > 0 {
			b, _ := json.Marshal(rest) // plain values always encode
			r.Carried = string(b)
		}
		out = append(out, r)
	}
	return out
}
