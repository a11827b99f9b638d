/* limited.h - the sets of pieces, no item oftener than wanted, that a stock can be cut into and that are worth at least so much. */
#ifndef DWI_CUTTING_LIMITED_H
#define DWI_CUTTING_LIMITED_H

#include "demand.h"
#include "slicing.h"

struct limited;

enum listing {
    LISTED_NONE, /* certain: there is no such set */
    LISTED_SOME, /* all of them are listed, so the first is worth most; on coarse points one may be no layout in truth */
    LISTED_NOT   /* not known: the work set aside, or the memory, was not enough */
};

/* What it takes to ask about the stocks of a problem, in `arena`; NULL when there are too many stocks or kinds of items. `ticks`: as in
 * demand.h, for one stock. */
struct limited *dwi_limited_new(const struct problem *problem, int64_t ticks, struct dw_arena *arena);

/* Is an item at least a step long and wide on every stock that holds it? Others must be worth 0. */
bool dwi_limited_sees(struct limited *limited, int item);

/* Takes item values u for a stock (not copied; as in dwi_demand_value). Returns an upper bound on what the stock can be worth. */
int64_t dwi_limited_value(struct limited *limited, int stock, const int64_t *u, struct meter *meter);

/* Lists the sets of a stock, valued before, that are worth at least `least`, for at most about `ticks`. */
enum listing dwi_limited_list(struct limited *limited, int stock, int64_t least, struct meter *meter, int64_t ticks);

/* The sets of the last listing: how many; the value of the dearest, which comes first. */
size_t dwi_limited_count(const struct limited *limited);
int64_t dwi_limited_most(const struct limited *limited);

/* The k-th set as a layout, in `arena`. It may ask for more stages than are allowed; on coarse points it has counts, but no nodes. */
const struct pattern *dwi_limited_pattern(const struct limited *limited, size_t k, struct dw_arena *arena);

#endif
