"""docs/campaign.schema.json against the files the program takes and those it refuses.

The schema is itself valid (draft 2020-12) and says a default or a description everywhere; the demo, the files of
tests/realities and the examples of docs/campaign-file.md validate; every broken file that is JSON does not, but for those
below, whose mistake no schema can say."""
import json
import pathlib
import re
import sys

import jsonschema

HERE = pathlib.Path(__file__).parent
ROOT = HERE.parents[1]
SCHEMA = json.loads((ROOT / "docs/campaign.schema.json").read_text())

# Mistakes between two places of the file, in the calendar, or in how the text is written.
BEYOND = {"key-twice", "key-twice-escaped", "duplicate-key", "escaped-duplicate-key", "id-twice", "id-of-design", "id-of-rig", "ids-twice",
          "held-above-failed", "held-not-below-failed", "void-backwards", "set-order", "set", "no-interval", "dates", "head-to-head-unknown",
          "ladder-unknown", "looks-in-format-1", "past-in-format-1", "no-rig", "no-records", "no-tare", "no-tare-on-the-first", "half-surrogate", "load-too-large", "number-too-large", "load-beyond-double-in-text"}


def refuses(validator, value):
    return next(validator.iter_errors(value), None)


def check_schema():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    silent = []

    def walk(node, path):
        for name, child in node.get("properties", {}).items():
            if "description" not in child and "$ref" not in child and "const" not in child:
                silent.append(f"{path}.{name}")
            walk(child, f"{path}.{name}")
        for part in ("items", "additionalProperties"):
            if isinstance(node.get(part), dict):
                walk(node[part], f"{path}[]")
        for name, child in node.get("$defs", {}).items():
            walk(child, f"{path}#{name}")

    walk(SCHEMA, "")
    assert not silent, f"without description: {silent}"


def good_files():
    yield from sorted((ROOT / "datasets").glob("*.json"))
    yield from sorted((ROOT / "tests/realities").glob("[0-9]*.json"))
    yield from sorted(ROOT.glob("tests/command/cases/*.json"))
    yield HERE / "table/base.json"


def check_good(validator):
    count = 0
    for path in good_files():
        error = refuses(validator, json.loads(path.read_text()))
        assert error is None, f"{path}: {error.json_path}: {error.message}"
        count += 1
    examples = re.findall(r"^```json\n(.*?)^```", (ROOT / "docs/campaign-file.md").read_text(), re.S | re.M)
    for example in examples:
        error = refuses(validator, json.loads(example))
        assert error is None, f"docs/campaign-file.md: {error.json_path}: {error.message}"
    assert count > 20 and len(examples) >= 3, (count, len(examples))
    return count + len(examples)


def check_broken(validator):
    caught = 0
    for path in sorted((HERE / "broken").glob("*.json")):
        name = path.stem.split("-", 1)[1]
        try:
            value = json.loads(path.read_bytes().decode("utf-8"), parse_constant=lambda word: 1 / 0)
        except (ValueError, ZeroDivisionError, RecursionError):
            continue  # no JSON at all: not the schema's business
        error = refuses(validator, value)
        if name in BEYOND:
            continue
        assert error is not None, f"{path.name}: the schema takes it"
        caught += 1
    assert caught >= 50, caught
    return caught


check_schema()
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
good, broken = check_good(VALIDATOR), check_broken(VALIDATOR)
print(f"schema: {good} good files taken, {broken} broken ones refused")
sys.exit(0)
