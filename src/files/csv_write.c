/* csv_write.c - one field of CSV (RFC 4180): quoted where it must be, quotes doubled, lines ended by CR LF. */
#include "csv_write.h"

#include <string.h>

void dwi_csv_field(struct dw_text *out, const char *field, bool last)
{
    if (strpbrk(field, ",\"\r\n") == NULL) {
        dw_text_add(out, field);
    } else {
        dw_text_add_char(out, '"');
        for (; *field != '\0'; field++) {
            if (*field == '"')
                dw_text_add_char(out, '"');
            dw_text_add_char(out, *field);
        }
        dw_text_add_char(out, '"');
    }
    dw_text_add(out, last ? "\r\n" : ",");
}
