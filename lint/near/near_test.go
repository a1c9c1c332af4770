package near

import "testing"

func TestWord(t *testing.T) {
	fields := []string{"mass", "name", "count", "can", "carrier"}
	for written, want := range map[string]string{"mas": "mass", "cuont": "count", "carier": "carrier", "zzzzz": "", "": "", "massss": "mass"} {
		if got := Word(written, fields); got != want {
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
