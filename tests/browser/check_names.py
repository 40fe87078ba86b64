"""Whatever the names in a file are, what Holdfast writes stays what it is: text without control characters, JSON that gives the names
back, a table that reads in again to the same pulls and holds no formula, a picture that is XML, Markdown without markup of theirs.

usage: check_names.py PROGRAM
"""
import ast
import csv
import io
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import unicodedata
import xml.etree.ElementTree as ET

import hard_campaigns

NAMED = ("hostile", "long", "capitals", "right-to-left", "far-east")
problems = []


def expect(condition, words):
    if not condition:
        problems.append(words)


def run(program, *words, code=(0, 1)):
    done = subprocess.run([program, *map(str, words)], stdin=subprocess.DEVNULL, capture_output=True, timeout=120, check=False)
    expect(done.returncode in code, f"{words[0]} {pathlib.Path(str(words[-1])).name}: exit {done.returncode}: {done.stderr[-200:]}")
    return done.stdout.decode("utf-8")


def check_text(text, where):
    """Nothing that a terminal would take for a command or that turns the reading direction of what follows."""
    bad = {c for c in text if unicodedata.category(c) in ("Cc", "Zl", "Zp") and c != "\n" or c in "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"}
    expect(not bad, f"{where}: characters {sorted(map(ascii, bad))}")


def check_markdown(text, where):
    # Lines set in by four blanks are shown as they are.
    text = re.sub(r"(?m)^    .*$", "", text)
    for tag in ("<script", "<img", "<iframe", "<svg", "</title", "<b>"):
        expect(tag not in text.lower(), f"{where}: markup {tag}")
    expect(not re.search(r"(?<!\\)\]\(\s*(javascript|http)", text), f"{where}: a link")


def strings(value):
    """Every text of a JSON value, keys too."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield key
            yield from strings(item)
    elif isinstance(value, list):
        for item in value:
            yield from strings(item)
    elif isinstance(value, str):
        yield value


def rows_of(text):
    lines = io.StringIO(text, newline="")
    while (at := lines.tell(), lines.readline())[1].startswith("#"):
        pass
    lines.seek(at)
    return list(csv.DictReader(lines))


def check_table(program, path, content, folder, name):
    """Export, then import into the same campaign without pulls: the same pulls, to the letter."""
    table = run(program, "export", path)
    rows = rows_of(table)
    expect(len(rows) == sum(len(d["specimens"]) for d in content["designs"]), f"{name} export: {len(rows)} rows")
    for row in rows:
        for cell in row.values():
            expect(not re.match(r"[=+\-@\t\r]", cell or ""), f"{name} export: a spreadsheet would run {cell[:40]!r}")
    (folder / "table.csv").write_text(table, encoding="utf-8", newline="")
    (folder / "again.json").write_text(json.dumps(dict(content, designs=[dict(d, specimens=[]) for d in content["designs"]])), encoding="utf-8")
    run(program, "import", folder / "again.json", folder / "table.csv")
    again = json.loads((folder / "again.json").read_text(encoding="utf-8"))
    for before, after in zip(content["designs"], again["designs"]):
        for first, second in zip(before["specimens"], after["specimens"]):
            for key in ("id", "mode", "batch", "note"):
                expect(first.get(key) == second.get(key), f"{name} import: {key} {first.get(key)!r:.60} became {second.get(key)!r:.60}")


def check_picture(text, where):
    try:
        root = ET.fromstring(text)
    except ET.ParseError as error:
        return expect(False, f"{where}: {error}")
    # XML 1.0 allows no other characters; ElementTree lets some pass.
    expect(all(ord(c) >= 32 or c in "\t\n" for c in text) and not re.search("[\ufffe\uffff]", text), f"{where}: a character that is not XML")
    tags = {e.tag.split("}")[1] for e in root.iter()}
    expect(tags <= {"svg", "title", "desc", "style", "g", "rect", "path", "circle", "text", "tspan"}, f"{where}: elements {tags}")
    expect(not any(a.startswith("on") or a.endswith("href") for e in root.iter() for a in e.attrib), f"{where}: an attribute that acts")
    return None


def check_notebook(text, where):
    """Cells of Markdown without markup of the names, cells of Python that parse and hold the names as texts only."""
    cells = json.loads(text)["cells"]
    code = ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]
    expect(len(code) >= 3, f"{where}: {len(code)} cells of code")
    for cell in cells:
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            # Pictures of Holdfast's own may stand in Markdown; they are judged as pictures.
            for picture in re.findall(r"(?s)<svg.*?</svg>", source):
                check_picture(picture, where)
            check_markdown(re.sub(r"(?s)<svg.*?</svg>", "", source), where)
        for output in cell.get("outputs", []):
            for kind, data in output.get("data", {}).items():
                expect(kind in ("text/plain", "image/svg+xml", "text/markdown"), f"{where}: an output of kind {kind}")
                if kind == "image/svg+xml":
                    check_picture("".join(data), where)
    for source in code:
        tree = ast.parse(source)
        calls = {node.func.attr for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)}
        expect("abort" not in calls, f"{where}: a name of the file became code")


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    program = sys.argv[1]
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        paths, contents = hard_campaigns.write(folder), hard_campaigns.campaigns()
        for name in NAMED:
            path, content = paths[name], contents[name]
            for words in (("check",), ("assess",), ("assess", "--full"), ("compare",), ("compare", "--full"), ("plan", "next")):
                check_text(run(program, *words, path), f"{name} {words[0]}")
            for command in ("assess", "compare"):
                markdown = run(program, command, path, "--format", "md")
                check_text(markdown, f"{name} {command} md")
                check_markdown(markdown, f"{name} {command} md")
                texts = set(strings(json.loads(run(program, command, path, "--json"))))
                expect(all(d["id"] in texts for d in content["designs"]), f"{name} {command} --json: an id is not what it was")
            for kind in ("pulls", "steps"):
                check_picture(run(program, "chart", kind, path), f"{name} {kind}")
            check_table(program, path, content, folder, name)
            check_notebook(run(program, "notebook", path), f"{name} notebook")
    for problem in problems:
        print(problem[:400])
    print(f"{len(NAMED)} campaigns, {len(problems)} problems")
    return 1 if problems else 0


sys.exit(main())
