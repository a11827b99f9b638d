/* job_from.h - jobs for tests, from JSON text or made in C. Include after cmocka.h. */
#ifndef JOB_FROM_H
#define JOB_FROM_H

#include <stdio.h>
#include <string.h>

#include <drawerwright/fault.h>
#include <drawerwright/files.h>
#include <drawerwright/job.h>
#include <drawerwright/keys.h>
#include <drawerwright/memory.h>

/* A small shop in inches: birch plywood of three thicknesses, oak for fronts, slides of three kinds. For the "shop" of a test's job. */
#define TEST_SHOP \
    "\"shop\": {\"name\": \"test\", \"materials\": [" \
    "{\"id\": \"ply 3/4\", \"thickness\": \"3/4\", \"sheets\": [{\"id\": \"4x8\", \"length\": 96, \"width\": 48, \"price\": \"92.00\"}]}," \
    "{\"id\": \"ply 1/2\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"4x8\", \"length\": 96, \"width\": 48, \"price\": \"68.00\"}]}," \
    "{\"id\": \"ply 1/4\", \"thickness\": \"1/4\", \"sheets\": [{\"id\": \"4x8\", \"length\": 96, \"width\": 48, \"price\": \"41.00\"}]}," \
    "{\"id\": \"oak 3/4\", \"kind\": \"solid wood\", \"thickness\": \"3/4\", \"movement\": \"0.369 %\"," \
    " \"sheets\": [{\"id\": \"panel\", \"length\": 72, \"width\": 24, \"price\": \"120.00\"}]}]," \
    "\"slides\": [{\"id\": \"side\", \"lengths\": [10, 12, 14, 16, 18, 20, 22, 24]}," \
    "{\"id\": \"under\", \"kind\": \"undermount\", \"lengths\": [9, 12, 15, 18, 21]}," \
    "{\"id\": \"hand\", \"kind\": \"hand-fitted\"}]}"

/* The usual lines of a case that say what drawers are made of. */
#define TEST_MAKE "\"box\": {\"sides\": \"ply 1/2\", \"bottom\": \"ply 1/4\"}, \"front\": {\"material\": \"ply 3/4\"}"

static inline void print_faults(const struct dw_faults *faults)
{
    for (size_t i = 0; i < faults->count; i++)
        print_error("%s: %s [%s]: %s; %s\n", dw_grade_word(faults->at[i].grade), faults->at[i].address, faults->at[i].code,
                    faults->at[i].wrong, faults->at[i].cure);
}

/* A job read from text, not completed; NULL when it has faults. */
static inline const struct dw_job *job_read(const char *json, struct dw_arena *arena, struct dw_faults *faults)
{
    const struct dw_job *job = NULL;
    (void)dw_job_read_text(json, strlen(json), "test", NULL, NULL, arena, faults, &job);
    return job;
}

/* Read and completed; NULL when it has faults. */
static inline const struct dw_job *job_from(const char *json, struct dw_arena *arena, struct dw_faults *faults)
{
    const struct dw_job *job = job_read(json, arena, faults);
    const struct dw_job *complete = NULL;
    if (job != NULL)
        (void)dw_job_complete(job, arena, faults, &complete);
    return complete;
}

/* The same, for tests whose job must be good: anything but warnings fails the test. */
static inline const struct dw_job *good_job(const char *json, struct dw_arena *arena)
{
    struct dw_faults *faults = dw_faults_new();
    assert_non_null(faults);
    const struct dw_job *job = job_from(json, arena, faults);
    if (job == NULL)
        print_faults(faults);
    assert_non_null(job);
    dw_faults_free(faults);
    return job;
}

/* For jobs made in C: a thing with everything not given, to be filled in. */
#define CLEARED(type, object, name) \
    struct type name; \
    dw_object_clear(&(object), &(name))

#endif
