/* planning.h - one run of the worker: from the text of a job to its plan, with drawings, as the page is told it. */
#ifndef DWI_PAGE_PLANNING_H
#define DWI_PAGE_PLANNING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/fault.h>
#include <drawerwright/purchase.h>
#include <drawerwright/work.h>

#include "glimpse.h"

/* What is asked. */
struct dwi_wish {
    const char *id;   /* of the job: as the command line takes it from the file's name */
    const char *text;
    size_t length;
    enum dw_patience patience;
    bool use_rack;
    bool leeway;      /* sizes give by the shop's habits too, as with --leeway */
    bool whole;       /* it is weighed against other choices of sheets, and what almost saved a sheet is looked for, as on the command line */
    const char *follows, *only; /* what is planned is not the whole job (replan.h); "" */
    int64_t after;    /* a finished run of the same: what it found counts as found; 0 */
};

/* What came out of a run; everything in the arena. */
struct dwi_outcome {
    struct dw_arena *arena;
    struct dw_faults *faults;
    enum dw_status status;
    const char *answer; /* JSON members, without braces */
    const char *plan;
    size_t plan_length;
    const struct dw_purchase *purchase; /* for the packet, and for the run after it */
};

/* Who follows a run; told from any of its threads, one at a time. */
struct dwi_follower {
    void *context;
    void (*has_begun)(void *context, struct dwi_glimpses *glimpses);      /* NULL: what was drawn is about to go */
    void (*has_come_to)(void *context, const char *what);                 /* "sheets", "choices", "sizes", "near" */
    void (*stands)(void *context, const struct dw_standing *standing);    /* of one material of the plan, or of something else with what "" */
};

/* Plans; `shown` is a finished plan of the same text, or NULL. Runs in no guard. The outcome is dropped by dwi_outcome_drop. */
struct dwi_outcome dwi_plan(const char *folder, const struct dwi_wish *wish, const struct dw_purchase *shown, atomic_bool *cancel,
                            const struct dwi_follower *follower);
void dwi_outcome_drop(struct dwi_outcome *outcome);

#endif
