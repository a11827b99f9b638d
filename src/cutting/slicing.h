/* slicing.h - a sheet's layout as a binary slicing tree, and a pattern: a tree with what it holds.
 *
 * A leaf is an item; an inner node sets two sub-layouts side by side along the length (a crosscut between them) or
 * one upon the other along the width (a rip). No coordinate is fixed: a node's size follows from its children, and two
 * equal trees mean the same cuts.
 */
#ifndef DWI_CUTTING_SLICING_H
#define DWI_CUTTING_SLICING_H

#include "problem.h"

enum slice_kind {
    SLICE_ITEM,
    SLICE_BESIDE, /* length = sum of lengths, width = larger width */
    SLICE_UPON    /* width = sum of widths, length = larger length */
};

struct slice {
    enum slice_kind kind;
    int item;               /* SLICE_ITEM */
    bool turned;            /* SLICE_ITEM */
    int first, second;      /* children, indices into the same array */
    int64_t length, width;
};

/* What one sheet is cut into. Immutable once made. */
struct pattern {
    int stock;
    int node_count;
    int root;               /* index into nodes */
    const struct slice *nodes;
    const int32_t *counts;  /* of each item, item_count of them */
    int64_t area;           /* of its items */
};

/* Turns patterns with their numbers of use into the public plan: kerf given back, coordinates fixed, waste gathered and
 * offcuts named, counts mapped from items to parts. In `arena`. Costs and bounds are left to the caller. */
struct pattern_use {
    const struct pattern *pattern;
    int64_t times;
};
void dwi_plan_write(const struct problem *problem, const struct pattern_use *uses, size_t use_count, struct dw_arena *arena,
                    struct dw_cut_plan *plan);

#endif
