package audit

import (
	"fmt"
	"strings"
	"testing"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// steps ranks households, each written as rules with the amount that lacks of each: "a b=500ml" has a and b open.
func steps(rules map[string]finding.Rule, things map[string][]int64, roomMG int64, households ...string) string {
	var r Ranking
	for i, text := range households {
		h := &Audited{Household: finding.Household{Path: fmt.Sprint(i), Judged: true}, Sheet: &Sheet{RoomMG: roomMG, Bearers: []Bearer{{}}, FoodMG: 2_000_000, FoodJ: 40_000_000}}
		for c, each := range things {
			h.Sheet.Things = append(h.Sheet.Things, Thing{kinds.Capability(c), each})
		}
		for _, word := range strings.Fields(text) {
			if word == "unjudged" {
				h.Household.Judged = false
				continue
			}
			name, amount, stated := strings.Cut(word, "=")
			f := finding.Finding{Rule: name, Level: finding.Error}
			if stated {
				f.Lack = &finding.Shortfall{}
				fmt.Sscanf(amount, "%d%s", &f.Lack.Amount, &f.Lack.Unit)
			}
			if waived, ok := strings.CutPrefix(name, "!"); ok {
				f.Rule, f.Waived = waived, &finding.Waiver{}
			}
			h.Findings = append(h.Findings, f)
		}
		r.Add(h)
	}
	var out []string
	first := r.Steps(finding.Error, rules, 9)
	for _, s := range first.Steps {
		text := fmt.Sprintf("%s %d/%d→%d", s.Rule.Name, s.Households, s.Findings, s.Clear)
		if s.MassKnown {
			text += fmt.Sprintf(" %dg", s.MassMG/1000)
		}
		if s.NoRoom > 0 {
			text += fmt.Sprintf(" no room in %d", s.NoRoom)
		}
		out = append(out, text)
	}
	if first.More > 0 {
		out = append(out, fmt.Sprintf("%d more", first.More))
	}
	return strings.Join(out, ", ")
}

func TestWhatToDoFirst(t *testing.T) {
	rules := map[string]finding.Rule{}
	for name, m := range map[string]finding.Fix{
		"write": {Work: finding.ToWrite}, "move": {Work: finding.ToMove}, "leave": {Work: finding.ToLeave}, "fire": {Work: finding.ToAdd, Thing: "fire"}, "water": {Work: finding.ToAdd, Thing: "water"}, "food": {Work: finding.ToAdd, Thing: "food"},
		"any": {Work: finding.ToAdd}, "a": {Work: finding.ToMove}, "b": {Work: finding.ToMove},
	} {
		rules[name] = finding.Rule{Name: name, Mend: m}
	}
	for _, c := range []struct {
		reason, want string
		things       map[string][]int64
		room         int64
		households   []string
	}{
		{reason: "the rule that alone keeps most from being ready comes before the one that most have",
			households: []string{"a", "a", "b write", "b write", "b write"}, want: "a 2/2→2 0g, write 3/3→2 0g, b 3/3→5 0g"},
		{reason: "of equals the lightest work", households: []string{"move", "write", "any"}, want: "write 1/1→1 0g, move 1/1→2 0g, any 1/1→3"},
		{reason: "clear households count from the start, waived findings keep nobody", households: []string{"", "!a", "b"}, want: "b 1/1→3 0g"},
		{reason: "who could not be judged is never ready", households: []string{"unjudged a", "unjudged", "a"}, want: "a 2/2→1 0g"},
		{reason: "a litre is a kilogram, food as dense as theirs: 2 kg for 40 MJ", households: []string{"water=1500ml", "food=4000000j"}, room: 9_000_000, want: "food 1/1→1 200g, water 1/1→2 1500g"},
		{reason: "a thing weighs what the middle one does; two findings take two", things: map[string][]int64{"fire": {10_000, 20_000, 90_000, 95_000}}, households: []string{"fire fire"}, room: 40_000,
			want: "fire 1/2→1 40g"},
		{reason: "of a lack in things, as many", things: map[string][]int64{"fire": {20_000}}, households: []string{"fire=3count"}, room: 59_999, want: "fire 1/1→1 60g no room in 1"},
		{reason: "what is left behind takes mass away", households: []string{"leave=700000mg"}, want: "leave 1/1→1 -700g"},
		{reason: "nothing is known where one finding states no amount", households: []string{"leave leave=5mg", "water"}, want: "leave 1/2→1, water 1/1→2"},
		{reason: "nobody has such a thing to weigh", households: []string{"fire"}, want: "fire 1/1→1"},
		{reason: "what keeps one household from being ready is seen to together, before what another has in common with nobody",
			households: []string{"a b write", "any fire food water"}, want: "write 1/1→0 0g, a 1/1→0 0g, b 1/1→1 0g, any 1/1→1, fire 1/1→1, food 1/1→1, water 1/1→2"},
		{reason: "room is used up by one step after the other", households: []string{"fire=1count water=500ml"}, things: map[string][]int64{"fire": {600_000}}, room: 1_000_000,
			want: "water 1/1→0 500g, fire 1/1→1 600g no room in 1"},
		{reason: "what is left behind makes room", households: []string{"leave=300000mg water=500ml"}, room: 250_000, want: "leave 1/1→0 -300g, water 1/1→1 500g"},
		{reason: "more than can be named are counted", households: []string{"a b c d e f g h i j k"}, want: "a 1/1→0 0g, b 1/1→0 0g, c 1/1→0, d 1/1→0, e 1/1→0, f 1/1→0, g 1/1→0, h 1/1→0, i 1/1→0, 2 more"},
		{reason: "a rule that nobody knows any more", households: []string{"gone"}, want: "gone 1/1→1"},
	} {
		if got := steps(rules, c.things, c.room, c.households...); got != c.want {
			t.Errorf("%s: %s, not %s", c.reason, got, c.want)
		}
	}
}

func TestStanding(t *testing.T) {
	of := func(judged bool, errors int) Standing {
		return (&Audited{Household: finding.Household{Judged: judged}, Summary: finding.Summary{Errors: errors, Warnings: 3, Waived: 1}}).Standing()
	}
	if of(true, 0) != Ready || of(true, 1) != NotReady || of(false, 0) != Unjudged || of(false, 2) != Unjudged {
		t.Error(of(true, 0), of(true, 1), of(false, 0), of(false, 2))
	}
	h := &Audited{Findings: []finding.Finding{
		{Level: finding.Error, Waived: &finding.Waiver{Until: "2027-02-01"}}, {Level: finding.Error, Waived: &finding.Waiver{Until: "2026-12-01"}}, {Level: finding.Warning, Waived: &finding.Waiver{Until: "2026-11-02"}}, {Level: finding.Error},
	}}
	if h.LeansUntil() != "2026-12-01" || (&Audited{}).LeansUntil() != "" {
		t.Error(h.LeansUntil())
	}
}

func TestBySubject(t *testing.T) {
	h := &Audited{Findings: []finding.Finding{
		{Rule: "fire/a", Level: finding.Warning}, {Rule: "fire/b", Level: finding.Error}, {Rule: "x:fire/c", Level: finding.Error}, {Rule: "water/a", Level: finding.Error, Waived: &finding.Waiver{}}, {Rule: "x:flood/a", Level: finding.Note},
	}}
	got := h.BySubject()
	if level, n := got[SubjectOf("fire/a")].Worst(); level != finding.Error || n != 2 {
		t.Error(level, n)
	}
	if level, _ := got[SubjectOf("water/a")].Worst(); level != "" || got[SubjectOf("water/a")].Waived != 1 {
		t.Error(got)
	}
	if level, n := got[len(Subjects)-1].Worst(); level != finding.Note || n != 1 {
		t.Error(level, n)
	}
}

func TestDueWithin(t *testing.T) {
	s := &Sheet{Due: []Due{{Spot: "a", Day: 9}, {Spot: "b", Day: 10}, {Spot: "c", Day: 20}, {Spot: "d", Day: 21}}}
	due, past := s.DueWithin(10, 20)
	if len(due) != 3 || past != 1 || due[2].Spot != "c" {
		t.Error(due, past)
	}
}
