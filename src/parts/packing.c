/* packing.c - strips that bring a slide out to the edge of a face frame, or shim it where a case tapers.
 *
 * A strip is as long as its slide, 2 in or 50 mm wide (a slide is about 45 mm high), and of the shop's material that comes nearest to the
 * gap without filling it more than full; what is still missing is said, to be made up with card or veneer.
 */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

/* The thickest material that goes into the gap; the first of equals. DW_NO_INDEX when none does. */
static size_t stock_for(const struct dw_shop *shop, dw_length gap)
{
    size_t best = DW_NO_INDEX;
    for (size_t i = 0; i < shop->material_count; i++)
        if (shop->materials[i].thickness <= gap && (best == DW_NO_INDEX || shop->materials[i].thickness > shop->materials[best].thickness))
            best = i;
    return best;
}

bool dwi_make_packing(struct dwi_making *making, const struct dw_sized_drawer *drawer, int side, struct dwi_blank *strip)
{
    const dw_length gap = drawer->packing[side];
    const dw_length long_enough = drawer->slide_length.value;
    if (gap <= 0 || drawer->slide_length.step_count == 0 || long_enough <= 0)
        return false;
    const char *which = side == 0 ? "left" : "right";
    const size_t stock = stock_for(&making->job->shop, gap);
    if (stock == DW_NO_INDEX) {
        dw_warn(making->faults, "packing-thin", drawer->address, "the %s slide wants packing of %s, thinner than any material of the shop\nshims of %s",
                which, dwi_say_unit(making, gap), dwi_say_unit(making, gap));
        return false;
    }
    const struct dw_material *material = &making->job->shop.materials[stock];
    if (material->thickness < gap)
        dw_warn(making->faults, "packing-short", drawer->address, "the packing of %s behind the %s slide is made of stock that measures %s\nshims of %s with it",
                dwi_say_unit(making, gap), which, dwi_say_unit(making, material->thickness), dwi_say_unit(making, gap - material->thickness));
    const struct dwi_reckoning length = dwi_reckon(making->arena, "packing length", "slide length", long_enough);
    const struct dwi_reckoning width =
        dwi_reckon(making->arena, "packing width", "room for the slide", making->job->unit == DW_IN ? 2 * DW_INCH : 50 * DW_MM);
    *strip = dwi_blank_of(DW_PART_PACKING, "packing strip", stock, dwi_reckoned(&length), dwi_reckoned(&width));
    strip->grain = dwi_grain_along(material);
    return true;
}
