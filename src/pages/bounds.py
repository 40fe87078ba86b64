# The check of a Weibull factor draws so many parts; more make it
# sharper and slower
SIMULATED_PARTS = 200000


def allowance(law, content, k):
    """A in k sqrt(s² + A h²)."""
    least = 1 / 12 if law is Weibull else 1 / 8
    if content >= 0.90:
        return least
    return max(least, 0.25 / (k * k))


def root_of(law, s, h, content, k):
    return math.sqrt(s * s + allowance(law, content, k) * h * h)


def by_conditional(law, points, h, content, confidence):
    """(m, s, h, k, bound on the working scale) with open pulls."""
    given = Conditional(law, points, content)
    s = given.s
    if law is not Weibull:
        s *= math.sqrt(given.d / (given.d - 1))
    k = (given.m - given.limit(confidence)) / s
    limit = given.m - k * root_of(law, s, h, content, k)
    return given.m, s, h, k, limit


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
    return m, s, h, k, m - k * root_of(law, s, h, content, k)


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


def weibull_shape(cv):
    """The shape whose coefficient of variation is cv."""
    def excess(u):
        inverse = math.exp(-u)
        return (math.lgamma(1 + 2 * inverse)
                - 2 * math.lgamma(1 + inverse) - math.log1p(cv * cv))

    return math.exp(solve(excess, math.log(0.5), math.log(1e4)))


def log_gamma_slopes(x):
    """psi(x) and psi'(x): from x on by the recurrence to where their
    series holds."""
    first = second = 0.0
    while x < 20:
        first -= 1 / x
        second += 1 / (x * x)
        x += 1
    v = 1 / (x * x)
    first += math.log(x) - 0.5 / x - v * (
        1 / 12 - v * (1 / 120 - v * (1 / 252 - v / 240)))
    second += (1 / x) * (1 + 0.5 / x + v * (
        1 / 6 - v * (1 / 30 - v * (1 / 42 - v / 30))))
    return first, second


def pool_earlier(past):
    """(s0, degrees) that several earlier designs are worth: how far
    their variances differ beyond chance, capped by their number."""
    count = len(past)
    centred, expected = [], 0.0
    for s, freedom in past:
        psi, slope = log_gamma_slopes(0.5 * freedom)
        centred.append(2 * math.log(s) - psi
                       + math.log(0.5 * freedom))
        expected += slope / count
    mean = sum(centred) / count
    excess = (sum((e - mean) ** 2 for e in centred) / (count - 1)
              - expected)
    degrees = float(count)
    if excess > log_gamma_slopes(0.5 * count)[1]:
        excess_at = lambda u: (log_gamma_slopes(math.exp(-u))[1]
                               - excess)
        degrees = 2 * math.exp(-solve(excess_at, -math.log(count),
                                      30.0))
    total = sum(freedom for _, freedom in past)
    square = sum(freedom * s * s for s, freedom in past) / total
    return math.sqrt(square), degrees


def stated_scatter(design):
    """(cv, degrees of freedom, s of ln load, what it is worth) as
    stated in the file: as such, or by earlier designs."""
    stated = design["scatter"]
    spread = lambda cv: (math.pi / math.sqrt(6) / weibull_shape(cv)
                         if cv else 0.0)
    worth = lambda nu: 2 / (2 / nu + 2.4 / (nu + 1))
    if "past" not in stated:
        freedom = stated["degrees_of_freedom"]
        if freedom == "assumed":
            freedom = math.inf
            return stated["cv"], freedom, spread(stated["cv"]), None
        return (stated["cv"], freedom, spread(stated["cv"]),
                worth(freedom))
    past = [(math.hypot(spread(one["cv"]),
                        one.get("step", 0) / math.sqrt(8)),
             one["degrees_of_freedom"]) for one in stated["past"]]
    s0, freedom = past[0]
    degrees = worth(freedom)
    if len(past) > 1:
        s0, degrees = pool_earlier(past)
        freedom = degrees
    inverse = s0 * math.sqrt(6) / math.pi
    square = math.expm1(math.lgamma(1 + 2 * inverse)
                        - 2 * math.lgamma(1 + inverse))
    return math.sqrt(square), freedom, s0, degrees


def load_taken(pull, middles):
    kind, low, high, _ = pull
    if middles and kind in ("exact", "closed"):
        return 0.5 * (low + high)
    return low


def known_normal(cv, pulls, content, confidence, middles):
    """(law, m, s, h, k, bound on the working scale)."""
    n = len(pulls)
    m = sum(load_taken(pull, middles) for pull in pulls) / n
    k = normal_factor(n, math.inf, content, confidence)
    h = at_middles(Normal, pulls)[1] if middles else 0.0
    s = cv * m
    limit = m - k * root_of(Normal, s, h, content, k)
    return Normal, m, s, h, k, limit


def known_weibull(cv, pulls, content, confidence, middles):
    shape = weibull_shape(cv)
    lower = [math.log(load_taken(pull, middles)) for pull in pulls]
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
    limit = (top + (log_sum - math.log(half)
                    + Weibull.quantile(content)) / shape)
    m = top + (log_sum - math.log(failed)) / shape
    return Weibull, m, 1 / shape, 0.0, (m - limit) * shape, limit


def known_scatter(cv, pulls, content, confidence, middles):
    """The lower of the normal and the Weibull bound of this
    scatter."""
    promise = content, confidence, middles
    rows = [known_normal(cv, pulls, *promise)]
    if (any(kind != "above" for kind, _, _, _ in pulls)
            and all(load_taken(p, middles) > 0 for p in pulls)):
        rows.append(known_weibull(cv, pulls, *promise))
    return min(rows, key=lambda row: load_of(row[0], row[-1]))


def stated_factor(n, degrees, content, confidence, several=False):
    """k = t'(C; degrees, zeta sqrt n) / sqrt n, zeta the farther of
    the normal and the Weibull quantile in standard deviations; C
    raised a little below 0.90, of one part beside several designs,
    and from six parts on."""
    euler = 0.5772156649015329
    z = STANDARD.inv_cdf(content)
    weibull = ((-math.log(-math.log(content)) - euler)
               * math.sqrt(6) / math.pi)
    if confidence < 0.90:
        confidence = min(confidence + 0.035, 0.90)
    if several and n == 1 and content > 0.95:
        confidence = STANDARD.cdf(STANDARD.inv_cdf(confidence) + 0.20)
    if n >= 6:
        at = STANDARD.inv_cdf(confidence)
        at += min(0.04 * math.log(n / 4.5), 0.2326 * at)
        confidence = STANDARD.cdf(at)
    zeta = STANDARD.cdf(max(z, weibull))
    return normal_factor(n, degrees, zeta, confidence)


def pooled_scatter(stated, past, several, pulls, content, confidence):
    """One rule on ln load for a scatter of so many degrees."""
    n = len(pulls)
    points, h = at_middles(Lognormal, pulls)
    y = [low for _, low, _ in points]
    m = sum(y) / n
    own, squares = 0.0, 0.0
    if all(kind == "exact" for kind, _, _ in points):
        own = (n - 1) / 2.2
        squares = sum((v - m) ** 2 for v in y)
    s2 = past * stated**2
    if n > 1:
        s2 += own * squares / (n - 1)
    s = math.sqrt(s2 / (past + own))
    k = stated_factor(n, past + own, content, confidence, several)
    limit = m - k * root_of(Lognormal, s, h, content, k)
    return Lognormal, m, s, h, k, limit


def stated_bound(design, pulls, content, confidence):
    """(law of its scale, m, s, h, k, bound on that scale) by the
    scatter stated in the file."""
    cv, freedom, s0, worth = stated_scatter(design)
    if freedom == math.inf:
        return known_scatter(cv, pulls, content, confidence, False)
    several = len(design["scatter"].get("past", [])) > 1
    pooled = pooled_scatter(s0, worth, several, pulls, content,
                            confidence)
    known = known_scatter(cv, pulls, content, confidence, True)
    if load_of(known[0], known[-1]) < load_of(pooled[0], pooled[-1]):
        return known
    return pooled


def least_squares(pulls):
    """The least sum of squares of ln load about a common centre that
    the steps leave possible."""
    ends = []
    for kind, low, high, dropped in pulls:
        bottom = math.log(low) if kind != "below" else -math.inf
        top = math.inf
        if kind != "above":
            wide = 2 if dropped and kind == "closed" else 1
            top = math.log(low + wide * (high - low)
                           if kind == "closed" else high)
        ends.append((bottom, top))
    left = min(top for _, top in ends)
    right = max(bottom for bottom, _ in ends)
    if left >= right:
        return 0.0

    def slope(c):
        return sum(max(0.0, c - top) - max(0.0, bottom - c)
                   for bottom, top in ends)

    c = solve(slope, left, right)
    return sum(max(0.0, c - top, bottom - c) ** 2
               for bottom, top in ends)


def chance_beyond(statistic, own, freedom):
    """Upper tail of chi-square, or of own times F(own, freedom)."""
    if statistic <= 0:
        return 1.0
    if freedom == math.inf:
        scale = 2 / (2 ** (own / 2) * math.gamma(own / 2))
        density = lambda v: v ** (own - 1) * math.exp(-v * v / 2)
        end = math.sqrt(statistic)
    else:
        scale = 2 * math.exp(math.lgamma((own + freedom) / 2)
                             - math.lgamma(own / 2)
                             - math.lgamma(freedom / 2))
        density = lambda v: (v ** (own - 1)
                             * (1 - v * v) ** (freedom / 2 - 1))
        end = math.sqrt(statistic / (statistic + freedom))
    edges = [end * i / 8 for i in range(9)]
    return 1 - scale * sum(integrate(density, a, b)
                           for a, b in zip(edges, edges[1:]))


def contradicted(check, design, pulls, theirs):
    """Whether the pulls scatter too much for what is stated."""
    if len(pulls) < 2:
        return False
    _, freedom, s0, _ = stated_scatter(design)
    statistic = least_squares(pulls) / s0**2
    check.number("scatter as stated: sum of squares", statistic,
                 theirs["statistic"], 1.0)
    chance = chance_beyond(statistic, len(pulls) - 1, freedom)
    check.number("scatter as stated: significance", chance,
                 theirs["significance"], 1.0)
    return chance < 0.05


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


def batches_of(design, event):
    """The batch of every pull, in the order of pulls_of."""
    name, found = design["id"], []
    for owner in CAMPAIGN["designs"]:
        for part in owner.get("specimens", []):
            pulls = []
            if part.get("reused", False):
                continue
            if event == "break" and name in part.get("ends", []):
                pulls = ends_of(part, name)
            elif owner is design or owner["id"] == name:
                pulls = [interval(part, event)]
            found += [part.get("batch") for pull in pulls if pull]
    return found


def batch_bound(pulls, batches, content, confidence):
    """From the means of the batches, on ln load."""
    points, h = at_middles(Lognormal, pulls)
    y = [low for _, low, _ in points]
    groups = {}
    for value, batch in zip(y, batches):
        groups.setdefault(batch, []).append(value)
    means = [sum(g) / len(g) for g in groups.values()]
    b, e = len(groups), len(y) - len(groups)
    size = b / sum(1 / len(g) for g in groups.values())
    middle = sum(means) / b
    between = sum((m - middle) ** 2 for m in means) / (b - 1)
    squares = sum((v - m) ** 2 for g, m in zip(groups.values(), means)
                  for v in g)
    within = squares / e if e else 0.0
    share = 1.0
    if within > 0:
        at = [(0.75, 0.75), (0.90, 0.80), (0.95, 0.85), (0.99, 0.90)]
        eta = at[0][1] if confidence <= at[0][0] else at[-1][1]
        for (c, low), (d, high) in zip(at, at[1:]):
            if c < confidence <= d:
                eta = (high - (high - low) * (d - confidence)
                       / (d - c))
        f = f_quantile(eta, e, b - 1)
        ratio = max(0, (f * size * between / within - 1) / size)
        share = ratio / (1 + ratio)
    a = share + (1 - share) / size
    rest = (1 - 1 / size) * (1 - share)
    freedom = 1 / (a * a / (b - 1) + (rest * rest / e if e else 0))
    n = b / a
    k = normal_factor(n, max(1, freedom), content, confidence)
    s = math.sqrt(between + (1 - 1 / size) * within)
    value = math.exp(middle - k * root_of(Lognormal, s, h, content, k))
    return k, share, value


def one_batch_bound(design, pulls, theirs, rows):
    """Of one batch, a scatter between batches stated: from the bound
    that leads without it."""
    points, _ = at_middles(Lognormal, pulls)
    mean = sum(low for _, low, _ in points) / len(points)
    cv = design["between_batches"]["cv"]
    tau = math.sqrt(math.log1p(cv * cv))
    without = RESULTS[design["id"]]["one_batch"]["without"]
    assert any(row["value"] == without for row in rows)
    reach = (STANDARD.inv_cdf(theirs["content"])
             + STANDARD.inv_cdf(theirs["confidence"])) * tau
    return math.exp(mean - math.hypot(mean - math.log(without), reach))


def check_bounds(title, design, pulls, rows):
    check, weibull = Check(title), None
    for at, theirs in enumerate(rows):
        law = law_named(theirs["family"])
        if theirs["method"] == "none":
            continue
        if theirs["method"] == "batch":
            event = "set" if "first movement" in title else "break"
            k, _, value = batch_bound(pulls,
                                      batches_of(design, event),
                                      theirs["content"],
                                      theirs["confidence"])
            check.number("batches: k", k, theirs["k"])
            check.number(f"batches, {UNIT}", value, theirs["value"])
            continue
        if theirs["method"] == "one_batch":
            value = one_batch_bound(design, pulls, theirs, rows)
            check.number(f"one batch, {UNIT}", value, theirs["value"])
            continue
        if theirs["method"] == "stated_scatter":
            promise = theirs["content"], theirs["confidence"]
            ours = stated_bound(design, pulls, *promise)
            check.same("stated scatter: scale of", ours[0].name,
                       theirs["family"])
            check_law_row(check, ours[0],
                          ("stated_scatter",) + ours[1:], theirs)
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


def own_leads(design, pulls, law_row, theirs):
    """Whether so many parts tell more of their scatter than what is
    stated: their Weibull bound then takes no more off the mean of
    parts that scatter as stated. Reckoned of finished pulls, taken
    as told of others, whose factor hangs on how they came out."""
    _, freedom, _, worth = stated_scatter(design)
    if freedom == math.inf or law_row["method"] != "factor":
        return theirs["governing"]["reason"] == "own_scatter"
    n = len(pulls)
    rule = stated_factor(n, worth + (n - 1) / 2.2,
                         law_row["content"], law_row["confidence"])
    euler = 0.5772156649015329
    own = (law_row["k"] - euler) * math.sqrt(6) / math.pi
    return own <= rule


def check_governing(check, design, pulls, theirs, promised):
    """Which bound governs: the Weibull law's unless another was
    stated and is not rejected; of a rejected law's and the one
    that needs no law the lower. Returns it calibrated, and whether it
    is assured."""
    fits = {fit["family"]: fit for fit in theirs["fits"]}
    stated = design.get("family", "auto")
    wanted = stated
    if stated == "auto" or fits[stated]["rejected"]:
        wanted = "weibull"
    law_rows = {row["family"]: row for row in theirs["bounds"]
                if row["method"] in ("factor", "conditional")}
    by_scatter = next((row for row in theirs["bounds"]
                       if row["method"] == "stated_scatter"), None)
    refuted = None
    if by_scatter and contradicted(check, design, pulls,
                                   theirs["stated_scatter_test"]):
        by_scatter, refuted = None, by_scatter
    order = next((row for row in theirs["bounds"]
                  if row["method"] == "order_statistic"), None)
    free = order or next((row for row in theirs["bounds"]
                          if row["method"] == "hanson_koopmans"), None)
    by_law = law_rows.get(wanted)
    alone = by_law and fits[wanted]["rejected"] and not free
    if by_law and fits[wanted]["rejected"] and free:
        by_law = min(by_law, free, key=lambda row: row["value"])
    if (by_scatter and by_law and "weibull" in law_rows
            and own_leads(design, pulls, law_rows["weibull"],
                          theirs)):
        by_scatter = None
    row = by_scatter or by_law or order or refuted
    batch = next((row for row in theirs["bounds"]
                  if row["method"] == "batch"), None)
    assured = row is not refuted and (by_scatter or not alone)
    if batch and row and row is not by_scatter and assured:
        row = min(row, batch, key=lambda row: row["value"])
    one = next((row for row in theirs["bounds"]
                if row["method"] == "one_batch"), None)
    if one and row and row is not by_scatter and assured:
        check.number("one batch: bound without", row["value"],
                     theirs["one_batch"]["without"])
        row = one
    check.same("governing: law", row and row["family"],
               theirs["governing"]["family"])
    check.number("governing: bound", row and row["value"],
                 theirs["governing"]["value"])
    if row is None:
        return None, False
    value = row["value"]
    u = uncertainty_at(value) if value > 0 else 0.0
    z = max(1.645, STANDARD.inv_cdf(promised))
    calibrated = value * max(0.0, 1 - z * u)
    check.number("rig: relative uncertainty", u,
                 theirs["calibration"]["relative_uncertainty"])
    check.number("bound after the rig's error", calibrated,
                 theirs["calibration"]["value"], 1e-3 * abs(value))
    return calibrated, assured


def check_working_load(title, design, theirs):
    """From the governing bounds to the working load."""
    check = Check(title)
    goal = {**CAMPAIGN.get("goal", {}), **design.get("goal", {})}
    promised = theirs["answer"]["confidence"]
    by_break, assured = check_governing(check, design,
                                        pulls_of(design), theirs,
                                        promised)
    by_set, set_assured = None, True
    if "set" in theirs:
        by_set, set_assured = check_governing(
            check, design, pulls_of(design, "set"), theirs["set"],
            promised)
    load = None
    positive = (by_break is not None and by_break > 0 and
                theirs["looks"]["stand"] != "before_first")
    if positive and assured and "design_factor" in goal:
        load = by_break / goal["design_factor"]
        if by_set is not None and "set_factor" in goal:
            if by_set / goal["set_factor"] < load:
                load = by_set / goal["set_factor"] * set_assured
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


def simulated_looks(factors, content, samples, seed):
    """How often all looks are right, and its error. factors: numbers
    of parts, rising, and the k of each; parts of the normal law."""
    draw, kept, at = random.Random(seed), 0, dict(factors)
    shift, last = STANDARD.inv_cdf(content), max(at)
    for _ in range(samples):
        total = squares = 0.0
        right = True
        for n in range(1, last + 1):
            y = draw.gauss(0, 1)
            total, squares = total + y, squares + y * y
            if n in at:
                spread = max(squares - total * total / n, 0) / (n - 1)
                right = right and (total / n - at[n] * math.sqrt(spread)
                                   <= -shift)
        kept += right
    share = kept / samples
    variance = max(share * (1 - share), 1 / samples)
    return share, math.sqrt(variance / samples)


def check_looks(title, design, theirs):
    """The confidence of the bounds: the d-th root of the promise where
    the best of d designs is picked; that of each look is tried on
    sequences of parts."""
    looks, answer = theirs["looks"], theirs["answer"]
    each, at = looks["per_look_confidence"], looks["at"]
    picked = theirs["picked_from"] or 1
    promised = answer["confidence"] ** (1 / picked)
    check = Check(title)
    if each is None:
        check.number("confidence used", promised,
                     answer["confidence_used"])
        check.done()
        return
    goal = {**CAMPAIGN.get("goal", {}), **design.get("goal", {})}
    stated = goal["looks"]
    early = None
    if isinstance(stated, dict):
        early = stated.get("early")
        step = stated.get("every", 1)
        stated = list(range(stated["first"], stated["last"], step))
        stated.append(goal["looks"]["last"])
    check.same("looks", stated, at)
    now, used = looks["now"], each
    if early is not None and now < at[-1]:
        used = early
    if now > at[-1]:
        used = promised
    check.number("confidence used", used, answer["confidence_used"])
    check.done()
    content = answer["content"]
    factors = [(n, normal_factor(n, n - 1, content,
                                 early if early and n < at[-1]
                                 else each)) for n in at]
    share, error = simulated_looks(factors, content,
                                   max(2000, 400000 // at[-1]), SEED)
    print(f"  each look at {each:.2%}: all {len(at)} of them right "
          f"{share:.2%} of the time,")
    print(f"  error {error:.2%}; promised {promised:.2%}")
    contradicts = "the simulation contradicts the confidence of looks"
    assert abs(share - promised) <= 4 * error, contradicts


def check_scatter_rule(title, design, theirs):
    """What is stated of the scatter, as the rule takes it."""
    if "scatter_rule" not in theirs:
        return
    check = Check(title)
    _, _, s0, worth = stated_scatter(design)
    rule = theirs["scatter_rule"]
    check.number("scatter of ln load", s0, rule["s"])
    check.number("degrees it is worth", worth,
                 rule["degrees_of_freedom"])


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
    check_scatter_rule(f"{design['id']}: stated scatter", design,
                       theirs)
    check_looks(f"{design['id']}: looks", design, theirs)
    check_working_load(f"{design['id']}: working load", design,
                       theirs)
