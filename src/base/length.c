/* length.c - reading and showing lengths exactly.
 *
 * Reading goes in two steps. First the text is brought to plain ASCII: a built fraction becomes " 1/2", primes
 * and curly quotes become ' and ", dashes become -. Then one pass reads
 *     [-] [feet '] [whole] [[ -] numerator/denominator | .decimals] [unit]
 * as whole numbers over a denominator, which must come out as a whole number of units. Nothing is rounded.
 */
#include <drawerwright/length.h>

#include <assert.h>
#include <stddef.h>
#include <string.h>

#include <drawerwright/memory.h>

static const char EXPECTED[] = "expected a length such as 24 1/2, 24.5 in, 2' 0-1/2\" or 622 mm";
static const char NOT_EXACT[] = "expected a length that is exact: fractions of an inch down to 1/128, or decimals that come out whole";
static const char TOO_LONG[] = "expected a length under 100 m";
static const char COMMA[] = "expected a point before three decimals: 1,500 may mean 1500 as well as 1.5";
static const char IMPROPER[] = "expected a fraction under 1 behind a whole number";
static const char NO_ZERO[] = "expected a fraction whose lower number is not 0";

enum { PLAIN_ROOM = 96 };

struct replacement {
    const char *from;
    const char *to;
};

static const struct replacement replacements[] = {
    {"\xC2\xBD", " 1/2"},     {"\xC2\xBC", " 1/4"},     {"\xC2\xBE", " 3/4"},     {"\xE2\x85\x9B", " 1/8"},
    {"\xE2\x85\x9C", " 3/8"}, {"\xE2\x85\x9D", " 5/8"}, {"\xE2\x85\x9E", " 7/8"}, {"\xE2\x81\x84", "/"},
    {"\xE2\x80\xB2", "'"},    {"\xE2\x80\xB3", "\""},   {"\xE2\x80\x99", "'"},    {"\xE2\x80\x9D", "\""},
    {"\xE2\x80\x93", "-"},    {"\xE2\x88\x92", "-"},    {"\xC2\xA0", " "},        {"\xE2\x80\xAF", " "},
    {"''", "\""},
};

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* Copies text into plain[PLAIN_ROOM] with the replacements made, in lower case; false when it is too long or not plain then. */
static bool make_plain(const char *text, char *plain)
{
    size_t used = 0;
    while (*text != '\0') {
        const char *piece = text;
        size_t taken = 1;
        size_t length = 1;
        for (size_t i = 0; i < sizeof replacements / sizeof *replacements; i++) {
            const size_t from = strlen(replacements[i].from);
            if (strncmp(text, replacements[i].from, from) == 0) {
                piece = replacements[i].to;
                taken = from;
                length = strlen(piece);
            }
        }
        if (used + length >= PLAIN_ROOM || (unsigned char)piece[0] > 0x7E)
            return false;
        for (size_t i = 0; i < length; i++)
            plain[used++] = lower(piece[i]);
        text += taken;
    }
    plain[used] = '\0';
    return true;
}

static const char *skip_spaces(const char *at)
{
    while (*at == ' ' || *at == '\t')
        at++;
    return at;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* A number being read: (whole x denominator + numerator) / denominator. Bounds: whole <= 10^9,
 * denominator <= 10^9, so nothing here passes 2^63. */
struct number {
    int64_t whole, numerator, denominator;
    bool has_fraction; /* written with a slash */
    bool mixed;        /* a fraction behind a whole number */
    bool grouped;      /* a comma with three digits behind it */
};

/* Reads up to nine digits; false when there are none or more. */
static bool read_digits(const char **at, int64_t *value, int *digits)
{
    *value = 0;
    *digits = 0;
    for (; is_digit(**at); (*at)++) {
        if (++*digits > 9)
            return false;
        *value = *value * 10 + (**at - '0');
    }
    return *digits > 0;
}

static bool read_decimals(const char **at, struct number *number)
{
    int digits = 0;
    const bool comma = *(*at)++ == ',';
    if (!read_digits(at, &number->numerator, &digits))
        return false;
    number->grouped = comma && digits == 3;
    number->denominator = 1;
    while (digits-- > 0)
        number->denominator *= 10;
    return true;
}

/* After a whole number: " 1/2", "-1/2" (but not " - 1/2", which looks like a subtraction). Leaves *at alone when no fraction follows. */
static bool read_fraction_behind(const char **at, struct number *number)
{
    const char *ahead = **at == '-' ? *at + 1 : skip_spaces(*at);
    if (!is_digit(*ahead))
        return true;
    int digits = 0;
    if (!read_digits(&ahead, &number->numerator, &digits) || *ahead++ != '/' ||
        !read_digits(&ahead, &number->denominator, &digits))
        return false;
    number->has_fraction = true;
    number->mixed = true;
    *at = ahead;
    return true;
}

static bool read_number(const char **at, struct number *number)
{
    int digits = 0;
    *number = (struct number){.denominator = 1};
    if (**at == '.' && is_digit((*at)[1]))
        return read_decimals(at, number);
    if (!read_digits(at, &number->whole, &digits))
        return false;
    if (**at == '.' || **at == ',')
        return read_decimals(at, number);
    if (**at == '/') {
        (*at)++;
        number->numerator = number->whole;
        number->whole = 0;
        number->has_fraction = true;
        return read_digits(at, &number->denominator, &digits);
    }
    return read_fraction_behind(at, number);
}

struct unit_mark {
    const char *mark;
    dw_length size;
    bool inches;
};

static const struct unit_mark unit_marks[] = {
    {"inches", DW_INCH, true}, {"inch", DW_INCH, true}, {"in.", DW_INCH, true},    {"in", DW_INCH, true},
    {"\"", DW_INCH, true},     {"mm", DW_MM, false},    {"cm", 10 * DW_MM, false}, {"m", 1000 * DW_MM, false},
    {"feet", 12 * DW_INCH, true}, {"foot", 12 * DW_INCH, true}, {"ft", 12 * DW_INCH, true}, {"'", 12 * DW_INCH, true},
};

static const struct unit_mark *read_unit(const char **at)
{
    for (size_t i = 0; i < sizeof unit_marks / sizeof *unit_marks; i++) {
        const size_t length = strlen(unit_marks[i].mark);
        if (strncmp(*at, unit_marks[i].mark, length) == 0) {
            *at += length;
            return &unit_marks[i];
        }
    }
    return NULL;
}

/* number x size as whole units; false with *why when it is not one. */
static bool to_units(const struct number *number, dw_length size, bool inches, dw_length *length, const char **why)
{
    if (number->denominator == 0 || number->grouped || (number->mixed && number->numerator >= number->denominator)) {
        *why = number->denominator == 0 ? NO_ZERO : number->grouped ? COMMA : IMPROPER;
        return false;
    }
    if (number->whole > DW_LENGTH_MAX / size || number->numerator / number->denominator > DW_LENGTH_MAX / size) {
        *why = TOO_LONG;
        return false;
    }
    if (number->has_fraction && inches && number->denominator > 128) {
        *why = NOT_EXACT;
        return false;
    }
    /* numerator <= 10^9 and size <= 12 x 406 400 or 1.6e7: the product stays under 2^54 */
    const int64_t part = number->numerator * size;
    if (part % number->denominator != 0) {
        *why = NOT_EXACT;
        return false;
    }
    *length = number->whole * size + part / number->denominator;
    return true;
}

/* After "2'": the inches, if any. */
static bool read_inches_behind_feet(const char **at, dw_length *length, const char **why)
{
    const char *ahead = skip_spaces(*at);
    if (*ahead == '-')
        ahead = skip_spaces(ahead + 1);
    if (*ahead == '\0')
        return *skip_spaces(*at) == '\0';
    struct number number;
    dw_length inches = 0;
    if (!read_number(&ahead, &number) || !to_units(&number, DW_INCH, true, &inches, why))
        return false;
    ahead = skip_spaces(ahead);
    const struct unit_mark *unit = read_unit(&ahead);
    if (unit != NULL && unit->size != DW_INCH)
        return false;
    *length += inches;
    *at = ahead;
    return true;
}

static bool read_length(const char *at, enum dw_unit bare, dw_length *length, const char **why)
{
    at = skip_spaces(at);
    const bool negative = *at == '-';
    at += negative ? 1 : 0;
    struct number number;
    if (!read_number(&at, &number))
        return false;
    at = skip_spaces(at);
    const struct unit_mark *unit = read_unit(&at);
    const dw_length size = unit != NULL ? unit->size : bare == DW_IN ? DW_INCH : DW_MM;
    const bool inches = unit != NULL ? unit->inches : bare == DW_IN;
    if (!to_units(&number, size, inches, length, why))
        return false;
    if (size == 12 * DW_INCH && !read_inches_behind_feet(&at, length, why))
        return false;
    if (*skip_spaces(at) != '\0')
        return false;
    if (*length > DW_LENGTH_MAX) {
        *why = TOO_LONG;
        return false;
    }
    if (negative)
        *length = -*length;
    return true;
}

bool dw_length_parse(const char *text, enum dw_unit bare, dw_length *length, const char **why)
{
    const char *reason = EXPECTED;
    char plain[PLAIN_ROOM];
    dw_length value = 0;
    const bool read = make_plain(text, plain) && read_length(plain, bare, &value, &reason);
    if (read)
        *length = value;
    if (why != NULL)
        *why = reason;
    return read;
}

static int64_t decimal_power(int digits)
{
    int64_t power = 1;
    while (digits-- > 0)
        power *= 10;
    return power;
}

/* The grid that a style can show exactly, in units. */
static dw_length grain_of(struct dw_length_style style)
{
    if (style.unit == DW_IN)
        return DW_INCH / (style.denominator == 0 ? 64 : style.denominator);
    return DW_MM / decimal_power(style.decimals < 0 ? 2 : style.decimals);
}

bool dw_length_is_exact(dw_length length, struct dw_length_style style)
{
    return length % grain_of(style) == 0;
}

static const char *show_inches(struct dw_arena *arena, const char *sign, dw_length size, dw_length grain)
{
    int64_t top = size % DW_INCH / grain;
    int64_t bottom = DW_INCH / grain;
    const int64_t whole = size / DW_INCH;
    while (top != 0 && top % 2 == 0 && bottom % 2 == 0) {
        top /= 2;
        bottom /= 2;
    }
    if (top == 0)
        return dw_arena_format(arena, "%s%lld", sign, (long long)whole);
    if (whole == 0)
        return dw_arena_format(arena, "%s%lld/%lld", sign, (long long)top, (long long)bottom);
    return dw_arena_format(arena, "%s%lld %lld/%lld", sign, (long long)whole, (long long)top, (long long)bottom);
}

static const char *show_millimeters(struct dw_arena *arena, const char *sign, dw_length size, int decimals)
{
    int digits = decimals < 0 ? 2 : decimals;
    int64_t behind = size % DW_MM / (DW_MM / decimal_power(digits));
    while (decimals < 0 && digits > 0 && behind % 10 == 0) {
        behind /= 10;
        digits--;
    }
    if (digits == 0)
        return dw_arena_format(arena, "%s%lld", sign, (long long)(size / DW_MM));
    return dw_arena_format(arena, "%s%lld.%0*lld", sign, (long long)(size / DW_MM), digits, (long long)behind);
}

const char *dw_length_show(struct dw_arena *arena, dw_length length, struct dw_length_style style)
{
    const dw_length grain = grain_of(style);
    const dw_length shown = dw_round_near(length, grain);
    const char *sign = shown == length ? "" : "~";
    if (shown < 0)
        sign = shown == length ? "-" : "~-";
    const dw_length size = shown < 0 ? -shown : shown;
    if (style.unit == DW_IN)
        return show_inches(arena, sign, size, grain);
    return show_millimeters(arena, sign, size, style.decimals);
}

const char *dw_length_show_unit(struct dw_arena *arena, dw_length length, struct dw_length_style style)
{
    return dw_arena_format(arena, "%s %s", dw_length_show(arena, length, style), dw_unit_word(style.unit));
}

const char *dw_length_show_as_sold(struct dw_arena *arena, dw_length length, struct dw_length_style style)
{
    const struct dw_length_style other = {.unit = style.unit == DW_IN ? DW_MILLIMETER : DW_IN, .decimals = 1};
    if (!dw_length_is_exact(length, style) && dw_length_is_exact(length, other)) {
        const struct dw_length_style short_form = {.unit = other.unit, .decimals = -1};
        return dw_length_show_unit(arena, length, short_form);
    }
    return dw_length_show(arena, length, style);
}

const char *dw_unit_word(enum dw_unit unit)
{
    return unit == DW_IN ? "in" : "mm";
}

dw_length dw_round_down(dw_length length, dw_length step)
{
    assert(step > 0);
    const dw_length over = length % step;
    return length - over - (over < 0 ? step : 0);
}

dw_length dw_round_up(dw_length length, dw_length step)
{
    return -dw_round_down(-length, step);
}

dw_length dw_round_near(dw_length length, dw_length step)
{
    if (length < 0)
        return -dw_round_near(-length, step);
    return dw_round_down(length + step / 2, step);
}

void dw_length_share(dw_length whole, int count, dw_length *shares)
{
    assert(whole >= 0 && count > 0);
    const dw_length each = whole / count;
    const dw_length odd = whole % count;
    for (int i = 0; i < count; i++)
        shares[i] = each + (i >= count - odd ? 1 : 0);
}
