/* test_posting.c - what entering a plan does to the rack. Figures by hand: an offcut is worth its share, by area, of what its sheet was worth. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <drawerwright/memory.h>
#include <drawerwright/run.h>

enum { INCH = 406400 };

/* A bought sheet 96 x 48 at 68.00 gives back 24 x 48; an owned piece R3 of 30 x 20, worth 5.00, gives back 10 x 20 with its grain across.
 * One more sheet was bought than is cut: it goes to the rack whole. */
static const struct dw_plan_node bought_pieces[] = {
    {.length = 72L * INCH, .width = 48L * INCH, .use = DW_NODE_PART, .mark = "P1"},
    {.x = 72L * INCH, .length = 24L * INCH, .width = 48L * INCH, .use = DW_NODE_KEEP, .part = DW_NO_INDEX, .mark = "S1-off1"},
};
static const struct dw_plan_node owned_pieces[] = {
    {.length = 20L * INCH, .width = 20L * INCH, .use = DW_NODE_PART, .mark = "P2"},
    {.x = 20L * INCH, .length = 10L * INCH, .width = 20L * INCH, .use = DW_NODE_KEEP, .part = DW_NO_INDEX, .mark = "S2-off1"},
};
static const struct dw_plan_source sources[] = {
    {.sheet = "full", .rack_id = "", .length = 96L * INCH, .width = 48L * INCH, .price = 6800, .value = 6800, .worth = 6800, .spare = 1},
    {.sheet = "R3", .rack_id = "R3", .owned = true, .length = 30L * INCH, .width = 20L * INCH, .value = 500, .worth = 500, .grain_across = true},
};
static const struct dw_plan_sheet sheets[] = {
    {.source = 0, .name = "S1", .root = {.length = 96L * INCH, .width = 48L * INCH, .use = DW_NODE_CUT, .pieces = bought_pieces, .piece_count = 2}},
    {.source = 1, .name = "S2", .root = {.length = 30L * INCH, .width = 20L * INCH, .use = DW_NODE_CUT, .pieces = owned_pieces, .piece_count = 2}},
};
static const struct dw_plan_material material = {.material = "ply", .sources = sources, .source_count = 2, .sheets = sheets, .sheet_count = 2};
static const char *const jobs[] = {"chest", "bench"};
static const struct dw_plan plan = {.plan_id = "K4T9", .jobs = jobs, .job_count = 2, .materials = &material, .material_count = 1};

static void test_uses_and_gives_back(void **state)
{
    (void)state;
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    struct dw_posting posting;
    assert_int_equal(dw_run_posting(&plan, arena, faults, &posting), DW_DONE);
    assert_string_equal(posting.plan, "K4T9");
    assert_string_equal(posting.jobs, "chest, bench");
    assert_int_equal(posting.used_count, 1);
    assert_string_equal(posting.used[0], "R3");
    assert_int_equal(posting.kept_count, 3);
    assert_int_equal(posting.kept[2].length, 96L * INCH);
    assert_int_equal(posting.kept[2].value, 6800);
    assert_string_equal(posting.kept[2].origin, "plan K4T9, spare sheet full");
    assert_string_equal(posting.kept[0].material, "ply");
    assert_string_equal(posting.kept[0].origin, "plan K4T9, S1-off1 of full");
    assert_int_equal(posting.kept[0].length, 24L * INCH);
    assert_int_equal(posting.kept[0].width, 48L * INCH);
    assert_int_equal(posting.kept[0].value, 1700); /* 68.00 / 4 */
    assert_false(posting.kept[0].grain_across);
    assert_int_equal(posting.kept[1].value, 167); /* 5.00 / 3, half up */
    assert_true(posting.kept[1].grain_across);
    dw_faults_free(faults);
    dw_arena_free(arena);
}

static void test_memory_that_runs_out(void **state)
{
    (void)state;
    enum dw_status status = DW_SURROUNDINGS;
    int failed = 0;
    for (size_t fail = 1; status != DW_DONE && fail < 100; fail++) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        struct dw_posting posting;
        dw_memory_fail_at(fail);
        status = dw_run_posting(&plan, arena, faults, &posting);
        dw_memory_fail_at(0);
        failed += status == DW_SURROUNDINGS ? 1 : 0;
        dw_faults_free(faults);
        dw_arena_free(arena);
    }
    assert_true(failed > 0);
    assert_int_equal(status, DW_DONE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_uses_and_gives_back), cmocka_unit_test(test_memory_that_runs_out)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
