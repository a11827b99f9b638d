/* merit.c - what makes one layout better than another that holds the same parts.
 *
 * In order: the value of offcuts kept (their share of the sheet's area, times the sheet's value), fewer settings (a
 * setting is a kind of cut and a distance from the fence or stop; equal ones are cut together, also on different sheets, so one that
 * another layout needs costs nothing), fewer cuts, the largest offcut whole. Measured on the public tree, as the maker will cut it.
 */
#include "polish.h"

#include <stdlib.h>

#include <drawerwright/memory.h>

struct measuring {
    const struct stock *stock;
    struct dw_arena *arena;
    dw_length kerf;
    struct settings settings;  /* as noted, in no order and with repeats, until sorted */
    int64_t kept_area; /* in square units of the request */
    int64_t cuts;
    int64_t largest;
};

static void note_setting(struct measuring *measuring, dw_length distance, enum dw_cut cut)
{
    struct settings *settings = &measuring->settings;
    settings->at =
        dw_arena_grow(measuring->arena, settings->at, settings->count, &settings->capacity, sizeof *settings->at);
    settings->at[settings->count++] = (struct setting){distance, (int)cut};
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

/* Rising order, each once. */
static void sort_settings(struct settings *settings)
{
    size_t kept = 0;
    if (settings->count > 0)
        qsort(settings->at, settings->count, sizeof *settings->at, compare_settings);
    for (size_t i = 0; i < settings->count; i++)
        if (kept == 0 || compare_settings(&settings->at[kept - 1], &settings->at[i]) != 0)
            settings->at[kept++] = settings->at[i];
    settings->count = kept;
}

static int64_t count_unknown(const struct settings *settings, const struct settings *known)
{
    int64_t unknown = 0;
    for (size_t i = 0; i < settings->count; i++)
        unknown += known->count == 0 ||
                   bsearch(&settings->at[i], known->at, known->count, sizeof *known->at, compare_settings) == NULL;
    return unknown;
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

/* Walks the layout as it will be cut; returns its whole area. */
static int64_t measure_layout(struct measuring *measuring, const struct problem *problem, const struct pattern *pattern)
{
    measuring->stock = &problem->stocks[pattern->stock];
    measuring->kerf = problem->request->kerf;
    const struct dw_cut_node root = dwi_layout_write(problem, pattern, measuring->arena);
    measure(measuring, &root);
    sort_settings(&measuring->settings);
    return root.length * root.width;
}

struct merit dwi_merit_of(const struct problem *problem, const struct pattern *pattern, const struct settings *known,
                          struct dw_arena *arena)
{
    struct measuring measuring = {.arena = arena};
    const int64_t whole_area = measure_layout(&measuring, problem, pattern);
    return (struct merit){
        .kept = value_kept(&measuring, whole_area),
        .settings = count_unknown(&measuring.settings, known),
        .cuts = measuring.cuts,
        .largest = measuring.largest,
    };
}

void dwi_settings_add(struct settings *known, const struct problem *problem, const struct pattern *pattern, struct dw_arena *arena)
{
    struct dw_arena *work = dw_arena_child(arena);
    struct measuring measuring = {.arena = work};
    (void)measure_layout(&measuring, problem, pattern);
    for (size_t i = 0; i < measuring.settings.count; i++) {
        known->at = dw_arena_grow(arena, known->at, known->count, &known->capacity, sizeof *known->at);
        known->at[known->count++] = measuring.settings.at[i];
    }
    sort_settings(known);
    dw_arena_free(work);
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
