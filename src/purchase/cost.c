/* cost.c - the cost of a plan in two views, each line with the steps that add up to it.
 *
 * Money out: what leaves the purse now: the shopping list, delivery, tax. Consumed: what the job uses: of each sheet all but the offcuts
 * it gives back, hardware by the piece, delivery, tax on what is consumed, an allowance for waste, labor; then mark-up.
 * Tax is reckoned once for each supplier's bill, on its goods and not on delivery, and rounded half up to the smallest unit.
 */
#include "buying.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

/* Lines of one view while they are gathered. */
struct view {
    struct buying *buying;
    struct dw_cost_line *lines;
    size_t count, capacity;
    struct dw_cost_step *steps; /* of the line in hand */
    size_t step_count, step_capacity;
    dw_money total;
};

static void add_step(struct view *view, const char *words, dw_money amount)
{
    struct dw_arena *arena = view->buying->arena;
    view->steps = dw_arena_grow(arena, view->steps, view->step_count, &view->step_capacity, sizeof *view->steps);
    view->steps[view->step_count++] = (struct dw_cost_step){words, amount};
}

/* Ends the line in hand: its amount is the sum of its steps. A line without steps is left out. */
static dw_money end_line(struct view *view, const char *name)
{
    struct dw_cost_line line = {.name = name, .steps = view->steps, .step_count = view->step_count};
    for (size_t i = 0; i < view->step_count; i++)
        line.amount += view->steps[i].amount;
    view->steps = NULL;
    view->step_count = view->step_capacity = 0;
    if (line.step_count == 0)
        return 0;
    view->lines = dw_arena_grow(view->buying->arena, view->lines, view->count, &view->capacity, sizeof *view->lines);
    view->lines[view->count++] = line;
    view->total += line.amount;
    return line.amount;
}

static const char *show_money(const struct view *view, dw_money money)
{
    return dw_money_show(view->buying->arena, money, currency_of(view->buying).decimals);
}

/* "6.25 %": parts per million as a percentage, without idle zeros. */
static const char *show_percent(struct dw_arena *arena, dw_ppm rate)
{
    int64_t fraction = rate % 10000;
    int digits = 4;
    if (fraction == 0)
        return dw_arena_format(arena, "%" PRId64 " %%", rate / 10000);
    for (; fraction % 10 == 0; digits--)
        fraction /= 10;
    return dw_arena_format(arena, "%" PRId64 ".%0*" PRId64 " %%", rate / 10000, digits, fraction);
}

static const char *supplier_words(const char *supplier)
{
    return supplier[0] == '\0' ? "supplier not named" : supplier;
}

/* The lines that needs fall into, in their order. */
static const enum dw_need_kind need_kinds[] = {DW_NEED_SLIDES, DW_NEED_BANDING, DW_NEED_HARDWARE};
static const char *const need_names[] = {"slides", "banding", "hardware"};
enum { NEED_KINDS = sizeof need_kinds / sizeof *need_kinds };

/* ---- money out ---- */

static const struct dw_need *need_of(const struct buying *buying, struct dw_need_ref ref)
{
    return &buying->jobs[ref.job]->needs[ref.need];
}

static void add_bought(struct view *view)
{
    const struct dw_purchase *purchase = view->buying->purchase;
    for (size_t i = 0; i < purchase->line_count; i++) {
        const struct dw_buy_line *line = &purchase->lines[i];
        if (line->material == DW_NO_INDEX)
            continue;
        const char *spare = line->count == line->used ? ""
                            : dw_arena_format(view->buying->arena, " (%" PRId64 " to the rack: so many cost less than %" PRId64 ")",
                                              line->count - line->used, line->used);
        add_step(view, dw_arena_format(view->buying->arena, "%" PRId64 " x %s at %s%s", line->count, line->what, show_money(view, line->each), spare),
                 line->total);
    }
    (void)end_line(view, "sheets");
    for (size_t kind = 0; kind < NEED_KINDS; kind++) {
        for (size_t i = 0; i < purchase->line_count; i++) {
            const struct dw_buy_line *line = &purchase->lines[i];
            if (line->material != DW_NO_INDEX || need_of(view->buying, line->needs[0])->kind != need_kinds[kind])
                continue;
            add_step(view, dw_arena_format(view->buying->arena, "%" PRId64 " x %s at %s", line->count, line->what, show_money(view, line->each)),
                     line->total);
        }
        (void)end_line(view, need_names[kind]);
    }
}

static dw_money add_delivery(struct view *view)
{
    const struct dw_purchase *purchase = view->buying->purchase;
    for (size_t i = 0; i < purchase->order_count; i++)
        if (purchase->orders[i].delivery > 0)
            add_step(view, dw_arena_format(view->buying->arena, "one delivery, %s", supplier_words(purchase->orders[i].supplier)),
                     purchase->orders[i].delivery);
    return end_line(view, "delivery");
}

static void money_out(struct buying *buying)
{
    struct view view = {.buying = buying};
    const struct dw_purchase *purchase = buying->purchase;
    const dw_ppm tax = shop_of(buying)->prices.tax;
    add_bought(&view);
    (void)add_delivery(&view);
    for (size_t i = 0; tax > 0 && i < purchase->order_count; i++)
        add_step(&view, dw_arena_format(buying->arena, "%s of %s, goods of %s, half up", show_percent(buying->arena, tax),
                                        show_money(&view, purchase->orders[i].goods), supplier_words(purchase->orders[i].supplier)),
                 dw_money_part(purchase->orders[i].goods, tax));
    (void)end_line(&view, "tax");
    buying->purchase->money_out = view.lines;
    buying->purchase->money_out_count = view.count;
    buying->purchase->total = view.total;
}

/* ---- consumed ---- */

static dw_area kept_area(const struct dw_layout_node *node)
{
    if (node->use == DW_NODE_KEEP)
        return node->length * node->width;
    dw_area kept = 0;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        kept += kept_area(&node->pieces[i]);
    return kept;
}

/* What one sheet of a source is reckoned at when it is consumed. */
static dw_money worth(const struct buying *buying, size_t m, size_t source)
{
    const struct dw_purchase *purchase = buying->purchase;
    for (size_t i = 0; i < purchase->line_count; i++)
        if (purchase->lines[i].material == m && purchase->lines[i].source == source)
            return purchase->lines[i].each;
    return buying->problems[m].sources[source].value;
}

/* The part of each source's sheets that is not given back as offcuts. Areas of one source add up below 63 bits; in thousandths of a
 * sheet for the words. */
static void add_material(struct view *view, size_t m)
{
    struct buying *buying = view->buying;
    const struct dw_material_layout *layout = &buying->purchase->layouts->materials[m];
    for (size_t s = 0; s < buying->problems[m].source_count; s++) {
        const struct dw_sheet_source *source = &buying->problems[m].sources[s];
        const dw_area sheet = source->length * source->width;
        dw_area used = 0;
        int64_t count = 0;
        for (size_t i = 0; i < layout->sheet_count; i++) {
            if (layout->sheets[i].source != s)
                continue;
            used += sheet - kept_area(&layout->sheets[i].root);
            count++;
        }
        if (count == 0)
            continue;
        const dw_money each = worth(buying, m, s);
        const int64_t thousandths = dw_money_scale(1000, used, sheet);
        const char *name = shop_of(buying)->materials[buying->problems[m].material].name;
        add_step(view,
                 dw_arena_format(buying->arena, "%s%s%s: %" PRId64 ".%03d of %" PRId64 " at %s", name, source->owned ? ", owned " : ", ",
                                 source->id, thousandths / 1000, (int)(thousandths % 1000), count, show_money(view, each)),
                 dw_money_scale(each, used, sheet));
        buying->used.materials[m] += dw_money_scale(each, used, sheet);
    }
}

/* What is used of what is bought by the pack or roll. */
static dw_money used_of(const struct dw_shop *shop, const struct dw_need *need)
{
    if (need->kind == DW_NEED_BANDING && shop->bandings[need->index].roll > 0)
        return dw_money_scale(need->price, need->length, shop->bandings[need->index].roll);
    const bool packed = need->kind == DW_NEED_HARDWARE && need->index != DW_NO_INDEX && shop->hardware[need->index].pack > 1;
    return dw_money_scale(need->price, need->count, packed ? shop->hardware[need->index].pack : 1);
}

static void add_used(struct view *view)
{
    const struct buying *buying = view->buying;
    for (size_t kind = 0; kind < NEED_KINDS; kind++) {
        for (size_t job = 0; job < buying->job_count; job++)
            for (size_t i = 0; i < buying->jobs[job]->need_count; i++) {
                const struct dw_need *need = &buying->jobs[job]->needs[i];
                if (need->kind != need_kinds[kind] || need->count == 0)
                    continue;
                const dw_money amount = used_of(&buying->jobs[job]->sizing->job->shop, need);
                const char *whose = buying->job_count == 1 ? "" : dw_arena_format(buying->arena, "%s, ", buying->jobs[job]->sizing->job->name);
                add_step(view, dw_arena_format(buying->arena, "%s%s: %s", whose, need->name, need->rule), amount);
                buying->used.needs[job][i] = amount;
            }
        (void)end_line(view, need_names[kind]);
    }
}

static int64_t add_minutes(struct dw_text *words, int64_t count, const char *what, int64_t minutes)
{
    if (count * minutes > 0)
        dw_text_addf(words, "%s%" PRId64 " %s%s x %" PRId64 " min", words->length == 0 ? "" : " + ", count, what, count == 1 ? "" : "s", minutes);
    return count * minutes;
}

static int64_t labor_minutes(const struct buying *buying, struct dw_text *words)
{
    const struct dw_prices *prices = &shop_of(buying)->prices;
    int64_t drawers = 0, cases = 0, settings = 0;
    for (size_t job = 0; job < buying->job_count; job++) {
        drawers += (int64_t)buying->jobs[job]->sizing->drawer_count;
        for (size_t c = 0; c < buying->jobs[job]->sizing->case_count; c++)
            cases += buying->jobs[job]->sizing->cases[c].source->count;
    }
    for (size_t m = 0; m < buying->purchase->layouts->material_count; m++)
        settings += (int64_t)buying->purchase->layouts->materials[m].ladder.settings;
    int64_t minutes = add_minutes(words, drawers, "drawer", prices->minutes_drawer);
    minutes += add_minutes(words, cases, "case", prices->minutes_case);
    return minutes + add_minutes(words, settings, "setting", prices->minutes_setting);
}

static void add_labor(struct view *view)
{
    const struct dw_prices *prices = &shop_of(view->buying)->prices;
    if (prices->labor_rate == 0)
        return;
    struct dw_text words = dw_text_in(view->buying->arena);
    const int64_t minutes = labor_minutes(view->buying, &words);
    dw_text_addf(&words, "%s%" PRId64 " min at %s an hour", words.length == 0 ? "" : " = ", minutes, show_money(view, prices->labor_rate));
    add_step(view, words.bytes, dw_money_scale(prices->labor_rate, minutes, 60));
    view->buying->used.labor = end_line(view, "labor");
}

/* The price from the cost that has been added up, as mark-up and, in words, as margin. */
static void add_markup(struct view *view)
{
    struct dw_purchase *purchase = view->buying->purchase;
    struct dw_arena *arena = view->buying->arena;
    const dw_ppm rate = shop_of(view->buying)->prices.markup;
    const bool has_margin = rate < 1000000;
    purchase->cost = view->total;
    purchase->price = dw_price_markup(view->total, rate);
    purchase->price_margin = has_margin ? dw_price_margin(view->total, rate) : 0;
    if (rate == 0)
        return;
    const char *percent = show_percent(arena, rate);
    const char *margin = has_margin ? dw_arena_format(arena, " (a margin of %s would ask %s)", percent, show_money(view, purchase->price_margin)) : "";
    add_step(view, dw_arena_format(arena, "%s mark-up on a cost of %s%s", percent, show_money(view, purchase->cost), margin),
             purchase->price - purchase->cost);
    (void)end_line(view, "mark-up");
}

static void consumed(struct buying *buying)
{
    struct view view = {.buying = buying};
    const struct dw_prices *prices = &shop_of(buying)->prices;
    buying->used.materials = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *buying->used.materials);
    buying->used.needs = dw_arena_alloc(buying->arena, buying->job_count, sizeof *buying->used.needs);
    for (size_t job = 0; job < buying->job_count; job++)
        buying->used.needs[job] = dw_arena_alloc(buying->arena, buying->jobs[job]->need_count, sizeof **buying->used.needs);
    for (size_t m = 0; m < buying->problem_count; m++)
        add_material(&view, m);
    const dw_money sheets = end_line(&view, "sheets");
    if (prices->waste > 0) {
        add_step(&view, dw_arena_format(buying->arena, "%s of sheets, %s", show_percent(buying->arena, prices->waste), show_money(&view, sheets)),
                 dw_money_part(sheets, prices->waste));
        buying->used.waste = end_line(&view, "waste allowance");
    }
    add_used(&view);
    const dw_money goods = view.total;
    buying->used.delivery = add_delivery(&view);
    if (prices->tax > 0) {
        add_step(&view,
                 dw_arena_format(buying->arena, "%s of goods consumed, %s, half up", show_percent(buying->arena, prices->tax),
                                 show_money(&view, goods)),
                 dw_money_part(goods, prices->tax));
        buying->used.tax = end_line(&view, "tax");
    }
    add_labor(&view);
    add_markup(&view);
    buying->purchase->consumed = view.lines;
    buying->purchase->consumed_count = view.count;
}

void dwi_buying_cost(struct buying *buying)
{
    money_out(buying);
    consumed(buying);
}
