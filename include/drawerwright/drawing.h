/* drawing.h - scenes: what is to be seen, as shapes and text with the address of what each shows, and their output as SVG, PDF or PNG.
 *
 * A scene decides nothing: it shows what the stages before it found. Coordinates are points (1/72 in) in hundredths, x to the right, y
 * down from the upper left corner, so that a scene dumps to the same text everywhere.
 */
#ifndef DRAWERWRIGHT_DRAWING_H
#define DRAWERWRIGHT_DRAWING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/fault.h>
#include <drawerwright/purchase.h>
#include <drawerwright/sizing.h>

struct dw_arena;

typedef int32_t dw_dot; /* 1/100 point */

enum dw_paper { DW_LETTER, DW_A4 };

enum dw_shape_kind { DW_SHAPE_LINE, DW_SHAPE_RECTANGLE, DW_SHAPE_POLYGON, DW_SHAPE_POLYLINE, DW_SHAPE_CIRCLE, DW_SHAPE_TEXT };
enum dw_anchor { DW_ANCHOR_START, DW_ANCHOR_MIDDLE, DW_ANCHOR_END };
enum dw_tone { DW_TONE_NONE, DW_TONE_INK, DW_TONE_GRAY, DW_TONE_PALE, DW_TONE_PAPER, DW_TONE_WARM, DW_TONE_COOL };

struct dw_shape {
    enum dw_shape_kind kind;
    dw_dot x, y, x2, y2;       /* line: both ends; rectangle: corner and opposite corner; circle: center, x2 = radius; text: anchor on the baseline */
    const dw_dot *points;      /* polygon, polyline: x, y pairs */
    size_t point_count;
    dw_dot stroke;             /* line width; 0: none */
    bool dashed;
    enum dw_tone ink, fill;
    const char *text;          /* text: UTF-8 */
    dw_dot size;               /* text: font size */
    bool bold;
    enum dw_anchor anchor;
    int quarter_turns;         /* text: counterclockwise */
    dw_dot width_most;         /* text: shortened with an ellipsis to this; 0: no limit */
    const char *address;       /* what it shows; "" */
};

struct dw_scene {
    const char *title;
    dw_dot width, height;
    const struct dw_shape *shapes;
    size_t shape_count;
};

struct dw_scenes {
    const struct dw_scene *at;
    size_t count;
};

struct dw_packet_options {
    enum dw_paper paper;
    bool story_stick;          /* full-scale strips too */
    bool labels;
};

/* The elevation and plan section of one case, on a scene of the given size. */
enum dw_status dw_draw_case(const struct dw_sizing *sizing, size_t case_index, dw_dot width, dw_dot height, struct dw_arena *arena,
                            struct dw_faults *faults, struct dw_scene *scene);

/* One sheet of a material's layout. */
enum dw_status dw_draw_sheet(const struct dw_purchase *purchase, size_t material, size_t sheet, dw_dot width, dw_dot height,
                             struct dw_arena *arena, struct dw_faults *faults, struct dw_scene *scene);

/* The whole packet, a scene a page. `warnings` are printed in it. */
enum dw_status dw_draw_packet(const struct dw_purchase *purchase, const struct dw_faults *warnings, const struct dw_packet_options *options,
                              struct dw_arena *arena, struct dw_faults *faults, struct dw_scenes *pages);

/* Output; bytes in `arena`. The same scene gives the same bytes. SVG keeps text as text and carries addresses as data-address. */
enum dw_status dw_scene_svg(const struct dw_scene *scene, struct dw_arena *arena, struct dw_faults *faults, const char **bytes, size_t *length);
enum dw_status dw_scenes_pdf(const struct dw_scenes *pages, const char *title, struct dw_arena *arena, struct dw_faults *faults,
                             const char **bytes, size_t *length);
enum dw_status dw_scene_png(const struct dw_scene *scene, int dots_per_inch, struct dw_arena *arena, struct dw_faults *faults,
                            const char **bytes, size_t *length);

/* The scene as lines of text, for tests. */
enum dw_status dw_scene_dump(const struct dw_scene *scene, struct dw_arena *arena, struct dw_faults *faults, const char **text);

#endif
