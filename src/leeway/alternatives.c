/* alternatives.c - the fronts of a bank as alternatives: one lower by some steps, another as much higher, the sum kept.
 *
 * A lower front is no use by itself, since another grows. So heights are not turned like other sizes; each alternative is tried as a whole.
 */
#include "knobs.h"

#include <drawerwright/memory.h>

enum { ALTERNATIVES_MOST = 40 };

/* Only fronts whose height nobody fixed for a reason of its own may change. */
static bool may_change(const struct dw_drawer *drawer)
{
    return drawer->fill == DW_FILL_DRAWER && (drawer->height.rule == DW_HEIGHT_SHARE || drawer->height.rule == DW_HEIGHT_GRADUATED);
}

struct alternatives {
    const struct dw_sized_bank *bank;
    struct dw_arena *arena;
    dw_length *values;
    const dw_length **heights;
    size_t count;
};

static void add(struct alternatives *all, dw_length shift, size_t lower, size_t higher)
{
    const struct dw_sized_bank *bank = all->bank;
    dw_length *heights = dw_arena_alloc(all->arena, bank->drawer_count, sizeof *heights);
    if (all->count >= ALTERNATIVES_MOST)
        return;
    for (size_t d = 0; d < bank->drawer_count; d++)
        heights[d] = bank->drawers[d].front_height.value;
    heights[lower] -= shift;
    heights[higher] += shift;
    all->values[all->count] = shift;
    all->heights[all->count++] = heights;
}

/* All shifts of one step come before those of two, so that the number tried is cut where the changes are greatest. */
struct dwi_knob dwi_knob_of_fronts(const struct dw_sizing *sizing, const struct dw_sized_bank *bank, dw_length most, struct dw_arena *arena)
{
    const dw_length step = dw_most(sizing->job->shop.habits.front_step, 1);
    struct alternatives all = {.bank = bank,
                               .arena = arena,
                               .values = dw_arena_alloc(arena, ALTERNATIVES_MOST, sizeof *all.values),
                               .heights = dw_arena_alloc(arena, ALTERNATIVES_MOST, sizeof *all.heights)};
    if (bank->drawer_count < 2)
        return (struct dwi_knob){.kind = DWI_FRONTS};
    for (size_t d = 0; d < bank->drawer_count; d++)
        if (bank->bank->drawers[d].fill != DW_FILL_DRAWER)
            return (struct dwi_knob){.kind = DWI_FRONTS};
    add(&all, 0, 0, 0);
    for (dw_length shift = step; shift <= most; shift += step)
        for (size_t lower = 0; lower < bank->drawer_count; lower++)
            for (size_t higher = 0; higher < bank->drawer_count; higher++)
                if (lower != higher && may_change(&bank->bank->drawers[lower]) && may_change(&bank->bank->drawers[higher]))
                    add(&all, shift, lower, higher);
    return (struct dwi_knob){.kind = DWI_FRONTS, .values = all.values, .value_count = all.count, .heights = all.heights};
}
