package audit

import (
	"testing"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// Each step has the command that does it beside the packs, or shows it; a path is quoted as a shell wants it.
func TestCommand(t *testing.T) {
	fixes := map[string]finding.Fix{}
	for rule, work := range map[string]finding.Work{
		"dates/expired": finding.ToExchange, "warmth/sleep": finding.ToExchange, "medication/days": finding.ToAdd, "medication/expired": finding.ToExchange, "load/body-mass-cap": finding.ToLeave,
		"access/reach": finding.ToMove, "fire/two-means": finding.ToAdd, "plan/x": finding.ToDecide, "load/unweighed": finding.ToCheck, "practice/audited": finding.ToCheck,
		"practice/shakedown": finding.ToCheck, "data/not-recorded": finding.ToWrite, "data/plan-written": finding.ToWrite,
	} {
		fixes[rule] = finding.Fix{Work: work}
	}
	open := func(rule string, level finding.Level) finding.Finding {
		return finding.Finding{Rule: rule, Level: level}
	}
	slip := open("input/value", finding.Error)
	slip.Edit = &finding.Edit{New: "x"}
	over := &Sheet{Bearers: []Bearer{{Name: "ana", LoadMG: 2, CapMG: 1}}}
	waived := open("fire/two-means", finding.Error)
	waived.Waived = &finding.Waiver{}
	for _, c := range []struct {
		path  string
		fs    []finding.Finding
		sheet *Sheet
		want  string
	}{
		{"a", []finding.Finding{slip, open("fire/two-means", finding.Error)}, nil, "kitmuster check --fix --show error a"},
		{"a", []finding.Finding{open("input/value", finding.Error)}, nil, "kitmuster check --show error a"},
		{"a", []finding.Finding{open("dates/expired", finding.Warning)}, nil, "kitmuster renew a"},
		{"a", []finding.Finding{open("warmth/sleep", finding.Warning)}, nil, "kitmuster check --show warning a"},
		{"a", []finding.Finding{open("medication/expired", finding.Error)}, nil, "kitmuster renew a"},
		{"a", []finding.Finding{open("medication/days", finding.Error)}, nil, "kitmuster check --show error a"},
		{"a", []finding.Finding{open("fire/two-means", finding.Error), open("fire/two-means", finding.Error), open("load/body-mass-cap", finding.Error)}, over, "kitmuster remedy a"},
		{"a", []finding.Finding{open("access/reach", finding.Note)}, nil, "kitmuster remedy --until note a"},
		{"a", []finding.Finding{open("fire/two-means", finding.Error)}, nil, "kitmuster check --show error a"},
		{"a", []finding.Finding{open("plan/x", finding.Warning)}, nil, "kitmuster check --show warning a"},
		{"a", []finding.Finding{open("load/unweighed", finding.Note)}, nil, "kitmuster weigh a"},
		{"a", []finding.Finding{open("practice/audited", finding.Note)}, nil, "kitmuster list a"},
		{"a", []finding.Finding{open("practice/shakedown", finding.Note)}, nil, "kitmuster check --show note a"},
		{"a", []finding.Finding{open("data/not-recorded", finding.Warning)}, nil, "kitmuster describe a"},
		{"a", []finding.Finding{open("data/plan-written", finding.Warning)}, nil, "kitmuster check --show warning a"},
		{"a", []finding.Finding{waived}, nil, ""},
		{"a", nil, &Sheet{Due: []Due{{Kind: kinds.DateExpires, Day: 100}}}, "kitmuster renew --until 1970-04-11 a"},
		{"a", nil, &Sheet{Due: []Due{{Kind: kinds.DateExpires, Day: 101}, {Kind: kinds.DateWaiver, Day: 1}}}, ""},
		{"the valley/o'neill", []finding.Finding{open("load/unweighed", finding.Note)}, nil, `kitmuster weigh 'the valley/o'\''neill'`},
		{"-rf", []finding.Finding{open("load/unweighed", finding.Note)}, nil, "kitmuster weigh ./-rf"},
		{"$(x)", []finding.Finding{open("load/unweighed", finding.Note)}, nil, "kitmuster weigh '$(x)'"},
		{"a\x1b[31m", []finding.Finding{open("load/unweighed", finding.Note)}, nil, ""},
	} {
		a := &Audited{Household: finding.Household{Path: c.path}, Findings: c.fs, Sheet: c.sheet}
		if got := a.Command(a.Tasks(fixes), 100); got != c.want {
			t.Errorf("%q %v: %q, want %q", c.path, c.fs, got, c.want)
		}
	}
}
