/* places.c - addresses of a job as the names people gave, and warnings gathered: what is said of many places is said once. */
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "packet.h"

/* Is `address` the thing at `of` or something of it? */
static bool belongs(const char *address, const char *of)
{
    const size_t length = strlen(of);
    return strncmp(address, of, length) == 0 && (address[length] == '\0' || address[length] == '.' || address[length] == '[');
}

static const char *name_in_case(const struct dw_sized_case *of, const char *address)
{
    for (size_t b = 0; b < of->bank_count; b++) {
        for (size_t d = 0; d < of->banks[b].drawer_count; d++)
            if (belongs(address, of->banks[b].drawers[d].address))
                return of->banks[b].drawers[d].path;
        if (belongs(address, of->banks[b].address))
            return of->banks[b].path;
    }
    return of->path;
}

/* Addresses of several jobs planned together are led by the job's id and a colon. */
const char *dwi_place_name(const struct dwi_packet *packet, const char *address)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    for (size_t j = 0; j < layouts->job_count; j++) {
        const struct dw_sizing *sizing = layouts->jobs[j]->sizing;
        const char *rest = address;
        const char *id = sizing->job->id == NULL ? "" : sizing->job->id;
        if (layouts->job_count > 1 && strncmp(address, id, strlen(id)) == 0 && strncmp(address + strlen(id), ": ", 2) == 0)
            rest = address + strlen(id) + 2;
        else if (layouts->job_count > 1)
            continue;
        for (size_t c = 0; c < sizing->case_count; c++)
            if (belongs(rest, sizing->cases[c].address))
                return name_in_case(&sizing->cases[c], rest);
    }
    return address;
}

static bool said_before(const struct dw_faults *faults, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (faults->at[i].grade == DW_WARNING && strcmp(faults->at[i].wrong, faults->at[index].wrong) == 0)
            return true;
    return false;
}

/* "Chest/A/1", or of many the first and the last, "Chest/A/1 … Chest/A/8, 5 in all". */
static const char *places_of(const struct dwi_packet *packet, size_t index)
{
    const struct dw_faults *faults = packet->warnings;
    const char *last = faults->at[index].address;
    size_t count = 1;
    for (size_t i = index + 1; i < faults->count; i++)
        if (faults->at[i].grade == DW_WARNING && strcmp(faults->at[i].wrong, faults->at[index].wrong) == 0) {
            last = faults->at[i].address;
            count++;
        }
    const char *first = dwi_place_name(packet, faults->at[index].address);
    if (count == 1)
        return first;
    const char *end = dwi_place_name(packet, last);
    return count == 2 ? dw_arena_format(packet->arena, "%s and %s", first, end) : dw_arena_format(packet->arena, "%s \xE2\x80\xA6 %s, %zu in all", first, end, count);
}

struct dwi_cautions dwi_cautions_of(const struct dwi_packet *packet)
{
    const struct dw_faults *faults = packet->warnings;
    const size_t most = faults == NULL ? 0 : faults->count;
    struct dwi_caution *at = dw_arena_alloc(packet->arena, most, sizeof *at);
    size_t count = 0;
    for (size_t i = 0; i < most; i++)
        if (faults->at[i].grade == DW_WARNING && !said_before(faults, i))
            at[count++] = (struct dwi_caution){&faults->at[i], places_of(packet, i)};
    return (struct dwi_cautions){at, count};
}
