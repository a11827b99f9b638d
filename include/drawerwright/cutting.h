/* cutting.h - rectangles out of sheets by through (guillotine) cuts, at the least cost.
 *
 * The problem: rectangles with counts, some free to be turned a quarter; sheets with prices and, for some, a
 * count; a kerf. The answer: a tree of cuts for every sheet used, its cost, a lower bound on the cost of any plan,
 * and whether the two meet. This room has never heard of drawers or files.
 *
 * Axes: x runs along a sheet's length (its grain, as a rule), y along its width. A crosscut splits a piece's
 * length into pieces side by side in x; a rip splits its width into pieces stacked in y. Between neighbors goes
 * one kerf.
 */
#ifndef DRAWERWRIGHT_CUTTING_H
#define DRAWERWRIGHT_CUTTING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/fault.h>
#include <drawerwright/length.h>
#include <drawerwright/money.h>
#include <drawerwright/work.h>

struct dw_arena;

enum dw_cut { DW_RIP, DW_CROSSCUT };

/* What is wanted. length lies along the sheet's length unless turned. */
struct dw_cut_part {
    dw_length length; /* > 0 */
    dw_length width;  /* > 0 */
    int64_t count;    /* 1 .. 1 000 000 */
    bool turn;        /* may lie turned a quarter */
};

/* What there is. */
struct dw_cut_sheet {
    dw_length length;    /* full size, > 0 */
    dw_length width;
    dw_length trim[4];   /* taken off first at x low, x high, y low, y high; a trim includes its kerf */
    dw_money price;      /* money out of pocket for one; 0 for what is owned already */
    dw_money value;      /* what one is worth to the shop: the price for a bought one, more than 0 for an offcut
                            that is owned; orders plans of equal cost */
    int64_t count;       /* how many there are; -1 without limit */
};

/* What a rest must measure to be worth keeping. All zero: nothing is kept. */
struct dw_cut_keep {
    dw_length least_length; /* of its longer side */
    dw_length least_width;  /* of its shorter side */
};

struct dw_cut_request {
    const struct dw_cut_part *parts;
    size_t part_count;             /* >= 1 */
    const struct dw_cut_sheet *sheets;
    size_t sheet_count;            /* >= 1 */
    dw_length kerf;                /* >= 0 */
    int turns;                     /* greatest number of cutting stages, 2 or 3 (a last trimming cut, which frees one
                                      part from waste and offcuts, does not count); 0: any */
    int first_cut;                 /* DW_RIP or DW_CROSSCUT for the first stage of every sheet; -1: either. A sheet cut
                                      the other way only (last trims aside) has an empty first stage, which counts */
    struct dw_cut_keep keep;
    enum dw_patience patience;
    int64_t work;                  /* units of work allowed; 0: what the patience says */
    bool rough;                    /* only the cost matters: layouts are not made handier to cut at the end */
    uint64_t seed;
    int threads;                   /* at most so many, unless the control has a crew; 0 or 1: one. A search that is not soon over splits its work
                                      among them; `work` is that of all together. Never changes the plan */
};

enum dw_node_use { DW_NODE_CUT, DW_NODE_PART, DW_NODE_KEEP, DW_NODE_WASTE };

/* A piece of a sheet: cut further, or a part exactly to size, or an offcut. Coordinates are those of the full
 * sheet. */
struct dw_cut_node {
    dw_length x, y, length, width;
    enum dw_node_use use;
    enum dw_cut cut;              /* DW_NODE_CUT: all its pieces come from parallel cuts of this kind */
    const struct dw_cut_node *pieces; /* DW_NODE_CUT: in order from the low edge; what is left past the last one
                                      is a kerf at most */
    size_t piece_count;           /* >= 1 */
    size_t part;                  /* DW_NODE_PART: index into the request's parts */
    bool turned;
};

/* One way to cut a sheet, used `times` times. */
struct dw_cut_layout {
    size_t sheet;                 /* index into the request's sheets */
    int64_t times;                /* >= 1 */
    struct dw_cut_node root;      /* the sheet less its trim */
};

/* An inequality that the sheet counts n of every plan obey: sum of v[s] * n[s] >= rhs, where for the part values
 * u (>= 0) v[s] is the most value that one sheet s can yield and rhs is the value of all parts wanted. */
struct dw_cut_inequality {
    const int64_t *u; /* one for each part of the request */
    const int64_t *v; /* one for each sheet */
    int64_t rhs;
};

enum dw_cut_outcome {
    DW_CUT_PLAN,       /* there is a plan */
    DW_CUT_IMPOSSIBLE, /* proved: the sheets at hand cannot hold the parts */
    DW_CUT_NONE_FOUND  /* no plan found within the limits, and no proof that there is none */
};

enum dw_cut_stop { DW_STOP_PROVED, DW_STOP_WORK, DW_STOP_CLOCK, DW_STOP_CANCEL };

struct dw_cut_plan {
    enum dw_cut_outcome outcome;
    const struct dw_cut_layout *layouts;
    size_t layout_count;
    dw_money cost;                /* sum of price * times */
    dw_money lower_bound;         /* no plan costs less */
    bool proved;                  /* cost == lower_bound */
    enum dw_cut_stop stop;        /* why the search ended */
    int64_t work_done;
    const struct dw_cut_inequality *certificate; /* inequalities from which lower_bound follows by counting sheets */
    size_t certificate_count;
};

/* Finds errors in a request: sizes, counts, sums that would overflow, a part larger than every sheet (named with the
 * nearest sheet that would do). Addresses are "parts[3]", "sheets[0].length". Returns true when there is none. */
bool dw_cut_check_request(const struct dw_cut_request *request, struct dw_faults *faults);

/* Finds a plan of least cost, ends when it is proved or the work allowed is done. The plan lives in `arena`. Among
 * plans of equal cost: the most value kept as offcuts less value of owned sheets used, fewer settings, fewer cuts, the largest offcut
 * whole. The same request gives the same plan on every machine of one architecture, unless the clock or cancel stopped it.
 * Returns DW_DONE with *plan set (see its outcome); DW_INPUT with faults; DW_SURROUNDINGS out of memory; DW_PROGRAM when the
 * checker refused what was found. control may be NULL. */
enum dw_status dw_cut_solve(const struct dw_cut_request *request, const struct dw_control *control,
                            struct dw_arena *arena, struct dw_faults *faults, const struct dw_cut_plan **plan);

/* The two questions that a buyer with price rules of its own asks.
 *
 * A cutter keeps what it has learned from one question to the next. The request must outlive it and be without
 * faults; prices of its sheets only guide. Freed with its arena. NULL when memory ran out. */
struct dw_cutter;
struct dw_cutter *dw_cutter_new(const struct dw_cut_request *request, struct dw_arena *arena);

/* 1. Is there a plan that uses at most counts[s] of sheet s? DW_CUT_PLAN with *plan in `arena`, DW_CUT_IMPOSSIBLE
 * (then an inequality below rules the counts out), or DW_CUT_NONE_FOUND within `work` units, of all threads together. Returns DW_DONE or
 * DW_SURROUNDINGS. */
enum dw_status dw_cutter_within(struct dw_cutter *cutter, const int64_t *counts, int64_t work,
                                const struct dw_control *control, struct dw_arena *arena, enum dw_cut_outcome *outcome,
                                const struct dw_cut_plan **plan);

/* 2. An inequality that every plan obeys and these counts break: true with *inequality in `arena`; false when none was
 * found. */
bool dw_cutter_inequality(struct dw_cutter *cutter, const int64_t *counts, int64_t work, struct dw_arena *arena,
                          struct dw_cut_inequality *inequality);

/* A third question, for who does not know yet what is wanted: the most that one sheet can be cut into, any number of each part.
 *
 * For values u (one for each part) and v[s] = dw_cut_value of each sheet, "sum of v[s] * n[s] >= value of all that is wanted" is true of every plan,
 * whatever of these parts is wanted: counts in the request say nothing here. No two of its parts may be alike. Made in `arena`, inside a guard;
 * the request must outlive it. */
#define DW_CUT_NO_BOUND (INT64_MAX / 4)
struct dw_cut_valuer;
struct dw_cut_valuer *dw_cut_valuer_new(const struct dw_cut_request *request, struct dw_arena *arena);

/* No layout of sheet s is worth more for u (each 0 .. 2^26); DW_CUT_NO_BOUND where a part of value is too small to be seen. Into counts (one for each
 * part) goes a layout that is worth about that much, all 0 when there is none at hand. Adds units of work to *work. Inside a guard. */
int64_t dw_cut_value(struct dw_cut_valuer *valuer, size_t sheet, const int64_t *u, int64_t *counts, int64_t *work);

/* The checker: recomputes everything about a plan from the request alone and shares no code with the search. Pieces
 * inside their parents, from edge to edge and one kerf apart, the rest at most a kerf, parts exactly to size and turned only where
 * allowed, every count met exactly, sheet counts, turns and first cut kept, cost added up anew, offcuts kept only
 * where they are worth it, lower_bound <= cost. Reports each breach as an error of status DW_PROGRAM; returns true when there is none. */
bool dw_cut_check(const struct dw_cut_request *request, const struct dw_cut_plan *plan, struct dw_faults *faults);

#endif
