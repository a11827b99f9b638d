/* fuzz_plan.c - a plan is either refused with a fault or names only parts and sheets that it has. */
#include "fuzz.h"

#include <stdlib.h>

#include <drawerwright/fault.h>
#include <drawerwright/memory.h>
#include <drawerwright/plan.h>

static void check_node(const struct dw_plan *plan, const struct dw_plan_node *node)
{
    if (node->use == DW_NODE_PART && node->part >= plan->part_count)
        abort();
    for (size_t i = 0; i < node->piece_count; i++)
        check_node(plan, &node->pieces[i]);
}

static void check_plan(const struct dw_plan *plan)
{
    for (size_t m = 0; m < plan->material_count; m++)
        for (size_t s = 0; s < plan->materials[m].sheet_count; s++) {
            if (plan->materials[m].sheets[s].source >= plan->materials[m].source_count)
                abort();
            check_node(plan, &plan->materials[m].sheets[s].root);
        }
}

int fuzz_plan(const uint8_t *data, size_t size)
{
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    const struct dw_plan *plan = NULL;
    if (arena != NULL && faults != NULL) {
        const enum dw_status status = dw_plan_read_text((const char *)data, size, arena, faults, &plan);
        if ((status == DW_DONE) != (plan != NULL) || (plan == NULL) != (faults->errors > 0))
            abort();
    }
    if (plan != NULL)
        check_plan(plan);
    dw_faults_free(faults);
    dw_arena_free(arena);
    return 0;
}
