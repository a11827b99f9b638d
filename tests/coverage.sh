#!/bin/sh
# Builds for coverage, runs the tests, prints which share of each room's lines they ran; the lines that were not are in build-coverage/lines.html.
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh
need "count the lines that ran" gcovr:gcovr
install_needed
build=${DW_COVERAGE_FOLDER:-build-coverage}
cmake -C .cmake/coverage.cmake -S . -B "$build" -G Ninja >/dev/null
cmake --build "$build" >/dev/null
find "$build" -name '*.gcda' -delete
ctest --test-dir "$build" -j "$(nproc)" --output-on-failure || echo "some tests failed; what they ran counts all the same"
gcovr --gcov-ignore-parse-errors --root . --filter src/ --object-directory "$build" --csv "$build/lines.csv" --html-details "$build/lines.html" "$build"
awk -F, 'NR > 1 { split($1, place, "/"); lines[place[2]] += $2; ran[place[2]] += $3; all += $2; all_ran += $3 }
    END { for (room in lines) printf "%-10s %6d lines, %5.1f %% ran\n", room, lines[room], 100 * ran[room] / lines[room]
          printf "%-10s %6d lines, %5.1f %% ran\n", "all", all, 100 * all_ran / all }' "$build/lines.csv" | sort
