package upkeep

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/kinds"
	"kitmuster/lint/lines"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Renewing are the settings of a talk through the dates.
type Renewing struct {
	// Until is the last day that is asked for.
	Until unit.Date
}

const renewHelp = `Type the new last day as the label has it (2027-05-31, 05/2027, May 2027): it was exchanged. 2: 05/2027 where only 2 of several were.
new: exchanged for one without a day. opened: opened today. used or out: it is there no longer, and goes onto the list of what to get.
used 2: only 2 of several. get: onto that list, and left as it is. Enter: later. u: take the last answer back. q: stop.
What was kept stays kept.`

var (
	someOf = regexp.MustCompile(`^([0-9]{1,4}) ?: ?(.+)$`)
	usedUp = regexp.MustCompile(`(?i)^(?:used|out|gone)(?: ([0-9]{1,4}))?$`)
)

// renewing is one talk through the dates.
type renewing struct {
	*Talk
	until unit.Date
	// answered are the days that were answered, by their thing and kind.
	answered map[string]bool
	toGet    []wanted
	renewals int
}

// wanted is a line of the list of what to get; it came of the day with the id.
type wanted struct{ id, group, name string }

func id(d *Due) string { return d.Spot + " " + string(d.Kind) }

// Renew asks what became of each thing that is past its day or near it. What is confirmed is written.
func (t *Talk) Renew(o Renewing) error {
	if err := t.begin(); err != nil {
		return err
	}
	r := &renewing{Talk: t, until: o.Until, answered: map[string]bool{}}
	n := len(r.open())
	if n == 0 {
		t.Say("%s: nothing is past its day, and nothing falls due until %s.", t.kept.Household.Name, InWords(r.until))
		return nil
	}
	t.Say("%s: %s past or due until %s. ? shows what can be typed; q stops. The label decides; for medicines ask a practitioner or a pharmacist.",
		t.kept.Household.Name, words.Count(n, "thing"), InWords(r.until))
	err := r.through()
	if err != nil && !errors.Is(err, lines.ErrEnded) {
		return err
	}
	r.end()
	return nil
}

// open are the days that are still to be asked about.
func (r *renewing) open() (out []*Due) {
	for i := range r.kept.Due {
		if d := &r.kept.Due[i]; d.On <= r.until && !r.answered[id(d)] {
			out = append(out, d)
		}
	}
	return out
}

func (r *renewing) through() error {
	for {
		left := r.open()
		if len(left) == 0 {
			return nil
		}
		stop, err := r.one(*left[0], len(left))
		if stop || err != nil {
			return err
		}
	}
}

// says is what is said of a day.
func says(d *Due) string {
	var b strings.Builder
	if d.Where != "" {
		b.WriteString(d.Where + ": ")
	}
	b.WriteString(d.Name)
	if d.Kind == kinds.DateLicence {
		b.WriteString(" licence")
	}
	if d.Count > 1 {
		fmt.Fprintf(&b, ", %d of them", d.Count)
	}
	what := map[kinds.Date]string{
		kinds.DateExpires: "last day by the label", kinds.DateOpened: "opened; last day", kinds.DateRotate: "due for replacement",
		kinds.DateOutOfCold: "out of the cold; last day", kinds.DateLicence: "last day",
	}[d.Kind]
	fmt.Fprintf(&b, ", %s %s, %s.", what, d.On, when(d.Left))
	return b.String()
}

// when says how far a day is away.
func when(left int64) string {
	switch {
	case left < 0:
		return words.Count(-left, "day") + " ago"
	case left == 0:
		return "today"
	}
	return "in " + words.Count(left, "day")
}

// asks is the question about a kind of day.
func asks(k kinds.Date) string {
	switch k {
	case kinds.DateLicence:
		return "Its new last day:"
	case kinds.DateOutOfCold:
		return "Exchanged: the day the new one left the cold, or new where it is still cold:"
	case kinds.DateRotate:
		return "Replaced: the day it is due again:"
	}
	return "Exchanged: the new last day:"
}

// field is where the day of a kind is written.
func field(k kinds.Date) string {
	switch k {
	case kinds.DateRotate:
		return "rotate"
	case kinds.DateOutOfCold:
		return "outOfCold"
	case kinds.DateLicence:
		return "until"
	}
	return "expires"
}

// one asks about one day and does what is answered.
func (r *renewing) one(d Due, left int) (stop bool, err error) {
	typed, err := r.Ask("%d to go. %s %s", left, says(&d), asks(d.Kind))
	if err != nil {
		return true, err
	}
	item := d.Kind != kinds.DateLicence
	word := strings.ToLower(typed)
	switch f := usedUp.FindStringSubmatch(word); {
	case word == "q" || word == "quit":
		return true, nil
	case word == "" || word == "later":
		r.answered[id(&d)] = true
		return false, nil
	case word == "?" || word == "help":
		for _, l := range strings.Split(renewHelp, "\n") {
			r.Say("%s", l)
		}
		return false, nil
	case word == "u" || word == "undo":
		spot, err := r.back()
		for k := range r.answered {
			if spot != "" && strings.HasPrefix(k, spot+" ") {
				delete(r.answered, k)
			}
		}
		return err != nil, err
	case word == "get":
		r.get(&d, d.Count)
		r.answered[id(&d)] = true
		return false, nil
	case f != nil && item:
		return r.used(&d, f[1])
	case word == "opened" && item:
		return r.did(&d, "opened today", Order{Do: SetDay, Spot: d.Spot, Field: "opened", Text: r.On.String()})
	case word == "new" && item:
		return r.fresh(&d)
	}
	return r.dated(&d, typed)
}

// did writes orders and says so.
func (r *renewing) did(d *Due, what string, orders ...Order) (stop bool, err error) {
	ok, err := r.write(d.Name+", "+what, d.Spot, func() { r.renewals-- }, orders...)
	if err != nil {
		return true, err
	}
	r.answered[id(d)] = true // what cannot be written is told, and asked no second time
	if ok {
		r.renewals++
		r.Say("Kept: %s, %s.", d.Name, what)
	}
	return false, nil
}

// used takes a thing out, or some of it.
func (r *renewing) used(d *Due, count string) (stop bool, err error) {
	n := d.Count
	if count != "" {
		n, _ = strconv.ParseInt(count, 10, 64)
	}
	if n < 1 || n > d.Count {
		r.Say("There are %d of it.", d.Count)
		return false, nil
	}
	before := len(r.undo)
	if n == d.Count {
		stop, err = r.did(d, "taken out", Order{Do: Gone, Spot: d.Spot})
	} else {
		stop, err = r.did(d, fmt.Sprintf("%d left", d.Count-n), Order{Do: SetCount, Spot: d.Spot, Count: d.Count - n})
		delete(r.answered, id(d)) // the others are still due
	}
	if len(r.undo) > before {
		r.get(d, n)
		last := &r.undo[len(r.undo)-1]
		forget := last.forget
		last.forget = func() {
			forget()
			for i, w := range slices.Backward(r.toGet) {
				if w.id == id(d) {
					r.toGet = slices.Delete(r.toGet, i, i+1)
					break
				}
			}
		}
	}
	return stop, err
}

// fresh exchanges a thing for one without a day of the kind.
func (r *renewing) fresh(d *Due) (stop bool, err error) {
	switch d.Kind {
	case kinds.DateOpened:
		return r.did(d, "a new one, closed", Order{Do: Unopened, Spot: d.Spot})
	case kinds.DateOutOfCold:
		return r.did(d, "a new one, in the cold", Order{Do: NoDay, Spot: d.Spot, Field: "outOfCold"})
	case kinds.DateExpires:
		return r.did(d, "a new one, without a day", Order{Do: NoDay, Spot: d.Spot, Field: "expires"})
	}
	return r.did(d, "replaced, with no day for the next time", Order{Do: NoDay, Spot: d.Spot, Field: field(d.Kind)})
}

// dated takes a new day.
func (r *renewing) dated(d *Due, typed string) (stop bool, err error) {
	count := int64(0)
	if f := someOf.FindStringSubmatch(typed); f != nil {
		count, _ = strconv.ParseInt(f[1], 10, 64)
		if typed = f[2]; count < 1 || count > d.Count || d.Kind == kinds.DateLicence {
			r.Say("There are %d of it.", d.Count)
			return false, nil
		}
		if count == d.Count {
			count = 0
		}
	}
	on, other, err := ParseDay(typed)
	if err != nil {
		r.Say("%s; ? shows what else can be typed.", strings.TrimSuffix(err.Error(), "."))
		return false, nil
	}
	if on != other {
		pick, err := r.Ask("%q is %s or %s. Type 1 for the first, 2 for the second:", typed, InWords(on), InWords(other))
		if err != nil {
			return true, err
		}
		switch pick {
		case "1":
		case "2":
			on = other
		default:
			r.Say("Neither is kept.")
			return false, nil
		}
	}
	if d.Kind == kinds.DateOutOfCold {
		if on > r.On {
			r.Say("%s is still to come; type the day it left the cold, or new.", InWords(on))
			return false, nil
		}
	} else if on < r.On {
		r.Say("%s is past; type out where it is there no longer.", InWords(on))
		return false, nil
	}
	what := InWords(on)
	if count > 0 {
		what = fmt.Sprintf("%d of them, %s", count, what)
	}
	stop, err = r.did(d, what, Order{Do: SetDay, Spot: d.Spot, Field: field(d.Kind), Text: on.String(), Count: count})
	if count > 0 {
		delete(r.answered, id(d)) // the others are still due
	}
	return stop, err
}

// mostSaid is how many things that are still due are named at the end. Our own figure.
const mostSaid = 12

// get puts a thing onto the list of what to get.
func (r *renewing) get(d *Due, n int64) {
	name := d.Name
	if n > 1 {
		name = fmt.Sprintf("%d %s", n, d.Name)
	}
	r.toGet = append(r.toGet, wanted{id(d), d.Group, name})
}

// end tells what came of it.
func (r *renewing) end() {
	r.Say("%s.", keptSay(r.renewals, "answer"))
	if len(r.toGet) > 0 {
		r.Say("What to get:")
		for _, g := range groups {
			var names []string
			for _, w := range r.toGet {
				if w.group == g {
					names = append(names, w.name)
				}
			}
			if len(names) > 0 {
				r.Say("%s: %s.", g, strings.Join(names, ", "))
			}
		}
	}
	var left []*Due
	for i := range r.kept.Due {
		if d := &r.kept.Due[i]; d.On <= r.until {
			left = append(left, d)
		}
	}
	slices.SortStableFunc(left, func(a, b *Due) int { return cmp.Compare(a.On, b.On) })
	var said []string
	for _, d := range left {
		if s := fmt.Sprintf("%s (%s)", d.Name, when(d.Left)); !slices.Contains(said, s) {
			said = append(said, s)
		}
	}
	if len(said) > mostSaid {
		said = append(said[:mostSaid], fmt.Sprintf("and %d more", len(said)-mostSaid))
	}
	if len(said) == 0 {
		r.Say("Nothing is due any more until %s.", InWords(r.until))
	} else {
		r.Say("Still due: %s.", strings.Join(said, ", "))
	}
	r.Say("Next: kitmuster check %s", r.Path)
}
