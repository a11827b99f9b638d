/* bench_drawers.c - drawer jobs of our own making, for growth and for sizes that no published set has.
 *
 * Banks of 1 to 5 drawers share an opening: a clear width of 9 to 36 in and a slide length of 12 to 24 in. Boxes of
 * 1/2 in ply, sides full length, front and back between them: two sides (slide length) and front and back (opening less 1 in of clearance less two
 * sides), all of one height, 2 to 10 in by halves. Grain along the length; in one job of two the parts may be turned.
 * The sheets are 96 x 48 at 68.00, and with four sizes 60 x 60 at 54.00, 48 x 48 at 39.00 and 24 x 48 at 24.00: trimmed
 * 1/4 in all round, kerf 1/8 in. Invented data: it measures, it proves nothing.
 */
#include "bench.h"

#include <string.h>

#include "../dice.h"

static void add_part(struct instance *instance, dw_length length, dw_length width, bool turn)
{
    struct dw_cut_part *parts = instance->parts;
    for (size_t p = 0; p < instance->request.part_count; p++) {
        if (parts[p].length == length && parts[p].width == width) {
            parts[p].count += 2;
            return;
        }
    }
    parts[instance->request.part_count++] = (struct dw_cut_part){.length = length, .width = width, .count = 2, .turn = turn};
}

static void add_sheets(struct instance *instance)
{
    static const struct {
        dw_length length, width;
        dw_money price;
    } SIZES[4] = {{96, 48, 6800}, {60, 60, 5400}, {48, 48, 3900}, {24, 48, 2400}};
    for (size_t s = 0; s < instance->request.sheet_count; s++) {
        struct dw_cut_sheet *sheet = &instance->sheets[s];
        *sheet = (struct dw_cut_sheet){.length = SIZES[s].length * DW_INCH, .width = SIZES[s].width * DW_INCH,
                                       .price = SIZES[s].price, .value = SIZES[s].price, .count = -1};
        for (int t = 0; t < 4; t++)
            sheet->trim[t] = DW_INCH / 4;
    }
}

void bench_drawer_job(struct instances *list, int64_t drawers, int sizes, uint64_t seed)
{
    struct dice dice = {seed};
    struct instance *instance = bench_add(list, (size_t)(2 * drawers), (size_t)sizes);
    instance->request.part_count = 0;
    instance->request.kerf = DW_INCH / 8;
    instance->own_turns = true;
    instance->in_money = true;
    snprintf(instance->set, sizeof instance->set, "drawers");
    snprintf(instance->name, sizeof instance->name, "%lld drawers, seed %llu", (long long)drawers, (unsigned long long)seed);
    add_sheets(instance);
    const bool turn = dice_one_in(&dice, 2);
    while (drawers > 0) {
        int64_t bank = dice_range(&dice, 1, 5);
        bank = bank < drawers ? bank : drawers;
        const dw_length opening = dice_range(&dice, 9 * 8, 36 * 8) * (DW_INCH / 8);
        const dw_length slide = 2 * dice_range(&dice, 6, 12) * DW_INCH;
        for (int64_t d = 0; d < bank; d++) {
            const dw_length height = dice_range(&dice, 4, 20) * (DW_INCH / 2);
            add_part(instance, slide, height, turn);
            add_part(instance, opening - 2 * DW_INCH, height, turn);
        }
        drawers -= bank;
    }
}
