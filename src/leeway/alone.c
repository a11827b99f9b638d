/* alone.c - one piece alone that forces a sheet: without it the rest of its material costs less.
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

/* What the material costs less without one piece of the part; 0 when nothing was found. */
static dw_money saved_without(struct dwi_search *search, const struct dw_material_layout *layout, size_t part)
{
    const struct dw_cut_request *asked = &layout->problem->request;
    struct dw_arena *arena = dw_arena_child(search->arena);
    struct dw_cut_part *parts = dw_arena_alloc(arena, asked->part_count, sizeof *parts);
    struct dw_cut_request request = *asked;
    const struct dw_cut_plan *plan = NULL;
    request.part_count = 0;
    for (size_t p = 0; p < asked->part_count; p++) {
        parts[request.part_count] = asked->parts[p];
        parts[request.part_count].count -= p == part ? 1 : 0;
        request.part_count += parts[request.part_count].count > 0 ? 1 : 0;
    }
    request.parts = parts;
    request.work = TRY_WORK;
    dw_money saved = 0;
    if (dw_cut_solve(&request, search->control, arena, search->heard, &plan) == DW_DONE && plan->outcome == DW_CUT_PLAN)
        saved = dw_most(layout->cost - plan->cost, 0);
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
        const dw_money saved = layout->problem->matches[part] == NULL ? saved_without(search, layout, part) : 0;
        if (saved == 0)
            continue;
        *alone = (struct dw_leeway_alone){.material = m, .piece = layout->problem->pieces[part][request->parts[part].count - 1], .saved = saved};
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
