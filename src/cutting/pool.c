/* pool.c - distinct layouts, found by a hash of their stock and counts.
 *
 * Two layouts of one stock that hold the same items are one to the integer program; the first one met is kept. Items
 * beyond what is wanted are pruned first, so that a layout is never refused only for being over-full.
 */
#include "pool.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { FIRST_SLOTS = 256, MOST_NODES = 4000000 };

void dwi_pool_init(struct pool *pool, const struct problem *problem, struct dw_arena *arena)
{
    *pool = (struct pool){.problem = problem, .arena = arena, .slot_count = FIRST_SLOTS};
    pool->slots = dw_arena_alloc(arena, FIRST_SLOTS, sizeof *pool->slots);
    memset(pool->slots, -1, FIRST_SLOTS * sizeof *pool->slots);
    dwi_sheet_init(&pool->scratch, problem, 0);
}

static size_t hash_of(const struct pattern *pattern, int item_count)
{
    uint64_t hash = UINT64_C(0x9e3779b97f4a7c15) * (uint64_t)(pattern->stock + 1);
    for (int i = 0; i < item_count; i++)
        if (pattern->counts[i] != 0) {
            hash ^= (uint64_t)i << 32 | (uint32_t)pattern->counts[i];
            hash *= UINT64_C(0xbf58476d1ce4e5b9);
            hash ^= hash >> 29;
        }
    return (size_t)hash;
}

static bool same(const struct pattern *a, const struct pattern *b, int item_count)
{
    return a->stock == b->stock && memcmp(a->counts, b->counts, (size_t)item_count * sizeof *a->counts) == 0;
}

/* The slot that holds the pattern's equal, or the empty one where it belongs. */
static int32_t *slot_of(const struct pool *pool, const struct pattern *pattern)
{
    const int item_count = pool->problem->item_count;
    size_t slot = hash_of(pattern, item_count) & (pool->slot_count - 1);
    while (pool->slots[slot] >= 0 && !same(pool->at[pool->slots[slot]], pattern, item_count))
        slot = (slot + 1) & (pool->slot_count - 1);
    return &pool->slots[slot];
}

static void widen_slots(struct pool *pool)
{
    pool->slot_count *= 2;
    pool->slots = dw_arena_alloc(pool->arena, pool->slot_count, sizeof *pool->slots);
    memset(pool->slots, -1, pool->slot_count * sizeof *pool->slots);
    for (size_t i = 0; i < pool->count; i++)
        *slot_of(pool, pool->at[i]) = (int32_t)i;
}

/* Prunes leaves beyond what is wanted of their item, last ones first. */
void dwi_clip(struct sheet *sheet, const int64_t *wanted, struct dw_arena *arena)
{
    const struct problem *problem = sheet->problem;
    int64_t *held = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *held);
    int32_t *removed = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *removed);
    bool *drop = dw_arena_alloc(arena, (size_t)sheet->count, sizeof *drop);
    int *work = dw_arena_alloc(arena, (size_t)sheet->count, sizeof *work);
    bool any = false;
    for (int i = 0; i < sheet->count; i++) {
        const struct twig *twig = &sheet->twigs[i];
        if (twig->kind != SLICE_ITEM)
            continue;
        drop[i] = ++held[twig->item] > wanted[twig->item];
        any |= drop[i];
    }
    if (any)
        dwi_sheet_prune(sheet, drop, removed, work);
}

static bool is_over_full(const struct problem *problem, const struct pattern *pattern)
{
    for (int i = 0; i < problem->item_count; i++)
        if (pattern->counts[i] > problem->items[i].count)
            return true;
    return false;
}

static const struct pattern *clipped(struct pool *pool, struct dw_arena *work)
{
    const struct problem *problem = pool->problem;
    int64_t *wanted = dw_arena_alloc(work, (size_t)problem->item_count, sizeof *wanted);
    for (int i = 0; i < problem->item_count; i++)
        wanted[i] = problem->items[i].count;
    dwi_clip(&pool->scratch, wanted, work);
    return dwi_sheet_pattern(&pool->scratch, work);
}

static const struct pattern *keep(struct pool *pool, int32_t *slot)
{
    const struct pattern *kept = dwi_sheet_pattern(&pool->scratch, pool->arena);
    *slot = (int32_t)pool->count;
    pool->at = dw_arena_grow(pool->arena, pool->at, pool->count, &pool->capacity, sizeof *pool->at);
    pool->at[pool->count++] = kept;
    pool->node_count += (size_t)kept->node_count;
    if (pool->count * 2 > pool->slot_count)
        widen_slots(pool);
    return kept;
}

const struct pattern *dwi_pool_add(struct pool *pool, const struct pattern *pattern)
{
    const bool over = is_over_full(pool->problem, pattern);
    if (!over) {
        const int32_t *slot = slot_of(pool, pattern);
        if (*slot >= 0)
            return pool->at[*slot];
    }
    pool->scratch.stock = pattern->stock;
    dwi_sheet_load(&pool->scratch, pattern, pool->arena);
    struct dw_arena *work = dw_arena_child(pool->arena);
    const struct pattern *kept = NULL;
    if (over)
        pattern = clipped(pool, work);
    if (pool->scratch.count > 0 && dwi_sheet_sound(&pool->scratch)) {
        int32_t *slot = slot_of(pool, pattern);
        if (*slot >= 0)
            kept = pool->at[*slot];
        else if (pool->node_count < MOST_NODES)
            kept = keep(pool, slot);
    }
    dw_arena_free(work);
    return kept;
}
