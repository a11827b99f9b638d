#!/bin/sh
# clang-tidy (.clang-tidy) and cppcheck (.cmake/cppcheck.txt) over src/ and include/; any finding fails.
#   sh tests/lint.sh [FILE...]      all sources when none is named
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh
need "look over the sources" clang-tidy:clang-tidy cppcheck:cppcheck cmake:cmake ninja:ninja-build
install_needed
build=${DW_LINT_FOLDER:-build-lint}
cmake -C .cmake/clang.cmake -S . -B "$build" -G Ninja -D DW_TESTS=OFF >/dev/null
[ $# -gt 0 ] || set -- src/*/*.c
found=no
printf '%s\n' "$@" | xargs -P "$(nproc)" -n 4 clang-tidy -p "$build" --quiet 2>"$build/tidy.log" || found=yes
if grep -q '^error: ' "$build/tidy.log"; then # the tool itself did not work
    cat "$build/tidy.log"
    found=yes
fi
cppcheck -j "$(nproc)" --quiet --std=c11 --enable=warning,performance,portability --inline-suppr --suppressions-list=.cmake/cppcheck.txt \
    --error-exitcode=1 -I include -I src -D_POSIX_C_SOURCE=200809L -DDW_VERSION='""' "$@" || found=yes
[ "$found" = no ] || { echo "clang-tidy or cppcheck has findings (above)"; exit 1; }
echo "clang-tidy and cppcheck have nothing to say of $# files"
