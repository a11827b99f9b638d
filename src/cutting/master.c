/* master.c - column generation: the priced master for the bound and the layouts, the counted master for single sheet counts.
 *
 * Symbols: d[i] wanted of item i; p[s] price; a[j][i] items in column j of stock s(j); V_s(u) value of stock s for item values u.
 *
 * Priced master (Gilmore & Gomory 1961, 1965):
 *     minimize sum p[s(j)] x[j] + sum P e[i]
 *     each i   sum a[j][i] x[j] + e[i] >= d[i]                    dual u[i] >= 0
 *     each s   sum of x[j] on s <= count[s], where that binds      dual -m[s] <= 0
 * e stands for an item left out, at a price P above any sheet's. A new column of stock s improves it when V_s(u) > p[s] + m[s].
 * The duals that are priced are smoothed, 0.6 old + 0.4 new (Wentges 1997); when those bring nothing, the true ones are.
 *
 * Counted master, for given counts n: minimize the area that finds no place,
 *     minimize sum w[i] e[i],   each i  sum a[j][i] x[j] + e[i] >= d[i],   each s  sum of x[j] on s <= n[s].
 *
 * What is proved: for any whole u >= 0 the row  sum V_s(u) n[s] >= sum d[i] u[i]  holds for every plan. The duals of both masters,
 * times 2^26 and rounded DOWN, are such u. So a dual from a wrong floating-point solution makes a weak row, never a false one. The priced
 * master keeps its best row (Farley 1990 in the form of a row); the counted master stops at the first row that n breaks.
 */
#include "prove.h"

#include <math.h>
#include <string.h>

#include <drawerwright/lp.h>
#include <drawerwright/memory.h>

enum { MOST_ITEMS = 600, MOST_COLUMNS = 6000, MOST_STEPS = 20000, UNIT_BITS = 26, MOST_NODES = 100000 };

static const double unit = (double)(1 << UNIT_BITS);

/* A master under way; the model lives for one slice of work only, the columns for ever. */
struct master {
    struct proof *proof;
    struct pool *pool;
    struct meter *meter;
    struct dw_lp *model;
    const int64_t *counts;  /* the counted master's n; NULL for the priced one */
    double *prices;         /* of each stock, in units of the dearest (all 0 in the counted master) */
    double *weights;        /* of each item left out */
    int *stock_rows;        /* of each stock, -1 without */
    size_t loaded;          /* columns in the model */
    int first_column;       /* in the model: the columns of items left out come first */
    double *u, *m;          /* duals of items and stocks */
    double *tried;          /* the item duals that are priced */
    int64_t *whole;         /* those in whole units */
    int64_t *v;
    int *rows_scratch;
    double *entries_scratch;
    int64_t work_seen;      /* of the model, already on the meter */
    bool more;              /* priced: not converged; counted: a row was found */
    bool finished;
};

/* ---- building the model ---- */

static void set_scales(struct master *master)
{
    const struct problem *problem = master->proof->problem;
    dw_money dearest = 0;
    int64_t largest = 1;
    for (int s = 0; s < problem->stock_count; s++) {
        dearest = problem->stocks[s].price > dearest ? problem->stocks[s].price : dearest;
        largest = problem->stocks[s].area > largest ? problem->stocks[s].area : largest;
    }
    for (int s = 0; s < problem->stock_count && master->counts == NULL; s++)
        master->prices[s] = dearest > 0 ? (double)problem->stocks[s].price / (double)dearest
                                        : (double)problem->stocks[s].area / (double)largest;
    for (int i = 0; i < problem->item_count; i++)
        master->weights[i] = master->counts == NULL ? 4 : (double)problem->items[i].area / (double)largest;
}

static void add_rows(struct master *master)
{
    const struct problem *problem = master->proof->problem;
    for (int i = 0; i < problem->item_count; i++)
        (void)dw_lp_add_row(master->model, (double)problem->items[i].count, (double)INFINITY);
    int next = problem->item_count;
    for (int s = 0; s < problem->stock_count; s++) {
        const bool binds = master->counts != NULL || problem->stocks[s].count < problem->piece_count;
        const int64_t most = master->counts != NULL ? master->counts[s] : problem->stocks[s].count;
        master->stock_rows[s] = binds ? next++ : -1;
        if (binds)
            (void)dw_lp_add_row(master->model, -(double)INFINITY, (double)most);
    }
    const double one = 1;
    for (int i = 0; i < problem->item_count; i++)
        (void)dw_lp_add_column(master->model, master->weights[i], 0, (double)INFINITY, false, &i, &one, 1);
    master->first_column = problem->item_count;
}

static void load_column(struct master *master, const struct column *column)
{
    size_t count = 0;
    for (int i = 0; i < master->proof->problem->item_count; i++)
        if (column->counts[i] > 0) {
            master->rows_scratch[count] = i;
            master->entries_scratch[count++] = column->counts[i];
        }
    if (master->stock_rows[column->stock] >= 0) {
        master->rows_scratch[count] = master->stock_rows[column->stock];
        master->entries_scratch[count++] = 1;
    }
    (void)dw_lp_add_column(master->model, master->prices[column->stock], 0, (double)INFINITY, false, master->rows_scratch,
                           master->entries_scratch, count);
}

static void load_columns(struct master *master)
{
    for (; master->loaded < master->proof->column_count; master->loaded++)
        load_column(master, &master->proof->columns[master->loaded]);
}

static void start_master(struct master *master, struct dw_arena *scratch)
{
    const struct problem *problem = master->proof->problem;
    const size_t items = (size_t)problem->item_count, stocks = (size_t)problem->stock_count;
    master->prices = dw_arena_alloc(scratch, stocks, sizeof *master->prices);
    master->weights = dw_arena_alloc(scratch, items, sizeof *master->weights);
    master->stock_rows = dw_arena_alloc(scratch, stocks, sizeof *master->stock_rows);
    master->u = dw_arena_alloc(scratch, items, sizeof *master->u);
    master->m = dw_arena_alloc(scratch, stocks, sizeof *master->m);
    master->tried = dw_arena_alloc(scratch, items, sizeof *master->tried);
    master->whole = dw_arena_alloc(scratch, items, sizeof *master->whole);
    master->v = dw_arena_alloc(scratch, stocks, sizeof *master->v);
    master->rows_scratch = dw_arena_alloc(scratch, items + 1, sizeof *master->rows_scratch);
    master->entries_scratch = dw_arena_alloc(scratch, items + 1, sizeof *master->entries_scratch);
    set_scales(master);
    add_rows(master);
}

/* ---- a round ---- */

/* Solves the model over the columns so far and reads its duals; false when it cannot be solved. */
static bool solve_master(struct master *master)
{
    const struct problem *problem = master->proof->problem;
    load_columns(master);
    const enum dw_lp_answer answer = dw_lp_solve(master->model, MOST_STEPS);
    (void)dwi_meter_spend(master->meter, (dw_lp_work(master->model) - master->work_seen) * DWI_TICKS_A_UNIT);
    master->work_seen = dw_lp_work(master->model);
    if (answer != DW_LP_OPTIMAL)
        return false;
    for (int i = 0; i < problem->item_count; i++)
        master->u[i] = fmax(0, dw_lp_dual(master->model, i));
    for (int s = 0; s < problem->stock_count; s++)
        master->m[s] = master->stock_rows[s] < 0 ? 0 : fmax(0, -dw_lp_dual(master->model, master->stock_rows[s]));
    return true;
}

void dwi_whole_values(const struct problem *problem, const double *values, int64_t *whole)
{
    for (int i = 0; i < problem->item_count; i++)
        whole[i] = (int64_t)floor(fmin(values[i], 1000) * unit);
}

/* Whole units, down; what the points do not see counts nothing. */
static void round_down(struct master *master)
{
    dwi_whole_values(master->proof->problem, master->tried, master->whole);
    dwi_columns_blind(master->proof, master->whole);
}

/* Does a layout bring more than it costs the model, by its true duals? */
static bool improves(const struct master *master, const struct pattern *pattern)
{
    double worth = 0;
    for (int i = 0; i < master->proof->problem->item_count; i++)
        worth += master->u[i] * pattern->counts[i];
    return worth > master->prices[pattern->stock] + master->m[pattern->stock] + 1e-7;
}

/* Keeps the layout behind the last value: as a column when it improves the model, else for the pool. */
static bool keep_layout(struct master *master)
{
    struct proof *proof = master->proof;
    struct dw_arena *scratch = dw_arena_child(proof->arena);
    const struct pattern *pattern = dwi_proof_pattern(proof, scratch);
    const bool better = pattern != NULL && proof->column_count < MOST_COLUMNS && improves(master, pattern);
    if (better)
        dwi_columns_add(proof, master->pool, pattern);
    else if (pattern != NULL)
        (void)dwi_columns_pool(proof, master->pool, pattern);
    dw_arena_free(scratch);
    return better;
}

/* Sheets of which the counts have none bring no layout, and a value only once there is a row to add. */
static bool is_counted_out(const struct master *master, int stock)
{
    return master->counts != NULL && master->counts[stock] == 0;
}

/* Values the stocks for the duals tried; keeps the layouts that improve the model. Returns how many. */
static int price(struct master *master)
{
    const struct problem *problem = master->proof->problem;
    int kept = 0;
    round_down(master);
    for (int s = 0; s < problem->stock_count; s++) {
        if (is_counted_out(master, s))
            continue;
        master->v[s] = dwi_proof_value(master->proof, s, master->whole, master->meter);
        if (problem->stocks[s].count > 0 && keep_layout(master))
            kept++;
    }
    return kept;
}

/* ---- the priced master ---- */

/* The share of the bound that a row gives: what its right side costs where value is cheapest. Guides only. */
static double strength(const struct proof *proof, const struct bound_row *row)
{
    double least = (double)INFINITY;
    for (int s = 0; s < proof->problem->stock_count; s++) {
        const struct stock *stock = &proof->problem->stocks[s];
        if (row->v[s] > 0 && stock->count > 0)
            least = fmin(least, (double)row->rhs / (double)row->v[s] * (double)(stock->price > 0 ? stock->price : 1));
    }
    return least;
}

/* The row of the duals priced last replaces the priced master's own when it is stronger. */
static void offer_row(struct master *master)
{
    struct proof *proof = master->proof;
    const struct problem *problem = proof->problem;
    struct bound_row row = {.u = master->whole, .v = master->v};
    for (int i = 0; i < problem->item_count; i++)
        row.rhs += master->whole[i] * problem->items[i].count;
    if (proof->priced_row < 0) {
        proof->priced_row = dwi_rows_add(proof, row.u, row.v);
    } else if (strength(proof, &row) > strength(proof, &proof->rows[proof->priced_row])) {
        row.u = dw_arena_copy(proof->arena, row.u, (size_t)problem->item_count, sizeof *row.u);
        row.v = dw_arena_copy(proof->arena, row.v, (size_t)problem->stock_count, sizeof *row.v);
        proof->rows[proof->priced_row] = row;
    }
}

static void blend_duals(struct master *master)
{
    const int items = master->proof->problem->item_count;
    double *center = master->proof->center;
    for (int i = 0; i < items; i++)
        master->tried[i] = center == NULL ? master->u[i] : 0.6 * center[i] + 0.4 * master->u[i];
    if (center == NULL)
        center = dw_arena_alloc(master->proof->arena, (size_t)items, sizeof *center);
    memcpy(center, master->tried, (size_t)items * sizeof *center);
    master->proof->center = center;
}

static void keep_solution(struct master *master)
{
    struct proof *proof = master->proof;
    proof->solution = dw_arena_alloc(proof->arena, master->loaded, sizeof *proof->solution);
    proof->solution_count = master->loaded;
    for (size_t j = 0; j < master->loaded; j++)
        proof->solution[j] = dw_lp_value(master->model, master->first_column + (int)j);
}

/* One round; false when the duals prove that no layout improves the model, or the solver gave up. */
static bool priced_round(struct master *master)
{
    if (!solve_master(master))
        return false;
    blend_duals(master);
    int kept = price(master);
    offer_row(master);
    if (kept == 0) {
        memcpy(master->tried, master->u, (size_t)master->proof->problem->item_count * sizeof *master->tried);
        kept = price(master);
        offer_row(master);
    }
    return kept > 0;
}

static void run_priced(void *context)
{
    struct master *master = context;
    struct dw_arena *scratch = dw_arena_child(master->proof->arena);
    start_master(master, scratch);
    master->more = true;
    while (master->more && dwi_meter_open(master->meter))
        master->more = priced_round(master);
    if (solve_master(master))
        keep_solution(master);
    dw_arena_free(scratch);
}

/* Puts on the meter what counting sheets took since the last time. */
static void pay_owed(struct proof *proof, struct meter *meter)
{
    (void)dwi_meter_spend(meter, proof->owed);
    proof->owed = 0;
}

bool dwi_proof_columns(struct proof *proof, struct pool *pool, struct meter *meter, int64_t ticks)
{
    pay_owed(proof, meter);
    if (proof->columns_done || proof->problem->item_count > MOST_ITEMS)
        return false;
    const int64_t before = dwi_meter_narrow(meter, ticks);
    struct master master = {.proof = proof, .pool = pool, .meter = meter};
    dwi_bounds_sharpen(proof, meter);
    dwi_columns_import(proof, pool);
    dwi_columns_start(proof, pool);
    dwi_with_model(proof->arena, &master.model, run_priced, &master);
    dwi_columns_pass_over(proof, pool);
    meter->limit = before;
    proof->columns_done = !master.more;
    return master.more;
}

/* ---- the counted master ---- */

/* Adds the row of the duals tried when the counts break it. Stocks of which there are none need a value in it too. */
static bool offer_breaking_row(struct master *master)
{
    struct proof *proof = master->proof;
    const struct problem *problem = proof->problem;
    struct bound_row row = {.u = master->whole, .v = master->v};
    for (int i = 0; i < problem->item_count; i++)
        row.rhs += master->whole[i] * problem->items[i].count;
    if (!dwi_row_is_broken(proof, &row, master->counts))
        return false;
    for (int s = 0; s < problem->stock_count; s++)
        if (is_counted_out(master, s))
            master->v[s] = dwi_proof_value(proof, s, master->whole, master->meter);
    return dwi_rows_add(proof, row.u, row.v) >= 0;
}

static void run_counted(void *context)
{
    struct master *master = context;
    struct dw_arena *scratch = dw_arena_child(master->proof->arena);
    const size_t items = (size_t)master->proof->problem->item_count;
    start_master(master, scratch);
    while (!master->more && !master->finished && dwi_meter_open(master->meter)) {
        if (!solve_master(master) || dw_lp_objective(master->model) < 1e-9) {
            master->finished = true;
            break;
        }
        memcpy(master->tried, master->u, items * sizeof *master->tried);
        const int kept = price(master);
        master->more = offer_breaking_row(master);
        master->finished = !master->more && kept == 0;
    }
    dw_arena_free(scratch);
}

bool dwi_proof_break(struct proof *proof, const int64_t *counts, struct pool *pool, struct meter *meter, int64_t ticks,
                     bool *finished)
{
    const size_t size = (size_t)proof->problem->stock_count * sizeof *counts;
    pay_owed(proof, meter);
    *finished = proof->problem->item_count > MOST_ITEMS || proof->row_count == MOST_ROWS
             || (proof->asked_finished && memcmp(proof->asked, counts, size) == 0);
    if (*finished)
        return false;
    const int64_t before = dwi_meter_narrow(meter, ticks);
    struct master master = {.proof = proof, .pool = pool, .meter = meter, .counts = counts};
    dwi_bounds_sharpen(proof, meter);
    dwi_columns_import(proof, pool);
    dwi_columns_start(proof, pool);
    dwi_with_model(proof->arena, &master.model, run_counted, &master);
    meter->limit = before;
    if (master.finished)
        master.more = dwi_break_within_demand(proof, counts, pool, meter, ticks, &master.finished);
    dwi_columns_pass_over(proof, pool);
    memcpy(proof->asked, counts, size);
    proof->asked_finished = *finished = master.finished;
    return master.more;
}

/* ---- a start for the search ---- */

size_t dwi_proof_rounded(struct proof *proof, struct dw_arena *arena, const struct pattern_use **uses)
{
    const int items = proof->problem->item_count;
    struct pattern_use *made = dw_arena_alloc(arena, proof->solution_count, sizeof *made);
    int64_t *left = dw_arena_alloc(arena, (size_t)items, sizeof *left);
    size_t count = 0;
    for (int i = 0; i < items; i++)
        left[i] = proof->problem->items[i].count;
    for (size_t j = 0; j < proof->solution_count; j++) {
        const struct pattern *pattern = proof->columns[j].pattern;
        int64_t times = pattern == NULL ? 0 : (int64_t)floor(proof->solution[j] + 1e-6);
        for (int i = 0; i < items && times > 0; i++)
            if (pattern->counts[i] > 0 && left[i] / pattern->counts[i] < times)
                times = left[i] / pattern->counts[i];
        if (times == 0)
            continue;
        for (int i = 0; i < items; i++)
            left[i] -= times * pattern->counts[i];
        made[count++] = (struct pattern_use){.pattern = pattern, .times = times};
    }
    *uses = made;
    return count;
}

/* Where no count binds, every job can be done: each piece on a sheet of its own. */
static bool has_counted_stock(const struct problem *problem)
{
    for (int s = 0; s < problem->stock_count; s++)
        if (problem->stocks[s].count < problem->piece_count)
            return true;
    return false;
}

struct proof *dwi_proof_new(const struct problem *problem, struct dw_arena *arena)
{
    struct proof *proof = dw_arena_alloc(arena, 1, sizeof *proof);
    *proof = (struct proof){.problem = problem, .arena = arena, .priced_row = -1, .most_nodes = MOST_NODES};
    proof->asked = dw_arena_alloc(arena, (size_t)problem->stock_count, sizeof *proof->asked);
    proof->impossible = has_counted_stock(problem) && dwi_few_impossible(problem, arena);
    dwi_bounds_start(proof);
    return proof;
}
