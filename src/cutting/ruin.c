/* ruin.c - goal-driven ruin and recreate.
 *
 * Problem: given a mix of sheets, a layout of each that together hold every item. State: the sheets with their slicing
 * trees, and the *absent* items that have no place. One round: ruin one to three sheets (take out a sub-tree, a stretch of neighbors in
 * the tree, or pieces at random; six pieces or so of a sheet, or all of a sheet that holds no more), insert all absent items again in a
 * random kind of order, a piece without a place pushing out smaller ones (swap.c), and keep the outcome if its energy is not higher, or with
 * probability exp(-rise / temperature).
 *
 *     energy = sum over absent items of bulk * weight  -  0.15 * sum over sheets of (free share)^2
 *              -  0.1 * sum over holes of (area, at most 1)^2
 *
 * in units of a mean piece: few and small absent items are good, and between equals uneven sheets, for an almost empty one is
 * where the rest will go, and few large holes rather than slivers (holes.c). The weight of an item grows while it is absent, so
 * that awkward ones get their place first, and falls back soon once it has one: in a long search everything has been absent some time, and weights
 * that only grow make the search cold (twice as much was absent in the end on mixes of 200 and 500 pieces).
 * The goal is met when nothing is absent. The search never leaves the mix: the caller lowers the goal.
 *
 * Few pieces at a time, because from a sheet of thirty that is nearly full, fifteen taken out at random hardly ever go in again; on 43 mixes of
 * sheets that can just be met (furniture, classic stock, drawers; five seeds) six met half more in the same work than whole sheets.
 * How far the energy may rise is drawn before the round, so that one that has lost more than that with pieces still to insert is given
 * up at once.
 *
 * Invariant at the end of each round: items in sheets + absent = wanted. Cost of a round: a few insertions, each O(nodes of
 * the sheets with room). Heuristic; nothing is proved. All decisions are in integers: exp is a table.
 *
 * After S. Gardeyn, T. Wauters, "A goal-driven ruin and recreate heuristic for the 2D variable-sized bin packing problem with
 * guillotine constraints", European Journal of Operational Research 301 (2022). Not taken over: their late acceptance and their
 * rules for opening sheets; the mix is given here.
 */
#include "ruin.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

#include "swap.h"
#include "without.h"

enum {
    BULK_ONE = 1024,               /* a mean piece */
    WEIGHT_ONE = 256,
    WEIGHT_MOST = 3 * WEIGHT_ONE,
    ROUNDS_A_WEIGHING = 32,
    WEIGHT_UP = 64, WEIGHT_DOWN = 4, /* shares by which weights grow and fall back, at each weighing */
    MOST_TAKEN = 6,                /* pieces of one sheet in a round */
    TICKS_A_TWIG = 4,
    TICKS_A_ROUND = 500,
    TICKS_A_RUN = 40,
    TICKS_A_SHEET = 1,
};

/* An item to insert, so many times, in its place of the order. */
struct run {
    int64_t key; /* greater first */
    int item;
    int32_t count;
};

/* Areas in units of 1/1024 of the mean piece; shifted first, so that the product stays in range. */
static void weigh_items(struct ruin *ruin)
{
    const struct problem *problem = ruin->problem;
    ruin->gauge = dwi_hole_gauge(problem);
    for (int i = 0; i < problem->item_count; i++) {
        const int64_t bulk = (problem->items[i].area >> problem->area_shift) * BULK_ONE / ruin->gauge.mean_area;
        ruin->bulk[i] = bulk > 0 ? bulk : 1;
        ruin->weight[i] = WEIGHT_ONE;
    }
}

static void open_sheets(struct ruin *ruin, const int64_t *counts)
{
    const struct problem *problem = ruin->problem;
    int64_t count = 0;
    for (int s = 0; s < problem->stock_count; s++)
        count += counts[s];
    ruin->sheets = dw_arena_alloc(ruin->arena, (size_t)count, sizeof *ruin->sheets);
    ruin->saved = dw_arena_alloc(ruin->arena, (size_t)count, sizeof *ruin->saved);
    ruin->is_saved = dw_arena_alloc(ruin->arena, (size_t)count, sizeof *ruin->is_saved);
    ruin->touched = dw_arena_alloc(ruin->arena, (size_t)count, sizeof *ruin->touched);
    ruin->sheet_count = (int)count;
    int at = 0;
    for (int s = 0; s < problem->stock_count; s++)
        for (int64_t n = 0; n < counts[s]; n++) {
            dwi_sheet_init(&ruin->sheets[at], problem, s);
            dwi_sheet_settle(&ruin->sheets[at++]);
        }
}

static int64_t absent_bulk(const struct ruin *ruin)
{
    int64_t sum = 0;
    for (int i = 0; i < ruin->problem->item_count; i++)
        sum += ruin->absent[i] * ruin->bulk[i];
    return sum;
}

static int64_t absent_energy(const struct ruin *ruin)
{
    int64_t energy = 0;
    for (int i = 0; i < ruin->problem->item_count; i++)
        energy += ruin->absent[i] * ruin->bulk[i] * ruin->weight[i];
    return energy;
}

static int64_t energy_of(const struct ruin *ruin)
{
    const struct problem *problem = ruin->problem;
    int64_t squares = 0, holes = 0; /* squares of free shares, and of holes, in 1/1024 */
    for (int s = 0; s < ruin->sheet_count; s++) {
        const struct stock *stock = &problem->stocks[ruin->sheets[s].stock];
        const int64_t area = (stock->area >> problem->area_shift) + 1;
        const int64_t share = ((stock->area - ruin->sheets[s].area) >> problem->area_shift) * 1024 / area;
        squares += share * share;
        holes += ruin->sheets[s].holes;
    }
    const int64_t for_empty = BULK_ONE * WEIGHT_ONE * 15 / 100, for_hole = BULK_ONE * WEIGHT_ONE / 10;
    return absent_energy(ruin) - (for_empty * squares >> 20) - for_hole * holes / DWI_HOLE_ONE;
}

static void measure_holes(const struct ruin *ruin, struct sheet *sheet)
{
    sheet->holes = dwi_left_out(ruin->problem, DWI_HOLES) ? 0 : dwi_holes(sheet, &ruin->gauge);
}

/* The starting point of the search: as close as it has been so far. */
static void take_stock(struct ruin *ruin)
{
    for (int s = 0; s < ruin->sheet_count; s++)
        measure_holes(ruin, &ruin->sheets[s]);
    ruin->energy = energy_of(ruin);
    ruin->absent_bulk = absent_bulk(ruin);
    ruin->least_bulk = ruin->absent_bulk;
}

void dwi_ruin_start(struct ruin *ruin, const struct problem *problem, const int64_t *counts, uint64_t seed,
                    struct dw_arena *arena)
{
    const size_t items = (size_t)problem->item_count;
    *ruin = (struct ruin){.problem = problem, .arena = arena, .random = {seed}};
    ruin->absent = dw_arena_alloc(arena, items, sizeof *ruin->absent);
    ruin->absent_before = dw_arena_alloc(arena, items, sizeof *ruin->absent_before);
    ruin->failed_in = dw_arena_alloc(arena, items, sizeof *ruin->failed_in);
    ruin->bulk = dw_arena_alloc(arena, items, sizeof *ruin->bulk);
    ruin->weight = dw_arena_alloc(arena, items, sizeof *ruin->weight);
    for (size_t i = 0; i < items; i++)
        ruin->absent[i] = (int32_t)problem->items[i].count;
    weigh_items(ruin);
    open_sheets(ruin, counts);
    take_stock(ruin);
}

static struct sheet *empty_sheet_of(struct ruin *ruin, int stock)
{
    for (int s = 0; s < ruin->sheet_count; s++)
        if (ruin->sheets[s].stock == stock && ruin->sheets[s].count == 0)
            return &ruin->sheets[s];
    return NULL;
}

static bool are_absent(const struct ruin *ruin, const struct pattern *pattern)
{
    for (int i = 0; i < ruin->problem->item_count; i++)
        if (pattern->counts[i] > ruin->absent[i])
            return false;
    return true;
}

/* The unused pattern of greatest area; -1 when all are used up. */
static int fullest(const struct pattern_use *uses, size_t use_count, const bool *used)
{
    int best = -1;
    for (size_t u = 0; u < use_count; u++)
        if (!used[u] && (best < 0 || uses[u].pattern->area > uses[best].pattern->area))
            best = (int)u;
    return best;
}

void dwi_ruin_seed(struct ruin *ruin, const struct pattern_use *uses, size_t use_count)
{
    bool *used = dw_arena_alloc(ruin->arena, use_count, sizeof *used);
    for (int u = fullest(uses, use_count, used); u >= 0; u = fullest(uses, use_count, used)) {
        const struct pattern *pattern = uses[u].pattern;
        used[u] = true;
        for (int64_t n = 0; n < uses[u].times && are_absent(ruin, pattern); n++) {
            struct sheet *sheet = empty_sheet_of(ruin, pattern->stock);
            if (sheet == NULL)
                break;
            dwi_sheet_load(sheet, pattern, ruin->arena);
            for (int i = 0; i < ruin->problem->item_count; i++)
                ruin->absent[i] -= pattern->counts[i];
        }
    }
    take_stock(ruin);
}

static void save(struct ruin *ruin, int s)
{
    if (ruin->is_saved[s])
        return;
    ruin->is_saved[s] = true;
    ruin->touched[ruin->touched_count++] = s;
    dwi_sheet_copy(&ruin->saved[s], &ruin->sheets[s], ruin->arena);
}

static void make_work(struct ruin *ruin, size_t wanted)
{
    if (wanted <= ruin->work_capacity)
        return;
    ruin->work_capacity = wanted * 2;
    ruin->drop = dw_arena_alloc(ruin->arena, ruin->work_capacity, sizeof *ruin->drop);
    ruin->work = dw_arena_alloc(ruin->arena, ruin->work_capacity, sizeof *ruin->work);
}

/* Marks the leaves of a sub-tree of at most `most`. */
static void mark_subtree(struct ruin *ruin, const struct sheet *sheet, int most)
{
    const struct twig *twigs = sheet->twigs;
    int top = dwi_random_below(&ruin->random, sheet->count);
    while ((twigs[top].size + 1) / 2 > most)
        top += 1 + (dwi_random_below(&ruin->random, 2) == 0 ? 0 : twigs[top + 1].size);
    memset(ruin->drop, 0, (size_t)sheet->count);
    for (int i = top; i < top + twigs[top].size; i++)
        ruin->drop[i] = true;
}

/* Marks so many of the sheet's leaves, here and there; about so many. */
static void mark_some(struct ruin *ruin, const struct sheet *sheet, int leaves, int taken)
{
    for (int i = 0; i < sheet->count; i++)
        ruin->drop[i] = dwi_random_below(&ruin->random, leaves) < taken;
}

/* Marks so many leaves that follow each other in the tree, the first behind the last. */
static void mark_stretch(struct ruin *ruin, const struct sheet *sheet, int leaves, int taken)
{
    const int from = dwi_random_below(&ruin->random, leaves);
    int leaf = 0;
    for (int i = 0; i < sheet->count; i++) {
        const bool is_leaf = sheet->twigs[i].kind == SLICE_ITEM;
        ruin->drop[i] = is_leaf && (leaf - from + leaves) % leaves < taken;
        leaf += is_leaf;
    }
}

enum way { SUBTREE, SOME, STRETCH, WHOLE, WAYS };

static int64_t ruin_sheet(struct ruin *ruin, int s)
{
    struct sheet *sheet = &ruin->sheets[s];
    if (sheet->count == 0)
        return 0;
    save(ruin, s);
    const int64_t ticks = (int64_t)sheet->count * TICKS_A_TWIG;
    const int leaves = (sheet->count + 1) / 2, most = leaves < MOST_TAKEN ? leaves : MOST_TAKEN;
    const enum way way = (enum way)dwi_random_below(&ruin->random, leaves > MOST_TAKEN ? WHOLE : WAYS);
    if (way == WHOLE) {
        dwi_sheet_empty(sheet, ruin->absent);
        return ticks;
    }
    make_work(ruin, (size_t)sheet->count);
    if (way == SUBTREE)
        mark_subtree(ruin, sheet, most);
    else if (way == SOME)
        mark_some(ruin, sheet, leaves, dwi_random_between(&ruin->random, 1, most));
    else
        mark_stretch(ruin, sheet, leaves, dwi_random_between(&ruin->random, 1, most));
    dwi_sheet_prune(sheet, ruin->drop, ruin->absent, ruin->work);
    return ticks;
}

static int64_t ruin_some(struct ruin *ruin)
{
    static const int how_many[] = {1, 1, 2, 2, 2, 2, 3, 3};
    int64_t ticks = 0;
    for (int n = how_many[dwi_random_below(&ruin->random, 8)]; n > 0; n--)
        ticks += ruin_sheet(ruin, dwi_random_below(&ruin->random, ruin->sheet_count));
    return ticks;
}

enum order { BY_AREA, BY_WEIGHTED_AREA, BY_LONG_SIDE, BY_PERIMETER, BY_LENGTH, BY_WIDTH, AT_RANDOM, ORDERS };

/* The measure of an item that an order goes by, at most 2^42 so that noise can be multiplied in. */
static int64_t measure(const struct ruin *ruin, int index, enum order order)
{
    const struct item *item = &ruin->problem->items[index];
    switch (order) {
    case BY_WEIGHTED_AREA: return ruin->bulk[index] * ruin->weight[index];
    case BY_LONG_SIDE: return item->length > item->width ? item->length : item->width;
    case BY_PERIMETER: return item->length + item->width;
    case BY_LENGTH: return item->length;
    case BY_WIDTH: return item->width;
    case AT_RANDOM: return 1;
    case BY_AREA:
    case ORDERS: break;
    }
    return ruin->bulk[index];
}

static int compare_runs(const void *left, const void *right)
{
    const struct run *a = left;
    const struct run *b = right;
    if (a->key != b->key)
        return a->key < b->key ? 1 : -1;
    if (a->item != b->item)
        return a->item < b->item ? -1 : 1;
    return (a->count < b->count) - (a->count > b->count);
}

/* The absent items in an order drawn at random: each item's pieces together, or each piece for itself. */
static size_t order_absent(struct ruin *ruin)
{
    struct random *random = &ruin->random;
    const enum order order = (enum order)dwi_random_below(random, ORDERS);
    const int noise = order == AT_RANDOM ? 1024 : dwi_random_below(random, 3) * 128;
    const bool together = dwi_random_below(random, 2) == 0;
    size_t count = 0;
    for (int i = 0; i < ruin->problem->item_count; i++)
        for (int32_t left = ruin->absent[i]; left > 0;) {
            const int32_t many = together || left > 64 ? left : 1;
            ruin->runs = dw_arena_grow(ruin->arena, ruin->runs, count, &ruin->run_capacity, sizeof *ruin->runs);
            const int64_t key = measure(ruin, i, order) * (1024 + dwi_random_below(random, noise + 1));
            ruin->runs[count++] = (struct run){.key = key, .item = i, .count = many};
            left -= many;
        }
    qsort(ruin->runs, count, sizeof *ruin->runs, compare_runs);
    return count;
}

/* Scores the sheet's best place for a piece against the best so far. */
static void try_sheet(struct ruin *ruin, int s, int item, const struct taste *taste, int64_t *ticks, struct place *best,
                      int *best_sheet)
{
    struct place place;
    if (ruin->sheets[s].room < ruin->problem->items[item].area)
        return;
    if (dwi_find_place(&ruin->sheets[s], item, taste, &ruin->random, ticks, &place) && place.score < best->score) {
        *best = place;
        *best_sheet = s;
    }
}

/* Inserts one piece where it fits best, in a ruined sheet only when the round is local; false when there is no place. */
static bool insert_piece(struct ruin *ruin, int item, const struct taste *taste, int64_t *ticks)
{
    struct place best = {.score = INT64_MAX};
    int best_sheet = -1;
    if (ruin->ruined_count > 0) {
        for (int t = 0; t < ruin->ruined_count; t++)
            try_sheet(ruin, ruin->touched[t], item, taste, ticks, &best, &best_sheet);
    } else {
        *ticks += (int64_t)ruin->sheet_count * TICKS_A_SHEET;
        for (int s = 0; s < ruin->sheet_count; s++)
            try_sheet(ruin, s, item, taste, ticks, &best, &best_sheet);
    }
    if (best_sheet < 0)
        return false;
    save(ruin, best_sheet);
    struct sheet *sheet = &ruin->sheets[best_sheet];
    dwi_sheet_insert(sheet, best.at, best.kind, item, best.turned, ruin->arena);
    *ticks += (int64_t)sheet->count * TICKS_A_TWIG;
    ruin->absent[item]--;
    return true;
}

/* With many sheets most rounds look only at those just ruined: what is absent has been tried in the others before. */
static void draw_scope(struct ruin *ruin)
{
    const int locals = ruin->sheet_count > 32 ? 15 : ruin->sheet_count > 8 ? 8 : 0; /* of 16 rounds */
    ruin->ruined_count = dwi_random_below(&ruin->random, 16) < locals ? ruin->touched_count : 0;
}

/* Inserts one piece, or else lets it take the place of a smaller one. */
static bool place_piece(struct ruin *ruin, int item, const struct taste *taste, int64_t *ticks)
{
    return insert_piece(ruin, item, taste, ticks) || dwi_swap_in(ruin, item, ticks);
}

/* Pieces that were pushed out on the way get a last chance. */
static void insert_pushed_out(struct ruin *ruin, const struct taste *taste, struct meter *meter, int64_t *ticks)
{
    for (int i = 0; i < ruin->problem->item_count; i++)
        while (ruin->absent[i] > 0 && ruin->failed_in[i] != ruin->passes + 1 && dwi_meter_spend(meter, *ticks)) {
            *ticks = 0;
            if (!insert_piece(ruin, i, taste, ticks))
                ruin->failed_in[i] = ruin->passes + 1;
        }
}

/* Inserts the absent items; false when more than `bearable` energy is lost with those that found no place. */
static bool recreate(struct ruin *ruin, int64_t bearable, struct meter *meter, int64_t *ticks)
{
    const struct taste taste = dwi_taste_draw(&ruin->random);
    const size_t count = order_absent(ruin);
    int64_t lost = 0;
    *ticks += (int64_t)count * TICKS_A_RUN;
    draw_scope(ruin);
    for (size_t r = 0; r < count && lost <= bearable && dwi_meter_open(meter); r++) {
        const int item = ruin->runs[r].item;
        if (ruin->failed_in[item] == ruin->passes + 1)
            continue; /* sheets only get fuller within a round */
        for (int32_t n = 0; n < ruin->runs[r].count && dwi_meter_spend(meter, *ticks); n++) {
            *ticks = 0;
            if (!place_piece(ruin, item, &taste, ticks)) {
                ruin->failed_in[item] = ruin->passes + 1;
                lost += ruin->absent[item] * ruin->bulk[item] * ruin->weight[item];
                break;
            }
        }
    }
    if (lost <= bearable)
        insert_pushed_out(ruin, &taste, meter, ticks);
    return lost <= bearable;
}

/* The most that the energy may rise in a round to be kept: more than r with probability exp(-r / temperature), in sixteenths of the
 * temperature. 2^32 * exp(-k / 16) by the recurrence e(k + 1) = e(k) * exp(-1 / 16). */
static int64_t draw_rise(struct ruin *ruin, int64_t temperature)
{
    const uint64_t draw = dwi_random_next(&ruin->random) >> 32;
    uint64_t chance = UINT64_C(4034748382);
    int64_t sixteenths = 0;
    for (; sixteenths < 320 && draw < chance; sixteenths++)
        chance = chance * UINT64_C(4034748382) >> 32;
    return sixteenths * temperature / 16;
}

/* An eightieth of a mean piece, between a quarter and four times that in a slow saw tooth. */
static int64_t temperature_now(const struct ruin *ruin)
{
    static const int quarters[] = {16, 12, 8, 6, 4, 3, 2, 1};
    return BULK_ONE * WEIGHT_ONE / 80 * quarters[ruin->passes / 256 % 8] / 4;
}

static void undo(struct ruin *ruin)
{
    for (int t = 0; t < ruin->touched_count; t++) {
        const int s = ruin->touched[t];
        const struct sheet sheet = ruin->sheets[s];
        ruin->sheets[s] = ruin->saved[s];
        ruin->saved[s] = sheet;
    }
    memcpy(ruin->absent, ruin->absent_before, (size_t)ruin->problem->item_count * sizeof *ruin->absent);
}

static void weigh_again(struct ruin *ruin)
{
    for (int i = 0; i < ruin->problem->item_count; i++) {
        int *weight = &ruin->weight[i];
        if (ruin->absent[i] == 0)
            *weight -= (*weight - WEIGHT_ONE) / WEIGHT_DOWN;
        else if (*weight < WEIGHT_MOST)
            *weight += *weight / WEIGHT_UP;
    }
    ruin->energy = energy_of(ruin);
}

static void take_over(struct ruin *ruin, int64_t energy)
{
    ruin->energy = energy;
    ruin->absent_bulk = absent_bulk(ruin);
    if (ruin->absent_bulk < ruin->least_bulk)
        ruin->least_bulk = ruin->absent_bulk;
}

static void one_round(struct ruin *ruin, struct meter *meter)
{
    int64_t ticks = TICKS_A_ROUND;
    const int64_t rise = draw_rise(ruin, temperature_now(ruin));
    const int64_t bearable = absent_energy(ruin) + rise + BULK_ONE * WEIGHT_ONE / 2; /* the other terms may gain about that */
    memcpy(ruin->absent_before, ruin->absent, (size_t)ruin->problem->item_count * sizeof *ruin->absent);
    ruin->touched_count = 0;
    ticks += ruin_some(ruin);
    bool kept = recreate(ruin, bearable, meter, &ticks);
    if (kept) {
        for (int t = 0; t < ruin->touched_count; t++)
            measure_holes(ruin, &ruin->sheets[ruin->touched[t]]);
        const int64_t energy = energy_of(ruin);
        kept = energy - ruin->energy <= rise;
        if (kept)
            take_over(ruin, energy);
    }
    if (!kept)
        undo(ruin);
    for (int t = 0; t < ruin->touched_count; t++)
        ruin->is_saved[ruin->touched[t]] = false;
    if (++ruin->passes % ROUNDS_A_WEIGHING == 0)
        weigh_again(ruin);
    dwi_meter_spend(meter, ticks);
}

bool dwi_ruin_run(struct ruin *ruin, struct meter *meter, int64_t ticks)
{
    const int64_t before = dwi_meter_narrow(meter, ticks);
    while (ruin->absent_bulk > 0 && ruin->sheet_count > 0 && dwi_meter_open(meter))
        one_round(ruin, meter);
    meter->limit = before;
    return ruin->absent_bulk == 0;
}
