/* cmd_check.c - reads a job, fills in the defaults and says which were taken; the faults are reported behind it. */
#include "cli.h"

#include <drawerwright/memory.h>

static enum dw_status answer(struct cli_session *session, struct dw_text *out)
{
    const struct dw_job *job = session->run.jobs[0];
    if (session->options->json)
        return dw_json_job(job, out);
    cli_print_job(session->arena, job, out);
    return DW_DONE;
}

enum dw_status cmd_check(const struct cli_options *options)
{
    return cli_session_run(options, DW_STAGE_CHECK, answer);
}
