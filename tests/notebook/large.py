"""A campaign with many pairs of large designs: its notebook leaves out what only stands beside the verdicts, relabeling above all, and says so.
The verdicts stand, and a small campaign has both. Why the numbers are missing is said in the JSON: test_left_out.c.

usage: large.py PROGRAM"""
import ast
import json
import pathlib
import random
import re
import sys
import tempfile

import book


def campaign(designs, parts):
    draws = random.Random(3)

    def pull(design, number):
        held = 20 * int(draws.gauss(700 + 5 * design, 60) / 20)
        return {"id": f"d{design}-{number}", "held": held, "failed": held + 20}

    return {"format": "holdfast-campaign/1", "unit": "N", "rig": {"tare": "2.6 kg", "records": "added"},
            "designs": [{"id": f"d{design}", "specimens": [pull(design, number) for number in range(parts)]} for design in range(designs)]}


def notebook_of(program, folder, designs, parts):
    """(its words, the comparison as a Python value)."""
    (pathlib.Path(folder) / "case.json").write_text(json.dumps(campaign(designs, parts)), encoding="utf-8")
    notebook = book.read(book.write(program, "case.json", folder, codes=(0,)))
    numbers = next(source for source in book.code_of(notebook) if source.startswith("PULLS = "))
    found = next(node for node in ast.parse(numbers).body if node.targets[0].id == "COMPARISON")
    return "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown"), ast.literal_eval(found.value)


def evidence(words):
    """The heads of the columns of the pairs."""
    return [head.strip() for head in re.search(r"^\| (pair \|.* settle) \|$", words, re.M)[1].split("|")]


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    with tempfile.TemporaryDirectory() as folder:
        for designs, parts in ((3, 6), (51, 20)):
            words, comparison = notebook_of(program, folder, designs, parts)
            large = designs * designs * parts > 50000
            assert ("relabeled" in evidence(words)) != large and ("relabeled:" in words) != large, f"{designs} designs"
            assert ("is left out: relabeling" in words) == large, f"{designs} designs"
            assert len(comparison["pairs"]) == designs * (designs - 1) // 2
            assert all(pair["method"] == "welch" and pair["p"] and pair["verdict"] for pair in comparison["pairs"])
            verdicts = {pair["verdict"] for pair in comparison["pairs"]}
            assert not large or verdicts >= {"b_stronger", "cannot_tell"}, verdicts


main()
