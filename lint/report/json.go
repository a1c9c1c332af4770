package report

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
)

// Tool is the name every output gives.
const Tool = "kitmuster"

// The wire form of a check. Lines and columns count from 1; columns count
// Unicode code points; an end is one past the last character.

type jsonHousehold struct {
	Name   string `json:"name"`
	Path   string `json:"path"`
	Judged bool   `json:"judged"`
}

type jsonFinding struct {
	Rule      string        `json:"rule"`
	Level     finding.Level `json:"level"`
	Title     string        `json:"title,omitempty"`
	Message   string        `json:"message"`
	Household string        `json:"household"`
	Path      string        `json:"path"`
	Spot      string        `json:"spot"`
	At        *jsonSpan     `json:"at,omitempty"`
	Because   []jsonBecause `json:"because"`
	Limits    []jsonLimit   `json:"limits"`
	Lack      *jsonLack     `json:"lack,omitempty"`
	MayDo     bool          `json:"mayDo,omitempty"`
	Remedy    string        `json:"remedy,omitempty"`
	Caution   string        `json:"caution,omitempty"`
	Waived    bool          `json:"waived"`
	Waiver    *jsonWaiver   `json:"waiver,omitempty"`
	State     finding.State `json:"state,omitempty"`
	Causes    []jsonCause   `json:"causes,omitempty"`
	Edit      *jsonEdit     `json:"edit,omitempty"`
}

// jsonEdit is the one change that puts a slip right: what stands from at to its end gives way to new.
type jsonEdit struct {
	At  *jsonSpan `json:"at"`
	New string    `json:"new"`
}

// jsonCause is a change of what several households read that made the finding new or fixed. Without one that is sure, all else being as
// it is, the finding would stand as it did; of several that are not, it is one, or they together.
type jsonCause struct {
	Kind   finding.CauseKind `json:"kind"`
	What   string            `json:"what,omitempty"`
	Before string            `json:"before,omitempty"`
	Now    string            `json:"now,omitempty"`
	Was    *jsonSpan         `json:"was,omitempty"`
	At     *jsonSpan         `json:"at,omitempty"`
	Count  int               `json:"count,omitempty"`
	Sure   bool              `json:"sure,omitempty"`
	Text   string            `json:"text"`
}

type jsonBecause struct {
	Message string    `json:"message"`
	At      *jsonSpan `json:"at,omitempty"`
}

type jsonLimit struct {
	Name   string `json:"name"`
	Value  string `json:"value"`
	Source string `json:"source"`
	Layer  string `json:"layer"`
	// At is where it is written, unless in the base standard.
	At *jsonSpan `json:"at,omitempty"`
}

// jsonLack is by how much a finding misses what is needed, where its rule states an amount.
type jsonLack struct {
	What   string     `json:"what"`
	Amount int64      `json:"amount"`
	Unit   kinds.Unit `json:"unit"`
}

type jsonWaiver struct {
	Reason string    `json:"reason"`
	Until  string    `json:"until"`
	Agreed string    `json:"agreed,omitempty"`
	At     *jsonSpan `json:"at,omitempty"`
}

type jsonSpan struct {
	File      string `json:"file"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"endLine"`
	EndColumn int    `json:"endColumn"`
}

type jsonSummary struct {
	Households int `json:"households"`
	Unjudged   int `json:"unjudged"`
	Errors     int `json:"errors"`
	Warnings   int `json:"warnings"`
	Notes      int `json:"notes"`
	Waived     int `json:"waived"`
	// The counts by state stand where an earlier state is compared with, and Worst is then among what is new.
	New       int           `json:"new,omitempty"`
	Unchanged int           `json:"unchanged,omitempty"`
	Mended    int           `json:"mended,omitempty"`
	Worst     finding.Level `json:"worst,omitempty"`
	// Hidden counts what is not shown, where the run shows the graver findings only.
	Hidden *jsonHidden `json:"hidden,omitempty"`
}

type jsonHidden struct {
	Warnings int `json:"warnings"`
	Notes    int `json:"notes"`
}

func summary(run *finding.Run) jsonSummary {
	s := run.Summary
	j := jsonSummary{Households: s.Households, Unjudged: s.Unjudged, Errors: s.Errors, Warnings: s.Warnings, Notes: s.Notes, Waived: s.Waived}
	if run.Since != "" {
		j.New, j.Unchanged, j.Mended, j.Worst = s.New, s.Unchanged, s.Mended, s.Worst
	}
	if least(run) != "" {
		j.Hidden = &jsonHidden{Notes: s.ByRank[finding.Note.Rank()]}
		if run.Least == finding.Error {
			j.Hidden.Warnings = s.ByRank[finding.Warning.Rank()]
		}
	}
	return j
}

// least is the level from which findings are shown, or "" where all are.
func least(run *finding.Run) finding.Level {
	if run.Least == finding.Note {
		return ""
	}
	return run.Least
}

// JSON writes a check as one object. What is said of the run's part, what it
// leaves out, what it is compared with and what it shows stands there only where
// there is something to say.
func JSON(w io.Writer, run *finding.Run, _ Options) error {
	// Written piece by piece, because the findings of many households are more than memory should hold.
	b := bufio.NewWriterSize(w, 1<<16)
	o := object{b: b, indent: "  "}
	b.WriteByte('{')
	o.field("tool", Tool)
	o.field("version", run.Version)
	o.field("on", run.On)
	o.given("shareSafe", run.Shared)
	o.given("part", run.Part)
	o.given("partial", run.Partial)
	o.given("standards", run.Standards)
	o.given("since", run.Since)
	if len(run.Remarks) > 0 {
		o.field("remarks", run.Remarks)
	}
	if run.Untouched > 0 {
		o.field("untouched", run.Untouched)
	}
	o.given("show", string(least(run)))
	o.field("households", households(run.Households))
	o.open("findings")
	for f, err := range run.Shown() {
		if err != nil {
			return err
		}
		o.element(wire(f))
	}
	o.close()
	o.field("summary", summary(run))
	return o.end("\n}\n")
}

// object writes the fields of a JSON object one by one, as encode would write it whole.
type object struct {
	b      *bufio.Writer
	indent string // of the fields
	fields int
	items  int // of the array that is open
	err    error
}

func (o *object) name(n string) {
	if o.fields > 0 {
		o.b.WriteByte(',')
	}
	o.fields++
	fmt.Fprintf(o.b, "\n%s%q: ", o.indent, n)
}

// value writes v over several lines, or, without indent, on one.
func (o *object) value(v any, prefix, indent string) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent(prefix, indent)
	if err := e.Encode(v); err != nil && o.err == nil {
		o.err = err
	}
	o.b.Write(replaced(bytes.TrimSuffix(b.Bytes(), []byte("\n"))))
}

// replaced writes U+FFFD out: the encoder escapes it where it stands for a byte
// that is not UTF-8, and not where it was read back.
func replaced(b []byte) []byte {
	escape := []byte(`\ufffd`)
	if !bytes.Contains(b, escape) {
		return b
	}
	out := make([]byte, 0, len(b))
	for i := 0; i < len(b); {
		n := 1
		switch {
		case bytes.HasPrefix(b[i:], escape):
			out = append(out, "\uFFFD"...)
			i += len(escape)
			continue
		case b[i] == '\\':
			n = 2
		}
		out = append(out, b[i:i+n]...)
		i += n
	}
	return out
}

func (o *object) field(n string, v any) {
	o.name(n)
	o.value(v, o.indent, "  ")
}

// given writes a field that stands there only where it says something.
func (o *object) given(n, v string) {
	if v != "" {
		o.field(n, v)
	}
}

func (o *object) open(n string) {
	o.name(n)
	o.b.WriteByte('[')
	o.items = 0
}

func (o *object) next() {
	if o.items > 0 {
		o.b.WriteByte(',')
	}
	o.items++
	o.b.WriteString("\n  " + o.indent)
}

func (o *object) element(v any) {
	o.next()
	o.value(v, "  "+o.indent, "  ")
}

// line writes an element on one line.
func (o *object) line(v any) {
	o.next()
	o.value(v, "", "")
}

func (o *object) close() {
	if o.items > 0 {
		o.b.WriteString("\n" + o.indent)
	}
	o.b.WriteByte(']')
}

// end closes the object and all around it.
func (o *object) end(tail string) error {
	o.b.WriteString(tail)
	if o.err != nil {
		return o.err
	}
	return o.b.Flush()
}

func encode(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

func jsonOf(h finding.Household) jsonHousehold { return jsonHousehold{h.Name, h.Path, h.Judged} }

func households(hs []finding.Household) []jsonHousehold {
	out := make([]jsonHousehold, len(hs))
	for i, h := range hs {
		out[i] = jsonOf(h)
	}
	return out
}

func findings(fs []finding.Finding) []jsonFinding {
	out := make([]jsonFinding, len(fs))
	for i := range fs {
		out[i] = wire(&fs[i])
	}
	return out
}

// wire is the wire form of one finding.
func wire(f *finding.Finding) jsonFinding {
	j := jsonFinding{
		Rule: f.Rule, Level: f.Level, Title: f.Title, Message: f.Message, Household: f.Household, Path: f.Path, Spot: f.Spot, At: span(f.At),
		Because: make([]jsonBecause, len(f.Because)), Limits: make([]jsonLimit, len(f.Limits)), Remedy: f.Remedy, Caution: f.Caution, MayDo: f.MayDo,
		State: f.State, Causes: causes(f.Causes),
	}
	j.Lack = lackOf(f.Lack)
	if f.Edit != nil {
		j.Edit = &jsonEdit{span(f.Edit.At), f.Edit.New}
	}
	for k, b := range f.Because {
		j.Because[k] = jsonBecause{b.Message, span(b.At)}
	}
	for k, l := range f.Limits {
		j.Limits[k] = jsonLimit{l.Name, l.Value, l.Source, l.Layer, span(l.At)}
	}
	if f.Waived != nil {
		j.Waived, j.Waiver = true, &jsonWaiver{f.Waived.Reason, f.Waived.Until, f.Waived.Agreed, span(f.Waived.At)}
	}
	return j
}

func causes(cs []finding.Cause) (out []jsonCause) {
	for i := range cs {
		c := &cs[i]
		out = append(out, jsonCause{c.Kind, c.What, c.Before, c.Now, span(c.Was), span(c.At), c.Count, c.Sure, c.Words()})
	}
	return out
}

// cause reads one back; the text is made anew.
func (j *jsonCause) cause() (finding.Cause, error) {
	was, errWas := j.Was.span()
	at, errAt := j.At.span()
	err := cmp.Or(errWas, errAt)
	if err == nil && (!slices.Contains(finding.CauseKinds, j.Kind) || j.Count < 0) {
		err = fmt.Errorf("%q is not a kind of cause that %s writes, or its count is below 0", j.Kind, Tool)
	}
	return finding.Cause{Kind: j.Kind, What: j.What, Before: j.Before, Now: j.Now, Was: was, At: at, Count: j.Count, Sure: j.Sure}, err
}

func lackOf(l *finding.Shortfall) *jsonLack {
	if l == nil {
		return nil
	}
	return &jsonLack{l.What, l.Amount, l.Unit}
}

// lack reads it back.
func (j *jsonLack) lack() (*finding.Shortfall, error) {
	if j == nil {
		return nil, nil
	}
	if j.What == "" || j.Amount < 1 || !slices.Contains(kinds.Lacks(), j.Unit) {
		return nil, fmt.Errorf("a lack says what, an amount above 0 and one of the units %s", strings.Join(kinds.Texts(kinds.Lacks()), ", "))
	}
	return &finding.Shortfall{What: j.What, Unit: j.Unit, Amount: j.Amount}, nil
}

// span gives nil for a place that is not known.
func span(s source.Span) *jsonSpan {
	if !s.Known() {
		return nil
	}
	return &jsonSpan{File: s.File, Line: s.Start.Line, Column: s.Start.Col, EndLine: s.End.Line, EndColumn: s.End.Col}
}
