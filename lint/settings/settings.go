// Package settings reads the file that names a repository's standards.
package settings

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"kitmuster/lint/repo"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// File names the standard of a repository, once, at its root.
const File = "kitmuster.json"

// Standard is a standard as a repository or a flag names it.
type Standard struct {
	// From is a folder or a packed file, relative to where it is named.
	From string
	// Registry is an address in a registry, in the place of From.
	Registry string
	// Version and Digest are what it must be, Key the file with the public key of those who must have signed it; "" leaves it open.
	Version string
	Digest  string
	Key     string
	// At is where it is named, for messages.
	At string
	// Shown is where people find it.
	Shown string
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

// form is what a settings file looks like.
const form = `write {"standards": [{"from": "standards/circle", "version": "1.2.0", "digest": "sha256:…"}]}`

// Parse reads the bytes of a settings file, which is shown under a name; show turns paths of the disk into those that people see. What the
// file names lies in the repository: a commit must not choose what is read from the machine. The error names the place in the file.
func Parse(file, shown string, b []byte, show func(string) (string, error)) ([]Standard, error) {
	j := source.ParseJSON(shown, b)
	wrong := func(p source.Point, format string, args ...any) error {
		return fmt.Errorf("%s:%d:%d: %s", shown, max(p.Line, 1), max(p.Col, 1), words.Clean(fmt.Sprintf(format, args...)))
	}
	switch {
	case j.Doubled:
		return nil, wrong(j.FaultAt, "%s", j.Fault)
	case j.Fault != "":
		return nil, wrong(j.FaultAt, "%s; %s", j.Fault, form)
	}
	whole, ok := j.Value.(map[string]any)
	if key := other(whole, "standards"); key != "" {
		return nil, wrong(j.Where[key], "there is no field %q here; %s", key, form)
	}
	if _, is := whole["standards"]; !ok || !is {
		return nil, wrong(source.Point{}, "standards is missing; %s", form)
	}
	list, ok := whole["standards"].([]any)
	if !ok {
		return nil, wrong(j.Where["standards"], "standards is a list; %s", form)
	}
	var out []Standard
	for i, entry := range list {
		path := fmt.Sprintf("standards.%d", i)
		at := func(format string, args ...any) error { return wrong(j.Where[path], format, args...) }
		p, err := read(entry, path, j.Where, wrong)
		if err != nil {
			return nil, err
		}
		p.At = fmt.Sprintf("%s:%d:%d", shown, j.Where[path].Line, j.Where[path].Col)
		if err := p.resolve(file, show, at); err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// read takes over what one entry says.
func read(entry any, path string, where map[string]source.Point, wrong func(p source.Point, format string, args ...any) error) (p Standard, err error) {
	fields, ok := entry.(map[string]any)
	if !ok {
		return p, wrong(where[path], "each standard is an object; %s", form)
	}
	to := map[string]*string{"from": &p.From, "registry": &p.Registry, "version": &p.Version, "digest": &p.Digest, "key": &p.Key}
	names := slices.Sorted(maps.Keys(to))
	if key := other(fields, names...); key != "" {
		return p, wrong(where[path+"."+key], "there is no field %q here; %s", key, form)
	}
	for _, name := range names {
		v, is := fields[name]
		text, ok := v.(string)
		if is && !ok {
			return p, wrong(where[path+"."+name], "%s is a text; %s", name, form)
		}
		*to[name] = text
	}
	return p, nil
}

// other is the first field that is none of the known, "" where there is none.
func other(fields map[string]any, known ...string) string {
	for _, key := range slices.Sorted(maps.Keys(fields)) {
		if !slices.Contains(known, key) {
			return key
		}
	}
	return ""
}

// resolve turns the paths of an entry into those of the disk; at words what is wrong with it.
func (p *Standard) resolve(file string, show func(string) (string, error), at func(format string, args ...any) error) error {
	switch {
	case (p.From == "") == (p.Registry == ""):
		return at("write from, a folder or packed file relative to this file, or registry, an address such as registry.example/valley/flood:1.2.0")
	case filepath.IsAbs(p.From) || strings.Contains(p.From, `\`) || filepath.IsAbs(p.Key) || strings.Contains(p.Key, `\`):
		return at("write paths relative to this file, with /")
	case p.Digest != "" && !strings.HasPrefix(p.Digest, "sha256:"):
		return at("digest: %s: write it as kitmuster standard show gives it, sha256:…", p.Digest)
	}
	dir, repository := filepath.Dir(file), Repository(file)
	if p.Key != "" {
		p.Key = filepath.Join(dir, filepath.FromSlash(p.Key))
	}
	if p.Shown = p.Registry; p.Registry == "" {
		p.From = filepath.Join(dir, filepath.FromSlash(p.From))
		t, err := show(p.From)
		if err != nil {
			return err
		}
		p.Shown = t
	}
	for _, name := range []string{p.From, p.Key} {
		if name == "" || repo.Inside(repository, name) {
			continue
		}
		t, err := show(name)
		if err != nil {
			return err
		}
		return at("%s leads out of the repository; copy it there, or name the standard with --standard", t)
	}
	return nil
}
