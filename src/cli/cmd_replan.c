/* cmd_replan.c - what is left of a plan, planned again from what is left: uncut sheets, half-cut ones, offcuts. Nothing that is cut is touched.
 *
 * Files first, the ledger last: a program killed between leaves the plan before as the one worked from, and the new one can still be entered by its
 * file, which says what it follows.
 */
#include "cli.h"

#include <drawerwright/memory.h>
#include <drawerwright/plan.h>

enum dw_status cli_replan_prepare(struct cli_session *session, struct dw_run_rest *rest, struct dw_layout_options *layout)
{
    const struct cli_options *options = session->options;
    struct dw_rack *rack = NULL;
    enum dw_status status = dw_rack_open(cli_ledger(options), session->faults, &rack);
    if (status == DW_DONE)
        status = cli_enter_plan(rack, options->files[0], session->arena, session->faults, &session->before);
    if (status == DW_DONE)
        status = dw_progress_read(rack, session->before->plan_id, session->arena, session->faults, &session->progress);
    dw_rack_close(rack);
    layout->given = session->before->given;
    layout->given_count = session->before->given_count;
    return status == DW_DONE ? dw_run_follow(session->progress, session->arena, session->faults, rest, layout) : status;
}

void cli_print_changes(const struct cli_session *session, struct dw_text *out)
{
    cli_print_heading(dw_arena_format(session->arena, "What changes against plan %s", session->before->plan_id), out);
    for (size_t i = 0; i < session->changes.count; i++)
        cli_wrap(out, "  * ", "    ", session->changes.lines[i]);
    if (session->changes.count == 0)
        dw_text_add(out, "  nothing: the same pieces, of the same size\n");
}

static enum dw_status enter(struct cli_session *session, const struct dw_plan *plan)
{
    struct dw_rack *rack = NULL;
    struct dw_work_plan work;
    enum dw_status status = dw_run_work(plan, session->arena, session->faults, &work);
    if (status == DW_DONE)
        status = dw_rack_open(cli_ledger(session->options), session->faults, &rack);
    if (status == DW_DONE)
        status = dw_progress_enter(rack, &work, session->faults);
    dw_rack_close(rack);
    return status;
}

/* The new plan as its file will say it, so that it is entered as it would be from the file. */
static enum dw_status answer(struct cli_session *session, struct dw_text *out)
{
    const struct dw_job *job = session->run.jobs[0];
    const struct dw_plan *plan = NULL;
    struct dw_text text = dw_text_in(session->arena);
    enum dw_status status = dw_json_plan(session->run.purchase, session->faults, &text);
    if (status == DW_DONE)
        status = dw_plan_read_text(text.bytes, text.length, session->arena, session->faults, &plan);
    if (status == DW_DONE)
        status = dw_run_changes(session->before, plan, session->progress, job->unit, job->shop.prices.currency.decimals, session->arena, session->faults,
                                &session->changes);
    if (status == DW_DONE)
        status = cli_plan_answer(session, out);
    if (status == DW_DONE && session->options->out != NULL)
        status = enter(session, plan);
    if (status == DW_DONE && session->options->out != NULL && !session->options->json)
        dw_text_addf(out, "Plan %s replaces plan %s, whose pages and labels hold no more.\n", plan->plan_id, session->before->plan_id);
    return status;
}

enum dw_status cmd_replan(const struct cli_options *options)
{
    struct cli_session session = {.replan = true, .near_misses = true};
    (void)cli_session_start(&session, options, DW_STAGE_LAYOUT);
    return cli_session_end(&session, answer);
}
