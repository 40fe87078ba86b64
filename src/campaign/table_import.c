/* The pulls of a table into the text of a campaign. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "campaign/object_edit.h"
#include "campaign/table.h"
#include "holdfast/campaign/sanity.h"
#include "holdfast/campaign/set.h"

/* A row that became a specimen. */
typedef struct new_pull {
    const hf_row *row;
    size_t design;            /* index in the campaign */
    const char *id;           /* NULL until one is made */
    const char *keys;         /* the other members as JSON, "" or ", …" */
    size_t index;             /* among the specimens of its design, afterwards */
    const hf_specimen *fills; /* of the campaign, when it has this part; NULL: a new one */
    bool skipped;
} new_pull;

typedef struct import_job {
    hf_arena *arena;
    hf_table table;
    const hf_campaign *campaign;
    hf_campaign_table other; /* where the pulls come from another campaign */
    new_pull *pulls;
    size_t count;
} import_job;

static const hf_column *find_column(const hf_table *table, const char *name, size_t length) {
    for (size_t i = 0; i < table->column_count; i++) {
        const char *other = table->columns[i].name;
        if (other && strlen(other) == length && memcmp(other, name, length) == 0) return &table->columns[i];
    }
    return NULL;
}

static const hf_cell *cell_of(const hf_table *table, const hf_row *row, const char *name) {
    const hf_column *column = find_column(table, name, strlen(name));
    return column ? &row->cells[column - table->columns] : NULL;
}

/* The cell's text without a guarding apostrophe; NULL when empty. */
static const char *plain_text(const hf_cell *cell) {
    if (!cell || !cell->text[0]) return NULL;
    return cell->text + (cell->text[0] == '\'' && hf_table_guarded(cell->text));
}

/* Index of the row's design. False after a finding. */
static bool find_design(import_job *job, const hf_row *row, size_t *out) {
    const hf_cell *cell = cell_of(&job->table, row, "design");
    const char *id = plain_text(cell);
    size_t place = cell ? cell->column : 1, line = cell ? cell->line : row->line;
    if (!id) id = job->table.source->design;
    if (!id) {
        hf_table_error(&job->table, line, place, "design",
                       "found no design, expected the id of a design of the campaign");
        return false;
    }
    const hf_design *design = hf_campaign_design(job->campaign, id);
    if (design) {
        *out = (size_t)(design - job->campaign->designs);
        return true;
    }
    const char *nearest = hf_campaign_nearest_design(job->campaign, id);
    hf_table_error(
        &job->table, line, place, "design",
        "found \"%.60s\", expected the id of a design of the campaign%s%.60s%s; --add-designs adds new ones",
        id, nearest ? "; nearest is \"" : "", nearest ? nearest : "", nearest ? "\"" : "");
    return false;
}

/* The campaign with one more design, found in `row` or said for all (NULL). HF_BAD_DATA after a finding. */
static hf_status add_design(import_job *job, const char *id, const hf_row *row) {
    const hf_design *theirs = job->other.campaign ? hf_campaign_design(job->other.campaign, id) : NULL;
    const hf_new_design design = {.id = id, .name = theirs ? theirs->name : NULL};
    const hf_cell *cell = row ? cell_of(&job->table, row, "design") : NULL;
    hf_findings found;
    hf_status status =
        hf_campaign_with_design(job->arena, job->campaign, &design, &job->campaign, &found, NULL);
    if (status == HF_BAD_DATA)
        hf_table_error(&job->table, cell ? cell->line : 1, cell ? cell->column : 1, "design", "%s",
                       found.items[0].message);
    return status;
}

/* The designs that the campaign does not have yet. */
static hf_status add_designs(import_job *job, hf_table_result *result) {
    const size_t before = job->campaign->design_count;
    const char *own = job->table.source->design;
    hf_status status = HF_OK;
    if (!job->table.source->add_designs) return status;
    if (own && !hf_campaign_design(job->campaign, own)) status = add_design(job, own, NULL);
    for (size_t i = 0; status == HF_OK && i < job->table.row_count; i++) {
        const char *id = plain_text(cell_of(&job->table, &job->table.rows[i], "design"));
        if (id && !hf_campaign_design(job->campaign, id)) status = add_design(job, id, &job->table.rows[i]);
    }
    if (status == HF_OK) result->designs = job->campaign->design_count - before;
    return status;
}

/* The members of `info` from the columns info.<key>. */
static bool add_info(hf_table *table, const hf_row *row, hf_text *out) {
    bool first = true, good = true;
    for (size_t i = 0; i < table->column_count; i++) {
        hf_column *column = &table->columns[i];
        if (!column->name || column->kind != HF_COLUMN_INFO || !row->cells[i].text[0]) continue;
        const char *value = hf_table_value(table, column, &row->cells[i]);
        good = good && value;
        hf_text_add(out, first ? ", \"info\": { " : ", ");
        hf_json_quote(out, column->name + strlen("info."));
        hf_text_addf(out, ": %s", value ? value : "null");
        first = false;
    }
    if (!first) hf_text_add(out, " }");
    return good;
}

static bool add_keys(hf_table *table, const hf_row *row, hf_text *out) {
    bool good = true;
    for (size_t i = 0; i < table->column_count; i++) {
        hf_column *column = &table->columns[i];
        bool own = column->name && column->kind != HF_COLUMN_INFO && column->kind != HF_COLUMN_DESIGN &&
                   strcmp(column->name, "id") != 0;
        if (!own || !row->cells[i].text[0]) continue;
        const char *value = hf_table_value(table, column, &row->cells[i]);
        if (value)
            hf_text_addf(out, ", \"%s\": %s", column->name, value);
        else
            good = false;
    }
    return add_info(table, row, out) && good;
}

static void read_row(import_job *job, const hf_row *row) {
    new_pull *pull = &job->pulls[job->count];
    hf_text keys = {0};
    *pull = (new_pull){.row = row, .id = plain_text(cell_of(&job->table, row, "id"))};
    bool good = find_design(job, row, &pull->design);
    good = add_keys(&job->table, row, &keys) && good;
    pull->keys = hf_arena_text(job->arena, keys.bytes ? keys.bytes : "", keys.length);
    if (keys.failed || !pull->keys) job->table.reader.out_of_memory = true;
    hf_text_free(&keys);
    if (!good) pull->keys = NULL; /* its id still counts */
    job->count++;
}

/* --- Ids -------------------------------------------------------------------------------------------- */

typedef struct known_id {
    const char *id;
    size_t line;
    new_pull *pull; /* NULL: of the campaign */
} known_id;

static int compare_known(const void *a, const void *b) {
    const known_id *x = a, *y = b;
    int order = strcmp(x->id, y->id);
    if (order) return order;
    if (!x->pull != !y->pull) return x->pull ? 1 : -1;
    return (x->line > y->line) - (x->line < y->line);
}

static int compare_id(const void *a, const void *b) {
    return strcmp(((const known_id *)a)->id, ((const known_id *)b)->id);
}

static size_t campaign_ids(const hf_campaign *campaign, known_id *ids) {
    size_t count = 0;
    if (campaign->rig.id)
        ids[count++] = (known_id){campaign->rig.id, hf_json_get(campaign->root, "rig")->line, NULL};
    for (size_t i = 0; i < campaign->design_count; i++) {
        const hf_design *design = &campaign->designs[i];
        ids[count++] = (known_id){design->id, design->node->line, NULL};
        for (size_t j = 0; j < design->specimen_count; j++)
            ids[count++] = (known_id){design->specimens[j].id, design->specimens[j].node->line, NULL};
    }
    return count;
}

static void report_known(import_job *job, const known_id *ids, size_t count) {
    for (size_t i = 1, first = 0; i < count; i++) {
        if (strcmp(ids[i].id, ids[first].id) != 0)
            first = i;
        else {
            const hf_cell *cell = cell_of(&job->table, ids[i].pull->row, "id");
            hf_table_error(
                &job->table, cell->line, cell->column, "id",
                "found id \"%.60s\" again, first in line %zu of the %s; expected ids that are unique",
                ids[i].id, ids[first].line, ids[first].pull ? "table" : "campaign file");
            ids[i].pull->keys = NULL;
        }
    }
}

/* A part of the campaign. */
typedef struct part_there {
    const hf_specimen *specimen;
    size_t design;
    bool taken; /* by a row */
} part_there;

static int compare_part_ids(const void *a, const void *b) {
    return strcmp(((const part_there *)a)->specimen->id, ((const part_there *)b)->specimen->id);
}

/* By design, and in the order of the plan. */
static int compare_part_orders(const void *a, const void *b) {
    const part_there *x = a, *y = b;
    double p = x->specimen->order.given ? x->specimen->order.value : INFINITY,
           q = y->specimen->order.given ? y->specimen->order.value : INFINITY;
    if (x->design != y->design) return x->design < y->design ? -1 : 1;
    if (p != q) return p < q ? -1 : 1;
    return (x->specimen > y->specimen) - (x->specimen < y->specimen);
}

/* Rows about a part of the same design that the campaign has. */
static void fill_by_id(import_job *job, part_there *parts, size_t count) {
    qsort(parts, count, sizeof *parts, compare_part_ids);
    for (size_t i = 0; i < job->count; i++) {
        new_pull *pull = &job->pulls[i];
        const hf_specimen wanted = {.id = pull->id};
        const part_there key = {.specimen = &wanted};
        part_there *part = pull->id ? bsearch(&key, parts, count, sizeof *parts, compare_part_ids) : NULL;
        if (!part || part->design != pull->design || part->taken) continue; /* the second is found again */
        part->taken = true;
        pull->fills = part->specimen;
    }
}

static void fill_in_order(import_job *job, part_there *parts, size_t count) {
    size_t *next = HF_ARENA_NEW_ARRAY(job->arena, size_t, job->campaign->design_count);
    if (!next) job->table.reader.out_of_memory = true;
    qsort(parts, count, sizeof *parts, compare_part_orders);
    for (size_t i = 0; next && i < job->count; i++) {
        new_pull *pull = &job->pulls[i];
        size_t *at = &next[pull->design];
        if (pull->id) continue;
        while (*at < count && (parts[*at].design != pull->design || parts[*at].taken ||
                               parts[*at].specimen->outcome != HF_OUTCOME_PLANNED))
            ++*at;
        if (*at == count) continue;
        parts[*at].taken = true;
        pull->fills = parts[*at].specimen;
        pull->id = pull->fills->id;
    }
}

static void find_filled(import_job *job) {
    size_t count = 0;
    for (size_t i = 0; i < job->campaign->design_count; i++)
        count += job->campaign->designs[i].specimen_count;
    part_there *parts = HF_ARENA_NEW_ARRAY(job->arena, part_there, count);
    if (!parts) {
        job->table.reader.out_of_memory = true;
        return;
    }
    count = 0;
    for (size_t i = 0; i < job->campaign->design_count; i++)
        for (size_t j = 0; j < job->campaign->designs[i].specimen_count; j++)
            parts[count++] = (part_there){&job->campaign->designs[i].specimens[j], i, false};
    fill_by_id(job, parts, count);
    if (job->table.source->in_order) fill_in_order(job, parts, count);
}

/* Pulls with findings have had their say; the others are tried. */
static void drop_reported(import_job *job) {
    size_t kept = 0;
    for (size_t i = 0; i < job->count; i++)
        if (job->pulls[i].keys) job->pulls[kept++] = job->pulls[i];
    job->count = kept;
}

/* <design>-NN, the first number behind the pulls there are that no id has. */
static void make_ids(import_job *job, const known_id *ids, size_t count) {
    size_t *next = HF_ARENA_NEW_ARRAY(job->arena, size_t, job->campaign->design_count);
    for (size_t i = 0; next && i < job->count; i++) {
        new_pull *pull = &job->pulls[i];
        const hf_design *design = &job->campaign->designs[pull->design];
        if (!next[pull->design]) next[pull->design] = design->specimen_count;
        while (!pull->id) {
            known_id wanted = {hf_arena_format(job->arena, "%s-%02zu", design->id, ++next[pull->design]), 0,
                               NULL};
            if (!wanted.id) break;
            if (!bsearch(&wanted, ids, count, sizeof *ids, compare_id)) pull->id = wanted.id;
        }
        if (!pull->id) job->table.reader.out_of_memory = true;
    }
    if (!next) job->table.reader.out_of_memory = true;
}

static void settle_ids(import_job *job) {
    const hf_campaign *campaign = job->campaign;
    size_t most = 1 + campaign->design_count + job->count;
    for (size_t i = 0; i < campaign->design_count; i++) most += campaign->designs[i].specimen_count;
    known_id *ids = hf_memory_take(most, sizeof *ids);
    if (!ids) {
        job->table.reader.out_of_memory = true;
        return;
    }
    find_filled(job);
    size_t count = campaign_ids(campaign, ids);
    for (size_t i = 0; i < job->count; i++)
        if (job->pulls[i].id && !job->pulls[i].fills)
            ids[count++] = (known_id){job->pulls[i].id, job->pulls[i].row->line, &job->pulls[i]};
    qsort(ids, count, sizeof *ids, compare_known);
    report_known(job, ids, count);
    make_ids(job, ids, count);
    hf_memory_free(ids);
    drop_reported(job);
}

/* --- Text and validation ---------------------------------------------------------------------------- */

static const char *object_text(import_job *job, const new_pull *pull) {
    hf_text out = {0};
    hf_text_add(&out, "{ \"id\": ");
    hf_json_quote(&out, pull->id);
    hf_text_addf(&out, "%s }", pull->keys);
    const char *text = out.failed ? NULL : hf_arena_text(job->arena, out.bytes, out.length);
    hf_text_free(&out);
    return text;
}

enum { MOST_MEMBERS = 40 };

/* Keys of a result, which go when another takes its place. */
static bool is_result(const char *key) {
    static const char *const keys[] = {
#define RESULT_KEY(member, key, kind, result) (result) ? key : NULL,
        HF_RECORD_LIST(RESULT_KEY)
#undef RESULT_KEY
    };
    for (size_t i = 0; i < HF_COUNT_OF(keys); i++)
        if (keys[i] && strcmp(keys[i], key) == 0) return true;
    return false;
}

/* The members of the row into the part that is there; what else is said of the part stays. */
static hf_status fill_part(import_job *job, const new_pull *pull, hf_object_job *edits) {
    const hf_json *row, *there = pull->fills->node;
    hf_member_change rows[MOST_MEMBERS];
    size_t count = 0;
    const char *text = object_text(job, pull);
    if (!text || hf_json_parse(job->arena, "", text, strlen(text), &row, NULL) != HF_OK) return HF_MEMORY;
    for (const hf_json *child = row->first->next; child && count < MOST_MEMBERS; child = child->next)
        rows[count++] = (hf_member_change){
            child->key, hf_arena_text(job->arena, text + child->start, child->end - child->start), false};
    for (const hf_json *child = there->first; child && count < MOST_MEMBERS; child = child->next)
        if (is_result(child->key) && !hf_json_get(row, child->key))
            rows[count++] = (hf_member_change){child->key, NULL, true};
    edits->count = 0;
    return hf_object_edit(edits, there, rows, count);
}

typedef struct edit_list {
    hf_json_edit *items;
    size_t count;
} edit_list;

/* All parts that are filled. */
static hf_status fill_parts(import_job *job, edit_list *edits) {
    hf_object_job *one = HF_ARENA_NEW(job->arena, hf_object_job);
    if (!one) return HF_MEMORY;
    *one = (hf_object_job){.arena = job->arena, .campaign = job->campaign, .text = job->campaign->text};
    for (size_t i = 0; i < job->count; i++) {
        new_pull *pull = &job->pulls[i];
        if (!pull->fills) continue;
        pull->index = (size_t)(pull->fills - job->campaign->designs[pull->design].specimens);
        if (pull->skipped) continue;
        if (fill_part(job, pull, one) != HF_OK) return HF_MEMORY;
        memcpy(edits->items + edits->count, one->edits, one->count * sizeof *one->edits);
        edits->count += one->count;
    }
    return HF_OK;
}

/* All edits: those of the parts that are filled, and one for each design that gets more. */
static hf_status build_text(import_job *job, hf_text *out) {
    const hf_campaign *campaign = job->campaign;
    size_t filled = 0;
    for (size_t i = 0; i < job->count; i++) filled += job->pulls[i].fills != NULL;
    edit_list edits = {
        HF_ARENA_NEW_ARRAY(job->arena, hf_json_edit, campaign->design_count + filled * HF_OBJECT_EDITS), 0};
    size_t *sizes = HF_ARENA_NEW_ARRAY(job->arena, size_t, campaign->design_count);
    const char **items = HF_ARENA_NEW_ARRAY(job->arena, const char *, job->count);
    size_t *starts = HF_ARENA_NEW_ARRAY(job->arena, size_t, campaign->design_count + 1);
    if (!edits.items || !sizes || !items || !starts || fill_parts(job, &edits) != HF_OK) return HF_MEMORY;
    for (size_t i = 0; i < job->count; i++)
        if (!job->pulls[i].fills) starts[job->pulls[i].design + 1]++;
    for (size_t d = 0; d < campaign->design_count; d++) starts[d + 1] += starts[d];
    for (size_t i = 0; i < job->count; i++) {
        new_pull *pull = &job->pulls[i];
        if (pull->fills) continue;
        pull->index = campaign->designs[pull->design].specimen_count + sizes[pull->design];
        const char *text = object_text(job, pull);
        if (!text) return HF_MEMORY;
        items[starts[pull->design] + sizes[pull->design]++] = text;
    }
    for (size_t d = 0; d < campaign->design_count; d++)
        if (sizes[d] && hf_specimens_edit(job->arena, campaign->text, &campaign->designs[d],
                                          items + starts[d], sizes[d], &edits.items[edits.count++]) != HF_OK)
            return HF_MEMORY;
    return hf_json_splice(campaign->text, campaign->text_length, edits.items, edits.count, out);
}

/* "designs[2].specimens[14].held" → 2, 14, "held". */
static bool split_path(const char *path, size_t *design, size_t *specimen, const char **key) {
    static const char one[] = "designs[", two[] = "].specimens[";
    char *end;
    if (strncmp(path, one, sizeof one - 1) != 0) return false;
    *design = strtoul(path + sizeof one - 1, &end, 10);
    if (strncmp(end, two, sizeof two - 1) != 0) return false;
    *specimen = strtoul(end + sizeof two - 1, &end, 10);
    if (*end != ']') return false;
    *key = end[1] == '.' ? end + 2 : end + 1;
    return true;
}

static int compare_place(const void *a, const void *b) {
    const new_pull *x = a, *y = b;
    if (x->design != y->design) return x->design < y->design ? -1 : 1;
    return (x->index > y->index) - (x->index < y->index);
}

/* The node of the campaign with this path, or the nearest above it. */
static const hf_json *node_at(const hf_json *node, const char *path) {
    char own[HF_PATH_SIZE];
    for (const hf_json *child = node->first; child; child = child->next) {
        hf_json_path(child, own, sizeof own);
        size_t length = strlen(own);
        if (strncmp(path, own, length) == 0 &&
            (path[length] == '\0' || path[length] == '.' || path[length] == '['))
            return node_at(child, path);
    }
    return node;
}

static void refuse_in_campaign(import_job *job, const hf_finding *finding, hf_findings *campaign) {
    hf_reader reader = {.arena = job->arena, .findings = campaign};
    const hf_json *node = node_at(job->campaign->root, finding->path);
    hf_finding copy = *finding;
    copy.line = node->line;
    copy.column = node->column;
    hf_reader_find(&reader, copy, node);
    job->table.reader.out_of_memory |= reader.out_of_memory;
}

/* Findings of the new text to where they belong: a cell, a row, or the campaign. */
static void place_findings(import_job *job, const hf_findings *found, hf_findings *campaign) {
    for (size_t i = 0; i < found->count && !hf_table_enough(&job->table); i++) {
        const hf_finding *finding = &found->items[i];
        new_pull wanted = {0};
        const char *key = "";
        if (finding->severity != HF_SEVERITY_ERROR) continue;
        const new_pull *pull = split_path(finding->path, &wanted.design, &wanted.index, &key)
                                   ? bsearch(&wanted, job->pulls, job->count, sizeof wanted, compare_place)
                                   : NULL;
        if (!pull) {
            refuse_in_campaign(job, finding, campaign);
            continue;
        }
        const hf_column *column = find_column(&job->table, key, strlen(key));
        if (!column) column = find_column(&job->table, key, strcspn(key, "[."));
        if (column) {
            const hf_cell *cell = &pull->row->cells[column - job->table.columns];
            hf_table_error(&job->table, cell->line, cell->column, column->name, "%s", finding->message);
        } else {
            hf_table_error(&job->table, pull->row->line, 1, "", "%s", finding->message);
        }
    }
}

static int compare_findings(const void *a, const void *b) {
    const hf_finding *x = a, *y = b;
    if (x->line != y->line) return x->line < y->line ? -1 : 1;
    if (x->column != y->column) return x->column < y->column ? -1 : 1;
    return strcmp(x->message, y->message);
}

static void read_rows(import_job *job) {
    job->pulls = HF_ARENA_NEW_ARRAY(job->arena, new_pull, job->table.row_count + 1);
    if (!job->pulls) job->table.reader.out_of_memory = true;
    for (size_t i = 0; job->pulls && i < job->table.row_count && !hf_table_enough(&job->table); i++)
        read_row(job, &job->table.rows[i]);
}

static bool near(double a, double b) {
    return a == b || fabs(a - b) <= 1e-9 * fmax(fabs(a), fabs(b));
}

static bool same_text(const char *a, const char *b) {
    return strcmp(a ? a : "", b ? b : "") == 0;
}

static bool same_result(const hf_specimen *a, const hf_specimen *b) {
    return a->outcome == b->outcome && a->pull.kind == b->pull.kind && near(a->pull.lower, b->pull.lower) &&
           near(a->pull.upper, b->pull.upper) && same_text(a->mode, b->mode);
}

/* Of parts that have a result: the same one is left out, another is what `take` says. True when a row is left out. */
static bool settle_results(import_job *job, const hf_campaign *trial) {
    enum hf_table_take take = job->table.source->take;
    bool again = false;
    for (size_t i = 0; i < job->count; i++) {
        new_pull *pull = &job->pulls[i];
        if (!pull->fills || pull->fills->outcome == HF_OUTCOME_PLANNED) continue;
        const hf_specimen *then = &trial->designs[pull->design].specimens[pull->index];
        bool same = same_result(pull->fills, then);
        if (!same && take == HF_TAKE_NEITHER) {
            const hf_cell *cell = cell_of(&job->table, pull->row, "id");
            hf_table_error(&job->table, pull->row->line, cell ? cell->column : 1, "id",
                           "found another result of \"%.60s\" than in line %zu of the campaign file; --take "
                           "theirs writes this one, --take ours keeps "
                           "that one",
                           pull->id, pull->fills->node->line);
        }
        pull->skipped = same || take != HF_TAKE_THEIRS;
        again |= pull->skipped;
    }
    return again;
}

/* As record would ask. */
static hf_status doubt_rows(import_job *job, const hf_campaign *trial) {
    hf_doubt doubts[HF_DOUBTS_MOST];
    if (!job->table.source->doubting) return HF_OK;
    hf_sanity *sanity = hf_sanity_start(job->arena, trial);
    if (!sanity) return HF_MEMORY;
    for (size_t i = 0; i < job->count && !hf_table_enough(&job->table); i++) {
        const new_pull *pull = &job->pulls[i];
        if (pull->skipped) continue;
        const hf_design *design = &trial->designs[pull->design];
        size_t count = hf_sanity_check(sanity, design, &design->specimens[pull->index], doubts);
        for (size_t k = 0; k < count; k++)
            hf_table_error(&job->table, pull->row->line, 1, "", "%s: %s; --sure says that it is so", pull->id,
                           doubts[k].words);
    }
    hf_sanity_end(sanity);
    return HF_OK;
}

static hf_status try_text(import_job *job, hf_text *text, hf_table_result *result) {
    const hf_campaign *trial;
    hf_findings found;
    hf_status status = build_text(job, text);
    if (status != HF_OK) return status;
    status = hf_campaign_parse(job->arena, job->campaign->file, text->bytes, text->length, &trial, &found);
    if (status == HF_OK) {
        bool again = settle_results(job, trial);
        status = doubt_rows(job, trial);
        if (status != HF_OK || !again) return status;
        hf_text_free(text);
        *text = (hf_text){0};
        return build_text(job, text);
    }
    if (status != HF_BAD_DATA) return status;
    qsort(job->pulls, job->count, sizeof *job->pulls, compare_place);
    place_findings(job, &found, &result->campaign);
    return HF_OK;
}

/* A list of plain numbers says neither what was pulled nor in which unit. */
static hf_status check_source(const import_job *job, hf_error *error) {
    const hf_table_source *source = job->table.source;
    if (source->design && !hf_campaign_find_design(job->campaign, source->design, error))
        return error->status;
    if (!job->table.list || (source->design && source->unit)) return HF_OK;
    return hf_error_set(error, HF_USAGE, "found a list of plain numbers, expected the %s to be named",
                        source->design ? "unit"
                        : source->unit ? "design"
                                       : "design and the unit");
}

static hf_status take_ids(const import_job *job, hf_table_result *result) {
    const char **ids = HF_ARENA_NEW_ARRAY(job->arena, const char *, job->count);
    if (!ids) return HF_MEMORY;
    for (size_t i = 0; i < job->count; i++) {
        const new_pull *pull = &job->pulls[i];
        result->skipped += pull->skipped;
        result->filled += pull->fills && !pull->skipped;
        if (!pull->skipped) ids[result->count++] = pull->id;
    }
    result->ids = ids;
    return HF_OK;
}

/* Rows stand where their pulls do in the other campaign. */
static hf_status place_rows(import_job *job) {
    hf_table *table = &job->table;
    for (size_t i = 0; i < table->row_count; i++) {
        hf_row *row = &table->rows[i];
        hf_cell *cells = HF_ARENA_NEW_ARRAY(job->arena, hf_cell, row->count);
        if (!cells) return HF_MEMORY;
        row->line = job->other.lines[i];
        for (size_t k = 0; k < row->count; k++) cells[k] = (hf_cell){row->cells[k].text, row->line, 1};
        row->cells = cells;
    }
    return HF_OK;
}

static bool is_campaign(const hf_table_source *source) {
    const char *text = source->text;
    size_t at = source->length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    while (at < source->length && strchr(" \t\r\n", text[at]) && text[at]) at++;
    return at < source->length && text[at] == '{';
}

/* The rows of the table, of another campaign by way of one. */
static hf_status read_source(import_job *job, hf_table_source *source, hf_error *error) {
    hf_table *table = &job->table;
    bool campaign = is_campaign(source);
    if (campaign) {
        hf_status status = hf_table_of_campaign(table, &job->other, error);
        if (status != HF_OK) return status;
        source->text = job->other.text.bytes;
        source->length = job->other.text.length;
        source->mark = '.';
        source->columns = NULL;
    }
    hf_table_scan(table);
    if (table->reader.out_of_memory) return HF_MEMORY;
    return campaign ? place_rows(job) : HF_OK;
}

static hf_status run(import_job *job, hf_table_source *source, hf_text *text, hf_table_result *result,
                     hf_error *error) {
    hf_table *table = &job->table;
    hf_status status = read_source(job, source, error);
    if (status == HF_OK) status = add_designs(job, result);
    if (status == HF_OK) status = check_source(job, error);
    if (status != HF_OK) return status;
    result->other_errors = job->other.other_errors;
    if (!result->table.errors && !table->row_count)
        hf_table_error(table, 1, 1, "", "found no pulls, expected at least one row below the header");
    read_rows(job);
    if (!table->reader.out_of_memory) settle_ids(job);
    if (table->reader.out_of_memory) return HF_MEMORY;
    if (job->count && !table->header_wrong) status = try_text(job, text, result);
    if (status != HF_OK || table->reader.out_of_memory) return HF_MEMORY;
    if (result->table.errors || result->campaign.errors) return HF_BAD_DATA;
    return take_ids(job, result);
}

hf_status hf_campaign_import(hf_arena *arena, const hf_campaign *campaign, const hf_table_source *source,
                             hf_text *out, hf_table_result *result, hf_error *error) {
    import_job job = {.arena = arena, .campaign = campaign};
    hf_table_source own = *source;
    hf_text text = {0};
    memset(result, 0, sizeof *result);
    hf_error_clear(error);
    job.table = (hf_table){
        .reader = {.arena = arena, .findings = &result->table}, .source = &own, .campaign = campaign};
    hf_status status = run(&job, &own, &text, result, error);
    hf_findings *found = &result->table;
    if (found->count > 1) qsort(found->items, found->count, sizeof *found->items, compare_findings);
    if (found->errors >= HF_TABLE_FINDINGS) {
        const hf_finding *last = &found->items[found->count - 1];
        hf_table_error(&job.table, last->line, last->column, "",
                       "found as many mistakes as are listed at once (%d); there may be more",
                       HF_TABLE_FINDINGS);
    }
    if (status == HF_OK) hf_text_add_bytes(out, text.bytes, text.length);
    if (status == HF_OK && out->failed) status = HF_MEMORY;
    if (status == HF_MEMORY) (void)hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    if (status == HF_BAD_DATA && found->errors + result->campaign.errors)
        (void)hf_error_set(error, HF_BAD_DATA, "the table cannot be read in as it is; the file is unchanged");
    hf_text_free(&job.other.text);
    hf_text_free(&text);
    return status;
}
