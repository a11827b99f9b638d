/* certify.c - the least cost of any mix of sheets that obeys the rows, by counting in integers.
 *
 * Once it is settled which suppliers come (at most 2^12 sets of them), the problems fall apart: each asks for its own cheapest counts among
 * the wares of those suppliers. These are counted out depth first, ware after ware: for the last ware the number follows from the rows, for
 * the others every number is tried that costs less than the best mix found, with what the remaining rows must cost at least:
 *     for each row, what is missing x the least (price / v) of the wares to come, rounded up.
 * A ware's cost never falls with the number wanted (dw_best_deal buys more where that is cheaper), so a count can stop the loop. v and rhs are
 * below 2^62, prices below 2^40: products go through 128 bits.
 */
#include "bargain.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/purchase.h>

__extension__ typedef __int128 wide;

enum { SUPPLIERS_MOST = 12 };

static dw_money deal_cost(const struct ware *ware, int64_t wanted)
{
    return dw_best_deal(&ware->offer, wanted).total;
}

dw_money dwi_bargain_cost(const struct bargain *bargain, const int64_t *counts)
{
    dw_money cost = 0;
    for (size_t w = 0; w < bargain->ware_count; w++)
        cost += deal_cost(&bargain->wares[w], counts[w]);
    for (int k = 0; k < bargain->supplier_count; k++)
        for (size_t w = 0; w < bargain->ware_count; w++)
            if (bargain->wares[w].supplier == k && counts[w] > 0) {
                cost += bargain->deliveries[k];
                break;
            }
    return cost;
}

bool dwi_bargain_obeys(const struct bargain *bargain, const int64_t *counts)
{
    for (size_t d = 0; d < bargain->demand_count; d++) {
        wide value = 0;
        for (size_t w = 0; w < bargain->ware_count; w++)
            if (bargain->wares[w].problem == bargain->demands[d].problem)
                value += (wide)bargain->demands[d].v[bargain->wares[w].place] * counts[w];
        if (value < bargain->demands[d].rhs)
            return false;
    }
    return true;
}

/* One problem's counting: its wares that may be bought, those that are owned first, and its rows. */
struct counting {
    const struct ware **wares;
    size_t ware_count;
    const struct demand **demands;
    size_t demand_count;
    wide *missing;       /* for each depth and demand: rhs less what the counts so far give */
    int64_t *counts;     /* by depth */
    int64_t *best_counts;
    dw_money best;       /* INT64_MAX while there is none */
    int64_t nodes;       /* left; below 0: given up */
};

static dw_money least_price(const struct ware *ware)
{
    dw_money least = ware->offer.price;
    for (size_t i = 0; i < ware->offer.break_count; i++)
        least = ware->offer.breaks[i].price < least ? ware->offer.breaks[i].price : least;
    return least;
}

static wide divide_up(wide a, int64_t b)
{
    return (a + b - 1) / b;
}

/* What the rows still cost at least from this depth on; -1 when some row can no longer be met. */
static dw_money least_to_come(const struct counting *counting, size_t depth, const wide *missing)
{
    wide most = 0;
    for (size_t d = 0; d < counting->demand_count; d++) {
        wide least = -1;
        for (size_t w = depth; missing[d] > 0 && w < counting->ware_count; w++) {
            const int64_t v = counting->demands[d]->v[counting->wares[w]->place];
            const wide cost = v == 0 ? -1 : divide_up(missing[d] * least_price(counting->wares[w]), v);
            if (v > 0 && (least < 0 || cost < least))
                least = cost;
        }
        if (missing[d] > 0 && least < 0)
            return -1;
        most = least > most ? least : most;
    }
    return most > INT64_MAX ? INT64_MAX : (dw_money)most;
}

static bool is_met(const struct counting *counting, const wide *missing)
{
    for (size_t d = 0; d < counting->demand_count; d++)
        if (missing[d] > 0)
            return false;
    return true;
}

/* How many of the last ware the rows ask for. least_to_come has seen that its v is over 0 where something is missing. */
static wide needed(const struct counting *counting, const struct ware *ware, const wide *missing)
{
    wide count = 0;
    for (size_t d = 0; d < counting->demand_count; d++) {
        const wide own = missing[d] > 0 ? divide_up(missing[d], counting->demands[d]->v[ware->place]) : 0;
        count = own > count ? own : count;
    }
    return count;
}

static void keep_best(struct counting *counting, size_t depth, dw_money cost)
{
    counting->best = cost;
    memset(counting->best_counts, 0, counting->ware_count * sizeof *counting->best_counts);
    memcpy(counting->best_counts, counting->counts, depth * sizeof *counting->best_counts);
}

static void count_out(struct counting *counting, size_t depth, dw_money cost)
{
    const wide *missing = counting->missing + depth * counting->demand_count;
    if (--counting->nodes < 0)
        return;
    if (is_met(counting, missing)) {
        if (cost < counting->best)
            keep_best(counting, depth, cost);
        return;
    }
    const dw_money to_come = least_to_come(counting, depth, missing);
    if (to_come < 0 || to_come >= counting->best - cost)
        return;
    const struct ware *ware = counting->wares[depth];
    wide *next = counting->missing + (depth + 1) * counting->demand_count;
    const bool last = depth + 1 == counting->ware_count;
    const wide first = last ? needed(counting, ware, missing) : 0;
    for (wide count = first; count <= ware->most && counting->nodes >= 0; count++) {
        const dw_money more = deal_cost(ware, (int64_t)count);
        if (more >= counting->best - cost)
            return;
        for (size_t d = 0; d < counting->demand_count; d++)
            next[d] = missing[d] - count * counting->demands[d]->v[ware->place];
        counting->counts[depth] = (int64_t)count;
        count_out(counting, depth + 1, cost + more);
        if (is_met(counting, next))
            return;
    }
}

/* The wares of a problem whose supplier comes: owned ones first, then as they stand. */
static void gather_wares(const struct bargain *bargain, size_t problem, unsigned coming, struct counting *counting)
{
    counting->ware_count = 0;
    for (int owned = 1; owned >= 0; owned--)
        for (size_t w = 0; w < bargain->ware_count; w++) {
            const struct ware *ware = &bargain->wares[w];
            const bool comes = ware->supplier < 0 || (coming >> ware->supplier & 1U) != 0;
            if (ware->problem == problem && comes && ware->most > 0 && (least_price(ware) == 0) == (owned == 1))
                counting->wares[counting->ware_count++] = ware;
        }
}

static struct counting new_counting(const struct bargain *bargain, int64_t nodes, struct dw_arena *arena)
{
    const size_t wares = bargain->ware_count, demands = bargain->demand_count;
    return (struct counting){.wares = dw_arena_alloc(arena, wares, sizeof(struct ware *)),
                             .demands = dw_arena_alloc(arena, demands, sizeof(struct demand *)),
                             .missing = dw_arena_alloc(arena, (wares + 1) * demands, sizeof(wide)),
                             .counts = dw_arena_alloc(arena, wares, sizeof(int64_t)),
                             .best_counts = dw_arena_alloc(arena, wares, sizeof(int64_t)),
                             .nodes = nodes};
}

/* Adds the cheapest counts of one problem to the mix; false when there are none, or the nodes ran out. */
static bool add_problem(const struct bargain *bargain, size_t problem, unsigned coming, struct counting *counting, struct mix *mix)
{
    gather_wares(bargain, problem, coming, counting);
    counting->demand_count = 0;
    for (size_t d = 0; d < bargain->demand_count; d++)
        if (bargain->demands[d].problem == problem) {
            counting->missing[counting->demand_count] = bargain->demands[d].rhs;
            counting->demands[counting->demand_count++] = &bargain->demands[d];
        }
    counting->best = INT64_MAX;
    count_out(counting, 0, 0);
    if (counting->best == INT64_MAX || counting->nodes < 0)
        return false;
    for (size_t i = 0; i < counting->ware_count; i++)
        mix->counts[counting->wares[i] - bargain->wares] = counting->best_counts[i];
    mix->cost += counting->best;
    return true;
}

bool dwi_certify(const struct bargain *bargain, int64_t nodes, struct dw_arena *arena, dw_money *least, struct mix *mix)
{
    *least = INT64_MAX;
    if (bargain->supplier_count > SUPPLIERS_MOST)
        return false;
    struct counting counting = new_counting(bargain, nodes, arena);
    struct mix trial = {.counts = dw_arena_alloc(arena, bargain->ware_count, sizeof *trial.counts)};
    for (unsigned coming = 0; coming < 1U << bargain->supplier_count; coming++) {
        trial.cost = 0;
        memset(trial.counts, 0, bargain->ware_count * sizeof *trial.counts);
        for (int k = 0; k < bargain->supplier_count; k++)
            trial.cost += (coming >> k & 1U) != 0 ? bargain->deliveries[k] : 0;
        bool possible = true;
        for (size_t p = 0; possible && p < bargain->problem_count; p++)
            possible = add_problem(bargain, p, coming, &counting, &trial);
        if (counting.nodes < 0)
            return false;
        if (!possible || trial.cost >= *least)
            continue;
        *least = trial.cost;
        mix->cost = trial.cost;
        memcpy(mix->counts, trial.counts, bargain->ware_count * sizeof *trial.counts);
    }
    return true;
}
