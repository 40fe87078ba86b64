/* The outcome table and the force rule of the campaign file: from what was written to what is known. */
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include "campaign/parts.h"

static const hf_json *member(const hf_specimen *specimen, const char *key) {
    const hf_json *node = hf_json_get(specimen->node, key);
    return node ? node : specimen->node;
}

/* Which rows of the table exist. written: outcome given; the loads that must, may and must not stand with it. */
typedef enum need { MUST, MAY, NOT } need;

typedef struct outcome_row {
    int stated; /* 0: absent or failed */
    need held, failed, peak;
} outcome_row;

static const outcome_row rows[] = {
    {0, MUST, MUST, NOT}, {0, NOT, MUST, NOT}, {0, NOT, NOT, MUST}, {2, MUST, NOT, NOT}, {2, NOT, NOT, MUST},
    {3, MUST, MAY, NOT},  {3, NOT, NOT, MUST}, {4, MAY, MAY, MAY},  {5, NOT, NOT, NOT},
};

static bool fits(need wanted, bool given) {
    return wanted == MAY || (wanted == MUST) == given;
}

static bool in_table(const hf_specimen *specimen, int stated) {
    int wanted = stated == 1 ? 0 : stated;
    for (size_t i = 0; i < HF_COUNT_OF(rows); i++)
        if (rows[i].stated == wanted && fits(rows[i].held, specimen->held.given) &&
            fits(rows[i].failed, specimen->failed.given) && fits(rows[i].peak, specimen->peak.given))
            return true;
    return false;
}

static const char *what_is_wrong(const hf_specimen *specimen, int stated) {
    bool held = specimen->held.given, failed = specimen->failed.given, peak = specimen->peak.given;
    if (peak && (held || failed))
        return "found a scale reading \"peak\" beside \"held\" or \"failed\", expected one or the other";
    switch (stated) {
    case 2:
        return failed
                   ? "found a failing load with outcome \"held\", expected \"held\" alone or \"peak\" alone"
                   : "found outcome \"held\" without a load, expected \"held\" or \"peak\"";
    case 3:
        return "found outcome \"rig\" without the load that was held, expected \"held\" or \"peak\"";
    case 5:
        return "found a load with outcome \"planned\", expected none: write the outcome that was seen";
    default:
        break;
    }
    if (held)
        return "found only the load that was held, expected \"failed\" too, or outcome \"held\" or \"rig\" "
               "written";
    return "found no load, expected \"failed\", \"peak\", or outcome \"planned\", \"held\", \"rig\" or "
           "\"void\"";
}

static hf_pull stepped_pull(const hf_rig_force *force, hf_maybe held, hf_maybe failed, bool intact) {
    hf_pull pull = {.stepped = true, .upper = INFINITY};
    if (held.given) pull.lower = hf_rig_force_of_record(force, held.value);
    if (intact) {
        pull.kind = HF_INTERVAL_ABOVE;
        return pull;
    }
    pull.upper = hf_rig_force_of_record(force, failed.value);
    /* Failed at the first rung: with "held": 0 the hanger alone is known to have held. */
    bool first_rung = !held.given || held.value == 0;
    pull.kind = first_rung ? HF_INTERVAL_BELOW : HF_INTERVAL_CLOSED;
    return pull;
}

static hf_pull read_pull(const hf_rig *rig, const hf_rig_force *force, double peak, bool intact) {
    double value = hf_rig_force_of_peak(force, peak);
    double half = 0.5 * hf_rig_force_of_peak(force, rig->resolution.value);
    double low = fmax(0, value - half);
    if (intact) return (hf_pull){.kind = HF_INTERVAL_ABOVE, .lower = low, .upper = INFINITY};
    if (half == 0) return (hf_pull){.kind = HF_INTERVAL_EXACT, .lower = value, .upper = value};
    return (hf_pull){
        .kind = low > 0 ? HF_INTERVAL_CLOSED : HF_INTERVAL_BELOW, .lower = low, .upper = value + half};
}

static const char *top_key(const hf_specimen *specimen) {
    return specimen->failed.given ? "failed" : specimen->peak.given ? "peak" : "held";
}

/* Highest recorded load of a pull. Where the rig let go on the way to a load nobody wrote down there is none. */
static double top_record(const hf_specimen *specimen) {
    if (specimen->failed.given) return specimen->failed.value;
    if (specimen->peak.given) return specimen->peak.value;
    return specimen->outcome == HF_OUTCOME_HELD && specimen->held.given ? specimen->held.value : INFINITY;
}

static void wrong_beside(hf_reader *reader, const hf_specimen *specimen, const char *key, const char *rule,
                         const char *other) {
    char expected[160], shown[HF_SHOWN_SIZE];
    (void)snprintf(expected, sizeof expected, "a load %s \"%s\", which is %s", rule, other,
                   hf_reader_shown(member(specimen, other), shown));
    (void)hf_reader_wrong(reader, member(specimen, key), expected);
}

static void check_order(hf_reader *reader, const hf_specimen *specimen) {
    double top = top_record(specimen);
    if (specimen->held.given && specimen->failed.given && specimen->held.value >= specimen->failed.value)
        wrong_beside(reader, specimen, "failed", "above", "held");
    if (specimen->set_held.given && specimen->set_seen.given &&
        specimen->set_held.value >= specimen->set_seen.value)
        wrong_beside(reader, specimen, "set_seen", "above", "set_held");
    if (specimen->set_held.given && specimen->set_held.value > top)
        wrong_beside(reader, specimen, "set_held", "of at most", top_key(specimen));
    if (specimen->set_seen.given && specimen->set_seen.value > top)
        wrong_beside(reader, specimen, "set_seen", "of at most", top_key(specimen));
    if (specimen->dropped && !specimen->failed.given)
        hf_reader_error(reader, member(specimen, "dropped"),
                        "found \"dropped\" without \"failed\", expected both: it speaks of the failing step");
}

/* Two loads that differ by less than the tare's last digit make no interval of force. */
static void check_interval(hf_reader *reader, const hf_specimen *specimen, const char *key,
                           const hf_pull *pull) {
    bool good = pull->kind == HF_INTERVAL_EXACT ? pull->upper > 0 : pull->lower < pull->upper;
    if (!good)
        hf_reader_error(reader, member(specimen, key),
                        "found a load that makes no interval of force on the part, expected more above the "
                        "load before it");
}

static void observe_set(hf_reader *reader, const hf_rig_force *force, hf_specimen *specimen) {
    hf_rig_force rule = *force;
    if (!specimen->set_held.given && !specimen->set_seen.given) return;
    if (specimen->peak.given) rule.records = HF_RIG_RECORDS_TOTAL; /* read on the same scale as the peak */
    specimen->set = stepped_pull(&rule, specimen->set_held, specimen->set_seen, !specimen->set_seen.given);
    check_interval(reader, specimen, "set_seen", &specimen->set);
}

/* From the loads to what is known. Of a void part it is kept beside, for the question what it would have changed. */
static void observe_pull(hf_reader *reader, const hf_rig *rig, hf_specimen *specimen) {
    hf_rig_force force = rig->force;
    bool voided = specimen->outcome == HF_OUTCOME_VOID;
    bool intact =
        voided ? !specimen->failed.given && !specimen->peak.given : specimen->outcome != HF_OUTCOME_FAILED;
    if (voided && intact && !specimen->held.given) return;
    if (specimen->tare.given) force.tare = specimen->tare.value;
    hf_pull pull = specimen->peak.given ? read_pull(rig, &force, specimen->peak.value, intact)
                                        : stepped_pull(&force, specimen->held, specimen->failed, intact);
    pull.dropped = specimen->dropped && pull.kind == HF_INTERVAL_CLOSED;
    check_interval(reader, specimen, specimen->peak.given ? "peak" : "failed", &pull);
    *(voided ? &specimen->voided : &specimen->pull) = pull;
    if (!voided) observe_set(reader, &force, specimen);
}

void hf_specimen_observe(hf_reader *reader, const hf_rig *rig, hf_specimen *specimen, int stated) {
    static const hf_outcome outcomes[] = {HF_OUTCOME_FAILED, HF_OUTCOME_FAILED, HF_OUTCOME_HELD,
                                          HF_OUTCOME_RIG,    HF_OUTCOME_VOID,   HF_OUTCOME_PLANNED};
    size_t errors = reader->findings->errors;
    specimen->outcome = outcomes[stated];
    if (!in_table(specimen, stated)) {
        hf_reader_error(reader, specimen->node, "%s", what_is_wrong(specimen, stated));
        return;
    }
    check_order(reader, specimen);
    if (specimen->outcome == HF_OUTCOME_PLANNED && (specimen->set_held.given || specimen->set_seen.given))
        hf_reader_error(reader, specimen->node, "found a set load with outcome \"planned\", expected none");
    if (specimen->outcome == HF_OUTCOME_VOID && (!specimen->note || !specimen->note[0]))
        hf_reader_error(reader, specimen->node,
                        "found outcome \"void\" without a \"note\", expected the physical reason");
    if (specimen->outcome != HF_OUTCOME_PLANNED && errors == reader->findings->errors)
        observe_pull(reader, rig, specimen);
}
