/* slicing.h - a sheet's layout as a binary slicing tree: immutable as a pattern, growing as a sheet with slack.
 *
 * A leaf is an item; an inner node sets two sub-layouts side by side along the length (a crosscut between them) or
 * one upon the other along the width (a rip). No coordinate is fixed: a node's size follows from its children, and two
 * equal trees mean the same cuts.
 */
#ifndef DWI_CUTTING_SLICING_H
#define DWI_CUTTING_SLICING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "problem.h"

struct dw_arena;

enum slice_kind {
    SLICE_ITEM,
    SLICE_BESIDE, /* length = sum of lengths, width = larger width */
    SLICE_UPON    /* width = sum of widths, length = larger length */
};

/* Whether a sheet has something to take off across a row of `kind` even where the row is as wide as the scaled sheet. */
static inline bool dwi_spare_across(const struct stock *stock, enum slice_kind kind)
{
    return kind == SLICE_BESIDE ? stock->spare_width : stock->spare_length;
}

struct slice {
    enum slice_kind kind;
    int item;               /* SLICE_ITEM */
    bool turned;            /* SLICE_ITEM */
    int first, second;      /* children, indices into the same array */
    int64_t length, width;
};

/* The node that sets two others side by side (SLICE_BESIDE) or one upon the other (SLICE_UPON). */
static inline struct slice dwi_slice_join(enum slice_kind kind, int first, int second, const struct slice *nodes)
{
    const struct slice *a = &nodes[first], *b = &nodes[second];
    const bool beside = kind == SLICE_BESIDE;
    const int64_t longer = a->length > b->length ? a->length : b->length, wider = a->width > b->width ? a->width : b->width;
    return (struct slice){.kind = kind,
                          .item = -1,
                          .first = first,
                          .second = second,
                          .length = beside ? a->length + b->length : longer,
                          .width = beside ? wider : a->width + b->width};
}

/* What one sheet is cut into. Immutable once made. */
struct pattern {
    int stock;
    int node_count;
    int root;               /* index into nodes */
    const struct slice *nodes;
    const int32_t *counts;  /* of each item, item_count of them */
    int64_t area;           /* of its items */
};

/* A node of a growing tree. Nodes stand in preorder: an inner node at i has its children at i + 1 and right behind
 * that child's sub-tree. */
struct twig {
    int64_t length, width;
    int64_t slack_x, slack_y; /* how far it may grow without its sheet overflowing */
    int32_t size;             /* nodes of its sub-tree, itself included */
    int32_t item;             /* of a leaf */
    uint8_t kind;             /* enum slice_kind */
    uint8_t turned;           /* of a leaf */
    uint8_t above;            /* kind of its parent; SLICE_ITEM for the root */
    uint8_t may;              /* bit 1 << kind: the stages allow a cut of that kind around it */
    int16_t stages;           /* cutting stages within the sub-tree */
    int16_t opens;            /* stage of the cut that it comes from; 0 for the root */
};

enum { DWI_REACHES = 8 };

/* The layout of one sheet while it is being changed. Invariant, after dwi_sheet_settle: sizes, slacks, stages and
 * totals follow from kinds, items and sizes of sub-trees. */
struct sheet {
    const struct problem *problem;
    int stock;
    int count;                /* twigs in use; 0 for an empty sheet */
    size_t capacity;
    struct twig *twigs;
    int64_t area;             /* of its items */
    int64_t room;             /* area of the stock less that */
    int64_t holes;            /* the search's measure of them (holes.h); kept with the layout, not settled */
    int shift_x, shift_y;     /* see dwi_sheet_may_hold */
    int64_t deepest_x[DWI_REACHES], deepest_y[DWI_REACHES];
};

/* A quick test before a scan: false when the part has no place in the sheet, which is begun. Slacks are sorted into classes by
 * their leading bits (slack_x >> shift_x); deepest_x[c] is the greatest width + slack_y of any twig whose slack_x is of class c
 * or higher, so a part whose length is of that class and that is wider fits beside no twig. Likewise deepest_y. */
static inline bool dwi_sheet_may_hold(const struct sheet *sheet, int64_t length, int64_t width)
{
    const struct stock *stock = &sheet->problem->stocks[sheet->stock];
    if (length > stock->length || width > stock->width)
        return false;
    return width <= sheet->deepest_x[length >> sheet->shift_x] || length <= sheet->deepest_y[width >> sheet->shift_y];
}

void dwi_sheet_init(struct sheet *sheet, const struct problem *problem, int stock);

/* Puts `item` beside or upon the sub-tree at `at` (kind says which); into an empty sheet at 0. Settles. */
void dwi_sheet_insert(struct sheet *sheet, int at, enum slice_kind kind, int item, bool turned, struct dw_arena *arena);

/* Puts `item` in the place of the sub-tree at `at`, adding its leaves to removed[item]. Settles. */
void dwi_sheet_replace(struct sheet *sheet, int at, int item, bool turned, int32_t *removed);

/* Takes away every leaf i for which drop[i] is set (i counts twigs), adding to removed[item]; needs room for sheet->count
 * ints in `work`. Settles. */
void dwi_sheet_prune(struct sheet *sheet, const bool *drop, int32_t *removed, int *work);

/* Takes away everything, adding to removed[item] unless that is NULL. */
void dwi_sheet_empty(struct sheet *sheet, int32_t *removed);

/* Makes `to` equal to `from`. */
void dwi_sheet_copy(struct sheet *to, const struct sheet *from, struct dw_arena *arena);

/* Makes the sheet equal to a pattern of the same or a larger stock. */
void dwi_sheet_load(struct sheet *sheet, const struct pattern *pattern, struct dw_arena *arena);

/* Works out everything that follows from the shape of the tree. */
void dwi_sheet_settle(struct sheet *sheet);

/* Whether the tree fits its sheet and keeps to the stages and first cut asked for. */
bool dwi_sheet_sound(const struct sheet *sheet);

/* The sheet as a pattern in `arena`. */
struct pattern *dwi_sheet_pattern(const struct sheet *sheet, struct dw_arena *arena);

/* A copy of a pattern, all of it in `arena`. */
const struct pattern *dwi_pattern_copy(const struct problem *problem, const struct pattern *pattern, struct dw_arena *arena);

/* A pattern of a part of a problem (dwi_problem_part) as one of the whole. */
struct pattern *dwi_pattern_of_whole(const struct pattern *pattern, const struct problem *whole, const int *item_of,
                                     struct dw_arena *arena);

/* A pattern and how many sheets are cut so. */
struct pattern_use {
    const struct pattern *pattern;
    int64_t times;
};

/* Writes one pattern as a public tree, to be measured: any part of an item stands for the item. In `arena`. */
struct dw_cut_node dwi_layout_write(const struct problem *problem, const struct pattern *pattern, struct dw_arena *arena);

/* Turns patterns with their numbers of use (together exactly the counts wanted) into the public layouts: kerf given back,
 * coordinates fixed, waste gathered and offcuts named, counts mapped from items to parts. In `arena`. Bounds are left to the
 * caller, layouts and cost are set. */
void dwi_plan_write(const struct problem *problem, const struct pattern_use *uses, size_t use_count, struct dw_arena *arena,
                    struct dw_cut_plan *plan);

#endif
