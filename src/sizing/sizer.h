/* sizer.h - what the files of the sizing room share: the context of one run, and the order of its stages.
 *
 *     case.c      outside and members <-> openings, banks side by side
 *     readings.c  measured openings: the least counts, taper, racking
 *     edges.c     how far each front covers what stands round it
 *     stack.c     heights of the fronts in one bank
 *     rounding.c  the whole stack to the shop's step, and where the rest goes
 *     fronts.c    overlays, widths and places in the elevation
 *     slides.c    length, set-back, center line, rating
 *     boxes.c     width, height and depth of the boxes
 *     cautions.c  what may hurt, bind or tip
 */
#ifndef DRAWERWRIGHT_SIZING_SIZER_H
#define DRAWERWRIGHT_SIZING_SIZER_H

#include <drawerwright/sizing.h>

#include "figure.h"

/* One run of dw_size. All memory comes from `arena`, all faults go to `faults`. */
struct dwi_sizer {
    const struct dw_job *job;
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dw_habits *habits;
};

/* ---- words ------------------------------------------------------------------------------------------------ */

/* A length with its unit, in the job's style. */
const char *dwi_show(const struct dwi_sizer *sizer, dw_length length);

/* "3 gaps of 1/8 in", "1 rail": a number, its noun in the right form, and the size of each unless negative. */
const char *dwi_count_of(const struct dwi_sizer *sizer, size_t count, const char *one, const char *many, dw_length each);

/* The place of one value of a drawer: "cases[0].banks[1].drawers[2].box.height". */
const char *dwi_place(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, const char *key);

/* ---- cases ------------------------------------------------------------------------------------------------ */

/* Outside, opening and banks of a case. The banks' drawers are laid out with their addresses, not yet sized. Returns
 * false, with faults, when the banks have no certain openings. */
bool dwi_case_open(const struct dwi_sizer *sizer, size_t case_index, struct dw_sized_case *sized);

/* Width seen from the front of the outer member at an edge: side or stile, top, bottom or rail; 0 where there is none. */
dw_length dwi_case_member(const struct dw_case *source, enum dw_edge edge);

/* Packing behind the slides of a bank, left (0) or right (1): face frame, room for hinges. */
dw_length dwi_case_packing(const struct dw_case *source, size_t bank_index, int right);
dw_length dwi_case_hinge_room(const struct dw_case *source, size_t bank_index, int right);

/* Does something stand there, rather than nothing? */
static inline bool dwi_is_rail(enum dw_rail_kind kind)
{
    return kind == DW_RAIL_REAL || kind == DW_RAIL_DUMMY;
}

/* ---- readings --------------------------------------------------------------------------------------------- */

/* Warns of taper, racking and uneven heights of a bank's opening. */
void dwi_readings_warn(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, const struct dw_sized_bank *bank);

/* Warns of readings of a whole case that its banks cannot be held to. */
void dwi_readings_warn_case(const struct dwi_sizer *sizer, const struct dw_sized_case *sized);

/* How much wider than its least a bank's opening is at its widest; 0 with fewer than two readings. */
dw_length dwi_readings_taper(const struct dw_case *source, const struct dw_bank *bank);

/* Lean over the whole height of an opening `width` wide with these diagonals: (d1^2 - d2^2) / (4 width), not negative. */
dw_length dwi_readings_lean(struct dw_readings diagonals, dw_length width);

/* ---- the stack of fronts ---------------------------------------------------------------------------------- */

/* How one edge of a front meets what it stands against. */
struct dwi_edge {
    dw_length cover;      /* over the member; an inset edge has minus its gap; 0 where a stacked front or an open space has no member */
    dw_length freed;      /* what rounding has taken off the cover since */
    bool is_gap;          /* the edge keeps a gap which rounding may widen */
    bool is_overlay;      /* the edge lies over a member */
    const char *words;    /* for the figuring: "gap to the rail", "overlay at the top" */
    /* A cover that follows from the member: (member - less), halved where two fronts share it. member 0: told, not figured. */
    dw_length member, less;
    const char *less_words;
    bool halved;
};

/* Where two things meet in a stack: seam 0 above the first front, seam i between fronts i - 1 and i, the last one below. */
struct dwi_seam {
    enum dw_rail_kind rail;   /* none also at both ends, where the opening ends */
    dw_length height;         /* of the rail */
    dw_length between;        /* gap between two fronts with no rail; 0 else */
    struct dwi_edge above;    /* lower edge of the front above the seam */
    struct dwi_edge below;    /* upper edge of the front below the seam */
    bool shared;              /* both fronts share the rail, a gap between them: rounding narrows both */
};

enum dwi_height_state {
    DWI_HEIGHT_SET,   /* known before the others share: never rounded */
    DWI_HEIGHT_OPEN   /* takes part of the rest: rounded */
};

struct dwi_stack {
    const struct dw_sized_case *sized;
    struct dw_sized_bank *bank;
    size_t count;                   /* of drawers, doors, panels and open spaces */
    struct dwi_seam *seams;         /* count + 1 */
    enum dwi_height_state *states;  /* count */
    struct dwi_figuring *heights;   /* count: figuring of each front's height */
    dw_length freed;                /* what is left after rounding */
};

/* The cover, figured. */
struct dw_figure dwi_edge_figure(const struct dwi_sizer *sizer, const struct dwi_edge *edge, const char *name);

/* Faults of the fits of a whole case: full overlay on a member too thin, fronts that lap each other over a partition or
 * reach past the outside. */
void dwi_edges_check(const struct dwi_sizer *sizer, const struct dw_sized_case *sized);

/* The seams of a bank by the fits of its fronts. */
void dwi_edges_find(const struct dwi_sizer *sizer, struct dwi_stack *stack);

/* The edge of a front toward the member at its left (DW_LEFT) or right. */
struct dwi_edge dwi_edge_side(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, size_t bank_index,
                              const struct dw_drawer *drawer, enum dw_edge side);

/* Distance between the fronts (or front and opening's end) at a seam; negative where a front laps an end. */
dw_length dwi_seam_size(const struct dwi_seam *seam);

/* Solves the heights. Returns false, with a fault, when the stack has no or no certain solution. */
bool dwi_stack_solve(const struct dwi_sizer *sizer, struct dwi_stack *stack);

/* Rounds the solved heights and gives what is freed to gaps, ends or a front; writes the words and the bank's gap.
 * Returns false, with a fault, when nothing in the stack can take it. */
bool dwi_stack_round(const struct dwi_sizer *sizer, struct dwi_stack *stack);

/* ---- fronts, boxes, slides -------------------------------------------------------------------------------- */

/* Places a solved stack's fronts, rails and spaces in the elevation. */
void dwi_fronts_place(const struct dwi_sizer *sizer, struct dwi_stack *stack, size_t bank_index);

/* Chooses the slide of a placed drawer: set-back and length. Returns false, with a fault, when none fits. */
bool dwi_slide_choose(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank, struct dw_sized_drawer *drawer);

/* Center line and rating, once the box is sized. */
void dwi_slide_finish(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, struct dw_sized_drawer *drawer);

/* Width, height and, where its slide is chosen, depth of the box of a placed drawer. */
void dwi_box_fit(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, const struct dw_sized_bank *bank,
                 struct dw_sized_drawer *drawer, bool has_slide);

/* Where the stack has no solution: is the opening at least wide enough for a box? */
void dwi_box_try_width(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, const struct dw_sized_bank *bank,
                       struct dw_sized_drawer *drawer);

/* The bottom's underside above the sides' lower edge, and its thickness: what stands between outside and inside height. */
dw_length dwi_box_under(const struct dw_job *job, const struct dw_drawer *drawer);

/* The drawer's slide. A drawer that names none is fitted by hand without clearance; its fault is reported elsewhere. */
const struct dw_slide *dwi_slide_of(const struct dw_job *job, const struct dw_drawer *drawer);

/* Measured thickness of a material; 0 for DW_NO_INDEX. */
dw_length dwi_thickness(const struct dw_job *job, size_t material);

/* Thickness that a front which is the box front adds to the box's depth; 0 for an applied front. */
dw_length dwi_slab_thickness(const struct dw_job *job, const struct dw_drawer *drawer);

/* ---- cautions --------------------------------------------------------------------------------------------- */

void dwi_cautions_bank(const struct dwi_sizer *sizer, struct dw_sized_bank *bank);
void dwi_cautions_case(const struct dwi_sizer *sizer, const struct dw_sized_case *sized);
void dwi_cautions_notes(const struct dwi_sizer *sizer, struct dw_sizing *sizing);

#endif
