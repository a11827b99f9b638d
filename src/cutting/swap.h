/* swap.h - a piece without a place pushes out a smaller one. */
#ifndef DWI_CUTTING_SWAP_H
#define DWI_CUTTING_SWAP_H

#include "ruin.h"

/* Puts one absent piece of the item in the place of a piece that weighs less, which becomes absent: the heaviest such one, among those in the
 * sheets touched this round. Counts its work into *ticks; false when there is none. */
bool dwi_swap_in(struct ruin *ruin, int item, int64_t *ticks);

#endif
