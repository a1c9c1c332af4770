package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"

	"kitmuster/lint/testkit"
)

// forge is a group's repository on a forge that is not there: an origin, and a commit to hold a change against.
type forge struct {
	t       *testing.T
	home    string // holds everything
	origin  string
	base    string // the commit before the change
	head    string
	sources string // a repository of this program
	built   string // what go has built on this machine, so that the recipes need not build the standard library first
}

func (f *forge) run(dir string, env []string, name string, args ...string) (string, error) {
	f.t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOCACHE="+f.built, "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_NOSYSTEM=1", "XDG_CACHE_HOME="+filepath.Join(f.home, "cache"), "XDG_CONFIG_HOME="+filepath.Join(f.home, "config"), "KITMUSTER_CACHE_KEY=",
		"GIT_AUTHOR_NAME=Ida", "GIT_AUTHOR_EMAIL=ida@valley.example", "GIT_COMMITTER_NAME=Ida", "GIT_COMMITTER_EMAIL=ida@valley.example")
	cmd.Env = slices.Concat(cmd.Env, sparing(), env)
	b, err := cmd.CombinedOutput()
	return string(b), err
}

func (f *forge) must(dir, name string, args ...string) string {
	f.t.Helper()
	out, err := f.run(dir, nil, name, args...)
	if err != nil {
		f.t.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return strings.TrimSpace(out)
}

// commit puts all files of a folder under git.
func (f *forge) commit(dir, message string) string {
	f.t.Helper()
	f.must(dir, "git", "add", "-A")
	f.must(dir, "git", "commit", "-q", "-m", message)
	return f.must(dir, "git", "rev-parse", "HEAD")
}

const standIn = `package main

import (
	"os"
	"os/exec"
)

func main() {
	cmd := exec.Command(%q, os.Args[1:]...)
	cmd.Args[0] = "kitmuster"
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	_ = cmd.Run()
	os.Exit(cmd.ProcessState.ExitCode())
}
`

func newForge(t *testing.T) *forge {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not installed")
	}
	home := t.TempDir()
	built, err := exec.Command("go", "env", "GOCACHE").Output()
	if err != nil {
		t.Fatal(err)
	}
	f := &forge{t: t, home: home, built: strings.TrimSpace(string(built)), origin: filepath.Join(home, "origin"), sources: filepath.Join(home, "sources")}
	copyTo := func(from, to string) {
		if err := os.CopyFS(to, os.DirFS(from)); err != nil {
			t.Fatal(err)
		}
	}
	copyTo("../../examples/harrow-valley", f.origin)
	copyTo("../../examples/ci", filepath.Join(f.origin, "ci"))
	f.must(f.origin, "git", "init", "-q", "-b", "main", ".")
	f.must(f.origin, "git", "config", "uploadpack.allowAnySHA1InWant", "true")
	f.base = f.commit(f.origin, "kits")
	heavy := "package kit\n\npacks: edda: compartments: lid: items: anvil: {name: \"anvil\", mass: \"15 kg\", weighed: \"2026-10-01\"}\n"
	if err := os.WriteFile(filepath.Join(f.origin, "alder", "anvil.cue"), []byte(heavy), 0o666); err != nil {
		t.Fatal(err)
	}
	f.head = f.commit(f.origin, "anvil")
	// What is built is a stand-in of a few lines that becomes the program under test: the whole takes too long for a test.
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	testkit.Write(t, f.sources, map[string]string{"go.mod": "module kitmuster\n\ngo 1.26.0\n", "cmd/kitmuster/main.go": fmt.Sprintf(standIn, self)})

	copyTo("../../examples/ci", filepath.Join(f.sources, "examples", "ci"))
	f.must(f.sources, "git", "init", "-q", "-b", "main", ".")
	f.must(f.sources, "git", "config", "uploadpack.allowAnySHA1InWant", "true")
	f.commit(f.sources, "the tool")
	return f
}

// step is one command line of a workflow, with the environment it is given.
type step struct {
	name, run string
	env       map[string]string
}

// steps reads the shell parts of a workflow file, and lists every action and image that it uses.
func steps(t *testing.T, file string) (jobs map[string][]step, uses []string) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	type job struct {
		Env       map[string]string
		Container struct{ Image string }
		Steps     []struct {
			Name, Uses, Run string
			Env             map[string]string
		}
	}
	var w struct {
		Jobs map[string]job
		Kits struct {
			Image         string
			Variables     map[string]string
			Before_script []string
			Script        []string
		}
	}
	if err := yaml.Unmarshal(b, &w); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	jobs = map[string][]step{}
	for name, j := range w.Jobs {
		if j.Container.Image != "" {
			uses = append(uses, j.Container.Image)
		}
		for _, s := range j.Steps {
			if s.Uses != "" {
				uses = append(uses, s.Uses)
				continue
			}
			env := map[string]string{}
			for _, m := range []map[string]string{j.Env, s.Env} {
				for k, v := range m {
					env[k] = v
				}
			}
			jobs[name] = append(jobs[name], step{s.Name, s.Run, env})
		}
	}
	if k := w.Kits; k.Image != "" {
		uses = append(uses, k.Image)
		for _, line := range slices.Concat(k.Before_script, k.Script) {
			jobs["kits"] = append(jobs["kits"], step{line, line, k.Variables})
		}
	}
	return jobs, uses
}

// recipeKey is the secret that the forge gives to runs it trusts.
const recipeKey = "a secret of the forge, told to few"

var expression = regexp.MustCompile(`\$\{\{ *(.*?) *\}\}`)

// The shell parts of the recipes run: against a change that breaks a kit, they fail with what is new, and leave their files.
func TestRecipes(t *testing.T) {
	t.Parallel()
	f := newForge(t)
	known := map[string]string{
		"matrix.part": "1/1", "github.event.pull_request.base.sha": f.base, "github.event.pull_request.base.sha || github.event.before": f.base, "github.event_name == 'push' && 'never' || 'error'": "error", "github.server_url": "file://", "github.repository": f.origin,
		"inputs.source": "file://" + f.sources, "inputs.commit": "HEAD", "github.sha": f.head, "github.token": "a-token", "runner.temp": filepath.Join(f.home, "temp"), "secrets.KITMUSTER_CACHE_KEY": recipeKey,
	}
	readme, err := os.ReadFile("../../examples/ci/README.md")
	if err != nil {
		t.Fatal(err)
	}
	recipes := []struct {
		file, job string
		clone     bool     // the forge clones by itself
		env       []string // what the forge sets
		files     []string
	}{
		{"github.yml", "check", true, []string{"GITHUB_STEP_SUMMARY=" + filepath.Join(f.home, "summary.md")}, []string{"kits-out/annotations.txt", "kits-out/kits.xml", "kits-out/kits.json", "kits-out/change.md", "../temp/kits-cache/CACHEDIR.TAG"}},
		{"github-reusable.yml", "check", true, []string{"GITHUB_STEP_SUMMARY=" + filepath.Join(f.home, "reused.md")}, []string{"../temp/kits-out/annotations.txt", "../temp/kits-out/kits.xml", "../temp/kits-out/change.md", "../temp/kits-cache/CACHEDIR.TAG", "../reused.md"}},
		{"gitlab.yml", "kits", true, []string{"CI_COMMIT_BEFORE_SHA=" + f.base, "CI_PROJECT_DIR=" + filepath.Join(f.home, "gitlab.yml"), "KITMUSTER_CACHE_KEY=" + recipeKey}, []string{"kits-out/kits.xml", ".kits-cache/CACHEDIR.TAG"}},
		{"forgejo.yml", "check", false, nil, []string{"kits-out/kits.json"}},
	}
	for _, c := range testkit.Some(t, 1, recipes) {
		t.Run(c.file, func(t *testing.T) {
			jobs, uses := steps(t, filepath.Join("../../examples/ci", c.file))
			for _, u := range uses {
				if !strings.Contains(string(readme), "`"+u+"`") {
					t.Errorf("%s uses %s, which README.md does not name", c.file, u)
				}
			}
			dir := filepath.Join(f.home, c.file)
			if c.clone {
				f.must(f.home, "git", "clone", "-q", "file://"+f.origin, dir)
			} else if err := os.Mkdir(dir, 0o777); err != nil {
				t.Fatal(err)
			}
			failed := ""
			for _, s := range jobs[c.job] {
				env := append(slices.Clone(c.env), "KITMUSTER_SOURCE=file://"+f.sources, "KITMUSTER_COMMIT=HEAD")
				for k, v := range s.env {
					env = append(env, k+"="+expression.ReplaceAllStringFunc(v, func(e string) string {
						value, ok := known[expression.FindStringSubmatch(e)[1]]
						if !ok {
							t.Errorf("%s: %s is not known here", s.name, e)
						}
						return value
					}))
				}
				out, err := f.run(dir, env, "sh", "-c", s.run)
				if err != nil {
					failed += fmt.Sprintf("%s: %v\n%s", s.name, err, out)
				}
			}
			if !strings.Contains(failed, "exit status 1\n") || !strings.Contains(failed, "\nnew error, not met: ") || !strings.Contains(failed, "\n    Edda carries ") || strings.Count(failed, "exit status") != 1 {
				t.Errorf("not the one failure that is wanted: %s", failed)
			}
			for _, name := range c.files {
				if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() == 0 {
					t.Errorf("%s: %v", name, err)
				}
			}
		})
	}
	if b, err := os.ReadFile(filepath.Join(f.home, "summary.md")); err != nil || !strings.Contains(string(b), "### Alder") {
		t.Errorf("the page of the run: %q, %v", b, err)
	}

	// A run that is not given the secret, or not the one that sealed the cache, neither believes nor fills it.
	for _, name := range []string{filepath.Join(f.home, "temp", "kits-cache"), filepath.Join(f.home, "no-cache")} {
		dir := filepath.Join(f.home, "github.yml")
		out, err := f.run(dir, []string{"PATH=" + filepath.Join(dir, ".tools") + ":" + os.Getenv("PATH"), "KITS_CACHE=" + name, "KITS_OUT=unsealed"}, "sh", "ci/kits.sh", f.base)
		if err == nil || !strings.Contains(out, "\n    Edda carries ") || strings.Contains(out, "cannot be used") {
			t.Errorf("%v\n%s", err, out)
		}
		if _, err := os.Lstat(name); (err == nil) != strings.HasSuffix(name, "kits-cache") {
			t.Errorf("%s: %v", name, err)
		}
	}

	// Four machines and a fifth that joins: the whole job's own line, on the parts of a check without a base.
	dir := filepath.Join(f.home, "github.yml")
	tools := "PATH=" + filepath.Join(dir, ".tools") + ":" + os.Getenv("PATH")
	if testkit.Whole(t) {
		for part := range 4 {
			_, _ = f.run(dir, []string{tools, fmt.Sprintf("KITS_PART=%d/4", part+1), fmt.Sprintf("KITS_OUT=parts/kits-%d", part)}, "sh", "ci/kits.sh", "0000000000000000000000000000000000000000")
		}
		jobs, _ := steps(t, "../../examples/ci/github.yml")
		last := jobs["whole"][len(jobs["whole"])-1]
		if out, err := f.run(dir, nil, "sh", "-c", last.run); err != nil || !strings.Contains(out, "3 households checked") {
			t.Errorf("%v\n%s", err, out)
		}
		if _, err := os.Stat(filepath.Join(dir, "kits.sarif")); err != nil {
			t.Error(err)
		}
	}

	// git's own hook: what breaks a kit is not committed, what does not is; the hook manager's line is the same check.
	hooked := filepath.Join(f.home, "hooked")
	f.must(f.home, "git", "clone", "-q", "file://"+f.origin, hooked)
	f.must(hooked, "git", "reset", "-q", "--hard", f.base)
	f.must(hooked, "cp", "ci/pre-commit.sh", ".git/hooks/pre-commit")
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(hooked, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	commit := func(args ...string) (string, error) {
		return f.run(hooked, []string{tools}, "git", append([]string{"commit"}, args...)...)
	}
	const harmless, slip = "package kit\n\n// nothing that matters\n", "package kit\n\npeople: edda: bodyMass: \"3 t\"\n"
	write("alder/note.cue", harmless)
	f.must(hooked, "git", "add", "-A")
	if out, err := commit("-m", "a note"); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
	write("alder/note.cue", slip)
	if out, err := commit("-a", "-m", "a slip by -a"); err == nil || !strings.Contains(out, "alder/note.cue:3:") {
		t.Errorf("%v\n%s", err, out)
	}
	f.must(hooked, "git", "add", "-A")
	write("alder/note.cue", harmless) // what is staged counts, not what lies there
	if out, err := commit("-m", "a slip"); err == nil || !strings.Contains(out, "alder/note.cue:3:") {
		t.Errorf("%v\n%s", err, out)
	}
	b, err := os.ReadFile("../../.pre-commit-hooks.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var hooks []struct{ ID, Entry string }
	if err := yaml.Unmarshal(b, &hooks); err != nil || len(hooks) != 1 {
		t.Fatalf("%v %v", hooks, err)
	}
	if out, err := f.run(hooked, []string{tools}, "sh", "-c", hooks[0].Entry); err == nil || !strings.Contains(out, "alder/note.cue:3:") {
		t.Errorf("%v\n%s", err, out)
	}
	used, err := os.ReadFile("../../examples/ci/pre-commit-config.yaml")
	if err != nil || !strings.Contains(string(used), "- id: "+hooks[0].ID+"\n") {
		t.Errorf("pre-commit-config.yaml asks for another hook than %q: %v", hooks[0].ID, err)
	}
	f.must(hooked, "git", "add", "-A")
	write("alder/note.cue", slip)
	if out, err := commit("-m", "not the slip", "--allow-empty"); err != nil {
		t.Errorf("%v\n%s", err, out)
	}

	// The first commit of a repository.
	first := filepath.Join(f.home, "first")
	f.must(f.home, "cp", "-R", hooked, first)
	f.must(first, "rm", "-rf", ".git", "alder/note.cue", "birch", "cedar")
	f.must(first, "git", "init", "-q", "-b", "main", ".")
	f.must(first, "cp", "ci/pre-commit.sh", ".git/hooks/pre-commit")
	f.must(first, "cp", "alder/household.cue", "household.txt")
	testkit.Write(t, first, map[string]string{"alder/household.cue": "package kit\n"})
	f.must(first, "git", "add", "-A")
	if out, err := f.run(first, []string{tools}, "git", "commit", "-m", "first"); err == nil || !strings.Contains(out, "alder") {
		t.Errorf("%v\n%s", err, out)
	}
	f.must(first, "mv", "household.txt", "alder/household.cue")
	f.must(first, "git", "add", "-A")
	if out, err := f.run(first, []string{tools}, "git", "commit", "-m", "first"); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
