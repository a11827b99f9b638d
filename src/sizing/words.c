/* words.c - lengths, numbers and places as the figuring and the faults say them. */
#include "sizer.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

const char *dwi_show(const struct dwi_sizer *sizer, dw_length length)
{
    const struct dw_length_style style = {.unit = sizer->job->unit, .denominator = 0, .decimals = -1};
    return dw_length_show_unit(sizer->arena, length, style);
}

const char *dwi_count_of(const struct dwi_sizer *sizer, size_t count, const char *one, const char *many, dw_length each)
{
    const char *noun = count == 1 ? one : many;
    if (each < 0)
        return dw_arena_format(sizer->arena, "%zu %s", count, noun);
    return dw_arena_format(sizer->arena, "%zu %s of %s", count, noun, dwi_show(sizer, each));
}

const char *dwi_place(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, const char *key)
{
    return dw_address_key(sizer->arena, drawer->address, key);
}
