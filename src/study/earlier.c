#include "holdfast/study/earlier.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/campaign/used.h"
#include "holdfast/comparing/group.h"
#include "holdfast/numeric/special.h"
#include "study/event.h"
#include "study/limits.h"

static const char *const codes[] = {
#define CODE(name, code, words) [HF_EARLIER_##name] = code,
    HF_EARLIER_LACK_LIST(CODE)
#undef CODE
};
static const char *const words_of[] = {
#define WORDS(name, code, words) [HF_EARLIER_##name] = words,
    HF_EARLIER_LACK_LIST(WORDS)
#undef WORDS
};

const char *hf_earlier_lack_code(hf_earlier_lack lack) {
    return codes[lack];
}

const char *hf_earlier_lack_words(hf_earlier_lack lack) {
    return words_of[lack];
}

const hf_earlier_kind *hf_earlier_kind_of(const hf_earlier *earlier, const char *name) {
    for (size_t i = 0; i < earlier->kind_count; i++)
        if (hf_compare_names(earlier->kinds[i].name, name) == 0) return &earlier->kinds[i];
    return NULL;
}

static hf_status describe(hf_arena *arena, hf_earlier_design *out) {
    hf_pulled pulled;
    hf_group group;
    size_t without;
    out->step = out->cv = out->s = out->degrees_of_freedom = out->low = out->high = NAN;
    out->batches = hf_batches_stated(out->design, &without);
    hf_status status = hf_design_sample(arena, out->campaign, out->design, &pulled);
    if (status != HF_OK) return status;
    out->parts = pulled.sample.count;
    out->lack = HF_EARLIER_FEW;
    if (out->parts < 2) return HF_OK;
    status = hf_group_of(arena, pulled.sample, &group);
    if (status == HF_MEMORY) return status;
    out->lack = HF_EARLIER_OPEN;
    if (status != HF_OK) return HF_OK;
    out->lack = HF_EARLIER_EQUAL;
    if (!(group.variance > 0)) return HF_OK;
    out->lack = HF_EARLIER_WIDE;
    if (!(group.h <= 1 && hf_cv_of_scatter(sqrt(group.variance)) <= 1)) return HF_OK;
    out->lack = HF_EARLIER_NOTHING;
    out->step = group.h;
    out->cv = group.s > 0 ? hf_cv_of_scatter(group.s) : 0;
    out->s = sqrt(group.variance);
    double nu = out->degrees_of_freedom = (double)group.n - 1;
    out->low = out->s * sqrt(nu / hf_chi2_quantile_upper(HF_SCATTER_TAIL, nu));
    out->high = out->s * sqrt(nu / hf_chi2_quantile_lower(HF_SCATTER_TAIL, nu));
    return HF_OK;
}

/* --- Kinds -------------------------------------------------------------------------------------------- */

static hf_status pool(hf_arena *arena, const hf_earlier *all, hf_earlier_kind *kind) {
    hf_earlier_scatter *earlier = HF_ARENA_NEW_ARRAY(arena, hf_earlier_scatter, all->count);
    if (!earlier) return HF_MEMORY;
    for (size_t i = 0; i < all->count; i++) {
        const hf_earlier_design *one = &all->designs[i];
        if (hf_compare_names(one->design->kind, kind->name) != 0) continue;
        if (one->lack == HF_EARLIER_NOTHING)
            earlier[kind->count++] = (hf_earlier_scatter){one->s, one->degrees_of_freedom};
        else
            kind->left_out++;
    }
    hf_stated_scatter stated = {0};
    if (kind->count) (void)hf_scatter_of_designs(earlier, kind->count, &kind->library, &stated);
    kind->pooled = stated.pooled;
    for (size_t n = 1; n <= HF_EARLIER_SIZES; n++) {
        hf_scatter_factors with;
        double error;
        kind->k[n - 1] = kind->alone[n - 1] = NAN;
        if (hf_scatter_factors_of(kind->pooled, n, all->content, all->confidence, &with) == HF_OK)
            kind->k[n - 1] = with.k;
        if (n > 1)
            (void)hf_family_normal.factor(n, all->content, all->confidence, &kind->alone[n - 1], &error);
    }
    return HF_OK;
}

/* Designs stand by kind, so a new name begins a new one. */
static hf_status gather_kinds(hf_arena *arena, hf_earlier *all) {
    hf_earlier_kind *kinds = HF_ARENA_NEW_ARRAY(arena, hf_earlier_kind, all->count);
    hf_status status = kinds ? HF_OK : HF_MEMORY;
    for (size_t i = 0; status == HF_OK && i < all->count; i++) {
        const char *name = all->designs[i].design->kind;
        if (i > 0 && hf_compare_names(all->designs[i - 1].design->kind, name) == 0) continue;
        hf_earlier_kind *kind = &kinds[all->kind_count++];
        *kind = (hf_earlier_kind){.name = name};
        status = pool(arena, all, kind);
    }
    all->kinds = kinds;
    return status;
}

/* --- Designs ------------------------------------------------------------------------------------------ */

/* Within a kind in the order given. */
static int by_kind(const void *a, const void *b) {
    const hf_earlier_design *x = a, *y = b;
    int order = hf_compare_names(x->design->kind, y->design->kind);
    return order ? order : (x->place > y->place) - (x->place < y->place);
}

/* Whose file is told by its bytes, whatever it is called: a design that counts twice would be worth twice. */
static hf_status add_file(const hf_campaign *const *campaigns, size_t at, hf_earlier_design *designs,
                          size_t *count, hf_error *error) {
    for (size_t i = 0; i < at; i++)
        if (strcmp(campaigns[i]->sha256, campaigns[at]->sha256) == 0)
            return hf_error_set(error, HF_USAGE,
                                "%s: the same pulls as in %s, expected each file once: a design that counts "
                                "twice would be worth twice",
                                campaigns[at]->file, campaigns[i]->file);
    for (size_t i = 0; i < campaigns[at]->design_count; i++, ++*count)
        designs[*count] = (hf_earlier_design){
            .campaign = campaigns[at], .design = &campaigns[at]->designs[i], .file = at, .place = *count};
    return HF_OK;
}

hf_status hf_earlier_of(hf_arena *arena, const hf_campaign *const *campaigns, size_t count, double content,
                        double confidence, const hf_earlier **out, hf_error *error) {
    hf_earlier *all = HF_ARENA_NEW(arena, hf_earlier);
    size_t designs = 0, kept = 0;
    for (size_t i = 0; i < count; i++) designs += campaigns[i]->design_count;
    hf_earlier_design *list = HF_ARENA_NEW_ARRAY(arena, hf_earlier_design, designs);
    if (!all || !list) return hf_error_set(error, HF_MEMORY, "out of memory");
    *all = (hf_earlier){.content = content,
                        .confidence = confidence,
                        .campaigns = campaigns,
                        .campaign_count = count,
                        .designs = list};
    for (size_t i = 0; i < count; i++)
        if (add_file(campaigns, i, list, &all->count, error) != HF_OK) return error->status;
    hf_status status = HF_OK;
    for (size_t i = 0; status == HF_OK && i < all->count; i++) {
        status = describe(arena, &list[i]);
        if (list[i].parts) list[kept++] = list[i]; /* a design that is only planned shows nothing */
    }
    all->count = kept;
    qsort(list, kept, sizeof *list, by_kind);
    if (status == HF_OK) status = gather_kinds(arena, all);
    *out = all;
    return status == HF_OK ? status : hf_error_set(error, status, "%s", hf_status_text(status));
}
