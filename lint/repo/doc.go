// Package repo makes trees to read kits and standards from: the disk, one folder of it, or a commit of a git repository, read by git
// as a process that runs nothing else; and it records what was read of a tree.
//
// gitrun.go is the only place that starts git. It gives it a short list of variables (BareEnv), keeps it out of bare repositories, which
// a commit can bring, puts a harmless value over every setting that names a program, and lets it fetch nothing. TestGitRunsNothing in
// cmd/kitmuster lays a trap at each; a new git command needs a row there.
//
// Repository.Log gives the last commit of each day that changed something, along first parents.
package repo
