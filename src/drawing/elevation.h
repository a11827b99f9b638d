/* elevation.h - a case seen from the front, and cut through on the level. */
#ifndef DW_DRAWING_ELEVATION_H
#define DW_DRAWING_ELEVATION_H

#include "scene.h"

/* Some neighboring banks of a case; all of them, or those that one page holds. */
struct dwi_banks {
    const struct dw_sizing *sizing;
    const struct dw_sized_case *of;
    size_t first, count;
};
struct dwi_banks dwi_all_banks(const struct dw_sizing *sizing, size_t case_index);

/* From where to where along the case's width these banks reach: to its outside at its ends, else to the middle of a partition. */
dw_length dwi_banks_left(const struct dwi_banks *banks);
dw_length dwi_banks_right(const struct dwi_banks *banks);

/* The front elevation, dimensioned, in `room`, at 1 : scale. Its lower left corner stands where the returned view says. */
struct dwi_view dwi_draw_elevation(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_box room, int64_t scale);

/* What its dimensions take beside the case itself, for choosing a scale: breadth and height. */
dw_dot dwi_elevation_margin_width(struct dw_arena *arena, const struct dwi_banks *banks);
enum { DWI_ELEVATION_MARGIN_HEIGHT = 11000 };

/* Fronts alone, small, with their names where they fit. */
void dwi_draw_thumbnail(struct dwi_pad *pad, const struct dw_sizing *sizing, size_t case_index, struct dwi_box room);

/* The plan section, dimensioned, its left outside edge at x and its front's face at y, depth downward or as it lies on the page. */
void dwi_draw_section(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_box room, int64_t scale);
enum { DWI_SECTION_MARGIN_WIDTH = 12000, DWI_SECTION_MARGIN_HEIGHT = 9500 };

/* Depth of the case from its face to its back, as far as it is known; else of the deepest box. */
dw_length dwi_section_depth(const struct dwi_banks *banks);

/* Elevation over section in one room, both to one scale; says the scale beneath. */
void dwi_draw_case_views(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_box room);

#endif
