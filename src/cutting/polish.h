/* polish.h - among plans of equal cost the better one. */
#ifndef DWI_CUTTING_POLISH_H
#define DWI_CUTTING_POLISH_H

#include "meter.h"
#include "random.h"
#include "values.h"

/* A kind of cut and a distance from the fence or stop: cuts that share it are made one after the other. */
struct setting {
    dw_length distance;
    int cut;
};

/* Settings in rising order, each once. */
struct settings {
    struct setting *at;
    size_t count, capacity;
};

/* What orders plans of equal cost, for one layout; in this order. */
struct merit {
    int64_t kept;     /* value of the offcuts kept, in 1/1024 of money; more is better */
    int64_t settings; /* that other layouts do not need anyway; fewer */
    int64_t cuts;     /* fewer */
    int64_t largest;  /* area of the largest offcut; more */
};

/* `known` are the settings of other layouts of the plan. */
struct merit dwi_merit_of(const struct problem *problem, const struct pattern *pattern, const struct settings *known,
                          struct dw_arena *arena);

/* Adds a layout's settings to those known. */
void dwi_settings_add(struct settings *known, const struct problem *problem, const struct pattern *pattern, struct dw_arena *arena);

/* Less than 0 when `a` is better than `b`. */
int dwi_merit_compare(const struct merit *a, const struct merit *b);

/* Lays the items of each layout anew and keeps what is better, within `ticks`, with the crew's help (NULL: alone; the outcome is the same). New
 * patterns are in `arena`. */
void dwi_polish_layouts(const struct problem *problem, struct draft *draft, uint64_t seed, struct meter *meter, int64_t ticks,
                        struct dw_crew *crew, struct dw_arena *arena);

#endif
