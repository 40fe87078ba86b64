"""One file and one row are a law: the program built with frechet.c beside the program as it is.

usage: run.py PROGRAM CMAKE COMPILER BUILD     BUILD: folder in which the other program is built, kept for the next time

The fourth law has no proven factor. So it stands in fits, tests, tables, charts, simulations and choices, and changes no answer: every campaign
of the tests has the same governing bounds, working loads and exit codes as without it."""
import json
import pathlib
import subprocess
import sys

import jsonschema

ROOT = pathlib.Path(__file__).resolve().parents[2]
FOLDERS = ("tests/realities", "tests/compare/campaigns", "tests/report/campaigns", "datasets")
SCHEMA = jsonschema.Draft202012Validator(json.loads((ROOT / "docs/result.schema.json").read_text()))
EXAMPLE = str(ROOT / "datasets/shade-sail.json")
NAME, LABEL = "frechet", "Fréchet"


def build(cmake, compiler, folder):
    law = ROOT / "tests/fourth_law" / f"{NAME}.c"
    for command in ([cmake, "-S", str(ROOT), "-B", folder, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=RelWithDebInfo", "-DHOLDFAST_WERROR=ON",
                     f"-DCMAKE_C_COMPILER={compiler}", f"-DHOLDFAST_EXTRA_LAW={law}"], [cmake, "--build", folder, "--target", "holdfast_program"]):
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        if done.returncode:
            sys.exit(done.stdout[-3000:] + done.stderr[-3000:])
    return f"{folder}/src/holdfast"


def run(program, *words):
    return subprocess.run([program, *words], capture_output=True, text=True, check=False)


def without(value):
    """The results without the rows of the fourth law, and without cautions, which name laws."""
    if isinstance(value, dict):
        return {key: without(item) for key, item in value.items() if key != "cautions"}
    if isinstance(value, list):
        return [without(item) for item in value if not (isinstance(item, dict) and item.get("family") == NAME)]
    return value


def check_campaign(old, new, path):
    before, after = run(old, "assess", "--json", path), run(new, "assess", "--json", path)
    assert before.returncode == after.returncode, (path, after.stderr)
    if before.returncode not in (0, 1, 4) or not before.stdout:
        return 0
    result = json.loads(after.stdout)
    SCHEMA.validate(result)
    assert without(json.loads(before.stdout)) == without(result), path
    for design in result["designs"]:
        fits = [fit for fit in design["fits"] if fit["family"] == NAME]
        bounds = [bound for bound in design["bounds"] if bound["family"] == NAME]
        assert len(fits) == 1 and len(bounds) == 1, path
        assert bounds[0]["method"] == "none", path
        assert bounds[0]["reason"] in ("law_not_proven", "range"), (path, bounds)
    return len(result["designs"])


def check_commands(new):
    for command in (("compare", EXAMPLE), ("compare", "--json", EXAMPLE), ("plan", EXAMPLE, "--design", "ring"), ("plan", "next", EXAMPLE, "--design", "ring"),
                    ("check", EXAMPLE)):
        done = run(new, *command)
        assert done.returncode in (0, 1) and done.stdout, (command, done.stderr)
    for command in (("assess", EXAMPLE, "--full"), ("report", EXAMPLE), ("notebook", EXAMPLE),
                    ("chart", "probability", EXAMPLE, "--design", "ring", "--family", NAME)):
        done = run(new, *command)
        assert done.returncode == 0 and LABEL in done.stdout, (command, done.stderr)
    done = run(new, "coverage", "--truth", NAME, "--family", "weibull", "--n", "5", "--content", "0.9", "--confidence", "0.95", "--replicates", "2000")
    assert done.returncode == 0, done.stderr
    assert NAME in run(new, "chart", "--help").stdout


def check_it_cannot_govern(new, folder):
    for command in (("assess", EXAMPLE, "--family", NAME), ("factor", "--n", "5", "--basis", "B", "--family", NAME)):
        done = run(new, *command)
        assert done.returncode == 2 and not done.stdout and "weibull" in done.stderr, (command, done)
    campaign = json.loads(pathlib.Path(EXAMPLE).read_text())
    campaign["designs"][0]["family"] = NAME
    path = pathlib.Path(folder) / "stated.json"
    path.write_text(json.dumps(campaign))
    done = run(new, "assess", str(path))
    assert done.returncode == 3 and not done.stdout and '"normal", "lognormal" or "weibull"' in done.stderr, done.stderr


def check_notebook(new):
    """Its Python runs, and says which law it leaves out."""
    notebook = json.loads(run(new, "notebook", EXAMPLE).stdout)
    code = "\n".join("".join(cell["source"]) for cell in notebook["cells"] if cell["cell_type"] == "code")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    assert f"{NAME}: not computed again here" in done.stdout


def main():
    old, cmake, compiler, folder = sys.argv[1:]
    new = build(cmake, compiler, folder)
    designs = sum(check_campaign(old, new, str(path)) for name in FOLDERS for path in sorted((ROOT / name).glob("*.json")) if path.stem != "expected")
    assert designs > 50, designs
    check_commands(new)
    check_it_cannot_govern(new, folder)
    check_notebook(new)
    print(f"{designs} designs with a fourth law beside them have the same answers")


main()
