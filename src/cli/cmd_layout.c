/* cmd_layout.c - the cut ladder and the sheets. */
#include "cli.h"

static enum dw_status answer(struct cli_session *session, struct dw_text *out)
{
    if (session->options->json)
        return dw_json_layouts(session->run.purchase, out);
    cli_print_layouts(session->arena, session->run.purchase, out);
    cli_print_leeway(session, out);
    return DW_DONE;
}

enum dw_status cmd_layout(const struct cli_options *options)
{
    return cli_session_run(options, DW_STAGE_LAYOUT, answer);
}
