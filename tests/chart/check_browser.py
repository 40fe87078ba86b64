"""Sets every chart of the hard campaigns and of the example in Chromium, in several fonts and on a dark screen, and measures the texts: none over another, none
outside. Paper stays white when a dark screen prints.
"""
import json
import os
import re
import subprocess
import sys
import tempfile

from hard_campaigns import ASSESSED, CASES, COMPARED, PLANNED
from overlap import browser, outside, overlaps

PROGRAM, EXAMPLE = sys.argv[1:3]
FONTS = ("sans-serif", "DejaVu Sans", "Liberation Sans")
failures = []


def draw(folder, name, path, kind):
    picture = os.path.join(folder, f"{name} {kind}.svg")
    done = subprocess.run([PROGRAM, "chart", kind, path, "-o", picture], capture_output=True, check=False)
    if done.returncode != 0:
        failures.append(f"{name} {kind}: exit {done.returncode}: {done.stderr.decode()[:200]}")
        return None
    return picture


def pictures(folder):
    for name, (content, kinds) in CASES.items():
        path = os.path.join(folder, name + ".json")
        with open(path, "w", encoding="utf-8") as file:
            json.dump(content, file, ensure_ascii=False)
        yield from (draw(folder, name, path, kind) for kind in kinds)
    yield from (draw(folder, "example", EXAMPLE, kind) for kind in ASSESSED + PLANNED + COMPARED)


NARROW = ("names", "huge", "wide", "many")  # their reports' drawings for a telephone are set too


def narrow_pictures(folder):
    """As files of their own; in the page they share its style, which a picture alone brings with it."""
    with open(draw(folder, "example", EXAMPLE, "pulls"), encoding="utf-8") as file:
        style = re.search(r"<style>.*?</style>", file.read(), re.S)[0]
    for name, path in [(name, os.path.join(folder, name + ".json")) for name in NARROW] + [("example", EXAMPLE)]:
        page = subprocess.run([PROGRAM, "report", path], capture_output=True, check=False).stdout.decode()
        drawings = re.findall(r'<svg[^>]*class="hf-chart narrow".*?</svg>', page, re.S)
        if not drawings:
            failures.append(f"{name}: no narrow drawings in the report")
            continue
        for i, drawing in enumerate(drawings):
            picture = os.path.join(folder, f"{name} narrow {i}.svg")
            with open(picture, "w", encoding="utf-8") as file:
                file.write(drawing.replace("</title>", "</title>" + style, 1))
            yield picture


def measure(driver, picture):
    where = os.path.basename(picture)
    driver.get("file://" + picture)
    for font in FONTS:
        driver.execute_script("for (const t of document.querySelectorAll('text')) t.style.fontFamily = arguments[0]", font)
        for a, b, area in overlaps(driver)[:3]:
            failures.append(f"{where} in {font}: {a[:40]!r} and {b[:40]!r} share {area:.0f} px²")
        for text in outside(driver)[:3]:
            failures.append(f"{where} in {font}: {text[:40]!r} leaves the picture")


PAPER = "return getComputedStyle(document.querySelector('.paper')).fill"


def check_modes(driver, picture):
    """Dark on a dark screen, white on paper."""
    driver.get("file://" + picture)
    seen = {}
    for media in ("screen", "print"):
        for scheme in ("light", "dark"):
            driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": media, "features": [{"name": "prefers-color-scheme", "value": scheme}]})
            seen[media, scheme] = driver.execute_script(PAPER)
    wanted = {("screen", "light"): "rgb(255, 255, 255)", ("screen", "dark"): "rgb(22, 25, 29)", ("print", "light"): "rgb(255, 255, 255)", ("print", "dark"): "rgb(255, 255, 255)"}
    if seen != wanted:
        failures.append(f"paper: {seen}")


def check_measure(driver, folder):
    """The measure itself: it must see what lies over each other and what leaves."""
    page = os.path.join(folder, "measure.svg")
    with open(page, "w", encoding="utf-8") as file:
        file.write('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100" width="200" height="100"><text x="10" y="40">one</text>'
                   '<text x="20" y="45">two</text><text x="10" y="90">three</text><text x="180" y="90">leaves</text></svg>')
    driver.get("file://" + page)
    pairs = [(a, b) for a, b, _ in overlaps(driver)]
    if pairs != [("one", "two")] or outside(driver) != ["leaves"]:
        failures.append(f"the measure sees {pairs} and {outside(driver)}")


def main():
    count = 0
    with tempfile.TemporaryDirectory() as folder, browser(folder) as driver:
        check_measure(driver, folder)
        for picture in pictures(folder):
            if picture:
                measure(driver, picture)
                count += 1
        for picture in narrow_pictures(folder):
            measure(driver, picture)
            count += 1
        check_modes(driver, os.path.join(folder, "example pulls.svg"))
    for words in failures[:40]:
        print(words)
    print(f"{count} pictures in {len(FONTS)} fonts, {len(failures)} failures")
    return 1 if failures or not count else 0


sys.exit(main())
