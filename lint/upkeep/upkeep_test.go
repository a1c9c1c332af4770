package upkeep

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"kitmuster/lint/household"
	"kitmuster/lint/lines"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/testkit"
	"kitmuster/lint/unit"
)

// desk is a family's files with a talk over them, as the command has it.
type desk struct {
	files fstest.MapFS
	wrote int
}

func (d *desk) write(on unit.Date, orders []Order) *Kept {
	o := household.Options{On: on}
	for _, x := range orders {
		b, err := json.Marshal(x)
		if err != nil {
			panic(err) // plain values always encode
		}
		o.Orders = append(o.Orders, string(b))
	}
	k := Make(context.Background(), d.files, nil, "kit", o).Extra.(*Kept)
	for _, f := range k.Files {
		d.files[f.Path] = &fstest.MapFile{Data: f.New, Mode: 0o644}
		d.wrote++
	}
	return k
}

func (d *desk) talk(t *testing.T, on, in string, out *bytes.Buffer, width int) *Talk {
	t.Helper()
	day, err := unit.ParseDate(on)
	if err != nil {
		t.Fatal(err)
	}
	return &Talk{
		Talk: lines.Talk{In: strings.NewReader(in), Out: out, Echo: true, Width: width}, On: day, Path: "kit",
		Write: func(orders []Order) (*Kept, error) { return d.write(day, orders), nil },
		Back: func(fs []rewrite.File) (*Kept, error) {
			for _, f := range fs {
				d.files[f.Path] = &fstest.MapFile{Data: f.Old, Mode: 0o644}
			}
			return d.write(day, nil), nil
		},
	}
}

// TestTalks holds talks to what they print: each file of testdata has a household, what is typed, what the program answers and the
// files as they are then.
func TestTalks(t *testing.T) {
	names, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			was := txtar.Parse(b)
			d, typed, is := &desk{files: fstest.MapFS{}}, "", &txtar.Archive{Comment: was.Comment}
			for _, f := range was.Files {
				if strings.HasPrefix(f.Name, "kit/") || strings.HasPrefix(f.Name, "shared/") || f.Name == "top.cue" || f.Name == "cue.mod/module.cue" {
					d.files[f.Name] = &fstest.MapFile{Data: f.Data, Mode: 0o644}
					is.Files = append(is.Files, f)
				}
				if f.Name == "typed" {
					typed = string(f.Data)
					is.Files = append(is.Files, f)
				}
			}
			var out bytes.Buffer
			talk := d.talk(t, "2026-11-30", typed, &out, 80)
			how, _, _ := strings.Cut(string(was.Comment), "\n")
			switch how {
			case "weigh":
				err = talk.Weigh(Weighing{})
			case "renew":
				err = talk.Renew(Renewing{Until: talk.On.AddDays(60)})
			case "describe":
				err = talk.Describe()
			case "sheet":
				err = talk.Sheet(Weighing{})
			case "from":
				err = talk.FromSheet(Weighing{}, "sheet.txt", strings.NewReader(typed))
			default:
				t.Fatalf("%q: begin with weigh, renew, sheet or from", how)
			}
			if err != nil {
				fmt.Fprintf(&out, "error: %v\n", err)
			}
			is.Files = append(is.Files, txtar.File{Name: "said", Data: out.Bytes()})
			for _, f := range was.Files {
				if g := d.files[f.Name]; g != nil && !bytes.Equal(g.Data, f.Data) {
					is.Files = append(is.Files, txtar.File{Name: "then/" + f.Name, Data: g.Data})
				}
			}
			got := txtar.Format(is)
			if *testkit.Update {
				if err := os.WriteFile(name, got, 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(string(b), string(got)); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}

// big is a household of 80 things.
func big() fstest.MapFS {
	var b strings.Builder
	b.WriteString("package kit\n\nhousehold: \"Alder\"\npeople: ana: {age: \"42 y\", bodyMass: \"68 kg\"}\npacks: rust: {\n\tcarrier: \"ana\"\n\tcompartments: lid: {\n\t\treach: \"walking\"\n\t\titems: {\n")
	for i := range 79 {
		fmt.Fprintf(&b, "\t\t\tthing_%d: {mass: \"%d g\"}\n", i+1, 80+i)
	}
	b.WriteString("\t\t}\n\t}\n}\n")
	return fstest.MapFS{"kit/kit.cue": &fstest.MapFile{Data: []byte(b.String()), Mode: 0o644}}
}

// A session of 80 things takes no more typing than 80 numbers, fits into forty columns and sends no escape; each thing then has its
// mass and its day.
func TestEightyNumbers(t *testing.T) {
	d := &desk{files: big()}
	var typed strings.Builder
	for i := range 80 {
		fmt.Fprintf(&typed, "%d\n", 90+i)
	}
	var out bytes.Buffer
	if err := d.talk(t, "2026-11-30", typed.String(), &out, 40).Weigh(Weighing{}); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(out.String(), "Kept: "); n != 80 || d.wrote != 80 {
		t.Errorf("%d kept, %d written", n, d.wrote)
	}
	for _, l := range strings.Split(out.String(), "\n") {
		if n := utf8.RuneCountInString(l); n > 40 {
			t.Errorf("%d columns: %q", n, l)
		}
		if strings.ContainsAny(l, "\x1b\r\b\a") {
			t.Errorf("%q", l)
		}
	}
	text := string(d.files["kit/kit.cue"].Data)
	if n := strings.Count(text, `weighed:`); n != 80 {
		t.Errorf("%d days of weighing", n)
	}
	for _, want := range []string{"thing_1: {mass: \"91 g\", weighed: \"2026-11-30\"}", "thing_79: {mass: \"169 g\", weighed: \"2026-11-30\"}"} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("there is no %s in\n%s", want, text)
		}
	}
	out.Reset()
	if err := d.talk(t, "2026-11-30", "", &out, 80).Weigh(Weighing{}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "nothing is left to weigh") {
		t.Errorf("a second time on the day:\n%s", out.String())
	}
}

// A sheet that is filled in says the same as the same numbers typed.
func TestSheetIsTheTalk(t *testing.T) {
	typed, filled := &desk{files: big()}, &desk{files: big()}
	var numbers strings.Builder
	for i := range 80 {
		fmt.Fprintf(&numbers, "%d\n", 90+i)
	}
	var out, sheet bytes.Buffer
	if err := typed.talk(t, "2026-11-30", numbers.String(), &out, 80).Weigh(Weighing{}); err != nil {
		t.Fatal(err)
	}
	if err := filled.talk(t, "2026-11-30", "", &sheet, 80).Sheet(Weighing{}); err != nil {
		t.Fatal(err)
	}
	n := 0
	var lines []string
	for _, l := range strings.Split(sheet.String(), "\n") {
		if before, after, ok := strings.Cut(l, "="); ok && !strings.HasPrefix(l, "#") {
			l = fmt.Sprintf("%s= %d%s", before, 90+n, after)
			n++
		}
		lines = append(lines, l+"\r")
	}
	if err := filled.talk(t, "2026-11-30", "", &out, 80).FromSheet(Weighing{}, "sheet.txt", strings.NewReader(strings.Join(lines, "\n"))); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(typed.files["kit/kit.cue"].Data), string(filled.files["kit/kit.cue"].Data)); diff != "" {
		t.Errorf("-typed +filled:\n%s", diff)
	}
}

func TestParseDay(t *testing.T) {
	for _, c := range []struct{ text, on, other string }{
		{"2027-05-31", "2027-05-31", ""},
		{"2027-05", "2027-05-31", ""},
		{"2028/02", "2028-02-29", ""},
		{"20270531", "2027-05-31", ""},
		{"05/2027", "2027-05-31", ""},
		{"5.27", "2027-05-31", ""},
		{"05 27", "2027-05-31", ""},
		{"2027/5/3", "2027-05-03", ""},
		{"31/05/2027", "2027-05-31", ""},
		{"05/31/2027", "2027-05-31", ""},
		{"01/05/2027", "2027-05-01", "2027-01-05"},
		{"5-5-27", "2027-05-05", ""},
		{"01.05.2027", "2027-05-01", ""},
		{"31 May 2027", "2027-05-31", ""},
		{"1st of May 2027", "2027-05-01", ""},
		{"May 31, 2027", "2027-05-31", ""},
		{"may 2027", "2027-05-31", ""},
		{"MAY27", "2027-05-31", ""},
		{"30 sept. 2027", "2027-09-30", ""},
		{"dec 2027", "2027-12-31", ""},
	} {
		on, other, err := ParseDay(c.text)
		if err != nil || on.String() != c.on || other.String() != max(c.other, c.on) && other.String() != c.other {
			t.Errorf("%q: %v or %v, %v; want %s or %s", c.text, on, other, err, c.on, c.other)
		}
	}
	for _, bad := range []string{"", "soon", "31/02/2027", "2027", "13/13/2027", "May", "may may 2027", "0/0/0", "2027-13", "31 foo 2027", "99999999999999", "32 May 2027"} {
		if on, _, err := ParseDay(bad); err == nil {
			t.Errorf("%q is read as %v", bad, on)
		}
	}
}

func TestReadings(t *testing.T) {
	lamp := &Thing{Count: 6, WaterMG: 1_000_000}
	for _, c := range []struct {
		typed, unit string
		tare        int64
		text        string
		mg          int64
		wet         bool
	}{
		{"86", "g", 0, "86 g", 86_000, false},
		{"86,5", "g", 0, "86.5 g", 86_500, false},
		{"3.1 oz", "g", 0, "3.1 oz", 87_883, false}, // the avoirdupois ounce is 28.349523125 g: NIST SP 811 (2008), App. B
		{"3.1", "oz", 0, "3.1 oz", 87_883, false},
		{"0.086", "kg", 0, "0.086 kg", 86_000, false},
		{"1 lb 3 oz", "g", 0, "1 lb 3 oz", 538_640, false},
		{"516 all", "g", 0, "86 g", 86_000, false},
		{"all 516", "g", 0, "86 g", 86_000, false},
		{"1086 full", "g", 0, "1086 g", 1_086_000, true},
		{"full 1086!", "g", 0, "1086 g", 1_086_000, true},
		{"206", "g", 120_000, "86 g", 86_000, false},
		{"636 all", "g", 120_000, "86 g", 86_000, false},
	} {
		r, err := parseReading(c.typed, c.unit, lamp, c.tare)
		if err != nil || r.text != c.text || r.mg != c.mg || r.wet != c.wet {
			t.Errorf("%q in %s, less %d: %+v, %v", c.typed, c.unit, c.tare, r, err)
		}
	}
	for _, bad := range []string{"0", "-3", "86 ml", "86 x", "all", "full", "!", "120", "1e9", "101 kg", "86 86", strings.Repeat("9", 400)} {
		if r, err := parseReading(bad, "g", lamp, 120_000); err == nil {
			t.Errorf("%q is read as %+v", bad, r)
		}
	}
	if _, err := parseReading("86 full", "g", &Thing{Count: 1}, 0); err == nil {
		t.Error("a thing without water is full of it")
	}
}
