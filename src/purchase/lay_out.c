/* lay_out.c - the plans as layouts that the shop's saws can cut.
 *
 * The cheapest plan may ask for a cut that no saw can make, or leave no room for the rough cuts that bring its sheets into the van. Then the material
 * is cut the other way round or with fewer turns, with such room, and the cheapest of those plans that can be sawn is taken, with a warning that says
 * so. Where none can be, the first plan's faults stand.
 *
 * Sheets that are only too heavy or too large to be handled well are broken down where that costs nothing: a plan with room is sought among those
 * that use the same sheets, and where there is none they stay whole, with a caution.
 */
#include "buying.h"

#include <string.h>

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
    if (dw_layout_solve_with_room(buying->jobs, problem, buying->plans[search->m], &control, buying->arena, buying->tries, &plan) != DW_DONE ||
        plan->outcome != DW_CUT_PLAN)
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

/* Of the van's rough cuts there is nothing to say when they cost nothing. */
static void warn_otherwise(struct buying *buying, const struct search *search, bool over_van)
{
    const size_t at = buying->problems[search->m].material;
    const dw_money first = buying->plans[search->m]->cost, now = search->best_plan->cost;
    if (over_van && first == now)
        return;
    dw_warn(buying->faults, "cut-otherwise", dw_address_index(buying->arena, "shop.materials", at),
            "the cheapest layout of %s %s; it is cut %s instead\nat first prices that layout is %s, this one %s; %s", shop_of(buying)->materials[at].name,
            over_van ? "leaves no room for the yard's rough cuts" : "asks for a cut that no saw of the shop can make", search->best_way->words,
            dw_money_show(buying->arena, first, currency_of(buying).decimals), dw_money_show(buying->arena, now, currency_of(buying).decimals),
            over_van ? "a larger van, or have whole sheets delivered" : "a saw with more reach, or sheets cut down at the yard");
}

/* A plan that the saws can cut, in the place of one that they cannot; false when none was found. The faults of the tries stay here. */
static bool cut_otherwise(struct buying *buying, size_t m, struct dw_material_layout *layout, const char *why)
{
    struct search search = {.buying = buying, .m = m};
    for (size_t w = 0; w < WAYS; w++)
        if (is_allowed(&buying->problems[m].request, &ways[w]))
            try_way(&search, &ways[w]);
    if (search.best_plan == NULL)
        return false;
    warn_otherwise(buying, &search, strcmp(why, "over-van") == 0);
    tell(buying, search.first_fault, search.end_fault);
    buying->plans[m] = search.best_plan;
    *layout = search.best;
    return true;
}

/* ---- heavy and large sheets ---- */

/* What is still to be wished of a layout's rough cuts. */
struct trouble {
    size_t unwieldy; /* sheets that stay, or come to, over the limits */
    size_t broken;   /* sheets that are broken down */
    size_t rough;    /* rough cuts */
    size_t moves;    /* these, the fence's settings, and what help is worth */
};

static struct trouble trouble_of(const struct dw_material_layout *layout)
{
    struct trouble trouble = {.moves = layout->ladder.settings};
    for (size_t s = 0; s < layout->sheet_count; s++) {
        trouble.unwieldy += layout->sheets[s].unwieldy;
        trouble.broken += layout->sheets[s].broken != DW_SHEET_WHOLE;
    }
    for (size_t r = 0; r < layout->ladder.rung_count; r++)
        trouble.rough += dw_rung_is_rough(&layout->ladder.rungs[r]) ? layout->ladder.rungs[r].cut_count : 0;
    trouble.moves += trouble.rough + trouble.unwieldy * DW_MOVES_FOR_HELP;
    return trouble;
}

/* A sheet takes one rough cut at least. */
static bool is_troubled(const struct dw_material_layout *layout)
{
    const struct trouble trouble = trouble_of(layout);
    return trouble.unwieldy > 0 || trouble.rough > trouble.broken;
}

static bool is_less_trouble(const struct dw_material_layout *a, const struct dw_material_layout *b)
{
    return trouble_of(a).moves < trouble_of(b).moves;
}

static bool uses_same_sheets(const struct buying *buying, size_t m, const struct dw_cut_plan *plan)
{
    const int64_t *own = dwi_buying_counts(buying, m, buying->plans[m]), *others = dwi_buying_counts(buying, m, plan);
    for (size_t s = 0; s < buying->problems[m].source_count; s++)
        if (own[s] != others[s])
            return false;
    return true;
}

/* Looks for a plan of the same sheets with fewer moves, sheets that stay unwieldy counted in. [*first, *end): the faults that go with
 * the layout, among the tries'. */
static void lighten(struct buying *buying, size_t m, struct dw_material_layout *layout, size_t *first, size_t *end)
{
    static const int first_cuts[] = {DW_CROSSCUT, DW_RIP};
    const struct dw_layout_problem *asked = &buying->problems[m];
    for (size_t i = 0; i < 2 && is_troubled(layout); i++) {
        struct dw_layout_problem problem = *asked;
        if (asked->request.first_cut >= 0 && asked->request.first_cut != first_cuts[i])
            continue;
        problem.request.first_cut = first_cuts[i];
        problem.request.work = dwi_buying_work(buying) / WAYS;
        const struct dw_control control = dwi_buying_control(buying);
        const struct dw_cut_plan *plan = NULL;
        struct dw_material_layout made;
        const size_t before = buying->tries->count;
        if (dw_layout_solve_with_room(buying->jobs, &problem, buying->plans[m], &control, buying->arena, buying->tries, &plan) != DW_DONE ||
            plan->outcome != DW_CUT_PLAN || !uses_same_sheets(buying, m, plan) ||
            dw_layout_make(buying->jobs, asked, plan, buying->arena, buying->tries, &made) != DW_DONE ||
            !is_less_trouble(&made, layout))
            continue;
        *first = before;
        *end = buying->tries->count;
        buying->plans[m] = plan;
        *layout = made;
    }
}

/* Lays out one material. Faults are gathered aside until it is known whether another way helps. */
static bool lay_out_one(struct buying *buying, size_t m, struct dw_material_layout *layout)
{
    size_t first = buying->tries->count;
    const enum dw_status status =
        dw_layout_make(buying->jobs, &buying->problems[m], buying->plans[m], buying->arena, buying->tries, layout);
    size_t end = buying->tries->count;
    if (status == DW_IMPOSSIBLE && cut_otherwise(buying, m, layout, buying->tries->at[first].code))
        return true;
    if (status == DW_DONE)
        lighten(buying, m, layout, &first, &end);
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
