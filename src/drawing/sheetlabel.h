/* sheetlabel.h - what is written on the pieces of a sheet. */
#ifndef DW_DRAWING_SHEETLABEL_H
#define DW_DRAWING_SHEETLABEL_H

#include "scene.h"

struct dwi_label {
    struct dwi_area at;        /* of the piece */
    size_t within;             /* as in dw_shape */
    const char *mark, *size;   /* ready to be read */
    const char *address;
    const struct dw_part *part; /* NULL for an offcut */
    size_t number;             /* of the piece within the part */
};

/* Does any label find no room in its piece, nor in the block of like pieces it belongs to? */
bool dwi_any_label_led(struct dw_arena *arena, const struct dwi_label *labels, size_t count);

/* How much room beside the sheet the labels led out want. */
dw_dot dwi_led_room(struct dw_arena *arena, const struct dwi_label *labels, size_t count);

/* Writes them into their pieces, or beside the sheet, within `room`, with a leader line. */
void dwi_write_labels(struct dwi_pad *pad, const struct dwi_label *labels, size_t count, struct dwi_area sheet, struct dwi_area room);

#endif
