#!/usr/bin/env python3
"""Reads which functions the object files of a build define and which they call.

In the rooms named below no file may need another that needs it in turn, by however many others: such files can only be read, tested and
moved together.
usage: circles.py BUILD. Exit 1 with one line per circle."""
import collections
import pathlib
import subprocess
import sys

FREE = {"platform", "load", "numeric", "document", "campaign", "comparing", "planning", "command"}


def symbols(objects):
    """What each object defines and what it calls."""
    defined, wanted, here = {}, collections.defaultdict(set), None
    listing = subprocess.run(["nm", *map(str, objects)], capture_output=True, text=True, check=True).stdout
    for line in listing.splitlines():
        words = line.split()
        if line.endswith(":"):
            here = pathlib.Path(line[:-1])
        elif len(words) == 2 and words[0] == "U":
            wanted[here].add(words[1])
        elif len(words) == 3 and words[1] in "TDRBC":
            defined[words[2]] = here
    return defined, wanted


def reached(start, needs):
    """Every file that `start` needs, directly or not."""
    seen, left = set(), [start]
    while left:
        for other in needs[left.pop()] - seen:
            seen.add(other)
            left.append(other)
    return seen


def circles(needs):
    whole = {file: reached(file, needs) for file in needs}
    found = {frozenset(other for other in whole[file] if file in whole[other]) for file in needs if file in whole[file]}
    return sorted(sorted(circle) for circle in found)


def main():
    if len(sys.argv) != 2 or sys.argv[1] == "--help":
        print(__doc__)
        return 0 if "--help" in sys.argv else 2
    folder, findings, files = pathlib.Path(sys.argv[1]) / "src/CMakeFiles", [], 0
    for room in sorted(FREE):
        objects = sorted(folder.glob(f"room_{room}.dir/{room}/*.o"))
        if not objects:
            findings.append(f"{room}: no object files under {folder}")
            continue
        files += len(objects)
        defined, wanted = symbols(objects)
        needs = {file.name: {defined[name].name for name in wanted[file] if name in defined and defined[name] != file} for file in objects}
        findings += [f"{room}: {', '.join(name.removesuffix('.o') for name in circle)} need each other" for circle in circles(needs)]
    print("\n".join(findings + [f"circles: {files} files, {len(findings)} findings"]))
    return 1 if findings else 0


if __name__ == "__main__":
    sys.exit(main())
