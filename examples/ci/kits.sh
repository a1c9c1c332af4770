#!/bin/sh
# Checks a repository of family kits. The workflow files beside this one call it; so can a person.
#
#   sh ci/kits.sh [BASE]
#
# BASE is the revision that a change is held against: what is new since then fails, what was there
# before does not. Without it, or where it is no commit (forges write zeros for a new branch), everything
# is checked and every error fails.
#
#   KITS_PART   a part of the repository, such as 3/8, where several machines share the work
#   KITS_CACHE  a folder that the forge keeps between runs, used only together with
#   KITMUSTER_CACHE_KEY  the secret that seals it, at least 32 random characters; without it everything is judged anew
#   KITS_OUT    where kits.sarif, kits.xml, kits.json and change.md go; "." where it is not set
set -eu

base=${1:-}
out=${KITS_OUT:-.}
mkdir -p "$out"

set -- --root "$(git rev-parse --show-toplevel)" --show warning \
	--output "sarif=$out/kits.sarif" --output "junit=$out/kits.xml" --output "json=$out/kits.json"
if [ -n "${KITS_CACHE:-}" ] && [ -n "${KITMUSTER_CACHE_KEY:-}" ]; then
	set -- "$@" --cache "$KITS_CACHE"
elif [ -n "${KITS_CACHE:-}" ]; then # what lies there may be anybody's
	set -- "$@" --no-cache
fi
if [ -n "${KITS_PART:-}" ]; then
	set -- "$@" --part "$KITS_PART"
fi

case $base in
*[!0]*)
	git rev-parse --quiet --verify "$base^{commit}" >/dev/null || git fetch --no-tags origin "$base"
	case ${KITS_PART:-1/1} in
	1/*) kitmuster compare "$base..." --format markdown >"$out/change.md" || true ;; # the check below says what is wrong
	esac
	set -- "$@" --since "$base..."
	;;
esac
exec kitmuster check "$@"
