package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"kitmuster/lint/testkit"
)

// A family's table of four packs, with masses in grams, ounces and pounds, becomes a kit. What its first check says is true as it is
// worded: nothing that the table names is said to be missing.
func TestImport(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	b, err := os.ReadFile("testdata/gear.csv")
	if err != nil {
		t.Fatal(err)
	}
	testkit.Write(t, dir, map[string]string{"our gear.csv": string(b), "mine/notes.txt": "mine", "broken.csv": "Item,Weight (g)\nTorch,86\nTotal,99\n"})
	import1 := func(stdin string, args ...string) ran {
		t.Helper()
		cmd, end := program(t, dir, append([]string{"import"}, args...)...)
		cmd.Stdin = strings.NewReader(stdin)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		return end()
	}
	got := import1("Ada\nBen\nCleo\nDov\nyes\n", "our gear.csv", "kit")
	if got.code != exitClean || strings.Contains(got.out, "differ:") || strings.Contains(got.out, "Not understood") || !strings.Contains(got.out, "82 things, the first 20") || !strings.Contains(got.out, "and the things come to the same each time") {
		t.Fatalf("exit %d\n%s%s", got.code, got.out, got.errs)
	}
	house := filepath.Join(dir, "kit/household.cue")
	text, err := os.ReadFile(house)
	if err != nil {
		t.Fatal(err)
	}
	for who, is := range map[string]string{"Ada": `age: "41 y", bodyMass: "68 kg"`, "Ben": `age: "43 y", bodyMass: "85 kg"`, "Cleo": `age: "15 y", bodyMass: "55 kg"`, "Dov": `age: "13 y", bodyMass: "48 kg"`} {
		text = []byte(strings.Replace(string(text), "name: \""+who+"\"\n\t\t// age: write it, such as age: \"42 y\"\n", "name: \""+who+"\"\n\t\t"+strings.ReplaceAll(is, ", ", "\n\t\t")+"\n", 1))
	}
	if err := os.WriteFile(house, text, 0o600); err != nil {
		t.Fatal(err)
	}
	check := runs(t, dir, "check", "--on", "2026-11-01", "--long", "kit")
	if check.code != exitFindings || strings.Contains(check.out, "[input/") {
		t.Errorf("exit %d\n%s", check.code, check.out)
	}
	said := strings.Join(strings.Fields(check.out), " ")
	for _, there := range []string{
		"no whistle", "Ada has no way to make fire", "Ben has no way to make fire", "no light", "the household has no shelter", "no rain jacket", "no paper map: Ada", "the household has nothing to cut",
		"no soap", "no toilet paper", "no radio", "no cash", "no food", "no water and", "Ada carries no way to treat", "Ben carries no way to treat", "no bag, quilt", "first aid has no", "no cord", "no power bank", "no can opener",
	} {
		if i := strings.Index(said, there); i >= 0 && !strings.Contains(said[i:min(len(said), i+400)], "not recorded") {
			t.Errorf("the table has it, and the check says: … %s …", said[max(0, i-80):min(len(said), i+200)])
		}
	}
	if !strings.Contains(said, "Dov has no way to make fire") { // the table has none for him
		t.Error("nothing is said of what is missing")
	}
	for args, want := range map[string]string{
		"our gear.csv\x00kit":     "kitmuster: kit has a kit already (blue_pack_ben.cue), and nothing of it is overwritten; name another folder\n",
		"broken.csv\x00new\x00-y": "kitmuster: nothing is written, as 1 sum of the table differs; correct the table, say with --map what its columns hold, or write all the same with --accept-sums\n",
		"mine/notes.txt\x00new":   "kitmuster: mine/notes.txt: no table was found in it: one row must name its columns, such as name, count, mass and pack; --map A=name says what a column holds\n",
	} {
		if got := import1("", strings.Split(args, "\x00")...); got.code == exitClean || got.errs != want {
			t.Errorf("%q: exit %d, %q", args, got.code, got.errs)
		}
	}
	if got := import1("\nno\n", "broken.csv", "new"); got.code != exitClean || !strings.HasSuffix(got.out, "Nothing is written.\n") {
		t.Errorf("exit %d\n%s", got.code, got.out)
	}
	if _, err := os.Stat(filepath.Join(dir, "new")); err == nil {
		t.Error("a folder was made and nothing written")
	}
}
