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

	"github.com/fxamacker/cbor/v2"

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
		known, lists, ok := m.recall(j)
		if ok && !m.Verify {
			return known
		}
		a := run(ctx, j)
		if len(a.Reads) == 0 || len(a.Faults) > 0 || ctx.Err() != nil { // stopped, or a rule broke, which time may have done
			return a
		}
		if ok && m.Verify && !bytes.Equal(m.pack(known), m.pack(a)) {
			m.mu.Lock()
			m.differs = append(m.differs, m.Show(j.Dir))
			m.mu.Unlock()
		}
		if !ok {
			m.keep(j, a, lists)
		}
		return a
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

// recall looks for an answer; it gives the lists of names too.
func (m *Cache) recall(j Job) (a Answer, lists [][]glance, ok bool) {
	b, ok := m.Store.Get(m.names(j))
	if !ok || Packing.Unmarshal(b, &lists) != nil || len(lists) > sets {
		return a, nil, false
	}
	v, err := m.view(j.Commit)
	if err != nil {
		return a, nil, false
	}
	tree := v.Of(j.Dir, j.Given)
	for _, list := range lists {
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
		var a Answer
		if b, ok := m.Store.Get(m.answer(j, list, reads)); ok && Packing.Unmarshal(b, &a) == nil && a.Believable(m.Show(j.Dir), m.product(j.Want)) == nil {
			return a, lists, true
		}
	}
	return Answer{}, lists, false
}

func (m *Cache) product(name string) *Product {
	if m.Product == nil {
		return nil
	}
	return m.Product(name)
}

// keep remembers an answer and what was read for it.
func (m *Cache) keep(j Job, a Answer, lists [][]glance) {
	list := make([]glance, len(a.Reads))
	for i, r := range a.Reads {
		list[i] = glance{r.Kind, m.Show(r.Name)}
	}
	m.Store.Put(m.answer(j, list, a.Reads), m.pack(a))
	lists = slices.DeleteFunc(slices.Clone(lists), func(l []glance) bool { return slices.Equal(l, list) })
	lists = append([][]glance{list}, lists[:min(len(lists), sets-1)]...)
	b, err := cbor.Marshal(lists)
	if err != nil {
		panic(err) // plain values always pack
	}
	m.Store.Put(m.names(j), b)
}

// pack is an answer as it is kept.
func (m *Cache) pack(a Answer) []byte {
	a.Reads = nil
	b, err := cbor.Marshal(a)
	if err != nil {
		panic(err) // plain values always pack
	}
	return b
}

// names is the key of the lists of what was read for a household, which each day has of its own: a history of many days would
// push out one another's.
func (m *Cache) names(j Job) cache.Key {
	return m.key(append([]string{"names", j.Day(m.On).String(), m.Show(j.Dir)}, m.edit(j)...)...)
}

// edit is what a job reads otherwise than it is; what is remembered as read is without it.
func (m *Cache) edit(j Job) []string {
	if j.Edit == nil {
		return nil
	}
	return []string{"edit", m.Show(j.Edit.Name), strconv.Itoa(j.Edit.From), strconv.Itoa(j.Edit.To), string(j.Edit.Text)}
}

// answer is the key of an answer.
func (m *Cache) answer(j Job, list []glance, reads []repo.Read) cache.Key {
	parts := append([]string{"answer", j.Day(m.On).String(), m.Show(j.Dir), j.Want}, m.edit(j)...)
	for i, r := range reads {
		parts = append(parts, string(r.Kind), list[i].Name, r.Sum)
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
