package main

import (
	"embed"
	"strings"

	"github.com/spf13/cobra"
)

// topics are the pages of kitmuster help, the first first. What they show is tested as README is.
var topics = []string{"kits", "plans", "findings", "limits", "waivers", "remedies", "keeping", "packing", "audits", "ci", "standards", "privacy", "strangers", "cautions", "changes"}

//go:embed help/*.md
var helpFiles embed.FS

// helpTopics are commands that only have a help.
func helpTopics() (out []*cobra.Command) {
	for _, name := range topics {
		text, err := helpFiles.ReadFile("help/" + name + ".md")
		if err != nil {
			panic("a topic without a page: " + name) // found by any run of any command
		}
		title, body, _ := strings.Cut(strings.TrimPrefix(string(text), "# "), "\n")
		out = append(out, &cobra.Command{Use: name, Short: title, Long: title + "\n" + forTerminal(body)})
	}
	return append(out, &cobra.Command{Use: "licences", Short: "Terms of Kitmuster and of what it is built of", Long: notices})
}

var markup = strings.NewReplacer("**", "", "`", "")

// forTerminal is a page without the marks that only a browser needs: what is typed or printed is indented.
func forTerminal(page string) string {
	var b strings.Builder
	fenced := false
	for line := range strings.Lines(page) {
		switch {
		case strings.HasPrefix(line, "```"):
			fenced = !fenced
			continue
		case fenced && line != "\n":
			line = "    " + strings.Replace(line, "go run ./cmd/kitmuster", "kitmuster", 1)
		case !fenced && !strings.HasPrefix(line, "    "):
			if text, ok := strings.CutPrefix(strings.TrimLeft(line, "#"), " "); ok && line[0] == '#' {
				line = text
			}
			line = markup.Replace(line)
		}
		b.WriteString(line)
	}
	return strings.TrimRight(b.String(), "\n")
}

// notices are the licences of what is linked in.
//
//go:embed notices.txt
var notices string
