package rules.base.vehicle

import data.lib

# METADATA
# title: People and goods stay within each vehicle's payload
# description: >-
#   The label on a car's door pillar says what people and goods may weigh together. All people and animals, all packs, what
#   they wear and what rides in the vehicle count; what else is in it is not known. Several cars, vans and motorcycles count
#   together. If no payload is recorded, that of a small car is assumed, and the finding is a note. A cart or a pushchair is
#   judged by what rides in it, a train or a bus not at all.
# custom:
#   level: error
#   remedy: Leave the heaviest goods, take the roof box off, or go twice; write the payload from the label.
#   mend: {work: leave}
#   sources:
#     - "US label on the door pillar, as owners' manuals quote it: the combined mass of occupants and cargo never exceeds the figure; seen in a copy"
#     - "Without a label 385 kg: just under what manuals print for a small car (900 lb, 408 kg); the figure is our own"
#   limits: [vehicle.payload]
#   lack: {what: weight over the payload, unit: mg}
#   caution: Goods on the roof or on a rack count too. Tie down what is heavy; it flies in a crash.
#   passes: |
#     vehicles: car: {kind: "car", payload: "450 kg"}
#     plan: legs: one: {order: 1, distance: "20 km", by: "car"}
#   fails: |
#     vehicles: car: {kind: "car", payload: "50 kg"}
#     plan: legs: one: {order: 1, distance: "20 km", by: "car"}
finding.payload contains f if {
	v := _driven[0]
	most := sum([_payload(d) | some d in _driven])
	all := sum([p.body_mass_mg | some p in input.people]) + (sum([a.body_mass_mg | some a in input.animals]) + input.household.mass_mg)
	over := all - most
	over > 0
	f := {
		"at": _payload_at(v),
		"because": [v.id],
		"text": sprintf("people, animals and packs weigh %s together; the payload of %s is %s%s: over by %s", [
			lib.over(lib.kg(all), lib.kg(most)),
			lib.and_list([d.name | some d in _driven]),
			lib.kg(most),
			_taken,
			lib.mass(over),
		]),
		"level": _payload_level,
		"lack": over,
	}
}

finding.payload contains f if {
	some v in input.vehicles
	not v.ridden
	v.payload_known
	over := v.load_mg - v.payload_mg
	over > 0
	f := {
		"at": _payload_at(v),
		"because": array.concat([sprintf("%s/load", [v.id])], v.packs),
		"text": sprintf("%s carries %s; its payload is %s: over by %s", [
			v.name,
			lib.over(lib.kg(v.load_mg), lib.kg(v.payload_mg)),
			lib.kg(v.payload_mg),
			lib.mass(over),
		]),
		"lack": over,
	}
}

_payload_at(v) := sprintf("%s/payload", [v.id]) if v.payload_known

_payload_at(v) := v.id if not v.payload_known

_payload(v) := v.payload_mg if v.payload_known

_payload(v) := lib.limit("vehicle", "payload") if not v.payload_known

_payload_level := "error" if {
	every v in _driven { v.payload_known }
} else := "note"

_taken := "" if {
	every v in _driven { v.payload_known }
} else := sprintf(" (%s is assumed for each without a recorded payload)", [lib.inside(lib.kg(lib.limit("vehicle", "payload")))])

# What people drive in, all together: where one is used, the others go along.
_driven := [v | some v in input.vehicles; _motor(v)] if {
	some used in input.vehicles
	used.used
	_motor(used)
} else := []

_motor(v) if {
	v.ridden
	not v.kind in {"bicycle", "train", "bus"}
}

# METADATA
# title: Everyone who rides has a seat
# description: >-
#   Each person needs a seat with a belt, and a small child a child seat. The seats of all cars, vans and motorcycles count
#   together; if none are recorded nothing is judged. Which children need a child seat depends on local law; this rule goes
#   by an age.
# custom:
#   level: error
#   remedy: Go twice, ask a neighbour for seats, or write the seats there are.
#   mend: {work: decide}
#   sources:
#     - "New York City, on children in cars: a child seat or a booster until the eighth birthday; seen on the city's page; other places differ"
#     - "A seat with a belt for each: common practice, no source"
#   limits: [vehicle.child_seat_months]
#   caution: Nobody rides on a lap or in the boot. Never leave a child or an animal in a parked car.
#   passes: |
#     vehicles: car: {kind: "car", payload: "450 kg", seats: 5}
#     plan: legs: one: {order: 1, distance: "20 km", by: "car"}
#   fails: |
#     people: mia: {age: "3 y", bodyMass: "14 kg"}
#     vehicles: car: {kind: "car", payload: "450 kg", seats: 1}
#     plan: legs: one: {order: 1, distance: "20 km", by: "car"}
finding.seats contains f if {
	first := _driven[0]
	every v in _driven { v.seats > 0 }
	seats := sum([v.seats | some v in _driven])
	people := input.household.people_count
	short := people - seats
	short > 0
	f := {
		"at": sprintf("%s/seats", [first.id]),
		"text": sprintf("%s %s, and the household is %s: %d without a seat", [
			lib.and_list([v.name | some v in _driven]),
			_has(seats),
			lib.people(people),
			short,
		]),
	}
}

finding.seats contains f if {
	every v in _driven { v.seats > 0 }
	months := lib.limit("vehicle", "child_seat_months")
	small := [p | some p in input.people; lib.younger(p, months)]
	seats := sum([v.child_seats | some v in _driven])
	short := count(small) - seats
	short > 0
	f := {
		"at": _seats_at(_driven[0]),
		"because": [p.id | some p in small],
		"text": sprintf("%s under %s and %s%s", [
			lib.many(count(small), "child is", "children are"),
			lib.age(months),
			_child_seats(seats),
			_seats_unsaid,
		]),
		"level": _small_level,
	}
}

_child_seats(0) := "no child seat is recorded"

_child_seats(n) := lib.many(n, "child seat is recorded", "child seats are recorded") if n > 0

_seats_at(v) := sprintf("%s/childSeats", [v.id]) if v.child_seats_known

_seats_at(v) := v.id if not v.child_seats_known

_seats_unsaid := "" if _seats_said

_seats_unsaid := ": write childSeats, or get what is missing" if not _seats_said

_small_level := "warning" if _seats_said

_small_level := "note" if not _seats_said

# How many child seats there are is written of each vehicle, none too.
_seats_said if {
	every v in _driven { v.child_seats_known }
}

_has(1) := "has 1 seat"

_has(n) := sprintf("have %d seats", [n]) if count(_driven) > 1

_has(n) := sprintf("has %d seats", [n]) if {
	n != 1
	count(_driven) == 1
}

# METADATA
# title: A vehicle has room for the wheelchair
# description: >-
#   A person who uses a wheelchair is stranded without it at the end of the drive, and no power chair folds into a boot. If
#   the household drives, at least one vehicle has room for the chair. If that is not recorded for a vehicle, it is a note.
# custom:
#   level: error
#   remedy: "Arrange a vehicle that takes the chair, with its ramp or straps, and write takesChair: true there; ask who drives people with disabilities in an evacuation."
#   mend: {work: decide}
#   sources:
#     - "Ready.gov/FEMA, people with disabilities, plan accessible transportation for an evacuation; year not seen; from memory"
#     - "That one vehicle takes the chair: common practice, no source"
#   limits: [mobility.chairs]
#   caution: Tie the chair down, empty or not; a loose one flies in a crash. Nobody rides in a chair that is not made for it.
#   passes: |
#     people: ana: moves: "wheelchair"
#     vehicles: van: {kind: "van", payload: "600 kg", takesChair: true}
#     plan: legs: one: {order: 1, distance: "20 km", by: "van"}
#   fails: |
#     people: ana: moves: "wheelchair"
#     vehicles: car: {kind: "car", payload: "450 kg", takesChair: false}
#     plan: legs: one: {order: 1, distance: "20 km", by: "car"}
finding.takes_chair contains f if {
	v := _driven[0]
	riders := [p | some p in input.people; p.moves in lib.limit("mobility", "chairs")]
	[d | some d in _driven; d.takes_chair] == []
	f := object.union({"because": [p.id | some p in riders]}, _no_chair(v, riders))
}

_no_chair(v, riders) := {
	"at": sprintf("%s/takesChair", [v.id]),
	"text": sprintf("%s a wheelchair, and %s no room for it", [_moving(riders), _has_verb(_driven)]),
} if {
	every d in _driven { d.takes_chair_known }
} else := {
	"at": [d.id | some d in _driven; not d.takes_chair_known][0],
	"level": "note",
	"text": sprintf("%s a wheelchair, and whether a vehicle takes it is not recorded: write takesChair", [_moving(riders)]),
}

_moving([p]) := sprintf("%s uses", [p.name])

_moving(people) := sprintf("%s use", [lib.names(people)]) if count(people) > 1

_has_verb([v]) := sprintf("%s has", [v.name])

_has_verb(list) := sprintf("%s have", [lib.names(list)]) if count(list) > 1

# METADATA
# title: Half a tank covers the route with a reserve
# description: >-
#   Pumps fail when the power does, and a closed road doubles the way. With half a tank or a half full
#   battery the vehicle goes at least twice as far as the legs by it. Judged where its range is written.
# custom:
#   level: warning
#   remedy: Fill up or charge when half is left, and plan a nearer place or a stop.
#   mend: {work: decide}
#   sources:
#     - "Half a tank always: the county of Sacramento's preparedness page; seen on its own page"
#     - "Twice as far: common practice, no source"
#   limits: [vehicle.tank_share, vehicle.way_share]
#   caution: Carry no fuel cans inside.
#   passes: |
#     vehicles: car: {kind: "car", payload: "450 kg", range: "600 km"}
#     plan: legs: one: {order: 1, distance: "120 km", by: "car"}
#   fails: |
#     vehicles: car: {kind: "car", payload: "450 kg", range: "300 km"}
#     plan: legs: one: {order: 1, distance: "120 km", by: "car"}
finding.fuel contains f if {
	some v in input.vehicles
	v.used
	v.range_known
	reach := v.range_mm * lib.limit("vehicle", "tank_share")
	way := v.used_mm * lib.limit("vehicle", "way_share")
	reach < way
	f := {
		"at": sprintf("%s/range", [v.id]),
		"text": sprintf("%s goes %s on %s of its range and should go %s, %s times the %s of the route", [
			v.name,
			lib.km(lib.down(reach, 1000)),
			lib.share(lib.limit("vehicle", "tank_share")),
			lib.km(lib.up(way, 1000)),
			lib.milli(lib.limit("vehicle", "way_share")),
			lib.km(v.used_mm),
		]),
	}
}

# METADATA
# title: The household keeps the essentials if a vehicle is lost
# description: >-
#   A car can be blocked, stolen or stuck in a jam, and then packs that nobody carries or that are kept in the car are gone.
#   People carry or wear some of the drinking water, medication, papers, warmth, food and light.
# custom:
#   level: warning
#   remedy: Put some of it in a bag by the door that someone carries.
#   mend: {work: move}
#   sources:
#     - "That a car may have to be left: 51 % drove in the tsunami of 2011, at 9 km/h on average; a survey of a ministry, seen second-hand"
#     - "What must not be lost with it: common practice, no source"
#   limits: []
#   caution: Keep a small bag each on the lap, not in the boot.
#   passes: |
#     vehicles: car: {kind: "car", payload: "450 kg"}
#     packs: rust: {vehicle: "car", compartments: lid: items: bottle: {mass: "100 g", water: "1 L"}}
#   fails: |
#     vehicles: car: {kind: "car", payload: "450 kg"}
#     packs: rust: {vehicle: "car", kept: "car", compartments: lid: items: bottle: {mass: "100 g", water: "1 L"}}
finding.lost contains f if {
	some v in input.vehicles
	f := {
		"at": v.id,
		"because": v.packs,
		"text": sprintf("if %s is lost the household has no %s: all of it is in packs that nobody carries or that are kept in the car", [v.name, lib.or_list(v.only)]),
	}
}

# METADATA
# title: Heat and frost spoil nothing kept in the car
# description: >-
#   A parked car in the sun gets far hotter than the air, and at night as cold as the air. Medication, gas and spray cans in
#   packs that are kept in the car are compared with the season, and in hard frost drinking water too, in a shed as in a car.
#   Without a season nothing is judged. medication/frost speaks of medicine that must not freeze.
# custom:
#   level: warning
#   remedy: Keep the pack indoors, or take these things in at night and in summer and put a note on the pack.
#   mend: {work: move}
#   sources:
#     - "Air in a closed car rises by about 22 °C (40 °F) within the hour: a published test, seen in a copy"
#     - "Medicine: the usual label, up to 30 °C and not frozen, from memory; pressurised cans: the usual label, below 49 or 50 °C"
#   limits: [vehicle.gases, vehicle.ice_mc, vehicle.rise_mc, vehicle.medicine_mc, vehicle.can_mc, vehicle.frost_mc, medication.frost_night]
#   caution: A glove box is hotter still. Do not throw away the only medicine you have; ask a pharmacist.
#   passes: |
#     vehicles: car: {kind: "car", payload: "450 kg"}
#     plan: {season: "mild", seasons: mild: {day: "5 °C", night: "2 °C", daylight: "10 h"}}
#     packs: rust: {vehicle: "car", kept: "car", compartments: lid: items: gas: {mass: "300 g", fuel: {kind: "butane", mass: "200 g"}}}
#   fails: |
#     vehicles: car: {kind: "car", payload: "450 kg"}
#     plan: {season: "hot", seasons: hot: {day: "34 °C", night: "20 °C", daylight: "15 h"}}
#     packs: rust: {vehicle: "car", kept: "car", compartments: lid: items: gas: {mass: "300 g", fuel: {kind: "butane", mass: "200 g"}}}
finding.storage contains f if {
	inside := lib.hot_car_mc
	some thing in _spoiling
	inside > thing.most
	f := {
		"at": thing.id,
		"text": sprintf("%s is kept in the car, where it can reach %s; %s is the most it stands", [thing.name, lib.celsius(inside), lib.celsius(thing.most)]),
	}
}

finding.storage contains f if {
	some m in input.medicines
	_in_car(m)
	not m.last_minute
	not lib.in_hot_car(m)
	not _said_of_frost(m)
	input.plan.night_mc < lib.limit("vehicle", "frost_mc")
	f := {
		"at": m.id,
		"text": sprintf("%s is kept in the car, where it freezes: nights fall to %s", [m.name, lib.celsius(input.plan.night_mc)]),
	}
}

finding.storage contains f if {
	some pack in input.packs
	pack.kept in {"car", "shed"}
	input.plan.season_known
	input.plan.night_mc <= lib.limit("vehicle", "ice_mc")
	iced := [v | some v in input.vessels; v.pack == pack.id; v.water_ml > 0; not v.last_minute]
	f := {
		"at": iced[0].id,
		"because": [v.id | some v in iced],
		"text": sprintf("%s of water is kept in the %s, where it freezes hard: nights fall to %s", [
			lib.litres(sum([v.water_ml | some v in iced])),
			pack.kept,
			lib.celsius(input.plan.night_mc),
		]),
	}
}

# What heat spoils, and the most that it may get.
_spoiling := array.concat(
	[{"id": m.id, "name": m.name, "most": lib.limit("vehicle", "medicine_mc")} | some m in input.medicines; lib.in_hot_car(m)],
	[{"id": g.id, "name": g.name, "most": lib.limit("vehicle", "can_mc")} | some g in array.concat(_gases, _sprays); _in_car(g)],
)

_gases := [f | some f in input.fuels; f.kind in lib.limit("vehicle", "gases")]

_sprays := [o | some o in lib.offers("defend"); o.means == "spray"]

_in_car(thing) if {
	input.plan.season_known
	lib.kept_in_car(thing)
}

# medication/frost says it of what must not freeze.
_said_of_frost(medicine) if {
	not medicine.cooled
	input.plan.night_mc <= lib.limit("medication", "frost_night")
	some med in array.concat(input.medications, input.animal_medications)
	med.id == medicine.medication
	med.cold_chain
}

# METADATA
# title: No bicycle's racks are overloaded
# description: >-
#   What rides on a bicycle is compared with what its racks and child seats may carry by their label, or with what is usual
#   for a rear rack.
# custom:
#   level: warning
#   remedy: Carry the rest on your back, share it out over the bicycles, or write the payload of the racks.
#   mend: {work: move}
#   sources:
#     - "25 kg at the back: the usual class of a carrier for adults' bicycles in ISO 11243, from memory; touring carriers are sold for more, a trade page of 2010, seen second-hand"
#   limits: [vehicle.rack]
#   caution: A loaded bicycle brakes badly; walk it down steep hills, and wear helmets.
#   passes: |
#     vehicles: bike: {kind: "bicycle"}
#     packs: rust: {vehicle: "bike", compartments: lid: items: stores: mass: "9 kg"}
#   fails: |
#     vehicles: bike: {kind: "bicycle", payload: "8 kg"}
#     packs: rust: {vehicle: "bike", compartments: lid: items: stores: mass: "9 kg"}
finding.bicycle contains f if {
	some v in input.vehicles
	v.kind == "bicycle"
	most := _rack(v)
	over := v.load_mg - most
	over > 0
	f := {
		"at": _payload_at(v),
		"because": array.concat([sprintf("%s/load", [v.id])], v.packs),
		"text": sprintf("%s carries %s; its racks may carry %s: over by %s", [
			v.name,
			lib.over(lib.kg(v.load_mg), lib.kg(most)),
			lib.kg(most),
			lib.mass(over),
		]),
	}
}

_rack(v) := v.payload_mg if v.payload_known

_rack(v) := lib.limit("vehicle", "rack") if not v.payload_known

# METADATA
# title: A flat bicycle tyre can be repaired
# description: >-
#   Glass and thorns lie on the way out, and a flat tyre turns a ride into a walk with the load. Where a leg is ridden by bicycle, patches
#   or a tube are packed.
# custom:
#   level: warning
#   remedy: "Pack a tube or patches with levers and a pump, and write can: repair: \"patch\"."
#   mend: {work: add, thing: repair, get: tyre repair kit}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     vehicles: bike: {kind: "bicycle"}
#     plan: legs: one: {order: 1, distance: "9 km", by: "bike"}
#     packs: rust: compartments: lid: items: patches: {mass: "90 g", can: repair: "patch"}
#   fails: |
#     vehicles: bike: {kind: "bicycle"}
#     plan: legs: one: {order: 1, distance: "9 km", by: "bike"}
finding.flat_tyre contains f if {
	bikes := [v | some v in input.vehicles; v.kind == "bicycle"; v.used]
	[o | some o in lib.offers("repair"); o.means == "patch"] == []
	[o | some o in lib.offers("mobility"); o.means in {"tube", "patch-kit"}] == []
	bare := {
		"at": bikes[0].id,
		"because": [v.id | some v in bikes],
		"text": sprintf("%s has nothing packed to repair a flat tyre", [lib.names(bikes)]),
	}
	f := lib.lack_any(bare, array.concat(lib.unrecorded_means(lib.anybody, "repair", ["patch"]), lib.unrecorded(lib.anybody, "mobility:tube")))
}
