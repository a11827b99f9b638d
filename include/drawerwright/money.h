/* money.h - money as a whole number of the currency's smallest unit. */
#ifndef DRAWERWRIGHT_MONEY_H
#define DRAWERWRIGHT_MONEY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct dw_arena;

typedef int64_t dw_money; /* cents, pence, ... */

#define DW_MONEY_MAX ((dw_money)1000000000000) /* no amount in a job is larger */
#define DW_DECIMALS_MOST 3                     /* digits of a currency's smallest unit */

struct dw_currency {
    const char *mark; /* shown behind the amount: "USD", "EUR"; "" shows the bare number */
    int decimals;     /* digits of the smallest unit, 0 to DW_DECIMALS_MOST; 2 by habit */
};

/* Reads "68", "68.00", "1,234.50", "12,5" (a decimal comma) with at most `decimals` digits behind the point.
 * No minus. Returns false and points *why at a static sentence otherwise. */
bool dw_money_parse(const char *text, int decimals, dw_money *money, const char **why);

/* "68.00", in `arena` (inside a guard); with the mark: "68.00 USD". */
const char *dw_money_show(struct dw_arena *arena, dw_money money, int decimals);
const char *dw_money_show_mark(struct dw_arena *arena, dw_money money, struct dw_currency currency);

/* amount x ppm / 1 000 000, rounded half up (away from zero) to the smallest unit: the stated rule for tax,
 * mark-up and allowance. ppm within 0 .. 100 000 000. */
dw_money dw_money_part(dw_money amount, int64_t ppm);

/* amount x numerator / denominator with the same rounding, through 128 bits. denominator > 0. */
dw_money dw_money_scale(dw_money amount, int64_t numerator, int64_t denominator);

/* Splits `whole` in proportion to weights (each >= 0, not all 0; all 0 splits evenly). Shares are rounded
 * down and the cents left go one each to the largest remainders, the earliest first: the sum is `whole`.
 * (Largest-remainder method; 68.00 in three even parts is 22.67 + 22.67 + 22.66.) */
void dw_money_split(dw_money whole, const int64_t *weights, size_t count, dw_money *shares);

#endif
