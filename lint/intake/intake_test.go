package intake

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/tools/txtar"

	"kitmuster/lint/load"
	"kitmuster/lint/table"
)

var update = flag.Bool("update", false, "rewrite the wanted kits of testdata/tables.txt")

// understood understands a table and writes its kit, which must say what was understood when it is read back.
func understood(t *testing.T, file string, body []byte, o Options) (*Plan, *Written) {
	t.Helper()
	b, err := table.Read(file, body)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	o.File, o.Household = file, "Vale"
	p, err := Read(b, o)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	w, err := p.Write()
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return p, w
}

// faults are what the loader says of a kit, but for what a table cannot say.
func faults(w *Written) (out []string) {
	tree := fstest.MapFS{}
	for _, f := range w.Files {
		tree[f.Name] = &fstest.MapFile{Data: f.Body}
	}
	l := load.Household(tree, ".", load.Options{})
	for _, f := range l.Faults {
		if !strings.Contains(f.Message, "how old is") && !strings.Contains(f.Message, "who carries") && !strings.Contains(f.Message, "nobody is in this household") {
			out = append(out, f.Message)
		}
	}
	if l.Kit == nil {
		out = append(out, "there is no kit")
	}
	return out
}

func summary(p *Plan, w *Written) string {
	var b strings.Builder
	for i, t := range p.Things {
		fmt.Fprintf(&b, "%s %s: %d × %s", t.At, w.Lines[i], t.Count, t.Name)
		if t.Mass.text != "" {
			fmt.Fprintf(&b, ", %s", t.Mass.text)
		}
		for _, x := range []struct {
			is   bool
			text string
		}{{t.Mass.about, "about"}, {t.Shared, "shared"}, {t.Who != "", "of " + t.Who}, {t.Expires != "", "until " + t.Expires}, {t.Energy != "", t.Energy}, {t.Section != "", "in " + t.Section}} {
			if x.is {
				b.WriteString(", " + x.text)
			}
		}
		for _, n := range t.Notes {
			b.WriteString(" // " + n)
		}
		b.WriteByte('\n')
	}
	for _, s := range p.Sums {
		is := "is"
		if !s.OK {
			is = "differs from"
		}
		fmt.Fprintf(&b, "sum %s %s: %s %s %s\n", s.At, s.What, grams(s.Said), is, grams(s.Found))
	}
	for _, d := range p.Doubts {
		fmt.Fprintf(&b, "doubt %s %q: %s\n", d.At, d.Text, d.Why)
	}
	for _, n := range p.Notes {
		fmt.Fprintf(&b, "note: %s\n", n)
	}
	return b.String()
}

var two = []Who{{"Ana", "42 y"}, {"Ben", "8 y"}}

func TestTables(t *testing.T) {
	file := filepath.Join("testdata", "tables.txt")
	a, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	var tables []txtar.File
	for _, f := range a.Files {
		if name, ok := strings.CutSuffix(f.Name, " wants"); ok {
			want[name] = string(f.Data)
		} else {
			tables = append(tables, f)
		}
	}
	a.Files = nil
	for _, f := range tables {
		p, w := understood(t, f.Name, f.Data, Options{People: two})
		got := summary(p, w)
		a.Files = append(a.Files, f, txtar.File{Name: f.Name + " wants", Data: []byte(got)})
		if got != want[f.Name] && !*update {
			t.Errorf("%s:\n%s", f.Name, got)
		}
		for _, f2 := range faults(w) {
			t.Errorf("%s is no kit that can be read: %s", f.Name, f2)
		}
	}
	if len(tables) < 30 {
		t.Errorf("only %d tables", len(tables))
	}
	if *update {
		if err := os.WriteFile(file, txtar.Format(a), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// Tables in files, as some have bytes that no text can hold.
func TestFiles(t *testing.T) {
	names, err := filepath.Glob("testdata/*.csv")
	if err != nil || len(names) < 10 {
		t.Fatal(names, err)
	}
	file := filepath.Join("testdata", "files.txt")
	a, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	for _, f := range a.Files {
		want[f.Name] = string(f.Data)
	}
	a.Files = nil
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		o := Options{People: two}
		if strings.HasSuffix(name, "no_heads.csv") {
			o = Options{People: two, Map: map[string]Field{"A": Name, "B": Mass}, Unit: "g", Pack: "Day pack"}
		}
		name = filepath.Base(name)
		p, w := understood(t, name, b, o)
		got := summary(p, w)
		a.Files = append(a.Files, txtar.File{Name: name, Data: []byte(got)})
		if got != want[name] && !*update {
			t.Errorf("%s:\n%s", name, got)
		}
		if f := faults(w); f != nil {
			t.Errorf("%s: %q", name, f)
		}
	}
	if *update {
		if err := os.WriteFile(file, txtar.Format(a), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// The same table, made by programs of others: see the README of testdata.
func TestFilesOfOtherPrograms(t *testing.T) {
	want := `B4 blue/main/whistle  can: signal: "whistle" (guessed): 2 × Whistle, 10 g
B5 blue/main/oat_bars  food: {} (guessed): 6 × Oat bars, 45.5 g, until 2027-03-01
B6 blue/main/storm_matches  can: fire: "matches" (guessed): 1 × Storm matches, 22 g // in a jar, 3/4 full
B7 red/main/torch  can: light: "torch", device: {} (guessed): 1 × Torch, 140 g // =not a formula
B8 red/main/wool_blanket  insulation: kind: "blanket" (guessed): 1 × Wool blanket, 1200 g
`
	sums := "sum E4 2 × 10 g of Whistle: 20 g is 20 g\nsum E5 6 × 45.5 g of Oat bars: 273 g is 273 g\nsum E9 Total: 1655 g is 1655 g\nnote: the hidden sheet \"Old\" is left out\n"
	noValue := ""
	for _, cell := range []string{"E4", "E5", "E6", "E7", "E8", "E9"} {
		noValue += fmt.Sprintf("doubt %s \"\": a formula without its last value; open the table in a spreadsheet program and save it\n", cell)
	}
	for file, rest := range map[string]string{
		"libreoffice-7.4.ods":  sums,
		"libreoffice-7.4.xlsx": sums,
		"excelize-2.11.xlsx":   sums,
		"openpyxl-3.0.xlsx":    noValue + "note: the hidden sheet \"Old\" is left out\n",
	} {
		b, err := os.ReadFile(filepath.Join("testdata", file))
		if err != nil {
			t.Fatal(err)
		}
		p, w := understood(t, file, b, Options{People: two})
		got := strings.ReplaceAll(summary(p, w), "Packs!", "")
		if got != want+rest {
			t.Errorf("%s:\n%s", file, got)
		}
		if f := faults(w); f != nil {
			t.Errorf("%s: %q", file, f)
		}
	}
}

// A table of 82 things in four bags becomes a kit whose own check has nothing to say of how it is written.
func TestFourBags(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("testdata", "four-bags.csv"))
	if err != nil {
		t.Fatal(err)
	}
	p, w := understood(t, "four-bags.csv", b, Options{People: two, Carries: map[string]string{"blue backpack": "Ana", "red backpack": "Ben"}})
	if len(p.Things) != 82 || len(w.Files) != 5 || p.SumsDiffer() != 0 || len(p.Sums) != 5 || len(p.Doubts) != 0 {
		t.Errorf("%d things, %d files, %d of %d sums differ, doubts %v", len(p.Things), len(w.Files), p.SumsDiffer(), len(p.Sums), p.Doubts)
	}
	if f := faults(w); f != nil {
		t.Errorf("%q", f)
	}
	var out strings.Builder
	p.Preview(&out, w)
	for _, line := range []string{`four-bags.csv: CSV with "," between cells, UTF-8`, `  F "Colour": not known, kept as a comment`, "82 things, the first 20", "  5 sums, and the things come to the same each time.", "  who carries Kids pack (--carries 'Kids pack=NAME')"} {
		if !strings.Contains(out.String(), line+"\n") {
			t.Errorf("%q is not in\n%s", line, out.String())
		}
	}
}

// What the family says goes before what a head says; what is said of no column is told.
func TestMap(t *testing.T) {
	csv := []byte("Ding,Zahl,Schwere,Ort\nPfeife,2,10,Blau\n")
	b, err := table.Read("a.csv", csv)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Read(b, Options{Map: map[string]Field{"zahl": Count, "C": Mass, "Ort": Pack}, Unit: "g"})
	if err != nil {
		t.Fatal(err)
	}
	if x := p.Things[0]; x.Count != 2 || x.Mass.text != "10 g" || x.Pack != "Blau" {
		t.Errorf("%+v", x)
	}
	for want, o := range map[string]Options{
		`no column is called "Zhal"`:                {Map: map[string]Field{"Zhal": Count, "C": Mass}},
		"--carries braun=Ana: no pack is called so": {Map: map[string]Field{"C": Mass}, Carries: map[string]string{"braun": "Ana"}},
	} {
		p, err := Read(b, o)
		if err == nil {
			_, err = p.Write()
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, and %q is wanted", err, want)
		}
	}
}

// Tables of which nothing can be understood say so.
func TestNoTable(t *testing.T) {
	for csv, want := range map[string]string{
		"hello\nworld\n":     "no table was found",
		"1,2\n3,4\n":         "no table was found",
		"Item,Weight (g)\n":  "nothing in it was understood as a thing",
		"Weight,Qty\n10,2\n": "no table was found",
	} {
		b, err := table.Read("a.csv", []byte(csv))
		if err == nil {
			_, err = Read(b, Options{})
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", csv, err)
		}
	}
}

// Whatever a table says, its kit is read as it was written and there is no crash.
func FuzzTable(f *testing.F) {
	f.Add([]byte("Item,Qty,Weight (g),Pack\nWhistle,2,10,Blue\nTotal,,20,\n"))
	f.Add([]byte("Name;g\n\\(x);1,5\nfor;1.000\n\"a\nb\";2\n"))
	f.Fuzz(func(t *testing.T, csv []byte) {
		b, err := table.Read("a.csv", csv)
		if err != nil {
			return
		}
		p, err := Read(b, Options{Household: "Vale", People: two})
		if err != nil {
			return
		}
		w, err := p.Write()
		if err != nil {
			t.Fatal(err)
		}
		if fs := faults(w); fs != nil {
			t.Errorf("%q", fs)
		}
	})
}
