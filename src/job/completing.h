/* completing.h - the steps of dw_job_complete, each in a file of its own. */
#ifndef DWI_COMPLETING_H
#define DWI_COMPLETING_H

#include <drawerwright/job.h>

/* A job on its way: `job` is ours to write to, and so is all that its lists point at. */
struct dwi_completing {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_job *job;
};

/* A list of ours that the job shows to others as constant. */
struct dw_material *dwi_own_materials(const struct dwi_completing *completing);
struct dw_case *dwi_own_cases(const struct dwi_completing *completing);
struct dw_bank *dwi_own_banks(const struct dw_case *one);
struct dw_drawer *dwi_own_drawers(const struct dw_bank *bank);

/* in inches or millimeters, by the job's unit */
static inline dw_length dwi_pick(enum dw_unit unit, dw_length inch, dw_length metric)
{
    return unit == DW_IN ? inch : metric;
}

static inline void dwi_if_unset(dw_length *length, dw_length otherwise)
{
    if (*length == DW_LENGTH_UNSET)
        *length = otherwise;
}

void dwi_complete_shop(const struct dwi_completing *completing);
void dwi_complete_cases(const struct dwi_completing *completing);
void dwi_complete_drawer(const struct dwi_completing *completing, const struct dw_case *one, const struct dw_bank *bank,
                         struct dw_drawer *drawer, const char *address);

/* What contradicts itself in the completed job. */
void dwi_check_shop(const struct dwi_completing *completing);
void dwi_check_cases(const struct dwi_completing *completing);

#endif
