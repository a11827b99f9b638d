/* sets.h - all sets of pieces that one sheet can hold, where that is only a few pieces. */
#ifndef DWI_CUTTING_SETS_H
#define DWI_CUTTING_SETS_H

#include "meter.h"
#include "slicing.h"

struct sets;

/* Lists them, in `arena`: of as many items, the largest first, as there is room for. NULL when sheets hold too many pieces. */
struct sets *dwi_sets_new(const struct problem *problem, struct meter *meter, struct dw_arena *arena);

/* How many of the items, from the first on, the sets are of. */
int dwi_sets_items(const struct sets *sets);

/* The most value (u >= 0, sums below 2^62; 0 for items that are not listed) of any set that stock s holds: no item oftener than it is wanted. */
int64_t dwi_sets_value(struct sets *sets, int stock, const int64_t *u, struct meter *meter);

/* A layout of the set that the last valuation found, NULL when it is worth nothing. It may ask for more stages than are allowed.
 * In `arena`. */
const struct pattern *dwi_sets_pattern(const struct sets *sets, struct dw_arena *arena);

#endif
