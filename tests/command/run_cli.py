"""Runs the program over the cases in tests/command/cases and compares what it does with what is written there.

usage: run_cli.py PROGRAM [--update] [NAME ...]

A case is one file NAME.case of sections, each begun by a line "--- kind [name]":
  what          why the case is there
  use FILE      copy FILE from the cases folder into the scratch folder the case runs in
  file NAME     write these lines to NAME there
  env           NAME=VALUE lines, added to an otherwise empty environment
  input         standard input (nothing without it)
  run           shell lines; the exit code is that of the last
  exit          expected exit code
  stdout, stderr, after NAME   expected output, and content of a file afterwards; not checked when left out
In expected text {*} stands for anything within a line and a line {...} for any number of lines.
--update writes what the program does now into the sections that do not match.
"""
import os
import re
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
CASES = os.path.join(HERE, "cases")
CHECKED = ("exit", "stdout", "stderr", "after")
KINDS = CHECKED + ("what", "use", "file", "env", "input", "run")


def read_case(path):
    sections = []
    with open(path, encoding="utf-8") as file:
        for line in file:
            head = re.fullmatch(r"--- (\w+)(?: (\S+))?\n", line)
            if head:
                if head[1] not in KINDS:
                    sys.exit(f"{path}: unknown section {head[1]}")
                sections.append([head[1], head[2], ""])
            elif sections:
                sections[-1][2] += line
    for kind in ("what", "run", "exit"):
        if not any(section[0] == kind for section in sections):
            sys.exit(f"{path}: section {kind} is missing")
    return sections


def write_case(path, sections):
    with open(path, "w", encoding="utf-8") as file:
        for kind, name, text in sections:
            file.write(f"--- {kind}{' ' + name if name else ''}\n{text}")
            if text and not text.endswith("\n"):
                file.write("\n")


def matches(expected, found):
    pattern = ""
    for line in expected.splitlines():
        if line == "{...}":
            pattern += r"(?:[^\n]*\n)*"
        else:
            pattern += "[^\n]*".join(re.escape(part) for part in line.split("{*}")) + "\n"
    if found and not found.endswith("\n"):
        found += "\n"
    return re.fullmatch(pattern, found) is not None


def environment(program, sections, scratch):
    variables = {"PATH": os.path.join(scratch, ".bin") + ":/usr/bin:/bin", "LC_ALL": "C", "HOME": scratch}
    for name in ("ASAN_OPTIONS", "UBSAN_OPTIONS"):
        if name in os.environ:
            variables[name] = os.environ[name]
    for kind, _, text in sections:
        if kind == "env":
            variables.update(line.split("=", 1) for line in text.splitlines())
    os.mkdir(os.path.join(scratch, ".bin"))
    os.symlink(program, os.path.join(scratch, ".bin", "holdfast"))
    return variables


def prepare(sections, scratch):
    for kind, name, text in sections:
        if kind == "use":
            shutil.copy(os.path.join(CASES, name), scratch)
        elif kind == "file":
            with open(os.path.join(scratch, name), "w", encoding="utf-8") as file:
                file.write(text)


def found_for(kind, name, result, scratch):
    if kind == "exit":
        return f"{result.returncode}\n"
    if kind == "after":
        path = os.path.join(scratch, name)
        if not os.path.exists(path):
            return "no such file\n"
        with open(path, encoding="utf-8") as file:
            return file.read()
    return getattr(result, kind)


def run_case(program, path, update):
    sections = read_case(path)
    failures = []
    with tempfile.TemporaryDirectory(prefix="holdfast-case-") as scratch:
        prepare(sections, scratch)
        variables = environment(program, sections, scratch)
        given = "".join(text for kind, _, text in sections if kind == "input")
        lines = "".join(text for kind, _, text in sections if kind == "run")
        result = subprocess.run(["/bin/sh", "-c", lines], cwd=scratch, env=variables, input=given, text=True,
                                encoding="utf-8", capture_output=True, timeout=120)
        for section in sections:
            kind, name, expected = section
            if kind not in CHECKED:
                continue
            found = found_for(kind, name, result, scratch)
            if matches(expected, found):
                continue
            if update:
                section[2] = found
            label = f"{kind} {name}" if name else kind
            failures.append(f"{label}\n  expected:\n{indent(expected)}  found:\n{indent(found)}")
    if failures and update:
        write_case(path, sections)
    return failures


def indent(text):
    return "".join(f"    {line}\n" for line in text.splitlines()) or "    (nothing)\n"


def main(words):
    update = "--update" in words
    words = [word for word in words if word != "--update"]
    program = os.path.abspath(words[0])
    names = words[1:] or sorted(name[:-5] for name in os.listdir(CASES) if name.endswith(".case"))
    if not names:
        sys.exit("run_cli.py: no cases found")
    failed = 0
    for name in names:
        failures = run_case(program, os.path.join(CASES, name + ".case"), update)
        failed += bool(failures)
        for failure in failures:
            print(f"{name}: {'updated' if update else 'differs'}: {failure}")
    print(f"{len(names)} cases, {failed} {'updated' if update else 'failed'}")
    return 1 if failed and not update else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
