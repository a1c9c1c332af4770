package standard

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"time"

	"kitmuster/lint/judge"
)

// Sign gives a standard with a signature over all its files, made with a private key in PEM, and the key's fingerprint.
func Sign(fsys fs.FS, key []byte) (signed fs.FS, fingerprint string, err error) {
	names, err := signable(fsys)
	if err != nil {
		return nil, "", err
	}
	signature, fingerprint, err := judge.Sign(fsys, names, key)
	if err != nil {
		return nil, "", err
	}
	signed, err = Over(fsys, map[string][]byte{SignatureFile: signature})
	return signed, fingerprint, err
}

func signable(fsys fs.FS) ([]string, error) {
	names, err := Files(fsys)
	return slices.DeleteFunc(names, func(n string) bool { return n == SignatureFile }), err
}

// Verified is a standard whose signature holds.
type Verified struct {
	Name, Version, Digest string
	// Signer is the fingerprint of the key.
	Signer string
}

// Verify holds a standard against its signature with a public key in PEM; now is for the times that a signature may name.
func Verify(fsys fs.FS, key []byte, now time.Time) (*Verified, error) {
	names, err := signable(fsys)
	if err != nil {
		return nil, err
	}
	signature, err := fs.ReadFile(fsys, SignatureFile)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("there is no signature (%s) in it; kitmuster standard pack --sign makes one", SignatureFile)
	}
	if err != nil {
		return nil, err
	}
	v := &Verified{}
	if v.Signer, err = judge.Verify(fsys, names, signature, key, now); err != nil {
		return nil, err
	}
	m, err := judge.ReadManifest(fsys)
	if err == nil {
		if why := m.Check(); why != "" {
			err = errors.New(why)
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", ManifestFile, err)
	}
	v.Name, v.Version = m.Name, m.Version
	v.Digest, err = Digest(fsys)
	return v, err
}
