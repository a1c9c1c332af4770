package rules.base.low_profile_test

import data.lib.testing_test as t
import data.rules.base.low_profile

quiet(more) := object.union({"plan": t.plan({"low_profile": true}), "people": []}, more)

loud(more) := object.union({"plan": t.plan({"low_profile": false}), "people": []}, more)

coloured(colours, more) := {"packs": [t.pack(object.union({"colours": colours}, more))]}

told(colours) := {{
	"at": "packs/rust/colours",
	"text": sprintf("pack “Rust” can be seen from afar (%s), and the plan wants a low profile", [colours]),
}}

test_loud_pack_each_colour if {
	every colour in ["red", "orange", "yellow", "pink", "white", "lime", "bright blue", "Neon Green", "fluorescent green", "hi-vis", "Red"] {
		low_profile.finding.loud_pack == told(colour) with input as quiet(coloured([colour], {}))
	}
}

test_loud_pack_names_the_loud_ones if {
	low_profile.finding.loud_pack == told("orange and red") with input as quiet(coloured(["black", "orange", "red"], {}))
}

test_loud_pack_quiet_colours if {
	count(low_profile.finding.loud_pack) == 0 with input as quiet(coloured(["wine red", "moss green", "grey"], {}))
}

test_loud_pack_not_asked_of_children if {
	count(low_profile.finding.loud_pack) == 0 with input as quiet(coloured(["red"], {"carrier_adult": false}))
}

test_loud_pack_asked_of_animals if {
	count(low_profile.finding.loud_pack) == 1 with input as quiet(coloured(["red"], {"carrier_kind": "animal"}))
}

test_loud_pack_not_asked_without_a_wish if {
	count(low_profile.finding.loud_pack) == 0 with input as loud(coloured(["red"], {}))
}

styled(style) := {"packs": [t.pack({"style": style})]}

test_service_style_service if {
	low_profile.finding.service_style == {{
		"at": "packs/rust/style",
		"text": "pack “Rust” is in the service style, and the plan wants a low profile",
	}} with input as quiet(styled("service"))
}

test_service_style_others[style] if {
	some style in ["", "everyday", "outdoor", "sport", "work"]
	count(low_profile.finding.service_style) == 0 with input as quiet(styled(style))
}

test_service_style_not_asked_without_a_wish if {
	count(low_profile.finding.service_style) == 0 with input as loud(styled("service"))
}

jacket(more) := {
	"people": [t.person({}), t.person({"id": "people/mia", "adult": false})],
	"items": [t.item(object.union({"id": "packs/rust/jacket", "name": "Jacket", "visibility": "loud"}, more))],
}

test_loud_item_on_show[reach] if {
	some reach in ["walking", "on-body"]
	low_profile.finding.loud_item == {{
		"at": "packs/rust/jacket/visibility",
		"text": "Jacket is loud and worn or within reach while walking, and the plan wants a low profile",
	}} with input as quiet(jacket({"reach": reach}))
}

test_loud_item_not_asked[what] if {
	some what, more in {
		"packed away": {"reach": "halted"},
		"plain": {"visibility": "plain"},
		"reflective": {"visibility": "reflective"},
		"not written": {"visibility": ""},
		"calls for help": {"can": ["shelter", "signal"]},
		"a child's": {"carrier": "people/mia"},
		"none of it": {"count": 0},
	}
	count(low_profile.finding.loud_item) == 0 with input as quiet(jacket(more))
}

test_loud_item_not_asked_without_a_wish if {
	count(low_profile.finding.loud_item) == 0 with input as loud(jacket({}))
}

cup(more) := {"items": [t.item(object.union({"id": "packs/rust/cup", "name": "Cup", "noisy": true}, more))]}

test_noise_rattles if {
	low_profile.finding.noise == {{
		"at": "packs/rust/cup/noisy",
		"text": "Cup makes noise at each step, and the plan wants a low profile",
	}} with input as quiet(cup({}))
}

test_noise_not_asked[what] if {
	some what, more in {
		"still": {"noisy": false},
		"none of it": {"count": 0},
	}
	count(low_profile.finding.noise) == 0 with input as quiet(cup(more))
}

test_noise_not_asked_without_a_wish if {
	count(low_profile.finding.noise) == 0 with input as loud(cup({}))
}
