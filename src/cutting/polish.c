/* polish.c - the same sheets and the same parts on each, laid out better.
 *
 * For each layout a small problem of its own: its items, one sheet. Ruin and recreate first packs them into the shortest
 * sheet of full width, then into the narrowest of full length, by halving what is left between area and the extent used (what comes off is the largest
 * offcut that way); then a few times more at full size, for another order of cuts. Each outcome is measured as it would be
 * cut (merit.c) and the best one stays; settings that layouts before it need are free to use again. Heuristic; cost and sheets never change.
 */
#include "polish.h"

#include <drawerwright/memory.h>

#include "ruin.h"

enum { HALVINGS = 7, REPEATS = 8, LAYOUTS_MOST = 60 };

/* One layout's small problem. */
struct bench {
    const struct problem *problem; /* the whole one */
    const struct pattern *pattern;
    struct problem *small;         /* the pattern's items, one stock */
    int *item_of;                  /* small item -> item */
    const struct pattern *best;
    struct merit merit;
    const struct settings *known;  /* of the layouts before this one */
    struct random random;
    struct meter *meter;
    int64_t ticks;                 /* for one packing */
    struct dw_arena *arena;        /* of what is kept */
};

static void make_small(struct bench *bench, struct dw_arena *work)
{
    const struct problem *problem = bench->problem;
    int64_t *counts = dw_arena_alloc(work, (size_t)problem->item_count, sizeof *counts);
    for (int i = 0; i < problem->item_count; i++)
        counts[i] = bench->pattern->counts[i];
    bench->small = dwi_problem_part(problem, counts, work, &bench->item_of);
    bench->small->stocks[0] = problem->stocks[bench->pattern->stock];
    bench->small->stock_count = 1;
}

/* A layout of the small problem as one of the whole. */
static struct pattern *translate(const struct bench *bench, const struct sheet *sheet, struct dw_arena *arena)
{
    const struct pattern *small = dwi_sheet_pattern(sheet, arena);
    struct pattern *pattern = dwi_pattern_of_whole(small, bench->problem, bench->item_of, arena);
    pattern->stock = bench->pattern->stock;
    return pattern;
}

static void judge(struct bench *bench, const struct sheet *sheet, struct dw_arena *work)
{
    const struct pattern *pattern = translate(bench, sheet, work);
    const struct merit merit = dwi_merit_of(bench->problem, pattern, bench->known, work);
    if (dwi_merit_compare(&merit, &bench->merit) < 0) {
        bench->merit = merit;
        bench->best = translate(bench, sheet, bench->arena);
    }
}

/* Packs the items into length x width; true when they fit, with the extents used. */
static bool pack(struct bench *bench, int64_t length, int64_t width, int64_t *used_length, int64_t *used_width)
{
    struct dw_arena *work = dw_arena_child(bench->arena);
    const int64_t one = 1;
    struct ruin ruin;
    struct stock *stock = bench->small->stocks;
    stock->length = length;
    stock->width = width;
    stock->area = length * width;
    dwi_ruin_start(&ruin, bench->small, &one, dwi_random_next(&bench->random), work);
    const bool fits = dwi_ruin_run(&ruin, bench->meter, bench->ticks);
    if (fits) {
        *used_length = ruin.sheets[0].twigs[0].length;
        *used_width = ruin.sheets[0].twigs[0].width;
        judge(bench, &ruin.sheets[0], work);
    }
    dw_arena_free(work);
    return fits;
}

/* The least length (or width) at the other's full extent. */
static void shorten(struct bench *bench, bool in_length)
{
    const struct stock *stock = &bench->problem->stocks[bench->pattern->stock];
    const int64_t across = in_length ? stock->width : stock->length;
    int64_t high = in_length ? stock->length : stock->width; /* fits */
    int64_t low = (bench->pattern->area - 1) / across;       /* does not */
    for (int step = 0; step < HALVINGS && high - low > 1 && dwi_meter_open(bench->meter); step++) {
        const int64_t middle = low + (high - low) / 2;
        int64_t used_length;
        int64_t used_width;
        if (pack(bench, in_length ? middle : across, in_length ? across : middle, &used_length, &used_width))
            high = in_length ? used_length : used_width;
        else
            low = middle;
    }
}

static const struct pattern *polished(struct bench *bench)
{
    struct dw_arena *work = dw_arena_child(bench->arena);
    const struct stock *stock = &bench->problem->stocks[bench->pattern->stock];
    bench->best = bench->pattern;
    bench->merit = dwi_merit_of(bench->problem, bench->pattern, bench->known, work);
    make_small(bench, work);
    shorten(bench, true);
    shorten(bench, false);
    for (int n = 0; n < REPEATS && dwi_meter_open(bench->meter); n++) {
        int64_t used_length;
        int64_t used_width;
        pack(bench, stock->length, stock->width, &used_length, &used_width);
    }
    dw_arena_free(work);
    return bench->best;
}

void dwi_polish_layouts(const struct problem *problem, struct draft *draft, uint64_t seed, struct meter *meter, int64_t ticks,
                        struct dw_arena *arena)
{
    const int64_t before = dwi_meter_narrow(meter, ticks);
    const size_t count = draft->count < LAYOUTS_MOST ? draft->count : LAYOUTS_MOST;
    struct random random = {seed};
    struct settings known = {0};
    for (size_t u = 0; u < count && dwi_meter_open(meter); u++) {
        struct bench bench = {
            .problem = problem,
            .pattern = draft->uses[u].pattern,
            .known = &known,
            .random = {dwi_random_next(&random)},
            .meter = meter,
            .ticks = ticks / (int64_t)count / (2 * HALVINGS + REPEATS),
            .arena = arena,
        };
        draft->uses[u].pattern = polished(&bench);
        dwi_settings_add(&known, problem, draft->uses[u].pattern, arena);
    }
    meter->limit = before;
}
