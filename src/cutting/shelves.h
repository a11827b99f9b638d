/* shelves.h - a plan at once. */
#ifndef DWI_CUTTING_SHELVES_H
#define DWI_CUTTING_SHELVES_H

#include "values.h"

/* A plain plan, in time that hardly grows with the number of pieces and whether or not work is left: true with *draft in `arena`;
 * false when the stock ran out on this way of filling it (another may do). */
bool dwi_shelves(const struct problem *problem, struct meter *meter, struct dw_arena *arena, struct draft *draft);

#endif
