package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"kitmuster/lint/testkit"
	"kitmuster/lint/valley"
)

// traps are programs that leave their name in a folder when they are run.
type traps struct {
	t        *testing.T
	dir, ran string
	env      []string
}

func newTraps(t *testing.T) *traps {
	t.Helper()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	x := &traps{t: t, dir: filepath.Join(dir, "traps"), ran: filepath.Join(dir, "ran"), env: []string{
		"PATH=" + os.Getenv("PATH"), "HOME=" + filepath.Join(dir, "nobody"), "GIT_CONFIG_NOSYSTEM=1",
		"GIT_AUTHOR_NAME=a", "GIT_AUTHOR_EMAIL=a@valley.example", "GIT_COMMITTER_NAME=a", "GIT_COMMITTER_EMAIL=a@valley.example",
	}}
	for _, d := range []string{x.dir, x.ran, x.at("nobody")} {
		if err := os.Mkdir(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	return x
}

// at is a folder beside the traps.
func (x *traps) at(name string) string { return filepath.Join(filepath.Dir(x.dir), name) }

// trap makes the program of a name and gives its path, which no shell changes.
func (x *traps) trap(place, name string) string {
	x.t.Helper()
	p := filepath.Join(x.dir, place+"_"+strings.Map(func(c rune) rune {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '.' {
			return c
		}
		return '_'
	}, name))
	x.write(p, x.script(filepath.Base(p)))
	return p
}

func (x *traps) script(name string) string {
	return "#!/bin/sh\n: > '" + filepath.Join(x.ran, name) + "'\nexit 1\n"
}

func (x *traps) write(p, text string) {
	x.t.Helper()
	if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
		x.t.Fatal(err)
	}
	if err := os.WriteFile(p, []byte(text), 0o755); err != nil {
		x.t.Fatal(err)
	}
}

func (x *traps) git(dir string, args ...string) string {
	x.t.Helper()
	return x.feed(dir, "", args...)
}

func (x *traps) feed(dir, input string, args ...string) string {
	x.t.Helper()
	cmd := exec.Command("git", append([]string{"-c", "protocol.file.allow=always", "-c", "init.defaultBranch=main", "-c", "maintenance.auto=false"}, args...)...)
	cmd.Dir, cmd.Env, cmd.Stdin = dir, x.env, strings.NewReader(input)
	out, err := cmd.Output()
	if err != nil {
		x.t.Fatalf("git %v: %v", args, err)
	}
	return strings.TrimSuffix(string(out), "\n")
}

// sprung gives what was run since it was last asked.
func (x *traps) sprung() (names []string) {
	x.t.Helper()
	entries, err := os.ReadDir(x.ran)
	if err != nil {
		x.t.Fatal(err)
	}
	for _, e := range entries {
		names = append(names, e.Name())
		if err := os.Remove(filepath.Join(x.ran, e.Name())); err != nil {
			x.t.Fatal(err)
		}
	}
	return names
}

// hostileSettings name a program each, as git-config(1) of git 2.39 has them and git-hook(1) of 2.54; "!" stands before those that
// want it. Names in the middle are free.
var hostileSettings = []string{
	"core.fsmonitor", "core.pager", "core.editor", "core.askPass", "core.sshCommand", "core.gitProxy", "core.alternateRefsCommand",
	"pager.diff", "pager.rev-list", "pager.config", "pager.cat-file", "pager.rev-parse",
	"credential.helper !", "credential.https://valley.example.helper !", "sequence.editor", "interactive.diffFilter", "uploadpack.packObjectsHook",
	"diff.external", "diff.x.command", "diff.x.textconv", "diff.a=b.command", "diff.a=b.textconv", "merge.x.driver", "trailer.x.command", "trailer.x.cmd",
	"filter.x.clean", "filter.x.smudge", "filter.x.process", "filter.a=b.clean", "filter.A.b=c.D.process", "filter.only.clean",
	"gpg.program", "gpg.openpgp.program", "gpg.ssh.program", "gpg.x509.program", "gpg.ssh.defaultKeyCommand",
	"remote.origin.uploadpack", "remote.origin.receivepack", "remote.a=b.uploadpack", "submodule.fam.update !", "submodule.sub.update !",
	"alias.diff !", "alias.version !", "alias.remote-file !", "alias.remote-ext !", "alias.remote-trap !",
	"hook.x.command", "mergetool.x.cmd", "difftool.x.cmd", "browser.x.cmd", "tar.x.command", "web.browser", "help.browser", "man.x.cmd", "guitool.x.cmd", "imap.tunnel", "sendemail.toCmd",
}

// config is hostile configuration for a place: every setting that names a program, and what makes git look for one.
func (x *traps) config(place, url string) string {
	var s strings.Builder
	set := func(name, value string) {
		i, j := strings.IndexByte(name, '.'), strings.LastIndexByte(name, '.')
		section := name[:i]
		if i < j {
			section += fmt.Sprintf(" %q", name[i+1:j])
		}
		fmt.Fprintf(&s, "[%s]\n\t%s = %q\n", section, name[j+1:], value)
	}
	for _, name := range hostileSettings {
		key, shell, ok := strings.Cut(name, " ")
		value := x.trap(place, key)
		if ok {
			value = shell + value
		}
		set(key, value)
	}
	hooks := x.at("hooks-" + place)
	x.hooks(place, hooks)
	for _, kv := range [][2]string{
		{"core.hooksPath", hooks}, {"filter.x.required", "true"}, {"filter.a=b.required", "true"}, {"filter.A.b=c.D.required", "true"},
		{"hook.x.event", "post-index-change"}, {"log.showSignature", "true"}, {"commit.gpgSign", "true"}, {"diff.submodule", "diff"}, {"submodule.recurse", "true"},
		{"protocol.allow", "always"}, {"protocol.ext.allow", "always"}, {"protocol.file.allow", "always"}, {"protocol.trap.allow", "always"},
		{"remote.origin.promisor", "true"}, {"remote.origin.partialCloneFilter", "blob:none"}, {"remote.origin.url", url},
		{"remote.vcs.promisor", "true"}, {"remote.vcs.vcs", "trap"}, {"remote.vcs.url", "x"},
		{"remote.helper.promisor", "true"}, {"remote.helper.url", "trap::x"},
		{"remote.ext.promisor", "true"}, {"remote.ext.url", "ext::" + x.trap(place, "url-ext")},
		{"remote.ssh.promisor", "true"}, {"remote.ssh.url", "ssh://valley.example/x"}, {"remote.a=b.promisor", "true"}, {"remote.a=b.url", url},
	} {
		set(kv[0], kv[1])
	}
	return s.String()
}

// hooks lays every hook of githooks(5) into a folder.
func (x *traps) hooks(place, dir string) {
	for _, h := range strings.Fields(`applypatch-msg pre-applypatch post-applypatch pre-commit pre-merge-commit prepare-commit-msg commit-msg post-commit
		pre-rebase post-checkout post-merge pre-push pre-receive update proc-receive post-receive post-update reference-transaction push-to-checkout
		pre-auto-gc post-rewrite sendemail-validate fsmonitor-watchman post-index-change`) {
		x.write(filepath.Join(dir, h), x.script(place+"_hook-"+h))
	}
}

// hostileAttributes send every file through the filters and drivers of the configuration.
const hostileAttributes = "* filter=x diff=x merge=x\naudit/* filter=only\n*.json filter=A.b=c.D diff=a=b\nfam/** filter=a=b\n"

// environment is a hostile one: its programs, its settings, its traces.
func (x *traps) environment() (env []string) {
	for _, name := range []string{
		"GIT_EXTERNAL_DIFF", "GIT_SSH", "GIT_SSH_COMMAND", "GIT_ASKPASS", "SSH_ASKPASS", "GIT_PAGER", "PAGER", "GIT_EDITOR", "EDITOR", "VISUAL", "GIT_SEQUENCE_EDITOR", "GIT_PROXY_COMMAND",
	} {
		env = append(env, name+"="+x.trap("env", name))
	}
	for _, name := range []string{"GIT_TRACE", "GIT_TRACE_SETUP", "GIT_TRACE_PACKET", "GIT_TRACE2", "GIT_TRACE2_EVENT", "GIT_TRACE2_PERF"} {
		env = append(env, name+"="+filepath.Join(x.ran, name))
	}
	return append(env, "GIT_CONFIG_PARAMETERS='core.fsmonitor="+x.trap("env", "GIT_CONFIG_PARAMETERS")+"'",
		"GIT_CONFIG_COUNT=2", "GIT_CONFIG_KEY_0=core.fsmonitor", "GIT_CONFIG_VALUE_0="+x.trap("env", "GIT_CONFIG_COUNT"),
		"GIT_CONFIG_KEY_1=filter.x.clean", "GIT_CONFIG_VALUE_1="+x.trap("env", "GIT_CONFIG_COUNT-filter"))
}

// bareFolder leaves the files of a bare repository in a folder, hostile configuration included, as a commit can hold them.
func (x *traps) bareFolder(dir, place, url string) {
	none := strings.Repeat("1", 40)
	x.write(filepath.Join(dir, "HEAD"), "ref: refs/heads/main\n")
	x.write(filepath.Join(dir, "objects/info/x"), "x\n")
	x.write(filepath.Join(dir, "refs/heads/main"), none+"\n")
	x.write(filepath.Join(dir, "config"), "[core]\n\trepositoryformatversion = 1\n\tbare = false\n\tworktree = .\n[extensions]\n\tpartialClone = origin\n"+x.config(place, url))
	x.write(filepath.Join(dir, "info/attributes"), hostileAttributes)
	x.hooks(place, filepath.Join(dir, "hooks"))
}

// Nothing that commits hold, no configuration of a repository in or around the work tree, of its user, and nothing of the
// environment makes git run a program for us.
func TestGitRunsNothing(t *testing.T) {
	t.Parallel()
	x := newTraps(t)
	kit := func(name string) string { return strings.Replace(neighbour, "Neighbour", name, 1) }
	origin, other, clone, partial := x.at("origin"), x.at("other"), x.at("clone"), x.at("partial")
	url := "file://" + origin
	commit := func(dir string, day int) {
		x.git(dir, "add", "-A")
		x.env = append(x.env, fmt.Sprintf("GIT_COMMITTER_DATE=2026-10-%02dT08:00:00Z", day))
		x.git(dir, "commit", "-q", "--allow-empty", "-m", fmt.Sprint(day))
	}
	for _, dir := range []string{origin, other} {
		x.write(filepath.Join(dir, "nb/kit.cue"), kit("Neighbour"))
		x.git(dir, "init", "-q")
		x.git(dir, "config", "uploadpack.allowFilter", "true")
		x.git(dir, "config", "uploadpack.allowAnySHA1InWant", "true")
	}
	x.write(filepath.Join(origin, "gone/kit.cue"), kit("Gone"))
	if r := runs(t, origin, "audit", "--no-cache", "--time-limit", "5m", "--on", "2026-10-01", "-o", "audit", "./..."); r.code != 0 {
		t.Fatalf("%d\n%s", r.code, r.errs)
	}
	commit(origin, 1)
	commit(other, 1)

	// Where one commit has submodules, the next has folders that look like repositories.
	x.git(origin, "submodule", "--quiet", "add", "file://"+other, "sub")
	bare := []string{"fam", "deep/er/fam"}
	x.git(origin, "commit", "-q", "-m", "sub")
	for _, p := range bare {
		x.git(origin, "update-index", "--add", "--cacheinfo", "160000,"+strings.Repeat("1", 40)+","+p)
	}
	x.env = append(x.env, "GIT_COMMITTER_DATE=2026-10-05T08:00:00Z")
	x.git(origin, "commit", "-q", "-m", "links")
	for i, p := range bare {
		x.git(origin, "rm", "-q", "--cached", p)
		x.bareFolder(filepath.Join(origin, p), fmt.Sprint("bare", i), url)
		x.write(filepath.Join(origin, p, "kit.cue"), kit(fmt.Sprint("Fam", i)))
	}
	x.write(filepath.Join(origin, ".gitattributes"), hostileAttributes)
	x.write(filepath.Join(origin, "nb/kit.cue"), kit("Neighbour")+"// later\n")
	x.git(origin, "rm", "-q", "gone/kit.cue")
	commit(origin, 9)
	// A signature, so that log.showSignature has something to show.
	head, body, _ := strings.Cut(x.git(origin, "cat-file", "commit", "HEAD"), "\n\n")
	signed := x.feed(origin, head+"\ngpgsig -----BEGIN PGP SIGNATURE-----\n \n x\n -----END PGP SIGNATURE-----\n\n"+body+"\n", "hash-object", "-t", "commit", "-w", "--stdin")
	x.git(origin, "update-ref", "HEAD", signed)

	x.git(x.at(""), "clone", "-q", url, clone)
	x.git(clone, "submodule", "--quiet", "update", "--init", "--", "sub")
	x.git(x.at(""), "clone", "-q", "--filter=blob:none", url, partial)
	nested := filepath.Join(clone, "nested")
	x.write(filepath.Join(nested, "kit.cue"), kit("Nested"))
	x.git(nested, "init", "-q")
	if found := x.sprung(); len(found) > 0 {
		t.Fatalf("run while the repositories were made: %q", found)
	}
	lacked := x.git(partial, "rev-parse", "HEAD~1:gone/kit.cue")
	for place, dir := range map[string]string{
		"clone": filepath.Join(clone, ".git"), "sub": filepath.Join(clone, ".git/modules/sub"), "nested": filepath.Join(nested, ".git"), "partial": filepath.Join(partial, ".git"),
	} {
		old, err := os.ReadFile(filepath.Join(dir, "config"))
		if err != nil {
			t.Fatal(err)
		}
		// What comes from an included file counts like what stands there.
		x.write(filepath.Join(dir, "more"), x.config(place, url))
		x.write(filepath.Join(dir, "config"), string(old)+"[include]\n\tpath = more\n")
		x.write(filepath.Join(dir, "info/attributes"), hostileAttributes)
		x.hooks(place, filepath.Join(dir, "hooks"))
	}
	home := x.at("home")
	x.write(filepath.Join(home, ".gitconfig"), x.config("user", url))
	x.write(filepath.Join(clone, "nb/kit.cue"), kit("Neighbour")+"// in the work tree\n")
	x.write(filepath.Join(clone, "sub/nb/kit.cue"), kit("Neighbour")+"// in the work tree\n")
	env := append(x.environment(), "HOME="+home, "GIT_CONFIG_NOSYSTEM=1")

	const incomplete = "complete the clone"
	type command struct {
		dir, args string
		code      int
		want      string // in what is written, on either stream
	}
	for _, c := range testkit.Some(t, 6, []command{
		{clone, "check --since HEAD~1 ./...", 1, "fam/kit.cue"},
		{clone, "check --staged --untouched ./...", 0, "4 households"},
		{clone, "check --at HEAD~1 ./...", 2, "fam is a submodule that is not checked out"},
		{clone, "compare HEAD~1", 0, "Fam0"},
		{clone, "audit --history 5 -o audit ./...", 0, ""},
		{filepath.Join(clone, "fam"), "check --since HEAD~1 .", 2, "bare repository"},
		{filepath.Join(clone, "sub"), "check --since HEAD ./...", 0, "0 new"},
		{nested, "check --since HEAD .", 2, "no commit yet"},
		{partial, "check --since HEAD~1 ./...", 2, incomplete},
		{partial, "check --staged ./...", 2, "submodule that is not checked out"},
		{clone, "check --since HEAD~1 --staged ./...", 1, "fam/kit.cue"},
		{clone, "check --since HEAD~1 --at HEAD ./...", 1, "fam/kit.cue"},
		{clone, "compare HEAD~1 HEAD", 0, "Fam1"},
		{clone, "audit --history 5 -o ../out ./...", 0, ""},
		{filepath.Join(clone, "deep/er/fam"), "compare HEAD", 2, "bare repository"},
		{partial, "compare HEAD~1 HEAD", 2, incomplete},
		{partial, "audit --history 5 -o ../out ./...", 0, ""},
	}) {
		args := strings.Fields(c.args)
		r := runsWith(t, c.dir, env, slices.Concat(args[:1], []string{"--no-cache", "--time-limit", "5m", "--standard", "base", "--on", valley.On}, args[1:])...) // no limit that a busy machine reaches
		if r.code != c.code || !strings.Contains(r.out+r.errs, c.want) {
			t.Errorf("%s: kitmuster %s ends with %d and says\n%.1500s\n%.1500s", c.dir, c.args, r.code, r.out, r.errs)
		}
		if found := x.sprung(); len(found) > 0 {
			t.Errorf("%s: kitmuster %s ran %q", filepath.Base(c.dir), c.args, found)
		}
	}

	// The traps are live: git by itself walks into them, one after the other.
	for _, c := range []struct {
		dir, args string
		env       []string
		want      string
	}{
		{clone, "status", nil, "clone_core.fsmonitor"},
		{clone, "-c core.fsmonitor= diff -- nb/kit.cue", nil, "clone_filter.x.process"}, // no further file: git may look at another first, where clocks are coarse
		{clone, "hash-object audit/audit.html", nil, "clone_filter.only.clean"},
		{clone, "hash-object fam/HEAD", nil, "clone_filter.a_b.clean"},
		{clone, "hash-object audit/audit.json", nil, "clone_filter.A.b_c.D.process"},
		{clone, "-c core.fsmonitor= read-tree HEAD", nil, "clone_hook-post-index-change"},
		{clone, "-c core.fsmonitor= log -1", nil, "clone_gpg.openpgp.program"},
		{clone, "-c core.fsmonitor= -c filter.x.process= -c filter.x.required=false diff HEAD~1 HEAD -- nb/kit.cue", nil, "clone_diff.x.command"},
		{other, "log -p --ext-diff -1", env, "env_GIT_EXTERNAL_DIFF"},
		{clone, "status", env, "env_GIT_CONFIG_PARAMETERS"},
		{clone, "rev-parse HEAD", env, "GIT_TRACE"},
		{clone + "/fam", "status", nil, "bare0_core.fsmonitor"},
		{clone + "/sub", "status", nil, "sub_core.fsmonitor"},
		{nested, "status", nil, "nested_core.fsmonitor"},
		{partial, "cat-file -p " + lacked, nil, "partial_remote.origin.uploadpack"},
		{partial, "cat-file -p " + lacked, nil, "partial_alias.remote-trap"},
		{partial, "cat-file -p " + lacked, nil, "partial_url-ext"},
		{partial, "cat-file -p " + lacked, nil, "partial_core.sshCommand"},
	} {
		cmd := exec.Command("git", strings.Fields(c.args)...)
		cmd.Dir, cmd.Env = c.dir, slices.Concat([]string{"PATH=" + os.Getenv("PATH"), "HOME=" + x.at("nobody"), "GIT_CONFIG_NOSYSTEM=1"}, c.env)
		out, _ := cmd.CombinedOutput() // most traps make it fail
		if found := x.sprung(); !slices.Contains(found, c.want) {
			t.Errorf("git %s in %s ran %q and not %s, so this test shows nothing of it\n%s", c.args, c.dir, found, c.want, out)
		}
	}
}
