/* places.c - warnings gathered: what is said of many places is said once, with the places as people call them. */
#include <drawerwright/memory.h>

#include "packet.h"

static const struct dw_sizing **sizings_of(const struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    const struct dw_sizing **sizings = dw_arena_alloc(packet->arena, layouts->job_count, sizeof *sizings);
    for (size_t j = 0; j < layouts->job_count; j++)
        sizings[j] = layouts->jobs[j]->sizing;
    return sizings;
}

struct dwi_cautions dwi_cautions_of(const struct dwi_packet *packet)
{
    const struct dw_faults *faults = packet->warnings;
    const size_t most = faults == NULL ? 0 : faults->count;
    const struct dw_sizing **sizings = sizings_of(packet);
    struct dwi_caution *at = dw_arena_alloc(packet->arena, most, sizeof *at);
    size_t count = 0;
    for (size_t i = 0; i < most; i++)
        if (faults->at[i].grade == DW_WARNING && !dw_fault_is_repeat(faults, i))
            at[count++] = (struct dwi_caution){&faults->at[i], dw_places_called(packet->arena, sizings, packet->purchase->layouts->job_count, faults, i)};
    return (struct dwi_cautions){at, count};
}
