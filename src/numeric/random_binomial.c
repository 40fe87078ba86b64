/* Binomial numbers: by adding up the probabilities where few are expected, else by transformed rejection (Hörmann 1993, algorithm BTRS). */
#include <math.h>
#include "holdfast/numeric/random.h"
#include "holdfast/numeric/special.h"

static const double few = 10;

static double by_adding(hf_random *random, double n, double p) {
    double odds = p / (1 - p), mass = exp(n * log1p(-p)), u = hf_random_uniform(random), k = 0;
    while (u > mass && k < n) {
        u -= mass;
        k++;
        mass *= ((n + 1) / k - 1) * odds;
    }
    return k;
}

static double log_mass_less_top(double n, double top, double k, double odds) {
    return hf_log_gamma(top + 1) + hf_log_gamma(n - top + 1) - hf_log_gamma(k + 1) - hf_log_gamma(n - k + 1) +
           (k - top) * log(odds);
}

static double by_rejection(hf_random *random, double n, double p) {
    double deviation = sqrt(n * p * (1 - p)), odds = p / (1 - p), top = floor((n + 1) * p);
    double b = 1.15 + 2.53 * deviation, a = -0.0873 + 0.0248 * b + 0.01 * p, center = n * p + 0.5;
    double alpha = (2.83 + 5.1 / b) * deviation, surely = 0.92 - 4.2 / b;
    for (;;) {
        double u = hf_random_uniform(random) - 0.5, v = hf_random_uniform(random), edge = 0.5 - fabs(u);
        double k = floor((2 * a / edge + b) * u + center);
        if (edge >= 0.07 && v <= surely) return k;
        if (k < 0 || k > n) continue;
        if (log(v * alpha / (a / (edge * edge) + b)) <= log_mass_less_top(n, top, k, odds)) return k;
    }
}

double hf_random_binomial(hf_random *random, double n, double p) {
    if (!(p > 0) || !(n > 0)) return 0;
    if (!(p < 1)) return n;
    double rarer = fmin(p, 1 - p);
    double k = n * rarer < few ? by_adding(random, n, rarer) : by_rejection(random, n, rarer);
    return p <= 0.5 ? k : n - k;
}
