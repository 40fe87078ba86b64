"""The table against Python's csv module, which reads and writes the same standard by other code.

usage: table_test.py PROGRAM
What export writes is read by csv and compared with the JSON of the file; what csv writes (random rows with hostile cells, fixed
seed) goes through import and comes back in the JSON."""
import csv
import json
import os
import random
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
DEMO = os.path.join(HERE, "..", "..", "datasets", "shade-sail.json")
PROGRAM = os.path.abspath(sys.argv[1])
PIECES = ["=1+1", "@x", "+", "-", "'", '"', ",", ";", "\n", "\r\n", "#", " ", "a", "\u00d6", "\u6f22", "|", "\t", "[kg]", "\\", "{", "\x07", "1,234"]
ROUNDS, ROWS = 20, 40


def run(*words, **more):
    result = subprocess.run([PROGRAM, *words], text=True, encoding="utf-8", capture_output=True, timeout=60, **more)
    assert result.returncode == 0, f"{words}: exit {result.returncode}: {result.stderr}"
    return result.stdout


def rows_of(text, separator):
    lines = [line for line in text.split("\n") if not line.startswith("#")]
    rows = list(csv.reader(lines, delimiter=separator))
    header = rows[0]
    return [dict(zip(header, row, strict=True)) for row in rows[1:] if row]


def without_guard(text):
    return text[1:] if text.startswith("'") and text.lstrip("'")[:1] in tuple("=+-@\t\r\n") else text


def check_export(separator, name):
    with open(DEMO, encoding="utf-8") as file:
        campaign = json.load(file)
    rows = rows_of(run("export", DEMO, "--separator", name), separator)
    pulls = [(design["id"], pull) for design in campaign["designs"] for pull in design.get("specimens", [])]
    assert len(rows) == len(pulls) > 20, (len(rows), len(pulls))
    for row, (design, pull) in zip(rows, pulls, strict=True):
        assert row["design"] == design and row["id"] == pull["id"], row
        assert row["outcome"] == pull.get("outcome", "failed"), row
        for key in ("batch", "date", "mode", "note"):
            assert without_guard(row.get(key, "")) == pull.get(key, ""), (key, row)
        for key in ("held", "failed"):
            cell = row.get(f"{key} [kg]", "").replace(",", "." if separator == ";" else ",")
            expected = pull.get(key, "")
            found = f"{cell} kg" if cell and " " not in cell else cell
            assert found == expected, (key, found, expected)


def hostile(random_numbers):
    text = "".join(random_numbers.choice(PIECES) for _ in range(random_numbers.randint(0, 6)))
    return text


def check_import(seed):
    numbers = random.Random(seed)
    with tempfile.TemporaryDirectory() as scratch:
        path, table = os.path.join(scratch, "c.json"), os.path.join(scratch, "t.csv")
        start = '{ "format": "holdfast-campaign/1", "designs": [\n  { "id": "ring", "specimens": [] } ] }\n'
        with open(path, "w", encoding="utf-8") as file:
            file.write(start)
        rows = [[f"r{i}", f"{numbers.randint(1, 99999) / 100:.2f}", hostile(numbers), hostile(numbers)] for i in range(ROWS)]
        with open(table, "w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file, quoting=csv.QUOTE_ALL)
            writer.writerow(["id", "peak [N]", "note", "info.a"])
            writer.writerows(rows)
        run("import", path, table, "--sure", "--design", "ring")
        with open(path, encoding="utf-8", newline="") as file:
            text = file.read()
        assert text.startswith(start[:start.index("[]") + 1]) and text.endswith(start[start.index("[]") + 1:]), text
        pulls = json.loads(text)["designs"][0]["specimens"]
        for row, pull in zip(rows, pulls, strict=True):
            assert pull["id"] == row[0] and pull["peak"] == float(row[1]), (row, pull)
            assert pull.get("note", "") == without_guard(row[2]), (row, pull)
            assert pull.get("info", {}).get("a", "") == without_guard(row[3]), (row, pull)
        # and back: the exported table read by csv holds the same cells, every one safe for a spreadsheet
        with open(os.path.join(scratch, "back.csv"), "w+", encoding="utf-8", newline="") as file:
            run("export", path, "-o", file.name)
        with open(os.path.join(scratch, "back.csv"), encoding="utf-8", newline="") as file:
            back = [row for row in csv.reader(file) if row and not row[0].startswith("# ")]
        header = back[0]
        for row, cells in zip(rows, back[1:], strict=True):
            cell = dict(zip(header, cells, strict=True))
            assert without_guard(cell.get("note", "")) == without_guard(row[2]), (row, cell)
            assert all(text[:1] not in tuple("=+-@\t\r\n") for text in cells if text), cells


check_export(",", "comma")
check_export(";", "semicolon")
for at in range(ROUNDS):
    check_import(at)
print(f"export read by csv, {ROUNDS * ROWS} rows written by csv read back")
