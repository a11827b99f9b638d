/* test_drawing_views.c - what elevations, plan sections and box pages must show of cases that are not alike all over: drawers of other depths, rails
 * behind fronts, fronts of vertical grain, cases that go on beyond a page.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <drawerwright/drawing.h>
#include <drawerwright/run.h>

#include "drawing_checks.h"
#include "job_from.h"

#define MEMBERS "\"members\": {\"side\": \"3/4\", \"top\": \"3/4\", \"bottom\": \"3/4\"}, \"slide\": \"side\""

/* One job all the way to its packet. */
struct shown {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_run run;
    struct dw_scenes pages;
};

static struct shown show_jobs(const char *json, size_t count)
{
    struct shown shown = {.arena = dw_arena_new(), .faults = dw_faults_new()};
    assert_non_null(shown.arena);
    assert_non_null(shown.faults);
    static const char *const ids[] = {"test", "other"};
    const struct dw_job *jobs[2] = {NULL, NULL};
    for (size_t i = 0; i < count; i++)
        assert_int_equal(dw_job_read_text(json, strlen(json), ids[i], NULL, NULL, shown.arena, shown.faults, &jobs[i]), DW_DONE);
    const struct dw_layout_options options = {.patience = DW_SHORT};
    const struct dw_packet_options packet = {.paper = DW_LETTER};
    const enum dw_status status = dw_run_jobs(jobs, count, DW_STAGE_LAYOUT, &options, NULL, shown.arena, shown.faults, &shown.run);
    if (status != DW_DONE)
        print_faults(shown.faults);
    assert_int_equal(status, DW_DONE);
    assert_int_equal(dw_draw_packet(shown.run.purchase, shown.faults, &packet, shown.arena, shown.faults, &shown.pages), DW_DONE);
    for (size_t i = 0; i < shown.pages.count; i++)
        assert_int_equal(check_scene(&shown.pages.at[i]), 0);
    return shown;
}

static struct shown show_job(const char *json)
{
    return show_jobs(json, 1);
}

/* Cases of the small shop. */
static struct shown show(const char *cases)
{
    char json[6000];
    assert_true((size_t)snprintf(json, sizeof json, "%s%s]}", "{\"format\": 1, \"name\": \"test\", " TEST_SHOP ", \"cases\": [", cases) < sizeof json);
    return show_job(json);
}

static void end(struct shown *shown)
{
    dw_arena_free(shown->arena);
    dw_faults_free(shown->faults);
}

/* How often a text stands on the pages whose title begins so. */
static size_t said(const struct shown *shown, const char *title, const char *text)
{
    size_t count = 0;
    for (size_t p = 0; p < shown->pages.count; p++) {
        const struct dw_scene *page = &shown->pages.at[p];
        for (size_t i = 0; strncmp(page->title, title, strlen(title)) == 0 && i < page->shape_count; i++)
            count += page->shapes[i].kind == DW_SHAPE_TEXT && strcmp(page->shapes[i].text, text) == 0 ? 1 : 0;
    }
    return count;
}

static size_t pages_titled(const struct shown *shown, const char *title)
{
    size_t count = 0;
    for (size_t p = 0; p < shown->pages.count; p++)
        count += strncmp(shown->pages.at[p].title, title, strlen(title)) == 0 ? 1 : 0;
    return count;
}

/* Of five drawers two are short, and one of the long ones has another front: three kinds, each with its own names, sizes and depths. */
static void test_sections_show_every_kind_once(void **state)
{
    (void)state;
    struct shown shown = show("{\"name\": \"Case\", \"outside\": {\"width\": 24, \"height\": 40, \"depth\": 22}, " MEMBERS ", \"fit\": \"inset\", " TEST_MAKE ", \"banks\": [{\"drawers\": ["
                              "{\"box\": {\"slide_length\": 12}}, {}, {}, {\"box\": {\"slide_length\": 12}}, {\"fit\": {\"kind\": \"inset\"}, \"front\": {\"material\": \"ply 1/2\"}}]}]}");
    assert_int_equal(said(&shown, "Plan section", "drawers 1, 4"), 1);
    assert_int_equal(said(&shown, "Plan section", "drawers 2, 3"), 1);
    assert_int_equal(said(&shown, "Plan section", "drawer 5"), 1);
    assert_int_equal(said(&shown, "Plan section", "slide 12"), 1);
    assert_int_equal(said(&shown, "Plan section", "slide 20"), 2);
    end(&shown);
}

/* Drawers that are alike in plan have one section, whatever their heights. */
static void test_one_section_for_drawers_alike(void **state)
{
    (void)state;
    struct shown shown = show("{\"name\": \"Case\", \"outside\": {\"width\": 48, \"height\": 40, \"depth\": 22}, " MEMBERS ", \"partition\": \"3/4\", \"fit\": \"inset\", " TEST_MAKE
                              ", \"banks\": [{\"name\": \"L\", \"drawers\": [{\"height\": 5}, {}, {}, {}]}, {\"name\": \"R\", \"drawers\": 3}]}");
    assert_int_equal(pages_titled(&shown, "Plan section"), 1);
    assert_int_equal(said(&shown, "Plan section", "bank L"), 1);
    assert_int_equal(said(&shown, "Plan section", "drawers 1 to 4"), 1);
    assert_int_equal(said(&shown, "Plan section", "bank R"), 1);
    assert_int_equal(said(&shown, "Plan section", "drawers 1 to 3"), 1);
    end(&shown);
}

/* Overlay fronts cover 3/8 of each edge of rails of 1 1/2: what is seen of one is 3/4, and the chain of rails has it whole. */
static void test_hidden_rails_are_measured(void **state)
{
    (void)state;
    static const char CASE[] = "{\"name\": \"Case\", \"style\": \"face frame\", \"outside\": {\"width\": 30, \"height\": 34, \"depth\": 24}, "
                               "\"members\": {\"side\": \"3/4\", \"top\": \"3/4\", \"bottom\": \"3/4\", \"stile\": 2, \"rail_top\": 2, \"rail_bottom\": 2, \"frame_thickness\": \"3/4\"}, "
                               "\"slide\": \"side\", \"fit\": %s, " TEST_MAKE ", \"banks\": [{\"rail\": \"1 1/2\", \"drawers\": 3}]}";
    char json[2000];
    (void)snprintf(json, sizeof json, CASE, "{\"kind\": \"overlay\", \"overlay\": \"3/8\"}");
    struct shown shown = show(json);
    assert_int_equal(said(&shown, "Elevation", "rails"), 1);
    assert_int_equal(said(&shown, "Elevation", dwi_typeset(shown.arena, "1 1/2")), 2);
    assert_int_equal(said(&shown, "Elevation", dwi_typeset(shown.arena, "3/4")), 2);
    end(&shown);
    (void)snprintf(json, sizeof json, CASE, "\"inset\"");
    shown = show(json);
    assert_int_equal(said(&shown, "Elevation", "rails"), 0);
    end(&shown);
}

static bool is_front_face(const struct dw_shape *shape)
{
    return shape->kind == DW_SHAPE_POLYGON && shape->point_count == 4 && shape->points[1] == shape->points[3] && shape->points[2] == shape->points[4];
}

/* A front that is the box front and whose grain runs up: its length is its height, and it is drawn as it hangs, wider than high. */
static void test_a_front_of_vertical_grain_hangs_upright(void **state)
{
    (void)state;
    struct shown shown = show("{\"name\": \"Case\", \"outside\": {\"width\": 24, \"height\": 30, \"depth\": 22}, " MEMBERS
                              ", \"fit\": \"inset\", \"box\": {\"sides\": \"ply 1/2\", \"bottom\": \"ply 1/4\", \"joint\": \"half-blind dovetail\"}, "
                              "\"front\": {\"kind\": \"box front\", \"material\": \"ply 3/4\", \"grain\": \"vertical\"}, \"banks\": [{\"drawers\": 4}]}");
    struct dw_scene scene;
    size_t faces = 0;
    assert_int_equal(dw_draw_box(shown.run.parts[0], 0, 0, 0, 79200, 61200, shown.arena, shown.faults, &scene), DW_DONE);
    for (size_t i = 0; i < scene.shape_count; i++) {
        const struct dw_shape *shape = &scene.shapes[i];
        if (!is_front_face(shape) || shape->points[2] - shape->points[0] < 3000)
            continue;
        assert_true(shape->points[2] - shape->points[0] > shape->points[3] - shape->points[5]);
        faces++;
    }
    assert_int_equal(faces, 3); /* back, front, and the front edge of the bottom */
    end(&shown);
}

static bool is_break_line(const struct dw_shape *shape)
{
    return shape->kind == DW_SHAPE_POLYLINE && shape->ink == DW_TONE_INK && shape->point_count == 6;
}

/* A case that goes on beyond a page ends there in a break line, in elevation and section alike. */
static void test_what_goes_on_is_broken_off(void **state)
{
    (void)state;
    struct shown shown = show("{\"name\": \"Wall\", \"outside\": {\"width\": 240, \"height\": 40, \"depth\": 24}, " MEMBERS ", \"partition\": \"3/4\", \"fit\": \"inset\", " TEST_MAKE ", \"banks\": ["
                              "{\"drawers\": 3}, {\"drawers\": 4}, {\"drawers\": 5}, {\"drawers\": 3}, {\"drawers\": 4}, {\"drawers\": 5}, {\"drawers\": 3}, {\"drawers\": 4}]}");
    static const char *const titles[] = {"Elevation", "Plan section"};
    for (size_t t = 0; t < 2; t++) {
        const size_t pages = pages_titled(&shown, titles[t]);
        size_t breaks = 0;
        assert_true(pages > 1);
        for (size_t p = 0; p < shown.pages.count; p++)
            for (size_t i = 0; strncmp(shown.pages.at[p].title, titles[t], strlen(titles[t])) == 0 && i < shown.pages.at[p].shape_count; i++)
                breaks += is_break_line(&shown.pages.at[p].shapes[i]) ? 1 : 0;
        assert_int_equal(breaks, 2 * (pages - 1));
    }
    end(&shown);
}

/* Millimeters that come from inches are long, "~604.84 \xC3\x97 ~188.91": such figures are set smaller in their column, none is cut short (check_scene). */
static void test_long_figures_stand_whole(void **state)
{
    (void)state;
    struct shown shown = show_job(
        "{\"format\": 1, \"name\": \"test\", \"units\": \"mm\", \"shop\": {\"name\": \"test\", \"materials\": [{\"id\": \"ply\", \"thickness\": \"15/32 in\","
        "\"sheets\": [{\"id\": \"full\", \"length\": 2440, \"width\": 1220, \"price\": \"60\"}]}], \"slides\": [{\"id\": \"side\", \"lengths\": [\"22 in\"]}]}, \"cases\": ["
        "{\"name\": \"Case\", \"outside\": {\"width\": \"47 5/8 in\", \"height\": \"31 11/16 in\", \"depth\": \"25 in\"}, \"members\": {\"side\": \"18.1 mm\", \"top\": \"18.1 mm\","
        "\"bottom\": \"18.1 mm\"}, \"slide\": \"side\", \"fit\": \"inset\", \"box\": {\"sides\": \"ply\", \"bottom\": \"ply\"}, \"front\": {\"material\": \"ply\"},"
        "\"banks\": [{\"drawers\": 4}]}]}");
    bool found = false;
    for (size_t p = 0; p < shown.pages.count; p++)
        for (size_t i = 0; strcmp(shown.pages.at[p].title, "Drawers") == 0 && i < shown.pages.at[p].shape_count; i++) {
            const struct dw_shape *shape = &shown.pages.at[p].shapes[i];
            found = found || (shape->kind == DW_SHAPE_TEXT && shape->size < 1000 && shape->anchor == DW_ANCHOR_END && strstr(shape->text, "\xC3\x97") != NULL);
        }
    assert_true(found);
    end(&shown);
}

/* Sheets that are trimmed alike stand on one line of the ladder. */
static void test_trims_alike_are_one_line(void **state)
{
    (void)state;
    struct shown shown = show("{\"name\": \"Wall\", \"outside\": {\"width\": 120, \"height\": 40, \"depth\": 24}, " MEMBERS ", \"partition\": \"3/4\", \"fit\": \"inset\", " TEST_MAKE ", \"banks\": ["
                              "{\"drawers\": 3}, {\"drawers\": 4}, {\"drawers\": 5}, {\"drawers\": 4}]}");
    size_t alike = 0;
    for (size_t p = 0; p < shown.pages.count; p++)
        for (size_t i = 0; strcmp(shown.pages.at[p].title, "Cut ladder") == 0 && i < shown.pages.at[p].shape_count; i++) {
            const struct dw_shape *shape = &shown.pages.at[p].shapes[i];
            alike += shape->kind == DW_SHAPE_TEXT && strncmp(shape->text, "S1 S2", 5) == 0 && strstr(shape->text, ": both long edges") != NULL ? 1 : 0;
            assert_false(shape->kind == DW_SHAPE_TEXT && strncmp(shape->text, "S2: both long edges", 19) == 0);
        }
    assert_int_equal(alike, 1);
    end(&shown);
}

/* Of two jobs planned together every page says that there are two; what both have to mind is said once, of both. */
static void test_jobs_together_are_told_of(void **state)
{
    (void)state;
    struct shown shown = show_jobs("{\"format\": 1, \"name\": \"One\", " TEST_SHOP ", \"cases\": [{\"name\": \"Case\", \"free_standing\": true, \"outside\": {\"width\": 24, \"height\": 40,"
                                   "\"depth\": 22}, " MEMBERS ", \"fit\": \"inset\", " TEST_MAKE ", \"banks\": [{\"drawers\": 3}]}]}", 2);
    size_t bench = 0;
    for (size_t p = 0; p < shown.pages.count; p++) {
        const struct dw_scene *page = &shown.pages.at[p];
        for (size_t i = 0; strcmp(page->title, "Cautions") == 0 && i < page->shape_count; i++)
            bench += page->shapes[i].kind == DW_SHAPE_TEXT && strstr(page->shapes[i].text, "Hang fronts last") != NULL ? 1 : 0;
    }
    assert_int_equal(said(&shown, "", "One and 1 more"), shown.pages.count);
    assert_int_equal(said(&shown, "Cautions", "Case of One; Case of One"), 1);
    assert_int_equal(bench, 1);
    end(&shown);
}

/* Of a path too long for its place the last names stay. */
static void test_paths_keep_their_last_names(void **state)
{
    (void)state;
    struct dw_arena *arena = dw_arena_new();
    assert_non_null(arena);
    static const struct {
        const char *path, *wanted;
        dw_dot most;
    } rows[] = {
        {"Bench/left/3", "Bench/left/3", 7000},
        {"A rather long name of a bench/left/3", "\xE2\x80\xA6/left/3", 7000},
        {"A rather long name of a bench/left of the door/3", "\xE2\x80\xA6/3", 7000},
        {"A rather long name of a bench", "A rather lon\xE2\x80\xA6", 7000},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_string_equal(dwi_shorten_path(arena, rows[i].path, 1000, false, rows[i].most), rows[i].wanted);
    dw_arena_free(arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_sections_show_every_kind_once),
        cmocka_unit_test(test_one_section_for_drawers_alike),
        cmocka_unit_test(test_hidden_rails_are_measured),
        cmocka_unit_test(test_a_front_of_vertical_grain_hangs_upright),
        cmocka_unit_test(test_what_goes_on_is_broken_off),
        cmocka_unit_test(test_long_figures_stand_whole),
        cmocka_unit_test(test_trims_alike_are_one_line),
        cmocka_unit_test(test_jobs_together_are_told_of),
        cmocka_unit_test(test_paths_keep_their_last_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
