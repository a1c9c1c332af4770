package main

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// A split audit leaves no page of a household that is in it no longer, and touches nothing that is not its own.
func TestAuditTakesItsOldPagesAway(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "audit")
	write := func(files map[string]string) {
		t.Helper()
		p, err := newFolder(dir, false)
		if err != nil {
			t.Fatal(err)
		}
		defer p.drop()
		for name, text := range files {
			w, err := p.create(name)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := io.WriteString(w, text); err != nil {
				t.Fatal(err)
			}
			if err := w.Close(); err != nil {
				t.Fatal(err)
			}
		}
		if err := p.keep(); err != nil {
			t.Fatal(err)
		}
	}
	ours := `<!DOCTYPE html><meta name="generator" content="kitmuster audit">`
	write(map[string]string{"audit.html": ours, "households/h-0123456789.html": ours, "households/h-aaaaaaaaaa.html": ours})
	for name, text := range map[string]string{"h-bbbbbbbbbb.html": "somebody's own", "h-notours.html": ours, "notes.txt": ours} {
		if err := os.WriteFile(filepath.Join(dir, "households", name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write(map[string]string{"audit.html": ours, "households/h-aaaaaaaaaa.html": ours})
	if got := listed(t, filepath.Join(dir, "households")); !slices.Equal(got, []string{"h-aaaaaaaaaa.html", "h-bbbbbbbbbb.html", "h-notours.html", "notes.txt"}) {
		t.Error(got)
	}
}

// An audit that is not kept leaves nothing behind, and what lay there stays as it was.
func TestAuditIsWrittenWholeOrNotAtAll(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "audit")
	p, err := newFolder(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.create("households/h-aaaaaaaaaa.html"); err != nil {
		t.Fatal(err)
	}
	p.drop()
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Error(err, listed(t, dir))
	}
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "audit.html"), []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	if p, err = newFolder(dir, true); err != nil {
		t.Fatal(err)
	}
	if _, err := p.create("audit.html"); err != nil {
		t.Fatal(err)
	}
	p.drop()
	if b, err := os.ReadFile(filepath.Join(dir, "audit.html")); string(b) != "old" || len(listed(t, dir)) != 1 {
		t.Error(string(b), err, listed(t, dir))
	}
}

func listed(t *testing.T, dir string) (names []string) {
	t.Helper()
	all, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		names = append(names, e.Name())
	}
	return names
}
