// Package settings reads the file that names a repository's standards.
package settings

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"kitmuster/lint/judge"
	"kitmuster/lint/repo"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// File names the standard of a repository, once, at its root.
const File = "kitmuster.json"

// Standard is a standard as a repository or a flag names it.
type Standard struct {
	// From is a folder or a packed file, relative to where it is named.
	From string `json:"from"`
	// Registry is an address in a registry, in the place of From.
	Registry string `json:"registry"`
	// Version and Digest are what it must be, Key the file with the public key of those who must have signed it; "" leaves it open.
	Version string `json:"version"`
	Digest  string `json:"digest"`
	Key     string `json:"key"`
	// Packed is what the registry gave, kept for the workers.
	Packed []byte `json:"-"`
	// At is where it is named, for messages.
	At string `json:"-"`
	// Shown is where people find it.
	Shown string `json:"-"`
}

// Wrong says what is wrong with it, where it is named.
func (p *Standard) Wrong(err error) error {
	if strings.HasSuffix(p.At, " "+p.Shown) {
		return fmt.Errorf("%s: %w", p.At, err)
	}
	return fmt.Errorf("%s: %s: %w", p.At, p.Shown, err)
}

// Repository is the folder of the repository that a settings file stands for: the nearest upwards with .git, else its own.
func Repository(file string) string {
	for dir := filepath.Dir(file); ; dir = filepath.Dir(dir) {
		if _, err := os.Lstat(filepath.Join(dir, ".git")); err == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			return filepath.Dir(file)
		}
	}
}

// Most bounds the settings file. Our own figure.
const Most = 1 << 20

// Nearest is the settings file at or above a path, up to the root of its repository; "" where there is none.
func Nearest(from string) string {
	for dir := from; ; dir = filepath.Dir(dir) {
		name := filepath.Join(dir, File)
		if _, err := os.Lstat(name); err == nil {
			return name
		}
		if _, err := os.Lstat(filepath.Join(dir, ".git")); err == nil || dir == filepath.Dir(dir) {
			return ""
		}
	}
}

// Parse reads the bytes of a settings file, which is shown under a name; show turns paths of the disk into those that people see. What the
// file names lies in the repository: a commit must not choose what is read from the machine. The error names the place in the file.
func Parse(file, shown string, b []byte, show func(string) (string, error)) ([]Standard, error) {
	var out []Standard
	dir, repository := filepath.Dir(file), Repository(file)
	text := source.NewText(shown, b)
	wrong := func(offset int64, format string, args ...any) error {
		p := text.Point(int(offset))
		return fmt.Errorf("%s:%d:%d: %s", shown, p.Line, p.Col, words.Clean(fmt.Sprintf(format, args...)))
	}
	const form = `write {"standards": [{"from": "standards/circle", "version": "1.2.0", "digest": "sha256:…"}]}`
	var whole struct {
		Standards json.RawMessage `json:"standards"`
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	err := d.Decode(&whole)
	if err == nil && d.More() {
		err = errors.New("nothing may follow it")
	}
	if err != nil || whole.Standards == nil {
		if err == nil {
			err = errors.New("standards is missing")
		}
		return nil, wrong(offsetOf(err, d), "%v; %s", plainly(err), form)
	}
	if p, ok := judge.Doubled(shown, b); ok {
		return nil, fmt.Errorf("%s:%d:%d: %s", shown, p.Line, p.Col, p.Text)
	}
	start := int64(bytes.Index(b, whole.Standards))
	list := json.NewDecoder(bytes.NewReader(whole.Standards))
	list.DisallowUnknownFields()
	if t, err := list.Token(); err != nil || t != json.Delim('[') {
		return nil, wrong(start, "standards is a list; %s", form)
	}
	for list.More() {
		var p Standard
		at := start + list.InputOffset()
		for at < int64(len(b)) && strings.IndexByte(" \t\r\n,", b[at]) >= 0 {
			at++
		}
		if err := list.Decode(&p); err != nil {
			return nil, wrong(at, "%v; %s", plainly(err), form)
		}
		switch {
		case (p.From == "") == (p.Registry == ""):
			return nil, wrong(at, "write from, a folder or packed file relative to this file, or registry, an address such as registry.example/valley/flood:1.2.0")
		case filepath.IsAbs(p.From) || strings.Contains(p.From, `\`) || filepath.IsAbs(p.Key) || strings.Contains(p.Key, `\`):
			return nil, wrong(at, "write paths relative to this file, with /")
		case p.Digest != "" && !strings.HasPrefix(p.Digest, "sha256:"):
			return nil, wrong(at, "digest: %s: write it as kitmuster standard show gives it, sha256:…", p.Digest)
		}
		pt := text.Point(int(at))
		p.At = fmt.Sprintf("%s:%d:%d", shown, pt.Line, pt.Col)
		if p.Key != "" {
			p.Key = filepath.Join(dir, filepath.FromSlash(p.Key))
		}
		if p.Shown = p.Registry; p.Registry == "" {
			p.From = filepath.Join(dir, filepath.FromSlash(p.From))
			t, err := show(p.From)
			if err != nil {
				return nil, err
			}
			p.Shown = t
		}
		for _, name := range []string{p.From, p.Key} {
			if name == "" || repo.Inside(repository, name) {
				continue
			}
			t, err := show(name)
			if err != nil {
				return nil, err
			}
			return nil, wrong(at, "%s leads out of the repository; copy it there, or name the standard with --standard", t)
		}
		out = append(out, p)
	}
	return out, nil
}

// plainly says without this language's words that a value is of another kind.
func plainly(err error) error {
	if kind := (*json.UnmarshalTypeError)(nil); errors.As(err, &kind) {
		return fmt.Errorf("a %s stands here, and %s is a text", kind.Value, cmp.Or(kind.Field, "each field of a standard"))
	}
	return err
}

func offsetOf(err error, d *json.Decoder) int64 {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return syntax.Offset - 1
	case errors.As(err, &kind):
		return kind.Offset - 1
	}
	return d.InputOffset()
}
