package standard

import (
	"crypto"
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/hmac"
	"crypto/rand"
	"crypto/rsa"
	"crypto/sha256"
	"crypto/x509"
	"encoding/base64"
	"encoding/json"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"kitmuster/lint/judge"
)

var now = time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC)

func block(kind string, der []byte, err error) []byte {
	if err != nil {
		panic(err)
	}
	return pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: der})
}

func public(k crypto.Signer) []byte {
	der, err := x509.MarshalPKIXPublicKey(k.Public())
	return block("PUBLIC KEY", der, err)
}

func private(k crypto.Signer) []byte {
	der, err := x509.MarshalPKCS8PrivateKey(k)
	return block("PRIVATE KEY", der, err)
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// upper is a standard as small as it may be.
func upper() fstest.MapFS {
	return fstest.MapFS{
		ManifestFile:               {Data: []byte(`{"revision": "1.2.0", "roots": ["rules/upper", "limits/upper"], "metadata": {"name": "upper", "needs": "2.0.0"}}`)},
		"rules/upper/flood.rego":   {Data: []byte("package rules.upper.flood\n")},
		"limits/upper/data.json":   {Data: []byte(`{"a": {"b": {"value": 1}}}`)},
		"standard.cue":             {Data: []byte("package standard\n")},
		"notes/meeting-points.txt": {Data: []byte("the hill")},
	}
}

// copied is a tree whose files can be changed.
func copied(t *testing.T, fsys fs.FS) fstest.MapFS {
	t.Helper()
	names, err := Files(fsys)
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for _, n := range names {
		out[n] = &fstest.MapFile{Data: must(fs.ReadFile(fsys, n))}
	}
	return out
}

// Every kind of key that may sign, in every form of PEM in which it comes.
func TestSign(t *testing.T) {
	_, ed, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	ec := must(ecdsa.GenerateKey(elliptic.P256(), rand.Reader))
	rs := must(rsa.GenerateKey(rand.Reader, 2048))
	sec1, err := x509.MarshalECPrivateKey(ec)
	for name, c := range map[string]struct {
		key crypto.Signer
		pem []byte
	}{
		"Ed25519":          {ed, private(ed)},
		"P-256":            {ec, private(ec)},
		"P-256, SEC 1":     {ec, append(block("EC PARAMETERS", []byte{6, 8, 42, 134, 72, 206, 61, 3, 1, 7}, nil), block("EC PRIVATE KEY", sec1, err)...)},
		"RSA":              {rs, private(rs)},
		"RSA, PKCS #1":     {rs, block("RSA PRIVATE KEY", x509.MarshalPKCS1PrivateKey(rs), nil)},
		"words before it":  {ed, append([]byte("the circle's key\n\n"), private(ed)...)},
		"its public after": {ed, append(private(ed), public(ed)...)},
	} {
		signed, fingerprint, err := Sign(upper(), c.pem)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		v, err := Verify(signed, public(c.key), now)
		if err != nil || v.Name != "upper" || v.Version != "1.2.0" || v.Signer != fingerprint || v.Digest != must(Digest(upper())) {
			t.Errorf("%s: %+v, %v", name, v, err)
		}
	}
	// The engine signs JSON by its content: blanks may differ, and nothing else.
	signed, _, err := Sign(upper(), private(ed))
	if err != nil {
		t.Fatal(err)
	}
	tree := copied(t, signed)
	tree["limits/upper/data.json"].Data = []byte("{\"a\":{\n\"b\": {\"value\": 1}}}\n")
	if _, err := Verify(tree, public(ed), now); err != nil {
		t.Error(err)
	}
}

// Nothing passes but what was signed, with the key that signed it.
func TestVerifyRefuses(t *testing.T) {
	_, key, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	_, other, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	ec := must(ecdsa.GenerateKey(elliptic.P256(), rand.Reader))
	signed, _, err := Sign(upper(), private(key))
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Signatures []string }
	if err := json.Unmarshal(must(fs.ReadFile(signed, SignatureFile)), &file); err != nil {
		t.Fatal(err)
	}
	parts := strings.Split(file.Signatures[0], ".")
	head, body := part(parts[0]), part(parts[1])
	// token is the signature with other claims, signed well.
	token := func(more map[string]any, headMore map[string]any) string {
		h, b := maps.Clone(head), maps.Clone(body)
		maps.Copy(h, headMore)
		maps.Copy(b, more)
		text := joined(h, b)
		return text + "." + base64.RawURLEncoding.EncodeToString(ed25519.Sign(key, []byte(text)))
	}
	signature := func(tokens ...string) func(fstest.MapFS) {
		return func(m fstest.MapFS) {
			m[SignatureFile].Data = must(json.Marshal(map[string]any{"signatures": tokens}))
		}
	}
	raw := func(text string) func(fstest.MapFS) {
		return func(m fstest.MapFS) { m[SignatureFile].Data = []byte(text) }
	}
	set := func(name, text string) func(fstest.MapFS) {
		return func(m fstest.MapFS) { m[name] = &fstest.MapFile{Data: []byte(text)} }
	}
	files, _ := body["files"].([]any)
	weak := map[string]any{"name": "standard.cue", "hash": "00", "algorithm": "MD5"}
	mac := hmac.New(sha256.New, public(key)) // a public key taken for a shared secret: RFC 8725 §2.1
	hs := joined(map[string]any{"alg": "HS256"}, body)
	mac.Write([]byte(hs))
	for _, c := range []struct {
		why    string
		change func(fstest.MapFS)
		key    crypto.Signer
		want   string
	}{
		{"another key of the kind", func(fstest.MapFS) {}, other, "the signature does not fit the key: it names the key sha256:"},
		{"another kind of key", func(fstest.MapFS) {}, ec, `made with "EdDSA", and the key given is for ES256`},
		{"a rule changed", set("rules/upper/flood.rego", "package rules.upper.flood\n\nx := 1\n"), key, "rules/upper/flood.rego has changed since it was signed"},
		{"a value changed", set("limits/upper/data.json", `{"a": {"b": {"value": 2}}}`), key, "limits/upper/data.json has changed since it was signed"},
		{"the source changed", set("standard.cue", "package standard\n\n"), key, "standard.cue has changed since it was signed"},
		{"what nobody compiles changed", set("notes/meeting-points.txt", "the ford"), key, "notes/meeting-points.txt has changed"},
		{"the version changed", set(ManifestFile, strings.Replace(string(upper()[ManifestFile].Data), "1.2.0", "1.3.0", 1)), key, ".manifest has changed since it was signed"},
		{"a field twice, of which the engine reads the last", set(ManifestFile, `{"metadata": {"off": {"fire/two-means": "x"}}, `+string(upper()[ManifestFile].Data)[1:]), key, `.manifest has changed since it was signed: line 1, column 111: "metadata" is written twice`},
		{"a file added", set("rules/upper/more.rego", "package rules.upper.more\n"), key, "rules/upper/more.rego is not signed: it was added after signing"},
		{"a file taken out", func(m fstest.MapFS) { delete(m, "notes/meeting-points.txt") }, key, "notes/meeting-points.txt is signed and is not there"},
		{"no signature", func(m fstest.MapFS) { delete(m, SignatureFile) }, key, "there is no signature"},
		{"no token", signature(), key, "holds 0 tokens"},
		{"two tokens", signature(file.Signatures[0], file.Signatures[0]), key, "holds 2 tokens"},
		{"no JSON", raw("signed, the circle"), key, "the signature cannot be read: line 1, column 1"},
		{"an unknown field", raw(`{"signatures": [], "exclude": ["rules"]}`), key, `the signature cannot be read: json: unknown field "exclude"`},
		{"the tokens twice", raw(`{"signatures": ["` + file.Signatures[0] + `"], "signatures": []}`), key, `the signature cannot be read: line 1, column `},
		{"the tokens twice, in another case", raw(`{"Signatures": [], "signatures": ["` + file.Signatures[0] + `"]}`), key, `"Signatures" and "signatures" differ only in upper and lower case`},
		{"the tokens twice, by a letter that folds", raw(`{"\u017fignatures": [], "signatures": ["` + file.Signatures[0] + `"]}`), key, `"ſignatures" and "signatures" differ only in upper and lower case`},
		{"a verifier of its own", raw(`{"signatures": ["` + file.Signatures[0] + `"], "plugin": "none"}`), key, "asks for a way of its own"},
		{"cut short", signature(file.Signatures[0][:len(file.Signatures[0])-6]), key, "the signature does not fit the key"},
		{"cut in the middle", signature(file.Signatures[0][:40]), key, "the signature is no whole token: it has 1 parts, and 3 are wanted"},
		{"no base64url", signature("YQ.b!.YQ"), key, "part 2 is not base64url"},
		{"algorithm none", signature(joined(map[string]any{"alg": "none"}, body) + "."), key, `made with "none", and the key given is for EdDSA`},
		{"the public key as a secret", signature(hs + "." + base64.RawURLEncoding.EncodeToString(mac.Sum(nil))), key, `made with "HS256", and the key given is for EdDSA`},
		{"signed by nobody", signature(joined(head, body) + "." + base64.RawURLEncoding.EncodeToString(make([]byte, 64))), key, "the signature does not fit the key"},
		{"ended", signature(token(map[string]any{"exp": now.Unix()}, nil)), key, "the signature ended on 2026-11-01"},
		{"not yet", signature(token(map[string]any{"nbf": now.AddDate(0, 1, 0).Unix()}, nil)), key, "the signature holds from 2026-12-01 only"},
		{"a time that is none", signature(token(map[string]any{"exp": 1e300}, nil)), key, "the signature names a time that is none"},
		{"a time in words", signature(token(map[string]any{"exp": "tomorrow"}, nil)), key, "its content is not read"},
		{"a demand in the head", signature(token(nil, map[string]any{"crit": []string{"x"}})), key, "its head demands what this program does not know"},
		{"a scope", signature(token(map[string]any{"scope": "write"}, nil)), key, "the signature does not fit the key"},
		{"a weak digest", signature(token(map[string]any{"files": append(files[:len(files)-1:len(files)-1], weak)}, nil)), key, `standard.cue is signed by a digest of "MD5", which is too weak`},
		{"a file named twice", signature(token(map[string]any{"files": append(files[:len(files):len(files)], files[0])}, nil)), key, "the signature names a file twice"},
		{"a claim twice", signature(twice(t, key, parts, "files")), key, `"files" is written twice`},
		{"a claim twice, in another case", signature(twice(t, key, parts, "Files")), key, `"Files" and "files" differ only in upper and lower case`},
		{"a field twice, in another case", set(ManifestFile, `{"Metadata": {"off": {"fire/two-means": "x"}}, `+string(upper()[ManifestFile].Data)[1:]), key, `.manifest has changed since it was signed: line 1, column 111: "Metadata" and "metadata" differ only`},
	} {
		tree := copied(t, signed)
		c.change(tree)
		v, err := Verify(tree, public(c.key), now)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %+v, %v; want %s", c.why, v, err, c.want)
		}
	}
	// Well within its time, a signed time hinders nothing.
	tree := copied(t, signed)
	signature(token(map[string]any{"exp": now.Unix() + 1, "nbf": now.Unix()}, nil))(tree)
	if _, err := Verify(tree, public(key), now); err != nil {
		t.Error(err)
	}
}

func part(s string) map[string]any {
	var out map[string]any
	if err := json.Unmarshal(must(base64.RawURLEncoding.DecodeString(s)), &out); err != nil {
		panic(err)
	}
	return out
}

func joined(head, body map[string]any) string {
	e := base64.RawURLEncoding
	return e.EncodeToString(must(json.Marshal(head))) + "." + e.EncodeToString(must(json.Marshal(body)))
}

// twice is the token with its files named a second time by some name, signed well.
func twice(t *testing.T, key ed25519.PrivateKey, parts []string, name string) string {
	t.Helper()
	e := base64.RawURLEncoding
	body := string(must(e.DecodeString(parts[1])))
	text := parts[0] + "." + e.EncodeToString([]byte(`{"`+name+`": [], `+strings.TrimPrefix(body, "{")))
	return text + "." + e.EncodeToString(ed25519.Sign(key, []byte(text)))
}

// What is wrong with a key is said, and none of the key.
func TestKeys(t *testing.T) {
	_, ed, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	p384 := must(ecdsa.GenerateKey(elliptic.P384(), rand.Reader))
	for why, c := range map[string]struct{ signing, verifying string }{
		string(public(ed)):    {"the file holds a public key; signing takes the private one", ""},
		string(private(ed)):   {"", "the file holds a private key; keep it to yourself"},
		string(private(p384)): {"the key is on the curve P-384; use one on P-256", "the file holds a private key"},
		string(public(p384)):  {"the file holds a public key", "the key is on the curve P-384"},
		string(block("ENCRYPTED PRIVATE KEY", []byte{1}, nil)): {"locked with a passphrase", "the file holds a private key"},
		string(block("OPENSSH PRIVATE KEY", []byte{1}, nil)):   {"has the form of SSH", "the file holds a private key"},
		string(block("CERTIFICATE", []byte{1}, nil)):           {"the file holds a public key", "the file holds a certificate"},
		string(block("PRIVATE KEY", []byte("secret"), nil)):    {"the private key is damaged", "the file holds a private key"},
		string(block("PUBLIC KEY", []byte("x"), nil)):          {"the file holds a public key", "the public key is damaged"},
		string(block("LETTER", []byte("x"), nil)):              {"the file holds no private key in PEM", "the file holds no public key in PEM"},
		"":       {"the file holds no private key in PEM", "the file holds no public key in PEM"},
		"secret": {"the file holds no private key in PEM", "the file holds no public key in PEM"},
	} {
		signed, _, err := Sign(upper(), []byte(why))
		holds(t, why, "signing", err, c.signing)
		if signed == nil {
			signed, _, err = Sign(upper(), private(ed))
			if err != nil {
				t.Fatal(err)
			}
		}
		_, err = Verify(signed, []byte(why), now)
		holds(t, why, "verifying", err, c.verifying)
	}
}

func holds(t *testing.T, key, what string, err error, want string) {
	t.Helper()
	var unfit *judge.KeyError
	switch {
	case want == "" && err != nil:
		t.Errorf("%s with\n%s: %v", what, key, err)
	case want == "":
	case !errors.As(err, &unfit) || !strings.Contains(err.Error(), want):
		t.Errorf("%s with\n%s: %v, want %s", what, key, err, want)
	case len(key) > 60 && strings.Contains(fmt.Sprint(err), strings.Split(key, "\n")[1]):
		t.Errorf("%s: the key is in the error", what)
	}
}

// Whatever a token holds, it is refused with a reason.
func FuzzVerify(f *testing.F) {
	_, key, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		f.Fatal(err)
	}
	signed, _, err := Sign(upper(), private(key))
	if err != nil {
		f.Fatal(err)
	}
	good := must(fs.ReadFile(signed, SignatureFile))
	f.Add([]byte(`{"signatures": ["e30.e30.AA"]}`))
	f.Add([]byte(`{"signatures": ["eyJhbGciOiJFZERTQSJ9.eyJmaWxlcyI6W119.AA"]}`))
	f.Add([]byte(`{"signatures": [null], "plugin": ""}`))
	f.Fuzz(func(t *testing.T, signature []byte) {
		tree := upper()
		tree[SignatureFile] = &fstest.MapFile{Data: signature}
		if v, err := Verify(tree, public(key), now); err == nil || err.Error() == "" || v != nil {
			t.Fatalf("%q passes for %q: %v", signature, good, err)
		}
	})
}
