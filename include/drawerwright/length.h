/* length.h - exact lengths, in inches and millimeters alike.
 *
 * A length is a whole number of sixteenths of a micrometer. 1 in is exactly 25.4 mm (since 1959), so 1 in is
 * 406 400 units, 1/128 in 3 175 and 1 mm 16 000: every size either trade writes is exact, both mix in one job
 * without rounding, and the area of thousands of sheets still fits 63 bits.
 */
#ifndef DRAWERWRIGHT_LENGTH_H
#define DRAWERWRIGHT_LENGTH_H

#include <stdbool.h>
#include <stdint.h>

struct dw_arena;

typedef int64_t dw_length; /* 1/16 micrometer */
typedef int64_t dw_area;   /* square of that unit: a 4 x 8 ft sheet is 7.6e14 */

#define DW_INCH ((dw_length)406400)
#define DW_MM ((dw_length)16000)
#define DW_LENGTH_UNSET INT64_MIN        /* "not given" in a job; never a length */
#define DW_LENGTH_MAX (4000 * DW_INCH)   /* no single length in a job is longer (about 100 m) */

enum dw_unit { DW_IN, DW_MILLIMETER };

/* How a length is shown. */
struct dw_length_style {
    enum dw_unit unit;
    int denominator; /* inches: the finest fraction, 1 to 128, a power of two; 0 means 64 */
    int decimals;    /* millimeters: digits after the point, 0 to 3; -1 means as many as needed, 2 at most */
};

/* Reads a length as makers write it: 24 1/2, 24-1/2", 24½, 24.5in, 2' 0-1/2", 622 mm, 62.2cm, 15,5 mm. A bare
 * number is in `bare`. The whole text must be the length (spaces round it are allowed). Exact, or refused:
 * anything that is not a whole number of units, over DW_LENGTH_MAX, or a fraction finer than 1/128 in is, and so
 * is what can be read in two ways (1,500 mm). A leading minus is read. Returns true and sets *length, or false and points *why (may be NULL) at a static sentence
 * that says what was expected. */
bool dw_length_parse(const char *text, enum dw_unit bare, dw_length *length, const char **why);

/* "24 1/2", "622 mm"-less digits: the bare number without a unit mark, reduced. One that is not exact at the
 * style's precision is led by "~" and rounded to the nearest. In `arena` (inside a guard). */
const char *dw_length_show(struct dw_arena *arena, dw_length length, struct dw_length_style style);

/* The same with its unit: 24 1/2 in, 622 mm. */
const char *dw_length_show_unit(struct dw_arena *arena, dw_length length, struct dw_length_style style);

/* The bare number where that is exact in the style's unit; else, where it is exact in the other unit, that number with its unit ("1220 mm" in
 * an inch job): so that a sheet sold by the other measure keeps its name. */
const char *dw_length_show_as_sold(struct dw_arena *arena, dw_length length, struct dw_length_style style);

/* True when dw_length_show would print no "~". */
bool dw_length_is_exact(dw_length length, struct dw_length_style style);

/* "in" or "mm". */
const char *dw_unit_word(enum dw_unit unit);

/* To the multiple of step (> 0) at or below, at or above, or nearest (halves away from zero). */
dw_length dw_round_down(dw_length length, dw_length step);
dw_length dw_round_up(dw_length length, dw_length step);
dw_length dw_round_near(dw_length length, dw_length step);

/* Shares `whole` (>= 0) among `count` (> 0) as evenly as whole units allow; the odd units go to the last ones.
 * Fills shares[0..count-1], whose sum is `whole`. */
void dw_length_share(dw_length whole, int count, dw_length *shares);

static inline dw_length dw_least(dw_length a, dw_length b) { return a < b ? a : b; }
static inline dw_length dw_most(dw_length a, dw_length b) { return a > b ? a : b; }

#endif
