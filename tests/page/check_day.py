"""A whole day in the page, from nothing to a working load of three designs, by taps alone; the taps are counted.

usage: check_day.py PAGE PROGRAM [FOLDER]. The rungs are tapped in the list of all rungs, which is the shortest way; one part goes the long way, rung by
rung with the dwell. What the page ends with is assessed by the program too: both must say the same. With a
folder the pictures of the guide are taken on the way."""
import json
import pathlib
import subprocess
import sys
import tempfile

from person import Person

PAGE, PROGRAM = sys.argv[1:3]
FOLDER = pathlib.Path(sys.argv[3]) if len(sys.argv) > 3 else None
MOST_TAPS = 70
# The rung at which each part fails, counted from 1: invented, and different for the three designs.
FAILS_AT = {"sewn-ring": (8, 9, 7, 8, 9, 10, 8, 9, 7), "pressed-eyelet": (7, 8, 8, 7, 9, 7, 8, 7, 9), "clamped-plate": (7, 6, 7, 8, 6, 7, 7, 6, 8)}


def native(words, text):
    with tempfile.TemporaryDirectory() as folder:
        (pathlib.Path(folder) / "day.json").write_text(text, encoding="utf-8")
        return subprocess.run([pathlib.Path(PROGRAM).resolve(), *words], cwd=folder, capture_output=True, text=True).stdout


def widths(person, found):
    for place in ("Plan", "Bench", "Answer", "File"):
        person.tap(place, "nav")
        for width in (360, 390, 1600):
            person.view(width)
            if person.too_wide():
                found.append(f"{place} is wider than a screen of {width} pixels")
    person.view(390)


def picture(person, name):
    if FOLDER:
        person.driver.execute_script("scrollTo(0, 0)")
        FOLDER.mkdir(exist_ok=True)
        (FOLDER / name).write_bytes(person.driver.get_screenshot_as_png())


def pull(person, count):
    part = person.wait("const part = document.querySelector('.bench .part b'); return part && part.textContent")
    design, number = part.rsplit("-", 1)
    at = FAILS_AT[design][int(number) - 1]
    if count == 0:  # the long way
        for rung in range(1, at):
            person.tap("hangs")
            if rung == 4:
                picture(person, "bench.png")
            person.put_forward(31)
            person.tap("held")
    else:
        rungs = person.driver.execute_script("return document.querySelectorAll('.rungs button').length")
        person.click("return document.querySelectorAll('.rungs button')[arguments[0]]", min(at, rungs) - 1)
    person.tap("failed")
    person.tap("keep")
    person.wait("return !document.querySelector('form.confirm')")
    return part


def main():
    found, pulled = [], []
    with Person(PAGE) as person:
        person.tap("New test")
        person.tap("Fill in an invented day")
        person.tap("Plan this test")
        person.in_frame("Pull ")
        picture(person, "plan.png")
        person.tap("Write this plan")
        person.sees("rung 1 of")
        planned = len(person.parts())
        long_way = 0
        for count in range(planned):
            before = person.taps
            pulled.append(pull(person, count))
            if count == 0:
                long_way = person.taps - before
                person.tap("All rungs")
        person.sees("No part is waiting")
        person.tap("What the pulls prove")
        person.in_frame("sewn ring")
        picture(person, "answer.png")
        taps = person.taps - long_way + 3  # by the list it would have been a rung, how it failed, and the last look
        campaign = person.campaign()
        assessed = json.loads(native(["assess", "day.json", "--json"], campaign["text"]))
        frame = person.driver.execute_script("return document.querySelector('iframe').made")
        if frame != person.driver.execute_async_script(
                "const done = arguments[0]; holdfast.ask(['report', holdfast.campaign.name], {[holdfast.campaign.name]: holdfast.campaign.text}).then(r => done(r.out))"):
            found.append("the answer shown is not the report")
        loads = [design["answer"]["working_load"] for design in assessed["designs"]]
        if len(loads) != 3 or not all(loads):
            found.append(f"working loads: {loads}")
        if len(set(pulled)) != planned or any(part["outcome"] != "failed" for part in person.parts()):
            found.append(f"{planned} parts planned, pulled {pulled}")
        journal = [json.loads(line) for line in campaign["log"].splitlines()]
        widths(person, found)
    found += person.errors
    if taps > MOST_TAPS:
        found.append(f"{taps} taps, expected {MOST_TAPS} at most")
    for line in found:
        print(line)
    print(f"from the empty page to the working loads of three designs, {planned} parts: {taps} taps by the list of rungs; the part that went rung "
          f"by rung took {long_way}; {len(journal)} entries in the journal; {len(found)} findings")
    return bool(found)


if __name__ == "__main__":
    sys.exit(main())
