/* grid.h - the points of a stock along both sides, and where items begin to fit. */
#ifndef DWI_CUTTING_GRID_H
#define DWI_CUTTING_GRID_H

#include "points.h"
#include "problem.h"

/* An item in one of the ways it may lie: the first points that hold it. */
struct spot {
    int item;
    bool turned;
    int x, y;
};

struct grid {
    struct axis x, y;
    int64_t step_x, step_y; /* what sizes are divided by; 1: exact */
    struct spot *spots;     /* by rising x, then item */
    int spot_count;
};

/* The grid of stock s, in `arena`: for any number of each item, or for layouts that hold no item oftener than wanted (within_demand). Coarser,
 * where needed, until a table of all its pieces with all their splits takes at most about `ticks`. */
void dwi_grid_make(const struct problem *problem, int s, bool within_demand, int64_t ticks, struct dw_arena *arena,
                   struct grid *grid);

/* Clears seen[i] of items that fit the stock of the grid and are less than a step long or wide. */
void dwi_grid_blind(const struct problem *problem, const struct grid *grid, bool *seen);

#endif
