package rules.base.radio_test

import data.lib.testing_test as t
import data.rules.base.radio

# Ana, Ben and the dog, with a radio each that is given.
facts(radios) := {
	"household": t.household({"pack_count": 1}),
	"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben"})],
	"animals": [t.animal({})],
	"capabilities": [],
	"radios": [t.radio(object.union({"id": sprintf("packs/rust/%d", [i])}, r)) | some i, r in radios],
}

of_ana(service) := {"service": service}

of_ben(service) := {"service": service, "carrier": "people/ben"}

test_shared_service_there if {
	count(radio.finding.shared_service) == 0 with input as facts([of_ana("cb"), of_ben("cb")])
}

test_shared_service_missing if {
	radio.finding.shared_service == {{
		"at": "packs/rust/0",
		"because": ["packs/rust/0", "packs/rust/1", "packs/rust/2"],
		"text": "the radios of Ana (cb, pmr446) and Ben (frs) have no service in common",
	}} with input as facts([of_ana("pmr446"), of_ana("cb"), of_ben("frs")])
}

# Two have one service, by shared channels; the third is the odd one, though not the first.
test_shared_service_at_the_odd_radio if {
	three := object.union(facts([of_ana("frs"), {"service": "cb", "carrier": "people/cleo"}, of_ben("gmrs")]), {"people": [
		t.person({}),
		t.person({"id": "people/ben", "name": "Ben"}),
		t.person({"id": "people/cleo", "name": "Cleo"}),
	]})
	some f in radio.finding.shared_service with input as three
	f.at == "packs/rust/1"
}

test_shared_service_of_one_radio_of_two if {
	count(radio.finding.shared_service) == 0 with input as facts([of_ana("pmr446"), of_ana("cb"), of_ben("cb")])
}

test_shared_service_is_of_all_people if {
	three := object.union(facts([of_ana("cb"), of_ben("cb"), {"service": "frs", "carrier": "people/cleo"}]), {"people": [
		t.person({}),
		t.person({"id": "people/ben", "name": "Ben"}),
		t.person({"id": "people/cleo", "name": "Cleo"}),
	]})
	count(radio.finding.shared_service) == 1 with input as three
}

test_shared_service_on_shared_channels if {
	count(radio.finding.shared_service) == 0 with input as facts([of_ana("frs"), of_ben("gmrs")])
}

test_shared_service_not_asked_of_receivers if {
	count(radio.finding.shared_service) == 0 with input as facts([of_ana("cb"), of_ben("")])
}

test_shared_service_not_asked_of_animals if {
	count(radio.finding.shared_service) == 0 with input as facts([of_ana("cb"), {"service": "frs", "carrier": "animals/bo"}])
}

test_shared_service_not_asked_of_one_person if {
	count(radio.finding.shared_service) == 0 with input as facts([of_ana("cb"), of_ana("frs")])
}

test_shared_service_not_asked_without_radios if {
	count(radio.finding.shared_service) == 0 with input as facts([])
}

licensed(r, ana, ben) := object.union(facts([r]), {"people": [
	t.person({"licences": ana}),
	t.person({"id": "people/ben", "name": "Ben", "licences": ben}),
]})

test_licence_of_the_carrier if {
	every service in ["amateur", "gmrs", "marine"] {
		count(radio.finding.licence) == 0 with input as licensed(of_ana(service), [service], [])
	}
}

test_licence_of_nobody if {
	every service in ["amateur", "marine"] {
		radio.finding.licence == {{
			"at": "packs/rust/0",
			"text": sprintf("Radio transmits on the %s service, and no valid licence of its carrier is recorded: check local law", [service]),
		}} with input as licensed(of_ana(service), ["other"], [])
	}
}

test_licence_of_another_does_not_serve_the_carrier if {
	every service in ["amateur", "marine"] {
		count(radio.finding.licence) == 1 with input as licensed(of_ana(service), [], [service])
	}
}

test_licence_of_a_member_serves_the_family if {
	count(radio.finding.licence) == 0 with input as licensed(of_ana("gmrs"), [], ["gmrs"])
}

test_licence_of_nobody_in_the_family if {
	radio.finding.licence == {{
		"at": "packs/rust/0",
		"text": "Radio transmits on the gmrs service, and no valid licence of the household is recorded: check local law",
	}} with input as licensed(of_ana("gmrs"), ["amateur"], ["marine"])
}

test_licence_of_anybody_for_a_radio_on_an_animal if {
	count(radio.finding.licence) == 0 with input as licensed({"service": "amateur", "carrier": "animals/bo"}, [], ["amateur"])
}

test_licence_of_nobody_for_a_radio_on_an_animal if {
	radio.finding.licence == {{
		"at": "packs/rust/0",
		"text": "Radio transmits on the amateur service, and no valid licence of the household is recorded: check local law",
	}} with input as licensed({"service": "amateur", "carrier": "animals/bo"}, [], ["gmrs"])
}

test_licence_not_asked_of_other_services if {
	every service in ["", "frs", "pmr446", "cb"] {
		count(radio.finding.licence) == 0 with input as licensed(of_ana(service), [], [])
	}
}

test_receiver_of_each_kind_of_news if {
	every band in ["am", "fm", "shortwave", "weather"] {
		count(radio.finding.receiver) == 0 with input as facts([{"receives": ["marine", band]}])
	}
}

test_receiver_missing if {
	with_things := object.union(
		facts([{"receives": ["marine"]}, {"service": "cb"}]),
		{"capabilities": [t.capability("communicate", [t.offer("radio", {}), t.offer("phone", {})])]},
	)
	radio.finding.receiver == {{
		"at": "household",
		"because": ["packs/rust/0", "packs/rust/1"],
		"text": "nobody has a radio for the news (am, fm, shortwave, weather)",
	}} with input as with_things
}

test_receiver_not_asked_of_those_who_cannot_hear if {
	deaf := t.person({"hears": "no"})
	count(radio.finding.receiver) == 0 with input as object.union(facts([]), {"people": [deaf]})
	every other in ["", "badly"] {
		count(radio.finding.receiver) == 1 with input as object.union(facts([]), {"people": [deaf, t.person({"hears": other})]})
	}
	count(radio.finding.receiver) == 1 with input as object.union(facts([]), {"people": []})
}

test_receiver_without_batteries if {
	empty := {"receives": ["fm"], "works": false}
	radio.finding.receiver == {{
		"at": "packs/rust/1",
		"because": ["packs/rust/1", "packs/rust/2"],
		"text": "there are no batteries in Radio and Radio, and nobody has another radio for the news",
	}} with input as facts([{"receives": []}, empty, empty])
	count(radio.finding.receiver) == 0 with input as facts([empty, {"receives": ["am"]}])
}

test_receiver_not_recorded if {
	with_things := object.union(facts([{"receives": []}]), {"capabilities": [t.capability("communicate", [t.offer("receiver", {"name": "Box"}), t.offer("receiver", {"id": "packs/rust/0"})])]})
	radio.finding.receiver == {{
		"at": "packs/rust/0",
		"because": ["packs/rust/0", "packs/rust/receiver"],
		"level": "note",
		"text": "what Radio receives is not recorded: write radio: receives: [\"fm\"] or what its label says",
	}} with input as with_things
	some f in radio.finding.receiver with input as object.union(with_things, {"radios": []})
	f.because == ["packs/rust/receiver", "packs/rust/0"]
}
