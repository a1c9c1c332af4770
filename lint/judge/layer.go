package judge

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"golang.org/x/mod/semver"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
)

// Layer is one standard of several that judge together. The first is the base; each later one may add rules and
// limits of its own, set limits of earlier ones anew, and switch rules off.
type Layer struct {
	FS fs.FS
	// Shown is where people find its files, as a prefix of their paths; "" for the base.
	Shown string
}

// Manifest is what a standard says of itself, in its bundle's .manifest.
type Manifest struct {
	// Name is plain words with hyphens; its rules and limits live below the same name with underscores.
	Name string
	// Version is three numbers, as in Semantic Versioning 2.0.0 without pre-release and build.
	Version string
	// Needs is the least version of the base that it was written for; "" where it does not say.
	Needs string
	// Roots are the paths of the bundle that it claims; nil claims nothing and allows everything.
	Roots []string
	// Off are rules of earlier standards that it switches off, with the reason.
	Off map[string]string
}

// ID is the name as it stands in paths and packages.
func (m *Manifest) ID() string { return strings.ReplaceAll(m.Name, "-", "_") }

// String names the standard with its version.
func (m *Manifest) String() string { return strings.TrimSpace(m.Name + " " + m.Version) }

// ReadManifest reads the .manifest of a standard's folder. A standard without one has no name.
func ReadManifest(fsys fs.FS) (*Manifest, error) {
	b, err := fs.ReadFile(fsys, manifestFile)
	if errors.Is(err, fs.ErrNotExist) {
		return &Manifest{}, nil
	}
	if err != nil {
		return nil, fmt.Errorf("the manifest cannot be read: %w", err)
	}
	var m struct {
		Revision string   `json:"revision"`
		Rego     *int     `json:"rego_version"`
		Roots    []string `json:"roots"`
		Metadata struct {
			Name  string            `json:"name"`
			Needs string            `json:"needs"`
			Off   map[string]string `json:"off"`
		} `json:"metadata"`
	}
	if why := repeated(b); why != "" {
		return nil, fmt.Errorf("this is no manifest of a standard: %s", why)
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&m); err != nil {
		return nil, fmt.Errorf("this is no manifest of a standard: %w", err)
	}
	return &Manifest{Name: m.Metadata.Name, Version: m.Revision, Needs: m.Metadata.Needs, Roots: m.Roots, Off: m.Metadata.Off}, nil
}

const manifestFile = ".manifest"

// repeated says what is wrong with JSON that names a field twice, or is none; "" is nothing. Readers differ on which of
// two fields counts, and a signature is over what one of them reads.
func repeated(b []byte) string {
	if j := source.ParseJSON(manifestFile, b); j.Fault != "" {
		return fmt.Sprintf("line %d, column %d: %s", j.FaultAt.Line, j.FaultAt.Col, j.Fault)
	}
	return ""
}

var (
	nameForm    = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	versionForm = regexp.MustCompile(`^(0|[1-9][0-9]{0,5})\.(0|[1-9][0-9]{0,5})\.(0|[1-9][0-9]{0,5})$`)
)

// NameFault says what is wrong with the name of a group's standard; "" is nothing.
func NameFault(name string) string {
	if !nameForm.MatchString(name) || name == baseName || len(name) > 60 {
		return fmt.Sprintf(`%q: write plain words with hyphens, such as "harrow-valley"; base is the name of the base standard`, name)
	}
	return ""
}

// Check says what is wrong with what a standard says of itself; "" is nothing.
func (m *Manifest) Check() string {
	why, _ := m.check()
	return why
}

// check is Check, with what it is about: see Problem.Of.
func (m *Manifest) check() (why, of string) {
	own := []string{"rules/" + m.ID(), "limits/" + m.ID(), "lists/" + m.ID()}
	switch {
	case NameFault(m.Name) != "":
		return "metadata.name " + NameFault(m.Name), ""
	case !versionForm.MatchString(m.Version):
		return fmt.Sprintf(`revision %q: write the version as three numbers, such as "1.2.0"`, m.Version), ""
	case m.Needs != "" && !versionForm.MatchString(m.Needs):
		return fmt.Sprintf(`metadata.needs %q: write the least version of the base as three numbers`, m.Needs), source.Spot("needs")
	case len(m.Roots) == 0:
		return fmt.Sprintf("roots are missing: write %q and %q", own[0], own[1]), ""
	}
	for _, r := range m.Roots {
		if !slices.Contains(own, strings.Trim(r, "/")) {
			return fmt.Sprintf("root %q is not this standard's own: it may claim %s", r, strings.Join(own, ", ")), ""
		}
	}
	for _, name := range sortedKeys(m.Off) {
		if strings.TrimSpace(m.Off[name]) == "" {
			return fmt.Sprintf("rule %s is switched off without a reason; write one", name), source.Spot("off", name)
		}
	}
	return "", ""
}

// Older reports whether version a is older than b; both are three numbers.
func Older(a, b string) bool {
	return semver.Compare("v"+a, "v"+b) < 0
}

// baseName is the name of the base standard; BaseLayer is what its limits are said to be of.
const (
	baseName  = "base"
	BaseLayer = baseName
)

// layer is a standard as the loader knows it.
type layer struct {
	Layer
	manifest *Manifest
}

// shown is a path of the layer as people find it.
func (y *layer) shown(p string) string { return path.Join(y.Shown, p) }

// manifests reads what each layer says of itself, and whether they fit together.
func (l *loader) manifests(layers []Layer) {
	base := ""
	for i, y := range layers {
		m, err := ReadManifest(y.FS)
		k := &layer{y, m}
		here := Problem{File: k.shown(manifestFile), Line: 1, Col: 1}
		if err != nil {
			here.Text = err.Error()
			l.problems = append(l.problems, here)
			k.manifest = &Manifest{}
		}
		l.layers = append(l.layers, k)
		if m == nil || m.Name == "" {
			continue
		}
		if i == 0 {
			base = m.Version
			continue
		}
		if here.Text, here.Of = m.check(); here.Text != "" {
			l.problems = append(l.problems, here)
		}
		if slices.ContainsFunc(l.layers[:i], func(o *layer) bool { return o.manifest.Name == m.Name }) {
			here.Of = ""
			here.Text = fmt.Sprintf("a standard called %s is there already", m.Name)
			l.problems = append(l.problems, here)
		}
		if m.Needs != "" && base != "" && (Older(base, m.Needs) || semver.Major("v"+base) != semver.Major("v"+m.Needs)) {
			here.Of = source.Spot("needs")
			here.Text = fmt.Sprintf("%s needs version %s of the base standard, and this program has %s; use a program with a base from %[2]s up to the next first number, or a version of the standard for this base", m, m.Needs, base)
			l.problems = append(l.problems, here)
		}
	}
}

// isolation holds a later standard to its own data: it may use the facts, the helpers of lib, and what lies below its own roots.
func (l *loader) isolation() {
	for _, file := range sortedKeys(l.modules) {
		y := l.layerOf[file]
		if y == 0 {
			continue
		}
		m := l.modules[file]
		standard, _, _ := place(m)
		ast.WalkRefs(m, func(r ast.Ref) bool {
			if len(r) == 0 || r[0].Value.Compare(ast.DefaultRootDocument.Value) != 0 {
				return false
			}
			var path []string
			for _, t := range r[1:min(len(r), 3)] {
				s, ok := t.Value.(ast.String)
				if !ok {
					break
				}
				path = append(path, string(s))
			}
			switch {
			case len(path) > 0 && path[0] == "lib":
			case len(path) > 1 && path[0] == "limits" && path[1] == standard:
				if len(r) != 3 {
					l.add(r[0].Location, "%v: read a limit as lib.limit_of(data.limits.%s, \"area\", \"name\"), so that a household may make it stricter", r, standard)
				}
			case len(path) > 1 && path[0] == "rules" && path[1] == standard:
			default:
				l.add(r[0].Location, "%v: a standard's rules use input, data.lib, data.limits.%[2]s and data.rules.%[2]s, and nothing of another standard", r, standard)
			}
			return false
		})
		ast.NewGenericVisitor(func(x any) bool {
			if w, ok := x.(*ast.With); ok && strings.HasPrefix(w.Target.String(), "data") {
				l.add(w.Location, "with %v: a standard's rules may set input aside, and nothing of data", w.Target)
			}
			return false
		}).Walk(m)
	}
}

// offs are the rules that later layers switch off, by name, with who does and why.
func (l *loader) offs(rules []*Rule) map[string]string {
	out := map[string]string{}
	heart := map[string]bool{}
	if lim := l.limits["waiver.heart"]; lim != nil {
		for _, n := range lim.list {
			heart[n] = true
		}
	}
	for i, y := range l.layers {
		for _, name := range sortedKeys(y.manifest.Off) {
			why := l.unknownOff(name, i, rules)
			if why == "" && heart[name] {
				why = fmt.Sprintf("off: %s is of the heart of every standard and stays; waive it in a household for a time", name)
			}
			if why != "" {
				l.problems = append(l.problems, Problem{File: y.shown(manifestFile), Line: 1, Col: 1, Of: source.Spot("off", name), Text: why})
				continue
			}
			out[name] = y.manifest.String() + ": " + y.manifest.Off[name]
		}
	}
	return out
}

// unknownOff says that no standard before layer i has the rule, or "" where one has.
func (l *loader) unknownOff(name string, i int, rules []*Rule) string {
	var known []string
	for _, r := range rules {
		if l.layerOf[r.File] < i {
			known = append(known, r.Name)
		}
	}
	if slices.Contains(known, name) {
		return ""
	}
	return fmt.Sprintf("off: no rule of an earlier standard is called %s%s", name, meant(name, known))
}

// Standards lists the layers, the base first.
func (b *Rulebook) Standards() []Manifest { return slices.Clone(b.standards) }

// Off says who switches a rule off, and why; "" where nobody does.
func (b *Rulebook) Off(name string) string { return b.off[name] }

// Set are the limits that later layers set anew, in the form in which a household's own stand among the facts.
func (b *Rulebook) Set() []facts.OwnLimit { return slices.Clone(b.set) }

// reset makes the list of limits that a later layer has set anew.
func (l *loader) reset() (out []facts.OwnLimit) {
	for _, name := range sortedKeys(l.limits) {
		lim := l.limits[name]
		if lim.Before == nil {
			continue
		}
		area, key, _ := strings.Cut(name, ".")
		o := facts.OwnLimit{Area: area, Name: key, Value: lim.number, Values: []string{}}
		if lim.Unit == kinds.UnitList {
			o.List, o.Values = true, slices.Clone(lim.list)
		}
		out = append(out, o)
	}
	return out
}
