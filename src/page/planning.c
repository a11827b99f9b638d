/* planning.c - see planning.h. The same calls as the command line makes, in the same order, so that the plan is the same. */
#include "planning.h"

#include <drawerwright/files.h>
#include <drawerwright/leeway.h>
#include <drawerwright/memory.h>
#include <drawerwright/rack.h>
#include <drawerwright/run.h>

#include "drawings.h"
#include "replan.h"

struct planning {
    const char *folder;
    const struct dwi_wish *wish;
    const struct dw_purchase *shown;
    const struct dwi_follower *follower;
    struct dwi_replan replan;
    struct dw_layout_options options;
    struct dw_control control;
    struct dwi_glimpses *glimpses;
    const char *what; /* what is being done, as the follower was told */
    struct dw_run line;
    const struct dw_leeway *leeway;
    struct dwi_outcome outcome;
};

static enum dw_status use_rack(struct planning *planning)
{
    struct dwi_outcome *outcome = &planning->outcome;
    const char *path = dw_arena_format(outcome->arena, "%s/rack.db", planning->folder);
    struct dw_rack *rack = NULL;
    enum dw_status status = dw_rack_open(path, outcome->faults, &rack);
    if (status == DW_DONE)
        status = dw_run_use_rack(rack, planning->replan.progress, outcome->arena, outcome->faults, &planning->options);
    dw_rack_close(rack);
    return status;
}

static void come_to(struct planning *planning, const char *what)
{
    if (planning->what == what)
        return;
    planning->what = what;
    planning->follower->has_come_to(planning->follower->context, what);
}

static void on_progress(void *context, const struct dw_standing *standing)
{
    struct planning *planning = context;
    if (standing->what[0] == '\0' && planning->glimpses != NULL)
        come_to(planning, "choices"); /* what the plan is weighed against */
    planning->follower->stands(planning->follower->context, standing);
}

/* What is left to be planned: NULL when that is the whole job. */
static const struct dw_run_rest *rest_of(const struct planning *planning)
{
    return dwi_replan_is_asked(&planning->replan) ? &planning->replan.rest : NULL;
}

/* Lays out and buys, with glimpses of better sheets on the way. */
static enum dw_status lay_out(struct planning *planning)
{
    struct dwi_outcome *outcome = &planning->outcome;
    planning->glimpses = dwi_glimpses_new(planning->line.parts, &planning->options, planning->shown, outcome->arena);
    come_to(planning, "sheets");
    planning->control.plans = planning->glimpses != NULL;
    planning->follower->has_begun(planning->follower->context, planning->glimpses);
    const enum dw_status status =
        dw_purchase_make(planning->line.parts, 1, &planning->options, &planning->control, outcome->arena, outcome->faults, &planning->line.purchase);
    planning->control.plans = false;
    planning->follower->has_begun(planning->follower->context, NULL);
    dwi_glimpses_free(planning->glimpses);
    planning->glimpses = NULL;
    return status;
}

/* Sizes give where the job says so, or the shop's habits when asked. */
static enum dw_status let_sizes_give(struct planning *planning)
{
    struct dwi_outcome *outcome = &planning->outcome;
    struct dw_run *line = &planning->line;
    const struct dw_leeway_options told = {.habits = planning->wish->leeway};
    if (!planning->wish->leeway && !dw_leeway_is_told(line->jobs[0]))
        return DW_DONE;
    come_to(planning, "sizes");
    const enum dw_status status =
        dw_run_leeway(line, rest_of(planning), &told, &planning->options, &planning->control, outcome->arena, outcome->faults, &planning->leeway);
    if (status != DW_DONE)
        return status;
    line->sizings = planning->leeway->sizings;
    line->parts = planning->leeway->parts;
    line->purchase = planning->leeway->purchase;
    return DW_DONE;
}

static enum dw_status look_for_near_misses(struct planning *planning, const struct dw_leeway **near)
{
    struct dwi_outcome *outcome = &planning->outcome;
    const struct dw_job *job = planning->line.sizings[0]->job; /* with the sizes that gave */
    struct dw_run line = planning->line;
    const struct dw_leeway_options told = {.near = job->shop.habits.leeway.near};
    line.jobs = &job;
    if (!planning->wish->whole || told.near == 0)
        return DW_DONE;
    come_to(planning, "near");
    return dw_run_leeway(&line, rest_of(planning), &told, &planning->options, &planning->control, outcome->arena, outcome->faults, near);
}

/* The sizes and parts are told again where leeway chose others. */
static void answer(struct planning *planning)
{
    struct dwi_outcome *outcome = &planning->outcome;
    const struct dw_purchase *purchase = planning->line.purchase;
    struct dw_text out = dw_text_in(outcome->arena);
    struct dw_text plan = dw_text_in(outcome->arena);
    dw_text_addf(&out, "\"stopped\": %s, \"layouts\": ", purchase->stop == DW_STOP_CANCEL ? "true" : "false");
    (void)dw_json_layouts(purchase, &out);
    dw_text_add(&out, ", \"purchase\": ");
    (void)dw_json_purchase(purchase, &out);
    dw_text_add(&out, ", \"drawings\": ");
    dwi_drawings_of(purchase, outcome->faults, &out);
    if (planning->leeway != NULL && planning->leeway->change_count > 0) {
        dw_text_add(&out, ", \"sizing\": ");
        (void)dw_json_sizing(planning->line.sizings[0], &out);
        dw_text_add(&out, ", \"parts\": ");
        (void)dw_json_parts(planning->line.parts[0], &out);
    }
    outcome->status = dw_json_plan(purchase, outcome->faults, &plan);
    if (outcome->status == DW_DONE && rest_of(planning) != NULL)
        outcome->status = dwi_replan_tell(&planning->replan, planning->line.jobs[0], plan.bytes, plan.length, outcome->arena, outcome->faults, &out);
    outcome->answer = out.bytes;
    outcome->plan = plan.bytes;
    outcome->plan_length = plan.length;
    outcome->purchase = purchase;
}

/* The whole job, or what is left of it. */
static enum dw_status run_line(struct planning *planning, const struct dw_job *job)
{
    struct dwi_outcome *outcome = &planning->outcome;
    if (rest_of(planning) != NULL)
        return dw_run_rest(&job, 1, rest_of(planning), &planning->options, &planning->control, outcome->arena, outcome->faults, &planning->line);
    const enum dw_status status = dw_run_jobs(&job, 1, DW_STAGE_PARTS, NULL, NULL, outcome->arena, outcome->faults, &planning->line);
    return status == DW_DONE ? lay_out(planning) : status;
}

static void plan_body(void *context)
{
    struct planning *planning = context;
    struct dwi_outcome *outcome = &planning->outcome;
    const struct dwi_wish *wish = planning->wish;
    const struct dw_job *job = NULL;
    const struct dw_leeway *near = NULL;
    enum dw_status *status = &outcome->status;
    *status = dw_job_read_text(wish->text, wish->length, wish->id, planning->folder, NULL, outcome->arena, outcome->faults, &job);
    if (*status == DW_DONE && rest_of(planning) != NULL)
        *status = dwi_replan_prepare(&planning->replan, planning->folder, &planning->options, outcome->arena, outcome->faults);
    if (*status == DW_DONE && wish->use_rack)
        *status = use_rack(planning);
    if (*status == DW_DONE)
        *status = run_line(planning, job);
    if (*status == DW_DONE)
        *status = let_sizes_give(planning);
    if (*status == DW_DONE)
        *status = look_for_near_misses(planning, &near);
    if (*status != DW_DONE)
        return;
    planning->line.purchase = dw_leeway_tell(planning->line.purchase, planning->leeway, near, outcome->arena);
    answer(planning);
}

struct dwi_outcome dwi_plan(const char *folder, const struct dwi_wish *wish, const struct dw_purchase *shown, atomic_bool *cancel,
                            const struct dwi_follower *follower)
{
    struct planning planning = {.folder = folder, .wish = wish, .shown = shown, .follower = follower, .what = "",
                                .replan = {.follows = wish->follows, .only = wish->only},
                                .options = {.patience = wish->patience, .threads = 2, .no_choices = !wish->whole},
                                .outcome = {.arena = dw_arena_new(), .faults = dw_faults_new()}};
    planning.control = (struct dw_control){.cancel = cancel, .progress = on_progress, .context = &planning};
    if (planning.outcome.arena == NULL || planning.outcome.faults == NULL || !dw_arena_guard(planning.outcome.arena, plan_body, &planning))
        planning.outcome.status = DW_SURROUNDINGS;
    return planning.outcome;
}

void dwi_outcome_drop(struct dwi_outcome *outcome)
{
    dw_arena_free(outcome->arena);
    dw_faults_free(outcome->faults);
    *outcome = (struct dwi_outcome){.status = DW_DONE};
}
