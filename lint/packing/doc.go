// Package packing makes the packing list of a household: packs from the outside in, what to do at the last minute, and cards.
//
// A packing list is a model (PackingList) before it is a page: make.go, cards.go and dates.go, which says how long things are good, make
// it, in the order of outsideIn and of places. Packages report and page only write it, and clean every text as they do: a field that is
// added is filled with hostile text by TestListHTMLIsNoWay in package page. Cautions stand in cards.go and only ever advise.
package packing
