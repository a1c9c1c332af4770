package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kitmuster/lint/forecast"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

const (
	// columns is how many hours a row of a chart shows, one character each; with the indent it stays below 80.
	columns = 72
	// every is how many columns lie between two marks.
	every = 6
	// indent of the rows.
	rowIndent = "    "
)

// blocks are the eighths of a row's height, from the least above nothing to the whole.
var blocks = []rune("▁▂▃▄▅▆▇█")

// block draws a value against the most; a dot is nothing.
func block(v, most float64) rune {
	if v <= 0 || most <= 0 {
		return '.'
	}
	n := int(math.Ceil(v / most * float64(len(blocks))))
	return blocks[min(max(n, 1), len(blocks))-1]
}

// chart draws water, food and loads, and who walks when, in rows of one character an hour.
func (p *outlook) chart() {
	hours := p.res.Hours
	size := (len(hours) + columns - 1) / columns // hours in a column
	p.say("")
	each, doing, least, most := "a character an hour, as it stands at the end of the hour", "w: walk, h: halt, z: sleep", "", ""
	if size > 1 {
		each, doing = fmt.Sprintf("a character for %d hours", size), "w: walk in any of them; else what they begin with: h: halt, z: sleep"
		least, most = ", the least in them", ", the most in them"
	}
	if slices.ContainsFunc(p.in.Legs, func(l forecast.Leg) bool { return l.Ride > 0 }) {
		doing += ", r: ride"
	}
	p.wrap("  ", fmt.Sprintf("hour by hour, %s, in eighths from ▁ to █; a dot is none; marked every %d hours", each, every*size))
	p.marks(size)
	p.row(size, doing, activity)
	if p.in.Weather != nil {
		left := p.in.Minutes // the last hour may be a part of one
		p.row(size, "#: dark for half of it or more", func(hs []forecast.Hour) rune {
			var dark, all int64
			for i := range hs {
				long := min(60, left)
				dark, all, left = dark+hs[i].DarkMin, all+long, left-long
			}
			if 2*dark >= all {
				return '#'
			}
			return '.'
		})
	}
	level := func(name string, most int64, write func(int64) string, of func(*forecast.Hour) int64) {
		if most == 0 {
			return // there is never any
		}
		p.row(size, fmt.Sprintf("%s%s; █ is %s", name, least, write(most)), func(hs []forecast.Hour) rune {
			v := of(&hs[0])
			for i := range hs {
				v = min(v, of(&hs[i]))
			}
			return block(float64(v), float64(most))
		})
	}
	water := func(h *forecast.Hour) int64 { return h.WaterML }
	level("safe water", p.peak(p.lasting(kinds.StockWater, -1, "").Have, water), p.amounts.Volume, water)
	food := func(h *forecast.Hour) int64 { return h.FoodJ }
	level("food for people", p.peak(p.food(), food), energy, food)
	p.loads(size, most)
}

// food is what people have to eat at the start.
func (p *outlook) food() (j int64) {
	for i := range p.in.Foods {
		if f := &p.in.Foods[i]; f.For < 0 || !p.in.Bodies[f.For].Animal {
			j += f.EnergyJ
		}
	}
	return j
}

// peak is the most that stands at the start or at the end of an hour.
func (p *outlook) peak(start int64, of func(*forecast.Hour) int64) int64 {
	for i := range p.res.Hours {
		start = max(start, of(&p.res.Hours[i]))
	}
	return start
}

// loads draws the packs of each carrier as a share of body mass, all on one scale.
func (p *outlook) loads(size int, when string) {
	var top float64
	var most int64 // the same in permille, rounded up as beside a cap
	share := func(h *forecast.Hour, body int) float64 {
		if kg := p.in.Bodies[body].Mass; kg > 0 {
			return float64(h.LoadMG[body]) / 1e6 / kg
		}
		return 0
	}
	for b := range p.in.Bodies {
		if p.in.Bodies[b].CarriesPack {
			for i := range p.res.Hours {
				if s := share(&p.res.Hours[i], b); s > top {
					top, most = s, unit.PermilleUp(p.res.Hours[i].LoadMG[b], milligrams(p.in.Bodies[b].Mass))
				}
			}
		}
	}
	scale := fmt.Sprintf("; █ is %s of body weight", percent(most, 1000))
	for b := range p.in.Bodies {
		if !p.in.Bodies[b].CarriesPack || top == 0 {
			continue
		}
		p.row(size, "load of "+words.Clean(p.in.Bodies[b].Name)+when+scale, func(hs []forecast.Hour) rune {
			v := 0.0
			for i := range hs {
				v = max(v, share(&hs[i], b))
			}
			return block(v, top)
		})
	}
}

// activity is a walk where anyone walks in a column, else what it begins with.
func activity(hs []forecast.Hour) rune {
	word := map[string]rune{forecast.Walk: 'w', forecast.Halt: 'h', forecast.Sleep: 'z', forecast.Ride: 'r'}
	for i := range hs {
		if hs[i].Activity == forecast.Walk {
			return 'w'
		}
	}
	return word[hs[0].Activity]
}

// row writes one row under its words.
func (p *outlook) row(size int, words string, draw func([]forecast.Hour) rune) {
	p.wrap("  ", words)
	var b strings.Builder
	for from := 0; from < len(p.res.Hours); from += size {
		b.WriteRune(draw(p.res.Hours[from:min(from+size, len(p.res.Hours))]))
	}
	p.say("%s%s", rowIndent, b.String())
}

// marks writes the clock above every sixth column, or, where a column is several hours, the hour of the plan.
func (p *outlook) marks(size int) {
	var words, ticks strings.Builder
	for hour := 0; hour < len(p.res.Hours); hour += every * size {
		word := clock(p.clock(hour))
		if size > 1 {
			word = fmt.Sprint(hour)
		}
		fmt.Fprintf(&words, "%-*s", every, word)
		fmt.Fprintf(&ticks, "%-*s", every, "|")
	}
	p.say("%s%s", rowIndent, words.String())
	p.say("%s%s", rowIndent, ticks.String())
}
