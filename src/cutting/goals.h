/* goals.h - the half of the search that fills sheets: ruin and recreate, aimed at several mixes in turn.
 *
 * Works beside the desk (desk.h) on what the search knew when the round began; the layouts that it meets wait in `finds` until the desk is free.
 */
#ifndef DWI_CUTTING_GOALS_H
#define DWI_CUTTING_GOALS_H

#include "search.h"

/* Aims at a mix, unless it is a goal, from the best plan; a big job from strips. */
void dwi_goals_add(struct search *search, const int64_t *counts);

/* A second state for each mix aimed at, from layouts and how often they are used. */
void dwi_goals_double(struct search *search, const struct pattern_use *uses, size_t use_count);

void dwi_goals_drop_all(struct search *search);

/* Gives every goal a run of its share of so many ticks. True when one was met: its plan is the search's best, if it is better, and the aims change. */
bool dwi_goals_try(struct search *search, int64_t ticks);

/* Pursues goals, the blocking mix among them, for so many ticks. */
void dwi_goals_pursue(struct search *search, int64_t ticks);

/* Puts the layouts of an unfinished state that are good all the same into a pool. */
void dwi_goals_save_layouts(const struct ruin *ruin, struct pool *pool, struct dw_arena *arena);

/* The plan that a state without absent items is. In `arena`. */
struct draft dwi_goals_draft(const struct ruin *ruin, struct dw_arena *arena);

#endif
