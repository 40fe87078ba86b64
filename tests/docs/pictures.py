"""The pictures in the pages are what the program draws, by the very command that the page shows.

A page that shows pictures/NAME.svg holds a command line that writes NAME.svg. The page's command lines are run as run_docs.py runs them,
and what they wrote is compared with docs/pictures/. Every picture is shown somewhere, and each has words for those who cannot see it.

usage: pictures.py PROGRAM [--update]     --update writes docs/pictures/ anew
"""
import pathlib
import re
import sys
import tempfile

import run_docs

PICTURES = run_docs.ROOT / "docs/pictures"
SHOWN = re.compile(r"!\[([^\]]*)\]\((?:docs/)?pictures/([\w.-]+)\)")
WORDS_LEAST = 25


def drawn_by(page, program, names):
    """What the commands of the page wrote, by name."""
    lines = (run_docs.ROOT / page).read_text(encoding="utf-8").splitlines()
    with tempfile.TemporaryDirectory() as folder:
        scratch, code = pathlib.Path(folder), 0
        run_docs.prepare(scratch, program, page)
        for step in run_docs.steps_of(lines, page):
            if step.command in run_docs.NOT_RUN:
                continue
            if step.command is None:
                run_docs.write(step, scratch / "here")
            else:
                code = run_docs.run(step, scratch, code)[1]
        found = {name: scratch / "here" / name for name in names}
        return {name: path.read_bytes() for name, path in found.items() if path.exists()}


def check_page(page, program, update):
    """Names of the pictures of a page, and what is wrong with them."""
    shown = SHOWN.findall((run_docs.ROOT / page).read_text(encoding="utf-8"))
    names, problems = {name for _, name in shown}, []
    problems += [f"{page}: {name}: {words!r} does not say what it shows" for words, name in shown if len(words) < WORDS_LEAST]
    drawn = drawn_by(page, program, names) if names else {}
    for name in sorted(names):
        kept = PICTURES / name
        if name not in drawn:
            problems.append(f"{page}: no command of the page writes {name}")
        elif update:
            kept.write_bytes(drawn[name])
        elif not kept.exists() or kept.read_bytes() != drawn[name]:
            problems.append(f"{page}: {name} is not what the program draws now: build the target pictures, look at them")
    return names, problems


def main():
    words = [w for w in sys.argv[1:] if not w.startswith("--")]
    if len(words) != 1:
        sys.exit(__doc__)
    program, update = pathlib.Path(words[0]).resolve(strict=True), "--update" in sys.argv
    PICTURES.mkdir(exist_ok=True)
    names, problems = set(), []
    for page in ["README.md"] + sorted(str(p.relative_to(run_docs.ROOT)) for p in (run_docs.ROOT / "docs").glob("*.md")):
        found, wrong = check_page(page, program, update)
        names |= found
        problems += wrong
    for path in sorted(PICTURES.iterdir()):
        if path.name in names:
            continue
        if update:
            path.unlink()
        else:
            problems.append(f"docs/pictures/{path.name}: no page shows it")
    for problem in problems:
        print(problem)
    print(f"{len(names)} pictures, {len(problems)} problems")
    sys.exit(1 if problems or len(names) < 5 else 0)


main()
