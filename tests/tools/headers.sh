#!/bin/sh
# Each public header compiles alone under the strictest warnings. Usage: headers.sh [COMPILER]
set -eu
cd "$(dirname "$0")/../.."
compiler=${1:-cc}
count=0
for header in $(find include -name '*.h' | LC_ALL=C sort); do
    printf '#include "%s"\n#include "%s"\n' "${header#include/}" "${header#include/}" |
        "$compiler" -std=c17 -fsyntax-only -Iinclude -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes \
            -Wmissing-prototypes -Wundef -Wwrite-strings -Werror -x c - || { echo "$header does not compile alone"; exit 1; }
    count=$((count + 1))
done
[ "$count" -gt 0 ]
echo "headers: $count compile alone"
