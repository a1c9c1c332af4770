package judge

import (
	"bytes"
	"context"
	"os"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/open-policy-agent/opa/v1/ast"

	"kitmuster/lint/facts"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/testkit"
	"kitmuster/lint/unit"
)

// everyForm is a file of rules with each form that a compiled rule can have, and with rules that break.
const everyForm = `package rules.harrow_valley.forms

import data.lib

# METADATA
# title: t
# description: d
# custom:
#   level: note
#   remedy: r
#   mend: {work: move}
#   sources: [s]
#   limits: [load.child_cap]
#   passes: a
#   fails: b
finding.forms contains f if {
	some i, pack in input.packs
	every id, word in {"a": "A", "b": "B"} {
		upper(id) == word
		not word in {"c", null, true, false, -1.5}
	}
	list := [x | some x in [1, 2, 3]; x != 2]
	{x: y | some x, y in list} == {0: 1, 1: 3}
	count({x | some x in list}) == 2
	not nobody with input as {"packs": []}
	size(i) == "first"
	shape[pack.name].of[_] == pack.name
	kind == "kind"
	lib.limit("load", "child_cap") > 0
	f := {"at": pack.id, "because": [pack.id], "text": concat(" ", ["forms of", pack.name, sprintf("%d", [count(list)])])}
}

default kind := "kind"

kind := "none" if count(input.packs) == 0

nobody if some p in input.packs

size(n) := "first" if {
	n == 0
} else := "second" if {
	n == 1
} else := "later"

shape[p.name] := {"of": [p.name, {p.id}], "n": 1} if some p in input.packs

# METADATA
# title: t
# description: d
# custom:
#   level: note
#   remedy: r
#   mend: {work: move}
#   sources: [s]
#   limits: []
#   passes: a
#   fails: b
finding.breaks contains f if {
	some pack in input.packs
	clash := {p: q |
		some p in ["same", "same"]
		some q in [1, 2]
	}
	f := {"at": pack.id, "text": sprintf("%v", [clash])}
}
`

// A rulebook that was packed is the same after unpacking: in what it says of itself, in every node and place of its compiled rules, in its
// verdicts, and in where a rule broke.
func TestPackedIsTheSame(t *testing.T) {
	group := os.DirFS("../../examples/harrow-valley/standards/harrow-valley")
	forms := valleyStandard(nil)
	forms["rules/harrow_valley/forms.rego"] = &fstest.MapFile{Data: []byte(everyForm)}
	cases := map[string][]Layer{
		"base":  {{FS: Base()}},
		"group": {{FS: Base()}, {FS: group, Shown: "standards/\xff"}},
		"forms": {{FS: below(t)}, {FS: forms, Shown: "forms"}},
	}
	for _, name := range testkit.SomeOf(t, cases, "group", "forms") {
		layers := cases[name]
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			first, problems := NewLayers(layers...)
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			bytesOf := func(b *Rulebook) []byte {
				t.Helper()
				out, err := b.Pack()
				if err != nil {
					t.Fatal(err)
				}
				return out
			}
			was := bytesOf(first)
			again, _ := NewLayers(layers...)
			if !bytes.Equal(was, bytesOf(again)) {
				t.Error("the same standards do not give the same bytes")
			}
			second, err := Unpack(was)
			if err != nil {
				t.Fatal(err)
			}
			second.engine()
			if !bytes.Equal(was, bytesOf(second)) {
				t.Error("packed once more, other bytes come of it")
			}
			all := cmp.Options{cmp.AllowUnexported(Limit{}), cmpopts.IgnoreUnexported(Rule{})}
			for what, pair := range map[string][2]any{
				"rules": {first.Rules(), second.Rules()}, "limits": {first.Limits(), second.Limits()}, "lists": {first.Lists(), second.Lists()},
				"standards": {first.Standards(), second.Standards()}, "off": {first.off, second.off}, "set": {first.Set(), second.Set()},
			} {
				if diff := cmp.Diff(pair[0], pair[1], all); diff != "" {
					t.Errorf("%s:\n%s", what, diff)
				}
			}
			for file, m := range first.engine().compiler.Modules {
				got := second.engine().compiler.Modules[file]
				if got == nil || !got.Package.Equal(m.Package) || !slices.EqualFunc(m.Rules, got.Rules, equal) {
					t.Errorf("%s has other rules", file)
				}
			}
			on, err := unit.ParseDate("2026-11-01")
			if err != nil {
				t.Fatal(err)
			}
			said := 0
			for _, family := range []string{"cedar", "birch", "alder"} {
				l := load.Household(os.DirFS("../.."), "examples/harrow-valley/"+family, load.Options{})
				f, ledger := measure.Of(l.Kit, measure.Options{On: on})
				if name == "forms" {
					f = &facts.Facts{Packs: f.Packs[:1]}
				}
				known := func(id string) bool { _, ok := ledger.Entry(id); return ok }
				want, broken := first.Judge(context.Background(), f, known)
				got, brokenToo := second.Judge(context.Background(), f, known)
				if diff := cmp.Diff(want, got, all); diff != "" {
					t.Errorf("%s: %d verdicts\n%s", family, len(want), diff)
				}
				said += len(want)
				if diff := cmp.Diff(broken, brokenToo, all); diff != "" || len(broken) > 0 != (name == "forms") {
					t.Errorf("%s: %v\n%s", family, broken, diff)
				}
			}
			if said == 0 {
				t.Error("no rule says anything")
			}
		})
	}
}

// equal compares rules without their METADATA, which nobody asks of a compiled one.
func equal(a, b *ast.Rule) bool {
	return a.Head.Equal(b.Head) && a.Body.Equal(b.Body) && a.Default == b.Default && a.Loc().Compare(b.Loc()) == 0 &&
		(a.Else == nil) == (b.Else == nil) && (a.Else == nil || equal(a.Else, b.Else))
}

// What nobody packed is told from a rulebook.
func TestUnpackRefuses(t *testing.T) {
	b, problems := New(smallStandard(nil))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	whole, err := b.Pack()
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range [][]byte{nil, []byte("{}"), whole[:len(whole)-1], append(bytes.Clone(whole), 0)} {
		if _, err := Unpack(bad); err == nil {
			t.Errorf("%.40q is taken", bad)
		}
	}
}

// BenchmarkStart times what comes before the first household: reading and compiling the base, and reading what was packed of it.
func BenchmarkStart(b *testing.B) {
	book, problems := New(Base())
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	packed, err := book.Pack()
	if err != nil {
		b.Fatal(err)
	}
	b.Run("compiled", func(b *testing.B) {
		for b.Loop() {
			book, _ := New(Base())
			book.engine()
		}
	})
	for _, c := range []struct {
		name  string
		judge bool
	}{{"unpacked", true}, {"unpacked, nobody judged", false}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				book, err := Unpack(packed)
				if err != nil {
					b.Fatal(err)
				}
				if c.judge {
					book.engine()
				}
			}
		})
	}
}
