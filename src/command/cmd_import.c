#include "command/commands.h"
#include "command/common.h"

#include <stdlib.h>
#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/campaign/table.h"

typedef struct import_options {
    hf_option_value design, unit, decimal, columns, add_designs, in_order, take, sure;
    hf_format_values format;
    hf_help_values help;
} import_options;

static const char *const marks[] = {"point", "comma", NULL};
static const char *const takes[] = {"theirs", "ours", NULL};

#define VALUE(member) .offset = offsetof(import_options, member)

static const hf_option own_rows[] = {
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "design of the rows that name none",
     VALUE(design)},
    {.name = "unit",
     .type = HF_OPTION_CHOICE,
     .value_name = "UNIT",
     .choice_at = hf_unit_choice,
     .help = "unit of the loads that have none in cell or header, and of the loads shown",
     VALUE(unit)},
    {.name = "decimal",
     .type = HF_OPTION_CHOICE,
     .value_name = "MARK",
     .choices = marks,
     .help = "mark of decimals; when not given the comma between semicolons, and between tabs where nothing "
             "else fits, else the point",
     VALUE(decimal)},
    {.name = "columns",
     .type = HF_OPTION_TEXT,
     .value_name = "LIST",
     .help = "what the header calls the columns, such as \"Part=id, Load (N)=peak, Remark=\"; behind nothing "
             "stands one that is not to be read",
     VALUE(columns)},
    {.name = "add-designs", .help = "add designs that the campaign does not have yet", VALUE(add_designs)},
    {.name = "in-order",
     .help = "rows without id fill the planned parts of their design in the order of the plan",
     VALUE(in_order)},
    {.name = "take",
     .type = HF_OPTION_CHOICE,
     .value_name = "WHOSE",
     .choices = takes,
     .help = "where table and file have different results of one part, write the table's (theirs) or keep "
             "the file's (ours)",
     VALUE(take)},
    {.name = "sure", .help = "write pulls although they do not look right", VALUE(sure)},
    {.name = NULL}};

/* What the command works on. */
typedef struct import_work {
    hf_request *request;
    const char *table_path;
    hf_campaign_change change;
    hf_table_result result;
    hf_text table;
} import_work;

static hf_status read_table(import_work *work, hf_error *error) {
    error->status = hf_file_read(work->table_path, HF_CAMPAIGN_LIMIT_BYTES, &work->table, error);
    return error->status;
}

static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    import_work *work = context;
    const import_options *options = work->request->options;
    const hf_unit *unit =
        options->unit.given ? hf_unit_find(options->unit.text, strlen(options->unit.text)) : NULL;
    hf_table_source source = {.file = work->table_path,
                              .text = work->table.bytes ? work->table.bytes : "",
                              .length = work->table.length,
                              .design = options->design.given ? options->design.text : NULL,
                              .unit = unit,
                              .mark = !options->decimal.given           ? 0
                                      : options->decimal.text[0] == 'c' ? ','
                                                                        : '.',
                              .columns = options->columns.given ? options->columns.text : NULL,
                              .add_designs = options->add_designs.given,
                              .in_order = options->in_order.given,
                              .take = !options->take.given           ? HF_TAKE_NEITHER
                                      : options->take.text[0] == 't' ? HF_TAKE_THEIRS
                                                                     : HF_TAKE_OURS,
                              .doubting = !options->sure.given};
    return hf_campaign_import(work->request->arena, now, &source, text, &work->result, error);
}

/* Findings stand for the reason where there are any. */
static hf_exit refuse(hf_request *request, const import_work *work) {
    const char *shown = strcmp(work->table_path, "-") == 0 ? "standard input" : work->table_path;
    const hf_table_result *result = &work->result;
    if (work->change.findings.errors)
        return hf_findings_print(request, &work->change.findings, work->change.path);
    if (request->error.status != HF_BAD_DATA || result->table.errors + result->campaign.errors == 0)
        return hf_request_fail(request);
    if (hf_findings_print(request, &result->table, shown) == HF_EXIT_FILE ||
        hf_findings_print(request, &result->campaign, work->change.path) == HF_EXIT_FILE)
        return HF_EXIT_FILE;
    return HF_EXIT_BAD_DATA;
}

static int compare_texts(const void *a, const void *b) {
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* A campaign with only the pulls of the table in it, so that the echo is what `check` shows of them. */
static const hf_campaign *only_new(hf_request *request, const import_work *work) {
    const hf_campaign *after = work->change.after;
    hf_campaign *echo = HF_ARENA_NEW(request->arena, hf_campaign);
    hf_design *designs = HF_ARENA_NEW_ARRAY(request->arena, hf_design, after->design_count);
    const char **ids = HF_ARENA_NEW_ARRAY(request->arena, const char *, work->result.count);
    size_t count = 0, written = work->result.count;
    if (!echo || !designs || !ids) return NULL;
    if (written) memcpy(ids, work->result.ids, written * sizeof *ids);
    qsort(ids, written, sizeof *ids, compare_texts);
    for (size_t i = 0; i < after->design_count; i++) {
        const hf_design *design = &after->designs[i];
        hf_specimen *some = HF_ARENA_NEW_ARRAY(request->arena, hf_specimen, design->specimen_count);
        size_t found = 0;
        for (size_t j = 0; some && j < design->specimen_count; j++)
            if (bsearch(&design->specimens[j].id, ids, written, sizeof *ids, compare_texts))
                some[found++] = design->specimens[j];
        if (!some) return NULL;
        if (!found) continue;
        designs[count] = *design;
        designs[count].specimens = some;
        designs[count++].specimen_count = found;
    }
    *echo = *after;
    echo->designs = designs;
    echo->design_count = count;
    return echo;
}

static hf_exit show(hf_request *request, const import_work *work, const hf_report_format *format) {
    const hf_campaign *echo = only_new(request, work);
    hf_text text = {0};
    if (!echo) {
        hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
        return hf_request_fail(request);
    }
    const hf_campaign_change *change = &work->change;
    request->kept = hf_arena_format(request->arena, "the new pulls are in %s", change->path);
    hf_request_note_names(request, change->path, change->names);
    (void)hf_findings_print(request, &change->findings, change->path);
    if (work->result.designs)
        hf_request_note(request, "%zu new design%s: state a guess or a goal with holdfast set",
                        work->result.designs, work->result.designs == 1 ? "" : "s");
    if (work->result.other_errors)
        hf_request_note(request, "the rig of %s has other stated errors; those of %s count for all pulls now",
                        work->table_path, change->path);
    if (work->result.filled || work->result.skipped)
        hf_request_note(request,
                        "%zu planned or earlier parts filled, %zu rows left out because the file has them",
                        work->result.filled, work->result.skipped);
    hf_report_style style = hf_request_style(request, change->after);
    const hf_check_result shown = {.campaign = change->after, .findings = &change->findings, .written = echo};
    hf_report_print(&hf_report_check, &shown, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static hf_exit run(hf_request *request) {
    const import_options *options = request->options;
    import_work work = {.request = request, .table_path = request->arguments[1]};
    const hf_report_format *format;
    const char *path = request->arguments[0];
    work.change = hf_request_change(request, path, edit, &work);
    if (!hf_request_in_place(request) || hf_format_read(&options->format, &format, &request->error) != HF_OK)
        return hf_request_fail(request);
    hf_exit code;
    if (read_table(&work, &request->error) != HF_OK) {
        code = hf_request_fail(request);
    } else {
        request->error.status = hf_campaign_change_make(request->arena, &work.change, &request->error);
        code = request->error.status == HF_OK ? show(request, &work, format) : refuse(request, &work);
    }
    hf_text_free(&work.table);
    return code;
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file; it is changed in place"},
    {.name = "DATA",
     .is_path = true,
     .help = "table (CSV), list of numbers or another campaign file, - for standard input"},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_format_rows, offsetof(import_options, format)},
                                         {hf_help_rows, offsetof(import_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast import sail.json pulls.csv --design ring",
     "adds every row as a pull; the columns are named as the keys of the file, such as held [kg]"},
    {"holdfast import sail.json pulls.csv --design ring --in-order",
     "the plan's parts filled from a worksheet typed off, row by row"},
    {"holdfast import sail.json lab.csv --add-designs --columns \"Part=id, Kind=design, Load (N)=peak\"",
     "a table that calls its columns otherwise, with designs that the file does not have yet"},
    {"holdfast import sail.json second-phone.json", "the pulls that were written into another file"},
    {"holdfast import sail.json - --design ring --unit N",
     "plain numbers on standard input, such as 812 790 845, are peak readings of a scale in line"},
    {NULL, NULL}};

const hf_command hf_command_import = {
    .name = "import",
    .summary = "add pulls from a table to the campaign file",
    .arguments = arguments,
    .description =
        "Reads a table with one pull a row and adds the pulls at the end of their designs. The columns are "
        "named as the keys of a pull in the campaign file, and design names the design; id may be left out. "
        "The unit of a load stands in the header, as in held [kg] or held (kg), in the cell, as in 18 kg, or "
        "comes from "
        "--unit. Cells are parted by commas, by semicolons (then the decimal mark is the comma) or by tabs; "
        "lines that begin with # are left out.\n\n"
        "Of another campaign file come all pulls with a result. Where its rig has another tare, each pull "
        "says "
        "so itself; a rig with another lever, angle or gravity is refused.\n\n"
        "A row fills the planned part of its id, or with --in-order the next planned one; a pull that the "
        "file has already is left out; another "
        "result of one part is refused unless --take says which holds, and a pull that does not look right "
        "unless --sure, as in record. "
        "All that is wrong is listed with line and column, and then nothing is written. Every other byte of "
        "the file stays as it was, and the "
        "new file takes the place of the old one in one step.",
    .groups = groups,
    .options_size = sizeof(import_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
