/* big.c - jobs of many pieces: strips first, and a search of its own for what they leave.
 *
 * Where pieces are many, nearly every sheet can be filled to the last hundredth by well-filled strips (strips.c). What they leave over is a smaller
 * problem, which the search solves as it would any other, in a third of the work that is still allowed.
 */
#include "search.h"

#include <drawerwright/memory.h>

#include "strips.h"
#include "without.h"

enum {
    BIG_OF_ONE = 600,     /* pieces from which strips are worth a try, of one size of sheet */
    BIG_OF_SEVERAL = 150, /* the same where the sheets to take are to be chosen, too */
};

__extension__ typedef __int128 wide; /* a price times an area */

bool dwi_search_is_big(const struct search *search)
{
    const struct problem *problem = search->problem;
    return problem->piece_count >= (problem->stock_count > 1 ? BIG_OF_SEVERAL : BIG_OF_ONE) && !search->is_part &&
           !dwi_left_out(problem, DWI_STRIPS);
}

/* The stock whose area is cheapest, among those with a price; -1 when all are free. */
static int cheapest_stock(const struct problem *problem)
{
    int best = -1;
    for (int s = 0; s < problem->stock_count; s++) {
        const struct stock *stock = &problem->stocks[s];
        if (stock->price == 0 || stock->count == 0)
            continue;
        if (best < 0 || (wide)stock->price * problem->stocks[best].area < (wide)problem->stocks[best].price * stock->area)
            best = s;
    }
    return best;
}

/* Searches a plan for what the strips left over and puts its layouts to the draft. */
static bool finish_strips(struct search *search, struct problem *rest, const int *item_of, struct dw_arena *work,
                          struct draft *draft)
{
    struct search *part = dwi_search_part(search, rest, work);
    dwi_meter_narrow(&part->meter, (search->meter.limit - search->meter.ticks) / 3);
    dwi_search_find(part);
    const int64_t limit = search->meter.limit;
    search->meter = part->meter;
    search->meter.limit = limit;
    for (size_t u = 0; part->has_plan && u < part->best.count; u++) {
        const struct pattern_use *use = &part->best.uses[u];
        dwi_draft_add(draft, search->problem, dwi_pattern_of_whole(use->pattern, search->problem, item_of, work), use->times,
                      work);
    }
    return part->has_plan;
}

void dwi_search_take_strips(struct search *search)
{
    const struct problem *problem = search->problem;
    const int stock = cheapest_stock(problem);
    if (stock < 0)
        return;
    struct dw_arena *work = dw_arena_child(search->arena);
    int64_t *wanted = dw_arena_alloc(work, (size_t)problem->item_count, sizeof *wanted);
    int64_t *left = dw_arena_alloc(work, (size_t)problem->stock_count, sizeof *left);
    for (int i = 0; i < problem->item_count; i++)
        wanted[i] = problem->items[i].count;
    for (int s = 0; s < problem->stock_count; s++)
        left[s] = problem->stocks[s].count;
    struct draft draft = {0};
    dwi_strips(problem, stock, wanted, left, &search->meter, work, &draft);
    int *item_of;
    struct problem *rest = dwi_problem_part(problem, wanted, work, &item_of);
    for (int s = 0; s < problem->stock_count; s++)
        rest->stocks[s].count = left[s];
    if (draft.count > 0 && (rest->piece_count == 0 || finish_strips(search, rest, item_of, work, &draft)))
        dwi_search_take(search, &draft);
    dw_arena_free(work);
}
