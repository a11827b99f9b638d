/* cuts.h - where the cuts of a sheet lie, read off the cut ladder. */
#ifndef DW_DRAWING_CUTS_H
#define DW_DRAWING_CUTS_H

#include "scene.h"

struct dwi_first_cut {
    enum dw_cut cut;
    dw_length place;  /* of the blade: y of a rip, x of a crosscut */
    int rung;
};
/* A later cut, of what came off: from x, y along it, the blade's middle. */
struct dwi_later_cut {
    enum dw_cut cut;
    dw_length x, y, length;
    int rung;
};
/* What comes off the sheet and is cut further, under the ladder's name for it. */
struct dwi_strip {
    dw_length x, y, length, width;
    const char *name;
};

struct dwi_sheet_cuts {
    const struct dwi_first_cut *first; /* trims apart, those that go right through what is left of the sheet, in the order of work */
    size_t first_count;
    const struct dwi_later_cut *later; /* all others */
    size_t later_count;
    const struct dwi_strip *strips;
    size_t strip_count;
};

/* None when there is no ladder. */
struct dwi_sheet_cuts dwi_sheet_cuts_of(struct dw_arena *arena, const struct dw_material_layout *layout, size_t sheet);

#endif
