/* rest.h - what the files of this room share. */
#ifndef DWI_REST_H
#define DWI_REST_H

#include <drawerwright/run.h>

#define DWI_CUT_DIFFERS "cut-differs" /* code of the warning of a piece that is cut to another size than is wanted now; its address is the mark */

/* The parts that are left to make; what is cut and would come out otherwise now is warned about. Inside a guard. */
const struct dw_parts *dwi_rest_of(const struct dw_parts *parts, const struct dw_run_rest *rest, struct dw_arena *arena);
void dwi_rest_warn(const struct dw_parts *const *jobs, size_t job_count, const struct dw_run_rest *rest, struct dw_arena *arena, struct dw_faults *faults);

/* Names of a plan's jobs in one line. Inside a guard. */
const char *dwi_plan_jobs(const struct dw_plan *plan, struct dw_arena *arena);

#endif
