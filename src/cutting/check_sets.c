/* check_sets.c - the checker's second look at the value of a sheet that holds few pieces.
 *
 * check_value.c lets a sheet hold a part oftener than it is wanted, and so may find more than an inequality says though the inequality
 * is right. Here the question is put exactly: is there a set of pieces, no part oftener than wanted, that is worth more than
 * `limit` and can be cut from the sheet?
 *
 * Sets are tried depth first, parts in order of falling value for area, a piece more at each level. A set goes no further when it
 * cannot be cut, or when filling the free area to the last with the best parts still to come does not bring it above the limit.
 * Whether it can be cut: for every subset of the pieces chosen, a table of the boxes that it can be cut from, none within another; a
 * subset's boxes join those of its two halves along the length or along the width. A new piece adds the subsets that hold it.
 *
 * Any stages and any first cut are allowed, which only lets more sets through. Plain and slow on purpose; where the work
 * set aside is not enough, or the pieces are too many, it says that it does not know.
 */
#include "check.h"

#include <drawerwright/memory.h>

__extension__ typedef __int128 wide;

enum { MOST_HELD = 10, MOST_BOXES = 48, FEW = 16 };

struct box {
    dw_length length, width;
};

/* The boxes of one subset. */
struct boxes {
    int count;
    struct box at[MOST_BOXES];
};

/* A part that is worth something and fits, grown by the kerf. */
struct candidate {
    dw_length length, width;
    int64_t u, count, area;
    bool turn;
};

struct trying {
    dw_length length, width;    /* of the sheet, grown by the kerf */
    struct candidate *parts;    /* best value for area first */
    size_t part_count;
    struct boxes *table;        /* by subset of the pieces held, bit k for the k-th */
    int64_t limit, *work;
    bool unknown;
};

/* ---- can a set be cut? ---- */

/* Keeps a box that fits the sheet, unless one kept lies within it. */
static void keep_box(struct trying *trying, struct boxes *boxes, dw_length length, dw_length width)
{
    if (length > trying->length || width > trying->width)
        return;
    for (int k = 0; k < boxes->count; k++)
        if (boxes->at[k].length <= length && boxes->at[k].width <= width)
            return;
    for (int k = boxes->count - 1; k >= 0; k--)
        if (boxes->at[k].length >= length && boxes->at[k].width >= width)
            boxes->at[k] = boxes->at[--boxes->count];
    if (boxes->count == MOST_BOXES)
        trying->unknown = true;
    else
        boxes->at[boxes->count++] = (struct box){length, width};
}

static dw_length larger(dw_length a, dw_length b)
{
    return a > b ? a : b;
}

static void join_halves(struct trying *trying, unsigned one, unsigned other, struct boxes *boxes)
{
    const struct boxes *first = &trying->table[one], *second = &trying->table[other];
    *trying->work -= 1 + first->count * second->count;
    for (int a = 0; a < first->count; a++)
        for (int b = 0; b < second->count; b++) {
            const struct box left = first->at[a], right = second->at[b];
            keep_box(trying, boxes, left.length + right.length, larger(left.width, right.width));
            keep_box(trying, boxes, larger(left.length, right.length), left.width + right.width);
        }
}

/* Fills the table for all subsets that hold the newest piece, number `held`. False when all pieces together have no box. */
static bool add_piece(struct trying *trying, const struct candidate *part, int held)
{
    const unsigned newest = 1u << held;
    for (unsigned subset = newest; subset < 2 * newest; subset++) {
        struct boxes *boxes = &trying->table[subset];
        boxes->count = 0;
        if (subset == newest) {
            keep_box(trying, boxes, part->length, part->width);
            if (part->turn)
                keep_box(trying, boxes, part->width, part->length);
        }
        for (unsigned half = (subset - 1) & subset; half >= newest; half = (half - 1) & subset)
            join_halves(trying, half, subset - half, boxes);
    }
    return trying->table[2 * newest - 1].count > 0;
}

/* ---- which sets are tried ---- */

/* The most that `area` could bring with parts from `from` on, and `used` of the first already taken. */
static int64_t most_from(const struct trying *trying, size_t from, int64_t used, int64_t area)
{
    int64_t most = 0;
    for (size_t p = from; p < trying->part_count && area > 0; p++) {
        const struct candidate *part = &trying->parts[p];
        const int64_t left = part->count - (p == from ? used : 0);
        const int64_t fit = area / part->area < left ? area / part->area : left;
        most = dwi_check_add(most, dwi_check_multiply(fit, part->u));
        area -= fit * part->area;
        if (fit < left)
            return dwi_check_add(most, (int64_t)(((wide)area * part->u + part->area - 1) / part->area));
    }
    return most;
}

/* Is there a set above the limit that adds to the `held` pieces chosen parts from `from` on? */
static bool exceeds(struct trying *trying, int held, size_t from, int64_t used, int64_t value, int64_t area)
{
    for (size_t p = from; p < trying->part_count; p++) {
        const struct candidate *part = &trying->parts[p];
        const int64_t taken = p == from ? used : 0;
        trying->unknown |= *trying->work < 0;
        if (trying->unknown || dwi_check_add(value, most_from(trying, p, taken, area)) <= trying->limit)
            return false;
        if (taken == part->count || part->area > area)
            continue;
        if (held == MOST_HELD) {
            trying->unknown = true;
            return false;
        }
        if (!add_piece(trying, part, held))
            continue;
        if (value + part->u > trying->limit || exceeds(trying, held + 1, p, taken + 1, value + part->u, area - part->area))
            return true;
    }
    return false;
}

/* ---- starting ---- */

static bool is_denser(const struct candidate *a, const struct candidate *b)
{
    return (wide)a->u * b->area > (wide)b->u * a->area;
}

static void list_parts(struct trying *trying, const struct check *check, const int64_t *u)
{
    const struct dw_cut_request *request = check->request;
    trying->parts = dw_arena_alloc(check->arena, request->part_count, sizeof *trying->parts);
    for (size_t p = 0; p < request->part_count; p++) {
        const struct dw_cut_part *part = &request->parts[p];
        const struct candidate next = {.length = part->length + request->kerf, .width = part->width + request->kerf, .u = u[p],
                                       .count = part->count, .turn = part->turn,
                                       .area = (part->length + request->kerf) * (part->width + request->kerf)};
        size_t place = trying->part_count;
        if (u[p] == 0)
            continue;
        for (; place > 0 && is_denser(&next, &trying->parts[place - 1]); place--)
            trying->parts[place] = trying->parts[place - 1];
        trying->parts[place] = next;
        trying->part_count++;
    }
}

/* Are the parts so large that a sheet holds only a few of them? */
static bool holds_few(const struct check *check, const struct trying *trying)
{
    wide area = 0, pieces = 0;
    for (size_t p = 0; p < check->request->part_count; p++) {
        const struct dw_cut_part *part = &check->request->parts[p];
        area += (wide)(part->length + check->request->kerf) * (part->width + check->request->kerf) * part->count;
        pieces += part->count;
    }
    return area * FEW >= pieces * trying->length * trying->width;
}

enum dwi_check_answer dwi_check_sets(const struct check *check, size_t s, const int64_t *u, int64_t limit, int64_t *work)
{
    const struct dw_cut_sheet *sheet = &check->request->sheets[s];
    struct check inner = *check;
    inner.arena = dw_arena_child(check->arena);
    struct trying *trying = dw_arena_alloc(inner.arena, 1, sizeof *trying);
    trying->length = sheet->length - sheet->trim[0] - sheet->trim[1] + check->request->kerf;
    trying->width = sheet->width - sheet->trim[2] - sheet->trim[3] + check->request->kerf;
    trying->limit = limit;
    trying->work = work;
    enum dwi_check_answer answer = DWI_CHECK_YES;
    if (holds_few(check, trying)) {
        list_parts(trying, &inner, u);
        trying->table = dw_arena_alloc(inner.arena, 1u << MOST_HELD, sizeof *trying->table);
        const bool found = exceeds(trying, 0, 0, 0, 0, trying->length * trying->width);
        answer = found ? DWI_CHECK_YES : trying->unknown ? DWI_CHECK_UNKNOWN : DWI_CHECK_NO;
    }
    dw_arena_free(inner.arena);
    return answer;
}
