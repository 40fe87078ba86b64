/* Sentences of the cautions: from the template of the row, or by a function here where no template will do. */
#include <math.h>
#include <string.h>
#include "words/json_report.h"
#include "words/words.h"

typedef struct speaker {
    const hf_caution *caution;
    const hf_caution_row *row;
    const hf_report_style *style;
    hf_text *out;
} speaker;

static const hf_show_as shown_as[] = {[HF_SLOT_LOAD_BOUND] = HF_AS_BOUND,
                                      [HF_SLOT_LOAD_RATING] = HF_AS_RATING,
                                      [HF_SLOT_LOAD_SEEN] = HF_AS_SEEN,
                                      [HF_SLOT_LOAD_STATED] = HF_AS_STATED,
                                      [HF_SLOT_LOAD_ROUGH] = HF_AS_ROUGH,
                                      [HF_SLOT_SHARE] = HF_AS_SHARE,
                                      [HF_SLOT_SHARE_ROUGH] = HF_AS_SHARE_ROUGH,
                                      [HF_SLOT_NUMBER] = HF_AS_NUMBER,
                                      [HF_SLOT_RATIO] = HF_AS_RATIO,
                                      [HF_SLOT_SIGNIFICANCE] = HF_AS_SIGNIFICANCE,
                                      [HF_SLOT_COUNT] = HF_AS_COUNT};

/* --- Values ------------------------------------------------------------------------------------------ */

/* Names in a template are ours: one that is no slot of its row is caught by tests/report/test_caution_list.c. */
static size_t slot_of(const speaker *s, const char *name, size_t length) {
    size_t i = 0;
    while (i < HF_CAUTION_SLOTS && s->row->slots[i].name &&
           !(strlen(s->row->slots[i].name) == length && memcmp(s->row->slots[i].name, name, length) == 0))
        i++;
    return i;
}

static void say(const speaker *s, const char *words) {
    hf_text_add(s->out, words);
}

/* A finding of the file closes with a stop, whatever it brought along. */
static void say_words(const speaker *s, const char *words) {
    size_t length = strlen(words);
    say(s, words);
    if (!length || !strchr(".?!", words[length - 1])) say(s, ".");
}

static void say_number(const speaker *s, hf_slot_type type, double value) {
    char shown[HF_SHOWN_SIZE];
    if (type == HF_SLOT_LOAD_BOUND && !(value > 0))
        say(s, "no load at all");
    else
        say(s, hf_show(s->style, shown_as[type], value, shown));
}

static void say_value(const speaker *s, size_t slot) {
    double number = NAN;
    const char *text = NULL;
    hf_slot_type type = slot < HF_CAUTION_SLOTS ? s->row->slots[slot].type : HF_SLOT_NAME;
    if (slot == HF_CAUTION_SLOTS || !hf_caution_value(s->caution, slot, &number, &text))
        say(s, "?");
    else if (type == HF_SLOT_WORDS)
        say_words(s, text);
    else if (type == HF_SLOT_NAME)
        say(s, text);
    else
        say_number(s, type, number);
}

/* --- Templates --------------------------------------------------------------------------------------- */

/* "{name}" or "{name|one|many}"; `from` is after the brace, `end` at the closing one. */
static void say_field(const speaker *s, const char *from, const char *end) {
    double number = NAN;
    const char *text, *one = memchr(from, '|', (size_t)(end - from));
    size_t slot = slot_of(s, from, (size_t)((one ? one : end) - from));
    if (!one) {
        say_value(s, slot);
        return;
    }
    const char *many = memchr(one + 1, '|', (size_t)(end - one - 1));
    (void)hf_caution_value(s->caution, slot, &number, &text);
    if (!many) many = end;
    if (number == 1)
        hf_text_add_bytes(s->out, one + 1, (size_t)(many - one - 1));
    else if (many < end)
        hf_text_add_bytes(s->out, many + 1, (size_t)(end - many - 1));
}

/* Whether every value in the clause is there, and none is a count of nothing. */
static bool clause_applies(const speaker *s, const char *from, const char *end) {
    for (const char *at = memchr(from, '{', (size_t)(end - from)); at;
         at = memchr(at, '{', (size_t)(end - at))) {
        double number = NAN;
        const char *text, *name = at + 1;
        size_t slot = slot_of(s, name, strcspn(name, "|}"));
        if (slot == HF_CAUTION_SLOTS || !hf_caution_value(s->caution, slot, &number, &text)) return false;
        if (s->row->slots[slot].type == HF_SLOT_COUNT && number == 0) return false;
        at = name;
    }
    return true;
}

static void say_template(const speaker *s, const char *from, const char *end) {
    while (from < end) {
        size_t plain = strcspn(from, "{[");
        if (plain > (size_t)(end - from)) plain = (size_t)(end - from);
        hf_text_add_bytes(s->out, from, plain);
        from += plain;
        if (from == end) return;
        const char *close = strchr(from, *from == '{' ? '}' : ']');
        if (*from == '{')
            say_field(s, from + 1, close);
        else if (clause_applies(s, from + 1, close))
            say_template(s, from + 1, close);
        from = close + 1;
    }
}

/* A sentence, or a part of one, that is not in the row. */
static void fill(const speaker *s, const char *words) {
    say_template(s, words, words + strlen(words));
}

/* --- Sentences that choose --------------------------------------------------------------------------- */

static double number(const speaker *s, int i) {
    return s->caution->number[i];
}

static void one_batch(const speaker *s) {
    double batches = number(s, 0), without = number(s, 1);
    if (batches == 0)
        say(s, "No batch is stated, so that nothing shows what changing batch does. State the batches.");
    else if (without > 0)
        fill(s,
             "One batch is stated, and {without} {without|part states|parts state} none. State the batches.");
    else
        say(s, "All parts are of one batch.");
    fill(s, " The next batch may be weaker: where a tenth, three tenths, half of the variance lies between "
            "batches, "
            "a 95 % bound from {parts} parts of one is right {tenth}, {third}, {half} of the time in the "
            "next. Pull "
            "some of a second and third.");
}

static void pair_of_parts(const speaker *s) {
    if (number(s, 2) > 0)
        fill(s, "Unfinished pulls leave no test on the means of the batches, so that each part counts for "
                "itself. What is found may be the batches' difference: ");
    else
        fill(s,
             s->caution->text[0]
                 ? "{design} is of one batch, or not every part of it states one, so that each part counts "
                   "for itself. What is found may be that batch's difference: "
                 : "Neither design states two batches, or not every part does, so that each part counts "
                   "for itself. What is found may be the batches' difference: ");
    fill(s, "where a quarter of the variance lies between batches, two equal designs of one batch of {parts} "
            "parts each are told apart in {told_apart} of all tests, not in 5 %");
    say(s,
        number(s, 2) > 0
            ? "; of several batches less often, but still too often. Pull on until every part breaks."
            : ". Pull parts of two batches or more of each, and state them: the verdict then goes by their "
              "means.");
}

/* "the bound would be 577.9 N", "there would be no bound above 0" */
static void would_be(const speaker *s) {
    fill(s, s->caution->code == HF_CAUTION_VOID_CHANGES ? "With the void pulls counted in, "
                                                        : "With the re-used parts counted in, ");
    fill(s, number(s, 0) > 0 ? "the bound would be {bound}." : "there would be no bound above 0.");
}

static void required_not_met(const speaker *s) {
    fill(s, "The required bound of {required} is NOT met");
    fill(s, number(s, 0) <= 0 ? ": there is no bound above 0 after the rig's load error"
                              : "[: the bound is {bound} after the rig's load error]");
    say(s, ". A better design or more parts raise it.");
}

static void modes_lower(const speaker *s) {
    say(s, "Where the ways of failing come in other shares than in these pulls, ");
    if (number(s, 0) > 0) say(s, "only ");
    fill(s, "{bound} can be counted on in place of {undivided}[, a working load of {working_load}]");
    if (s->caution->code == HF_CAUTION_MODES_NOT_COVERING)
        fill(s, "[, below the service load of {service_load}][, short of the required bound of {required}]");
    say(s, ". Pull more parts, until each way of failing has been seen often.");
}

static void wide_steps(const speaker *s) {
    fill(s, isfinite(number(s, 0))
                ? "{design} was pulled in steps {step_in_deviations} times as wide as its middles scatter. "
                : "All failures of {design} fell into one step. ");
    say(s, "The middle of so wide a step may be off by more than the interval allows for, however many parts "
           "there are. Use finer steps.");
}

static void scatter_apart(const speaker *s) {
    fill(s,
         isfinite(number(s, 0))
             ? "{design} scatters {times} times as much: an interval that claims 95 % then covers 90 to "
               "93 %. Compare the lower bounds, not only the means."
             : "{design} scatters[, while all pulls of {other} are alike]: no number says how many times as "
               "much, and the verdict leans on its scatter alone. Compare the lower bounds, not only the "
               "means.");
}

static void plan_luck(const speaker *s) {
    if (!(number(s, 1) > 0)) {
        say(s,
            "With so much scatter and so few parts no load can be promised: the expected bound is not above "
            "zero. Find out why the parts scatter, and state the bound you need (--require).");
        return;
    }
    fill(s,
         "With so much scatter the bound is mostly luck: one test in ten ends at {one_in_ten} or less, not "
         "half of the expected {expected}[. From {steady_from} {steady_from|part|parts} on it would be at "
         "least half]. Better still: find out why the parts scatter, and state the bound you need "
         "(--require).");
}

static void (*const functions[HF_CAUTION_COUNT])(const speaker *) = {
    [HF_CAUTION_ONE_BATCH] = one_batch,
    [HF_CAUTION_PAIR_OF_PARTS] = pair_of_parts,
    [HF_CAUTION_VOID_CHANGES] = would_be,
    [HF_CAUTION_REUSED_CHANGES] = would_be,
    [HF_CAUTION_REQUIRED_NOT_MET] = required_not_met,
    [HF_CAUTION_MODES_NOT_COVERING] = modes_lower,
    [HF_CAUTION_MODES_LOWER] = modes_lower,
    [HF_CAUTION_WIDE_STEPS] = wide_steps,
    [HF_CAUTION_SCATTER_APART] = scatter_apart,
    [HF_CAUTION_PLAN_LUCK] = plan_luck,
};

bool hf_caution_has_words(hf_caution_code code) {
    return (functions[code] != NULL) != (hf_caution_row_of(code)->sentence != NULL);
}

void hf_caution_say(const hf_caution *caution, const hf_report_style *style, hf_text *out) {
    const speaker s = {caution, hf_caution_row_of(caution->code), style, out};
    if (s.row->sentence)
        fill(&s, s.row->sentence);
    else
        functions[caution->code](&s);
}

/* --- In documents and JSON --------------------------------------------------------------------------- */

const char *hf_caution_names(hf_document *d, const hf_cautions *list) {
    const char *all = "";
    for (size_t i = 0; all && i < list->count; i++)
        all = hf_arena_format(d->arena, "%s%s%s", all, i ? "; " : "",
                              hf_caution_row_of(list->items[i].code)->title);
    return all ? all : "";
}

void hf_document_cautions(hf_document *d, const hf_cautions *list, const char *about) {
    for (size_t i = 0; i < list->count; i++) {
        hf_text words = {0};
        hf_caution_say(&list->items[i], d->style, &words);
        hf_document_addf(d, HF_BLOCK_ITEM, "%s%s%s: %s", about, about[0] ? ". " : "",
                         hf_caution_row_of(list->items[i].code)->title, words.bytes ? words.bytes : "");
        hf_text_free(&words);
    }
}

static void add_value(hf_result_writer *w, const hf_caution *caution, size_t slot) {
    const hf_caution_slot *kind = &hf_caution_row_of(caution->code)->slots[slot];
    double value = NAN;
    const char *text = NULL;
    (void)hf_caution_value(caution, slot, &value, &text);
    if (hf_slot_is_text(kind->type))
        hf_result_text(w, kind->name, text, "not_known");
    else if (hf_is_load(shown_as[kind->type]))
        hf_result_load(w, kind->name, value, "not_known");
    else
        hf_result_value(w, kind->name, value, "not_known");
}

void hf_result_cautions(hf_result_writer *w, const hf_cautions *list) {
    hf_json_open_array(&w->json, "cautions");
    for (size_t i = 0; i < list->count; i++) {
        const hf_caution_row *row = hf_caution_row_of(list->items[i].code);
        hf_text words = {0};
        hf_caution_say(&list->items[i], w->style, &words);
        hf_result_open(w, NULL);
        hf_json_add_text(&w->json, "code", row->code);
        hf_json_add_text(&w->json, "title", row->title);
        hf_json_add_text(&w->json, "rank", hf_caution_rank_name(row->rank));
        hf_json_add_text(&w->json, "text", words.bytes ? words.bytes : "");
        hf_result_open(w, "values");
        for (size_t slot = 0; slot < HF_CAUTION_SLOTS && row->slots[slot].name; slot++)
            add_value(w, &list->items[i], slot);
        hf_result_close(w);
        hf_result_close(w);
        hf_text_free(&words);
    }
    hf_json_close(&w->json, true);
}
