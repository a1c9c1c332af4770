package edit

import "testing"

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b             string
		swapOne, swapTwo int
	}{
		{"", "", 0, 0},
		{"", "kg", 2, 2},
		{"mass", "mass", 0, 0},
		{"mas", "mass", 1, 1},
		{"cuont", "count", 1, 2}, // a swap
		{"kitten", "sitting", 3, 3},
		{"ca", "abc", 3, 3}, // what was swapped is not edited again
		{"µg", "ug", 1, 1},  // characters, not bytes
	} {
		for swap, want := range map[int]int{1: c.swapOne, 2: c.swapTwo} {
			for _, p := range [][2]string{{c.a, c.b}, {c.b, c.a}} {
				if got := Distance([]rune(p[0]), []rune(p[1]), swap); got != want {
					t.Errorf("%q to %q, a swap at %d: got %d, want %d", p[0], p[1], swap, got, want)
				}
			}
		}
	}
}
