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
	Title, Says string
	// Mass is what all packs together gain or lose, Ready how many households are ready after it.
	Mass, Ready string
	Clears      []string
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
	audit.Swap:    {"Swap like for like", "What is past its date, due for replacement or of the wrong kind. Write the new date into the kit."},
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
		x := deed{Title: t.title, Says: t.says, Clears: clears(d.Errors, d.Warnings), Ready: fmt.Sprintf("%d of %d", d.Ready, b.now.Households)}
		if open {
			x.Mass = b.massOf(&d)
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
		swaps, adds, renews := b.plan.Shopping()
		for _, x := range []shop{b.shop("To swap, like for like", swaps), b.shop("To add", adds), b.shop("To renew: fresh contents, a charge, a check", renews)} {
			if len(x.Items) > 0 {
				s.Shops = append(s.Shops, x)
			}
		}
	}
	if len(s.Steps) == 0 {
		return nil
	}
	return s
}

// clears says how many findings a step clears.
func clears(errors, warnings int) (out []string) {
	if errors > 0 {
		out = append(out, words.Count(errors, "error"))
	}
	if warnings > 0 {
		out = append(out, words.Count(warnings, "warning"))
	}
	return out
}

// massOf says what a step adds to all packs, or takes out.
func (b *book) massOf(d *audit.Deed) string {
	switch act := d.Acts[0]; {
	case act == audit.Order || act == audit.Swap:
		return "little"
	case d.MassMG > 0 && d.Unknown > 0:
		return "+" + weight(b.units, d.MassMG) + " or more"
	case d.MassMG > 0:
		return "+" + weight(b.units, d.MassMG)
	case d.MassMG < 0:
		return "−" + weight(b.units, -d.MassMG)
	case d.Unknown > 0:
		return "not known"
	}
	return "none"
}

// does says what a household does in a step.
func (b *book) does(act audit.Act, of *audit.DeedFor, open bool) string {
	says := strings.Join(clears(of.Errors, of.Warnings), ", ")
	if !open {
		return says
	}
	var out []string
	switch act {
	case audit.Lighten:
		for _, x := range of.Over {
			out = append(out, weight(b.units, x.OverMG)+" from "+words.Clean(x.Name))
		}
		if len(out) > 0 {
			out = append(out, "the others have room for "+weight(b.units, of.RoomMG))
		}
	case audit.PutIn:
		for _, l := range of.Lacks {
			out = append(out, b.amount(&l))
		}
		if of.MassMG > 0 {
			out = append(out, "about "+weight(b.units, of.MassMG)+", and the packs have room for "+weight(b.units, of.RoomMG))
		}
	}
	if len(out) == 0 {
		return says
	}
	return strings.Join(out, "; ") + " (" + says + ")"
}

// buyWords names what is bought, in the number that goes with the count: by what it is for, where the rule says so, else by what the
// rule says is lacking.
func buyWords(l *audit.Buy) string {
	only := kinds.Capability(l.Thing).Row().Only
	kind, rest, _ := strings.Cut(only, " ")
	switch {
	case only == "" || l.Unit != kinds.UnitCount:
		return words.Clean(l.What)
	case kind == "way" || kind == "thing":
		return words.Noun(l.Count, kind) + " " + rest
	}
	return only
}

// amount says how much is bought of a thing that a rule lacks.
func (b *book) amount(l *audit.Buy) string {
	what, in := words.Clean(l.What), words.Amounts{Units: b.units}
	switch l.Unit {
	case kinds.UnitCount:
		return fmt.Sprintf("%d %s", l.Count, buyWords(l))
	case kinds.UnitVolume:
		return in.Volume(l.Amount) + " of " + what
	case kinds.UnitEnergy:
		return energy(l.Amount) + " of " + what
	case kinds.UnitMass:
		return in.Mass(l.Amount) + " of " + what
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
		y := buy{Count: fmt.Sprint(x.Count), What: buyWords(x)}
		if x.Amount > 0 {
			y.Count, y.What = "", b.amount(x)
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
