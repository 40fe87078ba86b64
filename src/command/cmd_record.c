#include "command/commands.h"
#include "command/common.h"

#include <stdio.h>
#include <string.h>
#include "holdfast/campaign/sanity.h"
#include "command/recorded.h"
#include "platform/clock.h"

/* One member for each field of a pull, named as there. */
typedef struct record_options {
#define OPTION_MEMBER(member, key, kind, result) hf_option_value member;
    HF_RECORD_LIST(OPTION_MEMBER)
#undef OPTION_MEMBER
    hf_option_value without, clear, as, again, add, design, sure;
    hf_unit_values unit;
    hf_format_values format;
    hf_help_values help;
} record_options;

static const char *const outcome_choices[] = {"failed", "held", "rig", "void", NULL};
static const char *const phase_choices[] = {"adding", "dwell", NULL};
static const char *const end_choices[] = {"1", "2", "both", NULL};

#define VALUE(member) .offset = offsetof(record_options, member)

static const hf_option pull_rows[] = {
    {.name = "held",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "last load that held for the whole dwell, as written down",
     VALUE(held)},
    {.name = "failed",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "load at which, or on the way to which, the part failed",
     VALUE(failed)},
    {.name = "peak",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "highest reading of a scale in line, for a continuous pull",
     VALUE(peak)},
    {.name = "outcome",
     .type = HF_OPTION_CHOICE,
     .value_name = "WHAT",
     .choices = outcome_choices,
     .help = "how the pull ended; failed when not given (held: it did not fail; rig: the rig let go; void: "
             "not to be used, needs --note)",
     VALUE(outcome)},
    {.name = "mode",
     .type = HF_OPTION_TEXT,
     .value_name = "TEXT",
     .help = "how the part failed, such as stitch",
     VALUE(mode)},
    {.name = "phase",
     .type = HF_OPTION_CHOICE,
     .value_name = "WHEN",
     .choices = phase_choices,
     .help = "whether it failed while weight was being added or while the load stood",
     VALUE(phase)},
    {.name = "dropped", .help = "the last weight was dropped on rather than set down", VALUE(dropped)},
    {.name = "set-held",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "last load without lasting movement",
     VALUE(set_held)},
    {.name = "set-seen",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "load at which lasting movement was seen",
     VALUE(set_seen)},
    {.name = "broke",
     .type = HF_OPTION_CHOICE,
     .value_name = "END",
     .choices = end_choices,
     .help = "which end failed, of a part with two",
     VALUE(broke)},
    {.name = "duration",
     .type = HF_OPTION_NUMBER,
     .value_name = "SECONDS",
     .maximum = 1e9,
     .help = "how long the pull took",
     VALUE(duration)},
    {.name = "batch",
     .type = HF_OPTION_TEXT,
     .value_name = "TEXT",
     .help = "roll, melt, day or hand the part comes from",
     VALUE(batch)},
    {.name = "reused", .help = "the part had carried load before", VALUE(reused)},
    {.name = "tare",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "what pulled at this part with nothing added, where it differs from the rig's",
     VALUE(tare)},
    {.name = "order",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .maximum = 1e9,
     .help = "when it was pulled among the others",
     VALUE(order)},
    {.name = "date",
     .type = HF_OPTION_TEXT,
     .value_name = "DATE",
     .help = "day it was pulled, such as 2026-05-02 or 2026-05-02T14:30; today when not given and not there",
     VALUE(date)},
    {.name = "by", .type = HF_OPTION_TEXT, .value_name = "NAME", .help = "who pulled it", VALUE(by)},
    {.name = "photo",
     .type = HF_OPTION_TEXT,
     .value_name = "NAME",
     .help = "name of a picture of it",
     VALUE(photo)},
    {.name = "note",
     .type = HF_OPTION_TEXT,
     .value_name = "TEXT",
     .help = "anything worth keeping",
     VALUE(note)},
    {.name = NULL}};

/* Name of field `at` as an option says it, NULL past the last. */
static const char *field_choice(size_t at) {
    return at + 1 < sizeof pull_rows / sizeof pull_rows[0] ? pull_rows[at].name : NULL;
}

static const hf_option own_rows[] = {
    {.name = "sure",
     .help = "write it although it does not look right; without this it is asked",
     VALUE(sure)},
    {.name = "again", .help = "correct a result that is there; what is not said anew stays", VALUE(again)},
    {.name = "without",
     .type = HF_OPTION_CHOICE,
     .value_name = "FIELD",
     .choice_at = field_choice,
     .help = "with --again: take this away",
     VALUE(without)},
    {.name = "clear", .help = "take the whole result away; the part is planned again", VALUE(clear)},
    {.name = "as",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "it was another part: the result goes to that one, and this one is planned again",
     VALUE(as)},
    {.name = "new", .help = "the part is not in the file yet: add it, with --design", VALUE(add)},
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "with --new: design of the part; not needed where there is only one",
     VALUE(design)},
    {.name = NULL}};

/* In the order of the worksheet: what is ticked, what was hung, the rest; each with the outcomes that it is asked after. */
enum { FAILED = 1, HELD = 2, RIG = 4, VOIDED = 8 }; /* in the order of outcome_choices */
static const hf_question questions[] = {
    {"outcome", "How did it end: failed, held, rig or void", "failed", FAILED | HELD | RIG | VOIDED},
    {"phase", "While adding or in the dwell (empty: not seen)", "", FAILED},
    {"dropped", "Was a weight dropped on, y or n", "n", FAILED},
    {"held", "Last load that held (empty: failed at the first step)", "", FAILED},
    {"held", "Highest load it held", NULL, HELD},
    {"held", "Last load that held before the rig let go", NULL, RIG},
    {"failed", "Load at which it failed", NULL, FAILED},
    {"mode", "How it failed, such as stitch (empty: not seen)", "", FAILED},
    {"batch", "Batch (empty: as it is)", "", FAILED | HELD},
    {"by", "Who pulled it (empty: not stated)", "", FAILED | HELD},
    {"note", "Note (empty: none)", "", FAILED | HELD},
    {"note", "What let go", "", RIG},
    {"note", "Why it is not to be used", NULL, VOIDED},
};

static bool is_skipped(const hf_request *request, unsigned when) {
    const record_options *options = request->options;
    unsigned outcome = FAILED;
    for (size_t i = 0; options->outcome.given && strcmp(outcome_choices[i], options->outcome.text) != 0; i++)
        outcome *= 2;
    return !(when & outcome);
}

static hf_status ask_all(hf_request *request) {
    bool back = false;
    hf_status status;
    do status = hf_request_ask(request, questions, sizeof questions / sizeof *questions, is_skipped, &back);
    while (status == HF_OK && back);
    return status;
}

/* The key of the file that an option stands for. */
static const char *key_of(const char *option) {
    static const char *const keys[] = {
#define FIELD_KEY(member, key, kind, result) key,
        HF_RECORD_LIST(FIELD_KEY)
#undef FIELD_KEY
    };
    static const char *const members[] = {
#define FIELD_NAME(member, key, kind, result) #member,
        HF_RECORD_LIST(FIELD_NAME)
#undef FIELD_NAME
    };
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        const char *a = members[i], *b = option;
        while (*a && (*a == *b || (*a == '_' && *b == '-'))) a++, b++;
        if (*a == *b) return keys[i];
    }
    return NULL;
}

/* What was said; a flag says "true". */
static const char *words_of(const hf_option_value *value) {
    return !value->given ? NULL : value->text[0] ? value->text : "true";
}

static hf_record_change change_of(const record_options *options) {
    return (hf_record_change){
#define FIELD_WORDS(member, key, kind, result) .member = words_of(&options->member),
        HF_RECORD_LIST(FIELD_WORDS)
#undef FIELD_WORDS
            .without = options->without.given ? key_of(options->without.text) : NULL};
}

static bool pull_given(const record_options *options) {
    bool given = options->without.given;
#define FIELD_GIVEN(member, key, kind, result) given |= options->member.given;
    HF_RECORD_LIST(FIELD_GIVEN)
#undef FIELD_GIVEN
    return given;
}

static bool result_given(const record_options *options) {
    return options->held.given || options->failed.given || options->peak.given || options->outcome.given;
}

static hf_status usage(hf_request *request, const char *words) {
    return hf_error_set(&request->error, HF_USAGE, "%s: %s", request->arguments[1], words);
}

/* What belongs together, and what does not. */
static hf_status check_options(hf_request *request) {
    const record_options *options = request->options;
    bool clears = options->clear.given || options->as.given;
    if (clears && (pull_given(options) || options->add.given || (options->clear.given && options->as.given)))
        return usage(request, "--clear or --as stands alone: it takes the result as it is");
    if (options->without.given && !options->again.given)
        return usage(request, "--without corrects what is there; say --again too");
    if (options->design.given && !options->add.given)
        return usage(request, "--design names the design of a part that is added; say --new too");
    if (clears || pull_given(options)) return HF_OK;
    if (hf_request_can_ask(request)) return ask_all(request);
    return usage(
        request,
        "nothing to record, expected --held, --failed, --peak, --outcome or another of the options that "
        "holdfast record --help lists");
}

typedef struct record_work {
    hf_request *request;
    bool sure;
    hf_findings refused; /* of the text with the pull in it */
    hf_doubt doubts[HF_DOUBTS_MOST];
    size_t doubt_count;
} record_work;

/* --- The change -------------------------------------------------------------------------------------- */

static hf_status find_design(hf_request *request, const hf_campaign *now, const hf_design **out,
                             hf_error *error) {
    const record_options *options = request->options;
    const char *names[1024];
    size_t count = 0;
    *out = options->design.given    ? hf_campaign_design(now, options->design.text)
           : now->design_count == 1 ? &now->designs[0]
                                    : NULL;
    if (*out) return HF_OK;
    hf_text list = {0};
    for (; count < now->design_count && count < sizeof names / sizeof names[0]; count++) {
        names[count] = now->designs[count].id;
        hf_text_addf(&list, "%s%s", count ? ", " : "", names[count]);
    }
    const char *near = options->design.given ? hf_text_nearest(options->design.text, names, count) : NULL;
    hf_error_set(error, HF_USAGE, "%s: expected --design with one of %.300s%s%s", request->arguments[1],
                 list.bytes ? list.bytes : "", near ? "; the nearest is " : "", near ? near : "");
    hf_text_free(&list);
    return HF_USAGE;
}

/* With --new the part is written first, as a planned one, and then recorded like any other. */
static hf_status add_part(record_work *work, const hf_campaign **now, hf_error *error) {
    hf_request *request = work->request;
    const hf_design *design;
    hf_text text = {0};
    hf_status status = find_design(request, *now, &design, error);
    if (status == HF_OK)
        status = hf_campaign_record_new(request->arena, *now, design, request->arguments[1], &text, error);
    if (status == HF_BAD_DATA) status = HF_USAGE;
    const char *kept = status == HF_OK ? hf_arena_text(request->arena, text.bytes, text.length) : NULL;
    if (status == HF_OK && !kept) status = hf_error_set(error, HF_MEMORY, "out of memory");
    if (status == HF_OK)
        status = hf_campaign_parse(request->arena, (*now)->file, kept, text.length, now, &work->refused);
    hf_text_free(&text);
    return status;
}

/* A mistake that an option answers names it. */
static hf_status refuse(record_work *work, const hf_campaign *now, hf_error *error) {
    hf_request *request = work->request;
    const record_options *options = request->options;
    const char *id = request->arguments[1];
    const hf_specimen *part = hf_campaign_specimen(now, id, NULL);
    if (!part) {
        char words[HF_MESSAGE_SIZE];
        (void)snprintf(words, sizeof words, "%s", error->message);
        return hf_error_set(error, HF_USAGE, "%s; for a part that is not in the file yet say --new", words);
    }
    bool there = part->outcome != HF_OUTCOME_PLANNED && !options->again.given;
    if (there && !options->as.given && !options->clear.given)
        return hf_error_set(
            error, HF_BAD_DATA,
            "%s has a result already; --again corrects it, --clear takes it away, --as ID gives it to "
            "another part, and holdfast undo takes the last change back",
            id);
    return HF_BAD_DATA;
}

static hf_status doubt(record_work *work, const hf_text *text, hf_error *error) {
    hf_arena *arena = work->request->arena;
    const hf_campaign *then;
    const hf_design *design = NULL;
    hf_findings findings;
    if (work->sure) return HF_OK;
    hf_status status = hf_campaign_parse(arena, "", text->bytes, text->length, &then, &findings);
    if (status != HF_OK) return hf_error_set(error, status, "%s", hf_status_text(status));
    const hf_specimen *part = hf_campaign_specimen(then, work->request->arguments[1], &design);
    hf_sanity *sanity = hf_sanity_start(arena, then);
    if (!sanity) return hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    work->doubt_count = hf_sanity_check(sanity, design, part, work->doubts);
    hf_sanity_end(sanity);
    return work->doubt_count ? HF_BAD_DATA : HF_OK;
}

static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    record_work *work = context;
    hf_request *request = work->request;
    const record_options *options = request->options;
    const char *id = request->arguments[1];
    hf_record_change change = change_of(options);
    hf_status status = HF_OK;
    char today[11];
    work->doubt_count = 0;
    if (options->clear.given || options->as.given) {
        status =
            hf_campaign_record_clear(request->arena, now, id, options->as.given ? options->as.text : NULL,
                                     text, &work->refused, error);
        return status == HF_BAD_DATA ? refuse(work, now, error) : status;
    }
    if (options->add.given && (status = add_part(work, &now, error)) != HF_OK) return status;
    const hf_specimen *part = hf_campaign_specimen(now, id, NULL);
    hf_platform_today(today);
    if (result_given(options) && part && !part->date && !change.date) change.date = today;
    status = hf_campaign_record(request->arena, now, id, &change, options->again.given, text, &work->refused,
                                error);
    if (status == HF_BAD_DATA && !work->refused.errors) return refuse(work, now, error);
    return status == HF_OK ? doubt(work, text, error) : status;
}

/* --- Refusing and asking ----------------------------------------------------------------------------- */

/* "found 760, expected a load above "held", …" as the person who typed --held and --failed would say it. */
static void add_as_options(hf_text *out, const char *message) {
    static const char outcome[] = "outcome \"";
    for (const char *at = message; *at;) {
        if (strncmp(at, outcome, sizeof outcome - 1) == 0) {
            size_t word = strcspn(at + sizeof outcome - 1, "\"");
            hf_text_addf(out, "--outcome %.*s", (int)word, at + sizeof outcome - 1);
            at += sizeof outcome - 1 + word + 1;
            continue;
        }
        const char *quote = *at == '"' ? strchr(at + 1, '"') : NULL;
        size_t length = quote ? (size_t)(quote - at) + 1 : 1;
        char word[32] = "";
        if (quote && length - 2 < sizeof word)
            (void)snprintf(word, sizeof word, "%.*s", (int)(length - 2), at + 1);
        const char *option = NULL;
        for (size_t i = 0; word[0] && field_choice(i) && !option; i++)
            if (strcmp(key_of(field_choice(i)), word) == 0) option = field_choice(i);
        if (option)
            hf_text_addf(out, "--%s", option);
        else
            hf_text_add_bytes(out, at, length);
        at += length;
    }
}

static const char *last_key(const char *path) {
    const char *dot = strrchr(path, '.');
    return dot ? dot + 1 : path;
}

/* What cannot be stands on the command line; so it is told of the part and the options, not of a text that nobody wrote. */
static hf_exit tell_refused(hf_request *request, const record_work *work) {
    for (size_t i = 0; i < work->refused.count; i++) {
        const hf_finding *finding = &work->refused.items[i];
        if (finding->severity != HF_SEVERITY_ERROR) continue;
        bool of_part = strstr(finding->path, "specimens[") != NULL;
        hf_text words = {0}, option = {0};
        hf_text_addf(&option, "\"%s\"", last_key(finding->path));
        hf_text shown = {0};
        add_as_options(&shown, option.bytes ? option.bytes : "");
        bool known = shown.length && shown.bytes[0] == '-';
        hf_text_addf(&words, "%s: ", of_part ? request->arguments[1] : finding->path);
        if (of_part && known) hf_text_addf(&words, "%s: ", shown.bytes);
        add_as_options(&words, finding->message);
        hf_request_note(request, "%s", words.bytes ? words.bytes : finding->message);
        hf_text_free(&words);
        hf_text_free(&option);
        hf_text_free(&shown);
    }
    return HF_EXIT_BAD_DATA;
}

static hf_exit tell_doubts(hf_request *request, const record_work *work, const hf_report_format *format) {
    const hf_questions_result result = {work->doubts, work->doubt_count};
    hf_text text = {0};
    for (size_t i = 0; i < work->doubt_count; i++)
        hf_request_note(request, "%s: %s; nothing is written, --sure says that it is so",
                        work->doubts[i].part, work->doubts[i].words);
    if (strcmp(format->name, "json") != 0) return HF_EXIT_BAD_DATA;
    hf_report_style style = hf_request_style(request, NULL);
    hf_report_print(&hf_report_questions, &result, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_BAD_DATA);
}

/* Asked before the file is locked: a person may take a while. */
static hf_status ask_doubts(record_work *work, const char *path) {
    hf_request *request = work->request;
    const hf_campaign *now;
    hf_findings findings;
    hf_text text = {0};
    hf_error ignored;
    if (work->sure || !hf_request_can_ask(request)) return HF_OK;
    hf_error_clear(&ignored);
    if (hf_campaign_read(request->arena, path, &now, &findings, &ignored) == HF_OK)
        (void)edit(work, now, &text, &ignored);
    hf_text_free(&text);
    size_t count = work->doubt_count;
    for (size_t i = 0; i < count; i++) {
        const char *words =
            hf_arena_format(request->arena, "%s: %s. Is it so?", work->doubts[i].part, work->doubts[i].words);
        if (!words || !hf_request_confirm(request, words))
            return hf_error_set(&request->error, HF_BAD_DATA, "%s: nothing is written",
                                request->arguments[1]);
    }
    work->sure = count > 0;
    work->refused = (hf_findings){0};
    return HF_OK;
}

/* --- The command ------------------------------------------------------------------------------------- */

/* The file with the change in it, on disk and in memory. */
static hf_exit change_file(hf_request *request, const char *path, const hf_report_format *format,
                           hf_campaign_change *change) {
    const record_options *options = request->options;
    record_work work = {.request = request, .sure = options->sure.given};
    *change = hf_request_change(request, path, edit, &work);
    if (ask_doubts(&work, path) != HF_OK) return hf_request_fail(request);
    hf_status status = hf_campaign_change_make(request->arena, change, &request->error);
    request->error.status = status;
    if (status == HF_OK) {
        hf_request_note_names(request, path, change->names);
        return HF_EXIT_DONE;
    }
    if (hf_request_lacks_memory(request)) return hf_request_fail(request);
    if (work.doubt_count) return tell_doubts(request, &work, format);
    if (work.refused.errors) return tell_refused(request, &work);
    if (change->findings.errors) return hf_findings_print(request, &change->findings, path);
    return hf_request_fail(request);
}

static hf_exit run(hf_request *request) {
    const record_options *options = request->options;
    const char *path = request->arguments[0];
    const hf_report_format *format;
    if (!hf_request_in_place(request) ||
        hf_format_read(&options->format, &format, &request->error) != HF_OK ||
        check_options(request) != HF_OK)
        return hf_request_fail(request);
    hf_campaign_change change;
    hf_exit code = change_file(request, path, format, &change);
    if (code != HF_EXIT_DONE) return code;
    const char *ids[] = {request->arguments[1], options->as.given ? options->as.text : NULL};
    request->kept = hf_arena_format(request->arena, "the pull of %s is in %s", ids[0], path);
    return hf_recorded_show(request, &change, ids, options->as.given ? 2 : 1, format);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file; it is changed in place"},
    {.name = "PART", .help = "id of the part that was pulled, as it stands in the file"},
    {.name = NULL}};

static const hf_option_group groups[] = {{pull_rows, 0},
                                         {own_rows, 0},
                                         {hf_unit_rows, offsetof(record_options, unit)},
                                         {hf_format_rows, offsetof(record_options, format)},
                                         {hf_help_rows, offsetof(record_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast record sail.json ring-01 --held 76kg --failed 80kg --mode stitch",
     "held 76 kg, failed on the way to 80 kg"},
    {"holdfast record sail.json ring-02 --held 90kg --outcome held",
     "ran out of weights: a run-out at 90 kg"},
    {"holdfast record sail.json ring-03 --outcome void --note \"hook slipped\"", "not to be used, and why"},
    {"holdfast record sail.json ring-09 --new --design ring --held 76kg --failed 80kg --batch \"roll 4\"",
     "a part beyond the plan"},
    {NULL, NULL}};

const hf_command hf_command_record = {
    .name = "record",
    .summary = "write one pull into the campaign file",
    .arguments = arguments,
    .description =
        "Writes what happened to one part into the file and shows it back as force on the part. Every other "
        "byte of the file stays as it was; the new file takes the place of the old one in one step, so a "
        "power cut leaves one or the other whole, and holdfast undo takes it back. A bare load is in the "
        "file's unit.\n\n"
        "A pull that does not look right is asked about at a terminal and else refused (exit 3) unless "
        "--sure: more than all the "
        "weights together or not to be made from them, above the rig's rating, rungs of the plan between "
        "held and failed, more than "
        "three times or less than a third of what is known of the design (the median of its pulls from three "
        "on, else the guess). With --json such a "
        "refusal writes what is asked to standard output: {\"questions\": [{code, part, option, said, "
        "nearest, text}]}.\n\n"
        "At a terminal, without options, it asks. A part that already has a result is left alone unless "
        "--again is given; then what is not said anew stays, and what was is shown beside what is now.",
    .groups = groups,
    .options_size = sizeof(record_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
