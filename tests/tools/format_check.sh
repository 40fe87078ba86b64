#!/bin/sh
# Every C file stands as .clang-format says; generated tables excepted. Usage: format_check.sh [--fix]
set -eu
cd "$(dirname "$0")/../.."
tool=$(command -v clang-format-14 || command -v clang-format) || { echo "clang-format is missing: sh .ci/setup check"; exit 1; }
files=$(find src include tests -name '*.[ch]' ! -name weibull_table.c | LC_ALL=C sort)
if [ "${1:-}" = --fix ]; then
    # shellcheck disable=SC2086
    $tool -i $files
else
    # shellcheck disable=SC2086
    $tool --dry-run -Werror $files
fi
echo "format: $(echo "$files" | wc -l) files"
