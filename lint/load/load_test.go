package load

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// Households stand in testdata/*.txtar. A comment at the end of a line says what is expected there:
//
//	// want RULE "part of the message"     a fault that starts on this line
//	// spot SPOT@COL-COL                   the spot is located on this line at these columns
//	// used SPOT                           the spot, written elsewhere, is used on this line
//
// A missing fault and a surplus one both fail. Several expectations are parted by ;.
func TestHouseholds(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatal("no test data", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			tree := treeOf(a)
			dirs, faults := Find(tree, []string{"..."}, Options{})
			if len(faults) > 0 {
				t.Fatalf("Find: %v", faults)
			}
			want, got := expectations(t, a), []string{}
			loaded := map[string]*Loaded{}
			for _, d := range dirs {
				l := Household(tree, d, Options{})
				loaded[d] = l
				for _, f := range l.Faults {
					if f.At.File == "" || f.At.Start.Line < 1 || f.At.Start.Col < 1 || f.Message == "" {
						t.Errorf("fault without a place or a message: %+v", f)
					}
					got = append(got, fmt.Sprintf("%s:%d want %s %q", f.At.File, f.At.Start.Line, f.Rule, f.Message))
				}
			}
			for _, e := range want {
				switch e.verb {
				case "want":
					i := slices.IndexFunc(got, func(g string) bool {
						return strings.HasPrefix(g, fmt.Sprintf("%s:%d want %s ", e.file, e.line, e.what)) && strings.Contains(g, strings.Trim(fmt.Sprintf("%q", e.text), `"`))
					})
					if i < 0 {
						t.Errorf("missing: %s:%d %s %q\ngot:\n%s", e.file, e.line, e.what, e.text, strings.Join(got, "\n"))
						continue
					}
					got = slices.Delete(got, i, i+1)
				case "spot", "used":
					l := loaded[dirFor(e.file, dirs)]
					if e.dir != "" {
						l = loaded[e.dir]
					}
					if l == nil {
						t.Fatalf("no household for %s:%d", e.file, e.line)
					}
					p := l.Locate(e.what)
					at := p.At
					if e.verb == "used" {
						at = p.Used
					}
					where := fmt.Sprintf("%s:%d", at.File, at.Start.Line)
					if diff := cmp.Diff(fmt.Sprintf("%s:%d", e.file, e.line), where); diff != "" {
						t.Errorf("%s %s (-want +got):\n%s", e.verb, e.what, diff)
					}
					if cols := fmt.Sprintf("%d-%d", at.Start.Col, at.End.Col); e.text != "" && e.text != cols {
						t.Errorf("%s %s: columns %s, want %s", e.verb, e.what, cols, e.text)
					}
				}
			}
			for _, g := range got {
				t.Errorf("surplus: %s", g)
			}
		})
	}
}

// dirFor is the only household, or the one the file lies in.
func dirFor(file string, dirs []string) string {
	if slices.Contains(dirs, path.Dir(file)) {
		return path.Dir(file)
	}
	return dirs[0]
}

type expectation struct {
	file       string
	line       int
	verb, what string
	text       string
	dir        string
}

var expected = regexp.MustCompile(`(want|spot|used) (?:(\w+):)?([^\s;@]+)(?:@(\d+-\d+))?(?: "([^"]*)")?`)

func expectations(t *testing.T, a *txtar.Archive) (out []expectation) {
	t.Helper()
	for _, f := range a.Files {
		for i, line := range strings.Split(string(f.Data), "\n") {
			_, c, ok := strings.Cut(line, "// ")
			if !ok {
				continue
			}
			for _, m := range expected.FindAllStringSubmatch(c, -1) {
				out = append(out, expectation{file: f.Name, line: i + 1, verb: m[1], dir: m[2], what: m[3], text: m[4] + m[5]})
			}
		}
	}
	if len(out) == 0 {
		t.Fatal("nothing is expected of this household; a test that cannot fail")
	}
	return out
}

func treeOf(a *txtar.Archive) fs.FS {
	tree := fstest.MapFS{}
	for _, f := range a.Files {
		tree[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return tree
}

// one reads a household of one file.
func one(text string) *Loaded {
	return Household(fstest.MapFS{"kit.cue": {Data: []byte(text)}}, ".", Options{})
}

// messages are the rules and places of the faults of a household.
func messages(l *Loaded) (out []string) {
	for _, f := range l.Faults {
		out = append(out, fmt.Sprintf("%s %s: %s", f.At, f.Rule, f.Message))
	}
	return out
}

const small = "package kit\n\nhousehold: \"Alder\"\npeople: ana: {age: \"42 y\", bodyMass: \"68 kg\"}\n"

func TestSmallHouseholdLoads(t *testing.T) {
	l := one(small)
	if l.Kit == nil {
		t.Fatal(messages(l))
	}
	if diff := cmp.Diff("Alder", l.Kit.Name); diff != "" {
		t.Error(diff)
	}
}

// Everything a household may write of its plan for a forecast reaches the kit.
func TestPlanLoads(t *testing.T) {
	l := one(small + `
plan: {
	duration: "72 h"
	start: "6:30 pm"
	latitude: "33.9 S"
	seasons: {
		bare: {day: "9 °C", night: "4 °C", date: "2026-06-21", wind: "18 km/h"}
		written: {day: "9 °C", night: "4 °C", daylight: "0 h"}
	}
	legs: over: {order: 1, distance: "5 km", climb: "200 m"}
	waterSources: {brook: {quality: "clear", leg: "over", after: "3 km"}, tap: {quality: "tap", leg: "over"}}
}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: {reach: "walking", items: filter: {mass: "80 g", treat: {method: "filter", perHour: "30 L"}}}}
`)
	if l.Kit == nil {
		t.Fatal(messages(l))
	}
	date, err := unit.ParseDate("2026-06-21")
	if err != nil {
		t.Fatal(err)
	}
	const km = unit.Length(1_000_000_000)
	want := kit.Plan{
		Duration: 72 * 3600, DurationSet: true, Start: kit.Some(unit.Clock(18*60 + 30)), Latitude: kit.Some(unit.Latitude(-33_900)),
		Seasons: []kit.Season{
			{Key: "bare", Spot: "plan/seasons/bare", Day: 9000, Night: 4000, Wind: kit.Some(unit.Speed(5000)), Date: kit.Some(date)},
			{Key: "written", Spot: "plan/seasons/written", Day: 9000, Night: 4000, DaylightSet: true},
		},
		Legs:      []kit.Leg{{Key: "over", Spot: "plan/legs/over", Order: 1, Distance: 5 * km, Climb: km / 5}},
		WaterSaid: true,
		WaterSources: []kit.WaterSource{
			{Key: "brook", Spot: "plan/waterSources/brook", Quality: "clear", Leg: "over", After: kit.Some(3 * km)},
			{Key: "tap", Spot: "plan/waterSources/tap", Quality: "tap", Leg: "over"},
		},
	}
	if diff := cmp.Diff(want, l.Kit.Plan); diff != "" {
		t.Error(diff)
	}
	if got := l.Kit.Packs[0].Compartments[0].Items[0].Treat.Value.PerHour; got != kit.Some(unit.Volume(30_000_000)) {
		t.Errorf("the filter treats %v in an hour, want 30 L", got)
	}
}

func TestByteOrderMarkAndCRLF(t *testing.T) {
	l := one("\uFEFF" + strings.ReplaceAll(small, "68 kg", "68 kgs?"))
	if len(l.Faults) != 1 || l.Faults[0].At.Start.Line != 4 {
		t.Errorf("with a byte order mark: %v", messages(l))
	}
	if with, without := one("\uFEFF"+small).Locate("people/ana").At, one(small).Locate("people/ana").At; with.Start.Line != without.Start.Line || with.Start.Col != without.Start.Col {
		t.Errorf("with a byte order mark ana stands at %v, without at %v", with, without)
	}
	l = one(strings.ReplaceAll(strings.ReplaceAll(small, "68 kg", "68 kgs?"), "\n", "\r\n"))
	if len(l.Faults) != 1 || l.Faults[0].At.Start.Line != 4 || l.Faults[0].At.Start.Col != 42 {
		t.Errorf("with CRLF: %v", messages(l))
	}
}

func TestHostileFiles(t *testing.T) {
	deep := func(open, close string, n int) string {
		return strings.Repeat(open, n) + "1" + strings.Repeat(close, n)
	}
	for name, c := range map[string]struct{ text, rule, part string }{
		"a file of 50 MB":    {small + "// " + strings.Repeat("x", 50<<20), "input/file", "at most 1 MiB"},
		"nested 10,000 deep": {small + "_x: " + deep("{a: ", "}", 10_000) + "\n", "input/syntax", "nest"},
		"lists 10,000 deep":  {small + "_x: " + deep("[", "]", 10_000) + "\n", "input/syntax", "nest"},
		"not UTF-8":          {small + "_x: \"\xff\xfe\"\n", "input/file", "UTF-8"},
		"empty":              {"", "input/package", "package kit"},
		"only a package":     {"package kit\n", "input/missing", "household"},
		"a name of 300":      {small + "packs: " + strings.Repeat("a", 300) + ": {mass: \"1 kg\", carrier: \"ana\"}\n", "input/value", "a name in packs is 300 bytes long; at most 200 are read"},
		"a text of 100,000":  {small + "packs: rust: {mass: \"1 kg\", carrier: \"ana\", name: \"" + strings.Repeat("a", 100_000) + "\"}\n", "input/value", "name is 100000 bytes long; at most 2000 are read"},
		"a NUL byte":         {small + "_x: 1\x00\n", "input/syntax", "NUL"},
	} {
		t.Run(name, func(t *testing.T) {
			l := one(c.text)
			if l.Kit != nil || len(l.Faults) == 0 {
				t.Fatal("no fault")
			}
			f := l.Faults[0]
			if !strings.HasPrefix(f.Rule, c.rule) || !strings.Contains(f.Message, c.part) {
				t.Errorf("got %v, want %s with %q", messages(l), c.rule, c.part)
			}
		})
	}
}

func TestUnreadable(t *testing.T) {
	if os.Getuid() == 0 {
		// The superuser may read everything, so a tree that refuses stands in for the disk.
		l := Household(refusing{fstest.MapFS{"kit.cue": {Data: []byte(small)}}}, ".", Options{})
		if len(l.Faults) != 1 || !strings.Contains(l.Faults[0].Message, "permission denied") {
			t.Errorf("got %v", messages(l))
		}
		return
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "kit.cue"), []byte(small), 0); err != nil {
		t.Fatal(err)
	}
	l := Household(os.DirFS(dir), ".", Options{})
	if len(l.Faults) != 1 || !strings.Contains(l.Faults[0].Message, "permission denied") {
		t.Errorf("got %v", messages(l))
	}
}

// A pipe would keep its reader waiting for ever, a device would never end.
func TestOnlyOrdinaryFiles(t *testing.T) {
	for name, mode := range map[string]fs.FileMode{"a pipe": fs.ModeNamedPipe, "a device": fs.ModeDevice | fs.ModeCharDevice, "a socket": fs.ModeSocket} {
		l := Household(fstest.MapFS{"kit.cue": {Data: []byte(small), Mode: mode | 0o644}}, ".", Options{})
		if len(l.Faults) != 1 || !strings.Contains(l.Faults[0].Message, "not an ordinary file") {
			t.Errorf("%s: %v", name, messages(l))
		}
	}
}

// refusing is a tree whose files may not be read.
type refusing struct{ fstest.MapFS }

func (r refusing) Open(name string) (fs.File, error) {
	if path.Ext(name) == ".cue" {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return r.MapFS.Open(name)
}

func (r refusing) Stat(name string) (fs.FileInfo, error) { return r.MapFS.Stat(name) }

func (r refusing) ReadFile(name string) ([]byte, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
}

func TestFind(t *testing.T) {
	kit := &fstest.MapFile{Data: []byte(small)}
	shared := &fstest.MapFile{Data: []byte("package kit\n\n_lamp: mass: \"80 g\"\n")}
	tree := fstest.MapFS{
		"valley/shared.cue":          shared,
		"valley/alder/kit.cue":       kit,
		"valley/birch/kit.cue":       kit,
		"valley/forgot/kit.cue":      shared,
		"valley/cue.mod/x/kit.cue":   kit,
		"valley/testdata/a/kit.cue":  kit,
		"valley/.hidden/kit.cue":     kit,
		"valley/_old/kit.cue":        kit,
		"valley/other/catalogue.cue": {Data: []byte("package catalogue\n\nhousehold: 1\n")},
		"typo/ana/kit.cue":           {Data: []byte(strings.Replace(small, "package kit", "package kits", 1))},
		"deep/kit.cue":               {Data: []byte(small + "// " + strings.Repeat("x", maxFile))},
		"deep/below/kit.cue":         kit,
		"valley/alder/notes.txt":     {Data: []byte("hello")},
		"bare/below/notes.txt":       {Data: []byte("hello")},
		"text/kit.cue.txt":           {Data: []byte("hello")},
	}
	for _, c := range []struct {
		why      string
		patterns []string
		dirs     []string
		faults   int
	}{
		{"everything below; the folder that forgot its line is told when it is read", []string{"valley/..."}, []string{"valley/alder", "valley/birch", "valley/forgot"}, 0},
		{"a kit that is too large to look into is listed, so that it is told", []string{"deep/..."}, []string{"deep", "deep/below"}, 0},
		{"a slip in the package line makes no family vanish", []string{"typo/..."}, []string{"typo/ana"}, 0},
		{"one folder", []string{"valley/alder"}, []string{"valley/alder"}, 0},
		{"a file stands for its folder", []string{"valley/alder/kit.cue", "valley/alder"}, []string{"valley/alder"}, 0},
		{"a folder named outright is taken even if it is passed over below", []string{"valley/_old"}, []string{"valley/_old"}, 0},
		{"nothing there", []string{"valley/elder"}, nil, 1},
		{"not a kit file", []string{"valley/alder/notes.txt"}, nil, 1},
		{"... after a file", []string{"valley/alder/kit.cue/..."}, nil, 1},
		{"no household below", []string{"valley/other/..."}, nil, 1},
		{"the kit lies a folder further down", []string{"typo"}, nil, 1},
		{"a folder of kit files is judged itself", []string{"valley"}, []string{"valley"}, 0},
		{"no kit here nor below", []string{"bare"}, nil, 1},
		{"a kit under another form of its name: told when it is read", []string{"text"}, []string{"text"}, 0},
	} {
		dirs, faults := Find(tree, c.patterns, Options{})
		if diff := cmp.Diff(c.dirs, dirs); diff != "" || len(faults) != c.faults {
			t.Errorf("%s: faults %v\n%s", c.why, faults, diff)
		}
	}
}

// A folder above the one that is meant says where the kits are.
func TestKitsBelow(t *testing.T) {
	kit := &fstest.MapFile{Data: []byte(small)}
	tree := fstest.MapFS{"v7/vale/kit.cue": kit, "many/a/kit.cue": kit, "many/b/c/kit.cue": kit}
	for dir, want := range map[string]string{
		"v7":   "no kit in this folder, but there is one in v7/vale; name that folder, or v7/... for all below this one",
		"many": "no kit in this folder, but there are 2 below, such as many/a; name one of them, or many/... for all",
	} {
		if dirs, faults := Find(tree, []string{dir}, Options{}); dirs != nil || len(faults) != 1 || faults[0].Message != want || faults[0].At.File != dir {
			t.Errorf("%s: %v, %v; want %s", dir, dirs, faults, want)
		}
	}
}

// A path that leads nowhere, or to no kit, says what may be meant.
func TestPathsNearby(t *testing.T) {
	kit := &fstest.MapFile{Data: []byte(small)}
	note := &fstest.MapFile{Data: []byte("hello")}
	tree := fstest.MapFS{"kit/kit.cue": kit, "kit/photos/a.txt": note, "valley/alder/kit.cue": kit, "valley/empty/a.txt": note, "far/a.txt": note}
	for given, want := range map[string]string{
		"kitt":                  "there is nothing at this path; did you mean kit?",
		"kitt/...":              "there is nothing at this path; did you mean kit/...?",
		"vally/alder":           "there is nothing at this path; did you mean valley/alder?",
		"valley/alder/kitt.cue": "there is nothing at this path; did you mean valley/alder/kit.cue?",
		"vally/birch":           "there is nothing at this path",
		"elsewhere":             "there is nothing at this path",
		"kit/photos":            noKit + "; the folder around it is a household: did you mean kit?",
		"valley/empty":          noKit + "; did you mean valley/alder?",
		"far":                   noKit + "; did you mean kit?",
	} {
		if dirs, faults := Find(tree, []string{given}, Options{}); dirs != nil || len(faults) != 1 || faults[0].Message != want {
			t.Errorf("%s: %v, %v; want %s", given, dirs, faults, want)
		}
	}
}

// FuzzHousehold: whatever stands in a kit file, reading it ends with a kit or with a
// fault that has a place and a message.
func FuzzHousehold(f *testing.F) {
	f.Add(small)
	f.Add(small + "packs: rust: {carrier: \"ana\", mass: \"1 kg\", compartments: lid: {reach: \"walking\", items: lamp: {mass: \"80 g\", can: light: \"headlamp\"}}}\n")
	f.Add("package kit\nhousehold: 3\npeople: {}\n")
	f.Add("package kit\nimport \"strings\"\nhousehold: strings.ToUpper(\"x\")\n")
	f.Add("package kit,ople:{}")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 2000 || strings.Contains(text, "import") || strings.ContainsAny(text, "|*") {
			return // the evaluator has no brake: what can run long is behind the wall of the command
		}
		l := one(text)
		if l.Kit == nil && len(l.Faults) == 0 {
			t.Error("neither a kit nor a fault")
		}
		if l.places != nil && l.places.root.Validate() == nil {
			spelledAgrees(t, l.places.root)
		}
		for _, f := range l.Faults {
			if f.Message == "" || f.At.File == "" || f.At.Start.Line < 1 || f.At.Start.Col < 1 || f.At.End.Offset < f.At.Start.Offset {
				t.Errorf("fault without message or place: %+v", f)
			}
		}
	})
}
