/* make.c - from a cutting plan to a material's layout: named pieces, then the ladder, then the checker's word on both. */
#include <drawerwright/layout.h>

#include <drawerwright/memory.h>

#include "ladder.h"
#include "pieces.h"
#include "tidy.h"

struct making {
    const struct dw_parts *const *jobs;
    const struct dw_cut_plan *plan;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_cut_plan tidied;
    struct dw_material_layout layout;
};

static void make_body(void *context)
{
    struct making *making = context;
    making->tidied = *dwi_tidy(making->jobs, making->layout.problem, making->plan, making->arena);
    struct given_up given_up = {.count = 0};
    struct dw_material_layout trial = {.problem = making->layout.problem};
    struct dw_arena *work = dw_arena_child(making->arena);
    (void)dwi_layout_try(making->jobs, &making->tidied, &given_up, work, &trial);
    dwi_layout_pieces(making->jobs, &making->tidied, &given_up, making->arena, making->faults, &making->layout);
    dwi_ladder_make(making->jobs, making->arena, making->faults, &making->layout);
    dw_arena_free(work); /* the marks given up lay in it */
}

/* The cutting room's checker on the plan as it was laid out; on all but its bound, which tidying does not touch. */
static bool holds(const struct dw_cut_request *request, struct dw_cut_plan plan, struct dw_faults *faults)
{
    plan.certificate = NULL;
    plan.certificate_count = 0;
    plan.lower_bound = 0;
    plan.proved = plan.cost == 0;
    return dw_cut_check(request, &plan, faults);
}

enum dw_status dw_layout_make(const struct dw_parts *const *jobs, const struct dw_layout_problem *problem, const struct dw_cut_plan *plan,
                              struct dw_arena *arena, struct dw_faults *faults, struct dw_material_layout *layout)
{
    struct making making = {.jobs = jobs, .plan = plan, .arena = arena, .faults = faults,
                            .layout = {.problem = problem, .plan = plan, .outcome = plan->outcome, .cost = plan->cost, .lower_bound = plan->lower_bound,
                                       .proved = plan->proved, .stop = plan->stop, .work_done = plan->work_done,
                                       .certificate = plan->certificate, .certificate_count = plan->certificate_count}};
    const size_t errors = faults->errors;
    *layout = making.layout;
    if (!dw_arena_guard(arena, make_body, &making)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the sheets were laid out");
        return DW_SURROUNDINGS;
    }
    *layout = making.layout;
    if (faults->errors == errors && holds(&problem->request, making.tidied, faults))
        (void)dw_ladder_replay(jobs, layout, faults);
    return faults->errors == errors ? DW_DONE : faults->status;
}
