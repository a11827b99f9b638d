/* lp.h - linear and integer programs, small and exact about what they promise.
 *
 * The only door to the solver library. A model is rows lower <= a x <= upper and columns with cost and bounds, always
 * minimized. The solver's fatal errors are caught: a call then answers DW_LP_FAILED and the model is dead, the process is not. A model
 * is made, used and freed in one thread.
 */
#ifndef DRAWERWRIGHT_LP_H
#define DRAWERWRIGHT_LP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum dw_lp_answer {
    DW_LP_OPTIMAL,    /* solved to the end */
    DW_LP_FEASIBLE,   /* integer program: stopped at its limit with a solution in hand */
    DW_LP_INFEASIBLE, /* no solution exists */
    DW_LP_UNBOUNDED,
    DW_LP_LIMIT,      /* stopped at its limit with nothing in hand */
    DW_LP_FAILED      /* the solver gave up; only dw_lp_free may follow */
};

struct dw_lp; /* opaque */

/* Use INFINITY and -INFINITY (math.h) for a side without bound. NULL when memory runs out. */
struct dw_lp *dw_lp_new(void);
void dw_lp_free(struct dw_lp *lp);

/* Rows and columns are numbered from 0 in the order they were added. A column names its entries by row, each row once. All numbers
 * must be finite but for bounds, and lower <= upper; returns the new index, or -1 when they are not, or the solver failed. */
int dw_lp_add_row(struct dw_lp *lp, double lower, double upper);
int dw_lp_add_column(struct dw_lp *lp, double cost, double lower, double upper, bool integer, const int *rows,
                     const double *entries, size_t count);
bool dw_lp_set_row(struct dw_lp *lp, int row, double lower, double upper);
bool dw_lp_set_column(struct dw_lp *lp, int column, double cost, double lower, double upper);

/* Adds a row with entries in columns that exist already. */
int dw_lp_add_row_over(struct dw_lp *lp, double lower, double upper, const int *columns, const double *entries,
                       size_t count);

/* Solves the linear relaxation by the primal simplex method, from the last basis where there is one, within `iterations`. */
enum dw_lp_answer dw_lp_solve(struct dw_lp *lp, int iterations);
double dw_lp_objective(const struct dw_lp *lp);
double dw_lp_value(const struct dw_lp *lp, int column);
double dw_lp_dual(const struct dw_lp *lp, int row); /* of a minimized cost: >= 0 at an active lower bound */

/* Solves the integer program by branch and bound within `nodes` nodes (counted, so that it repeats), looking only for
 * solutions cheaper than `cutoff` (INFINITY: any). Values are read by dw_lp_integer_value, rounded. */
enum dw_lp_answer dw_lp_solve_integer(struct dw_lp *lp, int64_t nodes, double cutoff);
int64_t dw_lp_integer_value(const struct dw_lp *lp, int column);

/* Integer programs solved from now on stop, as at their limit of nodes, once `units` more have been worked on this model. */
void dw_lp_limit_work(struct dw_lp *lp, int64_t units);

/* Work done on this model so far, in units (see work.h), estimated from the steps that the simplex method took and
 * the sizes of what it took them on. */
int64_t dw_lp_work(const struct dw_lp *lp);

/* The model in the free MPS form, for a second solver's opinion. false when the file cannot be written. */
bool dw_lp_write(struct dw_lp *lp, const char *path);

#endif
