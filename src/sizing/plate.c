/* plate.c - how deep a drawer bottom sags: a rectangular plate, all four edges simply supported, uniform load.
 *
 * Problem: y = alpha q b^4 / (E t^3), b the short side, with alpha depending on a/b (Roark's Formulas for Stress and
 * Strain, Table 11.4 case 1a, nu = 0.3). The handbook prints ten values; here alpha comes from Navier's double series
 * (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, section 30), at the center of the plate
 *
 *     alpha = 12 (1 - nu^2) 16 / pi^6  x  sum over odd m, n of  (-1)^((m+n)/2 - 1) / (m n (m^2 b^2/a^2 + n^2)^2)
 *
 * summed in whole numbers, so that every machine gives the same sag. The terms alternate and fall at least as m^-5, so
 * what is left out after the last m is less than the first term left out: under 1e-6 of the sum up to a/b = RATIO_MOST,
 * past which alpha no longer changes in four figures (infinite strip: 0.1422).
 *
 * Bounds: (b/a)^2 and the brackets are held in billionths: m^2 + n^2 < 5e4, so a bracket is under 5e13 and its square
 * under 2.5e27; FINE x BILLION^2 = 1e30 fits the 128 bits with room for 1e8.
 */
#include <drawerwright/sizing.h>

__extension__ typedef __int128 wide;

enum { BILLION = 1000000000, LAST_M = 199, LAST_N = 39, RATIO_MOST = 8 };

#define FINE 1000000000000 /* the series is summed in 1e-12 */

/* 12 (1 - 0.09) 16 / pi^6 = 174.72 / 961.389193575304 in billionths. */
static const int64_t FACTOR = 181737014;

/* One term of the series, without its sign, in 1e-12. */
static int64_t term(int64_t m, int64_t n, int64_t ratio)
{
    const wide bracket = (wide)m * m * ratio + (wide)n * n * BILLION;
    return (int64_t)((wide)FINE * BILLION * BILLION / ((wide)m * n * bracket * bracket));
}

/* alpha in billionths, for sides a >= b > 0. */
static int64_t alpha_of(dw_length a, dw_length b)
{
    if (a > RATIO_MOST * b)
        a = RATIO_MOST * b;
    const int64_t ratio = (int64_t)((wide)b * b * BILLION / ((wide)a * a));
    int64_t sum = 0;
    for (int64_t m = 1; m <= LAST_M; m += 2)
        for (int64_t n = 1; n <= LAST_N; n += 2)
            sum += (m + n) / 2 % 2 == 1 ? term(m, n, ratio) : -term(m, n, ratio);
    return (int64_t)((wide)sum * FACTOR / FINE);
}

dw_length dw_plate_sag(dw_length a, dw_length b, dw_length thickness, dw_pressure load, dw_pressure stiffness)
{
    if (a <= 0 || b <= 0 || load <= 0 || stiffness <= 0)
        return 0;
    const dw_length shorter = dw_least(a, b);
    if (thickness <= 0 || shorter / thickness >= 1000)
        return shorter; /* a film: the formula of small deflections says nothing */
    /* In billionths, with b <= 1.6e9, (b/t)^3 < 1e9, q <= 1e9: b^3 x 1e9 < 5e36, (b/t)^3 q < 1e27, and so on down. */
    const wide pressure = load < BILLION ? load : BILLION;
    const wide slender = (wide)shorter * shorter * shorter * BILLION / ((wide)thickness * thickness * thickness);
    const wide strain = slender * pressure / stiffness; /* (b/t)^3 q / E */
    const wide sag = strain * alpha_of(dw_most(a, b), shorter) / BILLION * shorter / BILLION;
    return sag > shorter ? shorter : (dw_length)sag;
}
