/* packing.c - strips that bring a slide out to the edge of a face frame.
 *
 * A strip is as long as its slide, 2 in or 50 mm wide (a slide is about 45 mm high). Strips are cut from stock that the job cuts anyway,
 * in layers, each of the thickest that still goes in: from the case's own where one layer is nearly enough, else from all but the stock of
 * fronts, else from that too. "Nearly" leaves no more than 3/16 in; what is missing is said, to be made up with card or veneer. Only where
 * none of that goes in is a sheet of another material bought for it. Common practice, no source.
 *
 * So packing is made last: what the job cuts anyway is what the blanks made until then are cut from.
 */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

static const dw_length SHIM_MOST = 3 * DW_INCH / 16;
enum { LAYERS_MOST = 4 };

/* The stock that a filling may be taken from, by material of the shop. */
struct stock {
    bool *is_cut;     /* something else is cut from it */
    bool *is_fronts;  /* fronts are */
};

/* One way to fill a gap. */
struct filling {
    size_t layers[LAYERS_MOST]; /* materials, from the side of the case */
    size_t count;
    dw_length rest;
};

static struct stock find_stock(const struct dwi_making *making)
{
    struct stock stock = {.is_cut = dw_arena_alloc(making->arena, making->job->shop.material_count, sizeof *stock.is_cut),
                          .is_fronts = dw_arena_alloc(making->arena, making->job->shop.material_count, sizeof *stock.is_fronts)};
    for (size_t i = 0; i < making->blank_count; i++) {
        stock.is_cut[making->blanks[i].material] = true;
        if (making->blanks[i].kind == DW_PART_FRONT)
            stock.is_fronts[making->blanks[i].material] = true;
    }
    return stock;
}

/* The thickest material, among those told, that goes into `room`; DW_NO_INDEX when none does. */
static size_t thickest(const struct dwi_making *making, const bool *among, const bool *but_not, dw_length room)
{
    const struct dw_shop *shop = &making->job->shop;
    size_t best = DW_NO_INDEX;
    for (size_t i = 0; i < shop->material_count; i++) {
        const bool may = (among == NULL || among[i]) && (but_not == NULL || !but_not[i]);
        if (may && shop->materials[i].thickness <= room && (best == DW_NO_INDEX || shop->materials[i].thickness > shop->materials[best].thickness))
            best = i;
    }
    return best;
}

static struct filling fill_from(const struct dwi_making *making, const bool *among, const bool *but_not, dw_length gap)
{
    struct filling filling = {.rest = gap};
    while (filling.count < LAYERS_MOST) {
        const size_t material = thickest(making, among, but_not, filling.rest);
        if (material == DW_NO_INDEX)
            break;
        filling.layers[filling.count++] = material;
        filling.rest -= making->job->shop.materials[material].thickness;
    }
    return filling;
}

/* One layer of the case's own stock, where the job cuts from it and hardly more is wanted. */
static bool fill_with_own(const struct dwi_making *making, const struct stock *stock, size_t case_index, dw_length gap, struct filling *filling)
{
    const size_t own = making->job->cases[case_index].case_material;
    if (own >= making->job->shop.material_count || !stock->is_cut[own])
        return false;
    *filling = (struct filling){.layers = {own}, .count = 1, .rest = gap - making->job->shop.materials[own].thickness};
    return filling->rest >= 0 && filling->rest <= SHIM_MOST;
}

static struct filling choose(const struct dwi_making *making, const struct stock *stock, size_t case_index, dw_length gap)
{
    struct filling own;
    if (fill_with_own(making, stock, case_index, gap, &own))
        return own;
    const struct filling plain = fill_from(making, stock->is_cut, stock->is_fronts, gap);
    if (plain.rest <= SHIM_MOST)
        return plain;
    const struct filling any = fill_from(making, stock->is_cut, NULL, gap);
    return any.count > 0 ? any : fill_from(making, NULL, NULL, gap);
}

/* "15/32 in + 7/32 in" */
static const char *layers_in_words(const struct dwi_making *making, const struct filling *filling)
{
    struct dw_text text = dw_text_in(making->arena);
    for (size_t i = 0; i < filling->count; i++) {
        dw_text_add(&text, i == 0 ? "" : " + ");
        dw_text_add(&text, dwi_say_unit(making, making->job->shop.materials[filling->layers[i]].thickness));
    }
    return text.bytes;
}

static void warn_of_rest(struct dwi_making *making, const struct dw_sized_drawer *drawer, dw_length gap, const struct filling *filling)
{
    if (filling->count == 0)
        dw_warn(making->faults, "packing-thin", drawer->address, "a slide wants packing of %s, thinner than the stock of this job\nshims of %s",
                dwi_say_unit(making, gap), dwi_say_unit(making, gap));
    else if (filling->rest > 0)
        dw_warn(making->faults, "packing-short", drawer->address, "packing of %s behind a slide is made of stock that measures %s\nshims of %s with it",
                dwi_say_unit(making, gap), layers_in_words(making, filling), dwi_say_unit(making, filling->rest));
}

static struct dwi_blank strip_of(const struct dwi_making *making, const struct dw_sized_drawer *drawer, size_t material)
{
    const struct dwi_reckoning length = dwi_reckon(making->arena, "packing length", "slide length", drawer->slide_length.value);
    const struct dwi_reckoning width =
        dwi_reckon(making->arena, "packing width", "room for the slide", making->job->unit == DW_IN ? 2 * DW_INCH : 50 * DW_MM);
    struct dwi_blank strip = dwi_blank_of(DW_PART_PACKING, "packing strip", material, dwi_reckoned(&length), dwi_reckoned(&width));
    strip.grain = dwi_grain_along(&making->job->shop.materials[material]);
    return strip;
}

static void add_strips(struct dwi_making *making, const struct dw_sized_drawer *drawer, const char *letters, const struct filling *filling)
{
    const size_t copies = (size_t)making->job->cases[drawer->case_index].count;
    for (size_t copy = 0; copy < copies; copy++)
        for (size_t i = 0; i < filling->count; i++)
            dwi_add_drawer_blank(making, drawer, copy, strip_of(making, drawer, filling->layers[i]),
                                 filling->count == 1 ? letters : dw_arena_format(making->arena, "%s%zu", letters, i + 1));
}

static void pack_drawer(struct dwi_making *making, const struct stock *stock, const struct dw_sized_drawer *drawer)
{
    if (drawer->drawer->fill != DW_FILL_DRAWER || drawer->slide_length.step_count == 0 || drawer->slide_length.value <= 0)
        return;
    for (int side = 0; side < 2; side++) {
        const dw_length gap = drawer->packing[side];
        if (gap <= 0)
            continue;
        const struct filling filling = choose(making, stock, drawer->case_index, gap);
        if (side == 0 || gap != drawer->packing[0])
            warn_of_rest(making, drawer, gap, &filling);
        add_strips(making, drawer, side == 0 ? "PL" : "PR", &filling);
    }
}

void dwi_make_packing(struct dwi_making *making)
{
    const struct stock stock = find_stock(making);
    for (size_t c = 0; c < making->sizing->case_count; c++)
        for (size_t b = 0; b < making->sizing->cases[c].bank_count; b++) {
            const struct dw_sized_bank *bank = &making->sizing->cases[c].banks[b];
            for (size_t d = 0; d < bank->drawer_count; d++)
                pack_drawer(making, &stock, &bank->drawers[d]);
        }
}
