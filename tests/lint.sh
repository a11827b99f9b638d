#!/bin/sh
# clang-tidy (.clang-tidy) and cppcheck (.cmake/cppcheck.txt) over src/ and include/; any finding fails.
#   sh tests/lint.sh [FILE...]      all sources when none is named
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh
need "look over the sources" clang-tidy:clang-tidy cppcheck:cppcheck cmake:cmake ninja:ninja-build
install_needed
build=${DW_LINT_FOLDER:-build-lint}
[ -f "$build/compile_commands.json" ] || cmake -C .cmake/clang.cmake -S . -B "$build" -G Ninja -D DW_TESTS=OFF >/dev/null
[ $# -gt 0 ] || set -- src/*/*.c
printf '%s\n' "$@" | xargs -P "$(nproc)" -n 4 clang-tidy -p "$build" --quiet 2>/dev/null
cppcheck -j "$(nproc)" --quiet --std=c11 --enable=warning,performance,portability --inline-suppr --suppressions-list=.cmake/cppcheck.txt \
    --error-exitcode=1 -I include -I src -D_POSIX_C_SOURCE=200809L -DDW_VERSION='""' "$@"
echo "clang-tidy and cppcheck have nothing to say of $# files"
