/* bankheights.h - the heights of banks, beside an elevation. */
#ifndef DW_DRAWING_BANKHEIGHTS_H
#define DW_DRAWING_BANKHEIGHTS_H

#include "dimension.h"
#include "elevation.h"

/* Has this drawer a slide whose height is to be marked? And the height of the slide's center line in the elevation. */
bool dwi_has_center(const struct dwi_banks *banks, const struct dw_sized_drawer *drawer);
dw_length dwi_center_y(const struct dwi_banks *banks, const struct dw_sized_drawer *drawer);

/* What stands beside the case for one bank and those like it; places are counted from the strip's left. */
struct dwi_strip_beside {
    size_t bank;
    struct dwi_chain chain;    /* what is seen */
    struct dwi_chain rails;    /* what fronts hide; rails_at is 0 where there is nothing */
    struct dwi_height *heights;
    size_t height_count;
    dw_dot floor;              /* the case floor, from which they are measured */
    dw_dot chain_at, rails_at, heights_at;
    dw_dot width;
};

/* The strips that find place: together they take no more than a part of the room's breadth, so that the case itself stays large. */
struct dwi_strips {
    struct dwi_strip_beside *at;
    size_t count;
    dw_dot width;
    bool all;
};
struct dwi_strips dwi_strips_of(struct dw_arena *arena, const struct dwi_banks *banks, const struct dwi_view *view, struct dwi_area room);
void dwi_draw_strips(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dwi_strips *strips, dw_dot x, struct dwi_area room);

#endif
