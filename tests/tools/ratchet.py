#!/usr/bin/env python3
"""Gates on size: functions up to 80 lines, files up to 800, 7 parameters, control nested 4 deep.

Offenders that exist stand in tests/tools/ratchet_exceptions.txt with their present value as a ceiling; a ceiling above the
present value is a finding too, so that it can only shrink. usage: ratchet.py [--print] [ROOT]
--print lists every measure above the aims of the house (40 lines, 400 lines, 5 parameters, 3 deep). Exit 1 on findings."""
import pathlib
import re
import sys

GATES = {"function": 80, "file": 800, "parameters": 7, "nesting": 4}
AIMS = {"function": 40, "file": 400, "parameters": 5, "nesting": 3}
GENERATED = {"weibull_table.c", "weibull_tail_table.c", "looks_table.c"}
# Comments, texts and directives hold braces and words that are no code; their line ends are kept for counting.
NOT_CODE = re.compile(r"""/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|^[ \t]*\#(?:\\\n|[^\n])*""", re.S | re.M)
TOKEN = re.compile(r"\w+|\S")
CONTROL = {"if", "for", "while", "switch"}


class Tokens:
    """The words of a file with their lines, and a place in them."""

    def __init__(self, text):
        def blank(match):
            return ("0" if match.group()[0] in "\"'" else " ") + "\n" * match.group().count("\n")

        code = NOT_CODE.sub(blank, text)
        self.words, self.lines, line, last = [], [], 1, 0
        for match in TOKEN.finditer(code):
            line += code.count("\n", last, match.start())
            last = match.start()
            self.words.append(match.group())
            self.lines.append(line)
        self.at = 0

    def peek(self):
        return self.words[self.at] if self.at < len(self.words) else ""

    def skip_group(self):
        """Past one bracketed group that opens here."""
        depth = 0
        while self.at < len(self.words):
            depth += (self.peek() in "([{") - (self.peek() in ")]}")
            self.at += 1
            if depth == 0:
                return

    def skip_until(self, ends):
        while self.at < len(self.words) and self.peek() not in ends:
            if self.peek() in ("(", "[", "{"):
                self.skip_group()
            elif self.peek() == "}":
                return
            else:
                self.at += 1
        self.at += 1


def block(tokens, depth):
    """Deepest control inside { … }."""
    tokens.at += 1
    deepest = depth
    while tokens.at < len(tokens.words) and tokens.peek() != "}":
        deepest = max(deepest, statement(tokens, depth))
    tokens.at += 1
    return deepest


def controlled(tokens, depth):
    word = tokens.peek()
    tokens.at += 1
    if word != "do":
        tokens.skip_group()
    deepest = statement(tokens, depth + 1)
    if word == "do":
        tokens.skip_until({";"})
    if word == "if" and tokens.peek() == "else":
        tokens.at += 1
        # "else if" continues a chain and is no deeper than its first "if".
        deepest = max(deepest, statement(tokens, depth if tokens.peek() == "if" else depth + 1))
    return deepest


def statement(tokens, depth):
    word = tokens.peek()
    if word == "{":
        return block(tokens, depth)
    if word in CONTROL or word == "do":
        return controlled(tokens, depth)
    if word in ("case", "default"):
        tokens.skip_until({":"})
        return depth
    tokens.skip_until({";"})
    return depth


def parameter_count(head):
    """Of the last bracket in the head of a function."""
    close = len(head) - 1 - head[::-1].index(")")
    depth, commas, at = 0, 0, close
    while True:
        depth += (head[at] == ")") - (head[at] == "(")
        if depth == 0:
            break
        commas += head[at] == "," and depth == 1
        at -= 1
    return (0 if head[at + 1:close] in ([], ["void"]) else commas + 1), at


def functions(text):
    """(name, parameters, lines, deepest nesting) of every function."""
    tokens, start = Tokens(text), 0
    while tokens.at < len(tokens.words):
        word = tokens.peek()
        head = tokens.words[start:tokens.at]
        if word == "{" and head and head[-1] == ")" and "=" not in head:
            count, bracket = parameter_count(head)
            name = head[bracket - 1]
            if name == "START_TEST":
                name, count = head[bracket + 1], 0
            first = tokens.lines[start]
            deepest = block(tokens, 0)
            yield name, count, tokens.lines[tokens.at - 1] - first + 1, deepest
            start = tokens.at
        elif word in ("{", "("):
            tokens.skip_group()
        else:
            tokens.at += 1
            start = tokens.at if word == ";" or head == ["END_TEST"] or word == "END_TEST" else start


def measure(root):
    for top in ("src", "include", "tests"):
        for path in sorted((root / top).rglob("*.[ch]")):
            if path.name in GENERATED:
                continue
            text = path.read_text(encoding="utf-8")
            name = str(path.relative_to(root))
            yield f"file {name}", text.count("\n")
            for function, parameters, length, nesting in functions(text):
                yield f"function {name} {function}", length
                yield f"parameters {name} {function}", parameters
                yield f"nesting {name} {function}", nesting


def read_ceilings(root):
    listing, ceilings = root / "tests/tools/ratchet_exceptions.txt", {}
    if listing.exists():
        for line in listing.read_text(encoding="utf-8").splitlines():
            if line and not line.startswith("#"):
                key, value = line.rsplit(" ", 1)
                ceilings[key] = int(value)
    return ceilings


def findings(measured, ceilings):
    present = {}
    for key, value in measured:
        present[key] = max(value, present.get(key, 0))
    for key, value in sorted(present.items()):
        gate = GATES[key.split()[0]]
        if value > max(gate, ceilings.get(key, 0)):
            yield f"{key}: {value}, gate {max(gate, ceilings.get(key, 0))}"
    for key, ceiling in sorted(ceilings.items()):
        value = present.get(key, 0)
        if value <= GATES[key.split()[0]]:
            yield f"{key}: stands in the exceptions but needs none any more; take it out"
        elif value < ceiling:
            yield f"{key}: its ceiling is {ceiling} but it is {value} now; lower the ceiling"


def main():
    arguments = [a for a in sys.argv[1:] if not a.startswith("--")]
    if "--help" in sys.argv:
        print(__doc__)
        return 0
    root = pathlib.Path(arguments[0] if arguments else pathlib.Path(__file__).parents[2]).resolve()
    measured = list(measure(root))
    if "--print" in sys.argv:
        for key, value in sorted(measured, key=lambda item: (item[0].split()[0], -item[1], item[0])):
            if value > AIMS[key.split()[0]]:
                print(f"{key}: {value}, aim {AIMS[key.split()[0]]}")
    bad = list(findings(measured, read_ceilings(root)))
    print("\n".join(bad + [f"ratchet: {len(measured)} measures, {len(bad)} findings"]))
    return 1 if bad or not measured else 0


if __name__ == "__main__":
    sys.exit(main())
