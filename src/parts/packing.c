/* packing.c - strips that bring a slide out to the edge of a face frame.
 *
 * A strip is as long as its slide, 2 in or 50 mm wide (a slide is about 45 mm high). It is made of the case's own stock where that leaves no
 * more than 3/16 in of the gap, else of the material that does so in the fewest layers, stock of fronts last; what is still missing is said,
 * to be made up with card or veneer. Common practice, no source.
 */
#include "making.h"

#include <inttypes.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

static const dw_length SHIM_MOST = 3 * DW_INCH / 16;
static const int64_t LAYERS_MOST = 4;

/* One way to fill a gap. */
struct filling {
    size_t material; /* DW_NO_INDEX: none goes in */
    int64_t layers;
    dw_length rest;
    bool of_fronts;  /* its material is that of a front of the job */
};

static bool is_front_stock(const struct dwi_making *making, size_t material)
{
    for (size_t c = 0; c < making->job->case_count; c++)
        for (size_t b = 0; b < making->job->cases[c].bank_count; b++)
            for (size_t d = 0; d < making->job->cases[c].banks[b].drawer_count; d++)
                if (making->job->cases[c].banks[b].drawers[d].front.material == material)
                    return true;
    return false;
}

static struct filling fill_with(const struct dwi_making *making, size_t material, dw_length gap)
{
    const dw_length thickness = making->job->shop.materials[material].thickness;
    const int64_t layers = dw_least(gap / thickness, LAYERS_MOST);
    return (struct filling){.material = layers == 0 ? DW_NO_INDEX : material,
                            .layers = layers,
                            .rest = gap - layers * thickness,
                            .of_fronts = is_front_stock(making, material)};
}

static bool is_better(const struct filling *one, const struct filling *other)
{
    if (one->material == DW_NO_INDEX || other->material == DW_NO_INDEX)
        return other->material == DW_NO_INDEX && one->material != DW_NO_INDEX;
    const bool fills = one->rest <= SHIM_MOST;
    if (fills != (other->rest <= SHIM_MOST))
        return fills;
    if (one->of_fronts != other->of_fronts)
        return other->of_fronts;
    return fills && one->layers != other->layers ? one->layers < other->layers : one->rest < other->rest;
}

static struct filling choose(const struct dwi_making *making, size_t case_index, dw_length gap)
{
    const struct dw_shop *shop = &making->job->shop;
    const size_t own = making->job->cases[case_index].case_material;
    struct filling best = {.material = DW_NO_INDEX};
    if (own < shop->material_count) {
        best = fill_with(making, own, gap);
        if (best.layers == 1 && best.rest <= SHIM_MOST)
            return best;
    }
    for (size_t i = 0; i < shop->material_count; i++) {
        const struct filling filling = fill_with(making, i, gap);
        if (is_better(&filling, &best))
            best = filling;
    }
    return best;
}

bool dwi_make_packing(struct dwi_making *making, const struct dw_sized_drawer *drawer, int side, struct dwi_blank *strip, int64_t *layers)
{
    const dw_length gap = drawer->packing[side];
    const dw_length long_enough = drawer->slide_length.value;
    if (gap <= 0 || drawer->slide_length.step_count == 0 || long_enough <= 0)
        return false;
    const char *which = side == 0 ? "left" : "right";
    const struct filling filling = choose(making, drawer->case_index, gap);
    *layers = filling.layers;
    if (filling.material == DW_NO_INDEX) {
        dw_warn(making->faults, "packing-thin", drawer->address,
                "the %s slide wants packing of %s, thinner than any material of the shop\nshims of %s", which, dwi_say_unit(making, gap),
                dwi_say_unit(making, gap));
        return false;
    }
    const struct dw_material *material = &making->job->shop.materials[filling.material];
    if (filling.rest > 0)
        dw_warn(making->faults, "packing-short", drawer->address,
                "the packing of %s behind the %s slide is %" PRId64 " of stock that measures %s\nshims of %s with it",
                dwi_say_unit(making, gap), which, filling.layers, dwi_say_unit(making, material->thickness), dwi_say_unit(making, filling.rest));
    const struct dwi_reckoning length = dwi_reckon(making->arena, "packing length", "slide length", long_enough);
    const struct dwi_reckoning width =
        dwi_reckon(making->arena, "packing width", "room for the slide", making->job->unit == DW_IN ? 2 * DW_INCH : 50 * DW_MM);
    *strip = dwi_blank_of(DW_PART_PACKING, "packing strip", filling.material, dwi_reckoned(&length), dwi_reckoned(&width));
    strip->grain = dwi_grain_along(material);
    return true;
}
