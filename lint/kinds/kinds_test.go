package kinds

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kitmuster/lint/unit"
)

// tables are all tables, by the name of their kinds' type.
func tables() map[string]any {
	return map[string]any{
		"Drill": Drills, "ToldDrill": ToldDrills, "Date": Dates, "Reach": Reaches, "Stock": Stocks, "WaterLimit": WaterLimits,
		"Capability": Capabilities, "Quantity": Quantities, "Unit": Units, "Figure": Figures, "Useless": Uselesses,
	}
}

// constants are the constants of text types in this package's files, by the name of their type.
func constants(t *testing.T) map[string][]string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]string{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			typ, named := spec.Type.(*ast.Ident)
			for _, v := range spec.Values {
				if lit, ok := v.(*ast.BasicLit); ok && named && lit.Kind == token.STRING {
					text, err := strconv.Unquote(lit.Value)
					if err != nil {
						t.Fatal(err)
					}
					out[typ.Name] = append(out[typ.Name], text)
				}
			}
			return true
		})
	}
	return out
}

// Every kind has its one row, and every row its kind.
func TestEveryKindHasARow(t *testing.T) {
	all := constants(t)
	tables := tables()
	if got, want := slices.Sorted(maps.Keys(all)), slices.Sorted(maps.Keys(tables)); !slices.Equal(got, want) {
		t.Errorf("kinds are constants of %v, and there are tables of %v", got, want)
	}
	for name, table := range tables {
		var rows []string
		for v := reflect.ValueOf(table); len(rows) < v.Len(); {
			rows = append(rows, v.Index(len(rows)).FieldByName("Kind").String())
		}
		kinds := all[name]
		if name == "Unit" {
			kinds = slices.DeleteFunc(kinds, func(k string) bool { return k == string(UnitList) })
		}
		slices.Sort(rows)
		slices.Sort(kinds)
		if !slices.Equal(rows, kinds) {
			t.Errorf("%s: the constants are %q, and the rows are of %q", name, kinds, rows)
		}
	}
}

// A row says all that it has a field for: nothing at all is said with None.
func TestRowsHaveNoBlank(t *testing.T) {
	for name, table := range tables() {
		rows := reflect.ValueOf(table)
		for i := range rows.Len() {
			row := rows.Index(i)
			for f := range row.NumField() {
				field := row.Type().Field(f).Name
				v := row.Field(f)
				if v.Kind() == reflect.Bool || name == "Unit" && field == "LackText" {
					continue
				}
				if v.IsZero() {
					t.Errorf("%s %s has no %s", name, row.FieldByName("Kind"), field)
				}
				if write, ok := v.Interface().(func(int64) string); ok && !strings.ContainsAny(write(1), "01") {
					t.Errorf("%s %s: %s writes 1 as %q", name, row.FieldByName("Kind"), field, write(1))
				}
			}
		}
	}
}

// What others hear of a kind has a row of its own, and is heard under itself.
func TestWhatOthersHear(t *testing.T) {
	used := map[ToldDrill]bool{}
	for _, d := range Drills {
		if used[d.Told] = true; d.Told != None && d.Told.Row().Kind != d.Told {
			t.Errorf("drill %s is told as %q, which has no row", d.Kind, d.Told)
		}
	}
	for _, d := range ToldDrills {
		if !used[d.Kind] {
			t.Errorf("no drill is told as %s", d.Kind)
		}
	}
	for _, s := range Stocks {
		if told := s.Told.Row(); s.Told != None && (told.Told != s.Told || told.ToldWords == None) {
			t.Errorf("stock %s is told as %q, which is not told", s.Kind, s.Told)
		}
	}
	for _, c := range Capabilities {
		if c.Told != Tell && c.Told != Hide {
			t.Errorf("capability %s: %d", c.Kind, c.Told)
		}
	}
}

// Each unit reads its own example, and names what may be lacking where it writes how much that is.
func TestUnits(t *testing.T) {
	for _, u := range Units {
		text, err := strconv.Unquote(u.Example)
		if err != nil {
			t.Fatal(err)
		}
		n, err := u.Parse(text)
		if err != nil || u.Text(n) != text {
			t.Errorf("%s: %q is read as %d, %v, and written as %q", u.Kind, text, n, err, u.Text(n))
		}
		if (u.Lack == None) != (u.LackText == nil) {
			t.Errorf("%s: what lacks is %q", u.Kind, u.Lack)
		}
	}
	for text, of := range map[string]Unit{"1.5 months": UnitMonths, "six years": UnitYears, "1 month": UnitYears, "-1 year": UnitYears, "0.5 g": UnitDays, "0.5 mg": UnitMass} {
		if n, err := of.Row().Parse(text); err == nil {
			t.Errorf("%s: %q is read as %d", of, text, n)
		}
	}
	if n, err := UnitYears.Row().Parse(" 1 year"); n != 1 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
}

// What is no kind has a row with nothing in it.
func TestNoKind(t *testing.T) {
	if r := Drill("flood").Row(); r != (DrillRow{}) {
		t.Errorf("%+v", r)
	}
	if r := Unit("stone").Row(); r.Text != nil || r.Kind != "" {
		t.Errorf("%+v", r)
	}
	if got := Capability("open_x-y").Words(); got != "open x y" {
		t.Error(got)
	}
}

// Amounts of each unit are written for people.
func TestTexts(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{FigureMass.Row().Text(unit.Metric, 1_500_000), "1.50 kg"}, {FigureVolume.Row().Text(unit.Metric, 750), "750 ml"}, {FigureEnergy.Row().Text(unit.Metric, 4_184_000), "1000 kcal"},
		{FigureMass.Row().Text(unit.US, 1_500_000), "3.3 lb (1.50 kg)"}, {FigureVolume.Row().Change(unit.US, 750), "25.4 fl oz (750 ml)"},
		{StockWater.Row().Text(unit.US, 4000), "1.06 gal (4 L)"}, {StockSodium.Row().Text(unit.US, 2300), "2.3 g"},
		{FigureHours.Row().Text(unit.Metric, 72), "72 h"}, {FigureDay.Row().Text(unit.Metric, 0), "1970-01-01"}, {FigurePermille.Row().Text(unit.Metric, 199), "19.9 %"},
		{FigureMillidays.Row().Text(unit.Metric, 1000), "1 day"}, {FigureMillidays.Row().Text(unit.Metric, 2500), "2.5 days"},
		{UnitMass.Row().LackText(1_500_000), "1.50 kg"}, {UnitEnergy.Row().LackText(4_184_000), "1000 kcal"}, {UnitMinutes.Row().LackText(90), "1 h 30 min"},
		{UnitDays.Row().LackText(1), "1 day"}, {UnitMilli.Row().LackText(2500), "2.5"}, {UnitCount.Row().LackText(3), "3"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
