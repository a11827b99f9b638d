/* bargain.h - how many of which sheets, when prices break with number and suppliers charge for delivery.
 *
 * The buyer's problem, without a rectangle in it. A *ware* is a sheet size that one problem can use. For each problem there are rows, sum of
 * v[s] x count[s] >= rhs, that every plan obeys (the cutting room proves them). Wanted: counts that obey all rows and cost least, where a
 * ware's price depends on how many are bought, and a supplier's delivery is paid once.
 */
#ifndef DWI_PURCHASE_BARGAIN_H
#define DWI_PURCHASE_BARGAIN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/job.h>
#include <drawerwright/money.h>

struct dw_arena;
struct dw_lp;

struct ware {
    size_t problem;
    size_t place;        /* among the problem's sheets: its place in the rows */
    int supplier;        /* whose delivery it may call for; -1: none */
    struct dw_sheet_offer offer; /* price, breaks and count; an owned sheet costs 0 */
    int64_t most;        /* never worth buying more */
};

struct demand {
    size_t problem;
    const int64_t *v;    /* one a sheet of the problem, >= 0 */
    int64_t rhs;
};

struct bargain {
    const struct ware *wares; /* those of one problem stand together */
    size_t ware_count;
    size_t problem_count;
    const dw_money *deliveries; /* of suppliers whose delivery is not paid anyhow */
    int supplier_count;
    const struct demand *demands;
    size_t demand_count;
};

/* Numbers to buy of each ware, and what they cost, delivery included. */
struct mix {
    int64_t *counts;
    dw_money cost;
};

/* True when the counts obey every row, in integers. */
bool dwi_bargain_obeys(const struct bargain *bargain, const int64_t *counts);
dw_money dwi_bargain_cost(const struct bargain *bargain, const int64_t *counts);

/* program.c: the cheapest mix by the integer program, proposed in floating point, made sure of in integers only as far as that it obeys the
 * rows. False when the solver found none. mix->counts has room for ware_count numbers. */
bool dwi_program_solve(const struct bargain *bargain, int64_t nodes, struct dw_arena *arena, struct mix *mix);

/* The program itself, for a second solver's opinion. NULL when the solver failed. The caller frees it, and allocates nothing before that.
 * bought_columns[w] is set to ware w's first column; its number at price tier t is in column bought_columns[w] + 2 t. */
struct dw_lp *dwi_program_model(const struct bargain *bargain, struct dw_arena *arena, int *bought_columns);

/* certify.c: the least cost of any mix that obeys the rows, by counting in integers within `nodes`; false when they did not suffice. When
 * no mix obeys them, *least is INT64_MAX and mix is not touched. */
bool dwi_certify(const struct bargain *bargain, int64_t nodes, struct dw_arena *arena, dw_money *least, struct mix *mix);

#endif
