package page

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"kitmuster/lint/audit"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// tick is a mark of a scale; At is in percent of its length.
type tick struct {
	At, Text, Class string
}

// most ticks of a scale: that many fit beside each other on a phone. Our own figure.
const mostTicks = 5

// nice is the least step of 1, 2 or 5 times a power of ten that covers most in mostTicks steps or fewer; unit is the least step.
func nice(most, unit int64) int64 {
	for step := unit; ; step *= 10 {
		for _, k := range []int64{1, 2, 5} {
			if step*k*mostTicks >= most || step > math.MaxInt64/100 {
				return step * k
			}
		}
	}
}

// ticks are the marks from nought to end, each step; text writes one.
func ticks(end, step int64, text func(int64) string) (out []tick) {
	for v := int64(0); v <= end; v += step {
		t := tick{At: decimal(v*1000/max(end, 1), 10), Text: text(v)}
		switch {
		case v == 0:
			t.Class = "s"
		case v*100 > end*96:
			t.Class = "z"
		}
		out = append(out, t)
	}
	return out
}

// decimal writes n/d with one decimal where there is one.
func decimal(n, d int64) string { return strconv.FormatFloat(float64(n)/float64(d), 'f', -1, 64) }

// bar is a load by its parts, against its cap.
type bar struct {
	Alt string
	// Even and Odd draw the parts in turn, so that neighbours differ.
	Even, Odd string
	Cap, Most int64 // of a thousand; 0: not drawn
	Ticks     []tick
}

// poundMG is a pound on a scale, in whole milligrams.
const poundMG = 453_592

// newBar draws the load of a bearer: empty pack and compartments, pack by pack, in the order of the table below it.
func newBar(in words.Amounts, b *audit.Bearer) *bar {
	least, text := int64(1_000_000), mass
	if in.Units == unit.US {
		least, text = poundMG, func(mg int64) string { return strconv.FormatInt(mg/poundMG, 10) + " lb" }
	}
	step := nice(max(b.LoadMG, b.CapMG, b.MostMG), least)
	end := (max(b.LoadMG, b.CapMG, b.MostMG) + step - 1) / step * step
	if end == 0 {
		return nil
	}
	out := &bar{Ticks: ticks(end, step, text)}
	var at int64
	n := 0
	add := func(mg int64) {
		if x, to := at*1000/end, (at+mg)*1000/end; to > x {
			w := max(1, to-x-3)
			box := fmt.Sprintf("M%d 4h%dv20h-%dz", x, w, w)
			if n%2 == 0 {
				out.Even += box
			} else {
				out.Odd += box
			}
		}
		at += mg
		n++
	}
	for _, p := range b.Packs {
		add(p.EmptyMG)
		for _, c := range p.Parts {
			add(c.MassMG)
		}
	}
	out.Cap = b.CapMG * 1000 / end
	out.Alt = fmt.Sprintf("load of %s: %s, the cap is %s", onPaper(b.Name), in.Mass(b.LoadMG), in.Mass(b.CapMG))
	if b.MostMG > b.LoadMG {
		out.Most = b.MostMG * 1000 / end
		out.Alt += ", the most on the way " + in.Mass(b.MostMG)
	}
	out.Alt += "; scale from 0 to " + in.Mass(end)
	return out
}

// panel is one curve of a chart, hour by hour.
type panel struct {
	Title, Alt string
	// Of is what the curve is of, "" where that has no colour of its own.
	Of            string
	Hours, Height int
	Nights, Walks string
	Line          string
	// Course leads from mark to mark.
	Course string
	Short  int
	Ticks  []tick
}

// panelHeight is that of a curve, in CSS pixels; doingHeight that of the strip above them.
const (
	panelHeight = 48
	doingHeight = 14
)

// gallonML is a US gallon on a scale, in whole millilitres.
const gallonML = 3785

// panels draws who walks or rides when and how water and food go down, one below the other on one scale of hours; more are other stocks.
func panels(s *audit.Sheet) (out, more []panel) {
	n := len(s.Hours.Doing)
	if n == 0 {
		return nil, nil
	}
	nights := stripes(s.Hours.Dark, '#', 0, 100)
	in, litre, least := words.Amounts{Units: s.Units}, int64(1), int64(1000)
	if s.Units == unit.US {
		litre, least = gallonML, 1
	}
	doing := panel{Title: "on the way and at rest", Hours: n, Height: doingHeight, Nights: nights, Walks: stripes(s.Hours.Doing, 'w', 35, 65) + stripes(s.Hours.Doing, 'r', 44, 56), Alt: walking(s)}
	out = append(out, doing)
	for _, c := range []struct {
		kind       kinds.Stock
		title      string
		values     []int64
		text       func(int64) string
		per, least int64 // of a shown unit; shown units of the least step
	}{
		{kinds.StockWater, "safe water", s.Hours.WaterML, in.Volume, litre, least},
		{kinds.StockEnergy, "food for people", s.Hours.FoodJ, energy, 4184, 100},
		{kinds.StockFuel, "water that the fuel can still boil", s.Hours.FuelML, in.Volume, litre, least},
		{kinds.StockLight, "light left in lamps and cells", s.Hours.LightMin, hours, 60, 1},
	} {
		var have, need int64
		lasts, told := -1, true
		for i := range s.Stocks {
			if x := &s.Stocks[i]; x.Kind == c.kind && x.Of == "" {
				have, need, told = x.Have, x.Need, !x.Unrecorded
				if x.Known && x.Lasts*60 < s.Minutes {
					lasts = int(x.Lasts)
				}
			}
		}
		top := have
		for _, v := range c.values {
			top = max(top, v)
		}
		if top == 0 && (need == 0 || !told) {
			continue
		}
		top = (top + c.per - 1) / c.per
		step := nice(top, c.least)
		end := max(step, (top+step-1)/step*step) * c.per
		p := panel{Of: string(c.kind), Hours: n, Height: panelHeight, Nights: nights, Title: fmt.Sprintf("%s, from 0 to %s", c.title, c.text(end))}
		p.Line = steps(have, c.values, end)
		p.Alt = fmt.Sprintf("%s: %s at the start", c.title, c.text(have))
		for h := 24; h < n; h += 24 {
			p.Alt += fmt.Sprintf(", %s after %d hours", c.text(c.values[h-1]), h)
		}
		p.Alt += fmt.Sprintf(", %s at the end, after %s", c.text(c.values[n-1]), unit.Duration(s.Minutes*60))
		if lasts >= 0 {
			p.Short = max(1, lasts)
			p.Alt += fmt.Sprintf("; first short in hour %d", lasts)
			p.Title += fmt.Sprintf("; first short in hour %d, at the line across", lasts)
		}
		if c.kind == kinds.StockWater || c.kind == kinds.StockEnergy {
			out = append(out, p)
		} else {
			more = append(more, p)
		}
	}
	every := int64(12)
	for int64(n)/every > 4 {
		every += 12
	}
	for _, all := range [][]panel{out, more} {
		if len(all) > 0 {
			all[len(all)-1].Ticks = ticks(int64(n), every, func(h int64) string { return "hour " + strconv.FormatInt(h, 10) })
		}
	}
	return out, more
}

// steps draws values at the ends of hours as the upper edge of an area, on a height of 100.
func steps(have int64, values []int64, end int64) string {
	y := func(v int64) int64 { return 100 - (v*100+end/2)/end }
	var b strings.Builder
	at := y(have)
	fmt.Fprintf(&b, "M0 100V%d", at)
	run := 0
	for _, v := range values {
		if next := y(v); next != at {
			if run > 0 {
				fmt.Fprintf(&b, "h%d", run)
				run = 0
			}
			fmt.Fprintf(&b, "l1 %d", next-at)
			at = next
			continue
		}
		run++
	}
	if run > 0 {
		fmt.Fprintf(&b, "h%d", run)
	}
	return b.String() + "V100"
}

// stripes draws the hours that have a mark, each run of them as one box.
func stripes(of string, mark byte, top, bottom int) string {
	var b strings.Builder
	for i := 0; i < len(of); i++ {
		if of[i] != mark {
			continue
		}
		n := 1
		for i+n < len(of) && of[i+n] == mark {
			n++
		}
		fmt.Fprintf(&b, "M%d %dh%dv%dh-%dz", i, top, n, bottom-top, n)
		i += n - 1
	}
	return b.String()
}

// walking draws when people walk or ride and when it is dark.
func walking(s *audit.Sheet) string {
	text := "someone walks in " + spans(s.Hours.Doing, 'w')
	if rides(s) {
		text += "; the household rides in " + spans(s.Hours.Doing, 'r')
	}
	if s.Hours.Dark != "" {
		text += "; dark in " + spans(s.Hours.Dark, '#')
	}
	return text
}

// rides reports whether there is an hour in which nobody walks and the household rides.
func rides(s *audit.Sheet) bool { return strings.Contains(s.Hours.Doing, "r") }

// spans lists the hours that have a mark.
func spans(of string, mark byte) string {
	var out []string
	for i := 0; i < len(of); i++ {
		if of[i] != mark {
			continue
		}
		from := i
		for i+1 < len(of) && of[i+1] == mark {
			i++
		}
		if from == i {
			out = append(out, strconv.Itoa(from))
		} else {
			out = append(out, fmt.Sprintf("%d to %d", from, i))
		}
	}
	switch len(out) {
	case 0:
		return "no hour"
	case 1:
		if !strings.Contains(out[0], " ") {
			return "hour " + out[0]
		}
		return "hours " + out[0]
	}
	return "hours " + words.And(out)
}
