/* print_leeway.c - what sizes gave to save a sheet, or what a small change would save. */
#include "cli.h"

#include <drawerwright/memory.h>

void cli_print_leeway(const struct cli_session *session, struct dw_text *out)
{
    const struct dw_leeway *leeway = session->leeway;
    if (leeway == NULL)
        return;
    if (session->options->leeway) {
        cli_print_heading("Leeway", out);
        cli_wrap(out, "  ", "  ", leeway->words);
        if (leeway->change_count != 0) {
            dw_text_add(out, leeway->certain ? "  No choice of sizes within the rules costs less.\n" : "");
            dw_text_add(out, "  To leave one as it was: --keep PATH. The other way round: the plan without --leeway.\n");
        }
    } else if (leeway->change_count != 0) {
        cli_print_heading("Almost a sheet less", out);
        cli_wrap(out, "  ", "  ", leeway->words);
        dw_text_add(out, "  Make the change in the job, or let --leeway look for more.\n");
    }
}
