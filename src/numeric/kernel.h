/* Exponential, logarithm and the normal law without branches.
 *
 * A loop over these functions, inside a function marked HF_VECTOR_CLONES, is turned into vector code by the
 * compiler, once per vector width; the processor's width is picked when the program starts. Only + − · / √, selection
 * by comparison and whole-number work on the bits are used, nothing is fused or reordered, so every width and every
 * machine gives the same bits. Coefficients: tests/numeric/kernel_coefficients.py, and Wichura (1988), algorithm AS 241,
 * for the normal quantile. Errors stated are relative and measured by tests/numeric/test_vector.c. */
#ifndef HOLDFAST_NUMERIC_KERNEL_H
#define HOLDFAST_NUMERIC_KERNEL_H

#include <math.h>
#include <stdint.h>
#include <string.h>

#if defined(__GNUC__)
#define HF_KERNEL static inline __attribute__((always_inline, unused))
#else
#define HF_KERNEL static inline
#endif

/* The start-up dispatch needs glibc and GCC on x86-64; sanitizers and unoptimised builds do without it. */
#if defined(__x86_64__) && defined(__linux__) && defined(__GNUC__) && !defined(__clang__) &&                 \
    defined(__GLIBC__) && defined(__OPTIMIZE__) && !defined(__SANITIZE_ADDRESS__) &&                         \
    !defined(__SANITIZE_THREAD__)
#define HF_VECTOR_WIDTHS 1
#define HF_VECTOR_CLONES __attribute__((target_clones("avx512f", "avx2", "default")))
#else
#define HF_VECTOR_WIDTHS 0
#define HF_VECTOR_CLONES
#endif

HF_KERNEL uint64_t hf_kernel_bits(double x) {
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bits;
}

HF_KERNEL double hf_kernel_from_bits(uint64_t bits) {
    double x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

/* yes where condition is 1, no where it is 0. Both must be constants or arguments: the compiler moves arithmetic that only one
 * side needs into a jump, and a loop with a jump is not vectorised. */
HF_KERNEL double hf_kernel_select(int condition, double yes, double no) {
    uint64_t mask = 0U - (hf_kernel_bits(condition ? -0.0 : 0.0) >> 63);
    return hf_kernel_from_bits((hf_kernel_bits(yes) & mask) | (hf_kernel_bits(no) & ~mask));
}

/* All ones where a < b, else 0, for a, b ≥ +0: such doubles are ordered like their bits. No comparison, so no jump. */
HF_KERNEL uint64_t hf_kernel_less(double a, double b) {
    return 0U - ((hf_kernel_bits(a) - hf_kernel_bits(b)) >> 63);
}

/* yes where mask is all ones, no where it is 0; any arithmetic may stand on both sides. */
HF_KERNEL double hf_kernel_pick(uint64_t mask, double yes, double no) {
    return hf_kernel_from_bits((hf_kernel_bits(yes) & mask) | (hf_kernel_bits(no) & ~mask));
}

#define HF_KERNEL_LN2_HIGH 0x1.62e42fefa3800p-1 /* 42 bits, so that n·high is exact */
#define HF_KERNEL_LN2_LOW 0x1.ef35793c76730p-45
#define HF_KERNEL_ROUND 0x1.8p52 /* adding it rounds to a whole number that stands in the low bits */

/* 2^n for the n that was rounded by adding HF_KERNEL_ROUND, −1022 ≤ n ≤ 1023. */
HF_KERNEL double hf_kernel_power_of_two(double rounded) {
    return hf_kernel_from_bits((hf_kernel_bits(rounded) + 1023U) << 52);
}

/* e^r − 1 for |r| ≤ ln(2)/2. */
HF_KERNEL double hf_kernel_expm1_small(double r) {
    double r2 = r * r, r4 = r2 * r2;
    double c01 = 0x1.0000000000001p-1 + r * 0x1.5555555555556p-3;
    double c23 = 0x1.5555555553d63p-5 + r * 0x1.11111111109b3p-7;
    double c45 = 0x1.6c16c1788bd90p-10 + r * 0x1.a01a01a7c41d5p-13;
    double c67 = 0x1.a019b90d2ae7ap-16 + r * 0x1.71de0dae63bb3p-19;
    double c89 = 0x1.289185613a3d6p-22 + r * 0x1.af38a9b0ec855p-26;
    double high = (c45 + r2 * c67) + r4 * c89;
    return r + r2 * ((c01 + r2 * c23) + r4 * high);
}

/* e^(x + low) with |low| far below 1: low carries digits that x has no room for. Error 2e-16; overflow gives
 * infinity, subnormal results are rounded once, NaN stays. */
HF_KERNEL double hf_kernel_exp_sum(double x, double low) {
    double top = hf_kernel_select(x > 710.0, 710.0, x);
    double y = hf_kernel_select(top < -746.0, -746.0, top);
    double rounded = y * 1.4426950408889634074 + HF_KERNEL_ROUND;
    double n = rounded - HF_KERNEL_ROUND;
    double r = ((y - n * HF_KERNEL_LN2_HIGH) - n * HF_KERNEL_LN2_LOW) + low;
    double half = n * 0.5 + HF_KERNEL_ROUND; /* two factors, so that neither leaves the range of double */
    double rest = (n - (half - HF_KERNEL_ROUND)) + HF_KERNEL_ROUND;
    return ((1.0 + hf_kernel_expm1_small(r)) * hf_kernel_power_of_two(half)) * hf_kernel_power_of_two(rest);
}

HF_KERNEL double hf_kernel_exp(double x) {
    return hf_kernel_exp_sum(x, 0.0);
}

/* e^x − 1 for |x| ≤ 700. */
HF_KERNEL double hf_kernel_expm1(double x) {
    double rounded = x * 1.4426950408889634074 + HF_KERNEL_ROUND;
    double n = rounded - HF_KERNEL_ROUND;
    double r = (x - n * HF_KERNEL_LN2_HIGH) - n * HF_KERNEL_LN2_LOW;
    double scale = hf_kernel_power_of_two(rounded);
    return scale * hf_kernel_expm1_small(r) + (scale - 1.0);
}

/* ln x. Error 2e-16; 0 gives −infinity, negative gives NaN. */
HF_KERNEL double hf_kernel_log(double x) {
    const uint64_t root_half = 0x3fe6a09e667f3bcdU; /* bits of √½: the mantissa goes into [√½, √2) */
    /* All ones when x is subnormal; it is then taken times 2^54. */
    uint64_t subnormal = 0U - ((hf_kernel_bits(x) - 0x0010000000000000U) >> 63);
    double normal = x * hf_kernel_from_bits(0x3ff0000000000000U + (subnormal & (54ULL << 52)));
    uint64_t shifted = hf_kernel_bits(normal) + (0x3ff0000000000000U - root_half);
    uint64_t biased = (shifted >> 52) + 64U - (subnormal & 54U);
    double n = hf_kernel_from_bits(0x4330000000000000U + biased) - (0x1p52 + 1023.0 + 64.0);
    double f = hf_kernel_from_bits((shifted & 0x000fffffffffffffU) + root_half) - 1.0;
    double s = f / (2.0 + f), z = s * s, z2 = z * z;
    double c12 = 0x1.5555555555558p-1 + z * 0x1.99999999952d7p-2;
    double c34 = 0x1.2492492df281ap-2 + z * 0x1.c71c62e3f11e6p-3;
    double c56 = 0x1.7462b51cb66b1p-3 + z * 0x1.39fe51a7c18f9p-3;
    double tail = z * (c12 + z2 * (c34 + z2 * (c56 + z2 * 0x1.2b5900de53b32p-3)));
    double half = 0.5 * f * f;
    double value = n * HF_KERNEL_LN2_HIGH - ((half - (s * (half + tail) + n * HF_KERNEL_LN2_LOW)) - f);
    double special = hf_kernel_select(x < HUGE_VAL, 0.0, x);
    special = hf_kernel_select(x > 0.0, special, NAN);
    special = hf_kernel_select(x == 0.0, -HUGE_VAL, special);
    return value + special;
}

/* √x for normal x > 0 by Newton's iteration for 1/√x; the library's sqrt sets errno, which keeps a loop from being
 * vectorised. Error 4e-16. */
HF_KERNEL double hf_kernel_root(double x) {
    double half = 0.5 * x;
    double y = hf_kernel_from_bits(0x5fe6eb50c7b537a9U - (hf_kernel_bits(x) >> 1));
    y = y * (1.5 - half * y * y);
    y = y * (1.5 - half * y * y);
    y = y * (1.5 - half * y * y);
    y = y * (1.5 - half * y * y);
    return x * y;
}

/* Four coefficients of a polynomial. */
HF_KERNEL double hf_kernel_four(double t, double c0, double c1, double c2, double c3) {
    return (c0 + t * c1) + (t * t) * (c2 + t * c3);
}

/* (x + 4)·P(Z > x)/e^(−x²/2) for x in [0, 39], t = (x − 4)/(x + 4). The last coefficient is raised by 1.8e-16, so that x = 0
 * gives exactly 2. */
HF_KERNEL double hf_kernel_mills(double t) {
    double t4 = (t * t) * (t * t), t8 = t4 * t4;
    double a = hf_kernel_four(t, 0x1.82b4bb8c94dcep-1, -0x1.373e3a893c287p-1, 0x1.8c6dbf2cfc2fdp-2,
                              -0x1.7dff2bff6889ap-3);
    double b = hf_kernel_four(t, 0x1.eec4cc3e4560cp-5, -0x1.ee2761034c407p-8, -0x1.c81719cabcedep-9,
                              0x1.ab825f7e9996dp-10);
    double c = hf_kernel_four(t, 0x1.17a4a6b9505f7p-13, -0x1.e4a415fb8cca5p-13, -0x1.0011cb7c88079p-19,
                              0x1.26cf8dea72ab1p-15);
    double d = hf_kernel_four(t, 0x1.7fdd9eeeb883fp-21, -0x1.8d35cd874dc01p-18, -0x1.4f9d808db1d2fp-21,
                              0x1.11c074ae9e33fp-20);
    double e = hf_kernel_four(t, 0x1.1b207d62865e8p-22, -0x1.4b471811b0210p-23, -0x1.480d99ae63529p-24,
                              0x1.f4eaa9c85bbb0p-27);
    double f = hf_kernel_four(t, 0x1.de6d02a26289cp-27, 0x1.3fb7ce475a168p-34, -0x1.0959ee01efbb2p-30, 0.0);
    return (a + t4 * b) + t8 * ((c + t4 * d) + t8 * (e + t4 * f));
}

/* The normal law at |z|. */
typedef struct hf_kernel_normal_tail {
    double upper; /* P(Z > |z|), error 1e-15 while it is above 2e-308 */
    double power; /* e^(−z²/2) */
    double mills; /* their ratio, also where both are 0 (up to |z| = 39) */
} hf_kernel_normal_tail;

HF_KERNEL hf_kernel_normal_tail hf_kernel_normal(double z) {
    double magnitude = fabs(z);
    double x = hf_kernel_select(magnitude > 39.0, 39.0, magnitude);
    double head = hf_kernel_from_bits(hf_kernel_bits(x) & 0xfffffffff8000000U); /* head² is exact */
    hf_kernel_normal_tail tail;
    tail.power = hf_kernel_exp_sum(-0.5 * (head * head), -0.5 * ((x - head) * (x + head)));
    double inverse = 1.0 / (x + 4.0);
    tail.mills = inverse * hf_kernel_mills((x - 4.0) * inverse);
    tail.upper = tail.power * tail.mills;
    return tail;
}

/* P(Z ≤ z). */
HF_KERNEL double hf_kernel_normal_lower(double z) {
    double upper = hf_kernel_normal(z).upper;
    return hf_kernel_select(z > 0.0, 1.0, 0.0) + hf_kernel_select(z > 0.0, -1.0, 1.0) * upper;
}

HF_KERNEL double hf_kernel_eight(double x, const double c[8]) {
    double x2 = x * x, x4 = x2 * x2;
    return ((c[0] + x * c[1]) + x2 * (c[2] + x * c[3])) + x4 * ((c[4] + x * c[5]) + x2 * (c[6] + x * c[7]));
}

/* z with P(Z ≤ z) = p, after Wichura's AS 241: error 1e-15·max(|z|, 1e-8). 0 and 1 give the infinities, outside NaN. */
HF_KERNEL double hf_kernel_normal_quantile(double p) {
    const double a[8] = {3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3,
                         1.3731693765509461125e4, 4.5921953931549871457e4, 6.7265770927008700853e4,
                         3.3430575583588128105e4, 2.5090809287301226727e3};
    const double b[8] = {1.0,
                         4.2313330701600911252e1,
                         6.8718700749205790830e2,
                         5.3941960214247511077e3,
                         2.1213794301586595867e4,
                         3.9307895800092710610e4,
                         2.8729085735721942674e4,
                         5.2264952788528545610e3};
    const double c[8] = {1.42343711074968357734e0,  4.63033784615654529590e0, 5.76949722146069140550e0,
                         3.64784832476320460504e0,  1.27045825245236838258e0, 2.41780725177450611770e-1,
                         2.27238449892691845833e-2, 7.74545014278341407640e-4};
    const double d[8] = {1.0,
                         2.05319162663775882187e0,
                         1.67638483018380384940e0,
                         6.89767334985100004550e-1,
                         1.48103976427480074590e-1,
                         1.51986665636164571966e-2,
                         5.47593808499534494600e-4,
                         1.05075007164441684324e-9};
    const double e[8] = {6.65790464350110377720e0,  5.46378491116411436990e0,  1.78482653991729133580e0,
                         2.96560571828504891230e-1, 2.65321895265761230930e-2, 1.24266094738807843860e-3,
                         2.71155556874348757815e-5, 2.01033439929228813265e-7};
    const double f[8] = {1.0,
                         5.99832206555887937690e-1,
                         1.36929880922735805310e-1,
                         1.48753612908506148525e-2,
                         7.86869131145613259100e-4,
                         1.84631831751005468180e-5,
                         1.42151175831644588870e-7,
                         2.04426310338993978564e-15};
    double q = p - 0.5, middle = 0.180625 - q * q;
    uint64_t below = 0U - (hf_kernel_bits(q) >> 63);
    double small = hf_kernel_pick(below, p, 1.0 - p);
    uint64_t edge = hf_kernel_less(fabs(small), 0x1p-1074); /* small is 0 */
    double r = hf_kernel_root(-hf_kernel_log(hf_kernel_pick(edge, 0.25, small)));
    uint64_t in_middle = hf_kernel_less(fabs(q), 0.425), in_near = hf_kernel_less(r, 5.0);
    double near = r - 1.6, far = r - 5.0;
    double tail_top = hf_kernel_pick(in_near, hf_kernel_eight(near, c), hf_kernel_eight(far, e));
    double tail_bottom = hf_kernel_pick(in_near, hf_kernel_eight(near, d), hf_kernel_eight(far, f));
    double top = hf_kernel_pick(in_middle, fabs(q) * hf_kernel_eight(middle, a), tail_top);
    double bottom = hf_kernel_pick(in_middle, hf_kernel_eight(middle, b), tail_bottom);
    double magnitude = hf_kernel_pick(edge, HUGE_VAL, top / bottom);
    return hf_kernel_from_bits(hf_kernel_bits(magnitude) ^ (below & 0x8000000000000000U));
}

#endif
