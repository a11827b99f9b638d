/* layout.h - the parts of each material as a cutting problem, and its answer as named pieces on sheets with the order of cuts.
 *
 * To the maker's words: a sheet's length is what stands first in its size, and unless told the grain runs along it. Inside this room every
 * sheet is turned so that its grain runs along x; what comes out is in the sheet's own length (x) and width (y) again.
 */
#ifndef DRAWERWRIGHT_LAYOUT_H
#define DRAWERWRIGHT_LAYOUT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/cutting.h>
#include <drawerwright/fault.h>
#include <drawerwright/job.h>
#include <drawerwright/parts.h>

struct dw_arena;

/* A piece of a job's part: which of several jobs planned together, which part, which of its pieces. */
struct dw_piece_ref {
    size_t job, part, piece;
};

/* A sheet that can be used: bought, or owned (an offcut from the rack). */
struct dw_sheet_source {
    const char *id;         /* of the offer or the offcut */
    const char *supplier;
    bool owned;             /* from the rack */
    size_t offer;           /* index into the material's sheets; DW_NO_INDEX when owned */
    dw_length length, width;
    bool grain_across;
    dw_length trim[4];      /* x low, x high, y low, y high, of the sheet as bought */
    dw_length allowance;
    dw_money price;         /* money out for the first one; breaks are the purchase room's matter */
    dw_money value;
    int64_t count;          /* DW_NO_LIMIT */
};

/* An offcut that the shop owns, as the rack lists it. */
struct dw_owned {
    const char *id;
    const char *material;   /* id */
    dw_length length, width;
    bool grain_across;
    dw_money value;
    int64_t count;
};

/* What the maker asks of all layouts. All-zero: the defaults. */
struct dw_layout_options {
    enum dw_patience patience;
    int64_t milliseconds;
    uint64_t seed;
    int threads;
    int turns;              /* 0: any */
    int first_cut;          /* 0: either; 1: along first (rips); 2: across first */
    const struct dw_owned *owned;
    size_t owned_count;
};

/* One material's problem: what the cutting room is asked, and what its numbers stand for. */
struct dw_layout_problem {
    size_t material;                  /* index into the first job's materials (jobs planned together share a shop) */
    struct dw_cut_request request;
    const struct dw_sheet_source *sources; /* for each sheet of the request */
    size_t source_count;
    const struct dw_piece_ref *const *pieces; /* for each part of the request, its pieces in order (request.parts[i].count) */
    const struct dw_match *const *matches;    /* for each part of the request: the matched group it stands for, or NULL */
};

struct dw_layout_node {
    dw_length x, y, length, width;    /* on the sheet as bought */
    enum dw_node_use use;
    enum dw_cut cut;
    const struct dw_layout_node *pieces;
    size_t piece_count;
    struct dw_piece_ref piece;        /* DW_NODE_PART */
    const char *mark;                 /* DW_NODE_PART: of the piece; DW_NODE_KEEP: of the offcut; else "" */
    bool turned;
};

/* One sheet to cut. */
struct dw_layout_sheet {
    size_t source;                    /* index into the material's sources */
    const char *name;                 /* "A1": letter of the material, number of the sheet */
    struct dw_layout_node root;
    size_t like;                      /* index of the first sheet cut in the same way (itself when first) */
    bool tight;                       /* uses the sheet to less slack than its size tolerance */
};

enum dw_ladder_kind { DW_LADDER_TRIM, DW_LADDER_BREAKDOWN, DW_LADDER_RIP, DW_LADDER_CROSSCUT };

/* One rung of the cut ladder: one setting, and all that is cut at it. */
struct dw_ladder_rung {
    int number;                       /* from 1, in the order of work */
    enum dw_ladder_kind kind;
    dw_length setting;                /* fence or stop distance */
    const char *tool;                 /* "rip fence", "stop", "track": where the setting is set */
    size_t cuts;                      /* saw passes at this setting */
    const char *what;                 /* in words: from which pieces, what comes off, where it goes next */
    const char *caution;              /* "" or one short sentence */
    const char *const *sheets;        /* names of the sheets concerned */
    size_t sheet_count;
};

struct dw_material_layout {
    const struct dw_layout_problem *problem;
    enum dw_cut_outcome outcome;
    struct dw_layout_sheet *sheets;
    size_t sheet_count;
    dw_money cost, lower_bound;       /* at first prices, of this material alone */
    bool proved;
    enum dw_cut_stop stop;
    int64_t work_done;
    const struct dw_cut_inequality *certificate;
    size_t certificate_count;
    const struct dw_ladder_rung *rungs;
    size_t rung_count;
    size_t settings, cuts;            /* distinct settings besides trims; saw passes */
    dw_area parts_area, sheets_area, kept_area;
};

struct dw_layouts {
    const struct dw_parts *const *jobs; /* planned together */
    size_t job_count;
    const struct dw_material_layout *materials;
    size_t material_count;
};

/* The problems of all materials in use, in the order of the shop's list. A part that fits no sheet is an error DW_IMPOSSIBLE that names
 * the piece and the nearest sheet; a material without sheets likewise. */
enum dw_status dw_layout_problems(const struct dw_parts *const *jobs, size_t job_count, const struct dw_layout_options *options,
                                  struct dw_arena *arena, struct dw_faults *faults,
                                  const struct dw_layout_problem **problems, size_t *count);

/* A cutting plan back into named pieces, with its ladder; replayed by this room's own checker before it is returned (DW_PROGRAM when
 * that refuses it). Warns of tight sheets. */
enum dw_status dw_layout_make(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, const struct dw_cut_plan *plan,
                              struct dw_arena *arena, struct dw_faults *faults, struct dw_material_layout *layout);

#endif
