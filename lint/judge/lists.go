package judge

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// List is an official list that a kit can be held against.
type List struct {
	// Key is its name, such as ready-basic.
	Key string `json:"-"`
	// Title and Body say what it is called and who gives it out.
	Title string `json:"title"`
	Body  string `json:"body"`
	// Year is when; "year not seen" where that is not known.
	Year string `json:"year"`
	// Known says how the list is known: whether the body's own page was seen.
	Known string `json:"known"`
	// Evidence names the pages seen.
	Evidence string `json:"evidence"`
	// Horizon is the time that it is meant for.
	Horizon string `json:"horizon"`
	// Lines are in the order of their keys.
	Lines []Line `json:"-"`
}

// Line is one thing that a list asks for.
type Line struct {
	Key string `json:"-"`
	// Asks says what, in words.
	Asks string `json:"asks"`
	// Any are words of household.has of which one is enough; All are those that must all be there.
	Any []string `json:"any"`
	All []string `json:"all"`
	// When is a word of household.has without which the line is not asked.
	When string `json:"when"`
	// WaterML is water per person and day, for Days.
	WaterML int64 `json:"water_ml_day"`
	Days    int64 `json:"days"`
	// FoodDays and MedicineDays are days of food and of regular medication.
	FoodDays     int64 `json:"food_days"`
	MedicineDays int64 `json:"medicine_days"`
	// Source says where the line stands; Known how it is known.
	Source string `json:"source"`
	Known  string `json:"known"`
}

// listFields are the names under which rules find the parts of lists.
var listFields = []string{"title", "body", "year", "known", "evidence", "horizon", "lines", "asks", "any", "all", "when", "water_ml_day", "days", "food_days", "medicine_days"}

// readLists reads lists/<standard>/data.json: the lists as the engine sees them, and as Go does.
func readLists(file string, b []byte) (data map[string]any, out []*List, ps []Problem) {
	j := source.ParseJSON(file, b)
	data, ok := j.Value.(map[string]any)
	if ps := faults(file, j); ps != nil {
		return nil, nil, ps
	}
	if !ok {
		return nil, nil, []Problem{{File: file, Line: 1, Col: 1, Text: "lists are an object of lists by name"}}
	}
	at := func(path, text string, args ...any) {
		p := j.Where[path]
		ps = append(ps, Problem{File: file, Line: max(p.Line, 1), Col: max(p.Col, 1), Text: fmt.Sprintf(text, args...)})
	}
	for _, key := range sortedKeys(data) {
		entry, ok := data[key].(map[string]any)
		lines, has := entry["lines"].(map[string]any)
		if !ok || !has || len(lines) == 0 || strings.Contains(key, ".") || strings.Contains(key, "/") {
			at(key, `a list is a name without dots or slashes, and an object with title, body, year, known, evidence, horizon and "lines" by name`)
			continue
		}
		l := &List{Key: key}
		if why := strict(without(entry, "lines"), l); why != "" {
			at(key, "list %s: %s", key, why)
			continue
		}
		for _, must := range [][2]string{{"title", l.Title}, {"body", l.Body}, {"year", l.Year}, {"known", l.Known}, {"evidence", l.Evidence}, {"horizon", l.Horizon}} {
			if strings.TrimSpace(must[1]) == "" {
				at(key, "list %s needs %q, a text", key, must[0])
			}
		}
		for _, name := range sortedKeys(lines) {
			path := key + ".lines." + name
			line := Line{Key: name}
			if why := strict(lines[name], &line); why != "" {
				at(path, "line %s of list %s: %s", name, key, why)
				continue
			}
			switch {
			case strings.TrimSpace(line.Asks) == "" || strings.TrimSpace(line.Source) == "" || strings.TrimSpace(line.Known) == "":
				at(path, `line %s of list %s needs "asks", "source" and "known", each a text`, name, key)
			case len(line.Any)+len(line.All) == 0 && line.WaterML+line.FoodDays+line.MedicineDays == 0:
				at(path, `line %s of list %s asks for nothing that can be looked up: write "any", "all", "water_ml_day", "food_days" or "medicine_days"`, name, key)
			case (line.WaterML == 0) != (line.Days == 0) || min(line.WaterML, line.Days, line.FoodDays, line.MedicineDays) < 0:
				at(path, `line %s of list %s: water_ml_day and days go together, and no amount is below zero`, name, key)
			}
			l.Lines = append(l.Lines, line)
		}
		out = append(out, l)
	}
	slices.SortFunc(ps, compareProblems)
	return data, out, ps
}

// without is an object without one of its keys.
func without(m map[string]any, key string) map[string]any {
	out := maps.Clone(m)
	delete(out, key)
	return out
}

// strict fills a struct from parsed JSON and says what does not fit, or "".
func strict(from, into any) string {
	b, err := json.Marshal(from)
	if err == nil {
		d := json.NewDecoder(bytes.NewReader(b))
		d.DisallowUnknownFields()
		err = d.Decode(into)
	}
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &kind):
		return fmt.Sprintf("%s cannot be a %s", kind.Field, kind.Value)
	case err != nil:
		return strings.TrimPrefix(err.Error(), "json: ")
	}
	return ""
}

// Lists lists the official lists by name. The slice is the caller's, the lists are not.
func (b *Rulebook) Lists() []*List {
	out := make([]*List, 0, len(b.lists))
	for _, key := range sortedKeys(b.lists) {
		out = append(out, b.lists[key])
	}
	return out
}

// List finds an official list by its name.
func (b *Rulebook) List(key string) (*List, bool) {
	l, ok := b.lists[key]
	return l, ok
}

// NoList says that no list has the name, and which there are.
func (b *Rulebook) NoList(key string) string {
	return words.Suggest(fmt.Sprintf("no official list is called %q", key), key, sortedKeys(b.lists), "there are")
}
