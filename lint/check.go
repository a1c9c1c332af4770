// Package lint is the order of work for many households: find them, have each worked on, hold them against an earlier state or a row
// of them, remember what was judged before, and bound and doubt what comes back. What is made of a household beside its findings it
// knows as a Product and nothing more.
//
// # Calling it
//
// Check is the one loop over households. Without Options.Run it judges any fs.FS in the process that calls it (ExampleCheck; .ci/run
// has Node do so as well). Nothing then bounds the time and memory of CUE: kits of strangers belong behind a Run with worker processes
// (package sandbox). Under js/wasm there is one thread, and the deadline of a rule may cut in late.
//
// # Answers
//
// What came of a household is an Answer: findings and whatever a product made, packed in CBOR. It goes through a worker's pipe, is
// counted, and waits in a spool, in a file where there are many. Outputs walk what waits in the order of the households' paths, as
// often as they need, one household in memory at a time.
//
// Before it is packed, bound.go cuts what a household may say, and says so as data/not-shown. What comes back from a worker or from the
// cache is looked through by believe.go and by the product's Believe. A field that an output relies on (an index, a kind, a count) is
// checked there; FuzzAnswer in cmd/kitmuster changes real answers and shows those that are believed in every form.
//
// # The cache
//
// A worker judges through a recording of its tree (repo.Record). Cache keeps the answer under the day and all that was read, and the names
// of what was read under the household's path, so two small files lead from a path to an answer. Of the folders above a household a
// listing shows kit files only (load.Viewer): a new neighbour is not something read.
//
// Under all that was read alone, without the day, lies what holds on any day (household.Memory): the household as it was read, and what
// each rule said of which facts. Where no answer of the day is found, a worker is given these, evaluates nothing, and asks only the
// rules that read the day or a fact that has changed. A place that nobody asked for before has it read the files again: what it reads
// then must be what the household was known by, or all is done anew. Nothing is worded by the day that is kept without it: what says
// "in 34 days" reads the day. Verify holds what comes of either against judging anew; TestAYearOfDays does so for each day of a year.
//
// # Earlier states
//
// Which households a change touches is known without judging any (since.go): the change lies in a household's folder, in a kit file
// above it, in a module file, or anywhere at all where there is an import or a link. A test holds that what a household reads always
// touches it.
//
// Where nothing of a household's own has changed, what is new or fixed in it comes from what it shares with others (cause.go). The shared
// files are compared as they are written; of several values that differ, each is put back by itself (Job.Edit) and the household judged
// again. A report stands in for an earlier tree in earlier.go.
//
// A Job names its commit and its day, so one pool of workers goes through a history, and Cache keys answers by that day: what was
// judged of a past day is remembered tomorrow. Reach says which paths matter to a household, shared kit files above included.
// History walks back and finds each household one state further at a time, as Since does, while the workers judge; few trees are open
// at once, and of an answer only its finding.Trend is kept. The standard is always today's: a line shows what the household
// changed, not what the rules did.
package lint

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"iter"
	"os"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// Options say what is checked and how.
type Options struct {
	// Options are those of each household.
	household.Options
	// Patterns are paths of the tree; see load.Find.
	Patterns []string
	// Alias stands for a household's folder, as people see it, in the order of the run and in its remarks; nil: the folder itself.
	Alias func(string) string
	// Workers is how many households are worked on at once; 0 means one.
	Workers int
	// Run works on one household: Judge, or Judge behind a wall. Nil judges in this process by Rules, each household through a
	// view of its own. Nothing then bounds the time and memory that evaluating a kit takes: kits of strangers belong behind a wall.
	Run func(ctx context.Context, j Job) Answer
	// Rules are what households are judged by where Run is nil; nil is the base standard.
	Rules *judge.Rulebook
	// Commit is the state that is checked; "" is the tree as it is.
	Commit string
	// Since is an earlier state that the findings are held against; nil is none.
	Since *Since
	// Earlier is what an earlier check said, in place of Since; nil is none.
	Earlier *Earlier
	// Want is what is made of each household; nil asks for its findings alone.
	Want *Product
	// Part is which part of the households is judged; the zero value is all.
	Part Shard
	// Least is the level from which findings are shown.
	Least finding.Level
	// Spool makes the file that findings wait in when they are many; nil keeps them in memory.
	Spool func() (*os.File, error)
	// Done is told after each household how many are done; nil tells nobody. It is called from several goroutines.
	Done func(done, of int)
}

// Product is something that is made of a household beside its findings, or in their place.
type Product struct {
	// Name is what jobs and kept answers call it.
	Name string
	// Make works on the household in folder dir. What it makes is the outcome's Extra.
	Make func(ctx context.Context, tree fs.FS, rules *judge.Rulebook, dir string, o household.Options) household.Outcome
	// Believe says what of packed bytes Make would never have made; nil takes them as they are.
	Believe func(packed []byte) error
}

func (p *Product) name() string {
	if p == nil {
		return ""
	}
	return p.Name
}

// alias is what the order of the run and its remarks go by.
func (o *Options) alias(path string) string {
	if o.Alias == nil {
		return path
	}
	return o.Alias(path)
}

// Work works on the household that a job names, in a tree that is recorded for what the answer says was read: it is judged by the rules,
// or a product is made of it where one is given.
func Work(ctx context.Context, tree fs.FS, rules *judge.Rulebook, j Job, o household.Options, want *Product) Answer {
	reads := repo.Record(tree)
	if j.Keep {
		o.Memory = household.Remember(j.Known.Kit, j.Known.Judged)
	}
	work := household.Judge
	if want != nil {
		work = want.Make
	}
	a := Pack(work(ctx, j.Edit.Of(reads), rules, j.Dir, o))
	a.Reads = reads.Reads()
	if j.Keep {
		a.Recalled = o.Memory.Used()
		if a.Kept.Kit, a.Kept.Judged = o.Memory.Kept(); len(a.Kept.Kit)+len(a.Kept.Judged) > mostKept {
			a.Kept = Kept{}
		}
	}
	return a
}

// Job is one household to judge: a folder of the tree, as it is or as it was in a commit.
type Job struct {
	Dir, Commit string
	// Given is the folder that was named and that it was found in; see load.Viewer.
	Given string
	// Want is the name of what is made of it; "" asks for its findings alone.
	Want string
	// Edit is a change of a file of the tree to judge it with; nil is none.
	Edit *repo.Edit
	// On is the day that it is judged as of; unset is the audit date of the run.
	On kit.Opt[unit.Date]
	// Keep wants what there is to be kept for another day, and Known is what was kept on one.
	Keep  bool
	Known Kept
}

// Kept is what a household's memory is filled with; see household.Memory.
type Kept struct {
	Kit, Judged []byte
}

// Day is the day that the household is judged as of in a run with this audit date.
func (j *Job) Day(run unit.Date) unit.Date {
	if j.On.Set {
		return j.On.Value
	}
	return run
}

// Result is what a check has to say. Close it when it has been said.
type Result struct {
	Run finding.Run
	// Faults are broken rules of a standard.
	Faults []judge.Problem
	// Unfit says that some input could not be judged, or some rule could not judge.
	Unfit bool

	// Households walks what was said of each household and of each path that leads to none, in order. It may be walked
	// again; an error ends the walk.
	Households iter.Seq2[*Judged, error]

	// Extras walks what was made of each household, in order. It may be walked again; an error ends the walk.
	Extras iter.Seq2[Extra, error]

	// Pairs walks what was made of each household in both states, where there is an earlier one, in order, as Extras does.
	Pairs iter.Seq2[Pair, error]

	spool, extras, earlier *spool
}

// Judged is what was said of one household, and what was made of it.
type Judged struct {
	Household finding.Household
	// Nowhere says that a path leads to no household.
	Nowhere  bool
	Summary  finding.Summary
	Findings []finding.Finding
	Extra    Extra
}

// Extra is what was made of one household beside findings; Packed is empty where nothing could be made.
type Extra struct {
	Household finding.Household
	Packed    []byte
}

// Pair is what was made of one household now and in an earlier state.
type Pair struct {
	Household finding.Household
	// Was is its folder before, as people see it; "" where it is new.
	Was         string
	Before, Now Extra
	// Causes are what has changed of what it shares with others, where nothing of its own has.
	Causes []finding.Cause
	// Told says that the two can be held against each other: both states could be judged, or the household is new.
	Told bool
}

// Unpack reads it into v, which is of the type that it was made of.
func (e Extra) Unpack(v any) error {
	if len(e.Packed) == 0 {
		return nil
	}
	return Packing.Unmarshal(e.Packed, v)
}

// Close drops the findings and what was made.
func (r *Result) Close() {
	for _, s := range []*spool{r.spool, r.extras, r.earlier} {
		if s != nil {
			s.close()
		}
	}
}

// Check judges every household that the patterns mean. It never fails as a
// whole: what cannot be judged is a finding of its own, and the others go on.
// When ctx ends, it says what it has, and that this is not all.
func Check(ctx context.Context, tree fs.FS, o Options) *Result {
	dirs, faults := load.Find(tree, o.Patterns, load.Options{Show: o.Show})
	show := o.Show
	if show == nil {
		show = func(s string) string { return s }
	}
	run := o.runner()
	c := &checking{given: load.Given(tree, o.Patterns), run: run(tree)}
	for _, f := range household.PathFindings(faults) {
		if o.Part.has(f.Path) {
			c.jobs = append(c.jobs, job{path: f.Path, fault: &f})
		}
	}
	if o.Since != nil {
		c.runBefore = run(o.Since.Tree)
		c.since(tree, o, show, dirs)
	} else if o.Earlier != nil {
		c.against(tree, o, show, dirs)
	} else {
		for _, d := range dirs {
			if p := show(d); o.Part.has(p) {
				c.jobs = append(c.jobs, job{path: p, dir: d})
			}
		}
	}
	for i := range c.jobs {
		c.jobs[i].alias = o.alias(c.jobs[i].path)
	}
	slices.SortFunc(c.jobs, compareJobs)
	c.answers, c.spool = make([]*Answer, len(c.jobs)), newSpool(len(c.jobs), o.Spool)
	if o.Want != nil {
		c.extras = newSpool(len(c.jobs), o.Spool)
		if o.Since != nil {
			c.earlier = newSpool(len(c.jobs), o.Spool)
		}
	}
	c.judge(ctx, o)
	return c.result(ctx, o)
}

// runner gives what works on the households of a tree.
func (o *Options) runner() func(tree fs.FS) func(context.Context, Job) Answer {
	if o.Run != nil {
		return func(fs.FS) func(context.Context, Job) Answer { return o.Run }
	}
	rules := o.Rules
	if rules == nil {
		var problems []judge.Problem
		if rules, problems = judge.New(judge.Base()); len(problems) > 0 {
			panic(problems[0].String()) // the base standard is part of the program
		}
	}
	return func(tree fs.FS) func(context.Context, Job) Answer {
		v := load.NewViewer(tree)
		return func(ctx context.Context, j Job) (a Answer) {
			defer func() { // CUE is large and a kit is a stranger's: its panic is that household's fault
				if r := recover(); r != nil {
					a = o.gaveUp(tree, j, r)
				}
			}()
			one := o.Options
			one.On = j.Day(o.On)
			work := household.Judge
			if o.Want != nil {
				work = o.Want.Make
			}
			return Pack(work(ctx, j.Edit.Of(v.Of(j.Dir, j.Given)), rules, j.Dir, one))
		}
	}
}

// gaveUp says that a household could not be judged because of a panic.
func (o *Options) gaveUp(tree fs.FS, j Job, why any) Answer {
	text := fmt.Sprintf("this household could not be judged: the evaluator gave up: %v", why)
	dir := j.Dir
	if o.Show != nil {
		dir = o.Show(dir)
	}
	return Pack(household.Outcome{Household: finding.Household{Path: dir}, Findings: []finding.Finding{
		household.InputFinding(load.Fault{Rule: "input/too-much", Spot: "household", Message: text, At: source.Span{File: dir}}, "", dir),
	}})
}

// job is one household, or one path that leads to none.
type job struct {
	path, dir string
	// alias is what the run calls the path.
	alias string
	fault *finding.Finding
	// before is its folder in an earlier state, same that nothing about it has changed since, told that of Pair.
	before     string
	same, told bool
	// untold says that nothing about it is told: only the standard has changed, and nothing is new or fixed by that.
	untold bool
	// was is what it was in an earlier report; nil where that has it not.
	was *finding.Household
	// causes are what has changed that it reads, where nothing of its own has.
	causes []difference
}

// compareJobs is the order of a run.
func compareJobs(a, b job) int {
	return cmp.Or(strings.Compare(a.alias, b.alias), strings.Compare(a.path, b.path), strings.Compare(a.dir, b.dir))
}

// checking is a check under way.
type checking struct {
	jobs []job
	// given is that of load.Given.
	given func(dir string) string
	// run works on a household as it is, runBefore as it was.
	run, runBefore func(context.Context, Job) Answer
	// answers stand in the order of the jobs, without their findings, which are in the spool; nil is not judged.
	answers []*Answer
	spool   *spool
	// extras is nil where nothing is made beside findings, earlier also where there is no earlier state.
	extras, earlier *spool

	// untold counts the jobs that are.
	untold atomic.Int64

	mu        sync.Mutex
	remarks   []string
	untouched int
}

func (c *checking) judge(ctx context.Context, o Options) {
	next := make(chan int)
	var done atomic.Int64
	var wg sync.WaitGroup
	for range max(1, min(o.Workers, len(c.jobs))) {
		wg.Go(func() {
			for i := range next {
				j := &c.jobs[i]
				var a Answer
				if j.fault != nil {
					a.pack([]finding.Finding{*j.fault})
				} else {
					a = c.run(ctx, Job{Dir: j.dir, Given: c.given(j.dir), Commit: o.Commit, Want: o.Want.name()})
					var err error
					switch {
					case ctx.Err() != nil:
					case o.Since != nil:
						a, err = c.compared(ctx, o, i, a)
					case o.Earlier != nil:
						a, err = c.held(o, j, a)
					}
					if ctx.Err() != nil {
						continue
					}
					c.spool.fail(err)
				}
				c.spool.put(i, a.Packed)
				if c.extras != nil {
					c.extras.put(i, a.Extra)
				}
				a.Packed, a.Extra, a.Reads, a.Kept = nil, nil, nil, Kept{}
				if c.answers[i] = &a; j.untold {
					c.answers[i] = nil
					c.untold.Add(1)
				}
				if n := done.Add(1); o.Done != nil {
					o.Done(int(n), len(c.jobs))
				}
			}
		})
	}
feed:
	for i := range c.jobs {
		select {
		case next <- i:
		case <-ctx.Done():
			break feed
		}
	}
	close(next)
	wg.Wait()
}

// result gathers the answers in the order of the jobs.
func (c *checking) result(ctx context.Context, o Options) *Result {
	res := &Result{spool: c.spool, extras: c.extras, earlier: c.earlier, Run: finding.Run{On: o.On.String(), Part: o.Part.String(), Least: o.Least}}
	households, judged := 0, 0
	for i, a := range c.answers {
		if c.jobs[i].fault == nil {
			households++
		}
		if a == nil {
			continue
		}
		res.Run.Summary.Add(a.Summary)
		if c.jobs[i].fault != nil {
			res.Unfit = true
			continue
		}
		judged++
		res.Run.Households = append(res.Run.Households, a.Household)
		res.Faults = append(res.Faults, a.Faults...)
		// Against an earlier state, what could not be judged then either fails nobody.
		res.Unfit = res.Unfit || len(a.Faults) > 0 || !a.Household.Judged && (o.Since == nil && o.Earlier == nil || a.Summary.New > 0)
	}
	if n := c.untold.Load(); n > 0 {
		c.remark(fmt.Sprintf("the change of the standard makes no difference to %d of the households", n))
	}
	slices.Sort(c.remarks)
	res.Run.Remarks, res.Run.Untouched = c.remarks, c.untouched
	if o.Since != nil {
		res.Run.Since = o.Since.Name
	} else if o.Earlier != nil {
		res.Run.Since = o.Earlier.Name
	}
	if ctx.Err() != nil {
		res.Run.Partial = fmt.Sprintf("interrupted after %d of %d households", judged, households)
	}
	slices.SortFunc(res.Faults, func(a, b judge.Problem) int { return strings.Compare(a.String(), b.String()) })
	res.Faults = slices.Compact(res.Faults)
	res.Run.Findings, res.Households, res.Extras = c.findings, c.households, c.made
	res.Pairs = func(yield func(Pair, error) bool) { c.pairs(o.Show, yield) }
	return res
}

// findings walks the findings of all that was judged.
func (c *checking) findings(yield func(*finding.Finding, error) bool) {
	for i, a := range c.answers {
		if a == nil {
			continue
		}
		fs, err := c.said(i)
		if err != nil {
			yield(nil, err)
			return
		}
		for k := range fs {
			if !yield(&fs[k], nil) {
				return
			}
		}
	}
}

func (c *checking) said(i int) ([]finding.Finding, error) {
	b, err := c.spool.get(i)
	if err != nil {
		return nil, err
	}
	return unpack(b)
}

// households walks what was judged, one by one.
func (c *checking) households(yield func(*Judged, error) bool) {
	for i, a := range c.answers {
		if a == nil {
			continue
		}
		out := &Judged{Household: a.Household, Summary: a.Summary}
		out.Household.Judged = out.Household.Judged && len(a.Faults) == 0 // a rule broke on it, so that not all is said
		if f := c.jobs[i].fault; f != nil {
			out.Household.Path, out.Nowhere = f.Path, true
		}
		var err error
		if out.Findings, err = c.said(i); err == nil && c.extras != nil {
			out.Extra.Household = out.Household
			out.Extra.Packed, err = c.extras.get(i)
		}
		if err != nil {
			yield(nil, err)
			return
		}
		if !yield(out, nil) {
			return
		}
	}
}

// made walks what was made beside findings.
func (c *checking) made(yield func(Extra, error) bool) {
	for i, a := range c.answers {
		if a == nil || c.extras == nil || c.jobs[i].fault != nil {
			continue
		}
		b, err := c.extras.get(i)
		if !yield(Extra{a.Household, b}, err) || err != nil {
			return
		}
	}
}

// pairs walks what was made in both states.
func (c *checking) pairs(show func(string) string, yield func(Pair, error) bool) {
	for i, a := range c.answers {
		j := &c.jobs[i]
		if a == nil || c.earlier == nil || j.fault != nil {
			continue
		}
		p := Pair{Household: a.Household, Was: j.before, Causes: causesOf(j.causes), Told: j.told}
		if p.Was != "" && show != nil {
			p.Was = show(p.Was)
		}
		var err, failed error
		p.Now.Packed, err = c.extras.get(i)
		p.Before.Packed, failed = c.earlier.get(i)
		if err = cmp.Or(err, failed); !yield(p, err) || err != nil {
			return
		}
	}
}
