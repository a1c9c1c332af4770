package intake

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/rewrite"
	"kitmuster/lint/vocabulary"
	"kitmuster/lint/words"
)

// File is a file to write.
type File struct {
	Name string
	Body []byte
}

// words for what is in no pack.
var (
	wornWords = []string{"on body", "worn", "on me", "on person", "pocket", "pockets", "wearing", "am körper", "getragen", "am mann", "sur moi", "sur soi", "porté", "puesto", "encima", "身に着ける", "着用"}
	homeWords = []string{"home", "at home", "house", "not packed", "zu hause", "zuhause", "daheim", "maison", "à la maison", "casa", "en casa", "家", "自宅"}
)

// place is where things lie, as a kit has it.
type place struct {
	name, key string
	person    string // of what is worn
	home      bool
	carrier   string
	guessed   bool // the carrier is guessed from the pack's name
	mass      *Thing
	parts     []*part
}

type part struct {
	name, key string
	things    []*Thing
}

// Written is what would be written.
type Written struct {
	Files []File
	// Guessed is how many things have a use that is guessed from their names, Unsaid those whose use nobody knows.
	Guessed, Unsaid int
	// Lines say for each thing, by its place among the things, where it goes and what is guessed.
	Lines []string
	// Uncarried are the packs of which nobody knows who carries them.
	Uncarried []string
	// Open are what the table does not say and a kit needs.
	Open []string
}

// keys gives keys that are not taken.
type keys map[string]bool

func (k keys) free(name, other string) string {
	base := cmp.Or(key(name), other)
	out := base
	for i := 2; k[out]; i++ {
		out = fmt.Sprintf("%s_%d", base, i)
	}
	k[out] = true
	return out
}

// Write makes the files of a household. All keys are made of the names.
func (p *Plan) Write() (*Written, error) {
	w := &Written{Lines: make([]string, len(p.Things))}
	for _, t := range p.Things {
		for _, name := range []*string{&t.Pack, &t.Compartment, &t.Who} {
			if cut := []rune(*name); len(cut) > mostName {
				*name = string(cut[:mostName])
			}
		}
	}
	people, peopleKeys := []Who{}, map[string]string{} // by name in small letters
	taken := keys{}
	person := func(name string) string {
		k := strings.ToLower(name)
		if peopleKeys[k] == "" {
			peopleKeys[k] = taken.free(name, fmt.Sprintf("person%d", len(people)+1))
			people = append(people, Who{Name: name})
		}
		return peopleKeys[k]
	}
	for _, x := range p.People {
		person(x.Name)
		people[len(people)-1].Age = x.Age
	}
	for _, t := range p.Things {
		if t.Who != "" {
			person(t.Who)
		}
	}
	for _, pack := range sortedKeys(p.Carries) {
		if !slices.ContainsFunc(p.Things, func(t *Thing) bool { return strings.EqualFold(cmp.Or(t.Pack, t.Who, p.Pack, "pack"), pack) }) {
			return nil, fmt.Errorf("--carries %s=%s: no pack is called so", pack, p.Carries[pack])
		}
	}
	places, packKeys := p.places(person), keys{"household": true, "at_home": true}
	reserved := len(packKeys)
	guesses := p.guesses(people)
	use, index := map[*Thing]vocabulary.Guess{}, map[*Thing]int{}
	for i, t := range p.Things {
		use[t], index[t] = guesses[i], i
	}

	if err := w.household(p, people, peopleKeys); err != nil {
		return nil, err
	}
	for _, pl := range places {
		var b strings.Builder
		b.WriteString("package kit\n\n")
		file := ""
		switch {
		case pl.home:
			file = "at_home"
			b.WriteString("atHome: {\n")
		case pl.person != "":
			file = "on_body_" + pl.person
			fmt.Fprintf(&b, "people: %s: onBody: {\n", rewrite.Label(pl.person))
		default:
			pl.key = packKeys.free(pl.name, fmt.Sprintf("pack%d", len(packKeys)-reserved+1))
			file = pl.key
			w.pack(&b, pl)
			if pl.mass != nil {
				w.Lines[index[pl.mass]] = pl.key + ", the pack itself"
			}
			b.WriteString("compartments: {\n")
		}
		partKeys := keys{}
		for _, pt := range pl.parts {
			itemKeys, section := keys{}, ""
			if !pl.home && pl.person == "" {
				pt.key = partKeys.free(pt.name, fmt.Sprintf("part%d", len(partKeys)+1))
				fmt.Fprintf(&b, "%s: {\n", rewrite.Label(pt.key))
				if pt.key != pt.name {
					fmt.Fprintf(&b, "name: %s\n", quoted(pt.name))
				}
				if has(pt.name, outerWords) {
					b.WriteString("reach: \"walking\" // guessed from the name: check\n")
				} else {
					b.WriteString("reach: \"halted\" // the table does not say: \"walking\" where a hand gets in on the move\n")
				}
				b.WriteString("items: {\n")
			}
			for _, t := range pt.things {
				if t.Section != section && t.Section != "" {
					fmt.Fprintf(&b, "\n// %s\n", comment(t.Section))
				}
				section = t.Section
				k := itemKeys.free(t.Name, fmt.Sprintf("thing%d", len(itemKeys)+1))
				w.Lines[index[t]] = pl.at(pt, k)
				w.item(&b, k, t, use[t], peopleKeys, pl, index[t])
			}
			if !pl.home && pl.person == "" {
				b.WriteString("}\n}\n")
			}
		}
		b.WriteString("}\n")
		if !pl.home && pl.person == "" {
			b.WriteString("}\n")
		}
		if err := w.file(file, b.String()); err != nil {
			return nil, err
		}
	}
	return w, nil
}

// household writes who the household is.
func (w *Written) household(p *Plan, people []Who, peopleKeys map[string]string) error {
	var h strings.Builder
	fmt.Fprintf(&h, "package kit\n\n// Made of the table %s. What that does not say is left out here too, and sums say \"at least\".\nhousehold: %s\n", comment(p.File), quoted(p.Household))
	h.WriteString("people: {\n")
	if len(people) == 0 {
		h.WriteString("// The table names nobody. Write each person, with an age: ana: {age: \"42 y\", bodyMass: \"68 kg\"}\n")
		w.Open = append(w.Open, "the people: write them into household.cue, or import again with --people \"ana=42 y\"")
	}
	for _, x := range people {
		k := peopleKeys[strings.ToLower(x.Name)]
		fmt.Fprintf(&h, "%s: {\n", rewrite.Label(k))
		if k != x.Name {
			fmt.Fprintf(&h, "name: %s\n", quoted(x.Name))
		}
		if x.Age != "" {
			fmt.Fprintf(&h, "age: %s\n", quoted(x.Age))
		} else {
			h.WriteString("// age: write it, such as age: \"42 y\"\n")
			w.Open = append(w.Open, "the age of "+x.Name)
		}
		h.WriteString("}\n")
	}
	h.WriteString("}\n")
	w.Open = append(w.Open, "the plan: how long, the season, the way (kitmuster help plans)")
	return w.file("household", h.String())
}

// pack writes what is said of a pack before its compartments.
func (w *Written) pack(b *strings.Builder, pl *place) {
	fmt.Fprintf(b, "packs: %s: {\n", rewrite.Label(pl.key))
	if pl.key != pl.name {
		fmt.Fprintf(b, "name: %s\n", quoted(pl.name))
	}
	switch {
	case pl.carrier != "" && pl.guessed:
		fmt.Fprintf(b, "carrier: %s // guessed from the name: check\n", quoted(pl.carrier))
	case pl.carrier != "":
		fmt.Fprintf(b, "carrier: %s\n", quoted(pl.carrier))
	default:
		b.WriteString("// carrier: write the key of who carries it\n")
		w.Uncarried = append(w.Uncarried, pl.name)
		w.Open = append(w.Open, fmt.Sprintf("who carries %s (--carries %s)", pl.name, words.Shell(pl.name+"=NAME")))
	}
	if pl.mass != nil {
		w.amounts(b, pl.mass, true)
	} else {
		b.WriteString("// mass: of the empty pack, which the table does not say\n")
		w.Open = append(w.Open, "what "+pl.name+" weighs empty")
	}
}

// file keeps a file, written as `cue fmt` writes it.
func (w *Written) file(name, body string) error {
	b, err := rewrite.Format([]byte(body))
	if err != nil {
		return fmt.Errorf("%s.cue cannot be written: %w", name, err)
	}
	w.Files = append(w.Files, File{name + ".cue", b})
	return nil
}

// places divides the things into packs and what is in none.
func (p *Plan) places(person func(string) string) (out []*place) {
	byName := map[string]*place{}
	onlyWho := !p.has(Pack) // a pack for each person
	for _, t := range p.Things {
		name := t.Pack
		if name == "" && onlyWho && t.Who != "" {
			name = t.Who
		}
		if name == "" {
			name = cmp.Or(p.Pack, "pack")
		}
		low := strings.ToLower(name)
		pl := byName[low]
		switch {
		case slices.Contains(homeWords, low) || t.Pack == "" && slices.Contains(homeWords, strings.ToLower(t.Compartment)):
			low = "at home"
			if pl = byName[low]; pl == nil {
				pl = &place{name: name, home: true}
			}
		case slices.Contains(wornWords, low) && (t.Who != "" || len(p.People) == 1):
			who := t.Who
			if who == "" {
				who = p.People[0].Name
			}
			k := person(who)
			low += " " + k
			if pl = byName[low]; pl == nil {
				pl = &place{name: name, person: k}
			}
		default:
			if pl == nil {
				pl = &place{name: name}
			}
		}
		if byName[low] == nil {
			byName[low] = pl
			out = append(out, pl)
		}
		if !pl.home && pl.person == "" && pl.mass == nil && t.Count == 1 && itself(t.Name, name) && t.Mass.text != "" {
			pl.mass = t
			continue
		}
		part := pl.part(cmp.Or(t.Compartment, "main"))
		part.things = append(part.things, t)
	}
	for _, pl := range out {
		if pl.home || pl.person != "" {
			continue
		}
		whose, several := "", false
		for _, pt := range pl.parts {
			for _, t := range pt.things {
				several = several || whose != "" && !strings.EqualFold(whose, t.Who)
				whose = cmp.Or(whose, t.Who)
			}
		}
		r := &reader{Plan: p}
		if name := p.Carries[strings.ToLower(pl.name)]; name != "" {
			pl.carrier = person(name)
		} else if name, ok := r.whose(pl.name); ok {
			pl.carrier, pl.guessed = person(name), !strings.EqualFold(name, pl.name)
		} else if whose != "" && !several {
			pl.carrier = person(whose)
		} else if n := len(p.People); n == 1 && whose == "" {
			pl.carrier, pl.guessed = person(p.People[0].Name), false
		}
	}
	return out
}

// at is where a thing goes, for people.
func (pl *place) at(pt *part, key string) string {
	switch {
	case pl.home:
		return "at home/" + key
	case pl.person != "":
		return "on " + pl.person + "/" + key
	}
	return pl.key + "/" + pt.key + "/" + key
}

func (pl *place) part(name string) *part {
	for _, pt := range pl.parts {
		if strings.EqualFold(pt.name, name) {
			return pt
		}
	}
	pl.parts = append(pl.parts, &part{name: name})
	return pl.parts[len(pl.parts)-1]
}

// itself reports whether a thing is the pack that it is in.
func itself(name, pack string) bool {
	name, _ = strings.CutPrefix(strings.ToLower(name), "the ")
	if name == strings.ToLower(pack) {
		return true
	}
	if !has(name, packWords) || has(name, []string{"sleeping", "sleep", "dry", "rubbish", "garbage", "trash", "toilet", "zip", "ziplock", "couchage", "dormir", "bum", "ice", "power", "plastic", "tea", "bin"}) {
		return false
	}
	ws := strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune(" ,()-:", r) })
	for _, w := range ws {
		if slices.Contains(emptyWords, w) {
			return true
		}
	}
	return len(ws) == 1 && slices.Contains([]string{"backpack", "rucksack", "daypack", "mochila", "リュック", "ザック"}, ws[0])
}

// guesses asks the vocabulary what the things may be.
func (p *Plan) guesses(people []Who) []vocabulary.Guess {
	names, own := make([]string, len(p.Things)), []string{}
	for i, t := range p.Things {
		names[i] = t.Name
	}
	for _, w := range people {
		own = append(own, w.Name)
	}
	return vocabulary.Guesses(names, make([]string, len(names)), nil, own)
}

// amounts writes what is weighed.
func (w *Written) amounts(b *strings.Builder, t *Thing, pack bool) {
	if t.Counted && t.Count != 1 && !pack {
		fmt.Fprintf(b, "count: %d\n", t.Count)
	}
	if t.Mass.text != "" {
		fmt.Fprintf(b, "mass: %s\n", quoted(t.Mass.text))
	}
	if t.Weighed != "" && t.Mass.text != "" {
		fmt.Fprintf(b, "weighed: %s\n", quoted(t.Weighed))
	}
	if t.Mass.about {
		b.WriteString("estimated: true\n")
	}
}

// item writes one thing.
func (w *Written) item(b *strings.Builder, k string, t *Thing, g vocabulary.Guess, people map[string]string, pl *place, i int) {
	for _, n := range t.Notes {
		fmt.Fprintf(b, "// %s\n", comment(n))
	}
	fmt.Fprintf(b, "%s: {\n", rewrite.Label(k))
	if k != t.Name {
		fmt.Fprintf(b, "name: %s\n", quoted(t.Name))
	}
	w.amounts(b, t, false)
	if who := people[strings.ToLower(t.Who)]; t.Who != "" && who != pl.carrier && pl.person == "" {
		fmt.Fprintf(b, "owner: %s\n", quoted(who))
	}
	if t.Shared {
		b.WriteString("shared: true\n")
	}
	if t.Expires != "" {
		fmt.Fprintf(b, "expires: %s\n", quoted(t.Expires))
	}
	said, sure := uses(g, t.Energy != "")
	switch {
	case t.Energy != "":
		fmt.Fprintf(b, "food: energy: %s\n", quoted(t.Energy))
		w.Lines[i] += "  food: energy: " + quoted(t.Energy)
	case sure && len(said) > 0:
		for _, line := range said {
			fmt.Fprintf(b, "%s // guessed from the name: check\n", line)
		}
		w.Guessed++
		w.Lines[i] += "  " + strings.Join(said, ", ") + " (guessed)"
	case g.OK && g.Write != "":
		fmt.Fprintf(b, "// By its name it may be: %s\n", comment(g.Write))
		w.Unsaid++
	case !g.OK:
		w.Unsaid++
	}
	b.WriteString("}\n")
}

// open is a value that only the family knows.
const open = "…"

// uses are the fields that a sure guess writes, without the amounts that only the family knows. Where a field cannot stand without one,
// nothing is written.
func uses(g vocabulary.Guess, fed bool) (out []string, sure bool) {
	if !g.OK || !g.Sure || g.Write == "" || g.For != "" || fed {
		return nil, false
	}
	leaves, err := rewrite.Leaves(g.Write)
	if err != nil {
		return nil, false
	}
	groups := map[string]bool{}
	for _, l := range leaves {
		// A bottle may be packed full or empty, and written without water it would be empty; a pot of no size holds nothing.
		if l.Path == "water" || l.Path == "container/capacity" && l.Value == open {
			return nil, false
		}
	}
	for _, l := range leaves {
		if text, ok := l.Value.(string); ok && text == open {
			continue
		}
		first, _, _ := strings.Cut(l.Path, "/")
		groups[first] = true
	}
	for _, l := range leaves {
		first, rest, nested := strings.Cut(l.Path, "/")
		if text, ok := l.Value.(string); ok && text == open {
			switch {
			case nested && slices.Contains([]string{"food", "device", "insulation"}, first) && rest != "kind":
				if !groups[first] {
					groups[first] = true
					out = append(out, first+": {}")
				}
			default:
				return nil, false
			}
			continue
		}
		v, err := json.Marshal(l.Value)
		if _, group := l.Value.(rewrite.Fields); group {
			v = []byte("{}")
		}
		if err != nil {
			return nil, false
		}
		out = append(out, strings.ReplaceAll(l.Path, "/", ": ")+": "+string(v))
	}
	return out, len(out) > 0
}

// quoted is a text as CUE has it, so that nothing in it is more than text.
func quoted(text string) string { return rewrite.Quote(words.Clean(text)) }

// comment is a text in one line of a comment.
func comment(text string) string {
	text = strings.Join(strings.Fields(words.Clean(text)), " ")
	if r := []rune(text); len(r) > 200 {
		text = string(r[:200]) + " …"
	}
	return text
}
