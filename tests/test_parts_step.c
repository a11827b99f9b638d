/* test_parts_step.c - what is cut stands on the shop's step of boxes, through sizing and parts together, whatever the stock measures.
 *
 * The stock is metric and the rule is in inches, so no thickness is on the step: only rounding in the right place brings the parts there.
 * That the box keeps its slide's tolerance, and that its width is the piece between its sides and two of them, is measured from the parts.
 */
#include "parts_fixture.h"

#include <drawerwright/files.h>

static const char SHOP[] =
    "{\"units\":\"in\",\"shop\":{\"materials\":["
    "{\"id\":\"12\",\"thickness\":\"11.7 mm\",\"sheets\":[{\"id\":\"f\",\"length\":96,\"width\":48,\"price\":50}]},"
    "{\"id\":\"9\",\"thickness\":\"8.9 mm\",\"sheets\":[{\"id\":\"f\",\"length\":96,\"width\":48,\"price\":50}]},"
    "{\"id\":\"18\",\"thickness\":\"18.2 mm\",\"sheets\":[{\"id\":\"f\",\"length\":96,\"width\":48,\"price\":50}]},"
    "{\"id\":\"6\",\"thickness\":\"6.2 mm\",\"sheets\":[{\"id\":\"f\",\"length\":96,\"width\":48,\"price\":50}]}],"
    "\"slides\":[{\"id\":\"side-mount\",\"lengths\":[16,\"450 mm\"]},{\"id\":\"undermount\",\"kind\":\"undermount\",\"lengths\":[15,\"450 mm\"]},"
    "{\"id\":\"runner\",\"kind\":\"runner\"}]},";

struct way {
    const char *joint, *back, *bottom, *slide, *front;
    bool full; /* both cross pieces run the full width */
};

/* Sizes and parts of one opening that is on no step either. */
static const struct dw_parts *make(struct dw_arena *arena, struct dw_faults *faults, const struct way *way)
{
    char text[4000];
    (void)snprintf(text, sizeof text,
                   "%s\"cases\":[{\"name\":\"C\",\"opening\":{\"width\":\"537.3 mm\",\"height\":\"411 mm\",\"depth\":\"499 mm\"},\"fit\":\"inset\","
                   "\"slide\":\"%s\",\"front\":{\"material\":\"18\",\"kind\":\"%s\"},\"box\":{\"sides\":\"12\",\"front\":\"12\",\"back\":\"12\",\"bottom\":\"6\","
                   "\"joint\":%s,\"back_joint\":%s,\"bottom_style\":\"%s\"},\"banks\":[{\"drawers\":3}]}]}",
                   SHOP, way->slide, way->front, way->joint, way->back, way->bottom);
    const struct dw_job *job = NULL;
    const struct dw_job *complete = NULL;
    const struct dw_sizing *sizing = NULL;
    const struct dw_parts *parts = NULL;
    if (dw_job_read_text(text, strlen(text), "job", NULL, NULL, arena, faults, &job) == DW_DONE && dw_job_complete(job, arena, faults, &complete) == DW_DONE &&
        dw_size(complete, arena, faults, &sizing) == DW_DONE)
        (void)dw_parts_make(sizing, arena, faults, &parts);
    for (size_t i = 0; parts == NULL && i < faults->count; i++)
        print_message("%s: %s\n", faults->at[i].address, faults->at[i].wrong);
    return parts;
}

/* The box keeps what its slide allows: never wider than the rule, never so much narrower that the tolerance is used up. */
static void check_width(const struct dw_sized_drawer *drawer, const struct dw_slide *slide, dw_length side)
{
    const dw_length opening = drawer->space.width;
    const dw_length rule = slide->kind == DW_UNDERMOUNT ? opening - slide->inside_less + 2 * side : opening - 2 * slide->clearance;
    const dw_length less = rule - drawer->box_width.value;
    assert_true(less >= 0);
    if (slide->kind == DW_SIDE_MOUNT)
        assert_true(less < slide->clearance_more);
    if (slide->kind == DW_UNDERMOUNT)
        assert_true(less < DW_INCH / 64);
}

static void check_way(const struct way *way)
{
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    const struct dw_parts *parts = make(arena, faults, way);
    if (parts == NULL)
        fail_msg("no parts: %s, %s, %s, %s, %s", way->joint, way->back, way->bottom, way->slide, way->front);
    const struct dw_sized_drawer *drawer = &parts->sizing->cases[0].banks[0].drawers[0];
    const struct dw_slide *slide = &parts->sizing->job->shop.slides[drawer->slide];
    const dw_length side = 117 * DW_MM / 10;
    const bool integral = strcmp(way->front, "box front") == 0;
    const dw_length step = slide->kind == DW_UNDERMOUNT ? DW_INCH / 64 : DW_INCH / 32; /* an undermount has no tolerance to use up */
    check_width(drawer, slide, side);
    for (size_t i = 0; i < parts->count; i++) {
        const struct dw_part *part = &parts->at[i];
        const bool is_box = part->kind == DW_PART_SIDE || part->kind == DW_PART_BOX_FRONT || part->kind == DW_PART_BACK || part->kind == DW_PART_BOTTOM;
        if (is_box && (part->length.value % step != 0 || part->width.value % step != 0))
            fail_msg("%s is cut off the step: %s, %s, %s, %s, %s", part->name, way->joint, way->back, way->bottom, way->slide, way->front);
        if (part->kind == DW_PART_BACK && way->full && !integral)
            assert_int_equal(part->length.value, drawer->box_width.value);
        assert_int_equal(dw_figure_again(&part->length), part->length.value);
        assert_int_equal(dw_figure_again(&part->width), part->width.value);
    }
    assert_int_equal(dw_figure_again(&drawer->box_width), drawer->box_width.value);
    assert_int_equal(dw_figure_again(&drawer->box_height), drawer->box_height.value);
    assert_int_equal(dw_figure_again(&drawer->box_depth), drawer->box_depth.value);
    assert_int_equal(dw_figure_again(&drawer->slide_center), drawer->slide_center.value);
    assert_int_equal(drawer->slide_center.value % (DW_INCH / 32), 0);
    dw_faults_free(faults);
    dw_arena_free(arena);
}

static void test_every_joint_bottom_and_slide(void **state)
{
    (void)state;
    const struct {
        const char *joint;
        bool full;
    } joints[] = {{"\"butt\"", false}, {"{\"joint\":\"butt\",\"cross_outside\":true}", true}, {"\"rabbet\"", false},
                  {"{\"joint\":\"rabbet\",\"cross_outside\":true}", true}, {"\"dado\"", false}, {"{\"joint\":\"dado\",\"depth\":\"5 mm\"}", false},
                  {"\"rabbet-and-dado\"", false}, {"\"lock rabbet\"", true}, {"\"finger\"", true}, {"\"half-blind dovetail\"", true},
                  {"{\"joint\":\"half-blind dovetail\",\"lap\":\"4 mm\"}", true}, {"\"through dovetail\"", true}, {"\"miter\"", true}};
    static const char *const bottoms[] = {"grooved", "slid in", "rabbeted", "applied"};
    static const char *const slides[] = {"side-mount", "undermount", "runner"};
    for (size_t j = 0; j < sizeof joints / sizeof *joints; j++)
        for (size_t b = 0; b < 4; b++)
            for (size_t s = 0; s < 3; s++) {
                const bool wants_groove = strcmp(slides[s], "undermount") == 0;
                if (wants_groove && b >= 2)
                    continue; /* refused: no-recess */
                check_way(&(struct way){joints[j].joint, joints[j].joint, bottoms[b], slides[s], "applied", joints[j].full});
            }
}

/* Where the front is the box front it has its own step, and the back settles the width; with both between the sides at the same depth too. */
static void test_fronts_that_are_box_fronts(void **state)
{
    (void)state;
    static const char *const backs[] = {"\"butt\"", "\"dado\"", "\"rabbet-and-dado\""};
    for (size_t i = 0; i < 3; i++) {
        check_way(&(struct way){"\"half-blind dovetail\"", backs[i], "grooved", "side-mount", "box front", false});
        check_way(&(struct way){"{\"joint\":\"rabbet\",\"cross_outside\":true}", backs[i], "slid in", "undermount", "box front", false});
    }
}

/* Nothing said of joints: a front that is the box front can still be built, on any slide. On a runner the front is as wide as the box, and
 * its back is what the front leaves: not on the step with such stock. */
static void test_an_integral_front_by_default(void **state)
{
    (void)state;
    check_way(&(struct way){"{}", "{}", "grooved", "side-mount", "box front", false});
    check_way(&(struct way){"{}", "{}", "grooved", "undermount", "box front", false});
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    const struct dw_parts *parts = make(arena, faults, &(struct way){"{}", "{}", "grooved", "runner", "box front", false});
    assert_non_null(parts);
    const struct dw_sized_drawer *drawer = &parts->sizing->cases[0].banks[0].drawers[0];
    assert_int_equal(drawer->box_width.value, drawer->front_width.value);
    dw_faults_free(faults);
    dw_arena_free(arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_joint_bottom_and_slide),
        cmocka_unit_test(test_fronts_that_are_box_fronts),
        cmocka_unit_test(test_an_integral_front_by_default),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
