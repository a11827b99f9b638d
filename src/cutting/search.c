/* search.c - who works when: finders, provers, and what they hand each other.
 *
 * Problem: the cheapest plan, and proof that it is one, within an amount of work. Two halves meet:
 *   - proof: inequalities on sheet counts. The cheapest counts that obey them are the bound and the *blocking mix*: either a
 *     plan exists within that mix, and is optimal, or a further inequality excludes it.
 *   - search: value correction gives a first plan; ruin and recreate then aims at mixes of sheets: the blocking mix, and mixes that
 *     cost just less, or half way less, than the best plan. Column generation and all others fill the pool, from which the integer
 *     program chooses.
 *   - big jobs: sheets of well-filled strips first (strips.c); what they leave over is a problem of its own for the same search.
 * Rounds of growing quanta take turns, so that easy jobs end at once and hard ones spread their work. The quanta depend on work
 * counted, never on the clock.
 *
 * Invariant: bound <= cost of any plan; `best` is a complete plan. Proved means: no counts that cost less obey all
 * inequalities.
 */
#include "search.h"

#include <string.h>

#include <drawerwright/memory.h>

#include "mixes.h"
#include "polish.h"
#include "shelves.h"
#include "strips.h"
#include "without.h"

enum {
    FIRST_QUANTUM = 4000000,  /* ticks: 4 ms */
    QUANTUM_SHARE = 16,       /* later: this part of what has been spent */
    TURNS = 16,               /* of the goals in a round */
    LEAST_TURN = 1000000,
    LEAST_POLISH = 40000000,
    BIG_OF_ONE = 600,         /* pieces from which strips are worth a try, of one size of sheet */
    BIG_OF_SEVERAL = 150,     /* the same where the sheets to take are to be chosen, too */
    SHEETS_MOST = 4000,       /* in a goal */
    FIRST_TRIES = 6,
    LATER_TRIES = 40,
};

static struct search *search_of(const struct problem *problem, uint64_t seed, struct dw_arena *arena)
{
    struct search *search = dw_arena_alloc(arena, 1, sizeof *search);
    search->arena = arena;
    search->problem = problem;
    search->random.state = seed;
    search->proof = dwi_proof_new(problem, arena);
    dwi_pool_init(&search->pool, problem, arena);
    dwi_values_start(&search->values, problem, dwi_random_next(&search->random), arena);
    return search;
}

struct search *dwi_search_new(const struct dw_cut_request *request, unsigned without, struct dw_arena *arena)
{
    struct problem *problem = dwi_problem_make(request, arena);
    problem->without = without;
    return search_of(problem, request->seed, arena);
}

__extension__ typedef __int128 wide; /* a price times an area */

static int64_t quantum(const struct search *search)
{
    const int64_t share = search->meter.ticks / QUANTUM_SHARE;
    return share > FIRST_QUANTUM ? share : FIRST_QUANTUM;
}

static dw_money cost_to_beat(const struct search *search)
{
    return search->has_plan ? search->best.cost : INT64_MAX;
}

static void drop_goal(struct search *search, int g)
{
    dw_arena_free(search->goals[g].arena);
    search->goal_count--;
    memmove(&search->goals[g], &search->goals[g + 1], (size_t)(search->goal_count - g) * sizeof search->goals[g]);
}

static void drop_goals_not_cheaper(struct search *search)
{
    for (int g = search->goal_count - 1; g >= 0; g--)
        if (search->goals[g].cost >= cost_to_beat(search))
            drop_goal(search, g);
}

/* The pool's own copy of a layout, so that equal ones are joined; one of the search's when the pool is full. */
static const struct pattern *kept_pattern(struct search *search, const struct pattern *pattern)
{
    const struct pattern *kept = dwi_pool_add(&search->pool, pattern);
    if (kept != NULL)
        return kept;
    struct sheet sheet;
    dwi_sheet_init(&sheet, search->problem, pattern->stock);
    dwi_sheet_load(&sheet, pattern, search->arena);
    return dwi_sheet_pattern(&sheet, search->arena);
}

static void take_draft(struct search *search, const struct draft *draft)
{
    if (search->has_plan && !dwi_draft_is_better(draft, &search->best))
        return;
    struct draft best = {0};
    for (size_t u = 0; u < draft->count; u++)
        dwi_draft_add(&best, search->problem, kept_pattern(search, draft->uses[u].pattern), draft->uses[u].times,
                      search->arena);
    search->best = best;
    search->has_plan = true;
    search->is_told = false;
    drop_goals_not_cheaper(search);
}

static struct draft draft_of(const struct ruin *ruin, struct dw_arena *arena)
{
    struct draft draft = {0};
    for (int s = 0; s < ruin->sheet_count; s++) {
        if (ruin->sheets[s].count == 0)
            continue;
        dwi_draft_add(&draft, ruin->problem, dwi_sheet_pattern(&ruin->sheets[s], arena), 1, arena);
    }
    return draft;
}

/* Chooses from the pool. The choice may cover items too often: they are pruned here, last layouts first. */
static void trim_choice(struct search *search, const struct pattern_use *uses, size_t count, struct dw_arena *arena,
                        struct draft *draft)
{
    const struct problem *problem = search->problem;
    int64_t *wanted = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *wanted);
    struct sheet sheet;
    *draft = (struct draft){0};
    dwi_sheet_init(&sheet, problem, 0);
    for (int i = 0; i < problem->item_count; i++)
        wanted[i] = problem->items[i].count;
    for (size_t u = 0; u < count; u++)
        for (int64_t n = 0; n < uses[u].times; n++) {
            sheet.stock = uses[u].pattern->stock;
            dwi_sheet_load(&sheet, uses[u].pattern, arena);
            dwi_clip(&sheet, wanted, arena);
            if (sheet.count == 0)
                continue;
            const struct pattern *pattern = dwi_sheet_pattern(&sheet, arena);
            for (int i = 0; i < problem->item_count; i++)
                wanted[i] -= pattern->counts[i];
            dwi_draft_add(draft, problem, pattern, 1, arena);
        }
}

static bool choose(struct search *search, const int64_t *limits, dw_money cutoff, int64_t ticks, struct dw_arena *arena,
                   struct draft *draft)
{
    const struct pattern_use *uses;
    size_t count;
    if (!dwi_choose(search->proof, &search->pool, limits, cutoff, &search->meter, ticks, arena, &uses, &count))
        return false;
    trim_choice(search, uses, count, arena, draft);
    return true;
}

static void choose_cheaper(struct search *search, int64_t ticks)
{
    if (dwi_left_out(search->problem, DWI_CHOICE))
        return;
    struct dw_arena *work = dw_arena_child(search->arena);
    struct draft draft;
    if (choose(search, NULL, cost_to_beat(search), ticks, work, &draft))
        take_draft(search, &draft);
    dw_arena_free(work);
}

static void take_shelves(struct search *search)
{
    struct dw_arena *work = dw_arena_child(search->arena);
    struct draft draft;
    if (dwi_shelves(search->problem, &search->meter, work, &draft))
        take_draft(search, &draft);
    dw_arena_free(work);
}

static void correct_values(struct search *search, int tries)
{
    const struct problem *problem = search->problem;
    if (dwi_left_out(problem, DWI_VALUES))
        return;
    struct dw_arena *work = dw_arena_child(search->arena);
    int64_t *limits = dw_arena_alloc(work, (size_t)problem->stock_count, sizeof *limits);
    for (int s = 0; s < problem->stock_count; s++)
        limits[s] = problem->stocks[s].count;
    struct draft draft;
    if (dwi_values_round(&search->values, limits, tries, &search->pool, &search->meter, work, &draft))
        take_draft(search, &draft);
    dw_arena_free(work);
}

/* Raises the bound while inequalities are found. Returns true with the blocking mix in `mix`; false when the search is over: the best plan
 * is proved, or it is proved that there is none. */
static bool raise_bound(struct search *search, int64_t *mix, int64_t ticks)
{
    const int64_t until = search->meter.ticks + ticks;
    bool open = true;
    for (bool finished = dwi_left_out(search->problem, DWI_COUNTED);
         open && !finished && search->meter.ticks < until && dwi_meter_open(&search->meter);) {
        open = dwi_proof_cheapest(search->proof, cost_to_beat(search), mix, &search->bound);
        if (open && !dwi_proof_break(search->proof, mix, &search->pool, &search->meter, ticks, &finished))
            break;
    }
    open = dwi_proof_cheapest(search->proof, cost_to_beat(search), mix, &search->bound);
    if (!open && search->has_plan)
        search->bound = search->best.cost;
    search->impossible = !open && !search->has_plan;
    return open;
}

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
    goal->arena = dw_arena_child(search->arena);
    goal->counts = dw_arena_copy(goal->arena, counts, (size_t)problem->stock_count, sizeof *counts);
    goal->cost = dwi_mix_cost(problem, counts);
    dwi_ruin_start(&goal->ruin, problem, counts, dwi_random_next(&search->random), goal->arena);
    dwi_ruin_seed(&goal->ruin, uses, use_count);
}

/* Aims at a mix, unless it is a goal, from the best plan. */
static void add_goal(struct search *search, const int64_t *counts)
{
    if (!is_goal(search, counts))
        aim_from(search, counts, search->best.uses, search->best.count);
}

/* Aims at mixes within a budget: the one with most area, and another drawn from the next best. */
static void add_goals_within(struct search *search, dw_money budget)
{
    struct dw_arena *work = dw_arena_child(search->arena);
    const size_t row = (size_t)search->problem->stock_count;
    int64_t *mixes = dw_arena_alloc(work, row * DWI_MIXES_MOST, sizeof *mixes);
    const int count =
        dwi_mixes_within(search->problem, search->proof, budget, DWI_MIXES_MOST, mixes, &search->meter, work);
    if (count > 0)
        add_goal(search, mixes);
    if (count > 1)
        add_goal(search, &mixes[(size_t)dwi_random_between(&search->random, 1, count - 1) * row]);
    dw_arena_free(work);
}

/* Good layouts of an unfinished state are worth keeping all the same. */
static void save_layouts(struct search *search, const struct ruin *ruin)
{
    struct dw_arena *work = dw_arena_child(search->arena);
    for (int s = 0; s < ruin->sheet_count; s++) {
        const struct sheet *sheet = &ruin->sheets[s];
        if (sheet->count > 0 && sheet->area >= search->problem->stocks[sheet->stock].area / 10 * 8)
            dwi_pool_add(&search->pool, dwi_sheet_pattern(sheet, work));
    }
    dw_arena_free(work);
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

static void take_goal(struct search *search, const struct goal *goal)
{
    struct dw_arena *work = dw_arena_child(search->arena);
    const struct draft draft = draft_of(&goal->ruin, work);
    take_draft(search, &draft);
    dw_arena_free(work);
}

/* A turn for every goal, the closest first, each further one half as much. Ends early, with true, when one is met, for then the
 * aims change. */
static bool try_goals(struct search *search, int64_t ticks)
{
    sort_goals(search);
    for (int g = 0; g < search->goal_count; g++) {
        struct goal *goal = &search->goals[g];
        if (dwi_ruin_run(&goal->ruin, &search->meter, ticks >> g)) {
            take_goal(search, goal);
            return true;
        }
        save_layouts(search, &goal->ruin);
    }
    return false;
}

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

/* A second state for each mix aimed at, from the relaxed solution rounded down: column generation does most of the work where many
 * parts are alike, and the search finishes it. */
static void aim_from_rounded(struct search *search)
{
    if (dwi_left_out(search->problem, DWI_ROUNDED))
        return;
    struct dw_arena *work = dw_arena_child(search->arena);
    const struct pattern_use *uses;
    const size_t count = dwi_proof_rounded(search->proof, work, &uses);
    const int goals = search->goal_count;
    for (int g = 0; count > 0 && g < goals && g < DWI_GOALS_MOST / 2; g++)
        aim_from(search, search->goals[g].counts, uses, count);
    dw_arena_free(work);
}

static void aim(struct search *search, const int64_t *mix)
{
    if (search->has_plan) {
        const dw_money gap = search->best.cost - search->bound;
        add_goals_within(search, search->best.cost - 1);
        if (gap > 1)
            add_goals_within(search, search->bound + gap / 2);
    }
    if (dwi_mix_cost(search->problem, mix) < cost_to_beat(search))
        add_goal(search, mix);
}

/* Pursues goals for so many ticks, in turns short enough that a wide gap is closed in many steps. */
static void pursue_goals(struct search *search, const int64_t *mix, int64_t ticks)
{
    if (dwi_left_out(search->problem, DWI_RUIN))
        return;
    const int64_t before = dwi_meter_narrow(&search->meter, ticks);
    const int64_t turn = ticks / TURNS > LEAST_TURN ? ticks / TURNS : LEAST_TURN;
    aim(search, mix);
    while (dwi_meter_open(&search->meter) && search->goal_count > 0)
        if (try_goals(search, turn))
            aim(search, mix);
    search->meter.limit = before;
}

static void find_cheapest(struct search *search);

/* The stock whose area is cheapest, among those with a price; -1 when all are free. */
static int cheapest_stock(const struct problem *problem)
{
    int best = -1;
    for (int s = 0; s < problem->stock_count; s++) {
        const struct stock *stock = &problem->stocks[s];
        if (stock->price == 0 || stock->count == 0)
            continue;
        if (best < 0 || (wide)stock->price * problem->stocks[best].area < (wide)problem->stocks[best].price * stock->area)
            best = s;
    }
    return best;
}

/* Searches a plan for what the strips left over, with a third of the work that is still allowed, and puts its layouts to the draft. */
static bool finish_strips(struct search *search, struct problem *rest, const int *item_of, struct dw_arena *work,
                          struct draft *draft)
{
    struct search *part = search_of(rest, dwi_random_next(&search->random), work);
    part->is_part = true;
    part->meter = search->meter;
    dwi_meter_narrow(&part->meter, (search->meter.limit - search->meter.ticks) / 3);
    find_cheapest(part);
    const int64_t limit = search->meter.limit;
    search->meter = part->meter;
    search->meter.limit = limit;
    for (size_t u = 0; part->has_plan && u < part->best.count; u++) {
        const struct pattern_use *use = &part->best.uses[u];
        dwi_draft_add(draft, search->problem, dwi_pattern_of_whole(use->pattern, search->problem, item_of, work), use->times,
                      work);
    }
    return part->has_plan;
}

/* A big job: most of it in sheets of well-filled strips, the rest by a search of its own. */
static void take_strips(struct search *search)
{
    const struct problem *problem = search->problem;
    const int stock = cheapest_stock(problem);
    if (stock < 0)
        return;
    struct dw_arena *work = dw_arena_child(search->arena);
    int64_t *wanted = dw_arena_alloc(work, (size_t)problem->item_count, sizeof *wanted);
    int64_t *left = dw_arena_alloc(work, (size_t)problem->stock_count, sizeof *left);
    for (int i = 0; i < problem->item_count; i++)
        wanted[i] = problem->items[i].count;
    for (int s = 0; s < problem->stock_count; s++)
        left[s] = problem->stocks[s].count;
    struct draft draft = {0};
    dwi_strips(problem, stock, wanted, left, &search->meter, work, &draft);
    int *item_of;
    struct problem *rest = dwi_problem_part(problem, wanted, work, &item_of);
    for (int s = 0; s < problem->stock_count; s++)
        rest->stocks[s].count = left[s];
    if (draft.count > 0 && (rest->piece_count == 0 || finish_strips(search, rest, item_of, work, &draft)))
        take_draft(search, &draft);
    dw_arena_free(work);
}

static bool is_big(const struct problem *problem)
{
    return problem->piece_count >= (problem->stock_count > 1 ? BIG_OF_SEVERAL : BIG_OF_ONE);
}

/* The first plans. Where pieces are many, value correction alone could take all the work there is: strips go before it, and with a plan in
 * hand it gets an eighth. */
static void take_first_plans(struct search *search)
{
    take_shelves(search);
    if (is_big(search->problem) && !search->is_part && !dwi_left_out(search->problem, DWI_STRIPS))
        take_strips(search);
    const int64_t before = dwi_meter_narrow(&search->meter, search->has_plan ? search->meter.limit / 8 : search->meter.limit);
    correct_values(search, FIRST_TRIES);
    search->meter.limit = before;
}

static void find_cheapest(struct search *search)
{
    int64_t *mix = dw_arena_alloc(search->arena, (size_t)search->problem->stock_count, sizeof *mix);
    take_first_plans(search);
    bool more_columns = !dwi_left_out(search->problem, DWI_PRICED);
    int64_t proving = 0; /* ticks that the provers took in this round; the finders get as much */
    for (int round = 0;; round++) {
        const int64_t start = search->meter.ticks;
        if (!raise_bound(search, mix, quantum(search)) || !dwi_meter_open(&search->meter))
            return;
        report(search);
        proving += search->meter.ticks - start;
        const int64_t ticks = quantum(search) > proving ? quantum(search) : proving;
        pursue_goals(search, mix, ticks);
        proving = 0;
        if (more_columns) {
            const int64_t before = search->meter.ticks;
            more_columns = dwi_proof_columns(search->proof, &search->pool, &search->meter, quantum(search) / 2);
            aim_from_rounded(search);
            proving = search->meter.ticks - before;
        }
        if (round % 4 == 3)
            correct_values(search, LATER_TRIES);
        if (round % 4 == 1)
            choose_cheaper(search, quantum(search) / 2);
        if (search->meter.ticks == start) /* nobody had anything to do, and yet rounds must end */
            (void)dwi_meter_spend(&search->meter, quantum(search));
    }
}

/* The dearest owned stock that the plan uses and that has not been looked at yet; -1 when there is none. */
static int dearest_owned(const struct search *search, const int64_t *used, const bool *looked_at)
{
    const struct stock *stocks = search->problem->stocks;
    int dearest = -1;
    for (int s = 0; s < search->problem->stock_count; s++)
        if (used[s] > 0 && stocks[s].price == 0 && stocks[s].value > 0 && !looked_at[s] &&
            (dearest < 0 || stocks[s].value > stocks[dearest].value))
            dearest = s;
    return dearest;
}

/* The sheets of the plan, one of `without` less, and all owned ones of lesser value. */
static void lesser_mix(const struct search *search, const int64_t *used, int without, int64_t *mix)
{
    const struct stock *stocks = search->problem->stocks;
    for (int s = 0; s < search->problem->stock_count; s++) {
        const bool lesser = stocks[s].price == 0 && stocks[s].value < stocks[without].value;
        mix[s] = lesser ? stocks[s].count : used[s];
    }
    mix[without]--;
}

static void count_used(const struct search *search, int64_t *used)
{
    memset(used, 0, (size_t)search->problem->stock_count * sizeof *used);
    for (size_t u = 0; u < search->best.count; u++)
        used[search->best.uses[u].pattern->stock] += search->best.uses[u].times;
}

/* Tries to do without the owned sheets used, the dearest first. */
static void spare_owned(struct search *search, int64_t ticks)
{
    const size_t stocks = (size_t)search->problem->stock_count;
    int64_t *used = dw_arena_alloc(search->arena, stocks, sizeof *used);
    int64_t *mix = dw_arena_alloc(search->arena, stocks, sizeof *mix);
    bool *looked_at = dw_arena_alloc(search->arena, stocks, sizeof *looked_at);
    while (search->goal_count > 0)
        drop_goal(search, 0);
    count_used(search, used);
    for (int s = dearest_owned(search, used, looked_at); s >= 0; s = dearest_owned(search, used, looked_at)) {
        const dw_money before = search->best.owned;
        lesser_mix(search, used, s, mix);
        add_goal(search, mix);
        if (search->goal_count > 0 && dwi_ruin_run(&search->goals[0].ruin, &search->meter, ticks / 8))
            take_goal(search, &search->goals[0]);
        if (search->goal_count > 0)
            drop_goal(search, 0);
        looked_at[s] = search->best.owned >= before;
        count_used(search, used);
    }
}

void dwi_search_cheapest(struct search *search)
{
    dwi_meter_hold_back(&search->meter);
    find_cheapest(search);
    dwi_meter_release(&search->meter);
    report(search);
    if (!search->has_plan || search->problem->request->rough)
        return;
    int64_t ticks = search->meter.ticks + LEAST_POLISH; /* no longer than the search itself, nearly */
    if (ticks > search->meter.limit - search->meter.ticks)
        ticks = search->meter.limit - search->meter.ticks;
    spare_owned(search, ticks / 2);
    dwi_polish_layouts(search->problem, &search->best, dwi_random_next(&search->random), &search->meter, ticks / 2,
                       search->arena);
    report(search);
}

enum dw_cut_outcome dwi_search_within(struct search *search, const int64_t *counts, struct draft *draft)
{
    if (!dwi_proof_obeyed(search->proof, counts))
        return DW_CUT_IMPOSSIBLE;
    if (dwi_values_round(&search->values, counts, FIRST_TRIES, &search->pool, &search->meter, search->arena, draft))
        return DW_CUT_PLAN;
    struct dw_arena *work = dw_arena_child(search->arena);
    struct ruin ruin;
    dwi_ruin_start(&ruin, search->problem, counts, dwi_random_next(&search->random), work);
    enum dw_cut_outcome outcome = DW_CUT_NONE_FOUND;
    bool finished = false;
    for (int round = 0; outcome == DW_CUT_NONE_FOUND && dwi_meter_open(&search->meter); round++) {
        if (dwi_ruin_run(&ruin, &search->meter, quantum(search))) {
            *draft = draft_of(&ruin, search->arena);
            outcome = DW_CUT_PLAN;
            break;
        }
        save_layouts(search, &ruin);
        if (!finished && dwi_proof_break(search->proof, counts, &search->pool, &search->meter, quantum(search), &finished))
            outcome = DW_CUT_IMPOSSIBLE;
        else if (round % 4 == 1 && choose(search, counts, INT64_MAX, quantum(search), search->arena, draft))
            outcome = DW_CUT_PLAN;
    }
    dw_arena_free(work);
    return outcome;
}
