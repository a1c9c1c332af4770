package table

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"kitmuster/lint/unit"
)

// sums holds the things against the table's own sums. Where one column of masses stands beside counts and nothing says whose mass it is,
// the sums say it: of one piece, or of all of a row.
func (r *reading) sums() {
	if r.several() && len(r.totals) > 0 && r.right(false) < r.right(true) {
		r.rowsAsPieces = true
		for _, t := range r.things {
			if t.Count > 1 && t.atIn >= 0 {
				t.share(t.each, t.grain, t.atIn)
			}
		}
		r.Taken = append(r.Taken, Told{"", "masses are of all pieces of a row, as only so the table's own sums come out"})
	} else if one := slices.IndexFunc(r.Columns, func(c Column) bool { return c.Role == Each }); r.several() && r.counts() && !saysOne(r.Columns[one].Head) && r.right(false) <= r.right(true) {
		r.Taken = append(r.Taken, Told{"", "masses are of one piece, as nothing says otherwise; --map COLUMN=total takes them as of all pieces of a row"})
	}
	r.products()
	for i, s := range r.totals {
		shown := show(s.mass)
		if what := r.scope(i, r.rowsAsPieces); what != "" {
			r.tell(&r.Checked, s.row, s.col, "%s is what %s come to", shown, what)
			continue
		}
		sum, _ := r.added(r.scopes(i)[0].of, r.rowsAsPieces)
		r.tell(&r.Wrong, s.row, s.col, "the table says %s, and its things come to %s", shown, show(sum))
	}
	for _, t := range r.things {
		n := max(1, t.Count)
		r.Pieces += n
		if r.Mass += t.each * unit.Mass(n); t.atIn < 0 {
			r.Unknown++
		}
	}
}

// several reports whether there is one column of masses, for one piece by its head.
func (r *reading) several() bool {
	each, total := false, false
	for _, c := range r.Columns {
		each, total = each || c.Role == Each, total || c.Role == Total
	}
	return each && !total
}

func (r *reading) counts() bool {
	for _, t := range r.things {
		if t.Count > 1 {
			return true
		}
	}
	return false
}

// right counts the sums that come out where masses are of one piece, or of all of a row.
func (r *reading) right(rows bool) (n int) {
	for i := range r.totals {
		if r.scope(i, rows) != "" {
			n++
		}
	}
	return n
}

// scoped are things that a sum may be of, with words for them.
type scoped struct {
	what string
	of   func(*Thing) bool
}

// scopes are what the sum may be of, the likeliest first.
func (r *reading) scopes(i int) []scoped {
	s := r.totals[i]
	last := -1
	if i > 0 {
		last = r.totals[i-1].row
	}
	all := scoped{"all things", func(*Thing) bool { return true }}
	section := scoped{"the things of its section", func(t *Thing) bool { return r.sectionOf[t] == s.section && t.Row < s.row }}
	bag := scoped{"the things of its pack", func(t *Thing) bool { return s.bag != "" && t.Pack == s.bag && t.Row < s.row }}
	since := scoped{"the things since the sum before", func(t *Thing) bool { return t.Row > last && t.Row < s.row }}
	if s.grand || len(r.totals) == 1 {
		return []scoped{all, section, bag, since}
	}
	return []scoped{section, bag, since, all}
}

// scope says which things come to a sum, "" where none do.
func (r *reading) scope(i int, rows bool) string {
	for _, sc := range r.scopes(i) {
		sum, parts := r.added(sc.of, rows)
		if sum > 0 && near(sum, r.totals[i].mass, r.totals[i].grain, parts) {
			return sc.what
		}
	}
	return ""
}

// added adds up things, and the steps of what is added.
func (r *reading) added(of func(*Thing) bool, rows bool) (sum, steps unit.Mass) {
	for _, t := range r.things {
		if t.atIn < 0 || !of(t) {
			continue
		}
		n := max(1, t.Count)
		if rows && !r.rowsAsPieces { // the masses stand as they were read
			n = 1
		}
		sum += t.each * unit.Mass(n)
		steps += t.grain * unit.Mass(n)
	}
	return sum, steps
}

// products holds the mass of one times the count against the mass of all in its row.
func (r *reading) products() {
	right := 0
	for _, t := range r.things {
		if t.totalAt < 0 || t.atIn < 0 || t.atIn == t.totalAt {
			continue
		}
		n := max(1, t.Count)
		if near(t.each*unit.Mass(n), t.total, t.totalGrain, t.grain*unit.Mass(n)) {
			right++
			continue
		}
		r.tell(&r.Wrong, t.Row, t.totalAt, "%q: the table says %s, and %d times %s is %s", t.Name, show(t.total), n, t.Mass, show(t.each*unit.Mass(n)))
	}
	if right > 0 {
		r.Checked = append(r.Checked, Told{"", fmt.Sprintf("in %d rows, the count times the mass of one is the mass of all", right)})
	}
}

// show writes a mass in grams to a tenth, as tables have it.
func show(m unit.Mass) string {
	return strings.TrimSuffix(big.NewRat(int64(m), 1_000_000).FloatString(1), ".0") + " g"
}
