/* sets.c - all sets of pieces that one sheet can hold, where that is only a few pieces.
 *
 * Problem: the dynamic program of value.c cuts any number of each item. Where a sheet holds three pieces and each is wanted
 * once, what it values highest is the same large piece over and over, which no plan can do; the bound stays low for good.
 *
 * Model: a set is a list of items in rising order, no item oftener than wanted, with the sizes that a slicing tree of
 * exactly these pieces can have: those that fit some stock and within which no other lies. Item after item, the largest first, every set
 * so far is tried with a piece more: what is left of a set that fits, without one piece, fits too, so every set is met once, after all
 * its parts. Where the sets get too many, the smaller items stay out; they may count for nothing, and a bound on the large ones alone is one. A set's
 * sizes join those of two parts of it, side by side or upon each other, over all 2^(n - 1) - 1 ways to part it in two.
 * The value of a stock is then the largest sum of u over the sets that fit it: exact, with bounded numbers.
 *
 * Proved: with cuts of any stages and any first cut; a limit of stages allows fewer layouts, so the value stays an upper bound.
 *
 * Cost: MOST_SETS sets at most; a valuation adds up each set. Joining rectangles from the bottom up: P. Y. Wang, "Two
 * algorithms for constrained two-dimensional cutting stock problems", Operations Research 31 (1983).
 */
#include "sets.h"

#include <assert.h>
#include <string.h>

#include <drawerwright/memory.h>

enum { MOST_PIECES = 10, MOST_SETS = 60000, SLOTS = 1 << 17, MOST_STOCKS = 32, MOST_SIZES = 64, MOST_TICKS = 60000000 };

struct size {
    int64_t length, width;
};

struct set {
    int count;
    int32_t items[MOST_PIECES]; /* rising */
    uint32_t stocks;            /* bit s: fits stock s */
    int size_count;
    const struct size *sizes;
};

struct sets {
    const struct problem *problem;
    struct dw_arena *arena;
    struct set *at;
    size_t count, capacity;
    int item_count;             /* listed are all sets of items below this one */
    int32_t *slots;             /* hash of the items -> place in `at`, -1 for none */
    struct size sizes[MOST_SIZES]; /* of the set in the making */
    int size_count;
    bool overflow;
    int64_t ticks;
    int stock;                  /* of the last valuation */
    const struct set *best;     /* found by it */
};

/* ---- finding a set ---- */

static int32_t *slot_of(const struct sets *sets, const int32_t *items, int count)
{
    uint64_t hash = UINT64_C(0x9e3779b97f4a7c15);
    for (int k = 0; k < count; k++) {
        hash = (hash ^ (uint64_t)items[k]) * UINT64_C(0xbf58476d1ce4e5b9);
        hash ^= hash >> 31;
    }
    for (size_t slot = (size_t)hash & (SLOTS - 1);; slot = (slot + 1) & (SLOTS - 1)) {
        const struct set *set = sets->slots[slot] < 0 ? NULL : &sets->at[sets->slots[slot]];
        if (set == NULL || (set->count == count && memcmp(set->items, items, (size_t)count * sizeof *items) == 0))
            return &sets->slots[slot];
    }
}

/* The places of `mask` taken out of a set's items; NULL when that part fits no stock. */
static const struct set *part_of(const struct sets *sets, const struct set *whole, int mask)
{
    int32_t items[MOST_PIECES];
    int count = 0;
    for (int k = 0; k < whole->count; k++)
        if (mask >> k & 1)
            items[count++] = whole->items[k];
    const int32_t place = *slot_of(sets, items, count);
    return place < 0 ? NULL : &sets->at[place];
}

/* ---- sizes ---- */

static uint32_t stocks_for(const struct problem *problem, struct size size)
{
    uint32_t stocks = 0;
    for (int s = 0; s < problem->stock_count; s++) {
        const struct stock *stock = &problem->stocks[s];
        if (size.length <= stock->length && size.width <= stock->width)
            stocks |= UINT32_C(1) << s;
    }
    return stocks;
}

/* Keeps a size that fits a stock unless another lies within it; drops those that it lies within. */
static void keep_size(struct sets *sets, struct size size)
{
    if (stocks_for(sets->problem, size) == 0)
        return;
    int kept = 0;
    for (int k = 0; k < sets->size_count; k++) {
        const struct size other = sets->sizes[k];
        if (other.length <= size.length && other.width <= size.width)
            return; /* then none was dropped before, as no two of the list lie within each other */
        if (other.length < size.length || other.width < size.width)
            sets->sizes[kept++] = other;
    }
    sets->overflow |= kept == MOST_SIZES;
    if (kept < MOST_SIZES)
        sets->sizes[kept++] = size;
    sets->size_count = kept;
}

static struct size joined(struct size a, struct size b, enum slice_kind kind)
{
    const int64_t length = a.length > b.length ? a.length : b.length, width = a.width > b.width ? a.width : b.width;
    return kind == SLICE_BESIDE ? (struct size){a.length + b.length, width} : (struct size){length, a.width + b.width};
}

static void join(struct sets *sets, const struct set *one, const struct set *other)
{
    sets->ticks += 10 * (int64_t)one->size_count * other->size_count;
    for (int a = 0; a < one->size_count; a++)
        for (int b = 0; b < other->size_count; b++) {
            keep_size(sets, joined(one->sizes[a], other->sizes[b], SLICE_BESIDE));
            keep_size(sets, joined(one->sizes[a], other->sizes[b], SLICE_UPON));
        }
}

/* All sizes of a set whose parts are listed. Each pair of parts is met once: the first has the last piece. */
static void find_sizes(struct sets *sets, const struct set *set)
{
    const int all = (1 << set->count) - 1, last = 1 << (set->count - 1);
    sets->size_count = 0;
    if (set->count == 1) {
        const struct item *item = &sets->problem->items[set->items[0]];
        keep_size(sets, (struct size){item->length, item->width});
        if (item->turn)
            keep_size(sets, (struct size){item->width, item->length});
    }
    for (int mask = last; mask < all; mask++) {
        const struct set *one = part_of(sets, set, mask), *other = part_of(sets, set, all - mask);
        sets->ticks += 40;
        if (one == NULL || other == NULL) {
            sets->size_count = 0; /* a part that fits nowhere */
            return;
        }
        join(sets, one, other);
    }
}

/* ---- listing ---- */

static void list(struct sets *sets, struct set set)
{
    find_sizes(sets, &set);
    if (sets->size_count == 0)
        return;
    set.size_count = sets->size_count;
    set.sizes = dw_arena_copy(sets->arena, sets->sizes, (size_t)sets->size_count, sizeof *sets->sizes);
    for (int k = 0; k < set.size_count; k++)
        set.stocks |= stocks_for(sets->problem, set.sizes[k]);
    *slot_of(sets, set.items, set.count) = (int32_t)sets->count;
    sets->at = dw_arena_grow(sets->arena, sets->at, sets->count, &sets->capacity, sizeof *sets->at);
    sets->at[sets->count++] = set;
    sets->overflow |= sets->count > MOST_SETS;
}

static bool used_up(const struct problem *problem, const struct set *set, int item)
{
    int64_t used = 0;
    for (int k = 0; k < set->count; k++)
        used += set->items[k] == item;
    return used == problem->items[item].count;
}

/* Lists the set with one piece of `item` more, unless that is used up. No item of the set is of a higher number. */
static void add_piece(struct sets *sets, struct set set, int item)
{
    if (used_up(sets->problem, &set, item))
        return;
    sets->overflow |= set.count == MOST_PIECES;
    if (sets->overflow)
        return;
    set.items[set.count++] = item;
    set.stocks = 0;
    list(sets, set);
}

/* All sets in which `item` is the last: a piece more in every set so far, and in those that this adds. */
static void add_item(struct sets *sets, int item)
{
    add_piece(sets, (struct set){.count = 0}, item);
    for (size_t k = 0; k < sets->count && !sets->overflow; k++) {
        add_piece(sets, sets->at[k], item);
        sets->overflow |= sets->ticks > MOST_TICKS;
    }
}

/* More pieces on a sheet than are listed are certain when the smallest ones take that little area. */
static bool holds_too_many(const struct problem *problem)
{
    int64_t most = 0, sum = 0, pieces = 0;
    for (int s = 0; s < problem->stock_count; s++)
        most = problem->stocks[s].area > most ? problem->stocks[s].area : most;
    for (int i = 0; i < problem->item_count; i++) {
        sum += problem->items[i].area * problem->items[i].count; /* below 2^63: the request was checked */
        pieces += problem->items[i].count;
    }
    assert(pieces > 0); /* an empty request needs no search */
    return problem->stock_count > MOST_STOCKS || sum / pieces < most / (MOST_PIECES + 1);
}

/* Item after item, as many as there is room for: in the order of listing every set comes after its parts. What the item that was too much
 * added is forgotten (its slots stay taken, but nobody asks for them). */
static void list_all(struct sets *sets)
{
    for (int i = 0; i < sets->problem->item_count; i++) {
        const size_t before = sets->count;
        add_item(sets, i);
        if (sets->overflow) {
            sets->count = before;
            return;
        }
        sets->item_count = i + 1;
    }
}

struct sets *dwi_sets_new(const struct problem *problem, struct meter *meter, struct dw_arena *arena)
{
    if (holds_too_many(problem))
        return NULL;
    struct dw_arena *own = dw_arena_child(arena);
    struct sets *sets = dw_arena_alloc(own, 1, sizeof *sets);
    *sets = (struct sets){.problem = problem, .arena = own};
    sets->slots = dw_arena_alloc(own, SLOTS, sizeof *sets->slots);
    memset(sets->slots, -1, SLOTS * sizeof *sets->slots);
    list_all(sets);
    (void)dwi_meter_spend(meter, sets->ticks);
    return sets;
}

int dwi_sets_items(const struct sets *sets)
{
    return sets->item_count;
}

/* ---- values ---- */

int64_t dwi_sets_value(struct sets *sets, int stock, const int64_t *u, struct meter *meter)
{
    int64_t most = 0;
    sets->stock = stock;
    sets->best = NULL;
    for (size_t k = 0; k < sets->count; k++) {
        const struct set *set = &sets->at[k];
        int64_t value = 0;
        for (int p = 0; p < set->count; p++)
            value += u[set->items[p]];
        if (value > most && (set->stocks >> stock & 1) != 0) {
            most = value;
            sets->best = set;
        }
    }
    (void)dwi_meter_spend(meter, 8 * (int64_t)sets->count);
    return most;
}

/* ---- the layout of a set ---- */

struct building {
    const struct sets *sets;
    struct slice *nodes;
    int count;
};

static int build(struct building *building, const struct set *set, struct size size);

static bool same_size(struct size a, struct size b)
{
    return a.length == b.length && a.width == b.width;
}

/* The node that joins two parts to this size; -1 when no two sizes of theirs do. */
static int build_pair(struct building *building, const struct set *one, const struct set *other, struct size size)
{
    for (int a = 0; a < one->size_count; a++)
        for (int b = 0; b < other->size_count; b++)
            for (enum slice_kind kind = SLICE_BESIDE; kind <= SLICE_UPON; kind++) {
                if (!same_size(joined(one->sizes[a], other->sizes[b], kind), size))
                    continue;
                const int first = build(building, one, one->sizes[a]), second = build(building, other, other->sizes[b]);
                building->nodes[building->count] = (struct slice){.kind = kind, .item = -1, .first = first, .second = second,
                                                                  .length = size.length, .width = size.width};
                return building->count++;
            }
    return -1;
}

static int build(struct building *building, const struct set *set, struct size size)
{
    assert(set->count > 0);
    const int all = (1 << set->count) - 1;
    if (set->count == 1) {
        const struct item *item = &building->sets->problem->items[set->items[0]];
        building->nodes[building->count] =
            (struct slice){.kind = SLICE_ITEM, .item = set->items[0], .first = -1, .second = -1, .length = size.length,
                           .width = size.width, .turned = size.length != item->length || size.width != item->width};
        return building->count++;
    }
    for (int mask = 1 << (set->count - 1); mask < all; mask++) {
        const int node = build_pair(building, part_of(building->sets, set, mask), part_of(building->sets, set, all - mask), size);
        if (node >= 0)
            return node;
    }
    return -1; /* not reached: every size came from a pair */
}

static struct size size_for(const struct sets *sets, const struct set *set)
{
    int k = 0;
    while ((stocks_for(sets->problem, set->sizes[k]) >> sets->stock & 1) == 0)
        k++;
    return set->sizes[k];
}

const struct pattern *dwi_sets_pattern(const struct sets *sets, struct dw_arena *arena)
{
    const struct set *set = sets->best;
    if (set == NULL)
        return NULL;
    int32_t *counts = dw_arena_alloc(arena, (size_t)sets->problem->item_count, sizeof *counts);
    struct building building = {.sets = sets, .nodes = dw_arena_alloc(arena, (size_t)2 * MOST_PIECES, sizeof *building.nodes)};
    struct pattern *pattern = dw_arena_alloc(arena, 1, sizeof *pattern);
    *pattern = (struct pattern){.stock = sets->stock, .nodes = building.nodes, .counts = counts};
    for (int k = 0; k < set->count; k++) {
        counts[set->items[k]]++;
        pattern->area += sets->problem->items[set->items[k]].area;
    }
    pattern->root = build(&building, set, size_for(sets, set));
    pattern->node_count = building.count;
    return pattern;
}
