#!/usr/bin/env python3
"""The strict reader must find what is wrong: each page here has one fault."""
import sys

import reader

GOOD = ('<!DOCTYPE html>\n<html lang="en"><head><title>t</title></head><body><main><h1>a</h1><section><h2 id="x">b</h2><h3>c</h3>'
        '<p>p <a href="#x">x</a></p><table><caption>c</caption><tr><th scope="col">h</th></tr></table>'
        '<figure><div><svg role="img"><title>t</title><path d="M0 0"/></svg></div><figcaption>d</figcaption></figure></section></main></body></html>')
FAULTS = [
    ("<h3>c</h3>", "<h4>c</h4>"), ("<h3>c</h3>", "<h3>c"), ("<h3>c</h3>", "<h3> </h3>"), ("<h3>c</h3>", "<h1>c</h1>"),
    ('href="#x"', 'href="#y"'), ('href="#x"', 'href="https://example.invalid/"'), ("<h3>c", '<h3 id="x">c'),
    ("<p>p", "<p onclick=\"x()\">p"), ("<p>p", "<p style=\"x\">p"), ("<p>p", "<p><script>x</script>p"), ("<p>p", "<p><img src=x>p"),
    ("<p>p", "<p><!-- x -->p"), ("<p>p", "<p tabindex=\"0\">p"), ("<p>p", "<p>\x07p"), ("<p>p", "<p>\u202ep"), ("<p>p", "<p aria-labelledby=\"q\">p"),
    ("<caption>c</caption>", ""), ("<caption>c</caption>", "<caption>c</caption><tr><td>1</td><td>2</td></tr>"),
    (' scope="col"', ""), ('"img"><title>t</title>', '"img">'), ('"img"><title>t</title>', '"img"><title>t</title><desc>d</desc>'), ("<figcaption>d</figcaption>", ""), (' role="img"', ""),
    (' lang="en"', ""), ("</main>", ""), ("<main>", "<main><style>@import 'x'</style>"), ("<!DOCTYPE html>\n", ""),
]
missed = [] if not reader.read(GOOD).findings else ["the page without fault: " + str(reader.read(GOOD).findings)]
for good, bad in FAULTS:
    assert GOOD.count(good) == 1, good
    if not reader.read(GOOD.replace(good, bad)).findings:
        missed.append(f"not found: {bad!r} in place of {good!r}")
print(*missed, f"{len(FAULTS)} faults, {len(missed)} missed", sep="\n")
sys.exit(bool(missed))
