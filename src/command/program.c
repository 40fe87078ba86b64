#include "command/program.h"

#include <string.h>

const char hf_program_summary[] = "from pulls on a rig to a working load";

const char *const hf_program_description[] = {
    "Holdfast is for people who pull small mechanical joints to failure on a rig of their own: it plans the "
    "test, keeps what held and what failed, and turns that into a load one may work with, showing every step "
    "of the sum.",
    "One campaign file lives through the whole job. It is plain JSON and made to be read and changed by "
    "hand. "
    "What hangs on a hook is a mass (kg, lb); what pulls at the part is a force (N, kN, lbf); a mass becomes "
    "a "
    "force by the gravity stated in the file.",
    "Data go to standard output; notes, warnings and progress go to standard error. When the exit code is 2, "
    "3 or 5, standard output stays empty.",
    NULL};

/* In our own words; the worksheets carry the longer checklist. */
const char *const hf_program_limits[] = {
    "A part under load stores energy. Protect eyes and feet, keep everybody out of the line of pull and from "
    "under the load, hold a slack catch line on the weights, and take hands away before each dwell. The rig "
    "should be rated for at least twice the highest step.",
    "Results hold for parts made, aged and pulled like those that were tested, new and for a short time. "
    "Ageing, weather, shock and long standing load are not in them, and statistics see no defect of another "
    "kind.",
    "Not for lifting or holding people, fall arrest, climbing, aircraft, loads over heads, pressure, or "
    "anything under a code or a law, without a competent and licensed person. Local codes win.",
    "The design factor is the decision of whoever uses the part. There is no warranty.", NULL};

const hf_program_row hf_program_environment[] = {
    {"NO_COLOR", "when set and not empty: no colours. --color always still wins"},
    {"CLICOLOR_FORCE", "when set, not empty and not 0: colours even when the output is not a terminal"},
    {"TERM", "dumb: no colours"},
    {"COLUMNS", "width of text output in columns, from 40 to 1000 (less counts as 40); else that of the "
                "terminal, else 80"},
    {"SOURCE_DATE_EPOCH", "seconds since 1970 that stand for the present where a date is written, so that a "
                          "script makes the same bytes again"},
    {NULL, NULL}};

const hf_program_row hf_program_files[] = {
    {"*.json", "campaign files, format holdfast-campaign/1"},
    {"*.json.log", "beside each, made at its first change: its journal, one line of JSON a change"},
    {NULL, NULL}};

void hf_program_option_label(const hf_option *option, hf_text *out) {
    if (option->letter) hf_text_addf(out, "-%c, ", option->letter);
    hf_text_addf(out, "--%s", option->name);
    if (option->value_name) hf_text_addf(out, " %s", option->value_name);
}

bool hf_program_paragraph(const char *description, size_t at, const char **start, size_t *length) {
    const char *from = description;
    for (;;) {
        const char *end = strstr(from, "\n\n");
        if (at == 0) {
            *start = from;
            *length = end ? (size_t)(end - from) : strlen(from);
            return true;
        }
        if (!end) return false;
        from = end + 2;
        at--;
    }
}
