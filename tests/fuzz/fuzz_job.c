/* fuzz_job.c - whatever is read and completed as a job is read and completed as the same when it is written. */
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/fault.h>
#include <drawerwright/files.h>
#include <drawerwright/memory.h>

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

/* The completed job as JSON; NULL when there is none, which only a fault may cause. */
static const char *through(const char *text, size_t length, struct dw_arena *arena, struct dw_faults *faults, size_t *written)
{
    const struct dw_job *job = NULL;
    struct writing writing = {.arena = arena};
    if (dw_job_read_text(text, length, "fuzz", NULL, NULL, arena, faults, &job) == DW_DONE)
        (void)dw_job_complete(job, arena, faults, &writing.job);
    if ((writing.job == NULL) != (faults->errors > 0))
        abort();
    if (writing.job == NULL || !dw_arena_guard(arena, write_body, &writing))
        return NULL;
    *written = writing.text.length;
    return writing.text.bytes;
}

int fuzz_job(const uint8_t *data, size_t size)
{
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    if (arena != NULL && faults != NULL) {
        size_t length = 0;
        size_t again_length = 0;
        const char *first = through((const char *)data, size, arena, faults, &length);
        const char *again = first == NULL ? NULL : through(first, length, arena, faults, &again_length);
        if (first != NULL && (again == NULL || strcmp(first, again) != 0))
            abort();
    }
    dw_faults_free(faults);
    dw_arena_free(arena);
    return 0;
}
