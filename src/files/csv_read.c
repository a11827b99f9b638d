/* csv_read.c - a bare list of parts from CSV (RFC 4180: quoted fields, doubled quotes, line breaks within them; CRLF or LF).
 *
 * The rows become the objects that a job's "parts" would hold, so the reader of jobs does the rest: one meaning, one set of checks. A
 * sheet saved where the comma is the decimal sign has semicolons or tabs between its fields; the first line tells.
 */
#include "csv_read.h"

#include <string.h>

#include <drawerwright/fault.h>
#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

enum { COLUMNS_MOST = 32 };

/* The first ones are needed, and the last ones, which our own list of parts has, say nothing of a part that it does not know. */
static const char *const known[] = {"name", "material", "length", "width", "count", "grain", "group", "units", "job", "thickness", "marks"};
enum { KNOWN = sizeof known / sizeof *known, NEEDED = 4, TOLD = 7, UNITS = 7 };

struct csv {
    struct dw_arena *arena;
    struct dw_faults *faults;
    const char *what; /* the file */
    const char *at, *end;
    char separator;
    long line;      /* of `at`, from 1 */
    bool broken;
};

static void complain(struct csv *csv, long line, const char *wrong, const char *cure)
{
    dw_error(csv->faults, DW_INPUT, "not-csv", csv->what, "line %ld: %s\n%s", line, wrong, cure);
    csv->broken = true;
}

static bool ends_field(const struct csv *csv)
{
    return csv->at >= csv->end || *csv->at == csv->separator || *csv->at == '\n' || *csv->at == '\r';
}

static void read_quoted(struct csv *csv, struct dw_text *field)
{
    const long line = csv->line;
    for (csv->at++; csv->at < csv->end; csv->at++) {
        if (*csv->at == '"' && (csv->at + 1 >= csv->end || csv->at[1] != '"')) {
            csv->at++;
            if (!ends_field(csv))
                complain(csv, csv->line, "something stands behind a closing quote", "a quote inside a quoted field is doubled");
            return;
        }
        if (*csv->at == '"')
            csv->at++;
        if (*csv->at == '\n')
            csv->line++;
        dw_text_add_char(field, *csv->at);
    }
    complain(csv, line, "a quoted field has no end", "a quote at its end");
}

/* A field without the spaces round it. Inches are often written with their mark (24-1/2"), so a quote that does not open a field
 * is a character like any other. */
static const char *read_field(struct csv *csv)
{
    struct dw_text field = dw_text_in(csv->arena);
    while (!ends_field(csv) && *csv->at == ' ')
        csv->at++;
    if (!ends_field(csv) && *csv->at == '"')
        read_quoted(csv, &field);
    while (!ends_field(csv))
        dw_text_add_char(&field, *csv->at++);
    while (field.length > 0 && field.bytes[field.length - 1] == ' ')
        field.bytes[--field.length] = '\0';
    return field.bytes;
}

/* The fields of a line; their number. */
static size_t read_row(struct csv *csv, const char **fields)
{
    const long line = csv->line;
    size_t count = 0;
    for (;;) {
        const char *field = read_field(csv);
        if (count == COLUMNS_MOST) {
            complain(csv, line, "too many fields", "at most 32 columns");
            return count;
        }
        fields[count++] = field;
        if (csv->at >= csv->end || *csv->at != csv->separator)
            break;
        csv->at++;
    }
    if (csv->at < csv->end && *csv->at == '\r')
        csv->at++;
    if (csv->at < csv->end && *csv->at == '\n')
        csv->at++;
    csv->line++;
    return count;
}

static char find_separator(const char *text, const char *end)
{
    for (; text < end && *text != '\n'; text++)
        if (*text == ',' || *text == ';' || *text == '\t')
            return *text;
    return ',';
}

static bool is_blank(const char *const *fields, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (fields[i][0] != '\0')
            return false;
    return true;
}

/* Each column is a key that is known, none twice, and those that a part needs are there. */
static void check_header(struct csv *csv, const char *const *columns, size_t count)
{
    bool seen[KNOWN] = {false};
    for (size_t c = 0; c < count; c++) {
        size_t k = 0;
        while (k < KNOWN && strcmp(columns[c], known[k]) != 0)
            k++;
        if (k == KNOWN)
            complain(csv, 1, dw_arena_format(csv->arena, "there is no column \"%s\"", columns[c]),
                     "columns out of name, material, length, width, count, grain, group, units");
        else if (seen[k])
            complain(csv, 1, dw_arena_format(csv->arena, "the column \"%s\" stands twice", columns[c]), "one of the two");
        else
            seen[k] = true;
    }
    for (size_t k = 0; k < NEEDED; k++)
        if (!seen[k])
            complain(csv, 1, dw_arena_format(csv->arena, "the column \"%s\" is missing", known[k]),
                     "a first line such as name,material,length,width,count,grain");
}

/* A bare length in a row that names its units gets them: "24 1/2" in a row of "in" is "24 1/2 in". */
static const char *with_units(struct csv *csv, const char *column, const char *field, const char *units)
{
    const bool length = strcmp(column, "length") == 0 || strcmp(column, "width") == 0;
    const char last = field[strlen(field) - 1];
    return length && units[0] != '\0' && last >= '0' && last <= '9' ? dw_arena_format(csv->arena, "%s %s", field, units) : field;
}

static bool is_told(const char *column)
{
    for (size_t k = 0; k < TOLD; k++)
        if (strcmp(column, known[k]) == 0)
            return true;
    return false;
}

static struct dwi_tree *row_object(struct csv *csv, const char *const *columns, const char *const *fields, size_t count)
{
    struct dwi_tree *row = dw_arena_alloc(csv->arena, 1, sizeof *row);
    struct dwi_tree **link = &row->first;
    const char *units = "";
    for (size_t c = 0; c < count; c++)
        if (strcmp(columns[c], known[UNITS]) == 0)
            units = fields[c];
    row->kind = DWI_OBJECT;
    for (size_t c = 0; c < count; c++) {
        if (fields[c][0] == '\0' || !is_told(columns[c])) /* an empty field says nothing */
            continue;
        struct dwi_tree *value = dw_arena_alloc(csv->arena, 1, sizeof *value);
        const bool number = strcmp(columns[c], "count") == 0; /* what is none is refused as any other number that cannot be read */
        *value = (struct dwi_tree){
            .kind = number ? DWI_NUMBER : DWI_STRING, .key = columns[c], .text = with_units(csv, columns[c], fields[c], units)};
        *link = value;
        link = &value->next;
    }
    return row;
}

static void read_rows(struct csv *csv, const char *const *columns, size_t column_count, struct dwi_tree *parts)
{
    struct dwi_tree **link = &parts->first;
    while (csv->at < csv->end && !csv->broken) {
        const char *fields[COLUMNS_MOST];
        const long line = csv->line;
        const size_t count = read_row(csv, fields);
        if (is_blank(fields, count))
            continue;
        if (!csv->broken && count != column_count)
            complain(csv, line, dw_arena_format(csv->arena, "it has %zu fields, the first line %zu", count, column_count),
                     "as many fields as there are columns");
        if (csv->broken)
            return;
        *link = row_object(csv, columns, fields, count);
        link = &(*link)->next;
    }
}

/* UTF-8 without control characters but tabs and line ends. */
static bool is_clean(const char *text, size_t length)
{
    size_t start = 0;
    for (size_t at = 0; at <= length; at++) {
        if (at < length && text[at] != '\n' && text[at] != '\r' && text[at] != '\t')
            continue;
        if (!dw_utf8_is_clean(text + start, at - start))
            return false;
        start = at + 1;
    }
    return true;
}

struct dwi_tree *dwi_csv_parts(const char *text, size_t length, const char *what, struct dw_arena *arena, struct dw_faults *faults)
{
    const char *columns[COLUMNS_MOST];
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        length -= 3;
    }
    struct csv csv = {.arena = arena, .faults = faults, .what = what, .at = text, .end = text + length, .separator = find_separator(text, text + length), .line = 1};
    if (length > DW_FILE_MOST || !is_clean(text, length)) {
        complain(&csv, 1, "the list is no text in UTF-8 of at most 4 MiB", "a list saved as CSV in UTF-8");
        return NULL;
    }
    if (strspn(text, " \t\r\n") == length) {
        complain(&csv, 1, "the list is empty", "a first line such as name,material,length,width,count,grain, and a line for each part");
        return NULL;
    }
    struct dwi_tree *parts = dw_arena_alloc(arena, 1, sizeof *parts);
    parts->kind = DWI_ARRAY;
    const size_t count = read_row(&csv, columns);
    if (!csv.broken)
        check_header(&csv, columns, count);
    if (!csv.broken)
        read_rows(&csv, columns, count, parts);
    return csv.broken ? NULL : parts;
}
