package unit

import "math/big"

// MulInt multiplies a quantity by n. It is false, with zero, where the product
// does not fit.
func MulInt[T ~int64](v T, n int64) (T, bool) {
	if v == 0 || n == 0 {
		return 0, true
	}
	p := v * T(n)
	// The lowest integer times -1 is itself again, so the division alone
	// would not show it.
	if (p < 0) != ((v < 0) != (n < 0)) || int64(p)/n != int64(v) {
		return 0, false
	}
	return p, true
}

// Milligrams returns the mass in milligrams, rounded half away from zero.
func (m Mass) Milligrams() int64 { return roundDiv(int64(m), 1000) }

// Millilitres returns the volume in millilitres, rounded half away from zero.
func (v Volume) Millilitres() int64 { return roundDiv(int64(v), 1000) }

// WholeMillilitres returns the volume in millilitres, rounded down: what is there never counts as more than it is, and reaches a
// limit in whole millilitres only where it truly does.
func (v Volume) WholeMillilitres() int64 {
	n := int64(v) / 1000
	if int64(v)%1000 < 0 {
		n--
	}
	return n
}

// Millimetres returns the length in millimetres, rounded half away from zero.
func (l Length) Millimetres() int64 { return roundDiv(int64(l), 1000) }

// Minutes returns the duration in minutes, rounded half away from zero.
func (d Duration) Minutes() int64 { return roundDiv(int64(d), 60) }

// Permille returns the share in thousandths, rounded half away from zero.
func (s Share) Permille() int64 { return roundDiv(int64(s), 1000) }

// roundDiv divides by an even, positive d and rounds half away from zero.
func roundDiv(v, d int64) int64 {
	q, r := v/d, v%d
	switch {
	case r >= d/2:
		q++
	case r <= -d/2:
		q--
	}
	return q
}

// round rounds half away from zero. It is false where the result does not fit.
func round(r *big.Rat) (int64, bool) {
	n := new(big.Int).Abs(r.Num())
	n.Lsh(n, 1).Add(n, r.Denom())
	n.Quo(n, new(big.Int).Lsh(r.Denom(), 1))
	if r.Sign() < 0 {
		n.Neg(n)
	}
	return n.Int64(), n.IsInt64()
}

// PermilleUp is a part of a whole in thousandths, rounded up: a part that exceeds a limit in thousandths never reads as equal
// to it, and one that does not never reads as exceeding it. Neither may be negative; a whole of nothing counts as one.
func PermilleUp(part, whole int64) int64 {
	whole = max(1, whole)
	// The whole times and the rest apart, so that the products stay within 64 bits.
	return part/whole*1000 + (part%whole*1000+whole-1)/whole
}
