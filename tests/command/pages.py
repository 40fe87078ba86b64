"""Checks the pages that the program makes from its command records.

usage: pages.py PROGRAM help|man|markdown|completion|examples
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


def offered(shell, script, *words):
    """What a shell that read the script offers for the last word, as it would put it on the line."""
    folder = os.path.dirname(PROGRAM)
    environment = {**os.environ, "PATH": folder + os.pathsep + os.environ["PATH"], "HOME": os.path.dirname(script)}
    if shell == "bash":
        lines = f"""source {shlex.quote(script)}
COMP_WORDS=({" ".join(shlex.quote(word) for word in words)})
COMP_CWORD={len(words) - 1}
_holdfast
printf '%s\\n' "${{COMPREPLY[@]}}"
"""
        command = ["bash", "-c", lines]
    elif shell == "zsh":  # compadd, put in the place of zsh's own, prints what it is given
        lines = f"""compdef() {{ }}; compadd() {{ print -l -- "${{found[@]}}" }}; _files() {{ print FILES }}
source {shlex.quote(script)}
words=({" ".join(shlex.quote(word) for word in words)}); CURRENT={len(words)}; _holdfast; true
"""
        command = ["zsh", "-f", "-c", lines]
    else:
        line = " ".join(shlex.quote(word) if word else "" for word in words)
        command = ["fish", "--no-config", "-c", f"source {shlex.quote(script)}; complete -C {shlex.quote(line)}"]
    result = subprocess.run(command, text=True, capture_output=True, timeout=60, env=environment)
    assert result.returncode == 0 and result.stderr == "", (shell, words, result.stderr)
    return [line.split("\t")[0] for line in result.stdout.splitlines() if line]


def check_completion():
    with tempfile.TemporaryDirectory() as scratch:
        sail = os.path.join(scratch, "sail.json")
        shutil.copy(os.path.join(ROOT, "datasets", "shade-sail.json"), sail)
        for shell in ("bash", "zsh", "fish"):
            script = os.path.join(scratch, "holdfast." + shell)
            run("help", "--completion", shell, "-o", script)
            subprocess.run([shell, "-n", script], text=True, capture_output=True, timeout=60, check=True)
            for wanted, *words in ((["assess"], "as"), (["record"], "help", "rec"), (["contrast"], "plan", "cont"),
                                   (["--content", "--confidence"], "assess", "--con"), (["A", "B"], "assess", sail, "--basis", ""),
                                   (["probability"], "chart", "prob"), (["ring"], "chart", "pulls", sail, "--design", "r"),
                                   (["plate"], "compare", sail, "ring", "pl"), (["goal.design_factor"], "set", sail, "goal.des"),
                                   (["guess.cv"], "set", sail, "--design", "ring", "guess.c"), (["ring-01"], "record", sail, "--held", "76 kg", "ring-01"),
                                   ([], "record", os.path.join(scratch, "no.json"), "r"), ([], "assess", sail, "--content", "")):
                found = offered(shell, script, "holdfast", *words)
                found = [word for word in found if word != "FILES"]
                if shell == "fish":  # it also offers names of files where nothing else is known
                    found = [word for word in found if word in wanted or not words[-1].startswith(os.sep)]
                assert sorted(found) == sorted(wanted), (shell, words, found)
            assert "--man" not in offered(shell, script, "holdfast", "help", "--")
            value = offered(shell, script, "holdfast", *(("assess", "--color", "=", "al") if shell == "bash" else ("assess", "--color=al")))
            assert value == (["always"] if shell == "bash" else ["--color=always"]), (shell, value)
        assert run("help", "--complete", "--", "assess", "") == ":file\n" and run("help", "--complete", "--", "assess", sail, "-o", "") == ":file\n"
        assert run("help", "--complete", "--", "record", sail, "plate-0").splitlines()[0] == "plate-01\tpulled"


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
            if words[1] == "scatter":
                for name, one in (("sail", "08-three-parts"), ("spring", "10-outlier"), ("autumn", "18-high-scatter")):
                    shutil.copy(os.path.join(ROOT, "tests", "realities", one + ".json"), os.path.join(scratch, name + ".json"))
                with open(os.path.join(scratch, "next.json"), "w", encoding="utf-8") as file:
                    file.write('{ "format": "holdfast-campaign/2", "designs": [ { "id": "ring" } ] }')
            if words[1] == "new":
                os.remove(sail)
            if "--write" in words:  # a plan whose parts do not exist yet
                given = given.replace('"ring-0', '"first-0')
                with open(sail, "w", encoding="utf-8") as file:
                    file.write(given)
            if words[1] == "day":
                with open(sail, "w", encoding="utf-8") as file:
                    file.write(given.replace('"ring-0', '"first-0').replace('"planned"', '"void", "note": "lost"'))
                subprocess.run([PROGRAM, "plan", sail, "--write"], capture_output=True, check=True)
                given = "q\n"
            if words[1] == "undo":
                run("record", sail, "ring-01", "--held", "760", "--failed", "800")
            if words[1] == "page":  # the program of a build has no page beside it
                os.mkdir(os.path.join(scratch, "public"))
                with open(os.path.join(scratch, "built.html"), "w", encoding="utf-8") as file:
                    file.write('<meta name="holdfast-site" content="no"><script type="application/json" id="campaign">null</script>')
                words += ["--page", "built.html"]
            if words[1] == "import":
                given = "812 790 845\n"
                for name, text in (("pulls.csv", "held [kg],failed [kg],mode\n76,80,stitch\n"), ("lab.csv", "Part,Kind,Load (N)\n7,bolt,812\n")):
                    with open(os.path.join(scratch, name), "w", encoding="utf-8") as file:
                        file.write(text)
                shutil.copy(sail, os.path.join(scratch, "second-phone.json"))
            result = subprocess.run([PROGRAM, *words[1:]], cwd=scratch, input=given, text=True, encoding="utf-8",
                                    capture_output=True, timeout=60)
            assert result.returncode in (0, 1), f"{line}: exit {result.returncode}: {result.stderr}"


CHECKS = {"help": check_help, "man": check_man, "markdown": check_markdown, "completion": check_completion,
          "examples": check_examples}

if __name__ == "__main__":
    CHECKS[sys.argv[2]]()
