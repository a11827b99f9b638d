/* test_places_called.c - where a fault lies, as a maker calls it. The names and the wording are our own; each row is read by hand. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <drawerwright/sizing.h>

#include "job_from.h"

static const char JOB[] =
    "{\"format\": 1, \"name\": \"test\", " TEST_SHOP ", \"parts\": [{\"name\": \"tool shelf\", \"material\": \"ply 3/4\", \"length\": 20, \"width\": 10}],"
    "\"cases\": [{\"name\": \"Bench\", \"outside\": {\"width\": 60, \"height\": 34, \"depth\": 24}, \"members\": {\"side\": \"3/4\", \"top\": \"3/4\","
    "\"bottom\": \"3/4\"}, \"partition\": \"3/4\", \"fit\": \"inset\", \"slide\": \"side\", " TEST_MAKE ", \"banks\": ["
    "{\"name\": \"left\", \"drawers\": 4}, {\"name\": \"right\", \"drawers\": 4}, {\"name\": \"Middle bank\", \"drawers\": [{\"name\": \"top drawer\"}, {}]}]},"
    "{\"name\": \"Map chest\", \"outside\": {\"width\": 30, \"height\": 34, \"depth\": 24}, \"members\": {\"side\": \"3/4\", \"top\": \"3/4\", \"bottom\": \"3/4\"},"
    "\"fit\": \"inset\", \"slide\": \"side\", " TEST_MAKE ", \"banks\": [{\"drawers\": 3}]}]}";

struct row {
    const char *wanted;
    const char *addresses[12];
};

#define D(c, b, d) "cases[" #c "].banks[" #b "].drawers[" #d "]"

static const struct row rows[] = {
    {"Bench", {"cases[0]"}},
    {"Bench", {"cases[0].fit.gap"}},
    {"Bench, bank left", {"cases[0].banks[0]"}},
    {"Bench, banks left and right", {"cases[0].banks[1]", "cases[0].banks[0].rail"}},
    {"Map chest, bank 1", {"cases[1].banks[0]"}},
    {"Map chest, drawer 3", {D(1, 0, 2)}},
    {"Map chest, drawers 1 and 3", {D(1, 0, 2) ".box.height", D(1, 0, 0)}},
    {"Map chest, all drawers", {D(1, 0, 2), D(1, 0, 1), D(1, 0, 0), D(1, 0, 0) ".front"}},
    {"Bench, bank left, drawers 1 to 3", {D(0, 0, 0), D(0, 0, 1), D(0, 0, 2)}},
    {"Bench, bank left, drawers 1, 2 and 4", {D(0, 0, 0), D(0, 0, 1), D(0, 0, 3)}},
    {"Bench, banks left and right, drawers 2 to 4", {D(0, 0, 1), D(0, 0, 2), D(0, 0, 3), D(0, 1, 1), D(0, 1, 2), D(0, 1, 3)}},
    {"Bench, bank left, drawer 1; bank right, drawer 2", {D(0, 0, 0), D(0, 1, 1)}},
    {"Bench, Middle bank, top drawer", {D(0, 2, 0)}},
    {"Bench, bank right, drawer 1; Map chest, drawer 1", {D(1, 0, 0), D(0, 1, 0)}},
    {"ply 3/4, tool shelf, A-1.1L", {"shop.materials[0]", "parts[0].length", "parts[0].length", "A-1.1L"}},
    {"", {""}},
};

/* Among faults that say something else; those of the row stand apart. */
static void check_row(const struct row *row, const struct dw_sizing *sizing, struct dw_arena *arena)
{
    struct dw_faults *faults = dw_faults_new();
    assert_non_null(faults);
    dw_warn(faults, "other", "cases[0].banks[0]", "it creaks");
    for (size_t i = 0; i < sizeof row->addresses / sizeof *row->addresses && row->addresses[i] != NULL; i++) {
        dw_warn(faults, "test", row->addresses[i], "it sags");
        dw_warn(faults, "other", "cases[1]", "it creaks");
    }
    const char *called = dw_places_called(arena, &sizing, 1, faults, 1);
    if (strcmp(called, row->wanted) != 0)
        fail_msg("called \"%s\", wanted \"%s\"", called, row->wanted);
    dw_faults_free(faults);
}

static void rows_body(void *context)
{
    struct dw_arena *arena = context;
    struct dw_faults *faults = dw_faults_new();
    const struct dw_job *job = good_job(JOB, arena);
    const struct dw_sizing *sizing = NULL;
    assert_non_null(faults);
    assert_int_equal(dw_size(job, arena, faults, &sizing), DW_DONE);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_row(&rows[i], sizing, arena);
    dw_faults_free(faults);
}

static void test_places_are_called_by_name(void **state)
{
    (void)state;
    struct dw_arena *arena = dw_arena_new();
    assert_non_null(arena);
    assert_true(dw_arena_guard(arena, rows_body, arena));
    dw_arena_free(arena);
}

/* Of jobs planned together the address tells which one. */
static void jobs_body(void *context)
{
    struct dw_arena *arena = context;
    struct dw_faults *faults = dw_faults_new();
    assert_non_null(faults);
    const struct dw_sizing *sizings[2];
    for (size_t i = 0; i < 2; i++) {
        struct dw_job job = *good_job(JOB, arena);
        job.id = i == 0 ? "one" : "two";
        job.name = i == 0 ? "First" : "Second";
        assert_int_equal(dw_size(dw_arena_copy(arena, &job, 1, sizeof job), arena, faults, &sizings[i]), DW_DONE);
    }
    struct dw_faults *said = dw_faults_new();
    assert_non_null(said);
    dw_warn(said, "test", "two: cases[1].banks[0].drawers[1]", "it sags");
    dw_warn(said, "test", "three: cases[0]", "it sags");
    assert_string_equal(dw_places_called(arena, sizings, 2, said, 0), "three: cases[0]; Map chest of Second, drawer 2");
    dw_faults_free(said);
    dw_faults_free(faults);
}

static void test_places_of_jobs_planned_together(void **state)
{
    (void)state;
    struct dw_arena *arena = dw_arena_new();
    assert_non_null(arena);
    assert_true(dw_arena_guard(arena, jobs_body, arena));
    dw_arena_free(arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_places_are_called_by_name),
        cmocka_unit_test(test_places_of_jobs_planned_together),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
