package remedy

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"strings"
	"sync"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/measure"
)

// Bounds of the search, all our own: what a person can follow, and a few seconds of a household.
const (
	mostSteps    = 15  // of one proposal
	mostJudgings = 700 // of one household
	width        = 3   // states that are gone on from
	closeLook    = 8   // candidates of a round that are judged by all rules
	patience     = 3   // rounds without a better state that may be proposed
	perFinding   = 60  // candidates for one finding
)

// searching is one household for which a change is sought.
type searching struct {
	ctx      context.Context
	m        *household.Measured
	rulebook *judge.Rulebook
	o        household.Options
	until    finding.Level
	start    *kit.Household
	base     []said           // what is said of the household as it is; nil before that is known
	lasts    map[string]int64 // how many hours each stock lasts as it is
	lacks    map[string]int64 // by how much it misses, by known
	banned   map[string]bool  // things, and ways of things to places, whose lines are changed by hand only
	tried    int
	ended    bool
}

// tryout is a household with some changes, measured and judged.
type tryout struct {
	moves []move
	kit   *kit.Household
	facts *facts.Facts
	// open are the findings from the level on that are to be cleared, fresh those of any level that were not there.
	open  []judge.Verdict
	fresh []judge.Verdict
	all   []judge.Verdict
	// shorter is how many stocks last less long than as it is.
	shorter int
	score   score
}

// score is what makes one change better than another, gravest first: less is better.
type score struct {
	errors, open, fresh int
	lack                int64 // permille of what lacked as it is
	steps               int
	worth               int64 // of what is left at home
	mass                int64 // moved, in 100 g
	worst               int64 // the heaviest load against body mass, in permille
}

func (a score) compare(b score) int {
	return cmp.Or(cmp.Compare(a.errors, b.errors), cmp.Compare(a.open, b.open), cmp.Compare(a.fresh, b.fresh), cmp.Compare(a.lack, b.lack),
		cmp.Compare(a.steps, b.steps), cmp.Compare(a.worth, b.worth), cmp.Compare(a.mass, b.mass), cmp.Compare(a.worst, b.worst))
}

// known is the name of a finding by which the amount that lacked is found again.
func known(v judge.Verdict) string { return v.Rule.Name + " " + whole(v.At) }

// heard are the verdicts on a household as they are known again.
func heard(h *kit.Household, vs []judge.Verdict) []said {
	out, scope := make([]said, len(vs)), scopes(h)
	for i, v := range vs {
		out[i] = said{v.Rule.Name, whole(v.At), scope(v.At), v.Level.Rank(), v.Lack}
	}
	return out
}

// begin takes what is said of the household as it is as what was there before.
func (s *searching) begin() *tryout {
	t := s.try(nil, nil)
	s.base, s.lacks = heard(t.kit, t.all), map[string]int64{}
	for _, v := range t.all {
		s.lacks[known(v)] = v.Lack
	}
	t.fresh, t.score = nil, s.scoreOf(t)
	s.lasts = lasting(t.facts)
	return t
}

// lasting is how many hours each stock lasts, of those that are known.
func lasting(f *facts.Facts) map[string]int64 {
	out := map[string]int64{}
	for i := range f.Endurance.Stocks {
		if x := &f.Endurance.Stocks[i]; x.Known {
			out[x.ID] = x.Lasts
		}
	}
	return out
}

// shorter counts the stocks that last less long than as it is: nothing is cleared at the price of what is eaten, drunk or taken.
func (s *searching) shorter(f *facts.Facts) (n int) {
	now := lasting(f)
	for id, was := range s.lasts {
		if now[id] < was {
			n++
		}
	}
	return n
}

// waived reports whether a waiver of the household covers a verdict.
func (s *searching) waived(v judge.Verdict) bool {
	return s.m.Waives(s.rulebook, v.Rule.Name, whole(v.At), s.o.On)
}

// judge measures and judges a household by a rulebook.
func (s *searching) judge(h *kit.Household, by *judge.Rulebook) (*facts.Facts, []judge.Verdict) {
	changed := *s.m
	changed.Kit = h
	changed.Facts, changed.Ledger = measure.Of(h, measure.Options{On: s.o.On, Season: s.o.Season, Start: s.o.Start, Units: s.o.Units, Limits: s.m.Facts.Limits, Asked: s.m.Facts.Asked})
	vs, _ := changed.Verdicts(s.ctx, by, finding.Note, s.o.On)
	return changed.Facts, slices.DeleteFunc(vs, s.waived)
}

// try judges the household with changes: by all rules, or only by those that stand open before it; nil where the changes make no sense.
func (s *searching) try(moves []move, of *tryout) *tryout {
	h := s.start.Clone()
	for _, m := range moves {
		if !do(h, m) {
			return nil
		}
	}
	by := s.rulebook
	if of != nil {
		by = s.rulebook.Some(func(r *judge.Rule) bool {
			return r.Area == "load" || r.Name == judge.NotRecorded || slices.ContainsFunc(of.open, func(v judge.Verdict) bool { return v.Rule == r }) || slices.ContainsFunc(of.fresh, func(v judge.Verdict) bool { return v.Rule == r })
		})
	}
	t := &tryout{moves: moves, kit: h}
	t.facts, t.all = s.judge(h, by)
	for _, v := range t.all {
		if v.Level.Rank() >= s.until.Rank() {
			t.open = append(t.open, v)
		}
	}
	if s.base != nil {
		t.shorter = s.shorter(t.facts)
		for _, i := range fresh(s.base, heard(h, t.all)) {
			t.fresh = append(t.fresh, t.all[i])
		}
	}
	t.score = s.scoreOf(t)
	if of != nil { // of most candidates only the score is looked at, and there are hundreds
		return &tryout{moves: moves, score: t.score}
	}
	return t
}

func (s *searching) scoreOf(t *tryout) score {
	x := score{open: len(t.open), fresh: len(t.fresh) + t.shorter, steps: len(t.moves)}
	for _, v := range t.open {
		if v.Level == finding.Error {
			x.errors++
		}
		x.lack += 1000
		if was := s.lacks[known(v)]; was > 0 {
			x.lack += min(v.Lack*1000/was, 9000) - 1000
		}
	}
	for _, th := range things(s.start) {
		for _, m := range t.moves {
			if m.thing != th.Spot {
				continue
			}
			count := cmp.Or(m.count, th.Count)
			x.mass += (th.Each().Milligrams()*count + 99_999) / 100_000
			if m.act == actLeave {
				x.worth += th.Worth * count
			}
		}
	}
	for i := range t.facts.Carriers {
		x.worst = max(x.worst, t.facts.Carriers[i].ShareP)
	}
	return x
}

// trial is a change to be tried by the rules that stand open before it in of, or by all.
type trial struct {
	moves []move
	of    *tryout
}

// tryAll tries changes side by side, and gives those that make sense in their order.
func (s *searching) tryAll(todo []trial) []*tryout {
	s.tried += len(todo)
	out := make([]*tryout, len(todo))
	next := make(chan int)
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(todo)) {
		all.Go(func() {
			for i := range next {
				out[i] = s.try(todo[i].moves, todo[i].of)
			}
		})
	}
	for i := range todo {
		next <- i
	}
	close(next)
	all.Wait()
	return slices.DeleteFunc(out, func(t *tryout) bool { return t == nil })
}

// search finds the best change that it can, and one that clears more but brings something milder, where it met one: trade is nil otherwise.
func (s *searching) search() (best, trade *tryout) {
	asItIs := s.begin()
	best = asItIs
	beam, seen, idle := []*tryout{asItIs}, map[string]bool{}, 0
	for idle < patience && len(best.open) > 0 && len(beam) > 0 {
		var todo []trial
		for _, of := range beam {
			if len(of.moves) == mostSteps {
				continue
			}
			for _, m := range s.candidates(of) {
				moves := append(slices.Clone(of.moves), m)
				name := nameOf(moves)
				if seen[name] {
					continue
				}
				seen[name] = true
				if s.tried+len(todo) >= mostJudgings {
					s.ended = true
					break
				}
				todo = append(todo, trial{moves, of})
			}
		}
		round := s.tryAll(todo)
		slices.SortStableFunc(round, func(a, b *tryout) int { return a.score.compare(b.score) })
		todo = nil
		for _, t := range round[:min(len(round), closeLook)] {
			todo = append(todo, trial{t.moves, nil})
		}
		beam = s.tryAll(todo)
		slices.SortStableFunc(beam, func(a, b *tryout) int { return a.score.compare(b.score) })
		beam = beam[:min(len(beam), width)]
		idle++
		for _, t := range beam {
			if t.score.fresh == 0 && t.score.compare(best.score) < 0 && (t.score.errors < asItIs.score.errors || t.score.errors == asItIs.score.errors && t.score.open < asItIs.score.open) {
				best, idle = t, 0 // one that clears something
			}
			if len(t.fresh) > 0 && t.shorter == 0 && !slices.ContainsFunc(t.fresh, func(v judge.Verdict) bool { return v.Level.Rank() >= s.until.Rank() }) && t.score.open < asItIs.score.open && (trade == nil || t.score.compare(trade.score) < 0) {
				trade = t
			}
		}
		if s.ended {
			break
		}
	}
	best = s.pruned(best)
	if trade != nil && trade.score.open >= best.score.open {
		trade = nil
	}
	return best, trade
}

// pruned drops the changes without which a state is as good.
func (s *searching) pruned(t *tryout) *tryout {
	for i := 0; i < len(t.moves); {
		s.tried++
		less := s.try(slices.Delete(slices.Clone(t.moves), i, i+1), nil)
		if less != nil && less.score.fresh == 0 && less.score.errors <= t.score.errors && less.score.open <= t.score.open {
			t = less
			continue
		}
		i++
	}
	return t
}

// ban leaves out a change whose lines cannot be written, and its thing where that is so of a second place.
func (s *searching) ban(m move) {
	if slices.ContainsFunc(slices.Collect(maps.Keys(s.banned)), func(k string) bool { return strings.HasPrefix(k, m.thing+" ") }) {
		s.banned[m.thing] = true
	}
	s.banned[m.thing+" "+m.to] = true
}

// nameOf names a set of changes, whatever their order.
func nameOf(moves []move) string {
	parts := make([]string, len(moves))
	for i, m := range moves {
		parts[i] = fmt.Sprint(m.act, " ", m.thing, " ", m.to, " ", m.count)
	}
	slices.Sort(parts)
	return strings.Join(parts, "\n")
}

// candidates are changes that may help with what stands open in a state.
func (s *searching) candidates(of *tryout) (out []move) {
	todo := append(slices.Clone(of.open), of.fresh...)
	slices.SortStableFunc(todo, func(a, b judge.Verdict) int { return b.Level.Rank() - a.Level.Rank() })
	for _, v := range todo {
		ms := s.helping(of, v)
		out = append(out, ms[:min(len(ms), perFinding)]...)
	}
	touched := map[string]bool{}
	for _, m := range of.moves {
		touched[m.thing] = true
	}
	out = slices.DeleteFunc(out, func(m move) bool { return touched[m.thing] || s.banned[m.thing] || s.banned[m.thing+" "+m.to] })
	return shorten(out)
}

// helping are changes that may help with one finding, the likeliest first.
func (s *searching) helping(of *tryout, v judge.Verdict) (out []move) {
	all, spots := things(of.kit), places(of.kit)
	at := s.subject(of, v)
	if at.item != "" {
		for _, t := range all {
			if t.Spot == at.item {
				out = append(out, s.elsewhere(v.Rule, t, spots)...)
			}
		}
	}
	if v.Rule.Lack != nil && v.Rule.Lack.Unit == kinds.UnitMass && v.Lack > 0 && (at.carrier != "" || at.vehicle != "") {
		out = append(out, s.lighter(v, all, spots, at)...)
	}
	if at.item == "" && at.vehicle == "" && (v.Rule.Area == "load" || v.Rule.Area == "separation") {
		out = append(out, s.handed(of.kit)...)
	}
	for _, id := range v.Because { // things that a rule names as the reason
		for _, t := range all {
			if t.Spot == id && t.Spot != at.item {
				out = append(out, s.elsewhere(v.Rule, t, spots)...)
			}
		}
	}
	return append(out, s.fetched(v.Rule.Area, all, spots, at)...)
}

// subject is what a finding is about: a thing, or somebody with packs, or everybody.
type subject struct {
	item, carrier, pack, vehicle string
}

func (s *searching) subject(of *tryout, v judge.Verdict) (out subject) {
	at := v.At
	for _, t := range things(of.kit) {
		if t.Spot == at || strings.HasPrefix(at, t.Spot+"/") {
			return subject{item: t.Spot, carrier: t.at.carrier}
		}
	}
	for i := range of.kit.Packs {
		if p := &of.kit.Packs[i]; p.Spot == at || strings.HasPrefix(at, p.Spot+"/") {
			return subject{carrier: p.Carrier, pack: p.Spot}
		}
	}
	for i := range of.kit.Vehicles {
		if x := &of.kit.Vehicles[i]; x.Spot == at || strings.HasPrefix(at, x.Spot+"/") {
			return subject{vehicle: x.Key}
		}
	}
	for i := range of.facts.Carriers {
		c := &of.facts.Carriers[i]
		if at == c.ID || strings.HasPrefix(at, c.ID+"/") {
			return subject{carrier: c.Key}
		}
	}
	return out
}

// handy are areas of rules on what must be at hand: only for these a thing goes into a pocket, which is neither dry nor a way to make
// a load lighter.
var handy = []string{"access", "light", "signals"}

// handed gives each pack to each other person.
func (s *searching) handed(h *kit.Household) (out []move) {
	for i := range h.Packs {
		for j := range h.People {
			if s.mayHand(h, &h.Packs[i], &h.People[j]) {
				out = append(out, move{act: actHand, thing: h.Packs[i].Spot, to: h.People[j].Spot})
			}
		}
	}
	return out
}

// elsewhere moves a thing to every other place.
func (s *searching) elsewhere(r *judge.Rule, t thing, spots []place) (out []move) {
	for _, p := range spots {
		if s.may(t, p) && (p.reach != kinds.ReachOnBody || slices.Contains(handy, r.Area) || r.Name == "medication/rescue-on-owner") {
			out = append(out, moveTo(t, p, 0))
		}
	}
	return out
}

func moveTo(t thing, to place, count int64) move {
	act := actMove
	switch {
	case to.spot == home:
		act = actLeave
	case t.at.spot == home:
		act = actTake
	}
	return move{act: act, thing: t.Spot, to: to.spot, count: count}
}

// lighter takes mass from a carrier: the lightest thing that is enough first, then what comes nearest to it.
func (s *searching) lighter(v judge.Verdict, all []thing, spots []place, at subject) (out []move) {
	var takers []place
	for _, p := range spots { // one compartment of each other pack that is reached alike
		if at.vehicle == "" && p.carrier != at.carrier && p.carrier != "" && p.reach != kinds.ReachOnBody && !p.animal && (at.pack == "" || p.pack.Spot != at.pack) {
			takers = append(takers, p)
		}
	}
	var parts []struct {
		thing
		count, mg int64
	}
	add := func(t thing, count int64) {
		parts = append(parts, struct {
			thing
			count, mg int64
		}{t, count, t.Each().Milligrams() * cmp.Or(count, t.Count)})
	}
	for _, t := range all {
		if t.at.pack == nil || at.vehicle == "" && t.at.carrier != at.carrier || at.vehicle != "" && t.at.pack.Vehicle != at.vehicle || at.pack != "" && t.at.pack.Spot != at.pack || t.Each() <= 0 {
			continue
		}
		add(t, 0)
		if n := (v.Lack + t.Each().Milligrams() - 1) / t.Each().Milligrams(); n > 0 && n < t.Count {
			add(t, n)
		}
		if t.Water.Value > 0 && !t.MassIncludesWater {
			out = append(out, move{act: actEmpty, thing: t.Spot})
		}
	}
	slices.SortStableFunc(parts, func(a, b struct {
		thing
		count, mg int64
	}) int {
		enough := func(mg int64) int {
			if mg >= v.Lack {
				return 0
			}
			return 1
		}
		d := cmp.Compare(a.mg, b.mg)
		if enough(a.mg) == 1 {
			d = -d
		}
		return cmp.Or(enough(a.mg)-enough(b.mg), d)
	})
	enough := 0
	for _, p := range parts {
		if p.mg >= v.Lack {
			if enough++; enough > 8 {
				continue
			}
		}
		for _, to := range append(slices.Clone(takers), place{spot: home}) {
			if !s.may(p.thing, to) || to.pack != nil && to.reach != p.at.reach && slices.ContainsFunc(takers, func(o place) bool { return o.pack == to.pack && o.reach == p.at.reach }) {
				continue
			}
			out = append(out, moveTo(p.thing, to, p.count))
		}
	}
	return out
}

// fetched brings to a pack, to somebody's packs or to all packs what these have none of and others have: of each kind the lightest
// thing, from home or from who has several.
func (s *searching) fetched(area string, all []thing, spots []place, at subject) (out []move) {
	if at.vehicle != "" {
		return nil
	}
	has := map[string]bool{}
	here := func(p place) bool {
		return p.pack != nil && (at.pack != "" && p.pack.Spot == at.pack || at.pack == "" && (at.carrier == "" || p.carrier == at.carrier))
	}
	for _, t := range all {
		if here(t.at) || t.at.reach == kinds.ReachOnBody && t.at.carrier == at.carrier {
			for _, k := range kindsOf(t.Item) {
				has[k] = true
			}
		}
		if here(t.at) && t.Container.Set && t.Water.Value < t.Container.Value.Capacity {
			out = append(out, move{act: actFill, thing: t.Spot})
		}
	}
	best := map[string]thing{}
	for _, t := range all {
		if here(t.at) || t.Pinned || t.at.animal {
			continue
		}
		for _, k := range kindsOf(t.Item) {
			if has[k] && t.at.spot != home {
				continue
			}
			if b, ok := best[k]; !ok || fit(t) < fit(b) || fit(t) == fit(b) && t.Each() < b.Each() {
				best[k] = t
			}
		}
	}
	kindsFetched := slices.SortedFunc(maps.Keys(best), func(a, b string) int {
		return cmp.Or(distance(area, a)-distance(area, b), cmp.Compare(a, b))
	})
	for _, k := range kindsFetched {
		t := best[k]
		reached := map[string]bool{}
		for _, p := range spots {
			if !here(p) || !s.may(t, p) || reached[p.pack.Spot+string(p.reach)] {
				continue
			}
			reached[p.pack.Spot+string(p.reach)] = true
			count := int64(0)
			if t.Count > 1 && t.at.spot != home {
				count = 1
			}
			out = append(out, moveTo(t, p, count))
		}
	}
	return out
}

// answers are parts of the kinds of things that answer findings of an area: these are tried first, and the others after them.
var answers = map[string][]string{
	"access": {"can:"}, "animals": {"food:", "container", "can:animal"}, "care": {"cells:", "can:"}, "children": {"food:", "insulation:", "can:warmth"},
	"clothing": {"insulation:", "can:warmth", "can:rain"}, "documents": {"document:"}, "endurance": {"food:", "water", "container", "fuel:", "cells:", "treat:"},
	"fire": {"can:fire", "can:tinder"}, "first-aid": {"first-aid:", "can:first_aid", "can:bleeding"}, "food": {"food:", "can:cook", "can:open_cans", "stove:", "fuel:"},
	"hygiene": {"can:hygiene"}, "infant": {"food:", "water"}, "light": {"can:light", "cells:"}, "medication": {"medicine:"}, "money": {"cash"},
	"navigation": {"can:navigate"}, "power": {"cells:", "can:charge"}, "radio": {"radio:"}, "separation": {"can:", "treat:", "food:"},
	"shelter": {"can:shelter", "can:ground", "insulation:", "can:warmth"}, "signals": {"can:signal"}, "tools": {"can:cut", "can:repair"},
	"water": {"treat:", "container", "water"},
}

// distance is 0 for a kind of things that answers findings of an area, and 1 for another.
func distance(area, kind string) int {
	if slices.ContainsFunc(answers[area], func(part string) bool { return strings.HasPrefix(kind, part) }) {
		return 0
	}
	return 1
}

// fit ranks where a thing is fetched from: from home, then one of several.
func fit(t thing) int {
	switch {
	case t.at.spot == home:
		return 0
	case t.Count > 1:
		return 1
	}
	return 2
}
