#include "command/commands.h"
#include "command/common.h"

#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/base/number.h"
#include "campaign/makeable.h"
#include "holdfast/campaign/sanity.h"
#include "holdfast/campaign/set.h"
#include "pages/example.h"

typedef struct new_options {
    hf_option_value title, unit, records, tare, rating, weights;
    hf_option_value design, name, mean, cv, parts;
    hf_option_value content, confidence, design_factor, service_load, example;
    hf_help_values help;
} new_options;

static const char *const record_choices[] = {"added", "total", NULL};

#define VALUE(member) .offset = offsetof(new_options, member)

static const hf_option own_rows[] = {
    {.name = "title", .type = HF_OPTION_TEXT, .value_name = "TEXT", .help = "what is tested", VALUE(title)},
    {.name = "unit",
     .type = HF_OPTION_CHOICE,
     .value_name = "UNIT",
     .choice_at = hf_unit_choice,
     .help = "unit of bare numbers in the file; that of the weights, else of the tare, else N when not given",
     VALUE(unit)},
    {.name = "records",
     .type = HF_OPTION_CHOICE,
     .value_name = "WHAT",
     .preset = "added",
     .choices = record_choices,
     .help = "what is written down: the weights added to the rig, or the total force in line with the part",
     VALUE(records)},
    {.name = "tare",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "what pulls at the part with nothing added: hanger, hook, lever",
     VALUE(tare)},
    {.name = "rating",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "what the rig itself may carry",
     VALUE(rating)},
    {.name = "weights",
     .type = HF_OPTION_TEXT,
     .value_name = "LIST",
     .help = "the weights there are, such as \"6x10kg 2x5kg\"",
     VALUE(weights)},
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "short id of the first design",
     VALUE(design)},
    {.name = "name", .type = HF_OPTION_TEXT, .value_name = "TEXT", .help = "its name in words", VALUE(name)},
    {.name = "mean",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "guess of its mean strength",
     VALUE(mean)},
    {.name = "cv",
     .type = HF_OPTION_NUMBER,
     .value_name = "V",
     .maximum = 1,
     .open_ends = true,
     .help = "guess of its scatter: standard deviation as a share of the mean",
     VALUE(cv)},
    {.name = "parts",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .preset = "5",
     .maximum = 1000,
     .help = "planned parts to write into the file; none when mean and cv are guessed, for plan --write then "
             "adds them",
     VALUE(parts)},
    {.name = "content",
     .type = HF_OPTION_NUMBER,
     .value_name = "P",
     .preset = "0.9",
     .maximum = 1,
     .open_ends = true,
     .help = "share of all parts that is to be stronger than the bound",
     VALUE(content)},
    {.name = "confidence",
     .type = HF_OPTION_NUMBER,
     .value_name = "C",
     .preset = "0.95",
     .maximum = 1,
     .open_ends = true,
     .help = "confidence of that statement",
     VALUE(confidence)},
    {.name = "design-factor",
     .type = HF_OPTION_NUMBER,
     .value_name = "F",
     .minimum = 1,
     .maximum = 1000,
     .help = "divides the bound to give the working load; your decision, no default",
     VALUE(design_factor)},
    {.name = "service-load",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "what the part has to carry",
     VALUE(service_load)},
    {.name = "example",
     .help = "write a whole example instead, three invented fittings already pulled, to try the other "
             "commands on",
     VALUE(example)},
    {.name = NULL}};

enum { ALWAYS, WITH_TARE, WITHOUT_GUESS, ONE_MORE, MOST_ASKED = 50 };
static const char scatter_words[] =
    "Guess of its scatter, such as 10% (sewn: 5 to 10 %; glued by hand: 15 to 25 %; empty: none)";
static const hf_question questions[] = {
    {"title", "What is tested, in a few words", "", ALWAYS},
    {"records", "What is written down: weights \"added\" to the rig, or \"total\" force at the part", "added",
     ALWAYS},
    {"tare", "What pulls with nothing added: hanger, hook, lever (with unit, such as 2.6 kg)", NULL,
     WITH_TARE},
    {"rating", "What the rig itself may carry (empty: not known)", "", ALWAYS},
    {"weights", "Weights there are, such as 6x10kg 2x5kg (empty: not listed)", "", ALWAYS},
    {"unit", "Unit of bare numbers, such as N, kg or lbf (empty: that of the weights or the tare)", "",
     ALWAYS},
    {"service-load", "What the part has to carry in use (empty: not stated)", "", ALWAYS},
    {"design-factor", "Design factor, by which the bound is divided, your decision (empty: later)", "",
     ALWAYS},
    {"design", "Short id of the first design", "design", ALWAYS},
    {"mean", "Guess of its mean strength (empty: none)", "", ALWAYS},
    {"cv", scatter_words, "", ALWAYS},
    {"parts", "Parts to pull", "5", WITHOUT_GUESS},
};
static const hf_question of_one_more[] = {
    {"design", "Another design? Its short id (empty: no more)", "", ALWAYS},
    {"name", "Its name in words (empty: as the id)", "", ONE_MORE},
    {"mean", "Guess of its mean strength (empty: none)", "", ONE_MORE},
    {"cv", scatter_words, "", ONE_MORE},
};

/* Any option on the command line means that a script or a decided person is at work. */
static bool nothing_given(const hf_request *request) {
    size_t offset;
    for (size_t at = 0; hf_command_option(request->command, at, &offset); at++) {
        const char *place = (const char *)request->options + offset;
        if (((const hf_option_value *)(const void *)place)->given) return false;
    }
    return true;
}

/* With a guess the number of parts is for `plan --write` to say. */
static bool left_to_plan(const new_options *options) {
    return options->mean.given && options->cv.given && !options->parts.given;
}

static bool is_skipped(const hf_request *request, unsigned when) {
    const new_options *options = request->options;
    return (when == WITH_TARE && strcmp(options->records.text, "total") == 0) ||
           (when == WITHOUT_GUESS && left_to_plan(options)) || (when == ONE_MORE && !options->design.given);
}

/* What is said of one design. */
typedef struct said_design {
    hf_option_value design, name, mean, cv;
} said_design;

static said_design said_of(const new_options *options) {
    return (said_design){options->design, options->name, options->mean, options->cv};
}

static void say(new_options *options, const said_design *said) {
    options->design = said->design;
    options->name = said->name;
    options->mean = said->mean;
    options->cv = said->cv;
}

/* All questions, then those of one more design as long as one is named; "<" goes back through all of them. said[0 … *count): the designs,
 * the first one's values in the options again. */
static hf_status ask_all(hf_request *request, said_design said[MOST_ASKED], size_t *count) {
    new_options *options = request->options;
    bool back = false, more = true;
    size_t at = 0;
    hf_say("Enter takes what stands in brackets; < goes back.\n");
    while (more) {
        say(options, &said[at]);
        hf_status status =
            at ? hf_request_ask(request, of_one_more, sizeof of_one_more / sizeof *of_one_more, is_skipped,
                                &back)
               : hf_request_ask(request, questions, sizeof questions / sizeof *questions, is_skipped, &back);
        if (status != HF_OK) return status;
        said[at] = said_of(options);
        more = back || ((at == 0 || options->design.given) && at + 1 < MOST_ASKED);
        if (more && back) {
            back = at > 0;
            at -= at > 0;
        } else if (more)
            at++;
    }
    *count = at + options->design.given;
    say(options, &said[0]);
    return HF_OK;
}

/* The unit behind the last number of a list or a load, NULL when there is none. */
static const char *unit_in(const char *text) {
    size_t count, longest = 0;
    const hf_unit *table = hf_unit_table(&count), *found = NULL;
    for (size_t i = 0; text && i < count; i++) {
        size_t length = strlen(table[i].name), all = strlen(text);
        bool ends = all > length && strcmp(text + all - length, table[i].name) == 0 && length > longest;
        if (!ends || !strchr("0123456789. ", text[all - length - 1])) continue;
        found = &table[i];
        longest = length;
    }
    return found ? found->name : NULL;
}

/* Kilograms stay kilograms: bare numbers of the test day are what the weights say. */
static const char *unit_for(const new_options *options) {
    const char *unit = options->unit.given ? options->unit.text : unit_in(options->weights.text);
    if (!unit) unit = unit_in(options->tare.text);
    return unit ? unit : "N";
}

/* A number as it was read, whatever way it was typed. */
static const char *number_text(hf_arena *arena, const hf_option_value *value) {
    char number[HF_NUMBER_SIZE];
    return value->text ? hf_arena_format(arena, "%s", hf_number_shortest(value->number, number)) : NULL;
}

static hf_campaign_start start_of(hf_arena *arena, const new_options *options) {
    return (hf_campaign_start){.title = options->title.text,
                               .unit = unit_for(options),
                               .records = options->records.text,
                               .tare = options->tare.text,
                               .rating = options->rating.text,
                               .weights = options->weights.text,
                               .design = options->design.text,
                               .name = options->name.text,
                               .mean = options->mean.text,
                               .cv = number_text(arena, &options->cv),
                               .content = number_text(arena, &options->content),
                               .confidence = number_text(arena, &options->confidence),
                               .design_factor = number_text(arena, &options->design_factor),
                               .service_load = options->service_load.text,
                               .parts = left_to_plan(options) ? 0 : (size_t)options->parts.count};
}

static hf_status write_file(hf_request *request, const char *path, const hf_text *text) {
    if (text->failed || hf_request_lacks_memory(request))
        return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    if (strcmp(path, "-") == 0) return hf_file_replace(path, text->bytes, text->length, &request->error);
    return hf_file_create(path, text->bytes, text->length, &request->error);
}

static void print_plan_first(const char *path) {
    hf_say("next: how many parts and which loads   holdfast plan %s --write\n", path);
}

static void print_next(const char *path, const new_options *options) {
    hf_say("wrote %s\n", path);
    if (options->example.given) {
        hf_say("next: what its pulls prove   holdfast assess %s\n", path);
        return;
    }
    if (!options->tare.text && strcmp(options->records.text, "added") == 0)
        hf_say("the tare stands as 0: weigh hanger, hook and lever before the first pull, then    holdfast "
               "set %s rig.tare "
               "LOAD\n",
               path);
    if (left_to_plan(options)) {
        print_plan_first(path);
        return;
    }
    hf_say("next: look through it, then    holdfast check %s\n"
           "      after each pull          holdfast record %s SPECIMEN --held LOAD --failed LOAD\n"
           "      when all are pulled      holdfast assess %s\n",
           path, path, path);
}

/* The further designs, at the end of the text. */
static hf_status add_designs(hf_request *request, const said_design *said, size_t count, hf_text *text) {
    const new_options *options = request->options;
    const hf_campaign *campaign;
    hf_findings findings;
    const char *kept = hf_arena_text(request->arena, text->bytes, text->length);
    hf_status status =
        kept ? hf_campaign_parse(request->arena, "", kept, text->length, &campaign, &findings) : HF_MEMORY;
    for (size_t i = 0; status == HF_OK && i < count; i++) {
        bool guessed = said[i].mean.given && said[i].cv.given;
        const hf_new_design design = {.id = said[i].design.text,
                                      .name = said[i].name.text,
                                      .mean = said[i].mean.text,
                                      .cv = number_text(request->arena, &said[i].cv),
                                      .parts = guessed ? 0 : (size_t)options->parts.count};
        status =
            hf_campaign_with_design(request->arena, campaign, &design, &campaign, &findings, &request->error);
        if (status == HF_BAD_DATA && findings.errors)
            (void)hf_error_set(&request->error, HF_USAGE, "%s: %s", findings.items[0].path,
                               findings.items[0].message);
    }
    hf_text_free(text);
    if (status == HF_OK) hf_text_add_bytes(text, campaign->text, campaign->text_length);
    return status;
}

static hf_status make(hf_request *request, const char *path, hf_text *text) {
    bool to_file = strcmp(path, "-") != 0;
    said_design *said = HF_ARENA_NEW_ARRAY(request->arena, said_design, MOST_ASKED);
    size_t count = 1;
    if (!said) return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    if (to_file && hf_file_exists(path))
        return hf_error_set(&request->error, HF_FILE,
                            "%s already exists, expected a new name; nothing was written", path);
    if (to_file && nothing_given(request) && hf_request_can_ask(request)) {
        hf_status status = ask_all(request, said, &count);
        if (status != HF_OK) return status;
    }
    if (((const new_options *)request->options)->example.given) {
        hf_text_add_lines(text, hf_page_shade_sail_json);
        return write_file(request, path, text);
    }
    hf_campaign_start start = start_of(request->arena, request->options);
    hf_status status = hf_campaign_start_text(request->arena, &start, text, &request->error);
    if (status == HF_OK && count > 1) status = add_designs(request, said + 1, count - 1, text);
    /* What cannot be stands on the command line here, not in a file. */
    if (status == HF_BAD_DATA) request->error.status = HF_USAGE;
    if (status != HF_OK) return status;
    if (text->failed) return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    return write_file(request, path, text);
}

/* A guess in another unit than was meant, such as 900 for newtons in a file of kilograms. */
static void doubt_guess(hf_request *request, const hf_text *text) {
    const hf_campaign *campaign;
    hf_findings findings;
    const char *kept = hf_arena_text(request->arena, text->bytes ? text->bytes : "", text->length);
    if (!kept || hf_campaign_parse(request->arena, "", kept, text->length, &campaign, &findings) != HF_OK)
        return;
    double all = hf_all_weights(campaign);
    hf_maybe mean = campaign->designs[0].guess.mean;
    if (!campaign->weight_count || !mean.given ||
        mean.value <= HF_UNLIKE_RATIO * hf_rig_force_of_record(&campaign->rig.force, all))
        return;
    char guess[HF_NUMBER_SIZE], most[HF_NUMBER_SIZE];
    double unit = hf_unit_newtons(campaign->unit, campaign->gravity);
    hf_say("the guess of %s %s is more than three times all the weights together, %s %s: was its unit meant? "
           "A bare number is in %s\n",
           hf_number_figures(mean.value / unit, 3, guess), campaign->unit->name,
           hf_number_figures(all / unit, 3, most), campaign->unit->name, campaign->unit->name);
}

static hf_exit run(hf_request *request) {
    const char *path = request->arguments[0];
    hf_text text = {0};
    hf_status status = make(request, path, &text);
    if (status == HF_OK) doubt_guess(request, &text);
    hf_text_free(&text);
    if (status != HF_OK) return hf_request_fail(request);
    if (strcmp(path, "-") != 0) print_next(path, request->options);
    return HF_EXIT_DONE;
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file to write, - for standard output"},
    {.name = NULL}};

static const hf_option_group groups[] = {
    {own_rows, 0}, {hf_help_rows, offsetof(new_options, help)}, {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast new sail.json", "at a terminal asks what it must, then writes the file"},
    {"holdfast new sail.json --unit kg --tare 2.6kg --weights \"6x10kg 2x5kg\" --design ring --parts 8",
     "asks nothing; eight planned parts of the design ring"},
    {"holdfast new sail.json --example", "a whole campaign to try the other commands on"},
    {NULL, NULL}};

const hf_command hf_command_new = {
    .name = "new",
    .summary = "write a starter campaign file",
    .arguments = arguments,
    .description =
        "Writes a campaign file with the rig, the goal and one design with its planned parts. With options, "
        "or "
        "when no person sits at a terminal, it asks nothing; otherwise it asks what it must, offers "
        "defaults, goes back on <, and asks for further designs at the end. An existing file is never "
        "overwritten.\n\n"
        "The file is plain JSON, made to be changed by hand. A load is a number in the file's unit, or a "
        "text "
        "with its own unit such as \"18 kg\".",
    .groups = groups,
    .options_size = sizeof(new_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
