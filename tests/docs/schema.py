"""The JSON Schema of the campaign file, docs/campaign.schema.json, judges real files as the program does: it accepts those that the
program accepts, and refuses those of the broken ones whose mistake a schema can see. usage: schema.py"""
import json
import pathlib
import sys

import jsonschema

ROOT = pathlib.Path(__file__).resolve().parents[2]
# Mistakes of shape; what is wrong between two values of a file only the program sees.
SEEN = ("no-format", "other-format", "no-designs", "root-is-list", "unknown-key", "types")


def load(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def main():
    schema = load(ROOT / "docs/campaign.schema.json")
    kind = jsonschema.validators.validator_for(schema)
    kind.check_schema(schema)
    judge = kind(schema)
    good = [ROOT / "datasets/shade-sail.json", *sorted((ROOT / "tests/campaign/good").glob("*.json")),
            *(p for p in sorted((ROOT / "tests/realities").glob("*.json")) if p.name != "expected.json")]
    broken = [p for p in sorted((ROOT / "tests/campaign/broken").glob("*.json")) if any(word in p.name for word in SEEN)]
    problems = []
    for path in good:
        for error in judge.iter_errors(load(path)):
            problems.append(f"{path.relative_to(ROOT)}: refused at {error.json_path}: {error.message}")
    for path in broken:
        if judge.is_valid(load(path)):
            problems.append(f"{path.relative_to(ROOT)}: accepted")
    for problem in problems:
        print(problem)
    print(f"{len(good)} good, {len(broken)} broken files, {len(problems)} problems")
    sys.exit(1 if problems or len(good) < 20 or len(broken) < 6 else 0)


main()
