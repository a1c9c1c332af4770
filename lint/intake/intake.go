// Package intake makes a kit of a table that a family kept: which column holds what (heads.go), what the cells say (amounts.go), what
// the things are by their names (package vocabulary), and the files that say so (write.go).
//
// A table is not understood, it is guessed at, so everything is shown before it is written: the columns, the things as they would be,
// and whatever was not read, with its cell. The sums that the table itself holds are the alarm: what is taken for a count, a mass or a
// total must come out as the table says, or the difference is told. Nothing is made up: what the table does not say is left out, and
// what is guessed from a name says so in a comment.
package intake

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"kitmuster/lint/load"
	"kitmuster/lint/table"
	"kitmuster/lint/unit"
	"kitmuster/lint/upkeep"
	"kitmuster/lint/words"
)

// Options are what the family says beside the table.
type Options struct {
	// File is the name of the table, as people see it.
	File string
	// Household is the name that the kit gets.
	Household string
	// Map says what columns hold, by their heads or their letters.
	Map map[string]Field
	// Unit is that of masses without one: g, kg, oz or lb; "" where nobody said.
	Unit string
	// Pack is the name of the pack where the table names none; "" is pack.
	Pack string
	// People are those of the household, with their ages, such as ana and 42 y. An age may be "".
	People []Who
	// Carries says who carries which pack, by its name in small letters.
	Carries map[string]string
}

// Who is a person and the age as a kit says it.
type Who struct{ Name, Age string }

// Column is one column of a sheet and what it was taken for.
type Column struct {
	Sheet, At, Head string
	Field           Field
	Unit            string
	// Said: the family said so.
	Said bool
}

// Thing is one row that became a thing.
type Thing struct {
	At                              string // its cell
	Name                            string
	Count                           int
	Counted                         bool
	Mass                            amount
	Pack, Compartment, Section, Who string
	Shared                          bool
	Expires, Weighed, Energy        string
	// Notes are what stands in columns that a kit has no field for, with their heads.
	Notes []string

	row   unit.Mass // the whole row, by its own total or count × mass
	times unit.Mass // by count × mass, where both are known
}

// Sum is a sum of the table held against the things.
type Sum struct {
	At, What string
	// Said is the table's, Found that of the things.
	Said, Found unit.Mass
	OK          bool
}

// Doubt is a cell that was not understood, or not for sure.
type Doubt struct{ At, Text, Why string }

// Plan is a table as it was understood.
type Plan struct {
	Options
	Kind    string
	Columns []Column
	Things  []*Thing
	Sums    []Sum
	Doubts  []Doubt
	Notes   []string
}

// errNoTable says what a table needs.
var errNoTable = errors.New("no table was found in it: one row must name its columns, such as name, count, mass and pack; --map A=name says what a column holds")

// Read understands a table.
func Read(b *table.Book, o Options) (*Plan, error) {
	p, err := read(b, o, false)
	if err != nil {
		return nil, err
	}
	if bad := p.wrong(); bad > 0 && !p.has(Total) {
		// a column of masses may be of whole rows: then its own sums come out so
		if q, err := read(b, o, true); err == nil && q.wrong() == 0 && len(q.Sums) > 0 {
			q.Notes = append(q.Notes, "the sums of the table come out where a mass is that of all of its row, so it is divided by the count")
			p = q
		}
	}
	for _, head := range sortedKeys(o.Map) {
		if !slices.ContainsFunc(p.Columns, func(c Column) bool { return c.Said && (strings.EqualFold(c.Head, head) || c.At == head) }) {
			return nil, fmt.Errorf("--map %s=%s: no column is called %q; the columns are %s", head, o.Map[head], head, p.headNames())
		}
	}
	if len(p.Things) == 0 {
		return nil, fmt.Errorf("nothing in it was understood as a thing; the columns are %s", p.headNames())
	}
	return p, nil
}

func (p *Plan) headNames() string {
	var names []string
	for _, c := range p.Columns {
		names = append(names, fmt.Sprintf("%s %q", c.At, c.Head))
	}
	return words.List(names)
}

func (p *Plan) wrong() (n int) {
	for _, s := range p.Sums {
		if !s.OK {
			n++
		}
	}
	return n
}

func (p *Plan) has(f Field) bool {
	return slices.ContainsFunc(p.Columns, func(c Column) bool { return c.Field == f })
}

// reader goes through one sheet.
type reader struct {
	*Plan
	s       *table.Sheet
	columns map[int]*Column
	st      style
	byName  bool // the sheet's name is that of a pack
	// whole: the column of masses is of whole rows.
	whole                  bool
	pack, part, section    string
	sheetStart, totalStart int
	sectionStart           int
	packStart              int
}

func read(b *table.Book, o Options, whole bool) (*Plan, error) {
	p := &Plan{Options: o, Kind: b.Kind, Notes: slices.Clone(b.Notes)}
	found := 0
	for i := range b.Sheets {
		r := &reader{Plan: p, s: &b.Sheets[i], whole: whole}
		at := r.head(0, min(len(r.s.Rows), 60))
		if at < 0 && r.lettered() {
			at = -1
		} else if at < 0 {
			if len(r.s.Rows) > 0 && len(b.Sheets) > 1 {
				p.Notes = append(p.Notes, fmt.Sprintf("sheet %q is left out: no row names its columns", r.s.Name))
			}
			continue
		}
		found++
		r.byName = len(b.Sheets) > 1 && !has(r.s.Name, []string{"sheet", "tabelle", "feuil", "feuille", "hoja"})
		r.rows(at)
	}
	if found == 0 {
		return nil, errNoTable
	}
	return p, nil
}

// head looks for the row that names the columns, and keeps them.
func (r *reader) head(from, to int) int {
	for row := from; row < to; row++ {
		if cs := r.columnsOf(row); cs != nil {
			r.columns = cs
			for _, k := range sortedInts(cs) {
				r.Columns = append(r.Columns, *cs[k])
			}
			return row
		}
	}
	return -1
}

// lettered takes columns as the family named them by their letters, where no row has heads.
func (r *reader) lettered() bool {
	cs := map[int]*Column{}
	for k := range 200 {
		if f := r.Map[table.Letters(k)]; f != "" {
			cs[k] = &Column{Sheet: r.s.Name, At: table.Letters(k), Field: f, Said: true}
		}
	}
	r.columns = cs
	if r.at(Name) < 0 {
		return false
	}
	for _, k := range sortedInts(cs) {
		r.Columns = append(r.Columns, *cs[k])
	}
	return true
}

// columnsOf understands a row as heads; nil where it is none.
func (r *reader) columnsOf(row int) map[int]*Column {
	cs, seen := map[int]*Column{}, map[Field]int{}
	knownHeads, numbers := 0, 0
	bare := map[string]int{} // columns whose head is a unit alone
	for k, c := range r.s.Rows[row] {
		if c.Text == "" && r.said("", table.Letters(k)) == "" {
			continue
		}
		if c.Number || numeral.MatchString(c.Text) {
			numbers++
		}
		col := &Column{Sheet: r.s.Name, At: table.Letters(k), Head: c.Text}
		if f := r.said(c.Text, col.At); f != "" {
			_, col.Unit = headOf(c.Text)
			col.Field, col.Said = f, true
		} else {
			col.Field, col.Unit = headOf(c.Text)
		}
		if col.Field == Mass && units[strings.Trim(strings.ToLower(c.Text), " .")] != "" {
			bare[col.Unit] = k
		}
		if col.Field != "" {
			knownHeads++
		}
		cs[k] = col
	}
	if numbers > 0 || knownHeads < 2 {
		return nil
	}
	if lb, ok := bare["lb"]; ok {
		if oz, ok := bare["oz"]; ok {
			cs[lb].Field, cs[oz].Field = Lb, Oz
		}
	}
	for _, k := range sortedInts(cs) {
		c := cs[k]
		switch {
		case c.Field == Number || c.Head == "nombre" || strings.EqualFold(c.Head, "nombre"):
			if !c.Said {
				c.Field = r.byCells(row, k)
			}
		case c.Field == Energy && c.Unit == "":
			c.Unit = "kcal"
		}
		if _, twice := seen[c.Field]; twice && c.Field != "" && c.Field != Note && c.Field != Nothing && !c.Said {
			if c.Field == Mass && r.ofRows(row, seen[Mass], k, cs) {
				c.Field = Total
			} else if c.Field == Mass && c.Unit == "" {
				c.Field = ""
			} else if c.Field == Mass {
				c.Field = Nothing // the same in another unit
			} else {
				c.Field = ""
			}
		}
		seen[c.Field] = k
	}
	if _, ok := seen[Name]; !ok {
		// the first column of words
		for _, k := range sortedInts(cs) {
			if cs[k].Field == "" && r.wordy(row, k) {
				cs[k].Field = Name
				seen[Name] = k
				break
			}
		}
	}
	if _, ok := seen[Name]; !ok && r.wordy(row, 0) && cs[0] == nil {
		cs[0] = &Column{Sheet: r.s.Name, At: "A", Field: Name}
		seen[Name] = 0
	}
	if _, ok := seen[Name]; !ok {
		return nil
	}
	return cs
}

// ofRows reports whether a second column of masses is that of whole rows: the count times the first, wherever there are several.
func (r *reader) ofRows(head, first, second int, cs map[int]*Column) bool {
	several, count := 0, -1
	for k, c := range cs {
		if c.Field == Count {
			count = k
		}
	}
	if count < 0 {
		return false
	}
	for row := head + 1; row < len(r.s.Rows); row++ {
		n, known, ok := countOf(r.cell(row, count))
		a, b := massOf(r.cell(row, first), cs[first].Unit, style{dot: true}), massOf(r.cell(row, second), cs[second].Unit, style{dot: true})
		if !known || !ok || n < 2 || a.text == "" || b.text == "" {
			continue
		}
		if abs(a.mass*unit.Mass(n)-b.mass) > b.slack+a.slack*unit.Mass(n) {
			return false
		}
		several++
	}
	return several > 0
}

// said is what the family said of a column.
func (r *reader) said(head, letters string) Field {
	for _, k := range sortedKeys(r.Map) {
		if strings.EqualFold(strings.TrimSpace(k), head) && head != "" || k == letters {
			return r.Map[k]
		}
	}
	return ""
}

// byCells tells a count, a running number and names apart, where a head may mean each of them.
func (r *reader) byCells(row, column int) Field {
	numbers, others, running, last := 0, 0, true, 0
	for i := row + 1; i < len(r.s.Rows) && numbers+others < 200; i++ {
		if column >= len(r.s.Rows[i]) || r.s.Rows[i][column].Text == "" {
			continue
		}
		n, known, ok := countOf(r.s.Rows[i][column])
		if !ok || !known {
			others++
			continue
		}
		numbers++
		running = running && n > last
		last = n
	}
	switch {
	case others > numbers:
		return Name
	case running && numbers > 2:
		return Number
	}
	return Count
}

// wordy reports whether most cells of a column are words.
func (r *reader) wordy(row, column int) bool {
	letters, others := 0, 0
	for i := row + 1; i < len(r.s.Rows); i++ {
		if column < len(r.s.Rows[i]) && r.s.Rows[i][column].Text != "" {
			if strings.IndexFunc(r.s.Rows[i][column].Text, unicode.IsLetter) == 0 {
				letters++
			} else {
				others++
			}
		}
	}
	return letters > others && letters > 0
}

func (r *reader) doubt(row, column int, why string) {
	r.Doubts = append(r.Doubts, Doubt{r.s.At(row, column), r.cell(row, column).Text, why})
}

func (r *reader) cell(row, column int) table.Cell {
	if column >= 0 && row < len(r.s.Rows) && column < len(r.s.Rows[row]) {
		return r.s.Rows[row][column]
	}
	return table.Cell{}
}

// at is the column of a field, -1 where there is none.
func (r *reader) at(f Field) int {
	for _, k := range sortedInts(r.columns) {
		if r.columns[k].Field == f {
			return k
		}
	}
	return -1
}

func (r *reader) unitOf(row, column int) string {
	if k := r.at(Unit); k >= 0 {
		if u := units[strings.ToLower(strings.Trim(r.cell(row, k).Text, " ."))]; u != "" && r.columns[column].Unit == "" {
			return u
		}
	}
	if c := r.columns[column]; c != nil && c.Unit != "" {
		return c.Unit
	}
	return r.Unit
}

// rows reads what stands below the heads.
func (r *reader) rows(head int) {
	r.sheetStart, r.totalStart, r.sectionStart, r.packStart = len(r.Things), len(r.Things), len(r.Things), len(r.Things)
	if r.byName {
		r.pack = r.s.Name
		if pack, part, nested := strings.Cut(r.s.Name, ", "); nested && (r.Kind == "JSON" || r.Kind == "YAML") {
			r.pack, r.part = pack, part
		}
	}
	// what stands above the heads may be the name of a section
	if head > 0 {
		if text, n := r.only(head - 1); n == 1 && (r.isPack(text)) {
			r.pack = text
		}
	}
	r.look(head)
	blank := true
	for row := head + 1; row < len(r.s.Rows); row++ {
		text, n := r.only(row)
		if n == 0 {
			blank = true
			continue
		}
		if cs := r.columnsOf(row); cs != nil && row > head {
			same := len(cs) == len(r.columns)
			for k, c := range cs {
				same = same && r.columns[k] != nil && r.columns[k].Field == c.Field
			}
			if !same {
				for _, k := range sortedInts(cs) {
					r.Columns = append(r.Columns, *cs[k])
				}
				r.columns = cs
				r.look(row)
			}
			continue
		}
		name := r.cell(row, r.at(Name)).Text
		switch {
		case sumsUp(text) || name != "" && sumsUp(name) || name == "" && r.onlyMasses(row):
			r.sum(row, text)
		case n == 1 && r.isSection(row, text, blank):
			r.begin(text)
		default:
			r.thing(row)
		}
		blank = false
	}
}

// look finds how numbers are written in the columns of masses.
func (r *reader) look(head int) {
	r.st = style{}
	for k, c := range r.columns {
		if slices.Contains([]Field{Mass, Total, Lb, Oz, Energy}, c.Field) {
			for i := head + 1; i < len(r.s.Rows); i++ {
				r.st.look(r.cell(i, k))
			}
		}
	}
}

// only is the first text of a row, and how many cells say something.
func (r *reader) only(row int) (text string, n int) {
	for _, c := range r.s.Rows[row] {
		if c.Text != "" || c.NoValue {
			n++
			if text == "" {
				text = c.Text
			}
		}
	}
	return text, n
}

// onlyMasses reports whether a row says nothing but masses: then it is a sum without a name.
func (r *reader) onlyMasses(row int) bool {
	for k := range r.s.Rows[row] {
		c := r.cell(row, k)
		if col := r.columns[k]; c.Text != "" && (col == nil || col.Field != Mass && col.Field != Total) {
			return false
		}
	}
	return true
}

// isSection tells the name of a section from a thing of which nothing but its name is known.
func (r *reader) isSection(row int, text string, blank bool) bool {
	if strings.IndexFunc(text, unicode.IsLetter) < 0 {
		return false
	}
	if r.cell(row, r.at(Name)).Text == "" { // it stands in another column
		return true
	}
	upper := strings.ToUpper(text) == text && strings.ToLower(text) != text
	pocket := r.at(Compartment) < 0 && has(text, pocketWords)
	if upper || pocket || strings.HasSuffix(text, ":") || strings.HasPrefix(text, "#") || r.isPack(text) {
		return true
	}
	if !blank || row+1 >= len(r.s.Rows) {
		return false
	}
	_, next := r.only(row + 1)
	return next > 1
}

// isPack reports whether a section may be a pack: its name has a word for one, or a person's name.
func (r *reader) isPack(text string) bool {
	if has(text, packWords) && !has(text, []string{"sleeping"}) {
		return true
	}
	_, ok := r.whose(text)
	return ok
}

// whose is the person whom a text names.
func (r *reader) whose(text string) (string, bool) {
	for _, w := range r.People {
		name := strings.ToLower(w.Name)
		for _, t := range strings.FieldsFunc(strings.ToLower(text), func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) }) {
			if t == name || t == name+"s" {
				return w.Name, true
			}
		}
	}
	return "", false
}

// begin starts a section.
func (r *reader) begin(text string) {
	text = strings.Trim(text, " :#*=-–—_")
	r.sectionStart = len(r.Things)
	switch {
	case r.at(Pack) >= 0:
		r.section = text
	case r.isPack(text):
		r.pack, r.part, r.section, r.packStart = text, "", "", len(r.Things)
	case r.at(Compartment) < 0 && has(text, partWords):
		r.part, r.section = text, ""
	default:
		r.section = text
	}
}

// sum holds a sum of the table against the things above it.
func (r *reader) sum(row int, label string) {
	for _, f := range []Field{Total, Mass} {
		k := r.at(f)
		c := r.cell(row, k)
		if k < 0 || c.Text == "" && !c.NoValue {
			continue
		}
		a := massOf(c, r.unitOf(row, k), r.st)
		if a.text == "" {
			if a.doubt != "" {
				r.doubt(row, k, a.doubt)
			}
			continue
		}
		if numeral.MatchString(label) {
			label = "a sum without a name"
		}
		best := Sum{At: r.s.At(row, k), What: label, Said: a.mass}
		first := true
		try := func(found unit.Mass) {
			gap, least := abs(found-a.mass), abs(best.Found-a.mass)
			if first || gap < least {
				best.Found, best.OK = found, gap <= a.slack
			}
			first = false
		}
		for _, from := range []int{r.totalStart, r.sectionStart, r.packStart, r.sheetStart, 0} {
			found, times := unit.Mass(0), unit.Mass(0)
			for _, t := range r.Things[from:] {
				found += t.row
				times += t.times
			}
			if from < len(r.Things) {
				try(found)
				try(times)
			}
		}
		packs := map[string]unit.Mass{}
		for _, t := range r.Things {
			packs[t.Pack] += t.row
		}
		for _, name := range sortedKeys(packs) {
			if name != "" && strings.Contains(strings.ToLower(label), strings.ToLower(name)) {
				try(packs[name])
			}
		}
		r.Sums = append(r.Sums, best)
	}
	r.totalStart = len(r.Things)
}

func abs(m unit.Mass) unit.Mass { return max(m, -m) }

// timesName is a name that begins with a count: 2 x Torch.
var timesName = regexp.MustCompile(`^([0-9]{1,3})\s*[x×]\s+(\pL.*)$`)

// mostName is the most letters that a name of a kit has here. Our own figure: findings repeat it.
const mostName = 100

// everyone are words for what belongs to all.
var everyone = []string{"all", "everyone", "everybody", "family", "shared", "alle", "familie", "gemeinsam", "tous", "famille", "todos", "familia", "全員", "家族", "共用"}

// thing reads a row as a thing.
func (r *reader) thing(row int) {
	k := r.at(Name)
	name := strings.Join(strings.Fields(r.cell(row, k).Text), " ")
	if name == "" || strings.IndexFunc(name, func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }) < 0 {
		if text, _ := r.only(row); text != "" {
			for c := range r.s.Rows[row] {
				if r.cell(row, c).Text == text {
					r.doubt(row, c, "the row has no name of a thing, and is left out")
					break
				}
			}
		}
		return
	}
	if cut := []rune(name); len(cut) > mostName {
		r.doubt(row, k, "a long name, which is cut short")
		name = string(cut[:mostName])
	}
	t := &Thing{At: r.s.At(row, k), Name: name, Count: 1, Pack: r.pack, Compartment: r.part, Section: r.section}
	if c := r.at(Count); c >= 0 {
		n, known, ok := countOf(r.cell(row, c))
		if !ok {
			r.doubt(row, c, "no count; 1 is taken")
		}
		if known && n == 0 {
			r.doubt(row, c, name+" is left out, as there is none")
			return
		}
		t.Count, t.Counted = n, known
	}
	if m := timesName.FindStringSubmatch(name); m != nil {
		n, _, _ := countOf(table.Cell{Text: m[1]})
		t.Name = m[2]
		switch {
		case !t.Counted && n > 0:
			t.Count, t.Counted = n, true
		case t.Count != n:
			r.doubt(row, k, fmt.Sprintf("its name says %d, and its own column %d, which counts", n, t.Count))
		}
	}
	var each, total amount
	read := func(f Field) (a amount) {
		c := r.at(f)
		if c < 0 {
			return a
		}
		a = massOf(r.cell(row, c), r.unitOf(row, c), r.st)
		if a.doubt != "" {
			r.doubt(row, c, a.doubt)
		}
		return a
	}
	if r.at(Lb) >= 0 {
		each = r.poundsAndOunces(row)
	} else if r.whole {
		total = read(Mass)
	} else {
		each = read(Mass)
	}
	if t2 := read(Total); t2.text != "" {
		total = t2
	}
	for _, a := range []*amount{&each, &total} {
		if a.mass > unit.MaxItemMass || a.mass > unit.MaxMass/unit.Mass(t.Count) && a == &each {
			r.doubt(row, k, a.text+" is more than anybody carries; its mass is left out as not known")
			*a = amount{}
		}
	}
	t.Mass = each
	t.row = each.mass * unit.Mass(t.Count)
	t.times = t.row
	switch {
	case each.text != "" && total.text != "":
		s := Sum{At: r.s.At(row, r.at(Total)), What: fmt.Sprintf("%d × %s of %s", t.Count, each.text, name), Said: total.mass, Found: t.row}
		s.OK = abs(s.Said-s.Found) <= total.slack+each.slack*unit.Mass(max(0, t.Count-1))
		if t.row = total.mass; !s.OK || t.Count > 1 {
			r.Sums = append(r.Sums, s)
		}
	case total.text != "" && t.Count == 1:
		t.Mass, t.row = total, total.mass
	case total.text != "":
		t.row = total.mass
		t.Mass = amount{mass: total.mass / unit.Mass(t.Count), about: total.about}
		if total.mass%unit.Mass(t.Count) != 0 { // to a hundredth of a gram
			t.Mass.mass, t.Mass.about = (t.Mass.mass+5_000)/10_000*10_000, true
		}
		t.Mass.text = grams(t.Mass.mass)
		t.Notes = append(t.Notes, fmt.Sprintf("mass of all %d: %s", t.Count, total.text))
	}
	if each.text == "" {
		t.times = t.row
	}
	r.rest(row, t)
	r.Things = append(r.Things, t)
}

func (r *reader) poundsAndOunces(row int) amount {
	lb, oz := r.cell(row, r.at(Lb)), r.cell(row, r.at(Oz))
	var parts []string
	var out amount
	for _, x := range []struct {
		c table.Cell
		u string
		k int
	}{{lb, "lb", r.at(Lb)}, {oz, "oz", r.at(Oz)}} {
		if x.c.Text == "" || x.c.Text == "0" || nothing.MatchString(x.c.Text) {
			continue
		}
		a := massOf(x.c, x.u, r.st)
		if a.doubt != "" {
			r.doubt(row, x.k, a.doubt)
		}
		if a.text != "" {
			parts = append(parts, a.text)
			out.mass += a.mass
			out.slack = a.slack
			out.about = out.about || a.about
		}
	}
	out.text = strings.Join(parts, " ")
	if out.text != "" {
		if m, err := unit.ParseMass(out.text); err != nil || m != out.mass {
			out.text = grams(out.mass)
		}
	}
	return out
}

// rest reads what is no amount.
func (r *reader) rest(row int, t *Thing) {
	for _, k := range sortedInts(r.columns) {
		c, text := r.columns[k], strings.Join(strings.Fields(r.cell(row, k).Text), " ")
		if text == "" {
			continue
		}
		switch c.Field {
		case Pack:
			t.Pack = text
		case Compartment:
			t.Compartment = text
		case Section:
			t.Section = text
		case Person:
			if slices.Contains(everyone, strings.ToLower(text)) {
				t.Shared = true
			} else {
				t.Who = text
			}
		case Expires, Weighed:
			on, other, err := upkeep.ParseDay(text)
			switch {
			case nothing.MatchString(text):
			case err != nil:
				r.doubt(row, k, "no day")
				t.Notes = append(t.Notes, c.Head+": "+text)
			case on != other:
				r.doubt(row, k, fmt.Sprintf("%s or %s? Left as a comment", upkeep.InWords(on), upkeep.InWords(other)))
				t.Notes = append(t.Notes, c.Head+": "+text)
			case c.Field == Expires:
				t.Expires = on.String()
			default:
				t.Weighed = on.String()
			}
		case Energy:
			n, _, ok := r.st.plain(text)
			if r.cell(row, k).Number {
				n, ok = text, true
			}
			energy := n + " " + c.Unit
			if !ok {
				energy = text
			}
			if e, err := unit.ParseEnergy(energy); err == nil && e > 0 {
				t.Energy = energy
			} else if !nothing.MatchString(text) && text != "0" {
				r.doubt(row, k, "no energy")
			}
		case Note:
			t.Notes = append(t.Notes, text)
		case "":
			t.Notes = append(t.Notes, strings.TrimSpace(c.Head+": "+text))
		}
	}
	for k := range r.s.Rows[row] { // beside the columns with heads
		if r.columns[k] == nil && r.cell(row, k).Text != "" {
			t.Notes = append(t.Notes, r.cell(row, k).Text)
		}
	}
}

// key is a key for a name, "" where none of its letters may stand in one.
func key(name string) string {
	k := load.PlainName(name)
	if len(k) > 40 {
		k = strings.TrimRight(k[:40], "_")
	}
	return k
}
