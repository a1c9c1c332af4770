package report

import (
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"kitmuster/lint/finding"
)

// validators is the folder that .ci/run fills with what checks the formats from outside.
func validators(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("KITMUSTER_VALIDATORS")
	if dir == "" {
		t.Skip("KITMUSTER_VALIDATORS names no folder with the validators and schemas; .ci/run makes one")
	}
	return dir
}

// refused runs a validator over documents and gives the lines it says of each that it refuses.
func refused(t *testing.T, documents map[string]string, tool string, args ...string) map[string]string {
	t.Helper()
	dir := t.TempDir()
	names := map[string]string{}
	for name, document := range documents {
		file := filepath.Join(dir, fmt.Sprintf("document-%d", len(names)))
		if err := os.WriteFile(file, []byte(document), 0o600); err != nil {
			t.Fatal(err)
		}
		names[file] = name
		args = append(args, file)
	}
	out, err := exec.Command(tool, args...).CombinedOutput()
	if _, said := err.(*exec.ExitError); err != nil && !said {
		t.Fatal(err)
	}
	said := map[string]string{}
	for line := range strings.Lines(string(out)) {
		for file, name := range names {
			if rest, ok := strings.CutPrefix(line, file); ok && rest[0] != '-' && (rest[0] < '0' || rest[0] > '9') && strings.TrimSpace(rest) != "validates" {
				said[name] += rest
			}
		}
	}
	if (err != nil) != (len(said) > 0) {
		t.Fatalf("%s: %v\n%s", tool, err, out)
	}
	return said
}

// refuses holds what is right and what is wrong, in one place each, against a validator.
func refuses(t *testing.T, right map[string]string, good string, wrong [][3]string, tool string, args ...string) {
	t.Helper()
	documents := maps.Clone(right)
	for _, c := range wrong {
		if documents[c[1]] = strings.Replace(good, c[0], c[1], 1); documents[c[1]] == good {
			t.Errorf("%q is not there to be replaced", c[0])
		}
	}
	said := refused(t, documents, tool, args...)
	for name := range right {
		if said[name] != "" {
			t.Errorf("%s: %s", name, said[name])
		}
	}
	for _, c := range wrong {
		if !strings.Contains(said[c[1]], c[2]) {
			t.Errorf("%q for %q is not refused: %s", c[1], c[0], said[c[1]])
		}
	}
}

// fromProgram gives the files of a kind that .ci/run had the program write.
func fromProgram(t *testing.T, dir, ext string) map[string]string {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join(dir, "real", "*"+ext))
	if len(files) == 0 {
		t.Fatalf("no %s file of the program is in %s", ext, dir)
	}
	out := map[string]string{}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out[f] = string(b)
	}
	return out
}

// The published JSON schema of SARIF 2.1.0, by ajv.
func TestOutsideSARIF(t *testing.T) {
	dir := validators(t)
	documents := fromProgram(t, dir, ".sarif")
	for name, document := range documents {
		if back := readBack(t, ReadSARIF, document); written(t, SARIF, back) != document {
			t.Errorf("%s does not come back as it was", name)
		}
	}
	for name, r := range runs() {
		documents[name] = written(t, SARIF, r)
	}
	refuses(t, documents, documents["states"], [][3]string{
		{`"level":"error"`, `"level":"info"`, "level"},
		{`"startLine":8`, `"startLine":0`, "startLine"},
		{`"version": "2.1.0"`, `"version": "2.1"`, "version"},
		{`"baselineState":"new"`, `"baselineState":"fresh"`, "baselineState"},
		{`"uri":"alder/kit.cue"`, `"uri":"alder kit.cue"`, "uri"},
		{`"ruleId"`, `"ruleName"`, "ruleName"},
		{`"message":{"text"`, `"message":{"txt"`, "message"},
	}, "node", "testdata/sarif.js", dir)
}

// Ant's schema and the xUnit plugin's, by xmllint.
func TestOutsideJUnit(t *testing.T) {
	dir := validators(t)
	b, err := os.ReadFile(filepath.Join(dir, "package/test/resources/JUnit.xsd"))
	if err != nil {
		t.Fatal(err)
	}
	ant := string(b)
	for _, add := range [][2]string{ // of the edition of 2022
		{`<xs:element name="error">`, `<xs:element name="skipped"/>`},
		{`<xs:attribute name="errors" `, `<xs:attribute name="skipped" type="xs:int" use="optional"/>`},
	} {
		if strings.Count(ant, add[0]) != 1 {
			t.Fatalf("%q does not stand in Ant's schema once", add[0])
		}
		ant = strings.Replace(ant, add[0], add[1]+add[0], 1)
	}
	schema := filepath.Join(t.TempDir(), "ant.xsd")
	if err := os.WriteFile(schema, []byte(ant), 0o600); err != nil {
		t.Fatal(err)
	}
	documents := fromProgram(t, dir, ".xml")
	for name, r := range runs() {
		documents[name] = written(t, JUnit, r)
		r.Households = append(r.Households, finding.Household{Name: " ", Path: "\t"})
		documents[name+" and a blank name"] = written(t, JUnit, r)
	}
	lint := []string{"--noout", "--nonet", "--schema"}
	refuses(t, documents, documents["usual"], [][3]string{
		{` hostname="localhost"`, ``, "hostname"},
		{`T00:00:00"`, `T00:00:00Z"`, "timestamp"},
		{"    <system-err></system-err>\n", "\n", "system-err"},
		{` type="load/body-mass-cap"`, ` kind="x"`, "type"},
		{`name="Alder"`, `name=" "`, "name"},
	}, "xmllint", append(lint, schema)...)
	refuses(t, documents, documents["usual"], [][3]string{
		{` failures="1"`, ``, "failures"},
		{`<skipped `, `<skiped `, "skiped"},
		{`<failure `, `<`, "error"},
	}, "xmllint", append(lint, "testdata/junit-10.xsd")...)
}
