package page

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// hostile is what a kit or a standard might say to break a page, all at once.
const hostile = "\"'><script>alert(1)</script><svg onload=alert(2)><img src=http://example.invalid/x onerror=alert(3)><a href=\"javascript:alert(4)\">x</a>" +
	"</style></title></textarea><!-- --><style>*{display:none}</style>{{.}}\u202e\u2066\x00\x1b[31m\r\n=cmd|'/C calc'!A0 BEGIN:VEVENT"

// fill puts a text into every string below a value, and something into everything else.
func fill(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(3)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), text)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 3, 3))
		for i := range 3 {
			fill(v.Index(i), text)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fill(v.Field(i), text)
			}
		}
	}
}

// household is one in which every text is the same.
func household(text string, i int) *audit.Audited {
	h := &audit.Audited{}
	fill(reflect.ValueOf(h).Elem(), text)
	h.Household.Path, h.Nowhere = fmt.Sprintf("%s%d", text, i), i == 1
	for k, l := range []finding.Level{finding.Error, finding.Warning, finding.Note} {
		h.Findings[k].Level = l
		h.Findings[k].At.Start = source.Point{Line: 3, Col: 2}
		if k > 0 {
			h.Findings[k].Waived = nil
		}
	}
	s := h.Sheet
	s.Minutes = 3 * 60
	s.Hours = audit.Hours{Doing: "whz", Dark: "..#", WaterML: []int64{3, 2, 1}, FoodJ: []int64{3, 2, 1}, FuelML: []int64{3, 2, 1}, LightMin: []int64{3, 2, 1}}
	for k, kind := range []kinds.Stock{kinds.StockWater, kinds.StockDoses, kinds.StockEnergy} {
		s.Stocks[k].Kind = kind
	}
	for k, kind := range []kinds.Date{kinds.DateExpires, kinds.DateLicence, kinds.DateWaiver} {
		s.Due[k].Kind = kind
	}
	return h
}

// auditOf is an audit of households in which every text is the same, with rules, remarks and a history.
func auditOf(text string, n int) *audit.Audit {
	a := &audit.Audit{
		Run: &finding.Run{On: "2026-11-01", Version: text, Partial: text}, Season: text, Until: "2027-03-01", OnDay: 20758, UntilDay: 20878, Past: "commits",
		Standards: []audit.StandardID{{Name: text, Version: text, Digest: text}}, History: &finding.History{Remarks: []string{text}, Partial: text},
	}
	for _, name := range []string{text, "fire/two-means"} {
		a.Run.Rules = append(a.Run.Rules, finding.Rule{Name: name, Title: text, Why: text, Remedy: text, Caution: text, Sources: []string{text}, Level: finding.Error, Mend: finding.Fix{Work: finding.ToAdd, Thing: text}})
	}
	var all []*audit.Audited
	var hs []finding.Household
	for i := range n {
		h := household(text, i)
		all, hs = append(all, h), append(hs, h.Household)
		a.History.Households = append(a.History.Households, finding.Course{Path: h.Household.Path, Points: []finding.Trend{
			{Day: "2026-10-01", There: true, Judged: true, Errors: 4, LoadPermille: 170, WaterKnown: true, WaterHours: 30, PlanHours: 72}, {Day: "2026-09-01", There: true}, {Day: "2026-08-01"},
		}})
	}
	a.Run.Households = hs
	a.Households = func(yield func(*audit.Audited, error) bool) {
		for _, h := range all {
			if !yield(h, nil) {
				return
			}
		}
	}
	return a
}

type file struct{ bytes.Buffer }

func (f *file) Close() error { return nil }

// pagesOf are the files of an audit, by name.
func pagesOf(t *testing.T, a *audit.Audit, most int64) map[string]string {
	t.Helper()
	files := map[string]*file{}
	o := Options{Most: most, Spool: func() (*os.File, error) { return os.CreateTemp(t.TempDir(), "") }, Create: func(name string) (io.WriteCloser, error) {
		files[name] = &file{}
		return files[name], nil
	}}
	if err := Audit(a, o); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for name, f := range files {
		out[name] = f.String()
	}
	return out
}

// elements and attributes are those that our pages are made of: nothing else comes out of any text.
var (
	elements = strings.Fields("html head meta title style body header nav main footer section article div p h1 h2 h3 h4 dl dt dd ul ol li table caption thead tbody tr th td a b br i small span code svg defs pattern path figure figcaption details summary fieldset legend label input script")
	attrs    = strings.Fields("lang charset http-equiv content name class id href role scope style data-o data-l aria-label aria-hidden viewbox width height preserveaspectratio patternunits patterntransform d colspan open type checked")
	links    = regexp.MustCompile(`^((\.\./audit\.html)?#[a-zA-Z0-9_.-]+|households/h-[0-9a-f]{24}\.html)$`)
	styles   = regexp.MustCompile(`^(left:[0-9.]+%|grid-column:span [0-9]+)$`)
)

// ownElement wants an element to be one that the pages write, with attributes that they write.
func ownElement(t *testing.T, page string, n *html.Node) {
	t.Helper()
	if !slices.Contains(elements, n.Data) {
		t.Errorf("%s: an element %s", page, n.Data)
	}
	for _, a := range n.Attr {
		if !slices.Contains(attrs, strings.ToLower(a.Key)) {
			t.Errorf("%s: an attribute %s=%q of %s", page, a.Key, a.Val, n.Data)
		}
		if a.Key == "href" && !links.MatchString(a.Val) {
			t.Errorf("%s: a link to %q", page, a.Val)
		}
		if a.Key == "style" && !styles.MatchString(a.Val) {
			t.Errorf("%s: a style %q", page, a.Val)
		}
	}
}

// Whatever a family or a standard writes, it is text on the page and nothing else, and no invisible mark turns it round.
func TestHostileTextIsOnlyText(t *testing.T) {
	for _, split := range []bool{false, true} {
		most := int64(0)
		if split {
			most = 1
		}
		pages := pagesOf(t, auditOf(hostile, 2), most)
		if want := map[bool]int{false: 1, true: 3}[split]; len(pages) != want {
			t.Fatalf("%d pages", len(pages))
		}
		for name, text := range pages {
			doc, err := html.Parse(strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			scripts, styles, shown := 0, 0, ""
			for n := range doc.Descendants() {
				switch {
				case n.Type == html.CommentNode:
					t.Errorf("%s: a comment: %q", name, n.Data)
				case n.Type == html.TextNode && n.Parent.Data == "script":
					scripts++
					if n.Data != pageJS {
						t.Errorf("%s: a script of somebody else: %q", name, n.Data)
					}
				case n.Type == html.TextNode && n.Parent.Data == "style":
					styles++
					if n.Data != pageCSS+auditCSS {
						t.Errorf("%s: a style of somebody else: %q", name, n.Data)
					}
				case n.Type == html.TextNode:
					shown += n.Data
				case n.Type == html.ElementNode:
					ownElement(t, name, n)
				}
			}
			if i := strings.IndexAny(shown, "\u202e\u2066\x1b\x00"); i >= 0 {
				t.Errorf("%s: marks that nobody sees: %q", name, shown[max(0, i-400):i])
			}
			if want := 1; name == AuditPage && scripts != want || styles != 1 || name != AuditPage && scripts != 0 {
				t.Errorf("%s: %d scripts, %d styles", name, scripts, styles)
			}
			if !strings.Contains(shown, "<script>alert(1)</script><svg onload=alert(2)>") {
				t.Errorf("%s does not show what was written", name)
			}
			if strings.Contains(text, "ZgotmplZ") {
				t.Errorf("%s: a value that the template would not write: %.300s", name, text[strings.Index(text, "ZgotmplZ")-200:])
			}
		}
	}
}

// Every link leads somewhere, in one page and in a split audit, and every name stands once.
func TestLinksLeadSomewhere(t *testing.T) {
	for _, most := range []int64{0, 1} {
		pages := pagesOf(t, auditOf("Fen/a b", 3), most)
		ids := map[string]bool{}
		for name, text := range pages {
			ids[name] = true
			for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(text, -1) {
				if ids[name+"#"+m[1]] {
					t.Errorf("%s: two of %s", name, m[1])
				}
				ids[name+"#"+m[1]] = true
			}
		}
		n := 0
		for name, text := range pages {
			for _, m := range regexp.MustCompile(` href="([^"]*)"`).FindAllStringSubmatch(text, -1) {
				to := html.UnescapeString(m[1])
				switch {
				case strings.HasPrefix(to, "#"):
					to = name + to
				case strings.HasPrefix(to, "../") && name != AuditPage:
					to = strings.TrimPrefix(to, "../")
				}
				if n++; !ids[to] {
					t.Errorf("%s: %s leads nowhere", name, to)
				}
			}
		}
		if n < 9 {
			t.Errorf("%d links", n)
		}
	}
}

// The same audit gives the same bytes.
func TestAuditIsTheSameTwice(t *testing.T) {
	a, b := pagesOf(t, auditOf("Fen", 3), 0), pagesOf(t, auditOf("Fen", 3), 0)
	if a[AuditPage] != b[AuditPage] {
		t.Error("two audits of the same differ")
	}
}

// Figures in columns are rounded as the findings round them, and what is there is never nought.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		in   unit.System
		mg   int64
		want string
	}{
		{unit.Metric, 1_374_999, "1.37 kg"}, {unit.Metric, 1_375_000, "1.38 kg"}, {unit.Metric, 4_999, "< 0.01 kg"}, {unit.Metric, 5_000, "0.01 kg"}, {unit.Metric, 0, "0.00 kg"},
		{unit.US, 1_360_777, "3.0 lb"}, {unit.US, 1_383_456, "3.0 lb"}, {unit.US, 1_383_457, "3.1 lb"}, {unit.US, 22_679, "< 0.1 lb"}, {unit.US, 22_680, "0.1 lb"}, {unit.US, 0, "0.0 lb"},
	} {
		if got := weight(c.in, c.mg); got != c.want {
			t.Errorf("%d mg: %s, want %s", c.mg, got, c.want)
		}
	}
}

// What is said of several households is in the units of most of them, and what is said of one in its own.
func TestPageSpeaksTheUnitsOfMost(t *testing.T) {
	for _, c := range []struct{ us, of int }{{0, 3}, {1, 3}, {1, 2}, {2, 3}, {3, 3}} {
		a := auditOf("Fen", c.of)
		for i := range a.Run.Households {
			a.Run.Households[i].Units = unit.Metric
		}
		i := 0
		for h, err := range a.Households {
			if err != nil {
				t.Fatal(err)
			}
			h.Nowhere, h.Sheet.Units = false, unit.Metric
			if i < c.us {
				a.Run.Households[i].Units, h.Household.Units, h.Sheet.Units = unit.US, unit.US, unit.US
			}
			for k := range h.Sheet.Bearers {
				b := &h.Sheet.Bearers[k]
				b.LoadMG, b.CapMG, b.MostMG, b.LoadLeast, b.BodyAssumed = 12_000_000, 10_000_000, 12_000_000, false, false
			}
			i++
		}
		page := pagesOf(t, a, 0)[AuditPage]
		everyone := page[strings.Index(page, "<h2>Everyone"):]
		everyone = everyone[:strings.Index(everyone, "</table>")]
		pounds, kilos := strings.Count(everyone, "4.4 lb over"), strings.Count(everyone, "2.00 kg over")
		if most := c.us*2 > c.of; most && (pounds != c.of || kilos != 0) || !most && (kilos != c.of || pounds != 0) {
			t.Errorf("%d of %d: %d figures in pounds, %d in kilograms", c.us, c.of, pounds, kilos)
		}
		if in, metric := strings.Count(page, "what each carries, in lb"), strings.Count(page, "what each carries, in kg"); in != c.us || metric != c.of-c.us {
			t.Errorf("%d of %d: %d tables in pounds, %d in kilograms", c.us, c.of, in, metric)
		}
		if n := strings.Count(page, "scale from 0 to 30 lb (13.61 kg)"); n != 3*c.us {
			t.Errorf("%d of %d: %d scales in pounds", c.us, c.of, n)
		}
	}
}

// A page says what it is made of, and the cautions.
func TestAuditSaysWhatItIsMadeOf(t *testing.T) {
	a := auditOf("Fen", 1)
	a.Standards = []audit.StandardID{{Name: "harrow", Version: "1.1.0", Digest: "sha256:47f7"}}
	a.Run.Version, a.Season = "v9", "cold-wet"
	for _, most := range []int64{0, 1} {
		for name, text := range pagesOf(t, a, most) {
			for _, want := range append([]string{"2026-11-01", "2027-03-01", "cold-wet", "harrow 1.1.0 <code>sha256:47f7</code>", "kitmuster v9"}, Cautions...) {
				if !strings.Contains(text, want) {
					t.Errorf("%s does not say %s", name, want)
				}
			}
		}
	}
}

// What fails while an audit is written is told, wherever it happens.
func TestAuditTellsWhatFails(t *testing.T) {
	bad := errors.New("no room")
	spool := func() (*os.File, error) { return os.CreateTemp(t.TempDir(), "") }
	good := func(string) (io.WriteCloser, error) { return &file{}, nil }
	walk := auditOf("Fen", 2)
	walk.Households = func(yield func(*audit.Audited, error) bool) { yield(nil, bad) }
	for name, c := range map[string]struct {
		a *audit.Audit
		o Options
	}{
		"no spool":      {auditOf("Fen", 1), Options{Create: good, Spool: func() (*os.File, error) { return nil, bad }}},
		"no file":       {auditOf("Fen", 1), Options{Spool: spool, Create: func(string) (io.WriteCloser, error) { return nil, bad }}},
		"no second":     {auditOf("Fen", 1), Options{Spool: spool, Most: 1, Create: func(n string) (io.WriteCloser, error) { return &file{}, map[bool]error{true: bad}[n != AuditPage] }}},
		"a full disk":   {auditOf("Fen", 1), Options{Spool: spool, Create: func(string) (io.WriteCloser, error) { return full{bad}, nil }}},
		"a broken walk": {walk, Options{Spool: spool, Create: good}},
	} {
		if err := Audit(c.a, c.o); !errors.Is(err, bad) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

type full struct{ err error }

func (f full) Write([]byte) (int, error) { return 0, f.err }
func (f full) Close() error              { return nil }

// WCAG 2.2, 1.4.3 and 1.4.11: text at 4.5 to 1 against what it stands on, lines and marks at 3 to 1, by the formula of relative
// luminance there, in both colour schemes.
func TestContrast(t *testing.T) {
	for scheme, block := range map[string]string{
		"light": regexp.MustCompile(`:root\{color-scheme[^}]*\}`).FindString(pageCSS), "dark": regexp.MustCompile(`prefers-color-scheme:dark\)\{:root\{[^}]*\}`).FindString(pageCSS),
	} {
		colours := map[string]float64{}
		for _, m := range regexp.MustCompile(`--([a-z0-9]+):#([0-9a-f]{3,6})\b`).FindAllStringSubmatch(block, -1) {
			colours[m[1]] = luminance(t, m[2])
		}
		for pair, least := range map[string]float64{
			"ink paper": 4.5, "soft paper": 4.5, "link paper": 4.5, "e paper": 4.5, "w paper": 3, "n paper": 3, "ok paper": 3, "water paper": 3, "food paper": 3, "ink faint": 4.5, "soft faint": 4.5, "link faint": 4.5,
			"e faint": 4.5, "w faint": 3, "n faint": 3, "ok faint": 3, "water faint": 3, "food faint": 3, "line paper": 3, "bar paper": 3, "cap paper": 3, "cap bar": 2, "ink night": 3, "ink bar2": 3,
		} {
			of, on, _ := strings.Cut(pair, " ")
			a, b := colours[of], colours[on]
			if ratio := (max(a, b) + 0.05) / (min(a, b) + 0.05); ratio < least {
				t.Errorf("%s: %s has %.2f to 1", scheme, pair, ratio)
			}
		}
	}
}

// luminance of an sRGB colour, WCAG 2.2, "relative luminance".
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	var rgb [3]int
	if _, err := fmt.Sscanf(hex, "%02x%02x%02x", &rgb[0], &rgb[1], &rgb[2]); err != nil {
		t.Fatal(err)
	}
	var sum float64
	for i, w := range []float64{0.2126, 0.7152, 0.0722} {
		c := float64(rgb[i]) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += w * c
	}
	return sum
}

// However many findings a household has, paper leaves out the least grave ones, and says how many.
func TestPaperHasRoomForSoMuch(t *testing.T) {
	line := func(class string, letters int) item {
		return item{Class: class, Things: []thing{{Text: strings.Repeat("x", letters-eachItem)}}}
	}
	groups := []actGroup{{Items: []item{line("n", 1000), line("w", 1000), line("e", 3000)}}, {Items: []item{line("w", 4000), line("w", 1000)}}, {Items: []item{line("n", 100)}}}
	n := fit(groups, 2900)
	var got []string
	for _, g := range groups {
		text := fmt.Sprintf("%t %q %q", g.Notes, g.Left1, g.Left2)
		for _, x := range g.Items {
			text += fmt.Sprintf(" %s:%s", x.Class, x.Left)
		}
		got = append(got, text)
	}
	want := []string{
		`false "" "and 1 more, on the screen" n:x1 x2 w: e:`, // 2900, 3000 and 1000 fit on one page
		`false "and 2 more, on the screen" "" w:x1 w:x1`,     // 10,900 and 11,900: on two pages
		`true "" "and 1 more, on the screen" n:x1 x2`,
	}
	if n != 10_100 || !slices.Equal(got, want) {
		t.Errorf("%d letters, %q", n, got)
	}
	if got := counted([]string{"bar", "nuts", "bar"}); !slices.Equal(got, []string{"bar (2)", "nuts"}) {
		t.Errorf("%q", got)
	}
}

// The page prints everything unless told otherwise, or nobody chooses otherwise on it.
func TestWhatIsPrinted(t *testing.T) {
	for _, most := range []int64{0, 1} {
		for _, brief := range []bool{false, true} {
			var out file
			err := Audit(auditOf("Fen", 2), Options{Most: most, Brief: brief, Spool: func() (*os.File, error) { return os.CreateTemp(t.TempDir(), "") }, Create: func(name string) (io.WriteCloser, error) {
				if name != AuditPage {
					return &file{}, nil
				}
				return &out, nil
			}})
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.Contains(out.String(), `id="brief" checked`); got != brief || strings.Contains(out.String(), `id="full" checked`) == brief {
				t.Errorf("brief %t, but %t", brief, got)
			}
		}
	}
}
