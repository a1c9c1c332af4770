package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint/atomicfile"
	"kitmuster/lint/intake"
	"kitmuster/lint/lines"
	"kitmuster/lint/remedy"
	"kitmuster/lint/report"
	"kitmuster/lint/table"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// importing are the flags of import.
type importing struct {
	o       intake.Options
	columns []string
	people  []string
	carries []string
	mapping string
	into    string
	yes     bool
	in      *input
	b       bounds
	accept  bool
}

func (a *app) importTable() *cobra.Command {
	im := importing{in: &input{}}
	cmd := &cobra.Command{
		Use:   "import FILE [FOLDER]",
		Short: "Make a kit of a table: CSV, XLSX, ODS, JSON or YAML",
		Long: `Reads a table of things, shows how it was understood, and writes it as a kit into a new folder, whose
name is that of the file if not given. First it shows what each column was taken for, the first twenty
things, the sums of the table against those of the things, and each cell that was not understood. Then it
asks who carries each pack, and before anything is written; --yes asks nothing.

Columns are known by their heads in English, German, French, Spanish and Japanese; --map says what another
column holds. A mass needs a unit: in its cell, in the head of its column, or by --unit. What a thing can do is
guessed from its name where the name is plain, and a comment says so. What the table does not say is left out.

Where the sums of the table do not come out, nothing is written without a yes, or --accept-sums.
No formula is run: the value that was kept last is taken. A folder that has a kit is written into
by --into only, which adds the things to packs that are there. A table that kitmuster export wrote is laid over
the kit so, row by row; first the change of the files is shown.

Exit code 0: written, or left by your answer. 1: not written, as sums differ or no answer came. 2: the table
could not be read, and it says why.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if im.into != "" && len(args) > 1 {
				return fmt.Errorf("--into %s says where the things go; leave the folder %s out", im.into, args[1])
			}
			if len(args) < 1 || len(args) > 2 {
				return errors.New("name the table, and the folder for the kit: kitmuster import kit.csv vale")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			folder := ""
			if len(args) > 1 {
				folder = args[1]
			}
			return im.run(a, cmd, args[0], folder)
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&im.columns, "map", nil, "what columns hold, as `column=field` with the head or the letter of the column; fields: "+fieldNames())
	f.StringVar(&im.mapping, "mapping", "", "read what columns hold from this JSON `file`; where there is none, it is written with the kit, for the next time")
	f.StringArrayVar(&im.people, "people", nil, "the people with their ages, as `name=age`: \"ana=42 y,ben=8 y\"")
	f.StringArrayVar(&im.carries, "carries", nil, "who carries the packs, as `pack=name`: \"Blue backpack=ana\"")
	f.StringVar(&im.o.Unit, "unit", "", "masses without a unit are in this `unit`: g, kg, oz, lb")
	f.StringVar(&im.o.Pack, "pack", "", "the `name` of the pack where the table names none")
	f.StringVar(&im.o.Household, "household", "", "the `name` of the household (that of the folder if not given)")
	f.StringVar(&im.into, "into", "", "add the things to the kit at this `path`, or lay a table of kitmuster export over it")
	f.StringVar(&im.in.root, "root", ".", "with --into, write the paths of files relative to this `folder`")
	im.b.flags(cmd)
	f.BoolVarP(&im.yes, "yes", "y", false, "ask nothing, and write if the sums of the table come out")
	f.BoolVar(&im.accept, "accept-sums", false, "write even where the sums of the table differ")
	return cmd
}

func (im *importing) run(a *app, cmd *cobra.Command, file, folder string) error {
	if im.o.Unit != "" {
		if err := oneOf("unit", im.o.Unit, "g", "kg", "oz", "lb"); err != nil {
			return err
		}
	}
	if err := im.settle(); err != nil {
		return err
	}
	b, err := readTable(file)
	if err != nil {
		return openly(fmt.Errorf("%s: %w", file, plain(err)))
	}
	book, err := table.Read(file, b)
	if err != nil {
		return openly(fmt.Errorf("%s: %w", file, err))
	}
	rows, exact, err := intake.Rows(book)
	if err != nil {
		return openly(fmt.Errorf("%s: %w", file, err))
	}
	if folder == "" {
		base := filepath.Base(file)
		folder = strings.TrimSuffix(base, filepath.Ext(base))
	}
	im.o.File = filepath.Base(file)
	if im.o.Household == "" {
		abs, err := filepath.Abs(folder)
		if err != nil {
			return plain(err)
		}
		im.o.Household = filepath.Base(abs)
	}
	talk := &lines.Talk{In: cmd.InOrStdin(), Out: cmd.OutOrStdout(), Echo: !seen(cmd.InOrStdin()), Width: columns(cmd.OutOrStdout())}
	if im.into == "" {
		if err := free(folder); err != nil {
			return openly(err)
		}
	}
	if exact && im.into != "" {
		return im.lay(a, cmd, talk, rows)
	}
	if exact {
		return im.anew(talk, file, folder, rows)
	}
	plan, err := intake.Read(book, im.o)
	if err != nil {
		return openly(fmt.Errorf("%s: %w", file, err))
	}
	made, err := plan.Write()
	if err != nil {
		return openly(fmt.Errorf("%s: %w", file, err))
	}
	out := cmd.OutOrStdout()
	if im.into != "" {
		plan.Preview(out, nil)
		if n := plan.SumsDiffer(); n > 0 && !im.accept {
			return im.differ(cmd, n)
		}
		return im.lay(a, cmd, talk, plan.Added())
	}
	plan.Preview(out, made)
	if !im.yes {
		for _, pack := range made.Uncarried {
			who, err := talk.Ask("Who carries %s? A name, or Enter where you do not know:", pack)
			if err != nil {
				talk.Say("Nothing is written. With --yes the files are written without a question.")
				return exit{exitFindings}
			}
			if who != "" {
				plan.Carries[strings.ToLower(pack)] = who
			}
		}
		if made, err = plan.Write(); err != nil {
			return openly(fmt.Errorf("%s: %w", file, err))
		}
	}
	yes, err := im.agreed(cmd, talk, plan, folder)
	if err != nil || !yes {
		return err
	}
	if err := writeNew(folder, made.Files); err != nil {
		return openly(err)
	}
	fmt.Fprintf(out, "Written: %s in %s. Next: kitmuster check %s\n", words.Count(len(made.Files), "file"), folder, words.Shell(folder))
	return im.keep(out, plan)
}

// fieldNames lists what a column may hold.
func fieldNames() string {
	var all []string
	for _, f := range intake.Fields {
		all = append(all, string(f))
	}
	return strings.Join(all, ", ")
}

// settle reads what the flags say of columns and people.
func (im *importing) settle() error {
	im.o.Map = map[string]intake.Field{}
	put := func(from, column, field string) error {
		f := intake.Field(strings.ToLower(strings.TrimSpace(field)))
		if !slices.Contains(intake.Fields, f) {
			return openly(fmt.Errorf("%s: %q is no field; write one of %s", from, field, fieldNames()))
		}
		im.o.Map[strings.TrimSpace(column)] = f
		return nil
	}
	if im.mapping != "" {
		b, err := readTable(im.mapping)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return openly(fmt.Errorf("--mapping %s: %w", im.mapping, plain(err)))
		default:
			kept := map[string]string{}
			if err := json.Unmarshal(b, &kept); err != nil {
				return openly(fmt.Errorf("--mapping %s: it has to hold heads and fields, such as {\"Gegenstand\": \"name\"}", im.mapping))
			}
			for _, column := range slices.Sorted(maps.Keys(kept)) {
				if err := put("--mapping "+im.mapping, column, kept[column]); err != nil {
					return err
				}
			}
			im.mapping = "" // it stays as it is
		}
	}
	for _, s := range several(im.columns) {
		i := strings.LastIndexByte(s, '=')
		if i < 1 {
			return openly(fmt.Errorf("--map %q: write a column and a field, such as Gear=name or B=count", s))
		}
		if err := put("--map "+s, s[:i], s[i+1:]); err != nil {
			return err
		}
	}
	for _, s := range several(im.people) {
		name, age, _ := strings.Cut(s, "=")
		name, age = strings.TrimSpace(name), strings.TrimSpace(age)
		if name == "" {
			return openly(fmt.Errorf("--people %q: write a name and an age, such as \"ana=42 y\"", s))
		}
		if _, err := unit.ParseDuration(age); err != nil && age != "" {
			return openly(fmt.Errorf("--people %q: %w; write an age such as \"42 y\" or \"8 months\"", s, err))
		}
		if slices.ContainsFunc(im.o.People, func(w intake.Who) bool { return strings.EqualFold(w.Name, name) }) {
			return openly(fmt.Errorf("--people names %s twice", name))
		}
		im.o.People = append(im.o.People, intake.Who{Name: name, Age: age})
	}
	im.o.Carries = map[string]string{}
	for _, s := range several(im.carries) {
		i := strings.LastIndexByte(s, '=')
		if i < 1 || strings.TrimSpace(s[i+1:]) == "" {
			return openly(fmt.Errorf("--carries %q: write a pack and a name, such as \"Blue backpack=ana\"", s))
		}
		im.o.Carries[strings.ToLower(strings.TrimSpace(s[:i]))] = strings.TrimSpace(s[i+1:])
	}
	return nil
}

// several divides a=b,c=d where each part has its own sign; else a comma belongs to the text.
func several(flags []string) (out []string) {
	for _, s := range flags {
		parts := strings.Split(s, ",")
		if slices.ContainsFunc(parts, func(p string) bool { return !strings.Contains(p, "=") }) {
			parts = []string{s}
		}
		out = append(out, parts...)
	}
	return out
}

// readTable reads an ordinary file, up to what a table may have.
func readTable(file string) ([]byte, error) { return readOrdinary(file, os.Stat, table.MostBytes) }

// readOrdinary reads a file up to one byte more than most, if it is an ordinary one: a pipe waits for its writer, and a device never ends.
func readOrdinary(name string, stat func(string) (fs.FileInfo, error), most int64) ([]byte, error) {
	info, err := stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is no ordinary file")
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most+1))
}

// free says why a kit cannot be written into a folder.
func free(folder string) error {
	kits, err := kitFiles(folder)
	if err == nil && len(kits) > 0 {
		return fmt.Errorf("%s has a kit already (%s), and nothing of it is overwritten; name another folder", folder, kits[0])
	}
	return err
}

// kitFiles are the names of the CUE files in a folder, none where there is no folder.
func kitFiles(folder string) (names []string, err error) {
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: %w", folder, plain(err))
	}
	for _, e := range entries {
		if filepath.Ext(e.Name()) == ".cue" {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

// agreed asks whether the files are to be written, and says what to do where nobody can be asked.
func (im *importing) agreed(cmd *cobra.Command, talk *lines.Talk, plan *intake.Plan, folder string) (bool, error) {
	differ := plan.SumsDiffer()
	if im.yes && (differ == 0 || im.accept) {
		return true, nil
	}
	if im.yes {
		return false, im.differ(cmd, differ)
	}
	question := fmt.Sprintf("Write them into %s? Type y or n:", folder)
	if differ > 0 && !im.accept {
		question = fmt.Sprintf("Sums of the table differ, see above. Write the files into %s all the same? Type y or n:", folder)
	}
	return ask(talk, question)
}

// ask asks a question of yes and no.
func ask(talk *lines.Talk, question string) (bool, error) {
	for {
		answer, err := talk.Ask("%s", question)
		switch strings.ToLower(answer) {
		case "y", "yes":
			return true, nil
		case "n", "no":
			talk.Say("Nothing is written.")
			return false, nil
		}
		if err != nil {
			talk.Say("Nothing is written. With --yes the files are written without a question.")
			return false, exit{exitFindings}
		}
		question = "Type y or n:"
	}
}

// differ says that sums of the table do not come out.
func (im *importing) differ(cmd *cobra.Command, n int) error {
	fmt.Fprintf(cmd.ErrOrStderr(), "kitmuster: nothing is written, as %s of the table %s; correct the table, say with --map what its columns hold, or write all the same with --accept-sums\n", words.Count(n, "sum"), map[bool]string{true: "differs", false: "differ"}[n == 1])
	return exit{exitFindings}
}

// anew makes the kit of a table that export wrote.
func (im *importing) anew(talk *lines.Talk, file, folder string, rows []intake.Row) error {
	files, err := intake.Kit(rows)
	if err != nil {
		return openly(fmt.Errorf("%s: %w", file, err))
	}
	talk.Say("%s was written by kitmuster export: %s.", file, words.Count(len(rows), "row"))
	if !im.yes {
		if yes, err := ask(talk, fmt.Sprintf("Write its kit into %s? Type y or n:", folder)); err != nil || !yes {
			return err
		}
	}
	if err := writeNew(folder, files); err != nil {
		return openly(err)
	}
	talk.Say("Written: %s in %s. Next: kitmuster check %s", words.Count(len(files), "file"), folder, words.Shell(folder))
	return nil
}

// lay shows what rows change in a kit that is there, and writes it.
func (im *importing) lay(a *app, cmd *cobra.Command, talk *lines.Talk, rows []intake.Row) error {
	var orders []string
	for _, r := range rows {
		b, err := json.Marshal(r)
		if err != nil {
			return err
		}
		orders = append(orders, string(b))
	}
	if err := recoverChanges(cmd.ErrOrStderr()); err != nil {
		return err
	}
	l, err := a.laid(cmd, im.in, im.b, []string{im.into}, orders)
	if err != nil {
		return err
	}
	if len(l.Refused) > 0 {
		errs := cmd.ErrOrStderr()
		fmt.Fprintf(errs, "kitmuster: nothing is written into %s, as %s cannot be:\n", im.into, words.Count(len(l.Refused), "row"))
		for i, why := range l.Refused {
			if i == 20 {
				fmt.Fprintf(errs, "  and %d more\n", len(l.Refused)-20)
				break
			}
			fmt.Fprintf(errs, "  %s\n", why)
		}
		return exit{exitFindings}
	}
	for i, key := range l.Left {
		if i == 20 {
			talk.Say("and %d more", len(l.Left)-20)
			break
		}
		talk.Say("%s is not in the table, and stays in the kit", key)
	}
	if len(l.Files) == 0 {
		talk.Say("The table changes nothing.")
		return nil
	}
	one := func(yield func(*remedy.Remedied, error) bool) { yield(&remedy.Remedied{Files: l.Files}, nil) }
	if err := report.RemedyDiff(cmd.OutOrStdout(), &report.Made[remedy.Remedied]{Households: one}, report.Options{}); err != nil {
		return err
	}
	if !im.yes {
		if yes, err := ask(talk, fmt.Sprintf("Change these lines of %s? Type y or n:", im.into)); err != nil || !yes {
			return err
		}
	}
	p, err := a.place(im.in)
	if err != nil {
		return err
	}
	if err := applyTo(p, l.Household.Path, l.Files); err != nil {
		return openly(plain(err))
	}
	talk.Say("Written: %s of %s.", words.Count(len(l.Files), "file"), im.into)
	return nil
}

// writeNew writes files into a folder, which is made where there is none, and replaces none.
func writeNew(folder string, files []intake.File) (err error) {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return fmt.Errorf("%s: %w", folder, plain(err))
	}
	var done []string
	defer func() {
		if err != nil {
			for _, f := range done {
				os.Remove(f)
			}
		}
	}()
	for _, f := range files {
		to := filepath.Join(folder, f.Name)
		if _, err := os.Lstat(to); err == nil {
			return fmt.Errorf("%s is there already, and is not overwritten", to)
		}
		if err := atomicfile.Write(to, f.Body, 0o666); err != nil {
			return fmt.Errorf("%s: %w", to, plain(err))
		}
		done = append(done, to)
	}
	return nil
}

// keep writes what the columns were taken for, for the next time.
func (im *importing) keep(out io.Writer, plan *intake.Plan) error {
	if im.mapping == "" {
		return nil
	}
	kept := map[string]string{}
	for _, c := range plan.Columns {
		if c.Head != "" && slices.Contains(intake.Fields, c.Field) {
			kept[c.Head] = string(c.Field)
		}
	}
	b, err := json.MarshalIndent(kept, "", "  ")
	if err == nil {
		err = atomicfile.Write(im.mapping, append(b, '\n'), 0o666)
	}
	if err != nil {
		return openly(fmt.Errorf("--mapping %s: %w", im.mapping, plain(err)))
	}
	fmt.Fprintf(out, "What the columns hold is kept in %s.\n", im.mapping)
	return nil
}
