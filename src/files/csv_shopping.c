/* csv_shopping.c - the shopping list as CSV (RFC 4180), in the order of suppliers. */
#include <drawerwright/files.h>

#include <drawerwright/memory.h>

#include "csv_write.h"

void dw_csv_shopping(const struct dw_purchase *purchase, struct dw_text *out)
{
    const struct dw_currency currency = purchase->layouts->jobs[0]->sizing->job->shop.prices.currency;
    dw_text_add(out, "supplier,count,what,each,total,currency\r\n");
    for (size_t i = 0; i < purchase->line_count; i++) {
        const struct dw_buy_line *line = &purchase->lines[i];
        dwi_csv_field(out, line->supplier, false);
        dwi_csv_field(out, dw_arena_format(out->arena, "%lld", (long long)line->count), false);
        dwi_csv_field(out, line->what, false);
        dwi_csv_field(out, dw_money_show(out->arena, line->each, currency.decimals), false);
        dwi_csv_field(out, dw_money_show(out->arena, line->total, currency.decimals), false);
        dwi_csv_field(out, currency.mark == NULL ? "" : currency.mark, true);
    }
}
