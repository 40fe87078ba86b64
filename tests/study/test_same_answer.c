/* The same pulls give the same answer: in any order, alone in a file, beside a void part and as the second of a pair to the last bit; in
 * another unit and at another scale in everything that is said, loads to 1e-9. On random campaigns.
 * Usage: test_same_answer [CAMPAIGNS [FIRST]] */
#include <inttypes.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/study/study.h"
#include "study/random_campaign.h"

enum { CAMPAIGNS = 500, FACTS = 600, NAME = 64, SHOWN = 5, BESIDE_EVERY = 10 };

static const double said_alike = 1e-9; /* loads and shares in another unit or at another scale */
static const double solved_alike =
    1e-6; /* ends of intervals that are searched for (open_compare.h settles to 1e-9 of a step) */

/* --- What an answer says --------------------------------------------------------------------------------- */

typedef enum fact_kind { FACT_LOAD, FACT_SHARE, FACT_SOLVED, FACT_WORD } fact_kind;

typedef struct fact {
    char name[NAME], word[NAME];
    fact_kind kind;
    double value;
} fact;

typedef struct answer {
    fact facts[FACTS];
    size_t count;
    bool read;
} answer;

static fact *next_fact(answer *a, fact_kind kind, const char *format, va_list names) {
    if (a->count == FACTS) {
        (void)fprintf(stderr, "more facts than there is room for\n");
        exit(2);
    }
    fact *out = &a->facts[a->count++];
    memset(out, 0, sizeof *out);
    out->kind = kind;
    (void)vsnprintf(out->name, NAME, format, names);
    return out;
}

static void add_number(answer *a, fact_kind kind, double value, const char *format, ...) {
    va_list names;
    va_start(names, format);
    next_fact(a, kind, format, names)->value = value;
    va_end(names);
}

static void add_word(answer *a, const char *word, const char *format, ...) {
    va_list names;
    va_start(names, format);
    (void)snprintf(next_fact(a, FACT_WORD, format, names)->word, NAME, "%s", word ? word : "-");
    va_end(names);
}

static void add_flag(answer *a, bool flag, const char *name, const char *of) {
    add_word(a, flag ? "yes" : "no", "%s %s", of, name);
}

/* --- Gathering it ------------------------------------------------------------------------------------------ */

static void say_cautions(answer *a, const hf_cautions *cautions, const char *of) {
    for (size_t i = 0; i < cautions->count; i++) {
        const char *code = hf_caution_row_of(cautions->items[i].code)->code;
        if (strncmp(code, "void", 4) != 0) add_word(a, code, "%s caution", of);
    }
}

static void say_event(answer *a, const hf_event_assessment *event, const char *of) {
    const hf_bound *governing = event->governing;
    add_word(a, governing && governing->family ? governing->family->name : NULL, "%s law", of);
    add_word(a, hf_governs_code(event->governing_reason), "%s reason", of);
    add_number(a, FACT_SHARE, (double)event->counts.used, "%s used", of);
    add_number(a, FACT_LOAD, event->mean_mid, "%s mean", of);
    add_number(a, FACT_LOAD, event->calibrated, "%s calibrated", of);
    for (size_t i = 0; i < event->bound_count; i++) {
        add_word(a, hf_bound_method_code(event->bounds[i].method), "%s bound %zu method", of, i);
        add_number(a, FACT_LOAD, event->bounds[i].value, "%s bound %zu", of, i);
    }
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) {
        add_word(a, hf_fit_stop_code(event->fits[i].stop), "%s fit %zu", of, i);
        add_number(a, FACT_SHARE, event->tests[i].significance, "%s significance %zu", of, i);
        add_flag(a, event->tests[i].rejected, "rejected", of);
    }
    add_word(a, event->outlier.available ? event->outlier_id : NULL, "%s outlier", of);
    add_flag(a, event->outlier.flagged, "outlier flagged", of);
    add_number(a, FACT_SHARE, event->batch.available ? event->batch.adk : NAN, "%s batches", of);
    add_flag(a, event->batch.differ, "batches differ", of);
    add_number(a, FACT_SHARE, event->trend.significance, "%s trend", of);
    add_number(a, FACT_LOAD, event->without_one, "%s without one record", of);
}

static const char *const mets[] = {HF_METS};

static void say_design(answer *a, const hf_design_assessment *design) {
    const char *of = design->design->id;
    say_event(a, &design->break_event, of);
    if (design->set_watched) {
        add_word(a, "set", "%s", of);
        say_event(a, &design->set_event, of);
    }
    add_number(a, FACT_LOAD, design->working_load_unrounded, "%s working load", of);
    add_number(a, FACT_LOAD, design->modes.available ? design->modes.result.bound : NAN, "%s by modes", of);
    add_word(a, hf_no_load_code(design->working_load_reason), "%s why none", of);
    add_word(a, hf_answer_verdict_code(design->answer.verdict), "%s verdict", of);
    add_word(a, mets[design->answer.required], "%s required", of);
    add_word(a, mets[design->answer.service], "%s service", of);
    say_cautions(a, &design->cautions, of);
}

static void say_pair(answer *a, const hf_comparison *comparison) {
    const hf_comparison_pair *p = &comparison->pairs[0];
    add_word(a, hf_comparison_method_code(p->method), "method");
    add_word(a, p->reason, "reason");
    add_word(a, hf_verdict_code(p->verdict), "verdict");
    add_number(a, FACT_SOLVED, p->p, "p");
    add_number(a, FACT_SOLVED, p->p_same, "p same");
    add_number(a, FACT_SOLVED, p->ratio, "ratio");
    add_number(a, FACT_SOLVED, p->low, "low");
    add_number(a, FACT_SOLVED, p->high, "high");
    add_number(a, FACT_SOLVED, p->smallest_visible_ratio, "smallest visible");
    add_number(a, FACT_SHARE, p->parts_to_settle, "parts to settle");
    add_number(a, FACT_SHARE, p->relabel.available ? p->relabel.p : NAN, "relabeling");
    add_number(a, FACT_SHARE, p->relabel.available ? p->relabel.p_floor : NAN, "relabeling floor");
    add_number(a, FACT_SHARE, p->outlasts_available ? p->outlasts.p : NAN, "outlasts");
    add_number(a, FACT_SOLVED, p->p_spread, "spread");
    add_number(a, FACT_SHARE, p->quantile_available ? p->quantile.p : NAN, "weak parts");
    say_cautions(a, &p->cautions, "pair");
}

/* What is asked of a campaign. */
typedef struct question {
    bool turned;      /* the second design is named first */
    bool beside;      /* with everything that stands beside the verdict */
    const char *only; /* one design, without the pair */
} question;

/* Of the designs, and of the pair. */
typedef struct answers {
    answer designs, pair;
} answers;

static void study(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                  const question *asked, answers *out) {
    const char *const straight[] = {"d0", "d1"}, *const turned[] = {"d1", "d0"}, *const one[] = {asked->only};
    const hf_study *found;
    hf_error error;
    hf_study_options options = {.what = HF_STUDY_PAIRS | (asked->beside ? (unsigned)HF_STUDY_BESIDE : 0),
                                .designs = asked->turned ? turned : straight,
                                .design_count = 2,
                                .same_within = 0.3,
                                .seed = 1};
    if (asked->only) {
        options.what = 0;
        options.designs = one;
        options.design_count = 1;
    }
    out->designs.read = hf_study_of(arena, campaign, findings, &options, &found, &error) == HF_OK;
    out->pair.read = out->designs.read && found->comparison && !asked->only;
    for (size_t i = 0; out->designs.read && i < found->assessment->count; i++)
        say_design(&out->designs, &found->assessment->designs[i]);
    if (!asked->only && out->designs.read) say_cautions(&out->designs, &found->assessment->cautions, "file");
    if (out->pair.read) say_pair(&out->pair, found->comparison);
}

static void ask(const hf_test_campaign *made, const hf_test_writing *how, const question *asked,
                answers *out) {
    hf_arena *arena = hf_arena_create();
    hf_text text = {0};
    hf_findings findings = {0};
    const hf_campaign *campaign;
    out->designs.count = out->pair.count = 0;
    out->designs.read = out->pair.read = false;
    hf_test_write(made, how, &text);
    if (hf_campaign_parse(arena, "random.json", text.bytes, text.length, &campaign, &findings) == HF_OK)
        study(arena, campaign, &findings, asked, out);
    else
        (void)fprintf(stderr, "a campaign that is none: %s\n",
                      findings.count ? findings.items[0].message : "?");
    hf_text_free(&text);
    hf_arena_free(arena);
}

/* --- Holding two against each other ------------------------------------------------------------------------ */

typedef struct rule {
    const char *name;
    bool bits;
    double scale; /* of the second answer's loads */
} rule;

typedef struct tally {
    size_t asked, differ, shown;
} tally;

static bool same_bits(double a, double b) {
    return (isnan(a) && isnan(b)) || a == b;
}

static bool same_number(const rule *by, fact_kind kind, double one, double other) {
    if (by->bits) return same_bits(one, other);
    if (kind == FACT_LOAD) other /= by->scale;
    double allowed = kind == FACT_SOLVED ? solved_alike : said_alike;
    return same_bits(one, other) || fabs(one - other) <= allowed * fmax(fabs(one), fabs(other));
}

static bool same_fact(const rule *by, const fact *one, const fact *other) {
    if (strcmp(one->name, other->name) != 0 || strcmp(one->word, other->word) != 0) return false;
    return one->kind == FACT_WORD || same_number(by, one->kind, one->value, other->value);
}

static void hold(const rule *by, uint64_t seed, const answer *one, const answer *other, tally *count) {
    size_t at = 0;
    count->asked++;
    if (!one->read || !other->read) {
        count->differ++;
        return;
    }
    while (at < one->count && at < other->count && same_fact(by, &one->facts[at], &other->facts[at])) at++;
    if (at == one->count && at == other->count) return;
    count->differ++;
    if (count->shown++ >= SHOWN) return;
    const fact none = {"nothing", "", FACT_WORD, NAN};
    const fact *x = at < one->count ? &one->facts[at] : &none,
               *y = at < other->count ? &other->facts[at] : &none;
    printf("%s, campaign %" PRIu64 ": %s %.17g %s, but %s %.17g %s\n", by->name, seed, x->name, x->value,
           x->word, y->name, y->value, y->word);
}

/* The answer of a pair from the other side; cautions name no side and stay. */
static void mirror(answer *a) {
    double *low = NULL, *high = NULL;
    for (size_t i = 0; i < a->count; i++) {
        fact *f = &a->facts[i];
        if (strcmp(f->word, "a_stronger") == 0)
            (void)snprintf(f->word, NAME, "b_stronger");
        else if (strcmp(f->word, "b_stronger") == 0)
            (void)snprintf(f->word, NAME, "a_stronger");
        if (strcmp(f->name, "ratio") == 0) f->value = 1 / f->value;
        if (strcmp(f->name, "low") == 0) low = &f->value;
        if (strcmp(f->name, "high") == 0) high = &f->value;
    }
    if (!low || !high) return;
    double kept = 1 / *low;
    *low = 1 / *high;
    *high = kept;
}

/* Only one side of a pair was worked out; the other is 1 over it, and 1 over that may miss the last bit. */
static void round_interval(answer *a) {
    for (size_t i = 0; i < a->count; i++) {
        fact *f = &a->facts[i];
        bool inverted =
            strcmp(f->name, "ratio") == 0 || strcmp(f->name, "low") == 0 || strcmp(f->name, "high") == 0;
        if (inverted) f->value = (double)(float)f->value;
    }
}

/* --- The properties ------------------------------------------------------------------------------------------ */

enum {
    ORDER,
    PAIR_ORDER,
    UNIT,
    PAIR_UNIT,
    SCALE,
    PAIR_SCALE,
    VOID_PART,
    PAIR_VOID,
    ALONE,
    TURNED,
    PROPERTIES
};

static const hf_test_writing as_made = {.scale = 1, .only = -1};

static double scale_of(uint64_t seed) {
    static const double scales[] = {2.5, 1.0 / 3, 1000, 0.7, 4.4482216152605, 7};
    return scales[seed % (sizeof scales / sizeof *scales)];
}

/* Both parts of two answers; the pair has the next row of the table. */
static void hold_both(const rule *by, uint64_t seed, const answers *one, const answers *other, tally *rows) {
    hold(by, seed, &one->designs, &other->designs, &rows[0]);
    hold(by, seed, &one->pair, &other->pair, &rows[1]);
}

static void check_writings(const hf_test_campaign *made, uint64_t seed, const question *asked,
                           const answers *first, tally *tallies) {
    static answers other;
    hf_test_writing how = as_made;
    how.shuffle = seed + 1;
    ask(made, &how, asked, &other);
    hold_both(&(rule){"another order", true, 1}, seed, first, &other, &tallies[ORDER]);
    how = as_made;
    how.smaller_unit = true;
    ask(made, &how, asked, &other);
    hold_both(&(rule){"another unit", false, 1}, seed, first, &other, &tallies[UNIT]);
    how = as_made;
    how.scale = scale_of(seed);
    ask(made, &how, asked, &other);
    hold_both(&(rule){"another scale", false, how.scale}, seed, first, &other, &tallies[SCALE]);
    how = as_made;
    how.more_void = true;
    ask(made, &how, asked, &other);
    hold_both(&(rule){"a void part more", true, 1}, seed, first, &other, &tallies[VOID_PART]);
}

static void check_alone(const hf_test_campaign *made, uint64_t seed, tally *tallies) {
    static answers among, alone;
    const question one = {.only = seed % 2 ? "d1" : "d0"};
    hf_test_writing how = as_made;
    ask(made, &how, &one, &among);
    how.only = (int)(seed % 2);
    ask(made, &how, &one, &alone);
    hold(&(rule){"alone in its file", true, 1}, seed, &among.designs, &alone.designs, &tallies[ALONE]);
}

static void check_turned(const hf_test_campaign *made, uint64_t seed, answers *first, tally *tallies) {
    static answers other;
    const question asked = {.turned = true, .beside = seed % BESIDE_EVERY == 0};
    hf_test_writing how = as_made;
    how.reversed = seed % 3 == 0;
    ask(made, &how, &asked, &other);
    mirror(&other.pair);
    round_interval(&first->pair);
    round_interval(&other.pair);
    hold(&(rule){"pair turned round", true, 1}, seed, &first->pair, &other.pair, &tallies[TURNED]);
}

static void check_campaign(uint64_t seed, tally *tallies) {
    static answers first;
    hf_test_campaign made = hf_test_campaign_of(seed);
    const question asked = {.beside = seed % BESIDE_EVERY == 0};
    ask(&made, &as_made, &asked, &first);
    check_writings(&made, seed, &asked, &first, tallies);
    check_alone(&made, seed, tallies);
    check_turned(&made, seed, &first, tallies);
}

int main(int argc, char **argv) {
    static const char *const names[PROPERTIES] = {
        [ORDER] = "another order",        [PAIR_ORDER] = "  its pair", [UNIT] = "another unit",
        [PAIR_UNIT] = "  its pair",       [SCALE] = "another scale",   [PAIR_SCALE] = "  its pair",
        [VOID_PART] = "a void part more", [PAIR_VOID] = "  its pair",  [ALONE] = "alone in its file",
        [TURNED] = "pair turned round"};
    tally tallies[PROPERTIES] = {{0}};
    uint64_t campaigns = argc > 1 ? strtoull(argv[1], NULL, 10) : CAMPAIGNS;
    uint64_t first = argc > 2 ? strtoull(argv[2], NULL, 10) : 0;
    size_t differ = 0;
    for (uint64_t seed = first; seed < first + campaigns; seed++) check_campaign(seed, tallies);
    for (size_t i = 0; i < PROPERTIES; i++) {
        printf("%-18s %4zu of %4zu differ\n", names[i], tallies[i].differ, tallies[i].asked);
        differ += tallies[i].differ;
    }
    return differ > 0;
}
