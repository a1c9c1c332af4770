package report

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// The wire form of SARIF 2.1.0 (OASIS standard with errata 01), as far as a
// check needs it. Sections in comments are those of the standard.

const (
	sarifVersion = "2.1.0"
	sarifSchema  = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
	// sarifRoot names the folder that all URIs are relative to.
	sarifRoot = "ROOT"
	// sarifColumns says what a column counts (3.14.27).
	sarifColumns = "unicodeCodePoints"
	// sarifKey names the partial fingerprint; a new way to make it needs a new name (3.27.17).
	sarifKey = "kitmuster/v1"
)

type sarifText struct {
	Text     string `json:"text"`
	Markdown string `json:"markdown,omitempty"`
}

type sarifTool struct {
	Driver sarifDriver `json:"driver"`
}

type sarifDriver struct {
	Name            string      `json:"name"`
	Version         string      `json:"version"`
	SemanticVersion string      `json:"semanticVersion,omitempty"`
	Rules           []sarifRule `json:"rules"`
}

type sarifRule struct {
	ID            string          `json:"id"`
	Short         sarifText       `json:"shortDescription"`
	Full          sarifText       `json:"fullDescription"`
	Help          sarifText       `json:"help"`
	Configuration sarifConfigured `json:"defaultConfiguration"`
	Properties    sarifRuleBag    `json:"properties"`
}

type sarifConfigured struct {
	Level finding.Level `json:"level"`
}

type sarifRuleBag struct {
	Tags    []string  `json:"tags"`
	Remedy  string    `json:"remedy,omitempty"`
	Mend    *jsonMend `json:"mend,omitempty"`
	Caution string    `json:"caution,omitempty"`
	Sources []string  `json:"sources,omitempty"`
}

// jsonMend is the kind of work that settles the findings of a rule.
type jsonMend struct {
	Work  finding.Work `json:"work"`
	Thing string       `json:"thing,omitempty"`
	Get   string       `json:"get,omitempty"`
}

func mendOf(m finding.Fix) *jsonMend {
	if m.Work == "" {
		return nil
	}
	return &jsonMend{m.Work, m.Thing, m.Get}
}

func (j *jsonMend) mend() (finding.Fix, error) {
	if j == nil {
		return finding.Fix{}, nil
	}
	if !slices.Contains(finding.Works, j.Work) {
		return finding.Fix{}, fmt.Errorf("%q is no work that settles a finding", j.Work)
	}
	return finding.Fix{Work: j.Work, Thing: j.Thing, Get: j.Get}, nil
}

type sarifAutomation struct {
	ID string `json:"id"`
}

type sarifBase struct {
	Description sarifText `json:"description"`
}

type sarifResult struct {
	RuleID       string             `json:"ruleId"`
	RuleIndex    *int               `json:"ruleIndex,omitempty"`
	Level        finding.Level      `json:"level"`
	Message      sarifText          `json:"message"`
	Locations    []sarifLocation    `json:"locations"`
	Related      []sarifLocation    `json:"relatedLocations,omitempty"`
	Fingerprints map[string]string  `json:"partialFingerprints"`
	Suppressions []sarifSuppression `json:"suppressions"`
	Baseline     string             `json:"baselineState,omitempty"`
	Fixes        []sarifFix         `json:"fixes,omitempty"`
	Properties   sarifResultBag     `json:"properties"`
}

type sarifFix struct {
	Description sarifText     `json:"description"`
	Changes     []sarifChange `json:"artifactChanges"`
}

type sarifChange struct {
	Artifact     sarifArtifact      `json:"artifactLocation"`
	Replacements []sarifReplacement `json:"replacements"`
}

type sarifReplacement struct {
	Deleted  sarifRegion `json:"deletedRegion"`
	Inserted sarifText   `json:"insertedContent"`
}

type sarifLocation struct {
	ID       int            `json:"id,omitempty"`
	Physical *sarifPlace    `json:"physicalLocation,omitempty"`
	Logical  []sarifLogical `json:"logicalLocations,omitempty"`
	Message  *sarifText     `json:"message,omitempty"`
}

type sarifPlace struct {
	Artifact sarifArtifact `json:"artifactLocation"`
	Region   *sarifRegion  `json:"region,omitempty"`
}

type sarifArtifact struct {
	URI  string `json:"uri"`
	Base string `json:"uriBaseId,omitempty"`
}

type sarifRegion struct {
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn,omitempty"`
	EndLine     int `json:"endLine,omitempty"`
	EndColumn   int `json:"endColumn,omitempty"`
}

type sarifLogical struct {
	Name string `json:"fullyQualifiedName"`
	Kind string `json:"kind"`
}

type sarifSuppression struct {
	Kind          string          `json:"kind"`
	Status        string          `json:"status"`
	Justification string          `json:"justification"`
	Location      *sarifLocation  `json:"location,omitempty"`
	Properties    sarifWaivingBag `json:"properties"`
}

type sarifWaivingBag struct {
	Reason string `json:"reason"`
	Until  string `json:"until"`
	Agreed string `json:"agreed,omitempty"`
}

// sarifResultBag holds what SARIF has no property for.
type sarifResultBag struct {
	Household string `json:"household"`
	Path      string `json:"path"`
	Spot      string `json:"spot"`
	// Because are the reasons that have no place; those that have one are related locations.
	Because []sarifReason `json:"because,omitempty"`
	Limits  []sarifLimit  `json:"limits,omitempty"`
	Lack    *jsonLack     `json:"lack,omitempty"`
	MayDo   bool          `json:"mayDo,omitempty"`
	Title   string        `json:"title,omitempty"`
	Remedy  string        `json:"remedy,omitempty"`
	Caution string        `json:"caution,omitempty"`
	// Uncompared says that there was no earlier state of it; it counts as new.
	Uncompared bool `json:"uncompared,omitempty"`
	// Causes are the changes of shared files that made the result new or absent.
	Causes []jsonCause `json:"causes,omitempty"`
}

// sarifReason carries the number that it would have as a related location.
type sarifReason struct {
	ID      int    `json:"id"`
	Message string `json:"message"`
}

type sarifLimit struct {
	Name   string `json:"name"`
	Value  string `json:"value"`
	Source string `json:"source"`
	Layer  string `json:"layer"`
	// Related is the number of the related location where the household wrote it, or 0.
	Related int `json:"related,omitempty"`
}

type sarifInvocation struct {
	Successful    bool                `json:"executionSuccessful"`
	Notifications []sarifNotification `json:"toolExecutionNotifications,omitempty"`
}

type sarifNotification struct {
	Level   finding.Level `json:"level"`
	Message sarifText     `json:"message"`
}

type sarifRunBag struct {
	On         string          `json:"on"`
	ShareSafe  string          `json:"shareSafe,omitempty"`
	Part       string          `json:"part,omitempty"`
	Partial    string          `json:"partial,omitempty"`
	Standards  string          `json:"standards,omitempty"`
	Since      string          `json:"since,omitempty"`
	Remarks    []string        `json:"remarks,omitempty"`
	Untouched  int             `json:"untouched,omitempty"`
	Show       finding.Level   `json:"show,omitempty"`
	Households []jsonHousehold `json:"households"`
	Summary    jsonSummary     `json:"summary"`
}

// SARIF writes a check as a log of one run, one result a line. What it writes
// can be read back by ReadSARIF and written again with the same bytes.
func SARIF(w io.Writer, run *finding.Run, _ Options) error { return writeSARIF(w, run, false) }

// writeSARIF writes all findings, or those that are open in the form of OpenSARIF.
func writeSARIF(w io.Writer, run *finding.Run, open bool) error {
	b := bufio.NewWriterSize(w, 1<<16)
	fmt.Fprintf(b, "{\n  \"$schema\": %q,\n  \"version\": %q,\n  \"runs\": [\n    {", sarifSchema, sarifVersion)
	o := object{b: b, indent: "      "}
	rules := map[string]int{}
	for i := range run.Rules {
		rules[run.Rules[i].Name] = i
	}
	o.field("tool", sarifTool{sarifDriver{Tool, run.Version, semantic(run.Version), sarifRules(run.Rules)}})
	o.field("automationDetails", sarifAutomation{automation(run)})
	o.field("originalUriBaseIds", map[string]sarifBase{sarifRoot: {sarifText{Text: "The folder that --root names; the working directory of the check where it is not given."}}})
	o.field("columnKind", sarifColumns)
	o.open("results")
	unfit := run.Partial != "" || run.Summary.Unjudged > 0
	names := newNames(run)
	stored, left := newQuota(&run.Summary, mostStored), 0
	for fs, err := range run.Shown().ByPath() {
		if err != nil {
			return err
		}
		keys := fingerprints(names, fs)
		for i := range fs {
			f := &fs[i]
			unfit = unfit || unjudgeable(f)
			if open && !isOpen(f) {
				continue
			}
			if open && !stored.take(f.Level) {
				left++
				continue
			}
			r := sarifOf(run, f, rules, keys[i])
			if open {
				r.forService(f)
			}
			o.line(r)
		}
	}
	o.close()
	said := notifications(run)
	if left > 0 {
		said = append(said, sarifNotification{finding.Warning, message(fmt.Sprintf("%s left out: a service keeps %d, and the gravest are here", words.Count(left, "finding"), mostStored))})
	}
	o.field("invocations", []sarifInvocation{{!unfit, said}})
	o.field("properties", sarifRunBag{run.On, run.Shared, run.Part, run.Partial, run.Standards, run.Since, run.Remarks, run.Untouched, least(run), households(run.Households), summary(run)})
	return o.end("\n    }\n  ]\n}\n")
}

// The grammar of Semantic Versioning 2.0.0, item 2, 9 and 10, short of leading zeros; Go puts a v before it.
var semver = regexp.MustCompile(`^v?([0-9]+\.[0-9]+\.[0-9]+(-[0-9A-Za-z.-]+)?(\+[0-9A-Za-z.-]+)?)$`)

// semantic is a version as Semantic Versioning writes it, or "".
func semantic(version string) string {
	if m := semver.FindStringSubmatch(version); m != nil {
		return m[1]
	}
	return ""
}

// automation names the run among its like (3.17.3): all before the last slash
// is the same for every run of the same part, the date after it is not.
func automation(run *finding.Run) string {
	id := Tool + "/check/"
	if run.Part != "" {
		id += strings.ReplaceAll(run.Part, "/", "-of-") + "/"
	}
	return id + run.On
}

func sarifRules(rules []finding.Rule) []sarifRule {
	out := make([]sarifRule, len(rules))
	for i, r := range rules {
		why := r.Why
		if why == "" {
			why = r.Title
		}
		out[i] = sarifRule{
			ID: r.Name, Short: sentence(r.Title), Full: sentence(why), Help: help(r, why), Configuration: sarifConfigured{r.Level},
			Properties: sarifRuleBag{[]string{area(r.Name)}, r.Remedy, mendOf(r.Mend), r.Caution, r.Sources},
		}
	}
	return out
}

// help is what a viewer shows of a rule: what to do, what to mind, and where it comes from.
func help(r finding.Rule, why string) sarifText {
	var text, marked []string
	say := func(head, s string) {
		if s != "" {
			text = append(text, sentence(head+": "+s).Text)
			marked = append(marked, "**"+head+":** "+markdown(s))
		}
	}
	say("Remedy", r.Remedy)
	say("Caution", r.Caution)
	for _, s := range r.Sources {
		say("Source", s)
	}
	if len(text) == 0 {
		say("Why", why)
	}
	return sarifText{strings.Join(text, "\n\n"), strings.Join(marked, "\n\n")}
}

// area is the part of a rule's name before the slash.
func area(rule string) string {
	a, _, _ := strings.Cut(rule, "/")
	return a
}

// In a message, {0} would be a placeholder (3.11.5) and [text](1) a link
// (3.11.6); what a family wrote must be neither.
var (
	braces   = strings.NewReplacer("{", "{{", "}", "}}")
	unbraces = strings.NewReplacer("{{", "{", "}}", "}")
	links    = strings.NewReplacer("](", "] (")
)

// message is what someone wrote as a plain text message.
func message(s string) sarifText {
	return sarifText{Text: braces.Replace(links.Replace(words.Clean(s)))}
}

// sentence is a rule's own text, which may be wrapped, as a plain text message.
func sentence(s string) sarifText { return message(words.Line(s)) }

// markdown is a rule's own text as itself where Markdown is rendered.
func markdown(s string) string { return braces.Replace(mark(words.Line(s))) }

// sarifOf is the wire form of one finding.
func sarifOf(run *finding.Run, f *finding.Finding, rules map[string]int, key string) sarifResult {
	here := sarifLocation{Physical: sarifPlaceOf(f.At), Logical: logical(f)}
	r := sarifResult{
		RuleID: f.Rule, Level: f.Level, Message: message(f.Message), Locations: []sarifLocation{here},
		Fingerprints: map[string]string{sarifKey: key}, Suppressions: []sarifSuppression{}, // none is said, too (3.27.23)
		Properties: sarifResultBag{Household: f.Household, Path: f.Path, Spot: f.Spot, Lack: lackOf(f.Lack), MayDo: f.MayDo, Title: f.Title, Remedy: f.Remedy, Caution: f.Caution, Causes: causes(f.Causes)},
	}
	if here.Physical == nil && here.Logical == nil {
		r.Locations = []sarifLocation{}
	}
	if i, ok := rules[f.Rule]; ok {
		r.RuleIndex = &i
	}
	related := func(id int, at source.Span, text string) {
		m := message(text)
		r.Related = append(r.Related, sarifLocation{ID: id, Physical: sarifPlaceOf(at), Message: &m})
	}
	for i, b := range f.Because {
		if b.At.Known() {
			related(i+1, b.At, b.Message)
		} else {
			r.Properties.Because = append(r.Properties.Because, sarifReason{i + 1, b.Message})
		}
	}
	for i, l := range f.Limits {
		j := sarifLimit{Name: l.Name, Value: l.Value, Source: l.Source, Layer: l.Layer}
		if l.At.Known() {
			j.Related = len(f.Because) + i + 1
			related(j.Related, l.At, fmt.Sprintf("limit %s = %s: %s", l.Name, l.Value, l.Source))
		}
		r.Properties.Limits = append(r.Properties.Limits, j)
	}
	if w := f.Waived; w != nil {
		s := sarifSuppression{Kind: "inSource", Status: "accepted", Justification: justification(w), Properties: sarifWaivingBag{w.Reason, w.Until, w.Agreed}}
		if w.At.Known() {
			s.Location = &sarifLocation{Physical: sarifPlaceOf(w.At)}
		}
		r.Suppressions = append(r.Suppressions, s)
	}
	r.Fixes = sarifFixes(f.Edit)
	if run.Since != "" {
		r.Baseline, r.Properties.Uncompared = baseline(f.State), f.State == ""
	}
	return r
}

// sarifFixes is the change that puts a slip right, as an editor may offer it (3.55). A region that ends where it begins is an empty one.
func sarifFixes(e *finding.Edit) []sarifFix {
	if e == nil {
		return nil
	}
	p := sarifPlaceOf(e.At)
	if p == nil || p.Region == nil {
		return nil
	}
	return []sarifFix{{
		Description: sarifText{Text: "Put the slip right. This makes up no value."},
		Changes:     []sarifChange{{p.Artifact, []sarifReplacement{{*p.Region, sarifText{Text: e.New}}}}},
	}}
}

// baseline is a state in the standard's words (3.27.24); all results of a run have one or none has.
func baseline(s finding.State) string {
	switch s {
	case finding.Unchanged:
		return "unchanged"
	case finding.Mended:
		return "absent"
	}
	return "new"
}

func justification(w *finding.Waiver) string {
	if *w == (finding.Waiver{}) { // it may not be shown
		return "the household lives with it for a time"
	}
	s := words.Clean(w.Reason) + " (until " + words.Clean(w.Until)
	if w.Agreed != "" {
		s += ", agreed by " + words.Clean(w.Agreed)
	}
	return s + ")"
}

// logical names what a finding is about.
func logical(f *finding.Finding) []sarifLogical {
	if f.Household == "" && f.Spot == "" {
		return nil
	}
	name, kind := source.Spot(f.Household), "object"
	if f.Spot != "" {
		name, kind = name+"/"+f.Spot, "property"
	}
	return []sarifLogical{{name, kind}}
}

func sarifPlaceOf(s source.Span) *sarifPlace {
	if !s.Known() {
		return nil
	}
	p := &sarifPlace{Artifact: sarifArtifact{URI: uri(s.File)}}
	if !strings.HasPrefix(s.File, "/") {
		p.Artifact.Base = sarifRoot
	}
	if s.Start.Line > 0 {
		p.Region = &sarifRegion{s.Start.Line, max(s.Start.Col, 0), max(s.End.Line, 0), max(s.End.Col, 0)}
	}
	return p
}

// ownHost begins the URI of an absolute path, which no reference may be (3.4.3).
const ownHost = "file://"

// uri is a path as a relative reference (RFC 3986, 4.2). All but the slash and
// the unreserved characters is percent-encoded, a colon too, which would make a
// scheme of the first segment.
func uri(path string) string {
	var b strings.Builder
	if strings.HasPrefix(path, "/") {
		b.WriteString(ownHost)
	}
	for i := range len(path) {
		c := path[i]
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || strings.IndexByte("/-._~", c) >= 0 {
			b.WriteByte(c)
		} else {
			fmt.Fprintf(&b, "%%%02X", c)
		}
	}
	return b.String()
}

// pathOf reads what uri wrote.
func pathOf(u string) (string, error) {
	p, err := url.PathUnescape(strings.TrimPrefix(u, ownHost))
	if err == nil && (u == "" || uri(p) != u) {
		err = fmt.Errorf("%q is not a path as %s writes it", u, Tool)
	}
	return p, err
}

func notifications(run *finding.Run) (out []sarifNotification) {
	if run.Partial != "" {
		out = append(out, sarifNotification{finding.Error, message("not all households were judged: " + run.Partial)})
	}
	for i := range run.Households {
		if h := &run.Households[i]; !h.Judged {
			out = append(out, sarifNotification{finding.Error, message(finding.Title(h.Name, h.Path) + " was only partly checked; once the input is corrected, more may show")})
		}
	}
	for _, r := range run.Remarks {
		out = append(out, sarifNotification{finding.Note, message(r)})
	}
	return out
}

// fingerprints gives each finding of one household a name for good: it comes
// from the household's name, the rule and the spot, so it survives edits, moves
// of lines and files, and new wording. Only where several households of the run
// share a name does the folder stand for it. Findings of one rule about one spot
// are numbered in order, mended ones last.
func fingerprints(n names, fs []finding.Finding) []string {
	out := make([]string, len(fs))
	type about struct{ rule, spot string }
	seen := map[about]int{}
	number := func(mended bool) {
		for i := range fs {
			f := &fs[i]
			if (f.State == finding.Mended) != mended {
				continue
			}
			a := about{f.Rule, f.Spot}
			seen[a]++
			h := sha256.Sum256(fmt.Appendf(nil, "%q %q %q %d", n.key(f), wellFormed(f.Rule), wellFormed(f.Spot), seen[a]))
			out[i] = hex.EncodeToString(h[:16])
		}
	}
	number(false)
	number(true)
	return out
}

// names counts how many households have a name.
type names map[string]int

func newNames(run *finding.Run) names {
	n := names{}
	for i := range run.Households {
		n[wellFormed(run.Households[i].Name)]++
	}
	return n
}

// key tells the household of a finding apart from the others.
func (n names) key(f *finding.Finding) string {
	if name := wellFormed(f.Household); name != "" && n[name] < 2 {
		return "name " + name
	}
	return "path " + wellFormed(f.Path)
}

// wellFormed is a string as JSON carries it, so that what is read back has the same fingerprint.
func wellFormed(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	return string([]rune(s))
}
