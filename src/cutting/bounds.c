/* bounds.c - the rows that cost next to nothing: area, and products of dual-feasible functions.
 *
 * For any packing of rectangles in a sheet L x W, any dual-feasible f on L and g on W (dual.c):
 *     sum f(l_j) * g(w_j) <= f(L) * g(W)     (Fekete & Schepers 2001, section 3, "conservative scales"),
 * so u[i] = f(l_i) g(w_i) and v = f(L) g(W) make a row; an item that may be turned takes the smaller of the ways that fit, one that
 * does not fit this sheet at all counts nothing. On another sheet the densest value times its area bounds v, or v itself
 * where that sheet lies within the one the functions were made for.
 *
 * For each stock all pairs of about a dozen functions are tried, and the pair that forces most money is kept. dwi_bounds_sharpen
 * replaces every v by the exact guillotine value once there is time for it; that is never larger.
 *
 * Column generation beats these rows where it has run (their u are feasible for its dual program); they are what stands before
 * it has, and where the points of a sheet are too many for it.
 *
 * Integers: products are divided by a power of two, rounded down on both sides of the row (a sum of rounded numbers is at most the rounded
 * sum), until they stay below 2^40; then no sum over a million pieces passes 2^60.
 */
#include "prove.h"

#include <drawerwright/memory.h>

#include "dual.h"
#include "without.h"

enum { MOST_FUNCTIONS = 14, THRESHOLDS = 5, MOST_TRIED = 200000, VALUE_BITS = 40 };

__extension__ typedef __int128 wide;

/* ---- functions for one side ---- */

/* The size at `share` of 8 among those of the items along a side; a spread of them are the thresholds worth trying. */
static int64_t typical_size(const struct problem *problem, bool along_x, int share)
{
    const struct item *item = &problem->items[(int64_t)problem->item_count * share / 8];
    return along_x ? item->length : item->width;
}

static int choose_functions(const struct problem *problem, bool along_x, int64_t side, struct dual *functions)
{
    int count = 0;
    functions[count++] = (struct dual){.kind = DUAL_IDENTITY, .side = side};
    for (int k = 1; k <= 3; k++)
        functions[count++] = (struct dual){.kind = DUAL_ROUNDING, .parameter = k, .side = side};
    for (int n = 0; n < THRESHOLDS; n++) {
        const int64_t size = typical_size(problem, along_x, 7 - n * 7 / (THRESHOLDS - 1));
        const int64_t threshold = 2 * size <= side ? size : side - size + 1; /* so that this size counts for all */
        if (threshold < 1 || 2 * threshold > side)
            continue;
        functions[count++] = (struct dual){.kind = DUAL_THRESHOLD, .parameter = threshold, .side = side};
        functions[count++] = (struct dual){.kind = DUAL_COUNTING, .parameter = threshold, .side = side};
    }
    return count;
}

/* ---- rows ---- */

struct drafting {
    struct proof *proof;
    int64_t *u, *v;
};

static int bits_of(wide number)
{
    int bits = 0;
    for (; number > 0; number >>= 1)
        bits++;
    return bits;
}

static int shift_to_fit(wide number)
{
    const int bits = bits_of(number);
    return bits > VALUE_BITS ? bits - VALUE_BITS : 0;
}

static bool fits(int64_t length, int64_t width, const struct stock *stock)
{
    return length <= stock->length && width <= stock->width;
}

static int64_t item_value(const struct item *item, const struct stock *stock, const struct dual *along_x,
                          const struct dual *along_y, int shift)
{
    int64_t least = -1;
    for (int turned = 0; turned <= item->turn; turned++) {
        const int64_t length = turned ? item->width : item->length, width = turned ? item->length : item->width;
        if (!fits(length, width, stock))
            continue;
        const wide product = (wide)dwi_dual_at(along_x, length) * dwi_dual_at(along_y, width);
        const int64_t value = (int64_t)(product >> shift);
        least = least < 0 || value < least ? value : least;
    }
    return least < 0 ? 0 : least;
}

/* The densest value spread over the stock, rounded up. */
static int64_t value_by_density(const struct problem *problem, const int64_t *u, const struct stock *stock)
{
    int64_t most = 0;
    for (int i = 0; i < problem->item_count; i++) {
        const wide value = ((wide)u[i] * stock->area + problem->items[i].area - 1) / problem->items[i].area;
        const int64_t bounded = value < INT64_MAX / 4 ? (int64_t)value : INT64_MAX / 4;
        most = bounded > most ? bounded : most;
    }
    return most;
}

static void draft(const struct drafting *drafting, int base, const struct dual *along_x, const struct dual *along_y)
{
    const struct problem *problem = drafting->proof->problem;
    const struct stock *stock = &problem->stocks[base];
    const wide whole = (wide)dwi_dual_at(along_x, stock->length) * dwi_dual_at(along_y, stock->width);
    const int shift = shift_to_fit(whole);
    for (int i = 0; i < problem->item_count; i++)
        drafting->u[i] = item_value(&problem->items[i], stock, along_x, along_y, shift);
    for (int s = 0; s < problem->stock_count; s++) {
        drafting->v[s] = value_by_density(problem, drafting->u, &problem->stocks[s]);
        if (fits(problem->stocks[s].length, problem->stocks[s].width, stock) && drafting->v[s] > (int64_t)(whole >> shift))
            drafting->v[s] = (int64_t)(whole >> shift);
    }
}

/* How much a row asks of the stock that serves it best, in millionths of a sheet's price (or area where nothing has a price). */
static int64_t weight_of(const struct drafting *drafting)
{
    const struct problem *problem = drafting->proof->problem;
    wide rhs = 0, least = INT64_MAX;
    for (int i = 0; i < problem->item_count; i++)
        rhs += (wide)drafting->u[i] * problem->items[i].count;
    for (int s = 0; s < problem->stock_count; s++) {
        const struct stock *stock = &problem->stocks[s];
        const wide price = stock->price > 0 ? stock->price : 1;
        if (drafting->v[s] <= 0 || stock->count == 0)
            continue;
        const wide money = rhs * price / drafting->v[s] * 1000000 + rhs * price % drafting->v[s] * 1000000 / drafting->v[s];
        least = money < least ? money : least;
    }
    return (int64_t)least;
}

/* The best pair of functions for a stock becomes a row. */
static void start_stock(const struct drafting *drafting, int base)
{
    const struct problem *problem = drafting->proof->problem;
    const struct stock *stock = &problem->stocks[base];
    struct dual along_x[MOST_FUNCTIONS], along_y[MOST_FUNCTIONS];
    const int x_count = choose_functions(problem, true, stock->length, along_x);
    const int y_count = choose_functions(problem, false, stock->width, along_y);
    const int most = MOST_TRIED / problem->item_count / problem->stock_count;
    int best = 0;
    int64_t best_weight = -1;
    for (int pair = 0; pair < x_count * y_count && (pair == 0 || pair < most); pair++) {
        draft(drafting, base, &along_x[pair / y_count], &along_y[pair % y_count]);
        const int64_t weight = weight_of(drafting);
        if (weight > best_weight) {
            best = pair;
            best_weight = weight;
        }
    }
    if (best == 0)
        return; /* area: there already */
    draft(drafting, base, &along_x[best / y_count], &along_y[best % y_count]);
    (void)dwi_rows_add(drafting->proof, drafting->u, drafting->v);
}

static void add_area(const struct drafting *drafting)
{
    const struct problem *problem = drafting->proof->problem;
    int64_t most = 0;
    for (int s = 0; s < problem->stock_count; s++)
        most = problem->stocks[s].area > most ? problem->stocks[s].area : most;
    const int shift = shift_to_fit(most);
    for (int i = 0; i < problem->item_count; i++)
        drafting->u[i] = problem->items[i].area >> shift;
    for (int s = 0; s < problem->stock_count; s++)
        drafting->v[s] = problem->stocks[s].area >> shift;
    (void)dwi_rows_add(drafting->proof, drafting->u, drafting->v);
}

void dwi_bounds_start(struct proof *proof)
{
    enum { MOST_BASES = 8 };
    const struct problem *problem = proof->problem;
    struct dw_arena *scratch = dw_arena_child(proof->arena);
    struct drafting drafting = {.proof = proof};
    drafting.u = dw_arena_alloc(scratch, (size_t)problem->item_count, sizeof *drafting.u);
    drafting.v = dw_arena_alloc(scratch, (size_t)problem->stock_count, sizeof *drafting.v);
    add_area(&drafting);
    for (int s = 0; s < problem->stock_count && s < MOST_BASES && !dwi_left_out(problem, DWI_DUALS); s++)
        if (problem->stocks[s].count > 0)
            start_stock(&drafting, s);
    dw_arena_free(scratch);
}

void dwi_bounds_sharpen(struct proof *proof, struct meter *meter)
{
    const struct problem *problem = proof->problem;
    if (proof->sharpened)
        return;
    proof->sharpened = true;
    int64_t *v = dw_arena_alloc(proof->arena, (size_t)problem->stock_count, sizeof *v);
    for (size_t k = 0; k < proof->row_count && dwi_meter_open(meter); k++) {
        for (int s = 0; s < problem->stock_count; s++) {
            const int64_t exact = dwi_proof_value(proof, s, proof->rows[k].u, meter);
            v[s] = exact < proof->rows[k].v[s] ? exact : proof->rows[k].v[s];
        }
        proof->rows[k].v = dw_arena_copy(proof->arena, v, (size_t)problem->stock_count, sizeof *v);
    }
}
