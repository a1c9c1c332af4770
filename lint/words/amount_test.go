package words_test

import (
	"testing"

	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

func TestAmountsThatAreNotRecorded(t *testing.T) {
	for got, want := range map[string]string{
		words.AtLeast(true, words.Mass(0)):                   "not recorded",
		words.AtLeast(true, words.Volume(0)):                 "not recorded",
		words.AtLeast(true, words.Mass(1)):                   "at least 1 mg",
		words.AtLeast(true, "0.5 L"):                         "at least 0.5 L",
		words.AtLeast(false, words.Mass(0)):                  "0 g",
		words.Where(true, words.Mass(0), "worn or pocketed"): "no mass is recorded of what is worn or pocketed",
		words.Where(true, "1.2 kg", "in 2 packs"):            "at least 1.2 kg in 2 packs",
		words.BodyMass(false, 12_499_999):                    "12 kg assumed",
		words.BodyMass(false, 12_500_000):                    "13 kg assumed",
		words.BodyMass(true, 12_500_000):                     "12.50 kg",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestAmountsInUnits(t *testing.T) {
	us, metric := words.Amounts{Units: unit.US}, words.Amounts{}
	for got, want := range map[string]string{
		us.Mass(14_270_000):               "31.5 lb (14.27 kg)",
		us.Brief(1_360_777):               "3 lb",
		metric.Brief(1_360_777):           "1.36 kg",
		us.Volume(4000):                   "1.06 gal (4 L)",
		us.BodyMass(true, 68_000_000):     "149.9 lb (68.00 kg)",
		us.BodyMass(false, 68_038_855):    "150 lb (68 kg) assumed",
		us.BodyMass(false, 68_265_651):    "150 lb (68 kg) assumed",
		us.BodyMass(false, 68_265_652):    "151 lb (68 kg) assumed",
		us.Load(true, 14_270_000):         "at least 31.5 lb (14.27 kg)",
		metric.Load(false, 14_270_000):    "14.27 kg",
		metric.BodyMass(true, 12_500_000): "12.50 kg",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
