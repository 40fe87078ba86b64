"""The notebooks of notebooks-export/: made again and compared byte for byte, valid, and every cell runs.

usage: notebooks.py PROGRAM [--update | --catch]
--update writes them anew. --catch runs the cells of the demonstration against falsified numbers, each of which must stop it.
Two of the three are open data sets of datasets/, brought into a campaign file by the program itself: whole strengths, and distances of which most are
unfinished. Their numbers are read as newtons; no scale matters to the method."""
import base64
import contextlib
import copy
import csv
import io
import json
import pathlib
import re
import shutil
import sys
import tempfile
import time

import book

EXPORT = book.ROOT / "notebooks-export"
DATASETS = book.ROOT / "datasets"


def rows_of(name):
    with open(DATASETS / name, encoding="utf-8") as file:
        return list(csv.reader(line for line in file if not line.startswith("#")))[1:]


def make_demo(program, folder):
    shutil.copy(DATASETS / "shade-sail.json", folder / "shade-sail.json")


def tell(path, **info):
    """Writes into the file where its data come from."""
    data = json.loads(path.read_text(encoding="utf-8"))
    designs = data.pop("designs")
    path.write_text(json.dumps(data | {"info": info, "designs": designs}, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def make_glass_fibre(program, folder):
    book.call(program, "new", "glass-fibre.json", "--records", "total", "--design", "fibre", "--name", "glass fibre 1.5 cm long", "--parts", "0",
              "--title", "Breaking strength of 63 glass fibres (no unit given, read as N)", where=folder)
    readings = " ".join(row[0] for row in rows_of("glass-fibre-1.5cm.csv"))
    book.call(program, "import", "glass-fibre.json", "-", "--design", "fibre", "--unit", "N", where=folder, data=readings)
    tell(folder / "glass-fibre.json", source="Smith & Naylor (1987), Applied Statistics 36, 358–369", unit="not given by the source; read as N here",
         parts="63 glass fibres 1.5 cm long, National Physical Laboratory, England; all broke")


def make_shock_absorber(program, folder):
    book.call(program, "new", "shock-absorber.json", "--records", "total", "--design", "absorber", "--name", "shock absorber", "--parts", "0",
              "--title", "Distance to failure of 38 shock absorbers (km, read as N)", where=folder)
    lines = ["peak,outcome"] + [f"{km},{'failed' if failed == '1' else 'held'}" for km, failed in rows_of("shock-absorber.csv")]
    book.call(program, "import", "shock-absorber.json", "-", "--design", "absorber", "--unit", "N", where=folder, data="\n".join(lines) + "\n")
    tell(folder / "shock-absorber.json", unit="km; read as N here",
         source="O'Connor (1985); Meeker & Escobar (1998), Statistical Methods for Reliability Data, appendix C",
         parts="38 shock absorbers of vehicles: 11 failed, 27 were still whole at the distance given")


MADE = {"shade-sail": make_demo, "glass-fibre": make_glass_fibre, "shock-absorber": make_shock_absorber}


def made(program):
    """name → bytes of every notebook."""
    out = {}
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        for name, make in MADE.items():
            make(program, folder)
            out[name] = book.write(program, f"{name}.json", folder, codes=(0,))
            again = book.write(program, f"{name}.json", folder, "--threads", "1", codes=(0,))
            assert out[name] == again, f"{name}: two runs differ"
    return out


def check_digits(name, notebook):
    """Numbers that were computed carry nine figures at most, so that every machine prints the same."""
    computed = book.code_of(notebook)[1]
    texts = re.sub(r'"(?:[^"\\]|\\.)*"', '""', computed)
    numbers = re.findall(r"(?<![\w.])\d+\.?\d*(?:e[+-]?\d+)?", texts)
    long = [n for n in numbers if len(re.sub(r"e.*|\.", "", n).strip("0")) > 9]
    assert len(numbers) > 50 and not long, f"{name}: {long[:5]} of {len(numbers)} numbers"


def check_pictures(name, notebook):
    kept = [cell for cell in notebook.cells if cell.get("attachments")]
    assert kept, f"{name}: no picture"
    for cell in kept:
        for picture, data in cell.attachments.items():
            drawn = re.match(r'<svg [^>]*viewBox="\S+ \S+ (\S+) (\S+)" width="(\d+)" height="(\d+)">', base64.b64decode(data["image/svg+xml"]).decode())
            wide, tall, width, height = map(float, drawn.groups())
            assert height <= 660 and abs(width - height * wide / tall) <= 0.5, f"{name}, {picture}: {drawn[0]}"
        shown = re.findall(r"!\[[^\]]*\]\(attachment:([^)]+)\)", cell.source)
        assert sorted(shown) == sorted(cell.attachments), f"{name}: {shown}"


def compare(program):
    out, started = made(program), time.time()
    kept = {path.stem for path in EXPORT.glob("*.ipynb")}
    assert kept == set(out), f"notebooks-export/ holds {sorted(kept)}, expected {sorted(out)}"
    for name, data in out.items():
        assert data == (EXPORT / f"{name}.ipynb").read_bytes(), f"{name}.ipynb differs; --update writes it anew, then read the difference"
        notebook = book.read(data)
        book.check_reading(name, notebook)
        check_digits(name, notebook)
        check_pictures(name, notebook)
        run, texts = book.execute(notebook)
        rows = sum(text.count("\n") for text in texts)
        assert "<svg" not in book.html_of(run) and "data:image/svg+xml;base64," in book.html_of(run), f"{name}: pictures do not show"
        print(f"{name}: {len(run.cells) - 1} cells, {rows} lines printed")
    print(f"{time.time() - started:.0f} s")


def must_stop(what, function):
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            function()
    except AssertionError as error:
        print(f"caught {what}: {error}")
        return
    sys.exit(f"not caught: {what}")


def catch(program):
    """A notebook that agreed with everything would prove nothing."""
    with contextlib.redirect_stdout(io.StringIO()):
        space = book.run_plainly(book.read(made(program)["shade-sail"]), quick=True)
    designs = {design["id"]: design for design in space["CAMPAIGN"]["designs"]}
    honest = copy.deepcopy(space["RESULTS"])

    def falsified(design, kind, row, key, share=1 + 3e-6):
        space["RESULTS"] = copy.deepcopy(honest)
        place = space["RESULTS"][design] if kind is None else space["RESULTS"][design][kind]
        place = place if row is None else place[row]
        place[key] = place[key] * share
        must_stop(f"{design}, {kind}, {row}, {key}", lambda: space["check_design"](designs[design]))

    for row in range(3):
        for key in ("s", "standard_error_s", "log_likelihood"):
            falsified("eyelet", "fits", row, key)
        for key in ("s", "h", "value"):
            falsified("eyelet", "bounds", row, key)
        falsified("plate", "bounds", row, "k")
    falsified("eyelet", "fits", 2, "m", 1 + 1e-6)
    falsified("eyelet", "bounds", 0, "k")
    falsified("eyelet", "bounds", 4, "k")
    falsified("eyelet", "governing", None, "value")
    falsified("eyelet", "calibration", None, "relative_uncertainty")
    falsified("eyelet", "calibration", None, "value")
    falsified("eyelet", "working_load", None, "unrounded")
    falsified("eyelet", "working_load", None, "value", 185 / 184)
    check_simulation(space, designs["eyelet"], honest)
    check_pairs(space)


def check_simulation(space, design, honest):
    """A Weibull factor that is wrong by a tenth, with the bound that follows from it: only the simulation can tell."""
    space["RESULTS"] = copy.deepcopy(honest)
    row = space["RESULTS"]["eyelet"]["bounds"][2]
    row["k"] *= 0.85
    root = space["root_of"](space["Weibull"], row["s"], row["h"], row["content"], row["k"])
    row["value"] = space["math"].exp(row["m"] - row["k"] * root)
    must_stop("a wrong Weibull factor", lambda: space["check_design"](design))


def check_pairs(space):
    honest = copy.deepcopy(space["COMPARISON"])
    for pair, row in enumerate(honest["pairs"]):
        for key in ("ratio", "low", "high", "p", "p_adjusted"):
            wrong = copy.deepcopy(honest)
            wrong["pairs"][pair][key] = row[key] * (1 + 3e-6)
            must_stop(f"pair {pair}, {key}", lambda: space["check_comparison"](wrong))
    wrong = copy.deepcopy(honest)
    wrong["pairs"][0]["verdict"] = "cannot_tell"
    must_stop("a verdict", lambda: space["check_comparison"](wrong))
    pulls = copy.deepcopy(space["PULLS"])
    space["PULLS"]["ring-01"]["break"] = ("closed", pulls["ring-01"]["break"][1] * (1 + 3e-6), pulls["ring-01"]["break"][2])
    cell = (book.ROOT / "src/pages/pulls.py").read_text(encoding="utf-8")
    must_stop("an interval", lambda: exec(cell, space))


def main():
    program, mode = str(pathlib.Path(sys.argv[1]).resolve()), sys.argv[2:]
    if mode == ["--update"]:
        for name, data in made(program).items():
            (EXPORT / f"{name}.ipynb").write_bytes(data)
            print(f"{name}.ipynb written, {len(data)} bytes")
    elif mode == ["--catch"]:
        catch(program)
    else:
        compare(program)


main()
