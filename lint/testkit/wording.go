package testkit

import "regexp"

// Wording is one over which readers stumble, with what to write instead.
type Wording struct {
	Words   *regexp.Regexp
	Instead string
}

// outOfUse leaves out keys, such as mend: of METADATA, and "mended", the state of a finding in JSON.
var outOfUse = []Wording{
	{regexp.MustCompile(`(?i)\b(is|are|was|not|never|be) asked\b|\basked (of|too)\b|\d asked\b|%[ds] asked\b`), "needs; is judged, is left out"},
	{regexp.MustCompile(`(?i)(\d|%[dsv])( (k?g|mg|ml|L|kcal|h|min|days?))? too (few|little|much|many)\b`), "short by, over by"},
	{regexp.MustCompile(`(?i)\bbears?\b|\bborne\b|\bbearers?\b`), "carries"},
	{regexp.MustCompile(`(?i)(^|[^.\w"{])mend(s|ed)?\b([^:]|$)`), "put right, settle, repair"},
	{regexp.MustCompile(`(?i)\bwh(o|om)ever\b`), "a person who, people who, no matter who"},
	{regexp.MustCompile(`(?i)\bgot at\b`), "reached"},
	{regexp.MustCompile(`\b0 things\b`), "nothing"},
	{regexp.MustCompile(`(?i)\bmeans of\b.*\bmeans\b|\black(s)? of\b|\bin all\b`), "way to, short by, together"},
	{regexp.MustCompile(`(%[sqv]|%\[\d\][sqv]|\}\}|”)['’]s\b`), "of: a name or a key that is filled in has no possessive"},
}

// Stumble is the first wording of a text that is out of use, with what to write instead; both "" where there is none.
func Stumble(text string) (words, instead string) {
	for _, w := range outOfUse {
		if found := w.Words.FindString(text); found != "" {
			return found, w.Instead
		}
	}
	return "", ""
}
