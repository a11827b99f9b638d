/* values.h - whole plans, one sheet after another, by part values that learn. */
#ifndef DWI_CUTTING_VALUES_H
#define DWI_CUTTING_VALUES_H

#include "insertion.h"
#include "meter.h"
#include "pool.h"
#include "random.h"

/* A plan in the making: layouts and how often each is used. */
struct draft {
    struct pattern_use *uses;
    size_t count;
    size_t capacity;
    dw_money cost;
    dw_money owned;  /* value of the sheets used that cost nothing */
};

/* Whether one plan goes before another: less cost, then less value of owned sheets used. */
static inline bool dwi_draft_is_better(const struct draft *a, const struct draft *b)
{
    return a->cost != b->cost ? a->cost < b->cost : a->owned < b->owned;
}

/* Puts `times` sheets cut by `pattern` behind the draft's uses, or to those of the same pattern. */
void dwi_draft_add(struct draft *draft, const struct problem *problem, const struct pattern *pattern, int64_t times,
                   struct dw_arena *arena);

struct values {
    const struct problem *problem;
    struct random random;
    int64_t *base;   /* of each item: area^1.03 */
    int64_t *value;
    int *ranks;      /* items by value for their area */
};

void dwi_values_start(struct values *values, const struct problem *problem, uint64_t seed, struct dw_arena *arena);

/* One plan by `tries` attempts a sheet, within limits[s] sheets of each stock; layouts go to the pool and stay in it. Returns true with
 * *draft in `arena` when every item has a place, false when sheets or work ran out. The values learn from it either way. */
bool dwi_values_round(struct values *values, const int64_t *limits, int tries, struct pool *pool, struct meter *meter,
                      struct dw_arena *arena, struct draft *draft);

#endif
