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
            os.write(master, answers.pop(0).encode() + b"\n")
    os.close(master)
    status = os.waitpid(child, 0)[1]
    assert not answers, f"never asked for {answers}: {shown.decode()}"
    return os.waitstatus_to_exitcode(status), shown.decode()


def check_new(folder):
    answers = ["Sail corners", "stone", "kg", "", "nothing", "2.6 kg", "", "6x10kg 2x5kg", "ring", "92kg", "0.5",
               "4", ""]
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


def check_record(folder):
    shutil.copy(os.path.join(HERE, "cases", "sail.json"), folder)
    code, shown = run(["record", "sail.json", "ring-01"], ["broke", "", "760", "800", "stitch", ""], folder)
    assert code == 0, shown
    assert 'found "broke"' in shown, shown
    with open(os.path.join(folder, "sail.json"), encoding="utf-8") as file:
        part = json.load(file)["designs"][0]["specimens"][0]
    assert (part["held"], part["failed"], part["mode"]) == (760, 800, "stitch"), part
    assert "note" not in part, part


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
    for check in (check_new, check_record, check_color):
        with tempfile.TemporaryDirectory() as scratch:
            check(scratch)
