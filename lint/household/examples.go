package household

import (
	"context"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"golang.org/x/tools/txtar"

	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// exampleFrame is the household that the examples of rules are laid over.
const exampleFrame = `package kit

household: "Example"
people: ana: {age: "40 y", bodyMass: "70 kg"}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: reach: "walking"}
`

// ExampleDay is the audit date of the examples, so that what they say of dates stays true.
const ExampleDay = "2026-11-01"

// TryExample judges one of the kits that explain a rule: the text is laid over a small household of one adult with
// one pack, or is a whole one where it names its household. It says what is wrong, or "": the rule must object to what
// fails, and not to what passes.
func TryExample(ctx context.Context, b *judge.Rulebook, rule *judge.Rule, text string, fails bool) string {
	on, err := unit.ParseDate(ExampleDay)
	if err != nil {
		return err.Error()
	}
	files := txtar.Archive{Files: []txtar.File{{Name: "kit/example.cue", Data: []byte("package kit\n\n" + text + "\n")}}}
	if !strings.Contains(text, "household:") {
		files.Files = append(files.Files, txtar.File{Name: "kit/frame.cue", Data: []byte(exampleFrame)})
	}
	var tree fs.FS
	if tree, err = txtar.FS(&files); err != nil {
		return err.Error()
	}
	what := "passes"
	if fails {
		what = "fails"
	}
	out := Judge(ctx, tree, b.Only(rule), "kit", Options{On: on})
	for _, f := range out.Findings {
		if f.OfInput() || strings.HasPrefix(f.Rule, "limit/") {
			return fmt.Sprintf("rule %s: the kit under %s cannot be judged: %s", rule.Name, what, words.Clean(within(f)))
		}
	}
	at := slices.IndexFunc(out.Findings, func(f finding.Finding) bool { return f.Rule == rule.Name })
	switch {
	case at >= 0 && !fails:
		return fmt.Sprintf("rule %s objects to its own kit under passes: %s", rule.Name, words.Clean(out.Findings[at].Message))
	case at < 0 && fails:
		return fmt.Sprintf("rule %s does not object to its own kit under fails", rule.Name)
	}
	return ""
}

// within says where in an example a finding stands: its first line is the third of the file.
func within(f finding.Finding) string {
	if f.At.File == "kit/example.cue" && f.At.Start.Line > 2 {
		return fmt.Sprintf("its line %d: %s", f.At.Start.Line-2, f.Message)
	}
	return f.Message
}
