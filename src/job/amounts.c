/* amounts.c - masses, pressures, densities and percents as makers write them: a decimal number and a unit.
 *
 * The number is read as whole digits over a power of ten; the unit is a ratio of whole numbers of the type's unit. Their
 * product is rounded once, to the nearest, halves up (no pound is a whole number of milligrams).
 */
#include <drawerwright/keys.h>

#include <string.h>

__extension__ typedef __int128 wide;

struct measure {
    const char *mark;
    int64_t numerator, denominator; /* of one such unit, in units of the type */
};

/* A number such as 12.5 as digits / power; false when there is none. digits < 10^12, power <= 10^9. */
static bool read_decimal(const char **at, int64_t *digits, int64_t *power)
{
    enum { WHOLE_MOST = 12, BEHIND_MOST = 9 };
    int seen = 0;
    int behind = -1;
    *digits = 0;
    *power = 1;
    for (;; (*at)++) {
        if ((**at == '.' || **at == ',') && behind < 0 && seen > 0) {
            behind = 0;
            continue;
        }
        if (**at < '0' || **at > '9')
            return seen > 0 && behind != 0;
        if (++seen > WHOLE_MOST || behind == BEHIND_MOST)
            return false;
        *digits = *digits * 10 + (**at - '0');
        if (behind >= 0) {
            behind++;
            *power *= 10;
        }
    }
}

/* `measures` ends with a NULL mark; a bare number is in the first one that has an empty mark. */
static bool parse_amount(const char *text, const struct measure *measures, int64_t *amount)
{
    int64_t digits = 0;
    int64_t power = 1;
    while (*text == ' ')
        text++;
    if (!read_decimal(&text, &digits, &power))
        return false;
    while (*text == ' ')
        text++;
    for (; measures->mark != NULL; measures++) {
        if (strcmp(text, measures->mark) != 0)
            continue;
        const wide top = (wide)digits * measures->numerator;
        const wide under = (wide)power * measures->denominator;
        const wide rounded = (top * 2 + under) / (under * 2);
        if (rounded > INT64_C(1000000000000000))
            return false;
        *amount = (int64_t)rounded;
        return true;
    }
    return false;
}

static bool parse_or_say(const char *text, const struct measure *measures, int64_t *amount, const char **why, const char *expected)
{
    const bool read = parse_amount(text, measures, amount);
    if (!read && why != NULL)
        *why = expected;
    return read;
}

/* 1 lb = 0.45359237 kg exactly, 1 in = 25.4 mm exactly, standard gravity 9.80665 m/s2 exactly (NIST SP 811). */
bool dw_mass_parse(const char *text, dw_mass *mass, const char **why)
{
    static const struct measure measures[] = {
        {"kg", 1000000, 1}, {"g", 1000, 1}, {"lb", 45359237, 100}, {"lbs", 45359237, 100}, {NULL, 0, 1}};
    return parse_or_say(text, measures, mass, why, "expected a weight with its unit, such as 45 kg or 100 lb");
}

bool dw_pressure_parse(const char *text, dw_pressure *pressure, const char **why)
{
    static const struct measure measures[] = {
        {"Pa", 1, 1},
        {"kPa", 1000, 1},
        {"MPa", 1000000, 1},
        {"N/mm2", 1000000, 1},
        {"GPa", 1000000000, 1},
        {"psi", INT64_C(6894757293168), 1000000000},
        {"lb/in2", INT64_C(6894757293168), 1000000000},
        {"lb/ft2", INT64_C(47880258980), 1000000000},
        {"lb/ft\xC2\xB2", INT64_C(47880258980), 1000000000},
        {"psf", INT64_C(47880258980), 1000000000},
        {NULL, 0, 1},
    };
    return parse_or_say(text, measures, pressure, why, "expected a pressure with its unit, such as 15 lb/ft2, 1240000 psi or 8 GPa");
}

bool dw_density_parse(const char *text, int64_t *density, const char **why)
{
    static const struct measure measures[] = {
        {"kg/m3", 1000, 1},
        {"kg/m\xC2\xB3", 1000, 1},
        {"g/cm3", 1000000, 1},
        {"lb/ft3", INT64_C(16018463374), 1000000},
        {NULL, 0, 1},
    };
    return parse_or_say(text, measures, density, why, "expected a density with its unit, such as 680 kg/m3 or 42 lb/ft3");
}

bool dw_percent_parse(const char *text, dw_ppm *ppm, const char **why)
{
    static const struct measure measures[] = {{"%", 10000, 1}, {"", 10000, 1}, {NULL, 0, 1}};
    return parse_or_say(text, measures, ppm, why, "expected a percentage such as 8.25 %");
}
