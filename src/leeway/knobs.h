/* knobs.h - the sizes that may give, and a trial of one setting of them. Shared by the files of this room. */
#ifndef DWI_LEEWAY_KNOBS_H
#define DWI_LEEWAY_KNOBS_H

#include <drawerwright/leeway.h>

enum dwi_knob_kind { DWI_KNOB_BOX_HEIGHT, DWI_KNOB_SLIDE_LENGTH };

struct dwi_member {
    size_t job, case_index, bank_index, drawer_index;
    const char *path;
};

/* One size of a group of like drawers. */
struct dwi_knob {
    enum dwi_knob_kind kind;
    struct dwi_member *members;
    size_t member_count, member_capacity;
    const dw_length *values; /* falling; values[0] is the preferred one */
    size_t value_count;      /* >= 2 */
    size_t at;               /* where it stands */
};

struct dwi_knobs {
    struct dwi_knob *at;
    size_t count, capacity;
};

/* All knobs of these sizings within the options, each at its preferred value. In `arena` (inside a guard). */
struct dwi_knobs dwi_knobs_find(const struct dw_sizing *const *sizings, size_t job_count, const struct dw_leeway_options *options,
                                struct dw_arena *arena);

/* What one setting of the knobs comes to; everything in an arena of its own. */
struct dwi_trial {
    struct dw_arena *arena;
    bool possible;           /* the sizes can be, and the parts can be cut */
    const struct dw_sizing **sizings;
    const struct dw_parts **parts;
    const struct dw_purchase *purchase;
};

struct dwi_trials {
    const struct dw_job *const *jobs;
    size_t job_count;
    const struct dw_layout_options *layout;
    const struct dw_control *control;
    struct dw_arena *arena;  /* trials are children of it */
    struct dw_faults *heard; /* what the trials complain of; read by nobody */
    size_t left;             /* how many may still be made */
};

/* Sizes, makes the parts of and lays out the jobs with the knobs as they stand. */
struct dwi_trial dwi_try(struct dwi_trials *trials, const struct dwi_knobs *knobs);
void dwi_trial_drop(struct dwi_trial *trial);

#endif
