#!/bin/sh
# Builds kitmuster into $GOBIN from the sources at $KITMUSTER_SOURCE, a repository that your group trusts, at
# the commit $KITMUSTER_COMMIT. A program that judges kits is pinned like any other dependency.
set -eu

: "${GOBIN:?the folder to install into}"
: "${KITMUSTER_SOURCE:?the repository to build from}"
: "${KITMUSTER_COMMIT:?the commit to build}"

mkdir -p "$GOBIN"
GOBIN=$(cd "$GOBIN" && pwd)
export GOBIN
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
git init -q "$work"
git -C "$work" fetch -q --depth 1 "$KITMUSTER_SOURCE" "$KITMUSTER_COMMIT"
git -C "$work" checkout -q FETCH_HEAD
cd "$work"
go install ./cmd/kitmuster
