#!/usr/bin/env python3
"""What was stated when pulls were there is told, as far as the journal reaches; what was stated before, taken back, or written where no journal saw it, is not.
usage: late.py HOLDFAST"""
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile

PROGRAM = pathlib.Path(sys.argv[1]).resolve()
SAID = {"the scatter known from earlier": [("scatter.cv", "12%"), ("scatter.degrees_of_freedom", "9"), ("scatter.source", "rings of spring (invented)")],
        "the scatter between batches": [("between_batches.cv", "5%"), ("between_batches.source", "twelve deliveries (invented)")],
        "that the best is picked": [("goal.choose_best", "true")],
        "the strength law": [("family", "lognormal")]}


class Day:
    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.file = self.folder / "day.json"
        self.run("new", "--title", "Late (invented)", "--weights", "12x5kg 6x2kg", "--tare", "2kg", "--design", "ring", "--mean", "45kg", "--cv", "10%", "--design-factor", "3")
        self.run("plan", "--write")

    def run(self, command, *words):
        done = subprocess.run([PROGRAM, command, self.file.name, *words], cwd=self.folder, capture_output=True, text=True)
        assert done.returncode in (0, 1), (command, words, done.returncode, done.stderr)
        return done

    def pull(self, number, held):
        self.run("record", f"ring-{number:02d}", "--held", f"{held}kg", "--failed", f"{held + 5}kg", "--sure")

    def cautions(self):
        design, = json.loads(self.run("assess", "--json").stdout)["designs"]
        return {caution["code"]: caution for caution in design["cautions"]}, design["answer"]


def late(day):
    return {code: caution["values"] for code, caution in day.cautions()[0].items() if code in ("looks_late", "stated_late")}


def main():
    with tempfile.TemporaryDirectory() as folder:
        day = Day(folder)
        day.run("set", "goal.looks", "3,6")
        for number, held in ((1, 38), (2, 43), (3, 40)):
            day.pull(number, held)
        assert late(day) == {}, late(day)

        # Other looks, after three pulls; back again; and once more by a new plan.
        day.run("set", "goal.looks", "3,5")
        found, answer = day.cautions()
        assert found["looks_late"]["values"]["pulls"] == 3 and found["looks_late"]["rank"] == "hangs", found
        day.run("set", "goal.required_bound", "1kg")
        assert day.cautions()[1]["required"] == "met_if"
        day.run("undo")
        day.run("undo")
        assert late(day) == {}, late(day)
        day.run("plan", "--write", "--looks", "3:7")
        assert late(day)["looks_late"]["pulls"] == 3, late(day)
        day.run("undo")

        # Everything else that may be stated too late; each is told by its name, with as many pulls as were there.
        day.pull(4, 41)
        for what, keys in SAID.items():
            day.run("set", *(word for pair in keys for word in pair), *([] if keys[0][0].startswith("goal.") else ["--design", "ring"]))
            values = late(day)["stated_late"]
            assert (values["what"], values["pulls"]) == (what, 4), (what, values)
            day.run("undo")
            assert late(day) == {}, late(day)

        # A pull that comes later does not count; an editor leaves no trace, and cuts off what stands behind it; a copy has no journal.
        day.run("set", "family", "lognormal", "--design", "ring")
        day.pull(5, 42)
        assert late(day)["stated_late"]["pulls"] == 4, late(day)
        copy = Day.__new__(Day)
        copy.folder, copy.file = day.folder, day.folder / "copy.json"
        shutil.copy(day.file, copy.file)
        assert late(copy) == {}, late(copy)
        day.file.write_text(day.file.read_text() + "\n")
        assert late(day) == {}, late(day)
    print("late: all hold")


main()
