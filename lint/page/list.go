package page

import (
	"bufio"
	"cmp"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"iter"
	"strings"
	"sync"

	"kitmuster/lint/packing"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

//go:embed list.html
var listHTML string

//go:embed list.css
var listCSS string

var listTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("list").Parse(listHTML)) })

// ListHTML writes packing lists as one HTML page for screen and paper, which asks for nothing from outside and runs no
// script. On paper what each carrier is handed begins a page, packs and rows are not split where they fit on one, and the
// cards can be cut out; what is ticked on a screen is not kept.
func ListHTML(w io.Writer, ls *packing.PackingLists) error {
	b := bufio.NewWriter(w)
	p, err := newListPage(ls)
	if err != nil {
		return err
	}
	if err := cmp.Or(listTemplate().Execute(b, p), p.err); err != nil {
		return err
	}
	return b.Flush()
}

// listPage is what the template shows; every text in it is clean.
type listPage struct {
	CSS       template.CSS
	On, About string // the day; the tool with its version
	Title     string
	// Links lead to the households where there are several.
	Links []listLink
	// Households walks them; err is why that ended early.
	Households iter.Seq[listHousehold]
	err        error
	Left       []string
	boxes      int
}

type listLink struct{ ID, Name string }

type listHousehold struct {
	ID, Name, Path string
	Sum, Season    string
	Both           bool // masses are in two units, and wider
	// Unweighed says of most entries at once that no day of weighing is recorded; "" where their notes say it.
	Unweighed string
	Unread    []string
	Last      []listRow
	Packs     []listPack
	Worn      *listPack
	Cards     []packing.Card
}

// listPack is a table: a pack, or all that is worn.
type listPack struct {
	Name, Carrier, Colours string
	Mass, Empty, OnTop     string
	Again                  bool // as in finding.PackedPack
	Groups                 []listGroup
}

type listGroup struct {
	Name, About, Mass string
	Rows              []listRow
}

// listRow is a line with a box to tick, which ID joins to its words.
type listRow struct {
	ID, Count, Name, Mass, Notes, Where, Past string
}

func newListPage(ls *packing.PackingLists) (*listPage, error) {
	p := &listPage{CSS: template.CSS(listCSS), On: words.Clean(ls.On), About: words.Clean("Kitmuster " + ls.Version), Title: "Packing lists"}
	for l, err := range ls.Lists {
		if err != nil {
			return nil, err
		}
		p.Links = append(p.Links, listLink{listID(len(p.Links) + 1), words.Clean(l.Household.Name)})
	}
	p.Households = func(yield func(listHousehold) bool) {
		n := 0
		for l, err := range ls.Lists {
			if n++; err != nil {
				p.err = err
			}
			if err != nil || !yield(p.household(l, n)) {
				return
			}
		}
	}
	if len(p.Links) == 1 {
		p.Title += ": " + p.Links[0].Name
	}
	for _, h := range ls.Left {
		p.Left = append(p.Left, words.Clean(h))
	}
	return p, nil
}

// listID is that of the nth household.
func listID(n int) string { return fmt.Sprintf("household-%d", n) }

func (p *listPage) household(l *packing.PackingList, n int) listHousehold {
	in := words.Amounts{Units: l.Household.Units}
	h := listHousehold{
		ID: listID(n), Name: words.Clean(l.Household.Name), Path: words.Clean(l.Household.Path),
		Sum:    words.Where(l.LoadLeast, in.Mass(l.LoadMG), "in packs") + ", " + words.Where(l.WornLeast, in.Mass(l.WornMG), "worn or pocketed"),
		Season: words.Clean(l.Season), Unweighed: unweighed(l.Unweighed), Both: in.Units == unit.US,
	}
	for _, fault := range l.Unread {
		h.Unread = append(h.Unread, words.Clean(fault))
	}
	for _, m := range l.LastMinute {
		h.Last = append(h.Last, listRow{ID: p.box(), Name: words.Clean(m.What), Notes: words.Clean(m.Why), Where: words.Clean(m.Where), Past: words.Clean(m.Past)})
	}
	if len(l.Worn) > 0 {
		h.Worn = &listPack{Groups: p.groups(in, l.Worn)}
	}
	for _, k := range l.Packs {
		h.Packs = append(h.Packs, listPack{
			Name: words.Clean(k.Name), Carrier: words.Clean(k.Carrier), Colours: words.Clean(strings.Join(k.Colours, ", ")),
			Mass: in.Load(k.MassLeast, k.MassMG), Empty: atLeast(k.EmptyLeast, in.Mass(k.EmptyMG)), Groups: p.groups(in, k.Parts),
			Again: k.Again, OnTop: words.Clean(words.And(k.OnTop)),
		})
	}
	for _, c := range l.Cards {
		card := packing.Card{Name: words.Clean(c.Name), About: words.Clean(c.About)}
		for _, s := range c.Sections {
			section := packing.CardSection{Title: words.Clean(s.Title), Missing: s.Missing}
			for _, line := range s.Lines {
				section.Lines = append(section.Lines, packing.CardLine{Text: words.Clean(line.Text), Past: words.Clean(line.Past), Under: line.Under})
			}
			card.Sections = append(card.Sections, section)
		}
		h.Cards = append(h.Cards, card)
	}
	return h
}

func unweighed(n int) string {
	if n == 0 {
		return ""
	}
	return packing.NeverWeighed(n)
}

// listMass is what a thing weighs; "?" where nothing of it is known.
func listMass(in words.Amounts, it packing.PackedItem) string {
	if it.MassLeast && it.MassMG == 0 {
		return "?"
	}
	return atLeast(it.MassLeast, in.Mass(it.MassMG))
}

func (p *listPage) groups(in words.Amounts, parts []packing.PackedPart) (out []listGroup) {
	for _, part := range parts {
		g := listGroup{Name: words.Clean(part.Name), Mass: atLeast(part.MassLeast, in.Mass(part.MassMG))}
		var about []string
		if r := part.Reach.Row(); r.Compartment {
			about = append(about, "reached "+r.Words)
		}
		if part.For != "" {
			about = append(about, part.For)
		}
		if part.QuickShed {
			about = append(about, "comes off in seconds")
		}
		g.About = words.Clean(strings.Join(about, "; "))
		for _, it := range part.Items {
			notes := it.Notes
			if it.Count > 1 && !it.MassLeast {
				notes = append([]string{in.Mass(it.EachMG) + " each"}, notes...)
			}
			g.Rows = append(g.Rows, listRow{
				ID: p.box(), Count: fmt.Sprint(it.Count), Name: words.Clean(it.Name), Mass: listMass(in, it), Notes: words.Clean(strings.Join(notes, "; ")), Past: words.Clean(it.Past),
			})
		}
		out = append(out, g)
	}
	return out
}

// box names one more box.
func (p *listPage) box() string {
	p.boxes++
	return fmt.Sprintf("box-%d", p.boxes)
}
