/* textfit.c - texts measured by the table of advance widths.
 *
 * A fraction is set as its upper figures raised, a slash, and its lower figures on the line, both at seven tenths of the size but
 * never under the smallest legible one. The same reader of runs serves measuring and every output, so that what is reckoned is
 * what is drawn. Kerning is off everywhere: widths simply add up.
 */
#include "textfit.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

static const char SLASH[] = "\xE2\x81\x84";    /* U+2044 */
static const char ELLIPSIS[] = "\xE2\x80\xA6"; /* U+2026 */
static const char NARROW[] = "\xE2\x80\xAF";   /* U+202F, a narrow space that no line is broken at */

/* Bytes of the character at `at`, which is clean UTF-8. */
static size_t character_at(const char *at, uint32_t *point)
{
    const unsigned char *bytes = (const unsigned char *)at;
    if (bytes[0] < 0x80) {
        *point = bytes[0];
        return 1;
    }
    const size_t count = bytes[0] >= 0xF0 ? 4 : bytes[0] >= 0xE0 ? 3 : 2;
    *point = bytes[0] & (0x7FU >> count);
    for (size_t i = 1; i < count; i++)
        *point = *point << 6 | (bytes[i] & 0x3FU);
    return count;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static size_t digits_at(const char *at)
{
    size_t count = 0;
    while (is_digit(at[count]))
        count++;
    return count;
}

/* At `at`, the first of some figures: do they lead a set fraction? */
static bool fraction_at(const char *at)
{
    const size_t upper = digits_at(at);
    return upper > 0 && strncmp(at + upper, SLASH, 3) == 0 && is_digit(at[upper + 3]);
}

static dw_dot width_of(const char *bytes, size_t length, dw_dot size, bool bold)
{
    int64_t sum = 0;
    uint32_t point = 0;
    for (size_t at = 0; at < length;) {
        at += character_at(bytes + at, &point);
        sum += dwi_advance(point, bold);
    }
    return (dw_dot)((sum * size + DWI_EM - 1) / DWI_EM);
}

static dw_dot small_size(dw_dot size)
{
    const dw_dot small = size * 7 / 10;
    return small < DWI_SMALLEST ? (size < DWI_SMALLEST ? size : DWI_SMALLEST) : small;
}

/* Bytes up to the next fraction or the end. */
static size_t plain_length(const char *text)
{
    size_t at = 0;
    while (text[at] != '\0' && !fraction_at(text + at))
        at += is_digit(text[at]) ? digits_at(text + at) : 1;
    return at;
}

bool dwi_next_run(struct dwi_runs *runs, struct dwi_run *run)
{
    if (runs->text[0] == '\0')
        return false;
    const dw_dot small = small_size(runs->size);
    *run = (struct dwi_run){.bytes = runs->text, .size = runs->size, .x = runs->x};
    if (runs->part == 0 && !fraction_at(runs->text)) {
        run->length = plain_length(runs->text);
    } else if (runs->part == 0) {
        run->length = digits_at(runs->text);
        run->size = small;
        run->rise = (runs->size - small) * DWI_CAP / 100 + runs->size / 24;
        runs->part = 1;
    } else if (runs->part == 1) {
        run->length = 3;
        runs->part = 2;
    } else {
        run->length = digits_at(runs->text);
        run->size = small;
        run->rise = -(runs->size / 24);
        runs->part = 0;
    }
    run->width = width_of(run->bytes, run->length, run->size, runs->bold);
    runs->x += run->width;
    runs->text += run->length;
    return true;
}

dw_dot dwi_text_width(const char *text, dw_dot size, bool bold)
{
    struct dwi_runs runs = {.text = text, .size = size, .bold = bold};
    struct dwi_run run;
    while (dwi_next_run(&runs, &run))
        ;
    return runs.x;
}

/* Bytes of "n/m" at `at` when it is an inch fraction standing free, else 0. `before` is the character in front. */
static size_t free_fraction(const char *at, char before)
{
    const size_t upper = digits_at(at);
    if (upper == 0 || upper > 3 || at[upper] != '/' || is_digit(before) || before == '/' || before == '.')
        return 0;
    const char *lower = at + upper + 1;
    const size_t count = digits_at(lower);
    int value = 0;
    for (size_t i = 0; i < count && i < 4; i++)
        value = value * 10 + (lower[i] - '0');
    const bool power = value >= 2 && value <= 128 && (value & (value - 1)) == 0;
    const bool goes_on = lower[count] == '/' || (lower[count] == '.' && is_digit(lower[count + 1]));
    return power && !goes_on ? upper + 1 + count : 0;
}

/* " x " between figures: by, or times. */
static bool times_at(const char *at)
{
    return strncmp(at, " x ", 3) == 0 && (is_digit(at[3]) || at[3] == '~');
}

/* A letter in front ("p1/2") makes it no fraction; a hyphen ("24-1/2") leaves it one. */
static bool stands_free(char before)
{
    return !((before >= 'a' && before <= 'z') || (before >= 'A' && before <= 'Z') || (unsigned char)before >= 0x80);
}

static const char *clean(struct dw_arena *arena, const char *text)
{
    if (dw_utf8_is_clean(text, strlen(text)))
        return text;
    char *copy = dw_arena_string(arena, text);
    for (char *at = copy; *at != '\0'; at++)
        if ((unsigned char)*at < 0x20 || (unsigned char)*at > 0x7E)
            *at = '?';
    return copy;
}

const char *dwi_typeset(struct dw_arena *arena, const char *text)
{
    text = clean(arena, text);
    if (strchr(text, '/') == NULL && strstr(text, " x ") == NULL)
        return text;
    struct dw_text out = dw_text_in(arena);
    char before = ' ';
    for (const char *at = text; *at != '\0';) {
        const size_t length = stands_free(before) ? free_fraction(at, before) : 0;
        if (is_digit(before) && at[0] == ' ' && free_fraction(at + 1, ' ') != 0) {
            dw_text_add(&out, NARROW);
        } else if (length != 0) {
            const size_t upper = digits_at(at);
            dw_text_add_bytes(&out, at, upper);
            dw_text_add(&out, SLASH);
            dw_text_add_bytes(&out, at + upper + 1, length - upper - 1);
        } else if (is_digit(before) && times_at(at)) {
            dw_text_add(&out, " \xC3\x97 ");
        } else {
            dw_text_add_char(&out, *at);
        }
        at += length != 0 ? length : is_digit(before) && times_at(at) ? 3 : 1;
        before = at[-1];
    }
    return out.bytes;
}

/* Does a cut at `at` fall inside a fraction? Then the place where the fraction begins, else `at`. */
static const char *before_fraction(const char *text, const char *at)
{
    const char *start = at;
    while (start > text && is_digit(start[-1]))
        start--;
    if (fraction_at(start))
        return start;
    if (start - text >= 3 && strncmp(start - 3, SLASH, 3) == 0) {
        start -= 3;
        while (start > text && is_digit(start[-1]))
            start--;
        return start;
    }
    return at;
}

const char *dwi_shorten(struct dw_arena *arena, const char *text, dw_dot size, bool bold, dw_dot most)
{
    if (dwi_text_width(text, size, bold) <= most)
        return text;
    const size_t length = strlen(text);
    char *copy = dw_arena_alloc(arena, length + sizeof ELLIPSIS, 1);
    for (size_t keep = length; keep > 0;) {
        keep--;
        while (keep > 0 && ((unsigned char)text[keep] & 0xC0U) == 0x80U)
            keep--;
        keep = (size_t)(before_fraction(text, text + keep) - text);
        while (keep > 0 && text[keep - 1] == ' ')
            keep--;
        memcpy(copy, text, keep);
        memcpy(copy + keep, ELLIPSIS, sizeof ELLIPSIS);
        if (dwi_text_width(copy, size, bold) <= most)
            return copy;
    }
    return "";
}

const char *dwi_shorten_path(struct dw_arena *arena, const char *path, dw_dot size, bool bold, dw_dot most)
{
    const char *fitting = path;
    for (const char *slash = strchr(path, '/'); slash != NULL && dwi_text_width(fitting, size, bold) > most; slash = strchr(slash + 1, '/'))
        fitting = dw_arena_format(arena, "%s%s", ELLIPSIS, slash);
    return dwi_shorten(arena, fitting, size, bold, most);
}

/* Width of the first `length` bytes. */
static dw_dot width_to(const char *text, size_t length, dw_dot size, bool bold)
{
    struct dwi_runs runs = {.text = text, .size = size, .bold = bold};
    struct dwi_run run;
    dw_dot width = 0;
    while (dwi_next_run(&runs, &run)) {
        const size_t from = (size_t)(run.bytes - text);
        if (from + run.length >= length)
            return width + width_of(run.bytes, length > from ? length - from : 0, run.size, bold);
        width = runs.x;
    }
    return width;
}

/* Bytes of the fraction at `at`. */
static size_t fraction_length(const char *at)
{
    const size_t upper = digits_at(at);
    return upper + 3 + digits_at(at + upper + 3);
}

static bool break_at(const char *at)
{
    return strncmp(at, DWI_BREAK, 3) == 0;
}

size_t dwi_first_line(const char *text, dw_dot size, bool bold, dw_dot most, const char **next)
{
    size_t best = 0;  /* up to a space */
    size_t inside = 0; /* up to any character */
    size_t at = 0;
    uint32_t point = 0;
    while (text[at] != '\0' && !break_at(text + at) && width_to(text, at + character_at(text + at, &point), size, bold) <= most) {
        if (text[at] == ' ')
            best = at;
        at += character_at(text + at, &point);
        inside = at;
    }
    if (text[at] == '\0' || text[at] == ' ' || break_at(text + at))
        best = at;
    if (best == 0)
        best = (size_t)(before_fraction(text, text + inside) - text);
    if (best == 0)
        best = fraction_at(text) ? fraction_length(text) : character_at(text, &point);
    *next = text + best;
    while (**next == ' ')
        (*next)++;
    if (break_at(*next))
        *next += 3;
    return best;
}

struct dwi_area dwi_text_area(const struct dw_shape *text)
{
    const dw_dot back = text->anchor == DW_ANCHOR_START ? 0 : text->anchor == DW_ANCHOR_END ? text->width : text->width / 2;
    const dw_dot up = text->size * DWI_ASCENT / 100;
    const dw_dot down = text->size * DWI_DESCENT / 100;
    if (text->quarter_turns == 0)
        return (struct dwi_area){text->x - back, text->y - up, text->x - back + text->width, text->y + down};
    return (struct dwi_area){text->x - up, text->y + back - text->width, text->x + down, text->y + back};
}

bool dwi_areas_meet(struct dwi_area a, struct dwi_area b)
{
    return a.x < b.x2 && b.x < a.x2 && a.y < b.y2 && b.y < a.y2;
}
