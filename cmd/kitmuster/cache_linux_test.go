package main

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/fxamacker/cbor/v2"
	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/cache"
	"kitmuster/lint/household"
	"kitmuster/lint/testkit"
)

// keyOf is the key of an entry, by its path in a cache.
func keyOf(t *testing.T, name string) cache.Key {
	t.Helper()
	_, digits, _ := strings.Cut(name, "/")
	b, err := hex.DecodeString(strings.ReplaceAll(digits, "/", ""))
	if err != nil || len(b) != len(cache.Key{}) {
		t.Fatal(name, err)
	}
	return cache.Key(b)
}

// acquit puts the answer of a clean household in the place of the one that judging gave, sealed with a key.
func acquit(t *testing.T, store, key, folder string) {
	t.Helper()
	s, err := cache.Open(store, []byte(key), 1<<30, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	forged := 0
	for name := range entriesOf(t, store) {
		k := keyOf(t, name)
		text, ok := s.Get(k)
		var a lint.Answer
		if !ok || cbor.Unmarshal(text, &a) != nil || a.Household.Path != folder {
			continue
		}
		clean := lint.Pack(household.Outcome{Household: a.Household})
		if text, err = cbor.Marshal(clean); err != nil {
			t.Fatal(err)
		}
		s.Put(k, text)
		forged++
	}
	if forged != 1 || s.Err() != nil {
		t.Fatalf("%d answers of %s in the cache; %v", forged, folder, s.Err())
	}
}

// A stranger commits a cache in which a broken kit is judged clean: a clone that checks it judges anew.
func TestCommittedCacheAcquitsNobody(t *testing.T) {
	t.Parallel()
	const theirs = "a key that a stranger made for this alone"
	origin := t.TempDir()
	neighbours(t, origin, 2)
	with := func(key string) []string { return []string{cacheKey + "=" + key} }
	args := checkArgs("--cache", ".kits-cache", "./...")
	if got := runsWith(t, origin, with(theirs), args...); got.code != exitFindings {
		t.Fatalf("exit %d, %q", got.code, got.errs)
	}
	store := filepath.Join(origin, ".kits-cache")
	for _, h := range []string{"h000", "h001"} {
		acquit(t, store, theirs, h)
	}
	if got := runsWith(t, origin, with(theirs), args...); got.code != exitClean {
		t.Fatalf("the forged answers are not whole: exit %d\n%.300s", got.code, got.out)
	}
	// The same with the seal that needed no key: in the folder of that time, and in that of today.
	plain := filepath.Join(origin, ".plain-cache")
	for name := range entriesOf(t, store) {
		b, err := os.ReadFile(filepath.Join(store, name))
		if err != nil {
			t.Fatal(err)
		}
		k := keyOf(t, name)
		sum := sha256.Sum256(append(k[:], b[sha256.Size:]...))
		_, digits, _ := strings.Cut(name, "/")
		for _, version := range []string{"v1/", "v2/"} {
			testkit.Write(t, plain, map[string]string{version + digits: string(sum[:]) + string(b[sha256.Size:])})
		}
	}
	gitIn(t, origin, "init", "-q", "-b", "main", ".")
	gitIn(t, origin, "add", "-f", "-A")
	gitIn(t, origin, "commit", "-q", "-m", "kits")

	want := runs(t, origin, checkArgs("--no-cache", "./...")...)
	if want.code != exitFindings {
		t.Fatalf("exit %d, %q", want.code, want.errs)
	}
	keys := map[string][]string{
		"a key of the environment": with(sealing),
		"a key file":               append(with(""), "HOME="+t.TempDir()),
		"no key":                   with(""),
		"a key in the work tree":   append(with(""), "HOME=CLONE"),
	}
	for name, first := range map[string][]string{".kits-cache": {"a key of the environment", "a key in the work tree"}, ".plain-cache": {"a key of the environment"}} {
		for _, kind := range testkit.SomeOf(t, keys, first...) {
			env := keys[kind]
			t.Run(name+" and "+kind, func(t *testing.T) {
				t.Parallel()
				clone := filepath.Join(t.TempDir(), "clone")
				gitIn(t, origin, "clone", "-q", origin, clone)
				if n := len(entriesOf(t, filepath.Join(clone, name))); n < 4 {
					t.Fatalf("%d entries came along", n)
				}
				env := strings.Split(strings.ReplaceAll(strings.Join(env, "\n"), "CLONE", clone), "\n")
				for range 2 {
					got := runsWith(t, clone, env, checkArgs("--cache", name, "./...")...)
					if got.code != want.code || got.out != want.out {
						t.Errorf("exit %d, %q; other than without a cache:\n%s", got.code, got.errs, cmp.Diff(want.out, got.out))
					}
					if refused := strings.HasPrefix(got.errs, "kitmuster: the cache "+name+" cannot be used, so everything is judged anew: "); refused != (kind == "no key" || kind == "a key in the work tree") {
						t.Errorf("said: %q", got.errs)
					}
				}
			})
		}
	}
}

// A cache in the work tree serves those who have a key from elsewhere; a link there leads to no folder elsewhere.
func TestCacheInTheWorkTree(t *testing.T) {
	t.Parallel()
	dir, outside := t.TempDir(), t.TempDir()
	neighbours(t, dir, 1)
	gitIn(t, dir, "init", "-q", "-b", "main", ".")
	if got := runs(t, dir, checkArgs("--cache", "kept", "h000")...); got.code != exitFindings || got.errs != "" {
		t.Errorf("exit %d, %q", got.code, got.errs)
	}
	before := entriesOf(t, filepath.Join(dir, "kept"))
	if got := runs(t, dir, checkArgs("--cache", "kept", "h000")...); got.code != exitFindings || got.errs != "" || len(before) != perHousehold {
		t.Errorf("exit %d, %q, %d entries", got.code, got.errs, len(before))
	}
	if diff := cmp.Diff(before, entriesOf(t, filepath.Join(dir, "kept"))); diff != "" {
		t.Errorf("what was there was not found again:\n%s", diff)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "out")); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"out", "out/deeper", filepath.Join(dir, "out")} {
		got := runs(t, dir, checkArgs("--cache", name, "h000")...)
		if got.code != exitFindings || !strings.Contains(got.errs, "a link in the work tree "+dir+" leads out of it to "+outside+"; name that folder itself\n") {
			t.Errorf("%s: exit %d, %q", name, got.code, got.errs)
		}
	}
	if names, err := os.ReadDir(outside); err != nil || len(names) > 0 {
		t.Errorf("%v, %v", names, err)
	}
}

// A key that is too short ends the run, and no key is ever printed. Where no cache is used nobody minds.
func TestKeyOfTheEnvironment(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 1)
	cases := map[string]struct {
		key  string
		long string
	}{
		"short": {"secret-31-characters-long-12345", "has 31 characters"}, "blanks do not count": {"  secret-twelve  \n", "has 13 characters"},
		"nothing but blanks": {strings.Repeat(" ", 40), "has 0 characters"}, "signs are counted, not bytes": {strings.Repeat("ä", 20), "has 20 characters"},
	}
	for _, name := range testkit.SomeOf(t, cases, "short", "signs are counted, not bytes") {
		c := cases[name]
		env := []string{cacheKey + "=" + c.key}
		got := runsWith(t, dir, env, checkArgs("h000")...)
		if got.code != exitUnfit || got.out != "" || !strings.Contains(got.errs, cacheKey+" "+c.long+" and needs at least 32;") || strings.TrimSpace(c.key) != "" && strings.Contains(got.errs, strings.TrimSpace(c.key)) {
			t.Errorf("%s: exit %d, %q", name, got.code, got.errs)
		}
		if got := runsWith(t, dir, env, checkArgs("--no-cache", "h000")...); got.code != exitFindings {
			t.Errorf("%s, --no-cache: exit %d, %q", name, got.code, got.errs)
		}
	}
	store := t.TempDir()
	for _, key := range []string{sealing, sealing + "\n", "  " + sealing} { // a secret's last line end is none of it
		if got := runsWith(t, dir, []string{cacheKey + "=" + key}, checkArgs("--cache", store, "h000")...); got.code != exitFindings || got.errs != "" {
			t.Errorf("exit %d, %q", got.code, got.errs)
		}
	}
	before := entriesOf(t, store)
	if len(before) != perHousehold {
		t.Errorf("%d entries", len(before))
	}
	if got := runsWith(t, dir, []string{cacheKey + "=another" + sealing}, checkArgs("--cache", store, "h000")...); got.code != exitFindings {
		t.Errorf("exit %d, %q", got.code, got.errs)
	}
	for name, ino := range entriesOf(t, store) {
		if before[name] == ino {
			t.Errorf("%s was believed under another key", name)
		}
	}
}

// The user's own key is made at first use, for its owner alone; what is wrong with it is told, and everything judged anew.
func TestKeyFileOfTheCache(t *testing.T) {
	t.Parallel()
	good := strings.Repeat("0f", 32) + "\n"
	write := func(mode os.FileMode, text string) func(t *testing.T, file string) {
		return func(t *testing.T, file string) {
			if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			if err := os.Chmod(file, mode); err != nil {
				t.Fatal(err)
			}
		}
	}
	cases := map[string]struct {
		lay  func(t *testing.T, file string)
		says string // "" where the key is used
	}{
		"none yet":          {func(*testing.T, string) {}, ""},
		"a good one":        {write(0o600, good), ""},
		"only to be read":   {write(0o400, good), ""},
		"read by the group": {write(0o640, good), "others on this machine can read or change its key FILE; write chmod 600 FILE, or set KITMUSTER_CACHE_KEY to at least 32 random characters"},
		"read by others":    {write(0o604, good), "others on this machine can read or change its key FILE; "},
		"changed by others": {write(0o602, good), "others on this machine can read or change its key FILE; "},
		"empty":             {write(0o600, ""), "FILE does not hold a key: it has to be 64 hexadecimal digits and nothing else; "},
		"too short":         {write(0o600, good[2:]), "FILE does not hold a key: "},
		"too long":          {write(0o600, good+good), "FILE does not hold a key: "},
		"other text":        {write(0o600, strings.Repeat("secret__", 8)), "FILE does not hold a key: "},
		"a folder":          {func(t *testing.T, file string) { _ = os.Mkdir(file, 0o700) }, "the key in FILE cannot be read: it is not an ordinary file; "},
		"a pipe":            {func(t *testing.T, file string) { _ = syscall.Mkfifo(file, 0o600) }, "the key in FILE cannot be read: it is not an ordinary file; "},
		"a device":          {func(t *testing.T, file string) { _ = os.Symlink("/dev/zero", file) }, "the key in FILE cannot be read: it is not an ordinary file; "},
		"a link to nothing": {func(t *testing.T, file string) { _ = os.Symlink("gone", file) }, "the key in FILE cannot be read: no such file or directory; "},
	}
	for _, name := range testkit.SomeOf(t, cases, "none yet", "a pipe") {
		c := cases[name]
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir, home, store := t.TempDir(), t.TempDir(), filepath.Join(t.TempDir(), "cache")
			neighbours(t, dir, 1)
			file := filepath.Join(home, ".config/kitmuster/cache.key")
			if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
				t.Fatal(err)
			}
			c.lay(t, file)
			env := []string{cacheKey + "=", "HOME=" + home}
			for _, args := range [][]string{{"--cache", store}, {}} { // a key at fault is told, wherever the cache lies
				got := runsWith(t, dir, env, checkArgs(append(args, "h000")...)...)
				says := strings.ReplaceAll(c.says, "FILE", file)
				if got.code != exitFindings || (got.errs == "") != (says == "") || !strings.Contains(got.errs, " cannot be used, so everything is judged anew: "+says) && says != "" {
					t.Errorf("%v: exit %d, %q", args, got.code, got.errs)
				}
				for _, secret := range []string{good[:60], "secret_"} {
					if strings.Contains(got.errs+got.out, secret) {
						t.Errorf("%v: the key is printed: %q", args, got.errs)
					}
				}
			}
			if n := len(entriesOf(t, store)); (n == perHousehold) != (c.says == "") {
				t.Errorf("%d entries", n)
			}
			if c.says != "" {
				return
			}
			before := entriesOf(t, store)
			runsWith(t, dir, env, checkArgs("--cache", store, "h000")...)
			if diff := cmp.Diff(before, entriesOf(t, store)); diff != "" {
				t.Errorf("not found again:\n%s", diff)
			}
			info, err := os.Lstat(file)
			names, _ := os.ReadDir(filepath.Dir(file))
			if err != nil || info.Mode().Perm()&0o077 != 0 || len(names) != 1 {
				t.Errorf("%v, %v, %v", info, err, names)
			}
		})
	}
}

// Where this machine has no place for a key, nothing is kept; who asked for a cache is told, others are not bothered.
func TestNoPlaceForAKey(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 1)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	cases := map[string][]string{
		"no home":                {},
		"a home that is a file":  {"HOME=" + file},
		"a relative folder":      {"XDG_CONFIG_HOME=config", "HOME=" + t.TempDir()},
		"a home that is nowhere": {"HOME=/proc/nobody"},
	}
	for _, name := range testkit.SomeOf(t, cases, "no home", "a home that is a file") {
		env := cases[name]
		env = append(env, cacheKey+"=")
		store := filepath.Join(t.TempDir(), "cache")
		got := runsWith(t, dir, env, checkArgs("--cache", store, "h000")...)
		if got.code != exitFindings || !strings.HasPrefix(got.errs, "kitmuster: the cache "+store+" cannot be used, so everything is judged anew: there is no key to seal it with: ") ||
			!strings.HasSuffix(got.errs, "; set KITMUSTER_CACHE_KEY to at least 32 random characters\n") || strings.Count(got.errs, "\n") != 1 {
			t.Errorf("%s: exit %d, %q", name, got.code, got.errs)
		}
		if _, err := os.Lstat(store); err == nil {
			t.Errorf("%s: the folder was made", name)
		}
		if got := runsWith(t, dir, env, checkArgs("h000")...); got.code != exitFindings || got.errs != "" {
			t.Errorf("%s, no cache named: exit %d, %q", name, got.code, got.errs)
		}
	}
}

// A key that a commit can have put there is none: in the work tree of the folder that is worked in, of a path, of the root, around
// a submodule, and where a link in it leads to the key. Beside it, it is one.
func TestKeyInTheWorkTree(t *testing.T) {
	t.Parallel()
	good := strings.Repeat("0f", 32) + "\n"
	cases := map[string]struct {
		git   []string // what a .git is made in: folders, and files by a name that ends in =
		home  string
		links map[string]string
		wd    string
		args  []string
		is    bool
	}{
		"the same tree":            {git: []string{"repo"}, home: "repo/home", wd: "repo"},
		"the tree's top":           {git: []string{"repo"}, home: "repo", wd: "repo/kits"},
		"the tree of the path":     {git: []string{"repo"}, home: "repo/home", wd: "other", args: []string{"../repo/kits/..."}},
		"the tree of the root":     {git: []string{"repo"}, home: "repo/home", wd: "other", args: []string{"--root", "../repo", "../other/..."}},
		"around a submodule":       {git: []string{"repo", "repo/kits="}, home: "repo/home", wd: "repo/kits"},
		"by a link into it":        {git: []string{"repo"}, home: "me", links: map[string]string{"me/.config": "../repo/home/.config"}, wd: "repo"},
		"by a link out of it":      {git: []string{"repo"}, home: "repo/home", links: map[string]string{"repo/home/.config": "../../me/.config"}, wd: "repo"},
		"the tree by another name": {git: []string{"repo"}, home: "repo/home", links: map[string]string{"alias": "repo"}, wd: "alias/kits"},
		"beside it":                {git: []string{"repo"}, home: "me", wd: "repo", is: true},
		"a tree around the user":   {git: []string{".", "repo"}, home: "me", wd: "repo", is: true}, // of that, nobody judges anything
		"no git":                   {home: "repo/home", wd: "repo", is: true},
	}
	for _, name := range testkit.SomeOf(t, cases, "by a link into it", "beside it") {
		c := cases[name]
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			top, err := filepath.EvalSymlinks(t.TempDir())
			if err != nil {
				t.Fatal(err)
			}
			testkit.Write(t, top, map[string]string{"repo/kits/h/kit.cue": neighbour, "other/h/kit.cue": neighbour, "repo/home/x": "", "me/x": ""})
			for _, g := range c.git {
				if file, ok := strings.CutSuffix(g, "="); ok {
					testkit.Write(t, top, map[string]string{file + "/.git": "gitdir: ../.git/modules/kits\n"})
				} else if err := os.Mkdir(filepath.Join(top, g, ".git"), 0o700); err != nil {
					t.Fatal(err)
				}
			}
			for from, to := range c.links {
				if strings.HasSuffix(to, "/.config") {
					if err := os.MkdirAll(filepath.Join(top, filepath.Dir(from), to), 0o700); err != nil {
						t.Fatal(err)
					}
				}
				if err := os.Symlink(to, filepath.Join(top, from)); err != nil {
					t.Fatal(err)
				}
			}
			home := filepath.Join(top, c.home)
			file := filepath.Join(home, ".config/kitmuster/cache.key")
			args := c.args
			if args == nil {
				args = []string{"./..."}
			}
			run := func(how ...string) ran {
				return runsWith(t, filepath.Join(top, c.wd), []string{cacheKey + "=", "HOME=" + home, "PWD=" + filepath.Join(top, c.wd)}, checkArgs(slices.Concat(how, args)...)...)
			}
			want := run("--no-cache")
			for _, there := range []bool{false, true} {
				if there {
					if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
						t.Fatal(err)
					}
					if err := os.WriteFile(file, []byte(good), 0o600); err != nil {
						t.Fatal(err)
					}
				}
				got := run("--cache", filepath.Join(top, "cache"))
				if c.is != (got.errs == "") || !c.is && !strings.Contains(got.errs, "the key to seal it with would be "+file+", and a commit can have put that into the work tree ") || got.code != want.code || got.out != want.out {
					t.Errorf("there %v: exit %d, %q", there, got.code, got.errs)
				}
				if _, err := os.Stat(file); err == nil && !there && !c.is {
					t.Error("a key was made in the work tree")
				}
			}
			if n := len(entriesOf(t, filepath.Join(top, "cache"))); (n > 0) != c.is {
				t.Errorf("%d entries", n)
			}
		})
	}
}

// What is no file, in an entry's place, holds nobody up.
func TestNoFileInAnEntrysPlace(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 2)
	want := runs(t, dir, checkArgs("--no-cache", "./...")...)
	cases := map[string]func(string) error{
		"pipe":   func(name string) error { return syscall.Mkfifo(name, 0o600) },
		"zeros":  func(name string) error { return os.Symlink("/dev/zero", name) },
		"folder": func(name string) error { return os.Mkdir(name, 0o700) },
	}
	for _, name := range testkit.SomeOf(t, cases, "pipe") {
		lay := cases[name]
		for _, whole := range []bool{false, true} { // in the place of an entry, or of a folder of them
			store := t.TempDir()
			runs(t, dir, checkArgs("--cache", store, "./...")...)
			for entry := range allEntriesOf(t, store) {
				place := filepath.Join(store, entry)
				if whole {
					place = filepath.Dir(place)
				}
				if err := os.RemoveAll(place); err != nil {
					t.Fatal(err)
				}
				if err := lay(place); err != nil && !os.IsExist(err) {
					t.Fatal(err)
				}
			}
			if got := runs(t, dir, checkArgs("--cache", store, "./...")...); got.code != want.code || got.out != want.out {
				t.Errorf("%s: exit %d, %q\n%s", name, got.code, got.errs, cmp.Diff(want.out, got.out))
			}
		}
	}
}
