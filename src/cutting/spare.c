/* spare.c - a plan of the same cost that leaves more of what is owned.
 *
 * Owned sheets cost nothing, so the search does not mind how many it uses. Afterwards they are tried one kind at a time, the dearest first: the
 * plan's own mix with one sheet of the kind less, and all owned ones of lesser value in its place, is a goal of ruin and recreate like any other.
 */
#include "search.h"

#include <string.h>

#include <drawerwright/memory.h>

#include "goals.h"

/* The dearest owned stock that the plan uses and that has not been looked at yet; -1 when there is none. */
static int dearest_owned(const struct search *search, const int64_t *used, const bool *looked_at)
{
    const struct stock *stocks = search->problem->stocks;
    int dearest = -1;
    for (int s = 0; s < search->problem->stock_count; s++)
        if (used[s] > 0 && stocks[s].price == 0 && stocks[s].value > 0 && !looked_at[s] &&
            (dearest < 0 || stocks[s].value > stocks[dearest].value))
            dearest = s;
    return dearest;
}

/* The sheets of the plan, one of `without` less, and all owned ones of lesser value. */
static void lesser_mix(const struct search *search, const int64_t *used, int without, int64_t *mix)
{
    const struct stock *stocks = search->problem->stocks;
    for (int s = 0; s < search->problem->stock_count; s++) {
        const bool lesser = stocks[s].price == 0 && stocks[s].value < stocks[without].value;
        mix[s] = lesser ? stocks[s].count : used[s];
    }
    mix[without]--;
}

static void count_used(const struct search *search, int64_t *used)
{
    memset(used, 0, (size_t)search->problem->stock_count * sizeof *used);
    for (size_t u = 0; u < search->best.count; u++)
        used[search->best.uses[u].pattern->stock] += search->best.uses[u].times;
}

void dwi_search_spare_owned(struct search *search, int64_t ticks)
{
    const size_t stocks = (size_t)search->problem->stock_count;
    int64_t *used = dw_arena_alloc(search->arena, stocks, sizeof *used);
    int64_t *mix = dw_arena_alloc(search->arena, stocks, sizeof *mix);
    bool *looked_at = dw_arena_alloc(search->arena, stocks, sizeof *looked_at);
    count_used(search, used);
    for (int s = dearest_owned(search, used, looked_at); s >= 0; s = dearest_owned(search, used, looked_at)) {
        const dw_money before = search->best.owned;
        lesser_mix(search, used, s, mix);
        dwi_goals_drop_all(search);
        dwi_goals_add(search, mix);
        (void)dwi_goals_try(search, ticks / 8);
        looked_at[s] = search->best.owned >= before;
        count_used(search, used);
    }
    dwi_goals_drop_all(search);
}
