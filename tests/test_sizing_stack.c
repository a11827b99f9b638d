/* test_sizing_stack.c - heights of fronts: shares, graduations, the 32 mm system, the inside; rounding; covers and reveals. */
#include "sizing_bench.h"

static void expect_heights(const struct bench *bench, const char *const *wanted, size_t count)
{
    for (size_t i = 0; i < count; i++)
        EXPECT_IN(bench_at(bench, i)->front_height.value, wanted[i]);
}

/* ---- graduations -------------------------------------------------------------------------------------------------- */

static void graduate(struct bench *bench, size_t count, enum dw_graduation graduation)
{
    bench_fill(bench, count, DW_INSET);
    bench->banks[0].graduation = graduation;
    bench->banks[0].gap = 0;
    for (size_t i = 0; i < count; i++)
        bench->drawers[i].height = (struct dw_height){.rule = DW_HEIGHT_GRADUATED};
    bench->slides[BENCH_SIDE].box_least = in("1");
}

/* Christian Becksvoort, Fine Woodworking, and furnituremaking.us "Graduated drawers": 27 in to use after three dividers of
 * 3/4, four drawers, step 1: 5-1/4, 6-1/4, 7-1/4, 8-1/4. */
static void test_equal_step(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "29 1/4", "18");
    graduate(bench, 4, DW_GRADUATED_STEP);
    bench_rails(bench, "3/4");
    bench->banks[0].graduation_step = in("1");
    bench_size(bench);
    expect_heights(bench, (const char *const[]){"5 1/4", "6 1/4", "7 1/4", "8 1/4"}, 4);
    bench_free(bench);
}

/* The same author's rule for an odd count: the middle drawer is the average. Five in 30, step 1/2: 5, 5-1/2, 6, 6-1/2, 7. */
static void test_odd_count_has_average_in_the_middle(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "30", "18");
    graduate(bench, 5, DW_GRADUATED_STEP);
    bench->banks[0].graduation_step = in("1/2");
    bench_size(bench);
    expect_heights(bench, (const char *const[]){"5", "5 1/2", "6", "6 1/2", "7"}, 5);
    bench_free(bench);
}

/* George R. Walker, Popular Woodworking no. 176, June 2009, p. 50: 1 in drawer blades, the bottom drawer 6: 6, 5, 4, 3. */
static void test_divider_rule(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "21", "18");
    graduate(bench, 4, DW_GRADUATED_DIVIDER);
    bench_rails(bench, "1");
    bench_size(bench);
    expect_heights(bench, (const char *const[]){"3", "4", "5", "6"}, 4);
    bench_free(bench);
}

/* The same counted from the bottom drawer, with an open space over it that takes the rest of a taller opening. */
static void test_divider_rule_from_the_bottom(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "31", "18");
    graduate(bench, 5, DW_GRADUATED_DIVIDER);
    bench_rails(bench, "1");
    bench->drawers[0].fill = DW_FILL_OPEN;
    bench->drawers[0].height = (struct dw_height){.rule = DW_HEIGHT_SHARE, .weight = 1};
    bench_fix(bench, 4, "6");
    bench_size(bench);
    expect_heights(bench, (const char *const[]){"9", "3", "4", "5", "6"}, 5);
    assert_int_equal(bench_at(bench, 0)->front_width.step_count, 0);
    assert_int_equal(bench->sizing->drawer_count, 4);
    bench_free(bench);
}

/* Counting from a fixed front both ways, by step and by ratio, over an open space that takes the rest. Arithmetic: 5, 6, 7; and
 * 6 / 1.2 = 5, 6, 6 x 1.2 = 7.2, down to 7-3/16. */
static void test_graduated_about_a_fixed_front(void **state)
{
    (void)state;
    static const char *const wanted[2][3] = {{"5", "6", "7"}, {"5", "6", "7 3/16"}};
    for (size_t by_ratio = 0; by_ratio < 2; by_ratio++) {
        struct bench *bench = bench_new(DW_IN);
        bench_opening(bench, "20", "30", "18");
        graduate(bench, 4, by_ratio == 1 ? DW_GRADUATED_RATIO : DW_GRADUATED_STEP);
        bench->banks[0].graduation_step = in("1");
        bench->banks[0].graduation_ratio = 1200000;
        bench_fix(bench, 1, "6");
        bench->drawers[3].fill = DW_FILL_OPEN;
        bench->drawers[3].height = (struct dw_height){.rule = DW_HEIGHT_SHARE, .weight = 1};
        bench_size(bench);
        expect_heights(bench, wanted[by_ratio], 3);
        EXPECT_IN(bench_at(bench, 3)->front_height.value, by_ratio == 1 ? "11 13/16" : "12");
        bench_free(bench);
    }
}

/* Fine Woodworking, 15 Jan 2020: 5 in at the top and each 1.2 times the one above: 5, 6, 7.2, 8.64 (sum 26.84). In 682 mm,
 * which is 26.85 in, down to the millimeter: 126, 152, 182, 219. */
static void test_ratio(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_MILLIMETER);
    bench_opening(bench, "500 mm", "682 mm", "450 mm");
    graduate(bench, 4, DW_GRADUATED_RATIO);
    bench->banks[0].graduation_ratio = 1200000;
    bench->job.shop.habits.front_step = DW_MM;
    bench_size(bench);
    const double exact[] = {5, 6, 7.2, 8.64};
    for (size_t i = 0; i < 4; i++)
        EXPECT_MM(bench_at(bench, i)->front_height.value, (double)(int)(682 * exact[i] / 26.84));
    bench_free(bench);
}

/* ---- the 32 mm system, the inside, weights -------------------------------------------------------------------------- */

/* Shelving maker's dealer notes on gable heights: kick 96, reveals 11, four drawers of 221, four gaps of 3, doors of 1181:
 * 2195 mm in all; 221 = 7 x 32 - 3 and 1181 = 37 x 32 - 3. With 19 mm top and bottom the fronts lap them by 8. */
static void test_32_mm_stack(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_MILLIMETER);
    struct dw_case *one = &bench->cases[0];
    one->height = mm(2195);
    one->width = mm(600);
    one->depth = mm(560);
    one->kick = mm(96);
    one->side = one->top = one->bottom = mm(19);
    bench_fill(bench, 5, DW_OVERLAY);
    bench->banks[0].gap = mm(3);
    for (size_t i = 0; i < 5; i++) {
        bench_overlay(bench, i, "8 mm", "8 mm", "17 mm", "17 mm");
        bench->drawers[i].height = (struct dw_height){.rule = DW_HEIGHT_SYSTEM_32, .modules = i == 0 ? 37 : 7};
    }
    bench->drawers[0].fill = DW_FILL_DOOR;
    bench_size(bench);
    EXPECT_MM(bench_at(bench, 0)->front_height.value, 1181);
    for (size_t i = 1; i < 5; i++) {
        EXPECT_MM(bench_at(bench, i)->front_height.value, 221);
        EXPECT_MM(bench_at(bench, i - 1)->gap_below, 3);
    }
    EXPECT_MM(bench_at(bench, 4)->front.y, 96 + 11);
    EXPECT_MM(bench->sizing->cases[0].height - bench_at(bench, 0)->front.y - bench_at(bench, 0)->front.height, 11);
    assert_int_equal(bench_at(bench, 0)->box_width.step_count, 0);
    bench_free(bench);
}

/* "At least 9 in clear inside": the front is made so high that the box by its habit gives it, for each way a drawer stands. */
static void test_height_from_the_inside(void **state)
{
    (void)state;
    const enum dw_fit_kind fits[] = {DW_INSET, DW_OVERLAY, DW_FULL_OVERLAY};
    for (size_t f = 0; f < 3; f++) {
        for (size_t place = 0; place < 3; place++) {
            for (int railed = 0; railed < 2; railed++) {
                struct bench *bench = bench_new(DW_IN);
                bench_opening(bench, "20", "40", "18");
                bench_fill(bench, 3, fits[f]);
                for (size_t i = 0; i < 3 && fits[f] == DW_OVERLAY; i++)
                    bench_overlay(bench, i, "3/8", "3/8", "3/8", "3/8");
                if (railed)
                    bench_rails(bench, "1 1/2");
                bench->drawers[place].height = (struct dw_height){.rule = DW_HEIGHT_INSIDE, .length = in("9")};
                bench_size(bench);
                const dw_length inside = bench_at(bench, place)->inside_height.value;
                assert_true(inside >= in("9"));
                assert_true(inside < in("9 1/4")); /* and no step of box heights more */
                bench_free(bench);
            }
        }
    }
}

static void test_weights(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24 1/2", "18"); /* less four gaps: 24 */
    bench_fill(bench, 3, DW_INSET);
    bench->drawers[1].height.weight = 2;
    bench->drawers[2].height.weight = 3;
    bench_size(bench);
    expect_heights(bench, (const char *const[]){"4", "8", "12"}, 3);
    bench_free(bench);
}

/* ---- rounding -------------------------------------------------------------------------------------------------------- */

/* Arithmetic: four inset fronts in 24-1/2, the top one typed 5. 23-7/8 of fronts, 18-7/8 for three: 6-7/24, down to 6-1/4,
 * and 1/8 is freed. Five gaps take it with 1/40 each, under the 1/32 that habit lets them grow. */
static struct bench *five_typed(enum dw_freed freed)
{
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24 1/2", "18");
    bench_fill(bench, 4, DW_INSET);
    bench_fix(bench, 0, "5");
    bench->banks[0].freed = freed;
    bench_size(bench);
    return bench;
}

static void test_freed_to_gaps_by_habit(void **state)
{
    (void)state;
    struct bench *bench = five_typed(DW_FREED_BY_HABIT);
    expect_heights(bench, (const char *const[]){"5", "6 1/4", "6 1/4", "6 1/4"}, 4);
    const dw_length whole = in("24 1/2") - in("23 3/4"); /* five gaps */
    dw_length sum = bench_bank(bench, 0)->opening.y + bench_bank(bench, 0)->opening.height - bench_at(bench, 0)->front.y -
                    bench_at(bench, 0)->front.height;
    for (size_t i = 0; i < 4; i++) {
        sum += bench_at(bench, i)->gap_below;
        assert_true(bench_at(bench, i)->gap_below == whole / 5 || bench_at(bench, i)->gap_below == whole / 5 + 1);
    }
    EXPECT_IN(sum, "3/4");
    bench_free(bench);
}

static void test_freed_to_bottom_front(void **state)
{
    (void)state;
    struct bench *bench = five_typed(DW_FREED_BOTTOM_FRONT);
    expect_heights(bench, (const char *const[]){"5", "6 1/4", "6 1/4", "6 3/8"}, 4);
    for (size_t i = 0; i < 4; i++)
        EXPECT_IN(bench_at(bench, i)->gap_below, "1/8");
    assert_non_null(strstr(bench_bank(bench, 0)->freed, "1/8 in"));
    bench_free(bench);
}

static void test_freed_to_ends_and_to_a_drawer(void **state)
{
    (void)state;
    struct bench *bench = five_typed(DW_FREED_ENDS);
    EXPECT_IN(bench_at(bench, 3)->gap_below, "3/16");
    EXPECT_IN(bench_at(bench, 2)->gap_below, "1/8");
    EXPECT_IN(bench_at(bench, 0)->overlay[DW_TOP].value, "-3/16");
    bench_free(bench);
    bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24 1/2", "18");
    bench_fill(bench, 4, DW_INSET);
    bench_fix(bench, 0, "5");
    bench->banks[0].freed = DW_FREED_DRAWER;
    bench->banks[0].freed_drawer = 1;
    bench_size(bench);
    expect_heights(bench, (const char *const[]){"5", "6 3/8", "6 1/4", "6 1/4"}, 4);
    bench_free(bench);
}

/* With a coarse step the gaps of an inset bank would grow past habit: the bottom front takes it. 24 less 3 gaps of 1/8 is
 * 23-5/8, 11-13/16 for each of two; down to whole inches 11, and 1-5/8 is left. */
static void test_habit_sends_much_to_the_bottom_front(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "18");
    bench_fill(bench, 2, DW_INSET);
    bench->job.shop.habits.front_step = in("1");
    bench_size(bench);
    expect_heights(bench, (const char *const[]){"11", "12 5/8"}, 2);
    bench_free(bench);
}

/* Fronts that only meet the top of the opening have no overlay to give there: 24-1/2 + 1 - 3/8 by four is 6-9/32, down to 6-1/4,
 * and the bottom end gives the whole 1/8. */
static void test_an_end_without_overlay_gives_nothing(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24 1/2", "18");
    bench_fill(bench, 4, DW_OVERLAY);
    for (size_t i = 0; i < 4; i++)
        bench_overlay(bench, i, "0", "1", "1/2", "1/2");
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->front_height.value, "6 1/4");
    EXPECT_IN(bench_at(bench, 0)->overlay[DW_TOP].value, "0");
    EXPECT_IN(bench_at(bench, 3)->overlay[DW_BOTTOM].value, "7/8");
    bench_free(bench);
}

static void test_gap_that_strays_is_warned_of(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "18");
    bench_fill(bench, 2, DW_INSET);
    bench->job.shop.habits.front_step = in("1/2");
    bench->banks[0].freed = DW_FREED_GAPS;
    bench_size(bench); /* 11-1/2 each, 5/8 freed over three gaps */
    assert_non_null(bench_fault(bench, "gap-strays"));
    assert_string_equal(bench_fault(bench, "gap-strays")->address, "cases[0].banks[0]");
    bench_free(bench);
}

/* ---- covers ------------------------------------------------------------------------------------------------------------ */

/* Common practice, no source: two fronts on a shared 3/4 partition with a 1/8 gap overlay 5/16 each; 1/8 shows at an
 * exposed end, 1/4 is left at a wall. */
static void test_partition_is_shared(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    struct dw_case *one = &bench->cases[0];
    one->width = in("36 3/4");
    one->height = in("30");
    one->depth = in("22");
    one->right = DW_BESIDE_WALL;
    one->bank_count = 2;
    bench_fill(bench, 3, DW_FULL_OVERLAY);
    bench->banks[1].drawer_count = 3;
    bench_size(bench);
    const struct dw_sized_drawer *left = &bench_bank(bench, 0)->drawers[0];
    const struct dw_sized_drawer *right = &bench_bank(bench, 1)->drawers[0];
    EXPECT_IN(bench_bank(bench, 0)->opening.width, "17 1/4");
    EXPECT_IN(left->overlay[DW_LEFT].value, "5/8");
    EXPECT_IN(left->overlay[DW_RIGHT].value, "5/16");
    EXPECT_IN(right->overlay[DW_LEFT].value, "5/16");
    EXPECT_IN(right->overlay[DW_RIGHT].value, "1/2");
    EXPECT_IN(right->front.x - left->front.x - left->front.width, "1/8");
    bench_free(bench);
}

/* Common practice, no source: 1/16 on each of two neighboring cases makes the 1/8 between them. */
static void test_neighbors_make_one_gap(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench->cases[0].width = in("24");
    bench->cases[0].height = in("30");
    bench->cases[0].depth = in("22");
    bench->cases[0].left = bench->cases[0].right = DW_BESIDE_NEIGHBOR;
    bench_fill(bench, 2, DW_FULL_OVERLAY);
    bench_size(bench);
    const struct dw_sized_drawer *drawer = bench_at(bench, 0);
    EXPECT_IN(drawer->front.x + in("24") - drawer->front.x - drawer->front.width, "1/8");
    bench_free(bench);
}

/* Half overlay everywhere, full overlay beside an inset bank, and a cover told for one rail. */
static void test_other_covers(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    struct dw_case *one = &bench->cases[0];
    one->width = in("36 3/4");
    one->height = in("31 1/2");
    one->depth = in("22");
    one->bank_count = 2;
    bench_fill(bench, 3, DW_FULL_OVERLAY);
    bench->drawers[0].fit.kind = DW_HALF_OVERLAY;
    bench_rails(bench, "3/4");
    bench->drawers[1].rail_below.cover_above = in("1/2");
    bench->banks[0].freed = DW_FREED_BOTTOM_FRONT; /* leaves the covers as they were wished */
    bench->drawers[3] = bench_drawer(DW_INSET);
    bench->banks[1].drawers = &bench->drawers[3];
    bench->banks[1].drawer_count = 1;
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->overlay[DW_TOP].value, "5/16");
    EXPECT_IN(bench_at(bench, 0)->overlay[DW_RIGHT].value, "5/16");
    EXPECT_IN(bench_at(bench, 1)->overlay[DW_RIGHT].value, "5/8"); /* the inset neighbor covers nothing: to a reveal */
    EXPECT_IN(bench_at(bench, 1)->overlay[DW_BOTTOM].value, "1/2"); /* told */
    EXPECT_IN(bench_at(bench, 2)->overlay[DW_TOP].value, "1/8");    /* 3/4 less the gap and the 1/2 told */
    bench_free(bench);
}

/* Stiles stand 1-1/2 wide; overlay of 1/2 leaves 1 in showing (partial overlay as cabinet makers publish it). */
static void test_partial_overlay_on_a_frame(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    struct dw_case *one = &bench->cases[0];
    one->style = DW_FACE_FRAME;
    one->width = in("24");
    one->height = in("30");
    one->depth = in("22");
    one->stile = one->rail_top = one->rail_bottom = in("1 1/2");
    one->frame_thickness = in("3/4");
    bench_fill(bench, 2, DW_OVERLAY);
    bench_rails(bench, "2");
    for (size_t i = 0; i < 2; i++)
        bench_overlay(bench, i, "1/2", "1/2", "1/2", "1/2");
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->front.x, "1");
    EXPECT_IN(bench_at(bench, 0)->front_width.value, "22");
    EXPECT_IN(bench_at(bench, 0)->front.y - bench_at(bench, 1)->front.y - bench_at(bench, 1)->front.height, "1");
    bench_free(bench);
}

/* A bank of mixed fits: inset over a rail, then stacked overlay fronts, a dummy rail between, a door at the bottom. */
static void test_mixed_bank(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "40", "22");
    bench_fill(bench, 4, DW_OVERLAY);
    for (size_t i = 0; i < 4; i++)
        bench_overlay(bench, i, "3/8", "3/8", "3/8", "3/8");
    bench->drawers[0].fit = (struct dw_fit){.kind = DW_INSET};
    bench_fix(bench, 0, "5");
    bench_rail(bench, 0, "1");
    bench->drawers[2].rail_below = (struct dw_rail){
        .kind = DW_RAIL_DUMMY, .height = in("1"), .cover_above = in("1/4"), .cover_below = DW_LENGTH_UNSET};
    bench->drawers[3].fill = DW_FILL_DOOR;
    bench->drawers[3].height.weight = 2;
    bench_size(bench);
    /* 40 - 1/8 - 5 - 1/8 - 1 + 3/8 - 1/8 + 1/4 - 1 + 3/8 + 3/8 = 34 for 4 shares */
    expect_heights(bench, (const char *const[]){"5", "8 1/2", "8 1/2", "17"}, 4);
    assert_int_equal(bench_bank(bench, 0)->rails[1].kind, DW_RAIL_DUMMY);
    bench_free(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_equal_step),
        cmocka_unit_test(test_odd_count_has_average_in_the_middle),
        cmocka_unit_test(test_divider_rule),
        cmocka_unit_test(test_divider_rule_from_the_bottom),
        cmocka_unit_test(test_graduated_about_a_fixed_front),
        cmocka_unit_test(test_ratio),
        cmocka_unit_test(test_32_mm_stack),
        cmocka_unit_test(test_height_from_the_inside),
        cmocka_unit_test(test_weights),
        cmocka_unit_test(test_freed_to_gaps_by_habit),
        cmocka_unit_test(test_freed_to_bottom_front),
        cmocka_unit_test(test_freed_to_ends_and_to_a_drawer),
        cmocka_unit_test(test_habit_sends_much_to_the_bottom_front),
        cmocka_unit_test(test_an_end_without_overlay_gives_nothing),
        cmocka_unit_test(test_gap_that_strays_is_warned_of),
        cmocka_unit_test(test_partition_is_shared),
        cmocka_unit_test(test_neighbors_make_one_gap),
        cmocka_unit_test(test_other_covers),
        cmocka_unit_test(test_partial_overlay_on_a_frame),
        cmocka_unit_test(test_mixed_bank),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
