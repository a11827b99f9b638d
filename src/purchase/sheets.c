/* sheets.c - which sheets to buy for all materials together. */
#include "buying.h"

#include <time.h>

#include <drawerwright/memory.h>

/* Passes progress on under the material's name. */
struct reporter {
    const struct dw_control *outer;
    const char *name;
};

static void report(void *context, const struct dw_standing *standing)
{
    const struct reporter *reporter = context;
    struct dw_standing named = *standing;
    named.what = reporter->name;
    reporter->outer->progress(reporter->outer->context, &named);
}

static int64_t clock_milliseconds(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* Solves one material; `deadline` (milliseconds, 0: none) is shared evenly among those still to come. */
static bool solve_material(struct buying *buying, size_t m, int64_t deadline)
{
    const struct dw_layout_problem *problem = &buying->problems[m];
    struct reporter reporter = {buying->control, shop_of(buying)->materials[problem->material].name};
    struct dw_control control = {.cancel = buying->control->cancel, .progress = buying->control->progress == NULL ? NULL : report,
                                 .context = &reporter};
    if (deadline > 0) {
        const int64_t left = (deadline - clock_milliseconds()) / (int64_t)(buying->problem_count - m);
        control.milliseconds = left > 1 ? left : 1;
    }
    const enum dw_status status = dw_cut_solve(&problem->request, &control, buying->arena, buying->faults, &buying->plans[m]);
    if (status != DW_DONE)
        return false;
    const struct dw_cut_plan *plan = buying->plans[m];
    if (plan->outcome == DW_CUT_PLAN)
        return true;
    const bool certain = plan->outcome == DW_CUT_IMPOSSIBLE;
    dw_error(buying->faults, DW_IMPOSSIBLE, certain ? "sheets-short" : "no-plan", dw_arena_format(buying->arena, "shop.materials[%zu]", problem->material),
             certain ? "the sheets of %s at hand cannot hold all its parts\nraise their counts or offer another size"
                     : "no way was found to cut all parts of %s from the sheets at hand\nallow more sheets, or more patience",
             reporter.name);
    return false;
}

bool dwi_buying_sheets(struct buying *buying)
{
    const int64_t allowed = buying->control->milliseconds;
    const int64_t deadline = allowed > 0 ? clock_milliseconds() + allowed : 0;
    buying->plans = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *buying->plans);
    bool done = true;
    for (size_t m = 0; m < buying->problem_count; m++)
        done = solve_material(buying, m, deadline) && done;
    if (!done)
        return false;
    int64_t **counts = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *counts);
    int64_t **none = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *none);
    buying->stop = DW_STOP_PROVED;
    bool breaks = false;
    for (size_t m = 0; m < buying->problem_count; m++) {
        const struct dw_layout_problem *problem = &buying->problems[m];
        counts[m] = dwi_buying_counts(buying, m, buying->plans[m]);
        none[m] = dw_arena_alloc(buying->arena, problem->source_count, sizeof **none);
        buying->lower_bound += buying->plans[m]->lower_bound;
        buying->stop = buying->plans[m]->stop > buying->stop ? buying->plans[m]->stop : buying->stop;
        const struct dw_material *material = &shop_of(buying)->materials[problem->material];
        for (size_t s = 0; s < material->sheet_count; s++)
            breaks = breaks || material->sheets[s].break_count > 0;
    }
    buying->sheets_cost = dwi_buying_price(buying, (const int64_t *const *)counts);
    buying->lower_bound = (breaks ? 0 : buying->lower_bound) + dwi_buying_price(buying, (const int64_t *const *)none);
    buying->proved = buying->lower_bound == buying->sheets_cost;
    return true;
}
