/* dual.h - dual-feasible functions on one side of a sheet. */
#ifndef DWI_CUTTING_DUAL_H
#define DWI_CUTTING_DUAL_H

#include <stdint.h>

enum dual_kind {
    DUAL_IDENTITY,
    DUAL_THRESHOLD, /* parameter 1 .. side / 2 */
    DUAL_ROUNDING,  /* parameter >= 1, small */
    DUAL_COUNTING   /* parameter 1 .. side / 2 */
};

/* A function f on sizes 0 .. side: sum of sizes <= side implies sum of f <= f(side). */
struct dual {
    enum dual_kind kind;
    int64_t parameter;
    int64_t side;
};

int64_t dwi_dual_at(const struct dual *function, int64_t size);

#endif
