/* value.h - the most value that one sheet can be cut into, by dynamic programming in integers. */
#ifndef DWI_CUTTING_VALUE_H
#define DWI_CUTTING_VALUE_H

#include "meter.h"
#include "slicing.h"

struct valuer;

/* What it takes to value the stocks of a problem: points, rests and tables, in `arena`. One valuation of a stock takes at most about
 * `ticks`; where the points of a stock are too many for that they are coarsened. */
struct valuer *dwi_valuer_new(const struct problem *problem, int64_t ticks, struct dw_arena *arena);

/* No layout of stock s, with any number of each item, is worth more than this for the item values u (0 .. 2^40; those of items
 * not seen must be 0). Exact on points that were not coarsened, while values stay below 2^28. */
int64_t dwi_value(struct valuer *valuer, int stock, const int64_t *u, struct meter *meter);

/* The layout that the last valuation found; counts as they are in it, also above what is wanted. Where points were coarsened it may be
 * larger than the stock. NULL when it is worth nothing or has more than twenty thousand items. In `arena`. */
const struct pattern *dwi_value_pattern(const struct valuer *valuer, struct dw_arena *arena);

/* Is an item at least a step long and wide on every stock that holds it, after coarsening? */
bool dwi_value_sees(const struct valuer *valuer, int item);

#endif
