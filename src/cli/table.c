/* table.c - columns of text as wide as they need, and words wrapped to a line. */
#include "cli.h"

#include <ctype.h>
#include <string.h>

#include <drawerwright/memory.h>

enum { LINE = 96 };

struct cli_table cli_table_in(struct dw_arena *arena, size_t columns, const char *const *titles, const char *alignment)
{
    return (struct cli_table){.arena = arena, .columns = columns, .titles = titles, .alignment = alignment};
}

void cli_table_add(struct cli_table *table, const char *cell)
{
    table->cells = dw_arena_grow(table->arena, table->cells, table->cell_count, &table->capacity, sizeof *table->cells);
    table->cells[table->cell_count++] = cell;
}

static size_t width_of(const struct cli_table *table, size_t column)
{
    size_t width = table->titles == NULL ? 0 : dw_utf8_count(table->titles[column]);
    for (size_t i = column; i < table->cell_count; i += table->columns)
        if (dw_utf8_count(table->cells[i]) > width)
            width = dw_utf8_count(table->cells[i]);
    return width;
}

/* A row without blanks at its end. */
static void print_row(const struct cli_table *table, const char *const *cells, const size_t *widths, const char *indent, struct dw_text *to)
{
    dw_text_add(to, indent);
    for (size_t c = 0; c < table->columns; c++) {
        if (c > 0)
            dw_text_add(to, "  ");
        dw_text_add_column(to, cells[c], widths[c], table->alignment[c] == 'r');
    }
    while (to->length > 0 && to->bytes[to->length - 1] == ' ')
        to->bytes[--to->length] = '\0';
    dw_text_add_char(to, '\n');
}

void cli_table_print(const struct cli_table *table, const char *indent, struct dw_text *to)
{
    size_t widths[CLI_MOST_COLUMNS];
    for (size_t c = 0; c < table->columns; c++)
        widths[c] = width_of(table, c);
    if (table->titles != NULL)
        print_row(table, table->titles, widths, indent, to);
    for (size_t i = 0; i + table->columns <= table->cell_count; i += table->columns)
        print_row(table, table->cells + i, widths, indent, to);
}

/* Bytes of the word that `words` begins with. A whole number and the fraction behind it, "39 1/4", are one: torn apart it reads as 39. */
static size_t word_length(const char *words)
{
    const size_t length = strcspn(words, " ");
    const bool whole = length > 0 && isdigit((unsigned char)words[length - 1]) && memchr(words, '/', length) == NULL;
    if (!whole || words[length] == '\0')
        return length;
    const char *next = words + length + 1;
    const size_t numerator = strspn(next, "0123456789");
    const bool fraction = numerator > 0 && next[numerator] == '/' && isdigit((unsigned char)next[numerator + 1]);
    return fraction ? length + 1 + strcspn(next, " ") : length;
}

void cli_wrap(struct dw_text *to, const char *first, const char *rest, const char *words)
{
    dw_text_add(to, first);
    size_t column = dw_utf8_count(first);
    bool line_is_fresh = true;
    while (*words != '\0') {
        const size_t length = word_length(words);
        const char *word = dw_arena_slice(to->arena, words, length);
        const size_t width = dw_utf8_count(word);
        if (!line_is_fresh && column + 1 + width > LINE) {
            dw_text_addf(to, "\n%s", rest);
            column = dw_utf8_count(rest);
            line_is_fresh = true;
        }
        if (!line_is_fresh) {
            dw_text_add_char(to, ' ');
            column++;
        }
        dw_text_add(to, word);
        column += width;
        line_is_fresh = false;
        words += length;
        words += strspn(words, " ");
    }
    dw_text_add_char(to, '\n');
}
