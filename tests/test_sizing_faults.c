/* test_sizing_faults.c - what cannot be done is refused with place, amount and cure, all in one run; what may hurt is said. */
#include "sizing_bench.h"

static void expect_fault(const struct bench *bench, const char *code, const char *address, const char *wrong, const char *cure)
{
    const struct dw_fault *fault = bench_fault(bench, code);
    if (fault == NULL) {
        bench_print_faults(bench);
        fail_msg("no fault %s", code);
    }
    assert_string_equal(fault->address, address);
    if (strstr(fault->wrong, wrong) == NULL || strstr(fault->cure, cure) == NULL)
        fail_msg("%s says: %s / %s; wanted: %s / %s", code, fault->wrong, fault->cure, wrong, cure);
}

/* ---- stacks -------------------------------------------------------------------------------------------------------------- */

static void test_stack_over(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 3, DW_INSET);
    for (size_t i = 0; i < 3; i++)
        bench_fix(bench, i, "9");
    bench_refuse(bench, DW_IMPOSSIBLE); /* 27 and four gaps of 1/8 */
    expect_fault(bench, "stack-over", "cases[0].banks[0]", "3 1/2 in more", "by 3 1/2 in altogether");
    bench_free(bench);
}

static void test_stack_under(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 3, DW_INSET);
    for (size_t i = 0; i < 3; i++)
        bench_fix(bench, i, "7");
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "stack-under", "cases[0].banks[0]", "2 1/2 in is left", "raise fronts by 2 1/2 in altogether");
    bench_free(bench);
}

/* Typed fronts that leave no more than rounding each would have left are not refused: the gaps take it. */
static void test_typed_fronts_may_be_rounded(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 3, DW_INSET);
    for (size_t i = 0; i < 3; i++)
        bench_fix(bench, i, "7 13/16");
    bench_size(bench); /* 1/16 left over four gaps */
    EXPECT_IN(bench_bank(bench, 0)->gap.value, "9/64");
    bench_free(bench);
}

static void test_shares_without_room(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 3, DW_INSET);
    bench_fix(bench, 0, "24");
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "stack-over", "cases[0].banks[0]", "1/2 in more than the opening of 24 in", "take fewer drawers");
    bench_free(bench);
}

static void test_uncertain_stack(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 4, DW_INSET);
    bench->drawers[0].height.rule = bench->drawers[1].height.rule = DW_HEIGHT_GRADUATED;
    bench_refuse(bench, DW_INPUT);
    expect_fault(bench, "no-graduation", "cases[0].banks[0]", "does not say how", "a step");
    bench->banks[0].graduation = DW_GRADUATED_STEP;
    bench->banks[0].graduation_step = in("1");
    bench_refuse(bench, DW_INPUT); /* the list keeps the first run's faults, so its gravest status */
    expect_fault(bench, "stack-uncertain", "cases[0].banks[0]", "2 graduated fronts and 2 that share", "fix one");
    bench->banks[0].graduation = DW_GRADUATED_DIVIDER;
    bench_refuse(bench, DW_INPUT);
    assert_int_equal(bench_count_faults(bench, "no-graduation"), 2);
    bench_free(bench);
}

static void test_steep_ratio(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 20, DW_INSET);
    for (size_t i = 0; i < 20; i++)
        bench->drawers[i].height.rule = DW_HEIGHT_GRADUATED;
    bench->banks[0].graduation = DW_GRADUATED_RATIO;
    bench->banks[0].graduation_ratio = 9000000;
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "graduation-steep", "cases[0].banks[0]", "out of range", "nearer to 1");
    bench_free(bench);
}

/* Five hundred drawers in one opening: one fault for the bank, none for each drawer. */
static void test_five_hundred_drawers(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "40", "20");
    bench_fill(bench, 500, DW_INSET);
    bench_refuse(bench, DW_IMPOSSIBLE); /* 501 gaps of 1/8 are 62-5/8 */
    expect_fault(bench, "stack-over", "cases[0].banks[0]", "22 5/8 in more", "fewer drawers");
    assert_int_equal(bench->faults->count, 1);
    bench_free(bench);
}

static void test_fronts_that_lap(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 2, DW_OVERLAY);
    bench_rails(bench, "3/4");
    for (size_t i = 0; i < 2; i++)
        bench_overlay(bench, i, "1/2", "1/2", "1/2", "1/2");
    bench->cases[0].bank_count = 2;
    bench->banks[1].drawer_count = 2;
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "fronts-meet", "cases[0].banks[0]", "by 1/4 in over a partition of 3/4 in", "at most 5/8 in");
    assert_int_equal(bench_count_faults(bench, "fronts-meet"), 3); /* the partition and each bank's rail */
    bench_free(bench);
}

static void test_front_past_the_case(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 2, DW_OVERLAY);
    bench_overlay(bench, 0, "1", "3/8", "3/4", "3/4");
    bench_overlay(bench, 1, "1", "3/8", "3/4", "3/4");
    bench_size(bench);
    expect_fault(bench, "front-past-case", "cases[0].banks[0]", "1/4 in past the top", "at most the 3/4 in");
    assert_int_equal(bench_count_faults(bench, "front-past-case"), 1);
    bench_free(bench);
}

/* ---- cases and banks ------------------------------------------------------------------------------------------------------ */

static void test_unknown_sizes(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_fill(bench, 1, DW_INSET);
    bench_refuse(bench, DW_INPUT);
    expect_fault(bench, "no-width", "cases[0]", "not known", "give the case's width");
    expect_fault(bench, "no-height", "cases[0].banks[0]", "not known", "give the case's height");
    bench->cases[0].width = in("20");
    bench->cases[0].height = in("20");
    bench_refuse(bench, DW_INPUT);
    expect_fault(bench, "no-depth", "cases[0].banks[0].drawers[0]", "not known", "depth of the box");
    bench_free(bench);
}

static void test_members_without_opening(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench->cases[0].width = in("20");
    bench->cases[0].height = in("20");
    bench->cases[0].depth = in("20");
    bench->cases[0].side = in("11");
    bench->cases[0].kick = in("19");
    bench_fill(bench, 1, DW_INSET);
    bench_refuse(bench, DW_IMPOSSIBLE);
    assert_int_equal(bench_count_faults(bench, "no-opening"), 2);
    expect_fault(bench, "no-opening", "cases[0]", "-2 in wide", "make the case larger");
    bench_free(bench);
}

static void test_banks_over_and_under(void **state)
{
    (void)state;
    static const struct {
        const char *second, *code, *amount;
    } rows[] = {{"20", "banks-over", "3/4 in wider"}, {"19", "banks-under", "1/4 in"}};
    for (size_t i = 0; i < 2; i++) {
        struct bench *bench = bench_new(DW_IN);
        bench_opening(bench, "40", "10", "20");
        bench_fill(bench, 1, DW_INSET);
        bench->cases[0].bank_count = 2;
        bench->banks[1].drawer_count = 1;
        bench->banks[0].width = bench_readings(bench, "20", NULL);
        bench->banks[1].width = bench_readings(bench, rows[i].second, NULL);
        bench_refuse(bench, DW_IMPOSSIBLE);
        expect_fault(bench, rows[i].code, "cases[0]", rows[i].amount, "");
        bench_free(bench);
    }
}

static void test_full_overlay_needs_members(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench->cases[0].top = 0;
    bench_fill(bench, 2, DW_FULL_OVERLAY);
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "full-overlay", "cases[0]", "0 in to cover at the top", "how thick");
    assert_int_equal(bench->faults->count, 1);
    bench_free(bench);
}

/* ---- boxes and slides, all in one run --------------------------------------------------------------------------------------- */

static void test_all_in_one_run(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench->job.case_count = 4;
    bench_opening(bench, "20", "24", "9");
    bench_fill(bench, 2, DW_INSET); /* no slide is short enough for 9 in */
    for (size_t c = 1; c < 4; c++) {
        bench->cases[c] = bench->cases[0];
        bench->cases[c].opening_depth = bench_readings(bench, "22", NULL);
        bench->cases[c].banks = &bench->banks[c];
        bench->banks[c].drawers = &bench->drawers[10 * c];
        bench->banks[c].drawer_count = 1;
        bench->drawers[10 * c] = bench_drawer(DW_INSET);
    }
    bench->drawers[10].height = (struct dw_height){.rule = DW_HEIGHT_FIXED, .length = in("30")}; /* does not go in */
    bench->cases[2].opening_height = bench_readings(bench, "2 1/2", NULL);   /* no room for a box */
    bench->drawers[30].slide = BENCH_UNDER;                                  /* sides of 3/4 on an undermount */
    bench->drawers[30].box.side_material = BENCH_FRONT_3_4;
    bench->drawers[30].box.bottom = DW_BOTTOM_APPLIED;
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "slide-none-fits", "cases[0].banks[0].drawers[0]", "10 in, needs 10 3/4 in", "deeper by 1 3/4 in");
    assert_int_equal(bench_count_faults(bench, "slide-none-fits"), 2);
    expect_fault(bench, "stack-over", "cases[1].banks[0]", "6 1/4 in more", "");
    expect_fault(bench, "box-no-room", "cases[2].banks[0].drawers[0]", "at most 1 3/4 in", "raise the front by 1/4 in");
    expect_fault(bench, "side-too-thick", "cases[3].banks[0].drawers[0].box.sides", "3/4 in", "5/8 in or less");
    expect_fault(bench, "no-recess", "cases[3].banks[0].drawers[0].box.bottom_style", "1/2 in", "in a groove");
    bench_free(bench);
}

/* An opening of 1 in with clearances of 1/2 has no room for a box, and its case none for the slide: both are told in one run. */
static void test_a_narrow_and_shallow_case(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "1", "8", "4");
    bench_fill(bench, 1, DW_INSET);
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "box-no-room", "cases[0].banks[0].drawers[0]", "1 in wide", "wider by more than 1 in");
    expect_fault(bench, "slide-none-fits", "cases[0].banks[0].drawers[0]", "and there are 4 in", "deeper by");
    bench_fix(bench, 0, "9"); /* nor does its front stand in the opening */
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "stack-over", "cases[0].banks[0]", "1 1/4 in more", "lower fronts");
    expect_fault(bench, "box-no-room", "cases[0].banks[0].drawers[0]", "1 in wide", "wider by more than 1 in");
    expect_fault(bench, "slide-none-fits", "cases[0].banks[0].drawers[0]", "and there are 4 in", "deeper by");
    bench_free(bench);
}

/* Fronts over one partition or rail that come nearer to each other than the gap: 3/4 less twice 23/64 leaves 1/32. */
static void test_fronts_too_close(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 2, DW_OVERLAY);
    for (int edge = 0; edge < DW_EDGES; edge++)
        bench->drawers[0].fit.overlay[edge] = bench->drawers[1].fit.overlay[edge] = in("23/64");
    bench->drawers[0].rail_below = (struct dw_rail){.kind = DW_RAIL_REAL, .height = in("3/4"), .cover_above = DW_LENGTH_UNSET, .cover_below = DW_LENGTH_UNSET};
    bench_size(bench);
    expect_fault(bench, "fronts-close", "cases[0].banks[0].drawers[0]", "leave 1/32 in between them over their rail, and the gap wished is 1/8 in", "3/32 in less");
    bench_free(bench);
}

static void test_boxes_that_do_not_go(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "1 3/4", "8", "20");
    bench_fill(bench, 1, DW_INSET);
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "box-no-room", "cases[0].banks[0].drawers[0]", "1 3/4 in wide", "wider by more than 1/4 in");
    bench->cases[0].opening_width = bench_readings(bench, "20", NULL);
    bench->drawers[0].box.height = in("1 1/2");
    bench->drawers[0].box.depth = in("20");
    bench_refuse(bench, DW_IMPOSSIBLE);
    expect_fault(bench, "box-too-low", "cases[0].banks[0].drawers[0].box.height", "1 1/2 in", "2 in or higher");
    expect_fault(bench, "box-too-deep", "cases[0].banks[0].drawers[0].box.depth", "at most 19 1/4 in", "3/4 in less");
    bench->drawers[0].slide = DW_NO_INDEX;
    bench_refuse(bench, DW_INPUT);
    expect_fault(bench, "no-slide", "cases[0].banks[0].drawers[0].slide", "no slide", "hand-fitted");
    bench_free(bench);
}

/* A job whose checks were skipped: nothing is as thick as it must be, yet the run ends in order. */
static void test_thickness_zero_is_survived(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24", "20");
    bench_fill(bench, 2, DW_INSET);
    for (size_t i = 0; i < BENCH_MATERIALS; i++)
        bench->materials[i].thickness = 0;
    bench->materials[BENCH_PLY_1_4].stiffness = 7000000000;
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->inside_width.value, "19");
    bench_free(bench);
}

/* ---- cautions --------------------------------------------------------------------------------------------------------------- */

static struct bench *chest(void)
{
    struct bench *bench = bench_new(DW_IN);
    bench->cases[0].width = in("36");
    bench->cases[0].height = in("30");
    bench->cases[0].depth = in("18");
    bench->cases[0].free_standing = true;
    bench->cases[0].clothing = true;
    bench_fill(bench, 4, DW_INSET);
    return bench;
}

/* 16 CFR 1261 with ASTM F2057-23, as the Consumer Product Safety Commission's guidance on clothing storage units gives its
 * scope: free-standing, 27 in or higher, 30 lb or more, 3.2 ft3 or more enclosed. Check the current text. */
static void test_clothing_unit(void **state)
{
    (void)state;
    struct bench *bench = chest();
    bench_size(bench);
    assert_non_null(bench_fault(bench, "tip-over"));
    expect_fault(bench, "clothing-unit", "cases[0]", "16 CFR 1261", "anchor it to the wall");
    bench_free(bench);
}

static void test_clothing_unit_out_of_scope(void **state)
{
    (void)state;
    for (int what = 0; what < 5; what++) {
        struct bench *bench = chest();
        if (what == 0)
            bench->cases[0].height = in("26 15/16");
        if (what == 1)
            bench->cases[0].width = in("11"); /* too little room for 3.2 ft3 */
        if (what == 2)
            for (size_t i = 0; i < BENCH_MATERIALS; i++)
                bench->materials[i].density = 1000; /* a case of air */
        if (what == 3)
            bench->cases[0].clothing = false;
        if (what == 4)
            bench->cases[0].free_standing = false;
        bench_size(bench);
        assert_null(bench_fault(bench, "clothing-unit"));
        assert_int_equal(bench_count_faults(bench, "tip-over"), what == 4 ? 0 : 1);
        bench_free(bench);
    }
}

/* What is not known of the mass is taken as enough. */
static void test_clothing_unit_of_unknown_mass(void **state)
{
    (void)state;
    struct bench *bench = chest();
    bench->materials[BENCH_PLY_1_2].density = 0;
    bench_size(bench);
    expect_fault(bench, "clothing-unit", "cases[0]", "not all of it is known", "");
    assert_int_equal(bench_at(bench, 0)->own, 0);
    bench_free(bench);
}

/* The sheet's own arithmetic: 24 x 18 x 1/4 at E = 1,000,000 psi under 15 lb/ft2 sags 0.0507, over 1/32 in a foot of 18 in. */
static void test_bottom_sags(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "26", "8", "20");
    bench_fill(bench, 1, DW_OVERLAY);
    bench_overlay(bench, 0, "1/2", "1/2", "1/2", "1/2");
    bench->drawers[0].box.depth = in("19"); /* 24 x 18 inside */
    bench->materials[BENCH_PLY_1_4].stiffness = 6894757293;
    bench->materials[BENCH_PLY_1_2].stiffness = 6894757293;
    bench_size(bench);
    EXPECT_IN(bench_at(bench, 0)->inside_width.value, "24");
    EXPECT_IN(bench_at(bench, 0)->sag_allowed, "3/64");
    expect_fault(bench, "bottom-sags", "cases[0].banks[0].drawers[0]", "24 in by 18 in", "1/2 plywood would do");
    bench->materials[BENCH_PLY_1_2].stiffness = 0;
    dw_faults_free(bench->faults);
    bench->faults = dw_faults_new();
    bench_size(bench);
    expect_fault(bench, "bottom-sags", "cases[0].banks[0].drawers[0]", "24 in by 18 in", "9/32 in of the same stuff");
    bench->drawers[0].box.depth = in("13");
    dw_faults_free(bench->faults);
    bench->faults = dw_faults_new();
    bench_size(bench);
    assert_null(bench_fault(bench, "bottom-sags"));
    bench_free(bench);
}

/* From memory: flat-sawn red oak moves 0.00369 of its width for each percent of moisture: 8 x 4 x 0.00369 = 0.118. */
static void test_solid_front_moves(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "8 1/4", "20");
    bench_fill(bench, 1, DW_INSET);
    bench->drawers[0].front.material = BENCH_OAK;
    bench_size(bench);
    expect_fault(bench, "front-moves", "cases[0].banks[0]", "8 in across its grain may move ~1/8 in", "wider gaps");
    assert_null(bench_fault(bench, "load-over"));
    bench_free(bench);
}

static void test_frames_and_doors(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    struct dw_case *one = &bench->cases[0];
    bench_opening(bench, "40", "8", "20");
    one->style = DW_FACE_FRAME;
    one->stile = in("1 1/2");
    one->behind_doors = true;
    one->bank_count = 2;
    bench_fill(bench, 1, DW_INSET);
    bench->banks[1].drawer_count = 1;
    bench_size(bench);
    assert_non_null(bench_fault(bench, "no-partition"));
    assert_non_null(bench_fault(bench, "hinge-room"));
    bench_free(bench);
}

/* Common practice, no source: fronts last, with spacers and oversize holes; 3/4 + 1/2 + 1/4 of thread is a screw of 1-1/2. */
static void test_notes(void **state)
{
    (void)state;
    struct bench *bench = bench_new(DW_IN);
    bench_opening(bench, "20", "24 1/2", "20");
    bench_fill(bench, 4, DW_INSET);
    bench_size(bench);
    assert_int_equal(bench->sizing->note_count, 2);
    assert_non_null(strstr(bench->sizing->notes[0], "spacers"));
    assert_non_null(strstr(bench->sizing->notes[1], "3/4 in + 1/2 in + 1/4 in of thread, so 1 1/2 in long"));
    bench_free(bench);
}

/* ---- memory ------------------------------------------------------------------------------------------------------------------ */

static void test_every_failing_allocation(void **state)
{
    (void)state;
    struct bench *bench = chest();
    bench->cases[0].bank_count = 3;
    bench->banks[1].drawer_count = bench->banks[2].drawer_count = 4;
    size_t n = 0;
    enum dw_status status = DW_SURROUNDINGS;
    while (status != DW_DONE) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        dw_memory_fail_at(++n);
        status = dw_size(&bench->job, arena, faults, &bench->sizing);
        dw_memory_fail_at(0);
        assert_true(status == DW_DONE || status == DW_SURROUNDINGS);
        assert_true((status == DW_DONE) == (bench->sizing != NULL));
        dw_faults_free(faults);
        dw_arena_free(arena);
    }
    assert_true(n > 5);
    bench_free(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_stack_over),
        cmocka_unit_test(test_stack_under),
        cmocka_unit_test(test_typed_fronts_may_be_rounded),
        cmocka_unit_test(test_shares_without_room),
        cmocka_unit_test(test_uncertain_stack),
        cmocka_unit_test(test_steep_ratio),
        cmocka_unit_test(test_five_hundred_drawers),
        cmocka_unit_test(test_fronts_that_lap),
        cmocka_unit_test(test_front_past_the_case),
        cmocka_unit_test(test_unknown_sizes),
        cmocka_unit_test(test_members_without_opening),
        cmocka_unit_test(test_banks_over_and_under),
        cmocka_unit_test(test_full_overlay_needs_members),
        cmocka_unit_test(test_all_in_one_run),
        cmocka_unit_test(test_a_narrow_and_shallow_case),
        cmocka_unit_test(test_fronts_too_close),
        cmocka_unit_test(test_boxes_that_do_not_go),
        cmocka_unit_test(test_thickness_zero_is_survived),
        cmocka_unit_test(test_clothing_unit),
        cmocka_unit_test(test_clothing_unit_out_of_scope),
        cmocka_unit_test(test_clothing_unit_of_unknown_mass),
        cmocka_unit_test(test_bottom_sags),
        cmocka_unit_test(test_solid_front_moves),
        cmocka_unit_test(test_frames_and_doors),
        cmocka_unit_test(test_notes),
        cmocka_unit_test(test_every_failing_allocation),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
