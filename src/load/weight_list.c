#include "holdfast/load/weight_list.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_OF_A_KIND = 10000 };

static const char separators[] = " ;\t";

/* End of one item: behind the unit, which may stand apart from its number. */
static size_t item_length(const char *at) {
    size_t end = strcspn(at, separators), rest = strspn(at + end, " ");
    bool has_unit = strcspn(at, "kgNlbstozMdaf") < end;
    if (has_unit || !at[end] || at[end] == ';' || isdigit((unsigned char)at[end + rest])) return end;
    return end + rest + strcspn(at + end + rest, separators);
}

hf_status hf_weight_list_read(const char *text, const hf_unit *bare, hf_weight_item *items, size_t limit,
                              size_t *count, hf_error *error) {
    *count = 0;
    for (const char *at = text + strspn(text, separators); *at; at += strspn(at, separators)) {
        size_t digits = strspn(at, "0123456789");
        if (!digits || digits > 5 || at[digits] != 'x')
            return hf_error_set(error, HF_USAGE, "found weights \"%.60s\", expected such as \"6x10kg 2x5kg\"",
                                text);
        const char *load = at + digits + 1 + strspn(at + digits + 1, " ");
        size_t load_length = item_length(load), length = (size_t)(load - at) + load_length;
        if (*count == limit)
            return hf_error_set(error, HF_USAGE, "found more than %zu kinds of weights", limit);
        hf_weight_item *item = &items[*count];
        item->count = (size_t)strtoul(at, NULL, 10);
        if (hf_load_read(load, load_length, bare, &item->load, error) != HF_OK) {
            if (error) error->status = HF_USAGE;
            return HF_USAGE;
        }
        if (!item->count || item->count > MOST_OF_A_KIND || !(item->load.value > 0))
            return hf_error_set(error, HF_USAGE,
                                "found weights \"%.*s\", expected 1 to %d pieces of a load above 0",
                                (int)length, at, MOST_OF_A_KIND);
        ++*count;
        at += length;
    }
    return *count ? HF_OK
                  : hf_error_set(error, HF_USAGE, "found no weights, expected such as \"6x10kg 2x5kg\"");
}
