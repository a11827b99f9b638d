/* check_boxes.c - the checker's second look at the value of a sheet, with pieces counted.
 *
 * check_value.c lets a sheet hold a part oftener than it is wanted, and so may find more than an inequality says though the inequality
 * is right. Here the question is put exactly: is there a set of pieces, no part oftener than wanted, that is worth more than
 * `limit` and can be cut from the sheet? Boxes grow from the bottom up (P. Y. Wang, "Two algorithms for constrained two-dimensional cutting stock problems",
 * Operations Research 31, 1983): first each part alone, then each two boxes set beside or upon each other. A box is kept when it fits the sheet,
 * holds no part too often, lies around no kept box of the same pieces, and could still come above the limit: its value and the most that all
 * around it can yield (K. V. Viswanathan, A. Bagchi, Operations Research 41, 1993) are more. That is worked out from the table of
 * check_value.c, from the whole sheet down.
 *
 * Any stages and any first cut are allowed, which only lets more sets through. Every pair of boxes is looked at, plain and slow on
 * purpose; where the work set aside is not enough it says that it does not know.
 */
#include "check.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { MOST_BOXES = 30000, SLOTS = 1 << 16 };

struct box {
    dw_length length, width;
    int64_t value;
    const int32_t *counts; /* of each part */
    int32_t next;          /* of the boxes whose counts hash alike, -1 */
};

struct joining {
    const struct check *check;
    const int64_t *u;
    dw_length length, width; /* of the sheet, grown by the kerf */
    int64_t limit, *work;
    struct dwi_check_table table;
    int64_t *around;         /* like table.most */
    struct box *boxes;
    int32_t count;
    int32_t *heads;          /* by hash */
    int32_t *sum;            /* counts in the making */
    bool found, unknown;
};

/* ---- what all around a piece can yield ---- */

static void raise(int64_t *number, int64_t to)
{
    if (*number < to)
        *number = to;
}

/* A piece at (i, j) is cut at every point of one side: each half has around it what the whole has, and the other half. */
static void cut_piece(struct joining *joining, int i, int j, bool along_x)
{
    const struct dwi_check_table *table = &joining->table;
    const size_t width = (size_t)table->y_count, cell = (size_t)i * width + (size_t)j;
    const dw_length *at = along_x ? table->x : table->y;
    const int whole = along_x ? i : j;
    int rest = whole;
    for (int t = 1; t < whole && 2 * at[t] <= at[whole]; t++) {
        while (at[rest] > at[whole] - at[t])
            rest--;
        const size_t one = along_x ? (size_t)t * width + (size_t)j : (size_t)i * width + (size_t)t;
        const size_t other = along_x ? (size_t)rest * width + (size_t)j : (size_t)i * width + (size_t)rest;
        raise(&joining->around[one], joining->around[cell] + table->most[other]);
        raise(&joining->around[other], joining->around[cell] + table->most[one]);
    }
}

static void fill_around(struct joining *joining)
{
    const struct dwi_check_table *table = &joining->table;
    const size_t width = (size_t)table->y_count, cells = (size_t)table->x_count * width;
    joining->around = dw_arena_alloc(joining->check->arena, cells, sizeof *joining->around);
    for (size_t cell = 0; cell < cells; cell++)
        joining->around[cell] = -1;
    joining->around[cells - 1] = 0;
    for (int i = table->x_count - 1; i > 0; i--)
        for (int j = table->y_count - 1; j > 0; j--) {
            const size_t cell = (size_t)i * width + (size_t)j;
            if (joining->around[cell] < 0)
                continue;
            raise(&joining->around[cell - 1], joining->around[cell]);
            raise(&joining->around[cell - width], joining->around[cell]);
            cut_piece(joining, i, j, true);
            cut_piece(joining, i, j, false);
        }
}

static int first_point(const dw_length *at, int count, dw_length size)
{
    int low = 0, high = count;
    while (low < high) {
        const int middle = (low + high) / 2;
        if (at[middle] < size)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* Can a box of this size and value, with the most that all around it can yield, come above the limit? */
static bool can_exceed(const struct joining *joining, dw_length length, dw_length width, int64_t value)
{
    const struct dwi_check_table *table = &joining->table;
    const int i = first_point(table->x, table->x_count, length), j = first_point(table->y, table->y_count, width);
    if (i == table->x_count || j == table->y_count)
        return false;
    const int64_t around = joining->around[(size_t)i * (size_t)table->y_count + (size_t)j];
    return around >= 0 && value + around > joining->limit;
}

/* ---- boxes ---- */

static size_t hash_of(const struct joining *joining, const int32_t *counts)
{
    uint64_t hash = UINT64_C(1469598103934665603);
    for (size_t p = 0; p < joining->check->request->part_count; p++)
        hash = (hash ^ (uint64_t)counts[p]) * UINT64_C(1099511628211);
    return (size_t)(hash >> 32) & (SLOTS - 1);
}

/* Does a kept box of the same pieces lie within this size? */
static bool is_known(const struct joining *joining, size_t slot, const int32_t *counts, dw_length length, dw_length width)
{
    const size_t size = joining->check->request->part_count * sizeof *counts;
    for (int32_t k = joining->heads[slot]; k >= 0; k = joining->boxes[k].next) {
        const struct box *box = &joining->boxes[k];
        if (box->length <= length && box->width <= width && memcmp(box->counts, counts, size) == 0)
            return true;
    }
    return false;
}

/* Keeps a box of joining->sum pieces that can come above the limit. */
static void keep(struct joining *joining, dw_length length, dw_length width, int64_t value)
{
    const size_t slot = hash_of(joining, joining->sum);
    *joining->work -= 10;
    if (is_known(joining, slot, joining->sum, length, width))
        return;
    joining->found |= value > joining->limit;
    joining->unknown |= joining->count == MOST_BOXES;
    if (joining->found || joining->unknown)
        return;
    const size_t parts = joining->check->request->part_count;
    joining->boxes[joining->count] = (struct box){
        .length = length, .width = width, .value = value, .next = joining->heads[slot],
        .counts = dw_arena_copy(joining->check->arena, joining->sum, parts, sizeof *joining->sum)};
    joining->heads[slot] = joining->count++;
}

static void keep_parts(struct joining *joining)
{
    const struct dw_cut_request *request = joining->check->request;
    for (size_t p = 0; p < request->part_count; p++) {
        const struct dw_cut_part *part = &request->parts[p];
        const dw_length length = part->length + request->kerf, width = part->width + request->kerf;
        memset(joining->sum, 0, request->part_count * sizeof *joining->sum);
        joining->sum[p] = 1;
        if (joining->u[p] > 0 && can_exceed(joining, length, width, joining->u[p]))
            keep(joining, length, width, joining->u[p]);
        if (joining->u[p] > 0 && part->turn && can_exceed(joining, width, length, joining->u[p]))
            keep(joining, width, length, joining->u[p]);
    }
}

/* Adds the counts of two boxes; false when a part is in both too often. */
static bool add_counts(struct joining *joining, const struct box *one, const struct box *other)
{
    const struct dw_cut_request *request = joining->check->request;
    *joining->work -= (int64_t)request->part_count / 4;
    for (size_t p = 0; p < request->part_count; p++) {
        joining->sum[p] = one->counts[p] + other->counts[p];
        if (joining->sum[p] > request->parts[p].count)
            return false;
    }
    return true;
}

static dw_length larger(dw_length a, dw_length b)
{
    return a > b ? a : b;
}

/* Both ways of joining box k with an earlier one, or itself. */
static void join(struct joining *joining, int32_t k, int32_t earlier)
{
    const struct box *one = &joining->boxes[k], *other = &joining->boxes[earlier];
    const dw_length beside = one->length + other->length, upon = one->width + other->width;
    const int64_t value = one->value + other->value;
    const bool is_beside =
        beside <= joining->length && can_exceed(joining, beside, larger(one->width, other->width), value);
    const bool is_upon = upon <= joining->width && can_exceed(joining, larger(one->length, other->length), upon, value);
    if ((!is_beside && !is_upon) || !add_counts(joining, one, other))
        return;
    const dw_length longer = larger(one->length, other->length), wider = larger(one->width, other->width);
    if (is_beside)
        keep(joining, beside, wider, value);
    if (is_upon)
        keep(joining, longer, upon, value);
}

static enum dwi_check_answer answer_of(struct joining *joining, size_t s)
{
    const struct dw_cut_request *request = joining->check->request;
    if (!dwi_check_table(joining->check, s, joining->u, joining->work, &joining->table))
        return DWI_CHECK_UNKNOWN;
    fill_around(joining);
    joining->boxes = dw_arena_alloc(joining->check->arena, MOST_BOXES, sizeof *joining->boxes);
    joining->heads = dw_arena_alloc(joining->check->arena, SLOTS, sizeof *joining->heads);
    joining->sum = dw_arena_alloc(joining->check->arena, request->part_count, sizeof *joining->sum);
    memset(joining->heads, -1, SLOTS * sizeof *joining->heads);
    keep_parts(joining);
    for (int32_t k = 0; k < joining->count && !joining->found && !joining->unknown; k++) {
        for (int32_t earlier = 0; earlier <= k && !joining->found && !joining->unknown; earlier++)
            join(joining, k, earlier);
        *joining->work -= 2 * (int64_t)k;
        joining->unknown |= *joining->work < 0;
    }
    return joining->found ? DWI_CHECK_YES : joining->unknown ? DWI_CHECK_UNKNOWN : DWI_CHECK_NO;
}

enum dwi_check_answer dwi_check_boxes(const struct check *check, size_t s, const int64_t *u, int64_t limit, int64_t *work)
{
    const struct dw_cut_sheet *sheet = &check->request->sheets[s];
    struct check inner = *check;
    inner.arena = dw_arena_child(check->arena);
    struct joining joining = {.check = &inner, .u = u, .limit = limit, .work = work};
    joining.length = sheet->length - sheet->trim[0] - sheet->trim[1] + check->request->kerf;
    joining.width = sheet->width - sheet->trim[2] - sheet->trim[3] + check->request->kerf;
    const enum dwi_check_answer answer = answer_of(&joining, s);
    dw_arena_free(inner.arena);
    return answer;
}
