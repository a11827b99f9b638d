/* swap.h - a piece without a place pushes out smaller ones. */
#ifndef DWI_CUTTING_SWAP_H
#define DWI_CUTTING_SWAP_H

#include "ruin.h"

/* Puts one absent piece of the item in the place of a piece, or a few in one sub-tree, that weigh less and become absent: the heaviest such ones in the
 * sheets touched this round. Counts its work into *ticks; false when there are none. */
bool dwi_swap_in(struct ruin *ruin, int item, int64_t *ticks);

#endif
