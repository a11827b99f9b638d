/* led_faults.c - see led_faults.h. */
#include "led_faults.h"

#include <drawerwright/fault.h>
#include <drawerwright/memory.h>

struct leading {
    struct dw_arena *arena;
    const char *path, *lead;
};

static void lead_body(void *context)
{
    struct leading *leading = context;
    leading->lead = dw_arena_format(leading->arena, "%s: ", leading->path);
}

void dwi_faults_append_led(struct dw_faults *all, const struct dw_faults *own, const char *path, struct dw_arena *arena)
{
    struct leading leading = {.arena = arena, .path = path, .lead = ""};
    if (own->count > 0 && !dw_arena_guard(arena, lead_body, &leading)) /* then the faults are told without their file */
        dw_error(all, DW_SURROUNDINGS, "out-of-memory", path, "memory ran out while a file was read");
    dw_faults_append(all, own, leading.lead);
}
