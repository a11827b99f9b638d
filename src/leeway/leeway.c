/* leeway.c - the search over sizes, from first to last.
 *
 * 1. The corner (corner.c): its sheets, and the bound on all settings. No cheaper than the plan in hand: nothing can be saved. Sizes that hang together are
 *    chosen there (coupled.c).
 * 2. Back towards what is preferred, as near as those sheets allow (turn_back.c). So few drawers change, and little.
 * 3. A whole purchase of what came out, with the same patience as the plan before. Should it miss the sheets that were found, the corner is bought
 *    instead; should that be no cheaper than the plan before, or slides eat up what sheets save, the plan before stands.
 * So the result never costs more. Looking is bounded by work, counted like all work of the program, so the same job gives the same answer.
 */
#include "knobs.h"

#include <string.h>

#include <drawerwright/memory.h>

struct searching {
    struct dwi_search search;
    struct dw_faults *faults;
    struct dw_leeway *leeway;
};

/* Units of work by patience: for each material at a corner, and for all questions. A near miss is worth less looking. */
static void allow_work(struct dwi_search *search)
{
    static const int64_t corner[] = {[DW_SHORT] = 300000, [DW_COFFEE] = 1000000, [DW_LUNCH] = 8000000};
    static const int64_t questions[] = {[DW_SHORT] = 1000000, [DW_COFFEE] = 3000000, [DW_LUNCH] = 24000000};
    const int64_t part = search->options->near > 0 ? 4 : 1;
    search->corner_work = corner[search->layout->patience] / part;
    search->work = questions[search->layout->patience] / part;
    if (search->layout->work > 0) {
        search->corner_work = dw_least(search->corner_work, search->layout->work);
        search->work = dw_least(search->work, 4 * search->layout->work);
    }
}

/* The plan before stands, until something cheaper is found. */
static void keep_before(struct searching *searching)
{
    const struct dwi_search *search = &searching->search;
    struct dw_leeway *leeway = searching->leeway;
    const struct dw_sizing **sizings = dw_arena_alloc(search->arena, search->job_count, sizeof *sizings);
    for (size_t j = 0; j < search->job_count; j++)
        sizings[j] = search->before->layouts->jobs[j]->sizing;
    leeway->sizings = sizings;
    leeway->parts = search->before->layouts->jobs;
    leeway->purchase = search->before;
    leeway->lower_bound = search->before->lower_bound;
}

static bool is_told(const struct dw_faults *faults, const struct dw_fault *fault)
{
    for (size_t i = 0; i < faults->count; i++)
        if (strcmp(faults->at[i].code, fault->code) == 0 && strcmp(faults->at[i].address, fault->address) == 0)
            return true;
    return false;
}

/* What is to be said of the new sizes and was not said of the old ones: the warnings heard from the `first` on. */
static void tell_new_warnings(struct searching *searching, size_t first)
{
    const struct dw_faults *heard = searching->search.heard;
    for (size_t i = first; i < heard->count; i++) {
        struct dw_faults one = *heard;
        one.at += i;
        one.count = 1;
        if (heard->at[i].grade == DW_WARNING && !is_told(searching->faults, &heard->at[i]))
            dw_faults_append(searching->faults, &one, "");
    }
}

/* Buys the setting as it stands, materials whose parts did not change with the plan they had; taken when it costs less than `below`. */
static bool buy(struct searching *searching, dw_money below)
{
    struct dwi_search *search = &searching->search;
    struct dw_leeway *leeway = searching->leeway;
    const struct dw_purchase *purchase = NULL;
    const size_t heard = search->heard->count;
    struct dwi_trial trial = dwi_try(search);
    struct dw_layout_options options = *search->layout;
    options.known = search->before->coupled ? NULL : search->before->layouts;
    if (!trial.possible || dw_purchase_make(trial.parts, search->job_count, &options, search->control, trial.arena, search->heard,
                                            &purchase) != DW_DONE ||
        purchase->sheets_cost + dwi_knobs_price(&search->knobs) >= below || purchase->total > search->before->total)
        return false;
    leeway->sizings = trial.sizings;
    leeway->parts = trial.parts;
    leeway->purchase = purchase;
    if (search->options->near == 0)
        tell_new_warnings(searching, heard);
    return true;
}

static void put_knobs(struct dwi_knobs *to, const struct dwi_knobs *from, struct dw_arena *arena)
{
    to->count = from->count;
    to->at = dw_arena_copy(arena, from->at, from->count, sizeof *from->at);
    for (size_t k = 0; k < to->count; k++)
        to->at[k].fronts.shifts = dw_arena_copy(arena, from->at[k].fronts.shifts, from->at[k].fronts.count, sizeof(int));
}

static void leave_all(struct dwi_search *search)
{
    for (size_t k = 0; k < search->knobs.count; k++)
        search->knobs.at[k].at = 0;
}

static void save(struct searching *searching)
{
    struct dwi_search *search = &searching->search;
    struct dwi_knobs corner = {.count = 0};
    put_knobs(&corner, &search->knobs, search->arena);
    dwi_turn_back(search);
    if (buy(searching, search->target.cost + 1))
        return;
    put_knobs(&search->knobs, &corner, search->arena);
    if (!buy(searching, search->before->sheets_cost))
        leave_all(search);
}

static void look(struct searching *searching)
{
    struct dwi_search *search = &searching->search;
    const bool priced = dwi_corner(search);
    searching->leeway->lower_bound = priced ? dw_least(search->target.bound, search->before->sheets_cost) : 0;
    if (priced && search->target.cost < search->before->sheets_cost)
        save(searching);
    else
        leave_all(search);
}

static void search_body(void *context)
{
    struct searching *searching = context;
    struct dwi_search *search = &searching->search;
    struct dw_leeway *leeway = dw_arena_alloc(search->arena, 1, sizeof *leeway);
    searching->leeway = leeway;
    keep_before(searching);
    allow_work(search);
    search->knobs = dwi_knobs_find(leeway->sizings, search->job_count, search->options, search->arena);
    dwi_search_start(search);
    if (search->knobs.count > 0)
        look(searching);
    leeway->before = search->before->sheets_cost;
    leeway->slides = dwi_knobs_price(&search->knobs);
    leeway->saved = leeway->before - leeway->purchase->sheets_cost - leeway->slides;
    leeway->certain = leeway->purchase->sheets_cost + leeway->slides <= leeway->lower_bound;
    dwi_leeway_words(search, leeway);
    if (search->options->near > 0)
        dwi_leeway_alone(search, leeway);
}

enum dw_status dw_leeway_search(const struct dw_job *const *jobs, size_t job_count, const struct dw_purchase *before,
                                const struct dw_leeway_options *options, const struct dw_layout_options *layout, const struct dw_control *control,
                                struct dw_arena *arena, struct dw_faults *faults, const struct dw_leeway **leeway)
{
    *leeway = NULL;
    struct dw_faults *heard = dw_faults_new();
    struct searching searching = {.search = {.jobs = jobs, .job_count = job_count, .before = before, .options = options, .layout = layout,
                                             .control = control, .arena = arena, .heard = heard},
                                  .faults = faults};
    const bool whole = heard != NULL && dw_arena_guard(arena, search_body, &searching);
    dw_faults_free(heard);
    if (!whole) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while sizes were tried");
        return DW_SURROUNDINGS;
    }
    *leeway = searching.leeway;
    return DW_DONE;
}

const struct dw_purchase *dw_leeway_tell(const struct dw_purchase *purchase, const struct dw_leeway *leeway, const struct dw_leeway *near,
                                         struct dw_arena *arena)
{
    struct dw_purchase *copy = dw_arena_copy(arena, purchase, 1, sizeof *purchase);
    copy->leeway = leeway;
    copy->near = near;
    return copy;
}
