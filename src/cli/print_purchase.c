/* print_purchase.c - what to buy, by supplier, and the cost with its arithmetic. */
#include "cli.h"

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

/* A choice of sheets in a row: what it costs, how many sheets are cut, how much of them is waste. */
static void add_choice(struct cli_table *table, const struct dw_choice *choice, struct dw_currency currency)
{
    struct dw_arena *arena = table->arena;
    const int64_t tenths = choice->sheets_area > 0 ? dw_money_scale(1000, choice->waste, choice->sheets_area) : 0;
    cli_table_add(table, choice->name);
    cli_table_add(table, choice->possible ? dw_money_show(arena, choice->total, currency.decimals) : "cannot be done");
    cli_table_add(table, choice->possible ? dw_arena_format(arena, "%lld", (long long)choice->sheets) : "");
    cli_table_add(table, choice->possible ? dw_arena_format(arena, "%lld.%lld %%", (long long)(tenths / 10), (long long)(tenths % 10)) : "");
    cli_table_add(table, choice->proved ? "none better of its kind" : "");
}

/* The plan itself among its alternatives. */
static struct dw_choice as_planned(const struct dw_purchase *purchase)
{
    struct dw_choice own = {.name = "as planned, cheapest", .possible = true, .total = purchase->sheets_cost, .proved = purchase->proved};
    for (size_t m = 0; m < purchase->layouts->material_count; m++) {
        const struct dw_material_layout *layout = &purchase->layouts->materials[m];
        own.sheets += (int64_t)layout->sheet_count;
        own.sheets_area += layout->sheets_area;
        own.waste += layout->sheets_area - layout->parts_area;
    }
    return own;
}

static void print_choices(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out)
{
    if (purchase->choice_count == 0)
        return;
    static const char *const titles[] = {"sheets", "cost", "cut", "not in parts", ""};
    const struct dw_currency currency = currency_of(purchase);
    dw_text_add(out, "\n  Choices side by side\n");
    struct cli_table table = cli_table_in(arena, 5, titles, "lrrrl");
    const struct dw_choice own = as_planned(purchase);
    add_choice(&table, &own, currency);
    for (size_t i = 0; i < purchase->choice_count; i++)
        add_choice(&table, &purchase->choices[i], currency);
    cli_table_print(&table, "    ", out);
}

/* What each supplier's bill comes to. */
static void print_orders(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out)
{
    static const char *const titles[] = {"order", "goods", "delivery", "before tax"};
    const struct dw_currency currency = currency_of(purchase);
    struct cli_table table = cli_table_in(arena, 4, titles, "lrrr");
    for (size_t i = 0; i < purchase->order_count; i++) {
        const struct dw_order *order = &purchase->orders[i];
        cli_table_add(&table, order->supplier[0] == '\0' ? "supplier not named" : order->supplier);
        cli_table_add(&table, dw_money_show(arena, order->goods, currency.decimals));
        cli_table_add(&table, dw_money_show(arena, order->delivery, currency.decimals));
        cli_table_add(&table, dw_money_show(arena, order->total, currency.decimals));
    }
    dw_text_add_char(out, '\n');
    cli_table_print(&table, "  ", out);
}

/* Jobs planned together: who bears how much. */
static void print_shares(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out)
{
    enum { ALONE = 3 }; /* one job, one case, one drawer: the whole */
    if (purchase->share_count <= ALONE)
        return;
    static const char *const titles[] = {"share of", "money out", "uses"};
    const struct dw_currency currency = currency_of(purchase);
    struct cli_table table = cli_table_in(arena, 3, titles, "lrr");
    for (size_t i = 0; i < purchase->share_count; i++) {
        const struct dw_share *share = &purchase->shares[i];
        if (share->level > (purchase->layouts->job_count > 1 ? 1 : 2))
            continue;
        cli_table_add(&table, dw_arena_format(arena, "%*s%s", 2 * share->level, "", share->path));
        cli_table_add(&table, dw_money_show(arena, share->money_out, currency.decimals));
        cli_table_add(&table, dw_money_show(arena, share->consumed, currency.decimals));
    }
    dw_text_add(out, "\n  Shares\n");
    cli_table_print(&table, "    ", out);
}

/* The mark-up and, beside it, the margin of the same rate, each by its name. */
static void print_price(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out)
{
    const struct dw_currency currency = currency_of(purchase);
    dw_text_addf(out, "    cost %s", dw_money_show_mark(arena, purchase->cost, currency));
    if (purchase->price != purchase->cost)
        dw_text_addf(out, ", price with mark-up %s", dw_money_show_mark(arena, purchase->price, currency));
    if (purchase->price != purchase->cost && purchase->price_margin > 0)
        dw_text_addf(out, "; were the rate a margin of the price, %s", dw_money_show_mark(arena, purchase->price_margin, currency));
    dw_text_add_char(out, '\n');
}

void cli_print_purchase(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out)
{
    const struct dw_currency currency = currency_of(purchase);
    cli_print_heading("To buy", out);
    print_lines(arena, purchase, out);
    print_orders(arena, purchase, out);
    for (size_t i = 0; i < purchase->caution_count; i++)
        cli_wrap(out, "  * ", "    ", purchase->cautions[i]);
    dw_text_addf(out, "\n  Sheets come to %s: %s.\n", dw_money_show_mark(arena, purchase->sheets_cost, currency),
                 dw_purchase_bound_words(arena, purchase->sheets_cost, purchase->lower_bound, purchase->proved, currency));
    print_cost(arena, "Money out now", purchase->money_out, purchase->money_out_count, currency, out);
    dw_text_addf(out, "    in all %s\n", dw_money_show_mark(arena, purchase->total, currency));
    print_cost(arena, "What the job uses", purchase->consumed, purchase->consumed_count, currency, out);
    print_price(arena, purchase, out);
    print_shares(arena, purchase, out);
    print_choices(arena, purchase, out);
}
