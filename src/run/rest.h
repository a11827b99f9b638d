/* rest.h - what the files of this room share. */
#ifndef DWI_REST_H
#define DWI_REST_H

#include <drawerwright/run.h>

#define DWI_CUT_DIFFERS "cut-differs" /* code of the warning of a piece that is cut to another size than is wanted now; its address is the mark */

/* The parts of each job made into those that are left to make. What was bought of a job's needs is theirs; what nobody wants any more goes with the last
 * job, so that the next plan knows of it. Inside a guard. */
void dwi_rest_take(const struct dw_parts **jobs, size_t job_count, const struct dw_run_rest *rest, struct dw_arena *arena);

/* Warns of what is cut and would come out otherwise now. Inside a guard. */
void dwi_rest_warn(const struct dw_parts *const *jobs, size_t job_count, const struct dw_run_rest *rest, struct dw_arena *arena, struct dw_faults *faults);

#define DWI_MEASURED "measured " /* begins the batch of what was measured at the bench; its thickness ends it */

/* What was measured at the bench is a batch of its own: its material as batches.c knows it; the material itself where nothing was measured. Inside a guard. */
const char *dwi_measured_material(const char *material, dw_length thickness, struct dw_arena *arena);

/* The part of a mark among those of all jobs, its job and its piece; NULL. */
const struct dw_part *dwi_rest_piece(const struct dw_parts *const *jobs, size_t job_count, const char *mark, size_t *job, const struct dw_piece **piece);

/* Parts of several jobs with marks led by the job's number. Inside a guard. */
void dwi_run_number_marks(const struct dw_parts **jobs, size_t job_count, struct dw_arena *arena);

/* Names of a plan's jobs in one line. Inside a guard. */
const char *dwi_plan_jobs(const struct dw_plan *plan, struct dw_arena *arena);

#endif
