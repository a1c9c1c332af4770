package table

import (
	"archive/zip"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"time"
)

// Guard makes a text safe for a spreadsheet, where = + - @ begin a formula: an apostrophe leads it. Unguard takes that off again.
func Guard(s string) string {
	if signed(s) {
		return "'" + s
	}
	return s
}

// Unguard is the way back of Guard.
func Unguard(s string) string {
	if rest, ok := strings.CutPrefix(s, "'"); ok && signed(rest) {
		return rest
	}
	return s
}

func signed(s string) bool {
	return strings.IndexAny(strings.TrimLeft(s, "' \t"), "=+-@＝＋－＠") == 0
}

// Out is a cell to write. Formula goes before Text where the form has formulas; Text is its value then.
type Out struct {
	Text    string
	Number  bool
	Formula string
}

// WriteCSV writes rows as RFC 4180 has it. With a mark, spreadsheet programs know that it is UTF-8.
func WriteCSV(w io.Writer, rows [][]Out, mark bool) error {
	if mark {
		if _, err := io.WriteString(w, "\ufeff"); err != nil {
			return err
		}
	}
	c := csv.NewWriter(w)
	c.UseCRLF = true
	for _, r := range rows {
		line := make([]string, len(r))
		for i, x := range r {
			if line[i] = x.Text; !x.Number {
				line[i] = Guard(x.Text)
			}
		}
		if err := c.Write(line); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// WriteXLSX writes rows as a workbook of one sheet: the first row stays in sight and has filters, the columns have the given widths in
// characters. No clock is in it, so the same rows are the same bytes. The parts are those that ISO/IEC 29500-1 asks for.
func WriteXLSX(w io.Writer, sheet string, rows [][]Out, widths []int) error {
	var b strings.Builder
	b.WriteString(`<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>`)
	for i, n := range widths {
		fmt.Fprintf(&b, `<col min="%d" max="%d" width="%d" customWidth="1"/>`, i+1, i+1, n)
	}
	b.WriteString(`</cols><sheetData>`)
	last := 0
	for i, r := range rows {
		fmt.Fprintf(&b, `<row r="%d">`, i+1)
		for k, c := range r {
			at := fmt.Sprintf("%s%d", Letters(k), i+1)
			style := ""
			if i == 0 {
				style = ` s="1"`
			}
			switch {
			case c.Formula != "":
				fmt.Fprintf(&b, `<c r="%s"><f>%s</f><v>%s</v></c>`, at, escaped(c.Formula), escaped(c.Text))
			case c.Text == "":
			case c.Number:
				fmt.Fprintf(&b, `<c r="%s"><v>%s</v></c>`, at, escaped(c.Text))
			default: // a text is a text here, and no formula whatever it begins with
				fmt.Fprintf(&b, `<c r="%s"%s t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, at, style, escaped(c.Text))
			}
			last = max(last, k)
		}
		b.WriteString(`</row>`)
	}
	fmt.Fprintf(&b, `</sheetData><autoFilter ref="A1:%s%d"/></worksheet>`, Letters(last), len(rows))
	z := zip.NewWriter(w)
	const head = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	for _, p := range [][2]string{
		{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>`},
		{"_rels/.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="` + escaped(sheet) + `" sheetId="1" r:id="rId1"/></sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>`},
		{"xl/styles.xml", `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="2"><xf fontId="0"/><xf fontId="1" applyFont="1"/></cellXfs></styleSheet>`},
		{"xl/worksheets/sheet1.xml", b.String()},
	} {
		part, err := z.CreateHeader(&zip.FileHeader{Name: p[0], Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
		if err == nil {
			_, err = io.WriteString(part, head+p[1])
		}
		if err != nil {
			return err
		}
	}
	return z.Close()
}

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a builder takes everything
	return b.String()
}
