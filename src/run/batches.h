/* batches.h - parts given to the batches of their material. */
#ifndef DWI_BATCHES_H
#define DWI_BATCHES_H

#include "rest.h"

#define DWI_BATCH_MIXED "batch-mixed" /* code of the warning of a box that is cut from two batches */

/* The jobs as asked, with every batch as a material of its own and every part told which one it is cut from; NULL where there are no batches, or where
 * the jobs cannot be sized at all. What it tries tells its faults to `heard`; of those only the warnings of mixed batches are for the maker. Inside a
 * guard. options may be NULL. *alike is set to the parts that would be cut if all sheets were alike. */
const struct dw_job *const *dwi_batches_give(const struct dw_job *const *asked, size_t job_count, const struct dw_run_rest *rest,
                                             const struct dw_layout_options *options, struct dw_arena *arena, struct dw_faults *heard,
                                             const struct dw_parts *const **alike);

/* Warns of what that costs, given what was bought and the parts as if all sheets were alike. options may be NULL. */
enum dw_status dwi_batches_tell_cost(const struct dw_parts *const *alike, const struct dw_purchase *purchase, const struct dw_layout_options *options,
                                     const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults);

#endif
