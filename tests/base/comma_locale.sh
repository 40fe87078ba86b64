#!/bin/sh
# Runs PROGRAM NAME-OF-A-LOCALE whose decimal point is a comma. The locale is made on the spot, so that none need be installed.
# Usage: comma_locale.sh PROGRAM
set -eu
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cat >"$folder/comma.source" <<'END'
comment_char %
escape_char /
LC_NUMERIC
decimal_point "<U002C>"
thousands_sep "<U002E>"
grouping 3;3
END LC_NUMERIC
END
# It warns of the parts that are left out and comes back with 1; the program finds out whether the locale works.
localedef --no-archive -c -i "$folder/comma.source" "$folder/holdfast_comma" >"$folder/log" 2>&1 || true
LOCPATH=$folder HF_COMMA_LOCALE=holdfast_comma "$1" || { cat "$folder/log"; exit 1; }
