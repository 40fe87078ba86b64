"""Checks the pages that the program makes from its command records.

usage: pages.py PROGRAM help|man|markdown|bash|examples
"""
import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
PROGRAM = os.path.abspath(sys.argv[1])


def run(*words, **more):
    """Output of the program, which must end with 0 and say nothing on standard error."""
    result = subprocess.run([PROGRAM, *words], text=True, encoding="utf-8", capture_output=True, timeout=60, **more)
    assert result.returncode == 0, f"{words}: exit {result.returncode}: {result.stderr}"
    assert result.stderr == "", f"{words}: {result.stderr}"
    return result.stdout


def commands():
    names = re.findall(r"^## (.+)$", run("help", "--markdown"), re.MULTILINE)
    names = names[:names.index("Exit codes")]
    assert {"new", "check", "record", "assess", "factor", "help", "version"} <= set(names), names
    return names


def check_help():
    variables = {**os.environ, "COLUMNS": "80"}
    pages = {name: run(*name.split(), "--help", env=variables) for name in commands()}
    pages["overview"] = run("help", env=variables)
    for name, page in pages.items():
        for line in page.splitlines():
            assert len(line) <= 80, f"{name}: wider than 80 columns: {line!r}"
            assert line == line.rstrip(), f"{name}: blank at the end: {line!r}"
        if name != "overview":
            assert "\nExamples:\n  holdfast " + name in page, f"{name}: no examples"
            assert "\nExit code:\n  0  done\n" in page, f"{name}: no exit codes"
            assert page == run("help", *name.split(), env=variables), f"{name}: help and --help differ"
    narrow = run("assess", "--help", env={**os.environ, "COLUMNS": "60"})
    assert max(map(len, narrow.splitlines())) <= 60, "COLUMNS=60 is not kept"


def check_man():
    page = run("help", "--man")
    found = re.findall(r"^\.SH (.+)$", page, re.MULTILINE)
    expected = ["NAME", "SYNOPSIS", "DESCRIPTION", "COMMANDS", "OPTIONS", "EXIT STATUS", "ENVIRONMENT", "FILES",
                "EXAMPLES", "NOTES"]
    assert found == expected, found
    page.encode("ascii")
    result = subprocess.run(["groff", "-man", "-Tutf8", "-ww", "-rLL=78n"], input=page, text=True, encoding="utf-8",
                            capture_output=True, timeout=60)
    assert result.returncode == 0 and result.stderr == "", result.stderr
    shown = re.sub(r"\x1b\[[0-9;]*m|.\x08", "", result.stdout)
    for name in commands():
        assert f"holdfast {name}" in shown, f"{name} is not in the manual page"
    assert "--confidence C" in shown and "EXIT STATUS" in shown


def check_markdown():
    with open(os.path.join(ROOT, "docs", "commands.md"), encoding="utf-8") as file:
        written = file.read()
    made = run("help", "--markdown")
    assert written == made, "docs/commands.md is old; write it anew with: holdfast help --markdown -o docs/commands.md"


def complete(script, *words):
    lines = f"""source {shlex.quote(script)}
COMP_WORDS=({' '.join(shlex.quote(word) for word in words)})
COMP_CWORD={len(words) - 1}
_holdfast
printf '%s\\n' "${{COMPREPLY[@]}}"
"""
    result = subprocess.run(["bash", "-c", lines], text=True, capture_output=True, timeout=60)
    assert result.returncode == 0 and result.stderr == "", result.stderr
    return result.stdout.split()


def check_bash():
    with tempfile.TemporaryDirectory() as scratch:
        script = os.path.join(scratch, "holdfast.bash")
        run("help", "--completion", "bash", "-o", script)
        result = subprocess.run(["bash", "-n", script], text=True, capture_output=True, timeout=60)
        assert result.returncode == 0 and result.stderr == "", result.stderr
        assert complete(script, "holdfast", "as") == ["assess"]
        assert complete(script, "holdfast", "help", "rec") == ["record"]
        assert complete(script, "holdfast", "assess", "--con") == ["--content", "--confidence"]
        assert complete(script, "holdfast", "assess", "x.json", "--basis", "") == ["A", "B"]
        assert complete(script, "holdfast", "assess", "--color", "=", "al") == ["always"]
        assert complete(script, "holdfast", "assess", "-o", "x") == []
        assert "--man" not in complete(script, "holdfast", "help", "--")


def check_examples():
    lines = re.findall(r"^Example: .*\n\n    (.+)$", run("help", "--markdown"), re.MULTILINE)
    assert len(lines) >= 10, lines
    for line in lines:
        words = shlex.split(line)
        with tempfile.TemporaryDirectory() as scratch:
            sail = os.path.join(scratch, "sail.json")
            shutil.copy(os.path.join(HERE, "cases", "sail.json"), sail)
            with open(sail, encoding="utf-8") as file:
                given = file.read()
            if words[1] in ("compare", "chart"):
                shutil.copy(os.path.join(ROOT, "datasets", "shade-sail.json"), sail)
            if words[1] == "new":
                os.remove(sail)
            if "--write" in words:  # a plan whose parts do not exist yet
                given = given.replace('"ring-0', '"first-0')
                with open(sail, "w", encoding="utf-8") as file:
                    file.write(given)
            if words[1] == "undo":
                run("record", sail, "ring-01", "--held", "760", "--failed", "800")
            if words[1] == "import":
                given = "812 790 845\n"
                with open(os.path.join(scratch, "pulls.csv"), "w", encoding="utf-8") as file:
                    file.write("held [kg],failed [kg],mode\n76,80,stitch\n")
            result = subprocess.run([PROGRAM, *words[1:]], cwd=scratch, input=given, text=True, encoding="utf-8",
                                    capture_output=True, timeout=60)
            assert result.returncode in (0, 1), f"{line}: exit {result.returncode}: {result.stderr}"


CHECKS = {"help": check_help, "man": check_man, "markdown": check_markdown, "bash": check_bash,
          "examples": check_examples}

if __name__ == "__main__":
    CHECKS[sys.argv[2]]()
