/* holes.c - how well the free area of a layout gathers in few holes.
 *
 * Problem: two layouts hold the same pieces. In one the free area is one rectangle that could take another piece, in the other
 * it is slivers. A search that counts only pieces sees no difference and drifts; most of all near its end, when the free area
 * is a few per cent and the last piece finds no place.
 *
 * Model: the free area of a slicing tree falls into rectangles, the *holes*. A node that sets two children side by side leaves, upon
 * each, a hole as long as the child and as wide as the node exceeds it; likewise with x and y exchanged. Around the root the sheet
 * leaves an L, which one more cut makes two rectangles; the better way of the two counts. Measure of a hole: the square of its
 * share of a mean piece, at most 1 (a larger hole is as good as that), and 0 for one narrower than every piece. The sum of
 * squares is greater the fewer the holes are.
 *
 * Guides only; nothing is proved. From the same thought as the "free rectangles" that block heuristics prefer to keep large; this form, over the
 * nodes of a slicing tree, is our own.
 */
#include "holes.h"

static int64_t larger(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

struct hole_gauge dwi_hole_gauge(const struct problem *problem)
{
    struct hole_gauge gauge = {.least_side = INT64_MAX};
    int64_t sum = 0; /* below 2^63: the request was checked */
    for (int i = 0; i < problem->item_count; i++) {
        const struct item *item = &problem->items[i];
        const int64_t side = item->length < item->width ? item->length : item->width;
        gauge.least_side = side < gauge.least_side ? side : gauge.least_side;
        sum += item->area * item->count;
    }
    gauge.mean_area = larger(1, sum / problem->piece_count >> problem->area_shift);
    return gauge;
}

static int64_t hole(const struct sheet *sheet, const struct hole_gauge *gauge, int64_t length, int64_t width)
{
    if (length < gauge->least_side || width < gauge->least_side)
        return 0;
    const int64_t area = length * width >> sheet->problem->area_shift;
    if (area >= gauge->mean_area)
        return DWI_HOLE_ONE;
    const int64_t share = area * DWI_HOLE_ONE / gauge->mean_area;
    return share * share / DWI_HOLE_ONE;
}

static int64_t holes_around(const struct sheet *sheet, const struct hole_gauge *gauge)
{
    const struct stock *stock = &sheet->problem->stocks[sheet->stock];
    const struct twig *root = &sheet->twigs[0];
    const int64_t x = stock->length - root->length, y = stock->width - root->width;
    return larger(hole(sheet, gauge, x, stock->width) + hole(sheet, gauge, root->length, y),
                  hole(sheet, gauge, x, root->width) + hole(sheet, gauge, stock->length, y));
}

/* Those that a node leaves beside its children. */
static int64_t holes_within(const struct sheet *sheet, const struct hole_gauge *gauge, const struct twig *node)
{
    const struct twig *first = node + 1, *second = first + first->size;
    if (node->kind == SLICE_BESIDE)
        return hole(sheet, gauge, first->length, node->width - first->width) +
               hole(sheet, gauge, second->length, node->width - second->width);
    return hole(sheet, gauge, node->length - first->length, first->width) +
           hole(sheet, gauge, node->length - second->length, second->width);
}

int64_t dwi_holes(const struct sheet *sheet, const struct hole_gauge *gauge)
{
    if (sheet->count == 0)
        return 0;
    int64_t sum = holes_around(sheet, gauge);
    for (int i = 0; i < sheet->count; i++)
        if (sheet->twigs[i].kind != SLICE_ITEM)
            sum += holes_within(sheet, gauge, &sheet->twigs[i]);
    return sum;
}
