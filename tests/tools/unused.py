#!/usr/bin/env python3
"""Every function that a header declares is called from src/ outside its own lines, or stands below with the reason why not: what only tests
need belongs to the tests, and what nobody needs goes.
usage: unused.py [ROOT]. Exit 1 with one line per finding."""
import pathlib
import re
import sys

# For those who build on the library, for the studies that are published and the tables that are committed.
KEPT = {
    "hf_arena_bytes": "what the tests measure memory with",
    "hf_status_name": "for programs that link the library",
    "hf_beta_upper": "the other tail of a law in use",
    "hf_chi2_lower": "the other tail of a law in use",
    "hf_sev_quantile_lower": "the other tail of a law in use",
    "hf_gamma_quantile_lower": "the other tail of a law in use",
    "hf_t_quantile_lower": "the other tail of a law in use",
    "hf_vector_normal_quantile": "the loop behind random normal numbers, tested by itself",
    "hf_weibull_pivots": "makes the committed table of factors",
    "hf_weibull_factor_of_pivots": "makes the committed table of factors",
    "hf_looks_running": "makes the committed table of looks",
    "hf_coverage_of": "the published study of true confidence",
    "hf_comparison_coverage_of": "the published study of comparisons",
    "hf_caution_has_words": "lets a test see that every caution has words",
}
COMMENT = re.compile(r'"(?:\\.|[^"\\\n])*"|/\*.*?\*/', re.S)
DECLARED = re.compile(r"^[a-z][\w \*]*?\**\b(hf_\w+)\(", re.M)
CALLED = re.compile(r"\bhf_\w+")
PASTED = re.compile(r"\b(hf_\w+_)##")  # hf_chart_##name, and the names a list gives it
LISTED = re.compile(r"\b[A-Z]\w*\((\w+)\b")
DEFINED = re.compile(r"^(?!static)[a-zA-Z_][\w \*]*?\b(hf_\w+)\([^;{]*\)\s*\{", re.M)


def plain(path):
    return COMMENT.sub(lambda found: '""' if found.group()[0] == '"' else " ", path.read_text(encoding="utf-8"))


def main():
    if "--help" in sys.argv:
        print(__doc__)
        return 0
    root = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).parents[2]).resolve()
    declared, count, pasted, listed = {}, {}, set(), set()
    for path in sorted([*(root / "include").rglob("*.h"), *(root / "src").rglob("*.h")]):
        text = plain(path)
        listed |= set(LISTED.findall(text))
        declared |= {name: path.relative_to(root) for name in DECLARED.findall(text)}
        for name in CALLED.findall(DECLARED.sub(" ", text)):  # macros and inline functions call too
            count[name] = count.get(name, 0) + 1
    for path in sorted((root / "src").rglob("*.c")):
        text = plain(path)
        pasted |= set(PASTED.findall(text))
        for name in CALLED.findall(text):
            count[name] = count.get(name, 0) + 1
        for name in DEFINED.findall(text):
            count[name] -= 1
    for name in (prefix + word for prefix in pasted for word in listed):
        count[name] = count.get(name, 0) + 1
    findings = [f"{path}: {name} is declared and called by nobody" for name, path in declared.items()
                if count.get(name, 0) < 1 and name not in KEPT]
    findings += [f"{name} is called, or is gone: take it out of unused.py" for name in KEPT if count.get(name, 0) > 0 or name not in declared]
    print("\n".join(findings + [f"unused: {len(declared)} functions, {len(findings)} findings"]))
    return 1 if findings else 0


if __name__ == "__main__":
    sys.exit(main())
