/* csv_read.h - a bare list of parts (CSV) as the tree that a job's JSON with those parts would give. */
#ifndef DWI_CSV_READ_H
#define DWI_CSV_READ_H

#include "tree.h"

/* An array of objects, one a row, with the columns' names as keys; NULL with faults. The first row names the columns, in any order:
 * name, material, length, width, count, grain, group, units (of bare lengths; else the shop's). `what` is the file, which is the place of its
 * faults, or "". Inside a guard. */
struct dwi_tree *dwi_csv_parts(const char *text, size_t length, const char *what, struct dw_arena *arena, struct dw_faults *faults);

#endif
