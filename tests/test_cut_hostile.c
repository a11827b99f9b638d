/* test_cut_hostile.c - requests that mean no well: every one is answered, with a checked plan or a reason, and within a few
 * times the work allowed. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <cmocka.h>

#include <drawerwright/cutting.h>
#include <drawerwright/memory.h>

#include "dice.h"

enum { PARTS = 1000000, SHEETS = 1000 };

struct hostile {
    struct dice dice;
    struct dw_cut_part *parts; /* PARTS of them */
    struct dw_cut_sheet *sheets;
    struct dw_cut_request request;
};

/* One sheet of 96 x 48 in, no part yet. */
static void hostile_start(struct hostile *it)
{
    it->dice.state = 7;
    it->request = (struct dw_cut_request){.parts = it->parts, .sheets = it->sheets, .sheet_count = 1, .first_cut = -1, .work = 100000};
    it->sheets[0] = (struct dw_cut_sheet){.length = 96 * DW_INCH, .width = 48 * DW_INCH, .price = 6800, .value = 6800, .count = -1};
}

/* `count` kinds of random size from `least` to the limits, in steps. */
static void random_parts(struct hostile *it, size_t count, dw_length step, int64_t longest, int64_t widest, int64_t pieces)
{
    it->request.part_count = count;
    for (size_t p = 0; p < count; p++)
        it->parts[p] = (struct dw_cut_part){.length = dice_range(&it->dice, 16, longest) * step, .width = dice_range(&it->dice, 16, widest) * step,
                                            .count = pieces, .turn = dice_one_in(&it->dice, 2)};
}

static void many_kinds(struct hostile *it)
{
    random_parts(it, 30000, 1, 30 * DW_INCH, 10 * DW_INCH, 1);
}

static void coprime(struct hostile *it)
{
    it->request.kerf = 50801; /* a prime number of units */
    random_parts(it, 50, 16001, 700, 250, 1000);
}

static void crumbs(struct hostile *it)
{
    it->request.part_count = 1;
    it->parts[0] = (struct dw_cut_part){.length = DW_INCH / 16, .width = DW_INCH / 16, .count = 300000, .turn = true};
}

static void crumbs_and_a_wall(struct hostile *it)
{
    it->request.part_count = 2;
    it->parts[0] = (struct dw_cut_part){.length = 1, .width = 1, .count = 100000};
    it->parts[1] = (struct dw_cut_part){.length = 96 * DW_INCH, .width = 48 * DW_INCH, .count = 1};
}

static void powers_of_two(struct hostile *it)
{
    it->request.part_count = 30;
    for (int p = 0; p < 30; p++)
        it->parts[p] = (struct dw_cut_part){.length = INT64_C(1) << dice_range(&it->dice, 0, 24),
                                            .width = INT64_C(1) << dice_range(&it->dice, 0, 23), .count = p + 1, .turn = true};
}

static void thousand_sheets(struct hostile *it)
{
    it->request.sheet_count = SHEETS;
    for (size_t s = 0; s < SHEETS; s++)
        it->sheets[s] = (struct dw_cut_sheet){.length = dice_range(&it->dice, 20, 100) * DW_INCH, .width = dice_range(&it->dice, 20, 60) * DW_INCH,
                                              .price = dice_range(&it->dice, 1, 9999), .count = dice_range(&it->dice, -1, 5)};
    random_parts(it, 200, DW_INCH / 16, 300, 200, 3);
}

static void cheap_sheets(struct hostile *it)
{
    it->request.sheet_count = 40;
    for (size_t s = 0; s < 40; s++)
        it->sheets[s] = (struct dw_cut_sheet){.length = (40 + (dw_length)s) * DW_INCH, .width = (40 + (dw_length)s) * DW_INCH, .price = 1, .count = -1};
    random_parts(it, 200, DW_INCH / 16, 300, 200, 3);
}

static void two_stages(struct hostile *it)
{
    it->request.turns = 2;
    it->request.first_cut = DW_RIP;
    it->request.kerf = DW_INCH / 8;
    random_parts(it, 2000, DW_INCH / 16, 300, 200, 10);
}

static void needles(struct hostile *it)
{
    it->sheets[0].length = it->sheets[0].width = DW_LENGTH_MAX;
    random_parts(it, 100, 1, DW_LENGTH_MAX, 1000, 1);
}

static void unit_sheets(struct hostile *it)
{
    it->request.part_count = 1;
    it->parts[0] = (struct dw_cut_part){.length = 1, .width = 1, .count = 1000000};
    it->sheets[0].length = it->sheets[0].width = 1;
}

static void too_few_sheets(struct hostile *it)
{
    it->sheets[0].count = 1;
    random_parts(it, 40, DW_INCH / 16, 600, 300, 2);
}

static const struct {
    const char *name;
    void (*make)(struct hostile *it);
    enum dw_cut_outcome outcome;
} CASES[] = {
    {"thirty thousand kinds", many_kinds, DW_CUT_PLAN},
    {"coprime sizes, 50 000 pieces", coprime, DW_CUT_PLAN},
    {"300 000 crumbs on a sheet", crumbs, DW_CUT_PLAN},
    {"crumbs and a wall", crumbs_and_a_wall, DW_CUT_PLAN},
    {"powers of two", powers_of_two, DW_CUT_PLAN},
    {"a thousand sheet sizes", thousand_sheets, DW_CUT_PLAN},
    {"forty sizes at a cent", cheap_sheets, DW_CUT_PLAN},
    {"two stages, 20 000 pieces", two_stages, DW_CUT_PLAN},
    {"needles on a field", needles, DW_CUT_PLAN},
    {"a million sheets", unit_sheets, DW_CUT_PLAN},
    {"more parts than the sheets can hold", too_few_sheets, DW_CUT_IMPOSSIBLE},
};

static void test_hostile_requests(void **state)
{
    (void)state;
    struct hostile it = {.parts = calloc(PARTS, sizeof *it.parts), .sheets = calloc(SHEETS, sizeof *it.sheets)};
    for (size_t c = 0; c < sizeof CASES / sizeof CASES[0]; c++) {
        hostile_start(&it);
        CASES[c].make(&it);
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        const struct dw_cut_plan *plan = NULL;
        const clock_t before = clock();
        const enum dw_status status = dw_cut_solve(&it.request, NULL, arena, faults, &plan);
        const double seconds = (double)(clock() - before) / CLOCKS_PER_SEC;
        print_message("%-36s %6.2f s, %zu MB\n", CASES[c].name, seconds, dw_arena_held(arena) >> 20);
        for (size_t f = 0; f < faults->count; f++)
            print_error("%s at %s: %s\n", faults->at[f].code, faults->at[f].address, faults->at[f].wrong);
        assert_int_equal(status, DW_DONE);
        assert_int_equal(plan->outcome, CASES[c].outcome);
        assert_true(seconds < 60); /* a tenth of a second is allowed; sanitizers and -O0 take their share */
        dw_faults_free(faults);
        dw_arena_free(arena);
    }
    free(it.parts);
    free(it.sheets);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_hostile_requests)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
