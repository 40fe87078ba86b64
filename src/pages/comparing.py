def student_upper(t, freedom):
    """P(T > t) for t >= 0: half the incomplete beta function at
    freedom / (freedom + t²)."""
    return (0.5 * incomplete_beta(0.5 * freedom, 0.5,
                                  freedom / (freedom + t * t)))


def incomplete_beta(a, b, x):
    """By its continued fraction (Lentz)."""
    if x <= 0:
        return 0.0
    if x > (a + 1) / (a + b + 2):
        return 1 - incomplete_beta(b, a, 1 - x)
    front = (math.exp(math.lgamma(a + b) - math.lgamma(a)
                      - math.lgamma(b) + a * math.log(x)
                      + b * math.log1p(-x)) / a)
    c, d = 1.0, 1 / (1 - (a + b) * x / (a + 1))
    value = d
    for i in range(1, 10000):
        j = a + 2 * i
        even = i * (b - i) * x / ((j - 1) * j)
        odd = -(a + i) * (a + b + i) * x / (j * (j + 1))
        for term in (even, odd):
            d = 1 / (1 + term * d)
            c = 1 + term / c
            value *= c * d
        if abs(c * d - 1) < 1e-15:
            break
    return front * value


def student_quantile(tail, freedom):
    """t that is exceeded with this chance, below one half."""
    if freedom == math.inf:
        return STANDARD.inv_cdf(1 - tail)
    high = 1.0
    while student_upper(high, freedom) > tail:
        high *= 2
    return solve(lambda t: student_upper(t, freedom) - tail, 0.0,
                 high)


def two_sided(t, freedom):
    if freedom == math.inf:
        return math.erfc(abs(t) / math.sqrt(2))
    return min(1.0, 2 * student_upper(abs(t), freedom))


def group_of(pulls):
    """n, mean of ln load at the middles, variance s² + h²/8."""
    points, h = at_middles(Lognormal, pulls)
    y = [low for _, low, _ in points]
    mean = sum(y) / len(y)
    spread = 0.0
    if max(y) > min(y):
        spread = sum((v - mean) ** 2 for v in y) / max(1, len(y) - 1)
    return len(y), mean, spread + h * h / 8


def satterthwaite(part_a, freedom_a, part_b, freedom_b):
    below = part_a**2 / freedom_a + part_b**2 / freedom_b
    return (part_a + part_b) ** 2 / below if below > 0 else math.inf


def means_of(pulls, batches):
    """The same of the means of the batches: variance v + h²/(8 m), m
    the harmonic mean of the numbers of parts."""
    points, h = at_middles(Lognormal, pulls)
    groups = {}
    for (_, low, _), batch in zip(points, batches):
        groups.setdefault(batch, []).append(low)
    means = [sum(g) / len(g) for g in groups.values()]
    count = len(means)
    mean = sum(means) / count
    m = count / sum(1 / len(g) for g in groups.values())
    spread = sum((v - mean) ** 2 for v in means) / (count - 1)
    return count, mean, spread + h * h / m / 8


def by_batches(a, b, level, pair):
    """Welch's test on the means of the batches."""
    designs = {design["id"]: design for design in CAMPAIGN["designs"]}
    a = means_of(a, batches_of(designs[pair["a"]], "break"))
    b = means_of(b, batches_of(designs[pair["b"]], "break"))
    assert a[0] == pair["batches"]["a"] and b[0] == pair["batches"]["b"]
    return welch_of(a, b, level)


def welch(a, b, level, pair):
    """Welch's test, each part for itself."""
    return welch_of(group_of(a), group_of(b), level)


def welch_of(a, b, level):
    """(ratio, low, high, p) of geometric means, Welch on ln load with
    the step allowance."""
    n_a, mean_a, variance_a = a
    n_b, mean_b, variance_b = b
    part_a, part_b = variance_a / n_a, variance_b / n_b
    freedom = satterthwaite(part_a, n_a - 1, part_b, n_b - 1)
    error, difference = math.sqrt(part_a + part_b), mean_a - mean_b
    half = student_quantile(0.5 * level, freedom) * error
    numbers = tuple(math.exp(difference + x)
                    for x in (0.0, -half, half))
    return numbers + (two_sided(difference / error, freedom),)


def failures(pulls):
    return sum(kind != "above" for kind, _, _, _ in pulls)


def runs_off(data):
    """Where nothing keeps the location of a design: 1 when no part of
    it failed, -1 when all failed at the first load, else 0."""
    if all(kind == "above" for kind, _, _ in data):
        return 1
    return -1 if all(low == -math.inf for _, low, _ in data) else 0


def highest(function, low, high):
    """Where a function with one hill, or one level, is highest: a
    third off the lower side each time."""
    for _ in range(80):
        left, right = low + (high - low) / 3, high - (high - low) / 3
        if function(left) < function(right):
            low = left
        else:
            high = right
    return 0.5 * (low + high)


def likelihood(a, b, level, pair):
    """The same with unfinished pulls: lognormal, one spread for both;
    the ln likelihood that a ratio loses is read on Student's t."""
    data_a, data_b = for_fit(Lognormal, a), for_fit(Lognormal, b)
    d_a, d_b = failures(a), failures(b)
    exact_b = sum(kind == "exact" for kind, _, _ in data_b)

    def shifted(difference):
        """ln likelihood where ln of the ratio of medians is this."""
        moved = [(kind, low + difference, high + difference)
                 for kind, low, high in data_b]
        fit = Fit(Lognormal, [data_a + moved], value_only=True)
        return fit.log_likelihood + exact_b * difference, fit.s

    freedom = d_a + d_b - (2 if d_a and d_b else 1)
    off = runs_off(data_a) or -runs_off(data_b)
    try:
        if off:
            free = Fit(Lognormal,
                       [data_b if runs_off(data_a) else data_a])
            difference = off * math.inf
            top, spread = free.log_likelihood, free.s
        else:
            free = Fit(Lognormal, [data_a, data_b])
            difference = free.m[0] - free.m[1]
            top, spread = free.log_likelihood, free.s
    except NoMaximum:
        # It only levels out: any place on the level will do.
        ends = (math.log(pair["low"] or 1e-26),
                math.log(pair["high"] or 1e26))
        difference = highest(lambda x: shifted(x)[0], *ends)
        top, spread = shifted(difference)
    if math.isfinite(difference) and pair["ratio"] is None:
        beside = max(shifted(difference + step * spread)[0]
                     for step in (-0.5, 0.5))
        missing = "one ratio is likeliest, and Holdfast printed none"
        assert beside > top - TOLERANCE, missing
    statistic = max(0.0, 2 * (top - shifted(0.0)[0]))
    per_part = math.expm1(statistic / (freedom + 2))
    p = two_sided(math.sqrt(freedom * per_part), freedom)
    t = student_quantile(0.5 * level, freedom)
    needed = top - 0.5 * (freedom + 2) * math.log1p(t * t / freedom)

    def end(sign):
        """Where the ratio has lost as much as the level allows; 60 on
        the ln scale stands for no end."""
        if difference == sign * math.inf:
            return difference
        inside = -sign * 60.0
        if math.isfinite(difference):
            inside = difference
        reach = spread
        while shifted(inside + sign * reach)[0] > needed:
            reach *= 1.5
            if math.isfinite(difference) and reach > 60:
                return sign * math.inf
        within = inside
        if reach > spread:
            within += sign * reach / 1.5
        return solve(lambda x: shifted(x)[0] - needed,
                     *sorted((within, inside + sign * reach)))

    low, high = end(-1), end(1)
    if math.isfinite(difference) and pair["ratio"] is None:
        difference = None
    elif (pair["ratio"]
          and not abs(difference
                      - math.log(pair["ratio"])) < TOLERANCE):
        # At the top of the likelihood neighbours differ by less than
        # their rounding; then only the likelihood can be compared.
        lost = top - shifted(math.log(pair["ratio"]))[0]
        print(f"  ratio {pair['ratio']:.9g} by Holdfast, "
              f"{math.exp(difference):.9g} here: "
              f"ln likelihood less by {lost:.1e}")
        allowed = TOLERANCE if off else 1e-10
        assert lost < allowed, "that ratio is less likely"
        difference = math.log(pair["ratio"])
    return (tuple(None if x is None else math.exp(x) if x < 700
                  else math.inf for x in (difference, low, high))
            + (p,))


def open_welch(a, b, level, pair):
    """Welch's test carried over: steps at their middles, open pulls
    as they are, each design its own spread."""
    parts = []
    for pulls in (a, b):
        points, h = at_middles(Lognormal, pulls)
        fit = Fit(Lognormal, [points])
        d = sum(kind == "exact" for kind, _, _ in points)
        share = (fit.errors()[0] / fit.s) ** 2
        parts.append((fit.m[0],
                      (fit.s**2 * d / (d - 1) + h * h / 8) * share,
                      d - 1))
    (m_a, part_a, freedom_a), (m_b, part_b, freedom_b) = parts
    freedom = satterthwaite(part_a, freedom_a, part_b, freedom_b)
    error = math.sqrt(part_a + part_b)
    half = student_quantile(0.5 * level, freedom) * error
    numbers = tuple(math.exp(m_a - m_b + x)
                    for x in (0.0, -half, half))
    return numbers + (two_sided((m_a - m_b) / error, freedom),)


def by_stated_scatter(a, b, level, pair):
    """With scatter known from elsewhere: steps are met by their ends,
    p is that of the nearest pair of means."""
    designs = {design["id"]: design for design in CAMPAIGN["designs"]}
    sides = []
    for pulls, design in ((a, designs[pair["a"]]),
                          (b, designs[pair["b"]])):
        data = [(working(Lognormal, low),
                 working(Lognormal,
                         low + 2 * (high - low) if dropped else high))
                for _, low, high, dropped in pulls]
        low, high = (sum(ends) / len(data) for ends in zip(*data))
        if "scatter" in design:
            cv, freedom, s0, _ = stated_scatter(design)
            variance = math.log1p(cv * cv)
            if "past" in design["scatter"]:
                variance = s0 * s0
        else:
            n, _, variance = group_of(pulls)
            freedom = n - 1
        known = [end for end in (low, high) if math.isfinite(end)]
        middle = sum(known) / len(known) if known else high
        sides.append((low, middle, high, variance / len(data),
                      freedom))
    low_a, mid_a, high_a, part_a, freedom_a = sides[0]
    low_b, mid_b, high_b, part_b, freedom_b = sides[1]
    freedom = satterthwaite(part_a, freedom_a, part_b, freedom_b)
    error = math.sqrt(part_a + part_b)
    low, high = low_a - high_b, high_a - low_b
    nearest = low if low > 0 else high if high < 0 else 0.0
    half = student_quantile(0.5 * level, freedom) * error
    ratio, least, most = (math.exp(x)
                          for x in (mid_a - mid_b, low - half,
                                    high + half))
    return ratio, least, most, two_sided(nearest / error, freedom)


def title_of(pair):
    return f"{shown(pair['a'], 30)} against {shown(pair['b'], 30)}"


def holm(chances):
    """Holm's adjustment; None stays None."""
    order = sorted((i for i, p in enumerate(chances)
                    if p is not None), key=lambda i: chances[i])
    adjusted, running = [None] * len(chances), 0.0
    for rank, i in enumerate(order):
        running = max(running,
                      min(1.0, (len(order) - rank) * chances[i]))
        adjusted[i] = running
    return adjusted


def check_comparison(comparison):
    designs = {design["id"]: design for design in CAMPAIGN["designs"]}
    level, found = comparison["level"], []
    for pair in comparison["pairs"]:
        a = pulls_of(designs[pair["a"]])
        b = pulls_of(designs[pair["b"]])
        methods = {"welch": welch, "likelihood": likelihood,
                   "welch_open": open_welch,
                   "batch_means": by_batches,
                   "stated_scatter": by_stated_scatter}
        found.append(methods[pair["method"]](a, b, level, pair)
                     if pair["method"] in methods else (None,) * 4)
    for pair, numbers, adjusted in zip(comparison["pairs"], found,
                                       holm([numbers[3]
                                             for numbers in found])):
        check = Check(f"{title_of(pair)}: {pair['method']}")
        for what, here in zip(("ratio", "low", "high"), numbers):
            # Where Holdfast prints nothing for an open end it is
            # infinite, or 0.
            if here is not None and pair[what] is None:
                here = here if 0 < here < math.inf else None
            check.number(what, here, pair[what])
        check.number("p", numbers[3], pair["p"])
        check.number("p, adjusted", adjusted, pair["p_adjusted"])
        if numbers[3] is None or adjusted > level:
            verdict = "cannot_tell"
        else:
            ratio, low = numbers[:2]
            leads = low >= 1 if ratio is None else ratio > 1
            verdict = "a_stronger" if leads else "b_stronger"
        check.same("verdict", verdict, pair["verdict"])
        check.done()
