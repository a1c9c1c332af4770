package main

import (
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode/utf8"

	"kitmuster/lint/begin"
	"kitmuster/lint/testkit"
)

// evening is what a family types at the terminal, without slips.
var evening = strings.Split("Alder\rAna\r42\r68 kg\r\ryes\r1.2 kg\rBen\r9 y\r\r\rno\r\r\r72\rflood\rtown\rwinter\r8 °C\r2 °C\rours\r47.5 N\r6.5 km\r\rhouse\rschool\r\r", "\r")

var confirmed = regexp.MustCompile(`Kept: `)

// At a real terminal of forty columns no question is longer, no screen is redrawn, and the first check ends it.
func TestBeginningAtATerminal(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := sit(t, 40, dir, "new", "--on", "2026-12-01", "kit")
	asked := func() bool { return strings.HasSuffix(s.text(), " ") } // only a question leaves its line open
	for i, answer := range evening[:len(evening)-1] {
		for end := time.Now().Add(time.Minute); strings.Count(s.text(), "Kept: ") < i || !asked(); time.Sleep(time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("no question: %q", s.text())
			}
		}
		if _, err := s.f.WriteString(answer + "\r"); err != nil {
			t.Fatal(err)
		}
	}
	s.until("Next: ", 0)
	text := s.close()
	questions, _, _ := strings.Cut(text, "first check:")
	for _, l := range strings.Split(questions, "\n") {
		if n := utf8.RuneCountInString(strings.TrimRight(l, "\r")); n > 40 {
			t.Errorf("%d columns: %q", n, l)
		}
	}
	if strings.ContainsAny(text, "\x1b\b\a") {
		t.Errorf("escapes in %q", text)
	}
	if _, err := os.Stat(filepath.Join(dir, "kit", "household.cue")); err != nil {
		t.Error(err)
	}
}

// Of a beginning that is killed at any moment, everything that was confirmed is kept, and the next goes on from it.
func TestKilledBeginning(t *testing.T) {
	t.Parallel()
	tries := 4
	if testkit.Whole(t) {
		tries = 200
	}
	all := 0
	for i := range tries {
		dir := t.TempDir()
		s := sit(t, 40, dir, "new", "kit")
		s.until("Alder? ", 0)
		if _, err := s.f.WriteString(strings.Join(evening[:22], "\r") + "\r"); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.IntN(400)) * time.Millisecond)
		if err := s.cmd.Process.Signal([]syscall.Signal{syscall.SIGKILL, syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT}[i%4]); err != nil {
			t.Fatal(err) // it still has questions
		}
		n := len(confirmed.FindAllString(s.close(), -1))
		all += n
		b, err := os.ReadFile(filepath.Join(dir, "kit", begin.FileName))
		if err != nil && n > 0 {
			t.Fatal(err)
		}
		a, err := begin.Read(b)
		if err != nil || len(a) < n || len(a) > n+1 { // the last may be kept and not told
			t.Errorf("%d confirmed, %d kept, %v:\n%s", n, len(a), err, b)
		}
	}
	t.Logf("%d answers were confirmed, none was lost", all)
}

// Answers in the folder of a stranger are read from an ordinary file only: a link would show what lies elsewhere, a pipe would wait.
func TestAnswersAreAnOrdinaryFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	testkit.Write(t, dir, map[string]string{"secret": "person 1: \"topsecret\"\n", "link/notes.txt": "x", "pipe/notes.txt": "x"})
	err := errors.Join(os.Symlink(filepath.Join(dir, "secret"), filepath.Join(dir, "link/new-answers.yaml")), syscall.Mkfifo(filepath.Join(dir, "pipe/new-answers.yaml"), 0o600))
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"new", "link"}, {"new", "pipe"}, {"new", "--answers", "link/new-answers.yaml", "kit"}, {"new", "--answers", "pipe/new-answers.yaml", "kit"}} {
		if got := runs(t, dir, args...); got.code != exitUnfit || !strings.HasSuffix(got.errs, "new-answers.yaml: it is no ordinary file\n") || strings.Contains(got.out+got.errs, "topsecret") {
			t.Errorf("%v: exit %d, %q %q", args, got.code, got.out, got.errs)
		}
	}
}
