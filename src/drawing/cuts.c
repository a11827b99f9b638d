/* cuts.c - the cuts of the ladder found on the drawing of a sheet.
 *
 * A strip's pieces may be cut in another order than they are drawn in: at the saw settings decide, and what is left of a strip is what it is wherever
 * a piece came off. So no cut is followed by where it would fall. It is found by what it frees: pieces and offcuts lie where the drawing has
 * them, a panel lies where all that becomes of it lies, and the number belongs to the edge of the freed node that faces what is left in the end.
 */
#include "cuts.h"

#include <string.h>

#include <drawerwright/memory.h>

/* A stretch of the sheet; empty when nothing but waste becomes of a panel. */
struct place {
    dw_length x, y, x2, y2;
    bool any;
};

struct one_cut {
    const struct dw_ladder_rung *rung;
    const struct dw_ladder_cut *cut;
};

struct gathering {
    const struct dw_ladder *ladder;
    const struct dw_layout_node *root;
    dw_length kerf;
    size_t sheet;
    struct one_cut *all;   /* of this sheet, in the order of work */
    size_t count;
    struct place *places;  /* of each panel */
    size_t *next;          /* the cut that divides each panel, one more than its index in `all`; 0: none */
    bool *trunk;           /* is the panel what is left of the sheet itself? */
    struct dwi_first_cut *first;
    struct dwi_later_cut *later;
    struct dwi_strip *strips;
    struct dwi_sheet_cuts cuts; /* counts */
};

static const struct dw_panel *panel_of(const struct gathering *gathering, size_t panel)
{
    return &gathering->ladder->panels[panel];
}

static struct place place_of_node(const struct dw_layout_node *node)
{
    return (struct place){node->x, node->y, node->x + node->length, node->y + node->width, true};
}

static struct place both(struct place a, struct place b)
{
    if (!a.any || !b.any)
        return a.any ? a : b;
    return (struct place){dw_least(a.x, b.x), dw_least(a.y, b.y), dw_most(a.x2, b.x2), dw_most(a.y2, b.y2), true};
}

static bool contains(const struct dw_layout_node *node, struct place place)
{
    return node->x <= place.x && node->y <= place.y && node->x + node->length >= place.x2 && node->y + node->width >= place.y2;
}

/* Where the tree has a piece or an offcut. */
static struct place place_of_leaf(const struct dw_layout_node *node, const struct dw_panel *panel)
{
    const struct dw_piece_ref a = node->piece;
    const struct dw_piece_ref b = panel->piece;
    struct place found = {.any = false};
    if (node->use == DW_NODE_PART && panel->use == DW_NODE_PART && a.job == b.job && a.part == b.part && a.piece == b.piece)
        return place_of_node(node);
    if (node->use == DW_NODE_KEEP && panel->use == DW_NODE_KEEP && strcmp(node->mark, panel->name) == 0)
        return place_of_node(node);
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count && !found.any; i++)
        found = place_of_leaf(&node->pieces[i], panel);
    return found;
}

/* The cuts of this sheet are few among those of the whole ladder. */
static void collect(struct gathering *gathering)
{
    const struct dw_ladder *ladder = gathering->ladder;
    for (size_t r = 0; r < ladder->rung_count; r++)
        for (size_t c = 0; c < ladder->rungs[r].cut_count; c++) {
            const struct dw_ladder_cut *cut = &ladder->rungs[r].cuts[c];
            if (ladder->panels[cut->panel].sheet != gathering->sheet)
                continue;
            gathering->all[gathering->count++] = (struct one_cut){&ladder->rungs[r], cut};
            gathering->next[cut->panel] = gathering->count;
        }
}

static void place_panel(struct gathering *gathering, size_t panel)
{
    if (gathering->next[panel] == 0 && (panel_of(gathering, panel)->use == DW_NODE_PART || panel_of(gathering, panel)->use == DW_NODE_KEEP))
        gathering->places[panel] = place_of_leaf(gathering->root, panel_of(gathering, panel));
}

/* From the last cut to the first: what a panel is divided into lies somewhere, and so the panel does. */
static void place_panels(struct gathering *gathering)
{
    for (size_t i = gathering->count; i > 0; i--) {
        const struct dw_ladder_cut *cut = gathering->all[i - 1].cut;
        const size_t made[] = {cut->off, cut->rest}; /* either may be gone in the kerf */
        for (size_t k = 0; k < 2; k++) {
            if (made[k] == DW_NO_INDEX)
                continue;
            place_panel(gathering, made[k]);
            gathering->places[cut->panel] = both(gathering->places[cut->panel], gathering->places[made[k]]);
        }
    }
}

static bool is_rough(const struct gathering *gathering, const struct dw_ladder_cut *cut)
{
    return dw_rung_is_rough(gathering->all[gathering->next[cut->panel] - 1].rung);
}

/* What a cut frees, as the drawing has it: on the way down to it the first node of its size across the cut. What is cut roughly is larger than its
 * node, which its panel knows. */
static struct place freed(const struct gathering *gathering, const struct dw_ladder_cut *cut)
{
    if (is_rough(gathering, cut))
        return place_of_node(panel_of(gathering, cut->off)->node);
    const struct place place = gathering->places[cut->off];
    const struct dw_panel *off = panel_of(gathering, cut->off);
    const struct dw_layout_node *node = gathering->root;
    while (cut->cut == DW_RIP ? node->width != off->width : node->length != off->length) {
        const struct dw_layout_node *below = NULL;
        for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count && below == NULL; i++)
            below = contains(&node->pieces[i], place) ? &node->pieces[i] : NULL;
        if (below == NULL)
            return place;
        node = below;
    }
    return place_of_node(node);
}

/* What is left in the end when all cuts of this direction are made. */
static struct place left_in_the_end(const struct gathering *gathering, const struct dw_ladder_cut *cut)
{
    size_t rest = cut->rest;
    while (rest != DW_NO_INDEX && gathering->next[rest] != 0 && gathering->all[gathering->next[rest] - 1].cut->cut == cut->cut)
        rest = gathering->all[gathering->next[rest] - 1].cut->rest;
    if (rest == DW_NO_INDEX)
        return (struct place){.any = false};
    return gathering->places[rest];
}

/* Middle of the kerf (at a rough cut with what is over at both its sides) beside what is freed, on the side of what is left in the end; at its high side
 * where nothing is left. */
static dw_length blade_at(const struct gathering *gathering, const struct dw_ladder_cut *cut, struct place off)
{
    const struct place last = left_in_the_end(gathering, cut);
    const bool rip = cut->cut == DW_RIP;
    const dw_length gap = is_rough(gathering, cut) ? panel_of(gathering, cut->off)->node->after : gathering->kerf;
    const bool below = last.any && (rip ? last.y2 <= off.y : last.x2 <= off.x);
    if (below)
        return (rip ? off.y : off.x) - gap / 2;
    return (rip ? off.y2 : off.x2) + gap / 2;
}

/* A strip has a name of its own and is cut further. */
static void add_strip(struct gathering *gathering, size_t panel, struct place at)
{
    const struct dw_panel *of = panel_of(gathering, panel);
    if (of->use == DW_NODE_CUT && at.any)
        gathering->strips[gathering->cuts.strip_count++] = (struct dwi_strip){at.x, at.y, at.x2 - at.x, at.y2 - at.y, of->name};
}

static void add_first(struct gathering *gathering, const struct one_cut *one, struct place off, dw_length blade)
{
    gathering->first[gathering->cuts.first_count++] = (struct dwi_first_cut){one->cut->cut, blade, one->rung->number};
    add_strip(gathering, one->cut->off, off);
}

static void add_later(struct gathering *gathering, const struct one_cut *one, struct place off, dw_length blade)
{
    const bool rip = one->cut->cut == DW_RIP;
    gathering->later[gathering->cuts.later_count++] =
        (struct dwi_later_cut){one->cut->cut, rip ? off.x : blade, rip ? blade : off.y, rip ? off.x2 - off.x : off.y2 - off.y, one->rung->number};
}

/* Trims and what frees nothing but waste go without a number. What is left of the sheet bears its name still, or is the last strip. */
static void add_cut(struct gathering *gathering, const struct one_cut *one)
{
    const struct dw_ladder_cut *cut = one->cut;
    const bool of_trunk = gathering->trunk[cut->panel];
    if (one->rung->kind != DW_LADDER_TRIM && cut->off != DW_NO_INDEX && gathering->places[cut->off].any) {
        const struct place off = freed(gathering, cut);
        const dw_length blade = blade_at(gathering, cut, off);
        if (of_trunk)
            add_first(gathering, one, off, blade);
        else
            add_later(gathering, one, off, blade);
    }
    if (cut->rest == DW_NO_INDEX || !of_trunk)
        return;
    gathering->trunk[cut->rest] = strcmp(panel_of(gathering, cut->rest)->name, panel_of(gathering, gathering->sheet)->name) == 0;
    if (!gathering->trunk[cut->rest])
        add_strip(gathering, cut->rest, gathering->places[cut->rest]);
}

/* They are gathered in room for all of the ladder, and only they are kept. */
struct dwi_sheet_cuts dwi_sheet_cuts_of(struct dw_arena *arena, const struct dw_material_layout *layout, size_t sheet)
{
    const struct dw_ladder *ladder = &layout->ladder;
    if (sheet >= ladder->panel_count)
        return (struct dwi_sheet_cuts){0};
    struct dw_arena *work = dw_arena_child(arena);
    struct gathering gathering = {.ladder = ladder, .root = &layout->sheets[sheet].root, .kerf = layout->problem->request.kerf, .sheet = sheet};
    gathering.all = dw_arena_alloc(work, ladder->cuts + 1, sizeof *gathering.all);
    gathering.places = dw_arena_alloc(work, ladder->panel_count, sizeof *gathering.places);
    gathering.next = dw_arena_alloc(work, ladder->panel_count, sizeof *gathering.next);
    gathering.trunk = dw_arena_alloc(work, ladder->panel_count, sizeof *gathering.trunk);
    gathering.first = dw_arena_alloc(work, ladder->cuts + 1, sizeof *gathering.first);
    gathering.later = dw_arena_alloc(work, ladder->cuts + 1, sizeof *gathering.later);
    gathering.strips = dw_arena_alloc(work, ladder->panel_count, sizeof *gathering.strips);
    gathering.trunk[sheet] = true;
    collect(&gathering);
    place_panels(&gathering);
    for (size_t i = 0; i < gathering.count; i++)
        add_cut(&gathering, &gathering.all[i]);
    gathering.cuts.first = dw_arena_copy(arena, gathering.first, gathering.cuts.first_count, sizeof *gathering.first);
    gathering.cuts.later = dw_arena_copy(arena, gathering.later, gathering.cuts.later_count, sizeof *gathering.later);
    gathering.cuts.strips = dw_arena_copy(arena, gathering.strips, gathering.cuts.strip_count, sizeof *gathering.strips);
    dw_arena_free(work);
    return gathering.cuts;
}
