// Package repo makes trees to read kits and standards from: the disk, one folder of it, or a commit of a git repository, read by git
// as a process that runs nothing else; and it records what was read of a tree.
package repo
