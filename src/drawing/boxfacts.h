/* boxfacts.h - what a box's drawing needs: its parts, and how each corner meets, read off the parts list. */
#ifndef DW_DRAWING_BOXFACTS_H
#define DW_DRAWING_BOXFACTS_H

#include "scene.h"

enum dwi_end { DWI_FRONT_END, DWI_REAR_END };

/* One corner seen from above, for the left side of the box. Depths run inward from the outer face of this end of the box, across runs from the
 * outer face of the side. */
struct dwi_corner_facts {
    enum dw_joint joint;
    dw_length side, cross;      /* thicknesses */
    dw_length stop;             /* the side ends so far inside the outer face of this end */
    dw_length reach;            /* the cross piece enters the side by so much, and runs past it when more than the side */
    dw_length inset;            /* the cross piece's outer face lies so far inside */
    const struct dw_part_work *side_cut;   /* rabbet or dado in the side; NULL */
    const struct dw_part_work *cross_cut;  /* rabbet on the cross piece; NULL */
    const struct dw_part_work *slot;       /* in the cross piece's end; NULL */
    const struct dw_part_work *teeth;      /* fingers or tails of the side; NULL */
};

struct dwi_box_facts {
    const struct dw_parts *parts;
    const struct dw_sized_drawer *drawer;
    const struct dw_part *side, *ends[2], *bottom; /* any may be NULL when the parts list has none */
    const struct dw_part *front;                   /* an applied front; NULL */
    struct dwi_corner_facts corners[2];
    const struct dw_part_work *groove;             /* of the side, for the bottom; NULL when it is applied */
    dw_length bottom_thickness;
};

/* How wide and how high a box front, back or front stands as the drawer hangs: of vertical grain its length runs up. */
static inline dw_length dwi_hung_width(const struct dw_part *part)
{
    return part->upright ? part->width.value : part->length.value;
}
static inline dw_length dwi_hung_height(const struct dw_part *part)
{
    return part->upright ? part->length.value : part->width.value;
}

/* False when the drawer has no box or its parts are not all there. */
bool dwi_box_facts_of(const struct dw_parts *parts, size_t case_index, size_t bank, size_t drawer, struct dwi_box_facts *facts);

/* Are both made in the same way, whatever their sizes? */
bool dwi_boxes_alike(const struct dw_sized_drawer *a, const struct dw_sized_drawer *b);

#endif
