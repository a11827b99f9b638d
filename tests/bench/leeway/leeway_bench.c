/* leeway_bench.c - dw-leeway-bench: how often and how much leeway saves on random kitchens, and how its ways of looking compare.
 *
 *     dw-leeway-bench [COUNT [WORK [ROW]]]    200 kitchens of 8 to 40 drawers; units of work for each material; one row of the table only
 *
 * The kitchens are those of tests/leeway_jobs.h, invented and always the same. Figures go to docs/performance.md.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <drawerwright/files.h>
#include <drawerwright/leeway.h>
#include <drawerwright/memory.h>
#include <drawerwright/run.h>

#include "leeway_jobs.h"

struct sums {
    int count, saving, certain, faulty;
    double share;               /* of what the sheets cost, summed over kitchens */
    double share_of_saving;     /* of those that save */
    double seconds, slowest;
    int64_t before, after, bound; /* hundredths; bound of those that have one */
    double distance;            /* inches that all drawers were changed by */
};

struct kitchen {
    const char *json;
    const struct dw_leeway_options *options;
    int64_t work;
    struct sums *sums;
};

static double changed(const struct dw_leeway *leeway)
{
    double inches = 0;
    for (size_t i = 0; i < leeway->change_count; i++) {
        const struct dw_leeway_change *change = &leeway->changes[i];
        inches += (double)change->count * (double)llabs(change->to - change->from) / (double)DW_INCH;
    }
    return inches;
}

/* The ladder of every material, followed by the checker that trusts nothing. */
static bool is_sound(const struct dw_purchase *purchase, struct dw_faults *faults)
{
    for (size_t m = 0; m < purchase->layouts->material_count; m++)
        if (!dw_ladder_replay(purchase->layouts->jobs, &purchase->layouts->materials[m], faults))
            return false;
    return true;
}

static void add_to(struct sums *sums, const struct dw_leeway *leeway, double seconds)
{
    const double share = (double)leeway->saved / (double)leeway->before;
    sums->count++;
    sums->saving += leeway->saved > 0 ? 1 : 0;
    sums->certain += leeway->certain ? 1 : 0;
    sums->share += share;
    sums->share_of_saving += leeway->saved > 0 ? share : 0;
    sums->seconds += seconds;
    sums->slowest = seconds > sums->slowest ? seconds : sums->slowest;
    sums->before += leeway->before;
    sums->after += leeway->before - leeway->saved;
    sums->bound += leeway->lower_bound;
    sums->distance += changed(leeway);
}

static void try_kitchen(void *context)
{
    const struct kitchen *kitchen = context;
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    const struct dw_layout_options layout = {.patience = DW_SHORT, .work = kitchen->work, .no_choices = true};
    const struct dw_job *job = NULL;
    struct dw_run run = {.purchase = NULL};
    const struct dw_leeway *leeway = NULL;
    if (dw_job_read_text(kitchen->json, strlen(kitchen->json), "kitchen", NULL, NULL, arena, faults, &job) != DW_DONE || dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, &layout, NULL, arena, faults, &run) != DW_DONE) {
        kitchen->sums->faulty++;
    } else {
        const clock_t from = clock();
        const bool done = dw_leeway_search(run.jobs, 1, run.purchase, kitchen->options, &layout, NULL, arena, faults, &leeway) == DW_DONE;
        const double seconds = (double)(clock() - from) / CLOCKS_PER_SEC;
        if (done)
            add_to(kitchen->sums, leeway, seconds);
        if (!done || leeway->purchase->total > run.purchase->total || !is_sound(leeway->purchase, faults))
            kitchen->sums->faulty++;
        if (getenv("DW_EACH") != NULL && done)
            printf("  %lld -> %lld, bound %lld%s, %.2f s\n", (long long)leeway->before, (long long)(leeway->before - leeway->saved),
                   (long long)leeway->lower_bound, leeway->certain ? " certain" : "", seconds);
    }
    dw_faults_free(faults);
    dw_arena_free(arena);
}

static void print_sums(const char *name, const struct sums *sums)
{
    const double count = sums->count;
    printf("| %s | %d | %d | %.1f %% | %.1f %% | %d | %.2f | %.2f | %.2f | %.1f | %.2f | %.2f |%s\n", name, sums->count, sums->saving,
           100 * sums->share / count, 100 * sums->share_of_saving / (sums->saving > 0 ? sums->saving : 1), sums->certain, (double)sums->before / 100,
           (double)sums->after / 100, (double)sums->bound / 100, sums->distance / count, sums->seconds / count, sums->slowest,
           sums->faulty > 0 ? " FAULTY" : "");
    fflush(stdout);
}

struct row {
    const char *name, *leeway, *lengths;
    bool every;
};

/* The same kitchens in each row. */
static int measure(const struct row *row, int count, int64_t work)
{
    const struct dw_leeway_options options = {.habits = true, .every = row->every};
    struct sums sums = {.count = 0};
    struct dice dice = {20260701};
    for (int i = 0; i < count; i++) {
        struct dw_arena *arena = dw_arena_new();
        struct kitchen kitchen = {.options = &options, .work = work, .sums = &sums};
        struct leeway_writing writing = {.dice = &dice, .arena = arena, .leeway = row->leeway, .lengths = row->lengths};
        if (!dw_arena_guard(arena, leeway_write_realistic, &writing))
            return 1;
        kitchen.json = writing.json;
        try_kitchen(&kitchen);
        dw_arena_free(arena);
    }
    print_sums(row->name, &sums);
    return sums.faulty > 0 ? 1 : 0;
}

#define FRONTS_ONLY "\"box_heights\": false, \"slide_lengths\": false, \"fronts\": true"

int main(int argc, char **argv)
{
    static const struct row rows[] = {
        {"box heights and slides", "", LEEWAY_LENGTHS, false},
        {"the same, all as columns", "", LEEWAY_LENGTHS, true},
        {"fronts", FRONTS_ONLY, LEEWAY_LENGTHS, false},
        {"fronts, box heights and slides", "\"fronts\": true", LEEWAY_LENGTHS, false},
        {"box heights and slides of other prices", "", LEEWAY_DEAR_LENGTHS, false},
    };
    const int count = argc > 1 ? atoi(argv[1]) : 200;
    const int64_t work = argc > 2 ? atoll(argv[2]) : 0;
    int status = 0;
    printf("| sizes that give | kitchens | save | of the sheets' cost, all | of those that save | certain | without | with | bound | inches changed | s | "
           "slowest |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (argc < 4 || strcmp(argv[3], rows[i].name) == 0)
            status = measure(&rows[i], count, work) || status;
    return status;
}
