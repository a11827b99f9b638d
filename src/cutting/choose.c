/* choose.c - the cheapest choice of layouts from the pool, by integer programming.
 *
 * Problem: cover all items within the sheets at hand by layouts met so far, each as often as wished, at the least cost:
 *     minimize sum p[s(j)] x[j],   each item i  sum a[j][i] x[j] >= d[i],   each stock s  sum of x[j] on s <= limit[s],   x whole.
 * (Set covering over a pool: Monaci & Toth 2006, section 4.)
 *
 * The pool is larger than the solver can take. So the relaxation is solved over a part of it; layouts whose reduced
 * cost is negative join until there are none, which makes it the relaxation over the whole pool. Then only layouts whose
 * reduced cost is below the gap between it and the cutoff can be in a cheaper choice; the best MOST_COLUMNS of them go into the integer
 * program, limited in nodes. A heuristic where layouts had to be left out or nodes ran out; a choice found is a choice in any case,
 * checked in whole numbers.
 */
#include "prove.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/lp.h>
#include <drawerwright/memory.h>

enum { FIRST_COLUMNS = 600, JOINING = 250, MOST_COLUMNS = 2500, MOST_STEPS = 20000, MOST_NODES = 100000, MOST_ITEMS = 1000 };

struct candidate {
    double reduced; /* cost by the duals at hand */
    size_t place;   /* in the pool */
};

struct choosing {
    const struct problem *problem;
    const struct pool *pool;
    const int64_t *limits;
    dw_money cutoff;
    double ceiling;           /* no cost of whole sheets lies between it and the cutoff */
    struct meter *meter;
    struct dw_arena *arena;   /* of the result */
    struct dw_arena *scratch;
    struct dw_lp *model;
    int *stock_rows;
    bool *loaded;             /* of each layout in the pool */
    size_t *columns;          /* in the model: places in the pool */
    size_t column_count;
    double *u, *m;
    double relaxed;           /* cost of the relaxation */
    struct candidate *candidates;
    struct pattern_use *uses;
    size_t use_count;
};

static int by_reduced_cost(const void *a, const void *b)
{
    const struct candidate *first = a, *second = b;
    if (first->reduced < second->reduced || first->reduced > second->reduced)
        return first->reduced < second->reduced ? -1 : 1;
    return (first->place > second->place) - (first->place < second->place);
}

static double price_of(const struct choosing *choosing, size_t place)
{
    return (double)choosing->problem->stocks[choosing->pool->at[place]->stock].price;
}

/* ---- the model ---- */

static void add_rows(struct choosing *choosing)
{
    const struct problem *problem = choosing->problem;
    for (int i = 0; i < problem->item_count; i++)
        (void)dw_lp_add_row(choosing->model, (double)problem->items[i].count, (double)INFINITY);
    int next = problem->item_count;
    for (int s = 0; s < problem->stock_count; s++) {
        const bool binds = choosing->limits[s] < problem->piece_count;
        choosing->stock_rows[s] = binds ? next++ : -1;
        if (binds)
            (void)dw_lp_add_row(choosing->model, -(double)INFINITY, (double)choosing->limits[s]);
    }
}

static void load(struct choosing *choosing, size_t place)
{
    const struct problem *problem = choosing->problem;
    const struct pattern *pattern = choosing->pool->at[place];
    int rows[MOST_ITEMS + 1];
    double entries[MOST_ITEMS + 1];
    size_t count = 0;
    for (int i = 0; i < problem->item_count; i++)
        if (pattern->counts[i] > 0) {
            rows[count] = i;
            entries[count++] = pattern->counts[i];
        }
    if (choosing->stock_rows[pattern->stock] >= 0) {
        rows[count] = choosing->stock_rows[pattern->stock];
        entries[count++] = 1;
    }
    (void)dw_lp_add_column(choosing->model, price_of(choosing, place), 0, (double)problem->piece_count, true, rows, entries,
                           count);
    choosing->loaded[place] = true;
    choosing->columns[choosing->column_count++] = place;
}

/* A model without columns. */
static void start_model(struct choosing *choosing)
{
    memset(choosing->loaded, 0, choosing->pool->count * sizeof *choosing->loaded);
    choosing->column_count = 0;
    add_rows(choosing);
}

/* ---- the relaxation over the whole pool ---- */

/* The layouts that use their sheets best; where a sheet costs nothing all of its are good. */
static void load_first(struct choosing *choosing)
{
    const struct pool *pool = choosing->pool;
    for (size_t p = 0; p < pool->count; p++)
        choosing->candidates[p] = (struct candidate){price_of(choosing, p) / (double)pool->at[p]->area, p};
    qsort(choosing->candidates, pool->count, sizeof *choosing->candidates, by_reduced_cost);
    for (size_t c = 0; c < pool->count && c < FIRST_COLUMNS; c++)
        load(choosing, choosing->candidates[c].place);
}

/* Every item must be coverable from the start: the first layouts that hold it, unless it has one. */
static void load_cover(struct choosing *choosing)
{
    const struct problem *problem = choosing->problem;
    bool *covered = dw_arena_alloc(choosing->scratch, (size_t)problem->item_count, sizeof *covered);
    for (size_t c = 0; c < choosing->column_count; c++)
        for (int i = 0; i < problem->item_count; i++)
            covered[i] = covered[i] || choosing->pool->at[choosing->columns[c]]->counts[i] > 0;
    for (size_t p = 0; p < choosing->pool->count; p++)
        for (int i = 0; i < problem->item_count; i++)
            if (!covered[i] && choosing->pool->at[p]->counts[i] > 0) {
                covered[i] = true;
                if (!choosing->loaded[p])
                    load(choosing, p);
            }
}

static bool solve_relaxation(struct choosing *choosing)
{
    const struct problem *problem = choosing->problem;
    const int64_t before = dw_lp_work(choosing->model);
    const enum dw_lp_answer answer = dw_lp_solve(choosing->model, MOST_STEPS);
    (void)dwi_meter_spend(choosing->meter, (dw_lp_work(choosing->model) - before) * DWI_TICKS_A_UNIT);
    if (answer != DW_LP_OPTIMAL)
        return false;
    choosing->relaxed = dw_lp_objective(choosing->model);
    for (int i = 0; i < problem->item_count; i++)
        choosing->u[i] = dw_lp_dual(choosing->model, i);
    for (int s = 0; s < problem->stock_count; s++)
        choosing->m[s] = choosing->stock_rows[s] < 0 ? 0 : dw_lp_dual(choosing->model, choosing->stock_rows[s]);
    return true;
}

/* Reduced costs of the whole pool, in rising order. */
static void rank_pool(struct choosing *choosing)
{
    const struct problem *problem = choosing->problem;
    const struct pool *pool = choosing->pool;
    for (size_t p = 0; p < pool->count; p++) {
        double reduced = price_of(choosing, p) - choosing->m[pool->at[p]->stock];
        for (int i = 0; i < problem->item_count; i++)
            reduced -= choosing->u[i] * pool->at[p]->counts[i];
        choosing->candidates[p] = (struct candidate){reduced, p};
    }
    qsort(choosing->candidates, pool->count, sizeof *choosing->candidates, by_reduced_cost);
    (void)dwi_meter_spend(choosing->meter, (int64_t)pool->count * (problem->item_count + 50));
}

/* Lets layouts of negative reduced cost join; false when there are none. */
static bool load_joining(struct choosing *choosing)
{
    int joined = 0;
    for (size_t c = 0; c < choosing->pool->count && joined < JOINING; c++) {
        const struct candidate *candidate = &choosing->candidates[c];
        if (candidate->reduced > -1e-6 * (1 + fabs(price_of(choosing, candidate->place))))
            break;
        if (choosing->loaded[candidate->place])
            continue;
        load(choosing, candidate->place);
        joined++;
    }
    return joined > 0;
}

static void relax(void *context)
{
    struct choosing *choosing = context;
    start_model(choosing);
    load_first(choosing);
    load_cover(choosing);
    do {
        if (!solve_relaxation(choosing)) {
            choosing->relaxed = (double)INFINITY;
            return;
        }
        rank_pool(choosing);
    } while (load_joining(choosing) && dwi_meter_open(choosing->meter));
}

/* ---- the integer program ---- */

/* In whole numbers: is every item covered within the limits below the cutoff? */
static bool choice_holds(const struct choosing *choosing)
{
    const struct problem *problem = choosing->problem;
    int64_t *left = dw_arena_alloc(choosing->scratch, (size_t)problem->item_count, sizeof *left);
    int64_t *sheets = dw_arena_alloc(choosing->scratch, (size_t)problem->stock_count, sizeof *sheets);
    dw_money cost = 0;
    for (int i = 0; i < problem->item_count; i++)
        left[i] = problem->items[i].count;
    for (size_t k = 0; k < choosing->use_count; k++) {
        const struct pattern_use *use = &choosing->uses[k];
        sheets[use->pattern->stock] += use->times;
        cost += problem->stocks[use->pattern->stock].price * use->times;
        for (int i = 0; i < problem->item_count; i++)
            left[i] -= use->pattern->counts[i] * use->times;
    }
    for (int i = 0; i < problem->item_count; i++)
        if (left[i] > 0)
            return false;
    for (int s = 0; s < problem->stock_count; s++)
        if (sheets[s] > choosing->limits[s])
            return false;
    return cost < choosing->cutoff;
}

static void read_choice(struct choosing *choosing)
{
    choosing->uses = dw_arena_alloc(choosing->arena, choosing->column_count, sizeof *choosing->uses);
    for (size_t c = 0; c < choosing->column_count; c++) {
        const int64_t times = dw_lp_integer_value(choosing->model, (int)c);
        if (times > 0)
            choosing->uses[choosing->use_count++] =
                (struct pattern_use){.pattern = choosing->pool->at[choosing->columns[c]], .times = times};
    }
    if (!choice_holds(choosing))
        choosing->use_count = 0;
}

static void choose(void *context)
{
    struct choosing *choosing = context;
    const double gap = choosing->ceiling - choosing->relaxed;
    start_model(choosing);
    for (size_t c = 0; c < choosing->pool->count && c < MOST_COLUMNS && choosing->candidates[c].reduced < gap; c++)
        load(choosing, choosing->candidates[c].place);
    if (choosing->column_count == 0)
        return;
    dw_lp_limit_work(choosing->model, (choosing->meter->limit - choosing->meter->ticks) / DWI_TICKS_A_UNIT);
    const enum dw_lp_answer answer = dw_lp_solve_integer(choosing->model, MOST_NODES, choosing->ceiling);
    (void)dwi_meter_spend(choosing->meter, dw_lp_work(choosing->model) * DWI_TICKS_A_UNIT);
    if (answer == DW_LP_OPTIMAL || answer == DW_LP_FEASIBLE)
        read_choice(choosing);
}

static void make_room(struct choosing *choosing)
{
    const size_t layouts = choosing->pool->count;
    const size_t items = (size_t)choosing->problem->item_count, stocks = (size_t)choosing->problem->stock_count;
    choosing->stock_rows = dw_arena_alloc(choosing->scratch, stocks, sizeof *choosing->stock_rows);
    choosing->loaded = dw_arena_alloc(choosing->scratch, layouts, sizeof *choosing->loaded);
    choosing->columns = dw_arena_alloc(choosing->scratch, layouts, sizeof *choosing->columns);
    choosing->candidates = dw_arena_alloc(choosing->scratch, layouts, sizeof *choosing->candidates);
    choosing->u = dw_arena_alloc(choosing->scratch, items, sizeof *choosing->u);
    choosing->m = dw_arena_alloc(choosing->scratch, stocks, sizeof *choosing->m);
}

/* The stocks' own counts where the caller sets no limits. */
static const int64_t *own_limits(const struct problem *problem, struct dw_arena *scratch)
{
    int64_t *limits = dw_arena_alloc(scratch, (size_t)problem->stock_count, sizeof *limits);
    for (int s = 0; s < problem->stock_count; s++)
        limits[s] = problem->stocks[s].count;
    return limits;
}

bool dwi_choose(const struct proof *proof, const struct pool *pool, const int64_t *limits, dw_money cutoff, struct meter *meter,
                int64_t ticks, struct dw_arena *arena, const struct pattern_use **uses, size_t *use_count)
{
    const struct problem *problem = proof->problem;
    if (pool->count == 0 || problem->item_count > MOST_ITEMS)
        return false;
    struct dw_arena *scratch = dw_arena_child(arena);
    struct choosing choosing = {.problem = problem, .pool = pool, .cutoff = cutoff, .meter = meter, .arena = arena,
                                .scratch = scratch, .relaxed = (double)INFINITY};
    choosing.limits = limits != NULL ? limits : own_limits(problem, scratch);
    const dw_money step = dwi_price_step(problem);
    const dw_money cheaper = (cutoff - 1) / step * step;
    choosing.ceiling = cutoff > INT64_MAX / 4 ? (double)INFINITY : (double)cheaper + 0.5;
    make_room(&choosing);
    const int64_t before = dwi_meter_narrow(meter, ticks);
    dwi_with_model(arena, &choosing.model, relax, &choosing);
    meter->limit = before;
    (void)dwi_meter_narrow(meter, ticks);
    if (choosing.relaxed < choosing.ceiling && dwi_meter_open(meter))
        dwi_with_model(arena, &choosing.model, choose, &choosing);
    meter->limit = before;
    dw_arena_free(scratch);
    *uses = choosing.uses;
    *use_count = choosing.use_count;
    return choosing.use_count > 0;
}
