/* making.h - what the files of this room share while the parts of one job are made.
 *
 * A drawer is planned first (struct dwi_box: thicknesses, corners, bottom, all resolved and checked), then its parts are
 * made from the plan as blanks, one for each piece; at the end like blanks are gathered into parts.
 * Everything runs inside the guard of dw_parts_make; results live in its arena.
 */
#ifndef DRAWERWRIGHT_PARTS_MAKING_H
#define DRAWERWRIGHT_PARTS_MAKING_H

#include <drawerwright/parts.h>

#include "reckon.h"

/* The work on a part, growing. */
struct dwi_works {
    struct dw_part_work *at;
    size_t count, capacity;
};

/* One piece before like ones are gathered. `banding` by the edges of the part, as in struct dw_part. */
struct dwi_blank {
    enum dw_part_kind kind;
    const char *name;
    size_t material;
    struct dw_figure length, width;
    dw_length finished_length, finished_width;
    enum dw_grain grain;
    bool upright;
    size_t banding[DW_EDGES];
    struct dwi_works works;
    struct dw_piece piece;
    /* of a front that is matched: */
    const char *match;   /* name of its group; NULL when it is not matched */
    size_t match_copy;   /* groups of different copies of a case are strips of their own */
    size_t part, place;  /* where gathering put it: index of the part, and of the piece in it */
};

struct dwi_making {
    const struct dw_sizing *sizing;
    const struct dw_job *job;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dwi_blank *blanks;
    size_t blank_count, blank_capacity;
    const char *const *letters; /* of the cases, in marks */
};

/* ---- a drawer's plan ------------------------------------------------------------------------------------- */

/* How one end of a box is joined; every length resolved. */
struct dwi_corner {
    enum dw_joint joint;
    bool outside;            /* the cross piece runs the full width of the box */
    dw_length side, cross;   /* thicknesses as measured */
    dw_length depth;         /* of the rabbet or dado */
    dw_length tongue;
    dw_length lap;           /* lap, lip, or the dado's distance from the side's end */
    dw_length pitch;         /* DW_LENGTH_UNSET: by rule */
    int64_t slope;
    bool fastened;           /* screws or dowels go through it too */
    dw_length stop;          /* the side ends so far inside the outer face of this end of the box */
    dw_length reach;         /* the cross piece enters each side by so much: the whole of it when outside */
    dw_length inset;         /* the cross piece's outer face lies so far inside that of the box */
};

struct dwi_bottom {
    enum dw_bottom kind;
    const struct dw_material *material;
    dw_length depth;         /* of groove or rabbet */
    dw_length up;            /* lower edge of the groove above the lower edge of the sides */
    dw_length clearance;     /* in all, from side to side */
    dw_length clearance_deep; /* in all, from front to back */
};

struct dwi_box {
    const struct dw_sized_drawer *drawer;
    const char *address;     /* of the box in the job */
    const struct dw_material *side, *front, *back;
    size_t front_material;   /* index of `front` */
    bool is_front;           /* the box front is the drawer front */
    dw_length width, depth, height; /* outside */
    struct dw_figure side_height, front_height, back_height;
    dw_length overhang[DW_EDGES];   /* of a front that is the box front, beyond the box; else 0 */
    struct dwi_corner corners[2];   /* front, back */
    struct dwi_bottom bottom;
};

/* ---- making.c: small services ---------------------------------------------------------------------------- */

/* A length in the job's units, bare ("13 1/16") or with its unit. */
const char *dwi_say(const struct dwi_making *making, dw_length length);
const char *dwi_say_unit(const struct dwi_making *making, dw_length length);

/* The shop's material, or NULL after an error at address.key. */
const struct dw_material *dwi_material(struct dwi_making *making, size_t index, const char *address, const char *key);
const struct dw_banding *dwi_banding(const struct dwi_making *making, size_t index); /* NULL for DW_NO_INDEX */

/* Along its length for a material with grain, else free. */
enum dw_grain dwi_grain_along(const struct dw_material *material);

void dwi_add_work(const struct dwi_making *making, struct dwi_works *works, struct dw_part_work work);
void dwi_add_blank(struct dwi_making *making, const struct dwi_blank *blank);

/* A blank without banding, its finished size that of its figures. */
struct dwi_blank dwi_blank_of(enum dw_part_kind kind, const char *name, size_t material, struct dw_figure length, struct dw_figure width);

/* ---- one idea a file ------------------------------------------------------------------------------------- */

/* joints.c */
struct dwi_corner dwi_plan_corner(struct dwi_making *making, const struct dw_corner *asked, dw_length side, dw_length cross,
                                  const char *address);
struct dw_figure dwi_side_length(const struct dwi_making *making, const struct dwi_box *box);
struct dw_figure dwi_cross_length(const struct dwi_making *making, const struct dwi_box *box, const struct dwi_corner *corner);

/* joint_works.c: what is cut at the ends of sides and cross pieces. end 0: front, 1: back. */
void dwi_joint_works(struct dwi_making *making, const struct dwi_box *box, int end, struct dwi_works *side, struct dwi_works *cross);

/* spacing.c */
struct dwi_spacing {
    int64_t number;         /* whole fingers (those of both pieces counted) or tails */
    dw_length pitch;        /* width of a finger; center to center of tails */
    dw_length rest;         /* of the height, past the last whole one */
    dw_length lower, higher; /* nearest heights that end on a whole one; lower is 0 when there is none */
};
dw_length dwi_finger_by_rule(dw_length thinner, enum dw_unit unit);
struct dwi_spacing dwi_space_fingers(dw_length height, dw_length finger);
struct dwi_spacing dwi_space_tails(dw_length height, dw_length pitch, enum dw_unit unit);
int64_t dwi_slope_hundredths(int64_t slope); /* angle of 1 : slope in hundredths of a degree */

/* bottoms.c: the bottom's plan needs the rest of the box planned; it settles the heights of sides, box front and back. */
void dwi_plan_bottom(struct dwi_making *making, struct dwi_box *box);
void dwi_bottom_works(const struct dwi_making *making, const struct dwi_box *box, dw_length from_edge, struct dwi_works *works);
void dwi_make_bottom(struct dwi_making *making, const struct dwi_box *box, struct dwi_blank *bottom);

/* front_parts.c: a front's blank; `works` are those of the box's joints and groove when it is the box front. */
bool dwi_make_front(struct dwi_making *making, const struct dw_sized_drawer *drawer, const struct dwi_box *box, struct dwi_works works,
                    struct dwi_blank *front);

/* banding.c */
dw_length dwi_banding_thickness(const struct dwi_making *making, size_t banding); /* 0 for none */
void dwi_less_banding(const struct dwi_making *making, struct dwi_reckoning *sum, size_t banding, const char *edge);
void dwi_check_banding(struct dwi_making *making, const size_t banding[DW_EDGES], const struct dw_material *material, const char *address);
bool dwi_need_banding(struct dwi_making *making, const struct dw_parts *parts, size_t banding, struct dw_need *need);

/* packing.c: after all other parts, because it is cut from the stock that they are cut from */
void dwi_make_packing(struct dwi_making *making);

/* box_parts.c: one piece of a drawer in a copy of its case, marked with these letters. */
void dwi_add_drawer_blank(struct dwi_making *making, const struct dw_sized_drawer *drawer, size_t copy, struct dwi_blank blank,
                          const char *letters);

/* box_parts.c, casework.c, extras.c */
void dwi_make_drawers(struct dwi_making *making);
void dwi_make_casework(struct dwi_making *making);
void dwi_make_extras(struct dwi_making *making);

/* pulls.c: where a drawer front is drilled, and whether hardware goes on it. */
void dwi_pull_works(const struct dwi_making *making, const struct dw_sized_drawer *drawer, struct dwi_works *works);
bool dwi_hardware_fits(const struct dw_hardware *hardware, const struct dw_sized_drawer *drawer);

/* marks.c */
const char *const *dwi_case_letters(const struct dwi_making *making);
const char *dwi_mark_drawer(const struct dwi_making *making, size_t case_index, size_t copy, size_t bank, size_t drawer, const char *part);
const char *dwi_mark_case(const struct dwi_making *making, size_t case_index, size_t copy, const char *part);
const char *dwi_mark_extra(const struct dwi_making *making, size_t extra, size_t piece);
const char *dwi_mark_spare(const struct dwi_making *making, size_t spare);

/* gather.c, match.c, needs.c */
void dwi_gather(struct dwi_making *making, struct dw_parts *parts);
void dwi_match(struct dwi_making *making, struct dw_parts *parts);
void dwi_needs(struct dwi_making *making, struct dw_parts *parts);

#endif
