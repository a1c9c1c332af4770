package intake

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"kitmuster/lint/rewrite"
	"kitmuster/lint/source"
	"kitmuster/lint/table"
	"kitmuster/lint/unit"
	"kitmuster/lint/upkeep"
	"kitmuster/lint/words"
)

// Row is one row of a table that holds a whole kit: of the household, a pack, a compartment, a thing, or nothing but a new thing.
type Row struct {
	// Key is the spot; "" for what is new. Row says where it stands in the table, such as row 7.
	Key, Row string
	// Pack and Compartment say for people where it is.
	Pack, Compartment         string
	Name                      string
	Count                     string
	Grams                     string // mass of one
	Weighed, Expires, Carried string // Carried is what has no column of its own, as JSON
}

// exactHeads are the columns of a table that holds a whole kit.
var exactHeads = []string{"Key", "Pack", "Compartment", "Thing", "Count", "Mass of one (g)", "Mass of all (g)", "Weighed", "Expires", "Carried along"}

// errLong says that a kit has something that no cell of a spreadsheet takes.
var errLong = errors.New("it holds more than a cell of a spreadsheet takes (32,767 characters)")

// rowOf makes the row of an entry; left are fields that have rows of their own.
func rowOf(key string, entry map[string]any, left ...string) (Row, error) {
	r, rest := Row{Key: key}, maps.Clone(entry)
	for _, f := range left {
		delete(rest, f)
	}
	text := func(field string) string {
		s, ok := entry[field].(string)
		if !ok || s == "" || s != strings.TrimSpace(words.Clean(s)) || table.Unguard(s) != s {
			return "" // it is carried along
		}
		return s
	}
	if r.Name = text("name"); r.Name != "" {
		delete(rest, "name")
	}
	if n, ok := entry["count"].(json.Number); ok {
		r.Count = n.String()
		delete(rest, "count")
	}
	if m, err := unit.ParseMass(text("mass")); err == nil { // how it is written is carried along
		if r.Grams = strings.TrimSuffix(grams(m), " g"); entry["mass"] == grams(m) {
			delete(rest, "mass")
		}
	}
	for field, into := range map[string]*string{"weighed": &r.Weighed, "expires": &r.Expires} {
		if _, err := unit.ParseDate(text(field)); err == nil {
			*into = text(field)
			delete(rest, field)
		}
	}
	if len(rest) > 0 {
		b, err := json.Marshal(rest)
		if err != nil {
			return r, err
		}
		r.Carried = string(b)
	}
	if len(r.Carried) > 32_000 {
		return r, errLong
	}
	return r, nil
}

// entry is what a row says.
func (r *Row) entry() (map[string]any, error) {
	out := map[string]any{}
	if r.Carried != "" {
		d := json.NewDecoder(strings.NewReader(r.Carried))
		d.UseNumber()
		if err := d.Decode(&out); err != nil || d.More() {
			return nil, fmt.Errorf("%s: what is carried along is no JSON any more", r.Row)
		}
	}
	if r.Name != "" {
		out["name"] = r.Name
	}
	if r.Count != "" {
		n, known, ok := countOf(table.Cell{Text: r.Count})
		if !known || !ok {
			return nil, fmt.Errorf("%s: %q is no count", r.Row, r.Count)
		}
		out["count"] = json.Number(fmt.Sprint(n))
	}
	if r.Grams != "" {
		if strings.Contains(r.Grams, ",") && thousands.MatchString(r.Grams) {
			return nil, fmt.Errorf("%s: is %q a thousand or one? Write it without a comma", r.Row, r.Grams)
		}
		a := massOf(table.Cell{Text: r.Grams}, "g", style{dot: true})
		if a.text == "" || a.doubt != "" {
			return nil, fmt.Errorf("%s: %q is no mass", r.Row, r.Grams)
		}
		old, _ := out["mass"].(string)
		if m, err := unit.ParseMass(old); err != nil || m != a.mass {
			out["mass"] = grams(a.mass)
		}
	} else {
		delete(out, "mass")
	}
	for field, text := range map[string]string{"weighed": r.Weighed, "expires": r.Expires} {
		if text == "" {
			continue
		}
		on, other, err := upkeep.ParseDay(text)
		if err != nil || on != other {
			return nil, fmt.Errorf("%s: which day is %q? Write it as 2027-05-31", r.Row, text)
		}
		out[field] = on.String()
	}
	return out, nil
}

// Rows reads a table that Table wrote; ok is false where it is another.
func Rows(b *table.Book) (rows []Row, ok bool, err error) {
	for i := range b.Sheets {
		s := &b.Sheets[i]
		if len(s.Rows) == 0 {
			continue
		}
		at := map[string]int{}
		for k, c := range s.Rows[0] {
			at[c.Text] = k
		}
		if slices.ContainsFunc(exactHeads, func(h string) bool { _, there := at[h]; return !there && h != "Mass of all (g)" }) {
			continue
		}
		seen := map[string]string{}
		for n, cells := range s.Rows[1:] {
			get := func(head string) string {
				if k := at[head]; k < len(cells) {
					return table.Unguard(cells[k].Text)
				}
				return ""
			}
			r := Row{Row: fmt.Sprintf("row %d", n+2), Key: get("Key"), Pack: get("Pack"), Compartment: get("Compartment"), Name: get("Thing"), Count: get("Count"), Grams: get("Mass of one (g)"), Weighed: get("Weighed"), Expires: get("Expires"), Carried: get("Carried along")}
			if r.Key == "" && (r.Name == "" || sumsUp(r.Name)) {
				continue
			}
			if other := seen[r.Key]; r.Key != "" && other != "" {
				return nil, true, fmt.Errorf("%s and %s have the same key, %s; leave the key of what is new empty", other, r.Row, r.Key)
			}
			seen[r.Key] = r.Row
			rows = append(rows, r)
		}
		return rows, true, nil
	}
	return nil, false, nil
}

// Table lays rows out, with heads, sums and formulas.
func Table(rows []Row) [][]table.Out {
	out := [][]table.Out{{}}
	for _, h := range exactHeads {
		out[0] = append(out[0], table.Out{Text: h})
	}
	all := unit.Mass(0)
	for i, r := range rows {
		cells := []table.Out{{Text: r.Key}, {Text: r.Pack}, {Text: r.Compartment}, {Text: r.Name}, {Text: r.Count, Number: r.Count != ""}, {Text: r.Grams, Number: r.Grams != ""}, {}, {Text: r.Weighed}, {Text: r.Expires}, {Text: r.Carried}}
		if m, err := unit.ParseMass(r.Grams + " g"); err == nil && r.Grams != "" {
			n := int64(1)
			if r.Count != "" {
				c, _, _ := countOf(table.Cell{Text: r.Count})
				n = int64(c)
			}
			if product, ok := unit.MulInt(m, n); ok && !strings.HasPrefix(r.Key, "atHome/") {
				all += product
				cells[6] = table.Out{Text: strings.TrimSuffix(grams(product), " g"), Number: true, Formula: fmt.Sprintf(`IF(E%[1]d="",1,E%[1]d)*F%[1]d`, i+2)}
			}
		}
		out = append(out, cells)
	}
	end := len(rows) + 1
	return append(out, []table.Out{{}, {}, {}, {Text: "Total"}, {}, {}, {Text: strings.TrimSuffix(grams(all), " g"), Number: true, Formula: fmt.Sprintf("SUM(G2:G%d)", end)}})
}

// Kit makes new files of the rows of a whole kit. What has no key is refused here: it has no place yet.
func Kit(rows []Row) ([]File, error) {
	root := map[string]any{}
	for i := range rows {
		r := &rows[i]
		e, err := r.entry()
		if err != nil {
			return nil, err
		}
		if r.Key == "household" {
			if name, ok := e["name"]; ok {
				e["household"] = name
				delete(e, "name")
			}
			for k, v := range e {
				root[k] = join(root[k], v)
			}
			continue
		}
		keys := source.Keys(r.Key)
		if !placed(keys) {
			return nil, fmt.Errorf("%s: %q is no key of a kit; add what is new to a kit that is there, with --into", r.Row, r.Key)
		}
		at := root
		for _, k := range keys[:len(keys)-1] {
			next, ok := at[k].(map[string]any)
			if !ok {
				next = map[string]any{}
				at[k] = next
			}
			at = next
		}
		at[keys[len(keys)-1]] = join(at[keys[len(keys)-1]], e)
	}
	if _, ok := root["household"]; !ok {
		return nil, errors.New("the row with the key household is missing")
	}
	w := &Written{}
	packs, _ := root["packs"].(map[string]any)
	taken := keys{"household": true}
	for _, k := range sortedKeys(packs) {
		if err := w.file(taken.free(k, "pack"), "package kit\n\npacks: "+rewrite.Label(k)+": "+cueOf(packs[k])+"\n"); err != nil {
			return nil, err
		}
	}
	if len(packs) > 0 {
		delete(root, "packs")
	}
	body := "package kit\n\n"
	for _, k := range order(root) {
		body += rewrite.Label(k) + ": " + cueOf(root[k]) + "\n"
	}
	if err := w.file("household", body); err != nil {
		return nil, err
	}
	return w.Files, nil
}

// placed reports whether keys are those of a pack, a compartment or a thing.
func placed(k []string) bool {
	switch {
	case len(k) == 2:
		return k[0] == "packs" || k[0] == "atHome"
	case len(k) == 4:
		return k[0] == "packs" && k[2] == "compartments" || k[0] == "people" && k[2] == "onBody"
	}
	return len(k) == 6 && k[0] == "packs" && k[2] == "compartments" && k[4] == "items"
}

// join puts what two rows say of one entry together.
func join(a, b any) any {
	m, ok := a.(map[string]any)
	n, ok2 := b.(map[string]any)
	if !ok || !ok2 {
		return b
	}
	for k, v := range n {
		m[k] = join(m[k], v)
	}
	return m
}

// first are fields that stand first, as a family writes them.
var first = []string{"household", "people", "animals", "name", "carrier", "count", "mass", "weighed", "reach"}

func order(m map[string]any) []string {
	var out []string
	for _, k := range first {
		if _, ok := m[k]; ok {
			out = append(out, k)
		}
	}
	for _, k := range sortedKeys(m) {
		if !slices.Contains(first, k) {
			out = append(out, k)
		}
	}
	return out
}

// cueOf writes a value in CUE.
func cueOf(v any) string {
	switch v := v.(type) {
	case map[string]any:
		if len(v) == 0 {
			return "{}"
		}
		var b strings.Builder
		b.WriteString("{\n")
		for _, k := range order(v) {
			b.WriteString(rewrite.Label(k) + ": " + cueOf(v[k]) + "\n")
		}
		return b.String() + "}"
	case []any:
		var parts []string
		for _, e := range v {
			parts = append(parts, cueOf(e))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case string:
		return rewrite.Quote(v)
	}
	return fmt.Sprint(v) // a number or a truth
}

// valueOf is a value as a step of a rewrite has it.
func valueOf(v any) (any, error) {
	switch v := v.(type) {
	case map[string]any:
		f := rewrite.Fields{}
		for _, k := range order(v) {
			x, err := valueOf(v[k])
			if err != nil {
				return nil, err
			}
			f = append(f, rewrite.Field{Key: k, Value: x})
		}
		return f, nil
	case []any:
		for _, e := range v {
			if _, ok := e.(string); !ok {
				return nil, errors.New("a list of other things than texts is not written by a table")
			}
		}
		return v, nil
	case json.Number:
		n, err := v.Int64()
		if err != nil {
			return nil, fmt.Errorf("%s is no whole number, and such are not written by a table", v)
		}
		return int(n), nil
	}
	return v, nil
}

// changes are the steps that make an entry of a kit what a row says.
func changes(spot string, now, want map[string]any) (out []rewrite.Step, err error) {
	for _, k := range order(want) {
		if reflect.DeepEqual(now[k], want[k]) {
			continue
		}
		v, err := valueOf(want[k])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", k, err)
		}
		out = append(out, rewrite.Step{Do: rewrite.Set, Spot: spot + "/" + source.Spot(k), Value: v, Behind: []string{"mass", "count", "name", "carrier"}})
	}
	for _, k := range sortedKeys(now) {
		if _, ok := want[k]; !ok {
			out = append(out, rewrite.Step{Do: rewrite.Remove, Spot: spot + "/" + source.Spot(k)})
		}
	}
	return out, nil
}
