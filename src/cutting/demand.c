/* demand.c - inner and outer value of every piece of a stock, where no item is cut oftener than wanted.
 *
 * Problem: the dynamic program of value.c takes any number of each item. Where each is wanted once or twice, what it finds dearest is the
 * best item over and over. To count pieces in a state would make far too many states; but two things cost nothing.
 *
 * Model: inner(x, y), the most that a piece of capacity x by y can be worth, is at most
 *     the largest of   u[i] over items i that fit;  inner(t, y) + inner(rest(x - t), y);  inner(x, t) + inner(x, rest(y - t)),
 *     and at most      sum over the items i that fit of  u[i] * (wanted of i),
 * over sums that hold no size oftener than it is wanted (Christofides & Whitlock 1977: a layout pushed to the low edges needs no others).
 * outer(x, y), the most that all the rest of the stock can be worth when one piece of the tree of cuts has capacity x by y, goes down from the
 * whole, where it is 0: when (x, y) is cut into t and rest, the outer value of each half is that of both plus the inner value of the other. It
 * only falls with x and y. (Viswanathan & Bagchi 1993, the bound of their best-first search.)
 *
 * Proved: any layout within demand that has a piece of this size is worth no more than inner + outer. Any stages, any first cut: a limit
 * of stages only takes layouts away. Coarse points (grid.c) round parts down and the stock too.
 *
 * A point where the row is as before is never split at: the point before gives the same and leaves more. (That t is a sum of splits of
 * its own says nothing here: other than in value.c, the sums are not closed.)
 *
 * Cost: at most (splits of x) * (points of y) + (points of x) * (splits of y) steps; outer twice that over pieces that matter.
 *
 * K. V. Viswanathan, A. Bagchi, "Best-first search methods for constrained two-dimensional cutting stock problems", Operations Research 41
 * (1993).
 */
#include "demand.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

/* From (x, y) on the items that fit are worth so much more together. */
struct change {
    int x, y;
    int item;
    int times; /* -1: counted twice, for both ways it may lie */
};

static int by_x(const void *a, const void *b)
{
    const struct change *first = a, *second = b;
    if (first->x != second->x)
        return first->x < second->x ? -1 : 1;
    if (first->y != second->y)
        return first->y < second->y ? -1 : 1;
    return first->item != second->item ? (first->item < second->item ? -1 : 1) : (first->times > second->times) - (first->times < second->times);
}

/* An item that fits from either of two spots on fits from both of them on once, not twice. */
static void list_changes(struct demand *demand, struct dw_arena *arena)
{
    const struct grid *grid = &demand->grid;
    const size_t items = (size_t)demand->problem->item_count;
    struct dw_arena *scratch = dw_arena_child(arena);
    const struct spot **first = dw_arena_alloc(scratch, items, sizeof *first);
    demand->changes = dw_arena_alloc(arena, 3 * items, sizeof *demand->changes);
    for (int k = 0; k < grid->spot_count; k++) {
        const struct spot *spot = &grid->spots[k], *other = first[spot->item];
        demand->changes[demand->change_count++] = (struct change){spot->x, spot->y, spot->item, 1};
        if (other == NULL) {
            first[spot->item] = spot;
            continue;
        }
        demand->changes[demand->change_count++] = (struct change){spot->x > other->x ? spot->x : other->x,
                                                                  spot->y > other->y ? spot->y : other->y, spot->item, -1};
    }
    qsort(demand->changes, (size_t)demand->change_count, sizeof *demand->changes, by_x);
    dw_arena_free(scratch);
}

struct demand *dwi_demand_new(const struct problem *problem, int s, int64_t ticks, struct dw_arena *arena)
{
    struct demand *demand = dw_arena_alloc(arena, 1, sizeof *demand);
    *demand = (struct demand){.problem = problem};
    dwi_grid_make(problem, s, true, ticks, arena, &demand->grid);
    demand->seen = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *demand->seen);
    memset(demand->seen, true, (size_t)problem->item_count * sizeof *demand->seen);
    dwi_grid_blind(problem, &demand->grid, demand->seen);
    list_changes(demand, arena);
    const size_t rows = (size_t)demand->grid.x.count, columns = (size_t)demand->grid.y.count;
    demand->inner = dw_arena_alloc(arena, rows * columns, sizeof *demand->inner);
    demand->outer = dw_arena_alloc(arena, rows * columns, sizeof *demand->outer);
    demand->all = dw_arena_alloc(arena, columns, sizeof *demand->all);
    demand->best_item = dw_arena_alloc(arena, columns, sizeof *demand->best_item);
    demand->repeats = dw_arena_alloc(arena, rows, sizeof *demand->repeats);
    demand->rises = dw_arena_alloc(arena, columns, sizeof *demand->rises);
    return demand;
}

/* ---- inner ---- */

static int64_t larger(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

/* Row x of the items alone. */
static void item_row(struct demand *demand, const int64_t *u, int x, int *next_spot, int64_t *row)
{
    const struct grid *grid = &demand->grid;
    for (; *next_spot < grid->spot_count && grid->spots[*next_spot].x <= x; ++*next_spot) {
        const struct spot *spot = &grid->spots[*next_spot];
        demand->best_item[spot->y] = larger(demand->best_item[spot->y], u[spot->item]);
    }
    int64_t best = 0;
    for (int y = 0; y < grid->y.count; y++) {
        best = larger(best, demand->best_item[y]);
        row[y] = best;
    }
}

/* Brings `all` to row x. */
static void add_up(struct demand *demand, const int64_t *u, int x, int *next_change)
{
    for (; *next_change < demand->change_count && demand->changes[*next_change].x <= x; ++*next_change) {
        const struct change *change = &demand->changes[*next_change];
        const int64_t worth = change->times * u[change->item] * demand->problem->items[change->item].count;
        for (int y = change->y; y < demand->grid.y.count; y++)
            demand->all[y] += worth;
    }
}

static void take_sums(int64_t *restrict row, const int64_t *restrict first, const int64_t *restrict second, int count)
{
    for (int y = 0; y < count; y++) {
        const int64_t sum = first[y] + second[y];
        row[y] = sum > row[y] ? sum : row[y];
    }
}

static int64_t split_along_x(struct demand *demand, int x, int64_t *row)
{
    const struct axis *axis = &demand->grid.x;
    const int width = demand->grid.y.count;
    int64_t steps = 0;
    for (int t = 1; t <= axis->halves[x]; t++) {
        if (demand->repeats[t])
            continue;
        take_sums(row, demand->inner + dwi_demand_cell(demand, t, 0),
                  demand->inner + dwi_demand_cell(demand, axis->rest[axis->first[x] + t], 0), width);
        steps += width;
    }
    return steps;
}

/* With what crosscuts give in the row: rips, and no more than all items that fit. */
static int64_t split_along_y(struct demand *demand, int64_t *row)
{
    const struct axis *axis = &demand->grid.y;
    int rises = 0;
    int64_t steps = 0;
    for (int y = 0; y < axis->count; y++) {
        const uint16_t *rest = axis->rest + axis->first[y];
        int k = 0;
        for (; k < rises && demand->rises[k] <= axis->halves[y]; k++)
            row[y] = larger(row[y], row[demand->rises[k]] + row[rest[demand->rises[k]]]);
        row[y] = row[y] < demand->all[y] ? row[y] : demand->all[y];
        if (y > 0 && row[y] > row[y - 1])
            demand->rises[rises++] = y;
        steps += k + 2;
    }
    return steps;
}

int64_t dwi_demand_value(struct demand *demand, const int64_t *u, struct meter *meter)
{
    const struct grid *grid = &demand->grid;
    const size_t width = (size_t)grid->y.count;
    int next_spot = 0, next_change = 0;
    int64_t ticks = 0;
    memset(demand->best_item, 0, width * sizeof *demand->best_item);
    memset(demand->all, 0, width * sizeof *demand->all);
    for (int x = 0; x < grid->x.count; x++) {
        int64_t *row = demand->inner + dwi_demand_cell(demand, x, 0);
        item_row(demand, u, x, &next_spot, row);
        add_up(demand, u, x, &next_change);
        ticks += split_along_x(demand, x, row) / 2 + split_along_y(demand, row);
        demand->repeats[x] = x > 0 && memcmp(row, row - width, width * sizeof *row) == 0;
    }
    (void)dwi_meter_spend(meter, ticks);
    return demand->inner[dwi_demand_cell(demand, grid->x.count - 1, grid->y.count - 1)];
}

/* ---- outer ---- */

/* Gives both halves of a split their outer value, where the piece may still come to `least`. */
static inline void hand_down(struct demand *demand, int64_t outer, int64_t least, size_t one, size_t other)
{
    const int64_t with_one = outer + demand->inner[one], with_other = outer + demand->inner[other];
    if (with_one + demand->inner[other] < least)
        return;
    demand->outer[one] = larger(demand->outer[one], with_other);
    demand->outer[other] = larger(demand->outer[other], with_one);
}

/* The row of x from the high end: first what lies above in it is handed down. */
static int64_t hand_down_along_y(struct demand *demand, int x, int64_t least)
{
    const struct axis *axis = &demand->grid.y;
    int64_t steps = 0;
    for (int y = axis->count - 1; y > 0; y--) {
        const size_t cell = dwi_demand_cell(demand, x, y);
        if (demand->outer[cell] + demand->inner[cell] < least)
            demand->outer[cell] = -1;
        if (demand->outer[cell] < 0)
            continue;
        const uint16_t *rest = axis->rest + axis->first[y];
        for (int t = 1; t <= axis->halves[y]; t++)
            hand_down(demand, demand->outer[cell], least, dwi_demand_cell(demand, x, t), dwi_demand_cell(demand, x, rest[t]));
        demand->outer[cell - 1] = larger(demand->outer[cell - 1], demand->outer[cell]);
        steps += axis->halves[y];
    }
    return steps;
}

static int64_t hand_down_along_x(struct demand *demand, int x, int64_t least)
{
    const struct axis *axis = &demand->grid.x;
    const uint16_t *rest = axis->rest + axis->first[x];
    int64_t steps = 0;
    for (int y = 1; y < demand->grid.y.count; y++) {
        const int64_t outer = demand->outer[dwi_demand_cell(demand, x, y)];
        if (outer < 0)
            continue;
        for (int t = 1; t <= axis->halves[x]; t++)
            hand_down(demand, outer, least, dwi_demand_cell(demand, t, y), dwi_demand_cell(demand, rest[t], y));
        const size_t before = dwi_demand_cell(demand, x - 1, y);
        demand->outer[before] = larger(demand->outer[before], outer);
        steps += axis->halves[x];
    }
    return steps;
}

void dwi_demand_outer(struct demand *demand, int64_t least, struct meter *meter)
{
    const struct grid *grid = &demand->grid;
    const size_t cells = (size_t)grid->x.count * (size_t)grid->y.count;
    memset(demand->outer, -1, cells * sizeof *demand->outer);
    demand->outer[cells - 1] = 0;
    int64_t ticks = (int64_t)cells;
    for (int x = grid->x.count - 1; x > 0; x--)
        ticks += 4 * (hand_down_along_y(demand, x, least) + hand_down_along_x(demand, x, least));
    (void)dwi_meter_spend(meter, ticks);
}
