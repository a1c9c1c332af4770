package rules.base.light_test

import data.lib.testing_test as t
import data.rules.base.light

# Ana, and Mia with these facts, and their lights.
lit(mia, lights) := {
	"people": [t.person({}), t.person(object.union({"id": "people/mia", "name": "Mia", "packs": [], "age_months": 80}, mia))],
	"capabilities": [t.capability("light", lights)],
}

anas := [t.offer("headlamp", {})]

hers(more) := [t.offer("headlamp", {}), t.offer("torch", object.union({"carrier": "people/mia"}, more))]

test_each_pack_one_each if {
	count(light.finding.each_pack) == 0 with input as lit({}, hers({}))
}

test_each_pack_none if {
	light.finding.each_pack == {{
		"at": "people/mia",
		"because": [],
		"text": "Mia has no light to walk by (headlamp, torch, lantern, light-stick)",
	}} with input as lit({}, anas)
}

test_each_pack_stands_at_the_only_pack if {
	light.finding.each_pack == {{
		"at": "packs/kite",
		"because": [],
		"text": "Mia has no light to walk by (headlamp, torch, lantern, light-stick)",
	}} with input as lit({"packs": ["packs/kite"]}, anas)
}

test_each_pack_fewer_than_the_limit if {
	got := {f.text | some f in light.finding.each_pack} with input as lit({}, hers({"count": 2})) with data.limits.base.light.means.value as 3
	got == {
		"Ana has 1 light to walk by (headlamp, torch, lantern, light-stick) and needs 3",
		"Mia has 2 lights to walk by (headlamp, torch, lantern, light-stick) and needs 3",
	}
}

test_each_pack_each_means[means] if {
	some means, bad in {"headlamp": 0, "torch": 0, "lantern": 0, "light-stick": 0, "candle": 1}
	count(light.finding.each_pack) == bad with input as lit({}, [t.offer("headlamp", {}), t.offer(means, {"carrier": "people/mia"})])
}

test_each_pack_not_asked_of_the_very_young if {
	{f.at | some f in light.finding.each_pack} == {"packs/rust"} with input as lit({"age_months": 59}, [])
}

test_each_pack_level_by_age_and_phone[what] if {
	phone := {"alone": t.supply({"can": [t.can("communicate", ["phone"])]})}
	some what, c in {
		"too young": [{"age_months": 59}, {}],
		"small": [{"age_months": 60}, {"warning"}],
		"small and never alone": [{"age_months": 71}, {"warning"}],
		"with a bag": [{"age_months": 72}, {"error"}],
		"with a phone": [object.union({"age_months": 190}, phone), {"note"}],
		"small with a phone": [object.union({"age_months": 61}, phone), {"note"}],
		"with a radio": [{"age_months": 190, "alone": t.supply({"can": [t.can("communicate", ["radio"])]})}, {"error"}],
	}
	got := [object.get(f, "level", "error") | some f in light.finding.each_pack] with input as lit(c[0], anas)
	got == [l | some l in c[1]]
}

test_each_pack_of_who_is_never_alone[what] if {
	some what, c in {
		"one for two": [1, 1],
		"one for each": [2, 0],
	}
	facts := lit({"carries": false}, [t.offer("headlamp", {"count": c[0]})])
	count(light.finding.each_pack) == c[1] with input as facts
}

# Who is asked of nobody's light needs none of the spare ones.
test_each_pack_infant_counts_for_nothing if {
	facts := lit({"age_months": 60, "carries": false}, [t.offer("headlamp", {"count": 2})])
	lin := t.person({"id": "people/lin", "age_months": 59, "carries": false})
	count(light.finding.each_pack) == 0 with input as object.union(facts, {"people": array.concat(facts.people, [lin])})
}

test_each_pack_not_recorded[what] if {
	some what, c in {
		"hers": [t.unread(["light", "light:torch"], {"carrier": "people/mia"}), ["not recorded"]],
		"a candle": [t.unread(["light", "light:candle"], {"carrier": "people/mia"}), [""]],
		"another's": [t.unread(["light", "light:torch"], {}), [""]],
	}
	t.levels(light.finding.each_pack) == c[1] with input as t.with_unread(lit({}, anas), [c[0]])
}

# Also where a group gives a bag earlier.
test_each_pack_not_below_the_age_with_a_bag if {
	count(light.finding.each_pack) == 0 with input as lit({"age_months": 59}, anas) with data.limits.base.people.bag_months.value as 48
}

# Nobody has a lamp, only Ana a phone; the forecast needs so many minutes of light.
dark(short, lights) := object.union(lit({"age_months": 59}, lights), {
	"people": [t.person({"alone": t.supply({"can": [t.can("communicate", ["phone"])]})})],
	"endurance": {"stocks": [{"kind": "water", "need": 9, "short": 9}, {"kind": "light", "need": 60, "short": short}]},
})

test_each_pack_left_to_the_forecast[why] if {
	some why, c in {
		"no lamp, and light is short": [dark(1, []), 0],
		"no lamp, and nobody is in the dark": [dark(0, []), 1],
		"somebody else has one": [dark(1, [t.offer("torch", {"carrier": "people/ben"})]), 1],
		"nor a phone": [object.union(dark(1, []), {"people": [t.person({})]}), 1],
	}
	count(light.finding.each_pack) == c[1] with input as c[0]
}

# Ana's lamp has no cells; others of the household have some.
unlit(mia, more) := object.union(lit(mia, hers({})), {"useless": [t.useless("light", "empty", object.union({"item": "packs/rust/headlamp", "name": "Headlamp", "words": "has no cells", "household": false}, more))]})

test_each_pack_with_an_empty_lamp if {
	light.finding.each_pack == {{
		"at": "packs/rust/headlamp",
		"because": ["packs/rust/headlamp"],
		"text": "Ana has no light to walk by (headlamp, torch, lantern, light-stick); Headlamp has no cells",
	}} with input as unlit({}, {})
	count(light.finding.each_pack) == 0 with input as unlit({}, {"capability": "communicate"})
	count(light.finding.each_pack) == 0 with input as unlit({}, {"item": "packs/rust/other"})
	count(light.finding.each_pack) == 0 with input as unlit({"packs": ["packs/kite"]}, {"carrier": "people/ben"})
}

test_each_pack_with_an_empty_lamp_of_one_never_alone if {
	facts := object.union(unlit({"with": ["people/ana"]}, {"item": "packs/rust/torch", "carrier": "people/mia"}), {})
	count(light.finding.each_pack) == 0 with input as facts
}

# A phone by its name is one, and makes it as mild.
test_each_pack_a_phone_by_its_name if {
	phone := t.unread(["communicate", "communicate:phone"], {"carrier": "people/mia"})
	t.levels(light.finding.each_pack) == ["note"] with input as t.with_unread(lit({}, anas), [phone])
}
