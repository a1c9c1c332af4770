package settings

import (
	"strings"
	"testing"
)

// What is wrong with the file is said at its line, and what to write instead.
func TestParseFaults(t *testing.T) {
	file := t.TempDir() + "/" + File
	show := func(p string) (string, error) { return p, nil }
	for text, want := range map[string]string{
		`{"standards": [{"from": 3}]}`:                      `:1:16: a number stands here, and from is a text; write {"standards": [`,
		`{"standards": [3]}`:                                `:1:16: a number stands here, and each field of a standard is a text; write`,
		`{"standards": [{"form": "x"}]}`:                    `:1:16: json: unknown field "form"; write`,
		`{"standards": [{}]}`:                               `:1:16: write from, a folder`,
		`{"standards": [{"from": "a", "registry": "b"}]}`:   `:1:16: write from, a folder`,
		`{"standards": [{"from": "../../x"}]}`:              `leads out of the repository`,
		`{"standards": [{"from": "a", "digest": "md5:0"}]}`: `digest: md5:0: write it as`,
		`{}`:                                `standards is missing; write`,
		`{"standards": {}}`:                 `standards is a list; write`,
		`{"standards": []} x`:               `nothing may follow it`,
		`{"standards": [], "Standards":[]}`: `:1:19: `,
	} {
		if got, err := Parse(file, File, []byte(text), show); err == nil || !strings.Contains(err.Error(), want) || !strings.HasPrefix(err.Error(), File+":1:") {
			t.Errorf("%s: %v, %v; want %s", text, got, err, want)
		}
	}
	got, err := Parse(file, File, []byte(`{"standards": [{"from": "a", "version": "1.2.0"}, {"registry": "registry.example/valley/flood:1.2.0"}]}`), show)
	if err != nil || len(got) != 2 || got[0].At != File+":1:16" || got[1].Shown != "registry.example/valley/flood:1.2.0" {
		t.Errorf("%+v, %v", got, err)
	}
}
