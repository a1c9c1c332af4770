package table

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"
)

// text is a sheet in lines, cells divided by bars.
func text(b *Book) string {
	var out []string
	for i := range b.Sheets {
		s := &b.Sheets[i]
		if s.Name != "" {
			out = append(out, "["+s.Name+"]")
		}
		for _, r := range s.Rows {
			var cells []string
			for _, c := range r {
				t := c.Text
				if c.NoValue {
					t += "!"
				}
				cells = append(cells, t)
			}
			out = append(out, strings.Join(cells, "|"))
		}
	}
	return strings.Join(out, "\n")
}

func wide(order binary.ByteOrder, mark bool, s string) []byte {
	if mark {
		s = "\ufeff" + s
	}
	var b []byte
	for _, u := range utf16.Encode([]rune(s)) {
		two := make([]byte, 2)
		order.PutUint16(two, u)
		b = append(b, two...)
	}
	return b
}

func TestCSV(t *testing.T) {
	for _, c := range []struct{ name, in, kind, want string }{
		{"comma", "name,g\nlamp,86\n", `"," between cells, UTF-8`, "name|g\nlamp|86"},
		{"semicolon with decimal commas", "Name;Gewicht\nLampe;86,5\nSeil;1,2\n", `";" between cells`, "Name|Gewicht\nLampe|86,5\nSeil|1,2"},
		{"tabs", "name\tg\nlamp\t86\n", "tabs between cells", "name|g\nlamp|86"},
		{"bars", "name|g\nlamp|86\n", `"|" between cells`, "name|g\nlamp|86"},
		{"quotes, a line end and a delimiter in a cell", "name,g\n\"big, red\nlamp\",86\nrope,3\n", "", "name|g\nbig, red\nlamp|86\n\nrope|3"},
		{"doubled quotes", "name,g\n\"3\"\" nail\",4\n", "", "name|g\n3\" nail|4"},
		{"a quote inside", "name,g\n3\" nail,4\n", "", "name|g\n3\" nail|4"},
		{"text behind a quote", "name,g\n\"a\" b,4\n", "", "name|g\na b|4"},
		{"Windows line ends and a mark", "\ufeffname,g\r\nlamp,86\r\n", "UTF-8", "name|g\nlamp|86"},
		{"old line ends", "name,g\rlamp,86\r", "", "name|g\nlamp|86"},
		{"sep", "sep=;\nname;g\nlamp;8,6\n", `";"`, "\nname|g\nlamp|8,6"},
		{"no last line end, blanks", " name , g\nlamp, 86", "", "name|g\nlamp|86"},
		{"UTF-16", string(wide(binary.LittleEndian, true, "name\tg\nSäge\t86\n")), "UTF-16", "name|g\nSäge|86"},
		{"UTF-16, big end first", string(wide(binary.BigEndian, true, "name\tg\n水\t86\n")), "UTF-16", "name|g\n水|86"},
		{"UTF-16 without a mark", string(wide(binary.LittleEndian, false, "name,g\nlamp,86\n")), "without a mark", "name|g\nlamp|86"},
		{"Windows-1252", "name;g\nS\xe4ge;86\n", "Windows-1252 (guessed)", "name|g\nSäge|86"},
		{"Shift_JIS", "\x95i\x96\xbc,g\n\x83\x89\x83C\x83g,86\n", "Shift_JIS (guessed)", "品名|g\nライト|86"},
	} {
		b, err := Read("kit.csv", []byte(c.in))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := text(b); got != c.want || !strings.Contains(b.Kind, c.kind) {
			t.Errorf("%s: %s\n%s", c.name, b.Kind, got)
		}
	}
}

func TestJSONAndYAML(t *testing.T) {
	for name, in := range map[string]string{
		"kit.json": `{"owner": "x", "blue": [{"name": "lamp", "mass": 86, "tags": ["a", "b"]}, "rope"], "red": {"lid": [{"name": "whistle", "by": {"x": 1}}]}}`,
		"kit.yaml": "owner: x\nblue:\n  - {name: lamp, mass: 86, tags: [a, b]}\n  - rope\nred: {lid: [{name: whistle, by: {x: 1}}]}\n",
	} {
		b, err := Read(name, []byte(in))
		if err != nil {
			t.Fatal(name, err)
		}
		want := "[blue]\nname|mass|tags\nlamp|86|a, b\nrope\n[red, lid]\nname|by\nwhistle|x: 1"
		if got := text(b); got != want {
			t.Errorf("%s:\n%s", name, got)
		}
	}
}

// packed makes a workbook of parts: name, body, name, body.
func packed(t *testing.T, parts ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.Create(parts[i])
		if err == nil {
			_, err = w.Write([]byte(parts[i+1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const main = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`

// xlsx is a workbook with one sheet; more are further parts.
func xlsx(t *testing.T, sheet string, more ...string) []byte {
	return packed(t, append([]string{
		"xl/workbook.xml", `<workbook ` + main + ` xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><workbookPr/><sheets><sheet name="Blue" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels", `<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml", `<worksheet ` + main + `>` + sheet + `</worksheet>`,
	}, more...)...)
}

func row(n int, cells string) string {
	return fmt.Sprintf(`<row r="%d">%s</row>`, n, cells)
}

func TestXLSX(t *testing.T) {
	sheet := `<sheetData>` +
		row(1, `<c r="A1" t="s"><v>0</v></c><c r="B1" t="inlineStr"><is><t>g</t></is></c><c r="C1" t="str"><v>best before</v></c>`) +
		row(2, `<c r="A2" t="s"><v>1</v></c><c r="B2"><v>0.30000000000000004</v></c><c r="C2" s="1"><v>46447</v></c>`) +
		row(4, `<c r="B4"><f>SUM(B2:B3)</f><v>12.5</v></c><c r="C4"><f>B2*2</f></c><c r="D4" t="b"><v>1</v></c><c r="E4" t="e"><v>#REF!</v></c>`) +
		`</sheetData><mergeCells><mergeCell ref="A2:A4"/></mergeCells>`
	more := []string{
		"xl/sharedStrings.xml", `<sst ` + main + `><si><t>name</t></si><si><r><t>head</t></r><r><t>lamp</t></r><rPh><t>no</t></rPh></si></sst>`,
		"xl/styles.xml", `<styleSheet ` + main + `><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>`,
	}
	b, err := Read("kit.xlsx", xlsx(t, sheet, more...))
	if err != nil {
		t.Fatal(err)
	}
	want := "[Blue]\nname|g|best before\nheadlamp|0.3|2027-03-01\n\nheadlamp|12.5|!|true|#REF!"
	if got := text(b); got != want {
		t.Errorf("%s", got)
	}
}

const office = `<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet><table:table table:name="Blau">`

func ods(t *testing.T, rows string, more ...string) []byte {
	return packed(t, append([]string{"mimetype", "application/vnd.oasis.opendocument.spreadsheet", "content.xml", office + rows + `</table:table></office:spreadsheet></office:body></office:document-content>`}, more...)...)
}

func TestODS(t *testing.T) {
	rows := `<table:table-row><table:table-cell office:value-type="string"><text:p>Name</text:p></table:table-cell><table:table-cell><text:p>g</text:p></table:table-cell><table:table-cell table:number-columns-repeated="16382"/></table:table-row>` +
		`<table:table-row table:number-rows-repeated="2"><table:table-cell table:number-rows-spanned="2"><text:p>Stirn<text:s/>lampe</text:p><text:p>rot</text:p></table:table-cell><table:table-cell office:value-type="float" office:value="86.5"><text:p>86,5</text:p></table:table-cell><table:table-cell office:value-type="date" office:value="2027-03-01T00:00:00"><text:p>1.3.27</text:p></table:table-cell><table:table-cell table:formula="of:=A1"/></table:table-row>` +
		`<table:table-row table:number-rows-repeated="1048573"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>`
	b, err := Read("kit.ods", ods(t, rows))
	if err != nil {
		t.Fatal(err)
	}
	one := "Stirn lampe\nrot|86.5|2027-03-01|!"
	if got := text(b); got != "[Blau]\nName|g\n"+one+"\n"+one {
		t.Errorf("%s", got)
	}
}

// Files that are damaged, locked, or made to cost much: each is refused with its reason, and none takes memory or time.
func TestHostile(t *testing.T) {
	sound := xlsx(t, `<sheetData>`+row(1, `<c r="A1"><v>12.25</v></c>`)+`</sheetData>`)
	stored := func() []byte { // the part is not compressed, so that a byte of it can be changed
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for _, p := range [][2]string{{"xl/workbook.xml", "<workbook/>"}, {"xl/_rels/workbook.xml.rels", "<a>12.25</a>"}} {
			w, err := z.CreateHeader(&zip.FileHeader{Name: p[0], Method: zip.Store})
			if err != nil {
				t.Fatal(err)
			}
			if _, err := w.Write([]byte(p[1])); err != nil {
				t.Fatal(err)
			}
		}
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		return bytes.Replace(b.Bytes(), []byte("12.25"), []byte("92.25"), 1)
	}
	many := func(n int, one string) string { return strings.Repeat(one, n) }
	parts := func(n int) (out []string) {
		for i := range n {
			out = append(out, fmt.Sprintf("p%d", i), "")
		}
		return out
	}
	rows := func(n int) string { // n rows with a cell each
		var b strings.Builder
		b.WriteString("<sheetData>")
		for i := range n {
			fmt.Fprintf(&b, `<row r="%d"><c r="A%d"><v>1</v></c></row>`, i+1, i+1)
		}
		return b.String() + "</sheetData>"
	}
	for _, c := range []struct {
		name, file string
		in         []byte
		want       string
	}{
		{"nothing", "a.csv", nil, "empty"},
		{"blanks", "a.csv", []byte(" \n\n"), "empty"},
		{"too large", "a.csv", bytes.Repeat([]byte("a"), MostBytes+1), "larger than 16 MB"},
		{"zero bytes", "a.csv", []byte("a\x00\x00b,c\n"), "zero bytes"},
		{"half of UTF-16", "a.csv", []byte("\xff\xfea\x00b"), "UTF-16"},
		{"a mark and then no UTF-8", "a.csv", []byte("\xef\xbb\xbf\xff\xfe"), "UTF-8"},
		{"a quote without end", "a.csv", []byte("name,g\n\"lamp,86\n" + many(1000, "rope,1\n")), "A2 begins with a quote that is never closed"},
		{"a million lines", "a.csv", []byte(many(1_000_000, "a,b\n")), "more than 20000 rows"},
		{"a million empty lines", "a.csv", []byte("a,b\n" + many(1_000_000, "\n") + "c,d"), "more than 20000"},
		{"a million columns", "a.csv", []byte("a" + many(1_000_000, ",")), "more than 200 columns"},
		{"a thousand columns", "a.csv", []byte("a" + many(1000, ",b")), "more than 200 columns"},
		{"a cell of a megabyte", "a.csv", []byte("name," + many(1<<20, "a")), "B1 holds more than 32767"},
		{"an old spreadsheet", "a.xls", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), "old spreadsheet (.xls) or locked"},
		{"a PDF", "a.csv", []byte("%PDF-1.7"), "PDF"},
		{"text called a workbook", "a.xlsx", []byte("name,g"), "no .xlsx file"},
		{"a cut-off workbook", "a.xlsx", sound[:len(sound)-30], "damaged or cut-off"},
		{"a changed byte", "a.xlsx", stored(), `"xl/_rels/workbook.xml.rels" is damaged: checksum error`},
		{"a workbook of something else", "a.xlsx", packed(t, "word/document.xml", "<a/>"), "no spreadsheet is in it"},
		{"a binary workbook", "a.xlsb", packed(t, "xl/workbook.bin", "x"), ".xlsb"},
		{"thousands of parts", "a.xlsx", packed(t, parts(2001)...), "more than 2000 parts"},
		{"the same part twice", "a.xlsx", packed(t, "xl/workbook.xml", "<a/>", "XL/workbook.xml", "<a/>"), "two parts"},
		{"unpacks to 65 MB", "a.xlsx", packed(t, "xl/workbook.xml", many(65<<20, " ")), "unpacks to more than 64 MB"},
		{"no relations", "a.xlsx", packed(t, "xl/workbook.xml", "<workbook/>"), "is missing"},
		{"a sheet outside of the file", "a.xlsx", packed(t, "xl/workbook.xml", `<workbook xmlns:r="r"><sheet name="S" r:id="1"/></workbook>`, "xl/_rels/workbook.xml.rels", `<R><Relationship Id="1" Target="../../worksheets/passwd"/></R>`), `"worksheets/passwd" is missing`},
		{"a DTD", "a.xlsx", xlsx(t, "", "xl/sharedStrings.xml", `<!DOCTYPE a [<!ENTITY b "c">]><sst/>`), "DTD"},
		{"entities", "a.xlsx", xlsx(t, `<sheetData>&b;</sheetData>`), "damaged"},
		{"broken XML", "a.xlsx", xlsx(t, `<sheetData><row></sheetData>`), "damaged"},
		{"deep XML", "a.xlsx", xlsx(t, many(100, "<a>")), "nested too deep"},
		{"a million rows", "a.xlsx", xlsx(t, rows(20_001)), `sheet "Blue" has more than 20000 rows`},
		{"the last column", "a.xlsx", xlsx(t, `<sheetData>`+row(1, `<c r="XFD1"><v>1</v></c>`)+`</sheetData>`), "more than 200 columns"},
		{"a cell of another row", "a.xlsx", xlsx(t, `<sheetData>`+row(1, `<c r="A2"><v>1</v></c>`)+`</sheetData>`), `"A2" in row 1`},
		{"a cell without a place", "a.xlsx", xlsx(t, `<sheetData>`+row(1, `<c r="1"><v>1</v></c>`)+`</sheetData>`), `"1" in row 1`},
		{"text that is not there", "a.xlsx", xlsx(t, `<sheetData>`+row(1, `<c r="A1" t="s"><v>9</v></c>`)+`</sheetData>`), "Blue!A1 is text number 9"},
		{"no number", "a.xlsx", xlsx(t, `<sheetData>`+row(1, `<c r="A1"><v>NaN</v></c>`)+`</sheetData>`), `Blue!A1 is the number "NaN"`},
		{"20,000 merged cells", "a.xlsx", xlsx(t, many(20_000, `<mergeCell ref="A1:A2"/>`)), "more than 10000 merged cells"},
		{"merged to the last row, many times", "a.xlsx", xlsx(t, `<sheetData>`+row(1, `<c r="A1"><v>1</v></c>`)+`</sheetData>`+many(9_999, `<mergeCell ref="A1:A1048576"/>`)), ""},
		{"a locked document", "a.ods", ods(t, "", "META-INF/manifest.xml", "<encryption-data/>"), "locked with a password"},
		{"a text document", "a.odt", packed(t, "mimetype", "application/vnd.oasis.opendocument.text", "content.xml", "<a/>"), "no spreadsheet"},
		{"a million rows of one cell", "a.ods", ods(t, `<table:table-row table:number-rows-repeated="1000000"><table:table-cell><text:p>a</text:p></table:table-cell></table:table-row>`), "more than 20000 rows"},
		{"a thousand columns of one cell", "a.ods", ods(t, `<table:table-row><table:table-cell table:number-columns-repeated="1000"><text:p>a</text:p></table:table-cell></table:table-row>`), "more than 200 columns"},
		{"rows × columns", "a.ods", ods(t, `<table:table-row table:number-rows-repeated="19999"><table:table-cell table:number-columns-repeated="100"><text:p>a</text:p></table:table-cell></table:table-row>`), "more than 500000 cells"},
		{"JSON without end", "a.json", []byte(many(10_000, `{"a":`)), "nested too deep"},
		{"JSON cut off", "a.json", []byte("[\n{\"a\": 1"), "line 2: it is no JSON"},
		{"JSON without a list", "a.json", []byte(`{"a": 1}`), "no list of things"},
		{"YAML that grows", "a.yaml", []byte("a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n"), "*a is not followed"},
		{"YAML that is none", "a.yaml", []byte("a: [\n"), "no YAML"},
	} {
		b, err := Read(c.file, c.in)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: %v, and %q is wanted (%v)", c.name, err, c.want, b != nil)
		}
	}
}

// Whatever is read, there is no crash and no more than the limits.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"name,g\nlamp,86\n", "\xff\xfea\x00", "sep=;\na;b", "\"", "a\r\"b\"\"\r\n"} {
		f.Add("a.csv", []byte(s))
	}
	f.Add("a.json", []byte(`[{"a": 1}]`))
	f.Add("a.yaml", []byte("- a: 1"))
	f.Fuzz(func(t *testing.T, name string, b []byte) {
		book, err := Read(name, b)
		if (book == nil) == (err == nil) {
			t.Error(book, err)
		}
	})
}
