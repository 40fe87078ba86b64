#!/usr/bin/env python3
"""The tools can fail: each is run on a small bad tree and must find what is wrong, and on a good one and must find nothing.
usage: self_test.py [COMPILER]"""
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent
COMPILER = sys.argv[1] if len(sys.argv) > 1 else "cc"
NESTED = "int deep(int a) {\n    for (;;)\n        while (a)\n            if (a)\n                do {\n" \
         "                    switch (a) {\n                    case 1: a--;\n                    }\n                } while (a);\n" \
         "    return a;\n}\n"
CHAIN = "int chain(int a) {\n" + "".join(f"    {'else ' if i else ''}if (a == {i})\n        a++;\n" for i in range(9)) \
        + "    return a;\n}\n"
MANY = "static double wide(double a, double b, double c, double d,\n                   double e, double f, double g, double h) {\n" \
       "    return a + b + c + d + e + f + g + h; /* } */\n}\n"


def write(root, name, text):
    path = root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def run(*words):
    tool = str(HERE / words[0])
    return subprocess.run([sys.executable if tool.endswith(".py") else "sh", tool, *map(str, words[1:])], capture_output=True,
                          text=True, check=False)


def expect(result, *needles):
    assert result.returncode == 1, (result.returncode, result.stdout + result.stderr)
    for needle in needles:
        assert needle in result.stdout, (needle, result.stdout, result.stderr)


def expect_good(result):
    assert result.returncode == 0, result.stdout + result.stderr


def good_tree(root):
    write(root, "src/base/sources.cmake", "holdfast_room(base RANK 0 SOURCES good.c json_own.c)\n")
    write(root, "src/base/good.c", '/* A comment with #include "nowhere.h" and { in it. */\n#include "holdfast/base/good.h"\n\n'
          + CHAIN + "\n" + 'const char *text(void) {\n    return "}{";\n}\n')
    write(root, "src/base/json_own.c", "#include <cjson/cJSON.h>\n")
    write(root, "include/holdfast/base/good.h", "#ifndef GOOD_H\n#define GOOD_H\n\nint chain(int a);\nconst char *text(void);\n\n#endif\n")
    write(root, "tests/one.c", "int one;\n")
    write(root, ".clang-format", (HERE.parents[1] / ".clang-format").read_text(encoding="utf-8"))


def layers(root):
    expect_good(run("layers.py", root))
    write(root, "src/strength/sources.cmake", "holdfast_room(strength RANK 3 SOURCES gsl.c gone.c)\n")
    write(root, "src/base/good.c", '#include "holdfast/strength/fit.h"\n  #  include <boost/any.hpp>\n#include NAME\n#include "base/none.h"\n#include <unistd.h>\n#define _GNU_SOURCE\n')
    write(root, "src/strength/gsl.c", '#include <gsl/gsl_math.h>\n#include "fit.h"\n#include "gsl/gsl_cdf.h"\n')
    write(root, "src/strength/unlisted.c", "#include <cjson/cJSON.h>\n")
    write(root, "src/base/text.c", "#include <cjson/cJSON.h>\nvoid *piece(void) { return malloc(1); }\n")
    write(root, "src/astray.c", "int astray;\n")
    write(root, "src/cellar/astray.c", "int astray;\n")
    expect(run("layers.py", root), "good.c:1: base (rank 0) may not use strength (rank 2)", "<boost/any.hpp> is neither",
           "good.c:3: include NAME is not a plain", '"base/none.h" names no file', "gsl.c:1: GSL may only", "gsl.c:3: GSL may only",
           'include "fit.h" is not of the form', "unlisted.c:1: cJSON may only", "text.c:1: cJSON may only", "text.c:2: malloc() instead of", "unlisted.c: is not listed",
           "lists gone.c, which does not exist", "rank 3, expected 2", "good.c:5: <unistd.h> is not C17", "good.c:6: _GNU_SOURCE is defined", "src/astray.c: lies in no room", "src/cellar/astray.c: lies in no room")


def ratchet(root):
    expect_good(run("ratchet.py", root))
    write(root, "src/base/long.c", "int grow(int a) {\n" + "    a++;\n" * 90 + "    return a;\n}\n")
    write(root, "src/base/deep.c", NESTED)
    write(root, "src/base/wide.c", MANY)
    write(root, "tests/file.c", "int x;\n" * 801)
    expect(run("ratchet.py", root), "function src/base/long.c grow: 93, gate 80", "nesting src/base/deep.c deep: 5, gate 4",
           "parameters src/base/wide.c wide: 8, gate 7", "file tests/file.c: 801, gate 800", ", 4 findings")
    exceptions = "function src/base/long.c grow 93\nnesting src/base/deep.c deep 5\nparameters src/base/wide.c wide 8\nfile tests/file.c 801\n"
    write(root, "tests/tools/ratchet_exceptions.txt", exceptions)
    expect_good(run("ratchet.py", root))
    write(root, "tests/tools/ratchet_exceptions.txt", exceptions.replace("grow 93", "grow 92"))
    expect(run("ratchet.py", root), "grow: 93, gate 92")
    write(root, "tests/tools/ratchet_exceptions.txt", exceptions.replace("grow 93", "grow 95") + "function src/base/good.c chain 99\n")
    expect(run("ratchet.py", root), "grow: its ceiling is 95 but it is 93 now", "chain: stands in the exceptions but needs none")


def compile_into(root, source, target):
    subprocess.run([COMPILER, "-c", root / source, "-o", root / target], check=True)


def headers(root):
    expect_good(run("headers.sh", COMPILER, root))
    write(root, "include/holdfast/base/needs.h", "#ifndef NEEDS_H\n#define NEEDS_H\nsize_t needs(void);\n#endif\n")
    expect(run("headers.sh", COMPILER, root), "include/holdfast/base/needs.h does not compile alone")
    write(root, "include/holdfast/base/needs.h", "typedef struct twice { int a; } twice;\n")
    expect(run("headers.sh", COMPILER, root), "needs.h does not compile alone")
    empty = root / "empty"
    (empty / "include").mkdir(parents=True)
    expect(run("headers.sh", COMPILER, empty), "found none")


def formatting(root):
    expect_good(run("format_check.sh", root))
    write(root, "src/base/ugly.c", "int   ugly( void ){return 1 ;}\n")
    expect(run("format_check.sh", root), "src/base/ugly.c differs", ", 1 differ")
    run("format_check.sh", "--fix", root)
    expect_good(run("format_check.sh", root))


def circle(root):
    rooms = ("platform", "load", "numeric", "document", "campaign", "comparing", "planning", "command")
    for room in rooms:
        write(root, f"{room}.c", f"int {room}(void);\nint {room}(void) {{ return 1; }}\n")
        (root / f"src/CMakeFiles/room_{room}.dir/{room}").mkdir(parents=True)
        compile_into(root, f"{room}.c", f"src/CMakeFiles/room_{room}.dir/{room}/{room}.c.o")
    expect_good(run("circles.py", root))
    for own, other in (("a", "b"), ("b", "c"), ("c", "a")):
        write(root, f"{own}.c", f"int {own}(void);\nint {other}(void);\nint {own}(void) {{ return {other}(); }}\n")
        compile_into(root, f"{own}.c", f"src/CMakeFiles/room_campaign.dir/campaign/{own}.c.o")
    expect(run("circles.py", root), "campaign: a.c, b.c, c.c need each other", ", 1 findings")


def unused(root):
    for name in ("arena", "status"):
        write(root, f"include/holdfast/base/{name}.h", f"int hf_{name}_used(void);\nint hf_{name}_left(void);\n")
        write(root, f"src/base/{name}.c", f"int hf_{name}_used(void) {{\n    return 1;\n}}\nint hf_{name}_left(void) {{\n    return 2;\n}}\n")
    write(root, "src/base/other.c", "int hf_other(void) {\n    return hf_arena_used() + hf_status_used(); /* not hf_arena_left() */\n}\n")
    expect(run("unused.py", root), "include/holdfast/base/arena.h: hf_arena_left is declared and called by nobody",
           "include/holdfast/base/status.h: hf_status_left", "hf_arena_bytes is called, or is gone")


for part in (layers, ratchet, headers, formatting, circle, unused):
    with tempfile.TemporaryDirectory() as folder:
        good_tree(pathlib.Path(folder))
        part(pathlib.Path(folder))
for tool in ("layers.py", "circles.py", "unused.py", "ratchet.py", "headers.sh", "format_check.sh"):
    answer = run(tool, "--help")
    assert answer.returncode == 0 and "usage: " in answer.stdout, tool
print("self test: each tool finds what is wrong and nothing else")
