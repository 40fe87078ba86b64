"""Test day on the whole terminal, seen through a terminal emulator at 40 by 12 and 80 by 24: keys, large figures, countdown, a rung and a part back, cut off in a
dwell and gone on, another size, and a screen that stands still.

usage: day_screen.py PROGRAM"""
import multiprocessing
import os
import re
import select
import signal
import sys
import tempfile
import termios
import time

import pyte

from day_terminal import Day, part, planned, run

FIGURES = {"0": " _ | ||_|", "1": "     |  |", "2": " _  _||_ ", "3": " _  _| _|", "4": "   |_|  |", "5": " _ |_  _|", "6": " _ |_ |_|", "7": " _   |  |", "8": " _ |_||_|", "9": " _ |_| _|"}


class Screen(Day):
    """The same with what a person sees. The terminal is one without colours."""

    def __init__(self, columns, rows, *words, term="vt100"):
        self.seen = pyte.Screen(columns, rows)
        self.stream = pyte.ByteStream(self.seen)
        self.written, self.gone = b"", False
        super().__init__(columns, rows, *words, term=term)

    def resize(self, columns, rows):
        self.seen.resize(rows, columns)
        self.size(columns, rows)

    def read(self, seconds):
        if select.select([self.master], [], [], seconds)[0]:
            try:
                piece = os.read(self.master, 65536)
            except OSError:
                self.gone = True
                return
            self.written += piece
            self.stream.feed(piece)

    def text(self):
        return re.sub(r"\s+", " ", " ".join(self.seen.display))

    def sees(self, wanted, seconds=20):
        end = time.monotonic() + seconds
        while wanted not in self.text():
            assert time.monotonic() < end, (wanted, self.seen.display)
            self.read(0.05)
        while not self.gone and select.select([self.master], [], [], 0.05)[0] and time.monotonic() < end:
            self.read(0)
        return self.text()

    def press(self, keys, wanted):
        os.write(self.master, keys.encode())
        return self.sees(wanted)

    def large(self):
        """The large figures as a number: strokes of each, taken back to three by three."""
        rows = self.seen.display
        size = 2 if len(rows) >= 20 else 1
        for top in range(len(rows) - 2 * size):
            block = rows[top:top + 2 * size + 1]
            if not re.fullmatch(r"[ _]*", block[0]) or not re.search(r"(kg|s) *$", block[-1]):
                continue
            found, at = "", 0
            while block[-1][at] not in "ks":
                if block[-1][at] == ".":
                    found, at = found + ".", at + 1
                    continue
                cell = "".join(row[at] + row[at + 1] + row[at + size + 2] for row in (block[0], block[size], block[2 * size]))
                names = [name for name, strokes in FIGURES.items() if strokes == cell]
                if not names:
                    break
                found, at = found + names[0], at + size + 4
                while block[-1][at] == " " and not any(row[at:at + 3].strip() for row in block[:-1]) and block[-1][at + 1] in "ks":
                    at += 1
            if found:
                return found
        return None


def begin(columns, rows, *words, term="vt100"):
    day = Screen(columns, rows, *words, term=term)
    shown = day.sees("any key goes on")
    while "any key goes on" in day.text():
        os.write(day.master, b" ")
        before = day.text()
        end = time.monotonic() + 20
        while day.text() == before:
            assert time.monotonic() < end, before
            day.read(0.1)
        day.sees("")
        shown += day.text()
    for words_there in ("Stop when anything creaks", "Not for lifting or holding people", "the rig let go"):
        assert words_there in shown, (words_there, shown)
    return day


def mass(rung):
    return re.sub(r"[^\d.]", "", str(rung["load"]))


def a_day(columns, rows):
    parts, ladder = planned()
    first, second = parts[0]["id"], parts[1]["id"]
    day = begin(columns, rows, "--dwell", "1", "--by", "Kim")
    assert f"{first}, rung 1 of {len(ladder)}" in day.seen.display[0] and day.large() == mass(ladder[0]), day.seen.display
    day.press("\r", "hands off")
    assert day.large() == "1", day.seen.display
    day.sees("0: held? h or d")
    assert b"\a" in day.written and day.large() == "0", day.seen.display
    day.press("h", "rung 2 of")
    day.press("h", "rung 3 of")
    assert day.large() == mass(ladder[2]) and "take off" in day.text(), day.seen.display
    assert "take off" not in day.press("u", "rung 2 of"), "what hangs is not what the rung before says"
    day.press("n", "a note:")
    day.press("creaxx\x7f\x7fké\r", "held")
    day.press("h", "rung 3 of")
    day.press("d", "How did it fail")
    day.press("stitch\r", f"{second}, rung 1 of")
    assert "known of the design before it: about 490 N" in day.text() and f"{first}: failed between" in day.text(), day.seen.display
    found = part(first)
    assert (found["mode"], found["phase"], found["note"], found["info"]) == ("stitch", "dwell", "creaké", {"operator": "Kim"}), found
    day.press("u", f"{first}, rung 3 of")
    assert part(first)["outcome"] == "planned"
    day.press("a", "How did it fail")
    day.press("\r", f"{second}, rung 1 of")
    assert part(first)["phase"] == "adding" and "mode" not in part(first), part(first)
    day.press("h", "rung 2 of")
    day.press("x", "How did it fail")
    day.press("tear\r", "rung 1 of")
    assert part(second)["dropped"] is True and part(second)["mode"] == "tear"
    day.press("d", "1: tear")
    day.press("1\r", f"{parts[3]['id']}, rung 1 of")
    assert part(parts[2]["id"])["mode"] == "tear"
    for _ in ladder:
        os.write(day.master, b"h")
    assert os.waitstatus_to_exitcode(day.ends()) == 0
    assert part(parts[3]["id"])["outcome"] == "held"
    assert not re.search(rb"\x1b\[[\d;]*(?:3[0-7]|4[0-7]|38|48)[\d;]*m", day.written), "no colour is needed"


def stands_still(columns, rows):
    """A second of the countdown writes what has changed, and never clears."""
    planned()
    day = begin(columns, rows, "--dwell", "3", term="linux")
    day.press("\r", "hands off")
    day.written = b""
    day.sees("0: held?")
    assert len(day.written) < 3 * 60 + 120, (len(day.written), day.written)
    assert not re.search(rb"\x1b\[[0-3]?J|\x1bc", day.written), day.written
    day.press("q", "")
    assert day.ends() == 0


def cut_off_and_gone_on(number):
    parts, _ = planned()
    day = begin(80, 24, "--dwell", "30")
    before = termios.tcgetattr(day.master)
    day.press("h", "rung 2 of")
    day.press("\r", "hands off")
    day.written = b""
    os.kill(day.child, number)
    while not os.waitid(os.P_PID, day.child, os.WEXITED | os.WNOWAIT | os.WNOHANG):
        day.read(0.05)
    after = termios.tcgetattr(day.master)
    if number != signal.SIGKILL:
        assert not before[3] & termios.ICANON and after[3] & termios.ICANON and after[3] & termios.ECHO, "the terminal is given back"
        day.read(0.2)
        assert day.written.endswith(b"\x1b[?1l\x1b>"), day.written
    assert os.WTERMSIG(day.ends()) == number
    assert part(parts[0]["id"])["outcome"] == "planned"
    day = begin(80, 24, "--dwell", "0")
    assert f"{parts[0]['id']}, rung 2 of" in day.text() and f"{parts[0]['id']} goes on" in day.text(), day.seen.display
    day.press("o", f"{parts[1]['id']}, rung 1 of")
    assert part(parts[0]["id"])["outcome"] == "held"
    os.write(day.master, b"q")
    assert day.ends() == 0
    run("undo", "s.json")
    assert part(parts[0]["id"])["outcome"] == "planned"


def another_size():
    parts, ladder = planned()
    day = begin(80, 24, "--dwell", "20")
    day.press("\r", "hands off")
    for columns, rows in ((40, 12), (120, 40), (20, 6), (1, 1), (80, 24)):
        day.resize(columns, rows)
        time.sleep(0.2)
        day.read(0.1)
        if columns >= 40:
            day.sees("hands off")
            assert 10 < int(day.large()) <= 20, day.seen.display
    day.press("h", "rung 2 of")
    assert day.large() == mass(ladder[1]) and parts[0]["id"] in day.seen.display[0], day.seen.display
    os.close(day.master)  # the terminal is gone
    os.waitpid(day.child, 0)
    assert part(parts[0]["id"])["outcome"] == "planned"


def alone(claim, *words):
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        claim(*words)
        os.chdir("/")


def main():
    claims = [(a_day, 40, 12), (a_day, 80, 24), (stands_still, 40, 12), (stands_still, 80, 24), (another_size,),
              *((cut_off_and_gone_on, number) for number in (signal.SIGTERM, signal.SIGHUP, signal.SIGKILL))]
    children = [multiprocessing.Process(target=alone, args=claim) for claim in claims]  # they wait more than they work
    for child in children:
        child.start()
    for child in children:
        child.join()
    return any(child.exitcode for child in children)


if __name__ == "__main__":
    sys.exit(main())
