/* sheets.c - which sheets to buy for all materials together. */
#include "buying.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

/* Each material has a plan, or a fault says why there is none. */
static bool has_plans(const struct buying *buying)
{
    bool all = true;
    for (size_t m = 0; m < buying->problem_count; m++) {
        const struct dw_layout_problem *problem = &buying->problems[m];
        const enum dw_cut_outcome outcome = buying->plans[m]->outcome;
        if (outcome == DW_CUT_PLAN)
            continue;
        const bool certain = outcome == DW_CUT_IMPOSSIBLE;
        all = false;
        dw_error(buying->faults, DW_IMPOSSIBLE, certain ? "sheets-short" : "no-plan",
                 dw_address_index(buying->arena, "shop.materials", problem->material),
                 certain ? "the sheets of %s at hand cannot hold all its parts\nraise their counts or offer another size"
                         : "no way was found to cut all parts of %s from the sheets at hand\nallow more sheets, or more patience",
                 shop_of(buying)->materials[problem->material].name);
    }
    return all;
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
    return dw_patience_units(buying->options->patience);
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
    buying->plans = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *buying->plans);
    if (!dwi_buying_solve_all(buying) || !has_plans(buying))
        return false;
    add_up(buying);
    buying->purchase->coupled = has_price_rules(buying);
    if (buying->purchase->coupled)
        dwi_buying_bargain(buying, dwi_buying_work(buying));
    return true;
}
