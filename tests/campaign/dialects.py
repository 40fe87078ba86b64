"""Tables as spreadsheets write them, into the planned parts of a campaign.

usage: dialects.py PROGRAM"""
import json
import os
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
PROGRAM = os.path.abspath(sys.argv[1])
PLANNED = [f"ring-{i:02d}" for i in range(1, 5)]
CAMPAIGN = {"format": "holdfast-campaign/1", "unit": "kg", "rig": {"records": "added", "tare": 2}, "designs": [
    {"id": "ring", "guess": {"mean": 80, "cv": 0.1},
     "specimens": [{"id": name, "order": 5 - i, "outcome": "planned"} for i, name in enumerate(PLANNED, 1)]}]}
EXPECTED = [(76.5, 80.0, "stitch"), (72.0, 76.25, "cloth\nand stitch")]


def run(words, code=0):
    result = subprocess.run([PROGRAM, *words], capture_output=True, text=True, timeout=60, check=False)
    assert result.returncode == code, (words, result)
    return result


def parts():
    with open("s.json", encoding="utf-8") as file:
        return {part["id"]: part for part in json.load(file)["designs"][0]["specimens"]}


def fresh():
    with open("s.json", "w", encoding="utf-8") as file:
        json.dump(CAMPAIGN, file, indent=1)


def write(name, text):
    with open(name, "w", encoding="utf-8", newline="") as file:
        file.write(text)


def dialects():
    for name in sorted(os.listdir(os.path.join(HERE, "dialects"))):
        fresh()
        shutil.copy(os.path.join(HERE, "dialects", name), "t.csv")
        if name == "windows-1252.csv":
            assert "Windows-1252" in run(["import", "s.json", "t.csv", "--design", "ring"], 3).stderr
            continue
        run(["import", "s.json", "t.csv", "--design", "ring"])
        found = parts()
        assert len(found) == 4, (name, found)
        for part, (held, failed, mode) in zip(PLANNED, EXPECTED):
            assert (found[part]["held"], found[part]["failed"], found[part]["mode"]) == (held, failed, mode), (name, found[part])
        assert found["ring-03"]["outcome"] == "planned" and "outcome" not in found["ring-01"], name


def same_pulls_are_left_out_and_others_are_conflicts():
    fresh()
    write("t.csv", "id,held,failed,mode\nring-01,76,80,stitch\nring-02,72,76,\n")
    run(["import", "s.json", "t.csv", "--design", "ring", "--unit", "kg"])
    with open("s.json", encoding="utf-8") as file:
        old = file.read()
    assert "2 rows left out" in run(["import", "s.json", "t.csv", "--design", "ring", "--unit", "kg"]).stderr
    write("t.csv", "id,held,failed,mode\nring-01,78,82,stitch\nring-02,74,78,\nring-03,70,74,\n")
    errors = run(["import", "s.json", "t.csv", "--design", "ring", "--unit", "kg"], 3).stderr
    assert errors.count("--take theirs") == 2 and "ring-01" in errors and "ring-02" in errors, errors
    with open("s.json", encoding="utf-8") as file:
        assert file.read() == old
    run(["import", "s.json", "t.csv", "--design", "ring", "--unit", "kg", "--take", "ours"])
    assert parts()["ring-01"]["failed"] == 80 and parts()["ring-03"]["failed"] == 74, parts()
    run(["import", "s.json", "t.csv", "--design", "ring", "--unit", "kg", "--take", "theirs"])
    assert parts()["ring-01"]["failed"] == 82 and parts()["ring-01"]["order"] == 4, parts()
    run(["undo", "s.json"])
    assert parts()["ring-01"]["failed"] == 80


def rows_without_id_in_the_order_of_the_plan():
    fresh()
    write("t.csv", "held [kg];failed [kg]\n70,5;74\n71;75\n")
    run(["import", "s.json", "t.csv", "--design", "ring", "--in-order"])
    assert parts()["ring-04"]["held"] == 70.5 and parts()["ring-03"]["held"] == 71 and len(parts()) == 4, parts()


def what_does_not_look_right_is_refused_row_by_row():
    fresh()
    write("t.csv", "id,held [kg],failed [kg]\nring-01,76,80\nring-02,720,760\n")
    errors = run(["import", "s.json", "t.csv", "--design", "ring"], 3).stderr
    assert "t.csv:3:1" in errors and "ring-02" in errors and "more than three times" in errors and "--sure" in errors, errors
    run(["import", "s.json", "t.csv", "--design", "ring", "--sure"])


for claim in (dialects, same_pulls_are_left_out_and_others_are_conflicts, rows_without_id_in_the_order_of_the_plan,
              what_does_not_look_right_is_refused_row_by_row):
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        claim()
        os.chdir("/")
