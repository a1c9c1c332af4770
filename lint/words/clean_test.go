package words

import "testing"

func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"Älder 🍎":             "Älder 🍎",
		"\x1b[31mred":         `\u001b[31mred`,
		"a\nb":                `a\u000ab`,
		"\u202Egnp.exe":       `\u202egnp.exe`,
		"\u2066x\u2069\u200F": `\u2066x\u2069\u200f`,
		"אבא":                 "אבא",
		"\u3164\u2800\uFFF9x": `\u3164\u2800\ufff9x`, // letters that show nothing
		"\U000E0041":          `\U000e0041`,
	} {
		if got := Clean(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

func TestOnPaper(t *testing.T) {
	for name, want := range map[string]string{
		"first_aid_kit": "first aid kit", "lamp": "lamp", "water_1_5_litre": "water 1 5 litre", "Red_lamp": "Red_lamp", "red_lamp 2": "red_lamp 2", "t-shirt_warm": "t-shirt warm", "a_": "a", "_a": "_a", "": "",
	} {
		if got := OnPaper(name); got != want {
			t.Errorf("%q is %q", name, got)
		}
	}
}
