"""Opens what Holdfast makes of hard campaigns in headless Chromium and measures what a reader gets.

Every report page in three widths, dark, and on paper; every worksheet; every kind of chart by itself. Asked of each: no console line
and no request beyond its own file; nothing that runs, loads or leads outside, whatever the names in the file are; no page wider than
the window; headings in order; a name for every chart; texts of a chart that keep clear of each other and inside; contrast of text and
lines; light on paper; what scrolls can be reached by keyboard. page.js says how each is measured. bad.html proves that each can fail.

usage: check_pages.py PROGRAM [NAME …]     NAME: only these campaigns
"""
import concurrent.futures
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

import hard_campaigns
from browser import Browser

HERE = pathlib.Path(__file__).resolve().parent
DEMO = HERE.parents[1] / "datasets/shade-sail.json"
WIDTHS = (360, 768, 1600)
# Charts that cost seconds, because they plan or compare much, are drawn for the hardest campaigns only; the others for all.
SOME = {"bound": ("demo", "tiny", "huge", "capitals", "far-east"), "ladder": ("demo", "tiny", "huge", "capitals", "right-to-left"),
        "step": ("demo", "huge"), "modes": ("demo", "tangled", "hostile", "capitals", "right-to-left", "far-east", "long", "many"),
        "ratios": ("demo", "twelve", "tangled", "hostile", "capitals", "right-to-left", "far-east", "long"),
        "league": ("demo", "twelve", "tangled", "hostile", "capitals", "right-to-left", "far-east", "long", "wide")}
SHEETS = ("capitals", "far-east", "right-to-left", "huge", "hostile")


class Findings:
    """What is wrong, by file and words, with the views in which it was seen."""

    def __init__(self):
        self.views, self.pages, self.audits = {}, 0, 0

    def expect(self, condition, where, words):
        if not condition:
            self.views.setdefault((where, words), []).append("")

    def add(self, where, view, lines):
        self.audits += 1
        for line in dict.fromkeys(lines):
            self.views.setdefault((where, line), []).append(view)

    def print(self):
        shown = {}
        for (where, words), views in self.views.items():
            kind = (where, words.split(":")[0])
            shown[kind] = shown.get(kind, 0) + 1
            if shown[kind] <= 4:
                print(f"{where}: {words[:300]}" + (f" ({', '.join(views)})" if views[0] else ""))
        for (where, kind), count in shown.items():
            if count > 4:
                print(f"{where}: {kind}: {count - 4} more")


# ---- what is looked at

def run(program, *words):
    command = [program, *map(str, words)]
    try:
        return subprocess.run(command, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=120, check=False)
    except subprocess.TimeoutExpired:
        return subprocess.CompletedProcess(command, -1, "", "not done after 120 s")


def kinds_of(program):
    """The chart kinds, as the program's own help lists them."""
    row = re.search(r"\n  KIND +(.*?)\n  FILE", run(program, "chart", "--help").stdout, re.S)
    return [word for word in re.findall(r"[a-z]+", row[1]) if word not in ("one", "of", "or")]


def plan(program, source, target):
    """The campaign of `source` with its pulls taken out and a plan written into it."""
    content = json.loads(source.read_text(encoding="utf-8"))
    for design in content["designs"]:
        design["specimens"] = []
    content["rig"].update(records="added", tare=0, rating=4 * content["designs"][0]["guess"]["mean"])
    content["weights"] = [{"load": content["designs"][0]["guess"]["mean"] / 20, "count": 40}]
    target.write_text(json.dumps(content, ensure_ascii=False), encoding="utf-8")
    return run(program, "plan", target, "--write")


def jobs_of(program, paths, folder, kinds):
    """(name, command words) of everything to make."""
    for name, path in paths.items():
        yield f"{name} report.html", ("report", path, "-o", folder / f"{name} report.html")
        for kind in kinds:
            if name in SOME.get(kind, paths):
                yield f"{name} {kind}.svg", ("chart", kind, path, "-o", folder / f"{name} {kind}.svg")
    for name in (name for name in SHEETS if name in paths):
        planned = folder / f"{name}-planned.json"
        done = plan(program, paths[name], planned)
        if done.returncode:
            raise RuntimeError(f"{name}: plan --write: {done.stderr[-300:]}")
        yield f"{name} sheet.html", ("sheet", planned, "-o", folder / f"{name} sheet.html")


def make(program, paths, folder, kinds, findings):
    """Makes all; gives the files there are. Exit 4 is an answer too: nothing to draw in that campaign, or a page that says why no bound."""
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        jobs = [(name, pool.submit(run, program, *words)) for name, words in jobs_of(program, paths, folder, kinds)]
    made = {}
    for name, job in jobs:
        done = job.result()
        drawn = (folder / name).exists()
        findings.expect(done.returncode in (0, 1, 4) and (drawn or name.endswith(".svg")), name, f"exit {done.returncode}: {done.stderr[-200:]}")
        if drawn:
            made[name] = folder / name
    return made


# ---- how it is looked at

def look(browser, name, path, findings):
    asked, said = browser.visit(path)
    findings.pages += 1
    findings.expect(not asked, name, f"asks for {asked[:3]}")
    findings.expect(not said, name, f"console: {said[:3]}")
    if path.suffix == ".svg":
        look_at_chart(browser, name, findings)
    else:
        look_at_page(browser, name, findings)
    images = browser.images()
    charts = browser.driver.execute_script("return Array.from(document.querySelectorAll('svg:not([aria-hidden])')).filter(svg => svg.getBoundingClientRect().width).length")
    findings.expect(len(images) == charts and all(image[1] for image in images), name, f"{charts} charts, pictures with a name: {images}")
    return charts


def look_at_chart(browser, name, findings):
    browser.view(1600)
    findings.add(name, "light", browser.audit("safety", "overlaps", "contrast", "ground"))
    browser.view(1600, dark=True)
    findings.add(name, "dark", browser.audit("contrast", "ground"))
    browser.view(700, dark=True, printed=True)
    findings.add(name, "printed", browser.audit("contrast", "ground"))


OPEN = "document.querySelectorAll('details').forEach(details => { details.open = arguments[0]; })"
# What stands folded on the screen stands open on paper.
UNFOLDED = """return Array.from(document.querySelectorAll("details")).filter(details => {
  const last = details.lastElementChild; return last.localName !== "summary" && !last.getBoundingClientRect().height; }).length"""


def look_at_page(browser, name, findings):
    browser.driver.execute_script(OPEN, True)
    for width in WIDTHS:
        browser.view(width)
        findings.add(name, f"{width} px", browser.audit() if width == WIDTHS[0] else browser.audit("headings", "overflow", "regions", "overlaps", "legible", "tables"))
    check_pulls(browser, name, findings)
    browser.view(WIDTHS[1], dark=True)
    findings.add(name, "dark", browser.audit("contrast", "ground"))
    browser.driver.execute_script(OPEN, False)
    for paper in ("A4", "Letter"):
        browser.view(browser.paper_width(paper == "Letter"), dark=True, printed=True)
        folded = browser.driver.execute_script(UNFOLDED)
        findings.expect(not folded, name, f"paper: {folded} chapters stay folded on {paper}")
        findings.add(name, paper, browser.audit("overflow", "regions", "overlaps", "tables", "legible", *(["contrast", "ground"] if paper == "A4" else [])))


SCROLLS = "(e => e && /auto|scroll/.test(getComputedStyle(e).overflowX) && e.scrollWidth > e.clientWidth + 1)"
MOVED = "const done = arguments[0]; setTimeout(() => done(document.activeElement.scrollLeft > 0), 60)"
# What Tab must reach, in this order: links, and what scrolls sideways.
STOPS = f"return Array.from(document.querySelectorAll('body *')).filter(e => !e.closest('details:not([open]) > :not(summary)') && (e.localName === 'a' || e.tabIndex === 0 || {SCROLLS}(e))).map(e => e.id || e.textContent)"
HERE_NOW = """const e = document.activeElement, r = e.getBoundingClientRect(), style = getComputedStyle(e);
return [e.id || e.textContent, style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2, r.left >= 0 && r.bottom > 0 && r.top < innerHeight]"""


def check_keyboard(browser, name, path, width, findings):
    """Tab goes through the page in its order, each stop is seen and marked; an arrow key moves what scrolls (tried on the first three)."""
    browser.visit(path)
    browser.view(width)
    do = browser.driver.execute_script
    wanted, reached, scrolled, moved = do(STOPS), [], 0, 0
    for _ in wanted:
        browser.press("Tab", 9)
        stop, marked, seen = do(HERE_NOW)
        reached.append(stop)
        findings.expect(marked and seen, name, f"keyboard: {stop[:40]!r} {'has no mark' if seen else 'is not seen'} at {width} px when Tab reaches it")
        if scrolled < 3 and do(f"return {SCROLLS}(document.activeElement)"):
            scrolled += 1
            browser.press("ArrowRight", 39)
            moved += browser.driver.execute_async_script(MOVED)
    findings.expect(len(wanted) > 5 and reached == wanted, name, f"keyboard: Tab reaches {len(reached)} of {len(wanted)} at {width} px, first otherwise: "
                    f"{next(((a[:40], b[:40]) for a, b in zip(wanted, reached) if a != b), '')}")
    findings.expect(moved == scrolled, name, f"keyboard: an arrow key moves {moved} of {scrolled} at {width} px")


def check_voice(browser, name, path, findings):
    """Laid out as blocks a table is still a table for who listens: as many tables, rows, heads and cells as in the wide page."""
    browser.visit(path)
    counts = []
    for width in WIDTHS:
        browser.view(width)
        nodes = browser.driver.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
        roles = [node["role"]["value"] for node in nodes if not node["ignored"]]
        counts.append({role: roles.count(role) for role in ("table", "row", "columnheader", "rowheader", "cell")})
    # An empty cell and one that holds a dash only are left out of a block.
    for role in ("table", "row", "columnheader", "rowheader"):
        findings.expect(len({count[role] for count in counts}) == 1 and counts[0][role], name, f"voice: {role}s at {WIDTHS}: {[count[role] for count in counts]}")
    findings.expect(counts[0]["cell"] > 0.7 * counts[2]["cell"], name, f"voice: cells {counts}")


# Of every table of pulls: its caption, heads and columns.
PULLS = """return Array.from(document.querySelectorAll("table")).filter(t => t.caption && t.caption.textContent.startsWith("Every pull of ") && t.tBodies[0].rows.length > 1)
  .map(t => [t.caption.textContent, Array.from(t.tHead.rows[0].cells, (head, n) => [head.textContent, Array.from(t.tBodies[0].rows, row => row.cells[n].textContent)])])"""


def check_pulls(browser, name, findings):
    """Every pull stands there once; a column that says the same of all pulls is told in a sentence, and a dash is explained once."""
    tables = browser.driver.execute_script(PULLS)
    text = browser.driver.execute_script("return document.body.textContent")
    for caption, columns in tables:
        for head, cells in columns:
            findings.expect("not stated" not in cells, name, f"pulls: {caption[:60]}: not stated under {head}")
            if "one design against another" not in caption and head != "part" and not head.startswith("force on part"):
                # Texts that are cut may differ further on.
                findings.expect(len(set(cells)) > 1 or cells[0].endswith("…"), name, f"pulls: {caption[:60]}: nothing but {cells[0][:30]!r} under {head}")
    dashes = any("–" in cells for _, columns in tables for _, cells in columns)
    findings.expect(text.count("is left out or marked –") == dashes, name, f"pulls: dashes are{'' if dashes else ' not'} there, the note is said {text.count('is left out or marked –')} times")


FIRST = """const bottom = e => e.getBoundingClientRect().bottom, size = e => parseFloat(getComputedStyle(e).fontSize);
const all = Array.from(document.querySelectorAll(".glances li")), figures = all.map(li => li.querySelector("strong")), texts = Array.from(document.querySelectorAll(".glances p"));
return [Math.max(bottom(document.querySelector(".first .finding")), ...all.map(bottom)), Math.min(...figures.map(size)), Math.max(...texts.map(size)),
        all.map(li => li.textContent), document.querySelector(".first .finding").textContent]"""
PHONE_HEIGHT = 740
SCREENS_MOST = 15  # of a phone, of the whole page of the demo


def check_first_screen(browser, name, path, findings):
    """The verdict and all designs of the demo stand on the first screen of a phone, their loads larger than all beside them; the whole page is short."""
    browser.visit(path)
    for width in WIDTHS:
        browser.view(width)
        end, figure, largest, designs, verdict = browser.driver.execute_script(FIRST)
        findings.expect(end <= PHONE_HEIGHT, name, f"first screen: the designs end at {end} px of {PHONE_HEIGHT} at {width} px")
        findings.expect(figure >= 1.5 * largest, name, f"first screen: the loads are {figure} px, the words {largest} px at {width} px")
        findings.expect(len(designs) == 3 and "work with at most 240" in verdict and "1 on a condition" in verdict, name, f"first screen: {verdict!r}, {designs}")
        findings.expect(any("only 81.0" in words for words in designs), name, "first screen: it does not say on what the plate hangs")
    browser.view(WIDTHS[0])
    height = browser.driver.execute_script("return document.documentElement.scrollHeight")
    findings.expect(height <= SCREENS_MOST * PHONE_HEIGHT, name, f"length: {height / PHONE_HEIGHT:.1f} screens of a phone, at most {SCREENS_MOST}")


def printed(pdf):
    """The text of every page, as poppler reads it; None: there is no poppler here."""
    if not shutil.which("pdftotext"):
        return None
    done = subprocess.run(["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, timeout=60, check=True)
    return done.stdout.decode("utf-8").split("\f")[:-1]


def check_paper(browser, name, path, findings):
    """A handful of sheets; of a report each has its number, each but the first the title of the page at its foot."""
    browser.visit(path)
    title = browser.driver.title
    report = name.endswith("report.html")
    for letter in (False, True):
        paper, pdf = "Letter" if letter else "A4", browser.pdf(letter)
        pages = len(re.findall(rb"/Type\s*/Page\b", pdf))
        findings.expect(1 <= pages <= 60, name, f"{pages} pages on {paper}")
        sheets = printed(pdf) if report else None
        for n, sheet in enumerate(sheets or [], 1):
            foot = re.sub(r"\s+", " ", sheet.rstrip().rsplit("\n", 1)[-1]).strip()
            expected = f"{n} of {pages}" if n == 1 else f"{title} {n} of {pages}"
            findings.expect(foot == expected, name, f"paper: the foot of sheet {n} on {paper} reads {foot!r}, not {expected!r}")
    return not report or sheets is not None


def check_bad(browser, findings):
    """Every check finds its own mistake in the bad page; otherwise the checks have gone blind."""
    asked, said = browser.visit(HERE / "bad.html")
    browser.view(WIDTHS[0])
    found = {line.split(":")[0] for line in browser.audit()}
    for check in ("structure", "headings", "safety", "overflow", "regions", "tables", "overlaps", "legible", "contrast", "ground"):
        findings.expect(check in found, "bad.html", f"the check {check} finds nothing")
    tables = browser.audit("tables")
    for words in ("in a place of", "a broken number", "in a column of", "a cell leaves its column", "not beside each other", "without a line", "a caption within a column"):
        findings.expect(any(words in line for line in tables), "bad.html", f"the check tables does not say {words!r}")
    findings.expect(any("example.invalid" in address for address in asked), "bad.html", "the request was not seen")
    findings.expect(any("bad" in line for line in said), "bad.html", "the console line was not seen")
    findings.expect(not all(image[1] for image in browser.images()), "bad.html", "the picture without a name was not seen")


KEPT = """const shown = e => getComputedStyle(e).display !== "none", more = Array.from(document.querySelectorAll("[data-more]"));
return [more.length, more.filter(e => getComputedStyle(e, "::after").content.includes(e.dataset.more)).length, Array.from(document.querySelectorAll("[data-error]")).filter(shown).length,
  Array.from(document.querySelectorAll(".w")).filter(e => e.textContent.length === 32).map(e => Math.round(e.getBoundingClientRect().height))]"""


def check_kept(browser, name, path, findings):
    """A number and its error stand together, in a block as in a table; the check sum of the file is broken in its middle only."""
    browser.visit(path)
    for width in WIDTHS:
        browser.view(width)
        numbers, joined, apart, halves = browser.driver.execute_script(KEPT)
        blocks = width == WIDTHS[0]
        findings.expect(numbers and (joined, apart) == ((numbers, 0) if blocks else (0, apart)) and apart >= (0 if blocks else numbers), name,
                        f"kept: of {numbers} numbers with an error {joined} have it beside them, {apart} in a column of its own at {width} px")
        findings.expect(len(halves) == 2 and (blocks or max(halves) < 30), name, f"kept: halves of the check sum are {halves} px high at {width} px")


def check_demo(browser, name, path, findings):
    for width in WIDTHS:
        check_keyboard(browser, name, path, width, findings)
    check_voice(browser, name, path, findings)
    check_first_screen(browser, name, path, findings)
    check_kept(browser, name, path, findings)


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    program, names, findings = sys.argv[1], sys.argv[2:], Findings()
    with tempfile.TemporaryDirectory() as scratch, Browser() as browser:
        folder = pathlib.Path(scratch)
        paths = hard_campaigns.write(folder)
        paths["demo"] = DEMO
        paths = {name: path for name, path in paths.items() if name in names or not names}
        kinds = kinds_of(program)
        made = make(program, paths, folder, kinds, findings)
        check_bad(browser, findings)
        charts = {name: look(browser, name, path, findings) for name, path in made.items()}
        if "demo report.html" in charts:
            check_demo(browser, "demo report.html", made["demo report.html"], findings)
        for name in charts.keys() & {"demo report.html", "hostile report.html", "capitals sheet.html"}:
            if not check_paper(browser, name, made[name], findings):
                print(f"{name}: feet of the sheets not read: no pdftotext here")
    for kind in kinds:
        findings.expect(names or f"demo {kind}.svg" in made, kind, "not drawn for the demo")
    findings.print()
    print(f"{findings.pages} pages, {sum(charts.values())} charts, {findings.audits} views, {len(findings.views)} findings")
    return 1 if findings.views or not findings.pages else 0


if __name__ == "__main__":
    sys.exit(main())
