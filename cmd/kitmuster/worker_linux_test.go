package main

import (
	"fmt"
	"os"
	"os/exec"
	"slices"
	"testing"

	"github.com/fxamacker/cbor/v2"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/kit"
	"kitmuster/lint/repo"
	"kitmuster/lint/sandbox"
	"kitmuster/lint/testkit"
	"kitmuster/lint/unit"
)

// One worker judges each household in the commit and as of the day that the job names, in any order; as of the run's day where it names none.
func TestWorkerKnowsDays(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	git := func(args ...string) string { return testkit.Git(t, dir, nil, args...) }
	writeKit := func(month int) {
		t.Helper()
		testkit.Write(t, dir, map[string]string{"a/kit.cue": neighbour + fmt.Sprintf("packs: rust: compartments: lid: {reach: \"walking\", items: bars: {mass: \"500 g\", expires: \"2026-%02d-27\", food: energy: \"2100 kcal\"}}\n", month)})
	}
	git("init", "-q")
	var commits []string
	for month := range 7 { // more than are kept at once
		writeKit(month + 1)
		git("add", "-A")
		git("commit", "-q", "-m", "kit")
		commits = append(commits, git("rev-parse", "HEAD"))
	}
	writeKit(10)
	disk, err := repo.NewDisk(dir, dir)
	if err != nil {
		t.Fatal(err)
	}
	home, err := disk.Path("a")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), "kitmuster", "worker", "--on", "2026-11-01")
	cmd.Dir, cmd.Stderr = dir, os.Stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	jobs, answers := cbor.NewEncoder(in), lint.Packing.NewDecoder(out)
	base, err := (&standards{}).packed()
	if err != nil {
		t.Fatal(err)
	}
	if err := jobs.Encode(base); err != nil {
		t.Fatal(err)
	}
	ready := false
	if err := answers.Decode(&ready); err != nil || !ready {
		t.Fatal(err)
	}
	expired := func(commit, day string) bool {
		t.Helper()
		j := lint.Job{Dir: home, Commit: commit}
		if day != "" {
			d, err := unit.ParseDate(day)
			if err != nil {
				t.Fatal(err)
			}
			j.On = kit.Some(d)
		}
		var r sandbox.Reply
		if err := jobs.Encode(j); err != nil {
			t.Fatal(err)
		}
		if err := answers.Decode(&r); err != nil {
			t.Fatal(err)
		}
		found, err := r.Answer.Findings()
		if err != nil || !r.Answer.Household.Judged {
			t.Errorf("not judged: %d findings, %v", len(found), err)
		}
		return slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Rule == "dates/expired" })
	}
	for range 2 {
		for i, c := range commits {
			if last := fmt.Sprintf("2026-%02d-2", i+1); expired(c, last+"7") || !expired(c, last+"8") || !expired(c, "") || expired(c, "1970-01-01") {
				t.Errorf("commit %d is not judged as of its day", i)
			}
		}
		if expired("", "2026-10-27") || !expired("", "2026-10-28") || !expired("", "") {
			t.Error("the files as they are are not judged as of the day")
		}
	}
	_ = in.Close()
	if err := cmd.Wait(); err != nil {
		t.Error(err)
	}
}
