/* drawing.h - scenes: what is to be seen, as shapes and text with the address of what each shows, and their output as SVG, PDF or PNG.
 *
 * A scene decides nothing: it shows what the stages before it found. Coordinates are in hundredths of a point (1/72 in), x to the right,
 * y down from the upper left corner, and text is measured by a table of widths, so that a scene is the same on every machine.
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
    dw_dot x, y, x2, y2;       /* line: both ends; rectangle: upper left and lower right corner; circle: center, x2 = radius;
                                  text: anchor on the baseline */
    const dw_dot *points;      /* polygon, polyline: x, y pairs */
    size_t point_count;        /* pairs */
    dw_dot stroke;             /* line width; 0: none */
    bool dashed;
    enum dw_tone ink;          /* of the line or the text */
    enum dw_tone fill;         /* text: of a box behind it */
    const char *text;          /* text: UTF-8, as it is to be read: shortened already, fractions with U+2044 between their figures */
    dw_dot size;               /* text: font size */
    dw_dot width;              /* text: how wide it sets */
    bool bold;
    enum dw_anchor anchor;
    int quarter_turns;         /* text: counterclockwise, 0 or 1 */
    size_t within;             /* text: one more than the index of the rectangle it must stay inside; 0: the scene */
    const char *address;       /* what it shows, in the job; "" for furniture */
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

/* A sheet of adhesive labels. All zero: plain paper to cut apart, sized to the page. */
struct dw_label_sheet {
    dw_length left, top;             /* of the first label, from the upper left corner of the paper */
    dw_length width, height;         /* of a label */
    dw_length across, down;          /* from one label to the next */
    int columns, rows;
};

/* What stands on one label. */
struct dw_label {
    const char *mark, *what, *where, *note;
};

struct dw_packet_options {
    enum dw_paper paper;
    bool story_stick;                /* full-scale strips too */
    bool labels;
    struct dw_label_sheet label_sheet;
};

/* The elevation and plan section of one case, one over the other, on a scene of the given size, or turned a quarter when that shows them
 * larger. */
enum dw_status dw_draw_case(const struct dw_sizing *sizing, size_t case_index, dw_dot width, dw_dot height, struct dw_arena *arena,
                            struct dw_faults *faults, struct dw_scene *scene);

/* The box of one drawer, exploded, with its joints. */
enum dw_status dw_draw_box(const struct dw_parts *parts, size_t case_index, size_t bank, size_t drawer, dw_dot width, dw_dot height,
                           struct dw_arena *arena, struct dw_faults *faults, struct dw_scene *scene);

/* One sheet of a material's layout. */
enum dw_status dw_draw_sheet(const struct dw_purchase *purchase, size_t material, size_t sheet, dw_dot width, dw_dot height,
                             struct dw_arena *arena, struct dw_faults *faults, struct dw_scene *scene);

/* The whole packet, a scene a page. `warnings` are printed in it (those of grade DW_WARNING). */
enum dw_status dw_draw_packet(const struct dw_purchase *purchase, const struct dw_faults *warnings, const struct dw_packet_options *options,
                              struct dw_arena *arena, struct dw_faults *faults, struct dw_scenes *pages);

/* Would a packet's labels lie on its paper and be large enough to be read? DW_INPUT and a fault when they would not; a packet without labels is fine. */
enum dw_status dw_check_labels(const struct dw_packet_options *options, struct dw_faults *faults);

/* Labels only, on the paper and label sheet of the options. */
enum dw_status dw_draw_labels(const struct dw_label *labels, size_t count, const struct dw_packet_options *options, struct dw_arena *arena,
                              struct dw_faults *faults, struct dw_scenes *pages);

/* Output; bytes in `arena`. The same scene gives the same bytes (PDF and PNG: with the same cairo, pango and fonts). SVG keeps text as text and
 * carries addresses as data-address. PDF and PNG warn ("font-missing", "glyph-missing") when DejaVu Sans or a character of it is not
 * there. */
enum dw_status dw_scene_svg(const struct dw_scene *scene, struct dw_arena *arena, struct dw_faults *faults, const char **bytes, size_t *length);
enum dw_status dw_scenes_pdf(const struct dw_scenes *pages, const char *title, struct dw_arena *arena, struct dw_faults *faults,
                             const char **bytes, size_t *length);
enum dw_status dw_scene_png(const struct dw_scene *scene, int dots_per_inch, struct dw_arena *arena, struct dw_faults *faults,
                            const char **bytes, size_t *length);

/* The scene as lines of text, for tests. */
enum dw_status dw_scene_dump(const struct dw_scene *scene, struct dw_arena *arena, struct dw_faults *faults, const char **text);

#endif
