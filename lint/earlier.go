package lint

import (
	"fmt"
	"io/fs"

	"kitmuster/lint/finding"
	"kitmuster/lint/load"
)

// Earlier is what an earlier check said, which findings are held against where there is no earlier tree.
type Earlier struct {
	// Name is the check for people.
	Name string
	// Households are those that it checked, Found their findings by the path of the household as people see it.
	Households []finding.Household
	Found      map[string][]finding.Finding
	// Remarks are said beside what the comparison finds.
	Remarks []string
}

// mostEarlier is how many findings of an earlier check are held against: 20 of each of 100,000 households. Our own figure.
const mostEarlier = 2_000_000

// EarlierOf takes what an earlier check said from its report. The error says why nothing can be held against it.
func EarlierOf(name string, run *finding.Run) (*Earlier, error) {
	switch {
	case run.Shared != "":
		return nil, fmt.Errorf("%s has pseudonyms and no spots, so that nothing of it can be found again; compare with a report that is not share-safe, kept where only your group reads it", name)
	case run.Part != "":
		return nil, fmt.Errorf("%s is part %s of a check; join all parts with kitmuster merge first", name, run.Part)
	case run.Partial != "":
		return nil, fmt.Errorf("%s is not whole: %s; compare with one that is", name, run.Partial)
	case run.Least.Rank() > finding.Note.Rank():
		return nil, fmt.Errorf("%s holds findings from the level %s on, so that what is milder would count as new; write one with --show note", name, run.Least)
	case run.Untouched > 0:
		return nil, fmt.Errorf("%s leaves out %d households that no change touched; write one without --since, or with --untouched", name, run.Untouched)
	}
	e := &Earlier{Name: fmt.Sprintf("%s, as of %s", name, run.On), Households: run.Households, Found: map[string][]finding.Finding{}}
	n := 0
	for f, err := range run.Findings {
		if err != nil {
			return nil, err
		}
		if f.State == finding.Mended {
			continue
		}
		if n++; n > mostEarlier {
			return nil, fmt.Errorf("%s holds more than %d findings", name, mostEarlier)
		}
		e.Found[f.Path] = append(e.Found[f.Path], finding.Finding{ // what it is told by, and what is said of it once it is fixed
			Rule: f.Rule, Level: f.Level, Title: f.Title, Message: f.Message, Household: f.Household, Path: f.Path, Spot: f.Spot, At: f.At, Waived: f.Waived,
		})
	}
	return e, nil
}

// against makes a job of each household, with what the earlier check said of it: at its path, failing that under its name.
func (c *checking) against(tree fs.FS, o Options, show func(string) string, dirs []string) {
	e := o.Earlier
	c.remarks = append(c.remarks, e.Remarks...)
	known, names := map[string]*finding.Household{}, map[string]int{}
	for i := range e.Households {
		known[e.Households[i].Path] = &e.Households[i]
	}
	here := map[string]bool{}
	for _, d := range dirs {
		here[show(d)] = true
	}
	byName := map[string]*finding.Household{} // of those that are not where they were
	for i := range e.Households {
		if h := &e.Households[i]; !here[h.Path] && h.Name != "" {
			names[h.Name]++
			byName[h.Name] = h
		}
	}
	fresh := map[string]int{}
	name := func(d string) string { return load.Name(tree, d, c.given(d)) }
	for _, d := range dirs {
		if known[show(d)] == nil {
			fresh[name(d)]++
		}
	}
	met := map[string]bool{}
	for _, d := range dirs {
		p := show(d)
		was := known[p]
		if n := name(d); was == nil && names[n] == 1 && fresh[n] == 1 {
			was = byName[n]
		}
		if was != nil {
			met[was.Path] = true
		}
		if !o.Part.has(p) {
			continue
		}
		if was != nil && was.Path != p {
			c.remarks = append(c.remarks, fmt.Sprintf("the household at %s was at %s", o.alias(p), o.alias(was.Path)))
		}
		c.jobs = append(c.jobs, job{path: p, dir: d, was: was})
	}
	for i := range e.Households {
		if p := e.Households[i].Path; !met[p] && o.Part.has(p) {
			c.remarks = append(c.remarks, fmt.Sprintf("the household at %s is in the report and is not checked here", o.alias(p)))
		}
	}
}

// held holds the findings of a household against what an earlier check said of it.
func (c *checking) held(o Options, j *job, now Answer) (Answer, error) {
	fs, err := now.Findings()
	if err != nil {
		return now, err
	}
	var earlier []finding.Finding
	if j.was != nil {
		earlier = c.comparable(j, j.was.Judged, now.Household.Judged, o.Earlier.Found[j.was.Path])
	}
	return now.stated(finding.States(earlier, fs)), nil
}
