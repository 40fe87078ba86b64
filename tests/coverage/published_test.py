"""The rows that reports quote (src/planning/published_coverage_table.c) are those of docs/coverage.md, all of them."""
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
    pattern = r'\{"(\w+)", ([\d.]+), ([\d.]+), (\d+), ([\d.]+), ([\d.]+)\}'
    return {(m[1], float(m[2]), float(m[3]), int(m[4])): float(m[5]) for m in re.finditer(pattern, text)}


def main():
    page = page_rows((ROOT / "docs/coverage.md").read_text())
    table = table_rows((ROOT / "src/planning/published_coverage_table.c").read_text())
    wrong = [f"{key}: page {page.get(key)}, table {table.get(key)}"
             for key in sorted(page.keys() | table.keys()) if page.get(key) != table.get(key)]
    if len(page) < 100:
        wrong.append(f"only {len(page)} figures found in docs/coverage.md")
    print("\n".join(wrong) or f"{len(page)} figures agree")
    return 1 if wrong else 0


sys.exit(main())
