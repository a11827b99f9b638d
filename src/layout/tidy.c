/* tidy.c - among plans that use the same sheets, the one that is easiest to cut.
 *
 * Wanted, in this order: the fewest cuts at the yard; the most money, which is the value of the offcuts kept less what the settings cost
 * (minutes x labor rate, where a rate is given), in whole hundredths of what the sheets are worth, so that a cent of offcut never outranks a fence
 * move; then fewer moves (settings, rough cuts, and some for each sheet that is over the shop's limits and not broken down), fewer cuts, the
 * largest offcut. Tried are strips on all sheets at once, then on each layout by itself, keeping what is better. How many settings a plan takes is the ladder's word: it is built for each try. (make.c has the
 * cutting room's checker look at what comes out.)
 */
#include "tidy.h"

#include <string.h>

#include <drawerwright/memory.h>

#include "frame.h"
#include "ladder.h"
#include "pieces.h"
#include "strip_layout.h"

enum { WORK_MOST = 120000 }; /* pieces laid out in all tries together: large plans are tried less */

/* What a plan is worth at the saw. */
struct merit {
    bool known;        /* false: it cannot be sawn */
    size_t yard;       /* rough cuts there */
    int64_t money;     /* in hundredths of the sheets' value */
    size_t moves, cuts;
    dw_area largest;
};

struct tidying {
    const struct dw_parts *const *jobs;
    const struct dw_layout_problem *problem;
    struct dw_arena *arena;
    const struct dw_cut_plan *best;
    struct merit merit;
    int64_t pieces;     /* in the plan */
    int64_t work;       /* pieces that may still be laid out */
};

/* ---- merit ---- */

static dw_area largest_kept(const struct dw_layout_node *node)
{
    dw_area largest = node->use == DW_NODE_KEEP ? node->length * node->width : 0;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++) {
        const dw_area own = largest_kept(&node->pieces[i]);
        largest = own > largest ? own : largest;
    }
    return largest;
}

/* What rough cuts take counts as kept, so that no plan is preferred because its sheets cannot be broken down. */
static dw_area total_kept(const struct dw_layout_node *node, dw_length kerf)
{
    dw_area total = node->use == DW_NODE_KEEP ? node->length * node->width : 0;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++) {
        total += total_kept(&node->pieces[i], kerf);
        if (node->rough && i + 1 < node->piece_count)
            total += (node->pieces[i].after - kerf) * (node->cut == DW_CROSSCUT ? node->width : node->length);
    }
    return total;
}

static size_t count_rough(const struct dw_layout_node *node)
{
    size_t count = node->rough ? node->piece_count - 1 : 0;
    for (size_t i = 0; node->rough && i < node->piece_count; i++)
        count += count_rough(&node->pieces[i]);
    return count;
}

/* Of the offcuts kept less the settings, rounded down to hundredths of the value of all sheets. */
static int64_t money_of(const struct dw_material_layout *layout, dw_money settings)
{
    dw_money kept = 0, all = 0;
    for (size_t s = 0; s < layout->sheet_count; s++) {
        const struct dw_sheet_source *source = &layout->problem->sources[layout->sheets[s].source];
        kept += dw_money_scale(source->value, total_kept(&layout->sheets[s].root, layout->problem->request.kerf), source->length * source->width);
        all += source->value;
    }
    return dw_round_down(kept - settings, dw_most(1, all / 100)); /* down below 0 too */
}

static dw_money price_of_setting(const struct dw_shop *shop)
{
    return dw_money_scale(shop->prices.labor_rate, shop->prices.minutes_setting, 60);
}

/* Lays the plan out and orders its cuts, in a working arena of its own. */
static struct merit merit_of(struct tidying *tidying, const struct dw_cut_plan *plan)
{
    tidying->work -= tidying->pieces;
    struct dw_arena *work = dw_arena_child(tidying->arena);
    struct dw_material_layout layout = {.problem = tidying->problem};
    struct given_up given_up = {.count = 0};
    const struct ladder_count count = dwi_layout_try(tidying->jobs, plan, &given_up, work, &layout);
    struct merit merit = {.known = count.whole, .moves = count.settings, .cuts = count.cuts};
    merit.money = money_of(&layout, (dw_money)count.settings * price_of_setting(&first_job(tidying->jobs)->shop));
    for (size_t s = 0; s < layout.sheet_count; s++) {
        const size_t rough = count_rough(&layout.sheets[s].root);
        merit.yard += layout.sheets[s].broken == DW_SHEET_YARD ? rough : 0;
        merit.moves += rough + (layout.sheets[s].unwieldy ? DW_MOVES_FOR_HELP : 0);
        const dw_area largest = largest_kept(&layout.sheets[s].root);
        merit.largest = largest > merit.largest ? largest : merit.largest;
    }
    dw_arena_free(work);
    return merit;
}

static bool is_better(const struct merit *a, const struct merit *b)
{
    if (a->known != b->known)
        return a->known;
    if (a->yard != b->yard)
        return a->yard < b->yard;
    if (a->money != b->money)
        return a->money > b->money;
    if (a->moves != b->moves)
        return a->moves < b->moves;
    if (a->cuts != b->cuts)
        return a->cuts < b->cuts;
    return a->largest > b->largest;
}

/* ---- tries ---- */

static size_t sheet_count(const struct dw_cut_plan *plan, size_t first, size_t count)
{
    size_t sheets = 0;
    for (size_t i = first; i < first + count; i++)
        sheets += (size_t)plan->layouts[i].times;
    return sheets;
}

/* The best plan with layouts [first, first + count) laid anew in strips, in `arena`; NULL when they do not fit so. */
static const struct dw_cut_plan *with_strips(const struct tidying *tidying, size_t first, size_t count, struct strip_way way,
                                             struct dw_arena *arena)
{
    const struct dw_cut_plan *best = tidying->best;
    const size_t others = best->layout_count - count, sheets = sheet_count(best, first, count);
    struct dw_cut_layout *layouts = dw_arena_alloc(arena, others + sheets, sizeof *layouts);
    const size_t laid = dwi_strips_lay(&tidying->problem->request, best, first, count, way, arena, layouts + first);
    if (laid == 0)
        return NULL;
    memcpy(layouts, best->layouts, first * sizeof *layouts);
    memcpy(layouts + first + laid, best->layouts + first + count, (best->layout_count - first - count) * sizeof *layouts);
    struct dw_cut_plan *plan = dw_arena_copy(arena, best, 1, sizeof *plan);
    plan->layouts = layouts;
    plan->layout_count = laid + others;
    return plan;
}

/* Turns and first cut asked for hold for strips too. */
static bool is_allowed(const struct dw_cut_request *request, struct strip_way way)
{
    return request->first_cut < 0 || request->first_cut == (int)way.first;
}

static void try_strips(struct tidying *tidying, size_t first, size_t count)
{
    const size_t others = tidying->best->layout_count - count;
    for (size_t w = 0; w < STRIP_WAYS && tidying->work >= tidying->pieces; w++) {
        const struct strip_way way = dwi_strip_way(w);
        if (!is_allowed(&tidying->problem->request, way))
            continue;
        struct dw_arena *room = dw_arena_child(tidying->arena); /* kept with a plan that is better, given back with one that is not */
        const struct dw_cut_plan *plan = with_strips(tidying, first, count, way, room);
        struct merit merit = {.known = false};
        if (plan != NULL)
            merit = merit_of(tidying, plan);
        if (!merit.known || !is_better(&merit, &tidying->merit)) {
            dw_arena_free(room);
            continue;
        }
        tidying->best = plan;
        tidying->merit = merit;
        count = plan->layout_count - others; /* the same sheets, which may now be more layouts or fewer */
    }
}

static int64_t piece_count(const struct dw_cut_request *request)
{
    int64_t count = 0;
    for (size_t p = 0; p < request->part_count; p++)
        count += request->parts[p].count;
    return count;
}

const struct dw_cut_plan *dwi_tidy(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, const struct dw_cut_plan *plan,
                                   struct dw_arena *arena)
{
    struct tidying tidying = {.jobs = jobs, .problem = problem, .arena = arena, .best = plan, .pieces = piece_count(&problem->request),
                              .work = WORK_MOST};
    if (tidying.work < 2 * tidying.pieces)
        return plan;
    tidying.merit = merit_of(&tidying, plan);
    try_strips(&tidying, 0, plan->layout_count);
    /* from the back, since what is laid anew may become several layouts in its place */
    for (size_t i = tidying.best->layout_count; i-- > 0;)
        try_strips(&tidying, i, 1);
    return tidying.best;
}
