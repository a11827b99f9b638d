/* columns.c - the layouts that the master programs choose from, and how they come about.
 *
 * A column is a layout of one stock as the dynamic program of value.c finds it; it may hold more of an item than is wanted. That
 * relaxes the master program, so its bound stays one, and pricing stays a plain dynamic program. The pool gets the same layout
 * without the excess. Where that proves too weak, breaking.c adds columns that hold no item oftener than wanted.
 *
 * First columns: for each item and stock the grid of that item alone, so that every item is covered from the start; and what the
 * search put into the pool before.
 */
#include "prove.h"

#include <drawerwright/lp.h>
#include <drawerwright/memory.h>

#include "without.h"

enum {
    PRICING_TICKS = 30000000, /* a valuation of one stock may cost about 30 ms; else points are coarsened */
    MOST_IMPORTED = 1500
};

/* ---- values ---- */

static struct valuer *valuer_of(struct proof *proof)
{
    if (proof->valuer == NULL)
        proof->valuer = dwi_valuer_new(proof->problem, PRICING_TICKS, proof->arena);
    return proof->valuer;
}

/* All that is wanted: more than that no sheet can yield. */
static int64_t value_of_all(const struct problem *problem, const int64_t *u)
{
    int64_t all = 0;
    for (int i = 0; i < problem->item_count; i++)
        all += u[i] * problem->items[i].count;
    return all;
}

int64_t dwi_proof_value(struct proof *proof, int stock, const int64_t *u, struct meter *meter)
{
    struct valuer *valuer = valuer_of(proof);
    for (int i = 0; i < proof->problem->item_count; i++)
        if (u[i] > 0 && !dwi_value_sees(valuer, i))
            return INT64_MAX / 4;
    const int64_t value = dwi_value(valuer, stock, u, meter);
    const int64_t all = value_of_all(proof->problem, u);
    return value < all ? value : all;
}

void dwi_columns_blind(struct proof *proof, int64_t *u)
{
    const struct valuer *valuer = valuer_of(proof);
    for (int i = 0; i < proof->problem->item_count; i++)
        if (!dwi_value_sees(valuer, i))
            u[i] = 0;
}

/* ---- columns ---- */

const struct pattern *dwi_proof_pattern(const struct proof *proof, struct dw_arena *arena)
{
    return dwi_value_pattern(proof->valuer, arena);
}

struct limited *dwi_columns_limited(struct proof *proof)
{
    if (!proof->limited_tried && !dwi_left_out(proof->problem, DWI_LIMITED))
        proof->limited = dwi_limited_new(proof->problem, PRICING_TICKS, proof->arena);
    proof->limited_tried = true;
    return proof->limited;
}

const struct pattern *dwi_columns_pool(const struct proof *proof, struct pool *pool, const struct pattern *pattern)
{
    const struct stock *stock = &proof->problem->stocks[pattern->stock];
    if (pattern->node_count == 0)
        return NULL;
    const struct slice *root = &pattern->nodes[pattern->root];
    if (root->length > stock->length || root->width > stock->width || pool == NULL)
        return NULL;
    return dwi_pool_add(pool, pattern);
}

void dwi_columns_add(struct proof *proof, struct pool *pool, const struct pattern *pattern)
{
    const size_t items = (size_t)proof->problem->item_count;
    proof->columns = dw_arena_grow(proof->arena, proof->columns, proof->column_count, &proof->column_capacity,
                                   sizeof *proof->columns);
    proof->columns[proof->column_count++] = (struct column){
        .stock = pattern->stock,
        .counts = dw_arena_copy(proof->arena, pattern->counts, items, sizeof *pattern->counts),
        .pattern = dwi_columns_pool(proof, pool, pattern),
    };
}

/* Rows of `along` copies of one item side by side, set upon each other. */
static void add_grid(struct proof *proof, struct pool *pool, int stock, int item, bool turned, int64_t along, int64_t rows)
{
    struct dw_arena *scratch = dw_arena_child(proof->arena);
    const struct item *of = &proof->problem->items[item];
    struct slice *nodes = dw_arena_alloc(scratch, (size_t)(2 * along * rows), sizeof *nodes);
    int32_t *counts = dw_arena_alloc(scratch, (size_t)proof->problem->item_count, sizeof *counts);
    int count = 0, below = -1;
    for (int64_t row = 0; row < rows; row++) {
        int left = -1;
        for (int64_t place = 0; place < along; place++) {
            nodes[count] = (struct slice){.kind = SLICE_ITEM, .item = item, .turned = turned, .first = -1, .second = -1};
            nodes[count].length = turned ? of->width : of->length;
            nodes[count].width = turned ? of->length : of->width;
            count++;
            if (left >= 0) {
                nodes[count] = dwi_slice_join(SLICE_BESIDE, left, count - 1, nodes);
                count++;
            }
            left = count - 1;
        }
        if (below >= 0) {
            nodes[count] = dwi_slice_join(SLICE_UPON, below, left, nodes);
            count++;
        }
        below = count - 1;
    }
    counts[item] = (int32_t)(along * rows);
    dwi_columns_add(proof, pool,
                    &(struct pattern){.stock = stock, .node_count = count, .root = count - 1, .nodes = nodes, .counts = counts,
                                      .area = of->area * along * rows});
    dw_arena_free(scratch);
}

/* As many rows as are needed and fit. */
static void add_item_alone(struct proof *proof, struct pool *pool, int stock, int item, bool turned)
{
    enum { MOST_COPIES = 5000 };
    const struct item *of = &proof->problem->items[item];
    const struct stock *on = &proof->problem->stocks[stock];
    const int64_t wanted = of->count < MOST_COPIES ? of->count : MOST_COPIES;
    int64_t along = on->length / (turned ? of->width : of->length);
    int64_t rows = on->width / (turned ? of->length : of->width);
    if (along == 0 || rows == 0 || on->count == 0)
        return;
    along = along < wanted ? along : wanted;
    const int64_t needed = (wanted + along - 1) / along;
    rows = rows < needed ? rows : needed;
    add_grid(proof, pool, stock, item, turned, along, rows);
}

void dwi_columns_start(struct proof *proof, struct pool *pool)
{
    const struct problem *problem = proof->problem;
    if (proof->started)
        return;
    proof->started = true;
    for (int s = 0; s < problem->stock_count; s++)
        for (int i = 0; i < problem->item_count; i++)
            for (int turned = 0; turned <= problem->items[i].turn; turned++)
                add_item_alone(proof, pool, s, i, turned != 0);
}

void dwi_columns_import(struct proof *proof, const struct pool *pool)
{
    for (; pool != NULL && proof->pool_seen < pool->count && proof->imported < MOST_IMPORTED; proof->pool_seen++) {
        const struct pattern *pattern = pool->at[proof->pool_seen];
        proof->columns = dw_arena_grow(proof->arena, proof->columns, proof->column_count, &proof->column_capacity,
                                       sizeof *proof->columns);
        proof->columns[proof->column_count++] =
            (struct column){.stock = pattern->stock, .counts = pattern->counts, .pattern = pattern};
        proof->imported++;
    }
}

void dwi_columns_pass_over(struct proof *proof, const struct pool *pool)
{
    if (pool != NULL)
        proof->pool_seen = pool->count;
}

/* ---- models ---- */

void dwi_with_model(struct dw_arena *arena, struct dw_lp **model, void (*body)(void *context), void *context)
{
    *model = dw_lp_new();
    if (*model == NULL)
        dw_arena_exhaust(arena);
    const bool done = dw_arena_guard(arena, body, context);
    dw_lp_free(*model);
    *model = NULL;
    if (!done)
        dw_arena_exhaust(arena);
}
