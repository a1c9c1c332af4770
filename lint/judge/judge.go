// Package judge holds a kit's facts against standards: folders of rules and
// limits, written for the stock policy engine. It knows rules and facts, not
// files of a household; a verdict names a thing by its ID. The stock engine gives
// the same verdicts on the same facts: .ci/run compares them over all examples.
//
// # Layers
//
// layer.go lays a later standard over the earlier ones: effective limits in Go,
// rules side by side, and nothing of another's to be read. Rules of the base learn
// of a limit that a later standard sets anew the way they learn of a household's
// own: among the facts (input.limits), so that stock tools give the same answer.
//
// # Compiled rules
//
// Compiling takes longer than judging a household. So a rulebook is compiled once, in the process that was started, and workers are given
// what came of it (Pack, Unpack); the command also keeps that, sealed, for its next run. compiled.go writes down the engine's syntax trees
// and their places; the engine then lays out its indices anew. A node that compiled.go does not know is refused when it is packed.
//
// # Asked again
//
// Which facts a rule reads is known from the compiled rules, so what it said holds as long as these are the same (JudgeAgain in again.go).
// A struct's fields are told apart (audit.units from audit.on_day), a list is one fact.
//
// # Rules of strangers
//
// The engine does not bound everything, so this package does: shapes before
// compiling (guard in check.go), what one built-in call may build or match
// (bound.go), the time of a rule, and what it may say. TestHostileRules logs time
// and memory of each attack. The engine looks among its own functions before those
// of a query, so compiled rules call bounded functions under names that no rule can
// write; the engine's table, which the whole process shares, stays as it is. What
// one rule holds in memory nobody can tell: WatchHeap stops a rule under which the
// heap of the process grows too far. Only the command calls it, whose workers judge
// one household at a time.
//
// # Signatures
//
// A signature is the engine's, and held to a little more. The engine signs JSON by
// what its reader makes of it, so a field named twice could change what another
// reader sees; sign.go refuses that, and looks at the times that a token names.
// Stock tools verify what we sign and the other way round (TestStockStandard in
// cmd/kitmuster).
package judge

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"runtime"
	heap "runtime/metrics"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/metrics"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/topdown"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
	"kitmuster/policies"
)

// deadline is what one rule may take on one kit before it is stopped.
const deadline = 2 * time.Second

// Bounds on what one rule may take and say of one kit, far above any real rule. Our own figures.
const (
	maxHeap     = 512 << 20 // bytes by which the heap may grow, where it is watched
	maxStopped  = 3         // rules of one standard that have to be stopped, before its others are not asked
	watchTime   = 10 * time.Millisecond
	maxFindings = 10_000
	maxText     = 64 << 10 // bytes of one text
	maxTexts    = 4 << 20  // of all together
	maxReasons  = 100_000  // IDs under because, all together
)

// Problem is a fault of a standard. File is the path within the standard; Line
// and Col count from 1 and are 0 where no place is known.
type Problem struct {
	File      string
	Line, Col int
	Text      string
	// Of is what of a group's standard.cue it is about, as a source.Spot: a limit ("limits", area, name), a rule that is
	// switched off ("off", rule) or "needs"; "" where it is none of these.
	Of string
}

// Span is the place alone.
func (p Problem) Span() source.Span {
	at := source.Point{Line: p.Line, Col: p.Col}
	return source.Span{File: p.File, Start: at, End: at}
}

// String gives the GNU form file:line:column: text.
func (p Problem) String() string {
	if p.Line == 0 {
		return strings.TrimPrefix(p.File+": "+p.Text, ": ")
	}
	return fmt.Sprintf("%s:%d:%d: %s", p.File, p.Line, p.Col, p.Text)
}

func compareProblems(a, b Problem) int {
	return cmp.Or(strings.Compare(a.File, b.File), a.Line-b.Line, a.Col-b.Col, strings.Compare(a.Text, b.Text))
}

// Rule is one rule of a standard with what its METADATA says.
type Rule struct {
	// Name is area/rule-name in the base standard, standard:area/rule-name elsewhere.
	Name string
	// Area is the subject, such as first-aid.
	Area string
	// Title says what is wrong when the rule objects.
	Title string
	// Why says why it matters.
	Why string
	// Remedy says what to do.
	Remedy string
	// Mend is the kind of work that the remedy is.
	Mend finding.Fix
	// Caution is a warning that goes with the remedy, or "".
	Caution string
	// Passes and Fails are short kits, in CUE, that satisfy the rule and break it.
	Passes, Fails string
	Level         finding.Level
	Sources       []string
	// Lack is what each of its findings states an amount of, or nil.
	Lack *finding.Shortfall
	// Limits are those that the rule compares with, in the order of its METADATA.
	Limits []Limit
	// File is the path within the standard; Line and EndLine are its first and last line, METADATA aside.
	File          string
	Line, EndLine int

	ref      ast.Ref
	query    ast.Body
	limitsAt Problem
	// reads are the parts of the facts that it reads, in order; see JudgeAgain.
	reads []int
}

func (r *Rule) problem(format string, args ...any) Problem {
	return Problem{File: r.File, Line: r.Line, Col: 1, Text: fmt.Sprintf(format, args...)}
}

// Verdict is one objection of one rule.
type Verdict struct {
	Rule *Rule
	// At is the ID of what the rule objects to.
	At   string
	Text string
	// Because lists the IDs of what led to it, in the rule's order.
	Because []string
	// Lack is by how much it misses, in the unit that the rule's METADATA names; 0 where the rule states none.
	Lack int64
	// Level is that of the rule, or a lower one that the rule states for this case.
	Level finding.Level
	// Unrecorded lists the IDs of things whose use or amount is not recorded and that may be all that is missing; see Settle.
	Unrecorded []string
}

// Fault is a rule that broke while judging. What it says about the kit is incomplete.
type Fault struct {
	Rule    *Rule
	Problem Problem
}

// Rulebook is a compiled set of standards. It is safe for concurrent use.
type Rulebook struct {
	rules  []*Rule
	byName map[string]*Rule
	limits map[string]*Limit
	lists  map[string]*List
	// engine gives what rules are asked with; the queries of the rules are ready then.
	engine   func() *engine
	deadline time.Duration
	// maxHeap is by how many bytes the heap may grow under a rule; 0 where it is not watched.
	maxHeap uint64
	// standards are the layers; set are the limits that later ones set anew.
	standards []Manifest
	off       map[string]string
	set       []facts.OwnLimit
}

// engine is what rules are asked with.
type engine struct {
	compiler *ast.Compiler
	store    storage.Store
	limited  documents
	// ready are the limits of the base, by area and name.
	ready map[[2]ast.String]*ast.Term
}

// over is an engine of compiled rules over the limits and lists.
func over(c *ast.Compiler, data ast.Object) *engine {
	return &engine{compiler: c, store: inmem.NewFromASTObject(data), limited: documents{data}, ready: limitsOf(data)}
}

// WatchHeap has rules stopped under which the heap of the whole process grows by
// more than 512 MiB; call it before anything is judged. The engine does not tell
// what one rule holds, so this is for a process that judges one kit at a time and
// does nothing else. Without it, what bounds the memory of a rule is the time that
// it has and what one call of a function may build: a program that judges by rules
// of strangers and has other work to do should have a process of its own do it.
func (b *Rulebook) WatchHeap() { b.maxHeap = maxHeap }

// Ready has the rules made ready now, which is done before the first judging otherwise.
func (b *Rulebook) Ready() { b.engine() }

// Base is the standard that comes with the program.
func Base() fs.FS { return policies.FS() }

// Rules lists all rules by name. The slice is the caller's, the rules are not.
func (b *Rulebook) Rules() []*Rule { return slices.Clone(b.rules) }

// Rule finds a rule by its name.
func (b *Rulebook) Rule(name string) (*Rule, bool) {
	r, ok := b.byName[name]
	return r, ok
}

// NoRule says that no rule has the name, and which was probably meant.
func (b *Rulebook) NoRule(name string) string {
	if why := b.off[name]; why != "" {
		return fmt.Sprintf("rule %s is switched off by %s", name, why)
	}
	if n := nearest(name, sortedKeys(b.byName)); n != "" {
		return fmt.Sprintf("no rule is called %q; did you mean %s?", name, n)
	}
	return fmt.Sprintf("no rule is called %q; kitmuster rules lists them", name)
}

// Only is the rulebook with one of its rules left; what is known of the others by name, and all limits, stay.
func (b *Rulebook) Only(r *Rule) *Rulebook {
	return b.Some(func(o *Rule) bool { return o == r })
}

// Some is the rulebook with some of its rules left, as Only has one.
func (b *Rulebook) Some(keep func(*Rule) bool) *Rulebook {
	some := *b
	some.rules = slices.DeleteFunc(slices.Clone(b.rules), func(r *Rule) bool { return !keep(r) })
	return &some
}

// Judge asks every rule about one kit. Known tells whether an ID names
// something of the kit; a rule that points at anything else is at fault.
// Verdicts are sorted by rule, place and text. A rule that breaks, or that
// takes longer than two seconds, becomes a Fault and hides no other rule. When
// ctx ends, every rule not yet asked becomes a Fault.
func (b *Rulebook) Judge(ctx context.Context, f *facts.Facts, known func(id string) bool) ([]Verdict, []Fault) {
	return b.judge(ctx, encode(f), known, finding.Note)
}

// JudgeFrom is Judge by the rules of a level and graver only, with all that NotRecorded says, which Settle needs.
func (b *Rulebook) JudgeFrom(ctx context.Context, least finding.Level, f *facts.Facts, known func(id string) bool) ([]Verdict, []Fault) {
	b.engine()
	needed := make([]bool, len(topFields))
	for _, r := range b.rules {
		if r.Level.Rank() >= least.Rank() {
			for _, p := range r.reads {
				needed[parts[p].top] = true
			}
		}
	}
	return b.judge(ctx, encodeSome(f, needed), known, least)
}

// Each asks one rule after the other and calls asked after each, for a caller who
// wants to know how long each took; the first call, with nil, is when the facts
// stand ready for the engine. Verdicts are thrown away.
func (b *Rulebook) Each(ctx context.Context, f *facts.Facts, asked func(*Rule)) {
	b.engine()
	input := encode(f)
	asked(nil)
	a, done := b.asker(ctx, input)
	defer done()
	for _, r := range b.rules {
		a.ask(r.query, r)
		asked(r)
	}
}

func (b *Rulebook) judge(ctx context.Context, input *ast.Term, known func(id string) bool, least finding.Level) (vs []Verdict, faults []Fault) {
	a, done := b.asker(ctx, input)
	defer done()
	for _, r := range b.rules {
		if r.Level.Rank() < least.Rank() {
			continue
		}
		good, problem := a.verdicts(r, known)
		vs = append(vs, good...)
		if problem != nil {
			faults = append(faults, Fault{r, *problem})
		}
	}
	return settled(vs, least), faults
}

// verdicts asks a rule for what it objects to.
func (a *asker) verdicts(r *Rule, known func(id string) bool) ([]Verdict, *Problem) {
	set, problem := a.ask(r.query, r)
	if problem != nil {
		return nil, problem
	}
	return verdicts(r, set, known)
}

var answer = ast.Var("x")

// documents are the limits and lists of the standards, which never change: each rule
// finds them here and does not read them from the store anew.
type documents struct{ root ast.Value }

// Get implements topdown.BaseCache; nil where there is nothing.
func (d documents) Get(ref ast.Ref) ast.Value {
	if len(ref) < 2 {
		return nil // all documents together: the engine has its own rules for that
	}
	v, err := d.root.Find(ref[1:])
	if err != nil {
		return nil
	}
	return v
}

// Put implements topdown.BaseCache.
func (documents) Put(ast.Ref, ast.Value) {}

// memory is what the rules share about one kit: the engine's cache, which knows what lib.limit gives for each limit of the base
// before anything is asked. A kit needs some two hundred of them, and the engine takes longer for one than for most rules' tests.
type memory struct {
	topdown.VirtualCache
	limits map[[2]ast.String]*ast.Term
	// own are limits that stand among the facts: these are left to lib.limit.
	own map[[2]ast.String]bool
	// deep counts frames: below a "with input as" the facts are other ones.
	deep int
}

// limitsOf are the limits of the base, by area and name.
func limitsOf(root ast.Value) map[[2]ast.String]*ast.Term {
	out := map[[2]ast.String]*ast.Term{}
	base, err := root.Find(ast.Ref{ast.InternedTerm("limits"), ast.InternedTerm(baseName)})
	areas, ok := base.(ast.Object)
	if err != nil || !ok {
		return out
	}
	areas.Foreach(func(area, limits *ast.Term) {
		limits.Value.(ast.Object).Foreach(func(name, stated *ast.Term) {
			out[[2]ast.String{area.Value.(ast.String), name.Value.(ast.String)}] = stated.Get(ast.InternedTerm("value"))
		})
	})
	return out
}

func (e *engine) remembered(input *ast.Term) topdown.VirtualCache {
	m := &memory{VirtualCache: topdown.NewVirtualCache(), limits: e.ready}
	if list := input.Get(ast.InternedTerm("limits")); list != nil && list.Value.(*ast.Array).Len() > 0 {
		m.own = map[[2]ast.String]bool{}
		list.Value.(*ast.Array).Foreach(func(o *ast.Term) {
			m.own[[2]ast.String{o.Get(ast.InternedTerm("area")).Value.(ast.String), o.Get(ast.InternedTerm("name")).Value.(ast.String)}] = true
		})
	}
	return m
}

// Push implements topdown.VirtualCache.
func (m *memory) Push() {
	m.deep++
	m.VirtualCache.Push()
}

// Pop implements topdown.VirtualCache.
func (m *memory) Pop() {
	m.deep--
	m.VirtualCache.Pop()
}

// Get implements topdown.VirtualCache.
func (m *memory) Get(ref ast.Ref) (*ast.Term, bool) {
	if len(ref) == 3 && m.deep == 0 {
		if f, ok := ref[0].Value.(ast.Ref); ok && f[len(f)-1].Value == ast.Value(ast.String("limit")) && f.Equal(limitFunction) {
			area, _ := ref[1].Value.(ast.String)
			name, _ := ref[2].Value.(ast.String)
			which := [2]ast.String{area, name}
			if v := m.limits[which]; v != nil && !m.own[which] {
				return v, false
			}
		}
	}
	return m.VirtualCache.Get(ref)
}

var limitFunction = ast.MustParseRef("data.lib.limit")

// asker asks one rule after the other about the same facts. What asking has in
// common is made once: a rule with nothing to say costs a few microseconds.
type asker struct {
	b     *Rulebook
	e     *engine
	ctx   context.Context
	txn   storage.Transaction
	err   error
	input *ast.Term
	cache topdown.VirtualCache
	// cancel stops the rule being asked; greedy is the one that was stopped for the memory it took.
	cancel, greedy atomic.Pointer[topdown.Cancel]
	// stopped counts the rules of each standard that had to be stopped.
	stopped map[string]int
}

// asker makes ready to ask; done gives back what it took.
func (b *Rulebook) asker(ctx context.Context, input *ast.Term) (a *asker, done func()) {
	e := b.engine()
	a = &asker{b: b, e: e, ctx: ctx, input: input, cache: e.remembered(input), stopped: map[string]int{}}
	a.txn, a.err = e.store.NewTransaction(ctx)
	unhook := context.AfterFunc(ctx, func() {
		if c := a.cancel.Load(); c != nil {
			(*c).Cancel()
		}
	})
	unwatch := func() {}
	if b.maxHeap > 0 {
		unwatch = a.watch()
	}
	return a, func() {
		unhook()
		unwatch()
		if a.err == nil {
			e.store.Abort(ctx, a.txn)
		}
	}
}

// watch stops a rule while the heap grows too far under it, until done is called. Only a rule that is still being asked when it
// looks again is looked at: most take a few microseconds.
func (a *asker) watch() (done func()) {
	stop, most := make(chan struct{}), a.b.maxHeap
	go func() {
		tick := time.NewTicker(watchTime)
		defer tick.Stop()
		var rule *topdown.Cancel
		var from uint64
		for {
			select {
			case <-stop:
				return
			case <-tick.C:
			}
			now, c := heapInUse(), a.cancel.Load()
			if c != rule || now < from {
				rule, from = c, now
				continue
			}
			if c == nil || now-from < most {
				continue
			}
			runtime.GC() // what it has let go of is not held against it
			if from, now = min(from, heapInUse()), heapInUse(); now-from < most/2 {
				continue
			}
			a.greedy.Store(c)
			(*c).Cancel()
		}
	}()
	return func() { close(stop) }
}

// heapInUse is what the program holds for its values, in bytes; garbage counts until it is collected.
func heapInUse() uint64 {
	s := []heap.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	heap.Read(s)
	return s[0].Value.Uint64()
}

// ask evaluates one query of the form x = data.…; r is whom to blame when no better place is known.
func (a *asker) ask(query ast.Body, r *Rule) (v ast.Value, problem *Problem) {
	defer func() {
		if problem != nil {
			// After an error the cache holds "undefined" for helpers that never
			// finished, and the next rule's "not helper" would be true.
			a.cache = a.e.remembered(a.input)
		}
	}()
	blame := func(format string, args ...any) (ast.Value, *Problem) {
		p := r.problem(format, args...)
		return nil, &p
	}
	if a.err != nil {
		return blame("rule %s was not run: %v", r.Name, a.err)
	}
	standard, _, named := strings.Cut(r.Name, ":")
	if !named {
		standard = baseName
	}
	if a.stopped[standard] >= maxStopped { // a household has its time for all rules together
		return blame("rule %s was not run: %d rules of %s had to be stopped before", r.Name, maxStopped, standard)
	}
	c := topdown.NewCancel()
	a.cancel.Store(&c) // before looking at ctx: whichever of the two comes later sees the other
	defer time.AfterFunc(a.b.deadline, c.Cancel).Stop()
	if err := context.Cause(a.ctx); err != nil {
		return blame("rule %s was not run: %v", r.Name, err)
	}
	rs, err := topdown.NewQuery(query).WithCompiler(a.e.compiler).WithStore(a.e.store).WithTransaction(a.txn).WithInput(a.input).
		WithVirtualCache(a.cache).WithBaseCache(a.e.limited).WithMetrics(metrics.NoOp()).WithCancel(c).WithBuiltins(boundedBuiltins).WithStrictBuiltinErrors(true).Run(a.ctx)
	var broken *topdown.Error
	switch {
	case topdown.IsCancel(err):
		if cause := context.Cause(a.ctx); cause != nil {
			return blame("rule %s was stopped: %v", r.Name, cause)
		}
		a.stopped[standard]++
		if a.greedy.Load() == &c {
			return blame("rule %s was stopped: it needed more than %d MiB", r.Name, a.b.maxHeap>>20)
		}
		return blame("rule %s was stopped after %v", r.Name, a.b.deadline)
	case errors.As(err, &broken) && broken.Location != nil:
		p := at(broken.Location, "rule %s broke: %s", r.Name, brief(broken.Message))
		return nil, &p
	case err != nil:
		return blame("rule %s broke: %s", r.Name, brief(err.Error()))
	case len(rs) != 1:
		return nil, nil
	}
	return rs[0][answer].Value, nil
}

// verdicts reads a rule's set. Elements of the wrong form are reported as one
// problem, by the first of them in the engine's order.
func verdicts(r *Rule, v ast.Value, known func(string) bool) (out []Verdict, problem *Problem) {
	set, ok := v.(ast.Set)
	if !ok {
		p := r.problem("rule %s gave no set", r.Name)
		return nil, &p
	}
	bad, first := 0, ""
	if n := set.Len(); n > maxFindings {
		p := r.problem("rule %s: it gave %d findings, and at most %d go", r.Name, n, maxFindings)
		return nil, &p
	}
	texts, reasons := 0, 0
	set.Foreach(func(t *ast.Term) {
		v, why := verdict(r, t, known)
		texts, reasons = texts+len(v.Text), reasons+len(v.Because)+len(v.Unrecorded)
		switch {
		case texts > maxTexts:
			why = fmt.Sprintf("its findings are longer than %d bytes together", maxTexts)
		case reasons > maxReasons:
			why = fmt.Sprintf("its findings name more than %d reasons together", maxReasons)
		}
		if why == "" {
			v.Rule, v.Level = r, cmp.Or(v.Level, r.Level)
			out = append(out, v)
			// Said all the same: a family's own text may look like the mistake.
			if mistake.MatchString(v.Text) {
				why = fmt.Sprintf("the text %q holds a sprintf mistake", v.Text)
			}
		}
		if why != "" {
			if bad++; bad == 1 {
				first = why
			}
		}
	})
	if bad == 0 {
		return out, nil
	}
	p := r.problem("rule %s: %s", r.Name, first)
	if bad > 1 {
		p.Text += fmt.Sprintf(" (and %d more of its elements are at fault)", bad-1)
	}
	return out, &p
}

// mistake is what sprintf leaves where verbs and values do not fit.
var mistake = regexp.MustCompile(`%!(\(|[a-zA-Z]\()`)

func verdict(r *Rule, t *ast.Term, known func(string) bool) (v Verdict, why string) {
	o, ok := t.Value.(ast.Object)
	if !ok {
		return v, fmt.Sprintf("an element is {\"at\": …, \"text\": …}, not %v", clip(t))
	}
	var hasAt, hasText bool
	o.Until(func(k, val *ast.Term) bool {
		key, _ := k.Value.(ast.String)
		switch key {
		case "at", "text":
			s, ok := val.Value.(ast.String)
			switch {
			case !ok:
				why = fmt.Sprintf("%q must be a text, not %v", string(key), clip(val))
			case key == "at":
				v.At, hasAt = string(s), true
				if !known(v.At) {
					why = fmt.Sprintf("\"at\" names %q, which is no ID of the kit", v.At)
				}
			default:
				v.Text, hasText = string(s), true
				switch {
				case len(v.Text) > maxText:
					why = fmt.Sprintf("a text has %d bytes, and at most %d go", len(v.Text), maxText)
				case strings.TrimSpace(v.Text) == "":
					why = "\"text\" is empty"
				}
			}
		case "because":
			v.Because, why = because(val, known)
		case "unrecorded":
			if v.Unrecorded, why = because(val, known); why != "" {
				why = strings.Replace(why, "because", "unrecorded", 1)
			}
		case "lack":
			v.Lack, why = lack(r, val)
		case "level":
			v.Level, why = level(r, val)
		default:
			why = fmt.Sprintf("an element has an unknown key %v; there are at, text, because, lack, level and unrecorded", k)
		}
		return why != ""
	})
	switch {
	case why != "":
	case !hasAt:
		why = "an element lacks \"at\""
	case !hasText:
		why = "an element lacks \"text\""
	case r.Lack != nil && v.Lack == 0:
		why = "an element has no \"lack\", the amount that custom.lack in METADATA promises"
	}
	return v, why
}

// maxLack is the most that one finding may lack, so that sums over all households stay whole. Our own figure.
const maxLack = 1_000_000_000_000

func lack(r *Rule, t *ast.Term) (n int64, why string) {
	num, ok := t.Value.(ast.Number)
	if ok {
		n, ok = num.Int64()
	}
	switch {
	case r.Lack == nil:
		return 0, "\"lack\" is an amount, and METADATA does not say of what; write custom.lack"
	case !ok || n < 1 || n > maxLack:
		return 0, fmt.Sprintf("\"lack\" is a whole number of %s from 1 to %d, not %v", r.Lack.Unit, maxLack, clip(t))
	}
	return n, ""
}

// level is a lower one than the rule's own: what METADATA states is the gravest, so that it can be filtered by.
func level(r *Rule, t *ast.Term) (finding.Level, string) {
	if s, ok := t.Value.(ast.String); ok {
		if l, err := finding.ParseLevel(string(s)); err == nil && l.Rank() <= r.Level.Rank() {
			return l, ""
		}
	}
	return "", fmt.Sprintf("\"level\" is %q or a lower one, not %v; METADATA states the highest", string(r.Level), clip(t))
}

func because(t *ast.Term, known func(string) bool) (ids []string, why string) {
	add := func(e *ast.Term) {
		s, ok := e.Value.(ast.String)
		switch {
		case why != "":
		case !ok:
			why = fmt.Sprintf("\"because\" lists IDs, not %v", clip(e))
		case !known(string(s)):
			why = fmt.Sprintf("\"because\" names %q, which is no ID of the kit", string(s))
		default:
			ids = append(ids, string(s))
		}
	}
	switch list := t.Value.(type) {
	case *ast.Array:
		list.Foreach(add)
	case ast.Set:
		list.Foreach(add)
	default:
		why = fmt.Sprintf("\"because\" must be a list of IDs, not %v", clip(t))
	}
	return ids, why
}

// clip keeps a value from flooding a message.
func clip(t *ast.Term) string { return upTo(t.String(), 80) }

// brief keeps the engine's words on one line and short: they hold values of the rule's own making.
func brief(s string) string { return upTo(words.Line(s), 300) }

func upTo(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
