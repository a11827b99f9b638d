/* cmd_compare.c - what if: the job as it stands beside the job with the changes of --set; or what differs between two plans. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/plan.h>

static const struct dw_job *job_of(const struct cli_session *session)
{
    return session->run.jobs[0];
}

/* Sheets bought of the material of that id. (A line knows its material among those in use, not among all of the shop.) */
static int64_t sheets_of(const struct cli_session *session, const char *id)
{
    const struct dw_purchase *purchase = session->run.purchase;
    int64_t count = 0;
    for (size_t i = 0; i < purchase->line_count; i++) {
        const struct dw_buy_line *line = &purchase->lines[i];
        if (line->material != DW_NO_INDEX &&
            strcmp(job_of(session)->shop.materials[purchase->layouts->materials[line->material].problem->material].id, id) == 0)
            count += line->count;
    }
    return count;
}

static int64_t settings_of(const struct dw_purchase *purchase)
{
    int64_t settings = 0;
    for (size_t m = 0; m < purchase->layouts->material_count; m++)
        settings += (int64_t)purchase->layouts->materials[m].ladder.settings;
    return settings;
}

static const char *count_text(struct dw_arena *arena, int64_t count)
{
    return dw_arena_format(arena, "%lld", (long long)count);
}

/* "+1", "-12.00", "0". */
static const char *signed_text(struct dw_arena *arena, const char *text, int64_t value)
{
    return value > 0 ? dw_arena_format(arena, "+%s", text) : text;
}

static void add_row(struct cli_table *table, const char *what, int64_t before, int64_t after, int decimals)
{
    struct dw_arena *arena = table->arena;
    const bool money = decimals >= 0;
    cli_table_add(table, what);
    cli_table_add(table, money ? dw_money_show(arena, before, decimals) : count_text(arena, before));
    cli_table_add(table, money ? dw_money_show(arena, after, decimals) : count_text(arena, after));
    const int64_t more = after - before;
    cli_table_add(table, signed_text(arena, money ? dw_money_show(arena, more, decimals) : count_text(arena, more), more));
}

/* Sheets of every material of the shop that either job buys. */
static void add_sheets(struct cli_table *table, const struct cli_session *before, const struct cli_session *after)
{
    const struct dw_shop *shop = &job_of(after)->shop;
    for (size_t m = 0; m < shop->material_count; m++) {
        const int64_t first = sheets_of(before, shop->materials[m].id);
        const int64_t second = sheets_of(after, shop->materials[m].id);
        if (first != 0 || second != 0)
            add_row(table, dw_arena_format(table->arena, "sheets of %s", shop->materials[m].name), first, second, -1);
    }
}

static enum dw_status answer(struct cli_session *after, struct dw_text *out)
{
    static const char *const titles[] = {"", "as it stands", "changed", "difference"};
    const struct cli_session *before = after->other;
    const struct dw_purchase *first = before->run.purchase;
    const struct dw_purchase *second = after->run.purchase;
    const int decimals = job_of(after)->shop.prices.currency.decimals;
    struct cli_table table = cli_table_in(after->arena, 4, titles, "lrrr");
    cli_print_heading(dw_arena_format(after->arena, "%s, with changes", job_of(after)->name), out);
    for (size_t i = 0; i < after->options->setting_count; i++)
        dw_text_addf(out, "  %s\n", after->options->settings[i]);
    dw_text_add_char(out, '\n');
    add_sheets(&table, before, after);
    add_row(&table, "settings at the saw", settings_of(first), settings_of(second), -1);
    add_row(&table, "cost of sheets", first->sheets_cost, second->sheets_cost, decimals);
    add_row(&table, "money out now", first->total, second->total, decimals);
    add_row(&table, "cost of the job", first->cost, second->cost, decimals);
    add_row(&table, "price with mark-up", first->price, second->price, decimals);
    cli_table_print(&table, "  ", out);
    dw_text_addf(out, "\n  As it stands: %s. Changed: %s.\n",
                 dw_purchase_bound_words(after->arena, first->sheets_cost, first->lower_bound, first->proved, job_of(before)->shop.prices.currency),
                 dw_purchase_bound_words(after->arena, second->sheets_cost, second->lower_bound, second->proved,
                                         job_of(after)->shop.prices.currency));
    return DW_DONE;
}

/* ---- two plans -------------------------------------------------------------------------------------------- */

struct plans_call {
    const struct cli_options *options;
    struct dw_arena *arena;
    struct dw_faults *faults;
    enum dw_status status;
};

static void plans_body(void *context)
{
    struct plans_call *call = context;
    const enum dw_unit unit = call->options->units != NULL && strcmp(call->options->units, "mm") == 0 ? DW_MILLIMETER : DW_IN;
    const struct dw_plan *plans[2];
    struct dw_run_changes changes;
    for (size_t i = 0; i < 2 && call->status == DW_DONE; i++)
        call->status = dw_plan_read_file(call->options->files[i], call->arena, call->faults, &plans[i]);
    if (call->status == DW_DONE)
        call->status = dw_run_changes(plans[0], plans[1], NULL, unit, 2, call->arena, call->faults, &changes);
    if (call->status != DW_DONE)
        return;
    printf("Plan %s -> plan %s\n", plans[0]->plan_id, plans[1]->plan_id);
    for (size_t i = 0; i < changes.count; i++)
        printf("  * %s\n", changes.lines[i]);
    if (changes.count == 0)
        puts("  Nothing differs in what is made or bought.");
}

static enum dw_status compare_plans(const struct cli_options *options)
{
    struct plans_call call = {.options = options, .arena = dw_arena_new(), .faults = dw_faults_new()};
    if (call.arena == NULL || call.faults == NULL || !dw_arena_guard(call.arena, plans_body, &call))
        call.status = DW_SURROUNDINGS;
    if (call.faults != NULL)
        cli_report(call.faults, NULL, options->quiet);
    dw_faults_free(call.faults);
    dw_arena_free(call.arena);
    return call.status;
}

enum dw_status cmd_compare(const struct cli_options *options)
{
    if (options->setting_count == 0 && options->file_count == 2)
        return compare_plans(options);
    if (options->setting_count == 0) {
        fputs("drawerwright compare: say what to change: --set shop.habits.kerf=3/32, or name two plans\n", stderr);
        fputs("Try: drawerwright compare --help\n", stderr);
        return DW_INPUT;
    }
    struct cli_options plain = *options;
    struct cli_session before = {.near_misses = false};
    struct cli_session after = {.near_misses = false};
    plain.setting_count = 0;
    plain.quiet = true;
    enum dw_status status = cli_session_start(&before, &plain, DW_STAGE_LAYOUT);
    if (status == DW_DONE) {
        (void)cli_session_start(&after, options, DW_STAGE_LAYOUT);
        after.other = &before;
        status = cli_session_end(&after, answer);
    }
    const enum dw_status first = cli_session_end(&before, NULL);
    return first != DW_DONE ? first : status;
}
