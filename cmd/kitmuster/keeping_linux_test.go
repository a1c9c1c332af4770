package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/creack/pty"

	"kitmuster/lint/testkit"
)

// sitting is the program at a terminal.
type sitting struct {
	t   *testing.T
	f   *os.File
	cmd *exec.Cmd
	mu  sync.Mutex
	out bytes.Buffer
	end chan struct{}
}

func sit(t *testing.T, columns uint16, dir string, args ...string) *sitting {
	t.Helper()
	s := &sitting{t: t, cmd: exec.Command("kitmuster", args...), end: make(chan struct{})}
	s.cmd.Dir = dir
	s.cmd.Env = append(os.Environ(), "TERM=xterm", "XDG_CACHE_HOME="+filepath.Join(dir, "cache"))
	var err error
	if s.f, err = pty.StartWithSize(s.cmd, &pty.Winsize{Rows: 24, Cols: columns}); err != nil {
		t.Fatal(err)
	}
	go func() {
		defer close(s.end)
		b := make([]byte, 4096)
		for {
			n, err := s.f.Read(b)
			s.mu.Lock()
			s.out.Write(b[:n])
			s.mu.Unlock()
			if err != nil { // on Linux an error too, once the program is gone
				return
			}
		}
	}()
	return s
}

func (s *sitting) text() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.out.String()
}

// until waits for a text after a place, and gives the place behind it.
func (s *sitting) until(want string, from int) int {
	s.t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(time.Millisecond) {
		if t := s.text(); from <= len(t) {
			if i := strings.Index(t[from:], want); i >= 0 {
				return from + i + len(want)
			}
		}
	}
	s.t.Fatalf("never saw %q in %q", want, s.text())
	return 0
}

func (s *sitting) close() string {
	<-s.end
	_ = s.cmd.Wait() // a killed program has no clean end
	s.f.Close()
	return s.text()
}

// twenty is a household of 20 things, none of them weighed.
func twenty(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("package kit\n\nhousehold: \"Alder\"\npeople: ana: {age: \"42 y\", bodyMass: \"68 kg\"}\npacks: rust: {\n\tcarrier: \"ana\"\n\tcompartments: lid: {\n\t\treach: \"walking\"\n\t\titems: {\n")
	for i := range 19 {
		fmt.Fprintf(&b, "\t\t\tthing_%d: {mass: \"80 g\"}\n", i+1)
	}
	b.WriteString("\t\t}\n\t}\n}\n")
	dir := t.TempDir()
	testkit.Write(t, dir, map[string]string{"kit/kit.cue": b.String()})
	return dir
}

// At a real terminal of forty columns no line is longer, no screen is redrawn, and each number is one answer.
func TestWeighingAtATerminal(t *testing.T) {
	t.Parallel()
	dir := twenty(t)
	s := sit(t, 40, dir, "weigh", "kit")
	at := 0
	for range 4 {
		at = s.until("In g: ", at)
		if _, err := s.f.WriteString("86\r"); err != nil {
			t.Fatal(err)
		}
		at = s.until("Kept: ", at)
	}
	s.until("In g: ", at)
	if _, err := s.f.WriteString("q\r"); err != nil {
		t.Fatal(err)
	}
	text := s.close()
	for _, l := range strings.Split(text, "\n") {
		if n := utf8.RuneCountInString(strings.TrimRight(l, "\r")); n > 40 {
			t.Errorf("%d columns: %q", n, l)
		}
	}
	if strings.ContainsAny(text, "\x1b\b\a") {
		t.Errorf("escapes in %q", text)
	}
	if !strings.Contains(text, "4 readings kept, 16 still to") {
		t.Error(text)
	}
}

var (
	kept  = regexp.MustCompile(`Kept: `)
	dated = regexp.MustCompile(`weighed: `)
)

// Of a session that is killed at any moment, everything that was confirmed is in the files, which can be read; and it goes on.
func TestKilledWeighing(t *testing.T) {
	t.Parallel()
	tries := 4
	if testkit.Whole(t) {
		tries = 200
	}
	confirmed := 0
	for i := range tries {
		dir := twenty(t)
		s := sit(t, 40, dir, "weigh", "kit")
		s.until("In g: ", 0)
		if _, err := s.f.WriteString(strings.Repeat("86\r", 20)); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.IntN(600)) * time.Millisecond)
		if err := s.cmd.Process.Signal([]syscall.Signal{syscall.SIGKILL, syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT}[i%4]); err != nil && s.cmd.ProcessState == nil {
			t.Log(err) // it was through already
		}
		n := len(kept.FindAllString(s.close(), -1))
		confirmed += n
		again := sit(t, 40, dir, "weigh", "kit")
		again.answer("q\r")
		again.close()
		b, err := os.ReadFile(filepath.Join(dir, "kit", "kit.cue"))
		if err != nil {
			t.Fatal(err)
		}
		if m := len(dated.FindAll(b, -1)); m < n || m > n+1 { // the last may be written and not told
			t.Errorf("%d confirmed, %d written:\n%s", n, m, b)
		}
	}
	t.Logf("%d readings were confirmed, none was lost", confirmed)
}

// answer types once there is a question; where nothing is left to weigh, there is none.
func (s *sitting) answer(text string) {
	s.t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(time.Millisecond) {
		switch out := s.text(); {
		case strings.Contains(out, "In g: "):
			if _, err := s.f.WriteString(text); err != nil {
				s.t.Fatal(err)
			}
			return
		case strings.Contains(out, "nothing is left"):
			return
		}
	}
	s.t.Fatalf("there is no question: %q", s.text())
}
