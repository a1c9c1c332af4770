package upkeep

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/facts"
	"kitmuster/lint/household"
	"kitmuster/lint/lines"
	"kitmuster/lint/load"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// Unsaid is a thing of which only the name tells what it is.
type Unsaid struct {
	Spot, Name, Where string
	// Write is what a family writes to say so, in CUE; Leaves are its values.
	Write  string
	Leaves []Said
	// Ask is what else only the family knows, or "".
	Ask string
}

// Said is a value that is to be written at a path below a thing.
type Said struct {
	Path string `json:"path"`
	// Text is the value, a list with commas; Kind is "text", "number", "bool", "list" or "group", which has nothing in it.
	Text string `json:"text"`
	Kind string `json:"kind"`
}

// told reports whether a name tells a value: what a thing can do, which papers it is, whom it is for. Amounts, sizes and what is left
// open are only examples.
func (s *Said) told() bool {
	return !strings.Contains(s.Text, "…") && (s.Kind == "bool" || s.Kind == "group" || strings.HasPrefix(s.Path, "can/") || s.Path == "documents" || s.Path == "food/for")
}

// value is what is written.
func (s *Said) value() (any, error) {
	switch s.Kind {
	case "number":
		n, err := strconv.Atoi(s.Text)
		if err != nil {
			return nil, fmt.Errorf("%q is no whole number", s.Text)
		}
		return n, nil
	case "group":
		return rewrite.Fields{}, nil
	case "bool":
		return s.Text == "true", nil
	case "list":
		var out []any
		for _, x := range strings.Split(s.Text, ",") {
			out = append(out, strings.TrimSpace(x))
		}
		return out, nil
	}
	return s.Text, nil
}

// unsaid lists the things of which only the name tells what they are.
func unsaid(m *household.Measured, ts []Thing) (out []Unsaid) {
	if m.Facts == nil {
		return nil
	}
	for i := range ts {
		j := slices.IndexFunc(m.Facts.Unrecorded, func(u facts.Unrecorded) bool { return u.ID == ts[i].Spot && u.What == "" })
		if j < 0 {
			continue
		}
		u := &m.Facts.Unrecorded[j]
		leaves, err := rewrite.Leaves(u.Write)
		if err != nil || len(leaves) == 0 {
			continue // a line to write that is more than fields is written by hand
		}
		x := Unsaid{Spot: u.ID, Name: u.Name, Where: ts[i].Where, Write: u.Write, Ask: u.Ask}
		for _, l := range leaves {
			x.Leaves = append(x.Leaves, saidOf(l))
		}
		out = append(out, x)
	}
	return out
}

func saidOf(l rewrite.Leaf) Said {
	switch v := l.Value.(type) {
	case int:
		return Said{l.Path, strconv.Itoa(v), "number"}
	case rewrite.Fields:
		return Said{l.Path, "{}", "group"}
	case bool:
		return Said{l.Path, strconv.FormatBool(v), "bool"}
	case []any:
		var list []string
		for _, x := range v {
			list = append(list, fmt.Sprint(x))
		}
		return Said{l.Path, strings.Join(list, ", "), "list"}
	}
	return Said{l.Path, fmt.Sprint(l.Value), "text"}
}

// question is what would be written, with what is still to be told left open.
func (u *Unsaid) question() string {
	var parts []string
	for i := range u.Leaves {
		l := &u.Leaves[i]
		text := strings.Join(source.Keys(l.Path), ": ") + ": "
		switch {
		case !l.told():
			text += "…"
		case l.Kind == "list":
			text += `["` + strings.ReplaceAll(l.Text, ", ", `", "`) + `"]`
		case l.Kind == "text":
			text += strconv.Quote(l.Text)
		default:
			text += l.Text
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

const describeHelp = `Enter or y: it is what its name says, and that is written. n: it is something else, or later.
What stands as … comes next: type it, amounts with their unit; Enter leaves it out.
u: take the last answer back. q: stop. What was kept stays kept.`

// describing is one talk about things of which only the name is written.
type describing struct {
	*Talk
	answered map[string]bool
	written  int
}

// Describe asks of each thing of which only the name is written whether it is what its name says, and writes that.
func (t *Talk) Describe() error {
	if err := t.begin(); err != nil {
		return err
	}
	d := &describing{Talk: t, answered: map[string]bool{}}
	if len(t.kept.Unsaid) == 0 {
		t.Say("%s: there is nothing of which only the name says what it is.", t.kept.Household.Name)
		return nil
	}
	t.Say("%s: %s of which only the name is written. Enter writes what it says; n: it is something else. ? shows more.", t.kept.Household.Name, words.Count(len(t.kept.Unsaid), "thing"))
	err := d.through()
	if err != nil && !errors.Is(err, lines.ErrEnded) {
		return err
	}
	left := 0
	for i := range t.kept.Unsaid {
		if !d.answered[t.kept.Unsaid[i].Spot] {
			left++
		}
	}
	text := keptSay(d.written, "thing")
	if left > 0 {
		text += fmt.Sprintf(", %d still to say", left)
	}
	t.Say("%s.", text)
	t.Say("Next: kitmuster check %s", t.Path)
	return nil
}

func (d *describing) through() error {
	for {
		i := slices.IndexFunc(d.kept.Unsaid, func(u Unsaid) bool { return !d.answered[u.Spot] })
		if i < 0 {
			return nil
		}
		stop, err := d.one(d.kept.Unsaid[i])
		if stop || err != nil {
			return err
		}
	}
}

func (d *describing) one(u Unsaid) (stop bool, err error) {
	left := 0
	for i := range d.kept.Unsaid {
		if !d.answered[d.kept.Unsaid[i].Spot] {
			left++
		}
	}
	where := ""
	if u.Where != "" {
		where = u.Where + ": "
	}
	typed, err := d.Ask("%d to go. %s%s. Write %s?", left, where, u.Name, u.question())
	if err != nil {
		return true, err
	}
	switch strings.ToLower(typed) {
	case "q", "quit":
		return true, nil
	case "?", "help":
		for _, l := range strings.Split(describeHelp, "\n") {
			d.Say("%s", l)
		}
		return false, nil
	case "u", "undo":
		spot, err := d.back()
		delete(d.answered, spot)
		return err != nil, err
	case "n", "no":
		d.answered[u.Spot] = true
		return false, nil
	case "", "y", "yes":
		return d.write1(&u)
	}
	d.Say("Type Enter where it is that, n where it is not; ? shows more.")
	return false, nil
}

// write1 asks for the amounts of a thing and writes what it is.
func (d *describing) write1(u *Unsaid) (stop bool, err error) {
	var said []Said
	typed := false
	for _, l := range u.Leaves {
		if !l.told() {
			keys := source.Keys(l.Path)
			such := l.Text
			if strings.Contains(such, "…") {
				such = load.Example(source.Spot(append(source.Keys(u.Spot), keys...)...))
			}
			if such != "" {
				such = ", such as " + such
			}
			if l.Text, err = d.Ask("Its %s%s:", strings.Join(keys, ": "), such); err != nil {
				return true, err
			}
			if l.Text == "" {
				continue
			}
			typed = true
		}
		said = append(said, l)
	}
	d.answered[u.Spot] = true
	if len(said) == 0 {
		d.Say("Nothing is written of %s.", u.Name)
		return false, nil
	}
	ok, err := d.write(u.Name, u.Spot, func() { d.written-- }, Order{Do: Describe, Spot: u.Spot, Said: said})
	if ok {
		d.written++
		d.Say("Kept: %s.", u.Name)
	} else if typed { // an amount that cannot be read can be typed anew; what no program should write is told once
		delete(d.answered, u.Spot)
	}
	return err != nil, err
}
