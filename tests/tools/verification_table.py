#!/usr/bin/env python3
"""Makes docs/verification.md from what the program of the published checks obtains.

usage: verification_table.py TEST_PUBLISHED_CHECKS [--check]

With --check nothing is written: the page must stand as it would be written now. A page that differs is printed line by line."""
import difflib
import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs/verification.md"
WORDS = {
    "a2": "Anderson–Darling A²", "a2_point": "A², upper point (law, n, level)", "batch_a2": "k-sample A²",
    "batch_a2_midrank": "k-sample A², mid-ranks", "batch_adk": "k-sample A² ÷ (k − 1)", "batch_critical": "its critical value",
    "batch_sigma": "its standard deviation", "batch_significance": "its significance",
    "batch_standardised": "standardised", "batch_standardised_midrank": "standardised, mid-ranks",
    "bound": "lower tolerance bound", "deviation": "standard deviation", "en1990_known": "factor, scatter known",
    "en1990_unknown": "factor, scatter unknown", "fit_loglik": "ln likelihood", "fit_m": "location m", "fit_q90": "load that 90 % exceed",
    "fit_q99": "load that 99 % exceed", "fit_s": "spread s", "fit_scale": "scale", "fit_se_m": "standard error of m",
    "fit_se_s": "standard error of s", "fit_shape": "shape", "handbook_significance": "significance (law, n, A²)",
    "noncentral_k": "k by noncentral t (n, degrees, content, confidence)",
    "scatter_k": "k of a stated scatter (n, degrees, content, confidence)", "scatter_zeta": "ζ (content)",
    "koopmans_k": "factor (n, rank, content, confidence)", "koopmans_rank": "rank (n)", "mean": "mean",
    "normal_k": "k (n, content, confidence)", "order_bound": "order-statistic bound", "order_rank": "rank (n, content, confidence)",
    "outlier_critical": "critical value (n, level)", "outlier_statistic": "largest normed residual",
    "shape_pivot": "point of fitted ÷ true shape (n, level)", "success_run": "parts (content, confidence, failures)",
    "unbiasing": "unbiasing factor (n)", "weibull_v": "V = √n·(w + q) (n, content, confidence)", "weibull_w": "w (n, content, confidence)",
}
HEAD = """# Published check values, and what Holdfast obtains

Made by `tests/tools/verification_table.py` from a run of the test `published_checks`; the test `docs_verification` makes it again
and compares. {total} figures from {sources} sources; each lies within its tolerance. The rows stand in `tests/checks/`.

- *Expected* is the figure of the source, *obtained* what the library computes, with one figure more, six at least.
- *Tolerance* is half a unit of the last printed digit and a little, or a share of the figure, where the source was simulated or
  rounded.
- Labels say how the expected figure came here. **SEEN**: the source itself was read. **SEEN (copy)**: a public copy of its figures
  was read, not the source. **MEMORY**: written from memory of the source and then computed independently; do not quote it as
  checked against the source. **COMPUTED**: not published; computed independently, with R or scipy or by another simulation.
"""


def rows_of(program):
    with tempfile.TemporaryDirectory() as folder:
        report = os.path.join(folder, "report")
        done = subprocess.run([program], cwd=ROOT / "tests", env=dict(os.environ, HF_CHECKS_REPORT=report), stdout=subprocess.PIPE,
                              stderr=subprocess.STDOUT, text=True)
        if done.returncode:
            sys.exit(f"{done.stdout}\nthe checks do not pass: no table")
        with open(report, encoding="utf-8") as file:
            return [line.rstrip("\n").split(";") for line in file]


def source_of(name):
    """Source and remarks: the comment lines of the data file, the one that names the columns left out."""
    comments = [line[1:].strip() for line in (ROOT / f"tests/checks/{name}.csv").read_text(encoding="utf-8").splitlines()
                if line.startswith("#")]
    comments = [line for line in comments if not line.startswith("kind;")]
    return comments[0].split(":", 1)[1].strip(), comments[1:]


def shown_arguments(text):
    if text.startswith("@"):
        return text[1:].replace(",", ", ")
    return text.replace(" ", ", ")


def tolerance_of(text):
    return text.replace("%", " %")


def obtained_of(obtained, expected):
    """One significant figure more than the source, so that agreement can be seen; at least six, at most the nine of the report."""
    figures = len(re.sub(r"e.*", "", expected).lstrip("-0.").replace(".", ""))
    return f"{float(obtained):.{min(max(figures + 1, 6), 9)}g}"


def page(rows):
    names = sorted({row[0] for row in rows})
    out = [HEAD.format(total=len(rows), sources=len(names))]
    for name in names:
        source, remarks = source_of(name)
        out.append(f"## {name}\n\nSource: {source}.\n")
        out += [remark + "\n" for remark in remarks]
        out.append("| check | of | expected | obtained | tolerance | label |\n| --- | --- | --- | --- | --- | --- |")
        for _, kind, arguments, expected, obtained, tolerance, label in (row for row in rows if row[0] == name):
            out.append(f"| {WORDS[kind]} | {shown_arguments(arguments)} | {expected} | {obtained_of(obtained, expected)} | "
                       f"{tolerance_of(tolerance)} | {label} |")
        out.append("")
    return re.sub(r"\n{3,}", "\n\n", "\n".join(out)).rstrip() + "\n"


def main():
    if "--help" in sys.argv:
        print(__doc__)
        return
    words = [w for w in sys.argv[1:] if not w.startswith("--")]
    if len(words) != 1:
        sys.exit(__doc__)
    text = page(rows_of(words[0]))
    if "--check" not in sys.argv:
        PAGE.write_text(text, encoding="utf-8")
        print(f"{PAGE.relative_to(ROOT)}: {text.count(chr(10))} lines")
        return
    shown = PAGE.read_text(encoding="utf-8")
    if shown != text:
        print("".join(difflib.unified_diff(shown.splitlines(True), text.splitlines(True), "docs/verification.md", "made now", n=0)))
        sys.exit("docs/verification.md is not what the checks obtain; make it again with verification_table.py PROGRAM")
    print(f"docs/verification.md stands: {text.count(chr(10))} lines")


main()
