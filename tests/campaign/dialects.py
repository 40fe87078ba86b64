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


def columns_by_other_names():
    fresh()
    write("t.csv", "Part,Load (N),Remark,Way (mode)\nring-01,785,x,stitch\nring-02,700,y,cloth\n")
    errors = run(["import", "s.json", "t.csv", "--design", "ring"], 3).stderr
    assert "t.csv:1:1" in errors and "--columns" in errors, errors
    errors = run(["import", "s.json", "t.csv", "--design", "ring", "--columns", "Prat=id, Remark"], 3).stderr
    assert "\"Prat\"" in errors and "nearest is \"Part\"" in errors and "\"Remark\" in --columns" in errors, errors
    run(["import", "s.json", "t.csv", "--design", "ring", "--columns", "Part=id; Load (N)=peak; Remark=; Way (mode)=mode"])
    assert parts()["ring-01"] == {"id": "ring-01", "order": 4, "peak": "785 N", "mode": "stitch"}, parts()


def new_designs_when_said():
    fresh()
    write("t.csv", "design,id,held [kg],failed [kg]\nring,ring-01,76,80\nbolt,bolt-7,40,42\nbolt,,44,46\nnut,nut-1,30,32\n")
    with open("s.json", encoding="utf-8") as file:
        old = file.read()
    errors = run(["import", "s.json", "t.csv"], 3).stderr
    assert errors.count("--add-designs") == 3 and "t.csv:3:1" in errors and "t.csv:5:1" in errors, errors
    with open("s.json", encoding="utf-8") as file:
        assert file.read() == old
    assert "2 new designs" in run(["import", "s.json", "t.csv", "--add-designs"]).stderr
    with open("s.json", encoding="utf-8") as file:
        designs = json.load(file)["designs"]
    assert [(design["id"], [part["id"] for part in design["specimens"]]) for design in designs[1:]] == [("bolt", ["bolt-7", "bolt-01"]), ("nut", ["nut-1"])]
    run(["undo", "s.json"])
    with open("s.json", encoding="utf-8") as file:
        assert file.read() == old
    write("t.csv", "design,held [kg],failed [kg]\nring-01,40,42\n")
    assert "t.csv:2:1" in run(["import", "s.json", "t.csv", "--add-designs"], 3).stderr  # a part has this id


def forces(name):
    shown = json.loads(run(["check", name, "--unit", "N", "--json"]).stdout)
    return {part["id"]: (part["lower"], part["upper"]) for design in shown["designs"] for part in design["pulls"] if part["outcome"] != "planned"}


def from_another_campaign():
    fresh()
    other = json.loads(json.dumps(CAMPAIGN)) | {"unit": "lb", "title": "second phone"}
    other["rig"]["tare"] = "2.5 kg"
    other["designs"][0]["specimens"] = [
        {"id": "ring-01", "order": 7, "held": 160, "failed": "76 kg", "mode": "stitch", "note": "creaked", "info": {"operator": "B"}},
        {"id": "ring-02", "order": 8, "held": 158, "failed": 165, "tare": "3 kg"}, {"id": "ring-03", "outcome": "planned"}]
    other["designs"].append({"id": "bolt", "name": "M5 bolt", "specimens": [{"id": "bolt-1", "peak": "400 N", "date": "2026-05-02"}]})
    write("o.json", json.dumps(other, indent=1))
    text = json.dumps(other, indent=1)
    line = text[:text.index("\"bolt-1\"")].count("\n")  # where its object begins
    errors = run(["import", "s.json", "o.json"], 3).stderr
    assert f"o.json:{line}:1" in errors and "--add-designs" in errors, (line, errors)
    run(["import", "s.json", "o.json", "--add-designs"])
    mine, theirs = forces("s.json"), forces("o.json")
    assert mine.keys() == theirs.keys() == {"ring-01", "ring-02", "bolt-1"}, mine
    for part, both in theirs.items():  # another tare, another unit: the same force on the part
        assert all(abs(a - b) <= 1e-9 * b for a, b in zip(mine[part], both)), (part, mine[part], both)
    assert parts()["ring-01"]["order"] == 4 and parts()["ring-01"]["info"] == {"operator": "B"} and parts()["ring-03"]["outcome"] == "planned"
    assert "3 rows left out" in run(["import", "s.json", "o.json"]).stderr
    other["designs"][0]["specimens"][0]["failed"], other["designs"][0]["specimens"][1]["held"] = "77 kg", 150
    write("o.json", json.dumps(other, indent=1))
    assert run(["import", "s.json", "o.json"], 3).stderr.count("--take theirs") == 2
    run(["import", "s.json", "o.json", "--take", "theirs"])
    assert parts()["ring-01"]["failed"] == 77
    for key, value in (("advantage", 2), ("angle_deg", 10)):
        write("o.json", json.dumps(other | {"rig": other["rig"] | {key: value}}))
        assert key in run(["import", "s.json", "o.json"], 3).stderr
    write("o.json", json.dumps(other | {"gravity": 9.81}))
    assert "gravity" in run(["import", "s.json", "o.json"], 3).stderr
    write("o.json", "{ \"format\": 1 }")
    assert "o.json:1:" in run(["import", "s.json", "o.json"], 3).stderr


for claim in (columns_by_other_names, new_designs_when_said, from_another_campaign, dialects, same_pulls_are_left_out_and_others_are_conflicts, rows_without_id_in_the_order_of_the_plan,
              what_does_not_look_right_is_refused_row_by_row):
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        claim()
        os.chdir("/")
