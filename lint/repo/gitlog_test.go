package repo

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// on is the same repository at a time of its own, RFC 3339 or as git reads it.
func (s *scratch) on(date string) *scratch {
	return &scratch{s.t, s.dir, append(slices.Clone(s.env), "GIT_COMMITTER_DATE="+date)}
}

// brew makes a commit of files at a time.
func (s *scratch) brew(date, message string, files map[string]string) string {
	s.t.Helper()
	s.write(files)
	return s.on(date).commit(message)
}

// logged is the history as the tests compare it: day and subject.
func (s *scratch) logged(r *Repository, n int, paths ...string) (out, remarks []string) {
	s.t.Helper()
	for i, p := range paths {
		paths[i] = s.name(p)
	}
	commits, remarks, err := r.Log(s.t.Context(), n, paths...)
	s.must(err)
	for _, c := range commits {
		if got := s.git("log", "-1", "--format=%s", c.ID); got != c.Subject {
			s.t.Errorf("%s: subject %q, git says %q", c.ID, c.Subject, got)
		}
		out = append(out, c.Day+" "+c.Subject)
	}
	return out, remarks
}

// seasons has a history of some days.
func seasons(t testing.TB) *scratch {
	s := newScratch(t)
	s.brew("2026-01-01T08:00:00Z", "begin", map[string]string{"village/alder/kit.cue": "1", "village/birch/kit.cue": "1", "village/shared.cue": "1", "village/cue.mod/module.cue": "1", "village/README": "1"})
	s.brew("2026-01-02T08:00:00Z", "alder, morning", map[string]string{"village/alder/kit.cue": "2"})
	s.brew("2026-01-02T20:00:00Z", "alder, evening", map[string]string{"village/alder/packs/rust.cue": "1"})
	s.brew("2026-01-03T23:30:00-02:00", "shared, already the fourth", map[string]string{"village/shared.cue": "2"})
	s.brew("2026-01-05T08:00:00Z", "birch", map[string]string{"village/birch/kit.cue": "2"})
	s.brew("2026-01-06T08:00:00Z", "module", map[string]string{"village/cue.mod/module.cue": "2"})
	s.brew("2026-01-07T08:00:00Z", "readme", map[string]string{"village/README": "2"})
	s.must(os.Remove(filepath.Join(s.dir, "village/shared.cue")))
	s.brew("2026-01-08T08:00:00Z", "shared is gone", nil)
	s.brew("2026-01-09T08:00:00Z", "nothing", nil)
	return s
}

func TestLog(t *testing.T) {
	s := seasons(t)
	s.must(os.Symlink("alder", filepath.Join(s.dir, "village/larch")))
	s.brew("2026-01-10T08:00:00Z", "a link", nil)
	s.awkward()
	alder := []string{"2026-01-02 alder, evening", "2026-01-01 begin"}
	for _, c := range []struct {
		why   string
		n     int
		paths []string
		want  []string
	}{
		{"a household", 9, []string{"village/alder"}, alder},
		{"with what is shared above, and its module", 9, []string{"village/alder", "village/*.cue", "village/cue.mod"},
			[]string{"2026-01-08 shared is gone", "2026-01-06 module", "2026-01-04 shared, already the fourth", alder[0], alder[1]}},
		{"no more than asked for", 2, []string{"village/alder", "village/*.cue"}, []string{"2026-01-08 shared is gone", "2026-01-04 shared, already the fourth"}},
		{"one", 1, []string{"village/alder"}, alder[:1]},
		{"none", 0, []string{"village/alder"}, nil},
		{"a file", 9, []string{"village/README"}, []string{"2026-01-07 readme", "2026-01-01 begin"}},
		{"all", 3, []string{""}, []string{"2026-01-10 a link", "2026-01-08 shared is gone", "2026-01-07 readme"}},
		{"as the link leads", 9, []string{"village/larch"}, append([]string{"2026-01-10 a link"}, alder...)},
		{"nowhere", 9, []string{"village/elm"}, nil},
		{"outside", 9, []string{".."}, nil},
	} {
		for _, dir := range []string{s.dir, filepath.Join(s.dir, "village/alder")} {
			got, remarks := s.logged(s.at(dir).open(), c.n, slices.Clone(c.paths)...)
			if diff := cmp.Diff(c.want, got); diff != "" || len(remarks) > 0 {
				t.Errorf("%s, from %s: %v (-want +got):\n%s", c.why, dir, remarks, diff)
			}
		}
	}
}

// What a merge brings in counts as of the merge, and only what the first parent leads to is history.
func TestLogOfAMerge(t *testing.T) {
	s := seasons(t)
	s.git("checkout", "-q", "-b", "side")
	s.brew("2026-02-01T08:00:00Z", "on the side", map[string]string{"village/alder/side.cue": "1"})
	s.git("checkout", "-q", "main")
	s.brew("2026-02-02T08:00:00Z", "meanwhile", map[string]string{"village/birch/kit.cue": "3"})
	s.on("2026-02-03T08:00:00Z").git("merge", "-q", "--no-ff", "-m", "merged", "side")
	want := []string{"2026-02-03 merged", "2026-01-02 alder, evening", "2026-01-01 begin"}
	if got, _ := s.logged(s.open(), 9, "village/alder"); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// Whatever names, subjects and dates hold, a line of the history is one commit.
func TestLogOfHostileCommits(t *testing.T) {
	s := newScratch(t)
	one := s.brew("2026-01-01T08:00:00Z", "\x1b[31mred\u202e\x07 %H %x00\n"+"commit "+strings.Repeat("a", 40)+"\n\nbody", map[string]string{"a*[b]/kit.cue": "1", "azz/kit.cue": "1", "a*[b]/sub/x.cue": "1"})
	s.brew("2026-01-02T08:00:00Z", "a neighbour", map[string]string{"azz/kit.cue": "2", "README": "1"})
	s.brew("2026-01-03T08:00:00Z", "below", map[string]string{"a*[b]/sub/x.cue": "2"})
	r := s.open()
	commits, _, err := r.Log(t.Context(), 9, s.name("a*[b]/*.cue"))
	if err != nil || len(commits) != 1 || commits[0].ID != one || commits[0].Day != "2026-01-01" || !strings.HasPrefix(commits[0].Subject, "\x1b[31mred\u202e\x07 %H %x00 commit aaa") {
		t.Errorf("%+v, %v", commits, err)
	}
	// Dates that are none, and clocks that were wrong: the tree of a commit is taken as it is, its date is not.
	parent := s.git("rev-parse", "HEAD")
	for i, date := range []string{"99999999999 +0000", "0 +0000", "1767531600 +0000", "1767528000 +0000", "x +0000"} {
		s.write(map[string]string{"a*[b]/kit.cue": fmt.Sprint("dated ", i)})
		s.git("add", "-A")
		tree := s.git("write-tree")
		file := filepath.Join(filepath.Dir(s.dir), "commit")
		s.must(os.WriteFile(file, fmt.Appendf(nil, "tree %s\nparent %s\nauthor Ada <a@example.org> 0 +0000\ncommitter Ada <a@example.org> %s\n\ndate %d\n", tree, parent, date, i), 0o600))
		parent = s.git("hash-object", "-t", "commit", "-w", "--literally", file)
	}
	s.git("update-ref", "HEAD", parent)
	got, remarks := s.logged(r, 9, "a*[b]/kit.cue")
	// 1767531600 is 13:00 on 2026-01-04 (UTC), 1767528000 an hour before, though committed later.
	want := []string{"2026-01-04 date 2", "2026-01-01 " + commits[0].Subject, "1970-01-01 date 1"}
	if diff := cmp.Diff(want, got); diff != "" || len(remarks) != 1 || !strings.HasSuffix(remarks[0], "can have: 2; git log --format=fuller shows them") {
		t.Errorf("%q\n%s", remarks, diff)
	}
}

func TestLogThatEnds(t *testing.T) {
	s := seasons(t)
	o, _ := s.clone("--depth=4")
	r := o.open()
	got, remarks := o.logged(r, 4, "village/alder", "village/*.cue")
	if len(got) != 2 || len(remarks) != 1 {
		t.Fatalf("%q %q", got, remarks)
	}
	said, command, ok := strings.Cut(remarks[0], "; fetch the rest: git ")
	if !ok || !strings.HasSuffix(said, "ends after 2 of the 4 days asked for") {
		t.Fatal(remarks)
	}
	if got, remarks = o.logged(r, 2, "village/alder", "village/*.cue"); len(got) != 2 || len(remarks) > 0 {
		t.Errorf("%q %q", got, remarks)
	}
	o.git(strings.Fields(command)...)
	if got, remarks = o.logged(r, 4, "village/alder", "village/*.cue"); len(got) != 4 || len(remarks) > 0 {
		t.Errorf("%q %q", got, remarks)
	}
	// A partial clone has the history, and says how to get the files that it lacks.
	s.must(os.RemoveAll(s.dir + "-clone"))
	o, _ = s.clone("--filter=blob:none", "--no-checkout")
	r = o.open()
	if got, remarks := o.logged(r, 4, "village/alder", "village/*.cue"); len(got) != 4 || len(remarks) > 0 {
		t.Errorf("%q %q", got, remarks)
	}
	for v, err := range r.Versions(t.Context(), o.name("village/shared.cue"), 9) {
		if err == nil || !strings.Contains(err.Error(), "complete the clone") {
			t.Errorf("%q %v", v.Bytes, err)
		}
	}
	o.git("fetch", "-q", "--refetch", "--no-filter", "origin")
	if got := o.versions(r, "village/shared.cue", 9); !slices.Equal(got, []string{"2026-01-04 2", "2026-01-01 1"}) {
		t.Errorf("%q", got)
	}

	none := newScratch(t)
	r = none.open()
	if _, _, err := r.Log(t.Context(), 3, none.name("")); err == nil || !strings.Contains(err.Error(), "has no commit yet, so it has no history; commit first") {
		t.Error(err)
	}
	for _, err := range r.Versions(t.Context(), none.name("a"), 3) {
		if err == nil || !strings.Contains(err.Error(), "no commit yet") {
			t.Error(err)
		}
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, _, err := r.Log(ctx, 3, none.name("")); err == nil {
		t.Error("a history of what was stopped")
	}
}

// versions is what a file held: day and text.
func (s *scratch) versions(r *Repository, name string, n int) (out []string) {
	s.t.Helper()
	for v, err := range r.Versions(s.t.Context(), s.name(name), n) {
		s.must(err)
		out = append(out, v.Day+" "+string(v.Bytes))
	}
	return out
}

func TestVersions(t *testing.T) {
	t.Parallel()
	s := newScratch(t)
	want := []string{}
	for i := range 9 {
		date := fmt.Sprintf("2026-01-%02dT08:00:00Z", 1+i/2) // two a day
		if i == 4 {
			s.must(os.Remove(filepath.Join(s.dir, "audits/audit.json")))
			s.brew(date, "gone", nil)
			continue
		}
		s.brew(date, "audit", map[string]string{"audits/audit.json": fmt.Sprint(i)})
		s.brew(date, "something else", map[string]string{"audits/other": fmt.Sprint(i)})
		want = append([]string{date[:10] + fmt.Sprint(" ", i)}, want...)
	}
	s.write(map[string]string{"audits/audit.json": "not committed", "audits/own.json": "not committed"})
	r := s.open()
	for n, want := range map[int][]string{-1: nil, 0: nil, 1: want[:1], 3: want[:3], 5: want[:5], 8: want, 99: want} {
		if diff := cmp.Diff(want, s.versions(r, "audits/audit.json", n)); diff != "" {
			t.Errorf("%d: (-want +got):\n%s", n, diff)
		}
	}
	if got := s.versions(r, "audits/own.json", 9); got != nil {
		t.Errorf("%q", got)
	}
	n := 0
	for range r.Versions(t.Context(), s.name("audits/audit.json"), 9) {
		n++
		break
	}
	if n != 1 {
		t.Error(n)
	}
	// What is too large ends the walk and is named.
	f, err := os.Create(filepath.Join(s.dir, "audits/audit.json"))
	s.must(err)
	s.must(f.Truncate(maxBlob + 1))
	s.must(f.Close())
	id := s.brew("2026-02-01T08:00:00Z", "large", nil)
	var errs []error
	for v, err := range r.Versions(t.Context(), s.name("audits/audit.json"), 9) {
		if v.ID != id {
			t.Errorf("%+v", v.Commit)
		}
		errs = append(errs, err)
	}
	if len(errs) != 1 || errs[0] == nil || !strings.Contains(errs[0].Error(), "in commit "+id[:12]+": ") || !strings.Contains(errs[0].Error(), "at most 64 MiB are read") {
		t.Error(errs)
	}
}
