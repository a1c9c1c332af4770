package report

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
)

// largest is how many bytes one value of a file that is read back may take: a
// finding takes a few thousand, the households of a valley a million.
const largest = 64 << 20

// ReadJSON reads a check as JSON wrote it. Findings are read anew from r at each
// walk, so that a long file takes no memory; what the format does not carry
// (rules, hidden findings) is not there. An error says where the file is not
// one that this program wrote.
func ReadJSON(r io.ReaderAt, size int64) (*finding.Run, error) { return read(r, size, jsonRun) }

// ReadSARIF reads a check as SARIF wrote it; see ReadJSON. Texts come back
// without the control characters that SARIF took out.
func ReadSARIF(r io.ReaderAt, size int64) (*finding.Run, error) { return read(r, size, sarifLog) }

// form reads one form of a check: the run, and each finding as it comes.
type form func(p *parser, run *finding.Run, each func(*finding.Finding) error) error

func read(r io.ReaderAt, size int64, f form) (*finding.Run, error) {
	run := &finding.Run{}
	var counted finding.Summary
	states := false
	err := parse(r, size, func(p *parser) error {
		return f(p, run, func(x *finding.Finding) error {
			counted.Finding(x)
			states = states || x.State != ""
			return nil
		})
	})
	if err == nil && states && run.Since == "" {
		err = errors.New("findings have a state, and since does not say against what")
	}
	if err != nil {
		return nil, err
	}
	run.Findings = func(yield func(*finding.Finding, error) bool) {
		enough := errors.New("enough")
		err := parse(r, size, func(p *parser) error {
			return f(p, &finding.Run{}, func(x *finding.Finding) error {
				if !yield(x, nil) {
					return enough
				}
				return nil
			})
		})
		if err != nil && !errors.Is(err, enough) {
			yield(nil, err)
		}
	}
	if err := settle(run, counted); err != nil {
		return nil, err
	}
	return run, nil
}

// settle completes the summary by what can be counted, and holds the two together.
func settle(run *finding.Run, counted finding.Summary) error {
	for i := range run.Households {
		counted.Household(&run.Households[i])
	}
	s := &run.Summary
	for rank := run.Least.Rank(); rank < len(s.ByRank); rank++ {
		s.ByRank[rank] = counted.ByRank[rank]
	}
	if run.Since == "" {
		for _, l := range []struct {
			n     int
			level finding.Level
		}{{s.Errors, finding.Error}, {s.Warnings, finding.Warning}, {s.Notes, finding.Note}} {
			if l.n > 0 && s.Worst == "" {
				s.Worst = l.level
			}
		}
	}
	wrong := fmt.Errorf("the summary does not count what the file holds: it says %s", Count(run))
	if least(run) != "" { // what is hidden is known by the summary alone
		if counted.Errors != s.Errors || run.Least == finding.Warning && counted.Warnings != s.Warnings {
			return wrong
		}
		counted = finding.Summary{Households: counted.Households, Unjudged: counted.Unjudged}
		counted.Add(finding.Summary{Errors: s.Errors, Warnings: s.Warnings, Notes: s.Notes, Waived: s.Waived, New: s.New, Unchanged: s.Unchanged, Mended: s.Mended, Worst: s.Worst, ByRank: s.ByRank})
	}
	if run.Since == "" {
		counted.New, counted.Unchanged, counted.Mended, counted.Worst = 0, 0, 0, s.Worst
	}
	if counted != *s {
		return wrong
	}
	return nil
}

// parser reads JSON value by value.
type parser struct {
	dec *json.Decoder
	in  *meter
}

// meter ends a read that goes on for too long.
type meter struct {
	r    io.Reader
	left int64
}

func (m *meter) Read(b []byte) (int, error) {
	if m.left <= 0 {
		return 0, fmt.Errorf("a value of more than %d MiB, which no check writes", largest>>20)
	}
	n, err := m.r.Read(b[:min(int64(len(b)), m.left)])
	m.left -= int64(n)
	return n, err
}

// parse reads a whole file with f; an error gets line and column.
func parse(r io.ReaderAt, size int64, f func(*parser) error) error {
	in := &meter{r: io.NewSectionReader(r, 0, size), left: largest}
	p := &parser{dec: json.NewDecoder(in), in: in}
	p.dec.DisallowUnknownFields()
	err := f(p)
	if err == nil {
		switch _, err = p.dec.Token(); err {
		case io.EOF:
			return nil
		case nil:
			err = errors.New("more follows where the file should end")
		}
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		err = errors.New("the file ends too early; it was not written whole")
	}
	line, col := where(r, p.dec.InputOffset())
	return fmt.Errorf("line %d, column %d: %w", line, col, err)
}

// where counts lines and columns, in bytes, from 1.
func where(r io.ReaderAt, offset int64) (line, col int) {
	in := io.NewSectionReader(r, 0, offset)
	line, col = 1, 1
	b := make([]byte, 1<<15)
	for {
		n, err := in.Read(b)
		if k := bytes.Count(b[:n], []byte("\n")); k > 0 {
			line += k
			col = n - bytes.LastIndexByte(b[:n], '\n')
		} else {
			col += n
		}
		if err != nil {
			return line, col
		}
	}
}

// value reads one value whole.
func (p *parser) value(v any) error {
	p.in.left = largest
	return p.dec.Decode(v)
}

func (p *parser) delim(want json.Delim, what string) error {
	p.in.left = largest
	t, err := p.dec.Token()
	if err == nil && t != want {
		err = fmt.Errorf("%s is wanted here", what)
	}
	return err
}

// fields reads an object, each field by its reader. Fields in must have to be there.
func (p *parser) fields(readers map[string]func() error, must ...string) error {
	if err := p.delim('{', "an object"); err != nil {
		return err
	}
	seen := map[string]bool{}
	for p.dec.More() {
		p.in.left = largest
		t, err := p.dec.Token()
		if err != nil {
			return err
		}
		name, _ := t.(string)
		read, ok := readers[name]
		if !ok {
			return fmt.Errorf("unknown field %q: this was not written by %s check, or by another version", name, Tool)
		}
		if seen[name] {
			return fmt.Errorf("field %q stands there twice", name)
		}
		seen[name] = true
		if err := read(); err != nil {
			return err
		}
	}
	for _, m := range must {
		if !seen[m] {
			return fmt.Errorf("field %q is missing", m)
		}
	}
	return p.delim('}', "the end of the object")
}

// items reads a list, each item by f.
func (p *parser) items(f func() error) error {
	if err := p.delim('[', "a list"); err != nil {
		return err
	}
	for p.dec.More() {
		if err := f(); err != nil {
			return err
		}
	}
	return p.delim(']', "the end of the list")
}

// into gives a reader of one value; check may refuse it.
func (p *parser) into(v any, check ...func() error) func() error {
	return func() error {
		if err := p.value(v); err != nil {
			return err
		}
		for _, c := range check {
			if err := c(); err != nil {
				return err
			}
		}
		return nil
	}
}

func jsonRun(p *parser, run *finding.Run, each func(*finding.Finding) error) error {
	var tool string
	var hs []jsonHousehold
	var sum jsonSummary
	err := p.fields(map[string]func() error{
		"tool":       p.into(&tool, func() error { return sameTool(tool) }),
		"version":    p.into(&run.Version),
		"on":         p.into(&run.On),
		"shareSafe":  p.into(&run.Shared),
		"part":       p.into(&run.Part),
		"partial":    p.into(&run.Partial),
		"standards":  p.into(&run.Standards),
		"since":      p.into(&run.Since),
		"remarks":    p.into(&run.Remarks),
		"untouched":  p.into(&run.Untouched),
		"show":       p.into(&run.Least, func() error { return level(run.Least) }),
		"households": p.into(&hs),
		"summary":    p.into(&sum),
		"findings": func() error {
			return p.items(func() error {
				var j jsonFinding
				if err := p.value(&j); err != nil {
					return err
				}
				f, err := j.finding()
				if err != nil {
					return err
				}
				return each(f)
			})
		},
	}, "tool", "version", "on", "households", "findings", "summary")
	if err != nil {
		return err
	}
	run.Households, run.Summary = fromHouseholds(hs), sum.summary()
	return nil
}

func sameTool(name string) error {
	if name != Tool {
		return fmt.Errorf("this was written by %q, not by %s", name, Tool)
	}
	return nil
}

func level(l finding.Level) error {
	_, err := finding.ParseLevel(string(l))
	return err
}

func fromHouseholds(hs []jsonHousehold) []finding.Household {
	out := make([]finding.Household, len(hs))
	for i, h := range hs {
		out[i] = finding.Household{Name: h.Name, Path: h.Path, Judged: h.Judged}
	}
	return out
}

func (j *jsonSummary) summary() finding.Summary {
	s := finding.Summary{
		Households: j.Households, Unjudged: j.Unjudged, Errors: j.Errors, Warnings: j.Warnings, Notes: j.Notes, Waived: j.Waived,
		New: j.New, Unchanged: j.Unchanged, Mended: j.Mended, Worst: j.Worst,
	}
	if j.Hidden != nil {
		s.ByRank[finding.Warning.Rank()], s.ByRank[finding.Note.Rank()] = j.Hidden.Warnings, j.Hidden.Notes
	}
	return s
}

func (j *jsonFinding) finding() (*finding.Finding, error) {
	f := &finding.Finding{
		Rule: j.Rule, Level: j.Level, Message: j.Message, Household: j.Household, Path: j.Path, Spot: j.Spot,
		Title: j.Title, Remedy: j.Remedy, Caution: j.Caution, MayDo: j.MayDo, State: j.State,
	}
	var err error
	at := func(s *jsonSpan) source.Span {
		span, fault := s.span()
		err = cmp.Or(err, fault)
		return span
	}
	f.At = at(j.At)
	for _, b := range j.Because {
		f.Because = append(f.Because, finding.Because{Message: b.Message, At: at(b.At)})
	}
	for _, l := range j.Limits {
		f.Limits = append(f.Limits, finding.Limit{Name: l.Name, Value: l.Value, Source: l.Source, Layer: l.Layer, At: at(l.At)})
	}
	if j.Waived != (j.Waiver != nil) {
		return nil, fmt.Errorf("waived and waiver do not agree")
	}
	if j.Waiver != nil {
		f.Waived = &finding.Waiver{Reason: j.Waiver.Reason, Until: j.Waiver.Until, Agreed: j.Waiver.Agreed, At: at(j.Waiver.At)}
	}
	if j.Edit != nil {
		f.Edit = &finding.Edit{At: at(j.Edit.At), New: j.Edit.New}
	}
	if err == nil {
		err = level(f.Level)
	}
	if err == nil {
		f.Lack, err = j.Lack.lack()
	}
	if err == nil {
		f.Causes, err = readCauses(j.Causes)
	}
	if err == nil && !slices.Contains([]finding.State{"", finding.New, finding.Unchanged, finding.Mended}, f.State) {
		err = fmt.Errorf("%q is not a state; write \"new\", \"unchanged\" or \"mended\"", f.State)
	}
	return f, err
}

// span reads a place back.
func (s *jsonSpan) span() (source.Span, error) {
	if s == nil {
		return source.Span{}, nil
	}
	if s.File == "" || s.Line < 0 || s.Column < 0 || s.EndLine < 0 || s.EndColumn < 0 {
		return source.Span{}, errors.New("a place needs a file, and lines and columns count from 1")
	}
	return source.Span{File: s.File, Start: source.Point{Line: s.Line, Col: s.Column}, End: source.Point{Line: s.EndLine, Col: s.EndColumn}}, nil
}

// readCauses reads causes back.
func readCauses(js []jsonCause) (out []finding.Cause, err error) {
	for i := range js {
		c, fault := js[i].cause()
		err = cmp.Or(err, fault)
		out = append(out, c)
	}
	return out, err
}

func sarifLog(p *parser, run *finding.Run, each func(*finding.Finding) error) error {
	var schema, version string
	runs := 0
	return p.fields(map[string]func() error{
		"$schema": p.into(&schema),
		"version": p.into(&version, func() error {
			if version != sarifVersion {
				return fmt.Errorf("SARIF version %q is not read; only %s is", version, sarifVersion)
			}
			return nil
		}),
		"runs": func() error {
			return p.items(func() error {
				if runs++; runs > 1 {
					return errors.New("a second run; one file of a check holds one")
				}
				return sarifRun(p, run, each)
			})
		},
	}, "version", "runs")
}

func sarifRun(p *parser, run *finding.Run, each func(*finding.Finding) error) error {
	var tool sarifTool
	var automation sarifAutomation
	var bases map[string]sarifBase
	var columns string
	var invocations []sarifInvocation
	var bag sarifRunBag
	err := p.fields(map[string]func() error{
		"tool":               p.into(&tool, func() error { return sameTool(tool.Driver.Name) }),
		"automationDetails":  p.into(&automation),
		"originalUriBaseIds": p.into(&bases),
		"columnKind": p.into(&columns, func() error {
			if columns != sarifColumns {
				return fmt.Errorf("columns of %q are not read; only %s are", columns, sarifColumns)
			}
			return nil
		}),
		"results": func() error {
			return p.items(func() error {
				var r sarifResult
				if err := p.value(&r); err != nil {
					return err
				}
				f, err := r.finding()
				if err != nil {
					return err
				}
				return each(f)
			})
		},
		"invocations": p.into(&invocations),
		"properties":  p.into(&bag, func() error { return shown(bag.Show) }),
	}, "tool", "columnKind", "results", "properties")
	if err != nil {
		return err
	}
	run.Version = tool.Driver.Version
	for _, r := range tool.Driver.Rules {
		if err := level(r.Configuration.Level); err != nil {
			return err
		}
		mend, err := r.Properties.Mend.mend()
		if err != nil {
			return err
		}
		run.Rules = append(run.Rules, finding.Rule{
			Name: r.ID, Title: unbraces.Replace(r.Short.Text), Why: unbraces.Replace(r.Full.Text), Level: r.Configuration.Level,
			Remedy: r.Properties.Remedy, Mend: mend, Caution: r.Properties.Caution, Sources: r.Properties.Sources,
		})
	}
	run.Shared = bag.ShareSafe
	run.On, run.Part, run.Partial, run.Standards, run.Since, run.Least = bag.On, bag.Part, bag.Partial, bag.Standards, bag.Since, bag.Show
	run.Remarks, run.Untouched = bag.Remarks, bag.Untouched
	run.Households, run.Summary = fromHouseholds(bag.Households), bag.Summary.summary()
	return nil
}

func shown(l finding.Level) error {
	if l == "" {
		return nil
	}
	return level(l)
}

func (r *sarifResult) finding() (*finding.Finding, error) {
	p := &r.Properties
	f := &finding.Finding{
		Rule: r.RuleID, Level: r.Level, Message: unbraces.Replace(r.Message.Text), Household: p.Household, Path: p.Path, Spot: p.Spot,
		Title: p.Title, Remedy: p.Remedy, Caution: p.Caution, MayDo: p.MayDo,
	}
	if err := level(f.Level); err != nil {
		return nil, err
	}
	if len(r.Locations) > 1 || len(r.Suppressions) > 1 {
		return nil, fmt.Errorf("a result of %s has one location and at most one suppression", Tool)
	}
	var err error
	if f.Lack, err = p.Lack.lack(); err != nil {
		return nil, err
	}
	if f.Causes, err = readCauses(p.Causes); err != nil {
		return nil, err
	}
	for _, l := range r.Locations {
		if f.At, err = l.Physical.span(); err != nil {
			return nil, err
		}
	}
	if f.Edit, err = edit(r.Fixes); err != nil {
		return nil, err
	}
	for _, s := range r.Suppressions {
		f.Waived = &finding.Waiver{Reason: s.Properties.Reason, Until: s.Properties.Until, Agreed: s.Properties.Agreed}
		if s.Location != nil {
			if f.Waived.At, err = s.Location.Physical.span(); err != nil {
				return nil, err
			}
		}
	}
	switch r.Baseline {
	case "":
	case "new":
		if !p.Uncompared {
			f.State = finding.New
		}
	case "unchanged":
		f.State = finding.Unchanged
	case "absent":
		f.State = finding.Mended
	default:
		return nil, fmt.Errorf("%q is not a baseline state that %s writes", r.Baseline, Tool)
	}
	return f, r.reasons(f)
}

// edit reads back what sarifFixes writes.
func edit(fixes []sarifFix) (*finding.Edit, error) {
	if len(fixes) == 0 {
		return nil, nil
	}
	if len(fixes) > 1 || len(fixes[0].Changes) != 1 || len(fixes[0].Changes[0].Replacements) != 1 {
		return nil, fmt.Errorf("a result of %s has at most one fix, of one place", Tool)
	}
	c := fixes[0].Changes[0]
	at, err := (&sarifPlace{c.Artifact, &c.Replacements[0].Deleted}).span()
	return &finding.Edit{At: at, New: c.Replacements[0].Inserted.Text}, err
}

// reasons puts reasons and limits back in their order.
func (r *sarifResult) reasons(f *finding.Finding) error {
	at := map[int]*sarifLocation{}
	for i := range r.Related {
		at[r.Related[i].ID] = &r.Related[i]
	}
	if len(at) != len(r.Related) {
		return errors.New("two related locations have one id")
	}
	bare := map[int]string{}
	for _, b := range r.Properties.Because {
		bare[b.ID] = b.Message
	}
	linked := 0
	for _, l := range r.Properties.Limits {
		if l.Related != 0 {
			linked++
		}
	}
	reasons := len(bare) + len(at) - linked
	for id := 1; id <= reasons; id++ {
		if text, ok := bare[id]; ok {
			f.Because = append(f.Because, finding.Because{Message: text})
			continue
		}
		l := at[id]
		if l == nil || l.Message == nil {
			return fmt.Errorf("reason %d is missing among the related locations", id)
		}
		span, err := l.Physical.span()
		if err != nil {
			return err
		}
		f.Because = append(f.Because, finding.Because{Message: unbraces.Replace(l.Message.Text), At: span})
	}
	for i, l := range r.Properties.Limits {
		limit := finding.Limit{Name: l.Name, Value: l.Value, Source: l.Source, Layer: l.Layer}
		if l.Related != 0 {
			place := at[l.Related]
			if place == nil || l.Related != reasons+i+1 {
				return fmt.Errorf("limit %s points to related location %d, which is not its own", l.Name, l.Related)
			}
			var err error
			if limit.At, err = place.Physical.span(); err != nil {
				return err
			}
		}
		f.Limits = append(f.Limits, limit)
	}
	return nil
}

func (p *sarifPlace) span() (source.Span, error) {
	if p == nil {
		return source.Span{}, nil
	}
	file, err := pathOf(p.Artifact.URI)
	if err != nil {
		return source.Span{}, err
	}
	s := source.Span{File: file}
	if g := p.Region; g != nil {
		if g.StartLine < 1 || g.StartColumn < 0 || g.EndLine < 0 || g.EndColumn < 0 {
			return source.Span{}, errors.New("lines and columns of a region count from 1")
		}
		s.Start, s.End = source.Point{Line: g.StartLine, Col: g.StartColumn}, source.Point{Line: g.EndLine, Col: g.EndColumn}
	}
	return s, nil
}
