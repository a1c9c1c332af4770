package intake

import (
	"cmp"
	"maps"
	"slices"
)

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

func sortedInts(m map[int]*Column) []int { return slices.Sorted(maps.Keys(m)) }
