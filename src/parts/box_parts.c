/* box_parts.c - a sized drawer's plan, and the parts made from it: sides, box front, back, bottom, front. */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

/* ---- the plan -------------------------------------------------------------------------------------------- */

static bool name_materials(struct dwi_making *making, struct dwi_box *box)
{
    const struct dw_drawer *drawer = box->drawer->drawer;
    box->front_material = box->is_front ? drawer->front.material : drawer->box.front_material;
    box->side = dwi_material(making, drawer->box.side_material, box->address, "sides");
    box->front = box->is_front ? dwi_material(making, box->front_material, box->drawer->address, "front.material")
                               : dwi_material(making, box->front_material, box->address, "front");
    box->back = dwi_material(making, drawer->box.back_material, box->address, "back");
    box->bottom.material = dwi_material(making, drawer->box.bottom_material, box->address, "bottom");
    return box->side != NULL && box->front != NULL && box->back != NULL && box->bottom.material != NULL;
}

static void measure_overhang(struct dwi_box *box)
{
    const struct dw_rectangle *front = &box->drawer->front;
    const struct dw_rectangle *inner = &box->drawer->box;
    box->overhang[DW_LEFT] = inner->x - front->x;
    box->overhang[DW_RIGHT] = front->x + front->width - inner->x - inner->width;
    box->overhang[DW_BOTTOM] = inner->y - front->y;
    box->overhang[DW_TOP] = front->y + front->height - inner->y - inner->height;
}

/* A front that is the box front: may it run past the box's sides with this joint? Only where the sides end behind it. */
static void check_overhang(struct dwi_making *making, const struct dwi_box *box)
{
    const struct dwi_corner *corner = &box->corners[0];
    const bool hides_ends = corner->joint == DW_LOCK_RABBET || corner->joint == DW_HALF_BLIND || (corner->outside && corner->stop > 0);
    const dw_length least = dw_least(box->overhang[DW_LEFT], box->overhang[DW_RIGHT]);
    const dw_length most = dw_most(box->overhang[DW_LEFT], box->overhang[DW_RIGHT]);
    const char *at = dw_address_key(making->arena, box->address, "joint");
    if (least < 0)
        dw_error(making->faults, DW_IMPOSSIBLE, "front-overhang", at,
                 "the front is %s narrower than the box at one end, and it is the box front\nside gaps no wider than the slide's clearance, or an applied front",
                 dwi_say_unit(making, -least));
    else if (most > 0 && !hides_ends)
        dw_error(making->faults, DW_IMPOSSIBLE, "front-overhang", at,
                 "the front is %s wider than the box at one end, which a %s joint does not allow\n"
                 "a half-blind, lock rabbet, or rabbet or butt joint with the front outside; or an applied front",
                 dwi_say_unit(making, most), dw_joint_word(corner->joint));
}

/* Banding on an end of the front into which the joint is cut. */
static void check_joint_banding(struct dwi_making *making, const struct dwi_box *box)
{
    const struct dw_front *front = &box->drawer->drawer->front;
    for (int edge = DW_LEFT; edge <= DW_RIGHT; edge++) {
        const dw_length thickness = dwi_banding_thickness(making, front->banding[edge]);
        if (thickness > 0 && box->corners[0].joint != DW_BUTT && box->overhang[edge] <= thickness)
            dw_error(making->faults, DW_IMPOSSIBLE, "banding-at-joint",
                     dw_address_key(making->arena, box->drawer->address, edge == DW_LEFT ? "front.banding.left" : "front.banding.right"),
                     "banding on the %s end of the front would lie where the %s joint is cut\nno banding on that end, or an applied front",
                     edge == DW_LEFT ? "left" : "right", dw_joint_word(box->corners[0].joint));
    }
}

static void check_length(struct dwi_making *making, const struct dwi_box *box, const struct dw_figure *length)
{
    if (length->value <= 0)
        dw_error(making->faults, DW_IMPOSSIBLE, "no-room", box->address, "the %s comes to %s\nthinner stock or a larger box", length->name,
                 dwi_say_unit(making, length->value));
}

static bool plan_box(struct dwi_making *making, const struct dw_sized_drawer *drawer, struct dwi_box *box)
{
    *box = (struct dwi_box){.drawer = drawer,
                            .address = dw_address_key(making->arena, drawer->address, "box"),
                            .is_front = drawer->drawer->front.kind == DW_FRONT_IS_BOX_FRONT,
                            .width = drawer->box_width.value,
                            .depth = drawer->box_depth.value,
                            .height = drawer->box_height.value};
    if (!name_materials(making, box))
        return false;
    const struct dw_box *asked = &drawer->drawer->box;
    box->corners[0] = dwi_plan_corner(making, &asked->front, box->side->thickness, box->front->thickness,
                                      dw_address_key(making->arena, box->address, "joint"));
    box->corners[1] = dwi_plan_corner(making, &asked->back, box->side->thickness, box->back->thickness,
                                      dw_address_key(making->arena, box->address, "back_joint"));
    if (box->is_front) {
        measure_overhang(box);
        check_overhang(making, box);
        check_joint_banding(making, box);
    }
    dwi_plan_bottom(making, box);
    return true;
}

/* ---- its parts ------------------------------------------------------------------------------------------- */

/* Center line of a side-mounted slide on the outside of a side, above the side's own lower edge. */
static void add_slide_line(const struct dwi_making *making, const struct dwi_box *box, struct dwi_works *works)
{
    const struct dw_shop *shop = &making->job->shop;
    if (box->drawer->slide >= shop->slide_count || shop->slides[box->drawer->slide].kind != DW_SIDE_MOUNT)
        return;
    const dw_length center = shop->slides[box->drawer->slide].center;
    const dw_length up = (center == DW_LENGTH_UNSET ? box->height / 2 : center) - (box->height - box->side_height.value);
    const char *words = dw_arena_format(making->arena, "outside face: slide center line %s above the lower edge", dwi_say(making, up));
    dwi_add_work(making, works, (struct dw_part_work){.kind = DW_WORK_LINE, .where = "outside face", .from_edge = up, .number = 1, .words = words});
}

/* Undermount slides reach through the back; only a short back lets them pass uncut. */
static void add_runner_notch(const struct dwi_making *making, const struct dwi_box *box, struct dwi_works *works)
{
    const struct dw_shop *shop = &making->job->shop;
    if (box->drawer->slide >= shop->slide_count || shop->slides[box->drawer->slide].kind != DW_UNDERMOUNT ||
        box->bottom.kind != DW_BOTTOM_GROOVED)
        return;
    const dw_length wide = shop->slides[box->drawer->slide].notch;
    const char *width = wide > 0 ? dwi_say(making, wide) : "as their data sheet says";
    const char *words = dw_arena_format(making->arena, "lower corners: notch %s high for the slides, width %s", dwi_say(making, box->bottom.up), width);
    dwi_add_work(making, works, (struct dw_part_work){.kind = DW_WORK_NOTCH, .where = "lower corners", .width = wide, .depth = box->bottom.up,
                                                      .number = 2, .words = words});
}

/* The blanks of one drawer, before they are marked. */
struct drawer_parts {
    struct dwi_blank at[6]; /* two sides, box front, back, bottom, front */
    const char *letters[6]; /* of each, in its mark */
    size_t count;
};

static void put(struct drawer_parts *parts, struct dwi_blank blank, const char *letters)
{
    parts->letters[parts->count] = letters;
    parts->at[parts->count++] = blank;
}

static struct dwi_blank box_part(enum dw_part_kind kind, const char *name, size_t material, const struct dw_material *stock,
                                 struct dw_figure length, struct dw_figure width, struct dwi_works works)
{
    struct dwi_blank blank = dwi_blank_of(kind, name, material, length, width);
    blank.grain = dwi_grain_along(stock);
    blank.works = works;
    return blank;
}

static void make_box(struct dwi_making *making, const struct dwi_box *box, struct drawer_parts *parts)
{
    const struct dw_box *asked = &box->drawer->drawer->box;
    struct dwi_works side = {0}, front = {0}, back = {0};
    dwi_joint_works(making, box, 0, &side, &front);
    dwi_joint_works(making, box, 1, &side, &back);
    dwi_bottom_works(making, box, 0, &side);
    dwi_bottom_works(making, box, box->overhang[DW_BOTTOM], &front);
    if (box->bottom.kind != DW_BOTTOM_SLID_IN)
        dwi_bottom_works(making, box, 0, &back);
    add_slide_line(making, box, &side);
    add_runner_notch(making, box, &back);

    const struct dw_figure side_length = dwi_side_length(making, box);
    const struct dw_figure front_length = dwi_cross_length(making, box, &box->corners[0]);
    const struct dw_figure back_length = dwi_cross_length(making, box, &box->corners[1]);
    check_length(making, box, &side_length);
    check_length(making, box, &front_length);
    check_length(making, box, &back_length);

    const struct dwi_blank made = box_part(DW_PART_SIDE, "side", asked->side_material, box->side, side_length,
                                           box->side_height, side);
    put(parts, made, "L");
    put(parts, made, "R");
    if (!box->is_front)
        put(parts, box_part(DW_PART_BOX_FRONT, "box front", asked->front_material, box->front, front_length,
                            box->front_height, front), "BF");
    put(parts, box_part(DW_PART_BACK, "back", asked->back_material, box->back, back_length, box->back_height, back), "BK");
    struct dwi_blank bottom;
    dwi_make_bottom(making, box, &bottom);
    check_length(making, box, &bottom.length);
    check_length(making, box, &bottom.width);
    put(parts, bottom, "BT");
    struct dwi_blank face;
    if (dwi_make_front(making, box->drawer, box, box->is_front ? front : (struct dwi_works){0}, &face))
        put(parts, face, "F");
}

void dwi_add_drawer_blank(struct dwi_making *making, const struct dw_sized_drawer *drawer, size_t copy, struct dwi_blank blank,
                          const char *letters)
{
    blank.match_copy = copy;
    blank.piece = (struct dw_piece){.mark = dwi_mark_drawer(making, drawer->case_index, copy, drawer->bank_index, drawer->drawer_index, letters),
                                    .drawer_path = drawer->path,
                                    .case_index = drawer->case_index,
                                    .case_copy = copy,
                                    .bank_index = drawer->bank_index,
                                    .drawer_index = drawer->drawer_index};
    dwi_add_blank(making, &blank);
}

/* One set of marked pieces for each copy of the case. */
static void add_copies(struct dwi_making *making, const struct dw_sized_drawer *drawer, const struct drawer_parts *parts)
{
    const int64_t copies = making->job->cases[drawer->case_index].count;
    for (size_t copy = 0; copy < (size_t)copies; copy++)
        for (size_t i = 0; i < parts->count; i++)
            dwi_add_drawer_blank(making, drawer, copy, parts->at[i], parts->letters[i]);
}

static void make_drawer(struct dwi_making *making, const struct dw_sized_drawer *drawer)
{
    struct drawer_parts parts = {.count = 0};
    struct dwi_box box;
    struct dwi_blank blank;
    switch (drawer->drawer->fill) {
    case DW_FILL_DRAWER:
        if (plan_box(making, drawer, &box))
            make_box(making, &box, &parts);
        break;
    case DW_FILL_DOOR:
    case DW_FILL_PANEL:
        if (dwi_make_front(making, drawer, NULL, (struct dwi_works){0}, &blank))
            put(&parts, blank, "F");
        break;
    case DW_FILL_OPEN:
        break;
    }
    add_copies(making, drawer, &parts);
}

void dwi_make_drawers(struct dwi_making *making)
{
    for (size_t c = 0; c < making->sizing->case_count; c++)
        for (size_t b = 0; b < making->sizing->cases[c].bank_count; b++) {
            const struct dw_sized_bank *bank = &making->sizing->cases[c].banks[b];
            for (size_t d = 0; d < bank->drawer_count; d++)
                make_drawer(making, &bank->drawers[d]);
        }
}
