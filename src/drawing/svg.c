/* svg.c - a scene as SVG 1.1: our own small writer, so that text stays text and every shape can say what it shows.
 *
 * Units are points; hundredths are written as decimals without a trailing zero. Each text carries the width it was reckoned to set
 * (textLength), so that it keeps its place where another font has to stand in. A fraction is three tspans. Text from users is escaped
 * and cannot become markup.
 */
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "scene.h"
#include "tone.h"

static void add_dots(struct dw_text *out, dw_dot dots)
{
    const int whole = (dots < 0 ? -dots : dots) / 100;
    const int part = (dots < 0 ? -dots : dots) % 100;
    dw_text_addf(out, "%s%d", dots < 0 ? "-" : "", whole);
    if (part != 0 && part % 10 == 0)
        dw_text_addf(out, ".%d", part / 10);
    else if (part != 0)
        dw_text_addf(out, ".%02d", part);
}

static void add_number(struct dw_text *out, const char *name, dw_dot dots)
{
    dw_text_addf(out, " %s=\"", name);
    add_dots(out, dots);
    dw_text_add_char(out, '"');
}

static void add_escaped(struct dw_text *out, const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++)
        switch (text[i]) {
        case '&':
            dw_text_add(out, "&amp;");
            break;
        case '<':
            dw_text_add(out, "&lt;");
            break;
        case '>':
            dw_text_add(out, "&gt;");
            break;
        case '"':
            dw_text_add(out, "&quot;");
            break;
        default:
            dw_text_add_char(out, text[i]);
        }
}

static void add_color(struct dw_text *out, const char *name, enum dw_tone tone)
{
    if (tone == DW_TONE_NONE)
        dw_text_addf(out, " %s=\"none\"", name);
    else
        dw_text_addf(out, " %s=\"#%06x\"", name, (unsigned)dwi_tone_color(tone));
}

static void add_look(struct dw_text *out, const struct dw_shape *shape)
{
    if (shape->kind != DW_SHAPE_LINE)
        add_color(out, "fill", shape->fill);
    if (shape->stroke != 0) {
        add_color(out, "stroke", shape->ink);
        add_number(out, "stroke-width", shape->stroke);
    }
    if (shape->dashed)
        dw_text_addf(out, " stroke-dasharray=\"%d %d.%d\"", DWI_DASH / 100, DWI_DASH_GAP / 100, DWI_DASH_GAP % 100 / 10);
}

static void add_address(struct dw_text *out, const struct dw_shape *shape)
{
    if (shape->address[0] == '\0')
        return;
    dw_text_add(out, " data-address=\"");
    add_escaped(out, shape->address, strlen(shape->address));
    dw_text_add_char(out, '"');
}

static void add_points(struct dw_text *out, const struct dw_shape *shape)
{
    dw_text_add(out, " points=\"");
    for (size_t i = 0; i < 2 * shape->point_count; i++) {
        if (i > 0)
            dw_text_add_char(out, i % 2 == 1 ? ',' : ' ');
        add_dots(out, shape->points[i]);
    }
    dw_text_add_char(out, '"');
}

static void add_rectangle(struct dw_text *out, struct dwi_area box)
{
    dw_text_add(out, "<rect");
    add_number(out, "x", box.x);
    add_number(out, "y", box.y);
    add_number(out, "width", dwi_wide(box));
    add_number(out, "height", dwi_high(box));
}

static void add_runs(struct dw_text *out, const struct dw_shape *shape)
{
    struct dwi_runs runs = {.text = shape->text, .size = shape->size, .bold = shape->bold};
    struct dwi_run run;
    dw_dot rise = 0;
    while (dwi_next_run(&runs, &run)) {
        const bool plain = run.size == shape->size && run.rise == rise;
        if (!plain) {
            dw_text_add(out, "<tspan");
            add_number(out, "font-size", run.size);
            add_number(out, "dy", rise - run.rise);
            dw_text_add_char(out, '>');
        }
        add_escaped(out, run.bytes, run.length);
        if (!plain)
            dw_text_add(out, "</tspan>");
        rise = run.rise;
    }
}

static void add_text(struct dw_text *out, const struct dw_shape *shape)
{
    static const char *const anchors[] = {[DW_ANCHOR_START] = "", [DW_ANCHOR_MIDDLE] = " text-anchor=\"middle\"",
                                          [DW_ANCHOR_END] = " text-anchor=\"end\""};
    if (shape->fill != DW_TONE_NONE) {
        add_rectangle(out, dwi_text_area(shape));
        add_color(out, "fill", shape->fill);
        dw_text_add(out, "/>\n");
    }
    dw_text_add(out, "<text");
    add_number(out, "x", shape->x);
    add_number(out, "y", shape->y);
    add_number(out, "font-size", shape->size);
    dw_text_add(out, anchors[shape->anchor]);
    if (shape->bold)
        dw_text_add(out, " font-weight=\"bold\"");
    add_color(out, "fill", shape->ink);
    add_number(out, "textLength", shape->width);
    dw_text_add(out, " lengthAdjust=\"spacingAndGlyphs\"");
    if (shape->quarter_turns != 0) {
        dw_text_add(out, " transform=\"rotate(-90 ");
        add_dots(out, shape->x);
        dw_text_add_char(out, ' ');
        add_dots(out, shape->y);
        dw_text_add(out, ")\"");
    }
    add_address(out, shape);
    dw_text_add_char(out, '>');
    add_runs(out, shape);
    dw_text_add(out, "</text>\n");
}

static void add_line(struct dw_text *out, const struct dw_shape *shape)
{
    dw_text_add(out, "<line");
    add_number(out, "x1", shape->x);
    add_number(out, "y1", shape->y);
    add_number(out, "x2", shape->x2);
    add_number(out, "y2", shape->y2);
}

static void add_circle(struct dw_text *out, const struct dw_shape *shape)
{
    dw_text_add(out, "<circle");
    add_number(out, "cx", shape->x);
    add_number(out, "cy", shape->y);
    add_number(out, "r", shape->x2);
}

static void add_shape(struct dw_text *out, const struct dw_shape *shape)
{
    switch (shape->kind) {
    case DW_SHAPE_TEXT:
        add_text(out, shape);
        return;
    case DW_SHAPE_LINE:
        add_line(out, shape);
        break;
    case DW_SHAPE_RECTANGLE:
        add_rectangle(out, (struct dwi_area){shape->x, shape->y, shape->x2, shape->y2});
        break;
    case DW_SHAPE_POLYGON:
        dw_text_add(out, "<polygon");
        add_points(out, shape);
        break;
    case DW_SHAPE_POLYLINE:
        dw_text_add(out, "<polyline");
        add_points(out, shape);
        break;
    case DW_SHAPE_CIRCLE:
        add_circle(out, shape);
        break;
    }
    add_look(out, shape);
    add_address(out, shape);
    dw_text_add(out, "/>\n");
}

struct writing {
    const struct dw_scene *scene;
    struct dw_arena *arena;
    struct dw_text out;
};

static void svg_body(void *context)
{
    struct writing *writing = context;
    const struct dw_scene *scene = writing->scene;
    struct dw_text out = dw_text_in(writing->arena);
    dw_text_add(&out, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"");
    add_dots(&out, scene->width);
    dw_text_add(&out, "pt\" height=\"");
    add_dots(&out, scene->height);
    dw_text_add(&out, "pt\" viewBox=\"0 0 ");
    add_dots(&out, scene->width);
    dw_text_add_char(&out, ' ');
    add_dots(&out, scene->height);
    dw_text_add(&out, "\" font-family=\"" DWI_FONT ", sans-serif\" stroke-linecap=\"round\" stroke-linejoin=\"round\">\n<title>");
    add_escaped(&out, scene->title, strlen(scene->title));
    dw_text_add(&out, "</title>\n");
    for (size_t i = 0; i < scene->shape_count; i++)
        add_shape(&out, &scene->shapes[i]);
    dw_text_add(&out, "</svg>\n");
    writing->out = out;
}

enum dw_status dw_scene_svg(const struct dw_scene *scene, struct dw_arena *arena, struct dw_faults *faults, const char **bytes, size_t *length)
{
    struct writing writing = {.scene = scene, .arena = arena};
    if (!dw_arena_guard(arena, svg_body, &writing)) {
        dw_error(faults, DW_SURROUNDINGS, "out-of-memory", "", "memory ran out while a drawing was written");
        return DW_SURROUNDINGS;
    }
    *bytes = writing.out.bytes;
    *length = writing.out.length;
    return DW_DONE;
}
