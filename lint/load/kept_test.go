package load

import (
	"os"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// A household that was kept is the same, and so is each place of it, whether it was asked for before or not.
func TestKept(t *testing.T) {
	tree := os.DirFS("../..")
	dirs, _ := Find(tree, []string{"examples/..."}, Options{})
	if len(dirs) < 3 {
		t.Fatal(dirs)
	}
	for _, dir := range dirs {
		l := Household(tree, dir, Options{})
		spots := []string{"household", "plan", "plan/nothing", "people/nobody/born", ""}
		for i := range l.Kit.Packs {
			p := &l.Kit.Packs[i]
			spots = append(spots, p.Spot, p.Spot+"/mass", p.Spot+"/colours/0")
			for k := range p.Compartments {
				for _, it := range p.Compartments[k].Items {
					spots = append(spots, it.Spot, it.Spot+"/mass", it.Spot+"/expires")
				}
			}
		}
		kept := l.Keep()
		for n, spot := range spots {
			if n%2 == 0 {
				l.Locate(spot)
			}
		}
		read := 0
		again := func() *Loaded { read++; return Household(tree, dir, Options{}) }
		k, err := Kept(kept, l.Places(), again)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(l.Kit, k.Kit) + cmp.Diff(l.Faults, k.Faults, cmpopts.IgnoreUnexported(Fault{})); diff != "" {
			t.Errorf("%s (-read +kept):\n%s", dir, diff)
		}
		for n, spot := range spots {
			if n%2 == 0 {
				if diff := cmp.Diff(l.Locate(spot), k.Locate(spot)); diff != "" {
					t.Errorf("%s, %q (-read +kept):\n%s", dir, spot, diff)
				}
			}
		}
		if read > 0 {
			t.Errorf("%s was read for places that were known", dir)
		}
		for _, spot := range spots {
			if diff := cmp.Diff(l.Locate(spot), k.Locate(spot)); diff != "" {
				t.Errorf("%s, %q (-read +kept):\n%s", dir, spot, diff)
			}
		}
		if read != 1 {
			t.Errorf("%s was read %d times for places that were not known", dir, read)
		}
		for n := 0; n < len(kept); n += 97 {
			if _, err := Kept(kept[:n], nil, again); err == nil {
				t.Errorf("%s: %d of %d bytes are taken for whole", dir, n, len(kept))
			}
		}
	}
	if Household(fstest.MapFS{}, "a", Options{}).Keep() != nil {
		t.Error("what could not be read is kept")
	}
}

// Faults are kept as well, with what could be read beside them.
func TestKeptWithFaults(t *testing.T) {
	tree := fstest.MapFS{"a/kit.cue": {Data: []byte("package kit\n\nhousehold: \"A\"\npeople: ida: {age: \"40 y\", bodyMass: \"70 stones\"}\npacks: red: {carrier: \"ida\", mas: \"1 kg\", colours: []}\n")}}
	l := Household(tree, "a", Options{})
	if l.Kit == nil || len(l.Faults) < 2 {
		t.Fatal(l.Faults)
	}
	k, err := Kept(l.Keep(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(l.Kit, k.Kit) + cmp.Diff(l.Faults, k.Faults, cmpopts.IgnoreUnexported(Fault{})); diff != "" {
		t.Errorf("(-read +kept):\n%s", diff)
	}
}
