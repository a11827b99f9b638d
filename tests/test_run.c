/* test_run.c - the whole line in one call, on the samples: every stage that is asked for and no more, the same plan twice, plans heard on the way, jobs planned
 * together, faults of several jobs led by their ids, cancel, failing memory. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/run.h>

#include "layout/ladder.h"
#include "layout/pieces.h"
#include "layout/tidy.h"

static const char *const samples[] = {DW_SOURCE_DIR "/samples/plan-chest.json", DW_SOURCE_DIR "/samples/seed-cabinet.json",
                                      DW_SOURCE_DIR "/samples/service-bench.json"};
enum { SAMPLES = sizeof samples / sizeof *samples };

struct line {
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dw_job *jobs[SAMPLES];
    size_t count;
    struct dw_run run;
};

static void line_new(struct line *line, size_t first, size_t count)
{
    *line = (struct line){.arena = dw_arena_new(), .faults = dw_faults_new(), .count = count};
    for (size_t i = 0; i < count; i++)
        if (dw_job_read_file(samples[first + i], NULL, line->arena, line->faults, &line->jobs[i]) != DW_DONE)
            fail_msg("%s: %s", samples[first + i], line->faults->at[0].wrong);
}

static void line_free(struct line *line)
{
    dw_arena_free(line->arena);
    dw_faults_free(line->faults);
}

static enum dw_status go(struct line *line, enum dw_stage last, const struct dw_layout_options *options, const struct dw_control *control)
{
    return dw_run_jobs(line->jobs, line->count, last, options, control, line->arena, line->faults, &line->run);
}

static void test_stops_where_it_is_told(void **state)
{
    (void)state;
    for (int stage = DW_STAGE_CHECK; stage <= DW_STAGE_LAYOUT; stage++) {
        struct line line;
        line_new(&line, 0, 1);
        assert_int_equal(go(&line, (enum dw_stage)stage, NULL, NULL), DW_DONE);
        assert_non_null(line.run.jobs);
        assert_int_equal(line.run.sizings != NULL, stage >= DW_STAGE_SIZE);
        assert_int_equal(line.run.parts != NULL, stage >= DW_STAGE_PARTS);
        assert_int_equal(line.run.purchase != NULL, stage >= DW_STAGE_LAYOUT);
        line_free(&line);
    }
}

/* Same job, same patience, same seed: the same plan; any number of threads. */
static void test_same_plan_again(void **state)
{
    (void)state;
    for (size_t s = 0; s < SAMPLES; s++) {
        char mark[3][16] = {{0}};
        for (int turn = 0; turn < 3; turn++) {
            struct line line;
            line_new(&line, s, 1);
            const struct dw_layout_options options = {.threads = turn == 2 ? 2 : 1, .no_choices = true};
            assert_int_equal(go(&line, DW_STAGE_LAYOUT, &options, NULL), DW_DONE);
            (void)snprintf(mark[turn], sizeof mark[turn], "%s", line.run.purchase->plan_mark);
            line_free(&line);
        }
        assert_string_equal(mark[0], mark[1]);
        assert_string_equal(mark[0], mark[2]);
    }
}

/* What the progress told: of each material the last plan. */
struct heard {
    struct line *line;
    const struct dw_layout_problem *problems;
    size_t problem_count;
    int64_t cost[8]; /* 0: none */
    size_t plans;
};

static void hear(void *context, const struct dw_standing *standing)
{
    struct heard *heard = context;
    if (standing->found == NULL)
        return;
    assert_true(standing->material < heard->problem_count);
    const struct dw_layout_problem *problem = &heard->problems[standing->material];
    assert_string_equal(standing->what, heard->line->run.jobs[0]->shop.materials[problem->material].name);
    assert_true(dw_cut_check(&problem->request, standing->found, heard->line->faults));
    assert_int_equal(standing->found->cost, standing->best);
    assert_true(standing->lower_bound <= standing->best);
    assert_true(heard->cost[standing->material] == 0 || standing->best <= heard->cost[standing->material]);
    heard->cost[standing->material] = standing->best;
    heard->plans++;
}

/* Better plans are handed out while the search goes on: each is sound, none is dearer than the one before, the last is what is bought; and the plan
 * is the same as when nobody listens. */
static void test_progress_carries_sound_plans(void **state)
{
    (void)state;
    for (size_t s = 0; s < SAMPLES; s++) {
        struct line listened, silent;
        line_new(&listened, s, 1);
        line_new(&silent, s, 1);
        const struct dw_layout_options options = {.threads = 2};
        struct heard heard = {.line = &listened};
        const struct dw_control control = {.progress = hear, .plans = true, .context = &heard};
        assert_int_equal(go(&listened, DW_STAGE_PARTS, NULL, NULL), DW_DONE);
        assert_int_equal(dw_layout_problems(listened.run.parts, 1, &options, listened.arena, listened.faults, &heard.problems, &heard.problem_count), DW_DONE);
        assert_true(heard.problem_count <= sizeof heard.cost / sizeof *heard.cost);
        const struct dw_purchase *purchase = NULL;
        assert_int_equal(dw_purchase_make(listened.run.parts, 1, &options, &control, listened.arena, listened.faults, &purchase), DW_DONE);
        assert_int_equal(go(&silent, DW_STAGE_LAYOUT, &options, NULL), DW_DONE);
        assert_string_equal(purchase->plan_mark, silent.run.purchase->plan_mark);
        assert_true(heard.plans >= heard.problem_count);
        for (size_t m = 0; m < heard.problem_count; m++)
            assert_int_equal(heard.cost[m], purchase->layouts->materials[m].cost);
        line_free(&listened);
        line_free(&silent);
    }
}

/* Jobs planned together cost no more than one by one, and their shares add up. */
static void test_jobs_together(void **state)
{
    (void)state;
    const struct dw_layout_options options = {.no_choices = true};
    dw_money apart = 0;
    for (size_t s = 0; s < SAMPLES; s++) {
        struct line line;
        line_new(&line, s, 1);
        assert_int_equal(go(&line, DW_STAGE_LAYOUT, &options, NULL), DW_DONE);
        apart += line.run.purchase->sheets_cost;
        line_free(&line);
    }
    struct line line;
    line_new(&line, 0, SAMPLES);
    assert_int_equal(go(&line, DW_STAGE_LAYOUT, &options, NULL), DW_DONE);
    const struct dw_purchase *purchase = line.run.purchase;
    assert_true(purchase->sheets_cost <= apart);
    dw_money out = 0;
    size_t jobs = 0;
    for (size_t i = 0; i < purchase->share_count && purchase->shares[i].level == 0; i++, jobs++)
        out += purchase->shares[i].money_out;
    assert_int_equal(jobs, SAMPLES);
    for (size_t j = 0; j < SAMPLES; j++) { /* no two pieces are called the same */
        const char lead[] = {(char)('1' + (int)j), '/', '\0'};
        assert_int_equal(strncmp(line.run.parts[j]->at[0].pieces[0].mark, lead, 2), 0);
    }
    assert_int_equal(out, purchase->total);
    line_free(&line);
}

/* By hand: a chest takes 32 screws for its fronts, in boxes of 100. Two chests planned together buy one box and one line of pulls, and each bears
 * half of it. */
static void test_hardware_of_several_jobs_in_one_line(void **state)
{
    (void)state;
    struct line line;
    line_new(&line, 0, 1);
    line.jobs[1] = line.jobs[0];
    line.count = 2;
    assert_int_equal(go(&line, DW_STAGE_LAYOUT, &(struct dw_layout_options){.no_choices = true}, NULL), DW_DONE);
    const struct dw_purchase *purchase = line.run.purchase;
    size_t screws = 0, pulls = 0;
    for (size_t i = 0; i < purchase->line_count; i++) {
        const struct dw_buy_line *bought = &purchase->lines[i];
        if (bought->material == DW_NO_INDEX && strstr(bought->what, "screw for fronts") != NULL) {
            screws++;
            assert_int_equal(bought->count, 1);
            assert_int_equal(bought->need_count, 2);
            assert_non_null(strstr(bought->what, "100 in a pack, 64 wanted"));
        }
        if (bought->material == DW_NO_INDEX && strstr(bought->what, "cup pull") != NULL) {
            pulls++;
            assert_int_equal(bought->count, 16);
        }
    }
    assert_int_equal(screws, 1);
    assert_int_equal(pulls, 1);
    assert_int_equal(purchase->shares[0].money_out + purchase->shares[1].money_out, purchase->total);
    line_free(&line);
}

/* ---- what one ladder and tidying save ---- */

struct savings {
    struct line *line;
    size_t apart, together, tidied; /* settings */
};

static size_t settings_of(const struct savings *savings, const struct dw_material_layout *layout)
{
    const struct ladder_count count = dwi_ladder_count(savings->line->run.parts, savings->line->arena, layout);
    assert_true(count.whole);
    return count.settings;
}

static void save_body(void *context)
{
    struct savings *savings = context;
    struct line *line = savings->line;
    const struct dw_layout_problem *problems = NULL;
    size_t count = 0;
    assert_int_equal(dw_layout_problems(line->run.parts, 1, NULL, line->arena, line->faults, &problems, &count), DW_DONE);
    for (size_t m = 0; m < count; m++) {
        const struct dw_cut_plan *plan = NULL;
        assert_int_equal(dw_cut_solve(&problems[m].request, NULL, line->arena, line->faults, &plan), DW_DONE);
        struct dw_material_layout layout = {.problem = &problems[m]}, tidied = {.problem = &problems[m]};
        const struct given_up none = {.count = 0};
        dwi_layout_pieces(line->run.parts, plan, &none, line->arena, NULL, &layout);
        dwi_layout_pieces(line->run.parts, dwi_tidy(line->run.parts, &problems[m], plan, line->arena), &none, line->arena, NULL, &tidied);
        for (size_t s = 0; s < layout.sheet_count; s++) {
            struct dw_material_layout one = layout;
            one.sheets += s;
            one.sheet_count = 1;
            savings->apart += settings_of(savings, &one);
        }
        savings->together += settings_of(savings, &layout);
        savings->tidied += settings_of(savings, &tidied);
    }
}

/* docs/at-the-saw.md has the figures; here only that each step saves on the samples taken together. */
static void test_each_step_saves_settings(void **state)
{
    (void)state;
    struct savings all = {NULL, 0, 0, 0};
    for (size_t s = 0; s < SAMPLES; s++) {
        struct line line;
        line_new(&line, s, 1);
        assert_int_equal(go(&line, DW_STAGE_PARTS, NULL, NULL), DW_DONE);
        struct savings savings = {.line = &line};
        assert_true(dw_arena_guard(line.arena, save_body, &savings));
        assert_true(savings.tidied <= savings.together && savings.together <= savings.apart);
        print_message("%s: each sheet by itself %zu, one ladder %zu, tidied %zu\n", strrchr(samples[s], '/') + 1, savings.apart,
                      savings.together, savings.tidied);
        all.apart += savings.apart;
        all.together += savings.together;
        all.tidied += savings.tidied;
        line_free(&line);
    }
    assert_true(all.tidied < all.together && all.together < all.apart);
}

/* A fault of one of several jobs is led by the job's id; the stages before it stand. */
static void test_faults_of_several_jobs(void **state)
{
    (void)state;
    struct line line;
    line_new(&line, 0, 2);
    struct dw_job broken = *line.jobs[1];
    broken.spares_percent = -7;
    line.jobs[1] = &broken;
    assert_int_equal(go(&line, DW_STAGE_LAYOUT, NULL, NULL), DW_INPUT);
    assert_null(line.run.parts);
    bool led = false;
    for (size_t i = 0; i < line.faults->count; i++)
        led = led || (line.faults->at[i].grade == DW_ERROR && strncmp(line.faults->at[i].address, "seed-cabinet: ", 14) == 0);
    assert_true(led);
    line_free(&line);
}

/* Cancelled from the start: the best so far, or none, but never a wrong one. */
static void test_cancel(void **state)
{
    (void)state;
    atomic_bool cancel = true;
    const struct dw_control control = {.cancel = &cancel};
    struct line line;
    line_new(&line, 1, 1);
    const enum dw_status status = go(&line, DW_STAGE_LAYOUT, NULL, &control);
    assert_true(status == DW_DONE || status == DW_IMPOSSIBLE);
    assert_int_equal(status == DW_DONE, line.run.purchase != NULL);
    line_free(&line);
}

/* ---- sizes that give for what is left ---- */

struct plan_text_call {
    const struct dw_purchase *purchase;
    const struct dw_leeway *leeway;
    const struct dw_faults *faults;
    struct dw_arena *arena;
    struct dw_text text;
};

static void write_plan(void *context)
{
    struct plan_text_call *call = context;
    call->text = dw_text_in(call->arena);
    (void)dw_json_plan(dw_leeway_tell(call->purchase, call->leeway, NULL, call->arena), call->faults, &call->text);
}

/* By hand: of a sheet that trims to 47-1/2 x 95-1/2 nine rips of 4-11/16, or ten of 4-5/8, with kerfs of 1/8, and five sides of 16 in each: 45 or 50. So the
 * 50 sides of 25 drawers take two sheets of 68.00, or one where the boxes may be 1/16 lower. */
static const char many_sides[] =
    "{\"format\": 1, \"name\": \"sides\", \"units\": \"in\", \"shop\": {\"materials\": [{\"id\": \"p\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"full\","
    " \"length\": 96, \"width\": 48, \"price\": \"68.00\"}]}, {\"id\": \"q\", \"thickness\": \"1/4\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"full\","
    " \"length\": 96, \"width\": 48, \"price\": \"20.00\"}]}], \"slides\": [{\"id\": \"side\", \"lengths\": [16]}]}, \"cases\": [{\"name\": \"A\","
    " \"count\": 25, \"opening\": {\"width\": 12, \"height\": 6, \"depth\": 18}, \"fit\": \"inset\", \"front\": {\"material\": \"q\"}, \"box\": {\"sides\": \"p\","
    " \"front\": \"q\", \"back\": \"q\", \"bottom\": \"q\", \"joint\": \"butt\", \"groove_depth\": \"1/8\", \"bottom_clearance\": 0, \"height\": \"4 11/16\","
    " \"leeway\": {\"lower\": \"1/8\"}}, \"banks\": [{\"drawers\": 1}]}]}";

/* What leeway saves for the boxes alone, given what of them is cut. */
static dw_money saved_with(const struct dw_made_piece *cut, size_t cut_count)
{
    static const char *const only[] = {"boxes"};
    const struct dw_layout_options options = {.patience = DW_SHORT, .work = 60000, .no_choices = true};
    const struct dw_run_rest rest = {.only = only, .only_count = 1, .cut = cut, .cut_count = cut_count};
    const struct dw_leeway_options may_give = {.habits = false};
    const struct dw_leeway *leeway = NULL;
    struct line line = {.arena = dw_arena_new(), .faults = dw_faults_new()};
    assert_int_equal(dw_job_read_text(many_sides, strlen(many_sides), "sides", NULL, NULL, line.arena, line.faults, &line.jobs[0]), DW_DONE);
    assert_int_equal(dw_run_rest(line.jobs, 1, &rest, &options, NULL, line.arena, line.faults, &line.run), DW_DONE);
    assert_int_equal(dw_run_leeway(&line.run, &rest, &may_give, &options, NULL, line.arena, line.faults, &leeway), DW_DONE);
    for (size_t p = 0; p < leeway->parts[0]->count; p++) {
        assert_int_not_equal(leeway->parts[0]->at[p].kind, DW_PART_FRONT);
        for (size_t i = 0; i < leeway->parts[0]->at[p].count; i++)
            for (size_t c = 0; c < cut_count; c++)
                assert_string_not_equal(leeway->parts[0]->at[p].pieces[i].mark, cut[c].piece.mark);
    }
    const dw_money saved = leeway->saved;
    line_free(&line);
    return saved;
}

/* What gave is told by the plan's file, and read with the job it gives the same sizes without leeway. */
static void test_what_gave_is_remembered(void **state)
{
    (void)state;
    const struct dw_layout_options options = {.patience = DW_SHORT, .work = 60000, .no_choices = true};
    const struct dw_leeway_options may_give = {.habits = false};
    const struct dw_leeway *leeway = NULL;
    const struct dw_plan *plan = NULL;
    struct line line = {.arena = dw_arena_new(), .faults = dw_faults_new(), .count = 1};
    assert_int_equal(dw_job_read_text(many_sides, strlen(many_sides), "sides", NULL, NULL, line.arena, line.faults, &line.jobs[0]), DW_DONE);
    assert_int_equal(go(&line, DW_STAGE_LAYOUT, &options, NULL), DW_DONE);
    assert_int_equal(dw_run_leeway(&line.run, NULL, &may_give, &options, NULL, line.arena, line.faults, &leeway), DW_DONE);
    assert_int_equal(leeway->saved, 6800);
    struct plan_text_call call = {.purchase = leeway->purchase, .leeway = leeway, .faults = line.faults, .arena = line.arena};
    assert_true(dw_arena_guard(line.arena, write_plan, &call));
    assert_int_equal(dw_plan_read_text(call.text.bytes, call.text.length, line.arena, line.faults, &plan), DW_DONE);
    assert_true(plan->given_count > 0 && plan->given_count < 8);
    char set[8][128];
    const char *settings[8];
    for (size_t i = 0; i < plan->given_count; i++) {
        assert_string_equal(plan->given[i].job, "sides");
        (void)snprintf(set[i], sizeof set[i], "%s=%s", plan->given[i].address, plan->given[i].value);
        settings[i] = set[i];
    }
    const struct dw_read_options read = {.settings = settings, .setting_count = plan->given_count};
    assert_int_equal(dw_job_read_text(many_sides, strlen(many_sides), "sides", NULL, &read, line.arena, line.faults, &line.jobs[0]), DW_DONE);
    assert_int_equal(go(&line, DW_STAGE_LAYOUT, &options, NULL), DW_DONE);
    assert_int_equal(line.run.purchase->sheets_cost, leeway->purchase->sheets_cost);
    assert_int_equal(line.run.sizings[0]->cases[0].banks[0].drawers[0].box_height.value, 4 * DW_INCH + 5 * DW_INCH / 8);
    line_free(&line);
}

static void test_sizes_give_for_what_is_left(void **state)
{
    (void)state;
    const struct dw_made_piece cut = {.piece = {.mark = "A1-1.1L", .name = "side", .material = "p", .thickness = DW_INCH / 2, .length = 16 * DW_INCH,
                                                .width = 4 * DW_INCH + 11 * DW_INCH / 16}, .plan = "", .measured = DW_LENGTH_UNSET, .changed = ""};
    assert_int_equal(saved_with(NULL, 0), 6800);
    assert_int_equal(saved_with(&cut, 1), 0); /* it is of that size, and the boxes are alike */
}

static void test_survives_failing_memory(void **state)
{
    (void)state;
    bool done = false;
    size_t n = 1;
    for (; !done && n < 200000; n += 1 + n / 4) {
        struct line line;
        line_new(&line, 0, 1);
        const struct dw_layout_options options = {.no_choices = true};
        (void)dw_memory_fail_at(n);
        const enum dw_status status = go(&line, DW_STAGE_LAYOUT, &options, NULL);
        (void)dw_memory_fail_at(0);
        done = status == DW_DONE;
        assert_int_equal(done, line.run.purchase != NULL);
        assert_true(done || status == DW_SURROUNDINGS);
        line_free(&line);
    }
    assert_true(done && n > 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_stops_where_it_is_told),
        cmocka_unit_test(test_same_plan_again),
        cmocka_unit_test(test_progress_carries_sound_plans),
        cmocka_unit_test(test_jobs_together),
        cmocka_unit_test(test_hardware_of_several_jobs_in_one_line),
        cmocka_unit_test(test_each_step_saves_settings),
        cmocka_unit_test(test_faults_of_several_jobs),
        cmocka_unit_test(test_cancel),
        cmocka_unit_test(test_what_gave_is_remembered),
        cmocka_unit_test(test_sizes_give_for_what_is_left),
        cmocka_unit_test(test_survives_failing_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
