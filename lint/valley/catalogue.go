package valley

import (
	"fmt"
	"strings"
)

// ware is a kind of thing that the circle buys together.
type ware struct {
	key, name string
	grams     int // of one, as packed
	// also is what else the catalogue says about it, in CUE.
	also string
	kcal int // of one; food only
}

// wares is the shared catalogue. Masses and labels are invented.
var wares = []ware{
	{"soft_bottle", "soft bottle 1 L", 38, `container: capacity: "1 L"`, 0},
	{"small_bottle", "bottle 0.5 L", 52, `container: capacity: "0.5 L"`, 0},
	{"water_bag", "folding water bag 3 L", 46, `container: capacity: "3 L"`, 0},
	{"squeeze_filter", "squeeze filter", 79, `treat: {method: "filter", litres: "1000 L"}`, 0},
	{"straw_filter", "straw filter", 47, `treat: {method: "filter", litres: "500 L"}`, 0},
	{"slow_tablets", "chlorine dioxide tablets, strip of 20", 18, `treat: {method: "chlorine-dioxide", litres: "20 L", wait: "4 h"}`, 0},
	{"quick_tablets", "chlorine tablets, strip of 20", 15, `treat: {method: "chlorine", litres: "20 L", wait: "1 h"}`, 0},

	{"gas_lighter", "gas lighter", 16, `can: fire: "gas-lighter"`, 0},
	{"matches", "matches in a screw tube", 22, `can: fire: "matches", waterproof: true`, 0},
	{"ferro_rod", "ferro rod and scraper", 28, `can: fire: "ferro-rod"`, 0},
	{"tinder", "waxed cotton pads in a tin", 21, `can: tinder: "wax", waterproof: true`, 0},
	{"gas_stove", "screw-on gas stove", 88, `can: cook: "gas-stove", stove: burns: ["gas-mix"]`, 0},
	{"gas_cartridge", "gas cartridge, small", 192, `fuel: {kind: "gas-mix", mass: "100 g"}`, 0},
	{"pot", "pot 0.9 L with lid", 121, `container: {capacity: "0.9 L", fireSafe: true}, treat: {method: "boil", wait: "1 min"}`, 0},
	{"spoon", "long spoon", 10, `can: eat: "utensils"`, 0},
	{"cup", "folding cup", 24, `can: eat: "cup"`, 0},

	{"oat_bar", "oat and nut bar", 98, `food: {energy: "505 kcal", sodium: "180 mg", protein: "10 g", net: "95 g", allergens: ["nuts", "gluten"]}`, 505},
	{"nut_bag", "roasted nuts, salted", 82, `food: {energy: "490 kcal", sodium: "300 mg", protein: "17 g", net: "80 g", allergens: ["nuts"]}`, 490},
	{"chocolate", "dark chocolate", 102, `food: {energy: "570 kcal", sodium: "12 mg", protein: "8 g", net: "100 g", allergens: ["milk"]}`, 570},
	{"seed_butter", "sunflower butter sachet", 42, `food: {energy: "250 kcal", sodium: "90 mg", protein: "8 g", net: "40 g", allergens: []}`, 250},
	{"sesame_slab", "sesame and honey slab", 62, `food: {energy: "320 kcal", sodium: "20 mg", protein: "7 g", net: "60 g", allergens: ["sesame"]}`, 320},
	{"hard_biscuits", "hard biscuits", 104, `food: {energy: "460 kcal", sodium: "520 mg", protein: "9 g", net: "100 g", allergens: ["gluten"]}`, 460},
	{"cheese_crisps", "baked cheese crisps", 44, `food: {energy: "228 kcal", sodium: "480 mg", protein: "17 g", net: "42 g", allergens: ["milk"]}`, 228},
	{"oil_sachet", "rapeseed oil sachet", 22, `food: {energy: "178 kcal", sodium: "0 mg", net: "20 g", allergens: []}`, 178},
	{"porridge", "porridge with milk powder", 78, `food: {energy: "310 kcal", sodium: "80 mg", protein: "11 g", net: "74 g", cookWater: "0.25 L", cookTime: "3 min", allergens: ["milk", "gluten"]}`, 310},
	{"grain_pot", "buckwheat with mushrooms", 132, `food: {energy: "520 kcal", sodium: "880 mg", protein: "15 g", net: "124 g", cookWater: "0.35 L", cookTime: "9 min", allergens: []}`, 520},
	{"bean_stew", "bean stew, dried", 129, `food: {energy: "505 kcal", sodium: "990 mg", protein: "26 g", net: "120 g", cookWater: "0.4 L", cookTime: "10 min", allergens: []}`, 505},
	{"salt_twists", "salt, twists of 1 g", 12, `food: {energy: "0 kcal", salt: "10 g", net: "10 g", allergens: []}`, 0},

	{"tarp", "tarp 3 m × 3 m with lines and pegs", 396, `can: shelter: "tarp"`, 0},
	{"bivy", "breathable bivy bag", 231, `can: shelter: "bivy"`, 0},
	{"rescue_blanket", "emergency blanket", 56, `can: {shelter: "emergency-blanket", warmth: "emergency-blanket"}, firstAid: rescueBlanket: 1`, 0},
	{"quilt", "quilt for cold nights", 585, `can: warmth: "quilt", insulation: {kind: "quilt", comfort: "-4 °C"}`, 0},
	{"child_quilt", "quilt, child's size", 360, `can: warmth: "quilt", insulation: {kind: "quilt", comfort: "-4 °C"}`, 0},
	{"foam_pad", "foam pad, shoulder to knee", 198, `can: ground: "foam-pad", insulation: kind: "pad"`, 0},
	{"poncho", "poncho", 236, `can: {rain: "poncho", shelter: "poncho"}`, 0},
	{"child_poncho", "poncho, child's size", 148, `can: rain: "poncho"`, 0},
	{"socks", "wool socks, pair", 61, `insulation: kind: "socks"`, 0},
	{"wool_hat", "wool hat", 48, `insulation: kind: "hat"`, 0},
	{"warm_gloves", "knitted gloves", 54, `can: gloves: "warm", insulation: kind: "gloves"`, 0},
	{"sun_hat", "cotton sun hat", 51, `can: sun: "hat"`, 0},
	{"sunscreen", "sunscreen 30 mL", 41, `can: sun: "sunscreen"`, 0},

	{"headlamp", "headlamp", 82, `can: light: "headlamp", device: {size: "AAA", cells: 3, runTime: "45 h"}`, 0},
	{"pen_torch", "pen torch", 34, `can: light: "torch", device: {size: "AAA", cells: 1, runTime: "20 h"}`, 0},
	{"aaa_cell", "AAA lithium cell in a sleeve", 9, `cells: {size: "AAA", chemistry: "lithium", capacity: "1100 mAh"}`, 0},
	{"aaa_cells", "AAA lithium cells, set of 3", 24, `cells: {size: "AAA", chemistry: "lithium", cells: 3, capacity: "1100 mAh"}`, 0},
	{"power_bank", "power bank", 178, `cells: {size: "usb", chemistry: "lithium-ion", energy: "37 Wh"}`, 0},
	{"cable", "charging cable", 19, `can: charge: "cable"`, 0},
	{"radio", "pocket radio", 112, `can: communicate: "receiver", device: {size: "AAA", cells: 3, runTime: "50 h"}, radio: receives: ["am", "fm", "weather"]`, 0},
	{"whistle", "whistle on a cord", 12, `can: signal: "whistle"`, 0},
	{"mirror", "signal mirror", 20, `can: signal: "mirror"`, 0},
	{"valley_map", "valley map", 58, `can: navigate: "map", documents: ["map"], covers: ["town", "woodland"]`, 0},
	{"compass", "baseplate compass", 31, `can: navigate: "compass"`, 0},

	{"first_aid", "first aid pouch", 214, `can: first_aid: "kit", firstAid: {plasters: 12, dressings: 4, bandages: 2, triangular: 1, gloves: 4, antiseptic: 6, tape: 1, tweezers: 1, scissors: 1, blisterPads: 4, burnGel: 1, guide: 1}`, 0},
	{"small_first_aid", "small first aid bag", 79, `can: first_aid: "dressings", firstAid: {plasters: 8, dressings: 2, bandages: 1, gloves: 2, antiseptic: 4}`, 0},
	{"pressure_bandage", "pressure bandage", 71, `can: bleeding: "pressure-bandage", firstAid: pressureBandage: 1`, 0},
	{"salts", "rehydration salts, sachet for 1 L", 21, `firstAid: rehydration: 1`, 0},
	{"mask", "FFP2 mask", 10, `can: breathe: "ffp2"`, 0},

	{"brush", "toothbrush and small paste", 34, `can: hygiene: "toothbrush"`, 0},
	{"soap", "piece of soap in a bag", 31, `can: hygiene: "soap"`, 0},
	{"hand_gel", "hand gel 50 mL", 57, `can: hygiene: "hand-gel"`, 0},
	{"toilet_paper", "toilet paper, flat roll", 49, `can: hygiene: "toilet-paper"`, 0},
	{"toilet_bag", "toilet bag with gelling powder", 27, `can: hygiene: "toilet-bag"`, 0},
	{"nappy", "nappy", 28, `can: hygiene: "nappies"`, 0},
	{"menstrual", "menstrual things in a bag", 74, `can: hygiene: "menstrual"`, 0},
	{"towel", "thin towel", 52, `can: hygiene: "towel"`, 0},

	{"cord", "cord 12 m", 51, `can: repair: "cord"`, 0},
	{"cloth_tape", "cloth tape on a card", 38, `can: repair: "tape"`, 0},
	{"sewing", "needles, thread and pins", 15, `can: repair: "needle"`, 0},
	{"multi_tool", "multi-tool", 158, `can: {cut: "multi-tool", open_cans: "multi-tool"}`, 0},
	{"work_gloves", "work gloves", 78, `can: gloves: "work"`, 0},
	{"pack_liner", "pack liner", 62, `waterproof: true`, 0},
	{"notebook", "notebook and pencil", 36, `can: write: "pencil"`, 0},
	{"tap_key", "four-way tap key", 92, `can: open_taps: "tap-key"`, 0},
}

var wareOf = func() map[string]ware {
	m := map[string]ware{}
	for _, w := range wares {
		m[w.key] = w
	}
	return m
}()

func catalogueFile() []byte {
	var b strings.Builder
	b.WriteString("// What the circle buys together, weighed in the hall; dates stand at whoever owns the thing.\npackage kit\n\n_hall: weighed: \"2026-09-19\"\n\n_catalogue: {\n")
	for _, w := range wares {
		fmt.Fprintf(&b, "\t%s: _hall & {name: %q, mass: \"%d g\", %s}\n", w.key, w.name, w.grams, w.also)
	}
	b.WriteString("}\n")
	return []byte(b.String())
}
