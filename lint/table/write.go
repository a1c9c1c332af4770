package table

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing/fstest"

	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// A Household is what a family says of itself while it brings in its table.
type Household struct {
	Name string
	// From is what the table's file is called.
	From string
	// Carriers says by the key of a pack who carries it; a pack that is not in it is left open.
	Carriers map[string]string
}

// Files are the files of a kit: what is of the whole household, and each pack in one of its own where there are several. They are read
// again before they are given, and hold what the table was taken for; an error says what does not.
func (t *Table) Files(h Household) (map[string][]byte, error) {
	l, err := t.read(h)
	if err == nil {
		err = t.proved(l)
	}
	if err != nil {
		return nil, err
	}
	return t.texts(h)
}

// read reads the files that would be written. A kit in which nobody carries a pack is read in part only, so someone is put in for each.
func (t *Table) read(h Household) (*load.Loaded, error) {
	whole := Household{Name: h.Name, From: h.From, Carriers: map[string]string{}}
	for _, b := range t.Bags {
		whole.Carriers[b.Key] = cmp.Or(h.Carriers[b.Key], "someone")
	}
	files, err := t.texts(whole)
	if err != nil {
		return nil, err
	}
	tree := fstest.MapFS{}
	for name, b := range files {
		tree[name] = &fstest.MapFile{Data: b, Mode: 0o644}
	}
	return load.Household(tree, ".", load.Options{}), nil
}

// mostSettled is how often a table is read again after something was left out of it.
const mostSettled = 3

// settle leaves out what no kit can hold, such as a mass that nobody believes, and says so with its cell.
func (t *Table) settle() error {
	for range mostSettled {
		l, err := t.read(Household{Name: "kit"})
		if err != nil {
			return err
		}
		left := false
		for _, f := range l.Faults {
			keys := source.Keys(f.Spot)
			if f.Rule == "input/missing" || len(keys) < 6 {
				continue
			}
			if th := t.at(keys[1], keys[3], keys[5]); th != nil {
				left = true
				t.Open = append(t.Open, Told{Cell(th.Row, max(th.atIn, 0)), f.Message + "; it is left out"})
				th.without(append(keys, "")[6])
			}
		}
		if !left {
			break
		}
	}
	return nil
}

// at is the thing under these keys, nil where there is none.
func (t *Table) at(bag, place, key string) *Thing {
	for _, b := range t.Bags {
		for _, p := range b.Places {
			for _, th := range p.Things {
				if b.Key == bag && p.Key == place && th.Key == key {
					return th
				}
			}
		}
	}
	return nil
}

// without takes a field from a thing, or all that is not its name.
func (t *Thing) without(field string) {
	switch field {
	case "count":
		t.Count = 0
	case "expires":
		t.Expires = ""
	case "name":
		t.Name = t.Key
	case "mass":
		t.Mass, t.each, t.atIn = "", 0, -1
	default:
		t.Guess, t.Expires, t.Count, t.Mass, t.each, t.atIn = "", "", 0, "", 0, -1
	}
}

func (t *Table) texts(h Household) (map[string][]byte, error) {
	people := t.people(h)
	var head strings.Builder
	fmt.Fprintf(&head, "package kit\n\n// Made by kitmuster import of %s.\nhousehold: %s\n\n", words.Clean(h.From), rewrite.Quote(words.Clean(h.Name)))
	head.WriteString("// Who you are. Add age and body weight of each, such as ana: {age: \"42 y\", bodyMass: \"68 kg\"}.\npeople: {\n")
	for _, p := range people {
		fmt.Fprintf(&head, "\t%s: %s\n", p.key, named(p.key, p.name))
	}
	head.WriteString("}\n")
	texts := map[string]string{}
	for _, b := range t.Bags {
		text := t.bag(b, h.Carriers[b.Key], people)
		if len(t.Bags) == 1 {
			texts["kit.cue"] = head.String() + "\n" + text
			break
		}
		name := b.Key + ".cue"
		if b.Key == "household" {
			name = "pack_" + name
		}
		texts[name] = "package kit\n\n" + text
		texts["household.cue"] = head.String()
	}
	out := map[string][]byte{}
	for _, name := range sortedKeys(texts) {
		b, err := rewrite.Format([]byte(texts[name]))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		out[name] = b
	}
	return out, nil
}

// person is someone who carries a pack.
type person struct{ key, name string }

// people are those who carry, in the order of the packs.
func (t *Table) people(h Household) (out []person) {
	given := keys{}
	for _, b := range t.Bags {
		who := h.Carriers[b.Key]
		if who == "" || slices.ContainsFunc(out, func(p person) bool { return p.name == who }) {
			continue
		}
		out = append(out, person{given.free("", who, "person"), who})
	}
	return out
}

// named is an entry with a name where its key does not say it.
func named(key, name string) string {
	if name == key {
		return "{}"
	}
	return "{name: " + rewrite.Quote(name) + "}"
}

func (t *Table) bag(b *Bag, carrier string, people []person) string {
	var s strings.Builder
	fmt.Fprintf(&s, "packs: %s: {\n", b.Key)
	if b.Name != b.Key {
		fmt.Fprintf(&s, "\tname: %s\n", rewrite.Quote(words.Clean(b.Name)))
	}
	if i := slices.IndexFunc(people, func(p person) bool { return p.name == carrier }); carrier != "" && i >= 0 {
		fmt.Fprintf(&s, "\tcarrier: %q\n", people[i].key)
	} else {
		s.WriteString("\t// Who carries it? Write the key of a person: carrier: \"ana\"\n")
	}
	s.WriteString("\t// Weigh it empty: mass: \"1.2 kg\"\n\tcompartments: {\n")
	for _, p := range b.Places {
		fmt.Fprintf(&s, "\t\t%s: {\n", p.Key)
		if p.Name != p.Key {
			fmt.Fprintf(&s, "\t\t\tname: %s\n", rewrite.Quote(words.Clean(p.Name)))
		}
		if p.Walking() {
			s.WriteString("\t\t\treach: \"walking\" // guessed from the name: check\n")
		} else {
			s.WriteString("\t\t\t// Write walking where what is in it can be reached on the way.\n\t\t\treach: \"halted\"\n")
		}
		s.WriteString("\t\t\titems: {\n")
		for _, th := range p.Things {
			for _, n := range th.Notes {
				fmt.Fprintf(&s, "\t\t\t\t// %s\n", n)
			}
			fmt.Fprintf(&s, "\t\t\t\t%s: %s\n", th.Key, th.written())
		}
		s.WriteString("\t\t\t}\n\t\t}\n")
	}
	s.WriteString("\t}\n}\n")
	return s.String()
}

// atHand are words of a compartment's name that say that a hand gets in on the way. Common practice, no source.
var atHand = []string{
	"lid", "top", "hip", "belt", "hipbelt", "side", "strap", "pocket", "deckel", "huftgurt", "seite", "seitentasche", "riemen", "rabat", "dessus", "ceinture", "cote", "poche", "bretelle",
	"tapa", "cinturon", "lateral", "bolsillo", "correa", "ポケット", "サイド", "腰ベルト",
}

// Walking reports whether the name of a compartment says that what is in it is reached while walking.
func (p *Pocket) Walking() bool {
	return slices.ContainsFunc(strings.Fields(fold(p.Name)), func(w string) bool { return slices.Contains(atHand, w) })
}

// written is a thing on a line.
func (t *Thing) written() string {
	var parts []string
	add := func(field, text string) {
		if text != "" {
			parts = append(parts, field+": "+text)
		}
	}
	if t.Name != t.Key {
		add("name", rewrite.Quote(t.Name))
	}
	if t.Count > 1 {
		add("count", strconv.FormatInt(t.Count, 10))
	}
	if t.Mass != "" {
		add("mass", rewrite.Quote(t.Mass))
	}
	if t.Expires != "" {
		add("expires", rewrite.Quote(t.Expires))
	}
	if t.Guess != "" {
		parts = append(parts, t.Guess)
	}
	line := "{" + strings.Join(parts, ", ") + "}"
	if t.Guess != "" {
		line += " // guessed from the name: check"
	}
	return line
}

// proved holds what was read of the files against the table.
func (t *Table) proved(l *load.Loaded) error {
	if l.Kit == nil {
		return errors.New("what would be written cannot be read back: " + faults(l.Faults))
	}
	// Ages are missing yet.
	if i := slices.IndexFunc(l.Faults, func(f load.Fault) bool { return f.Rule != "input/missing" }); i >= 0 {
		return errors.New("what would be written has a fault: " + faults(l.Faults[i:]))
	}
	written := map[string]*kit.Item{}
	n := 0
	for i := range l.Kit.Packs {
		for _, c := range l.Kit.Packs[i].Compartments {
			for k := range c.Items {
				written[l.Kit.Packs[i].Key+"/"+c.Key+"/"+c.Items[k].Key], n = &c.Items[k], n+1
			}
		}
	}
	for _, b := range t.Bags {
		for _, p := range b.Places {
			for _, th := range p.Things {
				it := written[b.Key+"/"+p.Key+"/"+th.Key]
				if it == nil || it.Mass != th.each || it.Count != max(1, th.Count) {
					return fmt.Errorf("what would be written of %q (%s) is not what the table says", th.Name, Cell(th.Row, 0))
				}
				n--
			}
		}
	}
	if n != 0 {
		return fmt.Errorf("%d things would be written that the table does not have", n)
	}
	return nil
}

func faults(fs []load.Fault) string {
	if len(fs) == 0 {
		return "no reason is known"
	}
	return fs[0].Message
}
