"""Names that hold markup, formulas, quotes, code, control characters or 10 000 letters stay names.

usage: hostile.py PROGRAM [--execute]
Each hostile name stands in every place of a campaign that takes free text. The notebook must be that of a harmless twin but for the names: the same cells, code
whose syntax tree differs in texts alone, a page with the same elements. And the file must come back out of the Python literal as it went in.
Without --execute only those of QUICK are tried; with it all of them, and the cells of the worst run by Jupyter's kernel too."""
import ast
import html.parser
import json
import pathlib
import sys
import tempfile

import book

HOSTILE = {
    "markup": "<script>alert(1)</script><img src=x onerror=alert(2)><!-- --></td></table><h1>head</h1>",
    "markdown": "**bold** _thin_ `code` ~~gone~~ [link](javascript:alert(1)) ![i](http://e.example/x.png) | cell | # head",
    "links": "https://evil.example www.evil.example someone@evil.example <https://evil.example> [a]: http://b.example",
    "list": "- item\n1. one\n# head\n> quoted\n    code\n---\n```\nfence\n```",
    "formula": "$\\href{javascript:alert(1)}{x}$ $$y$$ \\(z\\) \\[w\\] \\begin{equation}e\\end{equation} @@0@@ $",
    "quotes": "\" ' \"\"\" ''' \\ \\\" \\\\\" `",
    "ends literal": "\"}]; import os; os.system('echo injected'); x = [{\"",
    "ends triple": "'''\nimport os\nraise SystemExit\n'''",
    "magic": "%%bash\necho injected",
    "magic line": "%run evil.py",
    "shell": "!touch injected",
    "help": "print?",
    "format": "{__import__('os').system('echo injected')} %s %n {0} {}",
    "controls": "".join(map(chr, range(1, 32))) + "\x7f\x80\x85\x9b",
    "lines": "one\rtwo\r\nthree\vfour\ffive\u2028six\u2029seven",
    "turning": "\u202egnp.exe\u202c \u2066a\u2069 \u200b\u200d\ufeff \u00ad",
    "not characters": "\ufffe\uffff\U0001fffe \ue000 \U000e0041",
    "wide": "部品 ☃ 🪢 e\u0301 ﷽",
    "long": "x" * 10000,
    "long marks": "<" * 10000,
    "escapes": "\\n \\u0041 \\N{DIGIT ONE} \\x41 \\\n",
    "digits": "1. first",
    "spaces": "    deep",
    "entity": "&lt;b&gt; &#60; &amp;#60;",
    "surrogate words": "\\ud800 \\U00110000",
}
HARMLESS = "plain name"
QUICK = ("markup", "markdown", "list", "formula", "ends literal", "ends triple", "controls", "long")
RUN = ("quotes", "ends literal", "magic", "formula", "long", "controls")


def campaign(name, number):
    """Every free text of the format is the name; ids need a number to be unique."""
    specimens = [{"id": f"{name} {number}.{d}.{i}", "batch": name, "held": 760 + 40 * i + 30 * d, "failed": 800 + 40 * i + 30 * d, "mode": name,
                  "note": name, "info": {name: name}} for d in range(2) for i in range(5)]
    specimens[9] |= {"outcome": "held"}
    del specimens[9]["failed"]
    designs = [{"id": f"{name} {number} design {d}", "name": name, "family_reason": name, "info": {name: name},
                "scatter": {"cv": 0.1, "degrees_of_freedom": 12, "source": name}, "specimens": specimens[5 * d:5 * d + 5]} for d in range(2)]
    designs[1]["family"] = "lognormal"
    return {"format": "holdfast-campaign/1", "title": name, "unit": "N", "info": {name: name},
            "rig": {"id": f"{name} {number} rig", "tare": "2.6 kg", "records": "added", "calibration": name, "info": {name: name},
                    "uncertainty": [{"source": name, "relative": 0.02, "kind": "standard"}]},
            "goal": {"design_factor": 3, "service_load": 120, "use_factors": [{"reason": name, "factor": 1.2}]},
            "designs": designs, "head_to_head": [{"first": designs[0]["id"], "second": designs[1]["id"], "broke": "first", "mode": name, "note": name}]}


def blank(tree):
    """The syntax tree as text, every text constant emptied: what is left is code."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            node.value = ""
    return ast.dump(tree)


class Elements(html.parser.HTMLParser):
    """The elements of a page in order, with the attributes that can do something. Elements that only carry a single escaped character are left out."""

    def __init__(self, text):
        super().__init__()
        self.found, self.inside = [], False
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        kept = sorted((k, v[:30] if k == "src" else v) for k, v in attributes if k in ("href", "src", "onerror", "onclick", "style"))
        if (tag, kept) != ("span", []):
            self.found.append((tag, kept))


def elements_of_words(notebook):
    """Of the cells of text alone: code is coloured word by word."""
    from nbconvert.filters import markdown2html
    pages = [markdown2html(cell.source.replace("(attachment:", "(")) for cell in notebook.cells if cell.cell_type == "markdown"]
    # Marks of headings aside: they are made where their text allows.
    return [(tag, kept) for page in pages for tag, kept in Elements(page).found
            if not (tag == "a" and dict(kept).get("href", "").startswith("#"))]


def formulas(notebook):
    """What a reader that looks for formulas finds, in the source and in the finished page."""
    from nbconvert.filters import markdown2html
    words = [cell.source for cell in notebook.cells if cell.cell_type == "markdown"]
    return [(s.count("$"), s.count("\\")) for s in words]


def check(name, notebook, twin, source):
    for cell, other in zip(notebook.cells, twin.cells, strict=True):
        assert (cell.cell_type, cell.id, sorted(cell)) == (other.cell_type, other.id, sorted(other)), f"{name}: {cell.id}"
        assert sorted(cell.get("attachments", {})) == sorted(other.get("attachments", {})), f"{name}: {cell.id}"
        if cell.cell_type == "code":
            assert blank(ast.parse(cell.source)) == blank(ast.parse(other.source)), f"{name}: code of {cell.id} differs"
    literal = next(s for s in book.code_of(notebook) if s.startswith("CAMPAIGN = "))
    assert ast.literal_eval(ast.parse(literal).body[0].value) == source, f"{name}: the literal is not the file"
    shown = literal.replace("\n", "")
    assert shown.isprintable(), f"{name}: unprintable in the literal: {[c for c in shown if not c.isprintable()][:5]}"
    ours, theirs = elements_of_words(notebook), elements_of_words(twin)
    if ours != theirs:
        at = next((i for i, pair in enumerate(zip(ours, theirs)) if pair[0] != pair[1]), min(len(ours), len(theirs)))
        sys.exit(f"{name}: element {at} of the page: {ours[at:at + 3]}, of the twin: {theirs[at:at + 3]}")
    assert formulas(notebook) == formulas(twin), f"{name}: formulas"


def main():
    program, execute = str(pathlib.Path(sys.argv[1]).resolve()), "--execute" in sys.argv
    with tempfile.TemporaryDirectory() as folder:
        def notebook_of(name, number):
            data = campaign(name, number)
            (pathlib.Path(folder) / "case.json").write_text(json.dumps(data), encoding="utf-8")
            return book.read(book.write(program, "case.json", folder)), data

        twin, _ = notebook_of(HARMLESS, 0)
        book.check_reading("harmless", twin)
        for number, (what, name) in enumerate(HOSTILE.items()):
            if not execute and what not in QUICK:
                continue
            notebook, data = notebook_of(name, number)
            check(what, notebook, twin, data)
            long = [line for source in book.code_of(notebook) for line in source.split("\n") if len(line) > 72]
            assert not long, f"{what}: lines of code too long for paper: {long[:3]}"
            if execute and what in RUN:
                book.execute(notebook)
            print(f"{what}: safe")
        strange = pathlib.Path(folder) / "a b'$(touch injected)`<b>.json"
        strange.write_text(json.dumps(campaign(HARMLESS, 0)), encoding="utf-8")
        check("file name", book.read(book.write(program, strange.name, folder)), twin, campaign(HARMLESS, 0))
        assert not list(pathlib.Path(folder).glob("injected*")), "something was run"


main()
