package judge

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
)

// The words that say which way a limit gets stricter.
const (
	lower  = "lower"
	higher = "higher"
	more   = "more"
	fewer  = "fewer"
)

// Limits lists all limits of the standards by name. The slice is the caller's, the limits are not.
func (b *Rulebook) Limits() []*Limit {
	out := make([]*Limit, 0, len(b.limits))
	for _, name := range sortedKeys(b.limits) {
		out = append(out, b.limits[name])
	}
	return out
}

// Limit finds a limit by area.name.
func (b *Rulebook) Limit(name string) (*Limit, bool) {
	l, ok := b.limits[name]
	return l, ok
}

// NoLimit says that no limit has the name, and which was probably meant.
func (b *Rulebook) NoLimit(name string) string {
	if n := nearest(name, sortedKeys(b.limits)); n != "" {
		return fmt.Sprintf("no limit is called %q; did you mean %s?", name, n)
	}
	return fmt.Sprintf("no limit is called %q; kitmuster rules --limits lists them", name)
}

// InForce is what a limit asks of a household: the standard's value, or its own
// stricter one. A list gives its entries; an unknown limit gives nothing.
func (b *Rulebook) InForce(area, name string, own []facts.OwnLimit) (int64, []string) {
	for _, o := range own {
		if o.Area == area && o.Name == name {
			return o.Value, o.Values
		}
	}
	if l, ok := b.limits[area+"."+name]; ok {
		return l.number, l.list
	}
	return 0, nil
}

// LooserError says that a household wants a limit looser than the standard's.
type LooserError struct{ text string }

func (e *LooserError) Error() string { return e.text }

// Stricter reads a limit that a household makes stricter: a value with its unit,
// or the values of a list, where list is true. It gives the limit in the standard's unit and in words.
// A *LooserError says that the value is looser than the standard's; any other
// error that it cannot be read.
func (b *Rulebook) Stricter(area, key, value string, values []string, list bool) (facts.OwnLimit, string, error) {
	name := area + "." + key
	l, ok := b.limits[name]
	out := facts.OwnLimit{Area: area, Name: key, Values: []string{}}
	switch {
	case !ok:
		return out, "", fmt.Errorf("%s", b.NoLimit(name))
	case l.Unit == kinds.UnitList && (value != "" || !list || len(values) == 0 && l.Stricter == more):
		return out, "", fmt.Errorf("limit %s is a list: write values: [%s]", name, quoted(l.list))
	case l.Unit != kinds.UnitList && (list || value == ""):
		return out, "", fmt.Errorf("limit %s is one value: write value: %q", name, l.Value)
	case l.Unit == kinds.UnitList:
		seen := map[string]bool{}
		for _, v := range values {
			if strings.TrimSpace(v) == "" || seen[v] {
				return out, "", fmt.Errorf("limit %s: %q is blank or stands there twice", name, v)
			}
			seen[v] = true
		}
		out.List, out.Values = true, append([]string{}, values...)
		return out, strings.Join(values, ", "), l.stricterList(values)
	}
	n, err := l.Unit.Row().Parse(value)
	if err != nil {
		return out, "", fmt.Errorf("limit %s: %w; the standard's is %q", name, err, l.Value)
	}
	out.Value = n
	if n < l.number && l.Stricter == higher || n > l.number && l.Stricter == lower {
		return out, "", &LooserError{fmt.Sprintf("%s is looser than the standard's %s for %s; a household may only write a %s value here: waive the rule that objects for a time, or ask for another value in the group's standard", l.Unit.Row().Text(n), l.Value, name, l.Stricter)}
	}
	return out, l.Unit.Row().Text(n), nil
}

func (l *Limit) stricterList(values []string) error {
	must, of, has := l.list, values, "must also hold"
	if l.Stricter == fewer {
		must, of, has = values, l.list, "may not hold"
	}
	var off []string
	for _, v := range must {
		if !slices.Contains(of, v) {
			off = append(off, v)
		}
	}
	if len(off) == 0 {
		return nil
	}
	return &LooserError{fmt.Sprintf("the list for %s is looser than the standard's: it %s %s; waive the rule that objects for a time, or ask for another list in the group's standard", l.Name, has, strings.Join(off, ", "))}
}

func quoted(list []string) string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = strconv.Quote(s)
	}
	return strings.Join(out, ", ")
}

// LimitValue reads a value with its unit, as people write it, into the whole number that a limit of a unit holds.
func LimitValue(text string, of kinds.Unit) (int64, error) {
	parse := of.Row().Parse
	if parse == nil {
		return 0, fmt.Errorf("a limit of unit %q holds no single value", of)
	}
	return parse(text)
}

// LimitText puts the whole number that a limit of a unit holds into words; "" where no limit has the unit.
func LimitText(n int64, of kinds.Unit) string {
	if show := of.Row().Text; show != nil {
		return show(n)
	}
	return ""
}
