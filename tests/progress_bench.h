/* progress_bench.h - a shop for tests of progress: jobs planned into the ledger of rack_bench.h. Include after cmocka.h. */
#ifndef PROGRESS_BENCH_H
#define PROGRESS_BENCH_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/progress.h>
#include <drawerwright/run.h>

#include "job_from.h"
#include "rack_bench.h"

/* The code of the last fault told; "". */
static inline const char *bench_code(const struct bench *bench)
{
    return bench->faults->count == 0 ? "" : bench->faults->at[bench->faults->count - 1].code;
}

static inline bool bench_has_code(const struct bench *bench, const char *code)
{
    for (size_t i = 0; i < bench->faults->count; i++)
        if (strcmp(bench->faults->at[i].code, code) == 0)
            return true;
    return false;
}

static inline const struct dw_job *bench_job_set(struct bench *bench, const char *json, const char *const *settings, size_t count)
{
    const struct dw_job *job = NULL;
    const struct dw_read_options options = {.settings = settings, .setting_count = count};
    if (dw_job_read_text(json, strlen(json), "test", NULL, &options, bench->arena, bench->faults, &job) != DW_DONE)
        print_faults(bench->faults);
    assert_non_null(job);
    return job;
}

static inline const struct dw_job *bench_job(struct bench *bench, const char *json, const char *setting)
{
    return bench_job_set(bench, json, &setting, setting == NULL ? 0 : 1);
}

static inline const struct dw_progress *bench_progress(struct bench *bench, const char *mark)
{
    const struct dw_progress *progress = NULL;
    if (dw_progress_read(bench->rack, mark, bench->arena, bench->faults, &progress) != DW_DONE)
        print_faults(bench->faults);
    assert_non_null(progress);
    return progress;
}

struct text_call {
    const struct dw_purchase *purchase;
    const struct dw_faults *faults;
    struct dw_text text;
};

static inline void write_plan_text(void *context)
{
    struct text_call *call = context;
    (void)dw_json_plan(call->purchase, call->faults, &call->text);
}

/* The plan of the last run as its file says it. */
static inline const struct dw_plan *bench_read_back(struct bench *bench)
{
    struct text_call call = {.purchase = bench->run.purchase, .faults = bench->faults, .text = dw_text_in(bench->arena)};
    const struct dw_plan *plan = NULL;
    assert_true(dw_arena_guard(bench->arena, write_plan_text, &call));
    assert_int_equal(dw_plan_read_text(call.text.bytes, call.text.length, bench->arena, bench->faults, &plan), DW_DONE);
    return plan;
}

/* Plans parts of a job anew, or what is left of `follows` (a mark, or NULL). NULL when that cannot be. */
static inline const struct dw_plan *bench_plan(struct bench *bench, const struct dw_job *job, const char *only, const char *follows)
{
    struct dw_layout_options options = {.patience = DW_SHORT, .no_choices = true, .threads = 1, .work = 200000};
    struct dw_run_rest rest = {.only = &only, .only_count = only == NULL ? 0 : 1};
    if (follows != NULL) {
        const struct dw_progress *progress = bench_progress(bench, follows);
        if (dw_run_follow(progress, bench->arena, bench->faults, &rest, &options) != DW_DONE)
            return NULL;
        if (bench->use_rack)
            assert_int_equal(dw_run_use_rack(bench->rack, progress, bench->arena, bench->faults, &options), DW_DONE);
    } else if (bench->use_rack) {
        assert_int_equal(dw_run_use_rack(bench->rack, NULL, bench->arena, bench->faults, &options), DW_DONE);
    }
    if (dw_run_rest(&job, 1, &rest, &options, NULL, bench->arena, bench->faults, &bench->run) != DW_DONE)
        return NULL;
    return bench_read_back(bench);
}

static inline enum dw_status bench_enter(struct bench *bench, const struct dw_plan *plan)
{
    struct dw_work_plan work;
    assert_int_equal(dw_run_work(plan, bench->arena, bench->faults, &work), DW_DONE);
    return dw_progress_enter(bench->rack, &work, bench->faults);
}

static inline enum dw_status bench_mark(struct bench *bench, const char *plan, enum dw_mark_kind kind, const char *target, int64_t step)
{
    const struct dw_mark mark = {.kind = kind, .target = target, .step = step};
    return dw_progress_mark(bench->rack, plan, &mark, bench->faults);
}

/* Marks every sheet of a plan as done to its last step. */
static inline void bench_cut_all(struct bench *bench, const char *plan)
{
    const struct dw_progress *progress = bench_progress(bench, plan);
    for (size_t i = 0; i < progress->plan.panel_count; i++) {
        const struct dw_work_panel *panel = &progress->plan.panels[i];
        int64_t last = 0;
        for (size_t k = 0; k < progress->plan.pass_count; k++)
            if (strcmp(progress->plan.panels[progress->plan.passes[k].panel].sheet, panel->name) == 0)
                last = progress->plan.passes[k].step;
        if (panel->source[0] != '\0' && last > 0)
            assert_int_equal(bench_mark(bench, plan, DW_MARK_SHEET, panel->name, last), DW_DONE);
    }
}

#endif
