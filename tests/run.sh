#!/bin/sh
# Runs every test. Installs what is missing (Debian 12, as root or with sudo), builds in build/, runs ctest.
#   sh tests/run.sh           the usual run
#   sh tests/run.sh --long    the same tests with many more cases, then again under the sanitizers and clang
set -eu
cd "$(dirname "$0")/.."
long=no
case "${1:-}" in
    "") ;;
    --long) long=yes ;;
    *) echo "usage: sh tests/run.sh [--long]" >&2; exit 2 ;;
esac

. tests/setup.sh
need "build the program" cmake:cmake ninja:ninja-build gcc:gcc pkg-config:pkg-config
need "link the program" /usr/include/glpk.h:libglpk-dev /usr/include/cjson/cJSON.h:libcjson-dev \
    /usr/include/pango-1.0/pango/pangocairo.h:libpango1.0-dev /usr/include/cairo/cairo.h:libcairo2-dev /usr/include/sqlite3.h:libsqlite3-dev \
    /usr/include/microhttpd.h:libmicrohttpd-dev
need "set text in drawings" /usr/share/fonts/truetype/dejavu/DejaVuSans.ttf:fonts-dejavu-core
need "run the tests" /usr/include/cmocka.h:libcmocka-dev
need "check drawings from outside" xmllint:libxml2-utils qpdf:qpdf pdftotext:poppler-utils
need "hear a second solver's opinion" cbc:coinor-cbc
need "check plans and job files from outside" python3:python3 /usr/lib/python3/dist-packages/jsonschema/__init__.py:python3-jsonschema
need "use the page in a real browser" chromium:chromium node:nodejs npm:npm
need "install, and make Debian packages" dpkg-shlibdeps:dpkg-dev file:file groff:groff-base
install_needed
[ -d build/browser/node_modules/playwright-core ] && [ -d build/browser/node_modules/axe-core ] ||
    npm install --prefix build/browser --no-audit --no-fund --loglevel=error playwright-core axe-core

build_and_test() # folder, options of cmake ...
{
    folder=$1
    shift
    cmake -S . -B "$folder" -G Ninja -D DW_TESTS=ON "$@" >"$folder.log" 2>&1 || { cat "$folder.log"; exit 1; }
    cmake --build "$folder" >>"$folder.log" 2>&1 || { tail -n 60 "$folder.log"; exit 1; }
    rm -f "$folder.log"
    ctest --test-dir "$folder" --output-on-failure -j "$(nproc)" || exit 1
}

if [ "$long" = yes ]; then
    DW_LONG=1
    export DW_LONG
    need "build with a second compiler and its sanitizers" clang:clang
    install_needed
fi
build_and_test build
if [ "$long" = yes ]; then
    unset DW_LONG
    build_and_test build-asan -C .cmake/asan.cmake
    build_and_test build-clang -C .cmake/clang.cmake
fi
count=$(ctest --test-dir build -N | sed -n 's/^Total Tests: //p')
echo "All $count test programs passed."
