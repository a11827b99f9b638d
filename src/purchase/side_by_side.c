/* side_by_side.c - all materials solved, one by one or several at a time, with the same result.
 *
 * Materials do not see one another here, so the order in which they are solved changes nothing; each has an arena and a list of faults of its
 * own, and what comes out is copied and told in the materials' order. A memory guard belongs to one thread: no arena of the caller is
 * touched while the others run.
 *
 * One crew works on all of it. A thread that finds no further material helps the searches that still go on, which split their own work (cutting.h): so
 * there are never more threads at work than asked for, and none is idle while one hard material is left.
 */
#include "buying.h"

#include <pthread.h>

#include <drawerwright/crew.h>
#include <drawerwright/memory.h>

struct line_up;

/* One material's solving. */
struct solving {
    struct line_up *line_up;
    size_t index;
    const struct dw_cut_request *request;
    const char *name;                 /* of the material, for progress */
    struct dw_arena *arena;
    struct dw_faults *faults;
    enum dw_status status;
    const struct dw_cut_plan *plan;
};

struct line_up {
    struct solving *all;
    size_t count;
    struct dw_crew *crew;
    const struct dw_control *control;
    int64_t deadline;                 /* of the clock, milliseconds; 0: none */
    int threads;
    pthread_mutex_t telling;
};

/* Passes progress on under the material's name, one report at a time. */
static void report(void *context, const struct dw_standing *standing)
{
    const struct solving *solving = context;
    struct line_up *line_up = solving->line_up;
    struct dw_standing named = *standing;
    named.what = solving->name;
    named.material = solving->index;
    (void)pthread_mutex_lock(&line_up->telling);
    line_up->control->progress(line_up->control->context, &named);
    (void)pthread_mutex_unlock(&line_up->telling);
}

/* What is left of the clock is shared evenly among the materials still to come, as many at a time as there are threads. */
static int64_t share_of_clock(const struct line_up *line_up, size_t index)
{
    if (line_up->deadline == 0)
        return 0;
    const int64_t to_come = (int64_t)(line_up->count - index);
    return dw_most(1, (line_up->deadline - dwi_buying_clock()) * dw_least(line_up->threads, to_come) / to_come);
}

static void solve_one(void *context)
{
    struct solving *solving = context;
    const struct line_up *line_up = solving->line_up;
    const struct dw_control control = {.cancel = line_up->control->cancel, .context = solving,
                                       .progress = line_up->control->progress == NULL ? NULL : report,
                                       .plans = line_up->control->plans,
                                       .milliseconds = share_of_clock(line_up, solving->index),
                                       .crew = line_up->crew};
    if (solving->plan == NULL) /* not known */
        solving->status = dw_cut_solve(solving->request, &control, solving->arena, solving->faults, &solving->plan);
}

static void solve_together(struct line_up *line_up, struct dw_chore *chores)
{
    line_up->crew = dw_crew_new(line_up->threads);
    for (size_t i = 0; i < line_up->count; i++)
        chores[i] = (struct dw_chore){.work = solve_one, .context = &line_up->all[i]};
    dw_crew_post(line_up->crew, chores, line_up->count);
    for (size_t i = 0; i < line_up->count; i++)
        dw_crew_wait(line_up->crew, &chores[i]);
    dw_crew_free(line_up->crew);
}

/* ---- what comes out ---- */

static struct dw_cut_node copy_node(struct dw_arena *arena, const struct dw_cut_node *node)
{
    struct dw_cut_node copy = *node;
    if (node->use != DW_NODE_CUT)
        return copy;
    struct dw_cut_node *pieces = dw_arena_alloc(arena, node->piece_count, sizeof *pieces);
    for (size_t i = 0; i < node->piece_count; i++)
        pieces[i] = copy_node(arena, &node->pieces[i]);
    copy.pieces = pieces;
    return copy;
}

static const struct dw_cut_plan *copy_plan(struct dw_arena *arena, const struct dw_cut_request *request, const struct dw_cut_plan *plan)
{
    struct dw_cut_plan *copy = dw_arena_copy(arena, plan, 1, sizeof *copy);
    struct dw_cut_layout *layouts = dw_arena_copy(arena, plan->layouts, plan->layout_count, sizeof *layouts);
    for (size_t i = 0; i < plan->layout_count; i++)
        layouts[i].root = copy_node(arena, &plan->layouts[i].root);
    struct dw_cut_inequality *rows = dw_arena_copy(arena, plan->certificate, plan->certificate_count, sizeof *rows);
    for (size_t i = 0; i < plan->certificate_count; i++) {
        rows[i].u = dw_arena_copy(arena, rows[i].u, request->part_count, sizeof *rows[i].u);
        rows[i].v = dw_arena_copy(arena, rows[i].v, request->sheet_count, sizeof *rows[i].v);
    }
    copy->layouts = layouts;
    copy->certificate = rows;
    return copy;
}

struct handing {
    struct buying *buying;
    const struct line_up *line_up;
};

static void copy_all(void *context)
{
    const struct handing *handing = context;
    for (size_t i = 0; i < handing->line_up->count; i++) {
        const struct solving *solving = &handing->line_up->all[i];
        if (solving->status == DW_DONE)
            handing->buying->plans[i] = copy_plan(handing->buying->arena, solving->request, solving->plan);
    }
}

/* Hands over plans and faults and gives back what the workers had. */
static bool hand_over(struct buying *buying, struct line_up *line_up)
{
    struct handing handing = {buying, line_up};
    const bool enough = dw_arena_guard(buying->arena, copy_all, &handing);
    bool done = enough;
    for (size_t i = 0; i < line_up->count; i++) {
        struct solving *solving = &line_up->all[i];
        if (solving->faults != NULL)
            dw_faults_append(buying->faults, solving->faults, "");
        done = done && solving->status == DW_DONE;
        dw_faults_free(solving->faults);
        dw_arena_free(solving->arena);
    }
    if (!enough)
        dw_error(buying->faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the sheets were chosen");
    return done;
}

bool dwi_buying_solve_all(struct buying *buying)
{
    struct line_up line_up = {.all = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *line_up.all), .count = buying->problem_count,
                              .control = buying->control, .threads = (int)dw_most(1, buying->options->threads),
                              .deadline = buying->deadline, .telling = PTHREAD_MUTEX_INITIALIZER};
    struct dw_chore *chores = dw_arena_alloc(buying->arena, line_up.count, sizeof *chores);
    bool enough = true;
    for (size_t i = 0; i < line_up.count; i++) {
        const struct dw_layout_problem *problem = &buying->problems[i];
        line_up.all[i] = (struct solving){.line_up = &line_up, .index = i, .request = &problem->request, .name = shop_of(buying)->materials[problem->material].name,
                                          .arena = dw_arena_new(), .faults = dw_faults_new(), .status = DW_SURROUNDINGS,
                                          .plan = dwi_buying_known(buying, i)};
        if (line_up.all[i].plan != NULL)
            line_up.all[i].status = DW_DONE;
        enough = enough && line_up.all[i].arena != NULL && line_up.all[i].faults != NULL;
    }
    if (enough)
        solve_together(&line_up, chores);
    else
        dw_error(buying->faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the sheets were chosen");
    return hand_over(buying, &line_up);
}
