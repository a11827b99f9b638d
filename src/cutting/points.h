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

/* Stretches of one size that may stand along a side. */
struct stretch {
    int64_t size;  /* > 0 */
    int64_t count; /* at most; AXIS_ANY_NUMBER: as many as fit */
};

#define AXIS_ANY_NUMBER INT64_MAX

/* The points of a side for these stretches (any order); false when there would be more than `most` (<= AXIS_MOST) sums, before
 * thinning. In `arena`. */
bool dwi_axis_make(const struct stretch *stretches, int count, int64_t side, int most, struct dw_arena *arena, struct axis *axis);

/* The first point at or above `size`, or count when there is none; the last at or below it (size >= 0). */
int dwi_axis_up(const struct axis *axis, int64_t size);
int dwi_axis_down(const struct axis *axis, int64_t size);

#endif
