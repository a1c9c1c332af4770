package main

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/sandbox"
)

// bounds are what one household may take, or one command.
type bounds struct{ sandbox.Bounds }

func (b *bounds) flags(cmd *cobra.Command) {
	b.Memory = sandbox.UsualMemory
	cmd.Flags().DurationVar(&b.Time, "time-limit", sandbox.UsualTime, "a household that takes longer than this `time` is named as not judged")
	cmd.Flags().Var(&b.Memory, "memory-limit", "a household that needs more than this much `memory` is named as not judged")
}

// newJudgingWall are workers that know the standards.
func newJudgingWall(in *input, b bounds, p *place, o household.Options) *sandbox.Pool {
	w := newWall(in, b, p, o)
	w.Given = in.rules.packed
	return w
}

// newWall are workers that judge nobody.
func newWall(in *input, b bounds, p *place, o household.Options) *sandbox.Pool {
	self, _ := os.Executable() // where it is not known no process starts, which is said of each household
	return &sandbox.Pool{
		Program: self, Name: filepath.Base(os.Args[0]), Env: childEnv(), Bounds: b.Bounds, Tree: p.disk.FS, Show: p.disk.Show, Product: product,
		Args: []string{"worker", "--on", p.on.String(), "--settings", encoded(o), "--root", in.root, "--memory-limit", b.Memory.String()},
	}
}

// worker is the other side of the wall: it reads jobs and answers each.
func (a *app) worker() *cobra.Command {
	in := &input{}
	var b bounds
	var settings string
	cmd := &cobra.Command{
		Use: "worker", Hidden: true, Args: cobra.NoArgs,
		Short: "Judge households for another process of this program",
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := sandbox.Confine(b.Memory); err != nil {
				return err
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			states := p.states()
			defer states.close()
			views := map[string]*load.Viewer{}
			o, err := decoded(settings)
			if err != nil {
				return err
			}
			o.Show = p.disk.Show
			gone := func() { os.Exit(exitClean) }
			var rulebook *judge.Rulebook
			work := func(j lint.Job) (lint.Answer, error) {
				v := views[j.Commit]
				if v == nil {
					tree, err := states.tree(cmd.Context(), j.Commit)
					if err != nil {
						return lint.Answer{}, err
					}
					if len(views) >= keptTrees {
						clear(views)
					}
					v = load.NewViewer(tree)
					views[j.Commit] = v
				}
				o.On = j.Day(p.on)
				return lint.Work(cmd.Context(), v.Of(j.Dir, j.Given), rulebook, j, o, product(j.Want)), nil
			}
			return sandbox.Serve(cmd.InOrStdin(), os.Stdout, gone, func(given []byte) (func(lint.Job) (lint.Answer, error), error) { // not text, so not through a stream
				if len(given) == 0 { // it judges nobody
					return work, nil
				}
				if rulebook, err = judge.Unpack(given); err != nil {
					return nil, err
				}
				rulebook.WatchHeap() // nothing else is done here
				rulebook.Ready()
				return work, nil
			})
		},
	}
	in.flags(cmd)
	b.flags(cmd)
	cmd.Flags().StringVar(&settings, "settings", "{}", "the settings of each household")
	return cmd
}
