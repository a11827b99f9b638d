/* complete_drawer.c - what a drawer does not say it takes from its case, then from the shop, then from the tables.
 *
 * Some values belong together: the depth of a rabbet says nothing about a dado, an overlay's amounts nothing about an inset front. So a
 * drawer that names a joint or fit of its own takes none of the figures that came with the case's.
 */
#include <drawerwright/address.h>
#include <drawerwright/keys.h>

#include "completing.h"
#include "fields.h"

static dw_length thickness_of(const struct dw_job *job, size_t material)
{
    return material < job->shop.material_count ? job->shop.materials[material].thickness : DW_LENGTH_UNSET;
}

static void complete_fit(const struct dw_job *job, const struct dw_case *one, struct dw_drawer *drawer)
{
    struct dw_fit *fit = &drawer->fit;
    if (fit->kind == DW_FIT_INHERIT || fit->kind == one->fit.kind)
        dwi_inherit(&dw_fit_object, fit, &one->fit);
    const bool covers = fit->kind == DW_OVERLAY || fit->kind == DW_LIPPED;
    if (!covers)
        return;
    const dw_length habit = fit->kind == DW_OVERLAY ? dwi_pick(job->unit, DW_INCH / 2, 13 * DW_MM)
                                                    : dwi_pick(job->unit, 3 * DW_INCH / 8, 10 * DW_MM);
    for (int edge = 0; edge < DW_EDGES; edge++)
        dwi_if_unset(&fit->overlay[edge], habit);
    const dw_length thickness = thickness_of(job, drawer->front.material);
    if (fit->kind == DW_LIPPED && thickness != DW_LENGTH_UNSET)
        dwi_if_unset(&fit->lip, thickness / 2);
}

static void complete_corner(struct dw_corner *corner, const struct dw_corner *above, enum dw_unit unit)
{
    if (corner->joint == DW_JOINT_INHERIT || corner->joint == above->joint)
        dwi_inherit(&dw_corner_object, corner, above);
    if (corner->joint == DW_JOINT_INHERIT)
        corner->joint = DW_RABBET_AND_DADO;
    dwi_fill_defaults(&dw_corner_object, corner, unit);
}

/* Where no joint is named, a front that is the box front is rabbeted to cover the ends of the sides, and fastened: so it may be
 * wider than the box, as it is on slides. (Common practice, no source.) */
static void default_integral(struct dw_box *box, const struct dw_box *above)
{
    if (box->front.joint != DW_JOINT_INHERIT || above->front.joint != DW_JOINT_INHERIT)
        return;
    box->front.joint = DW_RABBET;
    box->front.cross_outside = box->front.through_ends = DW_YES;
    if (box->back.joint == DW_JOINT_INHERIT && above->back.joint == DW_JOINT_INHERIT)
        box->back.joint = DW_RABBET_AND_DADO;
}

/* The corners at the back: the drawer's own, else those of its own front, else the case's back, else the front's. */
static void complete_corners(struct dw_box *box, const struct dw_box *above, enum dw_unit unit)
{
    const bool own_front = box->front.joint != DW_JOINT_INHERIT;
    const bool own_back = box->back.joint != DW_JOINT_INHERIT;
    complete_corner(&box->front, &above->front, unit);
    const bool case_back = above->back.joint != DW_JOINT_INHERIT && (own_back || !own_front);
    complete_corner(&box->back, case_back ? &above->back : &box->front, unit);
}

/* A groove half as deep as the thinnest side, by the trade's rule (Router Workshop: one-half the thickness). */
static dw_length groove_of(const struct dw_job *job, const struct dw_box *box)
{
    const struct dw_habits *habits = &job->shop.habits;
    if (habits->groove_depth != DW_LENGTH_UNSET)
        return habits->groove_depth;
    const dw_length side = thickness_of(job, box->side_material);
    if (side == DW_LENGTH_UNSET || habits->box_step <= 0)
        return DW_LENGTH_UNSET;
    return dw_round_down(side / 2, habits->box_step);
}

static void complete_box(const struct dw_job *job, const struct dw_case *one, struct dw_drawer *drawer)
{
    struct dw_box *box = &drawer->box;
    const bool own_sides = box->side_material != DW_NO_INDEX;
    struct dw_box above = one->box;
    if (own_sides) /* sides of its own: the front and back follow them, not the case's */
        above.front_material = above.back_material = DW_NO_INDEX;
    if (drawer->front.kind == DW_FRONT_IS_BOX_FRONT)
        default_integral(box, &above);
    complete_corners(box, &above, job->unit);
    above.front = box->front; /* settled above */
    above.back = box->back;
    dwi_inherit(&dw_box_object, box, &above);
    if (drawer->front.kind == DW_FRONT_IS_BOX_FRONT && drawer->front.material != DW_NO_INDEX)
        box->front_material = drawer->front.material;
    if (box->front_material == DW_NO_INDEX)
        box->front_material = box->side_material;
    if (box->back_material == DW_NO_INDEX)
        box->back_material = box->side_material;
    if (box->one_batch == DW_ASK_ABOVE)
        box->one_batch = DW_NO;
    if (box->bottom == DW_BOTTOM_INHERIT)
        box->bottom = DW_BOTTOM_GROOVED;
    if (box->leeway.alike == DW_ALIKE_INHERIT)
        box->leeway.alike = DW_ALIKE_JOB;
    dwi_if_unset(&box->groove_depth, groove_of(job, box));
    dwi_if_unset(&box->bottom_clearance, job->shop.habits.bottom_clearance);
    const bool under = drawer->slide < job->shop.slide_count && job->shop.slides[drawer->slide].kind == DW_UNDERMOUNT;
    dwi_if_unset(&box->groove_up, under ? job->shop.slides[drawer->slide].recess : job->shop.habits.groove_up);
}

static void complete_front(const struct dw_job *job, const struct dw_case *one, struct dw_drawer *drawer)
{
    struct dw_front *front = &drawer->front;
    dwi_inherit(&dw_front_object, front, &one->front);
    if (front->kind == DW_FRONT_INHERIT)
        front->kind = DW_FRONT_APPLIED;
    if (front->grain == DW_GRAIN_INHERIT)
        front->grain = DW_GRAIN_HORIZONTAL;
    if (front->material == DW_NO_INDEX && front->kind == DW_FRONT_IS_BOX_FRONT)
        front->material = drawer->box.front_material != DW_NO_INDEX ? drawer->box.front_material : one->box.front_material;
    if (front->material == DW_NO_INDEX)
        front->material = one->case_material;
    dwi_fill_defaults(&dw_front_object, front, job->unit);
}

/* Nothing said: graduated where the bank is, else one share. */
static void complete_height(struct dw_height *height, const struct dw_bank *bank)
{
    if (height->rule == DW_HEIGHT_SHARE && height->weight == DW_UNSET && bank->graduation != DW_GRADUATED_NOT)
        height->rule = DW_HEIGHT_GRADUATED;
    if (height->weight == DW_UNSET)
        height->weight = 1;
}

void dwi_complete_drawer(const struct dwi_completing *completing, const struct dw_case *one, const struct dw_bank *bank,
                         struct dw_drawer *drawer, const char *address)
{
    const struct dw_job *job = completing->job;
    if (drawer->holds == NULL)
        drawer->holds = "";
    complete_height(&drawer->height, bank);
    if (drawer->height.rule == DW_HEIGHT_GRADUATED && bank->graduation == DW_GRADUATED_NOT)
        dw_error(completing->faults, DW_INPUT, "no-graduation", dw_address_key(completing->arena, address, "height"),
                 "the drawer is graduated, but its bank has no graduation\na graduation of the bank: a step, a ratio or \"divider\"");
    if (drawer->fill != DW_FILL_DRAWER)
        drawer->slide = DW_NO_INDEX;
    else if (drawer->slide == DW_NO_INDEX)
        drawer->slide = one->slide;
    complete_front(job, one, drawer);
    complete_fit(job, one, drawer);
    complete_box(job, one, drawer);
}
