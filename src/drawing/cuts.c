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

/* The cuts of one sheet while they are gathered. */
struct gathering {
    const struct dw_panel *panels;
    size_t sheet;
    struct placed *placed;
    struct dwi_first_cut *first;
    struct dwi_later_cut *later;
    struct dwi_strip *strips;
    struct dwi_sheet_cuts cuts; /* counts */
};

/* A strip has a name of its own and is cut further. */
static void add_strip(struct gathering *all, size_t panel)
{
    const struct dw_panel *of = &all->panels[panel];
    const struct placed at = all->placed[panel];
    if (of->use == DW_NODE_CUT)
        all->strips[all->cuts.strip_count++] = (struct dwi_strip){at.x, at.y, of->length, of->width, of->name};
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
static void follow_trunk(struct gathering *all, const struct dw_ladder_rung *rung, const struct dw_ladder_cut *cut)
{
    if (rung->kind != DW_LADDER_TRIM) {
        all->first[all->cuts.first_count++] = (struct dwi_first_cut){cut->cut, blade_at(all->panels, cut, all->placed[cut->panel]), rung->number};
        add_strip(all, cut->off);
    }
    if (cut->rest == DW_NO_INDEX)
        return;
    all->placed[cut->rest].trunk = strcmp(all->panels[cut->rest].name, all->panels[all->sheet].name) == 0;
    if (!all->placed[cut->rest].trunk)
        add_strip(all, cut->rest);
}

static void follow_branch(struct gathering *all, const struct dw_ladder_rung *rung, const struct dw_ladder_cut *cut)
{
    const struct placed at = all->placed[cut->panel];
    const struct dw_panel *panel = &all->panels[cut->panel];
    const dw_length blade = blade_at(all->panels, cut, at);
    all->later[all->cuts.later_count++] = cut->cut == DW_RIP ? (struct dwi_later_cut){cut->cut, at.x, blade, panel->length, rung->number}
                                                             : (struct dwi_later_cut){cut->cut, blade, at.y, panel->width, rung->number};
}

static void follow(struct gathering *all, const struct dw_ladder_rung *rung, const struct dw_ladder_cut *cut)
{
    const struct placed at = all->placed[cut->panel];
    all->placed[cut->off] = place_off(all->panels, cut, at);
    if (cut->rest != DW_NO_INDEX) {
        all->placed[cut->rest] = place_rest(all->panels, cut, at);
        all->placed[cut->rest].trunk = false;
    }
    if (at.trunk)
        follow_trunk(all, rung, cut);
    else
        follow_branch(all, rung, cut);
}

/* The cuts of one sheet are few among those of the whole ladder: they are gathered in room for all, and only they are kept. */
struct dwi_sheet_cuts dwi_sheet_cuts_of(struct dw_arena *arena, const struct dw_material_layout *layout, size_t sheet)
{
    const struct dw_ladder *ladder = &layout->ladder;
    if (sheet >= ladder->panel_count)
        return (struct dwi_sheet_cuts){0};
    struct dw_arena *work = dw_arena_child(arena);
    struct gathering all = {.panels = ladder->panels, .sheet = sheet};
    all.placed = dw_arena_alloc(work, ladder->panel_count, sizeof *all.placed);
    all.first = dw_arena_alloc(work, ladder->cuts + 1, sizeof *all.first);
    all.later = dw_arena_alloc(work, ladder->cuts + 1, sizeof *all.later);
    all.strips = dw_arena_alloc(work, ladder->panel_count, sizeof *all.strips);
    all.placed[sheet].trunk = true;
    for (size_t r = 0; r < ladder->rung_count; r++)
        for (size_t c = 0; c < ladder->rungs[r].cut_count; c++)
            if (ladder->panels[ladder->rungs[r].cuts[c].panel].sheet == sheet)
                follow(&all, &ladder->rungs[r], &ladder->rungs[r].cuts[c]);
    all.cuts.first = dw_arena_copy(arena, all.first, all.cuts.first_count, sizeof *all.first);
    all.cuts.later = dw_arena_copy(arena, all.later, all.cuts.later_count, sizeof *all.later);
    all.cuts.strips = dw_arena_copy(arena, all.strips, all.cuts.strip_count, sizeof *all.strips);
    dw_arena_free(work);
    return all.cuts;
}
