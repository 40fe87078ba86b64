"""Draws every kind of chart from hard campaigns and reads the pictures back.

Each must be well-formed XML with role, title and description, refer to nothing outside, hold no script, keep its texts inside the picture
and apart from each other (widths estimated here, independently of the program), and show what the campaign says. Files are invented.
"""
import json
import os
import re
import subprocess
import sys
import tempfile
import unicodedata
import xml.etree.ElementTree as ET

PROGRAM = sys.argv[1]
SVG = "{http://www.w3.org/2000/svg}"
FONT = 14
failures = []


def expect(condition, words):
    if not condition:
        failures.append(words)


def campaign(specimens, unit="N", name="d", guess=None, goal=None, title="Invented"):
    design = {"id": "d", "name": name, "specimens": specimens}
    if guess:
        design["guess"] = guess
    return {"format": "holdfast-campaign/1", "title": title, "unit": unit, "rig": {"records": "total"}, "goal": goal or {"design_factor": 3}, "designs": [design]}


def stepped(count, first, step, width, **more):
    return [dict({"id": f"p{i:03}", "held": first + i % 25 * step, "failed": first + i % 25 * step + width}, **more) for i in range(count)]


HOSTILE = "</text><script>alert(1)</script>\"'&\u202e\u05e9\u05dc\u05d5\u05dd \u5f37\u5ea6 \U0001f600 " + "very long " * 1000
ASSESSED = ("pulls", "steps")
PLANNED = ("bound", "ladder", "step")
REASON = [{"reason": HOSTILE, "factor": 1.25}]

CASES = {
    "one": (campaign([{"id": "a", "held": 760, "failed": 800}]), ASSESSED),
    "many": (campaign([dict(s, mode=f"mode {i % 11}") for i, s in enumerate(stepped(200, 700, 20, 20))]), ASSESSED),
    "held": (campaign([{"id": f"p{i}", "held": 600 + i, "outcome": "held" if i % 3 else "rig"} for i in range(12)]), ASSESSED),
    "tiny": (campaign(stepped(6, 0.01, 0.001, 0.0005), guess={"mean": 0.012, "cv": 0.12}, goal={"design_factor": 3, "required_bound": 0.008}), ASSESSED + PLANNED),
    "huge": (campaign(stepped(6, 9.4e6, 1e5, 1e5), guess={"mean": 1e7, "cv": 0.12}, goal={"design_factor": 3, "required_bound": 8e6}), ASSESSED + PLANNED),
    "grams": (campaign(stepped(6, 9e8, 1e7, 1e7), unit="g", guess={"mean": 1e9, "cv": 0.25}, goal={"content": 0.999, "confidence": 0.99, "required_bound": 8e8}), PLANNED),
    "wide": (campaign([{"id": "a", "held": 0.01, "failed": 0.02}, {"id": "b", "failed": 0.05}, {"id": "c", "held": 9e6, "failed": 1e7}, {"id": "w", "held": 5, "outcome": "held"}]), ASSESSED),
    "hostile": (campaign([dict(s, id=s["id"] + HOSTILE, mode=f"{i % 9} {HOSTILE}") for i, s in enumerate(stepped(30, 700, 20, 20))], name=HOSTILE, title=HOSTILE,
                         goal={"design_factor": 3, "use_factors": REASON}), ASSESSED),
}
# A ladder needs a step: the rig has weights.
for plan_case in ("tiny", "huge", "grams"):
    CASES[plan_case][0]["rig"]["tare"] = 0


def width(text):
    wide = sum(2 if unicodedata.east_asian_width(c) in "WF" else 0 if unicodedata.combining(c) else 1 for c in text)
    return wide * FONT * 0.56


def boxes(root):
    for text in root.iter(SVG + "text"):
        content = "".join(text.itertext())
        x, y, w = float(text.get("x")), float(text.get("y")), width(content)
        left = {"start": x, "middle": x - w / 2, "end": x - w}[text.get("text-anchor", "start")]
        yield left, y - 10, left + w, y + 3, content


def check_texts(root, where):
    _, _, right, bottom = (float(v) for v in root.get("viewBox").split())
    found = list(boxes(root))
    expect(len(found) >= 4, f"{where}: only {len(found)} texts")
    for i, a in enumerate(found):
        expect(a[0] >= 0 and a[2] <= right and a[1] >= 0 and a[3] <= bottom, f"{where}: text {a[4]!r} leaves the picture")
        for b in found[i + 1:]:
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            expect(apart, f"{where}: texts {a[4]!r} and {b[4]!r} overlap")


def check_svg(data, where):
    expect(b"<script" not in data.lower() and b"href" not in data and b"url(" not in data, f"{where}: script or reference")
    expect(data.count(b"http") == 1, f"{where}: an address beside the namespace")
    expect(not re.search(rb"\b(nan|inf)\b", data), f"{where}: a number that is none")
    root = ET.fromstring(data)
    expect(root.tag == SVG + "svg" and root.get("role") == "img", f"{where}: no svg with role img")
    expect(root[0].tag == SVG + "title" and root[0].text.strip(), f"{where}: no title first")
    expect(root[1].tag == SVG + "desc" and root[1].text.strip().endswith("."), f"{where}: no description")
    check_texts(root, where)
    return root


def draw(kind, path, *more):
    return subprocess.run([PROGRAM, "chart", kind, path, *more], capture_output=True, check=False)


def luminance(color):
    parts = [int(color[i:i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a, b):
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def check_colours(data):
    """WCAG 2 contrast of what means something against the paper, in both modes."""
    light, dark = data.decode().split("@media")
    for paper, marks, ink in (("#ffffff", ("#0072b2", "#d55e00", "#5b6470"), "#1b1f24"), ("#16191d", ("#56b4e9", "#ff9e57", "#a3abb5"), "#e8eaed")):
        style = light if paper == "#ffffff" else dark
        for mark in marks:
            expect(mark in style, f"colour {mark} is not in the style sheet")
            expect(contrast(mark, paper) >= 3, f"contrast of {mark} on {paper}: {contrast(mark, paper):.2f}")
        expect(ink in style and contrast(ink, paper) >= 4.5, f"text on {paper}")


def count_marks(root, look):
    return sum(look in (e.get("class") or "").split() for e in root.iter())


def check_contents(pictures):
    texts = {where: [b[4] for b in boxes(root)] for where, root in pictures.items()}
    for where, found in texts.items():
        axis = {"bound": "number of parts", "step": "step, in standard deviations of strength"}.get(where.split()[1], "load on the part, ")
        expect(any(t.startswith(axis) for t in found), f"{where}: the axis is not named")
    expect(sum(t.startswith("p0") for t in texts["hostile pulls"]) == 30, "hostile pulls: not every part is named")
    expect("a" in texts["one pulls"], "one pulls: the part is not named")
    expect(count_marks(pictures["many pulls"], "b") >= 200, "many pulls: fewer than 200 bars")
    expect("other modes" in texts["many pulls"], "many pulls: eleven modes need an entry for the rest")
    expect("still whole" in texts["held pulls"] and "rig let go, part whole" in texts["held pulls"], "held pulls: run-outs and rig failures not in the key")
    expect(count_marks(pictures["held pulls"], "thick") == 0, "held pulls: a bar for a part that did not fail")
    expect("failed at the first load" in texts["wide pulls"], "wide pulls: first-rung failure not in the key")
    for where in ("tiny bound", "huge bound", "grams bound"):
        expect(any(t.startswith("wanted ") for t in texts[where]), f"{where}: the wanted bound is not named")
        expect(any(" carry " in t for t in texts[where]), f"{where}: the load of the content is not named")
    for where in ("tiny step", "huge step", "grams step"):
        expect(any(t.startswith("this plan: margin") for t in texts[where]), f"{where}: the price is not named")
    bars = [float(e.get("width")) for e in pictures["tiny steps"].iter(SVG + "rect") if "paper" not in e.get("class")]
    expect(len(bars) >= 5 and bars == sorted(bars, reverse=True), f"tiny steps: bars do not step down: {bars}")
    for where in ("hostile pulls", "hostile steps"):
        expect(all("script" not in e.tag for e in pictures[where].iter()), f"{where}: markup of a name got through")
        expect("<script>" in pictures[where][0].text, f"{where}: the name is not in the title")


def check_refusals(folder):
    path = os.path.join(folder, "one.json")
    for arguments, code, words in ((("pull", path), 2, 'nearest is "pulls"'), (("bound", path), None, ""), (("pulls", path, "--design", "x"), 2, "x"),
                                   (("pulls", os.path.join(folder, "empty.json")), 4, "no part of this design has been pulled")):
        done = draw(*arguments)
        expect(done.returncode == code if code is not None else done.returncode in (2, 3), f"{arguments}: exit {done.returncode}")
        expect(not done.stdout and words in done.stderr.decode(), f"{arguments}: {done.stderr.decode()!r}")


def main():
    pictures = {}
    with tempfile.TemporaryDirectory() as folder:
        for name, (content, kinds) in CASES.items():
            path = os.path.join(folder, name + ".json")
            with open(path, "w", encoding="utf-8") as file:
                json.dump(content, file, ensure_ascii=False)
            for kind in kinds:
                done = draw(kind, path)
                expect(done.returncode == 0, f"{name} {kind}: exit {done.returncode}: {done.stderr.decode()[:300]}")
                if done.returncode == 0:
                    pictures[f"{name} {kind}"] = check_svg(done.stdout, f"{name} {kind}")
        with open(os.path.join(folder, "empty.json"), "w", encoding="utf-8") as file:
            json.dump(campaign([]), file)
        check_colours(draw("pulls", os.path.join(folder, "one.json")).stdout)
        check_refusals(folder)
        if not failures:
            check_contents(pictures)
    for words in failures[:40]:
        print(words)
    print(f"{len(pictures)} pictures, {len(failures)} failures")
    return 1 if failures or not pictures else 0


sys.exit(main())
