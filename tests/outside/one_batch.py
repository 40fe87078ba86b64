"""How often a 95 % bound from one batch is right in the next: what the caution says, and docs/methods.md, against numpy and scipy.

Normal law, content 0.90; batches differ by a normal amount. usage: one_batch.py PROGRAM"""
import json
import pathlib
import re
import subprocess
import sys
import tempfile

import numpy as np
from scipy import stats

SAMPLES, SHARES = 100000, (0.1, 0.3, 0.5)
PAGE = pathlib.Path(__file__).parents[2] / "docs/methods.md"


def said(program, parts):
    pulls = [{"id": str(i), "batch": "one", "peak": 800 + 17 * i} for i in range(parts)]
    data = {"format": "holdfast-campaign/1", "designs": [{"id": "ring", "specimens": pulls}]}
    with tempfile.NamedTemporaryFile("w", suffix=".json") as file:
        json.dump(data, file)
        file.flush()
        out = subprocess.run([program, "assess", "--json", file.name], capture_output=True, text=True, check=True).stdout
    caution = next(c for c in json.loads(out)["designs"][0]["cautions"] if c["code"] == "one_batch")
    return [caution["values"][name] for name in ("tenth", "third", "half")]


def right(draw, parts, share):
    root = parts ** 0.5
    k = stats.nct.ppf(0.95, parts - 1, stats.norm.ppf(0.9) * root) / root
    y = draw.normal(0, (1 - share) ** 0.5, (SAMPLES, parts)) + draw.normal(0, share ** 0.5, (SAMPLES, 1))
    return (y.mean(1) - k * y.std(1, ddof=1) <= -stats.norm.ppf(0.9)).mean()


def main():
    draw, bad, page = np.random.default_rng(20), 0, PAGE.read_text()
    for parts in (3, 5, 10, 20):
        row = re.search(rf"^\| {parts} parts of one batch \| (.*) \|$", page, re.M)
        printed = [float(x) for x in row[1].split(" | ")]
        for share, ours, shown in zip(SHARES, said(sys.argv[1], parts), printed):
            found = right(draw, parts, share)
            error = 4 * (found * (1 - found) / SAMPLES) ** 0.5 + 0.001
            if abs(found - ours) > error or ours != shown:
                bad += 1
                print(f"{parts} parts, share {share}: caution {ours}, page {shown}, simulated {found:.4f}")
    print(f"one batch: 12 cells, {bad} wrong")
    return bad > 0


sys.exit(main())
