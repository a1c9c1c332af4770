package upkeep

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/lines"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// slip is how far a reading may be from the mass that is recorded before it is asked for once more. Our own figure.
const slip = 4

// Units are those that a scale may show.
var Units = []string{"g", "kg", "oz", "lb"}

// Weighing are the settings of a talk beside the scale.
type Weighing struct {
	// Unit is that of a plain number; "" is what the household writes most of its masses in.
	Unit string
	// All asks also for what was weighed on this day.
	All bool
}

// reading is what somebody typed of a thing.
type reading struct {
	text  string // the mass of one
	mg    int64
	wet   bool
	sure  bool
	plain bool
}

var (
	number   = regexp.MustCompile(`^[0-9]*\.?[0-9]+(?: [0-9]+/[0-9]+)?$`)
	addition = regexp.MustCompile(`(?i)^new (.*?)(?: ([0-9][0-9.,]*(?: ?(?:g|kg|oz|lb|lbs))?))?$`)
)

// parseReading reads what a scale shows: "86", "3.1 oz", "516 all" of several together, "1086 full" with the water in it, "860!" for
// sure. tare, in milligrams, is taken off.
func parseReading(typed, usual string, t *Thing, tare int64) (r reading, err error) {
	text := strings.ToLower(typed)
	if s, ok := strings.CutSuffix(text, "!"); ok {
		r.sure, text = true, strings.TrimSpace(s)
	}
	all := false
	for {
		before := text
		for _, w := range []struct {
			word string
			is   *bool
		}{{"all", &all}, {"full", &r.wet}} {
			if s, ok := strings.CutSuffix(text, " "+w.word); ok {
				*w.is, text = true, s
			} else if s, ok := strings.CutPrefix(text, w.word+" "); ok {
				*w.is, text = true, s
			}
		}
		if text == before {
			break
		}
	}
	if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1)
	}
	if r.plain = number.MatchString(text); r.plain {
		text += " " + usual
	}
	m, err := unit.ParseMass(text)
	if err != nil {
		return r, err
	}
	if r.wet && t.WaterMG == 0 {
		return r, errors.New("no water is recorded in it; weigh it as it is, without full")
	}
	exact := int64(m)
	r.text = text
	if tare > 0 {
		exact -= tare * 1000
	}
	if all {
		exact = (exact + t.Count/2) / t.Count
	}
	if tare > 0 || all && t.Count > 1 {
		r.text = inUnit(exact, usual)
	}
	if exact <= 0 {
		return r, fmt.Errorf("%s is no mass once the tare of %s is off", typed, words.Mass(tare))
	}
	if exact > int64(unit.MaxItemMass) {
		return r, fmt.Errorf("%s is more than one thing can weigh (%s)", words.Mass(exact/1000), unit.MaxItemMass)
	}
	r.mg = exact / 1000
	return r, nil
}

// inUnit writes micrograms in a unit that a scale shows, to a tenth of a gram or finer.
func inUnit(mass int64, name string) string {
	one, err := unit.ParseMass("1 " + name)
	if err != nil {
		return unit.Mass(mass).String()
	}
	digits := map[string]int{"g": 1, "kg": 4, "oz": 2, "lb": 4}[name]
	text := strconv.FormatFloat(float64(mass)/float64(one), 'f', digits, 64)
	return strings.TrimRight(strings.TrimRight(text, "0"), ".") + " " + name
}

// doubtful says what is odd about a reading; "" where nothing is.
func doubtful(t *Thing, r *reading) string {
	if r.sure || !t.Known || t.MassMG == 0 || r.mg < t.MassMG*slip && r.mg*slip > t.MassMG {
		return ""
	}
	when := ""
	if t.IsWeighed {
		when = " on " + InWords(t.Weighed)
	}
	return fmt.Sprintf("%s was %s%s", r.text, t.Text, when)
}

// order is what a reading writes.
func (r *reading) order(t *Thing) Order {
	return Order{Do: SetMass, Spot: t.Spot, Text: r.text, Wet: r.wet}
}

// usualUnit is that of a plain number where none is named.
func usualUnit(k *Kept) string {
	if k.Household.Units == unit.US {
		return "oz"
	}
	return "g"
}

const weighHelp = `Type what the scale shows of one (86, 3.1 oz), of all of several together (516 all), or with its water (1086 full).
Enter: leave it as it was. gone: it is there no longer. + or -: there is one more, or less. new NAME MASS: one more thing here.
tare 120: take 120 off each reading from now on. whole 1250: compare what lies here with the sum of its parts.
unit oz: plain numbers are ounces. u: take the last answer back. q: stop. What was kept stays kept.`

// weighing is one talk beside the scale.
type weighing struct {
	*Talk
	unit string
	tare int64
	// done are the spots that were answered.
	done                    map[string]bool
	first                   map[string]int64
	readings, skipped, gone int
}

// Weigh asks for what the scale shows, thing by thing. What is confirmed is written.
func (t *Talk) Weigh(o Weighing) error {
	if err := t.begin(); err != nil {
		return err
	}
	w := &weighing{Talk: t, unit: o.Unit, done: map[string]bool{}, first: map[string]int64{}}
	if w.unit == "" {
		w.unit = usualUnit(t.kept)
	}
	today, shared, files := 0, 0, []string{}
	for i := range t.kept.Things {
		x := &t.kept.Things[i]
		w.first[top(x)] += x.All()
		switch {
		case x.Shared != "":
			shared++
			if !slices.Contains(files, x.Shared) {
				files = append(files, x.Shared)
			}
		case !o.All && x.IsWeighed && x.Weighed == t.On:
			w.done[x.Spot] = true
			today++
		}
	}
	left := len(t.kept.Things) - today - shared
	if left > 0 {
		t.Say("%s: %s to weigh, in %s. ? shows what can be typed; q stops.", t.kept.Household.Name, words.Count(left, "thing"), w.unit)
	} else {
		t.Say("%s: nothing is left to weigh.", t.kept.Household.Name)
	}
	if today > 0 {
		t.Say("Left out, as weighed today: %d; --all asks for all.", today)
	}
	if shared > 0 {
		t.Say("Left out, as their mass stands in a file that several households may share: %d. Change it there by hand: %s.", shared, words.List(files))
	}
	if left == 0 {
		return nil
	}
	err := w.through()
	if err != nil && !errors.Is(err, lines.ErrEnded) {
		return err
	}
	w.sum()
	return nil
}

// through goes through what is not done.
func (w *weighing) through() error {
	for {
		i := slices.IndexFunc(w.kept.Things, w.open)
		if i < 0 {
			return nil
		}
		stop, err := w.one(i)
		if stop || err != nil {
			return err
		}
	}
}

// open reports whether a thing is still to be asked about.
func (w *weighing) open(x Thing) bool { return !w.done[x.Spot] && x.Shared == "" }

// asked is the question about a thing.
func (w *weighing) asked(i int) string {
	x := &w.kept.Things[i]
	var b strings.Builder
	left := 0
	for _, x := range w.kept.Things {
		if w.open(x) {
			left++
		}
	}
	fmt.Fprintf(&b, "%d to go. ", left)
	if x.Where != "" {
		b.WriteString(x.Where + ": ")
	}
	b.WriteString(x.Name)
	if x.Count > 1 {
		fmt.Fprintf(&b, ", %d of them", x.Count)
	}
	each := ""
	if x.Count > 1 {
		each = " each"
	}
	switch {
	case !x.Known:
		b.WriteString(", never weighed.")
	case x.IsWeighed:
		fmt.Fprintf(&b, ", %s%s on %s.", x.Text, each, x.Weighed)
	default:
		fmt.Fprintf(&b, ", %s%s.", x.Text, each)
	}
	if x.Wet {
		b.WriteString(" With its water.")
	} else if x.WaterMG > 0 {
		b.WriteString(" Without its water.")
	}
	b.WriteString(" In " + w.unit)
	if x.Count > 1 {
		b.WriteString(", of one")
	}
	if w.tare > 0 {
		b.WriteString(", less " + words.Mass(w.tare))
	}
	return b.String() + ":"
}

// one asks about one thing and does what is answered.
func (w *weighing) one(i int) (stop bool, err error) {
	x := w.kept.Things[i]
	typed, err := w.Ask("%s", w.asked(i))
	if err != nil {
		return true, err
	}
	word, rest, _ := strings.Cut(strings.ToLower(typed), " ")
	switch {
	case word == "q" || word == "quit":
		return true, nil
	case typed == "" || word == "s" || word == "skip":
		w.done[x.Spot] = true
		w.skipped++
	case word == "?" || word == "help":
		for _, l := range strings.Split(weighHelp, "\n") {
			w.Say("%s", l)
		}
	case word == "u" || word == "undo":
		spot, err := w.back()
		if spot != "" {
			delete(w.done, spot)
		}
		return err != nil, err
	case word == "gone":
		if x.Place == "" {
			w.Say("A pack or a pouch is taken out of the kit by hand.")
			return false, nil
		}
		ok, err := w.write("that "+x.Name+" is gone", x.Spot, func() { w.gone-- }, Order{Do: Gone, Spot: x.Spot})
		if ok {
			w.gone++
			w.Say("Taken out: %s.", x.Name)
		}
		return err != nil, err
	case typed == "+" || typed == "-":
		return w.more(&x, typed)
	case word == "tare":
		w.setTare(rest)
	case word == "unit":
		if !slices.Contains(Units, rest) {
			w.Say("A scale shows g, kg, oz or lb; type one of them, such as unit oz.")
			return false, nil
		}
		w.unit = rest
	case word == "whole":
		w.whole(&x, rest)
	case word == "new":
		return w.add(&x, typed)
	default:
		return w.read(&x, typed)
	}
	return false, nil
}

// read takes a reading.
func (w *weighing) read(x *Thing, typed string) (stop bool, err error) {
	r, err := parseReading(typed, w.unit, x, w.tare)
	if err != nil {
		w.Say("%s. Type what the scale shows, such as 86 or 3.1 oz; ? shows more.", strings.TrimSuffix(err.Error(), "."))
		return false, nil
	}
	if odd := doubtful(x, &r); odd != "" {
		again, err := w.Ask("%s. Type it once more to keep it, or the right figure:", odd)
		if err != nil {
			return true, err
		}
		if again == "" {
			return false, nil
		}
		r2, err := parseReading(again, w.unit, x, w.tare)
		if err != nil {
			w.Say("%s. Nothing is kept.", strings.TrimSuffix(err.Error(), "."))
			return false, nil
		}
		if r2.mg != r.mg && doubtful(x, &r2) != "" {
			w.Say("That is another figure again; nothing is kept.")
			return false, nil
		}
		r = r2
	}
	ok, err := w.write(fmt.Sprintf("%s, %s", x.Name, r.text), x.Spot, func() { w.readings-- }, r.order(x))
	w.done[x.Spot] = true // what cannot be written is told, and asked no second time
	if ok {
		w.readings++
		w.Say("Kept: %s, %s.", x.Name, r.text)
	}
	return err != nil, err
}

// more counts one more of a thing, or one less.
func (w *weighing) more(x *Thing, sign string) (stop bool, err error) {
	n := x.Count + 1
	if sign == "-" {
		n = x.Count - 1
	}
	switch {
	case x.Place == "":
		w.Say("There is one of it.")
		return false, nil
	case n < 1:
		w.Say("It is the last one; type gone where it is there no longer.")
		return false, nil
	}
	ok, err := w.write(fmt.Sprintf("%d of %s", n, x.Name), x.Spot, func() {}, Order{Do: SetCount, Spot: x.Spot, Count: n})
	if ok {
		w.Say("Kept: %d of %s.", n, x.Name)
	}
	return err != nil, err
}

func (w *weighing) setTare(text string) {
	if text == "" || text == "0" || text == "off" {
		w.tare = 0
		w.Say("Nothing is taken off.")
		return
	}
	r, err := parseReading(text, w.unit, &Thing{Count: 1}, 0)
	if err != nil {
		w.Say("%s. Type the tare as a mass, such as tare 120, or tare off.", strings.TrimSuffix(err.Error(), "."))
		return
	}
	w.tare = r.mg
	w.Say("%s is taken off each reading; tare off ends it.", words.Mass(r.mg))
}

// whole compares what lies together with the sum of its parts.
func (w *weighing) whole(x *Thing, text string) {
	r, err := parseReading(text, w.unit, &Thing{Count: 1}, w.tare)
	if err != nil {
		w.Say("%s. Type what all of it weighs together, such as whole 1250.", strings.TrimSuffix(err.Error(), "."))
		return
	}
	sum, unknown := int64(0), 0
	for i := range w.kept.Things {
		if y := &w.kept.Things[i]; y.Part == x.Part {
			sum += y.All()
			if !y.Known {
				unknown++
			}
		}
	}
	text = fmt.Sprintf("Its parts are %s", words.Mass(sum))
	if unknown > 0 {
		text += fmt.Sprintf(" without %s that nobody weighed", words.Count(unknown, "thing"))
	}
	switch d := r.mg - sum; {
	case d > 0:
		text += fmt.Sprintf("; the scale shows %s more", words.Mass(d))
	case d < 0:
		text += fmt.Sprintf("; the scale shows %s less", words.Mass(-d))
	default:
		text += ", as the scale shows"
	}
	w.Say("%s. Nothing is written of it.", text)
}

// add writes a thing that was not in the kit.
func (w *weighing) add(x *Thing, typed string) (stop bool, err error) {
	f := addition.FindStringSubmatch(typed)
	place := x.Place
	if place == "" { // an empty pack or a pouch: what lies in its first compartment
		if i := slices.IndexFunc(w.kept.Things, func(y Thing) bool { return y.Place != "" && strings.HasPrefix(y.Spot, x.Spot+"/") }); i >= 0 {
			place = w.kept.Things[i].Place
		}
	}
	if f == nil || f[1] == "" || place == "" {
		w.Say("Type the name and what it weighs, such as new head torch 86, at a thing that lies beside it.")
		return false, nil
	}
	o := Order{Do: Add, Spot: place, Text: f[1]}
	if f[2] != "" {
		r, err := parseReading(f[2], w.unit, &Thing{Count: 1}, w.tare)
		if err != nil {
			w.Say("%s. Nothing is written.", strings.TrimSuffix(err.Error(), "."))
			return false, nil
		}
		o.Mass = r.text
	}
	was := map[string]bool{}
	for i := range w.kept.Things {
		was[w.kept.Things[i].Spot] = true
	}
	ok, err := w.write("the new "+f[1], "", func() {}, o)
	if ok {
		for i := range w.kept.Things {
			if y := &w.kept.Things[i]; !was[y.Spot] {
				w.done[y.Spot] = y.Known
				w.Say("Written: %s, in %s. What it is for is still to be recorded: kitmuster check names it.", f[1], y.Where)
			}
		}
	}
	return err != nil, err
}

// top is the pack or the person that a thing is with.
func top(x *Thing) string {
	k := strings.SplitN(x.Spot, "/", 3)
	return strings.Join(k[:min(2, len(k))], "/")
}

// sum tells what came of it.
func (w *weighing) sum() {
	said := []string{keptSay(w.readings, "reading")}
	if w.skipped > 0 {
		said = append(said, fmt.Sprintf("%d left as they were", w.skipped))
	}
	if w.gone > 0 {
		said = append(said, fmt.Sprintf("%d taken out", w.gone))
	}
	left := 0
	now, names, order := map[string]int64{}, map[string]string{}, []string{}
	for i := range w.kept.Things {
		x := &w.kept.Things[i]
		if w.open(*x) {
			left++
		}
		k := top(x)
		if _, ok := now[k]; !ok && strings.HasPrefix(k, "packs/") {
			order = append(order, k)
			names[k] = strings.TrimSuffix(x.Name, ", empty")
		}
		now[k] += x.All()
	}
	if left > 0 {
		said = append(said, fmt.Sprintf("%d still to weigh", left))
	}
	w.Say("%s.", strings.Join(said, ", "))
	for _, k := range order {
		if is, was := words.Mass(now[k]), words.Mass(w.first[k]); is != was {
			w.Say("%s: %s, was %s.", names[k], is, was)
		}
	}
	w.saysDays()
	w.Say("Next: kitmuster check %s", w.Path)
}
