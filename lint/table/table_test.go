package table

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/lines"
)

var update = flag.Bool("update", false, "write what the tables of testdata come to")

// told is all that is said and written of a table.
func toldOf(b []byte, o Options, name string) string {
	var out bytes.Buffer
	s, err := Read(b)
	if err != nil {
		return fmt.Sprintf("cannot be read: %v\n", err)
	}
	t, err := Of(s, o)
	if err != nil {
		return fmt.Sprintf("is no table of things: %v\n", err)
	}
	t.Preview(&lines.Talk{Out: &out, Width: 100})
	h := Household{Name: "Otter", From: name, Carriers: map[string]string{}}
	for _, b := range t.Bags {
		h.Carriers[b.Key] = b.Carrier
	}
	files, err := t.Files(h)
	if err != nil {
		return out.String() + "cannot be written: " + err.Error() + "\n"
	}
	for _, f := range sortedKeys(files) {
		fmt.Fprintf(&out, "\n-- %s --\n%s", f, files[f])
	}
	return out.String()
}

// TestTables holds tables, in the ways people keep them, to what is made of each: testdata has the table, and what is said and written.
func TestTables(t *testing.T) {
	names, err := filepath.Glob("testdata/*.csv")
	if err != nil || len(names) < 10 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		o := Options{}
		if strings.HasSuffix(name, "no_heads.csv") {
			o = Options{Map: map[string]Role{"a": Item, "B": Each}, Unit: "g", Pack: "Day pack"}
		}
		got, golden := toldOf(b, o, filepath.Base(name)), strings.TrimSuffix(name, ".csv")+".golden"
		if *update {
			if err := os.WriteFile(golden, []byte(got), 0o600); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), got); diff != "" {
			t.Errorf("%s: -want +got\n%s", name, diff)
		}
	}
}

// What is no table, or larger than any, is refused in words.
func TestRefusedTables(t *testing.T) {
	row := "Torch,1,86 g\n"
	for name, c := range map[string]struct{ text, want string }{
		"empty":             {"", "it is empty"},
		"blank":             {" \n,,\n", "it is empty"},
		"a spreadsheet":     {"PK\x03\x04rest", "save the sheet as CSV"},
		"an old one":        {"\xd0\xcf\x11\xe0", "old spreadsheet"},
		"a PDF":             {"%PDF-1.7", "it is a PDF"},
		"a page":            {"\n<html><table>", "web page"},
		"zeros":             {"Item,Weight\n\x00", "it is no text"},
		"large":             {strings.Repeat("x", MostBytes+1), "larger than 4 MiB"},
		"many rows":         {"Item,Qty,Weight\n" + strings.Repeat(row, mostRows), "more than 5000 rows"},
		"many blank rows":   {"Item,Qty,Weight\n" + strings.Repeat("\n", mostRows+5) + row, "more than 5000 rows"},
		"wide":              {"Item,Weight\nx" + strings.Repeat(",", mostCols+1), "row 2 has more than 200 columns"},
		"a quotation mark":  {"Item,Weight (g)\n\"Torch,86\n" + strings.Repeat("Whistle,12\n", 300), "cell A2 is longer"},
		"no heads":          {"Torch,86\nWhistle,12\n", "--map A=item"},
		"heads alone":       {"Item,Weight (g)\n", "no row holds a thing"},
		"only sums":         {"Item,Weight (g)\nTotal,12\n", "no row holds a thing"},
		"heads without one": {"Qty,Weight (g)\n1,2\n", `called "Qty", "Weight (g)"`},
	} {
		if got := toldOf([]byte(c.text), Options{}, "x.csv"); !strings.Contains(got, c.want) {
			t.Errorf("%s: %.300s, want %q", name, got, c.want)
		}
	}
	s, err := Read([]byte("Item,Weight\nTorch,86 g\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Of(s, Options{Map: map[string]Role{"D": Count}}); err == nil || !strings.Contains(err.Error(), `no column "D"; there are A to B`) {
		t.Error(err)
	}
}

// A cell that a column has no room for never takes the rest of its row with it, and each is named.
func TestHeads(t *testing.T) {
	for head, want := range map[string]struct {
		role Role
		unit string
	}{
		"Weight (g)": {Each, "g"}, "weight in oz": {Each, "oz"}, "Gewicht [kg]": {Each, "kg"}, "lbs": {Each, "lb"}, "Total weight (g)": {Total, "g"}, "Weight each": {Each, ""},
		"Qty.": {Count, ""}, "Stück": {Count, ""}, "Péremption": {Expires, ""}, "Mindestens haltbar bis": {Expires, ""}, "Which pack?": {Pack, ""}, "個数": {Count, ""}, "重さ（ｇ）": {Each, ""},
		"price": {"", ""}, "Colour": {"", ""}, "": {"", ""}, "Item name": {Item, ""}, "My gear": {Item, ""}, "storage location": {Place, ""},
	} {
		if role, u := roleOf(head); role != want.role || u != want.unit {
			t.Errorf("%q: %q in %q, want %+v", head, role, u, want)
		}
	}
}

// Words of heads and of places are folded as the cells are that they are held against.
func TestWordsAreFolded(t *testing.T) {
	for _, w := range slices.Concat(atHand, ofOne, grandWords, packWords) {
		if fold(w) != w {
			t.Errorf("%q is never found; write %q", w, fold(w))
		}
	}
}

// Asked, a family may name who carries what, and says yes or no; at the end of the input nothing is written.
func TestAgree(t *testing.T) {
	make := func() *Table {
		s, err := Read([]byte("Item,Weight (g),Bag\nTorch,86,red\nWhistle,12,blue\n"))
		if err != nil {
			t.Fatal(err)
		}
		out, err := Of(s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	for typed, want := range map[string]struct {
		ok  bool
		who string
	}{
		"Ana\n\nyes\n": {true, "Ana "}, "\nBen\r\nperhaps\nY\n": {true, " Ben"}, "\n\nno\n": {false, " "}, "": {false, " "}, "Ana\nBen\n": {false, "Ana Ben"}, "Ana\nBen\nye": {false, "Ana Ben"},
	} {
		var out bytes.Buffer
		h := Household{Name: "Otter", From: "x.csv"}
		ok, err := make().Agree(&lines.Talk{In: strings.NewReader(typed), Out: &out, Width: 40}, &h, "kit", false)
		if who := h.Carriers["red"] + " " + h.Carriers["blue"]; ok != want.ok || err != nil || who != want.who {
			t.Errorf("%q: %v, %v, carried by %q\n%s", typed, ok, err, who, &out)
		}
		if !ok && !strings.HasSuffix(out.String(), "Nothing is written.\n") {
			t.Errorf("%q: it does not say that nothing is written\n%s", typed, &out)
		}
	}
	wrong := make()
	wrong.Wrong = []Told{{"B4", "x"}}
	if ok, err := wrong.Agree(&lines.Talk{Out: &bytes.Buffer{}}, &Household{}, "kit", true); ok || err != ErrWrong {
		t.Errorf("sums that do not come out: %v, %v", ok, err)
	}
}

// Whatever a file holds, it ends in a kit that is what the preview says, or in words.
func FuzzTable(f *testing.F) {
	names, _ := filepath.Glob("testdata/*.csv")
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 4000 {
			return
		}
		s, err := Read(b)
		if err != nil {
			return
		}
		table, err := Of(s, Options{Unit: "g"})
		if err != nil {
			return
		}
		var out bytes.Buffer
		table.Preview(&lines.Talk{Out: &out})
		if i := slices.IndexFunc(out.Bytes(), func(c byte) bool { return c < ' ' && c != '\n' }); i >= 0 {
			t.Errorf("the preview holds %q", out.Bytes()[i])
		}
		if _, err := table.Files(Household{Name: "Otter", From: "x.csv"}); err != nil {
			t.Errorf("%v\n%s", err, &out)
		}
	})
}
