/* run.c - the whole line: complete and check each job, size it, make its parts, then lay out and buy for all together.
 *
 * A stage runs for every job before the next begins, so that all faults of a kind are seen at once. Marks are unique within a job; where
 * several are planned together, the job's number leads them ("2/A-1.3BF"), so that no two pieces on the bench are called the same.
 */
#include <drawerwright/run.h>

#include <drawerwright/memory.h>

struct line {
    const struct dw_job *const *asked;
    size_t job_count;
    enum dw_stage last;
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dw_job **jobs;
    const struct dw_sizing **sizings;
    const struct dw_parts **parts;
    int reached; /* stages done for every job, of those up to the parts */
    enum dw_status status; /* the gravest of any stage */
};

/* One stage for one job. */
typedef enum dw_status stage_of_job(struct line *line, size_t job, struct dw_faults *faults);

static enum dw_status complete(struct line *line, size_t job, struct dw_faults *faults)
{
    return dw_job_complete(line->asked[job], line->arena, faults, &line->jobs[job]);
}

static enum dw_status size(struct line *line, size_t job, struct dw_faults *faults)
{
    return dw_size(line->jobs[job], line->arena, faults, &line->sizings[job]);
}

static enum dw_status part(struct line *line, size_t job, struct dw_faults *faults)
{
    return dw_parts_make(line->sizings[job], line->arena, faults, &line->parts[job]);
}

/* Runs a stage for one job. One of several jobs has its faults led by its id. */
static enum dw_status run_one(struct line *line, size_t job, stage_of_job *stage)
{
    if (line->job_count == 1)
        return stage(line, job, line->faults);
    const char *prefix = dw_arena_format(line->arena, "%s: ", line->asked[job]->id);
    struct dw_faults *faults = dw_faults_new();
    if (faults == NULL)
        return DW_SURROUNDINGS;
    const enum dw_status status = stage(line, job, faults);
    dw_faults_append(line->faults, faults, prefix);
    dw_faults_free(faults);
    return status;
}

static bool run_all(struct line *line, stage_of_job *stage)
{
    for (size_t job = 0; job < line->job_count; job++) {
        const enum dw_status status = run_one(line, job, stage);
        line->status = status > line->status ? status : line->status;
    }
    return line->status == DW_DONE;
}

/* The same parts with marks led by the job's number. */
static const struct dw_parts *number_marks(struct dw_arena *arena, const struct dw_parts *parts, size_t number)
{
    struct dw_parts *copy = dw_arena_copy(arena, parts, 1, sizeof *copy);
    struct dw_part *at = dw_arena_copy(arena, parts->at, parts->count, sizeof *at);
    for (size_t p = 0; p < parts->count; p++) {
        struct dw_piece *pieces = dw_arena_copy(arena, at[p].pieces, at[p].count, sizeof *pieces);
        for (size_t i = 0; i < at[p].count; i++)
            pieces[i].mark = dw_arena_format(arena, "%zu/%s", number, pieces[i].mark);
        at[p].pieces = pieces;
    }
    copy->at = at;
    return copy;
}

static void line_body(void *context)
{
    static stage_of_job *const stages[] = {[DW_STAGE_CHECK] = complete, [DW_STAGE_SIZE] = size, [DW_STAGE_PARTS] = part};
    struct line *line = context;
    line->jobs = dw_arena_alloc(line->arena, line->job_count, sizeof *line->jobs);
    line->sizings = dw_arena_alloc(line->arena, line->job_count, sizeof *line->sizings);
    line->parts = dw_arena_alloc(line->arena, line->job_count, sizeof *line->parts);
    while (line->reached <= DW_STAGE_PARTS && line->reached <= (int)line->last && run_all(line, stages[line->reached]))
        line->reached++;
    for (size_t job = 0; line->job_count > 1 && line->reached > DW_STAGE_PARTS && job < line->job_count; job++)
        line->parts[job] = number_marks(line->arena, line->parts[job], job + 1);
}

enum dw_status dw_run_jobs(const struct dw_job *const *jobs, size_t job_count, enum dw_stage last, const struct dw_layout_options *options,
                           const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults, struct dw_run *run)
{
    *run = (struct dw_run){.job_count = job_count};
    struct line line = {.asked = jobs, .job_count = job_count, .last = last, .arena = arena, .faults = faults};
    if (!dw_arena_guard(arena, line_body, &line)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    run->jobs = line.reached > DW_STAGE_CHECK ? line.jobs : NULL;
    run->sizings = line.reached > DW_STAGE_SIZE ? line.sizings : NULL;
    run->parts = line.reached > DW_STAGE_PARTS ? line.parts : NULL;
    if (last == DW_STAGE_LAYOUT && run->parts != NULL)
        return dw_purchase_make(run->parts, job_count, options, control, arena, faults, &run->purchase);
    return line.status;
}
