package load

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/kit"
	"kitmuster/lint/words"
)

// known are the keys of a household that its entries name one another by.
type known struct {
	people   []string
	bodies   []string // people and animals
	devices  []string
	vehicles []string
	// called are the keys of those who are shown by another name, by that name in small letters.
	called map[string]string
	// meds and uses are the medications and the care supplies of each body.
	meds, uses map[string][]string
}

// references checks every name of one entry that another entry uses.
func (r *reader) references(h *kit.Household) {
	k := r.known(h)
	by := map[string]string{}
	for _, p := range h.People {
		by[p.Key] = p.CarriedBy
	}
	for i := range h.People {
		p := &h.People[i]
		r.named(k, p.Spot+"/carriedBy", "carrier", &p.CarriedBy, k.people)
		r.named(k, p.Spot+"/helpedBy", "helper", &p.HelpedBy, k.people)
		if p.HelpedBy == p.Key {
			r.fault("input/reference", p.Spot+"/helpedBy", "%s cannot help themself; name another person", p.Name)
		}
		r.circle(p, by)
		r.others(k, p.Spot, "with", p.With, p.Key, k.people, "person", "the key of a person", p.Name+" is always with themself; name other people")
		r.others(k, p.Spot, "nursing", p.Nursing, p.Key, k.people, "infant", "the key of an infant", p.Name+" cannot nurse themself; name an infant")
		for j := range p.Allergies {
			a := &p.Allergies[j]
			r.ofBody(a.Spot+"/medication", p.Key+" takes no medication called", &a.Medication, k.meds[p.Key], medication(p.Key))
		}
	}
	for i := range h.People {
		for j := range h.People[i].OnBody {
			r.namesOfItem(&h.People[i].OnBody[j], k)
		}
	}
	for i := range h.AtHome {
		r.namesOfItem(&h.AtHome[i], k)
	}
	for i := range h.Animals {
		a := &h.Animals[i]
		r.named(k, a.Spot+"/carriedBy", "carrier", &a.CarriedBy, k.people)
	}
	for i := range h.Packs {
		p := &h.Packs[i]
		r.named(k, p.Spot+"/carrier", "carrier", &p.Carrier, k.bodies)
		r.named(k, p.Spot+"/vehicle", "vehicle", &p.Vehicle, k.vehicles)
		for j := range p.Compartments {
			for n := range p.Compartments[j].Items {
				r.namesOfItem(&p.Compartments[j].Items[n], k)
			}
		}
	}
	bearers(h, k.bodies)
	r.namesOfPlan(&h.Plan, k)
}

// known gathers the keys, and refuses one that would mean two things.
func (r *reader) known(h *kit.Household) *known {
	k := &known{called: map[string]string{}, meds: map[string][]string{}, uses: map[string][]string{}}
	for _, p := range h.People {
		k.people = append(k.people, p.Key)
		for _, m := range p.Medications {
			k.meds[p.Key] = append(k.meds[p.Key], m.Key)
		}
		for _, c := range p.Consumables {
			k.uses[p.Key] = append(k.uses[p.Key], c.Key)
		}
		for _, d := range p.Devices {
			if slices.Contains(k.devices, d.Key) {
				r.fault("input/conflict", d.Spot, "%s is the name of two people's devices; a battery could be for either: rename one", d.Key)
			}
			k.devices = append(k.devices, d.Key)
		}
	}
	k.bodies = slices.Clone(k.people)
	for _, a := range h.Animals {
		if slices.Contains(k.people, a.Key) {
			r.fault("input/conflict", a.Spot, "%s is the name of a person and of an animal; a carrier could be either: rename one", a.Key)
		}
		k.bodies = append(k.bodies, a.Key)
		for _, m := range a.Medications {
			k.meds[a.Key] = append(k.meds[a.Key], m.Key)
		}
	}
	for _, v := range h.Vehicles {
		k.vehicles = append(k.vehicles, v.Key)
	}
	for i := range h.People {
		k.called[strings.ToLower(h.People[i].Name)] = h.People[i].Key
	}
	for i := range h.Animals {
		k.called[strings.ToLower(h.Animals[i].Name)] = h.Animals[i].Key
	}
	return k
}

// named refuses a key that is none of those that there are, and goes on with the one that was probably meant.
func (r *reader) named(k *known, spot, what string, key *string, there []string) {
	by := k.called[strings.ToLower(strings.TrimSpace(*key))]
	switch {
	case strings.TrimSpace(*key) == "" || slices.Contains(there, *key):
	case slices.Contains(there, by) && !strings.EqualFold(by, strings.TrimSpace(*key)):
		r.fault("input/reference", spot, "%s %q is a name to show; write the key of the entry, %q", what, *key, by)
		*key = by
		r.take()
	case len(there) == 0 && what == "vehicle":
		name := cmp.Or(PlainName(*key), "van")
		kind := cmp.Or(nearChoice("kind", *key, kitShapes().done["#Vehicle"].fields["kind"].choices()), "car")
		r.fault("input/reference", spot, "vehicle %q is not in this household, and there is none; write it under vehicles, such as vehicles: %s: {kind: %q, payload: \"450 kg\", seats: 5}", *key, name, kind)
	case len(there) == 0:
		r.fault("input/reference", spot, "%s %q is not in this household, and there is none", what, *key)
	default:
		r.fault("input/reference", spot, "%s", words.Suggest(fmt.Sprintf("%s %q is not in this household", what, *key), *key, there, "there are"))
		r.near(key, there)
	}
}

// ofBody is named for what belongs to one body; no says whose it is not, and write how its entry begins and ends.
func (r *reader) ofBody(spot, no string, key *string, there []string, write [2]string) {
	if *key != "" && len(there) == 0 {
		r.fault("input/reference", spot, "%s %q; write it under %s%s%s", no, *key, write[0], cmp.Or(PlainName(*key), "tablets"), write[1])
		return
	}
	if *key == "" || slices.Contains(there, *key) {
		return
	}
	text := words.Suggest(fmt.Sprintf("%s %q", no, *key), *key, there, "there are")
	if plain := PlainName(*key); words.Near(*key, there) == "" && plain != "" {
		text += "; or write it under " + write[0] + plain + write[1]
	}
	r.fault("input/reference", spot, "%s", text)
	r.near(key, there)
}

// medication is how the entry of a medication begins and ends.
func medication(of string) [2]string {
	return [2]string{of + ": medications: ", ": asNeeded: true, or perDay: 1 where it is taken every day"}
}

// circle refuses who carries whom in a circle, and goes on as if the person walked.
func (r *reader) circle(p *kit.Person, by map[string]string) {
	if p.CarriedBy == p.Key {
		r.fault("input/reference", p.Spot+"/carriedBy", "%s cannot carry themself; name another person", p.Name)
		p.CarriedBy = ""
		return
	}
	for at, n := by[p.CarriedBy], 0; at != "" && n < len(by); at, n = by[at], n+1 {
		if at == p.Key {
			r.fault("input/reference", p.Spot+"/carriedBy", "%s is carried by someone whom %s carries in turn; break the circle", p.Name, p.Name)
			p.CarriedBy = ""
			return
		}
	}
}

// others checks a list of other people; write says what belongs into it, and itself what is said of the person's own key.
func (r *reader) others(k *known, of, list string, keys []string, own string, there []string, what, write, itself string) {
	for j := range keys {
		at := fmt.Sprintf("%s/%s/%d", of, list, j)
		switch {
		case strings.TrimSpace(keys[j]) == "":
			r.fault("input/reference", at, "%s has a blank entry; write %s, or take it out", list, write)
		case keys[j] == own:
			r.fault("input/reference", at, "%s", itself)
		}
		r.named(k, at, what, &keys[j], there)
	}
}

func (r *reader) namesOfItem(it *kit.Item, k *known) {
	r.named(k, it.Spot+"/owner", "owner", &it.Owner, k.bodies)
	r.named(k, it.Spot+"/fits", "person", &it.Fits, k.people)
	if it.Food.Set {
		r.named(k, it.Food.Value.Spot+"/for", "food for", &it.Food.Value.For, k.bodies)
	}
	if m := &it.Medicine.Value; it.Medicine.Set {
		known := slices.Contains(k.bodies, m.Person) // else one thing after the other
		r.named(k, m.Spot+"/person", "person or animal", &m.Person, k.bodies)
		if known {
			r.ofBody(m.Spot+"/of", m.Person+" takes no medication called", &m.Medication, k.meds[m.Person], medication(m.Person))
		}
	}
	if c := &it.Care.Value; it.Care.Set {
		known := slices.Contains(k.people, c.Person)
		r.named(k, c.Spot+"/person", "person", &c.Person, k.people)
		if known {
			r.ofBody(c.Spot+"/of", c.Person+" uses nothing called", &c.Consumable, k.uses[c.Person], [2]string{c.Person + ": consumables: ", ": perDay: 1"})
		}
	}
	if it.Cells.Set {
		r.named(k, it.Cells.Value.Spot+"/for", "device", &it.Cells.Value.For, k.devices)
	}
}

// afoot is how people say that a leg is walked.
var afoot = []string{"foot", "on foot", "by foot", "feet", "walking", "walk", "hiking", "legs", "none", "nothing"}

func (r *reader) namesOfPlan(p *kit.Plan, k *known) {
	for i := range p.Legs {
		by := strings.ToLower(strings.TrimSpace(p.Legs[i].By))
		if slices.Contains(afoot, by) && !slices.Contains(k.vehicles, p.Legs[i].By) {
			r.fault("input/reference", p.Legs[i].Spot+"/by", "by names a vehicle of this household, and %q is none; a leg without it is walked: leave by out", p.Legs[i].By)
			r.take()
			p.Legs[i].By = ""
		}
		r.named(k, p.Legs[i].Spot+"/by", "vehicle", &p.Legs[i].By, k.vehicles)
	}
	if p.Season != "" && !slices.Contains(r.seasons, p.Season) {
		complaint := fmt.Sprintf("season %q has no entry under plan.seasons", p.Season)
		if plain := PlainName(p.Season); len(r.seasons) == 0 && plain != "" {
			complaint += fmt.Sprintf(`; write its weather there, such as seasons: %s: {day: "8 °C", night: "-1 °C"}`, plain)
		}
		r.fault("input/reference", "plan/season", "%s", words.Suggest(complaint, p.Season, r.seasons, "there are"))
		r.near(&p.Season, r.seasons)
	}
	for i := range p.WaterSources {
		r.named(k, p.WaterSources[i].Spot+"/leg", "leg", &p.WaterSources[i].Leg, r.legs)
	}
}

// near takes of the known names the one that the last fault offers.
func (r *reader) near(key *string, known []string) {
	if w := words.Near(*key, known); w != "" {
		r.sure(*key, w)
		*key = w
		r.take()
	}
}

// bearers gives a pack without a known carrier to the only person who can carry and has none, where there is just one of each. Else the
// pack stays without a carrier, and no person is said to lack a pack.
func bearers(h *kit.Household, bodies []string) {
	var strays []*kit.Pack
	has := map[string]bool{}
	for i := range h.Packs {
		p := &h.Packs[i]
		has[p.Carrier] = true
		if !slices.Contains(bodies, p.Carrier) && p.Vehicle == "" {
			p.Carrier = ""
			strays = append(strays, p)
		}
	}
	var free []string
	for i := range h.People {
		if p := &h.People[i]; p.Carries && p.CarriedBy == "" && !has[p.Key] {
			free = append(free, p.Key)
		}
	}
	if len(strays) == 1 && len(free) == 1 {
		strays[0].Carrier = free[0]
	}
}
