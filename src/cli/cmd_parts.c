/* cmd_parts.c - the parts list. */
#include "cli.h"

static enum dw_status answer(struct cli_session *session, struct dw_text *out)
{
    if (session->options->json)
        return dw_json_parts(session->run.parts[0], out);
    cli_print_parts(session->arena, session->run.parts[0], out);
    return DW_DONE;
}

enum dw_status cmd_parts(const struct cli_options *options)
{
    return cli_session_run(options, DW_STAGE_PARTS, answer);
}
