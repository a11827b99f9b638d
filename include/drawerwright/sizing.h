/* sizing.h - from openings to fronts and boxes, every figure with its figuring. */
#ifndef DRAWERWRIGHT_SIZING_H
#define DRAWERWRIGHT_SIZING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/fault.h>
#include <drawerwright/job.h>
#include <drawerwright/length.h>

struct dw_arena;

/* ---- figuring -------------------------------------------------------------------------------------------- */

enum dw_operation {
    DW_START,       /* take `amount` */
    DW_ADD,
    DW_SUBTRACT,
    DW_TIMES,       /* multiply by `numerator` / `denominator`, rounded down to a whole unit of length */
    DW_DOWN_TO,     /* round down to a multiple of `amount` */
    DW_UP_TO,
    DW_AT_MOST,     /* take the lesser of the running figure and `amount` */
    DW_AT_LEAST
};

struct dw_step {
    const char *words;          /* "opening width", "less two slide clearances" */
    enum dw_operation operation;
    dw_length amount;
    int64_t numerator, denominator; /* DW_TIMES only */
    dw_length after;            /* the running figure after this step */
};

/* A figure and the arithmetic that gives it: the steps done in order give value exactly. */
struct dw_figure {
    const char *name;           /* "front height" */
    dw_length value;
    const struct dw_step *steps;
    size_t step_count;
};

/* Does the figuring over again from its operations alone; DW_LENGTH_UNSET when it is ill-formed. */
dw_length dw_figure_again(const struct dw_figure *figure);

/* ---- what was sized --------------------------------------------------------------------------------------- */

/* A rectangle in the elevation of a case: x from the left outside edge, y up from the floor. */
struct dw_rectangle {
    dw_length x, y, width, height;
};

/* What bounds a front on one edge. */
enum dw_neighbor { DW_AT_MEMBER, DW_AT_RAIL, DW_AT_FRONT };

struct dw_sized_drawer {
    const struct dw_drawer *drawer;
    const char *address;          /* "cases[0].banks[1].drawers[2]" */
    const char *path;             /* for people: "Bench/left/3" */
    size_t case_index, bank_index, drawer_index;
    struct dw_rectangle space;    /* the clear space behind the front that the drawer may use */
    struct dw_rectangle front;    /* of the front in the elevation */
    struct dw_figure front_height, front_width;
    struct dw_figure overlay[DW_EDGES]; /* over the edge of the opening or rail; an inset front has minus its gap */
    dw_length gap_below;          /* to the next front, or to the member or rail when inset; DW_LENGTH_UNSET at an overlaid member */
    /* The box, everything glued to it counted: with an applied bottom the sides are lower than box_height by the
     * bottom's thickness; where the front is the box front, box_depth includes it. Unset figures (step_count 0) for a
     * door, panel or open space. An open space has no front either: front_height is its clear height, front its place. */
    struct dw_figure box_width, box_height, box_depth;       /* outside */
    struct dw_figure inside_width, inside_height, inside_depth;
    struct dw_figure slide_length;
    struct dw_figure slide_center; /* of the slide above the case floor (inside of the bottom); unset when fitted by hand */
    struct dw_figure set_back;     /* of the slide from the face of the case or frame */
    size_t slide;                  /* index into the shop's slides */
    dw_length side_clearance;      /* left on each side as the box was sized */
    dw_length packing[2];          /* behind each slide, left and right: face-frame packing, room for hinges */
    dw_length shim;                /* more behind each slide where a tapered opening is widest; 0 */
    struct dw_rectangle box;       /* in the elevation */
    dw_mass load, rating;          /* expected, allowed after derating (0: unknown) */
    dw_mass own;                   /* of the empty drawer; 0 when a density is not known */
    dw_length sag, sag_allowed;    /* of the bottom under its load; 0 when stiffness is not known */
};

struct dw_sized_rail {
    struct dw_rectangle at;
    enum dw_rail_kind kind;
};

struct dw_sized_bank {
    const struct dw_bank *bank;
    const char *address, *path;
    struct dw_rectangle opening;
    struct dw_figure opening_width, opening_height, opening_depth;
    struct dw_figure gap;          /* as it came out after rounding */
    struct dw_sized_drawer *drawers;
    size_t drawer_count;
    struct dw_sized_rail *rails;
    size_t rail_count;
    const char *freed;             /* in words: what rounding freed and where it went; "" */
};

struct dw_sized_case {
    const struct dw_case *source;
    const char *address, *path;
    dw_length width, height, depth; /* outside; derived from the opening where only that was given */
    dw_length inside_width;         /* between the sides, behind any face frame */
    dw_length inside_depth;         /* from the face (frame included) to the back; DW_LENGTH_UNSET when not given */
    struct dw_rectangle opening;    /* all banks with their partitions */
    struct dw_sized_bank *banks;
    size_t bank_count;
    dw_length partition;            /* width between banks */
};

struct dw_sizing {
    const struct dw_job *job;
    struct dw_sized_case *cases;
    size_t case_count;
    size_t drawer_count;           /* all drawers, counts of cases included */
    const char *const *notes;      /* advice for the bench that is no warning: fronts last, length of pull screws */
    size_t note_count;
};

/* Sizes a completed job. Impossible stacks, slides too long, boxes without room are errors of status DW_IMPOSSIBLE,
 * all of them in one run; cautions and strays are warnings. On errors *sizing is NULL. */
enum dw_status dw_size(const struct dw_job *job, struct dw_arena *arena, struct dw_faults *faults,
                       const struct dw_sizing **sizing);

/* Where a fault lies, for people: what faults->at[at] says, with all places of which the same is said, each case, bank and drawer by its name: "Bench,
 * banks left and right, drawers 1 to 3". `sizings` are those of all jobs planned together. An address of none of their things stays as it is. In
 * `arena` (inside a guard). */
const char *dw_places_called(struct dw_arena *arena, const struct dw_sizing *const *sizings, size_t count, const struct dw_faults *faults, size_t at);

/* Underside of the bottom above the lower edge of the sides: the slide's recess for an undermount, else by the kind of
 * bottom (the groove's height; 0 for one that is rabbeted in or applied). */
dw_length dw_bottom_up(const struct dw_job *job, const struct dw_drawer *drawer);

/* Does the box front or back of this corner run the full width of the box, rather than stand between its sides? */
bool dw_runs_full_width(const struct dw_corner *corner);

/* Length of a pull's screws: through the front and what lies behind it, with thread left for the pull (1/4 in, 6 mm), up to
 * the next length that screws come in (1/4 in, 5 mm). */
dw_length dw_pull_screw(dw_length front, dw_length behind, enum dw_unit unit);

/* Deepest point of a rectangular plate, all edges simply supported, under a uniform load: alpha q b^4 / (E t^3), alpha from
 * the series for nu = 0.3 (Roark's Formulas, Table 11.4 case 1a). Lengths in units; 0 when E is 0. */
dw_length dw_plate_sag(dw_length a, dw_length b, dw_length thickness, dw_pressure load, dw_pressure stiffness);

#endif
