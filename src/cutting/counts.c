/* counts.c - the cheapest sheet counts that obey every inequality known.
 *
 * Problem: minimize sum price[s] * n[s] over whole n[s], 0 <= n[s] <= count[s], where for each row k
 *     sum over s of v[k][s] * n[s] >= rhs[k].
 * No plan costs less than the optimum; its n is the *blocking mix*.
 *
 * Method: depth first through the stocks, most area for the money first. At each depth a stock takes its values from the most that any row could still
 * want of it down to none, and a branch is cut off where cost so far + the dearest row's relaxation (what it misses, bought in
 * fractions of a sheet where value is cheapest) is no better than the best known. All in integers: this is where the bound is decided.
 * One more row leads, the *blend*: the sum of all rows, each times its dual in the relaxation over n, rounded down to a whole
 * number (a surrogate constraint: Glover 1968). Its relaxation alone is about that of all rows together, so that most branches end
 * at the first row looked at.
 * Costs are rounded up to a multiple of the prices' greatest common divisor, as every cost is one.
 *
 * Limit: the proof's most_nodes steps. When that does not do, the bound is the dearest row's relaxation at the start, which is valid too.
 */
#include "prove.h"

#include <math.h>
#include <string.h>

#include <drawerwright/lp.h>
#include <drawerwright/memory.h>

enum { TIE_NODES = 4000, MOST_STEPS = 5000, BLEND_UNIT = 1 << 20, TICKS_A_LOOK = 3 };

__extension__ typedef __int128 wide; /* a value times a price: up to 2^61 * 2^50 */

/* ---- rows ---- */

int dwi_rows_add(struct proof *proof, const int64_t *u, const int64_t *v)
{
    const struct problem *problem = proof->problem;
    if (proof->row_count == MOST_ROWS)
        return -1;
    int64_t rhs = 0;
    for (int i = 0; i < problem->item_count; i++)
        rhs += u[i] * problem->items[i].count;
    if (rhs == 0)
        return -1; /* it says nothing */
    proof->rows =
        dw_arena_grow(proof->arena, proof->rows, proof->row_count, &proof->row_capacity, sizeof *proof->rows);
    proof->rows[proof->row_count] = (struct bound_row){
        .u = dw_arena_copy(proof->arena, u, (size_t)problem->item_count, sizeof *u),
        .v = dw_arena_copy(proof->arena, v, (size_t)problem->stock_count, sizeof *v),
        .rhs = rhs,
    };
    return (int)proof->row_count++;
}

/* Counts are cut to what the row could want, so that no product overflows. */
static bool is_broken(const struct problem *problem, const struct bound_row *row, const int64_t *counts)
{
    int64_t missing = row->rhs;
    for (int s = 0; s < problem->stock_count && missing > 0; s++) {
        if (row->v[s] <= 0)
            continue;
        const int64_t useful = (missing - 1) / row->v[s] + 1;
        missing -= row->v[s] * (counts[s] < useful ? counts[s] : useful);
    }
    return missing > 0;
}

static bool are_obeyed(const struct problem *problem, const struct bound_row *rows, size_t count, const int64_t *counts)
{
    for (size_t k = 0; k < count; k++)
        if (is_broken(problem, &rows[k], counts))
            return false;
    return true;
}

bool dwi_row_is_broken(const struct proof *proof, const struct bound_row *row, const int64_t *counts)
{
    return is_broken(proof->problem, row, counts);
}

bool dwi_proof_obeyed(const struct proof *proof, const int64_t *counts)
{
    return are_obeyed(proof->problem, proof->rows, proof->row_count, counts);
}

void dwi_known_copy(struct known *known, const struct proof *proof, struct dw_arena *arena)
{
    if (known->capacity < proof->row_count) {
        known->capacity = 2 * proof->row_count;
        known->rows = dw_arena_alloc(arena, known->capacity, sizeof *known->rows);
    }
    known->count = proof->row_count;
    if (known->count > 0)
        memcpy(known->rows, proof->rows, known->count * sizeof *known->rows);
}

bool dwi_known_obeyed(const struct problem *problem, const struct known *known, const int64_t *counts)
{
    return are_obeyed(problem, known->rows, known->count, counts);
}

size_t dwi_proof_rows(const struct proof *proof, const struct bound_row **rows)
{
    *rows = proof->rows;
    return proof->row_count;
}

/* ---- the enumeration ---- */

dw_money dwi_price_step(const struct problem *problem)
{
    dw_money divisor = 0;
    for (int s = 0; s < problem->stock_count; s++)
        for (dw_money a = problem->stocks[s].price; a != 0;) {
            const dw_money rest = divisor % a;
            divisor = a;
            a = rest;
        }
    return divisor == 0 ? 1 : divisor;
}

struct counting {
    struct proof *proof;
    struct bound_row *rows; /* the blend first, then the proof's */
    size_t row_count;
    wide *blend;        /* of each stock its value in the blend, before it is cut to size */
    int *order;         /* stocks as they are decided */
    int64_t *missing;   /* by depth and row: what is still wanted */
    int *depth_of;      /* of each stock: when it is decided */
    int *ranks;         /* by row: the stocks that have value in it, the cheapest value first */
    int *ranked;        /* of each row: how many */
    dw_money step;      /* every cost is a multiple of it */
    int64_t *counts;    /* decided so far */
    int64_t *best;      /* the caller's */
    dw_money best_cost; /* to be undercut, or met with more area */
    int64_t best_area;
    bool found;
    int64_t nodes;
};

static int64_t *missing_at(const struct counting *counting, int depth)
{
    return counting->missing + (size_t)depth * counting->row_count;
}

/* a of a stock bought at price p brings value v: is it cheaper for its value than b? */
static bool cheaper_value(const struct counting *counting, size_t row, int a, int b)
{
    const int64_t *v = counting->rows[row].v;
    const struct stock *stocks = counting->proof->problem->stocks;
    return (wide)stocks[a].price * v[b] < (wide)stocks[b].price * v[a];
}

static void rank_stocks(struct counting *counting)
{
    const struct proof *proof = counting->proof;
    for (size_t k = 0; k < counting->row_count; k++) {
        int *ranks = counting->ranks + k * (size_t)proof->problem->stock_count;
        for (int s = 0; s < proof->problem->stock_count; s++) {
            if (counting->rows[k].v[s] <= 0 || proof->problem->stocks[s].count == 0)
                continue;
            int place = counting->ranked[k]++;
            for (; place > 0 && cheaper_value(counting, k, s, ranks[place - 1]); place--)
                ranks[place] = ranks[place - 1];
            ranks[place] = s;
        }
    }
}

/* The least money, rounded up, for which the stocks from `depth` on bring what row k misses, in fractions of a sheet; -1 when all of
 * them do not. */
static wide least_for_row(const struct counting *counting, int depth, size_t k)
{
    const struct proof *proof = counting->proof;
    const int *ranks = counting->ranks + k * (size_t)proof->problem->stock_count;
    int64_t missing = missing_at(counting, depth)[k];
    wide cost = 0;
    for (int r = 0; r < counting->ranked[k] && missing > 0; r++) {
        const struct stock *stock = &proof->problem->stocks[ranks[r]];
        const int64_t value = counting->rows[k].v[ranks[r]];
        if (counting->depth_of[ranks[r]] < depth)
            continue;
        if ((missing - 1) / value + 1 > stock->count) {
            missing -= value * stock->count;
            cost += (wide)stock->price * stock->count;
            continue;
        }
        cost += ((wide)missing * stock->price + value - 1) / value;
        missing = 0;
    }
    return missing > 0 ? -1 : cost;
}

/* The least that the stocks from `depth` on must still cost; -1 when they cannot do it. Looks no further once that is over `enough`. */
static dw_money least_cost(const struct counting *counting, int depth, dw_money enough)
{
    const int64_t *missing = missing_at(counting, depth);
    wide least = 0;
    for (size_t k = 0; k < counting->row_count && least <= enough; k++) {
        if (missing[k] <= 0)
            continue;
        const wide cost = least_for_row(counting, depth, k);
        if (cost < 0)
            return -1;
        least = cost > least ? cost : least;
    }
    least = (least + counting->step - 1) / counting->step * counting->step;
    return least < INT64_MAX / 4 ? (dw_money)least : INT64_MAX / 4;
}

static int64_t area_of(const struct counting *counting)
{
    const struct problem *problem = counting->proof->problem;
    wide area = 0;
    for (int s = 0; s < problem->stock_count; s++)
        area += (wide)problem->stocks[s].area * counting->counts[s];
    return area < INT64_MAX ? (int64_t)area : INT64_MAX;
}

static void take_counts(struct counting *counting, dw_money cost)
{
    const int64_t area = area_of(counting);
    if (cost == counting->best_cost && (!counting->found || area <= counting->best_area))
        return;
    memcpy(counting->best, counting->counts, (size_t)counting->proof->problem->stock_count * sizeof *counting->best);
    counting->best_cost = cost;
    counting->best_area = area;
    counting->found = true;
}

/* The most of a stock that any row could still want, within what there is. What costs nothing is taken whole. */
static int64_t most_useful(const struct counting *counting, int depth, int stock)
{
    const struct proof *proof = counting->proof;
    const int64_t count = proof->problem->stocks[stock].count;
    const int64_t *missing = missing_at(counting, depth);
    int64_t most = 0;
    if (proof->problem->stocks[stock].price == 0)
        return count;
    for (size_t k = 0; k < counting->row_count; k++)
        if (missing[k] > 0 && counting->rows[k].v[stock] > 0) {
            const int64_t useful = (missing[k] - 1) / counting->rows[k].v[stock] + 1;
            most = useful > most ? useful : most;
        }
    return most < count ? most : count;
}

static void take_off(const struct counting *counting, int depth, int stock, int64_t number)
{
    const int64_t *before = missing_at(counting, depth);
    int64_t *after = missing_at(counting, depth + 1);
    for (size_t k = 0; k < counting->row_count; k++) {
        const int64_t value = counting->rows[k].v[stock];
        const bool enough = before[k] <= 0 || (value > 0 && (before[k] - 1) / value < number);
        after[k] = enough ? 0 : before[k] - value * number;
    }
}

static bool worth_going_on(const struct counting *counting, dw_money cost)
{
    return cost < counting->best_cost || (counting->found && cost == counting->best_cost && counting->nodes < TIE_NODES);
}

static void count_on(struct counting *counting, int depth, dw_money cost)
{
    const struct problem *problem = counting->proof->problem;
    if (depth == problem->stock_count) {
        take_counts(counting, cost);
        return;
    }
    const int stock = counting->order[depth];
    const int64_t most = most_useful(counting, depth, stock);
    const bool free_of_cost = problem->stocks[stock].price == 0;
    for (int64_t number = most; number >= (free_of_cost ? most : 0) && counting->nodes < counting->proof->most_nodes; number--) {
        counting->nodes++;
        take_off(counting, depth, stock, number);
        const dw_money so_far = cost + problem->stocks[stock].price * number;
        const dw_money rest = least_cost(counting, depth + 1, counting->best_cost - so_far);
        counting->counts[stock] = number;
        if (rest >= 0 && worth_going_on(counting, so_far + rest))
            count_on(counting, depth + 1, so_far);
    }
    counting->counts[stock] = 0;
}

/* Cheapest area first; of equal ones the larger, then the earlier. */
static void order_stocks(struct counting *counting)
{
    const struct stock *stocks = counting->proof->problem->stocks;
    for (int s = 0; s < counting->proof->problem->stock_count; s++) {
        int place = s;
        for (; place > 0; place--) {
            const struct stock *other = &stocks[counting->order[place - 1]];
            const wide left = (wide)stocks[s].price * other->area, right = (wide)other->price * stocks[s].area;
            if (left > right || (left == right && stocks[s].area <= other->area))
                break;
            counting->order[place] = counting->order[place - 1];
        }
        counting->order[place] = s;
    }
    for (int depth = 0; depth < counting->proof->problem->stock_count; depth++)
        counting->depth_of[counting->order[depth]] = depth;
}

/* ---- the blend ---- */

/* The relaxation over n, for its duals: how much of each row a blend of all should hold. */
struct blending {
    struct counting *counting;
    struct dw_lp *model;
    double *shares;
};

static void find_shares(void *context)
{
    const struct blending *blending = context;
    const struct counting *counting = blending->counting;
    const struct problem *problem = counting->proof->problem;
    struct dw_arena *scratch = dw_arena_child(counting->proof->arena);
    int *rows = dw_arena_alloc(scratch, counting->row_count, sizeof *rows);
    double *entries = dw_arena_alloc(scratch, counting->row_count, sizeof *entries);
    for (size_t k = 1; k < counting->row_count; k++)
        (void)dw_lp_add_row(blending->model, counting->rows[k].rhs > 0 ? 1 : 0, (double)INFINITY);
    for (int s = 0; s < problem->stock_count; s++) {
        for (size_t k = 1; k < counting->row_count; k++) {
            rows[k - 1] = (int)k - 1;
            entries[k - 1] = (double)counting->rows[k].v[s] / fmax(1, (double)counting->rows[k].rhs);
        }
        (void)dw_lp_add_column(blending->model, (double)problem->stocks[s].price, 0, (double)problem->stocks[s].count, false,
                               rows, entries, counting->row_count - 1);
    }
    const bool solved = dw_lp_solve(blending->model, MOST_STEPS) == DW_LP_OPTIMAL;
    for (size_t k = 1; k < counting->row_count; k++)
        blending->shares[k] = solved ? fmax(0, dw_lp_dual(blending->model, (int)k - 1)) : 0;
    dw_arena_free(scratch);
}

/* A sum of rows, each a whole number of times, is a row. Times 2^-shift its left side is rounded up and its right side down. */
static void blend_rows(struct counting *counting, const double *shares, int64_t *v)
{
    const int stocks = counting->proof->problem->stock_count;
    double most = 0;
    for (size_t k = 1; k < counting->row_count; k++)
        most = fmax(most, shares[k] / fmax(1, (double)counting->rows[k].rhs));
    wide rhs = 0;
    for (size_t k = 1; k < counting->row_count; k++) {
        const double share = shares[k] / fmax(1, (double)counting->rows[k].rhs);
        const int64_t times = most > 0 ? (int64_t)(share / most * BLEND_UNIT) : 0;
        rhs += (wide)times * counting->rows[k].rhs;
        for (int s = 0; s < stocks; s++)
            counting->blend[s] += (wide)times * counting->rows[k].v[s];
    }
    wide largest = rhs;
    for (int s = 0; s < stocks; s++)
        largest = counting->blend[s] > largest ? counting->blend[s] : largest;
    int shift = 0;
    while (largest >> shift > INT64_MAX / 4)
        shift++;
    for (int s = 0; s < stocks; s++)
        v[s] = (int64_t)((counting->blend[s] + (((wide)1 << shift) - 1)) >> shift);
    counting->rows[0] = (struct bound_row){.v = v, .rhs = (int64_t)(rhs >> shift)};
}

static void make_blend(struct counting *counting, struct dw_arena *scratch)
{
    const size_t stocks = (size_t)counting->proof->problem->stock_count;
    struct blending blending = {.counting = counting};
    blending.shares = dw_arena_alloc(scratch, counting->row_count, sizeof *blending.shares);
    counting->blend = dw_arena_alloc(scratch, stocks, sizeof *counting->blend);
    int64_t *v = dw_arena_alloc(scratch, stocks, sizeof *v);
    if (stocks > 1)
        dwi_with_model(counting->proof->arena, &blending.model, find_shares, &blending);
    blend_rows(counting, blending.shares, v);
}

/* ---- starting ---- */

static void start_counting(struct counting *counting, struct dw_arena *scratch)
{
    const struct proof *proof = counting->proof;
    const size_t stocks = (size_t)proof->problem->stock_count;
    counting->row_count = proof->row_count + 1;
    counting->rows = dw_arena_alloc(scratch, counting->row_count, sizeof *counting->rows);
    memcpy(counting->rows + 1, proof->rows, proof->row_count * sizeof *counting->rows);
    make_blend(counting, scratch);
    counting->order = dw_arena_alloc(scratch, stocks, sizeof *counting->order);
    counting->missing = dw_arena_alloc(scratch, (stocks + 1) * counting->row_count, sizeof *counting->missing);
    counting->depth_of = dw_arena_alloc(scratch, stocks, sizeof *counting->depth_of);
    counting->ranks = dw_arena_alloc(scratch, stocks * counting->row_count, sizeof *counting->ranks);
    counting->ranked = dw_arena_alloc(scratch, counting->row_count, sizeof *counting->ranked);
    counting->counts = dw_arena_alloc(scratch, stocks, sizeof *counting->counts);
    counting->step = dwi_price_step(proof->problem);
    order_stocks(counting);
    rank_stocks(counting);
    for (size_t k = 0; k < counting->row_count; k++)
        missing_at(counting, 0)[k] = counting->rows[k].rhs;
}

/* Counts that obey all rows, with no eye on cost beyond the order of the stocks. */
static void take_freely(struct counting *counting)
{
    for (int depth = 0; depth < counting->proof->problem->stock_count; depth++) {
        const int stock = counting->order[depth];
        counting->best[stock] = most_useful(counting, depth, stock);
        take_off(counting, depth, stock, counting->best[stock]);
    }
}

bool dwi_proof_cheapest(struct proof *proof, dw_money below, int64_t *counts, dw_money *cost)
{
    if (proof->impossible)
        return false;
    struct dw_arena *scratch = dw_arena_child(proof->arena);
    struct counting counting = {.proof = proof, .best = counts, .best_cost = below};
    start_counting(&counting, scratch);
    const dw_money least = least_cost(&counting, 0, INT64_MAX / 4);
    bool cheaper = least >= 0 && least < below;
    if (cheaper)
        count_on(&counting, 0, 0);
    const bool counted_out = counting.nodes < proof->most_nodes;
    if (cheaper && !counted_out && !counting.found)
        take_freely(&counting);
    proof->owed += (counting.nodes + 1) * (int64_t)counting.row_count * proof->problem->stock_count * TICKS_A_LOOK;
    if (cheaper)
        *cost = counted_out ? counting.best_cost : least;
    dw_arena_free(scratch);
    return cheaper && (counting.found || !counted_out);
}
