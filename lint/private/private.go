// Package private makes of what was found and measured something that a family
// or a group may show to others.
//
// # What is said
//
// Nothing is taken out of the texts: they are made anew, from what the standard
// says. A finding keeps its rule, its level and whether it is new, mended or
// waived. Its message is the rule's title; remedy, caution and limits with their
// sources are the standard's own, never what the household wrote in their place.
// Its spot says what kind of thing it is about, such as packs/*/items/*. It has
// no place in a file, no reasons, and of a waiver nothing but that there is one.
// All counts stay, and the audit date.
//
// Of the figures there is left: for how many hours of the plan water, food,
// sodium, light and fuel last for the first who is short, the heaviest load as
// a whole percentage of its carrier's body mass, and what the household as a
// whole can do. There is no mass of anything: load and share together would tell
// a body mass. There are no names, keys, amounts, dates, doses or numbers of
// people, and no capability that tells of someone's health, of a child, an animal,
// papers or defence.
//
// So a field that is added to a run or a finding is not shown to others until it is
// put here. Whether a drill, a stock or a capability may be told stands in its row in
// package kinds; dates never are. TestShareSafe in cmd/kitmuster fills every text
// field of the schema with a token and searches all outputs, in every spelling, for
// these and for all that the examples and a valley hold.
//
// # Who is who
//
// A household's name becomes a pseudonym, such as household-kxtr-bvmd-wqzp, and
// its folder another: HMAC-SHA-256 (RFC 2104, FIPS 180-4) under a key that stays
// with the group. The same key gives the same pseudonyms in each run, and the
// name's goes along when the folder moves; those who have the key can try names, and
// nobody else. A plain hash would not do: names are few, and anyone could hash
// them all. Equal names get equal pseudonyms, and the folder's tells them apart,
// as it does without pseudonyms.
//
// Twelve letters of twenty are 51 bits: among ten thousand households the chance
// that any two share a pseudonym is one in eighty million. They are
// not lengthened where two meet, since a part of a repository does not know the
// names of the other parts, and all parts must say the same.
//
// Households stand in the order of their folders' pseudonyms (lint.Options.Alias);
// that of the folders would tell the alphabet.
//
// # What may still be told
//
// That a rule objects tells what the rule is about: one on infants objects only
// where there is one. And a part, such as 3/8, is chosen by a plain hash of the
// folder: to those who can guess folders, it leaves one in eight. Show the whole,
// not its parts.
//
// Findings tell households apart. In a made-up valley of 40, 43 % have a profile
// (rules, kinds of spots, counts) that nobody else has, of 200 a third, of 1,000
// a fifth (TestUniqueProfiles in package lint). A reader who knows what one household
// lacks may find it, and learns the rest of what is said of it. Coarser words help
// little: with counts in bands it is still 43 %, with no more than each subject's
// worst level 35 %. Which subjects have an error leaves 13 % of 40 alone, whether
// each is ready nobody. So the report on many households has no coarser form: it
// would cost what a group needs it for, and not hide who is who.
//
// A report on fewer than five households says less (Fewer, FewerShared), since
// its reader mostly knows whose kits they are: of a finding the level and the
// area, and no area that tells of health, children, animals, papers, money or the
// home; figures rounded. It is no harder to tell such households apart (40 % of 40
// by area, level and count), but there is less to learn of them.
package private

import (
	"cmp"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// KeySize is how many bytes a key has: as many as the hash gives (RFC 2104, section 3).
const KeySize = sha256.Size

// Mask replaces what is private.
type Mask struct {
	key    []byte
	says   map[string]finding.Rule // by name; the title is the message
	limits map[string][]finding.Limit
}

// New makes a mask of a key, of the rules of a standard, of the limits of each by its name, and of what the
// program says itself. The title of a rule names its subject, that of what the program says is a message already.
func New(key [KeySize]byte, rules []finding.Rule, limits map[string][]finding.Limit, said []finding.Rule) *Mask {
	m := &Mask{key: key[:], says: make(map[string]finding.Rule, len(rules)), limits: limits}
	for _, r := range rules {
		r.Title = "the rule objects: " + r.Title
		m.says[r.Name] = r
	}
	for _, r := range said {
		m.says[r.Name] = r
	}
	return m
}

// Letters of pseudonyms: without vowels there are no words, and without digits nothing that looks like an amount.
const letters = "bcdfghjklmnpqrstvwxz"

// name is the pseudonym of a text of a kind.
func (m *Mask) name(kind, text string) string {
	h := hmac.New(sha256.New, m.key)
	_, _ = h.Write([]byte(kind + "\x00" + text)) // a hash takes everything
	n := binary.BigEndian.Uint64(h.Sum(nil))
	b := []byte(kind)
	for i := range 12 {
		if i%4 == 0 {
			b = append(b, '-')
		}
		b = append(b, letters[n%uint64(len(letters))])
		n /= uint64(len(letters))
	}
	return string(b)
}

// Key is the name of the key: reports of one key have the same, and it tells nothing about the key.
func (m *Mask) Key() string { return m.name("key", "") }

// Folder is the pseudonym of a folder, as people see its path.
func (m *Mask) Folder(path string) string { return m.name("folder", path) }

func (m *Mask) household(name string) string {
	if name == "" {
		return ""
	}
	return m.name("household", name)
}

// Household keeps whether it was judged.
func (m *Mask) Household(h finding.Household) finding.Household {
	return finding.Household{Name: m.household(h.Name), Path: m.Folder(h.Path), Judged: h.Judged}
}

// Run is the run without what is private. It has to be of a check whose Alias is
// Folder: then its remarks name no folder, and its order is that of the pseudonyms.
func (m *Mask) Run(r *finding.Run) *finding.Run {
	out := &finding.Run{
		Version: r.Version, On: r.On, Standards: r.Standards, Shared: m.Key(), Remarks: r.Remarks, Untouched: r.Untouched, Part: r.Part, Partial: r.Partial,
		Households: make([]finding.Household, len(r.Households)), Findings: byHousehold(r.Findings, m.Findings), Summary: r.Summary, Least: r.Least,
	}
	if r.Since != "" { // a branch may have a family's name
		out.Since = m.name("state", r.Since)
	}
	for i, h := range r.Households {
		out.Households[i] = m.Household(h)
	}
	return out
}

// Findings are findings without what is private, in the order of a run.
func (m *Mask) Findings(fs []finding.Finding) []finding.Finding {
	out := make([]finding.Finding, len(fs))
	for i := range fs {
		out[i] = m.finding(&fs[i])
	}
	return sorted(out)
}

// sorted puts findings in the order of a run, where that of their lines would tell where they stand.
func sorted(fs []finding.Finding) []finding.Finding {
	slices.SortStableFunc(fs, func(a, b finding.Finding) int {
		return cmp.Or(finding.Compare(a, b), cmp.Compare(a.State, b.State), cmp.Compare(waived(a), waived(b)))
	})
	return fs
}

func waived(f finding.Finding) int {
	if f.Waived == nil {
		return 0
	}
	return 1
}

// byHousehold walks what becomes of the findings of each household in turn.
func byHousehold(fs finding.Findings, becomes func([]finding.Finding) []finding.Finding) finding.Findings {
	return func(yield func(*finding.Finding, error) bool) {
		var group []finding.Finding
		give := func() bool {
			masked := becomes(group)
			for i := range masked {
				if !yield(&masked[i], nil) {
					return false
				}
			}
			group = group[:0]
			return true
		}
		for f, err := range fs {
			if err != nil {
				yield(nil, err)
				return
			}
			if len(group) > 0 && group[0].Path != f.Path && !give() {
				return
			}
			group = append(group, *f)
		}
		give()
	}
}

// untitled stands for the title of a rule that the standard in use does not have.
const untitled = "a rule of another standard objects"

func (m *Mask) finding(f *finding.Finding) finding.Finding {
	r := m.says[f.Rule]
	out := finding.Finding{
		Rule: f.Rule, Level: f.Level, Title: words.Line(r.Title), Message: cmp.Or(words.Line(r.Title), untitled), Household: m.household(f.Household), Path: m.Folder(f.Path), Spot: pattern(f.Spot),
		Limits: m.limits[f.Rule], Remedy: words.Line(r.Remedy), Caution: words.Line(r.Caution), State: f.State,
	}
	if f.Waived != nil {
		out.Waived = &finding.Waiver{}
	}
	return out
}

// collections are the words of a spot after which comes a name that the family chose; whole stand for themselves.
var (
	collections = []string{"animals", "allergies", "atHome", "compartments", "consumables", "contacts", "devices", "items", "legs", "licences", "limits", "medications", "meetingPoints", "needs", "onBody", "packs", "people", "seasons", "shakedowns", "waivers", "waterSources"}
	whole       = []string{"household", "plan", "record"}
)

// pattern says of which kind the thing at a spot is, such as packs/*/items/*; it ends at the first word that is none of the schema's.
func pattern(spot string) string {
	var out []string
	keys := source.Keys(spot)
	for i := 0; i < len(keys); i++ {
		switch {
		case slices.Contains(collections, keys[i]):
			out = append(out, keys[i])
			if i++; i < len(keys) {
				out = append(out, "*")
			}
		case slices.Contains(whole, keys[i]):
			out = append(out, keys[i])
		default:
			return strings.Join(out, "/")
		}
	}
	return strings.Join(out, "/")
}
