package load

import (
	"cmp"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"cuelang.org/go/cue"

	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// A fault ends with what to write instead. That is what was written, in the form that the schema takes, where it can be told; else an
// example of the place. A test holds every example of every place against the schema and the reader.

// measured is a quantity: an example, the unit that a bare number most likely has, and its reader.
type measured struct {
	example, unit string
	read          func(string) error
}

func reads[T any](parse func(string) (T, error)) func(string) error {
	return func(s string) error { _, err := parse(s); return err }
}

var (
	aMass    = reads(unit.ParseMass)
	aVolume  = reads(unit.ParseVolume)
	aLength  = reads(unit.ParseLength)
	aWarmth  = reads(unit.ParseTemperature)
	anEnergy = reads(unit.ParseEnergy)
	aTime    = reads(unit.ParseDuration)
	aShare   = reads(unit.ParseShare)
	aDay     = reads(unit.ParseDate)
)

// measures are the quantities of the schema by field, or by definition and field where a field of the name elsewhere is another one.
var measures = map[string]measured{
	"mass": {"850 g", "g", aMass}, "#Pack.mass": {"1.2 kg", "kg", aMass}, "#Fuel.mass": {"100 g", "g", aMass}, "bodyMass": {"68 kg", "kg", aMass}, "#Animal.bodyMass": {"24 kg", "kg", aMass},
	"payload": {"450 kg", "kg", aMass}, "budget": {"2 kg", "kg", aMass}, "net": {"90 g", "g", aMass}, "load": {"9 kg", "kg", aMass}, "forMass": {"18 kg", "kg", aMass},
	"sodium": {"600 mg", "mg", aMass}, "salt": {"1.5 g", "g", aMass}, "protein": {"12 g", "g", aMass},
	"capacity": {"1 L", "L", aVolume}, "#Cells.capacity": {"2500 mAh", "mAh", reads(unit.ParseCharge)}, "water": {"1 L", "L", aVolume}, "litres": {"20 L", "L", aVolume}, "perHour": {"30 L", "L", aVolume},
	"cookWater": {"0.3 L", "L", aVolume}, "waterPerDay": {"1 L", "L", aVolume},
	"distance": {"6 km", "km", aLength}, "climb": {"120 m", "m", aLength}, "descent": {"80 m", "m", aLength}, "altitude": {"420 m", "m", aLength}, "after": {"3 km", "km", aLength}, "range": {"600 km", "km", aLength}, "height": {"172 cm", "cm", aLength},
	"day": {"31 °C", "°C", aWarmth}, "night": {"18 °C", "°C", aWarmth}, "comfort": {"3 °C", "°C", aWarmth}, "from": {"15 °C", "°C", aWarmth}, "to": {"30 °C", "°C", aWarmth},
	"energy": {"450 kcal", "kcal", anEnergy}, "#Cells.energy": {"37 Wh", "Wh", anEnergy}, "energyPerDay": {"900 kcal", "kcal", anEnergy},
	"age": {"42 y", "y", aTime}, "#Animal.age": {"4 y", "y", aTime}, "duration": {"72 h", "h", aTime}, "warning": {"30 min", "min", aTime}, "daylight": {"9 h 30 min", "h", aTime}, "runTime": {"30 h", "h", aTime},
	"hoursPerDay": {"8 h", "h", aTime}, "cookTime": {"8 min", "min", aTime}, "wait": {"30 min", "min", aTime}, "coldLife": {"28 d", "d", aTime}, "openedLife": {"6 months", "months", aTime},
	"share": {"12 %", "%", aShare}, "humidity": {"60 %", "%", aShare}, "wind": {"20 km/h", "km/h", reads(unit.ParseSpeed)}, "power": {"40 W", "W", reads(unit.ParsePower)}, "pace": {"15 min/km", "min/km", reads(unit.ParsePace)},
	"start": {"18:00", "", reads(unit.ParseClock)}, "latitude": {"47.5 N", "N", reads(unit.ParseLatitude)},
	"born": {"1984-05-02", "", aDay}, "due": {"2027-06-01", "", aDay}, "weighed": {"2026-10-01", "", aDay}, "audited": {"2026-10-01", "", aDay}, "opened": {"2026-10-01", "", aDay}, "outOfCold": {"2026-10-01", "", aDay},
	"sizeSeen": {"2026-10-01", "", aDay}, "on": {"2026-05-02", "", aDay}, "expires": {"2027-05-01", "", aDay}, "rotate": {"2027-05-01", "", aDay}, "until": {"2027-03-01", "", aDay}, "date": {"2027-01-15", "", aDay},
	"#OwnLimit.value": {"12 %", "", nil}, "#StandardLimit.value": {"12 kg", "", nil}, "least": {"1 kg", "", nil}, "most": {"20 kg", "", nil},
}

// measureOf is the quantity that a field of a definition holds; ok is false where it holds none.
func measureOf(def, field string) (m measured, ok bool) {
	if m, ok = measures[def+"."+field]; ok {
		return m, true
	}
	if m, ok = measures[field]; !ok || texts[def+"."+field] != "" {
		return measured{}, false
	}
	return m, true
}

// entryNames are the names that examples give to entries, by the group.
var entryNames = map[string]string{
	"people": "ana", "animals": "rex", "packs": "rust", "vehicles": "van", "compartments": "main", "items": "lamp", "onBody": "lamp", "atHome": "lamp", "medications": "thyroid", "allergies": "nuts", "licences": "radio",
	"needs": "rest", "consumables": "strips", "devices": "cpap", "seasons": "hot", "legs": "one", "waterSources": "brook", "meetingPoints": "school", "contacts": "aunt",
	"shakedowns": "may", "waivers": "fire", "limits": "load", "load": "adult_cap", "off": "practice/shakedown",
}

// insides show what stands in a group, by its definition.
var insides = map[string]string{
	"#Person": `{age: "42 y", bodyMass: "68 kg"}`, "#Animal": `{species: "dog", bodyMass: "24 kg"}`, "#Pack": `{carrier: "ana", mass: "1.2 kg"}`, "#Vehicle": `{kind: "car", payload: "450 kg", seats: 5}`,
	"#Compartment": `{reach: "walking"}`, "#Item": `{mass: "80 g", can: light: "headlamp"}`, "#Can": `signal: "whistle"`, "#Food": `energy: "450 kcal"`, "#Container": `capacity: "1 L"`, "#Treat": `method: "filter"`,
	"#Fuel": `{kind: "gas-mix", mass: "100 g"}`, "#Stove": `burns: ["gas-mix"]`, "#Cells": `{size: "AA", chemistry: "alkaline"}`, "#Device": `{size: "AAA", cells: 3}`, "#Insulation": `{kind: "quilt", comfort: "3 °C"}`,
	"#Radio": `receives: ["fm"]`, "#FirstAid": `plasters: 10`, "#Medicine": `{person: "ana", of: "thyroid", doses: 14}`, "#CareSupply": `{person: "ana", of: "strips", uses: 50}`, "#Cash": `{amount: "200 in notes", smallNotes: true}`,
	"#Medication": `perDay: 1`, "#Allergy": `severe: true`, "#Licence": `service: "amateur"`, "#Consumable": `perDay: 4`, "#PoweredDevice": `{power: "40 W", hoursPerDay: "8 h"}`, "#HearingAids": `size: "312"`,
	"#Pregnancy": `due: "2027-06-01"`, "#CapOverride": `{share: "12 %", reason: "a bad knee"}`, "#Keep": `{from: "15 °C", to: "30 °C"}`,
	"#Plan": `duration: "72 h"`, "#Season": `{day: "31 °C", night: "18 °C", daylight: "15 h"}`, "#Leg": `{order: 1, distance: "3 km"}`, "#WaterSource": `quality: "clear"`, "#MeetingPoint": `where: "school yard"`,
	"#Contact": `{name: "Aunt Rosa", phone: "555 0100"}`, "#Home": `altitude: "12 m"`, "#Destination": `{kind: "house", water: true}`,
	"#Record": `weighed: "2026-10-01"`, "#Shakedown": `{on: "2026-05-02", distance: "6 km"}`, "#Waiver": `{rule: "fire/two-means", reason: "matches are ordered", until: "2027-03-01"}`,
	"#OwnLimit":      `{value: "12 %", reason: "we are slow"}`,
	"#StandardLimit": `{value: "12 kg", unit: "mg", stricter: "lower", meaning: "most mass of one pack", source: "common practice, no source"}`,
}

// texts show free words and the keys of other entries, by field, or by definition and field.
var texts = map[string]string{
	"household": "Alder", "name": "red lamp", "#Standard.name": "harrow-valley", "#Person.name": "Ana", "#Animal.name": "Rex", "#Contact.name": "Aunt Rosa", "#Pack.name": "red rucksack", "#Compartment.name": "lid pocket", "#Vehicle.name": "the van", "#Medication.name": "angina spray", "#Consumable.name": "test strips", "#PoweredDevice.name": "breathing mask", "reason": "matches are ordered", "#CapOverride.reason": "a bad knee", "carrier": "ana", "carriedBy": "ben", "helpedBy": "ben", "owner": "ana", "person": "ana", "fits": "ana",
	"of": "thyroid", "#CareSupply.of": "strips", "medication": "thyroid", "vehicle": "van", "by": "van", "season": "hot", "leg": "one", "for": "ana", "#Compartment.for": "rain", "#Cells.for": "cpap", "chip": "276 0981 0000 0000", "dose": "5 ml", "amount": "200 in notes",
	"note": "her pen is in the lid", "rest": "sits down often", "where": "school yard", "phone": "555 0100", "size": "116", "colour": "red", "rule": "fire/two-means", "spot": "packs/rust", "agreed": "Ana",
	"title": "Harrow valley", "description": "For a way out on foot along the river.", "meaning": "most mass of one pack", "source": "common practice, no source", "version": "1.2.0", "needs": "1.0.0", "practice/shakedown": "we walk together",
	"#Allergy.to": "food", // a word, where to elsewhere is a temperature
}

// listed are the entries that lists of free words show, by field.
var listed = map[string]string{"with": "ben", "nursing": "ben", "colours": "red", "allergens": "nuts", "lists": "ready-basic", "values": "ferro-rod"}

// choiceShape is the form of a text that is one of a few words.
var choiceShape = regexp.MustCompile(`^\^\(([^()]*)\)\$$`)

// choices are the words that a text may be; nil where it is free.
func (s *shape) choices() []string {
	if s == nil || s.match == nil {
		return nil
	}
	if m := choiceShape.FindStringSubmatch(s.match.String()); m != nil {
		return strings.Split(m[1], "|")
	}
	return nil
}

// group reports whether the family chooses the names in it.
func (s *shape) group() bool { return s != nil && s.names != nil }

// at is the shape of a path, and of what holds it; nil where the schema has no such place.
func (s *shape) at(keys []string) (here, around *shape) {
	for _, k := range keys {
		around = s
		switch {
		case s == nil:
			return nil, nil
		case s.kind == cue.ListKind:
			s = s.elem
		case s.fields[k] != nil:
			s = s.fields[k]
		default:
			s = s.elem // whatever the name, which may be the mistake
		}
	}
	return s, around
}

// example is a value that fits a place: the field of a name, in a definition.
func (s *shape) example(def, field string) string {
	if s == nil {
		return ""
	}
	switch s.kind {
	case cue.BoolKind:
		return strconv.FormatBool(field != "carries" && field != "nappies" || def == "#Animal")
	case cue.IntKind, cue.NumberKind:
		return "1"
	case cue.ListKind:
		if c := s.elem.choices(); c != nil {
			return "[" + strconv.Quote(c[0]) + "]"
		}
		return "[" + strconv.Quote(cmp.Or(listed[field], "red")) + "]"
	case cue.StructKind:
		switch {
		case insides[s.def] != "":
			return insides[s.def]
		case s.group():
			name := cmp.Or(entryNames[field], "one")
			return strconvKey(name) + ": " + s.elem.example(s.def, name)
		}
		return "{}"
	}
	if c := s.choices(); c != nil {
		return strconv.Quote(c[0])
	}
	if m, ok := measureOf(def, field); ok {
		return strconv.Quote(m.example)
	}
	return strconv.Quote(cmp.Or(texts[def+"."+field], texts[field], "red lamp"))
}

// strconvKey writes a name as a file has it: in quotes where it is no plain word.
func strconvKey(name string) string {
	if plainWord.MatchString(name) {
		return name
	}
	return strconv.Quote(name)
}

var plainWord = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_]*$`)

// said is a value as it was written.
type said struct {
	kind  cue.Kind
	text  string // of a text without its quotes, of a number or a truth as written
	elems []said
	names []string // of a group with fields
}

func saidOf(v cue.Value) (out said) {
	out.kind = v.IncompleteKind()
	switch out.kind {
	case cue.StringKind:
		out.text, _ = v.String()
	case cue.BytesKind: // in single quotes
		b, _ := v.Bytes()
		out.kind, out.text = cue.StringKind, string(b)
	case cue.IntKind, cue.FloatKind, cue.NumberKind, cue.BoolKind:
		b, _ := v.MarshalJSON()
		out.text = string(b)
	case cue.ListKind:
		for it, err := v.List(); err == nil && it.Next(); {
			out.elems = append(out.elems, saidOf(it.Value()))
		}
	case cue.StructKind:
		for it, err := v.Fields(); err == nil && it.Next(); {
			out.names = append(out.names, it.Selector().Unquoted())
		}
	}
	return out
}

// plain reports whether it is a text, a number or a truth.
func (w said) plain() bool {
	return w.kind&(cue.StringKind|cue.NumberKind|cue.BoolKind) == w.kind && w.kind != 0
}

// unitsOf are the units of a bare number under a word that names one, such as days: 3.
var unitsOf = map[string]string{
	"days": "days", "hours": "h", "years": "y", "kg": "kg", "g": "g", "grams": "g", "km": "km", "kcal": "kcal", "calories": "kcal", "calorie": "kcal", "kj": "kJ", "litre": "L", "liters": "L", "litres": "L",
}

// withUnit is a bare number with the unit that the word before it names.
func withUnit(word, text string) string {
	if u := unitsOf[folded(word)]; u != "" && number.MatchString(text) {
		return text + " " + u
	}
	return text
}

// truths are the words that people write for true and false.
var truths = map[string]bool{
	"true": true, "yes": true, "y": true, "x": true, "1": true, "on": true, "ja": true, "oui": true, "si": true, "sí": true, "✓": true, "✔": true,
	"false": false, "no": false, "n": false, "0": false, "off": false, "nein": false, "non": false,
}

// leading is the whole number at the start of a text.
var leading = regexp.MustCompile(`^\s*(\d{1,9})(?:[.,]0*)?(?:\s|[a-zA-Z×*%]|$)`)

// as rewrites a value in the form that a place takes; false where that cannot be told.
func (w said) as(s *shape, def, field string) (text string, ok bool) {
	if s == nil {
		return "", false
	}
	switch s.kind {
	case cue.BoolKind:
		b, ok := truths[strings.ToLower(strings.TrimSpace(w.text))]
		return strconv.FormatBool(b), ok && w.plain()
	case cue.IntKind:
		return w.whole(s)
	case cue.NumberKind:
		if w.kind&cue.NumberKind == w.kind && w.kind != 0 {
			return w.text, true
		}
		m := leading.FindStringSubmatch(w.text)
		if m == nil || w.kind != cue.StringKind {
			return "", false
		}
		return m[1], true
	case cue.ListKind:
		return w.list(s, field)
	case cue.StructKind:
		if s.group() {
			return w.entries(s, field)
		}
		if s.def == "#Contact" && w.kind == cue.StringKind && len(strings.FieldsFunc(w.text, noDigit)) > 0 {
			return fmt.Sprintf("{name: %q, phone: %q}", field, w.text), true
		}
		return w.inside(s)
	}
	switch {
	case w.kind == cue.ListKind && len(w.elems) == 1:
		return w.elems[0].as(s, def, field)
	case !w.plain() || w.kind == cue.BoolKind:
		return "", false
	case s.choices() != nil:
		c := nearChoice(field, w.text, s.choices())
		return strconv.Quote(c), c != ""
	}
	m, ok := measureOf(def, field)
	if !ok || m.read == nil {
		return strconv.Quote(w.text), s.match == nil && strings.TrimSpace(w.text) != "" && !(ok && w.kind&cue.NumberKind == w.kind) // no unit can be told
	}
	if n, err := strconv.Atoi(w.text); err == nil && def == "#Plan" && field == "duration" && n < mostDays {
		m.unit = "days"
	}
	text = m.meant(w.text, field)
	return strconv.Quote(text), text != ""
}

// mostDays is from which number on a plan's duration without a unit is read as hours. Our own figure.
const mostDays = 12

// meant is a quantity as it must be written, "" where that cannot be told.
func (m measured) meant(text, field string) string {
	text = strings.TrimSpace(text)
	tries := []string{text}
	if number.MatchString(text) {
		switch {
		case field == "start":
			if h, err := strconv.Atoi(text); err == nil && (h == 0 || h > 12 && h < 24) { // else morning or evening
				tries = []string{fmt.Sprintf("%02d:00", h)}
			}
		case m.unit == "" && len(text) == 8:
			tries = []string{text[:4] + "-" + text[4:6] + "-" + text[6:]}
		case field == "height" && len(text) > 1 && text[1] == '.': // nobody is a few centimetres tall
			tries = []string{text + " m"}
		case m.unit != "":
			tries = []string{text + " " + m.unit}
		}
	}
	for _, t := range tries {
		if m.read(t) == nil {
			return t
		}
	}
	return ""
}

var number = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// numerals are numbers in words.
var numerals = map[string]string{
	"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11", "twelve": "12", "dozen": "12", "a dozen": "12", "a pair": "2", "pair": "2",
}

func (w said) whole(s *shape) (string, bool) {
	text := w.text
	if w.kind == cue.StringKind {
		m := leading.FindStringSubmatch(text)
		switch n := numerals[strings.ToLower(strings.TrimSpace(text))]; {
		case m != nil:
			text = m[1]
		case n != "":
			text = n
		default:
			return "", false
		}
	}
	f, err := strconv.ParseFloat(text, 64)
	if err != nil || f < 0 || f > 1e9 {
		return "", false
	}
	n := int64(f)
	if f > float64(n) {
		n++
	}
	if s.min != nil {
		n = max(n, *s.min)
	}
	if s.max != nil {
		n = min(n, *s.max)
	}
	return strconv.FormatInt(n, 10), true
}

func (w said) list(s *shape, field string) (string, bool) {
	elems := w.elems
	switch {
	case w.kind == cue.StringKind:
		for _, t := range strings.FieldsFunc(w.text, func(r rune) bool { return r == ',' || r == ';' }) {
			elems = append(elems, said{kind: cue.StringKind, text: strings.TrimSpace(t)})
		}
	case w.kind == cue.StructKind:
		for _, n := range w.names {
			elems = append(elems, said{kind: cue.StringKind, text: n})
		}
	}
	var out []string
	for _, e := range elems {
		t, ok := e.as(s.elem, "", field)
		if !ok {
			return "", false
		}
		out = append(out, t)
	}
	return "[" + strings.Join(out, ", ") + "]", len(out) > 0
}

// several are the parts of what was written as a list; a text alone is one.
func (w said) several() []said {
	if w.kind == cue.StringKind {
		return []said{w}
	}
	return w.elems
}

// entries names the entries that stand there without names.
func (w said) entries(s *shape, field string) (string, bool) {
	var out []string
	for _, e := range w.several() {
		name := PlainName(e.text)
		if s.elem.def == "#Waiver" {
			name = "waiver"
		}
		if e.kind != cue.StringKind || name == "" || len(name) > 30 || s.names != nil && !s.names.MatchString(name) || insides[s.elem.def] == "" {
			return "", false
		}
		inside := insides[s.elem.def]
		if s.elem.def == "#Item" {
			inside = "{}" // its mass is not told
		}
		out = append(out, strconvKey(name)+": "+inside)
	}
	switch len(out) {
	case 0:
		return "", false
	case 1:
		return out[0], true
	}
	return "{" + strings.Join(out, ", ") + "}", true
}

// mains are the fields that a bare value in the place of a group is most likely of, the likelier first.
var mains = map[string][]string{
	"#Person": {"age", "bodyMass"}, "#Pack": {"mass", "carrier"}, "#Item": {"mass", "water", "count"}, "#Food": {"energy"}, "#Container": {"capacity"}, "#Treat": {"method", "litres"}, "#Fuel": {"kind", "mass"},
	"#Stove": {"burns"}, "#Cells": {"size"}, "#Device": {"size", "runTime"}, "#Insulation": {"kind", "comfort"}, "#Radio": {"receives"}, "#Cash": {"amount"}, "#Medication": {"perDay"}, "#Consumable": {"perDay"},
	"#HearingAids": {"size"}, "#Pregnancy": {"due"}, "#CapOverride": {"share"}, "#MeetingPoint": {"where"}, "#Destination": {"kind"}, "#Leg": {"distance"}, "#WaterSource": {"quality", "litres"}, "#Contact": {"name"},
	"#Home": {"floor", "altitude"}, "#Record": {"weighed"}, "#Shakedown": {"on"}, "#OwnLimit": {"value"}, "#Vehicle": {"kind", "payload"}, "#Plan": {"duration"}, "#Licence": {"service"}, "#Compartment": {"reach"}, "#Animal": {"species", "bodyMass"},
	"#StandardLimit": {"value"}, "#Waiver": {"rule"}, "#Medicine": {"of"}, "#CareSupply": {"of"}, "#PoweredDevice": {"power"},
}

// pieces is a number of things.
var pieces = regexp.MustCompile(`(?i)^\s*[0-9]+\s*(?:x|×|pcs|pieces)?\s*$`)

// batteries are some of one size, as people write them: 2xAA, 4 x AAA, 3 AA.
var batteries = regexp.MustCompile(`^\s*([1-9][0-9]?)\s*[x×*]?\s*([A-Z0-9]+)\s*$`)

// inside puts a bare value into the field of a group that it is of, with the fields beside it that the group needs.
func (w said) inside(s *shape) (string, bool) {
	if s.def == "#Can" {
		return w.can(s)
	}
	if s.def == "#Item" && w.kind == cue.BoolKind {
		return "{}", w.text == "true"
	}
	if s.def == "#Item" && w.kind == cue.StringKind && anEnergy(w.text) == nil {
		return fmt.Sprintf("{food: energy: %q}", w.text), true
	}
	if m := batteries.FindStringSubmatch(w.text); m != nil && w.kind == cue.StringKind && (s.def == "#Device" || s.def == "#Cells") && slices.Contains(s.fields["size"].choices(), m[2]) {
		if s.def == "#Device" {
			return fmt.Sprintf("{size: %q, cells: %s}", m[2], m[1]), true
		}
		return fmt.Sprintf(`{size: %q, chemistry: "alkaline", cells: %s}`, m[2], m[1]), true
	}
	fields := mains[s.def]
	if s.def == "#Item" && w.kind == cue.IntKind {
		fields = []string{"count"}
	}
	for _, f := range fields {
		v := w
		if s.def == "#Item" && f == "count" && w.kind == cue.StringKind && !pieces.MatchString(w.text) {
			continue // a number of something else
		}
		if w.kind == cue.ListKind && s.fields[f].kind != cue.ListKind {
			continue
		}
		text, ok := v.as(s.fields[f], s.def, f)
		if !ok || w.kind == cue.StructKind {
			continue
		}
		out := []string{f + ": " + text}
		for _, r := range s.required {
			if r != f {
				out = append(out, r+": "+s.fields[r].example(s.def, r))
			}
		}
		switch {
		case s.def == "#Person" && f == "bodyMass", s.def == "#Animal" && f == "species", s.def == "#Pack" && f == "mass":
			return "", false // the half of what it takes
		case len(out) > 1, s.def == "#Item", s.def == "#Person", s.def == "#Pack":
			return "{" + strings.Join(out, ", ") + "}", true
		}
		return out[0], true
	}
	return "", false
}

// can writes, under can, things that are called by their means, such as signal: "whistle", or by what they do.
func (w said) can(s *shape) (string, bool) {
	var out []string
	for _, e := range w.several() {
		text := canOf(e.text)
		if f := s.fields[PlainName(e.text)]; text == "" && f != nil {
			text = PlainName(e.text) + ": " + f.example("#Can", PlainName(e.text))
		}
		if text == "" {
			return "", false
		}
		out = append(out, text)
	}
	switch len(out) {
	case 0:
		return "", false
	case 1:
		return out[0], true
	}
	return "{" + strings.Join(out, ", ") + "}", true
}

// canOf is how to write, under can, a thing that is called by its means, such as signal: "whistle"; "" where no means is called so.
func canOf(word string) string {
	means := strings.ReplaceAll(PlainName(word), "_", "-")
	can := kitShapes().done["#Can"]
	for _, name := range slices.Sorted(maps.Keys(can.fields)) {
		if slices.Contains(can.fields[name].choices(), means) {
			return name + ": " + strconv.Quote(means)
		}
	}
	return ""
}

// wordsFor are words that people write for one of a field's, with hyphens between their parts. Words of two fields of one name stand together:
// only one that the field takes is offered.
var wordsFor = map[string]map[string]string{
	"sex":     {"f": "female", "w": "female", "woman": "female", "girl": "female", "weiblich": "female", "m": "male", "man": "male", "boy": "male", "männlich": "male"},
	"fitness": {"ok": "fair", "average": "fair", "normal": "fair", "bad": "poor", "sick": "unwell", "ill": "unwell", "excellent": "good", "fit": "good"},
	"reach":   {"outside": "walking", "outer": "walking", "top": "walking", "quick": "walking", "easy": "walking", "inside": "halted", "inner": "halted", "resting": "halted", "stopped": "halted", "bottom": "halted", "camp": "halted"},
	"quality": {"clean": "clear", "muddy": "turbid", "cloudy": "turbid", "dirty": "foul", "drinking": "tap", "potable": "tap"},
	"method":  {"boiling": "boil", "tablets": "chlorine", "uv-light": "uv", "lamp": "uv"},
	"kind": {
		"gas": "gas-mix", "alcohol": "ethanol", "spirit": "ethanol", "esbit": "hexamine", "petrol": "kerosene",
		"school": "shelter", "gym": "shelter", "hall": "shelter", "church": "shelter", "refuge": "shelter", "relatives": "house", "family": "house", "friends": "house", "aunt": "house", "grandparents": "house", "home": "house", "hotel": "house", "tent": "camp", "campsite": "camp", "campground": "camp",
		"suv": "car", "truck": "van", "bike": "bicycle", "stroller": "pushchair", "pram": "pushchair", "wagon": "cart", "trailer": "cart",
		"mat": "pad", "fleece": "jacket", "jumper": "jacket", "sweater": "jacket", "coat": "jacket", "pants": "trousers", "beanie": "hat", "thermals": "base-layer",
	},
	"species": {
		"puppy": "dog", "kitten": "cat", "pony": "horse",
		"rabbit": "other", "guinea-pig": "other", "hamster": "other", "bird": "other", "parrot": "other", "chicken": "other", "ferret": "other", "goat": "other", "sheep": "other", "tortoise": "other",
	},
	"hears":     {"poorly": "badly", "none": "no"},
	"sees":      {"poorly": "badly", "none": "no"},
	"hazards":   {"flooding": "flood", "floods": "flood", "earthquake": "quake", "wildfire": "fire", "bushfire": "fire", "hurricane": "storm", "tornado": "storm", "cyclone": "storm", "snow": "frost", "ice": "frost", "cold": "frost", "blizzard": "frost", "heatwave": "heat", "heat-wave": "heat", "chemical": "industrial", "eruption": "volcano"},
	"settings":  {"forest": "woodland", "woods": "woodland", "city": "town", "urban": "town", "suburb": "town", "beach": "coast", "sea": "coast"},
	"documents": {"passport": "identity", "passports": "identity", "id": "identity", "ids": "identity", "id-card": "identity", "birth-certificate": "identity", "licence": "identity", "license": "identity", "policy": "insurance", "vaccination": "medical", "vaccinations": "medical", "phone-numbers": "contacts", "maps": "map"},
	"kept":      {"trunk": "car", "boot": "car", "garage": "shed", "hall": "door", "entrance": "door", "bedroom": "home"},
	"light":     {"flashlight": "torch", "head-torch": "headlamp", "headlight": "headlamp", "lamp": "lantern", "glow-stick": "light-stick", "glowstick": "light-stick", "candles": "candle"},
	"fire":      {"flint": "ferro-rod", "firesteel": "ferro-rod", "fire-steel": "ferro-rod", "match": "matches", "magnifier": "lens"},
	"shelter":   {"tarpaulin": "tarp", "space-blanket": "emergency-blanket", "rescue-blanket": "emergency-blanket", "foil-blanket": "emergency-blanket"},
	"warmth":    {"blanket": "wool-blanket", "duvet": "quilt", "jacket": "clothing", "fleece": "clothing", "jumper": "clothing", "sweater": "clothing", "space-blanket": "emergency-blanket"},
	"ground":    {"mat": "foam-pad", "sleeping-mat": "foam-pad", "mattress": "air-pad"},
	"rain":      {"raincoat": "jacket", "rain-jacket": "jacket", "coat": "jacket", "anorak": "jacket", "brolly": "umbrella"},
	"sun":       {"cap": "hat", "sun-cream": "sunscreen", "suncream": "sunscreen", "glasses": "sunglasses"},
	"repair":    {"duct-tape": "tape", "rope": "cord", "paracord": "cord", "string": "cord", "sewing-kit": "needle", "thread": "needle"},
	"hygiene":   {"diapers": "nappies", "diaper": "nappies", "tampons": "menstrual", "pads": "menstrual", "sanitizer": "hand-gel", "sanitiser": "hand-gel", "toothpaste": "toothbrush", "bug-spray": "insect-repellent", "trash-bag": "rubbish-bag", "trash-bags": "rubbish-bag", "baby-wipes": "wipes", "wet-wipes": "wipes"},
	"lead":      {"leash": "lead", "crate": "carrier", "cage": "carrier"},
	"comfort":   {"teddy": "toy", "doll": "toy", "cuddly-toy": "toy", "cards": "game"},
	"cook":      {"camping-stove": "gas-stove", "burner": "gas-stove"},
	"cut":       {"pocket-knife": "knife", "penknife": "knife", "multitool": "multi-tool", "leatherman": "multi-tool"},
	"navigate":  {"maps": "map", "satnav": "gps"},
	"footwear":  {"sneakers": "shoes", "trainers": "shoes", "hiking-boots": "boots", "wellies": "rubber-boots", "wellingtons": "rubber-boots"},
	"breathe":   {"mask": "ffp2", "kn95": "ffp2"},
	"identify":  {"dog-tag": "name-tag", "bracelet": "id-bracelet", "passport": "id-card"},
	"size":      {"usb-c": "usb", "usbc": "usb", "power-bank": "usb", "powerbank": "usb", "double-a": "AA", "triple-a": "AAA", "mignon": "AA", "micro": "AAA"},
	"chemistry": {"li-ion": "lithium-ion", "lipo": "lithium-ion", "rechargeable": "nimh"},
}

// nearChoice is the one word of a few that another stands for; "" where there is none, or more than one.
func nearChoice(field, word string, choices []string) string {
	lower := strings.NewReplacer(" ", "-", "_", "-").Replace(strings.ToLower(strings.TrimSpace(word)))
	if w := wordsFor[field][lower]; w != "" && slices.Contains(choices, w) {
		return w
	}
	for _, c := range choices {
		if strings.EqualFold(c, lower) {
			return c
		}
	}
	if w := words.Near(word, choices); w != "" {
		return w
	}
	if in := holding(lower, choices); len(in) == 1 {
		return in[0]
	}
	return ""
}

// holding are the words of a few that hold another as a part between hyphens.
func holding(word string, choices []string) (out []string) {
	for _, c := range choices {
		if slices.Contains(strings.Split(c, "-"), word) {
			out = append(out, c)
		}
	}
	return out
}
