package load

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
)

// What a household may read: its repository, by whatever links, and nobody else's folder.
func TestViewer(t *testing.T) {
	const kit = "package kit\n\nhousehold: \"X\"\n"
	file := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s), Mode: 0o444} }
	link := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s), Mode: fs.ModeSymlink | 0o777} }
	tree := fstest.MapFS{
		"etc/secret":              file("s"),
		"srv/plain/fam/kit.cue":   file(kit),
		"srv/plain/fam/up":        link("../data/d.json"),
		"srv/plain/fam/out":       link("../../other"),
		"srv/plain/data/d.json":   file("1"),
		"srv/other":               file("o"),
		"srv/mod/cue.mod/m":       file(""),
		"srv/mod/data":            file("1"),
		"srv/mod/in/fam/kit.cue":  file(kit),
		"srv/mod/in/fam/data":     link("../../data"),
		"srv/repo/.git/HEAD":      file(""),
		"srv/repo/kit.cue":        file("package kit\n"),
		"srv/repo/shared/s.json":  file("1"),
		"srv/repo/a/kit.cue":      file(kit),
		"srv/repo/a/data/d.json":  file("1"),
		"srv/repo/a/deep/kit.cue": file(kit),
		"srv/repo/b/kit.cue":      file(kit),
		"srv/repo/b/sub/x.json":   file("1"),
		"srv/repo/a/rel":          link("../shared/s.json"),
		"srv/repo/a/abs":          link("/srv/repo/shared/s.json"),
		"srv/repo/a/folder":       link("../shared"),
		"srv/repo/a/chain":        link("folder/s.json"),
		"srv/repo/a/secret":       link("/etc/secret"),
		"srv/repo/a/dots":         link("../../../etc/secret"),
		"srv/repo/a/there":        link("../../repo/shared/s.json"),
		"srv/repo/a/trick":        link("/srv/repo/../../etc/secret"),
		"srv/repo/a/prefix":       link("/srv/repository"),
		"srv/repo/a/volume":       link("/"),
		"srv/repo/a/git":          link("../.git"),
		"srv/repo/a/hop":          link("hop2"),
		"srv/repo/a/hop2":         link("/etc"),
		"srv/repo/a/loop":         link("loop"),
		"srv/repo/a/other":        link("../b"),
		"srv/repo/a/otherkit.cue": link("../b/kit.cue"),
		"srv/repository":          file("n"),
		"srv/repo/alias":          link("b"),
	}
	const (
		yes    = ""
		out    = "leads out of the repository"
		other  = "in the folder of another household"
		absent = "file does not exist"
	)
	for _, c := range []struct{ dir, given, name, want, why string }{
		{"srv/repo/a", "", "srv/repo/a/kit.cue", yes, "its own"},
		{"srv/repo/a", "", "srv/repo/a/data/d.json", yes, "its own, below"},
		{"srv/repo/a", "", "srv/repo/kit.cue", yes, "above"},
		{"srv/repo/a", "", "srv/repo/shared/s.json", yes, "shared"},
		{"srv/repo/a", "", "srv/repo/a/rel", yes, "a link within"},
		{"srv/repo/a", "", "srv/repo/a/abs", yes, "an absolute link within"},
		{"srv/repo/a", "", "srv/repo/a/folder/s.json", yes, "a linked folder within"},
		{"srv/repo/a", "", "srv/repo/a/chain", yes, "a link over a linked folder"},
		{"srv/repo/a", "", "srv/repo/a/secret", out, "absolute"},
		{"srv/repo/a", "", "srv/repo/a/dots", out, "upwards"},
		{"srv/repo/a", "", "srv/repo/a/there", out, "out and back in: what lies outside decides where it leads"},
		{"srv/repo/a", "", "srv/repo/a/trick", out, "absolute with dots"},
		{"srv/repo/a", "", "srv/repo/a/prefix", out, "a name that begins alike"},
		{"srv/repo/a", "", "srv/repo/a/volume/etc/secret", out, "the whole volume"},
		{"srv/repo/a", "", "srv/repo/a/hop/secret", out, "by two links"},
		{"srv/repo/a", "", "srv/repo/a/git/HEAD", "git's own folder", "what git keeps"},
		{"srv/repo/a", "", "srv/repo/.git/HEAD", "git's own folder", "what git keeps, without a link"},
		{"srv/repo/a", "", "srv/repo/a/loop", "too many", "round"},
		{"srv/repo/a", "", "srv/repo/b/kit.cue", other, "another's kit"},
		{"srv/repo/a", "", "srv/repo/b/sub/x.json", other, "below another's"},
		{"srv/repo/a", "", "srv/repo/a/deep/kit.cue", other, "another household below"},
		{"srv/repo/a/deep", "", "srv/repo/a/kit.cue", yes, "another household above"},
		{"srv/repo/a", "", "srv/repo/a/other/sub/x.json", other, "another's by a link"},
		{"srv/repo/a", "", "srv/repo/a/otherkit.cue", other, "another's kit by a link"},
		{"srv/repo/alias", "", "srv/repo/alias/kit.cue", yes, "its own folder by another name"},
		{"srv/repo/a", "", "srv/cue.mod", absent, "above the repository there is nothing"},
		{"srv/repo/a", "", "etc/secret", absent, "nor anywhere else"},
		{"srv/plain/fam", "srv/plain", "srv/plain/fam/up", yes, "no repository: the folder that was named"},
		{"srv/plain/fam", "", "srv/plain/fam/up", out, "no repository, named alone"},
		{"srv/plain/fam", "srv/plain", "srv/plain/fam/out", out, "out of the folder named"},
		{"srv/mod/in/fam", "srv/mod/in/fam", "srv/mod/in/fam/data", yes, "no repository: the module"},
		{"srv/mod/in/fam", ".", "srv/mod/in/fam/data", yes, "no repository: the folder named is higher than the module"},
	} {
		_, err := fs.ReadFile(NewViewer(tree).Of(c.dir, c.given), c.name)
		if got := ""; c.want == yes && err != nil || c.want != yes && (err == nil || !strings.Contains(err.Error(), c.want)) {
			if err != nil {
				got = err.Error()
			}
			t.Errorf("%s reads %s (%s): %q, want %q", c.dir, c.name, c.why, got, c.want)
		}
		if _, serr := fs.Stat(NewViewer(tree).Of(c.dir, c.given), c.name); (serr == nil) != (err == nil) {
			t.Errorf("%s asks for %s: %v, but reading says %v", c.dir, c.name, serr, err)
		}
		if pe := (*fs.PathError)(nil); err != nil && (!errors.As(err, &pe) || pe.Path != c.name) {
			t.Errorf("%s: the error names %v, want %s", c.dir, err, c.name)
		}
	}
}
