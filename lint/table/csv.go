package table

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/unicode"
)

// fromCSV reads lines of cells.
func fromCSV(b []byte) (*Book, error) {
	text, encoding, err := decode(b)
	if err != nil {
		return nil, err
	}
	between := rune(0)
	if head, rest, ok := strings.Cut(text, "\n"); ok { // a line that some programs write for others
		if head = strings.TrimRight(head, "\r"); len(head) == 5 && strings.HasPrefix(strings.ToLower(head), "sep=") {
			between, text = rune(head[4]), "\n"+rest
		}
	}
	if between == 0 {
		between = delimiter(text)
	}
	s := Sheet{}
	if err := lines(text, between, &s, &bounds{}); err != nil {
		return nil, err
	}
	shown := map[rune]string{'\t': "tabs"}[between]
	if shown == "" {
		shown = fmt.Sprintf("%q", string(between))
	}
	return &Book{Kind: fmt.Sprintf("CSV with %s between cells, %s", shown, encoding), Sheets: []Sheet{s}}, nil
}

// decode makes text of bytes: a byte-order mark says which encoding it is, then valid UTF-8, then zero bytes in every second place; what is
// left is Windows-1252, or Shift_JIS where that reads as Japanese.
func decode(b []byte) (text, encoding string, err error) {
	wide := func(e unicode.Endianness, name string) (string, string, error) {
		out, err := unicode.UTF16(e, unicode.UseBOM).NewDecoder().Bytes(b)
		if err != nil || len(b)%2 != 0 {
			return "", "", fmt.Errorf("it begins as %s and cannot be read as that", name)
		}
		return string(out), name, nil
	}
	switch {
	case bytes.HasPrefix(b, []byte("\xef\xbb\xbf")):
		b = b[3:]
		if !utf8.Valid(b) {
			return "", "", errors.New("it begins as UTF-8 and cannot be read as that")
		}
	case bytes.HasPrefix(b, []byte("\xff\xfe")):
		return wide(unicode.LittleEndian, "UTF-16")
	case bytes.HasPrefix(b, []byte("\xfe\xff")):
		return wide(unicode.BigEndian, "UTF-16")
	}
	even, odd := 0, 0
	for i, c := range b {
		if c == 0 && i%2 == 0 {
			even++
		} else if c == 0 {
			odd++
		}
	}
	switch {
	case odd > len(b)/4 && even == 0:
		b = append([]byte("\xff\xfe"), b...)
		return wide(unicode.LittleEndian, "UTF-16 without a mark")
	case even > len(b)/4 && odd == 0:
		b = append([]byte("\xfe\xff"), b...)
		return wide(unicode.BigEndian, "UTF-16 without a mark")
	case even+odd > 0:
		return "", "", errors.New("it holds zero bytes, so it is no text; save the table as .csv or .xlsx")
	case utf8.Valid(b):
		return string(b), "UTF-8", nil
	}
	if out, err := japanese.ShiftJIS.NewDecoder().Bytes(b); err == nil && kana(string(out)) {
		return string(out), "Shift_JIS (guessed)", nil
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(b)
	return string(out), "Windows-1252 (guessed)", err
}

// kana reports whether a text that was read as Shift_JIS is Japanese: it has kana, and half of what is not ASCII is kana or ideographs
// in full width. Read so, German or French gives single half-width kana among letters.
func kana(text string) bool {
	full, full2, other := 0, 0, 0
	for _, r := range text {
		switch {
		case 'ぁ' <= r && r <= 'ヿ':
			full++
		case '一' <= r && r <= '鿿', '　' <= r && r <= '〿', '！' <= r && r <= '～':
			full2++
		case r >= utf8.RuneSelf:
			other++
		}
	}
	return full > 0 && full+full2 > other
}

// delimiter is what stands between the cells: of those that people use the one that most lines have the same number of, more than none.
func delimiter(text string) rune {
	best, most := ',', 0
	for _, d := range []rune{',', ';', '\t', '|'} {
		var s Sheet
		part := text
		if len(part) > 64<<10 {
			part = part[:strings.LastIndexAny(part[:64<<10], "\n\r")+1]
		}
		if lines(part, d, &s, &bounds{}) != nil {
			continue
		}
		widths, rows := map[int]int{}, 0
		for _, r := range s.Rows {
			if len(r) > 1 {
				widths[len(r)]++
				rows++
			}
		}
		usual := 0
		for w, n := range widths {
			usual = max(usual, n*min(w, 4))
		}
		// a decimal comma splits cells that a semicolon divides, into rows of many widths
		if score := usual*4 + rows; score > most {
			best, most = d, score
		}
	}
	return best
}

// lines divides a text into cells: as RFC 4180 says, with any end of lines, and a quote inside a cell that does not begin with one is a
// quote. Rows are counted as lines of the file, so that a cell is where an editor shows it.
func lines(text string, between rune, s *Sheet, n *bounds) error {
	row, start, column := 0, 0, 0 // start is the line where the row begins
	for i := 0; i < len(text); {
		var cell string
		blank := i
		for blank < len(text) && text[blank] == ' ' {
			blank++
		}
		if blank < len(text) && text[blank] == '"' {
			var b strings.Builder
			j := blank + 1
			for {
				k := strings.IndexByte(text[j:], '"')
				if k < 0 {
					return fmt.Errorf("%s begins with a quote that is never closed", s.At(start, column))
				}
				b.WriteString(text[j : j+k])
				row += strings.Count(text[j:j+k], "\n")
				if j += k + 1; j < len(text) && text[j] == '"' {
					b.WriteByte('"')
					j++
					continue
				}
				break
			}
			end := next(text, j, between)
			b.WriteString(strings.TrimRight(text[j:end], " ")) // what stands behind the closing quote is kept
			cell, i = b.String(), end
		} else {
			end := next(text, i, between)
			cell, i = text[i:end], end
		}
		if cell = strings.TrimSpace(cell); cell != "" {
			if err := n.put(s, start, column, Cell{Text: cell}); err != nil {
				return err
			}
		}
		column++
		if i >= len(text) {
			break
		}
		switch r, size := utf8.DecodeRuneInString(text[i:]); {
		case r == between:
			i += size
			if column >= mostColumns*2 { // a line of nothing but delimiters
				return fmt.Errorf("line %d has more than %d columns", row+1, mostColumns)
			}
		default:
			if strings.HasPrefix(text[i:], "\r\n") {
				i++
			}
			i++
			row++
			start, column = row, 0
			if row > mostRows*2 {
				return fmt.Errorf("it has more than %d lines", mostRows)
			}
		}
	}
	return nil
}

// next is where a cell ends.
func next(text string, from int, between rune) int {
	if k := strings.IndexFunc(text[from:], func(r rune) bool { return r == between || r == '\n' || r == '\r' }); k >= 0 {
		return from + k
	}
	return len(text)
}
