/* yard.c - what to ask the yard for: the rough cuts that bring the sheets bought into the van. */
#include "buying.h"

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

/* One sheet's cuts at the yard, read off the ladder. */
struct asking {
    const struct buying *buying;
    const struct dw_ladder *ladder;
    size_t sheet;
};

static bool is_on_sheet(const struct asking *asking, const struct dw_ladder_cut *cut)
{
    return asking->ladder->panels[cut->panel].sheet == asking->sheet;
}

static const char *rough_words(const struct buying *buying, dw_length size)
{
    return dwi_buying_length(buying, dw_rough_size(size, buying->jobs[0]->sizing->job->unit));
}

/* "S1 across, 32 5/8 in off, then S1 across, 25 5/8 in off". */
static void add_cuts(const struct asking *asking, struct dw_text *text)
{
    bool any = false;
    for (size_t r = 0; r < asking->ladder->rung_count; r++) {
        const struct dw_ladder_rung *rung = &asking->ladder->rungs[r];
        for (size_t c = 0; rung->kind == DW_LADDER_YARD && c < rung->cut_count; c++) {
            const struct dw_ladder_cut *cut = &rung->cuts[c];
            if (!is_on_sheet(asking, cut))
                continue;
            dw_text_addf(text, "%s%s %s, %s off", any ? ", then " : "", asking->ladder->panels[cut->panel].name, cut->cut == DW_CROSSCUT ? "across" : "along",
                         rough_words(asking->buying, rung->setting));
            any = true;
        }
    }
}

/* The panels that are there when the yard is done. */
static void add_pieces(const struct asking *asking, struct dw_text *text)
{
    const struct dw_ladder *ladder = asking->ladder;
    bool *cut_up = dw_arena_alloc(asking->buying->arena, ladder->panel_count, sizeof *cut_up);
    bool *made = dw_arena_alloc(asking->buying->arena, ladder->panel_count, sizeof *made);
    for (size_t r = 0; r < ladder->rung_count; r++)
        for (size_t c = 0; ladder->rungs[r].kind == DW_LADDER_YARD && c < ladder->rungs[r].cut_count; c++) {
            const struct dw_ladder_cut *cut = &ladder->rungs[r].cuts[c];
            cut_up[cut->panel] = true;
            made[cut->off] = is_on_sheet(asking, cut);
            if (cut->rest != DW_NO_INDEX)
                made[cut->rest] = made[cut->off];
        }
    bool any = false;
    for (size_t p = 0; p < ladder->panel_count; p++) {
        const struct dw_panel *panel = &ladder->panels[p];
        if (!made[p] || cut_up[p] || panel->use == DW_NODE_WASTE)
            continue;
        dw_text_addf(text, "%s%s %s x %s", any ? ", " : "", panel->name, rough_words(asking->buying, panel->length),
                     rough_words(asking->buying, panel->width));
        any = true;
    }
}

/* "Have the yard cut MDF full S1 (96 in x 48 in) roughly, from the near corner: ...; pieces ...; S2 likewise". */
static const char *words_for(const struct buying *buying, const struct dw_material_layout *layout, size_t sheet)
{
    const struct asking asking = {buying, &layout->ladder, sheet};
    const struct dw_sheet_source *source = &layout->problem->sources[layout->sheets[sheet].source];
    struct dw_text text = dw_text_in(buying->arena);
    dw_text_addf(&text, "Have the yard cut %s, sheet %s (%s x %s), roughly, so that it fits the van: ",
                 shop_of(buying)->materials[layout->problem->material].name, layout->sheets[sheet].name, dwi_buying_length(buying, source->length), dwi_buying_length(buying, source->width));
    add_cuts(&asking, &text);
    dw_text_add(&text, ". Pieces to take home: ");
    add_pieces(&asking, &text);
    dw_text_add_char(&text, '.');
    bool any = false;
    for (size_t s = sheet + 1; s < layout->sheet_count; s++)
        if (layout->sheets[s].like == layout->sheets[sheet].like) {
            dw_text_addf(&text, "%s%s", any ? ", " : " Likewise ", layout->sheets[s].name);
            any = true;
        }
    if (any)
        dw_text_add_char(&text, '.');
    return text.bytes;
}

size_t dwi_buying_yard_count(const struct buying *buying)
{
    const struct dw_layouts *layouts = buying->purchase->layouts;
    size_t count = 0;
    for (size_t m = 0; m < layouts->material_count; m++)
        for (size_t s = 0; s < layouts->materials[m].sheet_count; s++)
            count += layouts->materials[m].sheets[s].broken == DW_SHEET_YARD && layouts->materials[m].sheets[s].like == s;
    return count;
}

void dwi_buying_yard(const struct buying *buying, const char **words)
{
    const struct dw_layouts *layouts = buying->purchase->layouts;
    for (size_t m = 0; m < layouts->material_count; m++)
        for (size_t s = 0; s < layouts->materials[m].sheet_count; s++)
            if (layouts->materials[m].sheets[s].broken == DW_SHEET_YARD && layouts->materials[m].sheets[s].like == s)
                *words++ = words_for(buying, &layouts->materials[m], s);
}
