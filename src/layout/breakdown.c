/* breakdown.c - a sheet broken down by rough cuts before its true ones.
 *
 * A sheet that is too heavy or too large to be handled at the saw, or to fit the van, is first cut roughly into panels. At a rough edge each panel
 * is over size, and what is over is trimmed off when the panel is light enough to be cut well; so between two panels go twice the over-size and the
 * kerf of the rough saw, where a true cut takes one kerf.
 *
 * The rough cuts are some of the sheet's own first cuts, so that nothing is cut through that the layout wants whole. The pieces of the first cuts
 * stand side by side; they are bundled in their order, into as few bundles as the limits allow, as even as may be, and a rough cut goes between
 * bundles. A piece that is over the limits by itself is broken down in its turn, by its own first cuts. The room for the rough cuts is taken from
 * what is left at the end: waste first, then an offcut. Where there is none, the sheet stays as it is, and a plan that leaves room may be sought
 * (room.c).
 */
#include "breakdown.h"

#include <string.h>

#include <drawerwright/memory.h>

#include "frame.h"
#include "nodes.h"

__extension__ typedef __int128 wide;

enum { X_LOW, X_HIGH, Y_LOW, Y_HIGH, SIDES };

/* What a panel has beyond its node: a factory edge not yet trimmed, or the over-size of a rough one. */
struct beyond {
    dw_length at[SIDES];
};

/* ---- limits ---- */

struct box dwi_box(dw_length length, dw_length width)
{
    const dw_length x = length > 0 ? length : DW_LENGTH_MAX, y = width > 0 ? width : x;
    return (struct box){.longer = dw_most(x, y), .shorter = dw_least(x, y)};
}

static const char *side_words(struct dw_arena *arena, const struct dw_parts *const *jobs, dw_length side)
{
    return side < DW_LENGTH_MAX ? dwi_layout_show(arena, jobs, side) : "any length";
}

const char *dwi_box_words(struct dw_arena *arena, const struct dw_parts *const *jobs, const struct box *box)
{
    return dw_arena_format(arena, "%s x %s", side_words(arena, jobs, box->shorter), side_words(arena, jobs, box->longer));
}

bool dwi_box_holds(const struct box *box, dw_length length, dw_length width)
{
    return dw_most(length, width) <= box->longer && dw_least(length, width) <= box->shorter;
}

/* 1 m is 16 000 000 units. */
dw_mass dwi_panel_weight(const struct dw_material *material, dw_length length, dw_length width)
{
    const wide meter = (wide)1000 * DW_MM;
    const wide volume = (wide)length * width * material->thickness / 1000000; /* < 2^95, so times density < 2^127 */
    return (dw_mass)(volume * material->density / (meter * meter * meter / 1000000 / 1000));
}

static bool is_handy(const struct breaking *breaking, dw_length length, dw_length width)
{
    return dwi_box_holds(&breaking->handle, length, width) && dwi_panel_weight(breaking->material, length, width) <= breaking->lift;
}

static bool fits(const struct breaking *breaking, dw_length length, dw_length width)
{
    return (!breaking->yard || dwi_box_holds(&breaking->van, length, width)) && is_handy(breaking, length, width);
}

dw_length dwi_rough_gap(const struct breaking *breaking, dw_length along)
{
    struct way way;
    if (!dwi_saws_rough_way(&breaking->saws, breaking->yard, &(struct pass){.along = along}, &way))
        return 0;
    return 2 * breaking->over + breaking->saws.at[way.saw].kerf;
}

bool dwi_breaking_of(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, const struct dw_sheet_source *source,
                     struct dw_arena *arena, struct breaking *breaking)
{
    const struct dw_shop *shop = &first_job(jobs)->shop;
    const struct dw_habits *habits = &shop->habits;
    *breaking = (struct breaking){.material = &shop->materials[problem->material], .van = dwi_box(habits->van_length, habits->van_width),
                                  .handle = dwi_box(habits->handle_length, habits->handle_width), .lift = problem->lift_most,
                                  .over = habits->rough_over, .kerf = problem->request.kerf, .keep = &problem->request.keep};
    breaking->yard = !source->owned && !dwi_box_holds(&breaking->van, source->length, source->width);
    if (!breaking->yard && (breaking->over <= 0 || is_handy(breaking, source->length, source->width)))
        return false;
    breaking->saws = dwi_saws_of(shop, problem->request.kerf, arena);
    return dwi_rough_gap(breaking, dw_least(source->length, source->width)) > 0;
}

/* ---- pieces side by side ---- */

static dw_length *along_cut(struct dw_layout_node *node, enum dw_cut cut)
{
    return cut == DW_CROSSCUT ? &node->length : &node->width;
}

/* A node's pieces while they are bundled: a copy, so that a node that cannot be broken down stays as it was. */
struct bundling {
    const struct breaking *breaking;
    struct dw_arena *arena;
    enum dw_cut cut;
    struct dw_layout_node *pieces;
    size_t count;
    dw_length whole, rest;     /* of the node along the cut; what is past the last piece */
    dw_length gap;             /* between two bundles */
    dw_length low, high, cross; /* of the panel: beyond the node at both ends, and all of it across */
    size_t *ends;              /* of each bundle, the first piece behind it */
    size_t bundle_count;
};

static bool holds(const struct bundling *bundling, dw_length along)
{
    const bool crosscut = bundling->cut == DW_CROSSCUT;
    return fits(bundling->breaking, crosscut ? along : bundling->cross, crosscut ? bundling->cross : along);
}

/* Bundles in this order: each takes pieces as long as its panel is within the limits and comes no farther from `wish`. */
static void bundle_to(struct bundling *bundling, dw_length wish)
{
    const dw_length kerf = bundling->breaking->kerf, over = bundling->breaking->over;
    bundling->bundle_count = 0;
    for (size_t first = 0, end = 0; first < bundling->count; first = end) {
        dw_length size = dwi_size_along(&bundling->pieces[first], bundling->cut) + (first == 0 ? bundling->low : over);
        for (end = first + 1; end < bundling->count; end++) {
            const dw_length next = size + kerf + dwi_size_along(&bundling->pieces[end], bundling->cut);
            if (next - wish > wish - size || !holds(bundling, next + (end + 1 == bundling->count ? bundling->high + bundling->rest : over)))
                break;
            size = next;
        }
        bundling->ends[bundling->bundle_count++] = end;
    }
}

/* As few bundles as there can be, and these as even as that allows. */
static void bundle(struct bundling *bundling)
{
    bundle_to(bundling, DW_LENGTH_MAX);
    const size_t fewest = bundling->bundle_count;
    bundle_to(bundling, (bundling->low + bundling->whole + bundling->high) / (dw_length)fewest);
    if (bundling->bundle_count > fewest)
        bundle_to(bundling, DW_LENGTH_MAX);
}

static bool is_worth_keeping(const struct dw_cut_keep *keep, const struct dw_layout_node *node)
{
    return dw_most(node->length, node->width) >= keep->least_length && dw_least(node->length, node->width) >= keep->least_width;
}

static void be_waste(struct dw_layout_node *node)
{
    node->use = DW_NODE_WASTE;
    node->mark = "";
}

/* Takes so much from the last piece, which must be waste or an offcut; all of it where it is no more than that. */
static bool give_room(struct bundling *bundling, dw_length wanted)
{
    struct dw_layout_node *last = &bundling->pieces[bundling->count - 1];
    if (last->use != DW_NODE_WASTE && last->use != DW_NODE_KEEP)
        return false;
    dw_length *size = along_cut(last, bundling->cut);
    if (*size <= wanted) {
        bundling->rest += *size + bundling->breaking->kerf;
        return --bundling->count > 0;
    }
    *size -= wanted;
    bundling->rest += wanted;
    if (last->use == DW_NODE_KEEP && !is_worth_keeping(bundling->breaking->keep, last))
        be_waste(last);
    return true;
}

/* Bundles the pieces with room for a gap between bundles; false when there is none. Every round takes from the last piece, so it ends. */
static bool make_room(struct bundling *bundling)
{
    for (;;) {
        bundle(bundling);
        const dw_length wanted = (dw_length)(bundling->bundle_count - 1) * (bundling->gap - bundling->breaking->kerf);
        if (wanted <= bundling->rest)
            return bundling->bundle_count > 1;
        if (!give_room(bundling, wanted - bundling->rest))
            return false;
    }
}

/* ---- panels ---- */

static void shift(struct dw_layout_node *node, dw_length dx, dw_length dy, struct dw_arena *arena)
{
    node->x += dx;
    node->y += dy;
    if (node->use != DW_NODE_CUT || (dx == 0 && dy == 0))
        return;
    struct dw_layout_node *pieces = dw_arena_copy(arena, node->pieces, node->piece_count, sizeof *pieces);
    for (size_t i = 0; i < node->piece_count; i++)
        shift(&pieces[i], dx, dy, arena);
    node->pieces = pieces;
}

/* Pieces [first, end) as one node `size` along the cut, at `at` of it. A piece that is the whole node is the node itself. */
static struct dw_layout_node panel_of(const struct bundling *bundling, size_t first, size_t end, dw_length at, dw_length size)
{
    const bool crosscut = bundling->cut == DW_CROSSCUT;
    struct dw_layout_node *pieces = &bundling->pieces[first];
    struct dw_layout_node *last = &bundling->pieces[end - 1];
    struct dw_layout_node panel = *pieces;
    const dw_length place = crosscut ? pieces->x : pieces->y;
    last->after = 0;
    dw_length used = -bundling->breaking->kerf;
    for (size_t i = first; i < end; i++)
        used += dwi_size_along(&bundling->pieces[i], bundling->cut) + bundling->breaking->kerf;
    if (last->use == DW_NODE_WASTE || last->use == DW_NODE_KEEP) {
        *along_cut(last, bundling->cut) += size - used;
        panel = *pieces;
        used = size;
    }
    if (end - first > 1 || used < size) {
        panel.use = DW_NODE_CUT;
        panel.cut = bundling->cut;
        panel.pieces = pieces;
        panel.piece_count = end - first;
        panel.in_order = panel.rough = false;
        panel.mark = "";
        *along_cut(&panel, bundling->cut) = size;
    }
    shift(&panel, crosscut ? at - place : 0, crosscut ? 0 : at - place, bundling->arena);
    return panel;
}

static struct beyond beyond_panel(const struct bundling *bundling, struct beyond beyond, size_t number)
{
    const int low = bundling->cut == DW_CROSSCUT ? X_LOW : Y_LOW;
    if (number > 0)
        beyond.at[low] = bundling->breaking->over;
    if (number + 1 < bundling->bundle_count)
        beyond.at[low + 1] = bundling->breaking->over;
    return beyond;
}

static bool open_up(const struct breaking *breaking, struct dw_arena *arena, struct dw_layout_node *node, struct beyond beyond);

/* The bundles as the rough node's panels; true when all of them are within the limits. */
static bool separate(const struct bundling *bundling, struct dw_layout_node *node, struct beyond beyond)
{
    struct dw_layout_node *panels = dw_arena_alloc(bundling->arena, bundling->bundle_count, sizeof *panels);
    dw_length at = bundling->cut == DW_CROSSCUT ? node->x : node->y;
    const dw_length end_of_all = at + bundling->whole;
    bool all = true;
    for (size_t i = 0, first = 0; i < bundling->bundle_count; first = bundling->ends[i++]) {
        dw_length size = -bundling->breaking->kerf;
        for (size_t p = first; p < bundling->ends[i]; p++)
            size += dwi_size_along(&bundling->pieces[p], bundling->cut) + bundling->breaking->kerf;
        const bool is_last = i + 1 == bundling->bundle_count;
        panels[i] = panel_of(bundling, first, bundling->ends[i], at, is_last ? end_of_all - at : size);
        panels[i].after = is_last ? 0 : bundling->gap;
        all = open_up(bundling->breaking, bundling->arena, &panels[i], beyond_panel(bundling, beyond, i)) && all;
        at += size + bundling->gap;
    }
    node->pieces = panels;
    node->piece_count = bundling->bundle_count;
    node->rough = node->in_order = true;
    return all;
}

static struct bundling bundling_of(const struct breaking *breaking, struct dw_arena *arena, const struct dw_layout_node *node, struct beyond beyond)
{
    const bool crosscut = node->cut == DW_CROSSCUT;
    const int low = crosscut ? X_LOW : Y_LOW, side = crosscut ? Y_LOW : X_LOW;
    struct bundling bundling = {.breaking = breaking, .arena = arena, .cut = node->cut, .count = node->piece_count, .whole = dwi_size_along(node, node->cut),
                                .low = beyond.at[low], .high = beyond.at[low + 1], .ends = dw_arena_alloc(arena, node->piece_count, sizeof(size_t))};
    bundling.pieces = dw_arena_copy(arena, node->pieces, node->piece_count, sizeof *bundling.pieces);
    bundling.cross = (crosscut ? node->width : node->length) + beyond.at[side] + beyond.at[side + 1];
    bundling.gap = dwi_rough_gap(breaking, bundling.cross);
    bundling.rest = bundling.whole + breaking->kerf;
    for (size_t i = 0; i < node->piece_count; i++)
        bundling.rest -= dwi_size_along(&node->pieces[i], node->cut) + breaking->kerf;
    return bundling;
}

/* An offcut too large for the van is cut across its longer side into equal ones. */
static bool split_offcut(const struct breaking *breaking, struct dw_arena *arena, struct dw_layout_node *node, struct beyond beyond)
{
    enum { MOST = 26 };
    const enum dw_cut cut = node->length >= node->width ? DW_CROSSCUT : DW_RIP;
    const int low = cut == DW_CROSSCUT ? X_LOW : Y_LOW;
    const dw_length whole = dwi_size_along(node, cut), gap = 2 * breaking->over + breaking->kerf;
    const dw_length ends = dw_most(beyond.at[low], breaking->over) + dw_most(beyond.at[low + 1], breaking->over);
    dw_length count = 1, size = whole;
    while (count < MOST && size + ends > breaking->van.longer) {
        count++;
        size = (whole - (count - 1) * gap) / count;
    }
    if (count == 1 || size <= 0)
        return false;
    struct dw_layout_node *pieces = dw_arena_alloc(arena, (size_t)count, sizeof *pieces);
    bool all = true;
    for (dw_length i = 0; i < count; i++) {
        pieces[i] = *node;
        *along_cut(&pieces[i], cut) = i + 1 < count ? size : whole - i * (size + gap);
        *(cut == DW_CROSSCUT ? &pieces[i].x : &pieces[i].y) += i * (size + gap);
        pieces[i].mark = dw_arena_format(arena, "%s%c", node->mark, (char)('a' + i));
        pieces[i].after = i + 1 < count ? gap : 0;
        if (!is_worth_keeping(breaking->keep, &pieces[i]))
            be_waste(&pieces[i]);
        struct beyond own = beyond;
        own.at[low] = i == 0 ? own.at[low] : breaking->over;
        own.at[low + 1] = i + 1 == count ? own.at[low + 1] : breaking->over;
        all = open_up(breaking, arena, &pieces[i], own) && all;
    }
    node->use = DW_NODE_CUT;
    node->cut = cut;
    node->pieces = pieces;
    node->piece_count = (size_t)count;
    node->rough = node->in_order = true;
    node->mark = "";
    return all;
}

/* Breaks a node down until its panels are within the limits; false when not all of them come to be. Waste is not carried, and an offcut is broken
 * only for the van. */
static bool open_up(const struct breaking *breaking, struct dw_arena *arena, struct dw_layout_node *node, struct beyond beyond)
{
    const dw_length length = node->length + beyond.at[X_LOW] + beyond.at[X_HIGH], width = node->width + beyond.at[Y_LOW] + beyond.at[Y_HIGH];
    if (node->use == DW_NODE_WASTE || fits(breaking, length, width))
        return true;
    if (node->use == DW_NODE_KEEP)
        return !breaking->yard || dwi_box_holds(&breaking->van, length, width) || split_offcut(breaking, arena, node, beyond);
    if (node->use != DW_NODE_CUT || node->in_order)
        return false;
    struct bundling bundling = bundling_of(breaking, arena, node, beyond);
    return bundling.count > 0 && bundling.gap > 0 && make_room(&bundling) && separate(&bundling, node, beyond);
}

void dwi_break_down(const struct breaking *breaking, const struct dw_sheet_source *source, struct dw_arena *arena, struct dw_layout_sheet *sheet)
{
    struct beyond beyond;
    memcpy(beyond.at, source->trim, sizeof beyond.at);
    const struct dw_layout_node as_it_was = sheet->root;
    sheet->unwieldy = !open_up(breaking, arena, &sheet->root, beyond);
    if (sheet->unwieldy && breaking->yard) { /* then for the van alone */
        struct breaking van_only = *breaking;
        van_only.handle = dwi_box(0, 0);
        van_only.lift = INT64_MAX;
        sheet->root = as_it_was;
        sheet->over_van = !open_up(&van_only, arena, &sheet->root, beyond);
    }
    if (sheet->root.rough)
        sheet->broken = breaking->yard ? DW_SHEET_YARD : DW_SHEET_ROUGH;
}
