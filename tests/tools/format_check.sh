#!/bin/sh
# Every C file stands as .clang-format says; generated tables excepted. --fix rewrites them.
# usage: format_check.sh [--fix] [ROOT]. Exit 1 with one line per file that differs.
set -eu
fix=
case "${1:-}" in
    --help) sed -n '2,3s/^# //p' "$0"; exit 0 ;;
    --fix) fix=1; shift ;;
esac
root=${1:-$(dirname "$0")/../..}
tool=$(command -v clang-format-14 || command -v clang-format) || { echo "clang-format is missing: sh .ci/setup check"; exit 1; }
cd "$root"
files=$(find src include tests -name '*.[ch]' ! -name weibull_table.c ! -name weibull_tail_table.c ! -name looks_table.c ! -name published_coverage_table.c | LC_ALL=C sort)
[ -n "$files" ] || { echo "format: found no C file under $root"; exit 1; }
if [ -n "$fix" ]; then
    # Each name is one word of the list.
    # shellcheck disable=SC2086
    "$tool" -i $files
    exit 0
fi
report=$(mktemp)
trap 'rm -f "$report"' EXIT
# shellcheck disable=SC2086
"$tool" --dry-run -Werror --ferror-limit=0 $files 2>"$report" && status=0 || status=$?
differ=$(sed -n 's/^\([^: ]*\.[ch]\):[0-9]*:[0-9]*: error:.*/\1/p' "$report" | LC_ALL=C sort -u)
for file in $differ; do echo "$file differs; format_check.sh --fix"; done
[ "$status" -eq 0 ] || [ -n "$differ" ] || cat "$report"
echo "format: $(echo "$files" | wc -l) files, $(echo $differ | wc -w) differ"
exit "$status"
