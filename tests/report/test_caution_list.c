/* The list of cautions: every row whole, every sentence sayable, and docs/cautions.md as the list is. HF_UPDATE=1 writes the page anew;
 * read what changed. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/file.h"
#include "holdfast/words/report.h"

static const char *const identifiers[] = {
#define HF_CAUTION(name, code, rank, title, slots, sentence) #name,
#include "holdfast/study/caution_list.h"
};

static size_t slot_count(const hf_caution_row *row) {
    size_t count = 0;
    while (count < HF_CAUTION_SLOTS && row->slots[count].name) count++;
    return count;
}

static bool is_slot(const hf_caution_row *row, const char *name, size_t length) {
    for (size_t i = 0; i < slot_count(row); i++)
        if (strlen(row->slots[i].name) == length && strncmp(row->slots[i].name, name, length) == 0)
            return true;
    return false;
}

START_TEST(row_should_be_whole) {
    const hf_caution_row *row = hf_caution_row_of((hf_caution_code)_i);
    size_t numbers = 0, texts = 0;
    ck_assert_uint_eq(strlen(row->code), strlen(identifiers[_i]));
    for (size_t i = 0; row->code[i]; i++) {
        char upper = row->code[i] >= 'a' && row->code[i] <= 'z' ? (char)(row->code[i] - 32) : row->code[i];
        ck_assert_msg(upper == identifiers[_i][i], "%s is named HF_CAUTION_%s", row->code, identifiers[_i]);
    }
    for (int i = 0; i < _i; i++) ck_assert_str_ne(hf_caution_row_of((hf_caution_code)i)->code, row->code);
    ck_assert_msg(_i == 0 || hf_caution_row_of((hf_caution_code)(_i - 1))->rank >= row->rank,
                  "%s stands below a row of lower rank", row->code);
    ck_assert_msg(row->title && row->title[0], "%s has no title", row->code);
    ck_assert_msg(hf_caution_has_words((hf_caution_code)_i),
                  "%s has neither a sentence nor a function, or both", row->code);
    for (size_t i = 0; i < slot_count(row); i++) {
        *(hf_slot_is_text(row->slots[i].type) ? &texts : &numbers) += 1;
        for (size_t j = 0; j < i; j++) ck_assert_str_ne(row->slots[i].name, row->slots[j].name);
    }
    ck_assert_msg(numbers <= HF_CAUTION_NUMBERS && texts <= HF_CAUTION_TEXTS, "%s has too many slots",
                  row->code);
}
END_TEST

/* Braces close, brackets close and are not nested, every {name} is a slot and every slot is named. */
START_TEST(template_should_name_its_slots) {
    const hf_caution_row *row = hf_caution_row_of((hf_caution_code)_i);
    bool clause = false;
    if (!row->sentence) return;
    for (const char *at = row->sentence; *at; at++) {
        ck_assert_msg(*at != '}', "%s: a brace closes that was not opened", row->code);
        if (*at == '[' || *at == ']') {
            ck_assert_msg(clause == (*at == ']'), "%s: brackets do not match", row->code);
            clause = !clause;
        }
        if (*at != '{') continue;
        const char *close = strchr(at, '}');
        ck_assert_msg(close && is_slot(row, at + 1, strcspn(at + 1, "|}")), "%s: no slot: %.20s", row->code,
                      at);
        at = close;
    }
    ck_assert_msg(!clause, "%s: a bracket stays open", row->code);
    for (size_t i = 0; i < slot_count(row); i++) {
        char field[80];
        (void)snprintf(field, sizeof field, "{%s", row->slots[i].name);
        ck_assert_msg(strstr(row->sentence, field), "%s does not say its %s", row->code, row->slots[i].name);
    }
}
END_TEST

/* A caution of this code with every slot filled, numbers from `first` on. */
static hf_caution filled(hf_caution_code code, double first) {
    hf_caution out = {.code = code, .text = {"ring-07", "weak", "roll 3"}};
    for (size_t i = 0; i < HF_CAUTION_NUMBERS; i++) out.number[i] = first + 3 * (double)i;
    return out;
}

static hf_text say(const hf_caution *caution, const char *unit) {
    hf_text out = {0};
    hf_report_style style = {hf_unit_find(unit, strlen(unit)), 9.81, 80, false, HF_STRIP_NONE};
    hf_caution_say(caution, &style, &out);
    return out;
}

static void check_sentence(const hf_caution *caution) {
    hf_text words = say(caution, "N");
    const char *code = hf_caution_row_of(caution->code)->code;
    ck_assert_msg(words.length > 20 && strchr(".?)", words.bytes[words.length - 1]), "%s: %s", code,
                  words.bytes);
    ck_assert_msg(words.bytes[0] != ' ' && !strstr(words.bytes, "  ") && !strstr(words.bytes, " ."), "%s: %s",
                  code, words.bytes);
    ck_assert_msg(!strpbrk(words.bytes, "{}[]|?") && !strstr(words.bytes, "nan") &&
                      !strstr(words.bytes, "inf "),
                  "%s: %s", code, words.bytes);
    hf_text_free(&words);
}

START_TEST(sentence_should_be_whole_with_and_without_optional_values) {
    const hf_caution_row *row = hf_caution_row_of((hf_caution_code)_i);
    hf_caution caution = filled((hf_caution_code)_i, 1);
    check_sentence(&caution);
    caution = filled((hf_caution_code)_i, 2);
    check_sentence(&caution);
    size_t number = 0, text = 0;
    for (size_t i = 0; i < slot_count(row); i++) {
        bool is_text = hf_slot_is_text(row->slots[i].type);
        if (row->slots[i].optional && is_text) caution.text[text] = NULL;
        if (row->slots[i].optional && !is_text) caution.number[number] = NAN;
        *(is_text ? &text : &number) += 1;
    }
    ck_assert(hf_caution_is_filled(&caution));
    check_sentence(&caution);
}
END_TEST

START_TEST(slot_that_must_have_a_value_should_be_missed) {
    const hf_caution_row *row = hf_caution_row_of((hf_caution_code)_i);
    size_t number = 0, text = 0;
    for (size_t i = 0; i < slot_count(row); i++) {
        hf_caution caution = filled((hf_caution_code)_i, 2);
        ck_assert(hf_caution_is_filled(&caution));
        if (hf_slot_is_text(row->slots[i].type))
            caution.text[text++] = NULL;
        else
            caution.number[number++] = i % 2 ? NAN : INFINITY;
        ck_assert_msg(hf_caution_is_filled(&caution) == row->slots[i].optional, "%s: %s", row->code,
                      row->slots[i].name);
    }
}
END_TEST

START_TEST(worst_should_be_of_highest_rank_and_first_in_the_list) {
    hf_caution items[] = {{.code = HF_CAUTION_NO_RATING},
                          {.code = HF_CAUTION_FEW_PARTS},
                          {.code = HF_CAUTION_ONE_PART},
                          {.code = HF_CAUTION_ASSUMED_SCATTER},
                          {.code = HF_CAUTION_BATCHES_DIFFER}};
    const int worst[] = {-1, 0, 1, 2, 3, 4};
    for (size_t count = 0; count <= 5; count++) {
        const hf_cautions list = {items, count, count};
        ck_assert_int_eq(hf_cautions_worst(&list), worst[count]);
    }
    const hf_cautions list = {items, 5, 5};
    ck_assert(hf_cautions_have(&list, HF_CAUTION_ONE_PART));
    ck_assert(!hf_cautions_have(&list, HF_CAUTION_TWO_PARTS));
}
END_TEST

/* --- docs/cautions.md -------------------------------------------------------------------------------- */

static const char *const type_words[] = {[HF_SLOT_LOAD_BOUND] = "promised load",
                                         [HF_SLOT_LOAD_RATING] = "working load",
                                         [HF_SLOT_LOAD_SEEN] = "load seen",
                                         [HF_SLOT_LOAD_STATED] = "load stated",
                                         [HF_SLOT_LOAD_ROUGH] = "load expected",
                                         [HF_SLOT_SHARE] = "share",
                                         [HF_SLOT_SHARE_ROUGH] = "share",
                                         [HF_SLOT_NUMBER] = "number",
                                         [HF_SLOT_RATIO] = "number",
                                         [HF_SLOT_SIGNIFICANCE] = "significance",
                                         [HF_SLOT_COUNT] = "count",
                                         [HF_SLOT_NAME] = "text",
                                         [HF_SLOT_WORDS] = "text"};

static const char opening[] =
    "# Cautions\n\n"
    "What Holdfast tells beside a number, each under a code of its own. Text, pages, notebook and JSON say "
    "the same, in the same words and with "
    "the same\nnumbers; in JSON each caution is\n\n"
    "    {\"code\": …, \"title\": …, \"rank\": …, \"text\": …, \"values\": {name: value, …}}\n\n"
    "The values are those of the sentence by name. Loads stand in the `unit` of the result, like every other "
    "load in it; shares are fractions of 1. "
    "The text\nrounds, a promised load and a working load always down; JSON has the full number. A value in "
    "brackets may be missing: it is then "
    "`null`, with the\nreason beside it.\n\n"
    "| rank | what it takes from the number |\n| --- | --- |\n"
    "| `breaks` | it may be wrong in the unsafe direction, or something asked for is not met |\n"
    "| `hangs` | it hangs on something that these pulls cannot check |\n"
    "| `weakens` | it stands, with this beside it |\n"
    "| `notes` | nothing: told below it |\n\n"
    "The weightiest first; of equal rank the upper one leads.\n\n"
    "| code | rank | title | values |\n| --- | --- | --- | --- |\n";

static void add_row(hf_text *out, const hf_caution_row *row) {
    hf_text_addf(out, "| `%s` | %s | %s |", row->code, hf_caution_rank_name(row->rank), row->title);
    for (size_t i = 0; i < slot_count(row); i++) {
        const hf_caution_slot *slot = &row->slots[i];
        hf_text_addf(out, "%s%s`%s` %s%s", i ? ", " : " ", slot->optional ? "[" : "", slot->name,
                     type_words[slot->type], slot->optional ? "]" : "");
    }
    hf_text_add(out, slot_count(row) ? " |\n" : " – |\n");
}

START_TEST(page_should_be_as_the_list) {
    hf_text made = {0}, page = {0};
    char path[400];
    (void)snprintf(path, sizeof path, "%s/../docs/cautions.md", HF_TEST_DIR);
    hf_text_add(&made, opening);
    for (int i = 0; i < HF_CAUTION_COUNT; i++) add_row(&made, hf_caution_row_of((hf_caution_code)i));
    if (getenv("HF_UPDATE")) ck_assert_int_eq(hf_file_replace(path, made.bytes, made.length, NULL), HF_OK);
    ck_assert_int_eq(hf_file_read(path, 1000000, &page, NULL), HF_OK);
    ck_assert_msg(strcmp(page.bytes, made.bytes) == 0,
                  "docs/cautions.md is not as the list; HF_UPDATE=1 writes it");
    hf_text_free(&made);
    hf_text_free(&page);
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("list of cautions");
    TCase *rows = tcase_create("rows");
    tcase_add_loop_test(rows, row_should_be_whole, 0, HF_CAUTION_COUNT);
    tcase_add_loop_test(rows, template_should_name_its_slots, 0, HF_CAUTION_COUNT);
    tcase_add_loop_test(rows, sentence_should_be_whole_with_and_without_optional_values, 0, HF_CAUTION_COUNT);
    tcase_add_loop_test(rows, slot_that_must_have_a_value_should_be_missed, 0, HF_CAUTION_COUNT);
    tcase_add_test(rows, worst_should_be_of_highest_rank_and_first_in_the_list);
    tcase_add_test(rows, page_should_be_as_the_list);
    suite_add_tcase(out, rows);
    return out;
}

HF_TEST_MAIN(suite)
