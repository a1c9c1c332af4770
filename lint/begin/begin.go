// Package begin is how a household begins: questions in plain lines (talk.go), and the first files of a kit (write.go).
//
// What is answered is kept as a flat file of answers, a line for each question, so that it can be read, changed and given again. What is
// not known is kept as such. Each answer is held against the schema as the check would do it: the files are made with it, and read.
package begin

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing/fstest"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"kitmuster/lint/load"
	"kitmuster/lint/words"
)

// FileName is what the file of answers is called, in the folder of the kit to be.
const FileName = "new-answers.yaml"

// MostBytes is the most that a file of answers may hold.
const MostBytes = 256 << 10

// most is how many people, animals, and medicines of each there may be; a household with more goes on by hand.
const most = 12

// longest is the most letters of a name: keys and files are called by it.
const longest = 60

const (
	unknown = "unknown"
	none    = "none"
)

// Answers are what was answered, by question: "person 1 age" → "42 y". unknown is one that is not known, none says that there is no more.
type Answers map[string]string

func (a Answers) known(key string) string {
	if v := a[key]; v != unknown && v != none {
		return v
	}
	return ""
}

type question struct {
	key string
	// ask says it; it names an example where that helps.
	ask string
	// words are all that it may be, in any case; many allows several with commas between them.
	words []string
	many  bool
	// more says that Enter means that there is no more of this.
	more bool
	// bare is the unit of a plain number.
	bare string
}

// questions are all that apply, in order, as far as the answers tell.
func questions(a Answers) (qs []question) {
	add := func(q question) { qs = append(qs, q) }
	// entries asks for one thing after the other, and of each what each says.
	entries := func(prefix, first, next string, each func(key, name string)) {
		for i := 1; i <= most; i++ {
			key := prefix + " " + strconv.Itoa(i)
			ask := next
			if i == 1 {
				ask = first
			}
			add(question{key: key, ask: ask, more: true})
			name, ok := a[key]
			if !ok || name == none {
				return
			}
			if name == unknown {
				name = "they"
			}
			each(key, name)
		}
	}
	medicines := func(key, name string) {
		entries(key+" medicine", "What medicine does "+name+" take? One name, or Enter for none.", "Another medicine of "+name+"? Enter if there is none.", func(key, m string) {
			add(question{key: key + " doses", ask: "How many doses of " + m + " a day? A number such as 2 or 0.5, or: as needed."})
		})
	}
	add(question{key: "household", ask: "What is your household called, such as Alder?"})
	entries("person", "Who is in it? The name of one person, such as Ana.", "Who else? Enter if that is everyone.", func(key, name string) {
		add(question{key: key + " age", ask: "How old is " + name + "? Such as 42 or 8 months, or the day of birth: 1984-05-01.", bare: "y"})
		add(question{key: key + " weight", ask: "What does " + name + " weigh, without clothes? Such as 68 kg or 150 lb."})
		medicines(key, name)
		add(question{key: key + " pack", ask: "Does " + name + " carry a pack? yes or no.", words: []string{"yes", "no"}})
		if a[key+" pack"] == "yes" {
			add(question{key: key + " pack weight", ask: "What does the pack of " + name + " weigh when it is empty? Such as 1.2 kg."})
		}
	})
	entries("animal", "Does an animal go along? Its name, or Enter for none.", "Another animal? Enter if there is none.", func(key, name string) {
		add(question{key: key + " kind", ask: "What is " + name + "? dog, cat, horse or other.", words: []string{"dog", "cat", "horse", "other"}})
		add(question{key: key + " weight", ask: "What does " + name + " weigh? Such as 24 kg."})
		medicines(key, name)
	})
	add(question{key: "duration", ask: "How long must the packs be enough without help? Such as 72 h.", bare: "h"})
	add(question{key: "hazards", ask: "What may drive you out? Some of: " + strings.Join(hazards, ", ") + ". Commas between them.", words: hazards, many: true})
	add(question{key: "settings", ask: "What country do you walk through? Some of: " + strings.Join(settings, ", ") + ".", words: settings, many: true})
	add(question{key: "season", ask: "Which season do you plan for first? Such as winter."})
	add(question{key: "day", ask: "How warm is a typical day of it where you go? Such as 8 °C or 46 °F. Your weather service publishes such figures; Kitmuster knows none."})
	add(question{key: "night", ask: "And a typical night?"})
	if a.known("day") != "" || a.known("night") != "" {
		add(question{key: "weather from", ask: "Where are these figures from? Such as: weather service, mean of January."})
	}
	add(question{key: "latitude", ask: "How far north or south is it? Such as 47.5 N, as a map says; it gives the hours of daylight."})
	add(question{key: "distance", ask: "How far do you walk to where you will be safe? Such as 6.5 km."})
	if a.known("distance") != "" {
		add(question{key: "climb", ask: "How much does that way climb, all together? Such as 120 m."})
	}
	add(question{key: "destination", ask: "Where does it end? house (someone else's), shelter (an emergency shelter) or camp.", words: []string{"house", "shelter", "camp"}})
	add(question{key: "meeting point", ask: "Where do you meet if you are apart? Such as: the north door of the school."})
	add(question{key: "contact", ask: "Whom do you all call, best someone who lives far away? A name."})
	if a.known("contact") != "" {
		add(question{key: "contact phone", ask: "What is the number of " + a["contact"] + "?"})
		add(question{key: "contact far", ask: "Does " + a["contact"] + " live far away? yes or no.", words: []string{"yes", "no"}})
	}
	return qs
}

var (
	hazards  = []string{"flood", "quake", "fire", "storm", "frost", "heat", "industrial", "tsunami", "volcano"}
	settings = []string{"town", "woodland", "desert", "coast", "snow"}
)

// next is the first question without an answer, nil where there is none.
func next(a Answers) *question {
	for _, q := range questions(a) {
		if _, ok := a[q.key]; !ok {
			return &q
		}
	}
	return nil
}

// take reads what was typed for a question and holds it against the schema. An error says what is wrong.
func take(a Answers, q *question, typed string) (string, error) {
	typed = strings.TrimSpace(words.Clean(words.Line(typed)))
	low := strings.ToLower(typed)
	switch {
	case low == none && q.more, low == "" && q.more:
		return none, nil
	case slices.Contains([]string{"", unknown, "not known", "don't know", "don’t know", "dont know"}, low):
		return unknown, nil
	case len(q.words) > 0:
		given := []string{low}
		if q.many {
			given = strings.FieldsFunc(low, func(r rune) bool { return r == ',' || r == ' ' || r == ';' })
		}
		var out []string
		for _, w := range given {
			if i := slices.IndexFunc(q.words, func(of string) bool { return of == w || of[:1] == w && !q.many }); i >= 0 {
				w = q.words[i]
			}
			if !slices.Contains(q.words, w) {
				return "", errors.New(words.Suggest(strconv.Quote(w)+" is none of the words here", w, q.words, "there are"))
			}
			if !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
		return strings.Join(out, ", "), nil
	case q.bare != "":
		if _, err := strconv.ParseFloat(typed, 64); err == nil {
			typed += " " + q.bare
		}
	}
	if strings.HasSuffix(q.key, " doses") {
		switch n, err := strconv.ParseFloat(typed, 64); {
		case low == "as needed":
			return low, nil
		case err != nil || n <= 0 || n > 100 || strings.ContainsAny(typed, "xXpP_"):
			return "", fmt.Errorf("%q is no number of doses; write 2, 0.5, or: as needed", typed)
		}
	}
	if q.more {
		for key, v := range a {
			if kindOf(key) == kindOf(q.key) && strings.EqualFold(v, typed) {
				return "", fmt.Errorf("there is one called %s already; write this one otherwise", v)
			}
		}
	}
	if (q.more || q.key == "household") && utf8.RuneCountInString(typed) > longest {
		return "", fmt.Errorf("a name may have %d letters at most", longest)
	}
	before, err := faults(a)
	if err != nil {
		return "", err
	}
	with := maps.Clone(a)
	with[q.key] = typed
	after, err := faults(with)
	if err != nil {
		return "", err
	}
	for _, f := range after {
		if !slices.Contains(before, f) {
			return "", errors.New(f)
		}
	}
	return typed, nil
}

// kindOf is a question's key without its last number, so that all of one kind have the same.
func kindOf(key string) string {
	i := strings.LastIndex(key, " ")
	if i < 0 {
		return key
	}
	if _, err := strconv.Atoi(key[i+1:]); err != nil {
		return key
	}
	return key[:i]
}

// faults is what the check would refuse in the files of these answers. What is not known yet is none.
func faults(a Answers) (out []string, err error) {
	files, err := Files(a)
	if err != nil {
		return nil, err
	}
	tree := fstest.MapFS{}
	for name, b := range files {
		tree[name] = &fstest.MapFile{Data: b, Mode: 0o644}
	}
	for _, f := range load.Household(tree, ".", load.Options{}).Faults {
		if f.Rule != "input/missing" {
			out = append(out, f.Message)
		}
	}
	return out, nil
}

// Read reads a file of answers. Each answer is held against the questions and the schema; an error names the first that does not fit.
func Read(b []byte) (Answers, error) {
	if len(b) > MostBytes {
		return nil, fmt.Errorf("a file of answers holds at most %d kB", MostBytes>>10)
	}
	var doc yaml.Node
	if err := yaml.Unmarshal(b, &doc); err != nil {
		return nil, fmt.Errorf("it is not YAML: %s", words.Clean(words.Line(strings.TrimPrefix(err.Error(), "yaml: "))))
	}
	if doc.Kind == 0 {
		return Answers{}, nil
	}
	top := doc.Content[0]
	if top.Kind != yaml.MappingNode {
		return nil, errors.New("it has no answers; write one a line, such as household: \"Alder\"")
	}
	given := map[string]*yaml.Node{}
	for i := 0; i+1 < len(top.Content); i += 2 {
		k, v := top.Content[i], top.Content[i+1]
		if k.Kind != yaml.ScalarNode || v.Kind != yaml.ScalarNode {
			return nil, fmt.Errorf("line %d: one question and its answer a line, such as person 1 age: \"42 y\"", k.Line)
		}
		if given[k.Value] != nil {
			return nil, fmt.Errorf("line %d: %q is answered twice", k.Line, k.Value)
		}
		given[k.Value] = v
	}
	a := Answers{}
	for q := next(a); q != nil; q = next(a) {
		v := given[q.key]
		if v == nil {
			break
		}
		delete(given, q.key)
		text, err := take(a, q, v.Value)
		if err != nil {
			return nil, fmt.Errorf("line %d: %s: %w", v.Line, q.key, err)
		}
		a[q.key] = text
	}
	if len(given) == 0 {
		return a, nil
	}
	return rest(a, given)
}

// rest takes answers behind a question that has none: what is left out is not known.
func rest(a Answers, given map[string]*yaml.Node) (Answers, error) {
	for q := next(a); q != nil && len(given) > 0; q = next(a) {
		text := ""
		line := 0
		if v := given[q.key]; v != nil {
			text, line = v.Value, v.Line
			delete(given, q.key)
		}
		got, err := take(a, q, text)
		if err != nil {
			return nil, fmt.Errorf("line %d: %s: %w", line, q.key, err)
		}
		a[q.key] = got
	}
	var all []string
	for _, q := range questions(a) {
		all = append(all, q.key)
	}
	for _, key := range slices.Sorted(maps.Keys(given)) {
		return nil, fmt.Errorf("line %d: %s", given[key].Line, words.Suggest(strconv.Quote(words.Clean(words.Line(key)))+" is no question here", key, all, "there are"))
	}
	return a, nil
}

// Fill answers what is left with unknown, and with none where there may be more.
func Fill(a Answers) {
	for q := next(a); q != nil; q = next(a) {
		a[q.key] = unknown
		if q.more {
			a[q.key] = none
		}
	}
}

// Text is the file of answers.
func (a Answers) Text() []byte {
	var b bytes.Buffer
	b.WriteString("# What was answered so far; kitmuster new goes on from here. unknown: not known yet. none: there is no more.\n")
	for _, q := range questions(a) {
		if v, ok := a[q.key]; ok {
			fmt.Fprintf(&b, "%s: %s\n", q.key, quoted(v))
		}
	}
	return b.Bytes()
}

// quoted is a text as JSON writes it, which YAML and CUE read too.
func quoted(s string) string {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	_ = e.Encode(s) // a text can always be encoded
	return strings.TrimSpace(b.String())
}
