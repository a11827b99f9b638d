/* leeway.h - sizes that give, to save a sheet.
 *
 * A maker's rules leave room: a box may be 1 to 2 in lower than its front, a slide one length shorter, a front a step lower and its neighbor as much
 * higher. This room looks whether that room saves money on sheets, with the same optimizer and exact prices, and says what it changed, by how
 * much, and what that saved. Sizes that are alike stay alike, and every rule of sizing holds for what comes out. docs/leeway.md is for makers.
 *
 * Model. A knob is one size of a group of like drawers, with the values it may take, the preferred one first and smaller ones behind. Smaller parts
 * never cost more sheets (any plan for larger parts holds them too), so the corner with every knob at its smallest bounds all choices: its proven
 * lower bound holds for every one of them. Where the corner is no cheaper, nothing can be saved and that is certain. Else knobs are turned back
 * towards what is preferred, as far as the sheets of the corner allow. Fronts of a bank, whose sum is kept, and slides that cost more when they are shorter
 * are chosen by an integer program over layouts and sizes, with a bound of its own on all choices.
 */
#ifndef DRAWERWRIGHT_LEEWAY_H
#define DRAWERWRIGHT_LEEWAY_H

#include <stdbool.h>
#include <stddef.h>

#include <drawerwright/purchase.h>

/* One value of a job to be set, by its address in the job as it is read (a bare count of drawers is written out first). */
enum dw_leeway_edit_kind {
    DW_EDIT_LENGTH,
    DW_EDIT_NONE,    /* the number 0 */
    DW_EDIT_OVERLAY, /* the word "overlay" */
    DW_EDIT_LIPPED   /* the word "lipped" */
};

struct dw_leeway_edit {
    size_t job;
    const char *address; /* "cases[0].banks[1].drawers[2].box.height_most" */
    enum dw_leeway_edit_kind kind;
    dw_length length;
};

/* What was changed: one knob that does not stand at its preferred value. */
struct dw_leeway_change {
    const char *what;    /* "box height", "slide length", "bottom groove height", "overlay", "front heights", "length", "width" */
    const char *drawers; /* paths, "Chest/A/1 to 4, Chest/B/2"; of what is listed by hand, its names */
    dw_length from, to;  /* front heights: of the front that is lower by most */
    size_t count;        /* drawers or parts concerned, copies of their cases counted */
    dw_money saved;      /* so much more would sheets and slides cost without this one, as far as a short look found; 0: nothing, or too many to look */
    dw_money slides;     /* what its slides cost more; less than 0: less */
    const char *const *paths; /* "Chest/A/1" ...; --keep with one leaves the size there as it was */
    size_t path_count;
    const char *words;   /* "box height 4 3/8 instead of 4 1/2, 1/8 lower (Chest/A/1 to 4)" */
    const struct dw_leeway_edit *take;   /* written into the job, it comes out at these sizes without leeway */
    size_t take_count;
    const struct dw_leeway_edit *refuse; /* written into the job, these sizes do not give, as with --keep; none for near misses */
    size_t refuse_count;
};

/* One piece without which a sheet less would do. */
struct dw_leeway_alone {
    size_t material;     /* index into the layouts' materials */
    struct dw_piece_ref piece;
    dw_money saved;      /* of all sheets and delivery, breaks in prices counted, without it */
    const char *words;
};

struct dw_leeway {
    const struct dw_sizing *const *sizings; /* with the changes, one a job; their jobs are copies with the changes told */
    const struct dw_parts *const *parts;
    const struct dw_purchase *purchase;     /* the plan with the changes; the one before when nothing was changed */
    const struct dw_leeway_change *changes;
    size_t change_count;
    const struct dw_leeway_alone *alone;    /* looked for where `near` was asked */
    size_t alone_count;
    int64_t sheets_before, sheets_after;
    dw_money before;            /* sheets and delivery without the changes */
    dw_money slides;            /* what slides cost more with the changes; less than 0 only where the job itself lets slides get shorter */
    dw_money saved;             /* of sheets, delivery and slides */
    dw_money lower_bound;       /* sheets, delivery and what slides cost more: no choice within the ranges costs less; 0 when nothing is known of all */
    bool certain;               /* the cost meets that bound: no choice of sizes saves more */
    const char *sheets;         /* "1 sheet less of 1/2 birch plywood (full)"; "" when none */
    const char *words;          /* one sentence for the maker */
};

struct dw_leeway_options {
    const char *const *keep;    /* paths of drawers, banks or cases, or names of listed parts, whose sizes are to stay ("Bench", "Bench/2/3") */
    size_t keep_count;
    bool habits;                /* what the job does not say goes by the shop's habits; else only ranges that the job gives are used */
    /* Makes the parts of all jobs into those that are planned, as those of `before` are; NULL: they are planned as they are made. Inside a guard. */
    void (*planned)(const void *context, const struct dw_parts **parts, size_t job_count, struct dw_arena *arena);
    const void *planned_context;
    bool every;                 /* every size is chosen by the integer program, not only those that hang together: slower; to compare the methods */
    dw_length near;             /* 0: ranges; else each size only so much smaller, told or not, whatever the ranges: what almost saved a sheet */
};

/* True when a completed job gives a range of its own, so that its sizes may give without further asking. */
bool dw_leeway_is_told(const struct dw_job *job);

/* Looks for choices that make `before` cheaper. jobs are completed; `before` is their purchase, made with the layout options given here.
 * Everything in `arena`; returns DW_DONE with *leeway set (change_count 0 when nothing helps), or DW_SURROUNDINGS. Faults of sizes that cannot
 * be are not reported: such sizes are not taken. What is taken never costs more than `before`. Looking takes a bounded number of units of work. */
enum dw_status dw_leeway_search(const struct dw_job *const *jobs, size_t job_count, const struct dw_purchase *before,
                                const struct dw_leeway_options *options, const struct dw_layout_options *layout, const struct dw_control *control,
                                struct dw_arena *arena, struct dw_faults *faults, const struct dw_leeway **leeway);

/* A copy of a purchase in `arena` (inside a guard) that carries what was found of its sizes, for its plan file and packet. Both may be NULL. */
const struct dw_purchase *dw_leeway_tell(const struct dw_purchase *purchase, const struct dw_leeway *leeway, const struct dw_leeway *near,
                                         struct dw_arena *arena);

#endif
