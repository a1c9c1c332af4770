package main

import (
	"os/exec"
	"strings"
	"testing"
)

// A limit of the shell that is too low is named, with what to raise it to; one that is just enough lets a household be judged.
func TestCramped(t *testing.T) {
	t.Parallel()
	sh, err := exec.LookPath("bash") // ulimit -v, -d and -n are not in every sh
	if err != nil {
		t.Skip("there is no bash here")
	}
	run := func(limit string) (string, int) {
		cmd := exec.Command(sh, "-c", "ulimit "+limit+` && exec kitmuster check --no-cache --on 2026-11-01 --fail-on never alder`)
		cmd.Dir = "../../examples/harrow-valley"
		out, _ := cmd.CombinedOutput() // the code says it
		return string(out), cmd.ProcessState.ExitCode()
	}
	for _, c := range []struct{ limit, raise string }{{"-v 1900000", "2000000"}, {"-d 240000", "250000"}, {"-n 31", "32"}} {
		out, code := run(c.limit)
		flag, _, _ := strings.Cut(c.limit, " ")
		if code != exitUnfit || !strings.HasPrefix(out, "kitmuster: the limit on the ") || !strings.Contains(out, "(ulimit "+flag+") is too low for this program; raise it to "+c.raise+" or more\n") {
			t.Errorf("ulimit %s: exit code %d, %s", c.limit, code, out)
		}
		if out, code := run(flag + " " + c.raise); code != exitClean {
			t.Errorf("ulimit %s %s: exit code %d, %s", flag, c.raise, code, out)
		}
	}
}
