/* room.c - plans with room for rough cuts on the sheets that want some.
 *
 * The cutting room knows one kerf. Asked about a sheet that is smaller by what its rough cuts take beyond a kerf each, and told which cut comes
 * first, it gives plans that leave that much; on the true sheet it stands past the last piece, as waste, and breakdown.c finds it there. So a plan
 * made this way is sound, and the certificate of the search without room still bounds its cost.
 *
 * How many rough cuts a sheet takes is not known before it is cut. Counted on is one for each panel that must come of it at least: one more than
 * would do if everything divided evenly.
 */
#include "breakdown.h"

#include <string.h>

#include <drawerwright/memory.h>

#include "frame.h"

/* ---- how much room ---- */

/* Panels of `limit` that a length takes. */
static dw_length panels_of(dw_length length, dw_length limit)
{
    return limit <= 0 ? 1 : (length + limit - 1) / limit;
}

/* Panels that one direction is cut into for a box; the other direction is cut too where it does not fit as it is. */
static struct extent panels_for_box(const struct box *box, struct extent size, bool in_x)
{
    const dw_length along = in_x ? size.x : size.y, across = in_x ? size.y : size.x;
    const dw_length limit = across <= box->shorter ? box->longer : across <= box->longer ? box->shorter : box->longer;
    const struct extent panels = {panels_of(along, limit), across <= box->longer ? 1 : panels_of(across, box->shorter)};
    return in_x ? panels : (struct extent){panels.y, panels.x};
}

static struct extent most_of(struct extent a, struct extent b)
{
    return (struct extent){dw_most(a.x, b.x), dw_most(a.y, b.y)};
}

/* Room that the sheet's rough cuts take beyond their kerfs, in its own frame; nothing where it is not broken down. */
static struct extent room_on(const struct breaking *breaking, const struct dw_sheet_source *source, bool in_x)
{
    const struct extent size = {source->length, source->width};
    const dw_mass weight = dwi_panel_weight(breaking->material, source->length, source->width);
    const dw_length halves = breaking->lift > 0 ? (weight + breaking->lift - 1) / breaking->lift : 1;
    struct extent panels = most_of(in_x ? (struct extent){halves, 1} : (struct extent){1, halves}, panels_for_box(&breaking->handle, size, in_x));
    if (breaking->yard)
        panels = most_of(panels, panels_for_box(&breaking->van, size, in_x));
    const dw_length each_x = dw_most(0, dwi_rough_gap(breaking, source->width) - breaking->kerf);
    const dw_length each_y = dw_most(0, dwi_rough_gap(breaking, source->length) - breaking->kerf);
    return (struct extent){panels.x > 1 ? panels.x * each_x : 0, panels.y > 1 ? panels.y * each_y : 0};
}

/* For each sheet of the request, in the grain's frame. */
static struct extent *rooms_of(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, struct dw_arena *arena)
{
    struct extent *rooms = dw_arena_alloc(arena, problem->source_count, sizeof *rooms);
    for (size_t s = 0; s < problem->source_count; s++) {
        const struct dw_sheet_source *source = &problem->sources[s];
        const bool in_x = (problem->request.first_cut == DW_CROSSCUT) != source->grain_across;
        struct breaking breaking;
        if (dwi_breaking_of(jobs, problem, source, arena, &breaking)) {
            const struct extent room = room_on(&breaking, source, in_x);
            rooms[s] = in_frame(room.x, room.y, source->grain_across);
        }
    }
    return rooms;
}

/* ---- the plan on the true sheets ---- */

static dw_length *along(struct dw_cut_node *node, enum dw_cut cut)
{
    return cut == DW_CROSSCUT ? &node->length : &node->width;
}

static struct dw_cut_node rest_behind(const struct dw_cut_node *last, enum dw_cut cut, dw_length kerf, dw_length size)
{
    struct dw_cut_node rest = {.x = last->x, .y = last->y, .length = last->length, .width = last->width, .use = DW_NODE_WASTE};
    *(cut == DW_CROSSCUT ? &rest.x : &rest.y) += (cut == DW_CROSSCUT ? last->length : last->width) + kerf;
    *along(&rest, cut) = size;
    return rest;
}

/* Pieces of parallel cuts, the last of them with so much behind it: what is waste or an offcut takes it; behind another it becomes waste, or stays a
 * part of a kerf. Returns how many there are; there is room for one more. */
static size_t fill_up(struct dw_cut_node *pieces, size_t count, enum dw_cut cut, dw_length behind, dw_length kerf)
{
    struct dw_cut_node *last = &pieces[count - 1];
    if (last->use == DW_NODE_WASTE || last->use == DW_NODE_KEEP) {
        *along(last, cut) += behind;
        return count;
    }
    if (behind <= kerf)
        return count;
    pieces[count] = rest_behind(last, cut, kerf, behind - kerf);
    return count + 1;
}

/* A part in a larger place becomes the one piece of a cut. */
static void wrap(struct dw_cut_node *node, enum dw_cut cut, dw_length more, dw_length kerf, struct dw_arena *arena)
{
    struct dw_cut_node *pieces = dw_arena_alloc(arena, 2, sizeof *pieces);
    pieces[0] = *node;
    node->use = DW_NODE_CUT;
    node->cut = cut;
    node->pieces = pieces;
    node->piece_count = fill_up(pieces, 1, cut, more, kerf);
    *along(node, cut) += more;
}

/* Makes a node larger at its high side: what is left there grows, or comes to be. */
static void grow(struct dw_cut_node *node, enum dw_cut cut, dw_length more, dw_length kerf, struct dw_arena *arena)
{
    if (more > 0 && node->use == DW_NODE_PART) {
        wrap(node, cut, more, kerf, arena);
        return;
    }
    *along(node, cut) += more;
    if (more <= 0 || node->use != DW_NODE_CUT)
        return;
    struct dw_cut_node *pieces = dw_arena_alloc(arena, node->piece_count + 1, sizeof *pieces);
    memcpy(pieces, node->pieces, node->piece_count * sizeof *pieces);
    node->pieces = pieces;
    dw_length behind = *along(node, cut) + kerf;
    for (size_t i = 0; i < node->piece_count; i++) {
        behind -= *along(&pieces[i], cut) + kerf;
        if (node->cut != cut)
            grow(&pieces[i], cut, more, kerf, arena);
    }
    if (node->cut == cut)
        node->piece_count = fill_up(pieces, node->piece_count, cut, behind, kerf);
}

struct seeking {
    const struct dw_parts *const *jobs;
    const struct dw_layout_problem *problem;
    struct dw_arena *arena;
    struct dw_cut_request request;
    struct extent *rooms;
    bool has_room;                   /* on some sheet */
    const struct dw_cut_plan *bound;
    const struct dw_cut_plan *plan; /* of the smaller sheets, then of the true ones */
};

static void make_smaller(void *context)
{
    struct seeking *seeking = context;
    seeking->rooms = rooms_of(seeking->jobs, seeking->problem, seeking->arena);
    seeking->request = seeking->problem->request;
    struct dw_cut_sheet *sheets = dw_arena_copy(seeking->arena, seeking->request.sheets, seeking->request.sheet_count, sizeof *sheets);
    for (size_t s = 0; s < seeking->request.sheet_count; s++) {
        sheets[s].trim[1] += seeking->rooms[s].x;
        sheets[s].trim[3] += seeking->rooms[s].y;
        seeking->has_room = seeking->has_room || seeking->rooms[s].x + seeking->rooms[s].y > 0;
    }
    seeking->request.sheets = sheets;
}

static void make_larger(void *context)
{
    struct seeking *seeking = context;
    struct dw_cut_plan *plan = dw_arena_copy(seeking->arena, seeking->plan, 1, sizeof *plan);
    struct dw_cut_layout *layouts = dw_arena_copy(seeking->arena, plan->layouts, plan->layout_count, sizeof *layouts);
    for (size_t i = 0; i < plan->layout_count; i++) {
        const struct extent room = seeking->rooms[layouts[i].sheet];
        grow(&layouts[i].root, DW_CROSSCUT, room.x, seeking->request.kerf, seeking->arena);
        grow(&layouts[i].root, DW_RIP, room.y, seeking->request.kerf, seeking->arena);
    }
    plan->layouts = layouts;
    if (seeking->has_room) {
        plan->lower_bound = seeking->bound->lower_bound;
        plan->certificate = seeking->bound->certificate;
        plan->certificate_count = seeking->bound->certificate_count;
        plan->proved = plan->cost == plan->lower_bound;
    }
    seeking->plan = plan;
}

static enum dw_status memory_ran_out(struct dw_faults *faults)
{
    dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while room was sought for rough cuts");
    return DW_SURROUNDINGS;
}

enum dw_status dw_layout_solve_with_room(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, const struct dw_cut_plan *bound,
                                         const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults,
                                         const struct dw_cut_plan **plan)
{
    struct seeking seeking = {.jobs = jobs, .problem = problem, .arena = arena, .bound = bound};
    *plan = NULL;
    if (!dw_arena_guard(arena, make_smaller, &seeking))
        return memory_ran_out(faults);
    const enum dw_status status = dw_cut_solve(&seeking.request, control, arena, faults, &seeking.plan);
    if (status == DW_DONE && seeking.plan->outcome == DW_CUT_PLAN && !dw_arena_guard(arena, make_larger, &seeking))
        return memory_ran_out(faults);
    *plan = seeking.plan;
    return status;
}
