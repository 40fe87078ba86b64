/* All pulls of a campaign as a table. */
#include <stdio.h>
#include <string.h>
#include "campaign/table.h"
#include "holdfast/base/number.h"

typedef struct out_column {
    const char *name; /* key, "design" or the key of an info pair */
    hf_column_kind kind;
    const hf_unit *unit; /* of the header, loads only */
} out_column;

typedef struct export_job {
    const hf_campaign *campaign;
    const hf_table_style *style;
    hf_error *error;
    hf_text text;
    out_column columns[HF_TABLE_COLUMNS];
    size_t count;
} export_job;

static const char *const outcome_names[] = {[HF_OUTCOME_FAILED] = "failed",
                                            [HF_OUTCOME_HELD] = "held",
                                            [HF_OUTCOME_RIG] = "rig",
                                            [HF_OUTCOME_VOID] = "void",
                                            [HF_OUTCOME_PLANNED] = "planned"};

static bool is_wanted(const export_job *job, const hf_design *design) {
    return !job->style->design || strcmp(job->style->design, design->id) == 0;
}

/* The first specimen of the wanted designs from (design, specimen) on; false past the last. */
static bool next_specimen(const export_job *job, size_t *design, size_t *specimen) {
    const hf_campaign *campaign = job->campaign;
    for (; *design < campaign->design_count; ++*design, *specimen = 0)
        for (const hf_design *at = &campaign->designs[*design];
             is_wanted(job, at) && *specimen < at->specimen_count; ++*specimen)
            if (!job->style->to_import || at->specimens[*specimen].outcome != HF_OUTCOME_PLANNED) return true;
    return false;
}

/* The value of a key; the rig's tare stands for one that is not there, where it is to. */
static const hf_json *node_of(const export_job *job, const hf_specimen *specimen, const char *key) {
    const hf_json *node = hf_json_get(specimen->node, key);
    return node || strcmp(key, "tare") != 0 ? node : job->style->tare;
}

/* A text or number of the file as a load, in the unit it was written in. */
static hf_load load_of(const hf_campaign *campaign, const hf_json *node) {
    hf_load load = {node->number, campaign->unit};
    if (node->kind == HF_JSON_TEXT)
        (void)hf_load_read(node->text, strlen(node->text), campaign->unit, &load, NULL);
    return load;
}

/* Whether some wanted specimen has the key; of loads also the unit that the first one is written in. */
static bool is_used(const export_job *job, const char *key, hf_column_kind kind, const hf_unit **unit) {
    for (size_t d = 0, s = 0; next_specimen(job, &d, &s); s++) {
        const hf_json *node = node_of(job, &job->campaign->designs[d].specimens[s], key);
        if (!node) continue;
        if (kind == HF_COLUMN_LOAD)
            *unit = job->style->unit ? job->style->unit : load_of(job->campaign, node).unit;
        return true;
    }
    return false;
}

static hf_status add_column(export_job *job, out_column column) {
    if (job->count == HF_TABLE_COLUMNS)
        return hf_error_set(job->error, HF_BAD_DATA,
                            "found more than %d columns, expected fewer different keys in \"info\"",
                            HF_TABLE_COLUMNS);
    job->columns[job->count++] = column;
    return HF_OK;
}

static bool has_info(const export_job *job, const char *key) {
    for (size_t i = 0; i < job->count; i++)
        if (job->columns[i].kind == HF_COLUMN_INFO && strcmp(job->columns[i].name, key) == 0) return true;
    return false;
}

static hf_status find_columns(export_job *job) {
    hf_column_kind kind;
    const char *name;
    hf_status status = HF_OK;
    for (size_t at = 0; (name = hf_table_column(at, &kind)) != NULL; at++) {
        const hf_unit *unit = NULL;
        bool always = kind == HF_COLUMN_DESIGN || strcmp(name, "id") == 0 || strcmp(name, "outcome") == 0;
        if (job->style->to_import && strcmp(name, "order") == 0) continue;
        if (always || is_used(job, name, kind, &unit))
            status = add_column(job, (out_column){name, kind, unit});
    }
    for (size_t d = 0, s = 0; status == HF_OK && next_specimen(job, &d, &s); s++) {
        const hf_info *info = &job->campaign->designs[d].specimens[s].info;
        for (size_t i = 0; status == HF_OK && i < info->count; i++)
            if (!has_info(job, info->pairs[i].key))
                status = add_column(job, (out_column){info->pairs[i].key, HF_COLUMN_INFO, NULL});
    }
    return status;
}

static char separator(const export_job *job) {
    return job->style->semicolon ? ';' : ',';
}

/* One cell. Formulas are kept from spreadsheets by quotes and an apostrophe. */
static void add_text(export_job *job, const char *text) {
    bool guard = hf_table_guarded(text), quote = guard || strpbrk(text, "\",;\t\r\n#") != NULL;
    size_t length = strlen(text);
    if (length && (text[0] == ' ' || text[length - 1] == ' ')) quote = true;
    if (!quote) {
        hf_text_add(&job->text, text);
        return;
    }
    hf_text_add(&job->text, guard ? "\"'" : "\"");
    for (; *text; text++) hf_text_add_bytes(&job->text, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
    hf_text_add(&job->text, "\"");
}

static void add_number(export_job *job, double value, const char *unit) {
    char number[HF_NUMBER_SIZE];
    hf_number_shortest(value, number);
    char *point = strchr(number, '.');
    if (point && job->style->semicolon) *point = ',';
    hf_text_add(&job->text, number);
    if (unit) hf_text_addf(&job->text, " %s", unit);
}

/* In the unit of the column, or as recorded with its own unit behind it. */
static void add_load(export_job *job, const out_column *column, const hf_json *node) {
    hf_load load = load_of(job->campaign, node);
    if (job->style->unit && load.unit != job->style->unit) {
        char number[HF_NUMBER_SIZE];
        double value = hf_load_newtons(load, job->campaign->gravity) /
                       hf_unit_newtons(job->style->unit, job->campaign->gravity);
        hf_number_figures(value, 12, number);
        (void)hf_number_read(number, strlen(number), &value);
        load = (hf_load){value, job->style->unit};
    }
    add_number(job, load.value, load.unit == column->unit ? NULL : load.unit->name);
}

static hf_status add_ends(export_job *job, const hf_specimen *specimen) {
    hf_text both = {0};
    hf_status status = HF_OK;
    hf_text_addf(&both, "%s | %s", specimen->ends[0], specimen->ends[1]);
    if (strchr(specimen->ends[0], '|') || strchr(specimen->ends[1], '|'))
        status = hf_error_set(
            job->error, HF_BAD_DATA,
            "found | in the ends of \"%.60s\", expected none: it parts the two ids in a table", specimen->id);
    else if (both.bytes)
        add_text(job, both.bytes);
    job->text.failed |= both.failed;
    hf_text_free(&both);
    return status;
}

static const char *info_value(const hf_info *info, const char *key) {
    for (size_t i = 0; i < info->count; i++)
        if (strcmp(info->pairs[i].key, key) == 0) return info->pairs[i].value;
    return "";
}

static hf_status add_cell(export_job *job, const out_column *column, const hf_design *design,
                          const hf_specimen *specimen) {
    const hf_json *node = column->kind == HF_COLUMN_INFO ? NULL : node_of(job, specimen, column->name);
    if (column->kind == HF_COLUMN_INFO)
        add_text(job, info_value(&specimen->info, column->name));
    else if (column->kind == HF_COLUMN_DESIGN)
        add_text(job, design->id);
    else if (strcmp(column->name, "outcome") == 0)
        add_text(job, outcome_names[specimen->outcome]);
    else if (!node)
        return HF_OK;
    else if (column->kind == HF_COLUMN_ENDS)
        return add_ends(job, specimen);
    else if (column->kind == HF_COLUMN_LOAD)
        add_load(job, column, node);
    else if (column->kind == HF_COLUMN_FLAG)
        add_text(job, node->kind == HF_JSON_TRUE ? "true" : "false");
    else if (node->kind == HF_JSON_NUMBER)
        add_number(job, node->number, NULL);
    else
        add_text(job, node->text);
    return HF_OK;
}

/* Comment lines hold one line each whatever the title says. */
static void add_comment(export_job *job, const char *before, const char *text) {
    hf_text_addf(&job->text, "# %s", before);
    for (; *text; text++)
        hf_text_add_bytes(&job->text, (unsigned char)*text < 0x20 || *text == 0x7F ? "?" : text, 1);
    hf_text_add(&job->text, "\r\n");
}

static void add_head(export_job *job) {
    const hf_campaign *campaign = job->campaign;
    add_comment(job, "pulls of campaign: ", campaign->title);
    add_comment(job, "loads are as recorded at the rig, before tare, lever and angle; ",
                job->style->unit ? "converted to one unit" : "each in its unit");
    add_comment(job, "SHA-256 of the campaign file: ", campaign->sha256);
    for (size_t i = 0; i < job->count; i++) {
        const out_column *column = &job->columns[i];
        hf_text name = {0};
        if (i) hf_text_addf(&job->text, "%c", separator(job));
        hf_text_addf(&name,
                     column->kind == HF_COLUMN_INFO ? "info.%s"
                     : column->unit                 ? "%s [%s]"
                                                    : "%s",
                     column->name, column->unit ? column->unit->name : "");
        if (name.bytes) add_text(job, name.bytes);
        job->text.failed |= name.failed;
        hf_text_free(&name);
    }
    hf_text_add(&job->text, "\r\n");
}

static hf_status add_rows(export_job *job) {
    for (size_t d = 0, s = 0; next_specimen(job, &d, &s); s++) {
        const hf_design *design = &job->campaign->designs[d];
        for (size_t i = 0; i < job->count; i++) {
            if (i) hf_text_addf(&job->text, "%c", separator(job));
            hf_status status = add_cell(job, &job->columns[i], design, &design->specimens[s]);
            if (status != HF_OK) return status;
        }
        hf_text_add(&job->text, "\r\n");
    }
    return HF_OK;
}

hf_status hf_campaign_export(hf_arena *arena, const hf_campaign *campaign, const hf_table_style *style,
                             hf_text *out, hf_error *error) {
    export_job *job = HF_ARENA_NEW(arena, export_job);
    hf_error_clear(error);
    if (!job) return hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    *job = (export_job){.campaign = campaign, .style = style, .error = error};
    if (style->design && !hf_campaign_find_design(campaign, style->design, error)) return error->status;
    hf_status status = find_columns(job);
    if (status == HF_OK) {
        add_head(job);
        status = add_rows(job);
    }
    if (status == HF_OK) hf_text_add_bytes(out, job->text.bytes, job->text.length);
    if (status == HF_OK && (job->text.failed || out->failed))
        status = hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    hf_text_free(&job->text);
    return status;
}
