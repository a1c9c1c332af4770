package report

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// jsonAudited is the line of one household in an audit.
type jsonAudited struct {
	Name     string         `json:"name"`
	Path     string         `json:"path"`
	Standing audit.Standing `json:"standing"`
	Errors   int            `json:"errors"`
	Warnings int            `json:"warnings"`
	Notes    int            `json:"notes"`
	Waived   int            `json:"waived"`
	// Next is the biggest step in a few words, Command the one command for it; an audit for others has neither.
	Next     string        `json:"next,omitempty"`
	Command  string        `json:"command,omitempty"`
	Sheet    *audit.Sheet  `json:"sheet,omitempty"`
	Findings []jsonFinding `json:"findings"`
}

type jsonStandardID struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	Digest  string `json:"digest"`
}

// jsonStep is a thing to do first.
type jsonStep struct {
	Level      finding.Level `json:"level"`
	Rule       string        `json:"rule"`
	Work       finding.Work  `json:"work"`
	Households int           `json:"households"`
	Findings   int           `json:"findings"`
	// Clear is how many households have nothing open of the level then.
	Clear int `json:"clear"`
	// MassMG is left out where it is not known.
	MassMG *int64 `json:"mass_mg,omitempty"`
	NoRoom int    `json:"no_room,omitempty"`
}

func firstOf(a *audit.Audit) []jsonStep {
	out := []jsonStep{}
	for _, f := range a.First {
		for _, s := range f.Steps {
			j := jsonStep{Level: f.Level, Rule: s.Rule.Name, Work: s.Rule.Mend.Work, Households: s.Households, Findings: s.Findings, Clear: s.Clear, NoRoom: s.NoRoom}
			if s.MassKnown && a.Run.Shared == "" {
				j.MassMG = &s.MassMG
			}
			out = append(out, j)
		}
	}
	return out
}

type jsonHistory struct {
	From       string       `json:"from"`
	Remarks    []string     `json:"remarks,omitempty"`
	Partial    string       `json:"partial,omitempty"`
	Households []jsonCourse `json:"households"`
}

type jsonCourse struct {
	Path   string      `json:"path"`
	Points []jsonTrend `json:"points"`
}

type jsonTrend struct {
	Day        string `json:"day"`
	Under      string `json:"under,omitempty"`
	Judged     bool   `json:"judged"`
	Errors     int    `json:"errors"`
	Warnings   int    `json:"warnings"`
	Notes      int    `json:"notes"`
	Waived     int    `json:"waived"`
	Load       int64  `json:"load_permille"`
	Water      int64  `json:"water_hours"`
	WaterKnown bool   `json:"water_known"`
	Hours      int64  `json:"plan_hours"`
}

// AuditJSON writes an audit as one object, each household on a line.
func AuditJSON(w io.Writer, a *audit.Audit) error {
	b := bufio.NewWriterSize(w, 1<<16)
	o := object{b: b, indent: "  "}
	b.WriteByte('{')
	o.field("tool", Tool)
	o.field("version", a.Run.Version)
	o.field("on", a.Run.On)
	o.field("until", a.Until)
	o.given("season", a.Season)
	o.given("shareSafe", a.Run.Shared)
	o.given("partial", a.Run.Partial)
	standards := make([]jsonStandardID, len(a.Standards))
	for i, s := range a.Standards {
		standards[i] = jsonStandardID(s)
	}
	o.field("standards", standards)
	o.field("summary", summary(a.Run))
	o.field("first", firstOf(a))
	if h := a.History; h != nil {
		before := jsonHistory{From: a.Past, Remarks: h.Remarks, Partial: h.Partial, Households: make([]jsonCourse, len(h.Households))}
		for i, c := range h.Households {
			before.Households[i] = jsonCourse{c.Path, make([]jsonTrend, 0, len(c.Points))}
			for _, t := range c.Points {
				if t.There {
					before.Households[i].Points = append(before.Households[i].Points, jsonTrend{
						t.Day, t.Under, t.Judged, t.Errors, t.Warnings, t.Notes, t.Waived, t.LoadPermille, t.WaterHours, t.WaterKnown, t.PlanHours,
					})
				}
			}
		}
		o.field("history", before)
	}
	o.open("households")
	fixes := audit.Fixes(a.Run.Rules)
	for h, err := range a.Households {
		if err != nil {
			return err
		}
		s := h.Summary
		j := jsonAudited{Name: h.Household.Name, Path: h.Household.Path, Standing: h.Standing(), Errors: s.Errors, Warnings: s.Warnings, Notes: s.Notes, Waived: s.Waived, Sheet: h.Sheet, Findings: findings(h.Findings)}
		if a.Run.Shared == "" && !h.Nowhere {
			tasks := h.Tasks(fixes)
			j.Next, j.Command = h.Next(tasks, fixes, false), h.Command(tasks, a.UntilDay)
		}
		o.line(j)
	}
	o.close()
	return o.end("\n}\n")
}

// ReadAudit reads the lines of the households out of an audit's JSON: the day it is as of, the key of its pseudonyms or "",
// and how each stood. The error says what is wrong with it.
func ReadAudit(b []byte) (on, shared string, lines []finding.Trend, err error) {
	var in struct {
		Tool       string           `json:"tool"`
		On         string           `json:"on"`
		Season     string           `json:"season"`
		Standards  []jsonStandardID `json:"standards"`
		Shared     string           `json:"shareSafe"`
		Partial    string           `json:"partial"`
		Households []jsonAudited    `json:"households"`
	}
	if err := json.Unmarshal(b, &in); err != nil {
		return "", "", nil, fmt.Errorf("this is no audit: %w", err)
	}
	if _, err := unit.ParseDate(in.On); err != nil || in.Tool != Tool {
		return "", "", nil, errors.New("this is no audit of this program: it says neither its tool nor the day that it is as of")
	}
	if in.Partial != "" {
		return "", "", nil, errors.New("it is not all: it was interrupted")
	}
	var standards []audit.StandardID
	for _, s := range in.Standards {
		standards = append(standards, audit.StandardID(s))
	}
	under := audit.Under(in.Season, standards)
	for _, h := range in.Households {
		a := audit.Audited{
			Household: finding.Household{Path: h.Path, Judged: h.Standing != audit.Unjudged}, Sheet: h.Sheet,
			Summary: finding.Summary{Errors: h.Errors, Warnings: h.Warnings, Notes: h.Notes, Waived: h.Waived},
		}
		t := a.Trend()
		if !slices.Contains([]audit.Standing{audit.Ready, audit.NotReady, audit.Unjudged}, h.Standing) || !plausible(&t) {
			return "", "", nil, errors.New("it holds figures that no audit has")
		}
		t.Day, t.Name, t.Under = in.On, h.Name, under
		lines = append(lines, t)
	}
	return in.On, in.Shared, lines, nil
}

// plausible refuses figures of an earlier audit that this program cannot have written: someone may have changed the file.
func plausible(t *finding.Trend) bool {
	within := func(most int64, all ...int64) bool {
		return !slices.ContainsFunc(all, func(n int64) bool { return n < 0 || n > most })
	}
	return within(1e6, int64(t.Errors), int64(t.Warnings), int64(t.Notes), int64(t.Waived), t.LoadPermille, t.WaterHours, t.PlanHours)
}

// AuditText says in a few lines what came of an audit, and where it lies.
func AuditText(w io.Writer, a *audit.Audit, dir string) error {
	b := bufio.NewWriter(w)
	n := map[audit.Standing]int{}
	nowhere := 0
	for h, err := range a.Households {
		switch {
		case err != nil:
			return err
		case h.Nowhere:
			nowhere++
		default:
			n[h.Standing()]++
		}
	}
	fmt.Fprintf(b, "%s as of %s, dates until %s: %d ready, %d not ready, %d only partly checked%s.\n", words.Count(len(a.Run.Households), "household"), a.Run.On, a.Until, n[audit.Ready], n[audit.NotReady], n[audit.Unjudged], audit.Nowhere(nowhere))
	if a.Run.Partial != "" {
		fmt.Fprintf(b, "This is not all: %s.\n", a.Run.Partial)
	}
	if a.Run.Shared != "" {
		fmt.Fprintf(b, "Share-safe: households have pseudonyms of %s.\n", a.Run.Shared)
	}
	if a.Run.Shared != "" { // a folder may have a name in it
		dir = "the folder that -o names"
	}
	fmt.Fprintf(b, "The audit is in %s: open audit.html.\n", words.Clean(dir))
	return b.Flush()
}
