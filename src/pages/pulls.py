POUND = 0.45359237
# Units of force in newtons, units of mass in kilograms
FORCES = {"N": 1.0, "daN": 10.0, "kN": 1e3, "MN": 1e6, "kgf": 9.80665,
          "lbf": POUND * 9.80665}
MASSES = {"kg": 1.0, "g": 1e-3, "t": 1e3, "lb": POUND,
          "oz": POUND / 16, "st": 14 * POUND}
GRAVITY = CAMPAIGN.get("gravity", 9.80665)
RIG = CAMPAIGN.get("rig", {})
COSINE = math.cos(math.radians(RIG.get("angle_deg", 0)))


def newtons(load):
    """A load of the file as a force. A bare number is in the file's
    unit; a mass weighs what local gravity makes of it."""
    number, unit = load, ""
    if isinstance(load, str):
        digits = re.match(r"[ \t]*[+]?([0-9.]+(?:[eE][+-]?[0-9]+)?)",
                          load)
        number = float(digits.group(1))
        unit = load[digits.end():].strip(" \t")
    unit = unit or CAMPAIGN.get("unit", "N")
    return (number * (FORCES[unit] if unit in FORCES
                      else MASSES[unit] * GRAVITY))


def load_shown(force):
    return force / newtons("1 " + UNIT)


def interval(part, event="break"):
    """(kind, lower, upper, dropped) in the unit shown: what this part
    says about its strength; None where it says nothing."""
    outcome = part.get("outcome", "failed")
    if outcome in ("planned", "void"):
        return None
    tare = newtons(part.get("tare", RIG.get("tare", 0)))

    def force(load):
        pull = newtons(load)
        read = event == "set" and "peak" in part
        if RIG.get("records") == "added" and not read:
            pull = pull * RIG.get("advantage", 1) + tare
        return load_shown(pull * COSINE)

    if event == "set":
        held, failed = part.get("set_held"), part.get("set_seen")
        if held is None and failed is None:
            return None
        whole = failed is None
    else:
        held, failed = part.get("held"), part.get("failed")
        whole = outcome in ("held", "rig")
        if "peak" in part:
            reading = load_shown(newtons(part["peak"]) * COSINE)
            step = newtons(RIG.get("resolution", 0))
            half = 0.5 * load_shown(step * COSINE)
            low = max(0.0, reading - half)
            if whole:
                return "above", low, math.inf, False
            kind = "closed" if low > 0 else "below"
            kind = "exact" if half == 0 else kind
            return kind, low, reading + half, False
    lower = 0.0 if held is None else force(held)
    if whole:
        return "above", lower, math.inf, False
    first_rung = held is None or newtons(held) == 0
    dropped = (event == "break" and part.get("dropped", False)
               and not first_rung)
    kind = "below" if first_rung else "closed"
    return kind, lower, force(failed), dropped


def ends_of(part, name):
    """A part with a fitting at each end: one pull for each end of
    this design; the unbroken end is 'at least that strong'."""
    pull, ends = interval(part), part["ends"]
    broke = part.get("broke", 1 if ends[0] == ends[1] else None)
    if pull is None or (pull[0] != "above" and broke is None):
        return []
    whole = [pull[0] == "above" or broke not in (number, "both")
             for number in (1, 2)]
    held = ("above", pull[1], math.inf, False)
    return [held if whole[i] else pull for i in (0, 1)
            if ends[i] == name and (pull[1] > 0 or not whole[i])]


def pulls_of(design, event="break"):
    """The pulls a result rests on: neither planned nor void nor
    pulled before. First movement is watched on the whole part."""
    name, found = design["id"], []
    for owner in CAMPAIGN["designs"]:
        for part in owner.get("specimens", []):
            ends = part.get("ends", [])
            if part.get("reused", False):
                continue
            if event == "break" and name in ends:
                found += ends_of(part, name)
            elif owner is design or owner["id"] == name:
                found.append(interval(part, event))
    return [pull for pull in found if pull is not None]


for design in CAMPAIGN["designs"]:
    check = Check(f"pulls of {design['id']}, {UNIT}")
    for part in design.get("specimens", []):
        for event, theirs in PULLS[part["id"]].items():
            ours = interval(part, event)
            check.same(f"{shown(part['id'], 20)}, {event}",
                       ours and ours[0], theirs and theirs[0])
            if ours and theirs:
                check.number("    lower", ours[1], theirs[1])
                check.number("    upper",
                             None if ours[2] == math.inf else ours[2],
                             theirs[2])
    check.done()
