"""Campaigns that are hard to draw, all invented: one part, 200 parts, run-outs only, loads from 0.01 N to 10 MN, names of every kind."""
import random

ASSESSED = ("pulls", "steps", "probability")
PLANNED = ("bound", "ladder", "step")
COMPARED = ("ratios", "league", "modes")
OVERVIEW = ("card",)
LOOKED_BACK = ("sofar",)
LABELS = ("label",)

NAMES = [
    "\u05e9\u05e8\u05d5\u05d5\u05dc \u05ea\u05e4\u05d5\u05e8 " * 6, "\u7f1d\u5408\u73af\u89d2\u4ef6\u5f3a\u5ea6\u8bd5\u9a8c" * 8,
    "\u062d\u0644\u0642\u0629 \u0645\u062e\u064a\u0637\u0629 " * 6, "W" * 10000, "e\u0301" * 40 + "a" + "\u0301" * 5000,
    "</text><script>alert(1)</script>\"'&\u202e\u0007x ]]> <!--", "\U0001f600\U0001f9f5\U0001f469\u200d\U0001f469\u200d\U0001f467\u200d\U0001f466" * 12,
    "\ufdfa\ufdfd" * 20, "\u0915\u094d\u0937\u0924\u094d\u0930\u093f\u092f \u091c\u094d\u091e\u093e\u0928 " * 8, "\U0001242b\U00012219" * 12,
    "\u0e01" + "\u0e47" * 60, "\u03a9\u0429\u00c6" * 30, "very long name " * 700,
]


def design(identity, specimens, **more):
    return dict({"id": identity, "specimens": specimens}, **more)


def campaign(designs, unit="N", goal=None, title="Invented"):
    return {"format": "holdfast-campaign/1", "title": title, "unit": unit, "rig": {"records": "total", "tare": 0}, "goal": goal or {"design_factor": 3}, "designs": designs}


def stepped(prefix, count, first, step, width, **more):
    return [dict({"id": f"{prefix}{i:03}", "held": first + i % 25 * step, "failed": first + i % 25 * step + width}, **more) for i in range(count)]


def drawn(prefix, count, mean, cv, seed, **more):
    """Whole readings from a normal law."""
    chance = random.Random(seed)
    return [dict({"id": f"{prefix}{i:03}", "peak": float(f"{chance.gauss(mean, cv * mean):.5g}")}, **more) for i in range(count)]


def with_modes(specimens, count, name="mode {}"):
    return [dict(s, mode=name.format(i % count)) for i, s in enumerate(specimens)]


def with_sets(specimens, load):
    return [dict(s, set_held=load, set_seen=1.1 * load) if i % 3 == 0 else s for i, s in enumerate(specimens)]


def held(prefix, count, load):
    return [{"id": f"{prefix}{i}", "held": load + i, "outcome": "held" if i % 3 else "rig"} for i in range(count)]


def hostile_designs():
    return [design(f"d{i}", [dict(s, id=f"{i}-{k} {name}", mode=f"{k % 3} {name}") for k, s in enumerate(stepped("x", 6, 640 + 40 * i, 20, 20))], name=name,
                   guess={"mean": 700, "cv": 0.1}) for i, name in enumerate(NAMES)]


def scaled(unit, mean, goal):
    """Two designs around `mean`, in steps."""
    first = [design("d", with_modes(stepped("p", 6, 0.94 * mean, 0.02 * mean, 0.02 * mean), 2), guess={"mean": mean, "cv": 0.12}),
             design("e", with_modes(stepped("q", 6, 0.80 * mean, 0.02 * mean, 0.02 * mean), 2))]
    return campaign(first, unit, goal)


# name: (campaign, kinds that can be drawn from it)
CASES = {
    "one": (campaign([design("d", [{"id": "a", "held": 760, "failed": 800, "mode": "m"}]), design("e", [{"id": "b", "held": 700, "failed": 740}])]),
            ("pulls", "probability", "league", "modes")),
    "many": (campaign([design("d", with_sets(with_modes(stepped("part-", 200, 700, 20, 20), 11), 500)), design("e", drawn("e", 40, 900, 0.1, 2))]), ASSESSED + LOOKED_BACK + COMPARED),
    "fine": (campaign([design("d", drawn("part-", 1200, 900, 0.1, 3))]), ASSESSED),
    "alike": (campaign([design("d", [dict({"id": f"a{k}-{i}"}, **pull) for k, (count, pull) in enumerate((
        (50, {"held": 600, "failed": 640, "mode": "m"}), (50, {"held": 640, "failed": 680, "mode": "m"}), (40, {"held": 640, "failed": 680, "mode": "n"}),
        (70, {"failed": 400}), (50, {"held": 700, "outcome": "held"}))) for i in range(count)])]), ("pulls",)),
    "thin": (campaign([design("d", [{"id": f"thin-{i}", "held": 600 + 3 * i, "failed": 620 + 3 * i} for i in range(120)])]), ("pulls",)),
    "zero": (campaign([design("d", [{"id": f"z{i}", "peak": x} for i, x in enumerate((100, 300, 900))], family="normal")]), ASSESSED),
    "close": (campaign([design("d", drawn("part-", 30, 1000, 0.005, 4))], goal={"content": 0.97}), ASSESSED + LOOKED_BACK),
    "held": (campaign([design("d", held("p", 12, 600)), design("e", held("q", 12, 700))]), ("pulls", "league")),
    "outlast": (campaign([design("d", stepped("a", 8, 700, 20, 20)), design("e", [{"id": f"h{i}", "held": 1500, "outcome": "held"} for i in range(8)])]),
                ("ratios",)),
    "tiny": (scaled("N", 0.01, {"design_factor": 3, "required_bound": 0.008}), ASSESSED + LOOKED_BACK + PLANNED + COMPARED),
    "huge": (scaled("N", 1e7, {"design_factor": 3, "required_bound": 8e6}), ASSESSED + LOOKED_BACK + PLANNED + COMPARED),
    "grams": (scaled("g", 1e9, {"content": 0.999, "confidence": 0.99, "required_bound": 8e8}), ASSESSED + PLANNED + COMPARED),
    "wide": (campaign([design("d", [{"id": "a", "held": 0.01, "failed": 0.02, "mode": "m"}, {"id": "b", "failed": 0.05}, {"id": "c", "held": 9e6, "failed": 1e7},
                                    {"id": "w", "held": 5, "outcome": "held"}]),
                       design("e", [{"id": "e1", "held": 0.01, "failed": 0.02}, {"id": "e2", "held": 3, "failed": 4}])]), ASSESSED + COMPARED),
    "first rung": (campaign([design("d", [{"id": f"b{i}", "failed": 100} for i in range(4)] + stepped("x", 4, 160, 20, 20)),
                             design("e", stepped("y", 4, 160, 20, 20))]), ASSESSED + ("ratios", "league")),
    "scatter": (campaign([design("d", drawn("a", 30, 900, 0.1, 5) + [{"id": "z", "peak": 3}]), design("e", drawn("b", 3, 900, 0.3, 6))]), ASSESSED + ("ratios", "league")),
    "names": (campaign(hostile_designs(), title=NAMES[3], goal={"design_factor": 3, "use_factors": [{"reason": NAMES[5] + NAMES[12], "factor": 1.25}]}),
              ASSESSED + LOOKED_BACK + PLANNED + COMPARED),
    "designs": (campaign([design(f"design-{i}", with_modes(stepped(f"d{i}-", 4, 700 + 20 * i, 20, 20), 5, "way {} of failing"), name=f"design number {i}")
                          for i in range(15)]), COMPARED),
}
