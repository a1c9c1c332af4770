// Package facts is the contract between measuring and judging: what is true of a kit, in numbers, in the shape that rules read, and the
// ledger that leads each number back to what it was made of and to the words that the family wrote.
package facts

// NoEnd stands, in millilitres, for an amount of water that has no end that
// anyone stated: a million litres.
const NoEnd = 1_000_000_000
