#!/usr/bin/env python3
"""Scans include lines: a room may use rooms of strictly lower rank; GSL only in numeric, cJSON only in base/json*.c; every
source is listed in its room's sources.cmake. Usage: layers.py [ROOT]. Exit 1 with one line per finding."""
import pathlib
import re
import sys

RANK = {"base": 0, "load": 1, "numeric": 1, "campaign": 2, "strength": 2, "comparing": 3, "planning": 4, "study": 5,
        "report": 6, "command": 7}
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')


def room_of(path, root):
    parts = path.relative_to(root).parts
    if parts[0] == "src" and len(parts) == 3:
        return parts[1]
    if parts[:2] == ("include", "holdfast") and len(parts) == 4:
        return parts[2]
    return None


def check_include(room, path, bracket, target):
    if bracket == "<":
        if target.startswith("gsl/") and room != "numeric":
            return "GSL may only be included in numeric"
        if "cjson" in target.lower() and not (room == "base" and path.name.startswith("json")):
            return "cJSON may only be included in base/json*.c"
        return None
    parts = target.split("/")
    if parts[0] == "holdfast":
        parts = parts[1:]
    if len(parts) != 2 or parts[0] not in RANK:
        return f'include "{target}" is not of the form "holdfast/<room>/<file>.h" or "<room>/<file>.h"'
    if parts[0] != room and RANK[parts[0]] >= RANK[room]:
        return f"{room} (rank {RANK[room]}) may not use {parts[0]} (rank {RANK[parts[0]]})"
    return None


def scan_file(path, root):
    room = room_of(path, root)
    if room not in RANK:
        yield f"{path}: lies in no room"
        return
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        match = INCLUDE.match(line)
        if match:
            problem = check_include(room, path, match.group(1), match.group(2))
            if problem:
                yield f"{path}:{number}: {problem}"


def check_lists(root):
    for room in sorted(p for p in (root / "src").iterdir() if p.is_dir() and p.name in RANK):
        listing = room / "sources.cmake"
        words = set(re.findall(r"[\w.-]+\.c\b", listing.read_text())) if listing.exists() else set()
        for source in sorted(room.glob("*.c")):
            if source.name not in words and not (room.name == "command" and source.name == "main.c"):
                yield f"{source}: is not listed in {listing}"


def main():
    if "--help" in sys.argv:
        print(__doc__)
        return 0
    root = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).parents[2]).resolve()
    findings, files = [], 0
    for top in ("src", "include"):
        for path in sorted((root / top).rglob("*.[ch]")):
            files += 1
            findings += scan_file(path, root)
    findings += check_lists(root)
    for finding in findings:
        print(finding)
    print(f"layers: {files} files, {len(findings)} findings")
    return 1 if findings or not files else 0


sys.exit(main())
