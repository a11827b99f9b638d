/* nodes.h - what the files of this room ask of a layout's tree. */
#ifndef DWI_LAYOUT_NODES_H
#define DWI_LAYOUT_NODES_H

#include "frame.h"

/* The extent that cuts of this kind divide. */
static inline dw_length dwi_size_along(const struct dw_layout_node *node, enum dw_cut cut)
{
    return cut == DW_CROSSCUT ? node->length : node->width;
}

/* A piece or an offcut, or cut into some. */
bool dwi_is_wanted(const struct dw_layout_node *node);

/* Pieces of a cut up to the last one that is wanted. */
size_t dwi_useful_count(const struct dw_layout_node *node);

/* The first piece, and the mark of the first offcut to keep, that come of a node; NULL when none does. */
const struct dw_layout_node *dwi_first_part(const struct dw_layout_node *node);
const char *dwi_first_kept(const struct dw_layout_node *node);

/* The farthest edge of a part. */
struct extent dwi_reach_of(const struct dw_layout_node *node);

#endif
