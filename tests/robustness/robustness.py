"""Has the file work of the program go wrong in every way the system knows, and looks what is left.

usage: robustness.py PROGRAM SHIM [--long PAGE]

After each trial the file must be the old one or the new one, whole; exit 0 means the new one, a failure the old one unless its message
says that the change was made; nothing may crash; no temporary file may stay, except after a kill, and then the next writing sweeps it
once it is old; and the same command, run again, must do its work. The short form takes one fault and one kill per call; --long takes
every fault, 1000 kills, two writers of 200 pulls each, and writes the figures into PAGE."""
import concurrent.futures
import itertools
import json
import os
import random
import re
import resource
import signal
import subprocess
import sys
import tempfile
import time

PROGRAM, SHIM = (os.path.abspath(word) for word in sys.argv[1:3])
PAGE = os.path.abspath(sys.argv[4]) if sys.argv[3:4] == ["--long"] else None
LONG = PAGE is not None
ERRORS = {"EIO": 5, "ENOSPC": 28, "EDQUOT": 122}
SEED = 20260501
TEMPORARY = re.compile(r"\.holdfast-[0-9a-f]{16}-[0-9a-f]{4}\.tmp")
SAID_DONE = "all the same "


def campaign(parts):
    """A campaign of planned parts, one a line."""
    lines = ",\n".join(f'        {{ "id": "ring-{i:03d}", "outcome": "planned" }}' for i in range(1, parts + 1))
    return f"""{{
  "format": "holdfast-campaign/1",
  "title": "Corner fittings for a shade sail (invented)",
  "rig": {{ "records": "total" }},
  "designs": [
    {{
      "id": "ring",
      "name": "Sewn ring",
      "guess": {{ "mean": 900, "cv": 0.12 }},
      "specimens": [
{lines}
      ]
    }}
  ]
}}
"""


class Scene:
    """A command, the files it starts from, and the one file it changes."""

    def __init__(self, name, words, target, files):
        self.name, self.words, self.target, self.files = name, words, target, files
        with tempfile.TemporaryDirectory() as folder:
            self.prepare(folder)
            result = self.run(folder)
            assert result.returncode == 0, result.stderr
            self.new = read(folder, target)
        self.old = files.get(target)
        assert self.new != self.old

    def prepare(self, folder):
        for name, text in self.files.items():
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write(text)

    def run(self, folder, wish=None, log=None, **more):
        return run(self.words, folder, wish, log, **more)


def environment(wish=None, log=None):
    variables = {"PATH": "/usr/bin:/bin", "LC_ALL": "C"}
    variables["ASAN_OPTIONS"] = os.environ.get("ASAN_OPTIONS", "") + ":verify_asan_link_order=0:detect_leaks=0"
    if "UBSAN_OPTIONS" in os.environ:
        variables["UBSAN_OPTIONS"] = os.environ["UBSAN_OPTIONS"]
    if wish or log:
        variables.update(LD_PRELOAD=SHIM, HF_SHIM=wish or "")
    if log:
        variables["HF_SHIM_LOG"] = log
    return variables


def run(words, folder, wish=None, log=None, **more):
    return subprocess.run([PROGRAM, *words], cwd=folder, env=environment(wish, log), stdin=subprocess.DEVNULL,
                          capture_output=True, text=True, timeout=120, check=False, **more)


def read(folder, name):
    try:
        with open(os.path.join(folder, name), encoding="utf-8") as file:
            return file.read()
    except FileNotFoundError:
        return None


def temporaries(folder):
    return [name for name in os.listdir(folder) if TEMPORARY.fullmatch(name)]


def check(scene, folder, result, label):
    """The rules of the first lines of this file, but the last."""
    found = read(folder, scene.target)
    killed = result.returncode == -signal.SIGKILL
    say = f"{scene.name}: {label}: exit {result.returncode}: {result.stderr}"
    assert found in (scene.old, scene.new), f"{say}: neither the old file nor the new one:\n{found}"
    for name, text in scene.files.items():
        kept = read(folder, name) == text if not name.endswith(".log") else read(folder, name).startswith(text)
        assert name == scene.target or kept, f"{say}: {name} is not what it was"
    if killed:
        return
    assert result.returncode in (0, 5), f"{say}: neither done nor a file that failed"
    done = result.returncode == 0 or SAID_DONE in result.stderr
    assert found == (scene.new if done else scene.old), f"{say}: what was said is not what was done"
    assert result.returncode == 0 or result.stderr, f"{say}: not a word"
    assert label.startswith("fail unlink") or not temporaries(folder), f"{say}: {temporaries(folder)} left"


def taken_back(scene, folder, label):
    """The journal is readable, and knows whether the change stands in the file: then undo brings the old text back, else it has nothing to do."""
    if not scene.old or scene.target != "s.json" or scene.words[0] == "undo":
        return
    found = read(folder, scene.target)
    history = json.loads(run(["history", "s.json", "--json"], folder).stdout)
    standing = [change["standing"] for change in history["changes"]]
    assert standing in ([], ["never"], ["stands"]) and history["broken_lines"] <= 1, f"{scene.name}: {label}: {history}"
    assert (standing == ["stands"]) == (found == scene.new), f"{scene.name}: {label}: the journal says {standing}"
    result = run(["undo", "s.json"], folder)
    assert result.returncode == (0 if found == scene.new else 4), f"{scene.name}: {label}: undo: {result}"
    assert read(folder, scene.target) == scene.old, f"{scene.name}: {label}: undo did not bring the old text back"


def trial(scene, wish):
    with tempfile.TemporaryDirectory(prefix="holdfast-trial-") as folder:
        scene.prepare(folder)
        result = scene.run(folder, wish)
        check(scene, folder, result, wish)
        if wish.startswith("kill"):
            assert result.returncode == -signal.SIGKILL, f"{scene.name}: {wish}: never came there"
        taken_back(scene, folder, wish)
        again(scene, folder, wish)


def again(scene, folder, label):
    """As if a day had passed: what was left behind is swept, no lock is in the way."""
    for name in temporaries(folder):
        os.utime(os.path.join(folder, name), (time.time() - 86400,) * 2)
    if read(folder, scene.target) == scene.new:
        if scene.old is None:
            os.remove(os.path.join(folder, scene.target))
        else:
            scene.prepare(folder)
    result = scene.run(folder)
    assert result.returncode == 0, f"{scene.name}: {label}: and again: {result.stderr}"
    check(scene, folder, result, label + ": and again")
    assert not temporaries(folder), f"{scene.name}: {label}: not swept: {temporaries(folder)}"


def calls_of(scene):
    """Names of the calls of a run without faults, in order."""
    with tempfile.TemporaryDirectory() as folder:
        log = os.path.join(folder, "calls")
        scene.prepare(folder)
        assert scene.run(folder, log=log).returncode == 0
        return read(folder, "calls").split()


def wishes(scene):
    calls, seen, faults, kills = calls_of(scene), {}, [], []
    errors = itertools.cycle(ERRORS.items())
    for at, name in enumerate(calls, 1):
        seen[name] = seen.get(name, 0) + 1
        for _, number in ERRORS.items() if LONG else [next(errors)]:
            faults.append(f"fail {name} {seen[name]} {number}")
        whens = ["before", "after"] if LONG else ["before" if at % 2 else "after"]
        kills += [f"kill any {at} {when}" for when in whens + (["half-way"] if name == "write" else [])]
        if name == "write":
            faults += [f"short {seen[name]} {number}" for number in (ERRORS.values() if LONG else [28])]
    return calls, faults, kills


def each(pool, function, items):
    for future in [pool.submit(function, *item) for item in items]:
        future.result()


def limited(scene, most):
    """The file may grow to `most` bytes only: writes come back short."""
    def limit():
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

    with tempfile.TemporaryDirectory(prefix="holdfast-trial-") as folder:
        scene.prepare(folder)
        with open(os.path.join(folder, "out"), "w", encoding="utf-8"):
            result = scene.run(folder, preexec_fn=limit)
        check(scene, folder, result, f"at most {most} bytes")
        if most < len(scene.new.encode()):
            assert result.returncode == 5 and "bytes must be free" in result.stderr, result.stderr
        again(scene, folder, "file size limit")


def kill_at_random(scene, seconds, chance):
    with tempfile.TemporaryDirectory(prefix="holdfast-trial-") as folder:
        scene.prepare(folder)
        with subprocess.Popen([PROGRAM, *scene.words], cwd=folder, env=environment(), stdin=subprocess.DEVNULL,
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as child:
            time.sleep(seconds * chance)
            child.kill()
            out, errors = child.communicate()
        check(scene, folder, subprocess.CompletedProcess(scene.words, child.returncode, out, errors), "kill at random")
        left = len(temporaries(folder))
        taken_back(scene, folder, "kill at random")
        again(scene, folder, "kill at random")
        return child.returncode == -signal.SIGKILL, left


def record(folder, number):
    result = run(["record", "s.json", f"ring-{number:03d}", "--held", "760", "--failed", "800"], folder)
    assert result.returncode == 0, result.stderr


def two_writers(pulls):
    """Two programs record at once, a third plans, an editor that knows no lock saves a remark: every pull must be there."""
    with tempfile.TemporaryDirectory(prefix="holdfast-writers-") as folder:
        Scene.prepare(type("", (), {"files": {"s.json": campaign(2 * pulls)}})(), folder)
        with concurrent.futures.ThreadPoolExecutor(3) as pool:
            jobs = [pool.submit(lambda first: [record(folder, i) for i in range(first, 2 * pulls + 1, 2)], first)
                    for first in (1, 2)]
            jobs.append(pool.submit(run, ["plan", "s.json", "--write", "--pilot-from", "100", "--pilot-to", "2000"], folder))
            planned = jobs[2].result()
            for job in jobs[:2]:
                job.result()
        assert planned.returncode == 0, planned.stderr
        found = json.loads(read(folder, "s.json"))
        parts = found["designs"][0]["specimens"]
        kept = sum(part.get("failed") == 800 for part in parts)
        assert kept == 2 * pulls, f"{2 * pulls} pulls were recorded, {kept} are in the file"
        assert found["plan"] and not temporaries(folder)
        history = json.loads(run(["history", "s.json", "--json"], folder).stdout)
        assert [change["standing"] for change in history["changes"]] == ["stands"] * (2 * pulls + 1), history["changes"][-1]
        for _ in range(2 * pulls + 1):
            assert run(["undo", "s.json"], folder).returncode == 0
        assert read(folder, "s.json") == campaign(2 * pulls), "taken back one by one, the changes leave something"
        return kept


def scenes():
    file = campaign(40)
    table = "id,held [N],failed [N]\n" + "".join(f"more-{i},760,800\n" for i in range(30))
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, "s.json"), "w", encoding="utf-8") as out:
            out.write(file)
        record(folder, 1)
        record(folder, 2)
        recorded, journal = read(folder, "s.json"), read(folder, "s.json.log")
    return [
        Scene("undo", ["undo", "s.json"], "s.json", {"s.json": recorded, "s.json.log": journal}),
        Scene("record", ["record", "s.json", "ring-001", "--held", "760", "--failed", "800"], "s.json", {"s.json": file}),
        Scene("import", ["import", "s.json", "t.csv", "--design", "ring"], "s.json", {"s.json": file, "t.csv": table}),
        Scene("plan --write", ["plan", "s.json", "--write", "--pilot-from", "100", "--pilot-to", "2000"], "s.json",
              {"s.json": campaign(0)}),
        Scene("new", ["new", "n.json", "--tare", "2.6kg", "--parts", "30"], "n.json", {}),
        Scene("export -o", ["export", "s.json", "-o", "t.csv"], "t.csv", {"s.json": file, "t.csv": "old\n"}),
    ]


def table_of(rows):
    return "\n".join(["| what was tried | trials | lost |", "| --- | ---: | ---: |", *(f"| {what} | {count} | 0 |" for what, count in rows)])


def write_page(rows):
    with open(PAGE, encoding="utf-8") as file:
        page = file.read()
    begin, end = "<!-- figures: begin -->\n", "<!-- figures: end -->"
    assert begin in page and end in page, f"{PAGE}: no place for the figures"
    head, rest = page.split(begin, 1)
    with open(PAGE, "w", encoding="utf-8") as file:
        file.write(head + begin + table_of(rows) + "\n" + end + rest.split(end, 1)[1])


def main():
    rows, chance, sets = [], random.Random(SEED), scenes()
    by_name = {scene.name: scene for scene in sets}
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count() or 1) as pool:
        for scene in sets:
            calls, faults, kills = wishes(scene)
            each(pool, trial, [(scene, wish) for wish in faults + kills])
            sizes = sorted({0, 1, len(scene.new) // 2, len(scene.new.encode()) - 1, len(scene.new.encode())})
            each(pool, limited, [(scene, most) for most in sizes])
            rows.append((f"`{scene.name}`: each of its {len(calls)} system calls fails, each write comes back short", len(faults)))
            rows.append((f"`{scene.name}`: killed before, after or half-way through each of them", len(kills)))
            rows.append((f"`{scene.name}`: a file that may not grow beyond a size", len(sizes)))
        start = time.monotonic()
        with tempfile.TemporaryDirectory() as folder:
            by_name["record"].prepare(folder)
            assert by_name["record"].run(folder).returncode == 0
        seconds = time.monotonic() - start
        times = [chance.random() for _ in range(1000 if LONG else 20)]
        ends = list(pool.map(lambda part: kill_at_random(by_name["record"], 1.2 * seconds, part), times))
    killed, left = sum(end[0] for end in ends), sum(end[1] for end in ends)
    rows.append((f"`record` killed at a random moment ({killed} before it ended, {left} with a temporary file left, all swept later)",
                 len(ends)))
    rows.append(("two writers at once and a `plan --write` among them: pulls recorded", two_writers(200 if LONG else 15)))
    print(table_of(rows))
    if LONG:
        write_page(rows)


if __name__ == "__main__":
    main()
