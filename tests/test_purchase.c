/* test_purchase.c - what to buy and what it costs: bench checks by hand, the buyer's integer program against a second solver and against
 * counting, shares that add up, and a sweep of failing memory. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <unistd.h>

#include <drawerwright/lp.h>
#include <drawerwright/purchase.h>

#include "ask_cbc.h"
#include "dice.h"
#include "layout_bench.h"
#include "purchase/bargain.h"

static const struct dw_purchase *buy(struct layout_bench *b)
{
    const struct dw_purchase *purchase = NULL;
    const enum dw_status status = dw_purchase_make(b->jobs, 1, &b->options, NULL, b->arena, b->faults, &purchase);
    if (status != DW_DONE)
        fail_msg("status %d: %s", (int)status, b->faults->count > 0 ? b->faults->at[0].wrong : "");
    return purchase;
}

static const struct dw_cost_line *line_named(const struct dw_cost_line *lines, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(lines[i].name, name) == 0)
            return &lines[i];
    return NULL;
}

/* One part of 90 x 40 fills a 96 x 48 sheet. */
static void full_sheets(struct layout_bench *b, size_t count)
{
    lb_new(b);
    lb_material(b, "birch");
    lb_offer(b, "full", IN(96), IN(48), IN(0.25), 6800);
    lb_part(b, "panel", IN(90), IN(40), count, DW_ALONG);
}

/* By hand: five sheets at 68.00 are 340.00, six at 55.00 are 330.00: six are bought, one goes to the rack. */
static void test_price_break_buys_one_more(void **state)
{
    (void)state;
    struct layout_bench b;
    full_sheets(&b, 5);
    b.breaks[0][0][0] = (struct dw_break){.from = 6, .price = 5500};
    b.offers[0][0].break_count = 1;
    const struct dw_purchase *purchase = buy(&b);
    assert_int_equal(purchase->line_count, 1);
    assert_int_equal(purchase->lines[0].count, 6);
    assert_int_equal(purchase->lines[0].used, 5);
    assert_int_equal(purchase->lines[0].total, 33000);
    assert_int_equal(purchase->sheets_cost, 33000);
    assert_int_equal(purchase->lower_bound, 33000);
    assert_true(purchase->proved);
    assert_int_equal(purchase->layouts->materials[0].sheet_count, 5);
    lb_free(&b);
}

/* By hand: with only five to be had, the break is out of reach. */
static void test_price_break_out_of_reach(void **state)
{
    (void)state;
    struct layout_bench b;
    full_sheets(&b, 5);
    b.breaks[0][0][0] = (struct dw_break){.from = 6, .price = 5500};
    b.offers[0][0].break_count = 1;
    b.offers[0][0].count = 5;
    assert_int_equal(buy(&b)->sheets_cost, 34000);
    lb_free(&b);
}

/* By hand, price 68.00, from 6 on 55.00, from 10 on 50.00: 1 for 68, 5 for 6 at 55 = 330, 9 for 9 at 55 = 495 (10 at 50 are 500),
 * 10 for 500, and 0 for nothing. */
static void test_deals(void **state)
{
    (void)state;
    const struct dw_break breaks[] = {{6, 5500}, {10, 5000}};
    const struct dw_sheet_offer offer = {.price = 6800, .breaks = breaks, .break_count = 2, .count = DW_NO_LIMIT};
    static const struct {
        int64_t wanted, count;
        dw_money total;
    } rows[] = {{0, 0, 0}, {1, 1, 6800}, {4, 4, 27200}, {5, 6, 33000}, {6, 6, 33000}, {9, 9, 49500}, {10, 10, 50000}, {11, 11, 55000}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct dw_deal deal = dw_best_deal(&offer, rows[i].wanted);
        if (deal.count != rows[i].count || deal.total != rows[i].total || deal.each * deal.count != deal.total)
            fail_msg("%lld wanted: %lld for %lld", (long long)rows[i].wanted, (long long)deal.count, (long long)deal.total);
    }
}

/* By hand: cost 800, 25 % mark-up is 1,000.00; 25 % margin 1,066.67 (800 / 0.75). */
static void test_markup_and_margin(void **state)
{
    (void)state;
    assert_int_equal(dw_price_markup(80000, 250000), 100000);
    assert_int_equal(dw_price_margin(80000, 250000), 106667);
    struct layout_bench b;
    full_sheets(&b, 2);
    b.offers[0][0].price = 40000;
    b.materials[0].keep_length = b.materials[0].keep_width = 0;
    b.job.shop.prices.markup = 250000;
    const struct dw_purchase *purchase = buy(&b);
    assert_int_equal(purchase->cost, 80000);
    assert_int_equal(purchase->price, 100000);
    assert_int_equal(purchase->price_margin, 106667);
    const struct dw_cost_line *markup = line_named(purchase->consumed, purchase->consumed_count, "mark-up");
    assert_non_null(markup);
    assert_int_equal(markup->amount, 20000);
    assert_non_null(strstr(markup->steps[0].words, "25 % mark-up on a cost of 800.00"));
    assert_non_null(strstr(markup->steps[0].words, "a margin of 25 % would ask 1066.67"));
    lb_free(&b);
}

/* By hand: B sells at 60.00 and asks 25.00 for delivery, A at 68.00 and nothing. Three sheets: A 204.00, B 205.00. Four: A 272.00, B 265.00.
 * With A left out, three cost 205.00. */
static void test_delivery_tips_the_choice(void **state)
{
    (void)state;
    static const struct {
        size_t panels;
        bool a_left_out;
        dw_money cost;
        const char *supplier;
    } rows[] = {{3, false, 20400, "A"}, {4, false, 26500, "B"}, {3, true, 20500, "B"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct layout_bench b;
        full_sheets(&b, rows[i].panels);
        b.offers[0][0].supplier = "A";
        lb_offer(&b, "full B", IN(96), IN(48), IN(0.25), 6000)->supplier = "B";
        b.suppliers[0] = (struct dw_supplier){.name = "A", .left_out = rows[i].a_left_out};
        b.suppliers[1] = (struct dw_supplier){.name = "B", .delivery = 2500};
        b.job.shop.supplier_count = 2;
        const struct dw_purchase *purchase = buy(&b);
        if (purchase->sheets_cost != rows[i].cost || !purchase->proved || strcmp(purchase->lines[0].supplier, rows[i].supplier) != 0)
            fail_msg("row %zu: %lld from %s", i, (long long)purchase->sheets_cost, purchase->lines[0].supplier);
        lb_free(&b);
    }
}

/* A supplier who is left out sells no sheets; what else is still to come from there is said. */
static void test_left_out_still_on_the_list(void **state)
{
    (void)state;
    struct layout_bench b;
    full_sheets(&b, 1);
    b.suppliers[0] = (struct dw_supplier){.name = "A", .left_out = true};
    b.job.shop.supplier_count = 1;
    b.needs[0] = (struct dw_need){.kind = DW_NEED_HARDWARE, .index = DW_NO_INDEX, .id = "pull", .name = "pull", .supplier = "A", .count = 1,
                                  .packs = 1, .price = 500, .rule = "1"};
    b.list.need_count = 1;
    (void)buy(&b);
    assert_int_equal(b.faults->warnings, 1);
    assert_string_equal(b.faults->at[0].code, "left-out");
    lb_free(&b);
}

/* By hand: one delivery serves two materials. Each alone is cheaper at A (68 < 60 + 10), both together at B (136 > 120 + 10). */
static void test_one_delivery_for_two_materials(void **state)
{
    (void)state;
    struct layout_bench b;
    lb_new(&b);
    static const char *const names[] = {"birch", "maple"};
    for (size_t m = 0; m < 2; m++) {
        lb_material(&b, names[m]);
        lb_offer(&b, "A", IN(96), IN(48), IN(0.25), 6800)->supplier = "A";
        lb_offer(&b, "B", IN(96), IN(48), IN(0.25), 6000)->supplier = "B";
        lb_part(&b, "panel", IN(90), IN(40), 1, DW_ALONG);
    }
    b.suppliers[0] = (struct dw_supplier){.name = "B", .delivery = 1000};
    b.job.shop.supplier_count = 1;
    const struct dw_purchase *purchase = buy(&b);
    assert_int_equal(purchase->sheets_cost, 13000);
    assert_true(purchase->proved);
    assert_int_equal(purchase->order_count, 1);
    assert_int_equal(purchase->orders[0].delivery, 1000);
    assert_int_equal(purchase->orders[0].total, 13000);
    lb_free(&b);
}

/* By hand: an owned offcut that holds the part is used; nothing is bought. */
static void test_owned_sheet_costs_nothing(void **state)
{
    (void)state;
    struct layout_bench b;
    full_sheets(&b, 1);
    const struct dw_owned owned = {.id = "R7", .material = "birch", .length = IN(92), .width = IN(41), .value = 3000, .count = 1};
    b.options.owned = &owned;
    b.options.owned_count = 1;
    const struct dw_purchase *purchase = buy(&b);
    assert_int_equal(purchase->total, 0);
    assert_int_equal(purchase->line_count, 0);
    const struct dw_material_layout *layout = &purchase->layouts->materials[0];
    assert_int_equal(layout->sheet_count, 1);
    assert_true(layout->problem->sources[layout->sheets[0].source].owned);
    assert_true(purchase->cost > 0); /* what it is worth is consumed */
    lb_free(&b);
}

/* By hand: tax is reckoned a bill: 6.25 % of 100.40 is 6.275, up to 6.28; of 68.00 4.25. On both together it would be 10.525, 10.53. */
static void test_tax_by_bill(void **state)
{
    (void)state;
    struct layout_bench b;
    full_sheets(&b, 1);
    b.offers[0][0].supplier = "A";
    b.needs[0] = (struct dw_need){.kind = DW_NEED_HARDWARE, .index = DW_NO_INDEX, .id = "pull", .name = "pull", .supplier = "B", .count = 4,
                                  .packs = 4, .price = 2510, .rule = "4"};
    b.list.need_count = 1;
    b.job.shop.prices.tax = 62500;
    const struct dw_purchase *purchase = buy(&b);
    const struct dw_cost_line *tax = line_named(purchase->money_out, purchase->money_out_count, "tax");
    assert_non_null(tax);
    assert_int_equal(tax->step_count, 2);
    assert_int_equal(tax->steps[0].amount, 425);
    assert_int_equal(tax->steps[1].amount, 628);
    assert_int_equal(purchase->total, 6800 + 10040 + 425 + 628);
    lb_free(&b);
}

/* Every line is the sum of its steps, every view of its lines, every level of shares of the whole. */
static void assert_adds_up(const struct dw_purchase *purchase)
{
    const struct dw_cost_line *const views[] = {purchase->money_out, purchase->consumed};
    const size_t counts[] = {purchase->money_out_count, purchase->consumed_count};
    const dw_money totals[] = {purchase->total, purchase->price};
    for (size_t v = 0; v < 2; v++) {
        dw_money total = 0;
        for (size_t i = 0; i < counts[v]; i++) {
            dw_money line = 0;
            for (size_t s = 0; s < views[v][i].step_count; s++)
                line += views[v][i].steps[s].amount;
            assert_int_equal(line, views[v][i].amount);
            total += line;
        }
        assert_int_equal(total, totals[v]);
    }
    for (int level = 0; level < 3; level++) {
        dw_money out = 0, used = 0;
        for (size_t i = 0; i < purchase->share_count; i++)
            if (purchase->shares[i].level == level) {
                out += purchase->shares[i].money_out;
                used += purchase->shares[i].consumed;
            }
        assert_int_equal(out, purchase->total);
        assert_int_equal(used, purchase->cost);
    }
}

/* By hand (largest remainders): 68.00 in three even parts is 22.67 + 22.67 + 22.66. Three like panels for three jobs from one sheet. */
static void test_three_jobs_share_a_sheet(void **state)
{
    (void)state;
    struct layout_bench b[3];
    const struct dw_parts *jobs[3];
    for (size_t i = 0; i < 3; i++) {
        lb_new(&b[i]);
        lb_material(&b[i], "birch");
        lb_offer(&b[i], "full", IN(96), IN(48), IN(0.25), 6800);
        lb_part(&b[i], "panel", IN(30), IN(40), 1, DW_ALONG);
        jobs[i] = b[i].jobs[0];
    }
    const struct dw_purchase *purchase = NULL;
    assert_int_equal(dw_purchase_make(jobs, 3, NULL, NULL, b[0].arena, b[0].faults, &purchase), DW_DONE);
    assert_adds_up(purchase);
    static const dw_money shares[] = {2267, 2267, 2266};
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(purchase->shares[i].money_out, shares[i]);
    for (size_t i = 0; i < 3; i++)
        lb_free(&b[i]);
}

static const struct dw_choice *choice_named(const struct dw_purchase *purchase, const char *name)
{
    for (size_t i = 0; i < purchase->choice_count; i++)
        if (strcmp(purchase->choices[i].name, name) == 0)
            return &purchase->choices[i];
    fail_msg("no choice \"%s\"", name);
    return NULL;
}

/* By hand: one panel 40 x 40. A sells the full sheet 96 x 48 at 50.00, B the half 48 x 48 at 60.00. Cheapest: the full one, 50.00. Least waste:
 * the half, 60.00. Only full, fewest, all from A: 50.00. */
static void test_choices_side_by_side(void **state)
{
    (void)state;
    struct layout_bench b;
    lb_new(&b);
    lb_material(&b, "birch");
    lb_offer(&b, "full", IN(96), IN(48), IN(0.25), 5000)->supplier = "A";
    lb_offer(&b, "half", IN(48), IN(48), IN(0.25), 6000)->supplier = "B";
    lb_part(&b, "panel", IN(40), IN(40), 1, DW_ALONG);
    const struct dw_purchase *purchase = buy(&b);
    assert_int_equal(purchase->sheets_cost, 5000);
    assert_int_equal(choice_named(purchase, "least waste")->total, 6000);
    assert_int_equal(choice_named(purchase, "least waste")->waste, IN(48) * IN(48) - IN(40) * IN(40));
    assert_int_equal(choice_named(purchase, "only full sheets")->total, 5000);
    assert_int_equal(choice_named(purchase, "everything from A")->total, 5000);
    assert_int_equal(choice_named(purchase, "everything from B")->total, 6000);
    assert_int_equal(choice_named(purchase, "fewest sheets")->sheets, 1);
    lb_free(&b);
}

/* ---- random purchases ---- */

static void random_bench(struct layout_bench *b, struct dice *dice)
{
    lb_new(b);
    static const char *const names[] = {"birch", "maple"}, *const suppliers[] = {"A", "B", "C"};
    for (size_t s = 0; s < 3; s++)
        b->suppliers[s] = (struct dw_supplier){.name = suppliers[s], .delivery = dice_one_in(dice, 2) ? 0 : dice_range(dice, 1, 40) * 100};
    b->job.shop.supplier_count = 3;
    const int64_t materials = dice_range(dice, 1, 2);
    for (int64_t m = 0; m < materials; m++) {
        lb_material(b, names[m])->grained = dice_one_in(dice, 2);
        const int64_t offers = dice_range(dice, 1, 3);
        for (int64_t i = 0; i < offers; i++) {
            struct dw_sheet_offer *offer = lb_offer(b, suppliers[i], dice_range(dice, 40, 100) * DW_INCH, dice_range(dice, 40, 60) * DW_INCH,
                                                    IN(0.25), dice_range(dice, 20, 90) * 100);
            offer->supplier = suppliers[i];
            offer->break_count = (size_t)dice_range(dice, 0, 1);
            b->breaks[m][i][0] = (struct dw_break){dice_range(dice, 2, 4), offer->price * dice_range(dice, 60, 95) / 100};
        }
        const int64_t parts = dice_range(dice, 1, 4);
        for (int64_t p = 0; p < parts; p++)
            lb_part(b, "panel", dice_range(dice, 10, 38) * DW_INCH, dice_range(dice, 4, 36) * DW_INCH, (size_t)dice_range(dice, 1, 6), DW_FREE);
    }
    b->job.shop.prices.tax = dice_range(dice, 0, 100000);
    b->job.shop.prices.waste = dice_range(dice, 0, 200000);
    b->job.shop.prices.markup = dice_range(dice, 0, 400000);
    b->options.patience = DW_SHORT;
    b->options.no_choices = true;
}

/* No plan is ever dearer than the bound allows; everything adds up; one more offer never makes it dearer when both are proved. */
static void test_random_purchases_add_up(void **state)
{
    (void)state;
    struct dice dice = {7};
    const int rounds = getenv("DW_LONG") != NULL ? 400 : 25;
    for (int round = 0; round < rounds; round++) {
        struct layout_bench b;
        random_bench(&b, &dice);
        const struct dw_purchase *purchase = buy(&b);
        assert_adds_up(purchase);
        assert_true(purchase->lower_bound <= purchase->sheets_cost);
        assert_int_equal(purchase->proved, purchase->lower_bound == purchase->sheets_cost);
        lb_free(&b);
    }
}

/* ---- nothing cheaper, by trying everything cheaper ---- */

/* What so many of each offer of the first material cost, delivery once for each supplier that brings something. */
static dw_money price_by_hand(const struct layout_bench *b, const int64_t *counts)
{
    dw_money price = 0;
    for (size_t s = 0; s < b->materials[0].sheet_count; s++)
        price += dw_best_deal(&b->offers[0][s], counts[s]).total;
    for (size_t k = 0; k < b->job.shop.supplier_count; k++) {
        bool comes = false;
        for (size_t s = 0; s < b->materials[0].sheet_count; s++)
            comes = comes || (counts[s] > 0 && strcmp(b->offers[0][s].supplier, b->suppliers[k].name) == 0);
        price += comes ? b->suppliers[k].delivery : 0;
    }
    return price;
}

/* True when the cutting room finds a plan within these counts. */
static bool can_be_cut(struct layout_bench *b, const int64_t *counts)
{
    const struct dw_layout_problem *problems = NULL;
    size_t count = 0;
    assert_int_equal(dw_layout_problems(b->jobs, 1, &b->options, b->arena, b->faults, &problems, &count), DW_DONE);
    struct dw_cut_sheet sheets[LB_OFFERS];
    struct dw_cut_request request = problems[0].request;
    for (size_t s = 0; s < request.sheet_count; s++) {
        sheets[s] = request.sheets[s];
        sheets[s].count = counts[s];
    }
    request.sheets = sheets;
    request.work = 100000;
    struct dw_faults *faults = dw_faults_new();
    const struct dw_cut_plan *plan = NULL;
    const bool found = dw_cut_solve(&request, NULL, b->arena, faults, &plan) == DW_DONE && plan->outcome == DW_CUT_PLAN;
    dw_faults_free(faults);
    return found;
}

/* No numbers of sheets that cost less than a proved purchase can be cut: all of them are tried. */
static void test_proved_means_nothing_cheaper(void **state)
{
    (void)state;
    struct dice dice = {41};
    const int rounds = getenv("DW_LONG") != NULL ? 200 : 15;
    int coupled = 0, tried = 0;
    for (int round = 0; round < rounds; round++) {
        struct layout_bench b;
        random_bench(&b, &dice);
        while (b.list.count > 0 && b.parts[b.list.count - 1].material > 0)
            b.list.count--; /* one material */
        const struct dw_purchase *purchase = buy(&b);
        coupled += purchase->proved && purchase->coupled;
        int64_t counts[3] = {0};
        const size_t offers = b.materials[0].sheet_count;
        for (int64_t n = 0; purchase->proved && n < 7 * 7 * 7; n++) {
            counts[0] = n % 7;
            counts[1] = n / 7 % 7;
            counts[2] = n / 49;
            if ((offers < 2 && counts[1] > 0) || (offers < 3 && counts[2] > 0) || n == 0 || price_by_hand(&b, counts) >= purchase->sheets_cost)
                continue;
            tried++;
            if (can_be_cut(&b, counts))
                fail_msg("round %d: %lld, %lld, %lld cost less", round, (long long)counts[0], (long long)counts[1], (long long)counts[2]);
        }
        lb_free(&b);
    }
    assert_true(coupled > rounds / 4);
    assert_true(tried > rounds);
}

/* A table saw alone cannot make every cut of the cheapest plan. Then another way is found, said, and never cheaper; or a fault names the
 * piece. Both happen. */
static void test_cut_otherwise_for_small_saws(void **state)
{
    (void)state;
    struct dice dice = {29};
    int otherwise = 0, impossible = 0;
    for (int round = 0; round < 16; round++) {
        struct layout_bench b;
        random_bench(&b, &dice);
        b.saws[0] = (struct dw_saw){.name = "table saw", .kind = DW_TABLE_SAW, .kerf = DW_INCH / 8, .rip_most = IN(26), .crosscut_most = IN(30),
                                    .width_least = IN(0.5), .edge_least = IN(10)};
        b.job.shop.saw_count = 1;
        const struct dw_purchase *purchase = NULL;
        const enum dw_status status = dw_purchase_make(b.jobs, 1, &b.options, NULL, b.arena, b.faults, &purchase);
        bool told = false;
        for (size_t i = 0; i < b.faults->count; i++) {
            told = told || strcmp(b.faults->at[i].code, "cut-otherwise") == 0;
            if (b.faults->at[i].grade == DW_ERROR)
                assert_string_equal(b.faults->at[i].code, "no-saw");
        }
        assert_true(status == DW_DONE || status == DW_IMPOSSIBLE);
        assert_int_equal(status == DW_DONE, purchase != NULL);
        otherwise += status == DW_DONE && told;
        impossible += status == DW_IMPOSSIBLE;
        if (purchase != NULL)
            assert_true(purchase->lower_bound <= purchase->sheets_cost);
        lb_free(&b);
    }
    assert_true(otherwise > 0);
    assert_true(impossible > 0);
}

/* ---- the buyer's program ---- */

enum { WARES = 8, DEMANDS = 6 };

struct random_bargain {
    struct ware wares[WARES];
    struct dw_break breaks[WARES][2];
    struct demand demands[DEMANDS];
    int64_t v[DEMANDS][WARES];
    dw_money deliveries[3];
    struct bargain bargain;
};

static void random_bargain(struct random_bargain *made, struct dice *dice)
{
    *made = (struct random_bargain){.bargain = {.wares = made->wares, .demands = made->demands, .deliveries = made->deliveries}};
    struct bargain *bargain = &made->bargain;
    bargain->problem_count = (size_t)dice_range(dice, 1, 2);
    bargain->supplier_count = (int)dice_range(dice, 0, 3);
    for (int k = 0; k < bargain->supplier_count; k++)
        made->deliveries[k] = dice_range(dice, 1, 60);
    for (size_t p = 0; p < bargain->problem_count; p++) {
        const int64_t wares = dice_range(dice, 1, 4), demands = dice_range(dice, 1, 3);
        for (int64_t i = 0; i < wares; i++) {
            struct ware *ware = &made->wares[bargain->ware_count];
            *ware = (struct ware){.problem = p, .place = (size_t)i, .supplier = (int)dice_range(dice, -1, bargain->supplier_count - 1),
                                  .most = dice_range(dice, 0, 9)};
            ware->offer = (struct dw_sheet_offer){.price = dice_range(dice, 0, 90), .breaks = made->breaks[bargain->ware_count],
                                                  .break_count = (size_t)dice_range(dice, 0, 2), .count = ware->most};
            made->breaks[bargain->ware_count][0] = (struct dw_break){dice_range(dice, 2, 4), ware->offer.price * 8 / 10};
            made->breaks[bargain->ware_count][1] = (struct dw_break){dice_range(dice, 5, 8), ware->offer.price * 6 / 10};
            bargain->ware_count++;
        }
        for (int64_t d = 0; d < demands; d++) {
            for (int64_t i = 0; i < wares; i++)
                made->v[bargain->demand_count][i] = dice_range(dice, 0, 40);
            made->demands[bargain->demand_count] = (struct demand){p, made->v[bargain->demand_count], dice_range(dice, 0, 120)};
            bargain->demand_count++;
        }
    }
}

struct solved {
    struct random_bargain *made;
    struct dw_arena *arena;
    const char *path;      /* where the model goes; NULL: nowhere */
    bool certain, found;
    dw_money least;
    struct mix program, counted;
};

static void solve_body(void *context)
{
    struct solved *solved = context;
    const struct bargain *bargain = &solved->made->bargain;
    solved->program.counts = dw_arena_alloc(solved->arena, WARES, sizeof(int64_t));
    solved->counted.counts = dw_arena_alloc(solved->arena, WARES, sizeof(int64_t));
    int *bought = dw_arena_alloc(solved->arena, WARES, sizeof *bought);
    solved->found = dwi_program_solve(bargain, 100000, solved->arena, &solved->program);
    solved->certain = dwi_certify(bargain, 10000000, solved->arena, &solved->least, &solved->counted);
    if (solved->path == NULL)
        return;
    struct dw_lp *lp = dwi_program_model(bargain, solved->arena, bought);
    assert_non_null(lp);
    assert_true(dw_lp_write(lp, solved->path));
    dw_lp_free(lp);
}

static void solve(struct solved *solved)
{
    solved->arena = dw_arena_new();
    assert_true(dw_arena_guard(solved->arena, solve_body, solved));
    assert_true(solved->certain);
    assert_int_equal(solved->found, solved->least < INT64_MAX);
    if (!solved->found)
        return;
    assert_int_equal(solved->program.cost, solved->least);
    assert_true(dwi_bargain_obeys(&solved->made->bargain, solved->counted.counts));
    assert_int_equal(dwi_bargain_cost(&solved->made->bargain, solved->counted.counts), solved->least);
}

/* The program in floating point and the counting in integers share nothing but the problem. */
static void test_program_agrees_with_counting(void **state)
{
    (void)state;
    struct dice dice = {11};
    const int rounds = getenv("DW_LONG") != NULL ? 20000 : 400;
    int found = 0;
    for (int round = 0; round < rounds; round++) {
        struct random_bargain made;
        random_bargain(&made, &dice);
        struct solved solved = {.made = &made};
        solve(&solved);
        found += solved.found;
        dw_arena_free(solved.arena);
    }
    assert_in_range(found, rounds / 10, rounds - rounds / 10);
}

static void test_program_agrees_with_cbc(void **state)
{
    (void)state;
    if (!has_cbc())
        skip();
    char path[] = "dw-test-purchase-XXXXXX";
    const int handle = mkstemp(path);
    assert_true(handle >= 0);
    (void)close(handle);
    struct dice dice = {13};
    const int rounds = getenv("DW_LONG") != NULL ? 1000 : 40;
    for (int round = 0; round < rounds; round++) {
        struct random_bargain made;
        random_bargain(&made, &dice);
        struct solved solved = {.made = &made, .path = path};
        solve(&solved);
        const double theirs = ask_cbc(path);
        if (fabs(theirs - (solved.found ? (double)solved.least : -1)) > 1e-6)
            fail_msg("round %d: cbc %.3f, we %lld", round, theirs, (long long)solved.least);
        dw_arena_free(solved.arena);
    }
    (void)remove(path);
}

/* ---- memory ---- */

static void test_survives_failing_memory(void **state)
{
    (void)state;
    bool done = false;
    size_t n = 1;
    for (; !done && n < 20000; n = n + 1 + n / 8) {
        struct layout_bench b;
        full_sheets(&b, 3);
        b.offers[0][0].supplier = "A";
        b.suppliers[0] = (struct dw_supplier){.name = "A", .delivery = 100};
        b.job.shop.supplier_count = 1;
        const struct dw_purchase *purchase = NULL;
        (void)dw_memory_fail_at(n);
        const enum dw_status status = dw_purchase_make(b.jobs, 1, NULL, NULL, b.arena, b.faults, &purchase);
        (void)dw_memory_fail_at(0);
        done = status == DW_DONE;
        assert_int_equal(done, purchase != NULL);
        assert_true(done || status == DW_SURROUNDINGS);
        lb_free(&b);
    }
    assert_true(done);
    assert_true(n > 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_price_break_buys_one_more),
        cmocka_unit_test(test_price_break_out_of_reach),
        cmocka_unit_test(test_deals),
        cmocka_unit_test(test_markup_and_margin),
        cmocka_unit_test(test_delivery_tips_the_choice),
        cmocka_unit_test(test_left_out_still_on_the_list),
        cmocka_unit_test(test_one_delivery_for_two_materials),
        cmocka_unit_test(test_owned_sheet_costs_nothing),
        cmocka_unit_test(test_tax_by_bill),
        cmocka_unit_test(test_three_jobs_share_a_sheet),
        cmocka_unit_test(test_choices_side_by_side),
        cmocka_unit_test(test_random_purchases_add_up),
        cmocka_unit_test(test_proved_means_nothing_cheaper),
        cmocka_unit_test(test_cut_otherwise_for_small_saws),
        cmocka_unit_test(test_program_agrees_with_counting),
        cmocka_unit_test(test_program_agrees_with_cbc),
        cmocka_unit_test(test_survives_failing_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
