"""Nothing a person types loses what is in a campaign, and what is kept is said.

usage: keeping.py PROGRAM SHIM [NAME ...]

Each function is one claim; it runs in a folder of its own with s.json, a campaign of eight parts."""
import fcntl
import json
import os
import shutil
import signal
import stat
import subprocess
import sys
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
PROGRAM, SHIM = (os.path.abspath(word) for word in sys.argv[1:3])
CASES = os.path.join(HERE, "..", "command", "cases")
RECORD = ["record", "s.json", "ring-01", "--held", "760", "--failed", "800"]


def environment(wish):
    variables = {"PATH": "/usr/bin:/bin", "LC_ALL": "C"}
    variables["ASAN_OPTIONS"] = os.environ.get("ASAN_OPTIONS", "") + ":verify_asan_link_order=0:detect_leaks=0"
    return variables | ({"LD_PRELOAD": SHIM, "HF_SHIM": wish} if wish else {})


def run(words, stdin=os.devnull):
    with open(stdin, encoding="utf-8") as source:
        return subprocess.run([PROGRAM, *words], env=environment(None), stdin=source, capture_output=True, text=True, timeout=60,
                              check=False)


def read(name="s.json"):
    with open(name, encoding="utf-8", newline="") as file:
        return file.read()


def write(name, text):
    with open(name, "w", encoding="utf-8", newline="") as file:
        file.write(text)


def parts():
    return {part["id"]: part for part in json.loads(read())["designs"][0]["specimens"]}


def must(result, code, *words):
    assert result.returncode == code, (code, result)
    for word in words:
        assert word in result.stderr, (word, result.stderr)


class Stopped:
    """The program, stopped before a call; going on when the block ends, and its result."""

    def __init__(self, words, call, number=1):
        self.child = subprocess.Popen([PROGRAM, *words], env=environment(f"stop {call} {number} before"), text=True,
                                      stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE)

    def __enter__(self):
        end = time.monotonic() + 60
        while time.monotonic() < end:
            with open(f"/proc/{self.child.pid}/stat", encoding="ascii", errors="replace") as file:
                state = file.read().rsplit(")", 1)[1].split()[0]
            if state == "T":
                return self
            assert state != "Z", self.child.communicate()
            time.sleep(0.01)
        raise AssertionError("never came to that call")

    def __exit__(self, *_):
        self.child.send_signal(signal.SIGCONT)
        out, errors = self.child.communicate(timeout=60)
        self.result = subprocess.CompletedProcess([], self.child.returncode, out, errors)


def left():
    return [name for name in os.listdir(".") if name.startswith(".holdfast-")]


def output_never_onto_a_campaign():
    old = read()
    shutil.copy("s.json", "other.json")
    write("odd.json", '\ufeff {"title": "x\\"{", "list": [{"format": 1}],\n "format" : "holdfast-campaign/7", and then nonsense')
    os.symlink("s.json", "link.json")
    os.link("s.json", "hard.json")
    os.mkdir("sub")
    write("s.json.log", "")
    names = ["s.json", "./s.json", "sub/../s.json", "link.json", "hard.json", "other.json", "odd.json", "s.json.log"]
    for name in names:
        kept = read(name)
        must(run(["assess", "s.json", "-o", name]), 2, name, "expected another file, such as -o ")
        assert read(name) == kept, name
    for words in (["check", "s.json"], ["export", "s.json"], ["plan", "s.json", "--write"], ["plan", "next", "s.json"], ["sheet", "s.json"],
                  ["compare", "s.json"], ["factor", "--n", "5"], ["coverage", "--n", "5"], ["report", "s.json"], ["help", "plan"],
                  ["chart", "steps", "s.json"], ["notebook", "s.json"], ["plan", "--mean", "900", "--cv", "0.1"],
                  ["plan", "contrast", "--ratio", "1.2", "--cv", "0.1"], ["plan", "proof", "--load", "500"]):
        result = run([*words, "-o", "s.json"])
        must(result, 2)
        assert "would be lost" in result.stderr or "unknown option" in result.stderr, (words, result.stderr)
        assert read() == old, words


def output_elsewhere_still_works():
    write("result.txt", '{"format": "holdfast-result/1"}')
    must(run(["export", "s.json", "-o", "result.txt"]), 0)
    must(run(["help", "--markdown", "-o", "/dev/null"]), 0)
    write("notes.log", "")
    must(run(["export", "s.json", "-o", "notes.log"]), 0)


def another_writer_is_waited_for_and_then_told():
    must(run(RECORD), 0)
    old = read()
    with open("s.json.log", "a", encoding="utf-8") as log:
        fcntl.flock(log, fcntl.LOCK_EX)
        start = time.monotonic()
        result = run(["record", "s.json", "ring-02", "--held", "760", "--failed", "800"])
        assert time.monotonic() - start >= 9.9
    must(result, 5, "s.json", "10 seconds", "nothing was written")
    assert read() == old
    must(run(["record", "s.json", "ring-02", "--held", "760", "--failed", "800"]), 0)
    assert os.path.exists("s.json.log")


def a_folder_without_room_for_the_lock():
    old = read()
    os.mkdir("s.json.log")
    must(run(RECORD), 5, "s.json.log")
    assert read() == old and not left()


def a_link_is_locked_where_it_leads():
    os.mkdir("sub")
    os.symlink("../s.json", "sub/link.json")
    must(run(["record", "sub/link.json", *RECORD[2:]]), 0)
    assert os.path.exists("s.json.log") and not os.path.exists("sub/link.json.log") and os.path.islink("sub/link.json")
    assert parts()["ring-01"]["failed"] == 800


def an_edit_saved_meanwhile_is_kept():
    with Stopped(RECORD, "fsync") as stopped:
        write("s.json", read().replace("invented", "edited meanwhile"))
    must(stopped.result, 0)
    assert "edited meanwhile" in read() and parts()["ring-01"]["failed"] == 800 and not left()


def a_table_comes_into_the_edited_file():
    write("t.csv", "id,held [N],failed [N]\nlate,760,800\n")
    with Stopped(["import", "s.json", "t.csv", "--design", "ring"], "fsync") as stopped:
        write("s.json", read().replace("invented", "edited meanwhile"))
    must(stopped.result, 0)
    assert "edited meanwhile" in read() and parts()["late"]["failed"] == 800


def undo_steps_back_and_keeps_what_an_editor_did():
    first = read()
    must(run(RECORD), 0)
    second = read()
    must(run(["record", "s.json", "ring-02", "--held", "760", "--failed", "800"]), 0)
    must(run(["undo", "s.json"]), 0)
    assert read() == second
    must(run(PILOT), 0)
    must(run(["undo", "s.json"]), 0)
    assert read() == second
    write("s.json", second.replace("invented", "edited since"))
    result = run(["undo", "s.json", "--json"])
    must(result, 0)
    told = json.loads(result.stdout)
    assert told["edited_since"] and told["taken_back"]["number"] == 1 and "undo_takes_back" not in told
    assert read() == first.replace("invented", "edited since")
    must(run(["undo", "s.json"]), 4, "nothing is left to take back")


def undo_refuses_what_no_longer_fits():
    must(run(RECORD), 0)
    write("s.json", read().replace("800", "801"))
    old = read()
    must(run(["undo", "s.json"]), 3, "change 1", "does not stand there any more")
    assert read() == old
    shutil.copy("s.json", "copy.json")
    must(run(["undo", "copy.json"]), 4, "copied or renamed", "copy.json.log")
    write("s.json", read()[:-4])
    history = run(["history", "s.json"])
    must(history, 0)
    assert "something else changed the file" in history.stdout
    must(run(["undo", "-"]), 2)


def a_line_that_was_cut_off_is_passed_over():
    must(run(RECORD), 0)
    log = read("s.json.log")
    write("s.json.log", log + log[:200])
    must(run(["record", "s.json", "ring-02", "--held", "760", "--failed", "800"]), 0)
    assert read("s.json.log").startswith(log + log[:200] + "\n{")
    history = run(["history", "s.json"])
    assert "2 changes" in history.stdout and "1 line of the journal cannot be read" in history.stdout, history
    must(run(["undo", "s.json"]), 0)
    must(run(["undo", "s.json"]), 0)
    assert all(part["outcome"] == "planned" for part in parts().values() if part["id"] in ("ring-01", "ring-02"))


def what_changes_nothing_writes_nothing():
    must(run(RECORD + ["--note", "same"]), 0)
    log = read("s.json.log")
    must(run(["record", "s.json", "ring-01", "--note", "same", "--again"]), 0)
    assert read("s.json.log") == log


PILOT = ["plan", "s.json", "--write", "--pilot-from", "100", "--pilot-to", "2000"]


def a_plan_keeps_the_pull_recorded_meanwhile():
    with Stopped(PILOT, "flock") as stopped:
        must(run(RECORD), 0)
    must(stopped.result, 0)
    assert parts()["ring-01"]["failed"] == 800 and json.loads(read())["plan"]


def a_plan_for_another_goal_is_not_written():
    with Stopped(PILOT, "flock") as stopped:
        campaign = json.loads(read())
        campaign["goal"] = {"content": 0.99, "confidence": 0.95}
        write("s.json", json.dumps(campaign, indent=1))
        old = read()
    must(stopped.result, 5, "changed meanwhile", "goal")
    assert read() == old


def signals_remove_what_is_half_done():
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        old = read()
        with Stopped(RECORD, "rename") as stopped:
            assert len(left()) == 1
            stopped.child.send_signal(number)
        assert stopped.result.returncode == -number and read() == old and not left(), (number, stopped.result, left())


def rights_and_links():
    os.chmod("s.json", 0o444)
    old = read()
    must(run(RECORD), 5, "read-only", "chmod u+w s.json")
    assert read() == old
    os.chmod("s.json", 0o640)
    os.link("s.json", "hard.json")
    must(run(RECORD), 0, "2 names", "the other keeps the old")
    assert stat.S_IMODE(os.stat("s.json").st_mode) == 0o640 and read("hard.json") == old
    os.chmod("hard.json", 0o444)
    must(run(["export", "s.json", "-o", "t.csv"]), 0)
    os.chmod("t.csv", 0o444)
    must(run(["export", "s.json", "-o", "t.csv"]), 5, "read-only")


def closed_output_says_what_is_kept():
    result = subprocess.run(["/bin/sh", "-c", '"$@" >&-', "sh", PROGRAM, *RECORD], env=environment(None), stdin=subprocess.DEVNULL,
                            stderr=subprocess.PIPE, text=True, check=False)
    must(result, 5, "standard output", "all the same the pull of ring-01 is in s.json")
    assert parts()["ring-01"]["failed"] == 800 and read("s.json.log").count("\n") == 1
    write("t.csv", "id,held [N],failed [N]\nlate,760,800\n")
    for words, said in ((["import", "s.json", "t.csv", "--design", "ring"], "the new pulls are in s.json"),
                        (PILOT, "the plan is in s.json")):
        with open("/dev/full", "w", encoding="utf-8") as full:
            result = subprocess.run([PROGRAM, *words], env=environment(None), stdin=subprocess.DEVNULL, stdout=full, stderr=subprocess.PIPE,
                                    text=True, check=False)
        must(result, 5, "all the same " + said)


def lines_end_as_they_do_in_the_file():
    write("s.json", read().replace("\n", "\r\n"))
    write("t.csv", "id,held [N],failed [N]\nlate,760,800\n")
    for words in (RECORD, ["import", "s.json", "t.csv", "--design", "ring"], PILOT):
        must(run(words), 0)
        assert read().count("\n") == read().count("\r\n"), (words, read())


def pipes_and_bad_bytes_are_refused():
    os.mkfifo("pipe.json")
    must(run(["record", "pipe.json", *RECORD[2:]]), 5, "pipe")
    must(run(["check", "pipe.json"]), 5, "pipe", "type -")
    old = read()
    result = subprocess.run([PROGRAM.encode(), *(word.encode() for word in RECORD), b"--mode", b"sti\xfftch"], env=environment(None),
                            capture_output=True, check=False)
    assert result.returncode == 2 and b"--mode" in result.stderr and b"UTF-8" in result.stderr, result
    assert read() == old
    must(run(["plan", "-", "--write"], stdin="s.json"), 2, "--write needs a campaign file")


def main():
    names = sys.argv[3:]
    claims = [value for name, value in globals().items() if callable(value) and value.__module__ == "__main__"
              and not isinstance(value, type) and value.__code__.co_argcount == 0 and name not in ("main", "left", "parts")]
    claims = [claim for claim in claims if claim.__name__ not in ("read",) and (not names or claim.__name__ in names)]
    failed = 0
    for claim in claims:
        with tempfile.TemporaryDirectory(prefix="holdfast-keeping-") as folder:
            shutil.copy(os.path.join(CASES, "sail.json"), os.path.join(folder, "s.json"))
            os.chdir(folder)
            try:
                claim()
            except (AssertionError, subprocess.TimeoutExpired) as error:
                failed += 1
                print(f"{claim.__name__}: {error}")
            os.chdir(HERE)
    print(f"{len(claims)} claims, {failed} failed")
    return 1 if failed or not claims else 0


if __name__ == "__main__":
    sys.exit(main())
