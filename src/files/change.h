/* change.h - one value of a tree set by its address. */
#ifndef DWI_CHANGE_H
#define DWI_CHANGE_H

#include "tree.h"

/* Sets (or with a NULL node takes out) the value at `address`. Objects on the way are made; an array may grow by one at its end. False
 * with a fault where that cannot be done. Inside a guard. */
bool dwi_change(struct dw_arena *arena, struct dw_faults *faults, struct dwi_tree *root, const char *address, struct dwi_tree *value);

/* The node that a value given on the command line stands for: JSON where it is, else a string. Needs no guard. NULL with a
 * fault otherwise. */
struct dwi_tree *dwi_change_value(const char *value, struct dw_arena *arena, struct dw_faults *faults);

#endif
