/* value.c - the guillotine value of a sheet: V(x, y) for item values u.
 *
 * Problem: cut a sheet by through cuts so that the items that come out are worth most; any number of each.
 *
 * Model: V(x, y), the value of a piece of capacity x by y, is the largest of
 *     u[i] over items i (in either way they may lie) that fit it,
 *     V(t, y) + V(rest(x - t), y)   over points t <= x / 2   (a crosscut),
 *     V(x, t) + V(x, rest(y - t))   over points t <= y / 2   (a rip),
 * over the points of points.c (Gilmore & Gomory 1966; Cintra, Miyazawa, Wakabayashi & Xavier 2008, section 2).
 *
 * Stages: with k cutting stages left, of which the next is by crosscuts, V_k(x, y) starts from the other direction's
 * V_(k-1)(x, y) and takes crosscuts only; V_0 is the best item that fits. An item smaller than its piece is trimmed out by a
 * last cut that counts for no stage (Gilmore & Gomory 1965, section 4, "non-exact").
 *
 * Coarse points (grid.c) keep V an upper bound. An item rounded to nothing is not seen: its value must count as 0.
 *
 * Integers: 32 bits. Values are divided by a power of two, rounded up, until no sum can pass 2^30 (MOST_VALUE).
 *
 * Cost: at most (splits of x) * (points of y) + (points of x) * (splits of y) steps; in practice a small part of that. A point that brings
 * no more than the point before is never split at, as the point before does as well. Nor is one whose value is a sum of its own
 * splits in the same direction: of the pieces between parallel cuts one that is not split that way any more is at most
 * half as large as all, and may come first (the others together are a sum again, and so lie on a point).
 */
#include "value.h"

#include <string.h>

#include <drawerwright/memory.h>

#include "grid.h"

enum { MOST_VALUE = 1 << 30, MOST_LEAVES = 20000, MOST_LEVELS = 4 };

/* Which cuts a table takes. */
enum ways { CROSSCUTS = 1, RIPS = 2, BOTH = 3 };

/* V of every piece of the stock last valued, row by row of x. A chain of tables, each on top of the one before, for stages. */
struct table {
    enum ways ways;
    int32_t *cells;
    bool *repeats;   /* of each row: does it equal the one before */
    bool *composite; /* of each row: do crosscuts alone give all its values */
};

struct chain {
    struct table levels[MOST_LEVELS]; /* levels[0] has items only, unless any stages will do */
    int count;
};

struct valuer {
    const struct problem *problem;
    struct grid *grids;
    bool *seen;           /* of each item: is it at least a step everywhere */
    struct chain chains[2];
    int chain_count;
    int32_t *value;       /* of each item, in the valuation at hand */
    int32_t *best_item;   /* along y: the best item that starts to fit at y, of those that fit the row at hand */
    int32_t *split;       /* along y: what crosscuts alone give the row at hand */
    int *simple;          /* along y: where the row at hand rises to what rips do not give */
    int stock;            /* of the last valuation */
    int best_chain;
    int64_t row_steps;    /* done in vector code along y */
    int64_t steps;        /* done one by one */
};

/* ---- the valuer ---- */

/* The tables of stages whose first cut is `first`; a single one for any stages. */
static void plan_chain(struct chain *chain, int turns, enum ways first)
{
    if (turns == 0) {
        *chain = (struct chain){.levels = {{.ways = BOTH}}, .count = 1};
        return;
    }
    *chain = (struct chain){.count = turns + 1};
    for (int k = turns; k > 0; k--) {
        chain->levels[k].ways = first;
        first = first == CROSSCUTS ? RIPS : CROSSCUTS;
    }
}

static void plan_chains(struct valuer *valuer)
{
    const struct problem *problem = valuer->problem;
    if (problem->turns == 0 || problem->first_cut != DW_RIP)
        plan_chain(&valuer->chains[valuer->chain_count++], problem->turns, CROSSCUTS);
    if (problem->turns != 0 && problem->first_cut != DW_CROSSCUT)
        plan_chain(&valuer->chains[valuer->chain_count++], problem->turns, RIPS);
}

/* Tables and rows large enough for any stock. */
static void make_room(struct valuer *valuer, struct dw_arena *arena)
{
    size_t cells = 1, rows = 1, columns = 1;
    for (int s = 0; s < valuer->problem->stock_count; s++) {
        const size_t x = (size_t)valuer->grids[s].x.count, y = (size_t)valuer->grids[s].y.count;
        cells = x * y > cells ? x * y : cells;
        rows = x > rows ? x : rows;
        columns = y > columns ? y : columns;
    }
    for (int c = 0; c < valuer->chain_count; c++)
        for (int k = 0; k < valuer->chains[c].count; k++) {
            valuer->chains[c].levels[k].cells = dw_arena_alloc(arena, cells, sizeof(int32_t));
            valuer->chains[c].levels[k].repeats = dw_arena_alloc(arena, rows, sizeof(bool));
            valuer->chains[c].levels[k].composite = dw_arena_alloc(arena, rows, sizeof(bool));
        }
    valuer->value = dw_arena_alloc(arena, (size_t)valuer->problem->item_count, sizeof *valuer->value);
    valuer->best_item = dw_arena_alloc(arena, columns, sizeof *valuer->best_item);
    valuer->split = dw_arena_alloc(arena, columns, sizeof *valuer->split);
    valuer->simple = dw_arena_alloc(arena, columns, sizeof *valuer->simple);
}

struct valuer *dwi_valuer_new(const struct problem *problem, int64_t ticks, struct dw_arena *arena)
{
    struct valuer *valuer = dw_arena_alloc(arena, 1, sizeof *valuer);
    *valuer = (struct valuer){.problem = problem, .stock = -1};
    valuer->grids = dw_arena_alloc(arena, (size_t)problem->stock_count, sizeof *valuer->grids);
    valuer->seen = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *valuer->seen);
    memset(valuer->seen, true, (size_t)problem->item_count * sizeof *valuer->seen);
    plan_chains(valuer);
    const bool one_table = valuer->chain_count == 1 && valuer->chains[0].count == 1;
    for (int s = 0; s < problem->stock_count; s++) {
        dwi_grid_make(problem, s, false, ticks / (one_table ? 1 : valuer->chain_count), arena, &valuer->grids[s]);
        dwi_grid_blind(problem, &valuer->grids[s], valuer->seen);
    }
    make_room(valuer, arena);
    return valuer;
}

bool dwi_value_sees(const struct valuer *valuer, int item)
{
    return valuer->seen[item];
}

/* ---- one valuation ---- */

/* The power of two by which values are divided. Of one item along_x * along_y fit side by side, at least a quarter of
 * what its density would give the whole area; so no layout is worth more than four times the best of these. */
static int shift_for(const struct valuer *valuer, const struct grid *grid, const int64_t *u)
{
    const int64_t length = grid->x.at[grid->x.count - 1], width = grid->y.at[grid->y.count - 1];
    int shift = 0;
    for (int k = 0; k < grid->spot_count; k++) {
        const struct spot *spot = &grid->spots[k];
        const struct item *item = &valuer->problem->items[spot->item];
        if (!valuer->seen[spot->item])
            continue;
        const int64_t along_x = length / ((spot->turned ? item->width : item->length) / grid->step_x);
        const int64_t along_y = width / ((spot->turned ? item->length : item->width) / grid->step_y);
        const int64_t most = MOST_VALUE / 4 / (along_x + 1) / (along_y + 1);
        while (shift < 40 && (u[spot->item] >> shift) + 1 > most)
            shift++;
    }
    return shift;
}

static void set_values(struct valuer *valuer, const int64_t *u, int shift)
{
    for (int i = 0; i < valuer->problem->item_count; i++)
        valuer->value[i] = valuer->seen[i] ? (int32_t)((u[i] + (((int64_t)1 << shift) - 1)) >> shift) : 0;
}

static int32_t larger(int32_t a, int32_t b)
{
    return a > b ? a : b;
}

/* Row x of the items alone. */
static void item_row(struct valuer *valuer, const struct grid *grid, int x, int *next_spot, int32_t *row)
{
    for (; *next_spot < grid->spot_count && grid->spots[*next_spot].x <= x; ++*next_spot) {
        const struct spot *spot = &grid->spots[*next_spot];
        valuer->best_item[spot->y] = larger(valuer->best_item[spot->y], valuer->value[spot->item]);
    }
    int32_t best = 0;
    for (int y = 0; y < grid->y.count; y++) {
        best = larger(best, valuer->best_item[y]);
        row[y] = best;
    }
}

/* Compiled twice, for processors with and without wide vectors; which one runs changes nothing but the time it takes. Sanitizers are
 * left out: the choice is made before their runtime is up. */
#if defined __x86_64__ && defined __GLIBC__ && !defined __SANITIZE_ADDRESS__ && !defined __SANITIZE_THREAD__ && !defined __clang__
#define WIDE_VECTORS __attribute__((target_clones("avx2", "default")))
#else
#define WIDE_VECTORS
#endif

/* row = max(row, first + second). */
WIDE_VECTORS static void take_sums(int32_t *restrict row, const int32_t *restrict first, const int32_t *restrict second, int count)
{
    for (int y = 0; y < count; y++) {
        const int32_t sum = first[y] + second[y];
        row[y] = sum > row[y] ? sum : row[y];
    }
}

/* What crosscuts alone give row x, into `split`. */
static void split_along_x(struct valuer *valuer, const struct table *table, const struct grid *grid, int x)
{
    const size_t width = (size_t)grid->y.count;
    const uint16_t *rest = grid->x.rest + grid->x.first[x];
    memset(valuer->split, 0, width * sizeof *valuer->split);
    for (int t = 1; t <= grid->x.halves[x]; t++) {
        if (table->repeats[t] || table->composite[t])
            continue;
        take_sums(valuer->split, table->cells + (size_t)t * width, table->cells + rest[t] * width, grid->y.count);
        valuer->row_steps += grid->y.count;
    }
}

static void take_larger(int32_t *restrict row, const int32_t *restrict other, int count)
{
    for (int y = 0; y < count; y++)
        row[y] = other[y] > row[y] ? other[y] : row[y];
}

/* The best sum over points t of a list, all of them steps where the row rises, with the rest above them. */
static int32_t best_sum(struct valuer *valuer, int count, const uint16_t *rest, int half, const int32_t *row)
{
    const int *simple = valuer->simple;
    int32_t best = 0;
    int k = 0;
    for (; k < count && simple[k] <= half; k++)
        best = larger(best, row[simple[k]] + row[rest[simple[k]]]);
    valuer->steps += k + 2;
    return best;
}

static void split_along_y(struct valuer *valuer, const struct axis *axis, int32_t *row)
{
    int simple = 0;
    for (int y = 1; y < axis->count; y++) {
        const int32_t sum = best_sum(valuer, simple, axis->rest + axis->first[y], axis->halves[y], row);
        if (row[y] > sum && row[y] > row[y - 1])
            valuer->simple[simple++] = y;
        row[y] = larger(row[y], sum);
    }
}

static bool is_composite(const int32_t *row, const int32_t *split, int count)
{
    for (int y = 0; y < count; y++)
        if (row[y] > split[y])
            return false;
    return true;
}

/* Row x of one table, on top of what stands in it. */
static void finish_row(struct valuer *valuer, const struct grid *grid, struct table *table, int x)
{
    const size_t width = (size_t)grid->y.count;
    int32_t *row = table->cells + (size_t)x * width;
    if (table->ways & CROSSCUTS) {
        split_along_x(valuer, table, grid, x);
        take_larger(row, valuer->split, grid->y.count);
    }
    if (table->ways & RIPS)
        split_along_y(valuer, &grid->y, row);
    table->repeats[x] = x > 0 && memcmp(row, row - width, width * sizeof *row) == 0;
    table->composite[x] = (table->ways & CROSSCUTS) && is_composite(row, valuer->split, grid->y.count);
}

/* Fills all tables of a chain; returns the value of the whole stock. */
static int32_t fill_chain(struct valuer *valuer, const struct grid *grid, struct chain *chain)
{
    const size_t width = (size_t)grid->y.count;
    int next_spot = 0;
    memset(valuer->best_item, 0, width * sizeof *valuer->best_item);
    for (int x = 0; x < grid->x.count; x++) {
        item_row(valuer, grid, x, &next_spot, chain->levels[0].cells + (size_t)x * width);
        for (int k = 0; k < chain->count; k++) {
            if (k > 0)
                memcpy(chain->levels[k].cells + (size_t)x * width, chain->levels[k - 1].cells + (size_t)x * width,
                       width * sizeof(int32_t));
            finish_row(valuer, grid, &chain->levels[k], x);
        }
    }
    return chain->levels[chain->count - 1].cells[(size_t)grid->x.count * width - 1];
}

int64_t dwi_value(struct valuer *valuer, int stock, const int64_t *u, struct meter *meter)
{
    const struct grid *grid = &valuer->grids[stock];
    const int shift = shift_for(valuer, grid, u);
    int32_t best = 0;
    set_values(valuer, u, shift);
    valuer->steps = valuer->row_steps = 0;
    valuer->stock = stock;
    valuer->best_chain = 0;
    for (int c = 0; c < valuer->chain_count; c++) {
        const int32_t value = fill_chain(valuer, grid, &valuer->chains[c]);
        if (value > best) {
            best = value;
            valuer->best_chain = c;
        }
    }
    (void)dwi_meter_spend(meter, valuer->steps + valuer->row_steps / 4);
    return (int64_t)best << shift;
}

/* ---- the layout behind a value ---- */

/* Finds the cuts again by looking for parts of a sum: no table of choices is kept. */
struct building {
    const struct valuer *valuer;
    const struct grid *grid;
    const struct chain *chain;
    struct dw_arena *arena;
    struct slice *nodes;
    size_t count, capacity;
    int leaves;
    int32_t *counts;
    int64_t area;
};

static int add_node(struct building *building, struct slice node)
{
    building->nodes =
        dw_arena_grow(building->arena, building->nodes, building->count, &building->capacity, sizeof *building->nodes);
    building->nodes[building->count] = node;
    return (int)building->count++;
}

static int add_leaf(struct building *building, const struct spot *spot)
{
    const struct item *item = &building->valuer->problem->items[spot->item];
    building->counts[spot->item]++;
    building->area += item->area;
    building->leaves++;
    return add_node(building, (struct slice){.kind = SLICE_ITEM,
                                             .item = spot->item,
                                             .turned = spot->turned,
                                             .first = -1,
                                             .second = -1,
                                             .length = spot->turned ? item->width : item->length,
                                             .width = spot->turned ? item->length : item->width});
}

static int join(struct building *building, enum slice_kind kind, int first, int second)
{
    if (first < 0 || second < 0)
        return first < 0 ? second : first;
    return add_node(building, dwi_slice_join(kind, first, second, building->nodes));
}

static int build(struct building *building, int level, int x, int y);

static int32_t cell(const struct building *building, int level, int x, int y)
{
    return building->chain->levels[level].cells[(size_t)x * (size_t)building->grid->y.count + (size_t)y];
}

/* -2 when no single item is worth that much. */
static int build_item(struct building *building, int x, int y, int32_t worth)
{
    const struct grid *grid = building->grid;
    for (int k = 0; k < grid->spot_count && grid->spots[k].x <= x; k++)
        if (grid->spots[k].y <= y && building->valuer->value[grid->spots[k].item] >= worth)
            return add_leaf(building, &grid->spots[k]);
    return -2;
}

static int build_crosscut(struct building *building, int level, int x, int y, int32_t worth)
{
    const struct axis *axis = &building->grid->x;
    for (int t = 1; t <= axis->halves[x]; t++) {
        const int rest = axis->rest[axis->first[x] + t];
        if (cell(building, level, t, y) + cell(building, level, rest, y) >= worth) {
            const int first = build(building, level, t, y);
            return join(building, SLICE_BESIDE, first, build(building, level, rest, y));
        }
    }
    return -2;
}

static int build_rip(struct building *building, int level, int x, int y, int32_t worth)
{
    const struct axis *axis = &building->grid->y;
    for (int t = 1; t <= axis->halves[y]; t++) {
        const int rest = axis->rest[axis->first[y] + t];
        if (cell(building, level, x, t) + cell(building, level, x, rest) >= worth) {
            const int first = build(building, level, x, t);
            return join(building, SLICE_UPON, first, build(building, level, x, rest));
        }
    }
    return -2;
}

/* The node of piece (x, y) with cuts of this level and below; -1 for a piece worth nothing. */
static int build(struct building *building, int level, int x, int y)
{
    const int32_t worth = cell(building, level, x, y);
    if (worth <= 0 || building->leaves > MOST_LEAVES)
        return -1;
    const enum ways ways = building->chain->levels[level].ways;
    int node = -2;
    if (level > 0 && cell(building, level - 1, x, y) >= worth)
        return build(building, level - 1, x, y);
    if (level == 0)
        node = build_item(building, x, y, worth);
    if (node == -2 && (ways & CROSSCUTS))
        node = build_crosscut(building, level, x, y, worth);
    if (node == -2 && (ways & RIPS))
        node = build_rip(building, level, x, y, worth);
    return node;
}

const struct pattern *dwi_value_pattern(const struct valuer *valuer, struct dw_arena *arena)
{
    const struct grid *grid = &valuer->grids[valuer->stock];
    const struct chain *chain = &valuer->chains[valuer->best_chain];
    struct building building = {.valuer = valuer, .grid = grid, .chain = chain, .arena = arena};
    building.counts = dw_arena_alloc(arena, (size_t)valuer->problem->item_count, sizeof *building.counts);
    const int root = build(&building, chain->count - 1, grid->x.count - 1, grid->y.count - 1);
    if (root < 0 || building.leaves > MOST_LEAVES)
        return NULL;
    struct pattern *pattern = dw_arena_alloc(arena, 1, sizeof *pattern);
    *pattern = (struct pattern){.stock = valuer->stock,
                                .node_count = (int)building.count,
                                .root = root,
                                .nodes = building.nodes,
                                .counts = building.counts,
                                .area = building.area};
    return pattern;
}
