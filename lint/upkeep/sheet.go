package upkeep

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"kitmuster/lint/words"
)

// Sheet writes lines to fill in on paper or in an editor, one for each thing that is not weighed on this day, or all.
func (t *Talk) Sheet(o Weighing) error {
	if err := t.begin(); err != nil {
		return err
	}
	scale := o.Unit
	if scale == "" {
		scale = usualUnit(t.kept)
	}
	fmt.Fprintf(t.Out, "# Weighing sheet of %s, %s. Write behind = what the scale shows, in %s, of one of each; leave blank\n", words.Line(t.kept.Household.Name), t.On, scale)
	fmt.Fprintf(t.Out, "# what was not weighed. gone: it is there no longer. kitmuster weigh --from FILE %s reads it back.\n", t.Path)
	long := 0
	for i := range t.kept.Things {
		long = max(long, utf8.RuneCountInString(t.kept.Things[i].Short))
	}
	part := ""
	for i := range t.kept.Things {
		x := &t.kept.Things[i]
		if x.Shared != "" || !o.All && x.IsWeighed && x.Weighed == t.On {
			continue
		}
		if x.Part != part {
			part = x.Part
			fmt.Fprintln(t.Out)
		}
		was := "never weighed"
		if x.Known {
			was = "was " + x.Text
		}
		if x.Count > 1 {
			was = fmt.Sprintf("%d of them, one %s", x.Count, was)
		}
		fmt.Fprintf(t.Out, "%s%s = %s # %s, %s\n", x.Short, strings.Repeat(" ", long-utf8.RuneCountInString(x.Short)), strings.Repeat(" ", 10), words.Line(x.Name), was)
	}
	return nil
}

// mostLines is the most that a filled sheet may have.
const mostLines = 20_000

// FromSheet writes what a filled sheet says, all readings or none; slips are told with their lines.
func (t *Talk) FromSheet(o Weighing, name string, sheet io.Reader) error {
	if err := t.begin(); err != nil {
		return err
	}
	scale := o.Unit
	if scale == "" {
		scale = usualUnit(t.kept)
	}
	orders, lines, faults, err := t.readSheet(name, sheet, scale)
	if err != nil {
		return err
	}
	for at := 0; len(faults) == 0 && at < len(orders); at += mostOrders {
		now, err := t.Write(orders[at:min(len(orders), at+mostOrders)])
		if err != nil {
			return err
		}
		t.daysOf(now)
		for _, r := range now.Refused {
			where := ""
			if r.At.Known() {
				where = " (" + r.At.String() + ")"
			}
			faults = append(faults, fmt.Sprintf("%s:%d: %s%s", name, lines[at+r.Order], r.Why, where))
		}
		if at > 0 && len(faults) > 0 {
			faults = append(faults, fmt.Sprintf("the lines before %s:%d are written", name, lines[at]))
		}
	}
	if len(faults) > 0 {
		return fmt.Errorf("nothing of it is written:\n%s", strings.Join(faults, "\n"))
	}
	t.Say("%s.", keptSay(len(orders), "reading"))
	t.saysDays()
	t.Say("Next: kitmuster check %s", t.Path)
	return nil
}

// mostOrders is how many orders go in one piece. Our own figure: what is handed to a worker is bounded by the system.
const mostOrders = 400

// readSheet reads a filled sheet, with the line of each order.
func (t *Talk) readSheet(name string, sheet io.Reader, scale string) (orders []Order, at []int, faults []string, err error) {
	byShort, seen := map[string]*Thing{}, map[string]bool{}
	for i := range t.kept.Things {
		byShort[t.kept.Things[i].Short] = &t.kept.Things[i]
	}
	in := bufio.NewScanner(sheet)
	n := 0
	for in.Scan() {
		n++
		if n > mostLines {
			return nil, nil, nil, fmt.Errorf("%s has more than %d lines", name, mostLines)
		}
		fault := func(format string, args ...any) {
			if len(faults) < 40 {
				faults = append(faults, fmt.Sprintf("%s:%d: %s", name, n, fmt.Sprintf(format, args...)))
			}
		}
		line, _, _ := strings.Cut(strings.TrimPrefix(in.Text(), "\ufeff"), "#")
		short, typed, ok := strings.Cut(words.Clean(words.Line(strings.ToValidUTF8(line, "?"))), "=")
		short, typed = strings.TrimSpace(short), strings.TrimSpace(strings.ReplaceAll(typed, "_", ""))
		switch x := byShort[short]; {
		case short == "" && typed == "", ok && typed == "" && x != nil:
		case !ok, short == "":
			fault("write the thing, = and what the scale shows, such as %s = 86", t.example())
		case x == nil:
			text := fmt.Sprintf("the kit has no %q", short)
			if near := words.Near(short, t.shorts()); near != "" {
				text += "; did you mean " + near + "?"
			} else {
				text += "; write it as kitmuster weigh --sheet prints it"
			}
			fault("%s", text)
		case seen[short]:
			fault("%s is on the sheet twice; keep one", short)
		case strings.EqualFold(typed, "gone"):
			seen[short] = true
			if x.Place == "" {
				fault("a pack or a pouch is taken out of the kit by hand")
				continue
			}
			orders, at = append(orders, Order{Do: Gone, Spot: x.Spot}), append(at, n)
		default:
			seen[short] = true
			r, err := parseReading(typed, scale, x, 0)
			if err != nil {
				fault("%s", err)
				continue
			}
			if odd := doubtful(x, &r); odd != "" {
				fault("%s; write %s! if it is right", odd, typed)
				continue
			}
			orders, at = append(orders, r.order(x)), append(at, n)
		}
	}
	if err := in.Err(); err != nil {
		return nil, nil, nil, fmt.Errorf("%s:%d: %w", name, n+1, err)
	}
	return orders, at, faults, nil
}

func (t *Talk) shorts() (out []string) {
	for i := range t.kept.Things {
		out = append(out, t.kept.Things[i].Short)
	}
	return out
}

func (t *Talk) example() string {
	if len(t.kept.Things) > 0 {
		return t.kept.Things[0].Short
	}
	return "pack/pocket/lamp"
}
