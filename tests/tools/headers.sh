#!/bin/sh
# Each public header compiles alone, and twice in a row, as C17 under the strictest warnings.
# usage: headers.sh [COMPILER [ROOT]]. Exit 1 at the first header that does not.
set -eu
case "${1:-}" in
    --help) sed -n '2,3s/^# //p' "$0"; exit 0 ;;
esac
compiler=${1:-cc}
root=${2:-$(dirname "$0")/../..}
cd "$root"
count=0
for header in $(find include -name '*.h' | LC_ALL=C sort); do
    printf '#include "%s"\n#include "%s"\n' "${header#include/}" "${header#include/}" |
        "$compiler" -std=c17 -fsyntax-only -Iinclude -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes \
            -Wmissing-prototypes -Wvla -Wundef -Wwrite-strings -Wformat=2 -Wpointer-arith -Wredundant-decls -Werror -x c - ||
        { echo "$header does not compile alone"; exit 1; }
    count=$((count + 1))
done
[ "$count" -gt 0 ] || { echo "headers: found none under $root/include"; exit 1; }
echo "headers: $count compile alone"
