/* read_keys.h - one reader for every object of a job file, led by the tables of keys. */
#ifndef DWI_READ_KEYS_H
#define DWI_READ_KEYS_H

#include <drawerwright/job.h>
#include <drawerwright/keys.h>

#include "tree.h"

struct dwi_reading {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_job *job;  /* being filled; materials, slides and banding are looked up in its shop */
    enum dw_unit unit;   /* of bare numbers where the reading stands */
    size_t things;       /* of lists read so far; a short file must not ask for endless memory ("drawers": 1000, a thousand times) */
};

/* Reads a node into a thing that was cleared before. Everything that is wrong is reported. */
void dwi_read_object(struct dwi_reading *reading, const struct dw_object *object, const struct dwi_tree *node, void *thing,
                     const char *address);

#endif
