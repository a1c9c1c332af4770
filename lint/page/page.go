// Package page writes pages for people: audits and packing lists as HTML that needs no network, no
// script to be read, and no colour to be understood. It decides nothing: order, levels and standings are settled
// before it is called.
//
// All text of families and standards is taken for hostile: it goes through words.Clean and html/template, and a
// policy in each page (W3C Content Security Policy Level 3) lets nothing load, and no script run but our own by its
// hash. What is written as it is (the template functions css and js) is our own file and nothing else.
// TestHostileTextIsOnlyText fills every text with one that would break out.
//
// Each household is rendered once, into a file; only then is it known whether all of them go into one page or each
// into its own. What a household is called in links is a hash of its folder. Tables that do not fit a phone become
// blocks by CSS, so their roles are written out.
//
// .ci/run looks at pages in a browser; testdata/README.md says how to do so by hand. KITMUSTER_SHOTS=DIR, with
// KITMUSTER_BROWSER and KITMUSTER_PAGES set, has TestBrowser put pictures of every page into DIR.
package page

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

var (
	//go:embed page.css
	pageCSS string
	//go:embed page.js
	pageJS string
)

// scriptPolicy allows the one script of our own, by its hash.
var scriptPolicy = func() string {
	sum := sha256.Sum256([]byte(pageJS))
	return "script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}()

// functions are those of all templates.
var functions = template.FuncMap{
	"clean": words.Clean,
	"shape": func(l finding.Level) string { return shapes[l] },
	"class": func(l finding.Level) string { return classes[l] },
	"css":   func(s string) template.CSS { return template.CSS(s) },
	"js":    func(s string) template.JS { return template.JS(s) },
}

// Shapes and classes of levels; a shape is never alone, a word stands beside it.
var (
	shapes  = map[finding.Level]string{finding.Error: "▲", finding.Warning: "◆", finding.Note: "●"}
	classes = map[finding.Level]string{finding.Error: "e", finding.Warning: "w", finding.Note: "n"}
)

// place is where something is written; "" where that is not known. A file's name may hold anything, too.
func place(s source.Span) string {
	if !s.Known() {
		return ""
	}
	return words.Clean(s.String())
}

// Amounts stand in every table and chart, so they have short names here.
var mass, energy, hours, atLeast = words.Mass, words.Energy, words.Minutes, words.AtLeast

func date(day int64) string { return unit.Date(day).String() }

// share writes permille as a percentage.
func share(p int64) string { return words.Percent(p, 1000) }

// onPaper is a name as people read it, without what nobody would see.
func onPaper(name string) string { return words.OnPaper(words.Clean(name)) }
