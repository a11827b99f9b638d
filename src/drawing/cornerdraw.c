/* cornerdraw.c - the joints of a box enlarged: a corner from above, the teeth of a side from outside, the bottom where it meets the side. */
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "boxdraw.h"
#include "dimension.h"

enum { TITLE_HIGH = 2600, LEFT_ROOM = 5200, RIGHT_ROOM = 1500, FOOT_ROOM = 3000 };

static void write_title(struct dwi_pad *pad, struct dwi_area room, const char *title, const char *how, int64_t scale)
{
    const char *size = scale == 1 ? "full size" : dw_arena_format(pad->arena, "1 : %lld", (long long)scale);
    dwi_text(pad, room.x, room.y + DWI_BODY, (struct dwi_type){.bold = true, .most = dwi_wide(room)}, "", title);
    dwi_text(pad, room.x, room.y + DWI_BODY + 1150, (struct dwi_type){.size = DWI_NOTE, .ink = DW_TONE_GRAY, .most = dwi_wide(room)}, "",
             dw_arena_format(pad->arena, "%s, %s", how, size));
}

/* A view of so much by so much under the title, with room for dimensions at the left and beneath. */
static struct dwi_view detail_view(struct dwi_area room, dw_length wide, dw_length high, bool y_up)
{
    const dw_dot room_wide = dwi_wide(room) - LEFT_ROOM - RIGHT_ROOM;
    const dw_dot room_high = dwi_high(room) - TITLE_HIGH - FOOT_ROOM;
    struct dwi_view view = {.scale = dwi_scale_for(wide, high, room_wide, room_high < 2000 ? 2000 : room_high), .y_up = y_up};
    view.x = room.x + LEFT_ROOM;
    view.y = room.y + TITLE_HIGH + 600 + (y_up ? dwi_dots(high, view.scale) : 0);
    return view;
}

struct outline {
    dw_dot points[32];
    size_t count;
};

static void corner_point(struct outline *outline, const struct dwi_view *view, dw_length x, dw_length y)
{
    outline->points[2 * outline->count] = dwi_x(view, x);
    outline->points[2 * outline->count + 1] = dwi_y(view, y);
    outline->count++;
}

/* Adds a figure to the chain from the last place to `to` (full lengths), or only moves when its text is not wanted. */
struct ruler {
    struct dw_arena *arena;
    const struct dw_job *job;
    struct dwi_span spans[8];
    size_t count;
    dw_length reached;
    const struct dwi_view *view;
    bool level;
};

static void rule_to(struct ruler *ruler, dw_length to)
{
    if (to <= ruler->reached || ruler->count == sizeof ruler->spans / sizeof *ruler->spans)
        return;
    const dw_dot a = ruler->level ? dwi_x(ruler->view, ruler->reached) : dwi_y(ruler->view, ruler->reached);
    const dw_dot b = ruler->level ? dwi_x(ruler->view, to) : dwi_y(ruler->view, to);
    ruler->spans[ruler->count++] = (struct dwi_span){.from = a < b ? a : b, .to = a < b ? b : a, .address = "",
                                                     .text = dwi_length(ruler->arena, ruler->job, to - ruler->reached)};
    ruler->reached = to;
}

/* Upward chains were ruled from the bottom: their spans run the other way on the page. */
static void draw_ruled(struct dwi_pad *pad, struct ruler *ruler, dw_dot at, dw_dot object, int side, struct dwi_area room)
{
    if (!ruler->level && ruler->view->y_up)
        for (size_t i = 0; i < ruler->count / 2; i++) {
            const struct dwi_span span = ruler->spans[i];
            ruler->spans[i] = ruler->spans[ruler->count - 1 - i];
            ruler->spans[ruler->count - 1 - i] = span;
        }
    const struct dwi_chain chain = {.spans = ruler->spans, .count = ruler->count, .at = at, .object = object, .side = side,
                                    .low = ruler->level ? room.x : room.y + TITLE_HIGH, .high = ruler->level ? room.x2 : room.y2};
    if (ruler->level)
        dwi_chain_level(pad, &chain);
    else
        dwi_chain_upright(pad, &chain);
}

/* ---- a corner from above ---------------------------------------------------------------------------------- */

/* The side, its outer face at 0, running on to `far`; the cut in its inner face as a notch. */
static void draw_side(struct dwi_pad *pad, const struct dwi_corner_facts *corner, const struct dwi_view *view, dw_length far, const char *address)
{
    struct outline outline = {.count = 0};
    corner_point(&outline, view, 0, far);
    if (corner->joint == DW_MITER) {
        corner_point(&outline, view, 0, 0);
        corner_point(&outline, view, corner->side, corner->cross);
    } else {
        corner_point(&outline, view, 0, corner->stop);
        if (corner->side_cut != NULL) {
            const dw_length from = corner->stop + corner->side_cut->from_edge;
            const dw_length inner = corner->side - corner->side_cut->depth;
            if (corner->side_cut->from_edge > 0) {
                corner_point(&outline, view, corner->side, corner->stop);
                corner_point(&outline, view, corner->side, from);
            }
            corner_point(&outline, view, inner, from);
            corner_point(&outline, view, inner, from + corner->side_cut->width);
            corner_point(&outline, view, corner->side, from + corner->side_cut->width);
        } else {
            corner_point(&outline, view, corner->side, corner->stop);
        }
    }
    corner_point(&outline, view, corner->side, far);
    dwi_polygon(pad, outline.points, outline.count, DWI_LINE, DW_TONE_INK, DW_TONE_PALE, address);
}

/* The cross piece, from its end at side - reach to `far`: a tongue where its outer face is rabbeted, a step where its inner face is, a lip and a
 * tongue beside a slot. */
static void draw_cross(struct dwi_pad *pad, const struct dwi_corner_facts *corner, const struct dwi_view *view, dw_length far, const char *address)
{
    struct outline outline = {.count = 0};
    const dw_length end = corner->side - corner->reach;
    const dw_length outer = corner->inset;
    const dw_length inner = corner->inset + corner->cross;
    const struct dw_part_work *cut = corner->cross_cut;
    corner_point(&outline, view, far, outer);
    if (corner->joint == DW_MITER) {
        corner_point(&outline, view, 0, 0);
        corner_point(&outline, view, corner->side, corner->cross);
    } else if (corner->joint == DW_LOCK_RABBET && corner->slot != NULL) {
        const dw_length slot = outer + corner->slot->from_edge;
        const dw_length short_of = cut == NULL ? 0 : cut->width;
        corner_point(&outline, view, end, outer);
        corner_point(&outline, view, end, slot);
        corner_point(&outline, view, end + corner->slot->depth, slot);
        corner_point(&outline, view, end + corner->slot->depth, slot + corner->slot->width);
        corner_point(&outline, view, end + short_of, slot + corner->slot->width);
        corner_point(&outline, view, end + short_of, inner);
    } else if (corner->joint == DW_RABBET_AND_DADO && cut != NULL) {
        corner_point(&outline, view, end + cut->from_edge + cut->width, outer);
        corner_point(&outline, view, end + cut->from_edge + cut->width, outer + cut->depth);
        corner_point(&outline, view, end, outer + cut->depth);
        corner_point(&outline, view, end, inner);
    } else if (corner->joint == DW_RABBET && cut != NULL) {
        corner_point(&outline, view, end, outer);
        corner_point(&outline, view, end, inner - (cut->from_edge > 0 ? 0 : cut->depth));
        if (cut->from_edge > 0) {
            corner_point(&outline, view, end + cut->from_edge, inner);
            corner_point(&outline, view, end + cut->from_edge, inner - cut->depth);
        }
        corner_point(&outline, view, end + cut->from_edge + cut->width, inner - cut->depth);
        corner_point(&outline, view, end + cut->from_edge + cut->width, inner);
    } else {
        corner_point(&outline, view, end, outer);
        corner_point(&outline, view, end, inner);
    }
    corner_point(&outline, view, far, inner);
    dwi_polygon(pad, outline.points, outline.count, DWI_LINE, DW_TONE_INK, DW_TONE_PAPER, address);
}

static bool has_teeth(const struct dwi_corner_facts *corner)
{
    return corner->joint == DW_FINGER || corner->joint == DW_THROUGH || corner->joint == DW_HALF_BLIND;
}

void dwi_draw_corner(struct dwi_pad *pad, const struct dwi_box_facts *facts, enum dwi_end end, struct dwi_area room)
{
    const struct dwi_corner_facts *corner = &facts->corners[end];
    const dw_length deep = corner->inset + corner->cross;
    const dw_length before = corner->reach > corner->side ? dw_least(corner->reach - corner->side, corner->side) : 0;
    const dw_length far_x = 4 * corner->side;
    const dw_length far_y = deep + 2 * corner->side;
    const char *address = facts->drawer->address;
    struct dwi_view view = detail_view(room, far_x + before, far_y, false);
    view.x += dwi_dots(before, view.scale);
    struct dwi_corner_facts shown = *corner;
    shown.reach = dw_least(shown.reach, shown.side + before);
    draw_side(pad, corner, &view, far_y, address);
    draw_cross(pad, &shown, &view, far_x, address);
    if (has_teeth(corner))
        dwi_dashed_rectangle(pad, dwi_view_area(&view, 0, corner->stop, corner->side, deep - corner->stop), DWI_FINE, DW_TONE_WARM, address);
    write_title(pad, room, dw_arena_format(pad->arena, "%s corner: %s", end == DWI_FRONT_END ? "Front" : "Rear", dw_joint_word(corner->joint)), "from above",
                view.scale);
    const struct dw_job *job = facts->parts->sizing->job;
    struct ruler down = {.arena = pad->arena, .job = job, .view = &view};
    rule_to(&down, corner->stop);
    if (corner->side_cut != NULL) {
        rule_to(&down, corner->stop + corner->side_cut->from_edge);
        rule_to(&down, corner->stop + corner->side_cut->from_edge + corner->side_cut->width);
    }
    rule_to(&down, deep);
    const dw_dot left = dwi_x(&view, -before);
    draw_ruled(pad, &down, left - 1500, left, -1, room);
    struct ruler across = {.arena = pad->arena, .job = job, .view = &view, .level = true};
    if (corner->side_cut != NULL)
        rule_to(&across, corner->side - corner->side_cut->depth);
    rule_to(&across, corner->side);
    const dw_dot low = dwi_y(&view, far_y);
    draw_ruled(pad, &across, low + 1000, low, 1, room);
}

/* ---- the bottom, from the front, where it meets the left side ---------------------------------------------- */

void dwi_draw_bottom(struct dwi_pad *pad, const struct dwi_box_facts *facts, struct dwi_area room)
{
    const struct dw_job *job = facts->parts->sizing->job;
    const dw_length side = facts->side->thickness;
    const dw_length thick = facts->bottom_thickness;
    const char *address = facts->drawer->address;
    const struct dw_part_work *groove = facts->groove;
    const dw_length under = groove == NULL ? thick : 0;
    const dw_length up = groove == NULL ? 0 : groove->from_edge;
    const dw_length wall = groove == NULL ? 0 : groove->depth;
    const dw_length high = dw_least(facts->side->width.value, up + thick + side);
    const dw_length far = 4 * side;
    struct dwi_view view = detail_view(room, far, high + under, true);
    view.y -= dwi_dots(under, view.scale);
    const dw_length inner = side - wall;
    struct outline outline = {.count = 0};
    corner_point(&outline, &view, 0, high);
    corner_point(&outline, &view, 0, 0);
    if (groove != NULL && up > 0)
        corner_point(&outline, &view, side, 0);
    if (groove != NULL) {
        if (up > 0)
            corner_point(&outline, &view, side, up);
        corner_point(&outline, &view, inner, up);
        corner_point(&outline, &view, inner, up + groove->width);
        corner_point(&outline, &view, side, up + groove->width);
    } else {
        corner_point(&outline, &view, side, 0);
    }
    corner_point(&outline, &view, side, high);
    dwi_polygon(pad, outline.points, outline.count, DWI_LINE, DW_TONE_INK, DW_TONE_PALE, address);
    const dw_length clear = groove == NULL ? 0 : dw_most(0, (facts->drawer->box_width.value - 2 * inner - facts->bottom->length.value) / 2);
    dwi_rectangle(pad, dwi_view_area(&view, groove == NULL ? 0 : inner + clear, groove == NULL ? -thick : up, far - inner - clear, thick), DWI_LINE, DW_TONE_INK,
                  DW_TONE_PAPER, address);
    write_title(pad, room, dw_arena_format(pad->arena, "Bottom: %s", dw_bottom_word(facts->drawer->drawer->box.bottom)), "with the side, from the front", view.scale);
    struct ruler upward = {.arena = pad->arena, .job = job, .view = &view, .reached = groove == NULL ? -thick : 0};
    rule_to(&upward, groove == NULL ? 0 : up);
    rule_to(&upward, groove == NULL ? 0 : up + groove->width);
    draw_ruled(pad, &upward, dwi_x(&view, 0) - 1500, dwi_x(&view, 0), -1, room);
    struct ruler across = {.arena = pad->arena, .job = job, .view = &view, .level = true};
    rule_to(&across, inner);
    rule_to(&across, side);
    const dw_dot low = dwi_y(&view, groove == NULL ? -thick : 0);
    draw_ruled(pad, &across, low + 1000, low, 1, room);
}

/* ---- the teeth of a side, from outside ----------------------------------------------------------------------- */

/* One finger or tail of the side: from its lower to its upper edge at the end, and at the root. */
static void draw_tooth(struct dwi_pad *pad, const struct dwi_view *view, dw_length low, dw_length high, dw_length narrow, dw_length depth, const char *address)
{
    struct outline outline = {.count = 0};
    corner_point(&outline, view, 0, low);
    corner_point(&outline, view, 0, high);
    corner_point(&outline, view, depth, high - narrow);
    corner_point(&outline, view, depth, low + narrow);
    dwi_polygon(pad, outline.points, outline.count, DWI_LINE, DW_TONE_INK, DW_TONE_PALE, address);
}

/* The lower part of the side: enough of it to show how the teeth begin and follow one another. */
void dwi_draw_teeth(struct dwi_pad *pad, const struct dwi_box_facts *facts, enum dwi_end end, struct dwi_area room)
{
    const struct dw_part_work *teeth = facts->corners[end].teeth;
    const struct dw_box *box = &facts->drawer->drawer->box;
    const struct dw_corner *asked = end == DWI_FRONT_END ? &box->front : &box->back;
    const bool tails = teeth->kind == DW_WORK_TAILS;
    const char *address = facts->drawer->address;
    const int64_t slope = asked->slope == DW_UNSET || asked->slope <= 0 ? 8 : asked->slope;
    const dw_length narrow = tails ? teeth->depth / slope : 0;
    const dw_length start = tails ? teeth->from_edge - teeth->width / 2 : 0;
    const dw_length high = dw_least(facts->side->width.value, start + 3 * teeth->pitch);
    const struct dwi_view view = detail_view(room, dw_most(4 * teeth->depth, high / 2), high, true);
    const dw_length body = dw_most(3 * teeth->depth, high / 2 - teeth->depth);
    dwi_rectangle(pad, dwi_view_area(&view, teeth->depth, 0, body, high), 0, DW_TONE_NONE, DW_TONE_PALE, address);
    dwi_line(pad, dwi_x(&view, teeth->depth), dwi_y(&view, 0), dwi_x(&view, teeth->depth + body), dwi_y(&view, 0), DWI_LINE, DW_TONE_INK);
    dwi_line(pad, dwi_x(&view, teeth->depth), dwi_y(&view, 0), dwi_x(&view, teeth->depth), dwi_y(&view, high), DWI_LINE, DW_TONE_INK);
    for (int64_t i = 0; i < teeth->number; i++) {
        const dw_length low = start + i * teeth->pitch;
        if (low + teeth->width <= high)
            draw_tooth(pad, &view, low, low + teeth->width, narrow, teeth->depth, address);
    }
    write_title(pad, room, tails ? "Tails of the side" : "Fingers of the side", "from outside, lower edge", view.scale);
    struct ruler upward = {.arena = pad->arena, .job = facts->parts->sizing->job, .view = &view};
    rule_to(&upward, start);
    rule_to(&upward, start + teeth->width);
    rule_to(&upward, start + teeth->pitch);
    draw_ruled(pad, &upward, dwi_x(&view, 0) - 1500, dwi_x(&view, 0), -1, room);
    struct ruler across = {.arena = pad->arena, .job = facts->parts->sizing->job, .view = &view, .level = true};
    rule_to(&across, teeth->depth);
    const dw_dot low = dwi_y(&view, 0);
    draw_ruled(pad, &across, low + 1000, low, 1, room);
}
