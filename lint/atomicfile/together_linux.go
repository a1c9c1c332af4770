package atomicfile

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"syscall"

	"golang.org/x/sys/unix"
)

// in gives the new words the file's name and the old ones the name of the part, in one step, and looks at what came out: a person
// who saved the file in between loses nothing.
func (s *swapping) in() error {
	if err := s.exchange(); err != nil {
		if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) { // a file system that cannot
			return s.renameIn()
		}
		return err
	}
	s.kept = true
	if s.late() {
		return errors.Join(ErrChanged, s.out())
	}
	return nil
}

// late reports whether somebody wrote into the file that held the old words: who has opened it before the exchange may write after it.
func (s *swapping) late() bool {
	if !s.kept {
		return false
	}
	b, err := os.ReadFile(s.file.part)
	return err != nil || !bytes.Equal(b, s.Old)
}

// out takes back what in did, but for what somebody saved under the file's name since.
func (s *swapping) out() error {
	if !s.kept {
		return s.writeBack()
	}
	if err := s.exchange(); err != nil {
		return err
	}
	if b, err := os.ReadFile(s.file.part); err != nil || !bytes.Equal(b, s.New) {
		return errors.Join(err, s.exchange())
	}
	return nil
}

func (s *swapping) exchange() error {
	return unix.Renameat2(unix.AT_FDCWD, s.file.part, unix.AT_FDCWD, s.real, unix.RENAME_EXCHANGE)
}

// names is the number of names that a file has.
func names(info fs.FileInfo) uint64 {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(s.Nlink)
	}
	return 1
}
