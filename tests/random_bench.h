/* random_bench.h - a random plan (random_plan.h) as a bench: sheets, parts and saws such that the bench's problem is the plan's request. */
#ifndef DRAWERWRIGHT_TESTS_RANDOM_BENCH_H
#define DRAWERWRIGHT_TESTS_RANDOM_BENCH_H

#include "dice.h"
#include "hand_plan.h"
#include "random_plan.h"

/* The random plan's lengths in half inches become lengths; its nodes and request point at one another still. */
static inline void scale_up(struct random_plan *made)
{
    const dw_length unit = DW_INCH / 2;
    for (size_t n = 0; n < made->node_count; n++) {
        struct dw_cut_node *node = &made->nodes[n];
        node->x *= unit;
        node->y *= unit;
        node->length *= unit;
        node->width *= unit;
    }
    for (size_t l = 0; l < made->plan.layout_count; l++) {
        struct dw_cut_node *root = &made->layouts[l].root;
        root->x *= unit;
        root->y *= unit;
        root->length *= unit;
        root->width *= unit;
    }
    made->request.kerf *= unit;
    made->request.keep.least_length *= unit;
    made->request.keep.least_width *= unit;
    for (size_t p = 0; p < made->request.part_count; p++) {
        made->parts[p].length *= unit;
        made->parts[p].width *= unit;
    }
    for (size_t s = 0; s < made->request.sheet_count; s++) {
        made->sheets[s].length *= unit;
        made->sheets[s].width *= unit;
        for (size_t t = 0; t < 4; t++)
            made->sheets[s].trim[t] *= unit;
    }
}

/* Sheets and parts on the bench such that the problem is the plan's request; some sheets with their grain across, some parts too. */
static inline void bench_from(struct layout_bench *b, struct random_plan *made)
{
    lb_new(b);
    struct dw_material *material = lb_material(b, "birch");
    material->kerf = made->request.kerf;
    material->keep_length = made->request.keep.least_length;
    material->keep_width = made->request.keep.least_width;
    for (size_t s = 0; s < made->request.sheet_count; s++) {
        const struct dw_cut_sheet *sheet = &made->sheets[s];
        const bool across = dice_one_in(&made->dice, 2);
        const dw_length length = across ? sheet->width : sheet->length, width = across ? sheet->length : sheet->width;
        struct dw_sheet_offer *offer = lb_offer(b, "sheet", length, width, 0, sheet->price);
        offer->grain_across = across;
        for (size_t t = 0; t < 4; t++)
            offer->trim[t] = sheet->trim[across ? (t + 2) % 4 : t];
    }
    for (size_t p = 0; p < made->request.part_count; p++) {
        const struct dw_cut_part *part = &made->parts[p];
        const bool across = !part->turn && dice_one_in(&made->dice, 3);
        lb_part(b, "part", across ? part->width : part->length, across ? part->length : part->width, (size_t)part->count,
                part->turn ? DW_FREE : across ? DW_ACROSS : DW_ALONG);
    }
}

static inline void random_saws(struct layout_bench *b, struct random_plan *made)
{
    struct dice *dice = &made->dice;
    if (dice_one_in(dice, 3))
        return;
    struct dw_saw *table = add_saw(b, DW_TABLE_SAW, "table saw");
    table->rip_most = dice_range(dice, 10, 160) * DW_INCH;
    table->crosscut_most = dice_range(dice, 10, 160) * DW_INCH;
    if (dice_one_in(dice, 2))
        add_saw(b, DW_TRACK_SAW, "track saw")->cut_longest = dice_range(dice, 30, 160) * DW_INCH;
    for (size_t i = 0; i < b->job.shop.saw_count; i++)
        b->saws[i].kerf = dice_one_in(dice, 3) ? made->request.kerf / 2 : made->request.kerf;
}

#endif
