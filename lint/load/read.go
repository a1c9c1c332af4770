package load

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// Bounds on single values, all our own figures: beyond them a value is a slip of the pen.
const (
	maxCount    = 10_000
	maxPerson   = unit.Mass(400_000_000_000)   // 400 kg
	maxAnimal   = unit.Mass(1_000_000_000_000) // 1000 kg
	maxDay      = unit.Duration(24 * 60 * 60)
	maxPlan     = 30 * maxDay
	maxLeg      = unit.Length(100_000_000_000) // 100 km: nobody walks that in one go
	maxSeats    = 60
	maxFloor    = 200
	maxStairs   = 10_000
	maxWater    = unit.Volume(1_000_000_000) // 1000 L, of one entry
	maxCold     = unit.Temperature(-60_000)  // of the air
	maxHeat     = unit.Temperature(60_000)
	maxAltitude = unit.Length(10_000_000_000) // 10 km: above every summit
	maxWait     = 7 * maxDay                  // that treated water stands before it is drunk
	maxDoses    = unit.Count(100_000)         // 100 doses a day
	fastest     = unit.Duration(240)          // for one kilometre: over a whole leg and with a pack, faster than 15 km/h is no walk
	fastestRide = unit.Duration(28)           // about 130 km/h
	leastPower  = unit.Power(1000)            // one watt, of a device whose power cannot be read
	leastPerDay = unit.Count(1000)            // one dose or piece, of what is taken every day in a number that cannot be read
	// Bodies to plan with of animals whose mass cannot be read: heavy ones, so that no mistake makes their need small. Common practice, no source.
	heavyDog, heavyCat, heavyHorse, heavyOther = unit.Mass(40_000_000_000), unit.Mass(6_000_000_000), unit.Mass(600_000_000_000), unit.Mass(40_000_000_000)
	defaultWorth                               = 3
	maxKey                                     = 200   // bytes of the name of an entry
	maxText                                    = 2_000 // bytes of a text
)

// reader turns an evaluated household into a kit and keeps what is wrong with it.
type reader struct {
	places *places
	faults []Fault
	ridden map[string]bool // the vehicles that people go in or on, by key; false for the others
	// someone is the key of the first person, for examples.
	someone string
	// seasons and legs are the names of all that are written, readable or not.
	seasons, legs []string
	// masses are how many are written, customary how many of them in ounces or pounds.
	masses, customary int
}

func (r *reader) fault(rule, spot, format string, args ...any) {
	r.add(rule, spot, r.places.locate(spot), fmt.Sprintf(format, args...))
}

func (r *reader) add(rule, spot string, p source.Place, message string) {
	f := Fault{Rule: rule, Spot: spot, Message: message, At: p.At}
	if p.Used.Known() {
		f.Also = append(f.Also, Remark{"used here", p.Used})
	}
	r.faults = append(r.faults, f)
}

// take says of the last fault that what stands there is judged all the same, in the sense that the fault offers.
func (r *reader) take() { r.faults[len(r.faults)-1].taken = true }

// sure says of the last fault what text shall stand in the place of the one that is written, where it is written out as it stands.
func (r *reader) sure(was, now string) {
	f := &r.faults[len(r.faults)-1]
	at := r.places.locate(f.Spot).At
	if t := r.places.files.textOf(at.File); t != nil && at.End.Offset <= len(t.Bytes) && string(t.Bytes[at.Start.Offset:at.End.Offset]) == strconv.Quote(was) {
		f.sure = editOf(t, at.Start.Offset, at.End.Offset, strconv.Quote(now))
	}
}

// entry is a struct of the family's with its spot.
type entry struct {
	node
	r    *reader
	spot string
}

func (e entry) at(name string) string { return e.spot + "/" + name }

func (e entry) sub(name string) (entry, bool) {
	n, ok := e.get(name)
	return entry{n, e.r, e.under(name)}, ok
}

func (e entry) under(name string) string {
	if e.spot == "" {
		return name
	}
	return e.at(name)
}

// each goes through a group of named entries in the order of their names.
func (e entry) each(name string, do func(key string, e entry)) {
	if g, ok := e.sub(name); ok {
		g.entries(do)
	}
}

// entries goes through the named entries of a group in the order of their names.
func (e entry) entries(do func(key string, e entry)) {
	slices.SortFunc(e.fields, func(a, b field) int { return cmp.Compare(a.name, b.name) })
	for _, f := range e.fields {
		do(f.name, entry{f.node, e.r, e.spot + "/" + source.Spot(f.name)})
	}
}

func (e entry) text(name string) string {
	n, _ := e.get(name)
	return n.text
}

// name is what people shall read; a blank one is none.
func (e entry) name(key string) string { return cmp.Or(strings.TrimSpace(e.text("name")), key) }

func (e entry) has(name string) bool {
	_, ok := e.get(name)
	return ok
}

// ref is the key of another entry; a blank one would quietly lead nowhere.
func (e entry) ref(name string) string {
	if n, ok := e.get(name); ok && strings.TrimSpace(n.text) == "" {
		e.r.fault("input/reference", e.at(name), "%s is blank; write the key of an entry, or take the field out", name)
	}
	return e.text(name)
}

// telling is a text that must say something: not blank, and no mark that only holds its place.
func (e entry) telling(name string) string {
	text := e.text(name)
	if bare := strings.TrimSpace(text); e.has(name) && (slices.Contains(notKnown, strings.ToLower(bare)) || !strings.ContainsFunc(bare, func(r rune) bool { return unicode.In(r, unicode.L, unicode.N) })) {
		here, around := kitShape().at(source.Keys(e.under(name)))
		out := ""
		if !slices.Contains(around.required, name) {
			out = fmt.Sprintf(", or take %s out", name)
		}
		e.r.fault("input/missing", e.at(name), "%s: %q says nothing; write it in your own words, such as %s%s", name, text, line(name, here.example(around.def, name)), out)
	}
	return text
}

func (e entry) flag(name string) bool {
	v, ok := e.get(name)
	if !ok {
		return false
	}
	b, _ := v.value.Bool()
	return b
}

// carries is true where it is not written.
func (e entry) flagOr(name string, otherwise bool) bool {
	if _, ok := e.get(name); !ok {
		return otherwise
	}
	return e.flag(name)
}

func (e entry) whole(name string, otherwise, low, high int64) int64 {
	v, ok := e.get(name)
	if !ok {
		return otherwise
	}
	n, err := v.value.Int64()
	if err != nil || n < low || n > high {
		written, _ := v.value.MarshalJSON()
		e.r.fault("input/value", e.at(name), "%s must be a whole number from %d to %d, not %s", name, low, high, written)
		return otherwise
	}
	return n
}

func (e entry) list(name string) (out []string) {
	l, _ := e.get(name)
	for _, n := range l.elems {
		out = append(out, n.text)
	}
	return out
}

// count reads a bare number of pieces.
func (e entry) count(name string) unit.Count {
	v, ok := e.get(name)
	if !ok {
		return 0
	}
	b, err := v.value.MarshalJSON()
	if err != nil {
		e.r.fault("input/value", e.at(name), "%s is not a number", name)
		return 0
	}
	c, err := unit.ParseCount(string(b))
	if err != nil {
		e.quantityFault(name, string(b), err)
	}
	return c
}

// quantity reads an optional quantity of a kind; a fault leaves it unset.
func quantity[T any](e entry, name string, parse func(string) (T, error)) kit.Opt[T] {
	v, ok := e.get(name)
	if !ok {
		return kit.Opt[T]{}
	}
	q, err := parse(v.text)
	if err != nil {
		e.quantityFault(name, v.text, err)
		e.sureUnit(name, v.text, err, func(s string) bool { _, err := parse(s); return err == nil })
		if needs[name] {
			for _, better := range e.betterThan(name, v.text, err) {
				if q, err := parse(better); err == nil {
					e.r.take()
					return kit.Some(q)
				}
			}
		}
		return kit.Opt[T]{}
	}
	if _, mass := any(q).(unit.Mass); mass {
		e.r.masses++
		if unit.Customary(v.text) {
			e.r.customary++
		}
	}
	return kit.Some(q)
}

// quantityFault points at the wrong part of the text where the text is written out as it stands.
func (e entry) quantityFault(name, text string, err error) {
	p := e.r.places.locate(e.at(name))
	var ue *unit.Error
	if errors.As(err, &ue) {
		if t := e.r.places.files.textOf(p.At.File); t != nil {
			from := p.At.Start.Offset
			if from < len(t.Bytes) && t.Bytes[from] == '"' {
				from++
			}
			if to := from + len(text); to <= len(t.Bytes) && string(t.Bytes[from:to]) == text {
				p.At = t.Span(from+ue.Offset, from+ue.Offset+ue.Len)
			}
		}
	}
	why := err.Error()
	switch bare := strings.TrimSpace(text); {
	case slices.Contains(notKnown, strings.ToLower(bare)):
		why = fmt.Sprintf("%q is no quantity; leave %s out where it is not known", bare, name)
		if m := e.measure(name); m.unit == "" {
			why = fmt.Sprintf("%q is no date; leave %s out where there is none", bare, name)
		}
	case ue != nil && ue.Bare && !strings.Contains(bare, " "):
		if better := e.measure(name).meant(bare, name); better != "" {
			why = fmt.Sprintf("no unit after %s: write %s, such as %q", bare, ue.Units, better)
		}
	}
	e.r.add("input/quantity", e.at(name), p, name+": "+why)
}

// notKnown is what people write for what they do not know.
var notKnown = []string{"", "?", "??", "unknown", "n/a", "na", "none", "-", "–", "tbd", "todo", "x", "unsure", "not known", "never", "n.a.", "…", "..."}

// needs are the quantities that the household's needs are made of. One that cannot be read is judged as the fault says to write it, a
// bare number in its usual unit: left out, it would make the need smaller. What the household has is not: it might be less than that.
var needs = map[string]bool{
	"bodyMass": true, "age": true, "born": true, "duration": true, "distance": true, "climb": true, "descent": true, "day": true, "night": true, "daylight": true, "wind": true, "humidity": true,
	"power": true, "hoursPerDay": true, "energyPerDay": true, "waterPerDay": true,
}

// betterThan are the texts that may be meant by one that cannot be read: a bare number with its unit, and what the fault says to write,
// where its figures and its unit are those that are written. Others are only an example.
func (e entry) betterThan(name, text string, err error) (out []string) {
	var ue *unit.Error
	if !errors.As(err, &ue) {
		return nil
	}
	if ue.Bare {
		out = append(out, strings.TrimSpace(text)+" "+e.measure(name).unit)
	}
	figures := strings.FieldsFunc(text, noDigit)
	for _, o := range ue.Offers {
		fs := strings.FieldsFunc(o, noDigit)
		same := strings.Contains(strings.Join(figures, ""), strings.Join(fs, "")) || !slices.ContainsFunc(fs, func(f string) bool { return !slices.Contains(figures, f) })
		its := strings.TrimLeft(o, "-0123456789. ")
		if len(fs) > 0 && same && o != text && (strings.Contains(text, its) || its == ue.Near) {
			out = append(out, o)
		}
	}
	return out
}

// thousands may stand in a number with a comma.
var thousands = regexp.MustCompile(`,[0-9]{3}`)

// sureUnit offers the one text that may be meant by a quantity that cannot be read, where its figures are those that are written.
func (e entry) sureUnit(name, text string, err error, reads func(string) bool) {
	var ue *unit.Error
	if errors.As(err, &ue) && ue.Bare || thousands.MatchString(text) {
		return
	}
	words := func(s string) int {
		return len(strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) }))
	}
	var may []string
	for _, better := range e.betterThan(name, text, err) {
		if reads(better) && slices.Equal(strings.FieldsFunc(better, noDigit), strings.FieldsFunc(text, noDigit)) && words(better) == words(text) && !slices.Contains(may, better) {
			may = append(may, better)
		}
	}
	if len(may) == 1 {
		e.r.sure(text, may[0])
	}
}

func noDigit(r rune) bool { return r < '0' || r > '9' }

// measure is what a field of the entry measures.
func (e entry) measure(name string) measured {
	_, around := kitShape().at(source.Keys(e.under(name)))
	if around == nil {
		return measured{}
	}
	m, _ := measureOf(around.def, name)
	return m
}

func (e entry) mass(name string) kit.Opt[unit.Mass]     { return quantity(e, name, unit.ParseMass) }
func (e entry) volume(name string) kit.Opt[unit.Volume] { return quantity(e, name, unit.ParseVolume) }
func (e entry) length(name string) kit.Opt[unit.Length] { return quantity(e, name, unit.ParseLength) }
func (e entry) date(name string) kit.Opt[unit.Date]     { return quantity(e, name, unit.ParseDate) }
func (e entry) energy(name string) kit.Opt[unit.Energy] { return quantity(e, name, unit.ParseEnergy) }
func (e entry) share(name string) kit.Opt[unit.Share]   { return quantity(e, name, unit.ParseShare) }
func (e entry) duration(name string) kit.Opt[unit.Duration] {
	return quantity(e, name, unit.ParseDuration)
}
func (e entry) temperature(name string) kit.Opt[unit.Temperature] {
	return quantity(e, name, unit.ParseTemperature)
}

// bounded refuses values that only a slip of the pen can explain, and leaves them unset.
func bounded[T ~int64](e entry, name string, q kit.Opt[T], low, high T, show func(T) string) kit.Opt[T] {
	if q.Set && (q.Value < low || q.Value > high) {
		e.r.fault("input/value", e.at(name), "%s %s is not believable: it must lie from %s to %s; check the number and its unit", name, show(q.Value), show(low), show(high))
		return kit.Opt[T]{}
	}
	return q
}

// weight reads what something weighs. Nothing weighs nothing: a 0 stands where the family does not know, and would count as light.
func (e entry) weight(name string) kit.Opt[unit.Mass] {
	m := e.mass(name)
	if m.Set && m.Value == 0 {
		e.r.fault("input/value", e.at(name), "%s is no mass: weigh it, or take %s out where it is not known; sums then say that they are at least so much", e.text(name), name)
		return kit.Opt[unit.Mass]{}
	}
	return bounded(e, name, m, 0, unit.MaxItemMass, unit.Mass.String)
}

// tooLong refuses names and texts that nobody would read: every finding about them would hold them again.
func (r *reader) tooLong(n node, spot, name string) {
	long := func(at, what string, has, most int) {
		// The spot that is told is the one around a long name, which is short.
		r.add("input/value", spot, r.places.locate(at), fmt.Sprintf("%s is %d bytes long; at most %d are read: shorten it", what, has, most))
	}
	if len(n.text) > maxText {
		long(spot, name, len(n.text), maxText)
	}
	for _, e := range n.elems {
		r.tooLong(e, spot, name)
	}
	for _, f := range n.fields {
		at := strings.TrimPrefix(spot+"/"+source.Spot(f.name), "/")
		if len(f.name) > maxKey {
			long(at, "a name in "+name, len(f.name), maxKey)
			continue
		}
		r.tooLong(f.node, at, f.name)
	}
}

func (r *reader) household(root node) *kit.Household {
	if r.tooLong(root, "", "the household"); len(r.faults) > 0 {
		return nil
	}
	e := entry{root, r, ""}
	h := &kit.Household{Name: e.text("household")}
	e.each("people", func(key string, e entry) { h.People = append(h.People, r.person(key, e)) })
	if len(h.People) > 0 {
		r.someone = h.People[0].Key
	}
	e.each("animals", func(key string, e entry) { h.Animals = append(h.Animals, r.animal(key, e)) })
	e.each("packs", func(key string, e entry) { h.Packs = append(h.Packs, r.pack(key, e)) })
	h.AtHome = r.items(e, "atHome")
	r.ridden = map[string]bool{}
	e.each("vehicles", func(key string, e entry) {
		v := r.vehicle(key, e)
		r.ridden[key] = v.Ridden()
		h.Vehicles = append(h.Vehicles, v)
	})
	if p, ok := e.sub("plan"); ok {
		h.Plan = r.plan(p)
	}
	e.each("limits", func(area string, e entry) {
		e.entries(func(name string, e entry) {
			h.Limits = append(h.Limits, kit.OwnLimit{Spot: e.spot, Area: area, Name: name, Value: e.text("value"), Values: e.list("values"), ValuesSet: e.has("values"), Reason: e.text("reason")})
		})
	})
	if p, ok := e.sub("record"); ok {
		h.Record = r.record(p)
	}
	h.Units = unit.Metric
	if r.customary*2 > r.masses {
		h.Units = unit.US
	}
	if strings.TrimSpace(h.Name) == "" {
		r.fault("input/missing", "household", "the household has no name; write one, it stands in every finding")
	}
	if len(h.People) == 0 {
		r.fault("input/no-people", "people", `nobody is in this household; write at least one person, such as people: ana: {age: "42 y", bodyMass: "68 kg"}`)
	}
	r.references(h)
	if len(h.People) == 0 {
		return nil // nothing can be said of nobody
	}
	return h
}

func (r *reader) person(key string, e entry) kit.Person {
	body := bounded(e, "bodyMass", e.mass("bodyMass"), 300_000_000, maxPerson, unit.Mass.String) // 300 g: the smallest newborns
	p := kit.Person{
		Key: key, Spot: e.spot, Name: e.name(key),
		Born: e.date("born"), Age: e.duration("age"), Sex: e.text("sex"),
		Height: e.length("height"), Fitness: e.text("fitness"), Carries: e.flagOr("carries", true),
		Cap: e.cap(), Glasses: e.flag("glasses"), Diets: e.list("diets"), Breastfed: e.flag("breastfed") || e.text("fed") == "breast", Fed: e.text("fed"), Nursing: e.list("nursing"), Acclimatised: e.flag("acclimatised"), CarriedBy: e.ref("carriedBy"), With: e.list("with"), NoNappies: !e.flagOr("nappies", true),
		Conditions: e.list("conditions"), MustNot: e.list("mustNot"), Moves: e.text("moves"), HelpedBy: e.ref("helpedBy"), Hears: e.text("hears"), Sees: e.text("sees"),
		BodyMass: body.Value, BodyMassUnknown: !body.Set,
	}
	e.aged(true)
	if e.flag("breastfed") && e.has("fed") && p.Fed != "breast" {
		r.fault("input/conflict", e.at("fed"), "breastfed: true says that %s is fed at the breast, and fed says %q; keep the one that is true", p.Name, p.Fed)
	}
	if g, ok := e.sub("pregnant"); ok {
		p.Pregnant = kit.Some(kit.Pregnancy{Due: g.date("due")})
	}
	p.Medications = r.medications(e)
	e.each("consumables", func(key string, e entry) {
		c := kit.Consumable{Key: key, Spot: e.spot, Name: e.name(key), PerDay: e.count("perDay")}
		if c.PerDay > maxDoses || c.PerDay == 0 {
			r.fault("input/value", e.at("perDay"), "perDay of %s must be more than 0 and at most %s; check the number", c.Name, maxDoses)
		}
		p.Consumables = append(p.Consumables, c)
	})
	e.each("devices", func(key string, e entry) {
		p.Devices = append(p.Devices, kit.PoweredDevice{
			Key: key, Spot: e.spot, Name: e.name(key),
			Power:       bounded(e, "power", quantity(e, "power", unit.ParsePower), 1, unit.MaxPower, unit.Power.String).Value,
			HoursPerDay: bounded(e, "hoursPerDay", e.duration("hoursPerDay"), 60, maxDay, unit.Duration.String).Value,
		})
	})
	if aids, ok := e.sub("hearingAids"); ok {
		p.HearingAids = kit.Some(kit.HearingAids{Spot: aids.spot, Count: aids.whole("count", 2, 1, 2), Size: aids.text("size")})
	}
	e.each("allergies", func(key string, e entry) {
		p.Allergies = append(p.Allergies, kit.Allergy{Key: key, Spot: e.spot, Severe: e.flag("severe"), To: e.text("to"), Medication: e.ref("medication"), Note: e.text("note")})
	})
	e.each("licences", func(key string, e entry) {
		p.Licences = append(p.Licences, kit.Licence{Key: key, Spot: e.spot, Service: e.text("service"), Until: e.date("until")})
	})
	if needs, ok := e.sub("needs"); ok {
		for _, f := range needs.fields {
			p.Needs = append(p.Needs, kit.Need{Key: f.name, Spot: needs.at(f.name), Text: needs.text(f.name)})
		}
		slices.SortFunc(p.Needs, func(a, b kit.Need) int { return cmp.Compare(a.Key, b.Key) })
	}
	p.OnBody = r.items(e, "onBody")
	return p
}

// medications reads what a person or an animal takes.
func (r *reader) medications(e entry) (out []kit.Medication) {
	e.each("medications", func(key string, e entry) {
		m := kit.Medication{
			Key: key, Spot: e.spot, Name: e.name(key), PerDay: e.count("perDay"), AsNeeded: e.flag("asNeeded"), ColdChain: e.flag("coldChain"), ColdLife: e.duration("coldLife"),
			Pressurised: e.flag("pressurised"), Original: e.flag("original"),
		}
		if e.has("rescue") {
			m.Rescue = kit.Some(e.flag("rescue"))
		}
		if keep, ok := e.sub("keep"); ok {
			m.KeepFrom, m.KeepTo = keep.temperature("from"), keep.temperature("to")
			bounded(keep, "from", m.KeepFrom, maxCold, maxHeat, unit.Temperature.String)
			bounded(keep, "to", m.KeepTo, maxCold, maxHeat, unit.Temperature.String)
			if m.KeepFrom.Set && m.KeepTo.Set && m.KeepFrom.Value >= m.KeepTo.Value {
				r.fault("input/value", keep.at("from"), "%s is not below %s; write the coldest as from and the hottest as to", m.KeepFrom.Value, m.KeepTo.Value)
			}
		}
		if m.PerDay > maxDoses {
			r.fault("input/value", e.at("perDay"), "%s doses a day are not believable: they must be at most %s; check the number", m.PerDay, maxDoses)
		}
		if _, ok := e.get("perDay"); ok == m.AsNeeded || ok && m.PerDay == 0 {
			r.fault("input/missing", e.spot, "write how much %s is taken: either perDay: 2 (doses a day, above zero) or asNeeded: true", m.Name)
		}
		out = append(out, m)
	})
	return out
}

func (e entry) aged(must bool) {
	_, born := e.get("born")
	_, age := e.get("age")
	if born && age {
		e.r.fault("input/conflict", e.at("age"), "both born and age are written; keep one")
	} else if must && !born && !age {
		e.r.fault("input/missing", e.spot, `how old is %s? Write age: "42 y" or born: "1984-05-02"`, lastKey(e.spot))
	}
}

func lastKey(spot string) string {
	keys := source.Keys(spot)
	if len(keys) == 0 {
		return ""
	}
	return keys[len(keys)-1]
}

func (e entry) cap() kit.Opt[kit.CapOverride] {
	c, ok := e.sub("cap")
	if !ok {
		return kit.Opt[kit.CapOverride]{}
	}
	share := bounded(c, "share", c.share("share"), 0, 1_000_000, unit.Share.String)
	if strings.TrimSpace(c.text("reason")) == "" {
		e.r.fault("input/missing", c.spot, "why does the cap differ? Write the reason")
	}
	if !share.Set {
		return kit.Opt[kit.CapOverride]{}
	}
	return kit.Some(kit.CapOverride{Share: share.Value, Reason: c.text("reason")})
}

func (r *reader) animal(key string, e entry) kit.Animal {
	e.aged(false)
	body := bounded(e, "bodyMass", e.mass("bodyMass"), 10_000_000, maxAnimal, unit.Mass.String)
	if !body.Set {
		body.Value = heavyOther
		if heavy, ok := map[string]unit.Mass{"dog": heavyDog, "cat": heavyCat, "horse": heavyHorse}[e.text("species")]; ok {
			body.Value = heavy
		}
	}
	return kit.Animal{
		Key: key, Spot: e.spot, Name: e.name(key), Species: e.text("species"),
		BodyMass: body.Value,
		Born:     e.date("born"), Age: e.duration("age"), Neutered: e.flag("neutered"), Fitness: e.text("fitness"),
		Carries: e.flag("carries"), CarriedBy: e.text("carriedBy"), Cap: e.cap(), Energy: e.energy("energyPerDay"), Water: e.volume("waterPerDay"),
		Medications: r.medications(e), Chip: e.text("chip"),
	}
}

func (r *reader) vehicle(key string, e entry) kit.Vehicle {
	v := kit.Vehicle{
		Key: key, Spot: e.spot, Name: e.name(key), Kind: e.text("kind"), Payload: e.mass("payload"), Seats: e.whole("seats", 0, 1, maxSeats),
		Range: e.length("range"),
	}
	if e.has("childSeats") {
		v.ChildSeats = kit.Some(e.whole("childSeats", 0, 0, maxSeats))
	}
	if e.has("takesChair") {
		v.TakesChair = kit.Some(e.flag("takesChair"))
	}
	if n := v.ChildSeats.Value; v.Seats > 0 && n > v.Seats {
		r.fault("input/value", e.at("childSeats"), "%d child seats do not fit on %d seats; a child seat takes one of them", n, v.Seats)
	}
	return v
}

func (r *reader) pack(key string, e entry) kit.Pack {
	mass := e.weight("mass")
	p := kit.Pack{
		Key: key, Spot: e.spot, Name: e.name(key), Carrier: e.ref("carrier"), Vehicle: e.ref("vehicle"), Kept: e.text("kept"),
		Mass: mass.Value, MassUnknown: !mass.Set,
		MassWeighed: e.date("weighed"), Estimated: e.flag("estimated"), Colours: e.list("colours"), Style: e.text("style"),
		Frame: e.flag("frame"), HipBelt: e.flag("hipBelt"),
	}
	if !e.has("carrier") && !e.has("vehicle") {
		r.fault("input/missing", e.spot, `who carries %s? Write carrier: and the key of a person or an animal, such as carrier: %q; a pack that never leaves a vehicle has vehicle: and its key instead`, p.Name, cmp.Or(r.someone, "ana"))
	}
	e.each("compartments", func(key string, e entry) {
		c := kit.Compartment{Key: key, Spot: e.spot, Name: e.name(key), Reach: kinds.Reach(e.text("reach")), Layer: e.whole("layer", 0, 1, maxCount), For: e.text("for"), Budget: e.mass("budget"), QuickShed: e.flag("quickShed"), Waterproof: e.flag("waterproof"), Cooled: e.flag("cooled")}
		c.Mass = e.weight("mass")
		c.Items = r.items(e, "items")
		p.Compartments = append(p.Compartments, c)
	})
	return p
}

// items reads a group of items. An item is large: a list grown by appending would copy each several times.
func (r *reader) items(e entry, name string) (out []kit.Item) {
	g, _ := e.get(name)
	out = slices.Grow(out, len(g.fields))
	e.each(name, func(key string, e entry) { out = append(out, r.item(key, e)) })
	return out
}

func (r *reader) item(key string, e entry) kit.Item {
	it := kit.Item{Key: key, Spot: e.spot, Name: key, Count: 1, Uncounted: true, Worth: defaultWorth, MassUnknown: true}
	e.readItem(&it)
	r.believable(&it, e)
	return it
}

// believable refuses what only a slip of the pen can explain. It also keeps every
// sum of a household far inside 64 bits.
func (r *reader) believable(it *kit.Item, e entry) {
	if c := it.Container.Value; it.Container.Set && !c.CapacityUnknown && it.Water.Value > c.Capacity {
		r.fault("input/value", e.at("water"), "%s of water in %s is more than it holds, %s; check both", it.Water.Value, it.Name, c.Capacity)
		it.Water.Value = c.Capacity // no more can be in it
		r.take()
	}
	if it.MassIncludesWater && !it.MassUnknown && it.Water.Set && unit.Mass(it.Water.Value)*1000 > it.Mass { // 1 µl of water is 1000 µg
		r.fault("input/value", e.at("mass"), "%s was weighed with its water, but %s is less than %s of water alone; write the mass with the water in it, or take massIncludesWater out", it.Name, it.Mass, it.Water.Value)
		it.Mass, it.MassUnknown = 0, true
	}
	if all, ok := unit.MulInt(it.Mass, it.Count); !ok || all > unit.MaxMass {
		r.fault("input/value", it.Spot, "%d times %s of %s is more than %s, which nobody carries; check count and mass", it.Count, it.Mass, it.Name, unit.MaxMass)
		it.Mass, it.MassUnknown = 0, true
	}
	if all, ok := unit.MulInt(it.Water.Value, it.Count); !ok || all > maxWater {
		r.fault("input/value", it.Spot, "%d times %s of water is more than %s, which nobody carries; check count and water", it.Count, it.Water.Value, maxWater)
		it.Water = kit.Opt[unit.Volume]{}
	}
	if c := it.Cells.Value; it.Cells.Set && c.Cells*it.Count > maxCount {
		r.fault("input/value", c.Spot, "%d times %d cells are more than %d, which nobody carries; check both counts", it.Count, c.Cells, maxCount)
		it.Cells = kit.Opt[kit.Cells]{}
	}
	within := func(spot, what string, part unit.Mass) bool {
		if part > it.Mass && !it.MassUnknown {
			r.fault("input/value", spot, "%s of %s in %s is more than %s itself, %s; check the number and its unit", part, what, it.Name, it.Name, it.Mass)
			return false
		}
		return true
	}
	if f := &it.Food.Value; it.Food.Set {
		f.Sodium.Set = within(f.Spot+"/sodium", "sodium", f.Sodium.Value) && f.Sodium.Set
		f.Protein.Set = within(f.Spot+"/protein", "protein", f.Protein.Value) && f.Protein.Set
		f.NetMass.Set = within(f.Spot+"/net", "food", f.NetMass.Value) && f.NetMass.Set
		for _, part := range []*kit.Opt[unit.Mass]{&f.Sodium, &f.Protein, &f.NetMass} {
			if !part.Set {
				part.Value = 0
			}
		}
	}
	if f := &it.Fuel.Value; it.Fuel.Set && !within(f.Spot+"/mass", "fuel", f.Mass) {
		f.Mass, f.MassUnknown = 0, true
	}
}

// readItem reads an item's fields in one pass: most items have few of the many they may have.
func (e entry) readItem(it *kit.Item) {
	for _, f := range e.fields {
		e.itself(it, f)
		e.days(it, f.name)
		e.provides(it, f.name)
		e.equips(it, f.name)
	}
}

// itself reads a field of what the item is, whose, and how it is packed.
func (e entry) itself(it *kit.Item, f field) {
	switch f.name {
	case "name":
		it.Name = e.name(it.Key)
	case "count":
		it.Count, it.Uncounted = e.whole("count", 1, 0, maxCount), false
		if f.node.value.Exists() {
			if n, err := f.node.value.Int64(); err == nil && n < 0 {
				it.Count = 0 // not one more than there is
			}
		}
	case "mass":
		mass := e.weight("mass")
		it.Mass, it.MassUnknown = mass.Value, !mass.Set
	case "massIncludesWater":
		it.MassIncludesWater = e.flag("massIncludesWater")
	case "estimated":
		it.Estimated = e.flag("estimated")
	case "owner":
		it.Owner = e.ref("owner")
	case "size":
		it.Size = e.text("size")
	case "fits":
		it.Fits = e.ref("fits")
	case "place":
		it.Place = e.text("place")
	case "shared":
		it.Shared = e.flag("shared")
	case "colour":
		it.Colour = e.text("colour")
	case "visibility":
		it.Visibility = e.text("visibility")
	case "quickShed":
		it.QuickShed = e.flag("quickShed")
	case "waterproof":
		it.Waterproof = e.flag("waterproof")
	case "lastMinute":
		it.LastMinute = e.flag("lastMinute")
	case "noisy":
		it.Noisy = e.flag("noisy")
	case "pinned":
		it.Pinned = e.flag("pinned")
	case "covers":
		it.Covers = e.list("covers")
	case "worth":
		it.Worth = e.whole("worth", defaultWorth, 1, 5)
	}
}

// days reads a field of when something was, or falls due.
func (e entry) days(it *kit.Item, name string) {
	switch name {
	case "weighed":
		it.Weighed = e.date("weighed")
	case "sizeSeen":
		it.SizeSeen = e.date("sizeSeen")
	case "expires":
		it.Expires = e.date("expires")
	case "opened":
		it.Opened = e.date("opened")
	case "openedLife":
		it.OpenedLife = e.duration("openedLife")
	case "rotate":
		it.Rotate = e.date("rotate")
	case "outOfCold":
		it.OutOfCold = e.date("outOfCold")
	}
}

// provides reads a field of what the item does, feeds, holds, treats or heats.
func (e entry) provides(it *kit.Item, name string) {
	switch name {
	case "can":
		can, _ := e.sub("can")
		for _, c := range can.fields {
			it.Can = append(it.Can, kit.Capability{Spot: can.at(c.name), Name: kinds.Capability(c.name), Means: can.text(c.name)})
		}
		slices.SortFunc(it.Can, func(a, b kit.Capability) int { return cmp.Compare(a.Name, b.Name) })
	case "food":
		food, _ := e.sub("food")
		it.Food = kit.Some(food.food())
	case "water":
		it.Water = e.volume("water")
	case "container":
		c, _ := e.sub("container")
		capacity := c.volume("capacity")
		it.Container = kit.Some(kit.Container{Spot: c.spot, Capacity: capacity.Value, CapacityUnknown: !capacity.Set || capacity.Value == 0, FireSafe: c.flag("fireSafe"), Rigid: c.flag("rigid")})
		if capacity.Set && capacity.Value == 0 {
			e.r.fault("input/value", c.at("capacity"), "%s is no capacity; write what it holds when full, or take capacity out where it is not known", c.text("capacity"))
		}
	case "treat":
		t, _ := e.sub("treat")
		it.Treat = kit.Some(kit.Treat{Spot: t.spot, Method: t.text("method"), Litres: t.volume("litres"), Wait: t.duration("wait"), PerHour: t.volume("perHour"), Wetted: t.flag("wetted"), MayFreeze: t.flag("mayFreeze")})
		if p := it.Treat.Value.PerHour; p.Set && p.Value == 0 {
			e.r.fault("input/value", t.at("perHour"), `%s in an hour is nothing; write what one of it can treat in an hour, such as "30 L", or take perHour out`, t.text("perHour"))
			it.Treat.Value.PerHour = kit.Opt[unit.Volume]{}
		}
		it.Treat.Value.Wait = bounded(t, "wait", it.Treat.Value.Wait, 0, maxWait, unit.Duration.String)
	case "fuel":
		fu, _ := e.sub("fuel")
		mass := fu.mass("mass")
		it.Fuel = kit.Some(kit.Fuel{Spot: fu.spot, Kind: fu.text("kind"), Mass: mass.Value, MassUnknown: !mass.Set})
	case "stove":
		s, _ := e.sub("stove")
		it.Stove = kit.Some(kit.Stove{Spot: s.spot, Burns: s.list("burns"), Inverts: s.flag("inverts")})
	}
}

// equips reads a field of power, warmth, news, care, or papers.
func (e entry) equips(it *kit.Item, name string) {
	switch name {
	case "cells":
		c, _ := e.sub("cells")
		it.Cells = kit.Some(kit.Cells{Spot: c.spot, Size: c.text("size"), Chemistry: c.text("chemistry"), Cells: c.whole("cells", 1, 1, maxCount), Capacity: quantity(c, "capacity", unit.ParseCharge), Energy: c.energy("energy"), For: c.ref("for")})
	case "device":
		d, _ := e.sub("device")
		it.Device = kit.Some(kit.Device{Spot: d.spot, Size: d.text("size"), Cells: d.whole("cells", 1, 1, maxCount), RunTime: d.duration("runTime"), BuiltIn: d.flag("builtIn"), SelfPowered: d.flag("selfPowered"), Empty: d.flag("empty")})
	case "insulation":
		i, _ := e.sub("insulation")
		it.Insulation = kit.Some(kit.Insulation{Spot: i.spot, Kind: i.text("kind"), Comfort: i.temperature("comfort")})
	case "radio":
		ra, _ := e.sub("radio")
		it.Radio = kit.Some(kit.Radio{Spot: ra.spot, Receives: ra.list("receives"), Service: ra.text("service")})
	case "firstAid":
		fa, _ := e.sub("firstAid")
		for _, c := range fa.fields {
			it.FirstAid = append(it.FirstAid, kit.FirstAid{Spot: fa.at(c.name), Kind: c.name, Count: fa.whole(c.name, 0, 0, maxCount)})
		}
		slices.SortFunc(it.FirstAid, func(a, b kit.FirstAid) int { return cmp.Compare(a.Kind, b.Kind) })
	case "medicine":
		m, _ := e.sub("medicine")
		it.Medicine = kit.Some(kit.Medicine{
			Spot: m.spot, Person: m.ref("person"), Medication: m.ref("of"), Doses: m.count("doses"),
			Repacked: m.flag("repacked"), Dose: strings.TrimSpace(m.text("dose")), ForMass: m.mass("forMass"),
		})
		bounded(m, "forMass", it.Medicine.Value.ForMass, 300_000_000, maxPerson, unit.Mass.String)
	case "care":
		c, _ := e.sub("care")
		it.Care = kit.Some(kit.CareSupply{Spot: c.spot, Person: c.ref("person"), Consumable: c.ref("of"), Uses: c.count("uses")})
	case "documents":
		it.Documents = e.list("documents")
	case "cash":
		c, _ := e.sub("cash")
		it.Cash = kit.Some(kit.Cash{Spot: c.spot, Amount: c.telling("amount"), SmallNotes: c.flag("smallNotes")})
	}
}

func (e entry) food() kit.Food {
	energy := e.energy("energy")
	f := kit.Food{
		Spot: e.spot, Energy: energy.Value, EnergyUnknown: !energy.Set, Sodium: e.mass("sodium"), Protein: e.mass("protein"), NetMass: e.mass("net"),
		CookWater: e.volume("cookWater").Value, CookMinutes: e.duration("cookTime").Value, For: e.ref("for"), Allergens: e.list("allergens"),
		Canned: e.flag("canned"), Suits: e.list("suits"), Formula: e.text("formula"), Harms: e.list("harms"),
	}
	_, f.AllergensSet = e.get("allergens")
	f.Cook = f.CookWater > 0 || f.CookMinutes > 0
	f.CookWritten = e.has("cookWater") || e.has("cookTime")
	if salt := e.mass("salt"); salt.Set {
		if f.Sodium.Set {
			e.r.fault("input/conflict", e.at("salt"), "both sodium and salt are written; keep the one on the label")
		}
		f.Sodium = kit.Some(kit.SodiumOfSalt(salt.Value))
	}
	return f
}

func (r *reader) plan(e entry) kit.Plan {
	d := bounded(e, "duration", e.duration("duration"), 60, maxPlan, unit.Duration.String)
	p := kit.Plan{
		Duration: d.Value, DurationSet: d.Set, Season: e.ref("season"),
		Start: quantity(e, "start", unit.ParseClock), Latitude: quantity(e, "latitude", unit.ParseLatitude),
		Settings: e.list("settings"), Lists: e.list("lists"), LowProfile: e.flag("lowProfile"),
		Altitude: bounded(e, "altitude", e.length("altitude"), 0, maxAltitude, unit.Length.String),
		Hazards:  e.list("hazards"), Shade: e.flag("shade"), Warning: bounded(e, "warning", e.duration("warning"), 0, maxPlan, unit.Duration.String), Ways: e.whole("ways", 0, 0, maxCount),
		WaterSaid: e.has("waterSources"),
	}
	if h, ok := e.sub("home"); ok {
		p.Home = kit.Home{Altitude: bounded(h, "altitude", h.length("altitude"), 0, maxAltitude, unit.Length.String), Lift: h.flag("lift")}
		if h.has("floor") {
			p.Home.Floor = kit.Some(h.whole("floor", 0, -maxFloor, maxFloor))
		}
	}
	if d, ok := e.sub("destination"); ok {
		p.Destination = kit.Some(kit.Destination{Spot: d.spot, Kind: d.text("kind"), Water: d.flag("water"), Food: d.flag("food"), Beds: d.flag("beds")})
	}
	latitude := e.has("latitude")
	e.each("seasons", func(key string, e entry) {
		r.seasons = append(r.seasons, key)
		if s, ok := r.season(key, e, latitude); ok {
			p.Seasons = append(p.Seasons, s)
		}
	})
	distances := map[string]kit.Opt[unit.Length]{}
	e.each("legs", func(key string, e entry) {
		r.legs = append(r.legs, key)
		distances[key] = e.length("distance")
		p.Legs = append(p.Legs, r.leg(key, e, distances[key]))
	})
	r.orders(p.Legs)
	slices.SortStableFunc(p.Legs, func(a, b kit.Leg) int { return cmp.Compare(cmp.Or(a.Order, maxCount+1), cmp.Or(b.Order, maxCount+1)) }) // one whose place cannot be read comes last
	e.each("waterSources", func(key string, e entry) {
		w := kit.WaterSource{Key: key, Spot: e.spot, Litres: e.volume("litres"), Quality: e.text("quality"), Leg: e.ref("leg"), After: e.length("after"), NeedsKey: e.flag("key")}
		if w.Litres.Set && w.Litres.Value == 0 {
			r.fault("input/value", e.at("litres"), "%s is no water; write how much there is, take litres out for a stream, or take the source out", e.text("litres"))
			return
		}
		if w.After.Set && !e.has("leg") {
			r.fault("input/missing", e.at("after"), "%s after the start of which leg? Write leg: and the key of one, or take after out", w.After.Value)
			w.After = kit.Opt[unit.Length]{}
		}
		if d := distances[w.Leg]; d.Set && w.After.Value > d.Value {
			r.fault("input/value", e.at("after"), "%s is beyond the end of leg %s, which is %s long; write how far along that leg the water lies, or name another leg", w.After.Value, w.Leg, d.Value)
			w.After = kit.Opt[unit.Length]{}
		}
		p.WaterSources = append(p.WaterSources, w)
	})
	e.each("meetingPoints", func(key string, e entry) {
		m := kit.MeetingPoint{Key: key, Spot: e.spot, Where: e.telling("where"), SafeFrom: e.list("safeFrom")}
		m.Altitude = bounded(e, "altitude", e.length("altitude"), 0, maxAltitude, unit.Length.String)
		p.MeetingPoints = append(p.MeetingPoints, m)
	})
	e.each("contacts", func(key string, e entry) {
		p.Contacts = append(p.Contacts, kit.Contact{Key: key, Spot: e.spot, Name: cmp.Or(strings.TrimSpace(e.telling("name")), key), Phone: e.telling("phone"), OutOfArea: e.flag("outOfArea")})
	})
	return p
}

// orders refuses two legs at one place of the route: which is walked first would be a guess.
func (r *reader) orders(legs []kit.Leg) {
	byPlace := slices.Clone(legs)
	at := func(l kit.Leg) source.Span { return r.places.locate(l.Spot + "/order").At }
	twice := map[int64]int{}
	for _, l := range legs {
		twice[l.Order]++
	}
	byPlace = slices.DeleteFunc(byPlace, func(l kit.Leg) bool { return l.Order == 0 || twice[l.Order] == 1 }) // 0: refused already
	slices.SortStableFunc(byPlace, func(a, b kit.Leg) int { return source.Compare(at(a), at(b)) })
	first := map[int64]string{}
	for _, l := range byPlace {
		if other, ok := first[l.Order]; ok {
			r.fault("input/conflict", l.Spot+"/order", "leg %s is to be walked as number %d, and so is leg %s; give each leg a number of its own, the first walked 1", l.Key, l.Order, other)
		} else {
			first[l.Order] = l.Key
		}
	}
}

// season reads the weather of a season; latitude tells whether the plan has one written. One without
// its temperatures is none: 0 °C would be a guess.
func (r *reader) season(key string, e entry, latitude bool) (_ kit.Season, ok bool) {
	before := len(r.faults)
	day := bounded(e, "day", e.temperature("day"), maxCold, maxHeat, unit.Temperature.String)
	night := bounded(e, "night", e.temperature("night"), maxCold, maxHeat, unit.Temperature.String)
	daylight := bounded(e, "daylight", e.duration("daylight"), 0, maxDay, unit.Duration.String)
	if !e.has("daylight") && !latitude {
		r.fault("input/missing", e.spot, `how long is a day of %s? Write daylight: "9 h 30 min" here, or latitude: "47.5 N" under plan, and it is worked out`, key)
	}
	if day.Set && night.Set && night.Value > day.Value {
		r.fault("input/value", e.at("night"), "a night of %s is warmer than the day, %s; write the warmer one as day, and check the signs", night.Value, day.Value)
	}
	ok = day.Set && night.Set && !slices.ContainsFunc(r.faults[before:], func(f Fault) bool { return !f.taken })
	humidity := bounded(e, "humidity", e.share("humidity"), 0, 1_000_000, unit.Share.String)
	return kit.Season{
		Key: key, Spot: e.spot,
		Day: day.Value, Night: night.Value,
		Humidity: humidity, Wind: quantity(e, "wind", unit.ParseSpeed),
		Daylight: daylight.Value, DaylightSet: daylight.Set,
		Date: e.date("date"), Until: e.date("until"),
	}, ok
}

// leg reads a walk or a ride. One of a distance that cannot be read or is not believable stays one, of no length that is known: that
// people walk there, or ride, holds all the same. The plan names its legs as unread then, and rules do not go by how far it is.
func (r *reader) leg(key string, e entry, distance kit.Opt[unit.Length]) kit.Leg {
	l := kit.Leg{
		Key: key, Spot: e.spot, Order: e.whole("order", 0, 1, maxCount), Distance: distance.Value,
		Climb: e.length("climb").Value, Descent: e.length("descent").Value, Ground: e.text("ground"), Pace: quantity(e, "pace", unit.ParsePace),
		By: e.ref("by"), Stairs: e.whole("stairs", 0, 0, maxStairs),
	}
	if r.ridden[l.By] {
		l.Pace = bounded(e, "pace", l.Pace, fastestRide, maxDay, unit.Duration.String)
		return l
	}
	if l.Pace.Set && l.Pace.Value < fastest {
		r.fault("input/value", e.at("pace"), `%s is not a walk: with a pack nobody is faster than 15 km/h over a whole leg; check the number and its unit, such as "15 min/km" or "4 km/h"`, e.text("pace"))
		l.Pace = kit.Opt[unit.Duration]{}
	}
	if l.Distance > maxLeg {
		r.fault("input/value", e.at("distance"), "%s is more than %s, which nobody walks in one go; split it into legs, one for each walk, and give each its order", l.Distance, maxLeg)
		l.Distance, distance = 0, kit.Opt[unit.Length]{}
	}
	if up := l.Climb + l.Descent; distance.Set && up > l.Distance {
		at := "climb"
		if l.Descent > l.Climb {
			at = "descent"
		}
		r.fault("input/value", e.at(at), "%s of climb and descent on %s of way is not believable: a way is longer than its height; check the numbers and their units", up, l.Distance)
		l.Climb, l.Descent = 0, 0
	}
	if !distance.Set {
		l.Climb, l.Descent = 0, 0
	}
	return l
}

func (r *reader) record(e entry) kit.Record {
	out := kit.Record{Weighed: e.date("weighed"), Audited: e.date("audited")}
	e.each("shakedowns", func(key string, e entry) {
		on := e.date("on")
		if !on.Set {
			return
		}
		out.Shakedowns = append(out.Shakedowns, kit.Shakedown{Key: key, Spot: e.spot, On: on.Value, Distance: e.length("distance").Value, Load: e.mass("load")})
	})
	e.each("waivers", func(key string, e entry) {
		until := e.date("until")
		if !until.Set {
			return
		}
		out.Waivers = append(out.Waivers, kit.Waiver{Key: key, Spot: e.spot, Rule: e.text("rule"), At: e.ref("spot"), Reason: e.text("reason"), Until: until.Value, Agreed: e.text("agreed")})
	})
	return out
}
