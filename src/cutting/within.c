/* within.c - is there a plan within given counts of sheets?
 *
 * The same two halves as in the search for the cheapest plan, and the same rounds: one state of ruin and recreate that starts from nothing, and at the desk the search
 * for an inequality that the counts break, now and then a choice from the pool. In long rounds both work on what was known at the round's start.
 */
#include "search.h"

#include <drawerwright/crew.h>
#include <drawerwright/memory.h>

#include "goals.h"

/* A question under way. The two halves share nothing that either one changes. */
struct question {
    struct search *search;
    const int64_t *counts;
    int64_t quantum;
    int round;

    /* filling sheets */
    struct ruin ruin;
    struct dw_arena *arena;   /* apart; the state's */
    struct meter meter;
    bool met;
    bool enough;

    /* at the desk, on its meter */
    bool finished;            /* there is no more to prove */
    bool broken;              /* an inequality breaks the counts */
    bool chosen;              /* `draft` is a plan */
    struct draft draft;       /* in the desk's work */
};

static void fill(void *context)
{
    struct question *question = context;
    question->met = dwi_ruin_run(&question->ruin, &question->meter, question->quantum);
}

static void fill_guarded(void *context)
{
    struct question *question = context;
    question->enough = dw_arena_guard(question->arena, fill, question);
}

static void prove(void *context)
{
    struct question *question = context;
    struct desk *desk = &question->search->desk;
    if (!question->finished)
        question->broken = dwi_proof_break(desk->proof, question->counts, &desk->pool, &desk->meter, question->quantum, &question->finished);
    if (!question->broken && question->round % 4 == 1)
        question->chosen = dwi_desk_choose(desk, question->counts, INT64_MAX, question->quantum, &desk->meter, desk->work, &question->draft);
}

static void prove_guarded(void *context)
{
    struct question *question = context;
    struct desk *desk = &question->search->desk;
    desk->enough = dw_arena_guard(desk->arena, prove, question);
}

/* A sitting of the desk, with so many ticks set aside for others. */
static void open_desk(struct question *question, int64_t aside)
{
    struct search *search = question->search;
    dwi_desk_open(&search->desk, &search->meter, search->meter.limit - search->meter.ticks - aside, question->quantum, NULL);
}

static void exhaust_unless(const struct search *search, bool enough)
{
    if (!enough)
        dw_arena_exhaust(search->arena);
}

/* The desk sees what was filled in this round. */
static void work_in_turn(struct question *question)
{
    struct search *search = question->search;
    fill_guarded(question);
    exhaust_unless(search, question->enough);
    dwi_meter_join(&search->meter, &question->meter);
    if (question->met)
        return;
    dwi_goals_save_layouts(&question->ruin, &search->desk.pool, search->finding);
    open_desk(question, 0);
    prove_guarded(question);
    exhaust_unless(search, search->desk.enough);
    dwi_meter_join(&search->meter, &search->desk.meter);
}

static void work_beside(struct question *question)
{
    struct search *search = question->search;
    struct dw_chore proving = {.work = prove_guarded, .context = question};
    open_desk(question, question->meter.limit);
    dw_crew_post(search->crew, &proving, 1);
    fill_guarded(question);
    dw_crew_wait(search->crew, &proving);
    exhaust_unless(search, question->enough && search->desk.enough);
    dwi_meter_join(&search->meter, &question->meter);
    dwi_meter_join(&search->meter, &search->desk.meter);
    dwi_goals_save_layouts(&question->ruin, &search->desk.pool, search->finding);
}

static bool is_answered(const struct question *question)
{
    return question->met || question->broken || question->chosen;
}

static void work(struct question *question)
{
    struct search *search = question->search;
    for (; !is_answered(question) && dwi_meter_open(&search->meter); question->round++) {
        question->quantum = dwi_search_quantum(search);
        dwi_meter_part(&question->meter, &search->meter, question->quantum);
        if (search->meter.ticks < DWI_SHORT_ROUNDS)
            work_in_turn(question);
        else
            work_beside(question);
    }
}

enum dw_cut_outcome dwi_search_within(struct search *search, const int64_t *counts, struct draft *draft)
{
    struct desk *desk = &search->desk;
    if (!dwi_proof_obeyed(desk->proof, counts))
        return DW_CUT_IMPOSSIBLE;
    if (dwi_values_round(&desk->values, counts, DWI_FIRST_TRIES, &desk->pool, &search->meter, search->arena, draft))
        return DW_CUT_PLAN;
    struct question question = {.search = search, .counts = counts, .arena = dw_arena_apart(search->arena)};
    dwi_ruin_start(&question.ruin, search->problem, counts, dwi_random_next(&search->random), question.arena);
    work(&question);
    if (question.met)
        *draft = dwi_goals_draft(&question.ruin, search->arena);
    else if (question.chosen)
        *draft = question.draft;
    dw_arena_free(question.arena);
    return question.met || question.chosen ? DW_CUT_PLAN : question.broken ? DW_CUT_IMPOSSIBLE : DW_CUT_NONE_FOUND;
}
