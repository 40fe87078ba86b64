"""What the notebook tests share: writing a notebook with the program, reading it, running it by Jupyter's kernel or by plain Python."""
import ast
import json
import os
import pathlib
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
