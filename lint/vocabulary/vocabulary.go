// Package vocabulary leads the name of a thing to what it may be: "storm matches" may make
// fire. It only asks a question of the family; no sum and no rule takes its answer for a fact.
//
// The data are files: senses.json says what a sense may do and how a family writes it, one
// file a language holds the words of each sense and the grammar that finds the word which
// says what the thing is: "match box" and "box of matches" are matches, "matches case" is
// none. A sense that leads nowhere is known and has no field: a rucksack, a cane. A further
// language is a further file. How often the answers are right is measured in testdata.
package vocabulary

import (
	"cmp"
	"embed"
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed senses.json en.json de.json fr.json es.json ja.json
var data embed.FS

// files are the languages; of two that know as many of a household's names, the former is taken for its language.
var files = []string{"en.json", "de.json", "fr.json", "es.json", "ja.json"}

// Guess is what a thing may be by its name.
type Guess struct {
	// OK: a word of the vocabulary says what it is.
	OK bool
	// Sure: no other word of the name may make something else of it, as a dog's whistle is none for people. What is not sure
	// may be suggested, and stands for nothing.
	Sure bool
	// May lists what it may do or hold, sorted: a capability of the schema, such as "signal", the same with its means,
	// "signal:whistle", or what no capability says: "food", "container", "documents:identity" and
	// "documents". Empty for a thing that is known and has no field.
	May []string
	// Write is what a family writes in the item to say so, such as `can: signal: "whistle"`; "" where May is empty.
	Write string
	// Raw: it is food that is eaten cooked, as rice is.
	Raw bool
	// For is whom food is meant for: "infant", "animal", or a species; "" for everyone, and for what is no food. In Write
	// the key of the one stands as "…".
	For string
	// Ask is what else only the family knows, as the end of a sentence, or "".
	Ask string
	// Several: the name is of more than one, such as "sleeping bags". A plural that is the word of the vocabulary itself, such as
	// "glasses", says nothing.
	Several bool
}

// sense is one meaning.
type sense struct {
	Can map[string]string `json:"can"` // as the schema's field of that name
	// Holds is what no capability under can says; with a colon, of which kind.
	Holds []string `json:"holds"`
	// Text is what the family writes where it is not can.
	Text string `json:"write"`
	For  string `json:"for"` // see Guess
	Ask  string `json:"ask"`
	Raw  bool   `json:"raw"` // see Guess

	guess Guess
}

func (s *sense) finish() {
	g := &s.guess
	g.OK, g.For, g.Ask, g.Raw = true, s.For, s.Ask, s.Raw
	for _, what := range s.Holds {
		if of, _, ok := strings.Cut(what, ":"); ok {
			g.May = append(g.May, of)
		}
		g.May = append(g.May, what)
	}
	names := slices.Sorted(maps.Keys(s.Can))
	fields := make([]string, len(names))
	for i, name := range names {
		g.May = append(g.May, name, name+":"+s.Can[name])
		fields[i] = name + `: "` + s.Can[name] + `"`
	}
	slices.Sort(g.May)
	g.May = slices.Compact(g.May)
	switch {
	case s.Text != "" || len(fields) == 0:
		g.Write = s.Text
	case len(fields) == 1:
		g.Write = "can: " + fields[0]
	default:
		g.Write = "can: {" + strings.Join(fields, ", ") + "}"
	}
}

// languages reads the files once, at the first name that is asked for.
var languages = sync.OnceValue(func() []*language {
	senses := map[string]*sense{}
	decode("senses.json", &senses)
	for _, s := range senses {
		s.finish()
	}
	out := make([]*language, len(files))
	for i, file := range files {
		out[i] = &language{}
		decode(file, out[i])
		out[i].index(senses)
	}
	return out
})

func decode(file string, into any) {
	b, err := data.ReadFile(file)
	if err == nil {
		err = json.Unmarshal(b, into)
	}
	if err != nil {
		panic(file + ": " + err.Error()) // the data are part of the program
	}
}

// Guesses answers for each name of one household, or, where a name leads nowhere, for the key that the thing is written
// under, or "". Of the languages, those count that know more than a third of what the one that knows most knows: a single
// German word among English names is a chance.
//
// Further names of the household tell which languages it writes in; own are the names of its people and animals, which say
// nothing of a thing.
func Guesses(names, keys, further, own []string) []Guess {
	mine := map[string]bool{}
	for _, name := range own {
		for _, w := range tokens(fold(name[:min(len(name), longest)])) {
			mine[w] = true
		}
	}
	out := make([]Guess, len(names))
	counts := make([]int, len(languages()))
	for i, l := range languages() {
		for _, name := range further {
			if l.find(name, nil).s != nil {
				counts[i]++
			}
		}
	}
	open := guess(out, names, counts, mine)
	if len(open) > 0 {
		others := make([]string, len(names))
		for _, j := range open {
			others[j] = keys[j]
		}
		guess(out, others, counts, mine)
	}
	return out
}

// guess answers for names, adds to counts how many of them each language knows, and says for which there is no answer.
func guess(out []Guess, names []string, counts []int, own map[string]bool) (open []int) {
	hits := make([][]found, len(counts))
	order := make([]int, len(counts))
	for i, l := range languages() {
		hits[i] = make([]found, len(names))
		for j, name := range names {
			if hits[i][j] = l.find(name, own); hits[i][j].s != nil {
				counts[i]++
			}
		}
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(counts[b], counts[a]) })
	for j := range names {
		k := slices.IndexFunc(order, func(i int) bool { return hits[i][j].s != nil && 3*counts[i] > counts[order[0]] })
		if k < 0 {
			open = append(open, j)
			continue
		}
		out[j] = hits[order[k]][j].guess(names[j])
	}
	return open
}

// found is what a name leads to.
type found struct {
	s *sense // nil where it leads nowhere
	// papers are the kinds of all papers named, where the name is of several.
	papers []string
	dry    bool // it is said to be waterproof
	empty  bool // it is said to hold nothing
	sure   bool // see Guess
	alone  bool // the name lists no several things
	// several: the word of it is a plural.
	several bool
}

// papers are the kinds of papers that a sense is; nil where it is none.
func (s *sense) papers() []string {
	list, ok := strings.CutPrefix(s.Text, `documents: ["`)
	if list, end := strings.CutSuffix(list, `"]`); ok && end {
		return strings.Split(list, `", "`)
	}
	return nil
}

func (f found) guess(name string) Guess {
	g := f.s.guess
	g.Raw = g.Raw && f.alone // a bar of oats and nuts is no oats
	g.Several, g.Sure = f.several, f.sure
	if f.empty {
		g.Write, _, _ = strings.Cut(g.Write, `, water: "…"`)
		g.Ask = ""
	}
	if v := volume(name); v != "" {
		for _, field := range []string{"capacity", "water"} {
			g.Write = strings.Replace(g.Write, field+`: "…"`, field+": "+strconv.Quote(v), 1)
		}
	}
	if size := cellSize(name); size != "" {
		g.Write = strings.Replace(g.Write, `cells: {size: "AA"`, `cells: {size: "`+size+`"`, 1)
	}
	if len(f.papers) > 1 {
		g.Write = `documents: ["` + strings.Join(f.papers, `", "`) + `"]`
	}
	if f.dry && f.s.Can["fire"] != "" {
		g.Write += ", waterproof: true"
	}
	return g
}
