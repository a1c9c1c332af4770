package lint

// What tests of other packages look at.
const (
	MostPacked, MostSheet, MostName, MostRows = mostPacked, mostSheet, mostName, mostRows
)

var Cut = cut
