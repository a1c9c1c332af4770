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
#   KITS_FAIL_ON  the level that fails: error where it is not set; "never" fails only where something could not be judged
#   KITS_OUT    where kits.xml, kits.json, annotations.txt, change.md and kits.sarif go; "." where it is not set. kits.sarif is for a
#               service that keeps alerts, which closes those that an upload has not: it is written where everything is checked
set -eu

base=${1:-}
out=${KITS_OUT:-.}
mkdir -p "$out"

set -- --root "$(git rev-parse --show-toplevel)" --show warning --fail-on "${KITS_FAIL_ON:-error}" \
	--output "junit=$out/kits.xml" --output "json=$out/kits.json" --output "annotations=$out/annotations.txt"
if [ -n "${KITS_CACHE:-}" ] && [ -n "${KITMUSTER_CACHE_KEY:-}" ]; then
	set -- "$@" --cache "$KITS_CACHE"
elif [ -n "${KITS_CACHE:-}" ]; then # what lies there may be anybody's
	set -- "$@" --no-cache
fi
whole=yes
if [ -n "${KITS_PART:-}" ]; then
	whole=
	set -- "$@" --part "$KITS_PART"
fi

case $base in
*[!0]*)
	git rev-parse --quiet --verify "$base^{commit}" >/dev/null || git fetch --no-tags origin "$base"
	case ${KITS_PART:-1/1} in
	1/*) kitmuster compare "$base..." --format markdown >"$out/change.md" || true ;; # the check below says what is wrong
	esac
	set -- "$@" --since "$base..."
	whole=
	;;
esac
if [ -n "$whole" ]; then
	set -- "$@" --output "sarif-open=$out/kits.sarif"
fi
exec kitmuster check "$@"
