/* file_read.h - whole files in. */
#ifndef DWI_FILE_READ_H
#define DWI_FILE_READ_H

#include <stddef.h>

struct dw_arena;
struct dw_faults;

/* dw_file_read with a bound of its own. */
const char *dwi_file_read(const char *path, size_t most, struct dw_arena *arena, struct dw_faults *faults, size_t *length);

#endif
