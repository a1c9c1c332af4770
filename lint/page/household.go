package page

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// section is one household as its template shows it.
type section struct {
	ID, Name, Path                string
	Class, Mark, Standing, Counts string
	Remarks                       []string
	Groups                        []group
	Loads                         []load
	Endurance                     *endurance
	Able                          *able
	Due                           *due
	Waivers                       []waiver
	Practice                      []string
	Course                        *course
}

// standings are the classes and shapes of what is said of a household.
var standings = map[audit.Standing]struct{ class, mark string }{
	audit.Ready: {"ok", "✓"}, audit.NotReady: {"e", "▲"}, audit.Unjudged: {"u", "?"},
}

// anchor names a household in links: by its folder, so that a link goes on working.
func anchor(h *finding.Household) string {
	sum := sha256.Sum256([]byte(h.Path))
	return "h-" + hex.EncodeToString(sum[:12])
}

// How many letters of a name are shown: of a household's, and of a person's over a column. Our own figures.
const (
	longest     = 100
	longestHead = 20
)

func cut(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// title is what a household is called: by its name, else by its folder.
func title(h *finding.Household) string {
	return cut(finding.Title(h.Name, h.Path), longest)
}

func (b *book) section(h *audit.Audited, by []audit.SubjectTally, course *course) *section {
	st := h.Standing()
	s := &section{
		ID: anchor(&h.Household), Name: title(&h.Household), Class: standings[st].class, Mark: standings[st].mark, Standing: string(st),
		Counts: counts(h.Summary), Groups: b.groups(h),
	}
	if p := words.Clean(h.Household.Path); p != s.Name {
		s.Path = p
	}
	if h.Summary.Errors > 0 {
		var in []string
		for i, t := range by {
			if t.Errors > 0 {
				in = append(in, audit.Subjects[i].Name)
			}
		}
		s.Remarks = append(s.Remarks, "What keeps it from being ready: "+strings.Join(in, ", ")+".")
	}
	if st == audit.Unjudged {
		s.Remarks = append(s.Remarks, "Something of it could not be judged; once that is corrected, more may show.")
	}
	if day := h.LeansUntil(); day != "" && st == audit.Ready {
		text := "It is ready because an error is waived, until " + day + "."
		if day <= b.Until {
			text = "It is ready only because an error is waived, and that ends on " + day + ", before " + b.Until + "."
		}
		s.Remarks = append(s.Remarks, text)
	}
	s.Course = course
	if h.Sheet == nil {
		return s
	}
	if s.Loads = b.loads(h.Sheet); len(s.Loads) == 0 {
		s.Remarks = append(s.Remarks, "Nobody bears a pack, so there is no load.")
	}
	s.Endurance = b.endurance(h.Sheet)
	if s.Able = b.able(h.Sheet); s.Able == nil {
		s.Remarks = append(s.Remarks, "Of nothing that they have is it written what it can do.")
	}
	if b.Run.Shared == "" {
		s.Due, s.Waivers, s.Practice = b.due(h.Sheet), b.waivers(h.Sheet), b.practice(h.Sheet)
	}
	return s
}

// counts says what is open, in words.
func counts(s finding.Summary) string {
	var out []string
	for _, c := range []struct {
		n    int
		word string
	}{{s.Errors, "error"}, {s.Warnings, "warning"}, {s.Notes, "note"}} {
		if c.n > 0 {
			out = append(out, words.Count(c.n, c.word))
		}
	}
	text := strings.Join(out, ", ")
	if text == "" {
		text = "nothing is open"
	}
	if s.Waived > 0 {
		text += fmt.Sprintf("; %d waived", s.Waived)
	}
	return text
}

// group is what one rule says of a household, of one level and all waived or none.
type group struct {
	Level           finding.Level
	Rule, Href, key string
	Waived          bool
	Findings        []said
	Remedy, Caution string
	Limits          string
}

type said struct {
	Text, At, Because, Waived string
}

// groups puts findings of one rule together, the gravest first and what is waived last.
func (b *book) groups(h *audit.Audited) (out []group) {
	for i := range h.Findings {
		f := &h.Findings[i]
		waived := f.Waived != nil
		k := slices.IndexFunc(out, func(g group) bool { return g.key == f.Rule && g.Level == f.Level && g.Waived == waived })
		if k < 0 {
			k = len(out)
			out = append(out, group{key: f.Rule, Level: f.Level, Rule: words.Clean(f.Rule), Href: "#" + ruleID(f.Rule), Waived: waived, Remedy: words.Clean(f.Remedy), Caution: words.Clean(f.Caution), Limits: limits(f.Limits)})
		}
		s := said{Text: words.Clean(f.Message), At: place(f.At)}
		var because []string
		for _, c := range f.Because {
			because = append(because, words.Clean(c.Message))
		}
		s.Because = strings.Join(because, "; ")
		if w := f.Waived; waived && w.Until != "" {
			s.Waived = "waived until " + words.Clean(w.Until)
			if w.Agreed != "" {
				s.Waived += ", agreed by " + words.Clean(w.Agreed)
			}
			s.Waived += ": " + words.Clean(w.Reason)
		}
		out[k].Findings = append(out[k].Findings, s)
	}
	rank := func(g group) int {
		if g.Waived {
			return 0
		}
		return g.Level.Rank()
	}
	slices.SortStableFunc(out, func(a, b group) int { return cmp.Compare(rank(b), rank(a)) })
	return out
}

func limits(ls []finding.Limit) string {
	var out []string
	for _, l := range ls {
		text := fmt.Sprintf("limit %s = %s (%s)", words.Clean(l.Name), words.Clean(l.Value), words.Clean(l.Layer))
		if l.At.Known() {
			text += " " + place(l.At)
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// load is what one person or animal carries.
type load struct {
	Name, Says string
	Bar        *bar
	Parts      []part
}

type part struct {
	Name, Mass, Reach string
}

func (b *book) loads(s *audit.Sheet) (out []load) {
	if b.Run.Shared != "" {
		if s.LoadP > 0 {
			out = append(out, load{Name: "heaviest load", Says: share(s.LoadP) + " of its bearer's body mass"})
		}
		return out
	}
	for i := range s.Bearers {
		x := &s.Bearers[i]
		l := load{Name: words.Clean(x.Name), Bar: newBar(x)}
		of := int64(0)
		if x.BodyMG > 0 {
			of = unit.PermilleUp(x.LoadMG, x.BodyMG)
		}
		l.Says = fmt.Sprintf("%s, %s of %s body mass; the cap, at the thick line, is %s (%s", atLeast(x.LoadLeast, mass(x.LoadMG)), share(of), words.BodyMass(!x.BodyAssumed, x.BodyMG), mass(x.CapMG), share(x.CapP))
		if x.Own {
			l.Says += ", the household's own"
		}
		switch over := x.LoadMG - x.CapMG; {
		case over > 0:
			l.Says += "), " + mass(over) + " less than the load"
		default:
			l.Says += "), with " + mass(-over) + " to spare"
		}
		if x.MostMG > x.LoadMG {
			l.Says += fmt.Sprintf("; on the way at most %s, in hour %d, at the dashed line", mass(x.MostMG), x.MostHour)
		}
		l.Says += fmt.Sprintf(". Base mass %s; worn or pocketed, which is not load, %s.", mass(x.BaseMG), mass(x.OnBodyMG))
		for _, p := range x.Packs {
			l.Parts = append(l.Parts, part{"pack " + words.Clean(p.Name) + ", empty", mass(p.EmptyMG), ""})
			for _, c := range p.Parts {
				l.Parts = append(l.Parts, part{words.Clean(c.Name), mass(c.MassMG), words.Clean(string(c.Reach))})
			}
		}
		out = append(out, l)
	}
	return out
}

// endurance is how long things last.
type endurance struct {
	Plan, Key string
	Panels    []panel
	Amounts   bool
	Stocks    []stock
}

type stock struct {
	Name, Have, Need, Lasts string
	Short                   bool
}

func (b *book) endurance(s *audit.Sheet) *endurance {
	shared := b.Run.Shared != ""
	e := &endurance{Plan: "The plan lasts " + hours(s.Minutes) + ".", Amounts: !shared}
	if !shared {
		from := fmt.Sprintf("%s from %02d:%02d on", unit.Duration(s.Minutes*60), s.Start/60, s.Start%60)
		e.Plan = "The plan lasts " + from
		if s.Assumed {
			e.Plan = "No plan says how long; taken for granted are " + from
		}
		e.Key = "The first strip shows when somebody walks."
		if s.Season == "" {
			e.Plan += "; no season is planned for, so nothing here knows of heat, cold or darkness."
		} else {
			e.Plan += fmt.Sprintf(", in season %s: %s by day, %s by night.", words.Clean(s.Season), unit.Temperature(s.DayMC), unit.Temperature(s.NightMC))
			e.Key += " Dark hours are shaded."
		}
		e.Panels = panels(s)
	}
	if s.WaterKnown && s.FoundML > 0 {
		found := "some is"
		if !shared {
			found = litres(s.FoundML) + " are"
		}
		e.Plan += fmt.Sprintf(" Of water, %s taken on the way and made safe; without that, what is carried lasts %s.", found, words.Count(s.CarriedHours, "hour"))
	}
	end := (s.Minutes + 59) / 60
	for _, x := range s.Stocks {
		kind := x.Kind.Row()
		row := stock{Name: kind.Page}
		if x.Name != "" {
			row.Name = "doses of " + words.Clean(x.Name)
		}
		if x.Of != "" {
			row.Name += ", " + words.Clean(x.Of)
		}
		write := func(n int64) string { return kind.Text(unit.Metric, n) }
		row.Have, row.Need = write(x.Have), write(x.Need)
		switch {
		case !x.Known:
			row.Need, row.Lasts = "not known", "not known"
		case x.Have == 0 && x.Need == 0 && !shared:
			row.Lasts = "none, and none asked"
		case x.Lasts >= end:
			row.Lasts = "to the end"
			if x.Kind == kinds.StockWater && s.FoundML > 0 {
				row.Lasts += ", with what is found on the way"
			}
		case x.Have == 0 && !shared && (x.Kind != kinds.StockWater || s.FoundML == 0):
			row.Short = true
			row.Lasts = fmt.Sprintf("none; first missed in hour %d of %d, %s short in all", x.Lasts, end, write(x.Short))
		default:
			row.Short = true
			row.Lasts = fmt.Sprintf("%d of %d hours", x.Lasts, end)
			if !shared {
				row.Lasts += ", " + write(x.Short) + " short in all"
			}
		}
		if x.Past > 0 && !shared {
			row.Lasts += fmt.Sprintf("; %s of it is past its date, and the rest lasts %s", write(x.Past), words.Count(x.Good, "hour"))
		}
		e.Stocks = append(e.Stocks, row)
	}
	return e
}

// able is who can do what.
type able struct {
	Tables []ableTable
	Points []string
	Notes  []string
}

type ableTable struct {
	Caption string
	Heads   []string
	Rows    []ableRow
}

type ableRow struct {
	Name  string
	Cells []string
}

const (
	// abreast is how many people stand beside each other in a table, so that it fits on a phone; others get one of their own.
	abreast = 5
	// points is how many single points of failure are named; the rest are counted.
	points = 10
)

func (b *book) able(s *audit.Sheet) *able {
	if len(s.Abilities) == 0 {
		return nil
	}
	a := &able{}
	cell := func(n int, hangs bool) string {
		switch {
		case n == 0:
			return "–"
		case hangs:
			return "◆ 1"
		}
		return strconv.Itoa(n)
	}
	if b.Run.Shared != "" {
		t := ableTable{Caption: "what the household as a whole can do", Heads: []string{"household"}}
		for _, x := range s.Abilities {
			t.Rows = append(t.Rows, ableRow{words.Clean(x.Capability.Words()), []string{"yes"}})
		}
		return &able{Tables: []ableTable{t}}
	}
	for from := 0; from == 0 || from < len(s.People); from += abreast {
		to := min(from+abreast, len(s.People))
		t := ableTable{Caption: "means of each, household and everybody alone"}
		if from > 0 {
			t.Caption = "the same for the others"
		} else {
			t.Heads = append(t.Heads, "household")
		}
		for _, p := range s.People[from:to] {
			t.Heads = append(t.Heads, cut(words.Clean(p), longestHead))
		}
		for _, x := range s.Abilities {
			r := ableRow{Name: words.Clean(x.Capability.Words())}
			if from == 0 {
				r.Cells = append(r.Cells, cell(len(x.Means), x.Hangs))
			}
			for i := from; i < to; i++ {
				r.Cells = append(r.Cells, cell(int(x.By[i]), x.HangsBy[i]))
			}
			t.Rows = append(t.Rows, r)
		}
		a.Tables = append(a.Tables, t)
	}
	a.Notes = []string{"Different means of each; ◆ hangs on a single thing, a dash is none. Alone: with what one wears and carries."}
	for i, p := range s.Points {
		if i == points {
			a.Notes = append(a.Notes, fmt.Sprintf("And %s more, each of which is a ◆ above.", words.Count(len(s.Points)-points, "single thing")))
			break
		}
		text := words.Clean(p.Name) + ": " + words.Clean(p.Words())
		if at := place(p.At); at != "" {
			text += " (" + at + ")"
		}
		a.Points = append(a.Points, text)
	}
	return a
}

// due is what falls due.
type due struct {
	Says string
	Rows []dueRow
}

type dueRow struct {
	Day, When, What, At string
	Past                bool
}

func (b *book) due(s *audit.Sheet) *due {
	within, past := s.DueWithin(b.OnDay, b.UntilDay)
	d := &due{}
	if len(within) == 0 {
		d.Says = "Nothing that is written falls due until " + b.Until + "."
		return d
	}
	d.Says = fmt.Sprintf("Before %s: %d past; from then until %s: %d.", b.Run.On, past, b.Until, len(within)-past)
	for _, x := range within {
		left := x.Day - b.OnDay
		row := dueRow{Day: date(x.Day), What: audit.DueText(&x), At: place(x.At), Past: left < 0}
		switch {
		case left < 0:
			row.When = words.Count(-left, "day") + " past"
		case left == 0:
			row.When = "today"
		default:
			row.When = "in " + words.Count(left, "day")
		}
		d.Rows = append(d.Rows, row)
	}
	return d
}

type waiver struct {
	Text, At string
}

func (b *book) waivers(s *audit.Sheet) (out []waiver) {
	for _, w := range s.Waivers {
		text := words.Clean(w.Rule)
		if w.Spot != "" {
			text += " for " + words.Clean(w.Spot)
		}
		text += ", last day " + date(w.Until)
		if w.Until < b.OnDay {
			text += " (past: it covers nothing)"
		}
		if w.Agreed != "" {
			text += ", agreed by " + words.Clean(w.Agreed)
		}
		if w.Reason != "" {
			text += ": " + words.Clean(w.Reason)
		}
		out = append(out, waiver{text, place(w.At)})
	}
	return out
}

func (b *book) practice(s *audit.Sheet) []string {
	ago := func(known bool, day int64, what string) string {
		if !known {
			return what + ": no day is written"
		}
		return fmt.Sprintf("%s: %s, %s before this audit", what, date(day), words.Count(b.OnDay-day, "day"))
	}
	p := &s.Practice
	out := []string{
		ago(p.AuditedKnown, p.Audited, "last looked through"), ago(p.WeighedKnown, p.Weighed, "last weighed") + fmt.Sprintf("; not weighed: %s of all that is borne and worn", share(s.UnweighedP)),
	}
	if len(p.Walks) == 0 {
		return append(out, "no walk with the packs is written")
	}
	for _, w := range p.Walks {
		text := fmt.Sprintf("walk with the packs: %s, %s", date(w.Day), unit.Length(w.DistanceMM*1000))
		if w.LoadKnown {
			text += " under " + mass(w.LoadMG)
		}
		out = append(out, text)
	}
	return out
}
