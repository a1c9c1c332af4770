package household

import (
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
)

// said is what the program says itself, beside the rules of a standard.
var said = []finding.Rule{
	{
		Name: "data/not-shown", Level: finding.Warning, Title: "Every finding of the household can be shown",
		Why: "A few bytes of CUE can make thousands of entries, which would fill every page and the memory of the program.", Remedy: "Look for a list, template or comprehension that multiplies itself, or correct what the more severe findings name, and run again.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/conflict", Level: finding.Error, Title: "Each field has one value",
		Why: "Two values that differ leave it open which one counts, so nothing can be added up.", Remedy: "Keep one of the two.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/cycle", Level: finding.Error, Title: "No entry contains itself",
		Why: "An entry that refers to itself has no end and no value.", Remedy: "Take out the reference back to the entry.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/file", Level: finding.Error, Title: "Every file and folder can be read",
		Why: "What is in a file that cannot be read is missing from every sum.", Remedy: "Correct the file as the finding says: its permissions, name, encoding (UTF-8) or size.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/import", Level: finding.Error, Title: "Every import leads to a package",
		Why: "Items from a shared catalogue that is not found are missing from every sum.", Remedy: "Correct the path of the import, or add the package it names.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/limit", Level: finding.Error, Title: "The household's own limits can be read",
		Why: "The household sets itself a limit, and it is not known which.", Remedy: "Write the limit in the same unit as the standard; kitmuster rules --limits shows it.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/missing", Level: finding.Error, Title: "Every required field is there",
		Why: "Without it the kit cannot be measured.", Remedy: "Write the field; the finding shows how.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/module", Level: finding.Error, Title: "The module file can be used",
		Why: "Without it no shared catalogue is found, and nothing in this repository is judged.", Remedy: "Correct cue.mod/module.cue as the finding says.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/name", Level: finding.Error, Title: "Every entry has a plain name",
		Why: "Names lead from a finding to its line, so they are plain: lower-case letters, digits and underscores.", Remedy: "Write the name as the finding offers it.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/no-kit", Level: finding.Error, Title: "There is a kit at each path",
		Why: "A path that leads to no household would go unnoticed.", Remedy: "Correct the path, or write a kit there.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/no-people", Level: finding.Error, Title: "The household has at least one person",
		Why: "Loads, water and food are compared with what people can carry and need.", Remedy: "Write at least one person.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/package", Level: finding.Error, Title: "Every file of a kit is in package kit",
		Why: "What is in a file of another package is missing from every sum.", Remedy: "Write package kit as the first line, or move the file to a folder of its own.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/path", Level: finding.Error, Title: "Each path leads to something that can be checked",
		Why: "A mistyped path would go unnoticed.", Remedy: "Name a folder, a kit file, or a folder followed by /... for all below it.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/quantity", Level: finding.Error, Title: "Every quantity has a unit that is known",
		Why: "A number without its unit, or with one that is not known, could mean anything.", Remedy: "Write the number with its unit in quotes, such as \"850 g\".", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/reference", Level: finding.Error, Title: "Every name refers to something that exists",
		Why: "An item, person, rule or list that is not found cannot be counted.", Remedy: "Write the name of something that is there, or write the entry that is meant; the finding shows how.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/rule", Level: finding.Error, Title: "Every rule runs to its end",
		Why: "What that rule says about this household is incomplete.", Remedy: "Correct the rule at the line that the finding names, or report it to the people who keep the standard.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/season", Level: finding.Error, Title: "The household describes the season it is judged for",
		Why: "Cold, heat and daylight of a season that is not described are not known.", Remedy: "Describe the season under plan.seasons, or name one that is there.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/syntax", Level: finding.Error, Title: "Every file is valid CUE",
		Why: "Nothing in the household can be read until this is corrected.", Remedy: "Write it as the finding says; where that does not help, look just before the place for a bracket, quote or comma.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/too-much", Level: finding.Error, Title: "The household is judged within time and memory limits",
		Why: "A few bytes of CUE can multiply without end, and the other households have to be judged too.", Remedy: "Look for a list, template or comprehension that multiplies itself, or raise --time-limit or --memory-limit.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/unknown-field", Level: finding.Error, Title: "Every field is one that a kit can have",
		Why: "A misspelt field would be left out of every sum unnoticed.", Remedy: "Write it as the finding says, correct the spelling, or take the field out.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "input/value", Level: finding.Error, Title: "Every value is possible",
		Why: "A value outside what is possible is a slip of the pen, and would bend every sum.", Remedy: "Write it as the finding says: check the number, the word and the unit.", Mend: finding.Fix{Work: finding.ToWrite},
	},
	{
		Name: "limit/looser", Level: finding.Error, Title: "The household's own limits are no looser than the standard's",
		Why: "A household may require more of itself than its group does, not less; the standard's limit stays in force.", Remedy: "Waive the rule that objects for a time, or ask for another value in the group's standard.", Mend: finding.Fix{Work: finding.ToDecide},
	},
	{
		Name: "waiver/unused", Level: finding.Note, Title: "Every waiver covers a finding",
		Why: "A waiver left behind would hide the finding when it comes back.", Remedy: "Take the waiver out, unless it is for another season or list.", Mend: finding.Fix{Work: finding.ToWrite},
	},
}

// Said lists what the program says itself, sorted by name. The slice is the
// caller's.
func Said() []finding.Rule { return slices.Clone(said) }

// TitleOf is the title of a rule of the program itself; "" of any other.
func TitleOf(name string) string {
	for i := range said {
		if said[i].Name == name {
			return said[i].Title
		}
	}
	return ""
}

// Limits lists the limits of each rule of a rulebook by its name, as the standard has them.
func Limits(b *judge.Rulebook) map[string][]finding.Limit {
	out := map[string][]finding.Limit{}
	for _, r := range b.Rules() {
		for _, l := range r.Limits {
			out[r.Name] = append(out[r.Name], finding.Limit{Name: l.Name, Value: l.Value, Source: l.Source, Layer: l.Layer})
		}
	}
	return out
}

// Rules lists all that a check may find: the rules of a rulebook and what the
// program says itself, sorted by name.
func Rules(b *judge.Rulebook) []finding.Rule {
	out := Said()
	for _, r := range b.Rules() {
		out = append(out, finding.Rule{Name: r.Name, Title: r.Title, Why: r.Why, Remedy: r.Remedy, Mend: r.Mend, Caution: r.Caution, Level: r.Level, Sources: r.Sources})
	}
	slices.SortFunc(out, func(a, b finding.Rule) int { return strings.Compare(a.Name, b.Name) })
	return out
}
