/* frame.c - how this room shows lengths, pieces and places. */
#include "frame.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

static struct dw_length_style style_of(bool inch)
{
    return (struct dw_length_style){.unit = inch ? DW_IN : DW_MILLIMETER, .denominator = 64, .decimals = -1};
}

const char *dwi_layout_show_own(struct dw_arena *arena, const struct dw_parts *const *jobs, dw_length length)
{
    return dw_length_show(arena, length, style_of(first_job(jobs)->unit == DW_IN));
}

const char *dwi_layout_show(struct dw_arena *arena, const struct dw_parts *const *jobs, dw_length length)
{
    const bool inch = first_job(jobs)->unit == DW_IN;
    if (!dw_length_is_exact(length, style_of(inch)) && dw_length_is_exact(length, style_of(!inch)))
        return dw_length_show_unit(arena, length, style_of(!inch));
    return dwi_layout_show_own(arena, jobs, length);
}

const char *dwi_layout_address(struct dw_arena *arena, const struct dw_piece *piece)
{
    const size_t at[] = {piece->case_index, piece->bank_index, piece->drawer_index};
    static const char *const keys[] = {"cases", "banks", "drawers"};
    const char *address = "";
    for (size_t i = 0; i < sizeof at / sizeof *at && at[i] != DW_NO_INDEX; i++)
        address = dw_address_index(arena, dw_address_key(arena, address, keys[i]), at[i]);
    return address;
}

const char *dwi_layout_piece_words(struct dw_arena *arena, const struct dw_parts *const *jobs, struct dw_piece_ref ref)
{
    const struct dw_piece *piece = piece_of(jobs, ref);
    const char *name = part_of(jobs, ref)->name;
    if (piece->drawer_path[0] == '\0')
        return dw_arena_format(arena, "%s %s", name, piece->mark);
    return dw_arena_format(arena, "%s %s of %s", name, piece->mark, piece->drawer_path);
}
