/* mixes.h - which sheet counts to aim at. */
#ifndef DWI_CUTTING_MIXES_H
#define DWI_CUTTING_MIXES_H

#include "proof.h"

enum { DWI_MIXES_MOST = 8 };

/* The most promising sheet counts for at most `budget`: counts to which no sheet can be added within it (if any such mix holds the items, so
 * does one of these), that obey the inequalities known; those with most area first. Writes at most `most` (up to
 * DWI_MIXES_MOST) rows of stock_count counts into mixes and returns how many. */
int dwi_mixes_within(const struct problem *problem, const struct known *known, dw_money budget, int most, int64_t *mixes,
                     struct meter *meter, struct dw_arena *arena);

dw_money dwi_mix_cost(const struct problem *problem, const int64_t *counts);

#endif
