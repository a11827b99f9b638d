/* test_parts_casework.c - a case's own parts. */
#include "parts_fixture.h"

/* Outside sizes of the fixture's case, all members of `stock`, the back of `back`, no drawers unless a test adds them. */
static void open_case(struct fixture *f, dw_length width, dw_length height, dw_length depth, size_t stock, size_t back)
{
    const dw_length thick = f->materials[stock].thickness;
    f->source.derive_parts = true;
    f->source.width = f->sized.width = width;
    f->source.height = f->sized.height = height;
    f->source.depth = f->sized.depth = depth;
    f->source.side = f->source.top = f->source.bottom = thick;
    f->source.back = f->materials[back].thickness;
    f->source.case_material = stock;
    f->source.back_material = back;
}

static void expect_case(const struct fixture *f, const char *name, size_t count, dw_length length, dw_length width)
{
    const struct dw_part *part = fixture_named(f, name);
    if (part == NULL)
        fail_msg("no %s", name);
    assert_int_equal(part->count, count);
    assert_int_equal(part->length.value, length);
    assert_int_equal(part->width.value, width);
    assert_int_equal(dw_figure_again(&part->length), length);
    assert_int_equal(dw_figure_again(&part->width), width);
}

/* Chris Gleason, "A Contemporary Mobile File Cabinet", Popular Woodworking no. 131, Dec 2002: 15-1/2 wide, 22 high and deep, 3/4 ply; sides 2 @
 * 21-1/2 x 21-1/2, top and bottom 2 @ 21-1/2 x 14, back 14 x 20-1/2, and twelve pieces of 1/4 edge trim, which the plywood sizes leave out. */
static void test_gleason(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t ply = fixture_material(&f, "ply", IN(3, 4));
    f.bandings[0] = (struct dw_banding){.id = "trim", .name = "edge trim", .thickness = IN(1, 4), .width = IN(3, 4), .roll = 24 * DW_INCH};
    f.job.shop.banding_count = 1;
    open_case(&f, INCHES(15, 1, 2), 22 * DW_INCH, 22 * DW_INCH, ply, ply);
    f.source.edging = 0;
    f.source.edging_round = true;
    fixture_make(&f);
    expect_case(&f, "case side", 2, INCHES(21, 1, 2), INCHES(21, 1, 2));
    expect_case(&f, "case top", 1, 14 * DW_INCH, INCHES(21, 1, 2));
    expect_case(&f, "case bottom", 1, 14 * DW_INCH, INCHES(21, 1, 2));
    expect_case(&f, "case back", 1, INCHES(20, 1, 2), 14 * DW_INCH);
    assert_int_equal(f.parts->need_count, 1);
    assert_int_equal(f.parts->needs[0].count, 12);
    assert_int_equal(fixture_named(&f, "case side")->finished_length, 22 * DW_INCH);
    fixture_close(&f);
}

/* A face-frame case of three banks: the frame fills the face, the carcass stands behind it, and what is inside fits between. */
static void test_face_frame(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t ply = fixture_material(&f, "ply", IN(23, 32));
    const size_t thin = fixture_material(&f, "thin", IN(7, 32));
    const size_t frame = fixture_material(&f, "frame", IN(3, 4));
    open_case(&f, 50 * DW_INCH, 64 * DW_INCH, 16 * DW_INCH, ply, thin);
    struct dw_case *source = &f.source;
    source->style = DW_FACE_FRAME;
    source->frame_material = frame;
    source->frame_thickness = IN(3, 4);
    source->stile = INCHES(1, 1, 2);
    source->rail_top = 2 * DW_INCH;
    source->rail_bottom = INCHES(1, 1, 2);
    source->kick = 4 * DW_INCH;
    source->partition = INCHES(1, 1, 2);
    source->partition_behind = IN(23, 32);
    source->bank_count = f.sized.bank_count = 3;
    f.sized.opening = (struct dw_rectangle){.width = 47 * DW_INCH, .height = 64 * DW_INCH - 4 * DW_INCH - INCHES(3, 1, 2)};
    fixture_make(&f);
    const dw_length inside = 50 * DW_INCH - 2 * IN(23, 32);
    const dw_length deep = 16 * DW_INCH - IN(3, 4);
    const dw_length high = 64 * DW_INCH - INCHES(5, 1, 2) - IN(23, 32); /* from the bottom, flush with the bottom rail, to the top */
    expect_case(&f, "case side", 2, 64 * DW_INCH, deep);
    expect_case(&f, "case top", 1, inside, deep);
    expect_case(&f, "case bottom", 1, inside, deep);
    expect_case(&f, "case back", 1, high, inside);
    expect_case(&f, "partition", 2, high, deep - IN(7, 32));
    expect_case(&f, "stile", 2, 60 * DW_INCH, INCHES(1, 1, 2));
    expect_case(&f, "top rail", 1, 47 * DW_INCH, 2 * DW_INCH);
    expect_case(&f, "bottom rail", 1, 47 * DW_INCH, INCHES(1, 1, 2));
    expect_case(&f, "middle stile", 2, 60 * DW_INCH - INCHES(3, 1, 2), INCHES(1, 1, 2));
    expect_case(&f, "kick board", 1, inside, 4 * DW_INCH);
    fixture_close(&f);
}

static void test_stretchers_stand_for_a_top(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_MILLIMETER);
    const size_t ply = fixture_material(&f, "ply", 18 * DW_MM);
    open_case(&f, 600 * DW_MM, 720 * DW_MM, 560 * DW_MM, ply, ply);
    f.source.stretcher = 100 * DW_MM;
    fixture_make(&f);
    expect_case(&f, "stretcher", 2, 564 * DW_MM, 100 * DW_MM);
    assert_null(fixture_named(&f, "case top"));
    fixture_close(&f);
}

/* Rails between drawers: lying flat when as thick as the rail is high, else on edge. Those of copies are marked apart. */
static void test_rails(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t ply = fixture_material(&f, "ply", IN(3, 4));
    const size_t half = fixture_material(&f, "half", IN(1, 2));
    open_case(&f, INCHES(26, 1, 2), 30 * DW_INCH, 22 * DW_INCH, ply, ply);
    f.source.count = 2;
    for (int i = 0; i < 3; i++)
        fixture_drawer(&f, 0, 24 * DW_INCH, 6 * DW_INCH, 20 * DW_INCH, half, half, DW_BUTT);
    f.sized_banks[0].opening_width = fixture_figure("opening width", 25 * DW_INCH);
    f.drawers[0][0].rail_below = (struct dw_rail){.kind = DW_RAIL_REAL, .height = IN(3, 4)};
    f.drawers[0][1].rail_below = (struct dw_rail){.kind = DW_RAIL_REAL, .height = 2 * DW_INCH};
    fixture_drawer(&f, 0, 24 * DW_INCH, 6 * DW_INCH, 20 * DW_INCH, half, half, DW_BUTT);
    f.drawers[0][2].rail_below = (struct dw_rail){.kind = DW_RAIL_DUMMY, .height = IN(3, 4)};
    fixture_make(&f);
    expect_case(&f, "dummy rail", 2, 25 * DW_INCH, IN(3, 4));
    const struct dw_part *rail = NULL;
    size_t rails = 0;
    for (size_t i = 0; i < f.parts->count; i++)
        if (strcmp(f.parts->at[i].name, "rail") == 0) {
            rail = &f.parts->at[i];
            assert_int_equal(rail->count, 2);
            assert_int_equal(rail->length.value, 25 * DW_INCH);
            assert_int_equal(rail->width.value, rails == 0 ? 3 * DW_INCH : 2 * DW_INCH);
            assert_string_equal(rail->pieces[1].mark, rails == 0 ? "A2-1.1RL" : "A2-1.2RL");
            rails++;
        }
    assert_int_equal(rails, 2);
    fixture_close(&f);
}

/* Packing behind the slides of a face-frame case: as long as the slide, of the case's stock where that nearly fills the gap, else in layers
 * of other stock that the job cuts, fronts' last, and of a sheet bought for it where nothing else goes in; what is missing is said. */
static void test_packing(void **state)
{
    (void)state;
    const struct {
        dw_length gap;
        bool of_case;
        size_t layers, materials[4];
        const char *mark, *cure;
    } rows[] = {
        {IN(25, 32), true, 1, {1}, "A-1.1PR", "shims of 1/16 in with it"},
        {IN(25, 32), false, 2, {0, 2}, "A-1.1PR2", "shims of 1/32 in with it"}, /* 1/2 + 1/4; the 3/4 is not cut otherwise */
        {IN(1, 2), false, 1, {0}, "A-1.1PR", NULL},
        {2 * DW_INCH, false, 4, {0, 0, 0, 0}, "A-1.1PR4", NULL},
        {IN(23, 32), true, 1, {1}, "A-1.1PR", NULL},
        {IN(7, 32), false, 1, {4}, "A-1.1PR", "shims of 3/32 in with it"}, /* all that the job cuts is thicker */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fixture f;
        fixture_open(&f, DW_IN);
        const size_t half = fixture_material(&f, "half", IN(1, 2));
        const size_t ply = fixture_material(&f, "ply", IN(23, 32));
        const size_t quarter = fixture_material(&f, "quarter", IN(1, 4));
        (void)fixture_material(&f, "three", IN(3, 4));
        (void)fixture_material(&f, "eighth", IN(1, 8));
        fixture_drawer(&f, 0, 13 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, half, quarter, DW_BUTT)->front.material = ply;
        fixture_front(&f, 0, 0, 0, 0, 14 * DW_INCH, 5 * DW_INCH);
        f.source.case_material = rows[i].of_case ? ply : DW_NO_INDEX;
        f.sized_drawers[0][0].packing[0] = f.sized_drawers[0][0].packing[1] = rows[i].gap;
        fixture_make(&f);
        size_t wanted[FIXTURE_MATERIALS] = {0};
        for (size_t k = 0; k < rows[i].layers; k++)
            wanted[rows[i].materials[k]] += 2; /* left and right */
        bool marked = false;
        for (size_t k = 0; k < f.parts->count; k++) {
            const struct dw_part *part = &f.parts->at[k];
            if (part->kind != DW_PART_PACKING)
                continue;
            assert_int_equal(part->count, wanted[part->material]);
            assert_int_equal(part->length.value, 20 * DW_INCH);
            assert_int_equal(part->width.value, 2 * DW_INCH);
            wanted[part->material] = 0;
            marked = marked || strcmp(part->pieces[part->count - 1].mark, rows[i].mark) == 0;
        }
        for (size_t k = 0; k < FIXTURE_MATERIALS; k++)
            assert_int_equal(wanted[k], 0);
        assert_true(marked);
        const struct dw_fault *warning = fixture_fault(&f, "packing-short");
        assert_int_equal(warning != NULL, rows[i].cure != NULL);
        if (rows[i].cure != NULL)
            assert_string_equal(warning->cure, rows[i].cure);
        fixture_close(&f);
    }
}

/* A gap that shims fill alone: nothing is cut for it, and that is said once for both sides. */
static void test_packing_of_shims(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t half = fixture_material(&f, "half", IN(1, 2));
    fixture_drawer(&f, 0, 13 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, half, half, DW_BUTT);
    f.sized_drawers[0][0].packing[0] = f.sized_drawers[0][0].packing[1] = IN(1, 8);
    fixture_make(&f);
    for (size_t i = 0; i < f.parts->count; i++)
        assert_int_not_equal(f.parts->at[i].kind, DW_PART_PACKING);
    assert_string_equal(fixture_fault(&f, "packing-thin")->cure, "shims of 1/8 in");
    size_t said = 0;
    for (size_t i = 0; i < f.faults->count; i++)
        said += strcmp(f.faults->at[i].code, "packing-thin") == 0 ? 1 : 0;
    assert_int_equal(said, 1);
    fixture_close(&f);
}

static void test_cases_that_cannot_be_derived(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t ply = fixture_material(&f, "ply", IN(3, 4));
    open_case(&f, 20 * DW_INCH, 30 * DW_INCH, DW_LENGTH_UNSET, ply, ply);
    assert_int_equal(dw_parts_make(&f.sizing, f.arena, f.faults, &f.parts), DW_INPUT);
    assert_non_null(fixture_fault(&f, "no-outside"));
    open_case(&f, DW_INCH, 30 * DW_INCH, 20 * DW_INCH, ply, ply);
    (void)dw_parts_make(&f.sizing, f.arena, f.faults, &f.parts);
    assert_non_null(fixture_fault(&f, "no-room"));
    f.source.case_material = DW_NO_INDEX;
    (void)dw_parts_make(&f.sizing, f.arena, f.faults, &f.parts);
    assert_string_equal(fixture_fault(&f, "no-material")->address, "cases[0].material");
    fixture_close(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_gleason), cmocka_unit_test(test_face_frame), cmocka_unit_test(test_stretchers_stand_for_a_top),
        cmocka_unit_test(test_rails),   cmocka_unit_test(test_packing), cmocka_unit_test(test_packing_of_shims),    cmocka_unit_test(test_cases_that_cannot_be_derived),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
