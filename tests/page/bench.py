"""How large the page is and how long a person waits in it, beside what is aimed at. Prints a table; nothing fails.

usage: bench.py PAGE PROGRAM"""
import pathlib
import sys
import tempfile

from person import Person, with_campaign

PAGE, PROGRAM = sys.argv[1:3]
SIZE_KB = 700
# What, the words of the engine (None: the page itself), and the milliseconds aimed at, at full speed and six times slower.
ROWS = (("ready", None, 300, 600), ("a tap", "tap", 50, 100), ("assess", ["assess", "e.json"], 30, 100), ("report", ["report", "e.json"], None, None),
        ("compare", ["compare", "e.json"], None, None), ("plan, closed", ["plan", "--mean", "900", "--cv", "0.12"], 100, 300),
        ("plan, simulated", ["plan", "e.json", "--design", "ring"], 1000, 5000))
ASK = """const [words, done] = arguments, files = {"e.json": holdfast.campaign.text}, start = performance.now();
holdfast.ask(words, files).then(() => done(performance.now() - start));"""
READY = "return holdfast.started.then(() => performance.now())"
TAP = """const done = arguments[0], start = performance.now();
location.hash = location.hash === "#bench" ? "#file" : "#bench";
new MutationObserver((list, watch) => { watch.disconnect(); requestAnimationFrame(() => done(performance.now() - start)); })
  .observe(document.querySelector("main"), {childList: true});"""


def measure(person, words):
    if words is None:
        person.reload()
        return person.driver.execute_script(READY)
    if words == "tap":
        return min(person.driver.execute_async_script(TAP) for _ in range(6))
    return min(person.driver.execute_async_script(ASK, words) for _ in range(3))


def main():
    page = pathlib.Path(PAGE)
    print(f"page: {page.stat().st_size / 1000:.0f} kB, aim {SIZE_KB} kB")
    example = (pathlib.Path(__file__).parents[2] / "datasets/shade-sail.json").read_text(encoding="utf-8")
    with Person(with_campaign(PAGE, PROGRAM, "e.json", example), width=1200) as person:
        person.driver.set_script_timeout(120)
        times = []
        for rate in (1, 6):
            person.driver.execute_cdp_cmd("Emulation.setCPUThrottlingRate", {"rate": rate})
            times.append([measure(person, words) for _, words, *_ in ROWS])
    print("what               ms   aim   at a sixth   aim")
    for (name, _, *aims), *both in zip(ROWS, *times):
        cells = [f"{ms:6.0f} {aim if aim else '–':>5}" for ms, aim in zip(both, aims)]
        print(f"{name:16} {cells[0]} {cells[1]:>18}")


if __name__ == "__main__":
    main()
