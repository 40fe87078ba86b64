#include "campaign/reader.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/base/text.h"

enum { SHOWN = 60, /* bytes of a text */ MOST_KEYS = 40 };

const char *hf_reader_shown(const hf_json *node, char out[HF_SHOWN_SIZE]) {
    char number[HF_NUMBER_SIZE];
    if (node->kind == HF_JSON_TEXT) {
        (void)snprintf(out, HF_SHOWN_SIZE, "\"%.*s%s\"", SHOWN, node->text,
                       strlen(node->text) > SHOWN ? "..." : "");
    } else if (node->kind == HF_JSON_NUMBER) {
        (void)snprintf(out, HF_SHOWN_SIZE, "%s", hf_number_shortest(node->number, number));
    } else {
        (void)snprintf(out, HF_SHOWN_SIZE, "%s",
                       node->kind == HF_JSON_TRUE    ? "true"
                       : node->kind == HF_JSON_FALSE ? "false"
                                                     : hf_json_kind_name(node->kind));
    }
    return out;
}

bool hf_reader_wrong(hf_reader *reader, const hf_json *node, const char *expected) {
    char shown[HF_SHOWN_SIZE];
    hf_reader_error(reader, node, "found %s, expected %s", hf_reader_shown(node, shown), expected);
    return false;
}

static void range_text(const hf_key *key, char out[120]) {
    char low[HF_NUMBER_SIZE], high[HF_NUMBER_SIZE];
    hf_number_shortest(key->low, low);
    if (isinf(key->high)) {
        (void)snprintf(out, 120, "%s %s%s", key->open_low ? "above" : "of", low,
                       key->open_low ? "" : " or more");
        return;
    }
    hf_number_shortest(key->high, high);
    (void)snprintf(out, 120, "%s %s and %s %s", key->open_low ? "above" : "at least", low,
                   key->open_high ? "below" : "at most", high);
}

static bool in_range(const hf_key *key, double value) {
    if (key->low == 0 && key->high == 0) return true;
    bool low = key->open_low ? value > key->low : value >= key->low;
    return low && (key->open_high ? value < key->high : value <= key->high);
}

bool hf_read_load(hf_reader *reader, const hf_json *node, double *newtons, hf_load *as_written) {
    hf_load load;
    hf_error error;
    if (node->kind == HF_JSON_NUMBER) {
        load = (hf_load){node->number, reader->unit};
        if (load.value < 0) return hf_reader_wrong(reader, node, "a load of 0 or more");
    } else if (node->kind != HF_JSON_TEXT) {
        return hf_reader_wrong(reader, node, "a load: a number, or a text such as \"18 kg\"");
    } else if (hf_load_read(node->text, strlen(node->text), reader->unit, &load, &error) != HF_OK) {
        hf_reader_error(reader, node, "%s", error.message);
        return false;
    }
    *newtons = hf_load_newtons(load, reader->gravity);
    if (!(*newtons <= HF_LOAD_LIMIT)) return hf_reader_wrong(reader, node, "a load of at most 1e12 N");
    if (as_written) *as_written = load;
    return true;
}

static void read_load(hf_reader *reader, const hf_json *node, const hf_key *key, hf_maybe *into) {
    double value;
    if (!hf_read_load(reader, node, &value, NULL)) return;
    if (key->low > 0 && !(value > 0)) {
        (void)hf_reader_wrong(reader, node, "a load above 0");
        return;
    }
    *into = (hf_maybe){true, value};
}

static void read_number(hf_reader *reader, const hf_json *node, const hf_key *key, hf_maybe *into) {
    char range[120], expected[160];
    bool whole = key->kind == HF_KEY_WHOLE;
    if (node->kind != HF_JSON_NUMBER) {
        (void)hf_reader_wrong(reader, node, whole ? "a whole number" : "a number");
        return;
    }
    bool good = in_range(key, node->number) && (!whole || node->number == floor(node->number));
    if (good) {
        *into = (hf_maybe){true, node->number};
        return;
    }
    range_text(key, range);
    (void)snprintf(expected, sizeof expected, "%s %s", whole ? "a whole number" : "a number", range);
    (void)hf_reader_wrong(reader, node, expected);
}

static const char *choice(const hf_key *key, int at) {
    return key->choice_at ? key->choice_at((size_t)at) : key->choices[at];
}

static void read_choice(hf_reader *reader, const hf_json *node, const hf_key *key, int *into) {
    hf_text list = {0};
    const char *word;
    for (int i = 0; (word = choice(key, i)); i++) {
        if (node->kind == HF_JSON_TEXT && strcmp(node->text, word) == 0) {
            *into = i + 1;
            hf_text_free(&list);
            return;
        }
        hf_text_addf(&list, "%s\"%s\"", i == 0 ? "" : choice(key, i + 1) ? ", " : " or ", word);
    }
    (void)hf_reader_wrong(reader, node, list.bytes ? list.bytes : "another word");
    hf_text_free(&list);
}

static int two_digits(const char *text) {
    if (text[0] < '0' || text[0] > '9' || text[1] < '0' || text[1] > '9') return -1;
    return (text[0] - '0') * 10 + text[1] - '0';
}

/* YYYY-MM-DD, also with Thh:mm or Thh:mm:ss. */
static bool is_date(const char *text) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    size_t length = strlen(text);
    if ((length != 10 && length != 16 && length != 19) || text[4] != '-' || text[7] != '-') return false;
    int century = two_digits(text), rest = two_digits(text + 2), month = two_digits(text + 5),
        day = two_digits(text + 8);
    if (century < 0 || rest < 0 || month < 1 || month > 12 || day < 1) return false;
    int year = century * 100 + rest;
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    if (day > days[month - 1] + (month == 2 && leap)) return false;
    if (length == 10) return true;
    int hour = two_digits(text + 11), minute = two_digits(text + 14);
    if (text[10] != 'T' || text[13] != ':' || hour < 0 || hour > 23 || minute < 0 || minute > 59)
        return false;
    if (length == 16) return true;
    int second = two_digits(text + 17);
    return text[16] == ':' && second >= 0 && second <= 59;
}

static void read_text(hf_reader *reader, const hf_json *node, const hf_key *key, const char **into) {
    if (node->kind != HF_JSON_TEXT) {
        (void)hf_reader_wrong(reader, node,
                              key->kind == HF_KEY_DATE ? "a date such as \"2026-05-02\"" : "a text");
        return;
    }
    if (key->kind == HF_KEY_DATE && !is_date(node->text)) {
        (void)hf_reader_wrong(reader, node, "a date of the calendar such as \"2026-05-02\"");
        return;
    }
    if ((key->required || key->kind == HF_KEY_ID) && !node->text[0]) {
        (void)hf_reader_wrong(reader, node, "a text that is not empty");
        return;
    }
    *into = node->text;
}

static void read_info(hf_reader *reader, const hf_json *node, hf_info *into) {
    if (node->kind != HF_JSON_OBJECT) {
        (void)hf_reader_wrong(reader, node, "an object of texts");
        return;
    }
    hf_info_pair *pairs = HF_ARENA_NEW_ARRAY(reader->arena, hf_info_pair, node->count);
    size_t count = 0;
    for (const hf_json *child = node->first; pairs && child; child = child->next) {
        if (child->kind == HF_JSON_TEXT)
            pairs[count++] = (hf_info_pair){child->key, child->text};
        else
            (void)hf_reader_wrong(reader, child, "a text");
    }
    *into = (hf_info){pairs, count};
}

static void read_node(hf_reader *reader, const hf_json *node, const hf_key *key, const hf_json **into) {
    if (key->kind == HF_KEY_LIST && node->kind != HF_JSON_ARRAY)
        (void)hf_reader_wrong(reader, node, "a list in [ ]");
    else if (key->kind == HF_KEY_OBJECT && node->kind != HF_JSON_OBJECT)
        (void)hf_reader_wrong(reader, node, "an object in { }");
    else
        *into = node;
}

static void read_member(hf_reader *reader, const hf_json *node, const hf_key *key, char *place) {
    switch (key->kind) {
    case HF_KEY_TEXT:
    case HF_KEY_ID:
    case HF_KEY_DATE:
        read_text(reader, node, key, (const char **)(void *)place);
        break;
    case HF_KEY_LOAD:
        read_load(reader, node, key, (hf_maybe *)(void *)place);
        break;
    case HF_KEY_NUMBER:
    case HF_KEY_WHOLE:
        read_number(reader, node, key, (hf_maybe *)(void *)place);
        break;
    case HF_KEY_CHOICE:
        read_choice(reader, node, key, (int *)(void *)place);
        break;
    case HF_KEY_INFO:
        read_info(reader, node, (hf_info *)(void *)place);
        break;
    case HF_KEY_NODE:
    case HF_KEY_LIST:
    case HF_KEY_OBJECT:
        read_node(reader, node, key, (const hf_json **)(void *)place);
        break;
    case HF_KEY_FLAG:
        if (node->kind == HF_JSON_TRUE || node->kind == HF_JSON_FALSE)
            *(bool *)place = node->kind == HF_JSON_TRUE;
        else
            (void)hf_reader_wrong(reader, node, "true or false");
        break;
    }
}

static void unknown_key(hf_reader *reader, const hf_json *node, const hf_key *keys, size_t count) {
    const char *names[MOST_KEYS];
    char message[HF_MESSAGE_SIZE];
    hf_text list = {0};
    for (size_t i = 0; i < count && i < MOST_KEYS; i++) {
        names[i] = keys[i].name;
        hf_text_addf(&list, "%s%s", i ? ", " : "", names[i]);
    }
    const char *nearest = hf_text_nearest(node->key, names, count < MOST_KEYS ? count : MOST_KEYS);
    if (nearest)
        (void)snprintf(message, sizeof message, "found unknown key \"%.60s\", expected \"%s\"?", node->key,
                       nearest);
    else
        (void)snprintf(message, sizeof message, "found unknown key \"%.60s\", expected one of %s", node->key,
                       list.bytes ? list.bytes : "");
    hf_text_free(&list);
    hf_finding finding = {.severity = HF_SEVERITY_ERROR,
                          .code = "unknown_key",
                          .line = node->key_line,
                          .column = node->key_column};
    finding.message = hf_arena_text(reader->arena, message, strlen(message));
    hf_reader_find(reader, finding, node);
}

/* An older program would refuse the key, so the file has to say that it is of the newer format. */
static void check_version(hf_reader *reader, const hf_json *node, const hf_key *key) {
    if (key->since > reader->version)
        hf_reader_error(reader, node,
                        "found \"%s\" in a file of format %d, expected \"format\": \"holdfast-campaign/%d\" "
                        "at its top",
                        key->name, reader->version, key->since);
}

bool hf_read_object(hf_reader *reader, const hf_json *node, const hf_key *keys, size_t count, void *into) {
    bool seen[MOST_KEYS] = {false};
    if (node->kind != HF_JSON_OBJECT) return hf_reader_wrong(reader, node, "an object in { }");
    for (const hf_json *child = node->first; child; child = child->next) {
        size_t i = 0;
        while (i < count && strcmp(keys[i].name, child->key) != 0) i++;
        if (i == count) {
            unknown_key(reader, child, keys, count);
            continue;
        }
        seen[i] = true;
        check_version(reader, child, &keys[i]);
        read_member(reader, child, &keys[i], (char *)into + keys[i].offset);
    }
    for (size_t i = 0; i < count; i++)
        if (keys[i].required && !seen[i])
            hf_reader_error(reader, node, "found no key \"%s\", which is required", keys[i].name);
    return true;
}
