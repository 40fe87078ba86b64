#include "holdfast/campaign/hanging.h"

#include <math.h>

static const double sum_tolerance = 0.005; /* somebody may have rounded the load by hand */

/* How many of this weight are listed. */
static size_t owned_of(const hf_campaign *campaign, hf_load kind) {
    double newtons = hf_load_newtons(kind, campaign->gravity);
    size_t count = 0;
    for (size_t i = 0; i < campaign->weight_count; i++)
        if (fabs(campaign->weights[i].newtons - newtons) <= 1e-9 * newtons)
            count += campaign->weights[i].count;
    return count;
}

/* What hangs must be there and must make the load; else the sheet would have someone hang another one. */
static hf_status check_sum(const hf_campaign *campaign, const hf_written_rung *rung, const hf_hanging *load,
                           hf_error *error) {
    hf_rig_force rig = campaign->rig.force;
    double hung = 0, told = hf_rig_force_of_record(&rig, rung->newtons);
    for (size_t i = 0; i < load->count; i++) {
        size_t owned = owned_of(campaign, load->items[i].load);
        hung += (double)load->items[i].count * hf_load_newtons(load->items[i].load, campaign->gravity);
        if (campaign->weight_count && load->items[i].count > owned)
            return hf_error_set(error, HF_BAD_DATA,
                                "found weights \"%s\", expected no more than the listed weights "
                                "(%zu of %g %s)",
                                rung->weights, owned, load->items[i].load.value,
                                load->items[i].load.unit->name);
    }
    rig.records = HF_RIG_RECORDS_ADDED;
    double made = hf_rig_force_of_record(&rig, hung);
    if (fabs(made - told) > sum_tolerance * told)
        return hf_error_set(error, HF_BAD_DATA,
                            "found weights \"%s\", which put %.4g N on the part, expected the %.4g N "
                            "of its load",
                            rung->weights, made, told);
    return HF_OK;
}

hf_status hf_hanging_read(const hf_campaign *campaign, const hf_written_rung *rung, hf_hanging *out,
                          hf_error *error) {
    out->count = 0;
    if (!rung->weights || !rung->weights[0]) return HF_OK;
    if (hf_weight_list_read(rung->weights, NULL, out->items, HF_WEIGHT_LIST_MOST, &out->count, NULL) != HF_OK)
        return hf_error_set(error, HF_BAD_DATA,
                            "found weights \"%s\", expected a list such as \"6x10kg 2x5kg\"", rung->weights);
    return check_sum(campaign, rung, out, error);
}
