package main

import (
	"bytes"
	"crypto"
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/rsa"
	"crypto/x509"
	"encoding/json"
	"encoding/pem"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"kitmuster/lint/testkit"
)

// writeKeys makes a fresh pair of keys of each kind: NAME.pem and NAME.pub.
func writeKeys(dir string) error {
	_, ed, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return err
	}
	_, other, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return err
	}
	ec, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return err
	}
	large, err := ecdsa.GenerateKey(elliptic.P384(), rand.Reader)
	if err != nil {
		return err
	}
	rs, err := rsa.GenerateKey(rand.Reader, 2048)
	if err != nil {
		return err
	}
	if err := os.Mkdir(dir, 0o777); err != nil {
		return err
	}
	for name, key := range map[string]crypto.Signer{"ed": ed, "other": other, "ec": ec, "p384": large, "rsa": rs} {
		private, err := x509.MarshalPKCS8PrivateKey(key)
		if err != nil {
			return err
		}
		public, err := x509.MarshalPKIXPublicKey(key.Public())
		if err != nil {
			return err
		}
		for file, block := range map[string]*pem.Block{".pem": {Type: "PRIVATE KEY", Bytes: private}, ".pub": {Type: "PUBLIC KEY", Bytes: public}} {
			if err := os.WriteFile(filepath.Join(dir, name+file), pem.EncodeToMemory(block), 0o600); err != nil {
				return err
			}
		}
	}
	return nil
}

// The stock binaries of the rules engine and of CUE accept a new standard as it is, beside the base as the program
// writes it out, say what the program says, and verify its signatures as it verifies theirs. .ci/run names them.
func TestStockStandard(t *testing.T) {
	opa, cue := os.Getenv("KITMUSTER_OPA"), os.Getenv("KITMUSTER_CUE")
	if opa == "" || cue == "" {
		t.Skip("KITMUSTER_OPA and KITMUSTER_CUE do not name the stock binaries")
	}
	dir := t.TempDir()
	if err := writeKeys(filepath.Join(dir, "keys")); err != nil {
		t.Fatal(err)
	}
	run := func(where string, args ...string) string {
		t.Helper()
		cmd := exec.Command(args[0], args[1:]...)
		cmd.Dir = filepath.Join(dir, where)
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v\n%s", strings.Join(args[1:], " "), err, out)
		}
		return string(out)
	}
	run("", "kitmuster", "standard", "new", "harrow-upper")
	run("", "kitmuster", "standard", "base", "-o", "base")
	if err := os.WriteFile(filepath.Join(dir, "facts.json"), []byte(`{"packs": [{"name": "Rust", "mass_id": "packs/rust/mass", "mass_mg": 26000000}], "limits": []}`), 0o600); err != nil {
		t.Fatal(err)
	}
	// The lines of the standard's own page.
	run("harrow-upper", opa, "check", "--strict", "--schema", "../base/facts.schema.json", "--capabilities", "../base/capabilities.json", "--bundle", "../base", ".")
	if out := run("harrow-upper", opa, "test", "--run", "harrow_upper", "--bundle", "../base", "."); !strings.Contains(out, "PASS: 3/3") {
		t.Errorf("opa test: %s", out)
	}
	run("harrow-upper", cue, "vet", "./...")
	run("harrow-upper", cue, "fmt", "--check", "./...")
	if out := run("harrow-upper", opa, "fmt", "--list", "."); out != "" {
		t.Errorf("opa fmt would change %s", out)
	}
	packed := func(name string, args ...string) string {
		run("", append([]string{"kitmuster", "standard", "pack", "harrow-upper", "-o", name}, args...)...)
		return name
	}
	for _, b := range []string{"harrow-upper", packed("plain.tar.gz"), packed("ec.tar.gz", "--sign", "keys/ec.pem")} {
		out := run("", opa, "eval", "--format", "json", "--bundle", "base", "--bundle", b, "--input", "facts.json", "data.rules.harrow_upper.bulk.finding.too_heavy[_].text")
		var answer struct {
			Result []struct{ Expressions []struct{ Value string } }
		}
		if err := json.Unmarshal([]byte(out), &answer); err != nil || len(answer.Result) != 1 || answer.Result[0].Expressions[0].Value != "pack “Rust” weighs 26.00 kg; one pack may weigh 25.00 kg at most: over by 1.00 kg" {
			t.Errorf("opa eval of %s: %v %s", b, err, out)
		}
	}
	// What stock signs, the program verifies.
	run("harrow-upper", opa, "sign", "--signing-key", "../keys/ec.pem", "--signing-alg", "ES256", "--bundle", ".")
	if out := run("", "kitmuster", "standard", "verify", "harrow-upper", "--key", "keys/ec.pub"); !strings.Contains(out, "harrow-upper 0.1.0\n") {
		t.Error(out)
	}
	// What the program signs, stock verifies: it compiles only what it has verified, and there misses the helpers of the base.
	verify := func(key, alg string) string {
		cmd := exec.Command(opa, "build", "--bundle", "ec.tar.gz", "--verification-key", key, "--signing-alg", alg, "-o", "built.tar.gz")
		cmd.Dir = dir
		out, _ := cmd.CombinedOutput()
		return string(out)
	}
	if out := verify("keys/ec.pub", "ES256"); !strings.Contains(out, "undefined function data.lib.limit_of") {
		t.Errorf("stock did not get past the signature: %s", out)
	}
	if out := verify("keys/ed.pub", "EdDSA"); !strings.Contains(out, "signature") {
		t.Errorf("stock took another key: %s", out)
	}
}

// A standard that keeps CUE, the rules engine or an example busy for good, or eats memory, is stopped within bounds and named
// where it was at work; figures stand in the output of the test.
func TestWalledStandards(t *testing.T) {
	const rule = "rules/harrow/bulk.rego"
	cases := []struct {
		why, command, file, old, new, want string
		limits                             []string
	}{
		{"an endless list", "build", "standard.cue", "package standard\n", "package standard\n\nimport \"list\"\n\n_x: list.Range(0, 1000000, 1)\n", "standard.cue:1:1: reading standard.cue took longer than 2s and was stopped", []string{"--time-limit", "2s"}},
		{"a rule without end over its example", "test", rule, "\tsome pack in input.packs\n", "\tsome pack in input.packs\n\tcount([1 | some i in numbers.range(1, 100000); some j in numbers.range(1, 100000); i + j == 0]) == 0\n",
			"rule harrow:bulk/too-heavy was stopped after 2s", nil},
		{"a list that doubles", "pack", "standard.cue", "package standard\n", "package standard\n\n" + doubled(40), "standard.cue:1:1: reading standard.cue ", []string{"--time-limit", "20s", "--memory-limit", "256MiB"}},
		{"a test without end", "test", "rules/harrow/bulk_test.rego", "test_too_heavy_at_the_limit if {\n", "test_too_heavy_at_the_limit if {\n\tcount([1 | some i in numbers.range(1, 100000); some j in numbers.range(1, 100000); i + j == 0]) == 0\n",
			"bulk_test.rego:7:1: test_too_heavy_at_the_limit was stopped after 5s", nil},
		{"an example without end", "test", rule, `stores: {mass: "25 kg"}`, `stores: {mass: "25 kg", for: [for x in [for a in _l for b in _l for c in _l for d in _l {a}] {x}]}, _l: [for i in [0,1,2,3,4,5,6,7,8,9] for j in [0,1,2,3,4,5,6,7,8,9] {i}]`,
			"bulk.rego:21:1: the kit under fails of rule harrow:bulk/too-heavy ", []string{"--time-limit", "6s", "--memory-limit", "512MiB"}},
	}
	for _, c := range testkit.Some(t, 1, cases) {
		t.Run(c.why, func(t *testing.T) {
			t.Parallel()
			dir := filepath.Join(t.TempDir(), "harrow")
			if out, err := exec.Command("kitmuster", "standard", "new", "harrow", "-o", dir).CombinedOutput(); err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			file := filepath.Join(dir, filepath.FromSlash(c.file))
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Contains(b, []byte(c.old)) {
				t.Fatalf("%s does not hold %q", c.file, c.old)
			}
			if err := os.WriteFile(file, bytes.Replace(b, []byte(c.old), []byte(c.new), 1), 0o600); err != nil {
				t.Fatal(err)
			}
			args := append([]string{"standard", c.command, dir}, c.limits...)
			if c.command == "pack" {
				args = append(args, "-o", dir+".tar.gz")
			}
			cmd := exec.Command("kitmuster", args...)
			from := time.Now()
			out, err := cmd.CombinedOutput()
			if cmd.ProcessState.ExitCode() != exitUnfit || !strings.Contains(string(out), c.want) {
				t.Errorf("exit %d, %v; want %q in\n%s", cmd.ProcessState.ExitCode(), err, c.want, out)
			}
			t.Logf("%v, %s", time.Since(from).Round(10*time.Millisecond), lastLine(string(out)))
			if _, err := os.Stat(dir + ".tar.gz"); err == nil {
				t.Error("a file was written")
			}
		})
	}
}

// doubled is a chain of lists, each ten times as long as the one before.
func doubled(n int) string {
	var b strings.Builder
	b.WriteString("_a0: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]\n")
	for i := range n {
		b.WriteString(strings.NewReplacer("I", strconv.Itoa(i+1), "J", strconv.Itoa(i)).Replace("_aI: [for x in _aJ for y in _a0 {x}]\n"))
	}
	return b.String()
}

func lastLine(s string) string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	return lines[len(lines)-1]
}
