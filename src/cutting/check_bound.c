/* check_bound.c - the checker's second half: does the lower bound follow?
 *
 * A certificate is a list of inequalities sum of v[s] n[s] >= rhs over the sheet counts n of any plan, where for part values
 * u the most value that one sheet s yields is v[s] and rhs is the value of all parts. To them is added one that needs no
 * proof: the area of the sheets is at least that of the parts, each grown by the kerf.
 *
 * Proved again here: u and v are not negative; rhs is the sum of u times the count; no layout of the plan yields more than v;
 * v is no less than the checker's own bound on what the sheet can yield (check_value.c), or no set of pieces that it can be cut into is
 * worth more (check_boxes.c); no choice of sheet counts
 * within stock that costs less than the bound satisfies all inequalities (a depth-first count, sheet by sheet), with no more of a
 * sheet than there are pieces that fit it.
 * Not proved again: the values of sheets with too many points for the work that is set aside here, and the count of sheets where
 * that is too long; then nothing is said against the bound. A bound without certificate must follow from the area alone.
 */
#include "check.h"

#include <inttypes.h>

#include <drawerwright/memory.h>

__extension__ typedef __int128 wide;

enum {
    MOST_WORK = 20000000,  /* inequalities looked at while counting sheets */
    MOST_STEPS = 100000000 /* of the tables of check_value.c and the boxes of check_boxes.c, for one plan */
};

struct counting {
    const struct check *check;
    const struct dw_cut_inequality *rows;
    size_t row_count;
    int64_t **sums;     /* by depth: for each row the sum over the sheets chosen so far */
    const size_t *order; /* sheets, the dearest first */
    const int64_t *useful; /* of each sheet: how many pieces fit it, so how many of it may be in a plan */
    int64_t work;
    bool reached;       /* counts cheaper than the bound satisfy every row */
};

/* u and rhs: the values of the parts and their sum. */
static void check_values(const struct check *check, const struct dw_cut_inequality *row, const char *address)
{
    const struct dw_cut_request *request = check->request;
    int64_t wanted = 0;
    for (size_t p = 0; p < request->part_count; p++) {
        if (row->u[p] < 0)
            dwi_check_breach(check, "row-negative", address, "parts[%zu] has the value %" PRId64, p, row->u[p]);
        else
            wanted = dwi_check_add(wanted, dwi_check_multiply(row->u[p], request->parts[p].count));
    }
    if (wanted != row->rhs)
        dwi_check_breach(check, "row-side", address, "all parts are worth %" PRId64 " and the inequality says %" PRId64,
                         wanted, row->rhs);
}

/* v: not negative, and no layout of the plan yields more. */
static void check_yields(const struct check *check, const struct dw_cut_inequality *row, const char *address,
                         const struct holdings *held)
{
    const struct dw_cut_plan *plan = check->plan;
    for (size_t s = 0; s < check->request->sheet_count; s++) {
        if (row->v[s] < 0)
            dwi_check_breach(check, "row-negative", address, "sheets[%zu] has the value %" PRId64, s, row->v[s]);
    }
    size_t piece = 0;
    for (size_t l = 0; l < plan->layout_count; l++) {
        int64_t value = 0;
        for (; piece < held->ends[l]; piece++)
            value = dwi_check_add(value, row->u[held->parts[piece]]);
        const size_t sheet = plan->layouts[l].sheet;
        if (value > row->v[sheet])
            dwi_check_breach(check, "row-yield", address, "layouts[%zu] yields %" PRId64 ", more than sheets[%zu] is said to",
                             l, value, sheet);
    }
}

/* v again, from the parts and the sheet alone. */
static void check_most(const struct check *check, const struct dw_cut_inequality *row, const char *address, int64_t *work)
{
    if (row->rhs > INT64_MAX / 2)
        return;
    for (size_t s = 0; s < check->request->sheet_count; s++) {
        if (check->request->sheets[s].count == 0 || row->v[s] >= row->rhs)
            continue;
        const int64_t most = dwi_check_value(check, s, row->u, work); /* which may count a part too often */
        if (most > row->v[s] && dwi_check_boxes(check, s, row->u, row->v[s], work) == DWI_CHECK_YES)
            dwi_check_breach(check, "row-value", address, "sheets[%zu] may yield %" PRId64 " and the inequality says %" PRId64,
                             s, most, row->v[s]);
    }
}

static void check_row(const struct check *check, size_t r, const struct holdings *held, int64_t *work)
{
    const struct dw_cut_inequality *row = &check->plan->certificate[r];
    const char *address = dw_arena_format(check->arena, "certificate[%zu]", r);
    const size_t before = check->faults->errors;
    if (row->u == NULL || row->v == NULL) {
        dwi_check_breach(check, "row-empty", address, "the inequality has no values");
        return;
    }
    check_values(check, row, address);
    if (check->faults->errors == before)
        check_yields(check, row, address, held);
    if (check->faults->errors == before)
        check_most(check, row, address, work);
}

/* u is the area of a part grown by the kerf, v that of a trimmed sheet grown by it. */
static struct dw_cut_inequality area_row(const struct check *check)
{
    const struct dw_cut_request *request = check->request;
    int64_t *u = dw_arena_alloc(check->arena, request->part_count, sizeof *u);
    int64_t *v = dw_arena_alloc(check->arena, request->sheet_count, sizeof *v);
    int64_t rhs = 0;
    for (size_t p = 0; p < request->part_count; p++) {
        u[p] = (request->parts[p].length + request->kerf) * (request->parts[p].width + request->kerf);
        rhs += u[p] * request->parts[p].count; /* the request was checked for that */
    }
    for (size_t s = 0; s < request->sheet_count; s++) {
        const struct dw_cut_sheet *sheet = &request->sheets[s];
        v[s] = dwi_check_multiply(sheet->length - sheet->trim[0] - sheet->trim[1] + request->kerf,
                                  sheet->width - sheet->trim[2] - sheet->trim[3] + request->kerf);
    }
    return (struct dw_cut_inequality){u, v, rhs};
}

/* The most that `budget` can add to a row when it is spent on the sheets from `depth` on: each sheet's price buys its
 * v, and no mix beats the best of them. */
static bool can_reach(const struct counting *counting, size_t depth, size_t row, dw_money budget)
{
    const struct dw_cut_request *request = counting->check->request;
    const int64_t missing = counting->rows[row].rhs - counting->sums[depth][row];
    if (missing <= 0)
        return true;
    for (size_t d = depth; d < request->sheet_count; d++) {
        const size_t s = counting->order[d];
        if ((wide)counting->rows[row].v[s] * budget >= (wide)missing * request->sheets[s].price)
            return true; /* also where the price is 0 */
    }
    return false;
}

static int64_t most_of(const struct counting *counting, size_t s, dw_money budget)
{
    const struct dw_cut_sheet *sheet = &counting->check->request->sheets[s];
    int64_t most = counting->useful[s];
    if (sheet->price > 0 && budget / sheet->price < most)
        most = budget / sheet->price;
    return sheet->count >= 0 && sheet->count < most ? sheet->count : most;
}

static void choose(struct counting *counting, size_t depth, dw_money budget);

/* Sheet `s` is taken n times; the rest is chosen below. */
static void choose_with(struct counting *counting, size_t depth, size_t s, int64_t n, dw_money budget)
{
    for (size_t r = 0; r < counting->row_count; r++)
        counting->sums[depth + 1][r] =
            dwi_check_add(counting->sums[depth][r], dwi_check_multiply(counting->rows[r].v[s], n));
    choose(counting, depth + 1, budget - n * counting->check->request->sheets[s].price);
}

static void choose(struct counting *counting, size_t depth, dw_money budget)
{
    const struct dw_cut_request *request = counting->check->request;
    counting->work += (int64_t)counting->row_count;
    if (counting->work > MOST_WORK)
        return;
    for (size_t r = 0; r < counting->row_count; r++) {
        if (!can_reach(counting, depth, r, budget))
            return;
    }
    if (depth == request->sheet_count) {
        counting->reached = true;
        return;
    }
    const size_t s = counting->order[depth];
    const int64_t most = most_of(counting, s, budget);
    /* More sheets never hurt a row, so what is free, and what comes last, is taken as often as it may be. */
    const int64_t least = request->sheets[s].price == 0 || depth + 1 == request->sheet_count ? most : 0;
    for (int64_t n = most; n >= least && !counting->reached && counting->work <= MOST_WORK; n--)
        choose_with(counting, depth, s, n, budget);
}

/* Indices of the sheets, dearest first, equal ones in the order of the request. */
static const size_t *dearest_first(const struct check *check)
{
    const struct dw_cut_request *request = check->request;
    size_t *order = dw_arena_alloc(check->arena, request->sheet_count, sizeof *order);
    for (size_t s = 0; s < request->sheet_count; s++) {
        size_t at = s;
        for (; at > 0 && request->sheets[order[at - 1]].price < request->sheets[s].price; at--)
            order[at] = order[at - 1];
        order[at] = s;
    }
    return order;
}

static bool fits(const struct dw_cut_part *part, const struct dw_cut_sheet *sheet)
{
    const dw_length length = sheet->length - sheet->trim[0] - sheet->trim[1];
    const dw_length width = sheet->width - sheet->trim[2] - sheet->trim[3];
    return (part->length <= length && part->width <= width) ||
           (part->turn && part->width <= length && part->length <= width);
}

/* Every sheet of a plan holds a piece, so there are no more of one kind than pieces that fit it. */
static const int64_t *count_useful(const struct check *check)
{
    const struct dw_cut_request *request = check->request;
    int64_t *useful = dw_arena_alloc(check->arena, request->sheet_count, sizeof *useful);
    for (size_t s = 0; s < request->sheet_count; s++) {
        for (size_t p = 0; p < request->part_count; p++)
            useful[s] += fits(&request->parts[p], &request->sheets[s]) ? request->parts[p].count : 0;
    }
    return useful;
}

static void check_counts(const struct check *check)
{
    const struct dw_cut_plan *plan = check->plan;
    const size_t row_count = plan->certificate_count + 1;
    const size_t depths = check->request->sheet_count + 1;
    struct dw_cut_inequality *rows = dw_arena_alloc(check->arena, row_count, sizeof *rows);
    for (size_t r = 0; r + 1 < row_count; r++)
        rows[r] = plan->certificate[r];
    rows[row_count - 1] = area_row(check);
    struct counting counting = {.check = check, .rows = rows, .row_count = row_count, .order = dearest_first(check)};
    counting.useful = count_useful(check);
    counting.sums = dw_arena_alloc(check->arena, depths, sizeof *counting.sums);
    for (size_t d = 0; d < depths; d++)
        counting.sums[d] = dw_arena_alloc(check->arena, row_count, sizeof *counting.sums[d]);
    choose(&counting, 0, plan->lower_bound - 1);
    if (counting.reached)
        dwi_check_breach(check, "bound-loose", "lower_bound",
                         "sheets for less than the bound of %" PRId64 " satisfy every inequality", plan->lower_bound);
}

void dwi_check_bound(const struct check *check, const struct holdings *held)
{
    const size_t before = check->faults->errors;
    int64_t work = MOST_STEPS;
    for (size_t r = 0; r < check->plan->certificate_count; r++)
        check_row(check, r, held, &work);
    if (check->faults->errors == before && check->plan->lower_bound > 0)
        check_counts(check);
}
