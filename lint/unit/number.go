package unit

import (
	"math/big"
	"strings"
	"unicode/utf8"
)

// maxDigits is how many significant digits a number may have. No scale shows
// half as many; the bound keeps the arithmetic small.
const maxDigits = 24

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func digitAt(s string, at int) bool { return at < len(s) && isDigit(s[at]) }

func digitsEnd(s string, at int) int {
	for digitAt(s, at) {
		at++
	}
	return at
}

// vulgar returns the value of a one-character fraction.
func vulgar(r rune) *big.Rat {
	switch r {
	case '¼':
		return big.NewRat(1, 4)
	case '½':
		return big.NewRat(1, 2)
	case '¾':
		return big.NewRat(3, 4)
	case '⅐':
		return big.NewRat(1, 7)
	case '⅑':
		return big.NewRat(1, 9)
	case '⅒':
		return big.NewRat(1, 10)
	case '⅓':
		return big.NewRat(1, 3)
	case '⅔':
		return big.NewRat(2, 3)
	case '⅕':
		return big.NewRat(1, 5)
	case '⅖':
		return big.NewRat(2, 5)
	case '⅗':
		return big.NewRat(3, 5)
	case '⅘':
		return big.NewRat(4, 5)
	case '⅙':
		return big.NewRat(1, 6)
	case '⅚':
		return big.NewRat(5, 6)
	case '⅛':
		return big.NewRat(1, 8)
	case '⅜':
		return big.NewRat(3, 8)
	case '⅝':
		return big.NewRat(5, 8)
	case '⅞':
		return big.NewRat(7, 8)
	}
	return nil
}

// slashAt returns the width of a fraction slash before a digit, or 0.
func slashAt(s string, at int) int {
	r, w := utf8.DecodeRuneInString(s[at:])
	if (r == '/' || r == '\u2044') && digitAt(s, at+w) {
		return w
	}
	return 0
}

// estimates are the marks of a number that is not meant exactly.
var estimates = []string{
	"~", "≈", "∼", "±", "<", ">", "≤", "≥",
	"ca.", "ca ", "circa", "c.", "about", "approx.", "approximately", "approx", "around", "roughly",
}

// number reads the number at s[at:], which is not empty. It returns the value
// and the offset after it.
func (d *dimension) number(s string, at int) (*big.Rat, int, *Error) {
	start := at
	for _, e := range estimates {
		if len(s)-at >= len(e) && strings.EqualFold(s[at:at+len(e)], e) {
			to := back(s, at, at+len(e))
			return nil, 0, failf(at, to, "%s before a number: write the number alone, %s%s", quote(s[at:to]), offer(s[skip(s, to):back(s, skip(s, to), len(s))]), d.guess())
		}
	}
	r, w := utf8.DecodeRuneInString(s[at:])
	negative := false
	switch r {
	case '+':
		return nil, 0, failf(at, at+w, "a plus sign before the number: write the number without it")
	case '-', '\u2212':
		negative = true
		at = skip(s, at+w)
	case '–', '—':
		return nil, 0, failf(at, at+w, "a dash before the number: for a minus sign write -")
	}
	if err := notNumber(s, at); err != nil {
		return nil, 0, err
	}
	var v *big.Rat
	end := digitsEnd(s, at)
	fraction := false
	switch c, cw := utf8.DecodeRuneInString(s[at:]); {
	case end > at:
		if end < len(s) && s[end] == '.' {
			if end++; !digitAt(s, end) {
				return nil, 0, failf(end-1, end, "no digit after the decimal point in %s: write %s", quote(s[start:end]), offer(s[start:end-1]))
			}
			end = digitsEnd(s, end)
			fraction = true
		}
		if err := d.badTail(s, start, end); err != nil {
			return nil, 0, err
		}
		v = rat(s[at:end])
	case vulgar(c) != nil:
		v, fraction = vulgar(c), true
		end = at + cw
	case (c == '.' || c == ',') && digitAt(s, at+1):
		to := digitsEnd(s, at+1)
		return nil, 0, failf(at, to, "no digit before the decimal point in %s: write %s", quote(s[at:to]), offer("0."+s[at+1:to]))
	default:
		return nil, 0, d.noNumber(s, start)
	}
	if !fraction {
		var err *Error
		if v, end, err = d.fraction(s, start, at, end, v); err != nil {
			return nil, 0, err
		}
	}
	if c, cw := utf8.DecodeRuneInString(s[end:]); digitAt(s, end) || vulgar(c) != nil ||
		(c == '.' || c == ',') && digitAt(s, end+1) || slashAt(s, end) > 0 {
		return nil, 0, failf(start, end+cw, "%s is not one number: write it with a decimal point, such as %s",
			quote(s[start:end+cw]), quote("1.5"))
	}
	if digits := significant(s[at:end]); digits > maxDigits {
		return nil, 0, failf(at, end, "%d digits are more than the %d that are read: round the number", digits, maxDigits)
	}
	if negative {
		if !d.signed {
			return nil, 0, failf(start, end, "%s is negative, and %s cannot be: write it without the minus sign, %s", quote(s[start:back(s, start, len(s))]), d.noun, offer(s[at:back(s, at, len(s))]))
		}
		v.Neg(v)
	}
	return v, end, nil
}

// notNumber refuses the words that other programs write for no number.
func notNumber(s string, at int) *Error {
	for _, n := range []string{"nan", "infinity", "inf", "∞"} {
		to := at + len(n)
		if to <= len(s) && strings.EqualFold(s[at:to], n) {
			return failf(at, to, "%s is not a number that can be measured: write the number in digits, or leave the field out", quote(s[at:to]))
		}
	}
	return nil
}

func (d *dimension) noNumber(s string, at int) *Error {
	to := at
	for to < len(s) && !digitAt(s, to) {
		_, w := utf8.DecodeRuneInString(s[to:])
		to += w
	}
	to = back(s, at, to)
	return failf(at, to, "no number before %s: begin with digits, such as %s", quote(s[at:to]), d.exampleText())
}

// badTail refuses what people write inside a number that has more than one
// reading: separators, powers of ten, clock times. The digits are s[at:end].
func (d *dimension) badTail(s string, at, end int) *Error {
	r, w := utf8.DecodeRuneInString(s[end:])
	if r == 'e' || r == 'E' {
		next := end + w
		if next < len(s) && (s[next] == '+' || s[next] == '-') {
			next++
		}
		if !digitAt(s, next) {
			return nil
		}
		to := digitsEnd(s, next)
		return failf(at, to, "a power of ten in %s: write the number out in digits", quote(s[at:to]))
	}
	next := d.afterSeparator(s, end)
	if next == 0 {
		return nil
	}
	to := digitsEnd(s, next)
	if isSpace(r) {
		if slashAt(s, to) > 0 {
			return nil // the fraction of a mixed number
		}
		if to-next != 3 {
			return failf(at, to, "two numbers without a unit between them in %s: write a unit after each", quote(s[at:to]))
		}
	}
	for more := d.afterSeparator(s, to); more > 0; more = d.afterSeparator(s, to) {
		to = digitsEnd(s, more)
	}
	token, rest := s[at:to], s[to:]
	joined := offer(onlyDigits(token) + rest)
	switch r {
	case ':':
		return failf(end, end+w, "a colon in %s: write the units, such as %s or %s", quote(token), quote("1 h 30 min"), quote("12 min 30 s"))
	case '.':
		return failf(end, end+w, "two decimal points in %s: write one, and no separators of thousands", quote(token))
	case ',':
		whole, decimals, _ := strings.Cut(token, ",")
		if whole+decimals != onlyDigits(token) {
			return failf(end, end+w, "a comma in %s: write the number without separators of thousands, and with a decimal point", quote(token))
		}
		decimal := offer(whole + "." + decimals + rest)
		if len(decimals) == 3 && len(whole) <= 3 && whole[0] != '0' {
			return failf(end, end+w, "a comma in %s: write %s where it parts the thousands, %s where it is a decimal comma", quote(token), joined, decimal)
		}
		return failf(end, end+w, "a comma in %s: write a decimal point, %s", quote(token), decimal)
	default:
		return failf(end, next, "a separator in %s: write the number without it, %s", quote(token), joined)
	}
}

// afterSeparator returns the offset of the digit after a separator at s[at:],
// or 0 where there is none.
func (d *dimension) afterSeparator(s string, at int) int {
	r, w := utf8.DecodeRuneInString(s[at:])
	next := at + w
	switch {
	case isSpace(r):
		next = skip(s, at)
	case strings.ContainsRune(".,:_", r):
	case (r == '\'' || r == '’') && d != lengthDim: // feet in a length
	default:
		return 0
	}
	if !digitAt(s, next) {
		return 0
	}
	return next
}

func onlyDigits(s string) string {
	return strings.Map(func(r rune) rune {
		if '0' <= r && r <= '9' {
			return r
		}
		return -1
	}, s)
}

// fraction reads what makes the whole number v = s[at:end] a fraction: "/2",
// "½", " 1/2" or " ½".
func (d *dimension) fraction(s string, start, at, end int, v *big.Rat) (*big.Rat, int, *Error) {
	divide := func(num *big.Rat, slash, w int) (*big.Rat, int, *Error) {
		to := digitsEnd(s, slash+w)
		den := rat(s[slash+w : to])
		if den.Sign() == 0 {
			return nil, 0, failf(start, to, "%s divides by zero", quote(s[start:to]))
		}
		return new(big.Rat).Quo(num, den), to, nil
	}
	if w := slashAt(s, end); w > 0 {
		return divide(v, end, w)
	}
	next := skip(s, end)
	if r, w := utf8.DecodeRuneInString(s[next:]); vulgar(r) != nil {
		return v.Add(v, vulgar(r)), next + w, nil
	}
	if next == end || !digitAt(s, next) {
		return v, end, nil
	}
	slash := digitsEnd(s, next)
	part, to, err := divide(rat(s[next:slash]), slash, slashAt(s, slash))
	if err != nil {
		return nil, 0, err
	}
	if part.Cmp(big.NewRat(1, 1)) >= 0 {
		return nil, 0, failf(next, to, "%s after a whole number is one or more: write a fraction below one, such as %s", quote(s[next:to]), quote("1 1/2"))
	}
	return v.Add(v, part), to, nil
}

// significant counts the digits of a number from the first that is not zero.
func significant(s string) int {
	return len(strings.TrimLeft(onlyDigits(s), "0"))
}
