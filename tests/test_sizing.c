/* test_sizing.c - whole cases sized against published parts lists and the bench's own examples.
 *
 * Beside each stands its source. "Common practice, no source" marks a habit of the trade that no single page vouches for.
 */
#include "sizing_bench.h"

/* Common practice, no source: a 24-1/2 opening, one 3/4 rail under the top drawer, inset, 1/8 gaps, four equal fronts. */
static void test_four_inset_fronts_one_rail(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "15", "24 1/2", "22");
    bench_fill(bench, 4, DW_INSET);
    bench_rail(bench, 0, "3/4");
    bench_size(bench);
    for (size_t i = 0; i < 4; i++) {
        EXPECT_IN(bench_at(bench, i)->front_height.value, "5 3/4");
        EXPECT_IN(bench_at(bench, i)->box_height.value, "4 1/2"); /* 1-1/4 less than the front */
        EXPECT_IN(bench_at(bench, i)->front_width.value, "14 3/4");
        EXPECT_IN(bench_at(bench, i)->box_width.value, "14"); /* 15 opening, 1/2 slides */
    }
    EXPECT_IN(bench_bank(bench, 0)->gap.value, "1/8");
    assert_int_equal(bench_bank(bench, 0)->rail_count, 1);
    EXPECT_IN(bench_bank(bench, 0)->rails[0].at.height, "3/4");
    bench_free(bench);
}

/* Common practice, no source: the same opening undivided, 1 in overlay top and bottom: 26-1/8 to share, 6-17/32 each,
 * rounded down to 6-1/2; the 1/8 left would widen three gaps by more than 1/32 each, so it comes off the ends. */
static void test_four_overlay_fronts(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "15", "24 1/2", "22");
    bench_fill(bench, 4, DW_OVERLAY);
    for (size_t i = 0; i < 4; i++)
        bench_overlay(bench, i, "1", "1", "1/2", "1/2");
    bench_size(bench);
    const struct dw_figure *height = &bench_at(bench, 0)->front_height;
    EXPECT_IN(height->steps[height->step_count - 2].after, "6 17/32");
    for (size_t i = 0; i < 4; i++)
        EXPECT_IN(bench_at(bench, i)->front_height.value, "6 1/2");
    EXPECT_IN(bench_at(bench, 0)->overlay[DW_TOP].value, "15/16");
    EXPECT_IN(bench_at(bench, 3)->overlay[DW_BOTTOM].value, "15/16");
    EXPECT_IN(bench_at(bench, 0)->gap_below, "1/8");
    EXPECT_IN(bench_at(bench, 0)->front_width.value, "16");
    /* The bottom front has 5-9/16 inside: less 1/4 below and 1/2 above, 4-13/16 at most. */
    EXPECT_IN(bench_at(bench, 3)->space.height, "5 9/16");
    EXPECT_IN(bench_at(bench, 3)->box_height.value, "4 3/4");
    bench->slides[BENCH_SIDE].above = in("1"); /* 4-5/16 at most */
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 3)->box_height.value, "4 1/4");
    bench_free(bench);
}

/* Chris Gleason, "A Contemporary Mobile File Cabinet", Popular Woodworking no. 131, Dec 2002: 15-1/2 x 22 outside, 3/4
 * plywood, three false fronts inset with 1/8 gaps, 20 in slides in 21-1/4 of depth behind 1/4 edge trim. */
static void test_mobile_file_cabinet(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    struct dw_case *one = &bench->cases[0];
    one->width = in("15 1/2");
    one->height = in("22");
    one->depth = in("22");
    one->back = in("3/4");
    bench_fill(bench, 3, DW_INSET);
    bench_fix(bench, 0, "4 1/4");
    bench_fix(bench, 1, "4 1/4");
    bench_fix(bench, 2, "11 1/2");
    bench->slides[BENCH_SIDE].below = in("1/8");
    bench->slides[BENCH_SIDE].above = in("1/8");
    bench->drawers[0].box.height = bench->drawers[1].box.height = in("4");
    bench->drawers[2].box.height = in("10");
    bench_size(bench);
    EXPECT_IN(bench_bank(bench, 0)->opening.width, "14");
    EXPECT_IN(bench_bank(bench, 0)->opening.height, "20 1/2");
    const char *const heights[] = {"4", "4", "10"};
    for (size_t i = 0; i < 3; i++) {
        const struct dw_sized_drawer *drawer = bench_at(bench, i);
        EXPECT_IN(drawer->front_width.value, "13 3/4");
        EXPECT_IN(drawer->gap_below, "1/8");
        EXPECT_IN(drawer->slide_length.value, "20");
        EXPECT_IN(drawer->set_back.value, "3/4");
        EXPECT_IN(drawer->box_width.value, "13");
        EXPECT_IN(drawer->box_height.value, heights[i]);
        EXPECT_IN(drawer->box_depth.value, "20");
        EXPECT_IN(drawer->inside_width.value, "12");
        EXPECT_IN(drawer->inside_depth.value, "19");
    }
    assert_int_equal(bench->faults->count, 0);
    bench_free(bench);
}

/* "Multi-drawer shop cabinet", workshopprojects.blogspot.com, 23 Feb 2012: drawers of 2, 3, 4, 4 and 5 in an opening of 20,
 * 1/4 over and under, 3/8 between, 1/2 at each side; slides at the middle of each drawer, from the top 1-1/4, 4-1/8, 8,
 * 12-3/8 and 17-1/4. The drawers are 18-1/2 deep and 23-1/2 wide. */
static void test_five_unequal_drawers(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    struct dw_case *one = &bench->cases[0];
    one->height = in("21 1/2");
    one->opening_width = bench_readings(bench, "24 1/2", NULL);
    one->depth = in("19 1/2");
    bench_fill(bench, 5, DW_INSET);
    bench->banks[0].gap = in("3/8");
    bench->banks[0].gap_ends = in("1/4");
    bench->banks[0].gap_sides = in("1/2");
    const char *const heights[] = {"2", "3", "4", "4", "5"};
    const char *const from_top[] = {"1 1/4", "4 1/8", "8", "12 3/8", "17 1/4"};
    for (size_t i = 0; i < 5; i++) {
        bench_fix(bench, i, heights[i]);
        bench->drawers[i].front.kind = DW_FRONT_IS_BOX_FRONT;
        bench->drawers[i].box.depth = in("18 1/2");
    }
    bench_size(bench);
    EXPECT_IN(bench_bank(bench, 0)->opening.height, "20");
    for (size_t i = 0; i < 5; i++) {
        EXPECT_IN(bench_at(bench, i)->box_height.value, heights[i]);
        EXPECT_IN(bench_at(bench, i)->box_width.value, "23 1/2");
        EXPECT_IN(bench_at(bench, i)->box_depth.value, "18 1/2");
        EXPECT_IN(in("20") - bench_at(bench, i)->slide_center.value, from_top[i]);
    }
    EXPECT_IN(bench_at(bench, 4)->gap_below, "1/4");
    bench_free(bench);
}

/* "Distinctive Tool Cabinet", Popular Woodworking: 31 clear, boxes 30 wide on 1/2 in slides, inset fronts 30-3/4 wide:
 * 1-3/4, 2-7/8 (2), 4-3/4 (3), 7-1/4. Their sum and eight gaps of 1/8 make an opening of 30 (implied, not printed). */
static void test_seven_drawer_tool_cabinet(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "31", "30", "19");
    bench_fill(bench, 7, DW_INSET);
    const char *const fronts[] = {"1 3/4", "2 7/8", "2 7/8", "4 3/4", "4 3/4", "4 3/4", "7 1/4"};
    const char *const boxes[] = {"1", "2", "2", "3", "3", "3", "5"};
    bench->slides[BENCH_SIDE].box_least = in("1");
    for (size_t i = 0; i < 7; i++) {
        bench_fix(bench, i, fronts[i]);
        bench->drawers[i].box.height = in(boxes[i]);
    }
    bench_size(bench);
    for (size_t i = 0; i < 7; i++) {
        EXPECT_IN(bench_at(bench, i)->front_width.value, "30 3/4");
        EXPECT_IN(bench_at(bench, i)->box_width.value, "30");
        EXPECT_IN(bench_at(bench, i)->gap_below, "1/8");
    }
    bench_free(bench);
}

/* Common practice, no source: full overlay takes 1/8 off each outside edge. */
static void test_full_overlay_outside(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench->cases[0].width = in("24");
    bench->cases[0].height = in("30");
    bench->cases[0].depth = in("22");
    bench_fill(bench, 3, DW_FULL_OVERLAY);
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->front_width.value, "23 3/4");
    EXPECT_IN(bench_at(bench, 0)->front.x, "1/8");
    EXPECT_IN(bench_at(bench, 0)->set_back.value, "0");
    EXPECT_IN(bench_at(bench, 0)->box_depth.value, "22");
    /* 29-3/4 less two gaps of 1/8 shared by three: 9-5/6, so 9-13/16; the 1/16 left goes into the two gaps, 1/32 each. */
    EXPECT_IN(bench_at(bench, 1)->front_height.value, "9 13/16");
    EXPECT_IN(bench_at(bench, 1)->gap_below, "5/32");
    bench_free(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_four_inset_fronts_one_rail), cmocka_unit_test(test_four_overlay_fronts),
        cmocka_unit_test(test_mobile_file_cabinet),        cmocka_unit_test(test_five_unequal_drawers),
        cmocka_unit_test(test_seven_drawer_tool_cabinet),  cmocka_unit_test(test_full_overlay_outside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
