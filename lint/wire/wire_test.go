package wire_test

import (
	"bytes"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/wire"
)

type inner struct {
	N    int64
	Text string
}

type sample struct {
	A          string
	B          bool
	C          int64
	D          int
	E          []string
	F          []inner
	G          inner
	H, I, J, K string // more than eight fields
	private    int
}

func TestThereAndBack(t *testing.T) {
	seen := map[string]sample{}
	for _, c := range []sample{
		{},
		{A: "a", K: "k"},
		{A: "ak"},
		{B: true, C: -1, D: 1 << 40},
		{C: -1 << 63}, {C: 1<<63 - 1},
		{E: []string{}}, // not the same as none
		{E: []string{""}}, {E: []string{"", "x\xff"}},
		{F: []inner{{}, {N: 5}}}, {F: []inner{{N: 5}, {}}}, {G: inner{5, "x"}},
	} {
		b := wire.Append(nil, &c)
		if other, twice := seen[string(b)]; twice {
			t.Errorf("%+v and %+v have the same bytes", c, other)
		}
		seen[string(b)] = c
		var back sample
		if err := wire.Read(b, &back); err != nil {
			t.Errorf("%+v: %v", c, err)
		}
		if !reflect.DeepEqual(c, back) {
			t.Error(cmp.Diff(c, back, cmp.AllowUnexported(sample{})))
		}
		for n := range b { // not whole
			if err := wire.Read(b[:n], &sample{}); err == nil {
				t.Errorf("%+v: its first %d of %d bytes are read", c, n, len(b))
			}
		}
		if wire.Read(append(b, 0), &sample{}) == nil {
			t.Errorf("%+v: a byte too much is read", c)
		}
	}
	if b := wire.Append(nil, &sample{private: 3}); !bytes.Equal(b, wire.Append(nil, &sample{})) {
		t.Error("a field of nobody else's is written")
	}
}

func FuzzRead(f *testing.F) {
	f.Add(wire.Append(nil, &sample{A: "a", E: []string{"e"}, F: []inner{{1, "x"}}}))
	f.Add([]byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 1})
	f.Fuzz(func(t *testing.T, b []byte) {
		var v, again sample
		if wire.Read(b, &v) != nil {
			return
		}
		if err := wire.Read(wire.Append(nil, &v), &again); err != nil || !reflect.DeepEqual(v, again) {
			t.Errorf("%+v is read back as %+v, %v", v, again, err)
		}
	})
}
