#!/bin/sh
# A hook of git without a manager of hooks: copy it to .git/hooks/pre-commit and let it be run (chmod +x).
# It looks at the files on the disk, of which not all may be in the commit, and fails with what is new since HEAD.
# Name a program that is elsewhere in MOVEWRIGHT; commit without the check by `git commit --no-verify`.
set -eu
cd "$(git rev-parse --show-toplevel)"
# The first commit has nothing to compare with.
if git rev-parse --verify --quiet HEAD >/dev/null; then
  exec "${MOVEWRIGHT:-movewright}" check --since HEAD
fi
exec "${MOVEWRIGHT:-movewright}" check
