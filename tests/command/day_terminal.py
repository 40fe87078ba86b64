"""A campaign with a plan, and day at a pseudo terminal on it; for the tests of both ways it is shown."""
import fcntl
import json
import os
import pty
import select
import struct
import subprocess
import sys
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

    def __init__(self, columns, rows, *words, term="linux"):
        self.shown = ""
        self.child, self.master = pty.fork()
        if not self.child:
            self.master = 0
            self.size(columns, rows)
            os.environ.pop("COLUMNS", None)
            os.environ["TERM"] = term
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


