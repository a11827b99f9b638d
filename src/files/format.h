/* format.h - files of a format that a newer program wrote. */
#ifndef DWI_FILES_FORMAT_H
#define DWI_FILES_FORMAT_H

#include <stdbool.h>
#include <stdint.h>

struct dw_faults;
struct dwi_tree;

/* May the rest of this file be read? False, with one fault at "format" (led by `file` where that is not empty) and the way forward, when its
 * "format" is a whole number above `known`: what else stands in it may mean something new, so no other fault of it should be told.
 * `what` names it: "job". Needs no guard. */
bool dwi_format_is_known(const struct dwi_tree *top, int64_t known, const char *what, const char *file, struct dw_faults *faults);

#endif
