/* problem.c - the request made simple.
 *
 * Kerf: between neighbors lies one kerf k, so n parts of lengths l_i fit a sheet L along one line exactly if
 * sum (l_i + k) <= L + k. With through cuts every sub-layout obeys the same rule, so growing all sizes by k takes the
 * kerf out of the problem and loses nothing.
 *
 * Scale: every position that matters is a sum of grown part sizes, hence a multiple of their greatest common divisor g.
 * Parts are divided by g, sheets divided and rounded down. Exact.
 *
 * Items come in an order of their own (size, then freedom to turn), so that the order of the request's parts
 * changes nothing that follows.
 */
#include "problem.h"

#include <assert.h>
#include <stdlib.h>

#include <drawerwright/memory.h>

static int64_t greatest_common_divisor(int64_t a, int64_t b)
{
    while (b != 0) {
        const int64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

static int order_of(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

/* Larger area first; equal items compare equal, whatever part they came from. */
static int compare_items(const void *left, const void *right)
{
    const struct item *a = left;
    const struct item *b = right;
    int order = order_of(b->area, a->area);
    if (order == 0)
        order = order_of(b->length, a->length);
    if (order == 0)
        order = order_of(a->turn, b->turn);
    return order;
}

/* A part as an item of its own: one that may turn lies with its longer side along the length. */
static struct item item_of(const struct dw_cut_part *part, dw_length kerf, int64_t scale)
{
    const int64_t length = (part->length + kerf) / scale;
    const int64_t width = (part->width + kerf) / scale;
    const bool turn = part->turn && length != width;
    const bool swap = turn && length < width;
    return (struct item){
        .length = swap ? width : length,
        .width = swap ? length : width,
        .count = part->count,
        .area = length * width,
        .turn = turn,
    };
}

static int64_t common_scale(const struct dw_cut_request *request)
{
    int64_t scale = 0;
    for (size_t i = 0; i < request->part_count; i++) {
        scale = greatest_common_divisor(scale, request->parts[i].length + request->kerf);
        scale = greatest_common_divisor(scale, request->parts[i].width + request->kerf);
    }
    return scale;
}

/* Sorts the items, joins equal ones and finds each part's item again. */
static void make_items(struct problem *problem, struct dw_arena *arena)
{
    const struct dw_cut_request *request = problem->request;
    struct item *items = dw_arena_alloc(arena, request->part_count, sizeof *items);
    for (size_t i = 0; i < request->part_count; i++)
        items[i] = item_of(&request->parts[i], request->kerf, problem->scale);
    qsort(items, request->part_count, sizeof *items, compare_items);
    int count = 0;
    for (size_t i = 0; i < request->part_count; i++) {
        problem->piece_count += items[i].count;
        if (count > 0 && compare_items(&items[count - 1], &items[i]) == 0)
            items[count - 1].count += items[i].count;
        else
            items[count++] = items[i];
    }
    problem->items = items;
    problem->item_count = count;
    problem->item_of_part = dw_arena_alloc(arena, request->part_count, sizeof *problem->item_of_part);
    for (size_t i = 0; i < request->part_count; i++) {
        const struct item wanted = item_of(&request->parts[i], request->kerf, problem->scale);
        const struct item *found = bsearch(&wanted, items, (size_t)count, sizeof *items, compare_items);
        problem->item_of_part[i] = (int)(found - items);
    }
}

/* A sheet that its trim leaves nothing of is kept, with a count of 0: stocks stand in the request's order. */
static struct stock stock_of(const struct dw_cut_sheet *sheet, const struct problem *problem)
{
    const dw_length kerf = problem->request->kerf;
    const dw_length grown_length = sheet->length - sheet->trim[0] - sheet->trim[1] + kerf;
    const dw_length grown_width = sheet->width - sheet->trim[2] - sheet->trim[3] + kerf;
    const int64_t length = grown_length / problem->scale;
    const int64_t width = grown_width / problem->scale;
    struct stock stock = {.length = length, .width = width, .price = sheet->price, .value = sheet->value};
    if (length <= 0 || width <= 0)
        return (struct stock){.price = sheet->price, .value = sheet->value};
    stock.area = length * width;
    stock.spare_length = grown_length % problem->scale != 0;
    stock.spare_width = grown_width % problem->scale != 0;
    stock.count = sheet->count < 0 || sheet->count > problem->piece_count ? problem->piece_count : sheet->count;
    return stock;
}

static int shift_of(const struct problem *problem)
{
    int shift = 0;
    for (int s = 0; s < problem->stock_count; s++)
        while (problem->stocks[s].area >> shift >= INT64_C(1) << 40)
            shift++;
    return shift;
}

struct problem *dwi_problem_make(const struct dw_cut_request *request, struct dw_arena *arena)
{
    struct problem *problem = dw_arena_alloc(arena, 1, sizeof *problem);
    problem->request = request;
    problem->scale = common_scale(request);
    assert(problem->scale > 0); /* an empty request needs no search */
    problem->turns = request->turns;
    problem->first_cut = request->first_cut;
    make_items(problem, arena);
    problem->stock_count = (int)request->sheet_count;
    problem->stocks = dw_arena_alloc(arena, request->sheet_count, sizeof *problem->stocks);
    for (size_t s = 0; s < request->sheet_count; s++)
        problem->stocks[s] = stock_of(&request->sheets[s], problem);
    problem->area_shift = shift_of(problem);
    return problem;
}

struct problem *dwi_problem_part(const struct problem *problem, const int64_t *counts, struct dw_arena *arena, int **item_of)
{
    struct problem *part = dw_arena_copy(arena, problem, 1, sizeof *part);
    int *origin = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *origin);
    part->items = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *part->items);
    part->item_count = 0;
    part->piece_count = 0;
    for (int i = 0; i < problem->item_count; i++) {
        if (counts[i] == 0)
            continue;
        origin[part->item_count] = i;
        part->items[part->item_count] = problem->items[i];
        part->items[part->item_count++].count = counts[i];
        part->piece_count += counts[i];
    }
    part->stocks = dw_arena_copy(arena, problem->stocks, (size_t)problem->stock_count, sizeof *part->stocks);
    *item_of = origin;
    return part;
}

bool dwi_item_fits(const struct item *item, const struct stock *stock)
{
    return (item->length <= stock->length && item->width <= stock->width)
        || (item->turn && item->width <= stock->length && item->length <= stock->width);
}
