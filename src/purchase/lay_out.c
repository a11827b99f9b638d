/* lay_out.c - the plans as layouts that the shop's saws can cut.
 *
 * The cheapest plan may ask for a cut that no saw can make. Then the material is cut the other way round or with fewer turns, and the
 * cheapest of those plans that can be sawn is taken, with a warning that says so. Where none can be, the first plan's faults stand.
 */
#include "buying.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

/* Other ways to cut, in the order in which they are tried. */
static const struct way {
    int turns, first_cut;
    const char *words;
} ways[] = {
    {0, DW_RIP, "ripping first"},
    {0, DW_CROSSCUT, "crosscutting first"},
    {3, DW_RIP, "ripping first, with three turns at most"},
    {3, DW_CROSSCUT, "crosscutting first, with three turns at most"},
    {2, DW_RIP, "ripping first, with two turns at most"},
    {2, DW_CROSSCUT, "crosscutting first, with two turns at most"},
};
enum { WAYS = sizeof ways / sizeof *ways };

/* What was asked for is kept: a way that allows more turns than the request, or another first cut, is none. */
static bool is_allowed(const struct dw_cut_request *asked, const struct way *way)
{
    const bool turns = asked->turns == 0 || (way->turns != 0 && way->turns <= asked->turns);
    return turns && (asked->first_cut < 0 || asked->first_cut == way->first_cut);
}

/* One material's search for a plan that can be sawn. */
struct search {
    struct buying *buying;
    size_t m;
    const struct dw_cut_plan *best_plan;
    struct dw_material_layout best;
    const struct way *best_way;
    size_t first_fault, end_fault;     /* of the best, among the tries' */
};

static void try_way(struct search *search, const struct way *way)
{
    struct buying *buying = search->buying;
    struct dw_layout_problem *problem = dw_arena_copy(buying->arena, &buying->problems[search->m], 1, sizeof *problem);
    problem->request.turns = way->turns;
    problem->request.first_cut = way->first_cut;
    problem->request.work = dwi_buying_work(buying) / WAYS;
    const struct dw_control control = dwi_buying_control(buying);
    const struct dw_cut_plan *plan = NULL;
    if (dw_cut_solve(&problem->request, &control, buying->arena, buying->tries, &plan) != DW_DONE || plan->outcome != DW_CUT_PLAN)
        return;
    const size_t first_fault = buying->tries->count;
    struct dw_material_layout made;
    if (search->best_plan != NULL && plan->cost >= search->best_plan->cost)
        return;
    if (dw_layout_make(buying->jobs, problem, plan, buying->arena, buying->tries, &made) != DW_DONE)
        return;
    search->best_plan = plan;
    search->best = made;
    search->best_way = way;
    search->first_fault = first_fault;
    search->end_fault = buying->tries->count;
}

/* Some of the tries' faults become the purchase's. */
static void tell(const struct buying *buying, size_t first, size_t end)
{
    struct dw_faults some = *buying->tries;
    some.at += first;
    some.count = end - first;
    dw_faults_append(buying->faults, &some, "");
}

/* A plan that the saws can cut, in the place of one that they cannot; false when none was found. The faults of the tries stay here. */
static bool cut_otherwise(struct buying *buying, size_t m, struct dw_material_layout *layout)
{
    struct search search = {.buying = buying, .m = m};
    for (size_t w = 0; w < WAYS; w++)
        if (is_allowed(&buying->problems[m].request, &ways[w]))
            try_way(&search, &ways[w]);
    if (search.best_plan == NULL)
        return false;
    const struct dw_material *material = &shop_of(buying)->materials[buying->problems[m].material];
    dw_warn(buying->faults, "cut-otherwise", dw_address_index(buying->arena, "shop.materials", buying->problems[m].material),
            "the cheapest layout of %s asks for a cut that no saw of the shop can make; it is cut %s instead\n"
            "at first prices that layout is %s, this one %s; a saw with more reach, or sheets cut down at the yard",
            material->name, search.best_way->words, dw_money_show(buying->arena, buying->plans[m]->cost, currency_of(buying).decimals),
            dw_money_show(buying->arena, search.best_plan->cost, currency_of(buying).decimals));
    tell(buying, search.first_fault, search.end_fault);
    buying->plans[m] = search.best_plan;
    *layout = search.best;
    return true;
}

/* Lays out one material. Faults are gathered aside until it is known whether another way helps. */
static bool lay_out_one(struct buying *buying, size_t m, struct dw_material_layout *layout)
{
    const size_t first = buying->tries->count;
    const enum dw_status status =
        dw_layout_make(buying->jobs, &buying->problems[m], buying->plans[m], buying->arena, buying->tries, layout);
    const size_t end = buying->tries->count;
    if (status == DW_IMPOSSIBLE && cut_otherwise(buying, m, layout))
        return true;
    tell(buying, first, end);
    return status == DW_DONE;
}

static bool lay_out_all(struct buying *buying)
{
    struct dw_material_layout *materials = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *materials);
    bool done = true;
    for (size_t m = 0; m < buying->problem_count; m++)
        done = lay_out_one(buying, m, &materials[m]) && done;
    struct dw_layouts *layouts = dw_arena_alloc(buying->arena, 1, sizeof *layouts);
    *layouts = (struct dw_layouts){.jobs = buying->jobs, .job_count = buying->job_count, .materials = materials,
                                   .material_count = buying->problem_count};
    buying->purchase->layouts = layouts;
    return done;
}

bool dwi_buying_lay_out(struct buying *buying)
{
    if (!lay_out_all(buying))
        return false;
    buying->sheets_cost = dwi_buying_plans_price(buying, buying->plans); /* another way of cutting may have changed it */
    buying->proved = buying->lower_bound == buying->sheets_cost;
    return true;
}
