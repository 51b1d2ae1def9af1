#!/usr/bin/env bash
# Draws the README's pictures anew from the demonstration job (the workbench's come from the browser tests,
# node tests/browser/run.mjs --pictures).
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
papers=$(mktemp -d)
trap 'rm -rf "$papers"' EXIT
build/release/seatwright plan examples/wedge/job.toml --out "$papers" >/dev/null
build/release/seatwright certify examples/wedge/job.toml --head 1 --out "$papers" >/dev/null
for name in sheet certificate; do
    pdftoppm -r 75 -png -singlefile -f 1 -l 1 "$papers/$name.pdf" "docs/pictures/$name"
done
