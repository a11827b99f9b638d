/* test_sizing_jobs.c - jobs as a maker writes them, read, completed and sized: what comes out must be what a page of arithmetic gives. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "job_from.h"

#include <drawerwright/sizing.h>

/* A shop of the same lengths as TEST_SHOP and the inch defaults, but asked for in millimeters. */
#define METRIC_SHOP \
    "\"shop\": {\"units\": \"mm\", \"habits\": {\"gap\": 3.175, \"front_step\": \"1/16 in\", \"box_step\": \"1/32 in\", \"gap_grow\": \"1/32 in\"," \
    "\"box_less\": 31.75, \"box_less_least\": 25.4, \"box_less_most\": 50.8, \"box_height_step\": 6.35}, \"materials\": [" \
    "{\"id\": \"ply 3/4\", \"thickness\": 19.05}, {\"id\": \"ply 1/2\", \"thickness\": 12.7}, {\"id\": \"ply 1/4\", \"thickness\": 6.35}]," \
    "\"slides\": [{\"id\": \"side\", \"clearance\": 12.7, \"clearance_more\": \"1/16 in\", \"below\": 6.35, \"above\": 12.7, \"box_least\": 50.8," \
    "\"rear\": \"3/8 in\", \"lengths\": [254, 304.8, 355.6, 406.4, 457.2, 508, 558.8, 609.6]}]}"

struct desk {
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dw_sizing *sizing;
};

static struct desk size_text(const char *json)
{
    struct desk desk = {.arena = dw_arena_new(), .faults = dw_faults_new()};
    assert_non_null(desk.arena);
    assert_non_null(desk.faults);
    const struct dw_job *job = good_job(json, desk.arena);
    if (dw_size(job, desk.arena, desk.faults, &desk.sizing) != DW_DONE)
        print_faults(desk.faults);
    assert_non_null(desk.sizing);
    return desk;
}

static void clear(struct desk *desk)
{
    dw_faults_free(desk->faults);
    dw_arena_free(desk->arena);
}

static const struct dw_sized_drawer *find(const struct desk *desk, const char *path)
{
    for (size_t c = 0; c < desk->sizing->case_count; c++)
        for (size_t b = 0; b < desk->sizing->cases[c].bank_count; b++)
            for (size_t d = 0; d < desk->sizing->cases[c].banks[b].drawer_count; d++)
                if (strcmp(desk->sizing->cases[c].banks[b].drawers[d].path, path) == 0)
                    return &desk->sizing->cases[c].banks[b].drawers[d];
    fail_msg("no drawer %s", path);
    return NULL;
}

static void expect(dw_length got, const char *wanted, const char *what)
{
    dw_length length = 0;
    assert_true(dw_length_parse(wanted, DW_IN, &length, NULL));
    if (got != length)
        fail_msg("%s: wanted %s, got %.5f in", what, wanted, (double)got / 406400);
}

/* One row: a drawer and what it must measure; NULL where there is nothing to say. */
struct row {
    const char *path, *front_height, *front_width, *box_width, *box_height, *box_depth;
};

static void expect_rows(const struct desk *desk, const struct row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct dw_sized_drawer *drawer = find(desk, rows[i].path);
        const struct {
            const char *wanted;
            const struct dw_figure *figure;
        } checks[] = {{rows[i].front_height, &drawer->front_height}, {rows[i].front_width, &drawer->front_width},
                      {rows[i].box_width, &drawer->box_width},       {rows[i].box_height, &drawer->box_height},
                      {rows[i].box_depth, &drawer->box_depth}};
        for (size_t k = 0; k < sizeof checks / sizeof *checks; k++) {
            if (checks[k].wanted == NULL)
                continue;
            expect(checks[k].figure->value, checks[k].wanted, checks[k].figure->name);
            assert_int_equal(dw_figure_again(checks[k].figure), checks[k].figure->value);
        }
    }
}

/* Four ways to hang a drawer in one bank. Opening 28-1/2 x 29. By hand: 29 - 1/8 over the inset front + 5/8 over the bottom -
 * 3/4 rail + 5/8 covered of it - 3 gaps of 1/8 = 29; less the 5 in front 24, a quarter of it 6. Fronts 28-1/2 less 1/8 twice, or
 * plus 5/8 twice. Boxes 28-1/2 - 1 (side-mount) or - 42 mm + 1 (undermount, down to 1/64); 1-1/4 lower than their fronts but no
 * higher than their space less what the slide asks, down to 1/4; as deep as the longest slide in 23-3/4 less 3/8 behind
 * (undermount 1/2), less 3/4 where the front is inset. */
static void test_bank_of_mixed_fits(void **state)
{
    (void)state;
    struct desk desk = size_text(
        "{\"units\": \"in\", " TEST_SHOP ", \"cases\": [{\"name\": \"C\", \"outside\": {\"width\": 30, \"height\": \"34 1/2\", \"depth\": 24},"
        "\"members\": {\"side\": \"3/4\", \"kick\": 4, \"back\": \"1/4\"}, \"fit\": \"full overlay\", \"slide\": \"side\", " TEST_MAKE ","
        "\"banks\": [{\"name\": \"B\", \"drawers\": [{\"height\": 5, \"fit\": \"inset\", \"rail_below\": \"3/4\"}, {},"
        "{\"height\": {\"share\": 2}}, {\"slide\": \"under\"}]}]}]}");
    static const struct row rows[] = {
        {"C/B/1", "5", "28 1/4", "27 1/2", "3 3/4", "22"},
        {"C/B/2", "6", "29 3/4", "27 1/2", "4 1/2", "22"},
        {"C/B/3", "12", "29 3/4", "27 1/2", "10 3/4", "22"},
        {"C/B/4", "6", "29 3/4", "27 27/32", "4 1/2", "21"},
    };
    expect_rows(&desk, rows, sizeof rows / sizeof *rows);
    expect(find(&desk, "C/B/1")->slide_center.value, "25 7/8", "center");
    clear(&desk);
}

/* Chris Gleason, "A Contemporary Mobile File Cabinet", Popular Woodworking no. 131, Dec 2002, with its slides' room as it was
 * built: 1/8 under and over boxes of 4, 4 and 10 behind fronts of 4-1/4, 4-1/4 and 11-1/2. */
static void test_published_cabinet(void **state)
{
    (void)state;
    struct desk desk = size_text(
        "{\"units\": \"in\", \"shop\": {\"name\": \"s\", \"materials\": [{\"id\": \"1/2\", \"thickness\": \"1/2\"}, {\"id\": \"1/4\", \"thickness\": \"1/4\"},"
        "{\"id\": \"3/4\", \"thickness\": \"3/4\"}], \"slides\": [{\"id\": \"side\", \"below\": \"1/8\", \"above\": \"1/8\", \"lengths\": [16, 18, 20, 22]}]},"
        "\"cases\": [{\"name\": \"File\", \"outside\": {\"width\": \"15 1/2\", \"height\": 22, \"depth\": 22}, \"members\": {\"side\": \"3/4\", \"back\": \"3/4\"},"
        "\"fit\": \"inset\", \"front\": {\"material\": \"3/4\"}, \"box\": {\"sides\": \"1/2\", \"bottom\": \"1/4\"},"
        "\"banks\": [{\"drawers\": [{\"height\": \"4 1/4\", \"box\": {\"height\": 4}}, {\"height\": \"4 1/4\", \"box\": {\"height\": 4}},"
        "{\"height\": \"11 1/2\", \"box\": {\"height\": 10}}]}]}]}");
    static const struct row rows[] = {
        {"File/1/1", "4 1/4", "13 3/4", "13", "4", "20"},
        {"File/1/2", "4 1/4", "13 3/4", "13", "4", "20"},
        {"File/1/3", "11 1/2", "13 3/4", "13", "10", "20"},
    };
    expect_rows(&desk, rows, sizeof rows / sizeof *rows);
    clear(&desk);
}

/* Shelving maker's dealer notes on gable heights: 96 + 11 + 4 x 221 + 4 x 3 + 1181 + 11 = 2195 mm, 221 = 7 x 32 - 3. */
static void test_32_mm_system(void **state)
{
    (void)state;
    struct desk desk = size_text(
        "{\"units\": \"mm\", " METRIC_SHOP ", \"cases\": [{\"name\": \"G\", \"outside\": {\"width\": 600, \"height\": 2195, \"depth\": 560},"
        "\"members\": {\"side\": 19, \"kick\": 96}, \"fit\": {\"overlay\": 8}, \"slide\": \"side\", " TEST_MAKE ","
        "\"banks\": [{\"gap\": 3, \"drawers\": [{\"fill\": \"door\", \"height\": {\"system_32\": 37}}, {\"height\": {\"system_32\": 7}}, {\"height\": {\"system_32\": 7}},"
        "{\"height\": {\"system_32\": 7}}, {\"height\": {\"system_32\": 7}}]}]}]}");
    static const struct row rows[] = {
        {"G/1/1", "1181 mm", NULL, NULL, NULL, NULL},
        {"G/1/2", "221 mm", NULL, NULL, NULL, NULL},
        {"G/1/5", "221 mm", NULL, NULL, NULL, NULL},
    };
    expect_rows(&desk, rows, sizeof rows / sizeof *rows);
    expect(find(&desk, "G/1/5")->front.y, "107 mm", "lowest front above the floor");
    clear(&desk);
}

/* Christian Becksvoort, Fine Woodworking: 27 in to use after three dividers, step 1: 5-1/4 to 8-1/4; and George R. Walker's
 * divider rule, Popular Woodworking no. 176: 6, 5, 4, 3 with dividers of 1. */
static void test_graduations(void **state)
{
    (void)state;
    struct desk desk = size_text(
        "{\"units\": \"in\", " TEST_SHOP ", \"cases\": ["
        "{\"name\": \"step\", \"opening\": {\"width\": 30, \"height\": \"29 1/4\", \"depth\": 18}, \"fit\": \"inset\", \"slide\": \"side\", " TEST_MAKE ","
        "\"banks\": [{\"gap\": 0, \"rail\": \"3/4\", \"graduation\": {\"step\": 1}, \"drawers\": 4}]},"
        "{\"name\": \"divider\", \"opening\": {\"width\": 30, \"height\": 21, \"depth\": 18}, \"fit\": \"inset\", \"slide\": \"hand\", " TEST_MAKE ","
        "\"banks\": [{\"gap\": 0, \"rail\": 1, \"graduation\": \"divider\", \"drawers\": 4}]}]}");
    static const struct row rows[] = {
        {"step/1/1", "5 1/4", NULL, NULL, NULL, NULL},    {"step/1/2", "6 1/4", NULL, NULL, NULL, NULL},
        {"step/1/3", "7 1/4", NULL, NULL, NULL, NULL},    {"step/1/4", "8 1/4", NULL, NULL, NULL, NULL},
        {"divider/1/1", "3", NULL, NULL, NULL, NULL},     {"divider/1/4", "6", NULL, NULL, NULL, NULL},
    };
    expect_rows(&desk, rows, sizeof rows / sizeof *rows);
    clear(&desk);
}

/* One case written in inches and again in millimeters, with habits that are the same lengths. */
static void test_inch_and_millimeter_jobs_agree(void **state)
{
    (void)state;
    static const char inch[] =
        "{\"units\": \"in\", " TEST_SHOP ", \"cases\": [{\"name\": \"C\", \"opening\": {\"width\": 15, \"height\": \"24 1/2\", \"depth\": \"21 1/4\"},"
        "\"members\": {\"side\": \"3/4\"}, \"fit\": \"inset\", \"slide\": \"side\", " TEST_MAKE ", \"banks\": [{\"rail\": \"3/4\", \"drawers\": 4}]}]}";
    static const char metric[] =
        "{\"units\": \"mm\", " METRIC_SHOP ", \"cases\": [{\"name\": \"C\", \"opening\": {\"width\": 381, \"height\": 622.3, \"depth\": 539.75},"
        "\"members\": {\"side\": 19.05}, \"fit\": \"inset\", \"slide\": \"side\", " TEST_MAKE ", \"banks\": [{\"rail\": 19.05, \"drawers\": 4}]}]}";
    struct desk one = size_text(inch);
    struct desk other = size_text(metric);
    for (size_t i = 0; i < 4; i++) {
        const struct dw_sized_drawer *a = &one.sizing->cases[0].banks[0].drawers[i];
        const struct dw_sized_drawer *b = &other.sizing->cases[0].banks[0].drawers[i];
        assert_int_equal(a->front_height.value, b->front_height.value);
        assert_int_equal(a->front_width.value, b->front_width.value);
        assert_int_equal(a->box_width.value, b->box_width.value);
        assert_int_equal(a->box_height.value, b->box_height.value);
        assert_int_equal(a->box_depth.value, b->box_depth.value);
        assert_int_equal(a->slide_center.value, b->slide_center.value);
        assert_int_equal(a->gap_below, b->gap_below);
    }
    clear(&one);
    clear(&other);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_bank_of_mixed_fits), cmocka_unit_test(test_published_cabinet), cmocka_unit_test(test_32_mm_system),
        cmocka_unit_test(test_graduations),        cmocka_unit_test(test_inch_and_millimeter_jobs_agree),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
