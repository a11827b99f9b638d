#!/bin/sh
# Writes the expected stdout and stderr of every call anew, where they exist: sh tests/cli/update.sh build/drawerwright
# Look at the difference before committing it.
set -eu
program=$(realpath "$1")
cd "$(dirname "$0")"
for folder in */; do
    (
        here=$(realpath "$folder")
        T=$(mktemp -d)
        cd ../../samples
        D=$program
        export D
        eval "{ '$program' $(cat "$here/command"); }" >"$T/stdout" 2>"$T/stderr" </dev/null || true
        for name in stdout stderr; do
            [ ! -f "$here/$name" ] || cp "$T/$name" "$here/$name"
        done
        rm -r "$T"
    )
done
