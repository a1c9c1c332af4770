package words

import "testing"

func TestNear(t *testing.T) {
	fields := []string{"mass", "name", "count", "can", "carrier"}
	for written, want := range map[string]string{"mas": "mass", "cuont": "count", "carier": "carrier", "zzzzz": "", "": "", "massss": "mass"} {
		if got := Near(written, fields); got != want {
			t.Errorf("%q: got %q, want %q", written, got, want)
		}
	}
}

func TestSuggest(t *testing.T) {
	if got, want := Suggest("no", "zzzzz", []string{"b", "a"}, "there are"), "no; there are: a, b"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := Suggest("no", "mas", []string{"mass"}, "there are"), "no; did you mean mass?"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := Suggest("no", "x", nil, "there are"), "no"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestWordsForPeople(t *testing.T) {
	for _, c := range [][2]string{
		{Count(1, "error"), "1 error"}, {Count(int64(0), "error"), "0 errors"}, {Count(2, "error"), "2 errors"},
		{And(nil), ""}, {And([]string{"a"}), "a"}, {And([]string{"a", "b"}), "a and b"}, {And([]string{"a", "b", "c"}), "a, b and c"},
		{List([]string{"a", "b"}), "a, b"}, {List([]string{"Ana, the elder", "Ben"}), "Ana, the elder; Ben"},
		{Line(" a\n\tb  c "), "a b c"},
		{Mass(1_500_000), "1.50 kg"}, {Volume(750), "750 ml"}, {Energy(4_184_000), "1000 kcal"},
		{Minutes(90), "1 h 30 min"}, {Count(1, "day"), "1 day"}, {Thousandths(1000, "day"), "1 day"},
		{Thousandths(2500, "day"), "2.5 days"}, {Percent(199, 1000), "19.9 %"},
		{Thousandths(1000, "dose"), "1 dose"}, {Thousandths(500, "dose"), "0.5 doses"},
		{Percent(1, 3), "33.3 %"}, {Percent(1, 2000), "0.1 %"}, {Percent(1, 0), "-"},
	} {
		if c[0] != c[1] {
			t.Errorf("got %q, want %q", c[0], c[1])
		}
	}
}
