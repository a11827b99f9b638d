/* test_cut_oracle.c - cutting against truth: every slicing tree of tiny requests; laws that hold for any size
 * (permute, mirror, scale, split, add); and random requests through solve and check. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <drawerwright/cutting.h>
#include <drawerwright/memory.h>

#include "cutting/check.h"
#include "cutting/limited.h"

#include "cut_oracle.h"
#include "dice.h"

enum { PARTS = 40, SHEETS = 5 };

/* A request that owns its lists. Must not be moved once made. */
struct query {
    struct dw_cut_part parts[PARTS];
    struct dw_cut_sheet sheets[SHEETS];
    struct dw_cut_request request;
};

static void query_link(struct query *query)
{
    query->request.parts = query->parts;
    query->request.sheets = query->sheets;
}

static void print_query(const struct dw_cut_request *request)
{
    print_error("kerf %lld turns %d first %d seed %llu work %lld\n", (long long)request->kerf, request->turns,
                request->first_cut, (unsigned long long)request->seed, (long long)request->work);
    for (size_t s = 0; s < request->sheet_count; s++) {
        const struct dw_cut_sheet *sheet = &request->sheets[s];
        print_error("  sheet %lld x %lld trim %lld %lld %lld %lld price %lld count %lld\n", (long long)sheet->length,
                    (long long)sheet->width, (long long)sheet->trim[0], (long long)sheet->trim[1], (long long)sheet->trim[2],
                    (long long)sheet->trim[3], (long long)sheet->price, (long long)sheet->count);
    }
    for (size_t p = 0; p < request->part_count; p++)
        print_error("  part %lld x %lld count %lld%s\n", (long long)request->parts[p].length, (long long)request->parts[p].width,
                    (long long)request->parts[p].count, request->parts[p].turn ? " turn" : "");
}

static bool is_sound(const struct dw_cut_request *request)
{
    struct dw_faults *faults = dw_faults_new();
    const bool sound = dw_cut_check_request(request, faults);
    dw_faults_free(faults);
    return sound;
}

/* What a solve gave. Free the arena. */
struct answer {
    struct dw_arena *arena;
    const struct dw_cut_plan *plan;
};

/* Solves, checks what comes back, and stops the test where either fails. */
static struct answer solve(const struct dw_cut_request *request)
{
    struct answer answer = {.arena = dw_arena_new()};
    struct dw_faults *faults = dw_faults_new();
    const enum dw_status status = dw_cut_solve(request, NULL, answer.arena, faults, &answer.plan);
    const bool right = status == DW_DONE && answer.plan != NULL && dw_cut_check(request, answer.plan, faults);
    if (!right) {
        print_query(request);
        for (size_t i = 0; i < faults->count; i++)
            print_error("%s at %s: %s\n", faults->at[i].code, faults->at[i].address, faults->at[i].wrong);
        fail_msg("solve answered %d", (int)status);
    }
    dw_faults_free(faults);
    return answer;
}

/* The cost of a plan, -1 when it is proved that there is none, -2 when none was found. */
static dw_money cost_of(const struct dw_cut_plan *plan)
{
    return plan->outcome == DW_CUT_PLAN ? plan->cost : plan->outcome == DW_CUT_IMPOSSIBLE ? -1 : -2;
}

static dw_money solved_cost(const struct dw_cut_request *request)
{
    const struct answer answer = solve(request);
    const dw_money cost = cost_of(answer.plan);
    dw_arena_free(answer.arena);
    return cost;
}

static bool is_long(void)
{
    return getenv("DW_LONG") != NULL;
}

/* Tiny: 1 to 3 sheet sizes of sides 4 to 14, at most ORACLE_PIECES pieces. About one request in ten asks for what is
 * impossible or has a free or limited sheet. */
static void tiny_query(struct query *query, struct dice *dice)
{
    *query = (struct query){.request = {.first_cut = -1}};
    struct dw_cut_request *request = &query->request;
    request->kerf = dice_one_in(dice, 2) ? 0 : dice_range(dice, 1, 2);
    request->turns = dice_one_in(dice, 2) ? 0 : (int)dice_range(dice, 2, 3);
    request->first_cut = dice_one_in(dice, 2) ? -1 : (int)dice_range(dice, 0, 1);
    request->sheet_count = (size_t)dice_range(dice, 1, 3);
    for (size_t s = 0; s < request->sheet_count; s++) {
        query->sheets[s] = (struct dw_cut_sheet){.length = dice_range(dice, 6, 14), .width = dice_range(dice, 6, 14)};
        query->sheets[s].trim[dice_range(dice, 0, 3)] = dice_range(dice, 0, 1);
        query->sheets[s].price = dice_one_in(dice, 8) ? 0 : dice_range(dice, 1, 20);
        query->sheets[s].value = query->sheets[s].price + dice_range(dice, 0, 1);
        query->sheets[s].count = query->sheets[s].price == 0 || dice_one_in(dice, 4) ? dice_range(dice, 0, 2) : -1;
    }
    int64_t left = dice_range(dice, 2, ORACLE_PIECES);
    while (left > 0) {
        struct dw_cut_part *part = &query->parts[request->part_count++];
        *part = (struct dw_cut_part){.length = dice_range(dice, 2, 9), .width = dice_range(dice, 2, 9)};
        part->count = dice_range(dice, 1, left < 3 ? left : 3);
        part->turn = dice_one_in(dice, 2);
        left -= part->count;
    }
    request->work = 200000;
    query_link(query);
}

static void check_certificate(const struct oracle *oracle, const struct dw_cut_plan *plan)
{
    for (size_t r = 0; r < plan->certificate_count; r++) {
        for (size_t s = 0; s < oracle->request->sheet_count; s++) {
            if (plan->certificate[r].v[s] < oracle_value(oracle, s, plan->certificate[r].u)) {
                print_query(oracle->request);
                fail_msg("inequality %zu is wrong about sheet %zu", r, s);
            }
        }
    }
}

static void test_solve_equals_oracle(void **state)
{
    (void)state;
    const int requests = is_long() ? 5000 : 200;
    struct dice dice = {20};
    int proved = 0, impossible = 0;
    for (int n = 0; n < requests;) {
        struct query query;
        tiny_query(&query, &dice);
        if (!is_sound(&query.request))
            continue;
        n++;
        struct oracle *oracle = oracle_make(&query.request);
        const dw_money least = oracle_cost(oracle);
        const struct answer answer = solve(&query.request);
        const dw_money cost = cost_of(answer.plan);
        if (cost != least && !(least == -1 && cost == -2)) {
            print_query(&query.request);
            fail_msg("request %d: the least cost is %lld and the plan's %lld", n, (long long)least, (long long)cost);
        }
        assert_true(least < 0 || answer.plan->lower_bound <= least);
        check_certificate(oracle, answer.plan);
        proved += answer.plan->proved || cost == -1;
        impossible += least == -1;
        dw_arena_free(answer.arena);
        free(oracle);
    }
    print_message("proved %d of %d, %d impossible\n", proved, requests, impossible);
    assert_in_range(impossible, 1, requests / 4);
}

/* The checker's bound on what a sheet yields: never below the truth, and more often exact than above it. */
struct bounding {
    const struct dw_cut_request *request;
    const struct oracle *oracle;
    struct dw_arena *arena;
    const int64_t *u;
    int exact, above, below;
    int listed, wrong; /* exact values with pieces counted: of the optimizer and of the checker */
};

static bool has_stages(const struct dw_cut_request *request)
{
    return request->turns != 0 || request->first_cut >= 0;
}

/* The checker: more than the truth cannot be had, and more than one below it can. */
static void compare_checkers(struct bounding *it, const struct check *check, size_t s, int64_t truth)
{
    int64_t work = 100000000;
    const bool staged = has_stages(it->request);
    it->wrong += !staged && dwi_check_boxes(check, s, it->u, truth, &work) != DWI_CHECK_NO;
    it->wrong += truth > 0 && dwi_check_boxes(check, s, it->u, truth - 1, &work) != DWI_CHECK_YES;
}

/* A layout is worth what is said, fits its stock and holds no item oftener than wanted. */
static bool is_worth(const struct problem *problem, const struct pattern *pattern, const int64_t *u, int64_t value)
{
    const struct stock *stock = &problem->stocks[pattern->stock];
    const struct slice *root = &pattern->nodes[pattern->root];
    for (int i = 0; i < problem->item_count; i++) {
        value -= u[i] * pattern->counts[i];
        if (pattern->counts[i] > problem->items[i].count)
            return false;
    }
    return value == 0 && root->length <= stock->length && root->width <= stock->width;
}

/* The dearest set of a listing is the truth; where nothing is worth as much as was asked for, so is the truth. */
static bool lists_truth(const struct problem *problem, int s, const int64_t *u, int64_t least, int64_t truth, struct meter *meter,
                        struct dw_arena *arena)
{
    struct limited *limited = dwi_limited_new(problem, INT64_C(1) << 40, arena);
    if (limited == NULL || dwi_limited_value(limited, s, u, meter) < truth)
        return false;
    switch (dwi_limited_list(limited, s, least, meter, INT64_C(1) << 40)) {
    case LISTED_NONE: return truth < least;
    case LISTED_NOT: return false;
    case LISTED_SOME: break;
    }
    if (dwi_limited_most(limited) != truth)
        return false;
    for (size_t k = 0; k < dwi_limited_count(limited); k++) {
        const struct pattern *pattern = dwi_limited_pattern(limited, k, arena);
        int64_t worth = 0;
        for (int i = 0; i < problem->item_count; i++)
            worth += u[i] * pattern->counts[i];
        if (worth < least || worth > truth || !is_worth(problem, pattern, u, worth))
            return false;
    }
    return true;
}

/* Lists of sets give the truth where any stages will do. */
static void compare_sets(struct bounding *it, size_t s, int64_t truth)
{
    const bool staged = has_stages(it->request);
    const struct problem *problem = dwi_problem_make(it->request, it->arena);
    struct meter meter;
    dwi_meter_start(&meter, INT64_MAX, NULL);
    if ((size_t)problem->item_count != it->request->part_count)
        return; /* parts of one size have one value there */
    int64_t u[PARTS];
    for (size_t p = 0; p < it->request->part_count; p++)
        u[problem->item_of_part[p]] = it->u[p];
    for (int64_t least = truth > 3 ? truth - 3 : 1; !staged && least <= truth + 1; least += 2, it->listed++)
        it->wrong += !lists_truth(problem, (int)s, u, least, truth, &meter, it->arena);
}

static void bound_body(void *context)
{
    struct bounding *it = context;
    const struct check check = {.request = it->request, .arena = it->arena};
    for (size_t s = 0; s < check.request->sheet_count; s++) {
        int64_t work = 1000000;
        const int64_t bound = dwi_check_value(&check, s, it->u, &work);
        const int64_t truth = oracle_value(it->oracle, s, it->u);
        it->exact += bound == truth;
        it->above += bound > truth;
        it->below += bound < truth;
        compare_checkers(it, &check, s, truth);
        compare_sets(it, s, truth);
    }
}

static void test_checkers_value(void **state)
{
    (void)state;
    struct dice dice = {41};
    struct bounding it = {.arena = dw_arena_new()};
    for (int n = 0; n < (is_long() ? 3000 : 200); n++) {
        struct query query;
        tiny_query(&query, &dice);
        int64_t u[PARTS];
        for (size_t p = 0; p < PARTS; p++)
            u[p] = dice_range(&dice, 0, 9);
        struct oracle *oracle = oracle_make(&query.request);
        it.request = &query.request;
        it.oracle = oracle;
        it.u = u;
        assert_true(dw_arena_guard(it.arena, bound_body, &it));
        if (it.below > 0) {
            print_query(&query.request);
            fail_msg("a sheet can yield more than the checker's bound");
        }
        if (it.wrong > 0) {
            print_query(&query.request);
            fail_msg("sets of pieces and the oracle disagree");
        }
        free(oracle);
    }
    print_message("exact %d, above %d, listed %d\n", it.exact, it.above, it.listed);
    assert_true(it.listed > 50);
    assert_true(it.exact > it.above);
    dw_arena_free(it.arena);
}

/* The oracle itself, where the answer can be read off. Two squares of 5 on 10 x 5: with a kerf they need 11. Four
 * parts 3 x 2 round a middle of 1 x 1 fill 5 x 5, but no through cut begins that pinwheel: it takes two sheets. */
static void test_oracle_by_hand(void **state)
{
    (void)state;
    struct query query = {.request = {.part_count = 1, .sheet_count = 1, .first_cut = -1}};
    query_link(&query);
    query.parts[0] = (struct dw_cut_part){.length = 5, .width = 5, .count = 2};
    query.sheets[0] = (struct dw_cut_sheet){.length = 10, .width = 5, .price = 7, .count = -1};
    struct oracle *oracle = oracle_make(&query.request);
    assert_int_equal(oracle_cost(oracle), 7);
    free(oracle);
    query.request.kerf = 1;
    oracle = oracle_make(&query.request);
    assert_int_equal(oracle_cost(oracle), 14);
    free(oracle);
    query.request.kerf = 0;
    query.request.part_count = 2;
    query.parts[0] = (struct dw_cut_part){.length = 3, .width = 2, .count = 4, .turn = true};
    query.parts[1] = (struct dw_cut_part){.length = 1, .width = 1, .count = 1};
    query.sheets[0] = (struct dw_cut_sheet){.length = 5, .width = 5, .price = 1, .count = -1};
    oracle = oracle_make(&query.request);
    assert_int_equal(oracle_cost(oracle), 2);
    free(oracle);
}

/* Middling: up to 12 kinds on sheets of about 4 x 8 ft in sixteenths, with counts; solved in a short while. */
static void middling_query(struct query *query, struct dice *dice)
{
    *query = (struct query){.request = {.first_cut = -1, .kerf = 2 * dice_range(dice, 0, 1), .work = 60000}};
    struct dw_cut_request *request = &query->request;
    request->sheet_count = (size_t)dice_range(dice, 1, 2);
    for (size_t s = 0; s < request->sheet_count; s++)
        query->sheets[s] = (struct dw_cut_sheet){.length = s == 0 ? 1536 : 960, .width = s == 0 ? 768 : 960,
                                                 .price = s == 0 ? 6800 : 5400, .value = 5000, .count = -1};
    request->part_count = (size_t)dice_range(dice, 1, 8);
    for (size_t p = 0; p < request->part_count; p++)
        query->parts[p] = (struct dw_cut_part){.length = 8 * dice_range(dice, 8, 90), .width = 8 * dice_range(dice, 6, 40),
                                               .count = dice_range(dice, 1, 6), .turn = dice_one_in(dice, 2)};
    query_link(query);
}

/* Two costs of the same problem seen differently: equal where both are proved, and neither below the other's bound. */
static void check_same(const struct query *one, const struct query *other, const char *law)
{
    const struct answer a = solve(&one->request);
    const struct answer b = solve(&other->request);
    const bool agree = a.plan->lower_bound <= b.plan->cost && b.plan->lower_bound <= a.plan->cost &&
                       (!a.plan->proved || !b.plan->proved || a.plan->cost == b.plan->cost);
    if (!agree) {
        print_query(&one->request);
        print_query(&other->request);
        fail_msg("%s: costs %lld and %lld, bounds %lld and %lld", law, (long long)a.plan->cost, (long long)b.plan->cost,
                 (long long)a.plan->lower_bound, (long long)b.plan->lower_bound);
    }
    dw_arena_free(a.arena);
    dw_arena_free(b.arena);
}

static void copy_query(struct query *to, const struct query *from)
{
    *to = *from;
    query_link(to);
}

static void permute(struct query *query, struct dice *dice)
{
    for (size_t p = query->request.part_count; p > 1; p--) {
        const size_t at = (size_t)dice_range(dice, 0, (int64_t)p - 1);
        const struct dw_cut_part part = query->parts[p - 1];
        query->parts[p - 1] = query->parts[at];
        query->parts[at] = part;
    }
    const struct dw_cut_sheet sheet = query->sheets[0];
    query->sheets[0] = query->sheets[query->request.sheet_count - 1];
    query->sheets[query->request.sheet_count - 1] = sheet;
}

/* Length for width, everywhere. */
static void mirror(struct query *query)
{
    for (size_t p = 0; p < query->request.part_count; p++) {
        const dw_length length = query->parts[p].length;
        query->parts[p].length = query->parts[p].width;
        query->parts[p].width = length;
    }
    for (size_t s = 0; s < query->request.sheet_count; s++) {
        const dw_length length = query->sheets[s].length;
        query->sheets[s].length = query->sheets[s].width;
        query->sheets[s].width = length;
    }
}

static void scale(struct query *query, int64_t by)
{
    query->request.kerf *= by;
    for (size_t p = 0; p < query->request.part_count; p++) {
        query->parts[p].length *= by;
        query->parts[p].width *= by;
    }
    for (size_t s = 0; s < query->request.sheet_count; s++) {
        query->sheets[s].length *= by;
        query->sheets[s].width *= by;
    }
}

static void split_counts(struct query *query)
{
    for (size_t p = query->request.part_count; p > 0; p--) {
        if (query->parts[p - 1].count < 2)
            continue;
        query->parts[query->request.part_count] = query->parts[p - 1];
        query->parts[query->request.part_count++].count = 1;
        query->parts[p - 1].count -= 1;
    }
}

static void test_laws(void **state)
{
    (void)state;
    struct dice dice = {77};
    const int requests = is_long() ? 100 : 4;
    for (int n = 0; n < requests; n++) {
        struct query query, other;
        middling_query(&query, &dice);
        copy_query(&other, &query);
        permute(&other, &dice);
        check_same(&query, &other, "permute");
        copy_query(&other, &query);
        mirror(&other);
        check_same(&query, &other, "mirror");
        copy_query(&other, &query);
        scale(&other, 25400);
        check_same(&query, &other, "scale");
        copy_query(&other, &query);
        split_counts(&other);
        check_same(&query, &other, "split a count in two");
        copy_query(&other, &query);
        other.sheets[other.request.sheet_count++] = (struct dw_cut_sheet){.length = 8, .width = 8, .price = 1, .count = -1};
        check_same(&query, &other, "add a useless sheet");
    }
}

/* On tiny requests, where solve is exact, one more part never costs less and one less never more. */
static void test_more_parts_never_cost_less(void **state)
{
    (void)state;
    struct dice dice = {5};
    for (int n = 0; n < (is_long() ? 1000 : 100);) {
        struct query query;
        tiny_query(&query, &dice);
        if (!is_sound(&query.request) || query.request.part_count < 2)
            continue;
        n++;
        const dw_money more = solved_cost(&query.request);
        query.request.part_count--;
        const dw_money less = solved_cost(&query.request);
        if (more >= 0 && (less < 0 || less > more)) {
            print_query(&query.request);
            fail_msg("with a part less: %lld and not %lld", (long long)less, (long long)more);
        }
    }
}

/* Any request at all: sizes from crumbs to walls, spread wide, counts up to some hundred. */
static void any_query(struct query *query, struct dice *dice)
{
    *query = (struct query){.request = {.first_cut = -1}};
    struct dw_cut_request *request = &query->request;
    const dw_length most = dice_one_in(dice, 3) ? 30 : dice_one_in(dice, 2) ? 2000 : DW_LENGTH_MAX / 4;
    request->turns = (int)dice_range(dice, 1, 3) % 3 == 0 ? 3 : dice_one_in(dice, 2) ? 2 : 0;
    request->first_cut = (int)dice_range(dice, -1, 1);
    request->kerf = dice_range(dice, 0, most / 100);
    request->keep = (struct dw_cut_keep){dice_range(dice, 0, most / 4), dice_range(dice, 0, most / 8)};
    request->work = dice_range(dice, 1, 3000);
    request->seed = dice_next(dice);
    request->sheet_count = (size_t)dice_range(dice, 1, SHEETS);
    for (size_t s = 0; s < request->sheet_count; s++) {
        struct dw_cut_sheet *sheet = &query->sheets[s];
        *sheet = (struct dw_cut_sheet){.length = dice_range(dice, most / 3, most), .width = dice_range(dice, most / 3, most)};
        sheet->trim[dice_range(dice, 0, 3)] = dice_range(dice, 0, most / 50);
        sheet->price = dice_one_in(dice, 9) ? 0 : dice_range(dice, 1, 9999);
        sheet->value = dice_range(dice, 1, 9999);
        sheet->count = dice_one_in(dice, 3) ? dice_range(dice, 0, 9) : -1;
    }
    request->part_count = (size_t)dice_range(dice, 1, PARTS);
    for (size_t p = 0; p < request->part_count; p++) {
        const dw_length widest = dice_one_in(dice, 2) ? most / 2 : most / 8 + 1;
        query->parts[p] = (struct dw_cut_part){.length = dice_range(dice, 1, widest), .width = dice_range(dice, 1, widest),
                                               .count = dice_one_in(dice, 4) ? dice_range(dice, 1, 200) : 1,
                                               .turn = dice_one_in(dice, 2)};
    }
    query_link(query);
}

/* Sheets that cost nothing and hold nothing of value: what they yield is 0, not less. (Drawn at random once.) */
static void test_sheets_of_no_value(void **state)
{
    (void)state;
    static const int64_t sheets[][4] = {{12, 26, 0, -1}, {10, 10, 0, -1}, {28, 15, 974, -1}, {16, 24, 3248, 6}, {28, 12, 9877, -1}};
    static const int64_t parts[][4] = {{4, 5, 165, 0},  {8, 8, 21, 0},  {6, 7, 1, 1},   {2, 1, 1, 0},   {10, 6, 1, 1},
                                       {3, 2, 1, 1},    {9, 13, 121, 0}, {3, 1, 1, 1},   {2, 4, 1, 1},   {15, 7, 1, 0},
                                       {2, 4, 1, 0},    {4, 4, 1, 0},   {3, 4, 152, 1}, {10, 10, 1, 1}, {4, 3, 1, 1},
                                       {7, 6, 46, 0},   {3, 2, 1, 1},   {10, 13, 1, 1}, {14, 14, 1, 1}};
    struct query query = {.request = {.first_cut = 0, .seed = UINT64_C(12960522992904780374), .work = 1909, .sheet_count = 5, .part_count = 19}};
    query_link(&query);
    for (size_t s = 0; s < query.request.sheet_count; s++)
        query.sheets[s] = (struct dw_cut_sheet){.length = sheets[s][0], .width = sheets[s][1], .price = sheets[s][2], .count = sheets[s][3]};
    for (size_t p = 0; p < query.request.part_count; p++)
        query.parts[p] = (struct dw_cut_part){parts[p][0], parts[p][1], parts[p][2], parts[p][3] != 0};
    for (query.request.work = 500; query.request.work <= 20000; query.request.work += query.request.work / 8)
        assert_true(solved_cost(&query.request) >= 0);
}

static void test_random_requests(void **state)
{
    (void)state;
    const int requests = is_long() ? 10000 : 150;
    struct dice dice = {99};
    int plans = 0;
    for (int n = 0; n < requests;) {
        struct query query;
        any_query(&query, &dice);
        if (!is_sound(&query.request))
            continue;
        n++;
        plans += solved_cost(&query.request) >= 0;
    }
    print_message("%d plans for %d requests\n", plans, requests);
    assert_true(plans > requests / 3);
}

static bool same_nodes(const struct dw_cut_node *a, const struct dw_cut_node *b)
{
    if (a->x != b->x || a->y != b->y || a->length != b->length || a->width != b->width || a->use != b->use)
        return false;
    if (a->use == DW_NODE_PART)
        return a->part == b->part && a->turned == b->turned;
    if (a->use != DW_NODE_CUT)
        return true;
    bool same = a->cut == b->cut && a->piece_count == b->piece_count;
    for (size_t i = 0; same && i < a->piece_count; i++)
        same = same_nodes(&a->pieces[i], &b->pieces[i]);
    return same;
}

static bool same_plans(const struct dw_cut_plan *a, const struct dw_cut_plan *b)
{
    bool same = a->outcome == b->outcome && a->cost == b->cost && a->lower_bound == b->lower_bound && a->proved == b->proved &&
                a->work_done == b->work_done && a->layout_count == b->layout_count &&
                a->certificate_count == b->certificate_count;
    for (size_t l = 0; same && l < a->layout_count; l++)
        same = a->layouts[l].sheet == b->layouts[l].sheet && a->layouts[l].times == b->layouts[l].times &&
               same_nodes(&a->layouts[l].root, &b->layouts[l].root);
    return same;
}

/* The same request and seed give the same plan, with one thread and with two. */
static void test_repeats(void **state)
{
    (void)state;
    struct dice dice = {3};
    for (int n = 0; n < (is_long() ? 100 : 8); n++) {
        struct query query;
        middling_query(&query, &dice);
        query.request.seed = (uint64_t)n;
        const struct answer one = solve(&query.request);
        query.request.threads = 2;
        const struct answer two = solve(&query.request);
        if (!same_plans(one.plan, two.plan)) {
            print_query(&query.request);
            fail_msg("two runs differ");
        }
        dw_arena_free(one.arena);
        dw_arena_free(two.arena);
    }
}

/* Sides of a drawer by the count on the sheet: 48 x 96 in trimmed 1/4 each edge to 47-1/2 x 95-1/2, kerf 1/8, sides
 * 4-1/2 x 16 along the grain: 10 across, (10 x 4-5/8 - 1/8 = 46-1/8), 5 along (5 x 16-1/8 - 1/8 = 80-1/2), so 50 on a
 * sheet; 60 without kerf and trim (10 x 6). */
static void test_fifty_sides(void **state)
{
    (void)state;
    struct query query = {.request = {.part_count = 1, .sheet_count = 1, .kerf = DW_INCH / 8, .first_cut = -1, .work = 500000}};
    query_link(&query);
    query.parts[0] = (struct dw_cut_part){.length = 16 * DW_INCH, .width = 9 * DW_INCH / 2, .count = 50};
    const dw_length quarter = DW_INCH / 4;
    query.sheets[0] = (struct dw_cut_sheet){.length = 96 * DW_INCH, .width = 48 * DW_INCH, .price = 6800, .value = 6800,
                                            .trim = {quarter, quarter, quarter, quarter}, .count = -1};
    assert_int_equal(solved_cost(&query.request), 6800);
    query.parts[0].count = 51;
    const struct answer answer = solve(&query.request);
    assert_int_equal(answer.plan->cost, 2 * 6800);
    assert_true(answer.plan->proved);
    dw_arena_free(answer.arena);
    query.parts[0].count = 60;
    query.request.kerf = 0;
    memset(query.sheets[0].trim, 0, sizeof query.sheets[0].trim);
    assert_int_equal(solved_cost(&query.request), 6800);
}

/* The job that docs/cutting.md works by hand: sheets A 10 x 6 at 10 and B 6 x 6 at 7, three parts a 4 x 4 and four b
 * 6 x 3. Valued at their areas, A yields 52 and B 36; valued at 2 and 1, A yields 4 and B 2; nothing under 27 will do. */
static void example_body(void *context)
{
    const struct bounding *it = context;
    const struct check check = {.request = it->request, .arena = it->arena};
    int64_t work = 1000000;
    const int64_t areas[2] = {16, 18}, counts[2] = {2, 1};
    assert_int_equal(dwi_check_value(&check, 0, areas, &work), 52);
    assert_int_equal(dwi_check_value(&check, 1, areas, &work), 36);
    assert_int_equal(dwi_check_value(&check, 0, counts, &work), 4);
    assert_int_equal(dwi_check_value(&check, 1, counts, &work), 2);
}

static void test_documented_example(void **state)
{
    (void)state;
    struct query query = {.request = {.part_count = 2, .sheet_count = 2, .first_cut = -1, .work = 500000}};
    query_link(&query);
    query.parts[0] = (struct dw_cut_part){.length = 4, .width = 4, .count = 3};
    query.parts[1] = (struct dw_cut_part){.length = 6, .width = 3, .count = 4};
    query.sheets[0] = (struct dw_cut_sheet){.length = 10, .width = 6, .price = 10, .value = 10, .count = -1};
    query.sheets[1] = (struct dw_cut_sheet){.length = 6, .width = 6, .price = 7, .value = 7, .count = -1};
    struct bounding it = {.request = &query.request, .arena = dw_arena_new()};
    assert_true(dw_arena_guard(it.arena, example_body, &it));
    dw_arena_free(it.arena);
    const struct answer answer = solve(&query.request);
    assert_int_equal(answer.plan->cost, 27);
    assert_true(answer.plan->proved);
    dw_arena_free(answer.arena);
}

/* Two parts of half a sheet, one upright and one lying: by area one sheet would do, and by two of the same on one sheet as well. Each is wanted
 * once, so it takes two, and that is proved. */
static void test_each_part_once(void **state)
{
    (void)state;
    struct query query = {.request = {.part_count = 2, .sheet_count = 1, .first_cut = -1, .work = 100000}};
    query_link(&query);
    query.parts[0] = (struct dw_cut_part){.length = 5, .width = 10, .count = 1};
    query.parts[1] = (struct dw_cut_part){.length = 10, .width = 5, .count = 1};
    query.sheets[0] = (struct dw_cut_sheet){.length = 10, .width = 10, .price = 30, .value = 30, .count = -1};
    const struct answer answer = solve(&query.request);
    assert_int_equal(answer.plan->cost, 60);
    assert_true(answer.plan->proved);
    dw_arena_free(answer.arena);
}

/* Whatever allocation fails, solve says so and gives no plan. The steps widen, for there are many. */
static void test_solve_without_memory(void **state)
{
    (void)state;
    struct dice dice = {8};
    struct query query;
    middling_query(&query, &dice);
    query.request.work = 3000;
    enum dw_status status = DW_SURROUNDINGS;
    for (size_t n = 1; status != DW_DONE; n += 1 + n / 8) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        const struct dw_cut_plan *plan = NULL;
        dw_memory_fail_at(n);
        status = dw_cut_solve(&query.request, NULL, arena, faults, &plan);
        dw_memory_fail_at(0);
        assert_true(status == DW_DONE || (status == DW_SURROUNDINGS && plan == NULL));
        assert_int_equal(faults->status, status);
        dw_faults_free(faults);
        dw_arena_free(arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_oracle_by_hand),   cmocka_unit_test(test_checkers_value), cmocka_unit_test(test_fifty_sides),
        cmocka_unit_test(test_solve_equals_oracle), cmocka_unit_test(test_laws),
        cmocka_unit_test(test_more_parts_never_cost_less), cmocka_unit_test(test_repeats), cmocka_unit_test(test_documented_example),
        cmocka_unit_test(test_each_part_once),
        cmocka_unit_test(test_solve_without_memory), cmocka_unit_test(test_sheets_of_no_value),
        cmocka_unit_test(test_random_requests),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
