package page

// Cautions stand on every page.
var Cautions = []string{
	"This advises, it does not certify. It is worked out from what each family wrote; nobody has looked into the packs. Averages of healthy people by published formulas say nothing about one person: children, old, pregnant and unwell people need more care.",
	"Medicine: the label, the pharmacist and the prescriber decide on doses, storage and dates.",
	"Water: follow the label of each filter and tablet; no treatment takes out chemicals from flood water.",
	"Stoves and fires: outdoors only. Carbon monoxide has no smell and kills in tents, cars and rooms.",
	"Loads: a share of body weight is a limit, not a goal. Children, and people who are unwell or unused to it, should carry less; stop when it hurts.",
	"Heat: rest, shade and drink come before any plan.",
	"Things to defend oneself with, fuels and knives: check local law, and keep them from children.",
	"Radio: who may send on which channel is for local law and the licence to say.",
}
