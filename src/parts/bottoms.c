/* bottoms.c - how a bottom is held, and so how large it is.
 *
 *     grooved     in a groove on four sides: the room inside plus a groove's depth on every side
 *     slid in     grooves in front and sides; from behind under a back that is short by all that lies below its edge
 *     rabbeted    up into a rabbet round the lower edge: as grooved, flush with the edge
 *     applied     under the box, as large as its outside; the sides are lower by its thickness
 *
 * The groove is as wide as the bottom measures, never as it is called (common practice, no source). The clearance comes off the whole
 * bottom in each direction. Published lists take none off: Chris Gleason, Popular Woodworking no. 131, Dec 2002; makers cut 1/32 to 1/16 in
 * under (common practice, no source). What is left ends on the shop's step of boxes, rounded down: with metric stock in an inch job the
 * bottom is up to a step smaller, and so is a back that stands on it. A back 1/2 in short over a 1/4 in bottom in a groove 1/4 in up: Schwarz and Thiel, "Four Good Ways to
 * Build Drawers", Popular Woodworking no. 143, Oct 2004.
 *
 * Solid wood moves across its grain: by its width x the material's change per percent of moisture x the seasonal change of the shop's
 * habits. Its grain runs from side to side, so it moves from front to back. In a groove or rabbet that much is taken off from front to back;
 * slid in, it is held in the front groove, screwed through a slot at the back, and stops that much short of the back's outer face.
 */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

static bool is_in_groove(const struct dwi_bottom *bottom)
{
    return bottom->kind == DW_BOTTOM_GROOVED || bottom->kind == DW_BOTTOM_SLID_IN;
}

static bool moves(const struct dwi_bottom *bottom)
{
    return bottom->material->kind == DW_SOLID_WOOD && bottom->material->movement > 0;
}

/* Room from the inner face of the box front to the inner face of the back. */
static dw_length room_deep(const struct dwi_box *box)
{
    const struct dwi_corner *front = &box->corners[0];
    const struct dwi_corner *back = &box->corners[1];
    return box->depth - front->inset - front->cross - back->inset - back->cross;
}

/* Seasonal change of a width of `across`, rounded up to 1/64 in or 1/10 mm. A width is below 2^31 units, the product of rates below 2^27. */
static dw_length movement(const struct dwi_making *making, const struct dwi_bottom *bottom, dw_length across)
{
    const dw_length change = across * (bottom->material->movement * making->job->shop.habits.moisture_percent) / 1000000;
    return dw_round_up(change, making->job->unit == DW_IN ? DW_INCH / 64 : DW_MM / 10);
}

static void check_depth(struct dwi_making *making, const struct dwi_box *box, const char *piece, dw_length thickness)
{
    const dw_length depth = box->bottom.depth;
    const char *at = dw_address_key(making->arena, box->address, "groove_depth");
    const char *cut = box->bottom.kind == DW_BOTTOM_RABBETED ? "rabbet" : "groove";
    if (depth <= 0 || depth >= thickness)
        dw_error(making->faults, DW_IMPOSSIBLE, "groove-deep", at, "a %s %s deep does not fit into a %s that measures %s\nat most half of it, %s",
                 cut, dwi_say_unit(making, depth), piece, dwi_say_unit(making, thickness), dwi_say_unit(making, thickness / 2));
    else if (depth > thickness - depth)
        dw_warn(making->faults, "little-wood", at, "a bottom %s %s deep leaves only %s of the %s\na depth of %s leaves half", cut,
                dwi_say_unit(making, depth), dwi_say_unit(making, thickness - depth), piece, dwi_say_unit(making, thickness / 2));
}

static void check_height(struct dwi_making *making, const struct dwi_box *box)
{
    const struct dwi_bottom *bottom = &box->bottom;
    if (bottom->up < 0 || bottom->up + bottom->material->thickness >= box->side_height.value)
        dw_error(making->faults, DW_IMPOSSIBLE, "bottom-high", dw_address_key(making->arena, box->address, "groove_up"),
                 "a bottom %s thick and %s up does not lie within sides %s high\na higher box, a thinner bottom or a lower groove",
                 dwi_say_unit(making, bottom->material->thickness), dwi_say_unit(making, bottom->up), dwi_say_unit(making, box->side_height.value));
    else if (bottom->kind == DW_BOTTOM_GROOVED && bottom->up == 0)
        dw_warn(making->faults, "groove-low", dw_address_key(making->arena, box->address, "groove_up"),
                "a groove at the very edge holds nothing\nat least 3/16 in up, or a rabbeted bottom");
}

static void settle_clearance(const struct dwi_making *making, const struct dwi_box *box, struct dwi_bottom *bottom)
{
    const dw_length asked = box->drawer->drawer->box.bottom_clearance;
    bottom->clearance = asked == DW_LENGTH_UNSET ? 0 : asked;
    bottom->clearance_deep = bottom->clearance;
    if (moves(bottom))
        bottom->clearance_deep = dw_most(bottom->clearance, movement(making, bottom, room_deep(box)));
}

static void down_to_step(const struct dwi_making *making, struct dwi_reckoning *sum)
{
    dwi_reckon_down(sum, "down to the step of boxes", making->job->shop.habits.box_step);
}

/* Of a piece that stands beside the bottom, or on it when it is applied. */
static struct dw_figure height_beside(const struct dwi_making *making, const struct dwi_box *box, const char *name)
{
    struct dwi_reckoning sum = dwi_reckon(making->arena, name, "box outside height", box->height);
    if (box->bottom.kind == DW_BOTTOM_APPLIED)
        dwi_reckon_less(&sum, "less the bottom beneath it", box->bottom.material->thickness);
    return dwi_reckoned(&sum);
}

static struct dw_figure height_of_back(const struct dwi_making *making, const struct dwi_box *box)
{
    const struct dw_figure beside = height_beside(making, box, "back height");
    struct dwi_reckoning sum = dwi_reckon_on(making->arena, beside.name, &beside);
    if (box->bottom.kind == DW_BOTTOM_SLID_IN) {
        dwi_reckon_less(&sum, "less what lies under the groove", box->bottom.up);
        dwi_reckon_less(&sum, "less the bottom that slides in beneath it", box->bottom.material->thickness);
        down_to_step(making, &sum);
    }
    return dwi_reckoned(&sum);
}

void dwi_plan_bottom(struct dwi_making *making, struct dwi_box *box)
{
    const struct dw_box *asked = &box->drawer->drawer->box;
    struct dwi_bottom *bottom = &box->bottom;
    bottom->kind = asked->bottom;
    bottom->depth = asked->groove_depth == DW_LENGTH_UNSET ? box->side->thickness / 2 : asked->groove_depth;
    bottom->up = is_in_groove(bottom) ? dw_bottom_up(making->job, box->drawer->drawer) : 0;
    box->side_height = height_beside(making, box, "side height");
    box->front_height = height_beside(making, box, "box front height");
    box->back_height = height_of_back(making, box);
    settle_clearance(making, box, bottom);
    if (bottom->kind == DW_BOTTOM_APPLIED) {
        if (moves(bottom))
            dw_warn(making->faults, "bottom-moves", dw_address_key(making->arena, box->address, "bottom_style"),
                    "a solid bottom under the box moves by up to %s\nscrew it through slots and do not glue it",
                    dwi_say_unit(making, movement(making, bottom, box->depth)));
        return;
    }
    check_height(making, box);
    check_depth(making, box, "side", box->side->thickness);
    check_depth(making, box, "box front", box->front->thickness);
    if (bottom->kind != DW_BOTTOM_SLID_IN)
        check_depth(making, box, "back", box->back->thickness);
}

/* A cut along the whole edge comes out at ends that are left to be seen: fingers and through dovetails. */
static bool would_show(const struct dwi_box *box)
{
    for (int end = 0; end < 2; end++)
        if (box->corners[end].joint == DW_FINGER || box->corners[end].joint == DW_THROUGH)
            return true;
    return false;
}

void dwi_bottom_works(const struct dwi_making *making, const struct dwi_box *box, dw_length from_edge, struct dwi_works *works)
{
    static const char WHERE[] = "inside face, along the lower edge";
    const struct dwi_bottom *bottom = &box->bottom;
    if (bottom->kind == DW_BOTTOM_APPLIED)
        return;
    const dw_length width = bottom->material->thickness;
    const dw_length from = from_edge + bottom->up;
    const enum dw_work_kind kind = bottom->kind == DW_BOTTOM_RABBETED && from == 0 ? DW_WORK_RABBET : DW_WORK_GROOVE;
    const char *up = from > 0 ? dw_arena_format(making->arena, ", up from the edge by %s", dwi_say(making, from)) : "";
    const char *words = dw_arena_format(making->arena, "%s: %s %s wide to the measured bottom, %s deep%s%s", WHERE, dw_work_word(kind),
                                        dwi_say(making, width), dwi_say(making, bottom->depth), up,
                                        would_show(box) ? "; stop it where it would show at the end" : "");
    dwi_add_work(making, works, (struct dw_part_work){.kind = kind, .where = WHERE, .from_edge = from, .width = width, .depth = bottom->depth,
                                                      .number = 1, .words = words});
}

/* ---- the bottom itself ----------------------------------------------------------------------------------- */

static struct dw_figure length_across(const struct dwi_making *making, const struct dwi_box *box)
{
    const struct dwi_bottom *bottom = &box->bottom;
    struct dwi_reckoning sum = dwi_reckon(making->arena, "bottom, side to side", "box outside width", box->width);
    if (bottom->kind != DW_BOTTOM_APPLIED) {
        dwi_reckon_less(&sum, dw_arena_format(making->arena, "less two sides of %s", dwi_say(making, box->side->thickness)),
                        2 * box->side->thickness);
        dwi_reckon_add(&sum, dw_arena_format(making->arena, "plus two %s of %s", bottom->kind == DW_BOTTOM_RABBETED ? "rabbets" : "grooves",
                                             dwi_say(making, bottom->depth)), 2 * bottom->depth);
        dwi_reckon_less(&sum, "less clearance in all", bottom->clearance);
    }
    down_to_step(making, &sum);
    return dwi_reckoned(&sum);
}

/* An applied bottom runs under a box front, but stops behind a front that comes down over its edge. */
static bool stops_behind_front(const struct dwi_box *box)
{
    return box->is_front && box->overhang[DW_BOTTOM] > -box->bottom.material->thickness;
}

static struct dw_figure applied_deep(const struct dwi_making *making, const struct dwi_box *box)
{
    struct dwi_reckoning sum = dwi_reckon(making->arena, "bottom, front to back", "box outside depth", box->depth);
    if (stops_behind_front(box))
        dwi_reckon_less(&sum, "less the front, which hides its edge", box->corners[0].cross);
    down_to_step(making, &sum);
    return dwi_reckoned(&sum);
}

static struct dw_figure length_deep(const struct dwi_making *making, const struct dwi_box *box)
{
    const struct dwi_bottom *bottom = &box->bottom;
    if (bottom->kind == DW_BOTTOM_APPLIED)
        return applied_deep(making, box);
    const struct dwi_corner *front = &box->corners[0];
    const struct dwi_corner *back = &box->corners[1];
    const bool slid = bottom->kind == DW_BOTTOM_SLID_IN;
    struct dwi_reckoning sum = dwi_reckon(making->arena, "bottom, front to back", "box outside depth", box->depth);
    dwi_reckon_less(&sum, "less the box front set in from the ends", front->inset);
    dwi_reckon_less(&sum, "less the back set in from the ends", back->inset);
    dwi_reckon_less(&sum, dw_arena_format(making->arena, "less the box front's %s", dwi_say(making, front->cross)), front->cross);
    if (!slid)
        dwi_reckon_less(&sum, dw_arena_format(making->arena, "less the back's %s", dwi_say(making, back->cross)), back->cross);
    const char *cut = bottom->kind == DW_BOTTOM_RABBETED ? "rabbet" : "groove";
    dwi_reckon_add(&sum, dw_arena_format(making->arena, "plus %s %s%s of %s", slid ? "one" : "two", cut, slid ? "" : "s",
                                              dwi_say(making, bottom->depth)), (slid ? 1 : 2) * bottom->depth);
    dwi_reckon_less(&sum, bottom->clearance_deep > bottom->clearance ? "less the wood's movement over the seasons" : "less clearance in all",
                        bottom->clearance_deep);
    down_to_step(making, &sum);
    return dwi_reckoned(&sum);
}

/* A bottom must stay in every groove even when it is pushed to the far side of the opposite one. A slid-in one is open at the back. */
static void check_hold(struct dwi_making *making, const struct dwi_box *box, dw_length across, dw_length deep)
{
    const struct dwi_bottom *bottom = &box->bottom;
    if (bottom->kind == DW_BOTTOM_APPLIED || bottom->depth <= 0)
        return;
    const dw_length missing_across = box->width - 2 * box->side->thickness + 2 * bottom->depth - across;
    const dw_length missing_deep = bottom->kind == DW_BOTTOM_SLID_IN ? 0 : room_deep(box) + 2 * bottom->depth - deep;
    const dw_length worst = dw_most(missing_across, missing_deep);
    if (worst < bottom->depth)
        return;
    dw_error(making->faults, DW_IMPOSSIBLE, "bottom-loose", dw_address_key(making->arena, box->address, "bottom_clearance"),
             "a bottom %s less than the grooves are apart is not held by grooves %s deep\n%s", dwi_say_unit(making, worst),
             dwi_say_unit(making, bottom->depth),
             moves(bottom) && missing_deep > missing_across ? "solid wood this deep wants to be slid in under a short back, or deeper grooves"
                                                            : "less clearance, or deeper grooves");
}

/* Length from side to side, the way the grain of a solid bottom runs; a sheet's grain is free here. */
void dwi_make_bottom(struct dwi_making *making, const struct dwi_box *box, struct dwi_blank *bottom)
{
    *bottom = dwi_blank_of(DW_PART_BOTTOM, "bottom", box->drawer->drawer->box.bottom_material, length_across(making, box),
                           length_deep(making, box));
    bottom->grain = moves(&box->bottom) ? DW_ALONG : DW_FREE;
    check_hold(making, box, bottom->length.value, bottom->width.value);
}
