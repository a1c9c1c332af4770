package lint

import (
	"bytes"
	"errors"
	"os"
	"testing"
)

// What is put is got, in whatever order, in memory and from a file.
func TestSpool(t *testing.T) {
	opened := 0
	file := func() (*os.File, error) {
		opened++
		return os.CreateTemp(t.TempDir(), "spool")
	}
	const n = 40
	body := func(i, size int) []byte { return bytes.Repeat([]byte{byte(i)}, size) }
	for _, c := range []struct {
		size, opened int
		open         func() (*os.File, error)
	}{{100, 0, file}, {spoolMemory / 10, 1, file}, {spoolMemory / 10, 0, nil}, {0, 0, file}} {
		opened = 0
		s := newSpool(n, c.open)
		for i := n - 1; i >= 0; i-- {
			s.put(i, body(i, c.size))
		}
		for i := range n {
			if b, err := s.get(i); err != nil || !bytes.Equal(b, body(i, c.size)) {
				t.Fatalf("%d of %d bytes: %d bytes, %v", i, c.size, len(b), err)
			}
		}
		if opened != c.opened {
			t.Errorf("%d bytes each: %d files", c.size, opened)
		}
		s.close()
	}
}

// A file that cannot be had, written or read is told, and no finding is lost silently.
func TestSpoolThatCannotBeKept(t *testing.T) {
	full := errors.New("no space left")
	s := newSpool(2, func() (*os.File, error) { return nil, full })
	s.put(0, make([]byte, spoolMemory+1))
	s.put(1, []byte("x"))
	if _, err := s.get(1); !errors.Is(err, full) {
		t.Error(err)
	}
	var f *os.File
	s = newSpool(1, func() (_ *os.File, err error) {
		f, err = os.CreateTemp(t.TempDir(), "spool")
		return f, err
	})
	s.put(0, make([]byte, spoolMemory+1))
	if err := f.Truncate(10); err != nil {
		t.Fatal(err)
	}
	if _, err := s.get(0); err == nil {
		t.Error("a file cut short is read")
	}
	s.close()
	c := &checking{answers: []*Answer{{}}, spool: newSpool(1, nil)}
	c.spool.put(0, []byte("not CBOR"))
	for _, err := range c.findings {
		if err == nil {
			t.Error("what is no answer is read as one")
		}
	}
	c.spool.fail(full)
	for _, err := range c.findings {
		if !errors.Is(err, full) {
			t.Error(err)
		}
	}
}
