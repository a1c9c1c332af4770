package page

import (
	"fmt"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// months are the short names of the months.
var months = [...]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// civil is a day as people write it down.
func civil(day int64) (y int, m time.Month, d int) { return time.Unix(day*24*60*60, 0).UTC().Date() }

// shortDate writes a day as 30 Sep, with the year where it is not that of the audit.
func (b *book) shortDate(day int64) string {
	y, m, d := civil(day)
	text := fmt.Sprintf("%d %s", d, months[m-1])
	if now, _, _ := civil(b.OnDay); now != y {
		text += " " + strconv.Itoa(y)
	}
	return text
}

// row is a household among everybody.
type row struct {
	ID, Href, Name, Path, Village string
	Standing                      audit.Standing
	// Waived says until when the household is ready by a waiver alone.
	Waived      string
	Load        loadCell
	Water, Food lastsCell
	Next, Aloud string
	// Due is what falls due soon, under DueHead.
	Due, DueHead string
	Sky          sky
	// Distance is how many errors are open.
	Distance int
	by       []audit.SubjectTally
	// Order holds what the page's script sorts by, the lowest first: fixes, load, water, food and the first day due; - is not known.
	Order string
	// Wide is the width of the sky.
	Wide int
}

// loadCell is a load against its cap: who is nearest it.
type loadCell struct {
	Who, Figure string
	Over        bool
	// Bar is drawn on a scale on which the cap stands at capAt; nothing is drawn where no load is known.
	Bar, Beyond string
	Known       bool
}

// lastsCell is how long a stock lasts: Solid of it surely, Lined with what is found on the way or past its date.
type lastsCell struct {
	Figure, Says string
	Solid, Lined int
	Known        bool
	// Level is that of what the rules say about it.
	Level string
}

const (
	// loadWide, waterWide and foodWide are the widths of the bars of a row, in CSS pixels; capAt is where the cap stands, of 130 %.
	loadWide  = 88
	waterWide = 64
	foodWide  = 54
	capAt     = 68
	// ahead is for how many days a row counts what falls due.
	ahead = 56
)

func (b *book) row(h *audit.Audited, tasks []audit.Task, by []audit.SubjectTally) {
	st := h.Standing()
	r := row{ID: anchor(&h.Household), Name: title(&h.Household), Standing: st, Next: h.Next(tasks, b.fixes, false), Aloud: h.Next(tasks, b.fixes, true), Distance: h.Distance(), Sky: newSky(by, st), by: by}
	if r.Village = village(&h.Household); b.Run.Shared != "" {
		r.Village = ""
	}
	switch twice := b.names[r.Name] > 1; {
	case twice && r.Village != "" && b.names[r.Village+"\x00"+r.Name] == 1:
		r.Path = r.Village
	case twice:
		r.Path = words.Clean(h.Household.Path)
	}
	if r.Next == "" {
		r.Next = "Nothing is open"
	}
	if r.Aloud == "" {
		r.Aloud = "See its own page"
		if r.Next == "Nothing is open" {
			r.Aloud = r.Next
		}
	}
	now := h.Trend()
	if h.Nowhere {
		b.nowhere++
	} else {
		b.now.add(&now)
	}
	if day := h.LeansUntil(); day != "" && st == audit.Ready {
		r.Waived = "by a waiver until " + words.Clean(day)
		if d, err := unit.ParseDate(day); err == nil {
			r.Waived = "by a waiver until " + b.shortDate(int64(d))
		}
	}
	r.Load, r.Water, r.Food, r.Due = loadCell{Figure: "not known"}, lastsCell{Figure: "not known"}, lastsCell{Figure: "not known"}, "not known"
	if s := h.Sheet; s != nil {
		r.Load, r.Water, r.Food, r.Due = b.loadCell(s), b.waterCell(s, by), b.foodCell(s, by), b.dueCell(s)
		b.plans[s.Minutes]++
	}
	r.Order = b.order(h, &r)
	for i, t := range by {
		b.seen[i] = b.seen[i] || t != audit.SubjectTally{}
	}
	b.rows = append(b.rows, r)
}

// order writes what rows are sorted by.
func (b *book) order(h *audit.Audited, r *row) string {
	out := []string{"-", "-", "-", "-", "-"}
	if r.Standing != audit.Unjudged {
		out[0] = strconv.Itoa(r.Distance)
	}
	if s := h.Sheet; s != nil {
		if x := s.Nearest(); x != nil {
			out[1] = strconv.FormatInt(-unit.PermilleUp(x.LoadMG, x.CapMG), 10)
		} else if s.LoadP > 0 {
			out[1] = strconv.FormatInt(-s.LoadP, 10)
		}
		if s.WaterKnown {
			out[2] = strconv.FormatInt(s.WaterHours, 10)
		}
		if x := s.Stock(kinds.StockEnergy); x != nil && x.Known && !x.Unrecorded {
			out[3] = strconv.FormatInt(x.Lasts, 10)
		}
		for _, d := range s.Due {
			if d.Day >= b.OnDay {
				out[4] = strconv.FormatInt(d.Day-b.OnDay, 10)
				break
			}
		}
	}
	return strings.Join(out, " ")
}

// loadCell draws who is nearest the cap. Others hear of the heaviest load as a share of body weight alone.
func (b *book) loadCell(s *audit.Sheet) loadCell {
	if b.Run.Shared != "" {
		if s.LoadP == 0 {
			return loadCell{Figure: "not known"}
		}
		return loadCell{Figure: share(s.LoadP) + " of body weight"}
	}
	if len(s.Bearers) == 0 {
		return loadCell{Figure: "nobody has a pack"}
	}
	x := s.Nearest()
	if x == nil {
		return loadCell{Figure: "cap not known"}
	}
	c := loadCell{Who: onPaper(x.Name), Known: true}
	at := min(x.LoadMG*capAt/x.CapMG, loadWide)
	c.Bar = box(0, min(at, capAt))
	least := func(words string) string {
		if x.LoadLeast {
			return words + " "
		}
		return ""
	}
	about := ""
	if x.BodyAssumed {
		about = "about "
	}
	if over := x.LoadMG - x.CapMG; over > 0 {
		c.Over, c.Figure = true, least("at least")+about+weight(b.units, over)+" over"
		c.Beyond = box(capAt, max(at, capAt+2))
	} else {
		c.Figure = least("at most") + about + weight(b.units, -over) + " room"
	}
	return c
}

// figure is a mass in a column: in kilograms with two decimals, or in pounds with one, rounded as the findings round it. What is too
// little for a digit is no nought.
func figure(in unit.System, mg int64) string {
	c, least, form := (mg+5_000)/10_000, "< 0.01", "%d.%02d"
	per := int64(100)
	if in == unit.US {
		c, least, form, per = (mg*1000+22_679_618)/45_359_237, "< 0.1", "%d.%d", 10
	}
	if c == 0 && mg > 0 {
		return least
	}
	return fmt.Sprintf(form, c/per, c%per)
}

// weight is a figure with its unit.
func weight(in unit.System, mg int64) string { return figure(in, mg) + " " + weightUnit(in) }

func weightUnit(in unit.System) string {
	if in == unit.US {
		return "lb"
	}
	return "kg"
}

// box is a bar of a row from one place to another.
func box(from, to int64) string {
	if to <= from {
		return ""
	}
	return fmt.Sprintf("M%d 3h%dv9h-%dz", from, to-from, to-from)
}

// gravest is the class of the gravest open level in the subject of an area.
func gravest(by []audit.SubjectTally, area string) string {
	level, _ := by[audit.SubjectOf(area+"/")].Worst()
	return classes[level]
}

func (b *book) waterCell(s *audit.Sheet, by []audit.SubjectTally) lastsCell {
	if !s.WaterKnown {
		return lastsCell{Figure: noFigure(s.Stock(kinds.StockWater))}
	}
	end := (s.Minutes + 59) / 60
	c := lastsCell{Known: true, Level: gravest(by, "water"), Solid: along(s.CarriedHours, end, waterWide), Lined: along(s.WaterHours, end, waterWide)}
	c.Figure = fmt.Sprintf("%d h", s.WaterHours)
	c.Says = fmt.Sprintf("water lasts %d of %d hours", s.WaterHours, end)
	if s.FoundML > 0 {
		c.Figure = fmt.Sprintf("%d → %d h", s.CarriedHours, s.WaterHours)
		c.Says = fmt.Sprintf("what is carried lasts %d hours, with water found on the way %d of %d", s.CarriedHours, s.WaterHours, end)
	} else {
		c.Solid = c.Lined
	}
	return c.atLeast(s.WaterLeast)
}

// atLeast is a cell of a stock of which there may be more than is recorded.
func (c lastsCell) atLeast(least bool) lastsCell {
	if least {
		c.Figure, c.Says = "at least "+c.Figure, "of what is recorded, "+c.Says
	}
	return c
}

// noFigure says why there is no figure of a stock, which may be nil.
func noFigure(x *finding.Stock) string {
	if x != nil && x.Unrecorded {
		return "not recorded"
	}
	return "not known"
}

func (b *book) foodCell(s *audit.Sheet, by []audit.SubjectTally) lastsCell {
	x := s.Stock(kinds.StockEnergy)
	if x == nil || !x.Known || x.Unrecorded {
		return lastsCell{Figure: noFigure(x)}
	}
	if x.Need == 0 && x.Have == 0 && b.Run.Shared == "" {
		return lastsCell{Figure: "none needed"}
	}
	end := (s.Minutes + 59) / 60
	c := lastsCell{Known: true, Level: gravest(by, "food"), Solid: along(x.Lasts, end, foodWide), Lined: along(x.Lasts, end, foodWide), Figure: fmt.Sprintf("%d h", x.Lasts)}
	c.Says = fmt.Sprintf("food lasts %d of %d hours", x.Lasts, end)
	if x.Past > 0 {
		c.Solid, c.Figure = along(x.Good, end, foodWide), fmt.Sprintf("%d → %d h", x.Good, x.Lasts)
		c.Says = fmt.Sprintf("food in date lasts %d hours, with what is past its date %d of %d", x.Good, x.Lasts, end)
	}
	return c.atLeast(x.Least)
}

// along is a share of a bar in CSS pixels.
func along(n, of, wide int64) int {
	if of <= 0 {
		return 0
	}
	return int(min(n, of) * wide / of)
}

func (b *book) dueCell(s *audit.Sheet) string {
	n, first := 0, int64(0)
	for _, d := range s.Due {
		if d.Kind == kinds.DateAudit && d.Day == b.OnDay {
			continue // it is said once, of everybody, below
		}
		if d.Day >= b.OnDay && d.Day <= min(b.OnDay+ahead, b.UntilDay) {
			if n++; n == 1 {
				first = d.Day
			}
		}
	}
	switch {
	case n == 0:
		return "none"
	case first == b.OnDay:
		return fmt.Sprintf("%d, first today", n)
	}
	return fmt.Sprintf("%d, first %s", n, b.shortDate(first))
}

// sky is what is gravest in each subject, as heights over one base line.
type sky struct {
	// Paths are those of errors, warnings, notes and what is waived only; Base is that of subjects with nothing open.
	Errors, Warnings, Notes, Waived, Base string
	// Private is the mark of medicine, of class PrivateClass: a wall sheet leaves it out.
	Private, PrivateClass string
	// Unknown says that what is not marked is not known.
	Unknown bool
	Says    string
}

// skyStep is the width of a subject in CSS pixels; skyHigh the height of the tallest mark.
const (
	skyStep = 11
	skyHigh = 12
)

// newSky says what is open in which subject; it is drawn once it is known which subjects are shown.
func newSky(by []audit.SubjectTally, st audit.Standing) sky {
	s := sky{Unknown: st == audit.Unjudged}
	var said [4][]string
	for i, t := range by {
		level, n := t.Worst()
		k := 3 - level.Rank() // errors, warnings, notes, what is waived
		if level == "" {
			if n = t.Waived; n == 0 {
				continue
			}
			k = 3
		}
		said[k] = append(said[k], fmt.Sprintf("%s %d", audit.Subjects[i].Name, n))
	}
	for k, word := range []string{"Errors", "Warnings", "Notes", "Waived"} {
		if len(said[k]) > 0 {
			s.Says += word + ": " + strings.Join(said[k], ", ") + ". "
		}
	}
	if s.Unknown {
		s.Says += "The rest could not be judged."
	}
	if s.Says == "" {
		s.Says = "Nothing is open."
	}
	s.Says = strings.TrimSpace(s.Says)
	return s
}

// drawn draws a mark for each subject that is shown.
func (s sky) drawn(by []audit.SubjectTally, show []bool) sky {
	x := 0
	for i, t := range by {
		if !show[i] {
			continue
		}
		level, _ := t.Worst()
		at, high := x*skyStep+2, map[finding.Level]int{finding.Error: skyHigh, finding.Warning: 7, finding.Note: 3}[level]
		x++
		mark := fmt.Sprintf("M%d %dh7v%dh-7z", at, skyHigh+1-high, high)
		switch {
		case level == "" && t.Waived > 0:
			s.Waived += fmt.Sprintf("M%d.5 9.5h6v3h-6z", at)
		case level == "":
			s.Base += fmt.Sprintf("M%d 12.5h5", at+1)
		case i == medicine:
			s.Private, s.PrivateClass = mark, classes[level]
		case level == finding.Error:
			s.Errors += mark
		case level == finding.Warning:
			s.Warnings += mark
		default:
			s.Notes += mark
		}
	}
	return s
}

// medicine is the subject that a wall sheet leaves out.
var medicine = audit.SubjectOf("medication/")

// heads are the short heads of subjects, in the order of audit.Subjects.
var heads = []string{
	"load", "water", "food", "hours", "fire", "shelter", "medicine", "light", "signals", "way", "tools", "hygiene", "papers", "reach", "low profile", "children", "animals", "apart", "safety", "dates", "records", "reading",
	"held back", "own rules",
}

// village names the folder that a household lies in beside others, "" where that is the place of the audit.
func village(h *finding.Household) string {
	if v := words.Clean(path.Dir(h.Path)); v != "." {
		return v
	}
	return ""
}

// neighbours are households that stand together among everybody.
type neighbours struct {
	Name string
	Rows []row
}

// villages puts rows together by the folder that holds their households, where there are several such folders.
func (b *book) villages() []neighbours {
	several := false
	for _, r := range b.rows {
		several = several || r.Village != b.rows[0].Village
	}
	var out []neighbours
	at := map[string]int{}
	for _, r := range b.rows {
		name := ""
		if several {
			name = r.Village
		}
		k, ok := at[name]
		if !ok {
			k = len(out)
			out, at[name] = append(out, neighbours{Name: name}), k
		}
		out[k].Rows = append(out[k].Rows, r)
	}
	for i := range out {
		for k := range out[i].Rows {
			if r := &out[i].Rows[k]; r.Path == out[i].Name {
				r.Path = "" // it stands over the rows
			}
		}
	}
	return out
}

// headline is the answer in one sentence: how many are ready, and what is the cheapest way forward.
func (b *book) headline() (answer, way string) {
	n := &b.now
	season := ""
	if b.Season != "" {
		season = " for the " + words.Clean(b.Season) + " season"
	}
	one := n.Households == 1
	switch {
	case one && n.Unjudged == 1:
		answer = fmt.Sprintf("%s is only partly checked", b.only())
	case one && n.Ready == 1:
		answer = fmt.Sprintf("%s is ready%s", b.only(), season)
	case one:
		answer = fmt.Sprintf("%s is not ready%s", b.only(), season)
	case n.Ready == n.Households:
		answer = fmt.Sprintf("All %d households are ready%s", n.Households, season)
	case n.Ready == 0:
		answer = fmt.Sprintf("None of the %d households is ready%s", n.Households, season)
	case n.Ready == 1:
		answer = fmt.Sprintf("1 of %d households is ready%s", n.Households, season)
	default:
		answer = fmt.Sprintf("%d of %d households are ready%s", n.Ready, n.Households, season)
	}
	if n.Unjudged > 0 && !one {
		answer += fmt.Sprintf("; %d only partly checked", n.Unjudged)
	}
	if n.NotReady == 0 && n.Warnings > 0 && n.Ready == n.Households {
		return answer + ", " + words.Count(n.Warnings, "warning") + " open", ""
	}
	if b.Brief || n.NotReady == 0 {
		return answer, ""
	}
	act, who := b.plan.Nearer()
	k, does := len(who), onceThey[act]
	switch {
	case k == 0:
		way = b.nearest()
	case one:
		way = "it will be once it " + does.one
	case k == 1:
		way = b.rows[who[0]].Name + " will be once it " + does.one
	case k == n.Households:
		way = "all will be once they " + does.many
	case k == n.NotReady && n.Ready > 0:
		way = "the others will be once they " + does.many
	case n.Ready > 0:
		way = fmt.Sprintf("%d more will be once they %s", k, does.many)
	default:
		way = fmt.Sprintf("%d will be once they %s", k, does.many)
	}
	return answer, way
}

// onceThey says what is left to do where all errors are of one act, for several households and for one.
var onceThey = map[audit.Act]struct{ many, one string }{
	audit.Correct: {"correct their files", "corrects its files"},
	audit.Order:   {"get their medicine", "gets its medicine"},
	audit.Swap:    {"swap what has expired", "swaps what has expired"},
	audit.Lighten: {"lighten a pack", "lightens a pack"},
	audit.Repack:  {"repack", "repacks"},
	audit.PutIn:   {"put in what is missing", "puts in what is missing"},
	audit.Decide:  {"decide what is open", "decides what is open"},
	audit.Check:   {"look through their packs", "looks through its packs"},
	audit.Record:  {"write down what they have", "writes down what it has"},
}

// only is the name of the only household.
func (b *book) only() string {
	for i := range b.rows {
		if b.rows[i].Standing != "" {
			return b.rows[i].Name
		}
	}
	return "The household"
}

// nearest says who is nearest to being ready.
func (b *book) nearest() string {
	best := -1
	for i := range b.rows {
		if r := &b.rows[i]; r.Standing == audit.NotReady && (best < 0 || r.Distance < b.rows[best].Distance) {
			best = i
		}
	}
	if best < 0 {
		return ""
	}
	if b.now.Households == 1 {
		return "it is " + fixes(b.rows[best].Distance) + " away"
	}
	return fmt.Sprintf("%s is nearest, %s away", b.rows[best].Name, fixes(b.rows[best].Distance))
}

func fixes(n int) string {
	if n == 1 {
		return "1 fix"
	}
	return fmt.Sprintf("%d fixes", n)
}

// far holds the households that are the same number of fixes away from being ready.
type far struct {
	Says  string
	N     int
	Tally string
	Wide  int
	Names []link
	More  string
}

type link struct{ Href, Name string }

const (
	// mostNames is how many households are named beside each other; the others are counted. mostStrokes is up to how many are tallied.
	mostNames   = 60
	mostStrokes = 50
)

// away counts households by how many fixes lie between them and being ready; nil where rules are held back.
func (b *book) away() (out []far) {
	if b.Brief || b.now.Households == 1 {
		return nil
	}
	by := map[int][]link{}
	for i := range b.rows {
		if r := &b.rows[i]; r.Standing == audit.NotReady {
			by[r.Distance] = append(by[r.Distance], link{r.Href, r.name()})
		}
	}
	most := 0
	for _, l := range by {
		most = max(most, len(l))
	}
	for _, n := range slices.Sorted(maps.Keys(by)) {
		l := by[n]
		f := far{Says: fixes(n) + " away", N: len(l), Names: l}
		f.Tally, f.Wide = tally(len(l), most)
		if len(l) > mostNames {
			f.Names, f.More = l[:mostNames], fmt.Sprintf("and %d more", len(l)-mostNames)
		}
		out = append(out, f)
	}
	return out
}

// name is the name with the path of a household, where several are called so.
func (r *row) name() string {
	if r.Path != "" {
		return r.Name + " (" + r.Path + ")"
	}
	return r.Name
}

// tally draws strokes in fives; of more than can be counted at a glance, a bar.
func tally(n, most int) (d string, wide int) {
	if most > mostStrokes {
		w := max(2, n*220/most)
		return fmt.Sprintf("M0 0h%dv13h-%dz", w, w), w
	}
	var s strings.Builder
	for i := range n {
		x := i*7 + i/5*6
		fmt.Fprintf(&s, "M%d 0h4v13h-4z", x)
		wide = x + 4
	}
	return s.String(), wide
}
