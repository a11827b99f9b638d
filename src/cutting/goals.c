/* goals.c - which mixes are aimed at, and whose turn it is.
 *
 * A goal is a mix of sheets and a state of ruin and recreate for it. Aims: the blocking mix, and mixes that cost just less, or half way less, than the
 * best plan. A state starts from the layouts of the best plan; in a big job from strips cut for the mix, where after the same work half as much is absent as
 * from empty sheets. Turns are short enough that a wide gap is closed in many steps. In each, the goal that came closest gets most of the work and every
 * further one half as much.
 *
 * Goals do not see one another during a turn: each has its memory, its random numbers and its share of the work. So in long rounds their runs are chores
 * of a crew (crew.h): the closest goal takes as long as all others together, about. In short ones they run in turn, and the turn ends when one is met.
 */
#include "goals.h"

#include <string.h>

#include <drawerwright/crew.h>
#include <drawerwright/memory.h>

#include "mixes.h"
#include "strips.h"
#include "without.h"

enum {
    TURNS = 16,               /* of the goals in a round */
    LEAST_TURN = 1000000,
    SHEETS_MOST = 4000,       /* in a goal */
};

static void drop_goal(struct search *search, int g)
{
    dw_arena_free(search->goals[g].arena);
    search->goal_count--;
    memmove(&search->goals[g], &search->goals[g + 1], (size_t)(search->goal_count - g) * sizeof search->goals[g]);
}

void dwi_goals_drop_all(struct search *search)
{
    while (search->goal_count > 0)
        drop_goal(search, search->goal_count - 1);
}

static void drop_not_cheaper(struct search *search)
{
    for (int g = search->goal_count - 1; g >= 0; g--)
        if (search->has_plan && search->goals[g].cost >= search->best.cost)
            drop_goal(search, g);
}

/* ---- aims ---- */

/* Is some state aimed at this mix already? */
static bool is_goal(const struct search *search, const int64_t *counts)
{
    for (int g = 0; g < search->goal_count; g++)
        if (memcmp(search->goals[g].counts, counts, (size_t)search->problem->stock_count * sizeof *counts) == 0)
            return true;
    return false;
}

/* Aims at a mix, with a state that starts from the given layouts as far as the mix has sheets for them. The least promising goal makes
 * way when there are many. */
static void aim_from(struct search *search, const int64_t *counts, const struct pattern_use *uses, size_t use_count)
{
    const struct problem *problem = search->problem;
    int64_t sheets = 0;
    for (int s = 0; s < problem->stock_count; s++)
        sheets += counts[s];
    if (sheets > SHEETS_MOST)
        return;
    if (search->goal_count == DWI_GOALS_MOST)
        drop_goal(search, search->goal_count - 1);
    struct goal *goal = &search->goals[search->goal_count++];
    goal->arena = dw_arena_apart(search->finding);
    goal->counts = dw_arena_copy(goal->arena, counts, (size_t)problem->stock_count, sizeof *counts);
    goal->cost = dwi_mix_cost(problem, counts);
    dwi_ruin_start(&goal->ruin, problem, counts, dwi_random_next(&search->random), goal->arena);
    dwi_ruin_seed(&goal->ruin, uses, use_count);
}

/* Aims at a mix from sheets of well-filled strips. */
static void aim_from_strips(struct search *search, const int64_t *counts)
{
    struct dw_arena *work = dw_arena_child(search->finding);
    struct draft draft;
    dwi_strips_within(search->problem, counts, &search->meter, work, &draft);
    aim_from(search, counts, draft.uses, draft.count);
    dw_arena_free(work);
}

void dwi_goals_add(struct search *search, const int64_t *counts)
{
    if (is_goal(search, counts))
        return;
    if (dwi_search_is_big(search))
        aim_from_strips(search, counts);
    else
        aim_from(search, counts, search->best.uses, search->best.count);
}

void dwi_goals_double(struct search *search, const struct pattern_use *uses, size_t use_count)
{
    const int goals = search->goal_count;
    for (int g = 0; g < goals && g < DWI_GOALS_MOST / 2; g++)
        aim_from(search, search->goals[g].counts, uses, use_count);
}

/* Aims at mixes within a budget: the one with most area, and another drawn from the next best. */
static void add_within(struct search *search, dw_money budget)
{
    struct dw_arena *work = dw_arena_child(search->finding);
    const size_t row = (size_t)search->problem->stock_count;
    int64_t *mixes = dw_arena_alloc(work, row * DWI_MIXES_MOST, sizeof *mixes);
    const int count =
        dwi_mixes_within(search->problem, &search->known, budget, DWI_MIXES_MOST, mixes, &search->meter, work);
    if (count > 0)
        dwi_goals_add(search, mixes);
    if (count > 1)
        dwi_goals_add(search, &mixes[(size_t)dwi_random_between(&search->random, 1, count - 1) * row]);
    dw_arena_free(work);
}

static void aim(struct search *search)
{
    if (search->has_plan) {
        const dw_money gap = search->best.cost - search->bound;
        add_within(search, search->best.cost - 1);
        if (gap > 1)
            add_within(search, search->bound + gap / 2);
    }
    if (!search->has_plan || dwi_mix_cost(search->problem, search->mix) < search->best.cost)
        dwi_goals_add(search, search->mix);
}

/* ---- turns ---- */

void dwi_goals_save_layouts(const struct ruin *ruin, struct pool *pool, struct dw_arena *arena)
{
    struct dw_arena *work = dw_arena_child(arena);
    for (int s = 0; s < ruin->sheet_count; s++) {
        const struct sheet *sheet = &ruin->sheets[s];
        if (sheet->count > 0 && sheet->area >= ruin->problem->stocks[sheet->stock].area / 10 * 8)
            dwi_pool_add(pool, dwi_sheet_pattern(sheet, work));
    }
    dw_arena_free(work);
}

struct draft dwi_goals_draft(const struct ruin *ruin, struct dw_arena *arena)
{
    struct draft draft = {0};
    for (int s = 0; s < ruin->sheet_count; s++) {
        if (ruin->sheets[s].count == 0)
            continue;
        dwi_draft_add(&draft, ruin->problem, dwi_sheet_pattern(&ruin->sheets[s], arena), 1, arena);
    }
    return draft;
}

/* Goals in order of closeness: the least that was ever absent. */
static void sort_goals(struct search *search)
{
    for (int g = 1; g < search->goal_count; g++) {
        const struct goal goal = search->goals[g];
        int at = g;
        for (; at > 0 && search->goals[at - 1].ruin.least_bulk > goal.ruin.least_bulk; at--)
            search->goals[at] = search->goals[at - 1];
        search->goals[at] = goal;
    }
}

static void run_ruin(void *context)
{
    struct goal *goal = context;
    goal->met = dwi_ruin_run(&goal->ruin, &goal->meter, INT64_MAX / 4);
}

static void run_goal(void *context)
{
    struct goal *goal = context;
    goal->enough = dw_arena_guard(goal->arena, run_ruin, goal);
}

/* Each goal's share of the turn, as far as the search's meter goes. */
static void share_out(struct search *search, int64_t ticks)
{
    struct meter left = search->meter;
    for (int g = 0; g < search->goal_count; g++) {
        struct goal *goal = &search->goals[g];
        dwi_meter_part(&goal->meter, &left, ticks >> g);
        left.ticks += goal->meter.limit;
        goal->met = false;
    }
}

/* Runs the goals; returns how many ran. */
static int run_goals(struct search *search)
{
    struct dw_chore chores[DWI_GOALS_MOST] = {{0}};
    struct dw_crew *crew = search->beside ? search->crew : NULL;
    bool enough = true;
    int ran = 0;
    for (int g = 0; g < search->goal_count; g++)
        chores[g] = (struct dw_chore){.work = run_goal, .context = &search->goals[g]};
    dw_crew_post(crew, chores, (size_t)search->goal_count);
    for (bool met = false; ran < search->goal_count && (search->beside || !met); ran++) {
        const struct goal *goal = &search->goals[ran];
        dw_crew_wait(crew, &chores[ran]);
        dwi_meter_join(&search->meter, &goal->meter);
        enough = enough && goal->enough;
        met = goal->met;
    }
    if (!enough)
        dw_arena_exhaust(search->finding);
    return ran;
}

static struct goal *first_met(struct search *search)
{
    for (int g = 0; g < search->goal_count; g++)
        if (search->goals[g].met)
            return &search->goals[g];
    return NULL;
}

/* A goal that is met costs no less than the plan that it gave, so that it goes with the others that do not. */
static void take_goal(struct search *search, struct goal *goal)
{
    struct dw_arena *work = dw_arena_child(search->finding);
    const struct draft draft = dwi_goals_draft(&goal->ruin, work);
    goal->met = false;
    dwi_search_take(search, &draft);
    drop_not_cheaper(search);
    dw_arena_free(work);
}

bool dwi_goals_try(struct search *search, int64_t ticks)
{
    sort_goals(search);
    share_out(search, ticks);
    const int ran = run_goals(search);
    for (int g = 0; g < ran; g++)
        if (!search->goals[g].met)
            dwi_goals_save_layouts(&search->goals[g].ruin, &search->finds, search->finding);
    struct goal *met = first_met(search);
    if (met == NULL)
        return false;
    for (; met != NULL; met = first_met(search))
        take_goal(search, met);
    return true;
}

void dwi_goals_pursue(struct search *search, int64_t ticks)
{
    if (dwi_left_out(search->problem, DWI_RUIN))
        return;
    const int64_t before = dwi_meter_narrow(&search->meter, ticks);
    const int64_t turn = ticks / TURNS > LEAST_TURN ? ticks / TURNS : LEAST_TURN;
    drop_not_cheaper(search);
    aim(search);
    while (dwi_meter_open(&search->meter) && search->goal_count > 0)
        if (dwi_goals_try(search, turn))
            aim(search);
    search->meter.limit = before;
}
