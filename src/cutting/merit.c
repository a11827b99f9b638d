/* merit.c - what makes one layout better than another that holds the same parts.
 *
 * In order: the value of offcuts kept (their share of the sheet's area, times the sheet's value), fewer settings (a
 * setting is a kind of cut and a distance from the fence or stop; equal ones are cut together), fewer cuts, the largest offcut
 * whole. Measured on the public tree, as the maker will cut it.
 */
#include "polish.h"

#include <stdlib.h>

#include <drawerwright/memory.h>

struct setting {
    dw_length distance;
    int cut;
};

struct measuring {
    const struct stock *stock;
    struct dw_arena *arena;
    dw_length kerf;
    struct setting *settings;
    size_t setting_count, setting_capacity;
    int64_t kept_area; /* in square units of the request */
    int64_t cuts;
    int64_t largest;
};

static void note_setting(struct measuring *measuring, dw_length distance, enum dw_cut cut)
{
    measuring->settings = dw_arena_grow(measuring->arena, measuring->settings, measuring->setting_count,
                                        &measuring->setting_capacity, sizeof *measuring->settings);
    measuring->settings[measuring->setting_count++] = (struct setting){distance, (int)cut};
}

static void note_offcut(struct measuring *measuring, const struct dw_cut_node *node)
{
    const int64_t area = node->length * node->width;
    if (area > measuring->largest)
        measuring->largest = area;
    if (node->use == DW_NODE_KEEP)
        measuring->kept_area += area;
}

static void measure(struct measuring *measuring, const struct dw_cut_node *node)
{
    if (node->use == DW_NODE_WASTE || node->use == DW_NODE_KEEP)
        note_offcut(measuring, node);
    if (node->use != DW_NODE_CUT)
        return;
    const bool crosscut = node->cut == DW_CROSSCUT;
    const dw_length whole = crosscut ? node->length : node->width;
    dw_length used = 0;
    for (size_t i = 0; i < node->piece_count; i++) {
        const struct dw_cut_node *piece = &node->pieces[i];
        const dw_length extent = crosscut ? piece->length : piece->width;
        used += extent + (i > 0 ? measuring->kerf : 0);
        if (piece->use == DW_NODE_PART || piece->use == DW_NODE_CUT)
            note_setting(measuring, extent, node->cut);
        measure(measuring, piece);
    }
    measuring->cuts += (int64_t)node->piece_count - 1 + (used < whole);
}

static int compare_settings(const void *left, const void *right)
{
    const struct setting *a = left;
    const struct setting *b = right;
    if (a->distance != b->distance)
        return a->distance < b->distance ? -1 : 1;
    return a->cut - b->cut;
}

static int64_t distinct_settings(struct measuring *measuring)
{
    int64_t distinct = 0;
    if (measuring->setting_count > 0)
        qsort(measuring->settings, measuring->setting_count, sizeof *measuring->settings, compare_settings);
    for (size_t i = 0; i < measuring->setting_count; i++)
        distinct += i == 0 || compare_settings(&measuring->settings[i - 1], &measuring->settings[i]) != 0;
    return distinct;
}

/* Value of the share kept, in 1/1024: the share in 2^-20 first, for value is below 2^40 and the product must stay in range. */
static int64_t value_kept(const struct measuring *measuring, int64_t whole_area)
{
    int shift = 0;
    while (whole_area >> shift >= INT64_C(1) << 40)
        shift++;
    const int64_t share = ((measuring->kept_area >> shift) << 20) / ((whole_area >> shift) + 1);
    return (measuring->stock->value * share) >> 10;
}

struct merit dwi_merit_of(const struct problem *problem, const struct pattern *pattern, struct dw_arena *arena)
{
    struct measuring measuring = {
        .stock = &problem->stocks[pattern->stock],
        .arena = arena,
        .kerf = problem->request->kerf,
    };
    const struct dw_cut_node root = dwi_layout_write(problem, pattern, arena);
    measure(&measuring, &root);
    return (struct merit){
        .kept = value_kept(&measuring, root.length * root.width),
        .settings = distinct_settings(&measuring),
        .cuts = measuring.cuts,
        .largest = measuring.largest,
    };
}

int dwi_merit_compare(const struct merit *a, const struct merit *b)
{
    if (a->kept != b->kept)
        return a->kept > b->kept ? -1 : 1;
    if (a->settings != b->settings)
        return a->settings < b->settings ? -1 : 1;
    if (a->cuts != b->cuts)
        return a->cuts < b->cuts ? -1 : 1;
    return (a->largest < b->largest) - (a->largest > b->largest);
}
