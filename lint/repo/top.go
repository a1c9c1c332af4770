package repo

// IsTop reports whether a folder is the top of the commit, or that of a submodule: the highest folder of a repository.
func (t *tree) IsTop(dir string) bool {
	p, err := t.walk(dir, true)
	return err == nil && p.node != nil && p.node.commit
}
