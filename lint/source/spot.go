package source

import "strings"

// A spot names one thing of a household for good: the keys on the way to it,
// joined by slashes, such as packs/rust/compartments/lid/items/lamp/mass. It
// holds no line and no number, so it survives reformatting. Keys that hold a
// slash or a tilde are escaped as in JSON Pointer (RFC 6901, section 3).
var (
	escape   = strings.NewReplacer("~", "~0", "/", "~1")
	unescape = strings.NewReplacer("~1", "/", "~0", "~")
)

// Spot joins keys to a spot.
func Spot(keys ...string) string {
	out := make([]string, len(keys))
	for i, k := range keys {
		out[i] = escape.Replace(k)
	}
	return strings.Join(out, "/")
}

// Keys splits a spot; the empty spot, the household itself, has none.
func Keys(spot string) []string {
	if spot == "" {
		return nil
	}
	keys := strings.Split(spot, "/")
	for i, k := range keys {
		keys[i] = unescape.Replace(k)
	}
	return keys
}
