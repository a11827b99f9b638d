/* amounts_show.c - amounts as decimals with every digit that they have, and no more. */
#include "amounts_show.h"

#include <string.h>

#include <drawerwright/memory.h>

/* amount / 10^digits without trailing zeros. */
static char *decimal(struct dw_arena *arena, int64_t amount, int digits)
{
    int64_t power = 1;
    for (int i = 0; i < digits; i++)
        power *= 10;
    const int64_t size = amount < 0 ? -amount : amount;
    char *text = dw_arena_format(arena, "%s%lld.%0*lld", amount < 0 ? "-" : "", (long long)(size / power), digits, (long long)(size % power));
    size_t length = strlen(text);
    while (text[length - 1] == '0')
        text[--length] = '\0';
    if (text[length - 1] == '.')
        text[length - 1] = '\0';
    return text;
}

const char *dwi_length_exact(struct dw_arena *arena, dw_length length, enum dw_unit bare)
{
    static const struct dw_length_style inches = {.unit = DW_IN, .denominator = 128};
    if (bare == DW_IN && dw_length_is_exact(length, inches))
        return dw_length_show(arena, length, inches);
    /* a unit is 625 / 10^7 mm; lengths stay under 2 x 10^9 units */
    const char *millimeters = decimal(arena, length * 625, 7);
    return bare == DW_MILLIMETER ? millimeters : dw_arena_format(arena, "%s mm", millimeters);
}

const char *dwi_mass_exact(struct dw_arena *arena, dw_mass mass)
{
    return dw_arena_format(arena, "%s kg", decimal(arena, mass, 6));
}

const char *dwi_density_exact(struct dw_arena *arena, int64_t density)
{
    return dw_arena_format(arena, "%s kg/m3", decimal(arena, density, 3));
}

const char *dwi_percent_exact(struct dw_arena *arena, dw_ppm ppm)
{
    return dw_arena_format(arena, "%s %%", decimal(arena, ppm, 4));
}
