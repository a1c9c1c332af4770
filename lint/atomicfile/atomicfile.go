// Package atomicfile writes files whole or not at all: into a part beside the target, which takes the target's place in one step.
package atomicfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sync"
	"syscall"
	"time"
)

// Folder is where files are written: an *os.Root, or Disk.
type Folder interface {
	OpenFile(name string, flag int, perm fs.FileMode) (*os.File, error)
	Rename(from, to string) error
	Link(from, to string) error
	Remove(name string) error
	Chtimes(name string, atime, mtime time.Time) error
}

// Disk is the whole disk, by paths of the system.
var Disk Folder = disk{}

type disk struct{}

func (disk) OpenFile(name string, flag int, perm fs.FileMode) (*os.File, error) {
	return os.OpenFile(name, flag, perm)
}
func (disk) Rename(from, to string) error { return os.Rename(from, to) }
func (disk) Link(from, to string) error   { return os.Link(from, to) }
func (disk) Remove(name string) error     { return os.Remove(name) }
func (disk) Chtimes(name string, atime, mtime time.Time) error {
	return os.Chtimes(name, atime, mtime)
}

// File is a file under way. Once it is written it is closed, and then Replace or Add gives it its name; Drop may follow in any
// case, and takes away what got none.
type File struct {
	*os.File
	in           Folder
	target, part string
	settled      bool
}

// underWay are the files that have not got their name yet, for DropAll.
var underWay sync.Map

// Create begins a file that shall be the target, made with the permissions given. Links are not followed: a link is replaced.
func Create(in Folder, target string, perm fs.FileMode) (*File, error) {
	dir, base := split(in, target)
	for i := 0; ; i++ {
		part := dir + partOf(base, i)
		f, err := in.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
		if errors.Is(err, fs.ErrExist) && i < mostTries-1 { // someone else in this process writes the same
			continue
		}
		if err != nil {
			return nil, err
		}
		out := &File{File: f, in: in, target: target, part: part}
		underWay.Store(out, true)
		return out, nil
	}
}

// split cuts a path before its last name. In an os.Root the separator is a slash.
func split(in Folder, name string) (dir, base string) {
	if in == Disk {
		return filepath.Split(name)
	}
	return path.Split(name)
}

// Close ends the writing, and waits until what was written is on the disk, so that no target is ever an empty file after a power
// cut. Code that can do without that closes f.File.
func (f *File) Close() error { return errors.Join(supported(f.Sync()), f.File.Close()) }

// Chtimes says when the file was used and written last.
func (f *File) Chtimes(t time.Time) error { return f.in.Chtimes(f.part, t, t) }

// Replace makes a closed file the target, in the place of what is there. SyncFolder makes sure that it stays so.
func (f *File) Replace() error {
	if err := f.in.Rename(f.part, f.target); err != nil {
		return err
	}
	f.settle()
	return nil
}

// Add makes a closed file the target where there is none. An error that is fs.ErrExist says that there is one.
func (f *File) Add() error {
	if err := f.in.Link(f.part, f.target); err != nil {
		return err
	}
	_ = f.in.Remove(f.part) // as good as in place: a second name of the same file
	f.settle()
	return nil
}

// Drop takes away what did not get its name.
func (f *File) Drop() {
	if !f.settled {
		_ = f.File.Close()
		_ = f.in.Remove(f.part)
		f.settle()
	}
}

func (f *File) settle() {
	f.settled = true
	underWay.Delete(f)
}

// DropAll takes away the parts of all files under way, for a program that ends before they are whole.
func DropAll() {
	underWay.Range(func(x, _ any) bool {
		f := x.(*File)
		_ = f.in.Remove(f.part)
		return true
	})
}

// Write writes a whole file by a path of the system, keeps it over a power cut, and takes away what killed programs left of the
// same target.
func Write(target string, b []byte, perm fs.FileMode) error {
	f, err := Create(Disk, target, perm)
	if err != nil {
		return err
	}
	defer f.Drop()
	if _, err = f.Write(b); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	if err = f.Replace(); err != nil {
		return err
	}
	dir, base := filepath.Split(target)
	Sweep(dir, func(b string) bool { return b == base })
	return SyncFolder(dir)
}

// SyncFolder waits until the names of a folder are on the disk. Where a folder cannot be opened for that, as on Windows or
// without the right to list it, nothing more can be done than what Close did.
func SyncFolder(dir string) error {
	d, err := os.Open(orHere(dir))
	if err != nil {
		return nil
	}
	defer d.Close()
	if err := supported(d.Sync()); err != nil {
		return fmt.Errorf("the folder could not be kept: %w", err)
	}
	return nil
}

// supported leaves out the error of file systems that cannot sync at all.
func supported(err error) error {
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) {
		return nil
	}
	return err
}

func orHere(dir string) string {
	if dir == "" {
		return "."
	}
	return dir
}
