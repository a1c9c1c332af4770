package judge

import (
	"encoding/json"
	"testing"

	"kitmuster/lint/kinds"
)

func TestLimitsInWords(t *testing.T) {
	for _, c := range []struct {
		value, unit, want, why string
	}{
		{"150", "permille", "15 %", ""},
		{"155", "permille", "15.5 %", ""},
		{"2000", "ml", "2 L", ""},
		{"250", "ml", "250 ml", ""},
		{"1500", "mg", "1.5 g", ""},
		{"20000000", "mg", "20 kg", ""},
		{"0", "mg", "0 mg", ""},
		{"8786400", "j", "2100 kcal", ""},
		{"2092", "j", "1 kcal", ""}, // half a kilocalorie, rounded up
		{"45", "min", "45 min", ""},
		{"4320", "min", "72 h", ""},
		{"90", "min", "1 h 30 min", ""},
		{"1", "days", "1 day", ""},
		{"28", "days", "28 days", ""},
		{"2", "count", "2", ""},
		{"-5500", "mc", "-5.5 °C", ""},
		{"1250000", "mm", "1.25 km", ""},
		{`["gloves", "dressings", 3]`, "list", "gloves, dressings, 3", ""},
		{`[]`, "list", "", `a value of unit "list" is a list with at least one entry`},
		{`[[1]]`, "list", "", "a list holds texts or whole numbers"},
		{"2", "list", "", `a value of unit "list" is a list with at least one entry`},
		{`["a"]`, "days", "", "the value must be a whole number of the unit"},
		{"1e3", "days", "", "the value must be a whole number of the unit"},
		{"99999999999999999999", "days", "", "the value must be a whole number of the unit"},
		{"1", "stone", "", `unit "stone" is unknown; write one of: count, days, j, list, mc, mg, milli, min, ml, mm, months, mwh, permille, years`},
	} {
		set, problems := readLimits("data.json", []byte(`{"a": {"b": {"value": `+c.value+`}}}`))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		v := set.data["a"].(map[string]any)["b"].(map[string]any)["value"]
		if text, why := people(v, kinds.Unit(c.unit)); text != c.want || why != c.why {
			t.Errorf("%s %s: %q, %q; want %q, %q", c.value, c.unit, text, why, c.want, c.why)
		}
	}
}

// Whatever the file holds, reading it ends, and gives either sound JSON or a fault with a place.
func FuzzReadLimits(f *testing.F) {
	for _, s := range []string{limits, "{", "[1", `{"a":}`, `{"a":1}}`, "", "null", "{\"a\": \"\xff\"}", `{"a":{"b":{"value":[1,{}],"unit":"list"}}}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		set, problems := readLimits("data.json", b)
		if len(problems) == 0 {
			if !json.Valid(b) {
				t.Fatalf("%q is no JSON, and nothing is said", b)
			}
			_, problems = set.limits()
		}
		for _, p := range problems {
			if p.Line < 1 || p.Col < 1 || p.Text == "" {
				t.Fatalf("%+v", p)
			}
		}
	})
}
