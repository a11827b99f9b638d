/* values.c - sequential value correction.
 *
 * Problem: a whole plan at least cost, sheet after sheet. Each item has a value; the next sheet is the best of several
 * randomized insertions by value for area, over all stocks, measured by value / price. A layout is used as often as what
 * is left allows. Afterwards each item's value moves towards
 *     area^1.03 * area of its sheet / used area of its sheet,
 * by a share of 0.1 to 0.6 that grows with how much of what was wanted went into that layout: items that sat in wasteful
 * sheets are dearer next time and are placed earlier. The exponent favors large parts from the start.
 *
 * Cost: (tries * stocks * pieces of a sheet) insertions a sheet. Heuristic; nothing is proved. Integers only: powers by base-2
 * logarithms to 16 bits.
 *
 * After G. Belov, G. Scheithauer, "Setup and open-stacks minimization in one-dimensional stock cutting", INFORMS J. Computing 19
 * (2007), and Y. Cui, Z. Zhao, "Heuristic for the rectangular two-dimensional single stock size cutting stock problem with
 * two-staged patterns", European Journal of Operational Research 231 (2013). Not taken over: their staged dynamic programs as
 * sheet builders.
 */
#include "values.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

enum { TICKS_A_SORTED_ITEM = 60 };

/* log2(x) * 2^16, x >= 1: the fraction bit by bit, by squaring a mantissa in [1, 2) with 31 bits. */
static int64_t log2_16(uint64_t x)
{
    int whole = 0;
    while (x >> whole > 1)
        whole++;
    uint64_t mantissa = whole > 31 ? x >> (whole - 31) : x << (31 - whole);
    int64_t result = whole;
    for (int bit = 0; bit < 16; bit++) {
        mantissa = mantissa * mantissa >> 31;
        result = result * 2 + (int64_t)(mantissa >> 32);
        mantissa >>= mantissa >> 32;
    }
    return result;
}

/* 2^(y / 2^16) * 2^10 for 0 <= y < 2^19; the table holds 2^(1/2), 2^(1/4), ... times 2^30. */
static int64_t exp2_10(int64_t y)
{
    static const uint64_t roots[16] = {1518500250, 1276901417, 1170923762, 1121280436, 1097253708, 1085434106,
                                       1079572136, 1076653033, 1075196443, 1074468888, 1074105294, 1073923544,
                                       1073832680, 1073787251, 1073764537, 1073753181};
    uint64_t result = UINT64_C(1) << 30;
    for (int bit = 0; bit < 16; bit++)
        if (y >> (15 - bit) & 1)
            result = result * roots[bit] >> 30;
    return (int64_t)(result >> 20) << (y >> 16);
}

/* area^1.03 up to a common factor; below 2^53 for areas below 2^40. */
static int64_t power_of_area(int64_t area)
{
    const int64_t x = area > 0 ? area : 1;
    return x * exp2_10(log2_16((uint64_t)x) * 3 / 100);
}

void dwi_values_start(struct values *values, const struct problem *problem, uint64_t seed, struct dw_arena *arena)
{
    const size_t items = (size_t)problem->item_count;
    *values = (struct values){.problem = problem, .random = {seed}};
    values->base = dw_arena_alloc(arena, items, sizeof *values->base);
    values->value = dw_arena_alloc(arena, items, sizeof *values->value);
    values->ranks = dw_arena_alloc(arena, items, sizeof *values->ranks);
    /* A common shift keeps the sum over a sheet's pieces, which is about the sheet's own power, in range. */
    for (size_t i = 0; i < items; i++) {
        values->base[i] = power_of_area(problem->items[i].area >> problem->area_shift);
        values->value[i] = values->base[i];
    }
}

/* An item and its key, for sorting. */
struct keyed {
    int64_t key;
    int item;
};

static int compare_keyed(const void *left, const void *right)
{
    const struct keyed *a = left;
    const struct keyed *b = right;
    if (a->key != b->key)
        return a->key < b->key ? 1 : -1;
    return (a->item > b->item) - (a->item < b->item);
}

/* Value for area with up to `noise` / 1024 on top, greatest first; only items still wanted. Returns how many. */
static int rank_items(struct values *values, const int64_t *wanted, int noise, struct keyed *work)
{
    const struct problem *problem = values->problem;
    int count = 0;
    for (int i = 0; i < problem->item_count; i++) {
        if (wanted[i] == 0)
            continue;
        const int64_t area = (problem->items[i].area >> problem->area_shift) + 1;
        const int64_t density = values->value[i] / area; /* about 2^11 */
        work[count++] = (struct keyed){density * (1024 + dwi_random_below(&values->random, noise + 1)), i};
    }
    qsort(work, (size_t)count, sizeof *work, compare_keyed);
    for (int r = 0; r < count; r++)
        values->ranks[r] = work[r].item;
    return count;
}

static int64_t value_of(const struct values *values, const struct sheet *sheet)
{
    int64_t value = 0;
    for (int i = 0; i < sheet->count; i++)
        if (sheet->twigs[i].kind == SLICE_ITEM)
            value += values->value[sheet->twigs[i].item];
    return value;
}

/* Value for money, as a fixed point number; what costs nothing is better than anything that does. */
static int64_t worth_of(int64_t value, dw_money price)
{
    const int64_t coarse = value >> 14; /* below 2^41 */
    if (price == 0)
        return (INT64_C(1) << 62) + coarse;
    return (coarse << 20) / price;
}

/* The sheet in the making: the best attempt so far and room for the next. */
struct attempt {
    struct sheet best, next;
    int64_t worth;
    int64_t *wanted; /* what is left over by the attempt */
    struct keyed *keyed;
};

static void try_stock(struct values *values, int stock, const int64_t *wanted, struct attempt *attempt,
                      struct meter *meter, struct dw_arena *arena)
{
    const struct problem *problem = values->problem;
    const struct taste taste = dwi_taste_draw(&values->random);
    int64_t ticks = (int64_t)problem->item_count * TICKS_A_SORTED_ITEM;
    const int count = rank_items(values, wanted, dwi_random_below(&values->random, 4) * 200, attempt->keyed);
    memcpy(attempt->wanted, wanted, (size_t)problem->item_count * sizeof *wanted);
    attempt->next.stock = stock;
    dwi_sheet_empty(&attempt->next, NULL);
    dwi_fill(&attempt->next, values->ranks, count, attempt->wanted, &taste, &values->random, &ticks, arena);
    dwi_meter_spend(meter, ticks);
    const int64_t worth = worth_of(value_of(values, &attempt->next), problem->stocks[stock].price);
    if (attempt->next.count > 0 && worth > attempt->worth) {
        attempt->worth = worth;
        const struct sheet other = attempt->best;
        attempt->best = attempt->next;
        attempt->next = other;
    }
}

/* How often the layout can be used on what is left. */
static int64_t times_possible(const struct pattern *pattern, const int64_t *wanted, int item_count, int64_t most)
{
    for (int i = 0; i < item_count; i++)
        if (pattern->counts[i] > 0 && wanted[i] / pattern->counts[i] < most)
            most = wanted[i] / pattern->counts[i];
    return most;
}

static void learn(struct values *values, const struct pattern *pattern, int64_t times)
{
    const struct problem *problem = values->problem;
    const int64_t sheet_area = (problem->stocks[pattern->stock].area >> problem->area_shift) + 1;
    const int64_t used_area = (pattern->area >> problem->area_shift) + 1;
    const int64_t stretch = sheet_area * 1024 / used_area; /* 1024: no waste */
    for (int i = 0; i < problem->item_count; i++) {
        if (pattern->counts[i] == 0)
            continue;
        const int64_t share = 102 + 512 * (int64_t)pattern->counts[i] * times / problem->items[i].count; /* of 1024 */
        const int64_t most = stretch < 8192 ? stretch : 8192;
        const int64_t goal = (values->base[i] >> 10) * most;
        values->value[i] += (goal - values->value[i]) / 1024 * share;
        if (values->value[i] < 1)
            values->value[i] = 1;
    }
}

void dwi_draft_add(struct draft *draft, const struct problem *problem, const struct pattern *pattern, int64_t times,
                   struct dw_arena *arena)
{
    const struct stock *stock = &problem->stocks[pattern->stock];
    draft->cost += stock->price * times;
    if (stock->price == 0)
        draft->owned += stock->value * times;
    for (size_t u = 0; u < draft->count; u++)
        if (draft->uses[u].pattern == pattern) {
            draft->uses[u].times += times;
            return;
        }
    draft->uses = dw_arena_grow(arena, draft->uses, draft->count, &draft->capacity, sizeof *draft->uses);
    draft->uses[draft->count++] = (struct pattern_use){pattern, times};
}

/* Commits the best attempt to the draft; false when there is none or it is no sound layout. */
static bool commit(struct values *values, struct attempt *attempt, struct pool *pool, int64_t *wanted, int64_t *left,
                   struct dw_arena *arena, struct draft *draft)
{
    const struct problem *problem = values->problem;
    if (attempt->worth < 0)
        return false;
    const struct pattern *pattern = dwi_sheet_pattern(&attempt->best, arena);
    const int64_t times = times_possible(pattern, wanted, problem->item_count, left[pattern->stock]);
    dwi_pool_add(pool, pattern);
    dwi_draft_add(draft, problem, pattern, times, arena);
    left[pattern->stock] -= times;
    for (int i = 0; i < problem->item_count; i++)
        wanted[i] -= pattern->counts[i] * times;
    learn(values, pattern, times);
    return true;
}

static bool anything_wanted(const int64_t *wanted, int item_count)
{
    for (int i = 0; i < item_count; i++)
        if (wanted[i] > 0)
            return true;
    return false;
}

bool dwi_values_round(struct values *values, const int64_t *limits, int tries, struct pool *pool, struct meter *meter,
                      struct dw_arena *arena, struct draft *draft)
{
    const struct problem *problem = values->problem;
    const size_t items = (size_t)problem->item_count;
    int64_t *wanted = dw_arena_alloc(arena, items, sizeof *wanted);
    int64_t *left = dw_arena_copy(arena, limits, (size_t)problem->stock_count, sizeof *left);
    struct attempt attempt = {
        .wanted = dw_arena_alloc(arena, items, sizeof *attempt.wanted),
        .keyed = dw_arena_alloc(arena, items, sizeof *attempt.keyed),
    };
    for (size_t i = 0; i < items; i++)
        wanted[i] = problem->items[i].count;
    *draft = (struct draft){0};
    dwi_sheet_init(&attempt.best, problem, 0);
    dwi_sheet_init(&attempt.next, problem, 0);
    while (anything_wanted(wanted, problem->item_count)) {
        attempt.worth = -1;
        for (int s = 0; s < problem->stock_count; s++)
            for (int t = 0; t < tries && left[s] > 0 && dwi_meter_open(meter); t++)
                try_stock(values, s, wanted, &attempt, meter, arena);
        if (!dwi_meter_open(meter) || !commit(values, &attempt, pool, wanted, left, arena, draft))
            return false;
    }
    return true;
}
