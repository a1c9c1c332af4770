package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"kitmuster/lint/packing"
	"kitmuster/lint/words"
)

// ListText writes packing lists with a box before each line to tick.
func ListText(w io.Writer, ls *packing.PackingLists) error {
	b := bufio.NewWriter(w)
	shown := false
	for l, err := range ls.Lists {
		if err != nil {
			return err
		}
		if shown {
			fmt.Fprintln(b)
		}
		shown = true
		listText(b, l, ls.On)
	}
	for _, h := range ls.Left {
		fmt.Fprintf(b, "not listed, because it could not be read: %s\n", words.Clean(h))
	}
	return b.Flush()
}

func listText(w io.Writer, l *packing.PackingList, on string) {
	say := func(format string, args ...any) {
		for i := range args {
			if s, ok := args[i].(string); ok {
				args[i] = words.Clean(s)
			}
		}
		fmt.Fprintf(w, "%s\n", strings.TrimRight(fmt.Sprintf(format, args...), " "))
	}
	in := words.Amounts{Units: l.Household.Units}
	say("%s (%s), packing lists as of %s", l.Household.Name, l.Household.Path, on)
	say("  %s; %s", words.Where(l.LoadLeast, in.Mass(l.LoadMG), "in "+words.Count(len(l.Packs), "pack")), words.Where(l.WornLeast, in.Mass(l.WornMG), "worn or pocketed"))
	if len(l.Unread) > 0 {
		say("  only partly checked; this could not be read, and is left out or not known:")
	}
	for _, fault := range l.Unread {
		say("    %s", fault)
	}
	if l.Unweighed > 0 {
		say("  %s", packing.NeverWeighed(l.Unweighed))
	}
	if l.Season != "" {
		say("  planned for %s", l.Season)
	}
	if len(l.LastMinute) > 0 {
		say("\n  from home at the last minute")
	}
	t := &table{left: true}
	for _, m := range l.LastMinute {
		t.row(box(m.Past)+words.Clean(m.What), words.Clean(joined(m.Past, m.Why)), words.Clean(m.Where))
	}
	t.write(w, "    ")
	if len(l.Worn) > 0 {
		say("\n  worn or pocketed")
	}
	for i := range l.Worn {
		partText(w, say, in, &l.Worn[i])
	}
	for _, p := range l.Packs {
		say("\n  %s, carried by %s: %s, empty %s%s", p.Name, p.Carrier, atLeast(p.MassLeast, in.Mass(p.MassMG)), atLeast(p.EmptyLeast, in.Mass(p.EmptyMG)), onTop(p.OnTop))
		for i := range p.Parts {
			partText(w, say, in, &p.Parts[i])
		}
	}
	for _, c := range l.Cards {
		say("\n  card of %s", strings.TrimSuffix(c.Name+", "+c.About, ", "))
		for _, s := range c.Sections {
			say("    %s", s.Title)
			for _, line := range s.Lines {
				under := ""
				if line.Under {
					under = "  "
				}
				say("      %s%s", under, joined(line.Text, line.Past))
			}
		}
	}
}

func partText(w io.Writer, say func(string, ...any), in words.Amounts, p *packing.PackedPart) {
	var about []string
	if r := p.Reach.Row(); r.Compartment {
		about = append(about, r.Words)
	}
	if p.For != "" {
		about = append(about, p.For)
	}
	if p.QuickShed {
		about = append(about, "comes off in seconds")
	}
	if len(about) > 0 {
		say("    %s (%s): %s", p.Name, strings.Join(about, "; "), atLeast(p.MassLeast, in.Mass(p.MassMG)))
	} else {
		say("    %s: %s", p.Name, atLeast(p.MassLeast, in.Mass(p.MassMG)))
	}
	t := &table{lastLeft: true}
	for _, it := range p.Items {
		all := weight(in, it)
		if it.Count > 1 && !it.MassLeast {
			all = in.Mass(it.EachMG) + " = " + all
		}
		t.row(box(it.Past)+words.Clean(it.Name), fmt.Sprintf("%d ×", it.Count), all, words.Clean(joined(append([]string{it.Past}, it.Notes...)...)))
	}
	t.write(w, "      ")
}

// weight is what a packed thing weighs; "?" where nothing of it is known.
func weight(in words.Amounts, it packing.PackedItem) string {
	if it.MassLeast && it.MassMG == 0 {
		return "?"
	}
	return atLeast(it.MassLeast, in.Mass(it.MassMG))
}

// box is what to tick; before a thing that is past its day there is a mark in it.
func box(past string) string {
	if past != "" {
		return "[!] "
	}
	return "[ ] "
}

// joined puts together what is not empty.
func joined(texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(s string) bool { return s == "" }), "; ")
}

// listColumns are the columns of ListCSV.
var listColumns = []string{
	"packed", "household", "path", "list", "pack", "carrier", "compartment", "layer", "reach", "for", "count", "item", "mass_g", "mass_each_g", "water_ml", "until", "notes",
}

// gramsOr is a mass in grams; empty where it is not known.
func gramsOr(unknown bool, mg int64) any {
	if unknown {
		return ""
	}
	return grams(mg)
}

// onTop says which animals a carrier has beside the pack.
func onTop(animals []string) string {
	if len(animals) == 0 {
		return ""
	}
	return "; on top comes " + words.Clean(words.And(animals))
}

// ListCSV writes packing lists as comma-separated values (RFC 4180): a line for each thing that is packed, worn, or
// taken at the last minute, under the names of the columns. The first column is empty, to be filled in.
// Masses are of all of a line together, with the water in them; what is taken at the last minute has none there, as it has a line
// where it goes too.
func ListCSV(w io.Writer, ls *packing.PackingLists) error {
	out := newSheet(w, listColumns...)
	for l, err := range ls.Lists {
		if err != nil {
			return err
		}
		items := func(list, pack, carrier string, p *packing.PackedPart, compartment string) {
			var layer any = ""
			if p.Layer > 0 {
				layer = p.Layer
			}
			for _, it := range p.Items {
				out.row("", l.Household.Name, l.Household.Path, list, pack, carrier, compartment, layer, p.Reach, p.For,
					it.Count, it.Name, gramsOr(it.MassLeast, it.MassMG), gramsOr(it.MassLeast, it.EachMG), it.WaterML, it.Until, joined(append([]string{it.Past}, it.Notes...)...))
			}
		}
		for _, m := range l.LastMinute {
			out.row("", l.Household.Name, l.Household.Path, "last minute", m.Where, "", "", "", "", "", "", m.What, "", "", "", "", joined(m.Past, m.Why))
		}
		for i := range l.Worn {
			items("worn", "", l.Worn[i].Name, &l.Worn[i], "")
		}
		for _, p := range l.Packs {
			for i := range p.Parts {
				items("pack", p.Name, p.Carrier, &p.Parts[i], p.Parts[i].Name)
			}
		}
	}
	return out.end()
}

// grams writes milligrams as grams, with a point and without zeros at the end.
func grams(mg int64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%d.%03d", mg/1000, mg%1000), "0"), ".")
}
