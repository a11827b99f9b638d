/* test_files.c - jobs from files: the samples, and everything that can be wrong with a file. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "job_from.h"

static void test_samples_are_good(void **state)
{
    (void)state;
    static const char *const samples[] = {"plan-chest", "seed-cabinet", "service-bench"};
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        char path[512];
        const struct dw_job *job = NULL;
        const struct dw_job *complete = NULL;
        (void)snprintf(path, sizeof path, "%s/samples/%s.json", DW_SOURCE_DIR, samples[i]);
        if (dw_job_read_file(path, NULL, arena, faults, &job) == DW_DONE)
            (void)dw_job_complete(job, arena, faults, &complete);
        print_faults(faults);
        assert_non_null(complete);
        assert_string_equal(complete->id, samples[i]);
        dw_faults_free(faults);
        dw_arena_free(arena);
    }
}

struct writing {
    struct dw_arena *arena;
    const struct dw_job *job;
    struct dw_text text;
};

static void write_body(void *context)
{
    struct writing *writing = context;
    writing->text = dw_text_in(writing->arena);
    (void)dw_json_job(writing->job, &writing->text);
}

/* A completed job written, read and completed again is written the same. */
static void test_completed_jobs_go_round(void **state)
{
    (void)state;
    static const char *const samples[] = {"plan-chest", "seed-cabinet", "service-bench"};
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        char path[512];
        const struct dw_job *job = NULL;
        struct writing first = {.arena = arena};
        (void)snprintf(path, sizeof path, "%s/samples/%s.json", DW_SOURCE_DIR, samples[i]);
        assert_int_equal(dw_job_read_file(path, NULL, arena, faults, &job), DW_DONE);
        assert_int_equal(dw_job_complete(job, arena, faults, &first.job), DW_DONE);
        assert_true(dw_arena_guard(arena, write_body, &first));
        struct writing again = {.arena = arena, .job = job_from(first.text.bytes, arena, faults)};
        print_faults(faults);
        assert_non_null(again.job);
        assert_true(dw_arena_guard(arena, write_body, &again));
        assert_string_equal(first.text.bytes, again.text.bytes);
        dw_faults_free(faults);
        dw_arena_free(arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_samples_are_good),
        cmocka_unit_test(test_completed_jobs_go_round),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
