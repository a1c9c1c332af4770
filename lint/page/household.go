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
	ID, Name, Path string
	Standing       audit.Standing
	Verdict        string
	Command        string // what does the next step
	Counts         []levelCount
	// Open says that it stands unfolded on the screen, Long that it has so much to say that paper needs smaller letters.
	Open, Long bool
	// Slim says that its findings take so little room that the rest stands beneath them.
	Slim     bool
	Remarks  []string
	Acts     []actGroup
	Cautions []cautionGroup
	Loads    []load
	// LoadUnit is that of the loads.
	LoadUnit  string
	LoadNotes []string
	Heaviest  string
	Endurance *endurance
	Alone     *alone
	Able      *able
	Dates     *dates
	Waivers   []waiver
	Practice  string
	Course    *course
	Groups    []group
	All       string
}

// caution is a rule's caution, with the class of the gravest finding that has it.
type caution struct{ Class, Text string }

// cautionGroup holds the cautions that concern the same people.
type cautionGroup struct {
	// Class is that of the gravest caution in it.
	Whom, Class string
	Items       []caution
}

// concerned says whom the cautions of some areas of rules concern.
type concerned struct {
	who   string
	areas []string
}

// whom lists them in their order. What is of no listed area concerns everyone.
var whom = []concerned{
	{"Everyone", nil},
	{"Who carries", []string{"load", "vehicle", "practice", "access", "separation"}},
	{"Who makes fire, cooks or treats water", []string{"fire", "food", "water", "endurance", "light", "power", "tools"}},
	{"Who sleeps out, or walks in cold and heat", []string{"shelter", "clothing", "shoes", "heat", "hazard"}},
	{"Who gives first aid or takes medicine", []string{"first-aid", "medication", "care", "mobility", "pregnancy"}},
	{"Children", []string{"children", "growth", "infant"}},
	{"Animals", []string{"animals"}},
}

// care puts the cautions of a household's findings together by whom they concern, each once.
func care(tasks []audit.Task) (out []cautionGroup) {
	groups := make([]cautionGroup, len(whom))
	at := map[string][2]int{}
	for _, t := range tasks {
		for _, f := range t.Findings {
			text := words.Clean(f.Caution)
			if text == "" {
				continue
			}
			k := max(0, slices.IndexFunc(whom, func(w concerned) bool { return slices.Contains(w.areas, audit.Area(f.Rule)) }))
			g := &groups[k]
			was, ok := at[text]
			switch {
			case !ok:
				at[text] = [2]int{k, len(g.Items)}
				g.Items = append(g.Items, caution{classes[f.Level], text})
			case f.Level != finding.Note && groups[was[0]].Items[was[1]].Class == "n":
				groups[was[0]].Items[was[1]].Class = classes[f.Level]
			}
		}
	}
	for k, g := range groups {
		if len(g.Items) == 0 {
			continue
		}
		g.Whom, g.Class = whom[k].who, "n"
		for _, c := range g.Items {
			if c.Class != "n" {
				g.Class = c.Class
			}
		}
		out = append(out, g)
	}
	return out
}

// levelCount is how many findings of a level are open.
type levelCount struct{ Class, Text string }

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

func (b *book) section(h *audit.Audited, tasks []audit.Task, course *course) *section {
	s := b.filled(h, tasks, course)
	s.Slim = fit(s.Acts, s.beside()) < slimmest
	return s
}

// beside estimates, in letters of findings, how much room the rest of a household takes on paper.
func (s *section) beside() (n int) {
	for _, g := range s.Cautions {
		n += len(g.Whom) + eachItem
		for _, c := range g.Items {
			n += len(c.Text) * 4 / 5 // in small letters
		}
	}
	for _, w := range s.Waivers {
		n += len(w.Text)
	}
	if s.Dates != nil {
		for _, d := range s.Dates.Days {
			n += len(d.Day) + len(d.What)
		}
	}
	rows := len(s.Loads)
	if s.Alone != nil {
		for _, t := range s.Alone.Tables {
			rows += len(t.Rows)
		}
	}
	return n + rows*eachRow
}

// filled has everything but the marks of what paper leaves out.
func (b *book) filled(h *audit.Audited, tasks []audit.Task, course *course) *section {
	st := h.Standing()
	s := &section{
		ID: anchor(&h.Household), Name: title(&h.Household), Standing: st, Counts: counts(h.Summary), Groups: b.groups(h), Verdict: b.verdict(h, tasks), Command: b.command(h, tasks),
		Open: len(b.Run.Households) <= rowsApart, Long: len(h.Findings) > longList || h.Sheet != nil && len(h.Sheet.People) > longPeople, Course: course,
	}
	s.Acts = b.acts(h, tasks)
	if n := len(h.Findings); n > 0 {
		s.All = words.Count(n, "finding")
	}
	if p := words.Clean(h.Household.Path); !strings.EqualFold(p, s.Name) {
		s.Path = p
	}
	s.Cautions = care(tasks)
	if h.Sheet == nil {
		return s
	}
	if b.Run.Shared == "" && len(h.Sheet.Bearers) == 0 {
		s.Remarks = append(s.Remarks, "Nobody carries a pack, so there is no load.")
	}
	s.Loads, s.LoadNotes = b.loads(h.Sheet)
	s.LoadUnit = weightUnit(h.Sheet.Units)
	if b.Run.Shared != "" && h.Sheet.LoadP > 0 {
		s.Heaviest = "The heaviest load is " + share(h.Sheet.LoadP) + " of body weight."
	}
	s.Endurance = b.endurance(h.Sheet)
	if s.Able = b.able(h.Sheet); s.Able == nil && !b.Brief {
		s.Remarks = append(s.Remarks, "For nothing that they have is it recorded what it can do.")
	}
	if b.Run.Shared == "" {
		s.Alone, s.Dates, s.Waivers, s.Practice = alones(h.Sheet), b.dates(h.Sheet), b.waivers(h.Sheet), b.practice(h.Sheet)
	}
	return s
}

// command is what does the next step, in the household's own audit; a path of an audit for others leads nowhere.
func (b *book) command(h *audit.Audited, tasks []audit.Task) string {
	if b.Run.Shared != "" || h.Nowhere {
		return ""
	}
	return h.Command(tasks, b.UntilDay)
}

// longList is from how many findings on a household's page is set in smaller letters on paper.
const longList = 45

// longPeople is from how many people on this is done too: each has a column of what they can do alone.
const longPeople = 5

// verdict says in a sentence how a household stands, and what it does first.
func (b *book) verdict(h *audit.Audited, tasks []audit.Task) string {
	name := title(&h.Household)
	var first []string
	for i := range tasks {
		if text := h.Says(&tasks[i], finding.Error, b.fixes, false); text != "" {
			first = append(first, strings.ToLower(text[:1])+text[1:])
		}
	}
	switch st := h.Standing(); {
	case h.Nowhere:
		return "No household is here."
	case st == audit.Unjudged:
		return name + " is only partly checked: something could not be read. Once that is corrected, more may show."
	case st == audit.NotReady && b.Brief:
		return name + " is not ready."
	case st == audit.NotReady:
		return name + " is not ready. It has to " + then(first) + "."
	case h.LeansUntil() != "":
		text := name + " is ready because an error is waived, until " + words.Clean(h.LeansUntil())
		if h.LeansUntil() <= b.Until {
			text += ", which is before " + b.Until
		}
		return text + "."
	case h.Summary.Warnings > 0:
		return name + " is ready; " + words.Count(h.Summary.Warnings, "warning") + " " + map[bool]string{true: "is", false: "are"}[h.Summary.Warnings == 1] + " open."
	}
	return name + " is ready."
}

// then joins deeds in their order.
func then(deeds []string) string {
	if len(deeds) < 2 {
		return strings.Join(deeds, "")
	}
	return strings.Join(deeds[:len(deeds)-1], ", ") + ", then " + deeds[len(deeds)-1]
}

// counts says what is open, by level.
func counts(s finding.Summary) (out []levelCount) {
	for _, c := range []struct {
		n     int
		level finding.Level
	}{{s.Errors, finding.Error}, {s.Warnings, finding.Warning}, {s.Notes, finding.Note}} {
		if c.n > 0 {
			out = append(out, levelCount{classes[c.level], words.Count(c.n, string(c.level))})
		}
	}
	if len(out) == 0 {
		out = append(out, levelCount{"z", "nothing is open"})
	}
	if s.Waived > 0 {
		out = append(out, levelCount{"a", fmt.Sprintf("%d waived", s.Waived)})
	}
	return out
}

// actGroup is all that a household has to do of one kind.
type actGroup struct {
	Title, Hint string
	Counts      []string
	Items       []item
	// Notes says that it has notes alone.
	Notes bool
	// Left1 and Left2 say how many lines paper leaves out where a household has one page or two, "" where none.
	Left1, Left2 string
}

// item is one line: a finding, or several findings of one rule about dates of things in one pack.
type item struct {
	Class, Level string
	// Left is what leaves it out on paper: x1 where a household has one page, x2 also where it has two; "" where there is room for it.
	Left   string
	Lead   string
	Things []thing
	// Times is how many findings say the same.
	Times int
	key   string
}

type thing struct{ Text, Day, At string }

// actTitles head what is to be done.
var actTitles = map[audit.Act]struct{ title, hint string }{
	audit.Correct: {"Correct the files", "before all else"}, audit.Order: {"Order", "takes longest"}, audit.Swap: {"Swap or renew", "like for like"}, audit.Lighten: {"Take out or hand over", "before anything goes in"},
	audit.Repack: {"Repack", "no change in mass"}, audit.PutIn: {"Put in", ""}, audit.Decide: {"Decide", ""}, audit.Check: {"Look through, test, practise", ""}, audit.Record: {"Write down", "what is true already"},
	audit.Unnamed: {"Other findings", ""},
}

// dateLeads say of rules about dates what is wrong with the things that follow.
var dateLeads = map[string]string{
	"dates/expired": "Expired", "dates/due": "Due for replacement", "dates/expires-within": "Expires soon", "medication/expired": "Expired",
}

// acts puts findings together by what is done about them; dates of things in one place stand in one line.
func (b *book) acts(h *audit.Audited, tasks []audit.Task) (out []actGroup) {
	due := map[string]*audit.Due{}
	if h.Sheet != nil {
		for i := range h.Sheet.Due {
			due[h.Sheet.Due[i].Spot] = &h.Sheet.Due[i]
		}
	}
	for _, t := range tasks {
		g := actGroup{Title: actTitles[t.Act].title, Hint: actTitles[t.Act].hint, Counts: clears(t.Errors, t.Warnings)}
		if t.Notes > 0 {
			g.Counts = append(g.Counts, words.Count(t.Notes, "note"))
		}
		for _, f := range t.Findings {
			at := b.near(h, f)
			if d, lead := due[f.Spot], dateLeads[f.Rule]; d != nil && lead != "" && b.Run.Shared == "" {
				key := f.Rule + "\x00" + string(f.Level) + "\x00" + d.Where
				k := slices.IndexFunc(g.Items, func(x item) bool { return x.key == key })
				if k < 0 {
					k = len(g.Items)
					if d.Where != "" {
						lead += ", " + onPaper(d.Where)
					}
					g.Items = append(g.Items, item{Class: classes[f.Level], Level: string(f.Level), Lead: lead, key: key})
				}
				g.Items[k].Things = append(g.Items[k].Things, thing{onPaper(d.Name), b.shortDate(d.Day), at})
				continue
			}
			x := item{Class: classes[f.Level], Level: string(f.Level), Things: []thing{{Text: words.Clean(f.Message), At: at}}}
			if at == "" { // others hear the same of several
				x.key = "\x00" + x.Class + x.Things[0].Text
				if k := slices.IndexFunc(g.Items, func(y item) bool { return y.key == x.key }); k >= 0 {
					g.Items[k].Times++
					continue
				}
			}
			x.Times = 1
			g.Items = append(g.Items, x)
		}
		out = append(out, g)
	}
	return out
}

const (
	// onePage and twoPages are how many letters fit on paper for a household; eachItem is what a line of findings takes beside its
	// letters, eachRow what a row of a table does. Our own figures, tried out.
	onePage, twoPages = 7600, 12500
	eachItem, eachRow = 40, 60
	// slimmest is up to how many letters findings are lower on a screen than what else there is.
	slimmest = 1300
)

// fit marks what paper leaves out beside so many letters of other things, the gravest last, and says how much room all take, in letters.
func fit(groups []actGroup, beside int) (n int) {
	for _, class := range []string{classes[finding.Error], classes[finding.Warning], classes[finding.Note]} {
		for i := range groups {
			for k := range groups[i].Items {
				x := &groups[i].Items[k]
				if x.Class != class {
					continue
				}
				n += eachItem + len(x.Lead)
				for _, t := range x.Things {
					n += len(t.Text) + len(t.Day) + len(t.At)
				}
				switch {
				case n+beside > twoPages:
					x.Left = "x1 x2"
				case n+beside > onePage:
					x.Left = "x1"
				}
			}
		}
	}
	for i := range groups {
		one, two := 0, 0
		groups[i].Notes = !slices.ContainsFunc(groups[i].Items, func(x item) bool { return x.Class != classes[finding.Note] })
		for _, x := range groups[i].Items {
			if x.Left != "" && x.Class != classes[finding.Note] { // one page shows no notes
				one++
			}
			if x.Left == "x1 x2" {
				two++
			}
		}
		groups[i].Left1, groups[i].Left2 = leftOut(one), leftOut(two)
	}
	return n
}

func leftOut(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("and %d more, on the screen", n)
}

// near is the place of a finding, as short as it can be on the household's own page: file and line.
func (b *book) near(h *audit.Audited, f *finding.Finding) string {
	if !f.At.Known() {
		return ""
	}
	file := strings.TrimPrefix(f.At.File, h.Household.Path+"/")
	if f.At.Start.Line == 0 {
		return words.Clean(file)
	}
	return words.Clean(fmt.Sprintf("%s:%d", file, f.At.Start.Line))
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
		if l.List && l.Layer != "household" {
			continue // many words, none of which says how much
		}
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
	Name, Load, Cap, Room string
	Over                  bool
	// Bar and Beyond are drawn on one scale of kilograms for the household; At is where the cap stands, Most the heaviest hour.
	Bar, Beyond string
	At, Most    int64
	Says        string
	Detail      *bar
	Parts       []packPart
}

type packPart struct {
	Name, Mass, Reach string
}

// barWide is the width of the bars of a household, in CSS pixels.
const barWide = 112

// loads are everybody's with packs, and what is to be known of them. Others hear of none.
func (b *book) loads(s *audit.Sheet) (out []load, notes []string) {
	if b.Run.Shared != "" {
		return nil, nil
	}
	in := words.Amounts{Units: s.Units}
	var top int64 = 1
	for i := range s.Bearers {
		x := &s.Bearers[i]
		top = max(top, x.LoadMG, x.CapMG, x.MostMG)
	}
	for i := range s.Bearers {
		x := &s.Bearers[i]
		at := x.LoadMG * barWide / top
		l := load{
			Name: onPaper(x.Name), Load: figure(s.Units, x.LoadMG), Cap: figure(s.Units, x.CapMG), Room: figure(s.Units, max(0, x.CapMG-x.LoadMG)), At: x.CapMG * barWide / top,
			Detail: newBar(in, x), Says: b.loadSays(in, x),
		}
		if x.LoadLeast {
			l.Load = "≥ " + l.Load
		}
		l.Bar = box(0, min(at, l.At))
		if over := x.LoadMG - x.CapMG; over > 0 {
			l.Over, l.Room, l.Beyond = true, "−"+figure(s.Units, over), box(l.At, max(at, l.At+2))
		}
		if x.MostMG > x.LoadMG {
			l.Most = x.MostMG * barWide / top
			if x.MostMG > x.CapMG {
				notes = append(notes, fmt.Sprintf("%s reaches %s in hour %d, with what is taken up on the way: %s over.", l.Name, in.Mass(x.MostMG), x.MostHour, in.Mass(x.MostMG-x.CapMG)))
			}
		}
		if x.BodyAssumed {
			notes = append(notes, "The body weight of "+l.Name+" is not recorded; a figure to plan with stands for it.")
		}
		if x.LoadLeast {
			notes = append(notes, "A mass in the load of "+l.Name+" is not recorded: it is more than stands here.")
		}
		for _, a := range x.Animals {
			note := fmt.Sprintf("The load of %s includes %s, %s, which is carried", l.Name, words.Clean(a.Name), in.Mass(a.MassMG))
			if a.Assumed {
				note += "; who carries it is not recorded, but its carrier is in that pack"
			}
			notes = append(notes, note+".")
		}
		for _, p := range x.Packs {
			l.Parts = append(l.Parts, packPart{"pack " + onPaper(p.Name) + ", empty", in.Mass(p.EmptyMG), ""})
			for _, c := range p.Parts {
				l.Parts = append(l.Parts, packPart{onPaper(c.Name), in.Mass(c.MassMG), words.Clean(string(c.Reach))})
			}
		}
		out = append(out, l)
	}
	return out, notes
}

// loadSays says all that is known of a load.
func (b *book) loadSays(in words.Amounts, x *audit.Bearer) string {
	of := int64(0)
	if x.BodyMG > 0 {
		of = unit.PermilleUp(x.LoadMG, x.BodyMG)
	}
	says := fmt.Sprintf("%s, %s of %s body weight; the cap, at the thick line, is %s (%s", atLeast(x.LoadLeast, in.Mass(x.LoadMG)), share(of), in.BodyMass(!x.BodyAssumed, x.BodyMG), in.Mass(x.CapMG), share(x.CapP))
	if x.Own {
		says += ", the household's own"
	}
	switch over := x.LoadMG - x.CapMG; {
	case over > 0:
		says += "): " + in.Mass(over) + " over"
	default:
		says += "): room for " + in.Mass(-over)
	}
	if x.MostMG > x.LoadMG {
		says += fmt.Sprintf("; on the way at most %s, in hour %d, at the dashed line", in.Mass(x.MostMG), x.MostHour)
	}
	return says + fmt.Sprintf(". Base mass %s; worn or in pockets, which is not load, %s.", in.Mass(x.BaseMG), in.Mass(x.OnBodyMG))
}

// endurance is how long things last.
type endurance struct {
	Plan, Key string
	// More are panels that stand folded.
	Panels, More []panel
	Amounts      bool
	Stocks       []stock
	// Shorts say what does not last, Enough what does, and Unsaid of what it is not known.
	Shorts         []string
	Enough, Unsaid string
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
			e.Plan = "Assumed, as no plan says how long: " + from
		}
		e.Key = "The first strip shows when someone walks."
		if rides(s) {
			e.Key = "The first strip shows when someone walks, and by a thin line when the household rides."
		}
		if s.Season == "" {
			e.Plan += "; no season is planned for, so nothing here knows of heat, cold or darkness."
		} else {
			e.Plan += fmt.Sprintf(", in season %s: %s by day, %s by night.", words.Clean(s.Season), s.Units.Temperature(unit.Temperature(s.DayMC)), s.Units.Temperature(unit.Temperature(s.NightMC)))
			e.Key += " Dark hours are shaded."
		}
		e.Panels, e.More = panels(s)
	}
	if s.WaterKnown && s.FoundML > 0 {
		found := "some is"
		if !shared {
			found = words.Amounts{Units: s.Units}.Volume(s.FoundML) + " are"
		}
		e.Plan += fmt.Sprintf(" Of water, %s taken on the way and made safe; without that, what is carried lasts %s.", found, words.Count(s.CarriedHours, "hour"))
	}
	end := (s.Minutes + 59) / 60
	var enough, unsaid []string
	for _, x := range s.Stocks {
		kind := x.Kind.Row()
		row := stock{Name: kind.Page}
		if x.Name != "" {
			row.Name = "doses of " + onPaper(x.Name)
		}
		if x.Of != "" {
			row.Name += ", " + words.Clean(x.Of)
		}
		write := func(n int64) string { return kind.Text(s.Units, n) }
		row.Have, row.Need = write(x.Have), write(x.Need)
		past := ""
		if x.Past > 0 && !shared {
			past = fmt.Sprintf("; %s of it has expired, and the rest lasts %s", write(x.Past), words.Count(x.Good, "hour"))
		}
		switch {
		case !x.Known:
			row.Need, row.Lasts = "not known", "not known"
			unsaid = append(unsaid, row.Name)
		case x.Unrecorded:
			row.Have, row.Lasts = noFigure(&x), noFigure(&x)
			unsaid = append(unsaid, row.Name)
		case x.Have == 0 && x.Need == 0 && !shared:
			row.Lasts = "none needed"
		case x.Lasts >= end:
			row.Lasts = "to the end"
			if x.Kind == kinds.StockWater && s.FoundML > 0 {
				row.Lasts += ", with what is found on the way"
			}
			if past != "" {
				e.Shorts = append(e.Shorts, row.Name+" lasts to the end"+past)
			} else {
				enough = append(enough, row.Name)
			}
		case x.Have == 0 && !shared && (x.Kind != kinds.StockWater || s.FoundML == 0):
			row.Short = true
			row.Lasts = fmt.Sprintf("none; first missed in hour %d of %d, %s short", x.Lasts, end, write(x.Short))
			e.Shorts = append(e.Shorts, fmt.Sprintf("no %s; first missed in hour %d of %d, %s short", row.Name, x.Lasts, end, write(x.Short)))
		default:
			row.Short = true
			row.Have = words.AtLeast(x.Least, row.Have)
			row.Lasts = words.AtLeast(x.Least, fmt.Sprintf("%d of %d hours", x.Lasts, end))
			if !shared {
				row.Lasts += ", " + atMost(x.Least, write(x.Short)) + " short"
			}
			e.Shorts = append(e.Shorts, row.Name+" lasts "+row.Lasts+past)
		}
		row.Lasts += past
		e.Stocks = append(e.Stocks, row)
	}
	e.Enough, e.Unsaid = strings.Join(enough, "; "), strings.Join(unsaid, "; ")
	return e
}

// atMost says what is short of a stock of which there may be more than is recorded.
func atMost(most bool, amount string) string {
	if most {
		return "at most " + amount
	}
	return amount
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
		t := ableTable{Caption: "different ways of each, household and everyone alone"}
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
		text := onPaper(p.Name) + ": " + words.Clean(p.Words())
		if at := place(p.At); at != "" {
			text += " (" + at + ")"
		}
		a.Points = append(a.Points, text)
	}
	return a
}

// aloneKinds are what everybody should be able to do who is on their own, in the words of a table. Our own choice.
var aloneKinds = []struct {
	kind kinds.Capability
	text string
}{
	{kinds.CanFire, "make fire"}, {kinds.CanTreatWater, "treat water"}, {kinds.CanLight, "have light"}, {kinds.CanFirstAid, "give first aid"}, {kinds.CanBleeding, "stop bleeding"}, {kinds.CanShelter, "have shelter"},
	{kinds.CanWarmth, "keep warm"}, {kinds.CanRain, "stay dry"}, {kinds.CanNavigate, "find the way"}, {kinds.CanSignal, "signal"}, {kinds.CanCommunicate, "call or hear"}, {kinds.CanCut, "cut"},
}

// alone is who can do what on their own: the gaps, and in a sentence the rest.
type alone struct {
	Tables []ableTable
	Rest   string
	// Lost are what nobody has.
	Lost string
}

// alones are nil where it is recorded of nothing what it can do.
func alones(s *audit.Sheet) *alone {
	if len(s.Abilities) == 0 || len(s.People) == 0 {
		return nil
	}
	a := &alone{}
	var rest, lost []string
	type gap struct {
		text string
		by   []int64
	}
	var gaps []gap
	for _, k := range aloneKinds {
		i := slices.IndexFunc(s.Abilities, func(x audit.Ability) bool { return x.Capability == k.kind })
		switch {
		case i < 0:
			lost = append(lost, k.text)
		case slices.Contains(s.Abilities[i].By, 0):
			gaps = append(gaps, gap{k.text, s.Abilities[i].By})
		default:
			rest = append(rest, k.text)
		}
	}
	for from := 0; len(gaps) > 0 && from < len(s.People); from += abreast {
		to := min(from+abreast, len(s.People))
		t := ableTable{Caption: "gaps of each alone"}
		for _, p := range s.People[from:to] {
			t.Heads = append(t.Heads, cut(words.Clean(p), longestHead))
		}
		for _, g := range gaps {
			r := ableRow{Name: g.text}
			for _, n := range g.by[from:to] {
				switch n {
				case 0:
					r.Cells = append(r.Cells, "none")
				case 1:
					r.Cells = append(r.Cells, "1 way")
				default:
					r.Cells = append(r.Cells, fmt.Sprintf("%d ways", n))
				}
			}
			t.Rows = append(t.Rows, r)
		}
		a.Tables = append(a.Tables, t)
	}
	if len(rest) > 0 {
		a.Rest = "Each alone can " + words.And(rest) + "."
	}
	if len(lost) > 0 {
		a.Lost = "Nothing is recorded to " + strings.Join(lost, ", ") + "."
	}
	return a
}

// dates are what falls due in a household, day by day.
type dates struct {
	Says string
	Days []dueDay
}

// counted puts what is said more than once into one, with its count.
func counted(all []string) (out []string) {
	n := map[string]int{}
	for _, text := range all {
		if n[text]++; n[text] == 1 {
			out = append(out, text)
		}
	}
	for i, text := range out {
		if n[text] > 1 {
			out[i] = fmt.Sprintf("%s (%d)", text, n[text])
		}
	}
	return out
}

func (b *book) dates(s *audit.Sheet) *dates {
	within, past := s.DueWithin(b.OnDay, b.UntilDay)
	d := &dates{}
	var on [][]string
	for i := range within {
		x := &within[i]
		if x.Day < b.OnDay {
			continue
		}
		text := fmt.Sprintf(x.Kind.Row().Due, onPaper(x.Name))
		day := b.shortDate(x.Day)
		if n := len(d.Days); n == 0 || d.Days[n-1].Day != day {
			d.Days, on = append(d.Days, dueDay{Day: day}), append(on, nil)
		}
		on[len(on)-1] = append(on[len(on)-1], text)
	}
	for i := range d.Days {
		d.Days[i].What = strings.Join(counted(on[i]), "; ")
	}
	switch {
	case len(within) == 0:
		d.Says = "Nothing that is recorded falls due until " + b.shortDate(b.UntilDay) + "."
	case past > 0:
		d.Says = words.Count(past, "thing") + " overdue: see Swap or renew."
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
			text += ": it has ended and covers nothing. Decide: renew it, or do what the rule says"
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

// practice says when the packs were last weighed and looked through, and of the walks with them.
func (b *book) practice(s *audit.Sheet) string {
	ago := func(known bool, day int64) string {
		if !known {
			return "on no recorded day"
		}
		return fmt.Sprintf("%s (%s ago)", date(day), words.Count(b.OnDay-day, "day"))
	}
	p := &s.Practice
	text := fmt.Sprintf("Last looked through %s. Last weighed %s; %s of all that is carried and worn has never been weighed.", ago(p.AuditedKnown, p.Audited), ago(p.WeighedKnown, p.Weighed), share(s.UnweighedP))
	if s.UnweighedP == 0 {
		text = fmt.Sprintf("Last looked through %s. Last weighed %s.", ago(p.AuditedKnown, p.Audited), ago(p.WeighedKnown, p.Weighed))
	}
	if len(p.Walks) == 0 {
		return text + " No walk with the packs is recorded."
	}
	var walks []string
	for _, w := range p.Walks {
		walk := fmt.Sprintf("%s, %s", date(w.Day), s.Units.Length(unit.Length(w.DistanceMM*1000)))
		if w.LoadKnown {
			walk += " under " + words.Amounts{Units: s.Units}.Mass(w.LoadMG)
		}
		walks = append(walks, walk)
	}
	return text + " Walks with the packs: " + strings.Join(walks, "; ") + "."
}
