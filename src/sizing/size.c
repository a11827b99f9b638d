/* size.c - sizing as a whole: each case opened, each bank stacked and rounded, each drawer given slide and box.
 *
 * A fault in one place does not keep the others from being looked at: a stack without a solution still has its slides
 * held against the depth of the case and its boxes against the width, and the run ends with all that is wrong.
 */
#include "sizer.h"

#include <drawerwright/memory.h>

static void size_drawer(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, const struct dw_sized_bank *bank,
                        struct dw_sized_drawer *drawer, bool stacked)
{
    if (drawer->drawer->fill != DW_FILL_DRAWER)
        return;
    if (drawer->drawer->slide >= sizer->job->shop.slide_count) {
        dw_error(sizer->faults, DW_INPUT, "no-slide", dwi_place(sizer, drawer, "slide"), "the drawer has no slide\nname one of the shop's, hand-fitted if it has none");
        return;
    }
    const bool has_slide = dwi_slide_choose(sizer, bank, drawer);
    if (stacked)
        dwi_box_fit(sizer, sized, bank, drawer, has_slide);
    else
        dwi_box_try_width(sizer, sized, bank, drawer);
    if (stacked && has_slide)
        dwi_slide_finish(sizer, sized, drawer);
}

static void size_bank(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, size_t index)
{
    struct dw_sized_bank *bank = &sized->banks[index];
    if (bank->drawer_count == 0) {
        bank->gap = dwi_figure_given(sizer->arena, "gap", "gap wished", bank->bank->gap);
        return;
    }
    struct dwi_stack stack = {.sized = sized, .bank = bank, .count = bank->drawer_count};
    dwi_edges_find(sizer, &stack);
    const bool stacked = dwi_stack_solve(sizer, &stack) && dwi_stack_round(sizer, &stack);
    if (stacked)
        dwi_fronts_place(sizer, &stack, index);
    for (size_t i = 0; i < bank->drawer_count; i++)
        size_drawer(sizer, sized, bank, &bank->drawers[i], stacked);
}

static size_t drawers_in(const struct dw_sized_case *sized)
{
    size_t count = 0;
    for (size_t i = 0; i < sized->bank_count; i++)
        for (size_t k = 0; k < sized->banks[i].drawer_count; k++)
            count += sized->banks[i].drawers[k].drawer->fill == DW_FILL_DRAWER ? 1 : 0;
    return count * (size_t)sized->source->count;
}

static void size_case(const struct dwi_sizer *sizer, size_t index, struct dw_sized_case *sized)
{
    if (!dwi_case_open(sizer, index, sized))
        return;
    dwi_edges_check(sizer, sized);
    for (size_t i = 0; i < sized->bank_count; i++)
        size_bank(sizer, sized, i);
}

static void size_all(const struct dwi_sizer *sizer, struct dw_sizing *sizing)
{
    sizing->case_count = sizer->job->case_count;
    sizing->cases = dw_arena_alloc(sizer->arena, sizing->case_count, sizeof *sizing->cases);
    for (size_t i = 0; i < sizing->case_count; i++) {
        size_case(sizer, i, &sizing->cases[i]);
        sizing->drawer_count += drawers_in(&sizing->cases[i]);
    }
}

/* The cautions read what was sized; they wait until all of it is without error. */
static void caution_all(const struct dwi_sizer *sizer, struct dw_sizing *sizing)
{
    for (size_t i = 0; i < sizing->case_count; i++) {
        struct dw_sized_case *sized = &sizing->cases[i];
        for (size_t k = 0; k < sized->bank_count; k++) {
            struct dw_sized_bank *bank = &sized->banks[k];
            dwi_cautions_bank(sizer, bank);
            dwi_readings_warn(sizer, sized, bank);
        }
        dwi_readings_warn_case(sizer, sized);
        dwi_cautions_case(sizer, sized);
    }
    dwi_cautions_notes(sizer, sizing);
}

struct run {
    const struct dw_job *job;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_sizing *sizing; /* NULL after errors */
};

static void run_body(void *context)
{
    struct run *run = context;
    const struct dwi_sizer sizer = {.job = run->job, .arena = run->arena, .faults = run->faults, .habits = &run->job->shop.habits};
    const size_t errors = run->faults->errors;
    struct dw_sizing *sizing = dw_arena_alloc(run->arena, 1, sizeof *sizing);
    sizing->job = run->job;
    size_all(&sizer, sizing);
    if (run->faults->errors == errors) {
        caution_all(&sizer, sizing);
        run->sizing = sizing;
    }
}

enum dw_status dw_size(const struct dw_job *job, struct dw_arena *arena, struct dw_faults *faults,
                       const struct dw_sizing **sizing)
{
    struct run run = {.job = job, .arena = arena, .faults = faults};
    *sizing = NULL;
    if (!dw_arena_guard(arena, run_body, &run) || faults->out_of_memory)
        return DW_SURROUNDINGS;
    *sizing = run.sizing;
    return run.sizing != NULL ? DW_DONE : faults->status;
}
