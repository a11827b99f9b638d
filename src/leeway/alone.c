/* alone.c - one piece alone that forces a sheet: without it all the rest costs less, as sheets are sold.
 *
 * Only pieces that are not smaller than another both ways are taken out, largest first, a few for each material: where without such a one nothing is
 * saved and that is proved, it is so without all smaller ones too. A material of a single piece says nothing.
 */
#include "knobs.h"

#include <drawerwright/memory.h>

enum { TRIES_MOST = 6, TRY_WORK = 100000 };

/* No part of which another one is at least as large both ways, and larger one way. */
static bool is_outmost(const struct dw_cut_request *request, size_t part)
{
    const struct dw_cut_part *one = &request->parts[part];
    for (size_t p = 0; p < request->part_count; p++) {
        const struct dw_cut_part *other = &request->parts[p];
        const bool covers = other->length >= one->length && other->width >= one->width && (one->turn || !other->turn);
        if (p != part && covers && (other->length > one->length || other->width > one->width))
            return false;
    }
    return true;
}

static dw_area area_of(const struct dw_cut_part *part)
{
    return part->length * part->width;
}

/* The largest part not tried yet; part_count when none is left. */
static size_t next_part(const struct dw_cut_request *request, const bool *tried)
{
    size_t best = request->part_count;
    for (size_t p = 0; p < request->part_count; p++)
        if (!tried[p] && is_outmost(request, p) && (best == request->part_count || area_of(&request->parts[p]) > area_of(&request->parts[best])))
            best = p;
    return best;
}

/* Takes a part without pieces out; matched groups name their parts by number. */
static void drop_part(struct dw_parts *parts, struct dw_part *at, size_t part, struct dw_arena *arena)
{
    struct dw_match *matches = dw_arena_copy(arena, parts->matches, parts->match_count, sizeof *matches);
    for (size_t m = 0; m < parts->match_count; m++) {
        size_t *numbers = dw_arena_copy(arena, matches[m].parts, matches[m].count, sizeof *numbers);
        for (size_t i = 0; i < matches[m].count; i++)
            numbers[i] -= numbers[i] > part ? 1 : 0;
        matches[m].parts = numbers;
    }
    for (size_t p = part; p + 1 < parts->count; p++)
        at[p] = at[p + 1];
    parts->matches = matches;
    parts->count--;
}

/* The jobs' parts without the last piece of one part of a problem. */
static const struct dw_parts **without(const struct dwi_search *search, const struct dw_piece_ref *piece, struct dw_arena *arena)
{
    const struct dw_parts **jobs = dw_arena_copy(arena, search->before->layouts->jobs, search->job_count, sizeof *jobs);
    struct dw_parts *parts = dw_arena_copy(arena, jobs[piece->job], 1, sizeof *parts);
    struct dw_part *at = dw_arena_copy(arena, parts->at, parts->count, sizeof *at);
    struct dw_part *part = &at[piece->part];
    struct dw_piece *pieces = dw_arena_copy(arena, part->pieces, part->count, sizeof *pieces);
    for (size_t i = piece->piece; i + 1 < part->count; i++)
        pieces[i] = pieces[i + 1];
    part->pieces = pieces;
    part->count--;
    if (part->count == 0)
        drop_part(parts, at, piece->part, arena);
    parts->at = at;
    jobs[piece->job] = parts;
    return jobs;
}

/* Pieces of a matched group go by number, so their part is left whole. */
static bool is_matched(const struct dw_parts *parts, size_t part)
{
    for (size_t m = 0; m < parts->match_count; m++)
        for (size_t i = 0; i < parts->matches[m].count; i++)
            if (parts->matches[m].parts[i] == part)
                return true;
    return false;
}

/* What all sheets and deliveries together cost less without that piece, as they are sold; 0 when nothing was found. */
static dw_money saved_without(struct dwi_search *search, const struct dw_piece_ref *piece)
{
    struct dw_arena *arena = dw_arena_child(search->arena);
    struct dw_layout_options options = *search->layout;
    const struct dw_purchase *purchase = NULL;
    options.no_choices = true;
    options.work = TRY_WORK;
    options.known = search->before->coupled ? NULL : search->before->layouts;
    dw_money saved = 0;
    if (dw_purchase_make(without(search, piece, arena), search->job_count, &options, search->control, arena, search->heard, &purchase) == DW_DONE)
        saved = dw_most(search->before->sheets_cost - purchase->sheets_cost, 0);
    dw_arena_free(arena);
    return saved;
}

static const char *words_of(const struct dwi_search *search, const struct dw_material_layout *layout, const struct dw_leeway_alone *alone)
{
    const struct dw_parts *parts = search->before->layouts->jobs[alone->piece.job];
    const struct dw_part *part = &parts->at[alone->piece.part];
    const struct dw_piece *piece = &part->pieces[alone->piece.piece];
    const struct dw_shop *shop = &search->jobs[0]->shop;
    return dw_arena_format(search->arena, "%s %s%s%s alone forces a sheet of %s: without it %s less", part->name, piece->mark,
                           piece->drawer_path[0] == '\0' ? "" : " of ", piece->drawer_path, shop->materials[layout->problem->material].name,
                           dw_money_show_mark(search->arena, alone->saved, shop->prices.currency));
}

/* True when a piece of this material alone forces a sheet. */
static bool look(struct dwi_search *search, size_t m, struct dw_leeway_alone *alone)
{
    const struct dw_material_layout *layout = &search->before->layouts->materials[m];
    const struct dw_cut_request *request = &layout->problem->request;
    bool *tried = dw_arena_alloc(search->arena, request->part_count, sizeof *tried);
    if (request->part_count == 1 && request->parts[0].count == 1)
        return false;
    for (int tries = 0; tries < TRIES_MOST; tries++) {
        const size_t part = next_part(request, tried);
        if (part == request->part_count)
            return false;
        tried[part] = true;
        const struct dw_piece_ref *piece = &layout->problem->pieces[part][request->parts[part].count - 1];
        const bool matched = is_matched(search->before->layouts->jobs[piece->job], piece->part);
        const dw_money saved = matched ? 0 : saved_without(search, piece);
        if (saved == 0)
            continue;
        *alone = (struct dw_leeway_alone){.material = m, .piece = *piece, .saved = saved};
        alone->words = words_of(search, layout, alone);
        return true;
    }
    return false;
}

void dwi_leeway_alone(struct dwi_search *search, struct dw_leeway *leeway)
{
    const size_t materials = search->before->layouts->material_count;
    struct dw_leeway_alone *alone = dw_arena_alloc(search->arena, materials, sizeof *alone);
    for (size_t m = 0; m < materials; m++)
        if (look(search, m, &alone[leeway->alone_count]))
            leeway->alone_count++;
    leeway->alone = alone;
}
