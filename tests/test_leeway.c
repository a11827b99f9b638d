/* test_leeway.c - sizes that give: the bench check by hand, refusals, every setting of small jobs tried, random kitchens that never get dearer and whose
 * sizes keep every rule. 3 kitchens; 200 with DW_LONG set in the environment, and then it says how often and how much leeway saved.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <drawerwright/leeway.h>
#include <drawerwright/run.h>

#include "job_from.h"
#include "leeway_jobs.h"
#include "sizing_checks.h"

struct trial {
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dw_layout_options *layout;
    struct dw_run run;
    const struct dw_leeway *leeway;
};

/* Small jobs are proved with less; kitchens are not all, and get no more unless there is time. */
static const struct dw_layout_options small_work = {.patience = DW_SHORT, .work = 60000, .no_choices = true};
static const struct dw_layout_options little_work = {.patience = DW_SHORT, .work = 8000, .no_choices = true};
static const struct dw_layout_options more_work = {.patience = DW_SHORT, .work = 100000, .no_choices = true};

static bool long_run(void)
{
    return getenv("DW_LONG") != NULL;
}

/* Plans a job as it stands. */
static void plan_with(struct trial *trial, const char *json, const struct dw_layout_options *layout)
{
    *trial = (struct trial){.arena = dw_arena_new(), .faults = dw_faults_new(), .layout = layout};
    const struct dw_job *job = job_read(json, trial->arena, trial->faults);
    if (job == NULL || dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, layout, NULL, trial->arena, trial->faults, &trial->run) != DW_DONE)
        print_faults(trial->faults);
    assert_non_null(trial->run.purchase);
}

static void plan(struct trial *trial, const char *json)
{
    plan_with(trial, json, &small_work);
}

static void search(struct trial *trial, const struct dw_leeway_options *options)
{
    assert_int_equal(dw_leeway_search(trial->run.jobs, trial->run.job_count, trial->run.purchase, options, trial->layout, NULL, trial->arena, trial->faults,
                                      &trial->leeway),
                     DW_DONE);
}

static void drop(struct trial *trial)
{
    dw_arena_free(trial->arena);
    dw_faults_free(trial->faults);
}

/* ---- the bench check ------------------------------------------------------------------------------------------ */

/* By hand: a sheet of 48 x 96 less 1/4 in all round is 47-1/2 x 95-1/2. With a kerf of 1/8 in n strips of 4-11/16 take n x 4-13/16 - 1/8: nine take
 * 43-3/16, ten 48: nine rips. A strip gives five sides of 16: 5 x 16-1/8 - 1/8 = 80-1/2, six would take 96-5/8. 45 a sheet, two sheets for 50. At 4-5/8
 * ten strips take 10 x 4-3/4 - 1/8 = 47-3/8: 50 from one sheet. */
#define BENCH_SHOP \
    "\"shop\": {\"name\": \"t\", \"materials\": [{\"id\": \"p\", \"name\": \"1/2 birch\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"full\", " \
    "\"length\": 96, \"width\": 48, \"price\": \"68.00\"}]}, {\"id\": \"q\", \"thickness\": \"1/4\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"full\", " \
    "\"length\": 96, \"width\": 48, \"price\": \"20.00\"}]}], \"slides\": [{\"id\": \"side\", \"lengths\": [16]%s}]}"

static void test_bench_check_by_hand(void **state)
{
    (void)state;
    char json[2048];
    (void)snprintf(json, sizeof json, "{\"format\": 1, \"name\": \"sides\", \"units\": \"in\", " BENCH_SHOP ", \"cases\": [], \"parts\": [{\"name\": \"side\", "
                   "\"material\": \"p\", \"length\": 16, \"width\": \"4 11/16\", \"count\": 50}]}", "");
    struct trial trial;
    plan(&trial, json);
    assert_int_equal(trial.run.purchase->sheets_cost, 13600);
    assert_true(trial.run.purchase->proved);
    search(&trial, &(struct dw_leeway_options){.near = DW_INCH / 8});
    assert_int_equal(trial.leeway->change_count, 1);
    assert_int_equal(trial.leeway->changes[0].to, 4 * DW_INCH + 5 * DW_INCH / 8);
    assert_int_equal(trial.leeway->saved, 6800);
    assert_int_equal(trial.leeway->sheets_before - trial.leeway->sheets_after, 1);
    assert_true(trial.leeway->certain);
    assert_non_null(strstr(trial.leeway->words, "4 5/8 instead of 4 11/16, 1/16 narrower (side): 1 sheet less of 1/2 birch"));
    static const char *const keep[] = {"side"};
    search(&trial, &(struct dw_leeway_options){.near = DW_INCH / 8, .keep = keep, .keep_count = 1});
    assert_int_equal(trial.leeway->change_count, 0);
    drop(&trial);
}

/* The same 50 sides as those of 25 drawers; `slide`, `box` and `height` say more of the slide, the box and the front. */
static void plan_drawers(struct trial *trial, const char *slide, const char *box, const char *height)
{
    char json[4096];
    (void)snprintf(json, sizeof json,
                   "{\"format\": 1, \"name\": \"chests\", \"units\": \"in\", " BENCH_SHOP ", \"cases\": [{\"name\": \"A\", \"count\": 25, "
                   "\"opening\": {\"width\": 12, \"height\": \"%s\", \"depth\": 18}, \"fit\": \"inset\", \"front\": {\"material\": \"q\"}, \"box\": {\"sides\": \"p\", "
                   "\"front\": \"q\", \"back\": \"q\", \"bottom\": \"q\", \"joint\": \"butt\", \"groove_depth\": \"1/8\", \"bottom_clearance\": 0%s}, \"banks\": [{\"drawers\": [{}]}]}]}",
                   slide, height, box);
    plan(trial, json);
    assert_int_equal(trial->run.sizings[0]->cases[0].banks[0].drawers[0].box_height.value, 4 * DW_INCH + 11 * DW_INCH / 16);
}

/* What forbids 4-5/8: the slide's least box, the groove with the bottom in it, what was told to be the least. */
static void test_refusals(void **state)
{
    (void)state;
    static const struct {
        const char *name, *slide, *box;
        bool saves;
    } rows[] = {
        {"nothing forbids it", "", "", true},
        {"the slide's least box", ", \"box_least\": \"4 11/16\"", "", false},
        {"a slide's least box that leaves room", ", \"box_least\": \"4 5/8\"", "", true},
        {"the bottom in its groove", "", ", \"groove_up\": \"4 3/8\"", false},
        {"the least told", "", ", \"height_least\": \"4 11/16\"", false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct trial trial;
        char box[256];
        for (int near = 0; near < (long_run() || i < 2 ? 2 : 1); near++) {
            (void)snprintf(box, sizeof box, ", \"height\": \"4 11/16\", \"leeway\": {\"lower\": \"1/8\"}%s", rows[i].box);
            plan_drawers(&trial, rows[i].slide, box, "6");
            search(&trial, &(struct dw_leeway_options){.near = near == 1 ? DW_INCH / 8 : 0});
            if ((trial.leeway->saved == 6800) != rows[i].saves)
                fail_msg("%s: %s", rows[i].name, trial.leeway->words);
            assert_true(trial.leeway->certain);
            assert_int_equal(trial.leeway->change_count, rows[i].saves ? 1 : 0);
            drop(&trial);
        }
    }
}

/* A drawer that must give 4-1/16 in inside keeps its 4-11/16: 1/4 of bottom, 3/8 below it. */
static void test_what_goes_inside(void **state)
{
    (void)state;
    static const char *const wanted[] = {"4 1/16", "4"};
    for (int i = 0; i < 2; i++) {
        char json[4096];
        struct trial trial;
        (void)snprintf(json, sizeof json,
                       "{\"format\": 1, \"name\": \"chests\", \"units\": \"in\", " BENCH_SHOP ", \"cases\": [{\"name\": \"A\", \"count\": 25, "
                       "\"opening\": {\"width\": 12, \"height\": 14, \"depth\": 18}, \"fit\": \"inset\", \"front\": {\"material\": \"q\"}, \"box\": {\"sides\": \"p\", "
                       "\"front\": \"q\", \"back\": \"q\", \"bottom\": \"q\", \"joint\": \"butt\", \"groove_depth\": \"1/8\", \"bottom_clearance\": 0}, \"banks\": [{\"drawers\": ["
                       "{\"height\": {\"inside\": \"%s\"}, \"box\": {\"height\": \"4 11/16\", \"leeway\": {\"lower\": \"1/8\"}}}, {\"fill\": \"door\"}]}]}]}",
                       "", wanted[i]);
        plan(&trial, json);
        search(&trial, &(struct dw_leeway_options){.near = 0});
        assert_int_equal(trial.leeway->saved, i == 0 ? 0 : 6800);
        drop(&trial);
    }
}

static void test_one_piece_alone_forces_a_sheet(void **state)
{
    (void)state;
    char json[2048];
    (void)snprintf(json, sizeof json, "{\"format\": 1, \"name\": \"sides\", \"units\": \"in\", " BENCH_SHOP ", \"cases\": [], \"parts\": [{\"name\": \"side\", "
                   "\"material\": \"p\", \"length\": 16, \"width\": \"4 5/8\", \"count\": 50}, {\"name\": \"lid\", \"material\": \"p\", \"length\": 20, \"width\": 16, \"count\": 1}]}", "");
    struct trial trial;
    plan(&trial, json);
    assert_int_equal(trial.run.purchase->sheets_cost, 13600);
    search(&trial, &(struct dw_leeway_options){.near = DW_INCH / 8});
    assert_int_equal(trial.leeway->change_count, 0);
    assert_int_equal(trial.leeway->alone_count, 1);
    assert_int_equal(trial.leeway->alone[0].saved, 6800);
    assert_non_null(strstr(trial.leeway->alone[0].words, "lid"));
    drop(&trial);
}

/* By hand: 51 pieces take two sheets, at 63.00 each from two on. Without the lid one sheet does, and one costs 68.00: 126.00 less 68.00. */
static void test_one_piece_alone_at_broken_prices(void **state)
{
    (void)state;
    struct trial trial;
    plan(&trial, "{\"format\": 1, \"name\": \"sides\", \"units\": \"in\", \"shop\": {\"name\": \"t\", \"materials\": [{\"id\": \"p\", \"name\": \"1/2 birch\", \"thickness\": \"1/2\", "
                 "\"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"68.00\", \"breaks\": [{\"from\": 2, \"price\": \"63.00\"}]}]}]}, \"cases\": [], "
                 "\"parts\": [{\"name\": \"side\", \"material\": \"p\", \"length\": 16, \"width\": \"4 5/8\", \"count\": 50}, {\"name\": \"lid\", \"material\": \"p\", \"length\": 20, \"width\": 16, \"count\": 1}]}");
    assert_int_equal(trial.run.purchase->sheets_cost, 12600);
    search(&trial, &(struct dw_leeway_options){.near = DW_INCH / 8});
    assert_int_equal(trial.leeway->alone_count, 1);
    assert_int_equal(trial.leeway->alone[0].saved, 5800);
    drop(&trial);
}

/* ---- small jobs: every setting -------------------------------------------------------------------------------- */

static const struct dw_sized_bank *bank_of(const struct dw_sizing *sizing)
{
    return &sizing->cases[0].banks[0];
}

struct least {
    dw_money cost;
    dw_length distance; /* of those that cost this; sixteenths of an inch */
};

/* The job with these heights told, on its own, as a user would write it. */
static void try_told(const struct dice *dice, const int64_t *preferred, const int64_t *told, size_t count, struct least *least)
{
    struct trial trial = {.arena = dw_arena_new()};
    struct dw_text json = {.arena = NULL};
    dw_length distance = 0;
    for (size_t d = 0; d < count; d++)
        distance += preferred[d] - told[d];
    json = dw_text_in(trial.arena);
    leeway_small(&json, *dice, told);
    struct trial one;
    plan(&one, json.bytes);
    assert_true(one.run.purchase->proved);
    const dw_money cost = one.run.purchase->sheets_cost;
    if (cost < least->cost || (cost == least->cost && distance < least->distance))
        *least = (struct least){cost, distance};
    drop(&one);
    dw_arena_free(trial.arena);
}

struct small {
    struct dice dice;
    int saved;
};

static void compare_small(void *context)
{
    struct small *small = context;
    struct dw_arena *arena = dw_arena_new();
    struct dw_text json = {.arena = NULL};
    struct trial trial;
    int64_t preferred[3] = {0};
    int64_t told[3];
    json = dw_text_in(arena);
    leeway_small(&json, small->dice, NULL);
    plan(&trial, json.bytes);
    const size_t count = bank_of(trial.run.sizings[0])->drawer_count;
    for (size_t d = 0; d < count; d++)
        preferred[d] = bank_of(trial.run.sizings[0])->drawers[d].box_height.value / (DW_INCH / 16);
    struct least least = {.cost = INT64_MAX};
    for (int64_t i = 0; i < (count == 3 ? 125 : 25); i++) {
        told[0] = preferred[0] - i % 5;
        told[1] = preferred[1] - i / 5 % 5;
        told[2] = preferred[2] - i / 25;
        try_told(&small->dice, preferred, told, count, &least);
    }
    search(&trial, &(struct dw_leeway_options){.near = 0});
    dw_length distance = 0;
    for (size_t d = 0; d < count; d++)
        distance += preferred[d] - bank_of(trial.leeway->sizings[0])->drawers[d].box_height.value / (DW_INCH / 16);
    assert_int_equal(trial.leeway->purchase->sheets_cost, least.cost);
    assert_int_equal(distance, least.distance);
    assert_true(trial.leeway->lower_bound <= least.cost);
    small->saved += trial.leeway->saved > 0 ? 1 : 0;
    drop(&trial);
    dw_arena_free(arena);
}

static void test_small_jobs_equal_every_setting(void **state)
{
    (void)state;
    struct small small = {.saved = 0};
    const bool all = long_run();
    const uint64_t jobs = all ? 30 : 1;
    struct dw_arena *arena = dw_arena_new();
    for (uint64_t i = 0; i < jobs; i++) {
        small.dice.state = all ? 500 + i : 502; /* the short run takes one of two drawers in which there is something to save */
        assert_true(dw_arena_guard(arena, compare_small, &small));
    }
    assert_true(small.saved > 0);
    dw_arena_free(arena);
}

/* ---- the other sizes, each against every value told ------------------------------------------------------------------ */

/* One case with two places to say something (of the box, of the fit) and a material for the part in question; the other parts never lack sheets. */
#define ONE_CASE \
    "{\"format\": 1, \"name\": \"one\", \"units\": \"in\", \"shop\": {\"name\": \"t\", \"habits\": {\"trim\": 0}, \"materials\": [" \
    "{\"id\": \"tight\", \"thickness\": \"1/2\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"s\", \"length\": 20, \"width\": \"%d/16\", \"price\": \"20.00\"}]}," \
    "{\"id\": \"ample\", \"thickness\": \"1/4\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"s\", \"length\": 96, \"width\": 96, \"price\": \"9.00\"}]}]," \
    "\"slides\": [{\"id\": \"side\", \"lengths\": [12, 14]}]}, \"cases\": [{\"name\": \"A\", \"opening\": {\"width\": 16, \"height\": 16, \"depth\": 15}, " \
    "\"fit\": {\"overlay\": \"%s\"%s}, \"box\": {\"sides\": \"%s\", \"front\": \"ample\", \"back\": \"%s\", \"bottom\": \"ample\", \"joint\": \"butt\", " \
    "\"groove_depth\": \"1/8\", \"bottom_style\": \"slid in\"%s}, \"front\": {\"material\": \"%s\"}, \"banks\": [{\"drawers\": %s%s}]}]}"

struct one {
    const char *name, *sides, *back, *front; /* which part is of the tight material */
    const char *box_leeway, *fit_leeway;     /* the range ... */
    const char *box[3], *overlay[3];         /* ... and its values told */
    int least, most;                         /* widths of the tight sheet in sixteenths to try */
};

static const struct one ones[] = {
    {"overlay", "ample", "ample", "tight", "", ", \"leeway\": \"1/8\"", {"", "", ""}, {"1/2", "7/16", "3/8"}, 256, 284},
    {"slide length", "tight", "ample", "ample", ", \"leeway\": {\"shorter\": 1}", "", {"", ", \"slide_length\": 12", NULL}, {"1/2", "1/2", NULL}, 200, 230},
    {"groove", "ample", "tight", "ample", ", \"leeway\": {\"groove_higher\": \"1/8\"}", "",
     {", \"groove_up\": \"3/8\"", ", \"groove_up\": \"7/16\"", ", \"groove_up\": \"1/2\""}, {"1/2", "1/2", "1/2"}, 150, 180},
};

static void test_other_sizes_equal_every_value(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof ones / sizeof *ones; i++) {
        const struct one *one = &ones[i];
        const bool all = long_run();
        int saved = 0;
        for (int width = one->least; width <= one->most; width += all ? 2 : 4) {
            char json[4096];
            struct trial trial;
            dw_money least = INT64_MAX;
            for (int v = 0; v < 3 && one->box[v] != NULL; v++) {
                (void)snprintf(json, sizeof json, ONE_CASE, width, one->overlay[v], "", one->sides, one->back, one->box[v], one->front, "3", "");
                plan(&trial, json);
                least = dw_least(least, trial.run.purchase->sheets_cost);
                drop(&trial);
            }
            (void)snprintf(json, sizeof json, ONE_CASE, width, "1/2", one->fit_leeway, one->sides, one->back, one->box_leeway, one->front, "3", "");
            plan(&trial, json);
            search(&trial, &(struct dw_leeway_options){.near = 0});
            if (trial.leeway->purchase->sheets_cost != least)
                fail_msg("%s, sheet %d/16 wide: %lld, not %lld", one->name, width, (long long)trial.leeway->purchase->sheets_cost, (long long)least);
            assert_true(trial.leeway->lower_bound <= least);
            saved += trial.leeway->saved > 0 ? 1 : 0;
            drop(&trial);
        }
        if (saved == 0)
            fail_msg("%s never saved a sheet", one->name);
    }
}

/* Three fronts, each lower or higher by up to 1/8, their sum kept: all nineteen ways told as heights. */
static dw_money least_of_fronts(int width, const dw_length *heights)
{
    dw_money least = INT64_MAX;
    for (int first = -2; first <= 2; first++)
        for (int second = -2; second <= 2; second++) {
            const int third = -first - second;
            char drawers[256];
            char json[4096];
            struct trial trial;
            if (third < -2 || third > 2)
                continue;
            (void)snprintf(drawers, sizeof drawers, "[{\"height\": \"%lld/16\"}, {\"height\": \"%lld/16\"}, {\"height\": \"%lld/16\"}]",
                           (long long)(heights[0] * 16 / DW_INCH) + first, (long long)(heights[1] * 16 / DW_INCH) + second,
                           (long long)(heights[2] * 16 / DW_INCH) + third);
            (void)snprintf(json, sizeof json, ONE_CASE, width, "1/2", "", "ample", "ample", "", "tight", drawers, "");
            plan(&trial, json);
            least = dw_least(least, trial.run.purchase->sheets_cost);
            drop(&trial);
        }
    return least;
}

static void test_fronts_equal_every_share(void **state)
{
    (void)state;
    int saved = 0;
    for (int width = 170; width <= 200; width += long_run() ? 2 : 8) {
        char json[4096];
        struct trial trial;
        dw_length heights[3];
        (void)snprintf(json, sizeof json, ONE_CASE, width, "1/2", "", "ample", "ample", "", "tight", "[{\"height\": {\"share\": 1}}, {\"height\": {\"share\": 1}}, {\"height\": {\"share\": 1}}]",
                       ", \"leeway\": \"1/8\"");
        plan(&trial, json);
        for (size_t d = 0; d < 3; d++)
            heights[d] = bank_of(trial.run.sizings[0])->drawers[d].front_height.value;
        search(&trial, &(struct dw_leeway_options){.near = 0});
        assert_int_equal(trial.leeway->purchase->sheets_cost, least_of_fronts(width, heights));
        assert_true(trial.leeway->certain);
        check_chain(bank_of(trial.leeway->sizings[0]));
        saved += trial.leeway->saved > 0 ? 1 : 0;
        drop(&trial);
    }
    assert_true(saved > 0);
}

/* The sides of three drawers on sheets that are narrow; slides of two lengths. */
#define SLIDE_CASE \
    "{\"format\": 1, \"name\": \"one\", \"units\": \"in\", \"shop\": {\"name\": \"t\", \"habits\": {\"trim\": 0}, \"materials\": [" \
    "{\"id\": \"tight\", \"thickness\": \"1/2\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"s\", \"length\": 20, \"width\": \"%d/16\", \"price\": \"20.00\"}]}," \
    "{\"id\": \"ample\", \"thickness\": \"1/4\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"s\", \"length\": 96, \"width\": 96, \"price\": \"9.00\"}]}]," \
    "\"slides\": [{\"id\": \"side\", \"lengths\": [%s]}]}, \"cases\": [{\"name\": \"A\", \"opening\": {\"width\": 16, \"height\": 16, \"depth\": 15}, " \
    "\"fit\": {\"overlay\": \"1/2\"}, \"box\": {\"sides\": \"tight\", \"front\": \"ample\", \"back\": \"ample\", \"bottom\": \"ample\", \"joint\": \"butt\", " \
    "\"groove_depth\": \"1/8\", \"bottom_style\": \"slid in\"%s}, \"front\": {\"material\": \"ample\"}, \"banks\": [{\"drawers\": 3}]}]}"

/* ---- slides of other prices ---------------------------------------------------------------------------------------------- */

/* Two drawers' sides on a narrow sheet, slides of 14 and 12 at prices that differ: every length told, for money of sheets and slides. */
static void try_slide_prices(int width, const char *prices, dw_money longer, dw_money shorter, bool *taken)
{
    static const int lengths[] = {14, 12};
    const dw_money price[] = {longer, shorter};
    char json[4096];
    char box[64];
    struct trial trial;
    dw_money least = INT64_MAX;
    for (int i = 0; i < 2; i++) {
        (void)snprintf(box, sizeof box, ", \"slide_length\": %d", lengths[i]);
        (void)snprintf(json, sizeof json, SLIDE_CASE, width, prices, box);
        plan(&trial, json);
        least = dw_least(least, trial.run.purchase->sheets_cost + 3 * (price[i] - price[0]));
        drop(&trial);
    }
    (void)snprintf(json, sizeof json, SLIDE_CASE, width, prices, ", \"leeway\": {\"shorter\": 1}");
    plan(&trial, json);
    search(&trial, &(struct dw_leeway_options){.near = 0});
    assert_int_equal(trial.leeway->purchase->sheets_cost + trial.leeway->slides, least);
    assert_int_equal(trial.leeway->before - trial.leeway->saved, least);
    assert_true(trial.leeway->certain);
    *taken = trial.leeway->change_count > 0;
    drop(&trial);
}

static void test_slide_prices_equal_every_length(void **state)
{
    (void)state;
    static const struct {
        const char *prices;
        dw_money longer, shorter;
    } rows[] = {
        {"{\"length\": 12, \"price\": \"10.00\"}, {\"length\": 14, \"price\": \"10.00\"}", 1000, 1000},
        {"{\"length\": 12, \"price\": \"11.00\"}, {\"length\": 14, \"price\": \"10.00\"}", 1000, 1100},
        {"{\"length\": 12, \"price\": \"19.00\"}, {\"length\": 14, \"price\": \"10.00\"}", 1000, 1900}, /* three dearer slides eat up a sheet */
        {"{\"length\": 12, \"price\": \"9.00\"}, {\"length\": 14, \"price\": \"10.00\"}", 1000, 900},
    };
    int taken[4] = {0};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int width = 200; width <= 230; width += long_run() ? 2 : 10) {
            bool took = false;
            try_slide_prices(width, rows[i].prices, rows[i].longer, rows[i].shorter, &took);
            taken[i] += took ? 1 : 0;
        }
    assert_true(taken[0] > 0 && taken[1] > 0 && taken[3] > taken[0]);
    assert_int_equal(taken[2], 0);
}

/* ---- random kitchens -------------------------------------------------------------------------------------------- */

/* The rules of sizing, and of leeway: a box that gave is still within what the shop's habits allow. */
static void check_sizing(const struct dw_sizing *sizing, const struct dw_sizing *before)
{
    for (size_t c = 0; c < sizing->case_count; c++)
        for (size_t b = 0; b < sizing->cases[c].bank_count; b++) {
            const struct dw_sized_bank *bank = &sizing->cases[c].banks[b];
            check_chain(bank);
            check_widths(bank);
            for (size_t d = 0; d < bank->drawer_count; d++) {
                const struct dw_sized_drawer *drawer = &bank->drawers[d];
                check_box(drawer);
                assert_int_equal(dw_figure_again(&drawer->box_height), drawer->box_height.value);
                assert_int_equal(dw_figure_again(&drawer->box_depth), drawer->box_depth.value);
                if (drawer->box_height.value != before->cases[c].banks[b].drawers[d].box_height.value)
                    assert_true(dw_least(drawer->front_height.value, drawer->space.height) - drawer->box_height.value <=
                                sizing->job->shop.habits.box_less_most);
            }
        }
}

/* The sheets by the checker of ladders, which follows every cut by itself. */
static void check_plan(const struct trial *trial)
{
    const struct dw_purchase *purchase = trial->leeway->purchase;
    for (size_t m = 0; m < purchase->layouts->material_count; m++)
        assert_true(dw_ladder_replay(purchase->layouts->jobs, &purchase->layouts->materials[m], trial->faults));
}

/* What was alike is alike: drawers of one height before have one height after. */
static void check_alike(const struct dw_sizing *before, const struct dw_sizing *after)
{
    const struct dw_sized_bank *was = bank_of(before);
    const struct dw_sized_bank *is = bank_of(after);
    for (size_t i = 0; i < was->drawer_count; i++)
        for (size_t k = i + 1; k < was->drawer_count; k++)
            if (was->drawers[i].box_height.value == was->drawers[k].box_height.value)
                assert_int_equal(is->drawers[i].box_height.value, is->drawers[k].box_height.value);
}

struct kitchens {
    struct dice dice;
    int64_t count, saving, certain;
    double share, seconds, slowest; /* sums over kitchens: share of the sheets' cost that was saved; time */
};

static void try_kitchen(void *context)
{
    struct kitchens *kitchens = context;
    struct dw_arena *arena = dw_arena_new();
    struct dw_text json = dw_text_in(arena);
    struct trial trial;
    leeway_realistic(&json, &kitchens->dice, dice_range(&kitchens->dice, 8, 36), "", LEEWAY_LENGTHS);
    plan_with(&trial, json.bytes, long_run() ? &more_work : &little_work);
    const clock_t from = clock();
    search(&trial, &(struct dw_leeway_options){.habits = true});
    const double seconds = (double)(clock() - from) / CLOCKS_PER_SEC;
    const struct dw_leeway *leeway = trial.leeway;
    assert_true(leeway->purchase->sheets_cost <= trial.run.purchase->sheets_cost);
    assert_true(leeway->purchase->total <= trial.run.purchase->total);
    assert_true(leeway->lower_bound <= leeway->purchase->sheets_cost);
    assert_int_equal(leeway->saved > 0, leeway->change_count > 0);
    check_sizing(leeway->sizings[0], trial.run.sizings[0]);
    check_alike(trial.run.sizings[0], leeway->sizings[0]);
    check_plan(&trial);
    kitchens->count++;
    kitchens->saving += leeway->saved > 0 ? 1 : 0;
    kitchens->certain += leeway->certain ? 1 : 0;
    kitchens->share += (double)leeway->saved / (double)leeway->before;
    kitchens->seconds += seconds;
    kitchens->slowest = seconds > kitchens->slowest ? seconds : kitchens->slowest;
    drop(&trial);
    dw_arena_free(arena);
}

static void test_random_kitchens(void **state)
{
    (void)state;
    const bool all = long_run();
    struct kitchens kitchens = {.dice = {20260701}};
    struct dw_arena *arena = dw_arena_new();
    for (int i = 1; i <= (all ? 200 : 3); i++) {
        assert_true(dw_arena_guard(arena, try_kitchen, &kitchens));
        if (all && i % 20 == 0)
            print_message("%lld of %lld kitchens save; on average over all %.2f %% of the sheets' cost; %lld certain; looking took %.2f s, at most %.2f s\n",
                          (long long)kitchens.saving, (long long)kitchens.count, 100 * kitchens.share / (double)kitchens.count,
                          (long long)kitchens.certain, kitchens.seconds / (double)kitchens.count, kitchens.slowest);
    }
    assert_true(kitchens.saving > 0);
    dw_arena_free(arena);
}

/* ---- ranges, words, memory ------------------------------------------------------------------------------------------ */

/* Three like boxes in two banks: alike over the job, in a bank, or each by itself; the same job with nothing told gives nothing. */
static void test_ranges_are_off_until_told(void **state)
{
    (void)state;
    struct trial trial;
    plan_drawers(&trial, "", ", \"height\": \"4 11/16\"", "6");
    assert_false(dw_leeway_is_told(trial.run.jobs[0]));
    search(&trial, &(struct dw_leeway_options){.near = 0});
    assert_int_equal(trial.leeway->change_count, 0);
    drop(&trial);
    plan_drawers(&trial, "", ", \"height\": \"4 11/16\", \"leeway\": {\"lower\": \"1/4\"}", "6");
    assert_true(dw_leeway_is_told(trial.run.jobs[0]));
    search(&trial, &(struct dw_leeway_options){.near = 0});
    assert_string_equal(trial.leeway->changes[0].drawers, "A/1/1");
    assert_int_equal(trial.leeway->changes[0].count, 25);
    drop(&trial);
}

static void test_paths_are_run_together(void **state)
{
    (void)state;
    struct trial trial;
    struct dw_leeway_options options = {.habits = true};
    static const char *const keep[] = {"Seeds/M"};
    trial = (struct trial){.arena = dw_arena_new(), .faults = dw_faults_new(), .layout = &small_work};
    const struct dw_job *job = NULL;
    assert_int_equal(dw_job_read_file(DW_SOURCE_DIR "/samples/seed-cabinet.json", NULL, trial.arena, trial.faults, &job), DW_DONE);
    assert_int_equal(dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, trial.layout, NULL, trial.arena, trial.faults, &trial.run), DW_DONE);
    if (long_run()) {
        const clock_t from = clock();
        search(&trial, &options);
        assert_true((double)(clock() - from) / CLOCKS_PER_SEC < 10.0);
        for (size_t i = 0; i < trial.leeway->change_count; i++)
            assert_null(strstr(trial.leeway->changes[i].drawers, "/2, "));
    }
    options.keep = keep;
    options.keep_count = 1;
    search(&trial, &options);
    for (size_t i = 0; i < trial.leeway->change_count; i++)
        assert_null(strstr(trial.leeway->changes[i].drawers, "Seeds/M"));
    drop(&trial);
}

/* Memory that fails from the n-th request on: the call says so, and gives nothing. */
static void test_failing_memory(void **state)
{
    (void)state;
    struct trial trial;
    plan_drawers(&trial, "", ", \"height\": \"4 11/16\", \"leeway\": {\"lower\": \"1/8\"}", "6");
    const struct dw_leeway_options options = {.near = 0};
    dw_money saved = 0;
    for (size_t n = 1; saved == 0; n += 1 + (long_run() ? n / 8 : n / 2)) {
        struct dw_faults *faults = dw_faults_new();
        struct dw_arena *arena = dw_arena_new();
        const struct dw_leeway *leeway = NULL;
        (void)dw_memory_fail_at(n);
        const enum dw_status status = dw_leeway_search(trial.run.jobs, 1, trial.run.purchase, &options, trial.layout, NULL, arena, faults, &leeway);
        (void)dw_memory_fail_at(0);
        assert_true(status == DW_DONE || status == DW_SURROUNDINGS);
        assert_int_equal(status == DW_DONE, leeway != NULL);
        saved = leeway != NULL ? leeway->saved : 0;
        dw_arena_free(arena);
        dw_faults_free(faults);
    }
    assert_int_equal(saved, 6800);
    drop(&trial);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_kitchens),
        cmocka_unit_test(test_bench_check_by_hand),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_what_goes_inside),
        cmocka_unit_test(test_one_piece_alone_forces_a_sheet),
        cmocka_unit_test(test_one_piece_alone_at_broken_prices),
        cmocka_unit_test(test_small_jobs_equal_every_setting),
        cmocka_unit_test(test_other_sizes_equal_every_value),
        cmocka_unit_test(test_fronts_equal_every_share),
        cmocka_unit_test(test_slide_prices_equal_every_length),
        cmocka_unit_test(test_ranges_are_off_until_told),
        cmocka_unit_test(test_paths_are_run_together),
        cmocka_unit_test(test_failing_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
