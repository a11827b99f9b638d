/* breaking.c - a row that a mix of sheets breaks, from layouts that hold no item oftener than wanted.
 *
 * Problem: given counts n of sheets that no row so far breaks. Column generation over layouts with any number of each item (master.c) has found
 * that such layouts could do it, in fractions. Can layouts within demand?
 *
 * Model: how many times over must the counts be there?
 *     minimize t + sum P e[i],   each i  sum a[j][i] x[j] + e[i] >= d[i],   each s  sum of x[j] on s <= t n[s].
 * Its duals u, m have sum of m[s] n[s] = 1, and where t > 1 the layouts known do not do. First over all layouts, which gives the u that leaves
 * least to spare, the center. Then over those within demand, priced by lists of the dearest sets (limited.c). Lists are short only where
 * little is to spare, so that what is priced is a blend of the duals with the center (Wentges 1997; Ben-Ameur & Neto 2007, "in-out");
 * where a blend brings no layout, it is the new center.
 *
 * For any u let v[s] be the most that a layout of s within demand is worth, or anything above. When sum of v[s] n[s] < sum of u[i] d[i] the
 * counts break that row. So each stock is listed down from its upper bound by a share of what is to spare, no further than needed:
 * where no sheet can be worth so much less than its bound, the row is broken without any v known exactly.
 *
 * Proved: the row, in whole numbers (u rounded down; the solver only proposes). Cost: two dynamic programs and lists for each stock and round.
 *
 * W. Ben-Ameur, J. Neto, "Acceleration of cutting-plane and column generation algorithms: applications to network design", Networks 49 (2007).
 */
#include "prove.h"

#include <math.h>
#include <string.h>

#include <drawerwright/lp.h>
#include <drawerwright/memory.h>

enum { MOST_ITEMS = 250, MOST_COLUMNS = 8000, MOST_STEPS = 20000, MOST_ROUNDS = 60, SETS_A_LIST = 12, SETS_TRIED = 48, LEFT_OUT_COST = 10 };

struct breaking {
    struct proof *proof;
    const int64_t *counts;
    struct pool *pool;
    struct meter *meter;
    struct dw_lp *model;
    bool within_demand;     /* of the columns in the model */
    size_t loaded;          /* columns looked at for it */
    double *u, *m;          /* duals */
    double *center;         /* item values that leave little to spare */
    int64_t *whole;         /* item values tried, in whole units */
    int64_t *v;
    bool *settled;          /* of each stock: sets were found, or listing was given up */
    int *rows;
    double *entries;
    int64_t work_seen;      /* of the model, already on the meter */
    int64_t ticks;          /* for one list */
    bool found;
    bool short_of_work;
};

/* ---- the model ---- */

static void add_rows(struct breaking *breaking)
{
    const struct problem *problem = breaking->proof->problem;
    const double one = 1;
    int used = 0;
    for (int i = 0; i < problem->item_count; i++)
        (void)dw_lp_add_row(breaking->model, (double)problem->items[i].count, (double)INFINITY);
    for (int s = 0; s < problem->stock_count; s++) {
        (void)dw_lp_add_row(breaking->model, -(double)INFINITY, 0);
        if (breaking->counts[s] == 0)
            continue;
        breaking->rows[used] = problem->item_count + s;
        breaking->entries[used++] = -(double)breaking->counts[s];
    }
    (void)dw_lp_add_column(breaking->model, 1, 0, (double)INFINITY, false, breaking->rows, breaking->entries, (size_t)used);
    for (int i = 0; i < problem->item_count; i++)
        (void)dw_lp_add_column(breaking->model, LEFT_OUT_COST, 0, (double)INFINITY, false, &i, &one, 1);
}

static void start_model(struct breaking *breaking, bool within_demand, struct dw_arena *scratch)
{
    const struct problem *problem = breaking->proof->problem;
    const size_t items = (size_t)problem->item_count, stocks = (size_t)problem->stock_count;
    breaking->within_demand = within_demand;
    breaking->loaded = 0;
    breaking->work_seen = 0;
    breaking->u = dw_arena_alloc(scratch, items, sizeof *breaking->u);
    breaking->m = dw_arena_alloc(scratch, stocks, sizeof *breaking->m);
    breaking->whole = dw_arena_alloc(scratch, items, sizeof *breaking->whole);
    breaking->v = dw_arena_alloc(scratch, stocks, sizeof *breaking->v);
    breaking->settled = dw_arena_alloc(scratch, stocks, sizeof *breaking->settled);
    breaking->rows = dw_arena_alloc(scratch, items + stocks, sizeof *breaking->rows);
    breaking->entries = dw_arena_alloc(scratch, items + stocks, sizeof *breaking->entries);
    add_rows(breaking);
}

/* How often an item is in a column of this model. A layout with a pattern holds nothing in excess. */
static int32_t held(const struct breaking *breaking, const struct column *column, int item)
{
    return breaking->within_demand && column->pattern != NULL ? column->pattern->counts[item] : column->counts[item];
}

static void load_columns(struct breaking *breaking)
{
    const struct proof *proof = breaking->proof;
    for (; breaking->loaded < proof->column_count; breaking->loaded++) {
        const struct column *column = &proof->columns[breaking->loaded];
        size_t used = 0;
        if (breaking->counts[column->stock] == 0 || (breaking->within_demand && column->pattern == NULL && !column->within_demand))
            continue;
        for (int i = 0; i < proof->problem->item_count; i++) {
            if (held(breaking, column, i) == 0)
                continue;
            breaking->rows[used] = i;
            breaking->entries[used++] = held(breaking, column, i);
        }
        breaking->rows[used] = proof->problem->item_count + column->stock;
        breaking->entries[used++] = 1;
        (void)dw_lp_add_column(breaking->model, 0, 0, (double)INFINITY, false, breaking->rows, breaking->entries, used);
    }
}

/* Solves the model and reads its duals; false when the solver gave up. */
static bool solve(struct breaking *breaking)
{
    const struct problem *problem = breaking->proof->problem;
    load_columns(breaking);
    const enum dw_lp_answer answer = dw_lp_solve(breaking->model, MOST_STEPS);
    (void)dwi_meter_spend(breaking->meter, (dw_lp_work(breaking->model) - breaking->work_seen) * DWI_TICKS_A_UNIT);
    breaking->work_seen = dw_lp_work(breaking->model);
    if (answer != DW_LP_OPTIMAL)
        return false;
    for (int i = 0; i < problem->item_count; i++)
        breaking->u[i] = fmax(0, dw_lp_dual(breaking->model, i));
    for (int s = 0; s < problem->stock_count; s++)
        breaking->m[s] = fmax(0, -dw_lp_dual(breaking->model, problem->item_count + s));
    return true;
}

/* Does a layout bring more than the model pays for its stock? */
static bool improves(const struct breaking *breaking, const struct pattern *pattern)
{
    double worth = 0;
    for (int i = 0; i < breaking->proof->problem->item_count; i++)
        worth += breaking->u[i] * pattern->counts[i];
    return worth > breaking->m[pattern->stock] + 1e-7;
}

/* ---- over all layouts: the center ---- */

/* Prices all stocks of the mix for the model's duals; returns how many layouts improve it. */
static int price_any(struct breaking *breaking)
{
    struct proof *proof = breaking->proof;
    int kept = 0;
    dwi_whole_values(breaking->proof->problem, breaking->u, breaking->whole);
    dwi_columns_blind(proof, breaking->whole);
    for (int s = 0; s < proof->problem->stock_count; s++) {
        if (breaking->counts[s] == 0)
            continue;
        struct dw_arena *scratch = dw_arena_child(proof->arena);
        (void)dwi_proof_value(proof, s, breaking->whole, breaking->meter);
        const struct pattern *pattern = dwi_proof_pattern(proof, scratch);
        if (pattern != NULL && proof->column_count < MOST_COLUMNS && improves(breaking, pattern)) {
            dwi_columns_add(proof, breaking->pool, pattern);
            kept++;
        }
        dw_arena_free(scratch);
    }
    return kept;
}

static void find_center(void *context)
{
    struct breaking *breaking = context;
    struct dw_arena *scratch = dw_arena_child(breaking->proof->arena);
    start_model(breaking, false, scratch);
    bool more = solve(breaking);
    while (more && price_any(breaking) > 0)
        more = dwi_meter_open(breaking->meter) && solve(breaking);
    breaking->short_of_work = !more;
    memcpy(breaking->center, breaking->u, (size_t)breaking->proof->problem->item_count * sizeof *breaking->center);
    dw_arena_free(scratch);
}

/* ---- over layouts within demand ---- */

/* The counts break the row of the values so far: then it is added. Stocks of which there are none have a value in it too. */
static bool is_broken(struct breaking *breaking)
{
    struct proof *proof = breaking->proof;
    struct bound_row row = {.u = breaking->whole, .v = breaking->v};
    for (int i = 0; i < proof->problem->item_count; i++)
        row.rhs += breaking->whole[i] * proof->problem->items[i].count;
    if (!dwi_row_is_broken(proof, &row, breaking->counts))
        return false;
    for (int s = 0; s < proof->problem->stock_count; s++)
        if (breaking->counts[s] == 0)
            breaking->v[s] = dwi_limited_value(proof->limited, s, breaking->whole, breaking->meter);
    breaking->found = dwi_rows_add(proof, row.u, row.v) >= 0;
    return breaking->found;
}

/* The dearest sets of the last list become columns, as far as they improve the model. Returns how many. */
static int keep_sets(struct breaking *breaking)
{
    struct proof *proof = breaking->proof;
    struct dw_arena *scratch = dw_arena_child(proof->arena);
    const size_t listed = dwi_limited_count(proof->limited);
    int kept = 0;
    for (size_t k = 0; k < listed && k < SETS_TRIED && kept < SETS_A_LIST && proof->column_count < MOST_COLUMNS; k++) {
        const struct pattern *pattern = dwi_limited_pattern(proof->limited, k, scratch);
        if (!improves(breaking, pattern))
            continue;
        dwi_columns_add(proof, breaking->pool, pattern);
        proof->columns[proof->column_count - 1].within_demand = true;
        kept++;
    }
    dw_arena_free(scratch);
    return kept;
}

/* Lists the sets of a stock that are worth at least `least`: v becomes the most of them, or less than `least`. Returns how many became columns. */
static int list_stock(struct breaking *breaking, int stock, int64_t least)
{
    struct limited *limited = breaking->proof->limited;
    switch (dwi_limited_list(limited, stock, least, breaking->meter, breaking->ticks)) {
    case LISTED_NONE:
        breaking->v[stock] = least - 1;
        return 0;
    case LISTED_SOME:
        breaking->v[stock] = dwi_limited_most(limited);
        breaking->settled[stock] = true;
        return keep_sets(breaking);
    case LISTED_NOT:
        breaking->short_of_work = breaking->settled[stock] = true;
        return 0;
    }
    return 0;
}

/* What the counts yield by the values so far beyond what all items are worth. Guides only, so in floating point first. */
static int64_t to_spare(const struct breaking *breaking)
{
    const struct problem *problem = breaking->proof->problem;
    double spare = 0;
    for (int i = 0; i < problem->item_count; i++)
        spare -= (double)breaking->whole[i] * (double)problem->items[i].count;
    for (int s = 0; s < problem->stock_count; s++)
        spare += (double)breaking->v[s] * (double)breaking->counts[s];
    return (int64_t)fmin(fmax(spare, 0), 1e18);
}

static int64_t sheets_of(const struct breaking *breaking)
{
    int64_t sheets = 0;
    for (int s = 0; s < breaking->proof->problem->stock_count; s++)
        sheets += breaking->counts[s];
    return sheets > 0 ? sheets : 1;
}

/* Lists each stock for the item values tried: the sets worth all but a little of its upper bound, then all but half as much more, until the counts
 * are broken, or sets improve the model, or nothing is left to spare. Returns how many sets became columns. */
static int price_within(struct breaking *breaking, int64_t *value)
{
    const struct problem *problem = breaking->proof->problem;
    int kept = 0;
    memset(breaking->settled, 0, (size_t)problem->stock_count * sizeof *breaking->settled);
    for (int i = 0; i < problem->item_count; i++)
        if (!dwi_limited_sees(breaking->proof->limited, i))
            breaking->whole[i] = 0;
    for (int s = 0; s < problem->stock_count; s++)
        if (breaking->counts[s] > 0)
            value[s] = breaking->v[s] = dwi_limited_value(breaking->proof->limited, s, breaking->whole, breaking->meter);
    if (is_broken(breaking))
        return 0;
    const int64_t spare = to_spare(breaking);
    bool open = true;
    for (int64_t less = spare / sheets_of(breaking) / 4; open && kept == 0 && less <= spare; less += less / 2 + 1) {
        open = false;
        for (int s = 0; s < problem->stock_count && !breaking->found; s++) {
            if (breaking->counts[s] == 0 || breaking->settled[s] || breaking->v[s] == 0)
                continue;
            const int64_t least = value[s] - less;
            kept += list_stock(breaking, s, least > 1 ? least : 1);
            open = !is_broken(breaking);
        }
    }
    return kept;
}

static void blend(const struct breaking *breaking, double share, double *tried)
{
    for (int i = 0; i < breaking->proof->problem->item_count; i++)
        tried[i] = share * breaking->center[i] + (1 - share) * breaking->u[i];
}

static void break_counts(void *context)
{
    struct breaking *breaking = context;
    const size_t items = (size_t)breaking->proof->problem->item_count;
    struct dw_arena *scratch = dw_arena_child(breaking->proof->arena);
    double *tried = dw_arena_alloc(scratch, items, sizeof *tried);
    int64_t *value = dw_arena_alloc(scratch, (size_t)breaking->proof->problem->stock_count, sizeof *value);
    double share = 1;
    start_model(breaking, true, scratch);
    for (int round = 0; round < MOST_ROUNDS && !breaking->found && !breaking->short_of_work; round++) {
        if (!solve(breaking) || dw_lp_objective(breaking->model) <= 1 + 1e-9)
            break;
        blend(breaking, share, tried);
        dwi_whole_values(breaking->proof->problem, tried, breaking->whole);
        if (price_within(breaking, value) > 0) {
            share = 0.8;
        } else if (share < 0.1) {
            break;
        } else {
            memcpy(breaking->center, tried, items * sizeof *tried);
            share = share / 2;
        }
        breaking->short_of_work |= !breaking->found && !dwi_meter_open(breaking->meter);
    }
    dw_arena_free(scratch);
}

/* Each part has as many ticks as were set aside. */
static void run_part(struct breaking *breaking, void (*part)(void *context))
{
    const int64_t before = dwi_meter_narrow(breaking->meter, breaking->ticks);
    dwi_with_model(breaking->proof->arena, &breaking->model, part, breaking);
    breaking->meter->limit = before;
}

bool dwi_break_within_demand(struct proof *proof, const int64_t *counts, struct pool *pool, struct meter *meter, int64_t ticks,
                             bool *finished)
{
    const struct problem *problem = proof->problem;
    *finished = true;
    if (problem->item_count > MOST_ITEMS || dwi_columns_limited(proof) == NULL)
        return false;
    if (memcmp(proof->asked, counts, (size_t)problem->stock_count * sizeof *counts) != 0)
        proof->asked_ticks = 0;
    *finished = false;
    if (ticks < 3 * proof->asked_ticks)
        return false; /* lists start anew each time: to be asked again with enough more */
    struct dw_arena *scratch = dw_arena_child(proof->arena);
    struct breaking breaking = {.proof = proof, .counts = counts, .pool = pool, .meter = meter, .ticks = ticks};
    breaking.center = dw_arena_alloc(scratch, (size_t)problem->item_count, sizeof *breaking.center);
    run_part(&breaking, find_center);
    if (!breaking.short_of_work) { /* else its layouts are kept, and it goes on next time */
        run_part(&breaking, break_counts);
        proof->asked_ticks = breaking.short_of_work ? ticks : 0;
    }
    *finished = !breaking.found && !breaking.short_of_work;
    dw_arena_free(scratch);
    return breaking.found;
}
