/* grid.c - the points of a stock along both sides, coarsened where they are too many.
 *
 * Coarse points: sizes divided by g and rounded down, items and sheet alike. A sum of rounded items is at most the rounded sum, so
 * every layout stays one, and what is the most on such points is an upper bound. The axis with more points is coarsened first, an eighth
 * at a time.
 */
#include "grid.h"

#include <stdlib.h>

#include <drawerwright/memory.h>

/* What a grid is made from. */
struct making {
    const struct problem *problem;
    const struct stock *stock;
    bool within_demand;
};

static bool fits(const struct stock *stock, int64_t length, int64_t width)
{
    return length <= stock->length && width <= stock->width;
}

static int gather(const struct making *making, bool along_x, int64_t step, struct stretch *stretches)
{
    const struct problem *problem = making->problem;
    int count = 0;
    for (int i = 0; i < problem->item_count; i++) {
        const struct item *item = &problem->items[i];
        for (int turned = 0; turned <= item->turn; turned++) {
            const int64_t length = turned ? item->width : item->length;
            const int64_t width = turned ? item->length : item->width;
            const int64_t size = (along_x ? length : width) / step;
            if (fits(making->stock, length, width) && size > 0)
                stretches[count++] = (struct stretch){size, making->within_demand ? item->count : AXIS_ANY_NUMBER};
        }
    }
    return count;
}

/* The points of one side, with sizes divided by `step`. */
static bool make_axis(const struct making *making, bool along_x, int64_t step, struct dw_arena *arena, struct axis *axis)
{
    struct dw_arena *scratch = dw_arena_child(arena);
    struct stretch *stretches = dw_arena_alloc(scratch, 2 * (size_t)making->problem->item_count, sizeof *stretches);
    const int count = gather(making, along_x, step, stretches);
    const int64_t side = (along_x ? making->stock->length : making->stock->width) / step;
    const bool made = dwi_axis_make(stretches, count, side, AXIS_MOST, arena, axis);
    dw_arena_free(scratch);
    return made;
}

static int64_t ticks_of(const struct grid *grid)
{
    return grid->x.splits * grid->y.count / 2 + grid->x.count * grid->y.splits + 4 * (int64_t)grid->x.count * grid->y.count;
}

/* The next coarser step: an eighth more. */
static int64_t coarser(int64_t step)
{
    return step + (step + 7) / 8;
}

/* Makes an axis anew with steps from *step on, coarser until there are few enough points. */
static void remake_axis(const struct making *making, bool along_x, int64_t *step, struct dw_arena *arena, struct axis *axis)
{
    dw_arena_clear(arena);
    while (!make_axis(making, along_x, *step, arena, axis))
        *step = coarser(*step);
}

static void make_points(const struct making *making, int64_t ticks, struct dw_arena *arena, struct grid *grid)
{
    struct dw_arena *of_x = dw_arena_child(arena), *of_y = dw_arena_child(arena);
    grid->step_x = grid->step_y = 1;
    remake_axis(making, true, &grid->step_x, of_x, &grid->x);
    remake_axis(making, false, &grid->step_y, of_y, &grid->y);
    while (ticks_of(grid) > ticks && grid->x.count + grid->y.count > 16) {
        const bool along_x = grid->x.count > grid->y.count;
        int64_t *step = along_x ? &grid->step_x : &grid->step_y;
        *step = coarser(*step);
        remake_axis(making, along_x, step, along_x ? of_x : of_y, along_x ? &grid->x : &grid->y);
    }
}

static int by_x(const void *a, const void *b)
{
    const struct spot *first = a, *second = b;
    if (first->x != second->x)
        return first->x < second->x ? -1 : 1;
    if (first->item != second->item)
        return first->item < second->item ? -1 : 1;
    return (first->turned > second->turned) - (first->turned < second->turned);
}

static void make_spots(const struct making *making, struct dw_arena *arena, struct grid *grid)
{
    const struct problem *problem = making->problem;
    grid->spots = dw_arena_alloc(arena, 2 * (size_t)problem->item_count, sizeof *grid->spots);
    grid->spot_count = 0;
    for (int i = 0; i < problem->item_count; i++) {
        const struct item *item = &problem->items[i];
        for (int turned = 0; turned <= item->turn; turned++) {
            const int64_t length = turned ? item->width : item->length;
            const int64_t width = turned ? item->length : item->width;
            if (fits(making->stock, length, width))
                grid->spots[grid->spot_count++] = (struct spot){.item = i,
                                                                .turned = turned != 0,
                                                                .x = dwi_axis_up(&grid->x, length / grid->step_x),
                                                                .y = dwi_axis_up(&grid->y, width / grid->step_y)};
        }
    }
    qsort(grid->spots, (size_t)grid->spot_count, sizeof *grid->spots, by_x);
}

void dwi_grid_make(const struct problem *problem, int s, bool within_demand, int64_t ticks, struct dw_arena *arena,
                   struct grid *grid)
{
    const struct making making = {.problem = problem, .stock = &problem->stocks[s], .within_demand = within_demand};
    make_points(&making, ticks, arena, grid);
    make_spots(&making, arena, grid);
}

void dwi_grid_blind(const struct problem *problem, const struct grid *grid, bool *seen)
{
    for (int k = 0; k < grid->spot_count; k++) {
        const struct spot *spot = &grid->spots[k];
        const struct item *item = &problem->items[spot->item];
        const int64_t length = spot->turned ? item->width : item->length, width = spot->turned ? item->length : item->width;
        seen[spot->item] = seen[spot->item] && length >= grid->step_x && width >= grid->step_y;
    }
}
