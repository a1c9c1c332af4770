package repo

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"

	"kitmuster/lint/words"
)

// Whatever git is to do for us is built here and nowhere else: its version, its
// environment, and what stands before each command.

// oldestGit knows safe.bareRepository (release notes of git 2.38.0, from memory).
var oldestGit = [2]int{2, 38}

// bare are the variables that children are given: where programs, homes and
// temporary files are, and which repository git may take for whose. None of
// them names a program to run or holds a secret.
var bare = []string{
	"PATH", "HOME", "TMPDIR", "XDG_CONFIG_HOME", "XDG_CACHE_HOME",
	"LD_LIBRARY_PATH", "DYLD_LIBRARY_PATH", // a git outside of the system's folders may need its libraries
	"SUDO_UID", // as whose git looks at owners (git-config(1), safe.directory)
	"USERPROFILE", "HOMEDRIVE", "HOMEPATH", "APPDATA", "LOCALAPPDATA", "PROGRAMDATA",
	"SYSTEMROOT", "SYSTEMDRIVE", "WINDIR", "COMSPEC", "PATHEXT", "TEMP", "TMP",
	"GIT_CONFIG_GLOBAL", "GIT_CONFIG_SYSTEM", "GIT_CONFIG_NOSYSTEM", "GIT_CEILING_DIRECTORIES", "GIT_DISCOVERY_ACROSS_FILESYSTEM",
	"GIT_DIR", "GIT_WORK_TREE",
	"GIT_TEST_ASSUME_DIFFERENT_OWNER", // makes git stricter; see TestRepositoryThatCannotBeOpened
}

// BareEnv gives of an environment, as os.Environ gives it, what a child of ours
// needs, git included, and nothing else: no secret, and nothing that makes git
// run a program or write a trace. Of the settings in GIT_CONFIG_COUNT only
// safe.directory is kept. What it gives may be given to it again.
func BareEnv(env []string) []string {
	return append(only(env, bare), configEnv(trusted(env))...)
}

// only gives the variables that have one of the names.
func only(env, names []string) (out []string) {
	for _, v := range env {
		name, _, _ := strings.Cut(v, "=")
		if slices.ContainsFunc(names, func(n string) bool {
			return name == n || runtime.GOOS == "windows" && strings.EqualFold(name, n)
		}) {
			out = append(out, v)
		}
	}
	return out
}

// setting is a name of git's configuration with its value.
type setting struct{ name, value string }

// trusted gives the folders that the environment tells git to trust.
func trusted(env []string) (out []setting) {
	vars := map[string]string{}
	for _, v := range env {
		name, value, _ := strings.Cut(v, "=")
		vars[name] = value
	}
	n, _ := strconv.Atoi(vars["GIT_CONFIG_COUNT"])
	for i := range min(n, len(env)) { // each has variables of its own
		value, ok := vars[fmt.Sprintf("GIT_CONFIG_VALUE_%d", i)]
		if ok && strings.EqualFold(vars[fmt.Sprintf("GIT_CONFIG_KEY_%d", i)], "safe.directory") {
			out = append(out, setting{"safe.directory", value})
		}
	}
	return out
}

// configEnv hands settings to git as variables, since `-c` ends a name at its first "=".
func configEnv(list []setting) (env []string) {
	for i, s := range list {
		env = append(env, fmt.Sprintf("GIT_CONFIG_KEY_%d=%s", i, s.name), fmt.Sprintf("GIT_CONFIG_VALUE_%d=%s", i, s.value))
	}
	if env != nil {
		env = append(env, "GIT_CONFIG_COUNT="+strconv.Itoa(len(list)))
	}
	return env
}

// walls are the variables that every git is given. Each wall against fetching
// stands alone too: GIT_NO_LAZY_FETCH came with git 2.39.4 and the releases of
// other branches on its day (from memory), and older ones pass over it. The one
// protocol allowed is "/": `remote.x.vcs` and a url of `name::` run
// git-remote-NAME, for which an alias may stand, so it must be a name that no
// url and no program can have.
var walls = []string{
	"GIT_NO_LAZY_FETCH=1", "GIT_ALLOW_PROTOCOL=/", "GIT_ATTR_NOSYSTEM=1", "GIT_OPTIONAL_LOCKS=0", "GIT_TERMINAL_PROMPT=0", "LC_ALL=C",
}

// settings stand before every command: nothing of the user's or the
// repository's configuration may start a program of its own beside the read or
// change what is printed. Settings whose names the repository makes up, such as
// those of filters, are put out by disarm.
var settings = []string{
	"--no-pager", "--literal-pathspecs", "-c", "safe.bareRepository=explicit", "-c", "protocol.allow=never",
	"-c", "core.fsmonitor=false", "-c", "core.hooksPath=" + os.DevNull, "-c", "core.attributesFile=" + os.DevNull, "-c", "core.fileMode=false",
	"-c", "core.protectNTFS=false", "-c", "core.protectHFS=false", "-c", "core.splitIndex=false", "-c", "core.ignoreStat=false",
	"-c", "diff.autoRefreshIndex=true", "-c", "gc.auto=0", "-c", "maintenance.auto=false", "-c", "log.showSignature=false",
}

// programs are the settings that name a program and what is put over them, with
// * for the name in the middle: all of git-config(1) that reading, comparing or
// fetching could come across. A program set to nothing is none.
var programs = map[string]string{
	"filter.*.clean": "", "filter.*.smudge": "", "filter.*.process": "", "filter.*.required": "false",
	"diff.external": "", "diff.*.command": "", "diff.*.textconv": "", "merge.*.driver": "", "interactive.difffilter": "",
	"remote.*.uploadpack": "", "remote.*.receivepack": "", "remote.*.vcs": "", "uploadpack.packobjectshook": "",
	"core.sshcommand": "", "core.gitproxy": "", "core.alternaterefscommand": "", "core.askpass": "", "core.editor": "", "core.pager": "",
	"credential.helper": "", "credential.*.helper": "", "gpg.program": "", "gpg.*.program": "", "gpg.ssh.defaultkeycommand": "",
	"sequence.editor": "", "trailer.*.command": "", "trailer.*.cmd": "", "submodule.*.update": "none",
	"alias.*": "", "alias.*.command": "", "pager.*": "",
	"hook.*.enabled": "false", // git-hook(1) of git 2.54
}

// disarm reads the configuration that holds for the repository, which starts
// nothing, and puts something harmless over all in it that names a program. It
// also learns from where a partial clone gets what it lacks.
func (r *Repository) disarm(ctx context.Context) error {
	out, err := r.run(ctx, "config", "-z", "--list")
	if err != nil {
		return fmt.Errorf("the configuration of the repository cannot be read: %w", err)
	}
	seen := map[string]bool{}
	for entry := range strings.SplitSeq(out, "\x00") {
		name, value, _ := strings.Cut(entry, "\n")
		section, rest, _ := strings.Cut(name, ".")
		middle, last := "", rest
		if i := strings.LastIndexByte(rest, '.'); i >= 0 {
			middle, last = rest[:i], rest[i+1:]
		}
		kind := name
		switch {
		case len(last) < len(rest):
			kind = section + ".*." + last
		case section == "alias" || section == "pager":
			kind = section + ".*"
		}
		switch {
		case kind == "remote.*.promisor" || kind == "remote.*.partialclonefilter":
			r.partial = middle
		case kind == "extensions.partialclone":
			r.partial = value
		case section == "hook": // one that is configured anyhow runs unless it is switched off
			name, kind = "hook."+middle+".enabled", "hook.*.enabled"
		}
		if set, ok := programs[kind]; ok && !seen[name] {
			seen[name] = true
			r.config = append(r.config, setting{name, set})
		}
	}
	return nil
}

// supported reports what is wrong with the git that is found.
func (r *Repository) supported(ctx context.Context) error {
	out, err := line(r.runIn(ctx, "", "version"))
	if err != nil {
		return err
	}
	var major, minor int
	if _, err := fmt.Sscanf(out, "git version %d.%d", &major, &minor); err != nil {
		return fmt.Errorf("git version answered %q; install git %d.%d or newer", out, oldestGit[0], oldestGit[1])
	}
	if slices.Compare([]int{major, minor}, oldestGit[:]) < 0 {
		return fmt.Errorf("git %d.%d is too old to read a stranger's commits safely; install git %d.%d or newer", major, minor, oldestGit[0], oldestGit[1])
	}
	return nil
}

// missing explains an object that is not there.
func (r *Repository) missing() error {
	if r.partial == "" {
		return fmt.Errorf("%w in this repository; run: git fsck", errMissing)
	}
	return fmt.Errorf("%w in this partial clone, and nothing is fetched from here; complete the clone, then run the same again: %s", errMissing, r.complete())
}

// complete is the command that gives a partial clone what it lacks (git-fetch(1); --refetch came with git 2.36).
func (r *Repository) complete() string {
	return fmt.Sprintf("git -C %s fetch --refetch --no-filter %s", words.Shell(r.native(r.top)), words.Shell(r.partial))
}

// failure is a git command that ended with an error.
type failure struct {
	command string
	code    int
	said    string
}

func (f *failure) Error() string { return fmt.Sprintf("git %s: %s", f.command, f.reason()) }

// reason is what git said last that is no advice, without its mark.
func (f *failure) reason() string {
	out := ""
	for l := range strings.Lines(f.said) {
		l = strings.TrimSpace(l)
		for _, mark := range []string{"fatal: ", "error: "} {
			if rest, ok := strings.CutPrefix(l, mark); ok {
				out = rest
			}
		}
	}
	if out == "" {
		out = cmp.Or(strings.TrimSpace(f.said), fmt.Sprintf("it ended with code %d", f.code))
	}
	return out
}

func (r *Repository) run(ctx context.Context, args ...string) (string, error) {
	return r.runIn(ctx, r.native(r.top), args...)
}

func (r *Repository) runIn(ctx context.Context, dir string, args ...string) (string, error) {
	return r.finish(ctx, r.command(ctx, dir, args...), args[0])
}

func (r *Repository) command(ctx context.Context, dir string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, "git", append(slices.Clone(settings), args...)...)
	cmd.Dir, cmd.Env = dir, slices.Concat(r.env, walls, configEnv(r.config))
	// A killed git may leave a helper that holds its output open.
	cmd.WaitDelay = time.Second
	return cmd
}

// finish runs a command and gives what it printed.
func (r *Repository) finish(ctx context.Context, cmd *exec.Cmd, name string) (string, error) {
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	err := cmd.Run()
	exit := (*exec.ExitError)(nil)
	switch {
	case err == nil:
		return out.String(), nil
	case ctx.Err() != nil:
		return "", ctx.Err()
	case r.fetches(errs.String()):
		return "", r.missing()
	case errors.As(err, &exit):
		return "", &failure{command: name, code: exit.ExitCode(), said: errs.String()}
	}
	return "", starting(cmd.Dir, err)
}

// fetches reports whether git, by what it said, ended for want of an object that a partial clone fetches.
func (r *Repository) fetches(said string) bool {
	return r.partial != "" && slices.ContainsFunc([]string{"lazy fetching disabled", "from promisor remote", "unable to read tree", "not allowed"}, func(s string) bool { return strings.Contains(said, s) })
}

// starting explains why git did not even start.
func starting(dir string, err error) error {
	if errors.Is(err, exec.ErrNotFound) {
		return errors.New("git was not found, and revisions are read with it; install git, or put it on the PATH")
	}
	if info, e := os.Stat(dir); e != nil || !info.IsDir() {
		return &fs.PathError{Op: "git", Path: dir, Err: errors.New("there is no such folder")}
	}
	return fmt.Errorf("git cannot be run: %w", err)
}
