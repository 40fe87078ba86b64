#include "command/complete.h"
#include <string.h>
#include "command/common.h"
#include "holdfast/campaign/set.h"
#include "holdfast/chart/chart.h"
#include "holdfast/command/command.h"

typedef struct completion {
    hf_arena *arena;
    const hf_command *const *commands;
    const char *const *words; /* of the command: what stands behind its name */
    size_t count;             /* with the one that is typed, the last */
    const hf_command *command;
    const char *typed;  /* what is there of it */
    const char *before; /* "--format=": stands before the typed part of the same word; "" */
    hf_text *out;
} completion;

static bool begins(const char *word, const char *typed) {
    return strncmp(word, typed, strlen(typed)) == 0;
}

/* One candidate; a description ends where its line does. */
static void offer(const completion *c, const char *word, const char *about) {
    if (!begins(word, c->typed) || strpbrk(word, "\t\n")) return;
    hf_text_addf(c->out, "%s%s\t%.*s\n", c->before, word, (int)strcspn(about, "\n"), about);
}

/* --- From the campaign file -------------------------------------------------------------------------- */

/* The first word that a path belongs in, when it can be read as a campaign; NULL. */
static const hf_campaign *campaign_of(const completion *c);

static void offer_designs(const completion *c) {
    const hf_campaign *campaign = campaign_of(c);
    for (size_t i = 0; campaign && i < campaign->design_count; i++)
        offer(c, campaign->designs[i].id, campaign->designs[i].name ? campaign->designs[i].name : "");
}

static void offer_parts(const completion *c) {
    const hf_campaign *campaign = campaign_of(c);
    for (size_t i = 0; campaign && i < campaign->design_count; i++) {
        const hf_design *design = &campaign->designs[i];
        for (size_t j = 0; j < design->specimen_count; j++) {
            bool planned = design->specimens[j].outcome == HF_OUTCOME_PLANNED;
            offer(c, design->specimens[j].id, planned ? "planned" : "pulled");
        }
    }
}

static void offer_kinds(const completion *c) {
    size_t count;
    const hf_chart_kind *table = hf_chart_kind_table(&count);
    for (size_t i = 0; i < count; i++) offer(c, table[i].name, table[i].summary);
}

/* Keys of `set`: of the file, and of a design where --design was said. */
static void offer_keys(const completion *c) {
    hf_settable key;
    bool of_design = false;
    for (size_t i = 0; i + 1 < c->count; i++) of_design |= begins(c->words[i], "--design");
    for (size_t at = 0; hf_settable_at(at, &key); at++)
        if (of_design ? key.of_design : key.of_file) offer(c, key.name, key.takes);
}

/* --- Commands ---------------------------------------------------------------------------------------- */

/* Names that go on as words[0..count − 1) began: "plan" and then "contrast", "proof", "next". */
static void offer_commands(const completion *c) {
    for (size_t at = 0; c->commands[at]; at++) {
        const char *rest = c->commands[at]->name;
        size_t same = 0;
        while (same + 1 < c->count && begins(rest, c->words[same]) && rest[strlen(c->words[same])] == ' ') {
            rest += strlen(c->words[same++]) + 1;
        }
        if (same + 1 == c->count && !strchr(rest, ' ')) offer(c, rest, c->commands[at]->summary);
    }
}

/* What the words of the records stand for; a new kind of word is a row. */
static const struct {
    const char *argument, *option; /* names in the records; NULL: none */
    void (*offer)(const completion *c);
} table[] = {
    {"DESIGN", "design", offer_designs}, {"PART", "as", offer_parts},       {"KIND", NULL, offer_kinds},
    {"KEY VALUE", NULL, offer_keys},     {"COMMAND", NULL, offer_commands},
};

static void offer_named(const completion *c, const char *name, bool option) {
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        const char *known = option ? table[i].option : table[i].argument;
        if (known && strcmp(known, name) == 0) table[i].offer(c);
    }
}

/* --- Options ----------------------------------------------------------------------------------------- */

static const hf_option *option_of(const completion *c, const char *word) {
    if (word[0] != '-' || !word[1]) return NULL;
    if (word[1] == '-') return hf_command_option_find(c->command, word + 2, NULL);
    return word[2] ? NULL : hf_command_option_letter(c->command, word[1], NULL);
}

static void offer_values(const completion *c, const hf_option *row) {
    const char *choice;
    if (row->type == HF_OPTION_PATH) hf_text_add(c->out, ":file\n");
    for (size_t at = 0; (choice = hf_option_choice(row, at)) != NULL; at++) offer(c, choice, "");
    offer_named(c, row->name, true);
}

static void offer_options(const completion *c) {
    const hf_option *row;
    for (size_t at = 0; (row = hf_command_option(c->command, at, NULL)) != NULL; at++) {
        const char *name = hf_arena_format(c->arena, "--%s", row->name);
        if (!row->hidden && name) offer(c, name, row->help);
    }
}

/* --- Arguments --------------------------------------------------------------------------------------- */

/* The argument that the word at `at` is, counted over the words that are neither options nor their values. */
static const hf_argument *argument_at(const completion *c, size_t at) {
    size_t place = 0;
    for (size_t i = 0; i < at; i++) {
        const hf_option *row = option_of(c, c->words[i]);
        if (row && row->type != HF_OPTION_FLAG) i++;
        place += c->words[i][0] != '-' && !row;
    }
    const hf_argument *argument = c->command->arguments;
    while (argument && argument->name && place && argument[1].name) {
        argument++;
        place--;
    }
    return argument && argument->name && (place == 0 || argument->many) ? argument : NULL;
}

static const hf_campaign *campaign_of(const completion *c) {
    const hf_campaign *campaign = NULL;
    hf_findings findings = {0};
    hf_error error;
    for (size_t i = 0; i + 1 < c->count; i++) {
        const hf_argument *argument = c->words[i][0] == '-' ? NULL : argument_at(c, i);
        if (!argument || !argument->is_path) continue;
        hf_error_clear(&error);
        if (hf_campaign_read(c->arena, c->words[i], &campaign, &findings, &error) != HF_OK) campaign = NULL;
        break;
    }
    return campaign;
}

static void offer_words(completion *c) {
    const char *last = c->words[c->count - 1], *equals = strchr(last, '=');
    const hf_option *row = c->count > 1 ? option_of(c, c->words[c->count - 2]) : NULL;
    c->typed = last;
    if (row && row->type != HF_OPTION_FLAG) {
        offer_values(c, row);
        return;
    }
    if (last[0] == '-' && equals) {
        const char *name = hf_arena_text(c->arena, last, (size_t)(equals - last));
        c->before = hf_arena_text(c->arena, last, (size_t)(equals - last) + 1);
        c->typed = equals + 1;
        row = name ? option_of(c, name) : NULL;
        if (row && c->before) offer_values(c, row);
        return;
    }
    if (last[0] == '-') {
        offer_options(c);
        return;
    }
    const hf_argument *argument = argument_at(c, c->count - 1);
    if (argument && argument->is_path) hf_text_add(c->out, ":file\n");
    if (argument) offer_named(c, argument->name, false);
}

void hf_complete(hf_arena *arena, const hf_command *const *commands, const char *const *words, size_t count,
                 hf_text *out) {
    size_t used = 0;
    completion c = {arena, commands, words, count, NULL, "", "", out};
    if (count == 0) return;
    c.typed = words[count - 1];
    offer_commands(&c);
    c.command = count > 1 ? hf_command_match(commands, words, count - 1, &used) : NULL;
    if (!c.command) return;
    c.words += used;
    c.count -= used;
    offer_words(&c);
}
