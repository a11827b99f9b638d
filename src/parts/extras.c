/* extras.c - parts listed by hand, so that one plan serves the whole piece. They are listed as they are to be cut; banding comes on top. */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

static struct dw_figure as_listed(const struct dwi_making *making, const char *name, dw_length length)
{
    const struct dwi_reckoning sum = dwi_reckon(making->arena, name, "as listed", length);
    return dwi_reckoned(&sum);
}

static void make_extra(struct dwi_making *making, const struct dw_extra *extra, size_t index)
{
    const char *address = dw_address_index(making->arena, "parts", index);
    const struct dw_material *material = dwi_material(making, extra->material, address, "material");
    if (material == NULL)
        return;
    const size_t *banding = extra->banding;
    struct dwi_blank blank = dwi_blank_of(DW_PART_EXTRA, extra->name, extra->material, as_listed(making, "length", extra->length),
                                          as_listed(making, "width", extra->width));
    blank.finished_length += dwi_banding_thickness(making, banding[DW_LEFT]) + dwi_banding_thickness(making, banding[DW_RIGHT]);
    blank.finished_width += dwi_banding_thickness(making, banding[DW_TOP]) + dwi_banding_thickness(making, banding[DW_BOTTOM]);
    blank.grain = material->grained ? extra->grain : DW_FREE;
    for (int edge = 0; edge < DW_EDGES; edge++)
        blank.banding[edge] = banding[edge];
    dwi_check_banding(making, banding, material, address);
    for (size_t piece = 0; piece < (size_t)extra->count; piece++) {
        blank.piece = (struct dw_piece){.mark = dwi_mark_extra(making, index, piece),
                                        .drawer_path = "",
                                        .case_index = DW_NO_INDEX,
                                        .case_copy = DW_NO_INDEX,
                                        .bank_index = DW_NO_INDEX,
                                        .drawer_index = DW_NO_INDEX};
        dwi_add_blank(making, &blank);
    }
}

void dwi_make_extras(struct dwi_making *making)
{
    for (size_t i = 0; i < making->job->extra_count; i++)
        make_extra(making, &making->job->extras[i], i);
}
