package page

import (
	"bytes"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/packing"
	"kitmuster/lint/unit"
)

// sampleLists are lists that a test may change.
type sampleLists struct {
	Version, On string
	Lists       []packing.PackingList
	Left        []string
}

// listSample is a household with one of everything.
func listSample() *sampleLists {
	return &sampleLists{Version: "v0", On: "2026-11-01", Left: []string{"cedar"}, Lists: []packing.PackingList{{
		Household: finding.Household{Name: "Alder", Path: "alder"}, Season: "flood: 11 °C by day, 4 °C by night", LoadMG: 3_500_000, WornMG: 120_000,
		Packs: []packing.PackedPack{{Name: "Rust", Carrier: "Ana", Colours: []string{"red", "blue"}, MassMG: 3_500_000, EmptyMG: 1_000_000, Parts: []packing.PackedPart{
			{Name: "lid", Reach: "walking", For: "light, fire", QuickShed: true, MassMG: 2_484_000, Items: []packing.PackedItem{
				{Name: "bottle", Count: 2, MassMG: 2_484_000, EachMG: 1_242_000, Notes: []string{"with 2 L of water", "replace on 2027-02-01"}},
			}},
			{Name: "main", Reach: "halted", MassMG: 16_000, Items: []packing.PackedItem{{Name: "soap", Count: 1, MassMG: 16_000, EachMG: 16_000, Past: "PAST its last day", Notes: []string{"for Bo"}}}},
		}}},
		Worn:       []packing.PackedPart{{Name: "Ana", MassMG: 120_000, Items: []packing.PackedItem{{Name: "phone", Count: 1, MassMG: 120_000, EachMG: 120_000}}}},
		LastMinute: []packing.LastMinute{{What: "cheese", Why: "stays at home", Where: "Rust, lid", Past: "PAST its last day"}},
		Cards: []packing.Card{{Name: "Ana", About: "42 years", Sections: []packing.CardSection{
			{Title: "Takes", Lines: []packing.CardLine{{Text: "Pen, 4 a day"}, {Text: "2 doses", Past: "PAST its last day", Under: true}}},
			{Title: "Call", Lines: []packing.CardLine{{Text: "none recorded"}}, Missing: true},
		}}},
	}}}
}

func listOf(t *testing.T, ls *sampleLists) string {
	t.Helper()
	var b bytes.Buffer
	if err := ListHTML(&b, &packing.PackingLists{Version: ls.Version, On: ls.On, Lists: finding.Each(ls.Lists), Left: ls.Left}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The body of a small page, as it is.
func TestListHTML(t *testing.T) {
	got := listOf(t, listSample())
	if diff := cmp.Diff(bodyOfListed, got[strings.Index(got, "<body>"):]); diff != "" {
		t.Error(diff)
	}
}

// In US units each mass stands in two units, in a wider column.
func TestListHTMLInUSUnits(t *testing.T) {
	ls := listSample()
	ls.Lists[0].Household.Units = unit.US
	got := listOf(t, ls)
	for _, want := range []string{
		`<section class="household both"`, "7.7 lb (3.50 kg) in packs, 4.2 oz (120 g) worn or pocketed", `<strong>7.7 lb (3.50 kg)</strong>, empty 2.2 lb (1.00 kg)`,
		`<td class="mass">5.5 lb (2.48 kg)</td>`, "2.7 lb (1.24 kg) each",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not in the page", want)
		}
	}
}

const bodyOfListed = `<body>
<header>
<h1><bdi>Packing lists: Alder</bdi></h1>
<p>As of 2026-11-01, by Kitmuster v0. Private: this page tells names, medicines and where things are.</p>
<p class="left"><strong>Not listed, because it could not be read:</strong> <bdi class="path">cedar</bdi></p>
</header>
<main>
<section class="household" id="household-1" aria-labelledby="household-1-name">
<h2 id="household-1-name"><bdi>Alder</bdi></h2>
<p><bdi class="path">alder</bdi>: 3.50 kg in packs, 120 g worn or pocketed. Planned for <bdi>flood: 11 °C by day, 4 °C by night</bdi>.</p>
<section>
<h3>From home at the last minute</h3>
<table>
<thead><tr><th scope="col" class="box">Tick</th><th scope="col">What</th><th scope="col" class="where">Goes to</th></tr></thead>
<tbody>
<tr class="past"><td class="box"><input type="checkbox" id="box-1"></td><th scope="row"><label for="box-1"><bdi>cheese</bdi> <strong><bdi>PAST its last day</bdi></strong></label> <span class="notes"><bdi>stays at home</bdi></span></th><td class="where"><bdi>Rust, lid</bdi></td></tr>
</tbody>
</table>
</section>
<section>
<h3>Worn or pocketed</h3>
<table>
<thead><tr><th scope="col" class="box">Tick</th><th scope="col" class="count">Count</th><th scope="col">Thing</th><th scope="col" class="mass">Mass of all</th></tr></thead>
<tbody>
<tr class="group"><th scope="rowgroup" colspan="3"><bdi>Ana</bdi></th><td class="mass">120 g</td></tr>
<tr><td class="box"><input type="checkbox" id="box-2"></td><td class="count">1</td><th scope="row"><label for="box-2"><bdi>phone</bdi></label></th><td class="mass">120 g</td></tr>
</tbody>
</table>
</section>
<section class="pack">
<h3><bdi>Rust</bdi></h3>
<p><bdi>Alder</bdi>, as of 2026-11-01. Carried by <bdi>Ana</bdi>; seen from outside: <bdi>red, blue</bdi>. <strong>3.50 kg</strong>, empty 1.00 kg.</p>
<table>
<thead><tr><th scope="col" class="box">Tick</th><th scope="col" class="count">Count</th><th scope="col">Thing</th><th scope="col" class="mass">Mass of all</th></tr></thead>
<tbody>
<tr class="group"><th scope="rowgroup" colspan="3"><bdi>lid</bdi> <span class="notes"><bdi>reached while walking; light, fire; comes off in seconds</bdi></span></th><td class="mass">2.48 kg</td></tr>
<tr><td class="box"><input type="checkbox" id="box-3"></td><td class="count">2</td><th scope="row"><label for="box-3"><bdi>bottle</bdi></label> <span class="notes"><bdi>1.24 kg each; with 2 L of water; replace on 2027-02-01</bdi></span></th><td class="mass">2.48 kg</td></tr>
</tbody>
<tbody>
<tr class="group"><th scope="rowgroup" colspan="3"><bdi>main</bdi> <span class="notes"><bdi>reached when halted</bdi></span></th><td class="mass">16 g</td></tr>
<tr class="past"><td class="box"><input type="checkbox" id="box-4"></td><td class="count">1</td><th scope="row"><label for="box-4"><bdi>soap</bdi> <strong><bdi>PAST its last day</bdi></strong></label> <span class="notes"><bdi>for Bo</bdi></span></th><td class="mass">16 g</td></tr>
</tbody>
</table>
</section>
<section class="pack">
<h3>Cards to cut out</h3>
<p><bdi>Alder</bdi>, as of 2026-11-01. They advise: labels, local law and licensed practice come first.</p>
<div class="cards">
<section class="card">
<h4><bdi>Ana</bdi> <span class="notes"><bdi>42 years</bdi></span></h4>
<dl>
<dt>Takes</dt><dd><bdi>Pen, 4 a day</bdi></dd><dd class="under"><bdi>2 doses</bdi> <strong><bdi>PAST its last day</bdi></strong></dd>
<dt>Call</dt><dd><bdi>none recorded</bdi></dd><dd class="blank"></dd>
</dl>
</section>
</div>
</section>
</section>
</main>
</body>
</html>

`

// fillList writes s into every text of v, and makes one element of each empty list. It gives the number of texts.
func fillList(v reflect.Value, s string) (n int) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(s)
		return 1
	case reflect.Struct:
		for i := range v.NumField() {
			n += fillList(v.Field(i), s)
		}
	case reflect.Slice:
		if v.Len() == 0 {
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		}
		for i := range v.Len() {
			n += fillList(v.Index(i), s)
		}
	}
	return n
}

// Whatever stands in any text of a list is shown, and does nothing.
func TestListHTMLIsNoWay(t *testing.T) {
	for _, c := range []struct{ in, shown string }{
		{`<script>alert(1)</script>`, `&lt;script&gt;alert(1)&lt;/script&gt;`},
		{`</title></style></bdi><svg onload=alert(1)>`, `&lt;/title&gt;&lt;/style&gt;&lt;/bdi&gt;&lt;svg onload=alert(1)&gt;`},
		{`" onmouseover="x" '`, `&#34; onmouseover=&#34;x&#34; &#39;`},
		{`javascript:alert(1)`, `javascript:alert(1)`},
		{`<!-- & -->`, `&lt;!-- &amp; --&gt;`},
		{`{{.CSS}}`, `{{.CSS}}`},
		{"a\u202eb\u2066c\u200fd", `a\u202eb\u2066c\u200fd`},
		{"a\nb\rc\td\x00e\x1b[2J", `a\u000ab\u000dc\u0009d\u0000e\u001b[2J`},
	} {
		ls := listSample()
		n := fillList(reflect.ValueOf(ls).Elem(), c.in)
		if n < 30 {
			t.Fatalf("only %d texts are filled", n)
		}
		got := listOf(t, ls)
		listHarmless(t, got)
		// Two texts are not for the page: why something is taken at last stands among the notes, and Reach is a word of ours.
		if shown := strings.Count(got, c.shown); shown < 25 {
			t.Errorf("%q is shown %d times of %d", c.in, shown, n)
		}
		if c.shown != c.in && strings.Contains(got, c.in) {
			t.Errorf("%q stands in the page as it is", c.in)
		}
	}
}

var (
	listTag        = regexp.MustCompile(`<(/?[a-zA-Z!][^\s>/]*)([^>]*)>`)
	listAttr       = regexp.MustCompile(`([a-zA-Z-]+)(?:="([^"]*)")?`)
	listElements   = strings.Fields(`!DOCTYPE html head meta title style body header main nav ul li a h1 h2 h3 h4 p section table thead tbody tr th td input label span strong bdi div dl dt dd`)
	listAttributes = strings.Fields(`lang charset http-equiv content name class id aria-labelledby aria-label scope colspan type for`)
)

// listHarmless holds a page to the elements and attributes that ours has: no script, no handler, no address but its own anchors.
func listHarmless(t *testing.T, html string) {
	t.Helper()
	elements, attributes := map[string]bool{}, map[string]bool{}
	for _, k := range listElements {
		elements[k], elements["/"+k] = true, true
	}
	for _, a := range listAttributes {
		attributes[a] = true
	}
	css := strings.Index(html, "</style>")
	head := strings.Index(html, "<style>")
	for _, reach := range []string{"@import", "url(", "//", "<"} {
		if strings.Contains(listCSS, reach) {
			t.Errorf("the style sheet has %s", reach)
		}
	}
	for _, m := range listTag.FindAllStringSubmatch(html[:head]+html[css:], -1) {
		if !elements[m[1]] {
			t.Errorf("element %s", m[0])
		}
		if m[1] == "!DOCTYPE" {
			continue
		}
		for _, a := range listAttr.FindAllStringSubmatch(m[2], -1) {
			if a[1] == "href" && strings.HasPrefix(a[2], "#household-") {
				continue
			}
			if !attributes[a[1]] {
				t.Errorf("attribute %s in %s", a[0], m[0])
			}
		}
	}
	if !strings.Contains(html, `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`) {
		t.Error("the page has no policy that keeps it to itself")
	}
}

// Every box has words of its own, and every link leads somewhere.
func TestListHTMLBoxesHaveLabels(t *testing.T) {
	ls := listSample()
	ls.Lists = append(ls.Lists, listSample().Lists[0])
	got := listOf(t, ls)
	ids := map[string]int{}
	for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(got, -1) {
		ids[m[1]]++
	}
	for id, n := range ids {
		if n > 1 {
			t.Errorf("%s is the id of %d elements", id, n)
		}
	}
	boxes := regexp.MustCompile(`<input type="checkbox" id="([^"]*)">`).FindAllStringSubmatch(got, -1)
	if len(boxes) != 8 || strings.Count(got, "<input") != 8 {
		t.Errorf("%d boxes, want 8", len(boxes))
	}
	for _, m := range boxes {
		if strings.Count(got, `<label for="`+m[1]+`">`) != 1 {
			t.Errorf("box %s has no label", m[1])
		}
	}
	links := regexp.MustCompile(`(?:href="#|aria-labelledby=")([^"]*)"`).FindAllStringSubmatch(got, -1)
	if len(links) != 4 {
		t.Errorf("%d links, want 2 to households and 2 to their names", len(links))
	}
	for _, m := range links {
		if ids[m[1]] != 1 {
			t.Errorf("%s leads nowhere", m[0])
		}
	}
}

func TestListHTMLOfNothing(t *testing.T) {
	got := listOf(t, &sampleLists{On: "2026-11-01", Lists: []packing.PackingList{{Household: finding.Household{Name: "Alder"}}}})
	listHarmless(t, got)
	for _, s := range []string{"<table", "<nav", "Not listed", "Cards to cut out", "last minute", "Worn"} {
		if strings.Contains(got, s) {
			t.Errorf("a household with nothing has %s", s)
		}
	}
	if !strings.Contains(got, "<title>Packing lists: Alder, as of 2026-11-01</title>") {
		t.Error("the title does not say whose lists these are")
	}
}

// On paper what one carrier is handed may share a sheet; what another is handed does not.
func TestListHTMLHandsEachCarrierTheirOwn(t *testing.T) {
	ls := listSample()
	l := &ls.Lists[0]
	l.Packs = append(l.Packs, packing.PackedPack{Name: "Blue", Carrier: "Ana", Again: true}, packing.PackedPack{Name: "Bags", Carrier: "Tuft"}, packing.PackedPack{Name: "Red", Carrier: "Bo"})
	var got []string
	for _, m := range regexp.MustCompile(`<section class="(pack[^"]*)">\n<h3>(.*?)</h3>`).FindAllStringSubmatch(listOf(t, ls), -1) {
		got = append(got, m[1]+": "+m[2])
	}
	want := []string{"pack: <bdi>Rust</bdi>", "pack again: <bdi>Blue</bdi>", "pack: <bdi>Bags</bdi>", "pack: <bdi>Red</bdi>", "pack: Cards to cut out"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
