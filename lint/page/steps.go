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
	// NoRoom says that somewhere not everything fits.
	NoRoom bool
	Steps  []deed
	Shops  []shop
	// Private says what the lists leave out, "" of one household.
	Private string
}

// deed is one of the five steps, as the page shows it.
type deed struct {
	Title, Says string
	// Mass is what all packs together gain or what comes out, Ready how many households are ready after it, where that says something.
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

// buy is a thing on a list: Who are the households, Says what the rules say of the only one.
type buy struct {
	Count, What, Who string
	Says             []string
}

// titles say of each step what it is, by its first act.
var titles = map[audit.Act]struct{ title, says string }{
	audit.Order:   {"Order medicine", "This takes longest. Ask the prescriber or the pharmacist, and follow the label. Which medicine it is stands on the page of the household."},
	audit.Swap:    {"Swap like for like", ""},
	audit.Lighten: {"Lighten and repack", "Hand over to those with room, and leave at home what nobody can take. Then move what lies in the wrong place."},
	audit.PutIn:   {"Put in what is missing", "Only now, so that it goes where there is room."},
	audit.Decide:  {"Decide, look through, write down", "A waiver that has ended is a decision: renew it with a reason, or do what the rule says. Then look through the packs and record the day."},
}

const (
	// eachLine is up to how many households a step tells of each what it does; mostBuys how many things a list names.
	eachLine = 12
	mostBuys = 60
)

// steps is nil where rules are held back, and where nothing graver than a note is open. In an audit for others, steps name no mass and
// no thing.
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
	ready := b.now.Ready
	for _, d := range b.plan.Deeds() {
		t := titles[d.Acts[0]]
		x := deed{Title: t.title, Says: t.says, Clears: clears(d.Errors, d.Warnings)}
		if d.Acts[0] == audit.Swap {
			x.Title, x.Says = swaps(&d)
		}
		if d.Ready > ready {
			ready = d.Ready
			if x.Ready = fmt.Sprintf("%d of %d", ready, b.now.Households); b.now.Households == 1 {
				x.Ready = "yes"
			}
		}
		s.NoRoom = s.NoRoom || open && d.NoRoom
		if open {
			x.Mass = b.massOf(&d)
		}
		for k, of := range d.For {
			to := link{b.rows[of.Household].Href, b.rows[of.Household].name()}
			if b.now.Households == 1 { // its name is in the headline, and what is cleared beside the step
				if text := b.does(d.Acts[0], &of, open, ""); text != "" {
					x.Lines = append(x.Lines, line{Says: text})
				}
				continue
			}
			if len(d.For) <= eachLine {
				x.Lines = append(x.Lines, line{to, b.does(d.Acts[0], &of, open, strings.Join(clears(of.Errors, of.Warnings), ", "))})
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
	if open && b.now.Households > 1 {
		s.Private = "Medicine and care supplies stand with each household alone."
	}
	if open {
		l := b.plan.Shopping()
		for _, x := range []shop{
			b.shop("Order", l.Orders), b.shop("Get, and take the old ones out", l.Swaps), b.shop("Get the right kind", l.Kinds), b.shop("Get and put in", l.Adds),
			b.shop("Renew: fresh contents, a charge, a check", l.Renews),
		} {
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

// swaps puts the step of swapping into words: for dates, for the wrong kind, or both.
func swaps(d *audit.Deed) (title, says string) {
	const dated = "What is past its date or due for replacement. Write the new date into the kit."
	const kinds = "What is of the wrong kind: the right one goes in as the other comes out."
	switch {
	case d.Kinds && d.Dated:
		return "Swap like for like", dated + " " + kinds
	case d.Kinds:
		return "Swap for the right kind", kinds
	}
	return "Swap like for like", dated
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
		return weight(b.units, -d.MassMG) + " comes out"
	case d.Unknown > 0:
		return "not known"
	}
	return "none"
}

// does says what a household does in a step. Says, what that clears, stands behind it, or alone where there is no more to say.
func (b *book) does(act audit.Act, of *audit.DeedFor, open bool, says string) string {
	if !open {
		return says
	}
	var out []string
	switch act {
	case audit.Lighten:
		for _, x := range of.Over {
			out = append(out, weight(b.units, x.OverMG)+" from "+onPaper(x.Name))
		}
		switch {
		case len(out) == 0:
		case of.RoomMG == 0:
			out = append(out, "nobody else has room for it")
		case of.StaysMG > 0:
			out = append(out, "the others have room for "+weight(b.units, of.RoomMG)+", and nobody for "+weight(b.units, of.StaysMG))
		default:
			out = append(out, "the others have room for "+weight(b.units, of.RoomMG))
		}
	case audit.PutIn:
		if b.now.Households > 1 { // else the list says it
			for _, l := range of.Lacks {
				out = append(out, b.amount(&l))
			}
		}
		about, more := "about ", ""
		if of.Unknown > 0 {
			about, more = "", " or more"
		}
		switch {
		case of.MassMG == 0:
		case of.TooMuchMG == 0:
			out = append(out, about+weight(b.units, of.MassMG)+more+", and the packs have room for "+weight(b.units, of.RoomMG))
		case of.TooMuchMG > of.MassMG-of.RoomMG:
			out = append(out, about+weight(b.units, of.MassMG)+more, "does not fit: with what comes out before, "+weight(b.units, of.TooMuchMG)+more+" over what the packs have room for")
		default:
			out = append(out, about+weight(b.units, of.MassMG)+more, "does not fit: "+weight(b.units, of.TooMuchMG)+more+" over what the packs have room for")
		}
	}
	switch text := strings.Join(out, "; "); {
	case text == "":
		return says
	case says == "":
		return strings.ToUpper(text[:1]) + text[1:] + "."
	default:
		return text + " (" + says + ")"
	}
}

// buyWords names what is bought, in the number that goes with the count: by its capability where the rule has one, else by what the rule
// says is missing.
func buyWords(l *audit.Buy) string {
	only := kinds.Capability(l.Thing).Row().Only
	kind, rest, _ := strings.Cut(only, " ")
	switch {
	case only == "" || l.Unit != kinds.UnitCount:
		return onPaper(l.What)
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
		y := buy{What: buyWords(x)}
		switch {
		case x.Amount > 0:
			y.What = b.amount(x)
		case x.Count > 0:
			y.Count = fmt.Sprint(x.Count)
		}
		if b.now.Households == 1 {
			for _, text := range x.Says {
				y.Says = append(y.Says, words.Clean(text))
			}
		} else {
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
