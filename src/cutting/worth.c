/* worth.c - the third question of the room: what one sheet is worth for values of parts of which nobody has said yet how many are wanted.
 *
 * The dynamic program of value.c counts no part, so what it says holds for every demand of these parts (docs/cutting.md, "Sizes that give").
 */
#include <drawerwright/cutting.h>

#include <string.h>

#include <drawerwright/memory.h>

#include "value.h"

enum { VALUE_TICKS = 30000000 }; /* a valuation of one sheet may cost about 30 ms; else points are coarsened */

struct dw_cut_valuer {
    const struct problem *problem;
    struct valuer *valuer;
    struct dw_arena *arena;
    int64_t *u; /* of each item */
};

struct dw_cut_valuer *dw_cut_valuer_new(const struct dw_cut_request *request, struct dw_arena *arena)
{
    struct dw_cut_valuer *valuer = dw_arena_alloc(arena, 1, sizeof *valuer);
    valuer->arena = arena;
    valuer->problem = dwi_problem_make(request, arena);
    valuer->valuer = dwi_valuer_new(valuer->problem, VALUE_TICKS, arena);
    valuer->u = dw_arena_alloc(arena, (size_t)valuer->problem->item_count, sizeof *valuer->u);
    return valuer;
}

/* What lies on coarse points may be larger than the sheet, and is no layout then. */
static void write_counts(const struct dw_cut_valuer *valuer, size_t sheet, int64_t *counts)
{
    const struct problem *problem = valuer->problem;
    const struct stock *stock = &problem->stocks[sheet];
    struct dw_arena *scratch = dw_arena_child(valuer->arena);
    const struct pattern *pattern = dwi_value_pattern(valuer->valuer, scratch);
    const bool fits =
        pattern != NULL && pattern->nodes[pattern->root].length <= stock->length && pattern->nodes[pattern->root].width <= stock->width;
    for (size_t p = 0; p < problem->request->part_count; p++)
        counts[p] = fits ? pattern->counts[problem->item_of_part[p]] : 0;
    dw_arena_free(scratch);
}

int64_t dw_cut_value(struct dw_cut_valuer *valuer, size_t sheet, const int64_t *u, int64_t *counts, int64_t *work)
{
    const struct problem *problem = valuer->problem;
    struct meter meter;
    dwi_meter_start(&meter, INT64_MAX / 4 / DWI_TICKS_A_UNIT, NULL);
    memset(counts, 0, problem->request->part_count * sizeof *counts);
    for (size_t p = 0; p < problem->request->part_count; p++) {
        const int item = problem->item_of_part[p];
        if (u[p] > 0 && !dwi_value_sees(valuer->valuer, item))
            return DW_CUT_NO_BOUND;
        valuer->u[item] = u[p];
    }
    const int64_t value = dwi_value(valuer->valuer, (int)sheet, valuer->u, &meter);
    *work += meter.ticks / DWI_TICKS_A_UNIT;
    write_counts(valuer, sheet, counts);
    return value;
}
