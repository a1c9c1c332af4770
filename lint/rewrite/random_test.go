package rewrite

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/parser"
	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/source"
	"kitmuster/lint/testkit"
	"kitmuster/lint/valley"
)

var (
	ops  = flag.Int("ops", 0, "how many random steps TestRandomSteps takes; 0: a few")
	seed = flag.Uint64("seed", 1, "where the random steps begin")
)

// TestRandomSteps takes random steps on kits in random spellings. What a step leaves is loaded anew, by itself, and must give the kit
// that was meant; no line that has nothing to do with it may change, and no comment may be lost.
func TestRandomSteps(t *testing.T) {
	n := *ops
	if n == 0 {
		n = 60
		if testkit.Whole(t) {
			n = 200
		}
	}
	r := rand.New(rand.NewPCG(*seed, 7))
	trees := houses(t)
	serial, did, refused, said := 0, 0, 0, map[string]int{}
	for did+refused < n {
		h := trees[r.IntN(len(trees))]
		files := respelled(t, r, h, &serial)
		for range 12 {
			tree := with(h.tree, files)
			d, err := Open(tree, h.dir, load.Options{})
			if err != nil {
				t.Fatalf("%s: %v\n%s", h.dir, err, dump(files))
			}
			was, s := d.Kit(), randomStep(r, d)
			if err := d.Do(s); err != nil {
				refused++
				said[plainCause(err)]++
				if len(d.Files()) > 0 {
					t.Fatalf("%s, %+v: refused, and yet files are changed", h.dir, s)
				}
				continue
			}
			did++
			now := maps.Clone(files)
			for _, f := range d.Files() {
				now[f.Path] = f.New
				checkBytes(t, s, f)
			}
			got := load.Household(with(h.tree, now), h.dir, load.Options{})
			if got.Kit == nil {
				t.Fatalf("%s, %+v: %v\n%s", h.dir, s, got.Faults, dump(now))
			}
			if s.Do != Set {
				if diff := cmp.Diff(meant(t, was, s), things(t, got.Kit)); diff != "" {
					t.Fatalf("%s, %+v: the things are others than meant:\n%s\n%s", h.dir, s, diff, dump(now))
				}
			}
			files = now
		}
	}
	t.Logf("%d steps done, %d refused: %v", did, refused, said)
	if did < n/2 {
		t.Errorf("only %d of %d steps were done: %v", did, n, said)
	}
}

type house struct {
	tree fstest.MapFS
	dir  string
}

// houses are the example households and some of a valley.
func houses(t *testing.T) (out []house) {
	t.Helper()
	examples := fstest.MapFS{}
	err := fs.WalkDir(os.DirFS("../../examples/harrow-valley"), ".", func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := os.ReadFile(path.Join("../../examples/harrow-valley", p))
		examples[p] = &fstest.MapFile{Data: b, Mode: 0o644}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []string{"alder", "birch", "cedar"} {
		out = append(out, house{examples, d})
	}
	many := fstest.MapFS{}
	for p, b := range valley.Files(valley.Options{Households: 12, Items: 60, Seed: 5}) {
		many[p] = &fstest.MapFile{Data: b, Mode: 0o644}
	}
	dirs, faults := load.Find(many, []string{"..."}, load.Options{})
	if len(faults) > 0 || len(dirs) != 12 {
		t.Fatalf("the valley: %v, %v", dirs, faults)
	}
	for _, d := range dirs {
		out = append(out, house{many, d})
	}
	return out
}

// respelled are the files of a household, written otherwise several times; what would not say the same is not kept.
func respelled(t *testing.T, r *rand.Rand, h house, serial *int) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	for p, f := range h.tree {
		if path.Dir(p) == h.dir && path.Ext(p) == ".cue" {
			files[p] = f.Data
		}
	}
	want := load.Household(h.tree, h.dir, load.Options{}).Kit
	for range r.IntN(5) {
		next := respellOnce(r, files, serial)
		if got := load.Household(with(h.tree, next), h.dir, load.Options{}); got.Kit != nil && len(got.Faults) == 0 && reflect.DeepEqual(want, got.Kit) {
			files = next
		}
	}
	crlf, mark := r.IntN(5) == 0, r.IntN(5) == 0
	for p, b := range files {
		if crlf {
			b = bytes.ReplaceAll(b, []byte("\n"), []byte("\r\n"))
		}
		if mark {
			b = slices.Concat(bom, b)
		}
		files[p] = b
	}
	return files
}

func with(tree fstest.MapFS, files map[string][]byte) fs.FS {
	out := maps.Clone(tree)
	for p, b := range files {
		out[p] = &fstest.MapFile{Data: b, Mode: 0o644}
	}
	return out
}

// randomStep is one of what remedies, weighing and renewing do.
func randomStep(r *rand.Rand, d *Draft) Step {
	type at struct {
		spot string
		item kit.Item
	}
	var items []at
	var groups []string
	h := d.Kit()
	for _, p := range h.Packs {
		for _, c := range p.Compartments {
			groups = append(groups, c.Spot+"/items")
			for _, it := range c.Items {
				items = append(items, at{it.Spot, it})
			}
		}
	}
	for _, p := range h.People {
		groups = append(groups, p.Spot+"/onBody")
		for _, it := range p.OnBody {
			items = append(items, at{it.Spot, it})
		}
	}
	it := items[r.IntN(len(items))]
	key := source.Keys(it.spot)[len(source.Keys(it.spot))-1]
	group := groups[r.IntN(len(groups))]
	switch r.IntN(8) {
	case 0, 1:
		return Step{Do: Move, Spot: it.spot, To: group + "/" + key}
	case 2:
		return Step{Do: Copy, Spot: it.spot, To: group + "/" + fmt.Sprintf("%s_%d", key, r.IntN(9))}
	case 3:
		return Step{Do: Remove, Spot: it.spot}
	case 4:
		return Step{Do: Set, Spot: it.spot + "/count", Value: 1 + r.IntN(5)}
	case 5:
		return Step{Do: Set, Spot: it.spot + "/mass", Value: fmt.Sprintf("%d g", 1+r.IntN(900))}
	case 6:
		return Step{Do: Set, Spot: it.spot + "/" + []string{"weighed", "expires", "rotate"}[r.IntN(3)], Value: fmt.Sprintf("2027-%02d-01", 1+r.IntN(12)), Behind: []string{"count", "mass", "can"}[r.IntN(3):]}
	}
	return Step{Do: Set, Spot: group + "/" + fmt.Sprintf("new-%d", r.IntN(99)), Value: Fields{{"name", "something \"new\" \\(here)"}, {"mass", "12 g"}}}
}

// copied is what randomStep puts behind the key of a copy.
var copied = regexp.MustCompile(`_[0-9]$`)

// things are the items of a kit as the loader reads them, by spot.
func things(t *testing.T, h *kit.Household) map[string]string {
	t.Helper()
	out := map[string]string{}
	add := func(its []kit.Item) {
		for _, it := range its {
			it.Name = copied.ReplaceAllString(it.Name, "") // a thing without a name is called by its key
			b, err := json.Marshal(it)
			if err != nil {
				t.Fatal(err)
			}
			out[it.Spot] = string(b)
		}
	}
	for _, p := range h.People {
		add(p.OnBody)
	}
	for _, p := range h.Packs {
		for _, c := range p.Compartments {
			add(c.Items)
		}
	}
	return out
}

// meant is what the items must be after a step that moves, copies or removes one.
func meant(t *testing.T, was *kit.Household, s Step) map[string]string {
	t.Helper()
	out := things(t, was)
	thing := out[s.Spot]
	if s.Do != Copy {
		delete(out, s.Spot)
	}
	if s.Do != Remove {
		last := func(spot string) string { keys := source.Keys(spot); return keys[len(keys)-1] }
		thing = strings.ReplaceAll(thing, s.Spot, s.To)
		a, b := last(s.Spot), last(s.To)
		thing = strings.Replace(thing, fmt.Sprintf(`{"Key":%q,`, a), fmt.Sprintf(`{"Key":%q,`, b), 1)
		out[s.To] = thing
	}
	return out
}

// checkBytes holds a changed file to what must stay: its lines' ends, its byte order mark, its layout and its comments.
func checkBytes(t *testing.T, s Step, f File) {
	t.Helper()
	old, crlf := unix(f.Old)
	fresh, still := unix(f.New)
	if crlf != still || bytes.HasPrefix(f.Old, bom) != bytes.HasPrefix(f.New, bom) {
		t.Fatalf("%+v: the ends of lines or the byte order mark of %s changed", s, f.Path)
	}
	if clean(old) && !clean(fresh) {
		t.Fatalf("%+v: cue fmt would change %s now", s, f.Path)
	}
	if s.Do == Remove || s.Do == Move { // an entry takes its comments along
		return
	}
	has := commentsOf(t, fresh)
	for c, n := range commentsOf(t, old) {
		if has[c] < n {
			t.Fatalf("%+v: the comment %q of %s is gone", s, c, f.Path)
		}
	}
}

func commentsOf(t *testing.T, src []byte) map[string]int {
	t.Helper()
	f, err := parser.ParseFile("", src, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]int{}
	ast.Walk(f, func(n ast.Node) bool {
		if c, ok := n.(*ast.Comment); ok {
			out[c.Text]++
		}
		return true
	}, nil)
	return out
}

// plainCause is a refusal without what is special to it.
func plainCause(err error) string {
	text := err.Error()
	if _, rest, ok := strings.Cut(text, ": "); ok {
		text = rest
	}
	return strings.Join(strings.Fields(text)[:min(6, len(strings.Fields(text)))], " ")
}

func dump(files map[string][]byte) string {
	var b strings.Builder
	for _, p := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(&b, "-- %s --\n%s", p, files[p])
	}
	return b.String()
}
