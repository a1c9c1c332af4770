// Package standard knows the files of a standard: a folder that is at once a bundle of the rules engine and a CUE
// module, how it travels as one file, and what it is told by.
//
// A group's standard is read twice. Package load reads its standard.cue, which only building, testing and packing need;
// this package makes data of it; and package judge reads that data, as it does for the base. Each limit names its line
// in standard.cue under "at", so what is wrong with a generated file is said at the words it came from.
package standard

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/tools/txtar"

	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// Bounds on a standard, far above any real one: it is a stranger's file. Our own figures.
const (
	maxFiles = 2000
	maxFile  = 1 << 20
	maxAll   = 16 << 20
	maxName  = 200
)

// SignatureFile holds the signature over all other files, in the engine's form.
const SignatureFile = ".signatures.json"

// ManifestFile is what a standard says of itself.
const ManifestFile = ".manifest"

// Files lists the files of a standard, sorted. Files and folders whose names begin with a dot are no part of it,
// except the manifest and the signature. A link, or anything else that is no ordinary file, is an error.
func Files(fsys fs.FS) (names []string, err error) {
	total := int64(0)
	paths := spellings{}
	err = fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		hidden := strings.HasPrefix(d.Name(), ".") && p != "."
		switch {
		case d.IsDir():
			if hidden {
				return fs.SkipDir
			}
			return nil
		case hidden && p != ManifestFile && p != SignatureFile:
			return nil
		case !d.Type().IsRegular():
			return fmt.Errorf("%s is a link or no ordinary file; a standard holds ordinary files only", p)
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		if total += info.Size(); info.Size() > maxFile || total > maxAll || len(names) == maxFiles {
			return tooLarge(p)
		}
		if why := badName(p); why != "" {
			return fmt.Errorf("%q: %s", p, why)
		}
		if err := paths.add(p); err != nil {
			return err
		}
		names = append(names, p)
		return nil
	})
	slices.Sort(names)
	return names, err
}

// secret is how a private key begins in PEM (RFC 7468 §10, §11, and the older forms beside them).
var secret = regexp.MustCompile(`-----BEGIN [A-Z ]*PRIVATE KEY-----`)

func tooLarge(p string) error {
	return fmt.Errorf("%s: a standard has at most %d files of %d MiB each, %d MiB together", p, maxFiles, maxFile>>20, maxAll>>20)
}

// badName says why a path cannot be one of a standard's; "" is nothing. The same path must mean the same file everywhere.
func badName(p string) string {
	switch {
	case !fs.ValidPath(p) || p == ".":
		return "this path leads out of the standard, or is none"
	case len(p) > maxName:
		return fmt.Sprintf("a path has at most %d bytes", maxName)
	case !utf8.ValidString(p) || strings.ContainsFunc(p, func(r rune) bool { return words.Unseen(r) || strings.ContainsRune(`\:*?"<>|`, r) }):
		return `a path has no control characters and none of \ : * ? " < > |`
	}
	return ""
}

// spellings are the paths of a standard, with the folders that they lie in, by what they fold to.
type spellings map[string]string

// add is an error where a path, or a folder above it, differs only in case from one that is there.
func (s spellings) add(p string) error {
	for ; p != "."; p = path.Dir(p) {
		folded := source.Fold(p)
		if other, ok := s[folded]; ok && other != p {
			return fmt.Errorf("%s and %s differ only in upper and lower case, and many disks keep one of the two; give one of them another name", min(p, other), max(p, other))
		}
		s[folded] = p
	}
	return nil
}

// Digest tells a standard by its content: the SHA-256 of a list of its files with the SHA-256 of each. The signature does not
// count, so that signing changes nothing. It is the same for a folder and for the file it was packed into.
func Digest(fsys fs.FS) (string, error) {
	names, err := Files(fsys)
	if err != nil {
		return "", err
	}
	h := sha256.New()
	for _, n := range names {
		if n == SignatureFile {
			continue
		}
		b, err := fs.ReadFile(fsys, n)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(h, "%x  %s\n", sha256.Sum256(b), n)
	}
	return "sha256:" + hex.EncodeToString(h.Sum(nil)), nil
}

// Pack writes a standard as one .tar.gz: the same files give the same bytes, no matter who packs them, where and when.
// A private key among them is an error: what is packed is handed out.
func Pack(w io.Writer, fsys fs.FS) error {
	names, err := Files(fsys)
	if err != nil {
		return err
	}
	z, err := gzip.NewWriterLevel(w, gzip.BestCompression)
	if err != nil {
		return err
	}
	t := tar.NewWriter(z)
	for _, n := range names {
		b, err := fs.ReadFile(fsys, n)
		if err != nil {
			return err
		}
		if secret.Match(b) {
			return fmt.Errorf("%s holds a private key, and would be handed out with the standard; take it out of the folder", n)
		}
		if err := t.WriteHeader(&tar.Header{Name: n, Mode: 0o644, Size: int64(len(b)), ModTime: time.Unix(0, 0), Format: tar.FormatPAX, Typeflag: tar.TypeReg}); err != nil {
			return err
		}
		if _, err := t.Write(b); err != nil {
			return err
		}
	}
	if err := t.Close(); err != nil {
		return err
	}
	return z.Close()
}

// Unpack reads what Pack wrote, or the engine's own tool, into memory. It takes a stranger's file: anything but
// ordinary files below the top is refused, and what grows beyond the bounds is not read to its end.
func Unpack(r io.Reader) (fs.FS, error) {
	z, err := gzip.NewReader(r)
	if err != nil {
		return nil, fmt.Errorf("this is no packed standard: %w", err)
	}
	// A little above the bounds, for what the archive itself takes.
	t := tar.NewReader(io.LimitReader(z, maxAll+maxFiles*4096))
	var out txtar.Archive // the smallest tree in memory that someone else keeps
	seen, paths := map[string]bool{}, spellings{}
	total := int64(0)
	for {
		h, err := t.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("this is no whole packed standard: %w", err)
		}
		name := strings.TrimPrefix(h.Name, "/") // the engine's own tool writes a leading slash
		if h.Typeflag == tar.TypeDir {
			name = strings.TrimSuffix(name, "/")
			if name == "" || name == "." {
				continue
			}
		}
		if why := badName(name); why != "" {
			return nil, fmt.Errorf("%q: %s", h.Name, why)
		}
		if err := paths.add(name); err != nil {
			return nil, err
		}
		switch {
		case h.Typeflag == tar.TypeDir:
			continue
		case h.Typeflag != tar.TypeReg:
			return nil, fmt.Errorf("%s is a link or no ordinary file; a standard holds ordinary files only", name)
		case seen[name]:
			return nil, fmt.Errorf("%s is in it twice", name)
		case name != ManifestFile && name != SignatureFile && strings.Contains("/"+name, "/."):
			return nil, fmt.Errorf("%s is hidden; a standard holds nothing hidden but %s and %s", name, ManifestFile, SignatureFile)
		}
		seen[name] = true
		if total += h.Size; h.Size > maxFile || total > maxAll || len(out.Files) == maxFiles {
			return nil, tooLarge(name)
		}
		var b bytes.Buffer
		if _, err := io.Copy(&b, t); err != nil {
			return nil, fmt.Errorf("this is no whole packed standard: %w", err)
		}
		out.Files = append(out.Files, txtar.File{Name: name, Data: b.Bytes()})
	}
	for _, f := range out.Files {
		for d := path.Dir(f.Name); d != "."; d = path.Dir(d) {
			if seen[d] {
				return nil, fmt.Errorf("%s is a file and a folder", d)
			}
		}
	}
	return txtar.FS(&out)
}
