"""docs/result.schema.json is what the tables of fields say, and every JSON of every campaign of the tests obeys it.

usage: results.py PROGRAM SCHEMA_WRITER [--update]     --update writes the page anew"""
import copy
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

import jsonschema

ROOT = pathlib.Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs/result.schema.json"
FOLDERS = ("tests/realities", "tests/compare/campaigns", "tests/report/campaigns", "tests/fuzz/corpus/pipeline")
OF_A_FILE = (("check",), ("assess",), ("compare",))
PLANNED = ("planned-widely", "with-ladder", "kilograms", "01-all-in-one-step", "next-of-a-kind")
ALONE = (("factor", "--n", "5", "--basis", "B"), ("factor", "--n", "5", "--family", "normal", "--basis", "A"), ("plan", "proof", "--basis", "B"), ("plan", "proof", "--basis", "B", "--n", "60"),
         ("plan", "contrast", "--ratio", "1.2", "--cv", "0.1"), ("plan", "contrast", "--effect", "1"),
         ("scatter", str(ROOT / "tests/realities/04-ran-out-all.json"), str(ROOT / "tests/realities/32-earlier-designs.json"), str(ROOT / "tests/compare/campaigns/two-ended.json")),
         ("plan", "--mean", "900", "--cv", "0.12", "--max-n", "4"), ("plan", "--service-load", "80kg", "--design-factor", "4", "--cv", "10%", "--weights", "12x5kg"), ("plan", "--mean", "900", "--cv", "0.12", "--max-n", "4", "--looks", "3,5", "--require", "400"), ("coverage", "--n", "5", "--replicates", "64", "--basis", "B"))
CHANGES = (("record", "s.json", "ring-01", "--held", "760", "--failed", "800"), ("record", "s.json", "ring-02", "--held", "7600", "--failed", "8000"), ("undo", "s.json"), ("set", "s.json", "goal.design_factor", "4"), ("status", "s.json"), ("set", "s.json"), ("sheet", "s.json"), ("plan", "proof", "s.json", "--load", "300N"), ("history", "s.json"))
ANSWERED = (0, 1, 4)  # done, not met, no result: of these the first two, and often the third, come with a document


def files():
    for folder in FOLDERS:
        yield from (path for path in sorted((ROOT / folder).glob("*.json")) if path.stem != "expected")


def commands():
    for path in files():
        yield from (command + (str(path),) for command in OF_A_FILE)
        if path.stem in PLANNED:
            yield from (("plan", str(path), "--max-n", "4"), ("plan", "next", str(path), "--more", "2"))
    yield from ALONE


def result(program, command):
    """The JSON it writes, or None where it refuses."""
    done = subprocess.run([program, *command, "--json"], capture_output=True, text=True, check=False)
    if done.returncode not in ANSWERED and done.returncode not in (2, 3):
        sys.exit(f"{' '.join(command)}: exit {done.returncode}\n{done.stderr}")
    return json.loads(done.stdout) if done.stdout else None


def changes(program):
    """Results of commands that change the file, each upon the one before."""
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(ROOT / "tests/command/cases/sail.json", os.path.join(folder, "s.json"))
        for words in CHANGES:
            yield json.loads(subprocess.run([os.path.abspath(program), *words, "--json"], cwd=folder, capture_output=True, text=True, check=False).stdout)


def broken(document):
    """Copies, each with one thing that the schema must refuse."""
    for spoil in (lambda d: d.pop("version"), lambda d: d.update(more=1), lambda d: d.update(format="holdfast-other/1"), lambda d: d.update(seed=-1),
                  lambda d: d["designs"][0]["goal"].update(margin="none"), lambda d: d["designs"][0]["counts"].pop("used")):
        copied = copy.deepcopy(document)
        spoil(copied)
        yield copied


def main():
    program, writer = sys.argv[1:3]
    written = subprocess.run([writer], capture_output=True, text=True, check=True).stdout
    if "--update" in sys.argv:
        PAGE.write_text(written, encoding="utf-8")
    if PAGE.read_text(encoding="utf-8") != written:
        sys.exit(f"{PAGE} is not what the tables say; --update writes it anew")
    schema = json.loads(written)
    jsonschema.Draft202012Validator.check_schema(schema)
    valid = {kind: jsonschema.Draft202012Validator({"$ref": f"#/$defs/{kind}", "$defs": schema["$defs"]})
             for kind in (row["$ref"].split("/")[-1] for row in schema["oneOf"])}
    met, bad = {}, 0
    for command in commands():
        document = result(program, command)
        if document is None:
            continue
        kind = document["kind"]
        met.setdefault(kind, document)
        for error in valid[kind].iter_errors(document):
            bad += 1
            print(f"{' '.join(command)}: {error.json_path}: {error.message[:300]}")
    for document in changes(program):
        met.setdefault(document["kind"], document)
        for error in valid[document["kind"]].iter_errors(document):
            bad += 1
            print(f"{document['kind']}: {error.json_path}: {error.message[:300]}")
    missing = set(valid) - set(met)
    if missing:
        sys.exit(f"no result of these kinds was seen: {sorted(missing)}")
    passed = sum(valid["assess"].is_valid(document) for document in broken(met["assess"]))
    if passed:
        sys.exit(f"{passed} broken results are taken for valid")
    sys.exit(1 if bad else 0)


main()
