/* cuts.c - follows the ladder from a sheet as bought: each cut takes a piece off one side of a panel and leaves the rest at the other, so that
 * sizes alone tell where everything lies. */
#include "cuts.h"

#include <string.h>

#include <drawerwright/memory.h>

struct placed {
    dw_length x, y;
    bool trunk; /* what is left of the sheet itself, and bears its name still */
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

/* Where what comes off lies: at the side that the cut takes. */
static struct placed place_off(const struct dw_panel *panels, const struct dw_ladder_cut *cut, struct placed at)
{
    at.trunk = false;
    if (cut->high && cut->cut == DW_RIP)
        at.y += panels[cut->panel].width - panels[cut->off].width;
    if (cut->high && cut->cut == DW_CROSSCUT)
        at.x += panels[cut->panel].length - panels[cut->off].length;
    return at;
}

/* A strip has a name of its own and is cut further. */
static void add_strip(struct dwi_first_cuts *cuts, struct dwi_strip *strips, const struct dw_panel *panel, struct placed at)
{
    if (panel->use == DW_NODE_CUT)
        strips[cuts->strip_count++] = (struct dwi_strip){at.x, at.y, panel->length, panel->width, panel->name};
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

/* One cut of what is left of the sheet: where it runs, what comes off, and what is left then: trunk still, or the last strip. */
static void follow(struct dwi_first_cuts *cuts, struct dwi_first_cut *found, struct dwi_strip *strips, const struct dw_ladder_rung *rung,
                   const struct dw_ladder_cut *cut, const struct dw_panel *panels, size_t sheet, struct placed *placed)
{
    const struct placed at = placed[cut->panel];
    if (rung->kind != DW_LADDER_TRIM) {
        found[cuts->count++] = (struct dwi_first_cut){cut->cut, blade_at(panels, cut, at), rung->number};
        add_strip(cuts, strips, &panels[cut->off], place_off(panels, cut, at));
    }
    if (cut->rest == DW_NO_INDEX)
        return;
    placed[cut->rest] = place_rest(panels, cut, at);
    placed[cut->rest].trunk = strcmp(panels[cut->rest].name, panels[sheet].name) == 0;
    if (!placed[cut->rest].trunk)
        add_strip(cuts, strips, &panels[cut->rest], placed[cut->rest]);
}

/* The cuts of one sheet are few among those of the whole ladder: they are gathered in room for all, and only they are kept. */
struct dwi_first_cuts dwi_first_cuts_of(struct dw_arena *arena, const struct dw_material_layout *layout, size_t sheet)
{
    const struct dw_ladder *ladder = &layout->ladder;
    if (sheet >= ladder->panel_count)
        return (struct dwi_first_cuts){0};
    struct dw_arena *work = dw_arena_child(arena);
    struct placed *placed = dw_arena_alloc(work, ladder->panel_count, sizeof *placed);
    struct dwi_first_cut *found = dw_arena_alloc(work, ladder->cuts + 1, sizeof *found);
    struct dwi_strip *strips = dw_arena_alloc(work, ladder->panel_count, sizeof *strips);
    struct dwi_first_cuts cuts = {.at = NULL};
    placed[sheet].trunk = true;
    for (size_t r = 0; r < ladder->rung_count; r++)
        for (size_t c = 0; c < ladder->rungs[r].cut_count; c++) {
            const struct dw_ladder_cut *cut = &ladder->rungs[r].cuts[c];
            if (ladder->panels[cut->panel].sheet == sheet && placed[cut->panel].trunk)
                follow(&cuts, found, strips, &ladder->rungs[r], cut, ladder->panels, sheet, placed);
        }
    cuts.at = dw_arena_copy(arena, found, cuts.count, sizeof *found);
    cuts.strips = dw_arena_copy(arena, strips, cuts.strip_count, sizeof *strips);
    dw_arena_free(work);
    return cuts;
}
