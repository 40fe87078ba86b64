"""Joins the page: style, script, worker and engine into one HTML file that needs nothing else.

usage: join.py SOURCES ENGINE VERSION OUT. The same input gives the same bytes; the policy in the page names the hash of its script and
of its style, so that nothing else runs in it."""
import base64
import hashlib
import json
import pathlib
import re
import subprocess
import sys

from pack import pack

WORKER = ("engine.js", "worker.js")
PAGE = ("elements.js", "unpack.js", "calls.js", "campaign.js", "keeping.js", "shell.js", "clock.js", "forms.js", "place_plan.js", "place_bench.js", "place_answer.js", "place_file.js", "start.js")
STYLE = ("page.css",)


# What would read a text as markup or as a program.
FORBIDDEN = re.compile(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\b|new Function|setHTML")


def script(folder, names):
    """One script: comment lines and indentation are for those who read the modules."""
    text = "".join((folder / name).read_text(encoding="utf-8") for name in names)
    if FORBIDDEN.search(text):
        sys.exit(f"join.py: found {FORBIDDEN.search(text).group()}, expected elements made by h() and texts")
    lines = (re.sub(r"^\s*(//.*)?", "", line) for line in text.splitlines())
    return '"use strict";\n' + "".join(line + "\n" for line in lines if line)


def style(folder):
    text = "".join((folder / name).read_text(encoding="utf-8") for name in STYLE)
    return re.sub(r"\n\s*", "\n", re.sub(r"/\*.*?\*/", "", text, flags=re.S)).strip()


def letters(packed):
    """Five letters for four bytes, as RFC 1924 has them, with "," for "<"; first how many bytes there are. A sixteenth less than base 64."""
    return f"{len(packed)} " + base64.b85encode(packed, pad=True).decode().replace("<", ",")


def hash_of(text):
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() + "'"


def commit_of(folder):
    """The commit the sources stand at; no word where they are not under git."""
    asked = subprocess.run(["git", "-C", folder, "rev-parse", "--short=12", "HEAD"], capture_output=True, text=True)
    return asked.stdout.strip()


def main():
    folder, engine, version, out = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]).read_bytes(), *sys.argv[3:]
    texts = {"STYLE": style(folder), "SCRIPT": "(() => {\n" + script(folder, PAGE) + "})();"}
    texts |= {name + "_HASH": hash_of(text) for name, text in texts.items()}
    texts["WORKER"] = script(folder, WORKER)
    packed, texts["TABLES"] = pack(engine)
    texts["ENGINE"] = letters(packed)
    texts["ABOUT"] = json.dumps({"version": version, "commit": commit_of(folder), "engine": hashlib.sha256(engine).hexdigest()})
    for name, text in texts.items():
        if "</script" in text.lower() or "<!--" in text:
            sys.exit(f"join.py: {name} holds what would end its element")
    page = re.sub(r"@(\w+)@", lambda found: texts[found.group(1)], (folder / "page.html").read_text(encoding="utf-8"))
    pathlib.Path(out).write_text(page, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
