/* sheetlabel.h - what is written on the pieces of a sheet. */
#ifndef DW_DRAWING_SHEETLABEL_H
#define DW_DRAWING_SHEETLABEL_H

#include "leaders.h"

/* All labels of a sheet with their places. */
struct dwi_sheet_labels {
    struct dwi_label *written;  /* in their pieces, or in the block of like pieces they belong to */
    size_t written_count;
    size_t marked;              /* of them, those of which the mark alone is written */
    struct dwi_leaders leaders; /* the others */
    struct dwi_areas texts;     /* where they stand on the sheet; once drawn leaders too */
};
struct dwi_sheet_labels dwi_place_labels(struct dw_arena *arena, const struct dwi_label *labels, size_t count, const struct dwi_leading *leading);

/* Writes them into their pieces; leads out the others, in the margins within `room`. */
void dwi_write_labels(struct dwi_pad *pad, struct dwi_sheet_labels *labels, struct dwi_area sheet, struct dwi_area room);

#endif
