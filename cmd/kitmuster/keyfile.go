package main

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"kitmuster/lint/atomicfile"
	"kitmuster/lint/private"
)

// keyFile is a key of this person's, as a file holds it.
type keyFile struct {
	key [private.KeySize]byte
	// made says that the file is new; exposed that others on this machine can read or change it.
	made, exposed bool
}

// ownKey is where a key lies that no flag names: in the user's configuration folder.
func ownKey(name string) (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("the user's configuration folder is not known (%w)", err)
	}
	return filepath.Join(dir, "kitmuster", name), nil
}

// openKey reads the key in a file, which is made where there is none. An error calls the file as it is told to, since a path may
// bear a name; where the key could be made and not be read, made is told all the same.
func openKey(file, called string) (k keyFile, err error) {
	if _, err := os.Lstat(file); errors.Is(err, fs.ErrNotExist) {
		if k.made, err = makeKey(file); err != nil {
			return k, fmt.Errorf("the key could not be written to %s: %w", called, bare(err))
		}
	}
	info, err := os.Stat(file)
	if err == nil && !info.Mode().IsRegular() { // a pipe might keep us waiting for ever
		err = errors.New("it is not an ordinary file")
	}
	if err != nil {
		return k, fmt.Errorf("the key in %s cannot be read: %w", called, bare(err))
	}
	f, err := os.Open(file)
	if err != nil {
		return k, fmt.Errorf("the key in %s cannot be read: %w", called, bare(err))
	}
	defer f.Close()
	k.exposed = runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0
	const long = 2*private.KeySize + 2 // digits and the end of a line
	b, err := io.ReadAll(io.LimitReader(f, long+1))
	if err != nil {
		return k, fmt.Errorf("the key in %s cannot be read: %w", called, bare(err))
	}
	text := strings.TrimSpace(string(b))
	if n, err := hex.Decode(k.key[:], []byte(text[:min(len(text), 2*private.KeySize)])); err != nil || n != len(k.key) || len(text) != 2*private.KeySize {
		return k, fmt.Errorf("%s does not hold a key: it has to be %d hexadecimal digits and nothing else; where there is no such file, a key is made", called, 2*private.KeySize)
	}
	return k, nil
}

// bare is an error without the paths that the system's errors hold.
func bare(err error) error {
	var link *os.LinkError
	var path *fs.PathError
	switch {
	case errors.As(err, &link):
		return link.Err
	case errors.As(err, &path):
		return path.Err
	}
	return err
}

// makeKey writes a new key, whole or not at all; made is false where another program was first.
func makeKey(file string) (made bool, err error) {
	var key [private.KeySize]byte
	_, _ = rand.Read(key[:])                                  // never fails
	f, err := atomicfile.Create(atomicfile.Disk, file, 0o600) // only its owner may read it
	if err != nil {
		return false, err
	}
	defer f.Drop()
	if _, err = fmt.Fprintln(f, hex.EncodeToString(key[:])); err != nil {
		return false, err
	}
	if err = f.Close(); err != nil {
		return false, err
	}
	switch err = f.Add(); {
	case errors.Is(err, fs.ErrExist):
		return false, nil
	case err != nil:
		return false, err
	}
	dir, base := filepath.Split(file)
	atomicfile.Sweep(dir, func(b string) bool { return b == base })
	return true, atomicfile.SyncFolder(dir)
}
