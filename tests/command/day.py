"""Test day under a pseudo terminal, as wide as a desk and as small as a telephone: keys, countdown, a rung back, cut off in a dwell and gone on.

usage: day.py PROGRAM"""
import fcntl
import json
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import time

PROGRAM = os.path.abspath(sys.argv[1])
NEW = ["new", "s.json", "--tare", "2.1kg", "--weights", "12x5kg 6x2kg", "--rating", "122kg", "--design", "ring", "--mean", "50kg", "--cv", "12%"]


def run(*words):
    result = subprocess.run([PROGRAM, *words], capture_output=True, text=True, timeout=60, check=False)
    assert result.returncode == 0, (words, result)
    return result.stdout


class Day:
    """The program at a terminal of so many columns and rows."""

    def __init__(self, columns, rows, *words):
        self.shown = ""
        self.child, self.master = pty.fork()
        if not self.child:
            self.master = 0
            self.size(columns, rows)
            os.environ.pop("COLUMNS", None)
            os.execv(PROGRAM, [PROGRAM, "day", "s.json", *words])

    def size(self, columns, rows):
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def until(self, wanted, seconds=20):
        """What is shown up to these words."""
        end = time.monotonic() + seconds
        while wanted not in self.shown:
            assert time.monotonic() < end, (wanted, self.shown)
            if select.select([self.master], [], [], 0.1)[0]:
                try:
                    self.shown += os.read(self.master, 4096).decode()
                except OSError:
                    assert wanted in self.shown, (wanted, self.shown)
        before, _, self.shown = self.shown.partition(wanted)
        return before + wanted

    def type(self, line):
        os.write(self.master, line.encode() + b"\n")

    def ends(self):
        while True:
            try:
                if not os.read(self.master, 4096):
                    break
            except OSError:
                break
        return os.waitpid(self.child, 0)[1]


def planned():
    run(*NEW)
    run("plan", "s.json", "--write", "--max-n", "4")
    with open("s.json", encoding="utf-8") as file:
        campaign = json.load(file)
    return sorted(campaign["designs"][0]["specimens"], key=lambda part: part["order"]), campaign["plan"]["ladders"]["ring"]


def part(name):
    with open("s.json", encoding="utf-8") as file:
        return {one["id"]: one for one in json.load(file)["designs"][0]["specimens"]}[name]


def a_day(columns, rows):
    parts, ladder = planned()
    day = Day(columns, rows, "--dwell", "1", "--by", "Kim")
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
    day = Day(80, 24, "--dwell", "30")
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
    day = Day(80, 24, "--dwell", "0")
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
