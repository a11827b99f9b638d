/* rounding.c - a whole stack brought to the shop's step at once, and where the rest goes.
 *
 * Every height that shares the opening is rounded down, so equal ones stay equal and a steady step stays steady; told
 * heights are left alone. What that frees is given away in one piece, by the bank's wish or else by habit:
 *     into the gaps, evenly, while each grows by at most habits.gap_grow
 *     else, where the lowest front laps the opening's end, to the ends (four fronts of 6-1/2 with 1 in overlays and 1/8
 *          left: 15/16 at each end)
 *     else to the lowest front that was rounded
 * Shares are whole units, the odd ones to the lowest places. Afterwards fronts and seams fill the opening exactly.
 */
#include "sizer.h"

#include <drawerwright/memory.h>

/* A gap that may grow. */
enum slot_kind { SLOT_BETWEEN, SLOT_ABOVE, SLOT_BELOW, SLOT_SHARED };

struct slot {
    struct dwi_seam *seam;
    enum slot_kind kind;
};

/* All places that may take what is freed, from the top down. */
struct places {
    struct slot *gaps;
    size_t gap_count;
    struct dwi_edge *ends[2];
    size_t end_count;
};

static void retreat(struct dwi_edge *edge, dw_length amount)
{
    edge->cover -= amount;
    edge->freed += amount;
}

static void widen(struct slot slot, dw_length amount)
{
    switch (slot.kind) {
    case SLOT_BETWEEN:
        slot.seam->between += amount;
        break;
    case SLOT_ABOVE:
        retreat(&slot.seam->above, amount);
        break;
    case SLOT_BELOW:
        retreat(&slot.seam->below, amount);
        break;
    case SLOT_SHARED:
        retreat(&slot.seam->above, amount / 2);
        retreat(&slot.seam->below, amount - amount / 2);
        break;
    }
}

static void add_gap(struct places *places, struct dwi_seam *seam, enum slot_kind kind)
{
    places->gaps[places->gap_count++] = (struct slot){seam, kind};
}

static void find_gaps(struct dwi_stack *stack, struct places *places)
{
    for (size_t i = 0; i <= stack->count; i++) {
        struct dwi_seam *seam = &stack->seams[i];
        const bool middle = i > 0 && i < stack->count;
        if (seam->shared) {
            add_gap(places, seam, SLOT_SHARED);
            continue;
        }
        if (seam->above.is_gap)
            add_gap(places, seam, middle && !dwi_is_rail(seam->rail) ? SLOT_BETWEEN : SLOT_ABOVE);
        if (seam->below.is_gap)
            add_gap(places, seam, SLOT_BELOW);
    }
}

/* A front that laps an end can give of its overlay; one that only meets it has none to give. */
static bool laps(const struct dwi_edge *edge)
{
    return edge->is_overlay && edge->cover > 0;
}

static void find_ends(struct dwi_stack *stack, struct places *places, bool overlay_only)
{
    struct dwi_edge *const ends[] = {&stack->seams[0].below, &stack->seams[stack->count].above};
    places->end_count = 0;
    for (size_t i = 0; i < 2; i++)
        if (laps(ends[i]) || (ends[i]->is_gap && !overlay_only))
            places->ends[places->end_count++] = ends[i];
}

/* The lowest front that was rounded; DW_NO_INDEX when none was. */
static size_t lowest_rounded(const struct dwi_stack *stack)
{
    for (size_t i = stack->count; i-- > 0;)
        if (stack->states[i] == DWI_HEIGHT_OPEN)
            return i;
    return DW_NO_INDEX;
}

static enum dw_freed by_habit(const struct dwi_sizer *sizer, const struct dwi_stack *stack, const struct places *places)
{
    if (places->gap_count > 0 && stack->freed <= (dw_length)places->gap_count * sizer->habits->gap_grow)
        return DW_FREED_GAPS;
    if (laps(&stack->seams[stack->count].above))
        return DW_FREED_ENDS;
    if (lowest_rounded(stack) != DW_NO_INDEX)
        return DW_FREED_BOTTOM_FRONT;
    return places->gap_count > 0 ? DW_FREED_GAPS : DW_FREED_ENDS;
}

static dw_length *shares_of(const struct dwi_sizer *sizer, dw_length whole, size_t count)
{
    dw_length *shares = dw_arena_alloc(sizer->arena, count, sizeof *shares);
    dw_length_share(whole, (int)count, shares);
    return shares;
}

/* ---- giving it away --------------------------------------------------------------------------------------------- */

static void give_to_gaps(const struct dwi_sizer *sizer, struct dwi_stack *stack, const struct places *places)
{
    const dw_length *shares = shares_of(sizer, stack->freed, places->gap_count);
    struct dw_sized_bank *bank = stack->bank;
    for (size_t i = 0; i < places->gap_count; i++)
        widen(places->gaps[i], shares[i]);
    struct dwi_figuring gap = dwi_figure_copy(sizer->arena, bank->gap.name, &bank->gap);
    dwi_figure_add(&gap, dw_arena_format(sizer->arena, "its part of the %s freed, spread over %s", dwi_show(sizer, stack->freed),
                                         dwi_count_of(sizer, places->gap_count, "gap", "gaps", -1)), shares[0]);
    bank->gap = dwi_figure_done(&gap);
    bank->freed = dw_arena_format(sizer->arena, "rounding freed %s, spread evenly over %s: %s instead of %s",
                                  dwi_show(sizer, stack->freed), dwi_count_of(sizer, places->gap_count, "gap", "gaps", -1),
                                  dwi_show(sizer, bank->gap.value), dwi_show(sizer, bank->bank->gap));
    if (shares[0] > sizer->habits->gap_warn)
        dw_warn(sizer->faults, "gap-strays", bank->address,
                "gaps come out at %s instead of %s\ntake a finer rounding of fronts, or say where the %s that rounding frees may go",
                dwi_show(sizer, bank->gap.value), dwi_show(sizer, bank->bank->gap), dwi_show(sizer, stack->freed));
}

static void give_to_ends(const struct dwi_sizer *sizer, struct dwi_stack *stack, const struct places *places)
{
    const dw_length *shares = shares_of(sizer, stack->freed, places->end_count);
    for (size_t i = 0; i < places->end_count; i++)
        retreat(places->ends[i], shares[i]);
    const char *freed = dwi_show(sizer, stack->freed);
    stack->bank->freed =
        places->end_count == 2
            ? dw_arena_format(sizer->arena, "rounding freed %s, taken off the %s and the %s, %s each", freed, places->ends[0]->words,
                              places->ends[1]->words, dwi_show(sizer, shares[0]))
            : dw_arena_format(sizer->arena, "rounding freed %s, taken off the %s", freed, places->ends[0]->words);
}

static void give_to_front(const struct dwi_sizer *sizer, struct dwi_stack *stack, size_t index)
{
    dwi_figure_add(&stack->heights[index], "what rounding freed", stack->freed);
    stack->bank->freed = dw_arena_format(sizer->arena, "rounding freed %s, given to %s", dwi_show(sizer, stack->freed),
                                         stack->bank->drawers[index].path);
}

static bool give_away(const struct dwi_sizer *sizer, struct dwi_stack *stack, struct places *places, enum dw_freed where)
{
    const size_t front = where == DW_FREED_DRAWER ? stack->bank->bank->freed_drawer : lowest_rounded(stack);
    const bool to_front = where == DW_FREED_DRAWER || where == DW_FREED_BOTTOM_FRONT;
    if (to_front && front < stack->count) {
        give_to_front(sizer, stack, front);
        return true;
    }
    if (where == DW_FREED_ENDS && places->end_count > 0) {
        give_to_ends(sizer, stack, places);
        return true;
    }
    if (places->gap_count > 0) {
        give_to_gaps(sizer, stack, places);
        return true;
    }
    if (places->end_count > 0) {
        give_to_ends(sizer, stack, places);
        return true;
    }
    return false;
}

static dw_length left_over(const struct dwi_stack *stack)
{
    dw_length left = stack->bank->opening_height.value;
    for (size_t i = 0; i < stack->count; i++)
        left -= stack->heights[i].value;
    for (size_t i = 0; i <= stack->count; i++)
        left -= dwi_seam_size(&stack->seams[i]);
    return left;
}

bool dwi_stack_round(const struct dwi_sizer *sizer, struct dwi_stack *stack)
{
    struct dw_sized_bank *bank = stack->bank;
    bank->gap = dwi_figure_given(sizer->arena, "gap", "gap wished", bank->bank->gap);
    for (size_t i = 0; i < stack->count; i++)
        if (stack->states[i] == DWI_HEIGHT_OPEN)
            dwi_figure_down_to(&stack->heights[i], "down to the step of fronts", sizer->habits->front_step);
    stack->freed = left_over(stack);
    if (stack->freed == 0)
        return true;
    struct places places = {.gaps = dw_arena_alloc(sizer->arena, 2 * (stack->count + 1), sizeof *places.gaps)};
    find_gaps(stack, &places);
    enum dw_freed where = bank->bank->freed;
    if (where == DW_FREED_BY_HABIT)
        where = by_habit(sizer, stack, &places);
    find_ends(stack, &places, bank->bank->freed == DW_FREED_BY_HABIT);
    if (give_away(sizer, stack, &places, where))
        return true;
    dw_error(sizer->faults, DW_IMPOSSIBLE, "stack-under", bank->address,
             "%s of the opening is left, and no gap, end or front can take it\nlet one of them share the height",
             dwi_show(sizer, stack->freed));
    return false;
}
