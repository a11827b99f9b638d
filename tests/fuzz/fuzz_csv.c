/* fuzz_csv.c - a list of parts is either refused with a fault or gives an array of objects. */
#include "fuzz.h"

#include <stdlib.h>

#include <drawerwright/fault.h>
#include <drawerwright/memory.h>

#include "files/csv_read.h"

struct reading {
    struct dw_arena *arena;
    struct dw_faults *faults;
    const uint8_t *data;
    size_t size;
};

static void body(void *context)
{
    const struct reading *reading = context;
    const struct dwi_tree *parts = dwi_csv_parts((const char *)reading->data, reading->size, "", reading->arena, reading->faults);
    if ((parts == NULL) != (reading->faults->errors > 0))
        abort();
    for (const struct dwi_tree *row = parts == NULL ? NULL : parts->first; row != NULL; row = row->next)
        if (row->kind != DWI_OBJECT || row->first == NULL)
            abort();
}

int fuzz_csv(const uint8_t *data, size_t size)
{
    struct reading reading = {.arena = dw_arena_new(), .faults = dw_faults_new(), .data = data, .size = size};
    if (reading.arena != NULL && reading.faults != NULL)
        (void)dw_arena_guard(reading.arena, body, &reading);
    dw_faults_free(reading.faults);
    dw_arena_free(reading.arena);
    return 0;
}
