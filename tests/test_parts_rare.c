/* test_parts_rare.c - rules of the parts room that a usual job does not come to: banding by the length, solid bottoms screwed on from below, fronts that
 * stand past their box unevenly, doors with pulls, boxes too small for their stock. Arithmetic by hand, beside each check. */
#include "parts_fixture.h"

static size_t half, quarter;

/* A drawer of 1/2 stock, 13 x 4 x 20 outside. */
static struct dw_drawer *open_drawer(struct fixture *f, enum dw_joint joint)
{
    fixture_open(f, DW_IN);
    half = fixture_material(f, "half", IN(1, 2));
    quarter = fixture_material(f, "quarter", IN(1, 4));
    return fixture_drawer(f, 0, 13 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, half, quarter, joint);
}

/* Edging that is sold by the length is one thing to buy, however long: the top edge of 13, and 2 over. */
static void test_banding_by_the_length(void **state)
{
    (void)state;
    struct fixture f;
    struct dw_drawer *drawer = open_drawer(&f, DW_BUTT);
    f.bandings[0] = (struct dw_banding){.id = "edge", .name = "edge", .thickness = IN(1, 32), .width = IN(7, 8), .waste = 2 * DW_INCH};
    f.job.shop.banding_count = 1;
    drawer->front.banding[DW_TOP] = 0;
    fixture_make(&f);
    const struct dw_need *need = NULL;
    for (size_t i = 0; i < f.parts->need_count; i++)
        if (f.parts->needs[i].kind == DW_NEED_BANDING)
            need = &f.parts->needs[i];
    assert_non_null(need);
    assert_int_equal(need->packs, 1);
    assert_int_equal(need->length, 15 * DW_INCH);
    fixture_close(&f);
}

/* From memory: flat-sawn red oak moves 0.00369 of its width for a percent of moisture; 20 x 4 x 0.00369 = 0.295, up to 19/64. */
static void test_a_solid_bottom_under_the_box(void **state)
{
    (void)state;
    struct fixture f;
    struct dw_drawer *drawer = open_drawer(&f, DW_BUTT);
    f.materials[quarter].kind = DW_SOLID_WOOD;
    f.materials[quarter].movement = 3690;
    drawer->box.bottom = DW_BOTTOM_APPLIED;
    fixture_make(&f);
    const struct dw_fault *fault = fixture_fault(&f, "bottom-moves");
    assert_non_null(fault);
    assert_non_null(strstr(fault->wrong, "19/64 in"));
    assert_non_null(strstr(fault->cure, "slots"));
    fixture_close(&f);
}

/* A bottom screwed on from below stops behind a front that is the box front and comes down over its edge: 20 less 1/2; where the front ends with the
 * sides the bottom runs under it. */
static void test_a_bottom_behind_its_front(void **state)
{
    (void)state;
    for (int covers = 0; covers <= 1; covers++) {
        struct fixture f;
        struct dw_drawer *drawer = open_drawer(&f, DW_BUTT);
        drawer->box.bottom = DW_BOTTOM_APPLIED;
        drawer->front.kind = DW_FRONT_IS_BOX_FRONT;
        if (!covers)
            fixture_front(&f, 0, 0, 0, IN(1, 4), 13 * DW_INCH, INCHES(3, 3, 4));
        fixture_make(&f);
        const struct dw_part *bottom = fixture_part(&f, DW_PART_BOTTOM, 0);
        assert_non_null(bottom);
        const dw_length deep = covers ? INCHES(19, 1, 2) : 20 * DW_INCH;
        assert_true(bottom->length.value == deep || bottom->width.value == deep);
        fixture_close(&f);
    }
}

/* Rabbeted sides let into a front that stands 1/2 past the box at the left and 1 at the right: other dadoes at its ends. */
static void test_a_front_past_its_box_unevenly(void **state)
{
    (void)state;
    struct fixture f;
    struct dw_drawer *drawer = open_drawer(&f, DW_HALF_BLIND);
    drawer->front.kind = DW_FRONT_IS_BOX_FRONT;
    drawer->box.front = fixture_corner(DW_RABBET);
    drawer->box.front.cross_outside = DW_YES;
    fixture_front(&f, 0, 0, -IN(1, 2), 0, INCHES(14, 1, 2), 4 * DW_INCH);
    (void)dw_parts_make(&f.sizing, f.arena, f.faults, &f.parts);
    if (f.parts == NULL)
        fixture_print_faults(&f);
    assert_non_null(f.parts);
    bool left = false, right = false;
    for (size_t p = 0; p < f.parts->count; p++)
        for (size_t w = 0; w < f.parts->at[p].work_count; w++) {
            left = left || strstr(f.parts->at[p].works[w].words, "left end") != NULL;
            right = right || strstr(f.parts->at[p].works[w].words, "right end") != NULL;
        }
    assert_true(left && right);
    fixture_close(&f);
}

/* A pull for every front is drilled in a door too, but where is marked when the door hangs; a panel has none, and one for drawers goes on no door. */
static void test_pulls_of_doors_and_panels(void **state)
{
    (void)state;
    static const struct {
        enum dw_fill fill;
        bool per_front, drilled;
    } rows[] = {{DW_FILL_DOOR, true, true}, {DW_FILL_DOOR, false, false}, {DW_FILL_PANEL, true, false}};
    for (size_t r = 0; r < 3; r++) {
        struct fixture f;
        struct dw_drawer *door = open_drawer(&f, DW_BUTT);
        door->fill = rows[r].fill;
        f.hardware[0] = (struct dw_hardware){.id = "pull", .name = "pull", .pull = true, .count = 1, .centers = 4 * DW_INCH,
                                             .per = rows[r].per_front ? DW_PER_FRONT : DW_PER_DRAWER};
        f.job.shop.hardware_count = 1;
        fixture_make(&f);
        const struct dw_part *front = fixture_part(&f, DW_PART_FRONT, 0);
        const struct dw_part_work *holes = front == NULL ? NULL : fixture_work(front, DW_WORK_HOLES);
        assert_int_equal(holes != NULL, rows[r].drilled);
        if (holes != NULL) {
            assert_int_equal(holes->number, 2);
            assert_non_null(strstr(holes->words, "when the door hangs"));
        }
        fixture_close(&f);
    }
}

static void narrow_box(struct fixture *f, struct dw_drawer *drawer)
{
    (void)drawer;
    f->sized_drawers[0][0].box.width = f->sized_drawers[0][0].box_width.value = DW_INCH; /* two sides of 1/2 and nothing between */
}

static void thick_banding(struct fixture *f, struct dw_drawer *drawer)
{
    f->bandings[0] = (struct dw_banding){.id = "edge", .name = "edge", .thickness = 2 * DW_INCH, .width = IN(7, 8), .roll = 96 * DW_INCH};
    f->job.shop.banding_count = 1;
    drawer->front.banding[DW_TOP] = drawer->front.banding[DW_BOTTOM] = 0; /* 2 and 2 of a front of 4 */
}

static void outer_dado(struct fixture *f, struct dw_drawer *drawer)
{
    (void)f;
    drawer->box.front.lap = -DW_INCH / 16;
}

static void test_what_leaves_nothing(void **state)
{
    (void)state;
    static const struct {
        enum dw_joint joint;
        void (*spoil)(struct fixture *f, struct dw_drawer *drawer);
        const char *code, *cure;
    } rows[] = {{DW_BUTT, narrow_box, "no-room", "thinner stock"}, {DW_BUTT, thick_banding, "no-room", "thinner banding"},
                {DW_DADO, outer_dado, "dado-outside", "1/2 in by habit"}};
    for (size_t r = 0; r < 3; r++) {
        struct fixture f;
        rows[r].spoil(&f, open_drawer(&f, rows[r].joint));
        fixture_refuses(&f, rows[r].code, rows[r].cure);
        fixture_close(&f);
    }
}

/* A rail between drawers of a framed case is of the frame's stuff, as high as it is drawn and as long as the opening is wide. A case drawn with sides
 * of 3/4 in a material that measures 23/32 is told so. */
static void test_a_rail_of_the_frame(void **state)
{
    (void)state;
    struct fixture f;
    struct dw_drawer *upper = open_drawer(&f, DW_BUTT);
    const size_t ply = fixture_material(&f, "ply", IN(23, 32)), frame = fixture_material(&f, "frame", IN(3, 4));
    (void)fixture_drawer(&f, 0, 13 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, half, quarter, DW_BUTT);
    f.source.derive_parts = true;
    f.source.width = f.sized.width = 17 * DW_INCH;
    f.source.height = f.sized.height = 12 * DW_INCH;
    f.source.depth = f.sized.depth = 22 * DW_INCH;
    f.source.style = DW_FACE_FRAME;
    f.source.case_material = ply;
    f.source.frame_material = frame;
    f.source.side = f.source.top = f.source.bottom = IN(3, 4);
    f.source.stile = INCHES(1, 1, 2);
    f.source.frame_thickness = IN(3, 4);
    f.source.rail_top = f.source.rail_bottom = DW_INCH;
    f.sized.opening = (struct dw_rectangle){.width = 14 * DW_INCH, .height = 10 * DW_INCH};
    f.sized_banks[0].opening_width = fixture_figure("opening width", 14 * DW_INCH);
    upper->rail_below = (struct dw_rail){.kind = DW_RAIL_REAL, .height = INCHES(1, 1, 4)};
    fixture_make(&f);
    const struct dw_part *rail = fixture_named(&f, "rail");
    assert_non_null(rail);
    assert_int_equal(rail->material, frame);
    assert_int_equal(rail->length.value, 14 * DW_INCH);
    assert_int_equal(rail->width.value, INCHES(1, 1, 4));
    const struct dw_fault *fault = fixture_fault(&f, "case-thickness");
    assert_non_null(fault);
    assert_non_null(strstr(fault->wrong, "3/4 in thick, but its material measures 23/32 in"));
    fixture_close(&f);
}

static void test_every_kind_has_its_word(void **state)
{
    (void)state;
    for (int kind = DW_PART_FRONT; kind <= DW_PART_EXTRA; kind++)
        for (int other = DW_PART_FRONT; other < kind; other++)
            assert_string_not_equal(dw_part_kind_word((enum dw_part_kind)kind), dw_part_kind_word((enum dw_part_kind)other));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_banding_by_the_length),
        cmocka_unit_test(test_a_solid_bottom_under_the_box),
        cmocka_unit_test(test_a_bottom_behind_its_front),
        cmocka_unit_test(test_a_front_past_its_box_unevenly),
        cmocka_unit_test(test_pulls_of_doors_and_panels),
        cmocka_unit_test(test_what_leaves_nothing),
        cmocka_unit_test(test_a_rail_of_the_frame),
        cmocka_unit_test(test_every_kind_has_its_word),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
