package page

import (
	"fmt"
	"strings"

	"kitmuster/lint/audit"
	"kitmuster/lint/kinds"
	"kitmuster/lint/words"
)

// firstSteps are the five steps of a group, with what to buy.
type firstSteps struct {
	// Unread are households whose files cannot be read wholly.
	Unread string
	Steps  []deed
	Shops  []shop
}

// deed is a step as the page shows it.
type deed struct {
	Title, Says  string
	Mass, Clears string
	Left         string
	// Lines are the households with what each does, Names those that are named only.
	Lines []line
	Names []link
	More  string
}

type line struct {
	link
	Says string
}

type shop struct {
	Title string
	Items []buy
	More  string
}

type buy struct{ Count, What, Who string }

// titles say of each step what it is, by its first act.
var titles = map[audit.Act]struct{ title, says string }{
	audit.Order:   {"Order medicine", "This takes longest. Ask the prescriber or the pharmacist, and follow the label. Which medicine it is stands on the page of the household."},
	audit.Swap:    {"Swap like for like", "What is past its date, due to be exchanged or of the wrong kind. Write the new date into the kit."},
	audit.Lighten: {"Lighten and repack", "Hand over to those with room, and leave at home what nobody can take. Then move what lies in the wrong place."},
	audit.PutIn:   {"Put in what is missing", "Only now, so that it goes where there is room."},
	audit.Decide:  {"Decide, look through, write down", "A waiver that has ended is a decision: renew it with a reason, or do what the rule says. Then look through the packs and record the day."},
}

const (
	// eachLine is up to how many households a step tells of each what it does; mostBuys how many things a list names.
	eachLine = 12
	mostBuys = 60
)

// steps are nil where rules are held back, and where nothing graver than a note is open. Others hear of no mass and of no thing.
func (b *book) steps() *firstSteps {
	if b.Brief {
		return nil
	}
	s := &firstSteps{}
	var unread []string
	for i := range b.rows {
		if r := &b.rows[i]; r.Standing == audit.Unjudged {
			unread = append(unread, r.name())
		}
	}
	switch {
	case len(unread) > eachLine:
		s.Unread = words.Count(len(unread), "household")
	case len(unread) > 0:
		s.Unread = words.And(unread)
	}
	open := b.Run.Shared == ""
	for _, d := range b.plan.Deeds() {
		t := titles[d.Acts[0]]
		x := deed{Title: t.title, Says: t.says, Clears: clears(d.Errors, d.Warnings), Left: words.Count(d.Left, "error") + " left"}
		if d.Left == 0 {
			x.Left = "no error left"
		}
		if open {
			x.Mass = massOf(&d)
		}
		for k, of := range d.For {
			to := link{b.rows[of.Household].Href, b.rows[of.Household].name()}
			if len(d.For) <= eachLine {
				x.Lines = append(x.Lines, line{to, b.does(d.Acts[0], &of, open)})
				continue
			}
			if k < mostNames {
				x.Names = append(x.Names, to)
			}
		}
		if len(x.Names) > 0 && len(d.For) > mostNames {
			x.More = fmt.Sprintf("and %d more", len(d.For)-mostNames)
		}
		s.Steps = append(s.Steps, x)
	}
	if open {
		swaps, adds := b.plan.Shopping()
		s.Shops = append(s.Shops, b.shop("To swap, like for like", swaps), b.shop("To add", adds))
	}
	if len(s.Steps) == 0 {
		return nil
	}
	return s
}

// clears says how many findings a step clears.
func clears(errors, warnings int) string {
	var out []string
	if errors > 0 {
		out = append(out, words.Count(errors, "error"))
	}
	if warnings > 0 {
		out = append(out, words.Count(warnings, "warning"))
	}
	return strings.Join(out, ", ")
}

// massOf says what a step adds to all packs, or takes out; what is not known is said.
func massOf(d *audit.Deed) string {
	text := ""
	switch {
	case d.MassMG > 0:
		text = "+" + kilograms(d.MassMG, true)
	case d.MassMG < 0:
		text = "−" + kilograms(-d.MassMG, true)
	}
	switch {
	case d.Acts[0] == audit.Order || d.Acts[0] == audit.Swap:
		return "hardly any"
	case d.Unknown > 0 && text == "":
		return "not known"
	case d.Unknown > 0:
		return text + fmt.Sprintf(" and %d not known", d.Unknown)
	case text == "":
		return "none"
	}
	return text
}

// does says what a household does in a step.
func (b *book) does(act audit.Act, of *audit.DeedFor, open bool) string {
	says := "clears " + clears(of.Errors, of.Warnings)
	if !open {
		return says
	}
	var out []string
	switch act {
	case audit.Lighten:
		for _, x := range of.Over {
			out = append(out, kilograms(x.OverMG, true)+" out of the load of "+words.Clean(x.Name))
		}
		if len(out) > 0 {
			out = append(out, "room with the others: "+kilograms(of.RoomMG, false))
		}
	case audit.PutIn:
		for _, l := range of.Lacks {
			out = append(out, amount(&l))
		}
		if of.MassMG > 0 {
			out = append(out, "about "+kilograms(of.MassMG, true)+", and room for "+kilograms(of.RoomMG, false)+" as packed today")
		}
	}
	if len(out) == 0 {
		return says
	}
	return strings.Join(out, "; ") + " (" + says + ")"
}

// amount says how much is bought of a thing that a rule lacks.
func amount(l *audit.Buy) string {
	what := words.Clean(l.What)
	switch l.Unit {
	case kinds.UnitCount:
		return what + ": " + fmt.Sprint(l.Count)
	case kinds.UnitVolume:
		return what + ": " + litres(l.Amount)
	case kinds.UnitEnergy:
		return what + ": " + energy(l.Amount)
	case kinds.UnitMass:
		return what + ": " + mass(l.Amount)
	}
	return what
}

func (b *book) shop(title string, all []audit.Buy) shop {
	s := shop{Title: title}
	for i := range all {
		if i == mostBuys {
			s.More = fmt.Sprintf("And %d more, which stand with the households.", len(all)-mostBuys)
			break
		}
		x := &all[i]
		y := buy{Count: fmt.Sprint(x.Count), What: words.Clean(x.What)}
		if x.Amount > 0 {
			y.Count, y.What = "", amount(x)
		}
		if b.now.Households > 1 {
			var who []string
			for _, k := range x.For {
				who = append(who, b.rows[k].Name)
			}
			if y.Who = strings.Join(who, ", "); len(who) > 4 {
				y.Who = words.Count(len(who), "household")
			}
		}
		s.Items = append(s.Items, y)
	}
	return s
}
