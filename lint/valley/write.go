package valley

import (
	"fmt"
	"strings"
)

// slip makes the mistakes that families make, each in its share of households:
// our own figures.
func (h *household) slip() {
	r := h.r
	k := h.lightest()
	some := func(change func(*thing) bool) {
		n := h.things()
		for i, at := 0, r.IntN(n); i < n; i++ {
			if t := h.thing((at + i) % n); change(t) {
				return
			}
		}
	}
	swap := func(t *thing, field, with string) bool {
		i := strings.Index(t.text, field+`: "`)
		if i < 0 {
			return false
		}
		from := i + len(field) + 3
		to := from + strings.IndexByte(t.text[from:], '"')
		t.text = t.text[:from] + with + t.text[to:]
		return true
	}
	if chance(r, 60) { // eaten by now, or should be
		some(func(t *thing) bool {
			return t.kcal > 0 && swap(t, "expires", fmt.Sprintf("2026-%02d-15", between(r, 3, 10)))
		})
	}
	if chance(r, 50) { // the lighter lent, the matches used up
		h.leaveOut(k, "gas_lighter", "matches")
	}
	if chance(r, 50) {
		k.put("main", h.own("pan", pick(r, "cast-iron pan", "tool box", "the family album"), 2400, 3900, `worth: 5, pinned: true`))
	}
	if chance(r, 60) { // the strip in use lies in the bathroom
		some(func(t *thing) bool {
			return strings.HasSuffix(t.key, "_tablets") && strings.Contains(t.text, "medicine:") && dropDoses(t, between(r, 2, 5))
		})
	}
	if chance(r, 60) {
		h.weighed = fmt.Sprintf("2024-%02d-%02d", between(r, 2, 11), between(r, 1, 28))
	}
	for chance(r, 400) { // something taken out for a day trip
		h.leaveOut(k, pick(r, "compass", "mirror", "sunscreen", "headlamp", "squeeze_filter", "first_aid", "work_gloves", "pot", "foam_pad", "warm_gloves", "sun_hat",
			"tinder", "hand_gel", "power_bank", "aaa_cells", "radio", "cord", "cloth_tape", "valley_map", "pressure_bandage", "soap", "toilet_paper", "salts", "mask"))
	}
	if chance(r, 2) { // nobody can read this one
		some(func(t *thing) bool { return swap(t, "mass", pick(r, "85 gramms", "1,2,5 kg", "12 onces")) })
	}
}

// dropDoses leaves a medicine for few days.
func dropDoses(t *thing, doses int) bool {
	i := strings.Index(t.text, "doses: ")
	if i < 0 {
		return false
	}
	j := i + len("doses: ")
	end := j + strings.IndexByte(t.text[j:], '}')
	t.text = t.text[:j] + fmt.Sprint(doses) + t.text[end:]
	return true
}

// leaveOut takes things out of a pack.
func (h *household) leaveOut(k *pack, keys ...string) {
	for _, x := range k.parts {
		kept := x.things[:0]
		for _, t := range x.things {
			gone := false
			for _, key := range keys {
				gone = gone || t.key == key
			}
			if !gone {
				kept = append(kept, t)
			}
		}
		x.things = kept
	}
}

// thing is the i-th thing of the household.
func (h *household) thing(i int) *thing {
	for _, p := range h.people {
		if i < len(p.body) {
			return &p.body[i]
		}
		i -= len(p.body)
	}
	for _, k := range h.packs {
		for _, x := range k.parts {
			if i < len(x.things) {
				return &x.things[i]
			}
			i -= len(x.things)
		}
	}
	panic("valley: fewer things than counted")
}

type file struct {
	name string
	text []byte
}

// files writes the household down in one to four files, as families do.
func (h *household) files() []file {
	body, packs := h.onBody(), make([]string, len(h.packs))
	for i, k := range h.packs {
		packs[i] = k.cue()
	}
	all := strings.Join(packs, "\n")
	write := func(name, about string, parts ...string) file {
		return file{name, []byte("// " + about + "\npackage kit\n\n" + strings.Join(parts, "\n"))}
	}
	head := fmt.Sprintf("%s, %s.", h.name, h.place.name)
	switch h.r.IntN(4) {
	case 0:
		return []file{write("household.cue", head, h.about(), body, all)}
	case 1:
		return []file{write("household.cue", head, h.about(), body), write("packs.cue", "What we packed.", all)}
	case 2:
		return []file{write("household.cue", head, h.about()), write("on_body.cue", "What we wear and pocket.", body), write("packs.cue", "What we packed.", all)}
	}
	return []file{
		write("household.cue", head, h.about()), write("on_body.cue", "What we wear and pocket.", body),
		write("pack_one.cue", "The first pack.", packs[0]), write("pack_more.cue", "And the others.", packs[1:]...),
	}
}

func (h *household) about() string {
	r := h.r
	var b strings.Builder
	fmt.Fprintf(&b, "household: %q\n\n_scale: weighed: %q\n\npeople: {\n", h.name, h.weighed)
	for _, p := range h.people {
		fmt.Fprintf(&b, "\t%s: {\n\t\t%s\n\t}\n", p.key, strings.Join(p.text, "\n\t\t"))
	}
	b.WriteString("}\n")
	for _, a := range h.animals {
		fmt.Fprintf(&b, "\nanimals: %s: {%s}\n", a.key, a.text)
	}
	b.WriteString("\nplan: {\n")
	if h.season != "" {
		fmt.Fprintf(&b, "\tseason: %q\n", h.season)
	}
	fmt.Fprintf(&b, "\tlegs: to_green: {order: 1, distance: \"%d00 m\", climb: \"%d m\", ground: \"road\"}\n", between(r, 2, 9), between(r, 0, 40))
	fmt.Fprintf(&b, "\tcontacts: far: {name: %q, phone: \"555 01%02d\", outOfArea: true}\n}\n", pick(r, "sister", "brother", "aunt", "an old friend", "cousins")+" on the coast", between(r, 1, 99))
	heaviest := 0
	for _, k := range h.packs {
		if k.carrier != nil {
			heaviest = max(heaviest, k.grams)
		}
	}
	fmt.Fprintf(&b, "\nrecord: {\n\tweighed: %q\n\taudited: \"2026-%02d-%02d\"\n", h.weighed, between(r, 8, 10), between(r, 1, 28))
	fmt.Fprintf(&b, "\tshakedowns: last: {on: \"2026-%02d-%02d\", distance: \"%d km\", load: \"%d.%d kg\"}\n", between(r, 3, 10), between(r, 1, 28), between(r, 3, 9), heaviest/1000, heaviest%1000/100)
	if len(h.waivers) > 0 {
		fmt.Fprintf(&b, "\twaivers: {\n\t\t%s\n\t}\n", strings.Join(h.waivers, "\n\t\t"))
	}
	b.WriteString("}\n")
	return b.String()
}

func (h *household) onBody() string {
	var b strings.Builder
	for _, p := range h.people {
		if len(p.body) == 0 {
			continue
		}
		fmt.Fprintf(&b, "people: %s: onBody: {\n", p.key)
		lines(&b, "\t", p.body)
		b.WriteString("}\n")
	}
	return b.String()
}

func (k *pack) cue() string {
	var b strings.Builder
	fmt.Fprintf(&b, "packs: %s: {\n\t%s\n", k.key, k.about)
	for _, x := range k.parts {
		fmt.Fprintf(&b, "\tcompartments: %s: {\n\t\t%s\n\t\titems: {\n", x.key, x.about)
		lines(&b, "\t\t\t", x.things)
		b.WriteString("\t\t}\n\t}\n")
	}
	b.WriteString("}\n")
	return b.String()
}

func lines(b *strings.Builder, indent string, things []thing) {
	for _, t := range things {
		fmt.Fprintf(b, "%s%s: %s\n", indent, t.key, t.text)
	}
}
