/* polish.c - the same sheets and the same parts on each, laid out better.
 *
 * For each layout a small problem of its own: its items, one sheet. Ruin and recreate packs them into the shortest sheet of full width, and into the
 * narrowest of full length, by halving what is left between area and the extent used (what comes off is the largest offcut that way); and a few times
 * at full size, for another order of cuts. These are *attempts*: each has its small problem, random numbers, memory and share of the work, so that they are
 * chores of a crew. Each outcome is measured as it would be cut (merit.c) and the best one stays, the earlier of equals; settings that layouts before it
 * need are free to use again, so that layouts go one after the other. Heuristic; cost and sheets never change.
 */
#include "polish.h"

#include <drawerwright/crew.h>
#include <drawerwright/memory.h>

#include "ruin.h"

enum { HALVINGS = 7, REPEATS = 4, LAYOUTS_MOST = 60 };

enum way { SHORTEN, NARROW, REPEAT, REPEAT_AGAIN, ATTEMPTS };

static const int packings[ATTEMPTS] = {[SHORTEN] = HALVINGS, [NARROW] = HALVINGS, [REPEAT] = REPEATS, [REPEAT_AGAIN] = REPEATS};
enum { PACKINGS = 2 * HALVINGS + 2 * REPEATS };

/* One attempt at a layout. */
struct attempt {
    const struct problem *problem; /* the whole one */
    const struct pattern *pattern;
    const struct settings *known;  /* of the layouts before this one */
    enum way way;
    struct problem *small;         /* the pattern's items, one stock */
    int *item_of;                  /* small item -> item */
    const struct pattern *best;    /* in `arena`; the pattern itself while nothing is better */
    struct merit merit;
    struct random random;
    struct meter meter;
    int64_t ticks;                 /* for one packing */
    struct dw_arena *arena;        /* apart */
    bool enough;                   /* memory did not run out */
};

static void make_small(struct attempt *attempt)
{
    const struct problem *problem = attempt->problem;
    int64_t *counts = dw_arena_alloc(attempt->arena, (size_t)problem->item_count, sizeof *counts);
    for (int i = 0; i < problem->item_count; i++)
        counts[i] = attempt->pattern->counts[i];
    attempt->small = dwi_problem_part(problem, counts, attempt->arena, &attempt->item_of);
    attempt->small->stocks[0] = problem->stocks[attempt->pattern->stock];
    attempt->small->stock_count = 1;
}

/* A layout of the small problem as one of the whole. */
static struct pattern *translate(const struct attempt *attempt, const struct sheet *sheet, struct dw_arena *arena)
{
    const struct pattern *small = dwi_sheet_pattern(sheet, arena);
    struct pattern *pattern = dwi_pattern_of_whole(small, attempt->problem, attempt->item_of, arena);
    pattern->stock = attempt->pattern->stock;
    return pattern;
}

static void judge(struct attempt *attempt, const struct sheet *sheet, struct dw_arena *work)
{
    const struct pattern *pattern = translate(attempt, sheet, work);
    const struct merit merit = dwi_merit_of(attempt->problem, pattern, attempt->known, work);
    if (dwi_merit_compare(&merit, &attempt->merit) < 0) {
        attempt->merit = merit;
        attempt->best = translate(attempt, sheet, attempt->arena);
    }
}

/* Packs the items into length x width; true when they fit, with the extents used. */
static bool pack(struct attempt *attempt, int64_t length, int64_t width, int64_t *used_length, int64_t *used_width)
{
    struct dw_arena *work = dw_arena_child(attempt->arena);
    const int64_t one = 1;
    struct ruin ruin;
    struct stock *stock = attempt->small->stocks;
    stock->length = length;
    stock->width = width;
    stock->area = length * width;
    dwi_ruin_start(&ruin, attempt->small, &one, dwi_random_next(&attempt->random), work);
    const bool fits = dwi_ruin_run(&ruin, &attempt->meter, attempt->ticks);
    if (fits) {
        *used_length = ruin.sheets[0].twigs[0].length;
        *used_width = ruin.sheets[0].twigs[0].width;
        judge(attempt, &ruin.sheets[0], work);
    }
    dw_arena_free(work);
    return fits;
}

/* The least length (or width) at the other's full extent. */
static void shorten(struct attempt *attempt, bool in_length)
{
    const struct stock *stock = &attempt->problem->stocks[attempt->pattern->stock];
    const int64_t across = in_length ? stock->width : stock->length;
    int64_t high = in_length ? stock->length : stock->width; /* fits */
    int64_t low = (attempt->pattern->area - 1) / across;     /* does not */
    for (int step = 0; step < HALVINGS && high - low > 1 && dwi_meter_open(&attempt->meter); step++) {
        const int64_t middle = low + (high - low) / 2;
        int64_t used_length;
        int64_t used_width;
        if (pack(attempt, in_length ? middle : across, in_length ? across : middle, &used_length, &used_width))
            high = in_length ? used_length : used_width;
        else
            low = middle;
    }
}

static void repeat(struct attempt *attempt)
{
    const struct stock *stock = &attempt->problem->stocks[attempt->pattern->stock];
    for (int n = 0; n < REPEATS && dwi_meter_open(&attempt->meter); n++) {
        int64_t used_length;
        int64_t used_width;
        pack(attempt, stock->length, stock->width, &used_length, &used_width);
    }
}

static void try_way(void *context)
{
    struct attempt *attempt = context;
    make_small(attempt);
    if (attempt->way == SHORTEN || attempt->way == NARROW)
        shorten(attempt, attempt->way == SHORTEN);
    else
        repeat(attempt);
}

static void make_attempt(void *context)
{
    struct attempt *attempt = context;
    attempt->enough = dw_arena_guard(attempt->arena, try_way, attempt);
}

/* All attempts at a layout, of which `common` holds what they start from; the best outcome, in `arena`. */
static const struct pattern *polished(const struct attempt *common, struct random *random, struct meter *meter, struct dw_crew *crew, struct dw_arena *arena)
{
    struct dw_arena *work = dw_arena_child(arena);
    struct attempt attempts[ATTEMPTS];
    struct dw_chore chores[ATTEMPTS];
    const struct attempt *best = common;
    bool enough = true;
    for (int a = 0; a < ATTEMPTS; a++) {
        attempts[a] = *common;
        attempts[a].way = (enum way)a;
        attempts[a].random.state = dwi_random_next(random);
        attempts[a].arena = dw_arena_apart(work);
        dwi_meter_part(&attempts[a].meter, meter, packings[a] * common->ticks);
        chores[a] = (struct dw_chore){.work = make_attempt, .context = &attempts[a]};
    }
    dw_crew_post(crew, chores, ATTEMPTS);
    for (int a = 0; a < ATTEMPTS; a++) {
        dw_crew_wait(crew, &chores[a]);
        dwi_meter_join(meter, &attempts[a].meter);
        enough = enough && attempts[a].enough;
        if (attempts[a].enough && dwi_merit_compare(&attempts[a].merit, &best->merit) < 0)
            best = &attempts[a];
    }
    if (!enough)
        dw_arena_exhaust(arena);
    const struct pattern *pattern = best == common ? common->pattern : dwi_pattern_copy(common->problem, best->best, arena);
    dw_arena_free(work);
    return pattern;
}

void dwi_polish_layouts(const struct problem *problem, struct draft *draft, uint64_t seed, struct meter *meter, int64_t ticks,
                        struct dw_crew *crew, struct dw_arena *arena)
{
    const int64_t before = dwi_meter_narrow(meter, ticks);
    const size_t count = draft->count < LAYOUTS_MOST ? draft->count : LAYOUTS_MOST;
    struct random random = {seed};
    struct settings known = {0};
    struct dw_arena *work = dw_arena_child(arena);
    for (size_t u = 0; u < count && dwi_meter_open(meter); u++) {
        const struct pattern *pattern = draft->uses[u].pattern;
        const struct attempt common = {.problem = problem, .pattern = pattern, .best = pattern, .known = &known,
                                       .merit = dwi_merit_of(problem, pattern, &known, work), .ticks = ticks / (int64_t)count / PACKINGS};
        draft->uses[u].pattern = polished(&common, &random, meter, crew, arena);
        dwi_settings_add(&known, problem, draft->uses[u].pattern, arena);
        dw_arena_clear(work);
    }
    dw_arena_free(work);
    meter->limit = before;
}
