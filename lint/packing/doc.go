// Package packing makes the packing list of a household: packs from the outside in, what to do at the last minute, and cards.
package packing
