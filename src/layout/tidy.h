/* tidy.h - among plans that use the same sheets, the one with the fewest settings. */
#ifndef DWI_LAYOUT_TIDY_H
#define DWI_LAYOUT_TIDY_H

#include <drawerwright/layout.h>

/* The plan itself or a better one for the same sheets. Inside a guard of `arena`. */
const struct dw_cut_plan *dwi_tidy(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, const struct dw_cut_plan *plan,
                                   struct dw_arena *arena);

#endif
