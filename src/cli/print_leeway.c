/* print_leeway.c - what sizes gave to save a sheet, and what a small change would save. */
#include "cli.h"

#include <drawerwright/memory.h>

static void print_changes(const struct cli_session *session, const struct dw_leeway *leeway, struct dw_text *out)
{
    struct dw_arena *arena = session->arena;
    const struct dw_currency currency = session->run.jobs[0]->shop.prices.currency;
    for (size_t i = 0; i < leeway->change_count; i++)
        cli_wrap(out, "  * ", "    ", leeway->changes[i].words);
    cli_wrap(out, "  ", "  ",
             dw_arena_format(arena, "Without: %lld sheets, %s. With: %lld sheets, %s. Saved: %s.", (long long)leeway->sheets_before,
                             dw_money_show_mark(arena, leeway->before, currency), (long long)leeway->sheets_after,
                             dw_money_show_mark(arena, leeway->purchase->sheets_cost, currency), dw_money_show_mark(arena, leeway->saved, currency)));
    if (leeway->certain)
        dw_text_add(out, "  No choice of sizes within the rules costs less.\n");
    else if (leeway->lower_bound > 0)
        dw_text_addf(out, "  No choice of sizes within the rules comes below %s.\n", dw_money_show_mark(arena, leeway->lower_bound, currency));
    dw_text_add(out, "  To leave one as it was: --keep PATH. The plan without: --keep every case, or no --leeway.\n");
}

static void print_near(const struct dw_leeway *near, struct dw_text *out)
{
    if (near->change_count == 0 && near->alone_count == 0)
        return;
    cli_print_heading("Almost a sheet less", out);
    if (near->change_count > 0)
        cli_wrap(out, "  * ", "    ", near->words);
    for (size_t i = 0; i < near->alone_count; i++)
        cli_wrap(out, "  * ", "    ", near->alone[i].words);
    if (near->change_count > 0)
        dw_text_add(out, "  Nothing was changed: make the change in the job, or give the size some leeway there.\n");
}

void cli_print_leeway(const struct cli_session *session, struct dw_text *out)
{
    const struct dw_leeway *leeway = session->leeway;
    if (leeway != NULL) {
        cli_print_heading("Leeway", out);
        if (leeway->change_count > 0)
            print_changes(session, leeway, out);
        else
            cli_wrap(out, "  ", "  ", leeway->words);
    }
    if (session->near != NULL)
        print_near(session->near, out);
}
