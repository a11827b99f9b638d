/* problem.h - the request made simple; shared by every method of this room (the checker does not see it).
 *
 * Kerf k is absorbed: a part (l, w) becomes (l+k, w+k) and a trimmed sheet (L, W) becomes (L+k, W+k); for through cuts that is exact.
 * Parts of equal size and freedom are joined into one item. All sizes are divided by the greatest common divisor of the parts'
 * sizes (sheets rounded down), which changes nothing. From here on there is no kerf, no trim and no unit. Items stand in an order of
 * their own, largest area first; one that may turn has its longer side as its length.
 */
#ifndef DWI_CUTTING_PROBLEM_H
#define DWI_CUTTING_PROBLEM_H

#include <drawerwright/cutting.h>

struct dw_arena;

struct item {
    int64_t length, width; /* grown by the kerf, scaled */
    int64_t count;         /* wanted */
    int64_t area;          /* length * width */
    bool turn;             /* may be turned (false for a square: turning changes nothing) */
};

struct stock {
    int64_t length, width; /* trimmed, grown, scaled */
    int64_t area;
    bool spare_length, spare_width; /* rounded off something: a trimming cut has that much to take off */
    dw_money price;
    dw_money value;
    int64_t count;         /* never more than could be of use; no -1 here: unlimited becomes the number of parts */
};

struct problem {
    const struct dw_cut_request *request;
    struct item *items;
    int item_count;
    struct stock *stocks;  /* one for each sheet of the request, same order */
    int stock_count;
    int64_t scale;         /* units of length in one unit of the problem */
    int64_t piece_count;   /* sum of all item counts */
    int *item_of_part;     /* for each part of the request its item */
    int area_shift;        /* every stock's area >> area_shift is below 2^40: room for weights in scores */
    int turns;             /* as in the request */
    int first_cut;
    unsigned without;      /* methods left out (without.h): 0 but for measuring */
};

/* The problem of a request without faults, in `arena` (inside a guard). */
struct problem *dwi_problem_make(const struct dw_cut_request *request, struct dw_arena *arena);

/* A smaller problem: counts[i] of each item (those with none are left out), the same stocks. (*item_of)[i] is the item of `problem`
 * that its item i is. In `arena`. */
struct problem *dwi_problem_part(const struct problem *problem, const int64_t *counts, struct dw_arena *arena, int **item_of);

/* Whether a sheet holds the item in one of its positions. */
bool dwi_item_fits(const struct item *item, const struct stock *stock);

#endif
