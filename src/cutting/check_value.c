/* check_value.c - the checker's own upper bound on what one sheet can yield.
 *
 * For part values u: V(x, y), the most value that a piece of x by y can be cut into, is at most the largest of: the best part that
 * fits; V(t, y) + V(x - t, y) with t <= x / 2; V(x, t) + V(x, y - t) with t <= y / 2; and never more than all parts that fit
 * it are worth together. Sizes are grown by the kerf, which takes the kerf out of the sums. Only sums of part sizes matter as t and as sizes
 * (a layout can be pushed to the low edges), a sum holding no part oftener than it is wanted (Herz 1972; Christofides
 * & Whitlock 1977). With a limit of turns there is a table for each stage, that of k stages starting from that of k - 1 stages in the
 * other direction (Gilmore & Gomory 1965).
 *
 * Written plainly on purpose: exact 64-bit sums, no scaling, no thinning. Where the sums are too many, or the work too long, it
 * answers that it does not know.
 */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

enum { MOST_POINTS = 1500 };

struct points {
    dw_length at[MOST_POINTS]; /* rising, at[0] is 0 */
    int count;
};

/* A part of value in one of its positions. */
struct position {
    int64_t u, all; /* value of one, and of all wanted */
    dw_length length, width;
    size_t part;
    int y;          /* first point of y that holds it */
};

struct valuing {
    const struct check *check;
    struct points x, y;
    struct position *positions;
    size_t position_count;
    int64_t *work;
};

static void list_positions(struct valuing *valuing, const int64_t *u, dw_length length, dw_length width)
{
    const struct dw_cut_request *request = valuing->check->request;
    valuing->positions = dw_arena_alloc(valuing->check->arena, 2 * request->part_count, sizeof *valuing->positions);
    for (size_t p = 0; p < request->part_count; p++) {
        const struct dw_cut_part *part = &request->parts[p];
        for (int turned = 0; u[p] > 0 && turned <= (part->turn && part->length != part->width ? 1 : 0); turned++) {
            const struct position next = {.u = u[p], .all = u[p] * part->count, /* within rhs, which fits */
                                          .length = (turned == 1 ? part->width : part->length) + request->kerf,
                                          .width = (turned == 1 ? part->length : part->width) + request->kerf, .part = p};
            if (next.length <= length && next.width <= width)
                valuing->positions[valuing->position_count++] = next;
        }
    }
}

/* The sums of points and one more `size`, up to `side`, joined with the points. False when there are too many. */
static bool add_size(struct points *points, dw_length size, dw_length side)
{
    const struct points old = *points;
    int kept = 0, low = 0, high = 0;
    while (low < old.count || (high < old.count && old.at[high] + size <= side)) {
        const bool sums_left = high < old.count && old.at[high] + size <= side;
        if (kept == MOST_POINTS)
            return false;
        if (!sums_left || (low < old.count && old.at[low] <= old.at[high] + size)) {
            high += sums_left && low < old.count && old.at[low] == old.at[high] + size;
            points->at[kept++] = old.at[low++];
        } else {
            points->at[kept++] = old.at[high++] + size;
        }
    }
    points->count = kept;
    return true;
}

static bool make_points(struct valuing *valuing, struct points *points, dw_length side, bool along_length)
{
    points->at[0] = 0;
    points->count = 1;
    for (size_t i = 0; i < valuing->position_count; i++) {
        const struct position *position = &valuing->positions[i];
        const dw_length size = along_length ? position->length : position->width;
        const int64_t wanted = valuing->check->request->parts[position->part].count;
        int before = 0;
        for (int64_t n = 0; n < wanted && before != points->count; n++) {
            before = points->count;
            *valuing->work -= before;
            if (*valuing->work < 0 || !add_size(points, size, side))
                return false;
        }
    }
    return true;
}

/* The last point at or below `size`, looked for downward from `from`. */
static int point_below(const struct points *points, dw_length size, int from)
{
    while (points->at[from] > size)
        from--;
    return from;
}

static int first_point(const struct points *points, dw_length size)
{
    int low = 0, high = points->count;
    while (low < high) {
        const int middle = (low + high) / 2;
        if (points->at[middle] < size)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static int64_t larger(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

/* For row x of the tables: single[y] is the best part that fits, all[y] what all parts that fit are worth. A part counts once
 * in `all`, at the lower of its two positions. */
static void rows_of_parts(const struct valuing *valuing, dw_length x, int64_t *single, int64_t *all)
{
    memset(single, 0, (size_t)valuing->y.count * sizeof *single);
    memset(all, 0, (size_t)valuing->y.count * sizeof *all);
    for (size_t i = 0; i < valuing->position_count; i++) {
        const struct position *position = &valuing->positions[i];
        const bool has_twin = i + 1 < valuing->position_count && position[1].part == position->part;
        int y = position->length <= x ? position->y : valuing->y.count;
        if (has_twin && position[1].length <= x && position[1].y < y)
            y = position[1].y;
        i += has_twin;
        if (y == valuing->y.count)
            continue;
        single[y] = larger(single[y], position->u);
        all[y] += position->all;
    }
    for (int y = 1; y < valuing->y.count; y++) {
        single[y] = larger(single[y], single[y - 1]);
        all[y] += all[y - 1];
    }
}

static void take_crosscuts(const struct valuing *valuing, int64_t *table, int i)
{
    const struct points *x = &valuing->x;
    const size_t width = (size_t)valuing->y.count;
    int64_t *row = &table[(size_t)i * width];
    int rest = i;
    for (int t = 1; t < i && 2 * x->at[t] <= x->at[i]; t++) {
        rest = point_below(x, x->at[i] - x->at[t], rest);
        const int64_t *one = &table[(size_t)t * width];
        const int64_t *other = &table[(size_t)rest * width];
        for (size_t j = 0; j < width; j++)
            row[j] = larger(row[j], one[j] + other[j]);
    }
}

static void take_rips(const struct valuing *valuing, int64_t *row, int j)
{
    const struct points *y = &valuing->y;
    int rest = j;
    for (int t = 1; t < j && 2 * y->at[t] <= y->at[j]; t++) {
        rest = point_below(y, y->at[j] - y->at[t], rest);
        row[j] = larger(row[j], row[t] + row[rest]);
    }
}

/* One table: `below` is what a piece yields without a cut of these directions (NULL: the best part). */
static const int64_t *fill_table(const struct valuing *valuing, const int64_t *below, bool crosscuts, bool rips)
{
    const size_t width = (size_t)valuing->y.count;
    struct dw_arena *arena = valuing->check->arena;
    int64_t *table = dw_arena_alloc(arena, (size_t)valuing->x.count * width, sizeof *table);
    int64_t *single = dw_arena_alloc(arena, width, sizeof *single);
    int64_t *all = dw_arena_alloc(arena, width, sizeof *all);
    for (int i = 0; i < valuing->x.count; i++) {
        int64_t *row = &table[(size_t)i * width];
        rows_of_parts(valuing, valuing->x.at[i], single, all);
        memcpy(row, below == NULL ? single : &below[(size_t)i * width], width * sizeof *row);
        if (crosscuts)
            take_crosscuts(valuing, table, i);
        for (int j = 0; j < valuing->y.count; j++) {
            if (rips)
                take_rips(valuing, row, j);
            row[j] = row[j] < all[j] ? row[j] : all[j];
        }
    }
    return table;
}

/* The value of the whole sheet when the first of `stages` stages is by crosscuts (or by rips). */
static int64_t staged_value(const struct valuing *valuing, int stages, bool crosscuts)
{
    const int64_t *table = NULL;
    int left = 1; /* there is a first stage */
    do {
        const bool turn_about = (stages - left) % 2 == 1;
        table = fill_table(valuing, table, crosscuts != turn_about, crosscuts == turn_about);
    } while (++left <= stages);
    return table[(size_t)valuing->x.count * (size_t)valuing->y.count - 1];
}

static int64_t sheet_value(const struct valuing *valuing)
{
    const struct dw_cut_request *request = valuing->check->request;
    if (request->turns == 0)
        return fill_table(valuing, NULL, true, true)[(size_t)valuing->x.count * (size_t)valuing->y.count - 1];
    int64_t value = 0;
    if (request->first_cut != DW_RIP)
        value = staged_value(valuing, request->turns, true);
    if (request->first_cut != DW_CROSSCUT)
        value = larger(value, staged_value(valuing, request->turns, false));
    return value;
}

/* Steps of the tables: for each point of one side all splits of the other. */
static int64_t steps_of(const struct valuing *valuing)
{
    const int64_t x = valuing->x.count, y = valuing->y.count;
    const int tables = valuing->check->request->turns == 0 ? 1 : valuing->check->request->turns;
    return tables * (x * y * (x + y) / 4 + x * (int64_t)valuing->position_count);
}

/* The points of a sheet and where parts of value begin to fit; NULL when *work is not enough. */
static struct valuing *start_valuing(const struct check *check, size_t s, const int64_t *u, int64_t *work)
{
    const struct dw_cut_sheet *sheet = &check->request->sheets[s];
    const dw_length length = sheet->length - sheet->trim[0] - sheet->trim[1] + check->request->kerf;
    const dw_length width = sheet->width - sheet->trim[2] - sheet->trim[3] + check->request->kerf;
    struct valuing *valuing = dw_arena_alloc(check->arena, 1, sizeof *valuing);
    valuing->check = check;
    valuing->work = work;
    list_positions(valuing, u, length, width);
    if (!make_points(valuing, &valuing->x, length, true) || !make_points(valuing, &valuing->y, width, false))
        return NULL;
    *work -= steps_of(valuing);
    if (*work < 0)
        return NULL;
    for (size_t i = 0; i < valuing->position_count; i++)
        valuing->positions[i].y = first_point(&valuing->y, valuing->positions[i].width);
    return valuing;
}

/* In an arena of its own: a certificate has many rows, and the tables of one are large. */
int64_t dwi_check_value(const struct check *check, size_t s, const int64_t *u, int64_t *work)
{
    struct check inner = *check;
    inner.arena = dw_arena_child(check->arena);
    const struct valuing *valuing = start_valuing(&inner, s, u, work);
    const int64_t value = valuing == NULL ? -1 : sheet_value(valuing);
    dw_arena_free(inner.arena);
    return value;
}

bool dwi_check_table(const struct check *check, size_t s, const int64_t *u, int64_t *work, struct dwi_check_table *table)
{
    const struct valuing *valuing = start_valuing(check, s, u, work);
    if (valuing == NULL)
        return false;
    *table = (struct dwi_check_table){.x = valuing->x.at, .y = valuing->y.at, .x_count = valuing->x.count,
                                      .y_count = valuing->y.count, .most = fill_table(valuing, NULL, true, true)};
    return true;
}
