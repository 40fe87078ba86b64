"""Campaigns that are hard on a page: few parts and many, nothing but run-outs, names in every script and of any length, names that
are markup, loads from 0.01 N to 10 MN. All invented, as is everything said in them.

campaigns() gives them by name; run by hand it writes them: hard_campaigns.py FOLDER
"""
import json
import pathlib
import sys

# Each of these would leave a mark, window.stolen or a request, if it ever got out of its text.
MARKUP = (
    "<script>window.stolen=1</script>",
    "\"><img src=x onerror=window.stolen=1>",
    "'><svg onload=window.stolen=1>",
    "</title></style></text></svg><iframe src=//example.invalid/></iframe>",
    "]]><!-- --!> <![CDATA[ &lt;b&gt; &#60;b&#62; &amp; &copy <b>bold</b>",
    "{{7*7}} ${7*7} `id` $(id) %s%n \\u003cscript\\u003e",
    "javascript:window.stolen=1",
    "=HYPERLINK(\"http://example.invalid\";\"click\")",
    "+1+cmd|' /C calc'!A0",
    "@SUM(1;2)",
    "-2+3",
    "[link](javascript:window.stolen=1) ![x](http://example.invalid/x.png) | pipe | **bold** # head",
    "\"\"\"\nimport os\nos.abort()\n\"\"\"",
    "tab\tnewline\nreturn\rbell\u0007escape\u001b[31m delete\u007f c1\u0085\u009b nonchar\ufffe",
    "override\u202eevil\u202c isolate\u2067x\u2069 zero\u200bwidth\ufeff line\u2028paragraph\u2029",
)
LETTERS = "W" * 10000
WORDS = "a corner fitting whose name goes on and on, as names in real workshops do, " * 4
CAPITALS = ("RING MIT WASCHGEWEBE, GENÄHT: WWWWWWWWWWWW", "ÖSE GEPRESST MMMMMMMMMMMMMMMMMMMMMMMMMMMMMM")
UNBROKEN = "Eckbeschlagsnahtverstärkungsbandzugprobenserie" * 6
ARABIC = "حلقة مخيطة في زاوية الشراع 12 نيوتن"
HEBREW = "טבעת תפורה (גליל 3) בפינת המפרש"
CHINESE = "遮阳帆角部缝合环强度试验第三批次样品"
JAPANESE = "日除け布の角金具、縫い付けリング"
MARKS = "a\u0301\u0302\u0303\u0304\u0305\u0306\u0307\u0308\u0309\u030a" * 4 + " कोने का छल्ला มุมผ้าใบ \U0001f9f5\U0001faa1\U0001f468\u200d\U0001f527"


def stepped(prefix, loads, width, **more):
    """One pull for each load: held there, failed one step above. A callable in `more` gets the number of the pull."""
    return [dict({"id": f"{prefix}-{n + 1:02}", "held": load, "failed": load + width},
                 **{key: value(n) if callable(value) else value for key, value in more.items()}) for n, load in enumerate(loads)]


def spread(center, relative, count):
    """Loads around a centre, no two next to each other alike."""
    return [round(center * (1 + relative * ((n * 7 % count) / max(count - 1, 1) - 0.5)), 9) for n in range(count)]


def design(identity, specimens, mean=900, **more):
    return dict({"id": identity, "guess": {"mean": mean, "cv": 0.1}, "specimens": specimens}, **more)


def campaign(designs, title="Hard on a page (invented)", **more):
    goal = {"content": 0.9, "confidence": 0.95, "design_factor": 3}
    return dict({"format": "holdfast-campaign/1", "title": title, "unit": "N", "rig": {"records": "total", "tare": 0, "dwell_s": 30},
                 "goal": goal, "designs": designs}, **more)


def scaled(factor):
    """The same ten pulls at another size, with a wanted bound and a load in service."""
    loads = [load * factor for load in spread(1, 0.3, 10)]
    result = campaign([design("ring", stepped("ring", loads, 0.04 * factor, mode=lambda n: ("stitch", "webbing")[n % 2]), mean=factor)])
    result["goal"].update(service_load=0.1 * factor, required_bound=0.5 * factor)
    return result


def named(first, second):
    """Two small designs whose every name is taken from these."""
    def pulls(prefix, name, center):
        return [dict(pull, id=f"{name} {prefix}{n}", mode=f"{name} {n % 3}", batch=f"{name} {n % 2}", note=name)
                for n, pull in enumerate(stepped(prefix, spread(center, 0.3, 8), 40))]
    return campaign([design("r", pulls("r", first, 800), name=first), design("e", pulls("e", second, 600), name=second)], title=f"{first} / {second}",
                    info={first[:200]: second, "about": first})


def hostile():
    def name(n):
        return MARKUP[n % len(MARKUP)]
    pulls = [dict(pull, id=f"{name(n)}{n}", mode=name(n + 1), batch=name(n % 2 + 2), note=name(n + 3), info={name(n)[:100]: name(n + 4)})
             for n, pull in enumerate(stepped("h", spread(800, 0.3, len(MARKUP)), 40))]
    other = stepped("e", spread(600, 0.3, 8), 40, mode=lambda n: LETTERS)
    other[0]["id"] = LETTERS
    other.append({"id": "lost", "outcome": "void", "note": MARKUP[0] + LETTERS})
    result = campaign([design(MARKUP[0], pulls, name="".join(MARKUP)), design(MARKUP[1], other, name=LETTERS)], title="".join(MARKUP) + LETTERS,
                      info={MARKUP[4]: MARKUP[0], "=1+1": LETTERS})
    result["rig"].update(id=MARKUP[2], calibration=MARKUP[3], uncertainty=[{"source": MARKUP[0], "relative": 0.02, "kind": "tolerance"}])
    result["goal"]["use_factors"] = [{"reason": MARKUP[1], "factor": 1.25}, {"reason": LETTERS, "factor": 1.1}]
    result["head_to_head"] = [{"first": MARKUP[0], "second": MARKUP[1], "broke": "second", "mode": MARKUP[5], "note": MARKUP[6]}]
    return result


def twelve():
    designs = [design(f"kind-{n + 1}", stepped(f"k{n + 1}", spread(500 + 37 * (n * 5 % 12), 0.25, 5), 20), name=f"corner fitting of kind {n + 1}")
               for n in range(12)]
    return campaign(designs)


def tangled():
    """Everything that can happen to a pull in one design, and a second design of straps with two ends."""
    ring = stepped("ring", spread(800, 0.3, 9), 40, mode=lambda n: f"mode {n}", batch=lambda n: f"roll {n % 3}", date=f"2026-05-02")
    for n, pull in enumerate(ring):
        pull.update(set_held=pull["held"] * 0.6, set_seen=pull["held"] * 0.7, phase=("adding", "dwell")[n % 2])
    ring += [{"id": "short", "held": 700, "outcome": "held", "note": "no weight left"}, {"id": "shackle", "held": 500, "outcome": "rig"},
             {"id": "first", "failed": 400}, {"id": "cotton", "held": 300, "failed": 340, "outcome": "void", "note": "sewn with cotton"},
             {"id": "twice", "held": 640, "failed": 680, "reused": True}, {"id": "drop", "held": 640, "failed": 680, "dropped": True},
             {"id": "next", "outcome": "planned"}, {"id": "watched", "held": 600, "failed": 640, "set_held": 500}]
    straps = stepped("strap", spread(700, 0.3, 9), 40, ends=["ring", "eyelet"], broke=lambda n: (1, 2, "both")[n % 3])
    pairs = [{"first": "ring", "second": "eyelet", "broke": ("first", "second", "both")[n % 3]} for n in range(9)]
    return campaign([design("ring", ring), design("eyelet", []), design("strap", straps)], head_to_head=pairs)


def mixed():
    """Steps, peaks, run-outs and a void in one design, every column of the table of pulls filled by some of them."""
    pulls = [{"id": f"corner-{n + 1:02}", "batch": f"roll {n % 3}", "order": n + 1, "date": f"2026-05-{n + 1:02}", "duration_s": 200 + 7 * n, "mode": "stitch opened",
              "ends": ["ring", "ring"], "broke": 1} for n in range(12)]
    for n, pull in enumerate(pulls):
        pull.update({"peak": 800.25 + 11 * n} if n % 3 == 0 else {"held": 760 + 20 * n, "failed": 800 + 20 * n, "tare": 25.5, "set_held": 600, "set_seen": 640, "phase": "dwell"})
    pulls[3].update(note="read twice; the second reading counts")
    pulls[4].pop("failed"), pulls[4].pop("mode"), pulls[4].pop("phase")
    pulls[4].update(outcome="held"), pulls[4].pop("broke")
    pulls[5].update(outcome="void", note="the hook slipped before the first step")
    return dict(campaign([design("ring", pulls)]), rig={"records": "added", "tare": 25.5})


def listed():
    """Long lists that are printed in three columns and in two, of narrow and of wide letters."""
    loads = spread(700, 0.3, 90)
    peaks = [{"id": f"{n + 1:03}", "batch": f"L{n % 9}B{n % 2}", "peak": round(load, n % 4)} for n, load in enumerate(loads)]
    wide = [{"id": f"MW{n + 1:02}", "batch": f"ROLL WM {n % 7}", "peak": round(load, 3)} for n, load in enumerate(loads)]
    steps = [{"id": f"s{n + 1:02}", "held": round(load, 1), **({"failed": round(load + 20, n % 2)} if n % 3 else {"outcome": "held"})} for n, load in enumerate(loads)]
    return dict(campaign([design("peaks", peaks), design("wide", wide), design("steps", steps)]), rig={"records": "total"})


def campaigns():
    modes = [f"mode {n}" for n in range(12)]
    many = stepped("part", spread(900, 0.5, 200), 20, mode=lambda n: modes[n % 12], batch=lambda n: f"roll {n % 10}", info=lambda n: {"operator": "A"})
    held = [{"id": f"whole-{n}", "held": 600 + n, "outcome": "held" if n % 4 else "rig"} for n in range(12)]
    wide = [{"id": "feather", "held": 0.01, "failed": 0.02}, {"id": "first", "failed": 0.05}, {"id": "anvil", "held": 9e6, "failed": 1e7},
            {"id": "middle", "held": 300, "failed": 400}, {"id": "whole", "held": 5, "outcome": "held"}]
    return {
        "one": campaign([design("ring", [{"id": "only", "held": 760, "failed": 800, "mode": "stitch"}])]),
        "stated": campaign([design("ring", [{"id": "only", "held": 760, "failed": 800}],
                                   scatter={"cv": 0.1, "degrees_of_freedom": 14, "source": "14 rings of rolls 1 and 2"})]),
        "many": campaign([design("ring", many)]),
        "held": campaign([design("ring", held)]),
        "none": campaign([design("ring", [{"id": "next", "outcome": "planned"}])]),
        "same": campaign([design("ring", stepped("ring", [760] * 6, 40))]),
        "long": named(WORDS, UNBROKEN),
        "capitals": named(*CAPITALS),
        "right-to-left": named(ARABIC, HEBREW),
        "far-east": named(CHINESE + JAPANESE, MARKS),
        "tiny": scaled(0.01),
        "huge": scaled(1e7),
        "wide": campaign([design("ring", wide)]),
        "twelve": twelve(),
        "tangled": tangled(),
        "mixed": mixed(),
        "listed": listed(),
        "hostile": hostile(),
    }


def write(folder):
    """Writes them all; the path of each by name."""
    paths = {}
    for name, content in campaigns().items():
        paths[name] = pathlib.Path(folder) / f"{name}.json"
        paths[name].write_text(json.dumps(content, ensure_ascii=False, indent=1), encoding="utf-8")
    return paths


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    write(sys.argv[1])
