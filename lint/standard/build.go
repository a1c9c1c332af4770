package standard

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"golang.org/x/tools/txtar"

	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/load"
)

// ReadmeFile is the page that is made of a standard.
const ReadmeFile = "README.md"

// readmeMark is the first line of a page that the program made, and may make again.
const readmeMark = "<!-- Made by kitmuster standard build from standard.cue and rules/. Change those, not this. -->"

// id is the name as it stands in paths and packages.
func id(name string) string { return strings.ReplaceAll(name, "-", "_") }

// Over is a standard's files with some replaced, in memory. What is hidden stays behind; see Files.
func Over(fsys fs.FS, files map[string][]byte) (fs.FS, error) {
	names, err := Files(fsys)
	if err != nil {
		return nil, err
	}
	var out txtar.Archive
	for _, n := range names {
		if _, ok := files[n]; ok {
			continue
		}
		b, err := fs.ReadFile(fsys, n)
		if err != nil {
			return nil, err
		}
		out.Files = append(out.Files, txtar.File{Name: n, Data: b})
	}
	for _, n := range slices.Sorted(maps.Keys(files)) {
		out.Files = append(out.Files, txtar.File{Name: n, Data: files[n]})
	}
	return txtar.FS(&out)
}

// Built is what is made of what a group writes.
type Built struct {
	// Files are the generated files by path.
	Files map[string][]byte
	// Rulebook is the standard, compiled over the base.
	Rulebook *judge.Rulebook
	// Rules are its own.
	Rules []*judge.Rule
	// Limits are those that it sets.
	Limits []*judge.Limit
}

// Build makes the generated files of a standard from what was read of its standard.cue and from its rules, without
// writing any: the manifest, the data of its limits, and the page. shown stands before the paths in what is wrong, which
// is sorted by place; then nothing is built.
func Build(fsys fs.FS, s *load.Standard, shown string) (*Built, []judge.Problem) {
	files := map[string][]byte{ManifestFile: manifest(fsys, s)}
	data, problems := limits(s, shown)
	if len(problems) > 0 {
		return nil, problems
	}
	files[path.Join("limits", id(s.Name), "data.json")] = data
	tree, err := Over(fsys, files)
	if err != nil {
		return nil, []judge.Problem{{File: shown, Text: err.Error()}}
	}
	if why := foreignReadme(fsys); why != "" {
		return nil, []judge.Problem{{File: path.Join(shown, ReadmeFile), Line: 1, Col: 1, Text: why}}
	}
	rulebook, problems := judge.NewLayers(judge.Layer{FS: judge.Base()}, judge.Layer{FS: tree, Shown: shown})
	if len(problems) > 0 {
		return nil, written(problems, files, s, shown)
	}
	b := &Built{Files: files, Rulebook: rulebook, Rules: Rules(rulebook, s.Name), Limits: Limits(rulebook)}
	files[ReadmeFile] = readme(s, b)
	return b, nil
}

// written brings what is wrong with a generated file back to what it was made of.
func written(problems []judge.Problem, files map[string][]byte, s *load.Standard, shown string) []judge.Problem {
	for i := range problems {
		p := &problems[i]
		name := strings.TrimPrefix(strings.TrimPrefix(p.File, shown), "/")
		if files[name] == nil {
			continue
		}
		at := s.Locate(cmp.Or(p.Of, "name"))
		p.File, p.Line, p.Col = path.Join(shown, at.File), at.Start.Line, at.Start.Col
	}
	return problems
}

// foreignReadme says why the page may not be written; "" where it may.
func foreignReadme(fsys fs.FS) string {
	b, err := fs.ReadFile(fsys, ReadmeFile)
	if first, _, _ := strings.Cut(string(b), "\n"); err == nil && strings.TrimRight(first, "\r") != readmeMark {
		return "this page was not made by kitmuster standard build, and would be lost; call it something else, such as NOTES.md"
	}
	return ""
}

// Stale lists the generated files that are missing or differ from what they should be, sorted.
func (b *Built) Stale(fsys fs.FS) (names []string) {
	for _, n := range slices.Sorted(maps.Keys(b.Files)) {
		if have, err := fs.ReadFile(fsys, n); err != nil || !bytes.Equal(have, b.Files[n]) {
			names = append(names, n)
		}
	}
	return names
}

// Rules are the rules of the standard of a name, by name.
func Rules(b *judge.Rulebook, name string) (out []*judge.Rule) {
	for _, r := range b.Rules() {
		if strings.HasPrefix(r.Name, name+":") {
			out = append(out, r)
		}
	}
	return out
}

// Limits are those that the last of the standards sets, by name.
func Limits(b *judge.Rulebook) (out []*judge.Limit) {
	all := b.Standards()
	for _, l := range b.Limits() {
		if l.Layer == all[len(all)-1].String() {
			out = append(out, l)
		}
	}
	return out
}

func manifest(fsys fs.FS, s *load.Standard) []byte {
	type metadata struct {
		Name  string            `json:"name"`
		Needs string            `json:"needs"`
		Off   map[string]string `json:"off,omitempty"`
	}
	out := struct {
		Revision string   `json:"revision"`
		Rego     int      `json:"rego_version"`
		Roots    []string `json:"roots"`
		Metadata metadata `json:"metadata"`
	}{s.Version, 1, []string{"limits/" + id(s.Name), "rules/" + id(s.Name)}, metadata{s.Name, s.Needs, s.Off}}
	if lists := "lists/" + id(s.Name); exists(fsys, lists) {
		out.Roots = append([]string{lists}, out.Roots...)
		slices.Sort(out.Roots)
	}
	return indented(out)
}

func exists(fsys fs.FS, name string) bool {
	_, err := fs.Stat(fsys, name)
	return err == nil
}

// indented is JSON for people and for comparing: one field a line, no escapes that HTML would need.
func indented(v any) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		panic(err) // made of texts and whole numbers
	}
	return b.Bytes()
}

// limits makes the data that rules read; see limits/base/data.json.
func limits(s *load.Standard, shown string) (data []byte, problems []judge.Problem) {
	type entry struct {
		Value    any        `json:"value"`
		Unit     kinds.Unit `json:"unit"`
		Stricter string     `json:"stricter"`
		Meaning  string     `json:"meaning"`
		Source   string     `json:"source"`
		Least    *int64     `json:"least,omitempty"`
		Most     *int64     `json:"most,omitempty"`
		At       string     `json:"at"`
	}
	out := map[string]map[string]entry{}
	for i := range s.Limits {
		l := &s.Limits[i]
		number := func(field, text string) *int64 {
			n, err := judge.LimitValue(text, l.Unit)
			if err != nil {
				at := s.Locate(l.Spot(field))
				problems = append(problems, judge.Problem{File: path.Join(shown, at.File), Line: at.Start.Line, Col: at.Start.Col,
					Text: fmt.Sprintf("limit %s.%s: %s: %v", l.Area, l.Name, field, err)})
			}
			return &n
		}
		at := s.Locate(l.Spot())
		e := entry{Unit: l.Unit, Stricter: l.Stricter, Meaning: l.Meaning, Source: l.Source,
			At: fmt.Sprintf("%s:%d:%d", at.File, at.Start.Line, at.Start.Col)}
		if l.List {
			e.Value = l.Values
		} else {
			e.Value = *number("value", l.Value)
		}
		if l.Least != "" {
			e.Least = number("least", l.Least)
		}
		if l.Most != "" {
			e.Most = number("most", l.Most)
		}
		if out[l.Area] == nil {
			out[l.Area] = map[string]entry{}
		}
		out[l.Area][l.Name] = e
	}
	return indented(out), problems
}
