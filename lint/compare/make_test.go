package compare

import (
	"testing"

	"github.com/fxamacker/cbor/v2"

	"kitmuster/lint/kinds"
)

// Figures that no output could show are not believed.
func TestBelieve(t *testing.T) {
	for _, c := range []struct {
		figure Figure
		is     bool
	}{
		{Figure{Group: "mass", ID: "mass/x", Unit: kinds.FigureMass, Value: 1}, true},
		{Figure{Group: "capabilities", ID: "capabilities/x", Value: 1}, true},
		{Figure{Group: "dates", Unit: kinds.FigureDay, Value: 20_758}, true},
		{Figure{Group: "dates", Unit: kinds.FigureDay, Value: 84_371}, false},
		{Figure{Group: "dates", Unit: kinds.FigureDay, Value: -25_568}, false},
		{Figure{Group: "x", Unit: kinds.FigureMass}, false},
		{Figure{Group: "mass", Unit: kinds.FigureMass, Value: 1 << 60}, false},
	} {
		b, err := cbor.Marshal(&state{[]Figure{c.figure}})
		if err != nil {
			t.Fatal(err)
		}
		if err := believe(b); (err == nil) != c.is {
			t.Errorf("%+v: %v", c.figure, err)
		}
	}
	if believe([]byte{0xff}) == nil {
		t.Error("bytes that are none are believed")
	}
}
