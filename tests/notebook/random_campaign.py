"""A campaign at random: rigs, units, ladders, readings, open pulls, set, goals, laws and scatters in mixtures nobody would write by hand."""
import math
import random

NEWTONS = {"N": 1, "kN": 1000, "kg": 9.81, "lbf": 4.448, "lb": 4.448, "daN": 10}


def make_rig(draw):
    rig = {"id": "rig", "records": draw.choice(["added", "total"])}
    if rig["records"] == "added":
        rig["tare"] = draw.choice(["2.6 kg", "25 N", 0])
        rig["advantage"] = draw.choice([1, 1, 2, 3.5, 0.5])
    rig["angle_deg"] = draw.choice([0, 0, 5, 30])
    rig["resolution"] = draw.choice(["5 N", "1 lbf", 0, 0])
    if draw.random() < 0.6:
        rig["uncertainty"] = [{"source": "weights", "relative": 0.02, "kind": "tolerance"},
                              {"source": "tare", "load": "3 N", "kind": draw.choice(["standard", "expanded"])}]
    return rig


def make_goal(draw):
    goal = {}
    if draw.random() < 0.7:
        goal |= {"content": draw.choice([0.9, 0.95, 0.99, 0.8]), "confidence": draw.choice([0.95, 0.9])}
    if draw.random() < 0.7:
        goal["design_factor"] = draw.choice([1, 2.5, 3])
    if draw.random() < 0.7:
        goal["set_factor"] = draw.choice([1, 1.5, 4])
    if draw.random() < 0.4:
        goal["use_factors"] = [{"reason": "wet", "factor": 1.25}, {"reason": "age", "factor": 1.1}]
    if draw.random() < 0.4:
        goal["service_load"] = "150 N"
    return goal


class Bench:
    """One design on its ladder; loads in newtons inside, in the file's unit outside."""

    def __init__(self, draw, unit, mean, set_watched):
        self.draw, self.unit, self.mean, self.cv = draw, unit, mean, draw.uniform(0.02, 0.3)
        self.step = mean * self.cv * draw.choice([0.2, 0.7, 1.5, 4])
        self.top = mean * draw.choice([0.9, 1.05, 1.2, 9, 9])
        self.start = mean * draw.choice([0.1, 0.1, 0.95])
        self.kind, self.set_watched = draw.choice(["steps", "readings", "both"]), set_watched

    def load(self, newtons):
        return round(newtons / NEWTONS[self.unit], 4)

    def reading(self, strength):
        part = {"peak": self.load(min(strength, self.top))}
        return part if strength <= self.top else part | {"outcome": self.draw.choice(["held", "rig"])}

    def steps(self, strength):
        rung = math.floor((strength - self.start) / self.step)
        held = self.start + rung * self.step
        if rung < 0:
            return {"failed": self.load(self.start + 1)}
        if held >= self.top - self.step:
            last = self.start + max(0, math.floor((self.top - self.start) / self.step)) * self.step
            return {"held": self.load(last), "outcome": "held"}
        part = {"held": self.load(held), "failed": self.load(held + self.step)}
        return part | {"dropped": True} if self.draw.random() < 0.05 else part

    def part(self):
        draw = self.draw
        strength = max(self.mean * 0.05, draw.gauss(self.mean, self.mean * self.cv))
        read = self.kind == "readings" or (self.kind == "both" and draw.random() < 0.4)
        part = self.reading(strength) if read else self.steps(strength)
        if self.set_watched and part.get("held", 0) > 0:
            part["set_held"] = round(part["held"] * 0.6, 4)
            if draw.random() < 0.8:
                part["set_seen"] = round(part["held"] * draw.choice([0.7, 0.8]), 4)
        if draw.random() < 0.04:
            part["reused"] = True
        if draw.random() < 0.04:
            part = {k: v for k, v in part.items() if k in ("held", "failed", "peak", "reused")} | {"outcome": "void", "note": "slipped"}
        return part


def make(seed):
    draw = random.Random(seed)
    unit, mean, count = draw.choice(sorted(NEWTONS)), draw.uniform(300, 3000), 0
    campaign = {"format": "holdfast-campaign/1", "title": f"random {seed}", "unit": unit, "gravity": 9.81, "rig": make_rig(draw),
                "goal": make_goal(draw), "designs": []}
    for number in range(draw.choice([1, 2, 2, 3])):
        bench = Bench(draw, unit, mean * draw.uniform(0.8, 1.3), number == 0 and seed % 4 == 0)
        design = {"id": f"design {number}", "specimens": []}
        for _ in range(draw.choice([1, 2, 3, 4, 5, 6, 8, 10, 15])):
            count += 1
            design["specimens"].append({"id": f"part {count}"} | bench.part())
        if draw.random() < 0.3:
            design |= {"family": draw.choice(["normal", "lognormal", "weibull"]), "family_reason": "earlier parts"}
        if draw.random() < 0.3:
            design["scatter"] = {"cv": draw.choice([0.05, 0.2]), "degrees_of_freedom": draw.choice(["assumed", 5, 14, 40]), "source": "earlier parts"}
        if draw.random() < 0.2:
            design["goal"] = {"content": 0.9, "design_factor": 2}
        campaign["designs"].append(design)
    return campaign
