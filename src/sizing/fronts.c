/* fronts.c - widths of the fronts, and where fronts, rails and spaces lie in the elevation.
 *
 * A front is as wide as its opening and what it covers at each side, rounded down; what that frees comes off both
 * sides alike, the odd unit off the right. A drawer's own space runs from member or rail to member or rail; where no
 * rail divides it from the next, it ends with the front, so that no box reaches behind its neighbor.
 */
#include "sizer.h"

#include <drawerwright/memory.h>

static const char *const cover_names[] = {"cover at the top", "cover at the bottom", "cover at the left", "cover at the right"};

static void size_width(const struct dwi_sizer *sizer, const struct dwi_stack *stack, size_t bank_index,
                       struct dw_sized_drawer *drawer)
{
    struct dwi_edge left = dwi_edge_side(sizer, stack->sized, bank_index, drawer->drawer, DW_LEFT);
    struct dwi_edge right = dwi_edge_side(sizer, stack->sized, bank_index, drawer->drawer, DW_RIGHT);
    struct dwi_figuring width = dwi_figure_start(sizer->arena, "front width", "opening width", stack->bank->opening_width.value);
    const struct dwi_edge *const edges[] = {&left, &right};
    for (size_t i = 0; i < 2; i++) {
        if (edges[i]->cover > 0)
            dwi_figure_add(&width, edges[i]->words, edges[i]->cover);
        else
            dwi_figure_subtract(&width, edges[i]->words, -edges[i]->cover);
    }
    const dw_length exact = width.value;
    dwi_figure_down_to(&width, "down to the step of fronts", sizer->habits->front_step);
    const dw_length freed = exact - width.value;
    left.freed = freed / 2;
    right.freed = freed - freed / 2;
    left.cover -= left.freed;
    right.cover -= right.freed;
    drawer->front_width = dwi_figure_done(&width);
    drawer->overlay[DW_LEFT] = dwi_edge_figure(sizer, &left, cover_names[DW_LEFT]);
    drawer->overlay[DW_RIGHT] = dwi_edge_figure(sizer, &right, cover_names[DW_RIGHT]);
    drawer->front.x = stack->bank->opening.x - left.cover;
    drawer->front.width = width.value;
    if (width.value <= 0)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "front-no-width", drawer->address,
                 "the front comes out %s wide\nmake the opening wider or the gaps narrower", dwi_show(sizer, width.value));
}

static void place_open_space(const struct dwi_stack *stack, struct dw_sized_drawer *drawer)
{
    drawer->front.x = stack->bank->opening.x;
    drawer->front.width = stack->bank->opening.width;
}

/* The clear space of front i, whose lower edge is at `y`. */
static struct dw_rectangle space_of(const struct dwi_stack *stack, size_t i, dw_length y, dw_length height)
{
    const struct dwi_seam *above = &stack->seams[i];
    const struct dwi_seam *below = &stack->seams[i + 1];
    const bool at_top = i == 0 || dwi_is_rail(above->rail);
    const bool at_bottom = i + 1 == stack->count || dwi_is_rail(below->rail);
    const dw_length low = at_bottom ? y + below->above.cover : y;
    const dw_length high = at_top ? y + height - above->below.cover : y + height;
    return (struct dw_rectangle){stack->bank->opening.x, low, stack->bank->opening.width, high - low};
}

static dw_length gap_below(const struct dwi_seam *seam, bool last)
{
    if (!last && !dwi_is_rail(seam->rail))
        return seam->between;
    return seam->above.is_gap ? -seam->above.cover : DW_LENGTH_UNSET;
}

static void add_rail(struct dw_sized_bank *bank, const struct dwi_seam *seam, dw_length top)
{
    bank->rails[bank->rail_count++] = (struct dw_sized_rail){
        .at = {bank->opening.x, top - seam->height, bank->opening.width, seam->height}, .kind = seam->rail};
}

void dwi_fronts_place(const struct dwi_sizer *sizer, struct dwi_stack *stack, size_t bank_index)
{
    struct dw_sized_bank *bank = stack->bank;
    bank->rails = dw_arena_alloc(sizer->arena, stack->count, sizeof *bank->rails);
    dw_length edge = bank->opening.y + bank->opening.height - dwi_seam_size(&stack->seams[0]); /* upper edge of the front */
    for (size_t i = 0; i < stack->count; i++) {
        struct dw_sized_drawer *drawer = &bank->drawers[i];
        const struct dwi_seam *below = &stack->seams[i + 1];
        const dw_length height = stack->heights[i].value;
        drawer->front_height = dwi_figure_done(&stack->heights[i]);
        drawer->front = (struct dw_rectangle){0, edge - height, 0, height};
        drawer->space = space_of(stack, i, edge - height, height);
        drawer->overlay[DW_TOP] = dwi_edge_figure(sizer, &stack->seams[i].below, cover_names[DW_TOP]);
        drawer->overlay[DW_BOTTOM] = dwi_edge_figure(sizer, &below->above, cover_names[DW_BOTTOM]);
        drawer->gap_below = gap_below(below, i + 1 == stack->count);
        if (drawer->drawer->fill == DW_FILL_OPEN)
            place_open_space(stack, drawer);
        else
            size_width(sizer, stack, bank_index, drawer);
        if (dwi_is_rail(below->rail))
            add_rail(bank, below, edge - height + below->above.cover);
        edge -= height + dwi_seam_size(below);
    }
}
