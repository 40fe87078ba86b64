def trapezoid(log_function, step):
    """ln of the integral over the whole line of a smooth function
    that dies out on either side and is something at 0."""
    total, peak = 0.0, log_function(0.0)
    for direction in (1, -1):
        at = 0.0 if direction > 0 else -step
        while True:
            value = log_function(at)
            if value > peak:
                total, peak = total * math.exp(peak - value), value
            total += math.exp(value - peak)
            if value < peak - 40 and abs(at) > step:
                break
            at += direction * step
    return peak + math.log(total * step)


def noncentral_t_chance(t, freedom, shift):
    """P(T <= t), T = (Z + shift) / x with x² chi-square over its
    degrees of freedom; the integral runs over ln x."""
    half = 0.5 * freedom
    scale = math.log(2) + half * math.log(half) - math.lgamma(half)

    def log_integrand(u):
        x = math.exp(u)
        log_density = scale + freedom * u - half * x * x
        return Normal.log_lower(t * x - shift) + log_density

    step = 0.125 / math.sqrt(1 + freedom + shift * shift)
    return math.exp(trapezoid(log_integrand, step))


KNOWN_FACTORS = {}


def normal_factor(n, freedom, content, confidence):
    """k = t'(C; freedom, z_P sqrt n) / sqrt n."""
    key = (n, freedom, content, confidence)
    if key not in KNOWN_FACTORS:
        z, root = STANDARD.inv_cdf(content), math.sqrt(n)
        if freedom == math.inf:
            above = STANDARD.inv_cdf(confidence) / root
            KNOWN_FACTORS[key] = z + above
        else:
            excess = lambda k: (noncentral_t_chance(k * root, freedom,
                                                    z * root)
                                - confidence)
            high = z + 1
            while excess(high) < 0:
                high *= 2
            KNOWN_FACTORS[key] = solve(excess, 0.0, high)
    return KNOWN_FACTORS[key]


def beta_chance(a, b, x):
    """Chance that a beta(a, b) variable is below x: continued
    fraction by Lentz's method, from the side where it is quick."""
    if x <= 0 or x >= 1:
        return float(x >= 1)
    if x > (a + 1) / (a + b + 2):
        return 1 - beta_chance(b, a, 1 - x)
    front = math.exp(math.lgamma(a + b) - math.lgamma(a)
                     - math.lgamma(b) + a * math.log(x)
                     + b * math.log1p(-x)) / a
    up, down = 1.0, 1 / (1 - (a + b) * x / (a + 1))
    total = down
    for i in range(1, 1000):
        for top in (i * (b - i) * x / ((a + 2 * i - 1) * (a + 2 * i)),
                    -(a + i) * (a + b + i) * x
                    / ((a + 2 * i) * (a + 2 * i + 1))):
            down = 1 / (1 + top * down)
            up = 1 + top / up
            total *= up * down
        if abs(up * down - 1) < 1e-15:
            break
    return front * total


def f_quantile(p, first, second):
    """The p quantile of F with so many degrees of freedom."""
    x = solve(lambda x: beta_chance(first / 2, second / 2, x) - p,
              1e-12, 1 - 1e-12)
    return second * x / (first * (1 - x))


def weibull_estimates(y):
    """m and s of whole data: Cohen's equation in b = 1/s by Newton's
    method."""
    top, n = max(y), len(y)
    x = [v - top for v in y]
    mean = sum(x) / n
    b = 1.28 / math.sqrt(sum((v - mean) ** 2 for v in x) / (n - 1))
    for _ in range(100):
        e = [math.exp(b * v) for v in x]
        sum_e = sum(e)
        first = sum(v * w for v, w in zip(x, e)) / sum_e
        second = sum(v * v * w for v, w in zip(x, e)) / sum_e
        step = ((first - mean - 1 / b) / (second - first * first
                                          + 1 / (b * b)))
        b = b - step if step < 0.75 * b else 0.25 * b
        if abs(step) < 1e-10 * b:
            break
    return (top + math.log(sum(math.exp(b * v) for v in x) / n) / b,
            1 / b)


def simulated_confidence(n, content, k, samples, seed):
    """Share of samples of n parts of the standard Weibull law whose
    bound m - k s lies below the true quantile, and its error."""
    draw, kept = random.Random(seed), 0
    quantile = Weibull.quantile(content)
    for _ in range(samples):
        standard = [-math.log(1 - draw.random()) for _ in range(n)]
        m, s = weibull_estimates([math.log(x) for x in standard])
        kept += m - k * s <= quantile
    share = kept / samples
    variance = max(share * (1 - share), 1 / samples)
    return share, math.sqrt(variance / samples)


class Conditional:
    """The distribution of q = m + z s given the data: density 1/s on
    (m, s), finished pulls exact, open ones by their chance."""

    def __init__(self, law, points, content):
        self.law, self.z = law, law.quantile(content)
        self.exact = [low for kind, low, _ in points
                      if kind == "exact"]
        opened = [(kind, high if kind == "below" else low)
                  for kind, low, high in points if kind != "exact"]
        self.opened = [(end, opened.count(end))
                       for end in sorted(set(opened))
                       if end[1] > -math.inf]
        self.d = len(self.exact)
        fit = Fit(law, [points])
        self.m, self.s = fit.m[0], fit.s
        step = (0.1 if law is Weibull else 0.2) / math.sqrt(self.d)
        self.slices = []
        for direction in (1, -1):
            t, i = self.m, 0 if direction > 0 else 1
            while True:
                slice = self.slice(math.log(self.s)
                                   + direction * i * step, t)
                self.slices.append(slice)
                t, i = slice[1], i + 1
                peak = max(x[4] for x in self.slices)
                if slice[4] < peak - 40 and i > 2:
                    break
        self.peak = max(x[4] for x in self.slices)
        self.total = sum(math.exp(x[4] - self.peak)
                         for x in self.slices)

    def log_likelihood(self, s):
        """The function of m for this s, with s^-d."""
        law, y, count = self.law, self.exact, self.d
        opened = [(law.log_upper if kind == "above"
                   else law.log_lower, end, times)
                  for (kind, end), times in self.opened]
        mean, top = sum(y) / count, max(y)
        squares = sum((v - mean) ** 2 for v in y)
        grown_sum = 0.0
        if law is Weibull:
            grown_sum = sum(math.exp((v - top) / s) for v in y)

        def value(m):
            if law is Weibull:
                total = count * (mean - m) / s
                total -= grown_sum * grown((top - m) / s)
            else:
                total = (-(count * (m - mean) ** 2
                           + squares) / (2 * s * s))
            for log_tail, end, times in opened:
                total += times * log_tail((end - m) / s)
            return total - count * math.log(s)

        return value

    def slice(self, log_s, start):
        """(s, mode, low, high, ln of the integral over m): the
        likelihood in m for one s, and where it ends."""
        s = math.exp(log_s)
        value = self.log_likelihood(s)
        left, right = start - s, start + s
        golden = 0.5 * (math.sqrt(5) - 1)
        while value(left) > value(left + 0.5 * s):
            left -= 2 * s
        while value(right) > value(right - 0.5 * s):
            right += 2 * s
        while right - left > 0.05 * s:
            part = golden * (right - left)
            if value(right - part) < value(left + part):
                left = right - part
            else:
                right = left + part
        mode, ends = 0.5 * (left + right), []
        peak = value(mode)
        for direction in (-1, 1):
            reach = 0.25 * s
            while value(mode + direction * reach) > peak - 40:
                reach *= 1.25
            ends.append(mode + direction * reach)
        inside = sum(integrate(lambda m: math.exp(value(m) - peak),
                               *part)
                     for part in ((ends[0], mode), (mode, ends[1])))
        return s, mode, ends[0], ends[1], peak + math.log(inside)

    def chance_below(self, x):
        """P(q <= x)."""
        total = 0.0
        for s, mode, low, high, log_mass in self.slices:
            limit = x - self.z * s
            if limit >= high:
                total += math.exp(log_mass - self.peak)
            elif limit > low and log_mass > self.peak - 37:
                value = self.log_likelihood(s)
                parts = [(low, min(mode, limit))]
                if limit > mode:
                    parts.append((mode, limit))
                mass = lambda m: math.exp(value(m) - self.peak)
                total += sum(integrate(mass, *part) for part in parts)
        return total / self.total

    def limit(self, confidence):
        """The bound: exceeded by q with this confidence."""
        low, target = self.m + 1.5 * self.z * self.s, 1 - confidence
        high = self.m + self.z * self.s
        while self.chance_below(high) < target:
            high += self.s
        while self.chance_below(low) > target:
            low -= 2 * (high - low)
        log_share = lambda x: math.log(self.chance_below(x) / target)
        return solve(log_share, low, high)
