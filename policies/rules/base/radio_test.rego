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
		"at": "household",
		"because": ["packs/rust/0", "packs/rust/1", "packs/rust/2"],
		"text": "the radios of Ana (cb, pmr446) and Ben (frs) have 0 services in common; 1 is asked: 1 too few",
	}} with input as facts([of_ana("pmr446"), of_ana("cb"), of_ben("frs")])
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
			"text": sprintf("Radio speaks on the %s service, and its carrier has 0 valid licences for it written; 1 is asked: check local law", [service]),
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
		"text": "Radio speaks on the gmrs service, and the household has 0 valid licences for it written; 1 is asked: check local law",
	}} with input as licensed(of_ana("gmrs"), ["amateur"], ["marine"])
}

test_licence_of_anybody_for_a_radio_on_an_animal if {
	count(radio.finding.licence) == 0 with input as licensed({"service": "amateur", "carrier": "animals/bo"}, [], ["amateur"])
}

test_licence_of_nobody_for_a_radio_on_an_animal if {
	radio.finding.licence == {{
		"at": "packs/rust/0",
		"text": "Radio speaks on the amateur service, and the household has 0 valid licences for it written; 1 is asked: check local law",
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
	with_things := object.union(facts([{"receives": ["marine"]}]), {"capabilities": [t.capability("communicate", [t.offer("receiver", {}), t.offer("phone", {})])]})
	radio.finding.receiver == {{
		"at": "household",
		"because": ["packs/rust/0", "packs/rust/receiver"],
		"text": "the household has 0 radios that are written to hear the news (am, fm, shortwave, weather); 1 is asked: 1 too few",
	}} with input as with_things
}

test_receiver_not_asked_without_packs if {
	none := object.union(facts([]), {"household": t.household({"pack_count": 0})})
	count(radio.finding.receiver) == 0 with input as none
}

test_weather_heard if {
	count(radio.finding.weather) == 0 with input as facts([{"receives": ["am"]}, {"receives": ["weather"]}])
}

test_weather_not_heard if {
	radio.finding.weather == {{
		"at": "household",
		"because": ["packs/rust/0"],
		"text": "the household has 1 radio for news and 0 for weather radio; where there is such a service 1 is asked: 1 too few",
	}} with input as facts([{"receives": ["am", "fm"]}, {"receives": ["marine"]}])
}

test_weather_not_asked_without_a_receiver if {
	count(radio.finding.weather) == 0 with input as facts([{"receives": ["marine"]}])
}
