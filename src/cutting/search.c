/* search.c - who works when: finders, provers, and what they hand each other.
 *
 * Problem: the cheapest plan, and proof that it is one, within an amount of work. Two halves meet:
 *   - the desk (desk.c): inequalities on sheet counts. The cheapest counts that obey them are the bound and the *blocking mix*: either a
 *     plan exists within that mix, and is optimal, or a further inequality excludes it. Column generation and all others fill the pool, from which
 *     the integer program chooses.
 *   - the goals (goals.c): value correction gives a first plan; ruin and recreate then aims at mixes of sheets.
 *   - big jobs: sheets of well-filled strips first (big.c); what they leave over is a problem of its own for the same search.
 * They work in rounds of growing quanta, so that easy jobs end at once and hard ones spread their work. At the end of a round they exchange, in this
 * order: layouts to the pool, a plan from the desk, bound and blocking mix, starts for new goals. The quanta depend on work counted, never on the clock.
 *
 * In short rounds the desk sits when the goals have had their run, and sees what they found. Later, both work on what was known at the round's start; then
 * two threads can do it at the same time, and one does it in turn with the same outcome. Work allowed is the sum of what all do.
 *
 * Invariant: bound <= cost of any plan; `best` is a complete plan. Proved means: no counts that cost less obey all
 * inequalities.
 */
#include "search.h"

#include <string.h>

#include <drawerwright/crew.h>
#include <drawerwright/memory.h>

#include "goals.h"
#include "polish.h"
#include "shelves.h"
#include "without.h"

enum {
    FIRST_QUANTUM = 4000000,  /* ticks: 4 ms */
    QUANTUM_SHARE = 16,       /* later: this part of what has been spent */
    LEAST_POLISH = 40000000,
};

static struct search *search_of(const struct problem *problem, uint64_t seed, struct dw_arena *arena)
{
    struct search *search = dw_arena_alloc(arena, 1, sizeof *search);
    search->arena = arena;
    search->problem = problem;
    search->random.state = seed;
    dwi_desk_start(&search->desk, problem, dwi_random_next(&search->random), arena);
    search->finding = dw_arena_child(arena);
    search->finds_arena = dw_arena_child(search->finding);
    dwi_pool_init(&search->finds, problem, search->finds_arena);
    search->best_arena = dw_arena_child(arena);
    search->mix = dw_arena_alloc(arena, (size_t)problem->stock_count, sizeof *search->mix);
    return search;
}

struct search *dwi_search_new(const struct dw_cut_request *request, unsigned without, struct dw_arena *arena)
{
    struct problem *problem = dwi_problem_make(request, arena);
    problem->without = without;
    return search_of(problem, request->seed, arena);
}

struct search *dwi_search_part(struct search *search, const struct problem *rest, struct dw_arena *arena)
{
    struct search *part = search_of(rest, dwi_random_next(&search->random), arena);
    part->is_part = true;
    part->meter = search->meter;
    part->crew = search->crew;
    return part;
}

int64_t dwi_search_quantum(const struct search *search)
{
    const int64_t share = search->meter.ticks / QUANTUM_SHARE;
    return share > FIRST_QUANTUM ? share : FIRST_QUANTUM;
}

/* ---- the best plan ---- */

/* The plan's own copy of a layout, so that equal ones are joined; unjoined where the plan is too large for that. */
static const struct pattern *kept_pattern(struct pool *pool, const struct pattern *pattern)
{
    const struct pattern *kept = dwi_pool_add(pool, pattern);
    return kept != NULL ? kept : dwi_pattern_copy(pool->problem, pattern, pool->arena);
}

void dwi_search_take(struct search *search, const struct draft *draft)
{
    if (search->has_plan && !dwi_draft_is_better(draft, &search->best))
        return;
    struct dw_arena *arena = dw_arena_child(search->arena);
    struct pool pool;
    dwi_pool_init(&pool, search->problem, arena);
    struct draft best = {0};
    for (size_t u = 0; u < draft->count; u++) {
        dwi_draft_add(&best, search->problem, kept_pattern(&pool, draft->uses[u].pattern), draft->uses[u].times, arena);
        (void)dwi_pool_add(&search->finds, draft->uses[u].pattern);
    }
    dw_arena_free(search->best_arena);
    search->best_arena = arena;
    search->best = best;
    search->has_plan = true;
    search->is_told = false;
}

static void take_shelves(struct search *search)
{
    struct dw_arena *work = dw_arena_child(search->arena);
    struct draft draft;
    if (dwi_shelves(search->problem, &search->meter, work, &draft))
        dwi_search_take(search, &draft);
    dw_arena_free(work);
}

/* ---- exchange ---- */

static void open_desk(struct search *search, int64_t ticks)
{
    dwi_desk_open(&search->desk, &search->meter, ticks, dwi_search_quantum(search), search->has_plan ? &search->best : NULL);
}

/* Layouts found since the last time. */
static void hand_over_finds(struct search *search)
{
    for (size_t p = 0; p < search->finds.count; p++)
        (void)dwi_pool_add(&search->desk.pool, search->finds.at[p]);
    dw_arena_clear(search->finds_arena);
    dwi_pool_init(&search->finds, search->problem, search->finds_arena);
}

static void take_from_desk(struct search *search)
{
    dwi_meter_join(&search->meter, &search->desk.meter);
    if (search->desk.is_better)
        dwi_search_take(search, &search->desk.best);
}

/* Reads the bound off the desk. False when the search is over: the best plan is proved, or it is proved that there is none. A plan that came
 * since the desk was opened costs the blocking mix at least. */
static bool read_bound(struct search *search)
{
    const struct desk *desk = &search->desk;
    if (desk->open && (!search->has_plan || desk->bound < search->best.cost)) {
        search->bound = desk->bound;
        return true;
    }
    if (search->has_plan)
        search->bound = search->best.cost;
    search->impossible = !search->has_plan;
    return false;
}

/* Second states for the mixes aimed at, from the relaxed solution rounded down: column generation does most of the work where many
 * parts are alike, and the goals finish it. */
static void aim_from_rounded(struct search *search)
{
    if (!search->desk.priced || dwi_left_out(search->problem, DWI_ROUNDED))
        return;
    struct dw_arena *work = dw_arena_child(search->arena);
    const struct pattern_use *uses;
    const size_t count = dwi_proof_rounded(search->desk.proof, work, &uses);
    if (count > 0)
        dwi_goals_double(search, uses, count);
    dw_arena_free(work);
}

/* What the desk did becomes known. False when the search is over. */
static bool exchange(struct search *search)
{
    take_from_desk(search);
    if (!read_bound(search))
        return false;
    aim_from_rounded(search);
    hand_over_finds(search);
    dwi_known_copy(&search->known, search->desk.proof, search->arena);
    memcpy(search->mix, search->desk.mix, (size_t)search->problem->stock_count * sizeof *search->mix);
    return true;
}

/* ---- progress ---- */

/* The best plan as real cuts, when it is new and sound: written aside, so that nothing of the search changes. */
static const struct dw_cut_plan *new_plan(struct search *search, struct dw_arena *work)
{
    struct dw_cut_plan *plan = dw_arena_alloc(work, 1, sizeof *plan);
    plan->outcome = DW_CUT_PLAN;
    dwi_plan_write(search->problem, search->best.uses, search->best.count, work, plan);
    struct dw_faults *faults = dw_faults_new();
    const bool sound = faults != NULL && dw_cut_check(search->problem->request, plan, faults);
    dw_faults_free(faults);
    search->is_told = true;
    return sound ? plan : NULL;
}

static void report(struct search *search)
{
    const struct dw_control *control = search->meter.control;
    if (search->is_part || control == NULL || control->progress == NULL)
        return;
    struct dw_arena *work = dw_arena_child(search->arena);
    const bool is_new = control->plans && search->has_plan && !search->is_told;
    const struct dw_standing standing = {
        .what = "",
        .best = search->has_plan ? search->best.cost : -1,
        .lower_bound = search->bound,
        .work_done = search->meter.ticks / DWI_TICKS_A_UNIT,
        .work_allowed = search->meter.limit / DWI_TICKS_A_UNIT,
        .found = is_new ? new_plan(search, work) : NULL,
    };
    control->progress(control->context, &standing);
    dw_arena_free(work);
}

/* ---- the schedule ---- */

/* The first plans. Where pieces are many, value correction alone could take all the work there is: strips go before it, and with a plan in
 * hand it gets an eighth. */
static void take_first_plans(struct search *search)
{
    take_shelves(search);
    if (dwi_search_is_big(search))
        dwi_search_take_strips(search);
    open_desk(search, search->has_plan ? search->meter.limit / 8 : search->meter.limit);
    dwi_desk_correct_values(&search->desk, DWI_FIRST_TRIES);
    take_from_desk(search);
    hand_over_finds(search);
}

/* The desk sits while nobody else works. */
static void sit_alone(struct search *search)
{
    open_desk(search, INT64_MAX);
    dwi_desk_sit(&search->desk);
    if (!search->desk.enough)
        dw_arena_exhaust(search->arena);
}

struct pursuit {
    struct search *search;
    int64_t ticks;
};

static void pursue(void *context)
{
    const struct pursuit *pursuit = context;
    dwi_goals_pursue(pursuit->search, pursuit->ticks);
}

/* Goals and desk work on what is known now. Memory that runs out on one side ends the round when the other one is done. */
static void work_beside(struct search *search, int64_t ticks)
{
    struct desk *desk = &search->desk;
    struct dw_chore sitting = {.work = dwi_desk_sit, .context = desk};
    struct pursuit pursuit = {search, ticks};
    open_desk(search, search->meter.limit - search->meter.ticks - ticks);
    dw_crew_post(search->crew, &sitting, 1);
    const bool enough = dw_arena_guard(search->finding, pursue, &pursuit);
    dw_crew_wait(search->crew, &sitting);
    if (!enough || !desk->enough)
        dw_arena_exhaust(search->arena);
}

/* The goals get as much work as proof took in the round before. */
static void work_a_round(struct search *search)
{
    const int64_t ticks = dw_most(dwi_search_quantum(search), search->desk.proving);
    const int64_t left = search->meter.limit - search->meter.ticks;
    search->beside = search->meter.ticks >= DWI_SHORT_ROUNDS;
    if (search->beside && left > ticks + 2 * dwi_search_quantum(search)) {
        work_beside(search, ticks);
        return;
    }
    dwi_goals_pursue(search, ticks);
    hand_over_finds(search);
    sit_alone(search);
}

void dwi_search_find(struct search *search)
{
    take_first_plans(search);
    sit_alone(search);
    while (exchange(search) && dwi_meter_open(&search->meter)) {
        const int64_t start = search->meter.ticks;
        report(search);
        work_a_round(search);
        if (search->meter.ticks == start && search->desk.meter.ticks == 0) /* nobody had anything to do, and yet rounds must end */
            (void)dwi_meter_spend(&search->meter, dwi_search_quantum(search));
    }
}

void dwi_search_cheapest(struct search *search)
{
    dwi_meter_hold_back(&search->meter);
    dwi_search_find(search);
    dwi_meter_release(&search->meter);
    report(search);
    if (!search->has_plan || search->problem->request->rough)
        return;
    int64_t ticks = search->meter.ticks + LEAST_POLISH; /* no longer than the search itself, nearly */
    if (ticks > search->meter.limit - search->meter.ticks)
        ticks = search->meter.limit - search->meter.ticks;
    dwi_search_spare_owned(search, ticks / 2);
    dwi_polish_layouts(search->problem, &search->best, dwi_random_next(&search->random), &search->meter, ticks / 2,
                       search->beside ? search->crew : NULL, search->arena);
    report(search);
}
