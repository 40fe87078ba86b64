"""What the worksheet says: which load is to be written down, what hangs in all, and when to stop.

usage: written.py PROGRAM"""
import html
import json
import pathlib
import re
import subprocess
import sys
import tempfile

GRAVITY = 9.80665
RUNGS = ("1x20kg", "2x20kg 1x10kg", "2x20kg 2x10kg 1x5kg 2x2kg", "4x20kg")
# The same as masses, and what changes from rung to rung.
HUNG = (20, 50, 69, 80)
DOING = ("add 20 kg", "add 20 and 10 kg", "add 10, 5 and 2×2 kg", "take off 2×10, 5 and 2×2 kg, add 2×20 kg")


def campaign(records, weights="4x20kg 2x10kg 1x5kg 2x2kg", rungs=RUNGS, hung=HUNG, **rig):
    tare = 2.6 if records == "total" else 0
    ladder = [{"load": GRAVITY * (mass + tare), "weights": text} for text, mass in zip(rungs, hung)]
    listed = [(int(count), load) for count, load in re.findall(r"(\d+)x(\S+)", weights)]
    return {"format": "holdfast-campaign/1", "title": "Rings (invented)", "unit": "N", "rig": {"tare": "2.6 kg", "records": records, "rating": "2.5 kN"} | rig,
            "weights": [{"load": load, "count": count} for count, load in listed], "plan": {"seed": 1, "made": "2026-05-01", "ladders": {"ring": ladder}},
            "designs": [{"id": "ring", "guess": {"mean": 500, "cv": 0.1}, "specimens": [{"id": f"ring-{i}", "order": i, "outcome": "planned"} for i in (1, 2)]}]}


def sheet(program, folder, data, *options):
    """The page, its no-break spaces made plain."""
    path = pathlib.Path(folder) / "case.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    done = subprocess.run([program, "sheet", path, *options], check=True, capture_output=True, text=True, encoding="utf-8")
    return html.unescape(done.stdout).replace("\u00a0", " ")


def rows(page):
    """The cells of each rung of the first part."""
    table = page[page.index("<tbody>"):page.index("</tbody>")]
    return [re.findall(r"<td[^>]*>(.*?)</td>", row) for row in re.findall(r"<tr><td.*?</tr>", table)]


def check_loads(program, folder):
    for records, unit in (("added", "N"), ("total", "N"), ("added", "lbf"), ("total", "kg")):
        page = sheet(program, folder, campaign(records), "--unit", unit)
        for what in ("Failed at", "Last held"):
            assert page.count(f">{what} ({records}, {unit})<") == 2, f"{what}, {records}, {unit}"
            assert page.count(what) == 2, f"{what} without its load"
        other = {"added": "total", "total": "added"}[records]
        assert f">{records.title()}</th>" in page and f"({other}," not in page and f">{other.title()}<" not in page, records
        assert f"the load under <strong>{records.title()}</strong>, not the force on the part" in page, records
        assert ("counted in later" in page) == (records == "added"), records


def check_stack(program, folder):
    page = sheet(program, folder, campaign("added"), "--unit", "N")
    assert ">Hangs in all</th>" in page
    for number, (cells, doing, mass) in enumerate(zip(rows(page), DOING, HUNG, strict=True), 1):
        assert cells[:3] == [str(number), doing, f"{mass} kg"], cells
        assert cells[3:5] == [f"{GRAVITY * mass:#.4g} N", f"{GRAVITY * (mass + 2.6):#.4g} N"], cells
    assert "Hangs in all" in sheet(program, folder, campaign("total"), "--unit", "kg"), "a total with the tare is not what hangs"
    assert "Hangs in all</th>" not in sheet(program, folder, campaign("added"), "--unit", "kg"), "the same column twice"
    # A rung with a weight in another unit of mass: all in kg. One that is a force has no mass.
    mixed = campaign("added", "1x20kg 1x10lb", ("1x20kg", "1x20kg 1x10lb"), (20, 20 + 4.5359237))
    assert [cells[1:3] for cells in rows(sheet(program, folder, mixed))] == [["add 20 kg", "20 kg"], ["add 10 lb", "24.536 kg"]]
    pounds = campaign("added", "2x10lb", ("2x10lb",), (9.0718474,))
    assert [cells[2] for cells in rows(sheet(program, folder, pounds, "--unit", "N"))] == ["20 lb"]
    forces = campaign("added", "2x98.0665N", ("2x98.0665N",), (20,))
    assert "Hangs in all" not in sheet(program, folder, forces).split("</style>")[1]


def check_plates(program, folder):
    """Where all plates are in one unit, what is added is read off and written down in it, whatever the file's unit is; so no column says it twice."""
    page = sheet(program, folder, campaign("added"))
    assert "Hangs in all</th>" not in page and "Say kg when you record it: a bare number is in N." in page
    for number, (cells, doing, mass) in enumerate(zip(rows(page), DOING, HUNG, strict=True), 1):
        assert cells[:4] == [str(number), doing, f"{mass} kg", f"{GRAVITY * (mass + 2.6):#.4g} N"], cells
    assert page.count("Last held (added, kg)") == page.count("Failed at (added, kg)") == 2
    data = campaign("added") | {"unit": "kg"}
    data["plan"]["ladders"]["ring"] = [{"load": mass, "weights": text} for text, mass in zip(RUNGS, HUNG)]
    page = sheet(program, folder, data)
    assert "Last held (added, kg)" in page and "when you record it" not in page
    assert "Last held (added, N)" in sheet(program, folder, campaign("added", "4x20kg 2x10kg 1x11lb 2x2kg", ("1x20kg",), (20,))), "plates in several units"
    assert "Last held (total, N)" in sheet(program, folder, campaign("total")), "a total is read off a scale"


def check_words(program, folder):
    page = sheet(program, folder, campaign("added", dwell_s=30, id="beam"))
    first = page[:page.index('<div class="whole"')] if '<div class="whole"' in page else page[:page.index('<div class="half"')]
    for words in ("<h1>Worksheet: Rings (invented)</h1>", "Rig: beam.", "Stop at a creak of the rig", "<strong>Rung</strong>:", "hands off, 30 s", "<strong>Set</strong>:",
                  "Do not go beyond the ladder", "counts as a run-out at the last rung", "within the rig's rating"):
        assert first.count(words) == 1, words
    assert page.count("held the last rung, part intact") == 2 and "out of weight" not in page


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    with tempfile.TemporaryDirectory() as folder:
        for check in (check_loads, check_stack, check_plates, check_words):
            check(program, folder)


main()
