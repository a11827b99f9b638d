/* prove.h - the inside of a proof; shared by the files that build it, unknown to the search. */
#ifndef DWI_CUTTING_PROVE_H
#define DWI_CUTTING_PROVE_H

#include "limited.h"
#include "proof.h"
#include "value.h"

struct dw_lp;

/* A layout in a master program: it may hold more of an item than is wanted, which keeps column generation simple and the bound valid. */
struct column {
    int stock;
    bool within_demand;            /* holds no item oftener than wanted, whether it has a pattern or not */
    const int32_t *counts;
    const struct pattern *pattern; /* in the arena of the pool or the proof, nothing in excess; NULL: good for bounds only */
};

struct proof {
    const struct problem *problem;
    struct dw_arena *arena;
    struct valuer *valuer; /* made when first needed */
    struct limited *limited; /* made when first needed; NULL: not yet, or too many kinds */
    bool limited_tried;

    struct bound_row *rows;
    size_t row_count, row_capacity;
    int64_t most_nodes;    /* steps of counting sheets, each time */
    int64_t owed;          /* ticks of counting sheets that are not on a meter yet */
    bool impossible;       /* tried everything: what is in stock cannot hold the pieces */
    bool sharpened;        /* the first rows were valued exactly */

    struct column *columns;
    size_t column_count, column_capacity;
    bool started;          /* the first columns are there */
    size_t pool_seen;      /* layouts of the pool looked at */
    size_t imported;       /* and made columns */

    double *center;        /* smoothed duals of the priced master; NULL before its first round */
    bool columns_done;
    int priced_row;        /* the row that the priced master owns, -1 while none */
    double *solution;      /* of the priced master, by column */
    size_t solution_count;

    int64_t *asked;        /* the counts that dwi_proof_break was last asked for */
    bool asked_finished;
    int64_t asked_ticks;   /* given to breaking.c for them when it was short of work, 0: never */
};

/* The most rows that a proof keeps: beyond that more of them hardly move the bound, and counting through them gets slow. */
enum { MOST_ROWS = 250 };

/* few.c: is it certain, for a handful of pieces, that they cannot be cut from what is in stock? false: possible, or not known. */
bool dwi_few_impossible(const struct problem *problem, struct dw_arena *arena);

/* counts.c: adds a row with these values (copied). Returns its index, or -1 when there is no room for more or it says nothing. */
int dwi_rows_add(struct proof *proof, const int64_t *u, const int64_t *v);

/* counts.c: is the left side of a row below its right for these counts? */
bool dwi_row_is_broken(const struct proof *proof, const struct bound_row *row, const int64_t *counts);

/* counts.c: the greatest common divisor of all prices (1 when all are 0): every cost is a multiple of it. */
dw_money dwi_price_step(const struct problem *problem);

/* bounds.c: the rows that cost next to nothing. */
void dwi_bounds_start(struct proof *proof);

/* bounds.c: values all rows known exactly, once. */
void dwi_bounds_sharpen(struct proof *proof, struct meter *meter);

/* columns.c: the value of one sheet as dwi_value gives it, INT64_MAX / 4 when u values what the coarsened points do not see. */
int64_t dwi_proof_value(struct proof *proof, int stock, const int64_t *u, struct meter *meter);

/* columns.c: what lists the sets worth most (limited.h), NULL where that is too much. */
struct limited *dwi_columns_limited(struct proof *proof);

/* master.c: item values (>= 0, cut to 1000) in whole units, 2^26 to one, rounded down: whatever the solver proposes, these make a true row. */
void dwi_whole_values(const struct problem *problem, const double *values, int64_t *whole);

/* breaking.c: looks for a row that the counts break by the values of layouts that hold no item oftener than wanted; adds it and returns true when
 * found. *finished: nothing more to find; else it was short of work, and goes on when asked with more. */
bool dwi_break_within_demand(struct proof *proof, const int64_t *counts, struct pool *pool, struct meter *meter, int64_t ticks,
                             bool *finished);

/* columns.c: sets to 0 the values of items that the coarsened points do not see. */
void dwi_columns_blind(struct proof *proof, int64_t *u);

/* columns.c: the layout behind the last value, NULL when there is none. In `arena`. */
const struct pattern *dwi_proof_pattern(const struct proof *proof, struct dw_arena *arena);

/* columns.c: what is kept of a layout in the pool: a copy without excess. NULL where there is no pool, or the layout does not fit. */
const struct pattern *dwi_columns_pool(const struct proof *proof, struct pool *pool, const struct pattern *pattern);

/* columns.c: adds a layout (copied) to the columns and the pool. */
void dwi_columns_add(struct proof *proof, struct pool *pool, const struct pattern *pattern);

/* columns.c: once, a first column for each item and stock that holds it. */
void dwi_columns_start(struct proof *proof, struct pool *pool);

/* columns.c: takes over the pool's layouts that came since the last time, up to a fixed number; and passes over those there are, because
 * they came from columns. */
void dwi_columns_import(struct proof *proof, const struct pool *pool);
void dwi_columns_pass_over(struct proof *proof, const struct pool *pool);

/* columns.c: a solver's model that must be freed though memory may run out meanwhile. Runs body(context) with *model made and frees it. */
void dwi_with_model(struct dw_arena *arena, struct dw_lp **model, void (*body)(void *context), void *context);

#endif
