package intake

import (
	"bytes"
	"context"
	"encoding/json"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/household"
	"kitmuster/lint/load"
	"kitmuster/lint/table"
)

// forms are what a table is written as.
var forms = map[string]func([]Row) ([]byte, error){
	"kit.csv": func(rows []Row) ([]byte, error) {
		var b bytes.Buffer
		err := table.WriteCSV(&b, Table(rows), true)
		return b.Bytes(), err
	},
	"kit.xlsx": func(rows []Row) ([]byte, error) {
		var b bytes.Buffer
		err := table.WriteXLSX(&b, "Kit", Table(rows), nil)
		return b.Bytes(), err
	},
}

func laid(t *testing.T, tree fs.FS, dir string, rows []Row) *Laid {
	t.Helper()
	var orders []string
	for _, r := range rows {
		b, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		orders = append(orders, string(b))
	}
	l := Make(context.Background(), tree, nil, dir, household.Options{Orders: orders}).Extra.(*Laid)
	if l.Unread != "" {
		t.Fatal(l.Unread)
	}
	return l
}

func dataOf(t *testing.T, tree fs.FS, dir string) map[string]any {
	t.Helper()
	l := load.Household(tree, dir, load.Options{})
	d, err := l.Data()
	if err != nil || l.Kit == nil {
		t.Fatal(err, l.Faults)
	}
	return d
}

// awkward says what tables and spreadsheets like to change.
const awkward = `package kit
household: "=1+1"
people: ana: {name: " Ana ", age: "42 y", medications: pills: perDay: 0.5, onBody: knife: mass: "3 oz"}
people: "b-1": {age: "8 y"}
packs: rust: {carrier: "ana", name: "'=x", compartments: {
	lid: {reach: "walking", items: {
		a: {name: "-5 \"x\", 'y'", mass: "2 lb 6.25 oz", count: 3, expires: "2027-03-01"}
		b: {name: "007", mass: "0.1234567 g", weighed: "2026-01-02"}
		c: {name: "3/4", count: 0}
		d: {name: "two\nlines\\(x)", documents: ["map", "keys"]}
		"for": {}
	}}
	none: {reach: "halted"}
}}
packs: empty: carrier: "ana"
atHome: {rope: {mass: "1 kg", colour: "'a'"}}
`

// import(export(kit)) is the kit, and laying an export over its kit changes nothing.
func TestThereAndBack(t *testing.T) {
	examples := os.DirFS("../../examples/harrow-valley")
	for dir, tree := range map[string]fs.FS{"alder": examples, "birch": examples, "cedar": examples, ".": fstest.MapFS{"kit.cue": {Data: []byte(awkward)}}} {
		want := dataOf(t, tree, dir)
		rows := laid(t, tree, dir, nil).Rows
		for name, write := range forms {
			b, err := write(rows)
			if err != nil {
				t.Fatal(err)
			}
			book, err := table.Read(name, b)
			if err != nil {
				t.Fatal(dir, name, err)
			}
			back, ok, err := Rows(book)
			if !ok || err != nil {
				t.Fatal(dir, name, ok, err)
			}
			if l := laid(t, tree, dir, back); len(l.Refused) > 0 || len(l.Files) > 0 || len(l.Left) > 0 {
				t.Errorf("%s, %s: refused %q, changed %d files, left %q", dir, name, l.Refused, len(l.Files), l.Left)
			}
			files, err := Kit(back)
			if err != nil {
				t.Fatal(dir, name, err)
			}
			made := fstest.MapFS{}
			for _, f := range files {
				made[f.Name] = &fstest.MapFile{Data: f.Body}
			}
			if diff := cmp.Diff(want, dataOf(t, made, ".")); diff != "" {
				t.Errorf("%s, %s (-the kit +there and back):\n%s", dir, name, diff)
			}
		}
	}
}

// A changed table is laid over the kit line by line; what it cannot say is refused, and then nothing is written.
func TestLay(t *testing.T) {
	const kit = `package kit

household: "Vale"
people: ana: {age: "42 y"}
packs: rust: {
	carrier: "ana"
	compartments: lid: {
		reach: "walking"
		items: {
			// the red one
			lamp: {mass: "3 oz", count: 2}
			whistle: {name: "Whistle", mass: "10 g"}
		}
	}
}
`
	tree := fstest.MapFS{"kit.cue": {Data: []byte(kit)}}
	for name, c := range map[string]struct {
		change func(rows []Row) []Row
		// old and then is what the file says instead; want is why not, or what is left.
		old, then, want string
	}{
		"nothing":       {change: func(rows []Row) []Row { return rows }},
		"a mass":        {change: func(r []Row) []Row { r[3].Grams = "90"; return r }, old: `mass: "3 oz"`, then: `mass: "90 g"`},
		"a comma":       {change: func(r []Row) []Row { r[3].Grams = "90,5"; return r }, old: `mass: "3 oz"`, then: `mass: "90.5 g"`},
		"a count":       {change: func(r []Row) []Row { r[3].Count = "4"; return r }, old: `count: 2`, then: `count: 4`},
		"no mass":       {change: func(r []Row) []Row { r[3].Grams = ""; return r }, old: `{mass: "3 oz", count: 2}`, then: `{count: 2}`},
		"a name":        {change: func(r []Row) []Row { r[4].Name = "Loud whistle"; return r }, old: `"Whistle"`, then: `"Loud whistle"`},
		"the household": {change: func(r []Row) []Row { r[0].Name = "Dale"; return r }, old: `"Vale"`, then: `"Dale"`},
		"a new thing": {change: func(r []Row) []Row {
			return append(r, Row{Row: "row 7", Pack: "rust", Compartment: "lid", Name: "Storm matches", Grams: "22"})
		}, old: "mass: \"10 g\"}\n", then: "mass: \"10 g\"}\n\t\t\tstorm_matches: {name: \"Storm matches\", mass: \"22 g\"}\n"},
		"a row less":     {change: func(r []Row) []Row { return r[:4] }, want: "packs/rust/compartments/lid/items/whistle"},
		"a thousand":     {change: func(r []Row) []Row { r[3].Grams = "1,250"; return r }, want: "a thousand or one?"},
		"no number":      {change: func(r []Row) []Row { r[3].Grams = "much"; return r }, want: `"much" is no mass`},
		"no count":       {change: func(r []Row) []Row { r[3].Count = "some"; return r }, want: `"some" is no count`},
		"which day":      {change: func(r []Row) []Row { r[3].Weighed = "01/02/2027"; return r }, want: "which day is"},
		"no JSON":        {change: func(r []Row) []Row { r[0].Carried = "{"; return r }, want: "no JSON any more"},
		"no such key":    {change: func(r []Row) []Row { r[3].Key = "packs/blue"; return r }, want: "the kit has no packs/blue"},
		"moved":          {change: func(r []Row) []Row { r[3].Compartment = "main"; return r }, want: "a table moves nothing"},
		"no such pack":   {change: func(r []Row) []Row { return append(r, Row{Row: "row 7", Pack: "blue", Name: "x"}) }, want: `there is no pack "blue"; there are rust`},
		"no such pocket": {change: func(r []Row) []Row { return append(r, Row{Row: "row 7", Pack: "rust", Compartment: "x", Name: "x"}) }, want: `has no compartment "x"; it has lid`},
		"not believable": {change: func(r []Row) []Row { r[3].Grams = "900000"; return r }, want: "not believable"},
	} {
		rows := laid(t, tree, ".", nil).Rows
		for i := range rows {
			rows[i].Row = "row 5"
		}
		l := laid(t, tree, ".", c.change(rows))
		got := kit
		for _, f := range l.Files {
			got = string(f.New)
		}
		if want := strings.Replace(kit, c.old, c.then, 1); got != want {
			t.Errorf("%s: %q\n%s", name, l.Refused, got)
		}
		if said := strings.Join(append(l.Refused, l.Left...), "\n"); !strings.Contains(said, c.want) || c.want == "" && said != "" {
			t.Errorf("%s: %q, and %q is wanted", name, said, c.want)
		}
	}
}

func TestRowsOfOthers(t *testing.T) {
	head := strings.Join(exactHeads, ",") + "\n"
	for csv, want := range map[string]string{
		head + "household,,,Vale\npacks/a,,,x\npacks/a,,,y\n": "row 3 and row 4 have the same key, packs/a",
		head + "packs/a,,,x\n":                                "the row with the key household is missing",
		head + "household,,,V\nplan/x,,,\n":                   `row 3: "plan/x" is no key of a kit`,
	} {
		b, err := table.Read("a.csv", []byte(csv))
		if err != nil {
			t.Fatal(err)
		}
		rows, ok, err := Rows(b)
		if err == nil {
			_, err = Kit(rows)
		}
		if !ok || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v %v", csv, ok, err)
		}
	}
}
