package atomicfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
)

// Swap is a file that is to hold other words, by a path of the system.
type Swap struct {
	Path     string
	Old, New []byte
}

// ErrChanged says that a file is not what it was when it was read; nothing of the swaps was kept.
var ErrChanged = errors.New("was changed on the disk since it was read")

// Together writes several files, all or none, and only where each still holds what was read of it. A link stays one: what it leads
// to is written. Permissions stay. It refuses what could not stay as it is: a file with several names, one that is write-protected,
// one that an editor has open.
//
// A program that is killed meanwhile leaves the journal, a file in a folder of the user's own, from which Recover puts
// everything back. Access lists and extended attributes of files are not carried over.
func Together(swaps []Swap, journal string) (err error) {
	var all, done []*swapping
	defer func() {
		for _, s := range all {
			s.file.Drop()
		}
	}()
	for _, f := range swaps {
		s, err := stage(f)
		if s != nil {
			all = append(all, s)
		}
		if err != nil {
			return fmt.Errorf("%s %w", f.Path, err)
		}
	}
	entry := make([]Swap, len(all))
	for i, s := range all {
		entry[i] = Swap{s.real, s.Old, s.New}
	}
	b, err := json.Marshal(entry)
	if err != nil {
		return err
	}
	if err := Write(journal, b, 0o600); err != nil {
		return fmt.Errorf("the journal of the change cannot be written: %w", err)
	}
	defer func() { err = errors.Join(err, os.Remove(journal)) }()
	for _, s := range all {
		if err := s.in(); err != nil {
			for _, d := range slices.Backward(done) {
				err = errors.Join(err, d.out())
			}
			return fmt.Errorf("%s %w", s.Path, err)
		}
		done = append(done, s)
	}
	for _, s := range all {
		if err := SyncFolder(filepath.Dir(s.real)); err != nil {
			return err
		}
	}
	for _, s := range all {
		if s.late() {
			err := ErrChanged
			for _, d := range slices.Backward(done) {
				err = errors.Join(err, d.out())
			}
			return fmt.Errorf("%s %w", s.Path, err)
		}
	}
	return nil
}

// swapping is a file whose new words wait beside it; once they are in place, the old ones may be kept there.
type swapping struct {
	Swap
	real string
	file *File
	kept bool
}

func stage(f Swap) (*swapping, error) {
	real, err := filepath.EvalSymlinks(f.Path)
	if err != nil {
		return nil, err
	}
	info, err := os.Lstat(real)
	if err != nil {
		return nil, err
	}
	if err := fitToReplace(real, info); err != nil {
		return nil, err
	}
	if b, err := os.ReadFile(real); err != nil || !bytes.Equal(b, f.Old) {
		return nil, errors.Join(err, ErrChanged)
	}
	file, err := Create(Disk, real, info.Mode().Perm())
	if err != nil {
		return nil, err
	}
	s := &swapping{Swap: f, real: real, file: file}
	if _, err := file.Write(f.New); err != nil {
		return s, err
	}
	return s, errors.Join(supported(file.Chmod(info.Mode().Perm())), file.Close()) // the mask of new files may have taken something
}

// fitToReplace refuses what a replacement would quietly break.
func fitToReplace(real string, info fs.FileInfo) error {
	switch {
	case !info.Mode().IsRegular():
		return errors.New("is no ordinary file")
	case info.Mode()&0o222 == 0:
		return errors.New("is write-protected")
	case names(info) > 1:
		return errors.New("has a second name (a hard link), which would keep the old words")
	}
	dir, base := filepath.Split(real)
	for _, open := range []string{"." + base + ".swp", ".#" + base, "." + base + ".kate-swp"} {
		if _, err := os.Lstat(filepath.Join(dir, open)); err == nil {
			return fmt.Errorf("is open in an editor (%s is there); save it and close it there first", open)
		}
	}
	return nil
}

// JournalName is the name of a journal of this process.
func JournalName() string { return fmt.Sprintf("change-%s-%d.json", machine(), os.Getpid()) }

var journalForm = regexp.MustCompile(`^change-([0-9a-f]{8})-([1-9][0-9]{0,9})\.json$`)

// RecoverAll recovers from all journals of a folder whose processes ran on this machine and are gone, and gives the files put back.
func RecoverAll(dir string) (files []string, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		m := journalForm.FindStringSubmatch(e.Name())
		if m == nil || m[1] != machine() {
			continue
		}
		if pid, err := strconv.Atoi(m[2]); err == nil && pid != os.Getpid() && gone(pid) {
			put, err := Recover(filepath.Join(dir, e.Name()))
			if err != nil {
				return files, err
			}
			files = append(files, put...)
		}
	}
	return files, nil
}

// recoverable is what a journal may hold at most: far above the files of a household.
const recoverable = 64 << 20

// Recover puts back what Together left half done when its program was killed, and gives the files put back. A file that
// holds neither what it did nor what it should have is left alone with all others, and the journal too.
func Recover(journal string) (files []string, err error) {
	info, err := os.Stat(journal)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err == nil && info.Size() > recoverable {
		err = errors.New("is too large")
	}
	if err != nil {
		return nil, err
	}
	b, err := os.ReadFile(journal)
	if err != nil {
		return nil, err
	}
	var swaps []Swap
	if err := json.Unmarshal(b, &swaps); err != nil {
		return nil, fmt.Errorf("%s cannot be read as the journal of a change: %w", journal, err)
	}
	holds, fresh := make([][]byte, len(swaps)), 0
	for i, s := range swaps {
		if holds[i], err = os.ReadFile(s.Path); err != nil {
			return nil, err
		}
		switch {
		case bytes.Equal(holds[i], s.New):
			fresh++
		case !bytes.Equal(holds[i], s.Old):
			return nil, fmt.Errorf("%s is neither as it was before a change that was broken off nor as that would have left it; put it right by hand, then delete %s, which holds both", s.Path, journal)
		}
	}
	if fresh < len(swaps) {
		for i, s := range swaps {
			if bytes.Equal(holds[i], s.Old) {
				continue
			}
			info, err := os.Stat(s.Path)
			if err == nil {
				err = Write(s.Path, s.Old, info.Mode().Perm())
			}
			if err != nil {
				return files, err
			}
			files = append(files, s.Path)
		}
	}
	return files, os.Remove(journal)
}

// renameIn gives the new words the file's name. Who saves the file between the look and the step is not noticed.
func (s *swapping) renameIn() error {
	if b, err := os.ReadFile(s.real); err != nil || !bytes.Equal(b, s.Old) {
		return errors.Join(err, ErrChanged)
	}
	return s.file.Replace()
}

// writeBack puts the old words back by writing them anew.
func (s *swapping) writeBack() error {
	info, err := os.Stat(s.real)
	if err != nil {
		return err
	}
	return Write(s.real, s.Old, info.Mode().Perm())
}
