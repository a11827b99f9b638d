/* breakdown.h - sheets too heavy or too large to be cut as they are bought. */
#ifndef DWI_LAYOUT_BREAKDOWN_H
#define DWI_LAYOUT_BREAKDOWN_H

#include <drawerwright/layout.h>

#include "saws.h"

/* A box that a panel must fit, either way round. */
struct box {
    dw_length longer, shorter; /* DW_LENGTH_MAX: no limit */
};

/* What the panels of a sheet are broken down to. */
struct breaking {
    const struct dw_material *material;
    struct saws saws;
    bool yard;            /* the sheet does not fit the van */
    struct box van;       /* of the van, when it is cut at the yard */
    struct box handle;    /* of the shop */
    dw_mass lift;
    dw_length over, kerf; /* rough over-size; kerf of the layout */
    const struct dw_cut_keep *keep;
};

/* 0 is no limit; but a length given alone holds for both sides, since what is too long does not fit sideways. */
struct box dwi_box(dw_length length, dw_length width);

/* "60 x 48". */
const char *dwi_box_words(struct dw_arena *arena, const struct dw_parts *const *jobs, const struct box *box);

/* True when a panel of that size fits. */
bool dwi_box_holds(const struct box *box, dw_length length, dw_length width);

/* In milligrams; 0 when the material's density is not known. */
dw_mass dwi_panel_weight(const struct dw_material *material, dw_length length, dw_length width);

/* Is a sheet of this source to be broken down? Fills *breaking if so. */
bool dwi_breaking_of(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, const struct dw_sheet_source *source,
                     struct dw_arena *arena, struct breaking *breaking);

/* Breaks the sheet down, where its cuts leave room: its root becomes rough. Fills `broken`, `unwieldy` and `over_van`. Inside a guard of `arena`. */
void dwi_break_down(const struct breaking *breaking, const struct dw_sheet_source *source, struct dw_arena *arena, struct dw_layout_sheet *sheet);

/* What stands between two panels after a rough cut of that length; 0 when no saw of the shop makes it. */
dw_length dwi_rough_gap(const struct breaking *breaking, dw_length along);

#endif
