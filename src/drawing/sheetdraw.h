/* sheetdraw.h - one sheet to scale, as it is cut. */
#ifndef DW_DRAWING_SHEETDRAW_H
#define DW_DRAWING_SHEETDRAW_H

#include "scene.h"

struct dwi_sheet {
    const struct dw_purchase *purchase;
    size_t material, sheet;
};

/* "Sheet A1"; and what stands behind it: material, size, grain. */
const char *dwi_sheet_title(struct dw_arena *arena, const struct dwi_sheet *of);
void dwi_draw_sheet(struct dwi_pad *pad, const struct dwi_sheet *of, struct dwi_area room);

#endif
