/* mixes.c - the maximal sheet counts within a budget.
 *
 * If counts n hold all items, so do counts with a sheet more. So to ask "is there a plan for at most b?" only counts need
 * be tried to which nothing can be added within b: sheets that cost nothing are all in, and of the others a depth-first
 * walk over the stocks, dearest first, lists each maximal choice once. Counts that break an inequality known are left out. The walk is cut off after so
 * many steps; what it found until then is used. Ranked by total area, then by the smaller cost. Cost: O(steps * rows * stocks).
 */
#include "mixes.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

enum { STEPS_MOST = 100000, TICKS_A_STEP = 20 };

struct walk {
    const struct problem *problem;
    const struct known *known;
    int *order;       /* stocks with a price, dearest first */
    int order_count;
    int64_t *counts;
    int64_t steps;
    int most;
    int found;
    int64_t *mixes;
    int64_t area[DWI_MIXES_MOST];
    dw_money left[DWI_MIXES_MOST];
};

dw_money dwi_mix_cost(const struct problem *problem, const int64_t *counts)
{
    dw_money cost = 0;
    for (int s = 0; s < problem->stock_count; s++)
        cost += counts[s] * problem->stocks[s].price;
    return cost;
}

static bool is_maximal(const struct walk *walk, dw_money left)
{
    for (int k = 0; k < walk->order_count; k++) {
        const struct stock *stock = &walk->problem->stocks[walk->order[k]];
        if (stock->price <= left && walk->counts[walk->order[k]] < stock->count)
            return false;
    }
    return true;
}

static int64_t area_of(const struct walk *walk)
{
    int64_t area = 0; /* shifted areas are below 2^40, sheets within a budget fewer than 2^20 */
    for (int s = 0; s < walk->problem->stock_count; s++)
        area += walk->counts[s] * (walk->problem->stocks[s].area >> walk->problem->area_shift);
    return area;
}

/* Puts the counts at their place among the best. */
static void record(struct walk *walk, dw_money left)
{
    const int64_t area = area_of(walk);
    int place = walk->found;
    while (place > 0 && (walk->area[place - 1] < area || (walk->area[place - 1] == area && walk->left[place - 1] < left)))
        place--;
    if (place >= walk->most)
        return;
    const size_t row = (size_t)walk->problem->stock_count;
    const int last = walk->found < walk->most ? walk->found : walk->most - 1;
    for (int m = last; m > place; m--) {
        memcpy(&walk->mixes[(size_t)m * row], &walk->mixes[(size_t)(m - 1) * row], row * sizeof *walk->mixes);
        walk->area[m] = walk->area[m - 1];
        walk->left[m] = walk->left[m - 1];
    }
    memcpy(&walk->mixes[(size_t)place * row], walk->counts, row * sizeof *walk->mixes);
    walk->area[place] = area;
    walk->left[place] = left;
    walk->found = last + 1;
}

static void choose_from(struct walk *walk, int k, dw_money left)
{
    if (walk->steps++ >= STEPS_MOST)
        return;
    if (k == walk->order_count) {
        if (is_maximal(walk, left) && dwi_known_obeyed(walk->problem, walk->known, walk->counts))
            record(walk, left);
        return;
    }
    const int s = walk->order[k];
    const struct stock *stock = &walk->problem->stocks[s];
    int64_t most = left / stock->price;
    most = most < stock->count ? most : stock->count;
    const bool is_last = k + 1 == walk->order_count;
    for (int64_t n = most; n >= (is_last ? most : 0); n--) {
        walk->counts[s] = n;
        choose_from(walk, k + 1, left - n * stock->price);
    }
    walk->counts[s] = 0;
}

/* Stocks with a price in order of falling price (the index where equal); those without are all taken. */
static void order_stocks(struct walk *walk)
{
    for (int s = 0; s < walk->problem->stock_count; s++) {
        const struct stock *stock = &walk->problem->stocks[s];
        if (stock->price == 0) {
            walk->counts[s] = stock->count;
            continue;
        }
        int at = walk->order_count++;
        while (at > 0 && walk->problem->stocks[walk->order[at - 1]].price < stock->price) {
            walk->order[at] = walk->order[at - 1];
            at--;
        }
        walk->order[at] = s;
    }
}

int dwi_mixes_within(const struct problem *problem, const struct known *known, dw_money budget, int most, int64_t *mixes,
                     struct meter *meter, struct dw_arena *arena)
{
    struct walk walk = {
        .problem = problem,
        .known = known,
        .order = dw_arena_alloc(arena, (size_t)problem->stock_count, sizeof *walk.order),
        .counts = dw_arena_alloc(arena, (size_t)problem->stock_count, sizeof *walk.counts),
        .most = most,
        .mixes = mixes,
    };
    order_stocks(&walk);
    choose_from(&walk, 0, budget);
    dwi_meter_spend(meter, walk.steps * TICKS_A_STEP);
    return walk.found;
}
