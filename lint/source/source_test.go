package source

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/repo"
)

func TestPoint(t *testing.T) {
	for _, c := range []struct {
		why, text string
		offset    int
		want      Point
	}{
		{"start", "ab\ncd", 0, Point{Line: 1, Col: 1, Offset: 0}},
		{"a newline belongs to its line", "ab\ncd", 2, Point{Line: 1, Col: 3, Offset: 2}},
		{"second line", "ab\ncd", 3, Point{Line: 2, Col: 1, Offset: 3}},
		{"end", "ab\ncd", 5, Point{Line: 2, Col: 3, Offset: 5}},
		{"beyond the end", "ab", 9, Point{Line: 1, Col: 3, Offset: 2}},
		{"before the start", "ab", -1, Point{Line: 1, Col: 1, Offset: 0}},
		// Column test of the reference: é is 2 bytes, 水 3, U+1F526 4; each is one code point.
		{"code points, not bytes", "é水🔦x", 9, Point{Line: 1, Col: 4, Offset: 9}},
		{"a byte order mark takes no column", "\uFEFFab", 4, Point{Line: 1, Col: 2, Offset: 4}},
		{"CRLF", "a\r\nb", 3, Point{Line: 2, Col: 1, Offset: 3}},
		{"empty", "", 0, Point{Line: 1, Col: 1, Offset: 0}},
	} {
		if diff := cmp.Diff(c.want, NewText("f", []byte(c.text)).Point(c.offset)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, diff)
		}
	}
}

func TestSpotRoundTrip(t *testing.T) {
	for _, keys := range [][]string{{"packs", "rust"}, {"a/b", "c~d", "~1"}, nil, {"people", "אבא"}} {
		if diff := cmp.Diff(keys, Keys(Spot(keys...))); diff != "" {
			t.Error(diff)
		}
	}
}

func TestCompareIsSymmetric(t *testing.T) {
	at := func(file string, line, col, endCol int) Span {
		return Span{File: file, Start: Point{Line: line, Col: col}, End: Point{Line: line, Col: endCol}}
	}
	ordered := []Span{{}, at("a", 1, 1, 2), at("a", 1, 1, 3), at("a", 1, 2, 3), at("a", 2, 1, 1), at("b", 1, 1, 1)}
	for i, a := range ordered {
		for j, b := range ordered {
			if got := Compare(a, b); (got < 0) != (i < j) || (got > 0) != (i > j) {
				t.Errorf("Compare(%v, %v) = %d", a, b, got)
			}
		}
	}
}

func TestDiskPaths(t *testing.T) {
	d, err := repo.NewDisk("/valley/kits", "/valley/kits")
	if err != nil {
		t.Fatal(err)
	}
	for arg, want := range map[string][2]string{
		".":            {"valley/kits", "."},
		"alder":        {"valley/kits/alder", "alder"},
		"../catalogue": {"valley/catalogue", "../catalogue"},
		"/other/x":     {"other/x", "../../other/x"},
		"/":            {".", "../.."},
	} {
		p, err := d.Path(arg)
		if diff := cmp.Diff(want, [2]string{p, d.Show(p)}); diff != "" || err != nil {
			t.Errorf("%s: %v %s", arg, err, diff)
		}
	}
	for _, dirs := range [][2]string{{"kits", "/valley"}, {"/valley", "kits"}} {
		if _, err := repo.NewDisk(dirs[0], dirs[1]); err == nil {
			t.Errorf("%v: a directory that is not absolute is taken", dirs)
		}
	}
	// What people type is relative to where they are; what they see, to where they asked for.
	if d, err = repo.NewDisk("/valley/kits", "/valley"); err != nil {
		t.Fatal(err)
	}
	if p, err := d.Path("alder"); p != "valley/kits/alder" || d.Show(p) != "kits/alder" || err != nil {
		t.Error(p, d.Show(p), err)
	}
}
