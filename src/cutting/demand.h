/* demand.h - what pieces of a stock are worth, and what can come from around them, where no item is cut oftener than wanted. */
#ifndef DWI_CUTTING_DEMAND_H
#define DWI_CUTTING_DEMAND_H

#include "grid.h"
#include "meter.h"

/* The tables of one stock; a cell (x, y) is at x * grid.y.count + y. */
struct demand {
    const struct problem *problem;
    struct grid grid;
    bool *seen;       /* of each item: is it at least a step long and wide */
    int64_t *inner;   /* the most that a piece of capacity (x, y) can be worth */
    int64_t *outer;   /* the most that all around such a piece can be worth; -1: too little to matter */
    int64_t *all;     /* along y, for the row at hand: what all items that fit are worth together */
    struct change *changes;
    int change_count; /* where `all` changes, by rising x */
    int64_t *best_item;
    bool *repeats;    /* of each row: does it equal the one before */
    int *rises;       /* along y: where the row at hand rises */
};

/* Room for the tables of stock s, in `arena`; filling them takes at most about `ticks`. */
struct demand *dwi_demand_new(const struct problem *problem, int s, int64_t ticks, struct dw_arena *arena);

/* Fills `inner` for item values u (>= 0, sums below 2^61; 0 for items that are not seen). Returns what the whole stock can be worth: an upper
 * bound for any stages and any first cut. */
int64_t dwi_demand_value(struct demand *demand, const int64_t *u, struct meter *meter);

/* Fills `outer`, after dwi_demand_value: -1 where no layout of the stock worth `least` or more has a piece. */
void dwi_demand_outer(struct demand *demand, int64_t least, struct meter *meter);

static inline size_t dwi_demand_cell(const struct demand *demand, int x, int y)
{
    return (size_t)x * (size_t)demand->grid.y.count + (size_t)y;
}

#endif
