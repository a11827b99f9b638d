/* cuts.h - where the first cuts of a sheet lie, read off the cut ladder. */
#ifndef DW_DRAWING_CUTS_H
#define DW_DRAWING_CUTS_H

#include "scene.h"

struct dwi_first_cut {
    enum dw_cut cut;
    dw_length place;  /* of the blade: y of a rip, x of a crosscut */
    int rung;
};
/* What comes off the sheet and is cut further, under the ladder's name for it. */
struct dwi_strip {
    dw_length x, y, length, width;
    const char *name;
};

struct dwi_first_cuts {
    const struct dwi_first_cut *at;
    size_t count;
    const struct dwi_strip *strips;
    size_t strip_count;
};

/* The cuts, trims apart, that go right through what is left of the sheet, in the order of work. None when there is no ladder. */
struct dwi_first_cuts dwi_first_cuts_of(struct dw_arena *arena, const struct dw_material_layout *layout, size_t sheet);

#endif
