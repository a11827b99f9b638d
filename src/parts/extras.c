/* extras.c - parts listed by hand, so that one plan serves the whole piece. Their sizes are the finished ones: banding is taken off. */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

static struct dw_figure to_cut(const struct dwi_making *making, const char *name, dw_length finished, size_t one, const char *one_words,
                               size_t other, const char *other_words)
{
    struct dwi_reckoning sum = dwi_reckon(making->arena, name, "finished size, as listed", finished);
    dwi_less_banding(making, &sum, one, one_words);
    dwi_less_banding(making, &sum, other, other_words);
    return dwi_reckoned(&sum);
}

static void make_extra(struct dwi_making *making, const struct dw_extra *extra, size_t index)
{
    const char *address = dw_address_index(making->arena, "extras", index);
    const struct dw_material *material = dwi_material(making, extra->material, address, "material");
    if (material == NULL)
        return;
    const size_t *banding = extra->banding;
    struct dwi_blank blank = dwi_blank_of(
        DW_PART_EXTRA, extra->name, extra->material,
        to_cut(making, "length", extra->length, banding[DW_LEFT], "left end", banding[DW_RIGHT], "right end"),
        to_cut(making, "width", extra->width, banding[DW_TOP], "top edge", banding[DW_BOTTOM], "bottom edge"));
    blank.finished_length = extra->length;
    blank.finished_width = extra->width;
    blank.grain = material->grained ? extra->grain : DW_FREE;
    for (int edge = 0; edge < DW_EDGES; edge++)
        blank.banding[edge] = banding[edge];
    dwi_check_banding(making, banding, material, address);
    if (blank.length.value <= 0 || blank.width.value <= 0)
        dw_error(making->faults, DW_INPUT, "no-room", address, "nothing is left of this part\na length and width above 0, banding taken off");
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
