/* points.h - the sizes that a sub-piece can need along one side of a sheet. */
#ifndef DWI_CUTTING_POINTS_H
#define DWI_CUTTING_POINTS_H

#include <stdbool.h>
#include <stdint.h>

struct dw_arena;

/* Points in rising order; at[0] is 0. The last is the most of the side that can be used. */
struct axis {
    int count;
    const int64_t *at;
    const int *halves;    /* for each point c: how many points t >= 1 lie at or below at[c] / 2; those are 1 .. halves[c] */
    const int *first;     /* for each point c: where its rests begin */
    const uint16_t *rest; /* rest[first[c] + t], t = 1 .. halves[c]: the last point at or below at[c] - at[t] */
    int64_t splits;       /* sum of all halves: the cost of one pass over all splits */
};

enum { AXIS_MOST = 6000 }; /* the most points that an axis is ever made with */

/* The points of a side for stretches of these sizes (> 0, any order), as many of each as fit; false when there would be more than
 * `most` (<= AXIS_MOST) sums, before thinning. In `arena`. */
bool dwi_axis_make(const int64_t *sizes, int size_count, int64_t side, int most, struct dw_arena *arena, struct axis *axis);

/* The first point at or above `size`, or count when there is none; the last at or below it (size >= 0). */
int dwi_axis_up(const struct axis *axis, int64_t size);
int dwi_axis_down(const struct axis *axis, int64_t size);

#endif
