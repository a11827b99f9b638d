/* alike.c - what it costs that parts keep to their batches, against cutting all sheets of a material as if they were alike. */
#include "batches.h"

#include <string.h>

#include <drawerwright/memory.h>

struct comparing {
    const struct dw_purchase *purchase, *alike;
    struct dw_arena *arena;
    struct dw_faults *faults;
};

static void body(void *context)
{
    const struct comparing *comparing = context;
    const struct dw_currency currency = comparing->purchase->layouts->jobs[0]->sizing->job->shop.prices.currency;
    const dw_money cost = comparing->purchase->sheets_cost;
    dw_warn(comparing->faults, "batches-cost", "shop.materials",
            "that parts keep to their batches takes %s more of sheets than if all were alike: %s in all\n"
            "where the batches are near enough to one another leave them out of the material",
            dw_money_show_mark(comparing->arena, cost - comparing->alike->sheets_cost, currency), dw_money_show_mark(comparing->arena, cost, currency));
}

/* Panels that were measured at the bench belong to a batch, and are not at hand for parts of none. */
static bool has_measured(const struct dw_layout_options *options)
{
    for (size_t i = 0; i < options->owned_count; i++)
        if (strstr(options->owned[i].material, DW_BATCH_BETWEEN) != NULL)
            return true;
    return false;
}

enum dw_status dwi_batches_tell_cost(const struct dw_parts *const *alike, const struct dw_purchase *purchase, const struct dw_layout_options *options,
                                     const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults)
{
    struct dw_layout_options ways = {.no_choices = true};
    struct comparing comparing = {.purchase = purchase, .arena = arena, .faults = faults};
    if (options != NULL)
        ways = *options;
    ways.no_choices = true;
    if (has_measured(&ways))
        return DW_DONE;
    struct dw_faults *heard = dw_faults_new();
    enum dw_status status = DW_SURROUNDINGS;
    if (heard != NULL)
        status = dw_purchase_make(alike, purchase->layouts->job_count, &ways, control, arena, heard, &comparing.alike);
    dw_faults_free(heard);
    const bool told = status == DW_DONE && comparing.alike->sheets_cost < purchase->sheets_cost;
    if (status != DW_SURROUNDINGS && (!told || dw_arena_guard(arena, body, &comparing)))
        return DW_DONE;
    dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
    return DW_SURROUNDINGS;
}
