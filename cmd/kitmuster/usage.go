package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"kitmuster/lint/words"
)

// flagFault says in the program's words what is wrong with a flag, and which one was meant.
func flagFault(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		name := "--" + unknown.GetSpecifiedName()
		var known []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, "--"+f.Name) })
		if also := otherFlags[unknown.GetSpecifiedName()]; also != "" && cmd.Flags().Lookup(strings.Fields(also)[0]) != nil {
			return fmt.Errorf("there is no flag %s; did you mean --%s?", name, also)
		}
		if letters := unknown.GetSpecifiedShortnames(); letters != "" {
			name, known = "-"+letters, nil
		}
		return fmt.Errorf("there is no flag %s; %s", name, meant(name, known, cmd.CommandPath()+" --help lists those that there are"))
	case errors.As(err, &bare):
		f := bare.GetFlag()
		what, _ := pflag.UnquoteUsage(f)
		return fmt.Errorf("--%s needs its value after it: a %s", f.Name, what)
	case errors.As(err, &invalid):
		f := invalid.GetFlag()
		why := map[string]string{
			"duration": "write a number with its unit and no blank between, such as 20s, 1m30s or 2h", "int": "write a whole number", "bool": "write it without a value",
		}[f.Value.Type()]
		if why == "" {
			why = invalid.Unwrap().Error()
		}
		return fmt.Errorf("--%s %s: %s", f.Name, invalid.GetValue(), why)
	}
	return err
}

// otherFlags are what people write for a flag of another name, which no edit leads to.
var otherFlags = map[string]string{
	"date": "on", "today": "on", "day": "on", "now": "on", "as-of": "on", "when": "on",
	"out": "output", "file": "output", "dir": "output", "level": "show", "severity": "show", "min-level": "show", "errors-only": "show error",
	"json": "format json", "sarif": "format sarif", "html": "format html", "csv": "format csv",
	"verbose": "long", "full": "long", "all": "long", "list": "against", "standards": "standard", "fail": "fail-on", "strict": "fail-on note",
	"timeout": "time-limit", "memory": "memory-limit", "anonymous": "share-safe", "private": "share-safe", "diff": "since", "from": "since",
}

// otherCommands are what people write for a command of another name.
var otherCommands = map[string]string{
	"lint": "check", "validate": "check", "vet": "check", "verify": "check", "test": "check", "run": "check", "judge": "check",
	"print": "list", "pack": "list", "packing": "list", "cards": "list", "checklist": "list",
	"weight": "measure", "weights": "measure", "sum": "measure", "totals": "measure", "stats": "measure",
	"exercise": "drill", "whatif": "drill", "simulate": "forecast", "predict": "forecast", "report": "audit", "group": "audit",
	"diff": "compare", "convert": "import", "explain": "rules", "limits": "rules", "lists": "rules", "fields": "schema", "jsonschema": "schema", "json-schema": "schema", "init": "help kits", "new": "help kits", "start": "help kits",
}

// meant asks for the words that begin so, else for one within two edits; without any it says otherwise.
func meant(s string, known []string, otherwise string) string {
	var found []string
	for _, k := range known {
		if strings.HasPrefix(k, s) {
			found = append(found, k)
		}
	}
	if near := words.Near(s, known); len(found) == 0 && near != "" {
		found = []string{near}
	}
	if len(found) == 0 {
		return otherwise
	}
	return "did you mean " + strings.Join(found, " or ") + "?"
}

// commandFault refuses a command that there is none of, and says which one was meant.
func commandFault(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var known []string
	for _, c := range cmd.Commands() {
		if !c.Hidden {
			known = append(known, c.Name())
		}
	}
	if also := otherCommands[args[0]]; also != "" && !cmd.HasParent() {
		return fmt.Errorf("there is no command %q here; did you mean %s?", args[0], also)
	}
	return fmt.Errorf("there is no command %q here; %s", args[0], meant(args[0], known, "there are "+words.And(known)))
}

// help is the command that explains commands and topics.
func (a *app) help() *cobra.Command {
	var pages string
	cmd := &cobra.Command{
		Use:   "help [COMMAND|TOPIC]",
		Short: "Explain a command, or a topic such as kits",
		Long: `Explains a command, or a topic such as kits. With --man DIR it writes all of it as manual
pages; man -M DIR kitmuster-check reads one.`,
		ValidArgsFunction: func(*cobra.Command, []string, string) (out []string, _ cobra.ShellCompDirective) {
			for _, c := range a.root.Commands() {
				if !c.Hidden {
					out = append(out, c.Name()+"\t"+c.Short)
				}
			}
			return out, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if pages != "" && len(args) > 0 {
				return fmt.Errorf("--man writes the pages of all commands; leave %q out", args[0])
			}
			if pages != "" {
				return manual(a.root, pages)
			}
			cmd, rest, err := a.root.Find(args)
			switch {
			case err != nil:
				return err
			case len(rest) > 0 && cmd.HasSubCommands():
				return commandFault(cmd, rest)
			case len(rest) > 0:
				return fmt.Errorf("help explains one command or topic at a time, and %q comes after %s", rest[0], cmd.Name())
			}
			cmd.InitDefaultHelpFlag()
			return cmd.Help()
		},
	}
	cmd.Flags().StringVar(&pages, "man", "", "write the help as manual pages under this `folder`, in man1 and man7")
	return cmd
}

// usage lists topics as they are asked for.
func usage(template string) string {
	return strings.NewReplacer(
		"{{rpad .CommandPath .CommandPathPadding}}", "{{rpad .Name .NamePadding}}", "Additional help topics:", "Topics, for {{.CommandPath}} help TOPIC:",
	).Replace(template)
}

// examples are what a person types first, by command; each line works where the folders and files that it names are there.
var examples = map[string]string{
	"kitmuster":                 "kitmuster check ./my-kit",
	"kitmuster audit":           "kitmuster audit --season flood --until 2027-03-31 -o audit ./...",
	"kitmuster check":           "kitmuster check ./my-kit\nkitmuster check --since main... --output sarif=kits.sarif",
	"kitmuster compare":         "kitmuster compare main... --format markdown",
	"kitmuster drill":           "kitmuster drill ./my-kit",
	"kitmuster forecast":        "kitmuster forecast --start 18:00 ./my-kit",
	"kitmuster list":            "kitmuster list --format html -o list.html ./my-kit",
	"kitmuster measure":         "kitmuster measure ./my-kit",
	"kitmuster merge":           "kitmuster merge part-*.json",
	"kitmuster remedy":          "kitmuster remedy ./my-kit",
	"kitmuster new":             "kitmuster new my-kit\nkitmuster new my-kit --answers answers.yaml",
	"kitmuster import":          "kitmuster import gear.csv my-kit\nkitmuster import gear.xlsx --into my-kit",
	"kitmuster export":          "kitmuster export my-kit --to gear.xlsx",
	"kitmuster describe":        "kitmuster describe ./my-kit",
	"kitmuster weigh":           "kitmuster weigh ./my-kit",
	"kitmuster renew":           "kitmuster renew ./my-kit",
	"kitmuster rules":           "kitmuster rules fire/two-means\nkitmuster rules --limits load.adult_cap",
	"kitmuster schema":          "kitmuster schema\nkitmuster schema --format json-schema",
	"kitmuster standard":        "kitmuster standard new harrow-upper",
	"kitmuster standard base":   "kitmuster standard base -o base",
	"kitmuster standard build":  "kitmuster standard build harrow-upper",
	"kitmuster standard new":    "kitmuster standard new harrow-upper",
	"kitmuster standard pack":   "kitmuster standard pack harrow-upper -o harrow-upper.tar.gz --sign KEY.pem",
	"kitmuster standard pull":   "kitmuster standard pull registry.example/valley/flood:1.2.0",
	"kitmuster standard push":   "kitmuster standard push harrow-upper registry.example/valley/upper:0.1.0",
	"kitmuster standard show":   "kitmuster standard show harrow-upper",
	"kitmuster standard test":   "kitmuster standard test harrow-upper",
	"kitmuster standard trial":  "kitmuster standard trial harrow-upper ./...",
	"kitmuster standard verify": "kitmuster standard verify harrow-upper.tar.gz --key PUB.pem",
}

// showExamples gives each command its examples.
func showExamples(cmd *cobra.Command) {
	if text, ok := examples[cmd.CommandPath()]; ok {
		cmd.Example = "  " + strings.ReplaceAll(text, "\n", "\n  ")
	}
	for _, c := range cmd.Commands() {
		showExamples(c)
	}
}
