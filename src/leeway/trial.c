/* trial.c - one setting of the knobs, reckoned through: sizes, parts, sheets. A copy of the jobs is made with the sizes told; the stages do the
 * rest, so that every rule of sizing holds for every trial. */
#include "knobs.h"

#include <drawerwright/memory.h>

/* A copy of a job down to its drawers. */
static struct dw_job *copy_job(const struct dw_job *job, struct dw_arena *arena)
{
    struct dw_job *copy = dw_arena_copy(arena, job, 1, sizeof *job);
    struct dw_case *cases = dw_arena_copy(arena, job->cases, job->case_count, sizeof *cases);
    for (size_t c = 0; c < job->case_count; c++) {
        struct dw_bank *banks = dw_arena_copy(arena, cases[c].banks, cases[c].bank_count, sizeof *banks);
        for (size_t b = 0; b < cases[c].bank_count; b++)
            banks[b].drawers = dw_arena_copy(arena, banks[b].drawers, banks[b].drawer_count, sizeof *banks[b].drawers);
        cases[c].banks = banks;
    }
    copy->cases = cases;
    return copy;
}

/* The drawer of a member in a copied job. The copy is ours, so writing through its const pointers is sound. */
static struct dw_drawer *drawer_in(const struct dw_job *copy, const struct dwi_member *member)
{
    const struct dw_drawer *drawers = copy->cases[member->case_index].banks[member->bank_index].drawers;
    return (struct dw_drawer *)(uintptr_t)&drawers[member->drawer_index];
}

static void set_knob(struct dw_job *const *copies, const struct dwi_knob *knob)
{
    for (size_t i = 0; i < knob->member_count; i++) {
        struct dw_box *box = &drawer_in(copies[knob->members[i].job], &knob->members[i])->box;
        if (knob->kind == DWI_KNOB_BOX_HEIGHT)
            box->height = knob->values[knob->at];
        else
            box->slide_length = knob->values[knob->at];
    }
}

struct dwi_trial dwi_try(struct dwi_trials *trials, const struct dwi_knobs *knobs)
{
    struct dwi_trial trial = {.arena = dw_arena_child(trials->arena)};
    struct dw_job **copies = dw_arena_alloc(trial.arena, trials->job_count, sizeof *copies);
    trials->left -= trials->left > 0 ? 1U : 0U;
    trial.sizings = dw_arena_alloc(trial.arena, trials->job_count, sizeof *trial.sizings);
    trial.parts = dw_arena_alloc(trial.arena, trials->job_count, sizeof *trial.parts);
    for (size_t j = 0; j < trials->job_count; j++)
        copies[j] = copy_job(trials->jobs[j], trial.arena);
    for (size_t k = 0; k < knobs->count; k++)
        if (knobs->at[k].at != 0)
            set_knob(copies, &knobs->at[k]);
    for (size_t j = 0; j < trials->job_count; j++)
        if (dw_size(copies[j], trial.arena, trials->heard, &trial.sizings[j]) != DW_DONE ||
            dw_parts_make(trial.sizings[j], trial.arena, trials->heard, &trial.parts[j]) != DW_DONE)
            return trial;
    trial.possible = dw_purchase_make(trial.parts, trials->job_count, trials->layout, trials->control, trial.arena, trials->heard,
                                      &trial.purchase) == DW_DONE;
    return trial;
}

void dwi_trial_drop(struct dwi_trial *trial)
{
    dw_arena_free(trial->arena);
    *trial = (struct dwi_trial){.arena = NULL};
}
