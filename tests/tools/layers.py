#!/usr/bin/env python3
"""Reads the include lines under src/ and include/ and the lists of sources.

A room may use rooms of strictly lower rank and itself; GSL stays in numeric, cJSON in base/json*.c; system headers are C17, those of
POSIX stay in platform; every include line has the form "holdfast/<room>/<file>.h" or "<room>/<file>.h" and names a file that exists; no source
lies outside a room; every source stands in its room's sources.cmake, which states the rank of design.md.
usage: layers.py [ROOT]. Exit 1 with one line per finding."""
import pathlib
import re
import sys

RANK = {"platform": -1, "pages": -1, "base": 0, "load": 1, "numeric": 1, "document": 1, "strength": 2, "campaign": 3, "comparing": 3,
        "planning": 4, "study": 5, "words": 6, "chart": 7, "handover": 8, "command": 9,
        "page": 10}
# Third party: which header, where it may be included, how that is said.
THIRD_PARTY = [
    (re.compile(r"^gsl/", re.I), lambda room, name: room == "numeric", "GSL may only be included in numeric"),
    (re.compile(r"cjson", re.I), lambda room, name: room == "base" and re.fullmatch(r"json\w*\.c", name),
     "cJSON may only be included in base/json*.c"),
    (re.compile(r"^(curses|term)\.h$"), lambda room, name: name == "screen_ncurses.c", "ncurses may only be included in platform/screen_ncurses.c"),
    (re.compile(r"^omp\.h$"), lambda room, name: room == "numeric", "OpenMP may only be included in numeric"),
]
C17 = set("""assert complex ctype errno fenv float inttypes iso646 limits locale math setjmp signal stdalign stdarg stdatomic
    stdbool stddef stdint stdio stdlib stdnoreturn string tgmath threads time uchar wchar wctype""".split())
POSIX = set("""dirent fcntl libgen poll pthread spawn strings sys/file sys/ioctl sys/resource sys/stat sys/time sys/types sys/wait termios
    unistd""".split())
FEATURES = re.compile(r"^[ \t]*#[ \t]*define[ \t]+(_(?:POSIX_C|XOPEN|GNU|DEFAULT|BSD)_SOURCE)\b", re.M)
HASH = re.compile(r"^[ \t]*#[ \t]*include\b(.*)$")
FORM = re.compile(r'\s*(?:<([^>]+)>|"([^"]+)")\s*(?:/[/*].*)?$')
TEXT_OR_COMMENT = re.compile(r'("(?:\\.|[^"\\\n])*")|/\*.*?\*/', re.S)
GENERATED = {"base/version_number.h": "base/version.h.in"} | {
    f"pages/{name}.h": "pages/sources.cmake" for name in ("page_style", "chart_style", "sheet_style", "notebook", "example", "site")}
ROOM_LINE = re.compile(r"holdfast_room\(\s*(\w+)\s+RANK\s+(-?\d+)([^)]*)\)", re.S)


def room_of(path, root):
    parts = path.relative_to(root).parts
    if parts[0] == "src" and len(parts) == 3:
        return parts[1]
    if parts[:2] == ("include", "holdfast") and len(parts) == 4:
        return parts[2]
    return None


def system_problem(room, name, target):
    for pattern, allowed, words in THIRD_PARTY:
        if pattern.search(target):
            return None if allowed(room, name) else words
    stem = target.removesuffix(".h")
    if stem in POSIX:
        return None if room == "platform" else f"<{target}> is not C17: POSIX headers may only be included in platform"
    return None if stem in C17 else f"<{target}> is neither C17 nor POSIX nor a library of ours"


def own_problem(room, root, target):
    public = target.startswith("holdfast/")
    parts = target.split("/")[public:]
    if len(parts) != 2 or parts[0] not in RANK or not parts[1].endswith(".h"):
        return f'include "{target}" is not of the form "holdfast/<room>/<file>.h" or "<room>/<file>.h"'
    if parts[0] != room and RANK[parts[0]] >= RANK[room]:
        return f"{room} (rank {RANK[room]}) may not use {parts[0]} (rank {RANK[parts[0]]})"
    folder = root / ("include" if public else "src")
    if not (folder / GENERATED.get(target, target)).exists():
        return f'include "{target}" names no file'
    return None


def include_problem(room, path, root, rest):
    match = FORM.match(rest)
    if not match:
        return f"include{rest} is not a plain include line"
    if match.group(1):
        return system_problem(room, path.name, match.group(1))
    for pattern, allowed, words in THIRD_PARTY:
        if pattern.search(match.group(2)) and not allowed(room, path.name):
            return words
    return own_problem(room, root, match.group(2))


# Memory is counted where it is taken. File names come from the system with memory of its own.
TAKES_MEMORY = re.compile(r"(?<![\w.>])(malloc|calloc|realloc|strdup|free)\(")
COUNTS_MEMORY = re.compile(r"src/(base/(memory|file)\.c|platform/)")


def memory_problem(path, root, line):
    match = None if COUNTS_MEMORY.match(str(path.relative_to(root))) else TAKES_MEMORY.search(line)
    return match and f"{match.group(1)}() instead of holdfast/base/memory.h"


def scan_file(path, root):
    room = room_of(path, root)
    if room not in RANK:
        yield f"{path.relative_to(root)}: lies in no room"
        return
    text = TEXT_OR_COMMENT.sub(lambda found: found.group(1) or "\n" * found.group().count("\n"), path.read_text(encoding="utf-8"))
    for match in FEATURES.finditer(text):
        yield f"{path.relative_to(root)}:{text.count(chr(10), 0, match.start()) + 1}: {match.group(1)} is defined for platform alone"
    for number, line in enumerate(text.splitlines(), 1):
        match = HASH.match(line)
        problem = include_problem(room, path, root, match.group(1)) if match else memory_problem(path, root, line)
        if problem:
            yield f"{path.relative_to(root)}:{number}: {problem}"


SYSTEM = re.compile(r"(\S*)\$\{HOLDFAST_SYSTEM\}(\S*)")
LAW_LIST, LAW_ROW = "include/holdfast/strength/family_list.h", re.compile(r"^ +ROW\((\w+)\)", re.M)


def check_list(room, root):
    listing = root / "src" / room / "sources.cmake"
    name = listing.relative_to(root)
    here = {path.name for path in listing.parent.glob("*.c")} - ({"main.c"} if room == "command" else set())
    if not listing.exists():
        if here:
            yield f"{name}: is missing"
        return
    match = ROOM_LINE.search(listing.read_text(encoding="utf-8"))
    if room == "pages" and not here:  # files to embed, no code
        return
    if not match or match.group(1) != room:
        yield f"{name}: holds no holdfast_room({room} RANK …)"
        return
    if int(match.group(2)) != RANK[room]:
        yield f"{name}: rank {match.group(2)}, expected {RANK[room]}"
    body = SYSTEM.sub(r"\1posix\2 \1wasm\2", match.group(3))  # a file for each system
    listed = re.findall(r"[\w.-]+\.c\b", body)
    if "${laws}" in body:  # a file for each row of the list of laws
        listed += [f"{law}.c" for law in LAW_ROW.findall((root / LAW_LIST).read_text(encoding="utf-8"))]
    for source in sorted(here - set(listed)):
        yield f"src/{room}/{source}: is not listed in {name}"
    for source in sorted(set(listed) - here):
        yield f"{name}: lists {source}, which does not exist"
    for source in sorted({source for source in listed if listed.count(source) > 1}):
        yield f"{name}: lists {source} twice"


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
    for room in sorted(RANK):
        if (root / "src" / room).is_dir():
            findings += check_list(room, root)
    print("\n".join(findings + [f"layers: {files} files, {len(findings)} findings"]))
    return 1 if findings or not files else 0


if __name__ == "__main__":
    sys.exit(main())
