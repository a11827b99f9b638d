/* leeway.c - the search over sizes: the corner first, then every knob turned back as far as the saving allows.
 *
 * 1. The corner: every knob at its smallest. Its lower bound holds for all settings (smaller parts never need more sheets). No cheaper than the plan
 *    in hand: nothing can be saved, and where that bound meets the plan's cost this is certain.
 * 2. Back to the preferred: knobs in the order of how many drawers they concern, most first; each is tried at its preferred value with the others
 *    as they stand, and stays there when the cost does not rise. So few drawers change.
 * 3. Those that must change: the largest value that keeps the cost, by halving (cost does not rise as a value falls).
 * Each trial is a whole plan with exact prices and its own proof; their number is bounded. The result is the last plan of least cost, so it is
 * never dearer than the one before. A trial whose search misses a plan makes a knob give more than it must: that costs looks, not money.
 */
#include <drawerwright/leeway.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "knobs.h"

enum { TRIALS_MOST = 60 };

struct search {
    struct dwi_trials trials;
    struct dwi_knobs knobs;
    struct dwi_trial best;
    dw_money cost; /* of the best */
};

/* Tries the knobs as they stand; keeps the trial as the best when it costs no more. */
static bool holds(struct search *search)
{
    if (search->trials.left == 0)
        return false;
    struct dwi_trial trial = dwi_try(&search->trials, &search->knobs);
    if (!trial.possible || trial.purchase->sheets_cost > search->cost) {
        dwi_trial_drop(&trial);
        return false;
    }
    dwi_trial_drop(&search->best);
    search->best = trial;
    search->cost = trial.purchase->sheets_cost;
    return true;
}

/* Turns every knob one step back towards its preferred value; false when all stand there. */
static bool raise_all(struct dwi_knobs *knobs)
{
    bool raised = false;
    for (size_t k = 0; k < knobs->count; k++)
        if (knobs->at[k].at > 0) {
            knobs->at[k].at--;
            raised = true;
        }
    return raised;
}

/* Sets all knobs to their smallest. Where sizing refuses that (a slide's minimum, what goes inside), they are raised together until it is taken. */
static bool find_corner(struct search *search)
{
    for (size_t k = 0; k < search->knobs.count; k++)
        search->knobs.at[k].at = search->knobs.at[k].value_count - 1;
    while (search->trials.left > 0) {
        struct dwi_trial trial = dwi_try(&search->trials, &search->knobs);
        if (trial.possible) {
            search->best = trial;
            search->cost = trial.purchase->sheets_cost;
            return true;
        }
        dwi_trial_drop(&trial);
        if (!raise_all(&search->knobs))
            return false;
    }
    return false;
}

/* Most members first; stable. */
static void sort_by_members(struct dwi_knobs *knobs)
{
    for (size_t i = 1; i < knobs->count; i++) {
        const struct dwi_knob knob = knobs->at[i];
        size_t to = i;
        for (; to > 0 && knobs->at[to - 1].member_count < knob.member_count; to--)
            knobs->at[to] = knobs->at[to - 1];
        knobs->at[to] = knob;
    }
}

static void turn_back(struct search *search)
{
    for (size_t k = 0; k < search->knobs.count; k++) {
        struct dwi_knob *knob = &search->knobs.at[k];
        const size_t corner = knob->at;
        knob->at = 0;
        if (corner != 0 && !holds(search))
            knob->at = corner;
    }
}

/* Invariant: values[low] does not hold, values[high] does. */
static void turn_back_part(struct search *search, struct dwi_knob *knob)
{
    size_t low = 0;
    size_t high = knob->at;
    while (high - low > 1) {
        knob->at = low + (high - low) / 2;
        if (holds(search))
            high = knob->at;
        else
            low = knob->at;
    }
    knob->at = high;
}

/* ---- what came of it ------------------------------------------------------------------------------------------ */

static const char *paths_of(struct dw_arena *arena, const struct dwi_knob *knob)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < knob->member_count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : ", ", knob->members[i].path);
    return text.bytes;
}

static void write_changes(const struct search *search, struct dw_arena *arena, struct dw_leeway *leeway)
{
    struct dw_leeway_change *changes = dw_arena_alloc(arena, search->knobs.count, sizeof *changes);
    for (size_t k = 0; k < search->knobs.count; k++) {
        const struct dwi_knob *knob = &search->knobs.at[k];
        if (knob->at == 0)
            continue;
        changes[leeway->change_count++] = (struct dw_leeway_change){.what = knob->kind == DWI_KNOB_BOX_HEIGHT ? "box height" : "slide length",
                                                                    .drawers = paths_of(arena, knob),
                                                                    .from = knob->values[0],
                                                                    .to = knob->values[knob->at],
                                                                    .count = knob->member_count};
    }
    leeway->changes = changes;
}

static int64_t sheets_of(const struct dw_purchase *purchase)
{
    int64_t count = 0;
    for (size_t m = 0; m < purchase->layouts->material_count; m++)
        count += (int64_t)purchase->layouts->materials[m].sheet_count;
    return count;
}

/* "box height 4 3/8 instead of 4 1/2 (Chest/A/1): 1 sheet less, 68.00 saved". */
static const char *words_of(const struct search *search, const struct dw_purchase *before, const struct dw_leeway *leeway, struct dw_arena *arena)
{
    const struct dw_job *job = search->trials.jobs[0];
    const struct dw_length_style style = {.unit = job->unit, .decimals = -1};
    struct dw_text text = dw_text_in(arena);
    if (leeway->change_count == 0)
        return leeway->certain ? "no smaller size within the rules would save a sheet" : "no smaller size within the rules was found to save a sheet";
    for (size_t i = 0; i < leeway->change_count; i++) {
        const struct dw_leeway_change *change = &leeway->changes[i];
        dw_text_addf(&text, "%s%s %s instead of %s (%s)", i == 0 ? "" : "; ", change->what, dw_length_show(arena, change->to, style),
                     dw_length_show(arena, change->from, style), change->drawers);
    }
    const int64_t fewer = sheets_of(before) - sheets_of(leeway->purchase);
    const char *money = dw_money_show_mark(arena, leeway->saved, job->shop.prices.currency);
    if (fewer > 0)
        dw_text_addf(&text, ": %lld %s less, %s saved", (long long)fewer, fewer == 1 ? "sheet" : "sheets", money);
    else
        dw_text_addf(&text, ": %s saved on other sheets", money);
    return text.bytes;
}

struct searching {
    const struct dw_purchase *before;
    const struct dw_leeway_options *options;
    struct search search;
    struct dw_leeway *leeway;
};

/* The plan before stands, until something cheaper is found. */
static void keep_before(struct searching *searching)
{
    const struct dwi_trials *trials = &searching->search.trials;
    struct dw_leeway *leeway = searching->leeway;
    const struct dw_sizing **sizings = dw_arena_alloc(trials->arena, trials->job_count, sizeof *sizings);
    for (size_t j = 0; j < trials->job_count; j++)
        sizings[j] = searching->before->layouts->jobs[j]->sizing;
    leeway->sizings = sizings;
    leeway->parts = searching->before->layouts->jobs;
    leeway->purchase = searching->before;
    leeway->lower_bound = searching->before->lower_bound;
}

static void save(struct searching *searching)
{
    struct search *search = &searching->search;
    struct dw_leeway *leeway = searching->leeway;
    turn_back(search);
    for (size_t k = 0; k < search->knobs.count; k++)
        if (search->knobs.at[k].at > 1)
            turn_back_part(search, &search->knobs.at[k]);
    leeway->sizings = search->best.sizings;
    leeway->parts = search->best.parts;
    leeway->purchase = search->best.purchase;
    write_changes(search, search->trials.arena, leeway);
}

static void search_body(void *context)
{
    struct searching *searching = context;
    struct search *search = &searching->search;
    struct dw_arena *arena = search->trials.arena;
    struct dw_leeway *leeway = dw_arena_alloc(arena, 1, sizeof *leeway);
    searching->leeway = leeway;
    keep_before(searching);
    search->knobs = dwi_knobs_find(leeway->sizings, search->trials.job_count, searching->options, arena);
    sort_by_members(&search->knobs);
    if (search->knobs.count > 0 && searching->before->sheets_cost > 0 && find_corner(search)) {
        leeway->lower_bound = search->best.purchase->lower_bound;
        if (search->cost < searching->before->sheets_cost)
            save(searching);
    }
    leeway->saved = searching->before->sheets_cost - leeway->purchase->sheets_cost;
    leeway->certain = leeway->purchase->sheets_cost <= leeway->lower_bound;
    leeway->words = words_of(search, searching->before, leeway, arena);
}

enum dw_status dw_leeway_search(const struct dw_job *const *jobs, size_t job_count, const struct dw_purchase *before,
                                const struct dw_leeway_options *options, const struct dw_layout_options *layout, const struct dw_control *control,
                                struct dw_arena *arena, struct dw_faults *faults, const struct dw_leeway **leeway)
{
    *leeway = NULL;
    struct dw_faults *heard = dw_faults_new();
    const struct dwi_trials trials = {
        .jobs = jobs, .job_count = job_count, .layout = layout, .control = control, .arena = arena, .heard = heard, .left = TRIALS_MOST};
    struct searching searching = {.before = before, .options = options, .search = {.trials = trials}};
    const bool whole = heard != NULL && dw_arena_guard(arena, search_body, &searching);
    dw_faults_free(heard);
    if (!whole) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while sizes were tried");
        return DW_SURROUNDINGS;
    }
    *leeway = searching.leeway;
    return DW_DONE;
}
