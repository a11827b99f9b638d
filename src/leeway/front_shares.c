/* front_shares.c - the fronts of a bank that give: each some steps lower or higher than sized, the sum of all kept.
 *
 * A lower front is no use by itself, since others grow by as much. So fronts are not turned like other sizes: which shares they take together is chosen
 * by an integer program (coupled.c). Banks of one case that have the same fronts give together, so that rows of fronts stay in line.
 */
#include "knobs.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { STEPS_MOST = 8 };

/* Only fronts whose height nobody fixed for a reason of its own may change. */
static bool may_change(const struct dw_drawer *drawer)
{
    return drawer->fill == DW_FILL_DRAWER && (drawer->height.rule == DW_HEIGHT_SHARE || drawer->height.rule == DW_HEIGHT_GRADUATED);
}

/* Ranges of more than STEPS_MOST steps are walked in longer ones. */
struct dwi_knob dwi_knob_of_fronts(const struct dw_sizing *sizing, const struct dw_sized_bank *bank, dw_length most, struct dw_arena *arena)
{
    const dw_length unit = dw_most(sizing->job->shop.habits.front_step, 1);
    const dw_length step = unit * dw_most(1, (most / unit + STEPS_MOST - 1) / STEPS_MOST);
    dw_length *preferred = dw_arena_alloc(arena, bank->drawer_count, sizeof *preferred);
    dw_length *values = dw_arena_alloc(arena, 2, sizeof *values);
    bool *may = dw_arena_alloc(arena, bank->drawer_count, sizeof *may);
    size_t giving = 0;
    for (size_t d = 0; d < bank->drawer_count; d++) {
        preferred[d] = bank->drawers[d].front_height.value;
        may[d] = may_change(&bank->bank->drawers[d]);
        giving += may[d] ? 1 : 0;
        if (bank->bank->drawers[d].fill != DW_FILL_DRAWER)
            return (struct dwi_knob){.kind = DWI_FRONTS};
    }
    values[1] = most;
    const struct dwi_fronts fronts = {.count = bank->drawer_count, .preferred = preferred, .may = may, .step = step, .most = (int)(most / step),
                                      .shifts = dw_arena_alloc(arena, bank->drawer_count, sizeof(int))};
    return (struct dwi_knob){.kind = DWI_FRONTS, .values = values, .value_count = giving < 2 || fronts.most < 1 ? 0 : 2, .fronts = fronts};
}

bool dwi_fronts_alike(const struct dwi_fronts *a, const struct dwi_fronts *b)
{
    return a->count == b->count && a->most == b->most && a->step == b->step &&
           memcmp(a->preferred, b->preferred, a->count * sizeof *a->preferred) == 0 && memcmp(a->may, b->may, a->count * sizeof *a->may) == 0;
}

dw_length dwi_front_height(const struct dwi_knob *knob, size_t front)
{
    return knob->fronts.preferred[front] + (knob->at == 0 ? 0 : knob->fronts.shifts[front] * knob->fronts.step);
}
