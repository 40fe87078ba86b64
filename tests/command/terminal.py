"""Runs the program on a pseudo-terminal: questions, colours.

usage: terminal.py PROGRAM
"""
import json
import os
import pty
import re
import select
import shutil
import sys
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
PROGRAM = os.path.abspath(sys.argv[1])
LIMIT_SECONDS = 30


def run(words, answers, folder, **variables):
    """Exit code and everything shown when each question ("...: ") gets the next answer."""
    child, master = pty.fork()
    if child == 0:
        os.chdir(folder)
        kept = {name: os.environ[name] for name in ("ASAN_OPTIONS", "UBSAN_OPTIONS") if name in os.environ}
        os.execve(PROGRAM, ["holdfast", *words], {"TERM": "xterm", **kept, **variables})
    shown, answers, answered = b"", list(answers), 0
    end = time.monotonic() + LIMIT_SECONDS
    while time.monotonic() < end:
        if not select.select([master], [], [], 1)[0]:
            continue
        try:
            piece = os.read(master, 65536)
        except OSError:
            break
        if not piece:
            break
        shown += piece
        if answers and shown[answered:].endswith(b": "):
            answered = len(shown)
            os.write(master, answers.pop(0).encode("utf-8", "surrogateescape") + b"\n")
    os.close(master)
    status = os.waitpid(child, 0)[1]
    assert not answers, f"never asked for {answers}: {shown.decode()}"
    return os.waitstatus_to_exitcode(status), shown.decode(errors="replace")


def check_new(folder):
    answers = ["Sail corners", "", "nothing", "2.6 kg", "", "6x10kg 2x5kg", "stone", "", "", "", "ring", "92kg", "", "0.5", "4", ""]
    # "stone", "nothing" and 0.5 parts are refused and asked again; "" takes what is offered.
    code, shown = run(["new", "made.json"], answers, folder)
    assert code == 0, shown
    assert 'found "stone"' in shown and "whole number" in shown, shown
    with open(os.path.join(folder, "made.json"), encoding="utf-8") as file:
        made = json.load(file)
    assert made["title"] == "Sail corners" and made["unit"] == "kg", made
    assert made["rig"]["records"] == "added", made
    assert [part["outcome"] for part in made["designs"][0]["specimens"]] == ["planned"] * 4, made
    code, shown = run(["new", "made.json"], [], folder)
    assert code == 5 and "exists" in shown, shown
    # Service load, factor, scatter, three designs; back over the beginning of a design and of the questions; an answer taken away.
    answers = ["<", "Corner", "", "2 kg", "122 kg", "12x5kg", "", "5kg", "3", "ring", "50", "<", "52kg", "7%",
               "<", "8%", "eyelet", "pressed eyelet", "40", "10%", "plaet", "<", "<", "11%", "plate", "clamped plate", "60", "12%", "nut", "<", "-"]
    code, shown = run(["new", "three.json"], answers, folder)
    assert code == 0 and "glued by hand: 15 to 25 %" in shown and "plan three.json --write" in shown, shown
    with open(os.path.join(folder, "three.json"), encoding="utf-8") as file:
        three = json.load(file)
    assert [(one["id"], one["name"], one["guess"], one["specimens"]) for one in three["designs"]] == [
        ("ring", "ring", {"mean": "52kg", "cv": 0.08}, []), ("eyelet", "pressed eyelet", {"mean": 40, "cv": 0.11}, []),
        ("plate", "clamped plate", {"mean": 60, "cv": 0.12}, [])], three["designs"]
    assert three["goal"]["design_factor"] == 3 and three["goal"]["service_load"] == "5kg" and three["unit"] == "kg", three


def check_record(folder):
    shutil.copy(os.path.join(HERE, "cases", "sail.json"), folder)
    code, shown = run(["record", "sail.json", "ring-01"], ["broke", "", "dwell", "y", "7", "<", "760", "800", "stitch", "roll 4", "<", "<", "", "roll 3", "A", ""], folder)
    assert code == 0, shown
    assert 'found "broke"' in shown and "How it failed, such as stitch (empty: not seen) [stitch]: " in shown, shown
    with open(os.path.join(folder, "sail.json"), encoding="utf-8") as file:
        part = json.load(file)["designs"][0]["specimens"][0]
    assert (part["held"], part["failed"], part["mode"], part["phase"], part["batch"]) == (760, 800, "stitch", "dwell", "roll 3") and part["dropped"] is True, part
    assert part["info"] == {"operator": "A"} and len(part["date"]) == 10, part
    assert "note" not in part, part


def check_doubts(folder):
    """What does not look right is asked about; no leaves the file as it is."""
    shutil.copy(os.path.join(HERE, "cases", "sail.json"), folder)
    words = ["record", "sail.json", "ring-01", "--held", "7600", "--failed", "8000"]
    with open(os.path.join(folder, "sail.json"), encoding="utf-8") as file:
        old = file.read()
    code, shown = run(words, ["n"], folder)
    assert code == 3 and "ring-01: --failed 8000 N puts 8025 N on the part, above the rig's rating of 2500 N. Is it so? [y/N]" in shown, shown
    with open(os.path.join(folder, "sail.json"), encoding="utf-8") as file:
        assert file.read() == old
    code, shown = run(words, ["y", "yes"], folder)
    assert code == 0 and "more than three times" in shown, shown
    with open(os.path.join(folder, "sail.json"), encoding="utf-8") as file:
        assert json.load(file)["designs"][0]["specimens"][0]["failed"] == 8000


def check_default_names(folder):
    """What no terminal can show goes into a new file with a name that is told, and replaces none; text and what is named go as before."""
    shutil.copy(os.path.join(HERE, "cases", "pulled.json"), folder)
    shutil.copy(os.path.join(HERE, "cases", "planned.json"), folder)
    for words, name, begins in ((["report", "pulled.json"], "pulled-report.html", "<!DOCTYPE"), (["report", "pulled.json"], "pulled-report-2.html", "<!DOCTYPE"),
                                (["chart", "pulls", "pulled.json"], "pulled-pulls.svg", "<svg"), (["notebook", "pulled.json"], "pulled.ipynb", "{"),
                                (["sheet", "planned.json"], "planned-sheet.html", "<!DOCTYPE")):
        before = set(os.listdir(folder))
        code, shown = run(words, [], folder)
        assert set(os.listdir(folder)) - before == {name} and f"wrote {name}" in shown and "<body" not in shown, (code, shown, os.listdir(folder))
        with open(os.path.join(folder, name), encoding="utf-8") as file:
            assert begins in file.read(300), name
    before = set(os.listdir(folder))
    assert "# " in run(["report", "pulled.json", "--format", "md"], [], folder)[1]
    assert "<svg" in run(["chart", "pulls", "pulled.json", "-o", "-"], [], folder)[1]
    assert set(os.listdir(folder)) == before


def check_bad_bytes(folder):
    """Bytes that are no UTF-8 are refused where they are typed, not when all has been asked."""
    shutil.copy(os.path.join(HERE, "cases", "sail.json"), folder)
    code, shown = run(["record", "sail.json", "ring-01"], ["", "", "", "760", "800", "sti\udcfftch", "stitch", "", "", ""], folder)
    assert code == 0, shown
    assert "--mode: found bytes that are no UTF-8" in shown, shown
    with open(os.path.join(folder, "sail.json"), encoding="utf-8") as file:
        assert json.load(file)["designs"][0]["specimens"][0]["mode"] == "stitch"


def check_visible(folder):
    """What a terminal could take for an order, or what turns the direction of writing, never goes there raw; into a file it does."""
    hostile = "a\x1b]0;owned\x07b\x9bc\u202ed\u2066e"
    with open(os.path.join(HERE, "cases", "pulled.json"), encoding="utf-8") as file:
        campaign = json.load(file)
    part = campaign["designs"][0]["specimens"][0]
    campaign["title"] = part["note"] = part["mode"] = hostile
    campaign["designs"][0]["name"] = hostile
    campaign["designs"][0]["specimens"][1] = {"id": "odd", "outcome": "planned", hostile: 1}
    path = os.path.join(folder, "hostile.json")
    bad = re.compile("\x1b\\]|[\x07\x9b\u202e\u2066]")
    for also, words in ((1, ["check"]), (0, ["check"]), (0, ["check", "--json"]), (0, ["export"]), (0, ["assess"]), (0, ["report"])):
        if not also:
            campaign["designs"][0]["specimens"][1].pop(hostile, None)
        with open(path, "w", encoding="utf-8") as file:
            json.dump(campaign, file)
        shown = run([*words, "hostile.json"], [], folder)[1]
        assert "a" in shown and not bad.search(shown), (words, bad.search(shown), shown)
    run(["export", "hostile.json", "-o", "out.csv"], [], folder)
    with open(os.path.join(folder, "out.csv"), encoding="utf-8") as file:
        assert "\u202e" in file.read()
    assert not bad.search(run(["check", "no\x1b]0;\x07\u202esuch.json"], [], folder)[1])


def check_strips(folder):
    """Bound, working load, what is asked and whole parts stand where the JSON has them; none where there is no room or no terminal."""
    shutil.copy(os.path.join(HERE, "..", "..", "datasets", "shade-sail.json"), os.path.join(folder, "strips.json"))
    run(["assess", "strips.json", "--json", "-o", "strips.out"], [], folder)
    with open(os.path.join(folder, "strips.out"), encoding="utf-8") as file:
        designs = {one["name"]: one for one in json.load(file)["designs"]}
    escape, name_columns = re.compile("\x1b\\[[0-9;]*m"), max(map(len, designs))
    cells = 80 - 2 - name_columns - 2
    for words, marks in (([], "█┃┊▶"), (["--ascii"], "#|:>")):
        lines = escape.sub("", run(["assess", "strips.json", *words], [], folder, COLUMNS="80")[1]).splitlines()
        most = float(next(re.search(r"whole; 0 to (\S+) N", line)[1] for line in lines if "whole; 0 to" in line))
        for name, one in designs.items():
            line = next(line for line in lines if line.startswith("  " + name) and marks[1] in line)
            strip = line[2 + name_columns + 2:]
            shown = [strip.rindex(marks[0]), strip.index(marks[1]), strip.index(marks[2])]
            stated = [one["working_load"]["unrounded"], one["governing"]["value"], one["goal"]["service_load"]]
            assert len(line) <= 80 and shown == [int(load / most * cells) for load in stated], (line, shown, stated, most)
        assert sum(line.count(marks[3]) for line in lines if line.startswith("  clamped plate") and marks[1] in line) == 2, lines  # two that outlasted the same weights
        assert not words or all(ord(c) < 128 for line in lines if line.startswith("  clamped plate") for c in line)
    for words, columns in ((["assess", "strips.json"], "59"), (["assess", "strips.json", "--full"], "80"), (["assess", "strips.json", "--format", "md"], "80")):
        assert "┃" not in run(words, [], folder, COLUMNS=columns)[1], words
    assert "┃" in run(["compare", "strips.json"], [], folder, COLUMNS="80")[1]


def check_color(folder):
    words = ["assess", "pulled.json"]
    shutil.copy(os.path.join(HERE, "cases", "pulled.json"), folder)
    escape = re.compile("\x1b\\[")
    assert escape.search(run(words, [], folder)[1]), "no colours on a terminal"
    assert not escape.search(run(words, [], folder, NO_COLOR="1")[1]), "NO_COLOR is not respected"
    assert not escape.search(run(words, [], folder, TERM="dumb")[1]), "TERM=dumb is not respected"
    assert not escape.search(run(words, [], folder, CLICOLOR_FORCE="1", NO_COLOR="1")[1]), "NO_COLOR must win"
    assert not escape.search(run([*words, "--color", "never"], [], folder)[1]), "--color never is not respected"
    assert escape.search(run([*words, "--color=always"], [], folder, NO_COLOR="1")[1]), "--color always must win"


if __name__ == "__main__":
    for check in (check_new, check_record, check_doubts, check_default_names, check_bad_bytes, check_visible, check_color, check_strips):
        with tempfile.TemporaryDirectory() as scratch:
            check(scratch)
