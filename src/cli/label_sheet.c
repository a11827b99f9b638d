/* label_sheet.c - the sizes of a sheet of adhesive labels, as --label-sheet gives them: six lengths and two numbers between commas. */
#include "cli.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

enum { LENGTHS = 6, FIELDS = 8, MOST = 100 };

static bool read_count(const char *text, int *count)
{
    char *end = NULL;
    const long number = strtol(text, &end, 10);
    *count = (int)number;
    return end != text && *end == '\0' && number >= 1 && number <= MOST;
}

/* One field into its place. */
static bool read_field(const char *text, enum dw_unit unit, size_t field, struct dw_label_sheet *sheet)
{
    dw_length *const lengths[LENGTHS] = {&sheet->left, &sheet->top, &sheet->width, &sheet->height, &sheet->across, &sheet->down};
    const char *why = NULL;
    if (field < LENGTHS)
        return dw_length_parse(text, unit, lengths[field], &why);
    return read_count(text, field == LENGTHS ? &sheet->columns : &sheet->rows);
}

bool cli_label_sheet(struct dw_arena *arena, const char *text, enum dw_unit unit, struct dw_faults *faults, struct dw_label_sheet *sheet)
{
    *sheet = (struct dw_label_sheet){.columns = 0};
    if (text == NULL)
        return true;
    size_t field = 0;
    const char *at = text;
    bool sound = true;
    while (sound && field < FIELDS) {
        const size_t length = strcspn(at, ",");
        sound = read_field(dw_arena_slice(arena, at, length), unit, field++, sheet);
        at += length;
        if (*at == '\0')
            break;
        at++;
    }
    if (sound && field == FIELDS && *at == '\0')
        return true;
    dw_error(faults, DW_INPUT, "bad-labels", "--label-sheet",
             "\"%s\" is no sheet of labels\nleft, top, width, height, across, down (from one label to the next), columns, rows: "
             "3/16,1/2,2 5/8,1,2 3/4,1,3,10 (decimals with a point)",
             text);
    return false;
}
