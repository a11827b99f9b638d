/* test_threads.c - crews and their chores; one search by several threads.
 *
 * Searches here are of random jobs on four sizes of sheet, which are not proved within the work allowed, so that rounds grow long enough for a second thread;
 * each test looks at the crew to see that it did begin one. What is checked is what the library says of itself: the same plan whatever the
 * number of threads, a plan when it is stopped, nothing left behind when memory runs out.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/crew.h>
#include <drawerwright/cutting.h>
#include <drawerwright/memory.h>

#include "dice.h"

/* ---- crews ---- */

enum { CHORES = 40 };

struct tally {
    struct dw_crew *crew;
    int done[CHORES];
    struct tally *beneath; /* chores of its own, posted by each tenth chore */
};

struct errand {
    struct tally *tally;
    int number;
};

static void run_errand(void *context);

static void run_all(struct tally *tally)
{
    struct dw_chore chores[CHORES];
    struct errand errands[CHORES];
    for (int n = 0; n < CHORES; n++) {
        errands[n] = (struct errand){tally, n};
        chores[n] = (struct dw_chore){.work = run_errand, .context = &errands[n]};
    }
    dw_crew_post(tally->crew, chores, CHORES);
    for (int n = 0; n < CHORES; n++)
        dw_crew_wait(tally->crew, &chores[n * 7 % CHORES]); /* in some order */
}

static void run_errand(void *context)
{
    const struct errand *errand = context;
    struct tally *tally = errand->tally;
    tally->done[errand->number]++;
    if (tally->beneath != NULL && errand->number % 10 == 0)
        run_all(&tally->beneath[errand->number / 10]);
}

static void test_each_chore_is_done_once(void **state)
{
    (void)state;
    for (int threads = 1; threads <= 4; threads++) {
        struct tally beneath[CHORES / 10] = {{0}};
        struct tally tally = {.crew = dw_crew_new(threads), .beneath = beneath};
        assert_int_equal(tally.crew != NULL, threads > 1);
        for (int b = 0; b < CHORES / 10; b++)
            beneath[b].crew = tally.crew;
        run_all(&tally);
        assert_int_equal(dw_crew_helpers(tally.crew), threads - 1);
        dw_crew_free(tally.crew);
        for (int n = 0; n < CHORES; n++) {
            assert_int_equal(tally.done[n], 1);
            for (int b = 0; b < CHORES / 10; b++)
                assert_int_equal(beneath[b].done[n], 1);
        }
    }
}

static void stay(void *context)
{
    atomic_bool *go = context;
    while (!atomic_load(go))
        continue;
}

static void let_go(void *context)
{
    atomic_store((atomic_bool *)context, true);
}

/* The first chore ends only once the second one ran: two threads are at work at the same time. */
static void test_chores_run_at_the_same_time(void **state)
{
    (void)state;
    atomic_bool go = false;
    struct dw_crew *crew = dw_crew_new(2);
    struct dw_chore chores[2] = {{.work = stay, .context = &go}, {.work = let_go, .context = &go}};
    dw_crew_post(crew, chores, 2);
    dw_crew_wait(crew, &chores[0]);
    dw_crew_wait(crew, &chores[1]);
    dw_crew_free(crew);
}

/* ---- arenas apart ---- */

static void take_too_much(void *context)
{
    (void)dw_arena_alloc(context, SIZE_MAX / 2, 1);
}

struct nest {
    struct dw_arena *parent, *apart;
    bool inner_held;
};

/* Memory that runs out in the arena apart ends at its own guard, and without one at the parent's. */
static void use_apart(void *context)
{
    struct nest *nest = context;
    nest->apart = dw_arena_apart(nest->parent);
    nest->inner_held = dw_arena_guard(nest->apart, take_too_much, nest->apart);
    (void)dw_arena_alloc(nest->apart, 10, 1);
    take_too_much(dw_arena_child(nest->apart));
}

static void test_arena_apart(void **state)
{
    (void)state;
    struct nest nest = {.parent = dw_arena_new(), .inner_held = true};
    assert_false(dw_arena_guard(nest.parent, use_apart, &nest));
    assert_false(nest.inner_held);
    dw_arena_free(nest.parent);
}

/* ---- searches ---- */

enum { PARTS = 18, SHEETS = 4, EIGHTH = DW_INCH / 8 };

struct job {
    struct dw_cut_part parts[PARTS];
    struct dw_cut_sheet sheets[SHEETS];
    struct dw_cut_request request;
};

/* Parts like those of drawer boxes, on sheets of four sizes whose prices do not go by area. */
static void make_job(struct job *job, uint64_t seed)
{
    static const struct dw_cut_sheet sheets[SHEETS] = {
        {.length = 96 * DW_INCH, .width = 48 * DW_INCH, .price = 6800, .count = -1},
        {.length = 60 * DW_INCH, .width = 60 * DW_INCH, .price = 5400, .count = -1},
        {.length = 48 * DW_INCH, .width = 48 * DW_INCH, .price = 3900, .count = -1},
        {.length = 48 * DW_INCH, .width = 24 * DW_INCH, .price = 2400, .count = -1},
    };
    struct dice dice = {seed};
    memcpy(job->sheets, sheets, sizeof sheets);
    for (int p = 0; p < PARTS; p++)
        job->parts[p] = (struct dw_cut_part){.length = dice_range(&dice, 40, 260) * EIGHTH, .width = dice_range(&dice, 24, 150) * EIGHTH,
                                             .count = dice_range(&dice, 1, 4), .turn = dice_one_in(&dice, 2)};
    job->request = (struct dw_cut_request){.parts = job->parts, .part_count = PARTS, .sheets = job->sheets, .sheet_count = SHEETS, .kerf = EIGHTH,
                                           .first_cut = -1, .seed = seed, .work = 160000,
                                           .keep = {.least_length = 12 * DW_INCH, .least_width = 6 * DW_INCH}};
}

static const struct dw_cut_plan *solve(const struct dw_cut_request *request, const struct dw_control *control, struct dw_arena *arena)
{
    const struct dw_cut_plan *plan = NULL;
    struct dw_faults *faults = dw_faults_new();
    const enum dw_status status = dw_cut_solve(request, control, arena, faults, &plan);
    for (size_t i = 0; i < faults->count; i++)
        print_error("%s: %s\n", faults->at[i].address, faults->at[i].wrong);
    dw_faults_free(faults);
    assert_int_equal(status, DW_DONE);
    return plan;
}

/* The first job from this seed on that ends for want of work; returns its seed. */
static uint64_t make_hard(struct job *job, uint64_t seed)
{
    for (;; seed++) {
        struct dw_arena *arena = dw_arena_new();
        make_job(job, seed);
        job->request.turns = seed % 4 == 3 ? 3 : 0;
        const enum dw_cut_stop stop = solve(&job->request, NULL, arena)->stop;
        dw_arena_free(arena);
        if (stop == DW_STOP_WORK)
            return seed;
    }
}

/* The state of these tests is a hard job. */
static int find_hard(void **state)
{
    struct job *job = malloc(sizeof *job);
    if (job == NULL)
        return -1;
    (void)make_hard(job, 1);
    *state = job;
    return 0;
}

static int forget_hard(void **state)
{
    free(*state);
    return 0;
}

static void assert_same_node(const struct dw_cut_node *a, const struct dw_cut_node *b)
{
    assert_true(a->x == b->x && a->y == b->y && a->length == b->length && a->width == b->width);
    assert_true(a->use == b->use && a->cut == b->cut && a->part == b->part && a->turned == b->turned);
    assert_int_equal(a->piece_count, b->piece_count);
    for (size_t i = 0; i < a->piece_count; i++)
        assert_same_node(&a->pieces[i], &b->pieces[i]);
}

static void assert_same_plan(const struct dw_cut_plan *a, const struct dw_cut_plan *b)
{
    assert_true(a->outcome == b->outcome && a->cost == b->cost && a->lower_bound == b->lower_bound && a->proved == b->proved);
    assert_int_equal(a->stop, b->stop);
    assert_int_equal(a->work_done, b->work_done);
    assert_int_equal(a->layout_count, b->layout_count);
    for (size_t l = 0; l < a->layout_count; l++) {
        assert_true(a->layouts[l].sheet == b->layouts[l].sheet && a->layouts[l].times == b->layouts[l].times);
        assert_same_node(&a->layouts[l].root, &b->layouts[l].root);
    }
    assert_int_equal(a->certificate_count, b->certificate_count);
    for (size_t c = 0; c < a->certificate_count; c++) {
        assert_int_equal(a->certificate[c].rhs, b->certificate[c].rhs);
        assert_memory_equal(a->certificate[c].u, b->certificate[c].u, PARTS * sizeof(int64_t));
        assert_memory_equal(a->certificate[c].v, b->certificate[c].v, SHEETS * sizeof(int64_t));
    }
}

/* The same plan to the last figure, and the second thread was at work. */
static void test_any_number_of_threads_gives_one_plan(void **state)
{
    (void)state;
    const int jobs = getenv("DW_LONG") != NULL ? 24 : 2;
    uint64_t seed = 1;
    for (int j = 0; j < jobs; j++) {
        struct job job;
        struct dw_arena *arena = dw_arena_new();
        seed = make_hard(&job, seed) + 1;
        const struct dw_cut_plan *alone = solve(&job.request, NULL, arena);
        for (int threads = 2; threads <= 3; threads++) {
            const struct dw_control control = {.crew = dw_crew_new(threads)};
            assert_same_plan(solve(&job.request, &control, arena), alone);
            assert_int_equal(dw_crew_helpers(control.crew), threads - 1);
            dw_crew_free(control.crew);
        }
        dw_arena_free(arena);
    }
}

/* Whether the job can be cut from counts of sheets, asked of a new cutter. */
static const struct dw_cut_plan *ask(const struct dw_cut_request *request, const int64_t *counts, struct dw_crew *crew, struct dw_arena *arena)
{
    enum dw_cut_outcome outcome = DW_CUT_IMPOSSIBLE;
    const struct dw_cut_plan *plan = NULL;
    const struct dw_control control = {.crew = crew};
    struct dw_cutter *cutter = dw_cutter_new(request, arena);
    assert_non_null(cutter);
    assert_int_equal(dw_cutter_within(cutter, counts, request->work, &control, arena, &outcome, &plan), DW_DONE);
    assert_int_equal(plan->outcome, outcome);
    return plan;
}

/* The sheets of a plan that could not be proved, one exchanged for a smaller one. */
static bool exchange_sheet(const struct dw_cut_plan *plan, size_t from, size_t to, int64_t *counts)
{
    memset(counts, 0, SHEETS * sizeof *counts);
    for (size_t l = 0; l < plan->layout_count; l++)
        counts[plan->layouts[l].sheet] += plan->layouts[l].times;
    counts[to]++;
    return counts[from]-- > 0;
}

/* Questions until one was hard enough for a second thread. */
static void test_a_question_is_split_too(void **state)
{
    (void)state;
    int helped = 0;
    for (uint64_t seed = 1; seed <= 40 && helped == 0; seed++) {
        struct job job;
        struct dw_arena *arena = dw_arena_new();
        make_job(&job, seed);
        const struct dw_cut_plan *plan = solve(&job.request, NULL, arena);
        for (size_t from = 0; from + 1 < SHEETS; from++) {
            int64_t counts[SHEETS];
            if (!exchange_sheet(plan, from, from + 1, counts))
                continue;
            struct dw_crew *crew = dw_crew_new(2);
            assert_same_plan(ask(&job.request, counts, NULL, arena), ask(&job.request, counts, crew, arena));
            helped += dw_crew_helpers(crew);
            dw_crew_free(crew);
        }
        dw_arena_free(arena);
    }
    assert_true(helped > 0);
}

/* What is proved at once needs no second thread. */
static void test_easy_job_begins_no_thread(void **state)
{
    (void)state;
    struct job job;
    make_job(&job, 1);
    job.request.part_count = 2;
    job.request.sheet_count = 1;
    struct dw_arena *arena = dw_arena_new();
    const struct dw_control control = {.crew = dw_crew_new(2)};
    assert_true(solve(&job.request, &control, arena)->proved);
    assert_int_equal(dw_crew_helpers(control.crew), 0);
    dw_crew_free(control.crew);
    dw_arena_free(arena);
}

/* Who follows a search, and cancels it a while after the second thread was begun. */
struct follower {
    struct dw_crew *crew;
    pthread_t thread;  /* that listens */
    int told;          /* with two threads at work */
    int enough;        /* then cancel; 0: never */
    bool elsewhere;    /* told from another thread */
    int64_t work;
    bool back;         /* work done was less than before */
    atomic_bool cancel;
};

static void follow(void *context, const struct dw_standing *standing)
{
    struct follower *follower = context;
    follower->elsewhere |= !pthread_equal(pthread_self(), follower->thread);
    follower->back |= standing->work_done < follower->work;
    follower->work = standing->work_done;
    follower->told += dw_crew_helpers(follower->crew) > 0;
    if (follower->enough > 0 && follower->told == follower->enough)
        atomic_store(&follower->cancel, true);
}

static void test_cancel_stops_both(void **state)
{
    const struct job *job = *state;
    struct dw_cut_request request = job->request;
    request.work = INT64_C(1000000000);
    struct dw_arena *arena = dw_arena_new();
    struct follower follower = {.crew = dw_crew_new(2), .thread = pthread_self(), .enough = 3};
    const struct dw_control control = {.crew = follower.crew, .cancel = &follower.cancel, .progress = follow, .context = &follower, .plans = true};
    const struct dw_cut_plan *plan = solve(&request, &control, arena);
    assert_int_equal(plan->stop, DW_STOP_CANCEL);
    assert_int_equal(plan->outcome, DW_CUT_PLAN);
    assert_true(follower.told >= 3);
    assert_false(follower.elsewhere || follower.back);
    dw_crew_free(follower.crew);
    dw_arena_free(arena);
}

static void test_clock_stops_both(void **state)
{
    const struct job *job = *state;
    struct dw_cut_request request = job->request;
    request.work = INT64_C(1000000000);
    struct dw_arena *arena = dw_arena_new();
    struct follower follower = {.crew = dw_crew_new(2), .thread = pthread_self()};
    struct dw_control control = {.crew = follower.crew, .progress = follow, .context = &follower, .milliseconds = 200};
    const struct dw_cut_plan *plan = NULL;
    for (; follower.told == 0; control.milliseconds *= 2) /* under a sanitizer rounds become long later */
        plan = solve(&request, &control, arena);
    assert_int_equal(plan->stop, DW_STOP_CLOCK);
    assert_int_equal(plan->outcome, DW_CUT_PLAN);
    dw_crew_free(follower.crew);
    dw_arena_free(arena);
}

/* Whichever allocation fails, in whichever thread: the call ends, says so, and gives all memory back (the sanitizers look). */
static void test_memory_may_run_out_beside(void **state)
{
    const struct job *job = *state;
    struct dw_cut_request request = job->request;
    request.work = 130000;
    bool begun = false;
    int failed_beside = 0;
    enum dw_status status = DW_SURROUNDINGS;
    for (size_t n = 64; status != DW_DONE; n += begun ? n / 16 : n / 3) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        const struct dw_control control = {.crew = dw_crew_new(2)};
        const struct dw_cut_plan *plan;
        (void)dw_memory_fail_at(n);
        status = dw_cut_solve(&request, &control, arena, faults, &plan);
        (void)dw_memory_fail_at(0);
        begun = dw_crew_helpers(control.crew) > 0;
        failed_beside += begun && status != DW_DONE;
        assert_true(status == DW_DONE || status == DW_SURROUNDINGS);
        dw_crew_free(control.crew);
        dw_faults_free(faults);
        dw_arena_free(arena);
    }
    assert_true(begun);
    assert_true(failed_beside >= 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_each_chore_is_done_once),
        cmocka_unit_test(test_chores_run_at_the_same_time),
        cmocka_unit_test(test_arena_apart),
        cmocka_unit_test(test_any_number_of_threads_gives_one_plan),
        cmocka_unit_test(test_a_question_is_split_too),
        cmocka_unit_test(test_easy_job_begins_no_thread),
        cmocka_unit_test(test_cancel_stops_both),
        cmocka_unit_test(test_clock_stops_both),
        cmocka_unit_test(test_memory_may_run_out_beside),
    };
    return cmocka_run_group_tests(tests, find_hard, forget_hard);
}
