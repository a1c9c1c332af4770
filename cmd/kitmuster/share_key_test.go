package main

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"kitmuster/lint/private"
)

// Of several programs that start at once, one makes the key and all use it; only its owner may read it.
func TestOneKeyForAll(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "share.key")
	var mu sync.Mutex
	var wg sync.WaitGroup
	keys := map[[private.KeySize]byte]bool{}
	told := 0
	for range 8 {
		wg.Go(func() {
			var errs bytes.Buffer
			key, err := (&sharing{safe: true, key: file}).readKey(&errs)
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				t.Error(err)
			}
			keys[key] = true
			told += strings.Count(errs.String(), "A new key")
		})
	}
	wg.Wait()
	if len(keys) != 1 || told != 1 {
		t.Errorf("%d keys, told %d times", len(keys), told)
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 1 {
		t.Errorf("%v, %v", entries, err)
	}
	info, err := os.Stat(file)
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v", info, err)
	}
	other, err := (&sharing{safe: true, key: filepath.Join(dir, "other.key")}).readKey(&bytes.Buffer{})
	if err != nil || keys[other] {
		t.Errorf("two keys are the same, %v", err)
	}
}

func TestKeysThatAreNone(t *testing.T) {
	good := strings.Repeat("0f", private.KeySize)
	for name, text := range map[string]string{"empty": "", "short": good[2:], "long": good + "0f", "much longer": strings.Repeat(good, 50), "no digits": "x" + good[1:], "two lines": good + "\n\n0f", "blank inside": good[:30] + " " + good[31:]} {
		file := filepath.Join(t.TempDir(), "share.key")
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := (&sharing{safe: true, key: file}).readKey(&bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "does not hold a key") {
			t.Errorf("%s: %v", name, err)
		}
	}
	file := filepath.Join(t.TempDir(), "share.key")
	for _, end := range []string{"", "\n", "\r\n"} {
		if err := os.WriteFile(file, []byte(good+end), 0o600); err != nil {
			t.Fatal(err)
		}
		var errs bytes.Buffer
		if key, err := (&sharing{safe: true, key: file}).readKey(&errs); err != nil || key[5] != 0x0f || errs.Len() > 0 {
			t.Errorf("%q: %v, %v, %s", end, key, err, errs.String())
		}
	}
}
