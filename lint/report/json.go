package report

import (
	"encoding/json"
	"io"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
)

// Tool is the name every output gives.
const Tool = "kitmuster"

// The wire form of a check. Lines and columns count from 1; columns count
// Unicode code points; an end is one past the last character.
type jsonRun struct {
	Tool       string          `json:"tool"`
	Version    string          `json:"version"`
	On         string          `json:"on"`
	Households []jsonHousehold `json:"households"`
	Findings   []jsonFinding   `json:"findings"`
	Summary    jsonSummary     `json:"summary"`
}

type jsonHousehold struct {
	Name   string `json:"name"`
	Path   string `json:"path"`
	Judged bool   `json:"judged"`
}

type jsonFinding struct {
	Rule      string        `json:"rule"`
	Level     finding.Level `json:"level"`
	Message   string        `json:"message"`
	Household string        `json:"household"`
	Path      string        `json:"path"`
	Spot      string        `json:"spot"`
	At        *jsonSpan     `json:"at,omitempty"`
	Because   []jsonBecause `json:"because"`
	Limits    []jsonLimit   `json:"limits"`
	Remedy    string        `json:"remedy,omitempty"`
	Caution   string        `json:"caution,omitempty"`
	Waived    bool          `json:"waived"`
	Waiver    *jsonWaiver   `json:"waiver,omitempty"`
}

type jsonBecause struct {
	Message string    `json:"message"`
	At      *jsonSpan `json:"at,omitempty"`
}

type jsonLimit struct {
	Name   string `json:"name"`
	Value  string `json:"value"`
	Source string `json:"source"`
	// At is where the household wrote a stricter limit.
	At *jsonSpan `json:"at,omitempty"`
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
}

// JSON writes a check as one object.
func JSON(w io.Writer, run *finding.Run, _ Options) error {
	return encode(w, jsonRun{
		Tool: Tool, Version: run.Version, On: run.On,
		Households: households(run.Households),
		Findings:   findings(run.Shown()),
		Summary:    jsonSummary(run.Summary()),
	})
}

func encode(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

func households(hs []finding.Household) []jsonHousehold {
	out := make([]jsonHousehold, len(hs))
	for i, h := range hs {
		out[i] = jsonHousehold(h)
	}
	return out
}

func findings(fs []finding.Finding) []jsonFinding {
	out := make([]jsonFinding, len(fs))
	for i, f := range fs {
		j := jsonFinding{
			Rule: f.Rule, Level: f.Level, Message: f.Message, Household: f.Household, Path: f.Path, Spot: f.Spot, At: span(f.At),
			Because: make([]jsonBecause, len(f.Because)), Limits: make([]jsonLimit, len(f.Limits)), Remedy: f.Remedy, Caution: f.Caution,
		}
		for k, b := range f.Because {
			j.Because[k] = jsonBecause{b.Message, span(b.At)}
		}
		for k, l := range f.Limits {
			j.Limits[k] = jsonLimit{l.Name, l.Value, l.Source, span(l.At)}
		}
		if f.Waived != nil {
			j.Waived, j.Waiver = true, &jsonWaiver{f.Waived.Reason, f.Waived.Until, f.Waived.Agreed, span(f.Waived.At)}
		}
		out[i] = j
	}
	return out
}

// span gives nil for a place that is not known.
func span(s source.Span) *jsonSpan {
	if !s.Known() {
		return nil
	}
	return &jsonSpan{File: s.File, Line: s.Start.Line, Column: s.Start.Col, EndLine: s.End.Line, EndColumn: s.End.Col}
}
