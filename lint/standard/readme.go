package standard

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/words"
)

// readme makes the page of a standard, in CommonMark with tables. What a group wrote is shown as text: it makes no
// heading, link or HTML of its own, but for the description, which may be several paragraphs.
func readme(s *load.Standard, b *Built) []byte {
	var w bytes.Buffer
	p := func(format string, args ...any) { fmt.Fprintf(&w, format+"\n", args...) }
	base := b.Rulebook.Standards()[0]
	p("%s\n\n# %s\n\nStandard %s %s, laid over the base standard from version %s on.\n", readmeMark, plain(s.Title), s.Name, s.Version, s.Needs)
	for par := range strings.SplitSeq(s.Description, "\n\n") {
		p("%s\n", plain(par))
	}
	p("It advises, it does not certify. Labels, local codes and licensed practice come first.\n")
	if len(b.Limits) > 0 {
		p("## Limits\n\n\"In the base\" is what version %s of the base standard says. A household may write a stricter value of its own.\n", base.Version)
		p("| limit | value | in the base | change | stricter is | meaning | source |\n|---|---|---|---|---|---|---|")
		for _, l := range b.Limits {
			before := "-"
			if l.Before != nil {
				before = l.Before.Value
			}
			p("| %s | %s | %s | %s | %s | %s | %s |", l.Name, plain(l.Value), plain(before), l.Change(), l.Stricter, plain(l.Meaning), plain(l.Source))
		}
		p("")
	}
	if len(s.Off) > 0 {
		p("## Rules of the base that are switched off\n")
		for _, name := range slices.Sorted(maps.Keys(s.Off)) {
			p("- %s: %s", name, plain(s.Off[name]))
		}
		p("")
	}
	if len(b.Rules) > 0 {
		p("## Rules\n")
	}
	for _, r := range b.Rules {
		p("### %s\n\n%s (%s)\n\n%s\n", r.Name, plain(r.Title), r.Level, plain(r.Why))
		p("Remedy: %s\n", plain(r.Remedy))
		p("Work: %s\n", plain(r.Mend.Words()))
		if r.Caution != "" {
			p("Caution: %s\n", plain(r.Caution))
		}
		for _, l := range r.Limits {
			p("- Limit %s = %s: %s. Source: %s", l.Name, plain(l.Value), plain(l.Meaning), plain(l.Source))
		}
		for _, src := range r.Sources {
			p("- Source: %s", plain(src))
		}
		p("")
		fenced(p, "Passes", r.Passes)
		fenced(p, "Fails", r.Fails)
	}
	p("## Working on it\n\nChange `standard.cue` and `rules/`, then:\n")
	p("```sh\nkitmuster standard build .\nkitmuster standard test .\n```\n")
	p("The folder is also a bundle of the Open Policy Agent and a CUE module. The base, which holds the helpers that rules use,\nis written out for those tools and for editors by the first line:\n")
	p("```sh\nkitmuster standard base -o ../base\nopa check --strict --schema ../base/facts.schema.json --capabilities ../base/capabilities.json --bundle ../base .")
	p("opa test --bundle ../base .\nopa eval --bundle ../base --bundle . --input facts.json data.rules.%s\ncue vet ./...\n```", id(s.Name))
	return w.Bytes()
}

func fenced(p func(string, ...any), head, text string) {
	fence := "```"
	for strings.Contains(text, fence) {
		fence += "`"
	}
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	for i := range lines {
		lines[i] = strings.ReplaceAll(words.Clean(strings.ReplaceAll(lines[i], "\t", "    ")), "\r", "")
	}
	p("%s:\n\n%scue\n%s\n%s\n", head, fence, strings.Join(lines, "\n"), fence)
}

// marks are the characters that CommonMark may read as more than themselves (CommonMark 0.31.2 §2.4), as far as words need them.
var marks = strings.NewReplacer(`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", "&lt;", ">", "&gt;", "&", "&amp;", "|", `\|`, "#", `\#`, "~", `\~`, "!", `\!`)

// plain is text on one line, shown as it is.
func plain(s string) string {
	return marks.Replace(words.Clean(words.Line(s)))
}

// Described is a standard as it is shown: what it is, and what it changes against what stands under it.
type Described struct {
	Name    string        `json:"name"`
	Version string        `json:"version"`
	Needs   string        `json:"needs"`
	Base    string        `json:"base"`
	Digest  string        `json:"digest"`
	Signed  bool          `json:"signed"`
	Rules   []RuleLine    `json:"rules"`
	Limits  []LimitLine   `json:"limits"`
	Off     []SwitchedOff `json:"off"`
}

// RuleLine is a rule that the standard adds.
type RuleLine struct {
	Name  string        `json:"name"`
	Level finding.Level `json:"level"`
	Title string        `json:"title"`
	At    string        `json:"at"`
}

// LimitLine is a limit that it sets; Before is the value of the standard under it, "" where it is added.
type LimitLine struct {
	Name    string `json:"name"`
	Change  string `json:"change"`
	Value   string `json:"value"`
	Before  string `json:"before,omitempty"`
	Meaning string `json:"meaning"`
	Source  string `json:"source"`
	At      string `json:"at"`
}

// SwitchedOff is a rule of the base that it switches off.
type SwitchedOff struct {
	Rule   string `json:"rule"`
	Reason string `json:"reason"`
}

// Describe says what the last standard of a rulebook is, of the digest and signed or not.
func Describe(b *judge.Rulebook, digest string, signed bool) *Described {
	all := b.Standards()
	m := all[len(all)-1]
	d := &Described{Name: m.Name, Version: m.Version, Needs: m.Needs, Base: all[0].Version, Digest: digest, Signed: signed,
		Rules: []RuleLine{}, Limits: []LimitLine{}, Off: []SwitchedOff{}}
	for _, r := range Rules(b, m.Name) {
		d.Rules = append(d.Rules, RuleLine{r.Name, r.Level, r.Title, fmt.Sprintf("%s:%d", r.File, r.Line)})
	}
	for _, l := range Limits(b) {
		line := LimitLine{Name: l.Name, Change: l.Change(), Value: l.Value, Meaning: l.Meaning, Source: l.Source, At: l.At.Span().String()}
		if l.Before != nil {
			line.Before = l.Before.Value
		}
		d.Limits = append(d.Limits, line)
	}
	for _, name := range slices.Sorted(maps.Keys(m.Off)) {
		d.Off = append(d.Off, SwitchedOff{name, m.Off[name]})
	}
	return d
}
