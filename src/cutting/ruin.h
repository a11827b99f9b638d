/* ruin.h - all items into a given mix of sheets: the search for one plan within counts. */
#ifndef DWI_CUTTING_RUIN_H
#define DWI_CUTTING_RUIN_H

#include "holes.h"
#include "insertion.h"
#include "meter.h"
#include "random.h"
#include "slicing.h"

/* A mix of sheets, partly filled, and the items that have no place yet. */
struct ruin {
    const struct problem *problem;
    struct dw_arena *arena;
    struct random random;
    struct sheet *sheets;
    int sheet_count;
    int32_t *absent;          /* of each item */
    int64_t absent_bulk;      /* of all absent items: 1024 is the area of a mean piece; the least seen is the closeness */
    int64_t least_bulk;       /* least absent_bulk ever reached */
    int64_t passes;           /* rounds of ruin and recreate done */

    /* working state */
    int64_t *bulk;            /* of each item */
    struct hole_gauge gauge;
    int *weight;              /* of each item: 256, more for one that has long been absent */
    struct sheet *saved;      /* what sheets[s] was before this round, where is_saved[s] */
    bool *is_saved;
    int *touched;             /* sheets saved this round */
    int touched_count;
    int ruined_count;         /* the first of those, in which alone a local round looks for places; 0: in all */
    int64_t *failed_in;       /* of each item: the last pass (counted from 1) in which it found no place */
    int32_t *absent_before;
    int64_t energy;
    struct run *runs;         /* absent items in their order of insertion */
    size_t run_capacity;
    bool *drop;
    int *work;
    size_t work_capacity;
};

/* A state with counts[s] empty sheets of each stock and all items absent. All memory from `arena`. */
void dwi_ruin_start(struct ruin *ruin, const struct problem *problem, const int64_t *counts, uint64_t seed,
                    struct dw_arena *arena);

/* Lays the given patterns into sheets of their stock that are still empty, fullest first, as far as there are such sheets. */
void dwi_ruin_seed(struct ruin *ruin, const struct pattern_use *uses, size_t use_count);

/* Ruins and recreates for at most `ticks`. Returns true when every item has a place. */
bool dwi_ruin_run(struct ruin *ruin, struct meter *meter, int64_t ticks);

#endif
