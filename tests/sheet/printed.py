"""The worksheet on paper, A4 and Letter: every page carries the campaign's title, a line for the date and its number; the cautions and what the words mean stand on the
first page; a part is not torn apart unless its ladder is longer than a page, and then every page says whose rungs these are; rows and boxes are
large enough to be filled with gloves on. At 360 px nothing is wider than the screen.

usage: printed.py PROGRAM     exit 77 without pdftotext (poppler-utils)"""
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

TESTS = pathlib.Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TESTS / "browser"))

import browser  # noqa: E402, after the path

STEP = 9.80665 * 2  # newtons of one weight below
STRANGE = 'A "quoted" <b>title</b> url(http://x) \\ } */ <script>, with so very many words in it that the top of a page has to cut it somewhere'
# name → (title, rungs, parts)
CASES = {"one part": ("One part (invented)", 10, 1), "short ladders": ("Short ladders (invented)", 4, 7), "full": ("A full page (invented)", 20, 3),
         "long ladders": ("Long ladders (invented)", 49, 3), "rungs that fill a page": ("A page of rungs (invented)", 35, 1),
         "many parts": ("Many parts (invented)", 10, 60), "strange": (STRANGE, 10, 3), "untitled": ("", 10, 2)}
MM = 96 / 25.4


def campaign(title, rungs, parts):
    ladder = [{"load": STEP * i, "weights": f"{i}x2kg"} for i in range(1, rungs + 1)]
    return {"format": "holdfast-campaign/1", "title": title, "unit": "N", "rig": {"tare": "2.6 kg", "records": "added", "rating": "2.5 kN", "dwell_s": 30},
            "weights": [{"load": "2 kg", "count": 60}], "plan": {"seed": 1, "made": "2026-05-01", "ladders": {"ring": ladder}},
            "designs": [{"id": "ring", "guess": {"mean": 500, "cv": 0.1},
                         "specimens": [{"id": f"ring-{i:02}", "order": i, "outcome": "planned"} for i in range(1, parts + 1)]}]}


def pages_of(pdf, folder):
    """The text of each page, blanks made one."""
    path = folder / "sheet.pdf"
    path.write_bytes(pdf)
    text = subprocess.run(["pdftotext", "-layout", path, "-"], check=True, capture_output=True, text=True).stdout
    return [re.sub(r"\s+", " ", page) for page in text.split("\f")[:-1]]


def check_pages(name, pages, title, rungs, parts):
    count, head = len(pages), (title or "Worksheet")[:40]
    for number, page in enumerate(pages, 1):
        where = f"{name}, page {number} of {count}"
        assert head in page[:80], f"{where}: no title: {page[:120]}"
        assert re.search(r"Date: _{10,}", page), f"{where}: no line for the date"
        assert f"page {number} of {count}" in page[-40:], f"{where}: no number: {page[-60:]}"
    for words in ("Before each pull", "Nobody under", "How to fill it in", "Do not go beyond the ladder"):
        there = [number for number, page in enumerate(pages, 1) if words in page]
        assert there == [1], f"{name}: {words} on pages {there}"
    check_parts(name, pages, rungs, parts)


def check_parts(name, pages, rungs, parts):
    named = [(number, int(part)) for number, page in enumerate(pages, 1) for part in re.findall(rf"(\d+) of {parts}: ring-\d+", page)]
    found = [pair for pair, before in zip(named, [(0, 0)] + named) if pair[1] != before[1]]  # where each begins
    assert [part for _, part in found] == list(range(1, parts + 1)), f"{name}: {found}"
    if rungs <= 20:  # whole: its last field stands on the page of its first
        for number, page in enumerate(pages, 1):
            begun = sum(at == number for at, _ in found)
            assert page.count("Remarks") == page.count("Failed at") == begun, f"{name}, page {number}: a part is torn apart"
        assert len({number for number, _ in found}) == (-(-parts // 2) if rungs < 6 else parts), f"{name}: parts on pages {found}"
        return
    for (number, part), (after, _) in zip(found, found[1:] + [(len(pages) + 1, 0)]):
        own = pages[number - 1:after - 1]
        assert len(own) > 1, f"{name}: part {part} on one page"
        assert all(page.count(f"ring-{part:02}") == 1 for page in own), f"{name}: a page of part {part} says not once whose it is"
        assert "Remarks" in own[-1] and all("Rung" in page for page in own), f"{name}: part {part}"


def check_sizes(name, window):
    """Millimetres on paper, and ink."""
    window.view(window.paper_width(), printed=True)
    script = "return [...document.querySelectorAll(arguments[0])].map(e => e.getBoundingClientRect()).map(r => [r.width, r.height])"
    for what, least, across in (("tbody tr", 6.5, 150), ("tbody .box", 4.5, 4.5), (".ticks .box", 5, 5), (".part .line", 13, 35)):
        sizes = window.driver.execute_script(script, what)
        assert sizes and min(h for _, h in sizes) >= least * MM and min(w for w, _ in sizes) >= across * MM, f"{name}: {what} {min(sizes)}"
    ink = window.driver.execute_script("""return [...new Set([...document.querySelectorAll("main *")].map(e => getComputedStyle(e))
      .flatMap(s => [s.color, s.borderTopColor, s.backgroundColor]))].sort()""")
    assert set(ink) <= {"rgb(0, 0, 0)", "rgba(0, 0, 0, 0)"}, f"{name}: colours {ink}"


def check_phone(name, window):
    window.view(360)
    wide, ends = window.driver.execute_script("""return [document.documentElement.scrollWidth,
      Math.max(...[...document.querySelectorAll("main *")].map(e => e.getBoundingClientRect().right))]""")
    assert wide <= 360 and ends <= 360, f"{name}: {wide}, {ends} pixels wide at 360"


def main():
    if not shutil.which("pdftotext"):
        print("pdftotext is not here")
        return 77
    program = str(pathlib.Path(sys.argv[1]).resolve())
    with tempfile.TemporaryDirectory() as scratch, browser.Browser() as window:
        folder = pathlib.Path(scratch)
        for name, (title, rungs, parts) in CASES.items():
            (folder / "case.json").write_text(json.dumps(campaign(title, rungs, parts)), encoding="utf-8")
            subprocess.run([program, "sheet", "case.json", "-o", "sheet.html"], cwd=folder, check=True)
            asked, said = window.visit(folder / "sheet.html")
            assert not asked and not said, f"{name}: {asked} {said}"
            for letter in (False, True):
                pages = pages_of(window.pdf(letter), folder)
                check_pages(name + (", Letter" if letter else ", A4"), pages, title, rungs, parts)
            check_sizes(name, window)
            check_phone(name, window)
            print(f"{name}: {len(pages)} pages")
    return 0


if __name__ == "__main__":
    sys.exit(main())
