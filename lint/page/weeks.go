package page

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"kitmuster/lint/audit"
	"kitmuster/lint/kinds"
	"kitmuster/lint/words"
)

// dueOf is what falls due in one household.
type dueOf struct {
	row int
	due []audit.Due
}

// gatherDue keeps what falls due in a household until the last day that is looked at.
func (b *book) gatherDue(s *audit.Sheet) {
	if within, _ := s.DueWithin(b.OnDay, b.UntilDay); len(within) > 0 {
		b.dues = append(b.dues, dueOf{len(b.rows) - 1, within})
	}
}

// weeks is what falls due as a strip of weeks.
type weeks struct {
	Says, Overdue string
	Heads         []weekHead
	Rows          []weekRow
	Days          []dueDay
	// Long says that the days are folded away.
	Long bool
	// More says where the days are, where they are too many for this page.
	More string
}

// weekHead is a month over its columns, with its year where that begins.
type weekHead struct {
	Text, Year string
	Span       int
}

type weekRow struct {
	Name, Href string
	Cells      []weekCell
}

// weekCell is one column of a row; N is how much falls due, and the drawing has a square for each, medicines filled.
type weekCell struct {
	N, Medicine int
	// From is the first day of the column.
	From         string
	High         int
	Open, Filled string
	Words        string
}

// dueDay is what falls due on a day.
type dueDay struct{ Day, What string }

// dayOf is what falls due on a day in one household.
type dayOf struct {
	name string
	what []string
}

const (
	// mostColumns is how many columns a strip has at most: half a year of weeks. rowsApart is up to how many households have a row each.
	mostColumns = 27
	rowsApart   = 8
	// mostSquares is how many things of a column are drawn one by one; of more a bar is drawn, barHigh CSS pixels high at most.
	mostSquares = 6
	barHigh     = 42
	// mostDays is up to how many households what falls due is told day by day on the page of everybody.
	mostDays = 60
)

// weeks draws the strip; nil where others look, who hear of no dates.
func (b *book) weeks() *weeks {
	if b.Run.Shared != "" {
		return nil
	}
	w := &weeks{Long: len(b.rows) > rowsApart}
	days := b.UntilDay - b.OnDay + 1
	each := max(1, (days+7*mostColumns-1)/(7*mostColumns)) * 7
	n := int((days + each - 1) / each)
	total, overdue, look := 0, 0, 0
	var late []string
	by := map[int64][]dayOf{}
	all := weekRow{Cells: make([]weekCell, n)}
	for _, h := range b.dues {
		one := weekRow{Name: b.rows[h.row].name(), Href: b.rows[h.row].Href, Cells: make([]weekCell, n)}
		past := 0
		on := map[int64]int{} // where the day of this household is
		for i := range h.due {
			d := &h.due[i]
			if d.Day < b.OnDay {
				past++
				continue
			}
			if d.Kind == kinds.DateAudit && d.Day == b.OnDay {
				look++
				continue
			}
			k := int((d.Day - b.OnDay) / each)
			for _, c := range []*weekCell{&one.Cells[k], &all.Cells[k]} {
				c.N++
				if d.Medicine {
					c.Medicine++
				}
			}
			total++
			text := dueWords(d)
			at, ok := on[d.Day]
			if !ok {
				at = len(by[d.Day])
				on[d.Day], by[d.Day] = at, append(by[d.Day], dayOf{name: one.Name})
			}
			by[d.Day][at].what = append(by[d.Day][at].what, text)
		}
		if overdue += past; past > 0 {
			late = append(late, fmt.Sprintf("%s %d", one.Name, past))
		}
		if !w.Long {
			w.Rows = append(w.Rows, one)
		}
	}
	if w.Long {
		all.Name = "All households"
		w.Rows = []weekRow{all}
	}
	most := 0
	for i := range w.Rows {
		for _, c := range w.Rows[i].Cells {
			most = max(most, c.N)
		}
	}
	for i := range w.Rows {
		for k := range w.Rows[i].Cells {
			w.Rows[i].Cells[k].draw(b.shortDate(b.OnDay+int64(k)*each), most)
		}
	}
	w.Heads = b.weekHeads(n, each)
	w.Says = words.Count(total, "thing") + " between now and " + b.shortDate(b.UntilDay) + ", " + columnWords(each) + "."
	w.Overdue = overdueWords(overdue, late, look, len(b.rows))
	if len(b.rows) > mostDays {
		w.More = "What falls due on which day stands with each household, and in due.csv."
		return w
	}
	for _, day := range slices.Sorted(maps.Keys(by)) {
		var said []string
		for _, x := range by[day] {
			text := strings.Join(counted(x.what), ", ")
			if len(b.rows) > 1 {
				text = x.name + ": " + text
			}
			said = append(said, text)
		}
		w.Days = append(w.Days, dueDay{b.shortDate(day), strings.Join(said, "; ")})
	}
	return w
}

func columnWords(each int64) string {
	if each == 7 {
		return "week by week"
	}
	return fmt.Sprintf("%d weeks in a column", each/7)
}

// overdueWords says what is past its day already, and who is to look through the packs now.
func overdueWords(overdue int, late []string, look, households int) string {
	text := ""
	if overdue > 0 {
		text = words.Count(overdue, "thing") + " overdue already"
		if len(late) <= rowsApart && households > 1 {
			text += ": " + strings.Join(late, ", ")
		}
		text += ". "
	}
	switch {
	case look == 0:
	case look == households:
		text += "The packs are to be looked through now."
	default:
		text += fmt.Sprintf("%s of %d are to look through the packs now.", words.Count(look, "household"), households)
	}
	return strings.TrimSpace(text)
}

// dueWords says what falls due on a page that several households see: of a medicine that it is one.
func dueWords(d *audit.Due) string {
	switch {
	case d.Medicine:
		return "a medicine"
	case d.Kind == kinds.DateAudit:
		return "look through the packs"
	case d.Kind == kinds.DateWaiver:
		return "the waiver of " + words.Clean(d.Name) + " ends"
	case d.Kind == kinds.DateLicence:
		return words.Clean(d.Name) + " licence ends"
	}
	return onPaper(d.Name)
}

// weekHeads are the months over the columns; each begins with the column in which its first day lies.
func (b *book) weekHeads(n int, each int64) (out []weekHead) {
	last := ""
	for k := range n {
		y, m, _ := civil(b.OnDay + int64(k)*each + each - 1)
		if k == 0 {
			y, m, _ = civil(b.OnDay)
		}
		text, year := months[m-1], ""
		if m == 1 {
			year = fmt.Sprint(y)
		}
		if each > 28 { // years over months
			text, year = fmt.Sprint(y), ""
		}
		if text == last {
			out[len(out)-1].Span++
			continue
		}
		out, last = append(out, weekHead{text, year, 1}), text
	}
	for i := range out {
		if out[i].Span < 2 {
			out[i].Text, out[i].Year = "", "" // no room for it
		}
	}
	return out
}

// draw puts squares on top of each other, medicines below; where a column holds too many, bars on one scale, up to most.
func (c *weekCell) draw(from string, most int) {
	if c.From = from; c.N == 0 {
		return
	}
	c.Words = "from " + from
	if c.Medicine > 0 {
		c.Words += ", " + words.Count(c.Medicine, "medicine") + " among them"
	}
	if most > mostSquares {
		high, filled := max(2, c.N*barHigh/most), c.Medicine*barHigh/most
		if c.Medicine > 0 {
			filled = max(2, filled)
		}
		c.High = max(high, filled) + 1
		if high > filled {
			c.Open = fmt.Sprintf("M1.5.5h8v%dh-8z", high-filled)
		}
		if filled > 0 {
			c.Filled = fmt.Sprintf("M1 %dh9v%dH1z", c.High-filled, filled)
		}
		return
	}
	c.High = c.N*7 + 1
	for i := range c.N {
		if y := c.High - (i+1)*7; i < c.Medicine {
			c.Filled += fmt.Sprintf("M1 %dh9v5H1z", y)
		} else {
			c.Open += fmt.Sprintf("M1.5 %d.5h8v4h-8z", y)
		}
	}
}
