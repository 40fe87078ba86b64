"""Types every command line that the pages show and compares what comes out with what they show.

usage: run_docs.py PROGRAM [--update] [PAGE ...]

Read are README.md and docs/*.md. A block fenced as ```console holds prompts "$ " with the output below each. A command ending in
a backslash goes on in the next line, which begins with "> ". Each page runs in a scratch folder of its own, block after block in
one go: docs/tutorial.md begins in an empty folder, every other page in a copy of datasets/.
A block fenced as ```json replace FILE LINE is what the page tells the reader to write into a file with an editor: it takes the place of
that line.
In shown output a line of … alone stands for any number of lines.
A command whose exit code is not 0 must be followed by "$ echo $?", so that the page says so.
Command lines that need the network or root, or build the program itself, stand in NOT_RUN, by exact text.
--update writes what the program says now into the pages; where … lines stand, as many lines at head and tail as there were.
"""
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
NOT_RUN = {
    "sh .ci/setup && cmake --workflow --preset demo",
    "sh .ci/setup check && cmake --workflow --preset check",
    "sh .ci/setup check && cmake --workflow --preset check && cmake --workflow --preset page",
    "sudo cmake --install .build/release",
}
EMPTY_START = {"docs/tutorial.md"}
FENCE = re.compile(r"^```(.*?)\s*$")
REPLACE = re.compile(r"json replace (\S+) (\d+)")


class Step:
    """One prompt of a page: the command as typed, where its output stands, and that output. Or lines to write into a file."""

    def __init__(self, command, first, shown):
        self.command, self.first, self.shown = command, first, shown


def blocks_of(lines):
    """(language, first line, end line) of every fenced block; line numbers count from 0, fences left out."""
    start = language = None
    for number, line in enumerate(lines):
        match = FENCE.match(line)
        if not match:
            continue
        if start is None:
            start, language = number + 1, match[1]
        else:
            yield language, start, number
            start = None
    if start is not None:
        sys.exit(f"line {start}: block is never closed")


def steps_of(lines, page):
    steps = []
    for language, start, end in blocks_of(lines):
        if REPLACE.fullmatch(language):
            steps.append(Step(None, start, (REPLACE.fullmatch(language), lines[start:end])))
            continue
        prompts = [n for n in range(start, end) if lines[n].startswith("$ ")]
        if language != "console":
            if prompts:
                sys.exit(f"{page}:{prompts[0] + 1}: a prompt in a block that is not marked console is never run")
            continue
        if not prompts or prompts[0] != start:
            sys.exit(f"{page}:{start + 1}: a console block begins with a prompt")
        for prompt, following in zip(prompts, prompts[1:] + [end]):
            command, first = lines[prompt][2:], prompt + 1
            while command.endswith("\\"):
                command += "\n" + lines[first].removeprefix("> ")
                first += 1
            steps.append(Step(command, first, lines[first:following]))
    return steps


def matches(shown, found):
    pattern = "".join(r"(?:[^\n]*\n)*" if line == "…" else re.escape(line) + "\n" for line in shown)
    return re.fullmatch(pattern, "".join(line + "\n" for line in found)) is not None


def renewed(shown, found, where):
    """The new text to show: all of it, or as much at head and tail as was shown before."""
    if "…" not in shown:
        return found
    if shown.count("…") > 1:
        sys.exit(f"{where}: more than one … in this output: change it by hand")
    head = shown.index("…")
    tail = len(shown) - head - 1
    return found[:head] + ["…"] + (found[-tail:] if tail else [])


def write(step, folder):
    match, text = step.shown
    path, at = folder / match[1], int(match[2]) - 1
    lines = path.read_text(encoding="utf-8").splitlines()
    lines[at:at + 1] = text
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def run(step, scratch, before):
    """Output lines and exit code, as a terminal would show them: both streams in one."""
    script = f"(exit {before})\n{step.command}\n"
    done = subprocess.run(["bash", "-c", script], cwd=scratch / "here", stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, text=True, timeout=120,
                          env={"PATH": f"{scratch / 'bin'}:/usr/bin:/bin", "LC_ALL": "C.UTF-8", "SOURCE_DATE_EPOCH": "1777708800", "HOME": str(scratch)})
    return [line.rstrip() for line in done.stdout.splitlines()], done.returncode


def prepare(scratch, program, page):
    (scratch / "bin").mkdir()
    (scratch / "bin" / "holdfast").symlink_to(program)
    if page in EMPTY_START:
        (scratch / "here").mkdir()
    else:
        shutil.copytree(ROOT / "datasets", scratch / "here")


def check_page(page, program, update):
    path = ROOT / page
    lines = path.read_text(encoding="utf-8").splitlines()
    steps = [s for s in steps_of(lines, page) if s.command not in NOT_RUN]
    problems, changes = [], []
    with tempfile.TemporaryDirectory() as folder:
        scratch = pathlib.Path(folder)
        prepare(scratch, program, page)
        code = 0
        for at, step in enumerate(steps):
            if step.command is None:
                write(step, scratch / "here")
                continue
            where = f"{page}:{step.first}"
            found, code = run(step, scratch, code)
            following = steps[at + 1].command if at + 1 < len(steps) else ""
            if code and following != "echo $?":
                problems.append(f"{where}: $ {step.command}\n  ends with {code}, and no \"$ echo $?\" follows\n  " + "\n  ".join(found))
            if not matches(step.shown, found):
                if update:
                    changes.append((step, renewed(step.shown, found, where)))
                else:
                    problems.append(f"{where}: $ {step.command}\n--- shown\n" + "\n".join(step.shown) + "\n--- found\n" + "\n".join(found))
    for step, text in reversed(changes):
        lines[step.first:step.first + len(step.shown)] = text
    if changes:
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
        print(f"{page}: {len(changes)} outputs written anew")
    return len(steps), problems


def main():
    words = [w for w in sys.argv[1:] if not w.startswith("--")]
    if not words:
        sys.exit(__doc__)
    program = pathlib.Path(words[0]).resolve(strict=True)
    pages = words[1:] or ["README.md"] + sorted(str(p.relative_to(ROOT)) for p in (ROOT / "docs").glob("*.md"))
    total, problems = 0, []
    for page in pages:
        count, found = check_page(page, program, "--update" in sys.argv)
        total += count
        problems += found
    for problem in problems:
        print(problem)
    print(f"{len(pages)} pages, {total} command lines, {len(problems)} problems")
    if not words[1:] and total < 15:
        sys.exit("fewer than 15 command lines were found: the pages or this script have lost them")
    sys.exit(1 if problems else 0)


if __name__ == "__main__":
    main()
