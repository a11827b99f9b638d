/* example.c - the library in ten lines: plans the job named on the command line and tells what its sheets cost.
 *   cc -std=c11 example.c $(pkg-config --cflags --libs drawerwright) -o example && ./example JOB.json */
#include <drawerwright/memory.h>
#include <drawerwright/run.h>
#include <drawerwright/files.h>

#include <stdio.h>

int main(int argc, char **argv)
{
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    const struct dw_job *job = NULL;
    struct dw_run run = {.purchase = NULL};
    if (argc != 2 || arena == NULL || faults == NULL)
        return DW_INPUT;
    if (dw_job_read_file(argv[1], NULL, arena, faults, &job) == DW_DONE && dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, NULL, NULL, arena, faults, &run) == DW_DONE)
        printf("%s: %zu drawers, sheets for %lld.%02lld\n", run.jobs[0]->name, run.sizings[0]->drawer_count,
               (long long)run.purchase->sheets_cost / 100, (long long)run.purchase->sheets_cost % 100);
    for (size_t i = 0; i < faults->count; i++)
        fprintf(stderr, "%s: %s\n", faults->at[i].address, faults->at[i].wrong);
    const int status = (int)faults->status;
    dw_faults_free(faults);
    dw_arena_free(arena);
    return status;
}
