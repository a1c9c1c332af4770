package load

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"kitmuster/schema"
)

// synonyms leads from words that people write to the fields that are meant, the likelier first: fewer edits apart is not nearer in
// meaning, as weight is to height.
var synonyms = map[string][]string{
	"weight": {"mass", "bodyMass"}, "kg": {"mass", "bodyMass"}, "g": {"mass"}, "grams": {"mass"}, "body_weight": {"bodyMass"}, "bodyweight": {"bodyMass"},
	"qty": {"count"}, "quantity": {"count"}, "amount": {"count"}, "number": {"count"}, "pieces": {"count"}, "pcs": {"count"},
	"kcal": {"energy", "food"}, "calories": {"energy", "food"}, "kj": {"energy", "food"},
	"dob": {"born"}, "birthday": {"born"}, "birthdate": {"born"}, "birth_date": {"born"}, "years": {"age"},
	"expiry": {"expires"}, "expiration": {"expires"}, "exp": {"expires"}, "expires_on": {"expires"}, "best_before": {"expires"}, "bestbefore": {"expires"}, "use_by": {"expires"}, "useby": {"expires"}, "bb": {"expires"}, "mhd": {"expires"},
	"volume": {"capacity", "container"}, "size": {"capacity", "container"}, "holds": {"capacity"}, "litre": {"litres"}, "liters": {"litres"},
	"notes": {"note", "name"}, "note": {"name"}, "comment": {"name"}, "description": {"name"}, "title": {"name"}, "label": {"name"},
	"use": {"can"}, "uses": {"can"}, "function": {"can"}, "purpose": {"can", "for"}, "category": {"can"}, "type": {"kind", "method", "can"},
	"gender": {"sex"}, "tel": {"phone"}, "telephone": {"phone"}, "mobile": {"phone"}, "allergy": {"allergies"}, "meds": {"medications"}, "medicine": {"medications"}, "medicines": {"medications"}, "medication": {"medications"},
	"pets": {"animals"}, "dogs": {"animals"}, "members": {"people"}, "family": {"people", "household"}, "persons": {"people"}, "bags": {"packs"}, "backpacks": {"packs"}, "rucksacks": {"packs"}, "cars": {"vehicles"},
	"pockets": {"compartments"}, "contents": {"items"}, "things": {"items"}, "stuff": {"items"}, "wearing": {"onBody"}, "worn": {"onBody"}, "clothes": {"onBody"},
	"max": {"day"}, "high": {"day"}, "min": {"night"}, "low": {"night"}, "lat": {"latitude"}, "elevation": {"altitude"}, "length": {"distance"}, "km": {"distance"}, "route": {"legs"}, "steps": {"legs"}, "water": {"waterSources"},
	"doses_per_day": {"perDay"}, "per_day": {"perDay"}, "daily": {"perDay"}, "hours": {"duration"}, "days": {"duration"}, "carried_by": {"carrier", "carriedBy"}, "bearer": {"carrier"}, "owned_by": {"owner"}, "belongs_to": {"owner"},
}

// meant is the field of those here that a word stands for; "" where none is known.
func meantField(word string, here []string) string {
	for _, f := range synonyms[strings.ToLower(strings.ReplaceAll(word, "-", "_"))] {
		if slices.Contains(here, f) {
			return f
		}
	}
	return ""
}

var (
	// canLine is a line of #Can: a capability with its means.
	canLine = regexp.MustCompile(`(?m)^\t([a-z_]+)\?:\s+=~"\^\(([^()]*)\)\$"$`)
	// enumLine is a field with a few words, listLine one that takes a list.
	enumLine = regexp.MustCompile(`(?m)^\t([A-Za-z_]+)[?!]?:\s+=~"\^\(([^()]*)\)\$"$`)
	listLine = regexp.MustCompile(`(?m)^\t([A-Za-z_]+)[?!]?:\s+\[\.\.\.`)
)

// canOf is how to write, under can, a thing that is called by its means, such as signal: "whistle"; "" where no means is called so.
func canOf(word string) string {
	text := string(schema.Kit)
	if i := strings.Index(text, "#Can: {"); i >= 0 {
		text = text[i:]
		text = text[:strings.Index(text, "\n}")]
	}
	for _, m := range canLine.FindAllStringSubmatch(text, -1) {
		if slices.Contains(strings.Split(m[2], "|"), strings.ReplaceAll(word, "_", "-")) {
			return fmt.Sprintf("%s: %q", m[1], strings.ReplaceAll(word, "_", "-"))
		}
	}
	return ""
}

// choices are the words that a field takes, where every field of the name takes the same few.
func choices(field string) (out []string) {
	for _, m := range enumLine.FindAllStringSubmatch(string(schema.Kit), -1) {
		if m[1] != field {
			continue
		}
		words := strings.Split(m[2], "|")
		if out != nil && !slices.Equal(out, words) {
			return nil
		}
		out = words
	}
	return out
}

// takesList reports whether a field of the schema takes a list.
func takesList(field string) bool {
	for _, m := range listLine.FindAllStringSubmatch(string(schema.Kit), -1) {
		if m[1] == field {
			return true
		}
	}
	return false
}

// groups shows how fields that hold others are written.
var groups = map[string]string{
	"can": `can: signal: "whistle"`, "food": `food: energy: "450 kcal"`, "container": `container: capacity: "1 L"`, "treat": `treat: method: "filter"`, "fuel": `fuel: {kind: "gas-mix", mass: "100 g"}`,
	"stove": `stove: burns: ["gas-mix"]`, "cells": `cells: {size: "AA", chemistry: "alkaline"}`, "device": `device: {size: "AAA", cells: 3}`, "insulation": `insulation: {kind: "quilt", comfort: "3 °C"}`,
	"radio": `radio: receives: ["fm"]`, "firstAid": `firstAid: plasters: 10`, "medicine": `medicine: {person: "ana", of: "thyroid", doses: 14}`, "cash": `cash: {amount: "200 in notes", smallNotes: true}`,
	"allergies": `allergies: nuts: {severe: true}`, "medications": `medications: thyroid: perDay: 1`, "needs": `needs: rest: "sits down often"`, "contacts": `contacts: cousin: {name: "cousin", phone: "555 0100"}`,
	"meetingPoints": `meetingPoints: school: where: "school yard"`, "school": `school: where: "school yard"`, "waterSources": `waterSources: brook: quality: "clear"`, "legs": `legs: one: {order: 1, distance: "3 km"}`,
	"seasons": `seasons: hot: {day: "31 °C", night: "18 °C"}`, "people": `people: ana: {age: "42 y", bodyMass: "68 kg"}`, "packs": `packs: rust: {carrier: "ana", mass: "1.2 kg"}`, "items": `items: matches: {mass: "15 g"}`,
	"compartments": `compartments: lid: reach: "walking"`, "animals": `animals: rex: {species: "dog", bodyMass: "24 kg"}`, "record": `record: weighed: "2026-10-01"`, "destination": `destination: {kind: "house"}`,
}

// lists shows how fields that take a list are written.
var lists = map[string]string{"documents": `documents: ["identity"]`, "diets": `diets: ["vegan"]`, "burns": `burns: ["gas-mix"]`, "receives": `receives: ["fm"]`, "colours": `colours: ["red"]`, "hazards": `hazards: ["flood"]`}
