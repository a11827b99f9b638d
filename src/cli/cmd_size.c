/* cmd_size.c - fronts and boxes. */
#include "cli.h"

static enum dw_status answer(struct cli_session *session, struct dw_text *out)
{
    if (session->options->json)
        return dw_json_sizing(session->run.sizings[0], out);
    const struct dw_sizing *sizing = session->run.sizings[0];
    if (cli_print_sizing(session->arena, sizing, session->options, out))
        return DW_DONE;
    dw_error(session->faults, DW_INPUT, "unknown-place", "--only", "no case, bank or drawer is called \"%s\"\na path as the table shows it, such as %s",
             session->options->only, sizing->case_count == 0 ? "Case/1/1" : sizing->cases[0].path);
    return DW_INPUT;
}

enum dw_status cmd_size(const struct cli_options *options)
{
    return cli_session_run(options, DW_STAGE_SIZE, answer);
}
