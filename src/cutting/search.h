/* search.h - the search for a cheapest plan, and for a plan within counts. */
#ifndef DWI_CUTTING_SEARCH_H
#define DWI_CUTTING_SEARCH_H

#include "meter.h"
#include "pool.h"
#include "proof.h"
#include "ruin.h"
#include "values.h"

/* A mix of sheets that is being aimed at, with the search's state for it. */
struct goal {
    int64_t *counts;
    dw_money cost;
    struct ruin ruin;
    struct dw_arena *arena;
};

enum { DWI_GOALS_MOST = 6 };

struct search {
    const struct problem *problem;
    struct dw_arena *arena;
    struct meter meter;
    struct random random;
    struct pool pool;
    struct proof *proof;
    struct values values;
    struct goal goals[DWI_GOALS_MOST];
    int goal_count;
    bool has_plan;
    bool is_told;          /* `best` was passed on with the progress */
    bool impossible;       /* proved */
    struct draft best;     /* patterns of the pool or of `arena` */
    dw_money bound;
    bool is_part;          /* of a greater search, which reports and polishes */
};

/* A search that leaves out the methods of `without` (0: none). Memory of it, beneath `arena` (inside a guard). */
struct search *dwi_search_new(const struct dw_cut_request *request, unsigned without, struct dw_arena *arena);

/* Looks for the cheapest plan until proved or the meter (started by the caller) closes. */
void dwi_search_cheapest(struct search *search);

/* Looks for a plan within counts until found, ruled out, or the meter closes. */
enum dw_cut_outcome dwi_search_within(struct search *search, const int64_t *counts, struct draft *draft);

#endif
