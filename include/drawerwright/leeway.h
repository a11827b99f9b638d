/* leeway.h - sizes that give, to save a sheet.
 *
 * A maker's rules leave room: a box may be 1 to 2 in lower than its front, a slide one step shorter. This room looks whether that room saves money on
 * sheets, with the same optimizer and exact prices, and says what it changed, by how much, and what that saved. Sizes that are alike stay alike.
 *
 * Model. A knob is one size of a group of like drawers, with the values it may take, the preferred one first and smaller ones behind. Smaller parts
 * never cost more sheets (any plan for larger parts holds them too), so the corner with every knob at its smallest bounds all choices: its proven
 * lower bound holds for every one of them. Where the corner is no cheaper, nothing can be saved and that is certain. Else knobs are turned back one by one,
 * each as far as the cost allows.
 */
#ifndef DRAWERWRIGHT_LEEWAY_H
#define DRAWERWRIGHT_LEEWAY_H

#include <stdbool.h>
#include <stddef.h>

#include <drawerwright/purchase.h>

/* What was changed: one knob that does not stand at its preferred value. */
struct dw_leeway_change {
    const char *what;    /* "box height", "slide length" */
    const char *drawers; /* paths, "Chest/A/3, Chest/A/4" */
    dw_length from, to;
    size_t count;        /* drawers concerned */
};

struct dw_leeway {
    const struct dw_sizing *const *sizings; /* with the changes, one a job */
    const struct dw_parts *const *parts;
    const struct dw_purchase *purchase;     /* the plan with the changes; the one before when nothing was changed */
    const struct dw_leeway_change *changes;
    size_t change_count;
    dw_money saved;             /* on sheets and delivery */
    dw_money lower_bound;       /* no choice within the ranges costs less in sheets */
    bool certain;               /* the cost meets that bound: no choice of sizes saves more */
    const char *words;          /* one sentence for the maker */
};

struct dw_leeway_options {
    const char *const *keep;    /* paths of drawers, banks or cases whose sizes are to stay ("Bench", "Bench/2/3") */
    size_t keep_count;
    dw_length near;             /* 0: the rules' whole room; else only so much smaller, whatever the rules: what almost saved a sheet */
};

/* Looks for choices that make `before` cheaper. jobs are completed; `before` is their purchase. Everything in `arena`; returns DW_DONE with *leeway set
 * (change_count 0 when nothing helps), or DW_SURROUNDINGS. Faults of sizes that cannot be are not reported: such sizes are not taken. */
enum dw_status dw_leeway_search(const struct dw_job *const *jobs, size_t job_count, const struct dw_purchase *before,
                                const struct dw_leeway_options *options, const struct dw_layout_options *layout, const struct dw_control *control,
                                struct dw_arena *arena, struct dw_faults *faults, const struct dw_leeway **leeway);

#endif
