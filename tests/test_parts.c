/* test_parts.c - parts against published lists, and marks, gathering and spares.
 *
 * The sources stand beside each check. Where a list was published, every size in it is checked.
 */
#include "parts_fixture.h"

/* Chris Gleason, "A Contemporary Mobile File Cabinet", Popular Woodworking no. 131, Dec 2002, p. 82 ff: three inset false fronts over
 * rabbet-and-dado boxes 13 wide and 20 deep, 4, 4 and 10 high, of 1/2 ply with 1/4 dadoes; 1/4 bottoms in 1/4 grooves, none taken off. */
static void test_gleason(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t half = fixture_material(&f, "half", IN(1, 2));
    const size_t quarter = fixture_material(&f, "quarter", IN(1, 4));
    const size_t three = fixture_material(&f, "three", IN(3, 4));
    const dw_length heights[] = {4 * DW_INCH, 4 * DW_INCH, 10 * DW_INCH};
    const dw_length fronts[] = {INCHES(4, 1, 4), INCHES(4, 1, 4), INCHES(11, 1, 2)};
    for (size_t i = 0; i < 3; i++) {
        fixture_drawer(&f, 0, 13 * DW_INCH, heights[i], 20 * DW_INCH, half, quarter, DW_RABBET_AND_DADO)->front.material = three;
        fixture_front(&f, 0, i, -IN(3, 8), -IN(1, 8), INCHES(13, 3, 4), fronts[i]);
    }
    fixture_make(&f);
    fixture_expect(&f, DW_PART_SIDE, 0, 2, 20 * DW_INCH, 10 * DW_INCH);
    fixture_expect(&f, DW_PART_SIDE, 1, 4, 20 * DW_INCH, 4 * DW_INCH);
    fixture_expect(&f, DW_PART_BOX_FRONT, 0, 1, INCHES(12, 1, 2), 10 * DW_INCH);
    fixture_expect(&f, DW_PART_BOX_FRONT, 1, 2, INCHES(12, 1, 2), 4 * DW_INCH);
    fixture_expect(&f, DW_PART_BACK, 0, 1, INCHES(12, 1, 2), 10 * DW_INCH);
    fixture_expect(&f, DW_PART_BACK, 1, 2, INCHES(12, 1, 2), 4 * DW_INCH);
    fixture_expect(&f, DW_PART_BOTTOM, 0, 3, INCHES(12, 1, 2), INCHES(19, 1, 2));
    fixture_expect(&f, DW_PART_FRONT, 0, 1, INCHES(13, 3, 4), INCHES(11, 1, 2));
    fixture_expect(&f, DW_PART_FRONT, 1, 2, INCHES(13, 3, 4), INCHES(4, 1, 4));
    assert_int_equal(f.faults->count, 0);

    /* the joint: a 1/4 groove in the side, 1/4 from its end, which the tongue fills */
    const struct dw_part_work *dado = fixture_work(fixture_part(&f, DW_PART_SIDE, 0), DW_WORK_DADO);
    assert_non_null(dado);
    assert_int_equal(dado->width, IN(1, 4));
    assert_int_equal(dado->depth, IN(1, 4));
    assert_int_equal(dado->from_edge, IN(1, 4));
    assert_string_equal(dado->where, "inside face, both ends");
    fixture_close(&f);
}

/* Finger-jointed drawers of a Fine Woodworking tool cabinet as listed at woodworkerswebsite.com: sides 2-19/32 x 10-1/4, fronts and backs
 * 2-19/32 x 14-15/16, bottoms 9-3/4 x 14-7/16; 1/4 fingers 1/2 deep, bottom rabbet 1/4 x 1/4. */
static void test_finger_jointed(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t half = fixture_material(&f, "half", IN(1, 2));
    const size_t quarter = fixture_material(&f, "quarter", IN(1, 4));
    for (int i = 0; i < 6; i++)
        fixture_drawer(&f, 0, INCHES(14, 15, 16), INCHES(2, 19, 32), INCHES(10, 1, 4), half, quarter, DW_FINGER)->box.bottom = DW_BOTTOM_RABBETED;
    fixture_make(&f);
    fixture_expect(&f, DW_PART_SIDE, 0, 12, INCHES(10, 1, 4), INCHES(2, 19, 32));
    fixture_expect(&f, DW_PART_BOX_FRONT, 0, 6, INCHES(14, 15, 16), INCHES(2, 19, 32));
    fixture_expect(&f, DW_PART_BACK, 0, 6, INCHES(14, 15, 16), INCHES(2, 19, 32));
    fixture_expect(&f, DW_PART_BOTTOM, 0, 6, INCHES(14, 7, 16), INCHES(9, 3, 4));
    const struct dw_part_work *fingers = fixture_work(fixture_part(&f, DW_PART_SIDE, 0), DW_WORK_FINGERS);
    assert_non_null(fingers);
    assert_int_equal(fingers->width, IN(1, 4));
    assert_int_equal(fingers->depth, IN(1, 2));
    const struct dw_part_work *rabbet = fixture_work(fixture_part(&f, DW_PART_SIDE, 0), DW_WORK_RABBET);
    assert_non_null(rabbet);
    assert_int_equal(rabbet->width, IN(1, 4));
    assert_int_equal(rabbet->depth, IN(1, 4));
    /* ten fingers of 1/4 leave 3/32 of 2-19/32: the nearest heights that end well are offered */
    const struct dw_fault *warning = fixture_fault(&f, "ends-short");
    assert_non_null(warning);
    assert_string_equal(warning->cure, "heights that end well: 2 1/2 in and 2 3/4 in");
    assert_int_equal(f.faults->count, 6); /* once for each drawer */
    fixture_close(&f);
}

/* "Distinctive Tool Cabinet", Popular Woodworking: clear width 31, box 30; fronts and backs 30 x 1, 2, 3, 5 (2, 4, 6, 2 of them); sides 17-5/8
 * long of the same heights, their 3/16 lock joints at each end making 18; bottoms 1/2 x 18 x 30 applied under the box, as large as its
 * outside; attached fronts 30-3/4 wide, 1-3/4, 2-7/8, 4-3/4 and 7-1/4 high. */
static void test_applied_bottoms(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t half = fixture_material(&f, "half", IN(1, 2));
    const size_t three = fixture_material(&f, "three", IN(3, 4));
    const int heights[] = {1, 2, 2, 3, 3, 3, 5};
    const dw_length fronts[] = {INCHES(1, 3, 4), INCHES(2, 7, 8), INCHES(2, 7, 8), INCHES(4, 3, 4), INCHES(4, 3, 4), INCHES(4, 3, 4), INCHES(7, 1, 4)};
    for (size_t i = 0; i < 7; i++) {
        struct dw_drawer *drawer = fixture_drawer(&f, i / 4, 30 * DW_INCH, heights[i] * DW_INCH + IN(1, 2), 18 * DW_INCH, half, half, DW_LOCK_RABBET);
        drawer->box.front.lap = drawer->box.back.lap = IN(3, 16);
        drawer->box.bottom = DW_BOTTOM_APPLIED;
        drawer->front.material = three;
        fixture_front(&f, i / 4, i % 4, -IN(3, 8), 0, INCHES(30, 3, 4), fronts[i]);
    }
    fixture_make(&f);
    const size_t order[] = {5, 3, 2, 1}; /* heights, highest first */
    const size_t count[] = {1, 3, 2, 1};
    for (size_t i = 0; i < 4; i++) {
        fixture_expect(&f, DW_PART_BOX_FRONT, i, count[i], 30 * DW_INCH, (dw_length)order[i] * DW_INCH);
        fixture_expect(&f, DW_PART_BACK, i, count[i], 30 * DW_INCH, (dw_length)order[i] * DW_INCH);
        fixture_expect(&f, DW_PART_SIDE, i, 2 * count[i], INCHES(17, 5, 8), (dw_length)order[i] * DW_INCH);
    }
    fixture_expect(&f, DW_PART_BOTTOM, 0, 7, 30 * DW_INCH, 18 * DW_INCH);
    fixture_expect(&f, DW_PART_FRONT, 0, 1, INCHES(30, 3, 4), INCHES(7, 1, 4));
    fixture_expect(&f, DW_PART_FRONT, 1, 3, INCHES(30, 3, 4), INCHES(4, 3, 4));
    fixture_expect(&f, DW_PART_FRONT, 2, 2, INCHES(30, 3, 4), INCHES(2, 7, 8));
    fixture_expect(&f, DW_PART_FRONT, 3, 1, INCHES(30, 3, 4), INCHES(1, 3, 4));
    fixture_close(&f);
}

/* Sizes come from the stock as measured. A page on drawer widths (1kfe.com): 15 in opening, 1/2 slides, "1/2" ply of 15/32: the front between
 * the sides is the opening less 2 plus 1/16. With true 1/2 sides it is the opening less 2 (Chris Salomone, Pro Remodeler, 12 May 2017). */
static void test_measured_thickness(void **state)
{
    (void)state;
    const struct {
        dw_length box, side, front;
    } rows[] = {
        {14 * DW_INCH, IN(15, 32), INCHES(13, 1, 16)},
        {14 * DW_INCH, IN(1, 2), 13 * DW_INCH},
        {INCHES(27, 9, 16), IN(15, 32), INCHES(26, 5, 8)}, /* opening 28-9/16 in a case of 23/32 sides; common practice, no source */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fixture f;
        fixture_open(&f, DW_IN);
        const size_t stock = fixture_material(&f, "stock", rows[i].side);
        fixture_drawer(&f, 0, rows[i].box, 4 * DW_INCH, 18 * DW_INCH, stock, stock, DW_BUTT)->box.groove_depth = IN(1, 8);
        fixture_make(&f);
        fixture_expect(&f, DW_PART_BOX_FRONT, 0, 1, rows[i].front, 4 * DW_INCH);
        fixture_expect(&f, DW_PART_BACK, 0, 1, rows[i].front, 4 * DW_INCH);
        fixture_expect(&f, DW_PART_SIDE, 0, 2, 18 * DW_INCH, 4 * DW_INCH);
        fixture_close(&f);
    }
}

/* Neal Barrett, side table, Popular Mechanics: sides 1/2 x 3-1/2 x 16-1/4, back 1/2 x 3 x 16-3/4, bottom 1/4 x 16-3/4 wide. Back height = side
 * height - 1/2, bottom width = back length, both groove to groove of a box 17-1/4 wide. (How the sides meet the 13/16 face, 3-15/16 x 18-3/8, is
 * not told, so the bottom's 15-1/16 from front to back cannot be reckoned.) Also Schwarz and Thiel, "Four Good Ways to Build Drawers",
 * Popular Woodworking no. 143, Oct 2004: back 1/2 narrower than the sides over a 1/4 bottom in a 1/4 groove. */
static void test_slid_in(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t half = fixture_material(&f, "half", IN(1, 2));
    const size_t quarter = fixture_material(&f, "quarter", IN(1, 4));
    const size_t face = fixture_material(&f, "face", IN(13, 16));
    struct dw_drawer *drawer = fixture_drawer(&f, 0, INCHES(17, 1, 4), INCHES(3, 1, 2), INCHES(16, 1, 4) + IN(13, 16) - IN(3, 8), half, quarter,
                                              DW_RABBET_AND_DADO);
    drawer->box.bottom = DW_BOTTOM_SLID_IN;
    drawer->box.front = fixture_corner(DW_HALF_BLIND);
    drawer->box.front.lap = IN(13, 16) - IN(3, 8);
    drawer->front.kind = DW_FRONT_IS_BOX_FRONT;
    drawer->front.material = face;
    fixture_front(&f, 0, 0, -IN(9, 16), -IN(7, 32), INCHES(18, 3, 8), INCHES(3, 15, 16));
    fixture_make(&f);
    fixture_expect(&f, DW_PART_BACK, 0, 1, INCHES(16, 3, 4), 3 * DW_INCH);
    fixture_expect(&f, DW_PART_SIDE, 0, 2, INCHES(16, 1, 4), INCHES(3, 1, 2));
    fixture_expect(&f, DW_PART_FRONT, 0, 1, INCHES(18, 3, 8), INCHES(3, 15, 16));
    assert_int_equal(fixture_part(&f, DW_PART_BOTTOM, 0)->length.value, INCHES(16, 3, 4));
    assert_null(fixture_part(&f, DW_PART_BOX_FRONT, 0));
    assert_null(fixture_work(fixture_part(&f, DW_PART_BACK, 0), DW_WORK_GROOVE));
    /* the face's groove lies as far above its own lower edge as that hangs below the sides */
    assert_int_equal(fixture_work(fixture_part(&f, DW_PART_FRONT, 0), DW_WORK_GROOVE)->from_edge, IN(1, 4) + IN(7, 32));
    fixture_close(&f);
}

/* A front that is the box front, rabbeted over the sides' ends. Beyond the box it keeps a dado for the side; where that would leave a sliver
 * beside it, the rabbet is wider by what the front stands past the box (common practice, no source). */
static void test_front_rabbeted_over_the_sides(void **state)
{
    (void)state;
    const struct {
        dw_length past;
        enum dw_work_kind kind;
        dw_length from_edge, width;
    } rows[] = {{0, DW_WORK_RABBET, 0, IN(1, 2)}, {IN(1, 32), DW_WORK_RABBET, 0, IN(17, 32)}, {IN(3, 8), DW_WORK_DADO, IN(3, 8), IN(1, 2)}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fixture f;
        fixture_open(&f, DW_IN);
        const size_t half = fixture_material(&f, "half", IN(1, 2));
        const size_t face = fixture_material(&f, "face", IN(3, 4));
        struct dw_drawer *drawer = fixture_drawer(&f, 0, 16 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, half, half, DW_RABBET_AND_DADO);
        drawer->box.front = fixture_corner(DW_RABBET);
        drawer->box.front.cross_outside = DW_YES;
        drawer->front.kind = DW_FRONT_IS_BOX_FRONT;
        drawer->front.material = face;
        fixture_front(&f, 0, 0, -rows[i].past, 0, 16 * DW_INCH + 2 * rows[i].past, 4 * DW_INCH);
        fixture_make(&f);
        const struct dw_part_work *cut = fixture_work(fixture_part(&f, DW_PART_FRONT, 0), rows[i].kind);
        assert_non_null(cut);
        assert_int_equal(cut->from_edge, rows[i].from_edge);
        assert_int_equal(cut->width, rows[i].width);
        fixture_close(&f);
    }
}

/* "Simple & Fast Rabbeted Drawers", Popular Woodworking: sides and bottom exactly 1/2; rabbets 1/2 wide and 1/4 deep in the sides' ends, a
 * 1/4 x 1/4 groove, a 1/4 x 1/4 rabbet round the bottom; built to the size of the opening except in depth: opening - 1/2. Here an opening of
 * 16 x 6 x 20. The bottom's tongue fills the 1/4 groove, so its groove is planned as for a 1/4 bottom. */
static void test_rabbeted_drawer(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t half = fixture_material(&f, "half", IN(1, 2));
    const size_t quarter = fixture_material(&f, "quarter", IN(1, 4));
    fixture_drawer(&f, 0, 16 * DW_INCH, 6 * DW_INCH, INCHES(19, 1, 2), half, quarter, DW_RABBET);
    fixture_make(&f);
    fixture_expect(&f, DW_PART_SIDE, 0, 2, INCHES(19, 1, 2), 6 * DW_INCH);
    fixture_expect(&f, DW_PART_BOX_FRONT, 0, 1, INCHES(15, 1, 2), 6 * DW_INCH);
    fixture_expect(&f, DW_PART_BOTTOM, 0, 1, INCHES(15, 1, 2), 19 * DW_INCH);
    const struct dw_part_work *rabbet = fixture_work(fixture_part(&f, DW_PART_SIDE, 0), DW_WORK_RABBET);
    assert_int_equal(rabbet->width, IN(1, 2));
    assert_int_equal(rabbet->depth, IN(1, 4));
    const struct dw_part_work *groove = fixture_work(fixture_part(&f, DW_PART_SIDE, 0), DW_WORK_GROOVE);
    assert_int_equal(groove->width, IN(1, 4));
    assert_int_equal(groove->depth, IN(1, 4));
    fixture_close(&f);
}

/* Lipped drawers, Popular Woodworking no. 152, Dec 2005, p. 67: back length = front - 2 x 1/4 rabbets; side length = case depth - 1/4; a 1/4 top
 * rabbet leaves 1/32 of clearance, so it covers 7/32. Here a front of 12 over a case 18 deep; the sides stop at the front's inner face, and the
 * box is its outside: front + sides. */
static void test_lipped(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t half = fixture_material(&f, "half", IN(1, 2));
    const size_t quarter = fixture_material(&f, "quarter", IN(1, 4));
    const size_t three = fixture_material(&f, "three", IN(3, 4));
    struct dw_drawer *drawer = fixture_drawer(&f, 0, INCHES(11, 1, 2), 5 * DW_INCH, INCHES(17, 3, 4) + IN(3, 4), half, quarter, DW_THROUGH);
    drawer->box.front = fixture_corner(DW_BUTT);
    drawer->box.front.cross_outside = true;
    drawer->front.kind = DW_FRONT_IS_BOX_FRONT;
    drawer->front.material = three;
    drawer->fit = (struct dw_fit){.kind = DW_LIPPED, .lip = IN(3, 8)};
    for (int edge = 0; edge < DW_EDGES; edge++)
        f.sized_drawers[0][0].overlay[edge].value = IN(7, 32);
    fixture_front(&f, 0, 0, -IN(1, 4), -IN(1, 4), 12 * DW_INCH, INCHES(5, 1, 2));
    fixture_make(&f);
    fixture_expect(&f, DW_PART_BACK, 0, 1, 12 * DW_INCH - 2 * IN(1, 4), 5 * DW_INCH);
    fixture_expect(&f, DW_PART_SIDE, 0, 2, 18 * DW_INCH - IN(1, 4), 5 * DW_INCH);
    const struct dw_part_work *lip = fixture_work(fixture_part(&f, DW_PART_FRONT, 0), DW_WORK_LIP);
    assert_non_null(lip);
    assert_int_equal(lip->width, IN(1, 4));
    assert_int_equal(lip->depth, IN(3, 8));
    fixture_close(&f);
}

/* A published list that does not add up: 1 x 4 pine drawers (furnituremaking.us), fronts and backs 12 long, sides 20, a 1/4 x 1/4 groove 3/8
 * up, bottom 11 x 20. With 3/4 stock and the front and back lapping the sides the grooves are 11 x 20-1/2 apart: the bottom as printed is 1/2
 * short from front to back and held by nothing there. */
static void test_list_that_does_not_add_up(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t pine = fixture_material(&f, "pine", IN(3, 4));
    const size_t quarter = fixture_material(&f, "quarter", IN(1, 4));
    struct dw_drawer *drawer = fixture_drawer(&f, 0, 12 * DW_INCH, INCHES(3, 1, 2), INCHES(21, 1, 2), pine, quarter, DW_BUTT);
    drawer->box.front.cross_outside = drawer->box.back.cross_outside = true;
    drawer->box.groove_depth = IN(1, 4);
    drawer->box.groove_up = IN(3, 8);
    fixture_make(&f);
    fixture_expect(&f, DW_PART_BOX_FRONT, 0, 1, 12 * DW_INCH, INCHES(3, 1, 2));
    fixture_expect(&f, DW_PART_SIDE, 0, 2, 20 * DW_INCH, INCHES(3, 1, 2));
    fixture_expect(&f, DW_PART_BOTTOM, 0, 1, 11 * DW_INCH, INCHES(20, 1, 2));
    /* the printed bottom is what a clearance of 1/2 would give, and that is refused */
    drawer->box.bottom_clearance = IN(1, 2);
    fixture_refuses(&f, "bottom-loose", "less clearance");
    assert_non_null(strstr(fixture_fault(&f, "bottom-loose")->wrong, "1/2 in less than the grooves are apart"));
    fixture_close(&f);
}

/* Undermount, opening 381 mm: inside = opening - 42 = 339, outside with 12 mm sides 363 (the rule of probox drawers and drawer.com: 21 mm from
 * the case to the inside of the box on each side). */
static void test_undermount(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_MILLIMETER);
    f.slide = (struct dw_slide){.id = "under", .name = "undermount slide", .kind = DW_UNDERMOUNT, .inside_less = 42 * DW_MM, .recess = 13 * DW_MM};
    const size_t side = fixture_material(&f, "side", 12 * DW_MM);
    const size_t bottom = fixture_material(&f, "bottom", 6 * DW_MM);
    fixture_drawer(&f, 0, 363 * DW_MM, 120 * DW_MM, 500 * DW_MM, side, bottom, DW_BUTT);
    fixture_make(&f);
    fixture_expect(&f, DW_PART_BOX_FRONT, 0, 1, 339 * DW_MM, 120 * DW_MM);
    /* the bottom lies as high as the slide asks, whatever the groove's habit, and the back is notched for it */
    assert_int_equal(fixture_work(fixture_part(&f, DW_PART_SIDE, 0), DW_WORK_GROOVE)->from_edge, 13 * DW_MM);
    assert_int_equal(fixture_work(fixture_part(&f, DW_PART_BACK, 0), DW_WORK_NOTCH)->width, 0);
    f.slide.notch = 35 * DW_MM;
    fixture_make(&f);
    const struct dw_part_work *notch = fixture_work(fixture_part(&f, DW_PART_BACK, 0), DW_WORK_NOTCH);
    assert_int_equal(notch->width, 35 * DW_MM);
    assert_string_equal(notch->words, "lower corners: notch 13 high for the slides, width 35");
    fixture_close(&f);
}

/* ---- figuring, marks, gathering, spares ------------------------------------------------------------------ */

static void test_figuring_gives_every_size(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t stock = fixture_material(&f, "stock", IN(15, 32));
    const size_t bottom = fixture_material(&f, "bottom", IN(7, 32));
    fixture_drawer(&f, 0, 13 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, stock, bottom, DW_RABBET_AND_DADO)->box.bottom_clearance = IN(1, 32);
    fixture_make(&f);
    for (size_t i = 0; i < f.parts->count; i++) {
        assert_int_equal(dw_figure_again(&f.parts->at[i].length), f.parts->at[i].length.value);
        assert_int_equal(dw_figure_again(&f.parts->at[i].width), f.parts->at[i].width.value);
    }
    const struct dw_figure *length = &fixture_part(&f, DW_PART_BOX_FRONT, 0)->length;
    assert_int_equal(length->step_count, 3);
    assert_string_equal(length->steps[1].words, "less two sides of 15/32");
    fixture_close(&f);
}

static void test_marks(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t stock = fixture_material(&f, "stock", IN(1, 2));
    f.source.count = 2;
    for (size_t bank = 0; bank < 2; bank++)
        for (int i = 0; i < 3; i++)
            fixture_drawer(&f, bank, 13 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, stock, stock, DW_BUTT)->box.groove_depth = IN(1, 4);
    fixture_make(&f);
    const struct dw_part *side = fixture_part(&f, DW_PART_SIDE, 0);
    assert_int_equal(side->count, 24);
    assert_string_equal(side->pieces[0].mark, "A1-1.1L");
    assert_string_equal(side->pieces[1].mark, "A1-1.1R");
    assert_string_equal(side->pieces[23].mark, "A2-2.3R");
    assert_int_equal(side->pieces[23].case_copy, 1);
    assert_int_equal(side->pieces[23].drawer_index, 2);
    assert_string_equal(f.parts->case_letters[0], "A");
    /* every mark in the plan is another one, and fits on tape */
    for (size_t p = 0; p < f.parts->count; p++)
        for (size_t i = 0; i < f.parts->at[p].count; i++) {
            assert_true(strlen(f.parts->at[p].pieces[i].mark) <= 10);
            for (size_t q = p; q < f.parts->count; q++)
                for (size_t k = q == p ? i + 1 : 0; k < f.parts->at[q].count; k++)
                    assert_string_not_equal(f.parts->at[p].pieces[i].mark, f.parts->at[q].pieces[k].mark);
        }
    fixture_close(&f);
}

/* Two drawers that differ in one thing only must not share the part that it changes. */
static void test_only_alike_parts_are_gathered(void **state)
{
    (void)state;
    enum change { NONE, GROOVE_UP, GROOVE_DEPTH, MATERIAL, JOINT, BANDING, GRAIN };
    const struct {
        enum change change;
        enum dw_part_kind kind;
        size_t parts; /* of that kind */
    } rows[] = {{NONE, DW_PART_SIDE, 1},         {NONE, DW_PART_FRONT, 1},        {GROOVE_UP, DW_PART_SIDE, 2}, {GROOVE_DEPTH, DW_PART_BACK, 2},
                {MATERIAL, DW_PART_SIDE, 2},     {JOINT, DW_PART_BACK, 2},        {BANDING, DW_PART_FRONT, 2},  {GRAIN, DW_PART_FRONT, 2},
                {GROOVE_UP, DW_PART_BOTTOM, 1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fixture f;
        fixture_open(&f, DW_IN);
        f.bandings[0] = (struct dw_banding){.id = "tape", .name = "tape", .thickness = 0, .width = DW_INCH, .roll = 25 * 12 * DW_INCH};
        f.job.shop.banding_count = 1;
        const size_t stock = fixture_material(&f, "stock", IN(1, 2));
        const size_t other = fixture_material(&f, "other", IN(1, 2));
        const size_t bottom = fixture_material(&f, "bottom", IN(1, 4));
        fixture_drawer(&f, 0, 12 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, stock, bottom, DW_BUTT);
        struct dw_drawer *changed = fixture_drawer(&f, 0, 12 * DW_INCH, 4 * DW_INCH, 20 * DW_INCH, stock, bottom, DW_BUTT);
        fixture_front(&f, 0, 0, 0, 0, 12 * DW_INCH, 12 * DW_INCH);
        fixture_front(&f, 0, 1, 0, 0, 12 * DW_INCH, 12 * DW_INCH);
        switch (rows[i].change) {
        case NONE: break;
        case GROOVE_UP: changed->box.groove_up = IN(1, 2); break;
        case GROOVE_DEPTH: changed->box.groove_depth = IN(3, 16); break;
        case MATERIAL: changed->box.side_material = other; break;
        case JOINT: changed->box.back.joint = DW_DADO; changed->box.back.depth = IN(1, 4); break;
        case BANDING: changed->front.banding[DW_TOP] = 0; break;
        case GRAIN: changed->front.grain = DW_GRAIN_VERTICAL; break;
        }
        fixture_make(&f);
        assert_non_null(fixture_part(&f, rows[i].kind, rows[i].parts - 1));
        assert_null(fixture_part(&f, rows[i].kind, rows[i].parts));
        fixture_close(&f);
    }
}

/* Ten percent of 12 sides is 2 when rounded up; of 6 bottoms 1. The largest come first. */
static void test_spares(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    fixture_spares(&f, 10);
    const size_t stock = fixture_material(&f, "stock", IN(1, 2));
    for (int i = 0; i < 6; i++)
        fixture_drawer(&f, 0, 12 * DW_INCH, (i < 2 ? 6 : 4) * DW_INCH, 20 * DW_INCH, stock, stock, DW_BUTT);
    fixture_make(&f);
    const struct dw_part *high = fixture_part(&f, DW_PART_SIDE, 0);
    const struct dw_part *low = fixture_part(&f, DW_PART_SIDE, 1);
    assert_int_equal(high->count, 5);
    assert_int_equal(high->spares, 1);
    assert_int_equal(low->count, 9);
    assert_int_equal(low->spares, 1);
    assert_int_equal(fixture_part(&f, DW_PART_BOTTOM, 0)->spares, 1);
    assert_string_equal(high->pieces[4].drawer_path, "");
    assert_memory_equal(high->pieces[4].mark, "SP", 2);
    f.job.spares = (struct dw_spares){.bottom = 50}; /* kind by kind: half of six bottoms, and no sides */
    fixture_make(&f);
    assert_int_equal(fixture_part(&f, DW_PART_BOTTOM, 0)->spares, 3);
    assert_int_equal(fixture_part(&f, DW_PART_SIDE, 0)->spares, 0);
    fixture_close(&f);
}

/* Wherever memory gives out, the answer is DW_SURROUNDINGS and nothing is left behind. The job has something for every file of the room. */
static void test_failing_memory(void **state)
{
    (void)state;
    struct fixture f;
    fixture_open(&f, DW_IN);
    const size_t stock = fixture_material(&f, "stock", IN(1, 2));
    const struct dw_extra extra = {.name = "shelf", .group = "", .material = stock, .length = 20 * DW_INCH, .width = 9 * DW_INCH, .count = 40,
                                   .banding = {0, DW_NO_INDEX, DW_NO_INDEX, DW_NO_INDEX}};
    f.job.extras = &extra;
    f.job.extra_count = 1;
    fixture_spares(&f, 5);
    f.bandings[0] = (struct dw_banding){.id = "tape", .name = "tape", .thickness = IN(1, 32), .width = IN(3, 8), .roll = 50 * DW_INCH};
    f.job.shop.banding_count = 1;
    f.hardware[0] = (struct dw_hardware){.id = "pull", .name = "pull", .per = DW_PER_FRONT, .count = 1, .pull = true, .pack = 1};
    f.job.shop.hardware_count = 1;
    f.source.derive_parts = true;
    f.source.case_material = f.source.back_material = stock;
    f.source.side = f.source.top = f.source.bottom = f.source.back = IN(1, 2);
    f.sized.width = 14 * DW_INCH;
    f.sized.height = f.sized.depth = 30 * DW_INCH;
    for (enum dw_joint joint = DW_BUTT; joint <= DW_MITER; joint++) {
        fixture_drawer(&f, (size_t)joint % 3, 12 * DW_INCH, 5 * DW_INCH, 20 * DW_INCH, stock, stock, joint)->front.matched = true;
        f.sized_drawers[joint % 3][f.banks[joint % 3].drawer_count - 1].packing[0] = IN(3, 4);
    }
    enum dw_status status = DW_SURROUNDINGS;
    size_t n = 0;
    while (status == DW_SURROUNDINGS) {
        struct dw_arena *arena = dw_arena_new();
        dw_memory_fail_at(++n);
        status = dw_parts_make(&f.sizing, arena, f.faults, &f.parts);
        dw_memory_fail_at(0);
        assert_true(status == DW_DONE || f.parts == NULL);
        dw_arena_free(arena);
        dw_faults_free(f.faults);
        f.faults = dw_faults_new();
    }
    assert_int_equal(status, DW_DONE);
    assert_true(n > 8);
    fixture_close(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_gleason),
        cmocka_unit_test(test_finger_jointed),
        cmocka_unit_test(test_applied_bottoms),
        cmocka_unit_test(test_measured_thickness),
        cmocka_unit_test(test_slid_in),
        cmocka_unit_test(test_front_rabbeted_over_the_sides),
        cmocka_unit_test(test_rabbeted_drawer),
        cmocka_unit_test(test_lipped),
        cmocka_unit_test(test_list_that_does_not_add_up),
        cmocka_unit_test(test_undermount),
        cmocka_unit_test(test_figuring_gives_every_size),
        cmocka_unit_test(test_marks),
        cmocka_unit_test(test_only_alike_parts_are_gathered),
        cmocka_unit_test(test_spares),
        cmocka_unit_test(test_failing_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
