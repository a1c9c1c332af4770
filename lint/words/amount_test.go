package words_test

import (
	"testing"

	"kitmuster/lint/words"
)

func TestAmountsThatAreNotRecorded(t *testing.T) {
	for got, want := range map[string]string{
		words.AtLeast(true, words.Mass(0)):   "not recorded",
		words.AtLeast(true, words.Volume(0)): "not recorded",
		words.AtLeast(true, words.Mass(1)):   "at least 1 mg",
		words.AtLeast(true, "0.5 L"):         "at least 0.5 L",
		words.AtLeast(false, words.Mass(0)):  "0 g",
		words.BodyMass(false, 12_499_999):    "12 kg assumed",
		words.BodyMass(false, 12_500_000):    "13 kg assumed",
		words.BodyMass(true, 12_500_000):     "12.50 kg",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
