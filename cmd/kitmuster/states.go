package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"sync"

	"kitmuster/lint"
	"kitmuster/lint/repo"
)

// keptTrees is how many trees of commits are kept at once, of a history that is walked through. Our own figure.
const keptTrees = 4

// states gives the trees of a run: the one on the disk and those of commits.
type states struct {
	disk    *repo.Disk
	folders []string // what the patterns ask for

	mu    sync.Mutex
	repo  *repo.Repository
	trees map[string]fs.FS
	// index is the folder that holds a copy of the index, "" for none.
	index string
}

func (p *place) states() *states {
	s := &states{disk: p.disk, trees: map[string]fs.FS{"": p.disk.FS}}
	for _, t := range p.patterns {
		s.folders = append(s.folders, strings.TrimSuffix(t, "/..."))
	}
	return s
}

// repository opens the repository of the working directory, once.
func (s *states) repository(ctx context.Context) (*repo.Repository, error) {
	if s.repo != nil {
		return s.repo, nil
	}
	wd, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	s.repo, err = repo.OpenRepository(ctx, wd, os.Environ())
	return s.repo, err
}

// commit finds the commit that a person names, and says its name together with its id.
func (s *states) commit(ctx context.Context, flag, rev string) (id, name string, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	r, err := s.holding(ctx, flag)
	if err != nil {
		return "", "", err
	}
	if id, err = r.Resolve(ctx, rev); err != nil {
		return "", "", fmt.Errorf("%s: %w", flag, err)
	}
	if short := id[:12]; !strings.HasPrefix(id, rev) {
		return id, fmt.Sprintf("%s (%s)", rev, short), nil
	}
	return id, id[:12], nil
}

// holding is the repository, which must hold every folder that is named.
func (s *states) holding(ctx context.Context, flag string) (*repo.Repository, error) {
	r, err := s.repository(ctx)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", flag, err)
	}
	for _, f := range s.folders {
		if !r.Holds(f) {
			return nil, fmt.Errorf("%s: %s is not in the git repository of this folder; change to its folder first", flag, s.disk.Show(f))
		}
	}
	return r, nil
}

// stage names what is staged now, and says whether it is to become the first commit.
func (s *states) stage(ctx context.Context) (name string, first bool, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	r, err := s.holding(ctx, "--staged")
	if err != nil {
		return "", false, err
	}
	if s.index, err = os.MkdirTemp("", "kitmuster-index-"); err != nil {
		return "", false, fmt.Errorf("--staged: %w", plain(err))
	}
	if name, err = r.Stage(ctx, s.index); err == nil {
		first, err = r.Unborn(ctx)
	}
	if err != nil {
		return "", false, fmt.Errorf("--staged: %w", err)
	}
	return name, first, nil
}

// tree gives the tree of a commit, or of what is staged; "" is the disk.
func (s *states) tree(ctx context.Context, commit string) (fs.FS, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if t := s.trees[commit]; t != nil {
		return t, nil
	}
	r, err := s.repository(ctx)
	if err != nil {
		return nil, err
	}
	t, err := r.Tree(ctx, commit, s.folders...)
	if err != nil {
		return nil, err
	}
	if len(s.trees) > keptTrees {
		s.trees = map[string]fs.FS{"": s.disk.FS}
	}
	s.trees[commit] = t
	return t, nil
}

// since makes ready to compare what is checked, a commit or the disk, with an earlier commit.
func (s *states) since(ctx context.Context, flag, rev, head string) (*lint.Since, error) {
	id, name, err := s.commit(ctx, flag, rev)
	if err != nil {
		return nil, err
	}
	tree, err := s.tree(ctx, id)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", flag, err)
	}
	changes, err := s.repo.Changed(ctx, id, head)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", flag, err)
	}
	since := &lint.Since{Name: name, Commit: id, Tree: tree, Changes: changes}
	return since, nil
}

func (s *states) close() {
	if s.repo != nil {
		_ = s.repo.Close()
	}
	if s.index != "" {
		_ = os.RemoveAll(s.index)
	}
}
