/* cuts.c - follows the ladder from a sheet as bought: each cut takes a piece off one side of a panel and leaves the rest at the other, so that
 * sizes alone tell where everything lies. */
#include "cuts.h"

#include <drawerwright/memory.h>

struct placed {
    dw_length x, y;
    bool trunk; /* what is left of the sheet itself */
};

/* Where the rest of a panel lies: at the side that the cut did not take. */
static struct placed place_rest(const struct dw_panel *panels, const struct dw_ladder_cut *cut, struct placed at)
{
    const struct dw_panel *panel = &panels[cut->panel];
    const struct dw_panel *rest = &panels[cut->rest];
    if (!cut->high && cut->cut == DW_RIP)
        at.y += panel->width - rest->width;
    if (!cut->high && cut->cut == DW_CROSSCUT)
        at.x += panel->length - rest->length;
    return at;
}

/* Middle of what the blade takes between off and rest; the far edge of off when nothing is left. */
static dw_length blade_at(const struct dw_panel *panels, const struct dw_ladder_cut *cut, struct placed at)
{
    const bool rip = cut->cut == DW_RIP;
    const dw_length start = rip ? at.y : at.x;
    const dw_length whole = rip ? panels[cut->panel].width : panels[cut->panel].length;
    const dw_length off = rip ? panels[cut->off].width : panels[cut->off].length;
    const dw_length rest = cut->rest == DW_NO_INDEX ? whole - off : rip ? panels[cut->rest].width : panels[cut->rest].length;
    return cut->high ? start + (rest + whole - off) / 2 : start + (off + whole - rest) / 2;
}

struct dwi_first_cuts dwi_first_cuts_of(struct dw_arena *arena, const struct dw_material_layout *layout, size_t sheet)
{
    const struct dw_ladder *ladder = &layout->ladder;
    if (sheet >= ladder->panel_count)
        return (struct dwi_first_cuts){0};
    struct placed *placed = dw_arena_alloc(arena, ladder->panel_count, sizeof *placed);
    struct dwi_first_cut *found = dw_arena_alloc(arena, ladder->cuts + 1, sizeof *found);
    size_t count = 0;
    placed[sheet].trunk = true;
    for (size_t r = 0; r < ladder->rung_count; r++)
        for (size_t c = 0; c < ladder->rungs[r].cut_count; c++) {
            const struct dw_ladder_cut *cut = &ladder->rungs[r].cuts[c];
            if (ladder->panels[cut->panel].sheet != sheet || !placed[cut->panel].trunk)
                continue;
            if (ladder->rungs[r].kind != DW_LADDER_TRIM)
                found[count++] = (struct dwi_first_cut){cut->cut, blade_at(ladder->panels, cut, placed[cut->panel]), ladder->rungs[r].number};
            if (cut->rest != DW_NO_INDEX)
                placed[cut->rest] = place_rest(ladder->panels, cut, placed[cut->panel]);
        }
    return (struct dwi_first_cuts){.at = found, .count = count};
}
