/* price.c - what the sheets say to a trial.
 *
 * Two questions go to the cutting room: what a demand costs and at least costs (at a corner), and whether it can be cut from given sheets (on the
 * way back). Both remember every demand they were asked about, so that a trial pays only for the materials whose parts it changed. The second
 * has one mix of sheets as its goal, and a refusal is mostly certain at once: the mix breaks an inequality that every plan obeys.
 * Where price breaks or deliveries tie materials together, a corner is priced by a whole purchase.
 */
#include "knobs.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { QUESTION_WORK = 150000, FIRST_LOOK = 100000 };

/* ---- demands -------------------------------------------------------------------------------------------------- */

static bool comes_before(const struct dw_cut_part *a, const struct dw_cut_part *b)
{
    if (a->turn != b->turn)
        return a->turn;
    return a->length != b->length ? a->length < b->length : a->width < b->width;
}

static bool is_like(const struct dw_cut_part *a, const struct dw_cut_part *b)
{
    return a->turn == b->turn && a->length == b->length && a->width == b->width;
}

struct dwi_demand dwi_demand_of(const struct dw_cut_request *request, struct dw_arena *arena)
{
    struct dwi_demand demand = {.parts = dw_arena_alloc(arena, request->part_count, sizeof *demand.parts)};
    for (size_t p = 0; p < request->part_count; p++) {
        size_t at = demand.count;
        for (; at > 0 && comes_before(&request->parts[p], &demand.parts[at - 1]); at--) {
        }
        if (at > 0 && is_like(&demand.parts[at - 1], &request->parts[p])) {
            demand.parts[at - 1].count += request->parts[p].count;
            continue;
        }
        memmove(&demand.parts[at + 1], &demand.parts[at], (demand.count - at) * sizeof *demand.parts);
        demand.parts[at] = request->parts[p];
        demand.count++;
    }
    return demand;
}

static bool same_demand(const struct dwi_demand *a, const struct dwi_demand *b)
{
    if (a->count != b->count)
        return false;
    for (size_t i = 0; i < a->count; i++)
        if (!is_like(&a->parts[i], &b->parts[i]) || a->parts[i].count != b->parts[i].count)
            return false;
    return true;
}

static struct dwi_demand keep_demand(struct dwi_search *search, const struct dwi_demand *demand)
{
    return (struct dwi_demand){dw_arena_copy(search->arena, demand->parts, demand->count, sizeof *demand->parts), demand->count};
}

static bool has_other_fronts(const struct dwi_search *search)
{
    for (size_t k = 0; k < search->knobs.count; k++)
        if (search->knobs.at[k].kind == DWI_FRONTS && search->knobs.at[k].at > 0)
            return true;
    return false;
}

/* ---- the price of a corner ------------------------------------------------------------------------------------- */

static const int64_t *counts_of_plan(struct dw_arena *arena, const struct dw_cut_plan *plan, size_t sources)
{
    int64_t *counts = dw_arena_alloc(arena, sources, sizeof *counts);
    for (size_t i = 0; i < plan->layout_count; i++)
        counts[plan->layouts[i].sheet] += plan->layouts[i].times;
    return counts;
}

static const int64_t *counts_of_layout(struct dw_arena *arena, const struct dw_material_layout *layout)
{
    int64_t *counts = dw_arena_alloc(arena, layout->problem->source_count, sizeof *counts);
    for (size_t s = 0; s < layout->sheet_count; s++)
        counts[layout->sheets[s].source]++;
    return counts;
}

static struct dwi_price *add_price(struct dwi_search *search, const struct dwi_price *price)
{
    search->prices = dw_arena_grow(search->arena, search->prices, search->price_count, &search->price_capacity, sizeof *search->prices);
    search->prices[search->price_count] = *price;
    return &search->prices[search->price_count++];
}

static size_t part_of(const struct dwi_demand *demand, const struct dw_cut_part *part)
{
    size_t p = 0;
    while (!is_like(&demand->parts[p], part))
        p++;
    return p;
}

static void count_parts(const struct dw_cut_request *request, const struct dw_cut_node *node, const struct dwi_demand *demand, int64_t *counts)
{
    if (node->use == DW_NODE_PART)
        counts[part_of(demand, &request->parts[node->part])]++;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        count_parts(request, &node->pieces[i], demand, counts);
}

static void keep_layouts(struct dwi_search *search, const struct dw_cut_request *request, const struct dw_cut_plan *plan, struct dwi_price *price)
{
    for (size_t l = 0; l < plan->layout_count; l++) {
        int64_t *counts = dw_arena_alloc(search->arena, price->demand.count, sizeof *counts);
        count_parts(request, &plan->layouts[l].root, &price->demand, counts);
        price->layouts = dw_arena_grow(search->arena, price->layouts, price->layout_count, &price->layout_capacity, sizeof *price->layouts);
        price->layouts[price->layout_count++] = (struct dwi_layout){plan->layouts[l].sheet, counts};
    }
}

/* Solves within so much work. What was found before stays when it is better. */
static void solve(struct dwi_search *search, const struct dw_layout_problem *problem, int64_t work, struct dw_arena *arena, struct dwi_price *price)
{
    struct dw_cut_request request = problem->request;
    const struct dw_cut_plan *plan = NULL;
    request.work = work;
    request.rough = true;
    if (dw_cut_solve(&request, search->control, arena, search->heard, &plan) != DW_DONE)
        return;
    price->bound = dw_most(price->bound, plan->outcome == DW_CUT_IMPOSSIBLE ? INT64_MAX : plan->lower_bound);
    if (plan->outcome != DW_CUT_PLAN || plan->cost >= price->cost)
        return;
    keep_layouts(search, &request, plan, price);
    price->cost = plan->cost;
    price->counts = counts_of_plan(search->arena, plan, problem->source_count);
}

/* A look, and if that leaves open whether the material gets cheaper than it was, a longer one. */
static const struct dwi_price *price_of(struct dwi_search *search, size_t m, const struct dwi_trial *trial)
{
    const struct dw_layout_problem *problem = &trial->problems[m];
    const struct dwi_demand demand = dwi_demand_of(&problem->request, trial->arena);
    const dw_money before = search->before->layouts->materials[m].cost;
    for (size_t i = 0; i < search->price_count; i++)
        if (search->prices[i].material == m && same_demand(&search->prices[i].demand, &demand))
            return &search->prices[i];
    struct dwi_price price = {.material = m, .demand = keep_demand(search, &demand), .cost = INT64_MAX};
    solve(search, problem, dw_least(FIRST_LOOK, search->corner_work), trial->arena, &price);
    if (price.bound < before && price.cost > price.bound)
        solve(search, problem, search->corner_work, trial->arena, &price);
    return add_price(search, &price);
}

static bool price_by_purchase(struct dwi_search *search, const struct dwi_trial *trial, struct dwi_target *target)
{
    struct dw_layout_options quick = *search->layout;
    const struct dw_purchase *purchase = NULL;
    quick.no_choices = true;
    quick.work = search->corner_work;
    if (dw_purchase_make(trial->parts, search->job_count, &quick, search->control, trial->arena, search->heard, &purchase) != DW_DONE)
        return false;
    target->cost = purchase->sheets_cost + target->extra;
    target->bound = purchase->lower_bound + target->extra;
    for (size_t m = 0; m < trial->problem_count; m++) {
        target->costs[m] = purchase->layouts->materials[m].cost;
        target->bounds[m] = purchase->layouts->materials[m].lower_bound;
        target->counts[m] = counts_of_layout(search->arena, &purchase->layouts->materials[m]);
        target->asked[m] = true;
    }
    return true;
}

/* Smaller parts hold on the sheets there were, so a material that gets no cheaper keeps those. Other fronts are not all smaller. */
bool dwi_price(struct dwi_search *search, const struct dwi_trial *trial, struct dwi_target *target)
{
    const bool smaller = !has_other_fronts(search);
    target->counts = dw_arena_alloc(search->arena, trial->problem_count, sizeof(const int64_t *));
    target->asked = dw_arena_alloc(search->arena, trial->problem_count, sizeof *target->asked);
    target->costs = dw_arena_alloc(search->arena, trial->problem_count, sizeof *target->costs);
    target->bounds = dw_arena_alloc(search->arena, trial->problem_count, sizeof *target->bounds);
    target->extra = dwi_knobs_price(&search->knobs);
    if (search->before->coupled)
        return price_by_purchase(search, trial, target);
    const struct dw_layouts *before = search->before->layouts;
    target->cost = search->before->sheets_cost + target->extra;
    target->bound = target->cost;
    for (size_t m = 0; m < trial->problem_count; m++) {
        const struct dwi_price *price = price_of(search, m, trial);
        const dw_money was = before->materials[m].cost;
        target->asked[m] = price->cost < was || !smaller;
        if (target->asked[m] && price->counts == NULL)
            return false;
        target->bounds[m] = smaller ? dw_least(price->bound, was) : price->bound;
        target->costs[m] = target->asked[m] ? price->cost : was;
        target->bound += target->bounds[m] - was;
        target->cost += target->costs[m] - was;
        target->counts[m] = target->asked[m] ? price->counts : counts_of_layout(search->arena, &before->materials[m]);
    }
    return true;
}

/* ---- the question on the way back ----------------------------------------------------------------------------------- */

static bool is_within(const int64_t *some, const int64_t *most, size_t count)
{
    for (size_t s = 0; s < count; s++)
        if (some[s] > most[s])
            return false;
    return true;
}

static bool ask(struct dwi_search *search, const struct dw_layout_problem *problem, const int64_t *counts, struct dw_arena *arena)
{
    struct dw_cutter *cutter = dw_cutter_new(&problem->request, arena);
    enum dw_cut_outcome outcome = DW_CUT_NONE_FOUND;
    const struct dw_cut_plan *plan = NULL;
    const int64_t work = dw_least(QUESTION_WORK, search->work);
    if (work <= 0 || cutter == NULL || dw_cutter_within(cutter, counts, work, search->control, arena, &outcome, &plan) != DW_DONE)
        return false;
    search->work -= plan->work_done;
    return outcome == DW_CUT_PLAN;
}

static void remember(struct dwi_search *search, size_t m, const struct dwi_demand *demand, bool holds)
{
    search->answers = dw_arena_grow(search->arena, search->answers, search->answer_count, &search->answer_capacity, sizeof *search->answers);
    search->answers[search->answer_count++] = (struct dwi_answer){m, keep_demand(search, demand), holds};
}

/* True when the demand is known to be cut from those sheets: it is that of the plan before, or of the corner itself. */
static bool is_known_to_hold(const struct dwi_search *search, size_t m, const struct dwi_demand *demand, size_t sources, struct dw_arena *arena)
{
    const int64_t *most = search->target.counts[m];
    if (same_demand(&search->wanted[m], demand))
        return is_within(counts_of_layout(arena, &search->before->layouts->materials[m]), most, sources);
    for (size_t i = 0; i < search->price_count; i++) {
        const struct dwi_price *price = &search->prices[i];
        if (price->material == m && price->counts != NULL && same_demand(&price->demand, demand) && is_within(price->counts, most, sources))
            return true;
    }
    return false;
}

static bool material_holds(struct dwi_search *search, size_t m, const struct dwi_trial *trial)
{
    const struct dw_layout_problem *problem = &trial->problems[m];
    const struct dwi_demand demand = dwi_demand_of(&problem->request, trial->arena);
    for (size_t i = 0; i < search->answer_count; i++)
        if (search->answers[i].material == m && same_demand(&search->answers[i].demand, &demand))
            return search->answers[i].holds;
    const bool holds = is_known_to_hold(search, m, &demand, problem->source_count, trial->arena) ||
                       ask(search, problem, search->target.counts[m], trial->arena);
    remember(search, m, &demand, holds);
    return holds;
}

bool dwi_holds(struct dwi_search *search)
{
    struct dwi_trial trial = dwi_try(search);
    const bool all = has_other_fronts(search);
    bool holds = trial.possible;
    for (size_t m = 0; holds && m < trial.problem_count; m++)
        holds = !(all || search->target.asked[m]) || material_holds(search, m, &trial);
    dwi_trial_drop(&trial);
    return holds;
}

void dwi_search_start(struct dwi_search *search)
{
    const struct dw_layouts *layouts = search->before->layouts;
    search->wanted = dw_arena_alloc(search->arena, layouts->material_count, sizeof *search->wanted);
    for (size_t m = 0; m < layouts->material_count; m++) {
        const struct dw_material_layout *layout = &layouts->materials[m];
        search->wanted[m] = dwi_demand_of(&layout->problem->request, search->arena);
        (void)add_price(search, &(struct dwi_price){.material = m, .demand = search->wanted[m], .cost = layout->cost,
                                                    .bound = layout->lower_bound, .counts = counts_of_layout(search->arena, layout)});
    }
}
