package table

import (
	"cmp"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/load"
	"kitmuster/lint/unit"
	"kitmuster/lint/vocabulary"
	"kitmuster/lint/words"
)

// A Thing is a row of a table as a thing of a kit.
type Thing struct {
	Row  int
	Key  string
	Name string
	// Count is 0 where it is not written. Mass is that of one piece as it is written, "" where it is not known.
	Count         int64
	Mass          string
	Expires       string
	Pack, Place   string // as they are written
	Notes         []string
	Guess         string // what its name says, as a line of CUE: can: fire: "matches"
	each          unit.Mass
	grain         unit.Mass
	total         unit.Mass
	totalGrain    unit.Mass
	totalAt, atIn int // columns, -1 where there is none
}

// A Told is what is to be known of a cell; At is such as B7, or "".
type Told struct{ At, Text string }

// A Bag is a pack with its compartments, in the order of the table.
type Bag struct {
	Key, Name string
	// Carrier is who the table says carries it, "" where it does not.
	Carrier string
	Places  []Pocket
}

// A Pocket is a compartment.
type Pocket struct {
	Key, Name string
	Things    []*Thing
}

// Table is what a sheet was taken for.
type Table struct {
	Sheet   *Sheet
	Columns []Column
	Bags    []*Bag
	// Things counts rows, Pieces what they come to; Mass is of all of known mass, Unknown counts those of none.
	Things, Pieces, Unknown int64
	Mass                    unit.Mass
	// Checked are sums of the table that come out, Wrong those that do not, Open what was not understood, Taken what was taken for
	// something without being written.
	Checked, Wrong, Open, Taken []Told
}

// mostThings is how many rows a kit is made of. Our own figure: reading them takes some seconds.
const mostThings = 2_000

// mostSums is how many sums of a table are looked at. Our own figure.
const mostSums = 500

// Options are what a family says beside its table.
type Options struct {
	// Map gives roles to columns, by their letter or head. Unit is that of masses without one; Pack the name of the pack where the
	// table names none.
	Map        map[string]Role
	Unit, Pack string
}

// Of reads a sheet as things.
func Of(s *Sheet, o Options) (*Table, error) {
	cols, first, err := s.Columns(o.Map)
	if err != nil {
		return nil, err
	}
	t := &Table{Sheet: s, Columns: cols}
	r := &reading{Table: t, o: o, commas: s.commas(cols, first), first: first}
	r.secondMasses()
	r.rows()
	if t.Things == 0 {
		return nil, errors.New("no row holds a thing: none has a name under the head of the names")
	}
	if r.beyond > 0 {
		return nil, fmt.Errorf("it has %d things, and %d are the most that a kit is made of; bring in one pack after the other", r.Things+r.beyond, mostThings)
	}
	r.guess()
	if err := r.settle(); err != nil {
		return nil, err
	}
	r.sums()
	return t, nil
}

// reading is the state of going through the rows.
type reading struct {
	*Table
	o      Options
	commas decimals
	first  int
	things []*Thing
	totals []sumRow
	// packs says that some of the rows that stand alone are packs; the others are compartments.
	packs bool
	// section counts the rows that stand alone, bag and pocket are what the last of them began.
	section      int
	sectionOf    map[*Thing]int
	keys         keys
	bag, pocket  string
	carriers     map[string]string // by pack
	summed       int               // rows of sums
	beyond       int64             // rows of things that are too many
	rowsAsPieces bool              // masses of all pieces stand where those of one are taken to
}

// sumRow is a row of the table's own sums.
type sumRow struct {
	row, col int
	mass     unit.Mass
	grain    unit.Mass
	section  int
	bag      string
	grand    bool
}

func (r *reading) cell(row []string, role Role) (text string, at int) {
	for _, c := range r.Columns {
		if c.Role == role && c.At < len(row) {
			return row[c.At], c.At
		}
	}
	return "", -1
}

// notKnown are cells that say that nothing is known.
var notKnown = []string{"?", "??", "-", "–", "—", "n/a", "na", "n.a.", "unknown", "tbd", "k.a."}

// massCell is the text of a mass with its unit, which may stand in two columns, and where it stands.
func (r *reading) massCell(row []string, role Role) (text, massUnit string, at int) {
	at = -1
	own, _ := r.cell(row, Unit)
	for _, c := range r.Columns {
		if c.Role != role || c.At >= len(row) || row[c.At] == "" || slices.Contains(notKnown, strings.ToLower(row[c.At])) {
			continue
		}
		u := cmp.Or(massUnits[fold(own)], c.Unit, r.o.Unit)
		if role == Total { // the column of units stands beside the mass of one
			u = cmp.Or(c.Unit, massUnits[fold(own)], r.o.Unit)
		}
		if at < 0 {
			text, massUnit, at = row[c.At], u, c.At
			continue
		}
		text, massUnit = text+" "+massUnit+" "+row[c.At]+" "+u, "" // pounds and ounces
	}
	return text, massUnit, at
}

// packWords say of a section that it is a pack.
var packWords = []string{"pack", "bag", "rucksack", "backpack", "daypack", "tasche", "sac", "mochila", "bolsa", "リュック", "バッグ"}

func isPack(name string) bool {
	f := fold(name)
	return slices.ContainsFunc(packWords, func(w string) bool {
		return slices.Contains(strings.Fields(f), w) || strings.HasSuffix(f, w)
	}) && !strings.Contains(f, "sleeping")
}

// secondMasses finds out what a second column of masses holds, where no head says so: the count times the first, or the same in another unit.
func (r *reading) secondMasses() {
	i := slices.IndexFunc(r.Columns, func(c Column) bool { return c.again })
	if i < 0 || slices.ContainsFunc(r.Columns, func(c Column) bool { return c.Role == Total }) {
		return
	}
	c := &r.Columns[i]
	all, product, same := 0, 0, 0
	for _, row := range r.Sheet.Rows[r.first:] {
		name, _ := r.cell(row, Item)
		text, u, at := r.massCell(row, Each)
		if at < 0 || c.At >= len(row) || row[c.At] == "" || sums(name) {
			continue
		}
		one, _, step1, err1 := r.commas.mass(text, u)
		two, _, step2, err2 := r.commas.mass(row[c.At], cmp.Or(c.Unit, u))
		if err1 != nil || err2 != nil {
			continue
		}
		n := int64(1)
		if text, _ := r.cell(row, Count); countCell.MatchString(text) {
			n, _ = strconv.ParseInt(countCell.FindStringSubmatch(text)[1], 10, 64)
		}
		all++
		if near(one*unit.Mass(n), two, step2, step1*unit.Mass(n)) {
			product++
		}
		if near(one, two, step2, step1) {
			same++
		}
	}
	switch { // most rows, as the table may have slips
	case all > 0 && product*5 >= all*4 && product > same:
		c.Role, c.By = Total, "sums"
	case all > 0 && same*5 >= all*4:
		c.Role, c.By = Nothing, "sums"
		r.Taken = append(r.Taken, Told{"", fmt.Sprintf("column %s holds the same masses again", Letters(c.At))})
	}
}

func (r *reading) rows() {
	r.sectionOf, r.carriers, r.keys = map[*Thing]int{}, map[string]string{}, keys{}
	rows := r.Sheet.Rows
	for i := r.first; i < len(rows); i++ {
		if r.alone(rows, i) && isPack(rows[i][r.only(rows[i])]) {
			r.packs = true
		}
	}
	for i := r.first; i < len(rows); i++ {
		row := rows[i]
		if blank(row) {
			continue
		}
		if _, known := columnsOf(row); known >= 3 && !r.figures(row) { // heads again
			continue
		}
		if r.alone(rows, i) {
			r.begin(strings.TrimRight(row[r.only(row)], ": "))
			continue
		}
		name, at := r.cell(row, Item)
		if sums(name) || name == "" && r.figures(row) {
			r.sum(i, row, name)
			continue
		}
		if name == "" {
			if at = r.only(row); at >= 0 {
				r.tell(&r.Open, i, at, "a row without a name is left out")
			}
			continue
		}
		r.thing(i, row, name, at)
	}
}

// only is the first column of a row that holds anything, -1 where none does.
func (r *reading) only(row []string) int {
	return slices.IndexFunc(row, func(c string) bool { return c != "" })
}

// figures reports whether a row holds a number where masses or counts stand.
func (r *reading) figures(row []string) bool {
	return slices.ContainsFunc(r.Columns, func(c Column) bool {
		return c.At < len(row) && slices.Contains([]Role{Count, Each, Total}, c.Role) && strings.ContainsAny(row[c.At], "0123456789")
	})
}

// alone reports whether a row is the name of a section: one cell that is no sum, at the top or after a blank row or a sum, or as capitals or
// with a colon, and with a thing beneath it.
func (r *reading) alone(rows [][]string, i int) bool {
	row := rows[i]
	at := r.only(row)
	if at < 0 || slices.ContainsFunc(row[at+1:], func(c string) bool { return c != "" }) || sums(row[at]) || strings.ContainsAny(row[at][:1], "0123456789") {
		return false
	}
	if i+1 >= len(rows) || blank(rows[i+1]) || !r.figures(rows[i+1]) {
		return false
	}
	name, _ := r.cell(rows[i-min(i, 1)], Item)
	apart := i == r.first || i > 0 && (blank(rows[i-1]) || sums(name))
	return apart || strings.HasSuffix(row[at], ":") || len(row[at]) > 3 && strings.ToUpper(row[at]) == row[at] && strings.ToLower(row[at]) != row[at]
}

// begin begins a section: a pack, or a compartment of the pack before.
func (r *reading) begin(name string) {
	r.section++
	if r.packs && isPack(name) {
		r.bag, r.pocket = name, ""
		return
	}
	r.pocket = name
}

func (r *reading) tell(to *[]Told, row, col int, format string, args ...any) {
	*to = append(*to, Told{Cell(row, col), fmt.Sprintf(format, args...)})
}

func (r *reading) sum(i int, row []string, name string) {
	for _, role := range []Role{Total, Each} {
		text, u, at := r.massCell(row, role)
		if at < 0 {
			continue
		}
		m, _, grain, err := r.commas.mass(text, u)
		if err != nil {
			r.tell(&r.Open, i, at, "%s", err)
			return
		}
		if r.summed++; r.summed == mostSums+1 {
			r.tell(&r.Open, i, at, "only the first %d sums are looked at", mostSums)
		}
		if r.summed > mostSums {
			return
		}
		r.totals = append(r.totals, sumRow{i, at, m, grain, r.section, r.bag, grand(name)})
		return
	}
}

func (r *reading) thing(i int, row []string, name string, at int) {
	t := &Thing{Row: i, totalAt: -1, atIn: -1}
	n := ""
	n, t.Name = counted(words.Clean(name))
	if text, c := r.cell(row, Count); text != "" && !slices.Contains(notKnown, strings.ToLower(text)) {
		if n != "" && n != text {
			r.tell(&r.Taken, i, at, "%q says %s, and its own column %q; the column counts", name, n, text)
		}
		n = text
		if f := countCell.FindStringSubmatch(text); f != nil {
			n = f[1]
		} else {
			r.tell(&r.Open, i, c, "%q is no whole number; count is left out", text)
			n = ""
		}
	}
	t.Count, _ = strconv.ParseInt(n, 10, 64)
	if n != "" && t.Count == 0 {
		r.tell(&r.Open, i, at, "there are 0 of %q, so it is left out", t.Name)
		return
	}
	r.masses(t, row)
	r.day(t, row)
	t.Pack, _ = r.cell(row, Pack)
	t.Place, _ = r.cell(row, Place)
	t.Pack, t.Place = cmp.Or(t.Pack, r.bag, r.o.Pack, "pack"), cmp.Or(t.Place, r.pocket, "main")
	if who, _ := r.cell(row, Carrier); who != "" && r.carriers[t.Pack] == "" {
		r.carriers[t.Pack] = who
	}
	for _, c := range r.Columns {
		if c.At < len(row) && row[c.At] != "" && (c.Role == "" || c.Role == Note) {
			t.Notes = append(t.Notes, words.Clean(strings.TrimPrefix(c.Head+": "+row[c.At], ": ")))
		}
	}
	if r.Things >= mostThings {
		r.beyond++
		return
	}
	r.sectionOf[t] = r.section
	r.things = append(r.things, t)
	r.place(t)
	r.Things++
}

func (r *reading) masses(t *Thing, row []string) {
	if text, u, at := r.massCell(row, Each); at >= 0 {
		m, said, grain, err := r.commas.mass(text, u)
		if err != nil {
			r.tell(&r.Open, t.Row, at, "%s; its mass is left out", err)
		} else if m > 0 {
			t.each, t.Mass, t.grain, t.atIn = m, said, grain, at
		}
	}
	if text, u, at := r.massCell(row, Total); at >= 0 {
		m, said, grain, err := r.commas.mass(text, u)
		switch {
		case err != nil:
			r.tell(&r.Open, t.Row, at, "%s", err)
		case m > 0:
			t.total, t.totalGrain, t.totalAt = m, grain, at
			if t.atIn < 0 && t.Count <= 1 {
				t.each, t.Mass, t.grain, t.atIn = m, said, grain, at
			} else if t.atIn < 0 {
				t.share(m, grain, at)
			}
		}
	}
}

// share makes the mass of one piece of that of all.
func (t *Thing) share(all, grain unit.Mass, at int) {
	n := max(1, t.Count)
	t.each = all / unit.Mass(n)
	t.grain, t.atIn = grain/unit.Mass(n), at
	t.Mass = strings.TrimRight(strings.TrimRight(big.NewRat(int64(all), n*1_000_000).FloatString(3), "0"), ".") + " g"
	if m, err := unit.ParseMass(t.Mass); err == nil {
		t.each = m
	}
	if t.each == 0 {
		t.Mass, t.atIn = "", -1
	}
}

func (r *reading) day(t *Thing, row []string) {
	text, at := r.cell(row, Expires)
	if text == "" || slices.Contains(notKnown, strings.ToLower(text)) {
		return
	}
	_, err := unit.ParseDate(text)
	if err == nil {
		t.Expires = text
		return
	}
	var ue *unit.Error
	if errors.As(err, &ue) && len(ue.Offers) == 1 {
		if _, err := unit.ParseDate(ue.Offers[0]); err == nil {
			t.Expires = ue.Offers[0]
			if !strings.Contains(text, ue.Offers[0][:4]) || len(strings.FieldsFunc(text, func(r rune) bool { return r == '/' || r == '.' || r == '-' || r == ' ' })) < 3 {
				r.tell(&r.Taken, t.Row, at, "%q is taken for %s", text, t.Expires)
			}
			return
		}
	}
	r.tell(&r.Open, t.Row, at, "%s; expires is left out", err)
}

// place puts a thing into its pack and compartment, and gives it a key of its own there.
func (r *reading) place(t *Thing) {
	i := slices.IndexFunc(r.Bags, func(b *Bag) bool { return b.Name == t.Pack })
	if i < 0 {
		i, r.Bags = len(r.Bags), append(r.Bags, &Bag{Name: t.Pack, Key: r.keys.free("", t.Pack, "pack")})
	}
	b := r.Bags[i]
	b.Carrier = r.carriers[t.Pack]
	j := slices.IndexFunc(b.Places, func(p Pocket) bool { return p.Name == t.Place })
	if j < 0 {
		j, b.Places = len(b.Places), append(b.Places, Pocket{Name: t.Place, Key: r.keys.free(b.Key, t.Place, "main")})
	}
	p := &b.Places[j]
	t.Key = r.keys.free(b.Key+"/"+p.Key, t.Name, "thing")
	p.Things = append(p.Things, t)
}

// mostKey is how long a key made of a name may be.
const mostKey = 40

// keys are those that are given in each place, with how often their beginning was wanted.
type keys map[string]int

// free is a key in a place, made of a name, that is not given yet.
func (k keys) free(in, name, without string) string {
	key := load.PlainName(name)
	if len(key) > mostKey {
		key = strings.TrimRight(key[:mostKey], "_")
		if i := strings.LastIndex(key, "_"); i > mostKey/2 {
			key = key[:i]
		}
	}
	key = cmp.Or(key, without)
	for base := key; ; {
		n := k[in+"/"+base] + 1
		k[in+"/"+base] = n
		if n == 1 {
			return key
		}
		key = base + "_" + strconv.Itoa(n)
		if k[in+"/"+key] == 0 {
			k[in+"/"+key] = 1
			return key
		}
	}
}

// guess finds what names say, where a word of the vocabulary is sure of it and no amount would be made up.
func (r *reading) guess() {
	names, keys := make([]string, len(r.things)), make([]string, len(r.things))
	for i, t := range r.things {
		names[i], keys[i] = t.Name, t.Key
	}
	var own []string
	for _, who := range r.carriers {
		own = append(own, who)
	}
	slices.Sort(own)
	for i, g := range vocabulary.Guesses(names, keys, nil, own) {
		if !g.Sure || !strings.HasPrefix(g.Write, "can: ") && !strings.HasPrefix(g.Write, "documents: ") {
			continue
		}
		if can := first(g.Write); !strings.Contains(can, "…") {
			r.things[i].Guess = can
		}
	}
}

// first is the first field of what a family writes, without what else is to be written of such a thing, as what a stove burns.
func first(write string) string {
	if i := strings.IndexByte(write, '}'); strings.HasPrefix(write, "can: {") && i > 0 {
		return write[:i+1]
	}
	if strings.HasPrefix(write, "documents: ") {
		return write
	}
	can, _, _ := strings.Cut(write, ", ")
	return can
}

func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
