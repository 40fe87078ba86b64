/* The cautions, one row each, the weightiest first; within a rank in the order people should read them.
 *
 *     HF_CAUTION(NAME, "code", RANK, "title", SLOTS(…), "sentence")
 *
 * A slot is TYPE(name), or MAYBE(TYPE, name) where its value may be missing; types are those of hf_slot_type. The sentence says what it is,
 * what it means and what to do. In it {name} is a value as its type is shown, {name|one|many} a word by count, and [a clause] is left out where one of its
 * values is missing, or is a count of 0. BY_FUNCTION: a function of src/words/caution_words.c says it.
 *
 * This file is read several times, each time with another meaning of HF_CAUTION, and so has no include guard. */
#ifndef HF_CAUTION
#define HF_CAUTION(name, code, rank, title, slots, sentence)
struct hf_caution_row; /* read by itself the file is still a translation unit */
#endif

/* --- Breaks: may be wrong in the unsafe direction, or what was asked for is not met --------------------- */

HF_CAUTION(SERVICE_NOT_MET, "service_not_met", BREAKS, "Service load not covered",
           SLOTS(MAYBE(LOAD_RATING, working_load), LOAD_STATED(service_load)),
           "The service load of {service_load} is NOT covered[: the working load is {working_load}]. Do not "
           "load the part with it.")
HF_CAUTION(REQUIRED_NOT_MET, "required_not_met", BREAKS, "Required bound not met",
           SLOTS(MAYBE(LOAD_BOUND, bound), LOAD_STATED(required)), BY_FUNCTION)
HF_CAUTION(
    BOUND_NOT_POSITIVE, "bound_not_positive", BREAKS, "Nothing promised", NO_SLOTS,
    "There is no bound above 0: these pulls promise no load. More parts, a smaller first load and finer "
    "steps where they fail can change that.")
HF_CAUTION(NO_BOUND, "no_bound", BREAKS, "No bound", SLOTS(NAME(cause)), "There is no bound: {cause}.")
HF_CAUTION(
    NOT_ASSURED, "not_assured", BREAKS, "Not assured", SLOTS(LOAD_BOUND(bound), NAME(law)),
    "These pulls reject the {law} law, by which the bound would be {bound}, and they are too few for a "
    "bound that needs no law. Find out why they do not follow it, or pull more.")
HF_CAUTION(SCATTER_NOT_ASSURED, "scatter_not_assured", BREAKS, "Not assured", SLOTS(LOAD_BOUND(bound)),
           "These pulls contradict the stated scatter, by which the bound would be {bound}, and they give no "
           "bound of "
           "their own. Look for what made them differ, correct what the file states, or pull more.")
HF_CAUTION(BATCHES_DIFFER, "batches_differ", BREAKS, "Batches differ",
           SLOTS(NUMBER(statistic), NUMBER(critical), SHARE_ROUGH(between_share)),
           "By more than chance explains (k-sample Anderson–Darling {statistic}, critical {critical}); "
           "{between_share} of the variance comes from changing batch. Pooling hides the weak one: find out "
           "why, or rate each batch by itself.")
HF_CAUTION(
    BATCHES_DIFFER_F, "batches_differ_f", BREAKS, "Batches differ",
    SLOTS(MAYBE(NUMBER, f), SIGNIFICANCE(by_law), SIGNIFICANCE(by_dealing), SIGNIFICANCE(least)),
    "One-way F of ln load[ ({f})] has significance {by_law} by the F law and {by_dealing} by the ways of "
    "dealing the parts into such batches, of which none reaches less than {least}. Pooling hides the "
    "weak one: find out why, or rate each batch by itself.")
HF_CAUTION(ABOVE_RATING, "above_rating", BREAKS, "Above the rig's rating",
           SLOTS(COUNT(pulls), LOAD_STATED(rating), LOAD_SEEN(highest)),
           "{pulls} {pulls|pull|pulls} went above the rig's rating of {rating}, up to {highest}. Stop using "
           "the rig above its rating; it should stand twice the highest step.")
HF_CAUTION(
    ABOVE_WEIGHTS, "above_weights", BREAKS, "Above all the weights",
    SLOTS(COUNT(pulls), LOAD_STATED(weights), LOAD_SEEN(highest)),
    "{pulls} {pulls|pull records|pulls record} more than all the listed weights together, {weights}: up "
    "to {highest}. Check those loads and the list of weights for a slip of the pen.")

/* --- Hangs: on something that these pulls cannot check ------------------------------------------------- */

HF_CAUTION(MODES_NOT_COVERING, "modes_not_covering", HANGS, "Ways of failing",
           SLOTS(LOAD_BOUND(bound), LOAD_BOUND(undivided), MAYBE(LOAD_RATING, working_load),
                 MAYBE(LOAD_STATED, service_load), MAYBE(LOAD_STATED, required)),
           BY_FUNCTION)
HF_CAUTION(ASSUMED_SCATTER, "assumed_scatter", HANGS, "Assumed scatter", SLOTS(SHARE(scatter), NAME(source)),
           "The bound leans on an assumed scatter of {scatter} (source: {source}). It is as good as that "
           "statement.")
HF_CAUTION(ABOVE_BROKEN_UNLIKELY, "above_broken_unlikely", HANGS, "Above broken parts",
           SLOTS(LOAD_BOUND(bound), COUNT(broken), COUNT(parts), LOAD_SEEN(lowest), SHARE_ROUGH(chance)),
           "The bound of {bound} lies above the load at which {broken} of these {parts} parts broke, from "
           "{lowest} on. If it is true, so many break at or below it in {chance} of all tests like this one: "
           "rather doubt what it leans on.")
HF_CAUTION(
    LOOKS_BEFORE_FIRST, "looks_before_first", HANGS, "Before the first look",
    SLOTS(COUNT(parts), COUNT(first), SHARE(promised), MAYBE(SHARE, worth)),
    "The first stated look is after {first} parts; {parts|this is|these are} {parts}. So this is a "
    "bound and no load to work with.[ Whoever acts on it takes one look more, and all of them together "
    "are right {worth} of the time, not {promised}.] Pull on to {first}.")
HF_CAUTION(
    LOOKS_PAST_LAST, "looks_past_last", HANGS, "Past the last look",
    SLOTS(COUNT(parts), COUNT(last), SHARE(promised), MAYBE(SHARE, worth)),
    "The last stated look was after {last} parts; these are {parts}.[ The stated looks and this one are "
    "all right {worth} of the time, not {promised}.] Beyond the last look only a new plan helps, with new "
    "parts alone.")
HF_CAUTION(LOOKS_UNPROVEN, "looks_unproven", HANGS, "Looks not proven", SLOTS(SHARE(each), NAME(what)),
           "Each look is taken at {each}. That all of them together keep what is promised is shown for "
           "finished pulls of one strength law, not with {what}.")
HF_CAUTION(LOOKS_LATE, "looks_late", HANGS, "Looks stated late", SLOTS(COUNT(pulls)),
           "The looks were stated, changed or taken away when {pulls} {pulls|pull was|pulls were} there, so "
           "the journal says. What they "
           "promise holds if they were not chosen by how those came out.")
HF_CAUTION(STATED_LATE, "stated_late", HANGS, "Stated late", SLOTS(COUNT(pulls), NAME(what)),
           "With {pulls} {pulls|pull|pulls} there, so the journal says, this was stated, changed or taken "
           "away: {what}. The bound promises "
           "what it says if that was not chosen by how those came out.")
HF_CAUTION(LAW_CHOSEN, "law_chosen", HANGS, "Law chosen by hand",
           SLOTS(LOAD_BOUND(bound), MAYBE(LOAD_BOUND, by_rule), NAME(law)),
           "The bound of {bound} holds if strength follows the {law} law, which was chosen by hand[; the law "
           "that governs otherwise gives {by_rule}]. A law picked because its bound is higher promises "
           "nothing: write it into the file with its reason (\"family_reason\"), before the pulls.")
HF_CAUTION(
    LAW_UNLIKELY, "law_unlikely", HANGS, "Another law fits better",
    SLOTS(NUMBER(ln_likelihood), MAYBE(LOAD_BOUND, bound), LOAD_BOUND(governing), NAME(law), NAME(better)),
    "Pulls like these allow no test of a law, but the {better} law fits them far better than the {law} "
    "law, which governs: its ln likelihood is {ln_likelihood} higher.[ Its bound would be {bound} in "
    "place of {governing}.]")
HF_CAUTION(
    STATED_SCATTER_PAIR, "stated_scatter_pair", HANGS, "Stated scatter", NO_SLOTS,
    "The verdict leans on a scatter stated in the file, which these pulls do not show. Wherever in its "
    "step a part let go, it holds; if the statement is wrong, so is the verdict.")

/* --- Weakens: the number stands with this beside it ---------------------------------------------------- */

HF_CAUTION(UNLIKE_DESIGN, "unlike_design", WEAKENS, "Unlike the other pulls", SLOTS(WORDS(finding)),
           "{finding} Look at what was written down that day; if it is a slip of the pen, holdfast record "
           "--again corrects it.")
HF_CAUTION(RUNGS_BETWEEN, "rungs_between", WEAKENS, "Rungs left out", SLOTS(WORDS(finding)),
           "{finding} A step that wide makes the bound lower than it need be, or a load is a slip of the "
           "pen: holdfast record --again corrects it.")
HF_CAUTION(
    SCATTER_CONTRADICTED, "scatter_contradicted", WEAKENS, "Stated scatter contradicted",
    SLOTS(SHARE(scatter), NUMBER(statistic), NUMBER(critical), NAME(source)),
    "A scatter of {scatter} is stated (source: {source}), but these pulls scatter too much for it: the "
    "squares of their logarithms about the mean add up to {statistic} times its square, and only one "
    "test in twenty would go beyond {critical}. So it is not used. Look for what made these parts "
    "differ, and correct what the file states.")
HF_CAUTION(
    ABOVE_BROKEN, "above_broken", WEAKENS, "Above broken parts",
    SLOTS(LOAD_BOUND(bound), COUNT(broken), COUNT(parts), LOAD_SEEN(lowest), SHARE_ROUGH(chance)),
    "The bound of {bound} lies above the load at which {broken} of these {parts} parts broke, from "
    "{lowest} on. Chance alone does that in {chance} of all tests like this one: a bound lets a stated "
    "share of parts be weaker. Look at {broken|that part|those parts}.")
HF_CAUTION(LOOKS_BETWEEN, "looks_between", WEAKENS, "Not a stated look",
           SLOTS(COUNT(parts), COUNT(next), SHARE(promised), MAYBE(SHARE, worth)),
           "A look after {parts} parts is not stated; the next one is after {next}.[ Taken as one more, all "
           "looks together are right {worth} of the time, not {promised}.]")
HF_CAUTION(
    LOOKS_NOT_STATED, "looks_not_stated", WEAKENS, "Looks not stated",
    SLOTS(COUNT(parts), COUNT(planned), COUNT(last), SHARE(promised), SHARE(worth),
          MAYBE(SHARE, worth_every)),
    "After {parts} parts {planned} planned {planned|one is|ones are} still to be pulled, and no looks are "
    "stated. A bound taken now and again after {last} parts is right both times {worth} of the time, not "
    "{promised}[; one "
    "after every pull {worth_every}]. State \"looks\" in the goal before the pulls, or wait for the last "
    "part.")
HF_CAUTION(FIT_REJECTED, "fit_rejected", WEAKENS, "Law rejected",
           SLOTS(COUNT(laws), SIGNIFICANCE(significance), NAME(law)),
           "The {law} {laws|law does|laws do} not fit these pulls ({laws||largest }significance "
           "{significance}; below 0.05 rejects); do not lean on {laws|its bound|their bounds}.")
HF_CAUTION(LAW_STATED, "law_stated", WEAKENS, "Law stated",
           SLOTS(LOAD_BOUND(bound), MAYBE(LOAD_BOUND, by_rule), NAME(law), NAME(because)),
           "The bound of {bound} holds if strength follows the {law} law, as the file states (reason: "
           "{because})[; the law that governs otherwise gives {by_rule}].")
HF_CAUTION(MODES_LOWER, "modes_lower", WEAKENS, "Ways of failing",
           SLOTS(LOAD_BOUND(bound), LOAD_BOUND(undivided), MAYBE(LOAD_RATING, working_load)), BY_FUNCTION)
HF_CAUTION(STATED_SCATTER, "stated_scatter", WEAKENS, "Stated scatter",
           SLOTS(SHARE(scatter), RATIO(degrees_of_freedom), NAME(source)),
           "The bound leans on a pooled scatter of {scatter} with {degrees_of_freedom} degrees of freedom "
           "(source: {source}). It is as good as that statement.")
HF_CAUTION(
    EARLIER_SCATTER, "earlier_scatter", WEAKENS, "Scatter of earlier designs",
    SLOTS(COUNT(designs), SHARE(scatter), RATIO(degrees_of_freedom), COUNT(apart)),
    "The bound leans on the scatter of {designs} earlier designs, {scatter}, worth {degrees_of_freedom} "
    "degrees of freedom[; {apart} of them would be worth more if they scattered alike]. It holds where "
    "this design is of their kind and was taken into their number before its pulls; earlier designs "
    "that were picked for scattering little break it.")
HF_CAUTION(
    LEANS_ON_TAIL, "leans_on_tail", WEAKENS, "Far into the tail", SLOTS(SHARE(content)),
    "At a content of {content} the bound leans on the tail of the strength law, which pulls hardly show: "
    "it holds if strength follows one of the three laws. Of parts that follow another, the "
    "smallest-extreme law in load, it is right in 89, 83 and 74 of 100 tests with 5, 10 and 20 parts where "
    "95 are promised.")
HF_CAUTION(STATED_FAMILY_REJECTED, "stated_family_rejected", WEAKENS, "Stated law rejected",
           SLOTS(NAME(law), NAME(rule)),
           "The stated {law} law is rejected by the pulls, so the {rule} bound governs.")
HF_CAUTION(TREND, "trend", WEAKENS, "Trend in the order of pulling",
           SLOTS(COUNT(parts), RATIO(last_to_first), SIGNIFICANCE(significance), NAME(direction)),
           "In the order of pulling these {parts} parts get {direction}: by the slope the last carries "
           "{last_to_first} "
           "times as much as the first (significance {significance}; 0.05 or less is a trend). Rig, glue, "
           "weather or "
           "the hand that pulls may have changed. Find out which: the next parts go on where these ended.")
HF_CAUTION(
    DWELL_FAILURES, "dwell_failures", WEAKENS, "Failures in the dwell", SLOTS(COUNT(dwell), COUNT(failures)),
    "{dwell} of {failures} {failures|failure|failures} came while the load hung, not while it was added. So "
    "strength depends on time, as it does with glue, plastic and cord: a load that hangs longer than here "
    "breaks "
    "parts that carried more. Pull with a longer dwell, or hang parts for as long as they are to hold.")
HF_CAUTION(
    ONE_PART, "one_part", WEAKENS, "One failure", NO_SLOTS,
    "One failure shows no scatter at all. Only a scatter known from earlier parts (\"scatter\", with its "
    "source) can make a bound of it; pull more.")
HF_CAUTION(TWO_PARTS, "two_parts", WEAKENS, "Two failures", NO_SLOTS,
           "Two failures hardly show the scatter, so the factor is huge. A third gains more than anything "
           "else you can do.")
HF_CAUTION(
    THREE_PARTS, "three_parts", WEAKENS, "Three failures", NO_SLOTS,
    "Three failures show the scatter poorly: the true one may be six times as large. Two more about halve "
    "the factor.")
HF_CAUTION(
    FEW_PARTS, "few_parts", WEAKENS, "Few failures", SLOTS(COUNT(failures)),
    "With {failures} failures no test can tell one strength law from another; that the law fits is no proof.")
HF_CAUTION(
    ALL_RUN_OUT, "all_run_out", WEAKENS, "No failure", SLOTS(COUNT(parts), LOAD_SEEN(held)),
    "None of {parts} parts failed; all held at least {held}. That proves a share of parts, no strength. "
    "More weight shows where they break.")
HF_CAUTION(ONE_BATCH, "one_batch", WEAKENS, "Batches",
           SLOTS(COUNT(batches), COUNT(without), COUNT(parts), SHARE_ROUGH(tenth), SHARE_ROUGH(third),
                 SHARE_ROUGH(half)),
           BY_FUNCTION)
HF_CAUTION(
    BATCHES_OPEN, "batches_open", WEAKENS, "Batches not counted",
    SLOTS(COUNT(batches), COUNT(open_pulls), COUNT(parts), SHARE_ROUGH(tenth), SHARE_ROUGH(third),
          SHARE_ROUGH(half)),
    "{batches} batches are stated, but with {open_pulls} unfinished {open_pulls|pull|pulls} there is no "
    "bound from their means, and the one there is takes each part for itself. Where a tenth, three "
    "tenths, half of the variance lies between batches, a 95 % bound that does so is right {tenth}, "
    "{third}, {half} of the time with {parts} parts in each. Pull on until every part breaks, or take "
    "fewer parts of more batches.")
HF_CAUTION(
    BETWEEN_STATED, "between_stated", WEAKENS, "Scatter between batches stated",
    SLOTS(SHARE(scatter), NAME(source)),
    "The bound counts a scatter of {scatter} between batches, stated in the file ({source}): these pulls do "
    "not show it, and if it is wrong so is the bound. Pull parts of a second and third batch.")
HF_CAUTION(FEW_BATCHES, "few_batches", WEAKENS, "Few batches", SLOTS(COUNT(batches)),
           "Only {batches} batches were pulled. Three or more show what changing batch does.")
HF_CAUTION(OUTLIER, "outlier", WEAKENS, "Outlier",
           SLOTS(NUMBER(distance), NUMBER(limit), MAYBE(LOAD_SEEN, load), NAME(part), MAYBE(NAME, side)),
           "Part {part}[ ({load})] lies farther out [on the {side} side ]than chance allows ({distance} SD, "
           "limit {limit}). It stays in: only a physical cause voids a pull. Look at the part.")
HF_CAUTION(FAMILIES_DIFFER, "families_differ", WEAKENS, "The laws differ",
           SLOTS(LOAD_BOUND(lowest), LOAD_BOUND(highest)),
           "Their bounds lie more than a tenth apart, from {lowest} to {highest}. It matters which law is "
           "right; more parts can speak against a wrong one.")
HF_CAUTION(
    HIGH_SCATTER, "high_scatter", WEAKENS, "High scatter", SLOTS(SHARE(scatter)),
    "The standard deviation of the failed parts is {scatter} of their mean. Above 25 % a promise leans "
    "heavily on its strength law; the bounds of the other laws in the table show how much.")
HF_CAUTION(ALL_ONE_STEP, "all_one_step", WEAKENS, "All in one step",
           SLOTS(LOAD_SEEN(lower), LOAD_SEEN(upper)),
           "All failures lie between {lower} and {upper}. The bound allows for the step alone; take finer "
           "steps there to see the scatter.")
HF_CAUTION(COARSE_STEP, "coarse_step", WEAKENS, "Coarse steps", SLOTS(MAYBE(RATIO, step_in_deviations)),
           "[The step is {step_in_deviations} times the standard deviation. ]Steps finer than one standard "
           "deviation lower the bound less.")
HF_CAUTION(RIG_FAILURES, "rig_failures", WEAKENS, "Rig let go", SLOTS(COUNT(rig), COUNT(parts)),
           "In {rig} of {parts} pulls rig, grip or fixture let go first. Above one in five, mend the rig "
           "before pulling on.")
HF_CAUTION(VOID_CHANGES, "void_changes", WEAKENS, "Void pulls counted in", SLOTS(LOAD_BOUND(bound)),
           BY_FUNCTION)
HF_CAUTION(REUSED_CHANGES, "reused_changes", WEAKENS, "Re-used parts counted in", SLOTS(LOAD_BOUND(bound)),
           BY_FUNCTION)
HF_CAUTION(END_NOT_STATED, "end_not_stated", WEAKENS, "Broken end not stated", SLOTS(COUNT(parts)),
           "{parts} {parts|part does|parts do} not say which of two different fittings broke, and cannot be "
           "used here. Write \"broke\": 1, 2 or \"both\".")
HF_CAUTION(
    NO_UNCERTAINTY, "no_uncertainty", WEAKENS, "No load error stated", SLOTS(WORDS(finding)),
    "{finding} State the rig's load error under rig.uncertainty (gym plates: 3 % tolerance is common; a "
    "checked scale is better).")
HF_CAUTION(NOT_MAKEABLE, "not_makeable", WEAKENS, "Load cannot be made", SLOTS(WORDS(finding)),
           "{finding} Check those loads and the list of weights for a slip of the pen.")
HF_CAUTION(MIXED_UNITS, "mixed_units", WEAKENS, "Mixed units", SLOTS(WORDS(finding)),
           "{finding} Check with `holdfast check`, which echoes every pull as a force.")
HF_CAUTION(MIXED_PULL_KINDS, "mixed_pull_kinds", WEAKENS, "Two ways of pulling", SLOTS(WORDS(finding)),
           "{finding} Do not pool them without a reason: a faster pull can give another strength.")
HF_CAUTION(ORDER, "order", WEAKENS, "Order", SLOTS(WORDS(finding)),
           "{finding} Check order and dates; drift of rig or glue hides in a wrong order.")
HF_CAUTION(
    NO_SET_FACTOR, "no_set_factor", WEAKENS, "No set factor", NO_SLOTS,
    "First movement was watched but no set factor is stated, so only breaking limits the working load: "
    "goal.set_factor.")
HF_CAUTION(SET_WITHOUT_BOUND, "set_without_bound", WEAKENS, "Set without bound", NO_SLOTS,
           "First movement was watched, but its pulls give no bound; only breaking limits the working load.")
HF_CAUTION(
    MODES_TOO_MANY, "modes_too_many", WEAKENS, "Too many ways of failing", SLOTS(COUNT(named), COUNT(most)),
    "{named} ways of failing are named, more than the {most} that can be told apart: no shares and no "
    "bound by ways of failing are worked out, so nothing here says what other shares of them would do. "
    "Give the same name to what is the same.")
HF_CAUTION(MODE_NOT_FITTED, "mode_not_fitted", WEAKENS, "Rare ways of failing",
           SLOTS(COUNT(failures), NAME(modes)),
           "Too rare to be fitted: {modes} ({failures} {failures|failure|failures}). The bound by ways of "
           "failing leaves them out and looks better than it is; lean on the one that does not tell them "
           "apart.")
HF_CAUTION(SMALL_GROUP_SCATTERS, "small_group_scatters", WEAKENS, "Small group scatters more",
           SLOTS(COUNT(pulls_first), COUNT(pulls_second), NAME(design)),
           "There are {pulls_first} pulls against {pulls_second}, and {design}, the smaller group, scatters "
           "more: an interval that claims 95 % then covers 90 to 93 %. Pull more of it.")
HF_CAUTION(BATCH_COUNTS_APART, "batch_counts_apart", WEAKENS, "Few batches against many",
           SLOTS(COUNT(batches_first), COUNT(batches_second)),
           "There are {batches_first} batches against {batches_second}: an interval that claims 95 % then "
           "covers 89 to 94 %. Pull more batches of the one that has fewer.")
HF_CAUTION(PAIR_OF_PARTS, "pair_of_parts", WEAKENS, "Batches not counted",
           SLOTS(COUNT(parts), SHARE_ROUGH(told_apart), COUNT(open_pulls), MAYBE(NAME, design)), BY_FUNCTION)
HF_CAUTION(
    SMALL_GROUP_SCATTERS_OPEN, "small_group_scatters_open", WEAKENS, "Small group scatters more",
    SLOTS(COUNT(pulls_first), COUNT(pulls_second), NAME(design)),
    "There are {pulls_first} pulls against {pulls_second}, and {design}, the smaller group, scatters "
    "more: with unfinished pulls an interval that claims 95 % then covers as little as 84 %. Pull more "
    "of it.")
HF_CAUTION(
    SCATTER_UNSEEN, "scatter_unseen", WEAKENS, "Too few failures to see scatter",
    SLOTS(COUNT(failures), NAME(design)),
    "{failures} {failures|failure|failures} of {design} cannot show whether it scatters like the other, "
    "as the verdict supposes. If it scattered three times as much, an interval that claims 95 % would "
    "cover as little as 84 %. Pull more of it, to the end.")
HF_CAUTION(SCATTER_APART, "scatter_apart", WEAKENS, "Scatter differs",
           SLOTS(MAYBE(RATIO, times), NAME(design), MAYBE(NAME, other)), BY_FUNCTION)
HF_CAUTION(SCATTER_APART_OPEN, "scatter_apart_open", WEAKENS, "Scatter differs",
           SLOTS(RATIO(times), RATIO(p), NAME(design)),
           "Fitted for itself, {design} scatters {times} times as much, while the verdict supposes equal "
           "scatter; an interval that claims 95 % then covers 88 to 94 %. With a scatter for each, p is {p}.")
HF_CAUTION(WIDE_STEPS, "wide_steps", WEAKENS, "Steps too wide to compare",
           SLOTS(MAYBE(RATIO, step_in_deviations), NAME(design)), BY_FUNCTION)
HF_CAUTION(TESTS_DISAGREE, "tests_disagree", WEAKENS, "The tests disagree",
           SLOTS(RATIO(p_welch), RATIO(p_relabeling)),
           "Welch's test (p = {p_welch}) and relabeling (p = {p_relabeling}) fall on two sides of the level. "
           "The verdict follows Welch's, which leans on a bell shape of ln load; relabeling leans on equal "
           "making but for the name. Pull more before relying on it.")
HF_CAUTION(
    P_FLOOR, "p_floor", WEAKENS, "Relabeling cannot tell", SLOTS(RATIO(p_least), RATIO(level)),
    "With these few pulls the relabeling test cannot get below p = {p_least}, so it can never confirm a "
    "difference at {level}; the verdict leans on the bell shape of ln load.")
HF_CAUTION(
    NOT_INTERLEAVED, "not_interleaved", WEAKENS, "Not in mixed order", SLOTS(NAME(first), NAME(second)),
    "All of {first} were pulled before or after all of {second}: a drift of rig, glue or weather would "
    "look like a difference. Pull in mixed order.")
HF_CAUTION(OPEN_COMMON_SCATTER, "open_common_scatter", WEAKENS, "Unfinished pulls",
           SLOTS(COUNT(open), COUNT(pulls)),
           "{open} of {pulls} pulls bound the strength on one side only. Each counts as just that, and the "
           "verdict supposes that both designs scatter alike in per cent and follow the lognormal law. More "
           "weight makes it firmer.")
HF_CAUTION(PLAN_LUCK, "plan_luck", WEAKENS, "Mostly luck",
           SLOTS(LOAD_BOUND(one_in_ten), LOAD_ROUGH(expected), COUNT(steady_from)), BY_FUNCTION)
HF_CAUTION(
    RATING_BELOW_TWICE_TOP, "rating_below_twice_top", WEAKENS, "Rig rating",
    SLOTS(LOAD_ROUGH(rating), LOAD_ROUGH(top_rung)),
    "The rig is rated {rating}, less than twice the top rung of {top_rung}. Strengthen the rig or stop "
    "lower.")
HF_CAUTION(STRENGTH_OVER_RATING, "strength_over_rating", WEAKENS, "Stronger than the rig",
           SLOTS(SHARE(share), LOAD_ROUGH(rating)),
           "{share} of the parts are expected to be stronger than the rig's rating of {rating}; the ladder "
           "ends below it.")
HF_CAUTION(PLAN_RUN_OUT, "plan_run_out", WEAKENS, "Run-outs ahead", SLOTS(SHARE(share), LOAD_ROUGH(top_rung)),
           "{share} of the parts are expected to outlast the top rung of {top_rung}. Borrow more weight: "
           "run-outs make the bound wider.")
HF_CAUTION(PLAN_FIRST_RUNG, "plan_first_rung", WEAKENS, "First rung",
           SLOTS(SHARE(share), LOAD_ROUGH(first_rung)),
           "{share} of the parts are expected to fail at the first rung of {first_rung}. Start lighter.")
HF_CAUTION(PLAN_STEP_WIDE, "plan_step_wide", WEAKENS, "Wide steps",
           SLOTS(LOAD_ROUGH(widest), LOAD_ROUGH(wanted)),
           "The owned weights make steps up to {widest} where {wanted} is wanted. Borrow some small weights.")

/* --- Notes: told below the number ---------------------------------------------------------------------- */

HF_CAUTION(NO_DESIGN_FACTOR, "no_design_factor", NOTES, "No design factor", NO_SLOTS,
           "There is a bound but no working load without it. The factor is your decision; it stands in the "
           "file as goal.design_factor.")
HF_CAUTION(
    SCATTER_HANDED_OVER, "scatter_handed_over", NOTES, "Stated scatter not needed any more",
    SLOTS(COUNT(parts), COUNT(from_parts), NAME(source)),
    "From {from_parts} parts on their own scatter tells more than the stated one (source: {source}); here "
    "are {parts}, so that their own bound leads.")
HF_CAUTION(OTHER_LAW_REJECTED, "other_law_rejected", NOTES, "Other law rejected",
           SLOTS(COUNT(laws), SIGNIFICANCE(significance), NAME(law)),
           "The {law} {laws|law does|laws do} not fit these pulls ({laws||largest }significance "
           "{significance}; below 0.05 rejects); do not lean on {laws|its bound|their bounds}.")
HF_CAUTION(
    RUN_OUTS, "run_outs", NOTES, "Run-outs", SLOTS(COUNT(run_outs), COUNT(parts)),
    "{run_outs} of {parts} parts were not pulled to failure; each counts as at least as strong as what "
    "it held. Do not leave them out. More weight shows how strong, and holdfast plan next what it would "
    "bring.")
HF_CAUTION(DWELL_FAILURE, "dwell_failure", NOTES, "A failure in the dwell",
           SLOTS(COUNT(dwell), COUNT(failures)),
           "{dwell} of {failures} failures came while the load hung, not while it was added. More of them "
           "would show "
           "that strength depends on time, as it does with glue, plastic and cord.")
HF_CAUTION(RIG_FAILURE, "rig_failure", NOTES, "Rig let go", SLOTS(COUNT(rig), COUNT(parts)),
           "In {rig} of {parts} pulls rig, grip or fixture let go first; those parts count as at least that "
           "strong.")
HF_CAUTION(FIRST_RUNG, "first_rung", NOTES, "Failed at the first load stated",
           SLOTS(COUNT(parts), LOAD_SEEN(lowest), COUNT(held_not_stated)),
           "{parts} {parts|part|parts}, at {lowest}{parts|: known only to be weaker than that| or more: each "
           "known only to be weaker than its load}. Start lighter.[ Of {held_not_stated} it is "
           "not stated what was held before (\"held\": 0 when the hanger alone held). Write it "
           "down: it makes the bound higher.]")
HF_CAUTION(FIRST_RUNG_HELD, "first_rung_held", NOTES, "Last load held not stated", SLOTS(WORDS(finding)),
           "{finding} Write it down: it makes the bound higher.")
HF_CAUTION(
    DROPPED_STEPS, "dropped_steps", NOTES, "Dropped weights", SLOTS(COUNT(pulls)),
    "In {pulls} {pulls|pull|pulls} the failing weight was dropped on: the load may have peaked at twice "
    "the step, so that step counts double.")
HF_CAUTION(VOID_PULLS, "void_pulls", NOTES, "Void pulls", SLOTS(COUNT(pulls), NAME(parts)),
           "{pulls} {pulls|pull is|pulls are} void and not used: {parts}.")
HF_CAUTION(
    REUSED, "reused", NOTES, "Re-used parts", SLOTS(COUNT(pulls)),
    "{pulls} {pulls|pull was|pulls were} made on a part that had been loaded before; kept in the file, "
    "out of the bound.")
HF_CAUTION(PLANNED_LEFT, "planned_left", NOTES, "Parts left to pull", SLOTS(COUNT(parts)),
           "{parts} {parts|planned part is|planned parts are} not pulled yet; the result changes with them.")
HF_CAUTION(ONE_RECORD, "one_record", NOTES, "One record",
           SLOTS(LOAD_BOUND(bound), LOAD_BOUND(without), LOAD_SEEN(load), MAYBE(LOAD_SEEN, held), NAME(part)),
           "Without part {part}, recorded at {load}[ after holding {held}], the bound would be {without} in "
           "place of "
           "{bound}. It stays in, and the bound stands. Check that it was written down as it was, and look "
           "at the part.")
HF_CAUTION(
    WEAK_KIND, "weak_kind", NOTES, "A weaker kind unseen",
    SLOTS(COUNT(parts), SHARE(share), SHARE_ROUGH(chance)),
    "If {share} of all parts were of a weaker kind, {parts} {parts|part|parts} would show none of it in "
    "{chance} of all tests. Take them from every batch, day and hand, not the best ones.")
HF_CAUTION(
    ORDER_NOT_STATED, "order_not_stated", NOTES, "Order of pulling not stated", NO_SLOTS,
    "Not every pull states its place in the order of pulling (\"order\", or \"date\" with the time), so "
    "no test for a trend was made: a drift of rig, glue or weather would go unseen.")
HF_CAUTION(TARE_ZERO, "tare_zero", NOTES, "Tare 0", SLOTS(WORDS(finding)),
           "{finding} Weigh the hanger and correct rig.tare once: every interval moves with it.")
HF_CAUTION(LADDER_WEIGHTS, "ladder_weights", NOTES, "Ladder does not add up", SLOTS(WORDS(finding)),
           "{finding} Correct the rung, or plan anew with --write, before anything is hung.")
HF_CAUTION(
    LOWEST_95_75, "lowest_95_75", NOTES, "True confidence", SLOTS(NUMBER(true_confidence)),
    "At content 95 % and confidence 75 % the true confidence with stepped pulls is {true_confidence} at "
    "worst, as found by simulation.")
HF_CAUTION(TWO_ENDED, "two_ended", NOTES, "Two fittings a part", SLOTS(COUNT(parts), COUNT(fittings)),
           "{parts} parts had a fitting at each end: {fittings} fittings. The end that broke failed in that "
           "step, the other is known to be stronger.")
HF_CAUTION(TWO_ENDED_SET, "two_ended_set", NOTES, "Set of two-ended parts", NO_SLOTS,
           "First movement is not told apart by ends: it is taken for the whole part, where the weaker end "
           "moves first. For one fitting that is on the careful side.")
HF_CAUTION(
    MODE_NOT_STATED, "mode_not_stated", NOTES, "Way of failing not stated", SLOTS(COUNT(failures)),
    "{failures} {failures|failure has|failures have} no way of failing written down; counted as one of "
    "its own. Look at the part and note how it broke.")
HF_CAUTION(OPEN_BY_MIDDLES, "open_by_middles", NOTES, "Unfinished pulls", SLOTS(COUNT(open), COUNT(pulls)),
           "{open} of {pulls} pulls are unfinished and no common scatter could be fitted: the verdict comes "
           "from separate fits to the middles, which is slow to call a difference.")
HF_CAUTION(LADDERS_COARSENED, "ladders_coarsened", NOTES, "Two ladders", SLOTS(COUNT(rungs), NAME(origin)),
           "The two were not pulled on one ladder. For the relabeling test all pulls were put on the {rungs} "
           "rungs both share (by {origin}), which costs it sharpness. Pull both on one ladder.")
HF_CAUTION(ADJUSTED_AWAY, "adjusted_away", NOTES, "One among several", SLOTS(RATIO(p), RATIO(p_adjusted)),
           "Taken alone this pair would differ (p = {p}); among all the pairs compared here it does not "
           "({p_adjusted}). If it was the one question asked before the pulls, compare the two alone and say "
           "so.")
HF_CAUTION(NO_RATING, "no_rating", NOTES, "No rig rating", NO_SLOTS,
           "No rating of the rig is stated. It should be at least twice the top rung.")

#undef HF_CAUTION
