/* csv_write.h - writing CSV, shared by the lists of this room. */
#ifndef DWI_FILES_CSV_WRITE_H
#define DWI_FILES_CSV_WRITE_H

#include <stdbool.h>

#include <drawerwright/text.h>

/* Adds a field and what follows it: a comma, or the end of the line behind the last one. In a guard of out's arena. */
void dwi_csv_field(struct dw_text *out, const char *field, bool last);

#endif
