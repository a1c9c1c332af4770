package finding

// Household is one household of a run.
type Household struct {
	Name string
	// Path is its folder, relative to the tree that was read; "." is the tree itself.
	Path string
	// Judged is false where the input could not be read; the findings say why.
	Judged bool
}

// Run is everything that one check has to say. Every output renders a Run.
type Run struct {
	// Version is the tool's.
	Version string
	// On is the audit date, YYYY-MM-DD.
	On         string
	Households []Household
	Findings   []Finding
	// Least is the level from which findings are shown; "" shows all. What is not
	// shown is counted all the same.
	Least Level
}

// Shown lists the findings of the least level or graver.
func (r *Run) Shown() []Finding {
	out := make([]Finding, 0, len(r.Findings))
	for _, f := range r.Findings {
		if f.Level.Rank() >= r.Least.Rank() {
			out = append(out, f)
		}
	}
	return out
}

// Summary counts a run.
type Summary struct {
	Households int
	Unjudged   int
	Errors     int
	Warnings   int
	Notes      int
	Waived     int
}

// Summary counts households and findings; waived findings are counted only as waived.
func (r *Run) Summary() Summary {
	s := Summary{Households: len(r.Households)}
	for _, h := range r.Households {
		if !h.Judged {
			s.Unjudged++
		}
	}
	for _, f := range r.Findings {
		switch {
		case f.Waived != nil:
			s.Waived++
		case f.Level == Error:
			s.Errors++
		case f.Level == Warning:
			s.Warnings++
		case f.Level == Note:
			s.Notes++
		}
	}
	return s
}

// Worst is the gravest level among findings that are not waived, or "".
func (r *Run) Worst() Level {
	worst := Level("")
	for _, f := range r.Findings {
		if f.Waived == nil && f.Level.Rank() > worst.Rank() {
			worst = f.Level
		}
	}
	return worst
}
