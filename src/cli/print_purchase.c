/* print_purchase.c - what to buy, by supplier, and the cost with its arithmetic. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

static struct dw_currency currency_of(const struct dw_purchase *purchase)
{
    return purchase->layouts->jobs[0]->sizing->job->shop.prices.currency;
}

static void print_lines(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out)
{
    static const char *const titles[] = {"", "what", "each", "in all", "from"};
    const struct dw_currency currency = currency_of(purchase);
    struct cli_table table = cli_table_in(arena, 5, titles, "rlrrl");
    for (size_t i = 0; i < purchase->line_count; i++) {
        const struct dw_buy_line *line = &purchase->lines[i];
        cli_table_add(&table, dw_arena_format(arena, "%lld", (long long)line->count));
        cli_table_add(&table, line->what);
        cli_table_add(&table, dw_money_show(arena, line->each, currency.decimals));
        cli_table_add(&table, dw_money_show(arena, line->total, currency.decimals));
        cli_table_add(&table, line->supplier);
    }
    if (purchase->line_count == 0)
        dw_text_add(out, "  nothing\n");
    else
        cli_table_print(&table, "  ", out);
}

/* Each line with the steps that add up to it; one step that says no more than its line stands beside it. */
static void print_cost(struct dw_arena *arena, const char *title, const struct dw_cost_line *lines, size_t count, struct dw_currency currency,
                       struct dw_text *out)
{
    dw_text_addf(out, "\n  %s\n", title);
    struct cli_table table = cli_table_in(arena, 3, NULL, "lrl");
    for (size_t i = 0; i < count; i++) {
        const bool beside = lines[i].step_count == 1;
        cli_table_add(&table, lines[i].name);
        cli_table_add(&table, dw_money_show(arena, lines[i].amount, currency.decimals));
        cli_table_add(&table, beside ? lines[i].steps[0].words : "");
        for (size_t s = 0; s < lines[i].step_count && !beside; s++) {
            cli_table_add(&table, "");
            cli_table_add(&table, "");
            cli_table_add(&table, dw_arena_format(arena, "%s  %s", dw_money_show(arena, lines[i].steps[s].amount, currency.decimals), lines[i].steps[s].words));
        }
    }
    cli_table_print(&table, "    ", out);
}

static void print_choices(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out)
{
    if (purchase->choice_count == 0)
        return;
    const struct dw_currency currency = currency_of(purchase);
    dw_text_add(out, "\n  Other choices\n");
    struct cli_table table = cli_table_in(arena, 3, NULL, "lrl");
    for (size_t i = 0; i < purchase->choice_count; i++) {
        const struct dw_choice *choice = &purchase->choices[i];
        cli_table_add(&table, choice->name);
        cli_table_add(&table, choice->possible ? dw_money_show(arena, choice->total, currency.decimals) : "cannot be done");
        cli_table_add(&table, choice->possible ? dw_arena_format(arena, "%lld sheets", (long long)choice->sheets) : "");
    }
    cli_table_print(&table, "    ", out);
}

void cli_print_purchase(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out)
{
    const struct dw_currency currency = currency_of(purchase);
    cli_print_heading("To buy", out);
    print_lines(arena, purchase, out);
    for (size_t i = 0; i < purchase->caution_count; i++)
        cli_wrap(out, "  * ", "    ", purchase->cautions[i]);
    dw_text_addf(out, "\n  Sheets come to %s: %s.\n", dw_money_show_mark(arena, purchase->sheets_cost, currency),
                 dw_purchase_bound_words(arena, purchase->sheets_cost, purchase->lower_bound, purchase->proved, currency));
    print_cost(arena, "Money out now", purchase->money_out, purchase->money_out_count, currency, out);
    dw_text_addf(out, "    in all %s\n", dw_money_show_mark(arena, purchase->total, currency));
    print_cost(arena, "What the job uses", purchase->consumed, purchase->consumed_count, currency, out);
    dw_text_addf(out, "    cost %s, price %s\n", dw_money_show_mark(arena, purchase->cost, currency), dw_money_show_mark(arena, purchase->price, currency));
    print_choices(arena, purchase, out);
}
