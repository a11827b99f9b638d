/* known.c - is the same asked of a material as was asked before? Then its plan need not be searched again. */
#include "buying.h"

static bool same_part(const struct dw_cut_part *a, const struct dw_cut_part *b)
{
    return a->length == b->length && a->width == b->width && a->count == b->count && a->turn == b->turn;
}

static bool same_sheet(const struct dw_cut_sheet *a, const struct dw_cut_sheet *b)
{
    for (int edge = 0; edge < 4; edge++)
        if (a->trim[edge] != b->trim[edge])
            return false;
    return a->length == b->length && a->width == b->width && a->price == b->price && a->value == b->value && a->count == b->count;
}

static bool same_request(const struct dw_cut_request *a, const struct dw_cut_request *b)
{
    if (a->part_count != b->part_count || a->sheet_count != b->sheet_count || a->kerf != b->kerf || a->turns != b->turns ||
        a->first_cut != b->first_cut || a->keep.least_length != b->keep.least_length || a->keep.least_width != b->keep.least_width ||
        a->patience != b->patience || a->work != b->work || a->seed != b->seed)
        return false;
    for (size_t p = 0; p < a->part_count; p++)
        if (!same_part(&a->parts[p], &b->parts[p]))
            return false;
    for (size_t s = 0; s < a->sheet_count; s++)
        if (!same_sheet(&a->sheets[s], &b->sheets[s]))
            return false;
    return true;
}

const struct dw_cut_plan *dwi_buying_known(const struct buying *buying, size_t problem)
{
    const struct dw_layouts *known = buying->options->known;
    for (size_t m = 0; known != NULL && m < known->material_count; m++)
        if (known->materials[m].problem->material == buying->problems[problem].material &&
            same_request(&known->materials[m].problem->request, &buying->problems[problem].request))
            return known->materials[m].plan;
    return NULL;
}
