/* The short results: one factor, and the echo of a campaign's pulls. */
#include <math.h>
#include <string.h>
#include "words/assess_words.h"
#include "words/json_fields.h"

static void factor_document(const void *result, hf_document *d) {
    const hf_factor_result *r = result;
    if (!isfinite(r->k)) {
        hf_document_addf(d, HF_BLOCK_ANSWER, "%s: no factor for %zu parts, content %s, confidence %s.",
                         r->family->label, r->n, hf_show_text(d, HF_AS_SHARE_STATED, r->content),
                         hf_show_text(d, HF_AS_SHARE_STATED, r->confidence));
        return;
    }
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s: k = %s", r->family->label,
                     hf_show_text(d, HF_AS_FACTOR_WHOLE, r->k));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "for %zu parts, so that at least %s of all parts are stronger with %s confidence%s.",
                     r->n, hf_show_text(d, HF_AS_SHARE_STATED, r->content),
                     hf_show_text(d, HF_AS_SHARE_STATED, r->confidence),
                     r->standard_error > 0 ? "" : "; exact");
    if (r->standard_error > 0)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Standard error %s, from simulation.",
                         hf_show_text(d, HF_AS_NUMBER_ROUGH, r->standard_error));
    double allowance = hf_bound_allowance(r->family, r->content, r->k), divisor = hf_sum_divisor(allowance);
    const char *step =
        divisor > 0 ? hf_arena_format(d->arena, "h²/%.0f", divisor)
                    : hf_arena_format(d->arena, "%s × h²", hf_show_text(d, HF_AS_FACTOR_WHOLE, allowance));
    hf_document_addf(d, HF_BLOCK_SUM,
                     r->family->log_scale ? "bound = e^(m − %s × √(s² + %s))" : "bound = m − %s × √(s² + %s)",
                     hf_show_text(d, HF_AS_FACTOR_WHOLE, r->k), step ? step : "-");
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        r->family->has_shape ? "m = ln of the fitted scale, s = 1 over the fitted shape, h = step size as a "
                               "difference of logarithms."
        : r->family->log_scale
            ? "m, s = mean and standard deviation of ln load, h = step size as a difference of logarithms."
            : "m, s = mean and standard deviation of the middles, h = step size.");
}

static const char *interval(hf_document *d, const hf_pull *pull) {
    const char *low = hf_seen_bare(d, pull->lower), *high = hf_seen_bare(d, pull->upper), *text = "-";
    switch (pull->kind) {
    case HF_INTERVAL_NONE:
        return "-";
    case HF_INTERVAL_EXACT:
        return low;
    case HF_INTERVAL_CLOSED:
        text = hf_arena_format(d->arena, "(%s, %s]", low, high);
        break;
    case HF_INTERVAL_BELOW:
        text = pull->lower > 0 ? hf_arena_format(d->arena, "(%s, %s] first", low, high)
                               : hf_arena_format(d->arena, "≤ %s", high);
        break;
    case HF_INTERVAL_ABOVE:
        text = hf_arena_format(d->arena, "> %s", low);
        break;
    }
    return text ? text : "-";
}

static const char *outcome_word(hf_outcome outcome) {
    static const char *const words[] = {"failed", "held (run-out)", "rig failure", "void", "planned"};
    return words[outcome];
}

static bool any_set(const hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            if (campaign->designs[i].specimens[j].set.kind != HF_INTERVAL_NONE) return true;
    return false;
}

static bool any_mode(const hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const char *mode = campaign->designs[i].specimens[j].mode;
            if (mode && mode[0]) return true;
        }
    return false;
}

/* First sets and modes have a column where there are any. */
static void add_pulls(hf_document *d, const hf_campaign *campaign) {
    const char *header[7] = {"design", "part", ">force on the part"};
    bool set = any_set(campaign), mode = any_mode(campaign);
    size_t columns = 3;
    if (set) header[columns++] = ">first set";
    header[columns++] = "outcome";
    if (mode) header[columns++] = "way of failing";
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *s = &campaign->designs[i].specimens[j];
            const char *cells[7] = {campaign->designs[i].id, s->id, interval(d, &s->pull)};
            size_t at = 3;
            if (set) cells[at++] = interval(d, &s->set);
            cells[at++] = outcome_word(s->outcome);
            if (mode) cells[at] = s->mode;
            hf_document_row(d, table, cells);
        }
}

static const char *plural(size_t count, const char *one, const char *many) {
    return count == 1 ? one : many;
}

static size_t count_parts(const hf_campaign *campaign, bool planned_only) {
    size_t count = 0;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++)
            count += !planned_only || campaign->designs[i].specimens[j].outcome == HF_OUTCOME_PLANNED;
    return count;
}

static void check_answer(const hf_check_result *check, hf_document *d) {
    const hf_campaign *campaign = check->campaign;
    size_t parts = count_parts(campaign, false), planned = count_parts(campaign, true);
    size_t warnings = check->findings->count - check->findings->errors;
    const char *counts = hf_arena_format(
        d->arena, "%zu %s, %zu %s%s, %zu %s", campaign->design_count,
        plural(campaign->design_count, "design", "designs"), parts, plural(parts, "part", "parts"),
        planned ? hf_arena_format(d->arena, " (%zu still to pull)", planned) : "", warnings,
        plural(warnings, "warning", "warnings"));
    if (!check->written) {
        hf_document_addf(d, HF_BLOCK_ANSWER, "The file is valid: %s.", counts);
        return;
    }
    size_t written = count_parts(check->written, false);
    hf_document_addf(d, HF_BLOCK_ANSWER, "%zu %s written; the file is valid and holds %s.", written,
                     plural(written, "part", "parts"), counts);
}

static void add_changes(hf_document *d, const hf_check_result *check) {
    for (size_t i = 0; i < check->change_count; i++) {
        const hf_field_change *change = &check->changes[i];
        bool was_planned =
            strcmp(change->key, "outcome") == 0 && change->was && strcmp(change->was, "planned") == 0;
        if (!change->was || was_planned) continue;
        hf_document_addf(d, HF_BLOCK_ITEM, "%s %s was %s, now %s", change->part, change->key, change->was,
                         change->now ? change->now : "not stated");
    }
}

static void check_document(const void *result, hf_document *d) {
    const hf_check_result *check = result;
    const hf_campaign *campaign = check->campaign;
    const hf_findings *findings = check->fresh ? check->fresh : check->findings;
    hf_document_addf(d, HF_BLOCK_TITLE, "%s", campaign->title[0] ? campaign->title : campaign->file);
    check_answer(check, d);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Forces on the part in %s, at %s m/s²: (held at, failed at]; ≤ only known to be weaker; "
                     "> held and did not fail.",
                     d->style->unit->name, hf_show_text(d, HF_AS_GIVEN, d->style->gravity));
    add_pulls(d, check->written ? check->written : campaign);
    add_changes(d, check);
    if (findings->count == findings->errors) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Warnings");
    for (size_t i = 0; i < findings->count; i++)
        if (findings->items[i].severity == HF_SEVERITY_WARNING)
            hf_document_addf(d, HF_BLOCK_ITEM, "line %zu: %s", findings->items[i].line,
                             findings->items[i].message);
}

static hf_found factor_family(const hf_place *p) {
    return hf_found_text(((const hf_factor_result *)p->item)->family->name, NULL);
}

#define OF hf_factor_result
static const hf_field factor_fields[] = {HF_FOUND(TEXT, "family", factor_family),
                                         HF_MEMBER(COUNT, "n", n),
                                         HF_MEMBER(NUMBER, "content", content),
                                         HF_MEMBER(NUMBER, "confidence", confidence),
                                         HF_MAYBE(NUMBER, "k", k, "not_computed"),
                                         HF_MAYBE(NUMBER, "standard_error", standard_error, "not_computed"),
                                         HF_FIELDS_END};
#undef OF
static const hf_record factor_record = {.name = "factor", .fields = factor_fields};

/* --- JSON of the echo -------------------------------------------------------------------------------- */

static const char *const kinds[] = {"none", "exact", "closed", "below", "above", NULL};
static const char *const outcomes[] = {"failed", "held", "rig", "void", "planned", NULL};

static bool is_known(const hf_place *p) {
    return ((const hf_pull *)p->item)->kind != HF_INTERVAL_NONE;
}

#define OF hf_pull
static const hf_field force_fields[] = {
    HF_WORD("kind", kind, kinds),
    {.key = "lower", .kind = HF_FIELD_LOAD, HF_AT(lower), .nullable = true, .given = is_known},
    {.key = "upper",
     .kind = HF_FIELD_LOAD,
     HF_AT(upper),
     .nullable = true,
     .reason = "open",
     .given = is_known},
    {.key = "dropped", .kind = HF_FIELD_BOOL, HF_AT(dropped), .given = is_known},
    HF_FIELDS_END};
#undef OF
static const hf_record force_record = {.name = "force", .fields = force_fields};

static bool is_set_watched(const hf_place *p) {
    return ((const hf_specimen *)p->item)->set.kind != HF_INTERVAL_NONE;
}

#define OF hf_specimen
static const hf_field pull_fields[] = {
    HF_MEMBER(TEXT, "id", id),
    HF_WORD("outcome", outcome, outcomes),
    HF_INLINE(pull, &force_record),
    {.key = "set", .kind = HF_FIELD_OBJECT, HF_AT(set), .record = &force_record, .given = is_set_watched},
    HF_MAYBE(TEXT, "batch", batch, "not_stated"),
    HF_MAYBE(TEXT, "mode", mode, "not_stated"),
    HF_MEMBER(BOOL, "reused", reused),
    HF_FIELDS_END};
#undef OF
static const hf_record pull_record = {.name = "pull", .fields = pull_fields};

static const void *next_pull(const hf_place *p, size_t at) {
    const hf_design *design = p->item;
    return at < design->specimen_count ? &design->specimens[at] : NULL;
}

#define OF hf_design
static const hf_field design_fields[] = {HF_MEMBER(TEXT, "id", id), HF_LIST("pulls", next_pull, &pull_record),
                                         HF_FIELDS_END};
#undef OF
static const hf_record design_record = {.name = "checked_design", .fields = design_fields};

#define OF hf_finding
static const hf_field warning_fields[] = {
    HF_MEMBER(TEXT, "code", code),  HF_MEMBER(TEXT, "text", message),   HF_MEMBER(TEXT, "path", path),
    HF_MEMBER(COUNT, "line", line), HF_MEMBER(COUNT, "column", column), HF_FIELDS_END};
#undef OF
static const hf_record warning_record = {.name = "warning", .fields = warning_fields};

static const hf_campaign *shown_of(const hf_place *p) {
    const hf_check_result *check = p->item;
    return check->written ? check->written : check->campaign;
}

static hf_found check_file(const hf_place *p) {
    return hf_found_item(shown_of(p));
}

static const void *next_design(const hf_place *p, size_t at) {
    return at < shown_of(p)->design_count ? &shown_of(p)->designs[at] : NULL;
}

static const void *next_warning(const hf_place *p, size_t at) {
    const hf_check_result *check = p->item;
    const hf_findings *findings = check->fresh ? check->fresh : check->findings;
    return at < findings->count ? &findings->items[at] : NULL;
}

#define OF hf_field_change
static const hf_field change_fields[] = {HF_MEMBER(TEXT, "part", part), HF_MEMBER(TEXT, "key", key),
                                         HF_MAYBE(TEXT, "was", was, "not_stated"),
                                         HF_MAYBE(TEXT, "now", now, "not_stated"), HF_FIELDS_END};
#undef OF
static const hf_record change_record = {.name = "field_change", .fields = change_fields};

static const void *next_change(const hf_place *p, size_t at) {
    const hf_check_result *check = p->item;
    return at < check->change_count ? &check->changes[at] : NULL;
}

static bool is_written(const hf_place *p) {
    return ((const hf_check_result *)p->item)->written != NULL;
}

static const hf_field check_fields[] = {HF_FILE(check_file),
                                        HF_LIST("designs", next_design, &design_record),
                                        {.key = "changes",
                                         .kind = HF_FIELD_ARRAY,
                                         .next = next_change,
                                         .record = &change_record,
                                         .given = is_written},
                                        HF_LIST("warnings", next_warning, &warning_record),
                                        HF_FIELDS_END};
static const hf_record check_record = {.name = "check", .fields = check_fields};

const hf_report_kind hf_report_factor = {"factor", factor_document, &factor_record};
const hf_report_kind hf_report_check = {"check", check_document, &check_record};

/* --- Questions before a pull is written -------------------------------------------------------------- */

static void questions_document(const void *result, hf_document *d) {
    const hf_questions_result *questions = result;
    for (size_t i = 0; i < questions->count; i++)
        hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s", questions->doubts[i].part, questions->doubts[i].words);
}

static const void *next_doubt(const hf_place *p, size_t at) {
    const hf_questions_result *questions = p->item;
    return at < questions->count ? &questions->doubts[at] : NULL;
}

static const hf_field questions_fields[] = {HF_LIST("questions", next_doubt, &hf_json_doubt), HF_FIELDS_END};
static const hf_record questions_record = {.name = "questions", .fields = questions_fields};
const hf_report_kind hf_report_questions = {"questions", questions_document, &questions_record};
