package table

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strconv"
	"strings"
)

// parts are the files of a workbook, unpacked, by their names in lower case.
type parts map[string][]byte

var errUnpacks = fmt.Errorf("it unpacks to more than %d MB", mostUnpacked>>20)

// workbook reads what is packed as XLSX and ODS are.
func workbook(b []byte) (*Book, error) {
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		return nil, errors.New("it is a damaged or cut-off workbook")
	}
	if len(z.File) > mostParts {
		return nil, fmt.Errorf("it has more than %d parts", mostParts)
	}
	p, left := parts{}, int64(mostUnpacked)
	for _, f := range z.File {
		r, err := f.Open()
		var part []byte
		if err == nil {
			part, err = io.ReadAll(io.LimitReader(r, left+1))
			r.Close()
		}
		if err != nil { // also a wrong checksum
			return nil, fmt.Errorf("its part %q is damaged: %s", f.Name, strings.TrimPrefix(err.Error(), "zip: "))
		}
		if left -= int64(len(part)); left < 0 {
			return nil, errUnpacks
		}
		name := strings.ToLower(strings.TrimPrefix(path.Clean("/"+f.Name), "/"))
		if _, twice := p[name]; twice {
			return nil, fmt.Errorf("it has two parts called %q", f.Name)
		}
		p[name] = part
	}
	switch {
	case p["xl/workbook.bin"] != nil:
		return nil, errors.New("it is a binary workbook (.xlsb); save it as .xlsx")
	case p["xl/workbook.xml"] != nil:
		return p.xlsx()
	case p["content.xml"] != nil:
		return p.ods()
	}
	return nil, errors.New("it is packed, and no spreadsheet is in it")
}

// walk goes through the elements of a part. A DTD is refused, as entities can grow without end.
func (p parts) walk(name string, start func(xml.StartElement) error, text func([]byte) error, end func(string) error) error {
	part, ok := p[strings.ToLower(name)]
	if !ok {
		return fmt.Errorf("its part %q is missing", name)
	}
	d, depth := xml.NewDecoder(bytes.NewReader(part)), 0
	for {
		t, err := d.Token()
		if err == io.EOF {
			return nil
		}
		if err == nil {
			switch t := t.(type) {
			case xml.Directive:
				return fmt.Errorf("its part %q has a DTD, which is not read", name)
			case xml.StartElement:
				if depth++; depth > mostDepth {
					return fmt.Errorf("its part %q is nested too deep", name)
				}
				err = start(t)
			case xml.CharData:
				if text != nil {
					err = text(t)
				}
			case xml.EndElement:
				depth--
				if end != nil {
					err = end(t.Name.Local)
				}
			}
		} else {
			err = fmt.Errorf("its part %q is damaged: %w", name, err)
		}
		if err != nil {
			return err
		}
	}
}

func attr(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// merged are cells that are shown as one: from a cell, over so many rows.
type merged struct{ row, column, rows int }

// fill repeats downwards what several rows share.
func (n *bounds) fill(s *Sheet, all []merged) error {
	for _, m := range all {
		if m.row >= len(s.Rows) || m.column >= len(s.Rows[m.row]) {
			continue
		}
		for r := m.row + 1; r < m.row+m.rows && r < len(s.Rows); r++ {
			empty := len(s.Rows[r]) == 0
			if empty || m.column < len(s.Rows[r]) && s.Rows[r][m.column].Text != "" {
				continue
			}
			if err := n.put(s, r, m.column, s.Rows[m.row][m.column]); err != nil {
				return err
			}
		}
	}
	return nil
}

// address reads C7 as row 6, column 2.
func address(ref string) (row, column int, err error) {
	letters := 0
	for letters < len(ref) && letters < 4 && 'A' <= ref[letters] && ref[letters] <= 'Z' {
		column = column*26 + int(ref[letters]-'A') + 1
		letters++
	}
	row, err = strconv.Atoi(ref[letters:])
	if err != nil || letters == 0 || row < 1 {
		return 0, 0, fmt.Errorf("a cell of it is called %q", ref)
	}
	return row - 1, column - 1, nil
}
