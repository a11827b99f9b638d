/* ladder.c - the cut ladder: the better of several orders, said in words. */
#include "ladder.h"

#include <drawerwright/memory.h>

#include "frame.h"

const char *dw_ladder_word(enum dw_ladder_kind kind)
{
    switch (kind) {
    case DW_LADDER_YARD:
        return "yard cut";
    case DW_LADDER_ROUGH:
        return "rough cut";
    case DW_LADDER_TRIM:
        return "trim";
    case DW_LADDER_BREAKDOWN:
        return "break down";
    case DW_LADDER_RIP:
        return "rip";
    case DW_LADDER_CROSSCUT:
        return "crosscut";
    }
    return "";
}

bool dw_rung_is_rough(const struct dw_ladder_rung *rung)
{
    return rung->kind == DW_LADDER_YARD || rung->kind == DW_LADDER_ROUGH;
}

dw_length dw_rough_size(dw_length size, enum dw_unit unit)
{
    const dw_length step = unit == DW_IN ? DW_INCH / 16 : DW_MM;
    return dw_round_down(size + step / 2, step);
}

/* Fewer settings first, then fewer rungs, then the earlier rule. */
static bool is_better(const struct schedule *a, const struct schedule *b)
{
    if (a->settings != b->settings)
        return a->settings < b->settings;
    return a->rung_count < b->rung_count;
}

static bool report_no_saw(const struct dw_parts *const *jobs, const struct saws *saws, struct dw_faults *faults, dw_length kerf,
                          struct dw_arena *arena)
{
    if (saws->count > 0)
        return false;
    dw_error(faults, DW_IMPOSSIBLE, "kerf-over", "shop.saws",
             "every saw of the shop takes more than the kerf of %s that the sheets were laid out for, or makes rough cuts only\n"
             "give the material the kerf of the blade that cuts it",
             dwi_layout_show(arena, jobs, kerf));
    return true;
}

/* The better of the orders by all rules; of one that is not whole the first rule's, which has told why. */
static struct schedule best_schedule(const struct dw_parts *const *jobs, const struct saws *saws, struct dw_arena *arena,
                                     struct dw_faults *faults, const struct dw_material_layout *layout)
{
    struct schedule best = dwi_schedule(jobs, saws, ORDER_BY_PHASE, arena, faults, layout);
    for (int rule = ORDER_BY_PHASE + 1; rule < ORDER_RULES && best.whole; rule++) {
        const struct schedule other = dwi_schedule(jobs, saws, (enum order_rule)rule, arena, NULL, layout);
        if (other.whole && is_better(&other, &best))
            best = other;
    }
    return best;
}

struct ladder_count dwi_ladder_count(const struct dw_parts *const *jobs, struct dw_arena *arena, const struct dw_material_layout *layout)
{
    const struct saws saws = dwi_saws_of(&first_job(jobs)->shop, layout->problem->request.kerf, arena);
    if (saws.count == 0)
        return (struct ladder_count){.whole = false};
    const struct schedule best = best_schedule(jobs, &saws, arena, NULL, layout);
    return (struct ladder_count){.whole = best.whole, .stuck = best.stuck, .settings = best.settings, .cuts = best.cuts};
}

void dwi_ladder_make(const struct dw_parts *const *jobs, struct dw_arena *arena, struct dw_faults *faults, struct dw_material_layout *layout)
{
    const dw_length kerf = layout->problem->request.kerf;
    const struct saws saws = dwi_saws_of(&first_job(jobs)->shop, kerf, arena);
    if (report_no_saw(jobs, &saws, faults, kerf, arena))
        return;
    const struct schedule best = best_schedule(jobs, &saws, arena, faults, layout);
    if (!best.whole)
        return;
    dwi_settle(&saws, &best, layout);
    struct dw_ladder_rung *rungs = dw_arena_alloc(arena, best.rung_count, sizeof *rungs);
    for (size_t i = 0; i < best.rung_count; i++) {
        rungs[i] = dwi_rung_say(jobs, &saws, &best, &best.rungs[i], arena, layout);
        rungs[i].number = (int)i + 1;
    }
    layout->ladder = (struct dw_ladder){.rungs = rungs, .rung_count = best.rung_count, .panels = best.panels, .panel_count = best.panel_count,
                                        .settings = best.settings, .cuts = best.cuts};
    dwi_ladder_cautions(jobs, arena, layout);
}
