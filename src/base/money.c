/* money.c - amounts in the smallest unit, their rounding rule and their splitting. */
#include <drawerwright/money.h>

#include <assert.h>

#include <drawerwright/memory.h>

__extension__ typedef __int128 wide;

static int64_t power_of_ten(int digits)
{
    int64_t power = 1;
    while (digits-- > 0)
        power *= 10;
    return power;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* True when the comma at `at` separates thousands: three digits follow and then no fourth, and at most three lead. */
static bool groups_thousands(const char *at, int decimals, int64_t before, bool grouped)
{
    const bool three = is_digit(at[1]) && is_digit(at[2]) && is_digit(at[3]) && !is_digit(at[4]);
    return three && decimals != 3 && (grouped || before < 1000);
}

bool dw_money_parse(const char *text, int decimals, dw_money *money, const char **why)
{
    static const char expected[] = "expected an amount such as 68.00";
    assert(decimals >= 0 && decimals <= DW_DECIMALS_MOST);
    static const char too_fine[] = "expected no smaller amounts than the currency has";
    const char *unused = NULL;
    const char **reason = why == NULL ? &unused : why;
    *reason = expected;
    dw_money value = 0;
    int behind = -1; /* digits behind the point; -1 before it */
    bool any = false;
    bool grouped = false; /* commas separate thousands here, so none may stand for the point */
    for (const char *at = text; *at != '\0'; at++) {
        if (is_digit(*at)) {
            if (behind == decimals) {
                *reason = too_fine;
                return false;
            }
            value = value * 10 + (*at - '0');
            any = true;
            behind += behind >= 0 ? 1 : 0;
        } else if (*at == ',' && behind < 0 && any && groups_thousands(at, decimals, value, grouped)) {
            grouped = true;
        } else if ((*at == '.' || (*at == ',' && !grouped)) && behind < 0 && any && decimals > 0) {
            behind = 0;
        } else {
            *reason = *at == '.' && decimals == 0 ? too_fine : expected;
            return false;
        }
        if (value > DW_MONEY_MAX) {
            *reason = "expected a smaller amount";
            return false;
        }
    }
    if (!any || behind == 0)
        return false;
    value *= power_of_ten(decimals - (behind < 0 ? 0 : behind));
    if (value > DW_MONEY_MAX) {
        *reason = "expected a smaller amount";
        return false;
    }
    *money = value;
    return true;
}

const char *dw_money_show(struct dw_arena *arena, dw_money money, int decimals)
{
    const int64_t power = power_of_ten(decimals);
    const int64_t size = money < 0 ? -money : money;
    const char *sign = money < 0 ? "-" : "";
    if (decimals == 0)
        return dw_arena_format(arena, "%s%lld", sign, (long long)size);
    return dw_arena_format(arena, "%s%lld.%0*lld", sign, (long long)(size / power), decimals,
                           (long long)(size % power));
}

const char *dw_money_show_mark(struct dw_arena *arena, dw_money money, struct dw_currency currency)
{
    const char *number = dw_money_show(arena, money, currency.decimals);
    if (currency.mark == NULL || currency.mark[0] == '\0')
        return number;
    return dw_arena_format(arena, "%s %s", number, currency.mark);
}

dw_money dw_money_scale(dw_money amount, int64_t numerator, int64_t denominator)
{
    assert(denominator > 0);
    const wide product = (wide)amount * numerator;
    const wide doubled = product < 0 ? -product * 2 : product * 2;
    const wide rounded = (doubled + denominator) / ((wide)denominator * 2); /* half up, away from zero */
    return (dw_money)(product < 0 ? -rounded : rounded);
}

dw_money dw_money_part(dw_money amount, int64_t ppm)
{
    return dw_money_scale(amount, ppm, 1000000);
}

static int64_t remainder_of(dw_money whole, int64_t weight, wide total)
{
    return (int64_t)((wide)whole * weight % total);
}

void dw_money_split(dw_money whole, const int64_t *weights, size_t count, dw_money *shares)
{
    wide total = 0;
    for (size_t i = 0; i < count; i++)
        total += weights[i];
    const bool even = total == 0;
    if (even)
        total = (wide)count;
    dw_money left = whole;
    for (size_t i = 0; i < count; i++) {
        shares[i] = (dw_money)((wide)whole * (even ? 1 : weights[i]) / total);
        left -= shares[i];
    }
    /* left < count: each share was cut by less than one unit. A share that got its unit is marked by having a
     * remainder no longer looked at: take the largest remainder below the last one, in order of place. */
    int64_t ceiling = INT64_MAX;
    size_t after = count; /* places at `ceiling` up to this one are served */
    while (left > 0) {
        size_t chosen = count;
        int64_t largest = -1;
        for (size_t i = 0; i < count; i++) {
            const int64_t rest = remainder_of(whole, even ? 1 : weights[i], total);
            const bool unserved = rest < ceiling || (rest == ceiling && after != count && i > after);
            if (unserved && rest > largest) {
                largest = rest;
                chosen = i;
            }
        }
        assert(chosen < count);
        shares[chosen]++;
        left--;
        ceiling = largest;
        after = chosen;
    }
}
