/* text.c - a growing text, and UTF-8 as far as columns and checks need it. */
#include <drawerwright/text.h>

#include <assert.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <drawerwright/memory.h>

static const char ELLIPSIS[] = "\xE2\x80\xA6";

struct dw_text dw_text_in(struct dw_arena *arena)
{
    return (struct dw_text){.arena = arena, .bytes = dw_arena_alloc(arena, 64, 1), .capacity = 64};
}

static void make_room(struct dw_text *text, size_t more)
{
    if (text->length + more < text->capacity)
        return;
    size_t wider = text->capacity * 2;
    while (wider <= text->length + more)
        wider *= 2;
    char *moved = dw_arena_alloc(text->arena, wider, 1);
    memcpy(moved, text->bytes, text->length + 1);
    text->bytes = moved;
    text->capacity = wider;
}

void dw_text_add_bytes(struct dw_text *text, const char *more, size_t length)
{
    make_room(text, length);
    memcpy(text->bytes + text->length, more, length);
    text->length += length;
    text->bytes[text->length] = '\0';
}

void dw_text_add(struct dw_text *text, const char *more)
{
    dw_text_add_bytes(text, more, strlen(more));
}

void dw_text_add_char(struct dw_text *text, char c)
{
    dw_text_add_bytes(text, &c, 1);
}

void dw_text_addv(struct dw_text *text, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    const int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    assert(length >= 0);
    make_room(text, (size_t)length);
    (void)vsnprintf(text->bytes + text->length, (size_t)length + 1, format, arguments);
    text->length += (size_t)length;
}

void dw_text_addf(struct dw_text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    dw_text_addv(text, format, arguments);
    va_end(arguments);
}

static bool is_continuation(char c)
{
    return ((unsigned char)c & 0xC0U) == 0x80U;
}

size_t dw_utf8_count(const char *text)
{
    size_t count = 0;
    for (; *text != '\0'; text++)
        if (!is_continuation(*text))
            count++;
    return count;
}

/* Bytes of the first `count` characters. */
static size_t bytes_of(const char *text, size_t count)
{
    size_t at = 0;
    for (; count > 0 && text[at] != '\0'; count--) {
        at++;
        while (is_continuation(text[at]))
            at++;
    }
    return at;
}

void dw_text_add_column(struct dw_text *text, const char *more, size_t columns, bool align_right)
{
    const size_t count = dw_utf8_count(more);
    if (count > columns) {
        dw_text_add_bytes(text, more, columns == 0 ? 0 : bytes_of(more, columns - 1));
        dw_text_add(text, columns == 0 ? "" : ELLIPSIS);
        return;
    }
    if (!align_right)
        dw_text_add(text, more);
    for (size_t i = count; i < columns; i++)
        dw_text_add_char(text, ' ');
    if (align_right)
        dw_text_add(text, more);
}

/* One code point at `at`; returns its bytes, 0 when it is not valid. */
static size_t decode(const unsigned char *at, size_t left, uint32_t *point)
{
    static const struct {
        unsigned char mask, lead;
        size_t bytes;
        uint32_t least;
    } forms[] = {{0x80, 0x00, 1, 0}, {0xE0, 0xC0, 2, 0x80}, {0xF0, 0xE0, 3, 0x800}, {0xF8, 0xF0, 4, 0x10000}};
    for (size_t f = 0; f < sizeof forms / sizeof *forms; f++) {
        if ((at[0] & forms[f].mask) != forms[f].lead)
            continue;
        if (forms[f].bytes > left)
            return 0;
        *point = (uint32_t)(at[0] & (unsigned char)~forms[f].mask);
        for (size_t i = 1; i < forms[f].bytes; i++) {
            if ((at[i] & 0xC0U) != 0x80U)
                return 0;
            *point = *point << 6 | (at[i] & 0x3FU);
        }
        return *point >= forms[f].least ? forms[f].bytes : 0;
    }
    return 0;
}

bool dw_utf8_is_clean(const char *text, size_t length)
{
    const unsigned char *bytes = (const unsigned char *)text;
    for (size_t at = 0; at < length;) {
        uint32_t point = 0;
        const size_t taken = decode(bytes + at, length - at, &point);
        const bool surrogate = point >= 0xD800 && point <= 0xDFFF;
        const bool control = point < 0x20 || (point >= 0x7F && point < 0xA0);
        if (taken == 0 || surrogate || control || point > 0x10FFFF)
            return false;
        at += taken;
    }
    return true;
}
