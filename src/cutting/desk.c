/* desk.c - a sitting: columns, now and then value correction or a choice from the pool, then the bound.
 *
 * The bound comes last because what the others do helps it: layouts become columns, a cheaper plan ends the proof. Columns and bound are the proof's
 * share; what they took is told, so that the other half of the search gets as much.
 */
#include "desk.h"

#include <drawerwright/memory.h>

#include "without.h"

enum { LATER_TRIES = 40 };

void dwi_desk_start(struct desk *desk, const struct problem *problem, uint64_t seed, struct dw_arena *arena)
{
    *desk = (struct desk){.problem = problem, .arena = dw_arena_apart(arena)};
    desk->proof = dwi_proof_new(problem, desk->arena);
    dwi_pool_init(&desk->pool, problem, desk->arena);
    dwi_values_start(&desk->values, problem, seed, desk->arena);
    desk->more_columns = !dwi_left_out(problem, DWI_PRICED);
    desk->work = dw_arena_child(desk->arena);
    desk->mix = dw_arena_alloc(desk->arena, (size_t)problem->stock_count, sizeof *desk->mix);
}

void dwi_desk_open(struct desk *desk, const struct meter *whole, int64_t ticks, int64_t quantum, const struct draft *best)
{
    dwi_meter_part(&desk->meter, whole, ticks);
    desk->quantum = quantum;
    dw_arena_clear(desk->work);
    desk->has_plan = best != NULL;
    desk->best = (struct draft){.cost = INT64_MAX};
    if (best != NULL)
        desk->best = (struct draft){.cost = best->cost, .owned = best->owned};
    desk->is_better = false;
    desk->priced = false;
    desk->proving = 0;
}

/* Drafts are made in `work`. */
static void take_draft(struct desk *desk, const struct draft *draft)
{
    if (desk->has_plan && !dwi_draft_is_better(draft, &desk->best))
        return;
    desk->best = *draft;
    desk->has_plan = true;
    desk->is_better = true;
}

void dwi_desk_correct_values(struct desk *desk, int tries)
{
    const struct problem *problem = desk->problem;
    if (dwi_left_out(problem, DWI_VALUES))
        return;
    int64_t *limits = dw_arena_alloc(desk->work, (size_t)problem->stock_count, sizeof *limits);
    for (int s = 0; s < problem->stock_count; s++)
        limits[s] = problem->stocks[s].count;
    struct draft draft;
    if (dwi_values_round(&desk->values, limits, tries, &desk->pool, &desk->meter, desk->work, &draft))
        take_draft(desk, &draft);
}

/* A choice may cover items too often: they are pruned here, last layouts first. */
static void trim_choice(const struct problem *problem, const struct pattern_use *uses, size_t count, struct dw_arena *arena, struct draft *draft)
{
    int64_t *wanted = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *wanted);
    struct sheet sheet;
    *draft = (struct draft){0};
    dwi_sheet_init(&sheet, problem, 0);
    for (int i = 0; i < problem->item_count; i++)
        wanted[i] = problem->items[i].count;
    for (size_t u = 0; u < count; u++)
        for (int64_t n = 0; n < uses[u].times; n++) {
            sheet.stock = uses[u].pattern->stock;
            dwi_sheet_load(&sheet, uses[u].pattern, arena);
            dwi_clip(&sheet, wanted, arena);
            if (sheet.count == 0)
                continue;
            const struct pattern *pattern = dwi_sheet_pattern(&sheet, arena);
            for (int i = 0; i < problem->item_count; i++)
                wanted[i] -= pattern->counts[i];
            dwi_draft_add(draft, problem, pattern, 1, arena);
        }
}

bool dwi_desk_choose(struct desk *desk, const int64_t *limits, dw_money cutoff, int64_t ticks, struct meter *meter, struct dw_arena *arena,
                     struct draft *draft)
{
    const struct pattern_use *uses;
    size_t count;
    if (!dwi_choose(desk->proof, &desk->pool, limits, cutoff, meter, ticks, arena, &uses, &count))
        return false;
    trim_choice(desk->problem, uses, count, arena, draft);
    return true;
}

static void choose_cheaper(struct desk *desk)
{
    struct draft draft;
    if (!dwi_left_out(desk->problem, DWI_CHOICE) &&
        dwi_desk_choose(desk, NULL, desk->best.cost, desk->quantum / 2, &desk->meter, desk->work, &draft))
        take_draft(desk, &draft);
}

/* Raises the bound while inequalities are found. */
static void raise_bound(struct desk *desk)
{
    const int64_t until = desk->meter.ticks + desk->quantum;
    desk->open = true;
    for (bool finished = dwi_left_out(desk->problem, DWI_COUNTED);
         desk->open && !finished && desk->meter.ticks < until && dwi_meter_open(&desk->meter);) {
        desk->open = dwi_proof_cheapest(desk->proof, desk->best.cost, desk->mix, &desk->bound);
        if (desk->open &&
            !dwi_proof_break(desk->proof, desk->mix, &desk->pool, &desk->meter, desk->quantum, &finished))
            break;
    }
    desk->open = dwi_proof_cheapest(desk->proof, desk->best.cost, desk->mix, &desk->bound);
}

static void sit(void *context)
{
    struct desk *desk = context;
    const int round = desk->sittings++;
    if (round > 0 && desk->more_columns) {
        desk->more_columns = dwi_proof_columns(desk->proof, &desk->pool, &desk->meter, desk->quantum / 2);
        desk->priced = true;
    }
    const int64_t pricing = desk->meter.ticks;
    if (round > 0 && round % 4 == 0)
        dwi_desk_correct_values(desk, LATER_TRIES);
    if (round % 4 == 2)
        choose_cheaper(desk);
    const int64_t start = desk->meter.ticks;
    raise_bound(desk);
    desk->proving = pricing + desk->meter.ticks - start;
}

void dwi_desk_sit(void *context)
{
    struct desk *desk = context;
    desk->enough = dw_arena_guard(desk->arena, sit, desk);
}
