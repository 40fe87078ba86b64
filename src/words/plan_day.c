/* The designs of a file planned together: how many of each, on which ladder, how long, and what tells them apart. */
#include <math.h>
#include <string.h>
#include "words/json_fields.h"
#include "words/plan_report.h"

/* Safe to type as it stands. */
static bool is_one_word(const char *id) {
    return id[strspn(id, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.")] == '\0';
}

/* "4 h 40 min", up to the next five minutes. */
static const char *time_text(hf_document *d, double minutes) {
    int whole = (int)(5 * ceil(minutes / 5));
    const char *text = whole < 60 ? hf_arena_format(d->arena, "%d min", whole)
                                  : hf_arena_format(d->arena, "%d h %02d min", whole / 60, whole % 60);
    return text ? text : "";
}

/* "10 of ring, 9 of plate" of all that have a number. */
static void list_parts(const hf_plan_day *day, hf_text *out) {
    for (size_t i = 0; i < day->count; i++) {
        size_t parts = hf_plan_parts(day->plans[i], day);
        if (parts)
            hf_text_addf(out, "%s%zu of %s", out->length ? ", " : "", parts, day->plans[i]->setup.design);
    }
}

/* The same of what is recommended for the bounds alone. */
static const char *recommended_text(hf_document *d, const hf_plan_day *day) {
    const char *text = "";
    for (size_t i = 0; i < day->count && text; i++) {
        const hf_plan *plan = day->plans[i];
        text = hf_arena_format(d->arena, "%s%s%zu of %s", text, *text ? ", " : "",
                               plan->base.parts.recommended, plan->setup.design);
    }
    return text ? text : "";
}

static void say_number(hf_document *d, const hf_plan_day *day) {
    hf_text text = {0};
    const char *ladder = day->one_ladder ? " on one ladder" : "";
    list_parts(day, &text);
    const char *list = text.bytes ? text.bytes : "none";
    if (!day->parts)
        hf_document_addf(d, HF_BLOCK_ANSWER, "Not every design can be planned for%s: %s.", ladder, list);
    else if (isnan(day->minutes))
        hf_document_addf(d, HF_BLOCK_ANSWER, "Pull %zu parts: %s.", day->parts, list);
    else
        hf_document_addf(d, HF_BLOCK_ANSWER, "Pull %zu parts%s, about %s in all: %s.", day->parts, ladder,
                         time_text(d, day->minutes), list);
    hf_text_free(&text);
}

static void add_table(hf_document *d, const hf_plan_day *day) {
    static const char *const header[] = {"design",          ">parts",   ">expected bound",
                                         ">minutes a pull", ">minutes", NULL};
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < day->count; i++) {
        const hf_plan *plan = day->plans[i];
        size_t parts = hf_plan_parts(plan, day);
        const hf_how_many_row *row = hf_plan_row(plan, parts);
        double minutes = plan->stepped ? plan->ladder.minutes_per_pull : NAN;
        const char *number = parts ? hf_arena_format(d->arena, "%zu", parts) : "-";
        const char *cells[] = {
            plan->setup.design,
            number ? number : "-",
            row && isfinite(row->expected) ? hf_show_text(d, HF_AS_ROUGH, row->expected) : "-",
            isnan(minutes) ? "-" : hf_show_text(d, HF_AS_NUMBER_ROUGH, minutes),
            isnan(minutes) || !parts ? "-" : hf_show_text(d, HF_AS_NUMBER, minutes * (double)parts),
            NULL};
        hf_document_row(d, table, cells);
    }
}

/* What the numbers can see of a difference, and what a stated one needs. */
static void say_apart(hf_document *d, const hf_plan *plan) {
    const hf_plan_apart *apart = &plan->day.apart;
    const char *pairs = apart->pairs > 1 ? hf_arena_format(d->arena, " over %zu pairs", apart->pairs) : "";
    const char *test = hf_arena_format(
        d->arena, "chance %s, level %s%s, scatter %s", hf_show_text(d, HF_AS_SHARE_ROUGH, apart->power),
        hf_show_text(d, HF_AS_SHARE_ROUGH, apart->level * (double)apart->pairs), pairs ? pairs : "",
        hf_show_text(d, HF_AS_SHARE, apart->cv));
    if (apart->n)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "To notice that one is %s stronger than another takes %zu of each (%s); the working "
                         "loads alone: %s.",
                         hf_show_text(d, HF_AS_SHARE, plan->setup.tell_apart), apart->n, test ? test : "",
                         recommended_text(d, &plan->day));
    else if (plan->setup.tell_apart > 0)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "No number of parts notices a difference of %s.",
                         hf_show_text(d, HF_AS_SHARE, plan->setup.tell_apart));
    else if (!isnan(apart->visible))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "These notice that one is %s stronger than another (%s); for another difference: "
                         "--tell-apart 15%%.",
                         hf_show_text(d, HF_AS_SHARE_ROUGH, apart->visible - 1), test ? test : "");
}

/* What follows is about one design; the rest must not be taken for planned with the same numbers. */
static void say_which(hf_document *d, const hf_plan *plan) {
    const hf_campaign *campaign = plan->campaign;
    hf_text text = {0};
    for (size_t i = 0; i < campaign->design_count; i++) {
        const char *id = campaign->designs[i].id, *quote = is_one_word(id) ? "" : "\"";
        if (strcmp(id, plan->setup.design) != 0)
            hf_text_addf(&text, "%s--design %s%s%s", text.length ? ", " : "", quote, id, quote);
    }
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s of %s, the first design of the file. For %s: %s%s.",
                     plan->day.count > 1 ? "Below is the plan" : "This is the plan", plan->setup.design,
                     campaign->design_count > 2 ? "the others" : "the other", text.bytes ? text.bytes : "",
                     plan->day.one_ladder ? ", which plans it alone, on a ladder of its own" : "");
    hf_text_free(&text);
}

void hf_plan_say_day(hf_document *d, const hf_plan *plan) {
    if (!plan->campaign || plan->campaign->design_count < 2 || plan->setup.design_stated) return;
    if (plan->day.count > 1 && !plan->setup.pilot) {
        say_number(d, &plan->day);
        add_table(d, &plan->day);
        say_apart(d, plan);
    }
    for (size_t i = 0; i < plan->day.left_out_count; i++)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s is left out: %s.", plan->day.left_out[i].design,
                         plan->day.left_out[i].why);
    say_which(d, plan);
}

/* --- JSON -------------------------------------------------------------------------------------------- */

static const hf_plan *planned_at(const hf_place *p) {
    return p->item;
}

static hf_found parts_of(const hf_place *p) {
    return hf_found_count(hf_plan_parts(planned_at(p), &((const hf_plan *)p->outer->outer->item)->day));
}

static hf_found bound_of(const hf_place *p) {
    const hf_how_many_row *row = hf_plan_row(planned_at(p), parts_of(p).count);
    return hf_found_number(row ? row->expected : NAN, NULL);
}

static hf_found minutes_of(const hf_place *p) {
    const hf_plan *plan = planned_at(p);
    return hf_found_number(plan->stepped ? plan->ladder.minutes_per_pull : NAN, NULL);
}

#define OF hf_plan
static const hf_field design_fields[] = {
    HF_MAYBE(TEXT, "design", setup.design, "no_file"), HF_FOUND(COUNT, "parts", parts_of),
    HF_FOUND_OR(LOAD, "expected_bound", bound_of, "no_bound"),
    HF_FOUND_OR(NUMBER, "minutes_a_pull", minutes_of, "not_stepped"), HF_FIELDS_END};
#undef OF
static const hf_record design_record = {.name = "planned_design", .fields = design_fields};

static const void *next_design(const hf_place *p, size_t at) {
    const hf_plan_day *day = p->item;
    return at < day->count ? day->plans[at] : NULL;
}

#define OF hf_plan_apart
static const hf_field apart_fields[] = {HF_MEMBER(NUMBER, "cv", cv),
                                        HF_MEMBER(NUMBER, "step_in_sd", step_sd),
                                        HF_MEMBER(NUMBER, "level_of_a_pair", level),
                                        HF_MEMBER(NUMBER, "power", power),
                                        HF_MEMBER(COUNT, "pairs", pairs),
                                        HF_MEMBER(COUNT, "n", n),
                                        HF_MAYBE(NUMBER, "smallest_ratio", visible, "no_number"),
                                        HF_FIELDS_END};
#undef OF
static const hf_record apart_record = {.name = "tell_apart", .fields = apart_fields};

static const void *next_left_out(const hf_place *p, size_t at) {
    const hf_plan_day *day = p->item;
    return at < day->left_out_count ? &day->left_out[at] : NULL;
}

#define OF hf_plan_left_out
static const hf_field left_out_fields[] = {HF_MEMBER(TEXT, "design", design), HF_MEMBER(TEXT, "why", why),
                                           HF_FIELDS_END};
#undef OF
static const hf_record left_out_record = {.name = "left_out", .fields = left_out_fields};

#define OF hf_plan_day
static const hf_field day_fields[] = {HF_MEMBER(BOOL, "one_ladder", one_ladder),
                                      HF_MEMBER(COUNT, "parts", parts),
                                      HF_MAYBE(NUMBER, "minutes", minutes, "not_stepped"),
                                      HF_LIST("designs", next_design, &design_record),
                                      HF_LIST("left_out", next_left_out, &left_out_record),
                                      HF_OBJECT("tell_apart", apart, &apart_record),
                                      HF_FIELDS_END};
#undef OF
const hf_record hf_json_plan_day = {.name = "day", .fields = day_fields};
