/* purchase.c - the purchase from first to last: problems, sheets, layouts, lines, cost, shares. */
#include "buying.h"

#include <drawerwright/memory.h>

struct purchasing {
    struct buying buying;
    bool done;
};

static void purchase_body(void *context)
{
    struct purchasing *purchasing = context;
    struct buying *buying = &purchasing->buying;
    buying->purchase = dw_arena_alloc(buying->arena, 1, sizeof *buying->purchase);
    if (!dwi_buying_sheets(buying) || !dwi_buying_lay_out(buying))
        return;
    buying->purchase->sheets_cost = buying->sheets_cost;
    buying->purchase->lower_bound = buying->lower_bound;
    buying->purchase->proved = buying->proved;
    buying->purchase->stop = buying->stop;
    dwi_buying_lines(buying);
    dwi_buying_cost(buying);
    dwi_buying_shares(buying);
    dwi_buying_mark(buying);
    if (!buying->options->no_choices)
        dwi_buying_choices(buying);
    purchasing->done = true;
}

enum dw_status dw_purchase_make(const struct dw_parts *const *jobs, size_t job_count, const struct dw_layout_options *options,
                                const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults,
                                const struct dw_purchase **purchase)
{
    static const struct dw_layout_options usual;
    static const struct dw_control silent;
    *purchase = NULL;
    struct purchasing purchasing = {.buying = {.jobs = jobs, .job_count = job_count, .options = options == NULL ? &usual : options,
                                               .control = control == NULL ? &silent : control, .arena = arena, .faults = faults}};
    const enum dw_status status =
        dw_layout_problems(jobs, job_count, options, arena, faults, &purchasing.buying.problems, &purchasing.buying.problem_count);
    if (status != DW_DONE)
        return status;
    if (purchasing.buying.control->milliseconds > 0)
        purchasing.buying.deadline = dwi_buying_clock() + purchasing.buying.control->milliseconds;
    purchasing.buying.tries = dw_faults_new();
    const bool enough = purchasing.buying.tries != NULL && dw_arena_guard(arena, purchase_body, &purchasing);
    dw_faults_free(purchasing.buying.tries);
    if (!enough) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the sheets were chosen");
        return DW_SURROUNDINGS;
    }
    if (!purchasing.done && faults->status == DW_DONE) /* what was wrong could not even be told */
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the sheets were chosen");
    if (!purchasing.done)
        return faults->status;
    *purchase = purchasing.buying.purchase;
    return DW_DONE;
}
