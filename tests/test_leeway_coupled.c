/* test_leeway_coupled.c - sizes as columns of an integer program: what a sheet is worth, the least that can be wanted, the lowest mix, each by hand or
 * against trying everything; and that what drawers want hangs on their own choices alone.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <drawerwright/run.h>

#include "job_from.h"
#include "leeway/coupled.h"
#include "leeway_jobs.h"

static void guarded(void (*body)(void *context))
{
    struct dw_arena *arena = dw_arena_new();
    assert_true(dw_arena_guard(arena, body, arena));
    dw_arena_free(arena);
}

/* The tiny job of docs/cutting.md, by hand: sheets of 10 x 6 and 6 x 6, parts a of 4 x 4 and b of 6 x 3, not turned. By area the larger sheet yields a, b, b: 52,
 * the smaller b, b: 36. Counts of the request say nothing: valued 2 and 1, the larger yields a, a or a, b, b: 4. */
static void worth_body(void *context)
{
    struct dw_arena *arena = context;
    const struct dw_cut_part parts[] = {{.length = 4, .width = 4, .count = 1}, {.length = 6, .width = 3, .count = 1}};
    const struct dw_cut_sheet sheets[] = {{.length = 10, .width = 6, .price = 10, .count = -1}, {.length = 6, .width = 6, .price = 7, .count = -1}};
    const struct dw_cut_request request = {.parts = parts, .part_count = 2, .sheets = sheets, .sheet_count = 2, .first_cut = -1};
    struct dw_cut_valuer *valuer = dw_cut_valuer_new(&request, arena);
    int64_t counts[2] = {0};
    int64_t work = 0;
    assert_int_equal(dw_cut_value(valuer, 0, (const int64_t[]){16, 18}, counts, &work), 52);
    assert_int_equal(counts[0], 1);
    assert_int_equal(counts[1], 2);
    assert_int_equal(dw_cut_value(valuer, 1, (const int64_t[]){16, 18}, counts, &work), 36);
    assert_int_equal(dw_cut_value(valuer, 0, (const int64_t[]){2, 1}, counts, &work), 4);
    assert_int_equal(dw_cut_value(valuer, 0, (const int64_t[]){0, 1}, counts, &work), 2);
    assert_int_equal(counts[1], 2);
}

static void test_worth_of_a_sheet(void **state)
{
    (void)state;
    guarded(worth_body);
}

/* The rows and prices of the same job: 52 A + 36 B >= 120 and 4 A + 2 B >= 10 leave two A and one B for 27; with that refused, three A for 30. */
static void mix_body(void *context)
{
    struct dw_arena *arena = context;
    const struct dwi_source sources[] = {{.price = 10, .most = 9}, {.sheet = 1, .price = 7, .most = 9}};
    const struct dwi_row rows[] = {{.v = (const int64_t[]){52, 36}, .rhs = 120}, {.v = (const int64_t[]){4, 2}, .rhs = 10}};
    const dw_money none = 0;
    struct dwi_mixing mixing = {.sources = sources, .source_count = 2, .rows = rows, .row_count = 2, .extras = &none, .extra_count = 1};
    int64_t counts[2] = {0};
    dw_money extra = 1;
    assert_int_equal(dwi_lowest_mix(&mixing, 100, counts, &extra, arena), 27);
    assert_int_equal(counts[0], 2);
    assert_int_equal(counts[1], 1);
    assert_int_equal(extra, 0);
    assert_int_equal(dwi_lowest_mix(&mixing, 27, counts, &extra, arena), 27);
    counts[0] = 2;
    counts[1] = 1;
    dwi_refuse_mix(&mixing, counts, 0, arena);
    assert_int_equal(dwi_lowest_mix(&mixing, 100, counts, &extra, arena), 30);
    assert_int_equal(counts[0], 3);
}

static void test_lowest_mix(void **state)
{
    (void)state;
    guarded(mix_body);
}

/* ---- a random kitchen ---------------------------------------------------------------------------------------------------- */

struct kitchen {
    struct dice dice;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dwi_search search;
    struct dw_leeway_options options;
    struct dw_layout_options layout;
    struct dwi_choices choices;
};

/* As far as the choices; slides of other prices among them. */
static void find_choices(struct kitchen *kitchen)
{
    struct leeway_writing writing = {.dice = &kitchen->dice, .arena = kitchen->arena, .leeway = "\"fronts\": true", .lengths = LEEWAY_DEAR_LENGTHS};
    struct dw_run *run = dw_arena_alloc(kitchen->arena, 1, sizeof *run);
    leeway_write_realistic(&writing);
    const struct dw_job *job = job_read(writing.json, kitchen->arena, kitchen->faults);
    assert_non_null(job);
    assert_int_equal(dw_run_jobs(dw_arena_copy(kitchen->arena, &job, 1, sizeof(const struct dw_job *)), 1, DW_STAGE_PARTS, &kitchen->layout, NULL, kitchen->arena, kitchen->faults, run), DW_DONE);
    kitchen->options = (struct dw_leeway_options){.habits = true};
    kitchen->search = (struct dwi_search){.jobs = run->jobs, .job_count = 1, .options = &kitchen->options, .layout = &kitchen->layout,
                                          .arena = kitchen->arena, .heard = kitchen->faults};
    kitchen->search.knobs = dwi_knobs_find(run->sizings, 1, &kitchen->options, kitchen->arena);
    for (size_t k = 0; k < kitchen->search.knobs.count; k++) /* half of the way down: all of these can be */
        if (kitchen->search.knobs.at[k].kind == DWI_BOX_HEIGHT)
            kitchen->search.knobs.at[k].value_count = (kitchen->search.knobs.at[k].value_count + 1) / 2;
    assert_true(dwi_choices_find(&kitchen->search, kitchen->arena, &kitchen->choices));
    assert_true(kitchen->choices.whole);
}

/* Values drawn at random, each bank's steps adding up to nothing. */
static void draw_values(struct kitchen *kitchen, size_t *values)
{
    const struct dwi_choices *choices = &kitchen->choices;
    int64_t sum = 0;
    for (size_t c = 0; c < choices->count; c++) {
        const struct dwi_choice *choice = &choices->at[c];
        const struct dwi_knob *knob = &kitchen->search.knobs.at[choice->knob];
        const bool last = c + 1 == choices->count || choices->at[c + 1].knob != choice->knob;
        const int64_t most = knob->fronts.most;
        if (knob->kind != DWI_FRONTS) {
            values[c] = (size_t)dice_range(&kitchen->dice, 0, (int64_t)choice->value_count - 1);
            continue;
        }
        const int64_t low = -most > -most - sum ? -most : -most - sum;
        const int64_t high = most < most - sum ? most : most - sum;
        const int64_t shift = last ? -sum : dice_range(&kitchen->dice, low, high);
        values[c] = (size_t)(shift + most);
        sum = last ? 0 : sum + shift;
    }
}

/* What the cells of these values want, against what the stages say of the whole job at this setting. */
static void compare_wants(const struct kitchen *kitchen, const struct dwi_trial *trial, const size_t *values)
{
    const struct dwi_choices *choices = &kitchen->choices;
    int64_t *wanted = dw_arena_copy(kitchen->arena, choices->fixed, choices->item_count, sizeof *wanted);
    for (size_t w = 0; w < choices->want_count; w++) {
        const struct dwi_group *group = &choices->groups[choices->wants[w].group];
        const size_t inner = group->inner == DW_NO_INDEX ? 0 : values[group->inner];
        const size_t outer = group->outer == DW_NO_INDEX ? 0 : values[group->outer];
        if (choices->wants[w].cell == inner * group->outer_count + outer)
            wanted[choices->wants[w].item] += choices->wants[w].count;
    }
    for (size_t m = 0; m < trial->problem_count; m++)
        for (size_t p = 0; p < trial->problems[m].request.part_count; p++) {
            const size_t item = dwi_choices_item(choices, m, &trial->problems[m].request.parts[p]);
            assert_true(item != DW_NO_INDEX);
            wanted[item] -= trial->problems[m].request.parts[p].count;
        }
    for (size_t i = 0; i < choices->item_count; i++)
        assert_int_equal(wanted[i], 0);
}

static void kitchen_body(void *context)
{
    struct kitchen *kitchen = context;
    find_choices(kitchen);
    size_t *values = dw_arena_alloc(kitchen->arena, kitchen->choices.count, sizeof *values);
    struct dwi_knobs *knobs = &kitchen->search.knobs;
    for (int i = 0; i < 10; i++) {
        draw_values(kitchen, values);
        for (size_t k = 0; k < knobs->count; k++)
            knobs->at[k].at = dwi_is_chosen(&kitchen->search, &knobs->at[k]) ? 0 : knobs->at[k].value_count - 1;
        dwi_choices_take(&kitchen->choices, values, knobs);
        struct dwi_trial trial = dwi_try(&kitchen->search);
        assert_true(trial.possible);
        compare_wants(kitchen, &trial, values);
        dwi_trial_drop(&trial);
    }
}

static void test_wants_hang_on_own_choices(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 3; seed++) {
        struct kitchen kitchen = {.dice = {seed}, .arena = dw_arena_new(), .faults = dw_faults_new(),
                                  .layout = {.patience = DW_SHORT, .no_choices = true}};
        assert_true(dw_arena_guard(kitchen.arena, kitchen_body, &kitchen));
        dw_faults_free(kitchen.faults);
        dw_arena_free(kitchen.arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_worth_of_a_sheet),
        cmocka_unit_test(test_lowest_mix),
        cmocka_unit_test(test_wants_hang_on_own_choices),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
