/* dual.c - dual-feasible functions.
 *
 * A function f on whole sizes 0 .. C is dual feasible when sum x_j <= C implies sum f(x_j) <= f(C) (the papers write f / f(C)).
 * It tells how much of a side a size takes up in effect: two sizes above a half never share a side, so each may count for all of it.
 *
 *     identity      f(x) = x
 *     threshold t   C for x > C - t; 0 for x < t; x between        (Fekete & Schepers 2001, section 3, U^(t); Martello & Vigo 1998)
 *     rounding k    k x where (k+1) x is a multiple of C, else C floor((k+1) x / C); f(C) = k C   (Fekete & Schepers 2001, u^(k))
 *     counting t    2 (floor(C/t) - floor((C-x)/t)) for 2x > C; floor(C/t) for 2x = C; 2 floor(x/t) below
 *                   (Carlier, Clautiaux & Moukrim 2007, section 3, f_2)
 */
#include "dual.h"

__extension__ typedef __int128 wide;

static int64_t rounding(int64_t k, int64_t side, int64_t size)
{
    const wide stretched = (wide)(k + 1) * size;
    return stretched % side == 0 ? k * size : side * (int64_t)(stretched / side);
}

static int64_t counting(int64_t step, int64_t side, int64_t size)
{
    if (2 * size > side)
        return 2 * (side / step - (side - size) / step);
    return 2 * size == side ? side / step : 2 * (size / step);
}

int64_t dwi_dual_at(const struct dual *function, int64_t size)
{
    const int64_t t = function->parameter, side = function->side;
    switch (function->kind) {
    case DUAL_THRESHOLD: return size < t ? 0 : size > side - t ? side : size;
    case DUAL_ROUNDING: return rounding(t, side, size);
    case DUAL_COUNTING: return counting(t, side, size);
    case DUAL_IDENTITY: break;
    }
    return size;
}
