/* parts.h - from sized drawers to the parts that are cut, with their joints, grooves, banding and marks. */
#ifndef DRAWERWRIGHT_PARTS_H
#define DRAWERWRIGHT_PARTS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/fault.h>
#include <drawerwright/job.h>
#include <drawerwright/length.h>
#include <drawerwright/sizing.h>

struct dw_arena;

enum dw_part_kind {
    DW_PART_FRONT,      /* the drawer front */
    DW_PART_SIDE,
    DW_PART_BOX_FRONT,
    DW_PART_BACK,
    DW_PART_BOTTOM,
    DW_PART_PACKING,    /* strips behind slides in a face-frame case */
    DW_PART_CASE,       /* a member of the case */
    DW_PART_EXTRA       /* listed by hand */
};

/* Work on a part after it is cut to size. */
enum dw_work_kind { DW_WORK_GROOVE, DW_WORK_DADO, DW_WORK_RABBET, DW_WORK_SLOT, DW_WORK_FINGERS, DW_WORK_TAILS, DW_WORK_PINS, DW_WORK_MITER,
                    DW_WORK_NOTCH, DW_WORK_HOLES, DW_WORK_LIP,
                    DW_WORK_LINE /* a line to mark: where a slide goes */ };

struct dw_part_work {
    enum dw_work_kind kind;
    const char *where;       /* "inside face, lower edge", "both ends" */
    dw_length from_edge;     /* near side of the cut from the edge or end named in `where` */
    dw_length width;         /* of the cut */
    dw_length depth;
    dw_length pitch;         /* fingers, tails, holes: center to center; 0 */
    int64_t number;          /* how many; 1 for a groove */
    const char *words;       /* the whole thing in one line for the maker, lengths in the job's units */
};

/* One piece, as it goes into one drawer. */
struct dw_piece {
    const char *mark;        /* short, stable, unique in the plan: see docs; fits masking tape */
    const char *drawer_path; /* "Bench/left/3"; "" for an extra */
    size_t case_index, case_copy, bank_index, drawer_index; /* DW_NO_INDEX where it belongs to none */
};

/* Like pieces: same size, material, grain, work and banding. */
struct dw_part {
    const char *id;          /* "p1", stable within a plan */
    enum dw_part_kind kind;
    const char *name;        /* "side", "box front", ... */
    size_t material;         /* index into the shop's materials */
    struct dw_figure length, width;           /* to cut; the grain runs along length when grain is DW_ALONG */
    dw_length finished_length, finished_width; /* after banding and trimming */
    dw_length thickness;
    enum dw_grain grain;
    bool upright;            /* its length stands upright as the drawer hangs (a front of vertical grain): the hung top is its left end */
    const struct dw_piece *pieces;
    size_t count;            /* pieces */
    size_t spares;           /* how many of them, the last ones, are spares */
    size_t banding[DW_EDGES]; /* top, bottom: along the length; left, right: the ends; index or DW_NO_INDEX */
    const struct dw_part_work *works;
    size_t work_count;
};

/* Fronts that are cut in order from one strip. */
struct dw_match {
    const char *name;
    bool stacked_along;      /* pieces follow each other along the strip's length (vertical grain); else across its width */
    const size_t *parts;     /* part of each piece, in order */
    const size_t *pieces;    /* and which piece of that part */
    size_t count;
};

enum dw_need_kind { DW_NEED_HARDWARE, DW_NEED_SLIDES, DW_NEED_BANDING };

/* A thing to buy that is no sheet: slides, pulls, screws, banding, glue. */
struct dw_need {
    enum dw_need_kind kind;
    size_t index;            /* into the shop's hardware, slides or bandings; DW_NO_INDEX when it stands on no line of the shop */
    const char *id;
    const char *name;
    const char *supplier;
    int64_t count;           /* pieces or pairs wanted */
    int64_t packs;           /* to buy */
    int64_t bought;          /* packs bought with plans before; 0 */
    dw_money price;          /* of a pack */
    dw_length length;        /* slides: their length; banding: the length in all; else 0 */
    const char *rule;        /* in words: "2 for each drawer: 14" */
};

struct dw_parts {
    const struct dw_sizing *sizing;
    const struct dw_part *at;   /* in order of material, kind, size */
    size_t count;
    const struct dw_match *matches;
    size_t match_count;
    const struct dw_need *needs;
    size_t need_count;
    const struct dw_part *later; /* of a job of which only some parts are planned: those that are left for later, with their sizes as they are now */
    size_t later_count;
    const char *const *case_letters; /* for each case of the sizing, the letter that leads its marks */
};

enum dw_status dw_parts_make(const struct dw_sizing *sizing, struct dw_arena *arena, struct dw_faults *faults,
                             const struct dw_parts **parts);

/* Words, lower case. */
const char *dw_part_kind_word(enum dw_part_kind kind);
const char *dw_joint_word(enum dw_joint joint);
const char *dw_bottom_word(enum dw_bottom bottom);
const char *dw_work_word(enum dw_work_kind kind);

#endif
