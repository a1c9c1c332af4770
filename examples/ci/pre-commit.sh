#!/bin/sh
# .git/hooks/pre-commit: stops a commit that breaks somebody's kit. What was broken before stops nobody, and
# only households that the change touches are judged, as they lie in the work tree. `git commit --no-verify`
# commits all the same.
set -eu
if git rev-parse --quiet --verify HEAD >/dev/null; then
	set -- --since HEAD
else
	set --
fi
exec kitmuster check "$@" --show error
