/* proof.h - what the search asks of the proving half of this room.
 *
 * A `proof` gathers inequalities  sum v[s] * n[s] >= rhs  that the sheet counts n of every plan obey. The lower bound
 * is the least cost of counts that obey them all; those counts, the *blocking mix*, are the goal that the search tries next.
 * All memory comes from the arena given to dwi_proof_new (all calls inside a guard of it).
 */
#ifndef DWI_CUTTING_PROOF_H
#define DWI_CUTTING_PROOF_H

#include "meter.h"
#include "pool.h"
#include "problem.h"

struct proof; /* opaque */

/* One inequality in terms of items and stocks: rhs = sum of u[i] * items[i].count. */
struct bound_row {
    const int64_t *u; /* item_count, >= 0 */
    const int64_t *v; /* stock_count: the most value one sheet can yield, certain */
    int64_t rhs;
};

/* A proof that starts with what is cheap (well under a millisecond for a usual job): area, dual-feasible functions. */
struct proof *dwi_proof_new(const struct problem *problem, struct dw_arena *arena);

/* The cheapest counts (at most stocks[s].count each) that obey every inequality known and cost less than `below`:
 * true with counts[stock_count] and their cost, which no plan undercuts. false: no plan costs less than `below` (INT64_MAX: there
 * is no plan at all). Among equal costs the counts with most slack. Should the enumeration be too large, *cost is still a
 * valid bound and counts are the best known candidates, obeying all inequalities. */
bool dwi_proof_cheapest(struct proof *proof, dw_money below, int64_t *counts, dw_money *cost);

/* Whether counts break no inequality known. */
bool dwi_proof_obeyed(const struct proof *proof, const int64_t *counts);

/* Looks for an inequality that `counts` break (phase-one column generation for these counts), for at most `ticks`; adds it and returns
 * true when found. Asked again for the same counts it goes on where it stopped; *finished is set when there is nothing more to find. Layouts met
 * go to `pool` unless NULL. */
bool dwi_proof_break(struct proof *proof, const int64_t *counts, struct pool *pool, struct meter *meter, int64_t ticks,
                     bool *finished);

/* A slice of column generation on the whole problem with prices as costs, for at most `ticks`: layouts go to `pool`, every
 * pricing round's duals may become an inequality. Returns true while there is more to do. */
bool dwi_proof_columns(struct proof *proof, struct pool *pool, struct meter *meter, int64_t ticks);

/* The relaxed solution of dwi_proof_columns so far, each layout's use rounded down and never more of an item than wanted: a start for the
 * search to finish. Returns how many uses (in `arena`), 0 when there is none yet. */
size_t dwi_proof_rounded(struct proof *proof, struct dw_arena *arena, const struct pattern_use **uses);

/* The cheapest choice of layouts from the pool that covers all items within the counts at hand (`limits`, stock_count of them, NULL: the
 * stocks' own), costing less than `cutoff`: true with the uses in `arena` (items may be over-covered). Limited in nodes and so
 * repeatable; about `ticks` of work at most. */
bool dwi_choose(const struct proof *proof, const struct pool *pool, const int64_t *limits, dw_money cutoff, struct meter *meter,
                int64_t ticks, struct dw_arena *arena, const struct pattern_use **uses, size_t *use_count);

/* All inequalities known, oldest first. */
size_t dwi_proof_rows(const struct proof *proof, const struct bound_row **rows);

/* The inequalities as they stood at some time, for who goes on beside the proof. */
struct known {
    struct bound_row *rows;
    size_t count, capacity;
};

/* Brings `known` up to date; its memory from `arena`, what the rows point at stays the proof's. */
void dwi_known_copy(struct known *known, const struct proof *proof, struct dw_arena *arena);

/* Whether counts break none of them. */
bool dwi_known_obeyed(const struct problem *problem, const struct known *known, const int64_t *counts);

/* Few of them from which it follows that no plan costs less than `bound`. In `arena` (their values are the proof's). */
size_t dwi_proof_certificate(const struct proof *proof, dw_money bound, struct dw_arena *arena, const struct bound_row **rows);

#endif
