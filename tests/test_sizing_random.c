/* test_sizing_random.c - what holds for every bank: nothing of the opening is lost or found, figuring gives its figure again,
 * units, mirrors and order of cases make no difference. 2 000 random banks; 100 000 with DW_LONG set in the environment.
 */
#include "sizing_bench.h"
#include "sizing_checks.h"

/* A generator of its own, so that every machine tries the same banks (xorshift: George Marsaglia, "Xorshift RNGs", 2003). */
static uint64_t next_random(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return *seed;
}

static int64_t pick(uint64_t *seed, int64_t from, int64_t to)
{
    return from + (int64_t)(next_random(seed) % (uint64_t)(to - from + 1));
}

/* A length from `from` to `to` sixteenths, sometimes a few units off any step. */
static dw_length some_length(uint64_t *seed, int64_t from, int64_t to)
{
    return pick(seed, from, to) * (DW_INCH / 16) + (pick(seed, 0, 3) == 0 ? pick(seed, -900, 900) : 0);
}

static void random_height(uint64_t *seed, struct dw_height *height)
{
    switch (pick(seed, 0, 6)) {
    case 0:
        *height = (struct dw_height){.rule = DW_HEIGHT_FIXED, .length = some_length(seed, 48, 128)};
        break;
    case 1:
        *height = (struct dw_height){.rule = DW_HEIGHT_SYSTEM_32, .modules = pick(seed, 3, 6)};
        break;
    case 2:
        *height = (struct dw_height){.rule = DW_HEIGHT_INSIDE, .length = some_length(seed, 16, 80)};
        break;
    default:
        *height = (struct dw_height){.rule = DW_HEIGHT_SHARE, .weight = pick(seed, 1, 3)};
        break;
    }
}

static void random_fit(uint64_t *seed, struct dw_fit *fit)
{
    static const enum dw_fit_kind kinds[] = {DW_INSET, DW_OVERLAY, DW_FULL_OVERLAY, DW_HALF_OVERLAY, DW_LIPPED};
    *fit = (struct dw_fit){.kind = kinds[pick(seed, 0, 4)], .lip = in("3/8")};
    for (int edge = DW_TOP; edge < DW_EDGES; edge++)
        fit->overlay[edge] = some_length(seed, 2, 5);
}

static void random_rail(uint64_t *seed, struct dw_rail *rail)
{
    static const enum dw_rail_kind kinds[] = {DW_RAIL_NONE, DW_RAIL_NONE, DW_RAIL_REAL, DW_RAIL_DUMMY};
    *rail = (struct dw_rail){.kind = kinds[pick(seed, 0, 3)], .height = some_length(seed, 14, 32),
                             .cover_above = DW_LENGTH_UNSET, .cover_below = DW_LENGTH_UNSET};
    if (pick(seed, 0, 7) == 0)
        rail->cover_above = some_length(seed, 1, 6);
}

static void random_bank(struct bench *bench, uint64_t *seed)
{
    static const enum dw_freed freed[] = {DW_FREED_BY_HABIT, DW_FREED_BY_HABIT, DW_FREED_GAPS, DW_FREED_ENDS, DW_FREED_BOTTOM_FRONT};
    const size_t count = (size_t)pick(seed, 1, 8);
    bench_fill(bench, count, DW_INSET);
    bench->cases[0].width = some_length(seed, 200, 600);
    bench->cases[0].height = some_length(seed, 60 + 90 * (int64_t)count, 120 + 140 * (int64_t)count);
    bench->cases[0].depth = some_length(seed, 240, 500);
    bench->cases[0].left = (enum dw_beside)pick(seed, 0, 2);
    bench->banks[0].gap = some_length(seed, 0, 3);
    if (bench->banks[0].gap < 0)
        bench->banks[0].gap = 0;
    bench->banks[0].freed = freed[pick(seed, 0, 4)];
    for (size_t i = 0; i < count; i++) {
        struct dw_drawer *drawer = &bench->drawers[i];
        random_height(seed, &drawer->height);
        random_fit(seed, &drawer->fit);
        random_rail(seed, &drawer->rail_below);
        drawer->fill = pick(seed, 0, 9) == 0 ? (enum dw_fill)pick(seed, 1, 3) : DW_FILL_DRAWER;
    }
}

/* ---- nothing lost, nothing found ------------------------------------------------------------------------------------------ */

/* Fronts that share alike come out alike, unless one of them took what rounding freed. */
static void check_equals(const struct dw_sized_bank *bank)
{
    const bool to_front = strstr(bank->freed, "given to") != NULL;
    for (size_t i = 0; i < bank->drawer_count; i++)
        for (size_t k = i + 1; k < bank->drawer_count && !to_front; k++)
            if (bank->bank->drawers[i].height.rule == DW_HEIGHT_SHARE && bank->bank->drawers[k].height.rule == DW_HEIGHT_SHARE &&
                bank->bank->drawers[i].height.weight == bank->bank->drawers[k].height.weight)
                assert_int_equal(bank->drawers[i].front_height.value, bank->drawers[k].front_height.value);
}

static void test_random_banks(void **state)
{
    (void)state;
    const size_t wanted = getenv("DW_LONG") != NULL ? 100000 : 2000;
    uint64_t seed = 20260401;
    size_t sized = 0;
    size_t tried = 0;
    for (; sized < wanted && tried < 20 * wanted; tried++) {
        struct bench *bench = bench_new(DW_IN);
        random_bank(bench, &seed);
        const enum dw_status status = dw_size(&bench->job, bench->arena, bench->faults, &bench->sizing);
        assert_true(status == DW_DONE || status == DW_IMPOSSIBLE);
        assert_true(status == DW_DONE || bench->faults->errors > 0);
        if (status == DW_DONE) {
            const struct dw_sized_bank *bank = bench_bank(bench, 0);
            bench_check_sizing(bench->sizing);
            check_chain(bank);
            check_widths(bank);
            check_equals(bank);
            for (size_t i = 0; i < bank->drawer_count; i++) {
                const struct dw_sized_drawer *drawer = &bank->drawers[i];
                check_box(drawer);
                if (drawer->drawer->fill == DW_FILL_DRAWER) /* sides of 1/2 in */
                    assert_int_equal(drawer->inside_width.value, drawer->box_width.value - DW_INCH);
            }
            sized++;
        }
        bench_free(bench);
    }
    assert_int_equal(sized, wanted);
}

/* ---- what no shop would ask ------------------------------------------------------------------------------------------------- */

/* A length from the ends of what a job may hold. */
static dw_length odd_length(uint64_t *seed)
{
    static const dw_length odd[] = {0, 1, 3175, DW_INCH, 7 * DW_MM + 1, 50 * DW_INCH, DW_LENGTH_MAX};
    return odd[pick(seed, 0, 6)];
}

/* A random bank whose lengths are then struck by odd ones. */
static void hostile_bank(struct bench *bench, uint64_t *seed)
{
    dw_length readings[2] = {odd_length(seed) + 1, odd_length(seed) + 1};
    random_bank(bench, seed);
    dw_length *const struck[] = {&bench->cases[0].width,          &bench->cases[0].height,           &bench->cases[0].depth,
                                 &bench->cases[0].side,           &bench->cases[0].partition,        &bench->banks[0].gap,
                                 &bench->drawers[0].rail_below.height, &bench->drawers[0].fit.overlay[DW_TOP],
                                 &bench->slides[BENCH_SIDE].clearance, &bench->slides[BENCH_SIDE].above, &bench->slides[BENCH_SIDE].rear,
                                 &bench->materials[BENCH_PLY_1_4].thickness, &bench->drawers[1].box.height, &bench->drawers[0].height.length,
                                 &bench->job.shop.habits.box_step, &bench->job.shop.habits.box_height_step, &bench->job.shop.habits.gap_grow};
    for (int n = 0; n < 3; n++)
        *struck[pick(seed, 0, (int64_t)(sizeof struck / sizeof *struck) - 1)] = odd_length(seed);
    bench->materials[BENCH_PLY_1_4].stiffness = pick(seed, 0, 1) * pick(seed, 1, 9000000000);
    bench->cases[0].clothing = bench->cases[0].free_standing = true;
    bench->cases[0].bank_count = (size_t)pick(seed, 1, 2);
    bench->banks[1].drawer_count = bench->banks[0].drawer_count;
    if (pick(seed, 0, 3) == 0) {
        memcpy(bench->readings[0], readings, sizeof readings);
        bench->cases[0].opening_width = bench->cases[0].opening_diagonals = (struct dw_readings){.at = bench->readings[0], .count = 2};
    }
}

/* Whatever is asked, the answer is sizes that add up or faults, never a crash or an overflow. */
static void test_hostile_banks(void **state)
{
    (void)state;
    uint64_t seed = 20260402;
    const size_t count = getenv("DW_LONG") != NULL ? 100000 : 2000;
    size_t refused = 0;
    for (size_t n = 0; n < count; n++) {
        struct bench *bench = bench_new(pick(&seed, 0, 1) == 0 ? DW_IN : DW_MILLIMETER);
        hostile_bank(bench, &seed);
        const enum dw_status status = dw_size(&bench->job, bench->arena, bench->faults, &bench->sizing);
        assert_true(status == DW_DONE || status == DW_IMPOSSIBLE || status == DW_INPUT);
        assert_true((status == DW_DONE) == (bench->faults->errors == 0));
        refused += status == DW_DONE ? 0 : 1;
        if (status == DW_DONE) {
            bench_check_sizing(bench->sizing);
            check_chain(bench_bank(bench, 0));
        }
        bench_free(bench);
    }
    assert_true(refused > count / 4 && refused < count);
}

/* ---- what must make no difference -------------------------------------------------------------------------------------------- */

static void expect_same_sizes(const struct dw_sized_bank *one, const struct dw_sized_bank *other)
{
    assert_int_equal(one->drawer_count, other->drawer_count);
    for (size_t i = 0; i < one->drawer_count; i++) {
        const struct dw_sized_drawer *a = &one->drawers[i];
        const struct dw_sized_drawer *b = &other->drawers[i];
        assert_int_equal(a->front_height.value, b->front_height.value);
        assert_int_equal(a->front_width.value, b->front_width.value);
        assert_int_equal(a->gap_below, b->gap_below);
        assert_int_equal(a->box_width.value, b->box_width.value);
        assert_int_equal(a->box_height.value, b->box_height.value);
        assert_int_equal(a->box_depth.value, b->box_depth.value);
        assert_int_equal(a->slide_center.value, b->slide_center.value);
    }
}

/* The same case asked for in millimeters: sizes are the same to the last unit, only the words change. */
static void test_units_agree(void **state)
{
    (void)state;
    uint64_t seed = 77;
    for (int n = 0; n < 200; n++) {
        struct bench *inch = bench_new(DW_IN);
        struct bench *metric = bench_new(DW_MILLIMETER);
        uint64_t twin = seed;
        random_bank(inch, &seed);
        random_bank(metric, &twin);
        const enum dw_status one = dw_size(&inch->job, inch->arena, inch->faults, &inch->sizing);
        const enum dw_status other = dw_size(&metric->job, metric->arena, metric->faults, &metric->sizing);
        assert_int_equal(one, other);
        assert_int_equal(inch->faults->count, metric->faults->count);
        if (one == DW_DONE)
            expect_same_sizes(bench_bank(inch, 0), bench_bank(metric, 0));
        bench_free(inch);
        bench_free(metric);
    }
}

/* A case written in inches and the same in millimeters. */
static void test_written_in_either_unit(void **state)
{
    (void)state;
    struct bench *inch = bench_new(DW_IN);
    struct bench *metric = bench_new(DW_MILLIMETER);
    bench_opening(inch, "15", "24 1/2", "21 1/4");
    bench_opening(metric, "381 mm", "622.3 mm", "53.975cm");
    bench_fill(inch, 4, DW_INSET);
    bench_fill(metric, 4, DW_INSET);
    bench_size(inch);
    bench_size(metric);
    expect_same_sizes(bench_bank(inch, 0), bench_bank(metric, 0));
    bench_free(inch);
    bench_free(metric);
}

/* Two banks of one random stack, the second perhaps shorter; together in `bench`. */
static void two_random_banks(struct bench *bench, uint64_t *seed)
{
    random_bank(bench, seed);
    bench->cases[0].width += in("20");
    bench->cases[0].right = (enum dw_beside)pick(seed, 0, 2);
    bench->cases[0].bank_count = 2;
    bench->banks[1] = bench->banks[0];
    bench->banks[0].width_share = pick(seed, 1, 3);
    bench->banks[1].drawer_count = (size_t)pick(seed, 1, (int64_t)bench->banks[0].drawer_count);
}

/* The same, left for right. */
static void mirror(const struct bench *bench, struct bench *mirrored)
{
    memcpy(mirrored->drawers, bench->drawers, sizeof mirrored->drawers);
    for (size_t i = 0; i < BENCH_DRAWERS; i++) {
        mirrored->drawers[i].fit.overlay[DW_LEFT] = bench->drawers[i].fit.overlay[DW_RIGHT];
        mirrored->drawers[i].fit.overlay[DW_RIGHT] = bench->drawers[i].fit.overlay[DW_LEFT];
    }
    mirrored->cases[0] = bench->cases[0];
    mirrored->cases[0].banks = mirrored->banks;
    mirrored->cases[0].left = bench->cases[0].right;
    mirrored->cases[0].right = bench->cases[0].left;
    for (size_t i = 0; i < 2; i++) {
        mirrored->banks[i] = bench->banks[1 - i];
        mirrored->banks[i].drawers = mirrored->drawers;
    }
}

/* Sizes agree, and places lie opposite each other, to within the odd units that go to the right. */
static void expect_mirrored(const struct dw_sized_case *straight, const struct dw_sized_case *mirrored)
{
    for (size_t b = 0; b < 2; b++) {
        const struct dw_sized_bank *here = &straight->banks[b];
        const struct dw_sized_bank *there = &mirrored->banks[1 - b];
        if (there->opening_width.value == here->opening_width.value)
            expect_same_sizes(here, there);
        const struct dw_rectangle *front = &here->drawers[0].front;
        const struct dw_rectangle *opposite = &there->drawers[0].front;
        const dw_length off = front->x + front->width + opposite->x - straight->width;
        assert_true(off >= -3 && off <= 3);
    }
}

static void test_mirror(void **state)
{
    (void)state;
    uint64_t seed = 4711;
    size_t sized = 0;
    for (int n = 0; n < 400; n++) {
        struct bench *bench = bench_new(DW_IN);
        struct bench *mirrored = bench_new(DW_IN);
        two_random_banks(bench, &seed);
        mirror(bench, mirrored);
        const enum dw_status first = dw_size(&bench->job, bench->arena, bench->faults, &bench->sizing);
        assert_int_equal(dw_size(&mirrored->job, mirrored->arena, mirrored->faults, &mirrored->sizing), first);
        if (first == DW_DONE) {
            expect_mirrored(&bench->sizing->cases[0], &mirrored->sizing->cases[0]);
            sized++;
        }
        bench_free(bench);
        bench_free(mirrored);
    }
    assert_true(sized > 50);
}

/* Cases in another order are the same cases. */
static void test_order_of_cases(void **state)
{
    (void)state;
    uint64_t seed = 99;
    struct bench *bench = bench_new(DW_IN);
    bench->job.case_count = 2;
    bench_opening(bench, "20", "30", "22");
    bench_fill(bench, 3, DW_OVERLAY);
    for (size_t i = 0; i < 3; i++)
        random_fit(&seed, &bench->drawers[i].fit);
    bench->cases[1] = bench->cases[0];
    bench->cases[1].opening_width = bench_readings(bench, "17", NULL);
    bench_size(bench);
    const struct dw_sizing *straight = bench->sizing;
    const struct dw_case first = bench->cases[0];
    bench->cases[0] = bench->cases[1];
    bench->cases[1] = first;
    bench_size(bench);
    expect_same_sizes(&straight->cases[0].banks[0], &bench->sizing->cases[1].banks[0]);
    expect_same_sizes(&straight->cases[1].banks[0], &bench->sizing->cases[0].banks[0]);
    bench_free(bench);
}

/* Drawers of an undivided inset bank in another order keep their heights. */
static void test_order_of_drawers(void **state)
{
    (void)state;
    static const int64_t weights[] = {1, 3, 2, 1, 2};
    dw_length heights[2][5];
    for (size_t turn = 0; turn < 2; turn++) {
        struct bench *bench = bench_new(DW_IN);
        bench_opening(bench, "20", "47 3/4", "22");
        bench_fill(bench, 5, DW_INSET);
        for (size_t i = 0; i < 5; i++)
            bench->drawers[i].height.weight = weights[turn == 0 ? i : 4 - i];
        bench_size(bench);
        for (size_t i = 0; i < 5; i++)
            heights[turn][i] = bench_at(bench, turn == 0 ? i : 4 - i)->front_height.value;
        bench_free(bench);
    }
    assert_memory_equal(heights[0], heights[1], sizeof heights[0]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_banks),           cmocka_unit_test(test_hostile_banks),
        cmocka_unit_test(test_units_agree),
        cmocka_unit_test(test_written_in_either_unit), cmocka_unit_test(test_mirror),
        cmocka_unit_test(test_order_of_cases),         cmocka_unit_test(test_order_of_drawers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
