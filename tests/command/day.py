"""Test day line by line under a pseudo terminal, as wide as a desk and as small as a telephone: keys, countdown, a rung back, cut off in a dwell
and gone on.

usage: day.py PROGRAM"""
import os
import re
import signal
import tempfile

from day_terminal import Day, part, planned, run


def a_day(columns, rows):
    parts, ladder = planned()
    day = Day(columns, rows, "--dwell", "1", "--by", "Kim", "--lines")
    shown = day.until("key: ")
    assert "Stop when anything creaks" in " ".join(shown.split()), shown
    assert f"{parts[0]['id']}, rung 1 of {len(ladder)}" in shown, shown
    day.type("")
    shown += day.until("0: held? h or d") + day.until("key: ")
    assert "\a" in shown and "hands off, 1 s" in shown, shown
    for key in ("h", "h", "u", "n creaked", "h"):
        day.type(key)
        shown += day.until("key: ")
    day.type("d")
    shown += day.until("unseen): ")
    day.type("stitch")
    shown += day.until("rung 1 of ")
    widest = max(len(line) for line in shown.replace("\r", "").split("\n"))
    assert widest <= columns, (columns, [line for line in shown.split("\n") if len(line) > columns])
    assert not re.search("\x1b", shown), "no colour and no moving screen is needed"
    found = part(parts[0]["id"])
    assert (found["mode"], found["phase"], found["note"], found["info"]) == ("stitch", "dwell", "creaked", {"operator": "Kim"}), found
    assert found["failed"].split()[0] == str(ladder[2]["load"]).split()[0] and "duration_s" in found and "date" in found, (found, ladder[2])
    day.until("key: ")
    day.type("q")
    assert day.ends() == 0


def cut_off_and_gone_on(number):
    parts, _ = planned()
    day = Day(80, 24, "--dwell", "30", term="dumb")
    day.until("key: ")
    day.type("h")
    day.until("rung 2 of")
    day.until("key: ")
    day.type("")
    day.until("hands off")
    day.size(60, 20)
    os.kill(day.child, signal.SIGWINCH)
    os.kill(day.child, number)
    assert os.WTERMSIG(day.ends()) == number
    assert part(parts[0]["id"])["outcome"] == "planned"
    day = Day(80, 24, "--dwell", "0", term="no-such-terminal")
    shown = day.until("key: ")
    assert f"{parts[0]['id']} goes on" in shown and f"{parts[0]['id']}, rung 2 of" in shown, shown
    day.type("o")
    day.until(f"{parts[1]['id']}, rung 1 of")
    assert part(parts[0]["id"])["outcome"] == "held"
    day.until("key: ")
    day.type("q")
    assert day.ends() == 0
    run("undo", "s.json")
    assert part(parts[0]["id"])["outcome"] == "planned"


for claim, words in ((a_day, (40, 12)), (a_day, (80, 24)), *((cut_off_and_gone_on, (n,)) for n in (signal.SIGTERM, signal.SIGHUP, signal.SIGKILL))):
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        claim(*words)
        os.chdir("/")
