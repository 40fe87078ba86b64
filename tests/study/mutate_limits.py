#!/usr/bin/env python3
"""Each number of src/study/limits.h is made larger and smaller, the program is built with it, and the tests named below are run until one fails. A number
that can be changed without a test that fails is a finding, unless it stands in EQUIVALENT with the reason. Writes the table of docs/limits.md.
usage: mutate_limits.py BUILD_DIRECTORY [--update]  (the build directory of the preset dev; it is built anew at the end)"""
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
HEADER, PAGE = ROOT / "src/study/limits.h", ROOT / "docs/limits.md"
NUMBER = re.compile(r"^#define (HF_\w+) ([\d.]+)$", re.M)
TESTS = ("study_limits", "report_real", "report_demo", "study_promise", "compare", "docs_commands")
EQUIVALENT = {("HF_WEAK_KIND_CHANCE", "0.046"): "no test can: 0.85¹⁸ = 0.0536 and 0.85¹⁹ = 0.0456, and no number of parts lies between",
              **{("HF_SOME_PARTS", other): "no test can: it only saves time, the answer is the same" for other in ("7", "9")}}
HEAD = """# The numbers that decide

Every number at which the study decides otherwise stands in `src/study/limits.h`, with its source beside it. Each was made larger and smaller, the
program built with it and the tests run: the table says which test noticed. Made by the target `mutate_limits`.

| number | value | changed to | noticed by |
| --- | --- | --- | --- |
"""


def changed(text):
    """A number beside it: the next whole one, or a twentieth away."""
    value = float(text)
    if "." not in text and value < 1000:
        return [f"{value - 1:g}", f"{value + 1:g}"]
    return [f"{value * 0.92:.6g}", f"{value * 1.08:.6g}"] if "." in text else [f"{value * 0.9:g}", f"{value * 1.1:g}"]


def run(*words):
    return subprocess.run([*map(str, words)], capture_output=True, text=True)


def noticed(build):
    """Name of the first test that fails; None when all pass."""
    made = run("cmake", "--build", build)
    if made.returncode:
        return "the build"
    for test in TESTS:
        if run("ctest", "--test-dir", build, "-R", f"^{test}$", "--no-tests=error").returncode:
            return f"`{test}`"
    return None


def mutate(build, header, name, text, other):
    HEADER.write_text(re.sub(rf"^(#define {name} ).*$", rf"\g<1>{other}", header, flags=re.M), encoding="utf-8")
    by = noticed(build)
    reason = EQUIVALENT.get((name, other))
    print(f"{name} {text} → {other}: {by or reason or 'NOBODY'}", flush=True)
    return by or reason


def main():
    if len(sys.argv) < 2 or "--help" in sys.argv:
        print(__doc__)
        return 2
    build, header, rows, findings = pathlib.Path(sys.argv[1]), HEADER.read_text(encoding="utf-8"), [], 0
    if noticed(build):
        print("the tests fail with the numbers as they are")
        return 1
    try:
        for name, text in NUMBER.findall(header):
            for other in changed(text):
                by = mutate(build, header, name, text, other)
                findings += by is None
                rows.append(f"| `{name}` | {text} | {other} | {by or '**nobody**'} |\n")
    finally:
        HEADER.write_text(header, encoding="utf-8")
        run("cmake", "--build", build)
    page = HEAD + "".join(rows)
    if "--update" in sys.argv:
        PAGE.write_text(page, encoding="utf-8")
    elif PAGE.read_text(encoding="utf-8") != page:
        print(f"{PAGE} says otherwise; --update writes it")
        findings += 1
    print(f"mutate_limits: {len(rows)} changes, {findings} findings")
    return 1 if findings else 0


if __name__ == "__main__":
    sys.exit(main())
