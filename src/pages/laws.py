STANDARD = NormalDist()


class Normal:
    """Z standard normal; works on the load itself."""
    name, log_scale = "normal", False

    def log_density(z):
        return -0.5 * z * z - 0.5 * math.log(2 * math.pi)

    def slope(z):
        return -z

    def log_upper(z):
        if z < -5:
            return math.log1p(-0.5 * math.erfc(-z / math.sqrt(2)))
        if z < 30:
            return math.log(0.5 * math.erfc(z / math.sqrt(2)))
        tail = 1 - 1 / z**2 + 3 / z**4 - 15 / z**6 + 105 / z**8
        return Normal.log_density(z) - math.log(z) + math.log(tail)

    def log_lower(z):
        return Normal.log_upper(-z)

    def rise(low, width):
        """ln density at low + width less that at low, without
        cancellation."""
        return -width * (low + 0.5 * width)

    def log_between(low, width):
        """ln P(low < Z <= low + width)."""
        if low > 0:
            low = -low - width
        high = low + width
        if width * max(1, -low) < 0.5:
            shape = integrate(lambda x: math.exp(Normal.rise(low, x)),
                              0.0, width)
            return Normal.log_density(low) + math.log(shape)
        below = Normal.log_lower(low)
        if high > 0:
            return math.log1p(-math.exp(below)
                              - math.exp(Normal.log_upper(high)))
        above = Normal.log_lower(high)
        return above + math.log(-math.expm1(below - above))

    def quantile(content):
        """What this share of all parts exceeds."""
        return STANDARD.inv_cdf(1 - content)


class Lognormal(Normal):
    """The same on ln load."""
    name, log_scale = "lognormal", True


class Weibull:
    """ln load = m + s·Z with Z smallest extreme value; scale e^m,
    shape 1/s."""
    name, log_scale = "weibull", True

    def log_density(z):
        return z - grown(z)

    def slope(z):
        return 1 - grown(z)

    def log_upper(z):
        return -grown(z)

    def log_lower(z):
        rate = grown(z)
        if rate < 1e-9:
            return z - 0.5 * rate
        return math.log(-math.expm1(-rate))

    def rise(low, width):
        return (width
                - grown(low) * (math.expm1(width) if width < 700
                                else math.inf))

    def log_between(low, width):
        rate = grown(low)
        more = math.expm1(width) if width < 700 else math.inf
        return -rate + math.log(-math.expm1(-rate * more))

    def quantile(content):
        return math.log(-math.log(content))


LAWS = [Normal, Lognormal, Weibull]


def law_named(name):
    return next((law for law in LAWS if law.name == name), None)


def grown(z):
    return math.exp(z) if z < 700 else math.inf


def working(law, load):
    """The working scale of a law: the load, or its logarithm."""
    if not law.log_scale:
        return load
    return math.log(load) if load > 0 else -math.inf


def load_of(law, y):
    return math.exp(y) if law.log_scale else y


def for_fit(law, pulls):
    """Pulls as the likelihood sees them: (kind, lower, upper) on the
    working scale. A dropped step reaches twice as far."""
    return [(kind, working(law, low),
             working(law,
                     low + 2 * (high - low) if dropped else high))
            for kind, low, high, dropped in pulls]


def at_middles(law, pulls):
    """Pulls as the bound sees them: steps at their middle; and h, the
    root mean square of the widths."""
    points, widths = [], []
    for kind, low, high, dropped in pulls:
        low, high = working(law, low), working(law, high)
        if kind == "closed":
            widths.append((high - low) * (2 if dropped else 1))
            low = high = 0.5 * (low + high)
        points.append((kind if kind in ("above", "below")
                       else "exact",
                       -math.inf if kind == "below" else low, high))
    if not widths:
        return points, 0.0
    return points, math.sqrt(sum(w * w for w in widths) / len(widths))


def log_term(law, kind, low, width):
    """ln likelihood of one pull in z, its derivative when both ends
    move, and when only the upper one does."""
    if kind == "exact":
        return law.log_density(low), law.slope(low), 0.0
    if kind == "above":
        value = law.log_upper(low)
        return value, -math.exp(law.log_density(low) - value), 0.0
    if low == -math.inf:  # then width stands for the upper end
        value = law.log_lower(width)
        return value, math.exp(law.log_density(width) - value), 0.0
    value, rise = law.log_between(low, width), law.rise(low, width)
    ratio = law.log_density(low) - value
    upper = math.exp(ratio + rise)
    lower = math.exp(ratio)
    together = upper - lower
    if abs(rise) < 1:
        together = lower * math.expm1(rise)
    return value, together, upper


def climb_value(law, groups, at):
    """ln likelihood and gradient at at = (a of each group ..., b), z
    = b·y - a."""
    b, value, gradient = at[-1], 0.0, [0.0] * len(at)
    for g, group in enumerate(groups):
        for kind, low, high in group:
            if kind == "above" and low == -math.inf:
                continue  # a pull that says nothing
            open_below = low == -math.inf
            width = (b * high - at[g] if open_below
                     else b * (high - low))
            term, together, upper = log_term(law, kind,
                                             b * low - at[g], width)
            value += term
            gradient[g] -= together
            gradient[-1] += together * (high if open_below else low)
            if upper:
                gradient[-1] += upper * (high - low)
            if kind == "exact":
                value += math.log(b)
                gradient[-1] += 1 / b
    return value, gradient


def linear(matrix, right):
    """Solves a small system by elimination with pivots."""
    rows = [list(row) + [r] for row, r in zip(matrix, right)]
    for i in range(len(rows)):
        pivot = max(range(i, len(rows)),
                    key=lambda r: abs(rows[r][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for r in range(len(rows)):
            if r != i:
                share = rows[r][i] / rows[i][i]
                rows[r] = [x - share * y
                           for x, y in zip(rows[r], rows[i])]
    return [row[-1] / row[i] for i, row in enumerate(rows)]


def bend(law, groups, at):
    """Second derivatives, by differences of the gradient."""
    columns = []
    for i in range(len(at)):
        step = 3e-5 * max(1.0, abs(at[i]))
        ends = [climb_value(law, groups,
                            at[:i] + [at[i] + sign * step]
                            + at[i + 1:])[1] for sign in (1, -1)]
        columns.append([(one - other) / (2 * step)
                        for one, other in zip(*ends)])
    return [[0.5 * (columns[i][j] + columns[j][i])
             for j in range(len(at))] for i in range(len(at))]


class NoMaximum(Exception):
    """The likelihood only levels out, towards no spread or an endless
    location."""


class Fit:
    """Maximum likelihood with one location for each group and one
    spread for all."""

    def __init__(self, law, groups, value_only=False):
        """value_only: the likelihood is wanted, and it may be flat
        about its top."""
        ends = [y for group in groups for _, low, high in group
                for y in (low, high) if math.isfinite(y)]
        center = sum(ends) / len(ends)
        scale = max(abs(y - center) for y in ends) or 1.0
        scaled = [[(kind, (low - center) / scale,
                    (high - center) / scale)
                   for kind, low, high in group] for group in groups]
        at = [0.0] * len(groups) + [1.0]
        value, gradient = climb_value(law, scaled, at)
        for _ in range(200):
            try:
                step = linear(bend(law, scaled, at),
                              [-g for g in gradient])
            except (ArithmeticError, ValueError):
                raise NoMaximum
            gain = sum(s * g for s, g in zip(step, gradient))
            if gain < -1e-12:  # no hilltop shape here: go uphill
                step = [g / (1 + max(map(abs, gradient)))
                        for g in gradient]
                gain = sum(s * g for s, g in zip(step, gradient))
            size = max(abs(s) / (1 + abs(x))
                       for s, x in zip(step, at))
            if gain < 1e-13 * (1 + abs(value)):
                break
            share = 1.0
            if at[-1] + step[-1] <= 0:
                share = -0.9 * at[-1] / step[-1]
            while True:
                try:
                    ahead = [x + share * s for x, s in zip(at, step)]
                    there = climb_value(law, scaled, ahead)
                    rounding = 1e-14 * (1 + abs(value))
                    enough = 1e-4 * share * gain - rounding
                    if there[0] > value + enough:
                        break
                except (ArithmeticError, ValueError):
                    pass
                share *= 0.5
                if share < 1e-12:
                    break
            if share < 1e-12:
                break  # what is left to gain drowns in rounding
            at, (value, gradient) = ahead, there
        if size < 1e-4:
            # The last step is too small to be measured by its gain.
            at = [x + s for x, s in zip(at, step)]
        elif not value_only:
            raise NoMaximum
        exact = sum(kind == "exact" for group in groups
                    for kind, _, _ in group)
        b = at[-1]
        self.m = [center + scale * a / b for a in at[:-1]]
        self.s = scale / b
        self.log_likelihood = value - exact * math.log(scale)
        if law.log_scale:  # a density of ln load becomes one of load
            self.log_likelihood -= sum(low for group in groups
                                       for kind, low, _ in group
                                       if kind == "exact")
        self.law, self.scaled = law, scaled
        self.at, self.scale = at, scale

    def errors(self):
        """Standard errors of the (first) location and of the spread,
        from the bend of the likelihood at its top."""
        b, groups = self.at[-1], len(self.at) - 1
        information = [[-x for x in row]
                       for row in bend(self.law, self.scaled,
                                       self.at)]
        by_m = [self.scale / b] + [0.0] * (groups - 1)
        by_m.append(-self.scale * self.at[0] / (b * b))
        by_s = [0.0] * groups + [-self.scale / (b * b)]
        squares = (sum(x * y
                       for x, y in zip(by, linear(information, by)))
                   for by in (by_m, by_s))
        return tuple(math.sqrt(square) for square in squares)


def check_fits(title, pulls, fits):
    """The maximum of the likelihood for each law, or the reason why
    there is none."""
    check = Check(title)
    for theirs in fits:
        law = law_named(theirs["family"])
        if law is None:
            print(f"  {theirs['family']}: not computed again here")
            continue
        data = for_fit(law, pulls)
        highest_low = max((low for _, low, _ in data),
                          default=math.inf)
        one_load_explains_all = all(high >= highest_low
                                    for _, _, high in data)
        if theirs["stop"] == "too_few":
            check.same(f"{law.name}: failures below 2",
                       sum(kind != "above"
                           for kind, _, _ in data) < 2, True)
        elif theirs["stop"] in ("one_step", "two_steps",
                                "one_step_open"):
            check.same(f"{law.name}: one load explains all",
                       one_load_explains_all, True)
        elif theirs["converged"]:
            fit = Fit(law, [data])
            check.number(f"{law.name}: location (as load)",
                         load_of(law, fit.m[0]),
                         load_of(law, theirs["m"]),
                         0.0 if law.log_scale else fit.s)
            check.number(f"{law.name}: spread s", fit.s, theirs["s"])
            error_m, error_s = fit.errors()
            check.number(f"{law.name}: error of location", error_m,
                         theirs["standard_error_m"])
            check.number(f"{law.name}: error of spread", error_s,
                         theirs["standard_error_s"])
            check.number(f"{law.name}: ln likelihood",
                         fit.log_likelihood, theirs["log_likelihood"],
                         1.0)
    check.done()
