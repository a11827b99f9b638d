/* fuzz_length.c - whatever is read as a length is in range, and is read as the same when it is written exactly. */
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/length.h>
#include <drawerwright/memory.h>

#include "files/amounts_show.h"

struct reading {
    struct dw_arena *arena;
    const uint8_t *data;
    size_t size;
};

static void check(struct dw_arena *arena, const char *text, enum dw_unit bare)
{
    dw_length length = 0;
    dw_length again = 0;
    const char *why = NULL;
    if (!dw_length_parse(text, bare, &length, &why)) {
        if (why == NULL || strncmp(why, "expected ", 9) != 0)
            abort();
        return;
    }
    if (length > DW_LENGTH_MAX || length < -DW_LENGTH_MAX)
        abort();
    if (!dw_length_parse(dwi_length_exact(arena, length, bare), bare, &again, NULL) || again != length)
        abort();
}

static void body(void *context)
{
    const struct reading *reading = context;
    const char *text = dw_arena_slice(reading->arena, (const char *)reading->data, reading->size);
    check(reading->arena, text, DW_IN);
    check(reading->arena, text, DW_MILLIMETER);
}

int fuzz_length(const uint8_t *data, size_t size)
{
    struct reading reading = {.arena = dw_arena_new(), .data = data, .size = size};
    if (reading.arena != NULL)
        (void)dw_arena_guard(reading.arena, body, &reading);
    dw_arena_free(reading.arena);
    return 0;
}
