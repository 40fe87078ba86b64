#!/usr/bin/env python3
"""Gates on size: functions up to 80 lines, files up to 800, 7 parameters, nesting 5. Offenders that exist stand in
ratchet_exceptions.txt with their present value as a ceiling, which may only shrink. Usage: ratchet.py [--print] [ROOT]."""
import pathlib
import re
import sys

GATES = {"function": 80, "file": 800, "parameters": 7, "nesting": 5}
GENERATED = {"weibull_table.c"}
HEAD = re.compile(r"^(?:[A-Za-z_][\w\s*]*?[\s*])?(\w+)\(([^;{]*)\)\s*\{\s*$", re.S)


def functions(text):
    """(name, parameter count, lines, deepest nesting) of every function of a formatted file: bodies open at column 0 level."""
    lines = text.splitlines()
    i = 0
    while i < len(lines):
        if lines[i].endswith("{") and not lines[i].startswith((" ", "}", "#", "/", "typedef", "struct", "enum", "static const", "const")) \
                and "=" not in lines[i]:
            start = i
            while start > 0 and lines[start - 1].strip() and not lines[start - 1].startswith(("}", "#", "/", " *", "*")) \
                    and not lines[start - 1].endswith((";", "*/")):
                start -= 1
            head = re.sub(r"__attribute__\(\(.*?\)\)", "", " ".join(lines[start:i + 1]))
            match = HEAD.match(head.strip())
            end = i + 1
            while end < len(lines) and lines[end] != "}":
                end += 1
            if match:
                parameters = 0 if match.group(2).strip() in ("", "void") else match.group(2).count(",") + 1
                deepest = max((len(line) - len(line.lstrip())) // 4 for line in lines[i + 1:end] if line.strip()) if end > i + 1 else 0
                yield match.group(1), parameters, end - i + 1, deepest
            i = end
        i += 1


def measure(root):
    for top in ("src", "include", "tests"):
        for path in sorted((root / top).rglob("*.[ch]")):
            if path.name in GENERATED:
                continue
            text = path.read_text(encoding="utf-8")
            name = str(path.relative_to(root))
            yield f"file {name}", text.count("\n"), GATES["file"]
            if path.suffix != ".c":
                continue
            for function, parameters, length, nesting in functions(text):
                yield f"function {name} {function}", length, GATES["function"]
                yield f"parameters {name} {function}", parameters, GATES["parameters"]


def main():
    arguments = [a for a in sys.argv[1:] if not a.startswith("--")]
    if "--help" in sys.argv:
        print(__doc__)
        return 0
    root = pathlib.Path(arguments[0] if arguments else pathlib.Path(__file__).parents[2]).resolve()
    listing = root / "tests/tools/ratchet_exceptions.txt"
    allowed = {}
    if listing.exists():
        for line in listing.read_text().splitlines():
            if line and not line.startswith("#"):
                key, value = line.rsplit(" ", 1)
                allowed[key] = int(value)
    measured = list(measure(root))
    bad = 0
    for key, value, gate in measured:
        if value > max(gate, allowed.get(key, 0)):
            print(f"{key}: {value}, gate {gate}")
            bad += 1
    over = {key for key, value, gate in measured if value > gate}
    for key in sorted(set(allowed) - over):
        print(f"{key}: stands in the exceptions but needs none any more; take it out")
        bad += 1
    print(f"ratchet: {len(measured)} measures, {bad} findings")
    return 1 if bad or not measured else 0


sys.exit(main())
