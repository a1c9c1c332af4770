package lint

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"

	"kitmuster/lint/cache"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
	"kitmuster/lint/unit"
)

// Cache answers from a store what was judged before. An answer is kept under
// all that it was made of: what was read for it (files, listings, and what was
// not there), the day, and the salt. Two steps lead to it: by the household's path to the
// names of what was read the last times, and by what stands under these names now
// to the answer. What a run reads follows from what it has read before, so an
// answer found that way is the one that judging would give.
type Cache struct {
	Store *cache.Store
	// Salt is everything that an answer depends on beside the tree and the day: program, standard, options.
	Salt []byte
	// On is the audit date of the run.
	On unit.Date
	// Tree gives the tree of a commit; "" is the tree as it is.
	Tree func(commit string) (fs.FS, error)
	// Root is the folder that paths are shown relative to, as a path of the tree. Keys go by paths relative to
	// it, so that a cache may be moved along with a repository.
	Root string
	// Show is that of Options.
	Show func(string) string
	// Product gives the product of a name, nil for none; nil itself where jobs want none.
	Product func(name string) *Product
	// Verify judges everything anew and compares.
	Verify bool

	mu      sync.Mutex
	views   map[string]*sight
	differs []string
}

// sight is a tree as it was first seen in this run.
type sight struct {
	*load.Viewer
	sums sync.Map // repo.Read without sum → sum, of what lies outside of the household that asks
}

// glance is something that was read for an answer.
type glance struct {
	Kind repo.ReadKind
	Name string // relative to the root
}

// sets is how many different lists of names are kept for a household: its states in a few branches. Our own figure.
const sets = 4

// sights is how many trees are kept at once, of a history that is walked through. Our own figure.
const sights = 4

// Run is a run that looks into the memory first.
func (m *Cache) Run(run func(context.Context, Job) Answer) func(context.Context, Job) Answer {
	m.views = map[string]*sight{}
	return func(ctx context.Context, j Job) Answer {
		known, seen, ok := m.recall(j)
		if ok && !m.Verify {
			return known
		}
		var h *remembered
		if j.Edit == nil { // what is tried is not remembered
			j.Keep, h = true, m.household(j, seen)
		}
		var a Answer
		if h == nil || m.Verify {
			a = run(ctx, j)
		} else if a = run(ctx, h.known(j)); !h.complete(&a) && ctx.Err() == nil {
			h = nil
			a = run(ctx, j)
		}
		kept := a.Kept
		a.Kept = Kept{}
		if len(a.Reads) == 0 || len(a.Faults) > 0 || ctx.Err() != nil { // stopped, or a rule broke, which time may have done
			return a
		}
		if m.Verify {
			if ok {
				m.compare(j, known, a)
			}
			if h != nil {
				if again := run(ctx, h.known(j)); h.complete(&again) && ctx.Err() == nil {
					m.compare(j, again, a)
				}
			}
		}
		all := looked{m.glances(a.Reads), a.Reads}
		if !ok {
			m.Store.Put(m.answer(j, all), m.pack(a))
			if key := m.names(j); key != m.always(j) || len(seen) == 0 || !slices.Equal(seen[0].list, all.list) {
				m.keepList(key, all.list)
			}
		}
		if a.Recalled { // what was read beside the household's own is not what that was made of
			all = h.looked
		} else if len(kept.Kit) > 0 {
			m.Store.Put(m.under("kit", j, all), kept.Kit)
			m.keepList(m.always(j), all.list)
		}
		if len(kept.Judged) > 0 {
			m.Store.Put(m.under("judged", j, all), kept.Judged)
		}
		return a
	}
}

// compare notes a household for which the memory gives another answer than judging does.
func (m *Cache) compare(j Job, remembered, judged Answer) {
	if !bytes.Equal(m.pack(remembered), m.pack(judged)) {
		m.mu.Lock()
		m.differs = append(m.differs, m.Show(j.Dir))
		m.mu.Unlock()
	}
}

// Differs lists the households for which the memory holds another answer than judging gives.
func (m *Cache) Differs() []string {
	slices.Sort(m.differs)
	return slices.Compact(m.differs)
}

// view is the tree of a commit.
func (m *Cache) view(commit string) (*sight, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if v := m.views[commit]; v != nil {
		return v, nil
	}
	tree, err := m.Tree(commit)
	if err != nil {
		return nil, err
	}
	if len(m.views) >= sights {
		clear(m.views)
	}
	v := &sight{Viewer: load.NewViewer(tree)}
	m.views[commit] = v
	return v, nil
}

// looked is a list of names that were read once, and what stands there now.
type looked struct {
	list  []glance
	reads []repo.Read
}

// recall looks for an answer; it gives what was looked at too.
func (m *Cache) recall(j Job) (a Answer, seen []looked, ok bool) {
	lists := m.lists(m.names(j))
	if len(lists) == 0 && j.Edit == nil {
		lists = m.lists(m.always(j))
	}
	if len(lists) == 0 {
		return a, nil, false
	}
	v, err := m.view(j.Commit)
	if err != nil {
		return a, nil, false
	}
	for _, list := range lists {
		l := looked{list, m.now(v, j, list)}
		var a Answer
		if b, ok := m.Store.Get(m.answer(j, l)); ok && Packing.Unmarshal(b, &a) == nil && a.Believable(m.Show(j.Dir), m.product(j.Want)) == nil {
			return a, []looked{l}, true
		}
		seen = append(seen, l)
	}
	return Answer{}, seen, false
}

// now is what stands under names that were read once.
func (m *Cache) now(v *sight, j Job, list []glance) []repo.Read {
	tree := v.Of(j.Dir, j.Given)
	reads := make([]repo.Read, len(list))
	for i, g := range list {
		r := repo.Read{Kind: g.Kind, Name: m.inTree(g.Name)}
		if r.Name == j.Dir || strings.HasPrefix(r.Name, j.Dir+"/") {
			r.Sum = r.Now(tree)
		} else if sum, ok := v.sums.Load(r); ok {
			r.Sum = sum.(string)
		} else if !v.Common(r.Name, j.Given) {
			r.Sum = r.Now(tree)
		} else {
			key := r
			r.Sum = r.Now(tree)
			v.sums.Store(key, r.Sum)
		}
		reads[i] = r
	}
	return reads
}

// remembered is a household whose files are what they were on another day.
type remembered struct {
	Kept
	looked
}

// household looks for what is known of a household from another day; nil where nothing is.
func (m *Cache) household(j Job, seen []looked) *remembered {
	for _, l := range seen {
		if kit, ok := m.Store.Get(m.under("kit", j, l)); ok {
			judged, _ := m.Store.Get(m.under("judged", j, l)) // without it all rules are asked
			return &remembered{Kept{kit, judged}, l}
		}
	}
	return nil
}

// known is the job with what is known.
func (h *remembered) known(j Job) Job {
	j.Known = h.Kept
	return j
}

// complete adds to an answer what was read for the household on another day, and reports whether it is one: not where nothing came of
// what is known, or where files have changed since they were looked at.
func (h *remembered) complete(a *Answer) bool {
	if !a.Recalled {
		return len(a.Reads) > 0
	}
	reads := slices.Clone(h.reads)
	for _, r := range a.Reads {
		i := slices.IndexFunc(h.reads, func(o repo.Read) bool { return o.Kind == r.Kind && o.Name == r.Name })
		if i < 0 {
			reads = append(reads, r)
		} else if h.reads[i].Sum != r.Sum {
			return false
		}
	}
	slices.SortFunc(reads, repo.CompareReads)
	a.Reads = reads
	return true
}

// lists gives lists of names that were kept.
func (m *Cache) lists(key cache.Key) (lists [][]glance) {
	b, ok := m.Store.Get(key)
	if !ok || Packing.Unmarshal(b, &lists) != nil || len(lists) > sets {
		return nil
	}
	return lists
}

// keepList puts a list before those that were kept, and lets the oldest go.
func (m *Cache) keepList(key cache.Key, list []glance) {
	lists := m.lists(key)
	if len(lists) > 0 && slices.Equal(lists[0], list) {
		return
	}
	lists = slices.DeleteFunc(lists, func(l []glance) bool { return slices.Equal(l, list) })
	lists = append([][]glance{list}, lists[:min(len(lists), sets-1)]...)
	m.Store.Put(key, packed(lists))
}

// glances are the names of what was read.
func (m *Cache) glances(reads []repo.Read) []glance {
	list := make([]glance, len(reads))
	for i, r := range reads {
		list[i] = glance{r.Kind, m.Show(r.Name)}
	}
	return list
}

func (m *Cache) product(name string) *Product {
	if m.Product == nil {
		return nil
	}
	return m.Product(name)
}

// pack is an answer as it is kept.
func (m *Cache) pack(a Answer) []byte {
	a.Reads, a.Recalled, a.Kept = nil, false, Kept{}
	return packed(a)
}

// names is the key of the lists of what was read for a household. Jobs of a history have lists of their own for each day: its many
// states would push out one another's.
func (m *Cache) names(j Job) cache.Key {
	if j.Edit == nil && !j.On.Set {
		return m.always(j)
	}
	return m.key(append([]string{"names", j.Day(m.On).String(), m.Show(j.Dir)}, m.edit(j)...)...)
}

// always is the key of the lists of what was read for a household the last times, whatever the day.
func (m *Cache) always(j Job) cache.Key { return m.key("names", m.Show(j.Dir)) }

// edit is what a job reads otherwise than it is; what is remembered as read is without it.
func (m *Cache) edit(j Job) []string {
	if j.Edit == nil {
		return nil
	}
	return []string{"edit", m.Show(j.Edit.Name), strconv.Itoa(j.Edit.From), strconv.Itoa(j.Edit.To), string(j.Edit.Text)}
}

// answer is the key of an answer.
func (m *Cache) answer(j Job, l looked) cache.Key {
	return m.reading(l, append([]string{"answer", j.Day(m.On).String(), m.Show(j.Dir), j.Want}, m.edit(j)...)...)
}

// under is the key of what is kept of a household for any day, whatever is made of it.
func (m *Cache) under(what string, j Job, l looked) cache.Key {
	return m.reading(l, what, m.Show(j.Dir))
}

// reading is the key of what was made of what was read.
func (m *Cache) reading(l looked, parts ...string) cache.Key {
	for i, r := range l.reads {
		parts = append(parts, string(r.Kind), l.list[i].Name, r.Sum)
	}
	return m.key(parts...)
}

// key hashes the salt and the parts, each with its length, so that no two lists of parts read alike.
func (m *Cache) key(parts ...string) cache.Key {
	h := sha256.New()
	var b []byte
	b = binary.AppendUvarint(b, uint64(len(m.Salt)))
	b = append(b, m.Salt...)
	for _, p := range parts {
		b = binary.AppendUvarint(b, uint64(len(p)))
		b = append(b, p...)
	}
	h.Write(b)
	return cache.Key(h.Sum(nil))
}

// inTree turns a path relative to the root into one of the tree; above the top there is only the top.
func (m *Cache) inTree(rel string) string {
	if p := path.Join("/", m.Root, rel)[1:]; p != "" {
		return p
	}
	return "."
}
