/* boxdraw.c - a box taken apart, in an oblique view: width and height true, depth slanted back to the right and shortened. Every piece is a slab of
 * which the front, the top and the right face are seen; grooves and dadoes show where such a face is an inner one. Names and sizes stand at both
 * sides, led to their pieces.
 */
#include "boxdraw.h"

#include <drawerwright/memory.h>

#include "dimension.h"

enum {
    SLANT_X = 42, SLANT_Y = 30,   /* percent of the depth, across and up */
    LABEL_ROOM = 9200,            /* at each side, or more ... */
    LABEL_AIR = 1000,             /* ... where the widest size with so much beside it wants it */
    LABEL_HIGH = 2800,
    DETAIL_WIDTH = 22500          /* the column of enlarged details */
};

struct oblique {
    dw_dot x, y;      /* where the lower front left corner of the box is */
    int64_t scale;
};

struct point {
    dw_length x, y, z; /* across, back, up */
};

static void project(const struct oblique *view, struct point at, dw_dot *x, dw_dot *y)
{
    *x = view->x + dwi_dots(at.x + at.y * SLANT_X / 100, view->scale);
    *y = view->y - dwi_dots(at.z + at.y * SLANT_Y / 100, view->scale);
}

struct slab {
    struct point at, size;
    const char *name, *measure;
    const char *address;
    bool at_left;       /* its label stands at the left */
};

static void draw_face(struct dwi_pad *pad, const struct oblique *view, const struct point corners[4], enum dw_tone fill, const char *address)
{
    dw_dot points[8];
    for (size_t i = 0; i < 4; i++)
        project(view, corners[i], &points[2 * i], &points[2 * i + 1]);
    dwi_polygon(pad, points, 4, DWI_FINE, DW_TONE_INK, fill, address);
}

static void draw_slab(struct dwi_pad *pad, const struct oblique *view, const struct slab *slab)
{
    const struct point a = slab->at;
    const struct point b = {a.x + slab->size.x, a.y + slab->size.y, a.z + slab->size.z};
    const struct point front[4] = {{a.x, a.y, a.z}, {b.x, a.y, a.z}, {b.x, a.y, b.z}, {a.x, a.y, b.z}};
    const struct point top[4] = {{a.x, a.y, b.z}, {b.x, a.y, b.z}, {b.x, b.y, b.z}, {a.x, b.y, b.z}};
    const struct point right[4] = {{b.x, a.y, a.z}, {b.x, b.y, a.z}, {b.x, b.y, b.z}, {b.x, a.y, b.z}};
    draw_face(pad, view, front, DW_TONE_PAPER, slab->address);
    draw_face(pad, view, top, DW_TONE_PAPER, slab->address);
    draw_face(pad, view, right, DW_TONE_PALE, slab->address);
}

static void draw_edge(struct dwi_pad *pad, const struct oblique *view, struct point from, struct point to)
{
    dw_dot x, y, x2, y2;
    project(view, from, &x, &y);
    project(view, to, &x2, &y2);
    dwi_line(pad, x, y, x2, y2, DWI_FINE, DW_TONE_WARM);
}

/* The pieces of a box, in the order in which they are painted: what lies in front later. */
enum { BACK, LEFT_SIDE, BOTTOM, RIGHT_SIDE, BOX_FRONT, FRONT, SLABS };

struct exploded {
    struct slab slabs[SLABS];
    size_t count;
    dw_length gap;
    dw_length left, right, low, high; /* reach of the oblique view, before scaling */
};

static const char *measure(struct dw_arena *arena, const struct dw_job *job, const struct dw_part *part)
{
    return dw_arena_format(arena, "%s \xC3\x97 %s%s", dwi_length(arena, job, part->length.value), dwi_length(arena, job, part->width.value),
                           part->upright ? ", grain upright" : "");
}

static void place_slabs(struct dw_arena *arena, const struct dwi_box_facts *facts, struct exploded *out)
{
    const struct dw_job *job = facts->parts->sizing->job;
    const struct dw_sized_drawer *drawer = facts->drawer;
    const dw_length wide = drawer->box_width.value;
    const dw_length deep = drawer->box_depth.value;
    const dw_length gap = (wide + deep) / 12 + facts->side->width.value / 2;
    const struct dw_part *front = facts->ends[DWI_FRONT_END];
    const struct dw_part *back = facts->ends[DWI_REAR_END];
    const dw_length side = facts->side->thickness;
    const dw_length side_high = facts->side->width.value;
    const dw_length front_x = (wide - dwi_hung_width(front)) / 2;
    const dw_length back_x = (wide - back->length.value) / 2;
    const char *address = drawer->address;
    out->gap = gap;
    out->slabs[BACK] = (struct slab){{back_x, deep - back->thickness + gap, side_high - back->width.value}, {back->length.value, back->thickness, back->width.value},
                                     back->name, measure(arena, job, back), address, false};
    out->slabs[LEFT_SIDE] = (struct slab){{-gap, facts->corners[0].stop, 0}, {side, facts->side->length.value, side_high},
                                          "sides, 2", measure(arena, job, facts->side), address, true};
    out->slabs[BOTTOM] = (struct slab){{(wide - facts->bottom->length.value) / 2, (deep - facts->bottom->width.value) / 2, -2 * gap},
                                       {facts->bottom->length.value, facts->bottom->width.value, facts->bottom->thickness},
                                       facts->bottom->name, measure(arena, job, facts->bottom), address, false};
    out->slabs[RIGHT_SIDE] = out->slabs[LEFT_SIDE];
    out->slabs[RIGHT_SIDE].at.x = wide - side + gap;
    out->slabs[RIGHT_SIDE].name = "";
    out->slabs[BOX_FRONT] = (struct slab){{front_x, -gap, 0}, {dwi_hung_width(front), front->thickness, dwi_hung_height(front)},
                                          front->name, measure(arena, job, front), address, true};
    out->count = BOX_FRONT + 1;
    if (facts->front != NULL) {
        const struct dw_rectangle at = drawer->front;
        out->slabs[FRONT] = (struct slab){{at.x - drawer->box.x, -2 * gap - facts->front->thickness, at.y - drawer->box.y - gap},
                                          {at.width, facts->front->thickness, at.height}, facts->front->name, measure(arena, job, facts->front), address, true};
        out->count = FRONT + 1;
    }
}

static void measure_reach(struct exploded *out)
{
    for (size_t i = 0; i < out->count; i++) {
        const struct slab *slab = &out->slabs[i];
        const dw_length x = slab->at.x + slab->at.y * SLANT_X / 100;
        const dw_length z = slab->at.z + slab->at.y * SLANT_Y / 100;
        const dw_length x2 = x + slab->size.x + slab->size.y * SLANT_X / 100;
        const dw_length z2 = z + slab->size.z + slab->size.y * SLANT_Y / 100;
        out->left = i == 0 ? x : dw_least(out->left, x);
        out->right = i == 0 ? x2 : dw_most(out->right, x2);
        out->low = i == 0 ? z : dw_least(out->low, z);
        out->high = i == 0 ? z2 : dw_most(out->high, z2);
    }
}

/* The groove and the dadoes on the inner face of the left side, the groove on that of the back. */
static void draw_cuts(struct dwi_pad *pad, const struct dwi_box_facts *facts, const struct exploded *box, const struct oblique *view, size_t slab_index)
{
    const struct slab *slab = &box->slabs[slab_index];
    const struct point a = slab->at;
    const struct point b = {a.x + slab->size.x, a.y + slab->size.y, a.z + slab->size.z};
    const dw_length up = facts->groove == NULL ? 0 : facts->groove->from_edge;
    const dw_length high = facts->groove == NULL ? 0 : facts->groove->width;
    const bool back_grooved = facts->drawer->drawer->box.bottom == DW_BOTTOM_GROOVED;
    for (int edge = 0; edge < 2 && facts->groove != NULL; edge++) {
        const dw_length z = a.z + up + (edge == 0 ? 0 : high);
        if (slab_index == LEFT_SIDE)
            draw_edge(pad, view, (struct point){b.x, a.y, z}, (struct point){b.x, b.y, z});
        if (slab_index == BACK && back_grooved)
            draw_edge(pad, view, (struct point){a.x, a.y, z}, (struct point){b.x, a.y, z});
    }
    for (int end = 0; end < 2 && slab_index == LEFT_SIDE; end++) {
        const struct dw_part_work *cut = facts->corners[end].side_cut;
        for (int edge = 0; cut != NULL && edge < 2; edge++) {
            const dw_length in = cut->from_edge + (edge == 0 ? 0 : cut->width);
            const dw_length y = end == 0 ? a.y + in : b.y - in;
            if (in > 0)
                draw_edge(pad, view, (struct point){b.x, y, a.z}, (struct point){b.x, y, b.z});
        }
    }
}

/* Labels of one side, spread from top to bottom, each led to the nearer end of its piece. */
static void draw_labels(struct dwi_pad *pad, const struct exploded *box, const struct oblique *view, struct dwi_area room, dw_dot label_room, bool left)
{
    const struct slab *shown[SLABS];
    dw_dot ends[SLABS][2];
    dw_dot centers[SLABS];
    dw_dot sizes[SLABS];
    size_t count = 0;
    for (size_t i = 0; i < box->count; i++) {
        const struct slab *slab = &box->slabs[i];
        if (slab->at_left != left || slab->name[0] == '\0')
            continue;
        struct point at = {left ? slab->at.x : slab->at.x + slab->size.x, slab->at.y + slab->size.y / 2, slab->at.z + slab->size.z / 2};
        if (left && slab->size.y > slab->size.x)
            at = (struct point){slab->at.x, slab->at.y + slab->size.y / 2, slab->at.z + slab->size.z};
        dw_dot x, y;
        project(view, at, &x, &y);
        size_t place = count++;
        for (; place > 0 && ends[place - 1][1] > y; place--) {
            shown[place] = shown[place - 1];
            ends[place][0] = ends[place - 1][0];
            ends[place][1] = ends[place - 1][1];
        }
        shown[place] = slab;
        ends[place][0] = x;
        ends[place][1] = y;
    }
    for (size_t i = 0; i < count; i++) {
        centers[i] = ends[i][1];
        sizes[i] = LABEL_HIGH;
    }
    (void)dwi_spread(pad->arena, centers, sizes, count, room.y, room.y2);
    const dw_dot x = left ? room.x + label_room - 700 : room.x2 - label_room + 700;
    for (size_t i = 0; i < count; i++) {
        const struct dwi_type type = {.anchor = left ? DW_ANCHOR_END : DW_ANCHOR_START, .most = label_room - 700};
        struct dwi_type bold = type;
        bold.bold = true;
        dwi_line(pad, x + (left ? 250 : -250), centers[i], ends[i][0], ends[i][1], DWI_HAIR, DW_TONE_INK);
        dwi_circle(pad, ends[i][0], ends[i][1], 110, 0, DW_TONE_NONE, DW_TONE_INK);
        dwi_text(pad, x, centers[i] - 100, bold, shown[i]->address, shown[i]->name);
        dwi_text(pad, x, centers[i] + 1150, type, shown[i]->address, shown[i]->measure);
    }
}

/* A size that is cut short is a wrong size. */
static dw_dot label_room_of(struct dw_arena *arena, const struct exploded *box)
{
    dw_dot room = LABEL_ROOM;
    for (size_t i = 0; i < box->count; i++) {
        const char *measure = box->slabs[i].measure;
        const dw_dot wide = measure == NULL ? 0 : dwi_text_width(dwi_typeset(arena, measure), DWI_BODY, false) + LABEL_AIR;
        room = wide > room ? wide : room;
    }
    return room;
}

void dwi_draw_exploded(struct dwi_pad *pad, const struct dwi_box_facts *facts, struct dwi_area room)
{
    struct exploded box = {0};
    place_slabs(pad->arena, facts, &box);
    measure_reach(&box);
    const dw_dot label_room = label_room_of(pad->arena, &box);
    const dw_dot wide = dwi_wide(room) - 2 * label_room;
    struct oblique view = {.scale = dwi_scale_for(box.right - box.left, box.high - box.low, wide, dwi_high(room))};
    view.x = room.x + label_room + (wide - dwi_dots(box.right - box.left, view.scale)) / 2 - dwi_dots(box.left, view.scale);
    view.y = room.y + (dwi_high(room) - dwi_dots(box.high - box.low, view.scale)) / 2 + dwi_dots(box.high, view.scale);
    for (size_t i = 0; i < box.count; i++) {
        draw_slab(pad, &view, &box.slabs[i]);
        draw_cuts(pad, facts, &box, &view, i);
    }
    draw_labels(pad, &box, &view, room, label_room, true);
    draw_labels(pad, &box, &view, room, label_room, false);
}

/* Details: the front corner, the rear one where it differs, teeth from the side, the bottom. */
static size_t detail_count(const struct dwi_box_facts *facts, bool *rear, bool *teeth)
{
    const struct dw_box *box = &facts->drawer->drawer->box;
    *rear = box->front.joint != box->back.joint || facts->corners[0].cross != facts->corners[1].cross || facts->corners[0].stop != facts->corners[1].stop;
    *teeth = facts->corners[0].teeth != NULL || facts->corners[1].teeth != NULL;
    return (size_t)2 + (*rear ? 1U : 0U) + (*teeth ? 1U : 0U);
}

size_t dwi_joint_count(const struct dwi_box_facts *facts)
{
    bool rear, teeth;
    return detail_count(facts, &rear, &teeth);
}

/* The rooms of the details, from the left and from the top. */
static struct dwi_area detail_room(struct dwi_area room, size_t columns, size_t count, size_t index)
{
    const dw_dot wide = dwi_wide(room) / (dw_dot)columns;
    const dw_dot high = dwi_high(room) / (dw_dot)((count + columns - 1) / columns);
    const dw_dot x = room.x + wide * (dw_dot)(index % columns);
    const dw_dot y = room.y + high * (dw_dot)(index / columns);
    return (struct dwi_area){x, y, x + wide, y + high - 600};
}

void dwi_draw_joints(struct dwi_pad *pad, const struct dwi_box_facts *facts, struct dwi_area room, size_t columns)
{
    bool rear = false;
    bool teeth = false;
    const size_t count = detail_count(facts, &rear, &teeth);
    size_t next = 0;
    dwi_draw_corner(pad, facts, DWI_FRONT_END, detail_room(room, columns, count, next++));
    if (rear)
        dwi_draw_corner(pad, facts, DWI_REAR_END, detail_room(room, columns, count, next++));
    if (teeth)
        dwi_draw_teeth(pad, facts, facts->corners[0].teeth != NULL ? DWI_FRONT_END : DWI_REAR_END, detail_room(room, columns, count, next++));
    dwi_draw_bottom(pad, facts, detail_room(room, columns, count, next));
}

void dwi_draw_box(struct dwi_pad *pad, const struct dwi_box_facts *facts, struct dwi_area room)
{
    dwi_draw_exploded(pad, facts, (struct dwi_area){room.x, room.y, room.x2 - DETAIL_WIDTH - 1500, room.y2});
    dwi_draw_joints(pad, facts, (struct dwi_area){room.x2 - DETAIL_WIDTH, room.y, room.x2, room.y2}, 1);
}
