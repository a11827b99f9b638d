#!/bin/sh
# The page in a real browser: sh tests/browser/run.sh PROGRAM MODULES PICTURES
#   MODULES   a node_modules folder with playwright-core and axe-core (tests/run.sh puts them into build/browser)
#   PICTURES  a folder for screenshots
# 77 (skipped) when node, chromium or the modules are missing.
set -eu
here=$(dirname "$0")
DW_PROGRAM=$1
DW_BROWSER_MODULES=${DW_BROWSER_MODULES:-$2}
DW_PICTURES=$3
DW_CHROMIUM=$(command -v chromium || true)
if ! command -v node >/dev/null 2>&1 || [ -z "$DW_CHROMIUM" ] || [ ! -d "$DW_BROWSER_MODULES/playwright-core" ] || [ ! -d "$DW_BROWSER_MODULES/axe-core" ]; then
    echo "Skipped: needs node, chromium and, in $DW_BROWSER_MODULES, playwright-core and axe-core; tests/run.sh installs them."
    exit 77
fi
mkdir -p "$DW_PICTURES"
export DW_PROGRAM DW_BROWSER_MODULES DW_PICTURES DW_CHROMIUM
exec node "$here/all.js"
