// Package body answers what a body spends, drinks and loses: published formulas,
// each with its source, as functions of numbers that keep no state.
//
// All are averages of healthy adults. They rank and warn; they promise nothing,
// and least of all for a child, an old or an unwell person. Heat and water can
// hurt: a doctor's word and the local authority's come before any figure here.
//
// Units are those of the SI, with temperatures in °C, grades in percent, shares
// as fractions of one and sodium in milligrams; what takes °F or miles an hour
// says so. Arguments are finite and of a size that a household may write (see
// the bounds of package unit). No function then answers NaN or an infinity; what
// lies outside a formula's range is clamped or carried on, as each says. The last
// bits may differ from machine to machine, so round before comparing.
//
// How a source is known: "own page" is a copy of the issuing body's own page,
// "second-hand" a page of someone else that states it, "from memory" was not seen.
package body
