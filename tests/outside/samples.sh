#!/bin/sh
# Plans every sample and holds what comes out against programs that are not ours: plan.json by check_plan.py, the PDF by qpdf and
# pdftotext, the drawings by xmllint. The same call twice gives the same bytes. Exit 77 (skipped) when one of them is missing.
#   sh samples.sh PROGRAM SOURCE_FOLDER
set -eu
program=$1
source=$2
for tool in python3 qpdf pdftotext xmllint; do
    command -v "$tool" >/dev/null 2>&1 || { echo "missing: $tool"; exit 77; }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

for job in "$source"/samples/*.json; do
    name=$(basename "$job" .json)
    [ "$name" != shop ] || continue
    "$program" plan "$job" -o "$work/$name" --patience short --quiet >/dev/null
    "$program" plan "$job" -o "$work/again-$name" --patience short --threads 1 --quiet >/dev/null
    python3 "$source/tests/outside/check_plan.py" "$work/$name/plan.json"
    qpdf --check "$work/$name/packet.pdf" >/dev/null
    pdftotext "$work/$name/packet.pdf" "$work/text"
    mark=$(sed -n 's/.*"plan_id": "\([^"]*\)".*/\1/p' "$work/$name/plan.json" | head -n 1)
    [ -n "$mark" ] && grep -q "$mark" "$work/text" || { echo "$name: the plan's mark is not in the packet"; exit 1; }
    for drawing in "$work/$name"/*.svg; do
        xmllint --noout "$drawing"
    done
    for file in "$work/$name"/*; do
        cmp "$file" "$work/again-$name/$(basename "$file")"
    done
done

# The same in a small van: sheets are cut at the yard, and the plan's file says how.
"$program" plan "$source/samples/plan-chest.json" -o "$work/van" --set shop.habits.van_length=72 --set shop.habits.van_width=40 --patience short --quiet >/dev/null
python3 "$source/tests/outside/check_plan.py" "$work/van/plan.json"
grep -q '"comes": "cut at the yard"' "$work/van/plan.json" || { echo "no sheet is cut at the yard"; exit 1; }
for drawing in "$work/van"/*.svg; do
    xmllint --noout "$drawing"
done
echo "all samples hold"
