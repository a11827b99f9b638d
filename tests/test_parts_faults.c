/* test_parts_faults.c - what cannot be made is refused with the cure, what is doubtful is warned of. */
#include "parts_fixture.h"

/* A sound drawer of 1/2 stock and a 1/4 bottom, for a row to spoil. */
static struct dw_drawer *open_sound(struct fixture *f, enum dw_joint joint)
{
    fixture_open(f, DW_IN);
    const size_t half = fixture_material(f, "half", IN(1, 2));
    const size_t quarter = fixture_material(f, "quarter", IN(1, 4));
    f->bandings[0] = (struct dw_banding){.id = "edge", .name = "edge", .thickness = IN(1, 32), .width = IN(7, 8), .roll = 10 * DW_INCH};
    f->job.shop.banding_count = 1;
    return fixture_drawer(f, 0, 13 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, half, quarter, joint);
}

static void groove_through(struct dw_drawer *d) { d->box.groove_depth = IN(1, 2); }
static void groove_over_the_top(struct dw_drawer *d) { d->box.groove_up = 4 * DW_INCH; }
static void groove_too_high(struct dw_drawer *d) { d->box.groove_up = INCHES(3, 3, 4); }
static void dado_through(struct dw_drawer *d) { d->box.front.depth = IN(1, 2); }
static void tongue_as_thick(struct dw_drawer *d) { d->box.back.tongue = IN(1, 2); }
static void no_tongue(struct dw_drawer *d) { d->box.back.tongue = 0; }
static void lip_and_tongue(struct dw_drawer *d) { d->box.front.lap = d->box.front.tongue = IN(1, 4); }
static void lap_as_thick(struct dw_drawer *d) { d->box.front.lap = IN(1, 2); }
static void wide_fingers(struct dw_drawer *d) { d->box.front.pitch = 5 * DW_INCH; }
static void two_fingers(struct dw_drawer *d) { d->box.front.pitch = 2 * DW_INCH; }
static void steep(struct dw_drawer *d) { d->box.front.slope = 2; }
static void wide_tails(struct dw_drawer *d) { d->box.front.pitch = 5 * DW_INCH; }
static void unequal(struct dw_drawer *d) { d->box.side_material = 1; d->box.groove_depth = IN(1, 8); }
static void no_clearance_left(struct dw_drawer *d) { d->box.bottom_clearance = IN(1, 4); }
static void as_box_front(struct dw_drawer *d) { d->front.kind = DW_FRONT_IS_BOX_FRONT; }
static void banded_end(struct dw_drawer *d) { as_box_front(d); d->front.banding[DW_LEFT] = 0; }
static void banded(struct dw_drawer *d) { d->front.banding[DW_TOP] = 0; }
static void lip_of_all(struct dw_drawer *d) { d->fit.kind = DW_LIPPED; d->fit.lip = IN(1, 2); }

static void test_what_cannot_be_made(void **state)
{
    (void)state;
    const struct {
        const char *name;
        enum dw_joint joint;
        void (*spoil)(struct dw_drawer *);
        const char *code, *address, *cure;
    } rows[] = {
        {"a groove as deep as the side", DW_BUTT, groove_through, "groove-deep", "box.groove_depth", "at most half of it, 1/4 in"},
        {"a groove above the side", DW_BUTT, groove_over_the_top, "bottom-high", "box.groove_up", "a higher box"},
        {"a bottom that looks out at the top", DW_BUTT, groove_too_high, "bottom-high", "box.groove_up", "a lower groove"},
        {"a dado as deep as the side", DW_DADO, dado_through, "joint-deep", "box.joint.depth", "at most half of it, 1/4 in"},
        {"a rabbet as deep as the side", DW_RABBET, dado_through, "joint-deep", "box.joint.depth", "at most half of it, 1/4 in"},
        {"a tongue as thick as the stock", DW_RABBET_AND_DADO, tongue_as_thick, "tongue-thick", "box.back_joint.tongue", "1/4 in, half of it"},
        {"no tongue", DW_RABBET_AND_DADO, no_tongue, "tongue-thick", "box.back_joint.tongue", "1/4 in, half of it"},
        {"lip and tongue fill the front", DW_LOCK_RABBET, lip_and_tongue, "tongue-thick", "box.joint.tongue", "a sixth of it"},
        {"a lap as thick as the front", DW_HALF_BLIND, lap_as_thick, "lap-thick", "box.joint.lap", "1/8 in, a quarter of it"},
        {"fingers wider than the box", DW_FINGER, wide_fingers, "finger-wide", "box.joint.pitch", "at most 1 5/16 in"},
        {"a single pair of fingers", DW_FINGER, two_fingers, "finger-wide", "box.joint.pitch", "three at least"},
        {"a dovetail that splits off", DW_THROUGH, steep, "slope", "box.joint.slope", "6 for softwood, 8 for hardwood"},
        {"a tail wider than the box", DW_THROUGH, wide_tails, "tail-wide", "box.joint.pitch", "at most 4 in"},
        {"a miter of unequal stock", DW_MITER, unequal, "miter-unequal", "box.joint.joint", "one material for both"},
        {"a bottom that drops out of its groove", DW_BUTT, no_clearance_left, "bottom-loose", "box.bottom_clearance", "less clearance"},
        {"banding on the ends of a finger-jointed front", DW_FINGER, banded_end, "banding-at-joint", "front.banding.left", "an applied front"},
        {"banding on the ends of a dovetailed front", DW_HALF_BLIND, banded_end, "banding-at-joint", "front.banding.left", "an applied front"},
        {"a strip longer than its roll", DW_BUTT, banded, "banding-short", "shop.bandings[0].roll", "a longer roll"},
        {"a lip as thick as the front", DW_BUTT, lip_of_all, "lip-thick", "fit.lip", "half of it, 1/4 in"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fixture f;
        rows[i].spoil(open_sound(&f, rows[i].joint));
        (void)dw_parts_make(&f.sizing, f.arena, f.faults, &f.parts);
        const struct dw_fault *fault = fixture_fault(&f, rows[i].code);
        if (fault == NULL || strstr(fault->address, rows[i].address) == NULL || strstr(fault->cure, rows[i].cure) == NULL) {
            fixture_print_faults(&f);
            fail_msg("%s: wanted %s at %s with the cure %s", rows[i].name, rows[i].code, rows[i].address, rows[i].cure);
        }
        assert_int_equal(fault->status, DW_IMPOSSIBLE);
        assert_null(f.parts);
        fixture_close(&f);
    }
}

/* A front that is the box front and wider than the box needs a joint behind which the sides end. */
static void test_front_past_the_box(void **state)
{
    (void)state;
    const struct {
        enum dw_joint joint;
        bool outside, may;
    } rows[] = {{DW_BUTT, false, false}, {DW_BUTT, true, true},          {DW_RABBET, true, true},  {DW_RABBET, false, false},
                {DW_DADO, false, false}, {DW_LOCK_RABBET, false, true},  {DW_FINGER, false, false}, {DW_HALF_BLIND, false, true},
                {DW_THROUGH, false, false}, {DW_MITER, false, false}, {DW_RABBET_AND_DADO, false, false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fixture f;
        struct dw_drawer *drawer = open_sound(&f, rows[i].joint);
        drawer->box.front.cross_outside = rows[i].outside;
        as_box_front(drawer);
        fixture_front(&f, 0, 0, -IN(3, 8), -IN(1, 2), INCHES(13, 3, 4), 5 * DW_INCH);
        if (!rows[i].may) {
            fixture_refuses(&f, "front-overhang", "half-blind");
        } else {
            fixture_make(&f);
            fixture_expect(&f, DW_PART_FRONT, 0, 1, INCHES(13, 3, 4), 5 * DW_INCH);
        }
        fixture_close(&f);
    }
}

/* One that is narrower than the box has its side gaps to blame. */
static void test_front_narrower_than_the_box(void **state)
{
    (void)state;
    struct fixture f;
    as_box_front(open_sound(&f, DW_HALF_BLIND));
    fixture_front(&f, 0, 0, IN(1, 16), 0, INCHES(12, 7, 8), 4 * DW_INCH);
    fixture_refuses(&f, "front-overhang", "side gaps no wider than the slide's clearance");
    fixture_close(&f);
}

/* A box front as wide as the box takes every joint, and its groove lies where the sides' does. */
static void test_front_as_wide_as_the_box(void **state)
{
    (void)state;
    for (enum dw_joint joint = DW_BUTT; joint <= DW_MITER; joint++) {
        struct fixture f;
        as_box_front(open_sound(&f, joint));
        fixture_make(&f);
        const struct dw_part *front = fixture_part(&f, DW_PART_FRONT, 0);
        assert_null(fixture_part(&f, DW_PART_BOX_FRONT, 0));
        assert_int_equal(front->length.value, fixture_part(&f, DW_PART_BACK, 0)->length.value);
        assert_int_equal(fixture_work(front, DW_WORK_GROOVE)->from_edge, IN(1, 4));
        fixture_close(&f);
    }
}

/* Everything wrong is said in one run, at every place. */
static void test_all_at_once(void **state)
{
    (void)state;
    struct fixture f;
    struct dw_drawer *drawer = open_sound(&f, DW_DADO);
    groove_through(drawer);
    dado_through(drawer);
    assert_int_equal(dw_parts_make(&f.sizing, f.arena, f.faults, &f.parts), DW_IMPOSSIBLE);
    assert_non_null(fixture_fault(&f, "groove-deep"));
    assert_non_null(fixture_fault(&f, "joint-deep"));
    fixture_close(&f);

    drawer = open_sound(&f, DW_DADO);
    drawer->box.groove_depth = IN(5, 16);
    for (int i = 0; i < 4; i++)
        fixture_drawer(&f, 0, 13 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, 0, 1, DW_DADO)->box.groove_depth = IN(5, 16);
    fixture_make(&f);
    assert_int_equal(f.faults->warnings, 5 * 3); /* side, box front, back of each */
    fixture_close(&f);
}

static void test_material_missing(void **state)
{
    (void)state;
    struct fixture f;
    open_sound(&f, DW_BUTT)->box.bottom_material = DW_NO_INDEX;
    assert_int_equal(dw_parts_make(&f.sizing, f.arena, f.faults, &f.parts), DW_INPUT);
    assert_string_equal(fixture_fault(&f, "no-material")->address, "cases[0].banks[0].drawers[0].box.bottom");
    fixture_close(&f);
}

static void test_warnings(void **state)
{
    (void)state;
    struct fixture f;
    struct dw_drawer *drawer = open_sound(&f, DW_HALF_BLIND);
    drawer->box.front.lap = IN(1, 16);
    drawer->box.groove_up = 0;
    drawer->front.banding[DW_TOP] = 0;
    f.bandings[0].width = IN(3, 8);
    f.bandings[0].roll = 100 * DW_INCH;
    fixture_make(&f);
    assert_string_equal(fixture_fault(&f, "lap-thin")->cure, "at least 3/32 in");
    assert_non_null(fixture_fault(&f, "groove-low"));
    assert_non_null(fixture_fault(&f, "banding-narrow"));
    fixture_close(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_cannot_be_made), cmocka_unit_test(test_front_past_the_box),
        cmocka_unit_test(test_front_narrower_than_the_box), cmocka_unit_test(test_front_as_wide_as_the_box), cmocka_unit_test(test_all_at_once),
        cmocka_unit_test(test_material_missing),    cmocka_unit_test(test_warnings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
