#!/usr/bin/env python3
"""Whatever command and format is asked, a file gives one verdict, load, bound and list of cautions, and one exit code.

Every campaign of the tests goes through assess (whole and at one look; text, Markdown, page, JSON), report (page, Markdown) and notebook. The JSON's answer must stand
in each of the others: the same load, the same words of what is met, each caution with the same words and numbers; at one look each caution by name, and the lines of the sums are those of the whole text. usage: one_truth.py HOLDFAST"""
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
SHORT = (("assess", "--format", "text"), ("assess", "--format", "md"), ("assess", "--format", "html"))
SHORT_SERVICE = {"met": "covers", "met_if": "covers", "not_met": "does NOT cover"}
FORMATS = (("assess", "--full", "--format", "text"), ("assess", "--full", "--format", "md"), ("assess", "--full", "--format", "html"), ("report", "--format", "html"),
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
        if squeeze(f"{caution['title']}: {caution['text']}") not in text:
            yield f"{name}: caution {caution['code']} is not told: {caution['title']}: {caution['text']}"


def sum_lines(text):
    return [line for line in text.splitlines() if line.startswith("  ") and (" = " in line or "rounded down to" in line)]


def check_short(design, unit, text):
    """What one look says of a design: the load, whether it is enough, and never "met" without the condition; each caution by name."""
    answer, name = design["answer"], design["name"] or design["id"]
    load = answer["working_load"]
    shown = [number(found) for found in re.findall(r"(\d[\d.]*(?:e[+-]?\d+|×10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?) " + re.escape(unit), text)]
    if load is not None and not any(math.isclose(load, value, rel_tol=2e-3) for value in shown):
        yield f"{name}: working load {load} {unit} is not told"
    if load is not None and answer["service"] != "not_stated" and SHORT_SERVICE[answer["service"]] not in text:
        yield f"{name}: service is {answer['service']}, not told"
    if answer["required"] == "not_met" and not re.search(r"NOT met|NOT cover|no load|settle first", text):
        yield f"{name}: required bound is not met, and one look does not say so"
    if "met_if" in (answer["required"], answer["service"]) and "not_met" not in (answer["required"], answer["service"]) and not re.search(r"\bif ", text):
        yield f"{name}: met only if, and one look has no condition"
    for caution in design["cautions"]:
        if squeeze(caution["title"]) not in text:
            yield f"{name}: caution {caution['code']} is not named"


def check_promises(design, table):
    """The cell of the promise at hand is the answer; no cell promises more for more parts or more confidence; the table of the whole text has every cell."""
    answer, cells, name = design["answer"], design["other_promises"], design["name"] or design["id"]
    for one in cells:
        asked = (one["content"], one["confidence"]) == (design["goal"]["content"], design["goal"]["confidence"])
        if asked and answer["verdict"] in ("working_load", "bound_only") and (one["bound"], one["working_load"]) != (answer["bound"], answer["working_load"]):
            yield f"{name}: among other promises {one}, answered {answer['bound']} and {answer['working_load']}"
        for key in ("bound", "working_load"):
            for other in cells:
                more = other["content"] >= one["content"] and other["confidence"] >= one["confidence"]
                if more and None not in (one[key], other[key]) and other[key] > one[key] * (1 + 1e-9) and one[key] > 0:
                    yield f"{name}: {key} {other[key]} at {other['content']}/{other['confidence']}, less at {one['content']}/{one['confidence']}"
    shown = [number(word) for word in re.findall(r"\d[\d.]*(?:e[+-]?\d+|×10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?", table)]
    for one in cells:
        load = one["working_load"]
        if load is not None and not any(math.isclose(load, value, rel_tol=2e-3) for value in shown):
            yield f"{name}: {load} at {one['content']}/{one['confidence']} does not stand in the table"


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
    whole_text = run(program, ("assess", "--full"), path)[1]
    whole = set(sum_lines(whole_text))
    tables = re.findall(r"What another promise would give(.*?)of the same pulls", whole_text, re.S)
    bounded = [design for design in result["designs"] if any(one["bound"] is not None for one in design["other_promises"])]
    if len(tables) != len(bounded):
        findings.append(f"{len(tables)} tables of other promises, {len(bounded)} designs with a bound")
    findings += [finding for design, table in zip(bounded, tables) for finding in check_promises(design, table)]
    for kind in SHORT:
        code_here, out, _ = run(program, kind, path)
        if code_here != code:
            findings.append(f"{' '.join(kind)}: exit code {code_here}, that of the JSON is {code}")
        text = plain(kind, out)
        for design in result["designs"]:
            findings += [f"{' '.join(kind)}: {finding}" for finding in check_short(design, result["unit"], text)]
        if kind[-1] == "text":
            findings += [f"the sum at one look is none of the whole text: {line}" for line in sum_lines(out) if line not in whole]
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
