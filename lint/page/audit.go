package page

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/words"
)

var (
	//go:embed audit.html
	auditHTML string
	//go:embed household.html
	householdHTML string
	//go:embed audit.css
	auditCSS string
)

// auditPages are the templates of an audit.
var auditPages = template.Must(template.Must(template.New("audit").Funcs(functions).Parse(auditHTML)).Parse(householdHTML))

const (
	// AuditPage is the file of an audit; where it would be too large, it is an index, and each household has a file of
	// its own in the folder HouseholdPages.
	AuditPage      = "audit.html"
	HouseholdPages = "households"
	// usualMost is how large an audit may be in one file, in bytes. Our own figure: it opens in under two seconds.
	usualMost = 14_800_000
)

// Options say how an audit is written.
type Options struct {
	// Create makes a file of the audit; its name has forward slashes.
	Create func(name string) (io.WriteCloser, error)
	// Spool makes the file that households wait in until it is known whether they all go into one.
	Spool func() (*os.File, error)
	// Most is how large the audit may be in one file, in bytes; 0 is the usual size.
	Most int64
}

// book is an audit being written.
type book struct {
	*audit.Audit
	limits map[string][]finding.Limit
	// rows are those of the glance.
	rows []row
	// seen are the subjects in which a household has something open.
	seen  []bool
	sizes []int64
	// objects are the rules that objected to a household.
	objects map[string]bool
	// names counts what households are called.
	names map[string]int
	now   trendState
	// nowhere counts paths that lead to no household.
	nowhere int
	// before is how households stood, by path; states count everybody, by day.
	before map[string][]finding.Trend
	states map[string]*trendState
}

// Audit writes an audit: everybody at a glance, what to do first, each household, and the rules that object.
func Audit(a *audit.Audit, o Options) error {
	b := &book{Audit: a, names: map[string]int{}, limits: map[string][]finding.Limit{}, seen: make([]bool, len(audit.Subjects)), objects: map[string]bool{}}
	for i := range a.Run.Households {
		b.names[title(&a.Run.Households[i])]++
	}
	spool, err := o.Spool()
	if err != nil {
		return err
	}
	defer spool.Close()
	b.remember()
	if err := b.households(spool); err != nil {
		return err
	}
	var all int64
	for _, n := range b.sizes {
		all += n
	}
	most := o.Most
	if most == 0 {
		most = usualMost
	}
	split := all+int64(len(b.rows))*rowBytes > most
	if err := b.main(spool, o.Create, split); err != nil || !split {
		return err
	}
	return b.apart(spool, o.Create)
}

// rowBytes is about what a household takes in the glance.
const rowBytes = 1200

// households renders everybody into the spool, and keeps what the rest of the audit needs.
func (b *book) households(spool *os.File) error {
	var buf bytes.Buffer
	for h, err := range b.Households {
		if err != nil {
			return err
		}
		by, course := h.BySubject(), b.course(h)
		b.row(h, by, course)
		for i := range h.Findings {
			b.note(&h.Findings[i])
		}
		buf.Reset()
		if err := auditPages.ExecuteTemplate(&buf, "household", b.section(h, by, course)); err != nil {
			return err
		}
		b.sizes = append(b.sizes, int64(buf.Len()))
		if _, err := spool.Write(buf.Bytes()); err != nil {
			return err
		}
	}
	return nil
}

// note keeps that a rule objects to something, and the standard's limits that it goes by.
func (b *book) note(f *finding.Finding) {
	b.objects[f.Rule] = true
	for _, l := range f.Limits {
		if l.Layer != "household" && !slices.ContainsFunc(b.limits[f.Rule], func(x finding.Limit) bool { return x.Name == l.Name }) {
			b.limits[f.Rule] = append(b.limits[f.Rule], l)
		}
	}
}

// row is a household at a glance.
type row struct {
	ID, Href, Name, Path, Class, Standing string
	Rank                                  int
	Figures                               []figure
	Cells                                 []cell
}

// figure is a number of the glance; without Label there is none.
type figure struct {
	Label, Text string
	Value       int64
}

// cell is one subject of a household.
type cell struct {
	Class, Label, Word string
	N                  int
	// Open is what stands where nothing is open, "" a dot.
	Open string
}

func (b *book) row(h *audit.Audited, by []audit.SubjectTally, course *course) {
	st := h.Standing()
	r := row{ID: anchor(&h.Household), Name: title(&h.Household), Class: standings[st].class, Standing: string(st)}
	if b.names[r.Name] > 1 {
		r.Path = words.Clean(h.Household.Path)
	}
	switch st {
	case audit.NotReady:
		r.Rank = 1
	case audit.Unjudged:
		r.Rank = 2
	}
	now := h.Trend()
	if h.Nowhere {
		b.nowhere++
	} else {
		b.now.add(&now)
	}
	r.Figures = b.figures(h, course)
	for i, t := range by {
		var c cell
		if level, n := t.Worst(); n > 0 {
			c = cell{Class: classes[level], N: n, Word: words.Noun(n, string(level))}
		} else if t.Waived > 0 {
			c = cell{Class: "a", N: t.Waived, Word: "waived"}
		}
		if c.Class == "" && st == audit.Unjudged {
			c.Open = "?"
		}
		if c.Class != "" {
			c.Label = "in " + audit.Subjects[i].Name
			b.seen[i] = true
		}
		r.Cells = append(r.Cells, c)
	}
	b.rows = append(b.rows, r)
}

// figures are the numbers of a household at a glance, in the order of their heads.
func (b *book) figures(h *audit.Audited, course *course) []figure {
	var load, carried, found, due, then figure
	if s := h.Sheet; s != nil {
		if s.LoadP > 0 {
			load = figure{"heaviest load at the start", share(s.LoadP), s.LoadP}
		}
		if s.WaterKnown {
			carried = figure{"of water as carried", fmt.Sprintf("%d h", s.CarriedHours), s.CarriedHours}
			found = figure{"of water with what is found", fmt.Sprintf("%d h", s.WaterHours), s.WaterHours}
		}
		within, _ := s.DueWithin(b.OnDay, b.UntilDay)
		due = figure{"due", strconv.Itoa(len(within)), int64(len(within))}
	}
	out := []figure{load, carried, found}
	if b.Run.Shared == "" {
		out = append(out, due)
	}
	if b.History != nil {
		if course != nil {
			then = figure{"errors then and now", course.Rows[0].Errors + " → " + course.Rows[len(course.Rows)-1].Errors, int64(h.Summary.Errors)}
		}
		out = append(out, then)
	}
	return out
}

// ruleID names a rule in links.
func ruleID(rule string) string {
	return "r-" + strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			return c
		case c == '/':
			return '_'
		case c == ':':
			return '.'
		}
		return '-'
	}, rule)
}

// made says what an audit was made of.
type made struct {
	On, Until, Season, Version, Shared, Against string
	Standards                                   []audit.StandardID
}

// frame is what every page of an audit has around it.
type frame struct {
	Policy      template.HTML
	Title, Says string
	Generator   string
	CSS, Script string
	Made        made
	Remarks     []string
	First       *first
	Trend       *trend
	Heads       []string
	Figures     int
	Care        []string
}

func (b *book) frame(title string, script bool) frame {
	f := frame{
		Title: title, Generator: Generator, CSS: pageCSS + auditCSS, Care: Cautions,
		Made: made{b.Run.On, b.Until, words.Clean(b.Season), words.Clean(b.Run.Version), b.Run.Shared, strings.Join(b.Against, ", "), b.Standards},
	}
	if b.Run.Shared != "" {
		f.Generator = SharedGenerator
	}
	if script {
		f.Script, f.Policy = sortJS, template.HTML(scriptPolicy)
	}
	return f
}

// main writes the page of everybody: all of the audit, or the index of one that is split.
func (b *book) main(spool *os.File, create func(string) (io.WriteCloser, error), split bool) error {
	out, err := create(AuditPage)
	if err != nil {
		return err
	}
	w := &writer{w: out}
	f := b.frame(b.title(), true)
	f.Says = b.says()
	if b.Run.Partial != "" {
		f.Remarks = append(f.Remarks, "This is not all: "+words.Clean(b.Run.Partial)+".")
	}
	f.First, f.Trend = b.first(), b.trend()
	show := b.columns()
	f.Heads = []string{"load at the start", "water, as carried", "water, with found"}
	if b.Run.Shared == "" {
		f.Heads = append(f.Heads, "due by "+b.Until)
	}
	if b.History != nil {
		f.Heads = append(f.Heads, "errors then and now")
	}
	f.Figures = len(f.Heads)
	for i, s := range audit.Subjects {
		if show[i] {
			f.Heads = append(f.Heads, s.Name)
		}
	}
	w.page("front", f)
	for _, r := range b.rows {
		r.Href = "#" + r.ID
		if split {
			r.Href = HouseholdPages + "/" + r.ID + ".html"
		}
		cells := r.Cells
		r.Cells = nil
		for i, c := range cells {
			if show[i] {
				r.Cells = append(r.Cells, c)
			}
		}
		w.page("row", r)
	}
	w.page("glanced", nil)
	if !split {
		if _, err := spool.Seek(0, io.SeekStart); err != nil {
			return err
		}
		w.copy(spool)
	}
	w.page("rules", b.rules())
	w.page("foot", f)
	return w.close(out)
}

// Generators mark what this program has written: an audit, and one that may be shown to others.
const (
	Generator       = "kitmuster audit"
	SharedGenerator = "kitmuster audit for others"
)

// WrittenBy says which of the two wrote a page that begins so; "" is neither.
func WrittenBy(begins []byte) string {
	for _, g := range []string{Generator, SharedGenerator} {
		if bytes.Contains(begins, []byte(`<meta name="generator" content="`+g+`">`)) {
			return g
		}
	}
	return ""
}

// householdPage is what a page of a household is called.
var householdPage = regexp.MustCompile(`^h-[0-9a-f]{24}\.html$`)

// IsHousehold reports whether a file is the page of a household of a split audit, by its name and how it begins.
func IsHousehold(name string, begins []byte) bool {
	return householdPage.MatchString(path.Base(filepath.ToSlash(name))) && WrittenBy(begins) != ""
}

// apart writes a page for each household.
func (b *book) apart(spool *os.File, create func(string) (io.WriteCloser, error)) error {
	var at int64
	for i, r := range b.rows {
		out, err := create(HouseholdPages + "/" + r.ID + ".html")
		if err != nil {
			return err
		}
		w := &writer{w: out}
		f := b.frame(r.Name, false)
		w.page("alone", f)
		section := make([]byte, b.sizes[i])
		if _, err := spool.ReadAt(section, at); err != nil {
			return err
		}
		at += b.sizes[i]
		// What is explained on the page of everybody is linked there. No text can hold this: a quotation mark in it is an escape.
		w.copy(bytes.NewReader(bytes.ReplaceAll(section, []byte(` href="#`), []byte(` href="../`+AuditPage+`#`))))
		w.page("foot", f)
		if err := w.close(out); err != nil {
			return err
		}
	}
	return nil
}

// title says whom the audit is of.
func (b *book) title() string {
	if len(b.rows) == 1 {
		return "Audit of " + b.rows[0].Name
	}
	return "Audit of " + words.Count(b.now.Households, "household")
}

func (b *book) says() string {
	return fmt.Sprintf("As of %s: %d ready, %d not ready, %d only partly checked%s.", b.Run.On, b.now.Ready, b.now.NotReady, b.now.Unjudged, audit.Nowhere(b.nowhere))
}

// columns are the subjects that the glance shows: all of the base's, and others where somebody has something open there.
func (b *book) columns() []bool {
	show := slices.Clone(b.seen)
	for i := range audit.Subjects[:len(audit.Subjects)-3] {
		show[i] = true
	}
	return show
}

// first is what to do first.
type first struct {
	How   string
	Lists []firstList
	Notes []string
}

type firstList struct {
	Caption, Then string
	Masses        bool
	Steps         []step
	More          string
}

type step struct {
	N, Households, Ready, Findings, Rank int
	ID, Rule, Remedy, Work, Mass, NoRoom string
	MassMG                               int64
}

// lists say what a level is for, and what is counted after each step.
var lists = map[finding.Level]struct{ caption, then string }{
	finding.Error: {"errors, which keep households from being ready", "ready then"}, finding.Warning: {"warnings", "without warnings then"},
}

func (b *book) first() *first {
	if len(b.First) == 0 {
		return nil
	}
	masses := b.Run.Shared == ""
	f := &first{How: "Next comes what the household needs after which most are clear for each rule that is seen to; of its rules, the one that most households have open, then the lightest work"}
	if masses {
		f.How += ", then the least mass, what is not known last"
	}
	f.How += "."
	for _, l := range b.First {
		list := firstList{Caption: lists[l.Level].caption, Then: lists[l.Level].then, Masses: masses}
		for i, s := range l.Steps {
			x := step{
				N: i + 1, ID: ruleID(s.Rule.Name), Rule: words.Clean(s.Rule.Name), Remedy: s.Rule.Remedy, Households: s.Households, Ready: s.Clear, Findings: s.Findings,
				Rank: s.Rule.Mend.Work.Rank(), Work: s.Rule.Mend.Work.Words(), MassMG: s.MassMG, Mass: "not known",
			}
			switch {
			case !s.MassKnown:
				x.MassMG = -1 << 40
			case s.MassMG > 0:
				x.Mass = "+" + mass(s.MassMG)
			case s.MassMG < 0:
				x.Mass = "−" + mass(-s.MassMG)
			default:
				x.Mass = "none"
			}
			if s.NoRoom > 0 {
				x.NoRoom = fmt.Sprintf("no room left below the caps in %d", s.NoRoom)
			}
			list.Steps = append(list.Steps, x)
		}
		if l.More > 0 {
			list.More = fmt.Sprintf("And %s with %ss, less urgent by that order.", words.Count(l.More, "more rule"), l.Level)
		}
		f.Lists = append(f.Lists, list)
	}
	f.Notes = append(f.Notes, "Work is what a rule's remedy names first; a household may need more, or less where one deed mends the findings of several rules, which are counted apart here.")
	if masses {
		f.Notes = append(f.Notes, "Mass is worked out from what the rules say is lacking: a litre of water is a kilogram, food is as dense as that of these kits, and one more thing weighs what the middle one of such things in these kits does. Where a rule states no amount it is not known. What is added can bring somebody over the cap, and what is left behind can be missing: check again.")
	}
	return f
}

// ruleText is a rule among those that object.
type ruleText struct {
	ID     string
	Rule   finding.Rule
	Limits []finding.Limit
}

func (b *book) rules() (out []ruleText) {
	for _, r := range b.Run.Rules {
		if b.objects[r.Name] {
			out = append(out, ruleText{ruleID(r.Name), r, b.limits[r.Name]})
		}
	}
	return out
}

// writer writes pages until something fails.
type writer struct {
	w   io.Writer
	err error
}

func (w *writer) page(name string, data any) {
	if w.err == nil {
		w.err = auditPages.ExecuteTemplate(w.w, name, data)
	}
}

func (w *writer) copy(r io.Reader) {
	if w.err == nil {
		_, w.err = io.Copy(w.w, r)
	}
}

func (w *writer) close(c io.Closer) error {
	if err := c.Close(); w.err == nil {
		w.err = err
	}
	return w.err
}
