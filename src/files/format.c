/* format.c - see format.h. */
#include "format.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/fault.h>

#include "tree.h"

enum { PLACE_ROOM = 512 };

bool dwi_format_is_known(const struct dwi_tree *top, int64_t known, const char *what, const char *file, struct dw_faults *faults)
{
    char place[PLACE_ROOM];
    const struct dwi_tree *format = top->kind == DWI_OBJECT ? dwi_tree_find(top, "format") : NULL;
    if (format == NULL || format->kind != DWI_NUMBER || format->text[strspn(format->text, "0123456789")] != '\0')
        return true; /* what is no whole number is told by who reads the rest */
    if (strtoll(format->text, NULL, 10) <= known)
        return true;
    (void)snprintf(place, sizeof place, "%s%sformat", file, file[0] == '\0' ? "" : ": ");
    dw_error(faults, DW_INPUT, "newer-format", place, "this %s is of format %s, and drawerwright %s knows formats up to %lld only\n"
             "the newer drawerwright that wrote it, or the %s written anew in format %lld", what, format->text, DW_VERSION, (long long)known,
             what, (long long)known);
    return false;
}
