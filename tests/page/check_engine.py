"""The engine in the page beside the native program: every campaign of the tests, the same words, the same answers.

usage: check_engine.py PAGE PROGRAM. Exit code, notes and output are compared; of JSON the numbers to 1e-12 of their size, because the C library of
this machine and that of WebAssembly may differ in the last bit of exp and log; of texts the bytes, with numbers that are printed to fewer
figures. What the page says must be what the program says."""
import base64
import hashlib
import json
import math
import pathlib
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).parents[1]))
from browser.browser import Browser  # noqa: E402

PAGE, PROGRAM = (pathlib.Path(argument).resolve() for argument in sys.argv[1:3])
ROOT = pathlib.Path(__file__).parents[2]
RELATIVE = 1e-12
ASK = """const [jobs, done] = arguments;
holdfast.started.then(async () => {
  const results = [];
  for (const {words, files} of jobs) results.push(await holdfast.ask(words, files).catch(error => ({fault: error.message})));
  done(results);
});"""
ENGINE = "return btoa(Array.from(holdfast.calls.engine, byte => String.fromCharCode(byte)).join(''))"
EVERYWHERE = (["assess", "--format", "json"], ["compare", "--format", "json"], ["check"], ["status", "--json"])
OF_THE_DEMO = (["assess"], ["assess", "--full"], ["compare"], ["report"], ["report", "--format", "md"], ["notebook"], ["plan", "--json"],
               ["sheet"], ["sheet", "--json"], ["chart", "card"], ["chart", "pulls"], ["export"])


def campaigns():
    """Every file of the tests that is a campaign, good or broken; one of each content."""
    seen = {}
    for folder in ("datasets", "tests"):
        for path in sorted((ROOT / folder).rglob("*.json")):
            text = path.read_bytes()
            if b"holdfast-campaign/" in text and len(text) < 100_000:
                try:
                    seen.setdefault(text.decode(), path)
                except UnicodeDecodeError:
                    continue
    return [(path, text) for text, path in seen.items()]


def native(words, name, text):
    with tempfile.TemporaryDirectory() as folder:
        (pathlib.Path(folder) / name).write_bytes(text.encode())
        done = subprocess.run([PROGRAM, *words], cwd=folder, capture_output=True, stdin=subprocess.DEVNULL,
                              env={"COLUMNS": "80", "OMP_NUM_THREADS": "1"})
    return {"code": done.returncode, "out": done.stdout.decode(), "notes": done.stderr.decode()}


def same(a, b, where=""):
    """Where two JSON values differ by more than the last bits, or None."""
    if isinstance(a, float) or isinstance(b, float):
        if isinstance(a, (int, float)) and isinstance(b, (int, float)):
            return None if math.isclose(a, b, rel_tol=RELATIVE, abs_tol=0) else f"{where}: {a!r} and {b!r}"
    if type(a) is not type(b):
        return f"{where}: {a!r} and {b!r}"
    if isinstance(a, dict):
        if list(a) != list(b):
            return f"{where}: keys differ"
        return next(filter(None, (same(a[key], b[key], f"{where}.{key}") for key in a)), None)
    if isinstance(a, list):
        if len(a) != len(b):
            return f"{where}: {len(a)} and {len(b)} items"
        return next(filter(None, (same(x, y, f"{where}[{i}]") for i, (x, y) in enumerate(zip(a, b)))), None)
    return None if a == b else f"{where}: {a!r} and {b!r}"


def parsed(text):
    try:
        return json.loads(text)
    except ValueError:
        return None


def difference(page, program):
    if page.get("fault"):
        return f"the engine gave up: {page['fault']}"
    for part in ("code", "notes"):
        if page[part] != program[part]:
            return f"{part}: {page[part]!r} and {program[part]!r}"
    if page["out"] == program["out"]:
        return None
    a, b = parsed(page["out"]), parsed(program["out"])
    if a is not None and b is not None:
        return same(a, b)
    for x, y in zip(page["out"].splitlines(), program["out"].splitlines()):
        if x != y:
            return f"{x!r} and {y!r}"
    return "one is longer"


def main():
    jobs = []
    for path, text in campaigns():
        name = re.sub(r"[^\w.-]", "-", path.name)
        words = EVERYWHERE + (OF_THE_DEMO if path.name == "shade-sail.json" else ())
        jobs += [([*line[:1], *line[1:2], name, *line[2:]] if line[0] == "chart" else [line[0], name, *line[1:]], name, text)
                 for line in words]
    with Browser() as browser:
        asked, complaints = browser.visit(PAGE)
        browser.driver.set_script_timeout(200)
        results = browser.driver.execute_async_script(ASK, [{"words": words, "files": {name: text}} for words, name, text in jobs])
        engine = base64.b64decode(browser.driver.execute_script(ENGINE))
        about = json.loads(browser.driver.execute_script("return document.getElementById('about').textContent"))
        asked += [address for address in browser.asked_for(PAGE.as_uri()) if not address.startswith("blob:")]
    differing, equal = [], 0
    if hashlib.sha256(engine).hexdigest() != about["engine"]:
        differing.append("the engine in the page is not the one that was built")
    if str(ROOT).encode() in engine:
        differing.append("the engine names the folder it was built in: it would be another one elsewhere")
    for (words, name, text), result in zip(jobs, results):
        expected = native(words, name, text)
        found = difference(result, expected)
        equal += found is None and result["out"] == expected["out"]
        if found:
            differing.append(f"holdfast {' '.join(words)}: {found}"[:400])
    for line in [f"the page asked for {address}" for address in asked if not address.startswith("blob:")] + complaints + differing:
        print(line)
    print(f"{len(jobs)} command lines, {equal} equal in every byte, {len(differing)} differ")
    return 1 if differing or complaints or len(jobs) < 400 else 0


if __name__ == "__main__":
    sys.exit(main())
