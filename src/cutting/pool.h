/* pool.h - the distinct good layouts that any method has seen, for the integer program to choose from. */
#ifndef DWI_CUTTING_POOL_H
#define DWI_CUTTING_POOL_H

#include <stddef.h>
#include <stdint.h>

#include "slicing.h"

struct pool {
    const struct problem *problem;
    struct dw_arena *arena;        /* holds the patterns */
    const struct pattern **at;     /* in the order they came; none holds more of an item than is wanted */
    size_t count;
    size_t capacity;
    int32_t *slots;                /* hash table over `at`, -1 for an empty slot */
    size_t slot_count;             /* a power of two */
    size_t node_count;             /* of all patterns together */
    struct sheet scratch;
};

/* An empty pool in `arena` (inside a guard, as all that adds to it). */
void dwi_pool_init(struct pool *pool, const struct problem *problem, struct dw_arena *arena);

/* Keeps a copy of `pattern` unless one with the same stock and counts is there. Leaves in excess of what is wanted of an item are
 * cut away first. Returns the pattern kept (the new one or the one that was there), NULL when nothing was left of it or the pool is full. */
const struct pattern *dwi_pool_add(struct pool *pool, const struct pattern *pattern);

/* Prunes the leaves of a sheet that are beyond what is wanted[] of their item. */
void dwi_clip(struct sheet *sheet, const int64_t *wanted, struct dw_arena *arena);

#endif
