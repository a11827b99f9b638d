/* sizing_bench.h - a bench to try the sizing room on: a completed job in plain C that each test then bends to its case.
 *
 * It stands apart from the job room's defaults on purpose: what a test checks must not move when a default does.
 * bench_new gives one frameless case with one bank and no drawers; slides[BENCH_SIDE] is a side-mount slide of 1/2 in.
 */
#ifndef DRAWERWRIGHT_TESTS_SIZING_BENCH_H
#define DRAWERWRIGHT_TESTS_SIZING_BENCH_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <drawerwright/memory.h>
#include <drawerwright/sizing.h>

enum { BENCH_CASES = 4, BENCH_BANKS = 8, BENCH_DRAWERS = 600, BENCH_READINGS = 8, BENCH_LENGTHS = 32 };
enum { BENCH_PLY_1_2, BENCH_PLY_1_4, BENCH_FRONT_3_4, BENCH_OAK, BENCH_MATERIALS };
enum { BENCH_SIDE, BENCH_UNDER, BENCH_HAND, BENCH_SLIDES };

struct bench {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_job job;
    struct dw_case cases[BENCH_CASES];
    struct dw_bank banks[BENCH_BANKS];      /* of the first case, unless a test says otherwise */
    struct dw_drawer drawers[BENCH_DRAWERS]; /* of the first bank, likewise */
    struct dw_slide slides[BENCH_SLIDES];
    struct dw_material materials[BENCH_MATERIALS];
    struct dw_slide_length lengths[BENCH_LENGTHS];
    dw_length readings[16][BENCH_READINGS];
    size_t readings_used;
    const struct dw_sizing *sizing;
};

/* A length as a maker writes it; a bare number is inches. */
static inline dw_length in(const char *text)
{
    dw_length length = 0;
    if (!dw_length_parse(text, DW_IN, &length, NULL))
        fail_msg("no length: %s", text);
    return length;
}

static inline dw_length mm(double millimeters)
{
    return (dw_length)(millimeters * 16000.0 + (millimeters < 0 ? -0.5 : 0.5));
}

static inline void bench_habits(struct dw_habits *habits)
{
    *habits = (struct dw_habits){
        .gap = in("1/8"), .reveal = in("1/8"), .reveal_wall = in("1/4"), .reveal_neighbor = in("1/16"),
        .front_step = in("1/16"), .box_step = in("1/32"), .box_aim = 0, .gap_grow = in("1/32"), .gap_warn = in("1/16"),
        .box_less = in("1 1/4"), .box_less_least = in("1"), .box_less_most = in("2"), .box_height_step = in("1/4"),
        .load = 718, .moisture_percent = 4,
    };
}

static inline void bench_shop(struct bench *bench)
{
    bench->materials[BENCH_PLY_1_2] = (struct dw_material){.id = "half", .name = "1/2 plywood", .thickness = in("1/2"), .density = 680000};
    bench->materials[BENCH_PLY_1_4] = (struct dw_material){.id = "quarter", .name = "1/4 plywood", .thickness = in("1/4"), .density = 680000};
    bench->materials[BENCH_FRONT_3_4] = (struct dw_material){.id = "front", .name = "3/4 plywood", .thickness = in("3/4"), .density = 680000};
    bench->materials[BENCH_OAK] = (struct dw_material){
        .id = "oak", .name = "red oak", .kind = DW_SOLID_WOOD, .thickness = in("3/4"), .density = 700000, .movement = 3690};
    for (size_t i = 0; i < 8; i++)
        bench->lengths[i] = (struct dw_slide_length){.length = (dw_length)(10 + 2 * i) * DW_INCH};
    bench->slides[BENCH_SIDE] = (struct dw_slide){
        .id = "side", .name = "side slide", .kind = DW_SIDE_MOUNT, .clearance = in("1/2"), .clearance_more = in("1/16"),
        .below = in("1/4"), .above = in("1/2"), .box_least = in("2"), .center = DW_LENGTH_UNSET,
        .lengths = bench->lengths, .length_count = 8};
    bench->slides[BENCH_UNDER] = (struct dw_slide){
        .id = "under", .name = "undermount slide", .kind = DW_UNDERMOUNT, .inside_less = 42 * DW_MM, .side_most = in("5/8"),
        .recess = in("1/2"), .below = in("1/2"), .above = in("1/2"), .center = 0, .lengths = bench->lengths, .length_count = 8};
    bench->slides[BENCH_HAND] = (struct dw_slide){
        .id = "hand", .name = "fitted by hand", .kind = DW_HAND_FITTED, .clearance = in("1/16"), .center = DW_LENGTH_UNSET};
    struct dw_shop *shop = &bench->job.shop;
    shop->name = "bench";
    shop->unit = bench->job.unit;
    shop->materials = bench->materials;
    shop->material_count = BENCH_MATERIALS;
    shop->slides = bench->slides;
    shop->slide_count = BENCH_SLIDES;
    bench_habits(&shop->habits);
}

static inline struct bench *bench_new(enum dw_unit unit)
{
    struct bench *bench = calloc(1, sizeof *bench);
    assert_non_null(bench);
    bench->arena = dw_arena_new();
    bench->faults = dw_faults_new();
    bench->job = (struct dw_job){.id = "bench", .name = "Bench", .unit = unit, .cases = bench->cases, .case_count = 1};
    bench_shop(bench);
    bench->cases[0] = (struct dw_case){
        .name = "Bench", .count = 1, .width = DW_LENGTH_UNSET, .height = DW_LENGTH_UNSET, .depth = DW_LENGTH_UNSET,
        .side = in("3/4"), .top = in("3/4"), .bottom = in("3/4"), .back = 0, .kick = 0, .case_material = BENCH_FRONT_3_4,
        .back_material = BENCH_PLY_1_4, .floor = DW_LENGTH_UNSET, .partition = in("3/4"), .frame_material = DW_NO_INDEX,
        .hinge_room = 0, .banks = bench->banks, .bank_count = 1};
    for (size_t i = 0; i < BENCH_BANKS; i++)
        bench->banks[i] = (struct dw_bank){.width_share = 1, .gap = in("1/8"), .gap_ends = DW_LENGTH_UNSET, .gap_sides = DW_LENGTH_UNSET,
                                           .drawers = bench->drawers};
    return bench;
}

static inline void bench_free(struct bench *bench)
{
    dw_arena_free(bench->arena);
    dw_faults_free(bench->faults);
    free(bench);
}

/* Readings from text, ended by NULL. */
static inline struct dw_readings bench_readings(struct bench *bench, const char *first, ...)
{
    dw_length *at = bench->readings[bench->readings_used++];
    size_t count = 0;
    va_list more;
    va_start(more, first);
    for (const char *text = first; text != NULL; text = va_arg(more, const char *))
        at[count++] = in(text);
    va_end(more);
    return (struct dw_readings){.at = at, .count = count};
}

/* The first case by its opening. */
static inline void bench_opening(struct bench *bench, const char *width, const char *height, const char *depth)
{
    bench->cases[0].opening_width = bench_readings(bench, width, NULL);
    bench->cases[0].opening_height = bench_readings(bench, height, NULL);
    bench->cases[0].opening_depth = bench_readings(bench, depth, NULL);
}

/* A drawer that shares the height, inset, on side-mount slides, in 1/2 in plywood with a grooved 1/4 in bottom. */
static inline struct dw_drawer bench_drawer(enum dw_fit_kind fit)
{
    return (struct dw_drawer){
        .height = {.rule = DW_HEIGHT_SHARE, .weight = 1},
        .fit = {.kind = fit},
        .rail_below = {.kind = DW_RAIL_NONE, .cover_above = DW_LENGTH_UNSET, .cover_below = DW_LENGTH_UNSET},
        .slide = BENCH_SIDE,
        .box = {.side_material = BENCH_PLY_1_2, .front_material = BENCH_PLY_1_2, .back_material = BENCH_PLY_1_2,
                .bottom_material = BENCH_PLY_1_4, .bottom = DW_BOTTOM_GROOVED, .groove_depth = in("1/4"), .groove_up = in("1/4"),
                .height = DW_LENGTH_UNSET, .height_least = DW_LENGTH_UNSET, .height_most = DW_LENGTH_UNSET,
                .depth = DW_LENGTH_UNSET, .slide_length = DW_LENGTH_UNSET},
        .front = {.kind = DW_FRONT_APPLIED, .material = BENCH_FRONT_3_4, .grain = DW_GRAIN_HORIZONTAL},
        .load = DW_UNSET,
        .holds = "",
    };
}

/* Fills the first bank with `count` such drawers. */
static inline void bench_fill(struct bench *bench, size_t count, enum dw_fit_kind fit)
{
    for (size_t i = 0; i < count; i++)
        bench->drawers[i] = bench_drawer(fit);
    bench->banks[0].drawer_count = count;
}

static inline void bench_fix(struct bench *bench, size_t drawer, const char *height)
{
    bench->drawers[drawer].height = (struct dw_height){.rule = DW_HEIGHT_FIXED, .length = in(height)};
}

static inline void bench_rail(struct bench *bench, size_t drawer, const char *height)
{
    bench->drawers[drawer].rail_below =
        (struct dw_rail){.kind = DW_RAIL_REAL, .height = in(height), .cover_above = DW_LENGTH_UNSET, .cover_below = DW_LENGTH_UNSET};
}

static inline void bench_rails(struct bench *bench, const char *height)
{
    for (size_t i = 0; i + 1 < bench->banks[0].drawer_count; i++)
        bench_rail(bench, i, height);
}

static inline void bench_overlay(struct bench *bench, size_t drawer, const char *top, const char *bottom, const char *left,
                                 const char *right)
{
    bench->drawers[drawer].fit = (struct dw_fit){
        .kind = DW_OVERLAY,
        .overlay = {[DW_TOP] = in(top), [DW_BOTTOM] = in(bottom), [DW_LEFT] = in(left), [DW_RIGHT] = in(right)}};
}

static inline void bench_print_faults(const struct bench *bench)
{
    for (size_t i = 0; i < bench->faults->count; i++) {
        const struct dw_fault *fault = &bench->faults->at[i];
        print_message("%s %s %s: %s (%s)\n", dw_grade_word(fault->grade), fault->code, fault->address, fault->wrong, fault->cure);
    }
}

/* Every figure of a figuring gives its value again. */
static inline void bench_check_figure(const struct dw_figure *figure)
{
    if (figure->step_count == 0)
        return;
    if (dw_figure_again(figure) != figure->value)
        fail_msg("%s: the steps give %lld, the figure says %lld", figure->name, (long long)dw_figure_again(figure),
                 (long long)figure->value);
    for (size_t i = 0; i < figure->step_count; i++)
        assert_non_null(figure->steps[i].words);
    assert_int_equal(figure->steps[figure->step_count - 1].after, figure->value);
}

static inline void bench_check_drawer(const struct dw_sized_drawer *drawer)
{
    const struct dw_figure *const figures[] = {
        &drawer->front_height, &drawer->front_width, &drawer->box_width, &drawer->box_height, &drawer->box_depth,
        &drawer->inside_width, &drawer->inside_height, &drawer->inside_depth, &drawer->slide_length, &drawer->slide_center,
        &drawer->set_back};
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        bench_check_figure(figures[i]);
    for (int edge = DW_TOP; edge < DW_EDGES; edge++)
        bench_check_figure(&drawer->overlay[edge]);
}

/* The figuring of a whole sizing, done over again; and each bank filled from end to end, each front as wide as it says. */
static inline void bench_check_sizing(const struct dw_sizing *sizing)
{
    for (size_t c = 0; c < sizing->case_count; c++) {
        for (size_t b = 0; b < sizing->cases[c].bank_count; b++) {
            const struct dw_sized_bank *bank = &sizing->cases[c].banks[b];
            bench_check_figure(&bank->opening_width);
            bench_check_figure(&bank->opening_height);
            bench_check_figure(&bank->opening_depth);
            bench_check_figure(&bank->gap);
            for (size_t d = 0; d < bank->drawer_count; d++)
                bench_check_drawer(&bank->drawers[d]);
        }
    }
}

/* Sizes; fails the test on any error. */
static inline void bench_size(struct bench *bench)
{
    const enum dw_status status = dw_size(&bench->job, bench->arena, bench->faults, &bench->sizing);
    if (status != DW_DONE)
        bench_print_faults(bench);
    assert_int_equal(status, DW_DONE);
    assert_non_null(bench->sizing);
    bench_check_sizing(bench->sizing);
}

/* Sizes; fails the test unless it is refused with `status`. */
static inline void bench_refuse(struct bench *bench, enum dw_status status)
{
    const enum dw_status got = dw_size(&bench->job, bench->arena, bench->faults, &bench->sizing);
    if (got != status)
        bench_print_faults(bench);
    assert_int_equal(got, status);
    assert_null(bench->sizing);
}

static inline const struct dw_sized_bank *bench_bank(const struct bench *bench, size_t bank)
{
    return &bench->sizing->cases[0].banks[bank];
}

static inline const struct dw_sized_drawer *bench_at(const struct bench *bench, size_t drawer)
{
    return &bench->sizing->cases[0].banks[0].drawers[drawer];
}

/* The first fault with `code`; NULL when there is none. */
static inline const struct dw_fault *bench_fault(const struct bench *bench, const char *code)
{
    for (size_t i = 0; i < bench->faults->count; i++)
        if (strcmp(bench->faults->at[i].code, code) == 0)
            return &bench->faults->at[i];
    return NULL;
}

static inline size_t bench_count_faults(const struct bench *bench, const char *code)
{
    size_t count = 0;
    for (size_t i = 0; i < bench->faults->count; i++)
        count += strcmp(bench->faults->at[i].code, code) == 0 ? 1 : 0;
    return count;
}

/* A length as shown in inches, or in millimeters where it is one exactly. */
static inline void bench_expect(dw_length got, dw_length wanted, const char *what)
{
    if (got == wanted)
        return;
    fail_msg("%s: wanted %.5f in (%.3f mm), got %.5f in (%.3f mm)", what, (double)wanted / 406400.0, (double)wanted / 16000.0,
             (double)got / 406400.0, (double)got / 16000.0);
}

#define EXPECT_IN(got, text) bench_expect((got), in(text), #got)
#define EXPECT_MM(got, millimeters) bench_expect((got), mm(millimeters), #got)

#endif
