/* test_parts_jobs.c - from a job file through sizing to parts: published cases in full, and the figures a maker checks at the bench. */
#include "parts_fixture.h"

#include <drawerwright/files.h>

struct line {
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dw_parts *parts;
};

static enum dw_status run(struct line *line, const char *text)
{
    *line = (struct line){.arena = dw_arena_new(), .faults = dw_faults_new()};
    const struct dw_job *job = NULL;
    const struct dw_job *complete = NULL;
    const struct dw_sizing *sizing = NULL;
    enum dw_status status = dw_job_read_text(text, strlen(text), "job", NULL, NULL, line->arena, line->faults, &job);
    if (status == DW_DONE)
        status = dw_job_complete(job, line->arena, line->faults, &complete);
    if (status == DW_DONE)
        status = dw_size(complete, line->arena, line->faults, &sizing);
    if (status == DW_DONE)
        status = dw_parts_make(sizing, line->arena, line->faults, &line->parts);
    for (size_t i = 0; status == DW_INPUT && i < line->faults->count; i++)
        print_message("%s: %s\n", line->faults->at[i].address, line->faults->at[i].wrong);
    return status;
}

static void finish(struct line *line)
{
    dw_faults_free(line->faults);
    dw_arena_free(line->arena);
}

static void expect(const struct line *line, const char *name, size_t count, const char *length, const char *width)
{
    dw_length long_way = 0, wide_way = 0;
    assert_true(dw_length_parse(length, DW_IN, &long_way, NULL));
    assert_true(dw_length_parse(width, DW_IN, &wide_way, NULL));
    size_t found = 0;
    for (size_t i = 0; i < line->parts->count; i++) {
        const struct dw_part *part = &line->parts->at[i];
        if (strcmp(part->name, name) == 0 && part->length.value == long_way && part->width.value == wide_way)
            found += part->count;
    }
    if (found != count)
        fail_msg("wanted %zu %s of %s x %s, found %zu", count, name, length, width, found);
}

#define SHEETS "\"sheets\":[{\"id\":\"full\",\"length\":96,\"width\":48,\"price\":\"68.00\"}]"
#define SHOP \
    "\"units\":\"in\",\"shop\":{\"habits\":{\"bottom_clearance\":0},\"materials\":[" \
    "{\"id\":\"three\",\"thickness\":\"3/4\"," SHEETS "},{\"id\":\"half\",\"thickness\":\"1/2\"," SHEETS "}," \
    "{\"id\":\"thin\",\"thickness\":\"15/32\"," SHEETS "},{\"id\":\"quarter\",\"thickness\":\"1/4\"," SHEETS "}]," \
    "\"banding\":[{\"id\":\"trim\",\"thickness\":\"1/4\",\"width\":\"3/4\"}]," \
    "\"slides\":[{\"id\":\"side\",\"clearance\":\"1/2\",\"rear\":\"3/8\",\"lengths\":[16,18,20,22]}]},"

/* Chris Gleason, "A Contemporary Mobile File Cabinet", Popular Woodworking no. 131, Dec 2002, p. 82 ff.: the whole list. 15-1/2 x 22 x 22 outside,
 * 3/4 back, three inset false fronts with 1/8 gaps (4-1/4, 4-1/4, 11-1/2), boxes 4, 4, 10 high on 20 in slides, edge trim left out of the
 * plywood sizes. */
static void test_file_cabinet(void **state)
{
    (void)state;
    struct line line;
    assert_int_equal(
        run(&line, "{" SHOP "\"cases\":[{\"name\":\"File\",\"style\":\"frameless\",\"outside\":{\"width\":\"15 1/2\",\"height\":22,\"depth\":22},"
                   "\"members\":{\"side\":\"3/4\",\"top\":\"3/4\",\"bottom\":\"3/4\",\"back\":\"3/4\",\"material\":\"three\",\"back_material\":\"three\","
                   "\"parts\":true,\"edging\":\"trim\",\"edging_round\":true},"
                   "\"fit\":\"inset\",\"front\":{\"material\":\"three\"},\"box\":{\"sides\":\"half\",\"bottom\":\"quarter\",\"joint\":\"rabbet-and-dado\"},"
                   "\"banks\":[{\"drawers\":[{\"height\":\"4 1/4\",\"box\":{\"height\":4}},{\"height\":\"4 1/4\",\"box\":{\"height\":4}},"
                   "{\"height\":\"11 1/2\",\"box\":{\"height\":10}}]}]}]}"),
        DW_DONE);
    expect(&line, "case side", 2, "21 1/2", "21 1/2");
    expect(&line, "case top", 1, "14", "21 1/2");
    expect(&line, "case bottom", 1, "14", "21 1/2");
    expect(&line, "case back", 1, "20 1/2", "14");
    expect(&line, "front", 2, "13 3/4", "4 1/4");
    expect(&line, "front", 1, "13 3/4", "11 1/2");
    expect(&line, "side", 4, "20", "4");
    expect(&line, "side", 2, "20", "10");
    expect(&line, "box front", 2, "12 1/2", "4");
    expect(&line, "box front", 1, "12 1/2", "10");
    expect(&line, "back", 2, "12 1/2", "4");
    expect(&line, "back", 1, "12 1/2", "10");
    expect(&line, "bottom", 3, "12 1/2", "19 1/2");
    assert_int_equal(line.parts->needs[0].length, 20 * DW_INCH); /* three pairs of 20 in slides */
    assert_int_equal(line.parts->needs[0].count, 3);
    finish(&line);
}

/* A page on drawer widths (1kfe.com): opening 15, 1/2 slides, "1/2" ply that measures 15/32: front and back between the sides are the opening
 * less 2 plus 1/16. And from the bench (common practice, no source): a case 30 wide of sides that measure 23/32 has an opening of 28-9/16, its box
 * is 27-9/16 and a butt front between 15/32 sides 26-5/8; by the nominal sizes it would have been 26-1/2. */
static void test_measured_stock(void **state)
{
    (void)state;
    struct line line;
    assert_int_equal(run(&line, "{" SHOP "\"cases\":[{\"opening\":{\"width\":15,\"height\":6,\"depth\":22},\"fit\":\"inset\",\"style\":\"frameless\","
                                "\"front\":{\"material\":\"three\"},\"box\":{\"sides\":\"thin\",\"bottom\":\"quarter\",\"joint\":\"butt\",\"height\":4},"
                                "\"banks\":[{\"drawers\":1}]}]}"),
                     DW_DONE);
    expect(&line, "box front", 1, "13 1/16", "4");
    expect(&line, "back", 1, "13 1/16", "4");
    finish(&line);
    assert_int_equal(run(&line, "{" SHOP "\"cases\":[{\"outside\":{\"width\":30,\"height\":20,\"depth\":23},\"members\":{\"side\":\"23/32\"},"
                                "\"fit\":\"inset\",\"style\":\"frameless\",\"front\":{\"material\":\"three\"},"
                                "\"box\":{\"sides\":\"thin\",\"bottom\":\"quarter\",\"joint\":\"butt\",\"height\":4},\"banks\":[{\"drawers\":3}]}]}"),
                     DW_DONE);
    expect(&line, "box front", 3, "26 5/8", "4");
    finish(&line);
}

/* Undermount, opening 381 mm: 21 mm on each side from the case to the inside of the box (proboxdrawers.co.uk, "5 Tips for Measuring Drawers"), so
 * inside 339 and, with sides of 12 mm, 363 outside: a box front between the sides is 339 long, and the bottom lies 13 mm up. */
static void test_undermount(void **state)
{
    (void)state;
    struct line line;
    assert_int_equal(
        run(&line, "{\"units\":\"mm\",\"shop\":{\"materials\":[{\"id\":\"side\",\"thickness\":12,\"sheets\":[{\"id\":\"s\",\"length\":2440,\"width\":1220,\"price\":\"72.00\"}]},"
                   "{\"id\":\"bottom\",\"thickness\":6,\"sheets\":[{\"id\":\"s\",\"length\":2440,\"width\":1220,\"price\":\"72.00\"}]}],"
                   "\"slides\":[{\"id\":\"under\",\"kind\":\"undermount\",\"inside_less\":42,\"recess\":13,\"lengths\":[450]}]},"
                   "\"cases\":[{\"opening\":{\"width\":381,\"height\":200,\"depth\":500},\"fit\":\"inset\",\"style\":\"frameless\","
                   "\"front\":{\"material\":\"side\"},\"box\":{\"sides\":\"side\",\"bottom\":\"bottom\",\"joint\":\"butt\"},\"banks\":[{\"drawers\":1}]}]}"),
        DW_DONE);
    for (size_t i = 0; i < line.parts->count; i++) {
        const struct dw_part *part = &line.parts->at[i];
        if (part->kind == DW_PART_BOX_FRONT)
            assert_int_equal(part->length.value, 339 * DW_MM);
        if (part->kind == DW_PART_SIDE)
            assert_int_equal(fixture_work(part, DW_WORK_GROOVE)->from_edge, 13 * DW_MM);
    }
    finish(&line);
}

/* What the parts room refuses is told at the place of the job file where it is to be mended. */
static void test_faults_name_keys_of_the_file(void **state)
{
    (void)state;
    struct line line;
    assert_int_equal(run(&line, "{" SHOP "\"cases\":[{\"opening\":{\"width\":15,\"height\":6,\"depth\":22},\"fit\":\"inset\",\"style\":\"frameless\","
                                "\"front\":{\"material\":\"three\"},\"box\":{\"sides\":\"half\",\"bottom\":\"quarter\",\"groove_depth\":\"1/2\","
                                "\"joint\":{\"joint\":\"finger\",\"pitch\":3},\"back_joint\":{\"joint\":\"dado\",\"depth\":\"5/8\"}},"
                                "\"banks\":[{\"drawers\":1}]}]}"),
                     DW_IMPOSSIBLE);
    const char *const addresses[] = {"cases[0].banks[0].drawers[0].box.groove_depth", "cases[0].banks[0].drawers[0].box.joint.pitch",
                                     "cases[0].banks[0].drawers[0].box.back_joint.depth"};
    for (size_t i = 0; i < 3; i++) {
        bool found = false;
        for (size_t k = 0; k < line.faults->count; k++)
            found = found || strcmp(line.faults->at[k].address, addresses[i]) == 0;
        if (!found)
            fail_msg("nothing is said of %s", addresses[i]);
    }
    finish(&line);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_file_cabinet),
        cmocka_unit_test(test_measured_stock),
        cmocka_unit_test(test_undermount),
        cmocka_unit_test(test_faults_name_keys_of_the_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
