#!/bin/sh
# Installs into a folder of the build and lives there as a stranger would: the program plans, its manual pages are set without a complaint, the
# shells take the completions, another program is built on the library by CMake and by pkg-config after the tree was moved, and the Debian packages
# hold the same and name what they need.
#   sh install.sh BUILD_FOLDER SOURCE_FOLDER
set -eu
build=$1
source=$2
work="$build/install-test"
rm -rf "$work"
mkdir -p "$work/home"
cmake --install "$build" --prefix "$work/first" >"$work/log"
mv "$work/first" "$work/tree" # nothing may remember where it was installed
tree=$work/tree
say() { echo "install: $1"; exit 1; }

for file in bin/drawerwright share/man/man1/drawerwright.1.gz share/man/man5/drawerwright-job.5.gz share/bash-completion/completions/drawerwright \
    share/zsh/vendor-completions/_drawerwright share/fish/vendor_completions.d/drawerwright.fish share/doc/drawerwright/LICENSE \
    share/doc/drawerwright/samples/plan-chest.json include/drawerwright/run.h; do
    [ -s "$tree/$file" ] || say "missing: $file"
done

"$tree/bin/drawerwright" plan "$tree/share/doc/drawerwright/samples/plan-chest.json" -o "$work/out" --patience short --quiet >/dev/null
[ -s "$work/out/packet.pdf" ] || say "no packet"

if command -v groff >/dev/null; then
    for page in "$tree"/share/man/man*/*; do
        complaints=$(gzip -dc "$page" | groff -man -ww -z 2>&1)
        [ -z "$complaints" ] || say "$page: $complaints"
    done
fi
bash -n "$tree/share/bash-completion/completions/drawerwright"
words=$(bash -c ". '$tree/share/bash-completion/completions/drawerwright'; COMP_WORDS=(drawerwright pl); COMP_CWORD=1; _drawerwright; echo \"\${COMPREPLY[@]}\"")
[ "$words" = plan ] || say "bash completes pl to: $words"
for shell in zsh fish; do
    command -v $shell >/dev/null || continue
    find "$tree/share/$shell" -type f -exec $shell -n {} \;
done

job="$source/samples/plan-chest.json"
cmake -S "$source/docs/example" -B "$work/by-cmake" -G Ninja -D CMAKE_PREFIX_PATH="$tree" >>"$work/log" || { cat "$work/log"; exit 1; }
cmake --build "$work/by-cmake" >>"$work/log" || { cat "$work/log"; exit 1; }
PKG_CONFIG_PATH=$(dirname "$(find "$tree" -name drawerwright.pc)")
export PKG_CONFIG_PATH
# shellcheck disable=SC2046 # the flags are meant to be split
cc -std=c11 -Wall -Werror "$source/docs/example/example.c" $(pkg-config --cflags --libs drawerwright) -o "$work/by-pkg-config"
"$work/by-cmake/example" "$job" >"$work/said" 2>/dev/null
"$work/by-pkg-config" "$job" 2>/dev/null | cmp - "$work/said"
grep -q "8 drawers, sheets for" "$work/said" || say "the example said: $(cat "$work/said")"

command -v dpkg-shlibdeps >/dev/null || { echo "installed; no Debian packages (dpkg-dev is missing)"; exit 0; }
(cd "$build" && cpack -B "$work/packages") >>"$work/log" 2>&1 || { cat "$work/log"; exit 1; }
program=$(ls "$work"/packages/drawerwright_*.deb)
library=$(ls "$work"/packages/libdrawerwright-dev_*.deb)
for needed in libc6 libglpk40 libcjson1 libcairo2 libpango-1.0-0 libsqlite3-0 libmicrohttpd12 fonts-dejavu-core; do
    dpkg-deb -f "$program" Depends | grep -q "$needed" || say "the package does not depend on $needed"
done
dpkg-deb -x "$program" "$work/root"
dpkg-deb -x "$library" "$work/root"
(cd "$tree" && find . -type f | sort) >"$work/in-tree"
(cd "$work/root/usr" && find . -type f | sort) | cmp - "$work/in-tree"
"$work/root/usr/bin/drawerwright" check "$job" --quiet >/dev/null
echo "installed, linked, packed: $(cat "$work/said")"
