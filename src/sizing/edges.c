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

/* An overlay of a told amount. */
static struct dwi_edge overlay_edge(dw_length cover, const char *words)
{
    return (struct dwi_edge){.cover = cover, .is_overlay = true, .words = words};
}

/* An overlay that takes all of a member but `less`. */
static struct dwi_edge all_but(dw_length member, dw_length less, const char *less_words, const char *words)
{
    return (struct dwi_edge){.cover = member - less, .is_overlay = true, .words = words, .member = member, .less = less,
                             .less_words = less_words};
}

/* An overlay that takes half of what a gap leaves of a member. */
static struct dwi_edge half_of(dw_length member, dw_length gap, const char *words)
{
    struct dwi_edge edge = all_but(member, gap, "less the gap between two fronts", words);
    edge.cover = dwi_scale_down(edge.cover, 1, 2);
    edge.halved = true;
    return edge;
}

struct dw_figure dwi_edge_figure(const struct dwi_sizer *sizer, const struct dwi_edge *edge, const char *name)
{
    const dw_length wish = edge->cover + edge->freed;
    struct dwi_figuring figuring;
    if (edge->member > 0) {
        figuring = dwi_figure_start(sizer->arena, name, "the member that it covers", edge->member);
        dwi_figure_subtract(&figuring, edge->less_words, edge->less);
        if (edge->halved)
            dwi_figure_times(&figuring, "shared by two fronts", 1, 2);
    } else {
        figuring = dwi_figure_start(sizer->arena, name, "edge of the opening", 0);
        if (wish > 0)
            dwi_figure_add(&figuring, edge->words, wish);
        else
            dwi_figure_subtract(&figuring, edge->words, -wish);
    }
    dwi_figure_subtract(&figuring, "its part of what rounding freed", edge->freed);
    return dwi_figure_done(&figuring);
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
        return all_but(member, reveal_at(sizer, source, edge), "less the reveal", outer_cover_words[edge]);
    case DW_HALF_OVERLAY:
        return half_of(member, gap, outer_cover_words[edge]);
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

static const char GAP_AND_OTHER[] = "less the gap and what the other front covers";

/* Full overlay on a rail, given the front on its other side. */
static struct dwi_edge full_on_rail(const struct dwi_sizer *sizer, const struct dw_bank *bank, const struct dw_rail *rail,
                                    const struct dw_drawer *other, enum dw_edge others_edge, const char *words)
{
    const dw_length told = own_cover(rail, others_edge);
    if (has_front(other) && told != DW_LENGTH_UNSET)
        return all_but(rail->height, bank->gap + told, GAP_AND_OTHER, words);
    if (divides(other))
        return half_of(rail->height, bank->gap, words);
    if (has_own_overlay(other))
        return all_but(rail->height, bank->gap + other->fit.overlay[others_edge], GAP_AND_OTHER, words);
    return all_but(rail->height, sizer->habits->reveal, "less the reveal", words);
}

/* The edge (DW_BOTTOM of the front above a rail, DW_TOP of the one below) against a rail with `other` beyond it. */
static struct dwi_edge rail_edge(const struct dwi_sizer *sizer, const struct dw_bank *bank, const struct dw_rail *rail,
                                 const struct dw_drawer *drawer, enum dw_edge edge, const struct dw_drawer *other)
{
    static const char words[] = "overlay on the rail";
    const dw_length told = own_cover(rail, edge);
    if (!has_front(drawer))
        return (struct dwi_edge){.words = "open to the rail"};
    if (told != DW_LENGTH_UNSET)
        return overlay_edge(told, words);
    switch (drawer->fit.kind) {
    case DW_OVERLAY:
    case DW_LIPPED:
        return overlay_edge(drawer->fit.overlay[edge], words);
    case DW_FULL_OVERLAY:
        return full_on_rail(sizer, bank, rail, other, edge == DW_BOTTOM ? DW_TOP : DW_BOTTOM, words);
    case DW_HALF_OVERLAY:
        return half_of(rail->height, bank->gap, words);
    case DW_INSET:
    case DW_FIT_INHERIT:
        break;
    }
    return inset_edge(bank->gap, "gap to the rail");
}

/* Fronts over one member that stand nearer to each other than the gap wished. */
static void warn_close(const struct dwi_sizer *sizer, const char *address, const char *whose, const char *member, dw_length left, dw_length gap)
{
    if (gap - left > sizer->habits->gap_warn)
        dw_warn(sizer->faults, "fronts-close", address,
                "the fronts %s leave %s between them over their %s, and the gap wished is %s\nlet them cover %s less of it together", whose,
                dwi_show(sizer, left), member, dwi_show(sizer, gap), dwi_show(sizer, gap - left));
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
    else if (seam.above.cover > 0 && seam.below.cover > 0)
        warn_close(sizer, sized->drawers[lower - 1].address, "of this drawer and the next", "rail", dwi_seam_size(&seam), bank->gap);
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

/* The most that a front with an overlay of its own covers at `edge`, of the drawers from..to-1; 0 when there is none. */
static dw_length most_overlay(const struct dw_bank *bank, size_t from, size_t to, enum dw_edge edge)
{
    dw_length most = 0;
    for (size_t i = from; i < to; i++)
        if (has_own_overlay(&bank->drawers[i]))
            most = dw_most(most, bank->drawers[i].fit.overlay[edge]);
    return most;
}

static struct facing facing_of(const struct dw_bank *bank, enum dw_edge edge)
{
    struct facing facing = {.overlay = most_overlay(bank, 0, bank->drawer_count, edge)};
    for (size_t i = 0; i < bank->drawer_count; i++)
        facing.divides = facing.divides || divides(&bank->drawers[i]);
    return facing;
}

struct dwi_edge dwi_edge_side(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, size_t bank_index,
                              const struct dw_drawer *drawer, enum dw_edge side)
{
    const struct dw_case *source = sized->source;
    const struct dw_bank *bank = &source->banks[bank_index];
    const bool right = side == DW_RIGHT;
    const bool outer = right ? bank_index + 1 == source->bank_count : bank_index == 0;
    const dw_length inset_gap = gap_at_sides(bank) + dwi_case_hinge_room(source, bank_index, right);
    const char *words = outer_cover_words[side];
    if (outer || !divides(drawer))
        return outer_edge(sizer, source, drawer, side, inset_gap, bank->gap);
    const struct facing facing = facing_of(&source->banks[right ? bank_index + 1 : bank_index - 1], right ? DW_LEFT : DW_RIGHT);
    if (drawer->fit.kind == DW_HALF_OVERLAY || facing.divides)
        return half_of(source->partition, bank->gap, words);
    if (facing.overlay > 0)
        return all_but(source->partition, bank->gap + facing.overlay, GAP_AND_OTHER, words);
    return all_but(source->partition, sizer->habits->reveal, "less the reveal", words);
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

static dw_length most_cover(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, size_t bank_index, enum dw_edge side)
{
    const struct dw_bank *bank = &sized->source->banks[bank_index];
    dw_length most = 0;
    for (size_t i = 0; i < bank->drawer_count; i++)
        most = dw_most(most, dwi_edge_side(sizer, sized, bank_index, &bank->drawers[i], side).cover);
    return most;
}

/* The fronts on both sides of a partition must leave each other room, wherever in their banks they hang. */
static void check_partition(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, size_t left)
{
    const struct dw_case *source = sized->source;
    const dw_length right = most_cover(sizer, sized, left + 1, DW_LEFT);
    const dw_length covered = most_cover(sizer, sized, left, DW_RIGHT) + right;
    const dw_length gap = source->banks[left].gap;
    if (covered > source->partition)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "fronts-meet", sized->banks[left].address,
                 "fronts of this bank and the next lap each other by %s over a partition of %s\n"
                 "let them cover less of it: at most %s together with a gap of %s",
                 dwi_show(sizer, covered - source->partition), dwi_show(sizer, source->partition),
                 dwi_show(sizer, dw_most(source->partition - gap, 0)), dwi_show(sizer, gap));
    else if (covered > right && right > 0)
        warn_close(sizer, sized->banks[left].address, "of this bank and the next", "partition", source->partition - covered, gap);
}

/* Fronts that reach past the outside of their case: wanted over a thin edge perhaps, but said. */
static void check_outside(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    static const char *const places[] = {"top", "bottom", "left", "right"};
    const struct dw_case *source = sized->source;
    for (size_t i = 0; i < source->bank_count; i++) {
        for (int edge = DW_TOP; edge < DW_EDGES; edge++) {
            const struct dw_bank *bank = &source->banks[i];
            const bool inner = (edge == DW_LEFT && i > 0) || (edge == DW_RIGHT && i + 1 < source->bank_count);
            const size_t from = edge == DW_BOTTOM && bank->drawer_count > 0 ? bank->drawer_count - 1 : 0;
            const size_t to = edge == DW_TOP && bank->drawer_count > 0 ? 1 : bank->drawer_count;
            const dw_length past = most_overlay(bank, from, to, (enum dw_edge)edge) - dwi_case_member(source, (enum dw_edge)edge);
            if (!inner && past > 0 && dwi_case_member(source, (enum dw_edge)edge) > 0)
                dw_warn(sizer->faults, "front-past-case", sized->banks[i].address,
                        "a front reaches %s past the %s of the case\nlet it cover at most the %s of the member there",
                        dwi_show(sizer, past), places[edge], dwi_show(sizer, dwi_case_member(source, (enum dw_edge)edge)));
        }
    }
}

void dwi_edges_check(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    check_full_overlay(sizer, sized);
    for (size_t i = 0; i + 1 < sized->bank_count; i++)
        check_partition(sizer, sized, i);
    check_outside(sizer, sized);
}
