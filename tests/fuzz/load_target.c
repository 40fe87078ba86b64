/* Any bytes at all as a load. Promises checked:
 *   - never a crash; a refusal is HF_BAD_DATA with a message and leaves the load alone;
 *   - what is accepted is a finite number, not negative, with a unit of the table, or the bare unit when none is written;
 *   - the load written out again (shortest number, a space, the unit's name) reads as the same load;
 *   - with no bare unit, what has no unit is refused; with one, everything accepted before is accepted the same. */
#include <math.h>
#include <stdint.h>
#include <string.h>
#include "fuzz/must.h"
#include "holdfast/base/number.h"
#include "holdfast/load/unit.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void check_written(hf_load load) {
    char number[HF_NUMBER_SIZE], text[HF_NUMBER_SIZE + 8];
    hf_load again;
    (void)snprintf(text, sizeof text, "%s %s", hf_number_shortest(load.value, number), load.unit->name);
    MUST(hf_load_read(text, strlen(text), NULL, &again, NULL) == HF_OK);
    MUST(again.value == load.value && again.unit == load.unit);
    MUST(hf_load_newtons(again, HF_GRAVITY_STANDARD) == hf_load_newtons(load, HF_GRAVITY_STANDARD));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const char *text = (const char *)data;
    const hf_unit *newton = hf_unit_find("N", 1);
    hf_load strict = {-1, NULL}, bare = {-1, NULL};
    hf_error error;
    hf_status status = hf_load_read(text, size, NULL, &strict, &error);
    hf_status with_bare = hf_load_read(text, size, newton, &bare, NULL);
    if (status == HF_OK) {
        MUST(isfinite(strict.value) && strict.value >= 0 && strict.unit);
        MUST(hf_unit_find(strict.unit->name, strlen(strict.unit->name)) == strict.unit);
        MUST(with_bare == HF_OK && bare.value == strict.value && bare.unit == strict.unit);
        check_written(strict);
    } else {
        MUST(status == HF_BAD_DATA && error.status == status && error.message[0]);
        MUST(strict.value == -1 && strict.unit == NULL);
        if (with_bare == HF_OK)
            MUST(bare.unit == newton && bare.value >= 0);
        else
            MUST(bare.value == -1 && bare.unit == NULL);
    }
    return 0;
}
