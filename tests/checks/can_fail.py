#!/usr/bin/env python3
"""Every published check can fail: moved by three tolerances each figure must be refused, and a line that is no row must be named.
usage: can_fail.py TEST_PUBLISHED_CHECKS"""
import pathlib
import re
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent


def moved(line):
    kind, arguments, expected, tolerance, label = line.split(";")
    value = float(expected)
    allowed = float(tolerance.rstrip("%")) * (0.01 * abs(value) if tolerance.endswith("%") else 1)
    return f"{kind};{arguments};{value + (3 * allowed or 1)!r};{tolerance};{label}"


def copy(folder, change):
    rows = 0
    for path in sorted(HERE.glob("*.csv")):
        lines = path.read_text(encoding="utf-8").splitlines()
        rows += sum(not line.startswith("#") for line in lines)
        text = "\n".join(line if line.startswith("#") else change(line) for line in lines) + "\n"
        (folder / path.name).write_text(text, encoding="utf-8")
    return rows


def run(program, change):
    with tempfile.TemporaryDirectory() as folder:
        rows = copy(pathlib.Path(folder), change)
        done = subprocess.run([program, folder], cwd=HERE.parent, capture_output=True, text=True, check=False)
        return rows, done


def main():
    rows, done = run(sys.argv[1], moved)
    counts = re.search(r"Checks: (\d+), Failures: (\d+), Errors: (\d+)", done.stdout)
    checks, failures, errors = map(int, counts.groups())
    print(f"{rows} rows moved, {checks} checked, {failures} refused")
    good = checks == rows and failures == rows and errors == 0 and done.returncode != 0
    _, done = run(sys.argv[1], lambda line: "no row" if line.startswith("normal_k;16 0.90 0.95;2.0345") else line)
    print(done.stderr.strip())
    return 0 if good and done.returncode != 0 and "C03.csv:4: found no row" in done.stderr else 1


if __name__ == "__main__":
    sys.exit(main())
