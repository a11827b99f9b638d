/* boxdraw.h - a drawer box, exploded, and its corners and bottom enlarged. */
#ifndef DW_DRAWING_BOXDRAW_H
#define DW_DRAWING_BOXDRAW_H

#include "boxfacts.h"

/* All of it in one room: the box taken apart, each corner from above, the bottom in section. */
void dwi_draw_box(struct dwi_pad *pad, const struct dwi_box_facts *facts, struct dwi_area room);

/* Its two halves, where one room is not enough: the box taken apart; and its joints enlarged, so many of them, in rows of `columns`. */
void dwi_draw_exploded(struct dwi_pad *pad, const struct dwi_box_facts *facts, struct dwi_area room);
void dwi_draw_joints(struct dwi_pad *pad, const struct dwi_box_facts *facts, struct dwi_area room, size_t columns);
size_t dwi_joint_count(const struct dwi_box_facts *facts);

/* cornerdraw.c */
void dwi_draw_corner(struct dwi_pad *pad, const struct dwi_box_facts *facts, enum dwi_end end, struct dwi_area room);
void dwi_draw_bottom(struct dwi_pad *pad, const struct dwi_box_facts *facts, struct dwi_area room);
void dwi_draw_teeth(struct dwi_pad *pad, const struct dwi_box_facts *facts, enum dwi_end end, struct dwi_area room);

#endif
