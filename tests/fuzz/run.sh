#!/bin/sh
# Runs every fuzz program for N executions or N seconds each (clang and its fuzzer runtime), beginning with the kept corpus; stops at the first one
# that finds something and keeps what it found beside the programs. What proves worth keeping goes by hand into tests/fuzz/corpus/.
#   sh tests/fuzz/run.sh [N | Ns [NAME...]]     1,000,000 executions of each when not told; 300s: five minutes of each
set -eu
cd "$(dirname "$0")/../.."
count=${1:-1000000}
bound="-runs=$count"
case $count in *s) bound="-max_total_time=${count%s}" ;; *) count="$count executions" ;; esac
[ $# -eq 0 ] || shift
build=${DW_FUZZ_FOLDER:-build-fuzz}
[ -f "$build/CMakeCache.txt" ] || cmake -C .cmake/fuzz.cmake -S . -B "$build" -G Ninja >/dev/null
LSAN_OPTIONS="suppressions=$PWD/tests/leaks.supp:print_suppressions=0"
export LSAN_OPTIONS
[ $# -gt 0 ] || set -- length job csv plan guard cut
for name in "$@"; do
    cmake --build "$build" --target "fuzz_$name" >/dev/null
    mkdir -p "$build/corpus/$name"
    limit=4096
    case $name in job | csv | plan) limit=16384 ;; esac
    echo "fuzz_$name: $count"
    "$build/tests/fuzz_$name" "$bound" -max_len=$limit -timeout=60 -rss_limit_mb=1024 -artifact_prefix="$build/$name-" -print_final_stats=1 \
        "$build/corpus/$name" "tests/fuzz/corpus/$name" 2>"$build/$name.log" || { tail -n 40 "$build/$name.log"; exit 1; }
    grep -E "^stat::(number_of_executed_units|average_exec|peak_rss)|DONE" "$build/$name.log"
done
