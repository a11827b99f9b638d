/* text.h - a growing text and the few questions asked of UTF-8. */
#ifndef DRAWERWRIGHT_TEXT_H
#define DRAWERWRIGHT_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

struct dw_arena;

/* A text that grows in an arena; always ended by a NUL that does not count. Start with dw_text_in. */
struct dw_text {
    struct dw_arena *arena;
    char *bytes;     /* never NULL after dw_text_in */
    size_t length;   /* without the NUL */
    size_t capacity;
};

/* Only inside a guard of `arena`, like all of these that grow. */
struct dw_text dw_text_in(struct dw_arena *arena);
void dw_text_add(struct dw_text *text, const char *more);
void dw_text_add_bytes(struct dw_text *text, const char *more, size_t length);
void dw_text_add_char(struct dw_text *text, char c);
void dw_text_addf(struct dw_text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
void dw_text_addv(struct dw_text *text, const char *format, va_list arguments) __attribute__((format(printf, 2, 0)));

/* Adds `more` cut or padded with spaces to `columns` characters (not bytes); a cut one ends in an ellipsis.
 * align_right puts the padding first. */
void dw_text_add_column(struct dw_text *text, const char *more, size_t columns, bool align_right);

/* Characters of a valid UTF-8 text (code points). */
size_t dw_utf8_count(const char *text);

/* True when `text` is valid UTF-8 (no surrogates, no overlong forms) without control characters. */
bool dw_utf8_is_clean(const char *text, size_t length);

#endif
