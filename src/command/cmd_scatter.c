#include "command/commands.h"
#include "command/common.h"

#include <math.h>
#include <string.h>
#include "holdfast/base/json.h"
#include "holdfast/base/number.h"
#include "holdfast/campaign/set.h"
#include "holdfast/campaign/used.h"
#include "holdfast/study/earlier.h"

typedef struct scatter_options {
    hf_option_value into, design, kind;
    hf_promise_values promise;
    hf_format_values format;
    hf_output_values output;
    hf_help_values help;
} scatter_options;

enum { FIGURES = 6 };

/* --- Into a new design -------------------------------------------------------------------------------- */

typedef struct into_work {
    hf_request *request;
    const hf_earlier *earlier;
    size_t taken; /* designs */
    const char *kind;
    hf_findings refused;
} into_work;

/* The kind whose designs are taken: as asked, else the new design's own, else the only one there is. */
static hf_status find_kind(into_work *work, const hf_design *design, hf_error *error) {
    const scatter_options *options = work->request->options;
    const hf_earlier *earlier = work->earlier;
    work->kind = options->kind.given ? options->kind.text : design->kind;
    if (!work->kind && earlier->kind_count > 1)
        return hf_error_set(
            error, HF_USAGE,
            "the files hold %zu kinds and design \"%.60s\" states none, expected --kind KIND, "
            "or the key \"kind\" of the design",
            earlier->kind_count, design->id);
    if (!work->kind && earlier->kind_count) work->kind = earlier->kinds[0].name;
    if (!hf_earlier_kind_of(earlier, work->kind) || !hf_earlier_kind_of(earlier, work->kind)->count)
        return hf_error_set(error, HF_USAGE,
                            "no design of kind \"%.60s\" shows its scatter in these files; holdfast set FILE "
                            "--design ID kind NAME says of what kind a design is",
                            work->kind ? work->kind : "none stated");
    return HF_OK;
}

static void add_entry(hf_request *request, const hf_earlier_design *one, bool first, hf_text *out) {
    char number[HF_NUMBER_SIZE];
    const char *title = one->campaign->title;
    const char *source = hf_arena_format(request->arena, "%s%s%s, design %s, %zu parts, SHA-256 %.16s", title,
                                         title[0] ? ", " : "", one->campaign->file, one->design->id,
                                         one->parts, one->campaign->sha256);
    hf_text_add(out, first ? " { \"source\": " : ", { \"source\": ");
    hf_json_quote(out, source ? source : "");
    hf_text_addf(out, ", \"cv\": %s", hf_number_shortest(hf_number_round(one->cv, FIGURES), number));
    hf_text_addf(out, ", \"degrees_of_freedom\": %s", hf_number_shortest(one->degrees_of_freedom, number));
    if (one->step > 0)
        hf_text_addf(out, ", \"step\": %s", hf_number_shortest(hf_number_round(one->step, FIGURES), number));
    hf_text_add(out, " }");
}

/* The design itself is no earlier one. */
static bool is_taken(const into_work *work, const hf_earlier_design *one, const hf_campaign *now,
                     const char *id) {
    const char *kind = one->design->kind;
    bool same_kind = kind && work->kind ? strcmp(kind, work->kind) == 0 : kind == work->kind;
    bool itself = strcmp(one->campaign->sha256, now->sha256) == 0 && strcmp(one->design->id, id) == 0;
    return same_kind && !itself && one->lack == HF_EARLIER_NOTHING;
}

static size_t count_used(const hf_design *design) {
    size_t used = 0;
    for (size_t i = 0; i < design->specimen_count; i++) used += hf_part_used(&design->specimens[i]);
    return used;
}

static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    into_work *work = context;
    hf_request *request = work->request;
    const scatter_options *options = request->options;
    const hf_design *design = hf_campaign_find_design(now, options->design.text, error);
    hf_text past = {0};
    if (!design) return error->status;
    size_t used = count_used(design);
    if (used)
        return hf_error_set(error, HF_USAGE,
                            "design \"%.60s\" has %zu pull%s already: earlier designs are taken before the "
                            "first, never once one has seen what they would bring",
                            design->id, used, used == 1 ? "" : "s");
    if (design->scatter.given && !design->scatter.past)
        return hf_error_set(error, HF_USAGE,
                            "design \"%.60s\" states a scatter already, expected none: holdfast set %s "
                            "--design %s --clear scatter.cv scatter.degrees_of_freedom scatter.source",
                            design->id, options->into.text, design->id);
    hf_status status = find_kind(work, design, error);
    if (status != HF_OK) return status;
    work->taken = 0;
    hf_text_add(&past, "[");
    for (size_t i = 0; i < work->earlier->count; i++)
        if (is_taken(work, &work->earlier->designs[i], now, design->id))
            add_entry(request, &work->earlier->designs[i], work->taken++ == 0, &past);
    hf_text_add(&past, " ]");
    const char *value = past.failed ? NULL : hf_arena_text(request->arena, past.bytes, past.length);
    hf_text_free(&past);
    if (!value) return hf_error_set(error, HF_MEMORY, "out of memory");
    const hf_setting settings[] = {{"scatter.past", value}, {"kind", work->kind}};
    const bool names_kind = work->kind && !design->kind;
    return hf_campaign_set(request->arena, now, &(hf_settings){design->id, settings, names_kind ? 2 : 1},
                           text, &work->refused, error);
}

static hf_exit put_into(hf_request *request, const hf_earlier *earlier) {
    const scatter_options *options = request->options;
    const char *path = options->into.text;
    into_work work = {.request = request, .earlier = earlier};
    if (!options->design.given)
        hf_error_set(&request->error, HF_USAGE, "--into %s: expected the new design with it: --design ID",
                     path);
    else if (strcmp(path, "-") == 0)
        hf_error_set(&request->error, HF_USAGE, "--into -: expected a file, it is changed in place");
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_campaign_change change = hf_request_change(request, path, edit, &work);
    request->error.status = hf_campaign_change_make(request->arena, &change, &request->error);
    if (request->error.status != HF_OK && change.findings.errors)
        return hf_findings_print(request, &change.findings, path);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_request_note_names(request, path, change.names);
    hf_say("%s: design %s counts on the scatter of %zu earlier design%s%s%s\n", path, options->design.text,
           work.taken, work.taken == 1 ? "" : "s", work.kind ? " of kind " : "", work.kind ? work.kind : "");
    hf_say("next: what that brings   holdfast plan %s --design %s\n", path, options->design.text);
    return HF_EXIT_DONE;
}

/* ------------------------------------------------------------------------------------------------------- */

static hf_exit read_all(hf_request *request, const hf_campaign **campaigns) {
    for (size_t i = 0; i < request->argument_count; i++) {
        hf_findings findings = {0};
        hf_exit code = hf_request_campaign(request, request->arguments[i], &campaigns[i], &findings);
        if (code != HF_EXIT_DONE) return code;
    }
    return HF_EXIT_DONE;
}

static hf_exit run(hf_request *request) {
    const scatter_options *options = request->options;
    const hf_report_format *format;
    const hf_earlier *earlier;
    double content, confidence;
    const hf_campaign **campaigns =
        HF_ARENA_NEW_ARRAY(request->arena, const hf_campaign *, request->argument_count);
    if (!campaigns) hf_error_set(&request->error, HF_MEMORY, "out of memory");
    if (!options->into.given && (options->design.given || options->kind.given))
        hf_error_set(&request->error, HF_USAGE,
                     "--design and --kind say what is written, expected --into FILE "
                     "with them");
    if (request->error.status != HF_OK ||
        hf_format_read(&options->format, &format, &request->error) != HF_OK ||
        hf_promise_read(&options->promise, &content, &confidence, &request->error) != HF_OK)
        return hf_request_fail(request);
    hf_exit code = read_all(request, campaigns);
    if (code != HF_EXIT_DONE) return code;
    if (hf_earlier_of(request->arena, campaigns, request->argument_count,
                      content > 0 ? content : HF_USUAL_CONTENT,
                      confidence > 0 ? confidence : HF_USUAL_CONFIDENCE, &earlier, &request->error) != HF_OK)
        return hf_request_fail(request);
    if (options->into.given) return put_into(request, earlier);
    hf_report_style style = hf_request_style(request, NULL);
    hf_text text = {0};
    hf_report_print(&hf_report_scatter, earlier, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .many = true, .help = "campaign files of earlier designs"},
    {.name = NULL}};

#define OWN(field) .offset = offsetof(scatter_options, field)
static const hf_option own_rows[] = {
    {.name = "into",
     .type = HF_OPTION_TEXT,
     .value_name = "NEW",
     .help =
         "write them into a design of this campaign file, which is changed in place; before its first pull",
     OWN(into)},
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "the design that counts on them, with --into",
     OWN(design)},
    {.name = "kind",
     .type = HF_OPTION_TEXT,
     .value_name = "KIND",
     .help = "take the designs of this kind, with --into; that of the new design when not given",
     OWN(kind)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_promise_rows, offsetof(scatter_options, promise)},
                                         {hf_format_rows, offsetof(scatter_options, format)},
                                         {hf_output_rows, offsetof(scatter_options, output)},
                                         {hf_help_rows, offsetof(scatter_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast scatter sail.json spring.json autumn.json",
     "how the designs of each kind scattered, and what that is worth for the next one"},
    {"holdfast scatter --into next.json --design ring sail.json spring.json autumn.json",
     "let the new ring count on it, before its first pull"},
    {NULL, NULL}};

const hf_command hf_command_scatter = {
    .name = "scatter",
    .summary = "show what earlier designs say about scatter, and let a new one count on it",
    .arguments = arguments,
    .description =
        "Three parts show their own scatter poorly. Designs of the same kind that were pulled before show "
        "it well, and the more alike they are the better. Lists the scatter of each design of the files by "
        "kind (key \"kind\" of a design), what the kinds are worth, and the factor that few new parts then "
        "need.\n\n"
        "With --into they are written into a new design, each with its source, so that its file stays whole "
        "by itself. That is settled before the first pull of the new design. Take all designs of the kind: "
        "picking those that scatter little breaks the promise. Only the scatter carries over, never a mean.",
    .groups = groups,
    .options_size = sizeof(scatter_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
