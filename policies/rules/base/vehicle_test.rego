package rules.base.vehicle_test

import data.lib.testing_test as t
import data.rules.base.vehicle

# Two people of 70 kg, a dog of 20 kg and 40 kg of packs and clothes: 200 kg.
go(vehicles, more) := object.union(
	{
		"vehicles": [t.vehicle(v) | some v in vehicles],
		"people": [t.person({}), t.person({"id": "people/ben"})],
		"animals": [t.animal({})],
		"household": t.household({"mass_mg": 40000000}),
		"plan": t.plan({}),
		"packs": [],
		"medicines": [],
		"fuels": [],
		"capabilities": [],
	},
	more,
)

test_payload_at_the_limit if {
	count(vehicle.finding.payload) == 0 with input as go([{"payload_mg": 200000000}], {})
}

test_payload_one_too_many if {
	vehicle.finding.payload == {{
		"at": "vehicles/car/payload",
		"because": ["vehicles/car"],
		"text": "people, animals and packs weigh just over 200.00 kg together; the payload of car is 200.00 kg: over by 1 mg",
		"level": "error",
		"lack": 1,
	}} with input as go([{"payload_mg": 199999999}], {})
}

test_payload_of_two_cars if {
	van := {"id": "vehicles/van", "name": "van", "kind": "van", "payload_mg": 100000000, "used": false}
	bike := {"id": "vehicles/bike", "kind": "bicycle", "payload_mg": 900000000}
	count(vehicle.finding.payload) == 0 with input as go([{"payload_mg": 100000000}, van], {})
	{f.text | some f in vehicle.finding.payload} == {"people, animals and packs weigh 200.00 kg together; the payload of car and van is 190.00 kg: over by 10.00 kg"} with input as go([bike, {"payload_mg": 90000000}, van], {})
}

# A train or a bus is everybody's: neither payload nor seats are asked of it, and it lends none to a car.
test_nothing_asked_of[kind] if {
	some kind in ["train", "bus"]
	count(vehicle.finding.payload) == 0 with input as go([{"kind": kind, "payload_mg": 1, "seats": 1}], {})
	count(vehicle.finding.seats) == 0 with input as go([{"kind": kind, "payload_mg": 1, "seats": 1}], {})
	other := {"id": "vehicles/other", "kind": kind, "payload_mg": 900000000}
	count(vehicle.finding.payload) == 1 with input as go([{"payload_mg": 1}, other], {})
}

test_payload_not_written_is_a_note if {
	heavy := {"household": t.household({"mass_mg": 225000001})}
	count(vehicle.finding.payload) == 0 with input as go([{"payload_known": false}], {"household": t.household({"mass_mg": 225000000})})
	vehicle.finding.payload == {{
		"at": "vehicles/car",
		"because": ["vehicles/car"],
		"text": "people, animals and packs weigh just over 385.00 kg together; the payload of car is 385.00 kg (385.00 kg is assumed for each without a recorded payload): over by 1 mg",
		"level": "note",
		"lack": 1,
	}} with input as go([{"payload_known": false}], heavy)
}

test_nothing_asked_of_a_car_that_stays if {
	still := go([{"used": false, "payload_mg": 1, "load_mg": 2, "seats": 1}, {"id": "vehicles/bike", "kind": "bicycle"}], {})
	count(vehicle.finding.payload) == 0 with input as still
	count(vehicle.finding.seats) == 0 with input as still
}

cart(more) := object.union({"id": "vehicles/cart", "name": "cart", "kind": "cart", "ridden": false, "payload_mg": 30000000, "load_mg": 30000001, "packs": ["packs/rust"]}, more)

test_payload_of_a_cart if {
	vehicle.finding.payload == {{
		"at": "vehicles/cart/payload",
		"because": ["vehicles/cart/load", "packs/rust"],
		"text": "cart carries just over 30.00 kg; its payload is 30.00 kg: over by 1 mg",
		"lack": 1,
	}} with input as go([cart({})], {})
	every more in [{"load_mg": 30000000}, {"payload_known": false, "payload_mg": 0}] {
		count(vehicle.finding.payload) == 0 with input as go([cart(more)], {})
	}
}

test_seats if {
	count(vehicle.finding.seats) == 0 with input as go([{"seats": 2}], {})
	vehicle.finding.seats == {{
		"at": "vehicles/car/seats",
		"text": "car has 1 seat, and the household is 2 people: 1 without a seat",
	}} with input as go([{"seats": 1}], {})
	{f.text | some f in vehicle.finding.seats} == {"car has 2 seats, and the household is 3 people: 1 without a seat"} with input as go([{"seats": 2}], {"household": t.household({"people_count": 3})})
	two := [{"seats": 1}, {"id": "vehicles/van", "name": "van", "kind": "van", "seats": 1}]
	count(vehicle.finding.seats) == 0 with input as go(two, {})
	{f.text | some f in vehicle.finding.seats} == {"car and van have 2 seats, and the household is 4 people: 2 without a seat"} with input as go(two, {"household": t.household({"people_count": 4})})
}

test_seats_not_written_are_not_asked if {
	count(vehicle.finding.seats) == 0 with input as go([{"seats": 0}], {})
	count(vehicle.finding.seats) == 0 with input as go([{"seats": 1}, {"id": "vehicles/van", "kind": "van", "seats": 0}], {})
}

children(ages) := {"people": [t.person({"id": sprintf("people/c%d", [i]), "age_months": a}) | some i, a in ages]}

test_child_seats if {
	count(vehicle.finding.seats) == 0 with input as go([{"seats": 5}], children([96]))
	vehicle.finding.seats == {{
		"at": "vehicles/car",
		"because": ["people/c0"],
		"text": "1 child is under 8 years and no child seat is recorded: write childSeats, or get what is missing",
		"level": "note",
	}} with input as go([{"seats": 5}], children([95]))
	vehicle.finding.seats == {{
		"at": "vehicles/car/childSeats",
		"because": ["people/c0", "people/c1"],
		"text": "2 children are under 8 years and 1 child seat is recorded",
		"level": "warning",
	}} with input as go([{"seats": 5, "child_seats": 1, "child_seats_known": true}], children([95, 20]))
	{f.level | some f in vehicle.finding.seats} == {"warning"} with input as go([{"seats": 5, "child_seats_known": true}], children([95]))
	unsaid := {"id": "vehicles/van", "name": "van", "kind": "van", "seats": 5}
	{f.level | some f in vehicle.finding.seats} == {"note"} with input as go([{"seats": 5, "child_seats_known": true}, unsaid], children([95]))
	count(vehicle.finding.seats) == 0 with input as go([{"seats": 5, "child_seats": 1}], children([95]))
	count(vehicle.finding.seats) == 0 with input as go([{"seats": 0}], children([95]))
	count(vehicle.finding.seats) == 1 with input as go([{"seats": 1}], object.union(children([95]), {"household": t.household({"people_count": 1})}))
}

seated(moves) := {"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben", "moves": moves})]}

test_takes_chair if {
	every moves in ["wheelchair", "power-chair"] {
		vehicle.finding.takes_chair == {{
			"at": "vehicles/car/takesChair",
			"because": ["people/ben"],
			"text": "Ben uses a wheelchair, and car has no room for it",
		}} with input as go([{"takes_chair_known": true}], seated(moves))
	}
	both := {"people": [t.person({"moves": "wheelchair"}), t.person({"id": "people/ben", "name": "Ben", "moves": "power-chair"})]}
	van := {"id": "vehicles/van", "name": "van", "kind": "van", "takes_chair_known": true}
	{f.text | some f in vehicle.finding.takes_chair} == {"Ana and Ben use a wheelchair, and car and van have no room for it"} with input as go([{"takes_chair_known": true}, van], both)
}

test_takes_chair_not_written_is_a_note if {
	van := {"id": "vehicles/van", "kind": "van"}
	vehicle.finding.takes_chair == {{
		"at": "vehicles/van",
		"because": ["people/ben"],
		"level": "note",
		"text": "Ben uses a wheelchair, and whether a vehicle takes it is not recorded: write takesChair",
	}} with input as go([{"takes_chair_known": true}, van], seated("wheelchair"))
}

test_takes_chair_fine[why] if {
	some why, facts in {
		"room": go([{"takes_chair_known": true}, {"id": "vehicles/van", "kind": "van", "takes_chair": true, "takes_chair_known": true}], seated("wheelchair")),
		"walks": go([{"takes_chair_known": true}], seated("cane")),
		"no ride": go([{"takes_chair_known": true, "used": false}], seated("wheelchair")),
	}
	count(vehicle.finding.takes_chair) == 0 with input as facts
}

far(more) := object.union({"range_known": true, "range_mm": 200000000}, more)

test_fuel if {
	count(vehicle.finding.fuel) == 0 with input as go([far({})], {})
	vehicle.finding.fuel == {{
		"at": "vehicles/car/range",
		"text": "car goes 100.0 km on 50 % of its range and should go 120.0 km, 2 times the 60.0 km of the route",
	}} with input as go([far({"used_mm": 60000000})], {})
	every more in [{"used_mm": 50000001}, {"range_mm": 199999999}] {
		count(vehicle.finding.fuel) == 1 with input as go([far(more)], {})
	}
	every more in [{"range_known": false}, {"used": false}] {
		count(vehicle.finding.fuel) == 0 with input as go([far(object.union({"range_mm": 1}, more))], {})
	}
}

test_lost if {
	vehicle.finding.lost == {{
		"at": "vehicles/car",
		"because": ["packs/rust"],
		"text": "if car is lost the household has no drinking water or papers: all of it is in packs that nobody carries or that are kept in the car",
	}} with input as go([{"only": ["drinking water", "papers"], "packs": ["packs/rust"]}], {})
	count(vehicle.finding.lost) == 0 with input as go([{}], {})
}

# A pack kept in the car, with a medicine, a can of gas, a can of spirit and a spray.
kept(plan, pack) := go([{}], {
	"plan": t.plan(plan),
	"packs": [t.pack(object.union({"kept": "car"}, pack)), t.pack({"id": "packs/moss"})],
	"medicines": [t.medicine({"name": "Tablets"}), t.medicine({"id": "packs/moss/x", "pack": "packs/moss", "name": "X"})],
	"fuels": [t.fuel("butane", {"id": "packs/rust/gas", "name": "Gas"}), t.fuel("ethanol", {"id": "packs/rust/spirit"})],
	"capabilities": [t.capability("defend", [t.offer("spray", {"name": "Spray"}), t.offer("alarm", {})])],
})

test_storage_in_heat if {
	vehicle.finding.storage == {
		{"at": "packs/rust/tablets", "text": "Tablets is kept in the car, where it can reach 49.001 °C; 30 °C is the most it stands"},
		{"at": "packs/rust/gas", "text": "Gas is kept in the car, where it can reach 49.001 °C; 49 °C is the most it stands"},
		{"at": "packs/rust/spray", "text": "Spray is kept in the car, where it can reach 49.001 °C; 49 °C is the most it stands"},
	} with input as kept({"day_mc": 27001, "night_mc": -1}, {})
	{f.at | some f in vehicle.finding.storage} == {"packs/rust/tablets"} with input as kept({"day_mc": 27000}, {})
	{f.at | some f in vehicle.finding.storage} == {"packs/rust/tablets"} with input as kept({"day_mc": 8001}, {})
	count(vehicle.finding.storage) == 0 with input as kept({"day_mc": 8000, "night_mc": 0}, {})
}

test_storage_of_each_gas if {
	every gas in ["butane", "gas-mix", "propane"] {
		{f.at | some f in vehicle.finding.storage} == {"packs/rust/fuel"} with input as object.union(kept({"day_mc": 27001}, {}), {"medicines": [], "capabilities": [], "fuels": [t.fuel(gas, {})]})
	}
}

test_storage_in_frost if {
	vehicle.finding.storage == {{"at": "packs/rust/tablets", "text": "Tablets is kept in the car, where it freezes: nights fall to -0.001 °C"}} with input as kept({"day_mc": 8000, "night_mc": -1}, {})
}

# Water in a car or a shed on a night of hard frost; what is filled on leaving and what is elsewhere stays out of it.
iced(plan, pack, vessel) := {
	"plan": t.plan(plan),
	"packs": [t.pack(object.union({"kept": "shed"}, pack)), t.pack({"id": "packs/moss", "kept": "home"})],
	"vessels": [
		t.vessel(object.union({"id": "packs/rust/can", "pack": "packs/rust", "water_ml": 9000}, vessel)),
		t.vessel({"id": "packs/rust/pot", "pack": "packs/rust", "water_ml": 0}),
		t.vessel({"id": "packs/moss/can", "pack": "packs/moss", "water_ml": 4000}),
	],
	"medicines": [],
	"fuels": [],
	"capabilities": [],
}

test_storage_of_water if {
	every place in ["shed", "car"] {
		vehicle.finding.storage == {{
			"at": "packs/rust/can",
			"because": ["packs/rust/can"],
			"text": sprintf("9 L of water is kept in the %s, where it freezes hard: nights fall to -5 °C", [place]),
		}} with input as iced({"night_mc": -5000}, {"kept": place}, {})
	}
	{f.text | some f in vehicle.finding.storage} == {"0.001 L of water is kept in the shed, where it freezes hard: nights fall to -5 °C"} with input as iced({"night_mc": -5000}, {}, {"water_ml": 1})
	every facts in [
		iced({"night_mc": -4999}, {}, {}),
		iced({"night_mc": -5000}, {"kept": "home"}, {}),
		iced({"night_mc": -5000, "season_known": false}, {}, {}),
		iced({"night_mc": -5000}, {}, {"last_minute": true}),
	] {
		count(vehicle.finding.storage) == 0 with input as facts
	}
}

# Of what must not freeze medication/frost speaks, where it is a warning at least.
test_storage_left_to_frost[why] if {
	some why, c in {
		"of the cold chain": [{"cold_chain": true}, {}, "animal_medications", -1, 0],
		"a person's": [{"cold_chain": true}, {}, "medications", -1, 0],
		"not of the cold chain": [{}, {}, "medications", -1, 1],
		"cooled": [{"cold_chain": true}, {"cooled": true}, "medications", -1, 1],
		"another medicine": [{"cold_chain": true}, {"medication": "people/ana/medications/iron"}, "medications", -1, 1],
		"a standard that asks less": [{"cold_chain": true}, {}, "medications", -1000, 1],
	}
	facts := object.union(kept({"day_mc": 8000, "night_mc": -1}, {}), {"medications": [], "animal_medications": [], "medicines": [t.medicine(c[1])]})
	limit := {"limits": [{"area": "medication", "name": "frost_night", "list": false, "value": c[3], "values": []}]}
	count(vehicle.finding.storage) == c[4] with input as object.union(object.union(facts, limit), {c[2]: [t.medication(c[0])]})
}

test_storage_not_asked[what] if {
	some what, facts in {
		"kept at home": kept({"day_mc": 40000}, {"kept": "home"}),
		"no season": kept({"day_mc": 40000, "season_known": false}, {}),
	}
	count(vehicle.finding.storage) == 0 with input as facts
}

test_storage_of_what_is_taken_at_the_last_minute if {
	every plan in [{"day_mc": 27000}, {"day_mc": 0, "night_mc": -1}] {
		late := object.union(kept(plan, {}), {"medicines": [t.medicine({"name": "Tablets", "last_minute": true})]})
		count(vehicle.finding.storage) == 0 with input as late
	}
}

test_bicycle if {
	bike := {"id": "vehicles/bike", "name": "bike", "kind": "bicycle", "packs": ["packs/rust"]}
	count(vehicle.finding.bicycle) == 0 with input as go([object.union(bike, {"payload_known": false, "load_mg": 25000000})], {})
	vehicle.finding.bicycle == {{
		"at": "vehicles/bike",
		"because": ["vehicles/bike/load", "packs/rust"],
		"text": "bike carries just over 25.00 kg; its racks may carry 25.00 kg: over by 1 mg",
	}} with input as go([object.union(bike, {"payload_known": false, "load_mg": 25000001})], {})
	vehicle.finding.bicycle == {{
		"at": "vehicles/bike/payload",
		"because": ["vehicles/bike/load", "packs/rust"],
		"text": "bike carries 9.00 kg; its racks may carry 8.00 kg: over by 1.00 kg",
	}} with input as go([object.union(bike, {"payload_mg": 8000000, "load_mg": 9000000})], {})
	count(vehicle.finding.bicycle) == 0 with input as go([{"load_mg": 900000000}], {})
}

tyres(used, kind, offers) := {
	"vehicles": [{"id": "vehicles/bike", "name": "Bike", "kind": kind, "used": used}],
	"capabilities": [t.capability(c, [t.offer(m, {})]) | some c, m in offers],
	"unrecorded": [],
}

test_flat_tyre if {
	vehicle.finding.flat_tyre == {{
		"at": "vehicles/bike",
		"because": ["vehicles/bike"],
		"text": "Bike has nothing packed to repair a flat tyre",
	}} with input as tyres(true, "bicycle", {"repair": "tape", "mobility": "pump"})
	every may in [["repair", "repair:patch"], ["mobility", "mobility:tube"]] {
		t.levels(vehicle.finding.flat_tyre) == ["not recorded"] with input as t.with_unread(tyres(true, "bicycle", {}), [t.unread(may, {})])
	}
}

test_flat_tyre_fine[what] if {
	some what, facts in {
		"patches": tyres(true, "bicycle", {"repair": "patch"}),
		"a tube": tyres(true, "bicycle", {"mobility": "tube"}),
		"a kit": tyres(true, "bicycle", {"mobility": "patch-kit"}),
		"not ridden": tyres(false, "bicycle", {}),
		"a car": tyres(true, "car", {}),
	}
	count(vehicle.finding.flat_tyre) == 0 with input as facts
}
