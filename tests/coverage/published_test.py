"""The rows that reports quote (src/planning/published_coverage_table.c and published_open_table.c) are those of docs/coverage.md, all of
them. usage: published_test.py [--write]     --write: makes the table of open pulls anew from the page (the study makes the other)"""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
SECTION = "## Every law under its own bound"


def page_rows(text):
    rows, sizes = {}, []
    for line in text.split(SECTION, 1)[1].split("\n## ", 1)[0].splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if cells[0] == "law, content/confidence":
            sizes = [int(cell.removeprefix("n=")) for cell in cells[1:]]
        found = re.fullmatch(r"(\w+) (\d+)/(\d+)", cells[0])
        if not found:
            continue
        # The lognormal is the normal of ln load.
        for law in {"normal": ("normal", "lognormal")}.get(found[1], (found[1],)):
            for size, cell in zip(sizes, cells[1:], strict=True):
                rows[law, int(found[2]) / 100, int(found[3]) / 100, size] = float(cell.split()[0])
    return rows


def table_rows(text):
    pattern = r'\{&hf_family_(\w+), ([\d.]+), ([\d.]+), (\d+), ([\d.]+), ([\d.]+)\}'
    return {(m[1], float(m[2]), float(m[3]), int(m[4])): float(m[5]) for m in re.finditer(pattern, text)}


OPEN_TABLE = ROOT / "src/planning/published_open_table.c"
OPEN_HEAD = """/* Written by tests/coverage/published_test.py --write from docs/coverage.md, not by hand. */
#include "planning/published_coverage_table.h"

const hf_published_open hf_published_open_table[] = {
"""


def open_rows(text):
    rows, sizes = [], []
    for line in text.split("## Open pulls", 1)[1].split("\n## ", 1)[0].splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if cells[0] == "law, promise, open":
            sizes = [int(cell.removeprefix("n=")) for cell in cells[1:]]
        found = re.fullmatch(r"(\w+) (\d+)/(\d+), (\d+) % (run out|below the first)", cells[0])
        for size, cell in zip(sizes, cells[1:], strict=True) if found else ():
            right, given, bounded = re.fullmatch(r"([\d.]+) \(([\d.]+), (\d+) %\)", cell).groups()
            below = "true" if found[5] == "below the first" else "false"
            gave = "1" if bounded == "100" else f"0.{int(bounded):02d}"
            rows.append(f'    {{&hf_family_{found[1]}, 0.{found[2]}, 0.{found[3]}, 0.{int(found[4]):02d}, {below}, {size}, {right}, {given}, {gave}}},')
    return rows


def open_table(text):
    rows = open_rows(text)
    return OPEN_HEAD + "\n".join(rows) + "\n};\nconst size_t hf_published_open_count = sizeof hf_published_open_table / sizeof *hf_published_open_table;\n", len(rows)


def main():
    wanted, count = open_table((ROOT / "docs/coverage.md").read_text())
    if sys.argv[1:] == ["--write"]:
        OPEN_TABLE.write_text(wanted)
        return 0
    page = page_rows((ROOT / "docs/coverage.md").read_text())
    table = table_rows((ROOT / "src/planning/published_coverage_table.c").read_text())
    wrong = [f"{key}: page {page.get(key)}, table {table.get(key)}"
             for key in sorted(page.keys() | table.keys()) if page.get(key) != table.get(key)]
    if OPEN_TABLE.read_text() != wanted or count < 100:
        wrong.append("src/planning/published_open_table.c is not what docs/coverage.md says; run published_test.py --write")
    if len(page) < 100:
        wrong.append(f"only {len(page)} figures found in docs/coverage.md")
    print("\n".join(wrong) or f"{len(page)} figures agree")
    return 1 if wrong else 0


sys.exit(main())
