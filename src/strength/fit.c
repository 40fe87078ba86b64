/* Newton's method on the concave log-likelihood in (a, b), z = b·y − a (Pratt 1981; Burridge 1981).
 * Data are first shifted and scaled, so the iteration is the same for any unit. */
#include "holdfast/strength/fit.h"

#include <math.h>
#include <string.h>
#include "holdfast/strength/sample.h"
#include "strength/mids.h"

enum { MAXIMUM_ROUNDS = 200, MAXIMUM_HALVINGS = 60 };

/* ln likelihood, gradient in (a, b), Hessian (aa, ab, bb). */
typedef struct derivatives {
    double value, a, b, aa, ab, bb;
} derivatives;

typedef struct problem {
    const hf_family *family;
    hf_sample sample;
    double center, scale; /* y' = (y − center)/scale */
    double start;         /* first b: small enough that no z is extreme */
} problem;

typedef struct ends {
    double low, high;
} ends;

static ends working_ends(const hf_family *family, const hf_observation *item) {
    ends out = {hf_family_working(family, item->lower), INFINITY};
    if (item->kind != HF_INTERVAL_ABOVE) out.high = hf_family_working(family, hf_observation_upper(item));
    return out;
}

static void add_through_z(derivatives *sum, double y, const double f[3]) {
    sum->value += f[0];
    sum->a -= f[1];
    sum->b += f[1] * y;
    sum->aa += f[2];
    sum->ab -= f[2] * y;
    sum->bb += f[2] * y * y;
}

static void add_exact(const problem *p, double y, double a, double b, derivatives *sum) {
    double f[3];
    p->family->log_density(b * y - a, f);
    add_through_z(sum, y, f);
    sum->value += log(b);
    sum->b += 1 / b;
    sum->bb -= 1 / (b * b);
}

/* A step so narrow that F(high) − F(low) would lose digits: density × width, with the next term of its series. */
static void add_narrow(const problem *p, ends y, double a, double b, derivatives *sum) {
    double middle = 0.5 * (y.low + y.high), width = y.high - y.low, c[3], f[3];
    double factor = width * width / 24, b2 = b * b;
    add_exact(p, middle, a, b, sum);
    p->family->curvature(b * middle - a, c);
    double t = 1 + c[0] * factor * b2;
    sum->value += log(width) + log(t);
    /* ln t, t = 1 + c(z)·factor·b²: derivatives by z and b, then z = b·y − a. */
    double tz = c[1] * factor * b2, tzz = c[2] * factor * b2, tb = 2 * c[0] * factor * b;
    double tbb = 2 * c[0] * factor, tzb = 2 * c[1] * factor * b;
    f[0] = 0;
    f[1] = tz / t;
    f[2] = tzz / t - f[1] * f[1];
    add_through_z(sum, middle, f);
    double by_b = tb / t, by_zb = tzb / t - tz * tb / (t * t);
    sum->b += by_b;
    sum->bb += tbb / t - by_b * by_b + 2 * by_zb * middle;
    sum->ab -= by_zb;
}

static void add_closed(const problem *p, ends y, double a, double b, derivatives *sum) {
    double low = b * y.low - a, high = b * y.high - a, f1[3], f2[3];
    double reach = fmax(1, fmax(fabs(low), fabs(high)));
    if (isfinite(y.low) && (high - low) * reach < 1e-3) {
        add_narrow(p, y, a, b, sum);
        return;
    }
    double value = p->family->log_interval(low, high);
    p->family->log_density(high, f2);
    double r2 = exp(f2[0] - value), r1 = 0, y1 = 0, slope1 = 0;
    if (isfinite(low)) {
        p->family->log_density(low, f1);
        r1 = exp(f1[0] - value);
        y1 = y.low;
        slope1 = f1[1];
    }
    /* f1[1], f2[1] are f′/f; r is density over probability. */
    double h22 = r2 > 0 ? r2 * (f2[1] - r2) : 0, h11 = r1 > 0 ? -r1 * (slope1 + r1) : 0, h12 = r1 * r2;
    sum->value += value;
    sum->a -= r2 - r1;
    sum->b += r2 * y.high - r1 * y1;
    sum->aa += h22 + h11 + 2 * h12;
    sum->ab -= h22 * y.high + h11 * y1 + h12 * (y.high + y1);
    sum->bb += h22 * y.high * y.high + h11 * y1 * y1 + 2 * h12 * y.high * y1;
}

static derivatives evaluate(const problem *p, double a, double b) {
    derivatives sum = {0};
    for (size_t i = 0; i < p->sample.count; i++) {
        const hf_observation *item = &p->sample.items[i];
        ends y = working_ends(p->family, item);
        y.low = (y.low - p->center) / p->scale;
        y.high = (y.high - p->center) / p->scale;
        double f[3];
        if (item->kind == HF_INTERVAL_EXACT) {
            add_exact(p, y.low, a, b, &sum);
        } else if (item->kind == HF_INTERVAL_ABOVE) {
            p->family->log_upper(b * y.low - a, f);
            add_through_z(&sum, y.low, f);
        } else if (isinf(y.low)) {
            p->family->log_lower(b * y.high - a, f);
            add_through_z(&sum, y.high, f);
        } else {
            add_closed(p, y, a, b, &sum);
        }
    }
    return sum;
}

/* s → 0 raises the likelihood exactly when one strength could explain every pull at once. */
static hf_fit_stop existence(const hf_family *family, hf_sample sample) {
    hf_sample_counts counts = hf_sample_count(sample);
    double low = -INFINITY, high = INFINITY, step_low = -INFINITY, step_high = INFINITY;
    if (counts.exact + counts.closed + counts.below < 2) return HF_FIT_TOO_FEW;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *item = &sample.items[i];
        ends y = working_ends(family, item);
        low = fmax(low, y.low);
        high = fmin(high, y.high);
        if (item->kind == HF_INTERVAL_CLOSED || item->kind == HF_INTERVAL_EXACT) {
            step_low = fmax(step_low, y.low);
            step_high = fmin(step_high, y.high);
        }
    }
    /* Ends that differ in the last digits are one end, written in two ways. */
    double same = HF_SAME * (family->log_scale ? 1 : fmax(fabs(low), fabs(high)));
    if (low > high + same) return HF_FIT_CONVERGED;
    bool one_step = step_low + same < step_high || counts.exact > 0 || counts.closed == 0;
    if (!one_step) return HF_FIT_TWO_STEPS;
    return counts.above + counts.below > 0 ? HF_FIT_ONE_STEP_OPEN : HF_FIT_ONE_STEP;
}

/* A point that stands for the observation in the start values and in the scaling. */
static double typical(const hf_family *family, const hf_observation *item) {
    ends y = working_ends(family, item);
    if (item->kind == HF_INTERVAL_ABOVE) return y.low;
    if (isinf(y.low)) return y.high;
    return 0.5 * (y.low + y.high);
}

static void scale_problem(problem *p) {
    double sum = 0, squares = 0, n = (double)p->sample.count;
    for (size_t i = 0; i < p->sample.count; i++) sum += typical(p->family, &p->sample.items[i]);
    p->center = sum / n;
    for (size_t i = 0; i < p->sample.count; i++) {
        double residual = typical(p->family, &p->sample.items[i]) - p->center;
        squares += residual * residual;
    }
    p->scale = sqrt(squares / n);
    p->start = 1;
    if (!(p->scale > 1e-300)) { /* all typical values equal: the widths give the scale */
        for (size_t i = 0; i < p->sample.count; i++) {
            ends y = working_ends(p->family, &p->sample.items[i]);
            if (isfinite(y.high) && isfinite(y.low)) p->scale = fmax(p->scale, y.high - y.low);
        }
    }
    if (!(p->scale > 1e-300)) p->scale = 1;
    for (size_t i = 0; i < p->sample.count; i++) {
        double reach = fabs(typical(p->family, &p->sample.items[i]) - p->center) / p->scale;
        p->start = fmin(p->start, 5 / fmax(reach, 5));
    }
}

static bool newton_direction(const derivatives *d, double *step_a, double *step_b) {
    double determinant = d->aa * d->bb - d->ab * d->ab;
    if (!(determinant > 0) || !(d->aa < 0)) { /* flat to rounding: go uphill */
        double size = fmax(fabs(d->aa), fabs(d->bb));
        *step_a = d->a / (size > 0 ? size : 1);
        *step_b = d->b / (size > 0 ? size : 1);
        return false;
    }
    *step_a = -(d->bb * d->a - d->ab * d->b) / determinant;
    *step_b = -(d->aa * d->b - d->ab * d->a) / determinant;
    return true;
}

static hf_fit_stop climb(const problem *p, double *a, double *b, derivatives *at, int *rounds) {
    *at = evaluate(p, *a, *b);
    for (*rounds = 1; *rounds <= MAXIMUM_ROUNDS; ++*rounds) {
        double step_a, step_b, share = 1;
        bool newton = newton_direction(at, &step_a, &step_b);
        double gain = step_a * at->a + step_b * at->b;
        if (newton && fabs(step_a) <= 1e-9 * (1 + fabs(*a)) && fabs(step_b) <= 1e-9 * *b) {
            *a += step_a; /* quadratic: a step below 1e-9 leaves an error near 1e-18 */
            *b += step_b;
            return HF_FIT_CONVERGED;
        }
        if (*b + step_b <= 0) share = 0.9 * *b / -step_b;
        derivatives next = *at;
        int halving = 0;
        for (; halving < MAXIMUM_HALVINGS; halving++, share *= 0.5) {
            next = evaluate(p, *a + share * step_a, *b + share * step_b);
            if (next.value >= at->value + 1e-4 * share * gain) break;
            /* At the top the gain drowns in rounding: there a step that loses no more than that is taken. */
            if (gain < 1e-9 && next.value >= at->value - 1e-13 * (1 + fabs(at->value))) break;
        }
        if (halving == MAXIMUM_HALVINGS)
            return newton && gain < 1e-12 ? HF_FIT_CONVERGED : HF_FIT_NOT_CONVERGED;
        *a += share * step_a;
        *b += share * step_b;
        *at = next;
    }
    return HF_FIT_NOT_CONVERGED;
}

/* Back from (a, b) of scaled data to (m, s), with the observed information carried through the same map. */
static void finish(const problem *p, double a, double b, const derivatives *d, hf_fit *out) {
    double determinant = d->aa * d->bb - d->ab * d->ab;
    double va = -d->bb / determinant, vb = -d->aa / determinant, vab = d->ab / determinant;
    double m_a = 1 / b, m_b = -a / (b * b), s_b = -1 / (b * b), scale = p->scale;
    hf_sample_counts counts = hf_sample_count(p->sample);
    out->m = p->center + scale * a / b;
    out->s = scale / b;
    out->se_m = scale * sqrt(m_a * m_a * va + 2 * m_a * m_b * vab + m_b * m_b * vb);
    out->se_s = scale * sqrt(s_b * s_b * vb);
    out->cov = scale * scale * (m_a * s_b * vab + m_b * s_b * vb);
    out->log_likelihood = d->value - (double)counts.exact * log(scale);
    if (!p->family->log_scale) return;
    for (size_t i = 0; i < p->sample.count; i++)
        if (p->sample.items[i].kind == HF_INTERVAL_EXACT)
            out->log_likelihood -= log(p->sample.items[i].lower);
}

static derivatives evaluate_exact(const problem *p, const double *y, size_t n, double a, double b) {
    derivatives sum = {0};
    double f[3], size = (double)n;
    for (size_t i = 0; i < n; i++) {
        double scaled = (y[i] - p->center) / p->scale;
        p->family->log_density(b * scaled - a, f);
        add_through_z(&sum, scaled, f);
    }
    sum.value += size * log(b);
    sum.b += size / b;
    sum.bb -= size / (b * b);
    return sum;
}

/* Whole data: the family's own estimates are the maximum; one Newton step takes off their last rounding. */
static hf_status fit_exact(problem *p, hf_fit *out) {
    hf_mids mids;
    if (hf_mids_of(p->family, p->sample, &mids) != HF_OK) return HF_MEMORY;
    double m = 0, s = 0, step_a = 0, step_b = 0, n = (double)mids.count;
    hf_status status = p->family->estimate(mids.y, mids.count, &m, &s);
    if (status == HF_OK && p->family->spread_divides_by_n_minus_1) s *= sqrt((n - 1) / n);
    if (status == HF_OK && s > 0) {
        p->center = m;
        p->scale = s;
        derivatives at = evaluate_exact(p, mids.y, mids.count, 0, 1);
        bool newton = newton_direction(&at, &step_a, &step_b);
        status = newton && fabs(step_a) + fabs(step_b) < 1e-6 ? HF_OK : HF_NUMERIC;
        out->iterations = 1;
        finish(p, step_a, 1 + step_b, &at, out);
    }
    out->stop = status != HF_OK ? HF_FIT_NOT_CONVERGED : s > 0 ? HF_FIT_CONVERGED : HF_FIT_ONE_STEP;
    hf_mids_free(&mids);
    return status != HF_OK ? status : s > 0 ? HF_OK : HF_NO_RESULT;
}

hf_status hf_fit_maximum(const hf_family *family, hf_sample sample, hf_fit *out) {
    hf_sample_counts counts = hf_sample_count(sample);
    problem p = {family, sample, 0, 1, 1};
    memset(out, 0, sizeof *out);
    out->family = family;
    out->exact = counts.exact;
    out->m = out->s = out->se_m = out->se_s = out->cov = out->log_likelihood = NAN;
    if (counts.exact == sample.count && counts.exact >= 2) return fit_exact(&p, out);
    out->stop = existence(family, sample);
    if (out->stop != HF_FIT_CONVERGED) return HF_NO_RESULT;
    scale_problem(&p);
    double a = 0, b = p.start;
    derivatives at;
    out->stop = climb(&p, &a, &b, &at, &out->iterations);
    bool only_open = counts.exact + counts.closed == 0;
    if (only_open && (out->stop == HF_FIT_NOT_CONVERGED || b < 1e-6)) {
        out->stop = HF_FIT_ENDLESS_SCATTER;
        return HF_NO_RESULT;
    }
    if (out->stop != HF_FIT_CONVERGED) return HF_NUMERIC;
    finish(&p, a, b, &at, out);
    return HF_OK;
}

typedef struct stop_row {
    const char *code, *text;
} stop_row;

static const stop_row stop_rows[] = {
    [HF_FIT_CONVERGED] = {"converged", "the likelihood has its maximum here"},
    [HF_FIT_TOO_FEW] = {"too_few", "fewer than two parts failed"},
    [HF_FIT_ONE_STEP] = {"one_step", "all failures lie in one step, so the pulls show no scatter"},
    [HF_FIT_TWO_STEPS] = {"two_steps",
                          "all failures lie in two neighbouring steps, so the pulls show no scatter"},
    [HF_FIT_ONE_STEP_OPEN] = {"one_step_open",
                              "one strength could explain every pull, so the pulls show no scatter"},
    [HF_FIT_ENDLESS_SCATTER] =
        {"endless_scatter",
         "only run-outs and first-rung failures, and higher loads did not break more parts"},
    [HF_FIT_NOT_CONVERGED] = {"not_converged", "the iteration did not reach its tolerance"},
};

const char *hf_fit_stop_code(hf_fit_stop stop) {
    return stop_rows[stop].code;
}
const char *hf_fit_stop_text(hf_fit_stop stop) {
    return stop_rows[stop].text;
}
