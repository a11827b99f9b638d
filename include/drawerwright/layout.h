/* layout.h - the parts of each material as a cutting problem, and its answer as named pieces on sheets with the ladder of cuts.
 *
 * Two frames. A sheet is bought length x width, x along its length, and unless told its grain runs along x. The cutting room is asked
 * in the grain's frame, where the grain always runs along x: a sheet with its grain across is turned on the way in and turned back on
 * the way out, so that everything in a dw_layout_sheet is in the sheet's own frame again.
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
    const char *supplier;   /* "" for an owned one */
    bool owned;             /* from the rack */
    size_t offer;           /* index into the material's sheets; DW_NO_INDEX when owned */
    size_t owned_index;     /* index into the options' owned; DW_NO_INDEX when bought */
    dw_length length, width;
    bool grain_across;      /* and the material has a grain */
    dw_length trim[4];      /* x low, x high, y low, y high, in the sheet's frame; at the high sides never less than the allowance, so that
                               a sheet that comes smaller by that much still holds the layout */
    dw_length allowance;    /* how much smaller than its size the sheet may come; 0: trusted to its size */
    dw_money price;         /* money out for the first one; breaks are the purchase room's matter */
    dw_money value;
    int64_t count;          /* DW_NO_LIMIT */
    const char *note;       /* what the maker noted of it; "" */
};

/* An offcut that the shop owns, as the rack lists it. */
struct dw_owned {
    const char *id;
    const char *material;   /* id */
    dw_length length, width;
    bool grain_across;
    dw_money value;
    int64_t count;
    dw_length trim[4];      /* not to be used: x low, x high, y low, y high (a factory edge, a damaged one) */
    const char *note;       /* what the maker noted of it; NULL: nothing */
};

struct dw_layouts;

/* What the maker asks of all layouts. All-zero: the defaults. */
struct dw_layout_options {
    enum dw_patience patience;
    int64_t work;           /* units of work for each material; 0: what the patience says */
    int64_t milliseconds;
    uint64_t seed;
    int threads;
    int turns;              /* 0: any */
    int first_cut;          /* 0: either; 1: along the grain first (rips); 2: across first */
    const struct dw_owned *owned;
    size_t owned_count;
    const struct dw_taken *taken; /* of what is offered in a limited number so many are gone */
    size_t taken_count;
    dw_mass lift_most;      /* a heavier sheet is cautioned about; 0: what the shop's habits say */
    bool no_choices;        /* a purchase is not compared with other choices of sheets */
    const struct dw_layouts *known; /* laid out before: a material of which the same is asked again keeps its plan; or NULL */
    const struct dw_given *given; /* what the plans before settled, and the jobs say by now */
    size_t given_count;
    const char *follows;    /* mark of the plan that this one is to replace; NULL */
    int64_t seen;           /* the last mark of its history that is known (progress.h) */
};

/* One material's problem: what the cutting room is asked, and what its numbers stand for. The request is in the grain's frame. */
struct dw_layout_problem {
    size_t material;                  /* index into the first job's materials (jobs planned together share a shop) */
    const char *letter;               /* "S": leads the names of its sheets */
    const char *const *chalked;       /* what stands on everything left of plans before, of all materials: "S1", "S1-b". A whole sheet keeps its name, and
                                         no other one is called so */
    size_t chalked_count;
    struct dw_cut_request request;
    const struct dw_sheet_source *sources; /* for each sheet of the request */
    size_t source_count;
    const struct dw_piece_ref *const *pieces; /* for each part of the request, its pieces in order: request.parts[i].count of them, or
                                                 those of the matched group in its order */
    const struct dw_match *const *matches;    /* for each part of the request: the matched group that it stands for as a whole, or NULL */
    dw_mass lift_most;
};

struct dw_layout_node {
    dw_length x, y, length, width;    /* on the sheet as bought */
    enum dw_node_use use;
    enum dw_cut cut;                  /* in the sheet's frame: a rip splits the width, a crosscut the length */
    const struct dw_layout_node *pieces; /* in the order of cutting: large before small, offcuts and waste last; matched fronts in theirs */
    size_t piece_count;
    bool in_order;                    /* DW_NODE_CUT: a matched group, or rough; its pieces keep this order, from the low edge */
    bool rough;                       /* DW_NODE_CUT: cut roughly, each piece over size at its rough edges; in_order too */
    struct dw_piece_ref piece;        /* DW_NODE_PART */
    const char *mark;                 /* DW_NODE_PART: of the piece; DW_NODE_KEEP: of the offcut ("S1-off1"); else "" */
    bool turned;                      /* DW_NODE_PART: the part's length lies along y */
    dw_length after;                  /* between it and the next piece of the same cut: what the saw takes that cuts it off, and at a rough cut
                                         what is over on both sides; 0 for the last */
};

/* How a sheet comes to the saw. */
enum dw_breakdown {
    DW_SHEET_WHOLE,
    DW_SHEET_ROUGH, /* broken down in the shop first */
    DW_SHEET_YARD   /* ... or at the yard */
};

/* A sheet that stays over the shop's limits is worth so many moves of fence or stop: a plan that breaks it down may take as many more. Our own choice. */
enum { DW_MOVES_FOR_HELP = 4 };

/* One sheet to cut. */
struct dw_layout_sheet {
    size_t source;                    /* index into the material's sources */
    const char *name;                 /* "S1": letter of the material, number of the sheet */
    struct dw_layout_node root;       /* the sheet less its trim */
    size_t like;                      /* index of the first sheet cut in the same way (itself when first) */
    bool tight;                       /* uses the sheet to less slack than its size tolerance */
    enum dw_breakdown broken;
    bool unwieldy;                    /* it, or a panel that it is broken down to, is over the shop's limits (lift_most, handle_...) all the same */
    bool over_van;                    /* ... or over the van's: then there is no layout */
};

/* ---- the ladder ------------------------------------------------------------------------------------------ */

enum dw_ladder_kind {
    DW_LADDER_YARD,      /* a rough cut, at the yard */
    DW_LADDER_ROUGH,     /* a rough cut, in the shop */
    DW_LADDER_TRIM,
    DW_LADDER_BREAKDOWN,
    DW_LADDER_RIP,
    DW_LADDER_CROSSCUT
};

/* What guides the cut. */
enum dw_guide {
    DW_GUIDE_FENCE,   /* table saw, edge against the rip fence */
    DW_GUIDE_OUTSIDE, /* likewise, but the wanted piece is the one away from the fence */
    DW_GUIDE_STOP,    /* table saw, sled or miter gauge with a stop; never the fence */
    DW_GUIDE_TRACK,   /* track or panel saw, measured from the edge */
    DW_GUIDE_ROUGH,   /* track, panel or circular saw: about so far from the edge */
    DW_GUIDE_YARD     /* likewise, at the yard */
};

/* One pass of the saw: a panel becomes what comes off and what is left. */
struct dw_ladder_cut {
    size_t panel, off, rest;          /* indices into the ladder's panels; rest is DW_NO_INDEX when the blade takes all that was left */
    enum dw_cut cut;                  /* in the sheet's frame */
    bool high;                        /* taken off at the panel's high side (a trim of a high edge); else at its low side */
};

/* What is handled at the saw: a sheet as bought, what comes off it, what is left. The first ones are the sheets, in order. */
struct dw_panel {
    const char *name;                 /* for masking tape: "S1", "S1-b", the mark of a piece or offcut; "" for waste */
    size_t sheet;
    dw_length length, width;          /* in the sheet's frame */
    enum dw_node_use use;             /* DW_NODE_CUT: to be cut further */
    struct dw_piece_ref piece;        /* DW_NODE_PART */
    const struct dw_layout_node *node; /* what it is to become; NULL for trims and for what is left on the way */
};

/* What a rung does to one panel in hand. */
struct dw_ladder_step {
    const char *from;                 /* its name: "S1-b" */
    size_t cuts;                      /* passes of the saw */
    const char *off;                  /* names of what comes off, "A-1.2L A-1.2R", or "scrap"; a trim: which edges */
    const char *left;                 /* what is left then: a mark, an offcut to keep with its size, the panel's own name when more is cut
                                         from it later, "scrap"; "" for nothing, and for a trim */
};

/* One rung of the ladder: one setting, and all that is cut at it. */
struct dw_ladder_rung {
    int number;                       /* from 1, in the order of work */
    enum dw_ladder_kind kind;
    dw_length setting;                /* size of what comes off, at a rough cut over-size included; DW_GUIDE_OUTSIDE: of what stays between fence and blade; a trim: what a
                                         track or stop takes off, kerf included, or what a fence leaves */
    size_t saw;                       /* index into the shop's saws; DW_NO_INDEX when the shop names none */
    enum dw_guide guide;
    const char *tool;                 /* "rip fence", "sled or miter gauge with a stop", "track": where the setting is set */
    const struct dw_ladder_cut *cuts; /* saw passes at this setting, in order */
    size_t cut_count;
    const char *edge;                 /* which edge, against or from what: "trimmed edge against the fence" */
    const struct dw_ladder_step *steps; /* one for each panel, in the order of cutting */
    size_t step_count;
    const char *what;                 /* the steps in one run of words */
    const char *caution;              /* "" or one short sentence */
    const char *const *sheets;        /* names of the sheets concerned */
    size_t sheet_count;
};

struct dw_ladder {
    const struct dw_ladder_rung *rungs;
    size_t rung_count;
    const struct dw_panel *panels;
    size_t panel_count;
    size_t settings;                  /* fence and stop moves besides trims and rough cuts */
    size_t cuts;                      /* saw passes, trims included */
    const char *const *cautions;      /* one short block, for the whole material */
    size_t caution_count;
};

struct dw_material_layout {
    const struct dw_layout_problem *problem;
    const struct dw_cut_plan *plan;   /* that it was made of; with problem->request */
    enum dw_cut_outcome outcome;
    struct dw_layout_sheet *sheets;
    size_t sheet_count;
    dw_money cost, lower_bound;       /* at first prices, of this material alone */
    bool proved;
    enum dw_cut_stop stop;
    int64_t work_done;
    const struct dw_cut_inequality *certificate;
    size_t certificate_count;
    struct dw_ladder ladder;
    dw_area parts_area, sheets_area, kept_area;
};

struct dw_layouts {
    const struct dw_parts *const *jobs; /* planned together */
    size_t job_count;
    const struct dw_material_layout *materials;
    size_t material_count;
};

/* The problems of all materials in use, in the order of the shop's list, the batches of a material behind it. A part that fits no sheet is an error DW_IMPOSSIBLE that names
 * the piece and the nearest sheet; a material without sheets likewise. */
enum dw_status dw_layout_problems(const struct dw_parts *const *jobs, size_t job_count, const struct dw_layout_options *options,
                                  struct dw_arena *arena, struct dw_faults *faults,
                                  const struct dw_layout_problem **found, size_t *count);

/* A cutting plan back into named pieces, with its ladder; replayed by this room's own checker before it is returned (DW_PROGRAM when
 * that refuses it). Warns of tight sheets. DW_IMPOSSIBLE when no saw of the shop can make a cut; the fault names the piece. */
enum dw_status dw_layout_make(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, const struct dw_cut_plan *plan,
                              struct dw_arena *arena, struct dw_faults *faults, struct dw_material_layout *layout);

/* As dw_cut_solve, for plans with the problem's first cut on whose sheets there is room for rough cuts of that kind, where the shop's limits or the
 * van's ask for some: such sheets are asked about as so much smaller. The plan is one of problem->request. A search among smaller sheets bounds
 * nothing: where there are some, the bound and certificate are those of `bound`, a plan of the same parts and sheets. */
enum dw_status dw_layout_solve_with_room(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, const struct dw_cut_plan *bound,
                                         const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults,
                                         const struct dw_cut_plan **plan);

/* "trim", "rip" and so on. */
const char *dw_ladder_word(enum dw_ladder_kind kind);

/* A rough cut, in the shop or at the yard. */
bool dw_rung_is_rough(const struct dw_ladder_rung *rung);

/* A size at a rough cut as it is said: to the nearest 1/16 in, or millimeter. */
dw_length dw_rough_size(dw_length size, enum dw_unit unit);

/* The checker of ladders: follows every cut from the sheets as bought, by the sizes alone, and holds what is left at the end against the
 * pieces wanted and the offcuts named, and every pass against the saw's limits. Each breach is an error of status DW_PROGRAM. */
bool dw_ladder_replay(const struct dw_parts *const *jobs, const struct dw_material_layout *layout, struct dw_faults *faults);

#endif
