/* solve.c - the room's doors: dw_cut_solve and the two questions of a cutter.
 *
 * Every body runs under a guard, in arenas of its own; what is handed out is written into the caller's arena and has passed
 * the checker first.
 */
#include <drawerwright/cutting.h>

#include <string.h>

#include <drawerwright/crew.h>
#include <drawerwright/memory.h>

#include "search.h"
#include "without.h"

const char *const dwi_method_words[DWI_METHODS] = {"values", "ruin", "holes", "strips", "choice", "rounded", "priced", "counted", "duals", "limited", "swap"};

static int64_t work_allowed(const struct dw_cut_request *request)
{
    return request->work > 0 ? request->work : dw_patience_units(request->patience);
}

/* An inequality in terms of items as one in terms of parts. */
static struct dw_cut_inequality unfold_row(const struct problem *problem, const struct bound_row *row,
                                           struct dw_arena *arena)
{
    const size_t parts = problem->request->part_count;
    int64_t *u = dw_arena_alloc(arena, parts, sizeof *u);
    for (size_t p = 0; p < parts; p++)
        u[p] = row->u[problem->item_of_part[p]];
    const int64_t *v = dw_arena_copy(arena, row->v, (size_t)problem->stock_count, sizeof *v);
    return (struct dw_cut_inequality){.u = u, .v = v, .rhs = row->rhs};
}

static void write_certificate(const struct search *search, struct dw_arena *arena, struct dw_cut_plan *plan)
{
    const struct bound_row *rows;
    plan->certificate_count = dwi_proof_certificate(search->desk.proof, search->bound, search->arena, &rows);
    struct dw_cut_inequality *certificate = dw_arena_alloc(arena, plan->certificate_count, sizeof *certificate);
    for (size_t r = 0; r < plan->certificate_count; r++)
        certificate[r] = unfold_row(search->problem, &rows[r], arena);
    plan->certificate = certificate;
}

static void write_ending(const struct search *search, struct dw_cut_plan *plan)
{
    plan->work_done = search->meter.ticks / DWI_TICKS_A_UNIT;
    plan->stop = plan->proved || plan->outcome == DW_CUT_IMPOSSIBLE ? DW_STOP_PROVED : search->meter.stop;
}

struct solving {
    const struct dw_cut_request *request;
    unsigned without;
    const struct dw_control *control;
    struct dw_crew *crew;
    struct dw_arena *arena;   /* the caller's */
    struct dw_arena *work;
    struct dw_cut_plan *plan;
};

static void solve_body(void *context)
{
    struct solving *solving = context;
    struct dw_cut_plan *plan = dw_arena_alloc(solving->arena, 1, sizeof *plan);
    struct search *search = dwi_search_new(solving->request, solving->without, solving->work);
    search->crew = solving->crew;
    dwi_meter_start(&search->meter, work_allowed(solving->request), solving->control);
    dwi_search_cheapest(search);
    plan->outcome = search->has_plan ? DW_CUT_PLAN : search->impossible ? DW_CUT_IMPOSSIBLE : DW_CUT_NONE_FOUND;
    plan->lower_bound = search->bound;
    if (search->has_plan) {
        dwi_plan_write(search->problem, search->best.uses, search->best.count, solving->arena, plan);
        plan->proved = plan->lower_bound == plan->cost;
    }
    write_certificate(search, solving->arena, plan);
    write_ending(search, plan);
    solving->plan = plan;
}

/* The work arena is a child of the caller's, so one guard covers both. */
static void solve_in_child(void *context)
{
    struct solving *solving = context;
    solving->work = dw_arena_child(solving->arena);
    solve_body(solving);
    dw_arena_free(solving->work);
}

/* A crew as the request asks for, to be freed; NULL where the caller shares one. */
static struct dw_crew *own_crew(const struct dw_cut_request *request, const struct dw_control *control)
{
    return control != NULL && control->crew != NULL ? NULL : dw_crew_new(request->threads);
}

static bool solve_with_crew(struct solving *solving)
{
    struct dw_crew *own = own_crew(solving->request, solving->control);
    solving->crew = own != NULL || solving->control == NULL ? own : solving->control->crew;
    const bool enough = dw_arena_guard(solving->arena, solve_in_child, solving);
    dw_crew_free(own);
    return enough;
}

enum dw_status dwi_solve_without(const struct dw_cut_request *request, unsigned without, const struct dw_control *control,
                                 struct dw_arena *arena, struct dw_faults *faults, const struct dw_cut_plan **plan)
{
    if (!dw_cut_check_request(request, faults))
        return faults->status;
    struct solving solving = {.request = request, .without = without, .control = control, .arena = arena};
    if (!solve_with_crew(&solving)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the cuts were searched");
        return DW_SURROUNDINGS;
    }
    if (!dw_cut_check(request, solving.plan, faults))
        return faults->status;
    *plan = solving.plan;
    return DW_DONE;
}

enum dw_status dw_cut_solve(const struct dw_cut_request *request, const struct dw_control *control,
                            struct dw_arena *arena, struct dw_faults *faults, const struct dw_cut_plan **plan)
{
    return dwi_solve_without(request, 0, control, arena, faults, plan);
}

struct dw_cutter {
    struct dw_arena *arena; /* holds all that is learned */
    struct search *search;
};

struct making {
    const struct dw_cut_request *request;
    struct dw_arena *arena;
    struct dw_cutter *cutter;
};

static void make_body(void *context)
{
    struct making *making = context;
    struct dw_cutter *cutter = dw_arena_alloc(making->arena, 1, sizeof *cutter);
    cutter->arena = making->arena;
    cutter->search = dwi_search_new(making->request, 0, making->arena);
    making->cutter = cutter;
}

struct dw_cutter *dw_cutter_new(const struct dw_cut_request *request, struct dw_arena *arena)
{
    struct making making = {.request = request, .arena = arena};
    return dw_arena_guard(arena, make_body, &making) ? making.cutter : NULL;
}

struct asking {
    struct dw_cutter *cutter;
    const int64_t *counts;
    struct dw_arena *arena; /* of the answer */
    enum dw_cut_outcome outcome;
    struct draft draft;
    struct dw_cut_plan *plan;
    struct dw_cut_inequality *inequality;
    bool found;
};

static void within_body(void *context)
{
    struct asking *asking = context;
    struct search *search = asking->cutter->search;
    asking->outcome = dwi_search_within(search, asking->counts, &asking->draft);
}

static bool ask_with_crew(struct asking *asking, const struct dw_control *control)
{
    struct search *search = asking->cutter->search;
    struct dw_crew *own = own_crew(search->problem->request, control);
    search->crew = own != NULL || control == NULL ? own : control->crew;
    const bool enough = dw_arena_guard(asking->cutter->arena, within_body, asking);
    search->crew = NULL;
    dw_crew_free(own);
    return enough;
}

static void write_body(void *context)
{
    struct asking *asking = context;
    struct search *search = asking->cutter->search;
    struct dw_cut_plan *plan = dw_arena_alloc(asking->arena, 1, sizeof *plan);
    plan->outcome = asking->outcome;
    if (asking->outcome == DW_CUT_PLAN) {
        dwi_plan_write(search->problem, asking->draft.uses, asking->draft.count, asking->arena, plan);
        plan->lower_bound = search->bound;
        plan->proved = plan->lower_bound == plan->cost;
    }
    write_certificate(search, asking->arena, plan);
    write_ending(search, plan);
    asking->plan = plan;
}

static bool passes_check(const struct dw_cut_request *request, const struct dw_cut_plan *plan)
{
    struct dw_faults *faults = dw_faults_new();
    const bool sound = faults != NULL && dw_cut_check(request, plan, faults);
    dw_faults_free(faults);
    return sound;
}

enum dw_status dw_cutter_within(struct dw_cutter *cutter, const int64_t *counts, int64_t work,
                                const struct dw_control *control, struct dw_arena *arena, enum dw_cut_outcome *outcome,
                                const struct dw_cut_plan **plan)
{
    struct asking asking = {.cutter = cutter, .counts = counts, .arena = arena};
    dwi_meter_start(&cutter->search->meter, work, control);
    if (!ask_with_crew(&asking, control) || !dw_arena_guard(arena, write_body, &asking))
        return DW_SURROUNDINGS;
    if (!passes_check(cutter->search->problem->request, asking.plan))
        return DW_PROGRAM;
    *outcome = asking.outcome;
    *plan = asking.plan;
    return DW_DONE;
}

static bool is_broken(const struct bound_row *row, const int64_t *counts, int stock_count)
{
    int64_t value = 0; /* the proof scales v so that no sum over sheets overflows */
    for (int s = 0; s < stock_count; s++)
        value += row->v[s] * counts[s];
    return value < row->rhs;
}

/* An inequality that the counts break: one known, or a new one. */
static bool find_broken(struct search *search, const int64_t *counts, struct dw_arena *arena,
                        struct dw_cut_inequality *inequality)
{
    bool finished = false;
    while (dwi_proof_obeyed(search->desk.proof, counts)) {
        if (finished || !dwi_meter_open(&search->meter))
            return false;
        if (!dwi_proof_break(search->desk.proof, counts, &search->desk.pool, &search->meter, INT64_MAX / 4, &finished))
            return false;
    }
    const struct bound_row *rows;
    for (size_t r = dwi_proof_rows(search->desk.proof, &rows); r-- > 0;)
        if (is_broken(&rows[r], counts, search->problem->stock_count)) {
            *inequality = unfold_row(search->problem, &rows[r], arena);
            return true;
        }
    return false;
}

static void find_body(void *context)
{
    struct asking *asking = context;
    asking->found = find_broken(asking->cutter->search, asking->counts, asking->arena, asking->inequality);
}

/* The search's own memory runs out inside a guard of the search, the answer's inside one of the answer's arena. */
static void guarded_find(void *context)
{
    struct asking *asking = context;
    if (!dw_arena_guard(asking->cutter->arena, find_body, asking))
        asking->found = false;
}

bool dw_cutter_inequality(struct dw_cutter *cutter, const int64_t *counts, int64_t work, struct dw_arena *arena,
                          struct dw_cut_inequality *inequality)
{
    struct asking asking = {.cutter = cutter, .counts = counts, .arena = arena, .inequality = inequality};
    dwi_meter_start(&cutter->search->meter, work, NULL);
    return dw_arena_guard(arena, guarded_find, &asking) && asking.found;
}
