/* fuzz_plan.c - a plan is either refused with a fault or names only parts, sheets and panels that it has, so that it can be entered and compared. */
#include "fuzz.h"

#include <stdlib.h>

#include <drawerwright/fault.h>
#include <drawerwright/memory.h>
#include <drawerwright/plan.h>
#include <drawerwright/run.h>

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

/* What is entered is refused too, or names only what it has. */
static void enter_plan(const struct dw_plan *plan, struct dw_arena *arena, struct dw_faults *faults)
{
    struct dw_work_plan work;
    struct dw_run_changes changes;
    if (dw_run_changes(plan, plan, NULL, DW_IN, 2, arena, faults, &changes) != DW_DONE)
        abort();
    if (dw_run_work(plan, arena, faults, &work) != DW_DONE)
        return;
    for (size_t i = 0; i < work.panel_count; i++)
        if (work.panels[i].use == DW_PANEL_PIECE && work.panels[i].piece >= work.piece_count)
            abort();
    for (size_t i = 0; i < work.pass_count; i++)
        if (work.passes[i].panel >= work.panel_count || (work.passes[i].off != DW_NO_PANEL && work.passes[i].off >= work.panel_count))
            abort();
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
    if (plan != NULL)
        enter_plan(plan, arena, faults);
    dw_faults_free(faults);
    dw_arena_free(arena);
    return 0;
}
