/* holes.h - how well the free area of a layout gathers in few holes. */
#ifndef DWI_CUTTING_HOLES_H
#define DWI_CUTTING_HOLES_H

#include "slicing.h"

enum { DWI_HOLE_ONE = 1024 };

/* What holes are measured by. */
struct hole_gauge {
    int64_t mean_area;  /* of a piece, shifted by the problem's area_shift; >= 1 */
    int64_t least_side; /* the shortest side of any item: a narrower hole is of no use */
};

struct hole_gauge dwi_hole_gauge(const struct problem *problem);

/* The sum over the holes of a sheet that is begun of (area / mean area of a piece)^2, each at most 1, in 1/1024. Cost: O(nodes). */
int64_t dwi_holes(const struct sheet *sheet, const struct hole_gauge *gauge);

#endif
