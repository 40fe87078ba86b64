# The check of a Weibull factor draws so many parts; more make it
# sharper and slower
SIMULATED_PARTS = 200000


def allowance(content, k):
    """A in k sqrt(s² + A h²)."""
    if content >= 0.90:
        return 0.125
    return max(k * k / 8, 0.25) / (k * k)


def root_of(s, h, content, k):
    return math.sqrt(s * s + allowance(content, k) * h * h)


def by_conditional(law, points, h, content, confidence):
    """(m, s, h, k, bound on the working scale) with open pulls."""
    given = Conditional(law, points, content)
    s = given.s
    if law is not Weibull:
        s *= math.sqrt(given.d / (given.d - 1))
    k = (given.m - given.limit(confidence)) / s
    return given.m, s, h, k, given.m - k * root_of(s, h, content, k)


def by_factor(law, y, h, content, confidence, weibull_k):
    """The same with finished pulls. The Weibull factor is taken from
    Holdfast here and tried by simulation below."""
    n = len(y)
    k = weibull_k
    if law is not Weibull:
        k = normal_factor(n, n - 1, content, confidence)
    if max(y) == min(y):
        m, s = y[0], 0.0
    elif law is Weibull:
        m, s = weibull_estimates(y)
    else:
        m = sum(y) / n
        s = math.sqrt(sum((v - m) ** 2 for v in y) / (n - 1))
    return m, s, h, k, m - k * root_of(s, h, content, k)


def bound_of_law(law, pulls, theirs):
    """(method, m, s, h, k, bound) from the pulls; finished ones by
    the factor, others by the conditional distribution."""
    points, h = at_middles(law, pulls)
    content, confidence = theirs["content"], theirs["confidence"]
    y = [low for kind, low, _ in points if kind == "exact"]
    if len(y) == len(points):
        return (("factor",)
                + by_factor(law, y, h, content, confidence,
                            theirs["k"]))
    if max(y) > min(y):
        return (("conditional",)
                + by_conditional(law, points, h, content, confidence))
    # All middles equal: the lower of two answers, where an unbroken
    # part above the middle allows the second.
    other = None
    if any(kind == "above" and low > y[0] for kind, low, _ in points):
        other = by_conditional(law, points, h, content, confidence)
    if law is Weibull and theirs["method"] == "conditional":
        return ("conditional",) + other
    first = by_factor(law, y, h, content, confidence, theirs["k"])
    if other and (h == 0 or other[-1] < first[-1]):
        return ("conditional",) + other
    return ("factor",) + first


def stated_bound(law, design, pulls, content, confidence):
    """(m, s, h, k, bound on the working scale) by the scatter stated
    in the file."""
    cv = design["scatter"]["cv"]
    freedom = design["scatter"].get("degrees_of_freedom", math.inf)
    if freedom in ("assumed", "infinite"):
        freedom = math.inf
    lower = [working(law, low) for _, low, _, _ in pulls]
    if law is Weibull:
        log_ratio = lambda shape: (math.lgamma(1 + 2 / shape)
                                   - 2 * math.lgamma(1 + 1 / shape)
                                   - math.log1p(cv * cv))
        shape = math.exp(solve(lambda u: log_ratio(math.exp(u)),
                               math.log(0.5), math.log(1e4)))
        failed = sum(kind != "above" for kind, _, _, _ in pulls)
        top = max(lower)
        log_sum = math.log(sum(math.exp(shape * (y - top))
                               for y in lower))
        # Chi-square with 2d degrees of freedom: its upper tail is a
        # Poisson sum.
        poisson = lambda x: sum(math.exp(i * math.log(x) - x
                                         - math.lgamma(i + 1))
                                for i in range(failed))
        half = solve(lambda x: poisson(x) - (1 - confidence), 1e-9,
                     60.0 + 4 * failed)
        limit = (top
                 + (log_sum - math.log(half)
                    + law.quantile(content)) / shape)
        m = top + (log_sum - math.log(failed)) / shape
        return m, 1 / shape, 0.0, (m - limit) * shape, limit
    mean_load = sum(low for _, low, _, _ in pulls) / len(pulls)
    s = cv * mean_load
    if law.log_scale:
        s = math.sqrt(math.log1p(cv * cv))
    k = normal_factor(len(pulls), freedom, content, confidence)
    if freedom > 20:
        m = sum(lower) / len(lower)
        return m, s, 0.0, k, m - k * s
    points, h = at_middles(law, pulls)
    m = sum(low for _, low, _ in points) / len(points)
    return m, s, h, k, m - k * root_of(s, h, content, k)


def hanson_koopmans_factor(n, r, content, confidence):
    """k of upper·(lower/upper)^k: the confidence is an integral over
    the place u of the r-th of n parts."""
    tail = 1 - content
    scale = (math.lgamma(n + 1) - math.lgamma(r)
             - math.lgamma(n - r + 1))
    at_least = sum(math.comb(n, i) * tail**i * content ** (n - i)
                   for i in range(r, n + 1))

    def excess(k):
        def integrand(u):
            density = math.exp(scale + (r - 1) * math.log(u)
                               + (n - r) * math.log1p(-u))
            reach = (tail / u) ** (1 / k)
            return density * (1 - (1 - reach) ** (r - 1))

        # Pieces in ln u, short where the integrand bends.
        edges = [tail + (1 - tail) * (i / 24) ** 2 for i in range(25)]
        inside = sum(integrate(integrand, a, b)
                     for a, b in zip(edges, edges[1:]))
        return inside + at_least - confidence

    high = 2.0
    while excess(high) < 0:
        high *= 2
    return solve(excess, 1 + 1e-9, high)


def check_law_row(check, law, ours, theirs):
    method, m, s, h, k, y = ours
    check.same(f"{law.name}: method", method, theirs["method"])
    check.number(f"{law.name}: m (as load)", load_of(law, m),
                 load_of(law, theirs["m"]),
                 0.0 if law.log_scale else s)
    check.number(f"{law.name}: s", s, theirs["s"], 1e-3 * h)
    check.number(f"{law.name}: h", h, theirs["h"])
    if law is not Weibull or method != "factor":
        check.number(f"{law.name}: k", k, theirs["k"])
    # A bound far below the location magnifies what k may differ by.
    if law.log_scale:
        scale, tolerance = 0.0, max(1.0, m - y)
    else:
        scale, tolerance = s, max(1.0, k)
    check.number(f"{law.name}: bound, {UNIT}", load_of(law, y),
                 theirs["value"], scale, TOLERANCE * tolerance)


def check_free_row(check, pulls, theirs):
    """Bounds without a law: on the loads that were held."""
    n = len(pulls)
    content, confidence = theirs["content"], theirs["confidence"]
    lower = sorted(low for _, low, _, _ in pulls)
    if theirs["method"] == "survivors":
        check.number("no failure: content",
                     (1 - confidence) ** (1 / n), content)
        check.number("no failure: lowest load held", lower[0],
                     theirs["value"])
    elif theirs["method"] == "order_statistic":
        # The chance that more than `rank` of n parts are weaker than
        # the bound may be
        chance, rank = 1.0, -1
        while chance >= confidence:
            rank += 1
            chance -= math.exp(math.lgamma(n + 1)
                               - math.lgamma(rank + 1)
                               - math.lgamma(n - rank + 1)
                               + rank * math.log(1 - content)
                               + (n - rank) * math.log(content))
        check.same("order statistic: rank", rank, theirs["rank"])
        check.number(f"order statistic, {UNIT}", lower[rank - 1],
                     theirs["value"])
    elif theirs["method"] == "hanson_koopmans":
        rank, k = theirs["rank"], theirs["k"]
        upper = sorted(high for _, _, high, _ in pulls)[rank - 1]
        ours = hanson_koopmans_factor(n, rank, content, confidence)
        check.number("two values: k", ours, k)
        check.number(f"two values, {UNIT}",
                     upper * (lower[0] / upper) ** k, theirs["value"])


def check_bounds(title, design, pulls, rows):
    check, weibull = Check(title), None
    for at, theirs in enumerate(rows):
        law = next((law for law in LAWS
                    if law.name == theirs["family"]), None)
        if theirs["method"] == "none":
            continue
        if theirs["method"] == "stated_scatter":
            promise = theirs["content"], theirs["confidence"]
            ours = (("stated_scatter",)
                    + stated_bound(law, design, pulls, *promise))
            check_law_row(check, law, ours, theirs)
        elif law:
            check_law_row(check, law,
                          bound_of_law(law, pulls, theirs), theirs)
            if law is Weibull and theirs["method"] == "factor":
                weibull = theirs
        else:
            check_free_row(check, pulls, theirs)
    check.done()
    if weibull:
        finished = sum(kind in ("exact", "closed")
                       for kind, _, _, _ in pulls)
        samples = max(2000, min(20000, SIMULATED_PARTS // finished))
        share, error = simulated_confidence(finished,
                                            weibull["content"],
                                            weibull["k"], samples,
                                            SEED)
        promised = weibull["confidence"]
        k = weibull["k"]
        print(f"  Weibull factor {k:.6g}, tried on {samples} "
              f"samples of {finished} parts:")
        print(f"  {share:.2%} keep the promise, error {error:.2%}; "
              f"promised {promised:.2%}")
        contradicts = "the simulation contradicts the Weibull factor"
        assert abs(share - promised) <= 4 * error, contradicts


def uncertainty_at(load):
    """Relative standard uncertainty of the rig's loads at this load:
    tolerance / sqrt 3, expanded / 2, root sum of squares."""
    divisors = {"standard": 1, "tolerance": math.sqrt(3),
                "expanded": 2}
    total = 0.0
    for line in RIG.get("uncertainty", []):
        share = line.get("relative")
        if share is None:
            share = load_shown(newtons(line["load"])) / load
        total += (share / divisors[line["kind"]]) ** 2
    return math.sqrt(total)


def check_governing(check, design, pulls, theirs):
    """Which bound governs: the Weibull law's unless another was
    stated and is not rejected; returns it calibrated."""
    fits = {fit["family"]: fit for fit in theirs["fits"]}
    stated = design.get("family", "auto")
    wanted = stated
    if stated == "auto" or fits[stated]["rejected"]:
        wanted = "weibull"
    law_rows = {row["family"]: row for row in theirs["bounds"]
                if row["method"] in ("factor", "conditional")}
    scatter_rows = {row["family"]: row for row in theirs["bounds"]
                    if row["method"] == "stated_scatter"}
    by_scatter = scatter_rows.get(wanted)
    by_scatter = by_scatter or scatter_rows.get("lognormal")
    order = next((row for row in theirs["bounds"]
                  if row["method"] == "order_statistic"), None)
    if by_scatter and (len(pulls) <= 3 or wanted not in law_rows):
        row = by_scatter
    else:
        row = law_rows.get(wanted) or order
    check.same("governing: law", row and row["family"],
               theirs["governing"]["family"])
    check.number("governing: bound", row and row["value"],
                 theirs["governing"]["value"])
    if row is None:
        return None
    value = row["value"]
    u = uncertainty_at(value) if value > 0 else 0.0
    z = max(1.645, STANDARD.inv_cdf(row["confidence"]))
    calibrated = value * max(0.0, 1 - z * u)
    check.number("rig: relative uncertainty", u,
                 theirs["calibration"]["relative_uncertainty"])
    check.number("bound after the rig's error", calibrated,
                 theirs["calibration"]["value"], 1e-3 * abs(value))
    return calibrated


def check_working_load(title, design, theirs):
    """From the governing bounds to the working load."""
    check = Check(title)
    goal = {**CAMPAIGN.get("goal", {}), **design.get("goal", {})}
    by_break = check_governing(check, design, pulls_of(design),
                               theirs)
    by_set = None
    if "set" in theirs:
        by_set = check_governing(check, design,
                                 pulls_of(design, "set"),
                                 theirs["set"])
    load = None
    positive = by_break is not None and by_break > 0
    if positive and "design_factor" in goal:
        load = by_break / goal["design_factor"]
        if by_set is not None and "set_factor" in goal:
            load = min(load, by_set / goal["set_factor"])
        for use in goal.get("use_factors", []):
            load /= use["factor"]
        load = load if load > 0 else None
    check.number(f"working load, not rounded, {UNIT}", load,
                 theirs["working_load"]["unrounded"])
    if load is not None:
        digit = 10.0 ** (math.floor(math.log10(load)) - 2)
        down = math.floor(load / digit * (1 + 1e-12)) * digit
        rounded = theirs["working_load"]["value"]
        near_a_step = abs(load / digit - round(load / digit)) < 1e-5
        if near_a_step and abs(down - rounded) < 1.01 * digit:
            down = rounded
        check.number(f"working load, {UNIT}", down, rounded)
    check.done()


def check_design(design):
    """Everything about one design."""
    theirs = RESULTS[design["id"]]
    for event in ("break", "set"):
        found = theirs if event == "break" else theirs.get("set")
        if found is not None:
            word = "" if event == "break" else ", first movement"
            pulls = pulls_of(design, event)
            check_fits(f"{design['id']}{word}: fits", pulls,
                       found["fits"])
            check_bounds(f"{design['id']}{word}: bounds", design,
                         pulls, found["bounds"])
    check_working_load(f"{design['id']}: working load", design,
                       theirs)
