"""What the notebook tests share: writing a notebook with the program, reading it, running it by Jupyter's kernel or by plain Python."""
import ast
import html
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
# A kernel of this very interpreter, and nothing of the user's own configuration.
HOME = tempfile.TemporaryDirectory(prefix="holdfast-notebook-")
for name in ("HOME", "IPYTHONDIR", "JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR"):
    os.environ[name] = HOME.name
os.environ["PYDEVD_DISABLE_FILE_VALIDATION"] = "1"
os.environ.pop("JUPYTER_PATH", None)

import nbformat  # noqa: E402, after the environment
from nbconvert import HTMLExporter  # noqa: E402
from nbconvert.preprocessors import ExecutePreprocessor  # noqa: E402

PROBE = "import sys\nsys.executable, sys.version_info[:2]"


def call(program, *words, where=".", codes=(0,), data=None):
    done = subprocess.run([program, *words], cwd=where, input=data, capture_output=True, text=True, encoding="utf-8")
    if done.returncode not in codes:
        sys.exit(f"{' '.join(words)}: exit {done.returncode}, {done.stderr}")
    return done.stdout


def write(program, campaign, where, *options, codes=(0, 4)):
    """The bytes of the notebook of campaign (a file name in the folder where)."""
    name = pathlib.Path(campaign).with_suffix(".ipynb").name
    call(program, "notebook", campaign, "-o", name, *options, where=where, codes=codes)
    return (pathlib.Path(where) / name).read_bytes()


def read(data):
    """The notebook, valid against the schema of nbformat 4.5."""
    book = nbformat.reads(data.decode("utf-8"), as_version=4)
    raw = json.loads(data)
    assert (raw["nbformat"], raw["nbformat_minor"]) == (4, 5), "not nbformat 4.5"
    nbformat.validate(book)
    nbformat.validate(raw)
    return book


def code_of(book):
    return [cell.source for cell in book.cells if cell.cell_type == "code"]


def execute(book):
    """Runs a copy by the kernel; its texts of output. The kernel must be of this interpreter."""
    copy = nbformat.from_dict(json.loads(json.dumps(book)))
    copy.cells.append(nbformat.v4.new_code_cell(PROBE))
    ExecutePreprocessor(timeout=300, kernel_name="python3").preprocess(copy, {"metadata": {"path": HOME.name}})
    texts = []
    for cell in copy.cells:
        for output in cell.get("outputs", []):
            assert output.output_type != "error", output
            texts.append(output.get("text") or output.get("data", {}).get("text/plain", ""))
    where, version = ast.literal_eval(texts[-1])
    assert pathlib.Path(where).resolve() == pathlib.Path(sys.executable).resolve(), f"the kernel is {where}"
    assert version == sys.version_info[:2]
    assert len(texts) > 3, "the cells print nothing"
    return copy, texts[:-1]


def run_plainly(book, quick=False):
    """Runs the cells by exec in one namespace, without scipy; returns it."""
    space, hidden = {"__name__": "notebook"}, sys.modules.get("scipy")
    sys.modules["scipy"] = None
    try:
        for number, source in enumerate(code_of(book)):
            exec(compile(source, f"cell {number}", "exec"), space)
            if quick and "SIMULATED_PARTS" in space:
                space["SIMULATED_PARTS"] = 20000
    finally:
        if hidden is None:
            del sys.modules["scipy"]
        else:
            sys.modules["scipy"] = hidden
    return space


def html_of(book):
    exporter = HTMLExporter()
    exporter.exclude_input_prompt = exporter.exclude_output_prompt = True
    return exporter.from_notebook_node(book)[0]


def without_code(source):
    """Lines of a cell of text that are no code block."""
    return [line for line in source.split("\n") if not line.startswith("    ")]


def check_reading(name, book):
    """The answer first and code last; lines that fit on paper; formulas that need no typesetting; links that lead somewhere."""
    kinds = [cell.cell_type for cell in book.cells]
    answers = re.findall(r"^<strong>.*</strong>$", book.cells[0].source, re.M)
    assert answers and book.cells[0].source.startswith("# "), f"{name}: no answer in the first cell"
    words = [cell.source for cell in book.cells if cell.cell_type == "markdown"]
    again = words.index(next(text for text in words if text.startswith("## Computed again")))
    assert kinds[:again] == ["markdown"] * again, f"{name}: code before the results"
    told = [line for text in words[1:again] for line in text.split("\n")]
    assert all(answer in told for answer in answers), f"{name}: an answer without its result"
    pictured = [at for at, cell in enumerate(book.cells) if cell.get("attachments")]
    assert pictured and pictured[-1] < kinds.index("code"), f"{name}: charts after code"
    long = [line for cell in book.cells if cell.cell_type == "code" for line in cell.source.split("\n") if len(line) > 72]
    assert not long, f"{name}: lines too long for paper: {long[:3]}"
    assert not [text for text in words if "$" in text], f"{name}: a formula that needs typesetting"
    check_words(name, book, words, again)
    levels = [len(mark) for text in words for line in without_code(text) for mark in re.findall(r"^(#+) ", line)]
    assert levels[0] == 1 and all(after <= before + 1 for before, after in zip(levels, levels[1:])), f"{name}: headings {levels}"
    check_links(name, book)


def check_words(name, book, words, again):
    """Each caution once; nothing about a comparison where there is none; numbers and units unbroken; no empty column; the source before the numbers."""
    space = {}
    exec(next(source for source in code_of(book) if source.startswith("CAMPAIGN = ")), space)
    campaign, plain = space["CAMPAIGN"], [text.replace("&nbsp;", " ") for text in words]
    for named in re.findall(r"told with the results: (.*)\.$", plain[0], re.M):
        titles = [re.sub(r" \(\d+\)$", "", title) for title in named.split("; ")]
        assert len(set(titles)) == len(titles), f"{name}: {named}"
    if len(campaign["designs"]) == 1:
        told = [text for text in plain[again:again + 3] if "comparison" in text or "verdicts" in text]
        assert not told, f"{name}: a comparison of one design: {told}"
    broken = [text for text in words for text in re.findall(r".*\d (?:%|k?N|kg|lbf)(?![a-z]).*", "\n".join(without_code(text))) if "`" not in text]
    assert not broken, f"{name}: a number without its unit: {broken[:3]}"
    for header, row in re.findall(r"^(\|.*\|)\n\|[ :|-]+\n((?:\|.*\|\n?)+)", "\n".join(plain), re.M):
        for column, cells in enumerate(zip(*(line.split("|")[1:-1] for line in row.strip().split("\n")))):
            assert any(cell.strip() for cell in cells), f"{name}: an empty column: {header}, {column}"
    stated = [f"- {key}: {value}" for key, value in campaign.get("info", {}).items()]
    shown = html.unescape(plain[1]) if stated else ""
    assert all(line[:60] in shown for line in stated[:8]), f"{name}: the source is not told first: {stated}"


def check_links(name, book):
    page = html_of(book)
    targets, links = set(re.findall(r'\bid="([^"]*)"', page)), set(re.findall(r'href="#([^"]*)"', page))
    assert {"Limits", "Results", "The-data", "Computed-again", "To-repeat"} <= links, f"{name}: {sorted(links)[:9]}"
    assert links <= targets, f"{name}: links to nowhere: {sorted(links - targets)[:5]}"
