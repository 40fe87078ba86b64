"""Links between the pages lead somewhere: the file is there, and the heading in it too. Every page of docs/ can be reached from
docs/index.md. Files named in DEVELOPERS.md in code letters exist. usage: links.py"""
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
NAMED = re.compile(r"`((?:src|include|tests|docs|datasets|\.ci)/[\w./*-]+\.(?:c|h|py|sh|R|cmake|md|json|txt|csv))`")


def plain(path):
    """The page without its fenced blocks."""
    return re.sub(r"(?ms)^```.*?^```", "", path.read_text(encoding="utf-8"))


def anchor(heading):
    return re.sub(r"[^\w\- ]", "", re.sub(r"`|\*", "", heading).strip().lower()).replace(" ", "-")


def anchors(path):
    return {anchor(m[1]) for m in re.finditer(r"(?m)^#+ +(.+?)\s*$", plain(path))}


def check(page):
    """(problem or None, page it leads to or None) of every link inside the project."""
    for match in LINK.finditer(plain(page)):
        target = match[1]
        if re.match(r"[a-z]+:", target):
            continue
        name, _, place = target.partition("#")
        path = (page.parent / name).resolve() if name else page
        where = f"{page.relative_to(ROOT)}: {target}"
        if not path.exists():
            yield f"{where}: no such file", None
        elif place and place not in anchors(path):
            yield f"{where}: no such heading", path
        else:
            yield None, path


def main():
    pages = [ROOT / "README.md", ROOT / "DEVELOPERS.md"] + sorted((ROOT / "docs").glob("*.md"))
    problems, count, leads = [], 0, {}
    for page in pages:
        leads[page] = set()
        for problem, path in check(page):
            count += 1
            if problem:
                problems.append(problem)
            if path:
                leads[page].add(path)
    for name in NAMED.findall(plain(ROOT / "DEVELOPERS.md")):
        count += 1
        if not list(ROOT.glob(name)):
            problems.append(f"DEVELOPERS.md: {name}: no such file")
    reached = leads.get(ROOT / "docs/index.md", set())
    problems += [f"{p.relative_to(ROOT)}: not linked from docs/index.md" for p in pages
                 if p.parent.name == "docs" and p.name != "index.md" and p not in reached]
    for problem in problems:
        print(problem)
    print(f"{len(pages)} pages, {count} links, {len(problems)} problems")
    sys.exit(1 if problems or count < 20 else 0)


main()
