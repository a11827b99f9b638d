/* run.c - the whole line: complete and check each job, size it, make its parts, then lay out and buy for all together.
 *
 * A stage runs for every job before the next begins, so that all faults of a kind are seen at once. Marks are unique within a job; where
 * several are planned together, the job's number leads them ("2/A-1.3BF"), so that no two pieces on the bench are called the same.
 */
#include "batches.h"

#include <string.h>

#include <drawerwright/memory.h>

struct line {
    const struct dw_job *const *asked;
    size_t job_count;
    const struct dw_run_rest *rest; /* NULL: all parts */
    enum dw_stage last;
    const struct dw_layout_options *options;
    struct dw_arena *arena;
    struct dw_faults *faults, *heard; /* heard: of what was tried to find out about batches */
    const struct dw_job **jobs;
    const struct dw_sizing **sizings;
    const struct dw_parts **parts, **whole;
    const struct dw_parts *const *alike; /* the parts as they would be without batches; NULL where there are none */
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

void dwi_run_number_marks(const struct dw_parts **jobs, size_t job_count, struct dw_arena *arena)
{
    for (size_t job = 0; job_count > 1 && job < job_count; job++)
        jobs[job] = number_marks(arena, jobs[job], job + 1);
}

/* Leaves of all parts those that are wanted. */
static void take_rest(struct line *line)
{
    size_t left = 0;
    dwi_rest_warn(line->parts, line->job_count, line->rest, line->arena, line->faults);
    line->whole = dw_arena_copy(line->arena, line->parts, line->job_count, sizeof *line->parts);
    dwi_rest_take(line->parts, line->job_count, line->rest, line->arena);
    for (size_t job = 0; job < line->job_count; job++)
        left += line->parts[job]->count;
    if (left > 0)
        return;
    dw_error(line->faults, DW_IMPOSSIBLE, "nothing-left", "", line->rest->only_count > 0 ? "no part that is asked for is left to be cut\nboxes, fronts, case, extras, or the path of a case, bank or drawer"
                                                                                     : "every part is cut\nnothing is left to be planned");
    line->status = DW_IMPOSSIBLE;
}

/* What a maker is to know of all that was tried. */
static void tell_mixed_batches(struct line *line)
{
    for (size_t i = 0; i < line->heard->count; i++) {
        struct dw_faults one = *line->heard;
        one.at += i;
        one.count = 1;
        if (strcmp(line->heard->at[i].code, DWI_BATCH_MIXED) == 0)
            dw_faults_append(line->faults, &one, "");
    }
}

static void give_to_batches(struct line *line)
{
    const struct dw_job *const *given = dwi_batches_give(line->asked, line->job_count, line->rest, line->options, line->arena, line->heard,
                                                            &line->alike);
    if (given == NULL)
        return;
    line->asked = given;
    tell_mixed_batches(line);
}

static void line_body(void *context)
{
    static stage_of_job *const stages[] = {[DW_STAGE_CHECK] = complete, [DW_STAGE_SIZE] = size, [DW_STAGE_PARTS] = part};
    struct line *line = context;
    if (line->last > DW_STAGE_CHECK)
        give_to_batches(line);
    line->jobs = dw_arena_alloc(line->arena, line->job_count, sizeof *line->jobs);
    line->sizings = dw_arena_alloc(line->arena, line->job_count, sizeof *line->sizings);
    line->parts = dw_arena_alloc(line->arena, line->job_count, sizeof *line->parts);
    while (line->reached <= DW_STAGE_PARTS && line->reached <= (int)line->last && run_all(line, stages[line->reached]))
        line->reached++;
    if (line->reached > DW_STAGE_PARTS)
        dwi_run_number_marks(line->parts, line->job_count, line->arena);
    if (line->rest != NULL && line->reached > DW_STAGE_PARTS)
        take_rest(line);
}

/* ---- sheets ----------------------------------------------------------------------------------------------- */

struct try {
    const struct dw_purchase *purchase;
    struct dw_faults *faults;
    enum dw_status status;
};

/* Moves of fence or stop, and passes of the saw. */
static size_t work_of(const struct dw_purchase *purchase)
{
    size_t work = 0;
    for (size_t m = 0; m < purchase->layouts->material_count; m++)
        work += purchase->layouts->materials[m].ladder.settings + purchase->layouts->materials[m].ladder.cuts;
    return work;
}

static bool is_better(const struct try *first, const struct try *second)
{
    if (first->status != DW_DONE || second->status != DW_DONE)
        return first->status == DW_DONE;
    if (first->purchase->sheets_cost != second->purchase->sheets_cost)
        return first->purchase->sheets_cost < second->purchase->sheets_cost;
    return work_of(first->purchase) <= work_of(second->purchase);
}

/* What is left is cut at the least money, then the least work. Where rips first do as well they are taken: a panel that is ripped leaves one of its
 * full length (common practice, no source). */
static enum dw_status lay_out_rest(const struct line *line, const struct dw_layout_options *options, const struct dw_control *control,
                                   const struct dw_purchase **purchase)
{
    struct try tries[2];
    for (int i = 0; i < 2; i++) {
        struct dw_layout_options ways = *options;
        ways.first_cut = i == 0 ? 1 : 0;
        tries[i] = (struct try){.faults = dw_faults_new(), .status = DW_SURROUNDINGS};
        if (tries[i].faults != NULL)
            tries[i].status = dw_purchase_make(line->parts, line->job_count, &ways, control, line->arena, tries[i].faults, &tries[i].purchase);
    }
    const struct try *taken = is_better(&tries[0], &tries[1]) ? &tries[0] : &tries[1];
    if (taken->faults != NULL)
        dw_faults_append(line->faults, taken->faults, "");
    *purchase = taken->purchase;
    const enum dw_status status = taken->status;
    for (int i = 0; i < 2; i++)
        dw_faults_free(tries[i].faults);
    return status;
}

static enum dw_status run_line(struct line line, const struct dw_layout_options *options, const struct dw_control *control, struct dw_run *run)
{
    *run = (struct dw_run){.job_count = line.job_count};
    line.heard = dw_faults_new();
    const bool whole = line.heard != NULL && dw_arena_guard(line.arena, line_body, &line);
    dw_faults_free(line.heard);
    if (!whole) {
        dw_error(line.faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    run->jobs = line.reached > DW_STAGE_CHECK ? line.jobs : NULL;
    run->sizings = line.reached > DW_STAGE_SIZE ? line.sizings : NULL;
    run->parts = line.reached > DW_STAGE_PARTS ? line.parts : NULL;
    run->whole = run->parts == NULL || line.whole != NULL ? line.whole : run->parts;
    if (line.last < DW_STAGE_LAYOUT || run->parts == NULL || line.status != DW_DONE)
        return line.status;
    if (line.rest != NULL && line.rest->follows && options->first_cut == 0)
        line.status = lay_out_rest(&line, options, control, &run->purchase);
    else
        line.status = dw_purchase_make(run->parts, line.job_count, options, control, line.arena, line.faults, &run->purchase);
    if (line.status == DW_DONE && line.alike != NULL)
        line.status = dwi_batches_tell_cost(line.alike, run->purchase, options, control, line.arena, line.faults);
    return line.status;
}

enum dw_status dw_run_jobs(const struct dw_job *const *jobs, size_t job_count, enum dw_stage last, const struct dw_layout_options *options,
                           const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults, struct dw_run *run)
{
    const struct line line = {.asked = jobs, .job_count = job_count, .last = last, .options = options, .arena = arena, .faults = faults};
    return run_line(line, options, control, run);
}

enum dw_status dw_run_rest(const struct dw_job *const *jobs, size_t job_count, const struct dw_run_rest *rest, const struct dw_layout_options *options,
                           const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults, struct dw_run *run)
{
    const struct line line = {.asked = jobs, .job_count = job_count, .rest = rest, .last = DW_STAGE_LAYOUT, .options = options, .arena = arena, .faults = faults};
    return run_line(line, options, control, run);
}
