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
		`{"standards": [{"from": 3}]}`:      `:1:17: from is a text; write {"standards": [`,
		`{"standards": [3]}`:                `:1:16: each standard is an object; write`,
		`[]`:                                `:1:1: standards is missing; write`,
		`{"standards": [], "standart": []}`: `:1:19: there is no field "standart" here; write`,
		`{"standards": [{"form": "x"}]}`:    `:1:17: there is no field "form" here; write`,
		`{"standards": [}`:                  `:1:16: this is not JSON: `,
		`{"standards": [{}]}`:               `:1:16: write from, a folder`,
		`{"standards": [{"from": "a", "registry": "b"}]}`:   `:1:16: write from, a folder`,
		`{"standards": [{"from": "../../x"}]}`:              `leads out of the repository`,
		`{"standards": [{"from": "a", "digest": "md5:0"}]}`: `digest: md5:0: write it as`,
		`{}`:                                `standards is missing; write`,
		`{"standards": {}}`:                 `standards is a list; write`,
		`{"standards": []} x`:               `:1:19: nothing may follow here`,
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
