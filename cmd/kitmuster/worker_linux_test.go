package main

import (
	"os"
	"os/exec"
	"slices"
	"testing"

	"github.com/fxamacker/cbor/v2"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/kit"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// One worker judges each household as of the day that the job names, and as of the run's where it names none.
func TestWorkerKnowsDays(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	writeTree(t, dir, map[string]string{"a/kit.cue": neighbour + "packs: rust: compartments: lid: {reach: \"walking\", items: bars: {mass: \"500 g\", expires: \"2026-08-31\", food: energy: \"2100 kcal\"}}\n"})
	disk, err := source.NewDisk(dir, dir)
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
	ready := false
	if err := answers.Decode(&ready); err != nil || !ready {
		t.Fatal(err)
	}
	for _, c := range []struct {
		day     string
		expired bool
	}{{"", true}, {"2026-08-31", false}, {"2026-09-01", true}, {"1970-01-01", false}, {"", true}} {
		j := lint.Job{Dir: home}
		if c.day != "" {
			d, err := unit.ParseDate(c.day)
			if err != nil {
				t.Fatal(err)
			}
			j.On = kit.Some(d)
		}
		var r reply
		if err := jobs.Encode(j); err != nil {
			t.Fatal(err)
		}
		if err := answers.Decode(&r); err != nil {
			t.Fatal(err)
		}
		found, err := r.Answer.Findings()
		expired := slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Rule == "dates/expired" })
		if err != nil || !r.Answer.Household.Judged || expired != c.expired {
			t.Errorf("as of %q: expired %v, %d findings, %v", c.day, expired, len(found), err)
		}
	}
	_ = in.Close()
	if err := cmd.Wait(); err != nil {
		t.Error(err)
	}
}
