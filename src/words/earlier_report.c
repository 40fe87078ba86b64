/* What earlier designs say about the scatter of the next one: design by design, then kind by kind. */
#include <math.h>
#include "words/assess_words.h"
#include "words/json_fields.h"

static const char *or_dash(const char *text) {
    return text ? text : "-";
}

static const char *kind_name(const char *name) {
    return name ? name : "no kind stated";
}

static const char *percent(hf_document *d, double share) {
    return isfinite(share) ? hf_show_text(d, HF_AS_SHARE, share) : "-";
}

/* --- Designs ------------------------------------------------------------------------------------------ */

static void add_design(hf_document *d, hf_block *table, const hf_earlier_design *one) {
    const char *const cells[] = {
        kind_name(one->design->kind),
        one->design->id,
        percent(d, one->s),
        isfinite(one->s)
            ? or_dash(hf_arena_format(d->arena, "%s – %s", hf_show_text(d, HF_AS_SHARE_ROUGH, one->low),
                                      hf_show_text(d, HF_AS_SHARE_ROUGH, one->high)))
            : "-",
        isfinite(one->s) ? hf_show_text(d, HF_AS_GIVEN, one->degrees_of_freedom) : "-",
        one->step > 0    ? hf_show_text(d, HF_AS_SHARE_ROUGH, one->step)
        : one->step == 0 ? "0"
                         : "-",
        one->batches ? or_dash(hf_arena_format(d->arena, "%zu", one->batches)) : "-",
        or_dash(hf_arena_format(d->arena, "%zu", one->file + 1)),
        NULL};
    hf_document_row(d, table, cells);
}

static void add_designs(hf_document *d, const hf_earlier *all) {
    static const char *const header[] = {
        "kind", "design", ">scatter", ">9 times in 10", ">degrees", ">step", ">batches", ">file", NULL};
    hf_document_add(d, HF_BLOCK_HEADING, "Each design");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < all->count; i++) add_design(d, table, &all->designs[i]);
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "Scatter: standard deviation of ln load, √(s² + h²/8) with steps h; near the standard "
        "deviation as a share of the mean. Nine times in ten the true one lies in the range beside it. "
        "Degrees: parts less one. Step: as a difference of ln load.");
    for (size_t i = 0; i < all->campaign_count; i++)
        hf_document_addf(d, HF_BLOCK_ITEM, "file %zu: %s%s%s, SHA-256 %.16s…", i + 1,
                         all->campaigns[i]->title, all->campaigns[i]->title[0] ? ", " : "",
                         all->campaigns[i]->file, all->campaigns[i]->sha256);
    for (size_t i = 0; i < all->count; i++)
        if (all->designs[i].lack != HF_EARLIER_NOTHING)
            hf_document_addf(d, HF_BLOCK_ITEM, "%s of file %zu is left out: %s.", all->designs[i].design->id,
                             all->designs[i].file + 1, hf_earlier_lack_words(all->designs[i].lack));
}

/* --- Kinds -------------------------------------------------------------------------------------------- */

/* How far the designs of a kind agree, and what that makes of them. */
static void say_alike(hf_document *d, const hf_earlier_kind *kind) {
    const char *name = kind_name(kind->name), *s = hf_show_text(d, HF_AS_SHARE, kind->pooled.s0),
               *worth = hf_show_text(d, HF_AS_NUMBER, kind->pooled.degrees);
    if (!kind->count) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s: no design shows its scatter.", name);
        return;
    }
    if (kind->count == 1) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "%s: one design with %s, worth %s degrees of freedom; whether others are like it "
                         "one alone cannot show.",
                         name, s, worth);
        return;
    }
    const hf_scatter_library *library = &kind->library;
    if (isinf(library->degrees_estimated))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "%s: %zu designs, together %s. They differ no more than chance makes them, and are "
                         "worth %s degrees of freedom, the most that so many can be.",
                         name, kind->count, s, worth);
    else if (!library->differ)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "%s: %zu designs, together %s. They differ a little more than chance makes them (%s "
                         "degrees by that), and are worth %s, the most that so many can be.",
                         name, kind->count, s, hf_show_text(d, HF_AS_NUMBER, library->degrees_estimated),
                         worth);
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "%s: %zu designs, together %s. They scatter DIFFERENTLY, more than chance explains, "
                         "and are worth %s degrees of freedom instead of up to %zu. Are they of one kind?",
                         name, kind->count, s, worth, kind->count);
}

static void add_kind(hf_document *d, const hf_earlier_kind *kind) {
    static const char *const header[] = {">parts",   ">k with them", ">of the mean",
                                         ">k alone", ">of the mean", NULL};
    say_alike(d, kind);
    if (!kind->count) return;
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < HF_EARLIER_SIZES; i++) {
        double with = kind->k[i], alone = kind->alone[i], s = kind->pooled.s0;
        const char *const cells[] = {or_dash(hf_arena_format(d->arena, "%zu", i + 1)),
                                     isfinite(with) ? hf_show_text(d, HF_AS_NUMBER, with) : "-",
                                     percent(d, exp(-with * s)),
                                     isfinite(alone) ? hf_show_text(d, HF_AS_NUMBER, alone) : "-",
                                     percent(d, exp(-alone * s)),
                                     NULL};
        hf_document_row(d, table, cells);
    }
}

static void scatter_document(const void *result, hf_document *d) {
    const hf_earlier *all = result;
    size_t counted = 0;
    for (size_t i = 0; i < all->kind_count; i++) counted += all->kinds[i].count;
    hf_document_add(d, HF_BLOCK_TITLE, "Scatter of earlier designs");
    if (!all->count) {
        hf_document_add(d, HF_BLOCK_ANSWER, "No part of these designs was pulled, so they show no scatter.");
        return;
    }
    hf_document_addf(d, HF_BLOCK_ANSWER, "%zu of %zu designs show their scatter, of %zu %s.", counted,
                     all->count, all->kind_count, all->kind_count == 1 ? "kind" : "kinds");
    add_designs(d, all);
    hf_document_addf(d, HF_BLOCK_HEADING, "What they bring: %s stronger, %s confidence",
                     hf_show_text(d, HF_AS_SHARE_STATED, all->content),
                     hf_show_text(d, HF_AS_SHARE_STATED, all->confidence));
    for (size_t i = 0; i < all->kind_count; i++) add_kind(d, &all->kinds[i]);
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "k: so many standard deviations of ln load below the geometric mean of the new parts lies "
        "the bound, and that as a share of it, where these scatter alike; alone: by the normal "
        "law of ln load, without earlier designs. Only the scatter carries over, never a mean.");
    hf_document_add(d, HF_BLOCK_PARAGRAPH,
                    "Whether they count is settled before the first pull: holdfast scatter --into NEW.json "
                    "--design ID FILE… writes them into the new design. Take all designs of the kind; "
                    "picking those that scatter little breaks the promise.");
}

/* --- In an assessment --------------------------------------------------------------------------------- */

void hf_earlier_table(hf_document *d, const hf_scatter *scatter) {
    static const char *const header[] = {"earlier design", ">scatter",    ">degrees",
                                         ">step",          ">of ln load", NULL};
    if (!scatter->past) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Earlier designs, whose scatter counts");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < scatter->past_count; i++) {
        const hf_past_design *past = &scatter->past[i];
        const char *const cells[] = {past->source,
                                     percent(d, past->cv),
                                     hf_show_text(d, HF_AS_GIVEN, past->degrees_of_freedom),
                                     past->step > 0 ? hf_show_text(d, HF_AS_SHARE_ROUGH, past->step) : "0",
                                     hf_show_text(d, HF_AS_TO_REDO, past->s),
                                     NULL};
        hf_document_row(d, table, cells);
    }
    if (scatter->past_count == 1)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "Of ln load: √(s² + h²/8), s that of the Weibull law with this scatter, h the step. It is "
            "worth 2 ÷ (2 ÷ degrees + 2.4 ÷ parts) = %s degrees of freedom.",
            hf_show_text(d, HF_AS_TO_REDO, scatter->pooled.degrees));
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Of ln load: √(s² + h²/8), s that of the Weibull law with this scatter, h the step. "
                         "Together %s: the root "
                         "of the mean of their squares, weighted by degrees. They %s, and so are worth %s "
                         "degrees of freedom.",
                         hf_show_text(d, HF_AS_TO_REDO, scatter->pooled.s0),
                         scatter->library.differ ? "differ more than chance explains"
                                                 : "differ hardly more than chance explains",
                         hf_show_text(d, HF_AS_TO_REDO, scatter->pooled.degrees));
}

/* --- JSON --------------------------------------------------------------------------------------------- */

#define OF hf_earlier_design
static const hf_earlier_design *design_of(const hf_place *p) {
    return p->item;
}

static hf_found of_design(const hf_place *p, double value) {
    return hf_found_number(design_of(p)->lack == HF_EARLIER_NOTHING ? value : NAN,
                           hf_earlier_lack_code(design_of(p)->lack));
}

static hf_found design_kind(const hf_place *p) {
    return hf_found_text(design_of(p)->design->kind, NULL);
}
static hf_found design_id(const hf_place *p) {
    return hf_found_text(design_of(p)->design->id, NULL);
}
static hf_found design_name(const hf_place *p) {
    return hf_found_text(design_of(p)->design->name, NULL);
}
static hf_found design_file(const hf_place *p) {
    return hf_found_text(design_of(p)->campaign->file, NULL);
}
static hf_found design_title(const hf_place *p) {
    return hf_found_text(design_of(p)->campaign->title, NULL);
}
static hf_found design_sha256(const hf_place *p) {
    return hf_found_text(design_of(p)->campaign->sha256, NULL);
}
static hf_found design_cv(const hf_place *p) {
    return of_design(p, design_of(p)->cv);
}
static hf_found design_step(const hf_place *p) {
    return of_design(p, design_of(p)->step);
}
static hf_found design_s(const hf_place *p) {
    return of_design(p, design_of(p)->s);
}
static hf_found design_degrees(const hf_place *p) {
    return of_design(p, design_of(p)->degrees_of_freedom);
}
static hf_found design_low(const hf_place *p) {
    return of_design(p, design_of(p)->low);
}
static hf_found design_high(const hf_place *p) {
    return of_design(p, design_of(p)->high);
}

static const hf_field design_fields[] = {HF_FOUND_OR(TEXT, "kind", design_kind, "not_stated"),
                                         HF_FOUND(TEXT, "id", design_id),
                                         HF_FOUND_OR(TEXT, "name", design_name, "not_stated"),
                                         HF_FOUND(TEXT, "file", design_file),
                                         HF_FOUND(TEXT, "title", design_title),
                                         HF_FOUND(TEXT, "sha256", design_sha256),
                                         HF_MEMBER(COUNT, "parts", parts),
                                         HF_MEMBER(COUNT, "batches", batches),
                                         HF_FOUND_OR(NUMBER, "cv", design_cv, NULL),
                                         HF_FOUND_OR(NUMBER, "degrees_of_freedom", design_degrees, NULL),
                                         HF_FOUND_OR(NUMBER, "step", design_step, NULL),
                                         HF_FOUND_OR(NUMBER, "s", design_s, NULL),
                                         HF_FOUND_OR(NUMBER, "low", design_low, NULL),
                                         HF_FOUND_OR(NUMBER, "high", design_high, NULL),
                                         HF_FIELDS_END};
#undef OF
static const hf_record design_record = {.name = "earlier_design", .fields = design_fields};

static const hf_earlier_kind *kind_around(const hf_place *p) {
    return p->outer->item;
}

static hf_found size_n(const hf_place *p) {
    return hf_found_count(p->at + 1);
}
static hf_found size_k(const hf_place *p) {
    return hf_found_number(kind_around(p)->k[p->at], NULL);
}
static hf_found size_alone(const hf_place *p) {
    return hf_found_number(kind_around(p)->alone[p->at], NULL);
}

static const hf_field size_fields[] = {HF_FOUND(COUNT, "n", size_n),
                                       HF_FOUND_OR(NUMBER, "k", size_k, "no_design"),
                                       HF_FOUND_OR(NUMBER, "k_alone", size_alone, "one_part"), HF_FIELDS_END};
static const hf_record size_record = {.name = "earlier_size", .fields = size_fields};

static const void *next_size(const hf_place *p, size_t at) {
    const hf_earlier_kind *kind = p->item;
    return at < HF_EARLIER_SIZES ? &kind->k[at] : NULL;
}

static hf_found pooled(const hf_place *p, double value) {
    return hf_found_number(((const hf_earlier_kind *)p->item)->pooled.degrees > 0 ? value : NAN, "no_design");
}
static hf_found kind_degrees(const hf_place *p) {
    return pooled(p, ((const hf_earlier_kind *)p->item)->pooled.degrees);
}
static hf_found kind_s(const hf_place *p) {
    return pooled(p, ((const hf_earlier_kind *)p->item)->pooled.s0);
}
static hf_found kind_estimated(const hf_place *p) {
    const hf_earlier_kind *kind = p->item;
    return hf_found_number(kind->count > 1 ? kind->library.degrees_estimated : NAN, NULL);
}
static hf_found kind_excess(const hf_place *p) {
    const hf_earlier_kind *kind = p->item;
    return hf_found_number(kind->count > 1 ? kind->library.excess : NAN, NULL);
}

#define OF hf_earlier_kind
static const hf_field kind_fields[] = {
    HF_MAYBE(TEXT, "kind", name, "not_stated"),
    HF_MEMBER(COUNT, "designs", count),
    HF_MEMBER(COUNT, "left_out", left_out),
    HF_FOUND_OR(NUMBER, "s", kind_s, NULL),
    HF_FOUND_OR(NUMBER, "degrees_of_freedom", kind_degrees, NULL),
    HF_FOUND_OR(NUMBER, "degrees_estimated", kind_estimated, "unlimited_or_one"),
    HF_FOUND_OR(NUMBER, "excess", kind_excess, "one_design"),
    HF_LIST("parts", next_size, &size_record),
    HF_FIELDS_END};
#undef OF
static const hf_record kind_record = {.name = "earlier_kind", .fields = kind_fields};

static const void *next_design(const hf_place *p, size_t at) {
    const hf_earlier *all = p->item;
    return at < all->count ? &all->designs[at] : NULL;
}

static const void *next_kind(const hf_place *p, size_t at) {
    const hf_earlier *all = p->item;
    return at < all->kind_count ? &all->kinds[at] : NULL;
}

#define OF hf_earlier
static const hf_field fields[] = {HF_MEMBER(NUMBER, "content", content),
                                  HF_MEMBER(NUMBER, "confidence", confidence),
                                  HF_LIST("designs", next_design, &design_record),
                                  HF_LIST("kinds", next_kind, &kind_record), HF_FIELDS_END};
#undef OF
static const hf_record scatter_json = {.name = "scatter", .fields = fields};

const hf_report_kind hf_report_scatter = {"scatter", scatter_document, &scatter_json};
