/* objects.h - the tables of keys as a list, for what is written about all of them. */
#ifndef DWI_OBJECTS_H
#define DWI_OBJECTS_H

#include <drawerwright/keys.h>

struct dw_arena;

/* The job's object and every one reached from it, each once, in the order of first appearance. In `arena`, inside a guard. */
const struct dw_object *const *dwi_objects(struct dw_arena *arena, size_t *count);

/* An object's name as one word: "banded_edges". */
const char *dwi_object_word(struct dw_arena *arena, const struct dw_object *object);

#endif
