/* parts_fixture.h - a sized job made by hand, so that the parts room is tested without the rooms before it. */
#ifndef DRAWERWRIGHT_TESTS_PARTS_FIXTURE_H
#define DRAWERWRIGHT_TESTS_PARTS_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include <drawerwright/memory.h>
#include <drawerwright/parts.h>

/* n / d inches, or w + n / d. */
#define IN(n, d) ((dw_length)(n) * DW_INCH / (d))
#define INCHES(w, n, d) ((dw_length)(w) * DW_INCH + IN(n, d))

enum { FIXTURE_BANKS = 3, FIXTURE_DRAWERS = 6, FIXTURE_MATERIALS = 8 };

struct fixture {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_job job;
    struct dw_material materials[FIXTURE_MATERIALS];
    struct dw_slide_length lengths[4];
    struct dw_slide slide;
    struct dw_hardware hardware[6];
    struct dw_banding bandings[2];
    struct dw_case source;
    struct dw_bank banks[FIXTURE_BANKS];
    struct dw_drawer drawers[FIXTURE_BANKS][FIXTURE_DRAWERS];
    struct dw_sized_case sized;
    struct dw_sized_bank sized_banks[FIXTURE_BANKS];
    struct dw_sized_drawer sized_drawers[FIXTURE_BANKS][FIXTURE_DRAWERS];
    struct dw_sizing sizing;
    const struct dw_parts *parts;
};

static inline size_t fixture_material(struct fixture *f, const char *id, dw_length thickness)
{
    struct dw_material *material = &f->materials[f->job.shop.material_count];
    *material = (struct dw_material){.id = id, .name = id, .nominal = thickness, .thickness = thickness, .grained = true, .source = ""};
    return f->job.shop.material_count++;
}

/* One case of three banks without drawers, no materials, one side-mount slide in one length. */
static inline void fixture_open(struct fixture *f, enum dw_unit unit)
{
    *f = (struct fixture){.arena = dw_arena_new(), .faults = dw_faults_new()};
    assert_non_null(f->arena);
    assert_non_null(f->faults);
    f->lengths[0] = (struct dw_slide_length){.length = 20 * DW_INCH, .price = 1850};
    f->slide = (struct dw_slide){.id = "ball", .name = "ball-bearing slide", .kind = DW_SIDE_MOUNT, .clearance = IN(1, 2),
                                 .center = DW_LENGTH_UNSET, .lengths = f->lengths, .length_count = 1};
    f->source = (struct dw_case){.name = "Bench", .count = 1, .case_material = DW_NO_INDEX, .back_material = DW_NO_INDEX,
                                 .frame_material = DW_NO_INDEX, .edging = DW_NO_INDEX, .banks = f->banks};
    f->sized = (struct dw_sized_case){.source = &f->source, .address = "cases[0]", .path = "Bench", .depth = DW_LENGTH_UNSET,
                                      .banks = f->sized_banks};
    static const char *const ADDRESSES[] = {"cases[0].banks[0]", "cases[0].banks[1]", "cases[0].banks[2]"};
    static const char *const PATHS[] = {"Bench/1", "Bench/2", "Bench/3"};
    for (size_t b = 0; b < FIXTURE_BANKS; b++) {
        f->banks[b] = (struct dw_bank){.drawers = f->drawers[b]};
        f->sized_banks[b] = (struct dw_sized_bank){.bank = &f->banks[b], .address = ADDRESSES[b], .path = PATHS[b],
                                                   .drawers = f->sized_drawers[b], .freed = ""};
    }
    f->job = (struct dw_job){.id = "bench", .name = "Bench", .unit = unit, .cases = &f->source, .case_count = 1};
    f->job.shop.unit = unit;
    f->job.shop.materials = f->materials;
    f->job.shop.slides = &f->slide;
    f->job.shop.slide_count = 1;
    f->job.shop.hardware = f->hardware;
    f->job.shop.bandings = f->bandings;
    f->job.shop.habits.moisture_percent = 4;
    f->job.shop.habits.box_step = unit == DW_IN ? IN(1, 32) : DW_MM / 2;
    f->sizing = (struct dw_sizing){.job = &f->job, .cases = &f->sized, .case_count = 1};
}

static inline void fixture_close(struct fixture *f)
{
    dw_faults_free(f->faults);
    dw_arena_free(f->arena);
}

static inline struct dw_corner fixture_corner(enum dw_joint joint)
{
    return (struct dw_corner){.joint = joint, .depth = DW_LENGTH_UNSET, .tongue = DW_LENGTH_UNSET, .lap = DW_LENGTH_UNSET,
                              .pitch = DW_LENGTH_UNSET, .slope = DW_UNSET};
}

/* A figure that was given. It has no steps to show: the parts room only starts from its value. */
static inline struct dw_figure fixture_figure(const char *name, dw_length value)
{
    return (struct dw_figure){.name = name, .value = value, .step_count = 1};
}

/* One more drawer in a bank: a box of these outside sizes with an applied front of the same width and height; sides, box front and back of
 * `stock`, bottom of `bottom`, all corners joined alike, bottom grooved 1/4 in up without clearance. */
static inline struct dw_drawer *fixture_drawer(struct fixture *f, size_t bank, dw_length width, dw_length height, dw_length depth, size_t stock,
                                               size_t bottom, enum dw_joint joint)
{
    const size_t index = f->banks[bank].drawer_count++;
    f->sized_banks[bank].drawer_count = f->banks[bank].drawer_count;
    f->source.bank_count = f->sized.bank_count = bank + 1 > f->source.bank_count ? bank + 1 : f->source.bank_count;
    struct dw_drawer *drawer = &f->drawers[bank][index];
    *drawer = (struct dw_drawer){.fill = DW_FILL_DRAWER};
    drawer->box = (struct dw_box){.side_material = stock, .front_material = stock, .back_material = stock, .bottom_material = bottom,
                                  .front = fixture_corner(joint), .back = fixture_corner(joint), .bottom = DW_BOTTOM_GROOVED,
                                  .groove_depth = DW_LENGTH_UNSET, .groove_up = IN(1, 4)};
    drawer->front = (struct dw_front){.kind = DW_FRONT_APPLIED, .material = stock, .grain = DW_GRAIN_HORIZONTAL, .banding_after = true};
    for (int edge = 0; edge < DW_EDGES; edge++)
        drawer->front.banding[edge] = DW_NO_INDEX;
    static const char *const ADDRESSES[FIXTURE_BANKS][FIXTURE_DRAWERS] = {
        {"cases[0].banks[0].drawers[0]", "cases[0].banks[0].drawers[1]", "cases[0].banks[0].drawers[2]", "cases[0].banks[0].drawers[3]",
         "cases[0].banks[0].drawers[4]", "cases[0].banks[0].drawers[5]"},
        {"cases[0].banks[1].drawers[0]", "cases[0].banks[1].drawers[1]", "cases[0].banks[1].drawers[2]", "cases[0].banks[1].drawers[3]",
         "cases[0].banks[1].drawers[4]", "cases[0].banks[1].drawers[5]"},
        {"cases[0].banks[2].drawers[0]", "cases[0].banks[2].drawers[1]", "cases[0].banks[2].drawers[2]", "cases[0].banks[2].drawers[3]",
         "cases[0].banks[2].drawers[4]", "cases[0].banks[2].drawers[5]"}};
    struct dw_sized_drawer *sized = &f->sized_drawers[bank][index];
    *sized = (struct dw_sized_drawer){.drawer = drawer, .address = ADDRESSES[bank][index], .path = "Bench/drawer", .bank_index = bank,
                                      .drawer_index = index, .front = {0, 0, width, height}, .box = {0, 0, width, height}};
    sized->front_width = fixture_figure("front width", width);
    sized->front_height = fixture_figure("front height", height);
    sized->box_width = fixture_figure("box width", width);
    sized->box_height = fixture_figure("box height", height);
    sized->box_depth = fixture_figure("box depth", depth);
    sized->slide_length = fixture_figure("slide length", 20 * DW_INCH);
    return drawer;
}

/* The front of a drawer in the elevation, its box staying where it is. */
static inline void fixture_front(struct fixture *f, size_t bank, size_t index, dw_length x, dw_length y, dw_length width, dw_length height)
{
    struct dw_sized_drawer *sized = &f->sized_drawers[bank][index];
    sized->front = (struct dw_rectangle){x, y, width, height};
    sized->front_width.value = width;
    sized->front_height.value = height;
}

/* So many percent of spares of every kind. */
static inline void fixture_spares(struct fixture *f, int64_t percent)
{
    f->job.spares = (struct dw_spares){percent, percent, percent, percent, percent};
}

static inline void fixture_print_faults(const struct fixture *f)
{
    for (size_t i = 0; i < f->faults->count; i++)
        print_message("%s %s: %s: %s / %s\n", dw_grade_word(f->faults->at[i].grade), f->faults->at[i].address, f->faults->at[i].code,
                      f->faults->at[i].wrong, f->faults->at[i].cure);
}

/* Makes the parts; they must come without an error. */
static inline void fixture_make(struct fixture *f)
{
    const enum dw_status status = dw_parts_make(&f->sizing, f->arena, f->faults, &f->parts);
    if (status != DW_DONE)
        fixture_print_faults(f);
    assert_int_equal(status, DW_DONE);
}

static inline const struct dw_fault *fixture_fault(const struct fixture *f, const char *code)
{
    for (size_t i = 0; i < f->faults->count; i++)
        if (strcmp(f->faults->at[i].code, code) == 0)
            return &f->faults->at[i];
    return NULL;
}

/* The parts must refuse: an error of this code, whose cure holds `cure`. */
static inline void fixture_refuses(struct fixture *f, const char *code, const char *cure)
{
    assert_int_equal(dw_parts_make(&f->sizing, f->arena, f->faults, &f->parts), DW_IMPOSSIBLE);
    assert_null(f->parts);
    const struct dw_fault *fault = fixture_fault(f, code);
    if (fault == NULL || strstr(fault->cure, cure) == NULL)
        fixture_print_faults(f);
    assert_non_null(fault);
    assert_int_equal(fault->grade, DW_ERROR);
    assert_non_null(strstr(fault->cure, cure));
}

/* The i-th part of a kind, in the order of the list; NULL when there are fewer. */
static inline const struct dw_part *fixture_part(const struct fixture *f, enum dw_part_kind kind, size_t i)
{
    for (size_t p = 0; p < f->parts->count; p++)
        if (f->parts->at[p].kind == kind && i-- == 0)
            return &f->parts->at[p];
    return NULL;
}

static inline const struct dw_part *fixture_named(const struct fixture *f, const char *name)
{
    for (size_t p = 0; p < f->parts->count; p++)
        if (strcmp(f->parts->at[p].name, name) == 0)
            return &f->parts->at[p];
    return NULL;
}

/* A part that must be there: so many of this size. */
static inline void fixture_expect(const struct fixture *f, enum dw_part_kind kind, size_t i, size_t count, dw_length length, dw_length width)
{
    const struct dw_part *part = fixture_part(f, kind, i);
    assert_non_null(part);
    if (part->count != count || part->length.value != length || part->width.value != width)
        print_message("%s %zu: wanted %zu of %s x %s, got %zu of %s x %s\n", dw_part_kind_word(kind), i, count,
                      dw_length_show(f->arena, length, (struct dw_length_style){.denominator = 128}),
                      dw_length_show(f->arena, width, (struct dw_length_style){.denominator = 128}), part->count,
                      dw_length_show(f->arena, part->length.value, (struct dw_length_style){.denominator = 128}),
                      dw_length_show(f->arena, part->width.value, (struct dw_length_style){.denominator = 128}));
    assert_int_equal(part->count, count);
    assert_int_equal(part->length.value, length);
    assert_int_equal(part->width.value, width);
}

static inline const struct dw_part_work *fixture_work(const struct dw_part *part, enum dw_work_kind kind)
{
    for (size_t i = 0; i < part->work_count; i++)
        if (part->works[i].kind == kind)
            return &part->works[i];
    return NULL;
}

#endif
