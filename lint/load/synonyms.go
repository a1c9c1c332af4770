package load

import (
	"maps"
	"slices"
	"strings"

	"cuelang.org/go/cue"

	"kitmuster/lint/internal/edit"
	"kitmuster/lint/words"
)

// synonyms leads from words that people write to the fields that are meant, the likelier first: fewer edits apart is not nearer in
// meaning, as weight is to height. A field within a group stands after a dot.
var synonyms = map[string][]string{
	"weight": {"mass", "bodyMass"}, "wt": {"mass", "bodyMass"}, "mass": {"bodyMass"}, "kg": {"mass", "bodyMass"}, "g": {"mass"}, "grams": {"mass"}, "gewicht": {"mass", "bodyMass"}, "poids": {"mass", "bodyMass"}, "peso": {"mass", "bodyMass"}, "bodyweight": {"bodyMass"},
	"qty": {"count"}, "quantity": {"count"}, "amount": {"count"}, "number": {"count"}, "pieces": {"count"}, "pcs": {"count"}, "anzahl": {"count"}, "menge": {"count"},
	"kcal": {"energy", "food.energy"}, "calories": {"energy", "food.energy"}, "cal": {"energy", "food.energy"}, "kj": {"energy", "food.energy"}, "calorie": {"energy", "food.energy"}, "energy": {"food.energy"},
	"dob": {"born"}, "birthday": {"born"}, "birthdate": {"born"}, "dateofbirth": {"born"}, "birth": {"born"}, "geboren": {"born"}, "years": {"age"}, "alter": {"age"},
	"expiry": {"expires"}, "expirydate": {"expires"}, "expiration": {"expires"}, "expirationdate": {"expires"}, "exp": {"expires"}, "expireson": {"expires"}, "bestbefore": {"expires"}, "useby": {"expires"}, "bb": {"expires"}, "mhd": {"expires"}, "ablaufdatum": {"expires"},
	"volume": {"capacity", "container.capacity"}, "holds": {"capacity", "container.capacity"}, "batteries": {"device"}, "battery": {"device"}, "diapers": {"nappies"}, "diaper": {"nappies"}, "litre": {"litres", "water"}, "liters": {"litres", "water"}, "litres": {"water"},
	"title": {"name"}, "label": {"name"}, "fullname": {"name"}, "firstname": {"name"},
	"use": {"can"}, "uses": {"can"}, "function": {"can"}, "purpose": {"can", "for"}, "category": {"can"}, "does": {"can"}, "type": {"kind", "method", "can"},
	"gender": {"sex"}, "tel": {"phone"}, "telephone": {"phone"}, "mobile": {"phone"}, "allergy": {"allergies"}, "meds": {"medications"}, "medicine": {"medications"}, "medicines": {"medications"}, "drugs": {"medications"},
	"medication": {"of", "medications"}, "takenby": {"person"}, "patient": {"person"}, "tablets": {"doses"}, "pills": {"doses"},
	"pets": {"animals"}, "dogs": {"animals"}, "members": {"people"}, "family": {"people", "household"}, "persons": {"people"}, "bags": {"packs"}, "backpacks": {"packs"}, "rucksacks": {"packs"}, "cars": {"vehicles"},
	"pockets": {"compartments"}, "contents": {"items"}, "things": {"items"}, "stuff": {"items"}, "wearing": {"onBody"}, "worn": {"onBody"}, "clothes": {"onBody"},
	"max": {"day"}, "high": {"day"}, "min": {"night"}, "low": {"night"}, "lat": {"latitude"}, "elevation": {"altitude"}, "length": {"distance"}, "km": {"distance"}, "route": {"legs"}, "steps": {"legs"}, "water": {"waterSources"},
	"dosesperday": {"perDay"}, "daily": {"perDay"}, "timesaday": {"perDay"}, "hours": {"duration"}, "days": {"duration"}, "carriedby": {"carrier"}, "carrier": {"carriedBy"}, "bearer": {"carrier", "carriedBy"}, "for": {"owner", "carrier"}, "ownedby": {"owner"}, "belongsto": {"owner"},
}

// advice is for fields that people write where a kit says it in another way, by definition and folded name; %s stands for the name of
// the entry.
var advice = map[string]map[string]string{
	"#Animal": {
		"owner": itsThings, "for": itsThings, "items": itsThings, "food": "its food is an item of a pack: write food: for: %s there",
	},
	"#Item":   {"contents": aloneInIt, "items": aloneInIt, "inside": aloneInIt, "holds": aloneInIt},
	"#Food":   {"cook": toCook, "cooked": toCook, "raw": toCook, "needscooking": toCook, "boil": toCook},
	"#Person": {"shoesize": itsSize, "clothessize": itsSize, "size": itsSize, "formula": `write fed: "formula" here, and the formula itself as food of an item, with for: %s`},
}

const (
	aloneInIt = "a thing has no things in it: write each beside it, as an item of its own; what a first-aid kit holds is counted under firstAid, such as firstAid: plasters: 10"
	toCook    = `food that must be cooked says the water and the time it takes: write cookWater: "0.3 L", cookTime: "10 min"`
	itsSize   = "write size and fits at the thing itself, such as shoes: {size: \"29\", fits: %s}"
	itsThings = "at each thing in a pack that is this animal's, write owner: %s"
)

// unplaced are words for what a kit has no field for.
var unplaced = []string{"note", "notes", "comment", "comments", "remark", "remarks", "description", "price", "cost", "url", "link", "brand", "model", "shop", "photo", "picture", "barcode", "sku", "id", "todo"}

// folded is a name as synonyms have it.
func folded(name string) string {
	return strings.ToLower(strings.NewReplacer("-", "", "_", "", " ", "").Replace(name))
}

// target is where a field belongs that stands in a wrong place or under a wrong name: so many levels up, and from there down these
// fields; "" stands for the name of an entry.
type target struct {
	up   int
	path []string
	near bool // the name was misspelt
}

// target finds where the field at a path of the shape belongs, by its name, what was written there, and the fields written beside it; ok
// is false where that cannot be told.
func (s *shape) target(keys []string, w said, beside []string) (t target, ok bool) {
	last := keys[len(keys)-1]
	here, _ := s.at(keys[:len(keys)-1])
	if here == nil || here.kind != cue.StructKind || here.group() {
		return t, false
	}
	names := slices.Sorted(maps.Keys(here.fields))
	for _, n := range names { // a group that is written, or that the entry is called by, has lost its field
		if g := here.fields[n]; (slices.Contains(beside, n) || len(keys) > 1 && keys[len(keys)-2] == n) && g.kind == cue.StructKind && g.fields[last] != nil && !slices.Contains(unplaced, last) {
			if _, fits := w.as(g.fields[last], g.def, last); fits {
				return target{path: []string{n, last}}, true
			}
		}
	}
	for _, f := range synonyms[folded(last)] {
		if f == "food.energy" && strings.HasSuffix(w.text, "Wh") { // of a battery
			continue
		}
		group, field, nested := strings.Cut(f, ".")
		if g := here.fields[group]; g != nil && (!nested || g.fields[field] != nil) {
			return target{path: strings.Split(f, ".")}, true
		}
	}
	for _, n := range names {
		if folded(n) == folded(last) {
			return target{path: []string{n}, near: true}, true
		}
	}
	if !slices.Contains(unplaced, last) {
		var within []target
		for _, n := range names {
			if g := here.fields[n]; g.kind == cue.StructKind && g.fields[last] != nil {
				within = append(within, target{path: []string{n, last}})
			}
		}
		for _, t := range within {
			g := here.fields[t.path[0]]
			if _, fits := w.as(g.fields[last], g.def, last); fits || len(within) == 1 {
				return t, true
			}
		}
	}
	near := words.Near(last, names)
	if near != "" && edit.Distance([]rune(strings.ToLower(last)), []rune(strings.ToLower(near)), 1) < 2 {
		return target{path: []string{near}, near: true}, true
	}
	if !slices.Contains(unplaced, last) {
		for up := 0; up < len(keys); up++ {
			from, _ := s.at(keys[:len(keys)-1-up])
			if from == nil || from.group() {
				continue
			}
			if from.fields[last] != nil {
				return target{up: up, path: []string{last}}, true
			}
			if ways := from.ways(last, 5); len(ways) == 1 {
				return target{up: up, path: ways[0]}, true
			}
		}
		if near != "" {
			return target{path: []string{near}, near: true}, true
		}
	}
	return t, false
}

// ways are the shortest ways down to a field of a name.
func (s *shape) ways(field string, most int) (out [][]string) {
	type way struct {
		s    *shape
		path []string
	}
	level := []way{{s, nil}}
	for range most {
		var next []way
		for _, w := range level {
			if w.s.group() {
				if w.s.elem.kind == cue.StructKind {
					next = append(next, way{w.s.elem, append(slices.Clone(w.path), "")})
				}
				continue
			}
			for _, n := range slices.Sorted(maps.Keys(w.s.fields)) {
				f := w.s.fields[n]
				path := append(slices.Clone(w.path), n)
				if n == field {
					out = append(out, path)
				}
				if f.kind == cue.StructKind {
					next = append(next, way{f, path})
				}
			}
		}
		if len(out) > 0 {
			return out
		}
		level = next
	}
	return nil
}
