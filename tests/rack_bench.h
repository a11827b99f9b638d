/* rack_bench.h - a ledger in a folder of its own, made and taken away around each test. Include after cmocka.h. */
#ifndef RACK_BENCH_H
#define RACK_BENCH_H

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

#include <drawerwright/memory.h>
#include <drawerwright/rack.h>
#include <drawerwright/run.h>

struct bench {
    char folder[64];
    char path[96];
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_rack *rack;
    struct dw_run run;         /* of the last plan */
    bool use_rack;             /* plans may take offcuts from the rack */
};

static inline int bench_set_up(void **state)
{
    struct bench *bench = calloc(1, sizeof *bench);
    assert_non_null(bench);
    (void)snprintf(bench->folder, sizeof bench->folder, "/tmp/dw-rack-XXXXXX");
    assert_non_null(mkdtemp(bench->folder));
    (void)snprintf(bench->path, sizeof bench->path, "%s/rack.db", bench->folder);
    bench->arena = dw_arena_new();
    bench->faults = dw_faults_new();
    assert_int_equal(dw_rack_open(bench->path, bench->faults, &bench->rack), DW_DONE);
    *state = bench;
    return 0;
}

static inline int bench_tear_down(void **state)
{
    struct bench *bench = *state;
    char command[128];
    dw_rack_close(bench->rack);
    dw_arena_free(bench->arena);
    dw_faults_free(bench->faults);
    (void)snprintf(command, sizeof command, "rm -rf '%s'", bench->folder);
    assert_int_equal(system(command), 0);
    free(bench);
    return 0;
}

#endif
