/* layout_bench.h - a bench to try the layout and purchase rooms on: parts and a shop in plain C, which each test bends to its case.
 *
 * It stands apart from the rooms before it on purpose: what a test checks must not move when a default or a joint does.
 */
#ifndef DRAWERWRIGHT_TESTS_LAYOUT_BENCH_H
#define DRAWERWRIGHT_TESTS_LAYOUT_BENCH_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <drawerwright/memory.h>
#include <drawerwright/purchase.h>

enum { LB_MATERIALS = 3, LB_OFFERS = 6, LB_BREAKS = 4, LB_PARTS = 200, LB_MATCHES = 4, LB_NEEDS = 8, LB_SAWS = 4, LB_SUPPLIERS = 4, LB_HELD = 4000 };

struct layout_bench {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_job job;
    struct dw_material materials[LB_MATERIALS];
    struct dw_sheet_offer offers[LB_MATERIALS][LB_OFFERS];
    struct dw_break breaks[LB_MATERIALS][LB_OFFERS][LB_BREAKS];
    struct dw_saw saws[LB_SAWS];
    struct dw_supplier suppliers[LB_SUPPLIERS];
    struct dw_sizing sizing;
    struct dw_part parts[LB_PARTS];
    struct dw_match matches[LB_MATCHES];
    struct dw_need needs[LB_NEEDS];
    struct dw_parts list;
    const struct dw_parts *jobs[1];
    struct dw_layout_options options;
    void *held[LB_HELD]; /* goes with the bench */
    size_t held_count;
};

#define IN(n) ((dw_length)((n) * (double)DW_INCH))

/* An inch job, no materials, no saws. */
static inline void lb_new(struct layout_bench *b)
{
    *b = (struct layout_bench){.arena = dw_arena_new(), .faults = dw_faults_new()};
    b->job = (struct dw_job){.id = "bench", .name = "Bench", .unit = DW_IN};
    b->job.shop.unit = DW_IN;
    b->job.shop.prices.currency = (struct dw_currency){"", 2};
    b->job.shop.materials = b->materials;
    b->job.shop.saws = b->saws;
    b->job.shop.suppliers = b->suppliers;
    b->sizing.job = &b->job;
    b->list = (struct dw_parts){.sizing = &b->sizing, .at = b->parts, .matches = b->matches, .needs = b->needs};
    b->jobs[0] = &b->list;
}

/* Zeroed memory that goes with the bench. */
static inline void *lb_room(struct layout_bench *b, size_t count, size_t size)
{
    assert_true(b->held_count < LB_HELD);
    b->held[b->held_count] = calloc(count, size);
    assert_non_null(b->held[b->held_count]);
    return b->held[b->held_count++];
}

static inline void lb_free(struct layout_bench *b)
{
    while (b->held_count > 0)
        free(b->held[--b->held_count]);
    dw_arena_free(b->arena);
    dw_faults_free(b->faults);
}

static inline struct dw_material *lb_material(struct layout_bench *b, const char *id)
{
    struct dw_material *m = &b->materials[b->job.shop.material_count];
    *m = (struct dw_material){.id = id, .name = id, .kind = DW_PLYWOOD, .nominal = DW_INCH / 2, .thickness = 15 * DW_INCH / 32, .grained = true,
                              .source = "", .kerf = DW_INCH / 8, .sheets = b->offers[b->job.shop.material_count],
                              .keep_length = 16 * DW_INCH, .keep_width = 6 * DW_INCH};
    b->job.shop.material_count++;
    return m;
}

/* A sheet of the material last added. */
static inline struct dw_sheet_offer *lb_offer(struct layout_bench *b, const char *id, dw_length length, dw_length width, dw_length trim, dw_money price)
{
    const size_t m = b->job.shop.material_count - 1;
    struct dw_sheet_offer *offer = &b->offers[m][b->materials[m].sheet_count];
    *offer = (struct dw_sheet_offer){.id = id, .supplier = "", .length = length, .width = width, .trim = {trim, trim, trim, trim},
                                     .price = price, .breaks = b->breaks[m][b->materials[m].sheet_count], .count = DW_NO_LIMIT};
    b->materials[m].sheet_count++;
    return offer;
}

/* Pieces of the material last added, outside of any case. */
static inline struct dw_part *lb_part(struct layout_bench *b, const char *name, dw_length length, dw_length width, size_t count, enum dw_grain grain)
{
    const size_t p = b->list.count++;
    enum { MARK = 32 };
    struct dw_piece *pieces = lb_room(b, count, sizeof *pieces);
    char *marks = lb_room(b, count, MARK);
    for (size_t i = 0; i < count; i++) {
        (void)snprintf(marks + i * MARK, MARK, "%c%zu-%zu", name[0] - 'a' + 'A', p + 1, i + 1);
        pieces[i] = (struct dw_piece){.mark = marks + i * MARK, .drawer_path = "", .case_index = DW_NO_INDEX, .case_copy = DW_NO_INDEX,
                                      .bank_index = DW_NO_INDEX, .drawer_index = DW_NO_INDEX};
    }
    b->parts[p] = (struct dw_part){.id = name, .name = name, .kind = DW_PART_EXTRA, .material = b->job.shop.material_count - 1,
                                   .length = {.name = "length", .value = length}, .width = {.name = "width", .value = width},
                                   .finished_length = length, .finished_width = width, .thickness = DW_INCH / 2, .grain = grain,
                                   .pieces = pieces, .count = count};
    return &b->parts[p];
}

#endif
