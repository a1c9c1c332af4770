package main

import (
	"archive/tar"
	"bytes"
	"cmp"
	"compress/gzip"
	"context"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unicode"

	"kitmuster/lint/testkit"
	"kitmuster/lint/valley"
)

// The table of attacks: what a stranger's pull request, standard, cache or environment can try. Each case is a small repository with a
// household "hostile" beside a "neighbour", run through the real program. Whatever the case, the run ends in time with one of the
// program's exit codes and no trace of the runtime, writes no mark that a CI log or a terminal obeys, and tells no secret.
const (
	// machineSecret lies in files beside the repository and in the environment, neighbourSecret in a file of the neighbour.
	machineSecret   = "qzmachinewkvjx"
	neighbourSecret = "qzneighbourwkvjx"
	// attackTime is after how long a run counts as hanging: the bounds of a household are one second.
	attackTime = 15 * time.Second
)

// attack is one case.
type attack struct {
	class, name string
	// why says what it tries.
	why string
	// files and links are laid into the repository, over those of laid; {out} in a target is the folder beside the repository.
	files, links map[string]string
	// make does what files and links cannot.
	make func(t *testing.T, dir string)
	// args are the command; nil is checkJSON.
	args []string
	// commit has everything committed, and the disk emptied, before the command runs.
	commit bool
	// refused says that the household must be named as not judged, with exit code 2; judged that it must be judged.
	refused, judged bool
	// failed says that the run must end with exit code 2.
	failed bool
	// hold says what else is wrong with the outcome, "" for nothing; dir is the repository.
	hold func(got ran, dir string) string
}

var checkJSON = []string{"check", "--no-cache", "--on", valley.On, "--format", "json", "--time-limit", "1s", "--memory-limit", "512MiB", "./..."}

// textual is a command over everything, in text.
func textual(command string, more ...string) []string {
	return slices.Concat(strings.Fields(command), []string{"--on", valley.On}, more, []string{"./..."})
}

// laid is what every repository begins with.
func laid() map[string]string {
	return map[string]string{
		"cue.mod/module.cue":    "module: \"harrow-valley.example/kits@v0\"\nlanguage: version: \"v0.17.0\"\n",
		"neighbour/kit.cue":     neighbour,
		"neighbour/private.txt": neighbourSecret,
		"neighbour/more.cue":    "package kit\n\n// " + neighbourSecret + "\n_private: \"" + neighbourSecret + "\"\n",
	}
}

func TestAttacks(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not installed")
	}
	alone := attackNeighbour(t, attackRun(t, attackTree(t, attack{}), checkJSON))
	if len(alone) == 0 {
		t.Fatal("nothing is said of the neighbour alone")
	}
	all := slices.Concat(linkAttacks(), specialAttacks(), markAttacks(), bombAttacks(), gitAttacks(), cacheAttacks(), largeAttacks(), standardAttacks(), environmentAttacks())
	if len(all) < 200 {
		t.Errorf("only %d cases", len(all))
	}
	slices.SortFunc(all, func(a, b attack) int {
		return cmp.Or(strings.Compare(a.class, b.class), strings.Compare(a.name, b.name))
	})
	classes := map[string]int{}
	for _, a := range all {
		classes[a.class]++
	}
	var first, rest []attack // the default run tries one of each class, the one in the middle
	seen := map[string]int{}
	for _, a := range all {
		if i, n := seen[a.class], classes[a.class]; i == n/2 {
			first = append(first, a)
		} else {
			rest = append(rest, a)
		}
		seen[a.class]++
	}
	all = testkit.Some(t, len(first), slices.Concat(first, rest))
	var mu sync.Mutex
	tried, held := map[string]int{}, map[string]int{}
	two := make(chan bool, 2)
	t.Run("each", func(t *testing.T) {
		for _, a := range all {
			t.Run(a.class+"/"+a.name, func(t *testing.T) {
				t.Parallel()
				two <- true
				defer func() { <-two }()
				wrong := a.run(t, alone)
				mu.Lock()
				defer mu.Unlock()
				if tried[a.class]++; wrong == "" {
					held[a.class]++
				} else {
					t.Errorf("%s: %.600s", a.why, wrong)
				}
			})
		}
	})
	n, h := 0, 0
	for _, class := range slices.Sorted(maps.Keys(tried)) {
		t.Logf("%-12s %3d tried, %3d held", class, tried[class], held[class])
		n, h = n+tried[class], h+held[class]
	}
	t.Logf("%-12s %3d tried, %3d held", "all", n, h)
}

// attackTree lays out a case and gives the repository's folder; beside it lie files with the secret, in every form that can be embedded.
func attackTree(t *testing.T, a attack) string {
	t.Helper()
	out, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	testkit.Write(t, out, map[string]string{
		"secret.txt": machineSecret, "secret.json": `"` + machineSecret + `"`, "secret.yaml": machineSecret + "\n",
		"secret.cue":  "package kit\n\nhousehold: \"" + machineSecret + "\"\npeople: ana: {age: \"40 y\", bodyMass: \"70 kg\"}\n",
		"lib/lib.cue": "package lib\n\nname: \"" + machineSecret + "\"\n",
	})
	dir := filepath.Join(out, "repo")
	testkit.Write(t, dir, laid())
	gitIn(t, dir, "init", "-q", "-b", "main")
	gitIn(t, dir, "config", "http.extraheader", "AUTHORIZATION: "+machineSecret) // where CI keeps the token of the checkout
	testkit.Write(t, dir, a.files)
	for name, target := range a.links {
		p := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(p), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(strings.ReplaceAll(target, "{out}", out), p); err != nil {
			t.Fatal(err)
		}
	}
	if a.make != nil {
		a.make(t, dir)
	}
	if a.commit {
		gitIn(t, dir, "add", "-A")
		gitIn(t, dir, "commit", "-q", "-m", "all")
		for _, name := range []string{"hostile", "neighbour"} {
			if err := os.RemoveAll(filepath.Join(dir, name)); err != nil {
				t.Fatal(err)
			}
		}
	}
	return dir
}

// gitIn runs git as of a day before those of the runs.
func gitIn(t *testing.T, dir string, args ...string) {
	t.Helper()
	testkit.Git(t, dir, []string{"GIT_COMMITTER_DATE=2026-10-05T08:00:00Z"}, args...)
}

// attackRun runs the program with the secret in its environment; exit code -1 says that it did not end in time or ended by a signal.
func attackRun(t *testing.T, dir string, args []string) ran {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), attackTime)
	defer cancel()
	cmd := exec.CommandContext(ctx, "kitmuster", args...)
	cmd.Dir, cmd.WaitDelay = dir, time.Second
	cmd.Env = []string{
		"PATH=" + os.Getenv("PATH"), "TMPDIR=" + os.TempDir(), "DEPLOY_KEY=" + machineSecret, "HOME=" + filepath.Dir(dir),
		"XDG_CACHE_HOME=" + filepath.Join(filepath.Dir(dir), "cache"), "XDG_CONFIG_HOME=" + filepath.Join(filepath.Dir(dir), "config"),
		"GIT_CONFIG_NOSYSTEM=1", "GOMAXPROCS=1", // one worker: it judges both households
	}
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	_ = cmd.Wait()
	return ran{cmd.ProcessState.ExitCode(), out.String(), errs.String()}
}

// run tries the case and says what is wrong, "" where it held.
func (a attack) run(t *testing.T, alone map[string]bool) string {
	dir := attackTree(t, a)
	args := a.args
	if args == nil {
		args = checkJSON
	}
	got := attackRun(t, dir, args)
	told := fmt.Sprintf("\nexit %d\nout: %.300s\nerr: %.300s", got.code, got.out, got.errs)
	switch {
	case got.code < 0 || got.code > exitUnfit:
		return "it did not end by itself in time" + told
	case strings.Contains(got.errs, "goroutine ") || strings.Contains(got.errs, "panic:"):
		return "a trace of the runtime" + told
	}
	written := got.out + "\n" + got.errs
	for _, name := range []string{"aud", "out"} { // where commands of the table write files
		_ = filepath.WalkDir(filepath.Join(filepath.Dir(dir), name), func(p string, d fs.DirEntry, err error) error {
			if err == nil && d.Type().IsRegular() {
				b, _ := os.ReadFile(p)
				written += "\n" + string(b)
			}
			return nil
		})
	}
	for _, secret := range []string{machineSecret, neighbourSecret} {
		if tells(written, secret) {
			return "it tells " + secret + told
		}
	}
	isText := !slices.Contains(args, "json")
	for _, stream := range []string{got.out, got.errs} {
		if why := obeyed(stream, isText); why != "" {
			return why + told
		}
	}
	if ran, _ := filepath.Glob(filepath.Join(filepath.Dir(dir), "RAN*")); len(ran) > 0 {
		return "it ran a command of the repository or of its configuration" + told
	}
	if a.failed && got.code != exitUnfit {
		return "it does not fail" + told
	}
	if !isText && args[0] == "check" && !a.failed {
		var run jsonRun
		if err := json.Unmarshal([]byte(got.out), &run); err != nil {
			return "no JSON" + told
		}
		judged := map[string]bool{}
		for _, h := range run.Households {
			judged[h.Path] = h.Judged
		}
		switch theirs := attackNeighbour(t, got); {
		case !maps.Equal(theirs, alone):
			return "the neighbour is judged otherwise than alone" + told
		case a.refused && (judged["hostile"] || got.code != exitUnfit):
			return "the household is judged all the same" + told
		case a.judged && !judged["hostile"]:
			return "what is allowed is refused" + told
		}
	}
	if a.hold != nil {
		if why := a.hold(got, dir); why != "" {
			return why + told
		}
	}
	return ""
}

// attackNeighbour is all that a check in JSON says of the neighbour.
func attackNeighbour(t *testing.T, got ran) map[string]bool {
	t.Helper()
	var run struct{ Findings []json.RawMessage }
	if err := json.Unmarshal([]byte(got.out), &run); err != nil {
		t.Fatalf("exit %d, and no JSON: %v\n%.300s", got.code, err, got.errs)
	}
	out := map[string]bool{}
	for _, f := range run.Findings {
		var at struct{ Path string }
		if err := json.Unmarshal(f, &at); err != nil {
			t.Fatal(err)
		}
		if at.Path == "neighbour" {
			out[string(f)] = true
		}
	}
	return out
}

var baseRuns = regexp.MustCompile(`[A-Za-z0-9+/_-]{12,}`)

// tells reports whether a text holds a secret: as it is, in hexadecimal, or somewhere in base64.
func tells(text, secret string) bool {
	if strings.Contains(text, secret) || strings.Contains(strings.ToLower(text), hex.EncodeToString([]byte(secret))) {
		return true
	}
	for _, run := range baseRuns.FindAllString(text, -1) {
		run = strings.NewReplacer("-", "+", "_", "/").Replace(run)
		for skip := range 4 {
			if skip >= len(run) {
				break
			}
			part := run[skip:]
			if len(part)%4 == 1 { // no whole byte
				part = part[:len(part)-1]
			}
			b, _ := base64.RawStdEncoding.DecodeString(part)
			if bytes.Contains(b, []byte(secret)) {
				return true
			}
		}
	}
	return false
}

// A secret is found however it is written; without this the table could not fail.
func TestAttacksSeeSecrets(t *testing.T) {
	for _, text := range []string{
		"x" + machineSecret, hex.EncodeToString([]byte("a" + machineSecret)), "YQ" + base64.StdEncoding.EncodeToString([]byte("ab"+machineSecret+"c")),
		base64.URLEncoding.EncodeToString([]byte("\xff\xfe" + machineSecret)), "prefix" + base64.StdEncoding.EncodeToString([]byte(machineSecret)),
	} {
		if !tells(text, machineSecret) {
			t.Errorf("not seen in %s", text)
		}
	}
	for text, bad := range map[string]bool{
		"fine\n": false, "a ::error:: inside\n": false, "::error::x\n": true, "x\n \t::warning::y": true, "a\u202eb": true, "a\x1b[2J": true, "a\rb": true, "a\u009bb": true,
		"at the end ##[error]x": true, "x ##vso[task.complete]": true, "a\u200bb": true, "tab\there": true, "é, 中, emoji 🙂": false,
	} {
		if got := obeyed(text, true) != ""; got != bad {
			t.Errorf("%q: %v", text, got)
		}
	}
}

var (
	commandLine = regexp.MustCompile(`(?m)^[\t ]*(::|##\[|##vso\[)`)
	commandMark = regexp.MustCompile(`##(vso)?\[`)
)

// obeyed says what in a stream a CI log or a terminal would obey. In text nothing may; a structured form may hold marks inside of a line.
func obeyed(s string, isText bool) string {
	if m := commandLine.FindString(s); m != "" {
		return fmt.Sprintf("a line begins with %q", m)
	}
	if m := commandMark.FindString(s); isText && m != "" {
		return fmt.Sprintf("it holds %q", m)
	}
	for _, r := range s {
		if r == '\n' || !isText && r == '\t' {
			continue
		}
		if unicode.IsControl(r) || isText && unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) {
			return fmt.Sprintf("it holds %U", r)
		}
	}
	return ""
}

// embedding is a kit that puts what it embeds where reports show it.
func embedding(what string) string {
	return "@extern(embed)\n\npackage kit\n\nimport \"encoding/base64\"\n\n_use: base64.Encode(null, \"x\")\n" + what + "\npeople: ana: {age: \"40 y\", bodyMass: \"70 kg\"}\npacks: rust: {carrier: \"ana\", mass: \"1 kg\"}\n"
}

// linkWays are the ways by which a household reads a file; the link lies at link and has the extension ext.
var linkWays = []struct {
	name, ext, link string
	files           map[string]string
}{
	{"kit file", ".cue", "hostile/kit.cue", nil},
	{"second kit file", ".cue", "hostile/second.cue", map[string]string{"hostile/kit.cue": "package kit\n\npeople: bo: {age: \"40 y\", bodyMass: \"70 kg\"}\n"}},
	{"embed text", ".txt", "hostile/s.txt", map[string]string{"hostile/kit.cue": embedding("household: _ @embed(file=s.txt,type=text)")}},
	{"embed binary", ".txt", "hostile/s.bin", map[string]string{"hostile/kit.cue": embedding("_b: bytes @embed(file=s.bin,type=binary)\nhousehold: base64.Encode(null, _b)")}},
	{"embed JSON", ".json", "hostile/s.json", map[string]string{"hostile/kit.cue": embedding("household: _ @embed(file=s.json)")}},
	{"embed YAML", ".yaml", "hostile/s.yaml", map[string]string{"hostile/kit.cue": embedding("household: _ @embed(file=s.yaml)")}},
	{"embed glob", ".json", "hostile/g/s.json", map[string]string{"hostile/kit.cue": embedding("_g: _ @embed(glob=g/*.json)\nhousehold: _g[\"g/s.json\"]")}},
}

// linkAttacks are links that lead where a household has no business.
func linkAttacks() (out []attack) {
	add := func(a attack) { out = append(out, a) }
	for _, w := range linkWays {
		up := strings.Repeat("../", strings.Count(w.link, "/")+1)
		lead := func(name, why, target string, more map[string]string) {
			links := map[string]string{w.link: target}
			maps.Copy(links, more)
			add(attack{class: "links", name: w.name + ", " + name, why: why, files: w.files, links: links, refused: true})
		}
		lead("absolute", "a file of the user's, by its whole path", "{out}/secret"+w.ext, nil)
		lead("relative", "a file of the user's, by steps upwards", up+"secret"+w.ext, nil)
		lead("chain", "a file of the user's, by a link inside of the repository", strings.TrimPrefix(up, "../")+"one", map[string]string{"one": "two", "two": "../secret" + w.ext})
		lead("loop", "links that lead round in a circle", strings.TrimPrefix(up, "../")+"one", map[string]string{"one": "two", "two": "one"})
		lead("device", "a device without end", "/dev/zero", nil)
		lead("configuration of git", "the token of the checkout, inside of the repository", strings.TrimPrefix(up, "../")+".git/config", nil)
		if w.ext == ".txt" {
			lead("environment", "the environment of a worker", "/proc/self/environ", nil)
			lead("environment of the parent", "the environment of the program, from a worker", "/proc/thread-self/../../self/environ", nil)
			lead("neighbour", "a file of another household", strings.TrimPrefix(up, "../")+"neighbour/private.txt", nil)
		}
		if w.ext == ".cue" {
			lead("neighbour", "a file of another household", strings.TrimPrefix(up, "../")+"neighbour/more.cue", nil)
		}
		for _, target := range []string{"{out}/secret" + w.ext, up + "secret" + w.ext} {
			name := map[bool]string{true: "absolute", false: "relative"}[strings.HasPrefix(target, "{out}")]
			add(attack{class: "links", name: w.name + ", committed, " + name, why: "a committed link, judged from its commit", files: w.files, links: map[string]string{w.link: target},
				commit: true, refused: true, args: slices.Concat(checkJSON[:len(checkJSON)-1], []string{"--at", "HEAD", "./..."})})
		}
	}
	for name, target := range map[string]string{"outside": "{out}", "the neighbour": "../neighbour", "the root": "/", "the process": "/proc/self", "itself": "."} {
		for what, file := range map[string]string{"text": "secret.txt", "kit": "private.txt", "environ": "environ"} {
			add(attack{class: "links", name: "folder " + name + ", " + what, why: "a linked folder, and a file below it", links: map[string]string{"hostile/d": target}, refused: true,
				files: map[string]string{"hostile/kit.cue": embedding("household: _ @embed(file=d/" + file + ",type=text)")}})
		}
	}
	add(attack{class: "links", name: "household is a link", why: "a whole household elsewhere", links: map[string]string{"hostile": "{out}"}})
	add(attack{class: "links", name: "import", why: "a package that is a link out of the module", links: map[string]string{"lib": "{out}/lib"}, refused: true,
		files: map[string]string{"hostile/kit.cue": "package kit\n\nimport \"harrow-valley.example/kits/lib\"\n\nhousehold: lib.name\npeople: ana: {age: \"40 y\", bodyMass: \"70 kg\"}\n"}})
	add(attack{class: "links", name: "import of the neighbour", why: "the kit of another household as a package", refused: true,
		files: map[string]string{"hostile/kit.cue": "package kit\n\nimport n \"harrow-valley.example/kits/neighbour:kit\"\n\nhousehold: n._private\npeople: ana: {age: \"40 y\", bodyMass: \"70 kg\"}\n"}})
	add(attack{class: "links", name: "module file", why: "the module file is a link out", links: map[string]string{"hostile/cue.mod/module.cue": "{out}/secret.cue"},
		files: map[string]string{"hostile/kit.cue": hostileHead}})
	for _, c := range []string{"measure", "forecast", "list", "drill", "audit -o ../aud", "check --format sarif", "check --format junit", "check --share-safe"} {
		for name, target := range map[string]string{"file": "{out}/secret.txt", "environment": "/proc/self/environ"} {
			add(attack{class: "links", name: c + ", " + name, why: "the same by another command", args: textual(c), links: map[string]string{"hostile/s.txt": target},
				files: map[string]string{"hostile/kit.cue": linkWays[3].files["hostile/kit.cue"] + "\n_c: _ @embed(file=s.txt,type=text)\npacks: rust: name: _c\n"},
				make:  func(t *testing.T, dir string) { testkit.Write(t, dir, map[string]string{"hostile/s.bin": "x"}) }})
		}
	}
	// What is allowed stays allowed.
	add(attack{class: "links", name: "within the household", why: "a link to a file of its own", judged: true, links: map[string]string{"hostile/s.txt": "own.txt"},
		files: map[string]string{"hostile/kit.cue": embedding("household: _ @embed(file=s.txt,type=text)"), "hostile/own.txt": "Own"}})
	add(attack{class: "links", name: "to a shared catalogue", why: "a link to what lies in the repository and in no household", judged: true, links: map[string]string{"hostile/shared.cue": "../catalogue/shared.cue"},
		files: map[string]string{"hostile/kit.cue": hostileHead, "catalogue/shared.cue": "package kit\n\n_shared: 1\n"}})
	return out
}

// specialAttacks are files that are none: pipes, sockets and devices wherever a file is read.
func specialAttacks() (out []attack) {
	kinds := map[string]func(t *testing.T, p string){
		"FIFO": func(t *testing.T, p string) {
			if err := syscall.Mkfifo(p, 0o600); err != nil {
				t.Fatal(err)
			}
		},
		"socket": func(t *testing.T, p string) {
			wd, _ := syscall.Open(filepath.Dir(p), syscall.O_RDONLY|syscall.O_CLOEXEC, 0) // a socket's path may be 107 bytes long
			t.Cleanup(func() { _ = syscall.Close(wd) })
			l, err := net.ListenUnix("unix", &net.UnixAddr{Name: fmt.Sprintf("/proc/self/fd/%d/%s", wd, filepath.Base(p))})
			if err != nil {
				t.Fatal(err)
			}
			l.SetUnlinkOnClose(false)
			t.Cleanup(func() { _ = l.Close() })
		},
		"endless device": func(t *testing.T, p string) {
			if err := os.Symlink("/dev/zero", p); err != nil {
				t.Fatal(err)
			}
		},
		"folder": func(t *testing.T, p string) {
			if err := os.Mkdir(p, 0o700); err != nil {
				t.Fatal(err)
			}
		},
	}
	embed := map[string]string{"hostile/kit.cue": embedding("household: _ @embed(file=s.txt,type=text)")}
	settings := map[string]string{"hostile/kit.cue": hostileHead, "kitmuster.json": `{"standards": [{"from": "special"}]}`}
	places := []struct {
		name, file string
		files      map[string]string
		args       []string
		refused    bool
		failed     bool
	}{
		{"kit file", "hostile/kit.cue", nil, nil, false, false},
		{"second kit file", "hostile/second.cue", map[string]string{"hostile/kit.cue": hostileHead}, nil, false, false},
		{"kit file above", "above.cue", map[string]string{"hostile/kit.cue": hostileHead}, textual("check"), false, false},
		{"embedded", "hostile/s.txt", embed, nil, true, false},
		{"embedded, measured", "hostile/s.txt", embed, textual("measure"), false, false},
		{"embedded, listed", "hostile/s.txt", embed, textual("list"), false, false},
		{"settings", "kitmuster.json", map[string]string{"hostile/kit.cue": hostileHead}, nil, false, true},
		{"standard", "special", settings, nil, false, true},
		{"standard by a flag", "special", map[string]string{"hostile/kit.cue": hostileHead}, textual("check", "--standard", "special"), false, true},
		{"key of a standard", "hostile/key", map[string]string{"hostile/kit.cue": hostileHead, "kitmuster.json": `{"standards": [{"from": "s", "key": "hostile/key"}]}`, "s/.manifest": echoes[".manifest"]}, textual("check"), false, true},
		{"share key", "hostile/key", map[string]string{"hostile/kit.cue": hostileHead}, textual("check", "--share-safe", "--share-key", "hostile/key"), false, true},
		{"module file", "hostile/cue.mod/module.cue", map[string]string{"hostile/kit.cue": hostileHead, "hostile/cue.mod/x": ""}, nil, false, false},
		{"path of the command", "hostile/kit.cue", nil, []string{"check", "--on", valley.On, "hostile/kit.cue"}, false, true},
		{"part to merge", "part.json", nil, []string{"merge", "part.json"}, false, true},
	}
	for _, p := range places {
		for kind, mk := range kinds {
			if kind == "folder" && slices.Contains([]string{"standard", "standard by a flag", "path of the command"}, p.name) {
				continue // a folder may be one
			}
			out = append(out, attack{class: "special", name: p.name + ", " + kind, why: "what is no ordinary file is not opened", files: p.files, args: p.args, refused: p.refused, failed: p.failed,
				make: func(t *testing.T, dir string) {
					file := filepath.Join(dir, p.file)
					if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
						t.Fatal(err)
					}
					mk(t, file)
				}})
		}
	}
	return out
}

// marks are what logs and terminals obey.
var marks = map[string]string{
	"workflow command": "::error::pwn", "indented": "  ::warning file=x::pwn", "group": "##[error]pwn", "logging command": "##vso[task.setvariable variable=x]y", "escape": "\x1b[2Jpwn",
	"return": "x\r::error::pwn", "line": "x\n::error::pwn", "order": "x\u202epwn", "isolate": "x\u2066pwn", "no width": "x\u200bpwn", "line separator": "x\u2028::error::pwn", "C1": "x\u009b2Jpwn", "tab": "\t::error::pwn",
}

// markAttacks put marks wherever a text of others can stand.
func markAttacks() (out []attack) {
	quote := func(s string) string {
		b, _ := json.Marshal(s)
		return string(b)
	}
	for name, mark := range marks {
		q := quote(mark)
		kit := "package kit\n\nhousehold: " + q + "\npeople: " + q + ": {name: " + q + ", age: \"40 y\", bodyMass: \"70 kg\", needs: n: " + q + "}\npacks: rust: {name: " + q + ", carrier: " + q +
			", mass: \"1 kg\", compartments: m: {name: " + q + ", reach: \"halted\", items: i: {name: " + q + ", mass: \"1 g\", expires: \"2026-01-01\"}}}\nplan: meetingPoints: m: where: " + q + "\n"
		faulty := "package kit\n\nhousehold: " + q + "\npeople: ana: {age: " + q + ", bodyMass: " + q + "}\n" + q + ": " + q + "\n"
		clean := strings.NewReplacer("\n", "", "/", "").Replace(mark)
		in := map[string]string{"hostile/kit.cue": strings.ReplaceAll(kit, q+": {name", "ana: {name"), "keys/kit.cue": kit, "faulty/kit.cue": faulty, clean + "/b/kit.cue": neighbour, "files/" + clean + ".cue": faulty}
		in["hostile/kit.cue"] = strings.ReplaceAll(in["hostile/kit.cue"], "carrier: "+q, "carrier: \"ana\"")
		for _, c := range []string{"check", "measure", "list", "forecast", "drill", "audit -o ../aud"} {
			if slices.Contains([]string{"forecast", "drill", "audit -o ../aud"}, c) && !slices.Contains([]string{"workflow command", "group", "logging command", "escape", "line"}, name) {
				continue
			}
			out = append(out, attack{class: "marks", name: c + ", " + name, why: "texts, keys, files and folders of a kit", files: in, args: textual(c)})
		}
		for field, settings := range map[string]string{
			"version": `{"standards":[{"from":"../x","version":` + q + `}]}`, "from": `{"standards":[{"from":` + q + `}]}`, "digest": `{"standards":[{"from":"x","digest":` + q + `}]}`,
			"registry": `{"standards":[{"registry":` + q + `}]}`, "field": `{` + q + `:1}`, "key": `{"standards":[{"from":"../x","key":` + q + `}]}`,
		} {
			if field != "version" && field != "registry" && name != "workflow command" && name != "escape" && name != "group" {
				continue
			}
			out = append(out, attack{class: "marks", name: "settings, " + field + ", " + name, why: "a text of the settings in a message", files: map[string]string{"kitmuster.json": settings}, args: textual("check"), failed: true})
		}
		for flag, args := range map[string][]string{
			"season": textual("check", "--season", mark), "since": textual("check", "--since", mark), "at": textual("check", "--at", mark), "standard": textual("check", "--standard", mark),
			"root": textual("check", "--root", mark), "format": textual("measure", "--format", mark), "path": {"check", "--on", valley.On, mark}, "output": textual("check", "--output", mark),
		} {
			if (name == "workflow command" || name == "line" || name == "order") && !(flag == "path" && name == "indented") {
				out = append(out, attack{class: "marks", name: "flag, " + flag + ", " + name, why: "a text that a workflow takes from a pull request, such as a branch", args: args})
			}
		}
	}
	rule := strings.NewReplacer("title: An echo", `title: "::error::pwn ##[x] ##vso[y]"`, `sprintf("%d", [p.name])`, `"::error::pwn\n::error::x \u001b[2J ##vso[x] \u202e"`, "remedy: None.", `remedy: "::error::pwn\n\n::error::x"`).Replace(echoes["rules/circle/echo.rego"])
	for _, c := range []string{"check", "drill --show note", "audit -o ../aud", "rules"} {
		args := textual(c, "--standard", "s")
		if c == "rules" {
			args = []string{"rules", "--standard", "s"}
		}
		out = append(out, attack{class: "marks", name: "rule, " + c, why: "texts of a standard", args: args, files: map[string]string{"s/.manifest": echoes[".manifest"], "s/rules/circle/echo.rego": rule}})
	}
	return out
}

// bombs are small kits that never finish or grow without end.
var bombs = map[string]string{
	"pairs":         "import \"list\"\n_n: list.Range(0, 5000, 1)\n_x: [for a in _n for b in _n for c in _n {a * b * c}]\n",
	"doubled text":  "_a0: \"xxxxxxxxxxxxxxxx\"\n" + doubling(40, `"\(@)\(@)"`) + "household: _a40\n",
	"doubled lists": "import \"list\"\n_a0: [1, 2]\n" + doubling(40, "list.Concat([@, @])"),
	"repeat":        "import \"strings\"\nhousehold: strings.Repeat(\"x\", 4000000000)\n",
	"range":         "import \"list\"\n_x: list.Range(0, 100000000000, 1)\n_y: len(_x)\n",
	"power":         "import \"math\"\n_x: math.Pow(10, 999999999)\n_y: \"\\(_x)\"\n",
	"multiplied":    "_a0: 99999999999999999999\n" + doubling(40, "@ * @"),
	"disjunctions":  disjunctions(22),
	"sorted":        "import \"list\"\n_n: list.Range(0, 200000, 1)\n_x: list.Sort(_n, {x: _, y: _, less: x > y})\n",
	"templates":     "_t: [string]: {a: _t[\"b\"], b: _t[\"c\"]}\n_t: {" + repeated(200, "k%d: {a: _, b: _}, ") + "}\n",
	"nested repeat": "import \"list\"\n_x: list.Repeat([list.Repeat([list.Repeat([1], 10000)], 10000)], 10000)\n_y: list.FlattenN(_x, 3)\n",
	"into itself":   "#T: {a: #T, b: #T}\n_x: #T & {a: a: a: a: b: b: b: _}\n_y: {_z: _x, w: _y}\n",
}

// doubling is a chain of n fields, each made of the one before it, which form calls @.
func doubling(n int, form string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "_a%d: %s\n", i+1, strings.ReplaceAll(form, "@", fmt.Sprintf("_a%d", i)))
	}
	return b.String()
}

func repeated(n int, form string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, form, i)
	}
	return b.String()
}

func disjunctions(n int) string {
	var b strings.Builder
	b.WriteString("_x: ")
	for i := range n {
		if i > 0 {
			b.WriteString(" & ")
		}
		fmt.Fprintf(&b, "({a%d: 1} | {a%[1]d: 2})", i)
	}
	return b.String() + "\n"
}

// bombAttacks hold that everyone else is answered.
func bombAttacks() (out []attack) {
	bounded := []string{"--time-limit", "1s", "--memory-limit", "512MiB"}
	for name, text := range bombs {
		imports, body := "", text
		if strings.HasPrefix(text, "import") {
			imports, body, _ = strings.Cut(text, "\n")
		}
		head := "household: \"Hostile\"\n"
		if strings.Contains(body, "household:") {
			head = ""
		}
		kit := map[string]string{"hostile/kit.cue": "package kit\n\n" + imports + "\n" + head + "people: ana: {age: \"40 y\", bodyMass: \"70 kg\"}\npacks: rust: {carrier: \"ana\", mass: \"1 kg\"}\n" + body}
		out = append(out, attack{class: "bombs", name: "check, " + name, why: "a household that oversteps is named, and the neighbour judged as if alone", files: kit})
		if name != "pairs" && name != "doubled text" && name != "range" {
			continue
		}
		for _, c := range []string{"measure", "forecast", "drill", "list", "audit -o ../aud"} {
			out = append(out, attack{class: "bombs", name: c + ", " + name, why: "the same wall for every command", files: kit, args: textual(c, bounded...), hold: func(got ran, dir string) string {
				if !strings.Contains(got.out, "Neighbour") && !strings.HasPrefix(c, "audit") || got.code != exitUnfit && !strings.HasPrefix(c, "audit") {
					return "the neighbour has no answer, or the household is not named"
				}
				return ""
			}})
		}
		out = append(out, attack{class: "bombs", name: "rules --time, " + name, why: "the same wall for every command", files: kit, failed: true, args: slices.Concat([]string{"rules", "--on", valley.On}, bounded, []string{"--time", "hostile"})})
	}
	return out
}

// gitAttacks are repositories and configurations that would have git run something.
func gitAttacks() (out []attack) {
	commands := map[string][]string{
		"since": textual("check", "--since", "HEAD~1"), "at": textual("check", "--at", "HEAD"), "both": textual("check", "--since", "HEAD~1", "--at", "HEAD"),
		"compare": {"compare", "--on", valley.On, "HEAD~1"}, "history": textual("audit", "--history", "5", "-o", "../aud"),
	}
	// leaves is a command that leaves a file behind.
	leaves := func(dir string) string { return "touch " + filepath.Join(filepath.Dir(dir), "RAN") + "; cat" }
	two := func(t *testing.T, dir string) {
		gitIn(t, dir, "add", "-A")
		gitIn(t, dir, "commit", "-q", "-m", "one")
		testkit.Write(t, dir, map[string]string{"hostile/more.cue": "package kit\n\npacks: rust: compartments: m: {reach: \"halted\", items: i: mass: \"1 g\"}\n"})
		gitIn(t, dir, "add", "-A")
		gitIn(t, dir, "commit", "-q", "-m", "two")
		testkit.Write(t, dir, map[string]string{"hostile/more.cue": "package kit\n\npacks: rust: compartments: m: {reach: \"halted\", items: i: mass: \"2 g\"}\n"})
	}
	kit := map[string]string{"hostile/kit.cue": hostileHead + "packs: rust: {carrier: \"ana\", mass: \"1 kg\"}\n"}
	for name, settings := range map[string]map[string]string{
		"filter process": {"filter.x.process": ""}, "filter clean and smudge": {"filter.x.clean": "", "filter.x.smudge": "", "filter.x.required": "true"}, "text conversion": {"diff.x.textconv": ""},
		"external difference": {"diff.external": "", "diff.x.command": ""}, "file monitor": {"core.fsmonitor": ""}, "pager": {"core.pager": "", "pager.diff": "", "pager.log": "", "pager.ls-tree": ""},
		"remote": {"remote.origin.promisor": "true", "remote.origin.url": "ssh://x.invalid/x", "core.sshCommand": "", "extensions.partialClone": "origin", "core.repositoryFormatVersion": "1"}, "signatures": {"log.showSignature": "true", "gpg.program": ""},
	} {
		for command, args := range commands {
			if command == "at" || command == "both" {
				continue
			}
			out = append(out, attack{class: "git", name: name + ", " + command, why: "what the clone's configuration would run", files: kit, args: args, make: func(t *testing.T, dir string) {
				testkit.Write(t, dir, map[string]string{".gitattributes": "*.cue filter=x diff=x\n"})
				two(t, dir)
				for _, key := range slices.Sorted(maps.Keys(settings)) {
					value := settings[key]
					if value == "" {
						value = leaves(dir)
					}
					gitIn(t, dir, "config", key, value)
				}
			}})
		}
	}
	for command, args := range commands {
		out = append(out, attack{class: "git", name: "embedded repository, " + command, why: "a folder that looks like a repository, where an earlier commit had a submodule", args: args, make: func(t *testing.T, dir string) {
			const id = "1111111111111111111111111111111111111111"
			gitIn(t, dir, "add", "-A")
			gitIn(t, dir, "commit", "-q", "-m", "none")
			gitIn(t, dir, "update-index", "--add", "--cacheinfo", "160000,"+id+",hostile")
			gitIn(t, dir, "commit", "-q", "-m", "submodule")
			gitIn(t, dir, "rm", "-q", "--cached", "hostile")
			testkit.Write(t, dir, map[string]string{
				"hostile/kit.cue": hostileHead, "hostile/HEAD": "ref: refs/heads/main\n", "hostile/objects/info/x": "x\n", "hostile/refs/heads/main": id + "\n",
				"hostile/config": "[core]\n\trepositoryformatversion = 1\n\tbare = false\n\tworktree = .\n\tfsmonitor = \"" + leaves(dir) + "\"\n[extensions]\n\tpartialClone = origin\n[remote \"origin\"]\n\tpromisor = true\n\turl = " +
					dir + "/.git\n\tuploadpack = \"" + leaves(dir) + "\"\n",
			})
			gitIn(t, dir, "add", "-A")
			gitIn(t, dir, "commit", "-q", "-m", "files")
		}})
	}
	for _, rev := range []string{"--output=../RAN", "--upload-pack=touch ../RAN", "-x", "HEAD:neighbour/private.txt", "$(touch ../RAN)", "`touch ../RAN`", "HEAD; touch ../RAN", "@{upstream}", ":/two", "HEAD^{tree}", "..", "a..b", "HEAD\x00x", "--all", "ext::touch ../RAN", ""} {
		if strings.Contains(rev, "\x00") {
			continue // no argument can hold it
		}
		for _, flag := range []string{"--since", "--at"} {
			out = append(out, attack{class: "git", name: "revision " + rev + ", " + flag, why: "a revision that is a flag, a command or no commit", files: kit, make: two, args: textual("check", flag+"="+rev), hold: func(got ran, _ string) string {
				if got.code != exitUnfit && rev != ":/two" {
					return "it is taken for a commit"
				}
				return ""
			}})
		}
	}
	return out
}

// cacheAttacks are entries of a cache that someone else wrote or that were torn.
func cacheAttacks() (out []attack) {
	each := func(do func(t *testing.T, p string, b []byte), fresh *string) func(t *testing.T, dir string) {
		return func(t *testing.T, dir string) {
			*fresh = attackRun(t, dir, textual("check", "--cache", "../store")).out
			n := 0
			_ = filepath.WalkDir(filepath.Join(filepath.Dir(dir), "store"), func(p string, d fs.DirEntry, err error) error {
				if err == nil && d.Type().IsRegular() && d.Name() != "CACHEDIR.TAG" {
					b, _ := os.ReadFile(p)
					do(t, p, b)
					n++
				}
				return nil
			})
			if n == 0 {
				t.Fatal("nothing was remembered")
			}
		}
	}
	put := func(t *testing.T, p string, b []byte) {
		if err := os.WriteFile(p, b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	instead := func(mk func(p string) error) func(t *testing.T, p string, b []byte) {
		return func(t *testing.T, p string, _ []byte) {
			if err := os.Remove(p); err != nil {
				t.Fatal(err)
			}
			if err := mk(p); err != nil {
				t.Fatal(err)
			}
		}
	}
	var last []byte
	tampered := map[string]func(t *testing.T, p string, b []byte){
		"empty": func(t *testing.T, p string, _ []byte) { put(t, p, nil) }, "cut": func(t *testing.T, p string, b []byte) { put(t, p, b[:len(b)/2]) },
		"first byte": func(t *testing.T, p string, b []byte) { b[0] ^= 1; put(t, p, b) }, "last byte": func(t *testing.T, p string, b []byte) { b[len(b)-1] ^= 1; put(t, p, b) },
		"longer": func(t *testing.T, p string, b []byte) { put(t, p, append(b, b...)) }, "zeros": func(t *testing.T, p string, b []byte) { put(t, p, make([]byte, len(b))) },
		"nested": func(t *testing.T, p string, _ []byte) { put(t, p, bytes.Repeat([]byte{0x81}, 1<<20)) },
		"another's": func(t *testing.T, p string, b []byte) {
			if last != nil {
				put(t, p, last)
			}
			last = b
		},
		"FIFO": instead(func(p string) error { return syscall.Mkfifo(p, 0o600) }), "folder": instead(func(p string) error { return os.Mkdir(p, 0o700) }),
		"device": instead(func(p string) error { return os.Symlink("/dev/zero", p) }), "environment": instead(func(p string) error { return os.Symlink("/proc/self/environ", p) }),
	}
	kit := map[string]string{"hostile/kit.cue": hostileHead + "packs: rust: {carrier: \"ana\", mass: \"1 kg\"}\n"}
	for name, do := range tampered {
		var fresh string // what is said where nothing is remembered
		out = append(out, attack{class: "caches", name: name, why: "an entry that is not what was put there", files: kit, make: each(do, &fresh), args: textual("check", "--cache", "../store"), hold: func(got ran, _ string) string {
			if got.out != fresh {
				return "it answers otherwise than judging does"
			}
			return ""
		}})
	}
	return out
}

// largeAttacks are small files with large answers.
func largeAttacks() (out []attack) {
	items := func(n int, item string) map[string]string {
		return map[string]string{"hostile/kit.cue": "package kit\n\nimport (\n\t\"list\"\n\t\"strings\"\n)\n\n_use: strings.MinRunes(0) & \"\"\n" + hostileHead[len("package kit\n\n"):] +
			fmt.Sprintf("packs: rust: {carrier: \"ana\", mass: \"1 kg\", compartments: m: {reach: \"halted\", items: {for i in list.Range(0, %d, 1) {\"i\\(i)\": %s}}}}\n", n, item)}
	}
	bounded := []string{"--time-limit", "5s", "--memory-limit", "512MiB"}
	for name, files := range map[string]map[string]string{
		"long names": items(600, `{mass: "1 g", name: strings.Repeat("n", 19900), expires: "2026-12-01"}`), "many dates": items(1500, `{mass: "1 g", expires: "2026-12-01", rotate: "2026-11-05"}`),
		"many findings": items(1500, `{mass: "1 g", count: 0}`),
	} {
		for _, c := range []string{"check", "audit -o ../aud", "check --format json --output sarif=../out/s --output junit=../out/x"} {
			args := textual(c, bounded...)
			out = append(out, attack{class: "large", name: c + ", " + name, why: "an answer that is far larger than its kit", files: files, args: args,
				make: func(t *testing.T, dir string) { testkit.Write(t, filepath.Dir(dir), map[string]string{"out/x": ""}) },
				hold: func(got ran, dir string) string {
					size := len(got.out)
					for _, d := range []string{"aud", "out"} {
						_ = filepath.WalkDir(filepath.Join(filepath.Dir(dir), d), func(_ string, e fs.DirEntry, err error) error {
							if err != nil || !e.Type().IsRegular() {
								return nil
							}
							if info, err := e.Info(); err == nil {
								size += int(info.Size())
							}
							return nil
						})
					}
					if size > 48<<20 {
						return fmt.Sprintf("%d MiB are written", size>>20)
					}
					if csv, err := os.ReadFile(filepath.Join(filepath.Dir(dir), "aud", "households.csv")); strings.HasPrefix(c, "audit") && (err != nil || !strings.Contains(string(csv), "Neighbour")) {
						return "the neighbour is not in the audit"
					}
					return ""
				}})
		}
	}
	return out
}

// standardAttacks are standards of strangers: rules that look outside or never end, archives that write elsewhere, settings that lead away.
func standardAttacks() (out []attack) {
	body := func(text string) map[string]string {
		rule := echoes["rules/circle/echo.rego"]
		return map[string]string{"s/.manifest": echoes[".manifest"], "s/rules/circle/echo.rego": rule[:strings.Index(rule, "finding.names contains")] + text + "\n", "hostile/kit.cue": hostileHead}
	}
	for name, text := range map[string]string{
		"network":              `finding.names contains f if { r := http.send({"method": "GET", "url": "http://127.0.0.1:9/"}); f := {"at": "household", "text": r.raw_body} }`,
		"environment":          `finding.names contains f if { f := {"at": "household", "text": opa.runtime().env.DEPLOY_KEY} }`,
		"clock":                `finding.names contains f if { f := {"at": "household", "text": sprintf("%d", [time.now_ns()])} }`,
		"chance":               `finding.names contains f if { f := {"at": "household", "text": sprintf("%d", [rand.intn("x", 9)])} }`,
		"names of the network": `finding.names contains f if { net.lookup_ip_addr("kit.example"); f := {"at": "household", "text": "x"} }`,
		"other households":     `finding.names contains f if { some k, v in data; f := {"at": "household", "text": sprintf("%s %v", [k, v])} }`,
		"trace":                `finding.names contains f if { trace("::error::x"); f := {"at": "household", "text": "x"} }`,
		"print":                `finding.names contains f if { print("::error::x"); f := {"at": "household", "text": "x"} }`,
		"without end":          `finding.names contains f if { n := numbers.range(1, 100000); some a in n; some b in n; a * b == -1; f := {"at": "household", "text": "x"} }`,
		"large text":           `finding.names contains f if { f := {"at": "household", "text": concat("", [x | some i in numbers.range(1, 10000000); x := "xxxxxxxxxxxxxxxx"])} }`,
		"format":               `finding.names contains f if { f := {"at": "household", "text": sprintf("%999999999d", [1])} }`,
		"expression":           `finding.names contains f if { regex.match("(a|a|a|a|a|a|a|a|a|a)*{1000}{1000}", "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"); f := {"at": "household", "text": "x"} }`,
		"power":                `finding.names contains f if { f := {"at": "household", "text": sprintf("%d", [bits.lsh(1, 9999999999)])} }`,
		"no place":             `finding.names contains f if { f := {"at": "../../etc/passwd", "text": "x"} }`,
		"schema":               `import data.secret` + "\n" + `finding.names contains f if { f := {"at": "household", "text": input["$ref"]} }`,
		"in the base's name":   `package rules.base.fire`,
	} {
		out = append(out, attack{class: "standards", name: "rule, " + name, why: "a rule that looks outside, never ends or says too much", files: body(text), args: textual("check", "--standard", "s", "--time-limit", "5s"), hold: func(got ran, _ string) string {
			if got.code != exitUnfit && name != "other households" && name != "print" { // those two are let through, and say nothing
				return "the rule is taken for a good one"
			}
			return ""
		}})
	}
	for name, s := range map[string]string{
		"outside": "../..", "absolute": "/etc", "backslash": `..\\..`, "a file": "hostile/kit.cue", "nowhere": "nowhere", "git": ".git", "environment": "link",
	} {
		out = append(out, attack{class: "standards", name: "settings, " + name, why: "settings that name what is no standard", failed: true, args: textual("check"), links: map[string]string{"link": "/proc/self/environ"},
			files: map[string]string{"hostile/kit.cue": hostileHead, "kitmuster.json": `{"standards": [{"from": "` + s + `"}]}`}})
	}
	out = append(out, attack{class: "standards", name: "settings, linked out", why: "settings that are a file elsewhere", failed: true, args: textual("check"), links: map[string]string{"kitmuster.json": "{out}/secret.json"}})
	for name, head := range map[string]tar.Header{
		"upwards": {Name: "../RAN", Mode: 0o600}, "absolute": {Name: "/RAN", Mode: 0o600}, "link": {Name: "x", Typeflag: tar.TypeSymlink, Linkname: "/etc/passwd"}, "hard link": {Name: "x", Typeflag: tar.TypeLink, Linkname: "../secret.txt"},
		"device": {Name: "x", Typeflag: tar.TypeChar, Devmajor: 1, Devminor: 5}, "FIFO": {Name: "x", Typeflag: tar.TypeFifo}, "many zeros": {Name: "rules/circle/x.rego", Mode: 0o600, Size: 1 << 30}, "twice": {Name: ".manifest", Mode: 0o600},
		"strange name": {Name: "rules/\x1b[2J\n::error::x.rego", Mode: 0o600}, "dots": {Name: "rules/./../../RAN", Mode: 0o600},
	} {
		out = append(out, attack{class: "standards", name: "archive, " + name, why: "an archive with an entry that leads elsewhere or is no file", failed: true, args: textual("check", "--standard", "s.tar.gz"), make: func(t *testing.T, dir string) {
			var b bytes.Buffer
			z, _ := gzip.NewWriterLevel(&b, gzip.BestSpeed)
			w := tar.NewWriter(z)
			for n, text := range echoes {
				_ = w.WriteHeader(&tar.Header{Name: n, Mode: 0o600, Size: int64(len(text))})
				_, _ = w.Write([]byte(text))
			}
			h := head
			if err := w.WriteHeader(&h); err != nil {
				t.Fatal(err)
			}
			for zeros := make([]byte, 1<<20); h.Size > 0; h.Size -= int64(len(zeros)) {
				_, _ = w.Write(zeros)
			}
			if err := errors.Join(w.Close(), z.Close(), os.WriteFile(filepath.Join(dir, "s.tar.gz"), b.Bytes(), 0o600)); err != nil {
				t.Fatal(err)
			}
		}})
	}
	return out
}

// environmentAttacks look for the secret in the environment of the program and of its workers.
func environmentAttacks() (out []attack) {
	for name, kit := range map[string]string{
		"tag": "_e: string @tag(DEPLOY_KEY)\nhousehold: _e\n", "tag of the system": "_e: string @tag(e,var=os)\nhousehold: _e\n", "user": "_e: string @tag(e,var=username)\nhousehold: \"\\(_e)\"\n",
		"task": "import \"tool/exec\"\n\nhousehold: \"H\"\n_r: exec.Run & {cmd: \"touch ../RAN\", stdout: string}\n", "tool": "import \"tool/os\"\n\nhousehold: os.Getenv.DEPLOY_KEY\n", "file": "import \"tool/file\"\n\n_f: file.Read & {filename: \"../secret.txt\", contents: string}\nhousehold: _f.contents\n",
		"path": "import \"path\"\n\nhousehold: path.Base(\"$DEPLOY_KEY\", path.Unix)\n", "network": "import \"tool/http\"\n\n_r: http.Get & {url: \"http://127.0.0.1:9\"}\nhousehold: \"H\"\n",
	} {
		for _, c := range []string{"check", "measure", "list"} {
			out = append(out, attack{class: "environment", name: name + ", " + c, why: "a kit asks for what only the program knows", args: textual(c), files: map[string]string{"hostile/kit.cue": "package kit\n\n" + kit + "people: ana: {age: \"40 y\", bodyMass: \"70 kg\"}\n"}})
		}
	}
	return out
}
