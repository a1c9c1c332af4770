package lint_test

import (
	"bytes"
	"html"
	"io"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kitmuster/lint/audit"
	"kitmuster/lint/compare"
	"kitmuster/lint/drill"
	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/forecast"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/packing"
	"kitmuster/lint/page"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
	"kitmuster/lint/trial"
	"kitmuster/lint/unit"
	"kitmuster/policies"
	"kitmuster/schema"
)

// These tests walk every output for every kind of every table of package kinds, and fail where an output leaves one out.

var otter = finding.Household{Name: "Otter", Path: "otter", Judged: true}

// form is one output of something.
type form struct {
	name string
	text string
}

// written collects what outputs write.
func written(t *testing.T, outputs map[string]func(io.Writer) error) (out []form) {
	t.Helper()
	for name, write := range outputs {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		text := strings.ReplaceAll(b.String(), "\r\n ", "") // folded lines of a calendar
		text = strings.ReplaceAll(html.UnescapeString(text), `\`, "")
		out = append(out, form{name, strings.ReplaceAll(text, `": `, `":`)})
	}
	return out
}

// says holds that every one of the outputs says all texts, or none of them where not.
func says(t *testing.T, kind string, forms []form, is bool, texts ...string) {
	t.Helper()
	if len(forms) == 0 {
		t.Fatalf("%s: no such output", kind)
	}
	for _, f := range forms {
		for _, text := range texts {
			if strings.Contains(f.text, text) != is {
				t.Errorf("%s: %s says %q: %t, want %t", kind, f.name, text, !is, is)
			}
		}
	}
}

// of are the outputs with these names.
func of(forms []form, names ...string) []form {
	return slices.DeleteFunc(slices.Clone(forms), func(f form) bool { return !slices.Contains(names, f.name) })
}

type memory struct{ bytes.Buffer }

func (m *memory) Close() error { return nil }

// audited are all outputs of an audit of one household, as it is and for others.
func audited(t *testing.T, s *audit.Sheet) (open, shared []form) {
	t.Helper()
	run := &finding.Run{Version: "v0", On: "2026-11-01"}
	run.Count(slices.Repeat([]finding.Household{otter}, private.Few)) // of fewer, others hear less
	a := &audit.Audit{Run: run, Until: "2027-05-01", OnDay: 20758, UntilDay: 20939}
	a.Households = finding.Each([]audit.Audited{{Household: otter, Sheet: s}})
	all := func(a *audit.Audit) []form {
		return written(t, map[string]func(io.Writer) error{
			"JSON": func(w io.Writer) error { return report.AuditJSON(w, a) }, "calendar": func(w io.Writer) error { return report.Calendar(w, a) },
			"households": func(w io.Writer) error { return report.AuditHouseholds(w, a) }, "due": func(w io.Writer) error { return report.AuditDue(w, a) },
			"text": func(w io.Writer) error { return report.AuditText(w, a, ".") },
			"page": func(w io.Writer) error {
				var m memory
				err := page.Audit(a, page.Options{
					Spool:  func() (*os.File, error) { return os.CreateTemp(t.TempDir(), "") },
					Create: func(string) (io.WriteCloser, error) { return &m, nil },
				})
				w.Write(m.Bytes())
				return err
			},
		})
	}
	return all(a), all(mask(t).Audit(a, false))
}

func mask(t *testing.T) *private.Mask {
	t.Helper()
	return private.New([private.KeySize]byte{}, nil, nil, nil)
}

func made[T any](h ...T) *report.Made[T] {
	run := &finding.Run{Version: "v0", On: "2026-11-01"}
	run.Count([]finding.Household{otter})
	return &report.Made[T]{Run: run, Households: finding.Each(h)}
}

// drilledAll are all outputs of drills of one household, as they are and for others.
func drilledAll(t *testing.T, d *drill.Drilled) (open, shared []form) {
	t.Helper()
	d.Household = otter
	m := made(*d)
	s := &report.Shared{On: "2026-11-01", Did: "drilled", Households: []private.Shared{mask(t).Drilled(d)}}
	return written(t, map[string]func(io.Writer) error{
			"text": func(w io.Writer) error { return report.DrillsText(w, m, report.Options{}) }, "JSON": func(w io.Writer) error { return report.DrillsJSON(w, m, report.Options{}) },
		}), written(t, map[string]func(io.Writer) error{
			"text for others": func(w io.Writer) error { return report.SharedText(w, s, report.Options{}) }, "JSON for others": func(w io.Writer) error { return report.SharedJSON(w, s, report.Options{}) },
		})
}

// measuredAll are all outputs of the facts of one household.
func measuredAll(t *testing.T, f *facts.Facts) (open, shared []form) {
	t.Helper()
	m := made(report.Measured{Household: otter, Facts: f})
	s := &report.Shared{On: "2026-11-01", Did: "measured", Households: []private.Shared{mask(t).Measured(otter, f)}}
	return written(t, map[string]func(io.Writer) error{
			"text": func(w io.Writer) error { return report.MeasureText(w, m, report.Options{}) }, "JSON": func(w io.Writer) error { return report.MeasureJSON(w, m, report.Options{}) },
		}), written(t, map[string]func(io.Writer) error{
			"text for others": func(w io.Writer) error { return report.SharedText(w, s, report.Options{}) }, "JSON for others": func(w io.Writer) error { return report.SharedJSON(w, s, report.Options{}) },
		})
}

// comparedAll are all outputs of figures that are new, as they are and for others.
func comparedAll(t *testing.T, f *facts.Facts) (open, shared []form) {
	t.Helper()
	c := &compare.Comparison{Run: made[int]().Run, Households: []compare.Compared{{Household: otter}}}
	c.Run.Count(slices.Repeat([]finding.Household{otter}, private.Few)) // of fewer, others hear less
	for _, x := range compare.Figures(f) {
		c.Households[0].Changes = append(c.Households[0].Changes, compare.Change{Now: &x})
	}
	all := func(c *compare.Comparison) []form {
		return written(t, map[string]func(io.Writer) error{
			"text": func(w io.Writer) error { return report.CompareText(w, c, report.Options{}) }, "markdown": func(w io.Writer) error { return report.CompareMarkdown(w, c, report.Options{}) },
			"JSON": func(w io.Writer) error { return report.CompareJSON(w, c, report.Options{}) },
		})
	}
	return all(c), all(mask(t).Comparison(c))
}

func TestEveryDrillIsShown(t *testing.T) {
	for _, k := range kinds.Drills {
		kind := string(k.Kind)
		fate := drill.Fate{Key: kind + "/rust", Kind: k.Kind, Text: "words of it", Hours: 101, Minutes: 6060, Lasts: []finding.Stock{{Kind: kinds.StockWater, Lasts: 37, Known: true}}}
		d := &drill.Drilled{Base: drill.Fate{Text: "as it is", Hours: 72, Minutes: 4320, Lasts: []finding.Stock{{Kind: kinds.StockWater, Lasts: 72, Known: true}}}}
		if d.Drills = []drill.Fate{fate}; k.Kind == kinds.DrillPacksLost {
			d.Drills, d.Pairs = nil, d.Drills
		}
		open, shared := drilledAll(t, d)
		says(t, kind, open, true, "words of it")
		says(t, kind, of(open, "JSON"), true, `"key":"`+kind+`/rust"`)
		says(t, kind, of(open, "JSON"), k.HandsOver, `"handed_over"`)
		says(t, kind, shared, false, "words of it", "rust")
		says(t, kind, shared, k.Told != kinds.None, "101", "37")
		if k.Told != kinds.None {
			says(t, kind, of(shared, "text for others"), true, k.Told.Row().Words)
			says(t, kind, of(shared, "JSON for others"), true, `"kind":"`+string(k.Told)+`"`)
		}
	}
}

func TestEveryDateIsShown(t *testing.T) {
	for _, k := range kinds.Dates {
		kind := string(k.Kind)
		due := audit.Due{Spot: "packs/rust", Name: "bandages", Kind: k.Kind, Day: 20800}
		open, shared := audited(t, &audit.Sheet{Minutes: 60, Due: []audit.Due{due}})
		says(t, kind, of(open, "JSON", "due"), true, kind)
		says(t, kind, of(open, "due", "calendar", "page"), true, audit.DueText(&due))
		says(t, kind, of(open, "calendar"), true, k.Why)
		says(t, kind, shared, false, "bandages", audit.DueText(&due), k.Why, `"kind":"`+kind+`"`)
		for _, f := range of(open, "calendar") {
			for _, days := range k.Alarms {
				says(t, kind, []form{f}, true, "TRIGGER:-P"+strconv.Itoa(days-1)+"DT15H")
			}
		}
		if k.Figure == kinds.None {
			continue
		}
		known := &facts.Facts{Dates: []facts.Dated{{ID: "packs/rust", Name: "bandages", Kind: k.Kind, On: "2026-12-13", Day: 20800}}}
		open, shared = comparedAll(t, known)
		says(t, kind, open, true, "bandages, "+k.Figure)
		says(t, kind, shared, false, "bandages", k.Figure)
		open, shared = measuredAll(t, known)
		says(t, kind, open, true, kind)
		says(t, kind, shared, false, "bandages")
	}
}

// Each date of a thing is made, is in the facts, and stands on the packing list, ahead and past.
func TestEveryDateIsListed(t *testing.T) {
	text := func(year string) fs.FS {
		return one(strings.ReplaceAll(`package kit

household: "Fam"
people: ana: {age: "40 y", bodyMass: "80 kg", medications: pen: {perDay: 1, coldChain: true}, licences: amateur: {service: "amateur", until: "YEAR-12-01"}}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: main: {reach: "walking", items: {
	label: {mass: "9 g", expires: "YEAR-12-02"}
	broached: {mass: "9 g", opened: "YEAR-10-03", openedLife: "60 days"}
	exchange: {mass: "9 g", rotate: "YEAR-12-04"}
	warm: {mass: "9 g", outOfCold: "YEAR-10-20", medicine: {person: "ana", of: "pen", doses: 1}}
}}}
`, "YEAR", year))
	}
	for year, past := range map[string]bool{"2026": false, "2025": true} {
		m := household.Measure(text(year), "fam", household.Options{On: day(t)})
		if m.Facts == nil {
			t.Fatal(m.Outcome().Findings)
		}
		out := packing.List(t.Context(), text(year), rulebook(t), "fam", household.Options{On: day(t)})
		ls := &packing.PackingLists{On: "2026-11-01", Lists: finding.Each([]packing.PackingList{*out.Extra.(*packing.PackingList)})}
		forms := written(t, map[string]func(io.Writer) error{
			"text": func(w io.Writer) error { return report.ListText(w, ls) }, "CSV": func(w io.Writer) error { return report.ListCSV(w, ls) },
			"page": func(w io.Writer) error { return page.ListHTML(w, ls) },
		})
		for _, k := range kinds.Dates {
			inFacts := slices.ContainsFunc(m.Facts.Dates, func(d facts.Dated) bool { return d.Kind == k.Kind })
			if inFacts != (k.Figure != kinds.None) {
				t.Errorf("%s: it is among the facts: %t", k.Kind, inFacts)
			}
			words := k.Ahead
			if past {
				words = k.Past
			}
			if words != kinds.None {
				says(t, string(k.Kind), forms, true, words)
			}
		}
	}
}

func TestEveryStockIsShown(t *testing.T) {
	for _, k := range kinds.Stocks {
		kind := string(k.Kind)
		s := finding.Stock{Kind: k.Kind, Known: true, Lasts: 37, Have: 41_840_000, Need: 83_680_000, Short: 41_840_000}
		hours := audit.Hours{Doing: "w", WaterML: []int64{0}, FoodJ: []int64{0}, FuelML: []int64{0}, LightMin: []int64{0}}
		open, shared := audited(t, &audit.Sheet{Minutes: 72 * 60, Hours: hours, Stocks: []finding.Stock{s}})
		says(t, kind, of(open, "JSON"), true, `"kind":"`+kind+`"`)
		says(t, kind, of(open, "page"), true, k.Page, k.Text(unit.Metric, s.Have), k.Text(unit.Metric, s.Need))
		says(t, kind, shared, false, k.Text(unit.Metric, s.Have))
		told := k.Told != kinds.None
		says(t, kind, of(shared, "page"), told, "37 of 72 hours")
		says(t, kind, of(shared, "JSON"), told, `"lasts_hours":37`)
		if told {
			says(t, kind, of(shared, "JSON"), true, `"kind":"`+string(k.Told)+`"`)
			says(t, kind, of(shared, "page"), true, k.Told.Row().Page)
		}

		open, shared = drilledAll(t, &drill.Drilled{Base: drill.Fate{Text: "as it is", Hours: 72, Minutes: 4320, Lasts: []finding.Stock{s}}})
		says(t, kind, open, true, kind)
		says(t, kind, shared, told, "37")
		if told {
			says(t, kind, of(shared, "text for others"), true, k.Told.Row().ToldWords)
			says(t, kind, of(shared, "JSON for others"), true, `"stock":"`+string(k.Told)+`"`)
		}

		known := &facts.Facts{Endurance: facts.Endurance{Hours: 72, Stocks: []facts.Lasting{{ID: "endurance/" + kind, Kind: k.Kind, Known: true, Lasts: 37, Have: s.Have, Need: s.Need, Short: s.Short}}}}
		open, shared = comparedAll(t, known)
		says(t, kind, open, true, kind+" lasts", "37 h")
		says(t, kind, of(shared, "JSON"), k.Told == k.Kind, kind+" lasts")
		_, shared = measuredAll(t, known)
		says(t, kind, shared, told, "37")

		plan := &forecast.Input{Minutes: 60, Bodies: []forecast.Body{{ID: "people/ana", Name: "Ana"}}}
		result := forecast.Of(plan)
		result.Stocks = []forecast.Stock{{Kind: k.Kind, Body: -1}}
		result.Events = []forecast.Event{{Kind: forecast.Short, Stock: k.Kind, Body: -1, Amount: 4_184_000}}
		f := made(report.Forecast{Measured: report.Measured{Household: otter, Facts: known}, Plan: plan, Result: result})
		open = written(t, map[string]func(io.Writer) error{
			"forecast": func(w io.Writer) error { return report.ForecastText(w, f, report.Options{}) },
		})
		says(t, kind, open, true, k.Name, k.Text(unit.Metric, s.Have), "short")
		known.Endurance.Bodies = []facts.Burden{{ID: "people/ana"}}
		open = written(t, map[string]func(io.Writer) error{"forecast's JSON": func(w io.Writer) error { return report.ForecastJSON(w, f, report.Options{}) }})
		says(t, kind, open, true, `"kind":"`+kind+`"`, `"unit":"`+k.Unit+`"`)
	}
}

func TestEveryReasonWhyWaterIsShortIsShown(t *testing.T) {
	for _, k := range kinds.WaterLimits {
		known := &facts.Facts{Endurance: facts.Endurance{Hours: 72, WaterLimit: k.Kind, Bodies: []facts.Burden{{ID: "people/ana"}}}}
		plan := &forecast.Input{Minutes: 60, Bodies: []forecast.Body{{ID: "people/ana", Name: "Ana"}}, Sources: []forecast.Source{{ID: "plan/waterSources/well", Leg: -1}}, Vessels: []forecast.Vessel{{}}}
		result := forecast.Of(plan)
		result.WaterLimit = k.Kind
		f := made(report.Forecast{Measured: report.Measured{Household: otter, Facts: known}, Plan: plan, Result: result})
		text := func(write func(io.Writer, *report.Made[report.Forecast], report.Options) error) []form {
			forms := written(t, map[string]func(io.Writer) error{"forecast": func(w io.Writer) error { return write(w, f, report.Options{}) }})
			forms[0].text = strings.Join(strings.Fields(forms[0].text), " ")
			return forms
		}
		says(t, string(k.Kind), text(report.ForecastText), true, "water is short because "+k.Words)
		says(t, string(k.Kind), text(report.ForecastJSON), true, `"water_limit":"`+string(k.Kind)+`"`)
		_, shared := measuredAll(t, known)
		says(t, string(k.Kind), of(shared, "text for others"), true, k.Told)
		says(t, string(k.Kind), of(shared, "JSON for others"), true, `"water_limit":"`+string(k.Kind)+`"`)
	}
}

func TestEveryCapabilityIsShown(t *testing.T) {
	for _, k := range kinds.Capabilities {
		kind, words, told := string(k.Kind), k.Kind.Words(), k.Told == kinds.Tell
		quoted := `"` + kind + `"`
		open, shared := audited(t, &audit.Sheet{Minutes: 60, People: []string{"Ana"}, Abilities: []audit.Ability{{Capability: k.Kind, Means: []string{"x"}, By: []int64{1}, HangsBy: []bool{true}}}})
		says(t, kind, of(open, "JSON"), true, quoted)
		says(t, kind, of(open, "page"), true, `<th scope=row>`+words+`</th>`)
		says(t, kind, of(shared, "JSON"), told, quoted)
		says(t, kind, of(shared, "page"), told, `<th scope=row>`+words+`</th>`)

		loss := []finding.Loss{{Capability: k.Kind, All: true, Who: []string{"Ana"}}}
		base := drill.Fate{Text: "as it is", Hours: 72, Minutes: 4320}
		lost := drill.Fate{Key: "dry", Kind: kinds.DrillDry, Text: "dry", Hours: 72, Minutes: 4320, Lost: loss}
		open, shared = drilledAll(t, &drill.Drilled{Base: base, Drills: []drill.Fate{lost}, Points: []finding.Point{{Item: "packs/rust", Name: "the thing", Losses: loss}}})
		says(t, kind, of(open, "text"), true, "gone for all of them: "+kind, "the household's only "+k.Only)
		says(t, kind, of(open, "JSON"), true, `"capability":`+quoted)
		says(t, kind, of(shared, "text for others"), told, "gone for all: "+words, "depends on one item: "+words)
		says(t, kind, of(shared, "JSON for others"), told, quoted)

		known := &facts.Facts{}
		known.Household.Supply.Can = []facts.Can{{Capability: k.Kind, Means: []string{"x"}, MeansCount: 1}}
		open, shared = measuredAll(t, known)
		says(t, kind, of(open, "text"), true, "\n  "+kind+" ")
		says(t, kind, of(open, "JSON"), true, `"capability":`+quoted)
		says(t, kind, of(shared, "text for others"), told, "ways in the household: "+words)
		says(t, kind, of(shared, "JSON for others"), told, quoted)
		open, shared = comparedAll(t, known)
		says(t, kind, open, true, kind+", for the household")
		says(t, kind, shared, told, kind+", for the household")
	}
}

func TestEveryReachIsShown(t *testing.T) {
	m := regexp.MustCompile(`\n\treach!: =~"\^\(([a-z|]+)\)\$"`).FindSubmatch(schema.Kit)
	var inSchema []string
	if m != nil {
		inSchema = strings.Split(string(m[1]), "|")
	}
	for _, k := range kinds.Reaches {
		kind := string(k.Kind)
		if slices.Contains(inSchema, kind) != k.Compartment {
			t.Errorf("%s: the schema has the reaches %v", kind, inSchema)
		}
		if !k.Compartment {
			continue
		}
		l := packing.PackingList{Household: otter, Packs: []packing.PackedPack{{Name: "Rust", Carrier: "Ana", Parts: []packing.PackedPart{{Name: "lid", Reach: k.Kind, Items: []packing.PackedItem{{Name: "lamp", Count: 1}}}}}}}
		ls := &packing.PackingLists{On: "2026-11-01", Lists: finding.Each([]packing.PackingList{l})}
		says(t, kind, written(t, map[string]func(io.Writer) error{
			"text": func(w io.Writer) error { return report.ListText(w, ls) }, "page": func(w io.Writer) error { return page.ListHTML(w, ls) },
		}), true, k.Words)
		says(t, kind, written(t, map[string]func(io.Writer) error{"CSV": func(w io.Writer) error { return report.ListCSV(w, ls) }}), true, ","+kind+",")
		open, _ := measuredAll(t, &facts.Facts{Carriers: []facts.Carrier{{ID: "people/ana", Packs: []string{"packs/rust"}}}, Packs: []facts.Pack{{ID: "packs/rust", Name: "Rust", Carrier: "people/ana"}}, Compartments: []facts.Compartment{{ID: "packs/rust/x", Pack: "packs/rust", Name: "lid", Reach: k.Kind}}})
		says(t, kind, open, true, kind)
		open, _ = audited(t, &audit.Sheet{Minutes: 60, Bearers: []audit.Bearer{{Name: "Ana", Packs: []audit.PackLoad{{Name: "Rust", Parts: []audit.PartLoad{{Name: "lid", Reach: k.Kind}}}}}}})
		says(t, kind, of(open, "JSON", "page"), true, kind)
	}
	if len(inSchema) == 0 {
		t.Error("the schema has no reach")
	}
}

func TestEveryQuantityIsWritten(t *testing.T) {
	for _, k := range kinds.Quantities {
		if a := (facts.Amount{Kind: k.Kind, Value: 5_000_000}); a.String() != k.Text(unit.Metric, a.Value) || a.String() == "" {
			t.Errorf("%s: %q", k.Kind, a)
		}
	}
}

// What a finding misses is told in every format, with its unit, and comes back from those that are read.
func TestEveryUnitIsShown(t *testing.T) {
	m := regexp.MustCompile(`\n\tunit!: =~"\^\(([a-z|]+)\)\$"`).FindSubmatch(schema.Standard)
	if m == nil {
		t.Fatal("the schema of standards has no unit")
	}
	inSchema := strings.Split(string(m[1]), "|")
	want := []string{string(kinds.UnitList)}
	for _, k := range kinds.Units {
		want = append(want, string(k.Kind))
		kind, lacks := string(k.Kind), k.Lack != kinds.None
		if n, err := judge.LimitValue(strings.Trim(k.Example, `"`), k.Kind); err != nil || judge.LimitText(n, k.Kind) == "" {
			t.Errorf("%s: a limit of %s is %d, %v", kind, k.Example, n, err)
		}
		if slices.Contains(kinds.Lacks(), k.Kind) != lacks {
			t.Errorf("%s may lack: %t", kind, !lacks)
		}
		if !lacks {
			continue
		}
		lack := &finding.Shortfall{What: "a thing", Unit: k.Kind, Amount: 77}
		fs := []finding.Finding{{Rule: "a/b", Level: finding.Error, Message: "m", Household: "Otter", Path: "otter", Spot: "packs", Lack: lack}}
		run := made[int]().Run
		run.Rules = []finding.Rule{{Name: "a/b", Title: "t", Level: finding.Error}}
		run.Count([]finding.Household{otter}, fs...)
		a := &audit.Audit{Run: run, Households: finding.Each([]audit.Audited{{Household: otter, Findings: fs}})}
		forms := written(t, map[string]func(io.Writer) error{
			"JSON": func(w io.Writer) error { return report.JSON(w, run, report.Options{}) }, "SARIF": func(w io.Writer) error { return report.SARIF(w, run, report.Options{}) },
			"CSV": func(w io.Writer) error { return report.AuditFindings(w, a) },
		})
		says(t, kind, of(forms, "JSON", "SARIF"), true, `"unit":"`+kind+`"`)
		says(t, kind, of(forms, "CSV"), true, ",77,"+kind+",")
		for name, read := range map[string]func(io.ReaderAt, int64) (*finding.Run, error){"JSON": report.ReadJSON, "SARIF": report.ReadSARIF} {
			text := of(forms, name)[0].text
			back, err := read(strings.NewReader(text), int64(len(text)))
			if err != nil {
				t.Errorf("%s: %s: %v", kind, name, err)
				continue
			}
			if got, err := back.Findings.All(); err != nil || len(got) != 1 || got[0].Lack == nil || *got[0].Lack != *lack {
				t.Errorf("%s: %s comes back as %+v, %v", kind, name, got, err)
			}
		}
		trial := &trial.Trial{Households: []trial.Tried{{Household: otter}}, Totals: []trial.Total{{What: "a thing", Unit: k.Kind, Old: 77, New: 77, Households: 1}}}
		says(t, kind, written(t, map[string]func(io.Writer) error{"trial": func(w io.Writer) error { return report.TrialText(w, trial, report.Options{}) }}), true, k.LackText(77))
		says(t, kind, written(t, map[string]func(io.Writer) error{"trial's JSON": func(w io.Writer) error { return report.TrialJSON(w, trial, report.Options{}) }}), true, `"unit":"`+kind+`"`)
	}
	slices.Sort(want)
	slices.Sort(inSchema)
	if !slices.Equal(want, inSchema) {
		t.Errorf("units are %v, and the schema of standards has %v", want, inSchema)
	}
}

// Every figure has a unit that is written, or none where it only is there or is not.
func TestEveryFigureIsWritten(t *testing.T) {
	for _, k := range kinds.Figures {
		was, now := compare.Figure{Group: "g", ID: "g/x", Label: "l", Unit: k.Kind, Value: 2000}, compare.Figure{Group: "g", ID: "g/x", Label: "l", Unit: k.Kind, Value: 3000}
		c := &compare.Comparison{Run: made[int]().Run, Households: []compare.Compared{{Household: otter, Changes: []compare.Change{{Before: &was, Now: &now}}}}}
		says(t, string(k.Kind), written(t, map[string]func(io.Writer) error{
			"text": func(w io.Writer) error { return report.CompareText(w, c, report.Options{}) }, "markdown": func(w io.Writer) error { return report.CompareMarkdown(w, c, report.Options{}) },
		}), true, k.Text(unit.Metric, 2000)+" → "+k.Text(unit.Metric, 3000)+" (+"+k.Change(unit.Metric, 1000)+")")
	}
	tree, dirs := os.DirFS("../examples/harrow-valley"), []string{"alder", "birch", "cedar"}
	for _, dir := range dirs {
		for _, f := range compare.Figures(household.Measure(tree, dir, household.Options{On: day(t)}).Facts) {
			if f.Unit != "" && f.Unit.Row().Kind == "" {
				t.Errorf("%s: %s is in %q", dir, f.ID, f.Unit)
			}
		}
	}
}

var namesCapability = regexp.MustCompile(`\b(?:_?offers\(|(?:means|items|too_few)\([a-z_.\[\]]+, |\bcapability [!=]= )"([^"]*)"`)

// A rule that names a capability that there is not would never find one.
func TestRulesNameCapabilitiesThatThereAre(t *testing.T) {
	n := 0
	err := fs.WalkDir(policies.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".rego") {
			return err
		}
		b, err := fs.ReadFile(policies.FS(), name)
		for i, line := range strings.Split(string(b), "\n") {
			for _, m := range namesCapability.FindAllStringSubmatch(line, -1) {
				if n++; kinds.Capability(m[1]).Row().Kind == "" {
					t.Errorf("%s:%d: no capability is called %q", name, i+1, m[1])
				}
			}
		}
		return err
	})
	if err != nil || n < 40 {
		t.Errorf("%d, %v", n, err)
	}
	for _, limit := range []string{"alone"} {
		_, list := rulebook(t).InForce("separation", limit, nil)
		for _, c := range list {
			if kinds.Capability(c).Row().Kind == "" {
				t.Errorf("separation.%s: no capability is called %q", limit, c)
			}
		}
		if len(list) == 0 {
			t.Errorf("separation.%s is empty", limit)
		}
	}
}
