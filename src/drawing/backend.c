/* backend.c - scenes to PDF and PNG: the only home of cairo and pango.
 *
 * Bytes are the same for the same scenes, cairo and fonts: the creation date is a fixed one (the date on the page is the user's), text is
 * set without hinting or kerning at the widths that the scene reckoned, and each run is narrowed should it come out wider. cairo loses
 * write errors of a PDF, so bytes are collected in memory and the collector keeps its own flag.
 *
 * GLib ends the process when memory runs out; that cannot be swept by a failing allocator. To stay sound all the same, no arena is touched
 * while cairo or pango objects are alive: bytes go to malloc first and into the arena when everything foreign is gone.
 */
#include <cairo-pdf.h>
#include <cairo.h>
#include <pango/pangocairo.h>

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

#include "scene.h"
#include "tone.h"

static const char FIXED_DATE[] = "2000-01-01T00:00:00Z";

/* What was written so far. */
struct collected {
    unsigned char *bytes;
    size_t length, capacity;
    bool failed;
};

static cairo_status_t collect(void *context, const unsigned char *data, unsigned int length)
{
    struct collected *into = context;
    if (into->length + length > into->capacity) {
        const size_t wider = 2 * (into->length + length);
        unsigned char *moved = realloc(into->bytes, wider);
        if (moved == NULL) {
            into->failed = true;
            return CAIRO_STATUS_WRITE_ERROR;
        }
        into->bytes = moved;
        into->capacity = wider;
    }
    memcpy(into->bytes + into->length, data, length);
    into->length += length;
    return CAIRO_STATUS_SUCCESS;
}

/* The pen: a cairo context with one pango layout that serves every run of text. */
struct pen {
    cairo_t *cairo;
    PangoLayout *layout;
    PangoFontDescription *plain, *bold;
    bool glyph_missing;
};

static double points(dw_dot dots)
{
    return (double)dots / 100.0;
}

static struct pen pen_new(cairo_surface_t *surface)
{
    struct pen pen = {.cairo = cairo_create(surface)};
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(pen.cairo, options);
    pen.layout = pango_cairo_create_layout(pen.cairo);
    PangoContext *context = pango_layout_get_context(pen.layout);
    pango_cairo_context_set_font_options(context, options);
    pango_cairo_context_set_resolution(context, 72.0);
    pango_context_set_round_glyph_positions(context, FALSE);
    cairo_font_options_destroy(options);
    PangoAttrList *attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_font_features_new("kern=0, liga=0, clig=0"));
    pango_layout_set_attributes(pen.layout, attributes);
    pango_attr_list_unref(attributes);
    pango_layout_set_single_paragraph_mode(pen.layout, TRUE);
    pen.plain = pango_font_description_from_string(DWI_FONT);
    pen.bold = pango_font_description_from_string(DWI_FONT " Bold");
    cairo_set_line_cap(pen.cairo, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(pen.cairo, CAIRO_LINE_JOIN_ROUND);
    return pen;
}

static void pen_free(struct pen *pen)
{
    pango_font_description_free(pen->plain);
    pango_font_description_free(pen->bold);
    g_object_unref(pen->layout);
    cairo_destroy(pen->cairo);
}

/* Is the named family there, or would another one stand in? */
static bool font_is_there(const struct pen *pen)
{
    PangoFont *font = pango_context_load_font(pango_layout_get_context(pen->layout), pen->plain);
    if (font == NULL)
        return false;
    PangoFontDescription *found = pango_font_describe(font);
    const bool same = strcmp(pango_font_description_get_family(found), DWI_FONT) == 0;
    pango_font_description_free(found);
    g_object_unref(font);
    return same;
}

static void set_tone(cairo_t *cairo, enum dw_tone tone)
{
    const uint32_t color = dwi_tone_color(tone);
    cairo_set_source_rgb(cairo, (double)(color >> 16) / 255.0, (double)(color >> 8 & 0xFF) / 255.0, (double)(color & 0xFF) / 255.0);
}

/* One run, its baseline start at x, y in the current frame. */
static void draw_run(struct pen *pen, const struct dwi_run *run, bool bold, double x, double y)
{
    PangoFontDescription *font = bold ? pen->bold : pen->plain;
    pango_font_description_set_absolute_size(font, points(run->size) * PANGO_SCALE);
    pango_layout_set_font_description(pen->layout, font);
    pango_layout_set_text(pen->layout, run->bytes, (int)run->length);
    if (pango_layout_get_unknown_glyphs_count(pen->layout) > 0)
        pen->glyph_missing = true;
    PangoRectangle extents;
    pango_layout_get_extents(pen->layout, NULL, &extents);
    const double wide = (double)extents.width / PANGO_SCALE;
    const double reckoned = points(run->width);
    cairo_save(pen->cairo);
    cairo_translate(pen->cairo, x, y);
    if (wide > reckoned + 0.02)
        cairo_scale(pen->cairo, reckoned / wide, 1.0);
    cairo_move_to(pen->cairo, 0, 0);
    pango_cairo_show_layout_line(pen->cairo, pango_layout_get_line_readonly(pen->layout, 0));
    cairo_restore(pen->cairo);
}

static void draw_text(struct pen *pen, const struct dw_shape *shape)
{
    cairo_t *cairo = pen->cairo;
    if (shape->fill != DW_TONE_NONE) {
        const struct dwi_area box = dwi_text_area(shape);
        set_tone(cairo, shape->fill);
        cairo_rectangle(cairo, points(box.x), points(box.y), points(dwi_wide(box)), points(dwi_high(box)));
        cairo_fill(cairo);
    }
    const dw_dot back = shape->anchor == DW_ANCHOR_START ? 0 : shape->anchor == DW_ANCHOR_END ? shape->width : shape->width / 2;
    cairo_save(cairo);
    cairo_translate(cairo, points(shape->x), points(shape->y));
    if (shape->quarter_turns != 0)
        cairo_rotate(cairo, -1.5707963267948966);
    set_tone(cairo, shape->ink);
    struct dwi_runs runs = {.text = shape->text, .size = shape->size, .bold = shape->bold};
    struct dwi_run run;
    while (dwi_next_run(&runs, &run))
        draw_run(pen, &run, shape->bold, points(run.x - back), -points(run.rise));
    cairo_restore(cairo);
}

static void trace_points(cairo_t *cairo, const struct dw_shape *shape)
{
    for (size_t i = 0; i < shape->point_count; i++)
        cairo_line_to(cairo, points(shape->points[2 * i]), points(shape->points[2 * i + 1]));
}

static void trace(cairo_t *cairo, const struct dw_shape *shape)
{
    switch (shape->kind) {
    case DW_SHAPE_LINE:
        cairo_move_to(cairo, points(shape->x), points(shape->y));
        cairo_line_to(cairo, points(shape->x2), points(shape->y2));
        break;
    case DW_SHAPE_RECTANGLE:
        cairo_rectangle(cairo, points(shape->x), points(shape->y), points(shape->x2 - shape->x), points(shape->y2 - shape->y));
        break;
    case DW_SHAPE_POLYGON:
        trace_points(cairo, shape);
        cairo_close_path(cairo);
        break;
    case DW_SHAPE_POLYLINE:
        trace_points(cairo, shape);
        break;
    case DW_SHAPE_CIRCLE:
        cairo_arc(cairo, points(shape->x), points(shape->y), points(shape->x2), 0, 6.283185307179586);
        break;
    case DW_SHAPE_TEXT:
        break;
    }
}

static void draw_shape(struct pen *pen, const struct dw_shape *shape)
{
    if (shape->kind == DW_SHAPE_TEXT) {
        draw_text(pen, shape);
        return;
    }
    static const double dashes[] = {DWI_DASH / 100.0, DWI_DASH_GAP / 100.0};
    cairo_t *cairo = pen->cairo;
    cairo_new_path(cairo);
    trace(cairo, shape);
    if (shape->fill != DW_TONE_NONE) {
        set_tone(cairo, shape->fill);
        cairo_fill_preserve(cairo);
    }
    if (shape->stroke != 0) {
        set_tone(cairo, shape->ink);
        cairo_set_line_width(cairo, points(shape->stroke));
        cairo_set_dash(cairo, dashes, shape->dashed ? 2 : 0, 0);
        cairo_stroke_preserve(cairo);
    }
    cairo_new_path(cairo);
}

static void draw_scene(struct pen *pen, const struct dw_scene *scene)
{
    for (size_t i = 0; i < scene->shape_count; i++)
        draw_shape(pen, &scene->shapes[i]);
}

/* What a drawing brought about, once nothing foreign is alive. */
struct outcome {
    struct collected collected;
    cairo_status_t status;
    bool font_missing, glyph_missing;
};

static void close_pen(struct pen *pen, struct outcome *outcome)
{
    outcome->font_missing = !font_is_there(pen);
    outcome->glyph_missing = pen->glyph_missing;
    if (outcome->status == CAIRO_STATUS_SUCCESS)
        outcome->status = cairo_status(pen->cairo);
    pen_free(pen);
}

static void close_surface(cairo_surface_t *surface, struct outcome *outcome)
{
    cairo_surface_finish(surface);
    if (outcome->status == CAIRO_STATUS_SUCCESS)
        outcome->status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
}

static struct outcome write_pdf(const struct dw_scenes *pages, const char *title)
{
    struct outcome outcome = {.status = CAIRO_STATUS_SUCCESS};
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(collect, &outcome.collected, points(pages->at[0].width), points(pages->at[0].height));
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, FIXED_DATE);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "drawerwright");
    struct pen pen = pen_new(surface);
    for (size_t i = 0; i < pages->count; i++) {
        cairo_pdf_surface_set_size(surface, points(pages->at[i].width), points(pages->at[i].height));
        draw_scene(&pen, &pages->at[i]);
        cairo_show_page(pen.cairo);
    }
    close_pen(&pen, &outcome);
    close_surface(surface, &outcome);
    return outcome;
}

static struct outcome write_png(const struct dw_scene *scene, int dots_per_inch)
{
    struct outcome outcome = {.status = CAIRO_STATUS_SUCCESS};
    const double scale = (double)dots_per_inch / 72.0;
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)(points(scene->width) * scale), (int)(points(scene->height) * scale));
    struct pen pen = pen_new(surface);
    set_tone(pen.cairo, DW_TONE_PAPER);
    cairo_paint(pen.cairo);
    cairo_scale(pen.cairo, scale, scale);
    draw_scene(&pen, scene);
    outcome.status = cairo_surface_write_to_png_stream(surface, collect, &outcome.collected);
    close_pen(&pen, &outcome);
    close_surface(surface, &outcome);
    return outcome;
}

struct keeping {
    const struct collected *from;
    struct dw_arena *arena;
    const char *bytes;
};

static void keep_body(void *context)
{
    struct keeping *keeping = context;
    keeping->bytes = dw_arena_slice(keeping->arena, (const char *)keeping->from->bytes, keeping->from->length);
}

static void warn(const struct outcome *outcome, struct dw_faults *faults)
{
    if (outcome->font_missing)
        dw_warn(faults, "font-missing", "", "the font " DWI_FONT " is not installed, so another one stands in\ninstall it (Debian: fonts-dejavu-core)");
    if (outcome->glyph_missing)
        dw_warn(faults, "glyph-missing", "", "a character of a name is in no font of this machine and is drawn as a box\nuse another name or install a font that has it");
}

/* Takes the bytes: into the arena, or gone. */
static enum dw_status hand_over(struct outcome *outcome, struct dw_arena *arena, struct dw_faults *faults, const char **bytes, size_t *length)
{
    struct keeping keeping = {.from = &outcome->collected, .arena = arena};
    bool done = outcome->status == CAIRO_STATUS_SUCCESS && !outcome->collected.failed && outcome->collected.length > 0;
    if (!done)
        dw_error(faults, DW_SURROUNDINGS, "not-drawn", "", "the drawing could not be written: %s", cairo_status_to_string(outcome->status));
    else if (!dw_arena_guard(arena, keep_body, &keeping)) {
        dw_error(faults, DW_SURROUNDINGS, "out-of-memory", "", "memory ran out while a drawing was written");
        done = false;
    }
    *length = outcome->collected.length;
    *bytes = keeping.bytes;
    free(outcome->collected.bytes);
    if (done)
        warn(outcome, faults);
    return done ? DW_DONE : DW_SURROUNDINGS;
}

enum dw_status dw_scenes_pdf(const struct dw_scenes *pages, const char *title, struct dw_arena *arena, struct dw_faults *faults,
                             const char **bytes, size_t *length)
{
    if (pages->count == 0) {
        dw_error(faults, DW_INPUT, "no-pages", "", "there is no page to write");
        return DW_INPUT;
    }
    struct outcome outcome = write_pdf(pages, title);
    return hand_over(&outcome, arena, faults, bytes, length);
}

enum dw_status dw_scene_png(const struct dw_scene *scene, int dots_per_inch, struct dw_arena *arena, struct dw_faults *faults,
                            const char **bytes, size_t *length)
{
    if (dots_per_inch < 10 || dots_per_inch > 1200) {
        dw_error(faults, DW_INPUT, "bad-resolution", "", "%d dots an inch is no resolution to draw at\nfrom 10 to 1200", dots_per_inch);
        return DW_INPUT;
    }
    struct outcome outcome = write_png(scene, dots_per_inch);
    return hand_over(&outcome, arena, faults, bytes, length);
}
