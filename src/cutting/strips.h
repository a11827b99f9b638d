/* strips.h - big jobs: most of it in sheets of well-filled strips, for good; the rest is left to the search. */
#ifndef DWI_CUTTING_STRIPS_H
#define DWI_CUTTING_STRIPS_H

#include "meter.h"
#include "values.h"

/* Fills sheets of one stock with strips and puts those that are all but full into the draft; what they hold is taken off
 * wanted[] (of each item), the sheets off left[] (of each stock). */
void dwi_strips(const struct problem *problem, int stock, int64_t *wanted, int64_t *left, struct meter *meter,
                struct dw_arena *arena, struct draft *draft);

/* The same for a mix of sheets, the largest first: a start for the search within the mix. What the draft does not hold has no place yet. */
void dwi_strips_within(const struct problem *problem, const int64_t *counts, struct meter *meter, struct dw_arena *arena,
                       struct draft *draft);

#endif
