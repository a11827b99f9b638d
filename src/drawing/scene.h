/* scene.h - a scene being drawn. All of these only inside a guard of the pad's arena. */
#ifndef DW_DRAWING_SCENE_H
#define DW_DRAWING_SCENE_H

#include <drawerwright/drawing.h>
#include <drawerwright/length.h>

#include "textfit.h"

/* Sizes of text, in dots. */
enum { DWI_TITLE = 1700, DWI_HEADING = 1250, DWI_BODY = 1000, DWI_NOTE = 850, DWI_TINY = 720 };

/* Line widths. */
enum { DWI_HAIR = 30, DWI_FINE = 50, DWI_LINE = 80, DWI_BOLD = 140 };

struct dwi_pad {
    struct dw_arena *arena;
    const char *title;
    const char *part;      /* of the packet that it belongs to, a word for its contents; NULL for a single drawing */
    dw_dot width, height;
    struct dw_shape *shapes;
    size_t count, capacity;
};

/* How a text is set. All zero: DWI_BODY, plain, ink, from its start. */
struct dwi_type {
    dw_dot size;
    bool bold;
    enum dw_anchor anchor;
    enum dw_tone ink;
    enum dw_tone behind;   /* of a box behind it */
    int quarter_turns;
    dw_dot most;           /* shortened to this width; 0: no limit */
    size_t within;         /* as in dw_shape */
    bool as_it_is;         /* no fractions are set: paths, ids */
};

struct dwi_pad dwi_pad_new(struct dw_arena *arena, const char *title, dw_dot width, dw_dot height);
struct dw_scene dwi_pad_scene(const struct dwi_pad *pad);

void dwi_line(struct dwi_pad *pad, dw_dot x, dw_dot y, dw_dot x2, dw_dot y2, dw_dot stroke, enum dw_tone ink);
void dwi_dashed(struct dwi_pad *pad, dw_dot x, dw_dot y, dw_dot x2, dw_dot y2, dw_dot stroke, enum dw_tone ink);

/* Returns what a text's `within` wants: one more than its index. */
size_t dwi_rectangle(struct dwi_pad *pad, struct dwi_area at, dw_dot stroke, enum dw_tone ink, enum dw_tone fill, const char *address);
void dwi_dashed_rectangle(struct dwi_pad *pad, struct dwi_area at, dw_dot stroke, enum dw_tone ink, const char *address);
void dwi_circle(struct dwi_pad *pad, dw_dot x, dw_dot y, dw_dot radius, dw_dot stroke, enum dw_tone ink, enum dw_tone fill);

/* `points` pairs, copied. */
void dwi_polyline(struct dwi_pad *pad, const dw_dot *points, size_t count, dw_dot stroke, enum dw_tone ink);
void dwi_polygon(struct dwi_pad *pad, const dw_dot *points, size_t count, dw_dot stroke, enum dw_tone ink, enum dw_tone fill,
                 const char *address);

/* Sets one line; returns its width. An empty text draws nothing. */
dw_dot dwi_text(struct dwi_pad *pad, dw_dot x, dw_dot y, struct dwi_type type, const char *address, const char *text);

/* Sets a paragraph of lines `type.most` wide from the baseline y down; returns the baseline after the last line. */
dw_dot dwi_paragraph(struct dwi_pad *pad, dw_dot x, dw_dot y, struct dwi_type type, const char *address, const char *text);
size_t dwi_paragraph_lines(struct dw_arena *arena, struct dwi_type type, const char *text);
dw_dot dwi_leading(dw_dot size);

/* Fine lines inside a rectangle: along x or y, or slanted (a hatch), `step` apart. */
enum dwi_direction { DWI_ALONG_X, DWI_ALONG_Y, DWI_SLANTED };
void dwi_hatch(struct dwi_pad *pad, struct dwi_area at, enum dwi_direction direction, dw_dot step, dw_dot stroke, enum dw_tone ink);

/* A view of things to scale: full lengths over `scale`, from a place on the page. y_up: lengths are measured upward. */
struct dwi_view {
    dw_dot x, y;      /* where length 0, 0 is */
    int64_t scale;    /* 1 : scale */
    bool y_up;
};
dw_dot dwi_dots(dw_length length, int64_t scale);
dw_dot dwi_x(const struct dwi_view *view, dw_length x);
dw_dot dwi_y(const struct dwi_view *view, dw_length y);
struct dwi_area dwi_view_area(const struct dwi_view *view, dw_length x, dw_length y, dw_length width, dw_length height);

/* The least whole n such that width x height at 1 : n fits the room. */
int64_t dwi_scale_for(dw_length width, dw_length height, dw_dot room_width, dw_dot room_height);

/* A length of the job, in its style. */
const char *dwi_length(struct dw_arena *arena, const struct dw_job *job, dw_length length);
const char *dwi_length_unit(struct dw_arena *arena, const struct dw_job *job, dw_length length);

/* A size as it is sold: in the job's unit where that is exact, else with its unit in the one in which it is ("2440 mm" in an inch job). */
const char *dwi_sold_length(struct dw_arena *arena, const struct dw_job *job, dw_length length);

static inline dw_dot dwi_wide(struct dwi_area box) { return box.x2 - box.x; }
static inline dw_dot dwi_high(struct dwi_area box) { return box.y2 - box.y; }

#endif
