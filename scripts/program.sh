#!/bin/sh
# The command line from a clone of this repository, built when it is first asked for: how a manager of hooks starts it.
# What building prints goes to the standard error, so that the standard output is the program's alone.
set -eu
here=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
if [ ! -f "$here/dist/cli/main.cjs" ]; then
  (cd "$here" && npm ci --ignore-scripts --no-audit --no-fund && npm run build -- --production) >&2
fi
exec node "$here/dist/cli/main.cjs" "$@"
