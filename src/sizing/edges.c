/* edges.c - how far each front covers what stands round it, fit by fit.
 *
 *     inset          not at all: a gap stays (a negative cover)
 *     overlay        by the amount told for that edge; lipped likewise
 *     full overlay   an outer member to a reveal from its far edge; a member shared with another front to half of what a
 *                    gap leaves (3/4 partition, 1/8 gap: 5/16 each), or to a gap from a front that has its own overlay
 *     half overlay   every member as though it were shared
 *
 * A rail may say itself how far the fronts above and below cover it. Fronts with no rail between keep a gap.
 */
#include "sizer.h"

#include <drawerwright/memory.h>

static bool has_front(const struct dw_drawer *drawer)
{
    return drawer->fill != DW_FILL_OPEN;
}

/* Does the front take its part of a member by dividing it, rather than by an amount of its own? */
static bool divides(const struct dw_drawer *drawer)
{
    return has_front(drawer) && (drawer->fit.kind == DW_FULL_OVERLAY || drawer->fit.kind == DW_HALF_OVERLAY);
}

static bool has_own_overlay(const struct dw_drawer *drawer)
{
    return has_front(drawer) && (drawer->fit.kind == DW_OVERLAY || drawer->fit.kind == DW_LIPPED);
}

static dw_length gap_at_ends(const struct dw_bank *bank)
{
    return bank->gap_ends == DW_LENGTH_UNSET ? bank->gap : bank->gap_ends;
}

static dw_length gap_at_sides(const struct dw_bank *bank)
{
    return bank->gap_sides == DW_LENGTH_UNSET ? bank->gap : bank->gap_sides;
}

static dw_length reveal_at(const struct dwi_sizer *sizer, const struct dw_case *source, enum dw_edge edge)
{
    enum dw_beside beside = DW_BESIDE_OPEN;
    if (edge == DW_LEFT)
        beside = source->left;
    if (edge == DW_RIGHT)
        beside = source->right;
    switch (beside) {
    case DW_BESIDE_WALL:
        return sizer->habits->reveal_wall;
    case DW_BESIDE_NEIGHBOR:
        return sizer->habits->reveal_neighbor;
    case DW_BESIDE_OPEN:
        break;
    }
    return sizer->habits->reveal;
}

static struct dwi_edge inset_edge(dw_length gap, const char *words)
{
    return (struct dwi_edge){.cover = -gap, .is_gap = true, .words = words};
}

static struct dwi_edge overlay_edge(dw_length cover, const char *words)
{
    return (struct dwi_edge){.cover = cover, .is_overlay = true, .words = words};
}

static const char *const outer_gap_words[] = {"gap at the top", "gap at the bottom", "gap at the left", "gap at the right"};
static const char *const outer_cover_words[] = {"overlay at the top", "overlay at the bottom", "overlay at the left",
                                                "overlay at the right"};

/* An edge against the outer member of the case, or of a bank's end. */
static struct dwi_edge outer_edge(const struct dwi_sizer *sizer, const struct dw_case *source, const struct dw_drawer *drawer,
                                  enum dw_edge edge, dw_length inset_gap, dw_length gap)
{
    const dw_length member = dwi_case_member(source, edge);
    if (!has_front(drawer))
        return (struct dwi_edge){.words = "open to the member"};
    switch (drawer->fit.kind) {
    case DW_OVERLAY:
    case DW_LIPPED:
        return overlay_edge(drawer->fit.overlay[edge], outer_cover_words[edge]);
    case DW_FULL_OVERLAY:
        return overlay_edge(member - reveal_at(sizer, source, edge), outer_cover_words[edge]);
    case DW_HALF_OVERLAY:
        return overlay_edge((member - gap) / 2, outer_cover_words[edge]);
    case DW_INSET:
    case DW_FIT_INHERIT:
        break;
    }
    return inset_edge(inset_gap, outer_gap_words[edge]);
}

/* ---- between two fronts of a bank --------------------------------------------------------------------------- */

static dw_length own_cover(const struct dw_rail *rail, enum dw_edge edge)
{
    return edge == DW_BOTTOM ? rail->cover_above : rail->cover_below;
}

/* What a front that neither shares nor was told covers of a rail, given the front on its other side. */
static dw_length full_cover(const struct dwi_sizer *sizer, const struct dw_bank *bank, const struct dw_rail *rail,
                            const struct dw_drawer *other, enum dw_edge others_edge)
{
    const dw_length told = own_cover(rail, others_edge);
    if (has_front(other) && told != DW_LENGTH_UNSET)
        return rail->height - bank->gap - told;
    if (divides(other))
        return (rail->height - bank->gap) / 2;
    if (has_own_overlay(other))
        return rail->height - bank->gap - other->fit.overlay[others_edge];
    return rail->height - sizer->habits->reveal;
}

/* The edge (DW_BOTTOM of the front above a rail, DW_TOP of the one below) against a rail with `other` beyond it. */
static struct dwi_edge rail_edge(const struct dwi_sizer *sizer, const struct dw_bank *bank, const struct dw_rail *rail,
                                 const struct dw_drawer *drawer, enum dw_edge edge, const struct dw_drawer *other)
{
    const dw_length told = own_cover(rail, edge);
    if (!has_front(drawer))
        return (struct dwi_edge){.words = "open to the rail"};
    if (told != DW_LENGTH_UNSET)
        return overlay_edge(told, "overlay on the rail");
    switch (drawer->fit.kind) {
    case DW_OVERLAY:
    case DW_LIPPED:
        return overlay_edge(drawer->fit.overlay[edge], "overlay on the rail");
    case DW_FULL_OVERLAY:
        return overlay_edge(full_cover(sizer, bank, rail, other, edge == DW_BOTTOM ? DW_TOP : DW_BOTTOM), "overlay on the rail");
    case DW_HALF_OVERLAY:
        return overlay_edge((rail->height - bank->gap) / 2, "overlay on the rail");
    case DW_INSET:
    case DW_FIT_INHERIT:
        break;
    }
    return inset_edge(bank->gap, "gap to the rail");
}

static struct dwi_seam middle_seam(const struct dwi_sizer *sizer, const struct dw_sized_bank *sized, size_t lower)
{
    const struct dw_bank *bank = sized->bank;
    const struct dw_drawer *above = &bank->drawers[lower - 1];
    const struct dw_drawer *below = &bank->drawers[lower];
    const struct dw_rail *rail = &above->rail_below;
    if (!dwi_is_rail(rail->kind)) {
        const bool gap = has_front(above) && has_front(below);
        return (struct dwi_seam){.between = gap ? bank->gap : 0,
                                 .above = {.is_gap = gap, .words = "gap between fronts"},
                                 .below = {.words = "gap between fronts"}};
    }
    struct dwi_seam seam = {.rail = rail->kind,
                            .height = rail->height,
                            .above = rail_edge(sizer, bank, rail, above, DW_BOTTOM, below),
                            .below = rail_edge(sizer, bank, rail, below, DW_TOP, above)};
    seam.shared = divides(above) && divides(below) && rail->cover_above == DW_LENGTH_UNSET && rail->cover_below == DW_LENGTH_UNSET;
    if (dwi_seam_size(&seam) < 0)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "fronts-meet", sized->drawers[lower - 1].address,
                 "this front and the next lap each other by %s over a rail of %s\nlet them cover less of the rail, or make it higher",
                 dwi_show(sizer, -dwi_seam_size(&seam)), dwi_show(sizer, rail->height));
    return seam;
}

dw_length dwi_seam_size(const struct dwi_seam *seam)
{
    return seam->height + seam->between - seam->above.cover - seam->below.cover;
}

void dwi_edges_find(const struct dwi_sizer *sizer, struct dwi_stack *stack)
{
    const struct dw_bank *bank = stack->bank->bank;
    const struct dw_case *source = stack->sized->source;
    const dw_length ends = gap_at_ends(bank);
    const size_t last = stack->count - 1;
    stack->seams = dw_arena_alloc(sizer->arena, stack->count + 1, sizeof *stack->seams);
    stack->seams[0] = (struct dwi_seam){.below = outer_edge(sizer, source, &bank->drawers[0], DW_TOP, ends, bank->gap)};
    for (size_t i = 1; i < stack->count; i++)
        stack->seams[i] = middle_seam(sizer, stack->bank, i);
    stack->seams[stack->count] =
        (struct dwi_seam){.above = outer_edge(sizer, source, &bank->drawers[last], DW_BOTTOM, ends, bank->gap)};
}

/* ---- beside a front ----------------------------------------------------------------------------------------- */

/* What the fronts of the bank beyond a partition do to it. */
struct facing {
    bool divides;      /* one of them takes half of it */
    dw_length overlay; /* the most that one with an overlay of its own covers; 0 */
};

static struct facing facing_of(const struct dw_bank *bank, enum dw_edge edge)
{
    struct facing facing = {0};
    for (size_t i = 0; i < bank->drawer_count; i++) {
        const struct dw_drawer *drawer = &bank->drawers[i];
        facing.divides = facing.divides || divides(drawer);
        if (has_own_overlay(drawer))
            facing.overlay = dw_most(facing.overlay, drawer->fit.overlay[edge]);
    }
    return facing;
}

static dw_length partition_cover(const struct dwi_sizer *sizer, const struct dw_case *source, dw_length gap, struct facing facing)
{
    if (facing.divides)
        return (source->partition - gap) / 2;
    if (facing.overlay > 0)
        return source->partition - gap - facing.overlay;
    return source->partition - sizer->habits->reveal;
}

struct dwi_edge dwi_edge_side(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, size_t bank_index,
                              const struct dw_drawer *drawer, enum dw_edge side)
{
    const struct dw_case *source = sized->source;
    const struct dw_bank *bank = &source->banks[bank_index];
    const bool right = side == DW_RIGHT;
    const bool outer = right ? bank_index + 1 == source->bank_count : bank_index == 0;
    const dw_length inset_gap = gap_at_sides(bank) + dwi_case_hinge_room(source, bank_index, right);
    if (outer || !divides(drawer))
        return outer_edge(sizer, source, drawer, side, inset_gap, bank->gap);
    if (drawer->fit.kind == DW_HALF_OVERLAY)
        return overlay_edge((source->partition - bank->gap) / 2, outer_cover_words[side]);
    const struct facing facing = facing_of(&source->banks[right ? bank_index + 1 : bank_index - 1], right ? DW_LEFT : DW_RIGHT);
    return overlay_edge(partition_cover(sizer, source, bank->gap, facing), outer_cover_words[side]);
}

/* ---- faults of a whole case ---------------------------------------------------------------------------------- */

static bool any_full_overlay(const struct dw_bank *bank, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++)
        if (has_front(&bank->drawers[i]) && bank->drawers[i].fit.kind == DW_FULL_OVERLAY)
            return true;
    return false;
}

/* Does any front lie over the outer member at `edge` in full overlay? */
static bool full_overlay_at(const struct dw_case *source, enum dw_edge edge)
{
    for (size_t i = 0; i < source->bank_count; i++) {
        const struct dw_bank *bank = &source->banks[i];
        const size_t count = bank->drawer_count;
        if (count == 0 || (edge == DW_LEFT && i > 0) || (edge == DW_RIGHT && i + 1 < source->bank_count))
            continue;
        if (any_full_overlay(bank, edge == DW_BOTTOM ? count - 1 : 0, edge == DW_TOP ? 1 : count))
            return true;
    }
    return false;
}

static void check_full_overlay(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    static const char *const members[] = {"top", "bottom", "left side", "right side"};
    for (int edge = DW_TOP; edge < DW_EDGES; edge++) {
        const dw_length member = dwi_case_member(sized->source, (enum dw_edge)edge);
        const dw_length reveal = reveal_at(sizer, sized->source, (enum dw_edge)edge);
        if (member < reveal && full_overlay_at(sized->source, (enum dw_edge)edge))
            dw_error(sizer->faults, DW_IMPOSSIBLE, "full-overlay", sized->address,
                     "full overlay finds %s to cover at the %s, less than the reveal of %s\n"
                     "say how thick that member is, or use overlay with amounts",
                     dwi_show(sizer, member), members[edge], dwi_show(sizer, reveal));
    }
}

/* Fronts with overlays of their own on both sides of a partition must leave each other room. */
static void check_partition(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, size_t left)
{
    const struct dw_bank *banks = sized->source->banks;
    const dw_length covered = facing_of(&banks[left], DW_RIGHT).overlay + facing_of(&banks[left + 1], DW_LEFT).overlay;
    if (covered > sized->source->partition)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "fronts-meet", sized->banks[left].address,
                 "fronts of this bank and the next lap each other by %s over a partition of %s\n"
                 "let them cover less of it: at most %s together with a gap of %s",
                 dwi_show(sizer, covered - sized->source->partition), dwi_show(sizer, sized->source->partition),
                 dwi_show(sizer, sized->source->partition - banks[left].gap), dwi_show(sizer, banks[left].gap));
}

void dwi_edges_check(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    check_full_overlay(sizer, sized);
    for (size_t i = 0; i + 1 < sized->bank_count; i++)
        check_partition(sizer, sized, i);
}
