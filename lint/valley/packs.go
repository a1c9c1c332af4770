package valley

import (
	"fmt"
	"strings"
)

// thing is an entry of a pack or a pocket, as the file writes it.
type thing struct {
	key, text string
	grams     int // of all of it, water included
	kcal      int
}

type part struct {
	key, about string // about is its name, reach and use, in CUE
	things     []thing
}

type pack struct {
	key, about string
	carrier    *person
	animal     *animal
	grams      int
	parts      []*part
	used       map[string]bool
}

func (p *pack) part(key string) *part {
	for _, x := range p.parts {
		if x.key == key {
			return x
		}
	}
	return p.parts[len(p.parts)-1] // small packs have few
}

// put lays a thing into a part; a second one of a name gets a number.
func (p *pack) put(part string, ts ...thing) {
	for _, t := range ts {
		for key, n := t.key, 2; p.used[t.key]; n++ {
			t.key = fmt.Sprint(key, "_", n)
		}
		p.used[t.key] = true
		x := p.part(part)
		x.things = append(x.things, t)
		p.grams += t.grams
	}
}

// ware takes things from the catalogue; also says what the family adds.
func (h *household) ware(key string, count int, also ...string) thing {
	w, ok := wareOf[key]
	if !ok {
		panic("valley: nothing in the catalogue is called " + key)
	}
	t := thing{key: key, text: "_catalogue." + key, grams: w.grams * count, kcal: w.kcal * count}
	if w.kcal > 0 {
		also = append(also, fmt.Sprintf("expires: %q", date(h.r, 2027, 2028)))
	}
	if count != 1 {
		also = append([]string{fmt.Sprintf("count: %d", count)}, also...)
	}
	switch {
	case chance(h.r, 330): // bought elsewhere, and weighed at home
		t.text = fmt.Sprintf("_scale & {name: %q, mass: \"%d g\", %s}", w.name, w.grams, strings.Join(append([]string{w.also}, also...), ", "))
	case len(also) > 0:
		t.text += " & {" + strings.Join(also, ", ") + "}"
	}
	return t
}

// own is a thing that the family has from elsewhere and weighed itself.
func (h *household) own(key, name string, low, high int, also string) thing {
	g := between(h.r, low, high)
	t := thing{key: key, text: fmt.Sprintf("_scale & {name: %q, mass: \"%d g\"", name, g), grams: g}
	if chance(h.r, 60) { // some scales know ounces only
		t.text = fmt.Sprintf("_scale & {name: %q, mass: \"%d.%02d oz\"", name, g*100/2835, g*10000/2835%100)
	}
	if also != "" {
		t.text += ", " + also
	}
	t.text += "}"
	return t
}

func (h *household) until(from, to int) string {
	return fmt.Sprintf("expires: %q", date(h.r, from, to))
}

func owner(p *person) string { return fmt.Sprintf("owner: %q", p.key) }

// pack fills every pocket and pack.
func (h *household) pack(items int) {
	for _, p := range h.people {
		h.dress(p)
	}
	for _, p := range h.people {
		if p.carries {
			h.packs = append(h.packs, h.packOf(p))
		}
	}
	for _, a := range h.animals {
		h.along(a)
	}
	for _, p := range h.people {
		if !p.carries {
			h.without(p)
		}
	}
	h.shared()
	if len(h.packs) == 1 {
		h.packs = append(h.packs, h.beltBag(h.people[0]))
	}
	h.feed()
	for h.things() < items-20 { // many families have more than that without
		h.filler()
	}
}

func (h *household) things() (n int) {
	for _, p := range h.people {
		n += len(p.body)
	}
	for _, p := range h.packs {
		for _, x := range p.parts {
			n += len(x.things)
		}
	}
	return n
}

// dress says what somebody wears and pockets.
func (h *household) dress(p *person) {
	if p.months >= 60 {
		p.body = append(p.body, h.ware("whistle", 1))
	}
	if !p.adult() {
		p.body = append(p.body,
			h.own("shoes", pick(h.r, "rubber boots, pair", "walking shoes, pair"), p.kg*9, p.kg*13, `can: footwear: "boots"`),
			h.own("name_tag", "capsule with name and numbers", 7, 10, `can: identify: "name-tag"`),
		)
		if p.months < 12*12 {
			p.body = append(p.body, h.own("toy", pick(h.r, "the rabbit", "the bear", "a wooden horse", "the blue mouse"), 60, 110, `pinned: true, worth: 5, can: comfort: "toy"`))
		}
		return
	}
	p.body = append(p.body,
		h.own("boots", pick(h.r, "boots, pair", "walking boots, pair", "old hiking boots, pair"), 860, 1240, `can: footwear: "boots"`),
		h.own("trousers", "walking trousers", 290, 390, `insulation: kind: "trousers"`),
		h.own("shirt", pick(h.r, "wool shirt, long sleeves", "checked shirt, long sleeves"), 210, 290, `can: {sun: "long-sleeves", warmth: "clothing"}`),
		h.own("phone", "phone", 158, 206, fmt.Sprintf(`can: {communicate: "phone", navigate: "phone"}, device: {size: "usb", builtIn: true, runTime: "%d h"}`, between(h.r, 24, 36))),
		h.own("wallet", pick(h.r, "wallet with identity card", "purse with identity card"), 78, 124, fmt.Sprintf(`can: identify: "id-card", documents: ["identity", "contacts"], cash: {amount: "%d in notes", smallNotes: true}`, between(h.r, 3, 12)*10)),
		h.own("keys", "house keys", 44, 81, `documents: ["keys"]`),
	)
	if p.glasses {
		p.body = append(p.body, h.own("glasses", "glasses", 22, 34, `can: see: "glasses"`))
	}
	switch {
	case p.severe:
		p.body = append(p.body, h.own("allergy_pens", "two allergy pens in a case", 118, 140, fmt.Sprintf(`medicine: {person: %q, of: "allergy_pen", doses: 2}, %s`, p.key, h.until(2027, 2028))))
	case p.whenNeeded != "":
		p.body = append(p.body, h.own(p.whenNeeded, "relief inhaler", 27, 36, fmt.Sprintf(`medicine: {person: %q, of: %q, doses: 200}, %s`, p.key, p.whenNeeded, h.until(2027, 2028))))
	}
}

func (h *household) newPack(key, name, carrier string, grams int, also string) *pack {
	return &pack{
		key: key, grams: grams, used: map[string]bool{},
		about: fmt.Sprintf("name: %q, carrier: %q, mass: \"%d g\", weighed: %q, colours: [%q], style: %q%s", name, carrier, grams, h.weighed,
			pick(h.r, "moss green", "slate blue", "grey", "brown", "dark blue", "olive", "black"), pick(h.r, "outdoor", "outdoor", "everyday", "sport"), also),
	}
}

func (h *household) packOf(p *person) *pack {
	r := h.r
	if !p.adult() {
		return h.childPack(p)
	}
	k := h.newPack(p.key, p.name+"'s pack", p.key, between(r, 760, 1080), ", frame: true, hipBelt: true")
	k.carrier = p
	k.parts = []*part{
		{key: "pouch", about: `name: "belt pouch", reach: "walking", for: "fire, light and clean hands"`},
		{key: "lid", about: `name: "lid", reach: "walking", for: "rain, sun and the way"`},
		{key: "side", about: `name: "side pockets", reach: "walking", for: "water and first aid"`},
		{key: "main", about: `name: "main bag", reach: "halted", for: "night and warm clothes"`},
		{key: "back", about: `name: "back panel", reach: "halted", for: "papers, power and mending"`},
		{key: "roll", about: `name: "outer roll", reach: "halted", for: "pad and food", quickShed: true`},
	}
	k.put("pouch", h.ware("gas_lighter", 1), h.ware("tinder", 1), h.ware("slow_tablets", 1, h.until(2028, 2030)),
		h.ware("headlamp", 1), h.ware("hand_gel", 1, h.until(2028, 2029)), h.ware("mask", 2, h.until(2029, 2031)))
	k.put("lid", h.own("rain_jacket", "rain jacket", 210, 320, `can: rain: "jacket", `+owner(p)), h.ware("wool_hat", 1, owner(p)), h.ware("warm_gloves", 1, owner(p)), h.ware("valley_map", 1),
		h.ware("mirror", 1), h.ware("sun_hat", 1, owner(p)))
	bottles := h.ware("soft_bottle", 2, `water: "1 L"`, `rotate: "2027-04-01"`)
	bottles.grams += 2000
	k.put("side", bottles, h.ware("squeeze_filter", 1), h.ware("first_aid", 1, h.until(2027, 2030)), h.ware("pressure_bandage", 1, h.until(2028, 2031)))
	k.put("main", h.ware("pack_liner", 1), h.ware("quilt", 1, owner(p)), h.ware("rescue_blanket", 1),
		h.own("base_layer", "wool base layer, top and bottom", 180, 300, `can: warmth: "clothing", insulation: kind: "base-layer", `+owner(p)),
		h.own("warm_jacket", pick(r, "padded jacket", "quilted jacket", "fleece jacket"), 250, 350, `can: warmth: "clothing", insulation: kind: "jacket", `+owner(p)),
		h.ware("socks", 2, owner(p)), h.ware("brush", 1, h.until(2028, 2029)))
	if p.female && p.months < 56*12 {
		k.put("main", h.ware("menstrual", 1))
	}
	if p.daily != "" {
		k.put("main", h.own(p.daily+"_tablets", strings.ReplaceAll(p.daily, "_", " ")+" tablets", 12, 24, fmt.Sprintf(`medicine: {person: %q, of: %q, doses: %d}, %s`, p.key, p.daily, pick(r, 20, 28, 30), h.until(2027, 2028))))
	}
	if p.glasses {
		k.put("main", h.own("spare_glasses", "spare glasses in a case", 44, 66, `can: see: "glasses", `+owner(p)))
	}
	k.put("lid", h.ware("ferro_rod", 1))
	k.put("back", h.ware("power_bank", 1, `rotate: "2027-04-01"`), h.ware("aaa_cells", 1, h.until(2034, 2038)), h.ware("work_gloves", 1),
		h.own("knife", pick(r, "paring knife in a sheath", "folding knife"), 38, 66, `can: cut: "knife"`))
	if p == h.people[0] {
		k.put("lid", h.ware("compass", 1), h.ware("sunscreen", 1, h.until(2027, 2029)))
		k.put("side", h.ware("salts", 2, h.until(2027, 2029)))
		k.put("main", h.ware("toilet_paper", 1))
		k.put("roll", h.ware("matches", 1))
		k.put("back", h.ware("cable", 1), h.own("papers", "copies of papers in a dry sleeve", 58, 92, `waterproof: true, documents: ["identity", "insurance", "prescription", "medical", "contacts", "photos"]`),
			h.own("cash", "envelope in a zip bag", 8, 15, fmt.Sprintf(`waterproof: true, cash: {amount: "%d in small notes", smallNotes: true}`, between(r, 6, 24)*10)))
	}
	k.put("roll", h.ware("foam_pad", 1, owner(p)), h.ware("spoon", 1), h.ware("water_bag", 1))
	return k
}

func (h *household) childPack(p *person) *pack {
	k := h.newPack(p.key, p.name+"'s pack", p.key, between(h.r, 290, 420), "")
	k.carrier = p
	k.parts = []*part{
		{key: "front", about: `name: "front pocket", reach: "walking", for: "if I am lost", quickShed: true`},
		{key: "main", about: `name: "main", reach: "halted", for: "warm things"`},
	}
	w := 250
	if p.months >= 13*12 {
		w = 500
	}
	bottle := h.ware("small_bottle", 1, fmt.Sprintf("water: \"%d mL\"", w), `rotate: "2027-04-01"`)
	bottle.grams += w
	k.put("front", h.ware("pen_torch", 1), h.ware("aaa_cell", 1, h.until(2034, 2038)), h.ware("mirror", 1), h.ware("straw_filter", 1), bottle, h.ware("soft_bottle", 1), h.ware("small_first_aid", 1, h.until(2027, 2029)),
		h.ware("hand_gel", 1, h.until(2028, 2029)), h.ware("mask", 2, h.until(2029, 2031)))
	if p.months >= 12*12 {
		k.put("front", h.ware("slow_tablets", 1, h.until(2028, 2030)), h.ware("matches", 1), h.ware("tinder", 1))
		k.put("main", h.ware("ferro_rod", 1))
	}
	k.put("front", h.ware("pressure_bandage", 1, h.until(2028, 2031)))
	k.put("main", h.ware("rescue_blanket", 1, owner(p)))
	h.warm(p, func(t thing) {
		if t.key == "child_poncho" {
			k.put("front", t)
			return
		}
		k.put("main", t)
	})
	return k
}

// warm lists what a child wears when it is cold, wet or sunny.
func (h *household) warm(p *person, put func(thing)) {
	own := owner(p)
	put(h.own(p.key+"_jacket", "child's padded jacket", 120+p.kg*2, 150+p.kg*3, `can: warmth: "clothing", insulation: kind: "jacket", `+own))
	if p.months >= 36 {
		put(h.ware("child_poncho", 1, own))
	}
	for _, w := range []string{"wool_hat", "warm_gloves", "sun_hat", "socks"} {
		put(h.ware(w, 1, own))
	}
}

// without packs for somebody who carries nothing.
func (h *household) without(p *person) {
	h.warm(p, func(t thing) { h.lightest().put("main", t) })
	if p.months < 36 {
		h.lightest().put("main", h.ware("nappy", 18))
	}
	if p.months >= 60 {
		k := h.lightest()
		k.put("lid", h.ware("pen_torch", 1, owner(p)))
		k.put("back", h.ware("aaa_cell", 1, h.until(2034, 2038)))
	}
	if p.months >= 72 {
		h.lightest().put("pouch", h.ware("mask", 1, h.until(2029, 2031), owner(p)))
	}
}

// shared is what the household needs once, given to whoever has the least to bear.
func (h *household) shared() {
	k := h.lightest() // stove, fuel and pot belong together
	k.put("roll", h.ware("gas_stove", 1, "shared: true"), h.ware("gas_cartridge", 1, "shared: true"), h.ware("pot", 1, "shared: true"))
	for _, w := range []struct{ part, key string }{
		{"roll", "tarp"}, {"lid", "radio"}, {"back", "cord"}, {"back", "cloth_tape"}, {"back", "sewing"}, {"back", "tap_key"}, {"main", "soap"}, {"main", "quick_tablets"},
	} {
		also := []string{"shared: true"}
		if w.key == "quick_tablets" {
			also = append(also, h.until(2028, 2030))
		}
		h.lightest().put(w.part, h.ware(w.key, 1, also...))
	}
	for _, p := range h.people {
		if p.adult() {
			continue
		}
		h.lightest().put("main", h.ware("child_quilt", 1, owner(p)))
		h.lightest().put("main", h.ware("foam_pad", 1, owner(p)))
	}
	h.lightest().put("main", h.ware("toilet_bag", 2*len(h.people)))
	if h.season == "hot" {
		for _, p := range h.people {
			if p.carries {
				h.water(1000)
			}
		}
	}
	for _, p := range h.people {
		if !p.carries {
			h.lightest().put("main", h.ware("water_bag", 1, owner(p)))
		}
	}
	for _, p := range h.people { // young bearers cannot take all that is asked for them
		if p.carries && !p.adult() {
			h.water(1750)
		}
	}
}

func (h *household) water(ml int) {
	t := h.ware("soft_bottle", 1, `water: "1 L"`, `rotate: "2027-04-01"`)
	t.grams += 1000
	if ml > 1000 {
		t = h.ware("water_bag", 1, fmt.Sprintf("water: \"%d mL\"", ml), `rotate: "2027-04-01"`)
		t.grams += ml
	}
	h.lightest().put("side", t)
}

// along packs for an animal.
func (h *household) along(a *animal) {
	own := fmt.Sprintf("owner: %q", a.key)
	grams := a.kcal * 10 / 36
	food := thing{
		key: a.key + "_food", grams: 3 * (grams + 8),
		text: fmt.Sprintf("_scale & {name: \"dry food, bag for a day\", count: 3, mass: \"%d g\", %s, %s, food: {energy: \"%d kcal\", sodium: \"%d mg\", net: \"%d g\", for: %q}}", grams+8, own, h.until(2027, 2028), a.kcal, grams*3, grams, a.key),
	}
	lead := `can: lead: "lead"`
	if a.species == "cat" {
		lead = `can: lead: "carrier"`
	}
	things := []thing{
		food, h.own(a.key+"_lead", map[string]string{"dog": "lead", "cat": "folding carrier of cloth"}[a.species], 110, 320, lead+", "+own),
		h.own(a.key+"_papers", "vaccination booklet and a photo", 20, 31, `waterproof: true, documents: ["animal-papers", "photos"], `+own),
		h.own(a.key+"_bowl", "folding bowl", 32, 60, own),
	}
	if a.carries {
		k := h.newPack(a.key, a.name+"'s saddlebags", a.key, between(h.r, 320, 460), "")
		k.animal = a
		k.parts = []*part{{key: "left", about: `name: "left bag", reach: "walking", for: "food", quickShed: true`}, {key: "right", about: `name: "right bag", reach: "walking", for: "the rest", quickShed: true`}}
		k.put("left", things[0])
		k.put("right", things[1:]...)
		h.packs = append(h.packs, k)
	} else {
		for _, t := range things {
			h.lightest().put("roll", t)
		}
	}
	t := h.ware("soft_bottle", 1, fmt.Sprintf("water: \"%d mL\"", min(1000, a.ml)), `rotate: "2027-04-01"`)
	t.grams += min(1000, a.ml)
	h.lightest().put("side", t)
	if rest := a.ml - 1000; rest > 0 {
		t := h.ware("small_bottle", 1, fmt.Sprintf("water: \"%d mL\"", rest), `rotate: "2027-04-01"`)
		t.grams += rest
		h.lightest().put("side", t)
	}
}

// beltBag is the second pack of somebody who lives alone: it is left on when the other is dropped.
func (h *household) beltBag(p *person) *pack {
	k := h.newPack("belt", p.name+"'s belt bag", p.key, between(h.r, 140, 210), "")
	k.carrier = p
	k.parts = []*part{{key: "bag", about: `name: "the bag", reach: "walking", for: "what stays with me", waterproof: true`}}
	k.put("bag", h.ware("gas_lighter", 1), h.ware("ferro_rod", 1), h.ware("tinder", 1), h.ware("slow_tablets", 1, h.until(2028, 2030)), h.ware("straw_filter", 1), h.ware("rescue_blanket", 1), h.ware("pen_torch", 1), h.ware("aaa_cell", 1, h.until(2034, 2038)),
		h.ware("small_first_aid", 1, h.until(2027, 2029)), h.ware("pressure_bandage", 1, h.until(2028, 2031)), h.own("wipes", "moist wipes", 30, 52, `can: hygiene: "wipes", `+h.until(2028, 2029)), h.ware("mirror", 1))
	return k
}

// lightest is the adult's pack whose bearer has the least of what they may bear.
func (h *household) lightest() *pack {
	var best *pack
	for _, k := range h.packs {
		if k.carrier != nil && k.carrier.adult() && k.key != "belt" && (best == nil || k.grams*best.carrier.kg < best.grams*k.carrier.kg) {
			best = k
		}
	}
	return best
}

// feed packs food for three days: for each pack what its bearer needs alone, the rest to the lightest.
func (h *household) feed() {
	dry := []string{"oat_bar", "nut_bag", "chocolate", "seed_butter", "sesame_slab", "hard_biscuits", "cheese_crisps", "oil_sachet"}
	warm := []string{"grain_pot", "bean_stew", "porridge"}
	amount, mine := map[*pack]map[string]int{}, map[*pack][]string{}
	put := func(k *pack, key string) int {
		if amount[k] == nil {
			amount[k] = map[string]int{}
		}
		amount[k][key]++
		k.grams += wareOf[key].grams
		return wareOf[key].kcal
	}
	need := 0
	for _, p := range h.people {
		if p.months < 12 {
			continue
		}
		n := 6400
		if p.adult() {
			n += 8 * max(0, p.kg-60)
		}
		need += n
	}
	for _, k := range h.packs {
		if k.carrier == nil || k.key == "belt" {
			continue
		}
		from := h.r.IntN(len(dry))
		mine[k] = []string{"oat_bar", dry[(from+1)%len(dry)], dry[(from+2)%len(dry)], dry[(from+4)%len(dry)]}
		for i, got := 0, 0; got < 3200; i++ {
			n := put(k, mine[k][i%4])
			got += n
			need -= n
		}
		if k.carrier.adult() {
			put(k, "salt_twists")
		}
	}
	for i := 0; need > 0; i++ {
		k := h.lightest()
		key := mine[k][i%4]
		if i%3 == 0 && i < 3*13 { // as many as one cartridge cooks
			key = warm[i/3%len(warm)]
		}
		need -= put(k, key)
	}
	for _, k := range h.packs { // the order of the catalogue, not of a map
		for _, w := range wares {
			if n := amount[k][w.key]; n > 0 {
				k.grams -= n * w.grams // put counts it again
				part := "roll"
				if w.key == "oat_bar" || w.key == "nut_bag" || w.key == "sesame_slab" {
					part = "lid"
				}
				if k.carrier != nil && !k.carrier.adult() {
					part = "front"
				}
				t := h.ware(w.key, n)
				if w.key == "salt_twists" {
					t = h.ware(w.key, n, `rotate: "2029-10-01"`)
				}
				k.put(part, t)
			}
		}
	}
}

// filler adds one small thing.
func (h *household) filler() {
	h.extra++
	k := h.lightest()
	dated := h.until(2028, 2030)
	small := []func(){
		func() {
			k.put("lid", h.own("snack", "dried apple rings", 30, 44, `food: {energy: "90 kcal", sodium: "4 mg", net: "28 g", allergens: []}, `+dated))
		},
		func() {
			k.put("pouch", h.own("light_stick", "light stick", 18, 24, `can: light: "light-stick", `+dated))
		},
		func() { k.put("back", h.own("pencil", "pencil stub", 3, 6, `can: write: "pencil"`)) },
		func() {
			k.put("side", h.own("blister_pads", "blister pads in a bag", 6, 12, `firstAid: blisterPads: 3, `+dated))
		},
		func() { k.put("back", h.own("patch", "repair patch", 3, 8, `can: repair: "patch"`)) },
		func() {
			k.put("main", h.own("nitrile", "thin gloves, pair", 6, 9, `can: gloves: "nitrile", firstAid: gloves: 2`))
		},
		func() { k.put("main", h.ware("cup", 1)) },
		func() { k.put("main", h.own("liner_socks", "liner socks, pair", 24, 34, `insulation: kind: "socks"`)) },
		func() { k.put("back", h.own("glue", "small tube of glue", 7, 12, `can: repair: "glue"`)) },
		func() { k.put("lid", h.own("cards", "pack of cards", 40, 72, `worth: 4, can: comfort: "game"`)) },
		func() { k.put("main", h.ware("towel", 1)) },
		func() { k.put("back", h.ware("notebook", 1)) },
		func() { k.put("side", h.own("plasters", "plasters in a bag", 5, 10, `firstAid: plasters: 6, `+dated)) },
		func() { k.put("back", h.own("spare_cord", "hank of thin cord", 8, 16, `can: repair: "cord"`)) },
		func() {
			k.put("roll", h.own("tea", "tea and sugar for a day", 14, 20, `food: {energy: "40 kcal", sodium: "1 mg", net: "12 g", cookWater: "0.25 L", allergens: []}, `+dated))
		},
		func() { k.put("pouch", h.own("cotton", "cotton wool in a tube", 6, 11, `can: tinder: "cotton"`)) },
	}
	if h.extra <= len(small) {
		small[h.extra-1]()
		return
	}
	k.put("back", h.own("oddment", fmt.Sprintf("mending patch no. %d", h.extra-len(small)), 1, 3, `can: repair: "patch"`))
}
