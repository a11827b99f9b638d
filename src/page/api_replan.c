/* api_replan.c - what the page may ask before a plan is entered: plan some parts, or what is left; tell what a measure changes; and at the very end,
 * enter in the rack what all plans of the bench used and left. */
#include "at_bench.h"

#include <inttypes.h>
#include <string.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/run.h>

#include "plans.h"
#include "replan.h"
#include "store.h"

/* ---- planning --------------------------------------------------------------------------------------------------- */

/* Of the job in the body: plan=mark of the plan to follow, or ""; only=boxes,fronts. {"run"}: to be asked after with of=bench. */
struct dwi_answer dwi_bench_plan(struct call *call)
{
    const char *id = dwi_call_argument(call, "id");
    struct dwi_wish wish = {.id = id, .text = call->ask->body, .length = call->ask->body_length, .patience = DW_SHORT,
                            .use_rack = dwi_call_says_yes(call, "rack"), .leeway = dwi_call_says_yes(call, "leeway"), .whole = true,
                            .follows = dwi_call_argument(call, "plan"), .only = dwi_call_argument(call, "only")};
    (void)dw_patience_parse(dwi_call_argument(call, "patience"), &wish.patience);
    if (!dwi_store_is_id(id))
        dw_error(call->faults, DW_INPUT, "bad-id", "id", "this is no name for a job\nuse letters, digits, spaces, - and _");
    if (wish.follows[0] != '\0')
        (void)dwi_bench_asked(call);
    if (call->faults->errors > 0)
        return dwi_call_faults(call, DW_INPUT);
    const int64_t run = dwi_worker_start(call->ask->bench, &wish);
    dw_text_addf(&call->out, "{\"run\": %" PRId64 "}\n", run);
    return dwi_call_give(call, run == 0 ? 500 : 202);
}

/* ---- what a measure changes ------------------------------------------------------------------------------------- */

enum { SETTINGS_MOST = 64 };

/* The settings of the query, a line each. */
static size_t read_settings(struct call *call, const char **settings)
{
    size_t count = 0;
    for (const char *at = dwi_call_argument(call, "set"); at[0] != '\0' && count < SETTINGS_MOST;) {
        const size_t length = strcspn(at, "\n");
        settings[count++] = dw_arena_slice(call->arena, at, length);
        at += length + (at[length] == '\n' ? 1 : 0);
    }
    return count;
}

/* The parts of the job in the body, with or without the settings. */
static enum dw_status make_parts(struct call *call, const char *const *settings, size_t count, struct dw_faults *faults, const struct dw_parts **parts)
{
    const struct dw_read_options options = {.settings = settings, .setting_count = count};
    const struct dw_job *job = NULL;
    struct dw_run run = {0};
    enum dw_status status = dw_job_read_text(call->ask->body, call->ask->body_length, "job", call->ask->folder, &options, call->arena, faults, &job);
    if (status == DW_DONE)
        status = dw_run_jobs(&job, 1, DW_STAGE_PARTS, NULL, NULL, call->arena, faults, &run);
    *parts = status == DW_DONE ? run.parts[0] : NULL;
    return status;
}

static enum dw_status read_cut(struct dwi_use *use, struct dw_run_rest *rest)
{
    struct call *call = use->call;
    const struct dw_progress *progress = NULL;
    if (dwi_call_argument(call, "plan")[0] == '\0')
        return DW_DONE;
    const char *mark = dwi_bench_asked(call);
    const enum dw_status status = mark[0] == '\0' ? DW_INPUT : dw_progress_read(use->rack, mark, call->arena, call->faults, &progress);
    if (status == DW_DONE)
        *rest = (struct dw_run_rest){.cut = progress->cut, .cut_count = progress->cut_count};
    return status;
}

/* Adds as JSON the warnings of pieces that are cut otherwise: the words of the library, led by the mark. */
static void add_cut_otherwise(struct call *call, const struct dw_faults *faults)
{
    const char *lead = "";
    dw_text_add(&call->out, ", \"cut\": [");
    for (size_t i = 0; i < faults->count; i++) {
        if (strncmp(faults->at[i].code, "cut-", 4) != 0 || faults->at[i].grade != DW_WARNING)
            continue;
        dw_text_add(&call->out, lead);
        dw_json_quote(dw_arena_format(call->arena, "%s: %s", faults->at[i].address, faults->at[i].wrong), &call->out);
        lead = ", ";
    }
    dw_text_add_char(&call->out, ']');
}

static enum dw_status measure(struct dwi_use *use)
{
    struct call *call = use->call;
    const char **settings = dw_arena_alloc(call->arena, SETTINGS_MOST, sizeof *settings);
    const size_t count = read_settings(call, settings);
    const struct dw_parts *before = NULL;
    const struct dw_parts *after = NULL;
    struct dw_run_rest rest = {.cut_count = 0};
    struct dw_run_changes changes = {.count = 0};
    enum dw_status status = read_cut(use, &rest);
    if (status == DW_DONE)
        status = make_parts(call, settings, 0, call->faults, &before);
    if (status == DW_DONE)
        status = make_parts(call, settings, count, call->faults, &after);
    if (status == DW_DONE)
        status = dw_run_size_changes(before, after, &rest, call->arena, call->faults, &changes);
    if (status != DW_DONE)
        return status;
    dw_text_add(&call->out, "{\"changes\": ");
    dwi_replan_add_lines(&changes, &call->out);
    add_cut_otherwise(call, call->faults);
    dw_text_add(&call->out, "}\n");
    return DW_DONE;
}

/* Of the job in the body with other values (set=, a line each, as for --set): {"changes": [...], "cut": [...]}. Nothing is kept. */
struct dwi_answer dwi_bench_measure(struct call *call)
{
    return dwi_call_with_rack(call, measure);
}

/* ---- the end ---------------------------------------------------------------------------------------------------- */

static enum dw_status post(struct dwi_use *use)
{
    struct call *call = use->call;
    const char *mark = dwi_bench_asked(call);
    const struct dw_progress *progress = NULL;
    const struct dw_plan *plan = NULL;
    struct dw_posting posting;
    enum dw_status status = mark[0] == '\0' ? DW_INPUT : dw_progress_read(use->rack, mark, call->arena, call->faults, &progress);
    if (status == DW_DONE && !dwi_plans_has(call->ask->folder, mark, "json", call->arena)) {
        dw_error(call->faults, DW_IMPOSSIBLE, "no-plan", mark, "the plan was entered elsewhere, and its file is not here\nenter it by its file once more, then this");
        status = DW_IMPOSSIBLE;
    }
    if (status == DW_DONE)
        status = dwi_plans_open(call->ask->folder, &progress->plan, call->arena, call->faults, &plan);
    if (status == DW_DONE)
        status = dw_run_posting_all(plan, progress, call->arena, call->faults, &posting);
    return status == DW_DONE ? dw_rack_post(use->rack, &posting, call->faults) : status;
}

/* What the plan and all before it used leaves the rack, what they left comes in. */
struct dwi_answer dwi_bench_post(struct call *call)
{
    return dwi_call_with_rack(call, post);
}
