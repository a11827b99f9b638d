/* front_parts.c - drawer fronts (and slab doors and panels that stand in a stack): size to cut, grain, banding, lip.
 *
 * A part's length runs along its grain. Grain on a front runs from side to side by default and then the length is the front's width as it
 * hangs; with vertical grain the length is its height, the part is `upright`, and what hangs as top and bottom are its ends. Both ways are
 * allowed by ANSI/AWI 0641-2019, 3.4 (check the current text).
 *
 * Banding applied after sizing is taken off the size to cut; banding applied before it is trimmed with the panel, and the panel is cut to
 * the full size. What is left to cut is rounded down to the shop's step of boxes. `oversize` is added both ways for trimming to fit.
 *
 * A lipped front is rabbeted round its back so that part of it enters the opening. The rabbet is 1/32 in wider than the overlay: Popular
 * Woodworking no. 152, Dec 2005, p. 67, whose 1/4 in rabbet leaves 1/32 in of clearance.
 */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

static const dw_length LIP_CLEARANCE = DW_INCH / 32;

/* The front as it hangs, from one side to the other; between the sides of the box where the joint puts it there. */
static struct dw_figure across(const struct dwi_making *making, const struct dw_sized_drawer *drawer, const struct dwi_box *box)
{
    if (box != NULL && box->is_front && !box->corners[0].outside)
        return dwi_cross_length(making, box, &box->corners[0]);
    const struct dwi_reckoning sum = dwi_reckon(making->arena, "front width", "front width", drawer->front_width.value);
    return dwi_reckoned(&sum);
}

static struct dw_figure to_cut(const struct dwi_making *making, const struct dw_front *front, const struct dw_figure *finished, enum dw_edge one,
                               const char *one_words, enum dw_edge other, const char *other_words)
{
    struct dwi_reckoning sum = dwi_reckon_on(making->arena, finished->name, finished);
    if (front->banding_after) {
        dwi_less_banding(making, &sum, front->banding[one], one_words);
        dwi_less_banding(making, &sum, front->banding[other], other_words);
        if (sum.value != finished->value)
            dwi_reckon_down(&sum, "down to the step of boxes", making->job->shop.habits.box_step);
    }
    dwi_reckon_add(&sum, "plus oversize for trimming", front->oversize == DW_LENGTH_UNSET ? 0 : front->oversize);
    return dwi_reckoned(&sum);
}

/* With its banding on, and trimmed: as sized, but for what rounding the cut took. */
static dw_length finished(const struct dwi_making *making, const struct dw_front *front, const struct dw_figure *sized, const struct dw_figure *cut,
                          enum dw_edge one, enum dw_edge other)
{
    const dw_length oversize = front->oversize == DW_LENGTH_UNSET ? 0 : front->oversize;
    const dw_length banding = dwi_banding_thickness(making, front->banding[one]) + dwi_banding_thickness(making, front->banding[other]);
    return front->banding_after ? cut->value - oversize + banding : sized->value;
}

/* ---- the lip --------------------------------------------------------------------------------------------- */

static void add_lip(const struct dwi_making *making, struct dwi_works *works, const char *where, dw_length overlay, dw_length depth)
{
    const dw_length width = overlay + LIP_CLEARANCE;
    const char *words = dw_arena_format(making->arena, "inside face, %s: rabbet %s wide, %s deep for the lip", where, dwi_say(making, width),
                                        dwi_say(making, depth));
    dwi_add_work(making, works, (struct dw_part_work){.kind = DW_WORK_LIP, .where = dw_arena_format(making->arena, "inside face, %s", where),
                                                      .width = width, .depth = depth, .number = 1, .words = words});
}

static void lip_works(struct dwi_making *making, const struct dw_sized_drawer *drawer, const struct dw_material *material,
                      struct dwi_works *works)
{
    static const char *const WORDS[DW_EDGES] = {"top edge", "bottom edge", "left end", "right end"};
    const struct dw_fit *fit = &drawer->drawer->fit;
    if (fit->kind != DW_LIPPED)
        return;
    const dw_length depth = material->thickness - fit->lip;
    if (fit->lip <= 0 || depth <= 0) {
        dw_error(making->faults, DW_IMPOSSIBLE, "lip-thick", dw_address_key(making->arena, drawer->address, "fit.lip"),
                 "a lip of %s cannot be left of a front that measures %s\nhalf of it, %s, by habit", dwi_say_unit(making, fit->lip),
                 dwi_say_unit(making, material->thickness), dwi_say_unit(making, material->thickness / 2));
        return;
    }
    const struct dw_figure *overlay = drawer->overlay;
    const bool all_alike = overlay[DW_TOP].value == overlay[DW_BOTTOM].value && overlay[DW_TOP].value == overlay[DW_LEFT].value &&
                           overlay[DW_TOP].value == overlay[DW_RIGHT].value;
    if (all_alike) {
        add_lip(making, works, "all round", overlay[DW_TOP].value, depth);
        return;
    }
    for (int edge = 0; edge < DW_EDGES; edge++)
        if (overlay[edge].value > 0)
            add_lip(making, works, WORDS[edge], overlay[edge].value, depth);
}

/* ---- the blank ------------------------------------------------------------------------------------------- */

/* Edges of the part by the edges of the front as it hangs: an upright one has the hung top at its left end. */
static void turn_banding(const struct dw_front *front, struct dwi_blank *blank)
{
    static const enum dw_edge UPRIGHT[DW_EDGES] = {[DW_TOP] = DW_RIGHT, [DW_BOTTOM] = DW_LEFT, [DW_LEFT] = DW_TOP, [DW_RIGHT] = DW_BOTTOM};
    for (int edge = 0; edge < DW_EDGES; edge++)
        blank->banding[edge] = front->banding[blank->upright ? UPRIGHT[edge] : (enum dw_edge)edge];
}

/* The group in which the front is matched; NULL when it is not. */
static const char *match_of(const struct dwi_making *making, const struct dw_sized_drawer *drawer)
{
    const struct dw_front *front = &drawer->drawer->front;
    if (!front->matched)
        return NULL;
    if (front->match_group != NULL && front->match_group[0] != '\0')
        return front->match_group;
    return making->sizing->cases[drawer->case_index].banks[drawer->bank_index].path;
}

static const char *name_of(enum dw_fill fill)
{
    return fill == DW_FILL_DOOR ? "door" : fill == DW_FILL_PANEL ? "panel" : "front";
}

bool dwi_make_front(struct dwi_making *making, const struct dw_sized_drawer *drawer, const struct dwi_box *box, struct dwi_works works,
                    struct dwi_blank *blank)
{
    const struct dw_front *front = &drawer->drawer->front;
    const char *address = dw_address_key(making->arena, drawer->address, "front");
    const struct dw_material *material = dwi_material(making, front->material, address, "material");
    if (material == NULL)
        return false;
    const struct dw_figure wide = across(making, drawer, box);
    const struct dwi_reckoning height = dwi_reckon(making->arena, "front height", "front height", drawer->front_height.value);
    const struct dw_figure high = dwi_reckoned(&height);
    const struct dw_figure wide_cut = to_cut(making, front, &wide, DW_LEFT, "left end", DW_RIGHT, "right end");
    const struct dw_figure high_cut = to_cut(making, front, &high, DW_TOP, "top edge", DW_BOTTOM, "bottom edge");
    const bool upright = front->grain == DW_GRAIN_VERTICAL && material->grained;
    *blank = dwi_blank_of(DW_PART_FRONT, name_of(drawer->drawer->fill), front->material, upright ? high_cut : wide_cut,
                          upright ? wide_cut : high_cut);
    const dw_length wide_done = finished(making, front, &wide, &wide_cut, DW_LEFT, DW_RIGHT);
    const dw_length high_done = finished(making, front, &high, &high_cut, DW_TOP, DW_BOTTOM);
    blank->finished_length = upright ? high_done : wide_done;
    blank->finished_width = upright ? wide_done : high_done;
    blank->grain = dwi_grain_along(material);
    blank->upright = upright;
    turn_banding(front, blank);
    dwi_check_banding(making, front->banding, material, address);
    blank->match = match_of(making, drawer);
    blank->works = works;
    lip_works(making, drawer, material, &blank->works);
    dwi_pull_works(making, drawer, &blank->works);
    if (blank->length.value <= 0 || blank->width.value <= 0)
        dw_error(making->faults, DW_IMPOSSIBLE, "no-room", address, "banding leaves nothing of the front\nthinner banding or a larger front");
    return true;
}
