/* making.c - small services of the parts room: lengths in words, materials, blanks and works as they grow. */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

const char *dwi_say(const struct dwi_making *making, dw_length length)
{
    return dw_length_show(making->arena, length, (struct dw_length_style){.unit = making->job->unit, .decimals = -1});
}

const char *dwi_say_unit(const struct dwi_making *making, dw_length length)
{
    return dw_length_show_unit(making->arena, length, (struct dw_length_style){.unit = making->job->unit, .decimals = -1});
}

const struct dw_material *dwi_material(struct dwi_making *making, size_t index, const char *address, const char *key)
{
    if (index < making->job->shop.material_count)
        return &making->job->shop.materials[index];
    dw_error(making->faults, DW_INPUT, "no-material", dw_address_key(making->arena, address, key),
             "no material is named for this part\nname one of the shop's materials");
    return NULL;
}

const struct dw_banding *dwi_banding(const struct dwi_making *making, size_t index)
{
    return index < making->job->shop.banding_count ? &making->job->shop.bandings[index] : NULL;
}

enum dw_grain dwi_grain_along(const struct dw_material *material)
{
    return material->grained ? DW_ALONG : DW_FREE;
}

void dwi_add_work(const struct dwi_making *making, struct dwi_works *works, struct dw_part_work work)
{
    works->at = dw_arena_grow(making->arena, works->at, works->count, &works->capacity, sizeof *works->at);
    works->at[works->count++] = work;
}

void dwi_add_blank(struct dwi_making *making, const struct dwi_blank *blank)
{
    making->blanks =
        dw_arena_grow(making->arena, making->blanks, making->blank_count, &making->blank_capacity, sizeof *making->blanks);
    making->blanks[making->blank_count++] = *blank;
}

struct dwi_blank dwi_blank_of(enum dw_part_kind kind, const char *name, size_t material, struct dw_figure length, struct dw_figure width)
{
    struct dwi_blank blank = {.kind = kind,
                              .name = name,
                              .material = material,
                              .length = length,
                              .width = width,
                              .finished_length = length.value,
                              .finished_width = width.value};
    for (int edge = 0; edge < DW_EDGES; edge++)
        blank.banding[edge] = DW_NO_INDEX;
    return blank;
}
