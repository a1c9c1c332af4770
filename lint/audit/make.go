package audit

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"slices"
	"strings"

	"kitmuster/lint"
	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/forecast"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
)

// Product is the judging of a household, and its *Sheet.
var Product = lint.Product{Name: "audit", Make: makeSheet, Believe: believe}

func makeSheet(ctx context.Context, tree fs.FS, rules *judge.Rulebook, dir string, o household.Options) household.Outcome {
	m := measured{household.MeasureFor(tree, dir, rules, o)}
	out := m.Judge(ctx, rules, o)
	if m.Facts != nil {
		out.Extra = m.sheet(rules, o)
	}
	return out
}

// measured is a household that a sheet is made of.
type measured struct{ *household.Measured }

// sheet gathers what an audit shows of the household beside its findings.
func (m measured) sheet(rulebook *judge.Rulebook, o household.Options) *Sheet {
	f := m.Facts
	s := &Sheet{Minutes: f.Endurance.Minutes, Start: f.Endurance.StartMin, Assumed: !f.Plan.MinutesSet, Points: m.Points(rulebook)}
	if m.Household.Units == unit.US {
		s.Units = unit.US
	}
	if f.Plan.SeasonKnown {
		s.Season, s.DayMC, s.NightMC = f.Plan.Season, f.Plan.DayMC, f.Plan.NightMC
	}
	s.FoodMG, s.FoodJ = f.Household.FoodPackedMG, f.Household.Supply.FoodEnergyJ
	if all := f.Household.MassMG; all > 0 {
		s.UnweighedP = (f.Household.UnweighedMG*2000 + all) / (2 * all)
	}
	for i := range f.People {
		s.People = append(s.People, f.People[i].Name)
	}
	m.bearers(rulebook, s)
	m.lasting(s)
	m.abilities(s)
	m.due(rulebook, o, s)
	r := &f.Record
	s.Practice = Practice{WeighedKnown: r.WeighedKnown, Weighed: r.WeighedDay, AuditedKnown: r.AuditedKnown, Audited: r.AuditedDay}
	for _, w := range r.Shakedowns {
		s.Practice.Walks = append(s.Practice.Walks, PracticeWalk{Day: w.Day, DistanceMM: w.DistanceMM, LoadKnown: w.LoadKnown, LoadMG: w.LoadMG})
	}
	slices.SortStableFunc(s.Practice.Walks, func(a, b PracticeWalk) int { return cmp.Compare(a.Day, b.Day) })
	return s
}

func (m measured) bearers(rulebook *judge.Rulebook, s *Sheet) {
	f := m.Facts
	for i := range f.Carriers {
		c := &f.Carriers[i]
		share := m.CapOf(rulebook, c)
		b := Bearer{
			Name: c.Name, BodyMG: c.BodyMassMG, LoadMG: c.FootMG, BaseMG: c.BaseMG, OnBodyMG: c.OnBodyMG,
			CapP: share, CapMG: c.BodyMassMG * share / 1000, Own: c.CapKnown,
			LoadLeast: !c.LoadKnown, BodyAssumed: !c.BodyMassKnown,
		}
		if c.Carries {
			s.RoomMG += max(0, b.CapMG-b.LoadMG)
		}
		for j := range f.Animals {
			if a := &f.Animals[j]; a.CarriedBy == c.ID {
				b.Animals = append(b.Animals, BorneAnimal{Name: a.Name, MassMG: a.BodyMassMG, Assumed: !a.CarriedWritten})
			}
		}
		if len(c.Packs) == 0 && len(b.Animals) == 0 {
			continue
		}
		s.LoadP = max(s.LoadP, c.ShareP)
		if k := slices.IndexFunc(f.Endurance.Bodies, func(x facts.Burden) bool { return x.ID == c.ID }); k >= 0 {
			b.MostMG, b.MostHour = f.Endurance.Bodies[k].MostMG, f.Endurance.Bodies[k].MostHour
		}
		for _, p := range f.Packs {
			if p.Carrier != c.ID {
				continue
			}
			load := PackLoad{Name: p.Name, MassMG: p.MassMG, EmptyMG: p.EmptyMG}
			for _, part := range f.Compartments {
				if part.Pack == p.ID {
					load.Parts = append(load.Parts, PartLoad{Name: part.Name, Reach: part.Reach, MassMG: part.MassMG})
				}
			}
			b.Packs = append(b.Packs, load)
		}
		s.Bearers = append(s.Bearers, b)
	}
}

// letters stand for what is done in an hour.
var letters = map[string]byte{forecast.Walk: 'w', forecast.Halt: 'h', forecast.Sleep: 'z', forecast.Ride: 'r'}

func (m measured) lasting(s *Sheet) {
	for _, l := range m.Facts.Endurance.Stocks {
		s.Stocks = append(s.Stocks, finding.Stock{
			Kind: household.StockOf(m.Facts, &l), Of: l.BodyName, Name: l.Name, Known: l.Known, Lasts: l.Lasts, Have: l.Have, Need: l.Need, Short: l.Short, Past: l.PastJ, Good: l.LastsGood, Least: l.Least, Unrecorded: l.Unrecorded,
		})
		if l.Kind == kinds.StockWater {
			s.WaterKnown, s.WaterHours, s.WaterLeast = l.Known && !l.Unrecorded, l.Lasts, l.Least
		}
	}
	for _, d := range m.Facts.Endurance.Days {
		s.FoundML += d.CollectedML
	}
	s.CarriedHours = s.WaterHours
	if s.FoundML > 0 {
		dry := *m.Plan
		dry.Sources = nil
		for _, l := range forecast.Of(&dry).Stocks {
			if l.Kind == kinds.StockWater {
				s.CarriedHours = int64(l.Lasts)
			}
		}
	}
	hours := m.Forecast.Hours
	doing, dark := make([]byte, 0, len(hours)), make([]byte, 0, len(hours))
	left := m.Plan.Minutes
	for i := range hours {
		h := &hours[i]
		doing = append(doing, letters[h.Activity])
		if m.Plan.Weather != nil {
			mark := byte('.')
			if 2*h.DarkMin >= min(left, 60) {
				mark = '#'
			}
			dark, left = append(dark, mark), left-60
		}
		s.Hours.WaterML = append(s.Hours.WaterML, h.WaterML)
		s.Hours.FoodJ = append(s.Hours.FoodJ, h.FoodJ)
		s.Hours.FuelML = append(s.Hours.FuelML, h.FuelML)
		s.Hours.LightMin = append(s.Hours.LightMin, h.LightMin)
	}
	s.Hours.Doing, s.Hours.Dark = string(doing), string(dark)
}

func (m measured) abilities(s *Sheet) {
	f := m.Facts
	for i := range f.Household.Supply.Can {
		c := &f.Household.Supply.Can[i]
		a := Ability{Capability: c.Capability, Means: c.Means, Hangs: m.OnlyThing(c) != ""}
		for k := range f.People {
			var n int64
			single := false
			for j := range f.People[k].Alone.Can {
				if own := &f.People[k].Alone.Can[j]; own.Capability == c.Capability {
					n, single = own.MeansCount, m.OnlyThing(own) != ""
				}
			}
			a.By, a.HangsBy = append(a.By, n), append(a.HangsBy, single)
		}
		s.Abilities = append(s.Abilities, a)
	}
	for _, c := range f.Capabilities {
		t := Thing{Capability: c.Capability}
		for _, offer := range c.Offers {
			if it := m.Item(offer.ID); it != nil && it.EachMG > 0 {
				t.EachMG = append(t.EachMG, it.EachMG)
			}
		}
		s.Things = append(s.Things, t)
	}
}

// due gathers the days that matter: the facts', the ends of waivers, and the next audit.
func (m measured) due(rulebook *judge.Rulebook, o household.Options, s *Sheet) {
	for _, d := range m.Facts.Dates {
		e, _ := m.Ledger.Entry(d.ID)
		s.Due = append(s.Due, Due{Spot: d.ID, Name: d.Name, Where: m.whereabouts(d.Item), Kind: d.Kind, Day: d.Day, Medicine: d.Medicine, At: m.Place(e.Spots).At})
	}
	for _, w := range m.Kit.Record.Waivers {
		line := WaiverLine{Rule: w.Rule, Spot: w.At, Reason: w.Reason, Agreed: w.Agreed, Until: int64(w.Until), At: m.Locate(w.Spot).At}
		s.Waivers = append(s.Waivers, line)
		s.Due = append(s.Due, Due{Spot: w.Spot, Name: w.Rule, Kind: kinds.DateWaiver, Day: line.Until, At: line.At})
	}
	if days, _ := rulebook.InForce("practice", "audit_days", m.Facts.Limits); days > 0 {
		next := Due{Spot: "record/audited", Kind: kinds.DateAudit, Day: int64(o.On), At: m.Place([]string{"record/audited"}).At}
		if r := &m.Facts.Record; r.AuditedKnown {
			next.Day = max(next.Day, r.AuditedDay+days)
		}
		s.Due = append(s.Due, next)
	}
	slices.SortStableFunc(s.Due, func(a, b Due) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Spot, b.Spot))
	})
}

// whereabouts is the name of the pack that an item is in, or of who wears it or holds it.
func (m measured) whereabouts(id string) string {
	f := m.Facts
	if it := m.Item(id); it != nil {
		if k := slices.IndexFunc(f.Packs, func(p facts.Pack) bool { return p.ID == it.Pack }); k >= 0 {
			return f.Packs[k].Name
		}
	}
	for k := range f.People {
		if p := &f.People[k]; strings.HasPrefix(id, p.ID+"/") {
			return p.Name
		}
	}
	return ""
}

// believe returns an error for a sheet that no audit would have made: it may come from a file or another process.
func believe(packed []byte) error {
	s := &Sheet{}
	if err := lint.Packing.Unmarshal(packed, s); err != nil {
		return err
	}
	h := &s.Hours
	n := len(h.Doing)
	if n > lint.MostHours || strings.Trim(h.Doing, "whzr") != "" || h.Dark != "" && len(h.Dark) != n || strings.Trim(h.Dark, "#.") != "" {
		return errors.New("hours that are none")
	}
	for _, of := range [][]int64{h.WaterML, h.FoodJ, h.FuelML, h.LightMin} {
		if len(of) != n {
			return fmt.Errorf("%d values for %d hours", len(of), n)
		}
	}
	if s.Minutes < 0 || s.Minutes > 60*lint.MostHours || s.Start < 0 || s.Start >= 24*60 {
		return fmt.Errorf("a plan of %d minutes from minute %d on", s.Minutes, s.Start)
	}
	for i := range s.Abilities {
		if x := &s.Abilities[i]; len(x.By) != len(s.People) || len(x.HangsBy) != len(s.People) {
			return fmt.Errorf("%d and %d values for %d people", len(x.By), len(x.HangsBy), len(s.People))
		}
	}
	for i := range s.Stocks {
		if s.Stocks[i].Kind.Row().Kind == "" {
			return fmt.Errorf("a stock of %q", s.Stocks[i].Kind)
		}
	}
	for i := range s.Due {
		if s.Due[i].Kind.Row().Kind == "" {
			return fmt.Errorf("a date that %q", s.Due[i].Kind)
		}
	}
	return lint.Plausible(s)
}

// Households walks what was judged, with the sheet of each household.
func Households(res *lint.Result) iter.Seq2[*Audited, error] {
	return func(yield func(*Audited, error) bool) {
		for j, err := range res.Households {
			if err != nil {
				yield(nil, err)
				return
			}
			out := &Audited{Household: j.Household, Nowhere: j.Nowhere, Summary: j.Summary, Findings: j.Findings}
			if len(j.Extra.Packed) > 0 {
				out.Sheet = &Sheet{}
				err = j.Extra.Unpack(out.Sheet)
			}
			if !yield(out, err) || err != nil {
				return
			}
		}
	}
}
