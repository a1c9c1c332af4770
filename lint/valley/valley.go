// Package valley makes up repositories of households of any size: families of
// the Harrow Valley that do not exist, with packs much like real ones. They are
// what speed and memory are measured on, and what a group's first run looks like:
// most households are in good order, some have the slips that families make.
//
// Names are put together from syllables. Masses, labels and medicines are
// plausible and looked up nowhere: none of this is advice.
package valley

import (
	"fmt"
	"iter"
	"math/rand/v2"
	"path"
	"strings"
)

// On is the day, year-month-day, for which the households are written: as of
// then nothing is out of date that is not meant to be.
const On = "2026-11-01"

// Options say what is made up.
type Options struct {
	Households int
	// Items is about how many things each household has, on the body and in
	// packs; a large family has more, because each of its members needs some.
	Items int
	// Seed leads to the same bytes whenever it is the same. A longer valley of one
	// seed begins with the households of a shorter one.
	Seed uint64
}

// perVillage is how many households share the folder of a village.
const perVillage = 25

// Files gives the repository, file by file: slash paths and what stands in them.
func Files(o Options) iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		if !yield("cue.mod/module.cue", []byte("module: \"harrow-valley.example/kits@v0\"\nlanguage: version: \"v0.17.0\"\n")) ||
			!yield("catalogue.cue", catalogueFile()) || !yield("valley.cue", []byte(valleyFile)) {
			return
		}
		names := syllables(source(o.Seed, 0, 0))
		for v := 0; v*perVillage < o.Households; v++ {
			r := source(o.Seed, 1, uint64(v))
			folder := names[v%len(names)]
			if round := v / len(names); round > 0 {
				folder += fmt.Sprint("_", round+1)
			}
			p := newPlace(r, folder)
			if !yield(path.Join(folder, "village.cue"), p.file()) {
				return
			}
			families := syllables(r)
			for i := v * perVillage; i < min(o.Households, (v+1)*perVillage); i++ {
				name := families[i%perVillage]
				h := newHousehold(source(o.Seed, 2, uint64(i)), title(name), p, o.Items)
				for _, f := range h.files() {
					if !yield(path.Join(folder, name, f.name), f.text) {
						return
					}
				}
			}
		}
	}
}

// source is a stream of chance of its own for each thing made up, so that
// one household does not depend on how many others there are.
func source(seed, kind, i uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, kind<<56|i)) }

// syllables gives the names that two syllables make, each once, in an order of chance.
func syllables(r *rand.Rand) []string {
	first := []string{"al", "bren", "cor", "dun", "el", "fen", "gar", "hol", "ist", "jor", "kel", "lun", "mor", "nev", "os", "per", "quil", "ros", "sel", "tor", "ul", "ven", "wil", "yar"}
	last := []string{"badel", "cotta", "dorin", "fask", "gonda", "hurn", "keth", "lomar", "minda", "nesk", "pello", "rask", "sundel", "tove", "vand", "zell"}
	var out []string
	for _, a := range first {
		for _, b := range last {
			out = append(out, a+b)
		}
	}
	r.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// given is a first name that nobody in the household has yet.
func (h *household) given() string {
	for {
		a := pick(h.r, "a", "be", "ci", "do", "e", "fa", "ge", "ha", "i", "jo", "ka", "lu", "me", "no", "o", "pi", "ru", "sa", "ti", "u", "vo", "wa", "ye", "zu")
		n := a + pick(h.r, "bru", "dil", "fen", "gor", "kim", "lva", "mne", "nto", "pra", "rsk", "sdo", "tul", "vek", "wen")
		if h.r.IntN(3) > 0 {
			n += pick(h.r, "a", "e", "i", "o")
		}
		if !h.taken[n] {
			h.taken[n] = true
			return n
		}
	}
}

func pick[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

func between(r *rand.Rand, low, high int) int { return low + r.IntN(high-low+1) }

// chance is true so many times in a thousand.
func chance(r *rand.Rand, permille int) bool { return r.IntN(1000) < permille }

func title(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// date is some day of the years from one to the other.
func date(r *rand.Rand, from, to int) string {
	return fmt.Sprintf("%d-%02d-%02d", between(r, from, to), between(r, 1, 12), between(r, 1, 28))
}

const valleyFile = `// What every household of the valley plans for.
package kit

plan: {
	duration: "72 h"
	seasons: {
		flood: {day: "11 °C", night: "4 °C", humidity: "88 %", daylight: "9 h 45 min"}
		hot: {day: "31 °C", night: "17 °C", humidity: "45 %", daylight: "15 h 15 min"}
		winter: {day: "3 °C", night: "-4 °C", humidity: "84 %", daylight: "8 h 30 min"}
	}
	contacts: circle: {name: "telephone tree of the circle", phone: "555 0100"}
}
`

// place is a village: what its households share.
type place struct {
	name     string
	settings string
	height   int // m
	km10     int // to the refuge, in tenths of a km
	climb    int // m
	ground   string
}

func newPlace(r *rand.Rand, name string) *place {
	return &place{
		name: title(name), settings: pick(r, `["town", "woodland"]`, `["woodland"]`, `["town"]`), height: between(r, 90, 480),
		km10: between(r, 28, 64), climb: between(r, 30, 210), ground: pick(r, "road", "dirt", "grass"),
	}
}

func (p *place) file() []byte {
	return fmt.Appendf(nil, `// What the households of %[1]s share: the way up, and where to meet.
package kit

plan: {
	season:   string | *"flood"
	settings: %[2]s
	altitude: "%[3]d m"
	legs: to_refuge: {order: 2, distance: "%[4]d.%[5]d km", climb: "%[6]d m", ground: "%[7]s"}
	waterSources: {
		green_tap: {quality: "tap", leg: "to_green"}
		refuge_stream: {quality: "clear", leg: "to_refuge"}
	}
	meetingPoints: {
		green: where:  "the green of %[1]s, under the lamp"
		refuge: where: "the refuge above %[1]s, south door"
	}
}
`, p.name, p.settings, p.height, p.km10/10, p.km10%10, p.climb, p.ground)
}
