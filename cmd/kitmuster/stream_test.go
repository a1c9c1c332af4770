package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"kitmuster/lint/words"
)

// throughStream gives what a stream writes of the pieces.
func throughStream(t testing.TB, colours bool, pieces ...string) string {
	t.Helper()
	var b bytes.Buffer
	s := &stream{to: &b, colours: colours}
	for _, p := range pieces {
		if n, err := s.Write([]byte(p)); n != len(p) || err != nil {
			t.Fatalf("Write(%q) = %d, %v", p, n, err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestStream(t *testing.T) {
	for _, c := range []struct{ in, want, why string }{
		{"plain: text :: here ##\n", "plain: text :: here ##\n", "nothing to hide"},
		{"::error::x\n", "\\u003a:error::x\n", "a command at the beginning"},
		{"a\n \t ::error::x", "a\n \t \\u003a:error::x", "after white space of a later line"},
		{"\u00a0::error", "\u00a0\\u003a:error", "after a space that is none of ASCII"},
		{"\u200b::error", "\\u200b\\u003a:error", "after what nobody sees"},
		{"a\r::error", "a\\u000d::error", "no line begins at a carriage return, as it is shown"},
		{"a\r\n::b\r\n", "a\r\n\\u003a:b\r\n", "a line end of two characters stays"},
		{"x ##[error]y ##vso[task.setvariable]z ##TeamCity[z", "x \\u0023#[error]y \\u0023#vso[task.setvariable]z \\u0023#TeamCity[z", "marks anywhere"},
		{"###[a] ## [b] #[c] ##a-[d]", "#\\u0023#[a] ## [b] #[c] ##a-[d]", "what is no mark"},
		{"\x1b[31mred\x1b[0m\x07\x00\x7f\u009b", "\\u001b[31mred\\u001b[0m\\u0007\\u0000\\u007f\\u009b", "control characters"},
		{"\u202eevil\u2066\ufeff\U000e0041", "\\u202eevil\\u2066\\ufeff\\udb40\\udc41", "marks that reorder or show nothing"},
		{"\xff\xfeé", "\\ufffd\\ufffdé", "bytes that are no text"},
		{"Å 🎒 日本 \u0301", "Å 🎒 日本 \u0301", "other people's letters"},
		{"end #", "end #", "a beginning at the end"},
		{":", ":", "one colon"},
		{"\xe2\x82", "\\ufffd\\ufffd", "half a character at the end"},
	} {
		if got := throughStream(t, false, c.in); got != c.want {
			t.Errorf("%s: %q, want %q", c.why, got, c.want)
		}
		if got := throughStream(t, false, strings.Split(c.in, "")...); got != c.want && !strings.Contains(c.in, "\xff") && !strings.Contains(c.in, "\xe2\x82") {
			t.Errorf("%s, letter by letter: %q, want %q", c.why, got, c.want)
		}
	}
	if got := throughStream(t, true, "\x1b", "[3", "1mred\x1b[0m\x1b[2J\x1b]0;x\x07"); got != "\x1b[31mred\x1b[0m\\u001b[2J\\u001b]0;x\\u0007" {
		t.Errorf("on a terminal: %q", got)
	}
}

var ciCommand = regexp.MustCompile(`(?m)^[\s\p{Z}]*::|##[A-Za-z]{0,20}\[`)

// Whatever is written, in whatever pieces, shows no command and nothing unseen, and JSON keeps its meaning.
func FuzzStream(f *testing.F) {
	for _, s := range []string{"a\n::b", "##[x]", "##vso[", "\x1b[31m", "\u202e\r\n\r", "::\xe2\x82", "\U000e0041#"} {
		f.Add(s, 2)
	}
	f.Fuzz(func(t *testing.T, text string, cut int) {
		whole := throughStream(t, false, text)
		if m := ciCommand.FindString(whole); m != "" {
			t.Errorf("%q is written with %q", text, m)
		}
		for _, r := range whole {
			if words.Unseen(r) && r != '\n' && r != '\t' && r != '\r' {
				t.Errorf("%q is written with %U", text, r)
			}
			if r == unicode.ReplacementChar {
				t.Errorf("%q is written with what is no text", text)
			}
		}
		if i := max(0, min(cut, len(text))); throughStream(t, false, text[:i], text[i:]) != whole {
			t.Errorf("%q is written otherwise when cut at %d", text, i)
		}
		b, err := json.MarshalIndent(map[string]string{"::" + text: text}, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		var want, got map[string]string
		if err := json.Unmarshal(b, &want); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal([]byte(throughStream(t, false, string(b))), &got); err != nil || len(got) != 1 {
			t.Fatalf("JSON of %q: %v", text, err)
		}
		for k, v := range want {
			if got[k] != v {
				t.Errorf("JSON of %q means %q", text, got)
			}
		}
	})
}

// What a format has escaped itself passes as commands; all else that acts on a log stays shown, and what was written before comes first.
func TestCommanding(t *testing.T) {
	var to bytes.Buffer
	s := &stream{to: &to}
	fmt.Fprint(s, "::error::no\n:")
	c, err := s.commanding()
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprint(c, "\n::error::yes\x1b[2J ##[error]no\n")
	if err := c.Close(); err != nil {
		t.Fatal(err)
	}
	if got, want := to.String(), "\\u003a:error::no\n:\n::error::yes\\u001b[2J \\u0023#[error]no\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
