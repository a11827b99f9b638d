/* cmd_size.c - fronts and boxes. */
#include "cli.h"

static enum dw_status answer(struct cli_session *session, struct dw_text *out)
{
    if (session->options->json)
        return dw_json_sizing(session->run.sizings[0], out);
    cli_print_sizing(session->arena, session->run.sizings[0], session->options, out);
    return DW_DONE;
}

enum dw_status cmd_size(const struct cli_options *options)
{
    return cli_session_run(options, DW_STAGE_SIZE, answer);
}
