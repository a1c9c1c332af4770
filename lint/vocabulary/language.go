package vocabulary

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// longest is how many bytes of a name are read: what a thing is stands at its beginning.
const longest = 200

// language is the words and the grammar of one language. Words are written as people write
// them in the file, and folded (see fold) wherever they are compared.
type language struct {
	Name string `json:"language"`
	// Head is where the word stands that says what a thing is: "last" in English ("match box"), "first" in French.
	Head string `json:"head"`
	// Compounds: the end of a word may be a word, as in German, where the data do not say otherwise.
	Compounds bool `json:"compounds"`
	// Unspaced: words are written without spaces between them.
	Unspaced bool `json:"unspaced"`
	// Cut lists words after which stands what a thing is for, in or from.
	Cut []string `json:"cut"`
	// Join lists words between two things.
	Join []string `json:"join"`
	// Of and Measures: a box of matches is matches, a picture of matches is none.
	Of       []string `json:"of"`
	Measures []string `json:"measures"`
	// Parts are heads that make something else of a thing: a lamp's case is no lamp.
	Parts []string `json:"parts"`
	// Plain words say nothing of what a thing is: sizes, colours, whose it is. Where a language has any, a word that is neither
	// plain nor part of the phrase found leaves a name in doubt: a butter knife is no knife to cut with.
	Plain []string `json:"plain"`
	// Broad lists senses that stay what they are with any word before them: any biscuit is food.
	Broad []string `json:"broad"`
	// Play lists words that make a toy of a thing.
	Play []string `json:"play"`
	// Empty lists words for a container that holds nothing.
	Empty []string `json:"empty"`
	// Endings of the plural and of cases, with what stands in their place.
	Endings [][2]string `json:"endings"`
	// Respell lists ways of writing and what they are written as here.
	Respell [][2]string `json:"respell"`
	// Waterproof lists words, folded, for what stays dry.
	Waterproof []string `json:"waterproof"`
	// Words lists the words of each sense.
	Words map[string][]string `json:"words"`

	phrases               map[string]*sense // by their folded words, without spaces
	words                 map[string]bool   // that occur in phrases
	cut, join, of, parts  map[string]bool
	measures, waterproof  map[string]bool
	plain, play, empty    map[string]bool
	broad                 map[*sense]bool
	respell               *strings.Replacer
	mostWords, mostLetter int // of one phrase
}

// index makes what find looks up. The senses are gone through in their order: of two with one word, the former has it.
func (l *language) index(senses map[string]*sense) {
	l.cut, l.join, l.of, l.parts, l.measures = set(l.Cut), set(l.Join), set(l.Of), set(l.Parts), set(l.Measures)
	l.waterproof = set(l.Waterproof)
	l.plain, l.play, l.empty = set(l.Plain), set(l.Play), set(l.Empty)
	l.broad = map[*sense]bool{}
	for _, id := range l.Broad {
		if senses[id] == nil {
			panic(l.Name + ": an unknown sense is broad: " + id)
		}
		l.broad[senses[id]] = true
	}
	l.phrases, l.words = map[string]*sense{}, map[string]bool{}
	var pairs []string
	for _, p := range l.Respell {
		pairs = append(pairs, p[0], p[1])
	}
	l.respell = strings.NewReplacer(pairs...)
	for _, id := range sortedKeys(l.Words) {
		s := senses[id]
		if s == nil {
			panic(l.Name + ": words of an unknown sense: " + id)
		}
		for _, w := range l.Words[id] {
			t := tokens(fold(w))
			key := strings.Join(t, "")
			l.mostWords, l.mostLetter = max(l.mostWords, len(t)), max(l.mostLetter, len([]rune(key)))
			for i := range t {
				l.words[t[i]] = true
			}
			if l.phrases[key] == nil {
				l.phrases[key] = s
			}
		}
	}
	// Every phrase without its plural, too.
	for _, key := range sortedKeys(l.phrases) {
		if t := l.stem(key); l.phrases[t] == nil {
			l.phrases[t] = l.phrases[key]
		}
	}
}

// find is what a name leads to; own are words that are names in the household.
func (l *language) find(name string, own map[string]bool) found {
	s := fold(name[:min(len(name), longest)])
	s = withoutNotes(s)
	if l.Unspaced {
		return found{s: l.unspaced(s), sure: true, alone: true, dry: slices.ContainsFunc(l.Waterproof, func(w string) bool { return strings.Contains(s, w) })}
	}
	s = l.respell.Replace(s)
	var f found
	things := 0
	// Of several things that one name lists, the first that leads anywhere; of papers, all that lie together.
	for _, part := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("+&,;", r) }) {
		words := tokens(part)
		f.dry = f.dry || slices.ContainsFunc(words, func(w string) bool { return l.waterproof[w] })
		f.empty = f.empty || slices.ContainsFunc(words, func(w string) bool { return l.empty[w] })
		for _, segment := range l.segments(words) {
			things++
			one := l.segment(segment, own)
			s := one.s
			if s == nil {
				continue
			}
			if f.s == nil {
				f.s, f.several, f.sure = s, one.several, one.sure
			}
			if f.s.papers() == nil {
				continue
			}
			for _, kind := range s.papers() {
				if !slices.Contains(f.papers, kind) {
					f.papers = append(f.papers, kind)
				}
			}
		}
	}
	f.alone = things == 1
	return f
}

// segments divides the words of a name where two things are joined, and leaves out what a thing is for.
func (l *language) segments(words []string) (out [][]string) {
	var segment []string
	drop := false
	for _, t := range words {
		switch {
		case l.join[t]:
			out = append(out, segment)
			segment, drop = nil, false
		case l.cut[t] && len(segment) > 0:
			drop = true
		case !drop:
			segment = append(segment, t)
		}
	}
	return append(out, segment)
}

// hit is a phrase found in the words from (included) to (left out).
type hit struct {
	from, to int
	s        *sense
	part     bool // see phrase
}

// hits finds phrases in words, the longest first, in the order in which they stand.
func (l *language) hits(words []string) (out []hit) {
	used := make([]bool, len(words))
	for n := min(len(words), l.mostWords+1); n >= 1; n-- {
		for i := 0; i+n <= len(words); i++ {
			if slices.Contains(used[i:i+n], true) {
				continue
			}
			if s, part := l.phrase(words[i : i+n]); s != nil {
				out = append(out, hit{i, i + n, s, part})
				for k := i; k < i+n; k++ {
					used[k] = true
				}
			}
		}
	}
	slices.SortFunc(out, func(a, b hit) int { return a.from - b.from })
	return out
}

// phrase is the sense of these words together, as written, each without its ending, or together without their ending. part: it is
// only the end of a word that is not known as a whole.
func (l *language) phrase(words []string) (s *sense, part bool) {
	key := strings.Join(words, "")
	if s := l.phrases[key]; s != nil {
		return s, false
	}
	stems := make([]string, len(words))
	for i := range words {
		stems[i] = l.stem(words[i])
	}
	if s := l.phrases[strings.Join(stems, "")]; s != nil {
		return s, false
	}
	if s := l.singular(key); s != nil {
		return s, false
	}
	if l.Compounds && len(words) == 1 {
		return l.compound(stems[0])
	}
	return nil, false
}

// singular is the sense of words together without their ending, though a phrase may have them with it.
func (l *language) singular(key string) *sense {
	for _, e := range l.Endings {
		if x, ok := strings.CutSuffix(key, e[0]); ok && len(x) > 1 {
			if s := l.phrases[x+e[1]]; s != nil {
				return s
			}
		}
	}
	return nil
}

// compound is the sense of the longest word of the vocabulary at the end of a word; in doubt, where what stands before it is not plain.
func (l *language) compound(w string) (*sense, bool) {
	const shortest = 3 // letters: the ends of too many words are shorter ones
	for i := range w {
		if i < 2 || len(w)-i <= shortest {
			continue
		}
		s := l.phrases[w[i:]]
		if t := l.stem(w[i:]); s == nil && len(t) > shortest {
			s = l.phrases[t]
		}
		if s != nil {
			return s, !l.broad[s] && !l.plain[w[:i]] && !l.plain[strings.TrimRight(w[:i], "sne")]
		}
	}
	return nil, false
}

// segment is what one thing is by its words.
func (l *language) segment(words []string, own map[string]bool) (f found) {
	hits := l.hits(words)
	if len(hits) == 0 {
		return f
	}
	if l.Head == "first" {
		return found{s: l.headFirst(words, hits), several: l.plural(words, hits[0]), sure: !hits[0].part}
	}
	if i := slices.IndexFunc(words, func(w string) bool { return l.play[w] || l.play[strings.TrimSuffix(w, "s")] }); i >= 0 {
		if toy := l.toy(); toy != nil {
			return found{s: toy, sure: true}
		}
	}
	for i := 1; i < len(words)-1; i++ {
		if l.of[words[i]] && !slices.ContainsFunc(hits, func(h hit) bool { return h.from < i && h.to > i }) {
			if l.measured(words[i-1]) {
				return l.segment(words[i+1:], own)
			}
			return l.segment(words[:i], own)
		}
	}
	last := hits[len(hits)-1]
	// What follows is a size, a colour, a maker's word, or a head that makes something else of it.
	for _, w := range words[last.to:] {
		if l.parts[w] || l.parts[l.stem(w)] || l.parts[strings.TrimSuffix(w, "s")] {
			return f
		}
	}
	return found{s: last.s, several: l.plural(words, last), sure: !last.part && l.certain(words, last, hits, own)}
}

// toy is the sense of what is only to play with; nil where the language has no word for it.
func (l *language) toy() *sense {
	if len(l.Play) == 0 {
		return nil
	}
	return l.phrases[fold(l.Play[0])]
}

// certain reports whether no word beside a phrase may make something else of it.
func (l *language) certain(words []string, h hit, hits []hit, own map[string]bool) bool {
	if len(l.plain) == 0 || l.Compounds {
		return true
	}
	for i, w := range words {
		if i >= h.from && i < h.to || amount(w) || l.empty[w] || l.plain[w] || l.plain[strings.TrimSuffix(w, "s")] || own[w] || own[strings.TrimSuffix(w, "s")] {
			continue
		}
		if i < h.from && l.broad[h.s] {
			continue
		}
		if !slices.ContainsFunc(hits, func(o hit) bool { return o.s == h.s && i >= o.from && i < o.to }) {
			return false
		}
	}
	return true
}

// plural reports whether a phrase was found only without an ending.
func (l *language) plural(words []string, h hit) bool {
	return l.phrases[strings.Join(words[h.from:h.to], "")] == nil
}

// headFirst is segment where the head stands first: "étui à lunettes", "caja de cerillas".
func (l *language) headFirst(words []string, hits []hit) *sense {
	h := hits[0]
	first := 0
	for first < h.from && amount(words[first]) {
		first++
	}
	if h.from > first && h.from > 1 && l.of[words[h.from-1]] && !l.measured(words[h.from-2]) {
		return nil
	}
	if h.from > first && (l.parts[words[first]] || l.parts[l.stem(words[first])]) {
		return nil
	}
	return h.s
}

func (l *language) measured(w string) bool {
	return l.measures[w] || l.measures[l.stem(w)] || l.measures[strings.TrimSuffix(w, "s")]
}

// stem takes an ending off, where what is left is a word of the vocabulary.
func (l *language) stem(w string) string {
	if l.words[w] || l.phrases[w] != nil {
		return w
	}
	for _, e := range l.Endings {
		if x, ok := strings.CutSuffix(w, e[0]); ok && len(x) > 1 {
			if x += e[1]; l.words[x] || l.phrases[x] != nil {
				return x
			}
		}
	}
	return w
}

// unspaced finds the last phrase of a text without spaces: in Japanese the head stands last. What stands before 用 is what
// it is for.
func (l *language) unspaced(s string) *sense {
	if i := strings.LastIndex(s, "用"); i > 0 && i+len("用") < len(s) && !strings.HasPrefix(s[i:], "用品") {
		s = s[i+len("用"):]
	}
	r := []rune(s)
	var found *sense
	end := 0
	for i := 0; i < len(r); {
		n := 0
		for j := min(len(r), i+l.mostLetter); j > i && n == 0; j-- {
			if p := l.phrases[string(r[i:j])]; p != nil {
				found, n, end = p, j-i, j
			}
		}
		i += max(1, n)
	}
	rest := string(r[end:])
	if slices.ContainsFunc(l.Parts, func(p string) bool { return strings.HasPrefix(rest, p) }) {
		return nil
	}
	return found
}

// fold writes a text in lower case and without accents; Japanese keeps its marks, which are letters of their own.
func fold(s string) string {
	s = strings.ToLower(norm.NFKC.String(s))
	if strings.ContainsFunc(s, func(r rune) bool { return r > 0x2fff }) {
		return s
	}
	var b strings.Builder
	for _, r := range norm.NFD.String(s) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case r == 'ß':
			b.WriteString("ss")
		case r == 'œ':
			b.WriteString("oe")
		case r == '’':
			b.WriteByte('\'')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// withoutNotes takes what stands in brackets off: it does not say what a thing is.
func withoutNotes(s string) string {
	var b strings.Builder
	depth := 0
	for _, r := range s {
		switch r {
		case '(', '[', '（':
			depth++
		case ')', ']', '）':
			depth--
		default:
			if depth <= 0 {
				b.WriteRune(r)
			}
		}
	}
	return b.String()
}

func tokens(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// amount reports whether a word is a number, or one with its unit, such as "500ml".
func amount(t string) bool { return t != "" && t[0] >= '0' && t[0] <= '9' }

func set(words []string) map[string]bool {
	out := make(map[string]bool, len(words))
	for _, w := range words {
		out[w] = true
	}
	return out
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
