/* run.h - the whole line in one call: a job in, a purchase (and with it everything before it) out. */
#ifndef DRAWERWRIGHT_RUN_H
#define DRAWERWRIGHT_RUN_H

#include <drawerwright/plan.h>
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
    const struct dw_purchase *purchase;
};

/* Jobs are as read (not completed). Faults of several jobs carry the job's id before their address ("bench: cases[0]..."). Everything in
 * `arena`. Returns the gravest status; *run holds the stages that were reached. */
enum dw_status dw_run_jobs(const struct dw_job *const *jobs, size_t job_count, enum dw_stage last, const struct dw_layout_options *options,
                           const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults, struct dw_run *run);

/* What entering a plan does to the rack: the offcuts it cuts up, and those it gives back, each worth its share of its sheet's value. The
 * posting points into the plan and `arena`. DW_DONE, or DW_SURROUNDINGS when memory runs out. */
enum dw_status dw_run_posting(const struct dw_plan *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_posting *posting);

#endif
