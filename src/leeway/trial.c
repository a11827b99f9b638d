/* trial.c - one setting of the knobs, reckoned through as far as the cutting problems. A copy of the jobs is made with the sizes told; the stages
 * do the rest, so that every rule of sizing holds for every trial. A box is told the most that it may be high, not its height, so that a lower
 * front still makes it lower by rule. */
#include "knobs.h"

#include <drawerwright/memory.h>

/* A copy of a job down to its drawers and listed parts. */
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
    copy->extras = dw_arena_copy(arena, job->extras, job->extra_count, sizeof *job->extras);
    return copy;
}

/* A member's drawer or listed part in a copied job. The copy is ours, so writing through its const pointers is sound. */
static struct dw_drawer *drawer_in(const struct dw_job *copy, const struct dwi_member *member, size_t drawer)
{
    const struct dw_drawer *drawers = copy->cases[member->case_index].banks[member->bank_index].drawers;
    return (struct dw_drawer *)(uintptr_t)&drawers[drawer];
}

static struct dw_extra *listed_in(const struct dw_job *copy, const struct dwi_member *member)
{
    return (struct dw_extra *)(uintptr_t)&copy->extras[member->drawer_index];
}

static void set_box_height(struct dw_box *box, dw_length value)
{
    if (box->height != DW_LENGTH_UNSET)
        box->height = value;
    else
        box->height_most = box->height_most == DW_LENGTH_UNSET ? value : dw_least(box->height_most, value);
}

/* All fronts that share what there is are told, so that none makes up for another; those with a reason of their own keep it. */
static void set_fronts(const struct dw_job *copy, const struct dwi_member *member, const struct dwi_knob *knob)
{
    for (size_t d = 0; d < knob->fronts.count; d++)
        if (knob->fronts.may[d])
            drawer_in(copy, member, d)->height = (struct dw_height){.rule = DW_HEIGHT_FIXED, .length = dwi_front_height(knob, d), .weight = 1};
}

static void set_member(const struct dw_job *copy, const struct dwi_knob *knob, const struct dwi_member *member)
{
    const dw_length value = knob->values[knob->at];
    switch (knob->kind) {
        case DWI_BOX_HEIGHT:
            set_box_height(&drawer_in(copy, member, member->drawer_index)->box, value);
            break;
        case DWI_SLIDE_LENGTH:
            drawer_in(copy, member, member->drawer_index)->box.slide_length = value;
            break;
        case DWI_GROOVE_HEIGHT:
            drawer_in(copy, member, member->drawer_index)->box.groove_up = value;
            break;
        case DWI_OVERLAY:
            for (int edge = 0; edge < DW_EDGES; edge++)
                drawer_in(copy, member, member->drawer_index)->fit.overlay[edge] -= value;
            break;
        case DWI_LISTED_LENGTH:
            listed_in(copy, member)->length = value;
            break;
        case DWI_LISTED_WIDTH:
            listed_in(copy, member)->width = value;
            break;
        case DWI_FRONTS:
            set_fronts(copy, member, knob);
            break;
    }
}

/* Sizing warns of a box too low for what goes inside; here such a size is refused. So is one that a rule did not let come down. */
static bool is_sound(const struct dwi_trial *trial, const struct dwi_knob *knob)
{
    const bool is_height = knob->kind == DWI_BOX_HEIGHT;
    for (size_t i = 0; (is_height || knob->kind == DWI_GROOVE_HEIGHT) && knob->at > 0 && i < knob->member_count; i++) {
        const struct dwi_member *member = &knob->members[i];
        const struct dw_sized_case *sized = &trial->sizings[member->job]->cases[member->case_index];
        const struct dw_sized_drawer *drawer = &sized->banks[member->bank_index].drawers[member->drawer_index];
        const struct dw_height *height = &drawer->drawer->height;
        if (is_height && drawer->box_height.value > knob->values[knob->at])
            return false;
        if (height->rule == DW_HEIGHT_INSIDE && drawer->inside_height.value < height->length)
            return false;
    }
    return true;
}

static bool make_parts(struct dwi_search *search, struct dw_job *const *copies, struct dwi_trial *trial)
{
    for (size_t j = 0; j < search->job_count; j++)
        if (dw_size(copies[j], trial->arena, search->heard, &trial->sizings[j]) != DW_DONE ||
            dw_parts_make(trial->sizings[j], trial->arena, search->heard, &trial->parts[j]) != DW_DONE)
            return false;
    for (size_t k = 0; k < search->knobs.count; k++)
        if (!is_sound(trial, &search->knobs.at[k]))
            return false;
    if (search->options->planned != NULL)
        search->options->planned(search->options->planned_context, trial->parts, search->job_count, trial->arena);
    return dw_layout_problems(trial->parts, search->job_count, search->layout, trial->arena, search->heard, &trial->problems,
                              &trial->problem_count) == DW_DONE;
}

struct dwi_trial dwi_try(struct dwi_search *search)
{
    struct dwi_trial trial = {.arena = dw_arena_child(search->arena)};
    struct dw_job **copies = dw_arena_alloc(trial.arena, search->job_count, sizeof *copies);
    trial.sizings = dw_arena_alloc(trial.arena, search->job_count, sizeof *trial.sizings);
    trial.parts = dw_arena_alloc(trial.arena, search->job_count, sizeof *trial.parts);
    for (size_t j = 0; j < search->job_count; j++)
        copies[j] = copy_job(search->jobs[j], trial.arena);
    for (size_t k = 0; k < search->knobs.count; k++) {
        const struct dwi_knob *knob = &search->knobs.at[k];
        for (size_t i = 0; knob->at != 0 && i < knob->member_count; i++)
            set_member(copies[knob->members[i].job], knob, &knob->members[i]);
    }
    trial.possible = make_parts(search, copies, &trial);
    return trial;
}

void dwi_trial_drop(struct dwi_trial *trial)
{
    dw_arena_free(trial->arena);
    *trial = (struct dwi_trial){.arena = NULL};
}
