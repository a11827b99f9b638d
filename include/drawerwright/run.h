/* run.h - the whole line in one call: a job in, a purchase (and with it everything before it) out. */
#ifndef DRAWERWRIGHT_RUN_H
#define DRAWERWRIGHT_RUN_H

#include <drawerwright/leeway.h>
#include <drawerwright/plan.h>
#include <drawerwright/progress.h>
#include <drawerwright/purchase.h>
#include <drawerwright/rack.h>

/* How far to go. */
enum dw_stage { DW_STAGE_CHECK, DW_STAGE_SIZE, DW_STAGE_PARTS, DW_STAGE_LAYOUT };

/* What came out, as far as it was asked for and could be done; the rest is NULL. */
struct dw_run {
    const struct dw_job *const *jobs;        /* completed */
    size_t job_count;
    const struct dw_sizing *const *sizings;
    const struct dw_parts *const *parts;
    const struct dw_parts *const *whole;     /* all parts, also where only some are planned */
    const struct dw_purchase *purchase;
};

/* Jobs are as read (not completed). Faults of several jobs carry the job's id before their address ("bench: cases[0]..."). Everything in
 * `arena`. Returns the gravest status; *run holds the stages that were reached. */
enum dw_status dw_run_jobs(const struct dw_job *const *jobs, size_t job_count, enum dw_stage last, const struct dw_layout_options *options,
                           const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults, struct dw_run *run);

/* Only some of a job's parts. */
struct dw_run_rest {
    const char *const *only;         /* "boxes", "fronts", "case", "extras", or paths of cases, banks or drawers ("Bench/2"); none: all */
    size_t only_count;
    const struct dw_made_piece *cut; /* what is cut already and stays as it is (progress.h) */
    size_t cut_count;
    const struct dw_work_piece *planned; /* the pieces of the plan before: each stays with the batch that it was planned from, where it can */
    size_t planned_count;
    const struct dw_goods *bought;   /* beside sheets, with the plans before (plan.h): that much less is to buy */
    size_t bought_count;
    bool follows;                    /* another plan came before */
};

/* The whole line for what is left to make. What is cut and would come out to another size now is warned about. DW_IMPOSSIBLE when nothing is
 * left. rest->cut has the marks of the same jobs in the same order. */
enum dw_status dw_run_rest(const struct dw_job *const *jobs, size_t job_count, const struct dw_run_rest *rest, const struct dw_layout_options *options,
                           const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults, struct dw_run *run);

/* The words of `only`, commas between them, into rest->only. */
enum dw_status dw_run_only(const char *words, struct dw_arena *arena, struct dw_faults *faults, struct dw_run_rest *rest);

/* Makes the plan to come follow the one whose progress is given: what is cut stays, what is left is cut from, the mark that is replaced. DW_IMPOSSIBLE
 * when that was replaced already, or is entered in the rack as if all of it were cut. */
enum dw_status dw_run_follow(const struct dw_progress *progress, struct dw_arena *arena, struct dw_faults *faults, struct dw_run_rest *rest,
                             struct dw_layout_options *options);

/* Offers what the rack holds, behind what is offered already; but not what the plan with that progress (may be NULL) took out of it to the bench. */
enum dw_status dw_run_use_rack(struct dw_rack *rack, const struct dw_progress *progress, struct dw_arena *arena, struct dw_faults *faults,
                               struct dw_layout_options *options);

/* Sizes that give (leeway.h) for a run of all or some of the parts: `rest` as the run was made with, or NULL. A drawer or listed part of which a piece is
 * cut keeps its sizes. *leeway holds parts and plan of what is left, like the run. */
enum dw_status dw_run_leeway(const struct dw_run *run, const struct dw_run_rest *rest, const struct dw_leeway_options *options,
                             const struct dw_layout_options *layout, const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults,
                             const struct dw_leeway **leeway);

/* A plan as the ledger of progress takes it; it points into the plan and `arena`. */
enum dw_status dw_run_work(const struct dw_plan *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_work_plan *work);

/* What lies on the bench, as sheets that are owned. */
enum dw_status dw_run_left(const struct dw_progress *progress, struct dw_arena *arena, struct dw_faults *faults, const struct dw_owned **owned,
                           size_t *count);

/* What differs between two plans, in lines for the maker; none when nothing does. With `progress` (may be NULL) what is cut is told from what is
 * no longer wanted. */
struct dw_run_changes {
    const char *const *lines;
    size_t count;
};
enum dw_status dw_run_changes(const struct dw_plan *before, const struct dw_plan *after, const struct dw_progress *progress, enum dw_unit unit, int decimals,
                              struct dw_arena *arena, struct dw_faults *faults, struct dw_run_changes *changes);

/* The same for the parts of a job before and after a change, without planning: sizes and thickness. What is cut (rest) is warned about instead. */
enum dw_status dw_run_size_changes(const struct dw_parts *before, const struct dw_parts *after, const struct dw_run_rest *rest, struct dw_arena *arena,
                                   struct dw_faults *faults, struct dw_run_changes *changes);

/* A plan of which no file is at hand, as far as the ledger knows it, for dw_run_changes: pieces, sheets, goods, and 0 for all money. */
enum dw_status dw_run_plan_entered(const struct dw_work_plan *work, struct dw_arena *arena, struct dw_faults *faults, const struct dw_plan **plan);

/* What entering a plan does to the rack: the offcuts it cuts up, and those it gives back, each worth its share of its sheet's value. The
 * posting points into the plan and `arena`. DW_DONE, or DW_SURROUNDINGS when memory runs out. */
enum dw_status dw_run_posting(const struct dw_plan *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_posting *posting);

/* The same for a plan that is worked from, as its progress tells: what was spoiled does not come in, and of plans that it replaced all offcuts that any of
 * them took leave the rack, and what they left and this one does not use comes in. An offcut of the rack that nobody cut or damaged stays there. */
enum dw_status dw_run_posting_all(const struct dw_plan *plan, const struct dw_progress *progress, struct dw_arena *arena, struct dw_faults *faults,
                                  struct dw_posting *posting);

/* The one or the other: as the ledger knows of the plan, which is entered in it first when it replaces another one. */
enum dw_status dw_run_posting_known(struct dw_rack *rack, const struct dw_plan *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_posting *posting);

#endif
