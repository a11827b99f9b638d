/* prices.c - what so many sheets cost: price breaks, delivery, mark-up. All in integers. */
#include "buying.h"

#include <inttypes.h>
#include <string.h>

#include <drawerwright/memory.h>

static dw_money price_at(const struct dw_sheet_offer *offer, int64_t count)
{
    dw_money price = offer->price;
    for (size_t i = 0; i < offer->break_count && offer->breaks[i].from <= count; i++)
        price = offer->breaks[i].price;
    return price;
}

/* Only the number wanted and the first number of each break beyond it can be cheapest: between breaks more costs more. */
struct dw_deal dw_best_deal(const struct dw_sheet_offer *offer, int64_t wanted)
{
    const dw_money each = wanted == 0 ? offer->price : price_at(offer, wanted);
    struct dw_deal best = {.count = wanted, .each = each, .total = each * wanted};
    for (size_t i = 0; wanted > 0 && i < offer->break_count; i++) {
        const int64_t count = offer->breaks[i].from;
        const dw_money total = offer->breaks[i].price * count;
        if (count > wanted && (offer->count == DW_NO_LIMIT || count <= offer->count) && total < best.total)
            best = (struct dw_deal){.count = count, .each = offer->breaks[i].price, .total = total};
    }
    return best;
}

dw_money dw_price_markup(dw_money cost, dw_ppm rate)
{
    return cost + dw_money_part(cost, rate);
}

dw_money dw_price_margin(dw_money cost, dw_ppm rate)
{
    return dw_money_scale(cost, 1000000, 1000000 - rate);
}

int64_t *dwi_buying_counts(const struct buying *buying, size_t problem, const struct dw_cut_plan *plan)
{
    int64_t *counts = dw_arena_alloc(buying->arena, buying->problems[problem].source_count, sizeof *counts);
    for (size_t i = 0; i < plan->layout_count; i++)
        counts[plan->layouts[i].sheet] += plan->layouts[i].times;
    return counts;
}

dw_money dwi_buying_delivery(const struct buying *buying, const char *supplier)
{
    const struct dw_shop *shop = shop_of(buying);
    for (size_t i = 0; i < shop->supplier_count; i++)
        if (strcmp(shop->suppliers[i].name, supplier) == 0)
            return shop->suppliers[i].delivery;
    return 0;
}

bool dwi_buying_brings_hardware(const struct buying *buying, const char *supplier)
{
    for (size_t job = 0; job < buying->job_count; job++)
        for (size_t i = 0; i < buying->jobs[job]->need_count; i++)
            if (buying->jobs[job]->needs[i].packs > 0 && strcmp(buying->jobs[job]->needs[i].supplier, supplier) == 0)
                return true;
    return false;
}

static bool brings_sheets(const struct buying *buying, const int64_t *const *counts, const char *supplier)
{
    for (size_t m = 0; m < buying->problem_count; m++)
        for (size_t s = 0; s < buying->problems[m].source_count; s++) {
            const struct dw_sheet_source *source = &buying->problems[m].sources[s];
            if (!source->owned && counts[m][s] > 0 && strcmp(source->supplier, supplier) == 0)
                return true;
        }
    return false;
}

dw_money dwi_buying_price(const struct buying *buying, const int64_t *const *counts)
{
    const struct dw_shop *shop = shop_of(buying);
    dw_money total = 0;
    for (size_t m = 0; m < buying->problem_count; m++) {
        const struct dw_layout_problem *problem = &buying->problems[m];
        for (size_t s = 0; s < problem->source_count; s++)
            if (!problem->sources[s].owned)
                total += dw_best_deal(&shop->materials[problem->material].sheets[problem->sources[s].offer], counts[m][s]).total;
    }
    for (size_t i = 0; i < shop->supplier_count; i++) {
        const char *name = shop->suppliers[i].name;
        if (shop->suppliers[i].delivery > 0 && (dwi_buying_brings_hardware(buying, name) || brings_sheets(buying, counts, name)))
            total += shop->suppliers[i].delivery;
    }
    return total;
}

dw_money dwi_buying_plans_price(const struct buying *buying, const struct dw_cut_plan *const *plans)
{
    int64_t **counts = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *counts);
    for (size_t m = 0; m < buying->problem_count; m++)
        counts[m] = dwi_buying_counts(buying, m, plans[m]);
    return dwi_buying_price(buying, (const int64_t *const *)counts);
}

const char *dw_purchase_bound_words(struct dw_arena *arena, dw_money cost, dw_money lower_bound, bool proved, struct dw_currency currency)
{
    if (proved)
        return "nothing cheaper exists";
    return dw_arena_format(arena, "could still save at most %s", dw_money_show_mark(arena, cost - lower_bound, currency));
}
