"""Draws every kind of chart from hard campaigns and from the example, and reads the pictures back.

Each must be well-formed XML with role, title and description, refer to nothing outside, hold no script, keep its texts inside the picture
and apart from each other (widths estimated here, independently of the program; check_browser.py measures them), and show what the campaign says: marks are
read back through the ticks of their axis and held against the JSON of assess and compare.
"""
import hashlib
import json
import math
import os
import re
import struct
import subprocess
import sys
import tempfile
import unicodedata
import zlib
import xml.etree.ElementTree as ET

from hard_campaigns import ASSESSED, CASES, COMPARED, LABELS, LOOKED_BACK, OVERVIEW, PLANNED, campaign, design

PROGRAM, EXAMPLE = sys.argv[1:3]
SVG = "{http://www.w3.org/2000/svg}"
FONT = 14
failures = []


def expect(condition, words):
    if not condition:
        failures.append(words)
    return condition


# --- Reading a picture ---------------------------------------------------------------------------------


def width(text):
    """As a narrow sans-serif font sets it."""
    total = 0.0
    for c in text:
        if unicodedata.combining(c) or unicodedata.category(c) == "Cf":
            continue
        if unicodedata.east_asian_width(c) in "WF":
            total += 1
        else:
            total += 0.25 if c in "iljtfrI .,:;'|!()[]" else 0.8 if c in "mwMW%@…" else 0.62 if c.isupper() else 0.53
    return total * FONT


SIZES = {"small": 11, "title": 18, "large": 22}


def boxes(root):
    for text in root.iter(SVG + "text"):
        content = "".join(text.itertext())
        size = next((SIZES[look] for look in (text.get("class") or "").split() if look in SIZES), FONT) / FONT
        x, y, w = float(text.get("x")), float(text.get("y")), float(text.get("textLength") or size * width(content))
        left = {"start": x, "middle": x - w / 2, "end": x - w}[text.get("text-anchor", "start")]
        yield left, y - 10 * size, left + w, y + 3 * size, content


def texts(root):
    return [(float(t.get("x")), float(t.get("y")), "".join(t.itertext())) for t in root.iter(SVG + "text")]


def contents(root):
    return [t[2] for t in texts(root)]


def with_look(root, *looks):
    return [e for e in root.iter() if set(looks) <= set((e.get("class") or "").split())]


def shapes(root, *looks):
    """Places of marker shapes."""
    return [tuple(map(float, re.match(r"translate\((\S+) (\S+)\)", e.get("transform")).groups())) for e in with_look(root, "dotshape", *looks)]


def number(text):
    power = re.fullmatch(r"(?:(−?[\d.]+)|(?:(−?[\d.]+)×)?10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+))", text)
    if not power:
        return math.nan
    exponent = (power[3] or "⁰").translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789"))
    return float((power[1] or power[2] or "1").replace("−", "-")) * 10.0 ** int(exponent)


def axis(root, at, log=False):
    """Value of a place by the two outermost ticks printed on the line y = at."""
    stretch, back = (math.log, math.exp) if log else (float, float)
    ticks = sorted((x, number(t)) for x, y, t in texts(root) if abs(y - at) < 0.1 and not math.isnan(number(t)))
    (x0, v0), (x1, v1) = ticks[0], ticks[-1]
    return lambda x: back(stretch(v0) + (x - x0) / (x1 - x0) * (stretch(v1) - stretch(v0)))


def near(value, wanted, share):
    return abs(value - wanted) <= share * abs(wanted)


# --- Every picture -------------------------------------------------------------------------------------


def check_texts(root, where):
    left, top, wide, high = (float(v) for v in root.get("viewBox").split())
    right, bottom = left + wide, top + high
    found = list(boxes(root))
    expect(len(found) >= 4, f"{where}: only {len(found)} texts")
    for i, a in enumerate(found):
        expect(a[0] >= left and a[2] <= right and a[1] >= top and a[3] <= bottom, f"{where}: text {a[4][:40]!r} leaves the picture")
        for b in found[i + 1:]:
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            expect(apart, f"{where}: texts {a[4][:40]!r} and {b[4][:40]!r} overlap")


def check_svg(data, where):
    expect(b"<script" not in data.lower() and b"href" not in data and b"url(" not in data, f"{where}: script or reference")
    expect(data.count(b"http") == 1, f"{where}: an address beside the namespace")
    expect(not re.search(rb"\b(nan|inf)\b", data), f"{where}: a number that is none")
    root = ET.fromstring(data)
    expect(root.tag == SVG + "svg" and root.get("role") == "img", f"{where}: no svg with role img")
    expect(root[0].tag == SVG + "title" and root[0].text.strip(), f"{where}: no title first")
    expect(root[1].tag == SVG + "desc" and root[1].text.strip().endswith("."), f"{where}: no description")
    printed = re.sub(r"\s+", "", "".join(contents(root)))
    if not where.endswith(("card", "label")):
        expect(re.sub(r"\s+", "", root[1].text)[:60] in printed, f"{where}: the finding is not printed")
    used = {look for e in root.iter() for look in (e.get("class") or "").split()} - {"hf-chart", "wide", "narrow"}
    style = root.find(SVG + "style").text
    expect(all(f".{look}" in style or look == "head" for look in used), f"{where}: a look without style among {sorted(used)}")
    check_texts(root, where)
    check_axes(root, where)
    return root


def run(*words):
    return subprocess.run([PROGRAM, *words], capture_output=True, check=False)


def draw(kind, path, *more):
    return run("chart", kind, path, *more)


def luminance(color):
    parts = [int(color[i:i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a, b):
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def check_colours(data):
    """WCAG 2 contrast of what means something against the paper, in both modes; dark mode is for screens, paper stays white."""
    parts = data.decode().split("</style>")[0].split("@media ")
    light, rules = parts[0], {p.split("{")[0]: p for p in parts[1:]}
    dark = rules.get("screen and (prefers-color-scheme:dark)", "")
    expect(sorted(rules) == ["(forced-colors:active)", "print", "screen and (prefers-color-scheme:dark)"], f"media rules: {sorted(rules)}")
    expect("#16191d" not in light + rules.get("print", ""), "dark paper reaches print")
    for style, paper, marks, ink in ((light, "#ffffff", ("#5b6470", "#3a3f45", "#1d6a54", "#b3420b", "#a03b00"), "#1b1f24"), (dark, "#16191d", ("#ff9e57", "#a3abb5", "#c9ced4", "#63c7a6"), "#e8eaed")):
        for mark in marks:
            expect(mark in style, f"colour {mark} is not in the style sheet")
            expect(contrast(mark, paper) >= 3, f"contrast of {mark} on {paper}: {contrast(mark, paper):.2f}")
        expect(ink in style and contrast(ink, paper) >= 4.5, f"text on {paper}")
        known = set(marks) | {ink, paper, "#dde1e6", "#30363d"} | ({"#ffffff"} if paper == "#ffffff" else set())
        found = {c if len(c) == 7 else "#" + "".join(2 * d for d in c[1:]) for c in re.findall(r"#[0-9a-f]{6}|#[0-9a-f]{3}\b", style)}
        expect(found <= known, f"colours nobody checks: {sorted(found - known)}")


# --- The hard campaigns --------------------------------------------------------------------------------


AXES = {"bound": "number of parts", "step": "step, in standard deviations of strength", "ratios": "ratio of strengths, first over second",
        "card": "Bar: work with this. Line: ", "sofar": "number of parts pulled"}


def check_hard(pictures):
    found = {where: contents(root) for where, root in pictures.items()}
    for where, words in found.items():
        kind = where.split()[-1]
        expect(kind == "modes" or where in ("names ratios", "designs ratios") or any(t.startswith(AXES.get(kind, "load on the part, above in ")) for t in words), f"{where}: the axis is not named")
    expect("a" in found["one pulls"], "one pulls: the part is not named")
    check_rows(pictures, found)
    check_zero(pictures, found)
    check_arrows(pictures)
    expect("still whole" in found["held pulls"] and "rig let go, part whole" in found["held pulls"], "held pulls: run-outs and rig failures not in the key")
    expect(not with_look(pictures["held pulls"], "thick"), "held pulls: a bar for a part that did not fail")
    check_close(pictures, found)
    expect("e is stronger" in found["outlast ratios"], "outlast ratios: the one that never broke is the stronger")
    expect("one is stronger" not in found["outlast ratios"] and not shapes(pictures["outlast ratios"]), "outlast ratios: the key shows a mark that no row has")
    expect("mean, first-load failures left out" not in found["wide steps"], "wide steps: a mean beside parts that it leaves out")
    expect("failed at the first load" in found["wide pulls"], "wide pulls: first-rung failure not in the key")
    for where in ("tiny bound", "huge bound", "grams bound"):
        expect(any(t.startswith("wanted ") for t in found[where]), f"{where}: the wanted bound is not named")
        expect(any(" carry " in t for t in found[where]), f"{where}: the load of the content is not named")
    for where in ("tiny step", "huge step", "grams step"):
        expect(any(t.startswith("this plan: margin") for t in found[where]), f"{where}: the price is not named")
    bars = [float(e.get("width")) for e in pictures["tiny steps"].iter(SVG + "rect") if "paper" not in e.get("class")]
    expect(len(bars) >= 5 and bars == sorted(bars, reverse=True), f"tiny steps: bars do not step down: {bars}")
    check_names(pictures, found)
    fields = [e for e in pictures["designs ratios"].iter(SVG + "title") if " ÷ " in e.text]
    expect(len(fields) == 15 * 14 // 2, f"designs ratios: {len(fields)} fields name their pair")
    expect(sum(re.fullmatch(r"\d+\. design number \d+, 4 pulls", t) is not None for t in found["designs league"]) == 15, "designs league: not every design is named")
    expect(sum(re.fullmatch(r"way \d of failing", t) is not None for t in found["designs modes"]) == 15 * 4, "designs modes: not every mode is named")


def numbers_of_rows(words):
    return [int(t[2:]) for t in words if re.fullmatch(r"× \d+", t)]


def check_rows(pictures, found):
    """Rows that can be told apart, and every pull in one of them."""
    for where, root in pictures.items():
        if where.endswith(" pulls"):
            expect(float(root.get("viewBox").split()[3]) <= 1200, f"{where}: higher than 1200")
    expect("other modes" in found["many pulls"], "many pulls: eleven modes need an entry for the rest")
    expect("set seen" in found["many pulls"] and len(with_look(pictures["many pulls"], "g", "line")) >= 20, "many pulls: set is not marked")
    for where, count in (("many pulls", 200), ("fine pulls", 1200)):
        rows = numbers_of_rows(found[where])
        single = sum(t.startswith("part-") for t in found[where])
        expect(len(rows) + single <= 45 and sum(rows) + single == count, f"{where}: {sum(rows)} + {single} pulls in {len(rows) + single} rows")
        expect("This is a summary: " in described(pictures[where]), f"{where}: does not say that it is a summary")
    rows = numbers_of_rows(found["alike pulls"])
    expect(sorted(rows) == [40, 50, 50, 50, 70], f"alike pulls: rows of {rows}")
    expect("× n: n pulls alike" in found["alike pulls"] and "Pulls alike share a row" in described(pictures["alike pulls"]), "alike pulls: shared rows are not explained")
    stride = [re.fullmatch(r"every (\d+)(?:st|nd|rd|th) part named", t) for t in found["thin pulls"]]
    named = sum(t.startswith("thin-") for t in found["thin pulls"])
    expect(any(stride) and named == math.ceil(120 / int(next(m for m in stride if m)[1])), f"thin pulls: {named} names and their key differ")
    bars = [re.match(r"M(\S+) (\S+)L", e.get("d")) for e in with_look(pictures["thin pulls"], "b", "line") if e.get("d")]
    heights = sorted({float(m[2]) for m in bars if m})[:120]
    apart = min(b - a for a, b in zip(heights, heights[1:]))
    expect(len(heights) == 120 and apart >= 4, f"thin pulls: {len(heights)} bars, {apart:.1f} apart")


def check_zero(pictures, found):
    """A bound that is not above zero promises nothing, and the steps end before it."""
    expect("These pulls give no bound above zero." in described(pictures["zero pulls"]), f"zero pulls: {described(pictures['zero pulls'])!r}")
    words = found["zero steps"]
    expect("mean of the failed parts" in words and not any(t.startswith("lower bound") for t in words), f"zero steps: {words}")
    expect("it promises no load above zero, so the steps end with the mean of the failed parts" in described(pictures["zero steps"]), f"zero steps: {described(pictures['zero steps'])!r}")
    expect(words[0].endswith("no load is promised"), f"zero steps: {words[0]!r}")


def check_arrows(pictures):
    """What a part outlasted ends where an arrow still has room: no arrow starts on the frame."""
    for where in ("held pulls", "wide pulls", "alike pulls", "held league"):
        root = pictures[where]
        frame = max((re.fullmatch(r"M(\S+) (\S+)L(\S+) (\S+)", e.get("d")) for e in with_look(root, "axis")), key=lambda m: float(m[3]) - float(m[1]))
        left, right = float(frame[1]), float(frame[3])
        starts = [float(m[1]) for m in (re.fullmatch(r"M(\S+) \S+L(\S+) \S+", e.get("d") or "") for e in with_look(root, "b", "line")) if m and abs(float(m[2]) - right) < 0.1]
        ends = [float(m[1]) for m in (re.fullmatch(r"M\S+ \S+L(\S+) \S+", e.get("d") or "") for e in with_look(root, "b", "line")) if m]
        expect(max(ends) <= right + 0.1, f"{where}: an arrow ends at {max(ends):.0f}, beyond the frame at {right:.0f}")
        expect(starts and max(starts) <= right - 0.08 * (right - left), f"{where}: an arrow starts at {max(starts, default=0):.0f} of {left:.0f} to {right:.0f}")


HEADINGS = {"Every pull", "Ways of failing", "From the best pull to the working load", "From the best pull down", "Do the pulls follow a strength law?",
            "What a number of parts brings", "The planned ladder", "The designs against each other"}


def check_axes(root, where):
    """The title does not say the heading of the page again; all numbers along an axis are written alike."""
    expect(root[0].text not in HEADINGS and not any(root[0].text.startswith(h + ":") for h in HEADINGS), f"{where}: title {root[0].text!r}")
    rows = {}
    for x, y, t in texts(root):
        if not math.isnan(number(t)) and number(t) != 0:
            rows.setdefault(y, []).append("×10" in t and "m×10ⁿ" or t.startswith("10") and t[-1] in "⁰¹²³⁴⁵⁶⁷⁸⁹" and "10ⁿ" or "plain")
    for y, kinds in rows.items():
        expect(len(set(kinds)) == 1, f"{where}: numbers along one axis are written as {sorted(set(kinds))}")


def narrow_of(path):
    """The narrow drawings of a report, each with the wide one before it."""
    page = run("report", path).stdout.decode()
    found = re.findall(r'(<svg[^>]*class="hf-chart (wide|narrow)".*?</svg>)', page, re.S)
    expect(found and [kind for _, kind in found] == ["wide", "narrow"] * (len(found) // 2), f"{path}: drawings {[kind for _, kind in found][:6]}")
    return [(ET.fromstring(found[i][0]), ET.fromstring(found[i + 1][0])) for i in range(0, len(found), 2)]


def check_narrow(path, name):
    """Both drawings say the same, and the narrow one is laid out for a telephone."""
    for i, (wide, narrow) in enumerate(narrow_of(path)):
        where = f"{name} narrow {i}"
        expect(narrow.get("viewBox").split()[2] == "340", f"{where}: {narrow.get('viewBox')}")
        expect([narrow[0].text, narrow[1].text] == [wide[0].text, wide[1].text], f"{where}: title or finding differ")
        shown = [len([s for s in root.iter(SVG + "path") if s.get("transform")]) for root in (wide, narrow)]
        expect(shown[0] == shown[1], f"{where}: {shown[1]} marks, {shown[0]} in the wide drawing")
        check_texts(narrow, where)


def check_close(pictures, found):
    """Readings within 2 % of each other, 97 % of all parts to carry the bound, no design factor, a rig without stated errors."""
    note = "load on the part, above in N, below in kg (axis does not start at 0)"
    rows = [(y, number(t)) for x, y, t in texts(pictures["close pulls"]) if not math.isnan(number(t))]
    ticks = [value for y, value in rows if y == min(rows)[0]]  # the upper row; the lower one is in kg
    expect(note in found["close pulls"] and ticks and min(ticks) > 900, f"close pulls: the axis does not start near the pulls: {ticks}")
    expect(note not in found["fine pulls"] and "0" in found["fine pulls"], "fine pulls: the axis of a working load does not start at 0")
    expect("held to failed" not in found["close pulls"] + found["fine pulls"], "close pulls: the key has a bar that no reading has")
    expect("least held to greatest failed" in found["many pulls"] and "held to failed" in found["thin pulls"], "many pulls: the bars are not in the key")
    expect("lower bound (law rejected)" in found["close steps"] and any(t.endswith("(law rejected)") for t in found["close pulls"]), "close steps: the bound leans on a law that is rejected, and does not say so")
    expect("lower bound (90 % carry it)" in found["tiny steps"], "tiny steps: the bound is not named with its share")
    expect("mean of the failed parts" in found["close steps"], "close steps: all pulls failed")
    expect("mean of the failed parts" not in found["wide steps"], "wide steps: a mean where parts are still whole")
    expect(not any("load error" in t for t in found["close steps"] + found["fine steps"]), "steps: a rig error that nobody stated")
    expect("bound" in found["close steps"][0] and "working" not in found["close steps"][0], f"close steps: {found['close steps'][0]!r} without a working load")
    expect(found["close probability"].count("3 %") == 1, "close probability: the share of the bound has no tick")


def check_names(pictures, found):
    for where, root in pictures.items():
        if not where.startswith("names "):
            continue
        expect(all("script" not in e.tag for e in root.iter()), f"{where}: markup of a name got through")
        expect("\u202e" not in ET.tostring(root, encoding="unicode"), f"{where}: a mark that turns the direction of writing got through")
        expect(max(map(len, found[where])) < 200, f"{where}: a text of {max(map(len, found[where]))} letters")
    expect(any("<script>" in t for t in found["names league"]), "names league: the name with markup is not shown")
    expect(sum(t.startswith("\u2068") or "\u2068" in t for t in found["names league"]) >= 8, "names league: foreign names are not kept to themselves")


# --- The example, against its JSON ---------------------------------------------------------------------


def check_middles(picture, circles):
    """Each bar from held to failed carries its circle in the middle."""
    bars = [tuple(map(float, re.fullmatch(r"M(\S+) (\S+)L(\S+) \S+", e.get("d")).groups())) for e in with_look(picture, "g", "line", "thin") if e.get("d")]
    on_bars = [any(abs((left + right) / 2 - x) < 0.1 and abs(y - at) < 0.1 for x, at in circles) for left, y, right in bars]
    expect(len(bars) > 3 and sum(on_bars) == len(bars) - 1, f"probability: {sum(on_bars)} of {len(bars)} bars, one of the key, have their circle in the middle")


def check_probability(picture, assessed):
    """The paper of the law that governs; the bound lies on the tolerance curve, as do the bounds at other contents; the marks climb with the load."""
    ring = assessed["designs"][0]
    circles = [s for s in shapes(picture) if s not in shapes(picture, "want")]
    pulls = json.load(open(EXAMPLE, encoding="utf-8"))["designs"][0]["specimens"]
    apart = {(p.get("held"), p.get("failed")) for p in pulls if p.get("outcome", "failed") == "failed" and "failed" in p}
    expect(len(circles) == len(apart) + 1, f"probability: {len(circles)} marks of {len(apart)} steps that broke a part")
    check_middles(picture, circles)
    rows = sorted({y for x, y, t in texts(picture) if not math.isnan(number(t))})
    expect(len(rows) == 2, f"probability: {len(rows)} rows of ticks")
    value, (x, y) = axis(picture, rows[0], log=True), shapes(picture, "want")[0]
    expect(near(value(x), ring["answer"]["bound"], 0.002), f"probability: bound drawn at {value(x):.1f}, assess says {ring['answer']['bound']:.1f}")
    curve = [tuple(map(float, pair.split(","))) for e in picture.iter(SVG + "polyline") if e.get("class") == "line keep" for pair in e.get("points").split()]
    expect(any(math.hypot(x - a, y - b) < 0.1 for a, b in curve), "probability: the bound does not lie on the tolerance curve")
    shares = sorted((at - 5, float(t[:-2]) / 100) for _, at, t in texts(picture) if re.fullmatch(r"[\d.]+ %", t))
    (y0, p0), (y1, p1) = shares[0], shares[-1]
    paper = lambda p: math.log(-math.log1p(-p))
    for other in ring["other_promises"]:
        if other["confidence"] == 0.95:
            at = y0 + (paper(1 - other["content"]) - paper(p0)) / (paper(p1) - paper(p0)) * (y1 - y0)
            ends = next(((a, b) for a, b in zip(curve, curve[1:]) if min(a[1], b[1]) <= at <= max(a[1], b[1])), None)
            if ends:
                (a, b), (c, d) = ends
                read = value(a + (at - b) / (d - b) * (c - a))
                expect(near(read, other["bound"], 0.004), f"probability: {other['content']} promised at {read:.1f}, assess says {other['bound']:.1f}")
    heights = [y for _, y in sorted(circles[:len(apart)])]
    expect(heights == sorted(heights, reverse=True), "probability: marks do not climb")


def check_ratios(picture, compared):
    pairs = compared["pairs"]
    row = next(y for x, y, t in texts(picture) if t == "1")
    value = axis(picture, row, log=True)
    told = shapes(picture, "full")[:len(pairs)]
    expect(len(told) == len(pairs), "ratios: a full shape for each pair that is told apart")
    for (x, _), pair in zip(told, pairs):
        expect(near(value(x), pair["ratio"], 0.005), f"ratios: {pair['a']} : {pair['b']} drawn at {value(x):.3f}, compare says {pair['ratio']:.3f}")
    ends = [value(x1) for x1, y1, x2, y2 in strokes(picture, "b", "line") if x1 == x2]
    for (low, high), pair in zip(zip(ends[::2], ends[1::2]), pairs):
        decides = pair["decides"]
        expect(near(low, decides["low"], 0.005) and near(high, decides["high"], 0.005), f"ratios: {pair['a']} : {pair['b']} from {low:.3f} to {high:.3f}, the verdict goes by {decides}")
        expect((pair["verdict"] == "cannot_tell") == (decides["low"] < 1 < decides["high"]), f"ratios: the verdict {pair['verdict']} and its interval {decides} differ")
    expect(len(ends) == 2 * len(pairs), f"ratios: {len(ends)} ends of intervals")
    words = contents(picture)
    expect(words.count("clamped plate is stronger") == 2 and words.count("sewn ring is stronger") == 1, "ratios: verdicts")
    expect("the same within 10 %" in words, "ratios: what counts as the same is not in the key")
    left, right = sorted(float(re.match(r"M(\S+)", e.get("d"))[1]) for e in with_look(picture, "b", "dash"))[:2]
    expect(len(with_look(picture, "soft")) == 2, "ratios: the band of what counts as the same")
    band = with_look(picture, "soft")[0]
    edges = value(float(band.get("x"))), value(float(band.get("x")) + float(band.get("width")))
    expect(near(edges[0], 1 / 1.1, 0.005) and near(edges[1], 1.1, 0.005), f"ratios: the band reaches from {edges[0]:.3f} to {edges[1]:.3f}")


def described(picture):
    return "".join(e.text or "" for e in picture.iter(SVG + "desc"))


def check_steps(picture, assessed):
    """What was pulled, with four figures in picture and words, as the table has it."""
    best = next(s["value"] for s in assessed["designs"][0]["working_load"]["steps"] if s["code"] == "best_pull")
    wanted = f"{float(f'{best:.4g}'):g} N"
    expect(wanted in contents(picture), f"steps: {wanted} does not stand at the first bar")
    expect(f"From the {wanted} held" in described(picture), f"steps: the finding does not say {wanted}")
    expect(any(t.endswith("load error") for t in contents(picture)), "steps: the stated error of the rig has no bar")


def check_bound(picture):
    """The wanted bound stands where the curves do: before the rig's error is taken off."""
    planned = json.loads(run("plan", EXAMPLE, "--json").stdout)
    needed, required = planned["calibration"]["needed"], planned["required"]
    expect(needed > 1.01 * required, "bound: the example no longer states an error of the rig")
    name = f"needed {float(f'{needed:.4g}'):g} N"
    expect(name in contents(picture), f"bound: {name} is not there: {contents(picture)}")
    expect(f"{required:g} N after the rig's stated errors" in described(picture), "bound: the finding does not say what is left after the rig's error")
    told = f"Recommended: {planned['recommended']} parts, the fewest with which the bound reaches {float(f'{needed:.4g}'):g} N in at least 80 of 100 tests."
    expect(told in described(picture), f"bound: the finding does not name the assurance: {described(picture)}")
    line = next(e for e in with_look(picture, "v", "dash"))
    y = float(re.match(r"M\S+ (\S+?)L", line.get("d"))[1])
    level = [(float(y), float(t.replace(",", ""))) for x, y, t in texts(picture) if re.fullmatch(r"[\d,]+", t) and x < 60]
    (y_0, v_0), (y_1, v_1) = min(level, key=lambda p: p[1]), max(level, key=lambda p: p[1])
    drawn = v_0 + (y + 4.5 - y_0) / (y_1 - y_0) * (v_1 - v_0)
    expect(near(drawn, needed, 0.02), f"bound: the line stands at {drawn:.1f}, needed is {needed:.1f}")


def check_unbroken_bound(folder):
    """A stated scatter makes the bound of every number of parts: one curve."""
    path = os.path.join(folder, "stated.json")
    data = json.load(open(EXAMPLE, encoding="utf-8"))
    data["designs"][0]["scatter"] = {"cv": 0.1, "degrees_of_freedom": 20, "source": "earlier parts"}
    with open(path, "w", encoding="utf-8") as file:
        json.dump(data, file)
    picture = check_svg(draw("bound", path).stdout, "bound by stated scatter")
    pieces = [e for e in picture.iter(SVG + "polyline") if e.get("class") == "line b"]
    counts = [len(e.get("points").split()) for e in pieces]
    expect(len(pieces) == 1 and counts[0] > 10, f"bound: pieces of {counts} points where a stated scatter governs")


def check_league(picture, compared):
    words = contents(picture)
    names = {d["id"]: d for d in compared["designs"]}
    order = [re.match(r"\d\. (.*), \d+ pulls", t)[1] for t in words if re.match(r"\d\. .*, \d+ pulls", t)]
    titles = {"ring": "sewn ring", "eyelet": "pressed eyelet", "plate": "clamped plate"}
    expect(order == [titles[i] for i in compared["league"]], f"league: order {order}")
    row = next(y for x, y, t in texts(picture) if t == "0")
    value = axis(picture, row)
    for (x, _), which in zip(shapes(picture, "want"), compared["league"]):
        bound = names[which]["bound"]["value"] if isinstance(names[which]["bound"], dict) else names[which]["bound"]
        expect(near(value(x), bound, 0.01), f"league: bound of {which} drawn at {value(x):.1f}, compare says {bound:.1f}")
    arrows = [e for e in with_look(picture, "b") if e.get("d", "").count("L") == 2]
    expect(len(arrows) == 3 + 2 and len(with_look(picture, "b", "line", "dot")) == 1 + 1, f"league: {len(arrows)} arrows for 2 parts still whole, one by the rig, and the key")


def check_modes(picture):
    words = contents(picture)
    for wanted in ("stitch", "7 of 10", "3 of 10", "6 of 8", "2 of 8", "3 of 5", "2 of 5", "apart: 2 still whole, 1 rig failure"):
        expect(wanted in words, f"modes: {wanted!r} is not there")
    rows = {}
    for _, y in shapes(picture, "full"):
        rows[y] = rows.get(y, 0) + 1
    expect([rows[y] for y in sorted(rows)] == [7, 3, 6, 2, 3, 2], f"modes: rows of {rows} failures")


def strokes(root, *looks):
    """Straight strokes from one place to another; the head of an arrow has two."""
    found = (re.fullmatch(r"M(\S+) (\S+)L(\S+) (\S+)", e.get("d") or "") for e in with_look(root, *looks))
    return [tuple(map(float, match.groups())) for match in found if match]


def check_card(picture, assessed):
    """Bars, bounds, pulls and what is asked, read back through the axis; the words as the answers have them."""
    rows = sorted({y for x, y, t in texts(picture) if t == "0"})
    value, mass = axis(picture, rows[0]), axis(picture, rows[1])
    best = sorted(assessed["designs"], key=lambda d: -d["answer"]["working_load"])
    bars = sorted(with_look(picture, "keepfill"), key=lambda e: float(e.get("y")))
    ends = [float(b.get("x")) + float(b.get("width")) for b in bars]
    expect(len(bars) == len(best), f"card: {len(bars)} bars")
    for end, d in zip(ends, best):
        answer = d["answer"]
        expect(abs(value(end) - d["working_load"]["unrounded"]) < 2, f"card: {d['id']}: bar to {value(end):.1f}")
        expect(abs(mass(end) - answer["working_load_mass"]) < 0.3, f"card: {d['id']}: bar to {mass(end):.2f} kg")
        expect(f"{answer['working_load']:g} N" in contents(picture), f"card: {answer['working_load']} N is not said")
    bounds = sorted((y1, x1) for x1, y1, x2, y2 in strokes(picture, "keep") if x1 == x2)
    expect(all(abs(value(x) - d["answer"]["bound"]) < 2 for (_, x), d in zip(bounds, best)) and len(bounds) == len(best), f"card: bounds {bounds}")
    used = sum(d["counts"]["used"] for d in best)
    heads = [e for e in with_look(picture, "pull") if (e.get("d") or "").count("L") == 2]
    expect(len(strokes(picture, "pull")) == used and len(heads) == 3, f"card: {len(strokes(picture, 'pull'))} pulls, {len(heads)} arrows")
    asked = strokes(picture, "ask")
    expect(len(asked) == 1 and abs(value(asked[0][0]) - 120) < 2, f"card: asked {asked}")
    expect(picture.get("width") == "1200" and picture.get("height") == "630", "card: 1200 by 630")
    expect(any("Not for lifting or holding people" in t and "local codes win" in t for t in contents(picture)), "card: says for what it is not")
    expect(sum("! covers 120 N, but only" in t for t in contents(picture)) == 1, "card: the condition of the plate")


def check_labels(assessed):
    """Load, condition, what it is not for and the file's mark on each; the size on paper; none for what is not met."""
    with open(EXAMPLE, "rb") as file:
        mark = hashlib.sha256(file.read()).hexdigest()[:8]
    for d in assessed["designs"]:
        picture = check_svg(draw("label", EXAMPLE, "--design", d["id"]).stdout, f"{d['id']} label")
        words = " ".join(contents(picture))
        expect(f"at most {d['answer']['working_load']:g} N" in words, f"label: {words}")
        expect("Not for lifting or holding people, climbing, loads over heads. Local codes win." in words, f"label of {d['id']}: says not what it is not for")
        expect(("! but only 81.0 N if its ways of failing come in other shares" in words) == (d["answer"]["service"] == "met_if"), f"label of {d['id']}: the condition")
        expect(words.endswith("file " + mark), f"label of {d['id']}: no mark of the file")
        size = [float(picture.get(key)) / 96 * 25.4 for key in ("width", "height")]
        expect(abs(size[0] - 90) < 0.2 and abs(size[1] - 50) < 0.2, f"label: {size} mm")
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "asked.json")
        with open(EXAMPLE, encoding="utf-8") as file:
            content = json.load(file)
        content["goal"]["service_load"] = 700
        with open(path, "w", encoding="utf-8") as file:
            json.dump(content, file)
        done = draw("label", path)
        expect(done.returncode == 4 and b"does NOT cover 700 N" in done.stderr and not done.stdout, f"label of what is not covered: {done.stderr!r}")


def upright(root, at):
    """Value of a place by the two outermost ticks printed left of x = at."""
    ticks = sorted((y - 5, number(t)) for x, y, t in texts(root) if x < at and not math.isnan(number(t)))
    (y0, v0), (y1, v1) = ticks[0], ticks[-1]
    return lambda y: v0 + (y - y0) / (y1 - y0) * (v1 - v0)


def check_so_far(picture, assessed):
    """The last dot is the working load of all parts, each dot before it that of the file with the later parts taken out."""
    dots_of = [tuple(map(float, re.match(r"translate\((\S+) (\S+)\)", e.get("transform")).groups())) for e in with_look(picture, "keepdot")]
    ring = next(d for d in assessed["designs"] if d["id"] == "ring")
    value = upright(picture, min(x for x, _ in dots_of))
    expect(len(dots_of) == 9, f"sofar: {len(dots_of)} dots for 2 to 10 parts")
    expect(abs(value(dots_of[-1][1]) - ring["working_load"]["unrounded"]) < 1, f"sofar: ends at {value(dots_of[-1][1]):.1f}")
    with open(EXAMPLE, encoding="utf-8") as file:
        content = json.load(file)
    content["designs"][0]["specimens"] = sorted(content["designs"][0]["specimens"], key=lambda s: s["order"])[:4]
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "four.json")
        with open(path, "w", encoding="utf-8") as file:
            json.dump(content, file)
        four = json.loads(run("assess", path, "--json").stdout)["designs"][0]["working_load"]["unrounded"]
    expect(abs(value(dots_of[2][1]) - four) < 1, f"sofar: four parts at {value(dots_of[2][1]):.1f}, alone they give {four:.1f}")
    asked = strokes(picture, "ask")
    expect(len(asked) == 1 and abs(value(asked[0][1]) - 120) < 1, f"sofar: asked {asked}")


def check_example():
    compared = json.loads(run("compare", EXAMPLE, "--json").stdout)
    assessed = json.loads(run("assess", EXAMPLE, "--json").stdout)
    pictures = {}
    for kind, more in (("pulls", ()), ("steps", ()), ("probability", ()), ("bound", ()), ("ladder", ()), ("step", ()), ("ratios", ("--same-within", "10")),
                       ("league", ()), ("modes", ()), ("card", ()), ("sofar", ())):
        done = draw(kind, EXAMPLE, *more)
        if expect(done.returncode == 0, f"example {kind}: exit {done.returncode}: {done.stderr.decode()[:300]}"):
            pictures[kind] = check_svg(done.stdout, f"example {kind}")
    check_colours(draw("pulls", EXAMPLE).stdout)
    if failures:
        return len(pictures)
    check_probability(pictures["probability"], assessed)
    check_steps(pictures["steps"], assessed)
    check_bound(pictures["bound"])
    check_ratios(pictures["ratios"], compared)
    check_league(pictures["league"], compared)
    check_modes(pictures["modes"])
    check_card(pictures["card"], assessed)
    check_so_far(pictures["sofar"], assessed)
    check_labels(assessed)
    alone = check_svg(draw("probability", EXAMPLE, "--family", "lognormal").stdout, "example probability of one law")
    expect(any(t.startswith("lognormal law: ") for t in contents(alone)), "probability --family: not the paper asked for")
    two = check_svg(draw("ratios", EXAMPLE, "ring", "plate").stdout, "example ratios of two")
    expect(sum(" ÷ " in t for t in contents(two)[1:]) == 1, "ratios of two designs: one pair")
    return len(pictures) + 2


def check_refusals(folder):
    one, empty = os.path.join(folder, "one.json"), os.path.join(folder, "empty.json")
    with open(empty, "w", encoding="utf-8") as file:
        json.dump(campaign([design("d", [])]), file)
    held = os.path.join(folder, "held.json")
    rows = (
        (("pull", one), 2, 'nearest is "pulls"'), (("pulls", one, "--design", "x"), 2, "x"), (("pulls", empty), 4, "no part of this design has been pulled"),
        (("probability", empty), 4, "no part of this design has been pulled"), (("probability", held), 4, "no part of this design has failed"),
        (("ratios", one), 4, "no pair of designs could be compared"), (("ratios", empty), 4, "nothing to compare it with"), (("league", empty), 4, "has been pulled"),
        (("modes", held), 4, "the way of failing is noted for no failure"), (("steps", held), 4, "the pulls give no bound"), (("ratios", one, "--design", "d"), 2, "expected the designs behind the file"),
        (("pulls", one, "d"), 2, "expected --design ID"), (("league", one, "--family", "normal"), 2, "no option --family"),
        (("probability", one, "--same-within", "10"), 2, "no option --same-within"), (("probability", one, "--family", "auto"), 2, "normal, lognormal or weibull"),
        (("ratios", one, "d", "f"), 2, "f"),
    )
    for arguments, code, words in rows:
        done = draw(*arguments)
        expect(done.returncode == code, f"{arguments}: exit {done.returncode}, expected {code}")
        expect(not done.stdout and words in done.stderr.decode(), f"{arguments}: {done.stderr.decode()!r}")


def dots(data):
    """Width, height and the rows of a PNG, each with its filter byte."""
    chunks, at = {}, 8
    while at < len(data):
        length, kind = int.from_bytes(data[at:at + 4], "big"), data[at + 4:at + 8]
        chunks[kind] = chunks.get(kind, b"") + data[at + 8:at + 8 + length]
        expect(zlib.crc32(data[at + 4:at + 8 + length]) == int.from_bytes(data[at + 8 + length:at + 12 + length], "big"), f"png: {kind} is broken")
        at += length + 12
    wide, high, depth, colours = struct.unpack(">IIBB", chunks[b"IHDR"][:10])
    rows = zlib.decompress(chunks[b"IDAT"])
    expect(len(rows) == high * (1 + wide * {2: 3, 6: 4}[colours] * depth // 8), "png: rows are missing")
    return wide, high, rows


def check_png(folder):
    """Every kind as dots: whole, of the size asked, not one colour; without the program that draws them one line that names its package."""
    for kind in ASSESSED + PLANNED + COMPARED + OVERVIEW + LOOKED_BACK + LABELS:
        path = os.path.join(folder, kind + ".png")
        drawing = ET.fromstring(draw(kind, EXAMPLE).stdout)
        for more, wide in (((), float(drawing.get("width"))), (("--pixels", "500"), 500)):
            done = draw(kind, EXAMPLE, "-o", path, *more)
            if not expect(done.returncode == 0, f"{kind}.png: exit {done.returncode}: {done.stderr.decode()[:200]}"):
                continue
            with open(path, "rb") as file:
                found, high, rows = dots(file.read())
            wanted = wide * float(drawing.get("height")) / float(drawing.get("width"))
            expect(found == wide and abs(high - wanted) <= 1, f"{kind}.png: {found} x {high}, not {wide:.0f} x {wanted:.0f}")
            expect(len(set(rows)) > 20, f"{kind}.png: nothing is drawn")
    none = subprocess.run([PROGRAM, "chart", "card", EXAMPLE, "-o", os.path.join(folder, "none.png")], capture_output=True, check=False, env={"PATH": folder})
    expect(none.returncode == 5 and b"librsvg2-bin" in none.stderr and not os.path.exists(os.path.join(folder, "none.png")), f"png without a program: {none.stderr!r}")
    expect(draw("card", EXAMPLE, "--pixels", "500").returncode == 2, "--pixels without a PNG")


def check_help():
    words = run("help", "chart").stdout.decode()
    for kind in ASSESSED + PLANNED + COMPARED + OVERVIEW + LOOKED_BACK + LABELS:
        expect(re.search(rf"^{kind}: ", words, re.M), f"help: {kind} is not explained")


def main():
    pictures = {}
    with tempfile.TemporaryDirectory() as folder:
        for name, (content, kinds) in CASES.items():
            path = os.path.join(folder, name + ".json")
            with open(path, "w", encoding="utf-8") as file:
                json.dump(content, file, ensure_ascii=False)
            for kind in kinds + OVERVIEW:
                done = draw(kind, path)
                if expect(done.returncode == 0, f"{name} {kind}: exit {done.returncode}: {done.stderr.decode()[:300]}"):
                    pictures[f"{name} {kind}"] = check_svg(done.stdout, f"{name} {kind}")
            if name in ("alike", "huge", "names", "wide", "many"):
                check_narrow(path, name)
        check_unbroken_bound(folder)
        check_narrow(EXAMPLE, "example")
        check_refusals(folder)
        check_png(folder)
    drawn = check_example()
    check_help()
    if not failures:
        check_hard(pictures)
    for words in failures[:40]:
        print(words)
    print(f"{len(pictures) + drawn} pictures, {len(failures)} failures")
    return 1 if failures or not pictures else 0


sys.exit(main())
