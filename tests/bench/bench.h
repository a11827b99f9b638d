/* bench.h - what the files of dw-bench share: an instance, a run of it, known values. */
#ifndef DW_TESTS_BENCH_H
#define DW_TESTS_BENCH_H

#include <drawerwright/cutting.h>

#include <stdio.h>

/* One cutting problem with its name. Owns its lists. */
struct instance {
    char set[64];   /* file name without folder, ending and a trailing "-odd" */
    char name[128];
    bool own_turns; /* every item says whether it may be turned; else the run decides */
    bool in_money;  /* prices are hundredths; else a sheet costs 1 and cost counts sheets */
    struct dw_cut_part *parts;
    struct dw_cut_sheet *sheets;
    struct dw_cut_request request; /* of the lists above */
};

struct instances {
    struct instance *at;
    size_t count;
    size_t capacity;
};

/* Room for one more instance with so many parts and sheets, zeroed. Ends the program when memory runs out. */
struct instance *bench_add(struct instances *list, size_t part_count, size_t sheet_count);
void bench_free(struct instances *list);

/* Reads a JSON-lines file of instances behind the list; false with a word on stderr when it cannot be read. Instances that ask for
 * the greatest value of one sheet (every item has a profit) are no cutting-stock problems and are skipped; says how many on stderr. */
bool bench_read(const char *path, struct instances *list);

/* Known values: rows "set,instance,what,value,source". */
struct known_row {
    char set[64], instance[128], what[160];
    int64_t value;
};

struct known {
    struct known_row *rows;
    size_t count;
};

bool bench_read_known(const char *path, struct known *known);
void bench_free_known(struct known *known);

/* The fewest sheets known for this way of running the instance, -1 where none is known. */
int64_t bench_known_value(const struct known *known, const struct instance *instance, int turns, int first_cut, bool turning);

/* A job of `drawers` drawer boxes on one sheet size or four, by a fixed generator: the same on every machine. */
void bench_drawer_job(struct instances *list, int64_t drawers, int sizes, uint64_t seed);

/* How to run. */
struct manner {
    int64_t milliseconds; /* 0: no clock */
    int64_t work;         /* 0: by patience */
    enum dw_patience patience;
    int turns;
    int first_cut;
    int jobs;             /* runs side by side */
    int threads;
    uint64_t seed;
    unsigned without;     /* methods left out, bits of cutting/without.h */
};

/* What a run gave. */
struct outcome {
    bool ran;             /* the process came to its end and the solve was done */
    bool checked;         /* the checker passed the plan */
    enum dw_cut_outcome outcome;
    enum dw_cut_stop stop;
    int64_t cost, lower_bound, work_done;
    int64_t sheets;       /* used */
    bool proved;
    double seconds, seconds_to_best; /* of processor time */
    double megabytes;     /* most memory resident in the process */
};

/* Runs every instance, `manner->jobs` at a time, each in a process of its own; calls `report` for each, in order. `turning`
 * is for instances without turns of their own. */
void bench_run(const struct instances *list, const struct manner *manner, bool turning,
               void (*report)(void *context, const struct instance *instance, const struct outcome *outcome), void *context);

#endif
