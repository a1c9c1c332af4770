#!/bin/sh
# .git/hooks/pre-commit: stops a commit that breaks somebody's kit. What is staged is judged, whatever lies on the disk, in the
# households that it touches; what was broken before stops nobody. `git commit --no-verify` commits all the same.
exec kitmuster check --staged --show error
