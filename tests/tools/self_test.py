#!/usr/bin/env python3
"""The tools can fail: each is run on a small bad tree and must find what is wrong."""
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent


def run(tool, root):
    return subprocess.run([sys.executable, str(HERE / tool), str(root)], capture_output=True, text=True)


def expect(result, *needles):
    assert result.returncode == 1, result.stdout + result.stderr
    for needle in needles:
        assert needle in result.stdout, (needle, result.stdout)


with tempfile.TemporaryDirectory() as folder:
    root = pathlib.Path(folder)
    for room in ("base", "strength", "campaign"):
        (root / "src" / room).mkdir(parents=True)
        (root / "src" / room / "sources.cmake").write_text("holdfast_room(x SOURCES upward.c gsl.c long.c)\n")
    (root / "include").mkdir()
    (root / "src/base/upward.c").write_text('#include "holdfast/strength/fit.h"\n')
    (root / "src/strength/gsl.c").write_text("#include <gsl/gsl_math.h>\n#include \"fit.h\"\n")
    (root / "src/campaign/unlisted.c").write_text("#include <cjson/cJSON.h>\n")
    (root / "src/base/long.c").write_text("int grow(int a) {\n" + "    a++;\n" * 90 + "    return a;\n}\n")
    expect(run("layers.py", root), "may not use strength", "GSL may only", "is not of the form", "cJSON may only", "not listed")
    expect(run("ratchet.py", root), "function src/base/long.c grow: 93")
print("self test: layers and ratchet find what is wrong")
