package judge

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// Limit is a value of a standard that rules compare with.
type Limit struct {
	// Name is area.name.
	Name string
	// Value is the value with its unit, for people: "15 %", "2 L", "28 days".
	Value string
	// Unit is the unit as the standard states it.
	Unit kinds.Unit
	// Meaning says what the limit bounds.
	Meaning string
	// Source is where the value comes from.
	Source string
	// Stricter says which values are stricter: "lower", "higher", or of a list "more", "fewer".
	Stricter string
	// Layer names the standard that set it, with its version; "" where that has no name.
	Layer string
	// At is where it is written in the files of that standard.
	At Problem
	// Before is what an earlier standard said, or nil.
	Before *Limit

	number      int64
	list        []string
	least, most *int64
	// at is the place in the standard's source that its data file names.
	at string
}

// over says why a limit cannot take the place of an earlier standard's; "" where it can.
func (l *Limit) over(old *Limit) string {
	switch {
	case old.Layer == l.Layer:
		return fmt.Sprintf("limit %s is already set at %s:%d:%d", l.Name, old.At.File, old.At.Line, old.At.Col)
	case old.Unit != l.Unit:
		return fmt.Sprintf("limit %s has the unit %q in %s; write it in the same unit", l.Name, old.Unit, old.Layer)
	case old.Stricter != l.Stricter:
		return fmt.Sprintf("limit %s: stricter is %q in %s and stays so", l.Name, old.Stricter, old.Layer)
	case old.least != nil && l.number < *old.least, old.most != nil && l.number > *old.most:
		return fmt.Sprintf("limit %s: %s is out of the range that %s allows", l.Name, l.Value, old.Layer)
	}
	return ""
}

// Change says how a limit stands to what an earlier standard said: "tightened", "loosened", "changed" (a list, both ways), "restated", or "added".
func (l *Limit) Change() string {
	old := l.Before
	switch {
	case old == nil:
		return "added"
	case l.Unit == kinds.UnitList:
		gone := slices.ContainsFunc(old.list, func(s string) bool { return !slices.Contains(l.list, s) })
		more := slices.ContainsFunc(l.list, func(s string) bool { return !slices.Contains(old.list, s) })
		switch {
		case gone && more:
			return "changed"
		case !gone && !more:
			return "restated"
		case more == (l.Stricter == "more"):
			return "tightened"
		}
		return "loosened"
	case l.number == old.number:
		return "restated"
	case l.number < old.number == (l.Stricter == lower):
		return "tightened"
	}
	return "loosened"
}

// limitSet is what one file of limits states.
type limitSet struct {
	data  map[string]any
	where map[string]source.Point
	file  string
}

// readLimits reads limits/<standard>/data.json.
func readLimits(file string, b []byte) (*limitSet, []Problem) {
	j := source.ParseJSON(file, b)
	data, ok := j.Value.(map[string]any)
	ps := faults(file, j)
	if !ok && len(ps) == 0 {
		ps = []Problem{{File: file, Line: 1, Col: 1, Text: "limits are an object of areas"}}
	}
	return &limitSet{data, j.Where, file}, ps
}

// faults is what is wrong with a JSON text, if anything.
func faults(file string, j *source.JSON) []Problem {
	if j.Fault == "" {
		return nil
	}
	return []Problem{{File: file, Line: j.FaultAt.Line, Col: j.FaultAt.Col, Text: j.Fault}}
}

// ofLimit is the spot of a limit, or of a field of it, from its names with dots between; "" of a whole area.
func ofLimit(name string) string {
	if keys := strings.SplitN(name, ".", 3); len(keys) > 1 {
		return source.Spot("limits", keys[0], keys[1])
	}
	return ""
}

// limits checks every entry and gives the complete ones by name.
func (s *limitSet) limits() (out []*Limit, ps []Problem) {
	at := func(path, text string, args ...any) {
		p := s.where[path]
		ps = append(ps, Problem{File: s.file, Line: max(p.Line, 1), Col: max(p.Col, 1), Text: fmt.Sprintf(text, args...), Of: ofLimit(path)})
	}
	for _, area := range sortedKeys(s.data) {
		entries, ok := s.data[area].(map[string]any)
		if !ok || !plain(area) {
			at(area, "an area is a plain lower_case name that holds limits by name")
			continue
		}
		for _, name := range sortedKeys(entries) {
			path := area + "." + name
			entry, ok := entries[name].(map[string]any)
			if !ok || !plain(name) {
				at(path, "write limit %s as {\"value\": …, \"unit\": …, \"meaning\": …, \"source\": …} under a plain lower_case name", path)
				continue
			}
			n := len(ps)
			l := readLimit(path, entry, at)
			if len(ps) == n {
				out = append(out, l)
			}
		}
	}
	return out, ps
}

// readLimit reads one limit; at says what is wrong with it, at a path of the file.
func readLimit(path string, entry map[string]any, at func(path, text string, args ...any)) *Limit {
	l := &Limit{Name: path}
	for _, key := range sortedKeys(entry) {
		if want := []string{"value", "unit", "meaning", "source", "stricter", "least", "most", "at"}; !slices.Contains(want, key) {
			at(path+"."+key, "limit %s has an unknown key %q%s", path, key, meant(key, want))
		}
	}
	unit := ""
	for _, f := range []struct {
		key string
		to  *string
	}{{"unit", &unit}, {"meaning", &l.Meaning}, {"source", &l.Source}, {"stricter", &l.Stricter}} {
		text, _ := entry[f.key].(string)
		if *f.to = strings.TrimSpace(text); *f.to == "" {
			at(path, "limit %s needs %q, a text", path, f.key)
		}
	}
	l.Unit = kinds.Unit(unit)
	if v, ok := entry["value"]; !ok {
		at(path, "limit %s needs \"value\", a whole number or a list", path)
	} else if l.Unit != "" {
		text, why := people(v, l.Unit)
		if why != "" {
			where := path + ".value"
			if l.Unit.Row().Text == nil && l.Unit != kinds.UnitList {
				where = path + ".unit"
			}
			at(where, "limit %s: %s", path, why)
		}
		l.Value = text
		l.keep(v)
	}
	l.readRange(entry, at)
	if l.least != nil && l.number < *l.least || l.most != nil && l.number > *l.most {
		at(path, "limit %s: its value is out of its own range", path)
	}
	if v, ok := entry["at"]; ok {
		if l.at, ok = v.(string); !ok || !placeForm.MatchString(l.at) {
			at(path+".at", "limit %s: at is a place such as standard.cue:14:3", path)
		}
	}
	if want := []string{lower, higher}; l.Unit != kinds.UnitList && l.Stricter != "" && !slices.Contains(want, l.Stricter) {
		at(path+".stricter", "limit %s: stricter says which values are stricter: write %s or %s", path, lower, higher)
	} else if want := []string{more, fewer}; l.Unit == kinds.UnitList && l.Stricter != "" && !slices.Contains(want, l.Stricter) {
		at(path+".stricter", "limit %s: stricter says which lists are stricter: write %s or %s", path, more, fewer)
	}
	return l
}

// readRange reads the least and the most that a limit may be.
func (l *Limit) readRange(entry map[string]any, at func(path, text string, args ...any)) {
	for _, f := range []struct {
		key string
		to  **int64
	}{{"least", &l.least}, {"most", &l.most}} {
		v, ok := entry[f.key]
		if !ok {
			continue
		}
		num, _ := v.(json.Number)
		n, err := strconv.ParseInt(num.String(), 10, 64)
		if err != nil || l.Unit == kinds.UnitList {
			at(l.Name+"."+f.key, "limit %s: %s is a whole number of its unit, and a list has none", l.Name, f.key)
			continue
		}
		*f.to = &n
	}
}

// placeForm is a file of the standard with line and column.
var placeForm = regexp.MustCompile(`^([^:\x00-\x1f\\]+):([0-9]{1,7}):([0-9]{1,7})$`)

// source is where a limit is written for people: the place that the data file names, else its own.
func (y *layer) source(here Problem, at string) Problem {
	m := placeForm.FindStringSubmatch(at)
	if m == nil || !fs.ValidPath(m[1]) {
		return here
	}
	line, _ := strconv.Atoi(m[2])
	col, _ := strconv.Atoi(m[3])
	return Problem{File: y.shown(m[1]), Line: line, Col: col}
}

// keep holds on to the value for comparing; what is wrong with it was said already.
func (l *Limit) keep(v any) {
	switch v := v.(type) {
	case json.Number:
		l.number, _ = strconv.ParseInt(v.String(), 10, 64)
	case []any:
		for _, e := range v {
			l.list = append(l.list, fmt.Sprint(e))
		}
	}
}

// people puts a limit's value into words, or says why it cannot.
func people(v any, unit kinds.Unit) (text, why string) {
	if unit == kinds.UnitList {
		list, ok := v.([]any)
		if !ok || len(list) == 0 {
			return "", "a value of unit \"list\" is a list with at least one entry"
		}
		var parts []string
		for _, e := range list {
			switch e := e.(type) {
			case string:
				parts = append(parts, e)
			case json.Number:
				parts = append(parts, e.String())
			default:
				return "", "a list holds texts or whole numbers"
			}
		}
		return strings.Join(parts, ", "), ""
	}
	show := unit.Row().Text
	if show == nil {
		var known []string
		for i := range kinds.Units {
			known = append(known, string(kinds.Units[i].Kind))
		}
		known = append(known, string(kinds.UnitList))
		return "", words.Suggest(fmt.Sprintf("unit %q is unknown", unit), string(unit), known, "write one of")
	}
	num, ok := v.(json.Number)
	if !ok {
		return "", "the value must be a whole number of the unit"
	}
	n, err := strconv.ParseInt(num.String(), 10, 64)
	if err != nil {
		return "", "the value must be a whole number of the unit"
	}
	return show(n), ""
}
