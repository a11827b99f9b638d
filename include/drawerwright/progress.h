/* progress.h - how far the work on a plan is: what is cut, what is spoiled, what is left of every sheet, in the shop's ledger.
 *
 * A plan is entered with its pieces and with every pass of the saw that its ladders say. Since each pass makes two known panels of one, a mark such as
 * "this piece is cut" or "sheet A2 is done to step 7" tells all that lies on the bench: the panels made and not cut since. Marks are never
 * changed or deleted; one is taken back by a reversing one. A plan may follow another one: it is made for what was left then, from what was left
 * then, and replaces it. The plans that follow one another are a chain, and only the last one may be worked from.
 */
#ifndef DRAWERWRIGHT_PROGRESS_H
#define DRAWERWRIGHT_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/fault.h>
#include <drawerwright/job.h>
#include <drawerwright/length.h>
#include <drawerwright/money.h>
#include <drawerwright/rack.h>

struct dw_arena;

#define DW_NO_PANEL SIZE_MAX

/* A piece that a plan makes. */
struct dw_work_piece {
    const char *mark, *name, *material;
    dw_length thickness, length, width; /* to cut */
};

enum dw_panel_use { DW_PANEL_TO_CUT, DW_PANEL_PIECE, DW_PANEL_KEEP, DW_PANEL_WASTE };

/* What is handled at the saw. */
struct dw_work_panel {
    const char *name;         /* "S1", "S1-b", the mark of a piece or offcut; "" for waste */
    const char *sheet;        /* name of the sheet that it comes from */
    const char *material;
    const char *source;       /* of a sheet: what it is: the id of the offer, of an offcut in the rack ("R12"), or of a panel left of an earlier
                                 plan ("K4T9XY/S1-b"); else "" */
    enum dw_panel_use use;
    size_t piece;             /* DW_PANEL_PIECE: index into the plan's pieces; else DW_NO_INDEX */
    dw_length length, width;  /* in the sheet's frame */
    dw_length trim[4];        /* not to be used: x low, x high, y low, y high */
    bool grain_across;
    dw_money value;           /* its share of the sheet's, by area */
};

/* A piece that an earlier plan cut to another size than is wanted now. */
struct dw_work_change {
    const char *mark, *words;
};

/* One pass of the saw. Passes stand in the order of work, material by material. */
struct dw_work_pass {
    int64_t step;             /* rung of its material's ladder */
    size_t panel, off, rest;  /* indices into the plan's panels; off or rest is DW_NO_PANEL where the blade takes all */
};

/* A plan as it is entered. The sheets are the panels that no pass makes; one that is just the size of a piece, as something left over may be, is
 * that piece, and cut from the beginning. */
struct dw_work_plan {
    const char *mark;
    const char *jobs;         /* names of its jobs */
    const char *follows;      /* mark of the plan that it replaces; "" */
    int64_t seen;             /* number of the last mark that was known when it was made; 0 */
    const struct dw_work_piece *pieces;
    size_t piece_count;
    const struct dw_work_panel *panels;
    size_t panel_count;
    const struct dw_work_pass *passes;
    size_t pass_count;
    const struct dw_work_change *changes;
    size_t change_count;
    const struct dw_goods *goods; /* beside sheets; bought: with this plan and those before */
    size_t goods_count;
};

enum dw_mark_kind {
    DW_MARK_ENTERED,          /* the plan itself */
    DW_MARK_CUT,              /* a piece, or a panel: it lies on the bench */
    DW_MARK_SHEET,            /* a sheet, cut up to and with a step */
    DW_MARK_SPOILED,          /* a piece or panel is of no use any more */
    DW_MARK_DAMAGED,          /* an edge of a panel is not to be used, so deep */
    DW_MARK_NOTE,             /* words, such as which face shows */
    DW_MARK_CHANGED,          /* a piece that is cut would come out to another size by the plan entered: made when that is entered, never by hand */
    DW_MARK_MEASURED          /* a sheet, or the one that a panel comes from, is so thick */
};

/* What a maker marks. */
struct dw_mark {
    enum dw_mark_kind kind;
    const char *target;       /* mark of a piece, name of a panel or sheet */
    int64_t step;             /* DW_MARK_SHEET */
    int edge;                 /* DW_MARK_DAMAGED: 0 to 3 as in `trim` */
    dw_length depth;          /* DW_MARK_DAMAGED; DW_MARK_MEASURED: the thickness */
    const char *note;
};

/* "S1 done to step 7", "S3 damaged, 2 1/2 from the left". In `arena` (inside a guard). */
const char *dw_mark_words(const struct dw_mark *mark, enum dw_unit unit, struct dw_arena *arena);

/* One line of the history. */
struct dw_marked {
    int64_t number;
    const char *when;         /* UTC */
    const char *plan;         /* worked from */
    struct dw_mark mark;
    bool taken_back;
};

enum dw_piece_state { DW_PIECE_TO_CUT, DW_PIECE_CUT, DW_PIECE_SPOILED };

/* A good piece that is cut, whichever plan of the chain it was cut from. */
struct dw_made_piece {
    struct dw_work_piece piece;
    const char *plan;
    dw_length measured;       /* as its sheet was measured; DW_LENGTH_UNSET: nobody did, and piece.thickness holds */
    const char *changed;      /* what the last plan says of its size; "" when it is as wanted */
};

/* A panel that lies on the bench and may be cut: an untouched sheet, what is left of one, an offcut worth keeping. */
struct dw_left_panel {
    struct dw_work_panel panel; /* `trim` holds what is damaged too */
    const char *id;             /* "K4T9XY/S1-b" */
    dw_length thickness;        /* as its sheet was measured; DW_LENGTH_UNSET: nobody did */
    const char *note;           /* what was noted of it or of its sheet last, such as which face shows; "" */
    const char *racked;         /* its number in the rack, where it is an offcut of the rack that nobody cut or damaged; else "" */
};

struct dw_progress {
    struct dw_work_plan plan;
    const char *replaced_by;         /* mark of the plan that follows this one; "" while it may be worked from */
    const enum dw_piece_state *states; /* of the plan's pieces */
    const int64_t *since;            /* of the plan's pieces: number of the mark that brought it to its state; 0 for none */
    const bool *made;                /* of the plan's passes: is it made? */
    const bool *lost;                /* of the plan's panels: was it spoiled, or what it is to come from? */
    const struct dw_made_piece *cut; /* of the whole chain, up to and with this plan */
    size_t cut_count;
    const struct dw_left_panel *left; /* likewise */
    size_t left_count;
    const struct dw_taken *taken;    /* sheets that the chain has taken of what the shop's materials offer */
    size_t taken_count;
    const char *const *racked;       /* offcuts of the rack that the chain has taken as sheets: they are no longer in the rack to be planned with */
    size_t racked_count;
    const struct dw_marked *history; /* of the whole chain, plan by plan, oldest first */
    size_t history_count;
    int64_t last;                    /* number of the last line of the history */
    bool posted;                     /* entered in the rack, so that its offcuts count as kept there */
};

/* Enters a plan, unless it is entered already (then nothing is done). DW_IMPOSSIBLE when the plan that it follows is unknown, was replaced by
 * another one, or has been worked from since this one was made. */
enum dw_status dw_progress_enter(struct dw_rack *rack, const struct dw_work_plan *plan, struct dw_faults *faults);

/* Marks something of a plan that is entered. DW_IMPOSSIBLE when the plan was replaced, when it has nothing of that name, or when that cannot be:
 * a piece that is spoiled is not cut again, what is cut is not damaged at its edge. */
enum dw_status dw_progress_mark(struct dw_rack *rack, const char *plan, const struct dw_mark *mark, struct dw_faults *faults);

/* Takes back the last mark of a plan that stands; the plan itself when there is none, so that the one before it may be worked from again.
 * *undone (may be NULL) says what, in `arena`. */
enum dw_status dw_progress_undo(struct dw_rack *rack, const char *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_mark *undone);

/* Takes back one mark of a plan by its number in the history, wherever it stands; not the plan itself. What else follows from the marks behind it stays.
 * DW_IMPOSSIBLE when there is no such mark to take back, or later ones would mean something else without it. */
enum dw_status dw_progress_take_back(struct dw_rack *rack, const char *plan, int64_t number, struct dw_faults *faults);

/* The plans that are entered, those that were replaced too, oldest first. */
struct dw_entered_plan {
    const char *mark, *jobs, *follows;
    const char *when;         /* UTC */
    const char *replaced_by;  /* "" while it may be worked from */
};

struct dw_entered_plans {
    const struct dw_entered_plan *at;
    size_t count;
};

enum dw_status dw_progress_plans(struct dw_rack *rack, struct dw_arena *arena, struct dw_faults *faults, struct dw_entered_plans *plans);

/* Where the work stands. *progress is NULL unless DW_DONE is returned; DW_IMPOSSIBLE when no plan of that mark is entered. */
enum dw_status dw_progress_read(struct dw_rack *rack, const char *plan, struct dw_arena *arena, struct dw_faults *faults,
                                const struct dw_progress **progress);

#endif
