#!/bin/sh
# study.sh BOUNDS_PROGRAM COMPARISONS_PROGRAM PROMISES_PROGRAM UNSEEN_PROGRAM: runs all studies and, only when they are through, puts their output in place.
set -eu
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
"$1" --table "$place/table.c" > "$place/page.md"
"$2" >> "$place/page.md"
"$3" >> "$place/page.md"
echo >> "$place/page.md"
"$4" >> "$place/page.md"
cp "$place/table.c" ../src/planning/published_coverage_table.c
cp "$place/page.md" ../docs/coverage.md
