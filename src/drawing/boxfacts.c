/* boxfacts.c - a box read back from its parts.
 *
 * The parts list says what each piece measures and what is cut into it; with the box's outside sizes that settles every corner:
 *
 *     reach  = (cross piece - (box width - 2 sides)) / 2
 *     stop at the front + stop at the back = box depth - side
 *
 * Which end the stop belongs to follows from the joint: the whole end piece for a butt that runs past, what a rabbet leaves of it, the lip of a
 * lock rabbet; a half-blind dovetail has what is left.
 */
#include "boxfacts.h"

#include <string.h>

static bool belongs(const struct dw_part *part, const struct dw_sized_drawer *drawer)
{
    for (size_t i = 0; i < part->count; i++) {
        const struct dw_piece *piece = &part->pieces[i];
        if (piece->case_index == drawer->case_index && piece->bank_index == drawer->bank_index && piece->drawer_index == drawer->drawer_index)
            return true;
    }
    return false;
}

static const struct dw_part *find(const struct dw_parts *parts, const struct dw_sized_drawer *drawer, enum dw_part_kind kind)
{
    for (size_t p = 0; p < parts->count; p++)
        if (parts->at[p].kind == kind && belongs(&parts->at[p], drawer))
            return &parts->at[p];
    return NULL;
}

/* A cut of one of two kinds that is made at this end, or at both. `end` is the word that names the end alone. */
static const struct dw_part_work *cut_at(const struct dw_part *part, enum dw_work_kind kind, enum dw_work_kind other, const char *end)
{
    for (size_t i = 0; i < part->work_count; i++) {
        const struct dw_part_work *work = &part->works[i];
        if ((work->kind == kind || work->kind == other) && (strstr(work->where, end) != NULL || strstr(work->where, "both ends") != NULL))
            return work;
    }
    return NULL;
}

static const struct dw_part_work *work_of(const struct dw_part *part, enum dw_work_kind kind)
{
    for (size_t i = 0; i < part->work_count; i++)
        if (part->works[i].kind == kind)
            return &part->works[i];
    return NULL;
}

/* The stop where the joint alone tells it; DW_LENGTH_UNSET for a half-blind one. */
static dw_length stop_of(const struct dwi_corner_facts *corner, bool outside)
{
    switch (corner->joint) {
    case DW_BUTT:
        return outside ? corner->cross : 0;
    case DW_RABBET:
        return outside && corner->cross_cut != NULL ? corner->cross - corner->cross_cut->depth : 0;
    case DW_LOCK_RABBET:
        return corner->slot == NULL ? 0 : corner->slot->from_edge;
    case DW_HALF_BLIND:
        return DW_LENGTH_UNSET;
    case DW_JOINT_INHERIT:
    case DW_DADO:
    case DW_RABBET_AND_DADO:
    case DW_FINGER:
    case DW_THROUGH:
    case DW_MITER:
        return 0;
    }
    return 0;
}

static struct dwi_corner_facts corner_of(const struct dwi_box_facts *facts, enum dwi_end end)
{
    const struct dw_box *box = &facts->drawer->drawer->box;
    const struct dw_corner *asked = end == DWI_FRONT_END ? &box->front : &box->back;
    const struct dw_part *cross = facts->ends[end];
    const char *name = end == DWI_FRONT_END ? "front end" : "rear end";
    struct dwi_corner_facts corner = {.joint = asked->joint, .side = facts->side->thickness, .cross = cross->thickness};
    corner.side_cut = cut_at(facts->side, DW_WORK_DADO, DW_WORK_RABBET, name);
    corner.cross_cut = cut_at(cross, DW_WORK_RABBET, DW_WORK_DADO, "left end");
    corner.slot = work_of(cross, DW_WORK_SLOT);
    corner.teeth = cut_at(facts->side, DW_WORK_FINGERS, DW_WORK_TAILS, name);
    corner.reach = (dwi_hung_width(cross) - (facts->drawer->box_width.value - 2 * corner.side)) / 2;
    if (corner.joint == DW_DADO && corner.side_cut != NULL)
        corner.inset = corner.side_cut->from_edge;
    corner.stop = stop_of(&corner, asked->cross_outside);
    return corner;
}

/* Half-blind ends share what the others leave. */
static void settle_stops(struct dwi_box_facts *facts)
{
    dw_length left = facts->drawer->box_depth.value - facts->side->length.value;
    int64_t open = 0;
    for (int end = 0; end < 2; end++)
        if (facts->corners[end].stop == DW_LENGTH_UNSET)
            open++;
        else
            left -= facts->corners[end].stop;
    for (int end = 0; end < 2; end++)
        if (facts->corners[end].stop == DW_LENGTH_UNSET)
            facts->corners[end].stop = left / open;
}

bool dwi_box_facts_of(const struct dw_parts *parts, size_t case_index, size_t bank, size_t drawer, struct dwi_box_facts *facts)
{
    const struct dw_sized_drawer *of = &parts->sizing->cases[case_index].banks[bank].drawers[drawer];
    if (of->box_width.step_count == 0)
        return false;
    const bool is_front = of->drawer->front.kind == DW_FRONT_IS_BOX_FRONT;
    *facts = (struct dwi_box_facts){.parts = parts, .drawer = of};
    facts->side = find(parts, of, DW_PART_SIDE);
    facts->ends[DWI_FRONT_END] = find(parts, of, is_front ? DW_PART_FRONT : DW_PART_BOX_FRONT);
    facts->ends[DWI_REAR_END] = find(parts, of, DW_PART_BACK);
    facts->bottom = find(parts, of, DW_PART_BOTTOM);
    facts->front = is_front ? NULL : find(parts, of, DW_PART_FRONT);
    if (facts->side == NULL || facts->ends[0] == NULL || facts->ends[1] == NULL || facts->bottom == NULL)
        return false;
    facts->corners[DWI_FRONT_END] = corner_of(facts, DWI_FRONT_END);
    facts->corners[DWI_REAR_END] = corner_of(facts, DWI_REAR_END);
    settle_stops(facts);
    facts->groove = work_of(facts->side, DW_WORK_GROOVE);
    if (facts->groove == NULL && of->drawer->box.bottom == DW_BOTTOM_RABBETED)
        facts->groove = cut_at(facts->side, DW_WORK_RABBET, DW_WORK_RABBET, "lower edge");
    facts->bottom_thickness = facts->bottom->thickness;
    return true;
}

static bool corners_alike(const struct dw_corner *a, const struct dw_corner *b)
{
    return a->joint == b->joint && a->cross_outside == b->cross_outside && a->depth == b->depth && a->tongue == b->tongue && a->lap == b->lap &&
           a->pitch == b->pitch;
}

bool dwi_boxes_alike(const struct dw_sized_drawer *a, const struct dw_sized_drawer *b)
{
    const struct dw_box *x = &a->drawer->box;
    const struct dw_box *y = &b->drawer->box;
    return a->drawer->front.kind == b->drawer->front.kind && corners_alike(&x->front, &y->front) && corners_alike(&x->back, &y->back) &&
           x->bottom == y->bottom && x->side_material == y->side_material && x->front_material == y->front_material &&
           x->back_material == y->back_material && x->bottom_material == y->bottom_material && x->groove_depth == y->groove_depth &&
           x->groove_up == y->groove_up && a->slide == b->slide;
}
