/* spacing.c - fingers and tails that end well at a box's height.
 *
 * Fingers are all as wide as the cutter that makes them; side and cross piece take turns from one edge on. A height ends well when it is a
 * whole number of fingers; otherwise a splinter is left at the other edge, and the nearest heights that end well are offered.
 *
 * Tails stand at one pitch, each in the middle of its share of the height, so that a half pin is left at both edges. A height ends well when
 * it is a whole number of pitches ("drawer heights chosen to end on a half pin": "Modern 12-Drawer Dresser", Popular Woodworking, whose jig
 * stands at 7/8 in). Without a pitch in the job the number of tails is the one whose pitch is nearest to that, and the height is shared evenly.
 */
#include "making.h"

dw_length dwi_finger_by_rule(dw_length thinner, enum dw_unit unit)
{
    /* A 1/4 in finger in 1/2 in stock, as in the finger-jointed drawers of a Fine Woodworking tool cabinet: half the thickness, to a cutter. */
    const dw_length cutter = unit == DW_IN ? DW_INCH / 8 : 2 * DW_MM;
    return dw_most(cutter, dw_round_near(thinner / 2, cutter));
}

static struct dwi_spacing whole_steps(dw_length height, dw_length step)
{
    const int64_t number = height / step;
    return (struct dwi_spacing){.number = number,
                                .pitch = step,
                                .rest = height - number * step,
                                .lower = number * step,
                                .higher = (number + 1) * step};
}

struct dwi_spacing dwi_space_fingers(dw_length height, dw_length finger)
{
    return whole_steps(height, finger);
}

struct dwi_spacing dwi_space_tails(dw_length height, dw_length pitch, enum dw_unit unit)
{
    if (pitch != DW_LENGTH_UNSET)
        return whole_steps(height, pitch);
    const dw_length wished = unit == DW_IN ? 7 * DW_INCH / 8 : 22 * DW_MM;
    const int64_t number = dw_most(1, (height + wished / 2) / wished);
    return (struct dwi_spacing){.number = number, .pitch = height / number, .lower = height, .higher = height};
}

/* atan(1 / n) = sum of (-1)^k / ((2k + 1) n^(2k + 1)), in units of 1e-12 so that all products stay below 63 bits; n >= 2. */
int64_t dwi_slope_hundredths(int64_t slope)
{
    int64_t power = 1000000000000 / slope;
    int64_t angle = 0;
    for (int64_t k = 1; power > 0; k += 2) {
        angle += k % 4 == 1 ? power / k : -(power / k);
        power /= slope * slope;
    }
    /* In millionths of a radian; a radian is 5729.578 hundredths of a degree. */
    return (angle / 1000000 * 5729578 + 500000000) / 1000000000;
}
