/* elevation.h - a case seen from the front, and cut through on the level. */
#ifndef DW_DRAWING_ELEVATION_H
#define DW_DRAWING_ELEVATION_H

#include "scene.h"

/* Some neighboring banks of a case; all of them, or those that one page holds. */
struct dwi_banks {
    const struct dw_sizing *sizing;
    const struct dw_sized_case *of;
    size_t first, count;
    size_t level; /* of a plan section: 0 shows each bank's first box, 1 the first that differs from it in plan, and so on */
};
struct dwi_banks dwi_all_banks(const struct dw_sizing *sizing, size_t case_index);
const struct dw_sized_bank *dwi_bank_at(const struct dwi_banks *banks, size_t i);

/* The last part of a path: "3" of "Bench/left/3". */
const char *dwi_last_name(const char *path);

/* "door", "open", "panel"; "" for a drawer. */
const char *dwi_fill_word(enum dw_fill fill);

/* Does the case go on to the left or the right of them? */
bool dwi_banks_go_on_left(const struct dwi_banks *banks);
bool dwi_banks_go_on_right(const struct dwi_banks *banks);

/* From where to where along the case's width these banks reach: to its outside at its ends, else to the middle of a partition. */
dw_length dwi_banks_left(const struct dwi_banks *banks);
dw_length dwi_banks_right(const struct dwi_banks *banks);

/* The front elevation, dimensioned, in the upper left of `room` at 1 : scale. Returns the y under the last dimension. */
dw_dot dwi_draw_elevation(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_area room, int64_t scale);

/* Breadth and height that it takes at that scale, dimensions and all. */
struct dwi_extent {
    dw_dot width, height;
};
struct dwi_extent dwi_elevation_extent(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room, int64_t scale);

/* Are the heights of every bank dimensioned, or did some find no place beside the case? */
bool dwi_elevation_is_whole(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room, int64_t scale);

/* Fronts alone, small, with their names where they fit. */
void dwi_draw_thumbnail(struct dwi_pad *pad, const struct dw_sizing *sizing, size_t case_index, struct dwi_area room);

/* Where a case goes on beyond the page: a line with a break in it, upright from top to low. */
void dwi_break_line(struct dwi_pad *pad, dw_dot x, dw_dot top, dw_dot low);

/* The plan section, dimensioned, front toward the reader; likewise. Drawers that look the same from above are drawn once, under all their names; of a
 * bank with several kinds each level shows one. */
size_t dwi_section_levels(const struct dwi_banks *banks);
dw_dot dwi_draw_section(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_area room, int64_t scale);
struct dwi_extent dwi_section_extent(struct dw_arena *arena, const struct dwi_banks *banks, int64_t scale);

/* The least scale (the largest drawing) at which each, or the one over the other, fits the room; a scale past DWI_SCALE_MOST means that it
 * does not. */
enum { DWI_SCALE_MOST = 200 };
int64_t dwi_elevation_scale(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room);
int64_t dwi_section_scale(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room);
int64_t dwi_case_scale(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room);

/* Elevation over section at one scale; says the scale beneath. */
void dwi_draw_case_views(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_area room, int64_t scale);

/* "1 : 10, lengths in inches. ..." in the lower left of a room, and the height it takes. */
void dwi_draw_caption(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_area room, int64_t scale, const char *what);
enum { DWI_CAPTION_HIGH = 1500 };

#endif
