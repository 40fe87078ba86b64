#!/usr/bin/env python3
"""Whatever command and format is asked, a file gives one verdict, load, bound and list of cautions, and one exit code.

Every campaign of the tests goes through assess (text, Markdown, page, JSON), report (page, Markdown) and notebook. The JSON's answer must stand
in each of the others: the same load, the same words of what is met, each caution with the same words and numbers. usage: one_truth.py HOLDFAST"""
import html
import json
import math
import pathlib
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

ROOT = pathlib.Path(__file__).resolve().parents[2]
FOLDERS = ("tests/realities", "tests/compare/campaigns", "tests/report/campaigns", "datasets")
REQUIRED = {"met": "met", "met_if": "met, if", "not_met": "NOT met"}
SERVICE = {"met": "covered", "met_if": "covered, if", "not_met": "NOT covered"}
FORMATS = (("assess", "--format", "text"), ("assess", "--format", "md"), ("assess", "--format", "html"), ("report", "--format", "html"),
           ("report", "--format", "md"), ("notebook",))


def plain(kind, text):
    """The words a reader sees, with single blanks."""
    if kind[0] == "notebook":
        text = "\n".join("".join(cell["source"]) for cell in json.loads(text)["cells"] if cell["cell_type"] == "markdown")
    if kind[-1] == "html":
        text = html.unescape(re.sub(r"<[^>]*>", "", re.sub(r"<(style|svg).*?</\1>", "", text, flags=re.S)))
    else:
        text = html.unescape(text).replace("\\", "")
    return re.sub(r"[\s\u00a0*`]+", " ", text.replace("\u2068", "").replace("\u2069", ""))


def squeeze(text):
    return re.sub(r"[\s*`]+", " ", text)


def run(program, words, path):
    done = subprocess.run([program, words[0], str(path), *words[1:]], capture_output=True, text=True)
    return done.returncode, done.stdout, done.stderr


def number(text):
    """Also "3.31×10⁻¹⁰"."""
    raised = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
    return float(re.sub(r"×10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)", lambda found: "e" + found[1].translate(raised), text))


def number_text(value):
    return re.sub(r"\.0$", "", repr(value))


def check_design(design, unit, kind, text):
    answer, name = design["answer"], design["name"] or design["id"]
    load = answer["working_load"]
    if load is not None:
        shown = [number(found) for found in re.findall(r"(?:work with at most|a working load of) (\S+) " + re.escape(unit), text)]
        if not any(math.isclose(load, value, rel_tol=2e-3) for value in shown):
            yield f"{name}: working load {load} {unit} is not told, only {shown}"
    for key, words, label in (("required", REQUIRED, "Required bound"), ("service", SERVICE, "Service load")):
        word = answer[key]
        if word != "not_stated" and not re.search(label + r" [^:.]*(?:\.\d+)?[^:.]*: " + re.escape(words[word]), text):
            yield f"{name}: {key} is {word}, and no sentence says \"{label} …: {words[word]}\""
    for caution in design["cautions"]:
        if squeeze(caution["text"]) not in text:
            yield f"{name}: caution {caution['code']} is not told: {caution['text']}"


def expected_exit(result):
    if not any(design["governing"]["value"] is not None for design in result["designs"]):
        return 4
    return 1 if result["met"] == "not_met" else 0


ORDER = ("not_stated", "met", "met_if", "not_met")


def check(program, path):
    code, out, _ = run(program, ("assess", "--json"), path)
    if code == 3:
        return 0, []
    result = json.loads(out)
    findings = []
    worst = max((design["answer"][key] for design in result["designs"] for key in ("required", "service")), key=ORDER.index,
                default="not_stated")
    if result["met"] != worst:
        findings.append(f"met is {result['met']}, the worst of its designs {worst}")
    if code != expected_exit(result):
        findings.append(f"exit code {code}, expected {expected_exit(result)} for {result['met']}")
    for design in result["designs"]:
        answer, ranks = design["answer"], {caution["code"]: caution["rank"] for caution in design["cautions"]}
        if answer["worst_caution"] not in (ranks if ranks else (None,)):
            findings.append(f"worst caution {answer['worst_caution']} is none of {sorted(ranks)}")
        if (answer["verdict"] == "working_load") != (answer["working_load"] is not None):
            findings.append(f"verdict {answer['verdict']} with working load {answer['working_load']}")
    for kind in FORMATS:
        code_here, out, err = run(program, kind, path)
        if kind[0] != "notebook" and code_here != code:
            findings.append(f"{' '.join(kind)}: exit code {code_here}, that of the JSON is {code}: {err}")
        text = plain(kind, out)
        for design in result["designs"]:
            findings += [f"{' '.join(kind)}: {finding}" for finding in check_design(design, result["unit"], kind, text)]
        for caution in result["cautions"]:
            if squeeze(caution["text"]) not in text:
                findings.append(f"{' '.join(kind)}: caution {caution['code']} of the file is not told")
    return 1, [f"{path.name}: {finding}" for finding in findings]


def main():
    if len(sys.argv) != 2:
        print(__doc__)
        return 2
    files = [path for folder in FOLDERS for path in sorted((ROOT / folder).glob("*.json")) if path.name != "expected.json"]
    with ThreadPoolExecutor(2) as pool:
        results = list(pool.map(lambda path: check(sys.argv[1], path), files))
    findings = [finding for _, found in results for finding in found]
    print("\n".join(findings + [f"one truth: {sum(done for done, _ in results)} campaigns, {len(findings)} findings"]))
    return 1 if findings or not any(done for done, _ in results) else 0


if __name__ == "__main__":
    sys.exit(main())
