/* test_search.c - the search: counts that plain arithmetic gives, limits kept, the same bytes twice, and the parts it is
 * built of (slicing trees, pool, ruin) held to their invariants. The laws for any size and the exhaustive oracle are in
 * test_cut_oracle.c; every plan here passes the checker, for dw_cut_solve answers nothing else. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <drawerwright/cutting.h>
#include <drawerwright/memory.h>

#include "cutting/polish.h"
#include "cutting/pool.h"
#include "cutting/ruin.h"
#include "cutting/search.h"
#include "cutting/strips.h"
#include "cutting/swap.h"
#include "cutting/without.h"

#include "dice.h"

enum { PARTS_MOST = 16, SHEETS_MOST_HERE = 4, EIGHTH = DW_INCH / 8 };

struct shop {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_cut_part parts[PARTS_MOST];
    struct dw_cut_sheet sheets[SHEETS_MOST_HERE];
    struct dw_cut_request request;
    const struct dw_cut_plan *plan;
};

static int open_shop(void **state)
{
    struct shop *shop = calloc(1, sizeof *shop);
    if (shop == NULL)
        return -1;
    shop->arena = dw_arena_new();
    shop->faults = dw_faults_new();
    shop->request = (struct dw_cut_request){.parts = shop->parts, .sheets = shop->sheets, .first_cut = -1, .seed = 1};
    *state = shop;
    return 0;
}

static int close_shop(void **state)
{
    struct shop *shop = *state;
    dw_arena_free(shop->arena);
    dw_faults_free(shop->faults);
    free(shop);
    return 0;
}

static void want(struct shop *shop, dw_length length, dw_length width, int64_t count, bool turn)
{
    assert_true(shop->request.part_count < PARTS_MOST);
    shop->parts[shop->request.part_count++] =
        (struct dw_cut_part){.length = length, .width = width, .count = count, .turn = turn};
}

static struct dw_cut_sheet *offer(struct shop *shop, dw_length length, dw_length width, dw_money price, int64_t count)
{
    assert_true(shop->request.sheet_count < SHEETS_MOST_HERE);
    struct dw_cut_sheet *sheet = &shop->sheets[shop->request.sheet_count++];
    *sheet = (struct dw_cut_sheet){.length = length, .width = width, .price = price, .value = price, .count = count};
    return sheet;
}

/* A sheet of 48 x 96 in, a quarter inch off each edge. */
static void offer_trimmed_sheet(struct shop *shop)
{
    struct dw_cut_sheet *sheet = offer(shop, 96 * DW_INCH, 48 * DW_INCH, 6800, -1);
    for (int edge = 0; edge < 4; edge++)
        sheet->trim[edge] = DW_INCH / 4;
    shop->request.kerf = EIGHTH;
}

static void solve(struct shop *shop)
{
    const enum dw_status status = dw_cut_solve(&shop->request, NULL, shop->arena, shop->faults, &shop->plan);
    for (size_t i = 0; i < shop->faults->count; i++)
        print_error("%s: %s\n", shop->faults->at[i].address, shop->faults->at[i].wrong);
    assert_int_equal(status, DW_DONE);
}

static int64_t sheets_used(const struct dw_cut_plan *plan, size_t sheet)
{
    int64_t used = 0;
    for (size_t l = 0; l < plan->layout_count; l++)
        if (plan->layouts[l].sheet == sheet)
            used += plan->layouts[l].times;
    return used;
}

/* Sides of 4-1/2 x 16 in on a trimmed sheet of 47-1/2 x 95-1/2 in, kerf 1/8 in: 10 across (10 * 4-1/2 + 9 / 8 = 46-1/8; 11
 * would be 50-3/4), 5 along (5 * 16 + 4 / 8 = 80-1/2; 6 would be 96-5/8). */
static void test_fifty_sides_fill_a_sheet(void **state)
{
    struct shop *shop = *state;
    offer_trimmed_sheet(shop);
    want(shop, 16 * DW_INCH, 9 * DW_INCH / 2, 50, false);
    solve(shop);
    assert_true(shop->plan->proved);
    assert_int_equal(sheets_used(shop->plan, 0), 1);
    shop->parts[0].count = 51;
    solve(shop);
    assert_true(shop->plan->proved);
    assert_int_equal(sheets_used(shop->plan, 0), 2);
}

/* The same without kerf and trim: 10 across, 6 along. */
static void test_sixty_sides_without_kerf(void **state)
{
    struct shop *shop = *state;
    offer(shop, 96 * DW_INCH, 48 * DW_INCH, 6800, -1);
    want(shop, 16 * DW_INCH, 9 * DW_INCH / 2, 60, false);
    solve(shop);
    assert_true(shop->plan->proved);
    assert_int_equal(sheets_used(shop->plan, 0), 1);
}

/* Eight boxes: 10 pieces side by side make a column; two columns of sides and two of fronts and backs take
 * 2 * 16 + 2 * 12-1/2 + 3 / 8 = 57-3/8 in of 95-1/2. */
static void test_eight_boxes_fit_one_sheet(void **state)
{
    struct shop *shop = *state;
    offer_trimmed_sheet(shop);
    want(shop, 16 * DW_INCH, 9 * DW_INCH / 2, 16, false);
    want(shop, 25 * DW_INCH / 2, 9 * DW_INCH / 2, 16, false);
    solve(shop);
    assert_true(shop->plan->proved);
    assert_int_equal(sheets_used(shop->plan, 0), 1);
}

/* A job of several kinds that takes the search some rounds. */
static void want_mixed_job(struct shop *shop, uint64_t seed)
{
    struct dice dice = {seed};
    offer_trimmed_sheet(shop);
    offer(shop, 60 * DW_INCH, 60 * DW_INCH, 5400, -1);
    for (int kind = 0; kind < 10; kind++)
        want(shop, dice_range(&dice, 40, 200) * EIGHTH, dice_range(&dice, 30, 120) * EIGHTH, dice_range(&dice, 2, 9),
             dice_one_in(&dice, 2));
    shop->request.work = 60000;
    shop->request.keep = (struct dw_cut_keep){.least_length = 12 * DW_INCH, .least_width = 6 * DW_INCH};
}

static void assert_same_tree(const struct dw_cut_node *a, const struct dw_cut_node *b)
{
    assert_true(a->x == b->x && a->y == b->y && a->length == b->length && a->width == b->width);
    assert_true(a->use == b->use && a->cut == b->cut && a->part == b->part && a->turned == b->turned);
    assert_int_equal(a->piece_count, b->piece_count);
    for (size_t i = 0; i < a->piece_count; i++)
        assert_same_tree(&a->pieces[i], &b->pieces[i]);
}

static void test_same_request_same_plan(void **state)
{
    struct shop *shop = *state;
    want_mixed_job(shop, 7);
    solve(shop);
    const struct dw_cut_plan *first = shop->plan;
    shop->request.threads = 2;
    solve(shop);
    assert_int_equal(shop->plan->layout_count, first->layout_count);
    assert_int_equal(shop->plan->work_done, first->work_done);
    assert_int_equal(shop->plan->lower_bound, first->lower_bound);
    for (size_t l = 0; l < first->layout_count; l++) {
        assert_int_equal(shop->plan->layouts[l].sheet, first->layouts[l].sheet);
        assert_int_equal(shop->plan->layouts[l].times, first->layouts[l].times);
        assert_same_tree(&shop->plan->layouts[l].root, &first->layouts[l].root);
    }
}

/* Items are sorted by size, so the order of the parts steers nothing. */
static void test_order_of_parts_changes_nothing(void **state)
{
    struct shop *shop = *state;
    want_mixed_job(shop, 8);
    solve(shop);
    const struct dw_cut_plan *first = shop->plan;
    for (size_t i = 0, j = shop->request.part_count - 1; i < j; i++, j--) {
        const struct dw_cut_part part = shop->parts[i];
        shop->parts[i] = shop->parts[j];
        shop->parts[j] = part;
    }
    solve(shop);
    assert_int_equal(shop->plan->cost, first->cost);
    assert_int_equal(shop->plan->work_done, first->work_done);
    assert_int_equal(shop->plan->layout_count, first->layout_count);
}

/* The checker counts stages and first cuts of every plan; here each limit must leave a plan, and a looser one costs no more. */
static void test_stage_limits_are_kept(void **state)
{
    struct shop *shop = *state;
    want_mixed_job(shop, 9);
    for (int first_cut = -1; first_cut <= DW_CROSSCUT; first_cut++) {
        shop->request.first_cut = first_cut;
        for (int turns = 0; turns <= 3; turns += turns == 0 ? 2 : 1) {
            shop->request.turns = turns;
            solve(shop);
            assert_int_equal(shop->plan->outcome, DW_CUT_PLAN);
        }
    }
}

/* What is owned costs nothing and goes first; of owned sheets that would do, the one of least value is used. */
static void test_owned_sheets_go_first_and_least_value(void **state)
{
    struct shop *shop = *state;
    offer(shop, 96 * DW_INCH, 48 * DW_INCH, 6800, -1);
    offer(shop, 40 * DW_INCH, 40 * DW_INCH, 0, 1)->value = 3000;
    offer(shop, 30 * DW_INCH, 20 * DW_INCH, 0, 1)->value = 900;
    want(shop, 20 * DW_INCH, 10 * DW_INCH, 3, false);
    solve(shop);
    assert_int_equal(shop->plan->cost, 0);
    assert_true(shop->plan->proved);
    assert_int_equal(sheets_used(shop->plan, 0), 0);
    assert_int_equal(sheets_used(shop->plan, 1), 1);
    shop->parts[0].count = 2;
    solve(shop);
    assert_int_equal(sheets_used(shop->plan, 1), 0);
    assert_int_equal(sheets_used(shop->plan, 2), 1);
}

static int64_t kept_area(const struct dw_cut_node *node)
{
    int64_t area = node->use == DW_NODE_KEEP ? node->length * node->width : 0;
    for (size_t i = 0; i < node->piece_count; i++)
        area += kept_area(&node->pieces[i]);
    return area;
}

/* One part of 5 x 10 and one of 10 x 5 take two sheets of 10 x 10, which only counted pieces prove: without them the plan stays and the bound falls.
 * Without any other method the plan is the same, and proved. */
static void test_each_method_can_be_left_out(void **state)
{
    struct shop *shop = *state;
    offer(shop, 10, 10, 1, -1);
    want(shop, 5, 10, 1, false);
    want(shop, 10, 5, 1, false);
    shop->request.work = 20000;
    for (int method = 0; method < DWI_METHODS; method++) {
        assert_int_equal(dwi_solve_without(&shop->request, 1u << method, NULL, shop->arena, shop->faults, &shop->plan), DW_DONE);
        const bool needed = (1 << method) == DWI_LIMITED || (1 << method) == DWI_COUNTED; /* those rows count pieces */
        assert_int_equal(shop->plan->cost, 2);
        assert_int_equal(shop->plan->lower_bound, needed ? 1 : 2);
        assert_string_not_equal(dwi_method_words[method], "");
    }
}

/* Four squares of 10 on a sheet of 40 x 20 without kerf: in two columns of two they leave 20 x 20 whole, and no layout keeps more than what
 * the parts leave, 800 - 400. */
static void test_waste_is_gathered(void **state)
{
    struct shop *shop = *state;
    offer(shop, 40 * DW_INCH, 20 * DW_INCH, 1000, -1);
    want(shop, 10 * DW_INCH, 10 * DW_INCH, 4, false);
    shop->request.keep = (struct dw_cut_keep){.least_length = 20 * DW_INCH, .least_width = 20 * DW_INCH};
    solve(shop);
    assert_int_equal(kept_area(&shop->plan->layouts[0].root), 20 * DW_INCH * 20 * DW_INCH);
}

/* Eight hundred parts of box heights on whole sheets: by area no plan has fewer sheets than the bound, and strips come within a sheet of it. */
static void test_big_job_is_nearly_full(void **state)
{
    struct shop *shop = *state;
    struct dice dice = {15};
    offer(shop, 96 * DW_INCH, 48 * DW_INCH, 100, -1);
    for (int kind = 0; kind < 16; kind++)
        want(shop, dice_range(&dice, 80, 190) * EIGHTH, (4 + 2 * (kind % 3)) * DW_INCH, 50, false);
    shop->request.work = 300000;
    solve(shop);
    int64_t area = 0;
    for (size_t p = 0; p < shop->request.part_count; p++)
        area += shop->parts[p].length * shop->parts[p].width * shop->parts[p].count;
    const int64_t sheet = 96 * DW_INCH * 48 * DW_INCH;
    const int64_t least = (area + sheet - 1) / sheet;
    assert_true(sheets_used(shop->plan, 0) <= least + 1);
    assert_true(shop->plan->lower_bound >= least * 100);
}

/* Some hundred pieces, four sizes of sheets: strips first leave a smaller problem, and what they save in little time the rest of the search does not
 * find. */
static void want_many(struct shop *shop, uint64_t seed)
{
    struct dice dice = {seed};
    shop->request.part_count = 0;
    for (int kind = 0; kind < 16; kind++)
        want(shop, dice_range(&dice, 80, 190) * EIGHTH, (26 + 7 * (kind % 5)) * EIGHTH, 30, false);
}

static void test_strips_serve_several_sizes(void **state)
{
    struct shop *shop = *state;
    dw_money with = 0, without = 0, bound = 0;
    shop->request.kerf = EIGHTH;
    shop->request.work = 50000;
    offer(shop, 96 * DW_INCH, 48 * DW_INCH, 6800, -1);
    offer(shop, 60 * DW_INCH, 60 * DW_INCH, 5400, -1);
    offer(shop, 48 * DW_INCH, 48 * DW_INCH, 3900, -1);
    offer(shop, 24 * DW_INCH, 48 * DW_INCH, 2400, -1);
    for (uint64_t seed = 15; seed < 18; seed++) {
        want_many(shop, seed);
        solve(shop);
        with += shop->plan->cost;
        assert_int_equal(dwi_solve_without(&shop->request, DWI_STRIPS, NULL, shop->arena, shop->faults, &shop->plan), DW_DONE);
        without += shop->plan->cost;
        bound += shop->plan->lower_bound;
    }
    print_message("with strips %lld, without %lld, bound %lld\n", (long long)with, (long long)without, (long long)bound);
    assert_true(with < without);
}

/* Strips for a mix take no sheet and no piece beyond what there is, and fill what they take to a sixty-sixth. */
static void fill_a_mix(void *context)
{
    struct shop *shop = context;
    const struct problem *problem = dwi_problem_make(&shop->request, shop->arena);
    const int64_t counts[] = {2, 1};
    int64_t used[2] = {0};
    int64_t *held = dw_arena_alloc(shop->arena, (size_t)problem->item_count, sizeof *held);
    struct meter meter;
    struct draft draft;
    dwi_meter_start(&meter, 1000000, NULL);
    dwi_strips_within(problem, counts, &meter, shop->arena, &draft);
    for (size_t u = 0; u < draft.count; u++) {
        const struct pattern *pattern = draft.uses[u].pattern;
        used[pattern->stock] += draft.uses[u].times;
        assert_true(pattern->area >= problem->stocks[pattern->stock].area / 66 * 65);
        for (int i = 0; i < problem->item_count; i++)
            held[i] += pattern->counts[i] * draft.uses[u].times;
    }
    for (int i = 0; i < problem->item_count; i++)
        assert_true(held[i] <= problem->items[i].count);
    assert_int_equal(used[0], 2); /* both large ones: there are pieces for a dozen */
    assert_true(used[1] <= 1);
}

static void test_strips_fill_a_mix(void **state)
{
    struct shop *shop = *state;
    shop->request.kerf = EIGHTH;
    offer(shop, 96 * DW_INCH, 48 * DW_INCH, 6800, -1);
    offer(shop, 60 * DW_INCH, 60 * DW_INCH, 5400, -1);
    want_many(shop, 15);
    assert_true(dw_arena_guard(shop->arena, fill_a_mix, shop));
}

static void test_impossible_is_proved(void **state)
{
    struct shop *shop = *state;
    offer(shop, 10 * DW_INCH, 10 * DW_INCH, 100, 1);
    want(shop, 6 * DW_INCH, 6 * DW_INCH, 2, true);
    solve(shop);
    assert_int_equal(shop->plan->outcome, DW_CUT_IMPOSSIBLE);
    assert_int_equal(shop->plan->stop, DW_STOP_PROVED);
}

static void test_cancel_ends_with_a_plan(void **state)
{
    struct shop *shop = *state;
    want_mixed_job(shop, 10);
    shop->request.work = INT64_C(1000000000000);
    atomic_bool cancel = true;
    const struct dw_control control = {.cancel = &cancel};
    assert_int_equal(dw_cut_solve(&shop->request, &control, shop->arena, shop->faults, &shop->plan), DW_DONE);
    assert_true(shop->plan->proved || shop->plan->stop == DW_STOP_CANCEL);
    assert_int_equal(shop->plan->outcome, DW_CUT_PLAN);
}

static void note_standing(void *context, const struct dw_standing *standing)
{
    struct dw_standing *last = context;
    assert_true(standing->lower_bound >= last->lower_bound);
    assert_true(last->best < 0 || standing->best <= last->best);
    assert_true(standing->work_done >= last->work_done);
    *last = *standing;
}

static void test_progress_only_gets_better(void **state)
{
    struct shop *shop = *state;
    want_mixed_job(shop, 11);
    struct dw_standing last = {.best = -1};
    const struct dw_control control = {.progress = note_standing, .context = &last};
    assert_int_equal(dw_cut_solve(&shop->request, &control, shop->arena, shop->faults, &shop->plan), DW_DONE);
    assert_int_equal(last.best, shop->plan->cost);
    assert_int_equal(last.lower_bound, shop->plan->lower_bound);
}

/* The two questions. 50 sides fit one sheet and 51 do not (see above): an inequality says so and two sheets obey it. */
static void test_within_and_inequality(void **state)
{
    struct shop *shop = *state;
    offer_trimmed_sheet(shop);
    want(shop, 16 * DW_INCH, 9 * DW_INCH / 2, 51, false);
    struct dw_cutter *cutter = dw_cutter_new(&shop->request, shop->arena);
    const int64_t one = 1;
    const int64_t two = 2;
    enum dw_cut_outcome outcome;
    assert_int_equal(dw_cutter_within(cutter, &one, 1000000, NULL, shop->arena, &outcome, &shop->plan), DW_DONE);
    assert_int_equal(outcome, DW_CUT_IMPOSSIBLE);
    struct dw_cut_inequality row;
    assert_true(dw_cutter_inequality(cutter, &one, 1000000, shop->arena, &row));
    assert_true(row.v[0] * one < row.rhs);
    assert_true(row.v[0] * two >= row.rhs);
    assert_int_equal(row.u[0] * 51, row.rhs);
    assert_int_equal(dw_cutter_within(cutter, &two, 1000000, NULL, shop->arena, &outcome, &shop->plan), DW_DONE);
    assert_int_equal(outcome, DW_CUT_PLAN);
    assert_false(dw_cutter_inequality(cutter, &two, 100000, shop->arena, &row));
}

/* Every allocation in turn fails; the call says so and leaves nothing behind. */
static void test_memory_runs_out(void **state)
{
    struct shop *shop = *state;
    want_mixed_job(shop, 12);
    shop->request.work = 4000;
    for (size_t n = 1, step = 1;; n += step, step += n / 64) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        dw_memory_fail_at(n);
        const enum dw_status status = dw_cut_solve(&shop->request, NULL, arena, faults, &shop->plan);
        dw_memory_fail_at(0);
        dw_arena_free(arena);
        dw_faults_free(faults);
        if (status == DW_DONE)
            break;
        assert_int_equal(status, DW_SURROUNDINGS);
    }
}

/* Under a guard of their own: the parts of the search. */
struct rig {
    struct shop *shop;
    struct problem *problem;
};

static int64_t area_in(const struct sheet *sheet)
{
    int64_t area = 0;
    for (int i = 0; i < sheet->count; i++)
        if (sheet->twigs[i].kind == SLICE_ITEM)
            area += sheet->problem->items[sheet->twigs[i].item].area;
    return area;
}

/* Insertion where a place is found keeps the tree in its sheet; pruning takes away just what it is told; a pattern loaded again is
 * the same tree. */
static void grow_and_prune(void *context)
{
    struct rig *rig = context;
    struct dw_arena *arena = rig->shop->arena;
    const struct problem *problem = dwi_problem_make(&rig->shop->request, arena);
    struct random random = {5};
    struct sheet sheet, again;
    dwi_sheet_init(&sheet, problem, 0);
    dwi_sheet_init(&again, problem, 0);
    dwi_sheet_settle(&sheet);
    for (int round = 0; round < 400; round++) {
        const struct taste taste = dwi_taste_draw(&random);
        const int item = dwi_random_below(&random, problem->item_count);
        int64_t ticks = 0;
        struct place place;
        if (dwi_find_place(&sheet, item, &taste, &random, &ticks, &place)) {
            dwi_sheet_insert(&sheet, place.at, place.kind, item, place.turned, arena);
        } else {
            bool *drop = dw_arena_alloc(arena, (size_t)sheet.count, sizeof *drop);
            int *work = dw_arena_alloc(arena, (size_t)sheet.count, sizeof *work);
            int32_t *removed = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *removed);
            for (int i = 0; i < sheet.count; i++)
                drop[i] = dwi_random_below(&random, 2) == 0;
            int64_t area = sheet.area;
            dwi_sheet_prune(&sheet, drop, removed, work);
            for (int i = 0; i < problem->item_count; i++)
                area -= removed[i] * problem->items[i].area;
            assert_int_equal(sheet.area, area);
        }
        assert_true(dwi_sheet_sound(&sheet));
        assert_int_equal(sheet.area, area_in(&sheet));
        if (sheet.count == 0)
            continue;
        dwi_sheet_load(&again, dwi_sheet_pattern(&sheet, arena), arena);
        assert_int_equal(again.count, sheet.count);
        assert_memory_equal(again.twigs, sheet.twigs, (size_t)sheet.count * sizeof *sheet.twigs);
    }
}

static void test_slicing_tree(void **state)
{
    struct rig rig = {.shop = *state};
    want_mixed_job(rig.shop, 13);
    for (int turns = 0; turns <= 3; turns++) {
        rig.shop->request.turns = turns == 1 ? 0 : turns;
        rig.shop->request.first_cut = turns == 3 ? DW_RIP : -1;
        assert_true(dw_arena_guard(rig.shop->arena, grow_and_prune, &rig));
    }
}

/* What a state holds and what is absent are together what is wanted, after any number of rounds. */
static void ruin_keeps_count(void *context)
{
    struct rig *rig = context;
    const struct problem *problem = dwi_problem_make(&rig->shop->request, rig->shop->arena);
    const int64_t counts[] = {1, 0};
    struct ruin ruin;
    struct meter meter;
    dwi_meter_start(&meter, 1000000, NULL);
    dwi_ruin_start(&ruin, problem, counts, 3, rig->shop->arena);
    for (int round = 0; round < 30; round++) {
        assert_false(dwi_ruin_run(&ruin, &meter, 200000)); /* the parts' area is over that of one sheet */
        for (int i = 0; i < problem->item_count; i++) {
            int64_t placed = 0;
            for (int t = 0; t < ruin.sheets[0].count; t++)
                placed += ruin.sheets[0].twigs[t].kind == SLICE_ITEM && ruin.sheets[0].twigs[t].item == i;
            assert_int_equal(placed + ruin.absent[i], problem->items[i].count);
        }
    }
    assert_true(ruin.passes > 30);
}

static int item_of_length(const struct problem *problem, int64_t length)
{
    for (int i = 0; i < problem->item_count; i++)
        if (problem->items[i].length == length)
            return i;
    return -1;
}

/* A sheet 10 long holds 5 and 4. A 6 finds no gap but takes the place of the 5, the heavier of the two (the 4 could not make room enough), which
 * leaves a full sheet: the 5 cannot take the place of the 4. */
static void six_pushes_out_five(const struct problem *problem, struct dw_arena *arena)
{
    const int four = item_of_length(problem, 4), five = item_of_length(problem, 5), six = item_of_length(problem, 6);
    const int64_t one = 1;
    int64_t ticks = 0;
    struct ruin ruin;
    dwi_ruin_start(&ruin, problem, &one, 3, arena);
    dwi_sheet_insert(&ruin.sheets[0], 0, SLICE_ITEM, four, false, arena);
    dwi_sheet_insert(&ruin.sheets[0], 0, SLICE_BESIDE, five, false, arena);
    ruin.absent[four] = ruin.absent[five] = 0;
    assert_false(dwi_swap_in(&ruin, six, &ticks)); /* no sheet was touched */
    ruin.touched_count = 1;
    assert_true(dwi_swap_in(&ruin, six, &ticks));
    assert_int_equal(ruin.absent[six], 0);
    assert_int_equal(ruin.absent[five], 1);
    assert_int_equal(ruin.absent[four], 0);
    assert_true(dwi_sheet_sound(&ruin.sheets[0]));
    assert_int_equal(ruin.sheets[0].room, 0);
    assert_false(dwi_swap_in(&ruin, five, &ticks));
    assert_true(ticks > 0);
}

/* It holds 2 and 3 in one sub-tree, and 4 beside that. A 6 takes the place of the two. */
static void six_pushes_out_two_and_three(const struct problem *problem, struct dw_arena *arena)
{
    const int two = item_of_length(problem, 2), three = item_of_length(problem, 3);
    const int four = item_of_length(problem, 4), six = item_of_length(problem, 6);
    const int64_t one = 1;
    int64_t ticks = 0;
    struct ruin ruin;
    dwi_ruin_start(&ruin, problem, &one, 3, arena);
    dwi_sheet_insert(&ruin.sheets[0], 0, SLICE_ITEM, two, false, arena);
    dwi_sheet_insert(&ruin.sheets[0], 0, SLICE_BESIDE, four, false, arena);
    dwi_sheet_insert(&ruin.sheets[0], 1, SLICE_BESIDE, three, false, arena);
    ruin.absent[two] = ruin.absent[three] = ruin.absent[four] = 0;
    ruin.touched_count = 1;
    assert_true(dwi_swap_in(&ruin, six, &ticks));
    assert_int_equal(ruin.sheets[0].count, 3);
    assert_int_equal(ruin.sheets[0].twigs[0].size, 3);
    assert_int_equal(ruin.sheets[0].room, 0);
    assert_int_equal(ruin.absent[two] + ruin.absent[three], 2);
    assert_int_equal(ruin.absent[four] + ruin.absent[six], 0);
}

static void swap_twice(void *context)
{
    struct rig *rig = context;
    const struct problem *problem = dwi_problem_make(&rig->shop->request, rig->shop->arena);
    six_pushes_out_five(problem, rig->shop->arena);
    six_pushes_out_two_and_three(problem, rig->shop->arena);
}

static void test_swap(void **state)
{
    struct rig rig = {.shop = *state};
    offer(rig.shop, 10 * DW_INCH, DW_INCH, 100, -1);
    for (int length = 2; length <= 6; length++)
        want(rig.shop, length * DW_INCH, DW_INCH, 1, false);
    assert_true(dw_arena_guard(rig.shop->arena, swap_twice, &rig));
}

static void test_ruin_keeps_count(void **state)
{
    struct rig rig = {.shop = *state};
    want_mixed_job(rig.shop, 14);
    int64_t area = 0;
    for (size_t p = 0; p < rig.shop->request.part_count; p++)
        area += rig.shop->parts[p].length * rig.shop->parts[p].width * rig.shop->parts[p].count;
    assert_true(area > 96 * DW_INCH * 48 * DW_INCH);
    assert_true(dw_arena_guard(rig.shop->arena, ruin_keeps_count, &rig));
}

static void pool_joins_equals(void *context)
{
    struct rig *rig = context;
    struct dw_arena *arena = rig->shop->arena;
    const struct problem *problem = dwi_problem_make(&rig->shop->request, arena);
    struct pool pool;
    struct sheet sheet;
    dwi_pool_init(&pool, problem, arena);
    dwi_sheet_init(&sheet, problem, 0);
    dwi_sheet_insert(&sheet, 0, SLICE_ITEM, 1, false, arena);
    const struct pattern *one = dwi_pool_add(&pool, dwi_sheet_pattern(&sheet, arena));
    dwi_sheet_insert(&sheet, 0, SLICE_BESIDE, 0, false, arena);
    const struct pattern *two = dwi_pool_add(&pool, dwi_sheet_pattern(&sheet, arena));
    assert_ptr_not_equal(one, two);
    /* A second piece of item 1 is more than is wanted: clipped, it is the layout before. */
    dwi_sheet_insert(&sheet, 0, SLICE_UPON, 1, false, arena);
    assert_ptr_equal(dwi_pool_add(&pool, dwi_sheet_pattern(&sheet, arena)), two);
    assert_int_equal(pool.count, 2);
}

static void test_pool_joins_equals(void **state)
{
    struct rig rig = {.shop = *state};
    offer(rig.shop, 100, 100, 1, -1);
    want(rig.shop, 50, 40, 3, false);
    want(rig.shop, 30, 20, 1, false);
    assert_true(dw_arena_guard(rig.shop->arena, pool_joins_equals, &rig));
}

/* Two pieces side by side need two settings: the rip for both, and the stop for their common length. Those known from another layout cost
 * nothing; turned, the same pieces ask for others. */
static void settings_are_shared(void *context)
{
    struct rig *rig = context;
    struct dw_arena *arena = rig->shop->arena;
    const struct problem *problem = dwi_problem_make(&rig->shop->request, arena);
    struct sheet sheet, turned;
    struct settings known = {0};
    dwi_sheet_init(&sheet, problem, 0);
    dwi_sheet_init(&turned, problem, 0);
    for (int n = 0; n < 2; n++) {
        dwi_sheet_insert(&sheet, 0, n == 0 ? SLICE_ITEM : SLICE_BESIDE, 0, false, arena);
        dwi_sheet_insert(&turned, 0, n == 0 ? SLICE_ITEM : SLICE_BESIDE, 0, true, arena);
    }
    const struct pattern *pattern = dwi_sheet_pattern(&sheet, arena), *other = dwi_sheet_pattern(&turned, arena);
    assert_int_equal(dwi_merit_of(problem, pattern, &known, arena).settings, 2);
    dwi_settings_add(&known, problem, pattern, arena);
    assert_int_equal(known.count, 2);
    dwi_settings_add(&known, problem, pattern, arena);
    assert_int_equal(known.count, 2);
    assert_int_equal(dwi_merit_of(problem, pattern, &known, arena).settings, 0);
    assert_int_equal(dwi_merit_of(problem, other, &known, arena).settings, 2);
    assert_int_equal(dwi_merit_of(problem, pattern, &known, arena).cuts, dwi_merit_of(problem, pattern, &(struct settings){0}, arena).cuts);
}

static void test_settings_are_shared(void **state)
{
    struct rig rig = {.shop = *state};
    offer(rig.shop, 100, 100, 1, -1);
    want(rig.shop, 40, 30, 2, true);
    assert_true(dw_arena_guard(rig.shop->arena, settings_are_shared, &rig));
}

/* The free half of a sheet is a hole, a rim narrower than every piece is none. */
static void holes_gather(void *context)
{
    struct rig *rig = context;
    struct dw_arena *arena = rig->shop->arena;
    const struct problem *problem = dwi_problem_make(&rig->shop->request, arena);
    const struct hole_gauge gauge = dwi_hole_gauge(problem);
    struct sheet sheet;
    dwi_sheet_init(&sheet, problem, 0);
    assert_int_equal(gauge.least_side, problem->items[problem->item_count - 1].width);
    dwi_sheet_insert(&sheet, 0, SLICE_ITEM, 0, false, arena);
    const int64_t alone = dwi_holes(&sheet, &gauge);
    assert_true(alone > 0 && alone <= 2 * DWI_HOLE_ONE);
    dwi_sheet_insert(&sheet, 0, SLICE_UPON, 0, false, arena); /* a rim of 1 is left all round: no piece is that narrow */
    assert_int_equal(dwi_holes(&sheet, &gauge), 0);
}

static void test_holes_gather(void **state)
{
    struct rig rig = {.shop = *state};
    offer(rig.shop, 101, 101, 1, -1);
    want(rig.shop, 100, 50, 2, false);
    want(rig.shop, 20, 10, 1, false);
    want(rig.shop, 7, 3, 1, false);
    assert_true(dw_arena_guard(rig.shop->arena, holes_gather, &rig));
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, open_shop, close_shop)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_fifty_sides_fill_a_sheet),
        TEST(test_sixty_sides_without_kerf),
        TEST(test_eight_boxes_fit_one_sheet),
        TEST(test_same_request_same_plan),
        TEST(test_order_of_parts_changes_nothing),
        TEST(test_stage_limits_are_kept),
        TEST(test_owned_sheets_go_first_and_least_value),
        TEST(test_each_method_can_be_left_out),
        TEST(test_waste_is_gathered),
        TEST(test_big_job_is_nearly_full),
        TEST(test_strips_serve_several_sizes),
        TEST(test_strips_fill_a_mix),
        TEST(test_impossible_is_proved),
        TEST(test_cancel_ends_with_a_plan),
        TEST(test_progress_only_gets_better),
        TEST(test_within_and_inequality),
        TEST(test_memory_runs_out),
        TEST(test_slicing_tree),
        TEST(test_ruin_keeps_count),
        TEST(test_swap),
        TEST(test_pool_joins_equals),
        TEST(test_settings_are_shared),
        TEST(test_holes_gather),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
