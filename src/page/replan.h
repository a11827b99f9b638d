/* replan.h - a run of the worker for the bench: only some parts, or what is left of a plan that is entered. */
#ifndef DWI_PAGE_REPLAN_H
#define DWI_PAGE_REPLAN_H

#include <drawerwright/run.h>
#include <drawerwright/text.h>

struct dwi_replan {
    const char *follows; /* mark of the plan that is to be replaced; "" */
    const char *only;    /* as for --only; "": all parts */
    struct dw_run_rest rest;
    const struct dw_progress *progress; /* of the plan that is replaced; NULL */
    const struct dw_plan *before;
};

/* True when it is not simply the whole job. */
bool dwi_replan_is_asked(const struct dwi_replan *replan);

/* All below run in a guard of the arena. Reads what is followed from the folder's ledger, into the rest and the options of the run. */
enum dw_status dwi_replan_prepare(struct dwi_replan *replan, const char *folder, struct dw_layout_options *options, struct dw_arena *arena,
                                  struct dw_faults *faults);

/* Adds what changes against the plan before, from the new plan's file, as JSON members: , "follows": "K4T9XY", "changes": ["..."] */
enum dw_status dwi_replan_tell(const struct dwi_replan *replan, const struct dw_job *job, const char *bytes, size_t length, struct dw_arena *arena,
                               struct dw_faults *faults, struct dw_text *out);

/* Adds lines as a JSON array. */
void dwi_replan_add_lines(const struct dw_run_changes *changes, struct dw_text *out);

#endif
