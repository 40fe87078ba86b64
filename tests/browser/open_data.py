"""The open data sets as campaigns: what others measured, read as pulls so that their pages can be looked at. None of it is about joints;
whatever the unit was, the page says N, and its title and "about" say so. Written by hand: open_data.py FOLDER
"""
import csv
import json
import pathlib
import sys

DATASETS = pathlib.Path(__file__).resolve().parents[2] / "datasets"
VALUES = ("mrev", "strength_gpa", "strength_mpa", "diameter", "strength", "strength_ksi", "smoothness")
TIMES = ("hours", "km")
BATCHES = ("lab_batch", "batch", "lab")


def interval(lower, upper):
    """The loads of one observation between two ends, either of which may be open."""
    if lower is not None and lower == upper:
        return {"peak": lower}
    if upper is None:
        return {"held": lower, "outcome": "held"}
    return {"failed": upper} if lower is None or lower == 0 else {"held": lower, "failed": upper}


def pulls_of(row):
    """The pulls of one row of a table."""
    value = {key: float(text) if text else None for key, text in row.items() if key not in BATCHES}
    batch = {"batch": row[key] for key in BATCHES if key in row}
    if "inspected" in value:
        cracked, at = int(value["cracked"]), value["hundred_hours"]
        return [interval(None, at)] * cracked + [interval(at, None)] * (int(value["inspected"]) - cracked)
    if "lower" in value:
        return [interval(value["lower"], value["upper"])] * int(value.get("count", 1))
    for key in TIMES:
        if key in value:
            return [{"peak": value[key]} if value["event"] else interval(value[key], None)]
    return [dict({"peak": value[key]}, **batch) for key in VALUES if key in value]


def campaign(path):
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    about = " ".join(line[1:].strip() for line in path.read_text(encoding="utf-8").splitlines() if line.startswith("#"))
    pulls = [dict({"id": f"{n + 1:03}"}, **pull) for n, pull in enumerate(p for row in csv.DictReader(lines) for p in pulls_of(row))]
    return {"format": "holdfast-campaign/1", "title": f"Open data, figures read as newtons: {path.stem.replace('-', ' ')}", "info": {"about": about},
            "rig": {"records": "total"}, "goal": {"content": 0.9, "confidence": 0.95},
            "designs": [{"id": path.stem, "specimens": pulls}]}


def write(folder):
    """Writes them all; the path of each by name."""
    paths = {}
    for source in sorted(DATASETS.glob("*.csv")):
        paths[source.stem] = pathlib.Path(folder) / f"{source.stem}.json"
        paths[source.stem].write_text(json.dumps(campaign(source), ensure_ascii=False, indent=1), encoding="utf-8")
    return paths


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    write(sys.argv[1])
