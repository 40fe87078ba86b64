/* What was pulled, in words, and the table of bounds. */
#include <math.h>
#include <string.h>
#include "holdfast/strength/sample.h"
#include "words/assess_words.h"

static const char *plural(size_t count, const char *one, const char *many) {
    return count == 1 ? one : many;
}

/* --- Counts ------------------------------------------------------------------------------------------ */

static const char *or_question(const char *text) {
    return text ? text : "?";
}

static bool is_set(const hf_design_assessment *a, const hf_event_assessment *e) {
    return e == &a->set_event;
}

/* Of pulls that reached the same load the one that held most. */
static const hf_pull *best_pull(const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_design *design = a->pulled && !is_set(a, e) ? a->pulled : a->design;
    const hf_pull *best = NULL;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_specimen *specimen = &design->specimens[i];
        const hf_pull *pull = is_set(a, e) ? &specimen->set : &specimen->pull;
        if (!hf_part_used(specimen) || pull->kind == HF_INTERVAL_NONE ||
            !hf_same_load(hf_pull_reached(pull), e->max_load))
            continue;
        if (!best || pull->kind == HF_INTERVAL_ABOVE ||
            (best->kind != HF_INTERVAL_ABOVE && pull->lower > best->lower))
            best = pull;
    }
    return best;
}

const char *hf_best_pull_words(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_pull *best = best_pull(a, e);
    bool set = is_set(a, e);
    if (!best) return NULL;
    const char *low = hf_seen_load(d, best->lower), *high = hf_seen_load(d, best->upper),
               *verb = set ? "moved" : "failed";
    switch (best->kind) {
    case HF_INTERVAL_NONE:
        break;
    case HF_INTERVAL_ABOVE:
        return hf_arena_format(d->arena, "held %s and did not %s", low, set ? "move" : "fail");
    case HF_INTERVAL_EXACT:
        return hf_arena_format(d->arena, "%s at %s", verb, high);
    case HF_INTERVAL_BELOW:
        return hf_arena_format(d->arena, "%s at %s, the first load stated", verb, high);
    case HF_INTERVAL_CLOSED:
        if (best->lower == best->upper) return hf_arena_format(d->arena, "%s at %s", verb, high);
        return best->stepped ? hf_arena_format(d->arena, "%s at %s after holding %s", verb, high, low)
                             : hf_arena_format(d->arena, "%s between %s and %s", verb, low, high);
    }
    return NULL;
}

/* A mean and a scatter of some of the parts are not those of all. */
static void left_out_words(hf_text *text, const hf_design_assessment *a, const hf_event_assessment *e) {
    size_t below = e->counts.below, held = e->counts.used - e->counts.failed;
    const char *what = is_set(a, e) ? "moved" : "failed";
    if (held && below)
        hf_text_addf(text, ", without the %zu that did not %s and the %zu that %s at the first load stated.",
                     held, is_set(a, e) ? "move" : "fail", below, what);
    else if (held)
        hf_text_addf(text, ", without the %zu that did not %s.", held, is_set(a, e) ? "move" : "fail");
    else if (below)
        hf_text_addf(text, ", without the %zu that %s at the first load stated.", below, what);
    else
        hf_text_add(text, ".");
}

static void spread_words(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const char *best = hf_best_pull_words(d, a, e);
    hf_text text = {0};
    if (!best) best = hf_seen_load(d, e->max_load);
    hf_text_addf(&text, "Best single pull: %s (never a rating).", best);
    if (isfinite(e->mean_mid))
        hf_text_addf(&text, " Mean of the %s %s", is_set(a, e) ? "first movements" : "failed parts",
                     hf_show_text(d, HF_AS_MEAN, e->mean_mid));
    if (isfinite(e->mean_mid) && isfinite(e->sd_mid))
        hf_text_addf(&text, ", standard deviation %s (%s of the mean)",
                     hf_show_text(d, HF_AS_MEAN, e->sd_mid), hf_show_text(d, HF_AS_SHARE, e->cv));
    if (isfinite(e->mean_mid)) left_out_words(&text, a, e);
    if (e->step_rms > 0) hf_text_addf(&text, " Step size %s.", hf_show_text(d, HF_AS_MEAN, e->step_rms));
    hf_document_add(d, HF_BLOCK_PARAGRAPH, text.bytes ? text.bytes : "");
    hf_text_free(&text);
}

static void untested_batches(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_batch_test *b = &e->batch;
    size_t without, batches = hf_batches_stated(a->design, &without);
    if (batches < 2 || !b->reason) return;
    const char *why = strcmp(b->reason, "open_observations") == 0 ? hf_open_words(&e->counts)
                      : strcmp(b->reason, "one_value") == 0       ? "all failures lie in one place"
                                                                  : "a batch has too few parts";
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%zu batches: whether they differ cannot be tested, %s.", batches,
                     why);
}

/* What is not told apart is counted all the same. */
static void counted_share(hf_document *d, const hf_event_assessment *e) {
    const hf_batch_bound *b = &e->batch_bound;
    if (!isfinite(b->value)) return;
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "Up to %s of the variance may lie between batches for all that so few show: the bound from "
        "their means, %s, counts it.",
        b->between_share == 1 ? "all" : hf_show_text(d, HF_AS_SHARE_ROUGH, b->between_share),
        hf_bound_load(d, b->value));
}

/* "none", "39 %" */
static const char *between_words(hf_document *d, const hf_batch_test *b) {
    const double least_said = 0.005;
    return !(b->between_share >= least_said) ? "none" : hf_show_text(d, HF_AS_SHARE_ROUGH, b->between_share);
}

/* Of batches so small that the k-sample test cannot speak, or that only F tells apart. */
static void one_way_words(hf_document *d, const hf_batch_test *b) {
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%zu batches: %s (one-way F of ln load %s, significance %s by the F law, %s by all ways of dealing "
        "the "
        "parts, never below %s)%s%s.",
        b->one_way.batches, b->one_way.differ ? "they differ" : "so few parts cannot tell them apart",
        isfinite(b->one_way.f) ? hf_show_text(d, HF_AS_NUMBER, b->one_way.f)
                               : "without end, no batch scatters",
        hf_show_text(d, HF_AS_NUMBER_ROUGH, b->one_way.by_law),
        hf_show_text(d, HF_AS_NUMBER_ROUGH, b->one_way.significance),
        hf_show_text(d, HF_AS_NUMBER_ROUGH, b->one_way.least), b->available ? "; " : "",
        b->available ? or_question(hf_arena_format(d->arena, "%s of the variance comes from changing batch",
                                                   between_words(d, b)))
                     : "");
}

static void batch_words(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_batch_test *b = &e->batch;
    const double least_to_speak = 0.05;
    bool k_sample = b->available && (b->differ || !b->one_way.available ||
                                     (!b->one_way.differ && b->one_way.least <= least_to_speak));
    if (k_sample)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "%zu batches: they %s (k-sample Anderson–Darling %s, critical %s); %s of the variance "
            "comes from changing batch.",
            b->batches, b->differ ? "differ" : "cannot be told apart", hf_show_text(d, HF_AS_NUMBER, b->adk),
            hf_show_text(d, HF_AS_NUMBER, b->critical), between_words(d, b));
    else if (b->one_way.available)
        one_way_words(d, b);
    else
        untested_batches(d, a, e);
}

static void trend_words(hf_document *d, const hf_event_assessment *e) {
    const hf_trend_test *t = &e->trend;
    if (!t->available) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "In the order of pulling they %s (slope of ln load, significance %s by %s).",
                     !t->trend      ? "show no trend"
                     : t->slope < 0 ? "get weaker"
                                    : "get stronger",
                     hf_show_text(d, HF_AS_NUMBER_ROUGH, t->significance),
                     t->exact ? "all orders" : "the law of the correlation");
}

static void add_count(hf_text *text, size_t count, const char *one, const char *many) {
    const char *last = text->length ? text->bytes + text->length - 1 : ":";
    if (count) hf_text_addf(text, "%s%zu %s", *last == ':' ? " " : ", ", count, plural(count, one, many));
}

void hf_counts_words(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_assess_counts *c = &e->counts;
    bool set = is_set(a, e);
    hf_text text = {0};
    if (e->of_fittings)
        hf_text_addf(&text, "%zu fittings used, each end for itself", c->used);
    else
        hf_text_addf(&text, "%zu %s %s", c->used, plural(c->used, "part", "parts"), set ? "watched" : "used");
    if (c->used && c->failed == c->used) {
        hf_text_addf(&text, "%s %s", c->used == 1 ? ", which" : ", all",
                     e->of_fittings ? "broke"
                     : set          ? "moved"
                                    : "failed");
    } else if (c->used) {
        hf_text_add(&text, ":");
        add_count(&text, c->failed,
                  e->of_fittings ? "broke"
                  : set          ? "moved"
                                 : "failed",
                  e->of_fittings ? "broke"
                  : set          ? "moved"
                                 : "failed");
        if (e->of_fittings || set)
            add_count(&text, c->run_out + c->rig, set ? "kept its shape" : "stayed whole",
                      set ? "kept their shape" : "stayed whole");
        else
            add_count(&text, c->run_out, "run-out", "run-outs");
        if (!e->of_fittings && !set) add_count(&text, c->rig, "rig failure", "rig failures");
    }
    if (c->voided + c->reused + c->planned) {
        hf_text_add(&text, "; not used:");
        add_count(&text, c->voided, "void", "void");
        add_count(&text, c->reused, "re-used", "re-used");
        add_count(&text, c->planned, "planned", "planned");
    }
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s.", text.bytes ? text.bytes : "?");
    hf_text_free(&text);
    if (c->used == 0) return;
    spread_words(d, a, e);
    batch_words(d, a, e);
    counted_share(d, e);
    trend_words(d, e);
}

/* --- Bounds ------------------------------------------------------------------------------------------ */

static const char *load_header(hf_document *d) {
    const char *text = hf_arena_format(d->arena, ">load, %s", d->style->unit->name);
    return text ? text : ">load";
}

static const char *method_words(hf_document *d, const hf_bound *b) {
    switch (b->method) {
    case HF_BOUND_FACTOR:
        return "factor";
    case HF_BOUND_CONDITIONAL:
        return "conditional on what was seen";
    case HF_BOUND_STATED_SCATTER:
        return b->scatter.degrees > 0
                   ? "earlier parts and these"
                   : or_question(hf_arena_format(d->arena, "%s law of this scatter", b->family->label));
    case HF_BOUND_ORDER_STATISTIC:
        return or_question(hf_arena_format(d->arena, "no. %zu from below of %zu loads", b->rank, b->n));
    case HF_BOUND_HANSON_KOOPMANS:
        return or_question(hf_arena_format(d->arena, "Hanson–Koopmans on the least, %s, and no. %zu, %s",
                                           hf_seen_load(d, b->lower_end), b->rank,
                                           hf_seen_load(d, b->upper_end)));
    case HF_BOUND_SURVIVORS:
        return or_question(hf_arena_format(d->arena, "all %zu held: content %s", b->n,
                                           hf_show_text(d, HF_AS_SHARE_KEPT, b->content)));
    case HF_BOUND_BATCH:
        return "from the means of the batches";
    case HF_BOUND_ONE_BATCH:
        return "one batch, the scatter between batches stated";
    case HF_BOUND_NONE:
        break;
    }
    return hf_bound_reason_text(b->reason);
}

static const char *row_name(hf_document *d, const hf_event_assessment *e, const hf_bound *bound,
                            size_t index) {
    static const char *const free_rows[] = {"no law: order", "no law: two values", "no law: all held"};
    const char *mark = bound == e->governing ? " *" : "";
    if (hf_bound_counts_batches(bound)) return or_question(hf_arena_format(d->arena, "batches%s", mark));
    if (!bound->family) {
        size_t row = index >= HF_FAMILY_COUNT && index - HF_FAMILY_COUNT < 3 ? index - HF_FAMILY_COUNT : 0;
        return or_question(hf_arena_format(d->arena, "%s%s", free_rows[row], mark));
    }
    return or_question(hf_arena_format(
        d->arena, "%s%s", index >= HF_FAMILY_COUNT ? "stated scatter" : bound->family->label, mark));
}

/* How the bound was found, and that its law is rejected. */
static const char *how_words(hf_document *d, const hf_event_assessment *e, const hf_bound *bound) {
    const char *how = method_words(d, bound);
    if (bound->method == HF_BOUND_STATED_SCATTER)
        return e->confrontation.contradicted ? or_question(hf_arena_format(d->arena, "%s; contradicted", how))
                                             : how;
    if (!bound->family || !hf_law_rejected(e, bound->family)) return how;
    return or_question(hf_arena_format(d->arena, "%s (law rejected)", how));
}

/* Why the bound with the star leads. */
static const char *governs_words(hf_document *d, const hf_event_assessment *e) {
    const char *rule = hf_family_governing(NULL)->label;
    switch (e->governing_reason) {
    case HF_GOVERNS_BATCH_LOWER:
        return "* governs: batches may differ by so much that the bound from their means is the lower one, "
               "and the "
               "next batch may be weaker than these. ";
    case HF_GOVERNS_BETWEEN_STATED:
        return "* governs: these parts are not known to be of two batches, and the scatter between batches "
               "that "
               "is stated counts. ";
    case HF_GOVERNS_WEIBULL_RULE:
        return hf_arena_format(
            d->arena,
            "* governs: the %s bound does, unless another law was stated before the pulls and they do not "
            "reject it. ",
            rule);
    case HF_GOVERNS_STATED:
        return "* governs: this law was stated. ";
    case HF_GOVERNS_STATED_SCATTER:
        return "* governs: a scatter stated for this kind of part does, unless the pulls contradict it. ";
    case HF_GOVERNS_OWN_SCATTER:
        return hf_arena_format(d->arena,
                               "* governs: the %s bound does, since so many parts tell more of their scatter "
                               "than the stated one. ",
                               rule);
    case HF_GOVERNS_ORDER_STATISTIC:
        return e->governing->value > 0
                   ? "* governs: no law gives a bound, but the number of parts alone does. "
                   : "* governs: no law gives a bound, and the number of parts alone gives none above 0. ";
    case HF_GOVERNS_STATED_REJECTED:
        return hf_arena_format(d->arena,
                               "* governs: the %s bound does, since the pulls reject the stated law. ", rule);
    case HF_GOVERNS_LAW_LOWER:
        return "* governs: the pulls reject this law, and the bound that needs none is no lower. ";
    case HF_GOVERNS_FREE_LOWER:
        return "* governs: the pulls reject the law, so the lower bound, which needs none, takes its place. ";
    case HF_GOVERNS_LAW_NOT_ASSURED:
        return "* would govern, but the pulls reject its law and are too few for a bound without one. ";
    case HF_GOVERNS_SCATTER_NOT_ASSURED:
        return "* would govern, but the pulls contradict the stated scatter and give no bound of their own. ";
    case HF_GOVERNS_NONE:
        break;
    }
    return "";
}

static void bounds_note(hf_document *d, const hf_event_assessment *e) {
    const char *why = governs_words(d, e);
    bool nothing = false;
    for (size_t i = 0; i < e->bound_count; i++) nothing = nothing || e->bounds[i].value <= 0;
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%sm is a load; s and h are loads for the %s law and differences of logarithms for the others. "
        "Every bound is rounded down%s.",
        why ? why : "", hf_laws_text(d, hf_law_of_load, "the "), nothing ? "; none: no bound above 0" : "");
}

void hf_bounds_table(hf_document *d, const hf_event_assessment *e) {
    const char *const header[] = {"bound", ">k", ">m", ">s", ">h", load_header(d), "how", NULL};
    if (!e->bound_count) return;
    hf_document_addf(d, HF_BLOCK_HEADING, "Bounds: at least %s of all parts stronger, %s confidence",
                     hf_show_text(d, HF_AS_SHARE_STATED, e->bounds[0].content),
                     hf_show_text(d, HF_AS_SHARE_STATED, e->bounds[0].confidence));
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < e->bound_count; i++) {
        const hf_bound *b = &e->bounds[i];
        bool logs = hf_bound_counts_batches(b) || (b->family && b->family->log_scale);
        const char *cells[] = {row_name(d, e, b, i),
                               hf_show_text(d, HF_AS_FACTOR, b->k),
                               hf_bare_text(d, HF_AS_MEAN, logs ? exp(b->m) : b->m),
                               logs ? hf_show_text(d, HF_AS_FACTOR, b->s) : hf_bare_text(d, HF_AS_MEAN, b->s),
                               logs ? hf_show_text(d, HF_AS_FACTOR, b->h) : hf_bare_text(d, HF_AS_MEAN, b->h),
                               b->value <= 0 ? "none" : hf_bound_cell(d, b->value),
                               how_words(d, e, b),
                               NULL};
        hf_document_row(d, table, cells);
    }
    bounds_note(d, e);
}
