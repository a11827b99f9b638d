/* test_batches.c - sheets that measure otherwise than their material: which parts a batch gets, how they are sized, what stays with it when the work goes on.
 * All figures by hand: a box 14 in wide outside (15 in less two clearances of 1/2), butt joints, sides 16 x 4; between sides of 31/64 the front is
 * 14 - 31/32 = 13 1/32, between sides of 1/2 it is 13. Strips of 4 in, kerf 1/8: a box takes 2 x 16 + 2 x 13 1/32 + 3/8 = 58 7/16 of one, and the
 * sides of a second box with their two kerfs 32 1/4 more. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <sqlite3.h>

#include "progress_bench.h"

#define SHOP(strips, batches) \
    "\"shop\": {\"habits\": {\"trim\": 0, \"keep_length\": 6, \"keep_width\": 4}, \"materials\": [{\"id\": \"ply\", \"name\": \"1/2 plywood\", \"thickness\": \"1/2\", \"sheets\": [" strips "]" batches \
    "}, {\"id\": \"rest\", \"kind\": \"MDF\", \"thickness\": \"1/4\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"20.00\"}]}]," \
    " \"slides\": [{\"id\": \"side\", \"lengths\": [16]}]}"

#define STRIP(length) "{\"id\": \"strip\", \"length\": " length ", \"width\": 4, \"price\": \"10.00\"}"

#define BOXES(more) \
    "\"cases\": [{\"name\": \"Case\", \"opening\": {\"width\": 15, \"height\": 14, \"depth\": 18}, \"fit\": \"inset\", \"front\": {\"material\": \"rest\"}," \
    " \"box\": {\"sides\": \"ply\", \"bottom\": \"rest\", \"joint\": \"butt\", \"height\": 4" more "}, \"banks\": [{\"drawers\": [{}, {}]}]}]"

#define JOB(shop, rest) "{\"format\": 1, \"name\": \"Batches\", \"units\": \"in\", " shop ", " rest "}"

static const char batch_a[] = "ply, batch A";

static const struct dw_plan_part *part_with(const struct dw_plan *plan, const char *mark)
{
    for (size_t p = 0; p < plan->part_count; p++)
        for (size_t i = 0; i < plan->parts[p].count; i++)
            if (strcmp(plan->parts[p].pieces[i], mark) == 0)
                return &plan->parts[p];
    return NULL;
}

static void expect(const struct dw_plan *plan, const char *mark, const char *material, const char *thickness, const char *length)
{
    const struct dw_plan_part *part = part_with(plan, mark);
    dw_length thick = 0;
    dw_length long_ = 0;
    assert_non_null(part);
    assert_string_equal(part->material, material);
    assert_true(dw_length_parse(thickness, DW_IN, &thick, NULL) && dw_length_parse(length, DW_IN, &long_, NULL));
    assert_int_equal(part->thickness, thick);
    assert_int_equal(part->length, long_);
}

static const struct dw_plan *plan_of(struct bench *bench, const char *json)
{
    const struct dw_plan *plan = bench_plan(bench, bench_job(bench, json, NULL), NULL, NULL);
    if (plan == NULL)
        print_faults(bench->faults);
    assert_non_null(plan);
    return plan;
}

/* Two boxes and 95 in of batch A: the first box, and the sides of the second. */
static void test_parts_fill_batches_in_order(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan =
        plan_of(bench, JOB(SHOP(STRIP("95"), ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1}]"), BOXES("")));
    expect(plan, "A-1.1L", batch_a, "31/64", "16");
    expect(plan, "A-1.1BF", batch_a, "31/64", "13 1/32");
    expect(plan, "A-1.1BK", batch_a, "31/64", "13 1/32");
    expect(plan, "A-1.2R", batch_a, "31/64", "16");
    expect(plan, "A-1.2BF", "ply", "1/2", "13 1/32"); /* between those sides, whatever its own thickness */
    expect(plan, "A-1.2BK", "ply", "1/2", "13 1/32");
}

/* The same sheet; asked to keep a box together, the second one is all of the other sheets. */
static void test_a_box_of_one_batch(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan = plan_of(
        bench, JOB(SHOP(STRIP("95"), ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1}]"), BOXES(", \"one_batch\": true")));
    expect(plan, "A-1.1L", batch_a, "31/64", "16");
    expect(plan, "A-1.1BF", batch_a, "31/64", "13 1/32");
    expect(plan, "A-1.2L", "ply", "1/2", "16");
    expect(plan, "A-1.2BF", "ply", "1/2", "13");
}

/* Two batches of one strip of 60 in each hold a box each; two strips of the first hold both. */
static void test_the_next_batch_takes_over(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan = plan_of(bench, JOB(SHOP(STRIP("60"), ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1},"
                                                                      " {\"id\": \"B\", \"thickness\": \"15/32\", \"count\": 1, \"sheet\": \"strip\"}]"),
                                                    BOXES(", \"one_batch\": true")));
    expect(plan, "A-1.1BF", batch_a, "31/64", "13 1/32");
    expect(plan, "A-1.2BF", "ply, batch B", "15/32", "13 1/16");
    plan = plan_of(bench, JOB(SHOP(STRIP("60"), ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 2}]"), BOXES(", \"one_batch\": true")));
    expect(plan, "A-1.2BF", batch_a, "31/64", "13 1/32");
}

/* Four parts of 20 x 4: two go into a strip of 41 in, one into a strip of 20 in. Were all alike two long strips would do, 20.00; batch A, one short strip, takes
 * the first part, and the three others a long and a short one: 28.00. */
static void test_what_it_costs(void **state)
{
    struct bench *bench = *state;
    static const char parts[] = "\"parts\": [{\"name\": \"a\", \"material\": \"ply\", \"length\": 20, \"width\": 4}, {\"name\": \"b\", \"material\": \"ply\", \"length\": 20, \"width\": 4},"
                                " {\"name\": \"c\", \"material\": \"ply\", \"length\": 20, \"width\": 4}, {\"name\": \"d\", \"material\": \"ply\", \"length\": 20, \"width\": 4}]";
    char json[2048];
    (void)snprintf(json, sizeof json, "{\"format\": 1, \"units\": \"in\", %s, %s}",
                   SHOP("{\"id\": \"long\", \"length\": 41, \"width\": 4, \"price\": \"10.00\"}, {\"id\": \"short\", \"length\": 20, \"width\": 4, \"price\": \"9.00\"}",
                        ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1, \"sheet\": \"short\"}]"),
                   parts);
    const struct dw_plan *plan = plan_of(bench, json);
    expect(plan, "X1.1", batch_a, "31/64", "20");
    expect(plan, "X2.1", "ply", "1/2", "20");
    assert_int_equal(bench->run.purchase->sheets_cost, 2800);
    assert_true(bench_has_code(bench, "batches-cost"));
    assert_non_null(strstr(bench->faults->at[bench->faults->count - 1].wrong, "8.00"));
}

/* The strip of a batch that a plan has taken is gone: a side that is spoiled then comes of other sheets, and the box is told of. What is not spoiled stays. */
static void test_a_batch_is_used_up(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(
        bench, JOB(SHOP(STRIP("60"), ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1}]"), BOXES(", \"one_batch\": true")), NULL);
    const struct dw_plan *plan = bench_plan(bench, job, NULL, NULL);
    assert_non_null(plan);
    assert_int_equal(bench_enter(bench, plan), DW_DONE);
    bench_cut_all(bench, plan->plan_id);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, "A-1.1L", 0), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, job, NULL, plan->plan_id);
    assert_non_null(again);
    assert_int_equal(again->part_count, 1);
    expect(again, "A-1.1L", "ply", "1/2", "16");
    assert_true(bench_has_code(bench, "batch-mixed"));
    assert_int_equal(bench_enter(bench, again), DW_DONE);
}

/* What a plan gave to a batch stays there when something is put before it in the job. */
static void test_a_batch_keeps_what_it_was_given(void **state)
{
    struct bench *bench = *state;
#define LISTED(first) JOB(SHOP(STRIP("41"), ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1}]"), "\"parts\": [{\"name\": \"a\", \"material\": \"" first \
                          "\", \"length\": 20, \"width\": 4, \"count\": 2}, {\"name\": \"b\", \"material\": \"ply\", \"length\": 20, \"width\": 4, \"count\": 2}]")
    const struct dw_plan *plan = bench_plan(bench, bench_job(bench, LISTED("rest"), NULL), NULL, NULL);
    assert_non_null(plan);
    expect(plan, "X2.1", batch_a, "31/64", "20");
    assert_int_equal(bench_enter(bench, plan), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, bench_job(bench, LISTED("ply"), NULL), NULL, plan->plan_id);
    assert_non_null(again);
    expect(again, "X2.1", batch_a, "31/64", "20");
    expect(again, "X1.1", "ply", "1/2", "20");
    const struct dw_plan *anew = bench_plan(bench, bench_job(bench, LISTED("ply"), NULL), NULL, NULL);
    expect(anew, "X1.1", batch_a, "31/64", "20");
    expect(anew, "X2.1", "ply", "1/2", "20");
#undef LISTED
}

/* A piece that comes off a sheet. */
static const char *piece_off(const struct dw_work_plan *plan, const char *sheet)
{
    for (size_t i = 0; i < plan->panel_count; i++)
        if (plan->panels[i].use == DW_PANEL_PIECE && strcmp(plan->panels[i].sheet, sheet) == 0)
            return plan->panels[i].name;
    return "";
}

/* A sheet of the plan is calipered: 15/32. All that is left of it is a batch, and so is the side that was cut from it before; nothing is bought, and the
 * front of that box goes from 13 to 13 1/16. The offcut that is posted at last is one of the material. */
static void test_a_sheet_is_measured(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, JOB(SHOP(STRIP("95"), ""), BOXES(", \"one_batch\": true")), NULL);
    const struct dw_plan *plan = bench_plan(bench, job, NULL, NULL);
    const struct dw_mark measured = {.kind = DW_MARK_MEASURED, .target = "S1", .depth = 15 * DW_INCH / 32};
    struct dw_posting posting;
    assert_non_null(plan);
    assert_int_equal(bench_enter(bench, plan), DW_DONE);
    const char *cut = piece_off(&bench_progress(bench, plan->plan_id)->plan, "S1");
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, cut, 0), DW_DONE);
    assert_int_equal(dw_progress_mark(bench->rack, plan->plan_id, &measured, bench->faults), DW_DONE);
    const struct dw_progress *progress = bench_progress(bench, plan->plan_id);
    assert_int_equal(progress->cut[0].measured, 15 * DW_INCH / 32);
    for (size_t i = 0; i < progress->left_count; i++)
        assert_int_equal(progress->left[i].thickness, strcmp(progress->left[i].panel.sheet, "S1") == 0 ? 15 * DW_INCH / 32 : DW_LENGTH_UNSET);
    const struct dw_plan *again = bench_plan(bench, job, NULL, plan->plan_id);
    assert_non_null(again);
    assert_int_equal(again->total, 0);
    char front[32];
    (void)snprintf(front, sizeof front, "%.*sBF", (int)strcspn(cut, "LRB"), cut);
    const char *other = strncmp(front, "A-1.1", 5) == 0 ? "A-1.2BF" : "A-1.1BF";
    if (strcmp(cut, front) != 0)
        expect(again, front, "ply, batch measured 15/32 in", "15/32", "13 1/16");
    expect(again, other, "ply", "1/2", "13");
    assert_false(bench_has_code(bench, "batch-mixed"));
    assert_int_equal(bench_enter(bench, again), DW_DONE);
    bench_cut_all(bench, again->plan_id);
    assert_int_equal(dw_run_posting_all(again, bench_progress(bench, again->plan_id), bench->arena, bench->faults, &posting), DW_DONE);
    assert_true(posting.kept_count > 0);
    for (size_t i = 0; i < posting.kept_count; i++)
        assert_null(strstr(posting.kept[i].material, "batch"));
    const struct dw_mark none = {.kind = DW_MARK_MEASURED, .target = "S1", .depth = 0};
    assert_int_equal(dw_progress_mark(bench->rack, again->plan_id, &none, bench->faults), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "no-thickness");
}

/* Offers of a limited number are counted over the plans that follow one another: of two strips in all, one is left for the second plan. */
static void test_what_is_offered_is_not_taken_twice(void **state)
{
    struct bench *bench = *state;
    static const char shop[] = "{\"format\": 1, \"units\": \"in\", \"shop\": {\"habits\": {\"trim\": 0}, \"materials\": [{\"id\": \"ply\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"s\","
                               " \"length\": 20, \"width\": 4, \"price\": \"10.00\", \"count\": 2}]}]}, \"parts\": [{\"name\": \"a\", \"material\": \"ply\", \"length\": 20,"
                               " \"width\": 4}]}";
    const struct dw_job *job = bench_job(bench, shop, NULL);
    const struct dw_plan *plan = NULL;
    const char *follows = NULL;
    for (int round = 0; round < 3; round++) {
        plan = bench_plan(bench, job, NULL, follows);
        assert_int_equal(plan != NULL, round < 2);
        if (plan == NULL)
            break;
        assert_int_equal(bench_enter(bench, plan), DW_DONE);
        assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, "X1.1", 0), DW_DONE);
        follows = plan->plan_id;
    }
    assert_string_equal(bench_code(bench), "no-sheets");
}

/* ---- refusals and the ledger ------------------------------------------------------------------------------ */

static void test_refused(void **state)
{
    struct bench *bench = *state;
    static const struct {
        const char *json, *code;
    } rows[] = {
        {JOB(SHOP(STRIP("95"), ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1, \"sheet\": \"none\"}]"), BOXES("")), "unknown-sheet"},
        {JOB(SHOP(STRIP("95"), ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1}, {\"id\": \"A\", \"thickness\": \"1/2\", \"count\": 1}]"), BOXES("")),
         "used-twice"},
        {"{\"shop\": {\"materials\": [{\"id\": \"oak, batch 2\", \"thickness\": \"1/2\"}]}, \"parts\": [{\"name\": \"a\", \"material\": \"oak, batch 2\","
         " \"length\": 20, \"width\": 4}]}", "reserved"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_null(bench_plan(bench, bench_job(bench, rows[i].json, NULL), NULL, NULL));
        assert_string_equal(bench_code(bench), rows[i].code);
    }
}

/* A ledger of version 2: no goods, and no mark of the kind that came with version 3. Its marks are there still, and what was taken back. */
static void test_a_ledger_of_version_2(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan = plan_of(bench, JOB(SHOP(STRIP("95"), ""), BOXES("")));
    const struct dw_mark measured = {.kind = DW_MARK_MEASURED, .target = "S1", .depth = DW_INCH / 2};
    sqlite3 *database = NULL;
    assert_int_equal(bench_enter(bench, plan), DW_DONE);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, "A-1.1L", 0), DW_DONE);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, "A-1.1R", 0), DW_DONE);
    assert_int_equal(dw_progress_undo(bench->rack, plan->plan_id, bench->arena, bench->faults, NULL), DW_DONE);
    dw_rack_close(bench->rack);
    bench->rack = NULL;
    assert_int_equal(sqlite3_open(bench->path, &database), SQLITE_OK);
    assert_int_equal(sqlite3_exec(database, "DROP TABLE work_goods; PRAGMA user_version = 2", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(database), SQLITE_OK);
    assert_int_equal(dw_rack_open(bench->path, bench->faults, &bench->rack), DW_DONE);
    const struct dw_progress *progress = bench_progress(bench, plan->plan_id);
    assert_int_equal(progress->history_count, 3);
    assert_true(progress->history[2].taken_back);
    assert_int_equal(progress->plan.goods_count, 0);
    assert_int_equal(dw_progress_mark(bench->rack, plan->plan_id, &measured, bench->faults), DW_DONE);
    assert_int_equal(dw_progress_undo(bench->rack, plan->plan_id, bench->arena, bench->faults, NULL), DW_DONE);
    assert_int_equal(bench_progress(bench, plan->plan_id)->history_count, 4);
}

static void test_failing_memory(void **state)
{
    struct bench *bench = *state;
    const struct dw_layout_options options = {.patience = DW_SHORT, .no_choices = true, .threads = 1, .work = 20000};
    const struct dw_job *job = bench_job(
        bench, JOB(SHOP(STRIP("60"), ", \"batches\": [{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1}]"), BOXES(", \"one_batch\": true")), NULL);
    bool whole = false;
    for (size_t n = 1; !whole; n += 1 + n / 8) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        struct dw_run run;
        (void)dw_memory_fail_at(n);
        const enum dw_status status = dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, &options, NULL, arena, faults, &run);
        (void)dw_memory_fail_at(0);
        whole = status == DW_DONE;
        assert_true(whole || status == DW_SURROUNDINGS);
        dw_faults_free(faults);
        dw_arena_free(arena);
        assert_true(n < 100000);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_parts_fill_batches_in_order, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_box_of_one_batch, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_the_next_batch_takes_over, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_what_it_costs, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_batch_is_used_up, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_batch_keeps_what_it_was_given, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_sheet_is_measured, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_what_is_offered_is_not_taken_twice, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_refused, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_ledger_of_version_2, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_failing_memory, bench_set_up, bench_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
