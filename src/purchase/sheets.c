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

/* True when the cheapest plan of each material need not be the cheapest of all: a price breaks with number, or a supplier of sheets is paid
 * for delivery only when something is bought there. */
static bool has_price_rules(const struct buying *buying)
{
    for (size_t m = 0; m < buying->problem_count; m++)
        for (size_t s = 0; s < buying->problems[m].source_count; s++) {
            const struct dw_sheet_source *source = &buying->problems[m].sources[s];
            if (source->owned)
                continue;
            if (shop_of(buying)->materials[buying->problems[m].material].sheets[source->offer].break_count > 0)
                return true;
            if (dwi_buying_delivery(buying, source->supplier) > 0 && !dwi_buying_brings_hardware(buying, source->supplier))
                return true;
        }
    return false;
}

int64_t dwi_buying_work(const struct buying *buying)
{
    static const int64_t units[] = {[DW_SHORT] = 1000000, [DW_COFFEE] = 5000000, [DW_LUNCH] = 60000000};
    return units[buying->options->patience];
}

/* Without price rules, what is best for each material is best in all. */
static void add_up(struct buying *buying)
{
    int64_t **none = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *none);
    buying->stop = DW_STOP_PROVED;
    for (size_t m = 0; m < buying->problem_count; m++) {
        none[m] = dw_arena_alloc(buying->arena, buying->problems[m].source_count, sizeof **none);
        buying->lower_bound += buying->plans[m]->lower_bound;
        buying->stop = buying->plans[m]->stop > buying->stop ? buying->plans[m]->stop : buying->stop;
    }
    buying->sheets_cost = dwi_buying_plans_price(buying, buying->plans);
    buying->lower_bound += dwi_buying_price(buying, (const int64_t *const *)none); /* deliveries that are paid anyhow */
    buying->proved = buying->lower_bound == buying->sheets_cost;
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
    add_up(buying);
    if (has_price_rules(buying))
        dwi_buying_bargain(buying, dwi_buying_work(buying));
    return true;
}
