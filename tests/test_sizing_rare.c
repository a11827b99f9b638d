/* test_sizing_rare.c - rules of sizing that a usual job does not come to: cases of which little is measured, loads that are told, heights that are bounded.
 * Arithmetic by hand, beside each check; where a figure rests on more, its source stands there. */
#include "sizing_bench.h"

/* The depth of the case is not known: the slide is the one that is told, or the longest that goes with the box that is told. By hand: of the lengths
 * 10, 12 .. 24 the longest that a box of 17 takes is 16. */
static void test_depth_that_nobody_measured(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "10", "20");
    bench->cases[0].opening_depth = (struct dw_readings){.count = 0};
    bench_fill(bench, 2, DW_INSET);
    bench->drawers[0].box.slide_length = in("18");
    bench->drawers[1].box.depth = in("17");
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->slide_length.value, "18");
    EXPECT_IN(bench_at(bench, 0)->box_depth.value, "18");
    EXPECT_IN(bench_at(bench, 1)->slide_length.value, "16");
    EXPECT_IN(bench_at(bench, 1)->box_depth.value, "17");
    bench_free(bench);
}

/* A front of 4 in an opening of 4 1/4 has a box of 2 3/4 by the habit of 1 1/4 less; one that must be 3 at least is 3. */
static void test_a_box_of_at_least(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "4 1/4", "20");
    bench_fill(bench, 1, DW_INSET);
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->box_height.value, "2 3/4");
    bench->drawers[0].box.height_least = in("3");
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->box_height.value, "3");
    bench_free(bench);
}

/* Banks of 20 and 18 and a partition of 3/4 make an opening of 38 3/4 by themselves, in a case of 40 1/4 with sides of 3/4. */
static void test_banks_make_the_opening(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "1", "10", "20");
    bench->cases[0].opening_width = (struct dw_readings){.count = 0};
    bench_fill(bench, 2, DW_INSET);
    bench->cases[0].bank_count = 2;
    bench->banks[1].drawer_count = 1;
    bench->banks[0].width = bench_readings(bench, "20", NULL);
    bench->banks[1].width = bench_readings(bench, "18", NULL);
    bench_size(bench);
    EXPECT_IN(bench->sizing->cases[0].opening.width, "38 3/4");
    EXPECT_IN(bench->sizing->cases[0].width, "40 1/4");
    EXPECT_IN(bench_bank(bench, 1)->opening.x, "21 1/2"); /* 3/4, 20, 3/4 */
    bench_free(bench);
}

/* Two banks that share beside one of 10.0000625 mm, which is an odd number of sixteenths of a micrometer: the second of the two takes the odd one. */
static void test_an_odd_sixteenth_of_a_micrometer(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "40", "10", "20");
    bench->cases[0].bank_count = 3;
    bench->banks[2].width = bench_readings(bench, "10.0000625 mm", NULL);
    bench_size(bench);
    const dw_length first = bench_bank(bench, 0)->opening_width.value, second = bench_bank(bench, 1)->opening_width.value;
    assert_int_equal(second, first + 1);
    assert_int_equal(first + second + 160001 + 2 * in("3/4"), 40 * DW_INCH);
    bench_free(bench);
}

/* Banks that were measured in several places and are 1/4 narrower than the opening with their partition: said, not refused. */
static void test_measured_banks_may_leave_a_little(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "40", "10", "20");
    bench_fill(bench, 1, DW_INSET);
    bench->cases[0].bank_count = 2;
    bench->banks[1].drawer_count = 1;
    bench->banks[0].width = bench_readings(bench, "20 1/16", "20", NULL);
    bench->banks[1].width = bench_readings(bench, "19", NULL);
    bench_size(bench);
    assert_non_null(bench_fault(bench, "banks-under"));
    assert_non_null(strstr(bench_fault(bench, "banks-under")->wrong, "1/4 in narrower"));
    bench_free(bench);
}

/* A slab that is its own box front, inset: the box is as high as the front, so 4 inside over a groove of 1/4 and a bottom of 1/4 make a front of 4 1/2. */
static void test_inside_of_a_slab(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "12", "20");
    bench_fill(bench, 2, DW_INSET);
    bench->drawers[0].front.kind = DW_FRONT_IS_BOX_FRONT;
    bench->drawers[0].height = (struct dw_height){.rule = DW_HEIGHT_INSIDE, .length = in("4")};
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->front_height.value, "4 1/2");
    EXPECT_IN(bench_at(bench, 0)->box_height.value, "4 1/2");
    EXPECT_IN(bench_at(bench, 0)->inside_height.value, "4");
    bench_free(bench);
}

/* A slab in a stack that cannot be has no size yet: only the stack is told. */
static void test_a_slab_in_a_stack_that_cannot_be(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "12", "20");
    bench_fill(bench, 2, DW_INSET);
    for (size_t i = 0; i < 2; i++) {
        bench->drawers[i].front.kind = DW_FRONT_IS_BOX_FRONT;
        bench_fix(bench, i, "9");
    }
    bench_refuse(bench, DW_IMPOSSIBLE);
    assert_int_equal(bench->faults->count, 1);
    assert_non_null(bench_fault(bench, "stack-over"));
    bench_free(bench);
}

/* A front of 6 above three that grow: 24 less five gaps of 1/8 and 6 leaves 17 3/8. By steps of 1: (17 3/8 - 3) / 3 = 4 19/24, down to 4 3/4, and
 * 1 more each. By a ratio of 3/2: weights 4, 6, 9 of 19: 3.658, 5.487, 8.230, down to 3 5/8, 5 7/16, 8 3/16. */
static void test_graduated_below_a_fixed_front(void **state)
{
    (void)state;
    static const struct {
        enum dw_graduation graduation;
        const char *heights[3];
    } rows[] = {{DW_GRADUATED_STEP, {"4 3/4", "5 3/4", "6 3/4"}}, {DW_GRADUATED_RATIO, {"3 5/8", "5 7/16", "8 3/16"}}};
    for (size_t r = 0; r < 2; r++) {
        struct bench *bench = bench_new(DW_IN);
        bench_opening(bench, "20", "24", "20");
        bench_fill(bench, 4, DW_INSET);
        bench_fix(bench, 0, "6");
        for (size_t i = 1; i < 4; i++)
            bench->drawers[i].height.rule = DW_HEIGHT_GRADUATED;
        bench->banks[0].graduation = rows[r].graduation;
        bench->banks[0].graduation_step = in("1");
        bench->banks[0].graduation_ratio = 1500000;
        bench_size(bench);
        EXPECT_IN(bench_at(bench, 0)->front_height.value, "6");
        for (size_t i = 0; i < 3; i++)
            EXPECT_IN(bench_at(bench, i + 1)->front_height.value, rows[r].heights[i]);
        bench_free(bench);
    }
}

/* Fronts that were all typed leave 1/16; in a shop whose gaps may not grow there is nobody else to take it, so the four gaps do. */
static void test_gaps_take_what_nobody_else_can(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench->job.shop.habits.gap_grow = 0;
    bench_fill(bench, 3, DW_INSET);
    for (size_t i = 0; i < 3; i++)
        bench_fix(bench, i, "7 13/16");
    bench_size(bench);
    EXPECT_IN(bench_bank(bench, 0)->gap.value, "9/64");
    bench_free(bench);
}

/* An opening that is 1/8 higher at one side than at the other, where 1/16 is worth a word; the least height counts. */
static void test_an_opening_out_of_true(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "10", "20");
    bench->cases[0].opening_height = bench_readings(bench, "10 1/8", "10", NULL);
    bench_fill(bench, 1, DW_INSET);
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->front_height.value, "9 3/4");
    assert_non_null(bench_fault(bench, "height-uneven"));
    assert_non_null(strstr(bench_fault(bench, "height-uneven")->wrong, "1/8 in higher"));
    bench_free(bench);
}

static void test_a_bank_without_drawers(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "10", "20");
    bench_size(bench);
    EXPECT_IN(bench_bank(bench, 0)->gap.value, "1/8");
    EXPECT_IN(bench_bank(bench, 0)->opening.width, "20");
    bench_free(bench);
}

/* ---- loads ---------------------------------------------------------------------------------------------------------- */

/* A bottom of 24 x 18, which is 3 square feet. Small deflections of a plate grow with the load (Timoshenko and Woinowsky-Krieger, Theory of Plates and
 * Shells, art. 30): 90 lb sag twice as much as the 15 lb/ft2, so 45 lb, of KCMA A161.1. A lighter load than that of the habit changes nothing. */
static void test_loads_that_are_told(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "26", "8", "20");
    bench_fill(bench, 1, DW_OVERLAY);
    bench_overlay(bench, 0, "1/2", "1/2", "1/2", "1/2");
    bench->drawers[0].box.depth = in("19");
    bench->materials[BENCH_PLY_1_4].stiffness = 6894757293;
    bench_size(bench);
    const dw_length by_habit = bench_at(bench, 0)->sag;
    assert_in_range(bench_at(bench, 0)->load, 44 * 453592, 46 * 453592);
    bench->drawers[0].load = 90 * (dw_mass)453592;
    bench_size(bench);
    assert_int_equal(bench_at(bench, 0)->load, 90 * (dw_mass)453592);
    assert_in_range(bench_at(bench, 0)->sag, 2 * by_habit - by_habit / 200, 2 * by_habit + by_habit / 200);
    bench->drawers[0].load = 5 * (dw_mass)453592;
    bench_size(bench);
    assert_int_equal(bench_at(bench, 0)->sag, by_habit);
    bench_free(bench);
}

/* Stuff as soft as rubber holds nothing up at any thickness that goes in: ribs, or less to carry. */
static void test_no_thickness_would_do(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "26", "8", "20");
    bench_fill(bench, 1, DW_INSET);
    bench->materials[BENCH_PLY_1_4].stiffness = 1000;
    bench_size(bench);
    assert_non_null(bench_fault(bench, "bottom-sags"));
    assert_string_equal(bench_fault(bench, "bottom-sags")->cure, "set ribs under it, or put less in");
    bench_free(bench);
}

/* ---- figuring ------------------------------------------------------------------------------------------------------- */

/* Steps that say nothing, begin again in the middle, round to no step, or are of no known kind give no figure. */
static void test_ill_formed_figuring_gives_none(void **state)
{
    (void)state;
    const struct dw_step start = {.words = "start", .operation = DW_START, .amount = DW_INCH};
    const struct dw_step wrong[] = {{.operation = DW_START}, {.operation = DW_DOWN_TO}, {.operation = DW_UP_TO}, {.operation = (enum dw_operation)99}};
    const struct dw_figure none = {.step_count = 0};
    assert_true(dw_figure_again(&none) == DW_LENGTH_UNSET);
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        const struct dw_step steps[] = {start, wrong[i]};
        const struct dw_figure figure = {.steps = steps, .step_count = 2};
        assert_true(dw_figure_again(&figure) == DW_LENGTH_UNSET);
        const struct dw_figure late = {.steps = steps + 1, .step_count = i == 0 ? 0 : 1};
        assert_true(dw_figure_again(&late) == DW_LENGTH_UNSET);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_depth_that_nobody_measured),
        cmocka_unit_test(test_a_box_of_at_least),
        cmocka_unit_test(test_banks_make_the_opening),
        cmocka_unit_test(test_an_odd_sixteenth_of_a_micrometer),
        cmocka_unit_test(test_measured_banks_may_leave_a_little),
        cmocka_unit_test(test_inside_of_a_slab),
        cmocka_unit_test(test_a_slab_in_a_stack_that_cannot_be),
        cmocka_unit_test(test_graduated_below_a_fixed_front),
        cmocka_unit_test(test_gaps_take_what_nobody_else_can),
        cmocka_unit_test(test_an_opening_out_of_true),
        cmocka_unit_test(test_a_bank_without_drawers),
        cmocka_unit_test(test_loads_that_are_told),
        cmocka_unit_test(test_no_thickness_would_do),
        cmocka_unit_test(test_ill_formed_figuring_gives_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
