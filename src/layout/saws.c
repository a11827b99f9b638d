/* saws.c - the limits of saws, and the choice among those that can make a cut.
 *
 *   fence    the edge against the fence is not shorter than the saw's least (10 in), nor than the distance to the fence: narrow stock
 *            turns on the blade and is thrown back; the distance is within the rip capacity and not under the least width (1/2 in)
 *   outside  the same for the small side, when the wanted piece is wider than the fence reaches; the wanted one then takes on every error
 *            of the panel's width, so it comes last
 *   stop     a sled or miter gauge carries the piece; the cut is no longer than the crosscut capacity, the piece not under the least width
 *   track    the cut is no longer than the track; the piece not under the least width
 *   rough    a track, panel or circular saw that is long enough; how wide its kerf is does not matter
 * An edge that was cut roughly is not straight and never lies against a fence. A clean one that is against it lets the fence trim the rough one
 * and bring the panel to size at once, so for that the fence comes first.
 * Sources: 1/2 in and 10 in, a table saw owner's manual (page 45 of the one at manualsdump.com/amp/en/manuals/275312/45); that the edge on
 * the fence must not be shorter than the distance, and nothing is held between fence and gauge: common practice, no source.
 */
#include "saws.h"

#include <drawerwright/memory.h>

static const struct dw_saw unnamed[] = {
    {.name = "table saw", .kind = DW_TABLE_SAW, .rip_most = DW_LENGTH_MAX, .crosscut_most = DW_LENGTH_MAX, .width_least = DW_INCH / 2,
     .edge_least = 10 * DW_INCH},
    {.name = "track saw", .kind = DW_TRACK_SAW, .width_least = DW_INCH / 2},
};

static bool is_rough_only(const struct dw_saw *saw, dw_length kerf)
{
    return saw->kind == DW_CIRCULAR_SAW || saw->kerf > kerf;
}

struct saws dwi_saws_of(const struct dw_shop *shop, dw_length kerf, struct dw_arena *arena)
{
    const bool named = shop->saw_count > 0;
    const struct dw_saw *all = named ? shop->saws : unnamed;
    const size_t total = named ? shop->saw_count : sizeof unnamed / sizeof *unnamed;
    struct dw_saw *fit = dw_arena_alloc(arena, total + 1, sizeof *fit);
    size_t *places = dw_arena_alloc(arena, total + 1, sizeof *places);
    struct saws saws = {.at = fit, .places = places, .kerf = kerf, .exact = true};
    for (size_t i = 0; i < total; i++) {
        if (is_rough_only(&all[i], kerf))
            continue;
        fit[saws.count] = all[i];
        if (all[i].kerf <= 0)
            fit[saws.count].kerf = kerf;
        saws.exact = saws.exact && fit[saws.count].kerf == kerf;
        places[saws.count++] = named ? i : DW_NO_INDEX;
    }
    saws.total = saws.count;
    for (size_t i = 0; i < total; i++)
        if (is_rough_only(&all[i], kerf)) {
            fit[saws.total] = all[i];
            if (all[i].kerf <= 0)
                fit[saws.total].kerf = kerf;
            places[saws.total++] = i;
        }
    fit[saws.total] = (struct dw_saw){.name = "the yard's saw", .kind = DW_PANEL_SAW, .kerf = kerf};
    places[saws.total++] = DW_NO_INDEX;
    return saws;
}

static bool fence_takes(const struct dw_saw *saw, dw_length along, dw_length distance)
{
    return saw->kind == DW_TABLE_SAW && distance <= saw->rip_most && distance >= saw->width_least && along >= saw->edge_least &&
           along >= distance;
}

static bool stop_takes(const struct dw_saw *saw, dw_length along, dw_length size)
{
    return saw->kind == DW_TABLE_SAW && along <= saw->crosscut_most && size >= saw->width_least;
}

static bool track_takes(const struct dw_saw *saw, dw_length along, dw_length size)
{
    return saw->kind != DW_TABLE_SAW && (saw->cut_longest <= 0 || along <= saw->cut_longest) && size >= saw->width_least;
}

/* A trim leaves `across - size` and takes the rest off, kerf included. */
static bool trim_way(const struct dw_saw *saw, const struct pass *pass, struct way *way)
{
    const dw_length left = pass->across - pass->size;
    way->off = pass->size - saw->kerf;
    way->rest = left;
    way->setting = way->guide == DW_GUIDE_FENCE ? left : pass->size;
    switch (way->guide) {
    case DW_GUIDE_FENCE:
        return !pass->rough_edge && fence_takes(saw, pass->along, left);
    case DW_GUIDE_STOP:
        return stop_takes(saw, pass->along, left);
    case DW_GUIDE_TRACK:
        return track_takes(saw, pass->along, left);
    case DW_GUIDE_OUTSIDE: /* a sliver between fence and blade */
    case DW_GUIDE_ROUGH:
    case DW_GUIDE_YARD:
        break;
    }
    return false;
}

static bool piece_way(const struct dw_saw *saw, const struct pass *pass, struct way *way)
{
    way->off = way->setting = pass->size;
    way->rest = pass->across - pass->size - saw->kerf;
    switch (way->guide) {
    case DW_GUIDE_FENCE:
        return !pass->rough_edge && fence_takes(saw, pass->along, pass->size);
    case DW_GUIDE_STOP:
        return stop_takes(saw, pass->along, pass->size);
    case DW_GUIDE_TRACK:
        return track_takes(saw, pass->along, pass->size);
    case DW_GUIDE_OUTSIDE:
        way->setting = way->rest;
        return !pass->rough_far && pass->size >= saw->width_least && fence_takes(saw, pass->along, way->rest);
    case DW_GUIDE_ROUGH:
    case DW_GUIDE_YARD:
        break;
    }
    return false;
}

bool dwi_saws_way(const struct saws *saws, const struct pass *pass, struct way *way)
{
    static const enum dw_guide usual[] = {DW_GUIDE_FENCE, DW_GUIDE_STOP, DW_GUIDE_TRACK, DW_GUIDE_OUTSIDE};
    static const enum dw_guide on_sheet[] = {DW_GUIDE_TRACK, DW_GUIDE_FENCE, DW_GUIDE_STOP, DW_GUIDE_OUTSIDE};
    static const enum dw_guide off_rough[] = {DW_GUIDE_FENCE, DW_GUIDE_TRACK, DW_GUIDE_STOP, DW_GUIDE_OUTSIDE};
    const enum dw_guide *guides = pass->off_rough ? off_rough : pass->whole_sheet || pass->trim ? on_sheet : usual;
    for (size_t g = 0; g < sizeof usual / sizeof *usual; g++)
        for (size_t i = 0; i < saws->count; i++) {
            *way = (struct way){.saw = i, .guide = guides[g]};
            if (pass->trim ? trim_way(&saws->at[i], pass, way) : piece_way(&saws->at[i], pass, way))
                return true;
        }
    return false;
}

bool dwi_saws_rough_way(const struct saws *saws, bool yard, const struct pass *pass, struct way *way)
{
    const size_t yards = saws->total - 1;
    for (size_t i = yard ? yards : 0; i < saws->total - (yard ? 0 : 1); i++) {
        const struct dw_saw *saw = &saws->at[i];
        *way = (struct way){.saw = i, .guide = yard ? DW_GUIDE_YARD : DW_GUIDE_ROUGH, .setting = pass->size, .off = pass->size,
                            .rest = pass->across - pass->size - saw->kerf};
        if (saw->kind != DW_TABLE_SAW && (saw->cut_longest <= 0 || pass->along <= saw->cut_longest))
            return true;
    }
    return false;
}

const char *dwi_saws_tool(const struct saws *saws, const struct way *way)
{
    switch (way->guide) {
    case DW_GUIDE_FENCE:
        return "rip fence";
    case DW_GUIDE_OUTSIDE:
        return "rip fence, keeping the outside piece";
    case DW_GUIDE_STOP:
        return "sled or miter gauge with a stop";
    case DW_GUIDE_YARD:
        return "panel saw of the yard";
    case DW_GUIDE_TRACK:
    case DW_GUIDE_ROUGH:
        break;
    }
    switch (saws->at[way->saw].kind) {
    case DW_PANEL_SAW:
        return "panel saw";
    case DW_CIRCULAR_SAW:
        return "circular saw along a straightedge";
    case DW_TABLE_SAW:
    case DW_TRACK_SAW:
        break;
    }
    return "track";
}
