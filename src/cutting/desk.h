/* desk.h - the half of the search that works on the programs: the bound, column generation, choice from the pool, value correction.
 *
 * It works in *sittings*: a fixed amount of work on what is known at its start, in memory and on a meter of its own. So the other half (goals.h) can
 * go on meanwhile, in the same thread or in another, and what comes out is the same. While a sitting is under way nobody else looks at the desk.
 */
#ifndef DWI_CUTTING_DESK_H
#define DWI_CUTTING_DESK_H

#include "meter.h"
#include "pool.h"
#include "proof.h"
#include "values.h"

struct desk {
    const struct problem *problem;
    struct dw_arena *arena;   /* apart */
    struct pool pool;
    struct proof *proof;
    struct values values;
    bool more_columns;
    int sittings;

    /* of this sitting, set by dwi_desk_open */
    struct meter meter;
    int64_t quantum;          /* ticks: what raising the bound may take; twice what the others may */
    struct dw_arena *work;    /* holds the plan below */
    struct draft best;        /* the best plan: at first only its cost, of which `has_plan` tells whether there is one */
    bool has_plan;

    /* what came out of it */
    bool is_better;           /* `best` is a plan found in this sitting */
    bool priced;              /* columns were generated */
    int64_t proving;          /* ticks that proof took */
    int64_t *mix;             /* the blocking mix */
    dw_money bound;           /* its cost */
    bool open;                /* false: no plan costs less than `best`; there is none at all when !has_plan */
    bool enough;              /* memory did not run out */
};

/* A desk beneath `arena` (inside a guard). */
void dwi_desk_start(struct desk *desk, const struct problem *problem, uint64_t seed, struct dw_arena *arena);

/* Begins a sitting of at most so many ticks of the whole; best: the best plan, NULL when there is none. */
void dwi_desk_open(struct desk *desk, const struct meter *whole, int64_t ticks, int64_t quantum, const struct draft *best);

/* One round of value correction alone. */
void dwi_desk_correct_values(struct desk *desk, int tries);

/* The cheapest choice of layouts from the pool, below the cutoff and within limits (NULL: the stocks' own). True with *draft in `arena`. */
bool dwi_desk_choose(struct desk *desk, const int64_t *limits, dw_money cutoff, int64_t ticks, struct meter *meter, struct dw_arena *arena,
                     struct draft *draft);

/* A whole sitting; memory that runs out shows in `enough`. The first one raises the bound only. */
void dwi_desk_sit(void *context);

#endif
