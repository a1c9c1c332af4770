package load

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf16"

	"cuelang.org/go/cue"

	"kitmuster/lint/testkit"
)

// The table of what people write who have never seen CUE, testdata/mistakes.txt. A case is
//
//	## what was done
//	@PLACE         where in the household below it stands: item, person, …, ageless (a person without age); or @file NAME, which is the
//	               whole text of that file
//	- TEXT         what was written
//	+ TEXT         what to write instead, and the message says so, word for word
//	~ TEXT         what to write instead, where the message says it in other words
//	= PART         a part of it that the message says word for word
//	> MESSAGE      what is said, whole; -update writes it
//
// Further lines are @as utf-16 (and the like), how the file is saved, and @unread, which says that nothing of the household can be judged.
// Each mistake is told once, in plain words, and with what to write instead in its place nothing is told.
const mistakesFile = "testdata/mistakes.txt"

// frame is the household that the mistakes are put into, and usual what stands at each place of it else: a mistake in a field takes
// the field's place.
const frame = `package kit

household: "Alder"
people: {
	ana: {
		@person
	}
	ben: {age: "9 y", bodyMass: "30 kg"}
}
animals: rex: {
	@animal
}
packs: rust: {
	@pack
	compartments: lid: {
		@compartment
		items: {
			matches: {mass: "15 g", can: fire: "matches"}
			thing: {
				@item
			}
			@items
		}
	}
}
plan: {
	seasons: hot: {
		@season
	}
	legs: one: {
		@leg
	}
	@plan
}
record: {
	@record
}
@top
`

var usualLines = map[string][]string{
	"person":      {`age: "42 y"`, `bodyMass: "68 kg"`, `medications: thyroid: perDay: 1`},
	"animal":      {`species: "dog"`, `bodyMass: "24 kg"`},
	"pack":        {`carrier: "ana"`, `mass: "1.2 kg"`},
	"compartment": {`reach: "walking"`},
	"season":      {`day: "31 °C"`, `night: "18 °C"`, `daylight: "15 h"`},
	"leg":         {`order: 1`, `distance: "3 km"`},
	"record":      {`weighed: "2026-10-01"`},
	"item":        nil, "items": nil, "plan": nil, "top": nil,
}

// mistake is one case of the table.
type mistake struct {
	title, saved string
	unread       bool
	// lines are those of the case but the messages.
	lines []string
	said  []string
	files []mistaken
}

// mistaken is a text of a case: at a place of the household, or of a whole file.
type mistaken struct {
	place, file  string
	wrong, right []string
	offered      []string // what the message says word for word
}

func readMistakes(t *testing.T, name string) (out []*mistake) {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var m *mistake
	for n, line := range strings.Split(strings.TrimRight(string(b), "\n"), "\n") {
		mark, rest, _ := strings.Cut(line, " ")
		switch {
		case mark == "##":
			m = &mistake{title: rest}
			out = append(out, m)
		case line == "" || m == nil || mark == ">" && m.files == nil:
		case mark == ">":
			m.said = append(m.said, rest)
			continue
		case line == "@unread":
			m.unread = true
		case mark == "@as":
			m.saved = rest
		case mark == "@file":
			m.files = append(m.files, mistaken{file: rest})
		case strings.HasPrefix(line, "@"):
			m.files = append(m.files, mistaken{place: line[1:]})
		default:
			f := &m.files[len(m.files)-1]
			switch mark {
			case "-":
				f.wrong = append(f.wrong, rest)
			case "+":
				f.right, f.offered = append(f.right, rest), append(f.offered, rest)
			case "~":
				f.right = append(f.right, rest)
			case "=":
				f.offered = append(f.offered, rest)
			default:
				t.Fatalf("%s:%d: %q", name, n+1, line)
			}
		}
		if m != nil && line != "" {
			m.lines = append(m.lines, line)
		}
	}
	return out
}

var firstWord = regexp.MustCompile(`^"?([A-Za-z]+)"?!?\??\s*:`)

// household is the household with the mistake in it, or with what to write instead.
func (m *mistake) household(t *testing.T, right bool) fstest.MapFS {
	t.Helper()
	places := maps.Clone(usualLines)
	tree := fstest.MapFS{}
	for _, f := range m.files {
		lines := f.wrong
		if right {
			lines = f.right
		}
		if f.file != "" {
			if lines != nil {
				tree[f.file] = &fstest.MapFile{Data: m.encoded(t, strings.Join(lines, "\n")+"\n", right)}
			}
			continue
		}
		place := f.place
		if place == "ageless" { // a person whose age nothing says
			place = "person"
			places[place] = places[place][1:]
		}
		usual, ok := places[place]
		if !ok {
			t.Fatalf("%s: there is no place %q", m.title, place)
		}
		for _, l := range slices.Concat(f.wrong, f.right) {
			if w := firstWord.FindStringSubmatch(l); w != nil {
				usual = slices.DeleteFunc(slices.Clone(usual), func(u string) bool { return strings.HasPrefix(u, w[1]+":") })
			}
		}
		places[place] = append(slices.Clone(usual), lines...)
	}
	if tree["kit.cue"] == nil && (len(tree) == 0 || m.files[0].place != "") {
		text := frame
		for place, lines := range places {
			text = regexp.MustCompile(`(?m)^(\t*)@`+place+`\n`).ReplaceAllStringFunc(text, func(at string) string {
				indent, out := at[:strings.Index(at, "@")], ""
				for _, l := range lines {
					out += indent + l + "\n"
				}
				return out
			})
		}
		tree["kit.cue"] = &fstest.MapFile{Data: m.encoded(t, text, right)}
	}
	return tree
}

// encoded saves a text as the case says.
func (m *mistake) encoded(t *testing.T, text string, right bool) []byte {
	t.Helper()
	switch {
	case m.saved == "" || right:
		return []byte(text)
	case m.saved == "latin-1":
		var out []byte
		for _, r := range text {
			out = append(out, byte(r))
		}
		return out
	case m.saved == "utf-8 with a mark and the line ends of Windows":
		return []byte("\uFEFF" + strings.ReplaceAll(text, "\n", "\r\n"))
	case m.saved == "line ends of old Macs":
		return []byte(strings.ReplaceAll(text, "\n", "\r"))
	}
	var out bytes.Buffer
	for _, u := range utf16.Encode([]rune("\uFEFF" + text)) {
		switch m.saved {
		case "utf-16":
			out.Write([]byte{byte(u), byte(u >> 8)})
		case "utf-16 big endian":
			out.Write([]byte{byte(u >> 8), byte(u)})
		default:
			t.Fatalf("%s: saved as %q", m.title, m.saved)
		}
	}
	return out.Bytes()
}

// told is what is said of a household, a line each.
func told(l *Loaded) (out []string) {
	for _, f := range l.Faults {
		line := fmt.Sprintf("%s:%d:%d: %s", f.At.File, f.At.Start.Line, f.At.Start.Col, f.Message)
		for _, also := range f.Also {
			line += fmt.Sprintf(" (%s: %s:%d:%d)", also.Message, also.At.File, also.At.Start.Line, also.At.Start.Col)
		}
		out = append(out, line)
	}
	return out
}

// theirs are words of CUE's and of the program's that a message must do without.
var theirs = regexp.MustCompile(`(?i)disjunction|unif|non-concrete|concrete|incomplete|#[A-Z]|_kitmuster|bottom|_\|_|literal|struct\b|instance|conflicting|operand|EOF|RBRACE|invalid|expected|mismatched|regexp|=~|undefined`)

func TestMistakes(t *testing.T) {
	cases := readMistakes(t, mistakesFile)
	var golden strings.Builder
	for _, m := range cases {
		l := Household(m.household(t, false), ".", Options{})
		got := told(l)
		if *testkit.Update {
			fmt.Fprintf(&golden, "%s\n", strings.Join(m.lines, "\n"))
			for _, s := range got {
				fmt.Fprintf(&golden, "> %s\n", s)
			}
			golden.WriteString("\n")
		} else if !slices.Equal(got, m.said) {
			t.Errorf("%s: it says\n%s\nwant\n%s", m.title, strings.Join(got, "\n"), strings.Join(m.said, "\n"))
		}
		if len(got) != 1 {
			t.Errorf("%s: %d messages\n%s", m.title, len(got), strings.Join(got, "\n"))
		}
		if (l.Kit == nil) != m.unread {
			t.Errorf("%s: judged is %t", m.title, l.Kit != nil)
		}
		for _, f := range l.Faults {
			if w := theirs.FindString(f.Message); w != "" {
				t.Errorf("%s: %q in %s", m.title, w, f.Message)
			}
		}
		for _, f := range m.files {
			for _, r := range f.offered {
				if f.file == "" && !strings.Contains(strings.Join(got, "\n"), r) {
					t.Errorf("%s: %q is not offered by\n%s", m.title, r, strings.Join(got, "\n"))
				}
			}
		}
		if after := Household(m.household(t, true), ".", Options{}); len(after.Faults) > 0 {
			t.Errorf("%s: after\n%s\nit says\n%s", m.title, strings.Join(got, "\n"), strings.Join(told(after), "\n"))
		}
	}
	if *testkit.Update {
		if err := os.WriteFile(mistakesFile, []byte(golden.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d mistakes", len(cases))
}

// What CUE cannot read is told for each line that shows it by itself, and what is told once is not told again.
func TestSlipsOfAFileAreToldTogether(t *testing.T) {
	text := `package kit

household: "Alder"
people: ana: {age: 42 y, bodyMass: 68 kg, name: Ana Maria}
// mum-pack: {mass: 60 g}
packs: {
	mum-pack: {
		mass: 60 g
		budget: 60 g
		carrier: "ana", style: "a: 60 g"
		compartments: main: items: {
			first aid kit: {count: 2 * 3}
			2nd_lamp: {mass: 60 g}
		}
	}
}
`
	want := []string{
		`kit.cue:4:20: a number with its unit stands in quotes; write age: "42 y"`,
		`kit.cue:4:36: a number with its unit stands in quotes; write bodyMass: "68 kg"`,
		`kit.cue:4:49: a text stands in quotes; write name: "Ana Maria"`,
		`kit.cue:7:2: a name with a hyphen stands in quotes; write "mum-pack", or mum_pack`,
		`kit.cue:8:9: a number with its unit stands in quotes; write mass: "60 g"`,
		`kit.cue:9:11: a number with its unit stands in quotes; write budget: "60 g"`,
		`kit.cue:12:4: a name has no blanks; write first_aid_kit`,
		`kit.cue:13:4: a name begins with a letter; write lamp_2nd`,
		`kit.cue:13:21: a number with its unit stands in quotes; write mass: "60 g"`,
	}
	read := func(text string) []string {
		return told(Household(fstest.MapFS{"kit.cue": {Data: []byte(text)}}, ".", Options{}))
	}
	if got := read(text); !slices.Equal(got, want) {
		t.Errorf("it says\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if got := read(text + "// \"\"\"\n"); len(got) != 1 {
		t.Errorf("with a text over many lines, in which anything may stand: %q", got)
	}
	if got := read("package kit\n" + strings.Repeat("a-b: 1\n", 100)); len(got) != mostSlips+1 {
		t.Errorf("%d of 100 lines are told", len(got))
	}
}

// Whatever place of the schema a fault is at, the example that it shows there is accepted there, by the schema and by the reader.
func TestExamplesAreAccepted(t *testing.T) {
	places := map[string]int{}
	var visit func(s *shape, keys []string, wrap func(string) string)
	visit = func(s *shape, keys []string, wrap func(string) string) {
		if len(keys) > 9 {
			return
		}
		try := func(field string, fs *shape) {
			more := map[string]string{"after": `, leg: "one"`, "childSeats": ", seats: 5"}[field]
			if s.def == "#Medication" && field != "perDay" && field != "asNeeded" {
				more = ", perDay: 1"
			}
			text := wrap(line(field, fs.example(s.def, field)) + more)
			tree := fstest.MapFS{"kit.cue": {Data: []byte(text)}}
			if l := Household(tree, ".", Options{}); len(l.Faults) > 0 {
				t.Errorf("%s.%s:\n%s\n%s", strings.Join(keys, "."), field, text, strings.Join(told(l), "\n"))
			}
			places[s.def]++
		}
		below := func(field string, fs *shape) {
			if fs.kind != cue.StructKind {
				return
			}
			visit(fs, append(slices.Clone(keys), field), func(inner string) string {
				rest := ""
				if fs.def == "#Medication" && strings.HasPrefix(inner, "keep") {
					rest = ", perDay: 1"
				}
				if !fs.group() {
					name, _, _ := strings.Cut(inner, ":")
					for _, r := range fs.required {
						if r != name && !(fs.def == "#Kit") {
							rest += ", " + line(r, fs.fields[r].example(fs.def, r))
						}
					}
				}
				return wrap(strconvKey(field) + ": {" + inner + rest + "}")
			})
		}
		if s.group() {
			name := cmp.Or(entryNames[keys[len(keys)-1]], "one")
			try(name, s.elem)
			below(name, s.elem)
			return
		}
		for _, f := range slices.Sorted(maps.Keys(s.fields)) {
			try(f, s.fields[f])
			below(f, s.fields[f])
		}
	}
	visit(kitShape(), nil, func(inner string) string { return filled(inner) })
	if len(places) < 43 {
		t.Errorf("%d definitions", len(places))
	}
}

// filled is a household with a line at its top, and with what the examples name, where the line itself does not say it.
func filled(line string) string {
	text := "package kit\n\n" + line + "\n"
	for _, rest := range []struct{ unless, text string }{
		{`household:`, `household: "Alder"`}, {`people: .*\b(age|born):`, `people: ana: age: "42 y"`}, {`people.*asNeeded`, `people: ana: medications: thyroid: perDay: 1`}, {`consumables:`, `people: ana: consumables: strips: perDay: 4`},
		{`cpap:`, `people: ana: devices: cpap: {power: "40 W", hoursPerDay: "8 h"}`}, {`$^`, `people: ben: {age: "42 y", carries: false}`}, {`packs:`, `packs: rust: {carrier: "ana", compartments: lid: reach: "walking"}`},
		{`carrier:|vehicle:`, `packs: rust: carrier: "ana"`}, {`van:`, `vehicles: van: kind: "van"`}, {`latitude:|daylight:`, `plan: latitude: "47.5 N"`}, {`hot:`, `plan: seasons: hot: {day: "31 °C", night: "18 °C"}`},
		{`\bone:`, `plan: legs: one: {order: 1, distance: "6 km"}`}} {
		if !regexp.MustCompile(rest.unless).MatchString(line) {
			text += rest.text + "\n"
		}
	}
	return text
}

// What is surely meant by a mistake, put in its place, says what the table says to write instead, and nothing is told of it any more.
func TestSure(t *testing.T) {
	n := 0
	for _, m := range readMistakes(t, mistakesFile) {
		tree := m.household(t, false)
		l := Household(tree, ".", Options{})
		i := slices.IndexFunc(l.Faults, func(f Fault) bool { _, ok := f.Sure(); return ok })
		if i < 0 {
			continue
		}
		n++
		e, _ := l.Faults[i].Sure()
		b := tree[e.At.File].Data
		if was := string(b[e.At.Start.Offset:e.At.End.Offset]); was != e.Was {
			t.Errorf("%s: %q stands there, and not %q", m.title, was, e.Was)
			continue
		}
		tree[e.At.File] = &fstest.MapFile{Data: slices.Concat(b[:e.At.Start.Offset], []byte(e.New), b[e.At.End.Offset:])}
		after, right := Household(tree, ".", Options{}), Household(m.household(t, true), ".", Options{})
		if m.title == "a text over two lines" || m.title == "names with blanks, without quotes" || strings.Contains(l.Faults[i].Message, "write it like") {
			continue // there is more to put right
		}
		if len(after.Faults) > 0 {
			t.Errorf("%s: %q for %q, and it says\n%s", m.title, e.New, e.Was, strings.Join(told(after), "\n"))
			continue
		}
		if m.title == "a person written as a text" || m.title == "a limit as a bare value" {
			continue // the table says more than was written
		}
		if !reflect.DeepEqual(after.Kit, right.Kit) {
			t.Errorf("%s: %q for %q: %+v\nwant %+v", m.title, e.New, e.Was, after.Kit, right.Kit)
		}
	}
	t.Logf("%d mistakes have one sure answer", n)
}
