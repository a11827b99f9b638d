/* bargain.c - the cheapest sheets for all materials together, where prices break or suppliers charge for delivery.
 *
 * Cutting and buying meet in two questions. The integer program proposes the cheapest counts that obey every row known; each cutter is asked
 * whether it can cut its parts from them. If all can, that is a plan of the least cost there is. If one cannot, it gives a row that these
 * counts break, and the program proposes again. So the proposals' cost climbs from below, the best plan's comes down from above, and where
 * they meet the plan is proved. (Benders' scheme with rows instead of prices; a cutter that can say neither ends it, and the gap is told.)
 */
#include "bargain.h"

#include <string.h>

#include <drawerwright/memory.h>

#include "buying.h"

enum { ROUNDS_MOST = 200, PROGRAM_NODES = 20000, CERTIFY_NODES = 2000000 };

struct haggling {
    struct buying *buying;
    struct bargain bargain;
    struct ware *wares;
    struct demand *demands;
    size_t demand_capacity;
    dw_money *deliveries;
    const char **suppliers;
    struct dw_cutter **cutters; /* NULL until asked */
    size_t *first_ware;         /* of each problem */
    dw_money forced;            /* deliveries that are paid anyhow */
    int64_t work;               /* units left for questions */
};

/* ---- the buyer's problem ---- */

static const struct dw_sheet_offer *offer_of(const struct buying *buying, size_t m, size_t s)
{
    const struct dw_layout_problem *problem = &buying->problems[m];
    const size_t offer = problem->sources[s].offer;
    return offer == DW_NO_INDEX ? NULL : &shop_of(buying)->materials[problem->material].sheets[offer];
}

/* The number of a supplier whose delivery depends on the sheets bought; -1 for one that charges nothing or comes anyhow. */
static int supplier_number(struct haggling *haggling, const char *supplier)
{
    struct bargain *bargain = &haggling->bargain;
    const dw_money delivery = dwi_buying_delivery(haggling->buying, supplier);
    if (delivery == 0 || dwi_buying_brings_hardware(haggling->buying, supplier))
        return -1;
    for (int k = 0; k < bargain->supplier_count; k++)
        if (strcmp(haggling->suppliers[k], supplier) == 0)
            return k;
    haggling->suppliers[bargain->supplier_count] = supplier;
    haggling->deliveries[bargain->supplier_count] = delivery;
    return bargain->supplier_count++;
}

/* No more sheets than pieces are of use, save to reach a price break. */
static int64_t most_of(const struct dw_layout_problem *problem, const struct dw_sheet_source *source, const struct dw_sheet_offer *offer)
{
    int64_t most = 0;
    for (size_t p = 0; p < problem->request.part_count; p++)
        most += problem->request.parts[p].count;
    for (size_t i = 0; offer != NULL && i < offer->break_count; i++)
        most = dw_most(most, offer->breaks[i].from);
    return source->count == DW_NO_LIMIT ? most : dw_least(most, source->count);
}

static void set_out_wares(struct haggling *haggling)
{
    struct buying *buying = haggling->buying;
    size_t total = 0;
    for (size_t m = 0; m < buying->problem_count; m++)
        total += buying->problems[m].source_count;
    haggling->wares = dw_arena_alloc(buying->arena, total, sizeof *haggling->wares);
    haggling->suppliers = dw_arena_alloc(buying->arena, shop_of(buying)->supplier_count, sizeof *haggling->suppliers);
    haggling->deliveries = dw_arena_alloc(buying->arena, shop_of(buying)->supplier_count, sizeof *haggling->deliveries);
    haggling->first_ware = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *haggling->first_ware);
    struct bargain *bargain = &haggling->bargain;
    bargain->problem_count = buying->problem_count;
    bargain->wares = haggling->wares;
    bargain->deliveries = haggling->deliveries;
    for (size_t m = 0; m < buying->problem_count; m++) {
        haggling->first_ware[m] = bargain->ware_count;
        for (size_t s = 0; s < buying->problems[m].source_count; s++) {
            const struct dw_sheet_source *source = &buying->problems[m].sources[s];
            const struct dw_sheet_offer *offer = offer_of(buying, m, s);
            struct ware *ware = &haggling->wares[bargain->ware_count++];
            *ware = (struct ware){.problem = m, .place = s, .supplier = offer == NULL ? -1 : supplier_number(haggling, source->supplier),
                                  .most = most_of(&buying->problems[m], source, offer)};
            ware->offer = offer != NULL ? *offer : (struct dw_sheet_offer){.count = source->count};
        }
    }
}

static void add_demand(struct haggling *haggling, size_t m, const struct dw_cut_inequality *row)
{
    struct bargain *bargain = &haggling->bargain;
    haggling->demands = dw_arena_grow(haggling->buying->arena, haggling->demands, bargain->demand_count, &haggling->demand_capacity,
                                      sizeof *haggling->demands);
    haggling->demands[bargain->demand_count++] = (struct demand){.problem = m, .v = row->v, .rhs = row->rhs};
    bargain->demands = haggling->demands;
}

/* ---- asking the cutters ---- */

static struct dw_cutter *cutter_of(struct haggling *haggling, size_t m)
{
    if (haggling->cutters[m] == NULL)
        haggling->cutters[m] = dw_cutter_new(&haggling->buying->problems[m].request, haggling->buying->arena);
    return haggling->cutters[m];
}

/* True when the plan needs no more than these counts. */
static bool is_within(const struct buying *buying, size_t m, const struct dw_cut_plan *plan, const int64_t *counts)
{
    const int64_t *used = dwi_buying_counts(buying, m, plan);
    for (size_t s = 0; s < buying->problems[m].source_count; s++)
        if (used[s] > counts[s])
            return false;
    return true;
}

enum answer { ANSWER_PLAN, ANSWER_ROW, ANSWER_NEITHER };

static enum answer ask(struct haggling *haggling, size_t m, const int64_t *counts, const struct dw_cut_plan **plan)
{
    struct buying *buying = haggling->buying;
    if (is_within(buying, m, *plan, counts))
        return ANSWER_PLAN;
    struct dw_cutter *cutter = cutter_of(haggling, m);
    const int64_t share = haggling->work / 4 + 1;
    enum dw_cut_outcome outcome = DW_CUT_NONE_FOUND;
    const struct dw_cut_plan *found = NULL;
    const struct dw_control control = dwi_buying_control(buying);
    if (cutter == NULL || dw_cutter_within(cutter, counts, share, &control, buying->arena, &outcome, &found) != DW_DONE)
        return ANSWER_NEITHER;
    haggling->work -= found->work_done;
    if (outcome == DW_CUT_PLAN) {
        *plan = found;
        return ANSWER_PLAN;
    }
    struct dw_cut_inequality row;
    if (!dw_cutter_inequality(cutter, counts, share, buying->arena, &row))
        return ANSWER_NEITHER;
    add_demand(haggling, m, &row);
    return ANSWER_ROW;
}

/* Asks every cutter about a mix. ANSWER_PLAN when all can cut it: the plans are set. */
static enum answer ask_all(struct haggling *haggling, const struct mix *mix, const struct dw_cut_plan **plans)
{
    enum answer all = ANSWER_PLAN;
    for (size_t m = 0; m < haggling->buying->problem_count; m++) {
        const enum answer one = ask(haggling, m, mix->counts + haggling->first_ware[m], &plans[m]);
        if (one == ANSWER_ROW || (one == ANSWER_NEITHER && all == ANSWER_PLAN))
            all = one;
    }
    return all;
}

/* ---- the rounds ---- */

/* A bound without any delivery that depends on the sheets: for more suppliers than can be certified. */
static bool bound_without_deliveries(const struct haggling *haggling, struct dw_arena *arena, struct mix *unused, dw_money *least)
{
    struct bargain bare = haggling->bargain;
    struct ware *wares = dw_arena_copy(arena, bare.wares, bare.ware_count, sizeof *wares);
    for (size_t w = 0; w < bare.ware_count; w++)
        wares[w].supplier = -1;
    bare.wares = wares;
    bare.supplier_count = 0;
    return dwi_certify(&bare, CERTIFY_NODES, arena, least, unused) && *least < INT64_MAX;
}

/* The cheapest mix under the rows known. *bound is set when it is certain that none is cheaper. */
static bool propose(struct haggling *haggling, struct mix *mix, dw_money *bound)
{
    struct dw_arena *arena = haggling->buying->arena;
    dw_money least = 0;
    struct mix counted = {.counts = dw_arena_alloc(arena, haggling->bargain.ware_count, sizeof *counted.counts)};
    const bool solved = dwi_program_solve(&haggling->bargain, PROGRAM_NODES, arena, mix);
    const bool certain = dwi_certify(&haggling->bargain, CERTIFY_NODES, arena, &least, &counted);
    if (certain && least < INT64_MAX) {
        *bound = least + haggling->forced;
        if (!solved || mix->cost != least)
            *mix = counted;
    } else if (bound_without_deliveries(haggling, arena, &counted, &least)) {
        *bound = dw_most(*bound, least + haggling->forced);
    }
    return solved || (certain && least < INT64_MAX);
}

static bool is_cancelled(const struct buying *buying)
{
    return buying->control->cancel != NULL && atomic_load(buying->control->cancel);
}

static void haggle(struct haggling *haggling)
{
    struct buying *buying = haggling->buying;
    struct mix mix = {.counts = dw_arena_alloc(buying->arena, haggling->bargain.ware_count, sizeof *mix.counts)};
    const struct dw_cut_plan **plans = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *plans);
    buying->stop = DW_STOP_WORK;
    for (int round = 0; round < ROUNDS_MOST && buying->lower_bound < buying->sheets_cost; round++) {
        if (is_cancelled(buying) || dwi_buying_left(buying) == 0) {
            buying->stop = is_cancelled(buying) ? DW_STOP_CANCEL : DW_STOP_CLOCK;
            return;
        }
        if (!propose(haggling, &mix, &buying->lower_bound) || haggling->work <= 0)
            return;
        if (buying->lower_bound >= buying->sheets_cost)
            return;
        memcpy(plans, buying->plans, buying->problem_count * sizeof *plans);
        const enum answer answer = ask_all(haggling, &mix, plans);
        if (answer == ANSWER_NEITHER)
            return;
        const dw_money price = answer == ANSWER_PLAN ? dwi_buying_plans_price(buying, plans) : INT64_MAX;
        if (answer == ANSWER_PLAN && price >= buying->sheets_cost)
            return;
        if (answer == ANSWER_PLAN) {
            buying->sheets_cost = price;
            memcpy(buying->plans, plans, buying->problem_count * sizeof *plans);
        }
    }
}

/* A plan from a cutter's answer has the right sheets, but nobody has looked at its offcuts and settings. The same sheets are cut again
 * with all that in view. Bound and proof stay those of the material by itself, from its first plan. */
static void cut_again(struct buying *buying, size_t m, const struct dw_cut_plan *first)
{
    const struct dw_layout_problem *problem = &buying->problems[m];
    const int64_t *counts = dwi_buying_counts(buying, m, buying->plans[m]);
    struct dw_cut_sheet *sheets = dw_arena_copy(buying->arena, problem->request.sheets, problem->source_count, sizeof *sheets);
    for (size_t s = 0; s < problem->source_count; s++)
        sheets[s].count = counts[s];
    struct dw_cut_request request = problem->request;
    request.sheets = sheets;
    request.work = dwi_buying_work(buying) / 4;
    const struct dw_cut_plan *again = NULL;
    const struct dw_control control = dwi_buying_control(buying);
    const enum dw_status status = dw_cut_solve(&request, &control, buying->arena, buying->tries, &again);
    if (status != DW_DONE || again->outcome != DW_CUT_PLAN)
        again = buying->plans[m];
    struct dw_cut_plan *plan = dw_arena_copy(buying->arena, again, 1, sizeof *plan);
    plan->lower_bound = first->lower_bound;
    plan->proved = plan->cost == plan->lower_bound;
    plan->certificate = first->certificate;
    plan->certificate_count = first->certificate_count;
    buying->plans[m] = plan;
}

void dwi_buying_bargain(struct buying *buying, int64_t work)
{
    const struct dw_cut_plan **first = dw_arena_copy(buying->arena, buying->plans, buying->problem_count, sizeof *first);
    struct haggling haggling = {.buying = buying, .work = work};
    int64_t **none = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *none);
    haggling.cutters = dw_arena_alloc(buying->arena, buying->problem_count, sizeof(struct dw_cutter *));
    set_out_wares(&haggling);
    for (size_t m = 0; m < buying->problem_count; m++) {
        none[m] = dw_arena_alloc(buying->arena, buying->problems[m].source_count, sizeof **none);
        for (size_t i = 0; i < buying->plans[m]->certificate_count; i++)
            add_demand(&haggling, m, &buying->plans[m]->certificate[i]);
    }
    haggling.forced = dwi_buying_price(buying, (const int64_t *const *)none);
    buying->lower_bound = haggling.forced;
    haggle(&haggling);
    for (size_t m = 0; m < buying->problem_count; m++)
        if (buying->plans[m] != first[m])
            cut_again(buying, m, first[m]);
    buying->sheets_cost = dwi_buying_plans_price(buying, buying->plans);
    buying->lower_bound = dw_least(buying->lower_bound, buying->sheets_cost);
    buying->proved = buying->lower_bound == buying->sheets_cost;
    if (buying->proved)
        buying->stop = DW_STOP_PROVED;
}
