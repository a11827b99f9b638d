/* print_leeway.c - what sizes gave to save a sheet, and what a small change would save. */
#include "cli.h"

#include <drawerwright/memory.h>

/* What is said of the bound: money that no choice of sizes saves. */
static void print_bound(const struct cli_session *session, const struct dw_leeway *leeway, struct dw_text *out)
{
    if (leeway->certain)
        dw_text_add(out, "  No choice of sizes within the rules saves more.\n");
    else if (leeway->lower_bound > 0)
        dw_text_addf(out, "  Other sizes within the rules could save at most %s more.\n",
                     dw_money_show_mark(session->arena, leeway->before - leeway->saved - leeway->lower_bound, session->run.jobs[0]->shop.prices.currency));
    else
        dw_text_add(out, "  Whether other sizes would save more was not settled.\n");
}

/* Is all of the saving lost with any one change? */
static bool all_needed(const struct dw_leeway *leeway)
{
    for (size_t i = 0; i < leeway->change_count; i++)
        if (leeway->changes[i].saved < leeway->saved)
            return false;
    return true;
}

static void print_changes(const struct cli_session *session, const struct dw_leeway *leeway, struct dw_text *out)
{
    struct dw_arena *arena = session->arena;
    const struct dw_currency currency = session->run.jobs[0]->shop.prices.currency;
    const bool all = all_needed(leeway);
    for (size_t i = 0; i < leeway->change_count; i++) {
        const struct dw_leeway_change *change = &leeway->changes[i];
        const char *without = all || change->saved == 0 ? "" : dw_arena_format(arena, "; left as it was: %s more", dw_money_show_mark(arena, change->saved, currency));
        cli_wrap(out, "  * ", "    ", dw_arena_format(arena, "%s%s", change->words, without));
    }
    if (all && leeway->change_count > 1)
        dw_text_add(out, "  All of it is needed: with any line left as it was nothing is saved.\n");
    if (leeway->sheets[0] != '\0')
        cli_wrap(out, "  ", "  ", dw_arena_format(arena, "That is %s.", leeway->sheets));
    const char *slides = leeway->slides == 0 ? ""
                                             : dw_arena_format(arena, " and %s %s for slides",
                                                               dw_money_show_mark(arena, leeway->slides < 0 ? -leeway->slides : leeway->slides, currency),
                                                               leeway->slides < 0 ? "less" : "more");
    cli_wrap(out, "  ", "  ",
             dw_arena_format(arena, "Without: %lld sheets, %s. With: %lld sheets, %s%s. Saved: %s.", (long long)leeway->sheets_before,
                             dw_money_show_mark(arena, leeway->before, currency), (long long)leeway->sheets_after,
                             dw_money_show_mark(arena, leeway->purchase->sheets_cost, currency), slides,
                             dw_money_show_mark(arena, leeway->saved, currency)));
    print_bound(session, leeway, out);
    const char *path = leeway->changes[0].paths[0];
    cli_wrap(out, "  ", "  ",
             dw_arena_format(arena, "To refuse a line call again with --keep and its path, \"--keep %s\" for one drawer of the first; all of them: call without --leeway.", path));
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
