"""Takes pictures of the report pages of the demonstration, of the open data and of the hard campaigns, for people to look at:
three widths in light, one in dark, and on paper. With poppler's pdftoppm at hand the paper becomes pictures too.

usage: look.py PROGRAM FOLDER [NAME …]     NAME: only these campaigns
"""
import pathlib
import shutil
import subprocess
import sys

import hard_campaigns
import open_data
from browser import Browser

DEMO = open_data.DATASETS / "shade-sail.json"
VIEWS = {"360": (360, False), "768": (768, False), "1600": (1600, False), "360-dark": (360, True), "768-dark": (768, True), "1600-dark": (1600, True)}


def shoot(browser, page):
    browser.visit(page)
    for view, (width, dark) in VIEWS.items():
        browser.view(width, dark=dark)
        page.with_suffix(f".{view}.png").write_bytes(browser.picture())
    browser.view(1600)
    paper = page.with_suffix(".pdf")
    paper.write_bytes(browser.pdf())
    if shutil.which("pdftoppm"):
        subprocess.run(["pdftoppm", "-r", "60", "-png", paper, paper.with_suffix("")], check=True)


def main():
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    program, folder, names = sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3:]
    folder.mkdir(parents=True, exist_ok=True)
    paths = {"demo": DEMO, **open_data.write(folder), **hard_campaigns.write(folder)}
    with Browser() as browser:
        for name, path in paths.items():
            if names and name not in names:
                continue
            page = folder / f"{name}.html"
            done = subprocess.run([program, "report", path, "-o", page], capture_output=True, text=True, check=False)
            if page.exists():
                shoot(browser, page)
            print(f"{name}: exit {done.returncode}{'' if page.exists() else ' ' + done.stderr[-200:]}")


if __name__ == "__main__":
    main()
