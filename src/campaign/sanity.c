#include "holdfast/campaign/sanity.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "campaign/makeable.h"
#include "holdfast/base/number.h"

static const char *const codes[] = {
#define HF_DOUBT_CODE(name, code) [HF_DOUBT_##name] = code,
    HF_DOUBT_LIST(HF_DOUBT_CODE)};

/* Of one design, ascending. */
typedef struct known_pulls {
    double *middles; /* NULL: not looked at yet */
    size_t count;
} known_pulls;

struct hf_sanity {
    hf_arena *arena;
    const hf_campaign *campaign;
    known_pulls *known; /* of each design */
    hf_makeable made;
    double made_to; /* N: loads up to this are in it */
};

typedef struct doubter {
    hf_arena *arena;
    const hf_campaign *campaign;
    hf_sanity *sanity;
    const hf_design *design;
    const hf_specimen *specimen;
    hf_doubt *list;
    size_t count;
} doubter;

/* A recorded load in the unit in which `key` stands there, else in the file's. */
static const char *shown(const doubter *d, const char *key, double newtons) {
    const hf_json *node = hf_json_get(d->specimen->node, key);
    const hf_unit *unit = d->campaign->unit;
    hf_load load;
    char number[HF_NUMBER_SIZE];
    if (node && node->kind == HF_JSON_TEXT &&
        hf_load_read(node->text, strlen(node->text), unit, &load, NULL) == HF_OK)
        unit = load.unit;
    double value = newtons / hf_unit_newtons(unit, d->campaign->gravity);
    const char *text =
        hf_arena_format(d->arena, "%s %s", hf_number_shortest(hf_number_round(value, 4), number), unit->name);
    return text ? text : "";
}

/* "set_held" is said by --set-held. */
static const char *option_of(const doubter *d, const char *key) {
    char *option = hf_arena_text(d->arena, key, strlen(key));
    for (char *at = option; at && *at; at++)
        if (*at == '_') *at = '-';
    return option ? option : key;
}

static void doubt(doubter *d, hf_doubt_code code, const char *key, double load, double nearest,
                  const char *words) {
    if (d->count == HF_DOUBTS_MOST || !words) return;
    d->list[d->count++] = (hf_doubt){.code = codes[code],
                                     .part = d->specimen->id,
                                     .option = option_of(d, key),
                                     .said = shown(d, key, load),
                                     .nearest = isnan(nearest) ? NULL : shown(d, key, nearest),
                                     .words = words};
}

/* Newtons typed into a file of kilograms: what was said, taken as newtons, could be. */
static const char *as_newtons(const doubter *d, const char *key, double load, double most) {
    const hf_json *node = hf_json_get(d->specimen->node, key);
    bool bare = node && node->kind == HF_JSON_NUMBER && d->campaign->unit->is_mass;
    if (!bare || node->number > most) return "";
    double kilograms = load / hf_unit_newtons(d->campaign->unit, d->campaign->gravity) / d->campaign->gravity;
    char number[HF_NUMBER_SIZE], other[HF_NUMBER_SIZE];
    const char *text = hf_arena_format(
        d->arena, " (read in newtons it is %s N, about %s kg)", hf_number_shortest(node->number, number),
        hf_number_shortest(hf_number_round(kilograms * d->campaign->unit->factor, 3), other));
    return text ? text : "";
}

/* What the weights make, as far as a load asks; more is looked at only when a greater load asks. */
static const hf_makeable *made_up_to(hf_sanity *sanity, double most) {
    if (sanity->made.sums && most <= sanity->made_to) return &sanity->made;
    hf_makeable more = hf_makeable_up_to(sanity->campaign, most);
    if (!more.sums) return NULL;
    hf_makeable_free(&sanity->made);
    sanity->made = more;
    sanity->made_to = most;
    return &sanity->made;
}

static void doubt_weights(doubter *d, const char *key, hf_maybe load) {
    double all = hf_all_weights(d->campaign);
    if (!load.given || load.value == 0 || !d->campaign->weight_count ||
        d->campaign->rig.force.records != HF_RIG_RECORDS_ADDED)
        return;
    if (load.value > all * (1 + HF_MAKEABLE_TOLERANCE)) {
        doubt(d, HF_DOUBT_ABOVE_WEIGHTS, key, load.value, all,
              hf_arena_format(d->arena, "--%s %s is more than all the listed weights together, %s%s",
                              option_of(d, key), shown(d, key, load.value), shown(d, key, all),
                              as_newtons(d, key, load.value, all)));
        return;
    }
    const hf_makeable *made = made_up_to(d->sanity, fmin(all, 2 * load.value));
    if (!made || hf_makeable_is(made, load.value)) return;
    double nearest = hf_makeable_nearest(made, load.value);
    doubt(d, HF_DOUBT_NOT_MAKEABLE, key, load.value, nearest,
          hf_arena_format(d->arena,
                          "--%s %s cannot be made from the listed weights; the nearest that can is %s",
                          option_of(d, key), shown(d, key, load.value), shown(d, key, nearest)));
}

static const char *top_key(const hf_specimen *s) {
    return s->failed.given ? "failed" : s->peak.given ? "peak" : "held";
}

static double top_load(const hf_specimen *s) {
    return s->failed.given ? s->failed.value : s->peak.given ? s->peak.value : s->held.value;
}

static void doubt_rating(doubter *d) {
    const hf_specimen *s = d->specimen;
    const hf_pull *pull = s->pull.kind != HF_INTERVAL_NONE ? &s->pull : &s->voided;
    hf_maybe rating = d->campaign->rig.rating;
    double top = isinf(pull->upper) ? pull->lower : pull->upper;
    char force[HF_NUMBER_SIZE], most[HF_NUMBER_SIZE];
    if (!rating.given || pull->kind == HF_INTERVAL_NONE || top <= rating.value) return;
    doubt(d, HF_DOUBT_ABOVE_RATING, top_key(s), top_load(s), NAN,
          hf_arena_format(d->arena, "--%s %s puts %s N on the part, above the rig's rating of %s N",
                          top_key(s), shown(d, top_key(s), top_load(s)), hf_number_figures(top, 4, force),
                          hf_number_figures(rating.value, 4, most)));
}

static const hf_written_ladder *ladder_of(const hf_campaign *campaign, const hf_design *design) {
    for (size_t i = 0; i < campaign->plan.count; i++)
        if (strcmp(campaign->plan.ladders[i].design, design->id) == 0) return &campaign->plan.ladders[i];
    return NULL;
}

size_t hf_rungs_between(const hf_campaign *campaign, const hf_design *design, const hf_specimen *specimen,
                        double *below, double *above) {
    const hf_written_ladder *ladder = ladder_of(campaign, design);
    size_t count = 0;
    double held = specimen->held.given ? specimen->held.value : 0;
    *below = *above = NAN;
    if (!ladder || !specimen->failed.given) return 0;
    for (size_t i = 0; i < ladder->count; i++) {
        double rung = ladder->rungs[i].newtons;
        if (rung <= held * (1 + HF_MAKEABLE_TOLERANCE)) continue;
        if (isnan(*above)) *above = rung;
        if (rung >= specimen->failed.value * (1 - HF_MAKEABLE_TOLERANCE)) break;
        *below = rung;
        count++;
    }
    return count;
}

static void doubt_ladder(doubter *d) {
    const hf_specimen *s = d->specimen;
    double below, above;
    size_t count = hf_rungs_between(d->campaign, d->design, s, &below, &above);
    if (!count) return;
    const char *held = s->held.given ? hf_arena_format(d->arena, "--held %s", shown(d, "held", s->held.value))
                                     : "no load held";
    doubt(d, HF_DOUBT_RUNGS_BETWEEN, "held", s->held.given ? s->held.value : 0, below,
          hf_arena_format(
              d->arena, "between %s and --failed %s %s %zu %s of the plan's ladder, from %s to %s",
              held ? held : "", shown(d, "failed", s->failed.value), count == 1 ? "lies" : "lie", count,
              count == 1 ? "rung" : "rungs", shown(d, "failed", above), shown(d, "failed", below)));
}

double hf_pull_middle(const hf_specimen *s) {
    if (s->pull.kind == HF_INTERVAL_NONE || s->outcome == HF_OUTCOME_RIG) return 0;
    return isinf(s->pull.upper) ? s->pull.lower : (s->pull.lower + s->pull.upper) / 2;
}

static int compare_doubles(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void look_at(hf_arena *arena, const hf_design *design, known_pulls *out) {
    out->middles = HF_ARENA_NEW_ARRAY(arena, double, design->specimen_count + 1);
    out->count = 0;
    for (size_t i = 0; out->middles && i < design->specimen_count; i++) {
        double middle = hf_pull_middle(&design->specimens[i]);
        if (middle > 0) out->middles[out->count++] = middle;
    }
    if (out->count) qsort(out->middles, out->count, sizeof *out->middles, compare_doubles);
}

/* The middle one of `count`, the left-out one passed over. */
static double median_without(const known_pulls *known, size_t left_out, size_t count) {
    size_t low = (count - 1) / 2, high = count / 2;
    return (known->middles[low + (low >= left_out)] + known->middles[high + (high >= left_out)]) / 2;
}

/* `but`: its own middle, which says nothing of it; 0: none is left out. */
static double known_of(const hf_design *design, const known_pulls *known, double but) {
    size_t left_out = known->count, count = known->count;
    const double *found =
        but > 0 && count ? bsearch(&but, known->middles, count, sizeof but, compare_doubles) : NULL;
    if (found) left_out = (size_t)(found - known->middles);
    count -= found != NULL;
    if (count < HF_UNLIKE_PULLS) return design->guess.mean.given ? design->guess.mean.value : 0;
    return median_without(known, left_out, count);
}

double hf_known_strength(hf_arena *arena, const hf_design *design) {
    known_pulls known;
    look_at(arena, design, &known);
    return known_of(design, &known, 0);
}

int hf_pull_unlike(const hf_specimen *s, double known) {
    double middle = hf_pull_middle(s);
    if (!(known > 0) || !(middle > 0)) return 0;
    if (middle > HF_UNLIKE_RATIO * known) return 1;
    return middle * HF_UNLIKE_RATIO < known && !isinf(s->pull.upper) ? -1 : 0;
}

static void doubt_likeness(doubter *d) {
    const hf_specimen *s = d->specimen;
    known_pulls *pulls = &d->sanity->known[d->design - d->campaign->designs];
    if (!pulls->middles) look_at(d->arena, d->design, pulls);
    double middle = hf_pull_middle(s), known = known_of(d->design, pulls, middle);
    int unlike = hf_pull_unlike(s, known);
    char pull[HF_NUMBER_SIZE], other[HF_NUMBER_SIZE];
    if (!unlike) return;
    doubt(d, HF_DOUBT_UNLIKE_DESIGN, top_key(s), top_load(s), NAN,
          hf_arena_format(d->arena, "--%s %s makes about %s N on the part, %s the %s N known of %s",
                          top_key(s), shown(d, top_key(s), top_load(s)), hf_number_figures(middle, 3, pull),
                          unlike > 0 ? "more than three times" : "less than a third of",
                          hf_number_figures(known, 3, other), d->design->id));
}

hf_sanity *hf_sanity_start(hf_arena *arena, const hf_campaign *campaign) {
    hf_sanity *sanity = HF_ARENA_NEW(arena, hf_sanity);
    known_pulls *known = HF_ARENA_NEW_ARRAY(arena, known_pulls, campaign->design_count + 1);
    if (!sanity || !known) return NULL;
    *sanity = (hf_sanity){.arena = arena, .campaign = campaign, .known = known};
    return sanity;
}

void hf_sanity_end(hf_sanity *sanity) {
    if (sanity) hf_makeable_free(&sanity->made);
}

size_t hf_sanity_check(hf_sanity *sanity, const hf_design *design, const hf_specimen *specimen,
                       hf_doubt *list) {
    doubter d = {sanity->arena, sanity->campaign, sanity, design, specimen, list, 0};
    doubt_weights(&d, "held", specimen->held);
    doubt_weights(&d, "failed", specimen->failed);
    if (!specimen->peak.given) { /* else read on the scale */
        doubt_weights(&d, "set_held", specimen->set_held);
        doubt_weights(&d, "set_seen", specimen->set_seen);
    }
    doubt_rating(&d);
    if (specimen->outcome == HF_OUTCOME_FAILED || specimen->outcome == HF_OUTCOME_HELD) {
        doubt_ladder(&d);
        doubt_likeness(&d);
    }
    return d.count;
}
