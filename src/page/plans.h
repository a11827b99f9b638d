/* plans.h - the files of plans that are entered at the bench, by their marks: plans/K4T9XY.json and its packet, plans/K4T9XY.pdf, in the page's folder. */
#ifndef DWI_PAGE_PLANS_H
#define DWI_PAGE_PLANS_H

#include <stdbool.h>
#include <stddef.h>

#include <drawerwright/fault.h>
#include <drawerwright/plan.h>
#include <drawerwright/progress.h>

struct dw_arena;

/* True for what may be a plan's mark: 4 to 16 letters and digits. */
bool dwi_plans_is_mark(const char *mark);

/* All below run in a guard of the arena they are given; the ending is "json" or "pdf". */

/* False too for what is no mark. */
bool dwi_plans_has(const char *folder, const char *mark, const char *ending, struct dw_arena *arena);

/* Its bytes; NULL with a fault when there is none. */
const char *dwi_plans_read(const char *folder, const char *mark, const char *ending, struct dw_arena *arena, struct dw_faults *faults, size_t *length);

/* Writes a file whole or not at all. */
enum dw_status dwi_plans_keep(const char *folder, const char *mark, const char *ending, const char *bytes, size_t length, struct dw_arena *arena,
                              struct dw_faults *faults);

/* A plan that is entered: from its file, or as far as the ledger knows it where there is none. DW_INPUT when the file is no plan, or another one. */
enum dw_status dwi_plans_open(const char *folder, const struct dw_work_plan *work, struct dw_arena *arena, struct dw_faults *faults,
                              const struct dw_plan **plan);

#endif
