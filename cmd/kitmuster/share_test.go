package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/literal"
	"cuelang.org/go/cue/parser"
	"cuelang.org/go/cue/token"

	"kitmuster/lint/household"
	"kitmuster/lint/settings"
	"kitmuster/lint/testkit"
	"kitmuster/lint/unit"
	"kitmuster/lint/valley"
	"kitmuster/schema"
)

// sharer runs the real program in a folder, with a key of its own.
type sharer struct {
	t     *testing.T
	dir   string
	flags []string
	// said is what was written to standard error.
	said strings.Builder
	// few says that there are fewer households than a trial for others takes.
	few bool
}

// run gives standard output; any exit code of the program's own will do.
func (s *sharer) run(args ...string) string {
	s.t.Helper()
	var out, errs bytes.Buffer
	n := 1
	if args[0] == "standard" {
		n = 2
	}
	cmd := exec.Command("kitmuster", slices.Concat(args[:n], s.flags, args[n:])...)
	cmd.Dir, cmd.Stdout, cmd.Stderr = s.dir, &out, &errs
	if err := cmd.Run(); err != nil && (cmd.ProcessState == nil || !slices.Contains([]int{0, 1, 2}, cmd.ProcessState.ExitCode())) {
		s.t.Fatalf("%v: %v\n%s", args, err, errs.String())
	}
	if out.Len() == 0 {
		s.t.Fatalf("%v writes nothing: %s", args, errs.String())
	}
	s.said.Write(errs.Bytes())
	return out.String()
}

func (s *sharer) git(args ...string) {
	s.t.Helper()
	testkit.Git(s.t, s.dir, []string{"GIT_COMMITTER_DATE=2026-09-01T08:00:00Z"}, args...)
}

// all runs every command in every format over the paths, drills over those of drill. rev is an earlier state, or "".
func (s *sharer) all(rev string, drill []string, paths ...string) map[string]string {
	out := map[string]string{}
	read := func(name string) string {
		b, err := os.ReadFile(filepath.Join(s.dir, "..", name))
		if err != nil {
			s.t.Fatal(err)
		}
		return string(b)
	}
	check := func(name string, args ...string) {
		args = append([]string{"check", "--on", valley.On, "--output", "json=../j", "--output", "sarif=../s", "--output", "junit=../x"}, args...)
		out[name+" text"] = s.run(append(args, paths...)...)
		out[name+" json"], out[name+" sarif"], out[name+" junit"] = read("j"), read("s"), read("x")
	}
	check("check")
	for _, part := range []string{"1/2", "2/2"} {
		check("part "+part, "--part", part)
		for form, text := range map[string]string{"json": out["part "+part+" json"], "sarif": out["part "+part+" sarif"]} {
			if err := os.WriteFile(filepath.Join(s.dir, "..", part[:1]+"."+form), []byte(text), 0o600); err != nil {
				s.t.Fatal(err)
			}
		}
	}
	plain := &sharer{t: s.t, dir: s.dir}
	for _, form := range []string{"json", "sarif"} {
		out["merge "+form] = plain.run("merge", "../2."+form, "../1."+form)
		if out["merge "+form] != out["check "+form] {
			s.t.Errorf("parts in %s do not give the whole", form)
		}
	}
	out["merge text"] = plain.run("merge", "--format", "text", "../1.json", "../2.json")
	out["merge junit"] = plain.run("merge", "--format", "junit", "../1.sarif", "../2.sarif")
	for _, form := range []string{"text", "json"} {
		for _, c := range []string{"measure", "forecast"} {
			out[c+" "+form] = s.run(append([]string{c, "--on", valley.On, "--format", form}, paths...)...)
		}
		standards, err := filepath.Abs("../../examples/harrow-valley/standards")
		if err != nil {
			s.t.Fatal(err)
		}
		trial := []string{"standard", "trial", filepath.Join(standards, "harrow-valley"), "--base", filepath.Join(standards, "harrow-valley-1.0"), "--on", valley.On, "--format", form}
		if !s.few { // of few it is refused, see share.txtar
			out["trial "+form] = s.run(append(trial, paths...)...)
		}
		out["drill "+form] = s.run(append([]string{"drill", "--show", "note", "--on", valley.On, "--format", form}, drill...)...)
	}
	audit := []string{"audit", "--on", valley.On, "-o", fmt.Sprintf("../audit-%d", len(s.flags))}
	if rev != "" {
		audit = append(audit, "--history", "3")
	}
	out["audit text"] = s.run(append(audit, paths...)...)
	files, err := filepath.Glob(filepath.Join(s.dir, audit[4], "*"))
	if err != nil || len(files) < 4 {
		s.t.Fatal(files, err)
	}
	for _, f := range files {
		out["audit "+filepath.Base(f)] = read(filepath.Join(audit[4][len("../"):], filepath.Base(f)))
	}
	if rev != "" {
		check("since", "--since", rev)
		for _, form := range []string{"text", "markdown", "json"} {
			out["compare "+form] = s.run(append([]string{"compare", "--on", valley.On, "--format", form, rev, "--"}, paths...)...)
		}
	}
	out["standard error"] = s.said.String()
	return out
}

var (
	pseudonym   = regexp.MustCompile(`\b(household|folder|state|key)(-[bcdfghjklmnpqrstvwxz]{4}){3}\b`)
	fingerprint = regexp.MustCompile(`"kitmuster/v1": ?"([0-9a-f]{32})"`)
	escapes     = regexp.MustCompile(`\\u[0-9a-fA-F]{4}`)
	backslash   = regexp.MustCompile(`\\(.)`)
)

// spelt gives each line of the outputs once, in lower case, as it is and with every way of writing that a format uses undone.
// Pseudonyms and fingerprints, which are looked at elsewhere, are taken out.
func spelt(outputs map[string]string) string {
	seen := map[string]bool{}
	var b strings.Builder
	add := func(line string) {
		if line = strings.ToLower(line); !seen[line] {
			seen[line] = true
			b.WriteString(line + "\n")
		}
	}
	for _, text := range outputs {
		text = fingerprint.ReplaceAllString(pseudonym.ReplaceAllString(text, ""), "")
		for line := range strings.Lines(text) {
			line = strings.TrimSpace(line)
			if seen["raw "+line] {
				continue
			}
			seen["raw "+line] = true
			add(line)
			add(html.UnescapeString(line))
			if s, err := url.PathUnescape(line); err == nil {
				add(s)
			}
			add(strings.NewReplacer("{{", "{", "}}", "}").Replace(backslash.ReplaceAllString(html.UnescapeString(line), "$1")))
			add(escapes.ReplaceAllStringFunc(line, func(e string) string {
				n, _ := strconv.ParseUint(e[2:], 16, 32)
				return string(rune(n))
			}))
		}
	}
	return b.String()
}

// disguises are other ways to write a string that anyone can undo, or check a guess by.
func disguises(s string) (out []string) {
	sum := sha256.Sum256([]byte(s))
	out = append(out, hex.EncodeToString(sum[:8]))
	if len(s) < 5 {
		return out
	}
	out = append(out, hex.EncodeToString([]byte(s)))
	for skip := range 3 { // wherever it stands among other bytes
		if in := s[min(skip, len(s)):]; len(in) >= 6 {
			out = append(out, strings.ToLower(base64.StdEncoding.EncodeToString([]byte(in[:len(in)/3*3]))))
		}
	}
	return out
}

// holds reports whether a text in lower case has a string, if whole is set as words of its own; a number is never a part of a longer one.
func holds(text, s string, whole bool) bool {
	s = strings.ToLower(s)
	word := func(i int) bool {
		c := byte(' ')
		if i >= 0 && i < len(text) {
			c = text[i]
		}
		return c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '_' || c == '.' && i+1 < len(text) && text[i+1] >= '0' && text[i+1] <= '9' || c >= 0x80
	}
	for from := 0; ; {
		i := strings.Index(text[from:], s)
		if i < 0 {
			return false
		}
		i += from
		number := s[0] >= '0' && s[0] <= '9'
		if !word(i-1) && !word(i+len(s)) || !whole && !(number && word(i-1)) {
			return true
		}
		from = i + 1
	}
}

// theirs collects what a family chose: every string, every key and comment of its files, the names of files and folders,
// and body masses in every form in which the program may print them.
func theirs(t *testing.T, dir string) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	add := func(s string) {
		if s = strings.TrimSpace(s); s != "" {
			out[s] = true
		}
	}
	err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		// The standard is the group's and no family's.
		if err == nil && d.Name() == settings.File {
			return nil
		}
		if err != nil || d.Name() == ".git" || d.Name() == "cue.mod" || d.Name() == "standards" {
			if err == nil && d.IsDir() {
				return filepath.SkipDir
			}
			return err
		}
		rel, _ := filepath.Rel(dir, p)
		add(filepath.ToSlash(rel))
		add(d.Name())
		if d.IsDir() {
			return nil
		}
		b, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		if filepath.Ext(p) == ".json" {
			var v any
			if err := json.Unmarshal(b, &v); err != nil {
				return err
			}
			var walk func(v any)
			walk = func(v any) {
				switch v := v.(type) {
				case string:
					add(v)
				case []any:
					for _, x := range v {
						walk(x)
					}
				case map[string]any:
					for k, x := range v {
						add(k)
						walk(x)
					}
				}
			}
			walk(v)
			return nil
		}
		f, err := parser.ParseFile(p, b, parser.ParseComments)
		if err != nil {
			return nil // no file that has a string to keep; the canaries look after it
		}
		ast.Walk(f, func(n ast.Node) bool {
			for _, g := range ast.Comments(n) {
				for _, c := range g.List {
					add(strings.TrimLeft(c.Text, "/ "))
				}
			}
			switch n := n.(type) {
			case *ast.Field:
				name, _, err := ast.LabelName(n.Label)
				if err == nil {
					add(name)
				}
				if l, ok := n.Value.(*ast.BasicLit); ok && name == "bodyMass" && l.Kind == token.STRING {
					for _, s := range masses(t, l.Value) {
						add(s)
					}
				}
			case *ast.BasicLit:
				if n.Kind == token.STRING {
					if s, err := literal.Unquote(n.Value); err == nil {
						add(s)
					}
				}
			case *ast.Ident:
				add(n.Name)
			}
			return true
		}, nil)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range regexp.MustCompile(`\w+`).FindAllString(string(schema.Kit), -1) {
		delete(out, word)
	}
	for s := range out { // the reports tell hours of their own
		if hours.MatchString(s) {
			delete(out, s)
		}
	}
	return out
}

var hours = regexp.MustCompile(`^[0-9]+ h$`)

func masses(t *testing.T, lit string) []string {
	t.Helper()
	s, err := literal.Unquote(lit)
	if err != nil {
		t.Fatal(err)
	}
	m, err := unit.ParseMass(s)
	if err != nil {
		return nil
	}
	mg := m.Milligrams()
	kg := strconv.FormatFloat(float64(mg)/1e6, 'f', -1, 64)
	return []string{m.String(), m.Pounds(), fmt.Sprint(mg), fmt.Sprint(int64(m)), kg + " kg", kg + "kg", fmt.Sprintf("%.1f lb", float64(mg)/453592.37)}
}

// rulebook is everything that an output may say of the rules and limits, whoever they judge.
func rulebook(t *testing.T) string {
	t.Helper()
	b, err := (&standards{}).rulebook(os.Stderr)
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, r := range household.Rules(b) {
		fmt.Fprintln(&all, r.Name, r.Title, r.Why, r.Remedy, r.Caution, r.Sources)
	}
	for _, limits := range household.Limits(b) {
		for _, l := range limits {
			fmt.Fprintln(&all, l.Name, l.Value, l.Source)
		}
	}
	return strings.ToLower(strings.Join(strings.Fields(all.String()), " "))
}

// leaks searches outputs for strings, leaving out those that the standard's texts or the fixed words of the outputs hold
// too; it gives how many were searched for.
func leaks(t *testing.T, outputs map[string]string, private map[string]bool, public string) int {
	t.Helper()
	text := spelt(outputs)
	n := 0
	for s := range private {
		if holds(public, s, true) {
			continue
		}
		whole := len(s) < 4 || holds(public, s, false)
		n++
		found := holds(text, s, whole)
		for _, d := range disguises(s) {
			found = found || strings.Contains(text, d)
		}
		if found {
			for name, o := range outputs {
				if one := spelt(map[string]string{"": o}); holds(one, s, whole) || slices.ContainsFunc(disguises(s), func(d string) bool { return strings.Contains(one, d) }) {
					t.Errorf("%s tells %q", name, s)
				}
			}
		}
	}
	return n
}

// prints gives the fingerprints of SARIF outputs.
func prints(outputs map[string]string) map[string]bool {
	out := map[string]bool{}
	for _, o := range outputs {
		for _, m := range fingerprint.FindAllStringSubmatch(o, -1) {
			out[m[1]] = true
		}
	}
	return out
}

// canary writes a repository whose every string is a token that stands nowhere else; tokens are remembered.
type canary struct {
	t      *testing.T
	dir    string
	n      int
	keys   map[string]string
	tokens []string
}

func (c *canary) token() string {
	c.n++
	s := fmt.Sprintf("zq%03dxv", c.n)
	c.tokens = append(c.tokens, s)
	return s
}

var holes = regexp.MustCompile(`@[a-z]+|§`)

// fill puts a token with marks that every format has to escape in place of each §, and a key in place of each @word, the same for the same word.
func (c *canary) fill(s string) string {
	return holes.ReplaceAllStringFunc(s, func(h string) string {
		if h == "§" {
			return c.token() + ` é<&>\" {0} [a](b) ]]>`
		}
		if c.keys[h] == "" {
			c.keys[h] = c.token()
		}
		return c.keys[h]
	})
}

func (c *canary) write(name, text string) {
	c.t.Helper()
	testkit.Write(c.t, c.dir, map[string]string{c.fill(name): c.fill(text)})
}

// canaryKit fills every field of the schema that takes a text of the family's own, and every collection.
const canaryKit = `// §
package kit

household: "§"
people: {
	@ana: {
		name: "§", born: "1979-04-17", sex: "female", bodyMass: "61.37 kg", height: "171.3 cm", fitness: "good"
		cap: {share: "11.3 %", reason: "§"}
		medications: @med: {name: "§", perDay: 1, coldChain: true, coldLife: "27 d"}
		allergies: @nut: {severe: true, to: "food", medication: "@med", note: "§"}
		licences: @lic: {service: "gmrs", until: "2026-12-03"}
		needs: @need: "§"
		diets: ["vegan"]
		glasses: true
		nursing: ["@baby"]
		consumables: @strip: {name: "§", perDay: 3.7}
		devices: @pump: {name: "§", power: "37 W", hoursPerDay: "7.3 h"}
		onBody: @pen: {name: "§", mass: "23.3 g", medicine: {person: "@ana", of: "@med", doses: 3, dose: "§"}, outOfCold: "2026-09-17"}
	}
	@kid: {name: "§", age: "7 y", bodyMass: "23.41 kg", carries: false}
	@baby: {name: "§", age: "5 months", bodyMass: "7.19 kg", carries: false, breastfed: true, carriedBy: "@ana", with: ["@ana"]}
	@bob: {name: "§", age: "47 y", bodyMass: "77.91 kg", fitness: "poor", helpedBy: "@ana"}
}
atHome: @spare: {name: "§", mass: "31.7 g"}
animals: @dog: {name: "§", species: "dog", bodyMass: "19.73 kg", age: "4 y", cap: {share: "3.7 %", reason: "§"}, energyPerDay: "913 kcal", waterPerDay: "1.13 L", chip: "§", carriedBy: "@ana"}
vehicles: @van: {name: "§", kind: "van", payload: "437 kg", seats: 5}
packs: {
	@red: {
		name: "§", carrier: "@ana", mass: "1.437 kg", weighed: "2026-03-19", colours: ["§"], style: "everyday"
		compartments: @main: {
			name: "§", reach: "halted", for: "§", mass: "91.7 g", budget: "313 g"
			items: {
				@bar: {name: "§", count: 7, mass: "53.7 g", owner: "@kid", food: {energy: "211 kcal", for: "@kid", allergens: ["§"]}, expires: "2025-07-13"}
				@money: {name: "§", mass: "11.9 g", cash: {amount: "§", smallNotes: true}, colour: "§"}
				@papers: {name: "§", mass: "37.3 g", documents: ["identity", "medical"]}
				@lighter: {name: "§", mass: "19.1 g", can: fire: "gas-lighter", pinned: true}
				@spray: {name: "§", mass: "83.3 g", can: defend: "spray"}
				@coat: {name: "§", mass: "413 g", size: "§", fits: "@kid", insulation: kind: "jacket"}
				@strips: {name: "§", mass: "31.7 g", care: {person: "@ana", of: "@strip", uses: 19}}
			}
		}
	}
	@blue: {name: "§", carrier: "@bob", vehicle: "@van", mass: "2.741 kg", compartments: @lid: {reach: "walking", items: @stone: {name: "§", mass: "17.9 kg"}}}
}
plan: {
	duration: "71 h", start: "06:37", season: "@cold", lowProfile: true, settings: ["woodland"], altitude: "431 m", latitude: "47.3 N"
	seasons: {
		@cold: {day: "7.3 °C", night: "-4.7 °C", humidity: "63 %", wind: "3.7 m/s", until: "2027-02-27", date: "2026-12-19"}
		@hot: {day: "33.7 °C", night: "21.3 °C", humidity: "71 %"}
	}
	legs: {
		@way: {order: 1, distance: "6.73 km", climb: "211 m", ground: "dirt"}
		@ride: {order: 2, distance: "9.7 km", by: "@van"}
	}
	waterSources: @well: {litres: "13.7 L", quality: "clear", leg: "@way", after: "3.31 km"}
	meetingPoints: @oak: where: "§"
	contacts: @aunt: {name: "§", phone: "§", outOfArea: true}
}
record: {
	weighed: "2026-03-21"
	audited: "2026-03-23"
	shakedowns: @hike: {on: "2026-04-11", distance: "5.37 km", load: "9.13 kg"}
	waivers: {
		@one: {rule: "fire/two-means", spot: "packs/@red", reason: "§", until: "2026-11-29", agreed: "§"}
		@two: {rule: "load/imbalance", reason: "§", until: "2026-11-27"}
	}
}
limits: load: adult_cap: {value: "12.7 %", reason: "§"}
`

// broken are kits that cannot be read whole, each in its way.
var broken = map[string]string{
	"unknown":   "household: \"§\"\n@field: \"§\"\npeople: @ana: {bodyMass: \"61.37 kg\", @other: true}\n",
	"quantity":  "household: \"§\"\npeople: @ana: {bodyMass: \"§\", age: \"§\", born: \"§\", height: \"§\"}\n",
	"syntax":    "household: \"§\"\npeople: @ana: {{{ \"§\n",
	"import":    "import \"§\"\nhousehold: \"§\"\npeople: @ana: bodyMass: \"61.37 kg\"\n",
	"reference": "household: \"§\"\npeople: @ana: {bodyMass: \"61.37 kg\", carriedBy: \"@nobody\"}\npacks: @red: {carrier: \"@nobody\", mass: \"1.437 kg\"}\nplan: {season: \"@none\", lists: [\"§\"]}\nrecord: waivers: @one: {rule: \"§\", spot: \"§\", until: \"2026-11-29\"}\n",
	"conflict":  "household: \"§\" & \"§\"\npeople: @ana: bodyMass: \"61.37 kg\"\n",
	"limit":     "household: \"§\"\npeople: @ana: bodyMass: \"61.37 kg\"\nlimits: {@area: @name: {value: \"§\", values: [\"§\"], reason: \"§\"}, load: adult_cap: {value: \"47.3 %\", reason: \"§\"}, access: on_the_move: values: [\"§\"]}\n",
	"word":      "household: \"§\"\npeople: @ana: {bodyMass: \"61.37 kg\", sex: \"§\", fitness: \"§\"}\npacks: @red: {carrier: \"@ana\", mass: \"1.437 kg\", style: \"§\"}\n",
	"name":      "household: \"§\"\npeople: \"A/§\": bodyMass: \"61.37 kg\"\n",
	"missing":   "household: \"§\"\npeople: @ana: name: \"§\"\n",
	"nobody":    "household: \"§\"\npeople: {}\n",
	"nameless":  "people: @ana: bodyMass: \"61.37 kg\"\n",
	"cycle":     "household: \"§\"\npeople: @ana: {bodyMass: \"61.37 kg\", @deep: people.@ana}\n",
	"value":     "household: \"§\"\npeople: @ana: {bodyMass: \"6137 kg\", born: \"2037-04-17\"}\n",
}

// Whatever a family writes, and wherever, stands in no output that is meant for others, standard error included: not in any spelling, and not where its kit
// cannot be read. The same strings do stand in the outputs for the family itself.
//
// What the examples and a made-up valley hold is then searched for in the same way, short of what the standard itself says.
func TestShareSafe(t *testing.T) {
	testkit.NeedsLong(t) // TestShareSafeErrors and the script on sharing stand for it
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not installed")
	}
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	start := func(name string) *sharer {
		dir := filepath.Join(t.TempDir(), name)
		if err := os.MkdirAll(dir, 0o777); err != nil {
			t.Fatal(err)
		}
		return &sharer{t: t, dir: dir, flags: []string{"--share-safe", "--share-key", filepath.Join(t.TempDir(), "share.key")}}
	}
	s := start("canary")
	c := &canary{t: t, dir: s.dir, keys: map[string]string{}}
	c.write("@canaries/@moved/@file.cue", canaryKit)
	for _, name := range slices.Sorted(func(yield func(string) bool) {
		for k := range broken {
			if !yield(k) {
				return
			}
		}
	}) {
		c.write("@broken/@in"+name+"/@file.cue", "package kit\n\n"+broken[name])
	}
	c.write("@broken/@binary/@file.cue", "package kit\n\nhousehold: \"§ \xff\"\n")
	c.write("@broken/@package/@file.cue", "package @foreign\n\nhousehold: \"§\"\n")
	for _, m := range regexp.MustCompile(`(?m)^\t*(\w+)[?!]?:\s+(string|\[\.\.\.string\]|\[#Key\]: .*)$`).FindAllStringSubmatch(string(schema.Kit), -1) {
		if !regexp.MustCompile(`\b` + m[1] + `:`).MatchString(canaryKit + broken["limit"] + broken["reference"]) {
			t.Errorf("no canary in field %s of the schema", m[1])
		}
	}
	s.git("init", "-q", "-b", c.fill("@branch"))
	s.git("commit", "-q", "--allow-empty", "-m", "start")
	s.git("add", "-A")
	s.git("commit", "-q", "-m", "kits")
	s.git("branch", c.fill("@earlier"))
	s.git("mv", c.fill("@canaries/@moved"), c.fill("@canaries/@here"))
	s.git("rm", "-q", "-r", c.fill("@broken/@innameless"))
	c.write("@canaries/@here/@more.cue", "package kit\n\npacks: @red: compartments: @main: items: @torch: {name: \"§\", mass: \"71.3 g\", water: \"0.37 L\", can: {light: \"torch\", fire: \"matches\"}}\n")
	paths := []string{"./...", c.fill("@nowhere"), c.fill("@canaries/@here/@file.txt")}
	safe := s.all(c.fill("@earlier"), paths, paths...)
	own := &sharer{t: t, dir: s.dir}
	open := own.all(c.fill("@earlier"), paths, paths...)
	tokens := map[string]bool{}
	for _, tok := range c.tokens {
		tokens[tok] = true
	}
	leaks(t, safe, tokens, "")
	told, text := 0, spelt(open)
	for tok := range tokens {
		if holds(text, tok, false) {
			told++
		}
	}
	if told < 2*len(tokens)/3 {
		t.Errorf("only %d of %d canaries are seen by the family itself: they test little", told, len(tokens))
	}
	public := rulebook(t) + spelt(safe)
	numbers := theirs(t, s.dir)
	for name := range numbers { // the strings with tokens are searched for above, and what the outputs hold anyway was not searched for
		if strings.Contains(name, "zq") {
			delete(numbers, name)
		}
	}
	if n := leaks(t, safe, numbers, rulebook(t)); n < 80 {
		t.Errorf("only %d figures and dates searched for", n)
	}
	if a, b := prints(safe), prints(open); len(a) == 0 || len(b) == 0 {
		t.Error("no fingerprints")
	} else {
		for p := range a {
			if b[p] {
				t.Errorf("fingerprint %s is that of the open output, made of guessable names", p)
			}
		}
	}
	for name, o := range safe {
		if name != "standard error" && !strings.Contains(o, "key-") {
			t.Errorf("%s does not say that it is share-safe", name)
		}
	}

	t.Run("examples and a valley", func(t *testing.T) {
		sharedByMany(t, start, public)
	})
}

// sharedByMany searches the outputs over the examples and a valley for what these hold, but for what the standard or public says as well.
func sharedByMany(t *testing.T, start func(name string) *sharer, public string) {
	t.Helper()
	examples := start("harrow")
	examples.few = true
	if err := os.CopyFS(examples.dir, os.DirFS("../../examples/harrow-valley")); err != nil {
		t.Fatal(err)
	}
	families := start("valley")
	for name, b := range valley.Files(valley.Options{Households: 30, Items: 60, Seed: 4}) {
		p := filepath.Join(families.dir, name)
		if err := os.MkdirAll(filepath.Dir(p), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, b, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	// What the group's standard says may be said too.
	err := filepath.WalkDir(filepath.Join(examples.dir, "standards", "harrow-valley"), func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(p)
		public += "\n" + strings.ToLower(string(b))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		s     *sharer
		drill []string
		least int
	}{{examples, []string{"./..."}, 500}, {families, someOf(t, families.dir), 1500}} {
		x.s.git("init", "-q")
		x.s.git("commit", "-q", "--allow-empty", "-m", "start")
		out := x.s.all("HEAD", x.drill, "./...")
		if n := leaks(t, out, theirs(t, x.s.dir), public); n < x.least {
			t.Errorf("only %d strings searched for", n)
		} else {
			t.Logf("%d strings searched for in %d outputs", n, len(out))
		}
	}
}

// someOf is two households of a valley.
func someOf(t *testing.T, dir string) []string {
	t.Helper()
	all, err := filepath.Glob(filepath.Join(dir, "*", "*", "household.cue"))
	if err != nil || len(all) < 2 {
		t.Fatalf("%d households, %v", len(all), err)
	}
	return []string{filepath.Dir(all[0]), filepath.Dir(all[len(all)-1])}
}
