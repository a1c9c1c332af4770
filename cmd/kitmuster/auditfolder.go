package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"kitmuster/lint/atomicfile"
	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/page"
	"kitmuster/lint/report"
)

// auditFiles are the files of an audit beside its page.
var auditFiles = []struct {
	name string
	// private says that it holds nothing that may be shown to others.
	private bool
	write   func(io.Writer, *audit.Audit) error
}{
	{"audit.json", false, report.AuditJSON},
	{"households.csv", false, report.AuditHouseholds},
	{"findings.csv", false, report.AuditFindings},
	{"due.csv", true, report.AuditDue},
	{"audit.ics", true, report.Calendar},
}

// pages takes the files of an audit: all of them, or none.
type pages struct {
	dir string
	// made says that this made the folder, earlier that an audit lies there.
	made, earlier bool

	mu    sync.Mutex
	files []*wholeFile
}

// newFolder makes ready to write into a folder; shared says that others may see what is in it.
func newFolder(dir string, shared bool) (*pages, error) {
	f := &pages{dir: dir}
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		mode := fs.FileMode(0o700) // it tells of medicines and of where things are
		if shared {
			mode = 0o777
		}
		if err := os.Mkdir(dir, mode); err != nil {
			return nil, plain(err)
		}
		f.made = true
	case err != nil:
		return nil, plain(err)
	case !info.IsDir():
		return nil, openly(errors.New("this is a file; name a folder"))
	}
	return f, f.ours(shared)
}

// ours refuses a folder in which a file of an audit's name is someone's own, or in which audits for others and not for others would
// meet. One for others goes into a folder of its own, since what else lies there would be shown along.
func (f *pages) ours(shared bool) error {
	names := append([]string{page.AuditPage}, auditNames()...)
	for _, name := range names {
		if info, err := os.Stat(filepath.Join(f.dir, name)); err == nil && !info.Mode().IsRegular() {
			return openly(fmt.Errorf("it holds %s, which is no ordinary file; name another folder", name))
		}
	}
	if info, err := os.Lstat(filepath.Join(f.dir, page.HouseholdPages)); err == nil && !info.IsDir() {
		return openly(fmt.Errorf("it holds %s, which is no folder; name another folder", page.HouseholdPages))
	}
	by := page.WrittenBy(opening(filepath.Join(f.dir, page.AuditPage)))
	for _, name := range names {
		if _, err := os.Lstat(filepath.Join(f.dir, name)); err == nil && by == "" {
			return openly(fmt.Errorf("it holds %s, and no audit that this program wrote; name another folder, so that nothing of yours is lost", name))
		}
	}
	f.earlier = by != ""
	switch {
	case shared && by == page.Generator:
		return openly(errors.New("it holds an audit that is not for others; name another folder"))
	case !shared && by == page.SharedGenerator:
		return errors.New("it holds an audit for others, and this one is not; name another folder, or give --share-safe")
	case !shared:
		return nil
	}
	f.tidy()
	here, err := os.ReadDir(f.dir)
	if err != nil {
		return plain(err)
	}
	for _, e := range here {
		if !slices.Contains(names, e.Name()) && e.Name() != page.HouseholdPages {
			return openly(errors.New("it holds a file that is none of an audit's and would be shown along; name a folder for what others may see alone"))
		}
	}
	here, err = os.ReadDir(filepath.Join(f.dir, page.HouseholdPages))
	for _, e := range here {
		if !page.IsHousehold(e.Name(), opening(filepath.Join(f.dir, page.HouseholdPages, e.Name()))) {
			return openly(fmt.Errorf("its folder %s holds a file that is none of an audit's and would be shown along; name a folder for what others may see alone", page.HouseholdPages))
		}
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return plain(err)
	}
	return nil
}

// worth refuses to write where nobody was judged, and to put a part in the place of an earlier audit; what was found is told.
func (f *pages) worth(run *finding.Run, errs io.Writer) error {
	if run.Partial != "" && f.earlier {
		return openly(fmt.Errorf("%s; the audit that is there stays as it was", run.Partial))
	}
	if slices.ContainsFunc(run.Households, func(h finding.Household) bool { return h.Judged }) {
		return nil
	}
	if err := report.Lines(errs, run, report.Options{}); err != nil {
		return err
	}
	return openly(errors.New("no household could be judged, so no audit is written"))
}

func auditNames() (out []string) {
	for _, x := range auditFiles {
		out = append(out, x.name)
	}
	return out
}

// spool makes a temporary file; what is wrong with the place for those is said, as it is not DIR.
func spool() (*os.File, error) {
	f, err := temporary()
	if err != nil {
		return nil, fmt.Errorf("a temporary file could not be made: %w", err)
	}
	return f, nil
}

// write writes all files of an audit, side by side: each walks the households on its own.
func (f *pages) write(au *audit.Audit, shared, brief bool) error {
	errs := make([]error, len(auditFiles)+1)
	var wg sync.WaitGroup
	wg.Go(func() {
		if err := page.Audit(au, page.Options{Create: f.create, Spool: spool, Brief: brief}); err != nil {
			errs[0] = fmt.Errorf("the audit could not be written: %w", plain(err))
		}
	})
	for i, x := range auditFiles {
		if shared && x.private {
			continue
		}
		wg.Go(func() {
			w, err := f.create(x.name)
			if err == nil {
				err = errors.Join(x.write(w, au), w.Close())
			}
			if err != nil {
				errs[i+1] = fmt.Errorf("%s could not be written: %w", x.name, plain(err))
			}
		})
	}
	wg.Wait()
	return cmp.Or(errs...)
}

// create makes a file that stays only once all are kept.
func (f *pages) create(name string) (io.WriteCloser, error) {
	name = filepath.Join(f.dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		return nil, err
	}
	w, err := newWholeFile(name)
	if err != nil {
		return nil, err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.files = append(f.files, w)
	return w, nil
}

// keep makes all files the audit, and takes away pages of an earlier one that no longer belong to it.
func (f *pages) keep() error {
	now, folders := map[string]bool{}, map[string]bool{}
	for _, w := range f.files {
		if w.part != nil { // else it went straight to a pipe or a device
			if err := w.part.Replace(); err != nil {
				return fmt.Errorf("%s could not be written: %w", w.target, plain(err))
			}
		}
		now[filepath.Base(w.target)] = true
		folders[filepath.Dir(w.target)] = true
	}
	for _, dir := range slices.Sorted(maps.Keys(folders)) {
		if err := atomicfile.SyncFolder(dir); err != nil {
			return fmt.Errorf("%s: %w", dir, err)
		}
	}
	f.made = false
	old, _ := filepath.Glob(filepath.Join(f.dir, page.HouseholdPages, "h-*.html"))
	for _, name := range old {
		if !now[filepath.Base(name)] && page.IsHousehold(name, opening(name)) {
			if err := os.Remove(name); err != nil {
				return fmt.Errorf("%s is of an earlier audit and could not be taken away: %w", name, plain(err))
			}
		}
	}
	f.tidy()
	f.clear()
	return nil
}

// tidy takes away what a killed audit left, also of pages of households that are no longer there.
func (f *pages) tidy() {
	atomicfile.Sweep(f.dir, func(base string) bool { return base == page.AuditPage || slices.Contains(auditNames(), base) })
	atomicfile.Sweep(filepath.Join(f.dir, page.HouseholdPages), func(base string) bool { ok, _ := filepath.Match("h-*.html", base); return ok })
}

// clear takes away the folder of household pages, if it is one and nothing is in it.
func (f *pages) clear() {
	dir := filepath.Join(f.dir, page.HouseholdPages)
	if info, err := os.Lstat(dir); err == nil && info.IsDir() {
		_ = os.Remove(dir)
	}
}

// opening is how a file begins, nothing where it cannot be read.
func opening(name string) []byte {
	r, err := os.Open(name)
	if err != nil {
		return nil
	}
	defer r.Close()
	b := make([]byte, 1<<10)
	n, _ := io.ReadFull(r, b)
	return b[:n]
}

// drop takes away what was not kept.
func (f *pages) drop() {
	for _, w := range f.files {
		w.drop()
	}
	if f.made {
		f.clear()
		_ = os.Remove(f.dir) // only if nothing is in it
	}
}
