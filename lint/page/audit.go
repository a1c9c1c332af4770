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
	"strings"
	"sync"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/unit"
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
var auditPages = sync.OnceValue(func() *template.Template {
	return template.Must(template.Must(template.New("audit").Funcs(functions).Parse(auditHTML)).Parse(householdHTML))
})

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
	// Brief has the page print a wall sheet and a page for each household where nobody chooses otherwise on it.
	Brief bool
}

// book is an audit being written.
type book struct {
	*audit.Audit
	limits map[string][]finding.Limit
	// rows are everybody's, in order.
	rows []row
	// fixes are those of the rules; plan gathers what to do.
	fixes map[string]finding.Fix
	plan  *audit.Plan
	// units are those of what is said of several households: US units where most write them.
	units unit.System
	// plans counts how long the plans are, in minutes; dues is what falls due.
	plans map[int64]int
	dues  []dueOf
	// seen are the subjects in which a household has something open.
	seen  []bool
	sizes []int64
	// objects are the rules that objected to a household.
	objects map[string]bool
	// names counts what households are called, of all and in each village.
	names map[string]int
	now   trendState
	// nowhere counts paths that lead to no household.
	nowhere int
	// before is how households stood, by path; states count everybody, by day.
	before map[string][]finding.Trend
	states map[string]*trendState
}

// Audit writes an audit: the answer, everybody, what to do first, what falls due, each household, and how it was judged.
func Audit(a *audit.Audit, o Options) error {
	b := &book{
		Audit: a, names: map[string]int{}, limits: map[string][]finding.Limit{}, seen: make([]bool, len(audit.Subjects)), objects: map[string]bool{},
		fixes: audit.Fixes(a.Run.Rules), plan: audit.NewPlan(a.Run.Rules, len(a.Run.Households) == 1), plans: map[int64]int{},
	}
	us := 0
	for i := range a.Run.Households {
		h := &a.Run.Households[i]
		if h.Units == unit.US {
			us++
		}
		b.names[title(h)]++
		b.names[village(h)+"\x00"+title(h)]++
	}
	if us*2 > len(a.Run.Households) {
		b.units = unit.US
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
	if err := b.main(spool, o, split); err != nil || !split {
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
		by, course, tasks := h.BySubject(), b.course(h), h.Tasks(b.fixes)
		b.row(h, tasks, by)
		b.plan.Add(h, tasks)
		if h.Sheet != nil {
			b.gatherDue(h.Sheet)
		}
		for i := range h.Findings {
			b.note(&h.Findings[i])
		}
		buf.Reset()
		if err := auditPages().ExecuteTemplate(&buf, "household", b.section(h, tasks, course)); err != nil {
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
		if l.Layer != "household" && !l.List && !slices.ContainsFunc(b.limits[f.Rule], func(x finding.Limit) bool { return x.Name == l.Name }) {
			b.limits[f.Rule] = append(b.limits[f.Rule], l)
		}
	}
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
	Title       string
	Generator   string
	CSS, Script string
	Made        made
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
		f.Script, f.Policy = pageJS, template.HTML(scriptPolicy)
	}
	return f
}

// front is the page of everybody.
type front struct {
	frame
	Nav []link
	// Choice is what may be printed beside everything; Sheet says that it is, where nobody chooses.
	Choice            string
	Sheet             bool
	Class, Kick, Wall string
	Answer, Way       string
	Remarks           []string
	Counts            []standing
	Away              []far
	Key               []string
	Waived, Unknown   bool
	Plan, Due         string
	Heads             []string
	Steps             *firstSteps
	Weeks             *weeks
	Trend             *trend
}

// standing counts the households of one.
type standing struct {
	Standing audit.Standing
	N        int
}

// villageHead is the row over a village.
type villageHead struct {
	Name, Says string
	Columns    int
}

// main writes the page of everybody: all of the audit, or the index of one that is split.
func (b *book) main(spool *os.File, o Options, split bool) error {
	out, err := o.Create(AuditPage)
	if err != nil {
		return err
	}
	w := &writer{w: out}
	for i := range b.rows {
		b.rows[i].Href = "#" + b.rows[i].ID
		if split {
			b.rows[i].Href = HouseholdPages + "/" + b.rows[i].ID + ".html"
		}
	}
	f := b.front(o.Brief, split)
	w.page("front", f)
	show := b.columns()
	wide, columns := len(f.Heads)*skyStep, 8
	if f.Due == "" {
		columns--
	}
	for _, v := range b.villages() {
		w.page("village", villageHead{v.Name, words.Count(len(v.Rows), "household"), columns})
		for _, r := range v.Rows {
			r.Sky, r.Wide, r.DueHead = r.Sky.drawn(r.by, show), wide, f.Due
			if f.Due == "" { // others hear of no dates
				r.Due = ""
			}
			w.page("row", r)
		}
		w.text("</tbody>\n")
	}
	w.page("after", f)
	if !split {
		if _, err := spool.Seek(0, io.SeekStart); err != nil {
			return err
		}
		w.text(`<section id="households"><h2 class=v>Households</h2></section>` + "\n")
		w.copy(spool)
	}
	w.page("rules", b.rules())
	w.page("foot", f)
	return w.close(out)
}

// front gathers what stands on the page of everybody.
func (b *book) front(brief, split bool) *front {
	f := &front{
		frame: b.frame(b.title(), true), Choice: "wall sheet and a page each", Sheet: brief,
		Away: b.away(), Steps: b.steps(), Weeks: b.weeks(), Trend: b.trend(), Class: "few", Plan: "plan",
	}
	if b.now.Households != 1 { // of one the headline says it
		f.Counts = []standing{{audit.Ready, b.now.Ready}, {audit.NotReady, b.now.NotReady}, {audit.Unjudged, b.now.Unjudged}}
	}
	if split {
		f.Choice = "wall sheet alone"
	}
	if len(b.rows) > rowsApart {
		f.Class = "many"
	}
	on, until := b.shortDate(b.OnDay), b.shortDate(b.UntilDay)
	y, _, _ := civil(b.OnDay)
	f.Kick = fmt.Sprintf("Audit as of %s %d, dates until %s", on, y, until)
	f.Wall = audit.Under(words.Clean(b.Season), cleaned(b.Standards)) + "; this advises, it does not certify"
	if f.Answer, f.Way = b.headline(); b.Run.Partial != "" {
		f.Remarks = append(f.Remarks, "This is not all: "+words.Clean(b.Run.Partial)+".")
	}
	if text := strings.TrimPrefix(audit.Nowhere(b.nowhere), "; "); text != "" {
		f.Remarks = append(f.Remarks, text+".")
	}
	if b.Run.Shared != "" {
		f.Remarks = append(f.Remarks, "Share-safe: households have pseudonyms.")
		f.Remarks = append(f.Remarks, b.Run.Remarks...)
	}
	if len(b.plans) == 1 {
		for m := range b.plans {
			f.Plan = fmt.Sprintf("%d h", (m+59)/60)
		}
	}
	f.Key = []string{"Load: who is nearest the cap; striped is over.", "Water: solid is carried, lined comes from the way.", "Food: solid is in date, lined is past its date."}
	if b.Run.Shared != "" {
		f.Key = f.Key[1:2]
	} else if f.Due = "Due in 8 weeks"; b.UntilDay < b.OnDay+ahead {
		f.Due = "Due by " + until
	}
	for i, show := range b.columns() {
		if show {
			f.Heads = append(f.Heads, heads[i])
		}
	}
	for i := range b.rows {
		r := &b.rows[i]
		f.Unknown = f.Unknown || r.Sky.Unknown
		for _, t := range r.by {
			_, n := t.Worst()
			f.Waived = f.Waived || n == 0 && t.Waived > 0
		}
	}
	for _, n := range []struct {
		there      bool
		href, name string
	}{
		{true, "#everybody", "Everyone"}, {f.Steps != nil, "#first", "Do first"}, {f.Weeks != nil, "#due", "What falls due"}, {f.Trend != nil, "#trend", "How it went"}, {!split, "#households", "Households"},
		{true, "#rules", "Rules"}, {true, "#made", "How judged"},
	} {
		if n.there {
			f.Nav = append(f.Nav, link{n.href, n.name})
		}
	}
	return f
}

// cleaned are standards whose names hold nothing that is not seen.
func cleaned(all []audit.StandardID) []audit.StandardID {
	out := make([]audit.StandardID, len(all))
	for i, s := range all {
		out[i] = audit.StandardID{Name: words.Clean(s.Name), Version: words.Clean(s.Version)}
	}
	return out
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
		if len(b.rows) > rowsApart { // folded where it would stand among others
			section = bytes.Replace(section, []byte(`<details class="hh`), []byte(`<details open class="hh`), 1)
		}
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

// columns says which subjects the rows show: all of the base's, and others where some household has something open.
func (b *book) columns() []bool {
	show := slices.Clone(b.seen)
	for i := range audit.Subjects[:len(audit.Subjects)-3] {
		show[i] = true
	}
	return show
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
		w.err = auditPages().ExecuteTemplate(w.w, name, data)
	}
}

func (w *writer) text(s string) {
	if w.err == nil {
		_, w.err = io.WriteString(w.w, s)
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
