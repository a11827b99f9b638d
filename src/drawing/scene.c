/* scene.c - the builder of scenes: shapes in the order in which they are painted, and the view that brings lengths to scale. */
#include "scene.h"

#include <drawerwright/memory.h>

struct dwi_pad dwi_pad_new(struct dw_arena *arena, const char *title, dw_dot width, dw_dot height)
{
    return (struct dwi_pad){.arena = arena, .title = dwi_typeset(arena, title), .width = width, .height = height};
}

struct dw_scene dwi_pad_scene(const struct dwi_pad *pad)
{
    return (struct dw_scene){
        .title = pad->title, .width = pad->width, .height = pad->height, .shapes = pad->shapes, .shape_count = pad->count};
}

static size_t add(struct dwi_pad *pad, struct dw_shape shape)
{
    pad->shapes = dw_arena_grow(pad->arena, pad->shapes, pad->count, &pad->capacity, sizeof *pad->shapes);
    if (shape.address == NULL)
        shape.address = "";
    if (shape.text == NULL)
        shape.text = "";
    pad->shapes[pad->count++] = shape;
    return pad->count;
}

void dwi_line(struct dwi_pad *pad, dw_dot x, dw_dot y, dw_dot x2, dw_dot y2, dw_dot stroke, enum dw_tone ink)
{
    add(pad, (struct dw_shape){.kind = DW_SHAPE_LINE, .x = x, .y = y, .x2 = x2, .y2 = y2, .stroke = stroke, .ink = ink});
}

void dwi_dashed(struct dwi_pad *pad, dw_dot x, dw_dot y, dw_dot x2, dw_dot y2, dw_dot stroke, enum dw_tone ink)
{
    add(pad, (struct dw_shape){.kind = DW_SHAPE_LINE, .x = x, .y = y, .x2 = x2, .y2 = y2, .stroke = stroke, .ink = ink, .dashed = true});
}

size_t dwi_rectangle(struct dwi_pad *pad, struct dwi_area at, dw_dot stroke, enum dw_tone ink, enum dw_tone fill, const char *address)
{
    return add(pad, (struct dw_shape){.kind = DW_SHAPE_RECTANGLE, .x = at.x, .y = at.y, .x2 = at.x2, .y2 = at.y2,
                                      .stroke = stroke, .ink = ink, .fill = fill, .address = address});
}

void dwi_dashed_rectangle(struct dwi_pad *pad, struct dwi_area at, dw_dot stroke, enum dw_tone ink, const char *address)
{
    add(pad, (struct dw_shape){.kind = DW_SHAPE_RECTANGLE, .x = at.x, .y = at.y, .x2 = at.x2, .y2 = at.y2,
                               .stroke = stroke, .ink = ink, .dashed = true, .address = address});
}

void dwi_circle(struct dwi_pad *pad, dw_dot x, dw_dot y, dw_dot radius, dw_dot stroke, enum dw_tone ink, enum dw_tone fill)
{
    add(pad, (struct dw_shape){.kind = DW_SHAPE_CIRCLE, .x = x, .y = y, .x2 = radius, .stroke = stroke, .ink = ink, .fill = fill});
}

void dwi_polyline(struct dwi_pad *pad, const dw_dot *points, size_t count, dw_dot stroke, enum dw_tone ink)
{
    add(pad, (struct dw_shape){.kind = DW_SHAPE_POLYLINE, .points = dw_arena_copy(pad->arena, points, 2 * count, sizeof *points),
                               .point_count = count, .stroke = stroke, .ink = ink});
}

void dwi_polygon(struct dwi_pad *pad, const dw_dot *points, size_t count, dw_dot stroke, enum dw_tone ink, enum dw_tone fill,
                 const char *address)
{
    add(pad, (struct dw_shape){.kind = DW_SHAPE_POLYGON, .points = dw_arena_copy(pad->arena, points, 2 * count, sizeof *points),
                               .point_count = count, .stroke = stroke, .ink = ink, .fill = fill, .address = address});
}

static struct dwi_type with_defaults(struct dwi_type type)
{
    if (type.size == 0)
        type.size = DWI_BODY;
    if (type.ink == DW_TONE_NONE)
        type.ink = DW_TONE_INK;
    return type;
}

/* Adds a text that is ready to be read. */
static dw_dot add_text(struct dwi_pad *pad, dw_dot x, dw_dot y, struct dwi_type type, const char *address, const char *text)
{
    if (text[0] == '\0')
        return 0;
    const dw_dot width = dwi_text_width(text, type.size, type.bold);
    add(pad, (struct dw_shape){.kind = DW_SHAPE_TEXT, .x = x, .y = y, .ink = type.ink, .fill = type.behind, .text = text,
                               .size = type.size, .width = width, .bold = type.bold, .anchor = type.anchor,
                               .quarter_turns = type.quarter_turns, .within = type.within, .address = address});
    return width;
}

dw_dot dwi_text(struct dwi_pad *pad, dw_dot x, dw_dot y, struct dwi_type type, const char *address, const char *text)
{
    type = with_defaults(type);
    const char *ready = dwi_typeset(pad->arena, text);
    if (type.as_it_is)
        ready = text;
    if (type.most != 0)
        ready = type.as_it_is ? dwi_shorten_path(pad->arena, ready, type.size, type.bold, type.most)
                              : dwi_shorten(pad->arena, ready, type.size, type.bold, type.most);
    return add_text(pad, x, y, type, address, ready);
}

dw_dot dwi_leading(dw_dot size)
{
    return size * 130 / 100;
}

dw_dot dwi_paragraph(struct dwi_pad *pad, dw_dot x, dw_dot y, struct dwi_type type, const char *address, const char *text)
{
    type = with_defaults(type);
    const char *rest = dwi_typeset(pad->arena, text);
    while (rest[0] != '\0') {
        const char *next = rest;
        const size_t length = dwi_first_line(rest, type.size, type.bold, type.most, &next);
        add_text(pad, x, y, type, address, dw_arena_slice(pad->arena, rest, length));
        y += dwi_leading(type.size);
        rest = next;
    }
    return y;
}

size_t dwi_paragraph_lines(struct dw_arena *arena, struct dwi_type type, const char *text)
{
    type = with_defaults(type);
    size_t lines = 0;
    for (const char *rest = dwi_typeset(arena, text); rest[0] != '\0'; lines++)
        (void)dwi_first_line(rest, type.size, type.bold, type.most, &rest);
    return lines;
}

/* The part of the slant x + y = sum that lies in the box. */
static void slanted_line(struct dwi_pad *pad, struct dwi_area at, dw_dot sum, dw_dot stroke, enum dw_tone ink)
{
    const dw_dot x = sum - at.y2 > at.x ? sum - at.y2 : at.x;
    const dw_dot x2 = sum - at.y < at.x2 ? sum - at.y : at.x2;
    if (x < x2)
        dwi_line(pad, x, sum - x, x2, sum - x2, stroke, ink);
}

void dwi_hatch(struct dwi_pad *pad, struct dwi_area at, enum dwi_direction direction, dw_dot step, dw_dot stroke, enum dw_tone ink)
{
    switch (direction) {
    case DWI_ALONG_X:
        for (dw_dot y = at.y + step / 2; y < at.y2; y += step)
            dwi_line(pad, at.x, y, at.x2, y, stroke, ink);
        break;
    case DWI_ALONG_Y:
        for (dw_dot x = at.x + step / 2; x < at.x2; x += step)
            dwi_line(pad, x, at.y, x, at.y2, stroke, ink);
        break;
    case DWI_SLANTED:
        for (dw_dot sum = at.x + at.y + step / 2; sum < at.x2 + at.y2; sum += step)
            slanted_line(pad, at, sum, stroke, ink);
        break;
    }
}

/* An inch is 406 400 units and 7200 dots: a unit is 9/508 of a dot. Lengths are under 2^31 units, so nothing overflows. */
dw_dot dwi_dots(dw_length length, int64_t scale)
{
    const int64_t half = 254 * scale;
    return (dw_dot)((length * 9 + (length < 0 ? -half : half)) / (508 * scale));
}

dw_dot dwi_x(const struct dwi_view *view, dw_length x)
{
    return view->x + dwi_dots(x, view->scale);
}

dw_dot dwi_y(const struct dwi_view *view, dw_length y)
{
    const dw_dot dots = dwi_dots(y, view->scale);
    return view->y_up ? view->y - dots : view->y + dots;
}

struct dwi_area dwi_view_area(const struct dwi_view *view, dw_length x, dw_length y, dw_length width, dw_length height)
{
    const dw_dot low = dwi_y(view, y);
    const dw_dot high = dwi_y(view, y + height);
    return (struct dwi_area){dwi_x(view, x), low < high ? low : high, dwi_x(view, x + width), low < high ? high : low};
}

int64_t dwi_scale_for(dw_length width, dw_length height, dw_dot room_width, dw_dot room_height)
{
    int64_t scale = 1;
    while (dwi_dots(width, scale) > room_width || dwi_dots(height, scale) > room_height)
        scale++;
    return scale;
}

/* 1/64 in at the finest, 0.1 mm: what is read off a rule. */
static struct dw_length_style style_of(const struct dw_job *job)
{
    return (struct dw_length_style){.unit = job->unit, .denominator = 64, .decimals = -1};
}

const char *dwi_length(struct dw_arena *arena, const struct dw_job *job, dw_length length)
{
    return dw_length_show(arena, length, style_of(job));
}

const char *dwi_length_unit(struct dw_arena *arena, const struct dw_job *job, dw_length length)
{
    return dw_length_show_unit(arena, length, style_of(job));
}

const char *dwi_sold_length(struct dw_arena *arena, const struct dw_job *job, dw_length length)
{
    const struct dw_length_style own = style_of(job);
    struct dw_length_style other = own;
    other.unit = own.unit == DW_IN ? DW_MILLIMETER : DW_IN;
    if (!dw_length_is_exact(length, own) && dw_length_is_exact(length, other))
        return dw_length_show_unit(arena, length, other);
    return dw_length_show(arena, length, own);
}
